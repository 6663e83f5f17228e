/* xlsx_notes.c - the two sheets that say why: assumptions with their sources, and the plan check. */
#include "sheet/words.h"
#include "write/xlsx/xlsx_book.h"

#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

void pw_xlsx_facts_write(struct book *b)
{
  enum { COLS = 4 };
  struct sheet s;
  pw_sheet_open(b, &s, "Assumptions", true);
  s.least_scale = 0.85;
  pw_sheet_columns(&s, (double[]){29, 34, 45, 46}, COLS);
  pw_sheet_title(&s, TEXT("Assumptions and sources: %s", b->ev->name),
                 "Every number from a catalog or the event file that this plan used.", COLS - 1);
  pw_sheet_head_row(&s, s.row, 0);
  int head = s.row++;
  for (int i = 0; i < b->view->n_facts; i++, s.row++) {
    const struct pw_view_fact *f = &b->view->facts[i];
    pw_put_text(&s, s.row, 0, f->group, ST_SMALL);
    pw_put_text(&s, s.row, 1, f->what, ST_SMALL);
    pw_put_text(&s, s.row, 2, f->value, ST_SMALL);
    pw_put_text(&s, s.row, 3, f->source, ST_SMALL);
  }
  pw_sheet_table(&s, head, 0, s.row - 1, (const char *const[]){"Of what", "What", "Value", "Source"}, COLS);
  pw_sheet_close(&s);
}

static const char *stop_word(enum pw_stop stop)
{
  static const char *const words[] = {"the asked-for gap was reached", "the work limit was reached",
                                      "the time limit was reached"};
  return words[stop];
}

static void check_row(struct sheet *s, const char *what, const char *value)
{
  pw_put_text(s, s->row, 0, what, ST_LABEL);
  pw_put_merged(s, s->row, 1, s->row, 4, value, ST_VALUE);
  s->row++;
}

static const char *price_words(struct book *b, const struct pw_quote *q)
{
  return TEXT("%s per guest, %s in all with tax", pw_money_format(b->ev, q->per_guest_cents).s,
              pw_money_format(b->ev, q->total_cents).s);
}

static void lot_rows(struct book *b, struct sheet *s)
{
  const struct pw_allocation *al = &b->plan->allocation;
  pw_put_heads(s, s->row++,
               (const char *const[]){"Lot", "Pieces", "Placed", "Without a place", "Placed and missed make all"}, 5);
  for (int i = 0; i < b->plan->lots.n_lots; i++, s->row++) {
    const struct pw_lot *lot = &b->plan->lots.lots[i];
    int placed = 0;
    for (int k = 0; k < al->n_loads; k++)
      placed += al->loads[k].lot == i && al->loads[k].stage == PW_LOAD_SMOKE ? al->loads[k].pieces : 0;
    bool adds_up = placed + al->missed[i] == lot->pieces;
    pw_put_text(
        s, s->row, 0,
        TEXT("%s: %s, %s", b->view->lot_mark[i], b->ev->cuts[lot->cut].name, pw_view_service(b->view, lot->service)),
        ST_TEXT);
    pw_put_number(s, s->row, 1, lot->pieces, ST_COUNT);
    pw_put_number(s, s->row, 2, placed, ST_COUNT);
    pw_put_number(s, s->row, 3, al->missed[i], ST_COUNT);
    pw_put_text(s, s->row, 4, adds_up ? "yes" : "NO", ST_TEXT_BOLD);
  }
}

void pw_xlsx_check_write(struct book *b)
{
  const struct pw_event *ev = b->ev;
  const struct pw_allocation *al = &b->plan->allocation;
  struct sheet s;
  pw_sheet_open(b, &s, "Plan check", false);
  s.least_scale = 0.8;
  pw_sheet_columns(&s, (double[]){44, 12, 12, 14, 16}, 5);
  pw_sheet_title(&s, TEXT("Plan check: %s", ev->name), "How good the plan is, and what a person should look at.", 4);
  check_row(&s, "Allocation", pw_view_outcome_word(al->outcome));
  const char *untold = al->n_missed > 0 ? "not told: pieces have no place" : "not proved";
  bool is_proved = pw_words_is_proved(al);
  check_row(&s, "Cost of the allocation", al->n_missed > 0 ? untold : TEXT("%s", pw_words_search_cost(ev, al).s));
  check_row(&s, "Proved bound: no plan costs less than", is_proved ? TEXT("%s", pw_words_bound(ev, al).s) : untold);
  check_row(&s, "Gap between the two, of the cost", is_proved ? TEXT("%s", pw_words_gap(al).s) : untold);
  check_row(&s, "The search ended because", stop_word(al->stopped_by));
  for (int j = 0; j < b->plan->n_jobs; j++)
    check_row(&s, TEXT("Price, %s", b->plan->jobs[j].name), price_words(b, &b->plan->jobs[j].alone->quote));
  if (b->plan->n_jobs == 0)
    check_row(&s, "Price as planned", price_words(b, &b->plan->quote));
  check_row(&s, "Each dish lasts with a chance of at least", TEXT("%s", pw_format_percent(ev->terms.cover_frac).s));
  s.row++;
  lot_rows(b, &s);
  if (al->n_shortages > 0) {
    s.row++;
    pw_put_merged(&s, s.row, 0, s.row, 4, "What is short", ST_SECTION);
    s.row++;
    for (int i = 0; i < al->n_shortages; i++, s.row++)
      pw_put_merged(&s, s.row, 0, s.row, 4, al->shortages[i].text, ST_TEXT_BOLD);
  }
  for (int i = 0; i < b->plan->n_shortfalls; i++, s.row++)
    pw_put_merged(&s, s.row, 0, s.row, 4, TEXT("Missing at the table: %s", b->plan->shortfalls[i].text), ST_TEXT_BOLD);
  if (al->n_remedies > 0) {
    s.row++;
    pw_put_merged(&s, s.row, 0, s.row, 4, "Ways out", ST_SECTION);
    s.row++;
    for (int i = 0; i < al->n_remedies; i++, s.row++)
      pw_put_merged(&s, s.row, 0, s.row, 4,
                    TEXT("%s: %s%s, then %d %s without a place (lines for the event file: plan.txt)",
                         al->remedies[i].what, al->remedies[i].cost_cents > 0 ? "+" : "",
                         pw_money_format(ev, al->remedies[i].cost_cents).s, al->remedies[i].missed_after,
                         pw_view_pieces(al->remedies[i].missed_after)),
                    ST_TEXT);
  }
  s.row++;
  pw_put_merged(&s, s.row, 0, s.row, 4, "Warnings", ST_SECTION);
  s.row++;
  if (b->plan->n_warnings == 0)
    pw_put_merged(&s, s.row, 0, s.row, 4, "None.", ST_TEXT);
  for (int i = 0; i < b->plan->n_warnings; i++, s.row++)
    pw_put_merged(&s, s.row, 0, s.row, 4, b->plan->warnings[i].text, ST_TEXT);
  pw_sheet_close(&s);
}
