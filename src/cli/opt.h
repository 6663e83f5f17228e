/* opt.h - the command line as data: a table of options, a table of commands, and the values one call gave. */
#ifndef PW_CLI_OPT_H
#define PW_CLI_OPT_H

#include <stdbool.h>
#include <stdio.h>

/** Exit values, in order of README.md. */
enum pw_exit {
  PW_EXIT_DONE = 0,
  PW_EXIT_SHORT = 1,     /**< the plan is written, but some pieces found no place */
  PW_EXIT_USAGE = 2,     /**< the command line is off */
  PW_EXIT_INPUT = 3,     /**< the event, a catalog or a plan file has faults */
  PW_EXIT_VIOLATION = 4, /**< verify: the plan breaks a rule */
  PW_EXIT_IO = 5,        /**< a file could not be read or written */
  PW_EXIT_INTERNAL = 6   /**< our own fault: memory, solver, a plan that failed its judge */
};

/** Options; a command accepts a set of them (1u << id). */
enum pw_opt_id {
  PW_OPT_OUT,
  PW_OPT_GUESTS,
  PW_OPT_UNITS,
  PW_OPT_PAPER,
  PW_OPT_JSON,
  PW_OPT_SECONDS,
  PW_OPT_WORK,
  PW_OPT_ON_TIME,
  PW_OPT_QUICK,
  PW_OPT_DUMP_MODEL,
  PW_OPT_CATALOGS,
  PW_OPT_EVENT,
  PW_OPT_PIT,
  PW_OPT_ZONE,
  PW_OPT_SETTING,
  PW_OPT_DATE,
  PW_OPT_AT,
  PW_OPT_MENU,
  PW_OPT_CUSTOMER,
  PW_OPT_SAVE,
  PW_OPT_HOUSE,
  PW_OPT_SHOW,
  PW_OPT_PER_GUEST,
  PW_OPT_ON,
  PW_OPT_CSV,
  PW_OPT_AGAINST,
  PW_OPT_QUIET,
  PW_OPT_HELP,
  PW_OPT__COUNT
};

enum { PW_UNSAID = -1 };
/** Values of one call; PW_UNSAID or NULL where nothing was said. */
struct pw_cli {
  const struct pw_command *command;
  const char *program; /**< argv[0] */
  const char *operand; /**< FILE, EVENT, PLAN or CUT; the first of several */
  char **operands;     /**< all of them, n_operands >= 1 */
  int n_operands;
  const char *out_dir;
  const char *meals; /**< "lunch=180,supper=60", or NULL */
  int guests;
  int units; /**< enum pw_units */
  int paper; /**< enum pw_paper */
  const char *json;
  double seconds;      /**< 0: no limit */
  double work_times;   /**< 0: the usual */
  double on_time_frac; /**< 0: the events' own; below 0: none */
  const char *dump_model;
  const char *catalogs;
  const char *event, *pit, *zone, *setting; /**< of curve */
  const char *date, *at, *menu, *customer;  /**< an event in few words; at: also now, of a log */
  const char *save;                         /**< file to keep it in */
  const char *per_guest;                    /**< a price given */
  const char *on, *csv;                     /**< of jobs: the day looked at, where the table goes */
  const char *against;                      /**< a pack written before */
  bool wants_show;                          /**< check: where every value comes from */
  bool wants_house;                         /**< new: a house file */
  bool is_quick, is_quiet, wants_help;
};

struct pw_command {
  const char *name;
  enum pw_exit (*run)(const struct pw_cli *cli);
  const char *operand; /**< its word in the help; in brackets: it may be left out, the command says when */
  const char *line;    /**< one line: what it does */
  unsigned options;    /**< set of 1u << enum pw_opt_id */
  unsigned needs;      /**< those of them that must be given */
  int most_operands;   /**< 0 stands for 1 */
  const char *more;    /**< a paragraph and an example for --help of the command */
};

/** Reads argv (argv[0] is the command's name) into *cli.  On a fault says so on stderr and returns PW_EXIT_USAGE. */
enum pw_exit pw_opt_read(struct pw_cli *cli, const struct pw_command *command, int argc, char **argv);

/** Help of one command, from its tables. */
void pw_opt_help(FILE *to, const struct pw_command *command);

/** The nearest of n names to `word` by edit distance, or NULL when none is near enough to suggest. */
const char *pw_opt_nearest(const char *word, const char *const *names, int n);

#endif
