/* ics.c - calendar of the tasks, RFC 5545: CRLF, lines folded at 75 octets between characters, text escaped, UTC.
 * DTSTAMP is the day of the event, of a mended plan its minute, not that of the run: the same plan gives the same bytes.  No METHOD: the file is for
 * import, not a message. */
#include "write/ics.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/text.h"
#include "base/when.h"
#include "sheet/fire_lines.h"
#include "sheet/slack_words.h"
#include "sheet/view.h"

#include <inttypes.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

enum { LINE_MAX_OCTETS = 75, DAY_S = 86400 };

/** Adds one content line, folded: no line longer than 75 octets without its CRLF, no character cut (RFC 5545, 3.1). */
static void line_add(struct pw_buf *out, const char *line)
{
  size_t n = strlen(line), room = LINE_MAX_OCTETS;
  for (size_t at = 0; at < n;) {
    size_t take = 0;
    while (at + take < n) {
      uint32_t cp;
      size_t step = pw_utf8_next(line + at + take, n - at - take, &cp);
      if (take + step > room)
        break;
      take += step;
    }
    pw_buf_add_n(out, line + at, take);
    at += take;
    pw_buf_add(out, at < n ? "\r\n " : "\r\n");
    room = LINE_MAX_OCTETS - 1; /* the blank that begins a continuation counts */
  }
}

/** Adds NAME:escaped text. */
static void text_add(struct pw_buf *out, struct pw_arena *arena, const char *name, const char *text)
{
  struct pw_buf b = pw_buf_in(arena);
  pw_buf_printf(&b, "%s:", name);
  pw_text_add_ics(&b, text);
  const char *line = pw_buf_text(&b);
  if (line)
    line_add(out, line);
  else
    out->failed = true;
}

/** "20270918T033000Z" of seconds since 1970. */
static void stamp_add(struct pw_buf *out, const char *name, int64_t utc_s)
{
  int64_t days = utc_s >= 0 ? utc_s / DAY_S : -((-utc_s + DAY_S - 1) / DAY_S), of_day = utc_s - days * DAY_S;
  struct pw_date d = pw_date_from_days((int)days);
  pw_buf_printf(out, "%s:%04d%02d%02dT%02d%02d%02dZ\r\n", name, d.year, d.month, d.day, (int)(of_day / 3600),
                (int)(of_day / 60 % 60), (int)(of_day % 60));
}

static int64_t utc_of(const struct pw_event *ev, int at_min)
{
  if (ev->clock)
    return pw_clock_utc_s(ev->clock, at_min);
  return (int64_t)pw_date_to_days(ev->date) * DAY_S - (int64_t)ev->utc_offset_min * 60 + (int64_t)at_min * 60;
}

/** FNV-1a over a text; gives identifiers a name of the job without its characters. */
static uint64_t hash_text(uint64_t h, const char *text)
{
  for (const unsigned char *p = (const unsigned char *)text; *p; p++)
    h = (h ^ *p) * UINT64_C(1099511628211); /* FNV prime, 64 bit */
  return (h ^ 0xff) * UINT64_C(1099511628211);
}

/** How many earlier tasks have the same kind, lot and pit. */
static int nth_of_kind(const struct pw_tasks *tasks, int i)
{
  int n = 0;
  for (int k = 0; k < i; k++)
    n += tasks->tasks[k].kind == tasks->tasks[i].kind && tasks->tasks[k].lot == tasks->tasks[i].lot &&
         tasks->tasks[k].pit == tasks->tasks[i].pit;
  return n;
}

/* ---- alarms ----------------------------------------------------------------------------------------- */

enum { ALARMS_MOST = 25 }; /* of one person in a day: more are switched off, and then none is heard */

/** A task that may ring, by person, day and time. */
struct alarm {
  int task, person, crew, day;
};

static int alarm_compare(const void *a, const void *b)
{
  const struct alarm *x = a, *y = b;
  if (x->crew != y->crew)
    return x->crew < y->crew ? -1 : 1;
  if (x->person != y->person)
    return x->person < y->person ? -1 : 1;
  if (x->day != y->day)
    return x->day < y->day ? -1 : 1;
  return (x->task > y->task) - (x->task < y->task);
}

/** Of n tasks of one person and day, the one whose alarm is missed least: the last that is routine, else the one that follows
 *  soonest on another. */
static int least_missed(const struct pw_tasks *tasks, const struct alarm *alarms, int n, const bool *rings)
{
  int routine = PW_NONE, close = PW_NONE, last = PW_NONE, gap = INT_MAX;
  for (int k = 0; k < n; k++) {
    int i = alarms[k].task;
    if (!rings[i])
      continue;
    if (pw_view_is_routine(&tasks->tasks[i]))
      routine = i;
    if (last != PW_NONE && tasks->tasks[i].at_min - tasks->tasks[last].at_min < gap) {
      gap = tasks->tasks[i].at_min - tasks->tasks[last].at_min;
      close = i;
    }
    last = i;
  }
  return routine != PW_NONE ? routine : close;
}

/** Which tasks ring; NULL when memory is out. */
static bool *alarms_make(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_tasks *tasks = &plan->tasks;
  bool *rings = pw_arena_array(ctx->arena, (size_t)tasks->n_tasks + 1, sizeof *rings);
  struct alarm *alarms = pw_arena_array(ctx->arena, (size_t)tasks->n_tasks + 1, sizeof *alarms);
  int n = 0;
  if (!rings || !alarms)
    return NULL;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    rings[i] = pw_fire_line_is(plan, i);
    if (rings[i])
      alarms[n++] = (struct alarm){i, t->person, t->crew, pw_when_day_number(plan->event, t->at_min)};
  }
  qsort(alarms, (size_t)n, sizeof *alarms, alarm_compare);
  for (int from = 0, to; from < n; from = to) {
    for (to = from + 1; to < n && alarms[to].crew == alarms[from].crew && alarms[to].person == alarms[from].person &&
                        alarms[to].day == alarms[from].day;)
      to++;
    for (int left = to - from; left > ALARMS_MOST; left--)
      rings[least_missed(tasks, alarms + from, to - from, rings)] = false;
  }
  return rings;
}

/* What a person is warned of stands at the first thing they do and wherever they drive [H3]; NULL: nothing. */
static const char *care_of(const struct pw_plan *plan, int i)
{
  const struct pw_tasks *tasks = &plan->tasks;
  const struct pw_task *t = &tasks->tasks[i];
  if (t->person == PW_NONE || t->person >= tasks->n_people)
    return NULL;
  bool is_first = true;
  for (int k = 0; k < i && is_first; k++)
    is_first = tasks->tasks[k].person != t->person;
  return is_first || t->kind == PW_TASK_DRIVE ? tasks->people[t->person].caution : NULL;
}

/** `is_feed`: the feed itself, and not the line that stands for all feeds of a fire. */
static void event_add(struct pw_buf *out, struct pw_view *view, int i, bool rings, bool is_feed)
{
  const struct pw_event *ev = view->ev;
  const struct pw_task *t = &view->plan->tasks.tasks[i];
  const char *lot = t->lot == PW_NONE ? "" : view->plan->lots.lots[t->lot].id,
             *pit = t->pit == PW_NONE ? "" : ev->pits[t->pit].id;
  uint64_t h = UINT64_C(14695981039346656037); /* FNV offset basis, 64 bit */
  h = hash_text(hash_text(hash_text(hash_text(h, ev->name), pw_view_date(view, ev->date)), lot), pit);
  pw_buf_add(out, "BEGIN:VEVENT\r\n");
  pw_buf_printf(out, "UID:%016" PRIx64 "-%d%s-%d@pitwright.invalid\r\n", h, (int)t->kind, is_feed ? "f" : "",
                nth_of_kind(&view->plan->tasks, i));
  const struct pw_day_now *day = view->plan->day;
  stamp_add(out, "DTSTAMP", day ? utc_of(ev, day->now_min) : (int64_t)pw_date_to_days(ev->date) * DAY_S);
  if (day) /* a calendar that holds the plan before takes the newer one (RFC 5545, 3.8.7.4) */
    pw_buf_printf(out, "SEQUENCE:%d\r\n", day->edition - 1);
  stamp_add(out, "DTSTART", utc_of(ev, t->at_min));
  stamp_add(out, "DTEND", utc_of(ev, t->at_min + (t->minutes > 0 ? t->minutes : 1)));
  const char *mark = t->lot == PW_NONE ? "" : pw_view_printf(view, "%s: ", view->lot_mark[t->lot]),
             *what = is_feed ? t->what : pw_fire_line(view->plan, t, view->arena);
  view->failed = view->failed || !what;
  what = what ? what : "";
  text_add(out, view->arena, "SUMMARY", pw_view_printf(view, "%s%s", mark, what));
  if (t->where && t->where[0])
    text_add(out, view->arena, "LOCATION", t->where);
  const char *care = care_of(view->plan, i); /* [H3] */
  text_add(out, view->arena, "DESCRIPTION",
           pw_view_printf(view, "%s%s%s%s%s%s\n%s%s%s, %s", care ? "Take care: " : "", care ? care : "",
                          care ? "\n" : "", pw_view_who(view, t), t->target && t->target[0] ? "\n" : "",
                          t->target ? t->target : "", pw_view_when(view, t->at_min), t->slack_min > 0 ? ", " : "",
                          pw_slack_words(ev, t).s, ev->name));
  text_add(out, view->arena, "CATEGORIES", pw_view_role(view, t));
  if (rings) {
    pw_buf_add(out, "BEGIN:VALARM\r\nACTION:DISPLAY\r\nTRIGGER:-PT15M\r\n");
    text_add(out, view->arena, "DESCRIPTION", what);
    pw_buf_add(out, "END:VALARM\r\n");
  }
  pw_buf_add(out, "END:VEVENT\r\n");
}

/** Head of a calendar with its name, for whoever shows several: NAME of RFC 7986, 5.1, and the name older programs know. */
static void calendar_begin(struct pw_buf *out, struct pw_view *view, const char *whose)
{
  pw_buf_add(out, "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//pitwright//pitwright " PW_VERSION
                  "//EN\r\nCALSCALE:GREGORIAN\r\n");
  const char *name = pw_view_printf(view, "%s, %s", view->ev->name, whose);
  text_add(out, view->arena, "NAME", name);
  text_add(out, view->arena, "X-WR-CALNAME", name);
}

pw_status pw_ics_write(struct pw_buf *out, const struct pw_plan *plan, const char *role, struct pw_ctx *ctx)
{
  struct pw_view view;
  pw_status status = pw_view_make(&view, plan, ctx);
  if (status != PW_OK)
    return status;
  bool is_begun = false; /* a calendar has at least one component (RFC 5545, 3.6) */
  const bool *rings = alarms_make(plan, ctx);
  if (!rings)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    int crew = plan->tasks.tasks[i].crew;
    if (!pw_fire_line_is(plan, i))
      continue;
    if (role && (crew == PW_NONE || strcmp(plan->event->crew[crew].role, role) != 0))
      continue;
    if (!is_begun)
      calendar_begin(out, &view, role ? role : "everybody");
    is_begun = true;
    event_add(out, &view, i, rings[i], false);
  }
  if (is_begun)
    pw_buf_add(out, "END:VCALENDAR\r\n");
  return out->failed || view.failed ? PW_ERR_MEMORY : PW_OK;
}

pw_status pw_ics_feeds_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_view view;
  pw_status status = pw_view_make(&view, plan, ctx);
  if (status != PW_OK)
    return status;
  bool is_begun = false;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    if (plan->tasks.tasks[i].kind != PW_TASK_FEED)
      continue;
    if (!is_begun)
      calendar_begin(out, &view, "feeds");
    is_begun = true;
    event_add(out, &view, i, false, true);
  }
  if (is_begun)
    pw_buf_add(out, "END:VCALENDAR\r\n");
  return out->failed || view.failed ? PW_ERR_MEMORY : PW_OK;
}

pw_status pw_ics_all_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  return pw_ics_write(out, plan, NULL, ctx);
}

/* ---- files per role ------------------------------------------------------------------------------ */

/** Letters and digits of a role in lower case, one dash for whatever stands between, at most size - 1 octets. */
static void slug(char *out, size_t size, const char *role)
{
  size_t n = 0;
  for (const char *p = role; *p && n + 1 < size; p++) {
    bool is_upper = *p >= 'A' && *p <= 'Z';
    if (is_upper || (*p >= 'a' && *p <= 'z') || (*p >= '0' && *p <= '9'))
      out[n++] = is_upper ? (char)(*p - 'A' + 'a') : *p;
    else if (n > 0 && out[n - 1] != '-')
      out[n++] = '-';
  }
  while (n > 0 && out[n - 1] == '-')
    n--;
  out[n] = '\0';
}

static bool is_taken(const struct pw_ics_role *roles, int n, const char *file)
{
  if (strcmp(file, "calendar-feeds.ics") == 0) /* the fires' own */
    return true;
  for (int i = 0; i < n; i++)
    if (strcmp(roles[i].file, file) == 0)
      return true;
  return false;
}

pw_status pw_ics_roles(struct pw_ics_role **out, int *n, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_ics_role *roles = pw_arena_array(ctx->arena, (size_t)ev->n_crew, sizeof *roles);
  int count = 0;
  if (!roles)
    return PW_ERR_MEMORY;
  for (int c = 0; c < ev->n_crew; c++) {
    const char *role = ev->crew[c].role;
    bool is_known = false;
    for (int i = 0; i < count && !is_known; i++)
      is_known = strcmp(roles[i].role, role) == 0;
    if (is_known)
      continue;
    char name[40];
    slug(name, sizeof name, role);
    const char *file = pw_arena_printf(ctx->arena, "calendar-%s.ics", name[0] ? name : "role");
    for (int k = 2; file && is_taken(roles, count, file); k++)
      file = pw_arena_printf(ctx->arena, "calendar-%s-%d.ics", name[0] ? name : "role", k);
    if (!file)
      return PW_ERR_MEMORY;
    roles[count++] = (struct pw_ics_role){role, file};
  }
  *out = roles;
  *n = count;
  return PW_OK;
}
