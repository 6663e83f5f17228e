/* outfile.c - write to a temporary name, check every step, rename.
 * In: complete bytes (or a path for a writer of its own).  Out: files.  Idea: the result of a write is known only
 * after fsync and close, so nothing gets its final name before both have succeeded. */
#include "base/outfile.h"

#include "base/arena.h"
#include "base/diag.h"

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static pw_status fault_io(struct pw_ctx *ctx, const char *doing, const char *path, int error)
{
  pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0, "cannot %s \"%s\": %s", doing, path, strerror(error));
  return PW_ERR_IO;
}

static pw_status fault_memory(struct pw_ctx *ctx)
{
  pw_diag_add(ctx, PW_ERROR, "memory", NULL, 0, 0, "out of memory");
  return PW_ERR_MEMORY;
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

/** Makes a name's presence in its folder last; best effort, the file itself is safe already. */
static void sync_folder(const char *folder)
{
  int fd = open(folder, O_RDONLY | O_DIRECTORY);
  if (fd >= 0) {
    (void)sync_fd(fd);
    (void)close(fd);
  }
}

/** "dir/name" -> "dir", "name" -> ".", "/name" -> "/". */
static char *folder_of(struct pw_arena *arena, const char *path)
{
  const char *slash = strrchr(path, '/');
  if (!slash)
    return pw_arena_strdup(arena, ".");
  return pw_arena_strndup(arena, path, slash == path ? 1 : (size_t)(slash - path));
}

/** Permissions of the file being replaced, else those a new file gets. */
static mode_t mode_for(const char *target)
{
  struct stat st;
  if (stat(target, &st) == 0 && S_ISREG(st.st_mode))
    return st.st_mode & 0777;
  mode_t mask = umask(0);
  (void)umask(mask);
  return 0666 & ~mask;
}

/** New empty file in `folder`, open for writing; *temp is its path.  Returns the descriptor or -1 (errno; temp NULL
 *  when memory is out). */
static int temp_open(struct pw_arena *arena, const char *folder, const char *target, char **temp)
{
  *temp = pw_arena_printf(arena, "%s/.unfinished-XXXXXX", folder);
  if (!*temp)
    return -1;
  if (access(target, F_OK) == 0 && access(target, W_OK) != 0) /* somebody protected it: a rename would not ask */
    return -1;
  int fd = mkstemp(*temp);
  if (fd < 0)
    return -1;
  if (fchmod(fd, mode_for(target)) == 0)
    return fd;
  int error = errno;
  (void)close(fd);
  (void)unlink(*temp);
  errno = error;
  return -1;
}

/** Writes, flushes and closes; 0 or the error number.  The descriptor is closed in every case. */
static int finish_fd(int fd, const char *bytes, size_t n, bool is_synced)
{
  int error = write_all(fd, bytes, n);
  if (!error && is_synced)
    error = sync_fd(fd);
  if (close(fd) != 0 && !error)
    error = errno;
  return error;
}

static pw_status write_stdout(const char *bytes, size_t n, struct pw_ctx *ctx)
{
  if (fwrite(bytes, 1, n, stdout) != n || fflush(stdout) != 0)
    return fault_io(ctx, "write to", "standard output", errno);
  return PW_OK;
}

pw_status pw_outfile_write(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  if (strcmp(path, "-") == 0)
    return write_stdout(bytes, n, ctx);

  struct stat st;
  if (stat(path, &st) == 0 && !S_ISREG(st.st_mode)) { /* a device, a pipe; a folder fails here by itself */
    int fd = open(path, O_WRONLY);
    int error = fd < 0 ? errno : finish_fd(fd, bytes, n, false);
    return error ? fault_io(ctx, "write", path, error) : PW_OK;
  }
  char *real = realpath(path, NULL); /* NULL for a new file; else the file behind a link is replaced */
  char *target = pw_arena_strdup(ctx->arena, real ? real : path);
  free(real);
  char *folder = target ? folder_of(ctx->arena, target) : NULL;
  if (!folder)
    return fault_memory(ctx);
  char *temp;
  int fd = temp_open(ctx->arena, folder, target, &temp);
  if (!temp)
    return fault_memory(ctx);
  int error = fd < 0 ? errno : finish_fd(fd, bytes, n, true);
  if (!error && rename(temp, target) != 0)
    error = errno;
  if (error) {
    if (fd >= 0)
      (void)unlink(temp);
    return fault_io(ctx, "write", path, error);
  }
  sync_folder(folder);
  return PW_OK;
}

/* ---- packs -------------------------------------------------------------------------------------- */

struct member {
  const char *path; /**< final */
  const char *temp;
  const char *backup; /**< second name of the file that is being replaced, or NULL */
  bool is_in_place;
};

struct pw_pack {
  struct pw_arena *arena;
  const char *folder;
  bool made_folder, is_committed;
  struct member *members;
  size_t n, cap;
};

pw_status pw_pack_open(struct pw_pack **pack, const char *folder, struct pw_ctx *ctx)
{
  *pack = NULL;
  struct pw_pack *p = pw_arena_alloc(ctx->arena, sizeof *p);
  char *copy = pw_arena_strdup(ctx->arena, *folder ? folder : ".");
  if (!p || !copy)
    return fault_memory(ctx);
  p->arena = ctx->arena;
  p->folder = copy;
  struct stat st;
  if (mkdir(copy, 0777) == 0)
    p->made_folder = true;
  else if (errno == ENOENT) {
    pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0,
                "cannot make the folder \"%s\": the folder it should be in does not exist (only one level is made)",
                copy);
    return PW_ERR_IO;
  } else if (errno != EEXIST)
    return fault_io(ctx, "make the folder", copy, errno);
  else if (stat(copy, &st) != 0)
    return fault_io(ctx, "use the folder", copy, errno);
  else if (!S_ISDIR(st.st_mode))
    return fault_io(ctx, "use the folder", copy, ENOTDIR);
  *pack = p;
  return PW_OK;
}

/** A new member with an open temporary file, or a fault. */
static pw_status member_open(struct pw_pack *pack, const char *name, int *fd, struct member **member,
                             struct pw_ctx *ctx)
{
  if (*name == '\0' || strchr(name, '/') || strcmp(name, ".") == 0 || strcmp(name, "..") == 0) {
    pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0, "\"%s\" is not a file name", name);
    return PW_ERR_IO;
  }
  char *path = pw_arena_printf(pack->arena, "%s/%s", pack->folder, name);
  if (!path || pw_arena_grow(pack->arena, &pack->members, &pack->cap, pack->n, sizeof *pack->members))
    return fault_memory(ctx);
  char *temp;
  *fd = temp_open(pack->arena, pack->folder, path, &temp);
  if (!temp)
    return fault_memory(ctx);
  if (*fd < 0)
    return fault_io(ctx, "write", path, errno);
  *member = &pack->members[pack->n++];
  **member = (struct member){.path = path, .temp = temp};
  return PW_OK;
}

pw_status pw_pack_put(struct pw_pack *pack, const char *name, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  struct member *m;
  int fd;
  pw_status status = member_open(pack, name, &fd, &m, ctx);
  if (status != PW_OK)
    return status;
  int error = finish_fd(fd, bytes, n, true);
  return error ? fault_io(ctx, "write", m->path, error) : PW_OK;
}

pw_status pw_pack_reserve(struct pw_pack *pack, const char *name, const char **temp_path, struct pw_ctx *ctx)
{
  struct member *m;
  int fd;
  pw_status status = member_open(pack, name, &fd, &m, ctx);
  if (status != PW_OK)
    return status;
  *temp_path = m->temp;
  return close(fd) == 0 ? PW_OK : fault_io(ctx, "write", m->path, errno);
}

/** Takes back what commit had renamed so far. */
static void roll_back(struct pw_pack *pack)
{
  for (size_t i = pack->n; i-- > 0;) {
    struct member *m = &pack->members[i];
    if (m->is_in_place && m->backup)
      (void)rename(m->backup, m->path);
    else if (m->is_in_place)
      (void)unlink(m->path);
    else if (m->backup)
      (void)unlink(m->backup);
    m->backup = NULL;
  }
}

/** Gives the file that is in the way a second name, so that it can come back.  0 or the error number. */
static int keep_old(struct pw_pack *pack, struct member *m, size_t i)
{
  struct stat st;
  if (lstat(m->path, &st) != 0)
    return errno == ENOENT ? 0 : errno;
  if (S_ISDIR(st.st_mode))
    return EISDIR;
  char *backup = pw_arena_printf(pack->arena, "%s.old-%zu", m->temp, i);
  if (!backup)
    return ENOMEM;
  if (linkat(AT_FDCWD, m->path, AT_FDCWD, backup, 0) != 0)
    return errno == EPERM || errno == ENOTSUP || errno == EMLINK ? 0 : errno; /* no hard links here: no way back */
  m->backup = backup;
  return 0;
}

pw_status pw_pack_commit(struct pw_pack *pack, struct pw_ctx *ctx)
{
  for (size_t i = 0; i < pack->n; i++) { /* reserved files were closed by their writers: flush them now */
    int fd = open(pack->members[i].temp, O_RDONLY);
    int error = fd < 0 ? errno : sync_fd(fd);
    if (fd >= 0 && close(fd) != 0 && !error)
      error = errno;
    if (error)
      return fault_io(ctx, "write", pack->members[i].path, error);
  }
  for (size_t i = 0; i < pack->n; i++) {
    struct member *m = &pack->members[i];
    int error = keep_old(pack, m, i);
    if (!error && rename(m->temp, m->path) != 0)
      error = errno;
    if (error) {
      roll_back(pack);
      return fault_io(ctx, "write", m->path, error);
    }
    m->is_in_place = true;
  }
  for (size_t i = 0; i < pack->n; i++)
    if (pack->members[i].backup)
      (void)unlink(pack->members[i].backup);
  pack->is_committed = true;
  sync_folder(pack->folder);
  return PW_OK;
}

void pw_pack_close(struct pw_pack *pack)
{
  if (!pack || pack->is_committed)
    return;
  for (size_t i = 0; i < pack->n; i++)
    if (pack->members[i].temp)
      (void)unlink(pack->members[i].temp);
  if (pack->made_folder)
    (void)rmdir(pack->folder);
}
