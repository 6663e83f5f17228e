/* cmd_verify.c - the judge on a plan file, ours or one edited by hand. */
#include "cli/cmd.h"

#include <stdio.h>

void pw_verify_help(FILE *to)
{
  fputs("\nTaken on trust, because nothing else in a plan decides it (- an entry that may be missing, ! a yes that "
        "may be a no):\n",
        to);
  const char *kind, *reason = "";
  for (int i = 0; (kind = pw_judge_trusts(i, &reason)) != NULL; i++)
    fprintf(to, "  %-36s %s\n", kind, reason);
}

enum pw_exit pw_cmd_verify(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  int n_findings = 0;
  pw_status st = pw_job_judge_file(s.job, cli->operand, &n_findings);
  result = st == PW_OK && n_findings > 0 ? PW_EXIT_VIOLATION : pw_say_status(st);
  if (st == PW_OK && !cli->is_quiet) {
    pw_print_word(stdout, cli->operand);
    if (n_findings > 0)
      printf(": %d %s\n", n_findings, n_findings == 1 ? "rule is broken" : "faults against the rules");
    else
      fputs(": holds, no rule is broken\n", stdout);
  }
  return pw_session_close(&s, result);
}
