/* cuttings.c - pieces of a wave cut as they are needed [D4]: which plates each feeds, and when knives may begin.
 * In: event, a lot.  Out: struct pw_cutting by time.  The k-th of n pieces feeds the guests from the share (k-1)/n of its wave to k/n. */
#include "plan/lots/cuttings.h"

#include "plan/lots/waves.h"

#include <limits.h>
#include <math.h>

enum {
  KNIVES_MIN = 20
}; /* longest at one go, many hands share it; as SHARE_MIN of task_moves.c; common practice, no source */

/** When the guests of the first `share` of the wave have come. */
static int plate_min(const struct pw_service *service, const struct pw_lot *lot, double share)
{
  double from = pw_come_frac(service, lot->by_at_min - service->at_min),
         to = pw_come_frac(service, lot->until_at_min - service->at_min);
  int lo = lot->by_at_min, hi = lot->until_at_min;
  while (lo < hi) { /* guests only come: the share rises */
    int mid = lo + (hi - lo) / 2;
    if (pw_come_frac(service, mid - service->at_min) + 1e-9 >= from + share * (to - from))
      hi = mid;
    else
      lo = mid + 1;
  }
  return lo;
}

/** On the dial, where that is soon enough. */
static int round_min(int sooner, int latest)
{
  enum { DIAL_MIN = 5 };
  int up = sooner + (DIAL_MIN - (sooner % DIAL_MIN + DIAL_MIN) % DIAL_MIN) % DIAL_MIN;
  return up <= latest ? up : sooner;
}

static int knives_min(const struct pw_event *ev, const struct pw_lot *lot, int pieces)
{
  double minutes = ceil(pieces * ev->cuts[lot->cut].carve_min);
  return minutes < KNIVES_MIN ? (int)minutes : KNIVES_MIN;
}

int pw_cuttings(struct pw_cutting out[PW_CUTTINGS_MAX], const struct pw_event *ev, const struct pw_lot *lot, int pieces)
{
  const struct pw_service *service = &ev->services[lot->service];
  const int keeps_min = ev->cuts[lot->cut].pan_hold_min;
  bool is_at_once = service->style == PW_PLATED || service->style == PW_BOXED || service->style == PW_DROP_OFF;
  int least = (pieces + PW_CUTTINGS_MAX - 1) / PW_CUTTINGS_MAX, n = 0, dealt = 0;
  while (dealt < pieces && n < PW_CUTTINGS_MAX) {
    struct pw_cutting *c = &out[n++];
    int left = pieces - dealt, k = is_at_once || n > 1 ? left : (pieces + 1) / 2; /* cut meat cools and dries */
    int first = dealt == 0 ? lot->by_at_min : plate_min(service, lot, (double)dealt / pieces), last, sooner;
    for (;; k--) {
      last = dealt + k == pieces ? lot->until_at_min : plate_min(service, lot, (double)(dealt + k) / pieces);
      sooner = keeps_min > 0 ? last - keeps_min : INT_MIN;
      if (k <= least || keeps_min == 0 || sooner + knives_min(ev, lot, k) <= first)
        break;
    }
    *c = (struct pw_cutting){.pieces = k,
                             .first_min = first,
                             .last_min = last,
                             .no_sooner_at_min =
                                 keeps_min > 0 ? round_min(sooner, first - knives_min(ev, lot, k)) : sooner,
                             .is_in_parts = keeps_min > 0 && sooner + knives_min(ev, lot, k) > first};
    dealt += k;
  }
  return n;
}

int pw_box_until_min(const struct pw_event *ev, const struct pw_lot *lot)
{
  struct pw_cutting goes[PW_CUTTINGS_MAX];
  int n = lot->is_day_before ? 0 : pw_cuttings(goes, ev, lot, lot->pieces), until = lot->whole_until_at_min;
  if (n > 0) {
    int last = goes[n - 1].is_in_parts ? lot->until_at_min : goes[n - 1].first_min;
    until = last > until ? last : until;
  }
  return until;
}
