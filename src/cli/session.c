/* session.c - job, catalogs, events, progress of one run of the program. */
#include "cli/cmd.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

/* ---- progress: one line on a terminal, at most five times a second, and whenever something else is done ---- */

struct progress {
  struct timespec last;
  bool is_shown, has_cost;
  char phase[41];
};
static struct progress g_progress;

static void show_progress(void *user, const char *phase, double cost, double bound)
{
  struct progress *p = user;
  struct timespec now;
  if (clock_gettime(CLOCK_MONOTONIC, &now) != 0)
    return;
  double since = difftime(now.tv_sec, p->last.tv_sec) + (double)(now.tv_nsec - p->last.tv_nsec) * 1e-9;
  bool has_cost = isfinite(cost) && isfinite(bound),
       is_new = has_cost != p->has_cost || strncmp(phase, p->phase, sizeof p->phase - 1) != 0;
  if (p->is_shown && !is_new && since < 0.2)
    return;
  p->last = now;
  p->is_shown = true;
  p->has_cost = has_cost;
  snprintf(p->phase, sizeof p->phase, "%s", phase);
  if (has_cost)
    fprintf(stderr, "\r%-40.40s cost %12.2f  bound %12.2f", phase, cost / 100, bound / 100);
  else
    fprintf(stderr, "\r%-72.72s", phase);
}

void pw_session_end_progress(void)
{
  if (g_progress.is_shown)
    fprintf(stderr, "\r%76s\r", "");
  g_progress.is_shown = false;
}

/* ---- catalogs -------------------------------------------------------------------------------------- */

static bool is_folder(const char *path)
{
  struct stat st;
  return stat(path, &st) == 0 && S_ISDIR(st.st_mode);
}

const char *pw_catalog_dir(struct pw_session *s)
{
  const char *said = s->cli->catalogs ? s->cli->catalogs : getenv("PITWRIGHT_CATALOGS");
  if (said && *said) {
    if (is_folder(said))
      return said;
    pw_say_word("", said, ": error: this catalog folder is not there");
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
      snprintf(s->catalogs, sizeof s->catalogs, "%s/%s", here, beside[i]);
      if (is_folder(s->catalogs))
        return s->catalogs;
    }
  }
  fputs("pitwright: error: no catalogs found: name their folder with --catalogs DIR or in PITWRIGHT_CATALOGS\n",
        stderr);
  return NULL;
}

/* ---- the session ------------------------------------------------------------------------------------ */

enum pw_exit pw_session_open(struct pw_session *s, const struct pw_cli *cli)
{
  *s = (struct pw_session){.cli = cli};
  if (pw_job_open(&s->job) != PW_OK) {
    fputs("pitwright: out of memory\n", stderr);
    return PW_EXIT_INTERNAL;
  }
  if (!cli->is_quiet && isatty(STDERR_FILENO))
    pw_job_progress(s->job, show_progress, &g_progress);
  if (cli->units != PW_UNSAID)
    (void)pw_job_units(s->job, (enum pw_units)cli->units); /* read from the words there are: cannot fail */
  if (cli->paper != PW_UNSAID)
    (void)pw_job_paper(s->job, (enum pw_paper)cli->paper);
  return PW_EXIT_DONE;
}

/* The price of --per-guest, which holds digits and signs only. */
static enum pw_exit give_price(struct pw_session *s)
{
  char lines[160];
  int n = snprintf(lines, sizeof lines, "---\nterms: {per_guest: \"%s\"}\n", s->cli->per_guest);
  if (n < 0 || (size_t)n >= sizeof lines)
    return PW_EXIT_USAGE;
  return pw_say_status(pw_job_change(s->job, lines));
}

enum pw_exit pw_session_read(struct pw_session *s)
{
  enum pw_exit worst = PW_EXIT_DONE;
  for (int i = 0; i < s->cli->n_operands; i++) { /* every file's faults at once */
    const char *catalogs = pw_catalog_dir(s);
    enum pw_exit result = catalogs ? pw_say_status(pw_job_add(s->job, s->cli->operands[i], catalogs)) : PW_EXIT_IO;
    worst = result > worst ? result : worst;
  }
  if (!worst && s->cli->per_guest)
    worst = give_price(s);
  if (!worst && s->cli->meals)
    worst = pw_say_status(pw_job_meals(s->job, s->cli->meals));
  if (!worst && s->cli->guests != PW_UNSAID)
    worst = pw_say_status(pw_job_guests(s->job, s->cli->guests));
  return worst;
}

bool pw_cli_is_few(const struct pw_cli *cli) { return cli->date || cli->at || cli->menu || cli->customer || cli->save; }

enum pw_exit pw_session_read_few(struct pw_session *s, const char *path)
{
  const struct pw_cli *cli = s->cli;
  if (cli->meals) {
    fprintf(stderr, "pitwright %s: an event without a file has one meal: --guests needs one number\n",
            cli->command->name);
    return PW_EXIT_USAGE;
  }
  const char *lacks = cli->guests == PW_UNSAID ? "guests"
                      : !cli->date             ? "date"
                      : !cli->at               ? "at"
                      : !cli->menu             ? "menu"
                                               : NULL;
  if (lacks) {
    fprintf(stderr, "pitwright %s: without a file an event needs --guests, --date, --at and --menu; --%s is missing\n",
            cli->command->name, lacks);
    return PW_EXIT_USAGE;
  }
  const char *catalogs = pw_catalog_dir(s);
  if (!catalogs)
    return PW_EXIT_IO;
  const struct pw_few few = {
      .guests = cli->guests, .date = cli->date, .at = cli->at, .menu = cli->menu, .customer = cli->customer};
  enum pw_exit bad = pw_say_status(pw_job_read_few(s->job, path, &few, catalogs));
  return !bad && cli->per_guest ? give_price(s) : bad;
}

enum pw_exit pw_session_save(struct pw_session *s, const char *path)
{
  const char *catalogs = pw_catalog_dir(s), *slash = strrchr(path, '/');
  char house[4200];
  int n = snprintf(house, sizeof house, "%.*shouse.yaml", slash ? (int)(slash - path) + 1 : 0, path);
  if (!catalogs || n < 0 || (size_t)n >= sizeof house)
    return PW_EXIT_IO;
  bool is_spare = pw_job_is_spare_house(s->job);
  pw_status st = pw_job_save(s->job, path);
  if (st == PW_OK && is_spare)
    st = pw_job_house_starter(s->job, house, catalogs);
  if (st != PW_OK)
    return pw_say_status(st);
  if (!s->cli->is_quiet) {
    pw_say_word("The event is in ", path, ".");
    if (is_spare)
      pw_say_word("There was no house file: a starter is in ", house, ". Make it yours: its prices are invented.");
  }
  return PW_EXIT_DONE;
}

enum pw_exit pw_session_close(struct pw_session *s, enum pw_exit so_far)
{
  pw_session_end_progress();
  pw_say_diags(s);
  if (so_far == PW_EXIT_INTERNAL && pw_job_n_errors(s->job) == 0)
    fputs("pitwright: internal fault: out of memory, or the solver gave up\n", stderr);
  pw_job_close(s->job);
  return so_far;
}
