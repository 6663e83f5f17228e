/* page_plan.c - the plan in short: what a pitmaster wants to know before the shift sheet. */
#include "base/when.h"
#include "plan/lots/handling.h"
#include "sheet/chance_words.h"
#include "sheet/page/page_parts.h"
#include "sheet/page/page_words.h"
#include "sheet/page/pages.h"
#include "sheet/view.h"
#include "sheet/words.h"

static void fires(struct pw_page *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  pw_page_head(s, "Fires");
  for (int b = 0; b < al->n_burns; b++) {
    const struct pw_burn *burn = &al->burns[b];
    const struct pw_pit *pit = &s->ev->pits[burn->pit];
    const struct pw_setting *set = &pit->settings[burn->setting];
    pw_page_pair(s, 2, pit->name,
                 pw_words(s, "lit %s, food from %s, out %s", pw_when(s->ev, burn->lit_at_min).s,
                          pw_when(s->ev, burn->ready_at_min).s, pw_when(s->ev, burn->out_at_min).s));
    struct pw_short ends = pw_words_ends(s->ev->units, set);
    const char *heat = ends.s;
    if (b < s->plan->fuel.n_burns) {
      const struct pw_burn_fuel *f = &s->plan->fuel.burns[b];
      const char *feeds = f->n_feeds == 1 ? "1 feed" : pw_words(s, "%d feeds", f->n_feeds);
      const char *start = pit->charcoal == PW_NONE || pit->charcoal == pit->wood
                              ? ""
                              : pw_words(s, "%s of %s and ", pw_format_fuel(s->ev->units, f->charcoal_kg).s,
                                         s->ev->fuels[pit->charcoal].name);
      double fed_kg = f->wood_kg + (pit->charcoal == pit->wood ? f->charcoal_kg : 0);
      heat = pw_words(s, "%s; %s%s of %s, %s", heat, start, pw_format_fuel(s->ev->units, fed_kg).s,
                      s->ev->fuels[pit->wood].name, feeds);
    }
    pw_page_para(s, 4, 4, heat);
  }
}

static void meat(struct pw_page *s, struct pw_view *view)
{
  static const struct pw_page_column columns[] = {
      {4, 7, PW_CELL_ACT, ""}, {1, 4, PW_CELL_AMOUNT, ""}, {2, 20, PW_CELL_TIME, ""}, {1, 41, PW_CELL_WHERE, ""}};
  const struct pw_plan *plan = s->plan;
  pw_page_table_of(s, columns);
  pw_page_head(s, "Meat");
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    const struct pw_service *service = &s->ev->services[lot->service];
    pw_page_pair(s, 2, pw_words(s, "%d × %s", lot->pieces, s->ev->cuts[lot->cut].name),
                 pw_words(s, "%s, %s", service->name, pw_when(s->ev, service->at_min).s));
    for (int i = 0; i < plan->allocation.n_loads; i++) {
      const struct pw_load *load = &plan->allocation.loads[i];
      if (load->lot != l)
        continue;
      pw_page_row(s, pw_view_stage_word(load->stage), pw_words(s, "%d", load->pieces),
                  pw_words_span(s, load->start_at_min, load->end_at_min),
                  load->zone == PW_NONE && load->finisher == PW_NONE ? "covered" : pw_view_place(view, load));
    }
    for (int i = 0; i < plan->day_before.n_chills; i++) {
      const struct pw_chill *c = &plan->day_before.chills[i];
      if (c->lot == l)
        pw_page_row(s, "chill", pw_words(s, "%d", c->pieces), pw_words_span(s, c->from_at_min, c->cold_by_at_min),
                    "ice water, cold store");
    }
    for (int i = 0; i < plan->lots.n_reheats; i++) {
      const struct pw_reheat *r = &plan->lots.reheats[i];
      if (r->lot == l)
        pw_page_row(s, "reheat", pw_words(s, "%d", r->pieces), pw_words_span(s, r->from_at_min, r->ready_at_min),
                    s->ev->finishers[r->finisher].name);
    }
    if (plan->allocation.missed[l] > 0)
      pw_page_say(s, 4, 4, "%d without a place", plan->allocation.missed[l]);
  }
}

/* Full pans that do not come from the pit, and where they wait. */
static void side_pans(struct pw_page *s)
{
  static const struct pw_page_column columns[] = {
      {4, 26, PW_CELL_WHAT, ""}, {1, 3, PW_CELL_AMOUNT, ""}, {2, 20, PW_CELL_TIME, ""}, {1, 23, PW_CELL_WHERE, ""}};
  const struct pw_lots *lots = &s->plan->lots;
  pw_page_table_of(s, columns);
  if (lots->n_side_pans > 0)
    pw_page_head(s, "Pans of sides");
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *p = &lots->side_pans[i];
    bool is_hot = s->ev->dishes[p->dish].held == PW_HELD_HOT;
    if (s->ev->n_services > 1 && (i == 0 || lots->side_pans[i - 1].service != p->service))
      pw_page_para(s, 2, 2, s->ev->services[p->service].name);
    const char *where = !is_hot                  ? "cold"
                        : p->finisher == PW_NONE ? "no box has room"
                                                 : s->ev->finishers[p->finisher].name;
    pw_page_row(s, s->ev->dishes[p->dish].name, pw_words(s, "%d", p->pans),
                is_hot && p->finisher != PW_NONE ? pw_words_span(s, p->from_at_min, p->to_at_min) : "", where);
  }
}

/* [R1] How sure it is that each meal is ready. */
static void on_time(struct pw_page *s)
{
  if (!s->plan->chance.services)
    return;
  pw_page_head(s, "Ready on time");
  for (int i = 0; i < s->ev->n_services; i++) {
    const struct pw_service *sv = &s->ev->services[i];
    pw_page_say(s, 2, 4, "%s: %s. %s", sv->name && sv->name[0] ? sv->name : sv->id,
                pw_page_made(s, pw_chance_words(s->plan, i, s->arena)),
                pw_page_made(s, pw_chance_more_words(s->plan, i, s->arena)));
  }
}

static void proof(struct pw_page *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  static const char *const why[] = {[PW_STOP_GAP] = "near enough to the bound",
                                    [PW_STOP_WORK] = "it had done its share of work",
                                    [PW_STOP_TIME] = "its time was up"};
  pw_page_head(s, "How good it is");
  const struct pw_short cost = pw_words_search_cost(s->ev, al);
  if (al->n_missed > 0)
    pw_page_say(s, 2, 2,
                "Some pieces have no place, so nothing is said on how near this is to the best plan. The search "
                "stopped because %s.",
                why[al->stopped_by]);
  else if (pw_words_is_proved(al))
    pw_page_say(s, 2, 2,
                "Fuel, labour, door openings and waiting cost %s in this plan. No plan with these margins, on "
                "this time grid, costs less "
                "than %s: at most %s of the cost could be saved. The search stopped because %s.",
                cost.s, pw_words_bound(s->ev, al).s, pw_words_gap(al).s, why[al->stopped_by]);
  else
    pw_page_say(s, 2, 2,
                "Fuel, labour, door openings and waiting cost %s in this plan. How near that is to the best plan is "
                "not proved. The search stopped because %s.",
                cost.s, why[al->stopped_by]);
  const char *steps = pw_page_made(s, pw_words_proof(s->ev, al, s->arena));
  if (*steps)
    pw_page_para(s, 2, 2, steps);
}

/* What the prices of `effort:` bought. */
static void handling(struct pw_page *s, struct pw_ctx *ctx)
{
  struct pw_handling h;
  const struct pw_plan *plan = s->plan;
  s->has_failed = s->has_failed || pw_handling_make(&h, plan, ctx) != PW_OK;
  if (s->has_failed)
    return;
  const char *words = "";
  for (int v = 0; v < s->ev->n_services; v++)
    words =
        pw_words(s, "%s%s%s for %s", words, v ? ", " : "", pw_words_count(h.load_times[v], "load time", "load times").s,
                 s->ev->services[v].name ? s->ev->services[v].name : s->ev->services[v].id);
  int most = 0, lot = 0;
  for (int l = 0; l < plan->lots.n_lots; l++)
    if (h.places[l] > most) {
      most = h.places[l];
      lot = l;
    }
  if (most == 0)
    return;
  int n_loose = h.n_openings - h.n_priced;
  const char *loose = n_loose > 0 ? pw_words(s, ", %d more only to test, read or mop", n_loose) : "";
  const char *soon =
      h.n_soon == 0 ? "; never two within 30 min at one pit"
                    : pw_words(s, "; %d less than 30 min after the one before, the shift sheet says why", h.n_soon);
  pw_page_say(s, 2, 2, "Doors: %s to load, wrap, move or take off%s%s. %s. Most spread out: %s, over %s.",
              pw_words_count(h.n_priced, "opening", "openings").s, loose, soon, words,
              s->ev->cuts[plan->lots.lots[lot].cut].name, pw_words_count(most, "place", "places").s);
}

static void shortages(struct pw_page *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  if (al->n_missed == 0)
    return;
  pw_page_head(s, pw_words(s, "Does not fit: %s", pw_words_pieces(al->n_missed).s));
  for (int l = 0; l < s->plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &s->plan->lots.lots[l];
    if (al->missed[l] > 0)
      pw_page_pair(s, 2, pw_words(s, "%d of %d × %s", al->missed[l], lot->pieces, s->ev->cuts[lot->cut].name),
                   s->ev->services[lot->service].name);
  }
  for (int i = 0; i < al->n_shortages; i++)
    pw_page_para(s, 2, 4, al->shortages[i].text);
  for (int i = 0; i < s->plan->n_shortfalls; i++)
    pw_page_say(s, 2, 4, "Missing at the table: %s.", s->plan->shortfalls[i].text);
  pw_part_ways(s, true);
}

pw_status pw_page_plan(struct pw_page *s, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_view view;
  *s = pw_page_open(plan, plan->event, ctx);
  pw_status st = pw_view_make(&view, plan, ctx);
  if (st != PW_OK)
    return st;
  pw_page_title(s, s->ev->name, "Plan");
  pw_page_say(s, 0, 0, "%s, %s. %s", pw_when_date(s->ev->date).s, pw_words_guests(plan->demand.head_count).s,
              plan->allocation.n_missed ? "The job does not fit: see below." : "The job fits.");
  shortages(s);
  fires(s);
  meat(s, &view);
  side_pans(s);
  on_time(s);
  if (plan->allocation.n_missed == 0)
    pw_part_ways(s, true);
  pw_part_heat(s);
  proof(s);
  handling(s, ctx);
  pw_part_brief(s, plan->brief);
  if (plan->n_warnings > 0) {
    pw_page_head(s, "Look at this");
    for (int i = 0; i < plan->n_warnings; i++)
      pw_page_para(s, 2, 4, plan->warnings[i].text);
  }
  return view.failed ? PW_ERR_MEMORY : pw_page_done(s);
}
