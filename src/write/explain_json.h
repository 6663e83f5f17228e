/* explain_json.h - an explained plan as JSON, format "pitwright-explain", version 1. */
#ifndef PW_EXPLAIN_JSON_H
#define PW_EXPLAIN_JSON_H

#include "base/json.h"
#include "plan/explain/explain.h"

/** The JSON as text in the context's arena: SI units, minor units of money, minutes as in plan.json.
 *  Errors: PW_ERR_MEMORY, PW_ERR_INTERNAL when a figure is not finite. */
pw_status pw_explain_json_text(const char **text, size_t *n, const struct pw_explain *explain,
                               const struct pw_plan *plan, struct pw_ctx *ctx);
/** The extract that a plan carries, as the member "explained" of an open object; nothing without one. */
void pw_json_brief(struct pw_json_out *o, const struct pw_plan *plan);

#endif
