/* faults.c - whole runs with one thing failing.
 *   faults alloc STRIDE|distinct COMMAND ...   each allocation of the command fails in turn, in a fork made at that moment
 *   faults pack-alloc STRIDE|distinct EVENT    the same while a pack is written; distinct: in our process and the workbook's
 *   faults io STRIDE CHILD-STRIDE EVENT        every STRIDE-th call on files fails in turn, then those in the workbook's child
 *   faults kill STRIDE EVENT                   the process is killed before and after every STRIDE-th call on files
 *   faults moments N SEED EVENT                killed at N random moments
 * Works in the current folder.  Prints what it tried; exit status 1 when a promise was broken. */
#define _GNU_SOURCE
#include "inject.h"

#include "base/arena.h"
#include "cli/cmd.h"
#include "plan/demand/head_count.h"
#include "read/read.h"
#include "run.h"
#include "write/pack.h"
#include "write/xlsx/xlsx.h"

#include <dirent.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

int pw_main(int argc, char **argv);

static const char *g_stage = "";
static int g_broken, g_tried, g_statuses[8];

static void broken(const char *what, long k)
{
  fprintf(stderr, "BROKEN at %ld (%s): %s\n", k, g_stage, what);
  g_broken++;
}

/* ---- allocations of a whole command ------------------------------------------------------------------------ */

enum { SEEN_SLOTS = 1 << 16, STACK_DEPTH = 14, PACK_DEPTH = 8, FDS = 32 };
static int g_depth = STACK_DEPTH; /* how many callers make a way */
static uint64_t g_seen[SEEN_SLOTS];
static long g_stride; /* 0: each distinct way to an allocation once */
static int g_words = -1;
static pid_t g_runner;
static const char *g_made; /* a file the command makes, which a fork must not leave in its way */

/* True when this chain of callers has not been met. */
static bool is_new_way(void)
{
  void *stack[STACK_DEPTH];
  uint64_t hash = 1469598103934665603u; /* FNV-1a */
  int n = backtrace(stack, g_depth);
  for (int i = 0; i < n; i++)
    hash = (hash ^ (uintptr_t)stack[i]) * 1099511628211u;
  for (size_t at = hash % SEEN_SLOTS, i = 0; i < SEEN_SLOTS; i++, at = (at + 1) % SEEN_SLOTS) {
    if (g_seen[at] == hash)
      return false;
    if (g_seen[at] == 0) {
      g_seen[at] = hash;
      return true;
    }
  }
  return false;
}

/* In the run's own process: a fork takes the failure, this one goes on as if nothing were. */
static bool fork_and_fail(long count)
{
  if (getpid() != g_runner) /* a child of the program: not followed here */
    return false;
  if (g_stride ? count % g_stride != 0 : !is_new_way())
    return false;
  (void)!ftruncate(g_words, 0);
  (void)lseek(g_words, 0, SEEK_SET);
  bool is_made = g_made && access(g_made, F_OK) == 0;
  off_t place[FDS]; /* a fork reads on in the same open file: the run gets its place back */
  for (int fd = 3; fd < FDS; fd++)
    place[fd] = lseek(fd, 0, SEEK_CUR);
  pid_t pid = fork();
  if (pid == 0) {
    int null = open("/dev/null", O_WRONLY);
    dup2(null, 1);
    dup2(g_words, 2);
    alarm(3600); /* for what hangs */
    inject_allocations(NULL);
    return true;
  }
  int how = 0;
  if (pid < 0 || waitpid(pid, &how, 0) != pid) {
    broken("no process for the test", count);
    return false;
  }
  for (int fd = 3; fd < FDS; fd++)
    if (place[fd] >= 0)
      (void)lseek(fd, place[fd], SEEK_SET);
  if (g_made && !is_made)
    (void)unlink(g_made);
  char words[512] = "";
  (void)lseek(g_words, 0, SEEK_SET);
  ssize_t n = read(g_words, words, sizeof words - 1);
  words[n > 0 ? n : 0] = '\0';
  g_tried++;
  if (!WIFEXITED(how) || WEXITSTATUS(how) > 6 || strstr(words, "the program broke off")) {
    broken(WIFSIGNALED(how) ? strsignal(WTERMSIG(how)) : words, count);
    void *stack[STACK_DEPTH];
    backtrace_symbols_fd(stack, backtrace(stack, STACK_DEPTH), 2);
  } else {
    g_statuses[WEXITSTATUS(how)]++;
    if (WEXITSTATUS(how) != 0 && n <= 0)
      broken("a failure without a word", count);
    if (WEXITSTATUS(how) == PW_EXIT_IO || WEXITSTATUS(how) == PW_EXIT_INPUT)
      broken(words, count); /* lack of memory told as somebody's fault, or as a file's */
  }
  return false;
}

static void report(void)
{
  if (getpid() != g_runner)
    return;
  fprintf(stderr, "tried %d, broken %d; exit statuses:", g_tried, g_broken);
  for (int i = 0; i < 8; i++)
    if (g_statuses[i])
      fprintf(stderr, " %d x%d", i, g_statuses[i]);
  fputc('\n', stderr);
  if (g_broken)
    _exit(1);
}

static int run_command(const char *stride, int argc, char **argv)
{
  g_stride = strcmp(stride, "distinct") == 0 ? 0 : strtol(stride, NULL, 10);
  g_words = open("words", O_RDWR | O_CREAT | O_TRUNC, 0600);
  void *stack[STACK_DEPTH];
  (void)backtrace(stack, STACK_DEPTH); /* its first call loads a library */
  g_made = strcmp(argv[1], "new") == 0 ? argv[2] : NULL;
  g_runner = getpid();
  atexit(report);
  inject_allocations(fork_and_fail);
  int status = pw_main(argc, argv);
  inject_allocations(NULL);
  return status;
}

/* ---- packs ------------------------------------------------------------------------------------------------- */

static struct pw_ctx *fresh_ctx(void)
{
  struct pw_ctx *ctx = calloc(1, sizeof *ctx);
  if (!ctx || !(ctx->arena = pw_arena_open()))
    exit(2);
  return ctx;
}

static struct pw_plan *plan_of(const char *event, int more_guests)
{
  struct pw_ctx *ctx = fresh_ctx();
  struct pw_event *ev = NULL;
  const struct pw_event *scaled = NULL;
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK};
  const char *catalogs = getenv("PITWRIGHT_CATALOGS");
  if (pw_event_read(&ev, event, catalogs ? catalogs : "templates", ctx) != PW_OK ||
      pw_head_count_scale(&scaled, ev, pw_head_count(ev) + more_guests, ctx) != PW_OK ||
      pw_run_plan(&plan, scaled, &options, ctx) != PW_OK) {
    fprintf(stderr, "%s: %s\n", event, ctx->n_diags ? ctx->diags[0].text : "?");
    exit(2);
  }
  return plan;
}

static pw_status write_pack(const struct pw_plan *plan, const char *folder, struct pw_ctx *ctx)
{
  const char *const *files = NULL;
  int n = 0;
  return pw_pack_write(plan, NULL, NULL, 0, folder, &files, &n, ctx);
}

/* Each way to an allocation once, where it was met: in the process that writes the pack or in the workbook's child. */
struct way {
  long count;
  bool in_child;
};
static bool g_way_in_child;
static pid_t g_writer;
enum { QUIET_MOST = 12 };
static int g_ways = -1, g_quiet;

static const struct pw_plan *g_new; /* what "new" holds */

static void shell(const char *command)
{
  if (system(command) != 0) {
    fprintf(stderr, "failed: %s\n", command);
    exit(2);
  }
}

static bool is_same(const char *a, const char *b)
{
  char command[256];
  snprintf(command, sizeof command, "diff -r -q %s %s >/dev/null 2>&1", a, b);
  return system(command) == 0;
}

/* Entries of the working folder that begin with a dot, without "." and "..". */
static int n_hidden(void)
{
  int n = 0;
  DIR *dir = opendir(".");
  for (struct dirent *e; dir && (e = readdir(dir));)
    n += e->d_name[0] == '.' && strcmp(e->d_name, ".") != 0 && strcmp(e->d_name, "..") != 0;
  if (dir)
    closedir(dir);
  return n;
}

enum start { NOTHING, OLD_PACK, N_STARTS };
static const char *const STARTS[] = {"no folder", "an old pack"};

static void prepare(enum start start)
{
  g_stage = STARTS[start];
  shell("rm -rf out .out.*");
  if (start == OLD_PACK)
    shell("cp -al old out");
}

/* The new pack, but for what the workbook's library leaves out without a word when memory is out for a moment in its last step:
 * a frozen pane or its picked cell, a copy of a chart's figures, its text for the blind.  Nothing tells us, and it opens. */
static bool is_new_but_for_looks(void)
{
  return g_way_in_child && system("diff -r -q -x workbook.xlsx -x files.txt out new >/dev/null 2>&1") == 0 &&
         pw_xlsx_verify("out/workbook.xlsx", "workbook.xlsx", pw_xlsx_n_sheets(), fresh_ctx()) == PW_OK;
}

/* Afterwards the old state or the new one is there, whole; which one is the answer. */
static bool look(enum start start, const char *what, long k, bool *is_new)
{
  bool is_old = start == NOTHING ? access("out", F_OK) != 0 : is_same("out", "old");
  *is_new = !is_old && is_same("out", "new");
  if (!is_old && !*is_new && is_new_but_for_looks()) {
    *is_new = true;
    g_quiet++;
  }
  if (!is_old && !*is_new)
    broken(what, k);
  return is_old || *is_new;
}

static long g_fail_allocation;
static bool g_fails_allocations; /* not calls on files */
static bool is_that_one(long count) { return count == g_fail_allocation; }

static bool note_way(long count)
{
  struct way way = {count, getpid() != g_writer};
  if (is_new_way() && write(g_ways, &way, sizeof way) != sizeof way)
    _exit(2);
  return false;
}

static bool g_tells; /* who asked */
static bool is_that_way(long count)
{
  bool is_it = count == g_fail_allocation && (getpid() != g_writer) == g_way_in_child;
  void *stack[STACK_DEPTH];
  if (is_it && g_tells)
    backtrace_symbols_fd(stack, backtrace(stack, STACK_DEPTH), 1);
  return is_it;
}

/* The pack is written in a fork, with `arm` called first; its end as wait() tells it. */
static int in_a_fork(const struct pw_plan *plan, void (*arm)(long, int), long k, int extra)
{
  fflush(stdout);
  pid_t pid = fork();
  if (pid == 0) {
    alarm(3600); /* for what hangs */
    int null = open("/dev/null", O_WRONLY);
    dup2(null, 2); /* what a library says when it crashes in its child */
    struct pw_ctx *ctx = fresh_ctx();
    arm(k, extra);
    pw_status status = write_pack(plan, "out", ctx);
    const char *hit = inject_hit();
    inject_calls(0, INJECT_FAIL, 0);
    inject_allocations(NULL);
    exit(status == PW_OK ? (hit ? 20 : 0) : /* done all the same: only the cleaning was disturbed */ ctx->n_errors > 0
                                            ? 10 + (int)status
                                        : status == PW_ERR_MEMORY ? 17
                                                                  : 1);
  }
  int how = 0;
  if (pid < 0 || waitpid(pid, &how, 0) != pid)
    exit(2);
  return how;
}

static void arm_allocation(long k, int unused)
{
  (void)unused;
  g_fail_allocation = k;
  inject_allocations(is_that_one);
}
static void arm_note(long unused, int unused_too)
{
  (void)unused, (void)unused_too;
  g_writer = getpid();
  inject_allocations(note_way);
}
static void arm_way(long k, int in_child)
{
  g_writer = getpid();
  g_fail_allocation = k;
  g_way_in_child = in_child;
  inject_allocations(is_that_way);
}
static void arm_call(long k, int error) { inject_calls(k, INJECT_FAIL, error); }
static void arm_call_in_child(long k, int error)
{
  inject_calls(k, INJECT_FAIL, error);
  inject_calls_in_child();
}
static void arm_kill(long k, int is_after) { inject_calls(k, is_after ? INJECT_KILL_AFTER : INJECT_KILL_BEFORE, 0); }

/* Where memory was out only while the old pack was cleared away: the next run does it. */
static bool is_swept_by_next(void)
{
  return write_pack(g_new, "out", fresh_ctx()) == PW_OK && is_same("out", "new") && n_hidden() == 0;
}

static void check_failed(enum start start, int how, const char *what, long k)
{
  bool is_new;
  g_tried++;
  if (!WIFEXITED(how)) {
    broken(strsignal(WTERMSIG(how)), k);
    return;
  }
  int status = WEXITSTATUS(how);
  if (!look(start, what, k, &is_new))
    return;
  bool is_ok = status == 0 || status == 20;
  if (status == 1)
    broken("a failure without a word", k);
  else if (is_ok != is_new)
    broken(is_ok ? "it said done, and the old state is there" : "it said failed, and the new pack is there", k);
  else if (status == 0 && n_hidden() != 0 && !(g_fails_allocations && is_swept_by_next()))
    broken("left-overs", k);
  if (g_fails_allocations && status == 10 + PW_ERR_IO)
    broken("lack of memory told as a file's fault", k);
  g_statuses[is_ok ? 0 : status == 10 + PW_ERR_IO ? 5 : 6]++;
}

/* Calls of an undisturbed run. */
static void measure(const struct pw_plan *plan, enum start start, long *n_calls)
{
  static long count;
  prepare(start);
  int ends[2];
  if (pipe(ends) != 0)
    exit(2);
  fflush(stdout);
  pid_t pid = fork();
  if (pid == 0) {
    struct pw_ctx *ctx = fresh_ctx();
    inject_calls(0, INJECT_FAIL, 0);
    if (write_pack(plan, "out", ctx) != PW_OK)
      exit(2);
    count = inject_count();
    (void)!write(ends[1], &count, sizeof count);
    exit(0);
  }
  int how = 0;
  if (pid < 0 || waitpid(pid, &how, 0) != pid || how != 0 || read(ends[0], n_calls, sizeof *n_calls) != sizeof *n_calls)
    exit(2);
  close(ends[0]), close(ends[1]);
}

static void references(const struct pw_plan *old, const struct pw_plan *new)
{
  shell("rm -rf old new");
  if (write_pack(old, "old", fresh_ctx()) != PW_OK || write_pack(new, "new", fresh_ctx()) != PW_OK ||
      is_same("old", "new"))
    exit(2);
}

static void run_io(const struct pw_plan *plan, long stride, long child_stride)
{
  static const int errors[] = {ENOSPC, EACCES, EIO, ENOMEM};
  for (int s = 0; s < N_STARTS; s++) {
    long n_calls;
    measure(plan, s, &n_calls);
    for (long k = 1; k <= n_calls; k += stride) {
      prepare(s);
      check_failed(s, in_a_fork(plan, arm_call, k, errors[k % 4]), "neither the old pack nor the new one", k);
    }
    printf("%s: %ld calls, every %ld-th failed\n", STARTS[s], n_calls, stride);
  }
  long k = 1;
  for (int quiet = 0; quiet < 3; k += child_stride) { /* the workbook's child: until nothing fails any more */
    prepare(OLD_PACK);
    int how = in_a_fork(plan, arm_call_in_child, k, k % 2 ? ENOSPC : EIO);
    check_failed(OLD_PACK, how, "neither the old pack nor the new one", k);
    quiet = WIFEXITED(how) && WEXITSTATUS(how) == 0 ? quiet + 1 : 0;
  }
  printf("in the child: up to call %ld, every %ld-th failed, and what is written after it\n", k, child_stride);
}

static void run_kill(const struct pw_plan *plan, long stride)
{
  for (int s = 0; s < N_STARTS; s++) {
    long n_calls, n_new = 0;
    measure(plan, s, &n_calls);
    for (long k = 1; k <= n_calls; k += stride)
      for (int is_after = 0; is_after < 2; is_after++) {
        prepare(s);
        bool is_new;
        (void)in_a_fork(plan, arm_kill, k, is_after);
        g_tried++;
        (void)look(s, "killed: neither the old pack nor the new one", k, &is_new);
        n_new += is_new;
        if (k / stride % 16 ==
            0) { /* the next run finishes, and sweeps; the child of the killed one may live a moment more */
          bool is_right = false;
          for (int wait = 0; wait < 600 && !is_right; wait++) {
            is_right = write_pack(plan, "out", fresh_ctx()) == PW_OK && is_same("out", "new") && n_hidden() == 0;
            usleep(is_right ? 0 : 100000);
          }
          if (!is_right)
            broken("the next run did not put it right", k);
        }
      }
    printf("%s: killed before and after every %ld-th of %ld calls; %ld times the new pack was there\n", STARTS[s],
           stride, n_calls, n_new);
  }
}

static void run_moments(const struct pw_plan *plan, long n, unsigned seed)
{
  uint64_t state = seed * 2862933555777941757u + 3037000493u; /* Knuth's congruential step, from memory */
  struct timespec a, b;
  prepare(OLD_PACK);
  clock_gettime(CLOCK_MONOTONIC, &a);
  (void)in_a_fork(plan, arm_call, 0, 0);
  clock_gettime(CLOCK_MONOTONIC, &b);
  long whole_us = (long)(difftime(b.tv_sec, a.tv_sec) * 1e6) + (b.tv_nsec - a.tv_nsec) / 1000, n_new = 0;
  for (long k = 1; k <= n; k++) {
    prepare(OLD_PACK);
    state = state * 6364136223846793005u + 1442695040888963407u;
    fflush(stdout);
    pid_t pid = fork();
    if (pid == 0)
      exit(write_pack(plan, "out", fresh_ctx()) == PW_OK ? 0 : 1);
    usleep((useconds_t)((state >> 33) % (uint64_t)(whole_us + whole_us / 4 + 1)));
    kill(pid, SIGKILL);
    (void)waitpid(pid, NULL, 0);
    bool is_new;
    g_tried++;
    (void)look(OLD_PACK, "killed: neither the old pack nor the new one", k, &is_new);
    n_new += is_new;
  }
  printf("killed at %ld moments within %ld us; %ld times the new pack was there\n", n, whole_us, n_new);
}

static void run_pack_allocations(const struct pw_plan *plan, long stride)
{
  int quiet = 0; /* so many runs in turn in which nothing failed any more */
  long k = 1;
  g_fails_allocations = true;
  for (; quiet < 3; k += stride) {
    prepare(OLD_PACK);
    int how = in_a_fork(plan, arm_allocation, k, 0);
    check_failed(OLD_PACK, how, "neither the old pack nor the new one", k);
    quiet = WIFEXITED(how) && WEXITSTATUS(how) == 0 ? quiet + 1 : 0;
  }
  printf("allocations up to %ld, every %ld-th failed\n", k, stride);
}

static void run_pack_ways(const struct pw_plan *plan)
{
  struct way way;
  long n = 0;
  void *stack[STACK_DEPTH];
  (void)backtrace(stack, STACK_DEPTH); /* its first call loads a library */
  g_fails_allocations = true;
  g_depth = PACK_DEPTH;
  g_ways = open("ways", O_RDWR | O_CREAT | O_TRUNC | O_APPEND, 0600);
  prepare(OLD_PACK);
  if (g_ways < 0 || in_a_fork(plan, arm_note, 0, 0) != 0 || lseek(g_ways, 0, SEEK_SET) != 0)
    exit(2);
  for (; read(g_ways, &way, sizeof way) == sizeof way; n += way.in_child) {
    int n_before = g_broken;
    g_way_in_child = way.in_child; /* here too, for what is looked at afterwards */
    prepare(OLD_PACK);
    check_failed(OLD_PACK, in_a_fork(plan, arm_way, way.count, way.in_child),
                 way.in_child ? "child: neither old nor new" : "neither old nor new", way.count);
    g_tells = true;
    if (g_broken > n_before)
      (void)in_a_fork(plan, arm_way, way.count, way.in_child);
    g_tells = false;
  }
  if (g_quiet > QUIET_MOST)
    broken("the workbook loses more without a word than it did", g_quiet);
  printf("%d ways to an allocation, %ld of them in the workbook's child; %d times the workbook lost something small "
         "without a word\n",
         g_tried, n, g_quiet);
}

int main(int argc, char **argv)
{
  if (argc > 3 && strcmp(argv[1], "alloc") == 0)
    return run_command(argv[2], argc - 2, argv + 2);
  const char *event = argc > 2 ? argv[argc - 1] : "";
  const struct pw_plan *old = plan_of(event, 0), *new = plan_of(event, 5);
  g_runner = getpid();
  g_new = new;
  references(old, new);
  if (strcmp(argv[1], "io") == 0 && argc == 5)
    run_io(new, strtol(argv[2], NULL, 10), strtol(argv[3], NULL, 10));
  else if (strcmp(argv[1], "kill") == 0 && argc == 4)
    run_kill(new, strtol(argv[2], NULL, 10));
  else if (strcmp(argv[1], "moments") == 0 && argc == 5)
    run_moments(new, strtol(argv[2], NULL, 10), (unsigned)strtol(argv[3], NULL, 10));
  else if (strcmp(argv[1], "pack-alloc") == 0 && argc == 4 && strcmp(argv[2], "distinct") == 0)
    run_pack_ways(new);
  else if (strcmp(argv[1], "pack-alloc") == 0 && argc == 4)
    run_pack_allocations(new, strtol(argv[2], NULL, 10));
  else
    return 2;
  fflush(stdout);
  report();
  return g_broken ? 1 : 0;
}
