/* sheet_goods.c - what is bought, and what is put out: the buying sheet by supplier, the serving sheet by meal. */
#include "base/arena.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/lots/pans_out.h"
#include "sheet/fuel_words.h"
#include "sheet/sheet_pen.h"
#include "sheet/words.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

/* ---- buying ---------------------------------------------------------------------------------------------- */

static const char *supplier_of(const struct pw_sheet_pen *pen, const struct pw_purchase_line *l)
{
  return pen->ev->items[l->item].offers[l->offer].supplier;
}

static bool is_bought_here(const struct pw_sheet_pen *pen, const struct pw_purchase_line *l)
{
  return !(pen->ev->items[l->item].category == PW_CAT_FUEL && pw_view_is_pit_fuel(pen->ev, l->item));
}

static const char *day_time(struct pw_sheet_pen *pen, int at_min)
{
  return TEXT("%s %s", pw_view_day(pen->view, at_min), pw_view_clock(pen->view, at_min));
}

static void goods_row(struct pw_sheet_pen *pen, const struct pw_purchase_line *l)
{
  const struct pw_item *item = &pen->ev->items[l->item];
  const struct pw_offer *o = &item->offers[l->offer];
  pw_pen_row(pen, TEXT("p%d", (int)(l - pen->plan->purchase.lines) + 1), l->deliver_at_min);
  pw_pen_open(pen);
  pw_pen_cell_more(pen, item->name,
                   l->thaw_from_at_min == INT_MIN ? ""
                                                  : TEXT("freezer to fridge %s", day_time(pen, l->thaw_from_at_min)));
  pw_pen_cell(pen, o->is_by_weight && o->pieces > 1 ? TEXT("%d %s of %d", l->packs, o->pack, o->pieces)
                                                    : TEXT("%d %s", l->packs, o->pack));
  pw_pen_cell(pen, TEXT("%s", pw_format_amount(pen->ev->units, item->unit, l->amount).s));
}

/** One supplier's goods, delivery by delivery. */
static void supplier(struct pw_sheet_pen *pen, const char *name, bool *is_done)
{
  const struct pw_purchase *pu = &pen->plan->purchase;
  int order_by = INT_MAX;
  for (int i = 0; i < pu->n_lines; i++)
    if (!is_done[i] && strcmp(supplier_of(pen, &pu->lines[i]), name) == 0 && pu->lines[i].order_by_at_min < order_by)
      order_by = pu->lines[i].order_by_at_min;
  pw_pen_band(pen, PW_ROW_BAND, TEXT("%s: order by %s", name, day_time(pen, order_by)));
  for (;;) {
    const struct pw_purchase_line *next = NULL;
    for (int i = 0; i < pu->n_lines; i++)
      if (!is_done[i] && strcmp(supplier_of(pen, &pu->lines[i]), name) == 0 &&
          (!next || pu->lines[i].deliver_at_min < next->deliver_at_min))
        next = &pu->lines[i];
    if (!next)
      return;
    pw_pen_band(pen, PW_ROW_SUB, TEXT("in house %s", day_time(pen, next->deliver_at_min)));
    for (int i = 0; i < pu->n_lines; i++)
      if (!is_done[i] && pu->lines[i].deliver_at_min == next->deliver_at_min &&
          strcmp(supplier_of(pen, &pu->lines[i]), name) == 0) {
        is_done[i] = true;
        goods_row(pen, &pu->lines[i]);
      }
  }
}

void pw_sheet_buying(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TICK, "", 3}, {PW_CELL_ACT, "Goods", 0}, {PW_CELL_AMOUNT, "Packs", 14}, {PW_CELL_AMOUNT, "In all", 10}};
  const struct pw_purchase *pu = &pen->plan->purchase;
  bool *is_done = pw_arena_array(pen->view->arena, (size_t)pu->n_lines + 1, sizeof *is_done);
  if (!is_done) {
    pen->view->failed = true;
    return;
  }
  pw_pen_sheet(
      pen, PW_SHEET_BUYING, "buying", "Buying and taking in",
      TEXT("Whole packs. Tick what came; count it, look it over. Chilled goods at %s or less, or they go back.",
           pw_format_temp(pen->ev->units, PW_FOOD_CODE_COLD_C).s));
  pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  for (int i = 0; i < pu->n_lines; i++)
    is_done[i] = !is_bought_here(pen, &pu->lines[i]);
  for (;;) { /* suppliers by their first order date */
    const struct pw_purchase_line *next = NULL;
    for (int i = 0; i < pu->n_lines; i++)
      if (!is_done[i] && (!next || pu->lines[i].order_by_at_min < next->order_by_at_min))
        next = &pu->lines[i];
    if (!next)
      break;
    supplier(pen, supplier_of(pen, next), is_done);
  }
  if (pen->plan->fuel.n_lines > 0)
    pw_pen_band(pen, PW_ROW_BAND, "Wood and charcoal, the reserve included");
  for (int i = 0; i < pen->plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &pen->plan->fuel.lines[i];
    pw_pen_row(pen, TEXT("w%d", i + 1), PW_SHEET_NO_TIME);
    pw_pen_open(pen);
    pw_pen_cell_more(pen, pen->ev->fuels[l->fuel].name, TEXT("%s", pw_fuel_measure(pen->ev, l).s));
    pw_pen_cell(pen, "");
    pw_pen_cell(pen, TEXT("%s", pw_format_weight(pen->ev->units, l->buy_kg).s));
  }
}

/* ---- serving ------------------------------------------------------------------------------------------------ */

/* "2, 18:05 +1, 18:35 +1": at the start, then when how many more. */
static const char *pans_words(struct pw_sheet_pen *pen, const struct pw_demand_line *line, int pans)
{
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  int n = pw_pans_out(out, pen->ev, &pen->plan->lots, line, pans);
  const char *words = "";
  for (int i = 0; i < n; i++)
    words = i == 0 ? TEXT("%d", out[i].pans)
                   : TEXT("%s, %s +%d", words, pw_when_clock(pen->ev, out[i].at_min).s, out[i].pans);
  return words;
}

/* Food Code 3-501.19: what stands without heat or ice carries both times. */
static const char *label_words(struct pw_sheet_pen *pen, const struct pw_demand_line *line, int pans)
{
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  int n = pw_pans_out(out, pen->ev, &pen->plan->lots, line, pans > 0 ? pans : 1);
  const char *words = "";
  for (int i = 0; i < n; i++)
    words = TEXT("%s%sout %s, discard by %s", words, i ? "; " : "", pw_when_clock(pen->ev, out[i].at_min).s,
                 pw_when_clock(pen->ev, pw_pans_discard_min(out[i].at_min)).s);
  return words;
}

static void serving_row(struct pw_sheet_pen *pen, int service, int m, int line)
{
  const struct pw_demand_line *d = &pen->plan->demand.lines[line];
  const struct pw_dish *dish = &pen->ev->dishes[d->dish];
  const struct pw_menu_line *menu = &pen->ev->services[service].menu[m];
  const char *allergens = pw_view_allergens(pen->view, d->dish);
  int pans = pw_words_pans(pen->plan, d);
  pw_pen_row(pen, TEXT("s%d", line + 1), PW_SHEET_NO_TIME);
  pw_pen_cell_more(pen, dish->name,
                   menu->is_time_control ? TEXT("%s%sno heat or ice, label each pan: %s", pw_view_form(dish),
                                                pw_view_form(dish)[0] ? "; " : "", label_words(pen, d, pans))
                                         : pw_view_form(dish));
  pw_pen_cell(pen, dish->is_by_count ? TEXT("%s each", pw_format_number(menu->portion_units, 2).s)
                                     : TEXT("%s", pw_format_weight(pen->ev->units, menu->portion_kg).s));
  pw_pen_cell(pen, TEXT("%d", d->portions));
  pw_pen_cell(pen, dish->is_by_count ? TEXT("%s", pw_format_number(d->need_units, 0).s)
                                     : TEXT("%s", pw_format_weight(pen->ev->units, d->need_kg).s));
  pw_pen_cell(pen, pans_words(pen, d, pans));
  pw_pen_cell(pen, allergens[0] ? allergens : "none listed");
}

void pw_sheet_serving(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_ACT, "Dish", 0},        {PW_CELL_AMOUNT, "Portion", 8},
                                                   {PW_CELL_AMOUNT, "Portions", 7}, {PW_CELL_AMOUNT, "Ready in all", 9},
                                                   {PW_CELL_NOTE, "Pans out", 19},  {PW_CELL_TARGET, "Contains", 20}};
  int line = 0;
  pw_pen_sheet(
      pen, PW_SHEET_SERVING, "serving", "Serving and allergens",
      "All food comes from one kitchen and off shared racks: traces of every allergen may be in every dish. Ask who is "
      "allergic, use clean tongs. Pans out: when the meal begins, then at what time how many more.");
  bool is_by_time = false;
  for (int i = 0; i < pen->plan->demand.n_lines; i++)
    is_by_time = is_by_time || pw_words_time_control(pen->plan, &pen->plan->demand.lines[i]);
  if (is_by_time) { /* FDA Food Code 2022 3-501.19(A), (B), (D) */
    pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
    pw_pen_text(pen, "By the clock, without heat or ice",
                TEXT("goes out at %s or more, or %s or less; the label on each pan says out and discard by; then it is "
                     "thrown away, whatever is left, and nothing is topped up. A written procedure is at hand; never "
                     "for the very young, old or ill. The health authority decides.",
                     pw_format_temp(pen->ev->units, PW_FOOD_CODE_HOT_C).s,
                     pw_format_temp(pen->ev->units, PW_FOOD_CODE_COLD_C).s));
  }
  pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  for (int i = 0; i < pen->ev->n_services; i++) {
    const struct pw_service *sv = &pen->ev->services[i];
    pw_pen_band(pen, PW_ROW_BAND,
                TEXT("%s, %s, %s", pw_view_service(pen->view, i), pw_view_when(pen->view, sv->at_min),
                     pw_view_guests(pen->view, i)));
    for (int m = 0; m < sv->n_menu && line < pen->plan->demand.n_lines; m++, line++)
      serving_row(pen, i, m, line);
  }
}
