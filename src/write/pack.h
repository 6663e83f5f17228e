/* pack.h - the whole job pack into one folder: every file complete, or the folder as it was. */
#ifndef PW_WRITE_PACK_H
#define PW_WRITE_PACK_H

#include "base/ctx.h"
#include "pw/plan.h"

/** A file that goes along as it is. */
struct pw_plan_file {
  const char *name;
  const char *text;
  size_t n;
};

/** Writes all sheets of the plan into `folder`, plan.json last; with `before` (or NULL), the plan that was given out, also what changed
 *  since; `kept`, the files of the plans before a mended one, go along.  *files gets the names in the order written.
 *  Errors: PW_ERR_IO with a diagnostic, PW_ERR_MEMORY, PW_ERR_INTERNAL. */
pw_status pw_pack_write(const struct pw_plan *plan, const struct pw_plan *before, const struct pw_plan_file *kept,
                        int n_kept, const char *folder, const char *const **files, int *n_files, struct pw_ctx *ctx);

/** The same for several jobs planned as one: the crew's pack of the joint plan, jobs.txt for the owner in the place of
 *  costs.txt, and for each job its customer's quote and page and its own purchase list, named by its letter. */
struct pw_joint_plan;
pw_status pw_pack_write_joint(const struct pw_joint_plan *jobs, const char *folder, const char *const **files,
                              int *n_files, struct pw_ctx *ctx);

#endif
