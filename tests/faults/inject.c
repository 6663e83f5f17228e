/* inject.c - definitions in the program come before those of the C library, for the libraries too: each counts, fails or
 * kills when asked, and else calls the real one. */
#define _GNU_SOURCE
#include "inject.h"

#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* ---- memory ------------------------------------------------------------------------------------------------ */

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t n, size_t size);
void *__libc_realloc(void *old, size_t size);
void *malloc(size_t size);
void *calloc(size_t n, size_t size);
void *realloc(void *old, size_t size);

static bool (*g_before)(long count);
static long g_allocations;
static bool g_is_inside;

void inject_allocations(bool (*before)(long count))
{
  g_before = before;
  g_allocations = 0;
}

static bool allocation_fails(void)
{
  if (!g_before || g_is_inside)
    return false;
  g_is_inside = true; /* the hook may allocate */
  bool fails = g_before(++g_allocations);
  g_is_inside = false;
  if (fails)
    errno = ENOMEM;
  return fails;
}

void *malloc(size_t size) { return allocation_fails() ? NULL : __libc_malloc(size); }
void *calloc(size_t n, size_t size) { return allocation_fails() ? NULL : __libc_calloc(n, size); }
void *realloc(void *old, size_t size) { return allocation_fails() ? NULL : __libc_realloc(old, size); }

/* ---- files and processes ----------------------------------------------------------------------------------- */

static long g_at, g_calls;
static enum inject_how g_how;
static int g_error;
static const char *g_hit;
static bool g_is_child; /* where it shall happen */
static bool g_in_child; /* where we are */

void inject_calls_in_child(void) { g_is_child = true; }

void inject_calls(long k, enum inject_how how, int error)
{
  g_is_child = g_in_child = false;
  g_at = k;
  g_how = how;
  g_error = error;
  g_calls = 0;
  g_hit = NULL;
}
long inject_count(void) { return g_calls; }
const char *inject_hit(void) { return g_hit; }

static bool fails(const char *name)
{
  if (g_is_child != g_in_child)
    return false;
  g_calls++;
  bool stays_full = g_is_child && g_at > 0 && g_calls > g_at && strcmp(name, "fwrite") == 0;
  if (g_calls != g_at && !stays_full)
    return false;
  g_hit = name;
  if (g_how == INJECT_KILL_BEFORE)
    (void)raise(SIGKILL);
  errno = g_error;
  return g_how == INJECT_FAIL;
}

static void after(void)
{
  if (g_is_child == g_in_child && g_calls == g_at && g_how == INJECT_KILL_AFTER)
    (void)raise(SIGKILL);
}

/* REAL(f) is the C library's f. */
#define REAL(name)                                                                                                     \
  static __typeof__(name) *real;                                                                                       \
  if (!real) {                                                                                                         \
    void *found = dlsym(RTLD_NEXT, #name);                                                                             \
    memcpy(&real, &found, sizeof real);                                                                                \
  }
#define WRAP(type, name, params, args, bad)                                                                            \
  type name params                                                                                                     \
  {                                                                                                                    \
    REAL(name)                                                                                                         \
    if (fails(#name))                                                                                                  \
      return bad;                                                                                                      \
    type result = real args;                                                                                           \
    int kept = errno;                                                                                                  \
    after();                                                                                                           \
    errno = kept;                                                                                                      \
    return result;                                                                                                     \
  }

WRAP(ssize_t, write, (int fd, const void *bytes, size_t n), (fd, bytes, n), -1)
WRAP(int, fsync, (int fd), (fd), -1)
WRAP(int, rename, (const char *from, const char *to), (from, to), -1)
WRAP(int, renameat2, (int a, const char *from, int b, const char *to, unsigned flags), (a, from, b, to, flags), -1)
WRAP(int, linkat, (int a, const char *from, int b, const char *to, int flags), (a, from, b, to, flags), -1)
WRAP(int, unlink, (const char *path), (path), -1)
WRAP(int, unlinkat, (int fd, const char *path, int flags), (fd, path, flags), -1)
WRAP(int, rmdir, (const char *path), (path), -1)
WRAP(int, fchmod, (int fd, mode_t mode), (fd, mode), -1)
WRAP(int, mkstemp, (char *pattern), (pattern), -1)
WRAP(char *, mkdtemp, (char *pattern), (pattern), NULL)
WRAP(FILE *, fopen, (const char *path, const char *mode), (path, mode), NULL)
WRAP(int, fflush, (FILE * to), (to), EOF)
WRAP(int, fseek, (FILE * file, long offset, int whence), (file, offset, whence), -1)
WRAP(int, pipe, (int ends[2]), (ends), -1)
WRAP(char *, realpath, (const char *path, char *out), (path, out), NULL)

/* A stream remembers that something went wrong: ferror() must say so. */
size_t fwrite(const void *bytes, size_t size, size_t n, FILE *to)
{
  REAL(fwrite)
  if (fails("fwrite")) {
    to->_flags |= _IO_ERR_SEEN;
    return 0;
  }
  size_t result = real(bytes, size, n, to);
  after();
  return result;
}

size_t fread(void *bytes, size_t size, size_t n, FILE *from)
{
  REAL(fread)
  if (fails("fread")) {
    from->_flags |= _IO_ERR_SEEN;
    return 0;
  }
  size_t result = real(bytes, size, n, from);
  after();
  return result;
}

pid_t fork(void)
{
  REAL(fork)
  if (fails("fork"))
    return -1;
  pid_t pid = real();
  if (pid == 0)
    g_in_child = true;
  else
    after();
  return pid;
}

/* These let go of what they hold even when they fail. */
int close(int fd)
{
  REAL(close)
  bool is_bad = fails("close");
  int kept = errno, result = real(fd);
  if (!is_bad)
    kept = errno;
  after();
  errno = kept;
  return is_bad ? -1 : result;
}

int fclose(FILE *file)
{
  REAL(fclose)
  bool is_bad = fails("fclose");
  int kept = errno, result = real(file);
  if (!is_bad)
    kept = errno;
  after();
  errno = kept;
  return is_bad ? EOF : result;
}

int open(const char *path, int flags, ...)
{
  REAL(open)
  mode_t mode = 0;
  if (flags & O_CREAT) {
    va_list args;
    va_start(args, flags);
    mode = va_arg(args, mode_t);
    va_end(args);
  }
  if (fails("open"))
    return -1;
  int result = real(path, flags, mode), kept = errno;
  after();
  errno = kept;
  return result;
}
