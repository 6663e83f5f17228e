/* outfile_steps.h - the steps both kinds of output share (outfile.c, outpack.c); not for others. */
#ifndef PW_OUTFILE_STEPS_H
#define PW_OUTFILE_STEPS_H

#include "base/ctx.h"

#include <stdbool.h>
#include <stddef.h>

/** Diagnostic "cannot DOING "PATH": reason"; returns PW_ERR_IO, or PW_ERR_MEMORY for ENOMEM. */
pw_status pw_out_fault(struct pw_ctx *ctx, const char *doing, const char *path, int error);

/** The open empty temporary file "FOLDER/.NAME.unfinished-XXXXXX" for `target`, with the rights the target has or will
 *  get.  It stays locked while it is open, so that pw_out_sweep() of another run lets it be.  *temp in the arena.
 *  Returns the descriptor, or -1 with errno. */
int pw_out_temp(struct pw_arena *arena, const char *folder, const char *name, const char *target, char **temp);

/** Gives the open file the rights that `target` has, or a new file gets; EACCES when somebody protected the target.
 *  0 or the error number. */
int pw_out_rights(int fd, const char *target);

/** Writes all bytes, flushes to the disk when asked, closes in every case.  0 or the error number. */
int pw_out_finish(int fd, const char *bytes, size_t n, bool is_synced);

/** Flushes what stands under a path (a file, or a folder's list of names).  0 or the error number. */
int pw_out_sync(const char *path, bool is_folder);

/** "dir/name" -> "dir", "name" -> ".", "/name" -> "/"; *name is what stands behind the last slash.  NULL: out of memory. */
char *pw_out_folder(struct pw_arena *arena, const char *path, const char **name);

/** Pattern for mkstemp() and mkdtemp(): "FOLDER/.NAME.unfinished-XXXXXX", a long name cut.  NULL: out of memory. */
char *pw_out_temp_name(struct pw_arena *arena, const char *folder, const char *name);

/** Removes what runs that were killed left in `folder` for `name`: temporary files, and temporary folders with the files in
 *  them.  What a running one still holds is locked and stays.  Faults are nobody's business: nothing depends on it. */
void pw_out_sweep(struct pw_arena *arena, const char *folder, const char *name);

/** Removes a folder and the files in it; folders inside stay, and so does it then. */
void pw_out_remove_folder(const char *folder);

#endif
