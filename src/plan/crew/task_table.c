/* task_table.c - work away from the fire [S1]: order, take in, thaw, brine, trim, drive, set up, pan up, serve, clear, cool.
 * In: purchase list, services, first and last fire.  Out: drafts. */
#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/crew/task_list.h"
#include "plan/demand/head_count.h"
#include "plan/demand/portions.h"
#include "plan/lots/drips.h"
#include "plan/lots/pans_out.h"

#include <limits.h>
#include <math.h>
#include <string.h>

/* Minutes of hands and how long before a service: common practice, no source. */
enum {
  ORDER_WORK_MIN = 10,
  TAKE_IN_WORK_MIN = 20,
  THAW_WORK_MIN = 5,
  PIT_SET_UP_WORK_MIN = 20,
  PAN_WORK_MIN = 2,
  COOL_WORK_MIN = 15,
  COOL_CHECK_WORK_MIN = 3,
  HAND_OVER_WORK_MIN = 15,
  PREP_EARLIEST_MIN = 24 * 60,
  PREP_BEFORE_LOAD_MIN = 30,
  PREP_BLOCK_MIN = 120,
  TABLE_BLOCK_MIN = 60,
  SHARE_MOST_MIN = 120, /* setting up and clearing of more than that is shared among so many more hands */
  ARRIVE_SLACK_MIN = 30,
  SITTINGS_APART_MIN = 60,
  BUY_SLACK_MIN = 180,
  TAKE_IN_SLIP_MIN = 720,
  TAKE_IN_COLD_SLIP_MIN = 120, /* chilled and frozen goods at the door: USDA FSIS, out of refrigeration 2 h at most */
  ORDER_SLACK_MIN = 4 * 24 * 60,
  PANS_WORK_MAX_MIN = 55
};
enum { COOL_FIRST_MIN = 120, COOL_ALL_MIN = 360 }; /* FDA Food Code 2022 3-501.14(A): to 21 C in 2 h, 5 C in 6 h */

enum { ANYBODY = (1u << PW_DUTY__COUNT) - 1 };

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

static struct pw_draft draft(enum pw_task_kind kind, enum pw_duty duty, enum pw_rank rank, enum pw_at at, int first,
                             int last, double work_min)
{
  struct pw_draft d = pw_task_blank(kind, duty, rank, at);
  d.first_at_min = min_int(first, last);
  d.last_at_min = last;
  d.is_late = true;
  d.work_min = work_min;
  d.block_min = TABLE_BLOCK_MIN;
  return d;
}

static int n_shares(double work_min) { return pw_task_n_shares(work_min, SHARE_MOST_MIN); }

/* ---- buying ------------------------------------------------------------------------------------------ */

static const char *supplier_of(const struct pw_task_list *list, const struct pw_purchase_line *line)
{
  return list->ev->items[line->item].offers[line->offer].supplier;
}

static int order_at(const struct pw_purchase_line *line) { return line->order_by_at_min; }
static int deliver_at(const struct pw_purchase_line *line) { return line->deliver_at_min; }

/* What to look at when goods come in: by how they are stored (FDA Food Code 2022 3-202.11(A), (D)). */
static const char *receive(struct pw_task_list *list, unsigned stores)
{
  bool is_chilled = stores >> PW_STORE_CHILLED & 1, is_frozen = stores >> PW_STORE_FROZEN & 1;
  const char *frozen = is_frozen ? "frozen goods hard" : "";
  if (!is_chilled)
    return is_frozen ? "count; frozen goods hard; nothing torn or wet" : "count; nothing torn or wet";
  return pw_task_words(list, "count and weigh; chilled goods at %s or less%s%s",
                       pw_task_temp(list, PW_FOOD_CODE_COLD_C), is_frozen ? ", " : "", frozen);
}

/* One task for each supplier (and, for deliveries, local day): the earliest time, the first goods by name. */
static void by_supplier(struct pw_task_list *list, enum pw_task_kind kind,
                        int (*time_of)(const struct pw_purchase_line *), bool is_by_day, const char *verb,
                        double work_min, const char *target)
{
  const struct pw_purchase *p = &list->plan->purchase;
  for (int i = 0; i < p->n_lines && !list->failed; i++) {
    int day = pw_when_day_number(list->ev, time_of(&p->lines[i])), at = time_of(&p->lines[i]), n = 0, n_items = 0;
    const char *supplier = supplier_of(list, &p->lines[i]);
    bool is_first = true;
    unsigned stores = 0;
    int *items = pw_task_ints(list, NULL, p->n_lines);
    if (!items)
      return;
    for (int k = 0; k < p->n_lines; k++) {
      const struct pw_purchase_line *line = &p->lines[k];
      if (strcmp(supplier_of(list, line), supplier) != 0)
        continue;
      if (is_by_day && pw_when_day_number(list->ev, time_of(line)) != day)
        continue;
      is_first = is_first && k >= i;
      at = min_int(at, time_of(line));
      stores |= 1u << list->ev->items[line->item].store;
      bool is_named = false;
      for (int seen = 0; seen < n_items && !is_named; seen++)
        is_named = items[seen] == line->item;
      if (!is_named)
        items[n_items++] = line->item;
      n++;
    }
    if (!is_first)
      continue;
    const char *goods = list->ev->items[p->lines[i].item].name;
    struct pw_draft d = draft(kind, PW_DUTY_DRIVE, PW_RANK_BUY, PW_AT_KITCHEN,
                              at - (kind == PW_TASK_ORDER ? ORDER_SLACK_MIN : BUY_SLACK_MIN), at, work_min);
    d.also = ANYBODY;
    d.may_be_on_site = true;
    if (kind == PW_TASK_TAKE_IN)
      d.slip_min = stores & (1u << PW_STORE_CHILLED | 1u << PW_STORE_FROZEN) ? TAKE_IN_COLD_SLIP_MIN : TAKE_IN_SLIP_MIN;
    d.items = items;
    d.n_items = n_items;
    d.verb = n == 1 ? pw_task_words(list, "%s %s", verb, goods)
                    : pw_task_words(list, "%s %s and %d more", verb, goods, n - 1);
    d.where = supplier;
    d.target = target ? target : receive(list, stores);
    pw_task_draft(list, d);
  }
}

static void fuel_on_hand(struct pw_task_list *list, int first_lit)
{
  const struct pw_fuel_plan *fuel = &list->plan->fuel;
  const char *words = "Wood and charcoal on hand:";
  for (int i = 0; i < fuel->n_lines; i++)
    words = pw_task_words(list, "%s%s %s of %s", words, i ? "," : "",
                          pw_format_fuel(list->ev->units, fuel->lines[i].buy_kg).s,
                          list->ev->fuels[fuel->lines[i].fuel].name);
  if (fuel->n_lines == 0)
    return;
  struct pw_draft d = draft(PW_TASK_TAKE_IN, PW_DUTY_FIRE, PW_RANK_BUY, PW_AT_KITCHEN, first_lit - 2 * 24 * 60,
                            first_lit - TAKE_IN_WORK_MIN, TAKE_IN_WORK_MIN);
  d.also = ANYBODY;
  d.may_be_on_site = true;
  d.verb = words;
  d.is_late = false; /* by whoever is there first: there is time to get more, and the morning is for the fire */
  d.where = "wood pile";
  d.target = "dry, split, under cover; the reserve is in it";
  pw_task_draft(list, d);
}

static void thaw(struct pw_task_list *list)
{
  const struct pw_purchase *p = &list->plan->purchase;
  for (int i = 0; i < p->n_lines; i++) {
    const struct pw_purchase_line *line = &p->lines[i];
    if (line->thaw_from_at_min == INT_MIN)
      continue;
    const struct pw_item *item = &list->ev->items[line->item];
    struct pw_draft d = draft(PW_TASK_THAW, PW_DUTY_PREP, PW_RANK_BUY, PW_AT_KITCHEN, line->thaw_from_at_min - 120,
                              line->thaw_from_at_min, THAW_WORK_MIN);
    d.also = ANYBODY;
    d.items = pw_task_ints(list, &line->item, 1);
    d.n_items = 1;
    d.verb = pw_task_words(list, "Freezer to refrigerator: %s of %s",
                           pw_format_amount(list->ev->units, item->unit, line->amount).s, item->name);
    d.where = "kitchen";
    d.target = pw_task_words(list, "one layer, on trays, at %s or less", pw_task_temp(list, PW_FOOD_CODE_COLD_C));
    pw_task_draft(list, d);
  }
}

/* ---- before the fire --------------------------------------------------------------------------------- */

static const char *prep_verb(const struct pw_cut *cut)
{
  if (cut->kind == PW_KIND_PLANT || cut->kind == PW_KIND_SAUSAGE || pw_food_code_is_cooked(cut->safety))
    return "Make ready";
  return cut->kind == PW_KIND_FISH ? "Check for bones and season" : "Trim and rub";
}

/* Pieces of a lot that found a place. */
static int *placed_ids(struct pw_task_list *list, int lot, int *n)
{
  const struct pw_allocation *al = &list->plan->allocation;
  int most = list->plan->lots.lots[lot].pieces;
  int *ids = pw_task_ints(list, NULL, most), *is_placed = pw_task_ints(list, NULL, most);
  *n = 0;
  if (!ids || !is_placed)
    return NULL;
  for (int i = 0; i < most; i++)
    is_placed[i] = 0;
  for (int i = 0; i < al->n_loads; i++)
    for (int k = 0; al->loads[i].lot == lot && k < al->loads[i].pieces; k++)
      is_placed[al->loads[i].piece_ids[k]] = 1;
  for (int i = 0; i < most; i++)
    if (is_placed[i])
      ids[(*n)++] = i;
  return ids;
}

static bool is_bought(const struct pw_task_list *list, int item)
{
  for (int i = 0; i < list->plan->purchase.n_lines; i++)
    if (list->plan->purchase.lines[i].item == item)
      return true;
  return false;
}

/* The meat and what goes onto it before it goes on. */
static int *items_of_cut(struct pw_task_list *list, const struct pw_cut *cut, int *n)
{
  int *items = pw_task_ints(list, NULL, 1 + cut->n_uses);
  *n = 0;
  for (int i = -1; items && i < cut->n_uses; i++) {
    int item = i < 0 ? cut->item : cut->uses[i].item;
    if (is_bought(list, item))
      items[(*n)++] = item;
  }
  return items;
}

void pw_task_prep_place(struct pw_task_list *list, struct pw_draft *d, bool may_be_on_site)
{
  enum pw_prep_place asked = list->ev->site.prep;
  d->may_be_on_site = asked == PW_PREP_EITHER && may_be_on_site;
  if (asked != PW_PREP_SITE)
    return;
  d->at = PW_AT_SITE;
  if (list->depart_min != INT_MAX)
    d->first_at_min = max_int(d->first_at_min, list->depart_min + list->ev->site.travel_min);
  if (d->where && strncmp(d->where, "kitchen", 7) == 0)
    d->where = pw_task_words(list, "on site%s", d->where + 7);
}

/* Into the brine as soon as it is in the house, or so late that it does not lie too long.  Where nobody can do it in time it is left
 * out, and told (task_warn.c). */
static void brine(struct pw_task_list *list, const struct pw_draft *prep, int earliest, int depart)
{
  const struct pw_lot *lot = &list->plan->lots.lots[prep->lot];
  const struct pw_cut *cut = &list->ev->cuts[lot->cut];
  const struct pw_brine *b = &cut->brine;
  double work = ceil(prep->pieces * b->hands_min);
  struct pw_draft d =
      draft(PW_TASK_BRINE, PW_DUTY_PREP, PW_RANK_PREP, PW_AT_KITCHEN, max_int(earliest, prep->end_by_min - b->most_min),
            prep->end_by_min - pw_task_span(prep) - b->least_min - (int)work, work);
  d.chain = PW_CHAIN_BRINE;
  d.lies_min = b->least_min;
  d.ids = prep->ids;
  d.n_ids = prep->n_ids;
  d.items = pw_task_ints(list, (const int[]){cut->item, b->item}, 2);
  d.n_items = 2;
  d.service = prep->service;
  d.is_late = false;
  d.may_be_left_out = true;
  d.block_min = INT_MAX;
  d.lot = prep->lot;
  d.pieces = prep->pieces;
  d.verb = "Brine";
  d.noun = prep->noun;
  d.where = "kitchen";
  pw_task_prep_place(list, &d, prep->end_by_min > depart);
  d.target = pw_task_words(
      list, "stirred until clear, all of it under, lidded, %s or less; in it %s at least, %s at most",
      pw_task_temp(list, PW_FOOD_CODE_COLD_C), pw_format_minutes(b->least_min).s, pw_format_minutes(b->most_min).s);
  pw_task_draft(list, d);
}

static void prep(struct pw_task_list *list, int depart)
{
  const struct pw_plan *plan = list->plan;
  for (int lot = 0; lot < plan->lots.n_lots; lot++) {
    const struct pw_cut *cut = &list->ev->cuts[plan->lots.lots[lot].cut];
    int pieces = plan->lots.lots[lot].pieces - plan->allocation.missed[lot], first_load = INT_MAX, earliest = INT_MIN;
    for (int i = 0; i < plan->allocation.n_loads; i++)
      if (plan->allocation.loads[i].lot == lot)
        first_load = min_int(first_load, plan->allocation.loads[i].start_at_min);
    if (pieces <= 0 || first_load == INT_MAX || cut->prep_min <= 0)
      continue;
    for (int i = 0; i < plan->purchase.n_lines; i++)
      if (plan->purchase.lines[i].item == cut->item)
        earliest = max_int(earliest, plan->purchase.lines[i].deliver_at_min);
    int by = first_load - PREP_BEFORE_LOAD_MIN;
    struct pw_draft d = draft(PW_TASK_PREP, PW_DUTY_PREP, PW_RANK_PREP, PW_AT_KITCHEN,
                              max_int(earliest, by - PREP_EARLIEST_MIN), by, pieces * cut->prep_min);
    d.chain = PW_CHAIN_PREP;
    d.ids = placed_ids(list, lot, &d.n_ids);
    d.items = items_of_cut(list, cut, &d.n_items);
    d.service = plan->lots.lots[lot].service;
    d.end_by_min = by;
    d.is_late = false; /* the day before, if somebody is there for it: rub wants time, and the morning is full */
    d.block_min = PREP_BLOCK_MIN;
    d.lot = lot;
    d.pieces = d.n_ids;
    d.verb = prep_verb(cut);
    d.noun = pw_task_noun(list, lot);
    d.where = "kitchen";
    pw_task_prep_place(list, &d, by > depart);
    d.is_kept_last = pw_drips_cut_kept_last(list->ev, d.service, plan->lots.lots[lot].cut);
    d.target =
        pw_task_words(list, "%sback to %s or less until it goes on%s", cut->brine.is_used ? "patted dry first; " : "",
                      pw_task_temp(list, PW_FOOD_CODE_COLD_C), d.is_kept_last ? PW_TASK_KEPT_LAST : "");
    pw_task_draft(list, d);
    if (cut->brine.is_used && d.n_ids > 0)
      brine(list, &d, earliest, depart);
  }
}

/* Pits that go along: the event's own, and a hired one that burns. */
static int n_pits_on_job(const struct pw_task_list *list)
{
  int n = 0;
  for (int p = 0; p < list->ev->n_pits; p++) {
    bool is_there = !list->ev->pits[p].is_rentable;
    for (int b = 0; b < list->plan->allocation.n_burns; b++)
      is_there = is_there || list->plan->allocation.burns[b].pit == p;
    n += is_there;
  }
  return n;
}

static void drive_out(struct pw_task_list *list, int first_lit, int *depart)
{
  int n_pits = n_pits_on_job(list), work = PIT_SET_UP_WORK_MIN * n_pits, hands = n_shares(work);
  int set_up = (work + hands - 1) / hands, travel = list->ev->site.travel_min;
  int arrive_by = first_lit - set_up - ARRIVE_SLACK_MIN;
  struct pw_draft s =
      draft(PW_TASK_SET_UP, PW_DUTY_FIRE, PW_RANK_TABLE, PW_AT_SITE, arrive_by, first_lit - set_up, work);
  s.also = 1u << PW_DUTY_PIT | 1u << PW_DUTY_DRIVE;
  s.end_by_min = first_lit;
  s.verb = n_pits == 1 ? "Set up the pit" : "Set up the pits";
  s.where = list->ev->site.place ? list->ev->site.place : "site";
  s.target = "level ground, clear all round, extinguisher and water at hand, wind from behind";
  pw_task_draft_shared(list, s, hands);
  *depart = arrive_by - travel;
  if (travel <= 0)
    return;
  struct pw_draft d = draft(PW_TASK_DRIVE, PW_DUTY_DRIVE, PW_RANK_TABLE, PW_AT_ROAD, *depart - 60, *depart, travel);
  d.end_by_min = arrive_by;
  d.verb = "Drive to the site";
  d.where = s.where;
  d.target = pw_task_words(list, "%s, %s; hitch, lights, chains, cold boxes",
                           pw_format_distance(list->ev->units, list->ev->site.travel_m).s, pw_format_minutes(travel).s);
  pw_task_draft(list, d);
}

static int guests_of(const struct pw_task_list *list, const struct pw_service *service)
{
  int guests = 0;
  for (int g = 0; g < list->ev->n_classes; g++)
    guests += service->guests[g];
  return guests;
}

/* ---- at the table ------------------------------------------------------------------------------------- */

static const char *allergens_of(struct pw_task_list *list, const struct pw_service *service)
{
  const char *words = "";
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_dish *dish = &list->ev->dishes[service->menu[m].dish];
    for (int a = 0; a < dish->n_allergens; a++) {
      bool is_said = false;
      for (int k = 0; k <= m && !is_said; k++) {
        const struct pw_dish *before = &list->ev->dishes[service->menu[k].dish];
        for (int b = 0; b < (k < m ? before->n_allergens : a) && !is_said; b++)
          is_said = strcmp(before->allergens[b], dish->allergens[a]) == 0;
      }
      if (!is_said)
        words = pw_task_words(list, "%s%s%s", words, *words ? ", " : "", dish->allergens[a]);
    }
  }
  return words;
}

/* Goods of the dishes that no cut is in. */
static int *items_of_service(struct pw_task_list *list, const struct pw_service *service, int *n)
{
  int most = 0;
  for (int m = 0; m < service->n_menu; m++)
    most += list->ev->dishes[service->menu[m].dish].n_uses;
  int *items = pw_task_ints(list, NULL, most);
  *n = 0;
  for (int m = 0; items && m < service->n_menu; m++) {
    const struct pw_dish *dish = &list->ev->dishes[service->menu[m].dish];
    for (int u = 0; dish->cut == PW_NONE && u < dish->n_uses; u++) {
      bool is_there = !is_bought(list, dish->uses[u].item);
      for (int k = 0; k < *n && !is_there; k++)
        is_there = items[k] == dish->uses[u].item;
      if (!is_there)
        items[(*n)++] = dish->uses[u].item;
    }
  }
  return items;
}

/* What the knives are at until guests come goes into its pans as it is cut, not before: told apart on the line. */
static bool is_from_knife(const struct pw_event *ev, const struct pw_dish *dish)
{
  return dish->cut != PW_NONE && ev->cuts[dish->cut].carve_min > 0;
}

static void pan_up(struct pw_task_list *list, int s)
{
  const struct pw_service *service = &list->ev->services[s];
  const char *words[2] = {"", ""}; /* what is only filled into pans, and what is cut first */
  int pans = 0, first = 0;
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  for (int m = 0, line = 0; m < service->n_menu; m++) {
    const struct pw_dish *dish = &list->ev->dishes[service->menu[m].dish];
    while (line < list->plan->demand.n_lines && (list->plan->demand.lines[line].service != s ||
                                                 list->plan->demand.lines[line].dish != service->menu[m].dish))
      line++;
    if (dish->pan_portions <= 0 || line >= list->plan->demand.n_lines)
      continue;
    int n = pw_pans_of(list->ev, &list->plan->lots, &list->plan->demand.lines[line]);
    const char **of = &words[is_from_knife(list->ev, dish)];
    *of = pw_task_words(list, "%s%s%s %d", *of, **of ? ", " : "", dish->name, n);
    pans += n;
    if (pw_pans_out(out, list->ev, &list->plan->lots, &list->plan->demand.lines[line], n) > 0)
      first += out[0].pans;
  }
  if (pans == 0)
    return;
  struct pw_draft d = draft(PW_TASK_PAN_UP, PW_DUTY_SERVE, PW_RANK_TABLE, PW_AT_SITE, service->at_min - 60,
                            service->at_min, min_int((pans + 1) / 2 * PAN_WORK_MIN, PANS_WORK_MAX_MIN));
  d.service = s;
  d.items = items_of_service(list, service, &d.n_items);
  d.also = 1u << PW_DUTY_CARVE | 1u << PW_DUTY_PREP;
  d.end_by_min = service->at_min;
  const char *what = pw_task_words(list, "Pan up%s%s%s%s%s", *words[0] ? ": " : "", words[0],
                                   *words[0] && *words[1] ? ";" : "", *words[1] ? " as each is ready: " : "", words[1]);
  d.verb = first == pans
               ? pw_task_words(list, "%s (%d %s)", what, pans, pans == 1 ? "pan" : "pans")
               : pw_task_words(list, "%s (%d pans; %d now, the rest by the serving sheet)", what, pans, first);
  d.where = service->name;
  d.target = pw_task_words(list, "hot at %s or more, cold at %s or less", pw_task_temp(list, PW_FOOD_CODE_HOT_C),
                           pw_task_temp(list, PW_FOOD_CODE_COLD_C));
  pw_task_draft(list, d);
}

/* Hands that serve so many guests, when each looks after `each` of them. */
static int hands_for(int guests, double each) { return each > 0 ? (int)ceil(guests / each - 1e-9) : 1; }

int pw_task_servers(const struct pw_event *ev, int s, double guests_each)
{
  const struct pw_service *service = &ev->services[s];
  int guests = 0;
  for (int k = 0; k < ev->n_classes; k++)
    guests += service->guests[k];
  double each = guests_each > 0 ? guests_each : ev->styles[service->style].guests_per_hand;
  return service->style == PW_DROP_OFF ? 0 : hands_for(guests, each);
}

static void serve(struct pw_task_list *list, int s)
{
  const struct pw_service *service = &list->ev->services[s];
  int guests = guests_of(list, service), hands = 0;
  for (int c = 0; c < list->ev->n_crew; c++) {
    const struct pw_crew *crew = &list->ev->crew[c];
    if ((crew->duties >> PW_DUTY_SERVE & 1u) != 0 && crew->from_at_min <= service->at_min &&
        crew->to_at_min >= service->at_min + service->length_min)
      hands += pw_head_count_hands(list->ev, crew);
  }
  hands = min_int(hands, hands_for(guests, list->ev->styles[service->style].guests_per_hand));
  bool is_drop_off = service->style == PW_DROP_OFF;
  if (is_drop_off)
    hands = 1;
  struct pw_draft d = draft(PW_TASK_SERVE, PW_DUTY_SERVE, PW_RANK_SERVE, PW_AT_SITE, service->at_min, service->at_min,
                            is_drop_off ? HAND_OVER_WORK_MIN : service->length_min);
  d.verb = is_drop_off ? pw_task_words(list, "Hand over %s: %d guest%s", service->name, guests, guests == 1 ? "" : "s")
                       : pw_task_words(list, "Serve %s: %d guest%s", service->name, guests, guests == 1 ? "" : "s");
  d.where = list->ev->site.place ? list->ev->site.place : "site";
  const char *allergens = allergens_of(list, service);
  d.target = *allergens ? pw_task_words(list, "on show: contains %s", allergens)
                        : "what is out is hot or cold, never lukewarm";
  d.service = s;
  for (int i = 0; i < max_int(hands, 1);
       i++) { /* one for each who could; the first is a must, the others where they have time */
    d.may_be_left_out = i > 0;
    pw_task_draft(list, d);
  }
}

static bool has_hot_leftovers(const struct pw_task_list *list, int s)
{
  for (int i = 0; i < list->plan->purchase.n_raws; i++)
    if (list->plan->purchase.raws[i].service == s)
      return true;
  return false;
}

/* When the next guests sit down where these got up; INT_MAX: so late that clearing may wait its turn. */
static int next_sitting(const struct pw_event *ev, int end)
{
  int next = INT_MAX;
  for (int s = 0; s < ev->n_services; s++)
    if (ev->services[s].at_min >= end && ev->services[s].at_min < end + SITTINGS_APART_MIN)
      next = min_int(next, ev->services[s].at_min);
  return next;
}

/* When the meal before ended; INT_MIN: there is none. */
static int end_before(const struct pw_event *ev, int end)
{
  int before = INT_MIN;
  for (int s = 0; s < ev->n_services; s++) {
    int other = ev->services[s].at_min + ev->services[s].length_min;
    before = other < end ? max_int(before, other) : before;
  }
  return before;
}

/* Hands with one of these duties from minute to minute. */
static int hands_there(const struct pw_task_list *list, unsigned duties, int from_at_min, int to_at_min)
{
  int hands = 0;
  for (int c = 0; c < list->ev->n_crew; c++) {
    const struct pw_crew *crew = &list->ev->crew[c];
    if ((crew->duties & duties) && crew->from_at_min <= from_at_min && crew->to_at_min >= to_at_min)
      hands += pw_head_count_hands(list->ev, crew);
  }
  return hands;
}

static void after_service(struct pw_task_list *list, int s, bool is_last)
{
  const struct pw_service *service = &list->ev->services[s];
  const struct pw_style_work *style = &list->ev->styles[service->style];
  int end = service->at_min + service->length_min;
  unsigned hands = 1u << PW_DUTY_SERVE | 1u << PW_DUTY_CARVE | 1u << PW_DUTY_PREP;
  struct pw_draft d = draft(PW_TASK_CLEAR, PW_DUTY_CLEAN, PW_RANK_AFTER, PW_AT_SITE, end, end + 60,
                            style->clear_min + style->clear_guest_min * guests_of(list, service));
  d.service = s;
  d.also = 1u << PW_DUTY_SERVE;
  d.is_late = false;
  d.verb = pw_task_words(list, "Clear %s", service->name);
  d.where = list->ev->site.place ? list->ev->site.place : "site";
  d.target = "tables, floor, bins; count what came back";
  int shares = n_shares(d.work_min), next = next_sitting(list->ev, end);
  if (next != INT_MAX) { /* before anything else that can wait, by as many as it takes to be done in time */
    int there = hands_there(list, 1u << PW_DUTY_CLEAN | 1u << PW_DUTY_SERVE, end, next);
    int wanted = (int)ceil(d.work_min / max_int(next - end, 1) - 1e-9);
    d.rank = PW_RANK_TABLE;
    if (wanted <= there) {
      shares = max_int(shares, wanted);
      d.last_at_min = next - (int)ceil(d.work_min / shares);
    }
    d.target = "tables first, for those who come next; then floor and bins; count what came back";
  }
  const char *off = pw_task_off_words(list, end_before(list->ev, end), end);
  if (*off)
    d.target = pw_task_words(list, "%s; switched off: %s", d.target, off);
  pw_task_draft_shared(list, d, shares);
  if (!has_hot_leftovers(list, s))
    return;
  struct pw_draft c = draft(PW_TASK_COOL, PW_DUTY_CLEAN, PW_RANK_AFTER, PW_AT_SITE, end, end + 30, COOL_WORK_MIN);
  c.service = s;
  c.also = hands;
  c.is_late = false;
  c.verb = "Cool the hot leftovers: shallow pans, ice, open until cold";
  c.where = service->name;
  c.target = pw_task_words(list, "%s to %s within %s, %s within %s in all", pw_task_temp(list, PW_FOOD_CODE_HOT_C),
                           pw_task_temp(list, PW_FOOD_CODE_COOL_C), pw_format_minutes(COOL_FIRST_MIN).s,
                           pw_task_temp(list, PW_FOOD_CODE_COLD_C), pw_format_minutes(COOL_ALL_MIN).s);
  pw_task_draft(list, c);
  struct pw_draft k = draft(PW_TASK_COOL_CHECK, PW_DUTY_CLEAN, PW_RANK_AFTER, PW_AT_SITE, end + COOL_FIRST_MIN / 2,
                            end + COOL_FIRST_MIN, COOL_CHECK_WORK_MIN);
  k.service = s;
  k.also = ANYBODY;
  k.is_late = !is_last; /* the crew wants to go home after the last one */
  k.verb = "Temperature of the leftovers";
  k.where = service->name;
  k.target = pw_task_words(
      list, "%s or less by %s, %s or less by %s; if not, throw them away%s", pw_task_temp(list, PW_FOOD_CODE_COOL_C),
      pw_when_clock(list->ev, end + COOL_FIRST_MIN).s, pw_task_temp(list, PW_FOOD_CODE_COLD_C),
      pw_when_clock(list->ev, end + COOL_ALL_MIN).s,
      is_last && list->ev->site.travel_min > 0 ? "; they travel on ice: log them before the drive and on arrival" : "");
  pw_task_draft(list, k);
}

static void set_table(struct pw_task_list *list, int s)
{
  const struct pw_service *service = &list->ev->services[s];
  if (service->style == PW_DROP_OFF)
    return;
  const struct pw_style_work *style = &list->ev->styles[service->style];
  struct pw_draft d =
      draft(PW_TASK_SET_UP, PW_DUTY_SERVE, PW_RANK_TABLE, PW_AT_SITE, service->at_min - 180, service->at_min - 45,
            style->set_up_min + style->set_up_guest_min * guests_of(list, service));
  d.also = 1u << PW_DUTY_CLEAN;
  d.service = s;
  d.end_by_min = service->at_min - 5;
  d.is_late = false; /* later the pit wants every hand */
  d.verb = pw_task_words(list, "Set up for %s", service->name);
  d.where = list->ev->site.place ? list->ev->site.place : "site";
  d.target = "tables, heat under the pans, hand wash, allergen cards";
  pw_task_draft_shared(list, d, n_shares(d.work_min));
}

void pw_task_table(struct pw_task_list *list)
{
  const struct pw_event *ev = list->ev;
  int first_lit = INT_MAX, last_end = INT_MIN, depart = INT_MAX;
  for (int b = 0; b < list->plan->allocation.n_burns; b++)
    first_lit = min_int(first_lit, list->plan->allocation.burns[b].lit_at_min);
  for (int s = 0; s < ev->n_services; s++)
    last_end = max_int(last_end, ev->services[s].at_min + ev->services[s].length_min);
  if (first_lit != INT_MAX)
    drive_out(list, first_lit, &depart);
  list->depart_min = ev->site.travel_min > 0 ? depart : INT_MAX;
  for (int s = 0; s < ev->n_services; s++) {
    serve(list, s);
    set_table(list, s);
    pan_up(list, s);
    after_service(list, s, ev->services[s].at_min + ev->services[s].length_min == last_end);
  }
  prep(list, depart);
  if (ev->site.travel_min > 0 && first_lit != INT_MAX && ev->n_services > 0) {
    struct pw_draft d = draft(PW_TASK_DRIVE, PW_DUTY_DRIVE, PW_RANK_AFTER, PW_AT_ROAD,
                              last_end + PW_TASK_LEAVE_AFTER_MIN, last_end + 6 * 60, ev->site.travel_min);
    d.is_late = false;
    d.verb = "Drive home";
    d.where = ev->site.place ? ev->site.place : "site";
    d.target =
        "fires-out check signed for every pit, no live coals towed, leftovers cold and logged, load lashed, nobody at "
        "the wheel who has been awake for 16 h";
    pw_task_draft(list, d);
  }
  by_supplier(list, PW_TASK_ORDER, order_at, false, "Order", ORDER_WORK_MIN,
              "by then at the latest; amounts on the purchase list");
  by_supplier(list, PW_TASK_TAKE_IN, deliver_at, true, "Take in", TAKE_IN_WORK_MIN, NULL);
  if (first_lit != INT_MAX)
    fuel_on_hand(list, first_lit);
  thaw(list);
}
