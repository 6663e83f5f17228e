/* supply.h - goods and guests as they really are: wood against the hours to come, portions against who eats, and what can be done about what is
 * short, in order of cost [N3]. */
#ifndef PW_DAY_SUPPLY_H
#define PW_DAY_SUPPLY_H

#include "day/state.h"

/** Wood against what the fires still want. */
struct pw_wood_left {
  bool is_known;           /**< somebody said what is left, or what the weather is */
  double left_kg, need_kg; /**< from from_min to the last fire's end */
  int from_min;
  int out_at_min; /**< the feed for which there is none; PW_DAY_OPEN: enough */
};

/** Of a dish: portions that are wanted now and not there. */
struct pw_short_dish {
  int line; /**< of the demand */
  int lacks;
  double wanted, have; /**< portions */
};

/** The event in the weather that was logged: the plan's own without such a line.  At the line's minute the day's curve goes through its
 *  temperature; the wind stays.  PW_ERR_MEMORY. */
pw_status pw_supply_event(const struct pw_event **out, const struct pw_state *state, struct pw_ctx *ctx);

/** Of the plan that holds from now on.  Without a count: what was to be bought, less what is burnt by plan.  Errors: those of pw_fuel_make(). */
pw_status pw_supply_wood(struct pw_wood_left *out, const struct pw_state *state, const struct pw_plan *plan,
                         struct pw_ctx *ctx);

/** By demand line.  PW_ERR_MEMORY. */
pw_status pw_supply_shorts(struct pw_short_dish **out, int *n, const struct pw_state *state, struct pw_ctx *ctx);

/** Wood in one line of 80 columns at most; NULL: nobody asked, or memory is out. */
const char *pw_supply_wood_words(const struct pw_wood_left *wood, const struct pw_event *ev, struct pw_arena *arena);

/** What can be done about one short dish, the cheapest first: a line each, indented.  PW_ERR_MEMORY. */
pw_status pw_supply_choices_write(struct pw_buf *out, const struct pw_short_dish *dish, const struct pw_short_dish *all,
                                  int n_all, const struct pw_state *state, struct pw_ctx *ctx);

#endif
