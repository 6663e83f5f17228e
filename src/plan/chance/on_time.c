/* on_time.c - margins by blame [R3].  In: what the draws blame.  Out: margins, one slot wider where it helps most.
 * A piece that took longer than its margin is aimed earlier; a piece that was still where another should have gone leaves its spot
 * empty for longer, unless it was late beyond that too. */
#include "plan/chance/on_time.h"

#include "plan/chance/chance.h"

#include <math.h>

#define MOST_FRAC 0.6 /* of the most blamed: whoever has so much of it is widened in the same round; chosen by trial */

double pw_on_time_target(const struct pw_event *ev, int service)
{
  double own = ev->services[service].on_time_frac;
  return own > 0 ? own : ev->terms.on_time_frac;
}

bool pw_on_time_is_asked(const struct pw_event *ev)
{
  for (int s = 0; s < ev->n_services; s++)
    if (pw_on_time_target(ev, s) > 0)
      return true;
  return false;
}

double pw_on_time_lack(const struct pw_event *ev, const struct pw_chance *chance)
{
  double lack = 0;
  for (int s = 0; s < ev->n_services; s++)
    lack += fmax(0, pw_on_time_target(ev, s) - chance->services[s].on_time_frac);
  return lack;
}

bool pw_on_time_is_reached(const struct pw_event *ev, const struct pw_chance *chance)
{
  return pw_on_time_lack(ev, chance) <= 0;
}

/* Is a wave before lot c of the same service and cut blamed as much?  Their margin is widened once. */
static bool is_widened(const struct pw_lots *lots, const struct pw_chance *chance, int c, int kind, int most)
{
  for (int b = 0; b < c; b++)
    if (lots->lots[b].service == lots->lots[c].service && lots->lots[b].cut == lots->lots[c].cut &&
        chance->blames[b * 2 + kind] > 0 && chance->blames[b * 2 + kind] >= MOST_FRAC * most)
      return true;
  return false;
}

int pw_on_time_widen(struct pw_margins *margins, const unsigned char *frozen, const struct pw_event *ev,
                     const struct pw_lots *lots, const struct pw_chance *chance)
{
  int n = 0, most = 0;
  for (int turn = 0; turn < 2; turn++)
    for (int c = 0; c < lots->n_lots; c++)
      for (int kind = PW_BLAME_OWN; kind <= PW_BLAME_SPOT; kind++) {
        const struct pw_lot *lot = &lots->lots[c];
        size_t k = (size_t)lot->service * (size_t)ev->n_cuts + (size_t)lot->cut;
        int blame = chance->blames[c * 2 + kind];
        if (blame == 0 || (frozen[k] & (1u << kind)))
          continue;
        if (turn == 0)
          most = blame > most ? blame : most;
        else if (blame >= MOST_FRAC * most && !is_widened(lots, chance, c, kind, most)) {
          if (kind == PW_BLAME_OWN)
            margins->early_min[k] += lots->slot_min;
          else
            margins->turn_min[k] += lots->slot_min;
          n++;
        }
      }
  return n;
}

int pw_on_time_times(int margin_min, double times, int slot_min)
{
  double slots = margin_min * times / slot_min;
  return (int)(times < 1 ? floor(slots + 1e-9) : ceil(slots - 1e-9)) * slot_min;
}
