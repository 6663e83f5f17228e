/* plan_check_ways.c - what is missing at the table follows from the pieces without a place, portion by portion, and ways out from
 * themselves: what they leave, what they cost, what they change [J11].
 * In: lots, demand, services, quote, shortfalls, remedies.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#define MONEY "%" PRId64

static long missed_of(const struct pw_seen_plan *plan, int service, const char *cut, long *pieces)
{
  long missed = 0;
  *pieces = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOTS]; i++)
    if (service == PW_SEEN_NONE || (plan->lots[i].service == service && pw_check_is(plan->lots[i].cut, cut))) {
      missed += plan->lots[i].missed;
      *pieces += plan->lots[i].pieces;
    }
  return missed;
}

/* ---- portions ------------------------------------------------------------------------------------------------- */

static const struct pw_seen_shortfall *find_shortfall(const struct pw_seen_plan *plan, const struct pw_seen_demand *d,
                                                      int *at)
{
  for (*at = 0; *at < plan->n[PW_SEEN_SHORTFALLS]; ++*at)
    if (plan->shortfalls[*at].service == d->service && pw_check_is(plan->shortfalls[*at].dish, d->dish))
      return &plan->shortfalls[*at];
  return NULL;
}

static void check_classes(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct pw_seen_shortfall *s,
                          int is_meat, int i)
{
  const struct pw_seen_service *service = &plan->services[s->service];
  long sum = 0, eaters = 0;
  for (int c = 0; c < s->n_by_class; c++)
    sum += s->by_class[c];
  if (sum != s->portions)
    pw_judge_find(judge, "J11", "shortfalls[%d].by_class: the classes lack %ld portions, the dish lacks %d", i, sum,
                  s->portions);
  for (int c = 0; service->of_class && is_meat != PW_SEEN_NONE && c < s->n_by_class; c++)
    eaters += is_meat && !plan->classes[c].eats_meat ? 0 : service->of_class[c];
  for (int c = 0; eaters > 0 && c < s->n_by_class; c++) { /* by their numbers, to the portion */
    long of = is_meat && !plan->classes[c].eats_meat ? 0 : service->of_class[c];
    double share = (double)s->portions * (double)of / (double)eaters;
    if (fabs(s->by_class[c] - share) >= 1)
      pw_judge_find(judge, "J11", "shortfalls[%d].by_class: \"%s\" lacks %d portions, its share is %.1f", i,
                    plan->classes[c].id, s->by_class[c], share);
  }
}

static void check_shortfalls(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int n_found = 0;
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND] && q->n_dishes == plan->n[PW_SEEN_DEMAND]; i++) {
    const struct pw_seen_demand *d = &plan->demand[i];
    long pieces = 0, missed = d->cut ? missed_of(plan, d->service, d->cut, &pieces) : 0;
    int at = 0;
    const struct pw_seen_shortfall *s = find_shortfall(plan, d, &at);
    n_found += s != NULL;
    if (missed > 0 && !s)
      pw_judge_find(judge, "J11",
                    "shortfalls: %ld pieces of \"%s\" have no place, what of \"%s\" is missing is not told", missed,
                    d->cut, d->dish);
    if (s && missed == 0)
      pw_judge_find(judge, "J11", "shortfalls[%d]: no piece of \"%s\" is without a place", at, d->dish);
    if (!s || missed == 0 || d->portions == PW_SEEN_NONE)
      continue;
    double there = q->dishes[i].portions * (double)(pieces - missed) / (double)pieces;
    int portions = (int)fmin(fmax(ceil(d->portions - there - 1e-6), 0), d->portions);
    if (s->wanted != d->portions)
      pw_judge_find(judge, "J11", "shortfalls[%d].wanted: is %d, %d portions are expected", at, s->wanted, d->portions);
    if (s->portions != portions)
      pw_judge_find(judge, "J11", "shortfalls[%d].portions: is %d, what is cooked leaves %d of %d wanted", at,
                    s->portions, portions, d->portions);
    check_classes(judge, plan, s, d->is_meat, at);
  }
  if (q->n_dishes == plan->n[PW_SEEN_DEMAND] && n_found != plan->n[PW_SEEN_SHORTFALLS])
    pw_judge_find(judge, "J11", "shortfalls: %d lines, of them %d are of dishes on the menus, each once",
                  plan->n[PW_SEEN_SHORTFALLS], n_found);
}

/* ---- ways out ------------------------------------------------------------------------------------------------- */

static bool is_pit(const struct pw_seen_plan *plan, const char *id)
{
  for (int i = 0; i < plan->n[PW_SEEN_PITS]; i++)
    if (pw_check_is(plan->pits[i].id, id))
      return true;
  return false;
}

static bool is_finisher(const struct pw_seen_plan *plan, const char *id)
{
  for (int i = 0; i < plan->n[PW_SEEN_FINISHERS]; i++)
    if (pw_check_is(plan->finishers[i].id, id))
      return true;
  return false;
}

static bool is_there(const struct pw_seen_plan *plan, const struct pw_seen_way_part *part)
{
  switch (part->kind) {
  case PW_SEEN_WAY_HAND:
    for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++)
      if (pw_check_is(plan->crew[i].role, part->id))
        return true;
    return false;
  case PW_SEEN_WAY_DAY_BEFORE:
  case PW_SEEN_WAY_PORTION:
  case PW_SEEN_WAY_WAVES:
    for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++)
      if (pw_check_is(plan->demand[i].dish, part->id) && plan->demand[i].cut)
        return true;
    return false;
  case PW_SEEN_WAY_SITTING:
    for (int i = 0; i < plan->n[PW_SEEN_SERVICES]; i++)
      if (pw_check_is(plan->services[i].id, part->id))
        return true;
    return false;
  case PW_SEEN_WAY_TRAY:
    return is_pit(plan, part->id);
  default:
    return is_pit(plan, part->id) || is_finisher(plan, part->id);
  }
}

/* Boxes, ovens and sittings are always further ones; hands, dishes are the event's; a pit may be either. */
static bool may_be(const struct pw_seen_way_part *part)
{
  switch (part->kind) {
  case PW_SEEN_WAY_BOX:
  case PW_SEEN_WAY_OVEN:
  case PW_SEEN_WAY_SITTING:
    return part->is_new;
  case PW_SEEN_WAY_PIT:
    return true;
  default:
    return !part->is_new;
  }
}

static void check_part(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, int k)
{
  const struct pw_seen_remedy *r = &plan->remedies[i];
  const struct pw_seen_way_part *part = &r->parts[k];
  const char *kind = pw_seen_ways[part->kind];
  if (!may_be(part) || (!part->is_new && !is_there(plan, part)))
    pw_judge_find(judge, "J11", "remedies[%d].parts[%d]: there is no \"%s\" in this plan for a way out by \"%s\"", i, k,
                  part->id, kind);
  else if (part->is_new && is_there(plan, part))
    pw_judge_find(judge, "J11", "remedies[%d].parts[%d]: \"%s\", a further \"%s\", is there already", i, k, part->id,
                  kind);
  for (int n = 0; n < k; n++)
    if (r->parts[n].kind == part->kind && pw_check_is(r->parts[n].id, part->id) && part->is_new)
      pw_judge_find(judge, "J11", "remedies[%d].parts[%d]: \"%s\" is added twice", i, k, part->id);
  for (int n = 0; n < r->n_lines; n++)
    if (strstr(r->lines[n], part->id))
      return;
  pw_judge_find(judge, "J11", "remedies[%d].lines: say nothing of \"%s\"", i, part->id);
}

/* ---- chances of ways out ----------------------------------------------------------------------------------------- */

static const double NOISE_ERRORS = 2, /* standard errors below its target that a meal may be by chance */
    WORSE_FRAC = 0.01,                /* no meal loses more */
    REACHED_FRAC = 0.005;             /* a target is had that is missed by less than draws err */

/* What a way out is told for: a quarter of what is lacking and a hundredth; of less than two hundredths half. */
static double least_gain(double lack) { return fmax(lack / 4, fmin(0.01, lack / 2)); }

static const struct pw_seen_service *meal_of(const struct pw_seen_plan *plan, const char *id)
{
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++)
    if (pw_check_is(plan->services[s].id, id))
      return &plan->services[s];
  return NULL;
}

static bool has_target(const struct pw_seen_service *s) { return s->chance.draws > 0 && s->chance.target_frac > 0; }

/* What the meals of this plan lack to their chances; *is_late: one lacks more than its draws may err. */
static double lack_of_plan(const struct pw_seen_plan *plan, bool *is_late)
{
  double all = 0;
  *is_late = false;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    const struct pw_seen_chance *c = &plan->services[s].chance;
    double lack = has_target(&plan->services[s]) ? fmax(0, c->target_frac - c->on_time_frac) : 0;
    *is_late = *is_late || lack > NOISE_ERRORS * c->standard_error_frac + 1e-9;
    all += lack;
  }
  return all;
}

static double lack_after(const struct pw_seen_remedy *r)
{
  double all = 0;
  for (int k = 0; k < r->n_chances; k++)
    all += fmax(0, r->chances[k].target_frac - r->chances[k].on_time_frac);
  return all;
}

/* Every meal of the plan once, with its target, and besides them only second sittings that the way adds. */
static void check_meals(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_remedy *r = &plan->remedies[i];
  int n_known = 0;
  for (int k = 0; k < r->n_chances; k++) {
    const struct pw_seen_meal_chance *c = &r->chances[k];
    const struct pw_seen_service *s = meal_of(plan, c->service);
    bool is_added = false;
    for (int p = 0; p < r->n_parts; p++)
      is_added = is_added || (r->parts[p].kind == PW_SEEN_WAY_SITTING && pw_check_is(r->parts[p].id, c->service));
    for (int n = 0; n < k; n++)
      if (pw_check_is(r->chances[n].service, c->service))
        pw_judge_find(judge, "J11", "remedies[%d].chances_after[%d]: \"%s\" is told twice", i, k, c->service);
    if (!s && !is_added)
      pw_judge_find(judge, "J11", "remedies[%d].chances_after[%d]: there is no meal \"%s\"", i, k, c->service);
    n_known += s != NULL;
    if (s && s->chance.draws > 0 && pw_check_differs(c->target_frac, s->chance.target_frac))
      pw_judge_find(judge, "J11", "remedies[%d].chances_after[%d].target_frac: is %.4g, the meal asks for %.4g", i, k,
                    c->target_frac, s->chance.target_frac);
  }
  if (n_known != plan->n[PW_SEEN_SERVICES])
    pw_judge_find(judge, "J11", "remedies[%d].chances_after: %d of the %d meals are told", i, n_known,
                  plan->n[PW_SEEN_SERVICES]);
}

/* A way to be ready more often gains something, and takes it from no meal. */
static void check_gain(struct pw_judge *judge, const struct pw_seen_plan *plan, double lack, int i)
{
  const struct pw_seen_remedy *r = &plan->remedies[i];
  if (lack - lack_after(r) < least_gain(lack) - 1e-9)
    pw_judge_find(
        judge, "J11",
        "remedies[%d].chances_after: lack %.4g to their targets, the meals of this plan %.4g: a way out gains "
        "%.4g at least",
        i, lack_after(r), lack, least_gain(lack));
  for (int k = 0; k < r->n_chances; k++) {
    const struct pw_seen_service *s = meal_of(plan, r->chances[k].service);
    if (s && has_target(s) &&
        r->chances[k].on_time_frac < fmin(s->chance.on_time_frac, s->chance.target_frac) - WORSE_FRAC - 1e-9)
      pw_judge_find(judge, "J11", "remedies[%d].chances_after[%d]: %.4g is less than the %.4g of this plan", i, k,
                    r->chances[k].on_time_frac, s->chance.on_time_frac);
  }
}

/* What stands first: reaches the targets, and then costs less; else costs less for what it gains. */
static double worth_of(const struct pw_seen_remedy *r, double lack)
{
  double cents = (double)r->cost_cents;
  return lack_after(r) < REACHED_FRAC || cents <= 0 ? cents : cents / (lack - lack_after(r));
}

static void check_late(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  bool is_late = false;
  double lack = lack_of_plan(plan, &is_late);
  const struct pw_seen_remedy *r = &plan->remedies[i], *before = i > 0 ? r - 1 : NULL;
  if (!is_late)
    pw_judge_find(judge, "J11", "remedies[%d]: a way out, and nothing is without a place or late too often", i);
  if (r->missed_after > 0)
    pw_judge_find(judge, "J11", "remedies[%d]: leaves %d pieces without a place, all have one without it", i,
                  r->missed_after);
  if (r->n_chances <= 0)
    pw_judge_find(judge, "J11",
                  "remedies[%d].chances_after: a way out of being late tells how often each meal is ready", i);
  else
    check_gain(judge, plan, lack, i);
  if (!before)
    return;
  bool reaches = lack_after(r) < REACHED_FRAC, did = lack_after(before) < REACHED_FRAC;
  if ((reaches && !did) ||
      (reaches == did && worth_of(before, lack) > worth_of(r, lack) + 1e-6 * (1 + fabs(worth_of(r, lack)))))
    pw_judge_find(judge, "J11",
                  "remedies[%d]: out of order: what reaches the targets first, then what gains most for its price", i);
}

static void check_remedy(struct pw_judge *judge, const struct pw_seen_plan *plan, long missed, int i)
{
  const struct pw_seen_remedy *r = &plan->remedies[i];
  if (missed > 0 && 2L * r->missed_after > missed)
    pw_judge_find(judge, "J11", "remedies[%d]: leaves %d pieces without a place, more than half of the %ld without it",
                  i, r->missed_after, missed);
  if (r->n_chances != PW_SEEN_NONE)
    check_meals(judge, plan, i);
  if (missed == 0)
    check_late(judge, plan, i);
  else if (r->n_chances > 0 && r->missed_after > 0)
    pw_judge_find(judge, "J11", "remedies[%d].chances_after: told, and %d pieces have no place", i, r->missed_after);
  if (r->plan_cost_cents != PW_SEEN_NONE && r->plan_cost_cents - plan->quote.cost_cents != r->cost_cents)
    pw_judge_find(judge, "J11", "remedies[%d].cost_cents: is " MONEY ", its plan costs " MONEY ", this one " MONEY, i,
                  r->cost_cents, r->plan_cost_cents, plan->quote.cost_cents);
  if (r->missed_portions_after != PW_SEEN_NONE && r->missed_portions_after > 0 && r->missed_after == 0)
    pw_judge_find(judge, "J11", "remedies[%d].missed_portions_after: is %d, all pieces have a place", i,
                  r->missed_portions_after);
  if (r->n_parts == PW_SEEN_NONE)
    return;
  if (r->n_parts == 0 || r->n_lines == 0 || strcmp(r->lines[0], "---") != 0)
    pw_judge_find(judge, "J11", "remedies[%d].lines: a way out changes something, in lines after \"---\"", i);
  for (int k = 0; k < r->n_parts; k++)
    check_part(judge, plan, i, k);
  const struct pw_seen_remedy *before = i > 0 ? r - 1 : NULL;
  if (missed > 0 && before &&
      ((before->missed_after > 0 && r->missed_after == 0) ||
       ((before->missed_after > 0) == (r->missed_after > 0) && before->cost_cents > r->cost_cents)))
    pw_judge_find(judge, "J11", "remedies[%d]: out of order: what places everything first, then the cheapest", i);
}

pw_status pw_check_ways(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  long pieces = 0, missed = missed_of(plan, PW_SEEN_NONE, NULL, &pieces);
  check_shortfalls(judge, plan);
  for (int i = 0; i < plan->n[PW_SEEN_REMEDIES]; i++)
    check_remedy(judge, plan, missed, i);
  return PW_OK;
}
