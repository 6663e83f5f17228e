/* child.c - a forked child does the work; its status and its diagnostics come back through a pipe.
 * Idea: a library that crashes when memory is out takes only the child with it, and the parent can still say so and clean
 * up.  Answer: the status as a byte, then each new diagnostic as severity, line, column and four texts (code, file,
 * text, each with its length), all in this machine's own representation. */
#define _GNU_SOURCE /* memfd_create */
#include "base/child.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"

#include <errno.h>
#include <signal.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

enum { TEXT_MAX = 1 << 16 }; /* a diagnostic is one line; longer ones are cut */

#ifdef PW_COVERAGE
void __gcov_dump(void);
#endif

static bool send_bytes(int fd, const void *bytes, size_t n)
{
  const char *at = bytes;
  while (n > 0) {
    ssize_t done = write(fd, at, n);
    if (done < 0 && errno == EINTR)
      continue;
    if (done < 0)
      return false;
    at += done;
    n -= (size_t)done;
  }
  return true;
}

static bool take_bytes(int fd, void *bytes, size_t n)
{
  char *at = bytes;
  while (n > 0) {
    ssize_t done = read(fd, at, n);
    if (done < 0 && errno == EINTR)
      continue;
    if (done <= 0)
      return false;
    at += done;
    n -= (size_t)done;
  }
  return true;
}

static bool send_text(int fd, const char *text)
{
  size_t n = text ? strlen(text) : 0;
  uint32_t size = (uint32_t)(n < TEXT_MAX ? n : TEXT_MAX);
  return send_bytes(fd, &size, sizeof size) && send_bytes(fd, text ? text : "", size);
}

/** False when the answer is cut off; *text is NULL when memory is out. */
static bool take_text(int fd, char **text, struct pw_arena *arena)
{
  uint32_t size;
  if (!take_bytes(fd, &size, sizeof size) || size > TEXT_MAX)
    return false;
  *text = pw_arena_alloc(arena, (size_t)size + 1);
  return !*text || take_bytes(fd, *text, size);
}

static bool answer(int fd, pw_status status, const struct pw_ctx *ctx, int from)
{
  int32_t n = ctx->n_diags - from, code = (int32_t)status;
  bool is_sent = send_bytes(fd, &code, sizeof code) && send_bytes(fd, &n, sizeof n);
  for (int i = from; i < ctx->n_diags && is_sent; i++) {
    const struct pw_diag *d = &ctx->diags[i];
    int32_t place[3] = {(int32_t)d->severity, d->line, d->col};
    is_sent = send_bytes(fd, place, sizeof place) && send_text(fd, d->code) && send_text(fd, d->file) &&
              send_text(fd, d->text);
  }
  return is_sent;
}

/** Reads the answer; false when there is none. */
static bool listen_to(int fd, pw_status *status, struct pw_ctx *ctx)
{
  int32_t n = 0, code = 0;
  if (!take_bytes(fd, &code, sizeof code) || !take_bytes(fd, &n, sizeof n))
    return false;
  *status = (pw_status)code;
  for (int32_t i = 0; i < n; i++) {
    int32_t place[3];
    char *word = NULL, *file = NULL, *text = NULL;
    bool is_whole = take_bytes(fd, place, sizeof place) && take_text(fd, &word, ctx->arena) && word &&
                    take_text(fd, &file, ctx->arena) && file && take_text(fd, &text, ctx->arena) && text;
    if (!is_whole) {
      *status = PW_ERR_MEMORY; /* here, or in the child while it was telling */
      return true;
    }
    pw_diag_add(ctx, (enum pw_severity)place[0], word, *file ? file : NULL, place[1], place[2], "%s", text);
  }
  return true;
}

#ifdef __SANITIZE_ADDRESS__
enum { HEARS_WORDS = 0 }; /* the sanitizer's report is worth more */
#else
enum { HEARS_WORDS = 1 };
#endif

/** What the work printed on standard error is the only sign some libraries give: PW_OK becomes a failure. */
static pw_status hear_words(pw_status status, int words, struct pw_ctx *ctx)
{
  char line[200];
  ssize_t n = words >= 0 ? pread(words, line, sizeof line - 1, 0) : 0;
  if (status != PW_OK || n <= 0)
    return status;
  line[n] = '\0';
  if (strstr(line, "memory") || strstr(line, "Memory"))
    return PW_ERR_MEMORY;
  const char *clean = pw_text_line(ctx->arena, line);
  pw_diag_add(ctx, PW_ERROR, "child", NULL, 0, 0, "a library complained: %s", clean ? clean : "?");
  return PW_ERR_INTERNAL;
}

static _Noreturn void be_the_child(int fd, pw_status (*work)(void *, struct pw_ctx *), void *arg, struct pw_ctx *ctx)
{
  static const int deadly[] = {SIGSEGV, SIGBUS, SIGABRT, SIGFPE, SIGILL};
  int from = ctx->n_diags;
  (void)prctl(PR_SET_PDEATHSIG, SIGKILL); /* nobody writes for a parent that was killed */
  (void)signal(SIGPIPE, SIG_IGN);
  for (size_t i = 0; i < sizeof deadly / sizeof *deadly; i++)
    (void)signal(deadly[i], SIG_DFL); /* the parent tells of it */
  int words = HEARS_WORDS ? memfd_create("words", 0) : -1;
  if (words >= 0)
    (void)dup2(words, STDERR_FILENO);
  pw_status status = work(arg, ctx);
  bool is_sent = answer(fd, hear_words(status, words, ctx), ctx, from);
#ifdef PW_COVERAGE
  __gcov_dump();
#endif
  _exit(is_sent ? 0 : 1);
}

pw_status pw_child_run(pw_status (*work)(void *arg, struct pw_ctx *ctx), void *arg, const char *what,
                       struct pw_ctx *ctx)
{
  int ends[2];
  if (pipe(ends) != 0) {
    pw_diag_add(ctx, PW_ERROR, "memory", NULL, 0, 0, "%s could not be started: %s", what, strerror(errno));
    return PW_ERR_MEMORY;
  }
  pid_t child = fork();
  if (child == 0) {
    (void)close(ends[0]);
    be_the_child(ends[1], work, arg, ctx);
  }
  (void)close(ends[1]); /* only the child writes: nothing can be lost here */
  if (child < 0) {
    (void)close(ends[0]);
    pw_diag_add(ctx, PW_ERROR, "memory", NULL, 0, 0, "%s could not be started: no further process", what);
    return PW_ERR_MEMORY;
  }
  pw_status status = PW_ERR_INTERNAL;
  bool is_answered = listen_to(ends[0], &status, ctx);
  (void)close(ends[0]);
  int how = 0;
  while (waitpid(child, &how, 0) < 0 && errno == EINTR)
    ;
  if (is_answered)
    return status;
  if (WIFSIGNALED(how))
    pw_diag_add(ctx, PW_ERROR, "child", NULL, 0, 0, "%s broke off (%s): memory may have run out", what,
                strsignal(WTERMSIG(how)));
  else
    pw_diag_add(ctx, PW_ERROR, "child", NULL, 0, 0, "%s broke off without a word: memory may have run out", what);
  return PW_ERR_INTERNAL;
}
