/* event_dump.h - every field of an event as text, for tests that compare two events. */
#ifndef PW_EVENT_DUMP_H
#define PW_EVENT_DUMP_H

#include "base/buf.h"
#include "pw/event.h"

static inline void dump_text(struct pw_buf *b, const char *text) { pw_buf_printf(b, " '%s'", text ? text : "-"); }

static inline void dump_uses(struct pw_buf *b, const struct pw_event *ev, const struct pw_use *uses, int n)
{
  for (int i = 0; i < n; i++)
    pw_buf_printf(b, "\n  use %s %.17g %d", ev->items[uses[i].item].id, uses[i].amount, (int)uses[i].per);
}

static inline void dump_stage(struct pw_buf *b, const struct pw_stage *s)
{
  if (!s->is_used)
    return;
  pw_buf_printf(b, "\n  stage %d %.17g %.17g %.17g %.17g %.17g %.17g %.17g %d %.17g", s->ref_min, s->ref_c, s->from_c,
                s->to_c, s->low_c, s->high_c, s->best_c, s->spread_frac, s->in_oven, s->ref_kg);
  for (int i = 0; i < s->n_own; i++)
    pw_buf_printf(b, " own %.17g %d", s->own[i].air_c, s->own[i].minutes);
  dump_text(b, s->look);
  dump_text(b, s->source);
}

static inline void dump_food(struct pw_buf *b, const struct pw_event *ev)
{
  for (int i = 0; i < ev->n_items; i++) {
    const struct pw_item *t = &ev->items[i];
    pw_buf_printf(b, "\nitem %s %s %d %d %d %d %d %.17g", t->id, t->name, (int)t->category, (int)t->unit, (int)t->store,
                  t->order_ahead_min, t->keeps_min, t->piece_kg);
    dump_text(b, t->source);
    pw_buf_printf(b, " %.17g %.17g %.17g", t->litre_kg, t->each_kg, ev->item_salt_frac ? ev->item_salt_frac[i] : 0);
    for (int k = 0; k < t->n_parts; k++)
      pw_buf_printf(b, "\n  part %s %.17g", ev->items[t->parts[k].item].id, t->parts[k].amount);
    for (int k = 0; k < t->n_offers; k++) {
      const struct pw_offer *o = &t->offers[k];
      pw_buf_printf(b, "\n  offer %s %s %.17g %d %d %.17g %s", o->supplier, o->pack, o->amount, o->pieces,
                    o->is_by_weight, o->price_cents, o->source);
    }
  }
  for (int i = 0; i < ev->n_cuts; i++) {
    const struct pw_cut *c = &ev->cuts[i];
    pw_buf_printf(b, "\ncut %s %s %d %d %s %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %d %d %.17g %.17g %.17g",
                  c->id, c->name, (int)c->kind, (int)c->safety, c->item == PW_NONE ? "-" : ev->items[c->item].id,
                  c->piece_kg, c->piece_sd_kg, c->length_m, c->width_m, c->height_m, c->wrapped_length_m,
                  c->wrapped_width_m, c->clearance_m, c->may_turn, (int)c->shape, c->half_m, c->diffusivity_m2_s,
                  c->units_per_piece);
    pw_buf_printf(b, " %.17g %.17g %.17g %.17g %d %d %.17g %.17g %d %.17g %.17g %.17g %.17g %.17g %d %d %.17g",
                  c->trim_frac, c->trim_sd_frac, c->cook_frac, c->cook_sd_frac, c->rest_min, c->hold_max_min,
                  c->pans_per_piece, c->serve_core_c, c->may_chill, c->prep_min, c->load_min, c->wrap_min,
                  c->unload_min, c->carve_min, c->mop_every_min, c->rub_set_min, c->start_c);
    pw_buf_printf(b, " %.17g", c->salt_most_frac);
    dump_text(b, c->yield_source);
    dump_text(b, c->source);
    dump_stage(b, &c->smoke);
    dump_stage(b, &c->finish);
    dump_uses(b, ev, c->uses, c->n_uses);
  }
  for (int i = 0; i < ev->n_dishes; i++) {
    const struct pw_dish *d = &ev->dishes[i];
    pw_buf_printf(b, "\ndish %s %s %s %d %.17g %.17g %d %.17g %.17g %.17g %.17g %.17g %.17g", d->id, d->name,
                  d->cut == PW_NONE ? "-" : ev->cuts[d->cut].id, (int)d->form, d->carve_frac, d->carve_sd_frac,
                  d->is_by_count, d->portion_units, d->portion_kg, d->portion_sd_kg, d->take_frac, d->reserve_frac,
                  d->pan_portions);
    pw_buf_printf(b, " %d", (int)d->held);
    for (int k = 0; k < d->n_allergens; k++)
      dump_text(b, d->allergens[k]);
    dump_text(b, d->source);
    dump_uses(b, ev, d->uses, d->n_uses);
  }
}

static inline void dump_places(struct pw_buf *b, const struct pw_event *ev)
{
  for (int i = 0; i < ev->n_fuels; i++) {
    const struct pw_fuel *f = &ev->fuels[i];
    pw_buf_printf(b, "\nfuel %s %s %d %.17g %.17g %.17g %.17g %.17g %s %.17g %.17g", f->id, f->name, f->is_charcoal,
                  f->gross_mj_kg, f->hydrogen_frac, f->moisture_wet_frac, f->stoich_air_kg_kg, f->kg_per_m3_stacked,
                  f->item == PW_NONE ? "-" : ev->items[f->item].id, f->price_cents_per_kg, f->sack_kg);
    dump_text(b, f->source);
  }
  for (int i = 0; i < ev->n_pits; i++) {
    const struct pw_pit *p = &ev->pits[i];
    pw_buf_printf(
        b, "\npit %s %s alike %s %d %d %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %s %s %.17g %.17g %d %lld",
        p->id, p->name, ev->pits[p->alike].id, p->ready_min, p->n_burns_max, p->steel_kg, p->shell_m2,
        p->emissivity_frac, p->length_m, p->excess_air_frac, p->exhaust_over_c, p->combustion_frac,
        p->start_charcoal_kg, p->charcoal == PW_NONE ? "-" : ev->fuels[p->charcoal].id, ev->fuels[p->wood].id,
        p->split_kg, p->tend_min_per_h, p->is_rentable, (long long)p->rent_cents);
    dump_text(b, p->source);
    for (int k = 0; k < p->n_settings; k++) {
      const struct pw_setting *s = &p->settings[k];
      pw_buf_printf(b, "\n  setting %s %.17g %.17g %.17g", s->name, s->hot_c, s->cool_c, s->splits_per_h);
      for (int m = 0; m < s->n_probes; m++)
        pw_buf_printf(b, " probe %d %.17g %.17g", s->probes[m].rack, s->probes[m].x_m, s->probes[m].temp_c);
    }
    for (int k = 0; k < p->n_racks; k++) {
      const struct pw_rack *r = &p->racks[k];
      pw_buf_printf(b, "\n  rack %s %d %.17g %.17g %.17g %.17g %d", r->id, (int)r->outline, r->length_m, r->depth_m,
                    r->clear_height_m, r->offset_c, r->n_zones);
    }
  }
  for (int i = 0; i < ev->n_finishers; i++) {
    const struct pw_finisher *f = &ev->finishers[i];
    pw_buf_printf(b, "\nfinisher %s %s %d %.17g %d %.17g %.17g", f->id, f->name, (int)f->kind, f->capacity,
                  f->is_in_pans, f->temp_c, f->cents_per_h);
    dump_text(b, f->source);
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
  for (int i = 0; i < ev->n_suppliers; i++) {
    const struct pw_supplier *s = &ev->suppliers[i];
    pw_buf_printf(b, "\nsupplier %s %lld %lld %u", s->name, (long long)s->delivery_cents, (long long)s->minimum_cents, s->days);
    dump_text(b, s->source);
  }
  pw_buf_printf(b, "\neffort %.17g %.17g %.17g %.17g %.17g %.17g", ev->effort.opening_cents, ev->effort.place_cents,
                ev->effort.hold_cents_per_piece_h, ev->effort.off_best_cents_per_piece_k,
                ev->effort.move_cents_per_piece, ev->effort.tend_cents_per_h);
  for (int i = 0; i < ev->n_classes; i++)
    pw_buf_printf(b, "\nclass %s %s %.17g %d", ev->classes[i].id, ev->classes[i].name, ev->classes[i].appetite_frac,
                  ev->classes[i].eats_meat);
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *s = &ev->services[i];
    pw_buf_printf(b, "\nservice %s %s %d %d %d %d", s->id, s->name, s->day, s->at_min, s->length_min, (int)s->style);
    const struct pw_choice *c = ev->choices ? &ev->choices[i] : NULL;
    if (c)
      pw_buf_printf(b, " walk %.17g %.17g choice %.17g %.17g %.17g %.17g %.17g %.17g %.17g", c->walk_least_frac,
                    c->walk_most_frac, c->kinds_frac[0], c->kinds_frac[1],
                    c->kinds_frac[2], c->total_kg, c->total_sd_kg, c->seconds_frac, c->no_show_frac);
    for (int k = 0; c && c->cover_frac && k < s->n_menu; k++)
      pw_buf_printf(b, " cover %.17g", c->cover_frac[k]);
    for (int k = 0; k < ev->n_classes; k++)
      pw_buf_printf(b, " %d", s->guests[k]);
    for (int k = 0; k < s->n_menu; k++)
      pw_buf_printf(b, "\n  %s %.17g %.17g %.17g %.17g", ev->dishes[s->menu[k].dish].id, s->menu[k].take_frac,
                    s->menu[k].portion_kg, s->menu[k].portion_sd_kg, s->menu[k].portion_units);
  }
  for (int i = 0; i < ev->n_crew; i++)
    pw_buf_printf(b, "\ncrew %s %x %d %.17g %d %d %.17g", ev->crew[i].role, ev->crew[i].duties, ev->crew[i].count,
                  ev->crew[i].guests_per_hand, ev->crew[i].from_at_min, ev->crew[i].to_at_min, ev->crew[i].cents_per_h);
  for (int i = 0; i < ev->n_instalments; i++)
    pw_buf_printf(b, "\ninstalment %s %.17g %d", ev->instalments[i].name, ev->instalments[i].frac,
                  ev->instalments[i].days_before);
  dump_uses(b, ev, ev->uses, ev->n_uses);
}

/** All of the event; NULL when memory is out. */
static inline char *event_dump(const struct pw_event *ev, struct pw_arena *arena)
{
  struct pw_buf b = pw_buf_in(arena);
  dump_job(&b, ev);
  dump_food(&b, ev);
  dump_places(&b, ev);
  return pw_buf_text(&b);
}

#endif
