/* plan_check_shifts.c - the judge on shifts worked out from a pool [J21]: as long as the line of the pool and the rules allow, with
 * their breaks, with rest between two of one person, paid as they say; somebody awake at every fire, enough people for the guests.
 * In: people, crew, pool, rules, burns, services, warnings.  Out: findings. */
#include "judge/plan_check_shifts.h"
#include "base/clock.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum { DAY_MIN = 1440, NIGHT_HOURS = 5, NIGHT_WORK_MIN = 180, NIGHT_LEAST_MIN = 60, ALONE_MIN = 120, STEP_MIN = 15 };

bool pw_check_is_night(const struct pw_seen_plan *plan, int at)
{
  int hour = plan->clock ? pw_clock_local(plan->clock, at).hour : (at % DAY_MIN + DAY_MIN) % DAY_MIN / 60;
  return hour < NIGHT_HOURS;
}

static bool is_told(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, code) == 0)
      return true;
  return false;
}

/* The same person: their name, where they have one. */
static bool is_same(const struct pw_seen_person *a, const struct pw_seen_person *b)
{
  return a->pool == b->pool && a->name && b->name && strcmp(a->name, b->name) == 0;
}

/* ---- one shift ------------------------------------------------------------------------------------------ */

static void check_length(struct pw_judge *judge, const struct pw_seen_plan *plan, int p)
{
  const struct pw_seen_person *who = &plan->people[p];
  const struct pw_seen_pool *line = &plan->pool[who->pool];
  const struct pw_seen_rules *rules = &plan->rules;
  int length = who->to_min - who->from_min, night = 0;
  const struct {
    const char *words;
    int most;
  } limits[] = {{"by the pool", line->most_min},
                {"by the rules", rules->longest_min},
                {"awake at a fire or a wheel", rules->awake_longest_min}};
  for (size_t i = 0; i < sizeof limits / sizeof *limits; i++)
    if (limits[i].most > 0 && length > limits[i].most)
      pw_judge_find(judge, "J21", "people[%d]: \"%s\" is there for %d min, at most %d %s", p, who->id, length,
                    limits[i].most, limits[i].words);
  if ((line->from_min != PW_SEEN_NO_TIME && who->from_min < line->from_min) ||
      (line->to_min != PW_SEEN_NO_TIME && who->to_min > line->to_min))
    pw_judge_find(judge, "J21", "people[%d]: \"%s\" is there from minute %d to %d, when they cannot be called", p,
                  who->id, who->from_min, who->to_min);
  for (int at = who->from_min; at < who->to_min; at += STEP_MIN)
    night += pw_check_is_night(plan, at) ? STEP_MIN : 0;
  if (length < rules->night_shortest_min && night >= NIGHT_LEAST_MIN)
    pw_judge_find(judge, "J21", "people[%d]: \"%s\" comes by night for %d min, at least %d", p, who->id, length,
                  rules->night_shortest_min);
  if (rules->night_longest_min > 0 && night >= NIGHT_WORK_MIN && length > rules->night_longest_min)
    pw_judge_find(judge, "J21", "people[%d]: \"%s\" works by night for %d min, at most %d", p, who->id, length,
                  rules->night_longest_min);
}

static void check_breaks(struct pw_judge *judge, const struct pw_seen_plan *plan, int p)
{
  const struct pw_seen_person *who = &plan->people[p];
  const struct pw_seen_rules *rules = &plan->rules;
  int since = who->from_min, longest = 0;
  for (int k = 0; k < who->n_breaks; k++) {
    const struct pw_seen_span *b = &who->breaks[k];
    if (b->from_min < who->from_min || b->to_min > who->to_min || b->to_min <= b->from_min)
      pw_judge_find(judge, "J21", "people[%d].breaks[%d]: from minute %d to %d, no part of the shift", p, k,
                    b->from_min, b->to_min);
    if (b->to_min - b->from_min >= rules->break_min) {
      longest = b->from_min - since > longest ? b->from_min - since : longest;
      since = b->to_min;
    }
  }
  longest = who->to_min - since > longest ? who->to_min - since : longest;
  if (rules->break_after_min > 0 && longest > rules->break_after_min)
    pw_judge_find(judge, "J21", "people[%d]: \"%s\" works %d min without a break of %d min, at most %d", p, who->id,
                  longest, rules->break_min, rules->break_after_min);
}

/* ---- one person ------------------------------------------------------------------------------------------- */

static void check_rest(struct pw_judge *judge, const struct pw_seen_plan *plan, int p)
{
  const struct pw_seen_person *who = &plan->people[p];
  for (int k = 0; k < plan->n[PW_SEEN_PEOPLE]; k++) {
    const struct pw_seen_person *other = &plan->people[k];
    if (k == p || !is_same(who, other) || other->from_min < who->from_min ||
        (other->from_min == who->from_min && k < p))
      continue;
    if (other->from_min - who->to_min < plan->rules.rest_min || other->from_min < who->to_min)
      pw_judge_find(judge, "J21",
                    "people[%d]: \"%s\" begins at minute %d and was there until %d: %d min of rest are due", k,
                    other->name, other->from_min, who->to_min, plan->rules.rest_min);
  }
  if (!who->name)
    pw_judge_find(judge, "J21", "people[%d].name: who of the pool comes is missing", p);
}

/* No more people than the line has. */
static void check_names(struct pw_judge *judge, const struct pw_seen_plan *plan, int line)
{
  int n = 0;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++) {
    bool is_new = plan->people[p].pool == line && plan->people[p].name;
    for (int k = 0; k < p && is_new; k++)
      is_new = !is_same(&plan->people[k], &plan->people[p]);
    n += is_new;
  }
  if (n > plan->pool[line].up_to)
    pw_judge_find(judge, "J21", "crew_pool[%d]: %d people of \"%s\" come, there are %d", line, n, plan->pool[line].role,
                  plan->pool[line].up_to);
}

/* ---- pay --------------------------------------------------------------------------------------------------- */

static int paid_min(const struct pw_seen_plan *plan, const struct pw_seen_person *who)
{
  int unpaid = 0;
  for (int k = 0; k < who->n_breaks && !plan->rules.is_break_paid; k++)
    unpaid += who->breaks[k].to_min - who->breaks[k].from_min;
  return who->to_min - who->from_min - unpaid;
}

double pw_check_shift_pay(const struct pw_seen_pool *line, int minutes)
{
  double paid = minutes > line->least_min ? minutes : line->least_min;
  if (line->overtime_after_min > 0 && minutes > line->overtime_after_min)
    paid += (minutes - line->overtime_after_min) * (line->overtime_frac - 1);
  return paid * line->cents_per_h / 60 + (double)line->travel_cents;
}

/* What a shift costs by pool and rules, the week's overtime with it. */
static double pay_of(const struct pw_seen_plan *plan, int p)
{
  const struct pw_seen_person *who = &plan->people[p];
  const struct pw_seen_pool *line = &plan->pool[who->pool];
  int now = paid_min(plan, who), before = 0;
  for (int k = 0; k < plan->n[PW_SEEN_PEOPLE]; k++)
    before += k != p && is_same(&plan->people[k], who) && plan->people[k].from_min < who->from_min
                  ? paid_min(plan, &plan->people[k])
                  : 0;
  int over = before + now - plan->rules.week_overtime_after_min;
  over = plan->rules.week_overtime_after_min == 0 || over < 0 ? 0 : over > now ? now : over;
  return pw_check_shift_pay(line, now) + over * (plan->rules.week_overtime_frac - 1) * line->cents_per_h / 60;
}

static void check_pay(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  double due = 0, paid = 0;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++) {
    if (plan->people[p].pool == PW_SEEN_NONE)
      continue;
    due += pay_of(plan, p);
    if (fabs(plan->people[p].cents_per_h - plan->pool[plan->people[p].pool].cents_per_h) > 1e-6)
      pw_judge_find(judge, "J21", "people[%d].cents_per_h: %g, the pool says %g", p, plan->people[p].cents_per_h,
                    plan->pool[plan->people[p].pool].cents_per_h);
  }
  for (int c = 0; c < plan->n[PW_SEEN_CREW]; c++) {
    const struct pw_seen_crew *line = &plan->crew[c];
    bool is_given = true;
    for (int p = 0; p < plan->n[PW_SEEN_PEOPLE] && is_given; p++)
      is_given = plan->people[p].pool == PW_SEEN_NONE || plan->people[p].from_min != line->from_min ||
                 plan->people[p].to_min != line->to_min || plan->people[p].cents_per_h != line->cents_per_h ||
                 strcmp(plan->crew[plan->people[p].role].role, line->role) != 0;
    if (!is_given)
      paid += line->count *
              ((line->to_min - line->from_min - line->unpaid_min) * line->cents_per_h / 60 + line->extra_cents);
    else if (line->unpaid_min != 0 || line->extra_cents != 0)
      pw_judge_find(judge, "J21", "crew[%d]: has pay of the pool and nobody of it", c);
  }
  const double told = (double)plan->staffing.pay_cents, cover = (double)plan->staffing.cover_cents,
               bound = (double)plan->staffing.bound_cents;
  if (fabs(due - told) > 1)
    pw_judge_find(judge, "J21", "staffing.pay_cents: is %.0f, the shifts of the pool cost %.2f", told, due);
  if (bound > cover + 1 || fabs(plan->staffing.gap_frac * cover - (cover - bound)) > 1.5)
    pw_judge_find(judge, "J21", "staffing.gap_frac: is %g, of %.0f with a bound of %.0f", plan->staffing.gap_frac,
                  cover, bound);
  if (fabs(due - paid) > 0.01 * plan->n[PW_SEEN_CREW] + 1e-6 * due)
    pw_judge_find(judge, "J21", "crew: the shifts of the pool cost %.2f, by pool and rules %.2f", paid, due);
}

/* ---- who must be there --------------------------------------------------------------------------------------- */

static const struct pw_seen_crew *line_of(const struct pw_seen_plan *plan, const struct pw_seen_person *who)
{
  for (int c = 0; c < plan->n[PW_SEEN_CREW]; c++)
    if (plan->crew[c].from_min == who->from_min && plan->crew[c].to_min == who->to_min &&
        strcmp(plan->crew[c].role, plan->crew[who->role].role) == 0)
      return &plan->crew[c];
  return &plan->crew[who->role];
}

/* People of a kind on shift and not in a break. */
int pw_check_there(const struct pw_seen_plan *plan, int at, enum pw_check_place place, int except)
{
  int n = 0;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++) {
    const struct pw_seen_person *who = &plan->people[p];
    const struct pw_seen_crew *line = line_of(plan, who);
    bool is_there = p != except && who->from_min <= at && at < who->to_min;
    for (int k = 0; k < who->n_breaks; k++)
      is_there = is_there && !(who->breaks[k].from_min <= at && at < who->breaks[k].to_min);
    for (int k = 0; k < plan->n_away; k++)
      is_there = is_there && !(plan->away[k].person == p && plan->away[k].from_min <= at && at < plan->away[k].to_min);
    n += is_there && (place == PW_CHECK_AT_FIRE  ? line->tends_fire
                      : place == PW_CHECK_AT_PIT ? line->tends_fire || line->tends_pit
                                                 : line->serves);
  }
  return n;
}

bool pw_check_is_lit(const struct pw_seen_plan *plan, int at)
{
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    if (plan->burns[b].lit_min <= at && at < plan->burns[b].out_min)
      return true;
  return false;
}

static void check_fires(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int first = INT_MAX, last = INT_MIN, night = 0, lacking = 0;
  bool is_awake = is_told(plan, "nobody-awake");
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    first = plan->burns[b].lit_min < first ? plan->burns[b].lit_min : first;
    last = plan->burns[b].out_min > last ? plan->burns[b].out_min : last;
  }
  for (int at = first; first != INT_MAX && at <= last && !is_awake; at += STEP_MIN) {
    bool is_on = pw_check_is_lit(plan, at);
    if (is_on && pw_check_there(plan, at, PW_CHECK_AT_FIRE, PW_SEEN_NONE) == 0) {
      pw_judge_find(judge, "J21",
                    "people: nobody is awake at the fire at minute %d, and no warning \"nobody-awake\" says so", at);
      return;
    }
    if (is_on && pw_check_is_night(plan, at)) {
      night += STEP_MIN;
      lacking += pw_check_there(plan, at, PW_CHECK_AT_PIT, PW_SEEN_NONE) < plan->rules.night_hands;
      continue;
    }
    if (night >= ALONE_MIN && lacking > 0)
      pw_judge_find(judge, "J21",
                    "people: fewer than %d at the fire in the night before minute %d, and no warning "
                    "\"nobody-awake\" says so",
                    plan->rules.night_hands, at);
    night = lacking = 0;
  }
}

static void check_guests(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  double each = 0;
  for (int i = 0; i < plan->n_pool; i++)
    if (plan->pool[i].guests_per_hand > 0 && (each <= 0 || plan->pool[i].guests_per_hand < each))
      each = plan->pool[i].guests_per_hand;
  for (int s = 0; each > 0 && s < plan->n[PW_SEEN_SERVICES] && !is_told(plan, "few-servers"); s++) {
    const struct pw_seen_service *service = &plan->services[s];
    int asked = (int)ceil(service->guests / each - 1e-9);
    for (int at = service->at_min; !service->is_handed_over && at < service->at_min + service->length_min;
         at += STEP_MIN)
      if (pw_check_there(plan, at, PW_CHECK_AT_TABLE, PW_SEEN_NONE) < asked) {
        pw_judge_find(judge, "J21",
                      "services[%d]: %d people look after %g guests at minute %d, %d are due, and no warning "
                      "\"few-servers\" says so",
                      s, pw_check_there(plan, at, PW_CHECK_AT_TABLE, PW_SEEN_NONE), service->guests, at, asked);
        break;
      }
  }
}

pw_status pw_check_shifts(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->has_proposal)
    pw_check_proposal(judge, plan);
  if (plan->n_pool <= 0)
    return PW_OK;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++)
    if (plan->people[p].pool != PW_SEEN_NONE) {
      check_length(judge, plan, p);
      check_breaks(judge, plan, p);
      check_rest(judge, plan, p);
    }
  for (int i = 0; i < plan->n_pool; i++)
    check_names(judge, plan, i);
  check_pay(judge, plan);
  check_fires(judge, plan);
  check_guests(judge, plan);
  pw_check_reasons(judge, plan);
  return PW_OK;
}
