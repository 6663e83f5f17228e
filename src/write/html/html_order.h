/* html_order.h - in which order sheets stand in the file, so that short ones share pages when it is printed. */
#ifndef PW_HTML_ORDER_H
#define PW_HTML_ORDER_H

#include "sheet/sheet.h"

/** Indices of sheets->sheets in the order to print, in the view's arena; NULL when memory is out.  Sheets of people and of fires
 *  change places among themselves so that one that is short fills the page of another; all else stays where it is. */
const int *pw_html_order(const struct pw_sheets *sheets);
/** Whether a sheet takes more than a page, by guess: it may then begin on another's. */
bool pw_html_is_long(const struct pw_sheet *sheet);

#endif
