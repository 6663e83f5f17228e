/* job.h - a small job for the tests of demand, purchase and quote: two cuts, five dishes, a handful of goods,
 * two services.  All of it invented; the arrays are the test's own and may be changed. */
#ifndef PW_TEST_JOB_H
#define PW_TEST_JOB_H

#include "harness.h"

#include "pw/plan.h"

enum { JOB_BRISKET, JOB_LINKS, JOB_N_CUTS };
enum { JOB_SLICED, JOB_CHOPPED, JOB_LINK, JOB_SLAW, JOB_BEANS, JOB_N_DISHES };
enum {
  JOB_I_BRISKET,
  JOB_I_LINKS,
  JOB_I_BUN,
  JOB_I_SLAW,
  JOB_I_BEANS,
  JOB_I_RUB,
  JOB_I_PAPER,
  JOB_I_PLATE,
  JOB_I_ICE,
  JOB_I_WOOD,
  JOB_N_ITEMS
};
enum { JOB_ADULTS, JOB_CHILDREN, JOB_NO_MEAT, JOB_N_CLASSES };
enum { JOB_DINNER, JOB_LUNCH, JOB_N_SERVICES };

struct job {
  struct pw_event ev;
  struct pw_guest_class classes[JOB_N_CLASSES];
  struct pw_item items[JOB_N_ITEMS];
  struct pw_offer offers[JOB_N_ITEMS][3];
  struct pw_cut cuts[JOB_N_CUTS];
  struct pw_dish dishes[JOB_N_DISHES];
  struct pw_use sliced_uses[1], link_uses[1], slaw_uses[1], beans_uses[1], brisket_uses[2], event_uses[2];
  struct pw_service services[JOB_N_SERVICES];
  int guests[JOB_N_SERVICES][JOB_N_CLASSES];
  struct pw_menu_line menu[JOB_N_SERVICES][4];
  struct pw_crew crew[2];
  struct pw_fuel fuels[1];
  struct pw_pit pits[2];
  struct pw_instalment instalments[2];
};

static inline void job_item(struct job *j, int i, const char *name, enum pw_category category, enum pw_unit unit,
                            enum pw_store store, int keeps_d, int n_offers)
{
  j->items[i] = (struct pw_item){.id = name,
                                 .name = name,
                                 .category = category,
                                 .unit = unit,
                                 .store = store,
                                 .order_ahead_min = 2 * 1440,
                                 .keeps_min = keeps_d * 1440,
                                 .offers = j->offers[i],
                                 .n_offers = n_offers};
}

/* The dinner of 100 adults, 20 children at half appetite and 5 who eat no meat; a lunch next day for 40 adults. */
static inline void job_make(struct job *j)
{
  memset(j, 0, sizeof *j);
  j->classes[JOB_ADULTS] = (struct pw_guest_class){"adults", "Adults", 1, true};
  j->classes[JOB_CHILDREN] = (struct pw_guest_class){"children", "Children", 0.5, true};
  j->classes[JOB_NO_MEAT] = (struct pw_guest_class){"no-meat", "No meat", 1, false};

  job_item(j, JOB_I_BRISKET, "brisket", PW_CAT_MEAT, PW_UNIT_KG, PW_STORE_CHILLED, 4, 2);
  j->offers[JOB_I_BRISKET][0] = (struct pw_offer){"Hill Street", "piece", 0, 1, true, 1000, NULL};
  j->offers[JOB_I_BRISKET][1] = (struct pw_offer){"County", "case", 0, 4, true, 900, NULL};
  job_item(j, JOB_I_LINKS, "links", PW_CAT_MEAT, PW_UNIT_EACH, PW_STORE_CHILLED, 3, 1);
  j->offers[JOB_I_LINKS][0] = (struct pw_offer){"Hill Street", "tray", 1, 0, false, 1200, NULL};
  job_item(j, JOB_I_BUN, "bun", PW_CAT_BREAD, PW_UNIT_EACH, PW_STORE_DRY, 2, 2);
  j->offers[JOB_I_BUN][0] = (struct pw_offer){"Mill Bakery", "dozen", 12, 0, false, 480, NULL};
  j->offers[JOB_I_BUN][1] = (struct pw_offer){"Mill Bakery", "tray", 60, 0, false, 2100, NULL};
  job_item(j, JOB_I_SLAW, "slaw mix", PW_CAT_SIDE, PW_UNIT_KG, PW_STORE_CHILLED, 3, 1);
  j->offers[JOB_I_SLAW][0] = (struct pw_offer){"County", "bag", 2.5, 0, false, 900, NULL};
  job_item(j, JOB_I_BEANS, "beans", PW_CAT_SIDE, PW_UNIT_KG, PW_STORE_DRY, 365, 1);
  j->offers[JOB_I_BEANS][0] = (struct pw_offer){"County", "can", 3, 0, false, 700, NULL};
  job_item(j, JOB_I_RUB, "rub", PW_CAT_SEASONING, PW_UNIT_KG, PW_STORE_DRY, 365, 1);
  j->offers[JOB_I_RUB][0] = (struct pw_offer){"County", "tub", 1, 0, false, 1500, NULL};
  job_item(j, JOB_I_PAPER, "paper", PW_CAT_SUPPLY, PW_UNIT_EACH, PW_STORE_DRY, 0, 1);
  j->offers[JOB_I_PAPER][0] = (struct pw_offer){"County", "roll", 50, 0, false, 2500, NULL};
  job_item(j, JOB_I_PLATE, "plate", PW_CAT_DISPOSABLE, PW_UNIT_EACH, PW_STORE_DRY, 0, 2);
  j->offers[JOB_I_PLATE][0] = (struct pw_offer){"County", "sleeve", 50, 0, false, 600, NULL};
  j->offers[JOB_I_PLATE][1] = (struct pw_offer){"County", "case", 500, 0, false, 4500, NULL};
  job_item(j, JOB_I_ICE, "ice", PW_CAT_SUPPLY, PW_UNIT_KG, PW_STORE_FROZEN, 1, 1);
  j->offers[JOB_I_ICE][0] = (struct pw_offer){"Ice House", "bag", 10, 0, false, 300, NULL};
  job_item(j, JOB_I_WOOD, "oak", PW_CAT_FUEL, PW_UNIT_KG, PW_STORE_DRY, 0, 1);
  j->offers[JOB_I_WOOD][0] = (struct pw_offer){"Wood Yard", "rick", 200, 0, false, 9000, NULL};

  j->brisket_uses[0] = (struct pw_use){JOB_I_RUB, 0.018, PW_PER_KG_RAW};
  j->brisket_uses[1] = (struct pw_use){JOB_I_PAPER, 1.5, PW_PER_PIECE};
  j->cuts[JOB_BRISKET] = (struct pw_cut){.id = "brisket",
                                         .kind = PW_KIND_BEEF,
                                         .item = JOB_I_BRISKET,
                                         .piece_kg = 6.4,
                                         .piece_sd_kg = 0.5,
                                         .units_per_piece = 1,
                                         .trim_frac = 0.85,
                                         .trim_sd_frac = 0.03,
                                         .cook_frac = 0.69,
                                         .cook_sd_frac = 0.03,
                                         .uses = j->brisket_uses,
                                         .n_uses = 2};
  j->cuts[JOB_LINKS] = (struct pw_cut){.id = "links",
                                       .kind = PW_KIND_SAUSAGE,
                                       .item = JOB_I_LINKS,
                                       .piece_kg = 1.2,
                                       .units_per_piece = 10,
                                       .trim_frac = 1,
                                       .cook_frac = 0.85};

  j->sliced_uses[0] = (struct pw_use){JOB_I_BUN, 1, PW_PER_PORTION};
  j->link_uses[0] = (struct pw_use){JOB_I_BUN, 1, PW_PER_PORTION};
  j->slaw_uses[0] = (struct pw_use){JOB_I_SLAW, 0.1, PW_PER_PORTION};
  j->beans_uses[0] = (struct pw_use){JOB_I_BEANS, 0.13, PW_PER_PORTION};
  j->dishes[JOB_SLICED] = (struct pw_dish){.id = "sliced",
                                           .cut = JOB_BRISKET,
                                           .carve_frac = 0.94,
                                           .carve_sd_frac = 0.02,
                                           .uses = j->sliced_uses,
                                           .n_uses = 1};
  j->dishes[JOB_CHOPPED] = (struct pw_dish){.id = "chopped", .cut = JOB_BRISKET, .carve_frac = 0.98};
  j->dishes[JOB_LINK] = (struct pw_dish){
      .id = "link", .cut = JOB_LINKS, .carve_frac = 1, .is_by_count = true, .uses = j->link_uses, .n_uses = 1};
  j->dishes[JOB_SLAW] =
      (struct pw_dish){.id = "slaw", .cut = PW_NONE, .carve_frac = 1, .uses = j->slaw_uses, .n_uses = 1};
  j->dishes[JOB_BEANS] = (struct pw_dish){
      .id = "beans", .cut = PW_NONE, .carve_frac = 1, .reserve_frac = 0.1, .uses = j->beans_uses, .n_uses = 1};

  j->guests[JOB_DINNER][JOB_ADULTS] = 100;
  j->guests[JOB_DINNER][JOB_CHILDREN] = 20;
  j->guests[JOB_DINNER][JOB_NO_MEAT] = 5;
  j->guests[JOB_LUNCH][JOB_ADULTS] = 40;
  j->menu[JOB_DINNER][0] =
      (struct pw_menu_line){.dish = JOB_SLICED, .take_frac = 0.7, .portion_kg = 0.14, .portion_sd_kg = 0.035};
  j->menu[JOB_DINNER][1] = (struct pw_menu_line){.dish = JOB_LINK, .take_frac = 0.5, .portion_units = 1};
  j->menu[JOB_DINNER][2] = (struct pw_menu_line){.dish = JOB_SLAW, .take_frac = 0.8, .portion_kg = 0.1};
  j->menu[JOB_DINNER][3] = (struct pw_menu_line){.dish = JOB_BEANS, .take_frac = 0.6, .portion_kg = 0.13};
  j->menu[JOB_LUNCH][0] =
      (struct pw_menu_line){.dish = JOB_CHOPPED, .take_frac = 0.9, .portion_kg = 0.12, .portion_sd_kg = 0.03};
  j->menu[JOB_LUNCH][1] = (struct pw_menu_line){.dish = JOB_SLAW, .take_frac = 0.7, .portion_kg = 0.1};
  j->services[JOB_DINNER] = (struct pw_service){.id = "dinner",
                                                .day = 0,
                                                .at_min = 17 * 60 + 30,
                                                .length_min = 90,
                                                .guests = j->guests[JOB_DINNER],
                                                .menu = j->menu[JOB_DINNER],
                                                .n_menu = 4};
  j->services[JOB_LUNCH] = (struct pw_service){.id = "lunch",
                                               .day = 1,
                                               .at_min = 1440 + 12 * 60,
                                               .length_min = 60,
                                               .guests = j->guests[JOB_LUNCH],
                                               .menu = j->menu[JOB_LUNCH],
                                               .n_menu = 2};

  j->event_uses[0] = (struct pw_use){JOB_I_PLATE, 1.1, PW_PER_GUEST};
  j->event_uses[1] = (struct pw_use){JOB_I_ICE, 20, PW_PER_SERVICE};
  j->fuels[0] = (struct pw_fuel){.id = "oak", .item = JOB_I_WOOD};
  j->crew[0] = (struct pw_crew){.role = "pitmaster",
                                .duties = 1u << PW_DUTY_PIT,
                                .count = 1,
                                .from_at_min = -240,
                                .to_at_min = 360,
                                .cents_per_h = 3200};
  j->crew[1] = (struct pw_crew){.role = "server",
                                .duties = 1u << PW_DUTY_SERVE,
                                .count = 2,
                                .guests_per_hand = 40,
                                .from_at_min = 930,
                                .to_at_min = 1260,
                                .cents_per_h = 1900};
  j->pits[0] = (struct pw_pit){.id = "own", .rent_cents = 2500};
  j->pits[1] = (struct pw_pit){.id = "hired", .rent_cents = 25000, .is_rentable = true};
  j->instalments[0] = (struct pw_instalment){"Final payment", 0.3, 7};
  j->instalments[1] = (struct pw_instalment){"Second payment", 0.25, 30};

  struct pw_event *ev = &j->ev;
  ev->date = (struct pw_date){2027, 6, 12};
  ev->site = (struct pw_site){.travel_m = 45000};
  ev->terms = (struct pw_terms){.margin_frac = 0.22,
                                .overhead_frac = 0.09,
                                .overhead_cents = 12000,
                                .travel_cents_per_km = 43.5,
                                .rental_cents = 40000,
                                .tax_frac = 0.0825,
                                .deposit_frac = 0.3,
                                .min_fee_cents = 90000,
                                .round_per_guest_cents = 50,
                                .is_service_charge_taxed = true,
                                .cover_frac = 0.975};
  ev->classes = j->classes, ev->n_classes = JOB_N_CLASSES;
  ev->items = j->items, ev->n_items = JOB_N_ITEMS;
  ev->cuts = j->cuts, ev->n_cuts = JOB_N_CUTS;
  ev->dishes = j->dishes, ev->n_dishes = JOB_N_DISHES;
  ev->services = j->services, ev->n_services = JOB_N_SERVICES;
  ev->uses = j->event_uses, ev->n_uses = 2;
  ev->crew = j->crew, ev->n_crew = 2;
  ev->fuels = j->fuels, ev->n_fuels = 1;
  ev->pits = j->pits, ev->n_pits = 2;
  ev->instalments = j->instalments, ev->n_instalments = 2;
}

/* Seeded numbers for property tests: a 64-bit xorshift, the same on every machine. */
static inline unsigned long long job_random(unsigned long long *state)
{
  unsigned long long x = *state;
  x ^= x << 13;
  x ^= x >> 7;
  x ^= x << 17;
  return *state = x;
}

static inline int job_between(unsigned long long *state, int low, int high)
{
  return low + (int)(job_random(state) % (unsigned long long)(high - low + 1));
}

/* Other guests, takes, portions, spreads, cover and terms; the structure stays. */
static inline void job_shuffle(struct job *j, unsigned long long seed)
{
  unsigned long long r = seed * 0x9E3779B97F4A7C15ull + 1;
  for (int s = 0; s < JOB_N_SERVICES; s++) {
    for (int c = 0; c < JOB_N_CLASSES; c++)
      j->guests[s][c] = job_between(&r, 0, c == JOB_ADULTS ? 300 : 40);
    for (int m = 0; m < j->services[s].n_menu; m++) {
      struct pw_menu_line *line = &j->menu[s][m];
      line->take_frac = job_between(&r, 5, 100) / 100.0;
      line->portion_kg = job_between(&r, 50, 250) / 1000.0;
      line->portion_sd_kg = line->portion_sd_kg > 0 ? line->portion_kg * job_between(&r, 0, 40) / 100 : 0;
      line->portion_units = job_between(&r, 1, 3);
    }
  }
  struct pw_terms *t = &j->ev.terms;
  t->cover_frac = job_between(&r, 50, 999) / 1000.0;
  t->margin_frac = job_between(&r, 0, 600) / 1000.0;
  t->overhead_frac = job_between(&r, 0, 300) / 1000.0;
  t->tax_frac = job_between(&r, 0, 2500) / 10000.0;
  t->service_charge_frac = job_between(&r, 0, 25) / 100.0;
  t->is_service_charge_taxed = job_between(&r, 0, 1);
  t->discount_frac = job_between(&r, 0, 20) / 100.0;
  t->deposit_frac = job_between(&r, 0, 60) / 100.0;
  t->min_fee_cents = job_between(&r, 0, 1000000);
  t->round_per_guest_cents = job_between(&r, 0, 3) * 25;
  t->travel_cents_per_km = job_between(&r, 0, 900) / 7.0;
  j->instalments[0].frac = job_between(&r, 0, 60) / 100.0;
  j->instalments[1].frac = job_between(&r, 0, 60) / 100.0;
  j->ev.is_head_count_sum = job_between(&r, 0, 1);
}

#endif
