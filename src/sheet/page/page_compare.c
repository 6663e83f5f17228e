/* page_compare.c - quotes of several events side by side: price, cost lines, margin, what may go wrong, the menus.
 * In: plans with their quotes.  Out: one sheet for the owner; with two of them also what the second has more or less. */
#include "base/when.h"
#include "plan/demand/meat.h"
#include "sheet/costs.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <math.h>
#include <string.h>

enum { MOST = 4, WIDTH = 12, LABEL = 27 };

struct table {
  struct pw_page *page;
  const struct pw_plan *const *plans;
  int n;
};

static const char letters[MOST][2] = {"A", "B", "C", "D"};

/* A row: label and one text for each column, set right; `last` stands under "B - A" or is NULL. */
static void row(struct table *t, const char *label, const char *const *texts, const char *last)
{
  const char *cells[MOST + 2] = {label};
  for (int i = 0; i < t->n; i++)
    cells[i + 1] = texts[i];
  cells[t->n + 1] = last;
  pw_page_cells(t->page, 0, cells, last ? t->n + 2 : t->n + 1);
}

static const char *money(struct table *t, int plan, pw_cents cents)
{
  return pw_words(t->page, "%s", pw_money_format(t->plans[plan]->event, cents).s);
}

static const char *share(struct table *t, double frac) { return pw_words(t->page, "%s", pw_format_percent(frac).s); }

static void money_row(struct table *t, const char *label, const pw_cents *cents)
{
  const char *texts[MOST] = {NULL};
  for (int i = 0; i < t->n; i++)
    texts[i] = money(t, i, cents[i]);
  pw_cents more = t->n == 2 ? cents[1] - cents[0] : 0;
  row(t, label, texts,
      t->n != 2 ? NULL : pw_words(t->page, "%s%s", more > 0 ? "+" : "", pw_money_format(t->page->ev, more).s));
}

static void share_row(struct table *t, const char *label, const double *fracs)
{
  const char *texts[MOST] = {NULL};
  for (int i = 0; i < t->n; i++)
    texts[i] = share(t, fracs[i]);
  row(t, label, texts, NULL);
}

static void count_row(struct table *t, const char *label, const int *counts, const char *none)
{
  const char *texts[MOST] = {NULL};
  for (int i = 0; i < t->n; i++)
    texts[i] = counts[i] > 0 ? pw_words(t->page, "%d", counts[i]) : none;
  row(t, label, texts, NULL);
}

#define EACH(type, array, value)                                                                                       \
  type array[MOST] = {0};                                                                                              \
  for (int i = 0; i < t->n; i++) {                                                                                     \
    const struct pw_quote *q = &t->plans[i]->quote;                                                                    \
    (array)[i] = (value);                                                                                              \
  }

#define MONEY_ROW(label, value)                                                                                        \
  do {                                                                                                                 \
    EACH(pw_cents, cents, value)                                                                                       \
    money_row(t, label, cents);                                                                                        \
  } while (0)

#define SHARE_ROW(label, value)                                                                                        \
  do {                                                                                                                 \
    EACH(double, fracs, value)                                                                                         \
    share_row(t, label, fracs);                                                                                        \
  } while (0)

static void prices(struct table *t)
{
  EACH(int, guests, q->guests)
  count_row(t, "Guests", guests, "0");
  MONEY_ROW("Price per guest", q->per_guest_cents);
  MONEY_ROW("Price", q->price_cents);
  MONEY_ROW("Total with charges, taxes", q->total_cents);
  MONEY_ROW("Deposit", q->deposit_cents);
  pw_page_blank(t->page);
  int n_lines;
  const struct pw_cost_line *lines = pw_cost_lines(&n_lines);
  for (int k = 0; k < n_lines; k++)
    MONEY_ROW(lines[k].brief, pw_cost_of_quote(&lines[k], q));
  MONEY_ROW("Cost", q->cost_cents);
  MONEY_ROW("Cost per guest", q->guests > 0 ? (pw_cents)llround((double)q->cost_cents / q->guests) : 0);
  pw_page_blank(t->page);
  MONEY_ROW("Contribution", q->contribution_cents);
  MONEY_ROW("Profit", q->price_cents - q->discount_cents - q->cost_cents);
  SHARE_ROW("  of the price", q->margin_frac);
  SHARE_ROW("  if a tenth fewer come", q->fewer.margin_frac);
  SHARE_ROW("Food of the price", q->food_share_frac);
  MONEY_ROW("Food and crew", q->prime_cents);
  EACH(int, pays, q->break_even_guests)
  const char *texts[MOST] = {NULL};
  for (int i = 0; i < t->n; i++)
    texts[i] = pays[i] > 0 ? pw_words(t->page, "%d", pays[i]) : pays[i] == PW_NONE ? "at none" : "at all";
  row(t, "Pays from so many guests on", texts, NULL);
}

static void risks(struct table *t)
{
  double runs_out[MOST] = {0};
  int missed[MOST] = {0}, warnings[MOST] = {0};
  const char *kept[MOST], *meat[MOST];
  for (int i = 0; i < t->n; i++) {
    const struct pw_purchase *p = &t->plans[i]->purchase;
    double left_kg = 0;
    for (int r = 0; r < p->n_raws; r++) {
      runs_out[i] = fmax(runs_out[i], p->raws[r].runout_frac);
      left_kg += p->raws[r].leftover_kg;
    }
    double most_kg = 0;
    for (int s = 0; s < t->plans[i]->event->n_services; s++)
      most_kg = fmax(most_kg, pw_meat_per_guest_kg(t->plans[i]->event, &t->plans[i]->demand, s));
    meat[i] = pw_words(t->page, "%s", pw_format_weight(t->page->ev->units, most_kg).s);
    kept[i] = pw_words(t->page, "%s", pw_format_weight(t->page->ev->units, left_kg).s);
    missed[i] = t->plans[i]->allocation.n_missed;
    warnings[i] = t->plans[i]->n_warnings;
  }
  pw_page_blank(t->page);
  row(t, "Most cooked meat per guest", meat, NULL);
  share_row(t, "Likeliest meat to run out", runs_out);
  row(t, "Meat left over, on average", kept, NULL);
  count_row(t, "Pieces without a place", missed, "none");
  count_row(t, "Things to look at", warnings, "none");
}

/* A dish's line in a plan: the first service that has it; PW_NONE. */
static int line_of(const struct pw_plan *plan, const char *dish)
{
  for (int i = 0; i < plan->demand.n_lines; i++)
    if (strcmp(plan->event->dishes[plan->demand.lines[i].dish].name, dish) == 0)
      return i;
  return PW_NONE;
}

/* Every dish of any menu, with what a portion's food costs where it is served. */
static void menus(struct table *t)
{
  pw_page_head(t->page, "Food in a portion");
  for (int p = 0; p < t->n; p++)
    for (int l = 0; l < t->plans[p]->demand.n_lines; l++) {
      const char *name = t->plans[p]->event->dishes[t->plans[p]->demand.lines[l].dish].name, *texts[MOST];
      bool is_said = line_of(t->plans[p], name) != l;
      for (int before = 0; before < p && !is_said; before++)
        is_said = line_of(t->plans[before], name) != PW_NONE;
      if (is_said)
        continue;
      for (int i = 0; i < t->n; i++) {
        int at = line_of(t->plans[i], name);
        texts[i] = at == PW_NONE ? "-" : money(t, i, (pw_cents)llround(t->plans[i]->purchase.dishes[at].portion_cents));
      }
      row(t, name, texts, NULL);
    }
}

pw_status pw_page_compare(struct pw_page *page, const struct pw_plan *const *plans, const char *const *names, int n,
                          struct pw_ctx *ctx)
{
  struct table table = {page, plans, n}, *t = &table;
  struct pw_page_column columns[MOST + 2] = {{0, LABEL, PW_CELL_WHAT, ""}};
  *page = pw_page_open(plans[0], plans[0]->event, ctx);
  pw_page_title(t->page, "Quotes side by side", "For the owner only");
  bool is_one_currency = true;
  for (int i = 0; i < n; i++) {
    const struct pw_event *ev = plans[i]->event;
    pw_page_say(t->page, 0, 3, "%s  %s, %s, %s", letters[i], names[i], ev->name, pw_when_date(ev->date).s);
    columns[i + 1] = (struct pw_page_column){1, WIDTH, PW_CELL_AMOUNT, letters[i]};
    is_one_currency = is_one_currency && strcmp(ev->currency, plans[0]->event->currency) == 0;
  }
  if (!is_one_currency)
    pw_page_para(t->page, 0, 0, "They are in different currencies: compare shares, not sums.");
  pw_page_blank(t->page);
  columns[n + 1] = (struct pw_page_column){1, WIDTH, PW_CELL_AMOUNT, "B less A"};
  pw_page_table(page, columns, n == 2 ? n + 2 : n + 1);
  prices(t);
  risks(t);
  menus(t);
  return pw_page_done(page);
}
