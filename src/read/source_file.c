/* source_file.c - reads with a cap, so that a wrong file name cannot fill the memory; every read is checked. */
#include "read/source_file.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/infile.h"
#include "read/yaml_tree.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { CHUNK = 32 * 1024 };

static pw_status read_all(FILE *file, char **text, size_t *n, size_t most, struct pw_arena *arena)
{
  size_t cap = CHUNK, used = 0;
  char *bytes = pw_arena_alloc(arena, cap + 1);
  if (!bytes)
    return PW_ERR_MEMORY;
  for (;;) {
    used += fread(bytes + used, 1, cap - used, file);
    if (used < cap || used > most)
      break;
    char *larger = pw_arena_alloc(arena, 2 * cap + 1);
    if (!larger)
      return PW_ERR_MEMORY;
    memcpy(larger, bytes, used);
    bytes = larger;
    cap *= 2;
  }
  bytes[used] = '\0';
  *text = bytes;
  *n = used;
  return ferror(file) ? PW_ERR_IO : PW_OK;
}

static pw_status source_read(char **text, size_t *n, const char *path, bool is_ordinary, size_t most,
                             struct pw_ctx *ctx)
{
  bool is_stdin = !is_ordinary && strcmp(path, "-") == 0;
  errno = 0;
  FILE *file = is_stdin ? stdin : is_ordinary ? pw_infile_open(path, NULL) : fopen(path, "rb");
  pw_status status = file ? read_all(file, text, n, most, ctx->arena) : PW_ERR_IO;
  int why = errno;
  if (file && !is_stdin && fclose(file) != 0 && !status) {
    why = errno;
    status = PW_ERR_IO;
  }
  if (status == PW_ERR_IO && why == ENOMEM) /* for the stream, not for the file */
    status = PW_ERR_MEMORY;
  if (status == PW_ERR_IO)
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "the file cannot be read: %s", pw_infile_why(why));
  return status;
}

pw_status pw_source_read(char **text, size_t *n, const char *path, struct pw_ctx *ctx)
{
  return source_read(text, n, path, false, PW_YAML_BYTES_MAX, ctx);
}

pw_status pw_source_read_ordinary(char **text, size_t *n, const char *path, struct pw_ctx *ctx)
{
  return source_read(text, n, path, true, PW_YAML_BYTES_MAX, ctx);
}

pw_status pw_source_read_most(char **text, size_t *n, const char *path, size_t most, struct pw_ctx *ctx)
{
  pw_status status = source_read(text, n, path, false, most, ctx);
  if (status == PW_OK && *n > most) {
    pw_diag_add(ctx, PW_ERROR, "too-long", path, 0, 0, "the file is larger than %zu bytes", most);
    status = PW_ERR_INPUT;
  }
  return status;
}
