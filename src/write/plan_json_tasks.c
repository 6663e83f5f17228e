/* plan_json_tasks.c - of the plan file: crew, people, the order of work. */
#include "write/plan_json_parts.h"

#include "plan/crew/task_kind.h"
#include "plan/demand/head_count.h"

#include <stdio.h>

/* A pit or finisher by its id, else where the hands are. */
static const char *place_id(const struct pw_event *ev, int place, enum pw_at at)
{
  static const char *const words[] = {"kitchen", "site", "road"};
  if (place == PW_NONE)
    return words[at];
  return place < ev->n_pits ? ev->pits[place].id : ev->finishers[place - ev->n_pits].id;
}

/* Who, where, with what, after what [S1]. */
static void task_order(struct pw_plan_json *w, int i)
{
  static const char *const hands_at[] = {"kitchen", "site", "road"};
  struct pw_json_out *o = &w->out;
  const struct pw_task *t = &w->plan->tasks.tasks[i];
  char id[16];
  snprintf(id, sizeof id, "t%d", i + 1);
  pw_json_text(o, "id", id);
  pw_json_text(o, "kind", pw_task_kind_row(t->kind)->word);
  pw_json_text(o, "person", t->person == PW_NONE ? NULL : w->plan->tasks.people[t->person].id);
  pw_json_text(o, "at_hand", hands_at[t->at]);
  pw_json_text(o, "place", place_id(w->ev, t->place, t->at));
  pw_json_text(o, "to_place", t->to_place == PW_NONE ? NULL : place_id(w->ev, t->to_place, t->at));
  pw_json_text(o, "service", t->service == PW_NONE ? NULL : w->ev->services[t->service].id);
  pw_json_text(o, "dish", t->dish == PW_NONE ? NULL : w->ev->dishes[t->dish].id);
  pw_json_array(o, "piece_ids");
  for (int k = 0; k < t->n_ids; k++)
    pw_json_int(o, NULL, t->piece_ids[k]);
  pw_json_end(o);
  pw_json_array(o, "items");
  for (int k = 0; k < t->n_items; k++)
    pw_json_text(o, NULL, w->ev->items[t->items[k]].id);
  pw_json_end(o);
  pw_json_array(o, "after");
  for (int k = 0; k < t->n_after; k++) {
    snprintf(id, sizeof id, "t%d", t->after[k] + 1);
    pw_json_text(o, NULL, id);
  }
  pw_json_end(o);
  pw_json_int(o, "latest_min", t->latest_min);
  if (t->slack_min > 0)
    pw_json_int(o, "in_time_until_min", t->at_min + t->slack_min);
  else
    pw_json_null(o, "in_time_until_min");
  pw_json_text(o, "visit", t->visit);
  if (t->kind == PW_TASK_HEAT_UP)
    pw_json_real(o, "temp_c", w->ev->finishers[t->place - w->ev->n_pits].temp_c);
  if (t->kind == PW_TASK_CUT && t->plates_to_min != PW_NO_PLATES) {
    pw_json_int(o, "plates_to_min", t->plates_to_min);
    pw_json_bool(o, "is_in_parts", t->is_in_parts);
  }
}

void pw_plan_json_tasks(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "crew");
  for (int i = 0; i < w->ev->n_crew; i++) {
    const struct pw_crew *c = &w->ev->crew[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "role", c->role);
    pw_json_int(o, "count", pw_head_count_hands(w->ev, c));
    pw_json_int(o, "from_min", c->from_at_min);
    pw_json_int(o, "to_min", c->to_at_min);
    pw_json_real(o, "cents_per_h", c->cents_per_h);
    pw_plan_json_shift(w, c);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "people");
  for (int i = 0; i < w->plan->tasks.n_people; i++) {
    const struct pw_person *p = &w->plan->tasks.people[i];
    const struct pw_crew *c = &w->ev->crew[p->crew];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", p->id);
    pw_json_text(o, "role", c->role);
    pw_json_text(o, "name", p->name);
    pw_json_int(o, "from_min", c->from_at_min);
    pw_json_int(o, "to_min", c->to_at_min);
    pw_json_array(o, "breaks");
    if (c->worked && c->worked->break_to_at_min > c->worked->break_from_at_min) {
      pw_json_object(o, NULL);
      pw_json_int(o, "from_min", c->worked->break_from_at_min);
      pw_json_int(o, "to_min", c->worked->break_to_at_min);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_real(o, "cents_per_h", c->cents_per_h);
    if (c->worked)
      pw_json_int(o, "pool", c->worked->pool);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "tasks");
  for (int i = 0; i < w->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &w->plan->tasks.tasks[i];
    pw_json_object(o, NULL);
    if (w->plan->tasks.n_people > 0)
      task_order(w, i);
    pw_json_int(o, "at_min", t->at_min);
    pw_json_int(o, "minutes", t->minutes);
    pw_json_text(o, "role", t->crew == PW_NONE ? "" : w->ev->crew[t->crew].role); /* "": nobody with the duty */
    pw_json_text(o, "what", t->what ? t->what : "");
    pw_json_text(o, "where", t->where ? t->where : "");
    pw_json_text(o, "lot", t->lot == PW_NONE ? NULL : w->plan->lots.lots[t->lot].id);
    pw_json_int(o, "pieces", t->pieces);
    pw_json_text(o, "target", t->target ? t->target : "");
    pw_json_end(o);
  }
  pw_json_end(o);
}
