/* grid_use.c - how full pits, ovens and boxes are over time, as a table and lines drawn over it.
 * A pit counts the rectangles on its racks against the racks' area; an oven its shelf or pans; a box its pans,
 * those of hot sides included; what is warmed again counts as in the plan. */
#include "sheet/grid_pen.h"

#include "base/arena.h"

#include <math.h>

enum { STEP_MIN = 60, LOOK_MIN = 5, PLACES_MAX = 100, PLACES_LEAST = 7, CHART_ROWS = 17, TIME_PX = 90, PLACE_PX = 85 };

/** Something in a place for a while; places are the pits, then the ovens and boxes. */
struct stay {
  int place, from_at_min, to_at_min;
  double frac; /**< of the place, 0..1 */
};

struct stays {
  struct stay *list;
  int n;
};

static double rack_area_m2(const struct pw_pit *pit)
{
  double sum = 0;
  for (int r = 0; r < pit->n_racks; r++) {
    double box = pit->racks[r].length_m * pit->racks[r].depth_m;
    sum += pit->racks[r].outline == PW_DISC ? box * 0.78539816339744831 : box; /* pi / 4: a disc in its square */
  }
  return sum;
}

/** `amount` of what an oven or box holds; nothing where it waits in none. */
static void finisher_stay(const struct pw_event *ev, struct stays *s, int finisher, int from_at_min, int to_at_min,
                          double amount)
{
  if (finisher == PW_NONE)
    return;
  double capacity = ev->finishers[finisher].capacity;
  s->list[s->n++] = (struct stay){ev->n_pits + finisher, from_at_min, to_at_min, capacity > 0 ? amount / capacity : 0};
}

static void load_stay(const struct pw_plan *plan, struct stays *s, const struct pw_load *l)
{
  const struct pw_event *ev = plan->event;
  const struct pw_lot *lot = &plan->lots.lots[l->lot];
  if (l->zone == PW_NONE) {
    double each = ev->finishers[l->finisher].is_in_pans ? ev->cuts[lot->cut].pans_per_piece
                                                        : lot->wrapped_length_m * lot->wrapped_width_m;
    finisher_stay(ev, s, l->finisher, l->start_at_min, l->end_at_min, l->pieces * each);
    return;
  }
  int pit = plan->lots.zones[l->zone].pit;
  double taken = 0, area = rack_area_m2(&ev->pits[pit]);
  for (int k = 0; k < l->pieces && l->rects; k++)
    taken += l->rects[k].length_m * l->rects[k].depth_m;
  s->list[s->n++] = (struct stay){pit, l->start_at_min, l->end_at_min, area > 0 ? taken / area : 0};
}

/** Loads, then pans of hot sides, then what was cooked the day before and is warmed again. */
static struct stays stays_of(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  int most = plan->allocation.n_loads + plan->lots.n_side_pans + plan->lots.n_reheats;
  struct stays s = {.list = pw_arena_array(g->of->view->arena, (size_t)most + 1, sizeof *s.list)};
  g->of->view->failed |= !s.list;
  for (int i = 0; s.list && i < plan->allocation.n_loads; i++)
    load_stay(plan, &s, &plan->allocation.loads[i]);
  for (int i = 0; s.list && i < plan->lots.n_side_pans; i++) {
    const struct pw_side_pans *p = &plan->lots.side_pans[i];
    finisher_stay(plan->event, &s, p->finisher, p->from_at_min, p->to_at_min, p->pans);
  }
  for (int i = 0; s.list && i < plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &plan->lots.reheats[i];
    finisher_stay(plan->event, &s, r->finisher, r->from_at_min, r->out_at_min, r->capacity);
  }
  return s;
}

static double most_in_hour(const struct stays *s, int place, int from_at_min)
{
  double most = 0;
  for (int at = from_at_min; at < from_at_min + STEP_MIN; at += LOOK_MIN) {
    double sum = 0;
    for (int i = 0; i < s->n; i++)
      if (s->list[i].place == place && s->list[i].from_at_min <= at && at < s->list[i].to_at_min)
        sum += s->list[i].frac;
    most = fmax(most, sum);
  }
  return most;
}

/** Places that hold something at some time, pits first. */
static int places_find(const struct stays *s, int n_places, int *places)
{
  int n = 0;
  for (int p = 0; p < n_places && n < PLACES_MAX; p++)
    for (int i = 0; i < s->n; i++)
      if (s->list[i].place == p) {
        places[n++] = p;
        break;
      }
  return n;
}

void pw_grid_use(struct pw_grid *g)
{
  const struct pw_event *ev = g->of->ev;
  struct stays stays = stays_of(g);
  int places[PLACES_MAX];
  int n = places_find(&stays, ev->n_pits + ev->n_finishers, places),
      n_columns = 1 + (n < PLACES_LEAST ? PLACES_LEAST : n);
  double widths[1 + PLACES_MAX] = {TIME_PX};
  struct pw_grid_cell cells[1 + PLACES_MAX] = {SAY(HEAD, "Time")};
  for (int i = 1; i < n_columns; i++)
    widths[i] = PLACE_PX;
  for (int i = 0; i < n; i++)
    cells[1 + i] =
        SAY(HEAD, places[i] < ev->n_pits ? ev->pits[places[i]].name : ev->finishers[places[i] - ev->n_pits].name);
  pw_grid_open(g, "Use over time", widths, n_columns);
  g->is_px = true;
  pw_grid_title(g, TEXT("Use over time: %s", ev->name),
                "Rack area, oven shelves and box pans in use, the most in each hour.");
  for (int i = 0; i < CHART_ROWS; i++)
    pw_grid_gap(g);
  pw_grid_row(g, cells, 1 + n);
  g->chart = (struct pw_grid_chart){.row = g->n_rows - 1 - CHART_ROWS,
                                    .head = g->n_rows - 1,
                                    .n = n,
                                    .title = "Share in use",
                                    .about = "Lines: share of each pit, oven and box in use over time"};
  for (int at = g->of->view->first_at_min; at < g->of->view->last_at_min; at += STEP_MIN) {
    cells[0] = SAY(SMALL, pw_view_when(g->of->view, at));
    for (int i = 0; i < n; i++)
      cells[1 + i] = NUM(SMALL_PERCENT, most_in_hour(&stays, places[i], at));
    pw_grid_row(g, cells, 1 + n);
  }
  g->chart.last = g->n_rows - 1;
}
