/* read_plan.c - plan JSON -> struct pw_seen_plan, one table of fields per list [J0].
 * In: text of any origin.  Out: indices and numbers in known ranges, or findings that name the path.
 * Idea: a row per key (type, place, range); lists are read in the order in which they refer to each other, each list's
 * ids are sorted, and a reference is looked up where it is read. */
#include "judge/read_plan.h"

#include "base/arena.h"
#include "base/diag.h"
#include "judge/plan_fields.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void read_lists(struct pw_plan_reader *r, const struct pw_json *root)
{
  for (size_t k = 0; k < pw_seen_n_lists && !r->has_no_memory; k++) {
    const struct pw_seen_list *list = &pw_seen_lists[k];
    r->part = list->part;
    int n;
    void *items = pw_seen_elements(r, "", root, list, &n);
    if (list->part == PW_SEEN_PITS && n == PW_SEEN_NONE)
      items = pw_seen_pits_of_racks(r, root, &n);
    r->plan->n[list->part] = n > 0 ? n : 0;
    memcpy((char *)r->plan + list->to, &items, sizeof items);
    if (n <= 0 || !items || list->id_at == SIZE_MAX)
      continue;
    /* zones and finishers are places alike: one name space, finishers numbered after the zones */
    bool is_place = list->part == PW_SEEN_FINISHERS;
    pw_seen_names(r, list, is_place ? PW_SEEN_ZONES : list->part, items, (size_t)n,
                  is_place ? r->plan->n[PW_SEEN_ZONES] : 0, list->part == PW_SEEN_CREW);
    if (list->part == PW_SEEN_TASKS)
      pw_seen_tasks_join(r);
  }
  if (!r->has_no_memory)
    pw_seen_warnings_join(r);
}

/* ---- single objects ------------------------------------------------------------------------------------ */

static const struct pw_seen_field quote_fields[] = {
    O_INT(quote, ladder_from, "ladder_from", 0),
    O_INT(quote, ladder_to, "ladder_to", 0),
    O_INT(quote, ladder_step, "ladder_step", 0),
    F_CENTS(quote, food_cents, "food_cents"),
    F_CENTS(quote, fuel_cents, "fuel_cents"),
    F_CENTS(quote, labour_cents, "labour_cents"),
    F_CENTS(quote, other_cents, "other_cents"),
    F_CENTS(quote, overhead_cents, "overhead_cents"),
    F_CENTS(quote, cost_cents, "cost_cents"),
    F_CENTS(quote, price_cents, "price_cents"),
    F_CENTS(quote, per_guest_cents, "per_guest_cents"),
    F_CENTS(quote, tax_cents, "tax_cents"),
    F_CENTS(quote, total_cents, "total_cents"),
    F_CENTS(quote, deposit_cents, "deposit_cents"),
    O_CENTS(quote, supplies_cents, "supplies_cents"),
    O_CENTS(quote, rental_cents, "rental_cents"),
    O_CENTS(quote, travel_cents, "travel_cents"),
    O_CENTS(quote, discount_cents, "discount_cents"),
    O_CENTS(quote, service_charge_cents, "service_charge_cents"),
    O_INT(quote, guests, "guests", 0),
    O_CENTS(quote, taxable_cents, "taxable_cents"),
    O_CENTS(quote, prime_cents, "prime_cents"),
    {"contribution_cents", PW_SEEN_MONEY, AT(quote, contribution_cents), -CENTS_MAX, CENTS_MAX, true, NULL},
    O_CENTS(quote, min_fee_cents, "min_fee_cents"),
    O_CENTS(quote, shared_food_cents, "shared_food_cents"),
    O_CENTS(quote, list_price_cents, "list_price_cents"),
    O_CENTS(quote, net_cents, "net_cents"),
    O_CENTS(quote, round_per_guest_cents, "round_per_guest_cents"),
    O_CENTS(quote, today_per_guest_cents, "today_per_guest_cents"),
    O_CENTS(quote, today_price_cents, "today_price_cents"),
    O_REAL(quote, asked_margin_frac, "asked_margin_frac", 0, 1),
    O_REAL(quote, asked_food_share_frac, "asked_food_share_frac", 0, 1),
    O_REAL(quote, discount_frac, "discount_frac", 0, 1),
    O_REAL(quote, service_charge_frac, "service_charge_frac", 0, 9),
    O_REAL(quote, tax_frac, "tax_frac", 0, 9),
    O_REAL(quote, deposit_frac, "deposit_frac", 0, 1),
    O_REAL(quote, margin_frac, "margin_frac", -1e15, 1),
    O_REAL(quote, food_share_frac, "food_share_frac", 0, 1e15),
    {"service_charge_taxed", PW_SEEN_FLAG, AT(quote, is_charge_taxed), 0, 0, true, NULL},
    O_INT(quote, valid_days, "valid_days", 0),
    {"quoted", PW_SEEN_TEXT, AT(quote, quoted), 0, 0, true, NULL},
    {"valid_until", PW_SEEN_TEXT, AT(quote, valid_until), 0, 0, true, NULL},
    O_INT(quote, pays_from, "pays_from_guests", 0),
    END};
static const struct pw_seen_field turnout_fields[] = {
    F_INT(turnout, guests, "guests", 0), F_CENTS(turnout, net_cents, "net_cents"),
    F_CENTS(turnout, cost_cents, "cost_cents"), F_REAL(turnout, margin_frac, "margin_frac", -1e15, 1), END};
static const struct pw_seen_field quoted_price_fields[] = {F_CENTS(quote, quoted_per_guest_cents, "per_guest_cents"),
                                                           {"on", PW_SEEN_TEXT, AT(quote, quoted_on), 0, 0, true, NULL},
                                                           END};
static const struct pw_seen_field agreed_fields[] = {F_CENTS(quote, agreed_price_cents, "price_cents"),
                                                     F_INT(quote, agreed_guests, "guests", 1),
                                                     {"on", PW_SEEN_TEXT, AT(quote, agreed_on), 0, 0, false, NULL},
                                                     END};
static const struct pw_seen_quote quote_blank = {.ladder_from = PW_SEEN_NONE,
                                                 .ladder_to = PW_SEEN_NONE,
                                                 .ladder_step = PW_SEEN_NONE,
                                                 .guests = PW_SEEN_NONE,
                                                 .supplies_cents = PW_SEEN_NONE,
                                                 .rental_cents = PW_SEEN_NONE,
                                                 .travel_cents = PW_SEEN_NONE,
                                                 .discount_cents = PW_SEEN_NONE,
                                                 .service_charge_cents = PW_SEEN_NONE,
                                                 .taxable_cents = PW_SEEN_NONE,
                                                 .prime_cents = PW_SEEN_NONE,
                                                 .contribution_cents = PW_SEEN_NO_MONEY,
                                                 .min_fee_cents = PW_SEEN_NONE,
                                                 .shared_food_cents = PW_SEEN_NONE,
                                                 .list_price_cents = PW_SEEN_NONE,
                                                 .net_cents = PW_SEEN_NONE,
                                                 .round_per_guest_cents = PW_SEEN_NONE,
                                                 .today_per_guest_cents = PW_SEEN_NONE,
                                                 .today_price_cents = PW_SEEN_NONE,
                                                 .quoted_per_guest_cents = PW_SEEN_NONE,
                                                 .agreed_price_cents = PW_SEEN_NONE,
                                                 .asked_margin_frac = NAN,
                                                 .asked_food_share_frac = NAN,
                                                 .discount_frac = NAN,
                                                 .service_charge_frac = NAN,
                                                 .tax_frac = NAN,
                                                 .deposit_frac = NAN,
                                                 .margin_frac = NAN,
                                                 .food_share_frac = NAN,
                                                 .valid_days = PW_SEEN_NONE,
                                                 .pays_from = PW_SEEN_NONE,
                                                 .oven_cents = PW_SEEN_NONE};

static const char *const outcomes[] = {"optimal", "feasible", "short", "limit", NULL}, *const stops[] = {"gap", "work",
                                                                                                         "time", NULL};

static const struct pw_seen_field solution_fields[] = {F_CHOICE(solution, outcome, "outcome", outcomes),
                                                       F_CHOICE(solution, stopped_by, "stopped_by", stops),
                                                       F_REAL(solution, cost, "cost", -1e15, 1e15),
                                                       F_REAL(solution, bound, "bound", -1e15, 1e15),
                                                       F_REAL(solution, gap_frac, "gap_frac", -1e9, 1e9),
                                                       O_REAL(solution, bound_fractions, "bound_fractions", 0, 1e15),
                                                       O_REAL(solution, bound_shapes, "bound_shapes", 0, 1e15),
                                                       F_REAL(solution, work, "work", 0, 1e18),
                                                       END};

/** The member `key` of the root, blamed on `part` when it is missing. */
static const struct pw_json *object_of(struct pw_plan_reader *r, const struct pw_json *root, const char *key,
                                       enum pw_seen_part part)
{
  r->part = part;
  const struct pw_json *v = pw_json_get(root, key);
  if (!v)
    pw_seen_find(r, "", key, "is missing", "");
  return v;
}

static const char *const preps[] = {"either", "kitchen", "site", NULL};
static const struct pw_seen_field event_fields[] = {
    F_TEXT(event, name, "name"),
    F_TEXT(event, date, "date"),
    {"safety_basis", PW_SEEN_TEXT, AT(event, safety_basis), 0, 0, true, NULL},
    {"head_count_is_sum", PW_SEEN_FLAG, AT(event, is_sum), 0, 0, true, NULL},
    {"zone", PW_SEEN_TEXT, AT(event, zone), 0, 0, true, NULL},
    O_INT(event, slot_min, "slot_min", 1),
    O_INT(event, head_count, "head_count", 0),
    {"utc_offset_min", PW_SEEN_COUNT, AT(event, utc_offset_min), -1440, 1440, false, NULL},
    O_INT(event, travel_min, "travel_min", 0),
    {"prep", PW_SEEN_CHOICE, AT(event, prep), 0, 0, true, preps},
    END};

static const struct pw_seen_field now_fields[] = {O_MIN(plan, now_min, "now_min"), O_INT(plan, edition, "edition", 2),
                                                  END};

static void read_event(struct pw_plan_reader *r, const struct pw_json *root)
{
  r->part = PW_SEEN_EVENT;
  r->plan->now_min = PW_SEEN_NO_TIME;
  r->plan->edition = PW_SEEN_NONE;
  if (root->type == PW_JSON_OBJECT)
    pw_seen_fields(r, "", root, now_fields, r->plan);
  struct pw_seen_event event = {
      .travel_min = PW_SEEN_NONE, .prep = PW_SEEN_NONE, .slot_min = PW_SEEN_NONE, .head_count = PW_SEEN_NONE};
  r->plan->event.prep = PW_SEEN_NONE;
  r->plan->travel_min = PW_SEEN_NONE;
  const struct pw_json *v = object_of(r, root, "event", PW_SEEN_EVENT);
  if (!v)
    return;
  pw_seen_fields(r, "event", v, event_fields, &event);
  r->plan->travel_min = event.travel_min;
  r->plan->event = event;
  r->plan->has_safety_basis = event.safety_basis && *event.safety_basis;
  struct pw_date date;
  if (!event.date || r->plan->is_bad[PW_SEEN_EVENT])
    return;
  if (!pw_date_parse(event.date, &date)) {
    pw_seen_find(r, "event", "date", "must be a date such as 2027-06-12, not ", event.date);
    return;
  }
  struct pw_clock *clock = NULL;
  if (event.zone && pw_clock_open(&clock, event.zone, date, r->judge->ctx) == PW_ERR_MEMORY)
    r->has_no_memory = true;
  if (event.zone && !clock)
    pw_seen_find(r, "event", "zone", "is no time zone that is known here: ", event.zone);
  r->plan->clock = clock;
}

static void read_quote(struct pw_plan_reader *r, const struct pw_json *root)
{
  struct pw_seen_quote *q = &r->plan->quote;
  *q = quote_blank;
  const struct pw_json *v = object_of(r, root, "quote", PW_SEEN_QUOTE);
  if (!v)
    return;
  const struct pw_seen_field currency[] = {{"currency", PW_SEEN_TEXT, 0, 0, 0, false, NULL}, END};
  const char *code = NULL;
  pw_seen_fields(r, "quote", v, quote_fields, q);
  if (v->type != PW_JSON_OBJECT)
    return;
  pw_seen_fields(r, "quote", v, currency, &code);
  q->dues = pw_seen_elements(r, "quote", v, &pw_seen_dues, &q->n_dues);
  q->ladder = pw_seen_elements(r, "quote", v, &pw_seen_ladder, &q->n_ladder);
  q->tried = pw_seen_elements(r, "quote", v, &pw_seen_tried, &q->n_tried);
  q->options = pw_seen_elements(r, "quote", v, &pw_seen_options, &q->n_options);
  q->leaves = pw_seen_elements(r, "quote", v, &pw_seen_leaves, &q->n_leaves);
  q->levels = pw_seen_elements(r, "quote", v, &pw_seen_levels, &q->n_levels);
  q->roles = pw_seen_elements(r, "quote", v, &pw_seen_roles, &q->n_roles);
  q->services = pw_seen_elements(r, "quote", v, &pw_seen_shares, &q->n_services);
  q->dishes = pw_seen_elements(r, "quote", v, &pw_seen_dishes, &q->n_dishes);
  q->has_pays_from = pw_json_get(v, "pays_from_guests") != NULL;
  const struct pw_json *fewer = pw_json_get(v, "fewer"), *more = pw_json_get(v, "more");
  if ((q->has_fewer = fewer != NULL))
    pw_seen_fields(r, "quote.fewer", fewer, turnout_fields, &q->fewer);
  if ((q->has_more = more != NULL))
    pw_seen_fields(r, "quote.more", more, turnout_fields, &q->more);
  const struct pw_json *quoted_price = pw_json_get(v, "quoted_price");
  if (quoted_price)
    pw_seen_fields(r, "quote.quoted_price", quoted_price, quoted_price_fields, q);
  const struct pw_json *agreed = pw_json_get(v, "agreed");
  if (agreed)
    pw_seen_fields(r, "quote.agreed", agreed, agreed_fields, q);
  const struct pw_json *ovens = pw_json_get(root, "ovens"), *saving = pw_json_get(ovens, "saving");
  const struct pw_seen_field oven[] = {F_CENTS(quote, oven_cents, "cost_cents"), END};
  const struct pw_seen_field hours[] = {O_REAL(ovens, hours, "hours", 0, 1e6), END};
  const struct pw_seen_field saved[] = {F_INT(ovens, pieces, "pieces", 0),
                                        F_REAL(ovens, piece_h, "piece_h", 0, 1e9),
                                        F_REAL(ovens, area_m2_h, "area_m2_h", 0, 1e9),
                                        F_INT(ovens, lit_min, "lit_min", 0),
                                        F_REAL(ovens, wood_kg, "wood_kg", 0, 1e9),
                                        F_CENTS(ovens, wood_cents, "wood_cents"),
                                        END};
  struct pw_seen_ovens *o = &r->plan->ovens;
  *o = (struct pw_seen_ovens){.hours = NAN, .piece_h = NAN, .area_m2_h = NAN, .wood_kg = NAN};
  if (ovens) {
    pw_seen_fields(r, "ovens", ovens, oven, q);
    pw_seen_fields(r, "ovens", ovens, hours, o);
  }
  if (saving)
    pw_seen_fields(r, "ovens.saving", saving, saved, o);
}

/** What the cost is made of. */
static void read_shares(struct pw_plan_reader *r, const struct pw_json *shares)
{
  static const struct pw_seen_field fields[] = {
      {"lot", PW_SEEN_REAL, offsetof(struct pw_seen_plan, spread_shares.lot), 0, 1, false, NULL},
      {"pit_day", PW_SEEN_REAL, offsetof(struct pw_seen_plan, spread_shares.pit_day), 0, 1, false, NULL},
      {"piece", PW_SEEN_REAL, offsetof(struct pw_seen_plan, spread_shares.piece), 0, 1, false, NULL},
      END};
  r->part = PW_SEEN_EVENT;
  if (shares)
    pw_seen_fields(r, "spread_shares", shares, fields, r->plan);
}

/** The crew pool and its rules: both or none. */
static void read_pool(struct pw_plan_reader *r, const struct pw_json *root)
{
  const struct pw_json *rules = pw_json_get(root, "work_rules");
  r->plan->n_pool = PW_SEEN_NONE;
  r->part = PW_SEEN_CREW;
  if (pw_json_get(root, "crew_pool"))
    r->plan->pool = pw_seen_elements(r, "crew_pool", root, &pw_seen_pool, &r->plan->n_pool);
  if (r->plan->n_pool >= 0 && (!rules || rules->type != PW_JSON_OBJECT))
    pw_seen_find(r, "", "work_rules", "must be an object beside \"crew_pool\"", "");
  else if (r->plan->n_pool >= 0)
    pw_seen_fields(r, "work_rules", rules, pw_seen_rules_fields, &r->plan->rules);
  static const struct pw_seen_field staffing_fields[] = {
      F_CENTS(plan, staffing.pay_cents, "pay_cents"), F_CENTS(plan, staffing.cover_cents, "cover_cents"),
      F_CENTS(plan, staffing.bound_cents, "bound_cents"), F_REAL(plan, staffing.gap_frac, "gap_frac", 0, 1), END};
  const struct pw_json *staffing = pw_json_get(root, "staffing");
  if (r->plan->n_pool >= 0 && (!staffing || staffing->type != PW_JSON_OBJECT))
    pw_seen_find(r, "", "staffing", "must be an object beside \"crew_pool\"", "");
  else if (r->plan->n_pool >= 0)
    pw_seen_fields(r, "staffing", staffing, staffing_fields, r->plan);
  for (int p = 0; p < r->plan->n[PW_SEEN_PEOPLE]; p++)
    if (r->plan->people[p].pool >= (r->plan->n_pool > 0 ? r->plan->n_pool : 0))
      pw_judge_find(r->judge, "J0", "people[%d].pool: %d is no line of the pool", p, r->plan->people[p].pool);
}

static int lot_named(struct pw_plan_reader *r, const char *id, const char *what)
{
  int lot = id ? pw_seen_look_up(&r->of[PW_SEEN_LOTS], id) : PW_SEEN_NONE;
  if (id && lot == PW_SEEN_NONE)
    pw_seen_find(r, "services", what, "names no lot: ", id);
  return lot;
}

/** Services come before lots in the file: the lots that a chance names are looked up at the end. */
static void read_weakest(struct pw_plan_reader *r)
{
  r->part = PW_SEEN_SERVICES;
  for (int s = 0; s < r->plan->n[PW_SEEN_SERVICES]; s++) {
    struct pw_seen_chance *chance = &r->plan->services[s].chance;
    chance->weakest_lot = lot_named(r, chance->weakest, "chance.weakest_lot");
    chance->held_long_lot = lot_named(r, chance->held_long, "chance.held_long_lot");
    chance->slow_core_lot = lot_named(r, chance->slow_core, "chance.slow_core_lot");
    for (int k = 0; k < chance->n_held_back; k++)
      chance->held_back[k].lot = lot_named(r, chance->held_back[k].name, "chance.held_back");
  }
}

static void read_parts(struct pw_plan_reader *r, const struct pw_json *solution)
{
  static const struct pw_seen_field part_fields[] = {F_REAL(cost, fire, "fire", -1e15, 1e15),
                                                     F_REAL(cost, light, "light", -1e15, 1e15),
                                                     F_REAL(cost, oven, "oven", 0, 1e15),
                                                     F_REAL(cost, openings, "openings", 0, 1e15),
                                                     F_REAL(cost, places, "places", 0, 1e15),
                                                     F_REAL(cost, hold, "hold", 0, 1e15),
                                                     F_REAL(cost, off_best, "off_best", 0, 1e15),
                                                     F_REAL(cost, moves, "moves", 0, 1e15),
                                                     F_REAL(cost, people, "people", 0, 1e15),
                                                     O_REAL(cost, missed, "missed", 0, 1e15),
                                                     END};
  static const struct pw_seen_field price_fields[] = {
      F_REAL(cost, opening_cents, "opening_cents", 0, 1e12),
      F_REAL(cost, place_cents, "place_cents", 0, 1e12),
      F_REAL(cost, hold_cents, "hold_cents_per_piece_h", 0, 1e12),
      F_REAL(cost, off_best_cents, "off_best_cents_per_piece_k", 0, 1e12),
      F_REAL(cost, move_cents, "move_cents_per_piece", 0, 1e12),
      END};
  struct pw_seen_cost *cost = &r->plan->parts;
  *cost = (struct pw_seen_cost){.fire = NAN, .opening_cents = NAN, .n_burns = PW_SEEN_NONE};
  const struct pw_json *parts = pw_json_get(solution, "parts"), *prices = pw_json_get(solution, "prices");
  if (parts)
    pw_seen_fields(r, "solution.parts", parts, part_fields, cost);
  if (!prices)
    return;
  pw_seen_fields(r, "solution.prices", prices, price_fields, cost);
  cost->burns = pw_seen_elements(r, "solution.prices", prices, &pw_seen_burn_prices, &cost->n_burns);
}

pw_status pw_read_plan(struct pw_seen_plan *out, const char *text, size_t n, struct pw_judge *judge)
{
  *out = (struct pw_seen_plan){0};
  const struct pw_json *root;
  pw_status status = pw_json_parse(&root, judge->file, text, n, judge->ctx);
  if (status != PW_OK)
    return status;
  const struct pw_json *format = pw_json_get(root, "format"), *version = pw_json_get(root, "version");
  if (!format || format->type != PW_JSON_TEXT || strcmp(format->text, "pitwright-plan") != 0) {
    pw_judge_find(judge, "J0", "format: must be \"pitwright-plan\"; this is no plan file");
    return PW_ERR_INPUT;
  }
  if (!version || version->type != PW_JSON_INT || version->integer != 1) {
    pw_judge_find(judge, "J0", "version: must be 1; this program reads no other");
    return PW_ERR_INPUT;
  }
  struct pw_plan_reader r = {.judge = judge, .arena = judge->ctx->arena, .plan = out};
  read_event(&r, root);
  read_lists(&r, root);
  read_quote(&r, root);
  read_pool(&r, root);
  pw_seen_read_reasons(&r, root);
  const struct pw_json *explained = pw_json_get(root, "explained");
  out->n_stories = out->n_worths = PW_SEEN_NONE;
  r.part = PW_SEEN_SOLUTION;
  if (explained && explained->type != PW_JSON_OBJECT) {
    pw_seen_find(&r, "", "explained", "must be an object, not ", pw_json_type_words(explained->type));
  } else if (explained) {
    out->stories = pw_seen_elements(&r, "explained", explained, &pw_seen_stories, &out->n_stories);
    out->worths = pw_seen_elements(&r, "explained", explained, &pw_seen_worths, &out->n_worths);
  }
  const struct pw_json *solution = object_of(&r, root, "solution", PW_SEEN_SOLUTION);
  if (solution)
    pw_seen_fields(&r, "solution", solution, solution_fields, &out->solution);
  read_parts(&r, solution);
  r.plan->spread_shares.lot = r.plan->spread_shares.pit_day = r.plan->spread_shares.piece = NAN;
  read_shares(&r, pw_json_get(root, "spread_shares"));
  read_weakest(&r);
  if (r.has_no_memory) {
    pw_diag_add(judge->ctx, PW_ERROR, "memory", judge->file, 0, 0, "out of memory");
    return PW_ERR_MEMORY;
  }
  return PW_OK;
}
