/* costs.c - see costs.h. */
#include "sheet/costs.h"

#include "base/arena.h"
#include "base/format.h"
#include "plan/joint/joint.h"
#include "sheet/chance_words.h"
#include "sheet/words.h"

#include <math.h>

/* ---- lines of the cost -------------------------------------------------------------------------------------- */

#define CENTS_OF(what)                                                                                                 \
  offsetof(struct pw_quote, what##_cents), offsetof(struct pw_plan_job, what##_cents),                                 \
      offsetof(struct pw_job_share, what##_cents)

static const struct pw_cost_line LINES[] = {
    {"Food", "Food", CENTS_OF(food), "=food_cost"},
    {"Disposables, supplies, deliveries", "Supplies, deliveries", CENTS_OF(supplies), "=supplies_cost"},
    {"Wood, charcoal, ovens", "Wood, charcoal, ovens", CENTS_OF(fuel), "=fuel_cost+oven_cost"},
    {"Crew", "Crew", CENTS_OF(labour), "=labour_cost"},
    {"Rental", "Rental", CENTS_OF(rental), "=rental_cost"},
    {"Travel", "Travel", CENTS_OF(travel), "=ROUND(2*travel_distance*travel_rate,[digits])"},
    {"Overhead", "Overhead", CENTS_OF(overhead),
     "=overhead_fixed+ROUND(SUM(B[first row]:B[row above])*overhead_rate,[digits])"},
};
enum { N_LINES = sizeof LINES / sizeof *LINES };

const struct pw_cost_line *pw_cost_lines(int *n)
{
  *n = N_LINES;
  return LINES;
}

static pw_cents cents_at(const void *of, size_t at) { return *(const pw_cents *)((const char *)of + at); }

pw_cents pw_cost_of_quote(const struct pw_cost_line *line, const struct pw_quote *quote)
{
  return cents_at(quote, line->in_quote);
}

pw_cents pw_cost_of_job(const struct pw_cost_line *line, const struct pw_plan_job *job)
{
  return cents_at(job, line->in_job);
}

pw_cents pw_cost_of_share(const struct pw_cost_line *line, const struct pw_job_share *share)
{
  return cents_at(share, line->in_share);
}

/* A share 0..1 as a bar of blocks. */
static const char *bar(struct pw_told_table *t, double share)
{
  const char *text = "";
  for (int i = 0; i < (int)floor(share * 20 + 0.5) && i < 20; i++)
    text = pw_table_words(t, "%s\xE2\x96\x88", text);
  return text;
}

struct pw_told_table pw_costs_lines(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 40, "Cost"}, .grid = {1, "Cost"}},
      {PW_TABLE_MONEY, .page = {2, 2, 16}, .grid = {2, "Amount"}},
      {PW_TABLE_SHARE, .page = {3, 2, 8, "share"},
       .grid = {3, "Share of cost", .formula = "=IF(cost_total=0,0,B#/cost_total)"}},
      {PW_TABLE_WORDS, .grid = {4, .role = PW_G_SUBTITLE,
                                .formula = "=IF(MAX($B$[first row]:$B$[last row])>0,REPT(\"\xE2\x96\x88\","
                                           "ROUND(20*B#/MAX($B$[first row]:$B$[last row]),0)),\"\")"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  const struct pw_quote *q = &plan->quote;
  double most = 0;
  for (int i = 0; i < N_LINES; i++)
    most = fmax(most, (double)pw_cost_of_quote(&LINES[i], q));
  for (int i = 0; i <= N_LINES; i++) {
    double cents = (double)(i < N_LINES ? pw_cost_of_quote(&LINES[i], q) : q->cost_cents);
    double share = q->cost_cents != 0 ? cents / (double)q->cost_cents : 0;
    pw_table_row(&t, NULL, pw_cell_words(i < N_LINES ? LINES[i].name : "All of it"),
                 pw_cell_calc(i < N_LINES ? LINES[i].formula : NULL, cents),
                 q->cost_cents > 0 ? pw_cell_value(share) : pw_cell_both("", share),
                 pw_cell_words(bar(&t, most > 0 ? cents / most : 0)));
  }
  pw_table_only(&t, PW_FORM_PAGE);
  return t;
}

/* ---- tables of the owner's page ----------------------------------------------------------------------------- */

/* Under a meal's name where there are several. */
static const char *band(const struct pw_event *ev, int service, bool is_first)
{
  return ev->n_services > 1 && is_first ? ev->services[service].name : NULL;
}

struct pw_told_table pw_costs_services(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 33}},
      {PW_TABLE_WORDS, .grid = {1, "Service"}},
      {PW_TABLE_MONEY, .page = {3, 1, 14, "all of it"}, .grid = {2, "All of it", .formula = "=[Food]+[All else]"}},
      {PW_TABLE_MONEY, .page = {2, 1, 14, "food"}, .grid = {3, "Food"}},
      {PW_TABLE_MONEY, .grid = {4, "All else"}},
      {PW_TABLE_COUNT, .grid = {5, "Guests"}},
      {PW_TABLE_MONEY, .page = {4, 1, 14, "a guest"},
       .grid = {6, "A guest", .formula = "=IF([Guests]=0,0,ROUND([All of it]/[Guests],[digits]))"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  for (int i = 0; i < plan->event->n_services && plan->quote.services; i++) {
    const struct pw_service_cost *c = &plan->quote.services[i];
    const char *name = plan->event->services[i].name;
    double all = (double)c->food_cents + (double)c->other_cents;
    pw_table_row(&t, NULL, pw_cell_words(pw_table_words(&t, "%s, %s", name, pw_words_guests(c->guests).s)),
                 pw_cell_words(name), pw_cell_value(all), pw_cell_value((double)c->food_cents),
                 pw_cell_value((double)c->other_cents), pw_cell_value(c->guests),
                 c->guests > 0 ? pw_cell_value((double)llround(all / c->guests)) : pw_cell_both("", 0));
  }
  return t;
}

/* A role's hours, or those of all of them. */
static void role_row(struct pw_told_table *t, const struct pw_role_cost *r)
{
  double filled = r->paid_h > 0 ? r->task_h / r->paid_h : 0;
  pw_table_row(t, NULL, pw_cell_words(r->role), pw_cell_value((double)r->cents), pw_cell_value(r->paid_h),
               pw_cell_both(pw_table_words(t, "%s, %s", pw_format_number(r->task_h, 1).s,
                                           pw_format_percent(floor(filled * 100 + 0.5) / 100).s),
                            r->task_h),
               r->task_h > r->paid_h ? pw_cell_words("none") : pw_cell_value(r->paid_h - r->task_h),
               pw_cell_value(filled));
}

struct pw_told_table pw_costs_roles(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 28}, .grid = {1, "Role"}},
      {PW_TABLE_MONEY, .page = {5, 2, 12, "cost"}, .grid = {2, "Cost"}},
      {PW_TABLE_NUMBER, .page = {2, 0, 11, "hours paid"}, .grid = {3, "Hours paid, as planned"}},
      {PW_TABLE_NUMBER, .page = {3, 1, 13, "in tasks"}, .grid = {4, "Hours in tasks, as planned"}},
      {PW_TABLE_NUMBER, .page = {4, 1, 10, "free"}},
      {PW_TABLE_SHARE, .grid = {5, "Filled", .formula = "=IF(C#=0,0,D#/C#)"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  const struct pw_quote *q = &plan->quote;
  struct pw_role_cost all = {.role = "All together"};
  for (int i = 0; i < q->n_roles; i++) {
    role_row(&t, &q->roles[i]);
    all.paid_h += q->roles[i].paid_h;
    all.task_h += q->roles[i].task_h;
    all.cents += q->roles[i].cents;
  }
  if (q->n_roles > 1) {
    role_row(&t, &all);
    pw_table_only(&t, PW_FORM_PAGE);
  }
  return t;
}

struct pw_told_table pw_costs_dishes(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 4, 30}},
      {PW_TABLE_WORDS, .grid = {1, "Dish"}},
      {PW_TABLE_MONEY, .page = {5, 2, 12, "food"}, .grid = {2, "Food"}},
      {PW_TABLE_COUNT, .page = {2, 1, 9, "portions"}, .grid = {3, "Portions"}},
      {PW_TABLE_MONEY, .page = {3, 1, 9, "each"}, .grid = {4, "Food per portion"}},
      {PW_TABLE_MONEY, .page = {4, 1, 11, "if short"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  const struct pw_event *ev = plan->event;
  for (int i = 0; i < plan->demand.n_lines && plan->purchase.dishes; i++) {
    const struct pw_demand_line *line = &plan->demand.lines[i];
    const struct pw_dish_cost *d = &plan->purchase.dishes[i];
    const char *name = ev->dishes[line->dish].name;
    pw_table_row(&t, band(ev, line->service, i == 0 || line->service != line[-1].service), pw_cell_words(name),
                 pw_cell_words(pw_table_words(&t, "%s, %s", name, ev->services[line->service].name)),
                 pw_cell_value((double)d->food_cents), pw_cell_value(pw_words_whole_portions(d->portions)),
                 pw_cell_value(d->portion_cents), d->short_cents > 0 ? pw_cell_value(d->short_cents) : pw_cell_none());
  }
  return t;
}

struct pw_told_table pw_costs_suppliers(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 33}, .grid = {1, "Supplier"}},
      {PW_TABLE_MONEY, .page = {2, 1, 14, "order"}, .grid = {2, "Order", .formula = "=C#+D#"}},
      {PW_TABLE_MONEY, .grid = {3, "Goods"}},
      {PW_TABLE_MONEY, .grid = {4, "Fee, top-up"}},
      {PW_TABLE_MONEY, .page = {3, 2, 28, "without them"}, .grid = {5, "Without them", .over = 1}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  for (int i = 0; i < plan->purchase.n_orders; i++) {
    const struct pw_order *o = &plan->purchase.orders[i];
    double extra = (double)o->delivery_cents + (double)o->top_up_cents;
    pw_table_row(
        &t, NULL, pw_cell_words(o->supplier), pw_cell_value((double)o->goods_cents + extra),
        pw_cell_value((double)o->goods_cents), pw_cell_value(extra),
        pw_cell_words(o->without_cents < 0
                          ? "no one else sells it all"
                          : pw_table_words(&t, "%s more in all", pw_money_format(plan->event, o->without_cents).s)));
  }
  return t;
}

struct pw_told_table pw_costs_ladder(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_COUNT, .page = {1, 2, 7, "guests"}, .grid = {1, "Guests"}},
      {PW_TABLE_MONEY, .page = {2, 2, 14, "cost"}, .grid = {2, "Cost"}},
      {PW_TABLE_MONEY, .page = {3, 2, 14, "list price"}, .grid = {3, "Price"}},
      {PW_TABLE_MONEY, .grid = {4, "Total with tax"}},
      {PW_TABLE_SHARE, .page = {4, 2, 8, "margin"}},
      {PW_TABLE_MONEY, .page = {5, 2, 12, "per guest"}, .grid = {5, "Per guest"}},
      {PW_TABLE_WORDS, .page = {6, 1, 14}},
      {PW_TABLE_WORDS, .grid = {6, NULL}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  const struct pw_quote *q = &plan->quote;
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_quote_rung *r = &q->ladder[i];
    double net = (double)r->price_cents * (1 - plan->event->terms.discount_frac);
    bool is_plan = r->missed == 0 && r->guests == q->guests;
    pw_table_row(&t, NULL, pw_cell_value(r->guests), pw_cell_value((double)r->cost_cents),
                 pw_cell_value((double)r->price_cents), pw_cell_value((double)r->total_cents),
                 net > 0 ? pw_cell_value((net - (double)r->cost_cents) / net) : pw_cell_none(),
                 pw_cell_value((double)r->per_guest_cents),
                 pw_cell_words(r->missed > 0
                                   ? pw_table_words(&t, "%s", pw_words_count(r->missed, "does not fit", "do not fit").s)
                               : is_plan ? "<"
                                         : ""),
                 r->missed > 0 ? pw_cell_words(pw_table_words(&t, "short by %s", pw_words_pieces(r->missed).s))
                 : is_plan     ? pw_cell_words("this plan")
                               : pw_cell_none());
  }
  return t;
}

struct pw_told_table pw_costs_levels(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 18, "time to spare"}, .grid = {1, "Time to spare"}},
      {PW_TABLE_COUNT, .page = {2, 0, 14, "on time"}, .grid = {2, "On time, of 100"}},
      {PW_TABLE_COUNT, .page = {3, 1, 14, "meals late"}, .grid = {3, "Meals late, of 100"}},
      {PW_TABLE_MONEY, .page = {4, 1, 13, "cost"}, .grid = {4, "Cost"}},
      {PW_TABLE_MONEY, .page = {5, 1, 16, "a late one costs"}, .grid = {5, "A late one costs"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  t.is_kept = true; /* a note follows */
  for (int i = 0; i < plan->quote.n_levels; i++) {
    const struct pw_quote_level *level = &plan->quote.levels[i];
    double on_time = floor(level->chance_frac * 100 + 1e-9), late = nearbyint(level->late_meals_frac * 100);
    pw_table_row(&t, NULL, pw_cell_words(pw_level_words(level)),
                 pw_cell_both(pw_table_words(&t, "%.0f of 100", on_time), on_time),
                 pw_cell_both(pw_table_words(&t, "%.0f in 100", late), late), pw_cell_value((double)level->cost_cents),
                 level->late_meal_cents > 0 ? pw_cell_value((double)level->late_meal_cents) : pw_cell_none());
  }
  return t;
}

struct pw_told_table pw_costs_choices(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 2, 29}, .grid = {1, "Choice"}},
      {PW_TABLE_MONEY, .page = {2, 1, 10, "cost"}, .grid = {2, "Cost"}},
      {PW_TABLE_MONEY, .page = {4, 3, 10, "price"}, .grid = {3, "Price"}},
      {PW_TABLE_MONEY, .page = {3, 1, 10, "without it"}, .grid = {4, "Cost without"}},
      {PW_TABLE_MONEY, .page = {5, 1, 10, "without it"}, .grid = {5, "Price without"}},
      {PW_TABLE_MONEY, .grid = {6, "More a guest"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  for (int i = 0; i < plan->quote.n_options; i++) {
    const struct pw_quote_option *o = &plan->quote.options[i];
    const char *what = pw_words_choice(plan->event, o, arena);
    t.has_failed = t.has_failed || !what;
    if (!what)
      break;
    if (o->missed > 0)
      pw_table_row(&t, NULL,
                   pw_cell_words(pw_table_words(&t, "%s: does not fit, %s without a place; not offered", what,
                                                pw_words_pieces(o->missed).s)));
    else
      pw_table_row(&t, NULL, pw_cell_words(what), pw_cell_value((double)o->cost_cents),
                   pw_cell_value((double)o->price_cents), pw_cell_value((double)o->base_cost_cents),
                   pw_cell_value((double)o->base_price_cents), pw_cell_value((double)o->more_per_guest_cents));
  }
  return t;
}

struct pw_told_table pw_costs_leaves(const struct pw_plan *plan, struct pw_arena *arena)
{
  static const struct pw_table_column columns[] = {
      {PW_TABLE_WORDS, .page = {1, 4, 29, "left out"}, .grid = {1, "Left out"}},
      {PW_TABLE_MONEY, .page = {2, 1, 10, "saves"}, .grid = {2, "Saves"}},
      {PW_TABLE_MONEY, .page = {3, 1, 11, "cost then"}, .grid = {3, "Cost then"}},
      {PW_TABLE_MONEY, .page = {4, 1, 12, "price asked"}, .grid = {4, "Price asked"}},
      {PW_TABLE_SHARE, .page = {5, 1, 8, "margin"}, .grid = {5, "Margin"}}};
  struct pw_told_table t = pw_table_of(plan, arena, columns);
  pw_cents before = plan->quote.cost_cents;
  for (int i = 0; i < plan->quote.n_leaves; i++) {
    const struct pw_quote_leave *l = &plan->quote.leaves[i];
    const char *what = pw_words_dish_at(plan->event, l->service, l->dish, arena);
    t.has_failed = t.has_failed || !what;
    if (!what)
      break;
    pw_table_row(&t, NULL, pw_cell_words(what), pw_cell_value((double)(before - l->cost_cents)),
                 pw_cell_value((double)l->cost_cents), pw_cell_value((double)l->price_cents),
                 pw_cell_value(l->margin_frac));
    before = l->cost_cents;
  }
  return t;
}
