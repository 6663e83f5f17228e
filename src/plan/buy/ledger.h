/* ledger.h - what is needed of every item, from whom and when; between whole pieces and the purchase list. */
#ifndef PW_LEDGER_H
#define PW_LEDGER_H

#include "plan/stages.h"

/** Need of one item, before packs. */
struct pw_account {
  bool is_used;
  double amount;    /**< item units, whole pieces of cuts included */
  int pieces;       /**< of that: whole pieces of cuts ... */
  double pieces_kg; /**< ... and their raw weight */
  double *parts;    /**< amount by demand line; the last of n_lines + 1 is what no dish asked for */
  int prep_at_min;  /**< first use in the kitchen: noon, by the wall clock, before the first service's day */
  int first_service_at_min;
  int first_load_at_min; /**< meat: when the first of it goes on at the latest; prep_at_min where that is not known */
  int last_at_min;       /**< last use: raw meat the last such noon, other goods the last service's begin */
};

/** One account per item of the event: pieces by raws, uses of dishes, cuts and event by their basis.
 *  A thing counted is taken whole by each taker of a portion; what is weighed or poured follows the appetite.
 *  Reads purchase->raws.  Errors: PW_ERR_MEMORY. */
pw_status pw_ledger_make(struct pw_account **out, const struct pw_event *ev, const struct pw_demand *demand,
                         const struct pw_purchase *purchase, struct pw_ctx *ctx);

/** Share of a demand line in the pieces of its cut and service, by cooked weight on the mean. */
double pw_ledger_share_of_cut(const struct pw_event *ev, const struct pw_demand *demand, int line);

/** Raw need of a service and cut, or NULL. */
const struct pw_raw_need *pw_ledger_raw(const struct pw_purchase *purchase, int service, int cut);

#endif
