/* plan_check_demand.c - what is wanted and how many pieces serve it, worked out again from the guests [J12].
 * In: classes of guests, services, demand, raw needs, lots.  Out: findings.  A guest of a class takes its share of what one of full
 * appetite takes: mean n a m, variance n a^2 (q - m^2), the need by the normal quantile or the exact one, whichever is more.
 * Numbers of an older plan that tells no laws are not asked for. */
#include "judge/plan_check_parts.h"

#include "base/arena.h"
#include "base/stats.h"

#include <math.h>
#include <string.h>

enum { HEADS_MOST = 100000 }; /* twice the largest event; keeps the judge's work bounded */
enum { PORTIONS_MANY = 30 };  /* so many and so sure: where the mean is surely covered but for its rounding */
static const double COVER_HIGH_FRAC = 0.9;
#define WHOLE 1e-7 /* a quotient this little above a whole number is that number; decimals of a file are rounded */

bool pw_check_differs(double is, double should) { return fabs(is - should) > 1e-6 * fmax(fabs(should), 1e-3); }

static void expect(struct pw_judge *judge, const char *list, int i, const char *key, double is, double should)
{
  if (!isnan(is) && pw_check_differs(is, should))
    pw_judge_find(judge, "J12", "%s[%d].%s: is %.8g, what it follows from makes %.8g", list, i, key, is, should);
}

/* ---- what is wanted ------------------------------------------------------------------------------------------- */

/** Nobody has to book: share of those planned who come, triangular between least and most around 1. */
static void walk_up(const struct pw_seen_service *s, double *mean, double *variance)
{
  double a = s->walk_least_frac, b = s->walk_most_frac;
  bool has_range = b > a;
  *mean = has_range ? (a + 1 + b) / 3 : 1;
  *variance = has_range ? (a * a + 1 + b * b - a - b - a * b) / 18 : 0;
}

static bool eats(const struct pw_seen_plan *plan, int class, const struct pw_seen_demand *d)
{
  return (plan->classes[class].eats_meat || !d->is_meat) && plan->classes[class].appetite_frac > 0;
}

/** How one guest of a class takes it. */
static struct pw_seen_law law_of(const struct pw_seen_demand *d, int class)
{
  return d->of_class ? d->of_class[class] : (struct pw_seen_law){d->take_frac, d->portion, d->law_mean, d->law_square};
}

/** Where classes choose each in its own way, a guest of no class in particular is the mean of those who may take it, and each takes
 *  on the mean as often as it takes it times its portion. */
static void check_classes(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_demand *d = &plan->demand[i];
  const struct pw_seen_service *s = &plan->services[d->service];
  double n = 0, take = 0, mean = 0, square = 0;
  for (int c = 0; c < plan->n[PW_SEEN_CLASSES] && d->of_class; c++) {
    const struct pw_seen_law *law = &d->of_class[c];
    expect(judge, "demand", i, "guest.by_class.mean", law->mean, law->take_frac * law->portion * (1 + d->again_frac));
    double heads = eats(plan, c, d) ? s->of_class[c] : 0;
    if (!(heads > 0))
      expect(judge, "demand", i, "guest.by_class of who may not take it or is not there",
             law->take_frac + law->portion + law->square, 0);
    n += heads;
    take += heads * law->take_frac;
    mean += heads * law->mean;
    square += heads * law->square;
  }
  if (n > 0) {
    expect(judge, "demand", i, "guest.take_frac", d->take_frac, take / n);
    expect(judge, "demand", i, "guest.mean", d->law_mean, mean / n);
    expect(judge, "demand", i, "guest.square", d->law_square, square / n);
  }
}

/** One group of guests for each class that takes the dish; returns how many. */
static int groups_of(const struct pw_seen_plan *plan, const struct pw_seen_demand *d, struct pw_stats_group *groups)
{
  const struct pw_seen_service *s = &plan->services[d->service];
  int n = 0;
  for (int c = 0; c < plan->n[PW_SEEN_CLASSES]; c++)
    if (s->of_class[c] > 0 && eats(plan, c, d)) {
      struct pw_seen_law law = law_of(d, c);
      groups[n++] = (struct pw_stats_group){s->of_class[c], fmin(law.take_frac, 1),
                                            plan->classes[c].appetite_frac * law.portion, d->again_frac};
    }
  return n;
}

static pw_status check_line(struct pw_judge *judge, const struct pw_seen_plan *plan, int i,
                            struct pw_stats_group *groups)
{
  const struct pw_seen_demand *d = &plan->demand[i];
  const struct pw_seen_service *s = &plan->services[d->service];
  double mean = 0, variance = 0, come, come_var, heads = 0, taken = 0;
  walk_up(s, &come, &come_var);
  for (int c = 0; c < plan->n[PW_SEEN_CLASSES]; c++) {
    double n = s->of_class[c], a = plan->classes[c].appetite_frac;
    if (!eats(plan, c, d))
      continue;
    struct pw_seen_law law = law_of(d, c);
    heads += n;
    taken += n * law.take_frac;
    mean += n * a * law.mean;
    variance += n * a * a * (law.square - law.mean * law.mean);
  }
  variance = variance * come + mean * mean * come_var;
  mean *= come;
  check_classes(judge, plan, i);
  double sd = sqrt(fmax(0, variance)), extra = 1 + d->reserve_frac;
  expect(judge, "demand", i, "guest.mean", d->law_mean, d->take_frac * d->portion * (1 + d->again_frac));
  expect(judge, "demand", i, d->is_by_count ? "mean_units" : "mean_kg", d->is_by_count ? d->mean_units : d->mean_kg,
         mean);
  expect(judge, "demand", i, d->is_by_count ? "sd_units" : "sd_kg", d->is_by_count ? d->sd_units : d->sd_kg, sd);
  expect(judge, "demand", i, "the other mean, spread and need", d->is_by_count ? d->mean_kg + d->sd_kg + d->need_kg : 0,
         0);
  if (!d->is_by_count)
    expect(judge, "demand", i, "the mean, spread and need in units", d->mean_units + d->sd_units + d->need_units, 0);
  if (d->portions != PW_SEEN_NONE)
    expect(judge, "demand", i, "portions", d->portions, ceil(taken * come * (1 + d->again_frac) - WHOLE));
  double normal = sd > 0 && d->cover < 1 ? mean + sd * pw_stats_normal_quantile(d->cover) : mean;
  if (come_var > 0 ||
      heads >
          HEADS_MOST) { /* a mixture over those who come: the planner's strata are its own, so only what holds for any */
    double need = d->is_by_count ? d->need_units : d->need_kg;
    if (d->has_spread && need < normal * extra * (1 - 1e-6))
      pw_judge_find(judge, "J12", "demand[%d]: needs %.8g, the normal law asks for %.8g", i, need, normal * extra);
    /* at a cover well above the middle many portions are no fewer than those of a usual day */
    if (d->portions_cover != PW_SEEN_NONE && d->portions >= PORTIONS_MANY && d->cover >= COVER_HIGH_FRAC &&
        d->portions_cover < d->portions - 1)
      pw_judge_find(judge, "J12", "demand[%d].portions_cover: %d are fewer than the %d of a usual day", i,
                    d->portions_cover, d->portions);
    return PW_OK;
  }
  struct pw_stats_sum amount, portions;
  int n = groups_of(plan, d, groups);
  pw_status status = pw_stats_sum_make(&amount, groups, n, judge->ctx->arena);
  for (int g = 0; g < n; g++)
    groups[g].weight = 1;
  struct pw_stats_group one = {(int)heads, fmin(d->take_frac, 1), 1, d->again_frac};
  if (!status)
    status = d->of_class ? pw_stats_sum_make(&portions, groups, n, judge->ctx->arena)
                         : pw_stats_sum_make(&portions, &one, 1, judge->ctx->arena);
  if (status)
    return status;
  double exact = pw_stats_sum_quantile(&amount, d->cover);
  if (d->is_by_count)
    expect(judge, "demand", i, "need_units", d->need_units, fmax(0, ceil(exact * extra - WHOLE)));
  else
    expect(judge, "demand", i, "need_kg", d->need_kg, (d->has_spread ? fmax(normal, exact) : exact) * extra);
  if (d->portions_cover != PW_SEEN_NONE)
    expect(judge, "demand", i, "portions_cover", d->portions_cover,
           floor(pw_stats_sum_quantile(&portions, d->cover) + 0.5));
  return PW_OK;
}

/* ---- how many pieces serve it ------------------------------------------------------------------------------------- */

/** Lines of a raw need, added up. */
struct lines {
  int n, n_by_count;
  double mean_kg, ask_kg, least_kg, units, largest_units, sd_kg;
};

static struct lines lines_of(const struct pw_seen_plan *plan, const struct pw_seen_raw *raw)
{
  struct lines sum = {0};
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++) {
    const struct pw_seen_demand *d = &plan->demand[i];
    if (d->service != raw->service || !d->cut || strcmp(d->cut, raw->cut) != 0)
      continue;
    sum.n++;
    sum.n_by_count += d->is_by_count == 1;
    sum.mean_kg += d->mean_kg;
    sum.ask_kg += d->mean_kg * (1 + d->reserve_frac);
    sum.least_kg = fmax(sum.least_kg, d->need_kg);
    sum.sd_kg += d->sd_kg;
    sum.units += d->need_units;
    sum.largest_units = fmax(sum.largest_units, d->need_units);
  }
  return sum;
}

static void check_by_weight(struct pw_judge *judge, const struct pw_seen_raw *raw, int i, const struct lines *lines)
{
  if (lines->n > 0 && lines->n_by_count == 0) {
    expect(judge, "raw_needs", i, "want_kg", raw->want_kg, lines->mean_kg);
    expect(judge, "raw_needs", i, "ask_kg", raw->ask_kg, lines->ask_kg);
    expect(judge, "raw_needs", i, "least_kg", raw->least_kg, lines->least_kg);
    if (lines->n == 1)
      expect(judge, "raw_needs", i, "want_sd_kg", raw->want_sd_kg, lines->sd_kg);
  }
  if (raw->want_sd_kg > 0 && lines->n == 1 && raw->want_kg > 0)
    expect(judge, "raw_needs", i, "ask_sd_kg", raw->ask_sd_kg, raw->want_sd_kg * raw->ask_kg / raw->want_kg);
  expect(judge, "raw_needs", i, "served_piece_kg", raw->served_piece_kg, raw->raw_piece_kg * raw->yield_frac);
  double z = pw_stats_normal_quantile(raw->cover), m = raw->served_piece_kg, s = raw->served_piece_sd_kg;
  double var = raw->ask_sd_kg * raw->ask_sd_kg;
  expect(judge, "raw_needs", i, "need_kg", raw->need_kg,
         raw->ask_sd_kg > 0 ? fmax(raw->least_kg, raw->ask_kg + z * raw->ask_sd_kg) : raw->least_kg);
  /* the least number whose chance not to fall short reaches the cover, and whose mean reaches the least need */
  double from = z >= 0 ? fmax(raw->least_kg, raw->ask_kg) : raw->least_kg;
  int n = raw->pieces;
  bool is_enough = n * m >= from - WHOLE * m && n * m - raw->ask_kg >= z * sqrt(n * s * s + var) - WHOLE * m;
  bool is_fewer =
      (n - 1) * m >= from + WHOLE * m && (n - 1) * m - raw->ask_kg >= z * sqrt((n - 1) * s * s + var) + WHOLE * m;
  if (!is_enough || (n > 0 && is_fewer))
    pw_judge_find(judge, "J12",
                  "raw_needs[%d].pieces: %d pieces of %.6g kg served are %s for a need of %.6g kg at a cover of %.4g",
                  i, n, m, is_enough ? "more than enough" : "too few", raw->need_kg, raw->cover);
  double over = n * m - raw->want_kg, sd = sqrt(n * s * s + raw->want_sd_kg * raw->want_sd_kg);
  expect(judge, "raw_needs", i, "leftover_kg", raw->leftover_kg, pw_stats_normal_plus(over, sd));
  expect(judge, "raw_needs", i, "runout_frac", raw->runout_frac,
         sd > 0     ? pw_stats_normal_cdf(-over / sd)
         : over < 0 ? 1
                    : 0);
}

static pw_status check_by_count(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct pw_seen_raw *raw,
                                int i, const struct lines *lines, struct pw_stats_group *groups)
{
  expect(judge, "raw_needs", i, "pieces", raw->pieces, ceil(raw->need_units / raw->units_per_piece - WHOLE));
  expect(judge, "raw_needs", i, "need_kg", raw->need_kg, 0);
  if (lines->n == 1)
    expect(judge, "raw_needs", i, "need_units", raw->need_units, lines->units);
  else if (lines->n > 1 &&
           (raw->need_units > lines->units + WHOLE || raw->need_units < lines->largest_units - 1 - WHOLE))
    pw_judge_find(judge, "J12", "raw_needs[%d].need_units: is %.6g, the dishes need %.6g together and %.6g at the most",
                  i, raw->need_units, lines->largest_units, lines->units);
  if (lines->n == 0 || lines->n != lines->n_by_count || plan->services[raw->service].walk_most_frac > 0)
    return PW_OK;
  int n = 0;
  for (int k = 0; k < plan->n[PW_SEEN_DEMAND]; k++) {
    const struct pw_seen_demand *d = &plan->demand[k];
    if (d->service == raw->service && d->cut && strcmp(d->cut, raw->cut) == 0)
      n += isnan(d->law_mean) ? 0 : groups_of(plan, d, groups + n);
  }
  struct pw_stats_sum wanted;
  pw_status status = pw_stats_sum_make(&wanted, groups, n, judge->ctx->arena);
  if (status)
    return status;
  double have = raw->pieces * raw->units_per_piece,
         unit_kg = raw->raw_piece_kg * raw->yield_frac / raw->units_per_piece;
  expect(judge, "raw_needs", i, "leftover_kg", raw->leftover_kg, pw_stats_sum_left(&wanted, have) * unit_kg);
  expect(judge, "raw_needs", i, "runout_frac", raw->runout_frac, pw_stats_sum_above(&wanted, have));
  return PW_OK;
}

static pw_status check_raw(struct pw_judge *judge, const struct pw_seen_plan *plan, int i,
                           struct pw_stats_group *groups)
{
  const struct pw_seen_raw *raw = &plan->raws[i];
  struct lines lines = lines_of(plan, raw);
  if (isnan(raw->raw_piece_kg))
    return PW_OK;
  if (lines.n == 0)
    pw_judge_find(judge, "J12", "raw_needs[%d].cut: no dish of that service is made of \"%s\"", i, raw->cut);
  expect(judge, "raw_needs", i, "raw_mean_kg", raw->raw_mean_kg, raw->pieces * raw->raw_piece_kg);
  expect(judge, "raw_needs", i, "yield_frac", raw->yield_frac, raw->trim_frac * raw->cook_frac * raw->carve_frac);
  long cooked = 0;
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    if (plan->lots[l].service == raw->service && strcmp(plan->lots[l].cut, raw->cut) == 0) {
      cooked += plan->lots[l].pieces;
      expect(judge, "lots", l, "piece_kg", plan->lots[l].piece_kg, raw->raw_piece_kg * raw->trim_frac);
    }
  if (raw->is_smoked != PW_SEEN_NONE && cooked != (raw->is_smoked ? raw->pieces : 0))
    pw_judge_find(judge, "J12", "raw_needs[%d]: %d of \"%s\" %s, the lots of that service have %ld", i, raw->pieces,
                  raw->cut, raw->is_smoked ? "are smoked" : "are not smoked", cooked);
  if (!isnan(raw->need_units))
    return check_by_count(judge, plan, raw, i, &lines, groups);
  if (isnan(raw->served_piece_kg))
    pw_judge_find(judge, "J12", "raw_needs[%d]: tells neither what a piece serves nor the units needed", i);
  else
    check_by_weight(judge, raw, i, &lines);
  return PW_OK;
}

/** Every dish from the pit has its pieces, every lot its raw need. */
static void check_all_there(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++) {
    const struct pw_seen_demand *d = &plan->demand[i];
    bool is_there = !d->cut || !(d->need_kg > 0 || d->need_units > 0); /* rarely wanted: perhaps none at this cover */
    for (int r = 0; r < plan->n[PW_SEEN_RAWS] && !is_there; r++)
      is_there = plan->raws[r].service == d->service && strcmp(plan->raws[r].cut, d->cut) == 0;
    if (!is_there)
      pw_judge_find(judge, "J12", "demand[%d]: \"%s\" is made of \"%s\", of which raw_needs has none for that service",
                    i, d->dish, d->cut);
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS] && plan->n[PW_SEEN_RAWS] > 0; l++) {
    bool is_there = false;
    for (int r = 0; r < plan->n[PW_SEEN_RAWS] && !is_there; r++)
      is_there = plan->raws[r].service == plan->lots[l].service && strcmp(plan->raws[r].cut, plan->lots[l].cut) == 0;
    if (!is_there)
      pw_judge_find(judge, "J12", "lots[%d].cut: raw_needs has no \"%s\" for that service", l, plan->lots[l].cut);
  }
}

/** Cooked meat of one who eats meat: what the laws of the meats say one takes on the mean, added up; warned of outside what is usual. */
static void check_meat(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  bool is_told = false, is_asked = false;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    const struct pw_seen_service *service = &plan->services[s];
    bool eats_meat = false;
    double kg = 0;
    for (int c = 0; c < plan->n[PW_SEEN_CLASSES] && service->of_class; c++)
      eats_meat = eats_meat || (plan->classes[c].eats_meat && service->of_class[c] > 0);
    if (isnan(service->meat_kg))
      continue;
    for (int i = 0; i < plan->n[PW_SEEN_DEMAND] && eats_meat; i++) {
      const struct pw_seen_demand *d = &plan->demand[i];
      if (d->service == s && d->is_meat == 1 && !isnan(d->law_mean))
        kg += d->law_mean * (d->is_by_count != 1 ? 1 : isnan(d->unit_kg) ? 0 : d->unit_kg);
    }
    expect(judge, "services", s, "meat.per_guest_kg", service->meat_kg, kg);
    is_asked = is_asked || (service->meat_most_kg > 0 &&
                            (service->meat_kg < service->meat_least_kg || service->meat_kg > service->meat_most_kg));
  }
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    is_told = is_told || strcmp(plan->warnings[i].code, "meat-per-guest") == 0;
  if (is_asked && !is_told &&
      plan->edition == PW_SEEN_NONE) /* a mended plan repeats none of what was to be looked at before */
    pw_judge_find(judge, "J12", "a meal has more or less meat a guest than is usual and no warning says so");
}

pw_status pw_check_demand(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int n_classes = plan->n[PW_SEEN_CLASSES], n_lines = plan->n[PW_SEEN_DEMAND];
  if (n_classes == 0)
    return PW_OK;
  struct pw_stats_group *groups =
      pw_arena_array(judge->ctx->arena, (size_t)n_classes * (size_t)(n_lines + 1), sizeof *groups);
  pw_status status = groups ? PW_OK : PW_ERR_MEMORY;
  for (int i = 0; i < n_lines && !status; i++)
    if (!isnan(plan->demand[i].law_mean))
      status = check_line(judge, plan, i, groups);
  for (int i = 0; i < plan->n[PW_SEEN_RAWS] && !status; i++)
    status = check_raw(judge, plan, i, groups);
  check_meat(judge, plan);
  check_all_there(judge, plan);
  return status;
}
