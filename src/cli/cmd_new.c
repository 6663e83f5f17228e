/* cmd_new.c - a starter event: the commented one that comes with the catalogs, copied to a new file. */
#include "base/arena.h"
#include "base/diag.h"
#include "cli/cmd.h"

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
  FILE *in = fopen(path, "rb");
  if (!in && errno == ENOMEM)
    return PW_ERR_MEMORY;
  if (!in) {
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "cannot be read: %s", strerror(errno));
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

/* Made anew or not at all: an event somebody wrote is never replaced. */
static pw_status write_new(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  FILE *out = fopen(path, "wxb");
  if (!out && errno == ENOMEM)
    return PW_ERR_MEMORY;
  if (!out) {
    if (errno == EEXIST)
      pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "is there already and stays as it is; choose another name");
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

enum pw_exit pw_cmd_new(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *bytes = NULL, *catalogs = pw_catalog_dir(&s);
  size_t n = 0;
  pw_status st = catalogs ? PW_OK : PW_ERR_IO;
  if (st == PW_OK) {
    const char *starter = pw_arena_printf(s.ctx.arena, "%s/starter.yaml", catalogs);
    st = starter ? slurp(starter, &bytes, &n, &s.ctx) : PW_ERR_MEMORY;
  }
  if (st == PW_OK)
    st = write_new(cli->operand, bytes, n, &s.ctx);
  if (st == PW_OK && !cli->is_quiet) {
    fputs("A starter event is in ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs(".\nChange it to your job, then:\n  pitwright check ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs("\n  pitwright plan ", stdout);
    pw_print_word(stdout, cli->operand);
    fputs(" -o my-job\n", stdout);
  }
  return pw_session_close(&s, pw_say_status(st));
}
