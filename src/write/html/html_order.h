/* html_order.h - in which order sheets stand in the file, so that short ones share pages when it is printed. */
#ifndef PW_HTML_ORDER_H
#define PW_HTML_ORDER_H

#include "sheet/sheet.h"

/** Indices of sheets->sheets in the order to print, in the view's arena; NULL when memory is out.  Sheets of people and of fires
 *  change places among themselves so that one that is short fills the page of another; all else stays where it is. */
const int *pw_html_order(const struct pw_sheets *sheets);
/** Width on paper of a slip's rack: of many racks all are less wide, those where nothing goes on then by half. */
double pw_html_rack_mm(const struct pw_sheet_block *block, int rack, const struct pw_view *view);
/** Whether a sheet may go on overleaf, and so begin on another's page: a person's of more than half a page, by guess. */
bool pw_html_is_long(const struct pw_sheet *sheet);

#endif
