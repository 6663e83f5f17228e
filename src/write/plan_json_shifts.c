/* plan_json_shifts.c - of the plan file: whom one could call, by which rules, and what the shifts worked out have besides [S2].
 * Nothing of it is written of an event without a crew pool. */
#include "write/plan_json_parts.h"

void pw_plan_json_shift(struct pw_plan_json *w, const struct pw_crew *crew)
{
  struct pw_json_out *o = &w->out;
  if (w->ev->n_pool == 0)
    return;
  if (crew->worked) {
    pw_json_int(o, "unpaid_min", crew->worked->unpaid_min);
    pw_json_real(o, "extra_cents", crew->worked->extra_cents);
  }
  pw_json_bool(o, "tends_fire", crew->duties >> PW_DUTY_FIRE & 1u);
  pw_json_bool(o, "tends_pit", crew->duties >> PW_DUTY_PIT & 1u);
  pw_json_bool(o, "serves", crew->duties >> PW_DUTY_SERVE & 1u);
}

static void write_rules(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_work_rules *r = &w->ev->rules;
  pw_json_object(o, "work_rules");
  pw_json_text(o, "id", r->id);
  pw_json_text(o, "name", r->name);
  pw_json_int(o, "longest_min", r->longest_min);
  pw_json_int(o, "break_after_min", r->break_after_min);
  pw_json_int(o, "break_min", r->break_min);
  pw_json_bool(o, "break_paid", r->is_break_paid);
  pw_json_int(o, "rest_min", r->rest_min);
  pw_json_int(o, "night_shortest_min", r->night_shortest_min);
  pw_json_int(o, "night_longest_min", r->night_longest_min);
  pw_json_int(o, "night_hands", r->night_hands);
  pw_json_int(o, "week_overtime_after_min", r->week_overtime_after_min);
  pw_json_real(o, "week_overtime_frac", r->week_overtime_frac);
  pw_json_int(o, "awake_longest_min", r->awake_longest_min);
  pw_json_real(o, "calm_frac", r->calm_frac);
  pw_json_end(o);
}

/* Who works a shift worked out: it is one pair of hands. */
static const char *person_of(const struct pw_plan *plan, int crew)
{
  for (int p = 0; p < plan->tasks.n_people; p++)
    if (plan->tasks.people[p].crew == crew)
      return plan->tasks.people[p].id;
  return "";
}

static void write_reasons(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_staffing *s = &w->plan->staffing;
  pw_json_array(o, "reasons");
  for (int i = 0; i < s->n_reasons; i++) {
    const struct pw_shift_reason *r = &s->reasons[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "person", person_of(w->plan, r->crew));
    pw_json_int(o, "fire_min", r->fire_min);
    if (r->fire_min > 0) {
      pw_json_int(o, "fire_from_min", r->fire_from_at_min);
      pw_json_int(o, "fire_to_min", r->fire_to_at_min);
      pw_json_text(o, "pit", w->ev->pits[w->plan->allocation.burns[r->burn].pit].id);
      pw_json_bool(o, "is_finish", r->is_finish);
    }
    pw_json_int(o, "guests_min", r->guests_min);
    if (r->guests_min > 0)
      pw_json_text(o, "service", w->ev->services[r->service].id);
    pw_json_int(o, "tasks", r->n_tasks);
    pw_json_int(o, "late_min", r->late_min);
    pw_json_real(o, "tight_min", r->tight_min);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "more");
  for (int i = 0; i < s->n_more; i++) {
    const struct pw_hand_more *m = &s->more[i];
    pw_json_object(o, NULL);
    pw_json_int(o, "pool", m->pool);
    pw_json_int(o, "from_min", m->from_at_min);
    pw_json_int(o, "to_min", m->to_at_min);
    pw_json_int(o, "cents", m->cents);
    pw_json_int(o, "tasks", m->n_tasks);
    pw_json_int(o, "late_min", m->late_min);
    pw_json_real(o, "tight_min", m->tight_min);
    pw_json_end(o);
  }
  pw_json_end(o);
}

void pw_plan_json_proposal(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_proposal *p = &w->plan->proposal;
  if (!p->event)
    return;
  pw_json_object(o, "proposal");
  pw_json_int(o, "given_cents", p->given_cents);
  pw_json_int(o, "pay_cents", p->pay_cents);
  pw_json_real(o, "given_h", p->given_h);
  pw_json_real(o, "paid_h", p->paid_h);
  pw_json_real(o, "given_task_h", p->given_task_h);
  pw_json_real(o, "task_h", p->task_h);
  pw_json_int(o, "given_lacking", p->n_given_lacking);
  pw_json_int(o, "lacking", p->n_lacking);
  pw_json_array(o, "shifts");
  for (int c = 0; c < p->event->n_crew; c++) {
    const struct pw_crew *crew = &p->event->crew[c];
    if (!crew->worked)
      continue;
    pw_json_object(o, NULL);
    pw_json_text(o, "role", crew->role);
    pw_json_int(o, "from_min", crew->from_at_min);
    pw_json_int(o, "to_min", crew->to_at_min);
    pw_json_int(o, "unpaid_min", crew->worked->unpaid_min);
    pw_json_real(o, "cents_per_h", crew->cents_per_h);
    pw_json_real(o, "extra_cents", crew->worked->extra_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_end(o);
}

void pw_plan_json_pool(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_staffing *s = &w->plan->staffing;
  if (w->ev->n_pool == 0)
    return;
  pw_json_array(o, "crew_pool");
  for (int i = 0; i < w->ev->n_pool; i++) {
    const struct pw_pool *p = &w->ev->pool[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "role", p->role);
    pw_json_text(o, "name", p->name);
    pw_json_int(o, "up_to", p->up_to);
    pw_json_int(o, "least_min", p->least_min);
    pw_json_int(o, "most_min", p->most_min);
    pw_json_int(o, "overtime_after_min", p->overtime_after_min);
    pw_json_real(o, "overtime_times", p->overtime_after_min > 0 ? p->overtime_frac : 1);
    pw_json_real(o, "cents_per_h", p->cents_per_h);
    pw_json_real(o, "guests_each", p->guests_per_hand);
    pw_json_int(o, "travel_cents", p->travel_cents);
    if (p->has_from)
      pw_json_int(o, "from_min", p->from_at_min);
    if (p->has_to)
      pw_json_int(o, "to_min", p->to_at_min);
    pw_json_end(o);
  }
  pw_json_end(o);
  write_rules(w);
  pw_json_object(o, "staffing");
  pw_json_int(o, "pay_cents", s->pay_cents);
  pw_json_int(o, "cover_cents", s->cover_cents);
  pw_json_int(o, "bound_cents", s->bound_cents);
  pw_json_real(o, "gap_frac", s->gap_frac);
  pw_json_int(o, "rounds", s->n_rounds);
  if (s->n_reasons > 0)
    write_reasons(w);
  pw_json_end(o);
}
