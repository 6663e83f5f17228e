/* page_levels.c - cost against chance [R3].  In: the levels of a quote.  Out: a part of the owner's page and of the reasons. */
#include "sheet/costs.h"
#include "sheet/page/page_parts.h"

void pw_part_levels(struct pw_page *s)
{
  struct pw_told_table t = pw_costs_levels(s->plan, s->arena);
  if (!pw_page_part(s, "Ready on time, and what it costs", &t))
    return;
  pw_page_para(
      s, 2, 2,
      "The margins of this plan taken away, halved and widened, each planned anew, quickly. On time: the meal least "
      "likely to be ready. Meals late: of all meals of 100 such jobs. Last column: the row pays, against the row "
      "above, "
      "for whom a late meal costs so much in money or goodwill. What costs more and is late more often is left out.");
}
