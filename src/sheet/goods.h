/* goods.h - what is bought as data [P1]-[P3]: one table, a row for each line of the purchase list, each fee and each fuel of the fires.  The
 * purchase list (page/page_buy.c), the crew's buying sheet (sheet_goods.c), the workbook (grid_buy.c) and the list for other programs
 * (write/csv.c) say where its rows stand; its columns and what is in them are here.  A new column is one of COLUMNS in goods.c and its
 * cell. */
#ifndef PW_SHEET_GOODS_H
#define PW_SHEET_GOODS_H

#include "sheet/table.h"

enum pw_goods_kind { PW_GOODS_FOOD, PW_GOODS_OTHER, PW_GOODS_FEE, PW_GOODS_FUEL, PW_GOODS__COUNT };

/** What a row of the table is of. */
struct pw_goods_line {
  enum pw_goods_kind kind;
  const struct pw_purchase_line *line; /**< food and other; NULL */
  const struct pw_fuel_line *fuel;     /**< a fuel; NULL */
  bool is_per_weight;                  /**< its price is for a unit of weight, else for a pack */
};

/** What one supplier sends. */
struct pw_goods_supplier {
  const char *name;
  const struct pw_order *order; /**< NULL: none is known */
  int order_by_at_min;          /**< all of it is ordered in one go by the earliest date */
  pw_cents cents;               /**< with its fees */
  int *rows;                    /**< of the table, by delivery, then as the list has them */
  int n_rows;
};

struct pw_goods {
  struct pw_told_table table;
  struct pw_goods_line *lines; /**< one for each row of the table */
  size_t cap_lines;
  struct pw_goods_supplier *suppliers; /**< in the order they are called */
  int n_suppliers;
  pw_cents cents[PW_GOODS__COUNT]; /**< spent; fees are among what is no food */
};

/** Makes it from a complete plan.  Errors: PW_ERR_MEMORY. */
pw_status pw_goods_make(struct pw_goods *out, const struct pw_plan *plan, struct pw_arena *arena);
/** "Disposables, supplies, deliveries": what the sum over a kind is called. */
const char *pw_goods_called(enum pw_goods_kind kind);
/** An amount of an item's unit in the unit that people here buy it by. */
double pw_goods_amount(const struct pw_event *ev, enum pw_unit unit, double amount);

#endif
