/* The search's books: every sum that is kept as pieces come and go is what plain code makes of the pieces as they lie, taking a
 * round back leaves no trace, and the price of a longer burn is the difference of two whole prices. */
#include "dice.h"
#include "harness.h"

#include "../bench/instances.h"
#include "plan/allocate/allocate_state.h"

#include <math.h>
#include <string.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

enum { SLOTS = 400, PITS = 8 };

struct book {
  struct pw_al al;
  struct pw_al_state st;
  double found_cents; /* what the search said of the plan that was put in */
};

static struct book *book_open(int seed)
{
  struct pw_instance_spec spec = {"state", 70u + (unsigned)seed, 50 + 40 * seed, 1 + seed % 3, 3 + seed % 5, seed % 2,
                                  30,      1 + seed % 3};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct book *b = pw_arena_alloc(ctx->arena, sizeof *b);
  struct pw_al_search_options options = {.seed = 3, .n_rounds = 40, .n_rounds_missed = 40, .heat_frac = 0.02};
  struct pw_al_solution found;
  ck_assert_ptr_nonnull(b);
  ck_assert_int_eq(pw_al_make(&b->al, &in->event, &in->lots, &in->rates, ctx), PW_OK);
  if (seed % 2)
    pw_al_share(&b->al);
  ck_assert(b->al.n_slots < SLOTS && b->al.n_pits <= PITS);
  for (int p = 0; p < b->al.n_pits; p++)
    b->al.pit[p].n_burns_max = 1 + (seed + p) % 3;
  ck_assert_int_eq(pw_al_search(&found, &b->al, &options, ctx), PW_OK);
  ck_assert_int_eq(pw_al_state_init(&b->st, &b->al, ctx), PW_OK);
  for (int p = 0; p < b->al.n_pits; p++)
    for (int d = 0; d < b->al.n_days; d++)
      pw_al_state_set(&b->st, p, d, found.settings[p * b->al.n_days + d]);
  for (int i = 0; i < found.n_pieces; i++)
    if (found.pieces[i].is_placed)
      pw_al_state_put(&b->st, i, &found.pieces[i]);
  b->st.n_journal = 0;
  b->found_cents = found.cost_cents;
  return b;
}

/* Slots with food on pit p, and at which setting, from the pieces. */
static void food_of(const struct pw_al_state *st, int p, unsigned char *active, signed char *setting)
{
  const struct pw_al *al = st->al;
  memset(active, 0, SLOTS);
  memset(setting, 0, SLOTS);
  for (int i = 0; i < st->n_pieces; i++) {
    const struct pw_al_piece *r = &st->piece[i];
    if (!r->is_placed)
      continue;
    bool finishes_on_rack = r->place != PW_NONE && r->place < al->n_zones;
    signed char s = (signed char)st->setting[p * al->n_days + al->lot[r->lot].day];
    for (int t = r->start; t < r->done; t++)
      if ((t < r->mid && al->pit_of_zone[r->zone] == p) ||
          (t >= r->mid && finishes_on_rack && al->pit_of_zone[r->place] == p)) {
        active[t] = 1;
        setting[t] = s;
      }
  }
}

static double fire_cents(const struct pw_al *al, int p, const unsigned char *active, const signed char *setting)
{
  double cents = 0;
  pw_al_burns(&al->pit[p], al->n_slots, active, setting, NULL, 0, &cents);
  return cents;
}

static double plain_cost(const struct pw_al_state *st)
{
  const struct pw_al *al = st->al;
  static bool opened[PITS][SLOTS + 1];
  double cents = 0;
  memset(opened, 0, sizeof opened);
  int n_missing[200] = {0};
  ck_assert_int_le(al->n_lots, 200);
  for (int i = 0; i < st->n_pieces; i++) {
    const struct pw_al_piece *r = &st->piece[i];
    const struct pw_al_lot *lot = &al->lot[r->lot];
    if (!r->is_placed) { /* where misses are shared, m (1 + 40 m / n) for m of n: the m-th adds 1 + 40 (2 m - 1) / n */
      int m = ++n_missing[r->lot];
      cents += lot->miss_cents * (al->is_shared ? 1 + 40.0 * (2 * m - 1) / lot->n : 1);
      continue;
    }
    int p = al->pit_of_zone[r->zone];
    opened[p][r->start] = opened[p][r->mid] = true;
    cents += lot->off1[r->zone * al->n_settings_max + r->setting];
    if (r->place != PW_NONE && r->place < al->n_zones) {
      int q = al->pit_of_zone[r->place];
      opened[q][r->mid] = opened[q][r->done] = true;
      cents += lot->off2[r->place * al->n_settings_max + st->setting[q * al->n_days + lot->day]];
      cents += r->place != r->zone ? al->move_cents : 0;
    } else if (r->place != PW_NONE)
      cents += lot->off_oven[r->place - al->n_zones];
    double held = (double)(lot->whole_until_at_min - lot->rest_min - al->lots->start_at_min) / al->slot_min - r->done;
    cents += lot->hold_cents * fmax(held, 0);
    bool is_first = true, is_seen = false; /* a further place or time of its lot? */
    for (int k = 0; k < i; k++) {
      const struct pw_al_piece *other = &st->piece[k];
      if (!other->is_placed || other->lot != r->lot)
        continue;
      is_first = false;
      is_seen = is_seen || (other->zone == r->zone && other->place == r->place && other->start == r->start &&
                            other->done == r->done);
    }
    cents += is_first || is_seen ? 0 : al->place_cents;
  }
  for (int p = 0; p < al->n_pits; p++) {
    unsigned char active[SLOTS];
    signed char setting[SLOTS];
    food_of(st, p, active, setting);
    cents += fire_cents(al, p, active, setting);
    for (int t = 0; t <= al->n_slots; t++)
      cents += opened[p][t] ? al->opening_cents : 0;
  }
  for (int f = 0; f < al->n_finishers; f++)
    for (int t = 0; al->is_oven[f] && t < al->n_slots; t++) {
      bool is_on = false;
      for (int i = 0; i < st->n_pieces && !is_on; i++)
        is_on = st->piece[i].is_placed && st->piece[i].place == al->n_zones + f && st->piece[i].mid <= t &&
                t < st->piece[i].done;
      cents += is_on ? al->oven_cents[f] : 0;
    }
  return cents;
}

/* Room and hands, slot by slot. */
static void check_sums(const struct pw_al_state *st)
{
  const struct pw_al *al = st->al;
  for (int t = 0; t < al->n_slots; t++) {
    double work = 0;
    for (int i = 0; i < st->n_pieces; i++) {
      const struct pw_al_piece *r = &st->piece[i];
      const struct pw_al_lot *lot = &al->lot[r->lot];
      if (r->is_placed)
        work += (r->start == t ? lot->load_min : 0) + (lot->has_finish && r->mid == t ? lot->wrap_min : 0) +
                (r->done == t ? lot->unload_min : 0);
    }
    PW_NEAR("hands", st->work_min[t], work, 1e-9, 1e-9);
    for (int f = 0; f < al->n_finishers; f++) {
      double used = 0;
      int n_in = 0;
      for (int i = 0; i < st->n_pieces; i++) {
        const struct pw_al_piece *r = &st->piece[i];
        const struct pw_al_lot *lot = &al->lot[r->lot];
        if (!r->is_placed)
          continue;
        bool cooks = r->place == al->n_zones + f && r->mid <= t && t < r->done,
             waits = r->box == f && r->done <= t && r->done < lot->hold_end && t < lot->room_end;
        used += (cooks ? al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2 : 0) + (waits ? lot->pans : 0);
        n_in += cooks + waits;
      }
      PW_NEAR("room", st->used[f * al->n_slots + t], used, 1e-9, 1e-9);
      ck_assert_int_eq(st->n_in[f * al->n_slots + t], n_in);
    }
  }
}

START_TEST(what_the_search_says_is_the_plain_sum)
{
  struct book *b = book_open(_i);
  ck_assert_int_gt(b->st.n_pieces, 0);
  PW_NEAR("the search's own figure", b->found_cents, plain_cost(&b->st), 1e-6, 1e-9);
  PW_NEAR("the books", pw_al_state_cost(&b->st), plain_cost(&b->st), 1e-6, 1e-9);
}
END_TEST

START_TEST(pieces_come_and_go_without_a_trace)
{
  struct book *b = book_open(_i);
  struct pw_al_state *st = &b->st;
  double before = pw_al_state_cost(st);
  state = 500u + (unsigned)_i;
  for (int round = 0; round < 12; round++) {
    static struct pw_al_piece kept[2000];
    ck_assert_int_lt(st->n_pieces, 2000);
    memcpy(kept, st->piece, (size_t)st->n_pieces * sizeof *kept);
    for (int k = 0; k < 1 + round; k++) {
      int i = below(st->n_pieces);
      if (st->piece[i].is_placed)
        pw_al_state_take(st, i);
      else if (kept[i].is_placed && round % 2) /* back where it was */
        pw_al_state_put(st, i, &kept[i]);
    }
    PW_NEAR("with some away", pw_al_state_cost(st), plain_cost(st), 1e-6, 1e-9);
    check_sums(st);
    pw_al_state_undo(st);
    PW_NEAR("taken back", pw_al_state_cost(st), before, 1e-6, 1e-9);
  }
  check_sums(st);
  pw_al_state_clear(st);
  double all_missed = 0;
  for (int i = 0; i < st->n_pieces; i++)
    all_missed += (b->al.is_shared ? 41 : 1) * b->al.lot[st->piece[i].lot].miss_cents; /* n (1 + 40 n / n) */
  PW_NEAR("nothing on", pw_al_state_cost(st), all_missed, 1e-6, 1e-9);
}
END_TEST

START_TEST(a_longer_burn_costs_the_difference)
{
  struct book *b = book_open(_i);
  struct pw_al_state *st = &b->st;
  const struct pw_al *al = &b->al;
  int n_free = 0, n_dear = 0;
  state = 900u + (unsigned)_i;
  for (int k = 0; k < 300; k++) {
    if (k % 50 == 49) { /* other burns: some food goes */
      for (int i = 0; i < st->n_pieces; i += 2 + k / 50)
        if (st->piece[i].is_placed)
          pw_al_state_take(st, i);
    }
    int p = below(al->n_pits), d = below(al->n_days), a = below(al->n_slots), n = al->n_slots - a,
        to = a + 1 + below(n < 12 ? n : 12);
    unsigned char active[SLOTS];
    signed char setting[SLOTS], own = (signed char)st->setting[p * al->n_days + d];
    food_of(st, p, active, setting);
    double now = fire_cents(al, p, active, setting);
    bool is_mixed = false;
    for (int t = a; t < to && t < al->n_slots; t++) {
      is_mixed = is_mixed || (active[t] && setting[t] != own);
      active[t] = 1;
      setting[t] = own;
    }
    if (is_mixed || to > al->n_slots)
      continue;
    double more = fire_cents(al, p, active, setting) - now;
    PW_NEAR("a longer burn", pw_al_state_burn_delta(st, p, d, a, to), more, 1e-6, 1e-9);
    n_free += more == 0;
    n_dear += more > 0;
  }
  ck_assert_int_gt(n_dear, 0);
  ck_assert_int_gt(n_free, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("allocate_state");
  TCase *t = tcase_create("books");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, what_the_search_says_is_the_plain_sum, 0, 6);
  tcase_add_loop_test(t, pieces_come_and_go_without_a_trace, 0, 6);
  tcase_add_loop_test(t, a_longer_burn_costs_the_difference, 0, 6);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
