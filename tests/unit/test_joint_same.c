/* test_joint_same.c - entries of two events: each value that planning reads, changed alone, makes them different; words that only
 * a person reads do not. */
#include "harness.h"

#include "plan/joint_same.h"

#include <stddef.h>

/* Things that are compared as elements of others: one of each, hung into its owner. */
static bool same_item(const void *a, const void *b) { return pw_same_item(a, b); }
static bool same_fuel(const void *a, const void *b) { return pw_same_fuel(a, b); }
static bool same_cut(const void *a, const void *b) { return pw_same_cut(a, b); }
static bool same_dish(const void *a, const void *b) { return pw_same_dish(a, b); }
static bool same_pit(const void *a, const void *b) { return pw_same_pit(a, b); }
static bool same_finisher(const void *a, const void *b) { return pw_same_finisher(a, b); }
static bool same_class(const void *a, const void *b) { return pw_same_class(a, b); }
static bool same_supplier(const void *a, const void *b) { return pw_same_supplier(a, b); }

/* A copy, since the owners do not promise to leave them alone. */
#define ONE(type) type x = *(const type *)a, y = *(const type *)b

static bool same_offer(const void *a, const void *b)
{
  ONE(struct pw_offer);
  return pw_same_item(&(struct pw_item){.offers = &x, .n_offers = 1}, &(struct pw_item){.offers = &y, .n_offers = 1});
}

static bool same_use(const void *a, const void *b)
{
  ONE(struct pw_use);
  bool in_cut = pw_same_cut(&(struct pw_cut){.uses = &x, .n_uses = 1}, &(struct pw_cut){.uses = &y, .n_uses = 1});
  bool chilled = pw_same_cut(&(struct pw_cut){.chill_uses = &x, .n_chill_uses = 1}, &(struct pw_cut){.chill_uses = &y, .n_chill_uses = 1});
  bool in_dish = pw_same_dish(&(struct pw_dish){.uses = &x, .n_uses = 1}, &(struct pw_dish){.uses = &y, .n_uses = 1});
  ck_assert(in_cut == in_dish && in_cut == chilled);
  return in_cut;
}

static bool same_stage(const void *a, const void *b)
{
  ONE(struct pw_stage);
  bool smoke = pw_same_cut(&(struct pw_cut){.smoke = x}, &(struct pw_cut){.smoke = y});
  ck_assert(smoke == pw_same_cut(&(struct pw_cut){.finish = x}, &(struct pw_cut){.finish = y}));
  return smoke;
}

static bool same_reading(const void *a, const void *b)
{
  ONE(struct pw_reading);
  return same_stage(&(struct pw_stage){.own = &x, .n_own = 1}, &(struct pw_stage){.own = &y, .n_own = 1});
}

static bool same_setting(const void *a, const void *b)
{
  ONE(struct pw_setting);
  return pw_same_pit(&(struct pw_pit){.settings = &x, .n_settings = 1}, &(struct pw_pit){.settings = &y, .n_settings = 1});
}

static bool same_probe(const void *a, const void *b)
{
  ONE(struct pw_probe);
  return same_setting(&(struct pw_setting){.probes = &x, .n_probes = 1}, &(struct pw_setting){.probes = &y, .n_probes = 1});
}

static bool same_rack(const void *a, const void *b)
{
  ONE(struct pw_rack);
  return pw_same_pit(&(struct pw_pit){.racks = &x, .n_racks = 1}, &(struct pw_pit){.racks = &y, .n_racks = 1});
}

static bool same_allergens(const void *a, const void *b)
{
  const char *x = *(const char *const *)a, *y = *(const char *const *)b;
  return pw_same_dish(&(struct pw_dish){.allergens = &x, .n_allergens = 1}, &(struct pw_dish){.allergens = &y, .n_allergens = 1});
}

enum { NUMBER, TEXT, FREE_NUMBER, FREE_TEXT }; /* free: may differ */

#define ROW(fn, type, field, what) {#type "." #field, fn, offsetof(struct type, field), sizeof(((struct type *)0)->field), what}
#define N(fn, type, field) ROW(fn, type, field, NUMBER)
#define T(fn, type, field) ROW(fn, type, field, TEXT)

static const struct {
  const char *name;
  bool (*same)(const void *, const void *);
  size_t at, size;
  int what;
} fields[] = {
    T(same_item, pw_item, name), N(same_item, pw_item, category), N(same_item, pw_item, unit), N(same_item, pw_item, store),
    N(same_item, pw_item, order_ahead_min), N(same_item, pw_item, keeps_min), N(same_item, pw_item, piece_kg),
    N(same_item, pw_item, litre_kg), N(same_item, pw_item, each_kg), N(same_item, pw_item, n_offers), N(same_item, pw_item, n_parts),
    ROW(same_item, pw_item, source, FREE_TEXT),
    T(same_offer, pw_offer, supplier), T(same_offer, pw_offer, pack), N(same_offer, pw_offer, amount), N(same_offer, pw_offer, pieces),
    N(same_offer, pw_offer, is_by_weight), N(same_offer, pw_offer, price_cents), ROW(same_offer, pw_offer, source, FREE_TEXT),
    N(same_use, pw_use, item), N(same_use, pw_use, amount), N(same_use, pw_use, per),
    T(same_fuel, pw_fuel, name), N(same_fuel, pw_fuel, is_charcoal), N(same_fuel, pw_fuel, gross_mj_kg), N(same_fuel, pw_fuel, hydrogen_frac),
    N(same_fuel, pw_fuel, moisture_wet_frac), N(same_fuel, pw_fuel, stoich_air_kg_kg), N(same_fuel, pw_fuel, kg_per_m3_stacked),
    N(same_fuel, pw_fuel, item), N(same_fuel, pw_fuel, price_cents_per_kg), N(same_fuel, pw_fuel, sack_kg), ROW(same_fuel, pw_fuel, source, FREE_TEXT),
    N(same_stage, pw_stage, is_used), N(same_stage, pw_stage, ref_min), N(same_stage, pw_stage, ref_c), N(same_stage, pw_stage, from_c),
    N(same_stage, pw_stage, to_c), N(same_stage, pw_stage, low_c), N(same_stage, pw_stage, high_c), N(same_stage, pw_stage, best_c),
    N(same_stage, pw_stage, spread_frac), N(same_stage, pw_stage, in_oven), N(same_stage, pw_stage, ref_kg), N(same_stage, pw_stage, n_own),
    ROW(same_stage, pw_stage, look, FREE_TEXT), ROW(same_stage, pw_stage, source, FREE_TEXT),
    N(same_reading, pw_reading, air_c), N(same_reading, pw_reading, minutes),
    T(same_cut, pw_cut, name), N(same_cut, pw_cut, kind), N(same_cut, pw_cut, safety), N(same_cut, pw_cut, item), N(same_cut, pw_cut, piece_kg),
    N(same_cut, pw_cut, piece_sd_kg), N(same_cut, pw_cut, length_m), N(same_cut, pw_cut, width_m), N(same_cut, pw_cut, height_m),
    N(same_cut, pw_cut, wrapped_length_m), N(same_cut, pw_cut, wrapped_width_m), N(same_cut, pw_cut, clearance_m), N(same_cut, pw_cut, may_turn),
    N(same_cut, pw_cut, shape), N(same_cut, pw_cut, half_m), N(same_cut, pw_cut, diffusivity_m2_s), N(same_cut, pw_cut, units_per_piece),
    N(same_cut, pw_cut, trim_frac), N(same_cut, pw_cut, trim_sd_frac), N(same_cut, pw_cut, cook_frac), N(same_cut, pw_cut, cook_sd_frac),
    N(same_cut, pw_cut, start_c), N(same_cut, pw_cut, salt_most_frac), N(same_cut, pw_cut, rest_min), N(same_cut, pw_cut, hold_max_min),
    N(same_cut, pw_cut, pans_per_piece), N(same_cut, pw_cut, serve_core_c), N(same_cut, pw_cut, may_chill), N(same_cut, pw_cut, chill_loss_frac),
    N(same_cut, pw_cut, chill_min), N(same_cut, pw_cut, prep_min), N(same_cut, pw_cut, load_min), N(same_cut, pw_cut, wrap_min),
    N(same_cut, pw_cut, unload_min), N(same_cut, pw_cut, carve_min), N(same_cut, pw_cut, mop_every_min), N(same_cut, pw_cut, rub_set_min),
    N(same_cut, pw_cut, n_uses), N(same_cut, pw_cut, n_chill_uses), ROW(same_cut, pw_cut, source, FREE_TEXT),
    T(same_dish, pw_dish, name), N(same_dish, pw_dish, cut), N(same_dish, pw_dish, form), N(same_dish, pw_dish, carve_frac),
    N(same_dish, pw_dish, carve_sd_frac), N(same_dish, pw_dish, is_by_count), N(same_dish, pw_dish, portion_units), N(same_dish, pw_dish, portion_kg),
    N(same_dish, pw_dish, portion_sd_kg), N(same_dish, pw_dish, reserve_frac), N(same_dish, pw_dish, pan_portions), N(same_dish, pw_dish, held),
    N(same_dish, pw_dish, n_allergens), N(same_dish, pw_dish, n_uses), ROW(same_dish, pw_dish, source, FREE_TEXT),
    {"an allergen", same_allergens, 0, sizeof(char *), TEXT},
    T(same_setting, pw_setting, name), N(same_setting, pw_setting, hot_c), N(same_setting, pw_setting, cool_c),
    N(same_setting, pw_setting, splits_per_h), N(same_setting, pw_setting, n_probes), N(same_probe, pw_probe, rack), N(same_probe, pw_probe, x_m),
    N(same_probe, pw_probe, temp_c),
    T(same_rack, pw_rack, id), N(same_rack, pw_rack, outline), N(same_rack, pw_rack, length_m), N(same_rack, pw_rack, depth_m),
    N(same_rack, pw_rack, clear_height_m), N(same_rack, pw_rack, offset_c), N(same_rack, pw_rack, n_zones),
    N(same_pit, pw_pit, n_settings), N(same_pit, pw_pit, n_racks), N(same_pit, pw_pit, ready_min), N(same_pit, pw_pit, steel_kg),
    N(same_pit, pw_pit, shell_m2), N(same_pit, pw_pit, emissivity_frac), N(same_pit, pw_pit, length_m), N(same_pit, pw_pit, excess_air_frac),
    N(same_pit, pw_pit, exhaust_over_c), N(same_pit, pw_pit, combustion_frac), N(same_pit, pw_pit, start_charcoal_kg), N(same_pit, pw_pit, water_kg),
    N(same_pit, pw_pit, charcoal), N(same_pit, pw_pit, wood), N(same_pit, pw_pit, split_kg), N(same_pit, pw_pit, tend_min_per_h),
    N(same_pit, pw_pit, is_rentable), N(same_pit, pw_pit, rent_cents), ROW(same_pit, pw_pit, alike, FREE_NUMBER),
    ROW(same_pit, pw_pit, n_burns_max, FREE_NUMBER), ROW(same_pit, pw_pit, name, FREE_TEXT), ROW(same_pit, pw_pit, source, FREE_TEXT),
    N(same_finisher, pw_finisher, kind), N(same_finisher, pw_finisher, capacity), N(same_finisher, pw_finisher, is_in_pans),
    N(same_finisher, pw_finisher, temp_c), N(same_finisher, pw_finisher, cents_per_h), ROW(same_finisher, pw_finisher, name, FREE_TEXT),
    T(same_class, pw_guest_class, name), N(same_class, pw_guest_class, appetite_frac), N(same_class, pw_guest_class, eats_meat),
    N(same_supplier, pw_supplier, delivery_cents), N(same_supplier, pw_supplier, minimum_cents), N(same_supplier, pw_supplier, days),
    ROW(same_supplier, pw_supplier, source, FREE_TEXT),
};

START_TEST(each_value_counts)
{
  static const char *const words[] = {"one", "another"};
  _Alignas(16) unsigned char a[1024] = {0}, b[1024] = {0};
  ck_assert_uint_le(fields[_i].at + fields[_i].size, sizeof a);
  bool is_text = fields[_i].what == TEXT || fields[_i].what == FREE_TEXT, is_free = fields[_i].what >= FREE_NUMBER;
  ck_assert_msg(fields[_i].same(a, b), "%s: nothing is not nothing", fields[_i].name);
  if (is_text) {
    memcpy(a + fields[_i].at, &words[0], sizeof words[0]);
    ck_assert_msg(fields[_i].same(a, b) == is_free, "%s against none", fields[_i].name);
    memcpy(b + fields[_i].at, &words[1], sizeof words[1]);
  } else {
    memset(b + fields[_i].at, 1, fields[_i].size); /* a small number, yes, or more elements */
  }
  ck_assert_msg(fields[_i].same(a, b) == is_free, "%s", fields[_i].name);
  ck_assert_msg(fields[_i].same(b, a) == is_free, "%s, the other way round", fields[_i].name);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("joint_same");
  TCase *t = tcase_create("fields");
  tcase_add_loop_test(t, each_value_counts, 0, (int)(sizeof fields / sizeof *fields));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
