/* source_file.h - a text file into memory, and the line a diagnostic points at. */
#ifndef PW_SOURCE_FILE_H
#define PW_SOURCE_FILE_H

#include "pw/status.h"

/** All of the file ("-": standard input), at most one byte more than the reader accepts; *text is terminated and lives
 *  in the arena.  PW_ERR_IO with a diagnostic of code "io"; PW_ERR_MEMORY. */
pw_status pw_source_read(char **text, size_t *n, const char *path, struct pw_ctx *ctx);

/** The line a diagnostic points at and a caret under the place, as two safe lines that end with a newline:
 *      12 |     weight: 14
 *         |             ^
 *  `text` are the n bytes of the file; NULL: the file is read again from d->file.  NULL when there is no place, no
 *  such line, or no memory.  Lines wider than 110 columns are cut around the place. */
char *pw_source_excerpt(const struct pw_diag *d, const char *text, size_t n, struct pw_arena *arena);

#endif
