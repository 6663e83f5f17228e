/* plan_check_order.h - the judge's order of work [J15] in parts: what must be over before what begins.
 * Each part draws pairs of tasks from loads, burns, purchases, services and people; plan_check_order.c asks of every pair
 * that the minutes and the plan's own "after" keep it.  Nothing here believes what the plan calls an order. */
#ifndef PW_PLAN_CHECK_ORDER_H
#define PW_PLAN_CHECK_ORDER_H

#include "judge/read_plan.h"

#include <stddef.h>

/** Task `before` is over when task `after` begins. */
struct pw_order_pair {
  int before, after;
  const char *why; /**< static words: "pieces of one lot" */
};

/** The tasks of each piece of a lot and the loads it is in. */
struct pw_order_lot {
  size_t *first; /**< piece p has tasks[first[p]] .. tasks[first[p + 1]], in the order of the work */
  int *tasks;
  int *loads; /**< load of piece p in stage s at p * 4 + s, PW_SEEN_NONE */
};

struct pw_order {
  struct pw_judge *judge;
  const struct pw_seen_plan *plan;
  struct pw_order_lot *lots;
  struct pw_order_pair *pairs;
  size_t n, cap;
  bool has_no_memory; /**< sticky; what follows is void */
};

/** Minutes the plan itself says that this task begins late, in a warning that names it; 0: it says nothing. */
int pw_order_told_late(const struct pw_seen_task *task);
void pw_order_pair_add(struct pw_order *o, int before, int after, const char *why);
/** The task of a piece that is one of the kinds (1u << enum pw_seen_task_kind), the last of them; PW_SEEN_NONE. */
int pw_order_task_of(const struct pw_order *o, int lot, int piece, unsigned long long kinds);
/** Cooking load of the piece that comes last, PW_SEEN_NONE. */
int pw_order_last_cook(const struct pw_order *o, int lot, int piece);
/** The tasks that put a piece into its load and take it out again; PW_SEEN_NONE. */
int pw_order_puts_in(const struct pw_order *o, int lot, int piece, int load);
int pw_order_takes_out(const struct pw_order *o, int lot, int piece, int load);

/** Fills lots: pieces with their tasks and loads; finds pieces that are not there. */
void pw_order_read_pieces(struct pw_order *o);
/** Each piece's own chain, and the tasks its loads ask for. */
void pw_order_pieces(struct pw_order *o);
/** A spot on a rack is free before the next piece lies there. */
void pw_order_spots(struct pw_order *o);
/** Mops: scratched first, none shortly before the wrap. */
void pw_order_mops(struct pw_order *o);
/** Lit, clean, loaded, empty, burnt down, ash out; every feed in the list. */
void pw_order_fires(struct pw_order *o);
/** Ovens and boxes are hot before food goes in [J23]. */
void pw_order_heat(struct pw_order *o);
/** Ordered, taken in, used. */
void pw_order_goods(struct pw_order *o);
/** Set up, panned up, served, cleared, cooled, read again. */
void pw_order_services(struct pw_order *o);
/** One thing at a time, in one place, on shift. */
void pw_order_people(struct pw_order *o);
/** How late each task may begin. */
void pw_order_latest(struct pw_order *o);
/** Until when loads, wraps and takings off are still in time. */
void pw_order_slack(struct pw_order *o);

#endif
