/* text_sheets.h - the sheets as plain text, 80 columns, for a terminal or a printer.
 * Each appends to *out (an arena buffer).  Same plan, same bytes.  Errors: PW_ERR_MEMORY. */
#ifndef PW_TEXT_SHEETS_H
#define PW_TEXT_SHEETS_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** For the customer: services, price, taxes, dues, other head counts.  No costs on it. */
pw_status pw_text_quote_customer(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** For the owner: costs, margin, what fewer guests do to it, chances to run out, the ladder with costs. */
pw_status pw_text_quote_owner(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** Two to four quotes side by side, `names` over the columns: prices, cost lines, margin, risks, the menus. */
pw_status pw_text_quote_compare(struct pw_buf *out, const struct pw_plan *const *plans, const char *const *names, int n,
                                struct pw_ctx *ctx);
/** What to buy, by order date and supplier, with tick boxes. */
pw_status pw_text_buy(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** Section of the plan: fuel by kind and share of a cord, what ovens save, hot against cool end, each core. */
struct pw_page;
void pw_text_heat(struct pw_page *page);
/** The plan in short: fires, meat by lot, cost and bound, shortages and ways out, warnings. */
pw_status pw_text_plan(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** The sheets of the pack, all of them (sheet/sheets.c). */
pw_status pw_text_shift(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** Before anything is planned: which zones of which pits and which ovens could take each cut at all, and what forbids the others; a large
 *  job is told as that, by the pieces of its purchase. */
pw_status pw_text_fits(struct pw_buf *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                       struct pw_ctx *ctx);

#endif
