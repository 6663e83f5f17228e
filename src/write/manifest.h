/* manifest.h - the list of a pack's files, "files.txt": a name, its size and a check sum in each line.  When a job is
 * planned again, what the older list names and the new pack no longer has goes away, unless somebody changed it. */
#ifndef PW_MANIFEST_H
#define PW_MANIFEST_H

#include "base/buf.h"
#include "base/ctx.h"
#include "base/outfile.h"

#include <stddef.h>
#include <stdint.h>

#define PW_MANIFEST_NAME "files.txt"

/** A file of the pack being written. */
struct pw_manifest_entry {
  const char *name;
  size_t n_bytes;
  uint64_t hash; /**< FNV-1a, 64 bit */
};

struct pw_manifest {
  struct pw_manifest_entry *entries;
  size_t n, cap;
};

/** Adds a file; `name` lives as long as the manifest.  Errors: PW_ERR_MEMORY. */
pw_status pw_manifest_add(struct pw_manifest *m, const char *name, const void *bytes, size_t n, struct pw_ctx *ctx);
/** Adds a file by reading it, for writers that work by path.  Errors: PW_ERR_MEMORY, PW_ERR_IO with a diagnostic. */
pw_status pw_manifest_add_file(struct pw_manifest *m, const char *name, const char *path, struct pw_ctx *ctx);
/** The list as text, in the order the files were added. */
void pw_manifest_write(struct pw_buf *out, const struct pw_manifest *m);
/** Lets go of what the list in `folder` names, is not in `m`, and still has the bytes it was written with.  A folder
 *  without a list, or with one that cannot be read, loses nothing.  Errors: those of pw_pack_drop. */
pw_status pw_manifest_drop_old(const struct pw_manifest *m, struct pw_pack *pack, const char *folder,
                               struct pw_ctx *ctx);

#endif
