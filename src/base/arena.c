/* arena.c - blocks in a list, bump allocation inside.  Under PW_ARENA_DEBUG every request is a block of
 * its own, so that the sanitizers and valgrind see each one's bounds. */
#include "base/arena.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BLOCK_BYTES = 64 * 1024, ALIGN = 16 };

struct block {
  struct block *next;
  size_t used, cap;
  _Alignas(16) unsigned char bytes[];
};

struct pw_arena {
  struct block *top;
  long n_asked;
  long fail_at;
};

struct pw_arena *pw_arena_open(void) { return calloc(1, sizeof(struct pw_arena)); }

void pw_arena_close(struct pw_arena *arena)
{
  if (!arena)
    return;
  while (arena->top) {
    struct block *next = arena->top->next;
    free(arena->top);
    arena->top = next;
  }
  free(arena);
}

void pw_arena_adopt(struct pw_arena *arena, struct pw_arena *from)
{
  if (from && from->top) {
    struct block *last = from->top;
    while (last->next)
      last = last->next;
    /* behind the block that is being filled */
    struct block **at = arena->top ? &arena->top->next : &arena->top;
    last->next = *at;
    *at = from->top;
  }
  if (from)
    arena->n_asked += from->n_asked;
  free(from);
}

static struct block *block_push(struct pw_arena *arena, size_t cap)
{
  struct block *b = calloc(1, sizeof *b + cap);
  if (!b)
    return NULL;
  b->cap = cap;
  b->next = arena->top;
  arena->top = b;
  return b;
}

void *pw_arena_alloc(struct pw_arena *arena, size_t size)
{
  arena->n_asked++;
  if (arena->fail_at > 0 && --arena->fail_at == 0)
    return NULL;
  if (size > SIZE_MAX / 2)
    return NULL;
  size_t need = (size + (ALIGN - 1)) & ~(size_t)(ALIGN - 1);
  if (need == 0)
    need = ALIGN;
#ifdef PW_ARENA_DEBUG
  struct block *b = block_push(arena, size ? size : 1);
  if (!b)
    return NULL;
  b->used = b->cap;
  return b->bytes;
#else
  struct block *b = arena->top;
  if (!b || b->cap - b->used < need) {
    b = block_push(arena, need > BLOCK_BYTES ? need : BLOCK_BYTES);
    if (!b)
      return NULL;
  }
  void *p = b->bytes + b->used;
  b->used += need;
  return p;
#endif
}

void *pw_arena_array(struct pw_arena *arena, size_t n, size_t size)
{
  if (size && n > SIZE_MAX / size)
    return NULL;
  return pw_arena_alloc(arena, n * size);
}

char *pw_arena_strndup(struct pw_arena *arena, const char *text, size_t n)
{
  char *copy = pw_arena_alloc(arena, n + 1);
  if (copy)
    memcpy(copy, text, n);
  return copy;
}

char *pw_arena_strdup(struct pw_arena *arena, const char *text) { return pw_arena_strndup(arena, text, strlen(text)); }

char *pw_arena_vprintf(struct pw_arena *arena, const char *format, va_list args)
{
  va_list again;
  va_copy(again, args);
  int n = vsnprintf(NULL, 0, format, args);
  char *text = n < 0 ? NULL : pw_arena_alloc(arena, (size_t)n + 1);
  if (text && vsnprintf(text, (size_t)n + 1, format, again) != n)
    text = NULL;
  va_end(again);
  return text;
}

char *pw_arena_printf(struct pw_arena *arena, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  char *text = pw_arena_vprintf(arena, format, args);
  va_end(args);
  return text;
}

int pw_arena_grow(struct pw_arena *arena, void *items_ptr, size_t *cap, size_t n, size_t size)
{
  if (n < *cap)
    return 0;
  size_t new_cap = *cap ? *cap * 2 : 8;
  void *fresh = pw_arena_array(arena, new_cap, size);
  if (!fresh)
    return -1;
  void *old;
  memcpy(&old, items_ptr, sizeof old);
  if (n)
    memcpy(fresh, old, n * size);
  memcpy(items_ptr, &fresh, sizeof fresh);
  *cap = new_cap;
  return 0;
}

void pw_arena_fail_at(struct pw_arena *arena, long k) { arena->fail_at = k; }

long pw_arena_count(const struct pw_arena *arena) { return arena->n_asked; }
