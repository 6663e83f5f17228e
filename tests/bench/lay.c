/* lay.c - an outside solver's plan, which knows areas alone, laid on the true racks.
 *
 * Its pieces are put where and when it says, as far as they find a place as rectangles, the others wherever they do inside
 * the same burn windows.  Those that wait are searched for: other places and hours for all, same windows.  Then windows
 * are let go and the search mends the plan until every piece has a place, as cheaply as it can. */
#include "lay.h"

#include "base/arena.h"
#include "plan/allocate/allocate_guide.h"
#include "plan/allocate/allocate_model.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { SEEDS = 4, WORK_PIECES = 1000000, MISS_TIMES = 4 };

/* names as --dump-model writes them */
static void written(char *out, size_t n, const char *name)
{
  snprintf(out, n, "%s", name);
  for (char *c = out; *c; c++)
    *c = *c == '/' ? '.' : *c == '-' ? '~' : *c;
}

/* lines of a solution file: number, name, value, cost; false when it has no solution */
static bool values_read(double *x, const struct pw_lp *lp, const char *path)
{
  FILE *f = fopen(path, "r");
  if (!f)
    return false;
  char line[1024], name[512], known[512];
  int n = 0, j = 0;
  double value;
  while (fgets(line, sizeof line, f)) {
    if (sscanf(line, " %*d %511s %lf", name, &value) != 2)
      continue;
    /* in the order of the columns */
    for (int k = 0; k < lp->n_cols; k++, j = (j + 1) % lp->n_cols) {
      written(known, sizeof known, lp->col_name[j]);
      if (strcmp(known, name) == 0) {
        x[j] = value;
        n++;
        break;
      }
    }
  }
  return fclose(f) == 0 && n > 0;
}

/* the plan on the true racks with one seed of the search */
struct laid {
  int n_first, n_inside; /* pieces that wait: at the first try, after a search inside the same burn windows */
  double mended_cents;   /* once every piece has a place; HUGE_VAL when some have none */
};

static bool lay(struct laid *out, const struct pw_al *al, const struct pw_al_search_options *as_told, int n_pieces,
                unsigned seed, struct pw_ctx *ctx)
{
  struct pw_al_search_options inside = *as_told;
  struct pw_al_solution s;
  inside.seed = seed;
  if (pw_al_search(&s, al, &inside, ctx))
    return false;
  out->n_first = s.n_missed;
  inside.n_rounds = WORK_PIECES / (n_pieces + 50);
  if (pw_al_search(&s, al, &inside, ctx))
    return false;
  out->n_inside = s.n_missed;
  struct pw_al_search_options mend = {.seed = seed,
                                      .n_rounds = WORK_PIECES / (n_pieces + 50),
                                      .n_rounds_missed = 3 * WORK_PIECES / (n_pieces + 50),
                                      .heat_frac = 0.005,
                                      .pieces = s.pieces,
                                      .settings = s.settings};
  if (pw_al_search(&s, al, &mend, ctx))
    return false;
  out->mended_cents = s.n_missed ? HUGE_VAL : s.cost_cents;
  return true;
}

int pw_bench_lay(const struct pw_instance *in, const char *path, struct pw_ctx *ctx)
{
  struct pw_al al;
  struct pw_al_model model;
  struct pw_al_model_options options = {.pieces_whole = true, .has_names = true};
  if (pw_al_make(&al, &in->event, &in->lots, &in->rates, ctx) || pw_al_model_make(&model, &al, &options, ctx))
    return 1;
  struct pw_lp_result lp = {0};
  lp.x = pw_arena_array(ctx->arena, (size_t)model.lp.n_cols + 1, sizeof *lp.x);
  lp.dual = pw_arena_array(ctx->arena, (size_t)model.lp.n_rows + 1, sizeof *lp.dual); /* no rents */
  if (!lp.x || !lp.dual || !values_read(lp.x, &model.lp, path))
    return 1;
  double cost_cents = 0, n_missed = 0;
  int n_pieces = 0;
  for (int j = 0; j < model.lp.n_cols; j++)
    cost_cents += model.lp.cost[j] * lp.x[j];
  for (int c = 0; c < al.n_lots; c++) {
    n_missed += lp.x[model.miss[c]];
    n_pieces += al.lot[c].n;
  }
  struct pw_al_guide guide;
  struct pw_al_windows windows;
  int *settings;
  if (pw_al_guide_make(&guide, &model, &al, &lp, ctx) ||
      pw_al_model_windows(&model, &al, lp.x, 0.5, &windows, &settings, ctx))
    return 1;
  struct pw_al_search_options as_told = {.limits = &windows,
                                         .guide = &guide,
                                         .is_lit = true,
                                         .settings = settings,
                                         .miss_all_cents = MISS_TIMES * cost_cents,
                                         .heat_frac = 0.002};
  struct laid best = {.n_first = n_pieces, .n_inside = n_pieces, .mended_cents = HUGE_VAL};
  for (unsigned seed = 1; seed <= SEEDS; seed++) {
    struct laid now;
    if (!lay(&now, &al, &as_told, n_pieces, seed, ctx))
      return 1;
    best.n_first = now.n_first < best.n_first ? now.n_first : best.n_first;
    best.n_inside = now.n_inside < best.n_inside ? now.n_inside : best.n_inside;
    best.mended_cents = fmin(best.mended_cents, now.mended_cents);
  }
  printf("%.2f %.0f %d %d %.2f\n", cost_cents / 100, n_missed, best.n_first, best.n_inside,
         isfinite(best.mended_cents) ? best.mended_cents / 100 : -1);
  return 0;
}
