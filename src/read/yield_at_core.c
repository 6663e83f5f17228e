/* yield_at_core.c - the catalog's yields carried to this job's end core and hold [P1]: a cook who takes his brisket off at 90 C keeps
 * more of it than one who waits for 95, and one who serves it after its rest more than one who holds it until midnight.
 * What is bought is reckoned before the plan knows when each piece comes off: for half of the longest hold it allows itself. */
#include "read/resolve.h"

#include <math.h>

#define YIELD_LEAST_FRAC 0.2 /* limits of the field "cook" */
#define YIELD_MOST_FRAC  1.3

void pw_event_yields(struct pw_event *ev)
{
  for (int c = 0; c < ev->n_cuts; c++) {
    struct pw_cut *cut = &ev->cuts[c];
    bool by_core = cut->yield_per_k_frac > 0.0 && cut->yield_core_c > 0.0, by_hold = cut->yield_per_h_frac > 0.0;
    if (!by_core && !by_hold)
      continue;
    double end_c = cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c;
    double hold_min = cut->rest_min + 0.5 * cut->hold_max_min;
    double yield = cut->cook_frac - (by_core ? cut->yield_per_k_frac * (end_c - cut->yield_core_c) : 0.0) -
                   (by_hold ? cut->yield_per_h_frac * (hold_min - cut->yield_hold_min) / 60.0 : 0.0);
    cut->cook_frac = fmin(fmax(yield, YIELD_LEAST_FRAC), YIELD_MOST_FRAC);
  }
}
