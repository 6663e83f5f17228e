/* drip_loads.c - see the header. */
#include "sheet/drip_loads.h"

#include "plan/lots/drips.h"

const struct pw_pit *pw_load_pit(const struct pw_plan *plan, const struct pw_load *load)
{
  return &plan->event->pits[plan->lots.zones[load->zone].pit];
}

int pw_load_rack(const struct pw_plan *plan, const struct pw_load *load) { return plan->lots.zones[load->zone].rack; }

const struct pw_cut *pw_load_cut(const struct pw_plan *plan, const struct pw_load *load)
{
  return &plan->event->cuts[plan->lots.lots[load->lot].cut];
}

bool pw_load_is_first(const struct pw_plan *plan, int load)
{
  const struct pw_load *l = &plan->allocation.loads[load];
  for (int k = 0; k < load; k++) {
    const struct pw_load *o = &plan->allocation.loads[k];
    if (o->zone != PW_NONE && o->lot == l->lot && o->stage == l->stage && o->start_at_min == l->start_at_min &&
        o->drips_min == l->drips_min && pw_load_pit(plan, o) == pw_load_pit(plan, l) &&
        pw_load_rack(plan, o) == pw_load_rack(plan, l))
      return false;
  }
  return true;
}

bool pw_load_drips(const struct pw_plan *plan, int load)
{
  const struct pw_load *l = &plan->allocation.loads[load];
  return l->zone != PW_NONE && l->drips_min > 0 && pw_load_is_first(plan, load);
}

bool pw_load_drips_on(const struct pw_plan *plan, const struct pw_load *up, const struct pw_load *low)
{
  return low->zone != PW_NONE && pw_load_pit(plan, low) == pw_load_pit(plan, up) &&
         low->start_at_min < up->start_at_min + up->drips_min && low->end_at_min > up->start_at_min &&
         pw_drips_above(pw_load_pit(plan, up), pw_load_rack(plan, up), pw_load_rack(plan, low));
}
