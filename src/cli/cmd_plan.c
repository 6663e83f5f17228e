/* cmd_plan.c - the three commands that plan: quote, buy, plan.  They differ in effort and in what they show. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/outfile.h"
#include "base/text.h"
#include "cli/cmd.h"
#include "run.h"
#include "write/pack.h"
#include "write/plan_json.h"
#include "write/text_sheets.h"

#include <stdio.h>
#include <string.h>

static bool is_stdout(const char *path) { return path && strcmp(path, "-") == 0; }

/* Runs the pipeline on the session's event; *exit_value is SHORT when pieces found no place. */
static pw_status make(struct pw_session *s, enum pw_effort effort, bool has_ladder, struct pw_plan **plan,
                      enum pw_exit *exit_value)
{
  struct pw_run_options options = {.effort = effort,
                                   .seconds = s->cli->seconds, .work_times = s->cli->work_times,
                                   .dump_model = s->cli->dump_model,
                                   .has_ladder = has_ladder};
  pw_status st = pw_run_plan(plan, s->event, &options, &s->ctx);
  if (st == PW_OK && (*plan)->allocation.n_missed > 0)
    *exit_value = PW_EXIT_SHORT;
  return st;
}

/* The plan as JSON where the command line wants it. */
static pw_status put_json(struct pw_session *s, const struct pw_plan *plan)
{
  return s->cli->json ? pw_plan_json_write(plan, s->cli->json, &s->ctx) : PW_OK;
}

/* A sheet on standard output, unless that carries the JSON. */
static pw_status show(struct pw_session *s, struct pw_buf *sheet)
{
  const char *text = pw_buf_text(sheet);
  if (!text)
    return PW_ERR_MEMORY;
  if (!is_stdout(s->cli->json) && !s->cli->is_quiet)
    fputs(text, stdout); /* checked when the program ends */
  return PW_OK;
}

/* A folder that cannot be had is said before the work, not after it. */
static pw_status probe_folder(struct pw_session *s)
{
  struct pw_pack *pack = NULL;
  pw_status st = pw_pack_open(&pack, s->cli->out_dir, &s->ctx);
  pw_pack_close(pack);
  return st;
}

/* The common frame: session, event, plan, then what the command makes of it. */
static enum pw_exit run(const struct pw_cli *cli, enum pw_effort effort, bool has_ladder,
                        pw_status (*use)(struct pw_session *, const struct pw_plan *))
{
  struct pw_session s;
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  result = pw_session_read_event(&s);
  if (!result && cli->out_dir)
    result = pw_say_status(probe_folder(&s));
  if (result)
    return pw_session_close(&s, result);
  struct pw_plan *plan = NULL;
  pw_status st = make(&s, effort, has_ladder, &plan, &result);
  pw_session_end_progress(&s);
  if (st == PW_OK)
    st = use(&s, plan);
  return pw_session_close(&s, st == PW_OK ? result : pw_say_status(st));
}

static pw_status use_quote(struct pw_session *s, const struct pw_plan *plan)
{
  struct pw_buf sheet = pw_buf_in(s->ctx.arena);
  pw_status st = pw_text_quote_customer(&sheet, plan, &s->ctx);
  pw_buf_add(&sheet, "\n\n");
  if (st == PW_OK)
    st = pw_text_quote_owner(&sheet, plan, &s->ctx);
  s->has_shown_warnings = true; /* they are about the cook, and in the plan; the sheet says how many there are */
  if (st == PW_OK)
    st = put_json(s, plan);
  return st == PW_OK ? show(s, &sheet) : st;
}

enum pw_exit pw_cmd_quote(const struct pw_cli *cli)
{
  return cli->n_operands > 1 ? pw_cmd_compare(cli) : run(cli, PW_EFFORT_QUICK, true, use_quote);
}

static pw_status use_buy(struct pw_session *s, const struct pw_plan *plan)
{
  struct pw_buf sheet = pw_buf_in(s->ctx.arena);
  pw_status st = pw_text_buy(&sheet, plan, &s->ctx);
  if (st == PW_OK)
    st = put_json(s, plan);
  return st == PW_OK ? show(s, &sheet) : st;
}

enum pw_exit pw_cmd_buy(const struct pw_cli *cli) { return run(cli, PW_EFFORT_QUICK, false, use_buy); }

static pw_status use_plan(struct pw_session *s, const struct pw_plan *plan)
{
  struct pw_buf sheet = pw_buf_in(s->ctx.arena);
  pw_status st = pw_text_plan(&sheet, plan, &s->ctx);
  const char *const *files = NULL;
  int n_files = 0;
  if (st == PW_OK && s->cli->out_dir)
    st = pw_pack_write(plan, s->cli->out_dir, &files, &n_files, &s->ctx);
  if (st == PW_OK)
    st = put_json(s, plan);
  if (st != PW_OK)
    return st;
  if (n_files > 0)
    pw_buf_add(&sheet, "\nWritten:\n");
  for (int i = 0; i < n_files; i++) {
    pw_buf_add(&sheet, "  ");
    pw_text_add_line(&sheet, s->cli->out_dir);
    pw_buf_printf(&sheet, "/%s\n", files[i]);
  }
  s->has_shown_warnings = true; /* on the sheet, or in the JSON */
  return show(s, &sheet);
}

enum pw_exit pw_cmd_plan(const struct pw_cli *cli)
{
  if (!cli->out_dir && !cli->json) {
    fputs("pitwright plan: say where the pack goes: -o DIR (or --json FILE for the plan alone)\n", stderr);
    return PW_EXIT_USAGE;
  }
  return cli->n_operands > 1 ? pw_cmd_plan_jobs(cli) : run(cli, PW_EFFORT_FULL, true, use_plan);
}
