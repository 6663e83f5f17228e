/* spots.h - where else on the racks a piece that has not gone there yet could lie: free, under a fire that burns, nothing raw above [N3]. */
#ifndef PW_DAY_SPOTS_H
#define PW_DAY_SPOTS_H

#include "day/belief.h"

/** Another place of one stage of a piece. */
struct pw_spot {
  bool is_moved;
  int zone, setting;
  struct pw_rect rect;
  int finisher; /**< of a piece that is carried: the oven, when zone is PW_NONE */
  int from_min; /**< free, and under a clean fire, from then on */
};

/** Index of a stage (smoke, finish) of a piece in a list of spots. */
#define PW_SPOT_AT(piece, stage) ((piece)*2 + (stage))

/** Minutes a stage of the lot takes there by the plan; PW_NONE: it may not lie there. */
int pw_spot_min(const struct pw_lots *lots, int lot, int stage, int zone, int setting);
/** Minutes of a stage of a lot in an oven: its finish or, on a day without its fire, its open stage; PW_NONE. */
int pw_spot_oven_min(const struct pw_lot *lot, int stage, int finisher);

/** The stage in which a piece lies in the heat now: finish once it is wrapped. */
int pw_spot_stage_now(const struct pw_state *state, int piece);

/** Minutes that what is open there drips on racks below; 0: on none [H2]. */
int pw_spot_drips_min(const struct pw_event *ev, const struct pw_lots *lots, int lot, int zone, int setting,
                      int open_min);

/** Moves stages of the lot's pieces that have not begun to spots where they end a step of the grid earlier or more; `spots` has those moved
 *  before and gains the new ones.  How many. */
int pw_spots_move(struct pw_spot *spots, const struct pw_state *state, const struct pw_belief *belief,
                  const struct pw_allocation *al, int lot, int stage);

/** Carries pieces of the lot that lie in the heat now to where they are done a step of the grid earlier or more: another fire, or what is
 *  wrapped an oven.  How many. */
int pw_spots_carry(struct pw_spot *carry, const struct pw_state *state, const struct pw_belief *belief,
                   const struct pw_allocation *al, int lot);

/** Minutes a stage that began elsewhere takes, all told, when it is carried at a minute to a place where the whole of it would take there_min. */
double pw_spot_carried_min(const struct pw_state *state, const struct pw_belief *belief, int piece, int stage,
                           int at_min, int there_min);

/** How the fire of a zone's pit is run then, or was run last; PW_NONE: it has none. */
int pw_spot_setting(const struct pw_state *state, int zone, int at_min);
/** Whether a lot's stage can be cooked in a zone by the fire that burns there then, or burned last. */
bool pw_spot_cooks(const struct pw_state *state, int lot, int stage, int zone, int at_min);

/** Where a piece lies that somebody put into *zone otherwise than planned: a place that is free beside `there`, in that zone, else in another of
 *  its rack, of its pit, which *zone becomes; else the zone's first.  False: it fits nowhere in it. */
bool pw_spot_laid(struct pw_rect *out, int *zone, const struct pw_state *state, const struct pw_allocation *there,
                  int piece, int stage);

/** No moved piece lies where another does, nor under or above what drips.  For an allocation made with the spots. */
bool pw_spots_hold(const struct pw_spot *spots, const struct pw_state *state, const struct pw_allocation *al);

#endif
