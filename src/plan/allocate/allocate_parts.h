/* allocate_parts.h - a job whose lots lie so far apart in time that no fire would burn from one to the other, as several jobs.
 *
 * Proved: the least costs of the parts add up to no more than any plan of the whole costs.  What is left out of each part are
 * rows that tie it to the others (holding, hands, the number of fires); a fire that burns through the time between two parts is two
 * fires there, which costs no more, since the time between costs at least a lighting.  Ovens, doors and places are paid for by slot
 * or by lot, and no slot or lot is in two parts. */
#ifndef PW_ALLOCATE_PARTS_H
#define PW_ALLOCATE_PARTS_H

#include "plan/allocate/allocate_data.h"

struct pw_al_parts {
  struct pw_al *part; /**< in order of time; their slots are counted from their own first */
  int n;
};

/** At least one part when there are lots.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_parts_make(struct pw_al_parts *out, const struct pw_al *al, struct pw_ctx *ctx);

#endif
