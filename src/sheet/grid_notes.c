/* grid_notes.c - the two sheets that say why: assumptions with their sources, and the plan check. */
#include "sheet/chance_words.h"
#include "sheet/grid_pen.h"
#include "sheet/words.h"

void pw_grid_facts(struct pw_grid *g)
{
  OPEN("Assumptions", 29, 34, 45, 46);
  g->is_landscape = true;
  pw_grid_title(g, TEXT("Assumptions and sources: %s", g->of->ev->name),
                "Every number from a catalog or the event file that this plan used.");
  HEADS("Of what", "What", "Value", "Source");
  pw_grid_stay(g, 0);
  for (int i = 0; i < g->of->view->n_facts; i++) {
    const struct pw_view_fact *f = &g->of->view->facts[i];
    ROW(SAY(SMALL, f->group), SAY(SMALL, f->what), SAY(SMALL, f->value), SAY(SMALL, f->source));
  }
  pw_grid_table(g);
}

static void quality(struct pw_grid *g, const char *what, const char *value)
{
  ROW(SAY(CELL, what), OVER(SAY(BOLD, value), 4));
}

static const char *price_words(struct pw_grid *g, const struct pw_quote *q)
{
  return TEXT("%s per guest, %s in all with tax", pw_money_format(g->of->ev, q->per_guest_cents).s,
              pw_money_format(g->of->ev, q->total_cents).s);
}

static void quality_part(struct pw_grid *g)
{
  static const char *const stops[] = {"the asked-for gap was reached", "the work limit was reached",
                                      "the time limit was reached"};
  const struct pw_event *ev = g->of->ev;
  const struct pw_plan *plan = g->of->plan;
  const struct pw_allocation *al = &plan->allocation;
  const char *untold = al->n_missed > 0 ? "not told: pieces have no place" : "not proved";
  bool is_proved = pw_words_is_proved(al);
  quality(g, "Allocation", pw_view_outcome_word(al->outcome));
  quality(g, "Cost of the allocation", al->n_missed > 0 ? untold : TEXT("%s", pw_words_search_cost(ev, al).s));
  quality(g, "Proved bound: no plan costs less than", is_proved ? TEXT("%s", pw_words_bound(ev, al).s) : untold);
  quality(g, "Gap between the two, of the cost", is_proved ? TEXT("%s", pw_words_gap(al).s) : untold);
  quality(g, "The search ended because", stops[al->stopped_by]);
  for (int j = 0; j < plan->n_jobs; j++)
    quality(g, TEXT("Price, %s", plan->jobs[j].name), price_words(g, &plan->jobs[j].alone->quote));
  if (plan->n_jobs == 0)
    quality(g, "Price as planned", price_words(g, &plan->quote));
  quality(g, "Each dish lasts with a chance of at least", TEXT("%s", pw_format_percent(ev->terms.cover_frac).s));
}

static void lots_part(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  const struct pw_allocation *al = &plan->allocation;
  HEADS("Lot", "Pieces", "Placed", "Without a place", "Placed and missed make all");
  for (int i = 0; i < plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &plan->lots.lots[i];
    int placed = 0;
    for (int k = 0; k < al->n_loads; k++)
      placed += al->loads[k].lot == i && al->loads[k].stage == PW_LOAD_SMOKE ? al->loads[k].pieces : 0;
    ROW(SAY(CELL, TEXT("%s: %s, %s", g->of->view->lot_mark[i], g->of->ev->cuts[lot->cut].name,
                       pw_view_service(g->of->view, lot->service))),
        NUM(COUNT, lot->pieces), NUM(COUNT, placed), NUM(COUNT, al->missed[i]),
        SAY(BOLD, placed + al->missed[i] == lot->pieces ? "yes" : "NO"));
  }
}

void pw_grid_check(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  const struct pw_allocation *al = &plan->allocation;
  OPEN("Plan check", 44, 12, 12, 14, 16);
  pw_grid_title(g, TEXT("Plan check: %s", g->of->ev->name), "How good the plan is, and what a person should look at.");
  quality_part(g);
  pw_grid_gap(g);
  lots_part(g);
  if (al->n_shortages > 0) {
    pw_grid_gap(g);
    pw_grid_line(g, PW_G_SECTION, "What is short");
  }
  for (int i = 0; i < al->n_shortages; i++)
    pw_grid_line(g, PW_G_BOLD, al->shortages[i].text);
  for (int i = 0; i < plan->n_shortfalls; i++)
    pw_grid_line(g, PW_G_BOLD, TEXT("Missing at the table: %s", plan->shortfalls[i].text));
  if (al->n_remedies > 0) {
    pw_grid_gap(g);
    pw_grid_line(g, PW_G_SECTION, "Ways out");
  }
  for (int i = 0; i < al->n_remedies; i++) {
    const struct pw_remedy *r = &al->remedies[i];
    const char *chance = pw_chance_after_words(plan, r, g->of->view->arena);
    g->of->view->failed = g->of->view->failed || !chance;
    pw_grid_line(g, PW_G_CELL,
                 TEXT("%s: %s%s, %s%s%s (lines for the event file: plan.txt)", r->what, r->cost_cents > 0 ? "+" : "",
                      pw_money_format(g->of->ev, r->cost_cents).s,
                      al->n_missed == 0
                          ? ""
                          : TEXT("then %d %s without a place", r->missed_after, pw_view_pieces(r->missed_after)),
                      al->n_missed > 0 && chance && *chance ? ". " : "", chance ? chance : ""));
  }
  pw_grid_gap(g);
  pw_grid_line(g, PW_G_SECTION, "Warnings");
  if (plan->n_warnings == 0)
    pw_grid_line(g, PW_G_CELL, "None.");
  for (int i = 0; i < plan->n_warnings; i++)
    pw_grid_line(g, PW_G_CELL, plan->warnings[i].text);
}
