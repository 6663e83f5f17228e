/* customer_words.h - what the customer's pages say beside menu and price: what is included, how long the offer stands,
 * cautions.  Words only, no costs; the same on text and page. */
#ifndef PW_CUSTOMER_WORDS_H
#define PW_CUSTOMER_WORDS_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Lines of "what is included", from style, crew and supplies of the event, then the terms' own.  Errors: PW_ERR_MEMORY. */
pw_status pw_customer_included(const char *const **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx);
/** Cautions for the customer: allergens, leftovers, fire; with a safety basis, food served below Food Code temperatures. */
pw_status pw_customer_cautions(const char *const **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx);
/** "This offer is valid until Wed 31 Mar 2027." or "... for 30 days."; NULL out of memory. */
const char *pw_customer_valid(const struct pw_event *ev, struct pw_ctx *ctx);

#endif
