/* grids.c - the owner's sheets in their order.  A new one is a maker and a row here. */
#include "sheet/grid_pen.h"

static void (*const makers[])(struct pw_grid *g) = {
    pw_grid_inputs, pw_grid_quote, pw_grid_costs, pw_grid_buy, /* what the owner works with */
    pw_grid_time,   pw_grid_maps,  pw_grid_use,                /* where everything is when */
    pw_grid_cores,  pw_grid_facts, pw_grid_check,              /* what says why */
};
enum { N_MAKERS = sizeof makers / sizeof *makers, N_BEFORE = 4 };
_Static_assert(sizeof makers / sizeof *makers <= (size_t)PW_GRIDS_MAX, "room for every grid");

int pw_grids_n(void) { return N_MAKERS; }
int pw_grids_n_before(void) { return N_BEFORE; }

pw_status pw_grids_make(struct pw_grids *out, struct pw_view *view, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *out = (struct pw_grids){.view = view, .plan = plan, .ev = plan->event, .ctx = ctx, .money_unit = 1};
  for (int i = 0; i < plan->event->money_digits; i++)
    out->money_unit *= 10;
  for (int i = 0; i < N_MAKERS && !view->failed; i++) {
    out->grids[i] = (struct pw_grid){.of = out, .least_scale = 1, .stay_row = PW_NONE};
    makers[i](&out->grids[i]);
  }
  return view->failed ? PW_ERR_MEMORY : PW_OK;
}
