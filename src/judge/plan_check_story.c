/* plan_check_story.c - what the plan tells of itself: what each fire is for, hours in ovens [J11] [J10].
 * In: burns, loads, explained, ovens.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <inttypes.h>
#include <math.h>

#define MONEY      "%" PRId64
#define HOUR_SLACK 1e-6

enum { HOUR_MIN = 60, LOADS_MOST = 20000 /* keeps the judge's work bounded */ };

static bool is_in_burn(const struct pw_seen_plan *plan, const struct pw_seen_load *load,
                       const struct pw_seen_burn *burn)
{
  const struct pw_seen_zone *zone = pw_check_zone(plan, load);
  return zone && plan->racks[zone->rack].pit == burn->pit && burn->lit_min <= load->start_min &&
         load->start_min < burn->out_min;
}

/** What a lot does in a burn. */
struct use {
  long smoked, finished;
  int from_min, to_min;
};

static struct use use_of(const struct pw_seen_plan *plan, const struct pw_seen_burn *burn, int lot)
{
  struct use use = {0, 0, INT32_MAX, INT32_MIN};
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (load->lot != lot || !is_in_burn(plan, load, burn))
      continue;
    use.smoked += load->stage == PW_SEEN_SMOKE ? load->pieces : 0;
    use.finished += load->stage == PW_SEEN_FINISH ? load->pieces : 0;
    use.from_min = load->start_min < use.from_min ? load->start_min : use.from_min;
    use.to_min = load->end_min > use.to_min ? load->end_min : use.to_min;
  }
  return use;
}

static void check_story(struct pw_judge *judge, const struct pw_seen_plan *plan, int b)
{
  const struct pw_seen_story *story = &plan->stories[b];
  const struct pw_seen_burn *burn = &plan->burns[b];
  long late = 0;
  if (story->pit != burn->pit || story->lit_at_min != burn->lit_min || story->out_at_min != burn->out_min)
    pw_judge_find(judge, "J11", "explained.burns[%d]: from minute %d to %d, burns[%d] is another fire", b,
                  story->lit_at_min, story->out_at_min, b);
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    struct use use = use_of(plan, burn, l);
    int lines = 0;
    for (int u = 0; u < story->n_uses; u++) {
      const struct pw_seen_story_use *told = &story->uses[u];
      if (told->lot != l)
        continue;
      lines++;
      if (told->smoked != use.smoked || told->finished != use.finished || told->from_at_min != use.from_min ||
          told->to_at_min != use.to_min)
        pw_judge_find(judge, "J11",
                      "explained.burns[%d].uses[%d]: %d smoked, %d finished from minute %d to %d; the loads say %ld, "
                      "%ld, %d to %d",
                      b, u, told->smoked, told->finished, told->from_at_min, told->to_at_min, use.smoked, use.finished,
                      use.from_min, use.to_min);
    }
    if (lines != (use.smoked + use.finished > 0))
      pw_judge_find(judge, "J11", "explained.burns[%d].uses: %d lines for \"%s\", of which %ld pieces lie there", b,
                    lines, plan->lots[l].id, use.smoked + use.finished);
  }
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    late += is_in_burn(plan, load, burn) && load->end_min > burn->out_min - HOUR_MIN ? load->pieces : 0;
  }
  if (story->late_pieces != PW_SEEN_NONE && story->late_pieces != late)
    pw_judge_find(judge, "J11", "explained.burns[%d].last_hour_pieces: is %d, the loads say %ld", b, story->late_pieces,
                  late);
}

static void check_worth(struct pw_judge *judge, const struct pw_seen_plan *plan, int w)
{
  const struct pw_seen_worth *worth = &plan->worths[w];
  int first = INT32_MAX, last = INT32_MIN;
  long missed = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    first = plan->loads[i].start_min < first ? plan->loads[i].start_min : first;
    last = plan->loads[i].end_min > last ? plan->loads[i].end_min : last;
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    missed += plan->lots[l].missed;
  int slot = plan->event.slot_min > 0 ? plan->event.slot_min : 1;
  if (worth->from_at_min > worth->to_at_min || worth->from_at_min % slot != 0 || worth->to_at_min % slot != 0 ||
      (missed == 0 && plan->n[PW_SEEN_LOADS] > 0 && (worth->from_at_min < first || worth->to_at_min > last)))
    pw_judge_find(judge, "J11", "explained.worths[%d]: from minute %d to %d, food is there from %d to %d", w,
                  worth->from_at_min, worth->to_at_min, first, last);
  if (missed == 0 && worth->pieces > 0)
    pw_judge_find(judge, "J11", "explained.worths[%d].same_fires_pieces: is %g, no piece is without a place", w,
                  worth->pieces);
  if (worth->pits > plan->n[PW_SEEN_PITS] || worth->racks > plan->n[PW_SEEN_RACKS])
    pw_judge_find(judge, "J11", "explained.worths[%d]: %d racks of %d pits alike, there are %d of %d", w, worth->racks,
                  worth->pits, plan->n[PW_SEEN_RACKS], plan->n[PW_SEEN_PITS]);
}

/* ---- ovens --------------------------------------------------------------------------------------------------- */

/** Minutes in which something is in an oven. */
static long minutes_in_use(const struct pw_seen_plan *plan, int place)
{
  long minutes = 0;
  for (int at = INT32_MIN;;) { /* the next stretch that begins after `at` */
    int from = INT32_MAX, to;
    for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
      if (plan->loads[i].place == place && plan->loads[i].end_min > at && plan->loads[i].start_min < from)
        from = plan->loads[i].start_min;
    for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++)
      if (plan->reheats[i].place == place && plan->reheats[i].out_min > at && plan->reheats[i].from_min < from)
        from = plan->reheats[i].from_min;
    if (from == INT32_MAX)
      return minutes;
    from = from > at ? from : at;
    to = from;
    for (bool is_moving = true; is_moving;) {
      is_moving = false;
      for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
        if (plan->loads[i].place == place && plan->loads[i].start_min <= to && plan->loads[i].end_min > to) {
          to = plan->loads[i].end_min;
          is_moving = true;
        }
      for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++)
        if (plan->reheats[i].place == place && plan->reheats[i].from_min <= to && plan->reheats[i].out_min > to) {
          to = plan->reheats[i].out_min;
          is_moving = true;
        }
    }
    minutes += to - from;
    at = to;
  }
}

static void check_ovens(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  double hours = 0, cents = 0;
  for (int f = 0; f < plan->n[PW_SEEN_FINISHERS]; f++) {
    const struct pw_seen_finisher *oven = &plan->finishers[f];
    if (oven->kind != 0)
      continue;
    double h = (double)minutes_in_use(plan, plan->n[PW_SEEN_ZONES] + f) / HOUR_MIN;
    hours += h;
    cents += h * oven->cents_per_h; /* NAN when a rate is missing */
  }
  const struct pw_seen_ovens *o = &plan->ovens;
  if (!isnan(o->hours) && fabs(o->hours - hours) > HOUR_SLACK * fmax(1, hours))
    pw_judge_find(judge, "J10", "ovens.hours: is %.6g, something is in them for %.6g", o->hours, hours);
  if (plan->quote.oven_cents != PW_SEEN_NONE && fabs((double)plan->quote.oven_cents - cents) > 0.5 + 1e-6)
    pw_judge_find(judge, "J10", "ovens.cost_cents: is " MONEY ", their hours cost %.2f", plan->quote.oven_cents, cents);
  if (isnan(o->piece_h) || plan->n[PW_SEEN_NEEDS] == 0)
    return;
  /* a piece in an oven might have stayed where it smoked, for as long as it would take there */
  long pieces = 0;
  double piece_h = 0, area_m2_h = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_lot *lot = &plan->lots[load->lot];
    if (load->stage != PW_SEEN_FINISH || !pw_check_finisher(plan, load) || load->n_ids <= 0)
      continue;
    for (int k = 0; k < load->n_ids; k++)
      for (int s = 0; s < plan->n[PW_SEEN_LOADS]; s++) {
        const struct pw_seen_load *smoke = &plan->loads[s];
        bool is_its = false;
        if (pw_check_finisher(plan, smoke))
          continue; /* carried there open on a day without its fire: there was nowhere to stay */
        for (int id = 0; id < smoke->n_ids && smoke->lot == load->lot && smoke->stage == PW_SEEN_SMOKE; id++)
          is_its = is_its || smoke->piece_ids[id] == load->piece_ids[k];
        for (int t = 0; is_its && t < lot->n_times; t++)
          if (lot->times[t].stage == PW_SEEN_FINISH && lot->times[t].place == smoke->place) {
            pieces++;
            piece_h += lot->times[t].minutes / 60.0;
            area_m2_h += lot->times[t].minutes / 60.0 * lot->wrapped_m[0] * lot->wrapped_m[1];
          }
      }
  }
  if (o->pieces != pieces || pw_check_differs(o->piece_h, piece_h) || pw_check_differs(o->area_m2_h, area_m2_h))
    pw_judge_find(judge, "J10",
                  "ovens.saving: %d pieces, %.6g h and %.6g m2 h; those that could have stayed make %ld, %.6g and %.6g",
                  o->pieces, o->piece_h, o->area_m2_h, pieces, piece_h, area_m2_h);
  if (pieces == 0 && (o->lit_min != 0 || o->wood_kg > 0 || o->wood_cents != 0))
    pw_judge_find(judge, "J10", "ovens.saving: wood and time saved by no piece");
}

pw_status pw_check_story(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->n_stories != PW_SEEN_NONE && plan->n_stories != plan->n[PW_SEEN_BURNS])
    pw_judge_find(judge, "J11", "explained.burns: tells of %d fires, there are %d", plan->n_stories,
                  plan->n[PW_SEEN_BURNS]);
  for (int b = 0; b < plan->n_stories && plan->n_stories == plan->n[PW_SEEN_BURNS]; b++)
    check_story(judge, plan, b);
  for (int w = 0; w < plan->n_worths; w++)
    check_worth(judge, plan, w);
  if (plan->n[PW_SEEN_LOADS] <= LOADS_MOST)
    check_ovens(judge, plan);
  return PW_OK;
}
