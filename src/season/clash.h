/* clash.h - where two jobs of a season meet. */
#ifndef PW_SEASON_CLASH_H
#define PW_SEASON_CLASH_H

#include "season/season.h"

/** Sorts the uses and finds the clashes among them.  Pits, boxes and persons are the same where they bear one name; of a role more may
 *  be asked for at once than there are.  Errors: PW_ERR_MEMORY. */
pw_status pw_season_clashes(struct pw_season *season, struct pw_ctx *ctx);

#endif
