/* allocate_hint.c - see allocate_hint.h. */
#include "plan/allocate/allocate_hint.h"

#include "base/arena.h"

#include <string.h>

struct pw_al_hint {
  int n_lots, n_zones, n_pits, n_finishers, n_days, n_settings_max; /* of the problem it was made for */
  int slot_min, start_at_min;
  const char **lot_id; /* [c] */
  int *first_piece;    /* [c], and [n_lots] */
  struct pw_al_piece *pieces;
  int *settings; /* [p * n_days + d] */
};

pw_status pw_al_hint_make(const struct pw_al_hint **out, const struct pw_al *al, const struct pw_al_solution *solution,
                          struct pw_ctx *ctx)
{
  size_t n_lots = (size_t)al->n_lots, n_pieces = (size_t)solution->n_pieces,
         n_settings = (size_t)(al->n_pits * al->n_days);
  struct pw_al_hint *h = pw_arena_alloc(ctx->arena, sizeof *h);
  *out = NULL;
  if (!h)
    return PW_ERR_MEMORY;
  *h = (struct pw_al_hint){.n_lots = al->n_lots,
                           .n_zones = al->n_zones,
                           .n_pits = al->n_pits,
                           .n_finishers = al->n_finishers,
                           .n_days = al->n_days,
                           .n_settings_max = al->n_settings_max,
                           .slot_min = al->slot_min,
                           .start_at_min = al->lots->start_at_min,
                           .lot_id = pw_arena_array(ctx->arena, n_lots + 1, sizeof *h->lot_id),
                           .first_piece = pw_arena_array(ctx->arena, n_lots + 1, sizeof *h->first_piece),
                           .pieces = pw_arena_array(ctx->arena, n_pieces + 1, sizeof *h->pieces),
                           .settings = pw_arena_array(ctx->arena, n_settings + 1, sizeof *h->settings)};
  if (!h->lot_id || !h->first_piece || !h->pieces || !h->settings)
    return PW_ERR_MEMORY;
  for (int c = 0; c < al->n_lots; c++) {
    h->lot_id[c] = al->lots->lots[c].id;
    h->first_piece[c + 1] = h->first_piece[c] + al->lot[c].n;
  }
  memcpy(h->pieces, solution->pieces, n_pieces * sizeof *h->pieces);
  memcpy(h->settings, solution->settings, n_settings * sizeof *h->settings);
  *out = h;
  return PW_OK;
}

static bool is_alike(const struct pw_al_hint *h, const struct pw_al *al)
{
  return h->n_zones == al->n_zones && h->n_pits == al->n_pits && h->n_finishers == al->n_finishers &&
         h->n_days == al->n_days && h->n_settings_max == al->n_settings_max && h->slot_min == al->slot_min &&
         (h->start_at_min - al->lots->start_at_min) % al->slot_min == 0;
}

pw_status pw_al_hint_read(struct pw_al_solution *out, const struct pw_al_hint *h, const struct pw_al *al,
                          struct pw_ctx *ctx)
{
  *out = (struct pw_al_solution){0};
  if (!h || !is_alike(h, al))
    return PW_OK;
  int n = 0, later = (h->start_at_min - al->lots->start_at_min) / al->slot_min; /* slots */
  for (int c = 0; c < al->n_lots; c++)
    n += al->lot[c].n;
  struct pw_al_piece *pieces = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *pieces);
  if (!pieces)
    return PW_ERR_MEMORY;
  for (int c = 0, i = 0; c < al->n_lots; c++) {
    int k = 0;
    while (k < h->n_lots && strcmp(h->lot_id[k], al->lots->lots[c].id) != 0)
      k++;
    int n_known = k < h->n_lots ? h->first_piece[k + 1] - h->first_piece[k] : 0;
    for (int j = 0; j < al->lot[c].n; j++, i++) {
      struct pw_al_piece *p = &pieces[i];
      if (j < n_known)
        *p = h->pieces[h->first_piece[k] + j];
      p->lot = c;
      p->start += later;
      p->mid += later;
      p->done += later;
      p->is_placed = p->is_placed && p->start >= 0 && p->start >= al->lot[c].t_first &&
                     p->done >= al->lot[c].done_first && p->done <= al->lot[c].done_last;
    }
  }
  out->pieces = pieces;
  out->n_pieces = n;
  out->settings = h->settings;
  return PW_OK;
}
