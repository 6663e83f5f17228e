/* slip.c - the slip for the next two hours [N3].
 * Input: a mended plan.  Output: lines.  Idea: first whether the meals hold, then what is unsafe, then hands. */
#include "day/slip.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/text.h"
#include "base/when.h"
#include "day/changes.h"
#include "day/verdict.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  AHEAD_MIN = 120,
  COLUMNS = 80,
  SAME_MIN = 15,
  AT_END_MIN = 15,
  SHIFT_MOST_MIN = 12 * 60
}; /* OSHA, worker fatigue, from memory: as in task_rest.c */

struct slip {
  struct pw_buf *out;
  const struct pw_mended *m;
  const struct pw_plan *plan; /* the one that holds from now on */
  struct pw_ctx *ctx;
  int n_lines;
};

/* Words over as many lines as they need, the next indented; false, and nothing, when so many do not fit below `most`. */
static bool line(struct slip *s, int most, const char *format, ...) __attribute__((format(printf, 3, 4)));
static bool line(struct slip *s, int most, const char *format, ...)
{
  va_list args;
  char **lines = NULL;
  va_start(args, format);
  const char *text = pw_arena_vprintf(s->ctx->arena, format, args);
  va_end(args);
  int indent = text && strncmp(text, "  ", 2) == 0 ? 2 : 0;
  int n = text ? pw_text_wrap(s->ctx->arena, text + indent, COLUMNS - 2, &lines) : -1;
  if (n < 0) {
    s->out->failed = true;
    return false;
  }
  if (s->n_lines + n > most)
    return false;
  for (int i = 0; i < n; i++)
    pw_buf_printf(s->out, "%s%s\n", i > 0 || indent ? "  " : "", lines[i]);
  s->n_lines += n;
  return true;
}

/* ---- meals ------------------------------------------------------------------------------------------------------------ */

static void write_meals(struct slip *s)
{
  const struct pw_event *ev = s->plan->event;
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_mend_meal *meal = &s->m->meals[i];
    const struct pw_service *service = &ev->services[i];
    if (service->at_min + service->length_min <= s->m->state->now_min)
      continue;
    struct pw_short at = pw_when(ev, service->at_min);
    int of_100 = (int)floor(meal->chance * 100 + 0.5), before = (int)floor(meal->before * 100 + 0.5);
    if (meal->late_min > 0) {
      const char *letter = pw_lot_letter(meal->lot, s->ctx->arena);
      line(s, PW_SLIP_LINES, "%s, %s: LATE %d min because of %s: all ready at %s, sooner without it.", service->name,
           at.s, meal->late_min, letter ? letter : "?", pw_when_clock(ev, service->at_min + meal->late_min).s);
    } else if (of_100 < 50)
      line(s, PW_SLIP_LINES, "%s, %s: AT RISK, ready on time in %d of 100.", service->name, at.s, of_100);
    else if (before + 5 < of_100)
      line(s, PW_SLIP_LINES, "%s, %s: holds, ready on time in %d of 100 (%d with no change).", service->name, at.s,
           of_100, before);
    else
      line(s, PW_SLIP_LINES, "%s, %s: holds, ready on time in %d of 100.", service->name, at.s, of_100);
    if (meal->short_of > 0 && !line(s, PW_SLIP_LINES - 5, "  Short: %s.", meal->short_words))
      line(s, PW_SLIP_LINES, "  %d portions short: by dish below.", meal->short_of);
  }
}

/* No fire without somebody: who goes home then may stay, unless the shift grew too long for that [H3]. */
static void write_nobody(struct slip *s)
{
  const struct pw_tasks *tasks = &s->plan->tasks;
  const struct pw_event *ev = s->plan->event;
  int from, to, longest = ev->rules.longest_min > 0 ? ev->rules.longest_min : SHIFT_MOST_MIN;
  const char *stays = NULL;
  if (tasks->n_people == 0 || !pw_staff_nobody(s->plan, s->m->state->now_min, &from, &to))
    return;
  for (int p = 0; p < tasks->n_people && !stays; p++) {
    const struct pw_crew *c = &ev->crew[tasks->people[p].crew];
    if ((c->duties & 1u << PW_DUTY_FIRE) != 0 && from - AT_END_MIN < c->to_at_min && c->to_at_min <= from &&
        to - c->from_at_min <= longest)
      stays = tasks->people[p].name;
  }
  line(s, PW_SLIP_LINES, "%s to %s NOBODY IS AT THE FIRES: %s%s.", pw_when(ev, from).s, pw_when_clock(ev, to).s,
       stays ? stays : "", stays ? " stays on, or call somebody" : "call somebody, or let the fires go out");
}

/* A fire that does not burn yet, and what is reckoned with. */
static void write_out(struct slip *s)
{
  const struct pw_state *state = s->m->state;
  const struct pw_event *ev = s->plan->event;
  for (int i = 0; i < state->n_outages; i++) {
    const struct pw_outage *o = &state->outages[i];
    if (o->is_open)
      line(s, PW_SLIP_LINES - 2,
           "%s HAS BEEN OUT since %s: light it. This slip counts on it burning at %s; log \"lit %s\" when it does.",
           ev->pits[o->pit].name, pw_when_clock(ev, o->from_min).s, pw_when_clock(ev, o->to_min).s,
           ev->pits[o->pit].id);
  }
}

/* Where to, in a word: the sheets say which. */
static void write_carry(struct slip *s, const struct pw_mend_act *a, const char *letter)
{
  const struct pw_allocation *al = &s->m->allocation;
  const char *to = "other fire or oven";
  int place = PW_NONE, n_places = 0;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *load = &al->loads[i];
    int at = load->zone != PW_NONE ? s->plan->lots.zones[load->zone].pit : s->plan->event->n_pits + load->finisher;
    if (load->lot != a->lot || !load->is_carried || load->carried_at_min <= s->m->state->now_min || at == place)
      continue;
    place = at;
    n_places++;
  }
  if (n_places == 1)
    to = place < s->plan->event->n_pits ? s->plan->event->pits[place].name
                                        : s->plan->event->finishers[place - s->plan->event->n_pits].name;
  if (a->gains_min > 0)
    line(s, PW_SLIP_LINES - 3, "Carry %d of %s to the %s now: %d min gained.", a->pieces, letter, to, a->gains_min);
  else
    line(s, PW_SLIP_LINES - 3, "Carry %d of %s to the %s now; the sheets say which.", a->pieces, letter, to);
}

static void write_acts(struct slip *s)
{
  for (int i = 0; i < s->m->n_acts; i++) {
    const struct pw_mend_act *a = &s->m->acts[i];
    const char *letter = pw_lot_letter(a->lot, s->ctx->arena);
    if (a->kind == PW_MEND_WRAP_NOW)
      line(s, PW_SLIP_LINES - 3, "Wrap %d of %s now: %d min gained.", a->pieces, letter ? letter : "?", a->gains_min);
    else if (a->kind == PW_MEND_CARRY)
      write_carry(s, a, letter ? letter : "?");
    else if (a->kind == PW_MEND_SPOTS)
      line(s, PW_SLIP_LINES - 3, "%d of %s go to different spots, as their lines say: %d min gained.", a->pieces,
           letter ? letter : "?", a->gains_min);
    else
      line(s, PW_SLIP_LINES - 3, "%d of %s finish in the %s, not on the pit: %d min gained.", a->pieces,
           letter ? letter : "?", s->plan->event->finishers[a->finisher].name, a->gains_min);
  }
}

static pw_status write_verdicts(struct slip *s)
{
  struct pw_verdict *all = NULL;
  int n = 0;
  pw_status st = pw_verdicts_make(&all, &n, s->m->state, &s->m->belief, s->ctx);
  for (int i = 0; i < n && st == PW_OK; i++)
    line(s, PW_SLIP_LINES - 2, "%s", all[i].text);
  if (n > 0)
    line(s, PW_SLIP_LINES - 1, "The health authority decides; local codes come first.");
  return st;
}

/* ---- hands --------------------------------------------------------------------------------------------------------------- */

/* What begins within two hours; feeds and mops are on their sheets and come only where there is room. */
static void write_tasks(struct slip *s)
{
  const struct pw_tasks *tasks = &s->plan->tasks;
  int now = s->m->state->now_min, n = 0;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (t->at_min < now || t->at_min > now + AHEAD_MIN || pw_day_is_routine(t->kind))
      continue;
    const char *words = pw_day_task_words(s->plan, t, s->ctx->arena);
    n += line(s, PW_SLIP_LINES, "%s %s: %s%s%s", pw_when_clock(s->plan->event, t->at_min).s, pw_day_who(s->plan, t),
              words ? words : "", t->target && *t->target ? ", " : "", t->target ? t->target : "");
  }
  if (n == 0)
    line(s, PW_SLIP_LINES, "Nothing but the fires until %s.", pw_when_clock(s->plan->event, now + AHEAD_MIN).s);
}

/* Without sheets: which lots end otherwise than the old ones say. */
static void write_ends(struct slip *s)
{
  const struct pw_plan *plan = s->plan;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    int old = PW_DAY_NEVER, now = PW_DAY_NEVER;
    for (int k = 0; k < 2; k++) {
      const struct pw_allocation *a = k ? &s->m->allocation : &plan->allocation;
      int *end = k ? &now : &old;
      for (int i = 0; i < a->n_loads; i++)
        if (a->loads[i].lot == l && a->loads[i].stage <= PW_LOAD_FINISH && a->loads[i].end_at_min > *end)
          *end = a->loads[i].end_at_min;
    }
    const char *letter = pw_lot_letter(l, s->ctx->arena);
    if (old > s->m->state->now_min && now != PW_DAY_NEVER && abs(now - old) > SAME_MIN)
      line(s, PW_SLIP_LINES, "%s, %s: last off at %s, not %s.", letter ? letter : "?",
           plan->event->cuts[plan->lots.lots[l].cut].name, pw_when(plan->event, now).s,
           pw_when_clock(plan->event, old).s);
  }
}

pw_status pw_slip_write(struct pw_buf *out, const struct pw_mended *m, struct pw_ctx *ctx)
{
  struct slip s = {.out = out, .m = m, .plan = m->plan ? m->plan : m->state->plan, .ctx = ctx};
  const struct pw_event *ev = s.plan->event;
  const char *wood = pw_supply_wood_words(&m->wood, ev, ctx->arena);
  if (m->is_changed && !m->plan) {
    line(&s, PW_SLIP_LINES, "%s: NO NEW SHEETS could be made. Keep the old ones; this slip goes by what is known now.",
         pw_when(ev, m->state->now_min).s);
  } else if (m->is_changed)
    line(&s, PW_SLIP_LINES, "%s, plan %d, replaces %d", pw_when(ev, m->state->now_min).s, m->plan->day->edition,
         m->plan->day->edition - 1);
  else if (m->n_shorts > 0)
    line(&s, PW_SLIP_LINES, "%s, the racks stay as they are: the sheets still hold", pw_when(ev, m->state->now_min).s);
  else
    line(&s, PW_SLIP_LINES, "%s, nothing changes: the sheets still hold", pw_when(ev, m->state->now_min).s);
  write_meals(&s);
  write_nobody(&s);
  write_out(&s);
  pw_status st = write_verdicts(&s);
  write_acts(&s);
  if (m->plan && m->care != PW_MEND_WAYS)
    line(&s, PW_SLIP_LINES - 3, "Nothing is moved to help: a plan with moves failed its own check.");
  if (wood)
    line(&s, PW_SLIP_LINES - 2, "%s", wood);
  if (m->belief.probe_lot != PW_NONE && m->is_changed) {
    const char *letter = pw_lot_letter(m->belief.probe_lot, ctx->arena);
    line(&s, PW_SLIP_LINES - 2, "Probe %s first: it could be done %d min earlier or later.", letter ? letter : "?",
         m->belief.probe_within);
  }
  if (m->is_changed && !m->plan)
    write_ends(&s);
  else
    write_tasks(&s);
  return st != PW_OK ? st : pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}

/* ---- behind it ----------------------------------------------------------------------------------------------------------------- */

pw_status pw_behind_write(struct pw_buf *out, const struct pw_mended *m, struct pw_ctx *ctx)
{
  const struct pw_event *ev = m->state->plan->event;
  const char *wood = pw_supply_wood_words(&m->wood, ev, ctx->arena);
  pw_buf_add(out, "Food so far\n");
  pw_status st = pw_verdicts_write(out, m->state, &m->belief, ctx);
  if (m->n_shorts > 0)
    pw_buf_add(out, "\nShort\n");
  for (int i = 0; i < m->n_shorts && st == PW_OK; i++)
    st = pw_supply_choices_write(out, &m->shorts[i], m->shorts, m->n_shorts, m->state, ctx);
  for (int i = 0, n = 0; i < ev->n_services; i++)
    if (m->meals[i].late_min > 0)
      pw_buf_printf(out, "%s  %s: served from %s with everything, or at %s without %s\n", n++ == 0 ? "\nLate\n" : "",
                    ev->services[i].name, pw_when(ev, ev->services[i].at_min + m->meals[i].late_min).s,
                    pw_when_clock(ev, ev->services[i].at_min).s,
                    ev->cuts[m->state->plan->lots.lots[m->meals[i].lot].cut].name);
  if (wood)
    pw_buf_printf(out, "\n%s\n", wood);
  if (m->plan && st == PW_OK) {
    pw_buf_add_char(out, '\n');
    st = pw_changes_write(out, m->plan, ctx);
  }
  return st != PW_OK ? st : pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}
