/* job_day.c - the day's log beside a pack, and the plan mended by it. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "lib/job.h"
#include "read/source_file.h"
#include "run.h"

#include <limits.h>
#include <string.h>

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
  pw_diag_add(ctx, PW_ERROR, "log-time", NULL, 0, 0, "\"%.40s\" is not a time: 02:30, Sat 02:30 or 2027-06-12 02:30",
              at);
  return PW_ERR_INPUT;
}

/* The lines of the log that the newest plan was mended by, where the cook's file does not have them any more, stand before its own;
 * *n_before: how many. */
static pw_status with_lines_before(const char **text, size_t *n, int *n_before, const struct pw_job *job,
                                   struct pw_ctx *ctx)
{
  struct pw_buf all = pw_buf_in(ctx->arena);
  const struct pw_plan *held = job->held;
  struct pw_log mine;
  struct pw_ctx side = {.arena = ctx->arena};
  *n_before = 0;
  if (!held)
    return PW_OK;
  if (pw_log_read(&mine, NULL, *text, *n, job->names, &side) == PW_ERR_MEMORY)
    return PW_ERR_MEMORY;
  for (int i = 0; i < held->day->n_log; i++) {
    bool is_there = false;
    for (size_t k = 0; k < mine.n && !is_there; k++) {
      struct pw_buf line = pw_buf_in(ctx->arena);
      pw_log_line_write(&line, &mine.lines[k], job->names);
      is_there = line.bytes && strcmp(pw_buf_text(&line), held->day->log[i]) == 0;
    }
    if (!is_there) {
      pw_buf_printf(&all, "%s\n", held->day->log[i]);
      ++*n_before;
    }
  }
  if (*n_before == 0)
    return all.failed ? PW_ERR_MEMORY : PW_OK;
  pw_buf_add_n(&all, *text, *n);
  *n = all.n;
  *text = pw_buf_text(&all);
  return *text ? PW_OK : PW_ERR_MEMORY;
}

/* Lines are counted as the cook's file has them. */
static void count_from(int n_before, struct pw_log *log, struct pw_ctx *ctx, int n_diags)
{
  for (size_t i = 0; i < log->n; i++)
    log->lines[i].line = log->lines[i].line > n_before ? log->lines[i].line - n_before : 0;
  for (int i = n_diags; i < ctx->n_diags; i++)
    if (ctx->diags[i].line > 0)
      ctx->diags[i].line = ctx->diags[i].line > n_before ? ctx->diags[i].line - n_before : 0;
}

/* What was held in the hands, for the next plan. */
static struct pw_handed held_of(const struct pw_job *job, struct pw_handed first)
{
  const struct pw_plan *held = job->held;
  if (held)
    return (struct pw_handed){held->tasks.tasks, held->tasks.n_tasks, held->day->edition};
  return job->first_held.tasks ? job->first_held : first;
}

/* Now is `at` unless that is NULL, else the minute if there is one, else by the log. */
static pw_status log_at(struct pw_job *job, const char *name, const char *text, size_t n, const char *at,
                        const int *minute)
{
  struct pw_ctx *ctx = &job->ctx;
  struct pw_names *names = pw_arena_alloc(ctx->arena, sizeof *names);
  struct pw_log *log = pw_arena_alloc(ctx->arena, sizeof *log);
  struct pw_state *state = pw_arena_alloc(ctx->arena, sizeof *state);
  const char *kept = pw_arena_strdup(ctx->arena, name);
  int now_min = 0, n_before = 0, n_diags = ctx->n_diags;
  job->state = NULL;
  job->mended = NULL;
  if (!names || !log || !state || !kept)
    return PW_ERR_MEMORY;
  pw_status st = pw_names_make(names, job->first, ctx);
  job->names = names;
  if (st == PW_OK)
    st = with_lines_before(&text, &n, &n_before, job, ctx);
  if (st == PW_OK) {
    st = pw_log_read(log, kept, text, n, names, ctx);
    count_from(n_before, log, ctx, n_diags);
  }
  job->log = log;
  if (st == PW_OK && !minute)
    st = now_of(&now_min, job, log, at, ctx);
  if (st == PW_OK)
    st = pw_state_make(state, job->first, log, names, minute ? *minute : now_min, ctx);
  if (st == PW_OK) {
    state->held = held_of(job, state->held);
    job->state = state;
  }
  return st;
}

pw_status pw_job_log(struct pw_job *job, const char *name, const char *text, size_t n, const char *at)
{
  pw_job_begin(job);
  return job->is_pack ? log_at(job, name, text, n, at, NULL) : PW_ERR_USAGE;
}

pw_status pw_job_log_at(struct pw_job *job, const char *name, const char *text, size_t n, int now_min)
{
  return log_at(job, name, text, n, NULL, &now_min);
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
    pw_job_obey(job);
    st = pw_job_obeyed(job, mend_so(mended, job, (enum pw_mend_care)care, &side));
    if (st == PW_ERR_STOPPED)
      return st;
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
