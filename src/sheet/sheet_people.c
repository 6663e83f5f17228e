/* sheet_people.c - a sheet for each pair of hands, and one for each fire.
 * A person's sheet has every task of theirs in order but the feeds, which the fire's sheet alone has: one line sends them there. */
#include "base/arena.h"
#include "base/when.h"
#include "plan/crew/task_kind.h"
#include "sheet/fire_lines.h"
#include "sheet/sheet_pen.h"
#include "sheet/slack_words.h"
#include "sheet/visit_words.h"
#include "sheet/words.h"

#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

/* ---- people ------------------------------------------------------------------------------------------------ */

static bool is_of(const struct pw_task *t, int person) { return t->person == person; }

/** Whether tasks a and b are feeds of one fire that one person lays on. */
static bool are_feeds_of_one(const struct pw_plan *plan, int a, int b)
{
  const struct pw_task *t = &plan->tasks.tasks[a], *u = &plan->tasks.tasks[b];
  return t->kind == PW_TASK_FEED && u->kind == PW_TASK_FEED && is_of(t, u->person) &&
         pw_fire_burn_of(plan, t) == pw_fire_burn_of(plan, u) && t->pit == u->pit;
}

/** Whether task i is the first feed of its fire that this person does. */
static bool is_first_feed(const struct pw_plan *plan, int i)
{
  for (int k = 0; k < i; k++)
    if (are_feeds_of_one(plan, k, i))
      return false;
  return true;
}

static const char *feeds_words(struct pw_sheet_pen *pen, int i)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  const struct pw_task *t = &tasks->tasks[i];
  int last = i, n = 0;
  for (int k = i; k < tasks->n_tasks; k++)
    if (are_feeds_of_one(pen->plan, i, k)) {
      last = k;
      n++;
    }
  const char *pit = pen->ev->pits[t->pit].name;
  return n == 1 ? TEXT("Feed %s: your name on its fire sheet", pit)
                : TEXT("From now on feed %s, %d times until %s: your name on its fire sheet", pit, n,
                       pw_view_when(pen->view, pw_fire_feed_min(pen->plan, last)));
}

/** What to do: a feed is told once for all of its fire. */
static const char *act_words(struct pw_sheet_pen *pen, int i)
{
  const struct pw_task *t = &pen->plan->tasks.tasks[i];
  return t->kind == PW_TASK_FEED ? feeds_words(pen, i) : pw_pen_task(pen, t);
}

/** What the sheet has said already. */
struct said {
  const char *target[PW_TASK__COUNT];
  const char *where, *day;
  int served; /**< the service whose allergens stand above; PW_NONE */
};

/** Whether a shift is of the person the sheet is for; PW_NONE: what is nobody's. */
static bool is_mine(const struct pw_sheet_pen *pen, int hand, int person)
{
  return person == PW_NONE || hand == PW_NONE ? person == hand : pen->plan->tasks.people[person].hand == hand;
}

/** Of which person's sheet pw_visit_words() speaks. */
struct mine {
  const struct pw_sheet_pen *pen;
  int hand;
};

static bool is_on_sheet(const struct pw_task *t, const void *of)
{
  const struct mine *mine = of;
  return is_mine(mine->pen, mine->hand, t->person);
}

/** Where it is done, without what the door's words or the act have said: "middle" behind "Trailer pit, opening 6: load". */
static const char *where_left(struct pw_sheet_pen *pen, const struct pw_task *t, const char *where, const char *door,
                              const char *act)
{
  const char *pit = t->pit == PW_NONE ? "" : pen->ev->pits[t->pit].name;
  size_t n = strlen(pit);
  if (t->kind == PW_TASK_HEAT_UP) /* its words name it */
    return "";
  if (n == 0 || strncmp(where, pit, n) != 0)
    return where;
  if (!where[n])
    return strstr(act, pit) || door[0] ? "" : where;
  return door[0] && strncmp(where + n, ", ", 2) == 0 ? pw_view_capital(pen->view, where + n + 2) : where;
}

static void task_row(struct pw_sheet_pen *pen, int i, int hand, struct said *state)
{
  const struct pw_task *t = &pen->plan->tasks.tasks[i];
  bool is_feed = t->kind == PW_TASK_FEED;
  bool is_served = t->kind == PW_TASK_SERVE && t->service == state->served; /* back from the knives */
  bool says_target = !is_feed && pw_view_says_target(t, state->target) && !is_served;
  state->served = t->kind == PW_TASK_SERVE ? t->service : state->served;
  bool is_at_fire = t->kind == PW_TASK_FIRE_CHECK || t->kind == PW_TASK_BURN_DOWN || t->kind == PW_TASK_ASH;
  bool says_where =
      t->where && (is_at_fire || strcmp(t->where, state->where) != 0); /* which fire is never left to the line above */
  const char *where = !is_feed && says_where ? t->where : "";
  if (!is_feed && t->where && t->where[0])
    state->where = t->where;
  const char *door = pw_visit_words(pen->view, i, is_on_sheet, &(struct mine){pen, hand});
  const char *act = act_words(pen, i);
  where = where_left(pen, t, where, door, act);
  pw_pen_row(pen, TEXT("t%d", i + 1), t->at_min);
  pw_pen_open(pen);
  pw_pen_cell_more(pen, TEXT("%s", pw_when_clock(pen->ev, t->at_min).s), TEXT("%s", pw_slack_short(pen->ev, t).s));
  pw_pen_cell_more(pen, act,
                   TEXT("%s%s%s%s%s", door,
                        !door[0]      ? ""
                        : where[0]    ? ". "
                        : says_target ? "; "
                                      : "",
                        where, where[0] && says_target ? ": " : "", says_target ? t->target : ""));
  pw_pen_cell(pen, pw_view_log_word(pen->plan, t));
}

static const struct pw_sheet_column task_columns[] = {{PW_CELL_TICK, "", 3},
                                                      {PW_CELL_TIME, "Time", 9},
                                                      {PW_CELL_ACT, "What, where, when it is right", 0},
                                                      {PW_CELL_NOTE, "Log", 6}};

/** Back to the guests without anything in between: the line before says it. */
static bool goes_on(const struct pw_task *last, const struct pw_task *t)
{
  return last && last->kind == PW_TASK_SERVE && t->kind == PW_TASK_SERVE && last->service == t->service &&
         last->at_min + last->minutes >= t->at_min;
}

static void tasks_of(struct pw_sheet_pen *pen, int hand)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  struct said said = {.where = "", .day = "", .served = PW_NONE};
  bool has_reading = false;
  for (int i = 0; i < tasks->n_tasks; i++)
    has_reading |= is_mine(pen, hand, tasks->tasks[i].person) && pw_view_log_word(pen->plan, &tasks->tasks[i])[0];
  int n_columns = (int)(sizeof task_columns / sizeof *task_columns) -
                  (has_reading ? 0 : 1); /* the last says where a reading goes */
  pw_pen_table(pen, NULL, NULL, task_columns, n_columns);
  const struct pw_task *last = NULL;
  for (int i = 0; i < tasks->n_tasks; i++) {
    if (!is_mine(pen, hand, tasks->tasks[i].person) ||
        (tasks->tasks[i].kind == PW_TASK_FEED && !is_first_feed(pen->plan, i)))
      continue;
    bool is_same = goes_on(last, &tasks->tasks[i]);
    last = &tasks->tasks[i];
    if (is_same)
      continue;
    const char *now = TEXT("%s", pw_when_day(pen->ev, tasks->tasks[i].at_min).s);
    if (strcmp(now, said.day) != 0) {
      pw_pen_band(pen, PW_ROW_BAND, now);
      said = (struct said){.where = "", .day = now, .served = PW_NONE};
    }
    task_row(pen, i, hand, &said);
  }
  pw_pen_drop_empty(pen);
}

static bool has_tasks(const struct pw_sheet_pen *pen, int hand)
{
  for (int i = 0; i < pen->plan->tasks.n_tasks; i++)
    if (is_mine(pen, hand, pen->plan->tasks.tasks[i].person))
      return true;
  return false;
}

static const struct pw_crew *crew_of(const struct pw_sheet_pen *pen, int person)
{
  return &pen->ev->crew[pen->plan->tasks.people[person].crew];
}

/** "Sat 09:00 to 16:30, break 12:30 to 13:00" */
static const char *shift_words(struct pw_sheet_pen *pen, const struct pw_crew *c)
{
  const char *span = pw_view_span(pen->view, c->from_at_min, c->to_at_min);
  const struct pw_worked_shift *w = c->worked;
  if (!w || w->break_to_at_min <= w->break_from_at_min)
    return span;
  return TEXT("%s, break %s to %s", span, pw_when_clock(pen->ev, w->break_from_at_min).s,
              pw_when_clock(pen->ev, w->break_to_at_min).s);
}

const char *pw_sheet_shifts(struct pw_sheet_pen *pen, int hand)
{
  const char *text = shift_words(pen, crew_of(pen, hand));
  for (int last = hand, next = hand; next != PW_NONE; last = next) { /* the others in order of time */
    next = PW_NONE;
    for (int p = 0; p < pen->plan->tasks.n_people; p++)
      if (is_mine(pen, hand, p) && crew_of(pen, p)->from_at_min > crew_of(pen, last)->from_at_min &&
          (next == PW_NONE || crew_of(pen, p)->from_at_min < crew_of(pen, next)->from_at_min))
        next = p;
    if (next != PW_NONE)
      text = TEXT("%s; %s", text, shift_words(pen, crew_of(pen, next)));
  }
  return text;
}

/** Too long a shift or day, awake at the wheel, alone by night: first thing on the sheet of whom it is about [H3]. */
static void cautions_of(struct pw_sheet_pen *pen, int hand)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
  for (int p = 0; p < tasks->n_people; p++)
    if (is_mine(pen, hand, p) && tasks->people[p].caution)
      pw_pen_text(pen, "Take care", tasks->people[p].caution);
  pw_pen_drop_empty(pen);
}

/** The sheet of a person, who is named by their first shift, wherever in the list that stands; none without a task. */
static void person(struct pw_sheet_pen *pen, int hand)
{
  struct pw_sheet *sheet = has_tasks(pen, hand) ? pw_pen_sheet(pen, PW_SHEET_PERSON, TEXT("person-%d", hand + 1),
                                                               pw_view_person_head(pen->view, hand),
                                                               TEXT("On shift %s", pw_sheet_shifts(pen, hand)))
                                                : NULL;
  if (!sheet)
    return;
  sheet->who = crew_of(pen, hand)->role;
  cautions_of(pen, hand);
  tasks_of(pen, hand);
}

/** Whether the person whose first shift is a comes before b: sooner, at one minute as listed. */
static bool is_sooner(const struct pw_sheet_pen *pen, int a, int b)
{
  int from_a = crew_of(pen, a)->from_at_min, from_b = crew_of(pen, b)->from_at_min;
  return from_a != from_b ? from_a < from_b : a < b;
}

/** Of one role, by when each comes first: they are numbered so. */
static void people_of(struct pw_sheet_pen *pen, const char *role)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  for (int n = 0, last = PW_NONE; n < tasks->n_people; n++) {
    int next = PW_NONE;
    for (int k = 0; k < tasks->n_people; k++)
      if (tasks->people[k].hand == k && strcmp(crew_of(pen, k)->role, role) == 0 &&
          (last == PW_NONE || is_sooner(pen, last, k)) && (next == PW_NONE || is_sooner(pen, k, next)))
        next = k;
    if (next == PW_NONE)
      return;
    person(pen, next);
    last = next;
  }
}

/** By role, in the order of the roles' first shifts: whoever hands them out finds "hand 3" behind "hand 2". */
void pw_sheet_people(struct pw_sheet_pen *pen)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  for (int p = 0; p < tasks->n_people; p++) {
    const char *role = crew_of(pen, p)->role;
    bool is_done = false;
    for (int k = 0; k < p && !is_done; k++)
      is_done = strcmp(crew_of(pen, k)->role, role) == 0;
    if (!is_done)
      people_of(pen, role);
  }
  if (has_tasks(pen, PW_NONE)) {
    pw_pen_sheet(pen, PW_SHEET_PERSON, "person-none", "Nobody's yet",
                 "Nobody on shift has time for these: give each to somebody before the day.");
    tasks_of(pen, PW_NONE);
  }
}

/* ---- fires -------------------------------------------------------------------------------------------------- */

/** The same for whoever feeds this fire [H3]. */
static void cautions_at_fire(struct pw_sheet_pen *pen, int pit, int from_at_min, int to_at_min)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
  for (int p = 0; p < tasks->n_people; p++) {
    bool is_there = false;
    for (int i = 0; i < tasks->n_tasks && tasks->people[p].caution && !is_there; i++)
      is_there = tasks->tasks[i].person == p && tasks->tasks[i].duty == PW_DUTY_FIRE && tasks->tasks[i].pit == pit &&
                 tasks->tasks[i].at_min >= from_at_min && tasks->tasks[i].at_min <= to_at_min;
    if (is_there)
      pw_pen_text(pen, "Take care", tasks->people[p].caution);
  }
  pw_pen_drop_empty(pen);
}

/** On a mended day: when it was out, and that a fire that still is comes before its feeds. */
static void told_out(struct pw_sheet_pen *pen, const struct pw_burn *burn)
{
  const struct pw_day_now *day = pen->plan->day;
  pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
  for (int i = 0; day && i < day->n_outs; i++) {
    const struct pw_fire_out *out = &day->outs[i];
    if (out->pit != burn->pit || out->from_at_min < burn->lit_at_min || out->from_at_min >= burn->out_at_min)
      continue;
    struct pw_short from = pw_when(pen->ev, out->from_at_min), to = pw_when_clock(pen->ev, out->to_at_min);
    if (out->is_open)
      pw_pen_text(pen, TEXT("Out since %s", from.s),
                  TEXT("Light it again first: charcoal, vents open. The feeds below count from when it burns, here "
                       "taken as %s; no new food on it before the smoke is clean.",
                       to.s));
    else
      pw_pen_text(pen, "Was out", TEXT("%s to %s, by the log.", from.s, to.s));
  }
  pw_pen_drop_empty(pen);
}

/** Whose sheet sends them to the k-th feed of a burn; "": nobody's. */
static const char *feeder(struct pw_sheet_pen *pen, int burn, int k)
{
  int task = pw_fire_feed_task(pen->plan, burn, k),
      person = task == PW_NONE ? PW_NONE : pen->plan->tasks.tasks[task].person;
  return person != PW_NONE ? pen->plan->tasks.people[person].name : "";
}

/** Whether fire a comes before b: by the day it cooks for, the one on which it goes out, then by pit: short ones share a page. */
static bool is_fire_before(const struct pw_sheet_pen *pen, int a, int b)
{
  const struct pw_burn *burns = pen->plan->allocation.burns;
  int day_a = pw_when_day_number(pen->ev, burns[a].out_at_min),
      day_b = pw_when_day_number(pen->ev, burns[b].out_at_min);
  return day_a != day_b ? day_a < day_b : a < b;
}

/** The k-th fire of the job. */
static int fire_at(const struct pw_sheet_pen *pen, int k)
{
  int n = pen->plan->allocation.n_burns;
  for (int b = 0; b < n; b++) {
    int n_before = 0;
    for (int o = 0; o < n; o++)
      n_before += o != b && is_fire_before(pen, o, b);
    if (n_before == k)
      return b;
  }
  return PW_NONE;
}

/** How many lines a fire's list has. */
static int n_lines_of(const struct pw_sheet_pen *pen, int burn)
{
  int n = 0;
  for (int i = 0; i < pen->view->n_fires; i++)
    n += pen->view->fires[i].burn == burn;
  return n;
}

void pw_sheet_fires(struct pw_sheet_pen *pen)
{
  enum { ONE_COLUMN_LINES = 20 }; /* of cells high enough to write in with gloves a page has room for no more */
  static const struct pw_sheet_column both_ends[] = {{PW_CELL_TICK, "", 3},           {PW_CELL_TIME, "Time", 7},
                                                     {PW_CELL_ACT, "What", 0},        {PW_CELL_READING, "Fire end", 7},
                                                     {PW_CELL_READING, "Far end", 7}, {PW_CELL_READING, "Who", 6}},
                                      one_heat[] = {{PW_CELL_TICK, "", 3},
                                                    {PW_CELL_TIME, "Time", 7},
                                                    {PW_CELL_ACT, "What", 0},
                                                    {PW_CELL_READING, "Reads", 8},
                                                    {PW_CELL_READING, "Who", 7}};
  const struct pw_allocation *al = &pen->plan->allocation;
  for (int n = 0; n < al->n_burns; n++) {
    int b = fire_at(pen, n);
    const struct pw_burn *u = &al->burns[b];
    const struct pw_setting *set = &pen->ev->pits[u->pit].settings[u->setting];
    const struct pw_burn_fuel *fuel = b < pen->plan->fuel.n_burns ? &pen->plan->fuel.burns[b] : NULL;
    const char *burns =
        !fuel ? ""
              : TEXT(" It burns %s of charcoal, %s of wood.", pw_format_fuel(pen->ev->units, fuel->charcoal_kg).s,
                     pw_format_fuel(pen->ev->units, fuel->wood_kg).s);
    bool has_ends = pw_words_has_ends(set);
    pw_pen_sheet(
        pen, PW_SHEET_FIRE, TEXT("fire-%d", b + 1), TEXT("Fire: %s", pen->ev->pits[u->pit].name),
        TEXT("%s. Aim at %s. Its door opens %d times.%s Feed little and often, dry wood on live coals, never in "
             "the minutes before food goes on. %s each time.",
             pw_view_span(pen->view, u->lit_at_min, u->out_at_min), pw_words_ends(pen->ev->units, set).s,
             pw_visit_count(pen->plan, b), burns, has_ends ? "Read both ends" : "Read it"));
    told_out(pen, u);
    cautions_at_fire(pen, u->pit, u->lit_at_min, u->out_at_min);
    if (has_ends)
      pw_pen_table(pen, NULL, NULL, COLUMNS(both_ends));
    else
      pw_pen_table(pen, NULL, NULL, COLUMNS(one_heat));
    if (n_lines_of(pen, b) > ONE_COLUMN_LINES)
      pw_pen_narrow(pen);
    const char *day = "";
    for (int i = 0, k = 0; i < pen->view->n_fires; i++) {
      const struct pw_view_fire *f = &pen->view->fires[i];
      if (f->burn != b)
        continue;
      const char *who = f->is_turn ? "" : feeder(pen, b, k++);
      const char *today = TEXT("%s", pw_when_day(pen->ev, f->at_min).s);
      if (strcmp(today, day) != 0)
        pw_pen_band(pen, PW_ROW_BAND, today);
      day = today;
      pw_pen_row(pen, TEXT("f%d", i + 1), f->at_min);
      pw_pen_open(pen);
      pw_pen_cell(pen, TEXT("%s", pw_when_clock(pen->ev, f->at_min).s));
      pw_pen_cell_more(pen, f->is_turn ? f->what : "",
                       f->is_turn ? NULL : TEXT("%s%s%s", f->what, who[0] ? ": " : "", who));
    }
  }
}
