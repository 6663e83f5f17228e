/* job_pack.c - a pack read again: its plan, the job beside it, and of a mended plan the plans before it.
 * Idea: a first plan is restored from its file.  A mended one is mended again, from the first plan, the lines of its log and the tasks of the
 * plan it replaced, all of which its pack keeps; what comes of it is held against the file. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/json.h"
#include "day/restore.h"
#include "judge/plan_check.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"
#include "read/kept.h"
#include "read/source_file.h"
#include "write/plan_json.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum { KEPT_BYTES_MAX = 8 << 20, PLAN_BYTES_MAX = 64 << 20, EDITIONS_MAX = 10000 };

static bool is_folder(const char *path)
{
  struct stat st;
  return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

const char *pw_job_plan_path(const char *path, struct pw_arena *arena)
{
  return is_folder(path) ? pw_arena_printf(arena, "%s/plan.json", path) : pw_arena_strdup(arena, path);
}

/* A file of the folder that a plan file lies in. */
static const char *beside(const char *plan_path, const char *name, struct pw_arena *arena)
{
  const char *slash = strrchr(plan_path, '/');
  return pw_arena_printf(arena, "%.*s%s", slash ? (int)(slash + 1 - plan_path) : 0, plan_path, name);
}

/* A plan's root once the judge has nothing against it. */
static pw_status read_plan(const struct pw_json **root, struct pw_plan_file *file, const char *path, struct pw_ctx *ctx)
{
  char *text;
  size_t n;
  int n_findings = 0;
  pw_status st = pw_source_read_most(&text, &n, path, PLAN_BYTES_MAX, ctx);
  if (st == PW_OK)
    st = pw_plan_check_text(path, text, n, &n_findings, ctx);
  if (st == PW_OK && n_findings > 0)
    st = PW_ERR_INPUT;
  *file = (struct pw_plan_file){NULL, text, n};
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

/* ---- of a mended plan ------------------------------------------------------------------------------------------------ */

/* The plan of an edition that a mended pack keeps. */
static pw_status read_edition(const struct pw_json **root, struct pw_plan_file *file, const char *plan_path,
                              int edition, struct pw_ctx *ctx)
{
  const char *name = pw_arena_printf(ctx->arena, "plan-%d.json", edition),
             *path = name ? beside(plan_path, name, ctx->arena) : NULL;
  if (!path)
    return PW_ERR_MEMORY;
  pw_status st = read_plan(root, file, path, ctx);
  file->name = name;
  if (st == PW_ERR_IO)
    pw_diag_add(ctx, PW_NOTE, "no-first-plan", path, 0, 0,
                "a plan mended on its day is shown and mended again with the plans before it, which its pack keeps as "
                "plan-1.json and so on: copy the whole folder, or mend the first pack with the whole log");
  return st;
}

static int edition_of(const struct pw_json *root)
{
  const struct pw_json *v = pw_json_get(root, "edition");
  return v && v->type == PW_JSON_INT && v->integer >= 2 && v->integer < EDITIONS_MAX ? (int)v->integer : 2;
}

/* The lines of its log as a text. */
static pw_status log_text(struct pw_buf *out, const struct pw_json *root)
{
  const struct pw_json *log = pw_json_get(root, "log");
  for (size_t i = 0; log && log->type == PW_JSON_ARRAY && i < log->n; i++)
    pw_buf_printf(out, "%s\n", log->items[i].type == PW_JSON_TEXT ? log->items[i].text : "");
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}

/* Where the file and what was worked out again differ, the sheets show the latter: that has to be said. */
static pw_status compare(struct pw_job *job, const char *path, const struct pw_plan_file *file)
{
  const char *text = NULL;
  size_t n = 0, at = 0;
  int line = 1, col = 1;
  pw_status st = pw_plan_json_text(&text, &n, job->plan, &job->ctx);
  if (st != PW_OK || (n == file->n && memcmp(text, file->text, n) == 0))
    return st;
  for (; at < n && at < file->n && text[at] == file->text[at]; at++) {
    if (text[at] == '\n') {
      line++;
      col = 1;
    } else
      col += ((unsigned char)text[at] & 0xC0) != 0x80; /* characters of UTF-8 */
  }
  pw_diag_add(&job->ctx, PW_WARNING, "other-plan", path, line, col,
              "from here on the file differs from what follows from its job and its loads, times and fires; the sheets "
              "show what follows. Was something else edited in it, or was it made by another version?");
  return PW_OK;
}

/* Mended again as it was: job->plan becomes the mended plan, which the crew holds. */
static pw_status mend_again(struct pw_job *job, const struct pw_json *root, const struct pw_json *before)
{
  struct pw_ctx *ctx = &job->ctx;
  struct pw_buf log = pw_buf_in(ctx->arena);
  bool is_changed = false;
  const struct pw_json *now = pw_json_get(root, "now_min");
  job->first_held = (struct pw_handed){.edition = edition_of(root) - 1};
  pw_status st = pw_restore_tasks(&job->first_held.tasks, &job->first_held.n_tasks, job->first, before, ctx);
  if (st == PW_OK)
    st = log_text(&log, root);
  if (st == PW_OK)
    st = pw_job_log_at(job, "log", log.bytes ? log.bytes : "", log.n, (int)now->integer);
  if (st == PW_OK)
    st = pw_job_mend(job, &is_changed);
  job->state = NULL;
  job->mended = NULL;
  return st;
}

static pw_status open_mended(struct pw_job *job, const struct pw_json *root, const char *plan_path,
                             const struct pw_event *ev)
{
  struct pw_ctx *ctx = &job->ctx;
  const struct pw_json *first = NULL, *before = NULL;
  struct pw_plan *plan = NULL;
  int edition = edition_of(root);
  pw_status st = read_edition(&first, &job->kept[0], plan_path, 1, ctx);
  job->n_kept = 1;
  before = first;
  if (st == PW_OK && edition > 2) {
    st = read_edition(&before, &job->kept[1], plan_path, edition - 1, ctx);
    job->n_kept = 2;
  }
  if (st == PW_OK)
    st = pw_restore(&plan, ev, first, ctx);
  if (st != PW_OK)
    return st;
  job->first = job->plan = plan;
  job->is_pack = true;
  st = mend_again(job, root, before);
  if (st == PW_OK && job->plan->day)
    job->held = job->plan;
  return st;
}

/* ---- any pack ---------------------------------------------------------------------------------------------------------- */

pw_status pw_job_open_pack(struct pw_job *job, const char *path)
{
  struct pw_ctx *ctx = &job->ctx;
  const struct pw_json *root = NULL;
  const struct pw_event *ev = NULL;
  struct pw_plan *plan = NULL;
  pw_job_begin(job);
  if (job->n_read || job->plan)
    return PW_ERR_USAGE;
  const char *plan_path = pw_job_plan_path(path, ctx->arena),
             *kept_path = plan_path ? beside(plan_path, PW_KEPT_NAME, ctx->arena) : NULL;
  pw_status st = kept_path ? read_plan(&root, &job->own, plan_path, ctx) : PW_ERR_MEMORY;
  if (st == PW_OK)
    st = read_kept(job, &ev, kept_path);
  job->event = ev;
  if (st == PW_OK && pw_json_get(root, "now_min"))
    st = open_mended(job, root, plan_path, ev);
  else if (st == PW_OK) {
    st = pw_restore(&plan, ev, root, ctx);
    job->first = job->plan = plan;
  }
  if (st == PW_OK)
    st = compare(job, plan_path, &job->own);
  if (st != PW_OK) {
    job->plan = NULL;
    job->event = NULL;
    job->is_pack = false;
    return st;
  }
  job->event_path = plan_path;
  job->is_pack = true;
  return PW_OK;
}

int pw_job_keep(struct pw_plan_file *kept, struct pw_job *job)
{
  int n = 0;
  if (!job->is_pack || !job->plan->day)
    return 0;
  if (job->plan == job->held) { /* shown again as it was */
    for (; n < job->n_kept; n++)
      kept[n] = job->kept[n];
    return n;
  }
  kept[n] = job->held ? job->kept[0] : job->own;
  kept[n++].name = "plan-1.json";
  if (job->held) {
    kept[n] = job->own;
    if (!(kept[n++].name = pw_arena_printf(job->ctx.arena, "plan-%d.json", job->held->day->edition)))
      return -1;
  }
  return n;
}
