/* page_explain.c - struct pw_explain in a cook's words: a page of its own, and the extract that a plan carries. */
#include "base/when.h"
#include "plan/explain/explain.h"
#include "sheet/page/page_parts.h"
#include "sheet/page/page_words.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <math.h>

static const char *money(struct pw_page *s, double cents) { return pw_words_money(s, (pw_cents)llround(cents)); }

/* ---- fires ---------------------------------------------------------------------------------------- */

static const char *last_hour(struct pw_page *s, const struct pw_burn_story *b)
{
  const char *on = pw_words(s, "In its last hour %s on.", pw_words_count(b->late_pieces, "piece is", "pieces are").s);
  if (!b->is_hour)
    return pw_words(s, "%s There is no hour to take away.", on);
  if (b->without_missed > 0)
    return pw_words(s, "%s With the fire out an hour earlier, %s no place.", on,
                    pw_words_count(b->without_missed, "piece finds", "pieces find").s);
  if (b->without_cents >= 0.5)
    return pw_words(s, "%s With the fire out an hour earlier, everything still finds a place, for %s more.", on,
                    money(s, b->without_cents));
  return pw_words(s, "%s With the fire out an hour earlier, everything still finds a place at no more cost.", on);
}

static void fires(struct pw_page *s, const struct pw_explain *e)
{
  static const struct pw_page_column columns[] = {
      {4, 32, PW_CELL_WHAT, ""}, {1, 22, PW_CELL_ACT, ""}, {1, 20, PW_CELL_TIME, ""}};
  pw_page_head(s, "What each fire is for");
  pw_page_table_of(s, columns);
  for (int i = 0; i < e->n_burns; i++) {
    const struct pw_burn_story *b = &e->burns[i];
    const struct pw_burn *burn = &s->plan->allocation.burns[b->burn];
    pw_page_pair(s, 2, s->ev->pits[burn->pit].name,
                 pw_words(s, "lit %s, out %s", pw_when(s->ev, burn->lit_at_min).s, pw_when(s->ev, burn->out_at_min).s));
    for (int k = 0; k < b->n_uses; k++) {
      const struct pw_burn_use *u = &b->uses[k];
      const struct pw_lot *lot = &s->plan->lots.lots[u->lot];
      const char *what = !lot->has_finish || u->finished == 0 ? pw_words(s, "smoke %d", u->smoked)
                         : u->smoked == 0                     ? pw_words(s, "finish %d", u->finished)
                                          : pw_words(s, "smoke %d, finish %d", u->smoked, u->finished);
      pw_page_row(s, s->ev->cuts[lot->cut].name, what, pw_words_span(s, u->from_at_min, u->to_at_min));
    }
    pw_page_para(s, 4, 4, last_hour(s, b));
  }
  if (e->n_burns == 0)
    pw_page_para(s, 2, 2, "No fire is lit.");
}

/* ---- worth ------------------------------------------------------------------------------------------ */

static bool is_area(const struct pw_page *s, const struct pw_worth *w)
{
  return w->kind == PW_WORTH_RACK || (w->kind == PW_WORTH_OVEN && !s->ev->finishers[w->finisher].is_in_pans);
}

static const char *amount(struct pw_page *s, const struct pw_worth *w, double cents)
{
  if (cents < 0.5)
    return "nothing";
  if (is_area(s, w))
    return pw_words(s, "%s", pw_money_format_per_area(s->ev, cents).s);
  return pw_words(s, "%s a %s", money(s, cents), w->kind == PW_WORTH_HANDS ? "hand" : "pan");
}

static const char *place(struct pw_page *s, const struct pw_worth *w)
{
  if (w->kind == PW_WORTH_OVEN)
    return s->ev->finishers[w->finisher].name;
  if (w->kind == PW_WORTH_HOLD)
    return "the hot boxes";
  if (w->kind == PW_WORTH_HANDS)
    return "hands at the pit";
  const struct pw_pit *pit = &s->ev->pits[s->plan->lots.zones[w->zone].pit];
  const char *where = pw_words(s, "%s, %s rack", pit->name, pit->racks[s->plan->lots.zones[w->zone].rack].id);
  if (w->n_racks > 1)
    where = pw_words(s, "%s and %d like it", where, w->n_racks - 1);
  return w->n_pits > 1 ? pw_words(s, "%s (%d such pits)", where, w->n_pits) : where;
}

static void worths(struct pw_page *s, const struct pw_explain *e)
{
  pw_page_head(s, "Where room and hands are worth most");
  if (e->n_worths == 0) {
    pw_page_para(s, 2, 2,
                 "Nowhere: counted by area there is enough of everything. More rack or oven space or another hand "
                 "would save nothing.");
    return;
  }
  pw_page_para(
      s, 2, 2,
      "What a little more of each would save if it were there for the whole job: first with the fires as planned, then "
      "with fires that may change too. Counted by area, not by the shapes of pieces, and true only for a little more.");
  static const struct pw_page_column columns[] = {{2, 33, PW_CELL_WHERE, ""},
                                                  {1, 14, PW_CELL_AMOUNT, "same fires"},
                                                  {1, 14, PW_CELL_AMOUNT, "other fires"},
                                                  {2, 13, PW_CELL_TIME, "counts"}};
  pw_page_table_of(s, columns);
  for (int i = 0; i < e->n_worths; i++) {
    const struct pw_worth *w = &e->worths[i];
    pw_page_row(s, place(s, w), amount(s, w, w->fixed_cents), amount(s, w, w->free_cents),
                pw_words_span(s, w->from_at_min, w->to_at_min));
    if (w->fixed_pieces < 0.005)
      continue;
    double more =
        w->fixed_pieces * (is_area(s, w) && s->ev->units == PW_UNITS_US ? 0.09290304 : 1); /* ft2, NIST SP 811 */
    pw_page_say(
        s, 4, 4, "and a place for %s more %s per %s", pw_format_number(more, 2).s, more == 1 ? "piece" : "pieces",
        is_area(s, w) ? (s->ev->units == PW_UNITS_US ? "ft2" : "m2") : (w->kind == PW_WORTH_HANDS ? "hand" : "pan"));
  }
}

static void proof(struct pw_page *s, const struct pw_allocation *al)
{
  const char *steps = pw_page_made(s, pw_words_proof(s->ev, al, s->arena));
  if (!*steps)
    return;
  pw_page_head(s, "How near the best");
  pw_page_say(s, 2, 2, "At most %s of %s could be saved. %s", pw_words_gap(al).s, pw_words_search_cost(s->ev, al).s,
              steps);
}

pw_status pw_page_explain(struct pw_page *s, const struct pw_explain *explain, const struct pw_plan *plan,
                          struct pw_ctx *ctx)
{
  *s = pw_page_open(plan, plan->event, ctx);
  pw_page_title(s, s->ev->name, "Explained");
  pw_page_say(s, 0, 0, "%s, %s. %s", pw_when_date(s->ev->date).s, pw_words_guests(plan->demand.head_count).s,
              plan->allocation.n_missed ? "The job does not fit: the plan says what would help." : "The job fits.");
  fires(s, explain);
  worths(s, explain);
  proof(s, &plan->allocation);
  pw_part_safe(s);
  pw_part_shift_reasons(s);
  pw_part_levels(s);
  pw_part_ways_late(s);
  pw_page_head(s, "Where the figures come from");
  pw_page_say(
      s, 2, 2,
      "These are dual values of the linear program on the plan's grid, with pieces in fractions and without their "
      "shapes. It costs %s with the plan's fires and %s with any%s. For the last hours the search was run again.",
      money(s, explain->fixed_lp_cents), money(s, explain->free_lp_cents),
      plan->allocation.n_missed > 0
          ? ""
          : pw_words(s, "; the plan costs %s with whole pieces on true racks", money(s, plan->allocation.cost_cents)));
  if (plan->allocation.n_missed > 0)
    pw_page_para(
        s, 2, 2,
        explain->lp_missed > 0
            ? pw_words(s,
                       "With the plan's fires %s pieces have no place even by area; the money is counted without them.",
                       pw_format_number(explain->lp_missed, 1).s)
            : "By area every piece would find a place; their shapes prevent it, and these figures do not see shapes.");
  if (explain->is_merged)
    pw_page_para(s, 2, 2, "Places whose times differ by less than a step of the grid are counted as one.");
  return pw_page_done(s);
}

/* ---- the extract on the plan's sheet -------------------------------------------------------------------- */

enum { BRIEF_BURNS = 3, BRIEF_LOTS = 2 };

static void brief_fire(struct pw_page *s, const struct pw_burn_story *b)
{
  const struct pw_burn *burn = &s->plan->allocation.burns[b->burn];
  const char *words =
      pw_words(s, "%s, %s:", s->ev->pits[burn->pit].name, pw_words_span(s, burn->lit_at_min, burn->out_at_min));
  for (int k = 0; k < b->n_uses && k < BRIEF_LOTS; k++) {
    int pieces = b->uses[k].smoked > b->uses[k].finished ? b->uses[k].smoked : b->uses[k].finished;
    words = pw_words(s, "%s%s %d %s", words, k ? "," : "", pieces,
                     s->ev->cuts[s->plan->lots.lots[b->uses[k].lot].cut].name);
  }
  if (b->n_uses > BRIEF_LOTS)
    words = pw_words(s, "%s and %d more", words, b->n_uses - BRIEF_LOTS);
  pw_page_say(s, 2, 4, "%s. %s an hour; %d pieces on in the last.", words, money(s, b->hour_cents), b->late_pieces);
}

/* The first of each kind that is worth something: by then they are sorted. */
static void brief_worths(struct pw_page *s, const struct pw_explain *e)
{
  bool is_told[PW_WORTH_HANDS + 1] = {false};
  const char *words = "";
  for (int i = 0; i < e->n_worths; i++) {
    const struct pw_worth *w = &e->worths[i];
    if (is_told[w->kind] || w->fixed_cents < 0.5)
      continue;
    is_told[w->kind] = true;
    words = pw_words(s, "%s%s %s %s", words, *words ? ";" : "", place(s, w), amount(s, w, w->fixed_cents));
  }
  if (*words)
    pw_page_say(s, 2, 4, "With these fires a little more room would save, counted by area:%s.", words);
  else if (e->fixed_lp_cents > 0)
    pw_page_para(s, 2, 4,
                 "With these fires, more rack space, oven space or hands would save nothing, counted by area.");
}

void pw_part_brief(struct pw_page *s, const struct pw_explain *e)
{
  if (!e || e->n_burns == 0)
    return;
  pw_page_head(s, "Why (more in pitwright explain)");
  int n = e->n_burns > BRIEF_BURNS ? BRIEF_BURNS - 1 : e->n_burns;
  for (int i = 0; i < n; i++)
    brief_fire(s, &e->burns[i]);
  if (e->n_burns > n)
    pw_page_say(s, 2, 4, "and %d more fires.", e->n_burns - n);
  brief_worths(s, e);
}
