/* way_trial.c - one change after the other is planned, several at a time, within so much work. */
#include "plan/ways/way_trial.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/parallel.h"
#include "plan/chance/on_time.h"
#include "plan/lots/day_before.h"

#include <limits.h>
#include <string.h>

enum { BATCH = 4 };

/* Pieces cooked the day before that find no oven to be reheated in. */
static int cold_pieces(const struct pw_plan *plan)
{
  int n = 0;
  for (int c = 0; c < plan->lots.n_lots; c++)
    if (plan->lots.lots[c].is_day_before)
      n += plan->lots.lots[c].pieces - pw_day_before_reheated(&plan->lots, c);
  return n;
}

static int portions_short(const struct pw_plan *plan)
{
  int n = 0;
  for (int i = 0; i < plan->n_shortfalls; i++)
    n += plan->shortfalls[i].portions;
  return n;
}

static const char *lines_of(const struct pw_way_trial *t, struct pw_ctx *ctx)
{
  const char *lines = "";
  for (int i = 0; i < t->n && lines; i++)
    lines = pw_arena_printf(ctx->arena, "%s%s", lines, t->way[i]->lines);
  return lines;
}

static void try_one(void *user, int i)
{
  const struct pw_way_trials *w = user;
  struct pw_way_trial *t = &w->trials[w->n_done + i];
  struct pw_plan *plan = &t->plan;
  t->remedy.missed_after = t->remedy.missed_portions_after = INT_MAX;
  if (!(t->arena = pw_arena_open())) {
    t->status = PW_ERR_MEMORY;
    return;
  }
  struct pw_ctx ctx = {.arena = t->arena};
  const char *lines = lines_of(t, &ctx);
  t->status = lines ? w->planner->plan(w->planner->user, plan, lines, w->care, &ctx) : PW_ERR_MEMORY;
  if (t->status != PW_OK) {
    t->status = t->status == PW_ERR_MEMORY ? PW_ERR_MEMORY : PW_OK; /* what cannot be is no way out */
    return;
  }
  t->n_looks = plan->allocation.n_looks + w->looks_per_lot * plan->lots.n_lots;
  if (cold_pieces(plan) > cold_pieces(w->plan))
    return;
  t->remedy.missed_after = plan->allocation.n_missed;
  t->remedy.missed_portions_after = portions_short(plan);
  t->remedy.plan_cost_cents = plan->quote.cost_cents;
  t->remedy.cost_cents = plan->quote.cost_cents - w->plan->quote.cost_cents;
}

/* Its chances, which outlive its plan. */
static pw_status keep_chances(struct pw_way_trial *t, enum pw_way_care care, struct pw_ctx *ctx)
{
  const struct pw_plan *plan = &t->plan;
  const struct pw_event *ev = plan->event;
  struct pw_remedy *r = &t->remedy;
  if (care == PW_WAY_FITS || r->missed_after > 0 || !plan->chance.services || !pw_on_time_is_asked(ev))
    return PW_OK;
  if (!(r->chances = pw_arena_array(ctx->arena, (size_t)ev->n_services + 1, sizeof *r->chances)))
    return PW_ERR_MEMORY;
  t->lack_frac = pw_on_time_lack(ev, &plan->chance);
  for (int s = 0; s < ev->n_services; s++) {
    struct pw_meal_chance *c = &r->chances[r->n_chances++];
    *c = (struct pw_meal_chance){pw_arena_strdup(ctx->arena, ev->services[s].id),
                                 pw_arena_strdup(ctx->arena, ev->services[s].name ? ev->services[s].name : ""),
                                 plan->chance.services[s].on_time_frac, pw_on_time_target(ev, s)};
    if (!c->service || !c->name)
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}

pw_status pw_way_trials_run(struct pw_way_trials *w)
{
  while (w->n_done < w->n) {
    if (w->n_looks > w->looks_most || pw_deadline_is_over(w->planner->deadline_s)) {
      w->n = w->n_done;
      break;
    }
    int n = w->n - w->n_done < BATCH ? w->n - w->n_done : BATCH;
    long room = 1 + (w->looks_most - w->n_looks) / (w->looks_per_lot * (w->plan->lots.n_lots + 1));
    n = n < room ? n : (int)room;
    pw_parallel(n, try_one, w);
    pw_status status = PW_OK;
    for (int i = w->n_done; i < w->n_done + n; i++) {
      struct pw_way_trial *t = &w->trials[i];
      if (t->status == PW_OK && t->remedy.missed_after < INT_MAX)
        t->status = keep_chances(t, w->care, w->ctx);
      pw_arena_close(t->arena);
      t->plan = (struct pw_plan){0};
      w->n_looks += t->n_looks;
      status = t->status != PW_OK ? t->status : status;
    }
    w->n_done += n;
    if (status != PW_OK)
      return status;
  }
  return PW_OK;
}

bool pw_way_trial_holds(const struct pw_way_trial *t, const struct pw_way *way)
{
  for (int i = 0; i < t->n; i++)
    if (t->way[i] == way)
      return true;
  return false;
}

void pw_way_trials_add(struct pw_way_trials *w, const struct pw_way_trial *base, const struct pw_way *way,
                       const struct pw_way *list)
{
  struct pw_way_trial t = {.n = base->n + 1};
  if (w->n == w->cap || base->n == PW_WAY_PARTS_MAX || pw_way_trial_holds(base, way) ||
      (way->copy_of != PW_NONE && !pw_way_trial_holds(base, &list[way->copy_of])))
    return;
  for (int i = 0; i < base->n; i++)
    if (!pw_ways_agree(base->way[i], way))
      return;
  int at = 0;
  for (; at < base->n && base->way[at] < way; at++)
    t.way[at] = base->way[at];
  t.way[at] = way;
  for (; at < base->n; at++)
    t.way[at + 1] = base->way[at];
  for (int i = 0; i < w->n; i++)
    if (w->trials[i].n == t.n && memcmp(w->trials[i].way, t.way, (size_t)t.n * sizeof(struct pw_way *)) == 0)
      return;
  w->trials[w->n++] = t;
}

pw_status pw_way_trial_tell(struct pw_remedy *out, const struct pw_way_trial *t, struct pw_ctx *ctx)
{
  *out = t->remedy;
  out->n_parts = 0;
  out->lines = lines_of(t, ctx);
  for (int k = 0; k < t->n; k++) {
    out->what = k == 0 ? t->way[k]->what
                       : pw_arena_printf(ctx->arena, "%s; and %s", out->what ? out->what : "", t->way[k]->what);
    out->parts[out->n_parts++] = t->way[k]->part;
  }
  return out->what && out->lines ? PW_OK : PW_ERR_MEMORY;
}
