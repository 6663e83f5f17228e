/* buf.h - text that grows in an arena.  Failure is sticky: add all you like, look once at the end. */
#ifndef PW_BUF_H
#define PW_BUF_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct pw_arena;

struct pw_buf {
  struct pw_arena *arena;
  char *bytes;   /**< always terminated once anything was added */
  size_t n, cap; /**< used without the terminator; room with it */
  bool failed;   /**< memory ran out: what follows is dropped */
};

/** An empty buffer in `arena`. */
struct pw_buf pw_buf_in(struct pw_arena *arena);
/** Appends a string / n bytes / printf. */
void pw_buf_add(struct pw_buf *buf, const char *text);
void pw_buf_add_n(struct pw_buf *buf, const char *bytes, size_t n);
void pw_buf_add_char(struct pw_buf *buf, char c);
/** Appends c n times; n <= 0 adds nothing. */
void pw_buf_add_times(struct pw_buf *buf, char c, int n);
void pw_buf_printf(struct pw_buf *buf, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** The text, "" when nothing was added, NULL when memory ran out. */
char *pw_buf_text(struct pw_buf *buf);

#endif
