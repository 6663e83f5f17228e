/* pieces.c - served need per service and cut -> whole raw pieces.
 *
 * [P1] one piece serves w t c k: bought weight x trim x cook x carve; a need is divided by these, the loss is
 *      never added to it.  k is the mean over the cut's dishes, weighted by their need: sum D / sum (D / k).
 * [P2] pieces differ: 1 + cv^2 of a piece's served weight is the product of 1 + cv^2 over w, t, c, k, each
 *      taken as independent from piece to piece.  Served weight of n pieces less demand is close to normal with
 *      mean n m - D and variance n s^2 + Var D; the least n is taken whose chance of not falling below zero
 *      reaches the cover.  One cover is carried through; no margin is put upon a margin.  The mean served weight
 *      also reaches the demand stage's need (exact binomial for small parties).
 * Cuts sold by count need ceil(units / units per piece), from the exact distribution of all their dishes. */
#include "plan/buy/pieces.h"

#include "plan/demand/cook_day.h"
#include "plan/demand/demand.h"
#include "plan/demand/walk_up.h"

#include <math.h>

#define WHOLE 1e-9 /* a quotient this little above a whole number is that number */

enum { PIECES_MAX = 1000000 };

struct cut_demand {
  int service, cut, n_lines, n_by_count;
  double mean_kg, var_kg2;       /* served, as wanted */
  double mean_ask_kg, sd_ask_kg; /* with the reserve, for the number of pieces */
  double least_kg;               /* largest need of one line */
  double units, mean_units;      /* need of the lines by count; mean */
  double cover_frac;
  double carve_frac, carve_cv2;
};

/* What is left of a trimmed piece when it is served: chilling and reheating take their share too. */
static double cooked_frac(const struct pw_event *ev, int service, int c)
{
  const struct pw_cut *cut = &ev->cuts[c];
  return cut->cook_frac * (pw_is_day_before(ev, service, c) ? 1 - cut->chill_loss_frac : 1);
}

static double cv2(double mean, double sd) { return mean > 0 ? sd * sd / (mean * mean) : 0; }

/* Served weight of one unit of a dish sold by count. */
static double unit_weight(const struct pw_event *ev, int service, const struct pw_dish *dish)
{
  const struct pw_cut *cut = &ev->cuts[dish->cut];
  return cut->piece_kg * cut->trim_frac * cooked_frac(ev, service, dish->cut) * dish->carve_frac / cut->units_per_piece;
}

/* Adds up the lines of one service and cut.  By-count lines become weight when the cut also has lines by weight. */
static void gather(struct cut_demand *d, const struct pw_event *ev, const struct pw_demand *demand)
{
  double weight = 0, over_carve = 0, carve_var = 0, var_ask = 0;
  for (int i = 0; i < demand->n_lines; i++) {
    const struct pw_demand_line *line = &demand->lines[i];
    const struct pw_dish *dish = &ev->dishes[line->dish];
    if (line->service != d->service || dish->cut != d->cut)
      continue;
    d->n_lines++;
    d->cover_frac = fmax(d->cover_frac, line->cover_frac);
    double unit_kg = unit_weight(ev, d->service, dish);
    double mean = dish->is_by_count ? line->mean_units * unit_kg : line->mean_kg;
    double extra = 1 + dish->reserve_frac;
    d->mean_kg += mean;
    d->mean_ask_kg += mean * extra;
    for (int k = 0; k < demand->n_lines; k++) { /* the variance of a sum: all pairs */
      const struct pw_dish *other = &ev->dishes[demand->lines[k].dish];
      if (demand->lines[k].service != d->service || other->cut != d->cut)
        continue;
      double cov = demand->cov[i * demand->n_lines + k] * (dish->is_by_count ? unit_kg : 1) *
                   (other->is_by_count ? unit_weight(ev, d->service, other) : 1);
      d->var_kg2 += cov;
      var_ask += cov * extra * (1 + other->reserve_frac);
    }
    d->least_kg = fmax(d->least_kg, dish->is_by_count ? line->need_units * unit_kg : line->need_kg);
    weight += mean;
    over_carve += mean / dish->carve_frac;
    carve_var += mean * cv2(dish->carve_frac, dish->carve_sd_frac);
    if (dish->is_by_count) {
      d->n_by_count++;
      d->units += line->need_units;
      d->mean_units += line->mean_units;
    }
  }
  d->var_kg2 = fmax(0, d->var_kg2);
  d->sd_ask_kg = sqrt(fmax(0, var_ask));
  d->carve_frac = weight > 0 ? weight / over_carve : 1;
  d->carve_cv2 = weight > 0 ? carve_var / weight : 0;
}

/* Least n with P(served by n pieces >= demand) >= cover, and at least least_kg on the mean. */
static int pieces_by_weight(const struct cut_demand *d, double piece_served_kg, double piece_sd_kg)
{
  double z = pw_stats_normal_quantile(d->cover_frac), var = d->sd_ask_kg * d->sd_ask_kg;
  double from = z >= 0 ? fmax(d->least_kg, d->mean_ask_kg) : d->least_kg;
  int n = (int)fmin(PIECES_MAX, ceil(from / piece_served_kg - WHOLE));
  while (n < PIECES_MAX) {
    double over = n * piece_served_kg - d->mean_ask_kg, sd = sqrt(n * piece_sd_kg * piece_sd_kg + var);
    if (over >= z * sd - WHOLE * piece_served_kg)
      break;
    n++;
  }
  return n;
}

/* Distribution of the units wanted of a cut that is sold by count only. */
static pw_status units_wanted(struct pw_stats_sum *out, const struct cut_demand *d, const struct pw_event *ev,
                              const struct pw_demand *demand, struct pw_ctx *ctx)
{
  struct pw_stats_group *groups =
      pw_arena_array(ctx->arena, (size_t)d->n_lines * (size_t)ev->n_classes, sizeof *groups);
  if (!groups)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int i = 0; i < demand->n_lines; i++) {
    const struct pw_demand_line *line = &demand->lines[i];
    if (line->service != d->service || ev->dishes[line->dish].cut != d->cut)
      continue;
    n += pw_demand_groups(groups + n, ev, demand, i, d->service, line->dish);
  }
  return pw_walk_up_sum_make(out, groups, n, pw_walk_up_of(ev, d->service), ctx->arena);
}

static pw_status raw_make(struct pw_raw_need *out, const struct cut_demand *d, const struct pw_event *ev,
                          const struct pw_demand *demand, struct pw_ctx *ctx)
{
  const struct pw_cut *cut = &ev->cuts[d->cut];
  double yield = cut->trim_frac * cooked_frac(ev, d->service, d->cut) * d->carve_frac,
         served_kg = cut->piece_kg * yield;
  double cooked = cooked_frac(ev, d->service, d->cut);
  *out = (struct pw_raw_need){.service = d->service, .cut = d->cut, .yield_frac = yield};
  out->law = (struct pw_piece_law){.cover_frac = d->cover_frac, .cook_frac = cooked, .carve_frac = d->carve_frac};
  if (d->n_by_count == d->n_lines) {
    struct pw_stats_sum wanted;
    pw_status status = units_wanted(&wanted, d, ev, demand, ctx);
    if (status)
      return status;
    double units = d->units;
    if (d->n_lines > 1) { /* several dishes of one cut seldom all run high: cover them together */
      double joint = ceil(pw_stats_sum_quantile(&wanted, d->cover_frac) * d->mean_ask_kg / d->mean_kg - WHOLE);
      units = fmin(units, fmax(joint, d->least_kg / served_kg * cut->units_per_piece - WHOLE));
    }
    out->law.need_units = units;
    out->pieces = (int)fmin(PIECES_MAX, ceil(units / cut->units_per_piece - WHOLE));
    double have = out->pieces * cut->units_per_piece;
    out->leftover_kg = pw_stats_sum_left(&wanted, have) * served_kg / cut->units_per_piece;
    out->runout_frac = pw_stats_sum_above(&wanted, have);
  } else {
    double relative = (1 + cv2(cut->piece_kg, cut->piece_sd_kg)) * (1 + cv2(cut->trim_frac, cut->trim_sd_frac)) *
                          (1 + cv2(cut->cook_frac, cut->cook_sd_frac)) * (1 + d->carve_cv2) -
                      1;
    double piece_sd_kg = served_kg * sqrt(relative);
    out->law = (struct pw_piece_law){.ask_kg = d->mean_ask_kg,
                                     .ask_sd_kg = d->sd_ask_kg,
                                     .least_kg = d->least_kg,
                                     .cover_frac = d->cover_frac,
                                     .piece_kg = served_kg,
                                     .piece_sd_kg = piece_sd_kg,
                                     .want_kg = d->mean_kg,
                                     .want_sd_kg = sqrt(d->var_kg2),
                                     .cook_frac = cooked,
                                     .carve_frac = d->carve_frac};
    out->pieces = pieces_by_weight(d, served_kg, piece_sd_kg);
    double z = pw_stats_normal_quantile(d->cover_frac);
    out->need_kg = d->sd_ask_kg > 0 ? fmax(d->least_kg, d->mean_ask_kg + z * d->sd_ask_kg) : d->least_kg;
    double over = out->pieces * served_kg - d->mean_kg;
    double sd = sqrt(out->pieces * piece_sd_kg * piece_sd_kg + d->var_kg2);
    out->leftover_kg = pw_stats_normal_plus(over, sd);
    out->runout_frac = sd > 0 ? pw_stats_normal_cdf(-over / sd) : over < 0 ? 1 : 0;
  }
  out->raw_mean_kg = out->pieces * cut->piece_kg;
  return PW_OK;
}

pw_status pw_pieces_make(struct pw_purchase *out, const struct pw_event *ev, const struct pw_demand *demand,
                         struct pw_ctx *ctx)
{
  int n_max = ev->n_services * ev->n_cuts;
  struct pw_raw_need *raws = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *raws);
  if (!raws)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int s = 0; s < ev->n_services; s++)
    for (int c = 0; c < ev->n_cuts; c++) {
      struct cut_demand d = {.service = s, .cut = c};
      gather(&d, ev, demand);
      if (!(d.mean_kg > 0)) /* no line, or none that anybody takes */
        continue;
      pw_status status = raw_make(&raws[n], &d, ev, demand, ctx);
      if (status)
        return status;
      if (raws[n].pieces > 0)
        n++;
    }
  out->raws = raws;
  out->n_raws = n;
  return PW_OK;
}
