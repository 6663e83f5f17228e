/* plan_check_places.c - places and the times a lot may spend there: zones tile their racks, temperatures and times agree [J4] [J3].
 * In: racks, zones, finishers, lots.  Out: findings.  Of one pit a hotter place never takes longer, and a place that is as hot as one that
 * takes a lot takes it too, if the piece can lie there. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <math.h>

#define NEAR_M 1e-6
#define NEAR_C 1e-6

static const struct pw_seen_rack *rack_of(const struct pw_seen_plan *plan, int zone)
{
  return &plan->racks[plan->zones[zone].rack];
}

/** Every stretch ends where the rack does, or where another begins. */
static void check_tiles(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int z = 0; z < plan->n[PW_SEEN_ZONES]; z++) {
    const struct pw_seen_zone *zone = &plan->zones[z];
    double end = zone->x_m + zone->length_m;
    bool begins = fabs(zone->x_m) < NEAR_M, ends = fabs(end - rack_of(plan, z)->length_m) < NEAR_M;
    for (int k = 0; k < plan->n[PW_SEEN_ZONES] && (!begins || !ends); k++) {
      if (plan->zones[k].rack != zone->rack || k == z)
        continue;
      begins = begins || fabs(plan->zones[k].x_m + plan->zones[k].length_m - zone->x_m) < NEAR_M;
      ends = ends || fabs(plan->zones[k].x_m - end) < NEAR_M;
    }
    if (!begins || !ends)
      pw_judge_find(judge, "J5", "zones[%d]: from %.6g to %.6g m, the zones of \"%s\" do not cover its %.6g m", z,
                    zone->x_m, end, rack_of(plan, z)->id, rack_of(plan, z)->length_m);
  }
}

/** Whether one piece can lie with its middle in the zone; a disc is not judged here. */
static bool lies(const struct pw_seen_plan *plan, const struct pw_seen_lot *lot, const double size_m[2], int z)
{
  const struct pw_seen_zone *zone = &plan->zones[z];
  const struct pw_seen_rack *rack = rack_of(plan, z);
  if (rack->shape != 0 || lot->height_m > rack->clear_height_m)
    return false;
  for (int way = 0; way < (lot->turns ? 2 : 1); way++) {
    double length = size_m[way], width = size_m[1 - way];
    double from = fmax(zone->x_m - length / 2, 0),
           to = fmin(zone->x_m + zone->length_m - length / 2, rack->length_m - length);
    if (length <= rack->length_m && width <= rack->depth_m && from <= to)
      return true;
  }
  return false;
}

static double temp_of(const struct pw_seen_plan *plan, int place)
{
  int n = plan->n[PW_SEEN_ZONES];
  return place < n ? plan->zones[place].temp_c : plan->finishers[place - n].temp_c;
}

static int minutes_in(const struct pw_seen_lot *lot, int stage, int place)
{
  for (int k = 0; k < lot->n_times; k++)
    if (lot->times[k].stage == stage && lot->times[k].place == place)
      return lot->times[k].minutes;
  return PW_SEEN_NONE;
}

/** Zones of one pit, found without a look at all the others. */
struct by_pit {
  int *first, *next; /* [pit], [zone]; PW_SEEN_NONE ends the list */
  int *minutes;      /* [zone], of the lot and stage looked at */
};

static bool by_pit_make(struct by_pit *b, const struct pw_seen_plan *plan, struct pw_arena *arena)
{
  int n_zones = plan->n[PW_SEEN_ZONES], n_pits = plan->n[PW_SEEN_PITS];
  b->first = pw_arena_array(arena, (size_t)n_pits + 1, sizeof *b->first);
  b->next = pw_arena_array(arena, (size_t)n_zones + 1, sizeof *b->next);
  b->minutes = pw_arena_array(arena, (size_t)n_zones + 1, sizeof *b->minutes);
  if (!b->first || !b->next || !b->minutes)
    return false;
  for (int p = 0; p < n_pits; p++)
    b->first[p] = PW_SEEN_NONE;
  for (int z = n_zones - 1; z >= 0; z--) {
    int pit = rack_of(plan, z)->pit;
    b->next[z] = b->first[pit];
    b->first[pit] = z;
  }
  return true;
}

static void check_times(struct pw_judge *judge, const struct pw_seen_plan *plan, struct by_pit *b, int l)
{
  const struct pw_seen_lot *lot = &plan->lots[l];
  int n_zones = plan->n[PW_SEEN_ZONES];
  for (int k = 0; k < lot->n_times; k++) {
    const struct pw_seen_time *t = &lot->times[k];
    const double *range = t->stage == PW_SEEN_SMOKE ? lot->smoke_range_c : lot->finish_range_c;
    bool is_finisher = t->place >= n_zones;
    int kind = is_finisher ? plan->finishers[t->place - n_zones].kind : 0;
    bool is_need = plan->now_min != PW_SEEN_NO_TIME; /* [J19] a day without its fire */
    if (t->stage == PW_SEEN_SMOKE    ? is_finisher && (kind != 0 || !is_need)
        : t->stage == PW_SEEN_FINISH ? is_finisher && kind != 0
                                     : !is_finisher || kind != 1)
      pw_judge_find(judge, "J4", "lots[%d].stage_times[%d]: no place for that stage", l, k);
    else if (t->stage == PW_SEEN_REST && t->minutes != lot->rest_min)
      pw_judge_find(judge, "J3", "lots[%d].stage_times[%d].minutes: a rest of %d min, rest_min says %d", l, k,
                    t->minutes, lot->rest_min);
    else if (t->stage <= PW_SEEN_FINISH &&
             (temp_of(plan, t->place) < range[0] - NEAR_C || temp_of(plan, t->place) > range[1] + NEAR_C))
      pw_judge_find(judge, "J4", "lots[%d].stage_times[%d]: a place at %.6g C, the stage is run at %.6g to %.6g", l, k,
                    temp_of(plan, t->place), range[0], range[1]);
    for (int i = 0; i < k; i++)
      if (lot->times[i].stage == t->stage && lot->times[i].place == t->place)
        pw_judge_find(judge, "J3", "lots[%d].stage_times[%d]: the place is there already", l, k);
  }
  for (int stage = PW_SEEN_SMOKE; stage <= PW_SEEN_FINISH; stage++) {
    const double *range = stage == PW_SEEN_SMOKE ? lot->smoke_range_c : lot->finish_range_c;
    bool has = false;
    for (int k = 0; k < lot->n_times; k++)
      has = has || (lot->times[k].stage == stage && lot->times[k].place < n_zones);
    for (int z = 0; has && z < n_zones; z++)
      b->minutes[z] = PW_SEEN_NONE;
    for (int k = lot->n_times - 1; has && k >= 0; k--)
      if (lot->times[k].stage == stage && lot->times[k].place < n_zones)
        b->minutes[lot->times[k].place] = lot->times[k].minutes;
    for (int z = 0; has && z < n_zones; z++) {
      int mine = b->minutes[z];
      double temp = plan->zones[z].temp_c;
      for (int o = b->first[rack_of(plan, z)->pit]; o != PW_SEEN_NONE; o = b->next[o]) {
        int other = b->minutes[o];
        if (other == PW_SEEN_NONE || temp < plan->zones[o].temp_c - NEAR_C)
          continue;
        if (mine == PW_SEEN_NONE && temp <= range[1] + NEAR_C &&
            lies(plan, lot, stage == PW_SEEN_SMOKE ? lot->footprint_m : lot->wrapped_m, z)) {
          pw_judge_find(judge, "J3", "lots[%d].stage_times: no %s in \"%s\", which is as hot as \"%s\"", l,
                        pw_seen_stages[stage], plan->zones[z].id, plan->zones[o].id);
          break;
        }
        if (mine > other)
          pw_judge_find(judge, "J3",
                        "lots[%d].stage_times: %s takes %d min in \"%s\", %d in \"%s\", which is no hotter", l,
                        pw_seen_stages[stage], mine, plan->zones[z].id, other, plan->zones[o].id);
      }
    }
  }
  for (int f = 0; f < plan->n[PW_SEEN_FINISHERS] && lot->n_times > 0; f++)
    if (plan->finishers[f].kind == 1 && minutes_in(lot, PW_SEEN_REST, n_zones + f) == PW_SEEN_NONE)
      pw_judge_find(judge, "J3", "lots[%d].stage_times: no rest in \"%s\"", l, plan->finishers[f].id);
}

pw_status pw_check_places(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->n[PW_SEEN_NEEDS] == 0)
    return PW_OK; /* an older plan tells the fixed keys only */
  struct by_pit by_pit;
  if (!by_pit_make(&by_pit, plan, judge->ctx->arena))
    return PW_ERR_MEMORY;
  check_tiles(judge, plan);
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    const struct pw_seen_lot *lot = &plan->lots[l];
    double low = fmin(lot->smoke_range_c[0], lot->finish_range_c[0]),
           high = fmax(lot->smoke_range_c[1], lot->finish_range_c[1]);
    bool has_finish = lot->has_finish_range;
    low = has_finish ? low : lot->smoke_range_c[0];
    high = has_finish ? high : lot->smoke_range_c[1];
    if (pw_check_differs(lot->range_c[0], low) || pw_check_differs(lot->range_c[1], high))
      pw_judge_find(judge, "J4", "lots[%d].temp_range_c: %.6g to %.6g C, its stages are run at %.6g to %.6g", l,
                    lot->range_c[0], lot->range_c[1], low, high);
    for (int k = 0; k < 2; k++)
      if (lot->wrapped_m[k] > lot->footprint_m[k] + NEAR_M && lot->wrapped_m[k] > lot->footprint_m[1 - k] + NEAR_M)
        pw_judge_find(judge, "J5", "lots[%d].wrapped_footprint_m: %.6g m is more than it took up before", l,
                      lot->wrapped_m[k]);
    check_times(judge, plan, &by_pit, l);
  }
  return PW_OK;
}
