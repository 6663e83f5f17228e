/* main.c - placeholder entry until the command table lands. */
int main(void) { return 0; }
