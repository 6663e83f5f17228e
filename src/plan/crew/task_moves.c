/* task_moves.c - what happens to the meat [S1]: load, wrap, carry, take off and rest, hold, cut, and the core temperatures read in
 * ovens and boxes; those read at a pit stand in its visits (task_visits.c).
 * In: allocation.loads with the pieces each carries.  Out: drafts.
 * Every piece is followed through its loads; pieces of one lot that do the same thing at the same minute between the
 * same places become one task. */
#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/crew/task_list.h"
#include "plan/lots/cuttings.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* Minutes of hands that no catalog entry holds: common practice, no source. */
enum { CORE_WORK_MIN = 3, HOLD_CHECK_WORK_MIN = 3 };
enum {
  CARVE_BEFORE_MIN = 60,   /* carving begins so long before the service; common practice, no source */
  CARVE_LONGEST_MIN = 180, /* ... and where the knives have more to do, at most so long; common practice, no source */
  CORE_BEFORE_MIN = 30,    /* core read so long before a stage is planned to end; common practice, no source */
  HOLD_CHECK_BEFORE_CUT_MIN = 10, /* common practice, no source */
  SLIP_MIN = 30,            /* a stage change waits so long for free hands: half of the coarsest step of the grid */
  REST_SHOWN_FROM_MIN = 15, /* a shorter rest is part of taking off; common practice, no source */
  SHARE_MIN = 20            /* a stage change on many pieces is shared out beyond this; common practice, no source */
};

enum step { STEP_LOAD, STEP_WRAP, STEP_OFF, STEP_HOLD, STEP_TABLE };

/** One piece at one change: from a load (or the kitchen) to a load (or the table). */
struct change {
  int lot, piece, at, from, to; /* loads, or PW_NONE */
  enum step step;
  int from_place, to_place; /* pit, or n_pits + finisher, or PW_NONE */
  bool is_same_zone;
};

/* The zone a load begins in: carried on later, it began elsewhere. */
static int first_zone(const struct pw_load *l) { return l->is_carried ? l->from_zone : l->zone; }

static int place_of(const struct pw_task_list *list, int load)
{
  if (load == PW_NONE)
    return PW_NONE;
  const struct pw_load *l = &list->plan->allocation.loads[load];
  if (l->zone != PW_NONE)
    return list->plan->lots.zones[l->zone].pit;
  return l->finisher == PW_NONE ? PW_NONE : list->ev->n_pits + l->finisher;
}

static int by_change(const void *a, const void *b)
{
  const struct change *x = a, *y = b;
  const int keys[][2] = {{x->lot, y->lot},
                         {x->step, y->step},
                         {x->at, y->at},
                         {x->from_place, y->from_place},
                         {x->to_place, y->to_place},
                         {x->is_same_zone, y->is_same_zone},
                         {x->from, y->from},
                         {x->to, y->to},
                         {x->piece, y->piece}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

static bool is_one_task(const struct change *x, const struct change *y)
{
  return x->lot == y->lot && x->step == y->step && x->at == y->at && x->from_place == y->from_place &&
         x->to_place == y->to_place && x->is_same_zone == y->is_same_zone;
}

/* Words for where a group comes from or goes to. */
static const char *place_words(struct pw_task_list *list, const struct change *group, int n, bool is_to)
{
  int place = is_to ? group[0].to_place : group[0].from_place;
  if (place == PW_NONE)
    return is_to ? "covered, out of the wind" : "kitchen";
  if (place >= list->ev->n_pits)
    return list->ev->finishers[place - list->ev->n_pits].name;
  int *loads = pw_arena_array(list->ctx->arena, (size_t)n, sizeof *loads), n_loads = 0;
  if (!loads) {
    list->failed = true;
    return "";
  }
  for (int i = 0; i < n; i++) {
    int load = is_to ? group[i].to : group[i].from;
    if (n_loads == 0 || loads[n_loads - 1] != load)
      loads[n_loads++] = load;
  }
  return pw_task_where(list, loads, n_loads);
}

static int pit_of(const struct pw_task_list *list, const struct change *c)
{
  int place = c->from_place != PW_NONE && c->from_place < list->ev->n_pits ? c->from_place : c->to_place;
  return place != PW_NONE && place < list->ev->n_pits ? place : PW_NONE;
}

/* The pieces of a group. */
static int *ids_of(struct pw_task_list *list, const struct change *group, int n)
{
  int *ids = pw_task_ints(list, NULL, n);
  for (int i = 0; ids && i < n; i++)
    ids[i] = group[i].piece;
  return ids;
}

/* A draft that begins exactly at its minute, on n pieces. */
static struct pw_draft fixed(struct pw_task_list *list, enum pw_task_kind kind, int chain, const struct change *group,
                             int n, double work_min)
{
  struct pw_draft d = pw_task_blank(kind, PW_DUTY_PIT, PW_RANK_PIT, PW_AT_SITE);
  d.first_at_min = d.last_at_min = group->at;
  d.slip_min = SLIP_MIN;
  d.work_min = work_min;
  d.block_min = SHARE_MIN;
  d.lot = group->lot;
  d.pieces = n;
  d.ids = ids_of(list, group, n);
  d.n_ids = n;
  d.chain = chain;
  d.service = list->plan->lots.lots[group->lot].service;
  return d;
}

/* The draft puts the group's pieces into their next load, takes them out of the last. */
static void handle(struct pw_task_list *list, const struct change *group, int n, int draft, bool puts_in,
                   bool takes_out)
{
  const struct pw_handled *h = &list->handled;
  for (int i = 0; i < n && draft != PW_NONE; i++)
    for (int side = 0; side < 2; side++) {
      int load = side == 0 ? group[i].to : group[i].from;
      if (load == PW_NONE || !(side == 0 ? puts_in : takes_out))
        continue;
      const struct pw_load *l = &list->plan->allocation.loads[load];
      for (int k = 0; k < l->pieces; k++)
        if (l->piece_ids[k] == group[i].piece)
          (side == 0 ? h->puts_in : h->takes_out)[h->offset[load] + k] = draft;
    }
}

/* Reads of a probe: some minutes either way do no harm, but never after the stage has ended. */
static struct pw_draft check(struct pw_task_list *list, enum pw_task_kind kind, int chain, const struct change *group,
                             int n, int at, const char *verb, double work_min)
{
  struct pw_draft d = fixed(list, kind, chain, group, n, work_min);
  d.pieces = 0;
  d.rank = PW_RANK_CHECK;
  d.slip_min = 0;
  d.first_at_min = at - 15;
  d.last_at_min = at + 15;
  d.is_late = true;
  d.verb = verb;
  return d;
}

/* Temperature where a group is laid, under the setting that burns then. */
static const char *grate_words(struct pw_task_list *list, const struct change *g, int n)
{
  if (g->to_place >= list->ev->n_pits) /* an oven, on a day without its fire */
    return pw_task_words(list, "at %s", pw_task_temp(list, list->ev->finishers[g->to_place - list->ev->n_pits].temp_c));
  const char *fire = list->ev->pits[g->to_place].is_over_coals ? "grey coals, no flame" : "clean fire";
  const struct pw_allocation *al = &list->plan->allocation;
  int setting = 0;
  for (int b = 0; b < al->n_burns; b++)
    if (al->burns[b].pit == g->to_place && al->burns[b].lit_at_min <= g->at && g->at < al->burns[b].out_at_min)
      setting = al->burns[b].setting;
  double low = HUGE_VAL, high = -HUGE_VAL;
  for (int i = 0; i < n; i++) {
    double c = list->plan->lots.zones[first_zone(&al->loads[g[i].to])].temp_c[setting];
    low = fmin(low, c);
    high = fmax(high, c);
  }
  if (high - low < 1)
    return pw_task_words(list, "%s, about %s at the grate", fire, pw_task_temp(list, high));
  return pw_task_words(list, "%s, %s to %s at the grate", fire, pw_task_temp(list, low), pw_task_temp(list, high));
}

/* How long the pieces of a group lie over coals, and from turn to turn: the shortest and the longest of the places they lie in. */
static const char *coals_words(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_allocation *al = &list->plan->allocation;
  const struct pw_lot *lot = &list->plan->lots.lots[g->lot];
  int setting = 0;
  double least = HUGE_VAL, most = 0, turn = HUGE_VAL;
  for (int b = 0; b < al->n_burns; b++)
    if (al->burns[b].pit == g->to_place && al->burns[b].lit_at_min <= g->at && g->at < al->burns[b].out_at_min)
      setting = al->burns[b].setting;
  for (int i = 0; i < n; i++) {
    int zone = al->loads[g[i].to].zone;
    least = fmin(least, lot->coals_min[zone][setting]);
    most = fmax(most, lot->coals_min[zone][setting]);
    turn = fmin(turn, lot->coals_turn_min[zone][setting]);
  }
  int from = (int)floor(least), to = (int)ceil(most);
  const char *each =
      from < to ? pw_task_words(list, "%d to %d min each", from, to) : pw_task_words(list, "%d min each", to);
  return turn > 0 ? pw_task_words(list, "%s, turned every %s min", each, pw_format_number(turn, 1).s)
                  : pw_task_words(list, "%s, rolled about all the time", each);
}

/* Turning, between laying on and taking off: a must. */
static void turn_group(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_cut *cut = &list->ev->cuts[list->plan->lots.lots[g->lot].cut];
  int times = cut->smoke.turns > 0 ? cut->smoke.turns : 1, end = list->plan->allocation.loads[g->to].end_at_min;
  struct pw_draft d = fixed(list, PW_TASK_TURN, PW_CHAIN_TURN, g, n, n * cut->turn_min * times);
  if (d.work_min <= 0)
    return;
  d.last_at_min = end - 1 > g->at ? end - 1 : g->at;
  d.pit = d.place = g->to_place;
  d.verb = cut->smoke.turns > 0 ? "Turn" : "Roll about";
  d.noun = pw_task_noun(list, g->lot);
  d.where = place_words(list, g, n, true);
  d.target =
      pw_task_words(list,
                    "%s; off at %s inside as each is done, do not wait for the clock; fat that flares: move it to a "
                    "cooler spot, no water",
                    coals_words(list, g, n), pw_task_temp(list, fmax(cut->smoke.to_c, cut->serve_core_c)));
  pw_task_draft(list, d);
}

/* What comes out of an oven is read before; on a pit that is done in a visit. */
static void probe_in_oven(struct pw_task_list *list, const struct change *g, int n, const char *where)
{
  const struct pw_cut *cut = &list->ev->cuts[list->plan->lots.lots[g->lot].cut];
  const struct pw_load *l = &list->plan->allocation.loads[g->to];
  int place = place_of(list, g->to);
  if (place == PW_NONE || place < list->ev->n_pits || l->end_at_min - g->at <= CORE_BEFORE_MIN)
    return;
  struct pw_draft c = check(list, PW_TASK_PROBE, PW_CHAIN_PROBE, g, n, l->end_at_min - CORE_BEFORE_MIN,
                            pw_task_words(list, "Probe %s", pw_task_noun(list, g->lot)), CORE_WORK_MIN);
  c.place = place;
  c.where = where;
  c.target = pw_task_probe_target(list, cut);
  pw_task_draft(list, c);
}

static void load_group(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_cut *cut = &list->ev->cuts[list->plan->lots.lots[g->lot].cut];
  const char *noun = pw_task_noun(list, g->lot), *where = place_words(list, g, n, true);
  struct pw_draft d = fixed(list, PW_TASK_LOAD, PW_CHAIN_LOAD, g, n, n * cut->load_min);
  d.place = d.to_place = g->to_place;
  d.pit = g->to_place < list->ev->n_pits ? g->to_place : PW_NONE;
  d.visit = pw_task_visit(list, d.pit, g->at);
  d.verb = "Load";
  d.noun = noun;
  d.where = where;
  d.target = grate_words(list, g, n);
  if (cut->smoke.is_over_coals)
    d.target = pw_task_words(list, "%s; %s", d.target, coals_words(list, g, n));
  int drips = 0;
  for (int i = 0; i < n; i++)
    if (list->plan->allocation.loads[g[i].to].drips_min > drips)
      drips = list->plan->allocation.loads[g[i].to].drips_min;
  if (drips > 0) /* FDA Food Code 2022 3-302.11(A) [H2] */
    d.target = pw_task_words(list, "%s; nothing below these until %s but what the plan puts there", d.target,
                             pw_when_clock(list->ev, g->at + drips).s);
  handle(list, g, n, pw_task_draft(list, d), true, false);
  if (cut->smoke.is_over_coals)
    turn_group(list, g, n);
  if (!list->plan->allocation.loads[g->to].is_carried) /* what is carried on is read where it ends */
    probe_in_oven(list, g, n, where);
}

static void wrap_group(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_cut *cut = &list->ev->cuts[list->plan->lots.lots[g->lot].cut];
  const char *noun = pw_task_noun(list, g->lot), *from = place_words(list, g, n, false);
  const char *to = place_words(list, g, n, true);
  bool is_moved = !g->is_same_zone, is_wrapped = cut->wrap_min > 0;
  if (is_wrapped || is_moved) {
    enum pw_task_kind kind = !is_moved ? PW_TASK_WRAP : is_wrapped ? PW_TASK_WRAP_CARRY : PW_TASK_CARRY;
    struct pw_draft d =
        fixed(list, kind, PW_CHAIN_WRAP, g, n, n * (cut->wrap_min + (is_moved ? cut->unload_min + cut->load_min : 0)));
    d.pit = pit_of(list, g);
    d.visit = pw_task_visit(list, d.pit, g->at);
    d.place = g->from_place;
    d.to_place = g->to_place;
    d.verb = !is_moved ? "Wrap" : is_wrapped ? "Wrap and carry" : "Carry";
    d.noun = noun;
    d.where = is_moved ? pw_task_words(list, "%s to %s", from, to) : from;
    d.target = pw_task_words(list, "core near %s, rub set%s", pw_task_temp(list, cut->smoke.to_c),
                             is_moved && is_wrapped ? "; seam up, nothing stacked" : "");
    handle(list, g, n, pw_task_draft(list, d), true, true);
  }
  probe_in_oven(list, g, n, to);
}

static void off_group(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_lot *lot = &list->plan->lots.lots[g->lot];
  const struct pw_cut *cut = &list->ev->cuts[lot->cut];
  struct pw_draft d = fixed(list, PW_TASK_OFF, PW_CHAIN_OFF, g, n, n * cut->unload_min);
  d.pit = pit_of(list, g);
  d.visit = pw_task_visit(list, d.pit, g->at);
  d.place = g->from_place;
  d.to_place = g->to_place;
  d.verb = lot->rest_min > 0 && g->to != PW_NONE ? "Take off and rest" : "Take off";
  d.noun = pw_task_noun(list, g->lot);
  const char *from = place_words(list, g, n, false);
  d.where = g->to_place == PW_NONE ? from : pw_task_words(list, "%s to %s", from, place_words(list, g, n, true));
  d.target = pw_task_words(list, "core at least %s", pw_task_temp(list, cut->serve_core_c));
  if (lot->rest_min > 0)
    d.target = pw_task_words(list, "%s; rest %s or more", d.target, pw_format_minutes(lot->rest_min).s);
  if (lot->rest_min < REST_SHOWN_FROM_MIN && g->to != PW_NONE)
    d.target = pw_task_words(list, "%s, then hold at %s or more, no longer than %s", d.target,
                             pw_task_temp(list, PW_FOOD_CODE_HOT_C), pw_format_minutes(cut->hold_max_min).s);
  handle(list, g, n, pw_task_draft(list, d), false, true);
}

/** Is everything of this cut pulled or chopped for the service?  That keeps hot in its pan; slices dry. */
static bool is_pulled(const struct pw_task_list *list, const struct pw_lot *lot)
{
  const struct pw_service *service = &list->ev->services[lot->service];
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_dish *dish = &list->ev->dishes[service->menu[m].dish];
    if (dish->cut == lot->cut && dish->form != PW_FORM_PULLED && dish->form != PW_FORM_CHOPPED)
      return false;
  }
  return true;
}

/** From when on pieces of a lot may be cut once they are rested: an hour before its wave; pulled meat sooner where one pair of hands
 *  has more than an hour's work before the service begins. */
static int cut_from_min(const struct pw_task_list *list, int lot_index)
{
  const struct pw_lot *lot = &list->plan->lots.lots[lot_index];
  const struct pw_service *service = &list->ev->services[lot->service];
  bool is_all = service->style == PW_PLATED || service->style == PW_BOXED || service->style == PW_DROP_OFF;
  double work_min = lot->pieces * list->ev->cuts[lot->cut].carve_min * (is_all ? 1.0 : 0.5);
  int before_min = CARVE_BEFORE_MIN;
  if (is_pulled(list, lot) && work_min > before_min)
    before_min = work_min < CARVE_LONGEST_MIN ? (int)ceil(work_min) : CARVE_LONGEST_MIN;
  return lot->by_at_min - before_min;
}

static void hold_group(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_lot *lot = &list->plan->lots.lots[g->lot];
  const struct pw_cut *cut = &list->ev->cuts[lot->cut];
  int start = list->plan->allocation.loads[g->to].start_at_min;
  bool is_straight =
      g->from != PW_NONE && list->plan->allocation.loads[g->from].stage <= PW_LOAD_FINISH; /* taking off put it there */
  bool is_moved = !is_straight && g->from_place != g->to_place,
       is_said = is_moved || (!is_straight && lot->rest_min >= REST_SHOWN_FROM_MIN);
  const char *noun = pw_task_noun(list, g->lot), *where = place_words(list, g, n, true);
  struct pw_draft d =
      fixed(list, PW_TASK_REST_OVER, PW_CHAIN_REST_OVER, g, n, is_moved ? n * cut->load_min : CORE_WORK_MIN);
  d.place = is_moved ? g->from_place : g->to_place;
  d.to_place = is_moved ? g->to_place : PW_NONE;
  d.verb = is_moved ? "Into the hold:" : "Rest is over, now holding:";
  d.noun = noun;
  d.where = where;
  d.target = pw_task_words(list, "%s or more inside every piece; no longer than %s",
                           pw_task_temp(list, PW_FOOD_CODE_HOT_C), pw_format_minutes(cut->hold_max_min).s);
  if (is_said)
    pw_task_draft(list, d);
  /* read back from the minute it may be cut: what is cut is not read any more */
  int cut_from = cut_from_min(list, g->lot);
  int first = lot->is_day_before ? start : cut_from - HOLD_CHECK_WORK_MIN - HOLD_CHECK_BEFORE_CUT_MIN;
  while (!lot->is_day_before && first - PW_HOLD_CHECK_EVERY_MIN > start)
    first -= PW_HOLD_CHECK_EVERY_MIN;
  for (int at = first; !lot->is_day_before && at < cut_from; at += PW_HOLD_CHECK_EVERY_MIN) {
    if (at < start + HOLD_CHECK_WORK_MIN)
      continue;
    const char *verb = pw_task_words(list, "Holding temperature of %s", noun);
    struct pw_draft c = check(list, PW_TASK_HOLD_CHECK, PW_CHAIN_HOLD_CHECK, g, n, at, verb, HOLD_CHECK_WORK_MIN);
    c.last_at_min = at; /* not later than the interval says */
    c.also = 1u << PW_DUTY_CARVE | 1u << PW_DUTY_SERVE;
    c.place = g->to_place;
    c.where = where;
    c.target =
        pw_task_words(list,
                      "%s or more; below it for over 4 h or nobody knows how long: throw it away; else %s within "
                      "2 h", /* FDA Food Code 2022 3-501.19(B), 3-403.11(D) */
                      pw_task_temp(list, PW_FOOD_CODE_HOT_C), pw_task_temp(list, PW_FOOD_CODE_REHEAT_C));
    pw_task_draft(list, c);
  }
}

static const char *carve_verb(const struct pw_task_list *list, const struct pw_service *service, int cut)
{
  static const char *const verbs[] = {[PW_FORM_SLICED] = "Slice",
                                      [PW_FORM_PULLED] = "Pull",
                                      [PW_FORM_CHOPPED] = "Chop",
                                      [PW_FORM_WHOLE] = "Portion",
                                      [PW_FORM_SPOONED] = "Dish up"};
  const char *verb = NULL;
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_dish *dish = &list->ev->dishes[service->menu[m].dish];
    if (dish->cut != cut)
      continue;
    if (verb && verb != verbs[dish->form])
      return "Carve";
    verb = verbs[dish->form];
  }
  return verb ? verb : "Carve";
}

static const char *portion_words(struct pw_task_list *list, const struct pw_service *service, int cut)
{
  const char *words = "";
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_menu_line *line = &service->menu[m];
    const struct pw_dish *dish = &list->ev->dishes[line->dish];
    if (dish->cut != cut)
      continue;
    const char *size = dish->is_by_count
                           ? pw_task_words(list, "%s each", pw_format_number(line->portion_units, 1).s)
                           : pw_task_words(list, "%s a portion", pw_format_weight(list->ev->units, line->portion_kg).s);
    words = pw_task_words(list, "%s%s%s: %s", words, *words ? "; " : "", dish->name, size);
  }
  return words;
}

/* What the knives keep to beyond the size of a portion. */
static const char *cutting_words(struct pw_task_list *list, const struct pw_cutting *c, const struct pw_cut *cut)
{
  if (!c->is_in_parts)
    return "";
  return pw_task_words(
      list, "; as it is needed, the last of it not before %s: whole it stays hot, cut or dished up it keeps %s",
      pw_when_clock(list->ev, c->no_sooner_at_min).s, pw_format_minutes(cut->pan_hold_min).s);
}

/* Until when every one of n pieces is whole no longer than it may be held. */
static int whole_until_min(const struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_lot *lot = &list->plan->lots.lots[g->lot];
  int until = INT_MAX;
  for (int i = 0; i < n; i++) {
    const struct pw_load *load = &list->plan->allocation.loads[g[i].from];
    if (load->stage == PW_LOAD_HOLD && load->start_at_min + lot->hold_max_min + lot->over_min < until)
      until = load->start_at_min + lot->hold_max_min + lot->over_min;
  }
  return until;
}

/* All pieces of a lot, n of them, sorted by when they may be cut: in goes, each for its own plates. */
static void carve_lot(struct pw_task_list *list, const struct change *g, int n)
{
  const struct pw_lot *lot = &list->plan->lots.lots[g->lot];
  const struct pw_cut *cut = &list->ev->cuts[lot->cut];
  const struct pw_service *service = &list->ev->services[lot->service];
  struct pw_cutting cuttings[PW_CUTTINGS_MAX];
  if (cut->carve_min <= 0 || lot->is_day_before) /* chilled pieces are cut up cold: task_cold.c */
    return;
  int n_cuttings = pw_cuttings(cuttings, list->ev, lot, n);
  for (int i = 0, from = 0; i < n_cuttings; from += cuttings[i++].pieces) {
    const struct pw_cutting *c = &cuttings[i];
    bool is_first = i == 0 && lot->wave == 0;
    for (int a = from, b; a < from + c->pieces; a = b) { /* what is rested sooner need not wait for the rest */
      for (b = a + 1; b < from + c->pieces && g[b].at == g[a].at; b++)
        ;
      struct pw_draft d = fixed(list, PW_TASK_CUT, PW_CHAIN_CUT, g + a, b - a, (b - a) * cut->carve_min);
      int sooner = c->is_in_parts ? INT_MIN : c->no_sooner_at_min, whole = whole_until_min(list, g + a, b - a);
      if (!c->is_in_parts && cut->pan_hold_min > 0 && sooner > whole) /* the dial is not worth a minute of the hold */
        sooner = whole > c->last_min - cut->pan_hold_min ? whole : c->last_min - cut->pan_hold_min;
      d.duty = PW_DUTY_CARVE;
      d.slip_min = 0;
      d.rank = is_first ? PW_RANK_TABLE : PW_RANK_KNIVES;
      d.is_late = !is_first; /* the line needs every hand when the first guests come */
      d.first_at_min = g[a].at > sooner ? g[a].at : sooner;
      d.end_by_min = whole < c->first_min - pw_task_span(&d) ? whole + pw_task_span(&d) : c->first_min;
      d.last_at_min =
          i == 0 ? d.end_by_min - pw_task_span(&d) : d.end_by_min;   /* of a wave, the first plates wait for it */
      d.last_at_min = d.last_at_min < whole ? d.last_at_min : whole; /* later it is whole for longer than it may be */
      d.last_at_min = d.last_at_min > d.first_at_min ? d.last_at_min : d.first_at_min;
      d.is_before_service = is_first;
      d.verb = carve_verb(list, service, lot->cut);
      d.noun = pw_task_noun(list, g->lot);
      d.where = "carving table";
      d.target = pw_task_words(list, "%s%s", portion_words(list, service, lot->cut), cutting_words(list, c, cut));
      d.plates_to_min = c->last_min;
      d.is_in_parts = c->is_in_parts;
      pw_task_draft(list, d);
    }
  }
}

/* Follows every piece of a lot; `seq` holds its load in each stage. */
static int changes_of_lot(const struct pw_task_list *list, int lot, const int *seq, int n_pieces, struct change *out)
{
  const struct pw_load *loads = list->plan->allocation.loads;
  int n = 0;
  for (int i = 0; i < n_pieces; i++) {
    int prev = PW_NONE, free_at = INT_MIN;
    for (int stage = PW_LOAD_SMOKE; stage <= PW_LOAD_HOLD; stage++) {
      int load = seq[i * 4 + stage];
      if (load == PW_NONE)
        continue;
      enum step step = stage == PW_LOAD_SMOKE ? STEP_LOAD : stage == PW_LOAD_FINISH ? STEP_WRAP : STEP_OFF;
      if (stage == PW_LOAD_HOLD && prev != PW_NONE && loads[prev].stage == PW_LOAD_REST)
        step = STEP_HOLD;
      struct change c = {
          .lot = lot, .piece = i, .at = loads[load].start_at_min, .from = prev, .to = load, .step = step};
      c.from_place = place_of(list, prev);
      c.to_place = place_of(list, load);
      if (step == STEP_LOAD && loads[load].is_carried) /* on a day without its fire: it began where it was put first */
        c.to_place = loads[load].from_zone != PW_NONE ? list->plan->lots.zones[loads[load].from_zone].pit
                                                      : list->ev->n_pits + loads[load].from_finisher;
      c.is_same_zone = prev != PW_NONE && loads[prev].zone != PW_NONE && loads[prev].zone == loads[load].zone;
      out[n++] = c;
      if (step == STEP_OFF && stage == PW_LOAD_HOLD) { /* no rest: off the pit and straight into the hold */
        c.step = STEP_HOLD;
        out[n++] = c;
      }
      prev = load;
      free_at = stage == PW_LOAD_HOLD ? loads[load].start_at_min : loads[load].end_at_min;
    }
    if (prev != PW_NONE && loads[prev].stage <= PW_LOAD_FINISH) { /* neither rest nor hold: off the pit to the table */
      struct change c = {
          .lot = lot, .piece = i, .at = loads[prev].end_at_min, .from = prev, .to = PW_NONE, .step = STEP_OFF};
      c.from_place = place_of(list, prev);
      c.to_place = PW_NONE;
      out[n++] = c;
    }
    if (prev != PW_NONE) { /* cooked and rested: it may be carved from then on */
      int from = cut_from_min(list, lot);
      struct change c = {.lot = lot,
                         .piece = i,
                         .at = free_at > from ? free_at : from,
                         .from = prev,
                         .to = PW_NONE,
                         .step = STEP_TABLE};
      c.from_place = c.to_place = PW_NONE;
      out[n++] = c;
    }
  }
  return n;
}

/* Carried in the middle of a stage, as a day was mended [N3]. */
static void move_load(struct pw_task_list *list, int load)
{
  const struct pw_load *l = &list->plan->allocation.loads[load];
  const struct pw_lots *lots = &list->plan->lots;
  const struct pw_cut *cut = &list->ev->cuts[lots->lots[l->lot].cut];
  struct change *group = pw_arena_array(list->ctx->arena, (size_t)l->pieces, sizeof *group);
  if (!group) {
    list->failed = true;
    return;
  }
  for (int k = 0; k < l->pieces; k++)
    group[k] =
        (struct change){.lot = l->lot, .piece = l->piece_ids[k], .at = l->carried_at_min, .from = load, .to = load};
  struct pw_draft d =
      fixed(list, PW_TASK_MOVE, PW_CHAIN_NONE, group, l->pieces, l->pieces * (cut->unload_min + cut->load_min));
  bool is_from_pit = l->from_zone != PW_NONE;
  d.place = is_from_pit ? lots->zones[l->from_zone].pit : list->ev->n_pits + l->from_finisher;
  d.to_place = group->to_place = place_of(list, load);
  d.pit = is_from_pit ? d.place : d.to_place < list->ev->n_pits ? d.to_place : PW_NONE;
  d.verb = "Carry";
  d.noun = pw_task_noun(list, l->lot);
  d.where = pw_task_words(list, "%s to %s",
                          is_from_pit ? list->ev->pits[d.place].name : list->ev->finishers[l->from_finisher].name,
                          place_words(list, group, 1, true));
  d.target = "straight over, both lids shut at once";
  pw_task_draft(list, d);
  if (l->stage == PW_LOAD_FINISH || !lots->lots[l->lot].has_finish) /* before a wrap the core is read with it */
    probe_in_oven(list, group, l->pieces, place_words(list, group, 1, true));
}

/* Room for what handles each piece of each load. */
static bool make_handled(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  struct pw_handled *h = &list->handled;
  int n = 0;
  h->offset = pw_task_ints(list, NULL, al->n_loads);
  for (int i = 0; h->offset && i < al->n_loads; i++) {
    h->offset[i] = n;
    n += al->loads[i].pieces;
  }
  h->puts_in = pw_task_ints(list, NULL, n);
  h->takes_out = pw_task_ints(list, NULL, n);
  for (int i = 0; !list->failed && i < n; i++)
    h->puts_in[i] = h->takes_out[i] = PW_NONE;
  return !list->failed;
}

void pw_task_moves(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  if (!make_handled(list))
    return;
  for (int lot = 0; lot < list->plan->lots.n_lots && !list->failed; lot++) {
    int pieces = list->plan->lots.lots[lot].pieces;
    int *seq = pw_arena_array(list->ctx->arena, (size_t)pieces * 4, sizeof *seq);
    struct change *changes = pw_arena_array(list->ctx->arena, (size_t)pieces * 7, sizeof *changes);
    if (!seq || !changes) {
      list->failed = true;
      return;
    }
    for (int i = 0; i < pieces * 4; i++)
      seq[i] = PW_NONE;
    for (int i = 0; i < al->n_loads && !list->failed; i++)
      if (al->loads[i].lot == lot && al->loads[i].is_carried)
        move_load(list, i);
    for (int i = 0; i < al->n_loads; i++) {
      const struct pw_load *l = &al->loads[i];
      for (int k = 0; l->lot == lot && k < l->pieces; k++)
        seq[l->piece_ids[k] * 4 + (int)l->stage] = i;
    }
    int n = changes_of_lot(list, lot, seq, pieces, changes);
    qsort(changes, (size_t)n, sizeof *changes, by_change);
    for (int i = 0, j; i < n; i = j) {
      for (j = i + 1; j < n && is_one_task(&changes[i], &changes[j]); j++)
        ;
      switch (changes[i].step) {
      case STEP_LOAD:
        load_group(list, &changes[i], j - i);
        break;
      case STEP_WRAP:
        wrap_group(list, &changes[i], j - i);
        break;
      case STEP_OFF:
        off_group(list, &changes[i], j - i);
        break;
      case STEP_HOLD:
        hold_group(list, &changes[i], j - i);
        break;
      default:
        carve_lot(list, &changes[i], n - i); /* the last step of all */
        j = n;
        break;
      }
    }
  }
}
