/* text_roster.h - shifts worked out, on the owner's page. */
#ifndef PW_TEXT_ROSTER_H
#define PW_TEXT_ROSTER_H

#include "write/text/text_page.h"

/** Who of the pool comes when, what each is paid, how near it is to the least; nothing without a pool. */
void pw_text_roster(struct pw_page *s);

#endif
