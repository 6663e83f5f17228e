/* slip.c - the slip for the next two hours, and old against new [N3].
 * Input: a mended plan.  Output: lines.  Idea: first whether the meals hold, then what is unsafe, then hands. */
#include "day/slip.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/text.h"
#include "base/when.h"
#include "day/verdict.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { AHEAD_MIN = 120, COLUMNS = 80, SAME_MIN = 15, CHANGES_MAX = 400 };

struct slip {
  struct pw_buf *out;
  const struct pw_mended *m;
  const struct pw_plan *plan; /* the one that holds from now on */
  struct pw_ctx *ctx;
  int n_lines;
};

/* A line, cut where the paper ends; false when the slip is full. */
static bool line(struct slip *s, int most, const char *format, ...) __attribute__((format(printf, 3, 4)));
static bool line(struct slip *s, int most, const char *format, ...)
{
  va_list args;
  if (s->n_lines >= most)
    return false;
  va_start(args, format);
  const char *text = pw_arena_vprintf(s->ctx->arena, format, args);
  va_end(args);
  if (!text) {
    s->out->failed = true;
    return false;
  }
  struct pw_buf safe = pw_buf_in(s->ctx->arena);
  pw_text_add_line(&safe, text);
  const char *whole = pw_buf_text(&safe);
  if (whole && pw_text_width(whole) > COLUMNS)
    pw_text_add_padded(s->out, whole, COLUMNS, PW_LEFT);
  else
    pw_buf_add(s->out, whole ? whole : "");
  pw_buf_add_char(s->out, '\n');
  s->n_lines++;
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
    const char *less = meal->short_of > 0 ? pw_arena_printf(s->ctx->arena, ", %d portions short", meal->short_of) : "";
    if (meal->late_min > 0)
      line(s, PW_SLIP_LINES, "%s, %s: LATE by %d min, for %s%s. Ready in time: %d of 100.", service->name, at.s,
           meal->late_min, ev->cuts[s->plan->lots.lots[meal->lot].cut].name, less ? less : "", of_100);
    else if (of_100 < 50)
      line(s, PW_SLIP_LINES, "%s, %s: AT RISK, ready in time %d of 100%s.", service->name, at.s, of_100,
           less ? less : "");
    else if (before + 5 < of_100)
      line(s, PW_SLIP_LINES, "%s, %s: holds, ready in time %d of 100 (left as it was: %d)%s.", service->name, at.s,
           of_100, before, less ? less : "");
    else
      line(s, PW_SLIP_LINES, "%s, %s: holds, ready in time %d of 100%s.", service->name, at.s, of_100,
           less ? less : "");
    if (meal->short_of > 0 && meal->short_words)
      line(s, PW_SLIP_LINES - 4, "  Short: %s. Smaller portions, or buy.", meal->short_words);
  }
}

static void write_acts(struct slip *s)
{
  for (int i = 0; i < s->m->n_acts; i++) {
    const struct pw_mend_act *a = &s->m->acts[i];
    const char *letter = pw_lot_letter(a->lot, s->ctx->arena);
    if (a->kind == PW_MEND_WRAP_NOW)
      line(s, PW_SLIP_LINES - 3, "Wrap %d of %s now: %d min gained.", a->pieces, letter ? letter : "?", a->gains_min);
    else
      line(s, PW_SLIP_LINES - 3, "%s finishes in the %s, not on the pit: %d min gained.", letter ? letter : "?",
           s->plan->event->finishers[a->finisher].name, a->gains_min);
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

static bool is_routine(enum pw_task_kind kind)
{
  return kind == PW_TASK_FEED || kind == PW_TASK_MOP || kind == PW_TASK_ORDER || kind == PW_TASK_FIRE_CHECK ||
         kind == PW_TASK_BARK_TEST;
}

static const char *who_of(const struct pw_plan *plan, const struct pw_task *t)
{
  return t->person == PW_NONE ? "nobody" : plan->tasks.people[t->person].id;
}

/* Words of a task with the lot's letter in the place of its name: "Wrap 4 x D". */
static const char *short_words(const struct pw_plan *plan, const struct pw_task *t, struct pw_arena *arena)
{
  const char *what = t->what ? t->what : "";
  if (t->lot == PW_NONE)
    return what;
  const struct pw_lot *lot = &plan->lots.lots[t->lot];
  const char *cut = plan->event->cuts[lot->cut].name, *letter = pw_lot_letter(t->lot, arena), *at = strstr(what, cut);
  if (!letter)
    return NULL;
  if (!at)
    return pw_arena_printf(arena, "%s: %s", letter, what);
  const char *rest = at + strlen(cut),
             *service = pw_arena_printf(arena, " (%s)", plan->event->services[lot->service].name);
  if (service && strncmp(rest, service, strlen(service)) == 0)
    rest += strlen(service);
  return pw_arena_printf(arena, "%.*s%s%s", (int)(at - what), what, letter, rest);
}

/* What begins within two hours; feeds and mops are on their sheets and come only where there is room. */
static void write_tasks(struct slip *s)
{
  const struct pw_tasks *tasks = &s->plan->tasks;
  int now = s->m->state->now_min, n = 0;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (t->at_min < now || t->at_min > now + AHEAD_MIN || is_routine(t->kind))
      continue;
    const char *words = short_words(s->plan, t, s->ctx->arena);
    n += line(s, PW_SLIP_LINES, "%s %s: %s%s%s", pw_when_clock(s->plan->event, t->at_min).s, who_of(s->plan, t),
              words ? words : "", t->target && *t->target ? ", " : "", t->target ? t->target : "");
  }
  if (n == 0)
    line(s, PW_SLIP_LINES, "Nothing but the fires until %s.", pw_when_clock(s->plan->event, now + AHEAD_MIN).s);
}

pw_status pw_slip_write(struct pw_buf *out, const struct pw_mended *m, struct pw_ctx *ctx)
{
  struct slip s = {.out = out, .m = m, .plan = m->is_changed ? m->plan : m->state->plan, .ctx = ctx};
  const struct pw_event *ev = s.plan->event;
  if (m->is_changed)
    line(&s, PW_SLIP_LINES, "%s, plan %d, replaces %d", pw_when(ev, m->state->now_min).s, m->plan->day->edition,
         m->plan->day->edition - 1);
  else
    line(&s, PW_SLIP_LINES, "%s, nothing changes: the sheets hold as they are", pw_when(ev, m->state->now_min).s);
  write_meals(&s);
  pw_status st = write_verdicts(&s);
  write_acts(&s);
  if (m->belief.probe_lot != PW_NONE && m->is_changed) {
    const char *letter = pw_lot_letter(m->belief.probe_lot, ctx->arena);
    line(&s, PW_SLIP_LINES - 2, "Probe %s first: its end is known to %d min either way.", letter ? letter : "?",
         m->belief.probe_within);
  }
  write_tasks(&s);
  return st != PW_OK ? st : pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}

/* ---- old and new ----------------------------------------------------------------------------------------------------------- */

struct change {
  int at_min;
  const char *text;
};

static int by_minute(const void *a, const void *b)
{
  const struct change *x = a, *y = b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  return strcmp(x->text, y->text);
}

static bool is_like(const struct pw_task *a, const struct pw_task *b)
{
  if (a->kind != b->kind || a->lot != b->lot || a->pit != b->pit || a->service != b->service || a->dish != b->dish ||
      a->n_ids != b->n_ids || a->pieces != b->pieces || a->n_items != b->n_items)
    return false;
  return (a->n_ids == 0 || memcmp(a->piece_ids, b->piece_ids, (size_t)a->n_ids * sizeof(int)) == 0) &&
         (a->n_items == 0 || a->items[0] == b->items[0]);
}

static bool is_told(const struct pw_task *t)
{
  return !is_routine(t->kind) && t->kind != PW_TASK_CORE && t->kind != PW_TASK_PROBE && t->kind != PW_TASK_HOLD_CHECK &&
         t->kind != PW_TASK_BARK_TEST;
}

pw_status pw_changes_write(struct pw_buf *out, const struct pw_mended *m, struct pw_ctx *ctx)
{
  const struct pw_plan *old = m->state->plan, *now = m->plan;
  const struct pw_event *ev = old->event;
  struct pw_arena *arena = ctx->arena;
  int n_old = old->tasks.n_tasks, n = 0, more = 0;
  bool *is_used = pw_arena_array(arena, (size_t)n_old + 1, sizeof *is_used);
  struct change *all = pw_arena_array(arena, (size_t)(n_old + now->tasks.n_tasks) + 1, sizeof *all);
  if (!is_used || !all)
    return PW_ERR_MEMORY;
  for (int i = 0; i < now->tasks.n_tasks; i++) {
    const struct pw_task *t = &now->tasks.tasks[i], *best = NULL;
    for (int k = 0; k < n_old; k++) {
      const struct pw_task *o = &old->tasks.tasks[k];
      if (!is_used[k] && is_like(o, t) && (!best || abs(o->at_min - t->at_min) < abs(best->at_min - t->at_min)))
        best = o;
    }
    if (best)
      is_used[best - old->tasks.tasks] = true;
    if (t->at_min < m->state->now_min || !is_told(t))
      continue;
    struct pw_short at = pw_when(ev, t->at_min);
    const char *who = who_of(now, t), *text = NULL;
    if (!best)
      text = pw_arena_printf(arena, "new      %s  %s (%s)", at.s, short_words(now, t, arena), who);
    else if (abs(best->at_min - t->at_min) > SAME_MIN)
      text = pw_arena_printf(arena, "moved    %s -> %s  %s (%s)", pw_when(ev, best->at_min).s, at.s,
                             short_words(now, t, arena), who);
    else if (best->person != t->person)
      text = pw_arena_printf(arena, "by %s, not %s  %s  %s", who, who_of(old, best), at.s, short_words(now, t, arena));
    else
      continue;
    if (!text)
      return PW_ERR_MEMORY;
    all[n++] = (struct change){t->at_min, text};
  }
  for (int k = 0; k < n_old; k++) {
    const struct pw_task *o = &old->tasks.tasks[k];
    if (is_used[k] || o->at_min < m->state->now_min || !is_told(o))
      continue;
    const char *text = pw_arena_printf(arena, "dropped  %s  %s (%s)", pw_when(ev, o->at_min).s,
                                       short_words(old, o, arena), who_of(old, o));
    if (!text)
      return PW_ERR_MEMORY;
    all[n++] = (struct change){o->at_min, text};
  }
  if (n > 1)
    qsort(all, (size_t)n, sizeof *all, by_minute);
  pw_buf_printf(out, "Changed against plan %d, in order of time\n", now->day->edition - 1);
  for (int i = 0; i < n; i++) {
    if (i >= CHANGES_MAX) {
      more++;
      continue;
    }
    pw_buf_add(out, "  ");
    pw_text_add_line(out, all[i].text);
    pw_buf_add_char(out, '\n');
  }
  if (more > 0)
    pw_buf_printf(out, "  and %d more\n", more);
  if (n == 0)
    pw_buf_add(out, "  nothing that somebody does; times of feeds and readings are in the new pack\n");
  return pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}
