/* Knapsacks on one rack against plain enumeration: what an exact packer of cells, which shares nothing with the program, finds of every
 * set of pieces. */
#include "dice.h"
#include "harness.h"

#include "plan/allocate/knapsack_rack.h"
#include "plan/allocate/rack_grid.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

enum { KINDS = 4, CELLS = 64, CORNERS = 100000 };

/* at most 64 cells: the first empty cell gets the corner of a piece or stays empty, as long as the empty cells allow */
struct packer {
  int n_x, n_y, n;
  struct pw_knap_size size[KINDS];
  int left[KINDS];
};

static bool pack(struct packer *p, uint64_t taken, int spare)
{
  bool is_done = true;
  for (int i = 0; i < p->n; i++)
    is_done = is_done && p->left[i] == 0;
  if (is_done)
    return true;
  int cell = 0;
  while (cell < p->n_x * p->n_y && (taken >> cell & 1))
    cell++;
  if (cell == p->n_x * p->n_y)
    return false;
  int cx = cell % p->n_x, cy = cell / p->n_x;
  for (int i = 0; i < p->n; i++)
    for (int o = 0; p->left[i] && o < 2; o++) {
      int l = p->size[i].x[o], d = p->size[i].y[o];
      if (l == 0 || cx + l > p->n_x || cy + d > p->n_y)
        continue;
      uint64_t m = 0;
      for (int y = cy; y < cy + d; y++)
        for (int x = cx; x < cx + l; x++)
          m |= UINT64_C(1) << (y * p->n_x + x);
      if (taken & m)
        continue;
      p->left[i]--;
      bool ok = pack(p, taken | m, spare);
      p->left[i]++;
      if (ok)
        return true;
    }
  return spare > 0 && pack(p, taken | UINT64_C(1) << cell, spare - 1);
}

static int cells_of(const struct pw_knap_size *s)
{
  int one = s->x[0] * s->y[0], two = s->x[1] * s->y[1];
  return one == 0 || (two > 0 && two < one) ? two : one;
}

static bool goes_together(const struct packer *p, const int *count)
{
  struct packer q = *p;
  int spare = p->n_x * p->n_y;
  for (int i = 0; i < p->n; i++) {
    q.left[i] = count[i];
    spare -= count[i] * cells_of(&p->size[i]);
  }
  return spare >= 0 && pack(&q, 0, spare);
}

/* every set that goes together, one piece more at a time */
struct listed {
  const struct packer *p;
  int n, count[4000][KINDS];
};

static void list_from(struct listed *l, int kind, int *count)
{
  if (!goes_together(l->p, count))
    return;
  ck_assert_int_lt(l->n, 4000);
  memcpy(l->count[l->n++], count, KINDS * sizeof *count);
  for (int i = kind; i < l->p->n; i++) {
    count[i]++;
    list_from(l, i, count);
    count[i]--;
  }
}

static double weight(const int *count, const double *w, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += count[i] * w[i];
  return sum;
}

static double heaviest(const struct listed *l, const double *w)
{
  double most = 0;
  for (int k = 0; k < l->n; k++)
    most = fmax(most, weight(l->count[k], w, l->p->n));
  return most;
}

/* a rack of up to 7 by 6 cells and pieces of a few cells, some of which lie one way alone; both ways need not be each other's turn,
 * for a cell is not a square */
static void draw(struct packer *p, struct pw_knap *k)
{
  *p = (struct packer){.n_x = 5 + below(3), .n_y = 4 + below(3)};
  ck_assert_int_eq(pw_knap_init(k, p->n_x, p->n_y, ctx), PW_OK);
  int want = 2 + below(KINDS - 1);
  while (p->n < want) {
    int l = 1 + below(5), d = 1 + below(4);
    struct pw_knap_size s = {{l, 0}, {d, 0}};
    if (below(3)) {
      s.x[1] = below(4) ? d : d + 1;
      s.y[1] = l;
    }
    if (l * d < 4)
      continue;
    int at = pw_knap_add(k, s);
    if (at == p->n) {
      p->size[p->n++] = k->size[at];
    }
  }
}

struct seen {
  int n_none, n_some, n_beyond_cuts;
};

/* weights of whole numbers, so that the next heavier packing is well above */
static void one_rack(struct seen *seen)
{
  static struct listed l;
  struct packer p;
  struct pw_knap k;
  draw(&p, &k);
  int none[KINDS] = {0};
  l = (struct listed){.p = &p};
  list_from(&l, 0, none);
  for (int trial = 0; trial < 6; trial++) {
    double w[PW_KNAP_SIZES_MAX] = {0};
    int count[PW_KNAP_SIZES_MAX];
    enum pw_knap_answer answer;
    for (int i = 0; i < p.n; i++)
      w[i] = trial % 3 == 0 && below(4) == 0 ? 0 : 2 * cells_of(&p.size[i]) + below(9) - 4;
    for (int i = 0; i < p.n; i++)
      w[i] = fmax(w[i], 0);
    double most = heaviest(&l, w), cut = pw_knap_cut(&k, w, count);
    ck_assert(cut <= most + 1e-9);
    PW_NEAR("what is cut weighs what it says", weight(count, w, p.n), cut, 1e-9, 0);
    ck_assert(goes_together(&p, count));
    seen->n_beyond_cuts += cut < most - 0.5;
    /* with what a footprint is worth for others added to its weight nothing weighs more */
    double worth[PW_KNAP_SIZES_MAX] = {0};
    for (int i = 0; i < p.n; i++) {
      worth[i] = pw_knap_worth(&k, k.size[i]);
      ck_assert(worth[i] >= w[i] - 1e-9);
    }
    PW_NEAR("worth", heaviest(&l, worth), most, 1e-9, 0);

    ck_assert_int_eq(pw_knap_above(&answer, &k, w, most + 0.5, CORNERS, count), PW_OK);
    ck_assert_msg(answer == PW_KNAP_NONE, "nothing weighs more than %g, the answer is %d", most, (int)answer);
    seen->n_none++;
    if (most < 1)
      continue;
    /* 3 % too tight is seen */
    ck_assert_int_eq(pw_knap_above(&answer, &k, w, 0.97 * most, CORNERS, count), PW_OK);
    ck_assert_msg(answer == PW_KNAP_SOME, "something weighs %g, the answer is %d", most, (int)answer);
    ck_assert(weight(count, w, p.n) > 0.97 * most);
    ck_assert(goes_together(&p, count));
    seen->n_some++;
    /* little work: never a proof of what is not so */
    ck_assert_int_eq(pw_knap_above(&answer, &k, w, 0.97 * most, 1 + below(9), count), PW_OK);
    ck_assert_int_ne(answer, PW_KNAP_NONE);
  }
}

START_TEST(what_is_proved_is_what_packs)
{
  struct seen seen = {0, 0, 0};
  state = 9100u + (unsigned)_i;
  for (int i = 0; i < 120; i++)
    one_rack(&seen);
  ck_assert_int_gt(seen.n_none, 600);
  ck_assert_int_gt(seen.n_some, 500);
  ck_assert_int_gt(seen.n_beyond_cuts, 0);
}
END_TEST

/* On a rack as large as there are, with the search's own cells: sets said to go together are laid there by the rack's own packer, in one of
 * many orders; and one more piece than the largest set of like pieces is refused where rows of them fill the rack. */
START_TEST(on_true_racks)
{
  struct pw_rack rack = {
      .id = "r", .outline = PW_RECTANGLE, .length_m = 0.75 * (1 + _i % 3), .depth_m = 0.5, .n_zones = 1};
  struct pw_rack_grid g;
  struct pw_knap k;
  int n_some = 0, n_laid = 0;
  state = 5200u + (unsigned)_i;
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 1, ctx->arena), 0);
  ck_assert_int_eq(pw_knap_init(&k, g.n_x, PW_GRID_CELLS_Y, ctx), PW_OK);
  struct pw_cells cells[3][2];
  double w[PW_KNAP_SIZES_MAX] = {0};
  for (int i = 0; i < 3; i++) {
    double l = 0.16 + 0.02 * below(12), d = 0.14 + 0.02 * below(8);
    struct pw_knap_size s = {{0}, {0}};
    for (int o = 0; o < 2; o++) {
      cells[i][o] = pw_rack_grid_cells(&g, 0, rack.length_m, o ? d : l, o ? l : d);
      s.x[o] = cells[i][o].x;
      s.y[o] = cells[i][o].y;
    }
    ck_assert_int_eq(pw_knap_add(&k, s), i);
    w[i] = l * d * (1 + 0.02 * below(5));
  }
  double cut = pw_knap_cut(&k, w, NULL);
  for (int trial = 0; trial < 8; trial++) {
    int count[PW_KNAP_SIZES_MAX];
    enum pw_knap_answer answer;
    ck_assert_int_eq(pw_knap_above(&answer, &k, w, cut * (0.80 + 0.02 * trial), 3000, count), PW_OK);
    ck_assert_int_ne(answer, PW_KNAP_NONE); /* a packing by cuts is heavier */
    if (answer != PW_KNAP_SOME)
      continue;
    n_some++;
    bool is_laid = false;
    for (int order = 0; order < 400 && !is_laid; order++) {
      int left[3] = {count[0], count[1], count[2]}, n = count[0] + count[1] + count[2], at;
      pw_rack_grid_clear(&g);
      for (at = 0; at < n; at++) {
        int i = below(3), o = below(2), x, y;
        while (!left[i])
          i = (i + 1) % 3;
        uint64_t origins[PW_GRID_ROWS_MAX];
        if (cells[i][o].x == 0)
          break;
        pw_rack_grid_free(&g, 0, 1, cells[i][o], origins);
        if (!pw_rack_grid_snug(&g, 0, 1, cells[i][o], origins, &x, &y))
          break;
        pw_rack_grid_put(&g, 0, 1, cells[i][o], x, y);
        left[i]--;
      }
      is_laid = at == n;
    }
    n_laid += is_laid;
  }
  ck_assert_int_gt(n_some, 3);
  ck_assert_msg(n_laid >= (n_some + 1) / 2, "%d of %d sets laid", n_laid, n_some);
}
END_TEST

START_TEST(rows_of_like_pieces)
{
  struct pw_knap k;
  int count[PW_KNAP_SIZES_MAX];
  double w[PW_KNAP_SIZES_MAX] = {1};
  enum pw_knap_answer answer;
  ck_assert_int_eq(pw_knap_init(&k, 120, 60, ctx), PW_OK);
  ck_assert_int_eq(pw_knap_add(&k, (struct pw_knap_size){{31, 0}, {21, 0}}), 0); /* 3 by 2; by area 11 */
  ck_assert_int_eq(pw_knap_add(&k, (struct pw_knap_size){{31, 0}, {21, 0}}), 0);
  ck_assert_int_eq(pw_knap_add(&k, (struct pw_knap_size){{121, 0}, {21, 61}}), -1);
  ck_assert_int_eq(pw_knap_above(&answer, &k, w, 6, 1000, count), PW_OK);
  ck_assert_int_eq(answer, PW_KNAP_NONE);
  ck_assert_int_eq(pw_knap_above(&answer, &k, w, 5, 1000, count), PW_OK);
  ck_assert_int_eq(answer, PW_KNAP_SOME);
  ck_assert_int_eq(count[0], 6);
  PW_NEAR("by cuts", pw_knap_cut(&k, w, count), 6, 0, 0);
  /* five about one another: a pinwheel that no straight cut makes, on 7 by 7 cells of 3 by 4 and 1 by 1 */
  ck_assert_int_eq(pw_knap_init(&k, 7, 7, ctx), PW_OK);
  ck_assert_int_eq(pw_knap_add(&k, (struct pw_knap_size){{3, 4}, {4, 3}}), 0);
  ck_assert_int_eq(pw_knap_add(&k, (struct pw_knap_size){{1, 0}, {1, 0}}), 1);
  w[0] = 12, w[1] = 1;
  ck_assert_int_eq(pw_knap_above(&answer, &k, w, 48.5, 100000, count), PW_OK);
  ck_assert_int_eq(answer, PW_KNAP_SOME);
  ck_assert_int_eq(count[0], 4);
  ck_assert_int_eq(count[1], 1);
}
END_TEST

START_TEST(memory_out_is_told)
{
  for (long at = 1; at <= 5; at++) {
    struct pw_knap k;
    pw_arena_fail_at(ctx->arena, at);
    ck_assert_int_eq(pw_knap_init(&k, 20, 20, ctx), PW_ERR_MEMORY);
    pw_arena_fail_at(ctx->arena, 0);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("knapsack_rack");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, what_is_proved_is_what_packs, 0, 10);
  tcase_add_loop_test(t, on_true_racks, 0, 6);
  tcase_add_test(t, rows_of_like_pieces);
  tcase_add_test(t, memory_out_is_told);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
