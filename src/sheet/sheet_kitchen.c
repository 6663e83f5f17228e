/* sheet_kitchen.c - what is made before the day and what goes along: prep with its recipes, the truck list.
 * In: tasks, purchase, the ledger of what each dish takes.  Out: two sheets.  Amounts are those of this job, not of a recipe. */
#include "base/arena.h"
#include "base/when.h"
#include "plan/buy/ledger.h"
#include "plan/buy/packs.h"
#include "plan/lots/drips.h"
#include "sheet/fuel_words.h"
#include "sheet/sheet_pen.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

/** "1 x Foil pans, full size": what is counted has its number apart, for a name may be a plural. */
static const char *amount(struct pw_sheet_pen *pen, int item, double n)
{
  const struct pw_item *it = &pen->ev->items[item];
  bool is_counted = it->unit == PW_UNIT_EACH;
  return TEXT("%s%s %s", pw_format_amount(pen->ev->units, it->unit, is_counted ? ceil(n - 1e-9) : n).s,
              is_counted ? " \xC3\x97" : "", it->name);
}

static const char *join(struct pw_sheet_pen *pen, const char *list, const char *more)
{
  return TEXT("%s%s%s", list, list[0] ? "; " : "", more);
}

/* ---- prep ---------------------------------------------------------------------------------------------- */

/** What goes on and in of so much of a meal's meat: rub, mop, paper; or what is stirred into its brine. */
static const char *goes_on(struct pw_sheet_pen *pen, const struct pw_raw_need *raw, int pieces, double raw_kg,
                           bool is_brine)
{
  const struct pw_cut *cut = &pen->ev->cuts[raw->cut];
  const char *text = "";
  for (int i = 0; i < cut->n_uses; i++) {
    const struct pw_use *u = &cut->uses[i];
    double times = u->per == PW_PER_PIECE ? pieces : u->per == PW_PER_KG_RAW ? raw_kg : 0;
    if (times > 0 && (cut->brine.is_used && u->item == cut->brine.item) == is_brine)
      text = join(pen, text, amount(pen, u->item, u->amount * times));
  }
  return text;
}

/** Of the pieces of this task alone: a meal's meat is rubbed wave by wave, and by two where there is much of it. */
static const char *meat_words(struct pw_sheet_pen *pen, const struct pw_task *t)
{
  const struct pw_lot *l = &pen->plan->lots.lots[t->lot];
  const struct pw_raw_need *raw = pw_ledger_raw(&pen->plan->purchase, l->service, l->cut);
  if (!raw || raw->pieces <= 0)
    return "";
  int pieces = t->pieces > 0 ? t->pieces : l->pieces;
  double raw_kg = raw->raw_mean_kg * pieces / raw->pieces;
  const struct pw_cut *cut = &pen->ev->cuts[raw->cut];
  if (t->kind == PW_TASK_BRINE)
    return TEXT("%s as bought; %s in %s of cold water; %s", pw_format_weight(pen->ev->units, raw_kg).s,
                goes_on(pen, raw, pieces, raw_kg, true),
                pw_format_amount(pen->ev->units, PW_UNIT_L, raw_kg * cut->brine.water_frac).s, t->target);
  double trim_frac = cut->trim_frac;
  const char *text = TEXT("%s%s", pw_format_weight(pen->ev->units, raw_kg).s, trim_frac < 1 ? " as bought, " : "");
  if (trim_frac < 1)
    text = TEXT("%s%s trimmed", text, pw_format_weight(pen->ev->units, raw_kg * trim_frac).s);
  const char *on = goes_on(pen, raw, pieces, raw_kg, false);
  return on[0] ? join(pen, text, on) : text;
}

static int line_of(const struct pw_plan *plan, int service, int dish)
{
  for (int i = 0; i < plan->demand.n_lines; i++)
    if (plan->demand.lines[i].service == service && plan->demand.lines[i].dish == dish)
      return i;
  return PW_NONE;
}

/** What goes into a dish, all its portions. */
static const char *recipe(struct pw_sheet_pen *pen, const struct pw_account *accounts, int line)
{
  const char *text = "";
  for (int i = 0; i < pen->ev->n_items && line != PW_NONE; i++)
    if (accounts[i].is_used && accounts[i].parts[line] > 0 && pen->ev->items[i].category < PW_CAT_DISPOSABLE)
      text = join(pen, text, amount(pen, i, accounts[i].parts[line]));
  return text;
}

static void mixes(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TICK, "", 3}, {PW_CELL_ACT, "To mix, and from what", 0}, {PW_CELL_AMOUNT, "In all", 12}};
  const struct pw_purchase *p = &pen->plan->purchase;
  pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  for (int i = 0; i < p->n_mixes; i++) {
    const struct pw_item *mix = &pen->ev->items[p->mixes[i].item];
    const char *from = "";
    for (int k = 0; k < mix->n_parts; k++)
      from = join(pen, from, amount(pen, mix->parts[k].item, p->mixes[i].amount * mix->parts[k].amount));
    pw_pen_row(pen, TEXT("m%d", i + 1), PW_SHEET_NO_TIME);
    pw_pen_open(pen);
    pw_pen_cell_more(pen, mix->name, from);
    pw_pen_cell(pen, TEXT("%s", pw_format_amount(pen->ev->units, mix->unit, p->mixes[i].amount).s));
  }
  pw_pen_drop_empty(pen);
}

/** Of a prep of fish or nuts: behind all other prep, apart. */
static const char *kept_last(const struct pw_sheet_pen *pen, const struct pw_task *t)
{
  const struct pw_lot *lot = t->lot == PW_NONE ? NULL : &pen->plan->lots.lots[t->lot];
  bool is_last = t->kind == PW_TASK_PREP && (lot ? pw_drips_cut_kept_last(pen->ev, lot->service, lot->cut)
                                             : t->dish != PW_NONE ? pw_drips_kept_last(&pen->ev->dishes[t->dish])
                                                                  : false);
  return is_last ? ". Last of all: own board, knife, tongs and shelf" : "";
}

static bool is_prep(const struct pw_task *t)
{
  return t->kind == PW_TASK_THAW || t->kind == PW_TASK_BRINE || t->kind == PW_TASK_PREP;
}

/** What stands above what where it is cold: FDA Food Code 2022 3-302.11(A); the order from top to bottom is that of extension and training
 *  pages [H2]. */
static void store_order(struct pw_sheet_pen *pen)
{
  pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
  pw_pen_text(pen, "Cold store and boxes, from the top",
              "ready to eat; fish; whole beef, pork, lamb; ground and injected; poultry lowest. All lidded or wrapped, "
              "nothing drips.");
  pw_pen_text(pen, "Allergens", "fish and nuts last, on boards, tongs and shelves of their own.");
}

void pw_sheet_prep(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_TICK, "", 3},
                                                   {PW_CELL_TIME, "Time", 8},
                                                   {PW_CELL_ACT, "What, with the amounts of this job", 0},
                                                   {PW_CELL_WHO, "Who", 10}};
  struct pw_account *accounts = NULL;
  if (pw_ledger_make(&accounts, pen->ev, &pen->plan->demand, &pen->plan->purchase, pen->ctx) != PW_OK) {
    pen->view->failed = true;
    return;
  }
  pw_pen_sheet(pen, PW_SHEET_PREP, "prep", "Prep and recipes",
               "Raw meat apart from all else, its own boards and knives. Weigh what is trimmed off and write it down.");
  store_order(pen);
  pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  const char *day = "";
  for (int i = 0; i < pen->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &pen->plan->tasks.tasks[i];
    if (!is_prep(t))
      continue;
    const char *now = TEXT("%s", pw_when_day(pen->ev, t->at_min).s);
    if (strcmp(now, day) != 0)
      pw_pen_band(pen, PW_ROW_BAND, now);
    day = now;
    pw_pen_row(pen, TEXT("t%d", i + 1), t->at_min);
    pw_pen_open(pen);
    pw_pen_cell(pen, TEXT("%s", pw_when_clock(pen->ev, t->at_min).s));
    const char *of = t->kind == PW_TASK_THAW ? t->target
                     : t->lot != PW_NONE     ? meat_words(pen, t)
                     : t->dish != PW_NONE    ? recipe(pen, accounts, line_of(pen->plan, t->service, t->dish))
                                             : "";
    pw_pen_cell_more(pen, pw_pen_task(pen, t), TEXT("%s%s", of, kept_last(pen, t)));
    pw_pen_cell(pen, pw_view_who(pen->view, t));
  }
  pw_pen_drop_empty(pen);
  mixes(pen);
}

/* ---- truck ---------------------------------------------------------------------------------------------- */

/** When the truck leaves for the site; INT_MAX: it does not, by the tasks. */
static int leaves_min(const struct pw_plan *plan)
{
  int at = INT_MAX;
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (plan->tasks.tasks[i].kind == PW_TASK_DRIVE && plan->tasks.tasks[i].at_min < at)
      at = plan->tasks.tasks[i].at_min;
  return at;
}

/** Made in the kitchen, before the truck leaves: the dish goes along; else what goes into it. */
static bool is_made_before(const struct pw_plan *plan, int line)
{
  const struct pw_demand_line *d = &plan->demand.lines[line];
  int leaves = leaves_min(plan);
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind == PW_TASK_PREP && t->lot == PW_NONE && t->dish == d->dish && t->service == d->service &&
        t->at_min < leaves)
      return true;
  }
  return false;
}

/** What of an item goes along as it was bought: all but what went into dishes of the kitchen, into mixes and the meat of the lots. */
static double goes_along(const struct pw_sheet_pen *pen, const struct pw_account *accounts, int item)
{
  const struct pw_account *a = &accounts[item];
  double n = a->is_used ? a->amount : 0;
  for (int l = 0; l < pen->plan->demand.n_lines && n > 0; l++)
    n -= a->parts[l] > 0 && is_made_before(pen->plan, l) ? a->parts[l] : 0;
  for (int m = 0; m < pen->plan->purchase.n_mixes; m++) {
    const struct pw_item *mix = &pen->ev->items[pen->plan->purchase.mixes[m].item];
    for (int k = 0; k < mix->n_parts; k++)
      n -= mix->parts[k].item == item ? pen->plan->purchase.mixes[m].amount * mix->parts[k].amount : 0;
  }
  return n;
}

static bool has_item(const struct pw_task *t, int item)
{
  for (int i = 0; i < t->n_items; i++)
    if (t->items[i] == item)
      return true;
  return false;
}

/** When what comes of an item behind the truck is first taken in, INT_MAX: nothing does.  *is_all: none of it came before. */
static int comes_later_min(const struct pw_plan *plan, int item, bool *is_all)
{
  int leaves = leaves_min(plan), at = INT_MAX;
  *is_all = true;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind != PW_TASK_TAKE_IN || !has_item(t, item))
      continue;
    if (t->at_min <= leaves)
      *is_all = false;
    else if (t->at_min < at)
      at = t->at_min;
  }
  return at;
}

static void truck_row(struct pw_sheet_pen *pen, const char *key, const char *what, const char *more, const char *much)
{
  pw_pen_row(pen, key, PW_SHEET_NO_TIME);
  pw_pen_open(pen);
  pw_pen_cell_more(pen, what, more);
  pw_pen_cell(pen, much);
}

/** A row of what goes along, or (is_later) of what is taken in on site: an item that comes in part before stands in the first. */
static void item_row(struct pw_sheet_pen *pen, const char *key, int item, const char *what, const char *more,
                     const char *much, bool is_later)
{
  bool is_all = false;
  int at = item == PW_NONE ? INT_MAX : comes_later_min(pen->plan, item, &is_all);
  if (is_later != (at != INT_MAX && is_all))
    return;
  const char *when =
      at == INT_MAX ? "" : TEXT("%s%s", is_later ? "" : "some comes to the site ", pw_view_when(pen->view, at));
  truck_row(pen, key, what, TEXT("%s%s%s", more, more[0] && when[0] ? "; " : "", when), much);
}

/** Items of the categories first..last kept in that store that go along. */
static void goods(struct pw_sheet_pen *pen, const struct pw_account *accounts, enum pw_category first,
                  enum pw_category last, enum pw_store store, bool is_later)
{
  for (int i = 0; i < pen->ev->n_items; i++) {
    const struct pw_item *item = &pen->ev->items[i];
    double n = goes_along(pen, accounts, i);
    if (item->category < first || item->category > last || item->store != store || n < 1e-9)
      continue;
    if (pw_is_pit_fuel(pen->ev, i))
      continue;
    double whole = item->unit == PW_UNIT_EACH ? ceil(n - 1e-9) : n;
    item_row(pen, TEXT("g%d", i + 1), i, item->name, "",
             TEXT("%s", pw_format_amount(pen->ev->units, item->unit, whole).s), is_later);
  }
}

static void made_dishes(struct pw_sheet_pen *pen)
{
  for (int l = 0; l < pen->plan->demand.n_lines; l++) {
    const struct pw_demand_line *d = &pen->plan->demand.lines[l];
    bool is_apart = pw_drips_kept_last(&pen->ev->dishes[d->dish]), is_of_many = pen->ev->n_services > 1;
    if (is_made_before(pen->plan, l))
      truck_row(pen, TEXT("d%d", l + 1), pen->ev->dishes[d->dish].name,
                TEXT("%s%s%s%s", is_of_many ? "for " : "", is_of_many ? pw_view_service(pen->view, d->service) : "",
                     is_of_many && is_apart ? "; " : "", is_apart ? "its own shelf and tongs" : ""),
                "");
  }
}

static void raw_meat(struct pw_sheet_pen *pen, bool is_later)
{
  for (int class = PW_DRIPS_READY; class <= PW_DRIPS_POULTRY; class ++) /* from the top [H2] */
    for (int l = 0; l < pen->plan->lots.n_lots; l++) {
      const struct pw_lot *lot = &pen->plan->lots.lots[l];
      if ((int)pw_drips_class(&pen->ev->cuts[lot->cut]) == class)
        item_row(pen, TEXT("l%d", l + 1), pen->ev->cuts[lot->cut].item,
                 TEXT("%s: %s", pen->view->lot_mark[l], pen->ev->cuts[lot->cut].name),
                 pw_drips_cut_kept_last(pen->ev, lot->service, lot->cut) ? "lidded, its own shelf and tongs" : "",
                 TEXT("%d", lot->pieces), is_later);
    }
}

static void boxes(struct pw_sheet_pen *pen)
{
  const struct pw_plan *plan = pen->plan;
  for (int f = 0; f < pen->ev->n_finishers; f++) {
    bool is_used = false;
    for (int i = 0; i < plan->allocation.n_loads && !is_used; i++)
      is_used = plan->allocation.loads[i].zone == PW_NONE && plan->allocation.loads[i].finisher == f;
    for (int i = 0; i < plan->lots.n_side_pans && !is_used; i++)
      is_used = plan->lots.side_pans[i].finisher == f;
    if (is_used && pen->ev->finishers[f].kind == PW_HOLD)
      truck_row(pen, TEXT("b%d", f + 1), pen->ev->finishers[f].name, NULL, "");
  }
}

static void fire_things(struct pw_sheet_pen *pen)
{
  for (int i = 0; i < pen->plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &pen->plan->fuel.lines[i];
    pw_pen_row(pen, TEXT("w%d", i + 1), PW_SHEET_NO_TIME);
    pw_pen_open(pen);
    pw_pen_cell_more(pen, pen->ev->fuels[l->fuel].name, TEXT("%s", pw_fuel_measure(pen->ev, l).s));
    pw_pen_cell(pen, TEXT("%s", pw_format_fuel(pen->ev->units, l->buy_kg).s));
  }
  for (int p = 0; p < pen->ev->n_pits; p++) {
    bool is_lit = false;
    for (int b = 0; b < pen->plan->allocation.n_burns && !is_lit; b++)
      is_lit = pen->plan->allocation.burns[b].pit == p;
    if (is_lit)
      truck_row(pen, TEXT("p%d", p + 1), pen->ev->pits[p].name, "cold, empty of ash", "");
  }
  /* what a fire and a probe ask for on any site; common practice, no source */
  truck_row(pen, "x1", "Extinguishers, water or a hose, metal can with a lid for ash", NULL, "");
  truck_row(pen, "x2", "Shovel, poker, long gloves, lighter, torch", NULL, "");
  truck_row(pen, "x3", "Two probe thermometers, wipes for them, pens, these sheets", NULL, "");
}

void pw_sheet_truck(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TICK, "", 3}, {PW_CELL_ACT, "", 0}, {PW_CELL_AMOUNT, "", 9}};
  struct pw_account *accounts = NULL;
  if (pw_ledger_make(&accounts, pen->ev, &pen->plan->demand, &pen->plan->purchase, pen->ctx) != PW_OK) {
    pen->view->failed = true;
    return;
  }
  pw_pen_sheet(pen, PW_SHEET_TRUCK, "truck", "Truck list",
               "Load in this order: what is needed first on site goes in last. Amounts are what the plan uses.");
  struct pw_sheet_block *list = pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  pw_pen_narrow(pen);
  pw_pen_band(pen, PW_ROW_BAND, "For the guests and for clearing up, dry");
  goods(pen, accounts, PW_CAT_DISPOSABLE, PW_CAT_SUPPLY, PW_STORE_DRY, false);
  pw_pen_band(pen, PW_ROW_BAND, "Dry food and drink");
  goods(pen, accounts, PW_CAT_SIDE, PW_CAT_DRINK, PW_STORE_DRY, false);
  pw_pen_band(pen, PW_ROW_BAND, "Cold boxes: ready to eat, above raw meat");
  made_dishes(pen);
  goods(pen, accounts, PW_CAT_SIDE, PW_CAT_SUPPLY, PW_STORE_CHILLED, false);
  pw_pen_band(pen, PW_ROW_BAND, "Cold boxes for the pit, from the top as listed; trays under raw meat, poultry lowest");
  raw_meat(pen, false);
  pw_pen_band(pen, PW_ROW_BAND, "Ice and frozen");
  goods(pen, accounts, PW_CAT_SIDE, PW_CAT_SUPPLY, PW_STORE_FROZEN, false);
  pw_pen_band(pen, PW_ROW_BAND, "Boxes to hold hot");
  boxes(pen);
  pw_pen_band(pen, PW_ROW_BAND, "Fire: needed first");
  goods(pen, accounts, PW_CAT_FUEL, PW_CAT_FUEL, PW_STORE_DRY, false);
  fire_things(pen);
  for (int r = 0, n = 0; list && r < list->n_rows; r++) /* of what goes along: a shelf that stays empty has no number */
    if (list->rows[r].kind == PW_ROW_BAND)
      list->rows[r].cells[0].text = TEXT("%d. %s", ++n, list->rows[r].cells[0].text);
  pw_pen_band(pen, PW_ROW_BAND, "Not on the truck: delivered to the site");
  raw_meat(pen, true);
  for (int store = PW_STORE_DRY; store <= PW_STORE_FROZEN; store++)
    goods(pen, accounts, PW_CAT_SIDE, PW_CAT_FUEL, (enum pw_store)store, true);
  if (list && list->n_rows > 0 && list->rows[list->n_rows - 1].kind == PW_ROW_BAND)
    list->n_rows--; /* all of it goes along */
}
