/* staff.c - who of the pool comes when [S2]: a shift program over the windows of the tasks, the tasks placed on the shifts it
 * chooses, the program again with what they lacked; then every shift is tried shorter, with the tasks placed again each time.
 * In: plan with loads, fires, visits; pool and rules.  Out: the event with shifts as crew lines. */
#include "plan/crew/staff.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/money.h"
#include "base/when.h"
#include "plan/demand/head_count.h"
#include "plan/shifts/names.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum {
  DAYS_BEFORE_MIN = 3 * 24 * 60, /* the pool could be called so long before the first service */
  HOURS_AFTER_MIN = 12 * 60,     /* and after the last */
  ROUNDS = 10,
  ROUNDS_QUICK = 2,
  ROUNDS_STUCK = 3, /* so many in a row that are no better end it */
  COVER_ITERATIONS = 6000,
  COVER_ITERATIONS_QUICK = 600
};
#define COVER_GAP_FRAC 0.02

/* ---- everybody there ---------------------------------------------------------------------------------------- */

static int most_servers(const struct pw_event *ev, double guests_each)
{
  int most = 0;
  for (int s = 0; s < ev->n_services; s++) {
    int hands = pw_task_servers(ev, s, guests_each);
    most = hands > most ? hands : most;
  }
  return most;
}

/* The event with room for more crew lines; NULL: memory is out. */
static struct pw_event *with_lines(const struct pw_event *ev, int n_more, struct pw_ctx *ctx)
{
  struct pw_event *out = pw_arena_alloc(ctx->arena, sizeof *out);
  struct pw_crew *crew = pw_arena_array(ctx->arena, (size_t)(ev->n_crew + n_more), sizeof *crew);
  if (!out || !crew)
    return NULL;
  *out = *ev;
  out->crew = crew;
  for (int c = 0; c < ev->n_crew; c++)
    crew[c] = ev->crew[c];
  return out;
}

pw_status pw_staff_open(const struct pw_event **out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  *out = ev;
  if (ev->n_pool == 0)
    return PW_OK;
  struct pw_event *open = with_lines(ev, ev->n_pool, ctx);
  if (!open)
    return PW_ERR_MEMORY;
  int first = INT_MAX, last = INT_MIN;
  for (int s = 0; s < ev->n_services; s++) {
    first = ev->services[s].at_min < first ? ev->services[s].at_min : first;
    last = ev->services[s].at_min + ev->services[s].length_min > last
               ? ev->services[s].at_min + ev->services[s].length_min
               : last;
  }
  for (int p = 0; p < ev->n_pool; p++) {
    const struct pw_pool *line = &ev->pool[p];
    int servers = most_servers(ev, line->guests_per_hand);
    bool is_for_guests = (line->duties >> PW_DUTY_SERVE & 1u) != 0 && servers > 0;
    open->crew[open->n_crew++] =
        (struct pw_crew){.role = line->role,
                         .duties = line->duties,
                         .count = is_for_guests && servers < line->up_to ? servers : line->up_to,
                         .from_at_min = line->has_from ? line->from_at_min : first - DAYS_BEFORE_MIN,
                         .to_at_min = line->has_to ? line->to_at_min : last + HOURS_AFTER_MIN,
                         .cents_per_h = line->cents_per_h};
  }
  *out = open;
  return PW_OK;
}

/* ---- shifts as crew lines ------------------------------------------------------------------------------------- */

static int worked_min(const struct pw_staff_shift *x, const struct pw_work_rules *rules)
{
  return x->to_min - x->from_min - (rules->is_break_paid ? 0 : x->break_to_min - x->break_from_min);
}

/* Overtime of the week that falls on a shift: of what its person has been paid for before and in it. */
static double week_cents(const struct pw_staff *s, const struct pw_staff_roster *r, int of)
{
  const struct pw_work_rules *rules = &s->asked->rules;
  const struct pw_staff_shift *x = &r->shifts[of];
  int before = 0;
  if (rules->week_overtime_after_min == 0)
    return 0;
  for (int i = 0; i < r->n; i++)
    if (r->shifts[i].pool == x->pool && r->shifts[i].person == x->person && r->shifts[i].from_min < x->from_min)
      before += worked_min(&r->shifts[i], rules);
  int now = worked_min(x, rules), over = before + now - rules->week_overtime_after_min;
  over = over < 0 ? 0 : over > now ? now : over;
  return over * (rules->week_overtime_frac - 1) * s->asked->pool[x->pool].cents_per_h / 60;
}

void pw_staff_price(const struct pw_staff *s, struct pw_staff_roster *r)
{
  r->cents = 0;
  for (int i = 0; i < r->n; i++) {
    const struct pw_staff_shift *x = &r->shifts[i];
    r->cents += pw_staff_pay(&s->asked->pool[x->pool], &s->asked->rules, x->to_min - x->from_min,
                             x->break_to_min - x->break_from_min)
                    .cents +
                week_cents(s, r, i);
  }
}

/* Of the role and without a name of their own: how many there may be in all, and how many of them are numbered before this line of
 * the pool: those who are given, then the pool in the order of the file. */
static int others_of_role(const struct pw_event *asked, int pool, int *n)
{
  int before = 0;
  *n = 0;
  for (int c = 0; c < asked->n_crew; c++)
    if (strcmp(asked->crew[c].role, asked->pool[pool].role) == 0)
      *n += pw_head_count_hands(asked, &asked->crew[c]);
  before = *n;
  for (int k = 0; k < asked->n_pool; k++)
    if (!asked->pool[k].name && strcmp(asked->pool[k].role, asked->pool[pool].role) == 0) {
      before += k < pool ? asked->pool[k].up_to : 0;
      *n += asked->pool[k].up_to;
    }
  return before;
}

/* People of a line of the pool are numbered by when they first come: how many do so before this one. */
static int rank_of(const struct pw_staff_roster *r, const struct pw_staff_shift *x)
{
  int first = INT_MAX, rank = 0;
  for (int i = 0; i < r->n; i++)
    if (r->shifts[i].pool == x->pool && r->shifts[i].person == x->person && r->shifts[i].from_min < first)
      first = r->shifts[i].from_min;
  for (int i = 0; i < r->n; i++) {
    const struct pw_staff_shift *o = &r->shifts[i];
    bool is_before = o->from_min < first || (o->from_min == first && o->person < x->person);
    bool is_their_first = o->pool == x->pool && o->person != x->person;
    for (int k = 0; k < r->n && is_their_first; k++)
      is_their_first = r->shifts[k].pool != o->pool || r->shifts[k].person != o->person ||
                       r->shifts[k].from_min > o->from_min || (r->shifts[k].from_min == o->from_min && k >= i);
    rank += is_before && is_their_first;
  }
  return rank;
}

/* The event as asked with these shifts as crew lines. */
static struct pw_event *staffed(const struct pw_staff *s, const struct pw_staff_roster *r, struct pw_ctx *ctx)
{
  struct pw_event *ev = with_lines(s->asked, r->n, ctx);
  struct pw_worked_shift *worked = pw_arena_array(ctx->arena, (size_t)r->n, sizeof *worked);
  if (!ev || !worked)
    return NULL;
  for (int i = 0; i < r->n; i++) {
    const struct pw_staff_shift *x = &r->shifts[i];
    const struct pw_pool *line = &s->asked->pool[x->pool];
    struct pw_staff_pay pay =
        pw_staff_pay(line, &s->asked->rules, x->to_min - x->from_min, x->break_to_min - x->break_from_min);
    int n_role, before = others_of_role(s->asked, x->pool, &n_role);
    const char *name = line->name    ? line->name
                       : n_role == 1 ? line->role
                                     : pw_arena_printf(ctx->arena, "%s %d", line->role, before + rank_of(r, x) + 1);
    if (!name)
      return NULL;
    worked[i] = (struct pw_worked_shift){.pool = x->pool,
                                         .name = name,
                                         .break_from_at_min = x->break_from_min,
                                         .break_to_at_min = x->break_to_min,
                                         .unpaid_min = pay.unpaid_min,
                                         .extra_cents = pay.extra_cents + week_cents(s, r, i)};
    ev->crew[ev->n_crew++] = (struct pw_crew){.role = line->role,
                                              .duties = line->duties,
                                              .count = 1,
                                              .from_at_min = x->from_min,
                                              .to_at_min = x->to_min,
                                              .cents_per_h = line->cents_per_h,
                                              .worked = &worked[i]};
  }
  return ev;
}

/* ---- the tasks as judge ------------------------------------------------------------------------------------------ */

bool pw_staff_is_office(const struct pw_task *t)
{
  return t->kind == PW_TASK_ORDER || t->kind == PW_TASK_TAKE_IN || t->kind == PW_TASK_THAW;
}

static int overlap(int a_from, int a_to, int b_from, int b_to)
{
  int from = a_from > b_from ? a_from : b_from, to = a_to < b_to ? a_to : b_to;
  return to > from ? to - from : 0;
}

/* Minutes of work beyond what an hour may hold and stay calm, over all hours, half an hour apart.  Who looks after guests is neither
 * free nor at work. */
static double tight_min(const struct pw_staff *s, const struct pw_plan *plan)
{
  double tight = 0;
  for (int k = 0; k < s->n_slots; k++) {
    int from = s->from_min + k * PW_STAFF_SLOT_MIN, to = from + 2 * PW_STAFF_SLOT_MIN;
    double there = 0, busy = 0;
    for (int i = 0; i < plan->tasks.n_people; i++) {
      const struct pw_crew *c = &plan->event->crew[plan->tasks.people[i].crew];
      there += overlap(from, to, c->from_at_min, c->to_at_min);
      if (c->worked)
        there -= overlap(from, to, c->worked->break_from_at_min, c->worked->break_to_at_min);
    }
    for (int i = 0; i < plan->tasks.n_tasks; i++) {
      const struct pw_task *t = &plan->tasks.tasks[i];
      if (t->person == PW_NONE)
        continue;
      int at_it = overlap(from, to, t->at_min, t->at_min + t->minutes);
      there -= t->kind == PW_TASK_SERVE ? at_it : 0;
      busy += t->kind == PW_TASK_SERVE ? 0 : at_it;
    }
    double more = fmax(0, busy - (1 - s->asked->rules.calm_frac) * there);
    if (s->tight)
      s->tight[k] = more;
    tight += more;
  }
  return tight;
}

static void tell_lack(const struct pw_staff *s, const struct pw_task *t)
{
  for (int k = 0; s->lack && k < s->n_slots; k++) {
    int from = s->from_min + k * PW_STAFF_SLOT_MIN;
    s->lack[k] += overlap(from, from + PW_STAFF_SLOT_MIN, t->at_min, t->at_min + t->minutes);
  }
}

/* Places the tasks on these shifts; what is lacking is counted, and asked for in the program where `ask`. */
pw_status pw_staff_try(struct pw_staff *s, struct pw_staff_roster *r, bool ask)
{
  struct pw_arena *arena = pw_arena_open();
  struct pw_ctx own = {.arena = arena};
  struct pw_plan plan = *s->plan;
  pw_status st = arena ? PW_OK : PW_ERR_MEMORY;
  if (st == PW_OK && !(plan.event = staffed(s, r, &own)))
    st = PW_ERR_MEMORY;
  if (st == PW_OK)
    st = pw_tasks_try(&plan.tasks, &plan, &own);
  r->n_lacking = 0;
  r->lacking_min = 0;
  r->tight_min = st == PW_OK ? tight_min(s, &plan) : 0;
  for (int w = 0; st == PW_OK && w < plan.tasks.n_warnings; w++) {
    const struct pw_warning *warning = &plan.tasks.warnings[w];
    bool is_lack = strcmp(warning->code, "hands-short") == 0 || strcmp(warning->code, "nobody-on-shift") == 0;
    for (int k = 0; is_lack && k < warning->n_tasks && st == PW_OK; k++) {
      const struct pw_task *t = &plan.tasks.tasks[warning->tasks[k]];
      if (pw_staff_is_office(t))
        continue;
      r->n_lacking++;
      tell_lack(s, t);
      r->lacking_min += t->person == PW_NONE ? 60 : warning->late_min;
      if (ask)
        st = pw_staff_lack(s, 1u << t->duty, t->at_min - (t->person == PW_NONE ? 0 : warning->late_min),
                           t->at_min + t->minutes);
    }
  }
  pw_arena_close(arena);
  return st;
}

/* ---- the rounds ------------------------------------------------------------------------------------------------------ */

static struct pw_cover cover_of(const struct pw_staff *s)
{
  return (struct pw_cover){.n_slots = s->n_slots,
                           .n_groups = s->n_groups,
                           .groups = s->groups,
                           .shifts = s->shifts,
                           .n_shifts = (int)s->n_shifts,
                           .works = s->level,
                           .n_works = (int)s->n_level,
                           .presences = s->presences,
                           .n_presences = (int)s->n_presences};
}

static bool works_by_night(const struct pw_staff *s, const struct pw_cover_shift *x)
{
  for (int t = x->from; t < x->to; t++)
    if (pw_task_is_night(s->asked, s->from_min + t * PW_STAFF_SLOT_MIN))
      return true;
  return false;
}

static pw_status roster_make(struct pw_staff_roster *out, const struct pw_staff *s, const struct pw_cover *cover,
                             const int *counts)
{
  struct pw_shift_turn *turns;
  int n;
  bool *is_night = pw_arena_array(s->ctx->arena, s->n_shifts + 1, sizeof *is_night);
  if (!is_night)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < s->n_shifts; i++)
    is_night[i] = counts[i] > 0 && works_by_night(s, &s->shifts[i]);
  pw_status st = pw_shift_names(&turns, &n, cover, counts, is_night, s->ctx);
  *out = (struct pw_staff_roster){0};
  if (st != PW_OK || !(out->shifts = pw_arena_array(s->ctx->arena, (size_t)n + 1, sizeof *out->shifts)))
    return st != PW_OK ? st : PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    const struct pw_cover_shift *x = &s->shifts[turns[i].shift];
    if (turns[i].person < 0)
      continue;
    int pause = pw_staff_break(&s->asked->rules, (x->to - x->from) * PW_STAFF_SLOT_MIN);
    int break_from = s->from_min + x->break_from * PW_STAFF_SLOT_MIN;
    out->shifts[out->n++] = (struct pw_staff_shift){.pool = x->group,
                                                    .person = turns[i].person,
                                                    .from_min = s->from_min + x->from * PW_STAFF_SLOT_MIN,
                                                    .to_min = s->from_min + x->to * PW_STAFF_SLOT_MIN,
                                                    .break_from_min = pause ? break_from : 0,
                                                    .break_to_min = pause ? break_from + pause : 0};
  }
  pw_staff_price(s, out);
  return PW_OK;
}

static bool is_better(const struct pw_staff_roster *a, const struct pw_staff_roster *b)
{
  if (a->n_lacking != b->n_lacking)
    return a->n_lacking < b->n_lacking;
  if (a->lacking_min != b->lacking_min)
    return a->lacking_min < b->lacking_min;
  return a->cents < b->cents - 1e-6;
}

/* Row prices of who may be awake at the fires, while one burns, evened out over the hours of a short shift: the program lays the price of a whole shift on any of its
 * slots. */
static pw_status watch_tell(struct pw_staffing *told, const struct pw_staff *s, const double *price)
{
  enum { EVEN_SLOTS = 4 };
  double *raw = pw_arena_array(s->ctx->arena, (size_t)s->n_slots, sizeof *raw);
  double *even = pw_arena_array(s->ctx->arena, (size_t)s->n_slots, sizeof *even);
  if (!raw || !even)
    return PW_ERR_MEMORY;
  for (int t = 0; t < s->n_slots; t++)
    raw[t] = even[t] = 0;
  for (size_t p = 0; p < s->n_presences; p++) {
    const struct pw_cover_presence *x = &s->presences[p];
    double least = HUGE_VAL;
    for (int g = 0; g < s->n_groups; g++)
      if (x->groups >> g & 1u)
        least = fmin(least, price[(size_t)g * (size_t)s->n_slots + (size_t)x->slot]);
    raw[x->slot] = fmax(raw[x->slot], least < HUGE_VAL ? least : 0);
  }
  for (int t = 0; t < s->n_slots; t++)
    for (int k = t - EVEN_SLOTS; k <= t + EVEN_SLOTS; k++)
      even[t] += k >= 0 && k < s->n_slots ? raw[k] / (2 * EVEN_SLOTS + 1) : 0;
  told->watch_cents = even;
  told->n_watch = s->n_slots;
  told->watch_from_at_min = s->from_min;
  return PW_OK;
}

static pw_status rounds(struct pw_staff_roster *best, struct pw_staffing *told, struct pw_staff *s, bool is_quick)
{
  pw_status st = PW_OK;
  int n_stuck = 0;
  const struct pw_cover_options how = {.n_iterations = is_quick ? COVER_ITERATIONS_QUICK : COVER_ITERATIONS,
                                       .gap_frac = COVER_GAP_FRAC};
  for (int i = 0; i < (is_quick ? ROUNDS_QUICK : ROUNDS) && st == PW_OK; i++) {
    struct pw_cover_result found;
    struct pw_staff_roster now;
    if ((st = pw_staff_level(s)) != PW_OK || (st = pw_staff_columns(s, is_quick)) != PW_OK)
      return st;
    const struct pw_cover cover = cover_of(s);
    if ((st = pw_cover_solve(&found, &cover, &how, s->ctx)) != PW_OK ||
        (st = roster_make(&now, s, &cover, found.counts)) != PW_OK || (st = pw_staff_try(s, &now, true)) != PW_OK)
      return st;
    told->n_rounds = i + 1;
    n_stuck++;
    if (i == 0 || is_better(&now, best)) {
      n_stuck = 0;
      *best = now;
      told->cover_cents = pw_money_round(found.cost);
      told->bound_cents = pw_money_round(found.bound);
      told->gap_frac = found.gap_frac;
      if ((st = watch_tell(told, s, found.price)) != PW_OK)
        return st;
    }
    if (now.n_lacking == 0 || n_stuck == ROUNDS_STUCK)
      return PW_OK;
  }
  return st;
}

/* Where the pool is too small, or too seldom to be had. */
static pw_status tell_absence(struct pw_staffing *told, const struct pw_staff *s, const struct pw_staff_roster *r)
{
  struct pw_staff_absence lack = pw_staff_absent(s, r);
  told->warnings = pw_arena_array(s->ctx->arena, 2, sizeof *told->warnings);
  if (!told->warnings)
    return PW_ERR_MEMORY;
  if (lack.fire > 0)
    told->warnings[told->n_warnings++] = (struct pw_warning){
        .code = "nobody-awake",
        .text = pw_arena_printf(
            s->ctx->arena,
            "Too few are awake at the fire for %s in all, the first time on %s: the crew pool has nobody "
            "left who is rested and may tend one. Call one more with the duty fire.",
            pw_format_minutes(lack.fire * PW_STAFF_SLOT_MIN).s, pw_when(s->asked, lack.fire_at_min).s)};
  if (lack.guests > 0)
    told->warnings[told->n_warnings++] = (struct pw_warning){
        .code = "few-servers",
        .text = pw_arena_printf(
            s->ctx->arena,
            "Too few look after the guests, the first time on %s: the crew pool has nobody left with the duty "
            "serve.",
            pw_when(s->asked, lack.guests_at_min).s)};
  for (int i = 0; i < told->n_warnings; i++)
    if (!told->warnings[i].text)
      return PW_ERR_MEMORY;
  return PW_OK;
}

pw_status pw_staff_work(struct pw_plan *plan, bool is_quick, bool is_trimmed, struct pw_ctx *ctx)
{
  const struct pw_event *asked = plan->staffing.asked;
  struct pw_staff *s = pw_arena_alloc(ctx->arena, sizeof *s);
  struct pw_staff_roster best;
  if (!s)
    return PW_ERR_MEMORY;
  *s = (struct pw_staff){.plan = plan, .asked = asked, .ctx = ctx};
  s->list = (struct pw_task_list){.plan = plan, .ev = plan->event, .ctx = ctx};
  pw_task_drafts(&s->list);
  if (!s->list.failed)
    pw_task_windows(&s->list);
  if (s->list.failed)
    return PW_ERR_MEMORY;
  pw_status st = pw_staff_needs(s);
  if (st == PW_OK)
    st = rounds(&best, &plan->staffing, s, is_quick);
  if (st == PW_OK && is_trimmed && best.n_lacking > 0)
    st = pw_staff_add(s, &best);
  if (st == PW_OK && is_trimmed)
    st = pw_staff_trim(s, &best);
  if (st == PW_OK && !is_quick)
    st = pw_staff_why(&plan->staffing, s, &best);
  if (st != PW_OK || (st = tell_absence(&plan->staffing, s, &best)) != PW_OK)
    return st;
  plan->staffing.pay_cents = pw_money_round(best.cents);
  plan->event = staffed(s, &best, ctx);
  return plan->event ? PW_OK : PW_ERR_MEMORY;
}

pw_status pw_staff_make(struct pw_plan *plan, bool is_quick, struct pw_ctx *ctx)
{
  const struct pw_event *asked = plan->staffing.asked;
  for (int c = 0; c < plan->event->n_crew; c++)
    if (plan->event->crew[c].worked) /* known already: a plan that is mended keeps who was told to come */
      return PW_OK;
  plan->staffing = (struct pw_staffing){.asked = asked};
  return asked ? pw_staff_work(plan, is_quick, !is_quick, ctx) : PW_OK;
}
