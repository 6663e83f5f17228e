/* fire_ready.c - how long this job's fires take from the match to food [F1]: what the cook told for a mild day, longer in the cold, and
 * never less than its charcoal needs to turn grey.  And the time grid of an event that names none. */
#include "read/resolve.h"

#include <math.h>

#define MILD_C    20.0        /* the day "ready" is told for, as splits an hour are: common practice, no source */
#define LEAST_K   30.0        /* a fire that is hardly warmer than the day: keeps the factor finite */
#define LARGE_POW (1.0 / 3.0) /* a heap catches from the middle outwards, its size grows as the cube root: no source */
#define SMALL_POW 0.86        /* half a chimney 10 to 12 min, a full one 18 to 22: a cook's table, text seen */
enum { STEP_MIN = 5 };        /* what a clock by a fire is read to */

/** Heat into steel and air is in proportion to the lead over the day; fires are mostly lit before it warms up. */
static double cold_factor(const struct pw_pit *pit, double low_c)
{
  double pit_c = 0.5 * (pit->settings[0].hot_c + pit->settings[0].cool_c);
  return fmax((pit_c - low_c) / fmax(pit_c - MILD_C, LEAST_K), 1.0);
}

/** Minutes until so much of a charcoal is grey on a mild day; 0 when its chimney is not known. */
static double grey_min(const struct pw_fuel *fuel, double kg)
{
  if (fuel->chimney_min <= 0 || kg <= 0.0)
    return 0.0;
  double size = kg / fuel->chimney_kg;
  return fuel->chimney_min * pow(size, size > 1.0 ? LARGE_POW : SMALL_POW);
}

void pw_event_fires(struct pw_event *ev)
{
  for (int p = 0; p < ev->n_pits; p++) {
    struct pw_pit *pit = &ev->pits[p];
    double told_min = pit->ready_min, factor = cold_factor(pit, ev->weather.low_c);
    if (pit->charcoal != PW_NONE)
      told_min = fmax(told_min, grey_min(&ev->fuels[pit->charcoal], pit->start_charcoal_kg));
    int minutes = (int)ceil(told_min * factor - 1e-9);
    if (minutes > pit->ready_min)
      pit->ready_min = (minutes + STEP_MIN - 1) / STEP_MIN * STEP_MIN;
  }
}

void pw_event_grid(struct pw_event *ev)
{
  enum {
    SHORT_MIN = 15,
    USUAL_MIN = 30,
    LONG_MIN = 60
  }; /* what lies ten minutes is not given half an hour of a grate */
  for (int c = 0; c < ev->n_cuts && ev->slot_min == 0; c++)
    if (ev->cuts[c].smoke.is_over_coals && ev->cuts[c].smoke.ref_min < LONG_MIN)
      ev->slot_min = SHORT_MIN;
  if (ev->slot_min == 0)
    ev->slot_min = USUAL_MIN;
}
