/* grid_pen.h - how makers write the owner's sheets (grid.h): row after row, a row as a list of cells.
 *     ROW(SAY(CELL, "Tax"), NAMED(CALC(MONEY, "=ROUND(taxable_sum*tax_rate,2)", 84.2), "tax_sum"));
 * In a formula "#" is the number of its row and "[Price]" the cell of its row under that head.
 * Lack of memory is remembered in the view and every later call does nothing.  For makers only: the short names are macros. */
#ifndef PW_GRID_PEN_H
#define PW_GRID_PEN_H

#include "sheet/grid.h"
#include "sheet/table.h"

#define TEXT(...) pw_view_printf(g->of->view, __VA_ARGS__)

#define SAY(role_, text_)  ((struct pw_grid_cell){.role = PW_G_##role_, .text = (text_)})
#define NUM(role_, value_) ((struct pw_grid_cell){.role = PW_G_##role_, .value = (value_)})
#define CALC(role_, formula_, value_)                                                                                  \
  ((struct pw_grid_cell){.role = PW_G_##role_, .formula = (formula_), .value = (value_)})
#define MONEY_AS(role_, cents_) NUM(role_, pw_grid_major(g, cents_))
#define MONEY(cents_)           MONEY_AS(MONEY, cents_)
#define SKIP(n_)                ((struct pw_grid_cell){.over = (n_)-1})
#define OVER(cell_, n_)         pw_grid_over(cell_, n_)
#define NAMED(cell_, name_)     pw_grid_named(cell_, name_)

/** A list of words from the longest, for cell.texts. */
#define WORDS(...) pw_grid_texts(g, (const char *const[]){__VA_ARGS__, NULL})

#define ROW(...)                                                                                                       \
  pw_grid_row(g, (const struct pw_grid_cell[]){__VA_ARGS__},                                                           \
              (int)(sizeof((const struct pw_grid_cell[]){__VA_ARGS__}) / sizeof(struct pw_grid_cell)))
#define HEADS(...)                                                                                                     \
  pw_grid_heads(g, (const char *const[]){__VA_ARGS__},                                                                 \
                (int)(sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *)))
#define OPEN(name_, ...)                                                                                               \
  pw_grid_open(g, name_, (const double[]){__VA_ARGS__}, (int)(sizeof((const double[]){__VA_ARGS__}) / sizeof(double)))

/** The cell over n columns; the cell with a name for formulas; nothing under n columns. */
static inline struct pw_grid_cell pw_grid_over(struct pw_grid_cell cell, int n)
{
  cell.over = n - 1;
  return cell;
}
static inline struct pw_grid_cell pw_grid_named(struct pw_grid_cell cell, const char *name)
{
  cell.name = name;
  return cell;
}

/** An amount of money as its major unit. */
static inline double pw_grid_major(const struct pw_grid *g, pw_cents cents)
{
  return (double)cents / g->of->money_unit;
}

/** A copy of a NULL-ended list, which the caller made where it stands. */
const char *const *pw_grid_texts(struct pw_grid *g, const char *const *texts);

/** Names the sheet and sets its columns: widths in characters, copied. */
void pw_grid_open(struct pw_grid *g, const char *name, const double *widths, int n);
/** Title, a line below it, a gap. */
void pw_grid_title(struct pw_grid *g, const char *title, const char *subtitle);
/** The next row; n cells, copied, a formula with its places filled in. */
void pw_grid_row(struct pw_grid *g, const struct pw_grid_cell *cells, int n);
/** An empty row. */
void pw_grid_gap(struct pw_grid *g);
/** Words over the whole width. */
void pw_grid_line(struct pw_grid *g, enum pw_grid_role role, const char *text);
/** A heading of a part, over the whole width. */
void pw_grid_section(struct pw_grid *g, const char *text);
/** The same after an empty row. */
void pw_grid_part(struct pw_grid *g, const char *text);
/** Heads of columns: formulas below call the columns by them. */
void pw_grid_heads(struct pw_grid *g, const char *const *heads, int n);
/** A table that other forms show too: heads and rows. */
void pw_grid_lay(struct pw_grid *g, struct pw_told_table *t);
void pw_grid_lay_heads(struct pw_grid *g, struct pw_told_table *t);
/** `first`: number of the row that the table's first one has or will have. */
void pw_grid_lay_row(struct pw_grid *g, struct pw_told_table *t, int row, int first);
/** From the last row of heads to the last row is a table. */
void pw_grid_table(struct pw_grid *g);
/** A cell of a drawing. */
void pw_grid_spot(struct pw_grid *g, struct pw_grid_spot spot);
/** The last row is not the last of a page. */
void pw_grid_keep(struct pw_grid *g);
/** The last row is at least so many points high. */
void pw_grid_high(struct pw_grid *g, double points);
/** The last row starts a page. */
void pw_grid_page(struct pw_grid *g);
/** The last row and those above stay in sight, with the first `cols` columns. */
void pw_grid_stay(struct pw_grid *g, int cols);
/** What may be typed in columns c0..c1, counted from 0, of the last n rows. */
void pw_grid_numbers(struct pw_grid *g, int n, int c0, int c1, double low, double high, bool is_whole);
void pw_grid_words(struct pw_grid *g, int n, int c0, int c1, const char *const *words);

/** Number of the next row as formulas say it: the first is 1. */
static inline int pw_grid_next(const struct pw_grid *g) { return g->n_rows + 1; }

/** The makers, one a sheet; what one names those after it use. */
void pw_grid_inputs(struct pw_grid *g); /**< names head_count, tax_rate and the like; tells raw_pieces, crew_roles */
void pw_grid_quote(struct pw_grid *g);
void pw_grid_costs(struct pw_grid *g); /**< names price_total and the like */
void pw_grid_buy(struct pw_grid *g);   /**< names food_cost, supplies_cost, fuel_cost */
void pw_grid_time(struct pw_grid *g);
void pw_grid_maps(struct pw_grid *g);
void pw_grid_use(struct pw_grid *g);
void pw_grid_cores(struct pw_grid *g);
void pw_grid_facts(struct pw_grid *g);
void pw_grid_check(struct pw_grid *g);

#endif
