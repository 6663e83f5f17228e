/* cmd_new.c - new files: a starter event, a house file, or an event in few words; none replaces a file. */
#include "cli/cmd.h"

#include <stdio.h>

static void say_next(const char *path)
{
  fputs("Change it to your job, then:\n  pitwright check ", stdout);
  pw_print_word(stdout, path);
  fputs("\n  pitwright plan ", stdout);
  pw_print_word(stdout, path);
  fputs(" -o my-job\n", stdout);
}

/* The commented starter of an event or of a house. */
static enum pw_exit starter(struct pw_session *s)
{
  const struct pw_cli *cli = s->cli;
  const char *catalogs = pw_catalog_dir(s), *path = cli->operand ? cli->operand : "house.yaml";
  if (!catalogs)
    return PW_EXIT_IO;
  pw_status st =
      cli->wants_house ? pw_job_house_starter(s->job, path, catalogs) : pw_job_starter(s->job, path, catalogs);
  if (st != PW_OK || cli->is_quiet)
    return pw_say_status(st);
  fputs(cli->wants_house ? "A starter house file is in " : "A starter event is in ", stdout);
  pw_print_word(stdout, path);
  fputs(".\n", stdout);
  if (cli->wants_house)
    fputs("Change it to what you have; it counts for every event in this folder. Then:\n"
          "  pitwright new job.yaml --guests 120 --date 2027-06-12 --at 17:30 --menu two-meats-three-sides\n",
          stdout);
  else
    say_next(path);
  return PW_EXIT_DONE;
}

enum pw_exit pw_cmd_new(const struct pw_cli *cli)
{
  struct pw_session s;
  const bool is_few = pw_cli_is_few(cli) || cli->guests != PW_UNSAID || cli->meals;
  if (!cli->operand && !cli->wants_house) {
    fputs("pitwright new: FILE is missing\nSee: pitwright new --help\n", stderr);
    return PW_EXIT_USAGE;
  }
  if (cli->wants_house && is_few) {
    fputs("pitwright new: --house writes only the house file; write the event with a second command\n", stderr);
    return PW_EXIT_USAGE;
  }
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  if (!is_few)
    return pw_session_close(&s, starter(&s));
  bad = pw_session_read_few(&s, cli->operand);
  if (!bad)
    bad = pw_session_save(&s, cli->operand);
  if (!bad && !cli->is_quiet)
    say_next(cli->operand);
  return pw_session_close(&s, bad);
}
