/* explain_safe.c - why the plan keeps food apart as it does: what drips on what [H2], and allergens at the racks.
 * In: a plan.  Out: two parts of the explained sheet, and the member "drips" of its JSON. */
#include "write/text/explain_safe.h"

#include "base/format.h"
#include "base/when.h"
#include "plan/lots/drips.h"

#include <string.h>

static const struct pw_pit *pit_of(const struct pw_plan *plan, const struct pw_load *l)
{
  return &plan->event->pits[plan->lots.zones[l->zone].pit];
}

static int rack_of(const struct pw_plan *plan, const struct pw_load *l) { return plan->lots.zones[l->zone].rack; }

static bool is_on_pit(const struct pw_load *l) { return l->zone != PW_NONE; }

/* Lies on a lower rack of the same pit, nothing between, while the other still drips. */
static bool is_dripped_on(const struct pw_plan *plan, const struct pw_load *up, const struct pw_load *low)
{
  return is_on_pit(low) && plan->lots.zones[low->zone].pit == plan->lots.zones[up->zone].pit &&
         low->start_at_min < up->start_at_min + up->drips_min && low->end_at_min > up->start_at_min &&
         pw_drips_above(pit_of(plan, up), rack_of(plan, up), rack_of(plan, low));
}

/* True for the first load of its lot, rack, stage and minute: pieces of it in several zones are told once. */
static bool is_first(const struct pw_plan *plan, int i)
{
  const struct pw_load *l = &plan->allocation.loads[i];
  for (int k = 0; k < i; k++) {
    const struct pw_load *o = &plan->allocation.loads[k];
    if (is_on_pit(o) && o->lot == l->lot && o->stage == l->stage && o->start_at_min == l->start_at_min &&
        o->drips_min == l->drips_min && plan->lots.zones[o->zone].pit == plan->lots.zones[l->zone].pit &&
        rack_of(plan, o) == rack_of(plan, l))
      return false;
  }
  return true;
}

static const struct pw_cut *cut_of(const struct pw_plan *plan, const struct pw_load *l)
{
  return &plan->event->cuts[plan->lots.lots[l->lot].cut];
}

/* What lies below while it drips, each cut once, and why it may. */
static const char *below(struct pw_page *s, const struct pw_load *up)
{
  const struct pw_plan *plan = s->plan;
  const char *words = "";
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *low = &plan->allocation.loads[i];
    bool is_told = false;
    if (!is_dripped_on(plan, up, low))
      continue;
    for (int k = 0; k < i && !is_told; k++) {
      const struct pw_load *o = &plan->allocation.loads[k];
      is_told = is_dripped_on(plan, up, o) && plan->lots.lots[o->lot].cut == plan->lots.lots[low->lot].cut &&
                o->stage == low->stage;
    }
    if (is_told)
      continue;
    const struct pw_cut *cut = cut_of(plan, low);
    bool passes = pw_drips_end_c(cut) >= pw_drips_kill_c(cut_of(plan, up)) - 0.3; /* as plan/lots/drips.c */
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
    if (!is_on_pit(up) || up->drips_min <= 0 || !is_first(s->plan, i))
      continue;
    n++;
    const struct pw_pit *pit = pit_of(s->plan, up);
    pw_page_para(s, 2, 4,
                 pw_words(s, "%s, %s rack, from %s: %s, raw until %s, when it is at %s inside. %s", pit->name,
                          pit->racks[rack_of(s->plan, up)].id, pw_when(s->ev, up->start_at_min).s,
                          cut_of(s->plan, up)->name, pw_when_clock(s->ev, up->start_at_min + up->drips_min).s,
                          pw_format_temp(s->ev->units, pw_drips_kill_c(cut_of(s->plan, up))).s, below(s, up)));
  }
  for (int p = 0; p < s->ev->n_pits; p++)
    for (int r = 0; r < s->ev->pits[p].n_racks; r++)
      n_trays += s->ev->pits[p].racks[r].has_tray_below;
  if (n == 0)
    pw_page_para(s, 2, 2,
                 n_trays > 0 ? "Nothing raw drips on a rack below: trays lie between, or nothing raw lies above one."
                             : "Nothing raw lies above another rack.");
  pw_page_para(s, 2, 2,
               "Raw meat lies above other food only where that still gets as hot as the raw one has to, after its last "
               "drip, or is wrapped, or a tray lies between (FDA Food Code 2022 3-302.11(A), 3-401.11). Poultry, which "
               "has to get hottest, so lies lowest, or beside.");
}

/* What comes on the rack of a lot after it, each cut once. */
static const char *after_on_rack(struct pw_page *s, int lot)
{
  const struct pw_plan *plan = s->plan;
  const char *words = "";
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *next = &plan->allocation.loads[i];
    bool is_after = false, is_told = false;
    if (!is_on_pit(next) || plan->lots.lots[next->lot].cut == plan->lots.lots[lot].cut)
      continue;
    for (int k = 0; k < plan->allocation.n_loads && !is_after; k++) {
      const struct pw_load *l = &plan->allocation.loads[k];
      is_after = l->lot == lot && is_on_pit(l) && plan->lots.zones[l->zone].pit == plan->lots.zones[next->zone].pit &&
                 rack_of(plan, l) == rack_of(plan, next) && next->end_at_min > l->start_at_min;
    }
    is_told = strstr(words, cut_of(plan, next)->name) != NULL;
    if (is_after && !is_told)
      words = pw_words(s, "%s%s %s", words, *words ? "," : "", cut_of(plan, next)->name);
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
    pw_page_para(s, 2, 4,
                 pw_words(s, "%s (%s): prepared last, own board, knife, tongs and shelf.%s%s%s", dish->name,
                          s->ev->services[d->service].name, *shares ? " On its rack with it or after it:" : "", shares,
                          *shares ? "; foil or a tray under it, and whoever asks is told." : ""));
  }
  if (n == 0)
    pw_page_para(s, 2, 2, "No dish of these menus lists fish or nuts.");
  pw_page_para(
      s, 2, 2,
      "What other allergens each dish has is on the serving sheet; all of it comes off shared racks. Apart: FDA "
      "Food Code 2022 3-302.11; the order: common practice, no source.");
}

void pw_text_safe(struct pw_page *s)
{
  drips(s);
  allergens(s);
}

void pw_json_drips(struct pw_json_out *o, const struct pw_plan *plan)
{
  pw_json_array(o, "drips");
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *up = &plan->allocation.loads[i];
    if (!is_on_pit(up) || up->drips_min <= 0 || !is_first(plan, i))
      continue;
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", plan->lots.lots[up->lot].id);
    pw_json_text(o, "pit", pit_of(plan, up)->id);
    pw_json_text(o, "rack", pit_of(plan, up)->racks[rack_of(plan, up)].id);
    pw_json_int(o, "from_at_min", up->start_at_min);
    pw_json_int(o, "to_at_min", up->start_at_min + up->drips_min);
    pw_json_real(o, "safe_c", pw_drips_kill_c(cut_of(plan, up)));
    pw_json_array(o, "below");
    for (int k = 0; k < plan->allocation.n_loads; k++)
      if (is_dripped_on(plan, up, &plan->allocation.loads[k]) && is_first(plan, k))
        pw_json_text(o, NULL, plan->lots.lots[plan->allocation.loads[k].lot].id);
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
}
