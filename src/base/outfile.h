/* outfile.h - files that appear whole or not at all.
 *
 * A file is written under a temporary name in its own folder, flushed to the disk, checked, and only then
 * renamed; a failed run leaves what was there before.  A pack is several files in one folder with the same
 * promise for all of them together.  Faults are diagnostics with code "io" that name the file and say why. */
#ifndef PW_OUTFILE_H
#define PW_OUTFILE_H

#include "pw/status.h"

#include <stddef.h>
#include <stdio.h>

/** Writes bytes[0..n) as the file `path`; "-" is standard output, which is flushed and checked.  A symbolic link is
 *  followed; a device or a pipe is written in place.  PW_ERR_IO or PW_ERR_MEMORY with a diagnostic. */
pw_status pw_outfile_write(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx);

/** A set of files for one folder. */
struct pw_pack;

/** Opens a pack for `folder`, which is made when only its last part is missing.  Nothing is visible in it under a
 *  final name before pw_pack_commit().  End every opened pack with pw_pack_close(). */
pw_status pw_pack_open(struct pw_pack **pack, const char *folder, struct pw_ctx *ctx);

/** Writes one file of the pack under a temporary name.  `name` is a bare file name. */
pw_status pw_pack_put(struct pw_pack *pack, const char *name, const char *bytes, size_t n, struct pw_ctx *ctx);

/** Reserves a temporary name for a writer that opens its file by path (a workbook); *temp_path lives in the
 *  context's arena.  The file exists, empty, and must be complete and closed when the pack is committed. */
pw_status pw_pack_reserve(struct pw_pack *pack, const char *name, const char **temp_path, struct pw_ctx *ctx);

/** Flushes every file and gives them their names in the order they were added: add the plan file last, its
 *  presence then says that the rest is complete.  When a rename fails, those already done are taken back. */
pw_status pw_pack_commit(struct pw_pack *pack, struct pw_ctx *ctx);

/** Removes what was not committed, and the folder if the pack made it and it is empty.  NULL is allowed. */
void pw_pack_close(struct pw_pack *pack);

#endif
