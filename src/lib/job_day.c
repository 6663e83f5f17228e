/* job_day.c - a pack read again, and the day's log beside it. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/json.h"
#include "day/restore.h"
#include "judge/plan_check.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"
#include "read/kept.h"
#include "read/source_file.h"
#include "run.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum { KEPT_BYTES_MAX = 8 << 20, PLAN_BYTES_MAX = 64 << 20 };

static bool is_folder(const char *path)
{
  struct stat st;
  return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

/* The plan file of a pack, and the job kept beside it. */
static pw_status paths_of(const char **plan, const char **kept, const char *path, struct pw_arena *arena)
{
  const char *slash = strrchr(path, '/');
  if (is_folder(path)) {
    *plan = pw_arena_printf(arena, "%s/plan.json", path);
    *kept = pw_arena_printf(arena, "%s/" PW_KEPT_NAME, path);
  } else {
    *plan = pw_arena_strdup(arena, path);
    *kept = pw_arena_printf(arena, "%.*s" PW_KEPT_NAME, slash ? (int)(slash + 1 - path) : 0, path);
  }
  return *plan && *kept ? PW_OK : PW_ERR_MEMORY;
}

/* The plan's root once the judge has nothing against it. */
static pw_status read_plan(const struct pw_json **root, const char *path, struct pw_ctx *ctx)
{
  char *text;
  size_t n;
  int n_findings = 0;
  pw_status st = pw_source_read_most(&text, &n, path, PLAN_BYTES_MAX, ctx);
  if (st == PW_OK)
    st = pw_plan_check_text(path, text, n, &n_findings, ctx);
  if (st == PW_OK && n_findings > 0)
    st = PW_ERR_INPUT;
  return st == PW_OK ? pw_json_parse(root, path, text, n, ctx) : st;
}

static pw_status read_kept(struct pw_job *job, const struct pw_event **ev, const char *path)
{
  char *text;
  size_t n;
  int heads = 0;
  struct pw_event *read = NULL;
  pw_status st = pw_source_read_most(&text, &n, path, KEPT_BYTES_MAX, &job->ctx);
  if (st == PW_ERR_IO)
    pw_diag_add(&job->ctx, PW_NOTE, "no-job", path, 0, 0,
                "a plan is shown and mended with the job it was made from, which its pack keeps as " PW_KEPT_NAME
                "; several events planned as one keep none");
  if (st == PW_OK)
    st = pw_kept_read(&read, &heads, path, text, n, &job->ctx);
  if (st != PW_OK)
    return st;
  pw_job_dress(job, read);
  job->read[0] = read;
  job->n_read = 1;
  *ev = read;
  if (pw_head_count(read) != heads)
    st = pw_head_count_scale(ev, read, heads, &job->ctx);
  job->heads = *ev == read ? 0 : heads;
  return st;
}

pw_status pw_job_open_pack(struct pw_job *job, const char *path)
{
  const char *plan_path, *kept_path;
  const struct pw_json *root = NULL;
  const struct pw_event *ev = NULL;
  pw_job_begin(job);
  if (job->n_read || job->plan)
    return PW_ERR_USAGE;
  pw_status st = paths_of(&plan_path, &kept_path, path, job->ctx.arena);
  if (st == PW_OK)
    st = read_plan(&root, plan_path, &job->ctx);
  if (st == PW_OK && pw_json_get(root, "now_min")) {
    pw_diag_add(
        &job->ctx, PW_ERROR, "mended", plan_path, 0, 0,
        "this plan was mended on its day: mend the first pack again with the whole log, which has every line since");
    st = PW_ERR_INPUT;
  }
  if (st == PW_OK)
    st = read_kept(job, &ev, kept_path);
  struct pw_plan *plan = NULL;
  if (st == PW_OK)
    st = pw_restore(&plan, ev, root, &job->ctx);
  if (st != PW_OK)
    return st;
  job->event_path = plan_path;
  job->event = ev;
  job->plan = plan;
  job->is_pack = true;
  return PW_OK;
}

/* ---- the log ---------------------------------------------------------------------------------------------------- */

const char *pw_log_words(int i, const char **form, const char **example, const char **help)
{
  if (i < 0 || i >= PW_LOG__COUNT)
    return NULL;
  const struct pw_log_row *row = pw_log_row((enum pw_log_verb)i);
  *form = row->form;
  *example = row->example;
  *help = row->help;
  return row->word;
}

/* Now: as said, else the last line's time; before any line the first fire or load. */
static pw_status now_of(int *now_min, const struct pw_job *job, const struct pw_log *log, const char *at,
                        struct pw_ctx *ctx)
{
  int near = log->now_min == INT_MIN ? job->names->begin_at_min + 720 : log->now_min;
  *now_min = log->now_min == INT_MIN ? job->names->begin_at_min : log->now_min;
  if (!at)
    return PW_OK;
  if (pw_log_time(job->names, at, near, now_min))
    return PW_OK;
  pw_diag_add(ctx, PW_ERROR, "log-time", NULL, 0, 0, "\"%.40s\" is no time: 02:30, Sat 02:30 or 2027-06-12 02:30", at);
  return PW_ERR_INPUT;
}

pw_status pw_job_log(struct pw_job *job, const char *name, const char *text, size_t n, const char *at)
{
  struct pw_ctx *ctx = &job->ctx;
  pw_job_begin(job);
  job->state = NULL;
  job->mended = NULL;
  if (!job->is_pack)
    return PW_ERR_USAGE;
  struct pw_names *names = pw_arena_alloc(ctx->arena, sizeof *names);
  struct pw_log *log = pw_arena_alloc(ctx->arena, sizeof *log);
  struct pw_state *state = pw_arena_alloc(ctx->arena, sizeof *state);
  const char *kept = pw_arena_strdup(ctx->arena, name);
  if (!names || !log || !state || !kept)
    return PW_ERR_MEMORY;
  int now_min = 0;
  pw_status st = pw_names_make(names, job->plan, ctx);
  job->names = names;
  if (st == PW_OK)
    st = pw_log_read(log, kept, text, n, names, ctx);
  job->log = log;
  if (st == PW_OK)
    st = now_of(&now_min, job, log, at, ctx);
  if (st == PW_OK)
    st = pw_state_make(state, job->plan, log, names, now_min, ctx);
  if (st == PW_OK)
    job->state = state;
  return st;
}

pw_status pw_job_log_file(struct pw_job *job, const char *path, const char *at)
{
  char *text;
  size_t n;
  pw_job_begin(job);
  pw_status st = pw_source_read_most(&text, &n, path, PW_LOG_BYTES_MAX, &job->ctx);
  return st == PW_OK ? pw_job_log(job, path, text, n, at) : st;
}

/* One mended plan, asked of the judge. */
static pw_status mend_so(struct pw_mended *mended, const struct pw_job *job, enum pw_mend_care care,
                         struct pw_ctx *side)
{
  pw_status st = pw_mend(mended, job->state, care, side);
  if (st == PW_OK && mended->plan)
    st = pw_run_warnings(mended->plan, side);
  if (st == PW_OK && mended->plan)
    st = pw_run_judge(mended->plan, side);
  return st;
}

/* The slip always comes: what fails with moves is tried without, then without sheets. */
pw_status pw_job_mend(struct pw_job *job, bool *is_changed)
{
  *is_changed = false;
  pw_job_begin(job);
  if (!job->state)
    return PW_ERR_USAGE;
  pw_status first = PW_OK, st = PW_OK;
  for (int care = PW_MEND_WAYS; care <= PW_MEND_BARE; care++) {
    struct pw_mended *mended = pw_arena_alloc(job->ctx.arena, sizeof *mended);
    struct pw_ctx side = pw_job_side(job);
    if (!mended)
      return PW_ERR_MEMORY;
    st = mend_so(mended, job, (enum pw_mend_care)care, &side);
    first = care == PW_MEND_WAYS ? st : first;
    if (st != PW_OK && st != PW_ERR_MEMORY && care < PW_MEND_BARE)
      continue; /* what is simpler may hold */
    pw_job_take_over(job, &side);
    if (st != PW_OK)
      return st;
    job->mended = mended;
    *is_changed = mended->is_changed;
    if (mended->plan)
      job->plan = mended->plan;
    return mended->is_changed && !mended->plan ? first : PW_OK;
  }
  return st;
}
