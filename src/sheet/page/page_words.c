/* page_words.c - see the header. */
#include "sheet/page/page_words.h"

#include "base/format.h"
#include "base/when.h"

const char *pw_words_money(struct pw_page *page, pw_cents cents)
{
  return pw_words(page, "%s", pw_money_format(page->ev, cents).s);
}

const char *pw_words_span(struct pw_page *page, int from_at_min, int to_at_min)
{
  const struct pw_event *ev = page->ev;
  bool is_one_day = pw_when_day_number(ev, from_at_min) == pw_when_day_number(ev, to_at_min);
  return pw_words(page, "%s-%s", pw_when(ev, from_at_min).s,
                  is_one_day ? pw_when_clock(ev, to_at_min).s : pw_when(ev, to_at_min).s);
}

const char *pw_words_shift(struct pw_page *page, int from_at_min, int to_at_min)
{
  return pw_words(page, "%s to %s", pw_when(page->ev, from_at_min).s, pw_when_clock(page->ev, to_at_min).s);
}
