/* joint.h - several events of one caterer planned as one: the same pits, ovens, boxes and people, one purchase list.
 *
 * Services follow each other job by job.  What is the same in two events (the same id and the same values) is there once;
 * dishes, cuts, goods, woods and guest classes that share only the id are kept apart.  Pits, ovens and boxes are things: the
 * same id must be the same thing.  Crew lines that agree in role, hours, duties and rate are the same people (the larger
 * number counts), except lines that serve: each table wants its own.
 * The cost of a joint plan is dealt out to the jobs so that it adds up to the cent: a fire by rack hours (area x time of each
 * job's pieces on it), an oven by room hours, everything else in proportion to what the jobs cost when planned alone. */
#ifndef PW_JOINT_H
#define PW_JOINT_H

#include "base/ctx.h"
#include "pw/plan.h"

enum { PW_JOINT_MAX = 8 };

struct pw_joint_job {
  const struct pw_event *event;
  int service_first, n_services; /**< of the joint event */
};

struct pw_joint {
  struct pw_event *event;
  struct pw_joint_job jobs[PW_JOINT_MAX];
  int n_jobs;
};

/** Merges n events (2 .. PW_JOINT_MAX).  What cannot be merged is PW_ERR_INPUT with a diagnostic for each reason.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_joint_make(struct pw_joint *out, const struct pw_event *const *events, int n, struct pw_ctx *ctx);

/** What one job bears of a joint plan. */
struct pw_job_share {
  pw_cents food_cents, supplies_cents, fuel_cents, labour_cents, rental_cents, travel_cents, overhead_cents;
  pw_cents cost_cents;  /**< the sum of the seven */
  pw_cents alone_cents; /**< cost planned alone, as its quote has it */
  double rack_m2_h;     /**< area x time on racks */
  pw_cents *burn_cents; /**< per burn of the joint plan: its part of the fire's wood and charcoal */
};

struct pw_joint_shares {
  struct pw_job_share jobs[PW_JOINT_MAX];
  pw_cents *burn_cents; /**< per burn: its part of the fuel lines; adds up to them */
};

/** Deals the costs of `plan` out to its jobs; `alone` is each job planned by itself.  Errors: PW_ERR_MEMORY. */
pw_status pw_joint_share(struct pw_joint_shares *out, const struct pw_joint *joint, const struct pw_plan *plan,
                         const struct pw_plan *const *alone, struct pw_ctx *ctx);

/** Writes the jobs and their shares into their joint plan.  Errors: PW_ERR_MEMORY. */
pw_status pw_joint_note(struct pw_plan *plan, const struct pw_joint *joint, const struct pw_joint_shares *shares,
                        const struct pw_plan *const *alone, struct pw_ctx *ctx);

/** Deals `cents` over n parts in proportion to weight[] (>= 0; all 0: evenly), whole minor units, largest remainders first. */
void pw_joint_deal(pw_cents *part, const double *weight, int n, pw_cents cents);

#endif
