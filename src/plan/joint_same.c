/* joint_same.c - entries of two events compared value by value; sources and looks are words only and do not count. */
#include "plan/joint_same.h"

#include <string.h>

#define SAME(f) (a->f == b->f)

bool pw_same_text(const char *a, const char *b) { return a == b || (a && b && strcmp(a, b) == 0); }

static bool same_uses(const struct pw_use *a, int n_a, const struct pw_use *b, int n_b)
{
  if (n_a != n_b)
    return false;
  for (int i = 0; i < n_a; i++)
    if (a[i].item != b[i].item || a[i].amount != b[i].amount || a[i].per != b[i].per)
      return false;
  return true;
}

static bool same_offer(const struct pw_offer *a, const struct pw_offer *b)
{
  return pw_same_text(a->supplier, b->supplier) && pw_same_text(a->pack, b->pack) && SAME(amount) && SAME(pieces) &&
         SAME(is_by_weight) && SAME(price_cents);
}

bool pw_same_item(const struct pw_item *a, const struct pw_item *b)
{
  if (a->n_parts > 0 || b->n_parts > 0) /* each job mixes its own; what goes in is bought together */
    return false;
  if (!pw_same_text(a->name, b->name) || !(SAME(category) && SAME(unit) && SAME(store) && SAME(order_ahead_min) &&
      SAME(keeps_min) && SAME(piece_kg) && SAME(litre_kg) && SAME(each_kg) && SAME(n_offers)))
    return false;
  for (int i = 0; i < a->n_offers; i++)
    if (!same_offer(&a->offers[i], &b->offers[i]))
      return false;
  return true;
}

bool pw_same_fuel(const struct pw_fuel *a, const struct pw_fuel *b)
{
  return pw_same_text(a->name, b->name) && SAME(is_charcoal) && SAME(gross_mj_kg) && SAME(hydrogen_frac) &&
         SAME(moisture_wet_frac) && SAME(stoich_air_kg_kg) && SAME(kg_per_m3_stacked) && SAME(item) &&
         SAME(price_cents_per_kg) && SAME(sack_kg);
}

static bool same_stage(const struct pw_stage *a, const struct pw_stage *b)
{
  if (!(SAME(is_used) && SAME(ref_min) && SAME(ref_c) && SAME(from_c) && SAME(to_c) && SAME(low_c) && SAME(high_c) &&
        SAME(best_c) && SAME(spread_frac) && SAME(in_oven) && SAME(ref_kg) && SAME(n_own)))
    return false;
  for (int i = 0; i < a->n_own; i++)
    if (a->own[i].air_c != b->own[i].air_c || a->own[i].minutes != b->own[i].minutes)
      return false;
  return true;
}

bool pw_same_cut(const struct pw_cut *a, const struct pw_cut *b)
{
  bool is_same_piece = SAME(kind) && SAME(safety) && SAME(item) && SAME(piece_kg) && SAME(piece_sd_kg) && SAME(length_m) &&
                       SAME(width_m) && SAME(height_m) && SAME(wrapped_length_m) && SAME(wrapped_width_m) &&
                       SAME(clearance_m) && SAME(may_turn) && SAME(shape) && SAME(half_m) && SAME(diffusivity_m2_s) &&
                       SAME(units_per_piece) && SAME(trim_frac) && SAME(trim_sd_frac) && SAME(cook_frac) &&
                       SAME(cook_sd_frac) && SAME(start_c) && SAME(salt_most_frac);
  bool is_same_work = SAME(rest_min) && SAME(hold_max_min) && SAME(pans_per_piece) && SAME(serve_core_c) &&
                      SAME(may_chill) && SAME(prep_min) && SAME(load_min) && SAME(wrap_min) && SAME(unload_min) &&
                      SAME(carve_min) && SAME(mop_every_min) && SAME(rub_set_min) && SAME(chill_loss_frac) && SAME(chill_min);
  return pw_same_text(a->name, b->name) && is_same_piece && is_same_work && same_stage(&a->smoke, &b->smoke) &&
         same_stage(&a->finish, &b->finish) && same_uses(a->uses, a->n_uses, b->uses, b->n_uses) &&
         same_uses(a->chill_uses, a->n_chill_uses, b->chill_uses, b->n_chill_uses);
}

bool pw_same_dish(const struct pw_dish *a, const struct pw_dish *b)
{
  if (!pw_same_text(a->name, b->name) ||
      !(SAME(cut) && SAME(form) && SAME(carve_frac) && SAME(carve_sd_frac) && SAME(is_by_count) && SAME(portion_units) &&
        SAME(portion_kg) && SAME(portion_sd_kg) && SAME(reserve_frac) && SAME(pan_portions) && SAME(held) && SAME(n_allergens)))
    return false;
  for (int i = 0; i < a->n_allergens; i++)
    if (!pw_same_text(a->allergens[i], b->allergens[i]))
      return false;
  return same_uses(a->uses, a->n_uses, b->uses, b->n_uses);
}

static bool same_setting(const struct pw_setting *a, const struct pw_setting *b)
{
  if (!pw_same_text(a->name, b->name) || !(SAME(hot_c) && SAME(cool_c) && SAME(splits_per_h) && SAME(n_probes)))
    return false;
  for (int i = 0; i < a->n_probes; i++)
    if (a->probes[i].rack != b->probes[i].rack || a->probes[i].x_m != b->probes[i].x_m ||
        a->probes[i].temp_c != b->probes[i].temp_c)
      return false;
  return true;
}

static bool same_rack(const struct pw_rack *a, const struct pw_rack *b)
{
  return pw_same_text(a->id, b->id) && SAME(outline) && SAME(length_m) && SAME(depth_m) && SAME(clear_height_m) &&
         SAME(offset_c) && SAME(n_zones);
}

bool pw_same_pit(const struct pw_pit *a, const struct pw_pit *b)
{
  if (!(SAME(n_settings) && SAME(n_racks) && SAME(ready_min) && SAME(steel_kg) && SAME(shell_m2) && SAME(emissivity_frac) &&
        SAME(length_m) && SAME(excess_air_frac) && SAME(exhaust_over_c) && SAME(combustion_frac) &&
        SAME(start_charcoal_kg) && SAME(water_kg) && SAME(charcoal) && SAME(wood) && SAME(split_kg) &&
        SAME(tend_min_per_h) && SAME(is_rentable) && SAME(rent_cents)))
    return false;
  for (int s = 0; s < a->n_settings; s++)
    if (!same_setting(&a->settings[s], &b->settings[s]))
      return false;
  for (int r = 0; r < a->n_racks; r++)
    if (!same_rack(&a->racks[r], &b->racks[r]))
      return false;
  return true;
}

bool pw_same_finisher(const struct pw_finisher *a, const struct pw_finisher *b)
{
  return SAME(kind) && SAME(capacity) && SAME(is_in_pans) && SAME(temp_c) && SAME(cents_per_h);
}

bool pw_same_class(const struct pw_guest_class *a, const struct pw_guest_class *b)
{
  return pw_same_text(a->name, b->name) && SAME(appetite_frac) && SAME(eats_meat);
}

bool pw_same_supplier(const struct pw_supplier *a, const struct pw_supplier *b)
{
  return SAME(delivery_cents) && SAME(minimum_cents) && SAME(days);
}
