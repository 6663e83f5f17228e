/* allocate_model.h - the allocation as a linear program: burn windows whole, pieces in fractions.
 *
 *   n(c,g,s,t)  pieces of lot c that start the smoke in zone group g at setting s in slot t
 *   m(c,g,s,t)  pieces that start the finish there; m(c,f,t) in oven f
 *   on(k,s,t)   pits of class k that cook at setting s in slot t       whole
 *   lit(k,s,t)  pits of class k whose fire becomes ready at slot t     whole by consequence
 *   use(f,t)    oven f is in use
 *   open(k,t)   pits of class k that are opened at slot boundary t (with [A12] alone)
 *   miss(c)     pieces without a place
 *
 * A class is a set of pits alike in all but the name; a zone group is a set of zones of one pit, on racks equal in
 * size, whose stage times differ by at most `merge_slots` (the shortest counts), in each pit of the class.
 * Every row is a relaxation of the true problem on the slot grid, so the optimum is a bound for it:
 * areas are true areas without grid waste in a guide, and in whole cells of the search's racks (plan/allocate/rack_grid.h) with
 * doors, for the plan's bound; a class promises at least what its single pits can keep; moves
 * between zones and places beyond [A1s] cost nothing here, nor, without [A12], openings beyond two a burn.
 *
 *   [A1] place every piece            sum n + miss = N
 *   [A1s] a large lot is split        splits + miss >= N / (most that one zone holds) - 1, rounded up
 *   [A2] smoke feeds finish           sum n(.., t - d1) = sum m(.., t)
 *   [A3] a rack is never over-full    sum area * active <= area(r) * on
 *   [A3z] nor a zone                  sum area * active <= (area(z) and what may reach over its ends) * on
 *   [A4] small lots need a lit pit    active of c in k <= min(N, most that fit) * on
 *   [A5] burns                        on(t) - on(t-1) <= lit(t); sum lit <= burns allowed
 *   [A5m] a fire burns for a stage    lit(t - d + 1) + .. + lit(t) <= on(t), d the shortest stage of any lot there
 *   [A5r] relighting takes its lead   on(t) + lit(t + 1) + .. + lit(t + lead) <= pits, over all settings
 *   [A6] a clean fire first           no start within the lead after the horizon begins; lighting pays for it
 *   [A7] holding fits                 pans held at t, until they are cut [D4], <= pans there are
 *   [A8] hands                        minutes of loading, wrapping, unloading at t <= minutes on shift
 *   [A9] ready in time                only ends of cooking inside the lot's window have columns
 *   [A3t] buffers                     what lies on a rack at t and what keeps its spot empty after it <= area(r) * pits that burned
 *                                     in one of the last slots: on(t - b) + lit(t - b + 1) + .. + lit(t), b the longest buffer
 *   [A3d], [A3h] shapes               rows that a point breaks, added to its program: allocate_cuts.h, allocate_knap.h
 *   [A12] doors                       on(t-1) - on(t) + 2 lit(t) <= open(t): the pits that are lit at t and those that go out are
 *                                     opened, and no pit does both, for lighting takes a slot at least;
 *                                     of a lot what goes on, is wrapped or comes off at t <= min(N, most that fit) * open(t),
 *                                     in one row where a pit may hold the lot, for no piece does two of these in one place at once */
#ifndef PW_ALLOCATE_MODEL_H
#define PW_ALLOCATE_MODEL_H

#include "plan/allocate/allocate_search.h"
#include "solve/lp.h"

struct pw_al_col { /* a piece column: lot c from slot `from` to slot `to` in a zone group, or in an oven */
  int col, lot, group, finisher, setting, from, to; /* group or finisher is PW_NONE */
  bool is_finish;
};

struct pw_al_model {
  struct pw_lp lp;
  int n_classes;
  int *class_pit;    /* [k] first pit of the class */
  int *class_n;      /* [k] how many */
  int *class_of_pit; /* [p] */
  int n_groups;
  int *group_zone;    /* [g] first of its zones, in the class's first pit */
  int *group_n;       /* [g] zones of one pit in it */
  int *group_class;   /* [g] */
  int *group_of_zone; /* [z] of the zones of each class's first pit, else -1 */
  int n_racks;        /* rack groups: the racks of a class's pits that are equal in size */
  int *rack_zone;     /* [r] first zone of the first of them, in the class's first pit */
  int *rack_n;        /* [r] racks of one pit in it */
  int *rack_class;    /* [r] */
  int *group_rack;    /* [g] */
  int *row_a3z;       /* [(g * n_settings_max + s) * n_slots + t] row, -1 where there is none */
  int *row_a3;        /* [(r * n_settings_max + s) * n_slots + t] row, -1 where there is none */
  int *row_a3t;       /* likewise */
  int *col_lot;       /* [column] lot of a piece column, else -1 */
  size_t cap_col_lot;
  unsigned char
      *row_is_side; /* [row] up to n_side_rows: one of very many that say little, [A3z], [A4], [A12] of a lot */
  size_t cap_row_is_side;
  int n_side_rows;
  unsigned char *col_is_wrapped; /* [column] */
  size_t cap_col_is_wrapped;
  struct pw_al_col *cols; /* piece columns: n and m of every kind */
  size_t n_piece_cols, cap_piece_cols;
  int *on;     /* [(k * n_settings_max + s) * n_slots + t] column, -1 where there is none */
  int *lit;    /* [(k * n_settings_max + s) * n_slots + t] likewise */
  int *open;   /* [k * (n_slots + 1) + t] column of pits of a class opened at slot boundary t, -1 where there is none;
                           NULL without them */
  int *splits; /* [c] column of further places, -1 where there is none */
  int *row_burns;       /* [k] row of the burns of a class */
  int *miss;            /* [c] column */
  int *use;             /* [f * n_slots + t] column of an oven in use, -1 where there is none */
  int *row_a3f;         /* [f * n_slots + t] [A3] of an oven, -1 where there is none */
  int *row_a4f;         /* [(c * n_finishers + f) * n_slots + t] [A4] of an oven, -1 where there is none */
  int *row_a4;          /* [((c * n_classes + k) * n_settings_max + s) * n_slots + t] likewise */
  int *row_a7, *row_a8; /* [t] likewise */
};

struct pw_al_model_options {
  bool pieces_whole; /* pieces integer too (for the written model) */
  bool has_names;
  double room_frac; /* racks as if only this share of them could be filled; 0: all of it.  Below 1 the optimum is
                              no bound but a guide: real pieces leave gaps */
  bool has_doors;   /* with [A3t] and [A12], openings one by one; else lighting pays for two */
  int merge_slots;  /* zones whose stage times differ by no more are one group; 0 loses nothing */
};

/** Errors: PW_ERR_MEMORY. */
pw_status pw_al_model_make(struct pw_al_model *model, const struct pw_al *al, const struct pw_al_model_options *options,
                           struct pw_ctx *ctx);

/** Reads windows and settings for single pits out of a solution: the widest of a class goes to its first pit; the
 *  r-th burns while more than r - 1 + `share` of them do. */
pw_status pw_al_model_windows(const struct pw_al_model *model, const struct pw_al *al, const double *x, double share,
                              struct pw_al_windows *windows, int **settings, struct pw_ctx *ctx);

/** About as many columns as the program would have, without building it: starts of each stage by zone and setting, and slots of
 *  each fire; pits alike are one. */
double pw_al_model_columns(const struct pw_al *al);
/** A larger program is not built: it takes minutes to solve, and gigabytes.  Measured: 31,000 columns stood at its relaxation after
 *  a minute of a processor, 8,300 (estimated at 19,600) took 17 s. */
enum { PW_AL_MODEL_COLUMNS_MAX = 20000 };

#endif
