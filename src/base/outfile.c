/* outfile.c - write to a temporary name, check every step, rename.
 * In: complete bytes.  Out: a file.  Idea: the result of a write is known only after fsync and close, so nothing gets its
 * final name before both have succeeded.  A temporary file is locked while its run lives: the next run for the same name
 * removes what a killed one left. */
#define _GNU_SOURCE /* flock */
#include "base/outfile.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/outfile_steps.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { NAME_SHOWN_MAX = 200 }; /* of the final name in a temporary one: file systems allow 255 bytes */
#define UNFINISHED ".unfinished-"

pw_status pw_out_fault(struct pw_ctx *ctx, const char *doing, const char *path, int error)
{
  if (error == ENOMEM) {
    pw_diag_add(ctx, PW_ERROR, "memory", NULL, 0, 0, "out of memory");
    return PW_ERR_MEMORY;
  }
  pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0, "cannot %s \"%s\": %s", doing, path, strerror(error));
  return PW_ERR_IO;
}

/** Writes all bytes; 0 or the error number. */
static int write_all(int fd, const char *bytes, size_t n)
{
  while (n > 0) {
    ssize_t done = write(fd, bytes, n);
    if (done < 0 && errno == EINTR)
      continue;
    if (done < 0)
      return errno;
    bytes += done;
    n -= (size_t)done;
  }
  return 0;
}

/** fsync where the file system has it; 0 or the error number. */
static int sync_fd(int fd)
{
  if (fsync(fd) == 0 || errno == EINVAL || errno == EROFS || errno == ENOTSUP)
    return 0;
  return errno;
}

int pw_out_sync(const char *path, bool is_folder)
{
  int fd = open(path, O_RDONLY | (is_folder ? O_DIRECTORY : 0));
  if (fd < 0)
    return errno;
  int error = sync_fd(fd);
  if (close(fd) != 0 && !error)
    error = errno;
  return error;
}

char *pw_out_folder(struct pw_arena *arena, const char *path, const char **name)
{
  const char *slash = strrchr(path, '/');
  *name = slash ? slash + 1 : path;
  if (!slash)
    return pw_arena_strdup(arena, ".");
  return pw_arena_strndup(arena, path, slash == path ? 1 : (size_t)(slash - path));
}

char *pw_out_temp_name(struct pw_arena *arena, const char *folder, const char *name)
{
  return pw_arena_printf(arena, "%s/.%.*s" UNFINISHED "XXXXXX", folder, NAME_SHOWN_MAX, name);
}

int pw_out_rights(int fd, const char *target)
{
  struct stat st;
  mode_t mode;
  if (access(target, F_OK) == 0 && access(target, W_OK) != 0) /* somebody protected it: a rename would not ask */
    return errno;
  if (stat(target, &st) == 0 && S_ISREG(st.st_mode))
    mode = st.st_mode & 0777;
  else {
    mode_t mask = umask(0);
    (void)umask(mask);
    mode = 0666 & ~mask;
  }
  return fchmod(fd, mode) == 0 ? 0 : errno;
}

int pw_out_temp(struct pw_arena *arena, const char *folder, const char *name, const char *target, char **temp)
{
  *temp = pw_out_temp_name(arena, folder, name);
  if (!*temp) {
    errno = ENOMEM;
    return -1;
  }
  int fd = mkstemp(*temp);
  if (fd < 0)
    return -1;
  (void)flock(fd, LOCK_EX | LOCK_NB); /* without locks on this file system nothing is swept either */
  int error = pw_out_rights(fd, target);
  if (!error)
    return fd;
  (void)close(fd);
  (void)unlink(*temp);
  errno = error;
  return -1;
}

int pw_out_finish(int fd, const char *bytes, size_t n, bool is_synced)
{
  int error = write_all(fd, bytes, n);
  if (!error && is_synced)
    error = sync_fd(fd);
  if (close(fd) != 0 && !error)
    error = errno;
  return error;
}

void pw_out_remove_folder(const char *folder)
{
  DIR *dir = opendir(folder);
  for (struct dirent *e; dir && (e = readdir(dir));)
    if (strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0)
      (void)unlinkat(dirfd(dir), e->d_name, 0); /* a folder inside is not ours and stays */
  if (dir)
    (void)closedir(dir);
  (void)rmdir(folder);
}

/** True for ".NAME.unfinished-" and six characters. */
static bool is_left_over(const char *entry, const char *name)
{
  size_t n = strlen(name) < NAME_SHOWN_MAX ? strlen(name) : NAME_SHOWN_MAX, mark = sizeof UNFINISHED - 1;
  return entry[0] == '.' && strlen(entry) == 1 + n + mark + 6 && memcmp(entry + 1, name, n) == 0 &&
         memcmp(entry + 1 + n, UNFINISHED, mark) == 0;
}

void pw_out_sweep(struct pw_arena *arena, const char *folder, const char *name)
{
  DIR *dir = opendir(folder);
  for (struct dirent *e; dir && (e = readdir(dir));) {
    const char *path = is_left_over(e->d_name, name) ? pw_arena_printf(arena, "%s/%s", folder, e->d_name) : NULL;
    struct stat st;
    if (!path || lstat(path, &st) != 0 || (!S_ISDIR(st.st_mode) && !S_ISREG(st.st_mode)))
      continue;
    int fd = open(path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK);
    if (fd < 0)
      continue;
    if (flock(fd, LOCK_EX | LOCK_NB) == 0) {
      if (S_ISDIR(st.st_mode))
        pw_out_remove_folder(path);
      else
        (void)unlink(path);
    }
    (void)close(fd);
  }
  if (dir)
    (void)closedir(dir);
}

static pw_status write_stdout(const char *bytes, size_t n, struct pw_ctx *ctx)
{
  if (fwrite(bytes, 1, n, stdout) != n || fflush(stdout) != 0)
    return pw_out_fault(ctx, "write to", "standard output", errno);
  return PW_OK;
}

pw_status pw_outfile_write(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  if (strcmp(path, "-") == 0)
    return write_stdout(bytes, n, ctx);

  struct stat st;
  if (stat(path, &st) == 0 && !S_ISREG(st.st_mode)) { /* a device, a pipe; a folder fails here by itself */
    int fd = open(path, O_WRONLY);
    int error = fd < 0 ? errno : pw_out_finish(fd, bytes, n, false);
    return error ? pw_out_fault(ctx, "write", path, error) : PW_OK;
  }
  if (lstat(path, &st) == 0 && S_ISLNK(st.st_mode) && stat(path, &st) != 0 && errno == ENOENT) {
    pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0, "cannot write \"%s\": it is a link to a file that is not there", path);
    return PW_ERR_IO; /* a rename would take the link's place */
  }
  char *real = realpath(path, NULL); /* NULL for a new file; else the file behind a link is replaced */
  char *target = pw_arena_strdup(ctx->arena, real ? real : path);
  free(real);
  const char *name = NULL;
  char *folder = target ? pw_out_folder(ctx->arena, target, &name) : NULL;
  if (!folder)
    return pw_out_fault(ctx, "write", path, ENOMEM);
  pw_out_sweep(ctx->arena, folder, name);
  char *temp;
  int fd = pw_out_temp(ctx->arena, folder, name, target, &temp);
  if (fd < 0)
    return pw_out_fault(ctx, "write", path, errno);
  int lock = dup(fd); /* the file is closed before its name is final, and its lock is not */
  int error = pw_out_finish(fd, bytes, n, true);
  if (!error && rename(temp, target) != 0)
    error = errno;
  if (error)
    (void)unlink(temp);
  if (lock >= 0)
    (void)close(lock);
  if (error)
    return pw_out_fault(ctx, "write", path, error);
  (void)pw_out_sync(folder, true); /* best effort: the file itself is safe already */
  return PW_OK;
}
