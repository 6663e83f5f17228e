/* cmd_check.c - reads an event and says all that is wrong with it, food safety included, or that it is ready and where each cut could lie. */
#include "cli/cmd.h"

#include <stdio.h>

enum pw_exit pw_cmd_check(const struct pw_cli *cli)
{
  struct pw_session s;
  const char *line = NULL, *fits = NULL, *show = NULL;
  size_t n = 0;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  bad = pw_session_read(&s);
  if (!bad) /* what would stop the plan is said here too */
    bad = pw_say_status(pw_job_check(s.job));
  if (!bad && !cli->is_quiet)
    bad = pw_say_status(pw_job_text(s.job, PW_TEXT_EVENT, &line, &n));
  if (!bad && !cli->is_quiet)
    bad = pw_say_status(pw_job_text(s.job, PW_TEXT_FITS, &fits, &n));
  if (!bad && cli->wants_show)
    bad = pw_say_status(pw_job_text(s.job, PW_TEXT_SHOW, &show, &n));
  if (line && fits && !show)
    printf("ready: %s\n%s", line, fits);
  else if (show)
    fputs(show, stdout); /* checked when the program ends */
  return pw_session_close(&s, bad);
}
