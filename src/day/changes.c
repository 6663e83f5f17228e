/* changes.c - old and new tasks matched, in order of time and by person [N3].
 * Input: a mended plan, which carries the tasks before it.  Output: kinds of change and their lines. */
#include "day/changes.h"

#include "base/arena.h"
#include "base/text.h"
#include "base/when.h"
#include "day/names.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { SAME_MIN = 15, CHANGES_MAX = 400 };

/* ---- words ------------------------------------------------------------------------------------------------------------------ */

bool pw_day_is_routine(enum pw_task_kind kind)
{
  return kind == PW_TASK_FEED || kind == PW_TASK_MOP || kind == PW_TASK_ORDER || kind == PW_TASK_FIRE_CHECK ||
         kind == PW_TASK_BARK_TEST;
}

const char *pw_day_who(const struct pw_plan *plan, const struct pw_task *t)
{
  return t->person == PW_NONE ? "nobody" : plan->tasks.people[t->person].name;
}

const char *pw_day_task_words(const struct pw_plan *plan, const struct pw_task *t, struct pw_arena *arena)
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

/* ---- which is which ---------------------------------------------------------------------------------------------------------- */

static bool is_like(const struct pw_task *a, const struct pw_task *b)
{
  if (a->kind != b->kind || a->lot != b->lot || a->pit != b->pit || a->service != b->service || a->dish != b->dish ||
      a->n_ids != b->n_ids || a->pieces != b->pieces || a->n_items != b->n_items)
    return false;
  return (a->n_ids == 0 || memcmp(a->piece_ids, b->piece_ids, (size_t)a->n_ids * sizeof(int)) == 0) &&
         (a->n_items == 0 || a->items[0] == b->items[0]);
}

/* The knives take what is rested, by any number: the same hand at the same time on other pieces of the lot does nothing else. */
static bool is_alike(const struct pw_task *a, const struct pw_task *b)
{
  return a->kind == b->kind && a->lot == b->lot && a->lot != PW_NONE && a->pit == b->pit && a->service == b->service &&
         a->dish == b->dish && a->pieces == b->pieces && a->person == b->person &&
         abs(a->at_min - b->at_min) <= SAME_MIN && (a->kind == PW_TASK_CUT || a->kind == PW_TASK_REST_OVER);
}

/* The same hand is at the same act then: a stretch that is joined with another, or divided, is no news. */
static bool goes_on(const struct pw_task *tasks, int n, const struct pw_task *t)
{
  for (int i = 0; i < n; i++) {
    const struct pw_task *o = &tasks[i];
    if (o != t && o->kind == PW_TASK_SERVE && t->kind == o->kind && o->service == t->service &&
        o->person == t->person && t->person != PW_NONE && o->at_min <= t->at_min &&
        t->at_min < o->at_min + o->minutes + SAME_MIN)
      return true;
  }
  return false;
}

static bool is_told(const struct pw_task *t)
{
  return !pw_day_is_routine(t->kind) && t->kind != PW_TASK_CORE && t->kind != PW_TASK_PROBE &&
         t->kind != PW_TASK_HOLD_CHECK && t->kind != PW_TASK_BARK_TEST;
}

pw_status pw_changes_make(struct pw_changes *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_day_now *day = plan->day;
  const struct pw_tasks *tasks = &plan->tasks;
  struct pw_arena *arena = ctx->arena;
  *out =
      (struct pw_changes){.kind = pw_arena_array(arena, (size_t)tasks->n_tasks + 1, sizeof *out->kind),
                          .was = pw_arena_array(arena, (size_t)tasks->n_tasks + 1, sizeof(const struct pw_task *)),
                          .dropped = pw_arena_array(arena, (size_t)day->n_before + 1, sizeof(const struct pw_task *))};
  bool *is_used = pw_arena_array(arena, (size_t)day->n_before + 1, sizeof *is_used);
  if (!out->kind || !out->was || !out->dropped || !is_used)
    return PW_ERR_MEMORY;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i], *best = NULL;
    for (int k = 0; k < day->n_before; k++) {
      const struct pw_task *o = &day->before[k];
      if (!is_used[k] && is_like(o, t) && (!best || abs(o->at_min - t->at_min) < abs(best->at_min - t->at_min)))
        best = o;
    }
    for (int k = 0; k < day->n_before && !best; k++)
      if (!is_used[k] && is_alike(&day->before[k], t))
        best = &day->before[k];
    if (best)
      is_used[best - day->before] = true;
    out->was[i] = best;
    if (t->at_min < day->now_min || !is_told(t))
      continue;
    if (!best && goes_on(day->before, day->n_before, t))
      continue;
    out->kind[i] = !best                                      ? PW_CHANGE_NEW
                   : abs(best->at_min - t->at_min) > SAME_MIN ? PW_CHANGE_MOVED
                   : best->person != t->person                ? PW_CHANGE_HANDS
                                                              : PW_CHANGE_NONE;
  }
  for (int k = 0; k < day->n_before; k++)
    if (!is_used[k] && day->before[k].at_min >= day->now_min && is_told(&day->before[k]) &&
        !goes_on(tasks->tasks, tasks->n_tasks, &day->before[k]))
      out->dropped[out->n_dropped++] = &day->before[k];
  return PW_OK;
}

/* ---- in order of time -------------------------------------------------------------------------------------------------------- */

struct row {
  int at_min;
  const char *text;
};

static int by_minute(const void *a, const void *b)
{
  const struct row *x = a, *y = b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  return strcmp(x->text, y->text);
}

static void put_row(struct pw_buf *out, const char *text)
{
  pw_buf_add(out, "  ");
  pw_text_add_line(out, text);
  pw_buf_add_char(out, '\n');
}

/* What is moved or handed on was there before. */
static const struct pw_task *before_of(const struct pw_changes *c, int i)
{
  assert(c->was[i]);
  return c->was[i];
}

static const char *changed_row(const struct pw_plan *plan, const struct pw_changes *c, int i, struct pw_arena *arena)
{
  const struct pw_task *t = &plan->tasks.tasks[i];
  struct pw_short at = pw_when(plan->event, t->at_min);
  const char *who = pw_day_who(plan, t), *words = pw_day_task_words(plan, t, arena);
  switch (c->kind[i]) {
  case PW_CHANGE_NEW:
    return pw_arena_printf(arena, "new      %s  %s (%s)", at.s, words ? words : "", who);
  case PW_CHANGE_MOVED:
    return pw_arena_printf(arena, "moved    %s -> %s  %s (%s)", pw_when(plan->event, before_of(c, i)->at_min).s, at.s,
                           words ? words : "", who);
  default:
    return pw_arena_printf(arena, "by %s, not %s  %s  %s", who, pw_day_who(plan, before_of(c, i)), at.s,
                           words ? words : "");
  }
}

/* ---- by person ----------------------------------------------------------------------------------------------------------------- */

static bool is_others_now(const struct pw_plan *plan, const struct pw_changes *c, int person)
{
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (c->kind[i] != PW_CHANGE_NONE &&
        (plan->tasks.tasks[i].person == person || (c->kind[i] == PW_CHANGE_HANDS && before_of(c, i)->person == person)))
      return true;
  for (int k = 0; k < c->n_dropped; k++)
    if (c->dropped[k]->person == person)
      return true;
  return false;
}

/* Every task of theirs from now on; what is theirs no more stands there as such. */
static pw_status write_person(struct pw_buf *out, const struct pw_plan *plan, const struct pw_changes *c, int person,
                              struct pw_ctx *ctx)
{
  struct pw_arena *arena = ctx->arena;
  size_t most = (size_t)plan->tasks.n_tasks * 2 + (size_t)c->n_dropped + 1;
  struct row *rows = pw_arena_array(arena, most, sizeof *rows);
  int n = 0;
  if (!rows)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    struct pw_short at = pw_when(plan->event, t->at_min);
    const char *words = pw_day_task_words(plan, t, arena), *was = "";
    bool is_lost = c->kind[i] == PW_CHANGE_HANDS && before_of(c, i)->person == person;
    if (t->at_min < plan->day->now_min || t->kind == PW_TASK_FEED || (t->person != person && !is_lost))
      continue;
    if (is_lost)
      was = pw_arena_printf(arena, " (now done by %s)", pw_day_who(plan, t));
    else if (c->kind[i] == PW_CHANGE_MOVED)
      was = pw_arena_printf(arena, " (was %s)", pw_when_clock(plan->event, before_of(c, i)->at_min).s);
    else if (c->kind[i] == PW_CHANGE_HANDS)
      was = pw_arena_printf(arena, " (was %s's)", pw_day_who(plan, before_of(c, i)));
    else if (c->kind[i] == PW_CHANGE_NEW)
      was = " (new)";
    rows[n++] = (struct row){t->at_min, pw_arena_printf(arena, "%s %s  %s%s", c->kind[i] != PW_CHANGE_NONE ? "*" : " ",
                                                        at.s, words ? words : "", was ? was : "")};
  }
  for (int k = 0; k < c->n_dropped; k++) {
    const char *words = pw_day_task_words(plan, c->dropped[k], arena);
    if (c->dropped[k]->person == person)
      rows[n++] = (struct row){c->dropped[k]->at_min,
                               pw_arena_printf(arena, "* %s  %s (dropped)",
                                               pw_when(plan->event, c->dropped[k]->at_min).s, words ? words : "")};
  }
  for (int i = 0; i < n; i++)
    if (!rows[i].text)
      return PW_ERR_MEMORY;
  if (n > 1)
    qsort(rows, (size_t)n, sizeof *rows, by_minute);
  pw_buf_printf(out, "\n%s from now on (* = changed); feeds are on the fire sheet\n", plan->tasks.people[person].name);
  for (int i = 0; i < n; i++)
    put_row(out, rows[i].text);
  return PW_OK;
}

pw_status pw_changes_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_arena *arena = ctx->arena;
  struct pw_changes c;
  int n = 0, more = 0;
  if (!plan->day)
    return PW_OK;
  pw_status st = pw_changes_make(&c, plan, ctx);
  struct row *all =
      st == PW_OK ? pw_arena_array(arena, (size_t)(plan->tasks.n_tasks + c.n_dropped) + 1, sizeof *all) : NULL;
  if (!all)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (c.kind[i] != PW_CHANGE_NONE)
      all[n++] = (struct row){plan->tasks.tasks[i].at_min, changed_row(plan, &c, i, arena)};
  for (int k = 0; k < c.n_dropped; k++) {
    const char *words = pw_day_task_words(plan, c.dropped[k], arena);
    all[n++] = (struct row){c.dropped[k]->at_min,
                            pw_arena_printf(arena, "dropped  %s  %s (%s)", pw_when(plan->event, c.dropped[k]->at_min).s,
                                            words ? words : "", pw_day_who(plan, c.dropped[k]))};
  }
  for (int i = 0; i < n; i++)
    if (!all[i].text)
      return PW_ERR_MEMORY;
  if (n > 1)
    qsort(all, (size_t)n, sizeof *all, by_minute);
  pw_buf_printf(out, "Changes from plan %d, in order of time\n", plan->day->edition - 1);
  for (int i = 0; i < n; i++) {
    if (i >= CHANGES_MAX)
      more++;
    else
      put_row(out, all[i].text);
  }
  if (more > 0)
    pw_buf_printf(out, "  and %d more\n", more);
  if (n == 0)
    pw_buf_add(out, "  no tasks; times of feeds and readings are in the new pack\n");
  for (int p = 0; p < plan->tasks.n_people && st == PW_OK; p++)
    if (is_others_now(plan, &c, p))
      st = write_person(out, plan, &c, p, ctx);
  return st != PW_OK ? st : pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}
