/* page_parts.h - parts that stand on several pages, or are long enough for a file of their own.  Each writes on an open page of a plan,
 * and nothing where the plan has nothing of it. */
#ifndef PW_PAGE_PARTS_H
#define PW_PAGE_PARTS_H

#include "sheet/page/page.h"

struct pw_explain;

/** What to bring for the fires, what ovens save, hot against cool end, each core, how to cool what is left. */
void pw_part_heat(struct pw_page *page);
/** The extract of an explained plan, ten lines at most. */
void pw_part_brief(struct pw_page *page, const struct pw_explain *explain);
/** What drips on what [H2], fish and nuts. */
void pw_part_safe(struct pw_page *page);
/** The chances asked, what each costs, what a late meal must cost for it to be right [R3]. */
void pw_part_levels(struct pw_page *page);
/** Ways out, or why there are none; has_lines: with the lines that make each. */
void pw_part_ways(struct pw_page *page, bool has_lines);
/** The same without their lines, where all has a place and a meal stays below its chance; nothing otherwise. */
void pw_part_ways_late(struct pw_page *page);
/** Who of the pool comes when, what each is paid, how near it is to the least [S2]. */
void pw_part_roster(struct pw_page *page);
/** What each shift worked out is there for, by fires and services, then one by one; what one hand more would buy. */
void pw_part_shift_reasons(struct pw_page *page);
/** Given shifts against the same people called as the work asks. */
void pw_part_proposal(struct pw_page *page);

#endif
