/* xlsx.h - the job as a workbook (Office Open XML). */
#ifndef PW_XLSX_H
#define PW_XLSX_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Sheets of a workbook: its own and a tab for each row of the list of sheets. */
int pw_xlsx_n_sheets(void);

/** Writes the whole workbook to `path` (replacing it; the caller renames).  Sheets: the job, inputs, quote, costs,
 *  purchases, all sheets of the crew (sheet/sheets.c), the timeline, rack maps, use over time, core temperatures, assumptions, plan check.
 *  Amounts on costs, quote and purchases are formulas over the inputs, with the plan's values beside them.
 *  Same plan, same bytes.  The library works in a child process, because it crashes when memory runs out inside it; the
 *  file is then read back and checked.  `said`: the name it will have, for faults.  Errors: PW_ERR_IO (nothing is left under `path`),
 *  PW_ERR_MEMORY, PW_ERR_INTERNAL when the library refuses something. */
pw_status pw_xlsx_write(const struct pw_plan *plan, const char *path, const char *said, struct pw_ctx *ctx);

/** The building alone, in this process and without the reading back; for tests. */
pw_status pw_xlsx_build(const struct pw_plan *plan, const char *path, const char *said, struct pw_ctx *ctx);

/** Re-opens a finished workbook: the directory of the archive is complete, every part inflates to its stated
 *  size and checksum, is UTF-8, and each XML part ends with its root's end tag.  Errors: PW_ERR_IO, PW_ERR_MEMORY. */
pw_status pw_xlsx_verify(const char *path, const char *said, int n_sheets, struct pw_ctx *ctx);

#endif
