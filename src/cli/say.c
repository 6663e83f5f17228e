/* say.c - what a person reads on stderr: file:line:column, the line itself, a caret under the place. */
#define _GNU_SOURCE /* getline */
#include "base/arena.h"
#include "base/text.h"
#include "cli/cmd.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SHOWN_COLUMNS = 100, LEAD_COLUMNS = 60, LONGEST_LINE = 1 << 16 };

void pw_print_word(FILE *to, const char *word)
{
  struct pw_arena *arena = pw_arena_open();
  const char *clean = arena ? pw_text_line(arena, word) : NULL;
  fputs(clean ? clean : "?", to);
  pw_arena_close(arena);
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
  case PW_OK: return PW_EXIT_DONE;
  case PW_ERR_INPUT: return PW_EXIT_INPUT;
  case PW_ERR_USAGE: return PW_EXIT_USAGE;
  case PW_ERR_IO: return PW_EXIT_IO;
  default: return PW_EXIT_INTERNAL;
  }
}

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

static void say_place(struct pw_arena *arena, const struct pw_diag *d)
{
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
  fprintf(stderr, "  %s%s%s\n", dots, clean, more);
  if (d->col > 0)
    fprintf(stderr, "  %*s^\n", (int)strlen(dots) + pw_text_width(lead), "");
}

void pw_say_diags(const struct pw_session *s)
{
  static const char *const words[] = {[PW_NOTE] = "note", [PW_WARNING] = "warning", [PW_ERROR] = "error"};
  for (int i = 0; i < s->ctx.n_diags; i++) {
    const struct pw_diag *d = &s->ctx.diags[i];
    if (d->severity != PW_ERROR && (s->cli->is_quiet || (s->has_shown_warnings && !d->file)))
      continue;
    const char *file = d->file ? pw_text_line(s->ctx.arena, d->file) : NULL, *text = pw_text_line(s->ctx.arena, d->text);
    if (file && d->line > 0)
      fprintf(stderr, "%s:%d:%d: ", file, d->line, d->col);
    else
      fprintf(stderr, "%s: ", file ? file : "pitwright");
    bool is_rule = d->code && d->code[0] == 'J' && d->code[1] >= '0' && d->code[1] <= '9'; /* the judge names its rule */
    fprintf(stderr, "%s: %s%s%s%s\n", words[d->severity], is_rule ? "[" : "", is_rule ? d->code : "", is_rule ? "] " : "",
            text ? text : "(out of memory)");
    say_place(s->ctx.arena, d);
  }
  if (s->ctx.n_diags_total > s->ctx.n_diags)
    fprintf(stderr, "... and %d more\n", s->ctx.n_diags_total - s->ctx.n_diags);
}
