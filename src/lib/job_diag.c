/* job_diag.c - what a person reads of a fault: file:line:column, the line itself, a caret under the place. */
#define _GNU_SOURCE /* getline */
#include "base/arena.h"
#include "base/buf.h"
#include "base/text.h"
#include "lib/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SHOWN_COLUMNS = 100, LEAD_COLUMNS = 60, LONGEST_LINE = 1 << 16 };

int pw_job_n_diags(const struct pw_job *job) { return job->ctx.n_diags; }

const struct pw_diag *pw_job_diag(const struct pw_job *job, int i)
{
  return i >= 0 && i < job->ctx.n_diags ? &job->ctx.diags[i] : NULL;
}

int pw_job_n_seen(const struct pw_job *job) { return job->ctx.n_diags_total; }
int pw_job_n_errors(const struct pw_job *job) { return job->n_errors_before + job->ctx.n_errors; }

const char *pw_job_line(struct pw_job *job, const char *word) { return pw_text_line(job->ctx.arena, word); }

/* The wanted line of a file into the arena, without its end, or NULL. */
static char *line_of(struct pw_arena *arena, const char *file, int wanted)
{
  FILE *in = fopen(file, "rb");
  if (!in)
    return NULL;
  char *line = NULL, *copy = NULL;
  size_t cap = 0;
  ssize_t n = 0;
  for (int i = 0; i < wanted && n >= 0; i++)
    n = getline(&line, &cap, in);
  if (n > 0 && n < LONGEST_LINE)
    copy = pw_arena_strndup(arena, line, strcspn(line, "\r\n"));
  free(line);
  fclose(in); /* only read: nothing can be lost */
  return copy;
}

/* Bytes of the first `n` characters of a text. */
static size_t bytes_of(const char *text, int n)
{
  size_t left = strlen(text), at = 0;
  for (int i = 0; i < n && at < left; i++) {
    uint32_t code;
    at += pw_utf8_next(text + at, left - at, &code);
  }
  return at;
}

/* The line and the caret; without memory or file nothing, the fault itself is told before. */
static void add_place(struct pw_buf *out, const struct pw_diag *d)
{
  struct pw_arena *arena = out->arena;
  const char *line = d->file && d->line > 0 ? line_of(arena, d->file, d->line) : NULL;
  if (!line)
    return;
  const char *dots = "", *from = line;
  size_t at = bytes_of(line, d->col > 0 ? d->col - 1 : 0);
  const char *lead = pw_arena_strndup(arena, line, at);
  while (lead && pw_text_width(lead) > LEAD_COLUMNS) { /* a long line is shown around the place */
    dots = "...";
    size_t step = bytes_of(lead, 8);
    lead += step;
    from += step;
  }
  char **parts = NULL;
  const char *clean = lead ? pw_text_line(arena, from) : NULL;
  if (!clean)
    return;
  const char *more = "";
  if (pw_text_width(clean) > SHOWN_COLUMNS && pw_text_wrap(arena, clean, SHOWN_COLUMNS, &parts) > 1) {
    more = "...";
    if (pw_text_width(parts[0]) > pw_text_width(lead)) /* else the break fell before the place: show it whole */
      clean = parts[0];
  }
  pw_buf_printf(out, "  %s%s%s\n", dots, clean, more);
  if (d->col > 0) {
    pw_buf_add_times(out, ' ', 2 + (int)strlen(dots) + pw_text_width(lead));
    pw_buf_add(out, "^\n");
  }
}

const char *pw_job_diag_told(struct pw_job *job, int i)
{
  static const char *const words[] = {[PW_NOTE] = "note", [PW_WARNING] = "warning", [PW_ERROR] = "error"};
  const struct pw_diag *d = pw_job_diag(job, i);
  if (!d)
    return NULL;
  struct pw_buf out = pw_buf_in(job->ctx.arena);
  pw_text_add_line(&out, d->file ? d->file : "pitwright");
  if (d->file && d->line > 0)
    pw_buf_printf(&out, ":%d:%d", d->line, d->col);
  bool is_rule = d->code && d->code[0] == 'J' && d->code[1] >= '0' && d->code[1] <= '9'; /* the judge names its rule */
  pw_buf_printf(&out, ": %s: ", words[d->severity]);
  if (is_rule)
    pw_buf_printf(&out, "[%s] ", d->code);
  pw_text_add_line(&out, d->text);
  pw_buf_add(&out, "\n");
  add_place(&out, d);
  const char *told = pw_buf_text(&out);
  return told ? told : "pitwright: error: out of memory while telling a fault\n";
}
