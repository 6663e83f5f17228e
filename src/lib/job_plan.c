/* job_plan.c - how a job is planned: one event as it stands; several each alone for the customer's price, then as one. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/outfile.h"
#include "lib/job.h"
#include "read/read.h"
#include "run.h"

/* A context of its own for an event alone: what it warns of is on its own quote. */
static pw_status plan_alone(struct pw_job *job, int i, const struct pw_how *how, struct pw_ctx *ctx)
{
  struct pw_ctx side = {.arena = ctx->arena};
  struct pw_run_options options = {.effort = how->care == PW_THOROUGH ? PW_EFFORT_FULL : PW_EFFORT_QUICK,
                                   .seconds = how->seconds,
                                   .work_times = how->work_times,
                                   .has_ladder = !how->is_without_ladder,
                                   .is_at_once = how->is_at_once,
                                   .on_time_frac = how->on_time_frac};
  struct pw_plan *plan = NULL;
  pw_status st = pw_run_plan(&plan, job->read[i], &options, &side);
  for (int d = 0; d < side.n_diags && st != PW_OK; d++)
    if (side.diags[d].severity == PW_ERROR)
      pw_diag_add(ctx, PW_ERROR, side.diags[d].code, side.diags[d].file, side.diags[d].line, side.diags[d].col, "%s",
                  side.diags[d].text);
  job->alone[i] = plan;
  return st;
}

/* Costs dealt out, noted in the plan, and the judge asked once more. */
static pw_status deal_out(struct pw_job *job, struct pw_plan *plan, struct pw_ctx *ctx)
{
  pw_status st = pw_joint_share(&job->shares, &job->joint, plan, job->alone, ctx);
  if (st == PW_OK)
    st = pw_joint_note(plan, &job->joint, &job->shares, job->alone, ctx);
  return st == PW_OK ? pw_run_judge(plan, ctx) : st;
}

/* Several events planned as one, the first with lines at the end of its file: pits, boxes and hands are everybody's. */
static pw_status change_first(void *user, struct pw_event **out, const char *lines, struct pw_ctx *ctx)
{
  const struct pw_job *job = user;
  const struct pw_event *all[PW_JOB_EVENTS_MAX];
  struct pw_event *first = NULL;
  struct pw_joint joint;
  pw_status st = pw_event_change(&first, job->read[0], lines, ctx);
  for (int i = 0; i < job->n_read; i++)
    all[i] = i == 0 ? first : job->read[i];
  if (st == PW_OK)
    st = pw_joint_make(&joint, all, job->n_read, ctx);
  *out = st == PW_OK ? joint.event : NULL;
  return st;
}

static pw_status plan_all(struct pw_plan **plan, struct pw_job *job, const struct pw_how *how, struct pw_ctx *ctx)
{
  bool is_joint = job->n_read > 1;
  struct pw_run_options options = {.effort = how->care == PW_THOROUGH ? PW_EFFORT_FULL : PW_EFFORT_QUICK,
                                   .seconds = how->seconds,
                                   .work_times = how->work_times,
                                   .dump_model = how->dump_model,
                                   .has_ladder = !is_joint && !how->is_without_ladder,
                                   .has_levels = !is_joint && how->has_levels,
                                   .is_at_once = how->is_at_once,
                                   .on_time_frac = how->on_time_frac,
                                   .change = is_joint ? change_first : NULL,
                                   .change_user = job};
  pw_status st = PW_OK;
  for (int i = 0; i < job->n_read && is_joint && st == PW_OK; i++)
    st = plan_alone(job, i, how, ctx);
  if (st == PW_OK)
    st = pw_run_plan(plan, job->event, &options, ctx);
  return st == PW_OK && is_joint ? deal_out(job, *plan, ctx) : st;
}

/* A folder that cannot be had is said before the work, not after it. */
static pw_status probe_folder(struct pw_job *job, const char *folder)
{
  struct pw_pack *pack = NULL;
  pw_status st = folder ? pw_pack_open(&pack, folder, &job->ctx) : PW_OK;
  pw_pack_close(pack);
  return st;
}

/* The pack that was given out before; what it is faulted for is the job's. */
static pw_status open_before(struct pw_job *job, const char *pack)
{
  pw_job_close(job->before);
  job->before = NULL;
  if (!pack)
    return PW_OK;
  if (job->n_read != 1)
    return PW_ERR_USAGE;
  pw_status st = pw_job_open(&job->before);
  if (st != PW_OK)
    return st;
  job->before->units = job->units;
  st = pw_job_open_pack(job->before, pack);
  for (int i = 0; i < job->before->ctx.n_diags && st != PW_OK; i++) {
    const struct pw_diag *d = &job->before->ctx.diags[i];
    const char *file = d->file ? pw_arena_strdup(job->ctx.arena, d->file) : NULL;
    if (d->severity != PW_WARNING)
      pw_diag_add(&job->ctx, d->severity, "against", file, d->line, d->col, "%s", d->text);
  }
  return st;
}

pw_status pw_job_plan_how(struct pw_job *job, const struct pw_how *how)
{
  bool is_work = how->work_times >= 1 && how->work_times <= 1000;
  bool is_chance = how->on_time_frac <= 0 || (how->on_time_frac >= 0.5 && how->on_time_frac <= 0.999);
  if (job->n_read == 0 || !is_chance || (how->work_times != 0 && !is_work) ||
      (how->care != PW_QUICK && how->care != PW_THOROUGH))
    return PW_ERR_USAGE;
  struct pw_plan *plan = NULL;
  job->plan = NULL;
  job->explain = NULL;
  pw_status st = pw_job_settle(job);
  if (st == PW_OK)
    st = probe_folder(job, how->folder);
  if (st == PW_OK)
    st = open_before(job, how->against);
  if (st != PW_OK)
    return st;
  struct pw_ctx side = pw_job_side(job);
  pw_job_obey(job);
  st = pw_job_obeyed(job, plan_all(&plan, job, how, &side));
  if (st == PW_ERR_STOPPED)
    return st;
  pw_job_take_over(job, &side);
  if (st == PW_OK)
    job->plan = plan;
  return st;
}

pw_status pw_job_plan(struct pw_job *job, enum pw_care care, double seconds)
{
  struct pw_how how = {.care = care, .seconds = seconds};
  return pw_job_plan_how(job, &how);
}

int pw_job_missed(const struct pw_job *job)
{
  int missed = 0;
  for (int i = 0; job->season && i < job->season->n_jobs; i++)
    missed += job->season->jobs[i].missed;
  return job->season ? missed : job->plan ? job->plan->allocation.n_missed : -1;
}
