/* job_starter.c - new files: the commented starters that come with the catalogs, and whatever else is kept; none is ever replaced. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/infile.h"
#include "lib/job.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { STARTER_BYTES_MAX = 1 << 18 };

/* The whole file into the arena. */
static pw_status slurp(const char *path, const char **bytes, size_t *n, struct pw_ctx *ctx)
{
  char *text = pw_arena_alloc(ctx->arena, STARTER_BYTES_MAX);
  if (!text)
    return PW_ERR_MEMORY;
  FILE *in = pw_infile_open(path, NULL);
  if (!in && errno == ENOMEM)
    return PW_ERR_MEMORY;
  if (!in) {
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "cannot be read: %s", pw_infile_why(errno));
    return PW_ERR_IO;
  }
  *n = fread(text, 1, STARTER_BYTES_MAX, in);
  bool is_bad = ferror(in) != 0 || *n == STARTER_BYTES_MAX;
  fclose(in); /* only read: nothing can be lost */
  if (is_bad) {
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "cannot be read whole");
    return PW_ERR_IO;
  }
  *bytes = text;
  return PW_OK;
}

pw_status pw_job_put_new(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  FILE *out = fopen(path, "wxb");
  if (!out && errno == ENOMEM)
    return PW_ERR_MEMORY;
  if (!out) {
    if (errno == EEXIST)
      pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0,
                  "this file exists already and is left as it is; choose another name");
    else
      pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "cannot be made: %s", strerror(errno));
    return PW_ERR_IO;
  }
  bool is_whole = fwrite(bytes, 1, n, out) == n;
  if (fclose(out) != 0 || !is_whole) {
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "could not be written: %s", strerror(errno));
    remove(path);
    return PW_ERR_IO;
  }
  return PW_OK;
}

static pw_status copy_new(struct pw_job *job, const char *path, const char *catalog_dir, const char *name)
{
  const char *bytes = NULL, *starter = pw_arena_printf(job->ctx.arena, "%s/%s", catalog_dir, name);
  const char *kept = pw_arena_strdup(job->ctx.arena, path); /* diagnostics name both */
  size_t n = 0;
  pw_status st = starter && kept ? slurp(starter, &bytes, &n, &job->ctx) : PW_ERR_MEMORY;
  return st == PW_OK ? pw_job_put_new(kept, bytes, n, &job->ctx) : st;
}

pw_status pw_job_starter(struct pw_job *job, const char *path, const char *catalog_dir)
{
  return copy_new(job, path, catalog_dir, "starter.yaml");
}

pw_status pw_job_house_starter(struct pw_job *job, const char *path, const char *catalog_dir)
{
  return copy_new(job, path, catalog_dir, "starter-house.yaml");
}
