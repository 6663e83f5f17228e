/* page_levels.c - cost against chance [R3].  In: the levels of a quote.  Out: a part of the owner's page and of the reasons. */
#include "sheet/costs.h"
#include "sheet/page/page_parts.h"

void pw_part_levels(struct pw_page *s)
{
  struct pw_told_table t = pw_costs_levels(s->plan, s->arena);
  if (!pw_page_part(s, "Ready on time, and what it costs", &t))
    return;
  pw_page_para(s, 2, 2,
               "This plan without its time margins, with half of them and with wider ones, each planned again quickly. "
               "On time: the meal least likely to be ready. Meals late: of all meals in 100 such jobs. Last column: a "
               "row is worth its cost over the row above if one late meal costs you more than this, in money or "
               "goodwill.");
  pw_page_para(s, 2, 2, PW_COSTS_LEVELS_LEFT_OUT);
  if (s->ev->n_pool > 0)
    pw_page_para(s, 2, 2, PW_COSTS_LEVELS_BY_HOUR);
}
