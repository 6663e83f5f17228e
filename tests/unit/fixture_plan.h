/* fixture_plan.h - a whole plan made by hand for the tests of the writers: two pits (a trough with two racks
 * and a round drum), an oven, a hot box, an insulated box, three lots, two services, one night.  All names
 * and prices are invented; nothing in it is meant as cooking advice. */
#ifndef PW_FIXTURE_PLAN_H
#define PW_FIXTURE_PLAN_H

#include "pw/plan.h"

#include <limits.h>
#include <string.h>

#define FX_LEN(array) ((int)(sizeof(array) / sizeof(array)[0]))

static struct pw_rect fx_brisket[5], fx_brisket_wrapped[3], fx_pork[3], fx_pork_wrapped[3], fx_chicken_a[4],
    fx_chicken_b[4];
static int fx_ids[8] = {0, 1, 2, 3, 4, 5, 6, 7};

/** n rectangles in rows of `per_row` from (x, y). */
static inline void fx_rects(struct pw_rect *out, int n, int per_row, double x_m, double y_m, double length_m,
                            double depth_m)
{
  for (int i = 0; i < n; i++)
    out[i] = (struct pw_rect){x_m + (i % per_row) * length_m, y_m + (i / per_row) * depth_m, length_m, depth_m};
}

static struct pw_offer fx_offer_brisket[] = {
    {"Hill Street Meats", "piece", 0, 1, true, 1014.0, "invented for the tests"}};
static struct pw_offer fx_offer_pork[] = {{"Hill Street Meats", "piece", 0, 1, true, 584.0, "invented for the tests"}};
static struct pw_offer fx_offer_chicken[] = {{"Mill Farm", "case", 0, 8, true, 462.0, "invented for the tests"}};
static struct pw_offer fx_offer_slaw[] = {{"Green Barrow", "tub", 4.0, 0, false, 1650.0, "invented for the tests"}};
static struct pw_offer fx_offer_bun[] = {{"Lane Bakery", "tray", 24, 0, false, 1320.0, "invented for the tests"}};
static struct pw_offer fx_offer_sauce[] = {{"Green Barrow", "jug", 3.785, 0, false, 2199.0, "invented for the tests"}};
static struct pw_offer fx_offer_rub[] = {{"Green Barrow", "jar", 0.7, 0, false, 1140.0, "invented for the tests"}};
static struct pw_offer fx_offer_plate[] = {{"Paper & Twine", "sleeve", 50, 0, false, 925.0, "invented for the tests"}};
static struct pw_offer fx_offer_oak[] = {
    {"Woodlot \xC3\x85sen", "rack", 150.0, 0, false, 6800.0, "invented for the tests"}};
static struct pw_offer fx_offer_lump[] = {
    {"Woodlot \xC3\x85sen", "bag", 9.0, 0, false, 1875.0, "invented for the tests"}};

static struct pw_item fx_items[] = {
    {"brisket-whole", "Beef brisket, whole packer", PW_CAT_MEAT, PW_UNIT_KG, PW_STORE_CHILLED, 4320, 5760, 6.35,
     fx_offer_brisket, 1, "invented for the tests", NULL, 0, 0, 0, false},
    {"pork-shoulder", "Pork shoulder, bone-in", PW_CAT_MEAT, PW_UNIT_KG, PW_STORE_FROZEN, 4320, 5760, 3.6,
     fx_offer_pork, 1, "invented for the tests", NULL, 0, 0, 0, false},
    {"chicken-half", "Chicken halves", PW_CAT_MEAT, PW_UNIT_KG, PW_STORE_CHILLED, 2880, 2880, 0.8, fx_offer_chicken, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"slaw", "Cabbage slaw, dressed", PW_CAT_SIDE, PW_UNIT_KG, PW_STORE_CHILLED, 2880, 2880, 0, fx_offer_slaw, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"bun", "Soft buns", PW_CAT_BREAD, PW_UNIT_EACH, PW_STORE_DRY, 2880, 1440, 0, fx_offer_bun, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"sauce", "Vinegar sauce", PW_CAT_SAUCE, PW_UNIT_L, PW_STORE_DRY, 2880, 20160, 0, fx_offer_sauce, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"rub-beef", "Pepper and salt rub", PW_CAT_SEASONING, PW_UNIT_KG, PW_STORE_DRY, 2880, 43200, 0, fx_offer_rub, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"plate", "Plates, pressed leaf", PW_CAT_DISPOSABLE, PW_UNIT_EACH, PW_STORE_DRY, 4320, 100000, 0, fx_offer_plate, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"oak", "White oak splits", PW_CAT_FUEL, PW_UNIT_KG, PW_STORE_DRY, 4320, 100000, 0, fx_offer_oak, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
    {"lump", "Lump charcoal", PW_CAT_FUEL, PW_UNIT_KG, PW_STORE_DRY, 4320, 100000, 0, fx_offer_lump, 1,
     "invented for the tests", NULL, 0, 0, 0, false},
};

static struct pw_use fx_use_rub[] = {{6, 0.018, PW_PER_KG_RAW}};
static struct pw_cut fx_cuts[] = {
    {.id = "brisket-whole",
     .name = "Whole packer brisket",
     .kind = PW_KIND_BEEF,
     .safety = PW_SAFE_INTACT,
     .item = 0,
     .piece_kg = 6.35,
     .piece_sd_kg = 0.54,
     .length_m = 0.50,
     .width_m = 0.29,
     .height_m = 0.12,
     .wrapped_length_m = 0.48,
     .wrapped_width_m = 0.28,
     .clearance_m = 0.04,
     .may_turn = true,
     .shape = PW_SHAPE_SLAB,
     .half_m = 0.055,
     .diffusivity_m2_s = 1.32e-7,
     .units_per_piece = 1,
     .trim_frac = 0.85,
     .trim_sd_frac = 0.03,
     .cook_frac = 0.66,
     .cook_sd_frac = 0.04,
     .yield_source = "USDA Table of Cooking Yields R2 (2014), NDB 13806",
     .smoke = {true, 420, 121, 4, 71, 107, 143, 124, 0.10, false, "bark set, does not scratch off",
               "common practice, no source"},
     .finish = {true, 270, 121, 71, 95, 107, 149, 127, 0.12, true, "probe slides in like soft butter",
                "common practice, no source"},
     .rest_min = 60,
     .hold_max_min = 300,
     .pans_per_piece = 0.5,
     .serve_core_c = 63,
     .prep_min = 8,
     .load_min = 1,
     .wrap_min = 3,
     .unload_min = 1,
     .carve_min = 6,
     .mop_every_min = 60,
     .rub_set_min = 180,
     .uses = fx_use_rub,
     .n_uses = 1,
     .source = "common practice, no source"},
    {.id = "pork-shoulder",
     .name = "Pork shoulder, bone-in",
     .kind = PW_KIND_PORK,
     .safety = PW_SAFE_INTACT,
     .item = 1,
     .piece_kg = 3.6,
     .piece_sd_kg = 0.4,
     .length_m = 0.26,
     .width_m = 0.20,
     .height_m = 0.13,
     .wrapped_length_m = 0.26,
     .wrapped_width_m = 0.20,
     .clearance_m = 0.04,
     .may_turn = true,
     .shape = PW_SHAPE_CYLINDER,
     .half_m = 0.07,
     .diffusivity_m2_s = 1.3e-7,
     .units_per_piece = 1,
     .trim_frac = 0.96,
     .trim_sd_frac = 0.01,
     .cook_frac = 0.60,
     .cook_sd_frac = 0.04,
     .yield_source = "from memory",
     .smoke = {true, 420, 121, 4, 74, 107, 143, 121, 0.10, false, "deep red-brown, crust set",
               "common practice, no source"},
     .finish = {true, 270, 121, 74, 96, 107, 149, 121, 0.12, true, "bone wiggles free", "common practice, no source"},
     .rest_min = 45,
     .hold_max_min = 300,
     .pans_per_piece = 0.33,
     .serve_core_c = 63,
     .prep_min = 4,
     .load_min = 1,
     .wrap_min = 2,
     .unload_min = 1,
     .carve_min = 8,
     .mop_every_min = 60,
     .rub_set_min = 180,
     .source = "common practice, no source"},
    {.id = "chicken-half",
     .name = "Chicken halves",
     .kind = PW_KIND_POULTRY,
     .safety = PW_SAFE_POULTRY,
     .item = 2,
     .piece_kg = 0.8,
     .piece_sd_kg = 0.06,
     .length_m = 0.21,
     .width_m = 0.15,
     .height_m = 0.06,
     .wrapped_length_m = 0.21,
     .wrapped_width_m = 0.15,
     .clearance_m = 0.03,
     .may_turn = true,
     .shape = PW_SHAPE_SLAB,
     .half_m = 0.03,
     .diffusivity_m2_s = 1.3e-7,
     .units_per_piece = 2,
     .trim_frac = 1,
     .trim_sd_frac = 0,
     .cook_frac = 0.74,
     .cook_sd_frac = 0.03,
     .yield_source = "from memory",
     .smoke = {true, 120, 135, 4, 77, 121, 163, 135, 0.10, false, "juices clear, skin bites through",
               "common practice, no source"},
     .rest_min = 10,
     .hold_max_min = 120,
     .pans_per_piece = 0.12,
     .serve_core_c = 74,
     .prep_min = 2,
     .load_min = 0.5,
     .unload_min = 0.5,
     .carve_min = 1,
     .source = "FDA Food Code 2022 3-401.11"},
};

static const char *fx_allergens_slaw[] = {"egg", "mustard"};
static const char *fx_allergens_bun[] = {"wheat", "milk"};
static struct pw_dish fx_dishes[] = {
    {.id = "brisket-sliced",
     .name = "Sliced brisket",
     .cut = 0,
     .form = PW_FORM_SLICED,
     .carve_frac = 0.94,
     .carve_sd_frac = 0.02,
     .portion_kg = 0.142,
     .portion_sd_kg = 0.034,
     .take_frac = 0.7,
     .pan_portions = 40,
     .source = "common practice, no source"},
    {.id = "pork-pulled",
     .name = "Pulled pork",
     .cut = 1,
     .form = PW_FORM_PULLED,
     .carve_frac = 0.88,
     .carve_sd_frac = 0.03,
     .portion_kg = 0.128,
     .portion_sd_kg = 0.03,
     .take_frac = 0.6,
     .pan_portions = 40,
     .source = "common practice, no source"},
    {.id = "chicken-quarter",
     .name = "Smoked chicken",
     .cut = 2,
     .form = PW_FORM_WHOLE,
     .carve_frac = 1,
     .is_by_count = true,
     .portion_units = 1,
     .take_frac = 0.35,
     .source = "common practice, no source"},
    {.id = "slaw",
     .name = "Cabbage slaw",
     .cut = PW_NONE,
     .form = PW_FORM_SPOONED,
     .carve_frac = 1,
     .portion_kg = 0.11,
     .portion_sd_kg = 0.02,
     .take_frac = 0.8,
     .reserve_frac = 0.05,
     .allergens = fx_allergens_slaw,
     .n_allergens = 2,
     .source = "common practice, no source"},
    {.id = "bun",
     .name = "Soft bun",
     .cut = PW_NONE,
     .form = PW_FORM_WHOLE,
     .carve_frac = 1,
     .is_by_count = true,
     .portion_units = 1,
     .take_frac = 0.9,
     .reserve_frac = 0.05,
     .allergens = fx_allergens_bun,
     .n_allergens = 2,
     .source = "common practice, no source"},
};

static struct pw_setting fx_set_long[] = {{.name = "steady", .hot_c = 135, .cool_c = 121, .splits_per_h = 3}};
static struct pw_setting fx_set_drum[] = {{.name = "brisk", .hot_c = 139, .cool_c = 135}};
static struct pw_rack fx_racks_long[] = {{"main", PW_RECTANGLE, 1.83, 0.76, 0.36, 0, 2, 0, false},
                                         {"upper", PW_RECTANGLE, 1.60, 0.46, 0.25, 5, 2, 1, false}};
static struct pw_rack fx_racks_drum[] = {{"ring", PW_DISC, 0.56, 0.56, 0.3, 0, 1, 0, false}};
static struct pw_fuel fx_fuels[] = {
    {.id = "white-oak",
     .name = "White oak",
     .gross_mj_kg = 20.0,
     .hydrogen_frac = 0.06,
     .moisture_wet_frac = 0.2,
     .stoich_air_kg_kg = 6,
     .kg_per_m3_stacked = 425,
     .item = 8,
     .price_cents_per_kg = 45.3,
     .source = "from memory"},
    {.id = "lump-charcoal",
     .name = "Lump charcoal",
     .is_charcoal = true,
     .gross_mj_kg = 30.0,
     .hydrogen_frac = 0.02,
     .moisture_wet_frac = 0.05,
     .stoich_air_kg_kg = 10,
     .kg_per_m3_stacked = 200,
     .item = 9,
     .price_cents_per_kg = 208.3,
     .source = "from memory"},
};
static struct pw_pit fx_pits[] = {
    {.id = "long-pit",
     .name = "Long trailer pit",
     .alike = 0,
     .settings = fx_set_long,
     .n_settings = 1,
     .racks = fx_racks_long,
     .n_racks = 2,
     .ready_min = 90,
     .n_burns_max = 1,
     .steel_kg = 420,
     .shell_m2 = 6.2,
     .emissivity_frac = 0.9,
     .length_m = 2.6,
     .excess_air_frac = 3,
     .exhaust_over_c = 12,
     .combustion_frac = 0.85,
     .start_charcoal_kg = 6,
     .charcoal = 1,
     .wood = 0,
     .split_kg = 1.4,
     .tend_min_per_h = 10,
     .source = "invented for the tests"},
    {.id = "drum",
     .name = "Drum <one>",
     .alike = 1,
     .settings = fx_set_drum,
     .n_settings = 1,
     .racks = fx_racks_drum,
     .n_racks = 1,
     .ready_min = 60,
     .n_burns_max = 1,
     .steel_kg = 30,
     .shell_m2 = 1.9,
     .emissivity_frac = 0.9,
     .length_m = 0.6,
     .excess_air_frac = 2,
     .exhaust_over_c = 20,
     .combustion_frac = 0.85,
     .start_charcoal_kg = 3,
     .charcoal = 1,
     .wood = 0,
     .split_kg = 0.5,
     .tend_min_per_h = 6,
     .source = "invented for the tests"},
};
static struct pw_finisher fx_finishers[] = {
    {"deck-oven", "Deck oven", PW_OVEN, 1.5, false, 127, 120, 0, "invented for the tests", 0, 0},
    {"hot-box", "Hot box", PW_HOLD, 9, true, 66, 20, 0, "invented for the tests", 0, 0},
    {"insulated-1", "Insulated box 1", PW_HOLD, 4, true, 60, 0, 0.02, "invented for the tests", 0, 0},
};
static struct pw_crew fx_crew[] = {
    {.role = "pitmaster",
     .duties = 1u << PW_DUTY_FIRE | 1u << PW_DUTY_PIT,
     .count = 1,
     .guests_per_hand = 0,
     .from_at_min = -150,
     .to_at_min = 1080,
     .cents_per_h = 3200},
    {.role = "carver",
     .duties = 1u << PW_DUTY_PREP | 1u << PW_DUTY_CARVE,
     .count = 1,
     .guests_per_hand = 0,
     .from_at_min = 600,
     .to_at_min = 1200,
     .cents_per_h = 2400},
    {.role = "server",
     .duties = 1u << PW_DUTY_SERVE | 1u << PW_DUTY_CLEAN | 1u << PW_DUTY_DRIVE,
     .count = 2,
     .guests_per_hand = 30,
     .from_at_min = 660,
     .to_at_min = 1260,
     .cents_per_h = 1900},
};
static struct pw_guest_class fx_classes[] = {
    {"adults", "Adults", 1, true}, {"children", "Children", 0.5, true}, {"no-meat", "No meat", 1, false}};
static int fx_guests_lunch[] = {30, 8, 2}, fx_guests_dinner[] = {52, 10, 4};
static struct pw_menu_line fx_menu_lunch[] = {{2, 0.35, 0, 0, 1, false, 0, false, NULL},
                                              {3, 0.8, 0.11, 0.02, 0, false, 0, false, NULL}};
static struct pw_menu_line fx_menu_dinner[] = {{0, 0.7, 0.142, 0.034, 0, false, 0, false, NULL},
                                               {1, 0.6, 0.128, 0.03, 0, false, 0, false, NULL},
                                               {3, 0.8, 0.11, 0.02, 0, false, 0, false, NULL},
                                               {4, 0.9, 0, 0, 1, false, 0, false, NULL}};
static struct pw_service fx_services[] = {
    {"lunch", "Pickers' lunch", 0, 750, 60, PW_FAMILY, fx_guests_lunch, fx_menu_lunch, FX_LEN(fx_menu_lunch), NULL, 0,
     0, 0, NULL, 0, NULL},
    {"dinner", "Harvest supper", 0, 1050, 90, PW_BUFFET, fx_guests_dinner, fx_menu_dinner, FX_LEN(fx_menu_dinner), NULL,
     0, 0, 0, NULL, 0, NULL},
};
static struct pw_instalment fx_instalments[] = {{"Second payment", 0.4, 14}};
static struct pw_use fx_uses[] = {{7, 1.1, PW_PER_GUEST}};

static struct pw_event fx_event = {
    .file = "orchard.yaml",
    .name = "Orchard & press harvest day",
    .customer = "The Quillfeather orchard",
    .date = {2027, 9, 18},
    .zone = "America/Chicago",
    .utc_offset_min = -300,
    .currency = "USD",
    .money_sign = "$",
    .money_digits = 2,
    .units = PW_UNITS_US,
    .paper = PW_PAPER_LETTER,
    .slot_min = 30,
    .site = {.place = "North orchard, behind the press house", .travel_m = 45000, .travel_min = 50, .altitude_m = 210},
    .weather = {11, 23, 3.6, 0.6},
    .terms = {.margin_frac = 0.22,
              .overhead_frac = 0.09,
              .overhead_cents = 12000,
              .travel_cents_per_km = 43.5,
              .rental_cents = 40000,
              .service_charge_frac = 0.0,
              .tax_frac = 0.0825,
              .deposit_frac = 0.3,
              .is_service_charge_taxed = true,
              .min_fee_cents = 90000,
              .round_per_guest_cents = 50,
              .valid_days = 30,
              .final_count_days_before = 10,
              .fuel_reserve_frac = 0.2,
              .cover_frac = 0.975},
    .effort = {10, 5, 1, 0.2, 30, 1800},
    .classes = fx_classes,
    .n_classes = FX_LEN(fx_classes),
    .items = fx_items,
    .n_items = FX_LEN(fx_items),
    .fuels = fx_fuels,
    .n_fuels = FX_LEN(fx_fuels),
    .cuts = fx_cuts,
    .n_cuts = FX_LEN(fx_cuts),
    .dishes = fx_dishes,
    .n_dishes = FX_LEN(fx_dishes),
    .pits = fx_pits,
    .n_pits = FX_LEN(fx_pits),
    .finishers = fx_finishers,
    .n_finishers = FX_LEN(fx_finishers),
    .crew = fx_crew,
    .n_crew = FX_LEN(fx_crew),
    .services = fx_services,
    .n_services = FX_LEN(fx_services),
    .instalments = fx_instalments,
    .n_instalments = 1,
    .uses = fx_uses,
    .n_uses = 1,
};

static struct pw_demand_line fx_demand[] = {
    {0, 2, 34, 0, 0, 11.9, 2.8, 0.975, 0, 16, 12, 16},    {0, 3, 40, 3.52, 0.33, 0, 0, 0.975, 4.16, 0, 32, 37},
    {1, 0, 57, 5.67, 0.55, 0, 0, 0.975, 6.74, 0, 40, 47}, {1, 1, 57, 4.38, 0.51, 0, 0, 0.975, 5.38, 0, 35, 41},
    {1, 3, 66, 5.81, 0.42, 0, 0, 0.975, 6.63, 0, 53, 59}, {1, 4, 66, 0, 0, 59.4, 2.4, 0.975, 0, 67, 60, 64},
};
static struct pw_raw_need fx_raws[] = {
    {0, 2, 0, 6.4, 0.74, 8, 0.6, 0.021, {.need_units = 16}},
    {1,
     0,
     6.74,
     31.75,
     0.527,
     5,
     9.9,
     0.001,
     {.ask_kg = 5.67, .ask_sd_kg = 0.55, .least_kg = 6.74, .cover_frac = 0.975, .piece_kg = 3.35, .piece_sd_kg = 0.4}},
    {1,
     1,
     5.38,
     10.8,
     0.507,
     3,
     1.1,
     0.024,
     {.ask_kg = 4.38, .ask_sd_kg = 0.51, .least_kg = 5.38, .cover_frac = 0.975, .piece_kg = 1.83, .piece_sd_kg = 0.3}},
};
static struct pw_purchase_line fx_lines[] = {
    {0, 0, 12.8, 5, 31.75, 5, 1014, 32195, -6720, -2400, INT_MIN},
    {1, 0, 10.6, 3, 10.8, 3, 584, 6307, -6720, -4080, -3900},
    {2, 0, 6.4, 1, 6.4, 8, 462, 2957, -5280, -2400, INT_MIN},
    {3, 0, 10.79, 3, 12, 0, 1650, 4950, -5280, -2400, INT_MIN},
    {4, 0, 67, 3, 72, 0, 1320, 3960, -3360, -480, INT_MIN},
    {5, 0, 4.1, 2, 7.57, 0, 2199, 4398, -5280, -2400, INT_MIN},
    {6, 0, 0.69, 1, 0.7, 0, 1140, 1140, -5280, -2400, INT_MIN},
    {7, 0, 117, 3, 150, 0, 925, 2775, -6720, -2400, INT_MIN},
};

static double fx_temp[5][1] = {{132}, {125}, {137}, {130}, {137}};
static struct pw_zone fx_zones[] = {
    {0, 0, "long-pit/main/1", 0, 0.915, 0.76, fx_temp[0]}, {0, 0, "long-pit/main/2", 0.915, 0.915, 0.76, fx_temp[1]},
    {0, 1, "long-pit/upper/1", 0, 0.80, 0.46, fx_temp[2]}, {0, 1, "long-pit/upper/2", 0.80, 0.80, 0.46, fx_temp[3]},
    {1, 0, "drum/ring/1", 0, 0.56, 0.56, fx_temp[4]},
};
static int fx_t420[1] = {420}, fx_t270[1] = {270}, fx_t120[1] = {120}, fx_none[1] = {PW_NONE};
static int *fx_smoke_long[5] = {fx_t420, fx_t420, fx_none, fx_none, fx_none};
static int *fx_finish_long[5] = {fx_t270, fx_t270, fx_t270, fx_t270, fx_none};
static int *fx_smoke_chicken[5] = {fx_t120, fx_t120, fx_t120, fx_t120, fx_t120};
static int *fx_finish_none[5] = {fx_none, fx_none, fx_none, fx_none, fx_none};
static int fx_oven_270[3] = {270, PW_NONE, PW_NONE}, fx_oven_none[3] = {PW_NONE, PW_NONE, PW_NONE};
static struct pw_lot fx_lots[] = {
    {"lunch/chicken-half",
     0,
     2,
     8,
     0.8,
     fx_smoke_chicken,
     fx_finish_none,
     fx_oven_none,
     fx_oven_none,
     false,
     0.24,
     0.18,
     0.24,
     0.18,
     10,
     120,
     false,
     0,
     750,
     30,
     600,
     720,
     0,
     0,
     NULL,
     NULL,
     NULL,
     0,
     1,
     810,
     750,
     0,
     0},
    {"dinner/brisket-whole",
     1,
     0,
     5,
     5.4,
     fx_smoke_long,
     fx_finish_long,
     fx_oven_270,
     fx_oven_none,
     true,
     0.54,
     0.33,
     0.52,
     0.32,
     60,
     300,
     false,
     0,
     1050,
     60,
     660,
     960,
     0,
     0,
     NULL,
     NULL,
     NULL,
     0,
     1,
     1140,
     1050,
     0,
     0},
    {"dinner/pork-shoulder",
     1,
     1,
     3,
     3.46,
     fx_smoke_long,
     fx_finish_long,
     fx_oven_270,
     fx_oven_none,
     true,
     0.30,
     0.24,
     0.30,
     0.24,
     45,
     300,
     false,
     0,
     1050,
     60,
     690,
     960,
     0,
     0,
     NULL,
     NULL,
     NULL,
     0,
     1,
     1140,
     1050,
     0,
     0},
};

static struct pw_load fx_loads[] = {
    {1, PW_LOAD_SMOKE, 0, PW_NONE, 2, -30, 390, fx_brisket, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {1, PW_LOAD_SMOKE, 1, PW_NONE, 3, -30, 390, fx_brisket + 2, fx_ids + 2, 0, false, 0, PW_NONE, PW_NONE},
    {2, PW_LOAD_SMOKE, 0, PW_NONE, 3, 0, 420, fx_pork, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {1, PW_LOAD_FINISH, PW_NONE, 0, 2, 390, 660, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {1, PW_LOAD_FINISH, 1, PW_NONE, 3, 390, 660, fx_brisket_wrapped, fx_ids + 2, 0, false, 0, PW_NONE, PW_NONE},
    {2, PW_LOAD_FINISH, 2, PW_NONE, 3, 420, 690, fx_pork_wrapped, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_SMOKE, 4, PW_NONE, 4, 480, 600, fx_chicken_a, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_SMOKE, 3, PW_NONE, 4, 510, 630, fx_chicken_b, fx_ids + 4, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_REST, PW_NONE, 2, 4, 600, 630, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_HOLD, PW_NONE, 2, 4, 630, 750, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_REST, PW_NONE, 2, 4, 630, 660, NULL, fx_ids + 4, 0, false, 0, PW_NONE, PW_NONE},
    {0, PW_LOAD_HOLD, PW_NONE, 2, 4, 660, 750, NULL, fx_ids + 4, 0, false, 0, PW_NONE, PW_NONE},
    {1, PW_LOAD_REST, PW_NONE, 1, 5, 660, 750, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {2, PW_LOAD_REST, PW_NONE, 1, 3, 690, 750, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {1, PW_LOAD_HOLD, PW_NONE, 1, 5, 750, 1050, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
    {2, PW_LOAD_HOLD, PW_NONE, 1, 3, 750, 1050, NULL, fx_ids, 0, false, 0, PW_NONE, PW_NONE},
};
static struct pw_burn fx_burns[] = {{0, 0, -120, -30, 690}, {1, 0, 390, 450, 600}};
static int fx_missed[3] = {0, 0, 0};

static struct pw_feed fx_feeds_long[] = {
    {-60, 5.6, 4}, {-30, 2.8, 2}, {0, 4.2, 3},   {60, 4.2, 3},  {120, 4.2, 3}, {180, 4.2, 3}, {240, 4.2, 3},
    {300, 4.2, 3}, {360, 4.2, 3}, {420, 4.2, 3}, {480, 4.2, 3}, {540, 4.2, 3}, {600, 4.2, 3},
};
static struct pw_feed fx_feeds_drum[] = {{430, 1.0, 2}, {480, 0.5, 1}, {540, 0.5, 1}};
static struct pw_burn_fuel fx_burn_fuel[] = {
    {5.1, 4.2, 1.9, 62, 6, 55, 3.1, fx_feeds_long, FX_LEN(fx_feeds_long), 0.1, 0},
    {1.4, 0.9, 0.6, 5, 3, 2, 1.2, fx_feeds_drum, FX_LEN(fx_feeds_drum), 0.1, 0},
};
static struct pw_fuel_line fx_fuel_lines[] = {{0, 117.5, 141, 84, 6800, 0, 0, NULL, PW_NONE, 141 / 425.0},
                                              {1, 9, 10.8, 0, 3750, 2, 9, "bag", 0, 0}};

/* Tasks without people have no order. */
#define FX_NO_ORDER                                                                                                    \
  PW_NONE, PW_AT_SITE, PW_NONE, PW_NONE, PW_NONE, PW_NONE, NULL, 0, NULL, 0, NULL, 0, 0, NULL, 0, PW_NO_PLATES, false
static struct pw_task fx_tasks[] = {
    {-3900, 10, PW_TASK_THAW, PW_DUTY_PREP, PW_NONE, 2, PW_NONE, 3, "Move pork shoulders from freezer to refrigerator",
     "Kitchen",
     "41 \xC2\xB0"
     "F or below",
     FX_NO_ORDER},
    {-150, 20, PW_TASK_PREP, PW_DUTY_PIT, 0, 1, PW_NONE, 5, "Trim and rub 5 briskets", "Prep table", "fat cap 1/4 in",
     FX_NO_ORDER},
    {-120, 20, PW_TASK_LIGHT, PW_DUTY_FIRE, 0, PW_NONE, 0, 0,
     "Light Long trailer pit: 13 lb lump charcoal, then 4 splits", "Long trailer pit", "clean fire by 23:30",
     FX_NO_ORDER},
    {-60, 5, PW_TASK_FEED, PW_DUTY_FIRE, 0, PW_NONE, 0, 0, "Feed 4 splits", "Long trailer pit",
     "275 \xC2\xB0"
     "F hot end",
     FX_NO_ORDER},
    {-30, 10, PW_TASK_LOAD, PW_DUTY_PIT, 0, 1, 0, 5, "Load 5 briskets, fat towards the fire",
     "Long trailer pit, main rack",
     "250-275 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {0, 8, PW_TASK_LOAD, PW_DUTY_PIT, 0, 2, 0, 3, "Load 3 pork shoulders", "Long trailer pit, main rack, hot end",
     "250-275 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {180, 5, PW_TASK_MOP, PW_DUTY_PIT, 0, 1, 0, 5, "Mop briskets (rub set: does not scratch off)",
     "Long trailer pit, main rack", "quick, lid shut", FX_NO_ORDER},
    {240, 5, PW_TASK_CORE, PW_DUTY_PIT, 0, 1, 0, 5, "Check colour and pit temperature", "Long trailer pit",
     "250-275 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {390, 12, PW_TASK_WRAP, PW_DUTY_PIT, 0, 1, 0, 5, "Wrap 5 briskets in paper", "Long trailer pit",
     "160 \xC2\xB0"
     "F core, bark set",
     FX_NO_ORDER},
    {402, 8, PW_TASK_LIGHT, PW_DUTY_FIRE, 0, PW_NONE, 1, 0, "Light Drum <one>: 7 lb lump charcoal", "Drum <one>",
     "clean fire by 07:30", FX_NO_ORDER},
    {410, 10, PW_TASK_CARRY, PW_DUTY_PIT, 0, 1, 0, 2, "Move 2 briskets to the deck oven", "Deck oven",
     "260 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {420, 15, PW_TASK_WRAP, PW_DUTY_PIT, 0, 2, 0, 3, "Wrap 3 pork shoulders, move to the upper rack",
     "Long trailer pit, upper rack",
     "165 \xC2\xB0"
     "F core",
     FX_NO_ORDER},
    {480, 5, PW_TASK_LOAD, PW_DUTY_PIT, 0, 0, 1, 4, "Load 4 chicken halves, skin up", "Drum <one>",
     "275 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {510, 5, PW_TASK_LOAD, PW_DUTY_PIT, 0, 0, 0, 4, "Load 4 chicken halves, skin up",
     "Long trailer pit, upper rack, cool end",
     "265 \xC2\xB0"
     "F",
     FX_NO_ORDER},
    {600, 5, PW_TASK_OFF, PW_DUTY_PIT, 0, 0, 1, 4, "Take off 4 chicken halves, into insulated box 1", "Insulated box 1",
     "165 \xC2\xB0"
     "F core or above",
     FX_NO_ORDER},
    {605, 10, PW_TASK_BURN_DOWN, PW_DUTY_FIRE, 0, PW_NONE, 1, 0, "Close the drum; ash stays until cold", "Drum <one>",
     "cold to the hand", FX_NO_ORDER},
    {630, 5, PW_TASK_OFF, PW_DUTY_PIT, 0, 0, 0, 4, "Take off 4 chicken halves, into insulated box 1", "Insulated box 1",
     "165 \xC2\xB0"
     "F core or above",
     FX_NO_ORDER},
    {660, 15, PW_TASK_OFF, PW_DUTY_PIT, 0, 1, 0, 5, "Take off 5 briskets, into the hot box", "Hot box",
     "203 \xC2\xB0"
     "F core, probe-soft",
     FX_NO_ORDER},
    {660, 50, PW_TASK_SET_UP, PW_DUTY_SERVE, 2, PW_NONE, PW_NONE, 0, "Set up lunch tables", "North orchard",
     "ready 12:15", FX_NO_ORDER},
    {690, 10, PW_TASK_OFF, PW_DUTY_PIT, 0, 2, 0, 3, "Take off 3 pork shoulders, into the hot box", "Hot box",
     "205 \xC2\xB0"
     "F core, bone loose",
     FX_NO_ORDER},
    {735, 15, PW_TASK_CUT, PW_DUTY_CARVE, 1, 0, PW_NONE, 8, "Split chicken, pan up", "Carving table",
     "140 \xC2\xB0"
     "F or above",
     FX_NO_ORDER},
    {750, 60, PW_TASK_SERVE, PW_DUTY_SERVE, 2, PW_NONE, PW_NONE, 0, "Serve Pickers' lunch, 40 guests", "North orchard",
     "", FX_NO_ORDER},
    {980, 32, PW_TASK_CUT, PW_DUTY_CARVE, 1, 2, PW_NONE, 3, "Pull 3 pork shoulders, pan up", "Carving table",
     "140 \xC2\xB0"
     "F or above",
     FX_NO_ORDER},
    {1010, 36, PW_TASK_CUT, PW_DUTY_CARVE, 1, 1, PW_NONE, 5, "Slice briskets to order of the line", "Carving table",
     "140 \xC2\xB0"
     "F or above",
     FX_NO_ORDER},
    {1050, 90, PW_TASK_SERVE, PW_DUTY_SERVE, 2, PW_NONE, PW_NONE, 0, "Serve Harvest supper, 66 guests", "North orchard",
     "", FX_NO_ORDER},
    {1140, 60, PW_TASK_CLEAR, PW_DUTY_CLEAN, 2, PW_NONE, PW_NONE, 0, "Clear, pack, wipe down", "North orchard", "",
     FX_NO_ORDER},
    {1150, 30, PW_TASK_COOL, PW_DUTY_CARVE, 1, PW_NONE, PW_NONE, 0, "Chill leftovers in shallow pans", "Kitchen",
     "70 \xC2\xB0"
     "F in 2 h, 41 \xC2\xB0"
     "F in 4 h more",
     FX_NO_ORDER},
};

static struct pw_quote_rung fx_ladder[] = {
    {40, 241900, 312000, 337740, 7800, 0},  {50, 262600, 337500, 365344, 6750, 0},
    {60, 283100, 363000, 392948, 6050, 0},  {66, 295713, 379500, 410809, 5750, 0},
    {75, 321200, 412500, 446531, 5500, 0},  {90, 361400, 463500, 501739, 5150, 0},
    {110, 412100, 528000, 571560, 4800, 2},
};
static struct pw_due fx_dues[] = {
    {"Deposit on acceptance", {2027, 9, 4}, 123243},
    {"Second payment", {2027, 9, 4}, 164324},
    {"Balance", {2027, 9, 18}, 123242},
};
static struct pw_warning fx_warnings[] = {
    {.code = "no-hand",
     .text = "Thawing on 15 September: nobody with the duty prep is on shift; somebody at the kitchen must do it."},
    {.code = "roast-chart", .text = "Chicken halves are held to poultry temperature, not to a roast chart."},
};

static struct pw_service_cost fx_service_costs[FX_LEN(fx_services)] = {{40, 12000, 60000},
                                                                       {66, 43907, 179806}}; /* make cost_cents */
static struct pw_plan fx_plan = {
    .event = &fx_event,
    .demand = {fx_demand, FX_LEN(fx_demand), 66, 106},
    .purchase = {fx_raws, FX_LEN(fx_raws), fx_lines, FX_LEN(fx_lines), 55907, 2775},
    .lots = {fx_zones, FX_LEN(fx_zones), fx_lots, FX_LEN(fx_lots), 30, -720, 1050},
    .allocation = {PW_OUTCOME_FEASIBLE, PW_STOP_GAP, 41234.5, 40100.0, 0.0275, 12000, 0.4, 1.1, fx_loads,
                   FX_LEN(fx_loads), fx_burns, FX_LEN(fx_burns), fx_missed, 0, NULL, 0, NULL, 0},
    .fuel = {fx_burn_fuel, FX_LEN(fx_burn_fuel), fx_fuel_lines, FX_LEN(fx_fuel_lines), 4.5, 540, 11090},
    .tasks = {fx_tasks, FX_LEN(fx_tasks)},
    .quote = {.guests = 66,
              .food_cents = 55907,
              .supplies_cents = 2775,
              .fuel_cents = 11090,
              .labour_cents = 146600,
              .rental_cents = 40000,
              .travel_cents = 3915,
              .overhead_cents = 35426,
              .cost_cents = 295713,
              .price_cents = 379500,
              .net_cents = 379500,
              .today_cents = 379500,
              .today_per_guest_cents = 5750,
              .per_guest_cents = 5750,
              .discount_cents = 0,
              .service_charge_cents = 0,
              .taxable_cents = 379500,
              .tax_cents = 31309,
              .total_cents = 410809,
              .deposit_cents = 123243,
              .margin_frac = 83787.0 / 379500,
              .prime_cents = 202507,
              .contribution_cents = 119213,
              .fewer = {59, 339250, 295713, 43537.0 / 339250},
              .more = {73, 419750, 302495, 117255.0 / 419750},
              .break_even_guests = 44,
              .food_share_frac = 55907.0 / 379500,
              .dues = fx_dues,
              .n_dues = FX_LEN(fx_dues),
              .services = fx_service_costs,
              .ladder = fx_ladder,
              .n_ladder = FX_LEN(fx_ladder)},
    .warnings = fx_warnings,
    .n_warnings = FX_LEN(fx_warnings),
};

/** The plan; the rectangles are laid out on the first call. */
static inline const struct pw_plan *fx_plan_make(void)
{
  fx_rects(fx_brisket, 2, 1, 0, 0, 0.54, 0.33);
  fx_rects(fx_brisket + 2, 2, 1, 0.92, 0, 0.54, 0.33);
  fx_brisket[4] = (struct pw_rect){1.46, 0, 0.33, 0.54};
  fx_rects(fx_pork, 3, 1, 0.55, 0, 0.30, 0.24);
  fx_rects(fx_brisket_wrapped, 2, 1, 0.92, 0, 0.52, 0.32);
  fx_brisket_wrapped[2] = (struct pw_rect){1.46, 0, 0.32, 0.52};
  fx_rects(fx_pork_wrapped, 2, 2, 0, 0, 0.30, 0.22);
  fx_pork_wrapped[2] = (struct pw_rect){0, 0.22, 0.30, 0.22};
  fx_rects(fx_chicken_a, 4, 2, 0.05, 0.10, 0.23, 0.18);
  fx_rects(fx_chicken_b, 4, 2, 0.82, 0.02, 0.24, 0.18);
  return &fx_plan;
}

#endif
