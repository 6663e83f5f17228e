/* arena.h - one-owner memory: everything a run makes is freed in one call. */
#ifndef PW_ARENA_H
#define PW_ARENA_H

#include <stdarg.h>
#include <stddef.h>

struct pw_arena;

/** New arena, or NULL when memory is out.  Free with pw_arena_close(). */
struct pw_arena *pw_arena_open(void);
/** Frees the arena and all it gave out.  NULL is allowed. */
void pw_arena_close(struct pw_arena *arena);
/** What `from` gave out is the arena's from now on; `from` is closed.  NULL for `from` is allowed. */
void pw_arena_adopt(struct pw_arena *arena, struct pw_arena *from);

/** `size` zeroed bytes, aligned for any type, or NULL.  size 0 gives a valid pointer. */
void *pw_arena_alloc(struct pw_arena *arena, size_t size);
/** Zeroed array of n elements; NULL on overflow or when memory is out. */
void *pw_arena_array(struct pw_arena *arena, size_t n, size_t size);
/** Copy of a string / of the first n bytes, terminated; NULL when memory is out. */
char *pw_arena_strdup(struct pw_arena *arena, const char *text);
char *pw_arena_strndup(struct pw_arena *arena, const char *text, size_t n);
/** printf into the arena; NULL when memory is out. */
char *pw_arena_printf(struct pw_arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));
char *pw_arena_vprintf(struct pw_arena *arena, const char *format, va_list args) __attribute__((format(printf, 2, 0)));

/** Grows *items (capacity *cap, used n) so that one more element fits; old storage stays in the arena.
 *  Returns 0, or -1 when memory is out (nothing changed). */
int pw_arena_grow(struct pw_arena *arena, void *items_ptr, size_t *cap, size_t n, size_t size);

/** Test aid: the k-th allocation from now (1-based) fails once; 0 switches it off. */
void pw_arena_fail_at(struct pw_arena *arena, long k);
/** Test aid: allocations asked for so far. */
long pw_arena_count(const struct pw_arena *arena);

#endif
