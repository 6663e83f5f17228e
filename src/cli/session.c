/* session.c - memory, catalogs, event, progress of one run of the program. */
#include "base/arena.h"
#include "base/diag.h"
#include "cli/cmd.h"
#include "plan/head_count.h"
#include "read/read.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* ---- progress: one line on a terminal, at most five times a second ------------------------------- */

struct progress {
  struct timespec last;
  bool is_shown;
};
static struct progress g_progress;

static void show_progress(void *user, const char *phase, double cost, double bound)
{
  struct progress *p = user;
  struct timespec now;
  if (clock_gettime(CLOCK_MONOTONIC, &now) != 0)
    return;
  double since = difftime(now.tv_sec, p->last.tv_sec) + (double)(now.tv_nsec - p->last.tv_nsec) * 1e-9;
  if (p->is_shown && since < 0.2)
    return;
  p->last = now;
  p->is_shown = true;
  if (isfinite(cost) && isfinite(bound))
    fprintf(stderr, "\r%-40.40s cost %12.2f  bound %12.2f", phase, cost / 100, bound / 100);
  else
    fprintf(stderr, "\r%-72.72s", phase);
}

void pw_session_end_progress(struct pw_session *s)
{
  struct progress *p = s->ctx.progress_user;
  if (p && p->is_shown)
    fprintf(stderr, "\r%76s\r", "");
  if (p)
    p->is_shown = false;
}

/* ---- catalogs -------------------------------------------------------------------------------------- */

static bool is_folder(const char *path)
{
  struct stat st;
  return path && stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

const char *pw_catalog_dir(struct pw_session *s)
{
  const char *said = s->cli->catalogs ? s->cli->catalogs : getenv("PITWRIGHT_CATALOGS");
  if (said && *said) {
    if (is_folder(said))
      return said;
    pw_diag_add(&s->ctx, PW_ERROR, "io", said, 0, 0, "this catalog folder is not there");
    return NULL;
  }
  char here[4096];
  ssize_t n = readlink("/proc/self/exe", here, sizeof here - 1);
  if (n > 0) {
    here[n] = '\0';
    char *slash = strrchr(here, '/');
    if (slash)
      *slash = '\0';
    static const char *const beside[] = {"../share/pitwright", "../../templates"};
    for (int i = 0; i < 2; i++) {
      const char *dir = pw_arena_printf(s->ctx.arena, "%s/%s", here, beside[i]);
      if (is_folder(dir))
        return dir;
    }
  }
  pw_diag_add(&s->ctx, PW_ERROR, "io", NULL, 0, 0,
              "no catalogs found: name their folder with --catalogs DIR or in PITWRIGHT_CATALOGS");
  return NULL;
}

/* ---- the session ------------------------------------------------------------------------------------ */

enum pw_exit pw_session_open(struct pw_session *s, const struct pw_cli *cli)
{
  *s = (struct pw_session){.cli = cli};
  s->ctx.arena = pw_arena_open();
  if (!s->ctx.arena) {
    fputs("pitwright: out of memory\n", stderr);
    return PW_EXIT_INTERNAL;
  }
  if (!cli->is_quiet && isatty(STDERR_FILENO)) {
    s->ctx.progress = show_progress;
    s->ctx.progress_user = &g_progress;
  }
  return PW_EXIT_DONE;
}

enum pw_exit pw_session_read_file(struct pw_session *s, const char *path, struct pw_event **event)
{
  const char *catalogs = pw_catalog_dir(s);
  if (!catalogs)
    return PW_EXIT_IO;
  struct pw_event *ev = NULL;
  pw_status st = pw_event_read(&ev, path, catalogs, &s->ctx);
  if (st != PW_OK)
    return pw_say_status(st);
  if (s->cli->units != PW_NONE)
    ev->units = (enum pw_units)s->cli->units;
  if (s->cli->paper != PW_NONE)
    ev->paper = (enum pw_paper)s->cli->paper;
  *event = ev;
  return PW_EXIT_DONE;
}

enum pw_exit pw_session_read_event(struct pw_session *s)
{
  struct pw_event *ev = NULL;
  enum pw_exit result = pw_session_read_file(s, s->cli->operand, &ev);
  if (result)
    return result;
  s->event = ev;
  if (s->cli->guests != PW_NONE)
    return pw_say_status(pw_head_count_scale(&s->event, ev, s->cli->guests, &s->ctx));
  return PW_EXIT_DONE;
}

enum pw_exit pw_session_close(struct pw_session *s, enum pw_exit so_far)
{
  pw_session_end_progress(s);
  pw_say_diags(s);
  if (so_far == PW_EXIT_INTERNAL && s->ctx.n_errors == 0)
    fputs("pitwright: internal fault: out of memory, or the solver gave up\n", stderr);
  pw_arena_close(s->ctx.arena);
  return so_far;
}
