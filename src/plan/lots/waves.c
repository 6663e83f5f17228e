/* waves.c - a service's guests over its length -> waves of whole pieces, each with its own first and last plate [D4].
 * In: event, pieces of a cut.  Out: struct pw_waves.  Stretches are equal and begin on the planning grid; their pieces are rounded
 * so that no plate waits for the next wave: up to the end of each, at least the share of the pieces that the guests have come for. */
#include "plan/lots/waves.h"

#include <math.h>

static int max_int(int a, int b) { return a > b ? a : b; }

double pw_come_frac(const struct pw_service *service, int minute)
{
  double frac = 0, step = service->n_arrive > 0 ? (double)service->length_min / service->n_arrive : service->length_min;
  if (minute >= service->length_min)
    return 1;
  if (service->n_arrive == 0)
    return (double)minute / service->length_min;
  for (int i = 0; i < service->n_arrive; i++)
    frac += service->arrive_frac[i] * fmin(1, fmax(0, (minute - i * step) / step));
  return frac;
}

int pw_last_plate_min(const struct pw_service *service)
{
  int last = service->n_arrive;
  while (last > 1 && !(service->arrive_frac[last - 1] > 0))
    last--;
  return service->at_min + (last == service->n_arrive
                                ? service->length_min
                                : (int)ceil((double)service->length_min * last / service->n_arrive - 1e-9));
}

int pw_wave_whole_min(const struct pw_wave *wave, const struct pw_cut *cut)
{
  return cut->pan_hold_min > 0 ? max_int(0, wave->until_at_min - wave->from_at_min - cut->pan_hold_min) : 0;
}

/* Begins of n equal stretches on the grid, and the pieces of each; false when one would have no time or no piece. */
static bool split(struct pw_waves *out, const struct pw_event *ev, const struct pw_service *s, int n, int pieces)
{
  int span = pw_last_plate_min(s) - s->at_min, dealt = 0;
  out->n = n;
  for (int k = 0; k < n; k++) {
    struct pw_wave *w = &out->list[k];
    int end = k == n - 1 ? span : (int)floor((double)span * (k + 1) / n / ev->slot_min + 0.5) * ev->slot_min;
    w->from_at_min = k == 0 ? s->at_min : out->list[k - 1].until_at_min;
    w->until_at_min = s->at_min + end;
    int upto = k == n - 1 ? pieces : (int)ceil(pieces * pw_come_frac(s, end) - 1e-9);
    w->pieces = upto - dealt;
    dealt = upto;
    if (w->pieces < 1 || (n > 1 && w->until_at_min <= w->from_at_min))
      return false;
  }
  return true;
}

/* Longest that a wave's last piece is whole after its first plate. */
static int longest_whole(const struct pw_waves *waves, const struct pw_cut *cut)
{
  int longest = 0;
  for (int k = 0; k < waves->n; k++)
    longest = max_int(longest, pw_wave_whole_min(&waves->list[k], cut));
  return longest;
}

int pw_waves_asked(const struct pw_event *ev, int service, int cut)
{
  const struct pw_service *s = &ev->services[service];
  for (int m = 0; m < s->n_menu; m++)
    if (ev->dishes[s->menu[m].dish].cut == cut && s->menu[m].n_waves > 0)
      return s->menu[m].n_waves;
  return s->n_waves;
}

void pw_waves_make(struct pw_waves *out, const struct pw_event *ev, int service, int cut, int pieces, int early_min,
                   int n_least, bool is_day_before)
{
  const struct pw_service *s = &ev->services[service];
  const struct pw_cut *c = &ev->cuts[cut];
  int n_asked = is_day_before ? 1 : pw_waves_asked(ev, service, cut), best = -1;
  *out = (struct pw_waves){.n = 1, .list = {{s->at_min, pw_last_plate_min(s), pieces}}};
  for (int n = 1; n <= PW_WAVES_MAX && n <= pieces && (n_asked == 0 || n <= n_asked); n++) {
    struct pw_waves tried = {.n = 0};
    if (!split(&tried, ev, s, n, pieces))
      continue;
    int whole = longest_whole(&tried, c);
    /* asked, or wanted by the grates: the last that can be split so */
    if (n_asked > 0 || n <= n_least || best < 0 || whole < best) {
      best = whole;
      *out = tried;
    }
    if (n_asked == 0 && n >= n_least && (whole == 0 || whole + early_min <= c->hold_max_min))
      return;
  }
}
