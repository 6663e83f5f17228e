/* state_piece.c - see state_piece.h.  What a line says of a stage moves what follows it, but for what another line says. */
#include "day/state_piece.h"

int pw_piece_last_cook(const struct pw_piece *piece)
{
  return piece->stage[PW_LOAD_FINISH].load != PW_NONE ? PW_LOAD_FINISH : PW_LOAD_SMOKE;
}

void pw_piece_shift_after(struct pw_piece *piece, int stage, int by_min)
{
  for (int g = stage + 1; g < 4 && by_min != 0; g++)
    if (piece->stage[g].load != PW_NONE && !piece->stage[g].is_start_logged) {
      piece->stage[g].start_min += by_min;
      if (!piece->stage[g].is_end_logged && g != PW_LOAD_HOLD)
        piece->stage[g].end_min += by_min;
    }
}

void pw_piece_start(struct pw_piece *piece, int stage, int at_min)
{
  struct pw_piece_stage *s = &piece->stage[stage];
  int by_min = at_min - s->start_min;
  s->start_min = at_min;
  s->is_start_logged = true;
  if (!s->is_end_logged) {
    s->end_min += by_min;
    pw_piece_shift_after(piece, stage, by_min);
  }
}

void pw_piece_end(struct pw_piece *piece, int stage, int at_min)
{
  struct pw_piece_stage *s = &piece->stage[stage];
  int by_min = at_min - s->end_min;
  s->end_min = at_min;
  s->is_end_logged = true;
  pw_piece_shift_after(piece, stage, by_min);
}
