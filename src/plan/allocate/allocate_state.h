/* allocate_state.h - the state of the whole-piece search: where every piece is, what is full, what it costs.
 * Pieces are put and taken one at a time; a journal takes a round back. */
#ifndef PW_ALLOCATE_STATE_H
#define PW_ALLOCATE_STATE_H

#include "plan/allocate/allocate_search.h"
#include "plan/allocate/rack_grid.h"

enum {
  PW_AL_BURNS_MAX = 64,
  PW_AL_ALL_PLACES_UP_TO = 6, /* zones up to which every other zone is tried for the finish */
  PW_AL_PLACES_TRIED = 6      /* else at most so many at random */
};

struct pw_al_group { /* pieces of a lot that share zone, place and start */
  int zone, place, start, done, n;
};

struct pw_al_option { /* a way to cook a lot's waiting pieces, as the insertion sees it */
  int zone, setting, place, start, mid, done;
  double fixed_cents, unit_cents, score;
  int n; /* pieces it could take, geometry aside */
};

/** [A10] Food of a pit that would drip on what is laid in some zone, or be dripped on, if their hours meet. */
struct pw_al_threat {
  int lot, zone, start, done;
  bool is_over; /* the new food is above */
};

/** A stretch of a pit and what burning it besides would cost: enumerations ask for the same ones zone after zone. */
struct pw_al_delta {
  int pit, setting, a, b;
  unsigned version;
  double cents;
};
enum { PW_AL_DELTAS = 4096 };

/** Stretches with food in a pit; not whole: more of them than are kept, or two settings asked for at once. */
struct pw_al_pit_food {
  struct pw_al_stretch seg[PW_AL_BURNS_MAX];
  int n;
  bool is_whole;
};

struct pw_al_change {
  int piece;              /* or -1 - (pit * n_days + day) for a change of setting */
  struct pw_al_piece old; /* as it was; setting changes keep the old one in old.setting */
};

struct pw_al_state {
  const struct pw_al *al;
  int n_pieces;
  int *first_piece; /* [c], and [n_lots] = n_pieces */
  struct pw_al_piece *piece;
  int n_racks;
  struct pw_rack_grid *grid;        /* [n_racks] of all pits */
  int *rack_of_zone, *nth_of_zone;  /* [z] index into grid; zone of that rack, from the hot end */
  struct pw_cells *cells1, *cells2; /* [(c * n_zones + z) * 2 + turned] raw and wrapped footprint */
  unsigned short *food;             /* [(p * n_days + d) * n_slots + t] pieces on */
  int *setting;                     /* [p * n_days + d] */
  double *used;                     /* [f * n_slots + t] m2 or pans */
  unsigned short *n_in;             /* [f * n_slots + t] pieces */
  double *work_min;                 /* [t] */
  unsigned short *opened;           /* [p * (n_slots + 1) + t] reasons to open pit p at t */
  struct pw_al_group **group;       /* [c] */
  int *n_groups, *n_groups_cap;
  int *n_in_pit;            /* [p * n_lots + c] groups of lot c that are smoked in pit p */
  int *pit_lot, *n_pit_lot; /* [p * n_lots + i] the lots of which there are some, [p] how many */
  int n_open;
  double unit_cents;               /* holding, off-best and moving */
  double *pit_cents;               /* [p], valid unless dirty */
  unsigned char *is_dirty;         /* [p] */
  unsigned char *burning;          /* [p * n_slots + t] slot lies in a burn */
  unsigned char *active;           /* [p * n_slots + t] food of any day is on, valid unless dirty */
  signed char *setting_at;         /* [p * n_slots + t] at which setting; -1: two days ask for two */
  struct pw_al_delta *deltas;      /* [PW_AL_DELTAS] what stretches lately asked for would add */
  struct pw_al_pit_food *pit_food; /* [p] valid unless dirty */
  unsigned *version;               /* [p] counts the changes of what it burns for */
  int *food_from, *food_to;        /* [p] first and past-last slot with food on, valid unless dirty; from >= to: cold */
  int *cap;                        /* [c * n_zones + z] pieces of lot c alone that fit the empty zone */
  int *n_missed;                   /* [c] */
  double *miss_cents; /* [c] what a piece without a place counts: the problem's price unless the search softens it */
  bool is_soft;       /* it does: then each piece counts alike */
  struct pw_al_option *options; /* room for one enumeration */
  double *option_score;
  int n_options_cap;
  int *room_by_done;   /* [t] */
  int *room_by_mid;    /* [stays][t] */
  unsigned *full;      /* [(z * 2 + stays) * n_slots + start] insertion in which the exact geometry last refused it */
  unsigned *full_slot; /* [(z * 2 + turned) * n_slots + t] insertion in which nothing more lay there in slot t */
  struct pw_al_threat *threat; /* room for those of one zone */
  unsigned n_insertions;
  long n_looks,
      looks_fine;    /* options looked at in this search; beyond so many an insertion looks once and puts down all */
  double deadline_s; /* safety net: nothing is put any more once it is over; 0 for none */
  bool is_late;      /* it was */
  struct pw_al_change *journal;
  size_t n_journal, cap_journal;
  struct pw_ctx *ctx;
  bool is_out_of_memory;
};

pw_status pw_al_state_init(struct pw_al_state *st, const struct pw_al *al, struct pw_ctx *ctx);

/** Puts piece i where `rec` says; the caller has checked that it fits. */
void pw_al_state_put(struct pw_al_state *st, int i, const struct pw_al_piece *rec);
/** Takes piece i off into the pool. */
void pw_al_state_take(struct pw_al_state *st, int i);
void pw_al_state_set(struct pw_al_state *st, int p, int d, int setting); /* only while no food of that day is in p */
/** Takes every piece off and forgets the journal; what rounding left of the sums goes too. */
void pw_al_state_clear(struct pw_al_state *st);
/** Takes back everything since the journal was last cleared. */
void pw_al_state_undo(struct pw_al_state *st);

/** Whether a change was lost for want of memory: the state is void. */
bool pw_al_state_is_out_of_memory(const struct pw_al_state *st);

double pw_al_state_cost(struct pw_al_state *st);
/** Cost of burning pit p with slots [a, b) of `day` added. */
double pw_al_state_burn_delta(struct pw_al_state *st, int p, int day, int a, int b);

static inline struct pw_rack_grid *pw_al_grid(const struct pw_al_state *st, int z)
{
  return &st->grid[st->rack_of_zone[z]];
}

static inline const struct pw_cells *pw_al_cells(const struct pw_cells *cells, const struct pw_al *al, int c, int z)
{
  return cells + ((size_t)c * (size_t)al->n_zones + (size_t)z) * 2;
}

#endif
