/* run_side.h - the job planned once more with something changed: another head count, a choice, another chance.  In memory of its own,
 * so that several may be at it at a time; silently, for its warnings are about a job nobody serves; at today's prices. */
#ifndef PW_RUN_SIDE_H
#define PW_RUN_SIDE_H

#include "plan/stages.h"

struct pw_arena;

struct pw_side_run {
  struct pw_arena *arena;
  struct pw_ctx ctx;
  struct pw_plan plan;
  pw_status status;
};

/** A context for a side computation in the same memory: no progress line, warnings of its own.  NULL: out of memory. */
struct pw_ctx *pw_side_ctx(const struct pw_ctx *ctx);

/** How it is planned: quickly, in a share of the seconds left, from another plan or NULL; no ways out, no model written. */
struct pw_allocate_options pw_side_options(const struct pw_allocate_options *allocate, const struct pw_allocation *like,
                                           double time_frac);

/** Opens its memory, or keeps what is open.  False: there is none; the status says so. */
bool pw_side_open(struct pw_side_run *run);
void pw_side_close(struct pw_side_run *run);

/** Plans the event as if no price had been named before; after an error of the status nothing is done.  `margins` and `like` as in
 *  pw_run_stages(). */
void pw_side_plan(struct pw_side_run *run, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                  const struct pw_margins *margins, const struct pw_lots *like);

#endif
