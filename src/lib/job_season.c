/* job_season.c - every event of a folder planned by itself, quickly, or read from the pack beside it; only what a season keeps stays.
 * An event with faults is told and left out; the others are there all the same. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/clock.h"
#include "base/diag.h"
#include "base/parallel.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"
#include "read/kept.h"
#include "read/read.h"
#include "read/source_file.h"

#include <dirent.h>
#include <errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { SEASON_FILES_MAX = 400, KEPT_BYTES_MAX = 8 << 20 };

static int by_name(const void *a, const void *b) { return strcmp(*(const char *const *)a, *(const char *const *)b); }

static bool is_regular(const char *path)
{
  struct stat st;
  return stat(path, &st) == 0 && S_ISREG(st.st_mode);
}

/* "x.yaml" or "x.yml", not hidden and not the house file. */
static bool is_event_name(const char *name)
{
  const char *dot = strrchr(name, '.');
  return name[0] != '.' && dot && dot != name && (strcmp(dot, ".yaml") == 0 || strcmp(dot, ".yml") == 0) &&
         strcmp(name, "house.yaml") != 0 && strcmp(name, "house.yml") != 0;
}

/* Paths of the regular files of a folder that may be events, by name. */
static pw_status list(const char ***out, int *n, const char *folder, struct pw_ctx *ctx)
{
  size_t cap = 0;
  pw_status st = PW_OK;
  const char **paths = NULL;
  DIR *dir = opendir(folder);
  *n = 0;
  if (!dir) {
    pw_diag_add(ctx, PW_ERROR, "no-folder", folder, 0, 0, "this folder cannot be read: %s", strerror(errno));
    return PW_ERR_IO;
  }
  for (const struct dirent *one = readdir(dir); one && st == PW_OK; one = readdir(dir)) {
    if (!is_event_name(one->d_name))
      continue;
    size_t length = strlen(folder);
    char *path =
        pw_arena_printf(ctx->arena, "%s%s%s", folder, length && folder[length - 1] == '/' ? "" : "/", one->d_name);
    if (path && !is_regular(path)) /* asked once: it may change while we look */
      continue;
    if (!path || pw_arena_grow(ctx->arena, &paths, &cap, (size_t)*n, sizeof *paths) != 0)
      st = PW_ERR_MEMORY;
    else if (*n < SEASON_FILES_MAX)
      paths[(*n)++] = path;
    else {
      pw_diag_add(ctx, PW_ERROR, "too-many", folder, 0, 0, "more than %d events in one folder: take a folder a season",
                  SEASON_FILES_MAX);
      st = PW_ERR_INPUT;
    }
  }
  closedir(dir); /* only read: nothing can be lost */
  if (*n > 1)
    qsort(paths, (size_t)*n, sizeof *paths, by_name);
  *out = paths;
  return st;
}

/* A file of the folder: what became of it. */
struct one {
  const char *path, *name, *catalog_dir;
  struct pw_job *event, *packed; /**< open while it is planned */
  pw_status status;              /**< of reading and planning it */
  const char *house;             /**< the house file it was laid over, NULL: it could not be read */
  bool is_broken;
  struct pw_diag *diags;
  int n_diags;
};

/* The faults of an event, kept when its job is closed. */
static pw_status keep_faults(struct one *one, struct pw_arena *arena)
{
  const struct pw_ctx *from = &one->event->ctx;
  one->is_broken = true;
  one->diags = pw_arena_array(arena, (size_t)from->n_diags, sizeof *one->diags);
  if (!one->diags)
    return PW_ERR_MEMORY;
  for (int i = 0; i < from->n_diags; i++) {
    struct pw_diag d = from->diags[i];
    if (d.severity != PW_ERROR)
      continue;
    d.code = pw_arena_strdup(arena, d.code);
    d.file = d.file ? pw_arena_strdup(arena, d.file) : one->path;
    d.text = pw_arena_strdup(arena, d.text);
    if (!d.code || !d.file || !d.text)
      return PW_ERR_MEMORY;
    one->diags[one->n_diags++] = d;
  }
  return PW_OK;
}

/* A pack made from just this event, its house and these catalogs keeps the very bytes that would be kept of it now. */
static pw_status is_current(bool *out, const struct pw_event *ev, const char *pack, struct pw_ctx *ctx)
{
  char *text = NULL;
  size_t n = 0;
  struct pw_buf now = pw_buf_in(ctx->arena);
  const char *path = pw_arena_printf(ctx->arena, "%s/" PW_KEPT_NAME, pack);
  *out = false;
  if (!path)
    return PW_ERR_MEMORY;
  if (!is_regular(path) || pw_source_read_most(&text, &n, path, KEPT_BYTES_MAX, ctx) != PW_OK)
    return PW_OK; /* a pack that cannot be read is none */
  pw_status st = pw_kept_write(&now, ev, pw_head_count(ev), ctx);
  *out = st == PW_OK && now.n == n && n > 0 && memcmp(now.bytes, text, n) == 0;
  return st;
}

/* Opens the pack beside it, the folder that has its name without the ending; one->packed stays NULL when there is none of this event. */
static pw_status open_packed(struct one *one)
{
  bool is_there = false;
  struct pw_ctx side = {.arena = one->event->ctx.arena};
  const char *pack = pw_arena_printf(side.arena, "%.*s", (int)(strrchr(one->path, '.') - one->path), one->path);
  if (!pack)
    return PW_ERR_MEMORY;
  pw_status st = is_current(&is_there, one->event->read[0], pack, &side);
  if (st != PW_OK || !is_there || (st = pw_job_open(&one->packed)) != PW_OK)
    return st;
  if ((st = pw_job_open_pack(one->packed, pack)) != PW_OK) {
    pw_job_close(one->packed);
    one->packed = NULL;
  }
  return st == PW_ERR_MEMORY ? st : PW_OK;
}

/* Reads and plans one event in a job of its own. */
static void plan_one(void *user, int i)
{
  struct one *one = (struct one *)user + i;
  const struct pw_how how = {.care = PW_QUICK, .is_without_ladder = true};
  one->status = pw_job_open(&one->event);
  if (one->status != PW_OK)
    return;
  one->status = pw_job_read(one->event, one->path, one->catalog_dir);
  if (one->status == PW_OK)
    one->status = open_packed(one);
  if (one->status == PW_OK && !one->packed)
    one->status = pw_job_plan_how(one->event, &how);
}

/* What is kept of it.  Broken events are no failure of the call; memory is. */
static pw_status take(struct pw_job *job, struct one *one, struct pw_season *season)
{
  pw_status st = one->status;
  const struct pw_plan *plan = one->packed ? one->packed->plan : one->event ? one->event->plan : NULL;
  if (one->event && one->event->n_read > 0 &&
      !(one->house = pw_arena_strdup(job->ctx.arena, pw_event_house(one->event->read[0]))))
    st = PW_ERR_MEMORY;
  if (st == PW_OK && plan)
    st = pw_season_add(season, plan, one->name, plan->allocation.is_quick, &job->ctx);
  else if (st != PW_ERR_MEMORY && one->event)
    st = keep_faults(one, job->ctx.arena);
  pw_job_close(one->packed);
  pw_job_close(one->event);
  one->packed = one->event = NULL;
  return st;
}

/* Some at a time: each holds its whole plan until it is taken. */
static pw_status take_all(struct pw_job *job, struct one *all, int n, struct pw_season *season)
{
  enum { AT_A_TIME = 8 };
  pw_status st = PW_OK;
  for (int first = 0; first < n && st == PW_OK; first += AT_A_TIME) {
    int some = n - first < AT_A_TIME ? n - first : AT_A_TIME;
    if (job->ctx.progress)
      job->ctx.progress(job->ctx.progress_user, "planning the season", NAN, NAN);
    pw_parallel(some, plan_one, all + first);
    for (int i = 0; i < some; i++) { /* all of them are closed, whatever became of one */
      pw_status one = take(job, &all[first + i], season);
      st = st == PW_OK ? one : st;
    }
  }
  return st;
}

/* A file that is the house of another is no event with faults. */
static bool is_house(const struct one *all, int n, int which)
{
  for (int i = 0; i < n; i++)
    if (all[i].house && strcmp(all[i].house, all[which].path) == 0)
      return true;
  return false;
}

static pw_status tell_broken(struct pw_job *job, const struct one *all, int n, struct pw_season *season)
{
  season->broken = pw_arena_array(job->ctx.arena, (size_t)n, sizeof *season->broken);
  if (!season->broken)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    if (!all[i].is_broken || is_house(all, n, i))
      continue;
    season->broken[season->n_broken++] = all[i].name;
    for (int d = 0; d < all[i].n_diags; d++)
      pw_diag_add(&job->ctx, PW_ERROR, all[i].diags[d].code, all[i].diags[d].file, all[i].diags[d].line,
                  all[i].diags[d].col, "%s", all[i].diags[d].text);
    if (all[i].n_diags == 0)
      pw_diag_add(&job->ctx, PW_ERROR, "no-plan", all[i].path, 0, 0, "this event could not be planned");
  }
  return PW_OK;
}

static pw_status read_on(int *day, const char *on, struct pw_ctx *ctx)
{
  struct pw_date date;
  *day = PW_NONE;
  if (!on)
    return PW_OK;
  if (!pw_date_parse(on, &date)) {
    pw_diag_add(ctx, PW_ERROR, "bad-date", NULL, 0, 0,
                "\"%.40s\" is not a day: write year, month and day such as 2027-05-01", on);
    return PW_ERR_INPUT;
  }
  *day = pw_date_to_days(date);
  return PW_OK;
}

pw_status pw_job_season(struct pw_job *job, const char *folder, const char *on, const char *catalog_dir)
{
  const char **paths = NULL;
  int n = 0;
  struct pw_arena *arena = job->ctx.arena;
  pw_job_begin(job);
  if (job->n_read || job->plan || job->season)
    return PW_ERR_USAGE;
  struct pw_season *season = pw_arena_alloc(arena, sizeof *season);
  if (!season || !(season->folder = pw_arena_strdup(arena, folder)))
    return PW_ERR_MEMORY;
  pw_status st = read_on(&season->on_day, on, &job->ctx);
  pw_status listed = list(&paths, &n, season->folder, &job->ctx); /* both faults at once */
  st = st != PW_OK ? st : listed;
  if (st == PW_OK && n == 0) {
    pw_diag_add(&job->ctx, PW_ERROR, "no-events", season->folder, 0, 0,
                "there is no event here: files that end in .yaml, beside the house file");
    st = PW_ERR_INPUT;
  }
  struct one *all = pw_arena_array(arena, (size_t)n, sizeof *all);
  if (st == PW_OK && !all)
    st = PW_ERR_MEMORY;
  for (int i = 0; i < n && st == PW_OK; i++) {
    const char *slash = strrchr(paths[i], '/');
    all[i] = (struct one){.path = paths[i], .name = slash ? slash + 1 : paths[i], .catalog_dir = catalog_dir};
  }
  if (st == PW_OK)
    st = take_all(job, all, n, season);
  if (st == PW_OK)
    st = tell_broken(job, all, n, season);
  if (st == PW_OK)
    st = pw_season_finish(season, &job->ctx);
  if (st == PW_OK)
    job->season = season;
  return st;
}
