/* plan_check_day.c - fires, goods and services in their order [J15].
 * In: burns, purchases, services, tasks.  Out: findings and pairs. */
#include "base/arena.h"
#include "judge/plan_check_order.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum {
  FEED_LATE_MIN = 15,      /* a fire burns on that long while another is fed; common practice, no source */
  LEFT_ALONE_MIN = 4 * 60, /* no crew waits so long beside a fire that is out; common practice, no source */
  NOBODY_LATE_MIN = 30     /* what nobody does is told as such; its minute is where what it waits for ends */
};
#define KIND(k) (1ull << PW_SEEN_##k)

static int end_of(const struct pw_seen_task *task) { return task->at_min + task->minutes; }

static bool is_one_of(const struct pw_seen_task *task, unsigned long long kinds)
{
  return task->kind != PW_SEEN_NONE && (kinds >> task->kind & 1u) != 0;
}

/* ---- fires ---------------------------------------------------------------------------------------------------- */

/** When the pit is lit again after this burn; INT_MAX: not again. */
static int lit_again(const struct pw_seen_plan *plan, int b)
{
  int at = INT_MAX;
  for (int k = 0; k < plan->n[PW_SEEN_BURNS]; k++)
    if (plan->burns[k].pit == plan->burns[b].pit && plan->burns[k].lit_min > plan->burns[b].lit_min &&
        plan->burns[k].lit_min < at)
      at = plan->burns[k].lit_min;
  return at;
}

/** Of the tasks of the kind at the pit between two minutes the first and the last, PW_SEEN_NONE where there is none, and a finding
 *  when there are not so many as asked for. */
static void tasks_of(struct pw_order *o, int b, int kind, int from, int to, int asked, bool may_be_more, int *first,
                     int *last)
{
  const struct pw_seen_plan *plan = o->plan;
  int n = 0;
  *first = *last = PW_SEEN_NONE;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->kind != kind || task->place != plan->burns[b].pit || task->at_min < from || task->at_min >= to)
      continue;
    if (n++ == 0)
      *first = i;
    *last = i;
  }
  bool is_past = plan->now_min != PW_SEEN_NO_TIME && to <= plan->now_min + 1; /* [J19] what was left undone then is */
  if ((n < asked && !is_past) || (n > asked && !may_be_more))
    pw_judge_find(o->judge, "J15", "tasks: %d %s of \"%s\" from minute %d to %d, burns[%d] asks for %d", n,
                  pw_seen_kinds[kind], plan->pits[plan->burns[b].pit].id, from, to, b, asked);
}

static int only_task(struct pw_order *o, int b, int kind, int from, int to, bool may_be_more)
{
  int first, last;
  tasks_of(o, b, kind, from, to, 1, may_be_more, &first, &last);
  return first;
}

/** Every feed after the lighting has a task of its own at its minute or little later, and no task feeds what the burn does not; wood
 *  laid when the fire is lit may be a task or part of lighting it. */
static void check_feeds(struct pw_order *o, int b, int to)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_burn *burn = &plan->burns[b];
  bool *has_task = pw_arena_array(o->judge->ctx->arena, (size_t)burn->n_feeds, sizeof *has_task);
  if (!has_task) {
    o->has_no_memory = true;
    return;
  }
  for (int k = 0; k < burn->n_feeds; k++)
    has_task[k] = false;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->kind != PW_SEEN_FEED_FIRE || task->place != burn->pit || task->at_min < burn->lit_min ||
        task->at_min >= to)
      continue;
    int k = 0;
    while (k < burn->n_feeds && (has_task[k] || task->at_min < burn->feeds[k].at_min ||
                                 task->at_min > burn->feeds[k].at_min + FEED_LATE_MIN))
      k++;
    if (k < burn->n_feeds)
      has_task[k] = true;
    else
      pw_judge_find(o->judge, "J15", "tasks[%d]: a feed of \"%s\" at minute %d, burns[%d] has none then", i,
                    plan->pits[burn->pit].id, task->at_min, b);
  }
  for (int k = 0; k < burn->n_feeds; k++)
    if (!has_task[k] && burn->feeds[k].at_min > burn->lit_min)
      pw_judge_find(o->judge, "J15", "burns[%d].feeds[%d]: at minute %d, and no task feeds \"%s\" then", b, k,
                    burn->feeds[k].at_min, plan->pits[burn->pit].id);
}

static void check_burn(struct pw_order *o, int b)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_burn *burn = &plan->burns[b];
  int again = lit_again(plan, b), before = INT_MIN;
  for (int k = 0; k < plan->n[PW_SEEN_BURNS]; k++)
    if (plan->burns[k].pit == burn->pit && plan->burns[k].out_min <= burn->lit_min && plan->burns[k].out_min > before)
      before = plan->burns[k].out_min;
  int light = only_task(o, b, PW_SEEN_LIGHT, before, burn->out_min, false);
  int clean = only_task(o, b, PW_SEEN_FIRE_CHECK, burn->lit_min, burn->out_min, true);
  int down = only_task(o, b, PW_SEEN_BURN_DOWN, burn->lit_min, again, false);
  /* Looked at before the crew leaves it, for the night or for good; raked out before it is lit again. */
  int n_ash = again != INT_MAX && again - burn->out_min >= LEFT_ALONE_MIN ? 2 : 1, look, rake;
  tasks_of(o, b, PW_SEEN_ASH, burn->lit_min, again == INT_MAX ? INT_MAX : again + 1, n_ash, false, &look, &rake);
  if (light != PW_SEEN_NONE && (plan->tasks[light].at_min < burn->lit_min ||
                                plan->tasks[light].at_min > burn->lit_min + pw_order_told_late(&plan->tasks[light])))
    pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" is lit at minute %d, burns[%d] says %d", light,
                  plan->pits[burn->pit].id, plan->tasks[light].at_min, b, burn->lit_min);
  if (down != PW_SEEN_NONE && plan->tasks[down].at_min < burn->out_min)
    pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" burns down from minute %d, burns[%d] burns until %d", down,
                  plan->pits[burn->pit].id, plan->tasks[down].at_min, b, burn->out_min);
  bool is_down = down != PW_SEEN_NONE && plan->now_min != PW_SEEN_NO_TIME && plan->tasks[down].at_min < plan->now_min;
  check_feeds(o, b, again);
  pw_order_pair_add(o, light, clean, "lit, then clean");
  pw_order_pair_add(o, down, look, "burnt down, then cold");
  if (look != rake)
    pw_order_pair_add(o, look, rake, "looked at in the evening, raked out before the next fire");
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].kind == PW_SEEN_LIGHT && plan->tasks[i].place == burn->pit && plan->tasks[i].at_min == again)
      pw_order_pair_add(o, rake, i, "the old ash comes out before the pit is lit again");
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (load->place >= plan->n[PW_SEEN_ZONES] || plan->racks[plan->zones[load->place].rack].pit != burn->pit ||
        load->start_min < burn->lit_min || load->start_min >= burn->out_min)
      continue;
    for (int k = 0; k < load->n_ids; k++) {
      if (load->piece_ids[k] >= plan->lots[load->lot].pieces)
        continue;
      if (plan->now_min == PW_SEEN_NO_TIME || load->start_min >= plan->now_min) /* [J19] what was laid on early is on */
        pw_order_pair_add(o, clean, pw_order_puts_in(o, load->lot, load->piece_ids[k], i), "a clean fire first");
      if (!is_down) /* [J19] what still lay in it when it burned down lay there */
        pw_order_pair_add(o, pw_order_takes_out(o, load->lot, load->piece_ids[k], i), down,
                          "it burns until the last food is out");
    }
  }
}

void pw_order_fires(struct pw_order *o)
{
  for (int b = 0; b < o->plan->n[PW_SEEN_BURNS] && !o->has_no_memory; b++)
    check_burn(o, b);
}

/* ---- goods ----------------------------------------------------------------------------------------------------- */

struct use {
  const char *item;
  int task;
};

static int by_item(const void *pa, const void *pb)
{
  const struct use *a = pa, *b = pb;
  int c = strcmp(a->item, b->item);
  return c ? c : (a->task > b->task) - (a->task < b->task);
}

/** Whose goods a take-in fetches: the order that names an item of it and the most of its other items; of several the one that
 *  names least besides. */
static int order_of(const struct pw_seen_plan *plan, const struct use *uses, size_t first, size_t last,
                    const struct pw_seen_task *in)
{
  for (int k = 0; k < in->n_after;
       k++) { /* the order it says it comes after, if that is one of its goods: two may sell the same */
    const struct pw_seen_task *order = &plan->tasks[in->after[k]];
    for (int a = 0; order->kind == PW_SEEN_ORDER && a < order->n_items; a++)
      for (int b = 0; b < in->n_items; b++)
        if (strcmp(order->items[a], in->items[b]) == 0)
          return in->after[k];
  }
  int best = PW_SEEN_NONE, most = 0;
  for (size_t k = first; k < last; k++) {
    const struct pw_seen_task *order = &plan->tasks[uses[k].task];
    int shared = 0;
    for (int a = 0; order->kind == PW_SEEN_ORDER && a < order->n_items; a++)
      for (int b = 0; b < in->n_items; b++)
        shared += strcmp(order->items[a], in->items[b]) == 0;
    bool is_closer = best != PW_SEEN_NONE && shared == most && order->n_items < plan->tasks[best].n_items;
    if (shared > most || (shared > 0 && is_closer)) {
      most = shared;
      best = uses[k].task;
    }
  }
  return best;
}

/** One item: uses[first..last).  Every take-in comes before every use, since all of it is bought for the first; each take-in after an
 *  order. */
static void check_item(struct pw_order *o, const struct use *uses, size_t first, size_t last)
{
  const struct pw_seen_plan *plan = o->plan;
  for (size_t k = first; k < last; k++) {
    const struct pw_seen_task *task = &plan->tasks[uses[k].task];
    if (task->kind == PW_SEEN_TAKE_IN)
      pw_order_pair_add(o, order_of(plan, uses, first, last, task), uses[k].task, "goods are ordered before they come");
    for (size_t i = first; i < last; i++)
      if (plan->tasks[uses[i].task].kind == PW_SEEN_TAKE_IN &&
          is_one_of(task, KIND(THAW) | KIND(PREP) | KIND(BRINE) | KIND(PAN_UP) | KIND(LOAD) | KIND(REHEAT)))
        pw_order_pair_add(o, uses[i].task, uses[k].task, "goods are taken in before they are used");
  }
}

/** Suppliers an item is bought from: each has an order and a delivery of its own. */
static int suppliers_of(const struct pw_seen_plan *plan, const char *item)
{
  int n = 0;
  for (int i = 0; i < plan->n[PW_SEEN_PURCHASES]; i++) {
    const struct pw_seen_purchase *line = &plan->purchases[i];
    bool is_new = line->packs > 0 && strcmp(line->item, item) == 0;
    for (int k = 0; k < i && is_new; k++)
      is_new = plan->purchases[k].packs == 0 || strcmp(plan->purchases[k].item, item) != 0 ||
               strcmp(plan->purchases[k].supplier, line->supplier) != 0;
    n += is_new;
  }
  return n;
}

/** Every purchase is ordered in time and taken in. */
static void check_purchase(struct pw_order *o, int i, const struct use *uses, size_t n)
{
  const struct pw_seen_purchase *line = &o->plan->purchases[i];
  int n_orders = 0, n_in = 0, n_thaw = 0, order_at = INT_MAX;
  size_t lo = 0, hi = n;
  while (lo < hi) {
    size_t mid = (lo + hi) / 2;
    if (strcmp(uses[mid].item, line->item) < 0)
      lo = mid + 1;
    else
      hi = mid;
  }
  for (; lo < n && strcmp(uses[lo].item, line->item) == 0; lo++) {
    const struct pw_seen_task *task = &o->plan->tasks[uses[lo].task];
    n_orders += task->kind == PW_SEEN_ORDER;
    n_in += task->kind == PW_SEEN_TAKE_IN;
    n_thaw += task->kind == PW_SEEN_THAW;
    if (task->kind == PW_SEEN_ORDER && task->at_min < order_at)
      order_at = task->at_min;
  }
  if (line->packs == 0)
    return;
  if (n_orders == 0 || n_in == 0)
    pw_judge_find(o->judge, "J15", "tasks: \"%s\", purchases[%d], is %s by nobody", line->item, i,
                  n_orders == 0 ? "ordered" : "taken in");
  else if (n_orders < suppliers_of(o->plan, line->item) || n_in < suppliers_of(o->plan, line->item))
    pw_judge_find(o->judge, "J15",
                  "tasks: \"%s\", purchases[%d], comes from %d suppliers, is ordered %d and taken in %d times",
                  line->item, i, suppliers_of(o->plan, line->item), n_orders, n_in);
  else if (line->thaw_from_min != PW_SEEN_NO_TIME && n_thaw == 0)
    pw_judge_find(o->judge, "J15", "tasks: \"%s\", purchases[%d], is thawed by nobody", line->item, i);
  else if (order_at > line->order_by_min)
    pw_judge_find(o->judge, "J15", "tasks: \"%s\" is ordered at minute %d, purchases[%d] says by %d", line->item,
                  order_at, i, line->order_by_min);
}

/** What makes a lot ready names its meat. */
static void check_meat(struct pw_order *o, int i)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_task *task = &plan->tasks[i];
  const struct pw_seen_lot *lot = &plan->lots[task->lot];
  for (int r = 0; r < plan->n[PW_SEEN_RAWS]; r++) {
    const struct pw_seen_raw *raw = &plan->raws[r];
    if (!raw->item || raw->service != lot->service || strcmp(raw->cut, lot->cut) != 0)
      continue;
    bool is_named = false;
    for (int k = 0; k < task->n_items; k++)
      is_named = is_named || strcmp(task->items[k], raw->item) == 0;
    if (!is_named)
      pw_judge_find(o->judge, "J15", "tasks[%d].items: makes \"%s\" ready without \"%s\"", i, lot->id, raw->item);
  }
}

void pw_order_goods(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  size_t n = 0, most = 0;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    most += (size_t)plan->tasks[i].n_items;
  struct use *uses = pw_arena_array(o->judge->ctx->arena, most, sizeof *uses);
  if (!uses) {
    o->has_no_memory = true;
    return;
  }
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    for (int k = 0; k < plan->tasks[i].n_items; k++)
      uses[n++] = (struct use){plan->tasks[i].items[k], i};
  if (n > 1)
    qsort(uses, n, sizeof *uses, by_item);
  for (size_t i = 0, j; i < n; i = j) {
    for (j = i + 1; j < n && strcmp(uses[j].item, uses[i].item) == 0; j++)
      ;
    check_item(o, uses, i, j);
  }
  for (int i = 0; i < plan->n[PW_SEEN_PURCHASES]; i++)
    check_purchase(o, i, uses, n);
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].kind == PW_SEEN_PREP && plan->tasks[i].lot != PW_SEEN_NONE)
      check_meat(o, i);
}

/* ---- services -------------------------------------------------------------------------------------------------- */

/** Task `before` is over before each that serves the service. */
static void before_serving(struct pw_order *o, int s, int before, const char *why)
{
  for (int i = 0; i < o->plan->n[PW_SEEN_TASKS]; i++)
    if (o->plan->tasks[i].kind == PW_SEEN_SERVE && o->plan->tasks[i].service == s)
      pw_order_pair_add(o, before, i, why);
}

/** Of a mended plan: how late its latest lot is [J19]; carving and panning up come behind it. */
static int told_late_of(const struct pw_seen_plan *plan, int s)
{
  enum { PAN_UP_MIN = 60 }; /* knives and pans after the last rest: common practice, no source */
  int late = 0;
  for (int l = 0; l < plan->n[PW_SEEN_LOTS] && plan->now_min != PW_SEEN_NO_TIME; l++)
    if (plan->lots[l].service == s && plan->lots[l].late_min > late)
      late = plan->lots[l].late_min;
  return late > 0 ? late + PAN_UP_MIN : 0;
}

/** Of two cuts of a lot: feeds earlier plates, or those of the same and is over sooner. */
static bool is_eaten_first(const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  return a->plates_to_min != b->plates_to_min ? a->plates_to_min < b->plates_to_min : end_of(a) < end_of(b);
}

/** The first cut of each lot of the service is over before it begins, that of a later wave before its wave does or late and told; none
 *  is made once the service is over.  Of a mended plan a service that has begun is served with what there was. */
static void first_cuts(struct pw_order *o, int s)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int lot = 0; lot < plan->n[PW_SEEN_LOTS]; lot++) {
    int first = PW_SEEN_NONE;
    if (plan->lots[lot].service != s)
      continue;
    for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
      const struct pw_seen_task *task = &plan->tasks[i];
      if (task->lot != lot || task->kind != PW_SEEN_CUT)
        continue;
      if (first == PW_SEEN_NONE || is_eaten_first(task, &plan->tasks[first]))
        first = i;
      if (task->at_min > plan->services[s].at_min + plan->services[s].length_min + told_late_of(plan, s))
        pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" is cut at minute %d, its service is over", i,
                      plan->lots[lot].id, task->at_min);
    }
    int begin = pw_check_begin_min(plan, &plan->lots[lot]);
    bool has_begun = plan->now_min != PW_SEEN_NO_TIME && plan->services[s].at_min <= plan->now_min;
    if (plan->lots[lot].wave == 0 && !has_begun)
      before_serving(o, s, first, "something is cut before guests are served");
    else if (first != PW_SEEN_NONE && end_of(&plan->tasks[first]) > begin && plan->now_min == PW_SEEN_NO_TIME &&
             plan->tasks[first].told_late == PW_SEEN_NONE)
      pw_judge_find(o->judge, "J15", "tasks[%d]: the first of \"%s\" is cut at minute %d, its wave begins at %d", first,
                    plan->lots[lot].id, end_of(&plan->tasks[first]), begin);
  }
}

/** Pans of sides, and hot leftovers: what the rest of the plan says the service has. */
static bool has_pans(const struct pw_seen_plan *plan, int s)
{
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++)
    if (plan->demand[i].service == s && plan->demand[i].pan_portions > 0 && plan->demand[i].portions_cover > 0)
      return true;
  return false;
}

static bool has_leftovers(const struct pw_seen_plan *plan, int s)
{
  for (int i = 0; i < plan->n[PW_SEEN_RAWS]; i++)
    if (plan->raws[i].service == s && plan->raws[i].pieces > 0)
      return true;
  return false;
}

static void check_service(struct pw_order *o, int s)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_service *service = &plan->services[s];
  int n[PW_SEEN_N_KINDS] = {0}, cool = PW_SEEN_NONE, serve = PW_SEEN_NONE;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->service != s || task->kind == PW_SEEN_NONE ||
        (task->kind == PW_SEEN_COOL_CHECK && task->lot != PW_SEEN_NONE))
      continue;
    n[task->kind]++;
    if (task->kind == PW_SEEN_SERVE && (serve == PW_SEEN_NONE || task->at_min < plan->tasks[serve].at_min))
      serve = i; /* others may come to the line later, or leave it for the knives */
    if (task->kind == PW_SEEN_COOL && cool == PW_SEEN_NONE)
      cool = i;
  }
  const struct pw_seen_task *first = serve == PW_SEEN_NONE ? NULL : &plan->tasks[serve];
  if (first && (first->at_min < service->at_min ||
                first->at_min > service->at_min + told_late_of(plan, s) + pw_order_told_late(first) +
                                    (first->person == PW_SEEN_NONE ? NOBODY_LATE_MIN : 0)))
    pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" is served from minute %d on, it begins at %d", serve, service->id,
                  first->at_min, service->at_min);
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (first && plan->tasks[i].service == s && plan->tasks[i].kind == PW_SEEN_SERVE &&
        plan->tasks[i].at_min > first->at_min + service->length_min)
      pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" is served at minute %d, it is over", i, service->id,
                    plan->tasks[i].at_min);
  const struct {
    int kind;
    bool is_asked;
    const char *words;
  } asked[] = {
      {PW_SEEN_SERVE, true, "serves"},
      {PW_SEEN_CLEAR, true, "clears"},
      {PW_SEEN_PAN_UP, has_pans(plan, s), "pans up for"},
      {PW_SEEN_COOL, has_leftovers(plan, s), "cools the leftovers of"},
      {PW_SEEN_COOL_CHECK, cool != PW_SEEN_NONE || has_leftovers(plan, s), "reads whether the leftovers are cold of"}};
  for (size_t k = 0; k < sizeof asked / sizeof *asked; k++)
    if (asked[k].is_asked && n[asked[k].kind] == 0)
      pw_judge_find(o->judge, "J15", "tasks: nobody %s \"%s\"", asked[k].words, service->id);
  first_cuts(o, s);
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->service != s)
      continue;
    if (is_one_of(task, KIND(SET_UP) | KIND(PAN_UP)))
      before_serving(o, s, i, "ready before guests are served");
    else if (task->kind == PW_SEEN_COOL_CHECK && task->lot == PW_SEEN_NONE)
      pw_order_pair_add(o, cool, i, "cooled, then read");
    for (int k = 0; task->kind == PW_SEEN_SERVE && k < plan->n[PW_SEEN_TASKS]; k++)
      if (plan->tasks[k].service == s && is_one_of(&plan->tasks[k], KIND(CLEAR) | KIND(COOL)))
        pw_order_pair_add(o, i, k, "guests are served first");
  }
}

/* ---- there and back ------------------------------------------------------------------------------------------------ */

/** Somebody drives there before the first fire, the pits are set up, and what is done on site is over when the last one leaves. */
static void there_and_back(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  int there = PW_SEEN_NONE, home = PW_SEEN_NONE, light = PW_SEEN_NONE, set_up = PW_SEEN_NONE, last = INT_MIN;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++)
    if (plan->services[s].at_min > last)
      last = plan->services[s].at_min;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->kind == PW_SEEN_DRIVE && task->at_min < last &&
        (there == PW_SEEN_NONE || task->at_min < plan->tasks[there].at_min))
      there = i;
    if (task->kind == PW_SEEN_DRIVE && task->at_min >= last &&
        (home == PW_SEEN_NONE || task->at_min > plan->tasks[home].at_min))
      home = i;
    if (task->kind == PW_SEEN_LIGHT && (light == PW_SEEN_NONE || task->at_min < plan->tasks[light].at_min))
      light = i;
    if (task->kind == PW_SEEN_SET_UP && task->service == PW_SEEN_NONE &&
        (set_up == PW_SEEN_NONE || task->at_min < plan->tasks[set_up].at_min))
      set_up = i;
  }
  if (light == PW_SEEN_NONE)
    return;
  if (set_up == PW_SEEN_NONE)
    pw_judge_find(o->judge, "J15", "tasks: nobody sets up the pits");
  if (plan->travel_min > 0 && (there == PW_SEEN_NONE || home == PW_SEEN_NONE))
    pw_judge_find(o->judge, "J15", "tasks: nobody drives %s", there == PW_SEEN_NONE ? "to the site" : "home");
  int n_wood = 0;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].kind == PW_SEEN_TAKE_IN && plan->tasks[i].n_items == 0) {
      n_wood++;
      pw_order_pair_add(o, i, light, "wood and charcoal are looked over before a fire is lit");
    }
  if (n_wood == 0 && plan->n[PW_SEEN_FUELS] > 0)
    pw_judge_find(o->judge, "J15", "tasks: nobody looks the wood and charcoal over");
  pw_order_pair_add(o, there, set_up, "there before the pits are set up");
  pw_order_pair_add(o, set_up, light, "the pits are set up first");
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].at_hand == 1 && !is_one_of(&plan->tasks[i], KIND(ORDER) | KIND(TAKE_IN)))
      pw_order_pair_add(o, i, home, "done before the crew drives home");
}

void pw_order_services(struct pw_order *o)
{
  for (int s = 0; s < o->plan->n[PW_SEEN_SERVICES] && !o->has_no_memory; s++)
    check_service(o, s);
  there_and_back(o);
}
