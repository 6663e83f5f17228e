/* say.c - what a person reads on stderr, and the exit values. */
#include "cli/cmd.h"

#include <stdio.h>

void pw_print_word(FILE *to, const char *word)
{
  struct pw_job *job = NULL;
  const char *clean = pw_job_open(&job) == PW_OK ? pw_job_line(job, word) : NULL;
  fputs(clean ? clean : "?", to);
  pw_job_close(job);
}

void pw_say_word(const char *before, const char *word, const char *after)
{
  fputs(before, stderr);
  pw_print_word(stderr, word);
  fprintf(stderr, "%s\n", after);
}

enum pw_exit pw_say_status(pw_status status)
{
  switch (status) {
  case PW_OK:
    return PW_EXIT_DONE;
  case PW_ERR_INPUT:
    return PW_EXIT_INPUT;
  case PW_ERR_USAGE:
    return PW_EXIT_USAGE;
  case PW_ERR_IO:
    return PW_EXIT_IO;
  default:
    return PW_EXIT_INTERNAL;
  }
}

void pw_say_diags(const struct pw_session *s)
{
  int n = pw_job_n_diags(s->job), n_seen = pw_job_n_seen(s->job);
  for (int i = 0; i < n; i++) {
    const struct pw_diag *d = pw_job_diag(s->job, i);
    if (d->severity == PW_ERROR || (!s->cli->is_quiet && !(s->has_shown_warnings && !d->file)))
      fputs(pw_job_diag_told(s->job, i), stderr);
  }
  if (n_seen > n)
    fprintf(stderr, "... and %d more\n", n_seen - n);
}
