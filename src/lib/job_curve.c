/* job_curve.c - the core curve of one cut on one zone of a pit.  With an event its cuts and pits count, else those of the
 * catalogs: a small event around the two names is made up and read like any other. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "base/format.h"
#include "heat/curve.h"
#include "lib/job.h"
#include "plan/stages.h"
#include "read/read.h"
#include "write/text/text_sheets.h"

#include <string.h>

/** Rows of the table: a quarter of an hour apart, half an hour in a long cook, minutes over coals. */
static double row_every_min(const struct pw_cut *cut)
{
  enum { LONG_MIN = 300, SHORT_MIN = 40, QUICK_MIN = 15 };
  int minutes = (cut->smoke.is_used ? cut->smoke.ref_min : 0) + (cut->finish.is_used ? cut->finish.ref_min : 0);
  return minutes > LONG_MIN ? 30.0 : minutes > SHORT_MIN ? 15.0 : minutes > QUICK_MIN ? 2.0 : 1.0;
}

/** Only letters, digits and hyphens: what an id of a catalog is made of, and what may stand in the made-up event. */
static bool is_id(const char *word)
{
  return word[0] != '\0' && strlen(word) < 64 &&
         strspn(word, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == strlen(word);
}

static const char *made_up_event(struct pw_arena *arena, const char *cut, const char *pit)
{
  return pw_arena_printf(
      arena,
      "event: {name: Curve, date: 2027-06-12, zone: UTC, currency: USD, units: us}\n"
      "weather: {low: 68 F, high: 68 F, wind: 0 mph, humidity: 50 %%}\n"
      "dishes:\n"
      "  curve-dish: {name: Curve, cut: %s, form: sliced, portion: 5 oz, take: 50 %%}\n"
      "services: [{id: dinner, time: \"18:00\", length: 1 h, guests: {adults: 10}, menu: [curve-dish]}]\n"
      "pits: [%s]\n"
      "crew: [{role: cook, duties: [fire, pit], count: 1, from: \"00:00\", to: \"18:00\", rate: 1 per h}]\n"
      "terms: {margin: 20 %%}\n",
      cut, pit);
}

/* The job's own event, or the made-up one, which stays out of the job. */
static pw_status choose_event(struct pw_job *job, const struct pw_curve_ask *ask, const struct pw_event **out)
{
  struct pw_event *ev = NULL;
  if (job->n_read > 0) {
    pw_status settled = pw_job_settle(job);
    *out = job->event;
    return settled;
  }
  const char *bad = !is_id(ask->cut) ? ask->cut : !is_id(ask->pit) ? ask->pit : NULL;
  if (bad) {
    pw_diag_add(&job->ctx, PW_ERROR, "bad-id", NULL, 0, 0,
                "\"%s\" is not an id of the catalogs: letters, digits and hyphens", bad);
    return PW_ERR_INPUT;
  }
  const char *text = made_up_event(job->ctx.arena, ask->cut, ask->pit);
  if (!text)
    return PW_ERR_MEMORY;
  pw_status st = pw_event_read_text(&ev, "(cut and pit)", text, strlen(text), ask->catalog_dir, &job->ctx);
  if (st == PW_OK)
    pw_job_dress(job, ev);
  *out = ev;
  return st;
}

static int find_cut(const struct pw_event *ev, const char *id)
{
  for (int c = 0; c < ev->n_cuts; c++)
    if (strcmp(ev->cuts[c].id, id) == 0)
      return c;
  return PW_NONE;
}

static int find_pit(const struct pw_event *ev, const char *id)
{
  for (int p = 0; p < ev->n_pits; p++)
    if (strcmp(ev->pits[p].id, id) == 0)
      return p;
  return PW_NONE;
}

/** "main/1", the name of a zone on its pit. */
static const char *zone_name(const struct pw_zone *zone, const struct pw_event *ev)
{
  return zone->id + strlen(ev->pits[zone->pit].id) + 1;
}

/** Zone "main/2" of a pit; without a name the coolest at the setting. */
static int find_zone(const struct pw_lots *lots, const struct pw_event *ev, int pit, const char *name, int setting)
{
  int found = PW_NONE;
  for (int z = 0; z < lots->n_zones; z++) {
    const struct pw_zone *zone = &lots->zones[z];
    if (zone->pit != pit)
      continue;
    bool is_it = name ? strcmp(zone_name(zone, ev), name) == 0
                      : found == PW_NONE || zone->temp_c[setting] < lots->zones[found].temp_c[setting];
    if (is_it)
      found = z;
  }
  return found;
}

static int find_setting(const struct pw_pit *pit, const char *name)
{
  if (!name)
    return 0;
  for (int i = 0; i < pit->n_settings; i++)
    if (strcmp(pit->settings[i].name, name) == 0)
      return i;
  return PW_NONE;
}

/* ---- names that there are ------------------------------------------------------------------------- */

static void add_name(struct pw_buf *out, const char *name)
{
  pw_buf_add(out, out->n ? ", " : "");
  pw_buf_add(out, name);
}

static const char *cut_names(struct pw_arena *arena, const struct pw_event *ev)
{
  struct pw_buf text = pw_buf_in(arena);
  for (int c = 0; c < ev->n_cuts; c++)
    add_name(&text, ev->cuts[c].id);
  return pw_buf_text(&text);
}

static const char *pit_names(struct pw_arena *arena, const struct pw_event *ev)
{
  struct pw_buf text = pw_buf_in(arena);
  for (int p = 0; p < ev->n_pits; p++)
    add_name(&text, ev->pits[p].id);
  return pw_buf_text(&text);
}

static const char *zone_names(struct pw_arena *arena, const struct pw_event *ev, const struct pw_lots *lots, int pit)
{
  struct pw_buf text = pw_buf_in(arena);
  for (int z = 0; z < lots->n_zones; z++)
    if (lots->zones[z].pit == pit)
      add_name(&text, zone_name(&lots->zones[z], ev));
  return pw_buf_text(&text);
}

static pw_status no_such(struct pw_job *job, const char *what, const char *word, const char *allowed)
{
  if (!allowed)
    return PW_ERR_MEMORY;
  pw_diag_add(&job->ctx, PW_ERROR, "unknown-name", job->n_read == 1 ? job->event_path : NULL, 0, 0,
              "there is no %s \"%s\"; there is %s", what, word, allowed);
  return PW_ERR_INPUT;
}

/* ---- the curve -------------------------------------------------------------------------------------- */

/** The place asked for, as indices. */
struct place {
  int cut, pit, setting, zone;
};

static pw_status find_place(struct place *at, struct pw_lots *lots, struct pw_job *job, const struct pw_curve_ask *ask,
                            const struct pw_event *ev)
{
  const struct pw_purchase nothing = {0};
  struct pw_arena *arena = job->ctx.arena;
  at->cut = find_cut(ev, ask->cut);
  if (at->cut == PW_NONE)
    return no_such(job, "cut", ask->cut, cut_names(arena, ev));
  at->pit = find_pit(ev, ask->pit);
  if (at->pit == PW_NONE)
    return no_such(job, "pit", ask->pit, pit_names(arena, ev));
  at->setting = find_setting(&ev->pits[at->pit], ask->setting);
  if (at->setting == PW_NONE)
    return no_such(job, "setting", ask->setting, ev->pits[at->pit].settings[0].name);
  pw_status st = pw_lots_make(lots, ev, &nothing, NULL, &job->ctx); /* for the zones and their temperatures */
  if (st != PW_OK)
    return st;
  at->zone = find_zone(lots, ev, at->pit, ask->zone, at->setting);
  return at->zone == PW_NONE ? no_such(job, "zone", ask->zone, zone_names(arena, ev, lots, at->pit)) : PW_OK;
}

pw_status pw_job_curve(struct pw_job *job, const struct pw_curve_ask *ask, const char **text)
{
  const struct pw_event *ev = NULL;
  struct pw_ctx *ctx = &job->ctx;
  struct pw_lots lots;
  struct place at;
  struct pw_curve curve;
  *text = NULL;
  if (!ask->cut || !ask->pit || (job->n_read == 0 && !ask->catalog_dir))
    return PW_ERR_USAGE;
  pw_job_begin(job);
  pw_status st = choose_event(job, ask, &ev);
  if (st == PW_OK)
    st = find_place(&at, &lots, job, ask, ev);
  if (st != PW_OK)
    return st;
  const struct pw_cut *cut = &ev->cuts[at.cut];
  const struct pw_pit *pit = &ev->pits[at.pit];
  const struct pw_zone *zone = &lots.zones[at.zone];
  double air_c = zone->temp_c[at.setting];
  struct pw_curve_place place = {air_c, air_c, pw_stage_air_of(ev, at.pit)};
  st = pw_curve_make(&curve, cut, &place, row_every_min(cut), ctx);
  if (st != PW_OK)
    return st;
  struct pw_curve_head head = {.cut = cut,
                               .place =
                                   pw_arena_printf(ctx->arena, "%s, %s, %s, setting %s", pit->name, zone_name(zone, ev),
                                                   pw_format_temp(ev->units, air_c).s, pit->settings[at.setting].name)};
  if (air_c < cut->smoke.low_c || air_c > cut->smoke.high_c)
    head.remark = "The catalog does not cook this cut at that temperature: a plan would not put it there.";
  struct pw_buf sheet = pw_buf_in(ctx->arena);
  st = head.place ? pw_text_curve(&sheet, &curve, &head, ev, ctx) : PW_ERR_MEMORY;
  if (st == PW_OK)
    *text = pw_buf_text(&sheet);
  return st == PW_OK && !*text ? PW_ERR_MEMORY : st;
}
