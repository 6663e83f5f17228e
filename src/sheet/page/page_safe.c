/* page_safe.c - why the plan keeps food apart as it does: what drips on what [H2], and allergens at the racks.
 * In: a plan.  Out: two parts of the explained page. */
#include "base/format.h"
#include "base/when.h"
#include "plan/lots/drips.h"
#include "sheet/drip_loads.h"
#include "sheet/page/page_parts.h"

#include <string.h>

/* What lies below while it drips, each cut once, and why it may. */
static const char *below(struct pw_page *s, const struct pw_load *up)
{
  const struct pw_plan *plan = s->plan;
  const char *words = "";
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *low = &plan->allocation.loads[i];
    bool is_told = false;
    if (!pw_load_drips_on(plan, up, low))
      continue;
    for (int k = 0; k < i && !is_told; k++) {
      const struct pw_load *o = &plan->allocation.loads[k];
      is_told = pw_load_drips_on(plan, up, o) && plan->lots.lots[o->lot].cut == plan->lots.lots[low->lot].cut &&
                o->stage == low->stage;
    }
    if (is_told)
      continue;
    const struct pw_cut *cut = pw_load_cut(plan, low);
    bool passes = pw_drips_end_c(cut) >= pw_drips_kill_c(pw_load_cut(plan, up)) - 0.3; /* as plan/lots/drips.c */
    words = pw_words(s, "%s%s %s (%s)", words, *words ? ";" : "", cut->name,
                     low->stage == PW_LOAD_FINISH ? "wrapped"
                     : passes ? pw_words(s, "off at %s", pw_format_temp(s->ev->units, pw_drips_end_c(cut)).s)
                              : "beside it, not under it");
  }
  return *words ? pw_words(s, "On racks below:%s.", words) : "Nothing lies on a rack below until then.";
}

static void drips(struct pw_page *s)
{
  int n = 0, n_trays = 0;
  pw_page_head(s, "What drips on what");
  for (int i = 0; i < s->plan->allocation.n_loads; i++) {
    const struct pw_load *up = &s->plan->allocation.loads[i];
    if (!pw_load_drips(s->plan, i))
      continue;
    n++;
    const struct pw_pit *pit = pw_load_pit(s->plan, up);
    pw_page_say(s, 2, 4, "%s, %s rack, from %s: %s, raw until %s, when it is at %s inside. %s", pit->name,
                pit->racks[pw_load_rack(s->plan, up)].id, pw_when(s->ev, up->start_at_min).s,
                pw_load_cut(s->plan, up)->name, pw_when_clock(s->ev, up->start_at_min + up->drips_min).s,
                pw_format_temp(s->ev->units, pw_drips_kill_c(pw_load_cut(s->plan, up))).s, below(s, up));
  }
  for (int p = 0; p < s->ev->n_pits; p++)
    for (int r = 0; r < s->ev->pits[p].n_racks; r++)
      n_trays += s->ev->pits[p].racks[r].has_tray_below;
  if (n == 0)
    pw_page_para(s, 2, 2,
                 n_trays > 0 ? "Nothing raw drips on a rack below: trays lie between, or nothing raw lies above one."
                             : "Nothing raw lies above another rack.");
  pw_page_para(s, 2, 2,
               "Raw meat lies above other food only where that food still gets as hot as the raw meat must, after the "
               "last drip, or is wrapped, or a tray lies between (FDA Food Code 2022 3-302.11(A), 3-401.11). Poultry, "
               "which must get hottest, therefore lies lowest or to the side.");
}

/* What comes on the rack of a lot after it, each cut once. */
static const char *after_on_rack(struct pw_page *s, int lot)
{
  const struct pw_plan *plan = s->plan;
  const char *words = "";
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *next = &plan->allocation.loads[i];
    bool is_after = false, is_told = false;
    if (next->zone == PW_NONE || plan->lots.lots[next->lot].cut == plan->lots.lots[lot].cut)
      continue;
    for (int k = 0; k < plan->allocation.n_loads && !is_after; k++) {
      const struct pw_load *l = &plan->allocation.loads[k];
      is_after = l->lot == lot && l->zone != PW_NONE && pw_load_pit(plan, l) == pw_load_pit(plan, next) &&
                 pw_load_rack(plan, l) == pw_load_rack(plan, next) && next->end_at_min > l->start_at_min;
    }
    is_told = strstr(words, pw_load_cut(plan, next)->name) != NULL;
    if (is_after && !is_told)
      words = pw_words(s, "%s%s %s", words, *words ? "," : "", pw_load_cut(plan, next)->name);
  }
  return words;
}

static void allergens(struct pw_page *s)
{
  int n = 0;
  pw_page_head(s, "Fish and nuts");
  for (int i = 0; i < s->plan->demand.n_lines; i++) {
    const struct pw_demand_line *d = &s->plan->demand.lines[i];
    const struct pw_dish *dish = &s->ev->dishes[d->dish];
    const char *shares = "";
    if (!pw_drips_kept_last(dish))
      continue;
    n++;
    for (int l = 0; l < s->plan->lots.n_lots && !*shares; l++)
      if (dish->cut != PW_NONE && s->plan->lots.lots[l].cut == dish->cut && s->plan->lots.lots[l].service == d->service)
        shares = after_on_rack(s, l);
    pw_page_say(s, 2, 4, "%s (%s): prepared last, own board, knife, tongs and shelf.%s%s%s", dish->name,
                s->ev->services[d->service].name, *shares ? " On its rack with it or after it:" : "", shares,
                *shares ? "; foil or a tray under it, and tell anybody who asks." : "");
  }
  if (n == 0)
    pw_page_para(s, 2, 2, "No dish of these menus lists fish or nuts.");
  pw_page_para(
      s, 2, 2,
      "What other allergens each dish has is on the serving sheet; all of it comes off shared racks. Apart: FDA "
      "Food Code 2022 3-302.11; the order: common practice, no source.");
}

void pw_part_safe(struct pw_page *s)
{
  drips(s);
  allergens(s);
}
