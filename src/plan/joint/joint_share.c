/* joint_share.c - the cost of a joint plan dealt out to its jobs, to the cent. */
#include "plan/joint/joint.h"

#include "base/arena.h"
#include "base/money.h"
#include "plan/demand/head_count.h"
#include "plan/money/quote.h"

#include <math.h>

void pw_joint_deal(pw_cents *part, const double *weight, int n, pw_cents cents)
{
  double all = 0;
  if (n <= 0)
    return;
  for (int i = 0; i < n; i++)
    all += weight[i];
  pw_cents left = cents;
  bool is_even = !(all > 0) || !isfinite(all);
  for (int i = 0; i < n; i++) {
    part[i] = (pw_cents)floor(is_even ? (double)cents / n : (double)cents * weight[i] / all);
    left -= part[i];
  }
  for (; left > 0; left--) { /* fewer than n are left: each part lost less than one */
    int best = 0;
    double most = -HUGE_VAL;
    for (int i = 0; i < n; i++) {
      double lost = (is_even ? (double)cents / n : (double)cents * weight[i] / all) - (double)part[i];
      if (lost > most + 1e-9) {
        most = lost;
        best = i;
      }
    }
    part[best]++;
  }
}

static int job_of(const struct pw_joint *joint, int service)
{
  for (int j = 0; j < joint->n_jobs; j++)
    if (service >= joint->jobs[j].service_first && service < joint->jobs[j].service_first + joint->jobs[j].n_services)
      return j;
  return 0;
}

static double area_of(const struct pw_lot *lot, enum pw_load_stage stage)
{
  return stage == PW_LOAD_FINISH ? lot->wrapped_length_m * lot->wrapped_width_m
                                 : lot->footprint_length_m * lot->footprint_width_m;
}

static bool is_on(const struct pw_plan *plan, const struct pw_load *load, const struct pw_burn *burn)
{
  return load->zone != PW_NONE && plan->lots.zones[load->zone].pit == burn->pit &&
         load->start_at_min >= burn->lit_at_min && load->start_at_min < burn->out_at_min;
}

/* Room hours of each job in ovens. */
static void oven_hours(double *weight, const struct pw_joint *joint, const struct pw_plan *plan)
{
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->finisher == PW_NONE || load->stage != PW_LOAD_FINISH)
      continue;
    const struct pw_lot *lot = &plan->lots.lots[load->lot];
    const struct pw_finisher *oven = &plan->event->finishers[load->finisher];
    double room = oven->is_in_pans ? plan->event->cuts[lot->cut].pans_per_piece : area_of(lot, PW_LOAD_FINISH);
    weight[job_of(joint, lot->service)] +=
        oven->cents_per_h * load->pieces * room / oven->capacity * (load->end_at_min - load->start_at_min) / 60.0;
  }
  for (int i = 0; i < plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &plan->lots.reheats[i];
    const struct pw_finisher *oven = &plan->event->finishers[r->finisher];
    weight[job_of(joint, plan->lots.lots[r->lot].service)] +=
        oven->cents_per_h * r->capacity / oven->capacity * (r->out_at_min - r->from_at_min) / 60.0;
  }
}

/* Each fire's part of the fuel lines, by what its wood and charcoal cost; then each job's part of each fire. */
static pw_status fires(struct pw_joint_shares *out, const struct pw_joint *joint, const struct pw_plan *plan,
                       struct pw_ctx *ctx)
{
  int n = plan->allocation.n_burns;
  size_t size = (size_t)n + 1;
  double *worth = pw_arena_array(ctx->arena, size, sizeof *worth);
  out->burn_cents = pw_arena_array(ctx->arena, size, sizeof *out->burn_cents);
  if (!worth || !out->burn_cents)
    return PW_ERR_MEMORY;
  for (int j = 0; j < joint->n_jobs; j++)
    if (!(out->jobs[j].burn_cents = pw_arena_array(ctx->arena, size, sizeof *out->jobs[j].burn_cents)))
      return PW_ERR_MEMORY;
  pw_cents lines = plan->fuel.cost_cents - plan->fuel.oven_cents;
  for (int b = 0; b < n && b < plan->fuel.n_burns; b++) {
    const struct pw_pit *pit = &plan->event->pits[plan->allocation.burns[b].pit];
    const struct pw_burn_fuel *f = &plan->fuel.burns[b];
    worth[b] = f->wood_kg * plan->event->fuels[pit->wood].price_cents_per_kg;
    if (pit->charcoal != PW_NONE)
      worth[b] += f->charcoal_kg * plan->event->fuels[pit->charcoal].price_cents_per_kg;
  }
  if (n > 0)
    pw_joint_deal(out->burn_cents, worth, n, lines);
  for (int b = 0; b < n; b++) {
    double weight[PW_JOINT_MAX] = {0};
    pw_cents part[PW_JOINT_MAX] = {0};
    for (int i = 0; i < plan->allocation.n_loads; i++) {
      const struct pw_load *load = &plan->allocation.loads[i];
      if (!is_on(plan, load, &plan->allocation.burns[b]))
        continue;
      const struct pw_lot *lot = &plan->lots.lots[load->lot];
      double m2_h = load->pieces * area_of(lot, load->stage) * (load->end_at_min - load->start_at_min) / 60.0;
      weight[job_of(joint, lot->service)] += m2_h;
    }
    pw_joint_deal(part, weight, joint->n_jobs, out->burn_cents[b]);
    for (int j = 0; j < joint->n_jobs; j++) {
      out->jobs[j].rack_m2_h += weight[j];
      out->jobs[j].burn_cents[b] = part[j];
      out->jobs[j].fuel_cents += part[j];
    }
  }
  double weight[PW_JOINT_MAX] = {0};
  pw_cents part[PW_JOINT_MAX] = {0};
  oven_hours(weight, joint, plan);
  pw_joint_deal(part, weight, joint->n_jobs, n > 0 ? plan->fuel.oven_cents : plan->fuel.cost_cents);
  for (int j = 0; j < joint->n_jobs; j++)
    out->jobs[j].fuel_cents += part[j];
  return PW_OK;
}

/* ---- labour ------------------------------------------------------------------------------------------- */

/* The one job a task is for: that of its food, or of the only meals served meanwhile; PW_NONE: of all. */
static int job_of_task(const struct pw_joint *joint, const struct pw_plan *plan, const struct pw_task *task)
{
  if (task->lot != PW_NONE)
    return job_of(joint, plan->lots.lots[task->lot].service);
  int job = PW_NONE;
  for (int s = 0; s < plan->event->n_services; s++) {
    const struct pw_service *at = &plan->event->services[s];
    if (at->at_min >= task->at_min + task->minutes || at->at_min + at->length_min <= task->at_min)
      continue;
    int j = job_of(joint, s);
    if (job != PW_NONE && job != j)
      return PW_NONE;
    job = j;
  }
  return job;
}

/* What a task adds to each job's minutes: one job's own work, or by rack and time at a fire, or by guests. */
static void task_weigh(double *minutes, const struct pw_joint *joint, const struct pw_plan *plan,
                       const struct pw_task *task, const struct pw_joint_shares *shares, const double *guests)
{
  int job = job_of_task(joint, plan, task);
  if (job != PW_NONE) {
    minutes[job] += task->minutes;
    return;
  }
  double by[PW_JOINT_MAX], all = 0;
  for (int j = 0; j < joint->n_jobs; j++)
    all += by[j] = task->pit != PW_NONE ? shares->jobs[j].rack_m2_h : guests[j];
  for (int j = 0; j < joint->n_jobs && all > 0; j++)
    minutes[j] += task->minutes * by[j] / all;
}

/* Each shift by the minutes of its tasks for each job, whoever's file names it; one without tasks by all the work there is. */
static pw_status labour(struct pw_joint_shares *out, const struct pw_joint *joint, const struct pw_plan *plan,
                        struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  double guests[PW_JOINT_MAX] = {0}, all[PW_JOINT_MAX] = {0};
  double(*minutes)[PW_JOINT_MAX] = pw_arena_array(ctx->arena, (size_t)ev->n_crew + 1, sizeof *minutes);
  if (!minutes)
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    for (int g = 0; g < ev->n_classes; g++)
      guests[job_of(joint, s)] += ev->services[s].guests[g];
  for (int t = 0; t < plan->tasks.n_tasks; t++) {
    const struct pw_task *task = &plan->tasks.tasks[t];
    task_weigh(all, joint, plan, task, out, guests);
    if (task->crew != PW_NONE)
      task_weigh(minutes[task->crew], joint, plan, task, out, guests);
  }
  double cents[PW_JOINT_MAX] = {0};
  for (int c = 0; c < ev->n_crew; c++) {
    const struct pw_crew *crew = &ev->crew[c];
    double cost = (double)pw_quote_shift_cents(ev, crew), own = 0, any = 0;
    for (int j = 0; j < joint->n_jobs; j++)
      own += minutes[c][j], any += all[j];
    for (int j = 0; j < joint->n_jobs; j++)
      cents[j] += own > 0 ? cost * minutes[c][j] / own : any > 0 ? cost * all[j] / any : cost / joint->n_jobs;
  }
  pw_cents part[PW_JOINT_MAX] = {0};
  pw_joint_deal(part, cents, joint->n_jobs, plan->quote.labour_cents);
  for (int j = 0; j < joint->n_jobs; j++)
    out->jobs[j].labour_cents = part[j];
  return PW_OK;
}

/* ---- the other lines ---------------------------------------------------------------------------------- */

/* Those dealt by what each job would pay alone. */
enum { N_LINES = 4 };

static pw_cents *line_of(struct pw_job_share *s, int k)
{
  pw_cents *const lines[N_LINES] = {&s->food_cents, &s->supplies_cents, &s->rental_cents, &s->travel_cents};
  return lines[k];
}

static pw_cents quoted(const struct pw_quote *q, int k)
{
  const pw_cents lines[N_LINES] = {q->food_cents, q->supplies_cents, q->rental_cents, q->travel_cents};
  return lines[k];
}

/* Each job's own fixed sum, and the joint plan's share of its direct costs. */
static void overhead(struct pw_joint_shares *out, const struct pw_joint *joint, const struct pw_plan *plan)
{
  double weight[PW_JOINT_MAX] = {0};
  pw_cents part[PW_JOINT_MAX] = {0};
  for (int j = 0; j < joint->n_jobs; j++)
    weight[j] = (double)joint->jobs[j].event->terms.overhead_cents +
                plan->event->terms.overhead_frac * (double)out->jobs[j].cost_cents;
  pw_joint_deal(part, weight, joint->n_jobs, plan->quote.overhead_cents);
  for (int j = 0; j < joint->n_jobs; j++) {
    out->jobs[j].overhead_cents = part[j];
    out->jobs[j].cost_cents += part[j];
  }
}

pw_status pw_joint_share(struct pw_joint_shares *out, const struct pw_joint *joint, const struct pw_plan *plan,
                         const struct pw_plan *const *alone, struct pw_ctx *ctx)
{
  *out = (struct pw_joint_shares){0};
  pw_status st = fires(out, joint, plan, ctx);
  if (st != PW_OK)
    return st;
  for (int k = 0; k < N_LINES; k++) { /* by what each job would pay alone */
    double weight[PW_JOINT_MAX] = {0};
    pw_cents part[PW_JOINT_MAX] = {0};
    for (int j = 0; j < joint->n_jobs; j++)
      weight[j] = (double)quoted(&alone[j]->quote, k);
    pw_joint_deal(part, weight, joint->n_jobs, quoted(&plan->quote, k));
    for (int j = 0; j < joint->n_jobs; j++)
      *line_of(&out->jobs[j], k) = part[j];
  }
  if ((st = labour(out, joint, plan, ctx)) != PW_OK)
    return st;
  for (int j = 0; j < joint->n_jobs; j++) {
    struct pw_job_share *s = &out->jobs[j];
    s->cost_cents = s->fuel_cents + s->labour_cents;
    for (int k = 0; k < N_LINES; k++)
      s->cost_cents += *line_of(s, k);
    s->alone_cents = alone[j]->quote.cost_cents;
  }
  overhead(out, joint, plan);
  return PW_OK;
}

pw_status pw_joint_note(struct pw_plan *plan, const struct pw_joint *joint, const struct pw_joint_shares *shares,
                        const struct pw_plan *const *alone, struct pw_ctx *ctx)
{
  struct pw_plan_job *jobs = pw_arena_array(ctx->arena, (size_t)joint->n_jobs, sizeof *jobs);
  if (!jobs)
    return PW_ERR_MEMORY;
  for (int j = 0; j < joint->n_jobs; j++) {
    const struct pw_job_share *s = &shares->jobs[j];
    jobs[j] = (struct pw_plan_job){.name = joint->jobs[j].event->name,
                                   .customer = joint->jobs[j].event->customer,
                                   .service_first = joint->jobs[j].service_first,
                                   .n_services = joint->jobs[j].n_services,
                                   .alone = alone[j],
                                   .food_cents = s->food_cents,
                                   .supplies_cents = s->supplies_cents,
                                   .fuel_cents = s->fuel_cents,
                                   .labour_cents = s->labour_cents,
                                   .rental_cents = s->rental_cents,
                                   .travel_cents = s->travel_cents,
                                   .overhead_cents = s->overhead_cents,
                                   .cost_cents = s->cost_cents,
                                   .alone_cents = s->alone_cents,
                                   .price_cents = alone[j]->quote.price_cents - alone[j]->quote.discount_cents,
                                   .rack_m2_h = s->rack_m2_h};
  }
  plan->jobs = jobs;
  plan->n_jobs = joint->n_jobs;
  return PW_OK;
}
