/* source_file.c - reads with a cap, so that a wrong file name cannot fill the memory; every read is checked. */
#include "read/source_file.h"

#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "base/text.h"
#include "read/source_check.h"
#include "read/yaml_tree.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { CHUNK = 32 * 1024, EXCERPT_COLUMNS = 110 };

static pw_status read_all(FILE *file, char **text, size_t *n, struct pw_arena *arena)
{
  size_t cap = CHUNK, used = 0;
  char *bytes = pw_arena_alloc(arena, cap + 1);
  if (!bytes)
    return PW_ERR_MEMORY;
  for (;;) {
    used += fread(bytes + used, 1, cap - used, file);
    if (used < cap || used > PW_YAML_BYTES_MAX)
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

pw_status pw_source_read(char **text, size_t *n, const char *path, struct pw_ctx *ctx)
{
  bool is_stdin = strcmp(path, "-") == 0;
  errno = 0;
  FILE *file = is_stdin ? stdin : fopen(path, "rb");
  pw_status status = file ? read_all(file, text, n, ctx->arena) : PW_ERR_IO;
  int why = errno;
  if (file && !is_stdin && fclose(file) != 0 && !status) {
    why = errno;
    status = PW_ERR_IO;
  }
  if (status == PW_ERR_IO)
    pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "the file cannot be read: %s",
                why == ENOENT   ? "there is none of this name"
                : why == EISDIR ? "it is a folder"
                                : strerror(why));
  return status;
}

char *pw_source_excerpt(const struct pw_diag *d, const char *text, size_t n, struct pw_arena *arena)
{
  struct pw_ctx quiet = {.arena = arena};
  char *again = NULL;
  if (d->line < 1 || d->col < 1 || !d->file)
    return NULL;
  if (!text) {
    if (strcmp(d->file, "-") == 0 || pw_source_read(&again, &n, d->file, &quiet) != PW_OK)
      return NULL;
    text = again;
  }
  size_t from = pw_source_offset(text, n, d->line, 1), at = pw_source_offset(text, n, d->line, d->col);
  if (from >= n)
    return NULL;
  size_t to = from;
  while (to < n && text[to] != '\n' && text[to] != '\r')
    to++;
  at = at > to ? to : at;
  const char *lead = "";
  if (at - from > EXCERPT_COLUMNS - 20) { /* a long line: show the place */
    from = at - (EXCERPT_COLUMNS - 40);
    while (from < at && ((unsigned char)text[from] & 0xC0) == 0x80)
      from++;
    lead = "...";
  }
  char *before = pw_arena_strndup(arena, text + from, at - from), *rest = pw_arena_strndup(arena, text + at, to - at);
  struct pw_buf buf = pw_buf_in(arena);
  if (!before || !rest)
    return NULL;
  char *shown = pw_text_line(arena, before), *behind = pw_text_line(arena, rest);
  if (!shown || !behind)
    return NULL;
  int columns = pw_text_width(shown) + (int)strlen(lead);
  pw_buf_printf(&buf, "%6d | %s%s", d->line, lead, shown);
  if (pw_text_width(behind) > EXCERPT_COLUMNS - columns)
    pw_text_add_padded(&buf, behind, EXCERPT_COLUMNS - columns, PW_LEFT);
  else
    pw_buf_add(&buf, behind);
  pw_buf_add(&buf, "\n       | ");
  pw_buf_add_times(&buf, ' ', columns);
  pw_buf_add(&buf, "^\n");
  return pw_buf_text(&buf);
}
