/* page_levels.c - cost against chance [R3].  In: the levels of a quote.  Out: a part of the owner's page and of the reasons. */
#include "base/format.h"
#include "plan/money/quote.h"
#include "sheet/chance_words.h"
#include "sheet/page/page_parts.h"

#include <math.h>

void pw_part_levels(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  if (q->n_levels == 0)
    return;
  pw_page_head(s, "Ready on time, and what it costs");
  static const struct pw_page_column columns[] = {{2, 18, PW_CELL_WHAT, "time to spare"},
                                                  {0, 14, PW_CELL_AMOUNT, "on time"},
                                                  {1, 14, PW_CELL_AMOUNT, "meals late"},
                                                  {1, 13, PW_CELL_AMOUNT, "cost"},
                                                  {1, 16, PW_CELL_AMOUNT, "a late one costs"}};
  pw_page_table_of(s, columns);
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_quote_level *level = &q->levels[i];
    pw_page_row(s, pw_level_words(level), pw_words(s, "%d of 100", (int)floor(level->chance_frac * 100 + 1e-9)),
                pw_words(s, "%.0f in 100", level->late_meals_frac * 100), pw_money_format(s->ev, level->cost_cents).s,
                level->late_meal_cents > 0 ? pw_money_format(s->ev, level->late_meal_cents).s : "");
  }
  pw_page_para(
      s, 2, 2,
      "The margins of this plan taken away, halved and widened, each planned anew, quickly. On time: the meal least "
      "likely to be ready. Meals late: of all meals of 100 such jobs. Last column: the row pays, against the row "
      "above, "
      "for whom a late meal costs so much in money or goodwill. What costs more and is late more often is left out.");
}
