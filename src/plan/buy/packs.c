/* packs.c - integer cover of one need by packs [P3].  Offers are tried in the order of price per content,
 * the cheapest first, from the largest count down; what is left, bought at the next offer's price per
 * content, bounds the cost from below, and that bound only rises as the count falls. */
#include "plan/buy/packs.h"

#include <limits.h>
#include <math.h>
#include <stdbool.h>
#include <string.h>

struct cover {
  int n;
  int order[PW_PACKS_MAX];
  double content[PW_PACKS_MAX], price[PW_PACKS_MAX]; /* in that order */
  double slack;
  int count[PW_PACKS_MAX], best_count[PW_PACKS_MAX];
  double best;
};

static int packs_for(double need, double content, double slack)
{
  if (need <= slack)
    return 0;
  double n = ceil((need - slack) / content);
  return n < INT_MAX ? (int)n : INT_MAX;
}

static void descend(struct cover *c, int level, double need, double cost)
{
  int most = packs_for(need, c->content[level], c->slack);
  if (level == c->n - 1 || most == 0) {
    cost += most * c->price[level];
    if (cost < c->best - 1e-9 * (1 + fabs(c->best))) {
      c->best = cost;
      c->count[level] = most;
      for (int i = level + 1; i < c->n; i++)
        c->count[i] = 0;
      memcpy(c->best_count, c->count, sizeof c->count);
    }
    return;
  }
  double next_unit = c->price[level + 1] / c->content[level + 1];
  for (int k = most; k >= 0; k--) {
    double left = need - k * c->content[level];
    double here = cost + k * c->price[level];
    double bound = here + (left > c->slack ? left - c->slack : 0) * next_unit;
    if (k < most && bound >= c->best - 1e-9 * (1 + fabs(c->best)))
      break;
    c->count[level] = k;
    descend(c, level + 1, left, here);
  }
}

double pw_packs_cover(const double *content, const double *price, int n, double need, int *packs)
{
  struct cover c = {.n = n, .best = INFINITY};
  for (int i = 0; i < n; i++) { /* insertion sort: by price per content, then larger first, then as given */
    int at = i;
    for (; at > 0; at--) {
      int o = c.order[at - 1];
      double mine = price[i] * content[o], other = price[o] * content[i];
      if (mine > other || (mine >= other && content[i] <= content[o]))
        break;
      c.order[at] = o;
    }
    c.order[at] = i;
  }
  double smallest = INFINITY;
  for (int i = 0; i < n; i++) {
    c.content[i] = content[c.order[i]];
    c.price[i] = price[c.order[i]];
    smallest = fmin(smallest, c.content[i]);
  }
  c.slack = 1e-9 * (smallest + fabs(need));
  c.best = 1e300;
  descend(&c, 0, need, 0);
  for (int i = 0; i < n; i++)
    packs[c.order[i]] = c.best_count[i];
  return c.best;
}

double pw_packs_unopened(const double *content, const int *packs, int n, double need, int *unopened)
{
  double left = -need, kept = 0;
  bool is_done[PW_PACKS_MAX] = {false};
  for (int o = 0; o < n; o++)
    left += packs[o] * content[o];
  for (int round = 0; round < n; round++) {
    int largest = -1;
    for (int o = 0; o < n; o++)
      if (!is_done[o] && (largest < 0 || content[o] > content[largest]))
        largest = o;
    if (largest < 0)
      break;
    is_done[largest] = true;
    double fits = floor((left - kept) / content[largest] + 1e-9);
    unopened[largest] = (int)fmin(packs[largest], fmax(0, fits));
    kept += unopened[largest] * content[largest];
  }
  return kept;
}

bool pw_is_pit_fuel(const struct pw_event *ev, int item)
{
  for (int f = 0; f < ev->n_fuels && ev->items[item].category == PW_CAT_FUEL; f++)
    if (ev->fuels[f].item == item)
      return true;
  return false;
}
