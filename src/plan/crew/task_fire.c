/* task_fire.c - the fires' timetable [S1]: light, ready, feed, burn down, ash.
 * In: burns and their feed lists [F1].  Out: drafts. */
#include "base/format.h"
#include "plan/crew/task_list.h"
#include "plan/fire/feeds.h"

#include <limits.h>
#include <math.h>

/* Minutes of hands: common practice, no source. */
enum { LIGHT_WORK_MIN = 15, READY_WORK_MIN = 5, DOWN_WORK_MIN = 10, ASH_WORK_MIN = 15 };
enum { FEED_SLIP_MIN = 15 }; /* common practice, no source: a fire burns on that long while another is fed */
enum {
  ASH_LOOK_MIN = 5,
  ASH_LOOK_AFTER_MIN = 60,
  ASH_LOOK_WITHIN_MIN = 120,
  ASH_RAKE_FROM_MIN = 75
};                                /* common practice, no source */
enum { LEFT_ALONE_MIN = 4 * 60 }; /* common practice, no source: no crew waits so long beside a fire that is out */

static int max_int(int a, int b) { return a > b ? a : b; }
static int min_int(int a, int b) { return a < b ? a : b; }

static struct pw_draft fire_draft(enum pw_task_kind kind, const struct pw_burn *burn, int at, double work_min)
{
  struct pw_draft d = pw_task_blank(kind, PW_DUTY_FIRE, PW_RANK_FIRE, PW_AT_SITE);
  d.first_at_min = d.last_at_min = at;
  d.work_min = work_min;
  d.pit = d.place = burn->pit;
  return d;
}

static const char *feed_words(struct pw_task_list *list, const struct pw_pit *pit, const struct pw_feed *feed)
{
  const char *wood = list->ev->fuels[pit->wood].name,
             *kg = pw_task_words(list, "%s", pw_format_fuel(list->ev->units, feed->wood_kg).s);
  if (feed->splits > 0)
    return pw_task_words(list, "Feed %d %s of %s (%s)", feed->splits,
                         pw_feed_noun(&list->ev->fuels[pit->wood], feed->splits), wood, kg);
  return pw_task_words(list, "Feed %s of %s", kg, wood);
}

/* Hands for a feed: the pit's tending time for the stretch until the next one, an hour's worth at most. */
static double feed_work(const struct pw_pit *pit, const struct pw_burn *burn, const struct pw_burn_fuel *fuel, int i)
{
  int at = fuel->feeds[i].at_min, next = i + 1 < fuel->n_feeds ? fuel->feeds[i + 1].at_min : burn->out_at_min;
  return fmax(1, pit->tend_min_per_h * fmin(next - at, 60) / 60);
}

/* When the pit is lit again; INT_MAX: not again. */
static int lit_again(const struct pw_task_list *list, const struct pw_burn *burn)
{
  int at = INT_MAX;
  for (int b = 0; b < list->plan->allocation.n_burns; b++) {
    const struct pw_burn *next = &list->plan->allocation.burns[b];
    if (next->pit == burn->pit && next->lit_at_min > burn->lit_at_min)
      at = min_int(at, next->lit_at_min);
  }
  return at;
}

/* When the crew goes home for the last time before a minute; `at`, where it serves nobody until then. */
static int leaves_at(const struct pw_task_list *list, int at, int before)
{
  for (int s = 0; s < list->ev->n_services; s++) {
    int home = list->ev->services[s].at_min + list->ev->services[s].length_min + PW_TASK_LEAVE_AFTER_MIN;
    if (home < before)
      at = max_int(at, home);
  }
  return at;
}

/* On a mended day: how often anybody saw to a fire's ash before it was lit again.  Nobody rakes a fire that burns. */
static int n_seen_to(const struct pw_task_list *list, const struct pw_burn *burn, int again)
{
  const struct pw_day_now *day = list->plan->day;
  int n = 0;
  for (int i = 0; i < day->n_before; i++) {
    const struct pw_task *t = &day->before[i];
    n += t->kind == PW_TASK_ASH && t->pit == burn->pit && t->at_min >= burn->lit_at_min && t->at_min < again;
  }
  return n;
}

static struct pw_draft ash_draft(const struct pw_burn *burn, const struct pw_pit *pit, double work_min)
{
  struct pw_draft d = fire_draft(PW_TASK_ASH, burn, burn->out_at_min, work_min);
  d.also = 1u << PW_DUTY_PIT;
  d.prefers_duty = true;
  d.rank = PW_RANK_AFTER;
  d.where = pit->name;
  return d;
}

/* The last thing before they leave, for the night or for good: whatever glows then, glows alone. */
static void look_at_ash(struct pw_task_list *list, const struct pw_burn *burn, const struct pw_pit *pit, int again)
{
  struct pw_draft d = ash_draft(burn, pit, ASH_LOOK_MIN);
  bool is_relit = again != INT_MAX;
  d.first_at_min = burn->out_at_min + ASH_LOOK_AFTER_MIN;
  int home = leaves_at(list, d.first_at_min + ASH_LOOK_WITHIN_MIN, again),
      by = is_relit ? min_int(home, again - ASH_RAKE_FROM_MIN) : home;
  d.last_at_min = max_int(d.first_at_min, by - ASH_LOOK_MIN);
  d.is_late = true;
  d.verb = "Fires-out check: no glow, no smoke";
  d.target = is_relit
                 ? "doors and vents shut; nobody leaves it before it is out; the ash stays in the shut firebox until "
                   "it is raked out for the next fire"
                 : "doors and vents shut; nobody drives or tows before it is out and cold to the glove; the ash "
                   "stays in the cold firebox, or a lidded metal can away from everything, a day at least";
  pw_task_draft(list, d);
}

/* Ash glows for a day under its crust (common practice, no source): before the next fire it is raked hot into a can with a lid, and
 * at the end it stays where it is. */
static void ash(struct pw_task_list *list, const struct pw_burn *burn, const struct pw_pit *pit)
{
  int again = lit_again(list, burn);
  bool is_relit = again != INT_MAX, is_left = !is_relit || again - burn->out_at_min >= LEFT_ALONE_MIN;
  bool is_past = list->plan->day && again <= list->plan->day->now_min;
  int n = is_past ? n_seen_to(list, burn, again) : is_left + is_relit;
  if (is_left && n-- > 0)
    look_at_ash(list, burn, pit, again);
  if (!is_relit || n <= 0)
    return;
  struct pw_draft d = ash_draft(burn, pit, ASH_WORK_MIN);
  d.end_by_min = again;
  d.last_at_min = again - ASH_WORK_MIN;
  d.first_at_min = max_int(burn->out_at_min, min_int(again - ASH_RAKE_FROM_MIN, d.last_at_min));
  d.verb = "Rake the old ash out before the next fire";
  d.target = "treat it as hot: metal can with a lid, gloves, away from everything that burns, a day at least";
  pw_task_draft(list, d);
}

/* What is laid as the fire is lit: part of lighting it, and no task of its own. */
static const struct pw_feed *laid_at_lighting(const struct pw_burn *burn, const struct pw_burn_fuel *fuel)
{
  return fuel->n_feeds > 0 && fuel->feeds[0].at_min <= burn->lit_at_min ? &fuel->feeds[0] : NULL;
}

static void one_burn(struct pw_task_list *list, const struct pw_burn *burn, const struct pw_burn_fuel *fuel)
{
  const struct pw_pit *pit = &list->ev->pits[burn->pit];
  const struct pw_setting *set = &pit->settings[burn->setting];
  enum pw_units units = list->ev->units;

  struct pw_draft light = fire_draft(PW_TASK_LIGHT, burn, burn->lit_at_min, LIGHT_WORK_MIN);
  light.verb = fuel->charcoal_kg > 0
                   ? pw_task_words(list, "Light %s with %s of %s", pit->name,
                                   pw_format_fuel(units, fuel->charcoal_kg).s, list->ev->fuels[pit->charcoal].name)
                   : pw_task_words(list, "Light %s", pit->name);
  const struct pw_feed *laid = laid_at_lighting(burn, fuel);
  if (laid)
    light.verb =
        pw_task_words(list, "%s%s %d %s (%s)", light.verb, fuel->charcoal_kg > 0 ? ", then" : " with", laid->splits,
                      pw_feed_noun(&list->ev->fuels[pit->wood], laid->splits), pw_format_fuel(units, laid->wood_kg).s);
  light.where = pit->name;
  light.target = pw_task_words(list,
                               pit->is_over_coals ? "outdoors; vents open, grey coals all over within %s"
                                                  : "vents open, clean fire within %s",
                               pw_format_minutes(burn->ready_at_min - burn->lit_at_min).s);
  pw_task_draft(list, light);

  struct pw_draft ready = fire_draft(PW_TASK_FIRE_CHECK, burn, burn->ready_at_min - READY_WORK_MIN, READY_WORK_MIN);
  ready.also = 1u << PW_DUTY_PIT;
  bool has_ends = set->hot_c > set->cool_c;
  ready.verb = pit->is_over_coals
                   ? has_ends ? "Are the coals grey? Read both ends of the grate" : "Are the coals grey? Read the grate"
               : has_ends ? "Is the fire clean? Read both ends"
                          : "Is the fire clean? Read the pit";
  const char *looks = pit->is_over_coals ? "ash all over, no flame" : "thin blue smoke";
  ready.where = pit->name;
  ready.target = has_ends ? pw_task_words(list, "%s; %s at the fire end, %s at the far end", looks,
                                          pw_format_temp(units, set->hot_c).s, pw_format_temp(units, set->cool_c).s)
                          : pw_task_words(list, "%s; %s all over", looks, pw_format_temp(units, set->hot_c).s);
  pw_task_draft(list, ready);

  for (int i = laid ? 1 : 0; i < fuel->n_feeds; i++) {
    struct pw_draft feed = fire_draft(PW_TASK_FEED, burn, fuel->feeds[i].at_min, feed_work(pit, burn, fuel, i));
    feed.slip_min = FEED_SLIP_MIN;
    feed.verb = feed_words(list, pit, &fuel->feeds[i]);
    feed.where = pit->name;
    feed.target = pit->is_over_coals ? "at the edge of the bed; under food only once it is grey"
                                     : "small and dry, on live coals; wait for clean smoke";
    pw_task_draft(list, feed);
  }

  struct pw_draft down = fire_draft(PW_TASK_BURN_DOWN, burn, burn->out_at_min, DOWN_WORK_MIN);
  down.also = 1u << PW_DUTY_PIT;
  down.prefers_duty = true;
  down.rank = PW_RANK_AFTER;
  down.last_at_min = burn->out_at_min + 30;
  down.is_late = true; /* the food first */
  down.slip_min = 60;
  down.verb = pit->is_over_coals ? "No more charcoal: let the coals burn down" : "No more wood: let the fire burn down";
  down.where = pit->name;
  down.target = "doors and vents shut, somebody stays while it glows";
  pw_task_draft(list, down);

  ash(list, burn, pit);
}

void pw_task_fires(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  for (int b = 0; b < al->n_burns && b < list->plan->fuel.n_burns; b++)
    one_burn(list, &al->burns[b], &list->plan->fuel.burns[b]);
}
