/* joint_pack.h - what several jobs planned as one leave behind: one pack for the crew, a quote for each customer. */
#ifndef PW_JOINT_PACK_H
#define PW_JOINT_PACK_H

#include "base/buf.h"
#include "plan/joint/joint.h"

/** A joint plan and each job planned alone (its quote is the customer's). */
struct pw_joint_plan {
  const struct pw_joint *joint;
  const struct pw_plan *plan;
  const struct pw_plan *const *alone;
  const struct pw_joint_shares *shares;
};

/** The owner's sheet: what each job bears, whose fire is whose, purchases joined and by job.  Errors: PW_ERR_MEMORY. */
pw_status pw_text_jobs(struct pw_buf *out, const struct pw_joint_plan *jobs, struct pw_ctx *ctx);

#endif
