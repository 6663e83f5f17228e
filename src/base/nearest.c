/* nearest.c - optimal string alignment distance (Damerau 1964, restricted form), three rows. */
#include "base/nearest.h"

#include <ctype.h>
#include <string.h>

enum { WORD_MAX = 64 };

static int least(int a, int b) { return a < b ? a : b; }

int pw_edit_distance(const char *a, const char *b)
{
  size_t n = strlen(a), m = strlen(b);
  if (n > WORD_MAX || m > WORD_MAX)
    return 2 * WORD_MAX;
  int rows[3][WORD_MAX + 1], *before = rows[0], *above = rows[1], *here = rows[2];
  memset(rows, 0, sizeof rows);
  for (size_t j = 0; j <= m; j++)
    above[j] = (int)j;
  for (size_t i = 1; i <= n; i++) {
    here[0] = (int)i;
    int ca = tolower((unsigned char)a[i - 1]);
    for (size_t j = 1; j <= m; j++) {
      int cb = tolower((unsigned char)b[j - 1]);
      here[j] = least(least(above[j], here[j - 1]) + 1, above[j - 1] + (ca != cb));
      if (i > 1 && j > 1 && ca == tolower((unsigned char)b[j - 2]) && cb == tolower((unsigned char)a[i - 2]))
        here[j] = least(here[j], before[j - 2] + 1);
    }
    int *spare = before;
    before = above;
    above = here;
    here = spare;
  }
  return above[m];
}

void pw_nearest_offer(struct pw_nearest *n, const char *candidate)
{
  int letters = (int)strlen(n->word), near = letters < 6 ? 1 + (letters > 2) : letters / 3;
  int distance = pw_edit_distance(n->word, candidate);
  if (distance <= near && distance < letters && (!n->best || distance < n->distance)) {
    n->best = candidate;
    n->distance = distance;
  }
}
