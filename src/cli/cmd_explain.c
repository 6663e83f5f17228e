/* cmd_explain.c - plans an event thoroughly and says why the plan is as it is. */
#include "cli/cmd.h"

#include <string.h>

static pw_status explain(struct pw_session *s, enum pw_exit *result)
{
  const struct pw_cli *cli = s->cli;
  struct pw_how how = {.care = PW_THOROUGH,
                       .seconds = cli->seconds,
                       .work_times = cli->work_times,
                       .on_time_frac = cli->on_time_frac,
                       .is_without_ladder = true,
                       .has_levels = true};
  const char *sheet = NULL;
  size_t n = 0;
  pw_status st = pw_job_plan_how(s->job, &how);
  if (st == PW_OK)
    st = pw_job_text(s->job, PW_TEXT_EXPLAIN, &sheet, &n);
  pw_session_end_progress();
  if (st == PW_OK && cli->json)
    st = pw_job_write_text(s->job, PW_TEXT_EXPLAIN_JSON, cli->json);
  if (st != PW_OK)
    return st;
  s->has_shown_warnings = true; /* they belong to the plan, which says them */
  *result = pw_job_missed(s->job) > 0 ? PW_EXIT_SHORT : PW_EXIT_DONE;
  bool is_json_on_stdout = cli->json && strcmp(cli->json, "-") == 0;
  if (!is_json_on_stdout && !cli->is_quiet)
    fputs(sheet, stdout); /* checked when the program ends */
  return PW_OK;
}

enum pw_exit pw_cmd_explain(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  result = pw_session_read(&s);
  if (result)
    return pw_session_close(&s, result);
  pw_status st = explain(&s, &result);
  return pw_session_close(&s, st == PW_OK ? result : pw_say_status(st));
}
