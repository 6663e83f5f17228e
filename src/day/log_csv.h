/* log_csv.h - the log as a table: the planned lines of a day to be filled in, and such a table read as the lines it says.
 * Columns: planned, line, done, reading.  A row says "done line reading"; "x" in done, or a reading alone, means at the planned time; a row
 * with neither says nothing.  Rows may be added. */
#ifndef PW_DAY_LOG_CSV_H
#define PW_DAY_LOG_CSV_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** The table of a plan, in order of time: fires, on, core, wrapped, off.  PW_ERR_MEMORY. */
pw_status pw_log_csv_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** Whether n bytes begin with its head line; a spreadsheet's byte order mark, semicolons or tabs in the place of commas, and quotes are allowed. */
bool pw_log_csv_is(const char *text, size_t n);

/** The lines of a log it says: line k of the table is line k of *out, empty for the head and for rows that say nothing. */
void pw_log_csv_lines(struct pw_buf *out, const char *text, size_t n);

#endif
