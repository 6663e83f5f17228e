/* html.h - the job as two HTML files that need nothing else: no network, no script, print rules inside. */
#ifndef PW_HTML_H
#define PW_HTML_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** Everything the crew needs, no prices: overview, cautions, timeline, rack maps, shift sheets (all, and a page per
 *  role), fire list, purchases, prep, logs, serving and allergens.  Appends to *out.  Same plan, same bytes.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_html_crew_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** For the customer: services, menu with allergens, price, payments, other head counts.  No costs.  As above. */
pw_status pw_html_customer_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
