/* state_piece.h - how the stages of one piece move [N1]: used while a log is played. */
#ifndef PW_DAY_STATE_PIECE_H
#define PW_DAY_STATE_PIECE_H

#include "day/state.h"

#define PW_PIECE_NEAR_K 1.0 /**< a core that is as good as there */

/** The last stage in which it is cooked, by enum pw_load_stage. */
int pw_piece_last_cook(const struct pw_piece *piece);
/** All that follows a stage moves with its end, but for what was logged. */
void pw_piece_shift_after(struct pw_piece *piece, int stage, int by_min);
/** A stage began at that minute, as a line says. */
void pw_piece_start(struct pw_piece *piece, int stage, int at_min);
/** A stage ended at that minute, as a line says. */
void pw_piece_end(struct pw_piece *piece, int stage, int at_min);

#endif
