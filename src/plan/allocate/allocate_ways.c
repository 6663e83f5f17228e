/* allocate_ways.c - ways out of a shortage, each one planned again: a pit on offer, one more hot box or oven like the largest,
 * one more pit hand, less planned earliness, a lot cooked the day before and chilled.
 * Where none of them places everything, pairs of the most helpful ones are tried too. */
#include "plan/allocate/allocate_short.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/format.h"
#include "heat/food_code.h"
#include "plan/lots/day_before.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAY_BEFORE_MOST = 24, LOOKS_OF_WAYS = 9 * 1000 * 1000 }; /* work: see allocate_search.c */
enum { WAY_ROUNDS = 300, WAY_ROUNDS_MISSED = 2000, PAIRED = 4, BULKY = 2 };
#define PIT_SET_UP_WORK_MIN 20 /* as the tasks have it; common practice, no source */

enum way_kind { WAY_PIT, WAY_BOX, WAY_OVEN, WAY_HAND, WAY_MARGIN, WAY_DAY_BEFORE };

/** One change of the problem.  The hold is not among them: every lot's window reaches to its cut's longest hold already. */
struct way {
  enum way_kind kind;
  int index; /* pit, finisher, crew line or lot */
  const char *what;
  double extra_cents;
  const struct pw_event *ev;  /* a lot cooked the day before: the event with a fire and somebody at it on that day */
  const struct pw_lots *lots; /* the lots then */
  int n_cold;                 /* pieces that then find no oven to be reheated in */
  struct pw_remedy single;    /* what it does alone */
};

struct ways {
  long *n_looks; /* spent so far */
  struct pw_allocation *out;
  const struct pw_al *al;
  const struct pw_al_solution *best;
  double base_cents; /* the plan's cost without its misses */
  unsigned seed;
  struct pw_ctx *ctx;
  struct way *list;
  int n;
};

/* ---- changes of the problem ------------------------------------------------------------------------ */

/* lots that may be changed (their arrays are shared) */
static pw_status with_own_lots(struct pw_al *al, struct pw_ctx *ctx)
{
  struct pw_al_lot *lots = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *lots);
  if (!lots)
    return PW_ERR_MEMORY;
  memcpy(lots, al->lot, (size_t)al->n_lots * sizeof *lots);
  al->lot = lots;
  return PW_OK;
}

static pw_status with_room(struct pw_al *al, int f, struct pw_ctx *ctx)
{
  double *capacity = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *capacity);
  if (!capacity)
    return PW_ERR_MEMORY;
  memcpy(capacity, al->capacity, (size_t)al->n_finishers * sizeof *capacity);
  capacity[f] *= 2;
  al->capacity = capacity;
  return PW_OK;
}

static pw_status with_hand(struct pw_al *al, const struct pw_crew *crew, struct pw_ctx *ctx)
{
  double *hands = pw_arena_array(ctx->arena, (size_t)al->n_slots + 1, sizeof *hands);
  if (!hands)
    return PW_ERR_MEMORY;
  for (int t = 0; t < al->n_slots; t++) {
    int from = al->lots->start_at_min + t * al->slot_min;
    bool is_on = crew->from_at_min <= from && crew->to_at_min >= from + al->slot_min;
    hands[t] = al->hands_min[t] + (is_on ? al->slot_min * PW_AL_HANDS_SHARE_FRAC : 0);
  }
  al->hands_min = hands;
  return PW_OK;
}

/* Lots that miss may end as late as rest and grid allow. */
static pw_status without_margin(struct pw_al *al, const int *missed, struct pw_ctx *ctx)
{
  pw_status st = with_own_lots(al, ctx);
  for (int c = 0; st == PW_OK && c < al->n_lots; c++) {
    struct pw_al_lot *lot = &al->lot[c];
    int last = (lot->service_at_min - lot->rest_min - al->lots->start_at_min) / al->slot_min;
    if (missed[c] > 0 && last > lot->done_last)
      lot->done_last = last < al->n_slots ? last : al->n_slots;
  }
  return st;
}

static pw_status apply(struct pw_al *al, const struct ways *w, const struct way *way)
{
  switch (way->kind) {
  case WAY_BOX:
  case WAY_OVEN:
    return with_room(al, way->index, w->ctx);
  case WAY_HAND:
    return with_hand(al, &al->ev->crew[way->index], w->ctx);
  case WAY_MARGIN:
    return without_margin(al, w->out->missed, w->ctx);
  default:
    return PW_OK; /* a hired pit, an earlier day: there from the beginning */
  }
}

/* Those that are another problem from the ground up: only one at a time. */
static bool makes_problem(const struct way *way) { return way->kind == WAY_PIT || way->kind == WAY_DAY_BEFORE; }

/* The problem with one change or two, planned again; missed_after INT_MAX: it cannot be planned. */
static pw_status try_ways(struct pw_remedy *remedy, const struct ways *w, const struct way *one, const struct way *two)
{
  struct pw_al al = *w->al;
  const struct way *made = makes_problem(one) ? one : two && makes_problem(two) ? two : NULL;
  struct pw_ctx side = {.arena = w->ctx->arena}; /* what a trial says against itself is no fault of the job */
  *remedy = (struct pw_remedy){.what = one->what, .missed_after = INT_MAX};
  pw_status st = !made                   ? PW_OK
                 : made->kind == WAY_PIT ? pw_al_make_with(&al, w->al, made->index, &side)
                                         : pw_al_make(&al, made->ev, made->lots, w->al->rates, &side);
  if (st == PW_ERR_INPUT) /* a day or a setting too many: no way out */
    return PW_OK;
  if (st == PW_OK && w->al->is_shared)
    pw_al_share(&al);
  if (st == PW_OK)
    st = apply(&al, w, one);
  if (st == PW_OK && two)
    st = apply(&al, w, two);
  struct pw_al_solution fresh;
  struct pw_al_search_options options = {
      .seed = w->seed, .n_rounds = WAY_ROUNDS, .n_rounds_missed = WAY_ROUNDS_MISSED, .heat_frac = 0.02};
  al.deadline_s = w->al->deadline_s;
  if (st == PW_OK)
    st = pw_al_search(&fresh, &al, &options, w->ctx);
  if (st != PW_OK)
    return st;
  *w->n_looks += fresh.n_looks;
  double misses = pw_al_solution_missed_cents(&al, &fresh);
  double cents = fresh.cost_cents - misses - w->base_cents + one->extra_cents + (two ? two->extra_cents : 0);
  *remedy = (struct pw_remedy){.what = one->what,
                               .cost_cents = llround(fmax(cents, 0)),
                               .missed_after = fresh.n_missed + one->n_cold + (two ? two->n_cold : 0)};
  if (two)
    remedy->what = pw_arena_printf(w->ctx->arena, "%s; and %s", one->what, two->what);
  return remedy->what ? PW_OK : PW_ERR_MEMORY;
}

/* ---- the list ---------------------------------------------------------------------------------------- */

static void add(struct ways *w, struct way way) { w->list[w->n++] = way; }

static double fire_cents_per_h(const struct pw_event *ev)
{
  double most = 0;
  for (int k = 0; k < ev->n_crew; k++)
    if ((ev->crew[k].duties & (1u << PW_DUTY_FIRE | 1u << PW_DUTY_PIT)) != 0)
      most = fmax(most, ev->crew[k].cents_per_h);
  return most;
}

static void add_pits(struct ways *w)
{
  for (int p = 0; p < w->al->n_pits; p++) {
    const struct pw_pit *pit = &w->al->ev->pits[p];
    if (pit->is_rentable)
      add(w,
          (struct way){.kind = WAY_PIT,
                       .index = p,
                       .extra_cents = (double)pit->rent_cents + fire_cents_per_h(w->al->ev) * PIT_SET_UP_WORK_MIN / 60,
                       .what = pw_arena_printf(w->ctx->arena, "hire %s (its rent and setting it up are in this figure)",
                                               pit->name)});
  }
}

static void add_room(struct ways *w, bool is_oven)
{
  int largest = PW_NONE;
  for (int f = 0; f < w->al->n_finishers; f++)
    if (w->al->is_oven[f] == is_oven && (largest == PW_NONE || w->al->capacity[f] > w->al->capacity[largest]))
      largest = f;
  if (largest != PW_NONE)
    add(w, (struct way){.kind = is_oven ? WAY_OVEN : WAY_BOX,
                        .index = largest,
                        .what = pw_arena_printf(
                            w->ctx->arena,
                            is_oven ? "one more oven like %s, for wrapped pieces (its hire is not in this figure)"
                                    : "one more %s (its hire is not in this figure)",
                            w->al->ev->finishers[largest].name)});
}

/* another hand for as long as the pit crew's longest shift, at its rate */
static void add_hand(struct ways *w)
{
  const struct pw_event *ev = w->al->ev;
  int best = PW_NONE;
  for (int k = 0; k < ev->n_crew; k++)
    if ((ev->crew[k].duties & (1u << PW_DUTY_PIT)) &&
        (best == PW_NONE ||
         ev->crew[k].to_at_min - ev->crew[k].from_at_min > ev->crew[best].to_at_min - ev->crew[best].from_at_min))
      best = k;
  if (best == PW_NONE)
    return;
  const struct pw_crew *crew = &ev->crew[best];
  int minutes = crew->to_at_min - crew->from_at_min;
  add(w, (struct way){.kind = WAY_HAND,
                      .index = best,
                      .extra_cents = crew->cents_per_h * minutes / 60.0,
                      .what = pw_arena_printf(w->ctx->arena, "one more %s on the shift of %s", crew->role,
                                              pw_format_minutes(minutes).s)});
}

static void add_margin(struct ways *w)
{
  int most = 0;
  for (int c = 0; c < w->al->n_lots; c++)
    if (w->out->missed[c] > 0 && w->al->lots->lots[c].early_min > most)
      most = w->al->lots->lots[c].early_min;
  if (most > 0)
    add(w, (struct way){.kind = WAY_MARGIN,
                        .what = pw_arena_printf(
                            w->ctx->arena,
                            "let what finds no place end as late as its rest allows, without the %s kept for slow "
                            "meat and carving: one in two then comes to the table late",
                            pw_format_minutes(most).s)});
}

/* The lines for the event file: "- {dish: pork-pulled, cook: day_before}" of every dish of the lot's cut. */
static const char *day_before_lines(const struct ways *w, int c)
{
  const struct pw_event *ev = w->al->ev;
  const struct pw_service *service = &ev->services[w->al->lots->lots[c].service];
  const char *words = "";
  for (int m = 0; m < service->n_menu && words; m++) {
    const struct pw_dish *dish = &ev->dishes[service->menu[m].dish];
    if (dish->cut == w->al->lots->lots[c].cut)
      words =
          pw_arena_printf(w->ctx->arena, "%s%s- {dish: %s, cook: day_before}", words, *words ? " and " : "", dish->id);
  }
  return words;
}

/* Ice and bags at their cheapest, and two hours of the cheapest oven that is hot enough. */
static double chill_cents(const struct ways *w, int c)
{
  const struct pw_event *ev = w->al->ev;
  const struct pw_cut *cut = &ev->cuts[w->al->lots->lots[c].cut];
  double cents = 0, oven = HUGE_VAL;
  for (int u = 0; u < cut->n_chill_uses; u++) {
    const struct pw_use *use = &cut->chill_uses[u];
    double times = use->per == PW_PER_KG_RAW  ? cut->piece_kg * w->al->lot[c].n
                   : use->per == PW_PER_PIECE ? w->al->lot[c].n
                                              : 1;
    double least = HUGE_VAL;
    for (int o = 0; o < ev->items[use->item].n_offers; o++) {
      const struct pw_offer *offer = &ev->items[use->item].offers[o];
      least = fmin(least, offer->is_by_weight ? offer->price_cents : offer->price_cents / offer->amount);
    }
    cents += isfinite(least) ? use->amount * times * least : 0;
  }
  for (int f = 0; f < ev->n_finishers; f++)
    if (ev->finishers[f].kind == PW_OVEN && ev->finishers[f].temp_c >= PW_REHEAT_OVEN_C)
      oven = fmin(oven, ev->finishers[f].cents_per_h);
  return cents + (isfinite(oven) ? 2 * oven : 0); /* two hours: FDA Food Code 2022 3-403.11(D) */
}

/* Only what the event file could ask for: a dish on the day still, and an oven to reheat it in. */
static bool may_be_day_before(const struct ways *w, int c)
{
  const struct pw_event *ev = w->al->ev;
  bool has_oven = false;
  for (int f = 0; f < ev->n_finishers; f++)
    has_oven = has_oven || (ev->finishers[f].kind == PW_OVEN && ev->finishers[f].temp_c >= PW_REHEAT_OVEN_C);
  return has_oven && ev->cuts[w->al->lots->lots[c].cut].may_chill && !w->al->lots->lots[c].is_day_before;
}

static double bulk(const struct ways *w, int c)
{
  const struct pw_lot *lot = &w->al->lots->lots[c];
  return may_be_day_before(w, c) ? lot->pieces * lot->footprint_length_m * lot->footprint_width_m : 0;
}

/* Among the bulkiest of those that may be chilled: away, they leave racks to what must be cooked on the day. */
static bool is_bulky(const struct ways *w, int c)
{
  int n_bulkier = 0;
  for (int k = 0; k < w->al->n_lots; k++)
    n_bulkier += bulk(w, k) > bulk(w, c) || (bulk(w, k) == bulk(w, c) && k < c);
  return n_bulkier < BULKY;
}

/* Somebody of the pit crew is on shift from when the lot may come off until it is chilled. */
static bool is_manned(const struct pw_event *ev, const struct pw_lot *cold)
{
  for (int at = cold->done_first_min; at < cold->by_at_min; at += ev->slot_min) {
    bool is_there = false;
    for (int k = 0; k < ev->n_crew; k++)
      is_there = is_there || ((ev->crew[k].duties & (1u << PW_DUTY_PIT)) && ev->crew[k].from_at_min <= at &&
                              ev->crew[k].to_at_min >= at + ev->slot_min);
    if (!is_there)
      return false;
  }
  return true;
}

/* The event with one more fire for every pit and, where nobody is there, one of the pit crew from the first load to the chilling. */
static const struct pw_event *with_earlier_day(const struct ways *w, const struct pw_lots *lots, int c, double *cents)
{
  const struct pw_lot *cold = &lots->lots[c];
  struct pw_event *ev = pw_arena_alloc(w->ctx->arena, sizeof *ev);
  struct pw_pit *pits = pw_arena_array(w->ctx->arena, (size_t)w->al->ev->n_pits + 1, sizeof *pits);
  struct pw_crew *crew = pw_arena_array(w->ctx->arena, (size_t)w->al->ev->n_crew + 1, sizeof *crew);
  if (!ev || !pits || !crew)
    return NULL;
  *ev = *w->al->ev;
  for (int p = 0; p < ev->n_pits; p++) {
    pits[p] = ev->pits[p];
    pits[p].n_burns_max++;
  }
  int cook = PW_NONE;
  for (int k = 0; k < ev->n_crew; k++) {
    crew[k] = ev->crew[k];
    if ((crew[k].duties & (1u << PW_DUTY_PIT)) && (cook == PW_NONE || crew[k].cents_per_h > crew[cook].cents_per_h))
      cook = k;
  }
  if (cook != PW_NONE && !is_manned(ev, cold)) {
    enum { DAY_MIN = 24 * 60 };
    crew[ev->n_crew] = crew[cook];
    crew[ev->n_crew].to_at_min = cold->by_at_min + 60; /* into the ice water */
    crew[ev->n_crew].from_at_min = crew[ev->n_crew].to_at_min - DAY_MIN;
    crew[ev->n_crew].count = 1;
    crew[ev->n_crew].guests_per_hand = 0;
    int longest = 0;
    for (int z = 0; z < lots->n_zones; z++)
      for (int s = 0; s < ev->pits[lots->zones[z].pit].n_settings; s++) {
        int finish = cold->has_finish ? cold->finish_min[z][s] : 0;
        if (cold->smoke_min[z][s] > 0 && finish >= 0 && cold->smoke_min[z][s] + finish > longest)
          longest = cold->smoke_min[z][s] + finish;
      }
    *cents =
        crew[ev->n_crew].cents_per_h * (longest + cold->rest_min + cold->early_min + 60) / 60; /* paid while it cooks */
    ev->n_crew++;
  }
  ev->pits = pits;
  ev->crew = crew;
  return ev;
}

static pw_status add_day_before(struct ways *w, int c)
{
  const struct pw_al *al = w->al;
  const struct pw_service *service = &al->ev->services[al->lots->lots[c].service];
  enum pw_units units = al->ev->units;
  struct pw_lots *lots = pw_arena_alloc(w->ctx->arena, sizeof *lots);
  if (!lots)
    return PW_ERR_MEMORY;
  pw_status status = pw_lots_day_before(lots, al->lots, al->ev, c, w->ctx);
  double shift_cents = 0;
  const struct pw_event *ev = status ? NULL : with_earlier_day(w, lots, c, &shift_cents);
  const char *lines = ev ? day_before_lines(w, c) : NULL;
  if (status || !lines)
    return PW_ERR_MEMORY;
  int n_cold = lots->lots[c].pieces - pw_day_before_reheated(lots, c);
  add(w, (struct way){
             .kind = WAY_DAY_BEFORE,
             .index = c,
             .ev = ev,
             .lots = lots,
             .n_cold = n_cold,
             .extra_cents = shift_cents + chill_cents(w, c),
             .what = pw_arena_printf(
                 w->ctx->arena,
                 "cook %s for %s the day before, chill it (%s to %s in 2 h, to %s in 6 h in all) and reheat it to %s "
                 "within 2 h (FDA Food Code 2022 3-501.14, 3-403.11): on the menu of %s write %s%s",
                 al->ev->cuts[al->lots->lots[c].cut].name, service->name ? service->name : service->id,
                 pw_format_temp(units, PW_FOOD_CODE_HOT_C).s, pw_format_temp(units, PW_FOOD_CODE_COOL_C).s,
                 pw_format_temp(units, PW_FOOD_CODE_COLD_C).s, pw_format_temp(units, PW_FOOD_CODE_REHEAT_C).s,
                 service->id, lines,
                 shift_cents > 0 ? ", and give somebody of the pit crew a shift on that day (its pay is in this figure)"
                                 : "")});
  return PW_OK;
}

/* A way out that leaves most of it short is none. */
static bool gets_out(const struct pw_remedy *remedy, int n_missed)
{
  return remedy->missed_after < n_missed && remedy->missed_after <= n_missed / 2;
}

static int by_cost(const void *pa, const void *pb)
{
  const struct pw_remedy *a = pa, *b = pb;
  if (a->missed_after == 0 && b->missed_after > 0)
    return -1;
  if (b->missed_after == 0 && a->missed_after > 0)
    return 1;
  if (a->cost_cents != b->cost_cents)
    return a->cost_cents < b->cost_cents ? -1 : 1;
  return strcmp(a->what, b->what);
}

/* fewest pieces left, then cheapest, then as listed */
static int by_help(const void *pa, const void *pb)
{
  const struct way *a = pa, *b = pb;
  if (a->single.missed_after != b->single.missed_after)
    return a->single.missed_after < b->single.missed_after ? -1 : 1;
  if (a->single.cost_cents != b->single.cost_cents)
    return a->single.cost_cents < b->single.cost_cents ? -1 : 1;
  return a->kind != b->kind ? (a->kind < b->kind ? -1 : 1) : (a->index > b->index) - (a->index < b->index);
}

/* A way that opens nothing alone (a hand without a rack) may still be what the other one lacks. */
static pw_status pairs(struct ways *w)
{
  qsort(w->list, (size_t)w->n, sizeof *w->list, by_help);
  int n = w->n < PAIRED ? w->n : PAIRED, n_single = w->out->n_remedies;
  for (int i = 0; i < n; i++)
    for (int k = i + 1; k < n; k++) {
      struct pw_remedy both;
      if (makes_problem(&w->list[i]) && makes_problem(&w->list[k]))
        continue; /* one hired pit or one lot a day earlier at a time */
      pw_status st = try_ways(&both, w, &w->list[i], &w->list[k]);
      if (st != PW_OK)
        return st;
      int least = w->list[i].single.missed_after;
      least = w->list[k].single.missed_after < least ? w->list[k].single.missed_after : least;
      if (both.missed_after < least && gets_out(&both, w->best->n_missed))
        w->out->remedies[w->out->n_remedies++] = both;
    }
  bool is_solved = false;
  for (int i = n_single; i < w->out->n_remedies; i++)
    is_solved = is_solved || w->out->remedies[i].missed_after == 0;
  int n_kept = n_single; /* where a pair places everything, pairs that do not are noise */
  for (int i = n_single; i < w->out->n_remedies; i++)
    if (!is_solved || w->out->remedies[i].missed_after == 0)
      w->out->remedies[n_kept++] = w->out->remedies[i];
  w->out->n_remedies = n_kept;
  return PW_OK;
}

pw_status pw_al_remedies(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                         unsigned seed, struct pw_ctx *ctx)
{
  long n_looks = 0;
  struct ways w = {.n_looks = &n_looks,
                   .out = out,
                   .al = al,
                   .best = best,
                   .seed = seed,
                   .ctx = ctx,
                   .base_cents = best->cost_cents - pw_al_solution_missed_cents(al, best)};
  size_t most = (size_t)(al->n_pits + al->n_lots) + 4;
  w.list = pw_arena_array(ctx->arena, most, sizeof *w.list);
  out->remedies = pw_arena_array(ctx->arena, most + PAIRED * (PAIRED - 1) / 2, sizeof *out->remedies);
  if (!w.list || !out->remedies)
    return PW_ERR_MEMORY;
  add_room(&w, false);
  add_room(&w, true);
  add_hand(&w);
  add_margin(&w);
  pw_status status = PW_OK;
  int n_before = 0;
  for (int c = 0; c < al->n_lots && !status; c++)
    if (n_before < DAY_BEFORE_MOST && may_be_day_before(&w, c) && (out->missed[c] > 0 || is_bulky(&w, c))) {
      status = add_day_before(&w, c);
      n_before++;
    }
  add_pits(&w);
  bool is_solved = false;
  for (int i = 0; i < w.n && !status; i++) {
    if (!w.list[i].what)
      return PW_ERR_MEMORY;
    if (n_looks > LOOKS_OF_WAYS || pw_deadline_is_over(al->deadline_s))
      break; /* of a yard beyond any */
    status = try_ways(&w.list[i].single, &w, &w.list[i], NULL);
    if (status || !gets_out(&w.list[i].single, best->n_missed))
      continue;
    out->remedies[out->n_remedies++] = w.list[i].single;
    is_solved = is_solved || w.list[i].single.missed_after == 0;
  }
  if (!status && !is_solved && n_looks <= LOOKS_OF_WAYS && !pw_deadline_is_over(al->deadline_s))
    status = pairs(&w);
  qsort(out->remedies, (size_t)out->n_remedies, sizeof *out->remedies, by_cost);
  return status;
}
