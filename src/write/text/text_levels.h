/* text_levels.h - what being ready on time costs, as a table. */
#ifndef PW_TEXT_LEVELS_H
#define PW_TEXT_LEVELS_H

#include "write/text/text_page.h"

/** The chances asked, what each costs, what a late meal must cost for it to be right; nothing when none were planned. */
void pw_text_levels(struct pw_page *s);

#endif
