/* main.c - the table of commands, the help printed from it, and the last look at standard output. */
#include "cli/cmd.h"
#include "cli/opt.h"

#include <pthread.h>
#include <signal.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

enum {
  EVENT_OPTS =
      1u << PW_OPT_GUESTS | 1u << PW_OPT_UNITS | 1u << PW_OPT_CATALOGS | 1u << PW_OPT_QUIET | 1u << PW_OPT_HELP,
  SEARCH_OPTS = 1u << PW_OPT_SECONDS | 1u << PW_OPT_ON_TIME | 1u << PW_OPT_DUMP_MODEL | 1u << PW_OPT_JSON,
  FEW_OPTS = 1u << PW_OPT_DATE | 1u << PW_OPT_AT | 1u << PW_OPT_MENU | 1u << PW_OPT_CUSTOMER
};

static const struct pw_command COMMANDS[] = {
    {"new", pw_cmd_new, "[FILE]", "write a starter event that can be planned unchanged, or a house file",
     1u << PW_OPT_CATALOGS | 1u << PW_OPT_QUIET | 1u << PW_OPT_HELP | FEW_OPTS | 1u << PW_OPT_GUESTS |
         1u << PW_OPT_HOUSE,
     0, 1,
     "The starter explains every line. --house writes a house file (house.yaml unless you give another name) with "
     "what\n"
     "is the same for every job. Guests, date, time and menu make a short event that uses it. An existing file is "
     "never\n"
     "replaced.\n\n"
     "  pitwright new my-job.yaml\n"
     "  pitwright new --house\n"
     "  pitwright new my-job.yaml --guests 120 --date 2027-06-12 --at 17:30 --menu two-meats-three-sides"},
    {"check", pw_cmd_check, "EVENT", "read an event and show every fault at once, or say it is ready",
     EVENT_OPTS | 1u << PW_OPT_SHOW, 0, 1,
     "Faults come as file:line:column with the line itself; nothing is planned or written.\n"
     "With --show every value of the event and of its house file is listed with the place it comes from.\n\n"
     "  pitwright check my-job.yaml"},
    {"quote", pw_cmd_quote, "[EVENT]", "the price for the customer and the cost behind it",
     EVENT_OPTS | SEARCH_OPTS | 1u << PW_OPT_WORK | 1u << PW_OPT_QUICK | FEW_OPTS | 1u << PW_OPT_SAVE |
         1u << PW_OPT_PER_GUEST | 1u << PW_OPT_AGAINST,
     0, PW_JOB_COMPARE_MAX,
     "Plans the event as plan does, so that both give the same price, and prices other head counts too, each one\n"
     "really planned. Two to four events are set side by side. Without a file the price is found quickly from guests,\n"
     "date, time and menu, with the house.yaml of this folder.\n\n"
     "  pitwright quote --guests 120 --date 2027-06-12 --at 12:30 --menu two-meats-three-sides\n"
     "  pitwright quote my-job.yaml\n"
     "  pitwright quote my-job.yaml --guests 150\n"
     "  pitwright quote my-job.yaml --per-guest 15.50\n"
     "  pitwright quote buffet.yaml plated.yaml"},
    {"buy", pw_cmd_buy, "EVENT", "the purchase list, with order-by and thaw-from dates",
     EVENT_OPTS | SEARCH_OPTS | 1u << PW_OPT_WORK | 1u << PW_OPT_QUICK, 0, 1,
     "One list for the whole event, by supplier.\n\n"
     "  pitwright buy my-job.yaml"},
    {"plan", pw_cmd_plan, "EVENT", "the whole job pack: plan, workbook, sheets",
     EVENT_OPTS | SEARCH_OPTS | 1u << PW_OPT_WORK | 1u << PW_OPT_OUT | 1u << PW_OPT_PAPER | 1u << PW_OPT_AGAINST, 0,
     PW_JOB_EVENTS_MAX,
     "Writes plan.json, workbook.xlsx and the sheets as text into a folder (-o), or only the plan\n"
     "as JSON (--json). A pack that is already there is replaced once the new one is complete.\n"
     "A job that does not fit its pits is planned all the same, with exit status 1.\n"
     "--against compares with the pack handed out before: what to order in addition or to cancel, what moved, which\n"
     "shifts changed, what the customer owes now.\n"
     "Several events are planned as one: they share pits, ovens, boxes, crew and the purchase list.\n\n"
     "  pitwright plan my-job.yaml -o out/my-job\n"
     "  pitwright plan lunch.yaml supper.yaml -o out/saturday"},
    {"jobs", pw_cmd_jobs, "FOLDER", "the season on one screen: jobs, clashes, orders due, money",
     1u << PW_OPT_ON | 1u << PW_OPT_CSV | 1u << PW_OPT_JSON | 1u << PW_OPT_CATALOGS | 1u << PW_OPT_QUIET |
         1u << PW_OPT_HELP,
     0, 1,
     "Every event of a folder by date: guests, price and state (asked, offered, agreed or done, from quoted and "
     "agreed\n"
     "in its terms); pits, boxes and people wanted twice on one day; one order list for each supplier over all jobs. "
     "Each\n"
     "event is planned quickly on its own, unless a pack made from exactly this event lies beside it (folder job for\n"
     "job.yaml). --on shows the orders and payments due in the week from that day. --json writes it all as JSON.\n\n"
     "  pitwright jobs . --on 2027-05-01\n"
     "  pitwright jobs season-2027 --csv season.csv"},
    {"explain", pw_cmd_explain, "EVENT", "what each fire is for, what its last hour buys, where room is scarce",
     EVENT_OPTS | 1u << PW_OPT_SECONDS | 1u << PW_OPT_WORK | 1u << PW_OPT_JSON, 0, 1,
     "Plans the event as plan does and says why the plan is as it is. What room and hands are worth comes from the\n"
     "dual values of the linear program; for each fire the plan is searched again without its last hour.\n\n"
     "  pitwright explain my-job.yaml"},
    {"verify", pw_cmd_verify, "PLAN", "judge a plan file, also one edited by hand",
     1u << PW_OPT_QUIET | 1u << PW_OPT_HELP, 0, 1,
     "PLAN is a pack's folder or the plan.json in it. Every limit is recomputed from the\n"
     "file alone, and what is broken is named.\n\n"
     "  pitwright verify out/my-job/plan.json"},
    {"render", pw_cmd_render, "PLAN", "write the whole pack again from a plan file",
     1u << PW_OPT_OUT | 1u << PW_OPT_UNITS | 1u << PW_OPT_PAPER | 1u << PW_OPT_QUIET | 1u << PW_OPT_HELP,
     1u << PW_OPT_OUT, 1,
     "PLAN is a pack's folder or the plan.json in it, also one edited by hand: it is judged first. The event it was\n"
     "made from is read from job.json beside it; nothing is searched for again.\n\n"
     "  pitwright render out/my-job/plan.json -o out/again"},
    {"mend", pw_cmd_mend, "PACK LOG", "mend a plan from now on, by its pack and the day's log",
     1u << PW_OPT_OUT | 1u << PW_OPT_AT | 1u << PW_OPT_UNITS | 1u << PW_OPT_QUIET | 1u << PW_OPT_HELP, 0, 2,
     "Prints a slip of at most 12 lines: which meals hold and what to do now; then what changed. With -o the new\n"
     "pack is written, the old one is kept. What is on a rack stays there, nothing new begins in the past.\n"
     "A log that says everything went to plan changes nothing.\n\n"
     "  pitwright mend out/my-job day.log -o out/my-job-2 --at 02:30"},
    {"state", pw_cmd_state, "PACK LOG", "what is true now, by a pack and the day's log",
     1u << PW_OPT_AT | 1u << PW_OPT_UNITS | 1u << PW_OPT_QUIET | 1u << PW_OPT_HELP, 0, 2,
     "Where every piece is, fires, hands and guests; and what was assumed done because no line says otherwise.\n"
     "If a line cannot be true, you are asked about it.\n\n"
     "  pitwright state out/my-job day.log --at 02:30"},
    {"curve", pw_cmd_curve, "CUT", "the core temperature of a cut hour by hour",
     1u << PW_OPT_PIT | 1u << PW_OPT_ZONE | 1u << PW_OPT_SETTING | 1u << PW_OPT_EVENT | 1u << PW_OPT_UNITS |
         1u << PW_OPT_CATALOGS | 1u << PW_OPT_HELP,
     1u << PW_OPT_PIT, 1,
     "Table and plot of core, surface, steam and lethality in one zone of a pit, from heat theory fitted to the\n"
     "catalog's reference time, with the wrapped stage in the same place.\n\n"
     "  pitwright curve brisket-whole --pit small-offset\n"
     "  pitwright curve pork-butt --pit small-offset --zone main/1 --event my-job.yaml"},
    {"schema", pw_cmd_schema, "KIND", "the JSON Schema of event, house or catalog files, for editors",
     1u << PW_OPT_HELP, 0, 1,
     "KIND is event, house or catalog. An editor that knows the schema completes the fields of a file, says what\n"
     "each one means and marks what is not allowed; only check sees the whole file.\n\n"
     "  pitwright schema event > event.schema.json"},
};
enum { N_COMMANDS = sizeof COMMANDS / sizeof *COMMANDS };

static void help(FILE *to)
{
  fputs("pitwright plans a wood-fired barbecue job from one event file: the quote, the\n"
        "purchase list, every rack of every pit hour by hour, the fuel, the shift sheet.\n\n"
        "Commands:\n",
        to);
  for (int i = 0; i < N_COMMANDS; i++) {
    char left[40];
    snprintf(left, sizeof left, "%s %s", COMMANDS[i].name, COMMANDS[i].operand);
    fprintf(to, "  %-13s %s\n", left, COMMANDS[i].line);
  }
  fputs("\nA first job:\n"
        "  pitwright new my-job.yaml\n"
        "  pitwright plan my-job.yaml -o my-job\n\n"
        "Options of a command: pitwright COMMAND --help\n"
        "Exit status: 0 done, 1 the job does not fit, 2 usage, 3 faulty input,\n"
        "             4 verify found faults, 5 file trouble, 6 internal fault\n",
        to);
}

static enum pw_exit dispatch(int argc, char **argv)
{
  const char *word = argc > 1 ? argv[1] : NULL;
  if (!word) {
    help(stderr);
    return PW_EXIT_USAGE;
  }
  if (strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || (strcmp(word, "help") == 0 && argc == 2)) {
    help(stdout);
    return PW_EXIT_DONE;
  }
  if (strcmp(word, "--version") == 0) {
    printf("pitwright %s\n", pw_version());
    return PW_EXIT_DONE;
  }
  const char *name = strcmp(word, "help") == 0 ? argv[2] : word, *names[N_COMMANDS];
  for (int i = 0; i < N_COMMANDS; i++) {
    names[i] = COMMANDS[i].name;
    if (strcmp(name, names[i]) != 0)
      continue;
    struct pw_cli cli = {.program = argv[0]};
    enum pw_exit bad = name == word ? pw_opt_read(&cli, &COMMANDS[i], argc - 1, argv + 1) : PW_EXIT_DONE;
    if (bad)
      return bad;
    if (name == word && !cli.wants_help)
      return COMMANDS[i].run(&cli);
    pw_opt_help(stdout, &COMMANDS[i]);
    if (COMMANDS[i].run == pw_cmd_verify)
      pw_verify_help(stdout);
    if (COMMANDS[i].run == pw_cmd_state || COMMANDS[i].run == pw_cmd_mend)
      pw_log_help_print(stdout);
    return PW_EXIT_DONE;
  }
  const char *near = pw_opt_nearest(name, names, N_COMMANDS);
  pw_say_word("pitwright: ", name, " is no command");
  if (near)
    fprintf(stderr, "Did you mean %s?\n", near);
  fputs("See: pitwright --help\n", stderr);
  return PW_EXIT_USAGE;
}

#ifndef __SANITIZE_ADDRESS__ /* the sanitizer's own report says more */
/* A crash is our fault and says so; what was being written lies under a hidden name, the old pack is untouched. */
static void on_crash(int signal_number)
{
  static const char words[] = "\npitwright: internal fault: the program broke off; no pack was replaced\n";
  (void)!write(STDERR_FILENO, words, sizeof words - 1);
  (void)signal_number;
  _exit(PW_EXIT_INTERNAL);
}

/* A stack of its own for the handler: the usual one may be what ran out. */
static void watch_crashes(void)
{
  static const int deadly[] = {SIGSEGV, SIGBUS, SIGABRT, SIGFPE, SIGILL};
  static char stack[16384];
  stack_t own = {.ss_sp = stack, .ss_size = sizeof stack};
  struct sigaction act = {.sa_handler = on_crash, .sa_flags = SA_ONSTACK};
  sigemptyset(&act.sa_mask);
  if (sigaltstack(&own, NULL) == 0)
    for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
      (void)sigaction(deadly[i], &act, NULL);
}
#endif

/* ---- a stack that is large enough ---- */

enum { STACK_LEAST = 1 << 20, STACK_BYTES = 8 << 20 };

struct call {
  int argc;
  char **argv;
  enum pw_exit status;
};

static void *run_call(void *p)
{
  struct call *call = p;
#ifndef __SANITIZE_ADDRESS__
  watch_crashes(); /* the handler's stack is each thread's own */
#endif
  call->status = dispatch(call->argc, call->argv);
  return NULL;
}

/* Runs the command; on a stack of its own where the shell allows little. */
static enum pw_exit run_command(int argc, char **argv)
{
  struct call call = {argc, argv, PW_EXIT_INTERNAL};
  struct rlimit limit;
  pthread_attr_t attr;
  pthread_t thread;
  bool is_tight =
      getrlimit(RLIMIT_STACK, &limit) == 0 && limit.rlim_cur != RLIM_INFINITY && limit.rlim_cur < STACK_LEAST;
  if (is_tight && pthread_attr_init(&attr) == 0) {
    bool is_begun =
        pthread_attr_setstacksize(&attr, STACK_BYTES) == 0 && pthread_create(&thread, &attr, run_call, &call) == 0;
    (void)pthread_attr_destroy(&attr);
    if (is_begun && pthread_join(thread, NULL) == 0)
      return call.status;
  }
  (void)run_call(&call);
  return call.status;
}

int main(int argc, char **argv)
{
  (void)signal(SIGXFSZ, SIG_IGN); /* a file-size limit is an error of the write, which is reported */
  enum pw_exit status = run_command(argc, argv);
  /* What was printed counts only once it has arrived. */
  bool is_lost = ferror(stdout) != 0;
  if (fclose(stdout) != 0 || is_lost) {
    fputs("pitwright: standard output could not be written\n", stderr);
    if (status == PW_EXIT_DONE || status == PW_EXIT_SHORT)
      status = PW_EXIT_IO;
  }
  return (int)status;
}
