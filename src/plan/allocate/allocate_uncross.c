/* allocate_uncross.c - see allocate_uncross.h.  Pieces of a lot are alike to the search, which counts what each is carried but finds whatever is cheap by
 * chance: five from pit 0 to pit 1 and one the other way is four and none. */
#include "plan/allocate/allocate_uncross.h"

#include "base/arena.h"
#include "plan/allocate/allocate_exchange.h"

#include <string.h>

/* How little a finish is carried from there: 2 stays on its rack, 1 stays on its pit. */
static int stays(const struct pw_al *al, const struct pw_al_piece *from, const struct pw_al_piece *to)
{
  if (to->place >= al->n_zones)
    return 0;
  return (from->zone == to->place) + (al->pit_of_zone[from->zone] == al->pit_of_zone[to->place]);
}

static void swap_finishes(struct pw_al_piece *a, struct pw_al_piece *b)
{
  struct pw_al_piece was = *a;
  a->place = b->place, a->done = b->done, a->box = b->box;
  a->x2 = b->x2, a->y2 = b->y2, a->is_turned2 = b->is_turned2;
  b->place = was.place, b->done = was.done, b->box = was.box;
  b->x2 = was.x2, b->y2 = was.y2, b->is_turned2 = was.is_turned2;
}

static bool uncross(struct pw_al_piece *pieces, int n, const struct pw_al *al)
{
  bool is_any = false;
  for (int i = 0; i < n; i++)
    for (int k = i + 1; k < n && pieces[k].lot == pieces[i].lot; k++) {
      struct pw_al_piece *a = &pieces[i], *b = &pieces[k];
      if (!a->is_placed || !b->is_placed || a->place == PW_NONE || b->place == PW_NONE || a->mid != b->mid ||
          stays(al, a, b) + stays(al, b, a) <= stays(al, a, a) + stays(al, b, b))
        continue;
      swap_finishes(a, b);
      is_any = true;
    }
  return is_any;
}

pw_status pw_al_uncross(struct pw_al_solution *best, const struct pw_al *al, struct pw_ctx *ctx)
{
  struct pw_al_solution tried = *best;
  struct pw_al_state st;
  size_t n = (size_t)best->n_pieces;
  if (!(tried.pieces = pw_arena_array(ctx->arena, n + 1, sizeof *tried.pieces)))
    return PW_ERR_MEMORY;
  memcpy(tried.pieces, best->pieces, n * sizeof *tried.pieces);
  if (!uncross(tried.pieces, best->n_pieces, al))
    return PW_OK;
  pw_status status = pw_al_state_of(&st, al, &tried, ctx);
  if (status)
    return status;
  double cents = pw_al_state_cost(&st);
  for (size_t i = 0; i < n; i++)
    if (st.piece[i].is_placed != best->pieces[i].is_placed)
      return PW_OK;
  if (cents > best->cost_cents + 1e-7)
    return PW_OK;
  best->pieces = tried.pieces;
  best->cost_cents = cents;
  return PW_OK;
}
