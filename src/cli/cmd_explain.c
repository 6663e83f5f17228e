/* cmd_explain.c - plans an event thoroughly and says why the plan is as it is. */
#include "base/buf.h"
#include "cli/cmd.h"
#include "run.h"
#include "write/explain_sheet.h"

#include <string.h>

static pw_status explain(struct pw_session *s, enum pw_exit *result)
{
  struct pw_run_options options = {.effort = PW_EFFORT_FULL, .seconds = s->cli->seconds, .work_times = s->cli->work_times};
  struct pw_plan *plan = NULL;
  struct pw_explain e;
  struct pw_buf sheet = pw_buf_in(s->ctx.arena);
  pw_status st = pw_run_plan(&plan, s->event, &options, &s->ctx);
  if (st == PW_OK)
    st = pw_explain_make(&e, plan, &s->ctx);
  pw_session_end_progress(s);
  if (st == PW_OK)
    st = pw_text_explain(&sheet, &e, plan, &s->ctx);
  if (st == PW_OK && s->cli->json)
    st = pw_explain_json_write(&e, plan, s->cli->json, &s->ctx);
  if (st != PW_OK)
    return st;
  s->has_shown_warnings = true; /* they belong to the plan, which says them */
  *result = plan->allocation.n_missed > 0 ? PW_EXIT_SHORT : PW_EXIT_DONE;
  bool is_json_on_stdout = s->cli->json && strcmp(s->cli->json, "-") == 0;
  if (!is_json_on_stdout && !s->cli->is_quiet)
    fputs(pw_buf_text(&sheet), stdout); /* checked when the program ends */
  return PW_OK;
}

enum pw_exit pw_cmd_explain(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  result = pw_session_read_event(&s);
  if (result)
    return pw_session_close(&s, result);
  pw_status st = explain(&s, &result);
  return pw_session_close(&s, st == PW_OK ? result : pw_say_status(st));
}
