/* words.h - one rounding, one place, one name: what several sheets say about the same field, made here for all of them.
 * Amounts in the user's units are base/format.h's; here is what is rounded for a reason, counted, or named. */
#ifndef PW_SHEET_WORDS_H
#define PW_SHEET_WORDS_H

#include "base/format.h"
#include "pw/plan.h"

struct pw_arena;

/** "1 task is", "3 tasks are": a number and the words that go with it. */
struct pw_short pw_words_count(int n, const char *one, const char *many);
/** A pack's word as it is said of n: "bag", "bags"; "tray of twelve", "trays of twelve"; units that are symbols ("lb") stay.
 *  Printed as "%.*s%s%s": n_stem bytes of the word, ending, rest, which lie in it. */
struct pw_plural {
  int n_stem;
  const char *ending, *rest;
};
struct pw_plural pw_words_plural(const char *word, int n);
/** "1 guest", "40 guests". */
struct pw_short pw_words_guests(int n);
/** "1 piece", "3 pieces". */
struct pw_short pw_words_pieces(int n);
/** "plan 2, Sat 12 Jun 02:34, replaces 1" on every sheet of a mended plan; "" of a plan made from the start. */
struct pw_short pw_words_edition(const struct pw_plan *plan);

/** Whether the air at a pit's fire end differs from that at its far end. */
bool pw_words_has_ends(const struct pw_setting *set);
/** "275 °F at the fire end, 250 °F at the far end"; "285 °F all over" of a pit without ends. */
struct pw_short pw_words_ends(enum pw_units units, const struct pw_setting *set);

/** Whether a line's dish stands at the line without heat or ice, by the clock. */
bool pw_words_time_control(const struct pw_plan *plan, const struct pw_demand_line *line);
/** Whole full-size pans of a menu line: those of a side that wait somewhere (plan->lots.side_pans), else what its portions fill;
 *  0 for a dish that is not panned. */
int pw_words_pans(const struct pw_plan *plan, const struct pw_demand_line *line);
/** Portions that a weight serves: whole ones, since nobody is served a part. */
int pw_words_whole_portions(double portions);

/** Cost of the allocation to the cent; its bound down to the cent and the gap up to a tenth of a per cent, so that neither
 *  claims more than was proved. */
struct pw_short pw_words_search_cost(const struct pw_event *ev, const struct pw_allocation *allocation);
struct pw_short pw_words_bound(const struct pw_event *ev, const struct pw_allocation *allocation);
struct pw_short pw_words_gap(const struct pw_allocation *allocation);
/** Whether cost, bound and gap say something: a piece without a place weighs so much in the search that with one they say nothing. */
bool pw_words_is_proved(const struct pw_allocation *allocation);
/** How the bound came about and what may lie between it and the plan; "" where that is not known, NULL without memory. */
const char *pw_words_proof(const struct pw_event *ev, const struct pw_allocation *allocation, struct pw_arena *arena);

/** The line's supplier is called once, by the earliest order date of its lines: that one. */
int pw_words_order_by_at_min(const struct pw_plan *plan, const struct pw_purchase_line *line);

/** Cooked meat of a guest at one service beside what is usual; "" without meat.  NULL: no memory. */
const char *pw_words_meat(const struct pw_plan *plan, int service, struct pw_arena *arena);

/** "Lunch: Ribs"; the meal is named where there are several.  NULL: no memory. */
const char *pw_words_dish_at(const struct pw_event *ev, int service, int dish, struct pw_arena *arena);
/** "Lunch: Ribs instead of Brisket", "Ribs in addition": a choice of the menu.  NULL: no memory. */
const char *pw_words_choice(const struct pw_event *ev, const struct pw_quote_option *option, struct pw_arena *arena);

/** A sentence that says that no labour is in the cost and the price; NULL where some is. */
const char *pw_words_no_labour(const struct pw_event *ev, const struct pw_quote *quote);
/** The same for the customer, who sees no cost. */
const char *pw_words_no_labour_offered(const struct pw_event *ev, const struct pw_quote *quote);

#endif
