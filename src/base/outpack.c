/* outpack.c - several files that appear together.
 * In: complete files for one folder.  Out: the folder with all of them.  Idea: they are gathered in a hidden folder beside
 * the final one, other people's files are linked into it, and the two folders change places in one rename; the old
 * one is then removed.  The hidden folder is locked while its run lives, so that a later run knows what a killed
 * one left. */
#define _GNU_SOURCE /* renameat2, statx, flock */
#include "base/outfile.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/outfile_steps.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

struct member {
  const char *name;
  const char *path; /**< final */
  const char *temp;
  const char *backup; /**< where the file it replaced is kept, or NULL; only when renamed one by one */
  bool is_in_place, is_dropped;
};

struct pw_pack {
  struct pw_arena *arena;
  const char *said;   /**< the folder as the user named it */
  const char *folder; /**< behind links, without a slash at the end */
  const char *parent; /**< the folder it is in */
  const char *stage;  /**< hidden folder the files are gathered in; after the swap the old pack */
  int lock;           /**< the stage, open and locked, or -1 */
  bool can_swap;
  struct member *members;
  size_t n, cap;
};

/** `folder` is where the caller is, or above it: taken away, a shell would stand in nothing. */
static bool holds_us(const char *folder)
{
  char here[PATH_MAX];
  if (!getcwd(here, sizeof here))
    return true;
  size_t n = strlen(folder);
  return strncmp(here, folder, n) == 0 && (here[n] == '\0' || here[n] == '/' || n == 1);
}

static bool is_mount_point(const char *folder)
{
  struct statx sx;
  return statx(AT_FDCWD, folder, 0, 0, &sx) == 0 && (sx.stx_attributes_mask & STATX_ATTR_MOUNT_ROOT) &&
         (sx.stx_attributes & STATX_ATTR_MOUNT_ROOT);
}

/** Makes the stage in `parent` and locks it; 0 or the error number. */
static int stage_make(struct pw_pack *p, const char *parent, const char *name)
{
  char *stage = pw_out_temp_name(p->arena, parent, name);
  if (!stage)
    return ENOMEM;
  if (!mkdtemp(stage))
    return errno;
  p->stage = stage;
  p->lock = open(stage, O_RDONLY | O_DIRECTORY);
  if (p->lock < 0)
    return errno;
  (void)flock(p->lock, LOCK_EX | LOCK_NB); /* without locks on this file system nothing is swept either */
  return 0;
}

/** Beside the folder, else inside it. */
static int stage_find(struct pw_pack *p, const char *name, bool exists)
{
  int error = EACCES;
  p->can_swap = !exists || (!is_mount_point(p->folder) && !holds_us(p->folder));
  if (p->can_swap) {
    pw_out_sweep(p->arena, p->parent, name);
    error = stage_make(p, p->parent, name);
  }
  if (!exists || error == 0 || error == ENOMEM || p->stage)
    return error;
  p->can_swap = false;
  pw_out_sweep(p->arena, p->folder, "pack");
  return stage_make(p, p->folder, "pack");
}

/** "a/b/" -> "a/b", "" -> "." */
static char *without_slashes(struct pw_arena *arena, const char *folder)
{
  size_t n = strlen(folder);
  while (n > 1 && folder[n - 1] == '/')
    n--;
  return n ? pw_arena_strndup(arena, folder, n) : pw_arena_strdup(arena, ".");
}

/** Resolves what the user named into p->folder; PW_OK also when it does not exist yet. */
static pw_status folder_find(struct pw_pack *p, bool *exists, struct pw_ctx *ctx)
{
  struct stat st;
  const char *name;
  char *copy = without_slashes(ctx->arena, p->said), *parent = copy ? pw_out_folder(ctx->arena, copy, &name) : NULL;
  if (!parent)
    return pw_out_fault(ctx, "make the folder", p->said, ENOMEM);
  p->folder = copy;
  *exists = stat(copy, &st) == 0;
  int error = *exists ? 0 : errno;
  if (*exists && !S_ISDIR(st.st_mode))
    return pw_out_fault(ctx, "use the folder", p->said, ENOTDIR);
  if (*exists && access(copy, W_OK | X_OK) != 0)
    return pw_out_fault(ctx, "write into the folder", p->said, errno);
  if (*exists) {
    char *real = realpath(copy, NULL);
    error = real ? 0 : errno;
    p->folder = real ? pw_arena_strdup(ctx->arena, real) : NULL;
    free(real);
    if (real && !p->folder)
      error = ENOMEM;
    return error ? pw_out_fault(ctx, "use the folder", p->said, error) : PW_OK;
  }
  if (error == ENOENT && stat(parent, &st) != 0 && errno == ENOENT) {
    pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0,
                "cannot make the folder \"%s\": the folder it should be in does not exist (only one level is made)",
                p->said);
    return PW_ERR_IO;
  }
  if (error == ENOENT && lstat(copy, &st) == 0) /* a link to nowhere: a rename would replace the link */
    return pw_out_fault(ctx, "use the folder", p->said, ENOENT);
  return error == ENOENT ? PW_OK : pw_out_fault(ctx, "make the folder", p->said, error);
}

pw_status pw_pack_open(struct pw_pack **pack, const char *folder, struct pw_ctx *ctx)
{
  *pack = NULL;
  struct pw_pack *p = pw_arena_alloc(ctx->arena, sizeof *p);
  const char *said = pw_arena_strdup(ctx->arena, folder), *name = NULL;
  if (!p || !said)
    return pw_out_fault(ctx, "make the folder", folder, ENOMEM);
  p->arena = ctx->arena;
  p->said = said;
  p->lock = -1;
  bool exists = false;
  pw_status status = folder_find(p, &exists, ctx);
  if (status != PW_OK || !p->folder)
    return status;
  p->parent = pw_out_folder(ctx->arena, p->folder, &name);
  int error = p->parent ? stage_find(p, name, exists) : ENOMEM;
  if (error) {
    pw_pack_close(p);
    return pw_out_fault(ctx, exists ? "write into the folder" : "make the folder", p->said, error);
  }
  *pack = p;
  return PW_OK;
}

static bool is_bare_name(const char *name)
{
  return *name != '\0' && !strchr(name, '/') && strcmp(name, ".") != 0 && strcmp(name, "..") != 0;
}

/** A new member, or a fault. */
static pw_status member_add(struct pw_pack *pack, const char *name, struct member **member, struct pw_ctx *ctx)
{
  if (!is_bare_name(name)) {
    pw_diag_add(ctx, PW_ERROR, "io", NULL, 0, 0, "\"%s\" is not a file name", name);
    return PW_ERR_IO;
  }
  const char *copy = pw_arena_strdup(pack->arena, name);
  const char *path = pw_arena_printf(pack->arena, "%s/%s", pack->folder, name);
  const char *temp = pw_arena_printf(pack->arena, "%s/%s", pack->stage, name);
  if (!copy || !path || !temp || pw_arena_grow(pack->arena, &pack->members, &pack->cap, pack->n, sizeof *pack->members))
    return pw_out_fault(ctx, "write", name, ENOMEM);
  *member = &pack->members[pack->n++];
  **member = (struct member){.name = copy, .path = path, .temp = temp};
  return PW_OK;
}

/** A new member with its open file, or a fault. */
static pw_status member_open(struct pw_pack *pack, const char *name, int *fd, struct member **member,
                             struct pw_ctx *ctx)
{
  *fd = -1;
  *member = NULL;
  pw_status status = member_add(pack, name, member, ctx);
  if (status != PW_OK || !*member)
    return status;
  *fd = open((*member)->temp, O_WRONLY | O_CREAT | O_EXCL, 0600);
  int error = *fd < 0 ? errno : 0;
  if (!error)
    error = pw_out_rights(*fd, (*member)->path);
  if (!error)
    return PW_OK;
  if (*fd >= 0)
    (void)close(*fd);
  return pw_out_fault(ctx, "write", (*member)->path, error);
}

pw_status pw_pack_put(struct pw_pack *pack, const char *name, const char *bytes, size_t n, struct pw_ctx *ctx)
{
  struct member *m;
  int fd;
  pw_status status = member_open(pack, name, &fd, &m, ctx);
  if (status != PW_OK || !m)
    return status;
  int error = pw_out_finish(fd, bytes, n, true);
  return error ? pw_out_fault(ctx, "write", m->path, error) : PW_OK;
}

pw_status pw_pack_reserve(struct pw_pack *pack, const char *name, const char **temp_path, struct pw_ctx *ctx)
{
  struct member *m;
  int fd;
  pw_status status = member_open(pack, name, &fd, &m, ctx);
  if (status != PW_OK || !m)
    return status;
  *temp_path = m->temp;
  return close(fd) == 0 ? PW_OK : pw_out_fault(ctx, "write", m->path, errno);
}

static bool is_member(const struct pw_pack *pack, const char *name)
{
  for (size_t i = 0; i < pack->n; i++)
    if (strcmp(pack->members[i].name, name) == 0)
      return true;
  return false;
}

pw_status pw_pack_drop(struct pw_pack *pack, const char *name, struct pw_ctx *ctx)
{
  struct member *m = NULL;
  if (is_member(pack, name))
    return PW_OK;
  pw_status status = member_add(pack, name, &m, ctx);
  if (m)
    m->is_dropped = true;
  return status;
}

/* ---- the two folders change places ------------------------------------------------------------------------ */

/** Links what is not the pack's own from one folder into the other.  False when something cannot be linked. */
static bool link_others(struct pw_pack *pack, const char *from, const char *to)
{
  DIR *dir = opendir(from);
  int into = dir ? open(to, O_RDONLY | O_DIRECTORY) : -1;
  bool is_whole = into >= 0;
  for (struct dirent *e; is_whole && (e = readdir(dir));)
    if (strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0 && !is_member(pack, e->d_name))
      is_whole = linkat(dirfd(dir), e->d_name, into, e->d_name, 0) == 0 || errno == EEXIST;
  if (into >= 0 && close(into) != 0)
    is_whole = false;
  if (dir && closedir(dir) != 0)
    is_whole = false;
  return is_whole;
}

/** Rights and owner of the folder that is replaced, or those of a new one.  0 or the error number. */
static int stage_dress(const struct pw_pack *pack, bool exists)
{
  struct stat old, fresh;
  mode_t mask = umask(0);
  (void)umask(mask);
  if (!exists)
    return fchmod(pack->lock, 0777 & ~mask) == 0 ? 0 : errno;
  if (stat(pack->folder, &old) != 0 || fstat(pack->lock, &fresh) != 0)
    return errno;
  if ((old.st_uid != fresh.st_uid || old.st_gid != fresh.st_gid) && fchown(pack->lock, old.st_uid, old.st_gid) != 0)
    return errno;
  return fchmod(pack->lock, old.st_mode & 07777) == 0 ? 0 : errno;
}

/** The new pack where no folder was: 0 or the error number. */
static int appear(struct pw_pack *pack)
{
  int error = stage_dress(pack, false);
  if (!error && rename(pack->stage, pack->folder) != 0)
    error = errno;
  if (!error)
    pack->stage = NULL;
  return error;
}

/** The new pack in place of the old folder: true when done; false when nothing has changed and it must be done file by
 *  file. */
static bool swap(struct pw_pack *pack)
{
  if (!pack->can_swap || stage_dress(pack, true) != 0 || !link_others(pack, pack->folder, pack->stage))
    return false;
  (void)pw_out_sync(pack->stage, true); /* best effort: every file's bytes are safe already */
  if (renameat2(AT_FDCWD, pack->stage, AT_FDCWD, pack->folder, RENAME_EXCHANGE) != 0)
    return false;
  /* what somebody saved there while we linked comes along; if it cannot, the old folder stays, hidden */
  if (!link_others(pack, pack->stage, pack->folder))
    pack->stage = NULL;
  return true;
}

/* ---- or one file after the other -------------------------------------------------------------------------- */

/** Takes back what has been renamed so far. */
static void roll_back(struct pw_pack *pack)
{
  for (size_t i = 0; i < pack->n; i++) {
    struct member *m = &pack->members[i];
    if (m->is_in_place)
      (void)unlink(m->path);
    if (m->backup)
      (void)rename(m->backup, m->path);
  }
}

/** Takes the file that is in the way aside.  0 or the error number. */
static int keep_old(struct pw_pack *pack, struct member *m)
{
  const char *backup = pw_arena_printf(pack->arena, "%s/.old-%s", pack->stage, m->name);
  struct stat st;
  if (!backup)
    return ENOMEM;
  if (lstat(m->path, &st) != 0)
    return errno == ENOENT ? 0 : errno;
  if (S_ISDIR(st.st_mode))
    return EISDIR;
  if (rename(m->path, backup) != 0)
    return errno;
  m->backup = backup;
  return 0;
}

/** The file added last says that all is there: it is taken away first and comes back last.  0 or the error number,
 *  then *culprit is the file. */
static int rename_each(struct pw_pack *pack, const struct member **culprit)
{
  int error = 0;
  struct member *last = NULL;
  for (size_t i = 0; i < pack->n; i++)
    if (!pack->members[i].is_dropped)
      last = &pack->members[i];
  *culprit = last;
  if (last)
    error = keep_old(pack, last);
  for (size_t i = 0; i < pack->n && !error; i++) {
    struct member *m = &pack->members[i];
    if (m == last)
      continue;
    *culprit = m;
    error = keep_old(pack, m);
    if (!error && !m->is_dropped && rename(m->temp, m->path) != 0)
      error = errno;
    m->is_in_place = !error && !m->is_dropped;
  }
  if (last && !error && rename(last->temp, last->path) != 0) {
    error = errno;
    *culprit = last;
  }
  if (error)
    roll_back(pack);
  return error;
}

pw_status pw_pack_commit(struct pw_pack *pack, struct pw_ctx *ctx)
{
  const struct member *culprit = NULL;
  struct stat st;
  int error = 0;
  for (size_t i = 0; i < pack->n && !error; i++) { /* reserved files were closed by their writers: flush them now */
    culprit = &pack->members[i];
    error = culprit->is_dropped ? 0 : pw_out_sync(culprit->temp, false);
    if (!error && lstat(culprit->path, &st) == 0 && S_ISDIR(st.st_mode))
      error = EISDIR;
  }
  if (error)
    return pw_out_fault(ctx, "write", culprit->path, error);
  if (lstat(pack->folder, &st) != 0 && errno == ENOENT) {
    if ((error = appear(pack)) != 0)
      return pw_out_fault(ctx, "make the folder", pack->said, error);
  } else if (!swap(pack) && (error = rename_each(pack, &culprit)) != 0)
    return pw_out_fault(ctx, "write", culprit ? culprit->path : pack->said, error);
  (void)pw_out_sync(pack->parent, true); /* best effort, as above */
  (void)pw_out_sync(pack->folder, true);
  return PW_OK;
}

void pw_pack_close(struct pw_pack *pack)
{
  if (!pack)
    return;
  if (pack->stage)
    pw_out_remove_folder(pack->stage);
  if (pack->lock >= 0)
    (void)close(pack->lock);
  pack->stage = NULL;
  pack->lock = -1;
}
