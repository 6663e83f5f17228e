/* allocate_data.c - event, lots and fuel rates -> the allocation problem in slots and cents. */
#include "plan/allocate/allocate_data.h"

#include "base/arena.h"
#include "base/diag.h"
#include "heat/box.h"
#include "plan/demand/head_count.h"
#include "plan/lots/cuttings.h"
#include "plan/lots/drips.h"
#include "plan/lots/side_pans.h"

#include <math.h>
#include <string.h>

static int floor_div(int a, int b) { return a >= 0 ? a / b : -((-a + b - 1) / b); }
static int ceil_div(int a, int b) { return -floor_div(-a, b); }

static double off_best_cents(const struct pw_event *ev, const struct pw_stage *stage, double temp_c)
{
  return ev->effort.off_best_cents_per_piece_k * fabs(temp_c - stage->best_c);
}

static pw_status lot_make(struct pw_al *al, int c, struct pw_ctx *ctx)
{
  const struct pw_lot *src = &al->lots->lots[c];
  const struct pw_cut *cut = &al->ev->cuts[src->cut];
  const struct pw_service *service = &al->ev->services[src->service];
  int until_at_min = src->whole_until_at_min; /* in its box until then */
  struct pw_al_lot *lot = &al->lot[c];
  size_t n_zs = (size_t)al->n_zones * (size_t)al->n_settings_max, n_f = (size_t)al->n_finishers + 1;

  lot->d1 = pw_arena_array(ctx->arena, n_zs + 1, sizeof *lot->d1);
  lot->d2 = pw_arena_array(ctx->arena, n_zs + 1, sizeof *lot->d2);
  lot->off1 = pw_arena_array(ctx->arena, n_zs + 1, sizeof *lot->off1);
  lot->off2 = pw_arena_array(ctx->arena, n_zs + 1, sizeof *lot->off2);
  lot->d_oven = pw_arena_array(ctx->arena, n_f, sizeof *lot->d_oven);
  lot->off_oven = pw_arena_array(ctx->arena, n_f, sizeof *lot->off_oven);
  if (!lot->d1 || !lot->d2 || !lot->off1 || !lot->off2 || !lot->d_oven || !lot->off_oven)
    return PW_ERR_MEMORY;

  lot->n = src->pieces;
  lot->day = (src->is_day_before ? src->day : service->day) - al->day_first;
  lot->has_finish = src->has_finish;
  lot->is_raw = pw_drips_raw(cut);
  lot->drip_reach_m =
      (cut->may_turn ? fmax(src->footprint_length_m, src->footprint_width_m) : src->footprint_length_m) / 2 +
      PW_DRIP_MARGIN_M;
  lot->whole_until_at_min = until_at_min;
  lot->rest_min = src->rest_min;
  lot->pans = cut->pans_per_piece;
  lot->area_oven_m2 = src->wrapped_length_m * src->wrapped_width_m;
  lot->load_min = cut->load_min;
  lot->wrap_min = cut->wrap_min;
  lot->unload_min = cut->unload_min;
  lot->hold_cents = al->ev->effort.hold_cents_per_piece_h * al->slot_min / 60.0;

  int start = al->lots->start_at_min;
  lot->done_first = ceil_div(src->done_first_min - start, al->slot_min);
  lot->done_last = floor_div(src->done_last_min - start, al->slot_min);
  lot->hold_end = ceil_div(until_at_min - start, al->slot_min);
  lot->box_until_at_min = pw_box_until_min(al->ev, src);
  lot->room_end = ceil_div(lot->box_until_at_min - start, al->slot_min);
  if (src->is_day_before) /* chilled, not held: no box; the price of waiting only says that later is better */
    lot->hold_end = lot->done_first;
  if (lot->done_last > al->n_slots)
    lot->done_last = al->n_slots;
  if (lot->hold_end > al->n_slots)
    lot->hold_end = al->n_slots;
  if (lot->room_end < lot->hold_end)
    lot->room_end = lot->hold_end;
  if (lot->room_end > al->n_slots || src->is_day_before) /* nothing else comes into a box beyond the grid */
    lot->room_end = src->is_day_before ? lot->hold_end : al->n_slots;

  int longest1 = 0, longest2 = 0;
  for (int z = 0; z < al->n_zones; z++) {
    const struct pw_zone *zone = &al->lots->zones[z];
    int n_settings = al->ev->pits[zone->pit].n_settings;
    for (int s = 0; s < al->n_settings_max; s++) {
      size_t k = (size_t)z * (size_t)al->n_settings_max + (size_t)s;
      lot->d1[k] = lot->d2[k] = PW_NONE;
      if (s >= n_settings || al->ev->pits[zone->pit].is_rentable)
        continue;
      if (src->smoke_min[z][s] > 0)
        lot->d1[k] = ceil_div(src->smoke_min[z][s], al->slot_min);
      if (src->has_finish && src->finish_min[z][s] > 0)
        lot->d2[k] = ceil_div(src->finish_min[z][s], al->slot_min);
      if (lot->d1[k] > longest1)
        longest1 = lot->d1[k];
      if (lot->d2[k] > longest2)
        longest2 = lot->d2[k];
      lot->off1[k] = off_best_cents(al->ev, &cut->smoke, zone->temp_c[s]);
      lot->off2[k] = off_best_cents(al->ev, &cut->finish, zone->temp_c[s]);
    }
  }
  for (int f = 0; f < al->n_finishers; f++) {
    lot->d_oven[f] =
        src->has_finish && al->is_oven[f] && src->oven_min[f] > 0 ? ceil_div(src->oven_min[f], al->slot_min) : PW_NONE;
    if (lot->d_oven[f] > longest2)
      longest2 = lot->d_oven[f];
    lot->off_oven[f] = off_best_cents(al->ev, &cut->finish, al->ev->finishers[f].temp_c) + al->move_cents;
  }
  lot->turn = ceil_div(src->turn_min, al->slot_min);
  lot->t_first = lot->done_first - longest1 - longest2;
  return PW_OK;
}

static void pit_make(struct pw_al *al, int p, const struct pw_fuel_rates *rates)
{
  const struct pw_pit *src = &al->ev->pits[p];
  struct pw_al_pit *pit = &al->pit[p];
  pit->lead = ceil_div(src->ready_min, al->slot_min);
  pit->n_burns_max = src->n_burns_max > 0 ? src->n_burns_max : 1;
  pit->n_settings = src->n_settings;
  double tend_cents_per_h = src->tend_min_per_h / 60.0 * al->ev->effort.tend_cents_per_h;
  for (int s = 0; s < src->n_settings; s++) {
    pit->rate[s] = (rates->burn_cents_per_h[p][s] + tend_cents_per_h) * al->slot_min / 60.0;
    pit->light[s] = rates->light_cents[p][s] + tend_cents_per_h * src->ready_min / 60.0;
  }
}

static void hands_make(struct pw_al *al)
{
  bool has_any = false;
  for (int k = 0; k < al->ev->n_crew; k++)
    has_any |= (al->ev->crew[k].duties & (1u << PW_DUTY_PIT)) != 0;
  for (int t = 0; t < al->n_slots; t++) {
    int from = al->lots->start_at_min + t * al->slot_min, to = from + al->slot_min;
    double hands = 0;
    for (int k = 0; k < al->ev->n_crew; k++) {
      const struct pw_crew *crew = &al->ev->crew[k];
      if ((crew->duties & (1u << PW_DUTY_PIT)) && crew->from_at_min <= from && crew->to_at_min >= to)
        hands += pw_head_count_hands(al->ev, crew);
    }
    al->hands_min[t] = has_any ? hands * al->slot_min * PW_AL_HANDS_SHARE_FRAC : HUGE_VAL;
  }
}

/* Racks one above the other, zone by zone; whether two pieces in them overlap hangs on their size too. */
static void above_make(struct pw_al *al)
{
  for (int a = 0; a < al->n_zones; a++)
    for (int b = 0; b < al->n_zones; b++) {
      const struct pw_zone *upper = &al->lots->zones[a], *lower = &al->lots->zones[b];
      al->is_above[(size_t)a * (size_t)al->n_zones + (size_t)b] =
          upper->pit == lower->pit && upper->rack != lower->rack &&
          pw_drips_above(&al->ev->pits[upper->pit], upper->rack, lower->rack);
      /* racks of unlike length: where one lies above the other nobody told, so everywhere */
      const struct pw_rack *ra = &al->ev->pits[upper->pit].racks[upper->rack],
                           *rb = &al->ev->pits[lower->pit].racks[lower->rack];
      double gap_m = fmax(upper->x_m, lower->x_m) - fmin(upper->x_m + upper->length_m, lower->x_m + lower->length_m);
      al->drip_gap_m[(size_t)a * (size_t)al->n_zones + (size_t)b] =
          fabs(ra->length_m - rb->length_m) > 1e-6 ? -HUGE_VAL : gap_m;
    }
}

/* [A0] A missed piece must cost more than the dearest way to cook it: every pit lit for the whole horizon. */
static double miss_cents(const struct pw_al *al)
{
  double all = 1000;
  for (int p = 0; p < al->n_pits; p++)
    for (int s = 0; s < al->pit[p].n_settings; s++)
      all += al->pit[p].light[s] + al->pit[p].rate[s] * al->n_slots;
  return all;
}

double pw_al_miss_weight(const struct pw_al *al, int c, int m)
{
  return al->is_shared && al->lot[c].n > 0 ? m * (1 + PW_AL_MISS_STEEP * m / al->lot[c].n) : m;
}

double pw_al_missed_cents(const struct pw_al *al, const int *missed)
{
  double cents = 0;
  for (int c = 0; c < al->n_lots; c++)
    cents += al->lot[c].miss_cents * pw_al_miss_weight(al, c, missed[c]);
  return cents;
}

/* Rack and time that a piece asks for: lots of which as much is missing by this measure are short alike. */
static double bulk(const struct pw_al *al, int c)
{
  const struct pw_lot *src = &al->lots->lots[c];
  int longest = 0;
  for (int k = 0; k < al->n_zones * al->n_settings_max; k++)
    if (al->lot[c].d1[k] > longest)
      longest = al->lot[c].d1[k];
  return src->footprint_length_m * src->footprint_width_m * (longest + 4);
}

#define ONLY_DISH_TIMES                                                                                                \
  3.0 /* how much dearer a piece is that some guests have nothing in place of: common practice, no source */

bool pw_al_is_only_dish(const struct pw_al *al, int c)
{
  const struct pw_event *ev = al->ev;
  const struct pw_lot *lot = &al->lots->lots[c];
  const struct pw_service *s = &ev->services[lot->service];
  bool has_such_guests = false;
  for (int i = 0; i < ev->n_classes; i++)
    has_such_guests = has_such_guests || (!ev->classes[i].eats_meat && s->guests[i] > 0);
  if (!has_such_guests || ev->cuts[lot->cut].kind != PW_KIND_PLANT)
    return false;
  for (int k = 0; k < s->n_menu; k++) {
    int cut = ev->dishes[s->menu[k].dish].cut;
    if (cut != PW_NONE && cut != lot->cut && ev->cuts[cut].kind == PW_KIND_PLANT)
      return false;
  }
  return true;
}

/* [A0] The least of the lots costs what is dearer than any way to cook; the others by their bulk. */
void pw_al_share(struct pw_al *al)
{
  double least = HUGE_VAL, miss = miss_cents(al);
  al->is_shared = true;
  for (int c = 0; c < al->n_lots; c++)
    least = fmin(least, bulk(al, c));
  for (int c = 0; c < al->n_lots; c++)
    al->lot[c].miss_cents =
        miss * (least > 0 ? bulk(al, c) / least : 1) * (pw_al_is_only_dish(al, c) ? ONLY_DISH_TIMES : 1);
}

pw_status pw_al_make(struct pw_al *al, const struct pw_event *ev, const struct pw_lots *lots,
                     const struct pw_fuel_rates *rates, struct pw_ctx *ctx)
{
  memset(al, 0, sizeof *al);
  al->ev = ev;
  al->lots = lots;
  al->rates = rates;
  al->slot_min = lots->slot_min;
  al->n_slots = ceil_div(lots->end_at_min - lots->start_at_min, lots->slot_min);
  al->n_lots = lots->n_lots;
  al->n_zones = lots->n_zones;
  al->n_pits = ev->n_pits;
  al->n_finishers = ev->n_finishers;
  al->opening_cents = ev->effort.opening_cents;
  al->place_cents = ev->effort.place_cents;
  al->move_cents = ev->effort.move_cents_per_piece;
  al->n_settings_max = 1;
  for (int p = 0; p < ev->n_pits; p++)
    if (ev->pits[p].n_settings > al->n_settings_max)
      al->n_settings_max = ev->pits[p].n_settings;
  al->day_first = ev->n_services ? ev->services[0].day : 0;
  for (int v = 0; v < ev->n_services; v++)
    if (ev->services[v].day < al->day_first)
      al->day_first = ev->services[v].day;
  for (int c = 0; c < lots->n_lots; c++)
    if (lots->lots[c].is_day_before && lots->lots[c].day < al->day_first)
      al->day_first = lots->lots[c].day;
  for (int v = 0; v < ev->n_services; v++)
    if (ev->services[v].day - al->day_first >= al->n_days)
      al->n_days = ev->services[v].day - al->day_first + 1;
  if (al->n_settings_max > PW_AL_SETTINGS_MAX || al->n_days > PW_AL_DAYS_MAX) {
    pw_diag_add(ctx, PW_ERROR, "too-large", ev->file, 0, 0,
                "the event has a pit with %d settings and spans %d days; at most %d settings and %d days are planned",
                al->n_settings_max, al->n_days, PW_AL_SETTINGS_MAX, PW_AL_DAYS_MAX);
    return PW_ERR_INPUT;
  }

  al->lot = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *al->lot);
  al->pit = pw_arena_array(ctx->arena, (size_t)al->n_pits + 1, sizeof *al->pit);
  al->pit_of_zone = pw_arena_array(ctx->arena, (size_t)al->n_zones + 1, sizeof *al->pit_of_zone);
  al->is_above = pw_arena_array(ctx->arena, (size_t)al->n_zones * (size_t)al->n_zones + 1, sizeof *al->is_above);
  al->drip_gap_m = pw_arena_array(ctx->arena, (size_t)al->n_zones * (size_t)al->n_zones + 1, sizeof *al->drip_gap_m);
  al->oven_cents = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *al->oven_cents);
  al->is_oven = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *al->is_oven);
  al->capacity = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *al->capacity);
  al->box_min = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *al->box_min);
  al->hands_min = pw_arena_array(ctx->arena, (size_t)al->n_slots + 1, sizeof *al->hands_min);
  if (!al->lot || !al->pit || !al->pit_of_zone || !al->is_above || !al->oven_cents || !al->is_oven || !al->capacity ||
      !al->hands_min || !al->box_min || !al->drip_gap_m)
    return PW_ERR_MEMORY;

  for (int f = 0; f < al->n_finishers; f++) {
    al->is_oven[f] = ev->finishers[f].kind == PW_OVEN;
    al->capacity[f] = ev->finishers[f].capacity;
    al->box_min[f] = pw_box_hot_min(ev->finishers[f].temp_c, ev->weather.low_c, ev->finishers[f].loss_frac_h);
    al->oven_cents[f] = al->is_oven[f] ? ev->finishers[f].cents_per_h * al->slot_min / 60.0 : 0;
  }
  for (int r = 0; r < lots->n_reheats; r++) /* set aside all the time: a little less room than there is */
    al->capacity[lots->reheats[r].finisher] =
        fmax(0, al->capacity[lots->reheats[r].finisher] - lots->reheats[r].capacity);
  for (int f = 0; f < al->n_finishers; f++) /* the same for pans of sides in boxes */
    al->capacity[f] = fmax(0, al->capacity[f] - pw_side_pans_most(lots, f));
  for (int p = 0; p < al->n_pits; p++) {
    pit_make(al, p, rates);
    al->pit[p].zone_first = al->n_zones;
  }
  for (int z = al->n_zones - 1; z >= 0; z--) {
    struct pw_al_pit *pit = &al->pit[lots->zones[z].pit];
    al->pit_of_zone[z] = lots->zones[z].pit;
    pit->zone_first = z;
    if (pit->zone_end <= z)
      pit->zone_end = z + 1;
  }
  above_make(al);
  hands_make(al);
  for (int c = 0; c < al->n_lots; c++) {
    pw_status status = lot_make(al, c, ctx);
    if (status)
      return status;
  }
  double miss = miss_cents(al);
  for (int c = 0; c < lots->n_lots; c++)
    al->lot[c].miss_cents = miss;
  return PW_OK;
}
