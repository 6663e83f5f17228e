/* lp_tree.c - see lp_tree.h.
 *
 * A node is its parent and one limit more.  Children are solved as they are made, warm from their parent's basis, and wait
 * with the count they would be branched on; the one with the lowest bound is next.  Ties go to the older, so that the same
 * program makes the same tree.
 *
 * Branched on is the count that promises most for its work: what a unit of it, down and up, has raised the bound by so far (else what
 * those of its weight have, else its weight), product of both sides, over the iterations it took.  Pseudo-costs: Benichou and others,
 * Mathematical Programming 1 (1971); the product and first guesses by short looks: Achterberg, Koch, Martin, Operations Research
 * Letters 33 (2005) (from memory). */
#include "solve/lp_tree.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "solve/lp_live.h"

#include <math.h>
#include <string.h>

static const double WHOLE_TO = 1e-5;      /* nearer to a whole number is whole */
static const double NODE_ITERATIONS = 30; /* what opening a node costs beside its iterations, in iterations */
static const double CUT_GAIN = 2e-4; /* rows that raise a node by less, as a part of its bound, are the last there */
static const double SHOWN_INFEASIBLE = 1e-7; /* of the ray's own size */
static const double LEAST_GAIN = 0.02;       /* of the usual: a side that raises nothing is not worth nothing */
static const double LEAST_PART = 0.05;       /* of a unit: what a smaller one raised says nothing of a whole one */
static const double EMPTY_SIDE = 0.2; /* of the node's bound: what a side without a point counts as having raised */
enum { NODES_MAX = 20000, ITERATIONS_OF_A_NODE = 20000, CUTS_OF_A_NODE = 6, PROBES = 4, PROBE_ITERATIONS = 40 };

struct node {
  int parent;         /* or -1 */
  int limit_of;       /* count */
  bool is_up;         /* count >= at + 1; else count <= at */
  double at;          /* whole */
  double bound;       /* proved */
  int next;           /* count to branch on; -1: all are whole, or it could not be solved */
  double next_at;     /* its value rounded down */
  double next_over;   /* and by how much it is more than that */
  signed char *basis; /* of n_rows rows, then columns; rows that came later are basic */
  int n_rows;
  int n_cut; /* times that rows were looked for here */
};

/* what branching has brought so far */
struct seen {
  double raised[2]; /* down, up: sum of bounds raised, for a whole unit */
  double iterations;
  int n[2], n_solved;
};

struct tree {
  struct pw_lp *lp;
  const struct pw_lp_count *counts;
  int n_counts;
  struct pw_lp_live *live;
  struct pw_lp_tree_options options;
  double deadline_s;
  struct node *nodes;
  size_t cap_nodes;
  int n_nodes;
  int *heap; /* open nodes, lowest bound first */
  size_t cap_heap;
  int n_heap;
  size_t *first; /* [n_rows + 1] into by_row, of count rows alone */
  struct pw_lp_entry *by_row;
  double *lo, *hi;           /* [n_counts] limits of the node that is open now */
  double *root_lo, *root_hi; /* [n_counts] */
  bool has_limits;           /* those are filled */
  double *x, *dual, *reduced;
  struct seen *of_count, *of_weight, all; /* [n_counts]; those of one weight together at the first of them */
  int *first_of_weight;                   /* [n_counts] */
  signed char *probe_basis;
  double *probe_x;
  double closed; /* lowest bound of nodes that cannot be branched on */
  struct pw_lp_tree_result *out;
  struct pw_ctx *ctx;
};

static double value_of(const struct tree *t, int k)
{
  const struct pw_lp_count *c = &t->counts[k];
  if (c->row < 0)
    return t->x[c->col];
  double sum = 0;
  for (size_t e = t->first[c->row]; e < t->first[c->row + 1]; e++)
    sum += t->by_row[e].value * t->x[t->by_row[e].col];
  return sum;
}

static void limit(struct tree *t, int k, double lo, double hi)
{
  const struct pw_lp_count *c = &t->counts[k];
  t->lo[k] = lo;
  t->hi[k] = hi;
  if (c->row >= 0) {
    t->lp->row_lo[c->row] = lo;
    t->lp->row_hi[c->row] = hi;
    pw_lp_live_row(t->live, c->row, lo, hi);
  } else {
    t->lp->lb[c->col] = lo;
    t->lp->ub[c->col] = hi;
    pw_lp_live_col(t->live, c->col, lo, hi);
  }
}

/* the limits of node n; false when two of them leave nothing */
static bool limits_set(struct tree *t, int n)
{
  bool is_any = true;
  for (int k = 0; k < t->n_counts; k++)
    if (t->lo[k] != t->root_lo[k] || t->hi[k] != t->root_hi[k])
      limit(t, k, t->root_lo[k], t->root_hi[k]);
  for (; n >= 0 && t->nodes[n].parent >= 0; n = t->nodes[n].parent) {
    const struct node *node = &t->nodes[n];
    int k = node->limit_of;
    double lo = node->is_up ? fmax(t->lo[k], node->at + 1) : t->lo[k];
    double hi = node->is_up ? t->hi[k] : fmin(t->hi[k], node->at);
    if (lo > hi)
      is_any = false;
    else
      limit(t, k, lo, hi);
  }
  return is_any;
}

/* the program's limits as they were */
static void limits_back(struct tree *t)
{
  for (int k = 0; k < t->n_counts && t->has_limits; k++) {
    const struct pw_lp_count *c = &t->counts[k];
    *(c->row >= 0 ? &t->lp->row_lo[c->row] : &t->lp->lb[c->col]) = t->root_lo[k];
    *(c->row >= 0 ? &t->lp->row_hi[c->row] : &t->lp->ub[c->col]) = t->root_hi[k];
  }
}

/* weak duality, as pw_lp_dual_bound, without memory of its own; `with_cost` false: prices alone, which above 0 show that no
 * point keeps the rows */
static double priced(const struct tree *t, const double *dual, double sign, bool with_cost)
{
  const struct pw_lp *lp = t->lp;
  double bound = 0;
  for (int j = 0; j < lp->n_cols; j++)
    t->reduced[j] = with_cost ? lp->cost[j] : 0;
  double *y = t->reduced + lp->n_cols;
  for (int i = 0; i < lp->n_rows; i++) {
    y[i] = isfinite(dual[i]) ? sign * dual[i] : 0;
    if ((y[i] > 0 && isinf(lp->row_lo[i])) || (y[i] < 0 && isinf(lp->row_hi[i])))
      y[i] = 0;
    if (y[i] != 0)
      bound += y[i] * (y[i] > 0 ? lp->row_lo[i] : lp->row_hi[i]);
  }
  for (size_t k = 0; k < lp->n_entries; k++)
    t->reduced[lp->entries[k].col] -= y[lp->entries[k].row] * lp->entries[k].value;
  for (int j = 0; j < lp->n_cols; j++)
    bound += t->reduced[j] * (t->reduced[j] > 0 ? lp->lb[j] : lp->ub[j]);
  return bound;
}

static bool is_shown_empty(const struct tree *t)
{
  double size = 0;
  for (int i = 0; i < t->lp->n_rows; i++)
    size = fmax(size, fabs(t->dual[i]));
  return size > 0 && fmax(priced(t, t->dual, 1, false), priced(t, t->dual, -1, false)) > SHOWN_INFEASIBLE * size;
}

/* ---- what to branch on ------------------------------------------------------------------------------------------ */

static void raised_add(struct tree *t, int k, bool is_up, double raised, double part)
{
  struct seen *of[] = {&t->of_count[k], &t->of_weight[t->first_of_weight[k]], &t->all};
  for (int i = 0; i < 3; i++) {
    of[i]->raised[is_up] += raised / fmax(part, LEAST_PART);
    of[i]->n[is_up]++;
  }
}

static void iterations_add(struct tree *t, int k, double iterations)
{
  struct seen *of[] = {&t->of_count[k], &t->of_weight[t->first_of_weight[k]], &t->all};
  for (int i = 0; i < 3; i++) {
    of[i]->iterations += iterations;
    of[i]->n_solved++;
  }
}

/* what a unit of count k raises on one side, in those of a usual one */
static double gain_of(const struct tree *t, int k, bool is_up)
{
  const struct seen *own = &t->of_count[k], *like = &t->of_weight[t->first_of_weight[k]], *all = &t->all;
  double usual = all->n[is_up] && all->raised[is_up] > 0 ? all->raised[is_up] / all->n[is_up] : 1;
  return own->n[is_up]    ? own->raised[is_up] / own->n[is_up] / usual
         : like->n[is_up] ? like->raised[is_up] / like->n[is_up] / usual
                          : t->counts[k].weight;
}

/* iterations of a node under it, in those of a usual one; the count's own and one like it */
static double effort_of(const struct tree *t, int k)
{
  const struct seen *own = &t->of_count[k], *like = &t->of_weight[t->first_of_weight[k]], *all = &t->all;
  double usual = all->n_solved ? all->iterations / all->n_solved : 1;
  double of_like = like->n_solved ? like->iterations / like->n_solved : usual;
  return (of_like + own->iterations) / (1 + own->n_solved) / usual;
}

/* the count that promises most, told in `node`; -1: all are whole */
static void choose_once(const struct tree *t, struct node *node)
{
  double best = 0;
  node->next = -1;
  for (int k = 0; k < t->n_counts; k++) {
    double v = value_of(t, k), below = floor(v + WHOLE_TO), over = v - below;
    if (over <= WHOLE_TO || over >= 1 - WHOLE_TO)
      continue;
    double down = fmax(over * gain_of(t, k, false), LEAST_GAIN),
           up = fmax((1 - over) * gain_of(t, k, true), LEAST_GAIN);
    double promise = sqrt(t->counts[k].weight) * down * up / effort_of(t, k);
    if (promise > best) {
      best = promise;
      node->next = k;
      node->next_at = below;
      node->next_over = over;
    }
  }
}

/* A few iterations down one side of the count that `node`, which is open, would be branched on. */
static pw_status probe(struct tree *t, const struct node *node, bool is_up)
{
  int k = node->next;
  double lo = t->lo[k], hi = t->hi[k];
  struct pw_lp_live_result r = {.x = t->probe_x, .dual = t->dual, .basis = t->probe_basis};
  memcpy(t->probe_basis, node->basis, (size_t)t->lp->n_rows + (size_t)t->lp->n_cols);
  limit(t, k, is_up ? node->next_at + 1 : lo, is_up ? hi : node->next_at);
  pw_status status =
      pw_lp_live_solve(t->live, &r, PROBE_ITERATIONS, pw_deadline_left(t->deadline_s), t->options.enough);
  t->out->n_iterations += r.n_iterations;
  t->out->work += ((double)r.n_iterations + NODE_ITERATIONS) * t->lp->n_rows;
  double raised =
      r.state == PW_LP_INFEASIBLE ? EMPTY_SIDE * fabs(node->bound) : fmax(0, priced(t, t->dual, 1, true) - node->bound);
  if (!status)
    raised_add(t, k, is_up, raised, is_up ? 1 - node->next_over : node->next_over);
  limit(t, k, lo, hi);
  return status;
}

/* The count to branch on; those of which nothing is known yet are probed before one is taken. */
static pw_status choose(struct tree *t, struct node *node)
{
  pw_status status = PW_OK;
  for (int i = 0; i <= PROBES && !status; i++) {
    choose_once(t, node);
    if (i == PROBES || node->next < 0 || !t->counts[node->next].is_probed || t->of_count[node->next].n[0] ||
        t->of_count[node->next].n[1])
      break;
    status = probe(t, node, false);
    if (!status)
      status = probe(t, node, true);
  }
  return status;
}

static void heap_add(struct tree *t, int n)
{
  int i = t->n_heap++;
  while (i > 0 && t->nodes[t->heap[(i - 1) / 2]].bound > t->nodes[n].bound) {
    t->heap[i] = t->heap[(i - 1) / 2];
    i = (i - 1) / 2;
  }
  t->heap[i] = n;
}

static bool is_before(const struct tree *t, int a, int b)
{
  return t->nodes[a].bound < t->nodes[b].bound || (a < b && t->nodes[a].bound == t->nodes[b].bound);
}

static int heap_take(struct tree *t)
{
  int top = t->heap[0], last = t->heap[--t->n_heap], i = 0;
  for (int c; (c = 2 * i + 1) < t->n_heap; i = c) {
    if (c + 1 < t->n_heap && is_before(t, t->heap[c + 1], t->heap[c]))
      c++;
    if (!is_before(t, t->heap[c], last))
      break;
    t->heap[i] = t->heap[c];
  }
  t->heap[i] = last;
  return top;
}

/* a basis with the rows that came since, which are basic */
static signed char *basis_now(const struct tree *t, const signed char *basis, int n_rows)
{
  size_t now = (size_t)t->lp->n_rows, n_cols = (size_t)t->lp->n_cols;
  signed char *out = pw_arena_array(t->ctx->arena, now + n_cols + 1, 1);
  if (out) {
    memset(out, PW_LP_BASIC, now);
    memcpy(out, basis, (size_t)n_rows);
    memcpy(out + now, basis + n_rows, n_cols);
  }
  return out;
}

static pw_status solve(struct tree *t, int n, struct pw_lp_live_result *r)
{
  *r = (struct pw_lp_live_result){.x = t->x, .dual = t->dual, .basis = t->nodes[n].basis};
  pw_status status =
      pw_lp_live_solve(t->live, r, ITERATIONS_OF_A_NODE, pw_deadline_left(t->deadline_s), t->options.enough);
  t->out->n_iterations += r->n_iterations;
  t->out->work += ((double)r->n_iterations + NODE_ITERATIONS) * t->lp->n_rows;
  t->out->is_by_time |= r->is_by_time;
  return status;
}

/* Solves the node that `limits_set` opened, from a basis of n_rows rows, and files it. */
static pw_status node_solve(struct tree *t, int n, const signed char *basis, int n_rows)
{
  struct node *node = &t->nodes[n];
  struct pw_lp_live_result r;
  if (!(node->basis = basis_now(t, basis, n_rows)))
    return PW_ERR_MEMORY;
  node->n_rows = t->lp->n_rows;
  pw_status status = solve(t, n, &r);
  if (status)
    return status;
  t->out->n_nodes += node->n_cut == 0;
  node->next = -1;
  double priced_at = priced(t, t->dual, 1, true);
  if (node->parent >= 0 && node->n_cut == 0) {
    const struct node *parent = &t->nodes[node->parent];
    iterations_add(t, node->limit_of, (double)r.n_iterations + NODE_ITERATIONS);
    if (r.state == PW_LP_OPTIMAL)
      raised_add(t, node->limit_of, node->is_up, fmax(0, priced_at - parent->bound),
                 node->is_up ? 1 - parent->next_over : parent->next_over);
  }
  if (r.state == PW_LP_INFEASIBLE && is_shown_empty(t))
    return PW_OK; /* no point at all: gone */
  if (r.state != PW_LP_INFEASIBLE)
    node->bound = fmax(node->bound, priced_at);
  if (r.state != PW_LP_OPTIMAL)
    node->n_cut = CUTS_OF_A_NODE;
  else if ((status = choose(t, node)) != PW_OK)
    return status;
  if (node->next >= 0 || (t->options.cut && node->n_cut < CUTS_OF_A_NODE))
    heap_add(t, n);
  else
    t->closed = fmin(t->closed, node->bound);
  return PW_OK;
}

/* arrays that hang on the number of rows */
static pw_status rows_room(struct tree *t)
{
  size_t n_rows = (size_t)t->lp->n_rows, n_cols = (size_t)t->lp->n_cols;
  t->dual = pw_arena_array(t->ctx->arena, n_rows + 1, sizeof *t->dual);
  t->reduced = pw_arena_array(t->ctx->arena, n_cols + n_rows + 1, sizeof *t->reduced);
  t->probe_basis = pw_arena_array(t->ctx->arena, n_cols + n_rows + 1, sizeof *t->probe_basis);
  return t->dual && t->reduced && t->probe_basis ? PW_OK : PW_ERR_MEMORY;
}

/* Looks for rows that the optimum of node n breaks; with them it is solved again and filed, *is_filed. */
static pw_status node_cut(struct tree *t, int n, bool *is_filed)
{
  struct node *node = &t->nodes[n];
  struct pw_lp_live_result r;
  int n_added = 0;
  *is_filed = false;
  if (!t->options.cut || node->next >= 0 || /* where counts are not whole, branching says more for its work */
      node->n_cut++ >= CUTS_OF_A_NODE || !limits_set(t, n))
    return PW_OK;
  if (!(node->basis = basis_now(t, node->basis, node->n_rows)))
    return PW_ERR_MEMORY;
  node->n_rows = t->lp->n_rows;
  pw_status status = solve(t, n, &r); /* its point once more */
  if (status || r.state != PW_LP_OPTIMAL)
    return status;
  double before = node->bound = fmax(node->bound, priced(t, t->dual, 1, true)); /* with rows that came since */
  if ((status = choose(t, node)) != PW_OK)
    return status;
  if (node->next >= 0) {
    heap_add(t, n);
    *is_filed = true;
    return PW_OK;
  }
  pw_lp_live_close(t->live); /* in this thread nothing else may be solved while it is open */
  t->live = NULL;
  status = t->options.cut(t->options.user, t->lp, t->x, &n_added);
  if (!status)
    status = rows_room(t);
  if (!status)
    status = pw_lp_live_open(&t->live, t->lp, t->ctx);
  if (status || n_added == 0)
    return status;
  t->out->n_cuts += n_added;
  status = node_solve(t, n, node->basis, node->n_rows);
  *is_filed = true;
  if (t->nodes[n].bound < before + CUT_GAIN * fabs(before))
    t->nodes[n].n_cut = CUTS_OF_A_NODE;
  return status;
}

static pw_status room(struct tree *t)
{
  if (pw_arena_grow(t->ctx->arena, &t->nodes, &t->cap_nodes, (size_t)t->n_nodes, sizeof *t->nodes) ||
      pw_arena_grow(t->ctx->arena, &t->heap, &t->cap_heap, (size_t)t->n_heap, sizeof *t->heap))
    return PW_ERR_MEMORY;
  return PW_OK;
}

static pw_status branch(struct tree *t, int n)
{
  for (int up = 0; up < 2; up++) {
    pw_status status = room(t);
    if (status)
      return status;
    int child = t->n_nodes++;
    t->nodes[child] = (struct node){
        .parent = n, .limit_of = t->nodes[n].next, .is_up = up, .at = t->nodes[n].next_at, .bound = t->nodes[n].bound};
    if (limits_set(t, child) && (status = node_solve(t, child, t->nodes[n].basis, t->nodes[n].n_rows)) != PW_OK)
      return status;
  }
  return PW_OK;
}

static double lowest(const struct tree *t)
{
  return fmin(t->closed, t->n_heap ? t->nodes[t->heap[0]].bound : HUGE_VAL);
}

static pw_status root(struct tree *t)
{
  const struct pw_lp *lp = t->lp;
  const struct pw_lp_result *warm = t->options.warm;
  size_t size = (size_t)lp->n_rows + (size_t)lp->n_cols;
  signed char *basis = pw_arena_array(t->ctx->arena, size + 1, 1);
  pw_status status = basis ? room(t) : PW_ERR_MEMORY;
  if (status)
    return status;
  for (int i = 0; i < lp->n_rows; i++)
    basis[i] = warm && warm->row_basis && i < warm->n_basis_rows ? warm->row_basis[i] : PW_LP_BASIC;
  for (int j = 0; j < lp->n_cols; j++)
    basis[lp->n_rows + j] = warm && warm->col_basis ? warm->col_basis[j] : PW_LP_AT_LOW;
  t->nodes[t->n_nodes++] = (struct node){.parent = -1, .bound = -HUGE_VAL};
  return node_solve(t, 0, basis, lp->n_rows);
}

static pw_status grow_tree(struct tree *t)
{
  pw_status status = root(t);
  if (status)
    return status;
  t->out->root = t->nodes[0].bound;
  double bound = lowest(t);
  while (t->n_heap && t->nodes[t->heap[0]].bound < t->closed && bound < t->options.enough &&
         t->out->work < t->options.work && t->n_nodes < NODES_MAX && !t->out->is_by_time) {
    if (pw_deadline_is_over(t->deadline_s)) {
      t->out->is_by_time = true;
      break;
    }
    int n = heap_take(t);
    bool is_filed;
    if ((status = node_cut(t, n, &is_filed)) != PW_OK)
      return status;
    if (!is_filed && t->nodes[n].next < 0)
      t->closed = fmin(t->closed, t->nodes[n].bound);
    else if (!is_filed && (status = branch(t, n)) != PW_OK)
      return status;
    bound = lowest(t);
  }
  t->out->is_whole = t->closed <= bound || (t->n_heap && t->nodes[t->heap[0]].next < 0);
  t->out->bound = bound;
  return PW_OK;
}

static pw_status open_tree(struct tree *t)
{
  struct pw_lp *lp = t->lp;
  struct pw_arena *arena = t->ctx->arena;
  size_t n_rows = (size_t)lp->n_rows, n_cols = (size_t)lp->n_cols, n_counts = (size_t)t->n_counts;
  t->first = pw_arena_array(arena, n_rows + 2, sizeof *t->first);
  t->lo = pw_arena_array(arena, n_counts + 1, sizeof *t->lo);
  t->hi = pw_arena_array(arena, n_counts + 1, sizeof *t->hi);
  t->root_lo = pw_arena_array(arena, n_counts + 1, sizeof *t->root_lo);
  t->root_hi = pw_arena_array(arena, n_counts + 1, sizeof *t->root_hi);
  t->x = pw_arena_array(arena, n_cols + 1, sizeof *t->x);
  t->by_row = pw_arena_array(arena, lp->n_entries + 1, sizeof *t->by_row);
  size_t *next = pw_arena_array(arena, n_rows + 2, sizeof *next);
  t->probe_x = pw_arena_array(arena, n_cols + 1, sizeof *t->probe_x);
  t->of_count = pw_arena_array(arena, n_counts + 1, sizeof *t->of_count);
  t->of_weight = pw_arena_array(arena, n_counts + 1, sizeof *t->of_weight);
  t->first_of_weight = pw_arena_array(arena, n_counts + 1, sizeof *t->first_of_weight);
  if (!t->first || !t->lo || !t->hi || !t->root_lo || !t->root_hi || !t->x || !t->by_row || !next || !t->probe_x ||
      !t->of_count || !t->of_weight || !t->first_of_weight || rows_room(t))
    return PW_ERR_MEMORY;
  for (int k = 0; k < t->n_counts; k++)
    while (t->counts[t->first_of_weight[k]].weight != t->counts[k].weight)
      t->first_of_weight[k]++;
  for (size_t e = 0; e < lp->n_entries; e++)
    t->first[lp->entries[e].row + 1]++;
  for (size_t i = 0; i < n_rows; i++)
    t->first[i + 1] += t->first[i];
  memcpy(next, t->first, (n_rows + 1) * sizeof *next);
  for (size_t e = 0; e < lp->n_entries; e++)
    t->by_row[next[lp->entries[e].row]++] = lp->entries[e];
  for (int k = 0; k < t->n_counts; k++) {
    const struct pw_lp_count *c = &t->counts[k];
    t->root_lo[k] = t->lo[k] = c->row >= 0 ? lp->row_lo[c->row] : lp->lb[c->col];
    t->root_hi[k] = t->hi[k] = c->row >= 0 ? lp->row_hi[c->row] : lp->ub[c->col];
  }
  t->has_limits = true;
  return pw_lp_live_open(&t->live, lp, t->ctx);
}

pw_status pw_lp_tree(struct pw_lp_tree_result *out, struct pw_lp *lp, const struct pw_lp_count *counts, int n_counts,
                     const struct pw_lp_tree_options *options, struct pw_ctx *ctx)
{
  *out = (struct pw_lp_tree_result){.root = -HUGE_VAL, .bound = -HUGE_VAL};
  struct tree t = {.lp = lp,
                   .counts = counts,
                   .n_counts = n_counts,
                   .options = *options,
                   .deadline_s = pw_deadline_in(options->seconds),
                   .closed = HUGE_VAL,
                   .out = out,
                   .ctx = ctx};
  pw_status status = open_tree(&t);
  if (!status)
    status = grow_tree(&t);
  limits_back(&t);
  pw_lp_live_close(t.live);
  return status;
}
