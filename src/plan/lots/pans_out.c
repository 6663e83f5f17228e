/* pans_out.c - pans of a dish over the length of its service [D4].  In: event, lots, pans in all.  Out: minutes and pans.  A pan stands
 * at the line for about as long as a quarter of the guests needs to come; common practice, no source. */
#include "plan/lots/pans_out.h"

#include "heat/food_code.h"
#include "plan/demand/portions.h"
#include "plan/lots/waves.h"

#include <limits.h>
#include <math.h>

enum { QUARTERS = 4, STEP_MIN = 5 };

int pw_pans_discard_min(int at_min) { return at_min + pw_food_code_out_hot_min(); }

/* Spooned at the line out of what it was cooked in, and nothing else on the menu comes out of the same pans. */
static bool is_cooked_in_pans(const struct pw_event *ev, const struct pw_demand_line *line)
{
  const struct pw_dish *dish = &ev->dishes[line->dish];
  const struct pw_service *service = &ev->services[line->service];
  if (dish->cut == PW_NONE || dish->form != PW_FORM_SPOONED || fabs(ev->cuts[dish->cut].pans_per_piece - 1) > 1e-9)
    return false;
  for (int m = 0; m < service->n_menu; m++)
    if (service->menu[m].dish != line->dish && ev->dishes[service->menu[m].dish].cut == dish->cut)
      return false;
  return true;
}

int pw_pans_of(const struct pw_event *ev, const struct pw_lots *lots, const struct pw_demand_line *line)
{
  const struct pw_dish *dish = &ev->dishes[line->dish];
  int pieces = 0;
  if (!(dish->pan_portions > 0))
    return 0;
  for (int l = 0; is_cooked_in_pans(ev, line) && l < lots->n_lots; l++)
    pieces += lots->lots[l].service == line->service && lots->lots[l].cut == dish->cut ? lots->lots[l].pieces : 0;
  return pieces > 0 ? pieces : (int)ceil(pw_portions_made(line, dish) / dish->pan_portions - 1e-9);
}

/* Adds pans, together with those of the same minute. */
static int add(struct pw_pans_out *out, int n, int at_min, int pans)
{
  if (pans <= 0)
    return n;
  if (n > 0 && out[n - 1].at_min == at_min) {
    out[n - 1].pans += pans;
    return n;
  }
  out[n] = (struct pw_pans_out){at_min, pans};
  return n + 1;
}

/* Pans that the first `part` of `whole` asks for. */
static int upto(int pans, int part, int whole) { return (int)ceil((double)pans * part / whole - 1e-9); }

/* The minute at which the q-th quarter of the guests begins to come. */
static int quarter_min(const struct pw_service *service, int q)
{
  int minute = 0;
  while (q > 0 && service->at_min + minute + STEP_MIN < pw_last_plate_min(service) &&
         pw_come_frac(service, minute + STEP_MIN) <= (double)q / QUARTERS + 1e-9)
    minute += STEP_MIN;
  return service->at_min + minute;
}

/* When a wave of that dish is ready, not before the guests; waves of a cut are lots of their own. */
static int ready_min(const struct pw_lot *lot, const struct pw_service *service)
{
  return lot->by_at_min > service->at_min ? lot->by_at_min : service->at_min;
}

static bool is_wave_of(const struct pw_lot *lot, const struct pw_event *ev, const struct pw_demand_line *line)
{
  int cut = ev->dishes[line->dish].cut;
  return cut != PW_NONE && lot->service == line->service && lot->cut == cut && lot->n_waves > 1;
}

int pw_pans_out(struct pw_pans_out out[PW_PANS_OUT_MAX], const struct pw_event *ev, const struct pw_lots *lots,
                const struct pw_demand_line *line, int pans)
{
  const struct pw_service *service = &ev->services[line->service];
  int n = 0, dealt = 0;
  for (int at = service->at_min, next = at; n < PW_PANS_OUT_MAX; at = next) {
    int come = 0, pieces = 0, ready = 0;
    next = INT_MAX;
    for (int q = 0; q < QUARTERS; q++) {
      int minute = quarter_min(service, q);
      come += minute <= at;
      next = minute > at && minute < next ? minute : next;
    }
    for (int l = 0; l < lots->n_lots; l++) {
      const struct pw_lot *lot = &lots->lots[l];
      if (!is_wave_of(lot, ev, line))
        continue;
      int minute = ready_min(lot, service);
      pieces += lot->pieces;
      ready += minute <= at ? lot->pieces : 0;
      next = minute > at && minute < next ? minute : next;
    }
    int wanted = upto(pans, come, QUARTERS), there = pieces > 0 ? upto(pans, ready, pieces) : pans,
        sum = wanted < there ? wanted : there;
    n = add(out, n, at, sum - dealt);
    dealt = sum > dealt ? sum : dealt;
    if (next == INT_MAX)
      break;
  }
  return n;
}
