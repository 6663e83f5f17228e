/* delivery.c - dates of the purchase list, worked out backwards from the first use. */
#include "plan/buy/delivery.h"

#include "base/clock.h"

#include <limits.h>
#include <math.h>

enum { DAY_MIN = 24 * 60, LOOK_BACK_DAYS = 13, HOUR_MIN = 60 };
enum { PREP_SHORT_MIN = 3 * 60 }; /* from delivery to the fire at least: common practice, no source */

#define THAW_KG_PER_DAY 2.26796185 /* 24 h in the refrigerator per 5 lb: USDA FSIS, "The Big Thaw" (2013) */

static bool comes(const struct pw_event *ev, unsigned days, int at_min)
{
  if (days == 0)
    return true;
  struct pw_date date = ev->clock ? pw_clock_local(ev->clock, at_min).date
                                  : pw_date_from_days(pw_date_to_days(ev->date) + (int)floor((double)at_min / DAY_MIN));
  return days >> pw_date_weekday(date) & 1u;
}

struct pw_delivery pw_delivery_make(const struct pw_event *ev, int item_i, const struct pw_account *account,
                                    double piece_kg, unsigned days)
{
  const struct pw_item *item = &ev->items[item_i];
  struct pw_delivery d = {.thaw_from_at_min = INT_MIN};
  int needed = account->prep_at_min, latest = needed;
  if (item->store == PW_STORE_FROZEN && piece_kg > 0) {
    needed -= (int)ceil(piece_kg / THAW_KG_PER_DAY - 1e-9) * DAY_MIN;
    latest = d.thaw_from_at_min = needed;
  } else if (item->category == PW_CAT_BREAD || item->category >= PW_CAT_DRINK) {
    latest = account->first_service_at_min; /* needs no kitchen work: may come as late as the service */
  } else if (item->category == PW_CAT_MEAT && account->first_load_at_min - PREP_SHORT_MIN > latest) {
    latest = account->first_load_at_min - PREP_SHORT_MIN; /* what keeps a day only is prepared on the day */
  }
  int best = needed - DAY_MIN, earliest = best - LOOK_BACK_DAYS * DAY_MIN;
  if (item->keeps_min > 0 && earliest < account->last_at_min - item->keeps_min)
    earliest = account->last_at_min - item->keeps_min;
  if (best < earliest) {
    int hour = earliest + (HOUR_MIN - (earliest % HOUR_MIN + HOUR_MIN) % HOUR_MIN) % HOUR_MIN;
    best = earliest = hour <= latest ? hour : earliest;
  }
  d.is_too_short = best > latest;
  if (d.is_too_short)
    best = earliest = latest;
  int deliver = best;
  while (deliver >= earliest && !comes(ev, days, deliver))
    deliver -= DAY_MIN;
  if (deliver < earliest) {
    deliver = best;
    while (deliver <= latest && !comes(ev, days, deliver))
      deliver += DAY_MIN;
    d.has_no_day = deliver > latest;
    if (d.has_no_day)
      deliver = best;
  }
  d.deliver_at_min = deliver;
  d.order_by_at_min = deliver - item->order_ahead_min;
  return d;
}
