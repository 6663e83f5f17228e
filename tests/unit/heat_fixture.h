/* heat_fixture.h - one small event for the tests of lots and fuel: two pits, an oven, a box, three cuts. */
#ifndef PW_HEAT_FIXTURE_H
#define PW_HEAT_FIXTURE_H

#include "pw/plan.h"

#include <string.h>

enum { FIX_BRISKET, FIX_SAUSAGE, FIX_PAN, FIX_CUTS };
enum { FIX_WOOD, FIX_CHARCOAL };

struct heat_fixture {
  struct pw_event ev;
  struct pw_purchase purchase;
  struct pw_raw_need raws[FIX_CUTS];
  struct pw_cut cuts[FIX_CUTS];
  struct pw_pit pits[2];
  struct pw_setting steady[2], low[1];
  struct pw_rack racks[2], disc[1];
  struct pw_finisher finishers[2];
  struct pw_fuel fuels[2];
  struct pw_service services[1];
};

static inline double fix_c(double fahrenheit) { return (fahrenheit - 32.0) / 1.8; }

static inline void heat_fixture_make(struct heat_fixture *f)
{
  memset(f, 0, sizeof *f);
  f->cuts[FIX_BRISKET] = (struct pw_cut){.id = "brisket",
                                         .kind = PW_KIND_BEEF,
                                         .safety = PW_SAFE_INTACT,
                                         .item = PW_NONE,
                                         .piece_kg = 6.35,
                                         .length_m = 0.50,
                                         .width_m = 0.30,
                                         .height_m = 0.12,
                                         .wrapped_length_m = 0.48,
                                         .wrapped_width_m = 0.28,
                                         .clearance_m = 0.04,
                                         .may_turn = true,
                                         .shape = PW_SHAPE_SLAB,
                                         .half_m = 0.055,
                                         .diffusivity_m2_s = 1.3e-7,
                                         .units_per_piece = 1,
                                         .trim_frac = 0.85,
                                         .cook_frac = 0.66,
                                         .rest_min = 60,
                                         .hold_max_min = 300,
                                         .pans_per_piece = 0.5,
                                         .serve_core_c = 62.8,
                                         .smoke = {.is_used = true,
                                                   .ref_min = 420,
                                                   .ref_c = fix_c(250),
                                                   .from_c = fix_c(40),
                                                   .to_c = fix_c(160),
                                                   .low_c = fix_c(225),
                                                   .high_c = fix_c(290),
                                                   .best_c = fix_c(255),
                                                   .spread_frac = 0.10,
                                                   .in_oven = false},
                                         .finish = {.is_used = true,
                                                    .ref_min = 270,
                                                    .ref_c = fix_c(250),
                                                    .from_c = fix_c(160),
                                                    .to_c = fix_c(203),
                                                    .low_c = fix_c(225),
                                                    .high_c = fix_c(300),
                                                    .best_c = fix_c(260),
                                                    .spread_frac = 0.12,
                                                    .in_oven = true}};
  f->cuts[FIX_SAUSAGE] = (struct pw_cut){.id = "sausage",
                                         .kind = PW_KIND_SAUSAGE,
                                         .safety = PW_SAFE_PRECOOKED,
                                         .item = PW_NONE,
                                         .piece_kg = 2.0,
                                         .length_m = 0.40,
                                         .width_m = 0.25,
                                         .height_m = 0.05,
                                         .wrapped_length_m = 0.40,
                                         .wrapped_width_m = 0.25,
                                         .clearance_m = 0.02,
                                         .may_turn = true,
                                         .shape = PW_SHAPE_CYLINDER,
                                         .half_m = 0.016,
                                         .diffusivity_m2_s = 1.3e-7,
                                         .units_per_piece = 12,
                                         .trim_frac = 1.0,
                                         .cook_frac = 0.90,
                                         .rest_min = 10,
                                         .hold_max_min = 20,
                                         .pans_per_piece = 0.5,
                                         .serve_core_c = 57.2,
                                         .smoke = {.is_used = true,
                                                   .ref_min = 60,
                                                   .ref_c = fix_c(250),
                                                   .from_c = fix_c(40),
                                                   .to_c = fix_c(155),
                                                   .low_c = fix_c(225),
                                                   .high_c = fix_c(275),
                                                   .best_c = fix_c(250),
                                                   .spread_frac = 0.10,
                                                   .in_oven = false}};
  f->cuts[FIX_PAN] = (struct pw_cut){.id = "beans",
                                     .kind = PW_KIND_PLANT,
                                     .safety = PW_SAFE_PLANT,
                                     .item = PW_NONE,
                                     .piece_kg = 8.0,
                                     .length_m = 0.53,
                                     .width_m = 0.33,
                                     .height_m = 0.10,
                                     .wrapped_length_m = 0.53,
                                     .wrapped_width_m = 0.33,
                                     .clearance_m = 0.02,
                                     .may_turn = false,
                                     .shape = PW_SHAPE_SLAB,
                                     .half_m = 0.04,
                                     .diffusivity_m2_s = 1.4e-7,
                                     .units_per_piece = 1,
                                     .trim_frac = 1.0,
                                     .cook_frac = 0.93,
                                     .rest_min = 0,
                                     .hold_max_min = 240,
                                     .pans_per_piece = 1,
                                     .serve_core_c = 57.2,
                                     .smoke = {.is_used = true,
                                               .ref_min = 180,
                                               .ref_c = fix_c(250),
                                               .from_c = fix_c(40),
                                               .to_c = fix_c(165),
                                               .low_c = fix_c(225),
                                               .high_c = fix_c(300),
                                               .best_c = fix_c(250),
                                               .spread_frac = 0.15,
                                               .in_oven = false}};
  f->fuels[FIX_WOOD] = (struct pw_fuel){.id = "white-oak",
                                        .gross_mj_kg = 20.0,
                                        .hydrogen_frac = 0.06,
                                        .moisture_wet_frac = 0.20,
                                        .stoich_air_kg_kg = 6.0,
                                        .kg_per_m3_stacked = 425,
                                        .item = PW_NONE,
                                        .price_cents_per_kg = 45};
  f->fuels[FIX_CHARCOAL] = (struct pw_fuel){.id = "lump",
                                            .is_charcoal = true,
                                            .gross_mj_kg = 31.0,
                                            .hydrogen_frac = 0.03,
                                            .moisture_wet_frac = 0.05,
                                            .stoich_air_kg_kg = 9.5,
                                            .item = PW_NONE,
                                            .price_cents_per_kg = 160};
  f->steady[0] = (struct pw_setting){.name = "steady", .hot_c = fix_c(275), .cool_c = fix_c(250), .splits_per_h = 3.0};
  f->steady[1] = (struct pw_setting){.name = "hot", .hot_c = fix_c(300), .cool_c = fix_c(270), .splits_per_h = 0.0};
  f->low[0] = (struct pw_setting){.name = "low", .hot_c = fix_c(240), .cool_c = fix_c(240), .splits_per_h = 0.0};
  f->racks[0] = (struct pw_rack){"main", PW_RECTANGLE, 1.8, 0.75, 0.35, 0.0, 2, 0, false};
  f->racks[1] = (struct pw_rack){"upper", PW_RECTANGLE, 1.8, 0.40, 0.11, 5.0, 3, 1, false};
  f->disc[0] = (struct pw_rack){"ring", PW_DISC, 0.56, 0.56, 0.30, 0.0, 1, 0, false};
  f->pits[0] = (struct pw_pit){.id = "long",
                               .name = "Long pit",
                               .alike = 0,
                               .settings = f->steady,
                               .n_settings = 2,
                               .racks = f->racks,
                               .n_racks = 2,
                               .ready_min = 90,
                               .n_burns_max = 1,
                               .steel_kg = 295,
                               .shell_m2 = 5.6,
                               .emissivity_frac = 0.9,
                               .length_m = 2.1,
                               .excess_air_frac = 3.0,
                               .exhaust_over_c = 11,
                               .combustion_frac = 0.85,
                               .start_charcoal_kg = 6,
                               .charcoal = FIX_CHARCOAL,
                               .wood = FIX_WOOD,
                               .split_kg = 1.36,
                               .tend_min_per_h = 10};
  f->pits[1] = (struct pw_pit){.id = "drum",
                               .name = "Drum",
                               .alike = 1,
                               .settings = f->low,
                               .n_settings = 1,
                               .racks = f->disc,
                               .n_racks = 1,
                               .ready_min = 45,
                               .n_burns_max = 1,
                               .steel_kg = 30,
                               .shell_m2 = 2.0,
                               .emissivity_frac = 0.9,
                               .length_m = 0.9,
                               .excess_air_frac = 2.0,
                               .exhaust_over_c = 0,
                               .combustion_frac = 0.85,
                               .start_charcoal_kg = 3,
                               .charcoal = FIX_CHARCOAL,
                               .wood = FIX_WOOD,
                               .split_kg = 0.5,
                               .tend_min_per_h = 5};
  f->finishers[0] = (struct pw_finisher){"deck", "Deck oven", PW_OVEN, 1.5, false, fix_c(250), 120.0, 0.0, "", 0, 0};
  f->finishers[1] = (struct pw_finisher){"box", "Hot box", PW_HOLD, 9, true, fix_c(150), 0.0, 0.0, "", 0, 0};
  f->services[0] = (struct pw_service){.id = "dinner", .name = "Dinner", .at_min = 1050, .length_min = 90};
  f->raws[0] = (struct pw_raw_need){.service = 0, .cut = FIX_BRISKET, .pieces = 8};
  f->raws[1] = (struct pw_raw_need){.service = 0, .cut = FIX_SAUSAGE, .pieces = 3};
  f->raws[2] = (struct pw_raw_need){.service = 0, .cut = FIX_PAN, .pieces = 0};
  f->purchase = (struct pw_purchase){.raws = f->raws, .n_raws = FIX_CUTS};
  f->ev = (struct pw_event){.slot_min = 30,
                            .cuts = f->cuts,
                            .n_cuts = FIX_CUTS,
                            .pits = f->pits,
                            .n_pits = 2,
                            .finishers = f->finishers,
                            .n_finishers = 2,
                            .fuels = f->fuels,
                            .n_fuels = 2,
                            .services = f->services,
                            .n_services = 1,
                            .weather = {fix_c(58), fix_c(79), 3.0, 0.60},
                            .terms = {.fuel_reserve_frac = 0.20}};
}

#endif
