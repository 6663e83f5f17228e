/* manifest.c - which files a pack wrote, so that the next one knows what it may remove.
 * Input: names and bytes; the list of an older pack.  Output: "files.txt", and names dropped from the folder.  Idea: a
 * file goes only when an older list names it and its size and check sum are still those of the list: a calendar somebody
 * edited, or a file of the same name from elsewhere, stays. */
#include "write/manifest.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/infile.h"

#include <errno.h>
#include <inttypes.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

enum { LINES_MAX = 1000, LINE_BYTES_MAX = 400 };

static uint64_t hash_add(uint64_t h, const unsigned char *bytes, size_t n)
{
  for (size_t i = 0; i < n; i++)
    h = (h ^ bytes[i]) * UINT64_C(1099511628211); /* FNV prime, 64 bit */
  return h;
}

#define HASH_START UINT64_C(14695981039346656037) /* FNV offset basis, 64 bit */

static pw_status entry_add(struct pw_manifest *m, const char *name, size_t n, uint64_t hash, struct pw_ctx *ctx)
{
  if (pw_arena_grow(ctx->arena, &m->entries, &m->cap, m->n, sizeof *m->entries) < 0)
    return PW_ERR_MEMORY;
  m->entries[m->n++] = (struct pw_manifest_entry){name, n, hash};
  return PW_OK;
}

pw_status pw_manifest_add(struct pw_manifest *m, const char *name, const void *bytes, size_t n, struct pw_ctx *ctx)
{
  return entry_add(m, name, n, hash_add(HASH_START, bytes, n), ctx);
}

/** Size and hash of a file's bytes; false when it cannot be read, or has another size than `wanted` (SIZE_MAX: any). */
static bool file_hash(const char *path, size_t wanted, size_t *n, uint64_t *hash)
{
  unsigned char part[16384];
  size_t size = 0;
  FILE *file = pw_infile_open(path, &size);
  if (!file)
    return false;
  if (wanted != SIZE_MAX && size != wanted) {
    (void)fclose(file); /* only looked at */
    return false;
  }
  *n = 0;
  *hash = HASH_START;
  for (size_t got; (got = fread(part, 1, sizeof part, file)) > 0; *n += got)
    *hash = hash_add(*hash, part, got);
  bool is_whole = ferror(file) == 0;
  return fclose(file) == 0 && is_whole;
}

pw_status pw_manifest_add_file(struct pw_manifest *m, const char *name, const char *path, struct pw_ctx *ctx)
{
  size_t n = 0;
  uint64_t hash = 0;
  errno = 0;
  if (file_hash(path, SIZE_MAX, &n, &hash))
    return entry_add(m, name, n, hash, ctx);
  if (errno == ENOMEM)
    return PW_ERR_MEMORY;
  pw_diag_add(ctx, PW_ERROR, "io", path, 0, 0, "cannot be read back: %s", strerror(errno));
  return PW_ERR_IO;
}

void pw_manifest_write(struct pw_buf *out, const struct pw_manifest *m)
{
  pw_buf_add(out,
             "# The files of this pack: check sum, bytes, name.  Planned again into this folder, what is no longer\n"
             "# written goes away, unless somebody changed it.\n");
  for (size_t i = 0; i < m->n; i++)
    pw_buf_printf(out, "%016" PRIx64 " %zu %s\n", m->entries[i].hash, m->entries[i].n_bytes, m->entries[i].name);
}

static bool is_written(const struct pw_manifest *m, const char *name)
{
  for (size_t i = 0; i < m->n; i++)
    if (strcmp(m->entries[i].name, name) == 0)
      return true;
  return strcmp(name, PW_MANIFEST_NAME) == 0;
}

/** Reads "HASH BYTES NAME"; false for anything else, also for a name that leads out of the folder. */
static bool line_read(char *line, const char **name, size_t *n, uint64_t *hash)
{
  int at = 0;
  char *end = strchr(line, '\n');
  if (!end)
    return false;
  *end = '\0';
  if (sscanf(line, "%16" SCNx64 " %zu %n", hash, n, &at) != 2 || at == 0)
    return false;
  *name = line + at;
  return **name != '\0' && !strchr(*name, '/') && strcmp(*name, ".") != 0 && strcmp(*name, "..") != 0;
}

pw_status pw_manifest_drop_old(const struct pw_manifest *m, struct pw_pack *pack, const char *folder,
                               struct pw_ctx *ctx)
{
  const char *list = pw_arena_printf(ctx->arena, "%s/" PW_MANIFEST_NAME, folder);
  FILE *file = list ? pw_infile_open(list, NULL) : NULL;
  pw_status status = list ? PW_OK : PW_ERR_MEMORY;
  char line[LINE_BYTES_MAX];
  for (int i = 0; file && status == PW_OK && i < LINES_MAX && fgets(line, sizeof line, file); i++) {
    const char *name;
    size_t n = 0, n_now = 0;
    uint64_t hash = 0, hash_now = 0;
    if (!line_read(line, &name, &n, &hash) || is_written(m, name))
      continue;
    const char *path = pw_arena_printf(ctx->arena, "%s/%s", folder, name), *kept = pw_arena_strdup(ctx->arena, name);
    if (!path || !kept)
      status = PW_ERR_MEMORY;
    else if (file_hash(path, n, &n_now, &hash_now) && n_now == n && hash_now == hash)
      status = pw_pack_drop(pack, kept, ctx);
  }
  if (file && fclose(file) != 0 && status == PW_OK) {
    pw_diag_add(ctx, PW_ERROR, "io", list, 0, 0, "cannot be read: %s", strerror(errno));
    status = PW_ERR_IO;
  }
  return status;
}
