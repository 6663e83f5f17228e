/* html_sheets.h - the pack's sheets as sections of a page. */
#ifndef PW_HTML_SHEETS_H
#define PW_HTML_SHEETS_H

#include "sheet/sheet.h"
#include "write/html/html_page.h"

/** Index of people and sheets, then every sheet. */
void pw_html_sheets(struct html *h, const struct pw_sheets *sheets);
/** Changes with any word of the sheets. */
unsigned long long pw_html_sheets_digest(const struct pw_sheets *sheets);

#endif
