/* run_side.c - see run_side.h. */
#include "run_side.h"
#include "run_stages.h"

#include "base/arena.h"
#include "base/deadline.h"

struct pw_ctx *pw_side_ctx(const struct pw_ctx *ctx)
{
  struct pw_ctx *side = pw_arena_alloc(ctx->arena, sizeof *side);
  if (side)
    side->arena = ctx->arena;
  return side;
}

struct pw_allocate_options pw_side_options(const struct pw_allocate_options *allocate, const struct pw_allocation *like,
                                           double time_frac)
{
  struct pw_allocate_options side = *allocate;
  side.effort = PW_EFFORT_QUICK;
  side.is_without_ways = true;
  side.dump_model = NULL;
  side.like = like;
  side.seconds = pw_deadline_left(allocate->deadline_s) * time_frac;
  return side;
}

bool pw_side_open(struct pw_side_run *run)
{
  if (!run->arena && !(run->arena = pw_arena_open())) {
    run->status = PW_ERR_MEMORY;
    return false;
  }
  run->ctx = (struct pw_ctx){.arena = run->arena};
  return true;
}

void pw_side_close(struct pw_side_run *run)
{
  pw_arena_close(run->arena);
  run->arena = NULL;
}

void pw_side_plan(struct pw_side_run *run, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                  const struct pw_margins *margins, const struct pw_lots *like)
{
  struct pw_event *today = run->status == PW_OK ? pw_arena_alloc(run->arena, sizeof *today) : NULL;
  if (!today) {
    run->status = run->status == PW_OK ? PW_ERR_MEMORY : run->status;
    return;
  }
  *today = *ev; /* a price named before was for the job as it stands */
  today->terms.quoted_per_guest_cents = today->terms.agreed_cents = 0;
  run->status = pw_run_stages(&run->plan, today, allocate, margins, like, &run->ctx);
}
