/* on_time.c - margins by blame [R3].  In: what the draws blame.  Out: margins, one slot wider where it helps most.
 * A piece that took longer than its margin is aimed earlier; a piece that was still where another should have gone leaves its spot
 * empty for longer, unless it was late beyond that too. */
#include "plan/chance/on_time.h"

#include "plan/chance/chance.h"

#include <math.h>

#define NOISE_ERRORS 2.0 /* standard errors that a chance may be off without anybody to blame */
#define MOST_FRAC    0.6 /* of the most blamed: whoever has so much of it is widened in the same round; chosen by trial */

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

bool pw_on_time_is_short(const struct pw_event *ev, const struct pw_chance *chance, int service)
{
  const struct pw_service_chance *c = chance->services ? &chance->services[service] : NULL;
  return c && chance->n_draws > 0 &&
         pw_on_time_target(ev, service) - c->on_time_frac > NOISE_ERRORS * c->standard_error_frac + 1e-9;
}

bool pw_on_time_is_reached(const struct pw_event *ev, const struct pw_chance *chance)
{
  return pw_on_time_lack(ev, chance) <= 0;
}

/* How often lot c is to blame for a service below its target. */
static int blame_of(const struct pw_event *ev, const struct pw_lots *lots, const struct pw_chance *chance, int c,
                    int kind)
{
  int n = 0;
  for (int s = 0; s < ev->n_services; s++)
    if (chance->services[s].on_time_frac < pw_on_time_target(ev, s))
      n += chance->blames[pw_blame_at(lots->n_lots, s, c, (enum pw_blame_kind)kind)];
  return n;
}

/* Minutes after which hardly a piece of a cut still lies where it was to leave: five standard deviations of both its stages; with three,
 * two jobs on one pit came out 7 in 100 dearer, for they had to be parted by another way. */
static double longest_late_min(const struct pw_cut *cut)
{
  double smoke = cut->smoke.is_used ? cut->smoke.spread_frac * cut->smoke.ref_min : 0,
         finish = cut->finish.is_used ? cut->finish.spread_frac * cut->finish.ref_min : 0;
  return 5 * hypot(smoke, finish);
}

/* A spot need not stay empty for longer than anybody is late. */
static bool is_of_use(const struct pw_event *ev, const struct pw_lot *lot, int kind)
{
  return kind == PW_BLAME_OWN || lot->turn_min < longest_late_min(&ev->cuts[lot->cut]);
}

void pw_on_time_freeze_idle(unsigned char *frozen, const struct pw_event *ev, const struct pw_lots *before,
                            const struct pw_lots *now)
{
  for (int c = 0; c < now->n_lots && c < before->n_lots; c++) {
    const struct pw_lot *a = &before->lots[c], *b = &now->lots[c];
    size_t k = (size_t)b->service * (size_t)ev->n_cuts + (size_t)b->cut;
    if (b->more_min > a->more_min && b->done_last_min == a->done_last_min && b->carve_min == a->carve_min)
      frozen[k] |= 1U << PW_BLAME_OWN;
  }
}

int pw_on_time_widen(struct pw_margins *margins, const unsigned char *frozen, bool is_one, const struct pw_event *ev,
                     const struct pw_lots *lots, const struct pw_chance *chance)
{
  int n = 0, most = 0;
  for (int turn = 0; turn < 2; turn++)
    for (int c = 0; c < lots->n_lots; c++)
      for (int kind = PW_BLAME_OWN; kind <= PW_BLAME_SPOT; kind++) {
        const struct pw_lot *lot = &lots->lots[c];
        size_t k = (size_t)lot->service * (size_t)ev->n_cuts + (size_t)lot->cut;
        int blame = blame_of(ev, lots, chance, c, kind);
        if (blame == 0 || (frozen[k] & (1u << kind)) || !is_of_use(ev, lot, kind))
          continue;
        if (turn == 0) {
          most = blame > most ? blame : most;
          continue;
        }
        int *margin = kind == PW_BLAME_OWN ? &margins->early_min[k] : &margins->turn_min[k];
        int now = kind == PW_BLAME_OWN ? lot->more_min : lot->turn_min;
        if (blame >= (is_one ? 1 : MOST_FRAC) * most && *margin <= now) { /* once for all waves */
          *margin = now + lots->slot_min;
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
