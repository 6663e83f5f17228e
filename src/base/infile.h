/* infile.h - opening what others left in a folder: a pipe nobody writes into would hold the run for ever, a device would never end. */
#ifndef PW_INFILE_H
#define PW_INFILE_H

#include <stddef.h>
#include <stdio.h>

/** Opens an ordinary file for reading; *size (may be NULL) gets its bytes.  A folder, a pipe, a device, a socket: NULL with errno
 *  EISDIR or ENOTSUP, at once. */
FILE *pw_infile_open(const char *path, size_t *size);

/** Why it could not be opened, for a person: strerror() but for "it is a folder", "it is no ordinary file". */
const char *pw_infile_why(int error);

#endif
