/* clash.c - pits, boxes and people wanted by two jobs.
 * In: the uses of all jobs.  Out: pairs of them, worst first. */
#include "season/clash.h"

#include "base/arena.h"

#include <stdlib.h>
#include <string.h>

static int by_number(int64_t a, int64_t b) { return a < b ? -1 : a > b; }

static int by_thing(const void *left, const void *right)
{
  const struct pw_season_use *a = left, *b = right;
  int by = by_number(a->kind, b->kind);
  by = by ? by : strcmp(a->name, b->name);
  by = by ? by : by_number(a->from_min, b->from_min);
  by = by ? by : by_number(a->job, b->job);
  by = by ? by : by_number(a->to_min, b->to_min);
  return by ? by : by_number(a->hands, b->hands);
}

static int by_weight(const void *left, const void *right)
{
  const struct pw_season_clash *a = left, *b = right;
  int by = by_number(a->kind, b->kind);
  by = by ? by : by_number(a->a, b->a);
  return by ? by : by_number(a->b, b->b);
}

static bool is_one_thing(const struct pw_season_use *a, const struct pw_season_use *b)
{
  return a->kind == b->kind && strcmp(a->name, b->name) == 0;
}

static pw_status add(struct pw_season *s, struct pw_season_clash clash, struct pw_ctx *ctx)
{
  if (pw_arena_grow(ctx->arena, &s->clashes, &s->cap_clashes, (size_t)s->n_clashes, sizeof *s->clashes) != 0)
    return PW_ERR_MEMORY;
  s->clashes[s->n_clashes++] = clash;
  return PW_OK;
}

/* Two uses of one thing by two jobs: at once, or on one local day with so much time between. */
static bool meet(struct pw_season_clash *out, const struct pw_season *s, int a, int b)
{
  const struct pw_season_use *x = &s->uses[a], *y = &s->uses[b];
  int64_t between = y->from_min - x->to_min;
  bool is_day = y->first_day <= x->last_day;
  int64_t road = x->travel_min + y->travel_min;
  *out = (struct pw_season_clash){.a = a, .b = b, .free_min = between > 0 ? between : 0};
  if (between < 0)
    out->kind = PW_SEASON_AT_ONCE;
  else if (between < road)
    out->kind = PW_SEASON_NO_ROAD;
  else
    out->kind = PW_SEASON_SAME_DAY;
  return between < road || is_day;
}

static pw_status things(struct pw_season *s, int first, int end, struct pw_ctx *ctx)
{
  struct pw_season_clash clash;
  for (int a = first; a < end; a++)
    for (int b = a + 1; b < end; b++) {
      if (s->uses[a].job == s->uses[b].job || !meet(&clash, s, a, b))
        continue;
      pw_status st = add(s, clash, ctx);
      if (st != PW_OK)
        return st;
    }
  return PW_OK;
}

/* The moment of two jobs at once at which most hands of a role are asked for: it can only be where a shift begins. */
static pw_status roles(struct pw_season *s, int first, int end, struct pw_ctx *ctx)
{
  struct pw_season_clash worst = {.hands = 0};
  int there_are = 0;
  for (int i = first; i < end; i++)
    there_are = s->uses[i].there_are > there_are ? s->uses[i].there_are : there_are;
  for (int i = first; i < end; i++) {
    int hands = 0, other = PW_NONE;
    for (int k = first; k < end; k++)
      if (s->uses[k].from_min <= s->uses[i].from_min && s->uses[i].from_min < s->uses[k].to_min) {
        hands += s->uses[k].hands;
        if (s->uses[k].job != s->uses[i].job && other == PW_NONE)
          other = k;
      }
    if (other != PW_NONE && hands > worst.hands)
      worst = (struct pw_season_clash){.a = other, .b = i, .hands = hands, .there_are = there_are};
  }
  if (worst.hands == 0 || (there_are > 0 && worst.hands <= there_are))
    return PW_OK;
  worst.kind = there_are > 0 ? PW_SEASON_AT_ONCE : PW_SEASON_HOW_MANY;
  return add(s, worst, ctx);
}

pw_status pw_season_clashes(struct pw_season *s, struct pw_ctx *ctx)
{
  pw_status st = PW_OK;
  if (s->n_uses > 1)
    qsort(s->uses, (size_t)s->n_uses, sizeof *s->uses, by_thing);
  for (int first = 0, end; first < s->n_uses && st == PW_OK; first = end) {
    for (end = first + 1; end < s->n_uses && is_one_thing(&s->uses[first], &s->uses[end]);)
      end++;
    st = s->uses[first].kind == PW_SEASON_ROLE ? roles(s, first, end, ctx) : things(s, first, end, ctx);
  }
  if (s->n_clashes > 1)
    qsort(s->clashes, (size_t)s->n_clashes, sizeof *s->clashes, by_weight);
  return st;
}
