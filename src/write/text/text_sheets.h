/* text_sheets.h - pages and sheets as plain text, 80 columns, for a terminal or a printer: what is on them is sheet/page/pages.h's and
 * sheet/sheet.h's.  Each appends to *out (an arena buffer).  Same input, same bytes.  Errors: PW_ERR_MEMORY. */
#ifndef PW_TEXT_SHEETS_H
#define PW_TEXT_SHEETS_H

#include "base/buf.h"
#include "sheet/page/pages.h"

pw_status pw_text_quote_customer(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
pw_status pw_text_quote_owner(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
pw_status pw_text_quote_compare(struct pw_buf *out, const struct pw_plan *const *plans, const char *const *names, int n,
                                struct pw_ctx *ctx);
pw_status pw_text_buy(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
pw_status pw_text_plan(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
pw_status pw_text_explain(struct pw_buf *out, const struct pw_explain *explain, const struct pw_plan *plan,
                          struct pw_ctx *ctx);
pw_status pw_text_fits(struct pw_buf *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                       struct pw_ctx *ctx);
/** On one page, whatever changed: told in fewer lines until it fits. */
pw_status pw_text_against(struct pw_buf *out, const struct pw_plan *before, const struct pw_plan *now,
                          struct pw_ctx *ctx);
/** Also PW_ERR_INTERNAL, of a curve without points. */
pw_status pw_text_curve(struct pw_buf *out, const struct pw_curve *curve, const struct pw_curve_head *head,
                        const struct pw_event *ev, struct pw_ctx *ctx);
pw_status pw_text_season(struct pw_buf *out, const struct pw_season *season, struct pw_ctx *ctx);
pw_status pw_text_jobs(struct pw_buf *out, const struct pw_joint_plan *jobs, struct pw_ctx *ctx);
/** The sheets of the pack, all of them (sheet/sheets.c). */
pw_status pw_text_shift(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
