/* cmd_jobs.c - several events planned as one: each alone for its customer's price, then all together for the crew. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/outfile.h"
#include "base/text.h"
#include "cli/cmd.h"
#include "plan/joint.h"
#include "run.h"
#include "write/joint_pack.h"
#include "write/pack.h"
#include "write/plan_json.h"
#include "write/text_sheets.h"

#include <string.h>

_Static_assert((int)PW_JOBS_MAX == (int)PW_JOINT_MAX, "the command line takes as many events as a joint plan");

struct jobs {
  const struct pw_event *events[PW_JOINT_MAX];
  const struct pw_plan *alone[PW_JOINT_MAX];
  struct pw_joint joint;
  struct pw_joint_shares shares;
  struct pw_plan *plan;
};

/* A context of its own for a job alone: what it warns of is on its own quote. */
static pw_status plan_alone(struct pw_session *s, const struct pw_event *ev, const struct pw_plan **out)
{
  struct pw_ctx side = {.arena = s->ctx.arena};
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK, .seconds = s->cli->seconds, .has_ladder = true};
  struct pw_plan *plan = NULL;
  pw_status st = pw_run_plan(&plan, ev, &options, &side);
  for (int i = 0; i < side.n_diags && st != PW_OK; i++)
    if (side.diags[i].severity == PW_ERROR && s->ctx.n_diags < PW_DIAG_MAX) {
      s->ctx.diags[s->ctx.n_diags++] = side.diags[i];
      s->ctx.n_errors++;
    }
  *out = plan;
  return st;
}

static pw_status write_out(struct pw_session *s, const struct jobs *jobs)
{
  const struct pw_joint_plan all = {&jobs->joint, jobs->plan, jobs->alone, &jobs->shares};
  const char *const *files = NULL;
  int n_files = 0;
  struct pw_buf sheet = pw_buf_in(s->ctx.arena);
  pw_status st = pw_text_plan(&sheet, jobs->plan, &s->ctx);
  pw_buf_add(&sheet, "\n\n");
  if (st == PW_OK)
    st = pw_text_jobs(&sheet, &all, &s->ctx);
  if (st == PW_OK && s->cli->out_dir)
    st = pw_pack_write_joint(&all, s->cli->out_dir, &files, &n_files, &s->ctx);
  if (st == PW_OK && s->cli->json)
    st = pw_plan_json_write(jobs->plan, s->cli->json, &s->ctx);
  if (n_files > 0)
    pw_buf_add(&sheet, "\nWritten:\n");
  for (int i = 0; i < n_files; i++) {
    pw_buf_add(&sheet, "  ");
    pw_text_add_line(&sheet, s->cli->out_dir);
    pw_buf_printf(&sheet, "/%s\n", files[i]);
  }
  const char *text = pw_buf_text(&sheet);
  if (st == PW_OK && !text)
    st = PW_ERR_MEMORY;
  s->has_shown_warnings = st == PW_OK; /* on the sheet, or in the JSON */
  bool is_json_on_stdout = s->cli->json && strcmp(s->cli->json, "-") == 0;
  if (st == PW_OK && !is_json_on_stdout && !s->cli->is_quiet)
    fputs(text, stdout); /* checked when the program ends */
  return st;
}

/* A folder that cannot be had is said before the work, not after it. */
static pw_status probe_folder(struct pw_session *s)
{
  struct pw_pack *pack = NULL;
  pw_status st = s->cli->out_dir ? pw_pack_open(&pack, s->cli->out_dir, &s->ctx) : PW_OK;
  pw_pack_close(pack);
  return st;
}

enum pw_exit pw_cmd_plan_jobs(const struct pw_cli *cli)
{
  struct pw_session s;
  struct jobs jobs = {.plan = NULL};
  int n = cli->n_operands;
  if (cli->guests != PW_NONE) {
    fputs("pitwright plan: --guests wants one event\n", stderr);
    return PW_EXIT_USAGE;
  }
  enum pw_exit result = pw_session_open(&s, cli), worst = PW_EXIT_DONE;
  if (result)
    return result;
  for (int i = 0; i < n; i++) { /* every file's faults at once */
    struct pw_event *ev = NULL;
    result = pw_session_read_file(&s, cli->operands[i], &ev);
    worst = result > worst ? result : worst;
    jobs.events[i] = ev;
  }
  if (worst)
    return pw_session_close(&s, worst);
  pw_status st = pw_joint_make(&jobs.joint, jobs.events, n, &s.ctx);
  if (st == PW_OK)
    st = probe_folder(&s);
  for (int i = 0; i < n && st == PW_OK; i++)
    st = plan_alone(&s, jobs.events[i], &jobs.alone[i]);
  if (st == PW_OK) {
    struct pw_run_options options = {.effort = PW_EFFORT_FULL, .seconds = cli->seconds, .work_times = cli->work_times, .dump_model = cli->dump_model};
    st = pw_run_plan(&jobs.plan, jobs.joint.event, &options, &s.ctx);
  }
  pw_session_end_progress(&s);
  if (st == PW_OK)
    st = pw_joint_share(&jobs.shares, &jobs.joint, jobs.plan, jobs.alone, &s.ctx);
  if (st == PW_OK)
    st = pw_joint_note(jobs.plan, &jobs.joint, &jobs.shares, jobs.alone, &s.ctx);
  if (st == PW_OK)
    st = pw_run_judge(jobs.plan, &s.ctx);
  if (st == PW_OK)
    st = write_out(&s, &jobs);
  if (st == PW_OK && jobs.plan->allocation.n_missed > 0)
    result = PW_EXIT_SHORT;
  return pw_session_close(&s, st == PW_OK ? result : pw_say_status(st));
}
