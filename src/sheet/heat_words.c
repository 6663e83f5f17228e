/* heat_words.c - one lot for each cut: the slowest one. */
#include "sheet/heat_words.h"

#include <math.h>

bool pw_heat_is_slowest(const struct pw_plan *plan, int lot)
{
  const struct pw_lot_heat *heat = plan->safety.lots;
  if (isnan(heat[lot].smoke_c))
    return false;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    if (l == lot || plan->lots.lots[l].cut != plan->lots.lots[lot].cut || isnan(heat[l].smoke_c))
      continue;
    if (heat[l].come_up_min > heat[lot].come_up_min || (l < lot && heat[l].come_up_min >= heat[lot].come_up_min))
      return false;
  }
  return true;
}
