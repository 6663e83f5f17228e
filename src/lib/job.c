/* job.c - the handle of the public library: its memory, its progress, the judge. */
#include "lib/job.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "judge/plan_check.h"
#include "judge/plan_check_trust.h"

#include <string.h>

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
  job->units = job->paper = PW_NONE;
  *out = job;
  return PW_OK;
}

void pw_job_close(struct pw_job *job)
{
  if (!job)
    return;
  pw_job_close(job->before);
  pw_arena_close(job->ctx.arena);
}

void pw_job_progress(struct pw_job *job, pw_progress_fn tell, void *user)
{
  job->ctx.progress = tell;
  job->ctx.progress_user = user;
}

void pw_job_cancel(struct pw_job *job) { atomic_store(&job->is_cancelled, true); }

void pw_job_obey(struct pw_job *job)
{
  atomic_store(&job->is_cancelled, false);
  pw_deadline_obey(&job->is_cancelled);
}

pw_status pw_job_obeyed(struct pw_job *job, pw_status st)
{
  pw_deadline_obey(NULL);
  return atomic_load(&job->is_cancelled) ? PW_ERR_STOPPED : st;
}

/* ---- diagnostics of one call and of all ------------------------------------------------------------- */

void pw_job_begin(struct pw_job *job)
{
  job->n_errors_before += job->ctx.n_errors;
  job->ctx.n_errors = 0;
}

struct pw_ctx pw_job_side(const struct pw_job *job)
{
  struct pw_ctx side = {
      .arena = job->ctx.arena, .progress = job->ctx.progress, .progress_user = job->ctx.progress_user};
  for (int i = 0; i < job->ctx.n_diags; i++)
    if (!job->is_of_plan[i])
      side.diags[side.n_diags++] = job->ctx.diags[i];
  side.n_diags_total = side.n_diags;
  return side;
}

static bool is_same(const struct pw_diag *a, const struct pw_diag *b)
{
  return a->severity == b->severity && a->file == b->file && a->line == b->line && a->col == b->col &&
         strcmp(a->code, b->code) == 0 && strcmp(a->text, b->text) == 0;
}

void pw_job_take_over(struct pw_job *job, const struct pw_ctx *side)
{
  struct pw_ctx *ctx = &job->ctx;
  int n_before = ctx->n_diags, n_common = 0, n_known = 0;
  for (int i = 0; i < n_before; i++)
    n_common += !job->is_of_plan[i];
  for (int i = n_common; i < side->n_diags; i++) {
    bool is_known = false;
    for (int k = 0; k < n_before && !is_known; k++)
      is_known = job->is_of_plan[k] && is_same(&ctx->diags[k], &side->diags[i]);
    n_known += is_known;
    if (is_known || ctx->n_diags == PW_DIAG_MAX)
      continue;
    job->is_of_plan[ctx->n_diags] = true;
    ctx->diags[ctx->n_diags++] = side->diags[i];
  }
  ctx->n_diags_total += side->n_diags_total - n_common - n_known;
  ctx->n_errors += side->n_errors;
}

/* ---- the judge --------------------------------------------------------------------------------------- */

pw_status pw_job_judge(struct pw_job *job, const char *json, size_t n, int *n_findings)
{
  *n_findings = 0;
  return pw_plan_check_text(NULL, json, n, n_findings, &job->ctx);
}

pw_status pw_job_judge_file(struct pw_job *job, const char *path, int *n_findings)
{
  *n_findings = 0;
  const char *kept = pw_job_plan_path(path, job->ctx.arena); /* diagnostics name it */
  return kept ? pw_plan_check_file(kept, n_findings, &job->ctx) : PW_ERR_MEMORY;
}

const char *pw_judge_trusts(int i, const char **reason)
{
  if (i < 0 || i >= pw_plan_check_n_trusted)
    return NULL;
  if (reason)
    *reason = pw_plan_check_trusted[i].reason;
  return pw_plan_check_trusted[i].kind;
}
