/* feeds.c - the feed list of one burn [F1].
 * What is laid follows the need an hour ahead, so the pile of coals always holds an hour's wood and is spent as the food comes
 * off; it grows to that while the rest of the charcoal burns.  A feed is as many splits as half an hour needs; that number stays
 * as long as feeds of it come 25 to 50 minutes apart, one more where a load or a door kept the feed before waiting. */
#include "plan/fire/feeds.h"

#include "base/arena.h"

#include <limits.h>
#include <math.h>

enum {
  AHEAD_MIN = 60,        /* the pile holds the wood of so long: common practice, no source */
  GROW_MIN = 120,        /* ... this long after the first feed */
  FEED_MIN = 35,         /* usual time between feeds: common practice, no source */
  FEED_OFTEN_MIN = 25,   /* ... the shortest before feeds are made larger */
  FEED_LEAST_MIN = 20,   /* ... the shortest at all, where one waited */
  FEED_LONGEST_MIN = 50, /* ... and the longest before feeds are made smaller */
  FEED_WORK_MIN = 5,     /* hands are free again so long after a feed: common practice, no source */
  CATCH_MIN = 20,        /* a feed has caught and runs clean after this: common practice, no source */
  HEAVY_CATCH_MIN = 30,  /* ... one of more than an hour's wood after this: common practice, no source */
  LAST_FEED_MIN = 30,    /* no wood in the last half hour of a burn: common practice, no source */
  SHIFT_MIN = 45 /* a feed goes on so much sooner or later for a load or a pair of hands: the pile holds an hour */
};

double pw_need_at(const struct pw_need_curve *need, int at_min)
{
  int k = (at_min - need->lit_at_min + PW_NEED_STEP_MIN - 1) / PW_NEED_STEP_MIN;
  return need->wood_kg[k < 0 ? 0 : k > need->n_steps ? need->n_steps : k];
}

/** One burn as its feeds are laid. */
struct laying {
  const struct pw_need_curve *need;
  const struct pw_burn *burn;
  const struct pw_lots *lots;
  const struct pw_allocation *a;
  const struct pw_visits *visits;
  double split_kg, laid_kg;
  int splits;     /* of a usual feed */
  int most_light; /* splits of a feed that is no more than an hour's wood */
  int first_at;   /* of the first feed */
  int last_at;    /* of the feed before; INT_MIN: none yet */
  int no_more_at; /* no feed after this */
};

/* ---- when ------------------------------------------------------------------------------------------ */

/** A feed at at_min that catches within catch_min would smoke on food that goes on soon after. */
static bool is_smoky(const struct laying *l, int at_min, int catch_min)
{
  for (int i = 0; i < l->a->n_loads; i++) {
    const struct pw_load *load = &l->a->loads[i];
    if (load->zone != PW_NONE && l->lots->zones[load->zone].pit == l->burn->pit &&
        load->start_at_min <= l->burn->out_at_min && load->start_at_min >= at_min &&
        load->start_at_min - at_min < catch_min)
      return true;
  }
  return false;
}

/** Somebody's hands are at a door: one pair, from FEED_WORK_MIN before it is opened until all is done. */
static bool is_at_a_door(const struct laying *l, int at_min)
{
  for (int v = 0; v < l->visits->n_visits; v++)
    if (at_min > l->visits->visits[v].at_min - FEED_WORK_MIN &&
        at_min < l->visits->visits[v].at_min + PW_VISIT_HANDS * l->visits->visits[v].open_min)
      return true;
  return false;
}

/** The clear instant nearest to due_at, the earlier of two: no food soon after, if it can be nobody at a door; not too soon after the
 *  feed before.  INT_MIN: none before the last half hour. */
static int clear_near(const struct laying *l, int due_at)
{
  int least = l->last_at == INT_MIN ? l->burn->lit_at_min : l->last_at + FEED_LEAST_MIN;
  for (int doors = 1; doors >= 0; doors--)
    for (int off = 0; off <= SHIFT_MIN; off += PW_NEED_STEP_MIN)
      for (int sign = -1; sign <= 1; sign += 2) {
        int at = due_at + sign * off;
        if (at >= least && at <= l->no_more_at && !is_smoky(l, at, CATCH_MIN) && !(doors && is_at_a_door(l, at)))
          return at;
      }
  for (int at = due_at > least ? due_at : least; at <= l->no_more_at; at += PW_NEED_STEP_MIN)
    if (!is_smoky(l, at, CATCH_MIN))
      return at;
  return INT_MIN;
}

/* ---- how much --------------------------------------------------------------------------------------- */

/** Splits an hour that an hour ahead of at_min needs, once the fire is ready. */
static double rate_ahead(const struct laying *l, int at_min)
{
  int from = at_min + AHEAD_MIN - FEED_MIN, to;
  from = from > l->burn->ready_at_min ? from : l->burn->ready_at_min;
  to = from + 2 * FEED_MIN;
  to = to < l->burn->out_at_min ? to : l->burn->out_at_min;
  if (to <= from)
    return 0.0;
  return (pw_need_at(l->need, to) - pw_need_at(l->need, from)) / l->split_kg * 60.0 / (to - from);
}

/** Keeps the usual number of splits where it still fits the need ahead. */
static void set_splits(struct laying *l, int at_min)
{
  double rate = rate_ahead(l, at_min), between_min = rate > 0.0 ? 60.0 * l->splits / rate : 0.0;
  if (l->splits < 1 || (rate > 0.0 && (between_min < FEED_OFTEN_MIN || between_min > FEED_LONGEST_MIN))) {
    double usual = rate * FEED_MIN / 60.0;
    l->splits = usual > 1.0 ? (int)lround(usual) : 1;
  }
}

/** Splits that the rest of the burn wants. */
static int splits_left(const struct laying *l)
{
  double left = (pw_need_at(l->need, l->burn->out_at_min) - l->laid_kg) / l->split_kg;
  return (int)ceil(left - 1e-9);
}

/** Splits short of what should lie there at at_min: the need of the time ahead that the pile is to last. */
static double short_splits(const struct laying *l, int at_min)
{
  int ahead = (int)lround((double)AHEAD_MIN * (at_min - l->first_at) / GROW_MIN);
  ahead = ahead < AHEAD_MIN ? ahead : AHEAD_MIN;
  return (pw_need_at(l->need, at_min + ahead) - l->laid_kg) / l->split_kg;
}

/** When the next usual feed is due, from from_min on: half of it is wanted. */
static int next_due(const struct laying *l, int from_min)
{
  for (int at = from_min; at < l->no_more_at; at += PW_NEED_STEP_MIN)
    if (short_splits(l, at) >= 0.5 * l->splits - 1e-9)
      return at;
  return l->no_more_at;
}

static pw_status add_feed(struct pw_burn_fuel *fuel, size_t *cap, struct laying *l, int at_min, int splits,
                          struct pw_arena *arena)
{
  if (pw_arena_grow(arena, &fuel->feeds, cap, (size_t)fuel->n_feeds, sizeof *fuel->feeds))
    return PW_ERR_MEMORY;
  fuel->feeds[fuel->n_feeds++] = (struct pw_feed){at_min, splits * l->split_kg, splits};
  fuel->wood_kg += splits * l->split_kg;
  l->laid_kg += splits * l->split_kg;
  l->last_at = at_min;
  return PW_OK;
}

/** When the first wood goes on. */
static int first_due(const struct laying *l)
{
  int at = l->need->half_spent_at_min, caught = l->burn->ready_at_min - CATCH_MIN;
  at = at < caught ? at : caught;
  return at > l->burn->lit_at_min ? at : l->burn->lit_at_min;
}

pw_status pw_feeds_make(struct pw_burn_fuel *fuel, const struct pw_need_curve *need, const struct pw_burn *burn,
                        const struct pw_event *ev, const struct pw_lots *lots, const struct pw_allocation *a,
                        const struct pw_visits *visits, struct pw_arena *arena)
{
  const struct pw_pit *pit = &ev->pits[burn->pit];
  struct laying l = {need, burn, lots, a, visits, pit->split_kg, 0.0, 0, 2, 0, INT_MIN, 0};
  size_t cap = 0;
  if (pit->settings[burn->setting].splits_per_h > l.most_light)
    l.most_light = (int)ceil(pit->settings[burn->setting].splits_per_h);
  l.no_more_at =
      burn->out_at_min - LAST_FEED_MIN > burn->lit_at_min ? burn->out_at_min - LAST_FEED_MIN : burn->lit_at_min;
  int due = first_due(&l), steady_splits = 0;
  if (due > l.no_more_at)
    due = l.no_more_at;
  /* the first wood goes on the charcoal even when the charcoal alone would do */
  while (l.last_at == INT_MIN || splits_left(&l) > 0) {
    int at = clear_near(&l, due);
    if (at == INT_MIN) /* no good instant is left: with the feed before, or at once on the coals */
      at = l.last_at == INT_MIN ? burn->lit_at_min : l.last_at;
    set_splits(&l, at);
    l.first_at = l.last_at == INT_MIN ? at : l.first_at;
    int left = splits_left(&l), splits = l.splits + (short_splits(&l, at) > 1.5 * l.splits);
    if (splits > left || at + FEED_LEAST_MIN > l.no_more_at)
      splits = left; /* the last one */
    if (splits > l.most_light && is_smoky(&l, at, HEAVY_CATCH_MIN))
      splits = l.most_light; /* the rest goes on with the next one */
    splits = splits > 1 ? splits : 1;
    if (at == l.last_at) { /* more on the feed before */
      struct pw_feed *feed = &fuel->feeds[fuel->n_feeds - 1];
      feed->splits += splits;
      fuel->wood_kg += splits * l.split_kg;
      l.laid_kg += splits * l.split_kg;
      feed->wood_kg = feed->splits * l.split_kg;
    } else if (add_feed(fuel, &cap, &l, at, splits, arena) != PW_OK)
      return PW_ERR_MEMORY;
    due = next_due(&l, at + FEED_LEAST_MIN);
  }
  fuel->wood_kg = 0.0;
  for (int i = 0; i < fuel->n_feeds; i++) {
    fuel->wood_kg += fuel->feeds[i].wood_kg;
    steady_splits += fuel->feeds[i].at_min >= burn->ready_at_min ? fuel->feeds[i].splits : 0;
  }
  double steady_h = (burn->out_at_min - burn->ready_at_min) / 60.0;
  fuel->splits_per_h = steady_h > 0.0 ? steady_splits / steady_h : 0.0;
  return PW_OK;
}

const char *pw_feed_noun(const struct pw_fuel *fuel, int n)
{
  return fuel->is_charcoal ? n == 1 ? "scoop" : "scoops" : n == 1 ? "split" : "splits";
}
