/* buf.h - text that grows in the arena.  Failure is sticky: look at `failed` once at the end. */
#ifndef PW_BUF_H
#define PW_BUF_H

#include "base/arena.h"

#include <stdbool.h>
#include <stddef.h>

struct pw_buf {
  struct pw_arena *arena;
  char *text; /**< terminated once anything was added */
  size_t len, cap;
  bool failed; /**< memory ran out: text is cut */
};

/** Appends n bytes. */
void pw_buf_add(struct pw_buf *b, const char *bytes, size_t n);
/** Appends a terminated text. */
void pw_buf_puts(struct pw_buf *b, const char *text);
/** Appends printf output. */
void pw_buf_printf(struct pw_buf *b, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Appends n times the character c. */
void pw_buf_fill(struct pw_buf *b, char c, int n);

#endif
