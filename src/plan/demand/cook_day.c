/* cook_day.c - on which day a cut is cooked.  In: the event.  Out: an answer. */
#include "plan/demand/cook_day.h"

bool pw_is_day_before(const struct pw_event *ev, int service, int cut)
{
  const struct pw_service *s = &ev->services[service];
  for (int m = 0; m < s->n_menu; m++)
    if (s->menu[m].is_day_before && ev->dishes[s->menu[m].dish].cut == cut)
      return true;
  return false;
}
