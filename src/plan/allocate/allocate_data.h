/* allocate_data.h - the allocation problem in slots and cents: what the linear model and the search share.
 *
 * Letters, the same in maths, code and row names: lot c, pit p, setting s, zone z, finisher f, slot t.
 * Slot t covers [start_at_min + t * slot_min, + slot_min).  A place index is a zone z < n_zones or
 * n_zones + f for a finisher. */
#ifndef PW_ALLOCATE_DATA_H
#define PW_ALLOCATE_DATA_H

#include "plan/stages.h"

struct pw_al_lot {
  int n;   /* pieces */
  int day; /* service day from the first one: picks the pit's setting */
  bool has_finish;
  bool is_raw;               /* [A10] it drips until it is safe */
  double drip_reach_m;       /* [A10] a piece lies so far from the middle of its zone at most, with the margin */
  int *d1, *d2;              /* [z * n_settings_max + s] slots of smoke and finish, PW_NONE where not allowed */
  int *d_oven;               /* [f] slots */
  int done_first, done_last; /* end of cooking, in slots */
  int t_first;               /* earliest useful start of the smoke */
  int hold_end;              /* slot in which the hold is over (rounded up) */
  int room_end;              /* slot in which the last piece is cut: its room in a box is free (rounded up) [D4] */
  int turn;                  /* [A3t] slots a spot stays empty after a piece of it */
  int whole_until_at_min, rest_min, box_until_at_min;
  double pans, area_oven_m2; /* room of one piece in a box / on an oven shelf */
  double load_min, wrap_min, unload_min;
  double *off1, *off2; /* [z * n_settings_max + s] cents a piece for being off the cut's best temperature */
  double *off_oven;    /* [f] the same, plus the move */
  double hold_cents;   /* a piece held one slot */
  double miss_cents;   /* the first piece without a place: dearer than any way to cook it */
};

struct pw_al_pit {
  int zone_first, zone_end;
  int lead; /* slots from lit to clean fire, rounded up */
  int n_burns_max;
  int n_settings;
  double rate[8], light[8]; /* cents a lit slot / a lighting, by setting */
  const double *watch;      /* [t] cents of keeping awake from slot 0 to t, of this pit alone; NULL: none */
  int shut_from, shut_to;   /* no food in these slots; equal: none are shut */
};

enum { PW_AL_SETTINGS_MAX = PW_SETTINGS_MAX, PW_AL_DAYS_MAX = PW_DAYS_MAX };

struct pw_al {
  const struct pw_event *ev;
  const struct pw_lots *lots;
  const struct pw_fuel_rates *rates;
  int slot_min, n_slots, n_settings_max;
  int day_first, n_days; /* service days, counted from the first one */
  int n_lots, n_zones, n_pits, n_finishers;
  struct pw_al_lot *lot;
  struct pw_al_pit *pit;
  int *pit_of_zone;
  bool *is_above; /* [A10] [z * n_zones + z']: what drips in z falls on z' */
  double *
      drip_gap_m; /* [A10] [z * n_zones + z'] between them along the pit, -HUGE_VAL where one may lie above the other anywhere */
  double *oven_cents; /* [f] a slot in use; boxes 0 */
  bool *is_oven;
  double *capacity;  /* [f] m2 or pans */
  double *box_min;   /* [f] so long a box keeps food hot; HUGE_VAL when heated */
  double *hands_min; /* [t] minutes of pit hands on shift, INFINITY when the event names no such crew */
  double opening_cents, place_cents, move_cents;
  double deadline_s; /* safety net of all searches over this problem (base/deadline.h); 0: none */
  bool is_shared;    /* misses are priced so that what is short is shared out: pw_al_share() */
};

/** [A3t] The slot until which nothing else goes where a piece of lot c is planned to leave at slot t: it may take longer. */
static inline int pw_al_turned(const struct pw_al *al, int c, int t)
{
  int free_from = t + al->lot[c].turn;
  return free_from < al->n_slots ? free_from : al->n_slots;
}

/** A pit lit at a setting in slots a .. b - 1. */
static inline double pw_al_lit_cents(const struct pw_al_pit *pit, int setting, int a, int b)
{
  return (b - a) * pit->rate[setting] + (pit->watch ? pit->watch[b] - pit->watch[a] : 0);
}

/** Builds it.  Errors: PW_ERR_MEMORY, PW_ERR_INPUT (more settings or days than the program handles). */
pw_status pw_al_make(struct pw_al *al, const struct pw_event *ev, const struct pw_lots *lots,
                     const struct pw_fuel_rates *rates, struct pw_ctx *ctx);

/** [A0] What m missing pieces of a lot of n count, in first pieces: m (1 + STEEP m / n).  Convex, so that what is short is shared
 *  out by shares of lots and no dish vanishes; never less than m, so that a program which counts m alone is a relaxation. */
#define PW_AL_MISS_STEEP                                                                                               \
  40.0 /* the last piece of a lot counts 81 times the first: chosen by trial, common practice, no source */
double pw_al_miss_weight(const struct pw_al *al, int c, int m);
/** Is it the only cut from the pit that guests without meat can eat at its service? */
bool pw_al_is_only_dish(const struct pw_al *al, int c);
/** Prices misses so that they are shared out: by the rack and time a piece asks for, rising with how much of its lot is missing, dearer
 *  where it is the only dish of some guests.  Before it each missing piece costs the same.  Asked once some piece finds no place. */
void pw_al_share(struct pw_al *al);
/** What all misses of a plan cost; missed[c] pieces of lot c. */
double pw_al_missed_cents(const struct pw_al *al, const int *missed);

/** Share of a shift that loading and wrapping may fill; the rest is for checks, feeding and walking.
 *  common practice, no source */
#define PW_AL_HANDS_SHARE_FRAC 0.6

#endif
