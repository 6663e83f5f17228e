/* text_roster.h - shifts worked out, on the owner's page. */
#ifndef PW_TEXT_ROSTER_H
#define PW_TEXT_ROSTER_H

#include "write/text/text_page.h"

/** Who of the pool comes when, what each is paid, how near it is to the least; nothing without a pool. */
void pw_text_roster(struct pw_page *s);
/** What each shift worked out is there for, by fires and services, and what one hand more would buy; is_each: each shift with what
 *  the day lacks without it.  Nothing where it was not asked. */
void pw_text_shift_reasons(struct pw_page *s, bool is_each);
/** Given shifts against the same people called as the work asks; nothing where that was not asked. */
void pw_text_proposal(struct pw_page *s);

#endif
