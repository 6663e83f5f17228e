/* choice.c - joint choice among the meats of a buffet [D2], second helpings, no-shows [D3].
 *
 * A meat eater takes K kinds (K = 1, 2, 3 with given chances; no more than there are), drawn one after the other by
 * their take rates, and splits the total T (mean, spread) evenly: T / K of each.  Hence for kinds i, j
 *   P(i) = sum P(S),  E x_i = sum P(S) T / K,  E x_i x_j = sum P(S) (T^2 + sd^2) / K^2   over the draws S that hold them.
 * Shares add up by construction: the kinds together are T whatever is drawn.  A dish sold by count keeps its portion.
 * Second helpings: the same again with chance h, so means x (1 + h), squares x (1 + 3 h), products x (1 + h)^2.
 * No-shows thin everything: all of it x (1 - v), so dishes go up and down together. */
#include "plan/demand/choice.h"

#include "base/arena.h"
#include "base/diag.h"
#include "plan/demand/demand.h"

enum { DRAWS = 3 };

struct kinds {
  int n; /* meats that choose jointly */
  int line[PW_CHOICE_KINDS_MAX];
  double weight[PW_CHOICE_KINDS_MAX]; /* take rates */
  double units[PW_CHOICE_KINDS_MAX];  /* by count: portion; by weight 0 */
  const struct pw_choice *choice;
  struct pw_law *laws;
  double *joint;
  int n_menu;
};

/* What one who drew `count` kinds takes of kind k: mean; the square's mean for the product of two. */
static double amount(const struct kinds *k, int kind, int count)
{
  return k->units[kind] > 0 ? k->units[kind] : k->choice->total_kg / count;
}

static double product(const struct kinds *k, int a, int b, int count)
{
  double square = amount(k, a, count) * amount(k, b, count);
  if (k->units[a] > 0 || k->units[b] > 0)
    return square;
  return square + k->choice->total_sd_kg * k->choice->total_sd_kg / (count * count);
}

/* A draw is complete: adds its chance to the moments. */
static void draw_count(struct kinds *k, const int *drawn, int count, double chance)
{
  for (int a = 0; a < count; a++) {
    int line = k->line[drawn[a]];
    k->laws[line].take_frac += chance;
    k->laws[line].mean += chance * amount(k, drawn[a], count);
    for (int b = 0; b < count; b++)
      k->joint[line * k->n_menu + k->line[drawn[b]]] += chance * product(k, drawn[a], drawn[b], count);
  }
}

/* All ordered draws of `count` kinds without putting back. */
static void draw(struct kinds *k, int *drawn, int n_drawn, int count, double chance, double weight_left)
{
  if (n_drawn == count) {
    draw_count(k, drawn, count, chance);
    return;
  }
  for (int i = 0; i < k->n; i++) {
    bool is_drawn = !(k->weight[i] > 0);
    for (int d = 0; d < n_drawn; d++)
      is_drawn = is_drawn || drawn[d] == i;
    if (is_drawn)
      continue;
    drawn[n_drawn] = i;
    draw(k, drawn, n_drawn + 1, count, chance * k->weight[i] / weight_left, weight_left - k->weight[i]);
  }
}

static void kinds_make(struct kinds *k, const struct pw_service *service)
{
  double all = 0;
  int n_wanted = 0, drawn[DRAWS];
  for (int i = 0; i < k->n; i++) {
    int line = k->line[i];
    all += k->weight[i];
    n_wanted += k->weight[i] > 0;
    k->laws[line] = (struct pw_law){.has_spread = k->units[i] <= 0};
    for (int j = 0; j < k->n; j++)
      k->joint[line * service->n_menu + k->line[j]] = 0;
  }
  for (int count = 1; count <= DRAWS && n_wanted > 0; count++)
    draw(k, drawn, 0, count < n_wanted ? count : n_wanted, k->choice->kinds_frac[count - 1], all);
}

pw_status pw_choice_laws(struct pw_law *laws, double *joint, const struct pw_event *ev, int service_i, int class,
                         struct pw_ctx *ctx)
{
  static const struct pw_choice each_by_itself;
  const struct pw_service *service = &ev->services[service_i];
  const struct pw_choice *choice = ev->choices ? &ev->choices[service_i] : &each_by_itself;
  int n = service->n_menu;
  struct kinds k = {.choice = choice, .laws = laws, .joint = joint, .n_menu = n};
  for (int i = 0; i < n; i++) {
    const struct pw_menu_line *menu = &service->menu[i];
    bool is_by_count = ev->dishes[menu->dish].is_by_count;
    double p = menu->take_of_frac && class != PW_NONE ? menu->take_of_frac[class] : menu->take_frac,
           mu = is_by_count ? menu->portion_units : menu->portion_kg;
    double sigma = is_by_count ? 0 : menu->portion_sd_kg;
    laws[i] = (struct pw_law){.take_frac = p,
                              .portion = mu,
                              .mean = p * mu,
                              .square = p * (sigma * sigma + mu * mu),
                              .has_spread = sigma > 0};
    if (!(choice->total_kg > 0) || !pw_demand_is_meat(ev, menu->dish))
      continue;
    if (k.n == PW_CHOICE_KINDS_MAX) {
      pw_diag_add(ctx, PW_ERROR, "too-many-kinds", ev->file, 0, 0, "more than %d meats to choose among in service %s",
                  PW_CHOICE_KINDS_MAX, service->id);
      return PW_ERR_INPUT;
    }
    k.line[k.n] = i;
    k.weight[k.n] = p;
    k.units[k.n++] = is_by_count ? mu : 0;
  }
  for (int i = 0; i < n; i++)
    for (int j = 0; j < n; j++)
      joint[i * n + j] = i == j ? laws[i].square : laws[i].mean * laws[j].mean;
  if (k.n > 0) {
    kinds_make(&k, service);
    for (int a = 0; a < k.n; a++) {
      struct pw_law *law = &laws[k.line[a]];
      law->square = joint[k.line[a] * n + k.line[a]];
      law->portion = law->take_frac > 0 ? law->mean / law->take_frac : 0;
    }
    for (int i = 0; i < n; i++) /* the other dishes are taken independently of the meats */
      for (int j = 0; j < n; j++)
        if (!pw_demand_is_meat(ev, service->menu[i].dish) || !pw_demand_is_meat(ev, service->menu[j].dish))
          joint[i * n + j] = i == j ? laws[i].square : laws[i].mean * laws[j].mean;
  }
  double h = choice->seconds_frac, come = 1 - choice->no_show_frac;
  for (int i = 0; i < n; i++)
    for (int j = 0; j < n; j++)
      joint[i * n + j] *= come * (i == j ? 1 + 3 * h : (1 + h) * (1 + h));
  for (int i = 0; i < n; i++) {
    laws[i].take_frac *= come;
    laws[i].again_frac = h;
    laws[i].mean *= come * (1 + h);
    laws[i].square = joint[i * n + i];
  }
  return PW_OK;
}
