/* knapsack_rack.c - see knapsack_rack.h. */
#include "plan/allocate/knapsack_rack.h"

#include "base/arena.h"
#include "plan/allocate/rack_bound.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

enum {
  WORDS = PW_KNAP_CELLS_X_MAX / 64 + 1,
  KINDS_MAX = 8,      /* sizes that weigh something */
  PIECES_MAX = 40,    /* of a set that is laid */
  STATES_MAX = 20000, /* of one laying that are remembered */
  TABLE = 65536,
  FUNCTIONS_MAX = 24,
  SHARES_MAX = 48,
  LISTED_MAX = 200000, /* steps of one listing */
  U_MAX = 6
};
static const double EVEN = 1e-9; /* weights this near are the same */

struct stairs { /* what is taken: row y up to cell x[y]; never more in a row above */
  uint16_t x[PW_KNAP_CELLS_Y_MAX];
  uint8_t left[KINDS_MAX]; /* pieces still to lay */
};

struct pw_knap_sets {
  struct pw_knap_sets *next;
  uint8_t count[PW_KNAP_SIZES_MAX];
  enum pw_knap_answer answer; /* NONE: cannot be laid; SOME: can */
  int corners_max;            /* UNKNOWN: after so many */
};

struct cut {  /* how a rectangle got its value */
  short kind; /* size, -1 nothing, -2 as the one below, -3 as the one beside, -4 cut across x, -5 across y */
  short at;
};

struct pw_knap_desk {
  /* straight cuts */
  int n_at[2], at[2][PW_KNAP_CELLS_X_MAX + 1];
  int index[2][PW_KNAP_CELLS_X_MAX + 1]; /* of the highest place not above */
  double *value;                         /* [x index * (n_y + 1) + y index] */
  struct cut *cut;
  /* layings */
  struct stairs *state;
  int n_states;
  int *table;
};

pw_status pw_knap_init(struct pw_knap *k, int n_x, int n_y, struct pw_ctx *ctx)
{
  memset(k, 0, sizeof *k);
  k->n_x = n_x;
  k->n_y = n_y;
  k->ctx = ctx;
  size_t cells = (size_t)(n_x + 1) * (size_t)(n_y + 1);
  struct pw_knap_desk *d = k->desk = pw_arena_alloc(ctx->arena, sizeof *d);
  if (!d || n_x > PW_KNAP_CELLS_X_MAX || n_y > PW_KNAP_CELLS_Y_MAX)
    return d ? PW_ERR_INTERNAL : PW_ERR_MEMORY;
  d->value = pw_arena_array(ctx->arena, cells, sizeof *d->value);
  d->cut = pw_arena_array(ctx->arena, cells, sizeof *d->cut);
  d->state = pw_arena_array(ctx->arena, STATES_MAX, sizeof *d->state);
  d->table = pw_arena_array(ctx->arena, TABLE, sizeof *d->table);
  return d->value && d->cut && d->state && d->table ? PW_OK : PW_ERR_MEMORY;
}

int pw_knap_add(struct pw_knap *k, struct pw_knap_size size)
{
  for (int o = 0; o < 2; o++)
    if (size.x[o] < 1 || size.y[o] < 1 || size.x[o] > k->n_x || size.y[o] > k->n_y)
      size.x[o] = size.y[o] = 0;
  if (size.x[0] == 0 && size.x[1] == 0)
    return -1;
  for (int i = 0; i < k->n; i++)
    if (memcmp(&k->size[i], &size, sizeof size) == 0)
      return i;
  if (k->n == PW_KNAP_SIZES_MAX)
    return -1;
  k->size[k->n] = size;
  return k->n++;
}

/* ---- straight cuts ------------------------------------------------------------------------------------------------- */

/* places along an axis that sums of sizes reach, and the end */
static void normal_places(struct pw_knap *k, const double *w, int axis, int n_cells)
{
  struct pw_knap_desk *d = k->desk;
  bool is_sum[PW_KNAP_CELLS_X_MAX + 1] = {true};
  for (int c = 0; c <= n_cells; c++)
    for (int i = 0; i < k->n && is_sum[c]; i++)
      for (int o = 0; o < 2 && w[i] > 0; o++) {
        int s = axis ? k->size[i].y[o] : k->size[i].x[o];
        if (s > 0 && c + s <= n_cells)
          is_sum[c + s] = true;
      }
  d->n_at[axis] = 0;
  for (int c = 0; c <= n_cells; c++) {
    if (is_sum[c] || c == n_cells)
      d->at[axis][d->n_at[axis]++] = c;
    d->index[axis][c] = d->n_at[axis] - 1;
  }
}

static size_t spot(const struct pw_knap *k, int i, int j) { return (size_t)i * (size_t)(k->n_y + 1) + (size_t)j; }

static void best_cut(struct pw_knap *k, const double *w, int i, int j)
{
  struct pw_knap_desk *d = k->desk;
  double best = 0;
  struct cut how = {-1, 0};
  int x = d->at[0][i], y = d->at[1][j];
  if (i > 0 && d->value[spot(k, i - 1, j)] > best) {
    best = d->value[spot(k, i - 1, j)];
    how = (struct cut){-2, 0};
  }
  if (j > 0 && d->value[spot(k, i, j - 1)] > best) {
    best = d->value[spot(k, i, j - 1)];
    how = (struct cut){-3, 0};
  }
  for (int s = 0; s < k->n; s++)
    for (int o = 0; o < 2 && w[s] > best + EVEN; o++)
      if (k->size[s].x[o] > 0 && k->size[s].x[o] <= x && k->size[s].y[o] <= y) {
        best = w[s];
        how = (struct cut){(short)s, 0};
      }
  for (int a = 1; a < i && 2 * d->at[0][a] <= x; a++) {
    double v = d->value[spot(k, a, j)] + d->value[spot(k, d->index[0][x - d->at[0][a]], j)];
    if (v > best + EVEN) {
      best = v;
      how = (struct cut){-4, (short)a};
    }
  }
  for (int a = 1; a < j && 2 * d->at[1][a] <= y; a++) {
    double v = d->value[spot(k, i, a)] + d->value[spot(k, i, d->index[1][y - d->at[1][a]])];
    if (v > best + EVEN) {
      best = v;
      how = (struct cut){-5, (short)a};
    }
  }
  d->value[spot(k, i, j)] = best;
  d->cut[spot(k, i, j)] = how;
}

static void read_cuts(const struct pw_knap *k, int *count)
{
  const struct pw_knap_desk *d = k->desk;
  struct {
    int i, j;
  } open[PW_KNAP_CELLS_X_MAX + PW_KNAP_CELLS_Y_MAX + 2];
  int n = 0;
  memset(count, 0, (size_t)k->n * sizeof *count);
  open[n].i = d->n_at[0] - 1;
  open[n++].j = d->n_at[1] - 1;
  while (n > 0) { /* one part is kept for later at a cut, and every cut makes its part smaller */
    int i = open[n - 1].i, j = open[n - 1].j;
    struct cut how = d->cut[spot(k, i, j)];
    n--;
    if (how.kind >= 0) {
      count[how.kind]++;
    } else if (how.kind == -2) {
      open[n].i = i - 1;
      open[n++].j = j;
    } else if (how.kind == -3) {
      open[n].i = i;
      open[n++].j = j - 1;
    } else if (how.kind == -4) {
      open[n].i = how.at;
      open[n++].j = j;
      open[n].i = d->index[0][d->at[0][i] - d->at[0][how.at]];
      open[n++].j = j;
    } else if (how.kind == -5) {
      open[n].i = i;
      open[n++].j = how.at;
      open[n].i = i;
      open[n++].j = d->index[1][d->at[1][j] - d->at[1][how.at]];
    }
  }
}

double pw_knap_cut(struct pw_knap *k, const double *w, int *count)
{
  struct pw_knap_desk *d = k->desk;
  normal_places(k, w, 0, k->n_x);
  normal_places(k, w, 1, k->n_y);
  for (int i = 0; i < d->n_at[0]; i++)
    for (int j = 0; j < d->n_at[1]; j++)
      best_cut(k, w, i, j);
  k->work += (double)d->n_at[0] * d->n_at[1] * (d->n_at[0] + d->n_at[1] + 8.0 * k->n) / 64;
  if (count)
    read_cuts(k, count);
  return d->value[spot(k, d->n_at[0] - 1, d->n_at[1] - 1)];
}

double pw_knap_worth(const struct pw_knap *k, struct pw_knap_size size)
{
  const struct pw_knap_desk *d = k->desk;
  double least = HUGE_VAL;
  for (int o = 0; o < 2; o++)
    if (size.x[o] > 0 && size.x[o] <= k->n_x && size.y[o] > 0 && size.y[o] <= k->n_y)
      least = fmin(least, d->value[spot(k, d->index[0][size.x[o]], d->index[1][size.y[o]])]);
  return isfinite(least) ? least : 0;
}

/* ---- laying a set in every way ------------------------------------------------------------------------------------- */

struct laying {
  struct pw_knap *k;
  int n, kind[KINDS_MAX]; /* sizes that take part */
  int least_cells[KINDS_MAX];
  int corners, corners_max;
  bool is_cut_off;
};

/* sums of the sizes of pieces left, as bits, in one axis */
static void sums_of(const struct laying *l, const uint8_t *left, int axis, uint64_t *bits)
{
  int words = (axis ? l->k->n_y : l->k->n_x) / 64 + 1;
  memset(bits, 0, (size_t)words * sizeof *bits);
  bits[0] = 1;
  for (int i = 0; i < l->n; i++) {
    const struct pw_knap_size *s = &l->k->size[l->kind[i]];
    for (int c = 0; c < left[i]; c++) {
      uint64_t was[WORDS];
      memcpy(was, bits, (size_t)words * sizeof *bits);
      for (int o = 0; o < 2; o++) {
        int by = axis ? s->y[o] : s->x[o];
        if (by == 0)
          continue;
        for (int v = words - 1; v >= by / 64; v--) {
          int from = v - by / 64;
          bits[v] |= was[from] << (by % 64) | (by % 64 && from > 0 ? was[from - 1] >> (64 - by % 64) : 0);
        }
      }
    }
  }
}

/* the greatest sum not above `most` */
static int sum_below(const uint64_t *bits, int most)
{
  int v = most / 64;
  uint64_t word = bits[v] & (most % 64 == 63 ? ~UINT64_C(0) : (UINT64_C(1) << (most % 64 + 1)) - 1);
  while (!word && v > 0) /* 0 is a sum */
    word = bits[--v];
  return v * 64 + 63 - __builtin_clzll(word);
}

/* takes away what no sum of the pieces left can fill, along rows and along columns in turn; cells left free */
static int lose(const struct laying *l, struct stairs *s)
{
  int n_x = l->k->n_x, n_y = l->k->n_y, cells = 0;
  uint64_t along[WORDS], across[WORDS];
  uint16_t was[PW_KNAP_CELLS_Y_MAX] = {0};
  sums_of(l, s->left, 0, along);
  sums_of(l, s->left, 1, across);
  for (bool is_less = true; is_less;) {
    is_less = false;
    for (int y = 0; y < n_y; y++)
      was[y] = (uint16_t)(y > 0 && s->x[y] == s->x[y - 1] ? was[y - 1] : n_x - sum_below(along, n_x - s->x[y]));
    memcpy(s->x, was, (size_t)n_y * sizeof *was);
    for (int y = 0; y < n_y; y++) {
      int before = y > 0 ? was[y - 1] : n_x;
      if (was[y] == before)
        continue;
      int to = n_y - sum_below(across, n_y - y); /* columns from was[y] to before are free from y on */
      for (int v = y; v < to; v++)
        if (s->x[v] < before) {
          s->x[v] = (uint16_t)before;
          is_less = true;
        }
    }
  }
  for (int y = 0; y < n_y; y++)
    cells += n_x - s->x[y];
  return cells;
}

/* whether each piece left still fits somewhere by itself */
static bool all_fit(const struct laying *l, const struct stairs *s)
{
  for (int i = 0; i < l->n; i++) {
    const struct pw_knap_size *size = &l->k->size[l->kind[i]];
    bool is_fitting = s->left[i] == 0;
    for (int o = 0; o < 2 && !is_fitting; o++)
      for (int y = 0; size->x[o] > 0 && y + size->y[o] <= l->k->n_y && !is_fitting; y++)
        is_fitting = s->x[y] + size->x[o] <= l->k->n_x;
    if (!is_fitting)
      return false;
  }
  return true;
}

/* files a state; false when it was there before or nothing more can be remembered */
static bool is_new(struct laying *l, const struct stairs *s)
{
  struct pw_knap_desk *d = l->k->desk;
  uint64_t hash = 1469598103934665603u, word;
  const unsigned char *bytes = (const unsigned char *)s;
  for (size_t b = 0; b + sizeof word <= sizeof *s; b += sizeof word) {
    memcpy(&word, bytes + b, sizeof word);
    hash = (hash ^ word) * 1099511628211u;
    hash ^= hash >> 29;
  }
  size_t at = hash % TABLE;
  while (d->table[at]) {
    if (memcmp(&d->state[d->table[at] - 1], s, sizeof *s) == 0)
      return false;
    at = (at + 1) % TABLE;
  }
  if (d->n_states < STATES_MAX) {
    d->state[d->n_states++] = *s;
    d->table[at] = d->n_states;
  }
  return true;
}

static bool lay_on(struct laying *l, const struct stairs *s);

/* piece of kind i with its low corner in row y of the stairs */
static bool lay_at(struct laying *l, const struct stairs *s, int i, int o, int y)
{
  const struct pw_knap_size *size = &l->k->size[l->kind[i]];
  int x = s->x[y] + size->x[o], top = y + size->y[o];
  if (size->x[o] == 0 || x > l->k->n_x || top > l->k->n_y)
    return false;
  if (l->corners++ >= l->corners_max) {
    l->is_cut_off = true;
    return false;
  }
  struct stairs next = *s;
  for (int v = 0; v < top; v++)
    if (next.x[v] < x)
      next.x[v] = (uint16_t)x;
  next.left[i]--;
  return lay_on(l, &next);
}

static bool lay_on(struct laying *l, const struct stairs *s)
{
  struct stairs now = *s;
  int need = 0, largest = -1;
  for (int i = 0; i < l->n; i++) {
    need += now.left[i] * l->least_cells[i];
    if (now.left[i] && (largest < 0 || l->least_cells[i] > l->least_cells[largest]))
      largest = i;
  }
  if (largest < 0)
    return true;
  if (lose(l, &now) < need || !all_fit(l, &now) || !is_new(l, &now))
    return false;
  for (int y = 0; y < l->k->n_y; y++) {
    if (now.x[y] >= l->k->n_x || (y > 0 && now.x[y] == now.x[y - 1]))
      continue;
    for (int i = 0; i < l->n; i++)
      for (int o = 0; o < 2 && now.left[i]; o++)
        if (lay_at(l, &now, i, o, y))
          return true;
    if (l->is_cut_off)
      return false;
  }
  return false;
}

static enum pw_knap_answer lay(struct laying *l, const int *count)
{
  struct stairs s = {{0}, {0}};
  struct pw_knap_desk *d = l->k->desk;
  int n = 0;
  for (int i = 0; i < l->n; i++) {
    s.left[i] = (uint8_t)count[l->kind[i]];
    n += count[l->kind[i]];
  }
  if (n > PIECES_MAX)
    return PW_KNAP_UNKNOWN;
  l->corners = d->n_states = 0;
  l->is_cut_off = false;
  memset(d->table, 0, TABLE * sizeof *d->table);
  bool is_laid = lay_on(l, &s);
  l->k->work += l->corners + TABLE / 1024.0;
  return is_laid ? PW_KNAP_SOME : l->is_cut_off ? PW_KNAP_UNKNOWN : PW_KNAP_NONE;
}

/* ---- listing sets --------------------------------------------------------------------------------------------------- */

struct listing {
  struct laying laying;
  const double *w;
  double limit;
  int n_shares;
  double share[SHARES_MAX][KINDS_MAX], reach[SHARES_MAX][KINDS_MAX]; /* most weight a share, of this kind or a later */
  int count[PW_KNAP_SIZES_MAX];
  int steps;
  enum pw_knap_answer answer;
  pw_status status;
};

static double function(int kind, const double *eps, double x)
{
  if (kind == 0)
    return x;
  return kind <= U_MAX ? pw_rack_bound_u(kind, x) : pw_rack_bound_eps(eps[kind - 1 - U_MAX], x);
}

static int functions(const struct listing *l, int axis, double *eps)
{
  const struct pw_knap *k = l->laying.k;
  int n = 0, n_cells = axis ? k->n_y : k->n_x;
  for (int i = 0; i < l->laying.n; i++)
    for (int o = 0; o < 4; o++) {
      const struct pw_knap_size *s = &k->size[l->laying.kind[i]];
      double e = (double)(axis ? s->y[o % 2] : s->x[o % 2]) / n_cells;
      e = o < 2 ? e : 1 - e;
      bool is_known = e <= 0.02 || e > 0.5;
      for (int j = 0; j < n; j++)
        is_known |= fabs(eps[j] - e) < 1e-4;
      if (!is_known && n < FUNCTIONS_MAX - 1 - U_MAX)
        eps[n++] = e;
    }
  return n + 1 + U_MAX;
}

/* keeps a share that no other makes needless */
static void share_add(struct listing *l, const double *share)
{
  int n = l->laying.n;
  for (int k = 0; k < l->n_shares; k++) {
    bool is_less = true;
    for (int i = 0; i < n; i++)
      is_less &= share[i] <= l->share[k][i] + EVEN;
    if (is_less)
      return;
  }
  int kept = 0;
  for (int k = 0; k < l->n_shares; k++) {
    bool is_more = true;
    for (int i = 0; i < n; i++)
      is_more &= share[i] >= l->share[k][i];
    if (!is_more)
      memmove(l->share[kept++], l->share[k], sizeof l->share[k]);
  }
  l->n_shares = kept;
  if (kept < SHARES_MAX)
    memcpy(l->share[l->n_shares++], share, (size_t)n * sizeof *share);
}

/* products of two functions, and halves of two products that look at the rack from either side */
static void shares_make(struct listing *l)
{
  const struct pw_knap *k = l->laying.k;
  double eps[2][FUNCTIONS_MAX];
  int n = l->laying.n, n_f[2] = {functions(l, 0, eps[0]), functions(l, 1, eps[1])};
  for (int both = 0; both < 2; both++)
    for (int f = 0; f < n_f[0]; f++)
      for (int g = 0; g < n_f[1]; g++) {
        double share[KINDS_MAX];
        if (both && (f == g || f >= n_f[1] || g >= n_f[0]))
          continue;
        for (int i = 0; i < n; i++) {
          const struct pw_knap_size *s = &k->size[l->laying.kind[i]];
          share[i] = HUGE_VAL;
          for (int o = 0; o < 2; o++)
            if (s->x[o] > 0) {
              double x = (double)s->x[o] / k->n_x, y = (double)s->y[o] / k->n_y;
              double v = function(f, eps[0], x) * function(g, eps[1], y);
              if (both)
                v = (v + function(g, eps[0], x) * function(f, eps[1], y)) / 2;
              share[i] = fmin(share[i], v);
            }
        }
        share_add(l, share);
      }
  for (int m = 0; m < l->n_shares; m++)
    for (int i = n - 1; i >= 0; i--) {
      double here = l->share[m][i] > 0 ? l->w[l->laying.kind[i]] / l->share[m][i] : HUGE_VAL;
      l->reach[m][i] = i + 1 < n ? fmax(here, l->reach[m][i + 1]) : here;
    }
}

static bool is_part(const int *a, const uint8_t *b, int n) /* a has all of b */
{
  for (int i = 0; i < n; i++)
    if (a[i] < b[i])
      return false;
  return true;
}

/* whether the listed set can be laid; what is found is remembered */
static enum pw_knap_answer look(struct listing *l)
{
  struct pw_knap *k = l->laying.k;
  for (struct pw_knap_sets *s = k->sets; s; s = s->next) {
    bool is_same = true, is_within = true;
    for (int i = 0; i < k->n; i++) {
      is_same &= l->count[i] == s->count[i];
      is_within &= l->count[i] <= s->count[i];
    }
    if ((s->answer == PW_KNAP_NONE && is_part(l->count, s->count, k->n)) || (s->answer == PW_KNAP_SOME && is_within) ||
        (s->answer == PW_KNAP_UNKNOWN && is_same && s->corners_max >= l->laying.corners_max))
      return s->answer;
  }
  struct pw_knap_sets *s = pw_arena_alloc(k->ctx->arena, sizeof *s);
  if (!s) {
    l->status = PW_ERR_MEMORY;
    return PW_KNAP_UNKNOWN;
  }
  s->answer = lay(&l->laying, l->count);
  s->corners_max = l->laying.corners_max;
  for (int i = 0; i < k->n; i++)
    s->count[i] = (uint8_t)(l->count[i] < 255 ? l->count[i] : 255);
  s->next = k->sets;
  k->sets = s;
  return s->answer;
}

/* Pieces are added in order of weight, the heaviest first, until they are too heavy: the last is the lightest.
 * True: all is said. */
static bool list_on(struct listing *l, int from, double sum, const double *used)
{
  if (++l->steps > LISTED_MAX) {
    l->answer = PW_KNAP_UNKNOWN;
    memset(l->count, 0, sizeof l->count);
    return true;
  }
  for (int i = from; i < l->laying.n; i++) {
    int kind = l->laying.kind[i];
    double now = sum + l->w[kind], next[SHARES_MAX];
    bool is_over = false;
    for (int m = 0; m < l->n_shares && !is_over; m++) {
      next[m] = used[m] + l->share[m][i];
      is_over = next[m] > 1 + EVEN;
    }
    if (is_over)
      continue;
    bool is_far = false;
    for (int m = 0; m < l->n_shares && now <= l->limit && !is_far; m++)
      is_far = isfinite(l->reach[m][i]) && now + fmax(1 - next[m], 0) * l->reach[m][i] <= l->limit - EVEN;
    if (is_far)
      continue;
    l->count[kind]++;
    bool is_done = false;
    if (now > l->limit) {
      enum pw_knap_answer answer = look(l);
      if (answer != PW_KNAP_NONE) {
        l->answer = answer;
        is_done = true;
      }
    } else {
      is_done = list_on(l, i, now, next);
    }
    if (is_done)
      return true; /* the set stays as it is */
    l->count[kind]--;
  }
  return false;
}

bool pw_knap_is_any(const struct pw_knap *k, const int *count)
{
  int n = 0;
  for (int i = 0; i < k->n; i++)
    n += count[i];
  return n > 0;
}

pw_status pw_knap_above(enum pw_knap_answer *answer, struct pw_knap *k, const double *w, double limit, int corners_max,
                        int *count)
{
  struct listing l = {.laying = {.k = k, .corners_max = corners_max}, .w = w, .limit = limit, .answer = PW_KNAP_NONE};
  double used[SHARES_MAX] = {0};
  *answer = PW_KNAP_UNKNOWN;
  memset(count, 0, (size_t)k->n * sizeof *count);
  for (int i = 0; i < k->n; i++) {
    if (w[i] <= 0)
      continue;
    if (l.laying.n == KINDS_MAX)
      return PW_OK;
    int at = l.laying.n++;
    for (; at > 0 && w[l.laying.kind[at - 1]] < w[i]; at--)
      l.laying.kind[at] = l.laying.kind[at - 1];
    l.laying.kind[at] = i;
  }
  for (int i = 0; i < l.laying.n; i++) {
    const struct pw_knap_size *s = &k->size[l.laying.kind[i]];
    int one = s->x[0] * s->y[0], two = s->x[1] * s->y[1];
    l.laying.least_cells[i] = one == 0 || (two > 0 && two < one) ? two : one;
  }
  shares_make(&l);
  (void)list_on(&l, 0, 0, used);
  k->work += l.steps;
  *answer = l.answer;
  for (int i = 0; i < k->n; i++)
    count[i] = l.count[i];
  return l.status;
}
