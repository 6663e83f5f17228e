/* allocate_model_read.c - what is read out of a solution of the linear program, and how large the program would be. */
#include "plan/allocate/allocate_model.h"

#include "base/arena.h"

pw_status pw_al_model_windows(const struct pw_al_model *model, const struct pw_al *al, const double *x, double share,
                              struct pw_al_windows *windows, int **settings, struct pw_ctx *ctx)
{
  windows->from = pw_arena_array(ctx->arena, (size_t)(al->n_pits * al->n_days) + 1, sizeof *windows->from);
  windows->to = pw_arena_array(ctx->arena, (size_t)(al->n_pits * al->n_days) + 1, sizeof *windows->to);
  *settings = pw_arena_array(ctx->arena, (size_t)al->n_pits * (size_t)al->n_days + 1, sizeof **settings);
  if (!windows->from || !windows->to || !*settings)
    return PW_ERR_MEMORY;
  for (int p = 0, rank = 0; p < al->n_pits; p++) {
    int k = model->class_of_pit[p];
    if (k < 0)
      continue;
    rank = 0;
    for (int q = 0; q < p; q++)
      rank += model->class_of_pit[q] == k;
    double best = 0;
    int from = al->n_slots, to = 0;
    for (int s = 0; s < al->pit[p].n_settings; s++) {
      double total = 0;
      for (int t = 0; t < al->n_slots; t++) {
        int col = model->on[((size_t)k * (size_t)al->n_settings_max + (size_t)s) * (size_t)al->n_slots + (size_t)t];
        double v = col >= 0 ? x[col] : 0;
        total += v;
        if (v > rank + share) {
          from = t < from ? t : from;
          to = t + 1 > to ? t + 1 : to;
        }
      }
      if (total > best + 1e-9) {
        best = total;
        for (int d = 0; d < al->n_days; d++)
          (*settings)[p * al->n_days + d] = s;
      }
    }
    for (int d = 0; d < al->n_days; d++) {
      windows->from[p * al->n_days + d] = from < to ? from : 0;
      windows->to[p * al->n_days + d] = from < to ? to : 0;
    }
  }
  return PW_OK;
}

double pw_al_model_columns(const struct pw_al *al)
{
  double n = 0;
  for (int p = 0; p < al->n_pits; p++) {
    if (al->ev->pits[p].alike != p && al->ev->pits[p].alike >= 0 && al->ev->pits[p].alike < p)
      continue;
    n += 2.0 * al->n_slots * al->pit[p].n_settings;
    for (int c = 0; c < al->n_lots; c++)
      for (int z = al->pit[p].zone_first; z < al->pit[p].zone_end; z++)
        for (int s = 0; s < al->pit[p].n_settings; s++)
          if (al->lot[c].d1[(size_t)z * (size_t)al->n_settings_max + (size_t)s] != PW_NONE)
            n += (1 + al->lot[c].has_finish) * (al->lot[c].done_last - al->lot[c].done_first + 1);
  }
  return n;
}
