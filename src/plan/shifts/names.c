/* names.c - counts of shifts become people [S2].  In: shifts and counts.  Out: turns with a person each. */
#include "plan/shifts/names.h"

#include "base/arena.h"

#include <stdlib.h>

/** What one person of a group has done so far. */
struct done {
  int free_from, nights, slots;
};

struct sorted {
  struct pw_cover_shift shift;
  int index;
};

static int by_begin(const void *pa, const void *pb)
{
  const struct sorted *a = pa, *b = pb;
  if (a->shift.from != b->shift.from)
    return a->shift.from < b->shift.from ? -1 : 1;
  if (a->shift.to != b->shift.to)
    return a->shift.to < b->shift.to ? -1 : 1;
  if (a->shift.group != b->shift.group)
    return a->shift.group < b->shift.group ? -1 : 1;
  return (a->index > b->index) - (a->index < b->index);
}

static bool is_better(const struct done *a, const struct done *b, bool is_night)
{
  if (is_night && a->nights != b->nights)
    return a->nights < b->nights;
  return a->slots < b->slots;
}

pw_status pw_shift_names(struct pw_shift_turn **out, int *n, const struct pw_cover *cover, const int *counts,
                         const bool *is_night, struct pw_ctx *ctx)
{
  size_t n_turns = 0, n_people = 0;
  int first[PW_COVER_GROUPS_MAX + 1] = {0};
  for (int s = 0; s < cover->n_shifts; s++)
    n_turns += (size_t)(counts[s] > 0 && cover->shifts[s].least == 0 ? counts[s] : 0);
  for (int g = 0; g < cover->n_groups; g++) {
    first[g] = (int)n_people;
    n_people += (size_t)cover->groups[g].most;
  }
  struct sorted *order = pw_arena_array(ctx->arena, n_turns + 1, sizeof *order);
  struct done *done = pw_arena_array(ctx->arena, n_people + 1, sizeof *done);
  *out = pw_arena_array(ctx->arena, n_turns + 1, sizeof **out);
  *n = 0;
  if (!order || !done || !*out)
    return PW_ERR_MEMORY;
  for (size_t p = 0; p < n_people; p++)
    done[p] = (struct done){.free_from = -1};
  size_t k = 0;
  for (int s = 0; s < cover->n_shifts; s++)
    for (int i = 0; cover->shifts[s].least == 0 && i < counts[s]; i++)
      order[k++] = (struct sorted){cover->shifts[s], s};
  if (n_turns > 1)
    qsort(order, n_turns, sizeof *order, by_begin);
  for (size_t i = 0; i < n_turns; i++) {
    const struct pw_cover_shift *x = &order[i].shift;
    bool by_night = is_night && is_night[order[i].index];
    struct done *best = NULL;
    for (int p = 0; p < cover->groups[x->group].most; p++) {
      struct done *d = &done[first[x->group] + p];
      if (d->free_from <= x->from && (!best || is_better(d, best, by_night)))
        best = d;
    }
    (*out)[(*n)++] = (struct pw_shift_turn){order[i].index, best ? (int)(best - done) - first[x->group] : -1};
    if (best) {
      best->free_from = x->to + cover->groups[x->group].rest;
      best->nights += by_night;
      best->slots += x->to - x->from;
    }
  }
  return PW_OK;
}
