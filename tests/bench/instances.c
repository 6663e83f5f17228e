/* instances.c - see instances.h. */
#include "instances.h"

#include "base/arena.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static uint64_t state;
static double unit(void)
{
  uint64_t z = (state += UINT64_C(0x9E3779B97F4A7C15));
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}
static int below(int n) { return (int)(unit() * n); }

static void *need(void *p)
{
  if (!p)
    abort();
  return p;
}
#define MAKE(n, type) ((type *)need(pw_arena_array(ctx->arena, (size_t)(n) + 1, sizeof(type))))

struct kind {
  const char *id;
  double length_m, width_m, height_m, served_kg, smoke_h, finish_h, best_c, low_c, high_c, pans;
  int rest_min, hold_max_min;
  bool in_oven;
};
static const struct kind KINDS[] = {
    {"brisket", 0.54, 0.34, 0.13, 3.4, 7.0, 5.0, 124, 107, 140, 0.5, 60, 300, true},
    {"butt", 0.30, 0.24, 0.18, 2.1, 6.5, 4.5, 124, 107, 145, 0.34, 45, 300, true},
    {"plate-ribs", 0.36, 0.28, 0.09, 1.6, 5.0, 3.0, 128, 110, 145, 0.34, 30, 240, true},
    {"spare-ribs", 0.50, 0.19, 0.05, 1.1, 3.5, 1.5, 126, 107, 140, 0.2, 15, 150, true},
    {"chicken-half", 0.28, 0.22, 0.10, 0.55, 2.75, 0, 132, 116, 160, 0.13, 10, 120, false},
    {"turkey-breast", 0.30, 0.24, 0.14, 2.2, 3.5, 0, 128, 110, 150, 0.34, 20, 150, false},
    {"sausage-tray", 0.34, 0.26, 0.05, 1.6, 2.0, 0, 121, 100, 140, 0.25, 0, 120, false},
    {"lamb-shoulder", 0.32, 0.26, 0.14, 1.8, 5.0, 3.5, 124, 107, 140, 0.34, 45, 240, true},
};
enum { N_KINDS = sizeof KINDS / sizeof KINDS[0] };

struct body {
  double length_m, depth_m, rent;
  int n_racks, n_zones;
  double hot_c, cool_c;
};

static void pit_make(struct pw_pit *pit, struct body b, int n_settings, struct pw_ctx *ctx)
{
  pit->n_settings = n_settings;
  pit->settings = MAKE(n_settings, struct pw_setting);
  for (int s = 0; s < n_settings; s++) {
    double shift = s == 0 ? 0 : s == 1 ? -10 : 12;
    pit->settings[s] = (struct pw_setting){.name = s == 0   ? "steady"
                                                   : s == 1 ? "low"
                                                            : "hot",
                                           .hot_c = b.hot_c + shift,
                                           .cool_c = b.cool_c + shift};
  }
  pit->n_racks = b.n_racks;
  pit->racks = MAKE(b.n_racks, struct pw_rack);
  for (int r = 0; r < b.n_racks; r++)
    pit->racks[r] = (struct pw_rack){.id = r ? "upper" : "main",
                                     .outline = PW_RECTANGLE,
                                     .length_m = b.length_m,
                                     .depth_m = b.depth_m,
                                     .clear_height_m = 0.35,
                                     .offset_c = 3.0 * r,
                                     .n_zones = b.n_zones};
  pit->ready_min = 90;
  pit->n_burns_max = 1;
  pit->tend_min_per_h = 10;
}

struct pw_instance *pw_instance_make(const struct pw_instance_spec *spec, struct pw_ctx *ctx)
{
  state = UINT64_C(0xD1B54A32D192ED03) * (spec->seed + 1u);
  struct pw_instance *in = MAKE(1, struct pw_instance);
  struct pw_event *ev = &in->event;
  int slot = spec->slot_min;
  ev->file = spec->name;
  ev->slot_min = slot;
  ev->effort = (struct pw_effort_prices){.opening_cents = 5,
                                         .place_cents = 3,
                                         .hold_cents_per_piece_h = 0.5,
                                         .off_best_cents_per_piece_k = 0.1,
                                         .move_cents_per_piece = 15,
                                         .tend_cents_per_h = 2000};
  int n_lots = spec->n_lots, n_services = n_lots > 8 ? 2 : 1;
  ev->n_services = n_services;
  ev->services = MAKE(n_services, struct pw_service);
  for (int v = 0; v < n_services; v++)
    ev->services[v] = (struct pw_service){.id = v                ? "dinner"
                                                : n_services > 1 ? "lunch"
                                                                 : "dinner",
                                          .at_min = (n_services > 1 && v == 0 ? 13 : 18) * 60,
                                          .length_min = 90};

  /* cuts and lots */
  ev->n_cuts = N_KINDS;
  ev->cuts = MAKE(N_KINDS, struct pw_cut);
  for (int c = 0; c < N_KINDS; c++) {
    const struct kind *k = &KINDS[c];
    ev->cuts[c] = (struct pw_cut){.id = k->id,
                                  .name = k->id,
                                  .length_m = k->length_m,
                                  .width_m = k->width_m,
                                  .height_m = k->height_m,
                                  .may_turn = true,
                                  .pans_per_piece = k->pans,
                                  .rest_min = k->rest_min,
                                  .hold_max_min = k->hold_max_min,
                                  /* spreads: common practice, no source; large wrapped pieces 15 %, others 10 % */
                                  .smoke = {.is_used = true,
                                            .spread_frac = k->finish_h > 0 ? 0.15 : 0.10,
                                            .best_c = k->best_c,
                                            .low_c = k->low_c,
                                            .high_c = k->high_c},
                                  .finish = {.is_used = k->finish_h > 0,
                                             .spread_frac = 0.15,
                                             .best_c = k->best_c,
                                             .low_c = k->low_c,
                                             .high_c = k->high_c + 20,
                                             .in_oven = k->in_oven},
                                  .load_min = 0.5,
                                  .wrap_min = 1.5,
                                  .unload_min = 0.5};
  }
  in->lots.n_lots = n_lots;
  in->lots.lots = MAKE(n_lots, struct pw_lot);
  double area_h = 0, area_most = 0;
  int per_service = (n_lots + n_services - 1) / n_services;
  for (int i = 0; i < n_lots; i++) {
    int v = i / per_service, c = (i % per_service) % N_KINDS;
    const struct kind *k = &KINDS[c];
    struct pw_lot *lot = &in->lots.lots[i];
    double kg = spec->guests * 0.17 / per_service / (n_services > 1 ? 1.0 : 1.0) * (0.7 + 0.6 * unit()) / (n_services);
    lot->service = v;
    lot->cut = c;
    lot->pieces = (int)ceil(kg / k->served_kg);
    char *id = need(pw_arena_printf(ctx->arena, "%s/%s-%d", ev->services[v].id, k->id, i));
    lot->id = id;
    lot->has_finish = k->finish_h > 0;
    lot->footprint_length_m = k->length_m;
    lot->footprint_width_m = k->width_m;
    lot->wrapped_length_m = k->length_m * 0.95;
    lot->wrapped_width_m = k->width_m * 0.95;
    lot->rest_min = k->rest_min;
    lot->hold_max_min = k->hold_max_min;
    lot->by_at_min = lot->until_at_min = lot->whole_until_at_min = ev->services[v].at_min;
    lot->n_waves = 1;
    int early = k->hold_max_min / 4 / slot * slot;
    lot->early_min = early;
    int last = ev->services[v].at_min - k->rest_min - early,
        first = ev->services[v].at_min - k->rest_min - k->hold_max_min;
    lot->done_last_min = (int)floor((double)last / slot) * slot;
    lot->done_first_min = (int)ceil((double)first / slot) * slot;
    area_h += lot->pieces * k->length_m * k->width_m;
    (void)area_most;
  }

  /* pits: sized so that all the food at once would fill about 70 % of the racks */
  double area_each_m2 = area_h / 0.7 / spec->n_pits;
  ev->n_pits = spec->n_pits;
  ev->pits = MAKE(spec->n_pits, struct pw_pit);
  in->rates.burn_cents_per_h = MAKE(spec->n_pits, double *);
  in->rates.light_cents = MAKE(spec->n_pits, double *);
  int n_zones = 0;
  for (int p = 0; p < spec->n_pits; p++) {
    int kind = spec->is_all_different ? p : p % 3;
    uint64_t keep = state;
    state = UINT64_C(77) + (uint64_t)kind * 1000 + spec->seed; /* one stream per kind: alike pits are alike */
    double size = 0.6 + 0.8 * unit();
    int n_racks = 1 + below(2);
    double depth = 0.62 + 0.3 * unit();
    double length = area_each_m2 * size / depth / n_racks;
    if (length < 0.9)
      length = 0.9;
    int zones = (int)round(length / 0.75);
    struct body b = {length,           depth,           0, n_racks, zones < 2 ? 2 : zones > 6 ? 6 : zones,
                     132 + 6 * unit(), 119 + 4 * unit()};
    struct pw_pit *pit = &ev->pits[p];
    pit_make(pit, b, spec->n_settings > 0 ? spec->n_settings : 1, ctx);
    pit->id = pit->name = need(pw_arena_printf(ctx->arena, "pit-%d", p + 1));
    pit->alike = spec->is_all_different ? p : kind;
    double rate = 140 + 110 * length * depth * n_racks * (0.8 + 0.4 * unit());
    in->rates.burn_cents_per_h[p] = MAKE(pit->n_settings, double);
    in->rates.light_cents[p] = MAKE(pit->n_settings, double);
    for (int s = 0; s < pit->n_settings; s++) {
      double f = s == 0 ? 1 : s == 1 ? 0.9 : 1.14;
      in->rates.burn_cents_per_h[p][s] = rate * f;
      in->rates.light_cents[p][s] = 2.6 * rate * f;
    }
    n_zones += n_racks * b.n_zones;
    state = keep;
  }
  in->lots.n_zones = n_zones;
  in->lots.zones = MAKE(n_zones, struct pw_zone);
  int z = 0;
  for (int p = 0; p < spec->n_pits; p++) {
    struct pw_pit *pit = &ev->pits[p];
    for (int r = 0; r < pit->n_racks; r++)
      for (int k = 0; k < pit->racks[r].n_zones; k++, z++) {
        struct pw_zone *zone = &in->lots.zones[z];
        int n = pit->racks[r].n_zones;
        zone->pit = p;
        zone->rack = r;
        zone->length_m = pit->racks[r].length_m / n;
        zone->x_m = zone->length_m * k;
        zone->depth_m = pit->racks[r].depth_m;
        zone->id = need(pw_arena_printf(ctx->arena, "%s/%s/%d", pit->id, pit->racks[r].id, k + 1));
        zone->temp_c = MAKE(pit->n_settings, double);
        for (int s = 0; s < pit->n_settings; s++)
          zone->temp_c[s] = pit->settings[s].hot_c +
                            (pit->settings[s].cool_c - pit->settings[s].hot_c) * (k + 0.5) / n + pit->racks[r].offset_c;
      }
  }

  /* an oven and hot boxes in proportion */
  int n_boxes = 2;
  ev->n_finishers = 1 + n_boxes;
  ev->finishers = MAKE(ev->n_finishers, struct pw_finisher);
  double pans = 0;
  for (int i = 0; i < n_lots; i++)
    pans += in->lots.lots[i].pieces * KINDS[in->lots.lots[i].cut].pans;
  ev->finishers[0] = (struct pw_finisher){.id = "oven",
                                          .name = "oven",
                                          .kind = PW_OVEN,
                                          .capacity = 0.12 * area_h + 0.25,
                                          .temp_c = 125,
                                          .cents_per_h = 120};
  for (int b = 0; b < n_boxes; b++)
    ev->finishers[1 + b] = (struct pw_finisher){.id = b ? "box-2" : "box-1",
                                                .name = "box",
                                                .kind = PW_HOLD,
                                                .capacity = ceil(pans * 0.65) + 1,
                                                .is_in_pans = true,
                                                .temp_c = 66};

  int horizon = 0;
  for (int i = 0; i < n_lots; i++) {
    struct pw_lot *lot = &in->lots.lots[i];
    const struct kind *k = &KINDS[lot->cut];
    lot->smoke_min = MAKE(n_zones, int *);
    lot->finish_min = MAKE(n_zones, int *);
    lot->oven_min = MAKE(ev->n_finishers, int);
    for (int f = 0; f < ev->n_finishers; f++)
      lot->oven_min[f] = f == 0 && k->in_oven && k->finish_h > 0
                             ? (int)ceil(k->finish_h * 60 * exp((k->best_c - 125) / 70) / slot) * slot
                             : PW_NONE;
    int longest = 0;
    for (int y = 0; y < n_zones; y++) {
      const struct pw_zone *zone = &in->lots.zones[y];
      int n_settings = ev->pits[zone->pit].n_settings;
      lot->smoke_min[y] = MAKE(n_settings, int);
      lot->finish_min[y] = MAKE(n_settings, int);
      for (int s = 0; s < n_settings; s++) {
        double t = zone->temp_c[s];
        const struct pw_rack *rack =
            &ev->pits[zone->pit].racks[zone->rack]; /* longer than any piece: middles lie in all zones */
        bool fits = (k->length_m <= rack->length_m && k->width_m <= zone->depth_m) ||
                    (k->width_m <= rack->length_m && k->length_m <= zone->depth_m);
        bool ok = fits && t >= k->low_c && t <= k->high_c;
        lot->smoke_min[y][s] = ok ? (int)ceil(k->smoke_h * 60 * exp((k->best_c - t) / 70) / slot) * slot : PW_NONE;
        lot->finish_min[y][s] = k->finish_h > 0 && fits && t >= k->low_c && t <= k->high_c + 20
                                    ? (int)ceil(k->finish_h * 60 * exp((k->best_c - t) / 70) / slot) * slot
                                    : PW_NONE;
        if (lot->smoke_min[y][s] + lot->finish_min[y][s] > longest)
          longest = lot->smoke_min[y][s] + lot->finish_min[y][s];
      }
    }
    if (lot->done_first_min - longest - 90 < horizon)
      horizon = lot->done_first_min - longest - 90;
  }
  in->lots.slot_min = slot;
  in->lots.start_at_min = (int)floor((double)horizon / slot) * slot;
  in->lots.end_at_min = ev->services[n_services - 1].at_min;
  return in;
}
