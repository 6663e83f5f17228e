/* run_proof.c - see run_proof.h. */
#include "run_proof.h"

#include "base/arena.h"
#include "base/diag.h"

#include <math.h>

static void prove(void *user)
{
  struct pw_run_proof *proof = user;
  const struct pw_event *open;
  struct pw_fuel_rates rates;
  pw_status st = pw_staff_open(&open, proof->ev, &proof->own);
  if (st == PW_OK)
    st = pw_fuel_rates_make(&rates, open, &proof->own);
  if (st == PW_OK)
    st = pw_allocate_prove(&proof->allocation, open, &proof->lots, &rates, &proof->options, &proof->own);
  proof->status = st;
}

pw_status pw_run_proof_begin(struct pw_run_proof *proof, const struct pw_plan *plan, const struct pw_event *ev,
                             const struct pw_allocate_options *allocate)
{
  *proof = (struct pw_run_proof){.allocation = plan->allocation,
                                 .lots = plan->lots,
                                 .ev = ev,
                                 .options = *allocate,
                                 .own = {.arena = pw_arena_open()}};
  if (!proof->own.arena)
    return PW_ERR_MEMORY;
  proof->is_begun = true;
  pw_beside_begin(&proof->beside, prove, proof);
  return PW_OK;
}

pw_status pw_run_proof_end(struct pw_run_proof *proof, struct pw_plan *plan, struct pw_ctx *ctx)
{
  if (!proof->is_begun)
    return PW_OK;
  if (plan && ctx->progress)
    ctx->progress(ctx->progress_user, "proving a bound", NAN, NAN);
  pw_beside_end(&proof->beside);
  proof->is_begun = false;
  if (plan && proof->status == PW_OK) {
    struct pw_allocation *told = &plan->allocation;
    const struct pw_allocation *proved = &proof->allocation;
    told->bound_cents = proved->bound_cents;
    told->proof = proved->proof;
    told->gap_frac = proved->gap_frac;
    told->outcome = proved->outcome;
    told->stopped_by = proved->stopped_by;
  }
  if (plan)
    pw_diag_take(ctx, &proof->own, false);
  pw_arena_close(proof->own.arena);
  return plan ? proof->status : PW_OK;
}
