/* allocate_order.h - the allocation problem in an order of its own: pits, finishers and lots by id.
 * The event has them as its file does, which is the order served; the search breaks ties by index and draws lots by number, so
 * without this the same yard written in another order would get another plan. */
#ifndef PW_ALLOCATE_ORDER_H
#define PW_ALLOCATE_ORDER_H

#include "plan/stages.h"

/** Event, lots and rates in order of id, and the way back. */
struct pw_al_order {
  struct pw_event ev;
  struct pw_lots lots;
  struct pw_fuel_rates rates;
  int *pit, *finisher, *zone, *lot; /**< [in order of id] index as given */
};

/** Makes it; what is given stays as it is and is shared.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_order_make(struct pw_al_order *out, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, struct pw_ctx *ctx);

/** Turns the indices of a plan made in order of id into those given, and sorts its lists again by them.  The hint stays: it is read
 *  in order of id only.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_order_back(struct pw_allocation *a, const struct pw_al_order *order, struct pw_ctx *ctx);

#endif
