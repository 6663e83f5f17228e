/* text_page.h - pages (sheet/page/page.h) as plain text of 80 columns: headings, paragraphs, rows of cells.  Nothing here knows what a
 * page is about.  Every text passes the gate of base/text.h on its way; trailing blanks are never written. */
#ifndef PW_TEXT_PAGE_H
#define PW_TEXT_PAGE_H

#include "base/buf.h"
#include "base/ctx.h"
#include "sheet/page/page.h"

enum { PW_PAGE_COLUMNS = 80 };

/** Appends a page to a buffer of an arena.  Errors: PW_ERR_MEMORY, also when the page was not finished for lack of it. */
pw_status pw_text_page(struct pw_buf *out, const struct pw_page *page);

#endif
