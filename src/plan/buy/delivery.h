/* delivery.h - when goods are ordered, delivered and moved out of the freezer. */
#ifndef PW_DELIVERY_H
#define PW_DELIVERY_H

#include "plan/buy/ledger.h"

struct pw_delivery {
  int order_by_at_min, deliver_at_min;
  int thaw_from_at_min; /**< INT_MIN when nothing thaws */
  bool is_too_short;    /**< does not keep from one delivery before its first use to its last */
  bool has_no_day;      /**< the supplier does not come on any day that would do */
};

/** Dates of one item from one supplier.  Delivery is a day before the first use; later when the goods would not keep
 *  until the last; on the supplier's days: the last one before that, or else the first one after it that is still in
 *  time.  Frozen pieces are moved to the refrigerator in whole days before: 24 h per 5 lb.  `piece_kg` is the weight
 *  thawed as one piece (0: does not apply), `days` a set of weekdays 1u << 0 (Sunday) .. 1u << 6, 0 for all. */
struct pw_delivery pw_delivery_make(const struct pw_event *ev, int item, const struct pw_account *account,
                                    double piece_kg, unsigned days);

#endif
