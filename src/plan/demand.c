/* demand.c - guests x menu -> served need per menu line [D1].
 *
 * A guest takes a dish with chance p and then eats appetite x portion (mean mu, spread sigma):
 *   mean     = sum over classes of n a p mu
 *   variance = sum over classes of n a^2 (p sigma^2 + p (1 - p) mu^2)
 * By weight the need is the normal quantile at the cover, but never less than the exact quantile of the takers
 * at the mean portion (the normal form is too thin for small parties).  By count it is that exact quantile in
 * whole units.  A reserve (dishes whose spread nobody knows) multiplies the need. */
#include "plan/demand.h"

#include "plan/head_count.h"
#include "plan/stages.h"

#include <math.h>

#define WHOLE 1e-9 /* a product of decimals this little above a whole number is that number */

bool pw_demand_is_meat(const struct pw_event *ev, int dish)
{
  int cut = ev->dishes[dish].cut;
  return cut != PW_NONE && ev->cuts[cut].kind != PW_KIND_PLANT;
}

int pw_demand_groups(struct pw_stats_group *groups, const struct pw_event *ev, int service,
                     const struct pw_menu_line *menu, double per_portion)
{
  bool is_meat = pw_demand_is_meat(ev, menu->dish);
  int n = 0;
  for (int c = 0; c < ev->n_classes; c++) {
    const struct pw_guest_class *class = &ev->classes[c];
    int guests = ev->services[service].guests[c];
    if (guests > 0 && class->appetite_frac > 0 && (class->eats_meat || !is_meat))
      groups[n++] = (struct pw_stats_group){guests, menu->take_frac, class->appetite_frac * per_portion};
  }
  return n;
}

const struct pw_menu_line *pw_demand_menu_line(const struct pw_event *ev, const struct pw_demand *demand, int line)
{
  int service = demand->lines[line].service, first = line;
  while (first > 0 && demand->lines[first - 1].service == service)
    first--;
  return &ev->services[service].menu[line - first];
}

static pw_status line_make(struct pw_demand_line *out, const struct pw_event *ev, int service,
                           const struct pw_menu_line *menu, struct pw_stats_group *groups, struct pw_ctx *ctx)
{
  const struct pw_dish *dish = &ev->dishes[menu->dish];
  double cover = ev->terms.cover_frac, p = menu->take_frac;
  double portion = dish->is_by_count ? menu->portion_units : menu->portion_kg;
  double sigma = dish->is_by_count ? 0 : menu->portion_sd_kg;
  int heads = 0, n_groups = pw_demand_groups(groups, ev, service, menu, 1);
  double guests_eq = 0, variance = 0;
  for (int g = 0; g < n_groups; g++) {
    double n = groups[g].n, a = groups[g].weight;
    heads += groups[g].n;
    guests_eq += n * a;
    variance += n * a * a * (p * sigma * sigma + p * (1 - p) * portion * portion);
    groups[g].weight = a * portion;
  }
  struct pw_stats_sum takers;
  pw_status status = pw_stats_sum_make(&takers, groups, n_groups, ctx->arena);
  if (status)
    return status;
  double exact = pw_stats_sum_quantile(&takers, cover), mean = guests_eq * p * portion, sd = sqrt(variance);
  double extra = 1 + dish->reserve_frac;
  *out = (struct pw_demand_line){.service = service,
                                 .dish = menu->dish,
                                 .guests_eq = guests_eq,
                                 .cover_frac = cover,
                                 .portions = (int)ceil(heads * p - WHOLE),
                                 .portions_cover = pw_stats_binomial_quantile(heads, p, cover)};
  if (dish->is_by_count) {
    out->mean_units = mean;
    out->sd_units = sd;
    out->need_units = fmax(0, ceil(exact * extra - WHOLE));
  } else {
    double normal = sd > 0 ? mean + sd * pw_stats_normal_quantile(cover) : mean;
    out->mean_kg = mean;
    out->sd_kg = sd;
    out->need_kg = (sigma > 0 ? fmax(normal, exact) : exact) * extra;
  }
  return PW_OK;
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
  struct pw_stats_group *groups = pw_arena_array(ctx->arena, (size_t)ev->n_classes, sizeof *groups);
  demand.lines = pw_arena_array(ctx->arena, (size_t)demand.n_lines, sizeof *demand.lines);
  if (!groups || !demand.lines)
    return PW_ERR_MEMORY;
  int i = 0;
  for (int s = 0; s < ev->n_services; s++)
    for (int m = 0; m < ev->services[s].n_menu; m++) {
      pw_status status = line_make(&demand.lines[i++], ev, s, &ev->services[s].menu[m], groups, ctx);
      if (status)
        return status;
    }
  *out = demand;
  return PW_OK;
}
