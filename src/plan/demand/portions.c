/* portions.c - portions with the dish's reserve. */
#include "plan/demand/portions.h"

#include <math.h>

#define WHOLE 1e-9 /* of a portion: nothing */

int pw_portions_made(const struct pw_demand_line *line, const struct pw_dish *dish)
{
  return (int)ceil(line->portions_cover * (1 + dish->reserve_frac) - WHOLE);
}
