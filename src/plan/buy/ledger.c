/* ledger.c - every source of a need, added to one account per item: whole pieces of a cut; what a dish, a cut or
 * the event uses per portion, guest, piece, raw kilogram, service or event.  Nothing is rounded here but portions
 * of things that are counted.  Each amount keeps the menu line it is for, so that its cost finds the dish. */
#include "plan/buy/ledger.h"

#include "base/arena.h"
#include "base/clock.h"
#include "plan/demand/cook_day.h"
#include "plan/demand/portions.h"
#include "plan/demand/walk_up.h"

#include <limits.h>
#include <math.h>

enum { DAY_MIN = 24 * 60, PREP_AT_MIN = 12 * 60 };

#define WHOLE 1e-9 /* a product of decimals this little above a whole number is that number */

struct ledger {
  const struct pw_event *ev;
  const struct pw_demand *demand;
  const struct pw_purchase *purchase;
  struct pw_account *accounts;
};

/* Noon of the day before the service, on the wall clock. */
static int prep_at(const struct pw_event *ev, const struct pw_service *service)
{
  int at_min = (service->day - 1) * DAY_MIN + PREP_AT_MIN;
  if (ev->clock) /* no zone changes its clocks at noon */
    pw_clock_at_min(ev->clock, pw_date_from_days(pw_date_to_days(ev->date) + service->day - 1), PREP_AT_MIN / 60, 0,
                    &at_min);
  return at_min;
}

/* Meat must keep until it goes on: at the latest its cooking and rest before the service; INT_MIN: it is not smoked. */
static int load_at(const struct pw_event *ev, int item, const struct pw_service *service)
{
  int shortest = INT_MAX;
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    int minutes =
        cut->rest_min + (cut->smoke.is_used ? cut->smoke.ref_min : 0) + (cut->finish.is_used ? cut->finish.ref_min : 0);
    if (cut->item == item && cut->smoke.is_used && minutes < shortest)
      shortest = minutes;
  }
  return shortest == INT_MAX ? INT_MIN : service->at_min - shortest;
}

/* What goes into a lot cooked the day before is wanted `ahead_min` sooner. */
static void touch(const struct ledger *l, int item, int service, int ahead_min)
{
  struct pw_account *a = &l->accounts[item];
  const struct pw_service *s = &l->ev->services[service];
  int prep = prep_at(l->ev, s) - ahead_min, begin = s->at_min - ahead_min,
      last = l->ev->items[item].category == PW_CAT_MEAT ? load_at(l->ev, item, s) : s->at_min;
  last = last == INT_MIN ? last : last - ahead_min;
  last = last > prep ? last : prep;
  if (!a->is_used || last < a->first_load_at_min)
    a->first_load_at_min = last;
  if (!a->is_used || prep < a->prep_at_min)
    a->prep_at_min = prep;
  if (!a->is_used || last > a->last_at_min)
    a->last_at_min = last;
  if (!a->is_used || begin < a->first_service_at_min)
    a->first_service_at_min = begin;
  a->is_used = true;
}

/* `amount` of an item for a service, on the part of a demand line or of none (n_lines). */
static void add_ahead(const struct ledger *l, int item, double amount, int service, int part, int ahead_min)
{
  if (!(amount > 0))
    return;
  l->accounts[item].amount += amount;
  l->accounts[item].parts[part] += amount;
  touch(l, item, service, ahead_min);
}

static void add(const struct ledger *l, int item, double amount, int service, int part)
{
  add_ahead(l, item, amount, service, part, 0);
}

static bool is_of_cut(const struct ledger *l, int line, int service, int cut)
{
  return l->demand->lines[line].service == service && l->ev->dishes[l->demand->lines[line].dish].cut == cut;
}

/* The same for a cut: spread over its dishes by their shares. */
static void add_for_cut(const struct ledger *l, int item, double amount, int service, int cut)
{
  for (int i = 0; i < l->demand->n_lines; i++)
    if (is_of_cut(l, i, service, cut))
      add_ahead(l, item, amount * pw_ledger_share_of_cut(l->ev, l->demand, i), service, i,
                pw_is_day_before(l->ev, service, cut) ? DAY_MIN : 0);
}

/* Guests to be served: those planned, where nobody has to book as many as come at the event's cover. */
static double guests_of(const struct pw_event *ev, int service)
{
  int guests = 0;
  for (int c = 0; c < ev->n_classes; c++)
    guests += ev->services[service].guests[c];
  return ceil(guests * pw_walk_up_quantile(pw_walk_up_of(ev, service), ev->terms.cover_frac) - WHOLE);
}

static double portions_for(const struct ledger *l, int line, int item)
{
  const struct pw_demand_line *d = &l->demand->lines[line];
  const struct pw_dish *dish = &l->ev->dishes[d->dish];
  if (l->ev->items[item].unit == PW_UNIT_EACH)
    return pw_portions_made(d, dish);
  double per_portion = l->demand->laws[line].portion;
  return per_portion > 0 ? (dish->is_by_count ? d->need_units : d->need_kg) / per_portion : 0;
}

/* What a line counts in of its cut: cooked kilograms, by count those of its units. */
static double weight_in_cut(const struct pw_event *ev, const struct pw_demand_line *line)
{
  const struct pw_dish *dish = &ev->dishes[line->dish];
  const struct pw_cut *cut = &ev->cuts[dish->cut];
  double unit_kg = cut->piece_kg * cut->trim_frac * cut->cook_frac / cut->units_per_piece;
  return dish->is_by_count ? line->mean_units * unit_kg : line->mean_kg / dish->carve_frac;
}

double pw_ledger_share_of_cut(const struct pw_event *ev, const struct pw_demand *demand, int line)
{
  const struct pw_demand_line *mine = &demand->lines[line];
  double all = 0;
  for (int i = 0; i < demand->n_lines; i++) {
    const struct pw_demand_line *d = &demand->lines[i];
    if (d->service == mine->service && ev->dishes[d->dish].cut == ev->dishes[mine->dish].cut)
      all += weight_in_cut(ev, d);
  }
  return all > 0 ? weight_in_cut(ev, mine) / all : 0;
}

const struct pw_raw_need *pw_ledger_raw(const struct pw_purchase *purchase, int service, int cut)
{
  for (int i = 0; i < purchase->n_raws; i++)
    if (purchase->raws[i].service == service && purchase->raws[i].cut == cut)
      return &purchase->raws[i];
  return NULL;
}

static bool is_first_line_of_dish(const struct pw_demand *demand, int line)
{
  for (int i = 0; i < line; i++)
    if (demand->lines[i].dish == demand->lines[line].dish)
      return false;
  return true;
}

static void add_dishes(const struct ledger *l)
{
  const struct pw_event *ev = l->ev;
  for (int i = 0; i < l->demand->n_lines; i++) {
    const struct pw_demand_line *line = &l->demand->lines[i];
    const struct pw_dish *dish = &ev->dishes[line->dish];
    const struct pw_raw_need *raw = dish->cut == PW_NONE ? NULL : pw_ledger_raw(l->purchase, line->service, dish->cut);
    double share = raw ? pw_ledger_share_of_cut(ev, l->demand, i) : 0;
    for (int u = 0; u < dish->n_uses; u++) {
      const struct pw_use *use = &dish->uses[u];
      double times = 0;
      switch (use->per) {
      case PW_PER_PORTION:
        times = portions_for(l, i, use->item);
        break;
      case PW_PER_GUEST:
        times = guests_of(ev, line->service);
        break;
      case PW_PER_PIECE:
        times = raw ? raw->pieces * share : 0;
        break;
      case PW_PER_KG_RAW:
        times = raw ? raw->raw_mean_kg * share : 0;
        break;
      case PW_PER_SERVICE:
        times = 1;
        break;
      case PW_PER_EVENT:
        times = is_first_line_of_dish(l->demand, i) ? 1 : 0;
        break;
      }
      add(l, use->item, use->amount * times, line->service, i);
    }
  }
}

static bool is_first_raw_of_cut(const struct pw_purchase *p, int raw)
{
  for (int i = 0; i < raw; i++)
    if (p->raws[i].cut == p->raws[raw].cut)
      return false;
  return true;
}

/* What a raw need of a cut uses up: rub, paper; ice and bags when it is chilled. */
static void add_uses_of_cut(const struct ledger *l, int r, const struct pw_use *uses, int n)
{
  const struct pw_event *ev = l->ev;
  const struct pw_raw_need *raw = &l->purchase->raws[r];
  for (int u = 0; u < n; u++) {
    const struct pw_use *use = &uses[u];
    double times = 0;
    switch (use->per) {
    case PW_PER_PORTION:
      for (int i = 0; i < l->demand->n_lines; i++)
        if (is_of_cut(l, i, raw->service, raw->cut))
          add(l, use->item, use->amount * portions_for(l, i, use->item), raw->service, i);
      break;
    case PW_PER_GUEST:
      times = guests_of(ev, raw->service);
      break;
    case PW_PER_PIECE:
      times = raw->pieces;
      break;
    case PW_PER_KG_RAW:
      times = raw->raw_mean_kg;
      break;
    case PW_PER_SERVICE:
      times = 1;
      break;
    case PW_PER_EVENT:
      times = is_first_raw_of_cut(l->purchase, r) ? 1 : 0;
      break;
    }
    add_for_cut(l, use->item, use->amount * times, raw->service, raw->cut);
  }
}

static void add_cuts(const struct ledger *l)
{
  const struct pw_event *ev = l->ev;
  for (int r = 0; r < l->purchase->n_raws; r++) {
    const struct pw_raw_need *raw = &l->purchase->raws[r];
    const struct pw_cut *cut = &ev->cuts[raw->cut];
    if (cut->item != PW_NONE) {
      l->accounts[cut->item].pieces += raw->pieces;
      l->accounts[cut->item].pieces_kg += raw->raw_mean_kg;
      add_for_cut(l, cut->item, ev->items[cut->item].unit == PW_UNIT_EACH ? raw->pieces : raw->raw_mean_kg,
                  raw->service, raw->cut);
    }
    add_uses_of_cut(l, r, cut->uses, cut->n_uses);
    if (pw_is_day_before(ev, raw->service, raw->cut))
      add_uses_of_cut(l, r, cut->chill_uses, cut->n_chill_uses);
  }
}

static void add_event(const struct ledger *l)
{
  const struct pw_event *ev = l->ev;
  for (int u = 0; u < ev->n_uses; u++) {
    const struct pw_use *use = &ev->uses[u];
    struct pw_service_range of = ev->use_services ? ev->use_services[u] : (struct pw_service_range){0, ev->n_services};
    for (int s = of.first; s < of.first + of.n; s++) {
      double times = 0;
      switch (use->per) {
      case PW_PER_PORTION:
        for (int i = 0; i < l->demand->n_lines; i++)
          times += l->demand->lines[i].service == s ? portions_for(l, i, use->item) : 0;
        break;
      case PW_PER_GUEST:
        times = guests_of(ev, s);
        break;
      case PW_PER_SERVICE:
        times = 1;
        break;
      case PW_PER_EVENT:
        times = 1.0 / of.n;
        break; /* needed by each service, bought once */
      case PW_PER_PIECE:
      case PW_PER_KG_RAW:
        for (int r = 0; r < l->purchase->n_raws; r++)
          if (l->purchase->raws[r].service == s)
            times += use->per == PW_PER_PIECE ? l->purchase->raws[r].pieces : l->purchase->raws[r].raw_mean_kg;
        break;
      }
      add(l, use->item, use->amount * times, s, l->demand->n_lines);
    }
  }
}

/* Steps of recipes below an item: 0 for what is bought. */
static int steps_below(const struct pw_event *ev, int item)
{
  int deepest = 0;
  for (int k = 0; k < ev->items[item].n_parts; k++) {
    int d = 1 + steps_below(ev, ev->items[item].parts[k].item);
    deepest = d > deepest ? d : deepest;
  }
  return deepest;
}

/* The need of a mix becomes needs of its parts, the topmost recipe first. */
static void add_parts(const struct ledger *l)
{
  const struct pw_event *ev = l->ev;
  int deepest = 0;
  for (int i = 0; i < ev->n_items; i++)
    deepest = steps_below(ev, i) > deepest ? steps_below(ev, i) : deepest;
  for (int step = deepest; step > 0; step--)
    for (int i = 0; i < ev->n_items; i++) {
      const struct pw_account *mix = &l->accounts[i];
      if (!mix->is_used || steps_below(ev, i) != step)
        continue;
      for (int k = 0; k < ev->items[i].n_parts; k++) {
        const struct pw_part *part = &ev->items[i].parts[k];
        struct pw_account *a = &l->accounts[part->item];
        a->amount += mix->amount * part->amount;
        for (int line = 0; line <= l->demand->n_lines; line++)
          a->parts[line] += mix->parts[line] * part->amount;
        if (!a->is_used || mix->prep_at_min < a->prep_at_min)
          a->prep_at_min = mix->prep_at_min;
        if (!a->is_used || mix->last_at_min > a->last_at_min)
          a->last_at_min = mix->last_at_min;
        if (!a->is_used || mix->first_service_at_min < a->first_service_at_min)
          a->first_service_at_min = mix->first_service_at_min;
        a->is_used = true;
      }
    }
}

pw_status pw_ledger_make(struct pw_account **out, const struct pw_event *ev, const struct pw_demand *demand,
                         const struct pw_purchase *purchase, struct pw_ctx *ctx)
{
  *out = NULL;
  size_t n_parts = (size_t)demand->n_lines + 1;
  struct ledger l = {ev, demand, purchase, pw_arena_array(ctx->arena, (size_t)ev->n_items, sizeof *l.accounts)};
  double *parts = pw_arena_array(ctx->arena, (size_t)ev->n_items * n_parts, sizeof *parts);
  if (!l.accounts || !parts)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_items; i++)
    l.accounts[i].parts = parts + (size_t)i * n_parts;
  add_cuts(&l);
  add_dishes(&l);
  add_event(&l);
  add_parts(&l);
  *out = l.accounts;
  return PW_OK;
}
