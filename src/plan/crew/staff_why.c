/* staff_why.c - what each shift worked out is there for, and what one hand more would buy [S2]: the day without the shift, or with
 * one more, its tasks placed again.  In: the roster of a plan.  Out: reasons and hands more of struct pw_staffing. */
#include "base/arena.h"
#include "base/money.h"
#include "plan/crew/staff.h"
#include "plan/demand/head_count.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum {
  STEP_MIN = 5,
  TIGHT_LEAST_MIN = 10 /* a hand that eases less is not told of; common practice, no source */
};

static const unsigned FIRE = 1u << PW_DUTY_FIRE, PIT = 1u << PW_DUTY_PIT, SERVE = 1u << PW_DUTY_SERVE;

/* ---- who is there, minute by minute ------------------------------------------------------------------------------- */

/* People with one of the duties on shift and not on their break, without shift `except` of the roster. */
static int there(const struct pw_staff *s, const struct pw_staff_roster *r, int except, int at, unsigned duties)
{
  int n = 0;
  for (int c = 0; c < s->asked->n_crew; c++) {
    const struct pw_crew *line = &s->asked->crew[c];
    if ((line->duties & duties) != 0 && line->from_at_min <= at && at < line->to_at_min)
      n += pw_head_count_hands(s->asked, line);
  }
  for (int i = 0; i < r->n; i++) {
    const struct pw_staff_shift *x = &r->shifts[i];
    bool is_break = x->break_from_min <= at && at < x->break_to_min;
    n += i != except && (s->asked->pool[x->pool].duties & duties) != 0 && x->from_min <= at && at < x->to_min &&
         !is_break;
  }
  return n;
}

static int burn_at(const struct pw_allocation *a, int at)
{
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].lit_at_min <= at && at < a->burns[b].out_at_min)
      return b;
  return PW_NONE;
}

static bool is_watched(const struct pw_staff *s, const struct pw_staff_roster *r, int except, int at)
{
  return there(s, r, except, at, FIRE) > 0 &&
         (!pw_task_is_night(s->asked, at) || there(s, r, except, at, FIRE | PIT) >= s->asked->rules.night_hands);
}

/* Something lies in a pit at that minute, and nothing that is not wrapped. */
static bool is_finish(const struct pw_plan *plan, int at)
{
  bool is_any = false;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->zone == PW_NONE || load->start_at_min > at || load->end_at_min <= at)
      continue;
    if (load->stage != PW_LOAD_FINISH)
      return false;
    is_any = true;
  }
  return is_any;
}

static void fire_reason(struct pw_shift_reason *out, const struct pw_staff *s, const struct pw_staff_roster *r, int i)
{
  const struct pw_allocation *a = &s->plan->allocation;
  int first = INT_MAX, last = INT_MIN;
  out->is_finish = true;
  for (int b = 0; b < a->n_burns; b++) {
    first = a->burns[b].lit_at_min < first ? a->burns[b].lit_at_min : first;
    last = a->burns[b].out_at_min > last ? a->burns[b].out_at_min : last;
  }
  for (int at = first; first != INT_MAX && at <= last; at += STEP_MIN) {
    int burn = burn_at(a, at);
    if (burn == PW_NONE || is_watched(s, r, i, at) || !is_watched(s, r, PW_NONE, at))
      continue;
    if (out->fire_min == 0) {
      out->fire_from_at_min = at;
      out->burn = burn;
    }
    out->fire_min += STEP_MIN;
    out->fire_to_at_min = at + STEP_MIN;
    out->is_finish = out->is_finish && is_finish(s->plan, at);
  }
  out->is_finish = out->is_finish && out->fire_min > 0;
}

static void guests_reason(struct pw_shift_reason *out, const struct pw_staff *s, const struct pw_staff_roster *r, int i)
{
  double each = pw_staff_guests_each(s->asked);
  for (int k = 0; k < s->asked->n_services; k++) {
    const struct pw_service *service = &s->asked->services[k];
    int asked = pw_task_servers(s->asked, k, each);
    for (int at = service->at_min; at < service->at_min + service->length_min; at += STEP_MIN) {
      if (there(s, r, i, at, SERVE) >= asked || there(s, r, PW_NONE, at, SERVE) < asked)
        continue;
      out->service = out->guests_min == 0 ? k : out->service;
      out->guests_min += STEP_MIN;
    }
  }
}

/* ---- one fewer ------------------------------------------------------------------------------------------------------ */

static pw_status reasons(struct pw_staffing *told, struct pw_staff *s, const struct pw_staff_roster *r,
                         struct pw_staff_roster *trial)
{
  pw_status st = PW_OK;
  for (int i = 0; i < r->n && st == PW_OK; i++) {
    struct pw_shift_reason *out = &told->reasons[told->n_reasons++];
    *out = (struct pw_shift_reason){.crew = s->asked->n_crew + i, .burn = PW_NONE, .service = PW_NONE};
    fire_reason(out, s, r, i);
    guests_reason(out, s, r, i);
    trial->n = 0;
    for (int k = 0; k < r->n; k++)
      if (k != i)
        trial->shifts[trial->n++] = r->shifts[k];
    st = pw_staff_try(s, trial, false);
    out->n_tasks = trial->n_lacking > r->n_lacking ? trial->n_lacking - r->n_lacking : 0;
    out->late_min = trial->lacking_min > r->lacking_min ? (int)(trial->lacking_min - r->lacking_min) : 0;
    out->tight_min = fmax(0, trial->tight_min - r->tight_min);
  }
  return st;
}

/* ---- one more --------------------------------------------------------------------------------------------------------- */

/* Where so many slots in a row hold most of what lacks hands or is tight; -1: nowhere. */
static int worst_window(const struct pw_staff *s, int slots)
{
  double most = TIGHT_LEAST_MIN;
  int best = -1;
  for (int from = 0; from + slots <= s->n_slots; from++) {
    double sum = 0;
    for (int k = from; k < from + slots; k++)
      sum += s->tight[k] + 2 * s->lack[k]; /* what finds no hands weighs more than what has no calm */
    if (sum > most + 1e-9) {
      most = sum;
      best = from;
    }
  }
  return best;
}

static pw_status more(struct pw_staffing *told, struct pw_staff *s, const struct pw_staff_roster *r,
                      struct pw_staff_roster *trial)
{
  pw_status st = PW_OK;
  for (int p = 0; p < s->asked->n_pool && st == PW_OK; p++) {
    const struct pw_pool *line = &s->asked->pool[p];
    int slots = (line->least_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN, from = worst_window(s, slots);
    if (from < 0)
      continue;
    struct pw_staff_shift *x = &trial->shifts[r->n];
    memcpy(trial->shifts, r->shifts, (size_t)r->n * sizeof *r->shifts);
    *x = (struct pw_staff_shift){.pool = p, .person = line->up_to, .from_min = s->from_min + from * PW_STAFF_SLOT_MIN};
    x->to_min = x->from_min + slots * PW_STAFF_SLOT_MIN;
    trial->n = r->n + 1;
    double *tight = s->tight, *lack = s->lack;
    s->tight = s->lack = NULL;
    st = pw_staff_try(s, trial, false);
    s->tight = tight;
    s->lack = lack;
    struct pw_hand_more m = {.pool = p,
                             .from_at_min = x->from_min,
                             .to_at_min = x->to_min,
                             .cents =
                                 pw_money_round(pw_staff_pay(line, &s->asked->rules, x->to_min - x->from_min, 0).cents),
                             .n_tasks = r->n_lacking - trial->n_lacking,
                             .late_min = (int)(r->lacking_min - trial->lacking_min),
                             .tight_min = r->tight_min - trial->tight_min};
    if (m.n_tasks > 0 || m.late_min > 0 || (m.n_tasks == 0 && m.late_min == 0 && m.tight_min >= TIGHT_LEAST_MIN))
      told->more[told->n_more++] = m;
  }
  return st;
}

pw_status pw_staff_why(struct pw_staffing *told, struct pw_staff *s, const struct pw_staff_roster *r)
{
  size_t n = (size_t)r->n + 1;
  struct pw_staff_roster as_is = *r, trial = {0};
  trial.shifts = pw_arena_array(s->ctx->arena, n, sizeof *trial.shifts);
  told->reasons = pw_arena_array(s->ctx->arena, n, sizeof *told->reasons);
  told->more = pw_arena_array(s->ctx->arena, (size_t)s->asked->n_pool + 1, sizeof *told->more);
  double *tight = pw_arena_array(s->ctx->arena, (size_t)s->n_slots + 1, sizeof *tight);
  double *lack = pw_arena_array(s->ctx->arena, (size_t)s->n_slots + 1, sizeof *lack);
  if (!trial.shifts || !told->reasons || !told->more || !tight || !lack)
    return PW_ERR_MEMORY;
  for (int k = 0; k < s->n_slots; k++)
    tight[k] = lack[k] = 0;
  told->n_reasons = told->n_more = 0;
  s->tight = tight;
  s->lack = lack;
  pw_status st = pw_staff_try(s, &as_is, false);
  if (st == PW_OK)
    st = more(told, s, &as_is, &trial);
  s->tight = s->lack = NULL;
  return st == PW_OK ? reasons(told, s, &as_is, &trial) : st;
}
