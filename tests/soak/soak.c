/* soak.c - random events from end to end: soak N SEED [FULL_EVERY|meals|chance [SHEETS]].  Events are made from the catalogs by a seed, read, planned
 * (every FULL_EVERY-th thoroughly, with a second for each search), judged again from the file's text, and written as sheets.
 * The tasks and the shift sheet of each are left in SHEETS/SEED-NUMBER/ for tests/play_sheets.py, when it is named.
 * soak EVENT.yaml again [meals|chance]: an event that was left, once more.
 * "meals": N small plans of meals that last, on racks that stand above each other; each is planned at once and judged, nothing else is
 * written: for the rules on what drips on what [J17] and on waves and holds to the last plate [J22].
 * "chance": of the same events as many as it takes for N that fit, planned for their chance; each told chance is held against the judge's
 * draws, against wider spreads and against meals that are sooner.
 * In: the catalogs in templates/.  Out: a table of outcomes; exit status 1 when a promise was broken.  An event that breaks one
 * is left in build/soak-SEED-NUMBER.yaml. */
#define _POSIX_C_SOURCE 200809L
#include "base/arena.h"
#include "base/buf.h"
#include "judge/plan_check.h"
#include "plan/chance/chance.h"
#include "plan/lots/drips.h"
#include "read/read.h"
#include "run.h"
#include "write/csv.h"
#include "write/html/html.h"
#include "write/ics.h"
#include "write/plan_json.h"
#include "write/text/text_sheets.h"

#include <errno.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

enum { IDS_MAX = 256, CODES_MAX = 64 };

struct ids {
  char id[IDS_MAX][48];
  int n;
};
static struct ids g_dishes, g_pits, g_finishers;
static uint64_t g_state;

/* 0 .. n-1; Knuth's congruential step, from memory */
static int pick(int n)
{
  g_state = g_state * 6364136223846793005u + 1442695040888963407u;
  return (int)((g_state >> 33) % (uint64_t)n);
}
static int between(int a, int b) { return a + pick(b - a + 1); }
#define ONE_OF(list) (list)[pick((int)(sizeof(list) / sizeof *(list)))]

/* Keys two blanks deep below `section:` of a catalog. */
static void ids_read(struct ids *out, const char *path, const char *section)
{
  FILE *f = fopen(path, "r");
  char line[1024];
  int is_inside = 0;
  if (!f)
    exit(2);
  while (fgets(line, sizeof line, f)) {
    char *colon = strchr(line, ':');
    if (line[0] >= 'a' && line[0] <= 'z')
      is_inside = strncmp(line, section, strlen(section)) == 0;
    else if (is_inside && colon && strncmp(line, "  ", 2) == 0 && line[2] >= 'a' && line[2] <= 'z' &&
             out->n < IDS_MAX && colon - line - 2 < 47)
      snprintf(out->id[out->n++], 48, "%.*s", (int)(colon - line - 2), line + 2);
  }
  fclose(f);
}

static const char *a_time(char *text)
{
  sprintf(text, "\"%02d:%02d\"", pick(24), 15 * pick(4));
  return text;
}

static void make_services(struct pw_buf *b, int n, const char *date)
{
  static const char *const styles[] = {"buffet", "plated", "boxed"};
  char at[16];
  pw_buf_add(b, "services:\n");
  for (int s = 0; s < n; s++) {
    pw_buf_printf(b, "  - id: s%d\n    name: Service %d\n    time: %s\n    length: %d min\n    style: %s\n", s, s,
                  a_time(at), 15 * between(1, 16), ONE_OF(styles));
    if (pick(8) == 0)
      pw_buf_printf(b, "    day: %s\n", date);
    int most = pick(6) == 0 ? 600 : pick(3) == 0 ? 120 : 40;
    pw_buf_printf(b, "    guests: {adults: %d, children: %d, no-meat: %d}\n    menu:\n", pick(most + 1),
                  pick(most / 4 + 1), pick(most / 8 + 1));
    for (int n_lines = between(1, pick(4) == 0 ? 14 : 6), k = pick(g_dishes.n), step = between(1, 5); n_lines > 0;
         n_lines--, k += step) {
      const char *dish = g_dishes.id[k % g_dishes.n];
      if (pick(3) == 0)
        pw_buf_printf(b, "      - %s\n", dish);
      else
        pw_buf_printf(b, "      - {dish: %s, take: %d %%}\n", dish, between(1, 100));
    }
  }
}

static void make_gear(struct pw_buf *b)
{
  int n_pits = pick(12) == 0 ? 0 : between(1, pick(8) == 0 ? 7 : 3), n_finishers = pick(4);
  pw_buf_add(b, n_pits ? "pits:\n" : "pits: []\n");
  for (int p = 0; p < n_pits; p++)
    pw_buf_printf(b, "  - {use: %s, id: p%d, name: Pit %d}\n", g_pits.id[pick(g_pits.n)], p, p);
  pw_buf_add(b, n_finishers ? "finishers:\n" : "finishers: []\n");
  for (int f = 0; f < n_finishers; f++)
    pw_buf_printf(b, "  - {use: %s, id: f%d, name: Finisher %d}\n", g_finishers.id[pick(g_finishers.n)], f, f);
}

static void make_crew(struct pw_buf *b, const char *before, const char *date)
{
  static const char *const duties[] = {
      "fire, pit", "fire, pit, prep, carve, serve, drive, clean", "prep", "serve, clean", "carve, pit", "drive"};
  int n = pick(10) == 0 ? 0 : between(1, 5);
  pw_buf_add(b, n ? "crew:\n" : "crew: []\n");
  for (int c = 0; c < n; c++) {
    int from = pick(36), to = from + between(1, 14);
    pw_buf_printf(
        b, "  - {role: role %d, duties: [%s], count: %d, from: \"%s %02d:00\", to: \"%s %02d:00\", rate: %d per h}\n",
        pick(4), ONE_OF(duties), between(1, 3), from < 24 ? before : date, from % 24, to < 24 ? before : date,
        to >= 48 ? 23 : to % 24, pick(40));
  }
}

static const char *a_noon(char *text)
{
  sprintf(text, "\"%02d:%02d\"", between(10, 17), 30 * pick(2));
  return text;
}

/* A few dishes for guests who come over hours. */
static void make_meals(struct pw_buf *b, int n)
{
  static const char *const styles[] = {"buffet", "buffet", "family", "plated", "boxed"};
  char at[16];
  pw_buf_add(b, "services:\n");
  for (int s = 0; s < n; s++) {
    pw_buf_printf(b, "  - id: s%d\n    name: Service %d\n    time: %s\n    length: %d min\n    style: %s\n", s, s,
                  a_noon(at), 15 * between(4, 28), ONE_OF(styles));
    if (pick(6) == 0)
      pw_buf_printf(b, "    waves: %d\n", between(1, 5));
    if (pick(2)) {
      int first = 5 * between(0, 8), second = 5 * between(0, 8);
      pw_buf_printf(b, "    arrivals: [%d %%, %d %%, %d %%, %d %%]\n", first, second, 10, 90 - first - second);
    }
    int guests = between(4, pick(4) == 0 ? 120 : 40);
    pw_buf_printf(b, "    guests: {adults: %d}\n", guests);
    if (pick(4) == 0)
      pw_buf_printf(b, "    walk_up: {least: %d, most: %d}\n", guests - guests / 4, guests + between(1, 20));
    pw_buf_add(b, "    menu:\n");
    for (int n_lines = between(2, 5), k = pick(g_dishes.n), step = between(1, 5); n_lines > 0; n_lines--, k += step)
      pw_buf_printf(b, "      - {dish: %s, take: %d %%%s}\n", g_dishes.id[k % g_dishes.n], between(20, 100),
                    pick(8) == 0 ? ", waves: 1" : "");
  }
}

/* Pits with a rack above another, twice as often as any. */
static void make_racks(struct pw_buf *b)
{
  static const char *const stacked[] = {"small-offset", "trailer-two-rack", "upright-cabinet", "block-pit",
                                        "tank-offset"};
  int n_pits = between(1, 2), n_boxes = between(1, 2);
  pw_buf_add(b, "pits:\n");
  for (int p = 0; p < n_pits; p++)
    pw_buf_printf(b, "  - {use: %s, id: p%d, name: Pit %d}\n", pick(3) ? ONE_OF(stacked) : g_pits.id[pick(g_pits.n)], p,
                  p);
  pw_buf_add(b, "finishers:\n");
  for (int f = 0; f < n_boxes; f++)
    pw_buf_printf(b, "  - {use: %s, id: f%d, name: Box %d}\n",
                  pick(3) ? "hot-box-large" : g_finishers.id[pick(g_finishers.n)], f, f);
}

static bool g_is_meals, g_is_chance; /* the second: events of the first, planned with their chance */

static void make_event(struct pw_buf *b)
{
  static const char *const zones[] = {
      "UTC", "America/Chicago", "Europe/Berlin", "Australia/Lord_Howe", "Asia/Kathmandu", "America/Sao_Paulo"};
  static const char *const moneys[] = {"USD", "EUR", "CAD", "KWD"};
  static const char *const grids[] = {"15 min", "30 min", "60 min", "30 min"};
  static const char *const fixed[][2] = {{"2027-03-13", "2027-03-14"},
                                         {"2027-11-06", "2027-11-07"},
                                         {"2028-02-28", "2028-02-29"},
                                         {"2027-12-31", "2028-01-01"},
                                         {"2027-10-30", "2027-10-31"}};
  char before[16], date[16];
  if (pick(4) == 0) {
    int k = pick(5);
    strcpy(before, fixed[k][0]), strcpy(date, fixed[k][1]);
  } else {
    int y = between(2024, 2036), m = between(1, 12), d = between(2, 28);
    sprintf(before, "%04d-%02d-%02d", y, m, d - 1);
    sprintf(date, "%04d-%02d-%02d", y, m, d);
  }
  const char *money =
      !g_is_meals && pick(16) == 0 ? "JPY" : ONE_OF(moneys); /* yen have no decimals, the catalog has: refused */
  int low = between(-25, 35);
  pw_buf_printf(
      b, "event: {name: Soak, date: %s, zone: %s, currency: %s, units: %s, grid: %s, safety_basis: random events}\n",
      date, ONE_OF(zones), money, pick(2) ? "us" : "si", ONE_OF(grids));
  pw_buf_printf(b, "site: {travel: %d min, distance: %d km, altitude: %d m}\n", pick(180), pick(200), pick(3000));
  pw_buf_printf(b, "weather: {low: %d C, high: %d C, wind: %d m/s, humidity: %d %%}\n", low, low + pick(15), pick(12),
                between(5, 100));
  pw_buf_add(b, "guests:\n  adults: {}\n  children: {appetite: 50 %}\n  no-meat: {meat: false}\n");
  if (g_is_meals) {
    make_meals(b, pick(3) == 0 ? 2 : 1);
    make_racks(b);
  } else {
    make_services(b, pick(3) == 0 ? between(2, 4) : 1, date);
    make_gear(b);
  }
  if (g_is_meals) { /* hands enough: what does not fit is short of racks or of hours */
    pw_buf_add(b, "crew:\n");
    for (int c = 0; c < 4; c++)
      pw_buf_printf(b,
                    "  - {role: cook %d, duties: [fire, pit, prep, carve, serve, drive, clean], count: 4, from: \"%s "
                    "%02d:00\", to: \"%s %02d:59\", rate: 20 per h}\n",
                    c, c < 2 ? before : date, c % 2 ? 12 : 0, c < 2 ? before : date, c % 2 ? 23 : 11);
  } else {
    make_crew(b, before, date);
  }
  pw_buf_printf(
      b, "terms: {margin: %d %%, tax: %d %%, deposit: %d %%, enough: %d %%, overhead: %d %%, fuel_reserve: %d %%}\n",
      pick(60), pick(25), pick(101), between(50, 99), pick(30), pick(50));
}

struct table {
  long n_fits, n_short, n_refused, n_full, n_broken;
  char code[CODES_MAX][32];
  long of_code[CODES_MAX];
  int n_codes;
  double slowest_s;
  long slowest;
};

static void count_code(struct table *t, const char *code)
{
  int i = 0;
  while (i < t->n_codes && strcmp(t->code[i], code) != 0)
    i++;
  if (i == CODES_MAX)
    return;
  if (i == t->n_codes)
    snprintf(t->code[t->n_codes++], sizeof t->code[0], "%s", code);
  t->of_code[i]++;
}

static const char *g_sheets; /* a folder, or NULL */

/* Leaves what the crew reads in SHEETS/name/; false: it could not be written. */
static bool leave_sheets(const char *name, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  static const struct {
    const char *name;
    pw_status (*write)(struct pw_buf *, const struct pw_plan *, struct pw_ctx *);
  } files[] = {{"tasks.csv", pw_csv_tasks_write}, {"shift-sheet.txt", pw_text_shift}};
  char path[512];
  snprintf(path, sizeof path, "%s/%s", g_sheets, name);
  if ((mkdir(g_sheets, 0777) != 0 && errno != EEXIST) || (mkdir(path, 0777) != 0 && errno != EEXIST))
    return false;
  for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
    struct pw_buf sheet = pw_buf_in(ctx->arena);
    if (files[i].write(&sheet, plan, ctx) != PW_OK || !pw_buf_text(&sheet))
      return false;
    snprintf(path, sizeof path, "%s/%s/%s", g_sheets, name, files[i].name);
    FILE *f = fopen(path, "w");
    if (!f || fwrite(sheet.bytes, 1, sheet.n, f) != sheet.n || fclose(f) != 0)
      return false;
  }
  return true;
}

/* What the search is looked at for: fires that burn empty, fires for a handful while another had room, dishes that vanish while
 * others are whole. */
static struct {
  long burns, burnt_min, empty_min, empty_plans, small_burns, vanished, vanished_beside_whole, only_dish_vanished;
} g_seen;

/* What the rules on drips and waves were tried on. */
static struct {
  long lots, of_waves, over, spans, raw_above;
} g_meals;

static void look_at_meals(const struct pw_plan *plan)
{
  const struct pw_allocation *a = &plan->allocation;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    g_meals.lots++;
    g_meals.of_waves += plan->lots.lots[l].n_waves > 1;
    g_meals.over += plan->lots.lots[l].over_min > 0;
  }
  for (int i = 0; i < a->n_loads; i++)
    for (int k = 0; k < a->n_loads; k++) { /* both on one pit at one time, one rack above the other */
      const struct pw_load *x = &a->loads[i], *y = &a->loads[k];
      if (x->zone == PW_NONE || y->zone == PW_NONE || x->start_at_min >= y->end_at_min ||
          y->start_at_min >= x->end_at_min)
        continue;
      const struct pw_zone *u = &plan->lots.zones[x->zone], *v = &plan->lots.zones[y->zone];
      if (u->pit != v->pit || !pw_drips_above(&plan->event->pits[u->pit], u->rack, v->rack))
        continue;
      g_meals.spans++;
      g_meals.raw_above += pw_drips_raw(&plan->event->cuts[plan->lots.lots[x->lot].cut]) && x->stage == PW_LOAD_SMOKE;
    }
}

/* The least surer any meal of a plan becomes, of how many: [0] by spreads half as wide again, [1] by meals 15 minutes sooner. */
static struct {
  long meals, likely;
  double most_z, most_sooner;
} g_chance = {0, 0, -HUGE_VAL, -1};

/* Wider spreads and tighter windows make no meal surer.  Sooner: draw by draw, without noise.  Wider: where a day by the plan is
 * ready, by more than what 2,000 draws err by; NULL, or the promise that was broken. */
static const char *look_at_chance(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  enum { SOONER_MIN = 15 };
  static const double WIDER = 1.5, MOST_Z = 5;
  const struct pw_event *ev = plan->event;
  struct pw_event wide = *ev;
  struct pw_lots soon = plan->lots;
  struct pw_cut *cuts = pw_arena_array(ctx->arena, (size_t)ev->n_cuts + 1, sizeof *cuts);
  struct pw_lot *lots = pw_arena_array(ctx->arena, (size_t)soon.n_lots + 1, sizeof *lots);
  if (!cuts || !lots)
    return "there is memory";
  for (int c = 0; c < ev->n_cuts; c++) {
    cuts[c] = ev->cuts[c];
    cuts[c].smoke.spread_frac *= WIDER;
    cuts[c].finish.spread_frac *= WIDER;
  }
  for (int c = 0; c < soon.n_lots; c++) {
    lots[c] = soon.lots[c];
    lots[c].by_at_min -= SOONER_MIN;
  }
  wide.cuts = cuts;
  soon.lots = lots;
  struct pw_chance_options draws = {
      .n_draws = PW_CHANCE_DRAWS, .seed = 29, .shares = pw_spread_shares(), .is_strict = true};
  struct pw_chance told, wider, sooner;
  if (pw_chance_make(&told, ev, &plan->lots, &plan->allocation, &draws, ctx) != PW_OK ||
      pw_chance_make(&wider, &wide, &plan->lots, &plan->allocation, &draws, ctx) != PW_OK ||
      pw_chance_make(&sooner, ev, &soon, &plan->allocation, &draws, ctx) != PW_OK)
    return "a chance can be drawn";
  for (int s = 0; s < ev->n_services; s++) {
    double p = told.services[s].on_time_frac, w = wider.services[s].on_time_frac;
    double error = sqrt((p * (1 - p) + w * (1 - w)) / PW_CHANCE_DRAWS);
    g_chance.meals++;
    g_chance.most_sooner = fmax(g_chance.most_sooner, sooner.services[s].on_time_frac - p);
    if (sooner.services[s].on_time_frac > p)
      return "a meal that is sooner is no surer";
    if (p < 0.5) /* late already in the middle: a wider spread saves as many as it loses, and more */
      continue;
    g_chance.likely++;
    if (error > 0)
      g_chance.most_z = fmax(g_chance.most_z, (w - p) / error);
    if (w - p > MOST_Z * error)
      return "a wider spread makes no meal surer";
  }
  return NULL;
}

static double on_pit_m2(const struct pw_plan *plan, int pit, int at)
{
  double m2 = 0;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    if (l->zone == PW_NONE || plan->lots.zones[l->zone].pit != pit || l->start_at_min > at || l->end_at_min <= at)
      continue;
    for (int k = 0; k < l->pieces && l->rects; k++)
      m2 += l->rects[k].length_m * l->rects[k].depth_m;
  }
  return m2;
}

/* A fire for fewer than five pieces, while another pit burnt all that time with half of its racks free. */
static int is_needless(const struct pw_plan *plan, int b)
{
  const struct pw_burn *burn = &plan->allocation.burns[b];
  int pieces = 0;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    if (l->zone != PW_NONE && plan->lots.zones[l->zone].pit == burn->pit && l->start_at_min >= burn->ready_at_min &&
        l->end_at_min <= burn->out_at_min)
      pieces += l->pieces;
  }
  for (int o = 0; o < plan->allocation.n_burns && pieces < 5; o++) {
    const struct pw_burn *other = &plan->allocation.burns[o];
    double area = 0, most = 0;
    if (other->pit == burn->pit || other->ready_at_min > burn->ready_at_min || other->out_at_min < burn->out_at_min)
      continue;
    const struct pw_pit *pit = &plan->event->pits[other->pit];
    for (int r = 0; r < pit->n_racks; r++)
      area += pit->racks[r].length_m * pit->racks[r].depth_m;
    for (int at = burn->ready_at_min; at < burn->out_at_min; at += plan->event->slot_min) {
      double on = on_pit_m2(plan, other->pit, at);
      most = on > most ? on : most;
    }
    if (most < area / 2)
      return 1;
  }
  return 0;
}

static void look(const struct pw_plan *plan)
{
  const struct pw_event *ev = plan->event;
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    g_seen.burns++;
    g_seen.burnt_min += plan->allocation.burns[b].out_at_min - plan->allocation.burns[b].ready_at_min;
    g_seen.small_burns += is_needless(plan, b);
  }
  for (int i = 0; i < plan->fuel.n_empty; i++)
    g_seen.empty_min += plan->fuel.empty[i].to_at_min - plan->fuel.empty[i].from_at_min;
  g_seen.empty_plans += plan->fuel.n_empty > 0;
  for (int c = 0; c < plan->lots.n_lots; c++) {
    const struct pw_lot *lot = &plan->lots.lots[c];
    int is_whole = 0, is_only = ev->cuts[lot->cut].kind == PW_KIND_PLANT;
    if (plan->allocation.missed[c] < lot->pieces)
      continue;
    g_seen.vanished++;
    for (int o = 0; o < plan->lots.n_lots; o++) {
      const struct pw_lot *other = &plan->lots.lots[o];
      is_whole |= other->service == lot->service && other->pieces > 1 && plan->allocation.missed[o] == 0;
      is_only &= o == c || other->service != lot->service || ev->cuts[other->cut].kind != PW_KIND_PLANT;
    }
    g_seen.vanished_beside_whole += is_whole;
    g_seen.only_dish_vanished += is_only;
  }
}

/* NULL, or the promise that was broken. */
static const char *judge_again(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  pw_status (*const writers[])(struct pw_buf *, const struct pw_plan *, struct pw_ctx *) = {
      pw_text_quote_customer, pw_text_quote_owner,    pw_text_buy,      pw_text_plan,           pw_text_shift,
      pw_html_crew_write,     pw_html_customer_write, pw_ics_all_write, pw_csv_purchases_write, pw_csv_tasks_write};
  const char *text = NULL;
  size_t n = 0;
  int n_findings = 0;
  if (pw_plan_json_text(&text, &n, plan, ctx) != PW_OK)
    return "the plan can be written as JSON";
  if (pw_plan_check_text("plan.json", text, n, &n_findings, ctx) != PW_OK || n_findings > 0)
    return "the plan passes the judge";
  for (size_t i = 0; i < sizeof writers / sizeof *writers && !g_is_meals; i++) {
    struct pw_buf sheet = pw_buf_in(ctx->arena);
    if (writers[i](&sheet, plan, ctx) != PW_OK || !pw_buf_text(&sheet))
      return "every sheet can be written";
  }
  return NULL;
}

static const char *run_one(const struct pw_buf *b, const char *name, int is_full, struct table *t, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL;
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = is_full ? PW_EFFORT_FULL : PW_EFFORT_QUICK, .seconds = is_full ? 1 : 0};
  if (g_is_meals && !g_is_chance) {
    options.is_at_once = true;
    options.on_time_frac = -1;
  }
  pw_status status = pw_event_read_text(&ev, "soak.yaml", b->bytes, b->n, "templates", ctx);
  if (status == PW_OK)
    status = pw_run_plan(&plan, ev, &options, ctx);
  if (status == PW_ERR_INPUT && ctx->n_errors > 0) {
    t->n_refused++;
    for (int i = 0; i < ctx->n_diags; i++)
      if (ctx->diags[i].severity == PW_ERROR) {
        count_code(t, ctx->diags[i].code);
        break;
      }
    return NULL;
  }
  if (status != PW_OK)
    return status == PW_ERR_INTERNAL ? "a plan passes its judge" : "nothing but faulty input stops an event";
  t->n_full += is_full;
  look(plan);
  look_at_meals(plan);
  if (plan->allocation.n_missed > 0)
    t->n_short++;
  else {
    const char *broken = g_is_meals && !g_is_chance ? NULL : look_at_chance(plan, ctx);
    t->n_fits++;
    if (broken)
      return broken;
  }
  if (g_sheets && !leave_sheets(name, plan, ctx))
    return "the sheets can be left";
  return judge_again(plan, ctx);
}

static void mode_read(const char *text)
{
  g_is_chance = strcmp(text, "chance") == 0;
  g_is_meals = g_is_chance || strcmp(text, "meals") == 0;
}

/* An event that was left: status 1 when it breaks a promise still. */
static int again(const char *path)
{
  struct pw_ctx ctx = {.arena = pw_arena_open()};
  struct pw_buf b = pw_buf_in(ctx.arena);
  struct table t = {0};
  char part[4096];
  FILE *f = fopen(path, "r");
  for (size_t n; f && (n = fread(part, 1, sizeof part - 1, f)) > 0;) {
    part[n] = '\0';
    pw_buf_add(&b, part);
  }
  if (!f || fclose(f) != 0 || !pw_buf_text(&b))
    return 2;
  const char *promise = run_one(&b, "again", 0, &t, &ctx);
  printf("%s: %s\n", path, promise ? promise : "holds");
  for (int k = 0; k < ctx.n_diags; k++)
    printf("  %s: %s\n", ctx.diags[k].code, ctx.diags[k].text);
  pw_arena_close(ctx.arena);
  return promise != NULL;
}

int main(int argc, char **argv)
{
  if (argc < 3)
    return 2;
  if (strcmp(argv[2], "again") == 0) {
    mode_read(argc > 3 ? argv[3] : "");
    return again(argv[1]);
  }
  long n = strtol(argv[1], NULL, 10), seed = strtol(argv[2], NULL, 10),
       full_every = argc > 3 ? strtol(argv[3], NULL, 10) : 40; /* "meals", "chance": none */
  mode_read(argc > 3 ? argv[3] : "");
  g_sheets = argc > 4 ? argv[4] : NULL;
  ids_read(&g_dishes, "templates/dishes.yaml", "dishes:");
  ids_read(&g_pits, "templates/pits.yaml", "pits:");
  ids_read(&g_finishers, "templates/finishers.yaml", "finishers:");
  struct table t = {0};
  long n_tried = 0;
  for (long i = 0; g_is_meals ? (g_is_chance ? t.n_fits : t.n_fits + t.n_short) < n && i < 10 * n : i < n; i++) {
    struct pw_ctx ctx = {.arena = pw_arena_open()};
    struct timespec a, z;
    n_tried++;
    if (!ctx.arena)
      return 2;
    g_state = (uint64_t)seed * 1000003u + (uint64_t)i;
    (void)pick(2), (void)pick(2);
    struct pw_buf b = pw_buf_in(ctx.arena);
    make_event(&b);
    if (!pw_buf_text(&b))
      return 2;
    char name[64];
    snprintf(name, sizeof name, "build/soak-%ld-%ld.yaml", seed, i);
    FILE *f = fopen(name, "w"); /* kept when the process breaks off, or a promise is broken */
    if (!f || fputs(b.bytes, f) < 0 || fclose(f) != 0)
      return 2;
    clock_gettime(CLOCK_MONOTONIC, &a);
    char number[64];
    snprintf(number, sizeof number, "%ld-%ld", seed, i);
    const char *promise = run_one(&b, number, full_every > 0 && i % full_every == 0, &t, &ctx);
    clock_gettime(CLOCK_MONOTONIC, &z);
    double took_s = difftime(z.tv_sec, a.tv_sec) + (double)(z.tv_nsec - a.tv_nsec) * 1e-9;
    if (took_s > t.slowest_s) {
      t.slowest_s = took_s;
      t.slowest = i;
    }
    if (promise) {
      t.n_broken++;
      printf("BROKEN %s: %s\n", name, promise);
      for (int k = 0; k < ctx.n_diags && k < 5; k++)
        printf("  %s: %s\n", ctx.diags[k].code, ctx.diags[k].text);
    } else
      remove(name);
    if (g_is_meals && (t.n_fits + t.n_short) % 100 == 0)
      fflush(stdout);
    pw_arena_close(ctx.arena);
  }
  printf("%ld events of seed %ld: %ld fit, %ld short of room, %ld refused, %ld broken; %ld planned thoroughly; slowest "
         "%.1f s (event %ld)\n",
         n_tried, seed, t.n_fits, t.n_short, t.n_refused, t.n_broken, t.n_full, t.slowest_s, t.slowest);
  if (!g_is_meals || g_is_chance)
    printf("  chances of %ld meals drawn again; 15 minutes sooner changes them by %.3f at most, spreads half as wide "
           "again by "
           "%.1f standard errors (%ld meals)\n",
           g_chance.meals, g_chance.most_sooner, g_chance.most_z, g_chance.likely);
  printf("  %ld fires, %ld min clean, %ld min of them with nothing on (%ld plans); %ld fires for fewer than 5 pieces "
         "beside a "
         "pit half free\n  %ld lots without a piece, %ld of them beside a whole one, %ld the only one from the pit "
         "without meat\n",
         g_seen.burns, g_seen.burnt_min, g_seen.empty_min, g_seen.empty_plans, g_seen.small_burns, g_seen.vanished,
         g_seen.vanished_beside_whole, g_seen.only_dish_vanished);
  printf("  %ld lots, %ld of them waves, %ld held too long and told so; %ld loads above another, %ld of them raw\n",
         g_meals.lots, g_meals.of_waves, g_meals.over, g_meals.spans, g_meals.raw_above);
  for (int i = 0; i < t.n_codes; i++)
    printf("  refused: %-24s %ld\n", t.code[i], t.of_code[i]);
  return t.n_broken > 0;
}
