/* allocate_parts.c - see allocate_parts.h. */
#include "plan/allocate/allocate_parts.h"

#include "base/arena.h"

#include <stdlib.h>
#include <string.h>

/* a lot's stretch of slots: nothing of it is in a pit or an oven outside */
struct stretch {
  int lot, from, to;
};

static int earlier(const void *a, const void *b)
{
  const struct stretch *x = a, *y = b;
  return x->from != y->from ? (x->from > y->from) - (x->from < y->from) : (x->lot > y->lot) - (x->lot < y->lot);
}

/* whether no pit would burn for so many slots with nothing on it: lighting it anew costs no more */
static bool is_apart(const struct pw_al *al, int slots)
{
  if (slots < 1)
    return false;
  for (int p = 0; p < al->n_pits; p++)
    for (int s = 0; s < al->pit[p].n_settings && !al->ev->pits[p].is_rentable; s++)
      if (al->pit[p].light[s] > al->pit[p].rate[s] * slots)
        return false;
  return true;
}

/* the lots of list[0 .. n), their slots counted from `from` less a fire's lead */
static pw_status part_make(struct pw_al *part, const struct pw_al *al, const struct stretch *list, int n, int from,
                           struct pw_ctx *ctx)
{
  *part = *al;
  int lead = 0, end = 0;
  for (int p = 0; p < al->n_pits; p++)
    lead = al->pit[p].lead > lead ? al->pit[p].lead : lead;
  int first = from > lead ? from - lead : 0;
  struct pw_lots *lots = pw_arena_alloc(ctx->arena, sizeof *lots);
  struct pw_lot *src = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *src);
  part->lot = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *part->lot);
  if (!lots || !src || !part->lot)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    struct pw_al_lot *lot = &part->lot[i];
    src[i] = al->lots->lots[list[i].lot];
    *lot = al->lot[list[i].lot];
    int last = pw_al_turned(al, list[i].lot, lot->done_last);
    end = lot->room_end > end ? lot->room_end : end;
    end = last > end ? last : end;
    lot->done_first -= first;
    lot->done_last -= first;
    lot->t_first -= first;
    lot->hold_end -= first;
    lot->room_end -= first;
  }
  *lots = *al->lots;
  lots->lots = src;
  lots->n_lots = n;
  lots->start_at_min += first * al->slot_min;
  part->lots = lots;
  part->n_lots = n;
  part->hands_min = al->hands_min + first;
  part->n_slots = (end < al->n_slots ? end : al->n_slots) - first;
  return PW_OK;
}

pw_status pw_al_parts_make(struct pw_al_parts *out, const struct pw_al *al, struct pw_ctx *ctx)
{
  *out = (struct pw_al_parts){0};
  size_t n_lots = (size_t)al->n_lots;
  struct stretch *list = pw_arena_array(ctx->arena, n_lots + 1, sizeof *list);
  out->part = pw_arena_array(ctx->arena, n_lots + 1, sizeof *out->part);
  if (!list || !out->part)
    return PW_ERR_MEMORY;
  for (int c = 0; c < al->n_lots; c++)
    list[c] = (struct stretch){c, al->lot[c].t_first, al->lot[c].done_last};
  qsort(list, n_lots, sizeof *list, earlier);
  for (int a = 0; a < al->n_lots;) {
    int b = a + 1, to = list[a].to;
    while (b < al->n_lots && !is_apart(al, list[b].from - to)) {
      to = list[b].to > to ? list[b].to : to;
      b++;
    }
    if (a == 0 && b == al->n_lots)
      out->part[out->n++] = *al;
    else {
      pw_status status = part_make(&out->part[out->n++], al, list + a, b - a, list[a].from, ctx);
      if (status)
        return status;
    }
    a = b;
  }
  return PW_OK;
}
