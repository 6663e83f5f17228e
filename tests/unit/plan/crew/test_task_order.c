/* test_task_order.c - the order of work [S1]: whatever the crew, each line of the sheet can be done when its turn comes.
 * The plans of the example events are made once; then their tasks are placed again for many other crews: more and fewer hands, shorter
 * shifts, other duties, longer ways.  What is asked here is worked out from loads, racks, purchases and clock alone, and the judge
 * [J15], who works it out on his own, is asked as well.
 * Outside checks: cooling within 2 h, FDA Food Code 2022 3-501.14(A). */
#include "planned.h"

#include "base/when.h"
#include "dice.h"
#include "judge/plan_check_parts.h"
#include "plan/stages.h"
#include "write/plan_json.h"

#include <limits.h>
#include <stdint.h>
#include <string.h>

static const char *const MORE_EVENTS[] = {"events/garden-lunch.yaml", "events/sunday-lunch.yaml",
                                          "events/river-weekend.yaml"};
enum { N_MORE = sizeof MORE_EVENTS / sizeof *MORE_EVENTS, N_EVENTS = N_PLANNED_EVENTS + N_MORE, N_CREWS = 40 };

static struct pw_ctx *g_all;
static const struct pw_event *g_events[N_EVENTS];
static struct pw_plan *g_plans[N_EVENTS];

static void plan_all(void)
{
  g_all = pw_test_ctx();
  for (int i = 0; i < N_EVENTS; i++) {
    g_events[i] = planned_event(i < N_PLANNED_EVENTS ? PLANNED_EVENTS[i] : MORE_EVENTS[i - N_PLANNED_EVENTS], g_all);
    g_plans[i] = planned(g_events[i], false, PW_EFFORT_QUICK, g_all);
  }
}

static void forget_all(void) { pw_test_ctx_free(g_all); }

/** A plan whose tasks are looked at. */
struct seen {
  const struct pw_event *ev;
  const struct pw_plan *plan;
  const struct pw_task *tasks;
  int n;
  char name[96];
};

static int end_of(const struct pw_task *t) { return t->at_min + t->minutes; }

static bool is_kind(const struct pw_task *t, uint64_t kinds) { return (kinds >> t->kind & 1u) != 0; }

#define KIND(k) (UINT64_C(1) << PW_TASK_##k)
#define WRAPS   (KIND(WRAP) | KIND(WRAP_CARRY))

static bool is_of_piece(const struct pw_task *t, int lot, int piece)
{
  if (t->lot != lot)
    return false;
  for (int k = 0; k < t->n_ids; k++)
    if (t->piece_ids[k] == piece)
      return true;
  return false;
}

/** The first task of the kinds on a piece; NULL. */
static const struct pw_task *task_of(const struct seen *s, uint64_t kinds, int lot, int piece)
{
  for (int i = 0; i < s->n; i++)
    if (is_kind(&s->tasks[i], kinds) && is_of_piece(&s->tasks[i], lot, piece))
      return &s->tasks[i];
  return NULL;
}

static void in_turn(const struct seen *s, const struct pw_task *a, const struct pw_task *b)
{
  if (a && b && a != b)
    ck_assert_msg(end_of(a) <= b->at_min, "%s: \"%s\" at %d for %d min is not over when \"%s\" begins at %d", s->name,
                  a->what, a->at_min, a->minutes, b->what, b->at_min);
}

/* ---- the pieces ------------------------------------------------------------------------------------------------- */

/* The day of a piece in the cook's order; what stands in one row has no order of its own. */
static const uint64_t DAY[] = {KIND(THAW),  KIND(BRINE), KIND(PREP),  KIND(LOAD), KIND(BARK_TEST), KIND(MOP),
                               WRAPS,       KIND(CARRY), KIND(PROBE), KIND(OFF),  KIND(REST_OVER), KIND(HOLD_CHECK),
                               KIND(CHILL), KIND(CUT),   KIND(REHEAT)};
enum { N_DAY = sizeof DAY / sizeof *DAY };

/* A probe of what was cooked the day before and is hot again: its own day begins with the reheating. */
static bool is_read_again(const struct pw_task *t, const struct pw_task *const *of, int n)
{
  for (int i = 0; i < n; i++)
    if (t->kind == PW_TASK_PROBE && of[i]->kind == PW_TASK_REHEAT && end_of(of[i]) <= t->at_min)
      return true;
  return false;
}

static void pieces_in_turn(const struct seen *s)
{
  for (int lot = 0; lot < s->plan->lots.n_lots; lot++)
    for (int piece = 0; piece < s->plan->lots.lots[lot].pieces; piece++) {
      const struct pw_task *of[256];
      int n = 0;
      for (int i = 0; i < s->n; i++)
        if (is_of_piece(&s->tasks[i], lot, piece)) {
          ck_assert_int_lt(n, 256);
          of[n++] = &s->tasks[i];
        }
      for (int a = 0; a < N_DAY; a++)
        for (int b = a + 1; b < N_DAY; b++)
          for (int i = 0; i < n; i++)
            for (int k = 0; k < n; k++)
              if (is_kind(of[i], DAY[a]) && is_kind(of[k], DAY[b]) && !is_read_again(of[i], of, n))
                in_turn(s, of[i], of[k]);
    }
}

/* "Move 3 × brisket to Oven" at 06:00, "Wrap 3 × brisket" at 06:15: what a cook does in one go is one line. */
static void wrapped_and_carried_in_one_go(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    if (t->kind == PW_TASK_WRAP)
      ck_assert_msg(t->to_place == PW_NONE || t->to_place == t->place, "%s: \"%s\" goes elsewhere and does not say so",
                    s->name, t->what);
    if (t->kind == PW_TASK_WRAP_CARRY)
      /* elsewhere, or to another zone of the same pit, which it then names */
      ck_assert_msg(t->to_place != PW_NONE && (t->to_place != t->place || strstr(t->where, " to ") != NULL) &&
                        strncmp(t->what, "Wrap and carry", 14) == 0,
                    "%s: \"%s\"", s->name, t->what);
    if (t->kind == PW_TASK_CARRY) /* only what is not wrapped */
      for (int k = 0; k < t->n_ids; k++)
        ck_assert_msg(!task_of(s, WRAPS, t->lot, t->piece_ids[k]), "%s: \"%s\" beside a wrap", s->name, t->what);
  }
}

/* Portioned at 11:10 while they come off at 11:34; sliced before the rest is over. */
static void cut_when_off_and_rested(const struct seen *s)
{
  for (int l = 0; l < s->plan->allocation.n_loads; l++) {
    const struct pw_load *load = &s->plan->allocation.loads[l];
    for (int k = 0; k < load->pieces; k++) {
      const struct pw_task *cut = task_of(s, KIND(CUT), load->lot, load->piece_ids[k]);
      if (cut && load->stage != PW_LOAD_HOLD)
        ck_assert_msg(cut->at_min >= load->end_at_min, "%s: \"%s\" at %d, in its load until %d", s->name, cut->what,
                      cut->at_min, load->end_at_min);
    }
  }
}

/* A hold check in a box that the piece has left. */
static void read_where_they_are(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    if (t->kind != PW_TASK_HOLD_CHECK)
      continue;
    ck_assert_msg(t->n_ids > 0, "%s: \"%s\" reads nothing", s->name, t->what);
    for (int k = 0; k < t->n_ids; k++) {
      bool is_in = false;
      for (int l = 0; l < s->plan->allocation.n_loads; l++) {
        const struct pw_load *load = &s->plan->allocation.loads[l];
        for (int p = 0; p < load->pieces && load->lot == t->lot && load->finisher != PW_NONE; p++)
          is_in = is_in || (load->piece_ids[p] == t->piece_ids[k] && s->ev->n_pits + load->finisher == t->place &&
                            load->start_at_min <= t->at_min);
      }
      ck_assert_msg(is_in, "%s: \"%s\" at %d: piece %d is not in there", s->name, t->what, t->at_min, t->piece_ids[k]);
    }
  }
}

/* ---- spots ------------------------------------------------------------------------------------------------------- */

static bool is_shared(const struct pw_rect *a, const struct pw_rect *b)
{
  double slack = 1e-3; /* a millimetre is no room */
  return a->x_m + a->length_m > b->x_m + slack && b->x_m + b->length_m > a->x_m + slack &&
         a->y_m + a->depth_m > b->y_m + slack && b->y_m + b->depth_m > a->y_m + slack;
}

/* Ribs loaded at 11:15 into zones still full. */
static void off_before_the_next_on_that_spot(const struct seen *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  const struct pw_zone *zones = s->plan->lots.zones;
  for (int a = 0; a < al->n_loads; a++)
    for (int b = 0; b < al->n_loads; b++) {
      const struct pw_load *out = &al->loads[a], *in = &al->loads[b];
      if (in->stage != PW_LOAD_SMOKE || out->zone == PW_NONE || in->zone == PW_NONE || !in->rects || !out->rects ||
          out->end_at_min > in->start_at_min || zones[out->zone].pit != zones[in->zone].pit ||
          zones[out->zone].rack != zones[in->zone].rack)
        continue;
      for (int i = 0; i < out->pieces; i++)
        for (int k = 0; k < in->pieces; k++) {
          if (!is_shared(&out->rects[i], &in->rects[k]))
            continue;
          bool goes_on = false; /* wrapped and cooked on: it left this spot with the wrap */
          for (int l = 0; l < al->n_loads && out->stage == PW_LOAD_SMOKE; l++)
            for (int p = 0;
                 p < al->loads[l].pieces && al->loads[l].lot == out->lot && al->loads[l].stage == PW_LOAD_FINISH; p++)
              goes_on = goes_on || al->loads[l].piece_ids[p] == out->piece_ids[i];
          in_turn(s, task_of(s, goes_on ? WRAPS | KIND(CARRY) : KIND(OFF), out->lot, out->piece_ids[i]),
                  task_of(s, KIND(LOAD), in->lot, in->piece_ids[k]));
        }
    }
}

/* ---- goods, services, fires, home -------------------------------------------------------------------------------- */

static bool has_item(const struct pw_task *t, int item)
{
  bool has = false;
  for (int k = 0; k < t->n_items; k++)
    has = has || t->items[k] == item;
  return has;
}

static int n_from_two; /* deliveries besides the first of their item, before something made of it */

/* Soft buns taken in at 11:30 for a lunch at 11:30; sausage taken in and made ready at the same minute; four trays of sausage in the house,
 * the fifth still at the butcher's, and all five made ready. */
static void taken_in_before_use(const struct seen *s)
{
  for (int item = 0; item < s->ev->n_items; item++)
    for (int in = 0, n_in = 0; in < s->n; in++) {
      if (s->tasks[in].kind != PW_TASK_TAKE_IN || !has_item(&s->tasks[in], item))
        continue;
      n_in++;
      for (int i = 0; i < s->n; i++) {
        if (!has_item(&s->tasks[i], item))
          continue;
        if (s->tasks[i].kind == PW_TASK_ORDER && strcmp(s->tasks[i].where, s->tasks[in].where) == 0)
          in_turn(s, &s->tasks[i], &s->tasks[in]);
        else if (s->tasks[i].kind != PW_TASK_ORDER && s->tasks[i].kind != PW_TASK_TAKE_IN) {
          in_turn(s, &s->tasks[in], &s->tasks[i]);
          n_from_two += n_in > 1;
        }
      }
    }
  for (int lot = 0; lot < s->plan->lots.n_lots; lot++) /* each prep names what it is made of */
    for (int i = 0; i < s->n; i++) {
      bool is_bought = false;
      for (int k = 0; k < s->plan->purchase.n_lines; k++)
        is_bought = is_bought || s->plan->purchase.lines[k].item == s->ev->cuts[s->plan->lots.lots[lot].cut].item;
      if (is_bought && s->tasks[i].kind == PW_TASK_PREP && s->tasks[i].lot == lot)
        ck_assert_msg(s->tasks[i].n_items > 0, "%s: \"%s\" is made of nothing", s->name, s->tasks[i].what);
    }
}

/* The wood looked over at 02:40 for a fire lit at 23:20. */
static void wood_before_fire(const struct seen *s)
{
  for (int i = 0; i < s->n; i++)
    for (int k = 0; k < s->n; k++)
      if (s->tasks[i].kind == PW_TASK_TAKE_IN && s->tasks[i].n_items == 0 && s->tasks[k].kind == PW_TASK_LIGHT)
        in_turn(s, &s->tasks[i], &s->tasks[k]);
  for (int w = 0; w < s->plan->tasks.n_warnings;
       w++) /* in time is in time: nobody is told that hands are short for it */
    for (int k = 0; k < s->plan->tasks.warnings[w].n_tasks; k++) {
      const struct pw_task *t = &s->tasks[s->plan->tasks.warnings[w].tasks[k]];
      ck_assert_msg(t->kind != PW_TASK_TAKE_IN || t->n_items > 0 || t->person == PW_NONE, "%s: %s", s->name,
                    s->plan->tasks.warnings[w].text);
    }
}

static void served_and_cleared(const struct seen *s)
{
  for (int i = 0; i < s->n; i++)
    for (int k = 0; k < s->n; k++) {
      const struct pw_task *a = &s->tasks[i], *b = &s->tasks[k];
      if (a->service == PW_NONE || a->service != b->service)
        continue;
      bool is_turn = (is_kind(a, KIND(SET_UP) | KIND(PAN_UP)) && b->kind == PW_TASK_SERVE) ||
                     (a->kind == PW_TASK_SERVE && is_kind(b, KIND(CLEAR) | KIND(COOL))) ||
                     (a->kind == PW_TASK_COOL && b->kind == PW_TASK_COOL_CHECK && b->lot == PW_NONE);
      if (is_turn)
        in_turn(s, a, b);
    }
}

static bool is_cut_by_somebody(const struct seen *s, int lot)
{
  for (int i = 0; i < s->n; i++)
    if (s->tasks[i].kind == PW_TASK_CUT && s->tasks[i].lot == lot)
      return true;
  return false;
}

/* Tri-tip panned up at 18:45 and sliced at 18:53: what is cut for a meal goes into its pans as it is ready, and the line says so. */
static void filled_as_it_is_ready(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *pans = &s->tasks[i];
    if (pans->kind != PW_TASK_PAN_UP)
      continue;
    const char *ready = strstr(pans->what, "as each is ready: ");
    for (int lot = 0; lot < s->plan->lots.n_lots; lot++)
      for (int d = 0; d < s->ev->n_dishes && s->plan->lots.lots[lot].service == pans->service; d++) {
        const char *at = strstr(pans->what, s->ev->dishes[d].name);
        if (s->ev->dishes[d].cut == s->plan->lots.lots[lot].cut && at && is_cut_by_somebody(s, lot))
          ck_assert_msg(ready && at > ready, "%s: \"%s\": %s is cut", s->name, pans->what, s->ev->dishes[d].name);
      }
  }
}

/* Where hands are enough the last pan is full no sooner than the first of each lot is cut, where that is before the guests. */
START_TEST(filled_after_the_knives)
{
  enum { LAST_PAN_MIN = 2 }; /* by whoever cuts */
  int n = 0;
  for (int e = 0; e < N_EVENTS; e++) {
    struct seen s = {g_events[e], g_plans[e], g_plans[e]->tasks.tasks, g_plans[e]->tasks.n_tasks, ""};
    bool is_short = s.ev->n_services > 2; /* the fair's hands are at two meals at once: there the words have to do */
    for (int i = 0; i < s.n; i++)
      is_short |= s.tasks[i].person == PW_NONE;
    for (int lot = 0; lot < s.plan->lots.n_lots && !is_short; lot++) {
      const struct pw_task *cut = NULL;
      const struct pw_lot *l = &s.plan->lots.lots[lot];
      for (int i = 0; i < s.n; i++)
        if (s.tasks[i].kind == PW_TASK_CUT && s.tasks[i].lot == lot && (!cut || s.tasks[i].at_min < cut->at_min))
          cut = &s.tasks[i];
      if (!cut || l->wave > 0 || cut->at_min + cut->minutes > s.ev->services[l->service].at_min)
        continue;
      for (int i = 0; i < s.n; i++)
        if (s.tasks[i].kind == PW_TASK_PAN_UP && s.tasks[i].service == l->service) {
          ck_assert_msg(s.tasks[i].at_min + s.tasks[i].minutes + LAST_PAN_MIN >= cut->at_min + cut->minutes,
                        "%s: \"%s\" is over at %d, \"%s\" at %d", g_events[e]->name, s.tasks[i].what,
                        s.tasks[i].at_min + s.tasks[i].minutes, cut->what, cut->at_min + cut->minutes);
          n++;
        }
    }
  }
  ck_assert_int_gt(n, 2);
}
END_TEST

/* The leftovers read after everybody has left; anything else on site likewise. */
static void home_is_last(const struct seen *s)
{
  const struct pw_task *home = NULL;
  for (int i = 0; i < s->n; i++)
    if (s->tasks[i].kind == PW_TASK_DRIVE && strcmp(s->tasks[i].what, "Drive home") == 0)
      home = &s->tasks[i];
  for (int i = 0; i < s->n && home; i++)
    if (s->tasks[i].at == PW_AT_SITE)
      in_turn(s, &s->tasks[i], home);
}

/* "Ash out, once it is cold" three hours after the last feed and a quarter of an hour before relighting; a fire let out in the evening
 * that nobody looked at before the crew went to bed. */
static void ash_is_last_of_a_fire(const struct seen *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  for (int b = 0; b < al->n_burns; b++) {
    int again = INT_MAX, n_looks = 0, n_rakes = 0, out = al->burns[b].out_at_min, home = out + 120;
    for (int k = 0; k < al->n_burns; k++)
      if (al->burns[k].pit == al->burns[b].pit && al->burns[k].lit_at_min > al->burns[b].lit_at_min &&
          al->burns[k].lit_at_min < again)
        again = al->burns[k].lit_at_min;
    for (int v = 0; v < s->ev->n_services; v++) {
      int over = s->ev->services[v].at_min + s->ev->services[v].length_min + 60;
      home = over > home && (again == INT_MAX || over < again) ? over : home;
    }
    for (int i = 0; i < s->n; i++) {
      const struct pw_task *ash = &s->tasks[i];
      if (ash->kind != PW_TASK_ASH || ash->pit != al->burns[b].pit || ash->at_min < al->burns[b].lit_at_min ||
          (again != INT_MAX && ash->at_min > again))
        continue;
      for (int k = 0; k < s->n; k++) {
        const struct pw_task *t = &s->tasks[k];
        if (t->pit == ash->pit && is_kind(t, KIND(FEED) | KIND(BURN_DOWN)) && t->at_min >= al->burns[b].lit_at_min &&
            t->at_min < again)
          in_turn(s, t, ash);
        if (t->pit == ash->pit && t->kind == PW_TASK_LIGHT && t->at_min >= again && again != INT_MAX)
          in_turn(s, ash, t);
      }
      if (strstr(ash->what, "Rake")) { /* hot ash: a can with a lid */
        n_rakes++;
        ck_assert_msg(strstr(ash->target, "hot") && strstr(ash->target, "lid"), "%s: %s", s->name, ash->target);
      } else { /* cold only after a day: it stays, and is looked at once it can be out and before they are all gone */
        n_looks++;
        ck_assert_msg(strstr(ash->target, "stays") && ash->at_min >= out + 60 && ash->at_min <= home + 60,
                      "%s: %s at %d, out of food at %d, the crew leaves at %d", s->name, ash->what, ash->at_min, out,
                      home);
      }
    }
    bool is_night = again == INT_MAX || again - out >= 4 * 60;
    ck_assert_msg(n_rakes == (again != INT_MAX) && n_looks == is_night,
                  "%s: burn %d is looked at %d times, raked out %d", s->name, b, n_looks, n_rakes);
  }
}

/* Brine bought and stirred into nothing: "trim and rub" was all the sheets said.  In it as long as the catalog asks, or told. */
static void brined_in_time(const struct seen *s)
{
  int n_untold = 0;
  for (int lot = 0; lot < s->plan->lots.n_lots; lot++) {
    const struct pw_brine *brine = &s->ev->cuts[s->plan->lots.lots[lot].cut].brine;
    int first_load = INT_MAX;
    for (int l = 0; l < s->plan->allocation.n_loads; l++)
      if (s->plan->allocation.loads[l].lot == lot && s->plan->allocation.loads[l].start_at_min < first_load)
        first_load = s->plan->allocation.loads[l].start_at_min;
    for (int piece = 0; piece < s->plan->lots.lots[lot].pieces; piece++) {
      const struct pw_task *in = task_of(s, KIND(BRINE), lot, piece), *out = task_of(s, KIND(PREP), lot, piece);
      if (!in || !out) {
        n_untold += brine->is_used && out;
        ck_assert_msg(!in, "%s: \"%s\", and nobody takes it out", s->name, in->what);
        continue;
      }
      int lies = out->at_min - end_of(in), late = out->at_min - (first_load - 30); /* hands short: told */
      ck_assert_msg(brine->is_used && lies >= brine->least_min &&
                        (out->person == PW_NONE || lies <= brine->most_min + (late > 0 ? late : 0)),
                    "%s: \"%s\" at %d, \"%s\" at %d: %d min, %d to %d are asked for", s->name, in->what, in->at_min,
                    out->what, out->at_min, lies, brine->least_min, brine->most_min);
    }
  }
  bool is_told = false;
  for (int i = 0; i < s->plan->tasks.n_warnings; i++)
    is_told = is_told || strcmp(s->plan->tasks.warnings[i].code, "not-brined") == 0;
  ck_assert_msg(is_told == (n_untold > 0), "%s: %d pieces are not brined, told: %d", s->name, n_untold, is_told);
}

/* ---- people -------------------------------------------------------------------------------------------------------- */

static enum pw_at from_of(const struct pw_task *t)
{
  return t->at != PW_AT_ROAD ? t->at : strcmp(t->what, "Drive home") == 0 ? PW_AT_SITE : PW_AT_KITCHEN;
}

static enum pw_at to_of(const struct pw_task *t)
{
  return t->at != PW_AT_ROAD ? t->at : strcmp(t->what, "Drive home") == 0 ? PW_AT_KITCHEN : PW_AT_SITE;
}

/* Potato salad "in the kitchen" by the man who tends the fire on site. */
static void one_thing_in_one_place(const struct seen *s)
{
  for (int p = 0; p < s->plan->tasks.n_people; p++) {
    const struct pw_crew *line = &s->ev->crew[s->plan->tasks.people[p].crew];
    const struct pw_task *before = NULL;
    for (int i = 0; i < s->n; i++) {
      const struct pw_task *t = &s->tasks[i];
      if (t->person != p)
        continue;
      ck_assert_msg(t->at_min >= line->from_at_min && end_of(t) <= line->to_at_min, "%s: \"%s\" at %d, off shift",
                    s->name, t->what, t->at_min);
      ck_assert_int_eq(t->crew, s->plan->tasks.people[p].crew);
      int way = before && to_of(before) != from_of(t) ? s->ev->site.travel_min : 0;
      if (before)
        ck_assert_msg(end_of(before) + way <= t->at_min,
                      "%s: %s is at \"%s\" until %d, %d min away, and \"%s\" begins at %d", s->name,
                      s->plan->tasks.people[p].id, before->what, end_of(before), way, t->what, t->at_min);
      before = t;
    }
  }
}

/* ---- the graph, and what is said -------------------------------------------------------------------------------------- */

static bool warns(const struct seen *s, const char *code)
{
  for (int i = 0; i < s->plan->tasks.n_warnings; i++)
    if (strcmp(s->plan->tasks.warnings[i].code, code) == 0)
      return true;
  return false;
}

/* Read from the top, each line can be done: all it comes after stands above it and is over. */
static void line_by_line(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    ck_assert_msg(i == 0 || t[-1].at_min <= t->at_min, "%s: line %d is earlier than the one above", s->name, i);
    ck_assert_msg(t->latest_min >= t->at_min, "%s: \"%s\" at %d, latest %d", s->name, t->what, t->at_min,
                  t->latest_min);
    ck_assert_msg((t->person == PW_NONE) == (t->crew == PW_NONE), "%s: \"%s\"", s->name, t->what);
    if (t->person == PW_NONE)
      ck_assert_msg(warns(s, "nobody-on-shift") || warns(s, "hands-short"),
                    "%s: nobody does \"%s\" and nothing says so", s->name, t->what);
    for (int k = 0; k < t->n_after; k++) {
      ck_assert_msg(t->after[k] >= 0 && t->after[k] < i, "%s: line %d comes after line %d", s->name, i, t->after[k]);
      in_turn(s, &s->tasks[t->after[k]], t);
    }
  }
}

/* Begun as late as it says, a door's work is over before the same hands' next, and their shift. */
static void slack_has_hands(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    if (t->slack_min == 0)
      continue;
    int end = t->at_min + t->minutes + t->slack_min;
    ck_assert_msg(t->person != PW_NONE && t->slack_min > 0 && t->lot != PW_NONE, "%s: \"%s\" has slack", s->name,
                  t->what);
    ck_assert_int_le(end, s->ev->crew[s->plan->tasks.people[t->person].crew].to_at_min);
    for (int k = 0; k < s->n; k++) {
      const struct pw_task *next = &s->tasks[k];
      bool is_visit = t->visit && next->visit && strcmp(t->visit, next->visit) == 0;
      if (k != i && !is_visit && next->person == t->person && next->at_min >= t->at_min)
        ck_assert_msg(next->at_min >= end, "%s: \"%s\" until %d, and \"%s\" at %d", s->name, t->what, end, next->what,
                      next->at_min);
      if (is_visit && next->slack_min > 0)
        ck_assert_int_eq(next->slack_min, t->slack_min);
    }
  }
}

/* One sentence for a cause, and what would mend it. */
static void told_once(const struct seen *s)
{
  const struct pw_tasks *tasks = &s->plan->tasks;
  for (int i = 0; i < tasks->n_warnings; i++) {
    for (int k = 0; k < i; k++)
      ck_assert_msg(strcmp(tasks->warnings[i].text, tasks->warnings[k].text) != 0, "%s: told twice: %s", s->name,
                    tasks->warnings[i].text);
    if (strcmp(tasks->warnings[i].code, "hands-short") == 0)
      ck_assert_msg(strstr(tasks->warnings[i].text, "duty") && strstr(tasks->warnings[i].text, "would solve it"),
                    "%s: %s", s->name, tasks->warnings[i].text);
  }
}

static void judged(const struct seen *s, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  struct pw_judge judge = {.ctx = ctx, .file = "plan.json"};
  struct pw_seen_plan seen;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, s->plan, ctx), PW_OK);
  ck_assert_int_eq(pw_read_plan(&seen, text, n, &judge), PW_OK);
  ck_assert_msg(judge.n_findings == 0, "%s: %s", s->name, ctx->n_diags ? ctx->diags[0].text : "");
  ck_assert_int_eq(pw_check_order(&judge, &seen), PW_OK);
  ck_assert_msg(judge.n_findings == 0, "%s: %s", s->name, ctx->n_diags ? ctx->diags[0].text : "");
}

/* Where the event says that things are made ready they are, on site not before the first drive is there. */
static void made_ready_in_its_place(const struct seen *s)
{
  enum pw_prep_place asked = s->ev->site.prep;
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    if (t->kind == PW_TASK_PREP && asked != PW_PREP_EITHER)
      ck_assert_msg(t->at == (asked == PW_PREP_SITE ? PW_AT_SITE : PW_AT_KITCHEN) &&
                        (asked == PW_PREP_SITE) == (strncmp(t->where, "on site", 7) == 0),
                    "%s: \"%s\", %s", s->name, t->what, t->where);
  }
}

/* No food goes into an oven or a box that nobody made hot since it last stood empty for long. */
static void hot_before_food(const struct seen *s)
{
  for (int f = 0; f < s->ev->n_finishers; f++) {
    const struct pw_finisher *fin = &s->ev->finishers[f];
    int place = s->ev->n_pits + f;
    for (int i = 0; i < s->plan->allocation.n_loads && fin->heat_up_min > 0; i++) {
      const struct pw_load *in = &s->plan->allocation.loads[i];
      int empty_from = INT_MIN, heated = INT_MIN;
      bool is_first = in->finisher == f && in->zone == PW_NONE;
      for (int k = 0; k < s->plan->allocation.n_loads; k++) {
        const struct pw_load *o = &s->plan->allocation.loads[k];
        if (o->finisher != f || o->zone != PW_NONE || o->start_at_min > in->start_at_min)
          continue;
        is_first = is_first && (k >= i || o->start_at_min < in->start_at_min);
        if (o->start_at_min < in->start_at_min && o->end_at_min > empty_from)
          empty_from = o->end_at_min;
      }
      if (!is_first || (empty_from != INT_MIN && in->start_at_min - empty_from <= fin->off_after_min))
        continue;
      for (int k = 0; k < s->n; k++)
        if (s->tasks[k].kind == PW_TASK_HEAT_UP && s->tasks[k].place == place &&
            end_of(&s->tasks[k]) <= in->start_at_min && s->tasks[k].at_min > heated)
          heated = s->tasks[k].at_min;
      bool has_sides = false; /* they may have gone in before, and kept it on */
      for (int k = 0; k < s->plan->lots.n_side_pans; k++)
        has_sides = has_sides || s->plan->lots.side_pans[k].finisher == f;
      ck_assert_msg(heated != INT_MIN && (has_sides || heated >= empty_from),
                    "%s: \"%s\" is cold when food goes in at %d", s->name, fin->name, in->start_at_min);
    }
  }
}

/* "Hot by 17:30" for a box whose corn is read at 17:00: the minute on the line is that of the first food in it, pans of sides among it. */
static void hot_by_the_first_food(const struct seen *s)
{
  for (int i = 0; i < s->n; i++) {
    const struct pw_task *t = &s->tasks[i];
    if (t->kind != PW_TASK_HEAT_UP || (!strstr(t->target, " by ") && !strstr(t->target, "dry at")))
      continue;
    int f = t->place - s->ev->n_pits, first = INT_MAX;
    for (int k = 0; k < s->plan->allocation.n_loads; k++) {
      const struct pw_load *l = &s->plan->allocation.loads[k];
      int from = l->is_carried ? l->carried_at_min : l->start_at_min;
      if (l->zone == PW_NONE && l->finisher == f && from > t->at_min && from < first)
        first = from;
    }
    for (int k = 0; k < s->plan->lots.n_side_pans; k++) {
      const struct pw_side_pans *p = &s->plan->lots.side_pans[k];
      if (p->finisher == f && p->from_at_min > t->at_min && p->from_at_min < first)
        first = p->from_at_min;
    }
    for (int k = 0; k < s->plan->lots.n_reheats; k++) {
      const struct pw_reheat *r = &s->plan->lots.reheats[k];
      if (r->finisher == f && r->from_at_min > t->at_min && r->from_at_min < first)
        first = r->from_at_min;
    }
    ck_assert_msg(first < INT_MAX && strstr(t->target, pw_when_clock(s->ev, first).s) != NULL,
                  "%s: \"%s\": \"%s\", first food %s", s->name, t->what, t->target, pw_when_clock(s->ev, first).s);
  }
}

/* What was heated is switched off by whoever clears, and never with food in it. */
static void switched_off_empty(const struct seen *s)
{
  for (int f = 0; f < s->ev->n_finishers; f++) {
    const char *name = s->ev->finishers[f].name;
    int last = INT_MIN, off = INT_MIN;
    bool is_heated = false;
    for (int k = 0; k < s->n; k++)
      is_heated |= s->tasks[k].kind == PW_TASK_HEAT_UP && s->tasks[k].place == s->ev->n_pits + f;
    for (int k = 0; k < s->n; k++) {
      const struct pw_task *t = &s->tasks[k];
      const char *words = t->kind == PW_TASK_CLEAR ? strstr(t->target, "switched off: ") : NULL;
      if (words && strstr(words, name) && t->at_min > off)
        off = t->at_min;
      for (int i = 0; words && strstr(words, name) && i < s->plan->allocation.n_loads; i++) {
        const struct pw_load *l = &s->plan->allocation.loads[i];
        ck_assert_msg(l->zone != PW_NONE || l->finisher != f || l->start_at_min > t->at_min ||
                          l->end_at_min <= t->at_min,
                      "%s: \"%s\" goes off at %d with food in it", s->name, name, t->at_min);
      }
    }
    for (int i = 0; i < s->plan->allocation.n_loads; i++) {
      const struct pw_load *l = &s->plan->allocation.loads[i];
      if (l->zone == PW_NONE && l->finisher == f && l->end_at_min > last)
        last = l->end_at_min;
    }
    if (is_heated && s->ev->finishers[f].loss_frac_h <= 0)
      ck_assert_msg(off != INT_MIN && off >= last, "%s: nobody switches \"%s\" off", s->name, name);
  }
}

static void (*const RULES[])(const struct seen *) = {line_by_line,
                                                     made_ready_in_its_place,
                                                     slack_has_hands,
                                                     pieces_in_turn,
                                                     wrapped_and_carried_in_one_go,
                                                     cut_when_off_and_rested,
                                                     read_where_they_are,
                                                     off_before_the_next_on_that_spot,
                                                     taken_in_before_use,
                                                     wood_before_fire,
                                                     served_and_cleared,
                                                     filled_as_it_is_ready,
                                                     home_is_last,
                                                     ash_is_last_of_a_fire,
                                                     brined_in_time,
                                                     one_thing_in_one_place,
                                                     hot_before_food,
                                                     hot_by_the_first_food,
                                                     switched_off_empty,
                                                     told_once};
enum { N_RULES = sizeof RULES / sizeof *RULES };

START_TEST(the_events_as_they_are)
{
  for (int i = 0; i < N_EVENTS; i++) {
    struct seen s = {g_events[i], g_plans[i], g_plans[i]->tasks.tasks, g_plans[i]->tasks.n_tasks, ""};
    snprintf(s.name, sizeof s.name, "%s", g_events[i]->name);
    ck_assert_int_gt(s.n, 20);
    RULES[_i](&s);
  }
}
END_TEST

/* Twenty minutes between two sittings: tables are cleared by both who are free, and before the next guests sit down. */
START_TEST(cleared_between_two_sittings)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event_with(
      "events/garden-lunch.yaml",
      "---\n"
      "services:\n"
      "  - {id: lunch, time: \"12:30\", length: 40 min}\n"
      "  - {id: second, name: Second sitting, time: \"13:30\", length: 40 min,\n"
      "     guests: {adults: 18, children: 6}, menu: thighs-and-sausage}\n"
      "crew:\n"
      "  - {role: second helper, duties: [prep, carve, serve, clean], from: \"10:00\", to: \"16:00\",\n"
      "     rate: 17 per h}\n",
      ctx);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  struct seen s = {ev, plan, plan->tasks.tasks, plan->tasks.n_tasks, "two sittings"};
  int n = 0;
  for (int i = 0; i < s.n; i++)
    if (s.tasks[i].kind == PW_TASK_CLEAR && s.tasks[i].service == 0) {
      n++;
      ck_assert_int_ne(s.tasks[i].person, PW_NONE);
      ck_assert_int_le(end_of(&s.tasks[i]), ev->services[1].at_min);
    }
  ck_assert_int_eq(n, 2);
  for (int r = 0; r < N_RULES; r++)
    RULES[r](&s);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Every rule must have something to look at in some event, or it holds for nothing. */
START_TEST(the_events_have_each_kind)
{
  uint64_t kinds = 0;
  bool is_relit = false, is_kept = false, is_travel = false;
  for (int i = 0; i < N_EVENTS; i++) {
    is_travel = is_travel || g_events[i]->site.travel_min > 0;
    for (int k = 0; k < g_plans[i]->tasks.n_tasks; k++) {
      const struct pw_task *t = &g_plans[i]->tasks.tasks[k];
      kinds |= UINT64_C(1) << t->kind;
      is_relit = is_relit || (t->kind == PW_TASK_ASH && strstr(t->target, "hot"));
      is_kept = is_kept || (t->kind == PW_TASK_ASH && strstr(t->target, "stays"));
    }
  }
  uint64_t wanted = KIND(ORDER) | KIND(TAKE_IN) | KIND(PREP) | KIND(DRIVE) | KIND(SET_UP) | KIND(LIGHT) | KIND(FEED) |
                    KIND(FIRE_CHECK) | KIND(LOAD) | KIND(BARK_TEST) | KIND(MOP) | KIND(CORE) | WRAPS | KIND(PROBE) |
                    KIND(OFF) | KIND(REST_OVER) | KIND(HOLD_CHECK) | KIND(CUT) | KIND(CHILL) | KIND(REHEAT) |
                    KIND(PAN_UP) | KIND(SERVE) | KIND(CLEAR) | KIND(COOL) | KIND(COOL_CHECK) | KIND(BURN_DOWN) |
                    KIND(ASH) | KIND(BRINE) | KIND(HEAT_UP);
  ck_assert_msg((kinds & wanted) == wanted, "kinds %llx are missing", (unsigned long long)(wanted & ~kinds));
  ck_assert(is_relit && is_kept && is_travel);
  for (int i = 0; i < N_EVENTS; i++) {
    struct seen s = {g_events[i], g_plans[i], g_plans[i]->tasks.tasks, g_plans[i]->tasks.n_tasks, ""};
    taken_in_before_use(&s);
  }
  ck_assert_msg(n_from_two > 0, "nothing comes from two suppliers");
}
END_TEST

/* Called people come when the fire needs them, not an hour before it: the wood is looked over then, in time, and nobody is short. */
START_TEST(wood_within_the_hour)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = *g_events[_i];
  struct pw_plan plan = *g_plans[_i];
  int lit = INT_MAX, n_wood = 0;
  for (int b = 0; b < plan.allocation.n_burns; b++)
    lit = plan.allocation.burns[b].lit_at_min < lit ? plan.allocation.burns[b].lit_at_min : lit;
  struct pw_crew *crew = pw_arena_array(ctx->arena, (size_t)ev.n_crew, sizeof *crew);
  if (!crew && ev.n_crew > 0)
    abort();
  for (int k = 0; k < ev.n_crew; k++) {
    crew[k] = g_events[_i]->crew[k];
    crew[k].from_at_min = lit - 45;
    crew[k].to_at_min = crew[k].to_at_min > lit + 600 ? crew[k].to_at_min : lit + 600;
  }
  ev.crew = crew;
  ev.site.travel_min = 0;
  plan.event = &ev;
  ck_assert_int_eq(pw_tasks_make(&plan.tasks, &plan, ctx), PW_OK);
  struct seen s = {&ev, &plan, plan.tasks.tasks, plan.tasks.n_tasks, ""};
  snprintf(s.name, sizeof s.name, "%s, nobody there sooner", ev.name);
  wood_before_fire(&s);
  for (int i = 0; i < s.n; i++)
    if (s.tasks[i].kind == PW_TASK_TAKE_IN && s.tasks[i].n_items == 0 && s.tasks[i].person != PW_NONE) {
      ck_assert_msg(s.tasks[i].at_min > lit - 60, "%s: at %d, lit at %d", s.name, s.tasks[i].at_min, lit);
      n_wood++;
    }
  ck_assert_msg(n_wood == 1, "%s: looked over %d times", s.name, n_wood);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(whatever_the_crew)
{
  state = 100 + (uint64_t)_i;
  for (int c = 0; c < N_CREWS; c++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_event ev = *g_events[_i];
    struct pw_plan plan = *g_plans[_i];
    struct pw_crew *crew = pw_arena_array(ctx->arena, (size_t)ev.n_crew, sizeof *crew);
    if (!crew && ev.n_crew > 0)
      abort();
    for (int k = 0; k < ev.n_crew; k++) {
      crew[k] = g_events[_i]->crew[k];
      crew[k].count = 1 + below(crew[k].count + 1);
      crew[k].guests_per_hand = below(2) ? crew[k].guests_per_hand : 0;
      crew[k].from_at_min += below(3) ? 0 : 15 * below(12);
      crew[k].to_at_min -= below(3) ? 0 : 15 * below(12);
      if (crew[k].to_at_min < crew[k].from_at_min + 60)
        crew[k].to_at_min = crew[k].from_at_min + 60;
      if (below(4) == 0)
        crew[k].duties &= ~(1u << below(PW_DUTY__COUNT));
      if (crew[k].duties == 0)
        crew[k].duties = 1u << PW_DUTY_PREP;
    }
    ev.crew = crew;
    ev.n_crew -= ev.n_crew > 1 && below(5) == 0;
    if (ev.site.travel_min > 0)
      ev.site.travel_min = 5 + below(120);
    ev.site.prep = (enum pw_prep_place)below(3);
    plan.event = &ev;
    struct pw_fuel_rates rates;
    ck_assert_int_eq(pw_fuel_rates_make(&rates, &ev, ctx), PW_OK);
    ck_assert_int_eq(pw_task_doors_make(&plan, &rates, ctx), PW_OK);
    struct seen s = {&ev, &plan, plan.tasks.tasks, plan.tasks.n_tasks, ""};
    snprintf(s.name, sizeof s.name, "%s, crew %d", ev.name, c);
    for (int r = 0; r < N_RULES; r++)
      RULES[r](&s);
    plan.warnings = plan.tasks.warnings; /* as run.c gathers them: the judge asks whether somebody was told */
    plan.n_warnings = plan.tasks.n_warnings;
    judged(&s, ctx);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

static Suite *task_order_suite(void)
{
  Suite *s = suite_create("task_order");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, plan_all, forget_all);
  tcase_add_loop_test(t, the_events_as_they_are, 0, N_RULES);
  tcase_add_test(t, cleared_between_two_sittings);
  tcase_add_test(t, filled_after_the_knives);
  tcase_add_test(t, the_events_have_each_kind);
  tcase_add_loop_test(t, wood_within_the_hour, 0, N_EVENTS);
  tcase_add_loop_test(t, whatever_the_crew, 0, N_EVENTS);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(task_order_suite)
