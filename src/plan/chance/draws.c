/* draws.c - see draws.h.  Kept are streams of numbers, one number a draw: normals by name, and factors by all that they are made of. */
#include "plan/chance/draws.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

uint64_t pw_draw_mix(uint64_t z)
{
  z += UINT64_C(0x9E3779B97F4A7C15);
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return z ^ (z >> 31);
}

uint64_t pw_draw_first(unsigned seed) { return pw_draw_mix(seed + UINT64_C(1)); }

double pw_draw_normal(uint64_t draw, uint64_t name)
{
  uint64_t a = pw_draw_mix(draw ^ pw_draw_mix(name)), b = pw_draw_mix(a);
  double u = ((double)(a >> 11) + 0.5) * 0x1p-53, v = (double)(b >> 11) * 0x1p-53;
  return sqrt(-2 * log(u)) * cos(6.28318530717958647693 * v);
}

double pw_draw_unit(uint64_t draw, uint64_t name)
{
  return ((double)(pw_draw_mix(draw ^ pw_draw_mix(name)) >> 11) + 0.5) * 0x1p-53;
}

uint64_t pw_draw_name(const char *id)
{
  uint64_t h = UINT64_C(14695981039346656037);
  for (const unsigned char *p = (const unsigned char *)(id ? id : ""); *p; p++)
    h = (h ^ *p) * UINT64_C(1099511628211);
  return h;
}

double pw_draw_factor(const struct pw_draw_stage *s, double of_lot, double of_place, double of_piece)
{
  return exp(s->sigma * (s->lot_part * of_lot + s->place_part * of_place + s->piece_part * of_piece));
}

/* ---- kept ------------------------------------------------------------------------------------------------ */

/* Numbers kept at most before all are forgotten: 32 MB. */
static const size_t KEPT_MOST = (size_t)4 * 1024 * 1024;

struct stream {
  bool is_factor; /* else a normal, of the first name */
  struct pw_draw_stage of;
  double *values;
  int n, cap;
};

struct pw_kept_draws {
  uint64_t first;
  unsigned seed;
  struct pw_arena *arena; /* of the streams; this struct is in `own` */
  struct pw_arena *own;
  struct stream **table; /* open addressing: at most half full */
  size_t n, cap;
  size_t n_values;
};

struct pw_kept_draws *pw_kept_draws_open(unsigned seed)
{
  struct pw_arena *own = pw_arena_open();
  struct pw_kept_draws *kept = own ? pw_arena_alloc(own, sizeof *kept) : NULL;
  if (!kept) {
    pw_arena_close(own);
    return NULL;
  }
  *kept = (struct pw_kept_draws){.first = pw_draw_first(seed), .seed = seed, .own = own};
  return kept;
}

void pw_kept_draws_close(struct pw_kept_draws *kept)
{
  if (!kept)
    return;
  pw_arena_close(kept->arena);
  pw_arena_close(kept->own);
}

static void forget(struct pw_kept_draws *kept)
{
  pw_arena_close(kept->arena);
  kept->arena = NULL;
  kept->table = NULL;
  kept->n = kept->cap = kept->n_values = 0;
}

bool pw_kept_draws_begin(struct pw_kept_draws *kept, unsigned seed)
{
  if (kept->n_values > KEPT_MOST)
    forget(kept);
  return kept->seed == seed;
}

static uint64_t hash_of(bool is_factor, const struct pw_draw_stage *of)
{
  uint64_t sigma;
  memcpy(&sigma, &of->sigma, sizeof sigma);
  return is_factor ? pw_draw_mix(of->lot ^ pw_draw_mix(of->place ^ pw_draw_mix(of->piece ^ sigma)))
                   : pw_draw_mix(of->lot);
}

static bool is_same(const struct stream *s, bool is_factor, const struct pw_draw_stage *of)
{
  const struct pw_draw_stage *own = &s->of;
  if (s->is_factor != is_factor || own->lot != of->lot)
    return false;
  return !is_factor ||
         (own->place == of->place && own->piece == of->piece && !(own->sigma < of->sigma) &&
          !(own->sigma > of->sigma) && !(own->lot_part < of->lot_part) && !(own->lot_part > of->lot_part) &&
          !(own->place_part < of->place_part) && !(own->place_part > of->place_part) &&
          !(own->piece_part < of->piece_part) && !(own->piece_part > of->piece_part));
}

static struct stream **slot_of(struct stream **table, size_t cap, bool is_factor, const struct pw_draw_stage *of)
{
  size_t i = (size_t)hash_of(is_factor, of) & (cap - 1);
  while (table[i] && !is_same(table[i], is_factor, of))
    i = (i + 1) & (cap - 1);
  return &table[i];
}

static bool table_grow(struct pw_kept_draws *kept)
{
  size_t cap = kept->cap ? 2 * kept->cap : 256;
  struct stream **table = pw_arena_array(kept->arena, cap, sizeof(struct stream *));
  for (size_t i = 0; table && i < kept->cap; i++)
    if (kept->table[i])
      *slot_of(table, cap, kept->table[i]->is_factor, &kept->table[i]->of) = kept->table[i];
  if (!table)
    return false;
  kept->table = table;
  kept->cap = cap;
  return true;
}

/* The stream with room for n numbers; NULL when memory is out. */
static struct stream *stream_of(struct pw_kept_draws *kept, bool is_factor, const struct pw_draw_stage *of, int n)
{
  if (!kept->arena && !(kept->arena = pw_arena_open()))
    return NULL;
  if (2 * kept->n >= kept->cap && !table_grow(kept))
    return NULL;
  struct stream **slot = slot_of(kept->table, kept->cap, is_factor, of), *s = *slot;
  if (!s) {
    if (!(s = pw_arena_alloc(kept->arena, sizeof *s)))
      return NULL;
    *s = (struct stream){.is_factor = is_factor, .of = *of};
    *slot = s;
    kept->n++;
  }
  if (s->cap < n) {
    double *values = pw_arena_array(kept->arena, (size_t)n, sizeof *values);
    if (!values)
      return NULL;
    if (s->n > 0)
      memcpy(values, s->values, (size_t)s->n * sizeof *values);
    s->values = values;
    s->cap = n;
    kept->n_values += (size_t)n;
  }
  return s;
}

static const double *normals_of(struct pw_kept_draws *kept, uint64_t name, int n)
{
  struct stream *s = stream_of(kept, false, &(struct pw_draw_stage){.lot = name}, n);
  for (; s && s->n < n; s->n++)
    s->values[s->n] = pw_draw_normal(kept->first + (uint64_t)s->n, name);
  return s ? s->values : NULL;
}

const double *pw_kept_draws_factors(struct pw_kept_draws *kept, const struct pw_draw_stage *stage, int n)
{
  struct stream *s = stream_of(kept, true, stage, n);
  if (!s || s->n >= n)
    return s ? s->values : NULL;
  const double *lot = normals_of(kept, stage->lot, n), *place = normals_of(kept, stage->place, n),
               *piece = normals_of(kept, stage->piece, n);
  if (!lot || !place || !piece)
    return NULL;
  for (; s->n < n; s->n++)
    s->values[s->n] = pw_draw_factor(stage, lot[s->n], place[s->n], piece[s->n]);
  return s->values;
}
