/* sheet_goods.c - what is bought, and what is put out: the buying sheet by supplier, the serving sheet by meal. */
#include "heat/food_code.h"
#include "plan/lots/drips.h"
#include "sheet/goods.h"
#include "sheet/sheet_pen.h"
#include "sheet/words.h"

#include <limits.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

/* ---- buying ---------------------------------------------------------------------------------------------- */

/** One supplier's goods, delivery by delivery. */
static void supplier(struct pw_sheet_pen *pen, struct pw_goods *goods, const struct pw_goods_supplier *from)
{
  int at_min = INT_MIN;
  pw_pen_band(pen, PW_ROW_BAND,
              TEXT("%s: order by %s %s", from->name, pw_view_day(pen->view, from->order_by_at_min),
                   pw_view_clock(pen->view, from->order_by_at_min)));
  for (int i = 0; i < from->n_rows; i++) {
    const struct pw_purchase_line *l = goods->lines[from->rows[i]].line;
    if (l->deliver_at_min != at_min)
      pw_pen_band(pen, PW_ROW_SUB,
                  TEXT("in house %s %s", pw_view_day(pen->view, l->deliver_at_min),
                       pw_view_clock(pen->view, l->deliver_at_min)));
    at_min = l->deliver_at_min;
    pw_pen_lay_row(pen, &goods->table, from->rows[i], TEXT("p%d", (int)(l - pen->plan->purchase.lines) + 1), at_min);
  }
}

void pw_sheet_buying(struct pw_sheet_pen *pen)
{
  struct pw_goods goods;
  if (pw_goods_make(&goods, pen->plan, pen->view->arena) != PW_OK) {
    pen->view->failed = true;
    return;
  }
  pw_pen_sheet(
      pen, PW_SHEET_BUYING, "buying", "Buying and taking in",
      TEXT("Whole packs. Tick what came; count it, look it over. Chilled goods at %s or less, or they go back.",
           pw_format_temp(pen->ev->units, PW_FOOD_CODE_COLD_C).s));
  pw_pen_lay_heads(pen, &goods.table);
  pw_pen_narrow(pen);
  for (int i = 0; i < goods.n_suppliers; i++)
    supplier(pen, &goods, &goods.suppliers[i]);
  if (pen->plan->fuel.n_lines > 0)
    pw_pen_band(pen, PW_ROW_BAND, "Wood and charcoal, the reserve included");
  for (int row = 0, nth = 0; row < goods.table.n_rows; row++)
    if (goods.lines[row].kind == PW_GOODS_FUEL)
      pw_pen_lay_row(pen, &goods.table, row, TEXT("w%d", ++nth), PW_SHEET_NO_TIME);
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
