/* season.c - what of a plan a season keeps, and its order.  Clashes are found in clash.c.
 * In: a plan.  Out: its row, its uses, its orders, its dues, with every word copied. */
#include "season/season.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/format.h"
#include "base/when.h"
#include "plan/demand/head_count.h"
#include "season/clash.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *pw_season_state_word(enum pw_season_state state)
{
  static const char *const words[] = {"asked", "offered", "agreed", "done"};
  return words[state];
}

bool pw_season_is_due(const struct pw_season *season, int day)
{
  return season->on_day == PW_NONE || day < season->on_day + PW_SEASON_WEEK_DAYS;
}

struct taking {
  struct pw_season *season;
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  int job;
  bool has_failed;
};

static const char *kept(struct taking *t, const char *text)
{
  const char *copy = pw_arena_strdup(t->ctx->arena, text);
  t->has_failed = t->has_failed || !copy;
  return copy ? copy : "";
}

static int day_of(const struct pw_event *ev, int at_min)
{
  return pw_date_to_days(ev->date) + pw_when_day_number(ev, at_min);
}

/* ---- the job's row ------------------------------------------------------------------------------------ */

static enum pw_season_state state_of(const struct pw_season *season, const struct pw_event *ev, int last_day)
{
  if (season->on_day != PW_NONE && last_day < season->on_day)
    return PW_SEASON_DONE;
  if (ev->terms.agreed_cents > 0)
    return PW_SEASON_AGREED;
  return ev->terms.quoted.year || ev->terms.quoted_price_on.year ? PW_SEASON_OFFERED : PW_SEASON_ASKED;
}

static const struct pw_event *money_of(struct taking *t)
{
  struct pw_event *money = pw_arena_alloc(t->ctx->arena, sizeof *money);
  t->has_failed = t->has_failed || !money;
  if (!money)
    return NULL;
  money->currency = kept(t, t->ev->currency);
  money->money_sign = kept(t, t->ev->money_sign);
  money->money_digits = t->ev->money_digits;
  return money;
}

static void take_row(struct taking *t, struct pw_season_job *job, const char *file, bool is_quick)
{
  const struct pw_event *ev = t->ev;
  const struct pw_quote *q = &t->plan->quote;
  *job = (struct pw_season_job){.file = kept(t, file),
                                .name = kept(t, ev->name),
                                .customer = ev->customer && *ev->customer ? kept(t, ev->customer) : NULL,
                                .date = ev->date,
                                .last_day = pw_date_to_days(ev->date),
                                .guests = q->guests,
                                .per_guest_cents = q->per_guest_cents,
                                .price_cents = q->price_cents,
                                .total_cents = q->total_cents,
                                .cost_cents = q->cost_cents,
                                .margin_frac = q->margin_frac,
                                .agreed_on = ev->terms.agreed_on,
                                .is_quick = is_quick,
                                .missed = t->plan->allocation.n_missed,
                                .n_warnings = t->plan->n_warnings,
                                .money = money_of(t)};
  for (int s = 0; s < ev->n_services; s++) {
    int day = day_of(ev, ev->services[s].at_min + ev->services[s].length_min);
    job->last_day = s == 0 || day > job->last_day ? day : job->last_day;
  }
  job->state = state_of(t->season, ev, job->last_day);
  const struct pw_terms *terms = &ev->terms;
  if (job->state == PW_SEASON_OFFERED && terms->quoted.year && terms->valid_days > 0) {
    int until = pw_date_to_days(terms->quoted) + terms->valid_days;
    job->valid_until = pw_date_from_days(until);
    job->is_over = t->season->on_day != PW_NONE && until < t->season->on_day;
  }
}

/* ---- pits, boxes, people -------------------------------------------------------------------------------- */

static void use(struct taking *t, enum pw_season_use_kind kind, const char *name, int hands, int there_are, int from,
                int to)
{
  struct pw_season *s = t->season;
  const struct pw_event *ev = t->ev;
  if (from >= to || t->has_failed)
    return;
  if (pw_arena_grow(t->ctx->arena, &s->uses, &s->cap_uses, (size_t)s->n_uses, sizeof *s->uses) != 0) {
    t->has_failed = true;
    return;
  }
  char first[160], last[160];
  snprintf(first, sizeof first, "%s %s", pw_when_day_short(ev, from).s, pw_when_clock(ev, from).s);
  snprintf(last, sizeof last, "%s %s", pw_when_day_short(ev, to).s, pw_when_clock(ev, to).s);
  int64_t begin = ev->clock ? pw_clock_utc_s(ev->clock, 0) / 60 : (int64_t)pw_date_to_days(ev->date) * 1440;
  s->uses[s->n_uses++] = (struct pw_season_use){.kind = kind,
                                                .name = kept(t, name),
                                                .job = t->job,
                                                .hands = hands,
                                                .from_min = begin + from,
                                                .to_min = begin + to,
                                                .first_day = day_of(ev, from),
                                                .last_day = day_of(ev, to - 1),
                                                .from = kept(t, first),
                                                .to = kept(t, last),
                                                .travel_min = ev->site.travel_min,
                                                .there_are = there_are};
}

/* From the first fire to the last one out; a pit that is hired for the job is not the house's. */
static void take_pits(struct taking *t)
{
  const struct pw_allocation *a = &t->plan->allocation;
  for (int p = 0; p < t->ev->n_pits; p++) {
    int from = INT32_MAX, to = INT32_MIN;
    for (int b = 0; b < a->n_burns; b++)
      if (a->burns[b].pit == p) {
        from = a->burns[b].lit_at_min < from ? a->burns[b].lit_at_min : from;
        to = a->burns[b].out_at_min > to ? a->burns[b].out_at_min : to;
      }
    if (from < to && !t->ev->pits[p].is_rentable)
      use(t, PW_SEASON_PIT, t->ev->pits[p].name, 1, 0, from, to);
  }
}

static void widen(int *from, int *to, int a, int b)
{
  *from = a < *from ? a : *from;
  *to = b > *to ? b : *to;
}

/* From the first thing in it to the last one out. */
static void take_boxes(struct taking *t)
{
  const struct pw_plan *plan = t->plan;
  for (int f = 0; f < t->ev->n_finishers; f++) {
    int from = INT32_MAX, to = INT32_MIN;
    for (int i = 0; i < plan->allocation.n_loads; i++)
      if (plan->allocation.loads[i].finisher == f)
        widen(&from, &to, plan->allocation.loads[i].start_at_min, plan->allocation.loads[i].end_at_min);
    for (int i = 0; i < plan->lots.n_side_pans; i++)
      if (plan->lots.side_pans[i].finisher == f)
        widen(&from, &to, plan->lots.side_pans[i].from_at_min, plan->lots.side_pans[i].to_at_min);
    for (int i = 0; i < plan->lots.n_reheats; i++)
      if (plan->lots.reheats[i].finisher == f)
        widen(&from, &to, plan->lots.reheats[i].from_at_min, plan->lots.reheats[i].out_at_min);
    if (from < to)
      use(t, PW_SEASON_BOX, t->ev->finishers[f].name, 1, 0, from, to);
  }
}

static void take_people(struct taking *t)
{
  const struct pw_event *ev = t->ev;
  for (int c = 0; c < ev->n_crew; c++) {
    const struct pw_crew *crew = &ev->crew[c];
    int hands = pw_head_count_hands(ev, crew), there_are = 0;
    const char *person = crew->worked ? ev->pool[crew->worked->pool].name : NULL;
    for (int p = 0; p < ev->n_pool; p++)
      there_are += strcmp(ev->pool[p].role, crew->role) == 0 ? ev->pool[p].up_to : 0;
    if (person)
      use(t, PW_SEASON_PERSON, person, 1, 1, crew->from_at_min, crew->to_at_min);
    else if (hands > 0)
      use(t, PW_SEASON_ROLE, crew->role, hands, there_are, crew->from_at_min, crew->to_at_min);
  }
}

/* ---- orders, dues ------------------------------------------------------------------------------------------ */

static void order(struct taking *t, struct pw_season_line line)
{
  struct pw_season *s = t->season;
  if (pw_arena_grow(t->ctx->arena, &s->lines, &s->cap_lines, (size_t)s->n_lines, sizeof *s->lines) != 0) {
    t->has_failed = true;
    return;
  }
  s->lines[s->n_lines++] = line;
}

static void take_orders(struct taking *t)
{
  const struct pw_event *ev = t->ev;
  const struct pw_purchase *p = &t->plan->purchase;
  for (int i = 0; i < p->n_lines; i++) {
    const struct pw_purchase_line *l = &p->lines[i];
    const struct pw_item *item = &ev->items[l->item];
    const struct pw_offer *offer = &item->offers[l->offer];
    order(t, (struct pw_season_line){.supplier = kept(t, offer->supplier),
                                     .item = kept(t, item->name),
                                     .pack = kept(t, offer->pack ? offer->pack : ""),
                                     .amount = kept(t, pw_format_amount(ev->units, item->unit, l->amount).s),
                                     .job = t->job,
                                     .packs = l->packs,
                                     .cents = l->cost_cents,
                                     .order_day = day_of(ev, l->order_by_at_min),
                                     .deliver_day = day_of(ev, l->deliver_at_min)});
  }
}

static void take_dues(struct taking *t)
{
  struct pw_season *s = t->season;
  const struct pw_quote *q = &t->plan->quote;
  if (s->jobs[t->job].state != PW_SEASON_AGREED)
    return;
  for (int i = 0; i < q->n_dues; i++) {
    if (pw_arena_grow(t->ctx->arena, &s->dues, &s->cap_dues, (size_t)s->n_dues, sizeof *s->dues) != 0) {
      t->has_failed = true;
      return;
    }
    s->dues[s->n_dues++] =
        (struct pw_season_due){t->job, kept(t, q->dues[i].name),
                               q->dues[i].date.year ? pw_date_to_days(q->dues[i].date) : PW_NONE, q->dues[i].cents};
  }
}

pw_status pw_season_add(struct pw_season *season, const struct pw_plan *plan, const char *file, bool is_quick,
                        struct pw_ctx *ctx)
{
  struct taking t = {.season = season, .plan = plan, .ev = plan->event, .ctx = ctx, .job = season->n_jobs};
  if (pw_arena_grow(ctx->arena, &season->jobs, &season->cap_jobs, (size_t)season->n_jobs, sizeof *season->jobs) != 0)
    return PW_ERR_MEMORY;
  struct pw_season_job *job = &season->jobs[season->n_jobs++];
  take_row(&t, job, file, is_quick);
  if (job->state != PW_SEASON_DONE) { /* what is past clashes with nothing and is bought */
    take_pits(&t);
    take_boxes(&t);
    take_people(&t);
    take_orders(&t);
    take_dues(&t);
  }
  return t.has_failed ? PW_ERR_MEMORY : PW_OK;
}

/* ---- order ------------------------------------------------------------------------------------------------ */

static int by_number(int64_t a, int64_t b) { return a < b ? -1 : a > b; }

static int by_date(const void *left, const void *right)
{
  const struct pw_season_job *a = *(const struct pw_season_job *const *)left,
                             *b = *(const struct pw_season_job *const *)right;
  int by = by_number(pw_date_to_days(a->date), pw_date_to_days(b->date));
  return by ? by : strcmp(a->file, b->file);
}

static int by_supplier(const void *left, const void *right)
{
  const struct pw_season_line *a = left, *b = right;
  int by = strcmp(a->supplier, b->supplier);
  by = by ? by : strcmp(a->item, b->item);
  by = by ? by : strcmp(a->pack, b->pack);
  by = by ? by : by_number(a->order_day, b->order_day);
  by = by ? by : by_number(a->job, b->job);
  return by ? by : by_number(a->packs, b->packs);
}

static int by_due(const void *left, const void *right)
{
  const struct pw_season_due *a = left, *b = right;
  int by = by_number(a->day, b->day);
  by = by ? by : by_number(a->job, b->job);
  return by ? by : strcmp(a->name, b->name);
}

/* Jobs by date; what points at them follows. */
static pw_status sort_jobs(struct pw_season *s, struct pw_ctx *ctx)
{
  size_t n = (size_t)s->n_jobs;
  const struct pw_season_job **order = pw_arena_array(ctx->arena, n, sizeof *order);
  struct pw_season_job *sorted = pw_arena_array(ctx->arena, n, sizeof *sorted);
  int *to = pw_arena_array(ctx->arena, n, sizeof *to);
  if (!order || !sorted || !to)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < n; i++)
    order[i] = &s->jobs[i];
  if (n > 1)
    qsort(order, n, sizeof *order, by_date);
  for (size_t i = 0; i < n; i++) {
    sorted[i] = *order[i];
    to[order[i] - s->jobs] = (int)i;
  }
  s->jobs = sorted;
  for (int i = 0; i < s->n_uses; i++)
    s->uses[i].job = to[s->uses[i].job];
  for (int i = 0; i < s->n_lines; i++)
    s->lines[i].job = to[s->lines[i].job];
  for (int i = 0; i < s->n_dues; i++)
    s->dues[i].job = to[s->dues[i].job];
  return PW_OK;
}

pw_status pw_season_finish(struct pw_season *s, struct pw_ctx *ctx)
{
  pw_status st = sort_jobs(s, ctx);
  if (st != PW_OK)
    return st;
  if (s->n_lines > 1)
    qsort(s->lines, (size_t)s->n_lines, sizeof *s->lines, by_supplier);
  if (s->n_dues > 1)
    qsort(s->dues, (size_t)s->n_dues, sizeof *s->dues, by_due);
  return pw_season_clashes(s, ctx);
}
