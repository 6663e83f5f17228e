/* cmd_check.c - reads an event and says all that is wrong with it, food safety included, or that it is ready. */
#include "base/when.h"
#include "cli/cmd.h"
#include "plan/head_count.h"
#include "plan/stages.h"

#include <stdio.h>

static void count(const char *before, int n, const char *one, const char *more)
{
  printf("%s%d %s", before, n, n == 1 ? one : more);
}

enum pw_exit pw_cmd_check(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  bad = pw_session_read_event(&s);
  if (!bad) /* what would stop the plan is said here too */
    bad = pw_say_status(pw_safety_check(s.event, &s.ctx));
  if (!bad && !cli->is_quiet) {
    const struct pw_event *ev = s.event;
    fputs("ready: ", stdout);
    pw_print_word(stdout, ev->name);
    printf(", %s", pw_when_date(ev->date).s);
    count(", ", pw_head_count(ev), "guest", "guests");
    count(", ", ev->n_services, "service", "services");
    count(", ", ev->n_pits, "pit", "pits");
    count(", ", ev->n_crew, "shift", "shifts");
    putchar('\n');
  }
  return pw_session_close(&s, bad);
}
