/* task_heat.c - ovens and boxes made hot before food goes in [S1].
 * In: loads in finishers, reheats, pans of hot sides.  Out: a draft for each stretch in which one is used: it stood empty before for
 * longer than it is left on. */
#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/crew/task_list.h"
#include "plan/lots/side_pans.h"

#include <limits.h>
#include <stdlib.h>

/* Minutes of hands: common practice, no source. */
enum { SWITCH_WORK_MIN = 2, WATER_WORK_MIN = 5 };

enum { HANDS = 1u << PW_DUTY_FIRE | 1u << PW_DUTY_PREP | 1u << PW_DUTY_CARVE | 1u << PW_DUTY_CLEAN };

static int max_int(int a, int b) { return a > b ? a : b; }
static int min_int(int a, int b) { return a < b ? a : b; }

/** Food in an oven or a box; by_min: when the first of it goes in at the latest. */
struct use {
  int from_min, to_min, by_min;
};

struct uses {
  struct use *all;
  size_t n, cap;
};

static void add(struct pw_task_list *list, struct uses *uses, struct use use)
{
  if (list->failed || use.to_min <= use.from_min)
    return;
  if (pw_arena_grow(list->ctx->arena, &uses->all, &uses->cap, uses->n, sizeof use) != 0)
    list->failed = true;
  else
    uses->all[uses->n++] = use;
}

static int by_begin(const void *a, const void *b)
{
  const struct use *x = a, *y = b;
  const int keys[][2] = {{x->from_min, y->from_min}, {x->to_min, y->to_min}, {x->by_min, y->by_min}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

/* Every use of a finisher, by its begin. */
static struct uses uses_of(struct pw_task_list *list, int f)
{
  const struct pw_allocation *al = &list->plan->allocation;
  const struct pw_lots *lots = &list->plan->lots;
  struct uses uses = {0};
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    int from = l->is_carried ? l->carried_at_min : l->start_at_min;
    if (l->is_carried && l->from_zone == PW_NONE && l->from_finisher == f)
      add(list, &uses, (struct use){l->start_at_min, l->carried_at_min, l->start_at_min});
    if (l->zone == PW_NONE && l->finisher == f)
      add(list, &uses, (struct use){from, l->end_at_min, from});
  }
  for (int i = 0; i < lots->n_reheats; i++) {
    const struct pw_reheat *r = &lots->reheats[i];
    if (r->finisher == f && al->missed[r->lot] < lots->lots[r->lot].pieces)
      add(list, &uses, (struct use){r->from_at_min, r->out_at_min, r->from_at_min});
  }
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *s = &lots->side_pans[i];
    int done = list->ev->services[s->service].at_min - PW_SIDE_DONE_MIN;
    if (s->finisher == f)
      add(list, &uses, (struct use){s->from_at_min, s->to_at_min, max_int(s->from_at_min, done)});
  }
  if (uses.n > 1)
    qsort(uses.all, uses.n, sizeof *uses.all, by_begin);
  return uses;
}

/* Of a mended plan: when it was heated for this, before now; INT_MIN: not. */
static int heated_at(const struct pw_task_list *list, int place, int after_min, int by_min)
{
  const struct pw_day_now *day = list->plan->day;
  int at = INT_MIN;
  for (int i = 0; day && i < day->n_before; i++) {
    const struct pw_task *t = &day->before[i];
    if (t->kind == PW_TASK_HEAT_UP && t->place == place && t->person != PW_NONE && t->at_min < day->now_min &&
        t->at_min >= after_min && t->at_min <= by_min)
      at = max_int(at, t->at_min);
  }
  return at;
}

/* What it is told as.  A box without a heater takes its warmth from hot water, as it stands in the catalog.  by_min: INT_MIN where it is
 * heated whenever somebody has time, long before it must be hot: food may go in as soon as it is. */
static void say(struct pw_task_list *list, struct pw_draft *d, const struct pw_finisher *f, int by_min)
{
  const char *temp = pw_task_temp(list, f->temp_c),
             *takes = pw_task_words(list, "%s", pw_format_minutes(f->heat_up_min).s);
  const char *by = by_min == INT_MIN ? pw_task_words(list, "%s later", takes)
                                     : pw_task_words(list, "by %s", pw_when_clock(list->ev, by_min).s);
  d->where = f->name;
  if (f->loss_frac_h > 0) {
    d->verb = pw_task_words(list, "Fill %s with hot water, lid shut", f->name);
    d->target = pw_task_words(list, "for %s; emptied and dry %s, then food at once", takes, by);
    return;
  }
  d->verb = pw_task_words(list, "Heat %s to %s", f->name, temp);
  d->target = f->kind == PW_OVEN
                  ? pw_task_words(list, "hot %s; no food in before it reads that", by)
                  : pw_task_words(list, "hot %s; no food in before it reads %s", by,
                                  pw_task_temp(list, PW_FOOD_CODE_HOT_C)); /* FDA Food Code 2022 3-501.16(A)(1) */
}

/* One stretch of use: uses[a] to uses[b - 1]; before_min: the end of the one before, INT_MIN. */
static void heat(struct pw_task_list *list, int f, const struct uses *uses, size_t a, size_t b, int before_min)
{
  const struct pw_finisher *fin = &list->ev->finishers[f];
  const struct pw_day_now *day = list->plan->day;
  int from = uses->all[a].from_min, to = from, by = INT_MAX;
  for (size_t i = a; i < b; i++) {
    to = max_int(to, uses->all[i].to_min);
    by = min_int(by, uses->all[i].by_min);
  }
  bool is_side_first = uses->all[a].by_min > uses->all[a].from_min && by > from;
  struct pw_draft d = pw_task_blank(PW_TASK_HEAT_UP, PW_DUTY_PIT, PW_RANK_PREP, PW_AT_SITE);
  d.also = HANDS;
  d.place = list->ev->n_pits + f;
  d.work_min = fin->loss_frac_h > 0 ? WATER_WORK_MIN : SWITCH_WORK_MIN;
  d.hot_from_min = from;
  d.hot_to_min = to;
  d.end_by_min = by;
  d.last_at_min = by - fin->heat_up_min;
  d.first_at_min = max_int(from - fin->heat_up_min - (is_side_first ? 0 : fin->off_after_min), before_min);
  d.first_at_min = min_int(d.first_at_min, d.last_at_min);
  d.is_late = !is_side_first;
  say(list, &d, fin, is_side_first ? INT_MIN : by);
  if (is_side_first)
    pw_task_prep_place(list, &d, true);
  int done = heated_at(list, d.place, before_min, by);
  if (done != INT_MIN) /* on a mended day it is hot already */
    d.first_at_min = d.last_at_min = done;
  else if (day && by >= day->now_min &&
           by - (int)d.work_min < day->now_min) { /* what is carried now waits for nothing */
    d.first_at_min = d.last_at_min = day->now_min;
    d.end_by_min = INT_MAX;
    d.hot_to_min = d.hot_from_min;
    d.target = "at once; the food goes in while it warms";
  }
  pw_task_draft(list, d);
}

void pw_task_heat(struct pw_task_list *list)
{
  for (int f = 0; f < list->ev->n_finishers && !list->failed; f++) {
    const struct pw_finisher *fin = &list->ev->finishers[f];
    struct uses uses = uses_of(list, f);
    int before = INT_MIN;
    for (size_t a = 0, b; a < uses.n && fin->heat_up_min > 0 && !list->failed; a = b) {
      int to = uses.all[a].to_min;
      for (b = a + 1; b < uses.n && uses.all[b].from_min - to <= fin->off_after_min; b++)
        to = max_int(to, uses.all[b].to_min);
      heat(list, f, &uses, a, b, before);
      before = to;
    }
  }
}

/* Whether a finisher has held its last food for a while by the end of a meal, and had not by the end of the one before. */
static bool is_over_by(const struct pw_finisher *fin, const struct uses *uses, int before_min, int end_min)
{
  int last = INT_MIN, next = INT_MAX;
  for (size_t i = 0; i < uses->n; i++) {
    if (uses->all[i].from_min < end_min)
      last = max_int(last, uses->all[i].to_min);
    else
      next = min_int(next, uses->all[i].from_min);
  }
  return last > before_min && last <= end_min && (next == INT_MAX || next - end_min > fin->off_after_min);
}

const char *pw_task_off_words(struct pw_task_list *list, int before_min, int end_min)
{
  const char *words = "";
  for (int f = 0; f < list->ev->n_finishers && !list->failed; f++) {
    const struct pw_finisher *fin = &list->ev->finishers[f];
    struct uses uses = uses_of(list, f);
    if (fin->heat_up_min > 0 && fin->loss_frac_h <= 0 && is_over_by(fin, &uses, before_min, end_min))
      words = pw_task_words(list, "%s%s%s", words, *words ? ", " : "", fin->name);
  }
  return words;
}
