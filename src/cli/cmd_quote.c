/* cmd_quote.c - two to four quotes side by side.  Each event has a session of its own, so that what one plan warns of is
 * not laid at the other's door. */
#include "cli/cmd.h"

#include <stdio.h>

/* Reads and plans one event; the session stays open for its plan. */
static enum pw_exit plan_one(struct pw_session *s)
{
  enum pw_exit result = pw_session_read(s);
  if (result)
    return result;
  struct pw_how how = {.care = s->cli->is_quick ? PW_QUICK : PW_THOROUGH,
                       .seconds = s->cli->seconds,
                       .work_times = s->cli->work_times,
                       .on_time_frac = s->cli->on_time_frac};
  pw_status st = pw_job_plan_how(s->job, &how);
  pw_session_end_progress();
  s->has_shown_warnings = st == PW_OK; /* the table says how many there are */
  if (st != PW_OK)
    return pw_say_status(st);
  return pw_job_missed(s->job) > 0 ? PW_EXIT_SHORT : PW_EXIT_DONE;
}

enum pw_exit pw_cmd_compare(const struct pw_cli *cli)
{
  struct pw_cli one[PW_JOB_COMPARE_MAX];
  struct pw_session sessions[PW_JOB_COMPARE_MAX];
  struct pw_job *jobs[PW_JOB_COMPARE_MAX];
  enum pw_exit exits[PW_JOB_COMPARE_MAX], worst = PW_EXIT_DONE;
  int n = 0, n_planned = 0;
  if (cli->json || cli->dump_model || cli->against) {
    fputs("pitwright quote: --json, --dump-model and --against need exactly one event\n", stderr);
    return PW_EXIT_USAGE;
  }
  for (; n < cli->n_operands; n++) {
    one[n] = *cli;
    one[n].operands = cli->operands + n;
    one[n].n_operands = 1;
    exits[n] = pw_session_open(&sessions[n], &one[n]);
    if (exits[n]) {
      worst = exits[n];
      break;
    }
    jobs[n] = sessions[n].job;
    exits[n] = plan_one(&sessions[n]);
    n_planned += pw_job_missed(jobs[n]) >= 0;
    worst = exits[n] > worst ? exits[n] : worst;
  }
  if (n > 0 && n == cli->n_operands && n_planned == n) {
    const char *text = NULL;
    pw_status st = pw_job_compare(jobs, (const char *const *)cli->operands, n, &text);
    if (st != PW_OK)
      worst = exits[0] = pw_say_status(st);
    else if (!cli->is_quiet)
      fputs(text, stdout); /* checked when the program ends */
  }
  while (n-- > 0)
    pw_session_close(&sessions[n], exits[n]);
  return worst;
}
