/* cmd_new.c - a starter event: the commented one that comes with the catalogs, copied to a new file. */
#include "cli/cmd.h"

#include <stdio.h>

enum pw_exit pw_cmd_new(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *catalogs = pw_catalog_dir(&s);
  pw_status st = catalogs ? pw_job_starter(s.job, cli->operand, catalogs) : PW_ERR_IO;
  if (st == PW_OK && !cli->is_quiet) {
    fputs("A starter event is in ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs(".\nChange it to your job, then:\n  pitwright check ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs("\n  pitwright plan ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs(" -o my-job\n", stdout);
  }
  return pw_session_close(&s, pw_say_status(st));
}
