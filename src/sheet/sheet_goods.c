/* sheet_goods.c - what is bought, and what is put out: the buying sheet by supplier, the serving sheet by meal. */
#include "base/arena.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/lots/drips.h"
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
      {PW_CELL_TICK, "", 3}, {PW_CELL_ACT, "Goods", 0}, {PW_CELL_AMOUNT, "Packs", 11}, {PW_CELL_AMOUNT, "In all", 9}};
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
  pw_pen_narrow(pen);
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
    pw_pen_cell(pen, TEXT("%s", pw_format_fuel(pen->ev->units, l->buy_kg).s));
  }
}

/* ---- serving ------------------------------------------------------------------------------------------------ */

static void serving_row(struct pw_sheet_pen *pen, int service, int m, int line)
{
  const struct pw_demand_line *d = &pen->plan->demand.lines[line];
  const struct pw_dish *dish = &pen->ev->dishes[d->dish];
  const struct pw_menu_line *menu = &pen->ev->services[service].menu[m];
  const char *allergens = pw_view_allergens(pen->view, d->dish);
  pw_pen_row(pen, TEXT("s%d", line + 1), PW_SHEET_NO_TIME);
  pw_pen_cell_more(pen, dish->name,
                   menu->is_time_control ? TEXT("%s%sno heat or ice, label each pan: %s", pw_view_form(dish),
                                                pw_view_form(dish)[0] ? "; " : "", pw_view_labels(pen->view, line))
                                         : pw_view_form(dish));
  pw_pen_cell(pen, dish->is_by_count ? TEXT("%s each", pw_format_number(menu->portion_units, 2).s)
                                     : TEXT("%s", pw_format_weight(pen->ev->units, menu->portion_kg).s));
  pw_pen_cell(pen, TEXT("%d\xE2\x80\x93%d", d->portions, d->portions_cover));
  pw_pen_cell(pen, dish->is_by_count ? TEXT("%s", pw_format_number(d->need_units, 0).s)
                                     : TEXT("%s", pw_format_weight(pen->ev->units, d->need_kg).s));
  pw_pen_cell(pen, pw_view_pans_out(pen->view, line));
  pw_pen_cell(pen, !allergens[0]              ? "none listed"
                   : pw_drips_kept_last(dish) ? TEXT("%s: own tongs, out last", allergens)
                                              : allergens);
}

void pw_sheet_serving(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_ACT, "Dish", 0},        {PW_CELL_AMOUNT, "Portion", 8},
                                                   {PW_CELL_AMOUNT, "Portions", 8}, {PW_CELL_AMOUNT, "Ready", 10},
                                                   {PW_CELL_NOTE, "Pans out", 23},  {PW_CELL_TARGET, "Contains", 17}};
  int line = 0;
  pw_pen_sheet(
      pen, PW_SHEET_SERVING, "serving", "Serving and allergens",
      "All food comes from one kitchen and off shared racks: traces of every allergen may be in every dish. Ask who is "
      "allergic, use clean tongs. Pans out: when the meal begins; then how many more, and when.");
  bool is_by_time = false;
  for (int i = 0; i < pen->plan->demand.n_lines; i++)
    is_by_time = is_by_time || pw_words_time_control(pen->plan, &pen->plan->demand.lines[i]);
  if (is_by_time) { /* FDA Food Code 2022 3-501.19(A), (B), (D) */
    pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
    pw_pen_text(pen, "By the clock, without heat or ice", pw_view_by_the_clock(pen->view));
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
