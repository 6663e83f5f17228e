/* need_growth.c - how the need of an item follows head count and yields: the ledger's sources again, sorted by how they grow.
 *   need = fixed + guests s + portions ((1 - q) s + q sqrt(s)) + pieces of each cut,   s = head count / planned head count
 * An item whose sources do not add up to the plan's need grows with the guests alone. */
#include "plan/buy/need_growth.h"

#include "base/arena.h"
#include "plan/buy/ledger.h"
#include "plan/demand/cook_day.h"

#include <math.h>

double pw_need_cushion_frac(const struct pw_plan *plan, int line)
{
  const struct pw_demand_line *l = &plan->demand.lines[line];
  const struct pw_dish *d = &plan->event->dishes[l->dish];
  double mean = (d->is_by_count ? l->mean_units : l->mean_kg) * (1 + d->reserve_frac),
         need = d->is_by_count ? l->need_units : l->need_kg;
  double q = need > 0 ? 1 - mean / need : 0;
  return q < 0 ? 0 : q > 1 ? 1 : q;
}

static double guests_of(const struct pw_event *ev, int service)
{
  double sum = 0;
  for (int k = 0; k < ev->n_classes; k++)
    sum += ev->services[service].guests[k];
  return sum;
}

/** Portions of a line for an item, and the share of their cushion. */
static double portions_of(const struct pw_plan *plan, int line, int item, double *cushion)
{
  const struct pw_demand_line *l = &plan->demand.lines[line];
  const struct pw_dish *d = &plan->event->dishes[l->dish];
  if (plan->event->items[item].unit == PW_UNIT_EACH) {
    *cushion = l->portions_cover > l->portions ? 1 - (double)l->portions / l->portions_cover : 0;
    return ceil(l->portions_cover * (1 + d->reserve_frac) - 1e-9);
  }
  double per = plan->demand.laws ? plan->demand.laws[line].portion : 0;
  *cushion = pw_need_cushion_frac(plan, line);
  return per > 0 ? (d->is_by_count ? l->need_units : l->need_kg) / per : 0;
}

static void add_portions(const struct pw_plan *plan, struct pw_need_growth *p, int line, const struct pw_use *use)
{
  double cushion = 0, amount = use->amount * portions_of(plan, line, use->item, &cushion);
  p->by_root += amount * cushion;
  p->by_guest += amount * (1 - cushion);
}

static void add_piece(const struct pw_plan *plan, struct pw_need_growth *p, int raw, const struct pw_use *use,
                      double share)
{
  p->by_piece[raw] +=
      use->amount * share * (use->per == PW_PER_KG_RAW ? plan->event->cuts[plan->purchase.raws[raw].cut].piece_kg : 1);
}

static bool is_first_line(const struct pw_plan *plan, int line)
{
  for (int i = 0; i < line; i++)
    if (plan->demand.lines[i].dish == plan->demand.lines[line].dish)
      return false;
  return true;
}

static bool is_first_raw(const struct pw_plan *plan, int raw)
{
  for (int i = 0; i < raw; i++)
    if (plan->purchase.raws[i].cut == plan->purchase.raws[raw].cut)
      return false;
  return true;
}

static void dish_uses(const struct pw_plan *plan, struct pw_need_growth *p, int item)
{
  for (int i = 0; i < plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &plan->demand.lines[i];
    const struct pw_dish *d = &plan->event->dishes[line->dish];
    for (int u = 0; u < d->n_uses; u++) {
      const struct pw_use *use = &d->uses[u];
      if (use->item != item)
        continue;
      switch (use->per) {
      case PW_PER_PORTION:
        add_portions(plan, p, i, use);
        break;
      case PW_PER_GUEST:
        p->by_guest += use->amount * guests_of(plan->event, line->service);
        break;
      case PW_PER_PIECE:
      case PW_PER_KG_RAW:
        for (int r = 0; r < plan->purchase.n_raws; r++)
          if (plan->purchase.raws[r].service == line->service && plan->purchase.raws[r].cut == d->cut)
            add_piece(plan, p, r, use, pw_ledger_share_of_cut(plan->event, &plan->demand, i));
        break;
      case PW_PER_SERVICE:
        p->fixed += use->amount;
        break;
      case PW_PER_EVENT:
        p->fixed += is_first_line(plan, i) ? use->amount : 0;
        break;
      }
    }
  }
}

static void cut_uses(const struct pw_plan *plan, struct pw_need_growth *p, int item, int raw, const struct pw_use *uses,
                     int n)
{
  const struct pw_raw_need *need = &plan->purchase.raws[raw];
  for (int u = 0; u < n; u++) {
    const struct pw_use *use = &uses[u];
    if (use->item != item)
      continue;
    switch (use->per) {
    case PW_PER_PORTION:
      for (int i = 0; i < plan->demand.n_lines; i++)
        if (plan->demand.lines[i].service == need->service &&
            plan->event->dishes[plan->demand.lines[i].dish].cut == need->cut)
          add_portions(plan, p, i, use);
      break;
    case PW_PER_GUEST:
      p->by_guest += use->amount * guests_of(plan->event, need->service);
      break;
    case PW_PER_PIECE:
    case PW_PER_KG_RAW:
      add_piece(plan, p, raw, use, 1);
      break;
    case PW_PER_SERVICE:
      p->fixed += use->amount;
      break;
    case PW_PER_EVENT:
      p->fixed += is_first_raw(plan, raw) ? use->amount : 0;
      break;
    }
  }
}

static void event_uses(const struct pw_plan *plan, struct pw_need_growth *p, int item)
{
  for (int u = 0; u < plan->event->n_uses; u++) {
    const struct pw_use *use = &plan->event->uses[u];
    struct pw_service_range of = plan->event->use_services ? plan->event->use_services[u]
                                                           : (struct pw_service_range){0, plan->event->n_services};
    for (int s = of.first; s < of.first + of.n && use->item == item; s++)
      switch (use->per) {
      case PW_PER_PORTION:
        for (int i = 0; i < plan->demand.n_lines; i++)
          if (plan->demand.lines[i].service == s)
            add_portions(plan, p, i, use);
        break;
      case PW_PER_GUEST:
        p->by_guest += use->amount * guests_of(plan->event, s);
        break;
      case PW_PER_PIECE:
      case PW_PER_KG_RAW:
        for (int r = 0; r < plan->purchase.n_raws; r++)
          if (plan->purchase.raws[r].service == s)
            add_piece(plan, p, r, use, 1);
        break;
      case PW_PER_SERVICE:
        p->fixed += use->amount;
        break;
      case PW_PER_EVENT:
        p->fixed += use->amount / of.n;
        break;
      }
  }
}

/** All parts of an item's need; of the mixes it goes into as well.  Recipes never go in circles: the reader sees to it. */
static bool parts_of(const struct pw_plan *plan, struct pw_need_growth *p, int item, struct pw_ctx *ctx)
{
  const struct pw_purchase *pu = &plan->purchase;
  *p = (struct pw_need_growth){.by_piece = pw_arena_array(ctx->arena, (size_t)pu->n_raws + 1, sizeof *p->by_piece)};
  if (!p->by_piece)
    return false;
  dish_uses(plan, p, item);
  for (int r = 0; r < pu->n_raws; r++) {
    const struct pw_cut *cut = &plan->event->cuts[pu->raws[r].cut];
    if (cut->item == item)
      p->by_piece[r] += plan->event->items[item].unit == PW_UNIT_EACH ? 1 : cut->piece_kg;
    cut_uses(plan, p, item, r, cut->uses, cut->n_uses);
    if (pw_is_day_before(plan->event, pu->raws[r].service, pu->raws[r].cut))
      cut_uses(plan, p, item, r, cut->chill_uses, cut->n_chill_uses);
  }
  event_uses(plan, p, item);
  for (int i = 0; i < plan->event->n_items; i++)
    for (int k = 0; k < plan->event->items[i].n_parts; k++) {
      const struct pw_part *part = &plan->event->items[i].parts[k];
      struct pw_need_growth mix;
      if (part->item != item)
        continue;
      if (!parts_of(plan, &mix, i, ctx))
        return false;
      p->fixed += mix.fixed * part->amount;
      p->by_guest += mix.by_guest * part->amount;
      p->by_root += mix.by_root * part->amount;
      for (int r = 0; r < pu->n_raws; r++)
        p->by_piece[r] += mix.by_piece[r] * part->amount;
    }
  return true;
}

pw_status pw_need_growth(struct pw_need_growth *out, const struct pw_plan *plan, int item, double need,
                         struct pw_ctx *ctx)
{
  const struct pw_purchase *pu = &plan->purchase;
  if (!parts_of(plan, out, item, ctx))
    return PW_ERR_MEMORY;
  double sum = out->fixed + out->by_guest + out->by_root, all = 0;
  for (int r = 0; r < pu->n_raws; r++)
    sum += out->by_piece[r] * pu->raws[r].pieces;
  for (int i = 0; i < pu->n_lines; i++)
    all += pu->lines[i].item == item ? pu->lines[i].need : 0;
  bool adds_up = sum > 0 && fabs(sum - all) <= 1e-6 * all;
  double share = adds_up ? need / sum : 0; /* an item bought in several packs: each keeps its part */
  out->fixed *= share;
  out->by_root *= share;
  out->by_guest = adds_up ? out->by_guest * share : need;
  for (int r = 0; r < pu->n_raws; r++)
    out->by_piece[r] *= share;
  return PW_OK;
}
