/* safety_findings.c - warnings and names that the report's parts share. */
#include "plan/safety/safety_findings.h"

#include "base/arena.h"
#include "base/buf.h"

#include <stdarg.h>

void pw_findings_warn(struct pw_findings *f, const char *code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(f->ctx->arena, format, args);
  va_end(args);
  if (!text || pw_arena_grow(f->ctx->arena, &f->warnings, &f->cap_warnings, f->n_warnings, sizeof *f->warnings)) {
    f->is_out_of_memory = true;
    return;
  }
  f->warnings[f->n_warnings++] = (struct pw_warning){.code = code, .text = text};
}

const char *pw_findings_names(const struct pw_event *ev, const bool *marked, struct pw_arena *arena)
{
  struct pw_buf text = pw_buf_in(arena);
  int left = 0;
  for (int c = 0; c < ev->n_cuts; c++)
    left += marked[c];
  if (left == 0)
    return NULL;
  for (int c = 0; c < ev->n_cuts; c++)
    if (marked[c]) {
      left--;
      pw_buf_add(&text, ev->cuts[c].name);
      pw_buf_add(&text, left > 1 ? ", " : left == 1 ? " and " : "");
    }
  return pw_buf_text(&text);
}
