/* job.c - the public library: one handle over the reader, the stages, the judge and the pack. */
#include "pw/pitwright.h"

#include "base/arena.h"
#include "plan/head_count.h"
#include "plan/plan_check.h"
#include "read/read.h"
#include "run.h"
#include "write/pack.h"
#include "write/plan_json.h"

struct pw_job {
  struct pw_ctx ctx;
  const struct pw_event *event;
  struct pw_plan *plan;
};

const char *pw_version(void) { return PW_VERSION; }

pw_status pw_job_open(struct pw_job **out)
{
  *out = NULL;
  struct pw_arena *arena = pw_arena_open();
  struct pw_job *job = arena ? pw_arena_alloc(arena, sizeof *job) : NULL; /* the job lives in its own memory */
  if (!job) {
    pw_arena_close(arena);
    return PW_ERR_MEMORY;
  }
  job->ctx.arena = arena;
  *out = job;
  return PW_OK;
}

void pw_job_close(struct pw_job *job)
{
  if (job)
    pw_arena_close(job->ctx.arena);
}

pw_status pw_job_read(struct pw_job *job, const char *event_path, const char *catalog_dir)
{
  struct pw_event *ev = NULL;
  if (job->event)
    return PW_ERR_USAGE;
  pw_status st = pw_event_read(&ev, event_path, catalog_dir, &job->ctx);
  job->event = ev;
  return st;
}

pw_status pw_job_read_text(struct pw_job *job, const char *name, const char *text, size_t n, const char *catalog_dir)
{
  struct pw_event *ev = NULL;
  if (job->event)
    return PW_ERR_USAGE;
  pw_status st = pw_event_read_text(&ev, name, text, n, catalog_dir, &job->ctx);
  job->event = ev;
  return st;
}

pw_status pw_job_guests(struct pw_job *job, int heads)
{
  const struct pw_event *scaled = NULL;
  if (!job->event || job->plan || heads < 1)
    return PW_ERR_USAGE;
  pw_status st = pw_head_count_scale(&scaled, job->event, heads, &job->ctx);
  if (st == PW_OK)
    job->event = scaled;
  return st;
}

pw_status pw_job_plan(struct pw_job *job, enum pw_care care, double seconds)
{
  struct pw_run_options options = {
      .effort = care == PW_THOROUGH ? PW_EFFORT_FULL : PW_EFFORT_QUICK, .seconds = seconds, .has_ladder = true};
  return job->event ? pw_run_plan(&job->plan, job->event, &options, &job->ctx) : PW_ERR_USAGE;
}

int pw_job_missed(const struct pw_job *job) { return job->plan ? job->plan->allocation.n_missed : -1; }

pw_status pw_job_json(struct pw_job *job, const char **text, size_t *n)
{
  return job->plan ? pw_plan_json_text(text, n, job->plan, &job->ctx) : PW_ERR_USAGE;
}

pw_status pw_job_write(struct pw_job *job, const char *folder)
{
  const char *const *files;
  int n_files;
  return job->plan ? pw_pack_write(job->plan, folder, &files, &n_files, &job->ctx) : PW_ERR_USAGE;
}

pw_status pw_job_judge(struct pw_job *job, const char *json, size_t n, int *n_findings)
{
  return pw_plan_check_text(NULL, json, n, n_findings, &job->ctx);
}

int pw_job_n_diags(const struct pw_job *job) { return job->ctx.n_diags; }

const struct pw_diag *pw_job_diag(const struct pw_job *job, int i)
{
  return i >= 0 && i < job->ctx.n_diags ? &job->ctx.diags[i] : NULL;
}
