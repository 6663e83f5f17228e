/* cmd_quote.c - two to four quotes side by side.  Each event has a session of its own, so that what one plan warns of is
 * not laid at the other's door. */
#include "base/buf.h"
#include "cli/cmd.h"
#include "run.h"
#include "write/text_sheets.h"

#include <stdio.h>
#include <string.h>

/* Reads and plans one event; the session stays open for what the plan points to. */
static enum pw_exit plan_one(struct pw_session *s, struct pw_plan **plan)
{
  enum pw_exit result = pw_session_read_event(s);
  if (result)
    return result;
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK, .seconds = s->cli->seconds, .has_ladder = true};
  pw_status st = pw_run_plan(plan, s->event, &options, &s->ctx);
  pw_session_end_progress(s);
  s->has_shown_warnings = st == PW_OK; /* the table says how many there are */
  if (st != PW_OK)
    return pw_say_status(st);
  return (*plan)->allocation.n_missed > 0 ? PW_EXIT_SHORT : PW_EXIT_DONE;
}

enum pw_exit pw_cmd_compare(const struct pw_cli *cli)
{
  struct pw_cli one[PW_COMPARE_MAX];
  struct pw_session sessions[PW_COMPARE_MAX];
  enum pw_exit exits[PW_COMPARE_MAX];
  struct pw_plan *plans[PW_COMPARE_MAX] = {NULL};
  enum pw_exit worst = PW_EXIT_DONE;
  int n = 0, n_planned = 0;
  if (cli->json || cli->dump_model) {
    fputs("pitwright quote: --json and --dump-model want one event\n", stderr);
    return PW_EXIT_USAGE;
  }
  for (; n < cli->n_operands; n++) {
    one[n] = *cli;
    one[n].operand = cli->operands[n];
    exits[n] = pw_session_open(&sessions[n], &one[n]);
    if (exits[n]) {
      worst = exits[n];
      break;
    }
    exits[n] = plan_one(&sessions[n], &plans[n]);
    n_planned += plans[n] != NULL;
    worst = exits[n] > worst ? exits[n] : worst;
  }
  if (n > 0 && n == cli->n_operands && n_planned == n) {
    struct pw_buf sheet = pw_buf_in(sessions[0].ctx.arena);
    pw_status st = pw_text_quote_compare(&sheet, (const struct pw_plan *const *)plans, (const char *const *)cli->operands,
                                         n, &sessions[0].ctx);
    const char *text = st == PW_OK ? pw_buf_text(&sheet) : NULL;
    if (text && !cli->is_quiet)
      fputs(text, stdout); /* checked when the program ends */
    else if (!text)
      worst = exits[0] = pw_say_status(st == PW_OK ? PW_ERR_MEMORY : st);
  }
  while (n-- > 0)
    pw_session_close(&sessions[n], exits[n]);
  return worst;
}
