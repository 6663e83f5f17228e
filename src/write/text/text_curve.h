/* text_curve.h - the core curve of one cut in one place, as a table with a small plot. */
#ifndef PW_TEXT_CURVE_H
#define PW_TEXT_CURVE_H

#include "base/buf.h"
#include "heat/curve.h"

/** What the page is about. */
struct pw_curve_head {
  const struct pw_cut *cut;
  const char *place;  /**< "Small offset, main rack, hot end, 269 °F" */
  const char *remark; /**< further line under the title, or NULL */
};

/** One line for each point: time, core, surface, share of the weight gone as steam, log reduction, and the plot: `o` core,
 *  `.` surface, `|` air.  Then the figures beside what the Food Code, FSIS and the catalog ask.  The curve must have points
 *  (PW_ERR_INTERNAL).  Errors: PW_ERR_MEMORY. */
pw_status pw_text_curve(struct pw_buf *out, const struct pw_curve *curve, const struct pw_curve_head *head,
                        const struct pw_event *ev, struct pw_ctx *ctx);

#endif
