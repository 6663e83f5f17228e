/* demand.c - guests x menu -> served need per menu line [D1].
 *
 * choice.c says how one guest of full appetite takes a line: mean m and square q of the amount.  A guest of a class
 * takes appetite a of that:
 *   mean     = sum over classes of n a m,      variance = sum over classes of n a^2 (q - m^2)
 * Classes may have take rates of their own: then each has its own m and q, and a guest of no class in particular the mean of them.
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

const struct pw_law *pw_demand_law(const struct pw_demand *demand, const struct pw_event *ev, int line, int class)
{
  return demand->class_laws ? &demand->class_laws[line * ev->n_classes + class] : &demand->laws[line];
}

/* Guests of a class who may take a dish. */
static int eaters(const struct pw_event *ev, int service, int class, bool is_meat)
{
  const struct pw_guest_class *c = &ev->classes[class];
  return c->appetite_frac > 0 && (c->eats_meat || !is_meat) ? ev->services[service].guests[class] : 0;
}

int pw_demand_groups(struct pw_stats_group *groups, const struct pw_event *ev, const struct pw_demand *demand, int line,
                     int service, int dish)
{
  bool is_meat = pw_demand_is_meat(ev, dish);
  int n = 0;
  for (int c = 0; c < ev->n_classes; c++) {
    const struct pw_law *law = pw_demand_law(demand, ev, line, c);
    int guests = eaters(ev, service, c, is_meat);
    if (guests > 0)
      groups[n++] =
          (struct pw_stats_group){guests, law->take_frac, ev->classes[c].appetite_frac * law->portion, law->again_frac};
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

static pw_status line_make(struct pw_demand *demand, int at, const struct pw_event *ev, int service, int menu_line,
                           struct pw_stats_group *groups, struct pw_ctx *ctx)
{
  struct pw_demand_line *out = &demand->lines[at];
  const struct pw_law *law = &demand->laws[at];
  int dish_i = ev->services[service].menu[menu_line].dish, heads = 0;
  const struct pw_dish *dish = &ev->dishes[dish_i];
  bool is_meat = pw_demand_is_meat(ev, dish_i);
  double guests_eq = 0, mean = 0, variance = 0, taken = 0, cover = cover_of(ev, service, menu_line, law);
  struct pw_stats_sum amount, portions;
  const struct pw_choice *choice = pw_walk_up_of(ev, service);
  double heads_mean = pw_walk_up_mean(choice);
  for (int c = 0; c < ev->n_classes; c++) {
    const struct pw_law *own = pw_demand_law(demand, ev, at, c);
    double n = eaters(ev, service, c, is_meat), a = ev->classes[c].appetite_frac;
    heads += (int)n;
    guests_eq += n * a;
    mean += n * a * own->mean;
    variance += n * a * a * (own->square - own->mean * own->mean);
    taken += n * own->take_frac;
  }
  variance = variance * heads_mean + mean * mean * pw_walk_up_variance(choice);
  mean *= heads_mean;
  int n_groups = pw_demand_groups(groups, ev, demand, at, service, dish_i);
  pw_status status = pw_walk_up_sum_make(&amount, groups, n_groups, choice, ctx->arena);
  for (int g = 0; g < n_groups; g++)
    groups[g].weight = 1;
  if (!demand->class_laws) {
    groups[0] = (struct pw_stats_group){heads, law->take_frac, 1, law->again_frac};
    n_groups = 1;
    taken = heads * law->take_frac;
  }
  if (!status)
    status = pw_walk_up_sum_make(&portions, groups, n_groups, choice, ctx->arena);
  if (status)
    return status;
  double exact = pw_stats_sum_quantile(&amount, cover), sd = sqrt(fmax(0, variance)), extra = 1 + dish->reserve_frac;
  *out = (struct pw_demand_line){.service = service,
                                 .dish = dish_i,
                                 .guests_eq = guests_eq,
                                 .cover_frac = cover,
                                 .portions = (int)ceil(taken * heads_mean * (1 + law->again_frac) - WHOLE),
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
      sum += ev->services[service].guests[c] * ev->classes[c].appetite_frac *
             (demand->class_laws ? pw_demand_law(demand, ev, line, c)->mean : 1);
  return demand->class_laws ? sum : sum * demand->laws[line].mean;
}

/* Covariances of the lines of one service, from the products of what one guest takes, joint[class of laws][line][line]; an uncertain
 * number of guests moves all lines together. */
static void cov_fill(struct pw_demand *demand, int first, const struct pw_event *ev, int service, const double *joint)
{
  int n = ev->services[service].n_menu;
  const struct pw_choice *choice = pw_walk_up_of(ev, service);
  double heads_mean = pw_walk_up_mean(choice), heads_var = pw_walk_up_variance(choice);
  for (int i = 0; i < n; i++)
    for (int k = 0; k < n; k++) {
      bool is_meat =
          pw_demand_is_meat(ev, demand->lines[first + i].dish) || pw_demand_is_meat(ev, demand->lines[first + k].dish);
      double sum = 0;
      for (int c = 0; c < ev->n_classes; c++) {
        double product = joint[((demand->class_laws ? c : 0) * n + i) * n + k] -
                         pw_demand_law(demand, ev, first + i, c)->mean * pw_demand_law(demand, ev, first + k, c)->mean;
        if (ev->classes[c].eats_meat || !is_meat)
          sum +=
              ev->services[service].guests[c] * ev->classes[c].appetite_frac * ev->classes[c].appetite_frac * product;
      }
      demand->cov[(first + i) * demand->n_lines + first + k] =
          sum * heads_mean +
          mean_as_planned(demand, first + i, ev, service) * mean_as_planned(demand, first + k, ev, service) * heads_var;
    }
}

/* The laws of all classes as one: of a guest drawn from those who may take the line. */
static void mix_laws(struct pw_demand *demand, int line, const struct pw_event *ev, int service, int dish)
{
  bool is_meat = pw_demand_is_meat(ev, dish);
  struct pw_law mixed = demand->laws[line];
  double n = 0, take = 0, mean = 0, square = 0;
  for (int c = 0; c < ev->n_classes; c++) {
    const struct pw_law *own = pw_demand_law(demand, ev, line, c);
    int heads = eaters(ev, service, c, is_meat);
    n += heads;
    take += heads * own->take_frac;
    mean += heads * own->mean;
    square += heads * own->square;
  }
  if (!(n > 0))
    return;
  mixed.take_frac = take / n;
  mixed.mean = mean / n;
  mixed.square = square / n;
  if (mixed.take_frac > 0)
    mixed.portion = mixed.mean / mixed.take_frac / (1 + mixed.again_frac);
  demand->laws[line] = mixed;
}

static pw_status service_make(struct pw_demand *demand, int first, const struct pw_event *ev, int service,
                              struct pw_stats_group *groups, struct pw_ctx *ctx)
{
  int n = ev->services[service].n_menu, n_joints = demand->class_laws ? ev->n_classes : 1;
  double *joint = pw_arena_array(ctx->arena, (size_t)n * (size_t)n * (size_t)n_joints, sizeof *joint);
  struct pw_law *own = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *own);
  if (!joint || !own)
    return PW_ERR_MEMORY;
  pw_status status = pw_choice_laws(demand->laws + first, joint, ev, service, PW_NONE, ctx);
  for (int c = 0; c < ev->n_classes && demand->class_laws && !status; c++) {
    status = pw_choice_laws(own, joint + (size_t)c * (size_t)n * (size_t)n, ev, service, c, ctx);
    for (int m = 0; m < n; m++)
      demand->class_laws[(first + m) * ev->n_classes + c] = own[m];
  }
  for (int m = 0; m < n && demand->class_laws && !status; m++)
    mix_laws(demand, first + m, ev, service, ev->services[service].menu[m].dish);
  for (int m = 0; m < n && !status; m++)
    status = line_make(demand, first + m, ev, service, m, groups, ctx);
  if (!status)
    cov_fill(demand, first, ev, service, joint);
  return status;
}

static bool has_class_takes(const struct pw_event *ev)
{
  for (int s = 0; s < ev->n_services; s++)
    for (int m = 0; m < ev->services[s].n_menu; m++)
      if (ev->services[s].menu[m].take_of_frac)
        return true;
  return false;
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
  if (has_class_takes(ev) &&
      !(demand.class_laws = pw_arena_array(ctx->arena, n * (size_t)ev->n_classes, sizeof *demand.class_laws)))
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
