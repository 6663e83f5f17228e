/* infile.c - see infile.h. */
#include "base/infile.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

FILE *pw_infile_open(const char *path, size_t *size)
{
  struct stat st;
  int fd = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (fd < 0) {
    errno = errno == ENXIO ? ENOTSUP : errno; /* a socket cannot even be opened */
    return NULL;
  }
  int error = fstat(fd, &st) != 0 ? errno : S_ISDIR(st.st_mode) ? EISDIR : !S_ISREG(st.st_mode) ? ENOTSUP : 0;
  FILE *file = error ? NULL : fdopen(fd, "rb");
  if (!file) {
    error = error ? error : errno;
    (void)close(fd);
    errno = error;
    return NULL;
  }
  if (size)
    *size = (size_t)st.st_size;
  return file;
}

const char *pw_infile_why(int error)
{
  return error == ENOENT    ? "there is no file of this name"
         : error == EISDIR  ? "it is a folder"
         : error == ENOTSUP ? "it is no ordinary file"
                            : strerror(error);
}
