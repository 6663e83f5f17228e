/* outfile.h - files that appear whole or not at all.
 *
 * A file is written under a temporary name in its own folder, flushed to the disk, checked, and only then
 * renamed; a failed run leaves what was there before, and a killed one besides that a hidden ".NAME.unfinished-" file
 * or folder, which the next run for the same name removes.  A pack is several files in one folder with the same
 * promise for all of them together.  Faults are diagnostics with code "io" that name the file and say why. */
#ifndef PW_OUTFILE_H
#define PW_OUTFILE_H

#include "base/ctx.h"

#include <stddef.h>
#include <stdio.h>

/** Writes bytes[0..n) as the file `path`; "-" is standard output, which is flushed and checked.  A symbolic link is
 *  followed; a device or a pipe is written in place.  PW_ERR_IO or PW_ERR_MEMORY with a diagnostic. */
pw_status pw_outfile_write(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx);

/** A set of files for one folder. */
struct pw_pack;

/** Opens a pack for `folder`, which is made by the commit when only its last part is missing.  The files are gathered in a
 *  hidden folder beside it.  Nothing in `folder` changes before pw_pack_commit().  End every opened pack with
 *  pw_pack_close(). */
pw_status pw_pack_open(struct pw_pack **pack, const char *folder, struct pw_ctx *ctx);

/** Writes one file of the pack.  `name` is a bare file name. */
pw_status pw_pack_put(struct pw_pack *pack, const char *name, const char *bytes, size_t n, struct pw_ctx *ctx);

/** Reserves a file for a writer that opens it by path (a workbook); *temp_path lives in the context's arena.  The file
 *  exists, empty, and must be complete and closed when the pack is committed. */
pw_status pw_pack_reserve(struct pw_pack *pack, const char *name, const char **temp_path, struct pw_ctx *ctx);

/** Says that a file `name` which is in the folder now belongs to an older pack and goes away with it.  Files that are
 *  neither put nor dropped are somebody else's: they stay. */
pw_status pw_pack_drop(struct pw_pack *pack, const char *name, struct pw_ctx *ctx);

/** Flushes every file and lets the new pack take the old one's place.  The two folders change places in one step, so that
 *  whoever looks, and a run that is killed at any moment, finds the old pack or the new one, whole.
 *  Where that cannot be (the folder is the one the caller works in, a mount point, holds folders itself, its parent
 *  is closed to us, or the file system does not know how) the files are renamed one by one: the file added last,
 *  whose presence says that the rest is complete, goes first and comes back last, and when a rename fails those already
 *  done are taken back. */
pw_status pw_pack_commit(struct pw_pack *pack, struct pw_ctx *ctx);

/** Removes what was not committed, or what the commit replaced.  NULL is allowed. */
void pw_pack_close(struct pw_pack *pack);

#endif
