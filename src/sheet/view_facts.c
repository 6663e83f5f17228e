/* view_facts.c - the list behind "Assumptions and sources": one row per number that came from the event file
 * or a catalog and that this plan used, in the user's units, with the source the file states. */
#include "sheet/view_facts.h"

#include "base/arena.h"

#include <string.h>

struct facts {
  struct pw_view *view;
  size_t cap;
  int status;
  const char *group;
};

static void fact(struct facts *f, const char *what, const char *value, const char *source)
{
  struct pw_view *view = f->view;
  if (f->status < 0)
    return;
  if (pw_arena_grow(view->arena, &view->facts, &f->cap, (size_t)view->n_facts, sizeof *view->facts) < 0) {
    f->status = -1;
    return;
  }
  view->facts[view->n_facts++] =
      (struct pw_view_fact){f->group, what, value, source && source[0] ? source : "the event file"};
}

#define W(kg)     pw_format_weight(units, kg).s
#define T(c)      pw_format_temp(units, c).s
#define L(m)      pw_format_length(units, m).s
#define PCT(frac) pw_format_percent(frac).s
#define MIN(min)  pw_format_minutes(min).s
#define TEXT(...) pw_view_printf(f->view, __VA_ARGS__)

static void stage_facts(struct facts *f, const char *name, const struct pw_stage *st)
{
  enum pw_units units = f->view->ev->units;
  if (!st->is_used)
    return;
  fact(f, TEXT("%s: time", name),
       TEXT("%s at %s, core %s to %s, spread %s", MIN(st->ref_min), T(st->ref_c), T(st->from_c), T(st->to_c),
            PCT(st->spread_frac)),
       st->source);
  fact(f, TEXT("%s: air temperature", name), TEXT("%s to %s, best %s", T(st->low_c), T(st->high_c), T(st->best_c)),
       st->source);
}

static void cut_facts(struct facts *f, const struct pw_cut *c)
{
  enum pw_units units = f->view->ev->units;
  f->group = c->name;
  fact(f, "Piece as bought", TEXT("%s, spread %s", W(c->piece_kg), W(c->piece_sd_kg)), c->source);
  fact(f, "Size on the rack",
       TEXT("%s x %s x %s, %s free around", L(c->length_m), L(c->width_m), L(c->height_m), L(c->clearance_m)),
       c->source);
  fact(f, "Trimmed weight / bought weight", TEXT("%s, spread %s", PCT(c->trim_frac), PCT(c->trim_sd_frac)),
       c->yield_source);
  fact(f, "Cooked weight / trimmed weight", TEXT("%s, spread %s", PCT(c->cook_frac), PCT(c->cook_sd_frac)),
       c->yield_source);
  stage_facts(f, "Smoke", &c->smoke);
  stage_facts(f, "Finish", &c->finish);
  fact(f, "Rest, longest hold, least core temperature",
       TEXT("%s, %s, %s", MIN(c->rest_min), MIN(c->hold_max_min), T(c->serve_core_c)), c->source);
  fact(f, "Thermal diffusivity, raw", TEXT("%.3f mm2/s", c->diffusivity_m2_s * 1e6), c->source);
}

static void dish_facts(struct facts *f, int dish)
{
  const struct pw_event *ev = f->view->ev;
  const struct pw_dish *d = &ev->dishes[dish];
  enum pw_units units = ev->units;
  bool is_on_menu = false;
  f->group = d->name;
  for (int s = 0; s < ev->n_services; s++)
    for (int m = 0; m < ev->services[s].n_menu; m++) {
      const struct pw_menu_line *line = &ev->services[s].menu[m];
      if (line->dish != dish)
        continue;
      is_on_menu = true;
      const char *portion = d->is_by_count ? TEXT("%s each", pw_format_number(line->portion_units, 2).s)
                                           : TEXT("%s, spread %s", W(line->portion_kg), W(line->portion_sd_kg));
      fact(f, TEXT("Take rate and portion, %s", pw_view_service(f->view, s)),
           TEXT("%s, %s", PCT(line->take_frac), portion), d->source);
      for (int c = 0; c < ev->n_classes && line->take_of_frac; c++)
        if (ev->services[s].guests[c] > 0)
          fact(f, TEXT("Take rate of %s, %s", ev->classes[c].name, pw_view_service(f->view, s)),
               TEXT("%s", PCT(line->take_of_frac[c])), d->source);
    }
  if (is_on_menu && d->cut != PW_NONE)
    fact(f, "Served weight / cooked weight", TEXT("%s, spread %s", PCT(d->carve_frac), PCT(d->carve_sd_frac)),
         d->source);
  if (is_on_menu && d->reserve_frac > 0)
    fact(f, "Reserve over the need", TEXT("%s", PCT(d->reserve_frac)), d->source);
}

static void pit_facts(struct facts *f, const struct pw_pit *p)
{
  const struct pw_event *ev = f->view->ev;
  enum pw_units units = ev->units;
  f->group = p->name;
  for (int i = 0; i < p->n_settings; i++)
    fact(f, TEXT("Setting %s", p->settings[i].name),
         TEXT("hot end %s, cool end %s%s", T(p->settings[i].hot_c), T(p->settings[i].cool_c),
              p->settings[i].splits_per_h > 0
                  ? TEXT(", %s splits per h on a mild day", pw_format_number(p->settings[i].splits_per_h, 1).s)
                  : ""),
         p->source);
  for (int i = 0; i < p->n_racks; i++) {
    const struct pw_rack *r = &p->racks[i];
    fact(f, TEXT("Rack %s", r->id),
         r->outline == PW_DISC ? TEXT("%s round, %s clear height", L(r->length_m), L(r->clear_height_m))
                               : TEXT("%s x %s, %s clear height, %d zone%s", L(r->length_m), L(r->depth_m),
                                      L(r->clear_height_m), r->n_zones, r->n_zones == 1 ? "" : "s"),
         p->source);
  }
  fact(f, "From lighting to a clean fire", TEXT("%s", MIN(p->ready_min)), p->source);
  fact(f, "Shell: steel, area, emissivity",
       TEXT("%s, %s, %s", W(p->steel_kg), pw_format_area(units, p->shell_m2).s, PCT(p->emissivity_frac)), p->source);
  fact(f, "Fire: excess air, exhaust over pit, combustion",
       TEXT("%s, %s, %s", PCT(p->excess_air_frac), pw_format_temp_difference(units, p->exhaust_over_c).s,
            PCT(p->combustion_frac)),
       p->source);
  fact(f, "Charcoal to start, weight of a split", TEXT("%s, %s", W(p->start_charcoal_kg), W(p->split_kg)), p->source);
}

static void other_facts(struct facts *f)
{
  const struct pw_event *ev = f->view->ev;
  const struct pw_plan *plan = f->view->plan;
  enum pw_units units = ev->units;
  f->group = "Fuel";
  for (int i = 0; i < plan->fuel.n_lines; i++) {
    const struct pw_fuel *u = &ev->fuels[plan->fuel.lines[i].fuel];
    fact(f, TEXT("%s: gross heat dry, hydrogen, moisture", u->name),
         TEXT("%.1f MJ/kg, %s, %s", u->gross_mj_kg, PCT(u->hydrogen_frac), PCT(u->moisture_wet_frac)), u->source);
  }
  f->group = "Ovens and boxes";
  for (int i = 0; i < ev->n_finishers; i++) {
    const struct pw_finisher *u = &ev->finishers[i];
    fact(
        f, u->name,
        TEXT("%s, %s",
             u->is_in_pans ? TEXT("%s pans", pw_format_number(u->capacity, 1).s) : pw_format_area(units, u->capacity).s,
             T(u->temp_c)),
        u->source);
  }
  f->group = "Prices";
  for (int i = 0; i < plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *l = &plan->purchase.lines[i];
    const struct pw_item *item = &ev->items[l->item];
    const struct pw_offer *o = &item->offers[l->offer];
    fact(f, TEXT("%s, %s", item->name, o->supplier),
         o->is_by_weight ? TEXT("%s", pw_money_format_per(ev, o->price_cents, PW_UNIT_KG).s)
                         : TEXT("%s a %s of %s", pw_money_format(ev, (pw_cents)(o->price_cents + 0.5)).s, o->pack,
                                pw_format_amount(units, item->unit, o->amount).s),
         o->source);
  }
  f->group = "Weather and site";
  fact(f, "Low, high, wind",
       TEXT("%s, %s, %s", T(ev->weather.low_c), T(ev->weather.high_c), pw_format_speed(units, ev->weather.wind_m_s).s),
       NULL);
  fact(f, "Travel, one way", TEXT("%s, %s", pw_format_distance(units, ev->site.travel_m).s, MIN(ev->site.travel_min)),
       NULL);
  f->group = "Terms";
  fact(f, "Chance that a dish does not run out", TEXT("%s", PCT(ev->terms.cover_frac)), NULL);
  fact(f, "Target margin, overhead",
       TEXT("%s, %s and %s", PCT(ev->terms.margin_frac), PCT(ev->terms.overhead_frac),
            pw_money_format(ev, ev->terms.overhead_cents).s),
       NULL);
  fact(f, "Tax, service charge", TEXT("%s, %s", PCT(ev->terms.tax_frac), PCT(ev->terms.service_charge_frac)), NULL);
  fact(f, "Fuel reserve", TEXT("%s", PCT(ev->terms.fuel_reserve_frac)), NULL);
}

int pw_view_facts_make(struct pw_view *view)
{
  const struct pw_event *ev = view->ev;
  struct facts f = {.view = view};
  for (int c = 0; c < ev->n_cuts; c++) {
    bool is_used = false;
    for (int i = 0; i < view->plan->lots.n_lots; i++)
      is_used |= view->plan->lots.lots[i].cut == c;
    if (is_used)
      cut_facts(&f, &ev->cuts[c]);
  }
  for (int d = 0; d < ev->n_dishes; d++)
    dish_facts(&f, d);
  for (int p = 0; p < ev->n_pits; p++)
    pit_facts(&f, &ev->pits[p]);
  other_facts(&f);
  return f.status;
}
