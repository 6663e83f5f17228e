/* text_levels.c - cost against chance [R3].  In: the levels of a quote.  Out: a part of the owner's page and of the reasons. */
#include "write/text/text_levels.h"

#include "base/format.h"
#include "plan/money/quote.h"
#include "sheet/chance_words.h"

#include <math.h>

void pw_text_levels(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  if (q->n_levels == 0)
    return;
  pw_page_head(s, "Ready on time, and what it costs");
  const struct pw_cell head[] = {{2, 18, PW_LEFT, "time to spare"},
                                 {20, 14, PW_RIGHT, "on time"},
                                 {35, 14, PW_RIGHT, "meals late"},
                                 {50, 13, PW_RIGHT, "cost"},
                                 {64, 16, PW_RIGHT, "a late one costs"}};
  pw_page_row(s, head, 5);
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_quote_level *level = &q->levels[i];
    const struct pw_cell row[] = {
        {2, 18, PW_LEFT, pw_level_words(level)},
        {20, 14, PW_RIGHT, pw_words(s, "%d of 100", (int)floor(level->chance_frac * 100 + 1e-9))},
        {35, 14, PW_RIGHT, pw_words(s, "%.0f in 100", level->late_meals_frac * 100)},
        {50, 13, PW_RIGHT, pw_words(s, "%s", pw_money_format(s->ev, level->cost_cents).s)},
        {64, 16, PW_RIGHT,
         level->late_meal_cents > 0 ? pw_words(s, "%s", pw_money_format(s->ev, level->late_meal_cents).s) : ""}};
    pw_page_row(s, row, 5);
  }
  pw_page_para(
      s, 2, 2,
      "The margins of this plan taken away, halved and widened, each planned anew, quickly. On time: the meal least "
      "likely to be ready. Meals late: of all meals of 100 such jobs. Last column: the row pays, against the row "
      "above, "
      "for whom a late meal costs so much in money or goodwill. What costs more and is late more often is left out.");
}
