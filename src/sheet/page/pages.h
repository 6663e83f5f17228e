/* pages.h - the pages that are printed beside the sheets of the crew, one maker each.  A maker opens the page and writes all of it; same
 * input, same page.  Errors: PW_ERR_MEMORY.  A new page is one more maker here; a new line of one is one more in its maker. */
#ifndef PW_PAGES_H
#define PW_PAGES_H

#include "plan/joint/joint.h"
#include "sheet/page/page.h"

struct pw_curve;
struct pw_explain;
struct pw_season;

/** The plan in short: fires, meat by lot, cost and bound, shortages and ways out, warnings. */
pw_status pw_page_plan(struct pw_page *page, const struct pw_plan *plan, struct pw_ctx *ctx);
/** For the customer: services, price, taxes, dues, other head counts.  No costs on it. */
pw_status pw_page_offer(struct pw_page *page, const struct pw_plan *plan, struct pw_ctx *ctx);
/** For the owner: costs, margin, what fewer guests do to it, chances to run out, the ladder with costs. */
pw_status pw_page_costs(struct pw_page *page, const struct pw_plan *plan, struct pw_ctx *ctx);
/** What to buy, by order date and supplier, with tick boxes. */
pw_status pw_page_buy(struct pw_page *page, const struct pw_plan *plan, struct pw_ctx *ctx);
/** Two to four quotes side by side, `names` over the columns: prices, cost lines, margin, risks, the menus. */
pw_status pw_page_compare(struct pw_page *page, const struct pw_plan *const *plans, const char *const *names, int n,
                          struct pw_ctx *ctx);
/** Before anything is planned: which zones of which pits and which ovens could take each cut at all, and what forbids the others; a
 *  large job is told as that, by the pieces of its purchase. */
pw_status pw_page_fits(struct pw_page *page, const struct pw_event *ev, const struct pw_purchase *purchase,
                       struct pw_ctx *ctx);
/** What each fire is for, where room is worth most, how near the best it is, what drips on what. */
pw_status pw_page_explain(struct pw_page *page, const struct pw_explain *explain, const struct pw_plan *plan,
                          struct pw_ctx *ctx);

/** How many times what changed can be told in fewer lines. */
enum { PW_AGAINST_BREVITIES = 5 };
/** What changed between two plans, each with its event, in words; of a plan against itself it says that nothing changed.
 *  `brevity` from 0, all of it, to PW_AGAINST_BREVITIES - 1. */
pw_status pw_page_against(struct pw_page *page, const struct pw_plan *before, const struct pw_plan *now, int brevity,
                          struct pw_ctx *ctx);

/** What a curve's page is about. */
struct pw_curve_head {
  const struct pw_cut *cut;
  const char *place;  /**< "Small offset, main rack, hot end, 269 °F" */
  const char *remark; /**< further line under the title, or NULL */
};
/** The core curve of one cut in one place: what it says beside what the Food Code, FSIS and the catalog ask, then a row for each point:
 *  time, core, surface, share of the weight gone as steam, log reduction, and a plot: `o` core, `.` surface, `|` air.  The curve must
 *  have points (PW_ERR_INTERNAL). */
pw_status pw_page_curve(struct pw_page *page, const struct pw_curve *curve, const struct pw_curve_head *head,
                        const struct pw_event *ev, struct pw_ctx *ctx);

/** The season: jobs by date, where two of them meet, what to order, what is to come in, money by state. */
pw_status pw_page_season(struct pw_page *page, const struct pw_season *season, struct pw_ctx *ctx);

/** A joint plan and each job planned alone (its quote is the customer's). */
struct pw_joint_plan {
  const struct pw_joint *joint;
  const struct pw_plan *plan;
  const struct pw_plan *const *alone;
  const struct pw_joint_shares *shares;
};
/** The owner's page of several jobs: what each bears, whose fire is whose, purchases joined and by job. */
pw_status pw_page_jobs(struct pw_page *page, const struct pw_joint_plan *jobs, struct pw_ctx *ctx);

#endif
