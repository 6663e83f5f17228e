/* page_words.h - money and times as several pages word them. */
#ifndef PW_PAGE_WORDS_H
#define PW_PAGE_WORDS_H

#include "sheet/page/page.h"

/** "$1,234.50", in the money of the page's event. */
const char *pw_words_money(struct pw_page *page, pw_cents cents);
/** "Sat 12 Jun 05:35-17:30"; the second day where it is another. */
const char *pw_words_span(struct pw_page *page, int from_at_min, int to_at_min);
/** The same in words, of a shift: "Sat 12 Jun 05:35 to 17:30", by the clock alone at its end. */
const char *pw_words_shift(struct pw_page *page, int from_at_min, int to_at_min);

#endif
