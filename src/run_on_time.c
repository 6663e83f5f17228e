/* run_on_time.c - rounds of planning and drawing [R3].  No formulas here: the chance is plan/chance's, and so is whom to blame.
 * Every round but the first begins with the plan before it, so that little else moves. */
#include "run_on_time.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"
#include "plan/lots/side_pans.h"

#include <math.h>
#include <string.h>

/* How much of it: counts, never seconds.  A large job is planned with fewer rounds. */
enum {
  MARGIN_ROUNDS = 40,
  MARGIN_DRAWS = 600,
  MEND_ROUNDS = 10,
  WHOLE_ROUNDS =
      4, /* of these, searched as thoroughly as the plan was: a quick plan lights fires that are not needed */
  AGAIN_ROUNDS = 4, /* whole searches more for a plan that has its chance */
  TRIM_ROUNDS = 24,
  TRIM_SEARCH_ROUNDS = 500, /* of the search, each */
  POLISH_SEARCH_ROUNDS = 3000,
  FIRST_DRAWS = 250,  /* of a plan that may be far from its chance */
  ROUND_PIECES = 500, /* with more pieces than this, so much fewer rounds */
  TRIM_PIECES = 150,  /* the same for taking back */
  QUICK_MARGIN_LOOKS =
      250 * 1000, /* options looked at before and after the search of a quick plan: somebody waits for it */
  QUICK_MEND_LOOKS = 350 * 1000,
  LOADS_A_LOOK = 8, /* drawn in the time an option is looked at, about */
  MARGIN_SEED = 7,
  CHOICE_SEED = 11,
  TOLD_SEED = 13,
  TOLD_ROUNDS = 3 /* of going back where the told draws fall short */
};

/* Plans are chosen by some draws and told by others: whoever chooses among many by a few draws finds them better than they are, by up
 * to a point and a half of a hundred on the examples.  So much more is asked of the choice, and what the told draws still lack. */
static const double CHOICE_GUARD_FRAC = 0.005, CHOICE_MOST_FRAC = 0.9995;

static const double FOUND_DEARER_FRAC = 0.05, /* fires of a plan that is remembered: wages differ by more */
    FOUND_APART_FRAC = 0.0005;                /* plans nearer than this are one */

static const double AGAIN_LEAST_FRAC = 0.005; /* a search that gains less is the last one */

static size_t n_margins(const struct pw_event *ev) { return (size_t)ev->n_services * (size_t)ev->n_cuts; }

static int rounds_for(int rounds, int pieces, const struct pw_lots *lots)
{
  int n = 0;
  for (int c = 0; c < lots->n_lots; c++)
    n += lots->lots[c].pieces;
  return n <= pieces ? rounds : (int)((double)rounds * pieces / n);
}

static int rounds_of(int rounds, const struct pw_lots *lots) { return rounds_for(rounds, ROUND_PIECES, lots); }

static pw_status margins_make(struct pw_margins *out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  out->early_min = pw_arena_array(ctx->arena, n_margins(ev) + 1, sizeof *out->early_min);
  out->turn_min = pw_arena_array(ctx->arena, n_margins(ev) + 1, sizeof *out->turn_min);
  return out->early_min && out->turn_min ? PW_OK : PW_ERR_MEMORY;
}

static void margins_copy(struct pw_margins *to, const struct pw_margins *from, size_t n)
{
  memcpy(to->early_min, from->early_min, n * sizeof *to->early_min);
  memcpy(to->turn_min, from->turn_min, n * sizeof *to->turn_min);
}

/** A plan of one round; without draws its chance is not known yet. */
struct round {
  struct pw_lots lots;
  struct pw_allocation al;
  struct pw_chance chance;
};

/** Whether somebody waits who has waited long enough. */
static bool is_spent(const long *looks_left) { return looks_left && *looks_left <= 0; }

static long looks_of(long usual, const struct pw_allocate_options *options)
{
  return usual * (options->looks_times > 1 ? options->looks_times : 1);
}

static void spend_draws(long *looks_left, int n_draws, const struct pw_allocation *al)
{
  if (looks_left)
    *looks_left -= (long)n_draws * al->n_loads / LOADS_A_LOOK;
}

static pw_status round_plan(struct round *r, const struct pw_plan *plan, const struct pw_margins *margins,
                            const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                            const struct pw_chance_options *draws, struct pw_ctx *ctx)
{
  pw_status st = pw_lots_make_like(&r->lots, plan->event, &plan->purchase, margins, &plan->lots, ctx);
  if (st == PW_OK)
    st = pw_side_pans_make(&r->lots, plan->event, &plan->demand, ctx);
  if (st == PW_OK)
    st = pw_allocate_make(&r->al, plan->event, &r->lots, rates, options, ctx);
  if (st == PW_OK && draws)
    st = pw_chance_make(&r->chance, plan->event, &r->lots, &r->al, draws, ctx);
  if (draws)
    spend_draws(options->looks_left, draws->n_draws, &r->al);
  return st;
}

/** The options of a round: quickly, beginning with the plan before. */
static struct pw_allocate_options quick_options(const struct pw_allocate_options *options,
                                                const struct pw_allocation *like, long *looks_left)
{
  struct pw_allocate_options quick = *options;
  quick.effort = PW_EFFORT_QUICK;
  quick.is_without_ways = true;
  quick.dump_model = NULL;
  quick.like = like ? like : options->like;
  quick.looks_left = looks_left;
  return quick;
}

/* ---- before the search ------------------------------------------------------------------------------------- */

/** What the last widening widened is taken back; where only the most blamed was, it is left alone from now on: of several at
 *  once one may have left a piece without a place. */
static void freeze(unsigned char *frozen, struct pw_margins *tried, const struct pw_margins *kept, size_t n,
                   bool is_one)
{
  for (size_t k = 0; k < n && is_one; k++) {
    if (tried->early_min[k] > kept->early_min[k])
      frozen[k] |= 1u << PW_BLAME_OWN;
    if (tried->turn_min[k] > kept->turn_min[k])
      frozen[k] |= 1u << PW_BLAME_SPOT;
  }
  margins_copy(tried, kept, n);
}

pw_status pw_run_margins(struct pw_margins *out, const struct pw_plan *plan, const struct pw_fuel_rates *rates,
                         const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  size_t n = n_margins(ev);
  struct pw_margins tried;
  unsigned char *frozen = pw_arena_array(ctx->arena, n + 1, sizeof *frozen);
  struct pw_arena *kept = NULL; /* of the round before, whose plan the next begins with */
  struct round last = {0};
  struct pw_kept_draws *kept_draws = pw_kept_draws_open(MARGIN_SEED);
  const struct pw_chance_options draws = {.n_draws = MARGIN_DRAWS,
                                          .seed = MARGIN_SEED,
                                          .shares = pw_spread_shares(),
                                          .is_strict = true, /* only whom to blame is asked */
                                          .kept = kept_draws};
  pw_status st = margins_make(out, ev, ctx);
  if (st == PW_OK)
    st = margins_make(&tried, ev, ctx);
  if (st == PW_OK && (!frozen || !kept_draws))
    st = PW_ERR_MEMORY;
  int rounds = rounds_of(MARGIN_ROUNDS, &plan->lots), missed = 0; /* none of the very largest */
  bool is_one = false;                                            /* as several at once left a piece without a place */
  long looks = looks_of(QUICK_MARGIN_LOOKS, options), *left = options->effort == PW_EFFORT_QUICK ? &looks : NULL;
  for (int i = 0; st == PW_OK && i < rounds && !is_spent(left) && !pw_deadline_is_over(options->deadline_s); i++) {
    struct pw_arena *arena = pw_arena_open();
    struct pw_ctx own = {.arena = arena};
    struct pw_allocate_options quick = quick_options(options, kept ? &last.al : NULL, left);
    struct round now = {0};
    st = arena ? round_plan(&now, plan, &tried, rates, &quick, &draws, &own) : PW_ERR_MEMORY;
    if (st == PW_OK && i > 0 && now.al.n_missed > missed) {
      freeze(frozen, &tried, out, n, is_one); /* from the plan before, something else or less is widened */
      is_one = true;
      pw_arena_close(arena);
      if (pw_on_time_widen(&tried, frozen, is_one, ev, &last.lots, &last.chance) == 0)
        break;
      continue;
    }
    bool is_over = st != PW_OK;
    if (!is_over) {
      if (kept)
        pw_on_time_freeze_idle(frozen, ev, &last.lots, &now.lots);
      if (i == 0)
        missed = now.al.n_missed;
      margins_copy(out, &tried, n);
      is_over = missed > 0 || pw_on_time_is_reached(ev, &now.chance) ||
                pw_on_time_widen(&tried, frozen, is_one, ev, &now.lots, &now.chance) == 0;
    }
    pw_arena_close(kept);
    kept = arena;
    last = now;
    if (is_over)
      break;
  }
  pw_arena_close(kept);
  pw_kept_draws_close(kept_draws);
  return st;
}

/* ---- after the search --------------------------------------------------------------------------------------- */

struct mend {
  struct pw_plan *plan;
  struct pw_event *asked; /* the event, its targets raised by what the choice asks for more */
  struct pw_margins *margins;
  const struct pw_fuel_rates *rates;
  const struct pw_allocate_options *options;
  unsigned char *frozen;          /* bits 0, 1: not widened any more; 2, 3: not narrowed */
  struct pw_chance_options draws; /* by which plans are chosen */
  long *looks_left;               /* of a quick plan; NULL: no limit */
  struct pw_found *found;         /* NULL: nobody asks for other plans */
  struct pw_ctx *ctx;
};

/** Whether a plan of such fires is one with another. */
static bool is_alike(const struct pw_allocation *a, const struct pw_allocation *b)
{
  return fabs(a->cost_cents - b->cost_cents) < FOUND_APART_FRAC * b->cost_cents;
}

/** Where the plan goes among those found: in the place of one alike, behind them, or in the place of the dearest; -1 where it is dearer. */
static int place_found(struct pw_found *found, const struct pw_allocation *al)
{
  int dearest = 0;
  for (int i = 0; i < found->n; i++) {
    if (is_alike(&found->plans[i].allocation, al))
      return found->plans[i].allocation.cost_cents > al->cost_cents ? i : -1;
    if (found->plans[i].allocation.cost_cents > found->plans[dearest].allocation.cost_cents)
      dearest = i;
  }
  if (found->n < PW_FOUND_MOST)
    return found->n++;
  return found->plans[dearest].allocation.cost_cents > al->cost_cents ? dearest : -1;
}

/** Remembers the plan where it has its chance by the draws of the choice; of too many the dearest is forgotten. */
static pw_status remember(struct mend *m)
{
  const struct pw_plan *plan = m->plan;
  int at = m->found && pw_on_time_is_reached(m->asked, &plan->chance) ? place_found(m->found, &plan->allocation) : -1;
  if (at < 0)
    return PW_OK;
  struct pw_found_plan *now = &m->found->plans[at];
  *now = (struct pw_found_plan){.lots = plan->lots, .allocation = plan->allocation, .chance = plan->chance};
  pw_status st = margins_make(&now->margins, plan->event, m->ctx);
  if (st == PW_OK)
    margins_copy(&now->margins, m->margins, n_margins(plan->event));
  return st;
}

/** Takes a round's plan, made with the margins as they are, for the plan; its bound is proved afterwards, for its own windows. */
static pw_status take(struct mend *m, const struct round *r)
{
  struct pw_plan *plan = m->plan;
  struct pw_allocation al = r->al;
  al.is_quick = plan->allocation.is_quick;
  al.work += plan->allocation.work;
  al.stopped_by = plan->allocation.stopped_by;
  al.lp_s = plan->allocation.lp_s;
  al.search_s += plan->allocation.search_s;
  plan->allocation = al;
  plan->lots = r->lots;
  plan->chance = r->chance;
  return remember(m);
}

static bool is_over(const struct mend *m)
{
  return is_spent(m->looks_left) || pw_deadline_is_over(m->options->deadline_s);
}

/** The options of a round that is searched as thoroughly as the plan was.  The bound of the plan before only says when a search may
 *  stop: margins taken back may go below it, and what is told is proved anew. */
static struct pw_allocate_options whole_options(const struct mend *m, const struct pw_allocation *like)
{
  struct pw_allocate_options whole = quick_options(m->options, like, NULL);
  whole.effort = m->options->effort;
  whole.known_bound_cents = m->plan->allocation.bound_cents;
  return whole;
}

static pw_status widen(struct mend *m, int whole_rounds)
{
  struct pw_plan *plan = m->plan;
  struct round last = {.lots = plan->lots, .al = plan->allocation, .chance = plan->chance}, now;
  struct pw_margins taken; /* those of the plan: a widening that does not help is tried further, not kept */
  struct pw_margins fit;   /* those of the round before */
  size_t n = n_margins(plan->event);
  bool is_one = false;
  pw_status st = margins_make(&taken, plan->event, m->ctx);
  if (st == PW_OK)
    st = margins_make(&fit, plan->event, m->ctx);
  if (st != PW_OK)
    return st;
  margins_copy(&taken, m->margins, n);
  int rounds = rounds_of(MEND_ROUNDS, &plan->lots);
  int n_whole = m->options->effort == PW_EFFORT_FULL && rounds == MEND_ROUNDS ? whole_rounds : 0;
  for (int i = 0; i < rounds && st == PW_OK && !is_over(m); i++) {
    margins_copy(&fit, m->margins, n);
    if (pw_on_time_is_reached(m->asked, &plan->chance) ||
        pw_on_time_widen(m->margins, m->frozen, is_one, m->asked, &last.lots, &last.chance) == 0)
      break;
    struct pw_allocate_options options =
        i < n_whole ? whole_options(m, &last.al) : quick_options(m->options, &last.al, m->looks_left);
    st = round_plan(&now, plan, m->margins, m->rates, &options, &m->draws, m->ctx);
    if (st != PW_OK)
      break;
    if (now.al.n_missed > plan->allocation.n_missed) {
      freeze(m->frozen, m->margins, &fit, n, is_one);
      is_one = true;
      continue;
    }
    pw_on_time_freeze_idle(m->frozen, plan->event, &last.lots, &now.lots);
    last = now;
    if (pw_on_time_lack(m->asked, &now.chance) < pw_on_time_lack(m->asked, &plan->chance)) {
      st = take(m, &now);
      margins_copy(&taken, m->margins, n);
    }
  }
  margins_copy(m->margins, &taken, n);
  return st;
}

/** Where one margin after another does not help, several are too narrow at once: all of them wider, in whole slots. */
static pw_status widen_all(struct mend *m)
{
  static const double TIMES[] = {1.5, 2};
  struct pw_plan *plan = m->plan;
  size_t n = n_margins(plan->event);
  struct pw_margins tried;
  pw_status st = margins_make(&tried, plan->event, m->ctx);
  if (rounds_of(MEND_ROUNDS, &plan->lots) == 0)
    return st;
  for (size_t k = 0; k < sizeof TIMES / sizeof *TIMES && st == PW_OK; k++) {
    if (pw_on_time_is_reached(m->asked, &plan->chance) || is_over(m))
      break;
    for (size_t i = 0; i < n; i++) {
      tried.early_min[i] = pw_on_time_times(m->margins->early_min[i], TIMES[k], plan->lots.slot_min);
      tried.turn_min[i] = pw_on_time_times(m->margins->turn_min[i], TIMES[k], plan->lots.slot_min);
    }
    struct pw_allocate_options quick = quick_options(m->options, &plan->allocation, m->looks_left);
    struct round now;
    st = round_plan(&now, plan, &tried, m->rates, &quick, &m->draws, m->ctx);
    if (st == PW_OK && now.al.n_missed <= plan->allocation.n_missed &&
        pw_on_time_lack(m->asked, &now.chance) < pw_on_time_lack(m->asked, &plan->chance)) {
      margins_copy(m->margins, &tried, n);
      st = take(m, &now);
    }
  }
  return st;
}

/** Whether margin k of the event comes before margin b by names: no choice hangs on the order of a file. */
static bool is_before(const struct pw_event *ev, size_t k, size_t b)
{
  size_t n = (size_t)ev->n_cuts;
  int order = strcmp(ev->services[k / n].id, ev->services[b / n].id);
  return (order ? order : strcmp(ev->cuts[k % n].id, ev->cuts[b % n].id)) < 0;
}

/** The widest margin not yet tried narrower; NULL when none is left.  *bit is its mark. */
static int *widest(struct mend *m, size_t *at, unsigned *bit)
{
  int *best = NULL;
  for (size_t k = 0; k < n_margins(m->plan->event); k++)
    for (unsigned kind = 0; kind < 2; kind++) {
      int *margin = kind == PW_BLAME_OWN ? &m->margins->early_min[k] : &m->margins->turn_min[k];
      bool is_wider = *margin > (best ? *best : 0) || (best && *margin == *best && is_before(m->plan->event, k, *at));
      if (is_wider && !(m->frozen[k] & (4u << kind))) {
        best = margin;
        *at = k;
        *bit = 4u << kind;
      }
    }
  return best;
}

/** What is asked of a plan of the search. */
struct wanted {
  const double *least; /* [service] chance */
  const struct pw_chance_options *draws;
  long *looks_left;
};

/** Whether a plan of the search has its chance, or where that cannot be had no less than the plan before: few draws where they say so clearly, at last those that are told. */
static bool is_wanted(void *user, const struct pw_event *ev, const struct pw_lots *lots, const struct pw_allocation *al)
{
  static const int DRAWS[] = {100, 500, PW_CHANCE_DRAWS};
  const struct wanted *w = user;
  struct pw_ctx own = {.arena = pw_arena_open()};
  bool is_so = own.arena != NULL && !is_spent(w->looks_left);
  for (size_t k = 0; k < sizeof DRAWS / sizeof *DRAWS && is_so; k++) {
    struct pw_chance_options draws = *w->draws;
    draws.n_draws = DRAWS[k];
    draws.is_strict = true;
    double *bounds = pw_arena_array(own.arena, (size_t)ev->n_services + 1, sizeof *bounds);
    draws.least_frac = bounds;
    for (int s = 0; s < ev->n_services && bounds; s++) {
      double error = sqrt(w->least[s] * (1 - w->least[s]) / DRAWS[k]);
      bounds[s] = w->least[s] - (DRAWS[k] < PW_CHANCE_DRAWS ? 3 * error : 1e-9);
    }
    struct pw_chance chance;
    spend_draws(w->looks_left, DRAWS[k], al);
    is_so = bounds && pw_chance_make(&chance, ev, lots, al, &draws, &own) == PW_OK;
    for (int s = 0; s < ev->n_services && is_so; s++)
      is_so = chance.services[s].on_time_frac >= bounds[s];
  }
  pw_arena_close(own.arena);
  return is_so;
}

/** On from the plan with the margins as they are now, to cheaper ones with their chance; *is_cheaper: one was found and taken. */
static pw_status cheapen(struct mend *m, long n_rounds, bool *is_cheaper)
{
  struct pw_plan *plan = m->plan;
  struct pw_allocate_options quick = quick_options(m->options, &plan->allocation, m->looks_left);
  double *least = pw_arena_array(m->ctx->arena, (size_t)plan->event->n_services + 1, sizeof *least);
  if (!least)
    return PW_ERR_MEMORY;
  for (int s = 0; s < plan->event->n_services; s++)
    least[s] = fmin(pw_on_time_target(m->asked, s), plan->chance.services[s].on_time_frac);
  struct wanted wanted = {least, &m->draws, m->looks_left};
  const struct pw_allocate_filter filter = {is_wanted, &wanted, n_rounds};
  struct round now;
  quick.filter = &filter;
  pw_status st = round_plan(&now, plan, m->margins, m->rates, &quick, NULL, m->ctx);
  *is_cheaper = st == PW_OK && now.al.n_missed <= plan->allocation.n_missed &&
                now.al.cost_cents < plan->allocation.cost_cents - 1e-6;
  if (*is_cheaper && (st = pw_chance_make(&now.chance, plan->event, &now.lots, &now.al, &m->draws, m->ctx)) != PW_OK)
    *is_cheaper = false;
  for (int s = 0; s < plan->event->n_services && *is_cheaper; s++)
    *is_cheaper = now.chance.services[s].on_time_frac >= least[s] - 1e-9;
  return *is_cheaper ? take(m, &now) : st;
}

static pw_status trim(struct mend *m)
{
  struct pw_plan *plan = m->plan;
  int rounds = rounds_for(TRIM_ROUNDS, TRIM_PIECES, &plan->lots);
  bool is_cheaper;
  if (rounds == 0 || is_over(m))
    return PW_OK;
  pw_status st = cheapen(m, rounds_for(POLISH_SEARCH_ROUNDS, TRIM_PIECES, &plan->lots), &is_cheaper);
  for (int i = rounds; i > 0 && st == PW_OK && !is_over(m); i--) {
    size_t at = 0;
    unsigned bit = 0;
    int *margin = widest(m, &at, &bit);
    if (!margin)
      break;
    *margin -= plan->lots.slot_min;
    st = cheapen(m, TRIM_SEARCH_ROUNDS, &is_cheaper);
    if (st == PW_OK && !is_cheaper) {
      *margin += plan->lots.slot_min;
      m->frozen[at] |= (unsigned char)bit;
    }
  }
  return st;
}

/** Searched anew with what is left of the margins: taken back, they may let a fire go out that the plan has.  A plan that is cheaper but lacks
 *  some of its chance is mended first; *is_taken: it has its chance and is cheaper still. */
static pw_status attempt(struct mend *m, unsigned seed, bool *is_taken)
{
  struct pw_plan *plan = m->plan, before = *plan;
  struct pw_margins kept;
  struct round now;
  size_t n = n_margins(plan->event);
  struct pw_allocate_options whole = whole_options(m, &plan->allocation);
  whole.seed += seed;
  *is_taken = false;
  pw_status st = margins_make(&kept, plan->event, m->ctx);
  if (st == PW_OK)
    st = round_plan(&now, plan, m->margins, m->rates, &whole, &m->draws, m->ctx);
  if (st != PW_OK || now.al.n_missed > plan->allocation.n_missed ||
      now.al.cost_cents >= plan->allocation.cost_cents - 1e-6)
    return st;
  margins_copy(&kept, m->margins, n);
  memset(m->frozen, 0, n * sizeof *m->frozen);
  if ((st = take(m, &now)) == PW_OK)
    st = widen(m, 0);
  if (st == PW_OK && pw_on_time_is_reached(m->asked, &plan->chance))
    st = trim(m);
  *is_taken = pw_on_time_is_reached(m->asked, &plan->chance) &&
              plan->allocation.cost_cents < before.allocation.cost_cents - 1e-6;
  if (!*is_taken) {
    *plan = before;
    margins_copy(m->margins, &kept, n);
  }
  return st;
}

/** More searches for as long as one pays, each with other dice: no single one finds all. */
static pw_status again(struct mend *m)
{
  struct pw_plan *plan = m->plan;
  bool is_on = m->options->effort == PW_EFFORT_FULL && rounds_of(MEND_ROUNDS, &plan->lots) == MEND_ROUNDS &&
               pw_on_time_is_reached(m->asked, &plan->chance);
  pw_status st = PW_OK;
  for (unsigned i = 0; i < AGAIN_ROUNDS && is_on && st == PW_OK && !is_over(m); i++) {
    double cents = plan->allocation.cost_cents;
    st = attempt(m, i, &is_on);
    is_on = is_on && plan->allocation.cost_cents < cents * (1 - AGAIN_LEAST_FRAC);
  }
  return st;
}

/** The targets of the choice: those of the event, and more_frac on top where one is asked. */
static struct pw_event *asked_make(const struct pw_event *ev, const double *more_frac, struct pw_ctx *ctx)
{
  struct pw_event *asked = pw_arena_alloc(ctx->arena, sizeof *asked);
  struct pw_service *services = pw_arena_array(ctx->arena, (size_t)ev->n_services + 1, sizeof *services);
  if (!asked || !services)
    return NULL;
  *asked = *ev;
  asked->services = services;
  for (int s = 0; s < ev->n_services; s++) {
    double target = pw_on_time_target(ev, s);
    services[s] = ev->services[s];
    services[s].on_time_frac = target > 0 ? fmax(target, fmin(target + more_frac[s], CHOICE_MOST_FRAC)) : 0;
  }
  return asked;
}

/** Draws the plan's chance with the draws that are told. */
static pw_status told_make(struct pw_chance *told, const struct mend *m, const struct pw_lots *lots,
                           const struct pw_allocation *al)
{
  struct pw_chance_options draws = m->draws;
  draws.seed = TOLD_SEED;
  draws.kept = NULL;
  return pw_chance_make(told, m->plan->event, lots, al, &draws, m->ctx);
}

/** Of what was found stays what has its chance by the told draws too, is not the plan and costs little more. */
static pw_status found_tell(const struct mend *m)
{
  struct pw_found *found = m->found;
  const struct pw_event *ev = m->plan->event;
  int n = 0;
  pw_status st = PW_OK;
  for (int i = 0; found && i < found->n && st == PW_OK; i++) {
    struct pw_found_plan *f = &found->plans[i];
    if (is_alike(&f->allocation, &m->plan->allocation) ||
        f->allocation.cost_cents > (1 + FOUND_DEARER_FRAC) * m->plan->allocation.cost_cents)
      continue;
    st = told_make(&f->chance, m, &f->lots, &f->allocation);
    if (st == PW_OK && pw_on_time_is_reached(ev, &f->chance))
      found->plans[n++] = *f;
  }
  if (found)
    found->n = n;
  return st;
}

/** Chooses, then tells; where the told draws lack something, so much more is asked of the choice and it goes on. */
static pw_status choose(struct mend *m)
{
  const struct pw_event *ev = m->plan->event;
  struct pw_chance told, best_told = {0};
  struct pw_plan best = *m->plan;
  double *more_frac = pw_arena_array(m->ctx->arena, (size_t)ev->n_services + 1, sizeof *more_frac);
  if (!more_frac)
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    more_frac[s] = CHOICE_GUARD_FRAC;
  pw_status st = PW_OK;
  for (int i = 0; i < TOLD_ROUNDS && st == PW_OK; i++) {
    if (!(m->asked = asked_make(ev, more_frac, m->ctx)))
      return PW_ERR_MEMORY;
    st = remember(m);
    if (st == PW_OK)
      st = widen(m, WHOLE_ROUNDS);
    if (st == PW_OK)
      st = widen_all(m);
    if (st == PW_OK)
      st = trim(m);
    if (st == PW_OK)
      st = again(m);
    if (st == PW_OK)
      st = told_make(&told, m, &m->plan->lots, &m->plan->allocation);
    if (st != PW_OK)
      break;
    if (!best_told.services || pw_on_time_lack(ev, &told) < pw_on_time_lack(ev, &best_told)) {
      best = *m->plan;
      best_told = told;
    }
    /* where the choice could not be had either there is nothing to go on to, and nobody waits for a second one */
    if (m->looks_left || pw_on_time_is_reached(ev, &told) || !pw_on_time_is_reached(ev, &m->plan->chance) || is_over(m))
      break;
    for (int s = 0; s < ev->n_services; s++)
      more_frac[s] += fmax(0, pw_on_time_target(ev, s) - told.services[s].on_time_frac);
  }
  if (st == PW_OK) {
    *m->plan = best;
    m->plan->chance = best_told;
    st = found_tell(m);
  }
  return st;
}

static pw_status mend(struct mend *m, struct pw_ctx *ctx)
{
  struct pw_plan *plan = m->plan;
  pw_status st = pw_chance_make(&plan->chance, plan->event, &plan->lots, &plan->allocation, &m->draws, ctx);
  m->frozen = pw_arena_array(ctx->arena, n_margins(plan->event) + 1, sizeof *m->frozen);
  if (st == PW_OK && !m->frozen)
    st = PW_ERR_MEMORY;
  if (st == PW_OK && (!pw_on_time_is_asked(plan->event) || plan->allocation.n_missed > 0))
    return told_make(&plan->chance, m, &plan->lots, &plan->allocation);
  if (st == PW_OK && !m->margins->early_min)
    st = margins_make(m->margins, plan->event, ctx);
  return st == PW_OK ? choose(m) : st;
}

pw_status pw_run_mend(struct pw_plan *plan, struct pw_margins *margins, struct pw_found *found,
                      const struct pw_fuel_rates *rates, const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_ctx quiet = {.arena = ctx->arena}; /* rounds tell neither progress nor again what the search told */
  struct mend m = {.plan = plan, .margins = margins, .rates = rates, .options = options, .found = found, .ctx = &quiet};
  long looks = looks_of(QUICK_MEND_LOOKS, options);
  m.looks_left = options->effort == PW_EFFORT_QUICK ? &looks : NULL;
  m.draws = (struct pw_chance_options){.n_draws = PW_CHANCE_DRAWS,
                                       .seed = CHOICE_SEED,
                                       .shares = pw_spread_shares(),
                                       .kept = pw_kept_draws_open(CHOICE_SEED)};
  pw_status st = m.draws.kept ? mend(&m, ctx) : PW_ERR_MEMORY;
  pw_kept_draws_close(m.draws.kept);
  return st;
}
