/* way_list.c - single changes: a box, an oven, a pit to hire, one more hand, a lot cooked the day before, a second sitting, more
 * waves, smaller portions.  What is missing says how large they must be; whether they help is found by planning. */
#include "plan/ways/way_list.h"

#include "base/arena.h"
#include "base/format.h"
#include "heat/fit.h"
#include "heat/food_code.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"
#include "plan/lots/day_before.h"
#include "plan/lots/drips.h"
#include "plan/ways/way_lines.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum {
  DAY_BEFORE_MOST = 3, /* lots tried a day earlier */
  TRAYS_MOST = 2,      /* pits for which trays are tried */
  PIT_COPIES = 3,      /* of one pit to hire */
  BOXES_MOST = 4,      /* of one size */
  WAVES_MOST = 24,     /* an event file may ask for so many (read/tables_event.c) */
  ICE_WATER_MIN = 60,  /* from off the fire until all of it lies in ice water: common practice, no source */
  COLD_READ_MIN =
      390, /* the last reading is due 6 h after it has rested (Food Code 2022 3-501.14), and goes into the cold store */
  EARLY_MOST_MIN = 4 * 60, /* a shift begins so much sooner at most: common practice, no source */
  DAY_MIN = 24 * 60
};
static const double EARLY_SDS = 2.5;           /* standard deviations of a cooking time that hardly a lot goes beyond */
static const double BLAMED_LEAST_FRAC = 0.05;  /* of the late draws: who has less of them holds nothing back */
static const double PORTION_LEAST_FRAC = 0.75; /* a portion cut further is another meal; common practice, no source */
static const double PORTION_STEP_KG = 0.005;   /* portions are told in steps of so much */
#define HEATED_LEAST_CENTS_PER_H 0.0 /* a box without a heater costs nothing to run: not offered for a shortage */

#define PW_TRAY_ITEM "drip-tray" /* of the catalog of items */

struct list {
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_way *ways;
  int n;
  int *
      lacking; /* [lot] pieces that need help: without a place; where all have one those of lots to blame for a late meal */
  bool is_late; /* all have a place, and a meal is late too often */
  struct pw_ctx *ctx;
};

static int missed(const struct list *l, int lot) { return l->lacking[lot]; }

/* Draws in which a meal below its target is late, by what is to blame first: one lot's kind. */
static int blame(const struct list *l, int lot, int kind)
{
  const struct pw_chance *chance = &l->plan->chance;
  int n = 0;
  for (int s = 0; s < l->ev->n_services && chance->blames; s++)
    if (pw_on_time_is_short(l->ev, chance, s))
      n += chance->blames[pw_blame_at(l->plan->lots.n_lots, s, lot, (enum pw_blame_kind)kind)];
  return n;
}

static int blame_of_all(const struct list *l, int kind)
{
  int n = 0;
  for (int c = 0; c < l->plan->lots.n_lots; c++)
    n += blame(l, c, kind);
  return n;
}

static bool find_lacking(struct list *l)
{
  int n_lots = l->plan->lots.n_lots, all = blame_of_all(l, PW_BLAME_OWN) + blame_of_all(l, PW_BLAME_SPOT);
  if (!(l->lacking = pw_arena_array(l->ctx->arena, (size_t)n_lots + 1, sizeof *l->lacking)))
    return false;
  for (int c = 0; c < n_lots; c++) {
    int of = l->is_late ? blame(l, c, PW_BLAME_OWN) + blame(l, c, PW_BLAME_SPOT) : 0;
    l->lacking[c] = !l->is_late                    ? l->plan->allocation.missed[c]
                    : of > BLAMED_LEAST_FRAC * all ? l->plan->lots.lots[c].pieces
                                                   : 0;
  }
  return true;
}

static void add(struct list *l, struct pw_way way) { l->ways[l->n++] = way; }

/* An id of the event's own kind that is free: "hot-box-tall-more", then "-more-2". */
static const char *free_id(const struct list *l, const char *id, int nth)
{
  for (int k = nth;; k++) {
    const char *at =
        k == 1 ? pw_arena_printf(l->ctx->arena, "%s-more", id) : pw_arena_printf(l->ctx->arena, "%s-more-%d", id, k);
    bool is_taken = false;
    for (int p = 0; at && p < l->ev->n_pits; p++)
      is_taken = is_taken || strcmp(l->ev->pits[p].id, at) == 0;
    for (int f = 0; at && f < l->ev->n_finishers; f++)
      is_taken = is_taken || strcmp(l->ev->finishers[f].id, at) == 0;
    if (!is_taken)
      return at;
  }
}

/* ---- boxes and ovens --------------------------------------------------------------------------------- */

/* Room in `f`'s unit that pieces ask for which may use it: those without a place, or all of them. */
static double room_of(const struct list *l, const struct pw_finisher *f, bool is_all)
{
  double room = 0;
  for (int c = 0; c < l->plan->lots.n_lots; c++) {
    const struct pw_cut *cut = &l->ev->cuts[l->plan->lots.lots[c].cut];
    const struct pw_lot *lot = &l->plan->lots.lots[c];
    bool is_pans = f->kind == PW_HOLD || f->is_in_pans;
    if (f->kind == PW_OVEN && pw_fit_oven(cut, f) != PW_FITS)
      continue;
    room += (is_all ? lot->pieces : missed(l, c)) *
            (is_pans ? cut->pans_per_piece : lot->wrapped_length_m * lot->wrapped_width_m);
  }
  return room;
}

/* What one more has to hold: the pieces without a place; or, when all is held at a time, what those there do not. */
static double room_wanted(const struct list *l, const struct pw_finisher *f, bool is_all)
{
  double room = room_of(l, f, is_all);
  for (int i = 0; is_all && i < l->ev->n_finishers; i++)
    if (l->ev->finishers[i].kind == f->kind && l->ev->finishers[i].is_in_pans == f->is_in_pans)
      room -= l->ev->finishers[i].capacity;
  for (int i = 0; is_all && f->kind == PW_HOLD && i < l->plan->lots.n_side_pans; i++)
    room += l->plan->lots.side_pans[i].finisher != PW_NONE ? l->plan->lots.side_pans[i].pans : 0;
  return room;
}

/* The smallest of the catalog that is large enough, else the largest; *n of them are enough. */
static const struct pw_finisher *size_that_suffices(const struct list *l, enum pw_finisher_kind kind, bool is_all,
                                                    int *n)
{
  const struct pw_finisher *best = NULL;
  double best_share = 0;
  *n = 0;
  for (int i = 0; i < l->ev->n_catalog_finishers; i++) {
    const struct pw_finisher *f = &l->ev->catalog_finishers[i];
    if (f->kind != kind || (kind == PW_HOLD && !(f->cents_per_h > HEATED_LEAST_CENTS_PER_H)))
      continue;
    double wanted = room_wanted(l, f, is_all);
    if (!(wanted > 0) || !(f->capacity > 0))
      continue;
    double share = f->capacity / wanted; /* of the need that one of them takes */
    if (!best || (best_share < 1 ? share > best_share : share >= 1 && share < best_share)) {
      best = f;
      best_share = share;
    }
  }
  *n = best ? (int)fmin(ceil(1 / best_share - 1e-9), BOXES_MOST) : 0;
  return best;
}

static void add_room(struct list *l, const struct pw_finisher *f, int n)
{
  struct pw_way_lines text = pw_way_lines_open(l->ev, l->ctx);
  pw_way_lines_add(&text, "finishers:\n");
  const char *first = NULL;
  for (int i = 1; i <= n; i++) {
    const char *id = free_id(l, f->id, i);
    first = first ? first : id;
    pw_way_lines_add(
        &text, "  - {use: %s, id: %s,\n     name: %s}\n", f->id, id ? id : "?",
        pw_way_quoted(&text, pw_arena_printf(l->ctx->arena, n > 1 ? "%s, hired %d" : "%s, hired", f->name, i)));
  }
  const char *more = n > 1 ? pw_arena_printf(l->ctx->arena, "%d more of \"%s\"", n, f->name)
                           : pw_arena_printf(l->ctx->arena, "one more \"%s\"", f->name);
  const char *size = f->is_in_pans
                         ? pw_arena_printf(l->ctx->arena, "%s full-size pans", pw_format_number(f->capacity, 1).s)
                         : pw_arena_printf(l->ctx->arena, "%s of shelf", pw_format_area(l->ev->units, f->capacity).s);
  add(l,
      (struct pw_way){.part = {f->kind == PW_OVEN ? PW_WAY_OVEN : PW_WAY_BOX, first, true},
                      .what = pw_arena_printf(l->ctx->arena, "%s (%s%s%s; its hire is not in this figure)", more, size,
                                              n > 1 ? " each" : "", f->kind == PW_OVEN ? ", for wrapped pieces" : ""),
                      .lines = pw_way_lines_text(&text),
                      .service = PW_NONE,
                      .copy_of = PW_NONE});
}

/* One for what is missing and, where that is another, one for everything at a time.  Where all has a place and is late one more oven is
 * what gives spots, and one more box only what holds that all is ready early. */
static void add_rooms(struct list *l, enum pw_finisher_kind kind)
{
  int n_least = 0, n_most = 0;
  const struct pw_finisher *least = size_that_suffices(l, kind, false, &n_least);
  const struct pw_finisher *most = size_that_suffices(l, kind, true, &n_most);
  if (least && !(l->is_late && kind == PW_HOLD))
    add_room(l, least, l->is_late ? 1 : n_least);
  if (most && (most != least || n_most != n_least) && !(l->is_late && kind == PW_OVEN))
    add_room(l, most, n_most);
}

/* ---- pits to hire ------------------------------------------------------------------------------------ */

static bool takes_what_is_short(const struct list *l, const struct pw_pit *p)
{
  for (int c = 0; c < l->plan->lots.n_lots; c++)
    for (int rack = 0; missed(l, c) > 0 && rack < p->n_racks; rack++)
      for (int k = 0; k < p->racks[rack].n_zones; k++)
        for (int s = 0; s < p->n_settings; s++)
          if (pw_fit_zone(&l->ev->cuts[l->plan->lots.lots[c].cut], false, p, rack, k, s) == PW_FITS)
            return true;
  return false;
}

static void add_pit(struct list *l, const struct pw_pit *pit, const char *id, const char *use, const char *name,
                    int copy_of)
{
  struct pw_way_lines text = pw_way_lines_open(l->ev, l->ctx);
  if (use)
    pw_way_lines_add(&text, "pits:\n  - {use: %s, id: %s,\n     name: %s, rentable: false}\n", use, id,
                     pw_way_quoted(&text, name));
  else
    pw_way_lines_add(&text, "pits:\n  - {id: %s, rentable: false}\n", id);
  add(l, (struct pw_way){.part = {PW_WAY_PIT, id, use != NULL},
                         .what = pw_arena_printf(l->ctx->arena, "hire %s (rent %s, in this figure)", name,
                                                 pw_money_format(l->ev, pit->rent_cents).s),
                         .lines = pw_way_lines_text(&text),
                         .service = PW_NONE,
                         .copy_of = copy_of});
}

/* Those on offer in the event, then those of the catalog that are for hire; of these more than one may come. */
static void add_pits(struct list *l)
{
  const struct pw_event *ev = l->ev;
  for (int p = 0; p < ev->n_pits; p++)
    if (ev->pits[p].is_rentable && takes_what_is_short(l, &ev->pits[p]))
      add_pit(l, &ev->pits[p], ev->pits[p].id, NULL, ev->pits[p].name, PW_NONE);
  for (int p = 0; p < ev->n_catalog_pits; p++) {
    const struct pw_pit *pit = &ev->catalog_pits[p];
    if (!pit->is_rentable || !takes_what_is_short(l, pit))
      continue;
    for (int k = 1, before = PW_NONE; k <= (l->is_late ? 1 : PIT_COPIES); k++) {
      const char *id = free_id(l, pit->id, k);
      const char *name = pw_arena_printf(l->ctx->arena, k > 1 ? "%s, one more (%d)" : "%s, one more", pit->name, k);
      if (!id || !name)
        return;
      add_pit(l, pit, id, pit->id, name, before);
      before = l->n - 1;
    }
  }
}

/* ---- trays ------------------------------------------------------------------------------------------- */

/* Racks of a pit that stand above another with nothing between. */
static int n_without_tray(const struct pw_pit *pit)
{
  int n = 0, lowest = pit->n_racks > 0 ? pit->racks[0].level : 0;
  for (int r = 1; r < pit->n_racks; r++)
    lowest = pit->racks[r].level < lowest ? pit->racks[r].level : lowest;
  for (int r = 0; r < pit->n_racks; r++)
    n += pit->racks[r].level > lowest && !pit->racks[r].has_tray_below;
  return n;
}

/* A tray under each upper rack of a pit of the event: raw meat above may then lie over what is open below [H2].  It is bought like any
 * other goods, so that its plan has its price. */
static void add_trays(struct list *l)
{
  const struct pw_event *ev = l->ev;
  bool has_raw = false;
  int tray = PW_NONE;
  for (int c = 0; c < l->plan->lots.n_lots; c++)
    has_raw = has_raw || pw_drips_raw(&ev->cuts[l->plan->lots.lots[c].cut]);
  for (int i = 0; i < ev->n_items; i++)
    tray = strcmp(ev->items[i].id, PW_TRAY_ITEM) == 0 ? i : tray;
  for (int p = 0, n = 0; p < ev->n_pits && has_raw && tray == PW_NONE && n < TRAYS_MOST; p++) {
    const struct pw_pit *pit = &ev->pits[p];
    int wanted = n_without_tray(pit);
    if (pit->is_rentable || wanted == 0 || !takes_what_is_short(l, pit))
      continue;
    struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
    pw_way_lines_add(&text,
                     "pits:\n  - {id: %s, trays: true}\nsupplies:\n  - {item: %s, amount: %d each, per: event}\n",
                     pit->id, PW_TRAY_ITEM, wanted);
    add(l, (struct pw_way){
               .part = {PW_WAY_TRAY, pit->id, false},
               .what = pw_arena_printf(l->ctx->arena,
                                       "%s between the racks of %s, so that nothing drips from one on the "
                                       "other (FDA Food Code 2022 3-302.11; %s in this figure)",
                                       wanted == 1 ? "a tray" : pw_arena_printf(l->ctx->arena, "%d trays", wanted),
                                       pit->name, wanted == 1 ? "its price is" : "their price is"),
               .lines = pw_way_lines_text(&text),
               .service = PW_NONE,
               .copy_of = PW_NONE});
    n++;
  }
}

/* ---- hands ------------------------------------------------------------------------------------------- */

/* The pit crew's longest shift, or PW_NONE. */
static int longest_pit_shift(const struct pw_event *ev)
{
  int best = PW_NONE;
  for (int k = 0; k < ev->n_crew; k++)
    if ((ev->crew[k].duties & (1u << PW_DUTY_PIT)) &&
        (best == PW_NONE ||
         ev->crew[k].to_at_min - ev->crew[k].from_at_min > ev->crew[best].to_at_min - ev->crew[best].from_at_min))
      best = k;
  return best;
}

/* One more hand on the longest shift, and where hands are what is short one for the hours in which they are. */
static void add_hands(struct list *l)
{
  const struct pw_event *ev = l->ev;
  const struct pw_allocation *a = &l->plan->allocation;
  int longest = longest_pit_shift(ev), from = 0, to = 0;
  if (longest == PW_NONE)
    return;
  for (int i = 0; i < a->n_shortages; i++)
    if (strcmp(a->shortages[i].resource, "hands") == 0) {
      from = to == from || a->shortages[i].from_at_min < from ? a->shortages[i].from_at_min : from;
      to = a->shortages[i].to_at_min > to ? a->shortages[i].to_at_min : to;
    }
  for (int is_short = 0; is_short < 2; is_short++) {
    struct pw_crew hand = ev->crew[longest];
    if (is_short && to <= from)
      break;
    hand.count = 1;
    hand.guests_per_hand = 0;
    if (is_short) {
      hand.from_at_min = from - 60; /* there before the work is: common practice, no source */
      hand.to_at_min = (int)fmin(to + 60, hand.from_at_min + DAY_MIN);
    }
    struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
    pw_way_lines_add(&text, "crew:\n");
    pw_way_lines_crew(&text, &hand);
    add(l, (struct pw_way){.part = {PW_WAY_HAND, hand.role, false},
                           .what = pw_arena_printf(l->ctx->arena, "one more %s, %s (%s; the pay is in this figure)",
                                                   hand.role, pw_way_shift(&text, &hand),
                                                   pw_format_minutes(hand.to_at_min - hand.from_at_min).s),
                           .lines = pw_way_lines_text(&text),
                           .service = PW_NONE,
                           .copy_of = PW_NONE});
  }
}

/* Minutes by which a lot to blame would have to be aimed earlier for hardly a piece of it to be late; 0: none is to blame itself. */
static int earlier_min(const struct list *l, int *first_at_min)
{
  int most = 0;
  *first_at_min = INT_MAX;
  for (int c = 0; c < l->plan->lots.n_lots; c++) {
    const struct pw_lot *lot = &l->plan->lots.lots[c];
    const struct pw_cut *cut = &l->ev->cuts[lot->cut];
    if (missed(l, c) == 0 || blame(l, c, PW_BLAME_OWN) == 0)
      continue;
    double smoke = cut->smoke.is_used ? cut->smoke.spread_frac * cut->smoke.ref_min : 0,
           finish = cut->finish.is_used ? cut->finish.spread_frac * cut->finish.ref_min : 0;
    int more = (int)ceil(EARLY_SDS * hypot(smoke, finish)) - lot->early_min;
    more = (more + l->ev->slot_min - 1) / l->ev->slot_min * l->ev->slot_min;
    for (int i = 0; i < l->plan->allocation.n_loads; i++) {
      const struct pw_load *load = &l->plan->allocation.loads[i];
      if (load->lot == c && load->start_at_min < *first_at_min)
        *first_at_min = load->start_at_min;
    }
    more = more > l->ev->slot_min ? more : l->ev->slot_min;
    most = more > most ? more : most;
  }
  return most < EARLY_MOST_MIN ? most : EARLY_MOST_MIN;
}

/* Somebody at the pit before the first of the shifts in which what is to blame goes on: the fire is lit and food goes on earlier.
 * Where people come from a pool they are called when they are needed. */
static void add_early_hand(struct list *l)
{
  const struct pw_event *ev = l->ev;
  int load = 0, earlier = earlier_min(l, &load), crew = PW_NONE, lead = 0;
  if (earlier == 0 || l->plan->staffing.asked)
    return;
  for (int k = 0; k < ev->n_crew; k++)
    if ((ev->crew[k].duties & (1u << PW_DUTY_PIT)) && ev->crew[k].from_at_min <= load && ev->crew[k].to_at_min > load &&
        (crew == PW_NONE || ev->crew[k].from_at_min < ev->crew[crew].from_at_min))
      crew = k;
  for (int p = 0; p < ev->n_pits; p++)
    lead = ev->pits[p].ready_min > lead ? ev->pits[p].ready_min : lead;
  if (crew == PW_NONE || load - earlier - lead >= ev->crew[crew].from_at_min)
    return;
  struct pw_crew hand = ev->crew[crew];
  hand.to_at_min = hand.from_at_min;
  hand.from_at_min = load - earlier - lead;
  hand.count = 1;
  hand.guests_per_hand = 0;
  struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
  pw_way_lines_add(&text, "crew:\n");
  pw_way_lines_crew(&text, &hand);
  add(l, (struct pw_way){.part = {PW_WAY_HAND, hand.role, false},
                         .what = pw_arena_printf(
                             l->ctx->arena, "begin earlier: one %s from %s to %s (%s; the pay is in this figure)",
                             hand.role, pw_way_clock(&text, hand.from_at_min), pw_way_clock(&text, hand.to_at_min),
                             pw_format_minutes(hand.to_at_min - hand.from_at_min).s),
                         .lines = pw_way_lines_text(&text),
                         .service = PW_NONE,
                         .copy_of = PW_NONE});
}

/* ---- the day before ---------------------------------------------------------------------------------- */

static bool may_be_day_before(const struct list *l, int c)
{
  const struct pw_lot *lot = &l->plan->lots.lots[c];
  bool has_oven = false;
  for (int f = 0; f < l->ev->n_finishers; f++)
    has_oven = has_oven || (l->ev->finishers[f].kind == PW_OVEN && l->ev->finishers[f].temp_c >= PW_REHEAT_OVEN_C);
  return has_oven && l->ev->cuts[lot->cut].may_chill && !lot->is_day_before;
}

static double bulk_m2(const struct list *l, int c)
{
  const struct pw_lot *lot = &l->plan->lots.lots[c];
  return lot->pieces * lot->footprint_length_m * lot->footprint_width_m;
}

/* Longest time from the load to the end of cooking, anywhere. */
static int longest_cook_min(const struct list *l, const struct pw_lot *lot)
{
  int longest = 0;
  for (int z = 0; z < l->plan->lots.n_zones; z++)
    for (int s = 0; s < l->ev->pits[l->plan->lots.zones[z].pit].n_settings; s++) {
      int finish = lot->has_finish ? lot->finish_min[z][s] : 0;
      if (lot->smoke_min[z][s] > 0 && finish >= 0 && lot->smoke_min[z][s] + finish > longest)
        longest = lot->smoke_min[z][s] + finish;
    }
  return longest;
}

/* Somebody with one of the duties is there all the while. */
static bool is_manned(const struct pw_event *ev, unsigned duties, int from, int to)
{
  for (int at = from; at < to; at += ev->slot_min) {
    bool is_there = false;
    for (int k = 0; k < ev->n_crew; k++)
      is_there = is_there || ((ev->crew[k].duties & duties) && ev->crew[k].from_at_min <= at &&
                              ev->crew[k].to_at_min >= at + ev->slot_min);
    if (!is_there)
      return false;
  }
  return true;
}

static void add_day_before(struct list *l, int c)
{
  const struct pw_event *ev = l->ev;
  const struct pw_lot *lot = &l->plan->lots.lots[c];
  const struct pw_service *service = &ev->services[lot->service];
  struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
  pw_way_lines_add(&text, "services:\n  - id: %s\n    menu:\n", service->id);
  const char *dish = NULL;
  for (int m = 0; m < service->n_menu; m++)
    if (ev->dishes[service->menu[m].dish].cut == lot->cut) {
      dish = ev->dishes[service->menu[m].dish].id;
      pw_way_lines_add(&text, "      - {dish: %s, cook: day_before}\n", dish);
    }
  int by = pw_day_before_chill_by(ev, lot->service), cook = longest_pit_shift(ev);
  int lead = 0;
  for (int p = 0; p < ev->n_pits; p++)
    lead = ev->pits[p].ready_min > lead ? ev->pits[p].ready_min : lead;
  int from = by - lot->rest_min - longest_cook_min(l, lot) - PW_DAY_BEFORE_WINDOW_MIN / 2 - lead;
  bool is_shift =
      cook != PW_NONE && !is_manned(ev, 1u << PW_DUTY_PIT, by - lot->rest_min - PW_DAY_BEFORE_WINDOW_MIN / 2, by);
  int iced = by + ICE_WATER_MIN, cold = by + COLD_READ_MIN;
  bool is_watch = cook != PW_NONE && !is_manned(ev, (1u << PW_DUTY__COUNT) - 1, iced, cold);
  if (is_shift || is_watch)
    pw_way_lines_add(&text, "crew:\n");
  if (is_shift) {
    struct pw_crew hand = ev->crew[cook];
    hand.count = 1;
    hand.guests_per_hand = 0;
    hand.to_at_min = iced;
    hand.from_at_min = (int)fmax(from, hand.to_at_min - DAY_MIN);
    pw_way_lines_crew(&text, &hand);
  }
  if (is_watch) { /* another: the cook may have been up all night, and the readings at 2 and at 6 h have to be taken */
    struct pw_crew hand = ev->crew[cook];
    hand.count = 1;
    hand.guests_per_hand = 0;
    hand.from_at_min = iced;
    hand.to_at_min = cold;
    pw_way_lines_crew(&text, &hand);
  }
  add(l,
      (struct pw_way){
          .part = {PW_WAY_DAY_BEFORE, dish, false},
          .what = pw_arena_printf(
              l->ctx->arena,
              "cook %s for %s the day before, chill it (%s to %s in 2 h, to %s in 6 h in all) and reheat it to %s "
              "within 2 h (FDA Food Code 2022 3-501.14, 3-403.11)%s",
              ev->cuts[lot->cut].name, service->name, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s,
              pw_format_temp(ev->units, PW_FOOD_CODE_COOL_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s,
              pw_format_temp(ev->units, PW_FOOD_CODE_REHEAT_C).s,
              is_shift && is_watch
                  ? ", with a shift of the pit crew on that day and one to watch it cool (their pay is in this figure)"
              : is_shift ? ", with a shift of the pit crew on that day (its pay is in this figure)"
              : is_watch ? ", with a shift to watch it cool (its pay is in this figure)"
                         : ""),
          .lines = pw_way_lines_text(&text),
          .service = lot->service,
          .copy_of = PW_NONE});
}

/* The bulkiest that may be chilled: away, they leave racks to what must be cooked on the day. */
static void add_days_before(struct list *l)
{
  int n_lots = l->plan->lots.n_lots;
  for (int c = 0, n = 0; c < n_lots && n < DAY_BEFORE_MOST; c++) {
    int n_bulkier = 0;
    if (!may_be_day_before(l, c))
      continue;
    for (int k = 0; k < n_lots; k++)
      n_bulkier +=
          may_be_day_before(l, k) && (bulk_m2(l, k) > bulk_m2(l, c) || (bulk_m2(l, k) == bulk_m2(l, c) && k < c));
    if (n_bulkier >= DAY_BEFORE_MOST)
      continue;
    add_day_before(l, c);
    n++;
  }
}

/* ---- sittings ---------------------------------------------------------------------------------------- */

/* Half of the guests sit down when the others are done: what is cooked twice needs half the racks.  Only where heads stay the same
 * number by it, and nothing else hangs on the service. */
static void add_sitting(struct list *l, int s)
{
  const struct pw_event *ev = l->ev;
  const struct pw_service *service = &ev->services[s];
  bool is_sum = ev->is_head_count_sum;
  int all = 0;
  for (int k = 0; k < ev->n_classes; k++)
    all += service->guests[k];
  if ((!is_sum && ev->n_services > 1) || ev->choices || ev->use_services || all < 2)
    return;
  int at = service->at_min + service->length_min, until = at + service->length_min;
  const char *id = pw_arena_printf(l->ctx->arena, "%s-later", service->id);
  for (int k = 0; k < ev->n_services && id; k++)
    if (strcmp(ev->services[k].id, id) == 0)
      return;
  struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
  if (!is_sum)
    pw_way_lines_add(&text, "event: {head_count: all-services}\n");
  pw_way_lines_add(&text, "services:\n  - id: %s\n    guests: {", service->id);
  for (int k = 0; k < ev->n_classes; k++)
    pw_way_lines_add(&text, "%s%s: %d", k ? ", " : "", ev->classes[k].id, (service->guests[k] + 1) / 2);
  pw_way_lines_add(&text, "}\n");
  pw_way_lines_service(&text, service, id ? id : "?", at);
  bool is_staffed = true; /* whoever is there at the end of the meal stays for the second */
  for (int k = 0; k < ev->n_crew; k++) {
    struct pw_crew hand = ev->crew[k];
    if (hand.from_at_min >= service->at_min + service->length_min ||
        hand.to_at_min < service->at_min + service->length_min || hand.to_at_min >= until)
      continue;
    if (is_staffed)
      pw_way_lines_add(&text, "crew:\n");
    is_staffed = false;
    hand.from_at_min = hand.to_at_min;
    hand.to_at_min = hand.from_at_min + service->length_min;
    pw_way_lines_crew(&text, &hand);
  }
  add(l, (struct pw_way){.part = {PW_WAY_SITTING, id, true},
                         .what = pw_arena_printf(l->ctx->arena, "serve %s in two sittings, half of the guests at %s%s",
                                                 service->name, pw_way_clock(&text, at),
                                                 is_staffed ? "" : " (the crew stays on; its pay is in this figure)"),
                         .lines = pw_way_lines_text(&text),
                         .service = s,
                         .copy_of = PW_NONE});
}

/* ---- waves ------------------------------------------------------------------------------------------- */

/* What is short, cooked in `times` as many waves and one more: a spot is used again for the guests who eat later. */
static void add_waves(struct list *l, int s, int times)
{
  const struct pw_event *ev = l->ev;
  const struct pw_service *service = &ev->services[s];
  struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
  const char *what = pw_arena_printf(l->ctx->arena, "cook for %s in more waves over its %s:", service->name,
                                     pw_format_minutes(service->length_min).s),
             *first = NULL;
  pw_way_lines_add(&text, "services:\n  - id: %s\n    menu:\n", service->id);
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_dish *dish = &ev->dishes[service->menu[m].dish];
    int short_of = 0, n_waves = 1;
    for (int c = 0; c < l->plan->lots.n_lots && dish->cut != PW_NONE; c++) {
      const struct pw_lot *lot = &l->plan->lots.lots[c];
      if (lot->service == s && lot->cut == dish->cut && !lot->is_day_before) {
        short_of += missed(l, c);
        n_waves = lot->n_waves > n_waves ? lot->n_waves : n_waves;
      }
    }
    int n = n_waves * times + 1;
    if (short_of == 0 || n > WAVES_MOST)
      continue;
    pw_way_lines_add(&text, "      - {dish: %s, waves: %d}\n", dish->id, n);
    what = pw_arena_printf(l->ctx->arena, "%s%s %s in %d", what ? what : "", first ? "," : "", dish->name, n);
    first = first ? first : dish->id;
  }
  if (first)
    add(l, (struct pw_way){.part = {PW_WAY_WAVES, first, false},
                           .what = what,
                           .lines = pw_way_lines_text(&text),
                           .service = s,
                           .copy_of = PW_NONE});
}

/* ---- portions ---------------------------------------------------------------------------------------- */

/* Dishes by weight that are short, served as small as what there is allows. */
static void add_portions(struct list *l, int s)
{
  const struct pw_event *ev = l->ev;
  const struct pw_service *service = &ev->services[s];
  struct pw_way_lines text = pw_way_lines_open(ev, l->ctx);
  const char *what = pw_arena_printf(l->ctx->arena, "smaller portions for %s:", service->name), *first = NULL;
  bool has_joint = ev->choices && ev->choices[s].total_kg > 0; /* then no dish has a portion of its own */
  pw_way_lines_add(&text, "services:\n  - id: %s\n    menu:\n", service->id);
  for (int c = 0; c < l->plan->lots.n_lots && !has_joint; c++) {
    const struct pw_lot *lot = &l->plan->lots.lots[c];
    if (lot->service != s || missed(l, c) == 0)
      continue;
    double frac = fmax((double)(lot->pieces - missed(l, c)) / lot->pieces, PORTION_LEAST_FRAC);
    for (int m = 0; m < service->n_menu; m++) {
      const struct pw_menu_line *line = &service->menu[m];
      const struct pw_dish *dish = &ev->dishes[line->dish];
      double kg = floor(line->portion_kg * frac / PORTION_STEP_KG) * PORTION_STEP_KG;
      if (dish->cut != lot->cut || dish->is_by_count || !(kg > 0) || kg >= line->portion_kg)
        continue;
      pw_way_lines_add(&text, "      - {dish: %s, portion: %s g}\n", dish->id, pw_format_number(kg * 1000, 0).s);
      what = pw_arena_printf(l->ctx->arena, "%s%s %s %s in place of %s", what ? what : "", first ? "," : "", dish->name,
                             pw_format_weight(ev->units, kg).s, pw_format_weight(ev->units, line->portion_kg).s);
      first = dish->id;
    }
  }
  if (first)
    add(l, (struct pw_way){.part = {PW_WAY_PORTION, first, false},
                           .what = what,
                           .lines = pw_way_lines_text(&text),
                           .service = s,
                           .copy_of = PW_NONE});
}

/* ---- all --------------------------------------------------------------------------------------------- */

static bool is_short(const struct list *l, int s)
{
  for (int c = 0; c < l->plan->lots.n_lots; c++)
    if (l->plan->lots.lots[c].service == s && missed(l, c) > 0)
      return true;
  return false;
}

/* What is at one place or one after the other: more places first where they are to blame, else more time. */
static void add_places(struct list *l)
{
  add_pits(l);
  add_rooms(l, PW_OVEN);
  if (l->ev->source)
    add_trays(l);
}

static void add_meals(struct list *l)
{
  if (!l->ev->source) /* of several files none knows the others' services and dishes */
    return;
  add_days_before(l);
  for (int s = 0; s < l->ev->n_services; s++)
    if (is_short(l, s)) {
      add_sitting(l, s);
      if (!l->is_late)
        add_portions(l, s);
      for (int times = 1; times <= (l->is_late ? 1 : 2); times++)
        add_waves(l, s, times);
    }
}

static void add_for_room(struct list *l)
{
  add_rooms(l, PW_HOLD);
  add_rooms(l, PW_OVEN);
  add_pits(l);
  if (l->ev->source)
    add_trays(l);
  add_hands(l);
  add_meals(l);
}

static void add_for_time(struct list *l)
{
  bool is_spot = blame_of_all(l, PW_BLAME_SPOT) > blame_of_all(l, PW_BLAME_OWN);
  if (is_spot)
    add_places(l);
  add_early_hand(l);
  add_rooms(l, PW_HOLD);
  if (!is_spot)
    add_places(l);
  add_hands(l);
  add_meals(l);
}

pw_status pw_way_list_make(struct pw_way **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct list l = {.plan = plan, .ev = plan->event, .ctx = ctx, .is_late = plan->allocation.n_missed == 0};
  size_t most = (size_t)l.ev->n_pits + (size_t)l.ev->n_catalog_pits * PIT_COPIES + 4 * (size_t)l.ev->n_services +
                DAY_BEFORE_MOST + TRAYS_MOST + 7;
  *n = 0;
  l.ways = *out = pw_arena_array(ctx->arena, most, sizeof *l.ways);
  if (!l.ways || !find_lacking(&l))
    return PW_ERR_MEMORY;
  if (l.is_late)
    add_for_time(&l);
  else
    add_for_room(&l);
  for (int i = 0; i < l.n; i++)
    if (!l.ways[i].what || !l.ways[i].lines)
      return PW_ERR_MEMORY;
  *n = l.n;
  return PW_OK;
}

bool pw_ways_agree(const struct pw_way *a, const struct pw_way *b)
{
  if (a->part.kind != b->part.kind)
    return a->service == PW_NONE || b->service == PW_NONE || a->service != b->service ||
           (a->part.kind != PW_WAY_SITTING &&
            b->part.kind != PW_WAY_SITTING); /* the second sitting has its menu written out */
  return a->part.kind == PW_WAY_PIT || a->part.kind == PW_WAY_TRAY || a->part.kind == PW_WAY_DAY_BEFORE ||
         (a->part.kind == PW_WAY_PORTION && a->service != b->service) ||
         (a->part.kind == PW_WAY_SITTING && a->service != b->service);
}
