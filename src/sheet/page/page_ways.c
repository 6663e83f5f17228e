/* page_ways.c - ways out of a shortage, and of a meal that is late too often.  In: the plan's remedies.  Out: a part of a page. */
#include "plan/chance/on_time.h"
#include "sheet/chance_words.h"
#include "sheet/page/page_parts.h"
#include "sheet/page/page_words.h"

static void none_found(struct pw_page *s, bool is_late)
{
  if (s->plan->n_ways_tried > 0 && is_late)
    pw_page_say(s, 2, 2,
                "No way to be ready more often was found: %d changes were planned, and none gained enough to tell. "
                "Fewer guests, another menu or a later meal would be another job.",
                s->plan->n_ways_tried);
  else if (s->plan->n_ways_tried > 0)
    pw_page_say(s, 2, 2,
                "No way out was found: %d changes were planned, alone and combined, and each left most of it short. "
                "Fewer guests, another menu or more pits of your own would be another job.",
                s->plan->n_ways_tried);
}

static void open_words(struct pw_page *s, bool is_late, bool has_lines)
{
  const char *joint = is_late ? ""
                              : " A second sitting, smaller portions and cooking the day before are tried only when "
                                "one event is planned alone.";
  const char *file = s->plan->n_jobs > 0 ? pw_words(s, "the first event's file (%s)", s->ev->file) : "the event file";
  const char *take =
      has_lines ? pw_words(s, "To take one, copy its lines, from the --- on, to the end of %s and plan again.", file)
                : "The lines to take one stand in the plan (plan.txt).";
  pw_page_say(s, 2, 2, "%s, each one really planned, with its cost compared with this plan's. %s%s",
              is_late ? "Ways to be ready more often" : "Ways out", take, s->plan->n_jobs > 0 ? joint : "");
}

void pw_part_ways(struct pw_page *s, bool has_lines)
{
  const struct pw_allocation *al = &s->plan->allocation;
  bool is_late = al->n_missed == 0;
  if (al->n_remedies == 0) {
    none_found(s, is_late);
    return;
  }
  open_words(s, is_late, has_lines);
  for (int i = 0; i < al->n_remedies; i++) {
    const struct pw_remedy *r = &al->remedies[i];
    const char *left =
        r->missed_after == 0 ? ""
        : r->missed_portions_after > 0
            ? pw_words(s, " (%d still without a place, %d portions missing)", r->missed_after, r->missed_portions_after)
            : pw_words(s, " (%d still without a place, no reserve left)", r->missed_after);
    const char *sign = r->cost_cents > 0 ? "+" : "",
               *chance = pw_page_made(s, pw_chance_after_words(s->plan, r, s->arena));
    pw_page_pair(s, 2, pw_words(s, "%s %d: %s%s", is_late ? "Way" : "Way out", i + 1, r->what, left),
                 pw_words(s, "%s%s", sign, pw_money_format(s->ev, r->cost_cents).s));
    if (*chance)
      pw_page_para(s, 4, 4, chance);
    if (has_lines)
      pw_page_verbatim(s, r->lines);
  }
}

void pw_part_ways_late(struct pw_page *s)
{
  bool is_short = false;
  for (int v = 0; v < s->ev->n_services && s->plan->allocation.n_missed == 0; v++)
    is_short = is_short || pw_on_time_is_short(s->ev, &s->plan->chance, v);
  if (!is_short || s->plan->allocation.is_quick)
    return;
  pw_page_head(s, "More often ready on time");
  pw_part_ways(s, false);
}
