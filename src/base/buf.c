/* buf.c - a growing text in the arena. */
#include "base/buf.h"

#include <stdarg.h>
#include <string.h>

void pw_buf_add(struct pw_buf *b, const char *bytes, size_t n)
{
  if (b->failed)
    return;
  if (b->len + n + 1 > b->cap) {
    size_t cap = b->cap ? b->cap : 1024;
    while (cap < b->len + n + 1)
      cap *= 2;
    char *fresh = pw_arena_alloc(b->arena, cap);
    if (!fresh) {
      b->failed = true;
      return;
    }
    if (b->len)
      memcpy(fresh, b->text, b->len);
    b->text = fresh;
    b->cap = cap;
  }
  if (n)
    memcpy(b->text + b->len, bytes, n);
  b->len += n;
  b->text[b->len] = '\0';
}

void pw_buf_puts(struct pw_buf *b, const char *text) { pw_buf_add(b, text, strlen(text)); }

void pw_buf_printf(struct pw_buf *b, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(b->arena, format, args);
  va_end(args);
  if (text)
    pw_buf_puts(b, text);
  else
    b->failed = true;
}

void pw_buf_fill(struct pw_buf *b, char c, int n)
{
  for (int i = 0; i < n; i++)
    pw_buf_add(b, &c, 1);
}
