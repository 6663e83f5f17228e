/* pack.h - the whole job pack into one folder: every file complete, or the folder as it was. */
#ifndef PW_WRITE_PACK_H
#define PW_WRITE_PACK_H

#include "pw/plan.h"
#include "pw/status.h"

/** Writes all sheets of the plan into `folder`, plan.json last.  *files gets the names in the order written.
 *  Errors: PW_ERR_IO with a diagnostic, PW_ERR_MEMORY, PW_ERR_INTERNAL. */
pw_status pw_pack_write(const struct pw_plan *plan, const char *folder, const char *const **files, int *n_files,
                        struct pw_ctx *ctx);

#endif
