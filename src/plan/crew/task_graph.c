/* task_graph.c - what must be over before what [S1].
 * In: drafts, loads, burns.  Out: edges between drafts, sorted by the later one; none goes round.
 * The same pieces: prepared, loaded, scratched, mopped, read, wrapped, probed, off, rested, held, cut.  The same spot: off before the
 * next load on it.  The same goods: ordered, taken in, used.  The same fire: lit, clean, fed with food, burnt down, ash.  The same
 * service: set up, panned up, cut, served, cleared, cooled, read.  Then home. */
#include "base/arena.h"
#include "plan/crew/task_list.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum {
  SPOT_WITHIN_MIN = 12 * 60
};                   /* what lay there longer ago was taken off long ago, even by hands that are hours behind */
#define TOUCH_M 1e-4 /* rectangles that share no more than this lie side by side */

static void edge_apart(struct pw_task_list *list, int before, int after, int gap_min)
{
  if (before == after || before == PW_NONE || after == PW_NONE)
    return;
  if (pw_arena_grow(list->ctx->arena, &list->edges, &list->cap_edges, list->n_edges, sizeof *list->edges) != 0) {
    list->failed = true;
    return;
  }
  list->edges[list->n_edges++] = (struct pw_edge){before, after, gap_min};
}

static void edge(struct pw_task_list *list, int before, int after) { edge_apart(list, before, after, 0); }

/* ---- the day of a piece -------------------------------------------------------------------------------- */

struct link {
  int piece, chain, at, draft;
};

static int by_piece(const void *a, const void *b)
{
  const struct link *x = a, *y = b;
  const int keys[][2] = {{x->piece, y->piece}, {x->chain, y->chain}, {x->at, y->at}, {x->draft, y->draft}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

static void pieces(struct pw_task_list *list)
{
  struct link *links = NULL;
  size_t cap = 0;
  for (int lot = 0; lot < list->plan->lots.n_lots && !list->failed; lot++) {
    size_t n = 0;
    for (size_t d = 0; d < list->n_drafts; d++) {
      const struct pw_draft *draft = &list->drafts[d];
      for (int k = 0; draft->lot == lot && draft->chain != PW_CHAIN_NONE && k < draft->n_ids; k++) {
        if (pw_arena_grow(list->ctx->arena, &links, &cap, n, sizeof *links) != 0) {
          list->failed = true;
          return;
        }
        links[n++] = (struct link){draft->ids[k], (int)draft->chain, draft->last_at_min, (int)d};
      }
    }
    if (n > 1)
      qsort(links, n, sizeof *links, by_piece);
    for (size_t i = 1; i < n; i++)
      if (links[i].piece == links[i - 1].piece)
        edge_apart(list, links[i - 1].draft, links[i].draft, list->drafts[links[i - 1].draft].lies_min);
  }
}

/* ---- spots ----------------------------------------------------------------------------------------------- */

static bool do_overlap(const struct pw_rect *a, const struct pw_rect *b)
{
  return a->x_m + a->length_m > b->x_m + TOUCH_M && b->x_m + b->length_m > a->x_m + TOUCH_M &&
         a->y_m + a->depth_m > b->y_m + TOUCH_M && b->y_m + b->depth_m > a->y_m + TOUCH_M;
}

/* Pieces wrapped at once at one pit, or at two between which they change, trade places on the table: neither waits for the other. */
static bool is_trade(const struct pw_draft *out, const struct pw_draft *in)
{
  bool is_wrap_out = out->kind == PW_TASK_WRAP || out->kind == PW_TASK_WRAP_CARRY;
  bool is_wrap_in = in->kind == PW_TASK_WRAP || in->kind == PW_TASK_WRAP_CARRY;
  bool is_change = out->place == in->to_place && in->place == out->to_place;
  return is_wrap_out && is_wrap_in && (out->place == in->place || is_change) && out->first_at_min == in->first_at_min;
}

static void spots(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  const struct pw_zone *zones = list->plan->lots.zones;
  for (int b = 0; b < al->n_loads && !list->failed; b++) { /* loads are by start */
    const struct pw_load *in = &al->loads[b];
    for (int a = 0; a < al->n_loads && in->zone != PW_NONE; a++) {
      const struct pw_load *out = &al->loads[a];
      int gap = in->start_at_min - out->end_at_min;
      if (out->zone == PW_NONE || gap < 0 || gap > SPOT_WITHIN_MIN || zones[out->zone].pit != zones[in->zone].pit ||
          zones[out->zone].rack != zones[in->zone].rack || !in->rects || !out->rects)
        continue;
      for (int i = 0; i < in->pieces; i++)
        for (int k = 0; k < out->pieces; k++) {
          int takes_out = list->handled.takes_out[list->handled.offset[a] + k],
              puts_in = list->handled.puts_in[list->handled.offset[b] + i];
          if (takes_out == PW_NONE || puts_in == PW_NONE || takes_out == puts_in ||
              !do_overlap(&in->rects[i], &out->rects[k]) || is_trade(&list->drafts[takes_out], &list->drafts[puts_in]))
            continue;
          edge(list, takes_out, puts_in);
        }
    }
  }
}

/* ---- fires, goods, services, home ------------------------------------------------------------------------ */

static bool is_in_burn(const struct pw_burn *burn, int at) { return at >= burn->lit_at_min && at < burn->out_at_min; }

static void fires(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  int n_drafts = (int)list->n_drafts;
  for (int b = 0; b < al->n_burns && !list->failed; b++) {
    const struct pw_burn *burn = &al->burns[b];
    int light = PW_NONE, clean = PW_NONE, down = PW_NONE, look = PW_NONE, rake = PW_NONE, again = PW_NONE;
    for (int d = 0; d < n_drafts; d++) {
      const struct pw_draft *draft = &list->drafts[d];
      if (draft->pit != burn->pit)
        continue;
      if (draft->kind == PW_TASK_LIGHT && draft->first_at_min == burn->lit_at_min)
        light = d;
      if (draft->kind == PW_TASK_LIGHT && draft->first_at_min > burn->lit_at_min &&
          (again == PW_NONE || draft->first_at_min < list->drafts[again].first_at_min))
        again = d;
      if (draft->kind == PW_TASK_FIRE_CHECK && is_in_burn(burn, draft->first_at_min))
        clean = d;
      if (draft->kind == PW_TASK_BURN_DOWN && draft->first_at_min == burn->out_at_min)
        down = d;
    }
    for (int d = 0; d < n_drafts; d++) { /* the look at it before the night, and the rake before the next fire */
      const struct pw_draft *draft = &list->drafts[d];
      if (draft->kind != PW_TASK_ASH || draft->pit != burn->pit || draft->first_at_min < burn->out_at_min ||
          (again != PW_NONE && draft->first_at_min >= list->drafts[again].first_at_min))
        continue;
      look = look == PW_NONE ? d : look;
      rake = d;
    }
    edge(list, light, clean);
    edge(list, down, look);
    edge(list, look, rake);
    edge(list, rake, again);
    for (int i = 0; i < al->n_loads; i++) {
      const struct pw_load *load = &al->loads[i];
      if (load->zone == PW_NONE || list->plan->lots.zones[load->zone].pit != burn->pit ||
          !is_in_burn(burn, load->start_at_min))
        continue;
      for (int k = 0; k < load->pieces; k++) {
        edge(list, clean, list->handled.puts_in[list->handled.offset[i] + k]);
        edge(list, list->handled.takes_out[list->handled.offset[i] + k], down);
      }
    }
  }
}

/* A hot side made ready for a box. */
static bool is_side_for(const struct pw_task_list *list, const struct pw_draft *heat, const struct pw_draft *side)
{
  const struct pw_lots *lots = &list->plan->lots;
  bool is = false;
  for (int i = 0; side->kind == PW_TASK_PREP && side->lot == PW_NONE && i < lots->n_side_pans && !is; i++) {
    const struct pw_side_pans *s = &lots->side_pans[i];
    is = s->service == side->service && s->dish == side->dish && s->finisher == heat->place - list->ev->n_pits &&
         s->from_at_min >= heat->hot_from_min && s->from_at_min < heat->hot_to_min;
  }
  return is;
}

/* An oven or a box is switched on before what goes in; a side goes in when it is made, and making it takes a while. */
static void heats(struct pw_task_list *list)
{
  int n = (int)list->n_drafts;
  for (int h = 0; h < n && !list->failed; h++) {
    const struct pw_draft *heat = &list->drafts[h];
    for (int d = 0; d < n && heat->kind == PW_TASK_HEAT_UP && heat->hot_from_min < heat->hot_to_min; d++) {
      const struct pw_draft *x = &list->drafts[d];
      int rest = list->ev->finishers[heat->place - list->ev->n_pits].heat_up_min - pw_task_span(heat) - pw_task_span(x);
      if (x->to_place == heat->place && x->first_at_min >= heat->hot_from_min && x->first_at_min < heat->hot_to_min)
        edge(list, h, d);
      else if (is_side_for(list, heat, x))
        edge_apart(list, h, d, rest > 0 ? rest : 0);
    }
  }
}

static bool has_item(const struct pw_draft *draft, int item)
{
  for (int i = 0; i < draft->n_items; i++)
    if (draft->items[i] == item)
      return true;
  return false;
}

/* The take-in that brings an item first; PW_NONE. */
static int first_in(const struct pw_task_list *list, int item)
{
  int in = PW_NONE;
  for (size_t d = 0; d < list->n_drafts; d++)
    if (list->drafts[d].kind == PW_TASK_TAKE_IN && has_item(&list->drafts[d], item) &&
        (in == PW_NONE || list->drafts[d].last_at_min < list->drafts[in].last_at_min))
      in = (int)d;
  return in;
}

/* An item is used once all of it is there: packs of two suppliers are bought for one need, by the day of its first use. */
static void goods(struct pw_task_list *list)
{
  int n_drafts = (int)list->n_drafts;
  for (int item = 0; item < list->ev->n_items && !list->failed; item++) {
    int in = PW_NONE;
    bool is_looked_up = false;
    for (int d = 0; d < n_drafts; d++) {
      const struct pw_draft *draft = &list->drafts[d];
      if (draft->n_items == 0 || draft->kind == PW_TASK_ORDER || !has_item(draft, item))
        continue;
      if (!is_looked_up) {
        in = first_in(list, item);
        is_looked_up = true;
      }
      edge(list, in, d); /* what comes first is taken in first */
      for (int o = 0; o < n_drafts; o++) {
        const struct pw_draft *other = &list->drafts[o];
        if (draft->kind != PW_TASK_TAKE_IN && other->kind == PW_TASK_TAKE_IN && has_item(other, item))
          edge(list, o, d);
        if (draft->kind == PW_TASK_TAKE_IN && other->kind == PW_TASK_ORDER && strcmp(other->where, draft->where) == 0)
          edge(list, o, d); /* of the same supplier */
      }
    }
  }
}

/* Wood and charcoal are looked over before there is a fire: a take-in of no item. */
static void fuel(struct pw_task_list *list)
{
  for (size_t i = 0; i < list->n_drafts; i++)
    for (size_t k = 0; k < list->n_drafts && list->drafts[i].kind == PW_TASK_LIGHT; k++)
      if (list->drafts[k].kind == PW_TASK_TAKE_IN && list->drafts[k].n_items == 0)
        edge(list, (int)k, (int)i);
}

static void services(struct pw_task_list *list)
{
  int n = (int)list->n_drafts, there = PW_NONE, home = PW_NONE, set_up = PW_NONE;
  for (int d = 0; d < n; d++) {
    const struct pw_draft *x = &list->drafts[d];
    if (x->kind == PW_TASK_DRIVE && x->rank == PW_RANK_AFTER)
      home = d;
    else if (x->kind == PW_TASK_DRIVE)
      there = d;
    if (x->kind == PW_TASK_SET_UP && x->service == PW_NONE)
      set_up = d;
    if (x->service == PW_NONE)
      continue;
    for (int k = 0; k < n; k++) {
      const struct pw_draft *y = &list->drafts[k];
      if (y->service != x->service)
        continue;
      bool is_ready_for = x->kind == PW_TASK_SET_UP || x->kind == PW_TASK_PAN_UP || x->is_before_service ||
                          (x->kind == PW_TASK_PREP && x->lot == PW_NONE);
      if (y->kind == PW_TASK_SERVE && is_ready_for)
        edge(list, d, k);
      if (y->kind == PW_TASK_PAN_UP && x->kind == PW_TASK_PREP && x->lot == PW_NONE)
        edge(list, d, k);
      if (x->kind == PW_TASK_SERVE && (y->kind == PW_TASK_CLEAR || y->kind == PW_TASK_COOL))
        edge(list, d, k);
      if (x->kind == PW_TASK_COOL && y->kind == PW_TASK_COOL_CHECK && y->lot == PW_NONE)
        edge(list, d, k);
    }
  }
  edge(list, there, set_up);
  for (int d = 0; d < n; d++)
    edge(list, list->drafts[d].follows, d);
  for (int d = 0; d < n; d++) {
    const struct pw_draft *x = &list->drafts[d];
    if (x->kind == PW_TASK_LIGHT)
      edge(list, set_up, d);
    if (x->kind == PW_TASK_HEAT_UP && x->at == PW_AT_SITE)
      edge(list, there, d);
    if (x->at == PW_AT_SITE && x->rank != PW_RANK_BUY && d != home)
      edge(list, d, home);
  }
}

/* ---- in order -------------------------------------------------------------------------------------------- */

static int by_after(const void *a, const void *b)
{
  const struct pw_edge *x = a, *y = b;
  if (x->after != y->after)
    return x->after < y->after ? -1 : 1;
  return (x->before > y->before) - (x->before < y->before);
}

/* Sorted, each once, and where those of each draft begin. */
static void sort_edges(struct pw_task_list *list)
{
  size_t n = 0;
  if (list->n_edges > 1)
    qsort(list->edges, list->n_edges, sizeof *list->edges, by_after);
  for (size_t i = 0; i < list->n_edges; i++)
    if (i == 0 || by_after(&list->edges[i], &list->edges[n - 1]) != 0)
      list->edges[n++] = list->edges[i];
  list->n_edges = n;
  list->first_edge = pw_task_ints(list, NULL, (int)list->n_drafts + 1);
  size_t e = 0;
  for (int d = 0; list->first_edge && d <= (int)list->n_drafts; d++) {
    while (e < n && list->edges[e].after < d)
      e++;
    list->first_edge[d] = (int)e;
  }
}

void pw_task_graph(struct pw_task_list *list)
{
  pieces(list);
  spots(list);
  fires(list);
  heats(list);
  goods(list);
  fuel(list);
  services(list);
  if (!list->failed)
    sort_edges(list);
}
