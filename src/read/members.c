/* members.c - the lists of members, and entries compared by them. */
#include "read/members.h"

#include <string.h>

#define TYPE_OF(field)                                                                                                 \
  _Generic((field), bool: PW_MT_BOOL, double: PW_MT_DOUBLE, pw_cents: PW_MT_CENTS, const char *: PW_MT_TEXT,           \
           int: PW_MT_INT, default: PW_MT_INT)
#define FIELD(s, f) (((const struct s *)0)->f)
#define PLACE(s, f) .name = #f, .at = offsetof(struct s, f), .size = sizeof FIELD(s, f)

/* A value; one of a fixed type; an index; a list of texts; a struct; a list of structs. */
#define V(s, f, when)                                                                                                  \
  {                                                                                                                    \
    PLACE(s, f), .type = TYPE_OF(FIELD(s, f)), .counts = (when)                                                        \
  }
#define AS(type_, s, f, when)                                                                                          \
  {                                                                                                                    \
    PLACE(s, f), .type = (type_), .counts = (when)                                                                     \
  }
#define INDEX(s, f, when, list)                                                                                        \
  {                                                                                                                    \
    PLACE(s, f), .type = PW_MT_INDEX, .counts = (when), .section = (list)                                              \
  }
#define WORDS(s, f, n_f, when)                                                                                         \
  {                                                                                                                    \
    PLACE(s, f), .type = PW_MT_WORDS, .count_at = offsetof(struct s, n_f), .counts = (when)                            \
  }
#define BLOCK(s, f, table, when)                                                                                       \
  {                                                                                                                    \
    PLACE(s, f), .type = PW_MT_BLOCK, .counts = (when), .of = &(table)                                                 \
  }
#define LIST(s, f, n_f, table, when)                                                                                   \
  {                                                                                                                    \
    PLACE(s, f), .type = PW_MT_LIST, .count_at = offsetof(struct s, n_f), .counts = (when), .of = &(table)             \
  }
#define MEMBERS(s, rows)                                                                                               \
  {                                                                                                                    \
#s, rows, (int)(sizeof(rows) / sizeof *(rows)), sizeof(struct s)                                                   \
  }

enum { ALWAYS = PW_STANDS_IN | PW_ONE_THING, NEVER = 0 };

/* ---- goods ---- */

static const struct pw_member use_rows[] = {INDEX(pw_use, item, ALWAYS, PW_OF_ITEMS), V(pw_use, amount, ALWAYS),
                                            V(pw_use, per, ALWAYS)};
static const struct pw_members use_members = MEMBERS(pw_use, use_rows);

static const struct pw_member offer_rows[] = {V(pw_offer, supplier, ALWAYS),     V(pw_offer, pack, ALWAYS),
                                              V(pw_offer, amount, ALWAYS),       V(pw_offer, pieces, ALWAYS),
                                              V(pw_offer, is_by_weight, ALWAYS), V(pw_offer, price_cents, ALWAYS),
                                              V(pw_offer, source, NEVER)};
static const struct pw_members offer_members = MEMBERS(pw_offer, offer_rows);

static const struct pw_member part_rows[] = {INDEX(pw_part, item, ALWAYS, PW_OF_ITEMS), V(pw_part, amount, ALWAYS)};
static const struct pw_members part_members = MEMBERS(pw_part, part_rows);

static const struct pw_member item_rows[] = {
    V(pw_item, id, NEVER),
    V(pw_item, name, ALWAYS),
    V(pw_item, category, ALWAYS),
    V(pw_item, unit, ALWAYS),
    V(pw_item, store, ALWAYS),
    V(pw_item, is_washed, ALWAYS),
    V(pw_item, order_ahead_min, ALWAYS),
    V(pw_item, keeps_min, ALWAYS),
    V(pw_item, piece_kg, ALWAYS),
    LIST(pw_item, offers, n_offers, offer_members, ALWAYS),
    V(pw_item, source, NEVER),
    LIST(pw_item, parts, n_parts, part_members, ALWAYS),
    V(pw_item, litre_kg, ALWAYS),
    V(pw_item, each_kg, ALWAYS),
};
const struct pw_members pw_members_item = MEMBERS(pw_item, item_rows);

static const struct pw_member supplier_rows[] = {
    V(pw_supplier, name, NEVER), V(pw_supplier, delivery_cents, ALWAYS), V(pw_supplier, minimum_cents, ALWAYS),
    AS(PW_MT_FLAGS, pw_supplier, days, ALWAYS), V(pw_supplier, source, NEVER)};
const struct pw_members pw_members_supplier = MEMBERS(pw_supplier, supplier_rows);

static const struct pw_member fuel_rows[] = {
    V(pw_fuel, id, NEVER),
    V(pw_fuel, name, ALWAYS),
    V(pw_fuel, is_charcoal, ALWAYS),
    V(pw_fuel, gross_mj_kg, ALWAYS),
    V(pw_fuel, hydrogen_frac, ALWAYS),
    V(pw_fuel, moisture_wet_frac, ALWAYS),
    V(pw_fuel, stoich_air_kg_kg, ALWAYS),
    V(pw_fuel, kg_per_m3_stacked, ALWAYS),
    INDEX(pw_fuel, item, ALWAYS, PW_OF_ITEMS),
    V(pw_fuel, price_cents_per_kg, ALWAYS),
    V(pw_fuel, chimney_min, ALWAYS),
    V(pw_fuel, chimney_kg, ALWAYS),
    V(pw_fuel, sack_kg, ALWAYS),
    V(pw_fuel, source, NEVER),
};
const struct pw_members pw_members_fuel = MEMBERS(pw_fuel, fuel_rows);

/* ---- food ---- */

static const struct pw_member reading_rows[] = {V(pw_reading, air_c, ALWAYS), V(pw_reading, minutes, ALWAYS)};
static const struct pw_members reading_members = MEMBERS(pw_reading, reading_rows);

static const struct pw_member stage_rows[] = {
    V(pw_stage, is_used, ALWAYS),       V(pw_stage, ref_min, ALWAYS),
    V(pw_stage, ref_c, ALWAYS),         V(pw_stage, from_c, ALWAYS),
    V(pw_stage, to_c, ALWAYS),          V(pw_stage, low_c, ALWAYS),
    V(pw_stage, high_c, ALWAYS),        V(pw_stage, best_c, ALWAYS),
    V(pw_stage, spread_frac, ALWAYS),   V(pw_stage, in_oven, ALWAYS),
    V(pw_stage, look, NEVER),           V(pw_stage, source, NEVER),
    V(pw_stage, ref_kg, ALWAYS),        LIST(pw_stage, own, n_own, reading_members, ALWAYS),
    V(pw_stage, is_over_coals, ALWAYS), V(pw_stage, is_on_spit, ALWAYS),
    V(pw_stage, turns, ALWAYS),
};
static const struct pw_members stage_members = MEMBERS(pw_stage, stage_rows);

static const struct pw_member brine_rows[] = {V(pw_brine, is_used, ALWAYS),    V(pw_brine, item, ALWAYS),
                                              V(pw_brine, water_frac, ALWAYS), V(pw_brine, least_min, ALWAYS),
                                              V(pw_brine, most_min, ALWAYS),   V(pw_brine, hands_min, ALWAYS)};
static const struct pw_members brine_members = MEMBERS(pw_brine, brine_rows);

static const struct pw_member cut_rows[] = {
    V(pw_cut, id, NEVER),
    V(pw_cut, name, ALWAYS),
    V(pw_cut, kind, ALWAYS),
    V(pw_cut, safety, ALWAYS),
    INDEX(pw_cut, item, ALWAYS, PW_OF_ITEMS),
    V(pw_cut, piece_kg, ALWAYS),
    V(pw_cut, piece_sd_kg, ALWAYS),
    V(pw_cut, length_m, ALWAYS),
    V(pw_cut, width_m, ALWAYS),
    V(pw_cut, height_m, ALWAYS),
    V(pw_cut, wrapped_length_m, ALWAYS),
    V(pw_cut, wrapped_width_m, ALWAYS),
    V(pw_cut, clearance_m, ALWAYS),
    V(pw_cut, may_turn, ALWAYS),
    V(pw_cut, shape, ALWAYS),
    V(pw_cut, half_m, ALWAYS),
    V(pw_cut, thicker_frac, ALWAYS),
    V(pw_cut, diffusivity_m2_s, ALWAYS),
    V(pw_cut, units_per_piece, ALWAYS),
    V(pw_cut, trim_frac, ALWAYS),
    V(pw_cut, trim_sd_frac, ALWAYS),
    V(pw_cut, cook_frac, ALWAYS),
    V(pw_cut, cook_sd_frac, ALWAYS),
    V(pw_cut, yield_core_c, ALWAYS),
    V(pw_cut, yield_per_k_frac, ALWAYS),
    V(pw_cut, yield_hold_min, ALWAYS),
    V(pw_cut, yield_per_h_frac, ALWAYS),
    V(pw_cut, yield_source, NEVER),
    BLOCK(pw_cut, brine, brine_members, ALWAYS),
    BLOCK(pw_cut, smoke, stage_members, ALWAYS),
    BLOCK(pw_cut, finish, stage_members, ALWAYS),
    V(pw_cut, rest_min, ALWAYS),
    V(pw_cut, hold_max_min, ALWAYS),
    V(pw_cut, pan_hold_min, ALWAYS),
    V(pw_cut, pans_per_piece, ALWAYS),
    V(pw_cut, serve_core_c, ALWAYS),
    V(pw_cut, may_chill, ALWAYS),
    V(pw_cut, chill_loss_frac, ALWAYS),
    V(pw_cut, chill_min, ALWAYS),
    LIST(pw_cut, chill_uses, n_chill_uses, use_members, ALWAYS),
    V(pw_cut, prep_min, ALWAYS),
    V(pw_cut, load_min, ALWAYS),
    V(pw_cut, wrap_min, ALWAYS),
    V(pw_cut, unload_min, ALWAYS),
    V(pw_cut, carve_min, ALWAYS),
    V(pw_cut, mop_every_min, ALWAYS),
    V(pw_cut, rub_set_min, ALWAYS),
    LIST(pw_cut, uses, n_uses, use_members, ALWAYS),
    V(pw_cut, source, NEVER),
    V(pw_cut, start_c, ALWAYS),
    V(pw_cut, turn_min, ALWAYS),
    V(pw_cut, salt_most_frac, ALWAYS),
};
const struct pw_members pw_members_cut = MEMBERS(pw_cut, cut_rows);

static const struct pw_member dish_rows[] = {
    V(pw_dish, id, NEVER),
    V(pw_dish, name, ALWAYS),
    INDEX(pw_dish, cut, ALWAYS, PW_OF_CUTS),
    V(pw_dish, form, ALWAYS),
    V(pw_dish, carve_frac, ALWAYS),
    V(pw_dish, carve_sd_frac, ALWAYS),
    V(pw_dish, bone_frac, ALWAYS),
    V(pw_dish, is_by_count, ALWAYS),
    V(pw_dish, portion_units, ALWAYS),
    V(pw_dish, portion_kg, ALWAYS),
    V(pw_dish, portion_sd_kg, ALWAYS),
    V(pw_dish, take_frac, PW_STANDS_IN), /* each menu line has its own by now */
    V(pw_dish, is_taken_by_class, PW_STANDS_IN),
    V(pw_dish, reserve_frac, ALWAYS),
    V(pw_dish, pan_portions, ALWAYS),
    WORDS(pw_dish, allergens, n_allergens, ALWAYS),
    LIST(pw_dish, uses, n_uses, use_members, ALWAYS),
    V(pw_dish, source, NEVER),
    V(pw_dish, held, ALWAYS),
    V(pw_dish, course, ALWAYS),
};
const struct pw_members pw_members_dish = MEMBERS(pw_dish, dish_rows);

/* ---- places ---- */

static const struct pw_member probe_rows[] = {INDEX(pw_probe, rack, ALWAYS, PW_OF_RACKS), V(pw_probe, x_m, ALWAYS),
                                              V(pw_probe, temp_c, ALWAYS)};
static const struct pw_members probe_members = MEMBERS(pw_probe, probe_rows);

static const struct pw_member setting_rows[] = {V(pw_setting, name, PW_ONE_THING), V(pw_setting, hot_c, ALWAYS),
                                                V(pw_setting, cool_c, ALWAYS), V(pw_setting, splits_per_h, ALWAYS),
                                                LIST(pw_setting, probes, n_probes, probe_members, ALWAYS)};
static const struct pw_members setting_members = MEMBERS(pw_setting, setting_rows);

static const struct pw_member rack_rows[] = {
    V(pw_rack, id, PW_ONE_THING), V(pw_rack, outline, ALWAYS),        V(pw_rack, length_m, ALWAYS),
    V(pw_rack, depth_m, ALWAYS),  V(pw_rack, clear_height_m, ALWAYS), V(pw_rack, offset_c, ALWAYS),
    V(pw_rack, n_zones, ALWAYS),  V(pw_rack, level, ALWAYS),          V(pw_rack, has_tray_below, ALWAYS)};
static const struct pw_members rack_members = MEMBERS(pw_rack, rack_rows);

static const struct pw_member coals_rows[] = {V(pw_coals, bed_c, ALWAYS), V(pw_coals, height_m, ALWAYS),
                                              V(pw_coals, has_lid, ALWAYS), V(pw_coals, is_spit, ALWAYS),
                                              V(pw_coals, source, NEVER)};
static const struct pw_members coals_members = MEMBERS(pw_coals, coals_rows);

static const struct pw_member pit_rows[] = {
    V(pw_pit, id, NEVER),
    V(pw_pit, name, NEVER),
    INDEX(pw_pit, alike, NEVER, PW_OF_PITS), /* follows from the rest */
    LIST(pw_pit, settings, n_settings, setting_members, ALWAYS),
    LIST(pw_pit, racks, n_racks, rack_members, ALWAYS),
    V(pw_pit, ready_min, ALWAYS),
    V(pw_pit, ready_spread_frac, ALWAYS),
    V(pw_pit, lost_per_h_frac, ALWAYS),
    V(pw_pit, lost_min, ALWAYS),
    V(pw_pit, n_burns_max, PW_STANDS_IN), /* each job counts its own days; together more are allowed */
    V(pw_pit, steel_kg, ALWAYS),
    V(pw_pit, shell_m2, ALWAYS),
    V(pw_pit, emissivity_frac, ALWAYS),
    V(pw_pit, length_m, ALWAYS),
    V(pw_pit, excess_air_frac, ALWAYS),
    V(pw_pit, exhaust_over_c, ALWAYS),
    V(pw_pit, combustion_frac, ALWAYS),
    V(pw_pit, start_charcoal_kg, ALWAYS),
    V(pw_pit, water_kg, ALWAYS),

    INDEX(pw_pit, charcoal, ALWAYS, PW_OF_FUELS),
    INDEX(pw_pit, wood, ALWAYS, PW_OF_FUELS),
    V(pw_pit, split_kg, ALWAYS),
    V(pw_pit, tend_min_per_h, ALWAYS),
    V(pw_pit, is_rentable, ALWAYS),
    V(pw_pit, rent_cents, ALWAYS),
    V(pw_pit, is_over_coals, ALWAYS),
    BLOCK(pw_pit, coals, coals_members, ALWAYS),
    V(pw_pit, source, NEVER),
};
const struct pw_members pw_members_pit = MEMBERS(pw_pit, pit_rows);

static const struct pw_member finisher_rows[] = {
    V(pw_finisher, id, NEVER),           V(pw_finisher, name, NEVER),          V(pw_finisher, kind, ALWAYS),
    V(pw_finisher, capacity, ALWAYS),    V(pw_finisher, is_in_pans, ALWAYS),   V(pw_finisher, temp_c, ALWAYS),
    V(pw_finisher, cents_per_h, ALWAYS), V(pw_finisher, loss_frac_h, ALWAYS),  V(pw_finisher, source, NEVER),
    V(pw_finisher, heat_up_min, ALWAYS), V(pw_finisher, off_after_min, ALWAYS)};
const struct pw_members pw_members_finisher = MEMBERS(pw_finisher, finisher_rows);

/* ---- guests ---- */

static const struct pw_member class_rows[] = {V(pw_guest_class, id, NEVER), V(pw_guest_class, name, ALWAYS),
                                              V(pw_guest_class, appetite_frac, ALWAYS),
                                              V(pw_guest_class, eats_meat, ALWAYS)};
const struct pw_members pw_members_class = MEMBERS(pw_guest_class, class_rows);

const struct pw_members *const pw_members_all[] = {
    &pw_members_item,  &pw_members_cut,      &pw_members_dish, &pw_members_fuel, &pw_members_pit, &pw_members_finisher,
    &pw_members_class, &pw_members_supplier, &use_members,     &offer_members,   &part_members,   &reading_members,
    &brine_members,    &stage_members,       &probe_members,   &setting_members, &rack_members,   NULL};

/* ---- comparing ---- */

static bool same_text(const char *a, const char *b) { return a == b || (a && b && strcmp(a, b) == 0); }

static int count_at(const void *entry, size_t at)
{
  int n;
  memcpy(&n, (const char *)entry + at, sizeof n);
  return n;
}

static bool same_list(const struct pw_member *m, const void *a, const void *b, enum pw_sense sense)
{
  int n = count_at(a, m->count_at);
  if (n != count_at(b, m->count_at))
    return false;
  const char *x, *y;
  memcpy(&x, (const char *)a + m->at, sizeof x);
  memcpy(&y, (const char *)b + m->at, sizeof y);
  for (int i = 0; i < n; i++) {
    if (m->type == PW_MT_LIST
            ? !pw_members_same(m->of, x + (size_t)i * m->of->size, y + (size_t)i * m->of->size, sense)
            : !same_text(((const char *const *)(const void *)x)[i], ((const char *const *)(const void *)y)[i]))
      return false;
  }
  return true;
}

static bool same_member(const struct pw_member *m, const void *a, const void *b, enum pw_sense sense)
{
  const char *x = (const char *)a + m->at, *y = (const char *)b + m->at;
  if (m->type == PW_MT_LIST || m->type == PW_MT_WORDS)
    return same_list(m, a, b, sense);
  if (m->type == PW_MT_BLOCK)
    return pw_members_same(m->of, x, y, sense);
  if (m->type == PW_MT_DOUBLE) { /* by value: 0 is -0 */
    double p, q;
    memcpy(&p, x, sizeof p);
    memcpy(&q, y, sizeof q);
    return p == q;
  }
  if (m->type == PW_MT_TEXT) {
    const char *p, *q;
    memcpy(&p, x, sizeof p);
    memcpy(&q, y, sizeof q);
    return same_text(p, q);
  }
  return memcmp(x, y, m->size) == 0;
}

bool pw_members_same(const struct pw_members *of, const void *a, const void *b, enum pw_sense sense)
{
  for (int i = 0; i < of->n; i++)
    if ((of->rows[i].counts & (unsigned)sense) && !same_member(&of->rows[i], a, b, sense))
      return false;
  return true;
}
