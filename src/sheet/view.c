/* view.c - marks, words and timeline lanes that workbook and printed sheets share.
 * Input: a complete plan.  Output: struct pw_view.  Idea: lanes are filled greedily by start. */
#include "sheet/view.h"

#include "base/arena.h"
#include "base/when.h"
#include "day/names.h"
#include "sheet/view_facts.h"
#include "sheet/view_lists.h"
#include "sheet/view_maps.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- texts ------------------------------------------------------------------------------------- */

const char *pw_view_printf(struct pw_view *view, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(view->arena, format, args);
  va_end(args);
  if (!text) {
    view->failed = true;
    return "";
  }
  return text;
}

struct pw_local_time pw_view_local(const struct pw_event *ev, int at_min)
{
  if (ev->clock)
    return pw_clock_local(ev->clock, at_min);
  int days = at_min >= 0 ? at_min / 1440 : -((-at_min + 1439) / 1440), of_day = at_min - days * 1440;
  struct pw_local_time t = {.date = pw_date_from_days(pw_date_to_days(ev->date) + days),
                            .hour = of_day / 60,
                            .minute = of_day % 60,
                            .utc_offset_min = ev->utc_offset_min,
                            .zone_abbr = ""};
  t.weekday = pw_date_weekday(t.date);
  return t;
}

const char *pw_view_clock(struct pw_view *view, int at_min)
{
  return pw_view_printf(view, "%s", pw_when_clock(view->ev, at_min).s);
}
const char *pw_view_when(struct pw_view *view, int at_min)
{
  return pw_view_printf(view, "%s", pw_when(view->ev, at_min).s);
}
const char *pw_view_day(struct pw_view *view, int at_min)
{
  return pw_view_printf(view, "%s", pw_when_day_short(view->ev, at_min).s);
}
const char *pw_view_date(struct pw_view *view, struct pw_date date)
{
  return pw_view_printf(view, "%s", pw_when_date(date).s);
}

const char *pw_view_span(struct pw_view *view, int from_at_min, int to_at_min)
{
  const char *a = pw_view_day(view, from_at_min), *b = pw_view_day(view, to_at_min);
  if (strcmp(a, b) == 0)
    return pw_view_printf(view, "%s to %s", pw_view_when(view, from_at_min), pw_view_clock(view, to_at_min));
  return pw_view_printf(view, "%s to %s", pw_view_when(view, from_at_min), pw_view_when(view, to_at_min));
}

/** Words for the zone's place along the rack. */
static const char *zone_words(struct pw_view *view, int nth, int n)
{
  if (n <= 1)
    return "";
  if (nth == 0)
    return "hot end";
  if (nth == n - 1)
    return "cool end";
  return n == 3 ? "middle" : pw_view_printf(view, "zone %d of %d", nth + 1, n);
}

const char *pw_view_zone(struct pw_view *view, int zone)
{
  const struct pw_zone *z = &view->plan->lots.zones[zone];
  const struct pw_pit *pit = &view->ev->pits[z->pit];
  int nth = 0;
  for (int i = 0; i < zone; i++)
    nth += view->plan->lots.zones[i].pit == z->pit && view->plan->lots.zones[i].rack == z->rack;
  const char *along = zone_words(view, nth, pit->racks[z->rack].n_zones);
  if (pit->n_racks == 1)
    return along[0] ? along : "rack";
  return pw_view_printf(view, "%s rack%s%s", pit->racks[z->rack].id, along[0] ? ", " : "", along);
}

const char *pw_view_place(struct pw_view *view, const struct pw_load *load)
{
  if (load->zone == PW_NONE)
    return load->finisher == PW_NONE ? "" : view->ev->finishers[load->finisher].name;
  const struct pw_zone *z = &view->plan->lots.zones[load->zone];
  const struct pw_pit *pit = &view->ev->pits[z->pit];
  const char *inside = pw_view_zone(view, load->zone);
  return strcmp(inside, "rack") == 0 ? pit->name : pw_view_printf(view, "%s, %s", pit->name, inside);
}

const char *pw_view_role(struct pw_view *view, const struct pw_task *task)
{
  return task->crew == PW_NONE ? "nobody on shift" : view->ev->crew[task->crew].role;
}

const char *pw_view_person_head(struct pw_view *view, int person)
{
  const struct pw_person *p = &view->plan->tasks.people[person];
  const char *role = view->ev->crew[p->crew].role;
  size_t n = strlen(role);
  bool is_made = n > 0 && strncmp(p->name, role, n) == 0 && (!p->name[n] || p->name[n] == ' ');
  return is_made ? pw_view_capital(view, p->name) : p->name;
}

const char *pw_view_capital(struct pw_view *view, const char *words)
{
  return *words >= 'a' && *words <= 'z' ? pw_view_printf(view, "%c%s", *words - 'a' + 'A', words + 1) : words;
}

const char *pw_view_who(struct pw_view *view, const struct pw_task *task)
{
  const struct pw_tasks *tasks = &view->plan->tasks;
  return task->person != PW_NONE && task->person < tasks->n_people ? tasks->people[task->person].name
                                                                   : pw_view_role(view, task);
}

const char *pw_view_service(const struct pw_view *view, int service)
{
  const struct pw_service *s = &view->ev->services[service];
  return s->name && s->name[0] ? s->name : s->id;
}

const char *pw_view_stage_word(enum pw_load_stage stage)
{
  static const char *const words[] = {"smoke", "finish", "rest", "hold"};
  return words[stage];
}

const char *pw_view_bar_word(enum pw_view_bar_kind kind)
{
  static const char *const words[PW_BAR__COUNT] = {"fire", "smoke", "finish", "rest",
                                                   "hold", "hold",  "chill",  "reheat"};
  return words[kind];
}

const char *pw_view_category_word(enum pw_category category)
{
  static const char *const words[PW_CAT__COUNT] = {"Meat",   "Sides",       "Bread",    "Sauce", "Seasoning",
                                                   "Drinks", "Disposables", "Supplies", "Fuel"};
  return words[category];
}

const char *pw_view_outcome_word(enum pw_outcome outcome)
{
  static const char *const words[] = {"proved best", "fits, best found", "short of room", "stopped at its limit"};
  return words[outcome];
}

int pw_view_lies_from(const struct pw_load *load)
{
  return load->is_carried ? load->carried_at_min : load->start_at_min;
}

double pw_view_end_temp_c(const struct pw_view *view, int pit, int rack, int setting, bool is_far)
{
  const struct pw_pit *p = &view->ev->pits[pit];
  if (setting < 0 || setting >= p->n_settings)
    return NAN;
  return (is_far ? p->settings[setting].cool_c : p->settings[setting].hot_c) + p->racks[rack].offset_c;
}

double pw_view_zone_temp_c(const struct pw_view *view, int zone, int setting)
{
  const struct pw_zone *z = &view->plan->lots.zones[zone];
  if (setting < 0 || setting >= view->ev->pits[z->pit].n_settings || !z->temp_c)
    return NAN;
  return z->temp_c[setting];
}

int pw_view_setting_at(const struct pw_view *view, int pit, int at_min)
{
  for (int i = 0; i < view->plan->allocation.n_burns; i++) {
    const struct pw_burn *b = &view->plan->allocation.burns[i];
    if (b->pit == pit && at_min >= b->lit_at_min && at_min < b->out_at_min)
      return b->setting;
  }
  return PW_NONE;
}

/* ---- lanes --------------------------------------------------------------------------------------- */

struct lane_list {
  struct pw_view_lane *lanes;
  size_t n, cap;
  struct pw_view_bar *bars; /* of the place at hand */
  int n_bars, most;
};

static struct pw_view_lane *lane_add(struct pw_view *view, struct lane_list *list, const struct pw_view_lane *like)
{
  if (pw_arena_grow(view->arena, &list->lanes, &list->cap, list->n, sizeof *list->lanes) < 0)
    return NULL;
  struct pw_view_lane *lane = &list->lanes[list->n++];
  *lane = *like;
  lane->n_bars = 0;
  lane->bars = pw_arena_array(view->arena, (size_t)list->n_bars + 1, sizeof *lane->bars);
  return lane->bars ? lane : NULL;
}

static void bar_add(struct lane_list *list, struct pw_view_bar bar)
{
  if (bar.from_at_min < bar.to_at_min && list->n_bars < list->most)
    list->bars[list->n_bars++] = bar;
}

static int bar_compare(const void *pa, const void *pb)
{
  const struct pw_view_bar *a = pa, *b = pb;
  if (a->from_at_min != b->from_at_min)
    return a->from_at_min < b->from_at_min ? -1 : 1;
  if (a->kind != b->kind)
    return a->kind < b->kind ? -1 : 1;
  return (a->index > b->index) - (a->index < b->index);
}

static const char *cut_name(const struct pw_view *view, int lot)
{
  return view->ev->cuts[view->plan->lots.lots[lot].cut].name;
}

static bool is_place(const struct pw_view_lane *like, int zone, int finisher)
{
  return like->kind == PW_LANE_ZONE ? zone == like->zone : zone == PW_NONE && finisher == like->finisher;
}

/** Gathers what is in a place over time: meat, what is warmed again, pans of hot sides; in ice water what was cooked the day
 *  before. */
static void bars_of_place(struct pw_view *view, struct lane_list *list, const struct pw_view_lane *like)
{
  static const enum pw_view_bar_kind kinds[] = {PW_BAR_SMOKE, PW_BAR_FINISH, PW_BAR_REST, PW_BAR_HOLD};
  const struct pw_plan *plan = view->plan;
  list->n_bars = 0;
  for (int i = 0; i < plan->allocation.n_loads && like->kind != PW_LANE_COLD; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    bool is_here = is_place(like, l->zone, l->finisher);
    if (!is_here && !(l->is_carried && is_place(like, l->from_zone, l->from_finisher)))
      continue;
    bar_add(list, (struct pw_view_bar){kinds[l->stage], is_here ? pw_view_lies_from(l) : l->start_at_min,
                                       is_here ? l->end_at_min : l->carried_at_min, is_here ? i : PW_NONE,
                                       view->lot_mark[l->lot], cut_name(view, l->lot), l->pieces});
  }
  for (int i = 0; i < plan->day_before.n_chills && like->kind == PW_LANE_COLD; i++) {
    const struct pw_chill *c = &plan->day_before.chills[i];
    bar_add(list, (struct pw_view_bar){PW_BAR_CHILL, c->from_at_min, c->cold_by_at_min, PW_NONE, view->lot_mark[c->lot],
                                       cut_name(view, c->lot), c->pieces});
  }
  if (like->finisher == PW_NONE)
    return;
  for (int i = 0; i < plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &plan->lots.reheats[i];
    if (r->finisher != like->finisher)
      continue;
    struct pw_view_bar bar = {PW_BAR_REHEAT,          r->from_at_min,         r->ready_at_min, PW_NONE,
                              view->lot_mark[r->lot], cut_name(view, r->lot), r->pieces};
    bar_add(list, bar);
    bar.kind = PW_BAR_HOLD, bar.from_at_min = r->ready_at_min, bar.to_at_min = r->out_at_min;
    bar_add(list, bar);
  }
  for (int i = 0; i < plan->lots.n_side_pans; i++) {
    const struct pw_side_pans *p = &plan->lots.side_pans[i];
    if (p->finisher == like->finisher)
      bar_add(list, (struct pw_view_bar){PW_BAR_SIDE, p->from_at_min, p->to_at_min, PW_NONE, NULL,
                                         view->ev->dishes[p->dish].name, p->pans});
  }
}

/** Puts what is in one place into as few lanes as need be. */
static int lanes_of_place(struct pw_view *view, struct lane_list *list, struct pw_view_lane like)
{
  size_t first = list->n;
  bars_of_place(view, list, &like);
  if (list->n_bars > 1)
    qsort(list->bars, (size_t)list->n_bars, sizeof *list->bars, bar_compare);
  like.is_first = true;
  if (!lane_add(view, list, &like))
    return -1;
  like.is_first = false;
  for (int i = 0; i < list->n_bars; i++) {
    const struct pw_view_bar *bar = &list->bars[i];
    struct pw_view_lane *free_lane = NULL;
    for (size_t k = first; k < list->n && !free_lane; k++) {
      struct pw_view_lane *lane = &list->lanes[k];
      if (lane->n_bars == 0 || lane->bars[lane->n_bars - 1].to_at_min <= bar->from_at_min)
        free_lane = lane;
    }
    if (!free_lane && !(free_lane = lane_add(view, list, &like)))
      return -1;
    free_lane->bars[free_lane->n_bars++] = *bar;
  }
  return 0;
}

static const char *zone_temps(struct pw_view *view, int zone)
{
  const struct pw_zone *z = &view->plan->lots.zones[zone];
  double low = INFINITY, high = -INFINITY;
  for (int i = 0; i < view->plan->allocation.n_burns; i++) {
    const struct pw_burn *b = &view->plan->allocation.burns[i];
    if (b->pit != z->pit)
      continue;
    double t = pw_view_zone_temp_c(view, zone, b->setting);
    low = fmin(low, t);
    high = fmax(high, t);
  }
  if (!isfinite(low))
    return "not lit";
  if (high - low < 0.5)
    return pw_view_printf(view, "%s", pw_format_temp(view->ev->units, low).s);
  return pw_view_printf(view, "%.0f-%s", pw_in_temp(view->ev->units, low), pw_format_temp(view->ev->units, high).s);
}

static int lanes_make(struct pw_view *view)
{
  const struct pw_event *ev = view->ev;
  const struct pw_plan *plan = view->plan;
  struct lane_list list = {.most = 2 * plan->allocation.n_loads + plan->allocation.n_burns + plan->day_before.n_chills +
                                   2 * plan->lots.n_reheats + plan->lots.n_side_pans};
  list.bars = pw_arena_array(view->arena, (size_t)list.most + 1, sizeof *list.bars);
  if (!list.bars)
    return -1;
  for (int p = 0; p < ev->n_pits; p++) {
    struct pw_view_lane fire = {PW_LANE_FIRE, p, PW_NONE, PW_NONE, true, "fire", ev->pits[p].name, NULL, 0};
    list.n_bars = 0;
    for (int i = 0; i < plan->allocation.n_burns; i++) {
      const struct pw_burn *u = &plan->allocation.burns[i];
      if (u->pit == p)
        bar_add(&list, (struct pw_view_bar){PW_BAR_FIRE, u->lit_at_min, u->out_at_min, i, NULL, NULL, 0});
    }
    struct pw_view_lane *lane = lane_add(view, &list, &fire);
    if (!lane)
      return -1;
    for (int i = 0; i < list.n_bars; i++)
      lane->bars[lane->n_bars++] = list.bars[i];
    for (int z = 0; z < plan->lots.n_zones; z++) {
      if (plan->lots.zones[z].pit != p)
        continue;
      struct pw_view_lane like = {PW_LANE_ZONE,        p,    z, PW_NONE, true, pw_view_zone(view, z),
                                  zone_temps(view, z), NULL, 0};
      if (lanes_of_place(view, &list, like) < 0)
        return -1;
    }
  }
  for (int f = 0; f < ev->n_finishers; f++) {
    const struct pw_finisher *fin = &ev->finishers[f];
    struct pw_view_lane like = {fin->kind == PW_OVEN ? PW_LANE_OVEN : PW_LANE_HOLD,
                                PW_NONE,
                                PW_NONE,
                                f,
                                true,
                                fin->name,
                                pw_view_printf(view, "%s", pw_format_temp(ev->units, fin->temp_c).s),
                                NULL,
                                0};
    if (lanes_of_place(view, &list, like) < 0)
      return -1;
  }
  struct pw_view_lane cold = {PW_LANE_COLD, PW_NONE, PW_NONE, PW_NONE, true, "Ice water, then the cold store",
                              "",           NULL,    0};
  if (plan->day_before.n_chills > 0 && lanes_of_place(view, &list, cold) < 0)
    return -1;
  view->lanes = list.lanes;
  view->n_lanes = (int)list.n;
  return 0;
}

/* ---- the whole --------------------------------------------------------------------------------------- */

static int floor_hour(int at_min) { return (at_min >= 0 ? at_min / 60 : -((-at_min + 59) / 60)) * 60; }

static void span_make(struct pw_view *view)
{
  const struct pw_allocation *al = &view->plan->allocation;
  int first = INT32_MAX, last = INT32_MIN;
  for (int i = 0; i < al->n_burns; i++) {
    first = al->burns[i].lit_at_min < first ? al->burns[i].lit_at_min : first;
    last = al->burns[i].out_at_min > last ? al->burns[i].out_at_min : last;
  }
  for (int i = 0; i < al->n_loads; i++) {
    first = al->loads[i].start_at_min < first ? al->loads[i].start_at_min : first;
    last = al->loads[i].end_at_min > last ? al->loads[i].end_at_min : last;
  }
  for (int i = 0; i < view->plan->day_before.n_chills; i++) {
    const struct pw_chill *c = &view->plan->day_before.chills[i];
    last = c->cold_by_at_min > last ? c->cold_by_at_min : last;
  }
  for (int i = 0; i < view->ev->n_services; i++) {
    const struct pw_service *s = &view->ev->services[i];
    first = s->at_min < first ? s->at_min : first;
    last = s->at_min + s->length_min > last ? s->at_min + s->length_min : last;
  }
  if (first > last)
    first = last = 0;
  view->first_at_min = floor_hour(first);
  view->last_at_min = -floor_hour(-last);
}

pw_status pw_view_make(struct pw_view *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_view view = {.plan = plan, .ev = plan->event, .arena = ctx->arena};
  memset(out, 0, sizeof *out);
  view.lot_mark = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots, sizeof *view.lot_mark);
  if (!view.lot_mark)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->lots.n_lots; i++)
    view.failed = !(view.lot_mark[i] = pw_lot_letter(i, view.arena)) || view.failed;
  span_make(&view);
  if (lanes_make(&view) < 0 || pw_view_maps_make(&view) < 0 || pw_view_facts_make(&view) < 0 ||
      pw_view_lists_make(&view) < 0 || view.failed)
    return PW_ERR_MEMORY;
  *out = view;
  return PW_OK;
}
