/* html_fit.h - how large a sheet is set on paper, from a guess of its height: a sheet that has one page gets the largest type, and a
 * fire's list the highest cells to write in, with which it keeps to it. */
#ifndef PW_HTML_FIT_H
#define PW_HTML_FIT_H

#include "sheet/offer.h"
#include "sheet/sheet.h"

/** Type of sheets that may go on overleaf, in pt: larger where people's are few. */
double pw_html_flow_pt(const struct pw_sheets *sheets);
/** Type of the words of a sheet, in pt. */
double pw_html_type_pt(const struct pw_sheet *sheet, double flow_pt);
/** Height of the cells of a sheet that are written in, in mm. */
double pw_html_cell_mm(const struct pw_sheet *sheet, double flow_pt);
/** Whether a sheet may go on overleaf. */
bool pw_html_is_long(const struct pw_sheet *sheet, double flow_pt);
/** Width on paper of a slip's rack: of many racks all are less wide, those where nothing goes on then by half. */
double pw_html_rack_mm(const struct pw_sheet_block *block, int rack, const struct pw_view *view);
/** Type of a quote, in pt: the largest with which it keeps to two pages. */
double pw_html_offer_pt(const struct pw_offer_sheet *offer);

#endif
