/* demand.c - guests x menu -> served need per menu line [D1].
 *
 * choice.c says how one guest of full appetite takes a line: mean m and square q of the amount.  A guest of a class
 * takes appetite a of that:
 *   mean     = sum over classes of n a m,      variance = sum over classes of n a^2 (q - m^2)
 * With take rate p, portion mu and spread sigma alone: m = p mu, q - m^2 = p sigma^2 + p (1 - p) mu^2.
 * Where nobody has to book, the number who come is a random share F of n (walk_up.c): mean x E F, variance x E F +
 * (n a m)^2 Var F, counts by the mixture.
 * By weight the need is the normal quantile at the cover, but never less than the exact quantile of the takers
 * at the mean portion (the normal form is too thin for small parties).  By count it is that exact quantile in
 * whole units.  A reserve (dishes whose spread nobody knows) multiplies the need.  The cover is the menu line's own,
 * else the newsvendor's when a portion short has a price, else the event's. */
#include "plan/demand/demand.h"

#include "plan/demand/choice.h"
#include "plan/demand/head_count.h"
#include "plan/demand/meat.h"
#include "plan/demand/portion_cost.h"
#include "plan/demand/walk_up.h"
#include "plan/stages.h"

#include <math.h>

#define WHOLE 1e-9 /* a product of decimals this little above a whole number is that number */

bool pw_demand_is_meat(const struct pw_event *ev, int dish)
{
  int cut = ev->dishes[dish].cut;
  return cut != PW_NONE && ev->cuts[cut].kind != PW_KIND_PLANT;
}

int pw_demand_groups(struct pw_stats_group *groups, const struct pw_event *ev, int service, int dish,
                     const struct pw_law *law, double per_portion)
{
  bool is_meat = pw_demand_is_meat(ev, dish);
  int n = 0;
  for (int c = 0; c < ev->n_classes; c++) {
    const struct pw_guest_class *class = &ev->classes[c];
    int guests = ev->services[service].guests[c];
    if (guests > 0 && class->appetite_frac > 0 && (class->eats_meat || !is_meat))
      groups[n++] =
          (struct pw_stats_group){guests, law->take_frac, class->appetite_frac * per_portion, law->again_frac};
  }
  return n;
}

static double cover_of(const struct pw_event *ev, int service, int menu_line, const struct pw_law *law)
{
  const double *own = ev->choices ? ev->choices[service].cover_frac : NULL;
  if (own && own[menu_line] > 0)
    return own[menu_line];
  if (ev->terms.short_cents > 0)
    return pw_newsvendor_cover((double)ev->terms.short_cents,
                               pw_portion_cost(ev, ev->services[service].menu[menu_line].dish, law->portion));
  return ev->terms.cover_frac;
}

static pw_status line_make(struct pw_demand_line *out, const struct pw_event *ev, int service, int menu_line,
                           const struct pw_law *law, struct pw_stats_group *groups, struct pw_ctx *ctx)
{
  int dish_i = ev->services[service].menu[menu_line].dish, heads = 0;
  const struct pw_dish *dish = &ev->dishes[dish_i];
  double guests_eq = 0, mean = 0, variance = 0, cover = cover_of(ev, service, menu_line, law);
  struct pw_stats_sum amount, portions;
  const struct pw_choice *choice = pw_walk_up_of(ev, service);
  double heads_mean = pw_walk_up_mean(choice);
  int n_groups = pw_demand_groups(groups, ev, service, dish_i, law, 1);
  for (int g = 0; g < n_groups; g++) {
    double n = groups[g].n, a = groups[g].weight;
    heads += groups[g].n;
    guests_eq += n * a;
    mean += n * a * law->mean;
    variance += n * a * a * (law->square - law->mean * law->mean);
    groups[g].weight = a * law->portion;
  }
  variance = variance * heads_mean + mean * mean * pw_walk_up_variance(choice);
  mean *= heads_mean;
  pw_status status = pw_walk_up_sum_make(&amount, groups, n_groups, choice, ctx->arena);
  groups[0] = (struct pw_stats_group){heads, law->take_frac, 1, law->again_frac};
  if (!status)
    status = pw_walk_up_sum_make(&portions, groups, 1, choice, ctx->arena);
  if (status)
    return status;
  double exact = pw_stats_sum_quantile(&amount, cover), sd = sqrt(fmax(0, variance)), extra = 1 + dish->reserve_frac;
  *out = (struct pw_demand_line){.service = service,
                                 .dish = dish_i,
                                 .guests_eq = guests_eq,
                                 .cover_frac = cover,
                                 .portions =
                                     (int)ceil(heads * heads_mean * law->take_frac * (1 + law->again_frac) - WHOLE),
                                 .portions_cover = (int)(pw_stats_sum_quantile(&portions, cover) + 0.5)};
  if (dish->is_by_count) {
    out->mean_units = mean;
    out->sd_units = sd;
    out->need_units = fmax(0, ceil(exact * extra - WHOLE));
  } else {
    double normal = sd > 0 ? mean + sd * pw_stats_normal_quantile(cover) : mean;
    out->mean_kg = mean;
    out->sd_kg = sd;
    out->need_kg = (law->has_spread ? fmax(normal, exact) : exact) * extra;
  }
  return PW_OK;
}

/* What a line is wanted on the mean if just those planned come. */
static double mean_as_planned(const struct pw_demand *demand, int line, const struct pw_event *ev, int service)
{
  bool is_meat = pw_demand_is_meat(ev, demand->lines[line].dish);
  double sum = 0;
  for (int c = 0; c < ev->n_classes; c++)
    if (ev->classes[c].eats_meat || !is_meat)
      sum += ev->services[service].guests[c] * ev->classes[c].appetite_frac;
  return sum * demand->laws[line].mean;
}

/* Covariances of the lines of one service, from the products of what one guest takes; an uncertain number of guests
 * moves all lines together. */
static void cov_fill(struct pw_demand *demand, int first, const struct pw_event *ev, int service, const double *joint)
{
  int n = ev->services[service].n_menu;
  const struct pw_choice *choice = pw_walk_up_of(ev, service);
  double heads_mean = pw_walk_up_mean(choice), heads_var = pw_walk_up_variance(choice);
  for (int i = 0; i < n; i++)
    for (int k = 0; k < n; k++) {
      bool is_meat =
          pw_demand_is_meat(ev, demand->lines[first + i].dish) || pw_demand_is_meat(ev, demand->lines[first + k].dish);
      double product = joint[i * n + k] - demand->laws[first + i].mean * demand->laws[first + k].mean, sum = 0;
      for (int c = 0; c < ev->n_classes; c++)
        if (ev->classes[c].eats_meat || !is_meat)
          sum +=
              ev->services[service].guests[c] * ev->classes[c].appetite_frac * ev->classes[c].appetite_frac * product;
      demand->cov[(first + i) * demand->n_lines + first + k] =
          sum * heads_mean +
          mean_as_planned(demand, first + i, ev, service) * mean_as_planned(demand, first + k, ev, service) * heads_var;
    }
}

static pw_status service_make(struct pw_demand *demand, int first, const struct pw_event *ev, int service,
                              struct pw_stats_group *groups, struct pw_ctx *ctx)
{
  int n = ev->services[service].n_menu;
  double *joint = pw_arena_array(ctx->arena, (size_t)n * (size_t)n, sizeof *joint);
  if (!joint)
    return PW_ERR_MEMORY;
  pw_status status = pw_choice_laws(demand->laws + first, joint, ev, service, ctx);
  for (int m = 0; m < n && !status; m++)
    status = line_make(&demand->lines[first + m], ev, service, m, &demand->laws[first + m], groups, ctx);
  if (!status)
    cov_fill(demand, first, ev, service, joint);
  return status;
}

pw_status pw_demand_make(struct pw_demand *out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  *out = (struct pw_demand){0};
  struct pw_demand demand = {0};
  for (int s = 0; s < ev->n_services; s++) {
    demand.n_lines += ev->services[s].n_menu;
    for (int c = 0; c < ev->n_classes; c++)
      demand.covers += ev->services[s].guests[c];
  }
  demand.head_count = pw_head_count(ev);
  size_t n = (size_t)demand.n_lines;
  struct pw_stats_group *groups = pw_arena_array(ctx->arena, (size_t)ev->n_classes + 1, sizeof *groups);
  demand.lines = pw_arena_array(ctx->arena, n, sizeof *demand.lines);
  demand.laws = pw_arena_array(ctx->arena, n, sizeof *demand.laws);
  demand.cov = pw_arena_array(ctx->arena, n * n, sizeof *demand.cov);
  if (!groups || !demand.lines || !demand.laws || !demand.cov)
    return PW_ERR_MEMORY;
  for (int s = 0, first = 0; s < ev->n_services; first += ev->services[s++].n_menu) {
    pw_status status = service_make(&demand, first, ev, s, groups, ctx);
    if (status)
      return status;
  }
  *out = demand;
  pw_meat_warn(ev, out, ctx);
  return PW_OK;
}
