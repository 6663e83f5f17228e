/* plan_check.h - the independent judge: is this plan file true to its own rules?
 *
 * It knows the plan file and nothing else: no event, no model, no search, no rack layout.  It recomputes
 *   [J0]  form: keys, types, ranges, names that are unique, references that lead somewhere; zone, head count, grid
 *   [J1]  every piece is placed once
 *   [J2]  stages follow each other without a gap: what leaves one at a minute enters the next at that minute
 *   [J3]  every load lasts what stage_times says for its place
 *   [J4]  temperatures within the cut's range
 *   [J5]  geometry: inside the zone and the rack's outline, right size, clear height, no overlap in space and time
 *   [J6]  room in ovens and boxes at every instant, pans of sides counted; as many pans as the portions need
 *   [J7]  fire: ready before the first load, burning until the last is out, feeds inside the burn and adding up; wood and charcoal
 *         against the heat, what is bought against what burns
 *   [J8]  rest long enough, hold short enough, in time for the service
 *   [J9]  tasks inside the shifts, work within the hands of every half hour and every minute
 *   [J10] money adds up to the cent: lines to the cost, price to the total on the right base of the tax, deposit and dues to the
 *         total; roles, services and dishes to what they divide; head counts of the ladder priced and paying as said
 *   [J11] outcome, cost, bound and gap agree; the cost is the sum of its parts, each worked out again; what each fire is for
 *   [J12] demand and pieces follow from the guests, every item from what it is for; demand covered, purchases priced right, ordered once, orders and fees in the cost, mixes' parts bought
 *   [J13] cores: the coolest place of each lot; its rule, warm-up and lethality met or warned of; boxes hot enough
 *   [J14] cooked the day before: chilled, cold and reheated within the Food Code's times, room in the ovens, tasks for it
 *   [J15] order of work: what pieces, their spots, fires, goods, services and people ask to be over first is over; every load has
 *         its tasks; "after" says so and never goes round; one person is at one thing in one place; how late each task may begin
 *   [J16] doors: food goes on and comes off in visits of its pit, half an hour apart or for a reason; tasks belong to visits, fires
 *         count them
 *   [J19] a mended plan: what was before now is fact and not judged; nothing new begins before now; loads last what stage_times says times the
 *         pace believed of them; who is late and how late is told
 *   [J21] shifts worked out from a crew pool: as long as the pool and the rules allow, breaks, rest between two of one person, pay;
 *         somebody awake at every fire, enough people for the guests, or a warning that there are not
 *   [J22] waves: a service's guests come by shares, the lots of a cut are its waves with the pieces and times that follow; no piece is
 *         held whole or in pans beyond what it may be up to the last plate, or a warning says so
 *   [J23] every oven and every hot box is heated to its temperature before food goes in, and again where it stood empty for long
 * and reports everything found in one run as diagnostics whose code is the label and whose text begins with the
 * JSON path: "loads[3].rects[1]: overlaps loads[0].rects[2] ...".  Rules whose sections have faults of form are not
 * tried; a note says which. */
#ifndef PW_PLAN_CHECK_H
#define PW_PLAN_CHECK_H

#include "base/ctx.h"

#include <stddef.h>

/** Judges json[0..n).  `file` is the name for the diagnostics and must outlive the context (NULL: none).
 *  PW_OK means that it was judged: look at *n_findings.  PW_ERR_INPUT: not JSON (with line and column), or no plan of
 *  this version; PW_ERR_MEMORY. */
pw_status pw_plan_check_text(const char *file, const char *json, size_t n, int *n_findings, struct pw_ctx *ctx);

/** The same for a file; "-" is standard input.  Also PW_ERR_IO. */
pw_status pw_plan_check_file(const char *path, int *n_findings, struct pw_ctx *ctx);

#endif
