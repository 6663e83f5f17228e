/* staff_propose.c - shifts that were written against those of a pool of the same people [S2].
 * In: a plan whose crew is given.  Out: plan->proposal; the plan itself stays as it is. */
#include "base/arena.h"
#include "base/money.h"
#include "plan/crew/staff.h"
#include "plan/demand/head_count.h"
#include "plan/stages.h"

#include <string.h>

enum {
  LEAST_MIN =
      4 * 60, /* shortest paid shift, as a line of the pool has it unless it says otherwise (read/tables_event.c) */
  MOST_MIN = 10 * 60 /* and the longest, where none that was written is longer */
};

static bool is_paid(const struct pw_crew *c) { return c->cents_per_h > 0 && c->count > 0; }

static bool is_alike(const struct pw_crew *a, const struct pw_crew *b)
{
  return strcmp(a->role, b->role) == 0 && a->cents_per_h == b->cents_per_h;
}

/* People that the shifts alike to this one take, one person never in two that leave too little rest between. */
static int people_of(const struct pw_event *ev, const struct pw_crew *like)
{
  int most = 0;
  for (int c = 0; c < ev->n_crew; c++) {
    int at_once = 0;
    for (int k = 0; k < ev->n_crew; k++)
      if (is_paid(&ev->crew[c]) && is_paid(&ev->crew[k]) && is_alike(&ev->crew[c], like) &&
          is_alike(&ev->crew[k], like) && ev->crew[k].from_at_min <= ev->crew[c].from_at_min &&
          ev->crew[c].from_at_min < ev->crew[k].to_at_min + ev->rules.rest_min)
        at_once += pw_head_count_hands(ev, &ev->crew[k]);
    most = at_once > most ? at_once : most;
  }
  return most;
}

/* The event with its paid people in a pool, whoever costs nothing still as written; NULL: memory is out. */
static struct pw_event *pooled(const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_event *out = pw_arena_alloc(ctx->arena, sizeof *out);
  struct pw_crew *crew = pw_arena_array(ctx->arena, (size_t)ev->n_crew + 1, sizeof *crew);
  struct pw_pool *pool = pw_arena_array(ctx->arena, PW_POOL_MAX, sizeof *pool);
  if (!out || !crew || !pool)
    return NULL;
  *out = *ev;
  out->crew = crew;
  out->pool = pool;
  out->n_crew = out->n_pool = 0;
  for (int c = 0; c < ev->n_crew; c++) {
    const struct pw_crew *line = &ev->crew[c];
    int p = 0;
    while (p < out->n_pool && !(strcmp(pool[p].role, line->role) == 0 && pool[p].cents_per_h == line->cents_per_h))
      p++;
    if (!is_paid(line) || p == PW_POOL_MAX) {
      crew[out->n_crew++] = *line;
      continue;
    }
    int length = line->to_at_min - line->from_at_min;
    if (p == out->n_pool)
      pool[out->n_pool++] = (struct pw_pool){.role = line->role,
                                             .up_to = people_of(ev, line),
                                             .cents_per_h = line->cents_per_h,
                                             .least_min = LEAST_MIN,
                                             .most_min = MOST_MIN,
                                             .overtime_frac = 1};
    pool[p].duties |= line->duties;
    pool[p].most_min = length > pool[p].most_min ? length : pool[p].most_min;
    if (line->guests_per_hand > 0 && (line->duties >> PW_DUTY_SERVE & 1u) != 0)
      pool[p].guests_per_hand = pool[p].guests_per_hand > 0 && pool[p].guests_per_hand < line->guests_per_hand
                                    ? pool[p].guests_per_hand
                                    : line->guests_per_hand;
  }
  return out;
}

static double task_h(const struct pw_plan *plan)
{
  double minutes = 0;
  for (int t = 0; t < plan->tasks.n_tasks; t++)
    if (plan->tasks.tasks[t].crew != PW_NONE && is_paid(&plan->event->crew[plan->tasks.tasks[t].crew]))
      minutes += plan->tasks.tasks[t].minutes;
  return minutes / 60;
}

static double paid_h(const struct pw_event *ev)
{
  double minutes = 0;
  for (int c = 0; c < ev->n_crew; c++)
    if (is_paid(&ev->crew[c]))
      minutes += pw_head_count_hands(ev, &ev->crew[c]) * (ev->crew[c].to_at_min - ev->crew[c].from_at_min -
                                                          (ev->crew[c].worked ? ev->crew[c].worked->unpaid_min : 0));
  return minutes / 60;
}

static int lacking(const struct pw_tasks *tasks)
{
  int n = 0;
  for (int w = 0; w < tasks->n_warnings; w++)
    for (int k = 0; k < tasks->warnings[w].n_tasks; k++)
      n += (strcmp(tasks->warnings[w].code, "hands-short") == 0 ||
            strcmp(tasks->warnings[w].code, "nobody-on-shift") == 0) &&
           !pw_staff_is_office(&tasks->tasks[tasks->warnings[w].tasks[k]]);
  return n;
}

pw_status pw_staff_propose(struct pw_plan *plan, struct pw_ctx *ctx)
{
  plan->proposal = (struct pw_proposal){0};
  if (plan->event->n_pool > 0)
    return PW_OK;
  struct pw_plan other = *plan;
  const struct pw_event *asked = pooled(plan->event, ctx), *open = NULL;
  if (!asked)
    return PW_ERR_MEMORY;
  if (asked->n_pool == 0)
    return PW_OK;
  pw_status st = pw_staff_open(&open, asked, ctx);
  other.event = open;
  other.staffing = (struct pw_staffing){.asked = asked};
  if (st == PW_OK)
    st = pw_staff_work(&other, true, true, ctx);
  if (st == PW_OK)
    st = pw_tasks_try(&other.tasks, &other, ctx); /* as its shifts were tried */
  if (st != PW_OK)
    return st;
  double given = 0;
  for (int c = 0; c < plan->event->n_crew; c++)
    if (is_paid(&plan->event->crew[c]))
      given += pw_head_count_hands(plan->event, &plan->event->crew[c]) * plan->event->crew[c].cents_per_h *
               (plan->event->crew[c].to_at_min - plan->event->crew[c].from_at_min) / 60;
  plan->proposal = (struct pw_proposal){.event = other.event,
                                        .given_cents = pw_money_round(given),
                                        .pay_cents = other.staffing.pay_cents,
                                        .given_h = paid_h(plan->event),
                                        .paid_h = paid_h(other.event),
                                        .given_task_h = task_h(plan),
                                        .task_h = task_h(&other),
                                        .n_given_lacking = lacking(&plan->tasks),
                                        .n_lacking = lacking(&other.tasks)};
  return PW_OK;
}
