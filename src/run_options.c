/* run_options.c - see run_options.h.  No formulas here: the price is the quote's. */
#include "run_options.h"
#include "run_side.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/money.h"
#include "base/parallel.h"
#include "plan/demand/menu_swap.h"
#include "plan/money/quote.h"

#include <math.h>

/* Of the seconds left for other plans, each choice's. */
static const double OPTION_TIME_FRAC = 0.1;

static int heads_of(const struct pw_event *ev, int service)
{
  int n = 0;
  for (int g = 0; g < ev->n_classes; g++)
    n += ev->services[service].guests[g];
  return n;
}

/* ---- choices ------------------------------------------------------------------------------------------- */

struct one {
  int service;
  const struct pw_menu_option *option; /* NULL: the job as it stands */
  struct pw_side_run run;
};

struct many {
  const struct pw_plan *given;
  const struct pw_event *ev;
  struct pw_allocate_options allocate;
  struct one *list;
};

static void one_plan(void *user, int i)
{
  struct many *m = user;
  struct one *o = &m->list[i];
  const struct pw_event *changed = m->ev;
  if (!pw_side_open(&o->run))
    return;
  if (o->option)
    o->run.status = pw_menu_with(&changed, m->ev, o->service, o->option, &o->run.ctx);
  pw_side_plan(&o->run, changed, &m->allocate, &m->given->margins, NULL);
}

static pw_cents per_guest_up(pw_cents more, int guests)
{
  return guests <= 0 ? 0 : more >= 0 ? pw_money_split_up(more, guests, 0) : -(-more / guests);
}

static struct pw_quote_option told(const struct one *base, const struct one *o)
{
  const struct pw_event *ev = o->run.plan.event;
  const struct pw_service *was = &base->run.plan.event->services[o->service];
  const struct pw_quote *b = &base->run.plan.quote, *q = &o->run.plan.quote;
  struct pw_quote_option t = {.service = o->service,
                              .dish = o->option->line.dish,
                              .instead_of =
                                  o->option->instead_of == PW_NONE ? PW_NONE : was->menu[o->option->instead_of].dish,
                              .guests = heads_of(ev, o->service),
                              .base_cost_cents = b->cost_cents,
                              .base_food_cents = b->food_cents,
                              .base_price_cents = b->price_cents,
                              .cost_cents = q->cost_cents,
                              .food_cents = q->food_cents,
                              .price_cents = q->price_cents,
                              .missed = o->run.plan.allocation.n_missed};
  t.more_per_guest_cents = per_guest_up(t.price_cents - t.base_price_cents, t.guests);
  return t;
}

pw_status pw_run_options(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                         struct pw_ctx *ctx)
{
  struct pw_quote *q = &plan->quote;
  int n = 0, at = 1;
  for (int s = 0; s < ev->n_services; s++)
    n += ev->services[s].n_options;
  if (n == 0 || plan->allocation.n_missed > 0 || pw_deadline_is_over(allocate->deadline_s))
    return PW_OK;
  /* another menu has other pieces: from no plan before */
  struct many m = {.given = plan, .ev = ev, .allocate = pw_side_options(allocate, NULL, OPTION_TIME_FRAC)};
  m.list = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *m.list);
  q->options = pw_arena_array(ctx->arena, (size_t)n, sizeof *q->options);
  if (!m.list || !q->options)
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    for (int k = 0; k < ev->services[s].n_options; k++)
      m.list[at++] = (struct one){.service = s, .option = &ev->services[s].options[k]};
  if (ctx->progress)
    ctx->progress(ctx->progress_user, "pricing choices", NAN, NAN);
  pw_parallel(n + 1, one_plan, &m);
  pw_status st = PW_OK;
  for (int i = 0; i <= n; i++)
    st = st == PW_OK ? m.list[i].run.status : st;
  for (int i = 1; i <= n && st == PW_OK && m.list[0].run.plan.allocation.n_missed == 0; i++)
    q->options[q->n_options++] = told(&m.list[0], &m.list[i]);
  for (int i = 0; i <= n; i++)
    pw_side_close(&m.list[i].run);
  return st;
}

/* ---- dishes left out ------------------------------------------------------------------------------------- */

enum { LEAVES_MOST = 4 };

/* The job with another menu bought for; all else as planned. */
static pw_status reckon(struct pw_plan *out, const struct pw_plan *plan, const struct pw_event *ev, struct pw_ctx *ctx)
{
  *out = *plan;
  out->event = ev;
  pw_status st = pw_demand_make(&out->demand, ev, ctx);
  if (st == PW_OK)
    st = pw_purchase_make(&out->purchase, ev, &out->demand, ctx);
  return st == PW_OK ? pw_quote_make(&out->quote, out, ctx) : st;
}

/* The line that saves most; PW_NONE when none saves anything. */
static pw_status dearest(int *service, int *line, struct pw_plan *best, const struct pw_plan *now, struct pw_ctx *ctx)
{
  const struct pw_event *ev = now->event;
  pw_cents least = now->quote.cost_cents;
  *service = *line = PW_NONE;
  for (int s = 0; s < ev->n_services; s++)
    for (int k = 0; k < ev->services[s].n_menu; k++) {
      const struct pw_event *without = NULL;
      struct pw_plan tried;
      if (!pw_menu_may_lack(ev, s, k))
        continue;
      pw_status st = pw_menu_without(&without, ev, s, k, ctx);
      if (st == PW_OK)
        st = reckon(&tried, now, without, ctx);
      if (st != PW_OK)
        return st;
      if (tried.quote.cost_cents < least) {
        least = tried.quote.cost_cents;
        *best = tried;
        *service = s;
        *line = k;
      }
    }
  return PW_OK;
}

pw_status pw_run_leaves(struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_quote *q = &plan->quote;
  const struct pw_terms *t = &plan->event->terms;
  struct pw_ctx *side = pw_side_ctx(ctx); /* its warnings are about menus nobody serves */
  if (!side)
    return PW_ERR_MEMORY;
  if (!(t->quoted_per_guest_cents > 0) || t->quoted_price_on.year || q->today_cents <= q->price_cents)
    return PW_OK;
  if (!(q->leaves = pw_arena_array(ctx->arena, LEAVES_MOST, sizeof *q->leaves)))
    return PW_ERR_MEMORY;
  struct pw_plan now = *plan;
  while (q->n_leaves < LEAVES_MOST && now.quote.today_cents > now.quote.price_cents) {
    struct pw_plan next = {0};
    int service, line;
    pw_status st = dearest(&service, &line, &next, &now, side);
    if (st != PW_OK)
      return st;
    if (service == PW_NONE)
      break;
    q->leaves[q->n_leaves++] = (struct pw_quote_leave){.service = service,
                                                       .dish = now.event->services[service].menu[line].dish,
                                                       .cost_cents = next.quote.cost_cents,
                                                       .food_cents = next.quote.food_cents,
                                                       .price_cents = next.quote.today_cents,
                                                       .margin_frac = next.quote.margin_frac};
    now = next;
  }
  return PW_OK;
}
