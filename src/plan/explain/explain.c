/* explain.c - why a plan is as it is: worths (explain_lp.c), what each fire is for, what its last hour buys.
 * In: a finished plan.  Out: struct pw_explain.
 * The pieces of the plan are read back into the search's own terms, so that the search can start from them. */
#include "plan/explain/explain.h"

#include "base/arena.h"
#include "plan/allocate/rack_grid.h"
#include "plan/stages.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { HOUR_MIN = 60, ROUNDS_LEAST = 60, MISSED_ROUNDS = 400 };
static const double BRIEF_MOST =
    20000; /* zones x slots x lots: the programs of an example take a few hundredths of a second */
static const double ROUNDS_PIECES = 60000; /* rounds times pieces, about: a tenth of one start of the full search */

struct explain {
  struct pw_explain *out;
  const struct pw_plan *plan;
  struct pw_al al;
  struct pw_al_piece *pieces;
  int *settings; /* [p * n_days + day] */
  struct pw_ctx *ctx;
};

/* ---- the plan in the search's terms ------------------------------------------------------------ */

static int slot_of(const struct pw_al *al, int at_min) { return (at_min - al->lots->start_at_min) / al->slot_min; }

static int burn_at(const struct pw_plan *plan, int pit, int at_min)
{
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == pit && burn->ready_at_min <= at_min && at_min < burn->out_at_min)
      return b;
  }
  return PW_NONE;
}

static int burn_of(const struct pw_plan *plan, const struct pw_load *load)
{
  return load->zone == PW_NONE ? PW_NONE : burn_at(plan, plan->lots.zones[load->zone].pit, load->start_at_min);
}

static void cell_of(const struct pw_rack_grid *grids, const struct pw_load *load, int i, double length_m, int *x,
                    int *y, bool *is_turned)
{
  const struct pw_rect *r = &load->rects[i];
  const struct pw_rack_grid *g = &grids[load->zone];
  *x = (int)lround(r->x_m / g->cell_x_m);
  *y = (int)lround(r->y_m / g->cell_y_m);
  *is_turned = fabs(r->length_m - length_m) > 1e-6;
}

static void take_load(struct explain *e, const struct pw_rack_grid *grids, const int *first, const struct pw_load *load)
{
  const struct pw_lot *lot = &e->plan->lots.lots[load->lot];
  for (int i = 0; i < load->pieces; i++) {
    struct pw_al_piece *p = &e->pieces[first[load->lot] + load->piece_ids[i]];
    if (load->stage == PW_LOAD_SMOKE && load->zone != PW_NONE) {
      int b = burn_of(e->plan, load);
      p->is_placed = b != PW_NONE;
      p->zone = load->zone;
      p->setting = b == PW_NONE ? 0 : e->plan->allocation.burns[b].setting;
      p->start = slot_of(&e->al, load->start_at_min);
      p->mid = p->done = slot_of(&e->al, load->end_at_min);
      e->settings[e->plan->lots.zones[load->zone].pit * e->al.n_days + e->al.lot[load->lot].day] = p->setting;
      cell_of(grids, load, i, lot->footprint_length_m, &p->x1, &p->y1, &p->is_turned1);
    } else if (load->stage == PW_LOAD_FINISH) {
      p->place = load->zone != PW_NONE ? load->zone : e->al.n_zones + load->finisher;
      p->done = slot_of(&e->al, load->end_at_min);
      if (load->zone != PW_NONE)
        cell_of(grids, load, i, lot->wrapped_length_m, &p->x2, &p->y2, &p->is_turned2);
    }
  }
}

static pw_status read_back(struct explain *e)
{
  const struct pw_lots *lots = &e->plan->lots;
  struct pw_arena *arena = e->ctx->arena;
  int n = 0;
  int *first = pw_arena_array(arena, (size_t)lots->n_lots + 1, sizeof *first);
  struct pw_rack_grid *grids = pw_arena_array(arena, (size_t)lots->n_zones + 1, sizeof *grids);
  if (!first || !grids)
    return PW_ERR_MEMORY;
  for (int c = 0; c < lots->n_lots; c++) {
    first[c] = n;
    n += lots->lots[c].pieces;
  }
  e->pieces = pw_arena_array(arena, (size_t)n + 1, sizeof *e->pieces);
  e->settings = pw_arena_array(arena, (size_t)e->al.n_pits * (size_t)e->al.n_days + 1, sizeof *e->settings);
  if (!e->pieces || !e->settings)
    return PW_ERR_MEMORY;
  for (int c = 0; c < lots->n_lots; c++)
    for (int i = 0; i < lots->lots[c].pieces; i++)
      e->pieces[first[c] + i] = (struct pw_al_piece){.lot = c, .place = PW_NONE, .box = PW_NONE};
  for (int z = 0; z < lots->n_zones; z++) {
    const struct pw_zone *zone = &lots->zones[z];
    if (pw_rack_grid_init(&grids[z], &e->plan->event->pits[zone->pit].racks[zone->rack], 0, arena))
      return PW_ERR_MEMORY;
  }
  for (int i = 0; i < e->plan->allocation.n_loads; i++)
    take_load(e, grids, first, &e->plan->allocation.loads[i]);
  return PW_OK;
}

/* ---- what a fire is for -------------------------------------------------------------------------- */

static int by_first(const void *pa, const void *pb)
{
  const struct pw_burn_use *a = pa, *b = pb;
  if (a->from_at_min != b->from_at_min)
    return a->from_at_min < b->from_at_min ? -1 : 1;
  return (a->lot > b->lot) - (a->lot < b->lot);
}

static pw_status uses_of(struct explain *e, struct pw_burn_story *story)
{
  const struct pw_plan *plan = e->plan;
  const struct pw_burn *burn = &plan->allocation.burns[story->burn];
  story->uses = pw_arena_array(e->ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *story->uses);
  if (!story->uses)
    return PW_ERR_MEMORY;
  for (int c = 0; c < plan->lots.n_lots; c++) {
    struct pw_burn_use u = {.lot = c};
    for (int i = 0; i < plan->allocation.n_loads; i++) {
      const struct pw_load *load = &plan->allocation.loads[i];
      if (load->lot != c || burn_of(plan, load) != story->burn)
        continue;
      bool is_first = u.smoked + u.finished == 0;
      u.smoked += load->stage == PW_LOAD_SMOKE ? load->pieces : 0;
      u.finished += load->stage == PW_LOAD_FINISH ? load->pieces : 0;
      u.from_at_min = is_first || load->start_at_min < u.from_at_min ? load->start_at_min : u.from_at_min;
      u.to_at_min = is_first || load->end_at_min > u.to_at_min ? load->end_at_min : u.to_at_min;
      if (load->end_at_min > burn->out_at_min - HOUR_MIN)
        story->late_pieces += load->pieces;
    }
    if (u.smoked + u.finished > 0)
      story->uses[story->n_uses++] = u;
  }
  qsort(story->uses, (size_t)story->n_uses, sizeof *story->uses, by_first);
  return PW_OK;
}

/* The search again, the pit of the burn without food in the burn's last hour. */
static pw_status last_hour(struct explain *e, struct pw_burn_story *story)
{
  const struct pw_allocation *a = &e->plan->allocation;
  const struct pw_burn *burn = &a->burns[story->burn];
  story->is_hour = burn->out_at_min - burn->ready_at_min > HOUR_MIN;
  if (!story->is_hour)
    return PW_OK;
  if (e->ctx->progress)
    e->ctx->progress(e->ctx->progress_user, "without a fire's last hour", NAN, NAN);
  struct pw_al_pit *pit = &e->al.pit[burn->pit];
  int out = slot_of(&e->al, burn->out_at_min), n_hour = HOUR_MIN / e->al.slot_min;
  pit->shut_from = out - (n_hour > 0 ? n_hour : 1);
  pit->shut_to = e->al.n_slots;
  for (int b = 0; b < a->n_burns; b++) /* a later fire of the same pit stays as it may be */
    if (a->burns[b].pit == burn->pit && a->burns[b].lit_at_min >= burn->out_at_min) {
      pit->shut_to = out;
      break;
    }
  int n_pieces = 0;
  for (int c = 0; c < e->al.n_lots; c++)
    n_pieces += e->al.lot[c].n;
  struct pw_al_solution fresh;
  struct pw_al_search_options options = {.n_rounds = ROUNDS_LEAST + (long)(ROUNDS_PIECES / (n_pieces + 50)),
                                         .n_rounds_missed = MISSED_ROUNDS,
                                         .heat_frac = 0.01,
                                         .pieces = e->pieces,
                                         .settings = e->settings};
  pw_status st = pw_al_search(&fresh, &e->al, &options, e->ctx);
  pit->shut_from = pit->shut_to = 0;
  if (st != PW_OK)
    return st;
  story->without_missed = fresh.n_missed - a->n_missed;
  story->without_cents = (fresh.cost_cents - pw_al_solution_missed_cents(&e->al, &fresh)) -
                         (a->cost_cents - pw_al_missed_cents(&e->al, a->missed));
  return PW_OK;
}

static double hour_cents(const struct explain *e, const struct pw_burn *burn)
{
  return e->al.pit[burn->pit].rate[burn->setting] * HOUR_MIN / e->al.slot_min;
}

/* each burn's; with what its last hour buys by searching again, or without */
static pw_status burn_stories(struct explain *e, bool has_last_hour)
{
  const struct pw_allocation *a = &e->plan->allocation;
  pw_status st = PW_OK;
  e->out->burns = pw_arena_array(e->ctx->arena, (size_t)a->n_burns + 1, sizeof *e->out->burns);
  if (!e->out->burns)
    return PW_ERR_MEMORY;
  for (int b = 0; b < a->n_burns && st == PW_OK; b++) {
    struct pw_burn_story *story = &e->out->burns[e->out->n_burns++];
    *story = (struct pw_burn_story){.burn = b, .hour_cents = hour_cents(e, &a->burns[b])};
    st = uses_of(e, story);
    if (st == PW_OK && has_last_hour)
      st = last_hour(e, story);
  }
  return st;
}

/* The problem as it was searched: where people are called from a pool, with all who could be, for who comes was worked out
 * afterwards for the tasks of this plan alone, and leaves the search's share of hands no room. */
static pw_status problem_make(struct explain *e, const struct pw_fuel_rates *rates)
{
  const struct pw_event *ev = e->plan->event;
  pw_status st = e->plan->staffing.asked ? pw_staff_open(&ev, e->plan->staffing.asked, e->ctx) : PW_OK;
  return st == PW_OK ? pw_al_make(&e->al, ev, &e->plan->lots, rates, e->ctx) : st;
}

pw_status pw_explain_brief(struct pw_explain *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct explain e = {.out = out, .plan = plan, .ctx = ctx};
  struct pw_fuel_rates rates;
  struct pw_al_model model;
  struct pw_prices fixed;
  *out = (struct pw_explain){0};
  pw_status st = pw_fuel_rates_make(&rates, plan->event, ctx);
  if (st == PW_OK)
    st = problem_make(&e, &rates);
  if (st == PW_OK && plan->allocation.n_missed > 0)
    pw_al_share(&e.al);
  double size = (double)e.al.n_zones * e.al.n_slots * e.al.n_lots;
  if (st == PW_OK && size <= BRIEF_MOST && plan->allocation.n_burns > 0) {
    st = pw_explain_prices(&fixed, &model, &e.al, plan->allocation.burns, plan->allocation.n_burns, ctx);
    /* where the program finds no room at these fires for what the plan has laid, its prices are of another job: none is told */
    bool is_ours = fixed.missed <= 0 || plan->allocation.n_missed > 0;
    if (st == PW_OK && is_ours)
      st = pw_explain_worths(out, &e.al, &model, &model, &fixed, &fixed, ctx);
    out->fixed_lp_cents = st == PW_OK && is_ours ? fixed.money.value : 0;
  }
  if (st != PW_OK)
    return st;
  return burn_stories(&e, false);
}

pw_status pw_explain_make(struct pw_explain *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct explain e = {.out = out, .plan = plan, .ctx = ctx};
  struct pw_fuel_rates rates;
  struct pw_al_model fixed_model, free_model;
  struct pw_prices fixed, free_fires;
  *out = (struct pw_explain){0};
  pw_status st = pw_fuel_rates_make(&rates, plan->event, ctx);
  if (st == PW_OK)
    st = problem_make(&e, &rates);
  if (st == PW_OK && plan->allocation.n_missed > 0)
    pw_al_share(&e.al);
  if (st == PW_OK)
    st = read_back(&e);
  if (st == PW_OK)
    st = pw_explain_prices(&fixed, &fixed_model, &e.al, plan->allocation.burns, plan->allocation.n_burns, ctx);
  if (st == PW_OK)
    st = pw_explain_prices(&free_fires, &free_model, &e.al, NULL, 0, ctx);
  if (st == PW_OK)
    st = pw_explain_worths(out, &e.al, &fixed_model, &free_model, &fixed, &free_fires, ctx);
  if (st != PW_OK)
    return st;
  out->fixed_lp_cents = fixed.money.value;
  out->free_lp_cents = free_fires.money.value;
  out->lp_missed = fixed.missed;
  out->is_merged = fixed_model.n_groups > 0 && e.al.n_zones > 40;
  return burn_stories(&e, true);
}
