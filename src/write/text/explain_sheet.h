/* explain_sheet.h - an explained plan as text, 80 columns, and as JSON, format "pitwright-explain", version 1. */
#ifndef PW_EXPLAIN_SHEET_H
#define PW_EXPLAIN_SHEET_H

#include "base/buf.h"
#include "plan/explain/explain.h"

/** Appends the sheet.  Errors: PW_ERR_MEMORY. */
pw_status pw_text_explain(struct pw_buf *out, const struct pw_explain *explain, const struct pw_plan *plan,
                          struct pw_ctx *ctx);

/** The JSON as text in the context's arena: SI units, minor units of money, minutes as in plan.json.
 *  Errors: PW_ERR_MEMORY, PW_ERR_INTERNAL when a figure is not finite. */
pw_status pw_explain_json_text(const char **text, size_t *n, const struct pw_explain *explain,
                               const struct pw_plan *plan, struct pw_ctx *ctx);

struct pw_page;
struct pw_json_out;
/** The extract a plan carries, ten lines at most; nothing without one. */
void pw_text_brief(struct pw_page *s, const struct pw_explain *e);
/** The same as the member "explained" of an open object. */
void pw_json_brief(struct pw_json_out *o, const struct pw_plan *plan);

#endif
