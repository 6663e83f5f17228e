/* yield_at_core.c - the catalog's yields carried to the end core of this job's cooks [P1]: a cook who takes his brisket off at 90 C keeps
 * more of it than one who waits for 95. */
#include "read/resolve.h"

#include <math.h>

#define YIELD_LEAST_FRAC 0.2 /* limits of the field "cook" */
#define YIELD_MOST_FRAC  1.3

void pw_event_yields(struct pw_event *ev)
{
  for (int c = 0; c < ev->n_cuts; c++) {
    struct pw_cut *cut = &ev->cuts[c];
    if (cut->yield_per_k_frac <= 0.0 || cut->yield_core_c <= 0.0)
      continue;
    double end_c = cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c;
    double yield = cut->cook_frac - cut->yield_per_k_frac * (end_c - cut->yield_core_c);
    cut->cook_frac = fmin(fmax(yield, YIELD_LEAST_FRAC), YIELD_MOST_FRAC);
  }
}
