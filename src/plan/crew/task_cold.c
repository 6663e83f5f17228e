/* task_cold.c - work with what is cooked the day before [S1] [C1]: into ice water, read at two and six hours, cold store, sliced
 * cold into pans, into the oven, every pan read.
 * In: lots.reheats, day_before.chills.  Out: drafts.  Limits: FDA Food Code 2022 3-501.14(A), 3-403.11. */
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/crew/task_list.h"

#include <limits.h>
#include <math.h>

/* Minutes of hands: common practice, no source. */
enum {
  BATH_WORK_MIN = 10,
  READ_WORK_MIN = 5,
  OVEN_WORK_MIN = 5,
  PAN_WORK_MIN = 1,
  SHARE_MIN = 30,
  PAN_BEFORE_MIN = 120,
  SLIP_MIN = 15,
  READ_BEFORE_MIN = 30,
  FIRST_TO_SECOND_MIN = 60,
  READY_BEFORE_MIN = 20
};

enum {
  HANDS = 1u << PW_DUTY_PIT | 1u << PW_DUTY_PREP | 1u << PW_DUTY_CARVE | 1u << PW_DUTY_CLEAN,
  ANYBODY = (1u << PW_DUTY__COUNT) - 1
};

static struct pw_draft draft(struct pw_task_list *list, enum pw_task_kind kind, enum pw_chain chain, enum pw_rank rank,
                             int lot, const int *ids, int n, int first, int last, double work_min)
{
  struct pw_draft d = pw_task_blank(kind, PW_DUTY_PREP, rank, PW_AT_SITE);
  d.also = HANDS;
  d.first_at_min = first;
  d.last_at_min = last;
  d.work_min = work_min;
  d.block_min = SHARE_MIN;
  d.lot = lot;
  d.chain = chain;
  d.ids = ids;
  d.n_ids = n;
  d.service = list->plan->lots.lots[lot].service;
  return d;
}

/* Pieces of a lot that are rested at a minute (INT_MIN: all that were cooked): ids in order, from `skip` on, at most `most`. */
static int *ids_off(struct pw_task_list *list, int lot, int rested_at_min, int skip, int most, int *n)
{
  const struct pw_allocation *al = &list->plan->allocation;
  int *ids = pw_task_ints(list, NULL, most);
  *n = 0;
  for (int i = 0; ids && i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    bool is_last =
        l->lot == lot && l->stage == (list->plan->lots.lots[lot].has_finish ? PW_LOAD_FINISH : PW_LOAD_SMOKE);
    if (!is_last || (rested_at_min != INT_MIN && l->end_at_min + list->plan->lots.lots[lot].rest_min != rested_at_min))
      continue;
    for (int k = 0; k < l->pieces; k++)
      if (skip > 0)
        skip--;
      else if (*n < most)
        ids[(*n)++] = l->piece_ids[k];
  }
  return ids;
}

static void read_draft(struct pw_task_list *list, enum pw_task_kind kind, enum pw_chain chain, int lot, const int *ids,
                       int n, int first, int by, const char *verb, const char *where, const char *target)
{
  struct pw_draft d = draft(list, kind, chain, PW_RANK_PIT, lot, ids, n, first, by - READ_WORK_MIN, READ_WORK_MIN);
  d.also = ANYBODY;
  d.end_by_min = by;
  d.is_late = true;
  d.verb = verb;
  d.where = where;
  d.target = target;
  pw_task_draft(list, d);
}

static void chill(struct pw_task_list *list, const struct pw_chill *c)
{
  const struct pw_event *ev = list->ev;
  const struct pw_cut *cut = &ev->cuts[list->plan->lots.lots[c->lot].cut];
  const char *noun = pw_task_noun(list, c->lot),
             *thick = pw_task_words(list, "%s", pw_format_length(ev->units, c->thick_m).s);
  const char *cold = pw_task_temp(list, PW_FOOD_CODE_COLD_C), *cool = pw_task_temp(list, PW_FOOD_CODE_COOL_C);
  int n = 0, *ids = ids_off(list, c->lot, c->from_at_min, 0, c->pieces, &n);
  struct pw_draft d = draft(list, PW_TASK_CHILL, PW_CHAIN_CHILL, PW_RANK_PIT, c->lot, ids, n, c->from_at_min,
                            c->from_at_min, BATH_WORK_MIN + c->pieces * cut->chill_min);
  d.slip_min = SLIP_MIN;
  d.pieces = n;
  d.verb = "Chill";
  d.noun = noun;
  d.where = "ice water";
  d.target = pw_task_words(
      list,
      "bagged, nothing thicker than %s, %s of ice in as much water for these; more ice as it melts; %s by %s, %s by %s",
      thick, pw_format_weight(ev->units, c->ice_kg).s, cool, pw_when(ev, c->cool_by_at_min).s, cold,
      pw_when(ev, c->cold_by_at_min).s);
  pw_task_draft(list, d);
  read_draft(list, PW_TASK_COOL_CHECK, PW_CHAIN_COOL_CHECK, c->lot, ids, n, c->cool_by_at_min - READ_BEFORE_MIN,
             c->cool_by_at_min, pw_task_words(list, "Core of the chilling %s", noun), "ice water",
             pw_task_words(list, "%s or less by %s; above it, reheat to %s at once or throw it away", cool,
                           pw_when_clock(ev, c->cool_by_at_min).s, pw_task_temp(list, PW_FOOD_CODE_REHEAT_C)));
  read_draft(
      list, PW_TASK_COOL_CHECK, PW_CHAIN_COOL_CHECK, c->lot, ids, n, c->cool_by_at_min + FIRST_TO_SECOND_MIN,
      c->cold_by_at_min, pw_task_words(list, "Core of the chilled %s, dated, into the cold store", noun), "cold store",
      pw_task_words(list, "%s or less by %s; if not, throw it away", cold, pw_when_clock(ev, c->cold_by_at_min).s));
}

static void reheat(struct pw_task_list *list, const struct pw_reheat *r, int skip)
{
  const struct pw_event *ev = list->ev;
  const struct pw_lot *lot = &list->plan->lots.lots[r->lot];
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  const char *noun = pw_task_noun(list, r->lot), *oven = ev->finishers[r->finisher].name;
  int n = 0, *ids = ids_off(list, r->lot, INT_MIN, skip, r->pieces, &n);
  struct pw_draft s =
      draft(list, PW_TASK_CUT, PW_CHAIN_CUT, PW_RANK_TABLE, r->lot, ids, n, r->from_at_min - PAN_BEFORE_MIN,
            r->from_at_min, r->pieces * fmax(cut->carve_min, PAN_WORK_MIN));
  s.duty = PW_DUTY_CARVE;
  s.end_by_min = r->from_at_min;
  s.is_late = true;
  s.pieces = n;
  s.is_before_service = true;
  s.verb = "Cut up cold and pan:";
  s.noun = noun;
  s.where = "carving table";
  s.target = pw_task_words(list, "covered, no deeper than %s; %s or less until it goes in",
                           pw_format_length(ev->units, r->depth_m).s, pw_task_temp(list, PW_FOOD_CODE_COLD_C));
  pw_task_draft(list, s);
  struct pw_draft d = draft(list, PW_TASK_REHEAT, PW_CHAIN_REHEAT, PW_RANK_PIT, r->lot, ids, n, r->from_at_min,
                            r->from_at_min, OVEN_WORK_MIN + r->pieces * PAN_WORK_MIN);
  d.slip_min = SLIP_MIN;
  d.pieces = n;
  d.to_place = ev->n_pits + r->finisher;
  d.is_before_service = true;
  d.verb = "Reheat";
  d.noun = noun;
  d.where = oven;
  d.target = pw_task_words(
      list, "oven hot at %s; %s for 15 s in the middle of every pan by %s (2 h at most, FDA Food Code 2022 3-403.11)",
      pw_task_temp(list, ev->finishers[r->finisher].temp_c), pw_task_temp(list, r->core_c),
      pw_when_clock(ev, r->ready_at_min).s);
  pw_task_draft(list, d);
  read_draft(list, PW_TASK_PROBE, PW_CHAIN_READ_AGAIN, r->lot, ids, n, r->ready_at_min - READY_BEFORE_MIN,
             r->ready_at_min, pw_task_words(list, "Middle of every pan of %s", noun), oven,
             pw_task_words(list, "%s for 15 s, then %s or more until it is served", pw_task_temp(list, r->core_c),
                           pw_task_temp(list, PW_FOOD_CODE_HOT_C)));
}

void pw_task_cold(struct pw_task_list *list)
{
  for (int i = 0; i < list->plan->day_before.n_chills; i++)
    chill(list, &list->plan->day_before.chills[i]);
  int skip = 0; /* pieces of the lot that earlier lines reheat: reheats are by lot */
  for (int i = 0; i < list->plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &list->plan->lots.reheats[i];
    skip = i > 0 && r[-1].lot == r->lot ? skip + r[-1].pieces : 0;
    if (list->plan->allocation.missed[r->lot] < list->plan->lots.lots[r->lot].pieces)
      reheat(list, r, skip);
  }
}
