/* source_file.h - a text file into memory. */
#ifndef PW_SOURCE_FILE_H
#define PW_SOURCE_FILE_H

#include "base/ctx.h"

/** All of the file ("-": standard input), at most one byte more than the reader accepts; *text is terminated and lives
 *  in the arena.  PW_ERR_IO with a diagnostic of code "io"; PW_ERR_MEMORY. */
pw_status pw_source_read(char **text, size_t *n, const char *path, struct pw_ctx *ctx);
/** The same of a file that lies in a folder beside others: "-" is a name like any other, and a pipe or a device is refused. */
pw_status pw_source_read_ordinary(char **text, size_t *n, const char *path, struct pw_ctx *ctx);

/** The same for what may be larger than an event, at most `most` bytes; more is PW_ERR_INPUT with a diagnostic. */
pw_status pw_source_read_most(char **text, size_t *n, const char *path, size_t most, struct pw_ctx *ctx);

#endif
