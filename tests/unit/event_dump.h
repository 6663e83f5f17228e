/* event_dump.h - every field of an event as text, for tests that compare two events. */
#ifndef PW_EVENT_DUMP_H
#define PW_EVENT_DUMP_H

#include "base/buf.h"
#include "pw/event.h"
#include "read/members.h"

#include <string.h>

static inline void dump_text(struct pw_buf *b, const char *text) { pw_buf_printf(b, " '%s'", text ? text : "-"); }

/* Name of what an index of one of the lists means; racks are those of the pit itself and keep their number. */
static inline void dump_index(struct pw_buf *b, const struct pw_event *ev, enum pw_section_of section, int i)
{
  if (i == PW_NONE)
    pw_buf_add(b, " -");
  else if (section == PW_OF_RACKS)
    pw_buf_printf(b, " %d", i);
  else
    pw_buf_printf(b, " %s",
                  section == PW_OF_ITEMS   ? ev->items[i].id
                  : section == PW_OF_CUTS  ? ev->cuts[i].id
                  : section == PW_OF_FUELS ? ev->fuels[i].id
                                           : ev->pits[i].id);
}

/* One entry, member by member. */
static inline void dump_entry(struct pw_buf *b, const struct pw_event *ev, const struct pw_members *of,
                              const void *entry)
{
  union {
    int i;
    bool is;
    double x;
    pw_cents cents;
    const char *text;
    const char *const *words;
  } v;
  for (int k = 0; k < of->n; k++) {
    const struct pw_member *m = &of->rows[k];
    const char *at = (const char *)entry + m->at;
    int n = 0;
    if (m->type == PW_MT_LIST || m->type == PW_MT_WORDS)
      memcpy(&n, (const char *)entry + m->count_at, sizeof n);
    if (m->type != PW_MT_BLOCK)
      memcpy(&v, at, m->size);
    pw_buf_printf(b, "\n  %s", m->name);
    switch (m->type) {
    case PW_MT_INT:
    case PW_MT_FLAGS:
      pw_buf_printf(b, " %d", v.i);
      break;
    case PW_MT_BOOL:
      pw_buf_printf(b, " %d", v.is);
      break;
    case PW_MT_DOUBLE:
      pw_buf_printf(b, " %.17g", v.x);
      break;
    case PW_MT_CENTS:
      pw_buf_printf(b, " %lld", (long long)v.cents);
      break;
    case PW_MT_TEXT:
      dump_text(b, v.text);
      break;
    case PW_MT_INDEX:
      dump_index(b, ev, m->section, v.i);
      break;
    case PW_MT_WORDS:
      for (int i = 0; i < n; i++)
        dump_text(b, v.words[i]);
      break;
    case PW_MT_BLOCK:
      dump_entry(b, ev, m->of, at);
      break;
    case PW_MT_LIST:
      for (int i = 0; i < n; i++)
        dump_entry(b, ev, m->of, v.text + (size_t)i * m->of->size);
      break;
    }
  }
}

static inline void dump_entries(struct pw_buf *b, const struct pw_event *ev, const struct pw_members *of,
                                const void *entries, int n)
{
  for (int i = 0; i < n; i++) {
    pw_buf_printf(b, "\n%s", of->what);
    dump_entry(b, ev, of, (const char *)entries + (size_t)i * of->size);
  }
}

static inline void dump_job(struct pw_buf *b, const struct pw_event *ev)
{
  const struct pw_terms *t = &ev->terms;
  pw_buf_printf(b, "event %s", ev->name);
  dump_text(b, ev->customer);
  pw_buf_printf(b, " %d-%d-%d %s %d %s '%s' %d %d %d %d %d", ev->date.year, ev->date.month, ev->date.day, ev->zone,
                ev->utc_offset_min, ev->currency, ev->money_sign, ev->money_digits, (int)ev->units, (int)ev->paper,
                ev->slot_min, ev->is_head_count_sum);
  pw_buf_printf(b, "\nsite %s %.17g %d %.17g", ev->site.place ? ev->site.place : "-", ev->site.travel_m,
                ev->site.travel_min, ev->site.altitude_m);
  pw_buf_printf(b, " prep %d", (int)ev->site.prep);
  pw_buf_printf(b, "\nweather %.17g %.17g %.17g %.17g", ev->weather.low_c, ev->weather.high_c, ev->weather.wind_m_s,
                ev->weather.humidity_frac);
  pw_buf_printf(b, "\nterms %.17g %.17g %lld %.17g %lld %.17g %.17g %.17g %.17g %d %lld %lld %d %d %.17g %.17g",
                t->margin_frac, t->overhead_frac, (long long)t->overhead_cents, t->travel_cents_per_km,
                (long long)t->rental_cents, t->service_charge_frac, t->tax_frac, t->discount_frac, t->deposit_frac,
                t->is_service_charge_taxed, (long long)t->min_fee_cents, (long long)t->round_per_guest_cents,
                t->valid_days, t->final_count_days_before, t->fuel_reserve_frac, t->cover_frac);
  pw_buf_printf(b, " ladder %d %d %d", ev->ladder.from, ev->ladder.to, ev->ladder.step);
  pw_buf_printf(b, " short %lld food %.17g next %d %.17g", (long long)t->short_cents, t->food_share_frac,
                t->next_job_days, t->carry_frac);
  pw_buf_printf(b, " quoted %d-%d-%d", t->quoted.year, t->quoted.month, t->quoted.day);
  for (int i = 0; i < t->n_included; i++)
    dump_text(b, t->included[i]);
  dump_entries(b, ev, &pw_members_supplier, ev->suppliers, ev->n_suppliers);
  pw_buf_printf(b, "\neffort %.17g %.17g %.17g %.17g %.17g %.17g", ev->effort.opening_cents, ev->effort.place_cents,
                ev->effort.hold_cents_per_piece_h, ev->effort.off_best_cents_per_piece_k,
                ev->effort.move_cents_per_piece, ev->effort.tend_cents_per_h);
  dump_entries(b, ev, &pw_members_class, ev->classes, ev->n_classes);
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *s = &ev->services[i];
    pw_buf_printf(b, "\nservice %s %s %d %d %d %d %d", s->id, s->name, s->day, s->at_min, s->length_min, (int)s->style,
                  s->n_waves);
    pw_buf_printf(b, " %s", s->arrive_source ? s->arrive_source : "-");
    for (int k = 0; k < s->n_arrive; k++)
      pw_buf_printf(b, " comes %.17g", s->arrive_frac[k]);
    const struct pw_choice *c = ev->choices ? &ev->choices[i] : NULL;
    if (c)
      pw_buf_printf(b, " walk %.17g %.17g choice %.17g %.17g %.17g %.17g %.17g %.17g %.17g", c->walk_least_frac,
                    c->walk_most_frac, c->kinds_frac[0], c->kinds_frac[1], c->kinds_frac[2], c->total_kg,
                    c->total_sd_kg, c->seconds_frac, c->no_show_frac);
    for (int k = 0; c && c->cover_frac && k < s->n_menu; k++)
      pw_buf_printf(b, " cover %.17g", c->cover_frac[k]);
    for (int k = 0; k < ev->n_classes; k++)
      pw_buf_printf(b, " %d", s->guests[k]);
    for (int k = 0; k < s->n_menu; k++)
      pw_buf_printf(b, "\n  %s %.17g %.17g %.17g %.17g %d", ev->dishes[s->menu[k].dish].id, s->menu[k].take_frac,
                    s->menu[k].portion_kg, s->menu[k].portion_sd_kg, s->menu[k].portion_units,
                    s->menu[k].is_day_before);
    for (int k = 0; k < s->n_menu; k++)
      for (int g = 0; g < ev->n_classes && s->menu[k].take_of_frac; g++)
        pw_buf_printf(b, " of %s %.17g", ev->classes[g].id, s->menu[k].take_of_frac[g]);
    for (int k = 0; k < s->n_options; k++)
      pw_buf_printf(b, "\n  or %s for %d %.17g %.17g %.17g %.17g", ev->dishes[s->options[k].line.dish].id,
                    s->options[k].instead_of, s->options[k].line.take_frac, s->options[k].line.portion_kg,
                    s->options[k].line.portion_sd_kg, s->options[k].line.portion_units);
    for (int k = 0; k < s->n_options; k++)
      for (int g = 0; g < ev->n_classes && s->options[k].line.take_of_frac; g++)
        pw_buf_printf(b, " or of %s %.17g", ev->classes[g].id, s->options[k].line.take_of_frac[g]);
    for (int k = 0; k < s->n_menu; k++)
      pw_buf_printf(b, " waves %d%s", s->menu[k].n_waves, s->menu[k].is_time_control ? " by time" : "");
  }
  for (int i = 0; i < ev->n_pool; i++) {
    const struct pw_pool *p = &ev->pool[i];
    pw_buf_printf(b, "\npool %s %s %x %d %.17g %d %d %d %.17g %.17g %lld %d %d %d %d", p->role, p->name ? p->name : "-",
                  p->duties, p->up_to, p->cents_per_h, p->least_min, p->most_min, p->overtime_after_min,
                  p->overtime_frac, p->guests_per_hand, (long long)p->travel_cents, p->has_from, p->from_at_min,
                  p->has_to, p->to_at_min);
  }
  const struct pw_work_rules *w = &ev->rules;
  pw_buf_printf(b, "\nrules %s %s %d %d %d %d %d %d %d %d %d %.17g %d %.17g", w->id, w->name, w->longest_min,
                w->break_after_min, w->break_min, w->is_break_paid, w->rest_min, w->night_shortest_min,
                w->night_longest_min, w->night_hands, w->week_overtime_after_min, w->week_overtime_frac,
                w->awake_longest_min, w->calm_frac);
  for (int i = 0; i < w->n_zones; i++)
    pw_buf_printf(b, " %s", w->zones[i]);
  pw_buf_printf(b, " %s", w->source ? w->source : "-");
  for (int i = 0; i < PW_STYLE__COUNT; i++) {
    const struct pw_style_work *y = &ev->styles[i];
    pw_buf_printf(b, "\nmeat %.17g %.17g", y->meat_least_kg, y->meat_most_kg);
    pw_buf_printf(b, "\nstyle %s %.17g %.17g %.17g %.17g %.17g %s", y->id ? y->id : "-", y->guests_per_hand,
                  y->set_up_min, y->set_up_guest_min, y->clear_min, y->clear_guest_min, y->source ? y->source : "-");
  }
  for (int i = 0; i < ev->n_crew; i++)
    pw_buf_printf(b, "\ncrew %s %x %d %.17g %d %d %.17g", ev->crew[i].role, ev->crew[i].duties, ev->crew[i].count,
                  ev->crew[i].guests_per_hand, ev->crew[i].from_at_min, ev->crew[i].to_at_min, ev->crew[i].cents_per_h);
  for (int i = 0; i < ev->n_instalments; i++)
    pw_buf_printf(b, "\ninstalment %s %.17g %d", ev->instalments[i].name, ev->instalments[i].frac,
                  ev->instalments[i].days_before);
  for (int i = 0; i < ev->n_uses; i++)
    pw_buf_printf(b, "\nuse %s %.17g %d", ev->items[ev->uses[i].item].id, ev->uses[i].amount, (int)ev->uses[i].per);
  for (int i = 0; ev->item_salt_frac && i < ev->n_items; i++)
    pw_buf_printf(b, "\nsalt %s %.17g", ev->items[i].id, ev->item_salt_frac[i]);
}

/** All of the event; NULL when memory is out. */
static inline char *event_dump(const struct pw_event *ev, struct pw_arena *arena)
{
  struct pw_buf b = pw_buf_in(arena);
  dump_job(&b, ev);
  dump_entries(&b, ev, &pw_members_item, ev->items, ev->n_items);
  dump_entries(&b, ev, &pw_members_cut, ev->cuts, ev->n_cuts);
  dump_entries(&b, ev, &pw_members_dish, ev->dishes, ev->n_dishes);
  dump_entries(&b, ev, &pw_members_fuel, ev->fuels, ev->n_fuels);
  dump_entries(&b, ev, &pw_members_pit, ev->pits, ev->n_pits);
  dump_entries(&b, ev, &pw_members_finisher, ev->finishers, ev->n_finishers);
  return pw_buf_text(&b);
}

#endif
