/* xlsx_needs.c - how the need of an item follows head count and yields: the ledger's sources again, sorted by how they grow.
 *   need = fixed + guests s + portions ((1 - q) s + q sqrt(s)) + pieces of each cut,   s = head count / planned head count
 * An item whose sources do not add up to the plan's need grows with the guests alone. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "plan/buy/ledger.h"
#include "plan/demand/cook_day.h"

#include <math.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

/** Parts of a need, in the item's unit. */
struct parts {
  double fixed, by_guest, by_root;
  double *by_piece; /* per raw need: of one piece */
};

double pw_xlsx_line_cushion(const struct book *b, int line)
{
  const struct pw_demand_line *l = &b->plan->demand.lines[line];
  const struct pw_dish *d = &b->ev->dishes[l->dish];
  double mean = (d->is_by_count ? l->mean_units : l->mean_kg) * (1 + d->reserve_frac),
         need = d->is_by_count ? l->need_units : l->need_kg;
  double q = need > 0 ? 1 - mean / need : 0;
  return q < 0 ? 0 : q > 1 ? 1 : q;
}

static double guests_of(const struct book *b, int service) { return pw_view_guest_count(b->view, service); }

/** Portions of a line for an item, and the share of their cushion. */
static double portions_of(const struct book *b, int line, int item, double *cushion)
{
  const struct pw_demand_line *l = &b->plan->demand.lines[line];
  const struct pw_dish *d = &b->ev->dishes[l->dish];
  if (b->ev->items[item].unit == PW_UNIT_EACH) {
    *cushion = l->portions_cover > l->portions ? 1 - (double)l->portions / l->portions_cover : 0;
    return ceil(l->portions_cover * (1 + d->reserve_frac) - 1e-9);
  }
  double per = b->plan->demand.laws ? b->plan->demand.laws[line].portion : 0;
  *cushion = pw_xlsx_line_cushion(b, line);
  return per > 0 ? (d->is_by_count ? l->need_units : l->need_kg) / per : 0;
}

static void add_portions(const struct book *b, struct parts *p, int line, const struct pw_use *use)
{
  double cushion = 0, amount = use->amount * portions_of(b, line, use->item, &cushion);
  p->by_root += amount * cushion;
  p->by_guest += amount * (1 - cushion);
}

static void add_piece(const struct book *b, struct parts *p, int raw, const struct pw_use *use, double share)
{
  p->by_piece[raw] +=
      use->amount * share * (use->per == PW_PER_KG_RAW ? b->ev->cuts[b->plan->purchase.raws[raw].cut].piece_kg : 1);
}

static bool is_first_line(const struct book *b, int line)
{
  for (int i = 0; i < line; i++)
    if (b->plan->demand.lines[i].dish == b->plan->demand.lines[line].dish)
      return false;
  return true;
}

static bool is_first_raw(const struct book *b, int raw)
{
  for (int i = 0; i < raw; i++)
    if (b->plan->purchase.raws[i].cut == b->plan->purchase.raws[raw].cut)
      return false;
  return true;
}

static void dish_uses(const struct book *b, struct parts *p, int item)
{
  const struct pw_plan *plan = b->plan;
  for (int i = 0; i < plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &plan->demand.lines[i];
    const struct pw_dish *d = &b->ev->dishes[line->dish];
    for (int u = 0; u < d->n_uses; u++) {
      const struct pw_use *use = &d->uses[u];
      if (use->item != item)
        continue;
      switch (use->per) {
      case PW_PER_PORTION:
        add_portions(b, p, i, use);
        break;
      case PW_PER_GUEST:
        p->by_guest += use->amount * guests_of(b, line->service);
        break;
      case PW_PER_PIECE:
      case PW_PER_KG_RAW:
        for (int r = 0; r < plan->purchase.n_raws; r++)
          if (plan->purchase.raws[r].service == line->service && plan->purchase.raws[r].cut == d->cut)
            add_piece(b, p, r, use, pw_ledger_share_of_cut(b->ev, &plan->demand, i));
        break;
      case PW_PER_SERVICE:
        p->fixed += use->amount;
        break;
      case PW_PER_EVENT:
        p->fixed += is_first_line(b, i) ? use->amount : 0;
        break;
      }
    }
  }
}

static void cut_uses(const struct book *b, struct parts *p, int item, int raw, const struct pw_use *uses, int n)
{
  const struct pw_plan *plan = b->plan;
  const struct pw_raw_need *need = &plan->purchase.raws[raw];
  for (int u = 0; u < n; u++) {
    const struct pw_use *use = &uses[u];
    if (use->item != item)
      continue;
    switch (use->per) {
    case PW_PER_PORTION:
      for (int i = 0; i < plan->demand.n_lines; i++)
        if (plan->demand.lines[i].service == need->service &&
            b->ev->dishes[plan->demand.lines[i].dish].cut == need->cut)
          add_portions(b, p, i, use);
      break;
    case PW_PER_GUEST:
      p->by_guest += use->amount * guests_of(b, need->service);
      break;
    case PW_PER_PIECE:
    case PW_PER_KG_RAW:
      add_piece(b, p, raw, use, 1);
      break;
    case PW_PER_SERVICE:
      p->fixed += use->amount;
      break;
    case PW_PER_EVENT:
      p->fixed += is_first_raw(b, raw) ? use->amount : 0;
      break;
    }
  }
}

static void event_uses(const struct book *b, struct parts *p, int item)
{
  const struct pw_plan *plan = b->plan;
  for (int u = 0; u < b->ev->n_uses; u++) {
    const struct pw_use *use = &b->ev->uses[u];
    struct pw_service_range of =
        b->ev->use_services ? b->ev->use_services[u] : (struct pw_service_range){0, b->ev->n_services};
    for (int s = of.first; s < of.first + of.n && use->item == item; s++)
      switch (use->per) {
      case PW_PER_PORTION:
        for (int i = 0; i < plan->demand.n_lines; i++)
          if (plan->demand.lines[i].service == s)
            add_portions(b, p, i, use);
        break;
      case PW_PER_GUEST:
        p->by_guest += use->amount * guests_of(b, s);
        break;
      case PW_PER_PIECE:
      case PW_PER_KG_RAW:
        for (int r = 0; r < plan->purchase.n_raws; r++)
          if (plan->purchase.raws[r].service == s)
            add_piece(b, p, r, use, 1);
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
static bool parts_of(struct book *b, struct parts *p, int item)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  *p = (struct parts){.by_piece = pw_arena_array(b->view->arena, (size_t)pu->n_raws + 1, sizeof *p->by_piece)};
  if (!p->by_piece)
    return false;
  dish_uses(b, p, item);
  for (int r = 0; r < pu->n_raws; r++) {
    const struct pw_cut *cut = &b->ev->cuts[pu->raws[r].cut];
    if (cut->item == item)
      p->by_piece[r] += b->ev->items[item].unit == PW_UNIT_EACH ? 1 : cut->piece_kg;
    cut_uses(b, p, item, r, cut->uses, cut->n_uses);
    if (pw_is_day_before(b->ev, pu->raws[r].service, pu->raws[r].cut))
      cut_uses(b, p, item, r, cut->chill_uses, cut->n_chill_uses);
  }
  event_uses(b, p, item);
  for (int i = 0; i < b->ev->n_items; i++)
    for (int k = 0; k < b->ev->items[i].n_parts; k++) {
      const struct pw_part *part = &b->ev->items[i].parts[k];
      struct parts mix;
      if (part->item != item)
        continue;
      if (!parts_of(b, &mix, i))
        return false;
      p->fixed += mix.fixed * part->amount;
      p->by_guest += mix.by_guest * part->amount;
      p->by_root += mix.by_root * part->amount;
      for (int r = 0; r < pu->n_raws; r++)
        p->by_piece[r] += mix.by_piece[r] * part->amount;
    }
  return true;
}

const char *pw_xlsx_need_term(struct book *b, int item, double need)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  struct parts p;
  if (!b->raw_pieces || !parts_of(b, &p, item)) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return "";
  }
  double sum = p.fixed + p.by_guest + p.by_root, all = 0;
  for (int r = 0; r < pu->n_raws; r++)
    sum += p.by_piece[r] * pu->raws[r].pieces;
  for (int i = 0; i < pu->n_lines; i++)
    all += pu->lines[i].item == item ? pu->lines[i].need : 0;
  if (!(sum > 0) || fabs(sum - all) > 1e-6 * all)
    return TEXT("%.15g*guest_scale", need);
  double share = need / sum; /* an item bought in several packs: each keeps its part */
  const char *term = "";
  if (p.fixed > 0)
    term = TEXT("%.15g", p.fixed * share);
  if (p.by_guest > 0)
    term = TEXT("%s%s%.15g*guest_scale", term, term[0] ? "+" : "", p.by_guest * share);
  if (p.by_root > 0)
    term = TEXT("%s%s%.15g*SQRT(guest_scale)", term, term[0] ? "+" : "", p.by_root * share);
  for (int r = 0; r < pu->n_raws; r++)
    if (p.by_piece[r] > 0)
      term = TEXT("%s%s%.15g*%s", term, term[0] ? "+" : "", p.by_piece[r] * share, b->raw_pieces[r]);
  return term;
}
