/* buf.c - text that grows in an arena, by doubling. */
#include "base/buf.h"

#include "base/arena.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

struct pw_buf pw_buf_in(struct pw_arena *arena) { return (struct pw_buf){.arena = arena}; }

/** Room for n more bytes and the terminator, or the sticky failure. */
static bool buf_reserve(struct pw_buf *buf, size_t n)
{
  if (buf->failed)
    return false;
  if (n >= SIZE_MAX / 2 - buf->n) {
    buf->failed = true;
    return false;
  }
  size_t need = buf->n + n + 1;
  if (buf->bytes && need <= buf->cap)
    return true;
  size_t cap = buf->cap ? buf->cap : 64;
  while (cap < need)
    cap *= 2;
  char *fresh = pw_arena_alloc(buf->arena, cap);
  if (!fresh) {
    buf->failed = true;
    return false;
  }
  if (buf->bytes)
    memcpy(fresh, buf->bytes, buf->n);
  buf->bytes = fresh;
  buf->cap = cap;
  return true;
}

void pw_buf_add_n(struct pw_buf *buf, const char *bytes, size_t n)
{
  if (!buf_reserve(buf, n))
    return;
  if (n)
    memcpy(buf->bytes + buf->n, bytes, n);
  buf->n += n;
  buf->bytes[buf->n] = '\0';
}

void pw_buf_add(struct pw_buf *buf, const char *text) { pw_buf_add_n(buf, text, strlen(text)); }

void pw_buf_add_char(struct pw_buf *buf, char c) { pw_buf_add_n(buf, &c, 1); }

void pw_buf_add_times(struct pw_buf *buf, char c, int n)
{
  if (n <= 0 || !buf_reserve(buf, (size_t)n))
    return;
  memset(buf->bytes + buf->n, c, (size_t)n);
  buf->n += (size_t)n;
  buf->bytes[buf->n] = '\0';
}

void pw_buf_printf(struct pw_buf *buf, const char *format, ...)
{
  va_list args, again;
  va_start(args, format);
  va_copy(again, args);
  int n = vsnprintf(NULL, 0, format, args);
  if (n < 0)
    buf->failed = true;
  else if (buf_reserve(buf, (size_t)n)) {
    if (vsnprintf(buf->bytes + buf->n, (size_t)n + 1, format, again) == n)
      buf->n += (size_t)n;
    else
      buf->failed = true;
  }
  va_end(again);
  va_end(args);
}

char *pw_buf_text(struct pw_buf *buf)
{
  if (!buf->bytes)
    pw_buf_add_n(buf, "", 0);
  return buf->failed ? NULL : buf->bytes;
}
