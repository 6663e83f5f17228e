/* allocate_bound.c - see allocate_bound.h. */
#include "plan/allocate/allocate_bound.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "plan/allocate/allocate_cuts.h"
#include "plan/allocate/allocate_knap.h"
#include "plan/allocate/allocate_parts.h"
#include "solve/lp_live.h"
#include "solve/lp_tree.h"

#include <math.h>
#include <string.h>

enum {
  CUT_ROUNDS = 4,
  KNAP_ROUNDS = 8,       /* after those */
  BRANCH_COLUMNS = 1200, /* for a search larger programs are not branched on */
  BRANCH_ITERATIONS = 4000,
  LIGHT_FROM_ROWS = 1800, /* smaller trees come to their end with all rows */
  DAY_MIN = 1440,
  NOON_MIN = 720
};
static const double BRANCH_GAP_FRAC = 0.002;
static const double KNAP_WORK = 1e6; /* counted as knapsack_rack.h says: a fifth of a second of it */
static const double TREE_WORK = 6e7; /* counted as lp_tree.h says: some 5 s of a processor of 2020, beside other work */

/* ---- counts: whole numbers in every plan ------------------------------------------------------------------------- */

/* What branching on one brings while nothing is known of it: sums first, they move the most cost, and of them fires: one side has
 * too few and is soon given up.  By trial on the bench and the example events. */
static const double BURNS = 10, LIT = 2, CLASS_LIT = 1.5, ONE = 1, PLACES = 0.3, DOORS = 0.3, DOOR = 0.1;

struct counts {
  struct pw_lp *lp;
  struct pw_lp_count *items;
  size_t cap;
  int n;
};

static void count(struct counts *c, int row, int col, double weight)
{
  if (pw_arena_grow(c->lp->arena, &c->items, &c->cap, (size_t)c->n, sizeof *c->items))
    c->lp->error = PW_ERR_MEMORY;
  else
    c->items[c->n++] = (struct pw_lp_count){row, col, weight, weight <= ONE};
}

/* a sum that the program does not limit, to be filled */
static int sum(struct counts *c, double weight)
{
  int row = pw_lp_row(c->lp, -HUGE_VAL, HUGE_VAL, "count");
  if (row >= 0)
    count(c, row, -1, weight);
  return row;
}

/* pits lit in slot t: of all classes, of each, at each setting; fires that become ready in the day `of_day` counts */
static void slot_counts(struct counts *c, const struct pw_al_model *model, const struct pw_al *al, int t, int slots,
                        int burns, int of_day)
{
  int together = sum(c, LIT);
  for (int k = 0; k < model->n_classes; k++) {
    int n_settings = al->pit[model->class_pit[k]].n_settings;
    int of_class = n_settings > 1 ? sum(c, CLASS_LIT) : -1;
    for (int s = 0; s < n_settings; s++) {
      size_t kst = ((size_t)k * (size_t)al->n_settings_max + (size_t)s) * (size_t)al->n_slots + (size_t)t;
      int on = model->on[kst], lit = model->lit[kst];
      if (on < 0 || lit < 0)
        continue;
      pw_lp_put(c->lp, together, on, 1);
      pw_lp_put(c->lp, slots, on, 1);
      pw_lp_put(c->lp, burns, lit, 1);
      if (of_day >= 0)
        pw_lp_put(c->lp, of_day, lit, 1);
      if (of_class >= 0)
        pw_lp_put(c->lp, of_class, on, 1);
      count(c, -1, on, ONE);
    }
  }
  for (int f = 0; f < al->n_finishers; f++)
    if (model->use[(size_t)f * (size_t)al->n_slots + (size_t)t] >= 0)
      count(c, -1, model->use[(size_t)f * (size_t)al->n_slots + (size_t)t], ONE);
}

/* All of them.  A day ends at noon here: a fire of the night belongs to the meal after it. */
static pw_status counts_make(struct counts *c, struct pw_al_model *model, const struct pw_al *al)
{
  *c = (struct counts){.lp = &model->lp};
  int burns = sum(c, BURNS), slots = sum(c, ONE), of_day = -1, day = 0;
  for (int t = 0; t < al->n_slots; t++) {
    int at_min = al->lots->start_at_min + t * al->slot_min + NOON_MIN;
    int now = (at_min >= 0 ? at_min : at_min - DAY_MIN + 1) / DAY_MIN;
    if (t == 0 || now != day)
      of_day = sum(c, BURNS);
    day = now;
    slot_counts(c, model, al, t, slots, burns, of_day);
  }
  for (int k = 0; k < model->n_classes; k++)
    count(c, model->row_burns[k], -1, BURNS);
  for (int i = 0; i < al->n_lots; i++)
    if (model->splits[i] >= 0)
      count(c, -1, model->splits[i], PLACES);
  int doors = model->open ? sum(c, DOORS) : -1;
  for (int k = 0; k < model->n_classes && model->open; k++) {
    int of_class = sum(c, DOORS);
    for (int t = 0; t <= al->n_slots; t++) {
      int open = model->open[k * (al->n_slots + 1) + t];
      if (open < 0)
        continue;
      pw_lp_put(c->lp, doors, open, 1);
      pw_lp_put(c->lp, of_class, open, 1);
      count(c, -1, open, DOOR);
    }
  }
  return c->lp->error;
}

/* ---- the bound --------------------------------------------------------------------------------------------------- */

/* rows that shapes imply */
struct shapes {
  struct pw_al_cuts cuts;
  struct pw_al_knaps knaps; /* for the plan's bound alone */
};

/* rows that a point of the tree breaks */
static pw_status shapes_add(void *user, struct pw_lp *lp, const double *x, int *n_added)
{
  struct shapes *shapes = user;
  int n_knaps = 0;
  pw_status status = pw_al_cuts_add(&shapes->cuts, lp, x, n_added);
  if (!status && *n_added == 0)
    status = pw_al_knaps_add(&shapes->knaps, lp, x, &n_knaps);
  *n_added += n_knaps;
  return status;
}

/* the relaxation, with rows that the shapes of pieces and racks imply as long as they cut something off; *last is its last
 * optimum, x NULL without one */
static pw_status relax(struct pw_al_bound *out, struct pw_lp_result *last, struct pw_al_model *model,
                       struct shapes *shapes, const struct pw_al *al, double knap_work, double work_times,
                       double deadline_s, struct pw_ctx *ctx)
{
  struct pw_lp_options o = {.cutoff = HUGE_VAL};
  pw_status status = pw_al_cuts_init(&shapes->cuts, model, al, ctx);
  int rounds = CUT_ROUNDS;
  if (!status && model->open) {
    rounds += KNAP_ROUNDS;
    status = pw_al_knaps_init(&shapes->knaps, model, al, knap_work, work_times, ctx);
  }
  *last = (struct pw_lp_result){0};
  for (int k = 0; !status && k <= rounds; k++) {
    struct pw_lp_result relaxed;
    o.seconds = pw_deadline_left(deadline_s);
    status = pw_lp_solve(&relaxed, &model->lp, &o, ctx);
    out->is_cut |= relaxed.is_by_time;
    if (status || relaxed.state != PW_LP_OPTIMAL)
      break;
    *last = relaxed;
    if (k == 0)
      out->first = relaxed;
    double proved_cents = fmax(pw_lp_dual_bound(&model->lp, relaxed.dual), 0);
    if (k == 0)
      out->proof.fractions_cents = proved_cents;
    out->bound_cents = fmax(out->bound_cents, proved_cents);
    out->proof.shapes_cents = out->bound_cents;
    o.warm = last;
    int n_added = 0;
    if (k < CUT_ROUNDS)
      status = pw_al_cuts_add(&shapes->cuts, &model->lp, relaxed.x, &n_added);
    if (!status && k < rounds && rounds > CUT_ROUNDS && (k >= CUT_ROUNDS || n_added == 0))
      status = pw_al_knaps_add(&shapes->knaps, &model->lp, relaxed.x, &n_added);
    if (n_added == 0)
      break;
  }
  return status;
}

/* the library's own branch and bound, on windows alone */
static pw_status branch(struct pw_al_bound *out, const struct pw_al_model *model, const struct pw_lp_result *last,
                        double deadline_s, struct pw_ctx *ctx)
{
  struct pw_lp_result whole;
  struct pw_lp_options o = {.cutoff = HUGE_VAL,
                            .warm = last,
                            .as_integer = true,
                            .gap_frac = BRANCH_GAP_FRAC,
                            .n_iterations = BRANCH_ITERATIONS,
                            .seconds = pw_deadline_left(deadline_s)};
  if (model->lp.n_cols > BRANCH_COLUMNS)
    return PW_OK;
  pw_status status = pw_lp_solve(&whole, &model->lp, &o, ctx);
  out->is_cut |= whole.is_by_time;
  if (!status)
    out->bound_cents = fmax(out->bound_cents, whole.bound);
  return status;
}

/* Leaves out of a solved program the many rows that say nothing at its optimum: what is left is a relaxation, and a tree on it
 * comes farther in the same work. */
static pw_status lighten(struct pw_al_model *model, struct pw_lp_result *last, struct pw_ctx *ctx)
{
  struct pw_lp *lp = &model->lp;
  unsigned char *is_out = pw_arena_array(ctx->arena, (size_t)lp->n_rows + 1, 1);
  int *to = pw_arena_array(ctx->arena, (size_t)lp->n_rows + 1, sizeof *to);
  if (!is_out || !to)
    return PW_ERR_MEMORY;
  for (int i = 0; i < model->n_side_rows && last->row_basis; i++)
    is_out[i] = model->row_is_side[i] && last->row_basis[i] == PW_LP_BASIC;
  pw_lp_take_rows(lp, is_out, to, last);
  for (int k = 0; k < model->n_classes; k++)
    model->row_burns[k] = to[model->row_burns[k]];
  return PW_OK;
}

/* the tree on counts */
static pw_status tree(struct pw_al_bound *out, struct pw_al_model *model, struct shapes *shapes, const struct pw_al *al,
                      const struct pw_lp_result *last, double *work, double enough, double deadline_s,
                      struct pw_ctx *ctx)
{
  struct counts counts;
  struct pw_lp_tree_result whole = {0};
  pw_status status = counts_make(&counts, model, al);
  struct pw_lp_tree_options o = {.warm = last,
                                 .work = *work,
                                 .seconds = pw_deadline_left(deadline_s),
                                 .enough = enough,
                                 .cut = shapes_add,
                                 .user = shapes};
  if (!status)
    status = pw_lp_tree(&whole, &model->lp, counts.items, counts.n, &o, ctx);
  out->is_cut |= whole.is_by_time;
  *work -= fmin(whole.work, *work);
  out->proof.is_whole = whole.is_whole;
  if (!status)
    out->bound_cents = fmax(out->bound_cents, whole.bound);
  return status;
}

/* what is proved of one part; `work` for its tree, of which is taken what it used, and for knapsacks; `enough` of it is as good as more */
static pw_status part_bound(struct pw_al_bound *out, const struct pw_al *al, const struct pw_al_bound_options *options,
                            double *work, double knap_work, double enough, double deadline_s, struct pw_ctx *ctx)
{
  struct pw_al_model model;
  struct shapes shapes;
  struct pw_lp_result last = {0};
  struct pw_al_model_options o = {.merge_slots = options->merge_slots,
                                  .has_names = options->dump_path != NULL,
                                  .has_doors = options->proof == PW_AL_PROOF_PLAN};
  *out = (struct pw_al_bound){0};
  pw_status status = pw_al_model_make(&model, al, &o, ctx);
  if (!status)
    status = relax(out, &last, &model, &shapes, al, knap_work, options->work_times > 0 ? options->work_times : 1,
                   deadline_s, ctx);
  if (!status && options->dump_path)
    status = pw_lp_write(&model.lp, options->dump_path, ctx);
  if (status || !last.x)
    return status;
  if (options->proof == PW_AL_PROOF_SEARCH)
    return branch(out, &model, &last, deadline_s, ctx);
  if (model.lp.n_rows >= LIGHT_FROM_ROWS)
    status = lighten(&model, &last, ctx);
  if (!status)
    status = tree(out, &model, &shapes, al, &last, work, enough, deadline_s, ctx);
  out->n_knap_rows = shapes.knaps.n_added;
  return status;
}

pw_status pw_al_bound_make(struct pw_al_bound *out, const struct pw_al *al, const struct pw_al_bound_options *options,
                           struct pw_ctx *ctx)
{
  double deadline_s = pw_deadline_in(options->seconds), times = options->work_times > 0 ? options->work_times : 1,
         work = TREE_WORK * times;
  struct pw_al_parts parts;
  struct pw_al_bound_options own = *options;
  *out = (struct pw_al_bound){0};
  if (options->proof == PW_AL_PROOF_SEARCH)
    return part_bound(out, al, options, &work, 0, HUGE_VAL, deadline_s, ctx);
  pw_status status = pw_al_parts_make(&parts, al, ctx);
  if (!status && options->dump_path && parts.n != 1) { /* the whole is written, its parts are proved */
    double none = 0;
    status = part_bound(out, al, options, &none, KNAP_WORK * times, HUGE_VAL, deadline_s, ctx);
    own.dump_path = NULL;
    *out = (struct pw_al_bound){.is_cut = out->is_cut};
  }
  out->proof.is_whole = true;
  for (int i = 0; i < parts.n && !status; i++) {
    struct pw_al_bound one;
    double own_work = work / (parts.n - i), given = own_work;
    double enough = options->cost_cents > 0 ? options->cost_cents - out->bound_cents : HUGE_VAL;
    status = part_bound(&one, &parts.part[i], &own, &own_work, KNAP_WORK * times / parts.n, enough, deadline_s, ctx);
    work -= given - own_work;
    out->is_cut |= one.is_cut;
    out->n_knap_rows += one.n_knap_rows;
    out->bound_cents += one.bound_cents;
    out->proof.fractions_cents += one.proof.fractions_cents;
    out->proof.shapes_cents += one.proof.shapes_cents;
    out->proof.is_whole &= one.proof.is_whole;
  }
  return status;
}
