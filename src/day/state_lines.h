/* state_lines.h - one line of the log, played on the state [N1]. */
#ifndef PW_DAY_STATE_LINES_H
#define PW_DAY_STATE_LINES_H

#include "day/names.h"
#include "day/state.h"

/** Moves what the line means; lines come in order of their minutes, none that is cancelled.  `order` is scratch for as many pieces as there are.
 *  Errors: PW_ERR_INPUT, told to the context, where the line cannot have been. */
pw_status pw_state_play(struct pw_state *s, const struct pw_log_line *line, const struct pw_names *names, int *order,
                        struct pw_ctx *ctx);

#endif
