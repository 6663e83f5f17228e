/* cmd_curve.c - the core curve of one cut on one zone of a pit.  With an event file its cuts and pits count, else those of
 * the catalogs: a small event around the two names is made up and read like any other. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "base/format.h"
#include "cli/cmd.h"
#include "plan/stages.h"
#include "read/read.h"
#include "write/text_curve.h"

#include <stdio.h>
#include <string.h>

/** Rows of the table: a quarter of an hour apart, half an hour in a long cook. */
static double row_every_min(const struct pw_cut *cut)
{
  enum { LONG_MIN = 300 };
  int minutes = (cut->smoke.is_used ? cut->smoke.ref_min : 0) + (cut->finish.is_used ? cut->finish.ref_min : 0);
  return minutes > LONG_MIN ? 30.0 : 15.0;
}

/** Only letters, digits and hyphens: what an id of a catalog is made of, and what may stand in the made-up event. */
static bool is_id(const char *word)
{
  return word[0] != '\0' && strlen(word) < 64 &&
         strspn(word, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") == strlen(word);
}

static const char *made_up_event(struct pw_session *s, const char *cut, const char *pit)
{
  return pw_arena_printf(s->ctx.arena,
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

static pw_status read_event(struct pw_session *s, const char *catalogs, struct pw_event **ev)
{
  const struct pw_cli *cli = s->cli;
  if (cli->event)
    return pw_event_read(ev, cli->event, catalogs, &s->ctx);
  const char *bad = !is_id(cli->operand) ? cli->operand : !is_id(cli->pit) ? cli->pit : NULL;
  if (bad) {
    pw_diag_add(&s->ctx, PW_ERROR, "bad-id", NULL, 0, 0, "\"%s\" is no id of the catalogs: letters, digits and hyphens", bad);
    return PW_ERR_INPUT;
  }
  const char *text = made_up_event(s, cli->operand, cli->pit);
  return text ? pw_event_read_text(ev, "(cut and pit)", text, strlen(text), catalogs, &s->ctx) : PW_ERR_MEMORY;
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

/** Zone "main/2" of a pit; without a name the coolest at the setting. */
static int find_zone(const struct pw_lots *lots, const struct pw_pit *pit, int pit_index, const char *name, int setting)
{
  int found = PW_NONE;
  for (int z = 0; z < lots->n_zones; z++) {
    const struct pw_zone *zone = &lots->zones[z];
    if (zone->pit != pit_index)
      continue;
    bool is_it = name ? strcmp(zone->id + strlen(pit->id) + 1, name) == 0
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

/** "main/1, main/2, upper/1": the names a --zone may have. */
static const char *zone_names(struct pw_session *s, const struct pw_lots *lots, const struct pw_pit *pit, int pit_index)
{
  struct pw_buf text = pw_buf_in(s->ctx.arena);
  for (int z = 0; z < lots->n_zones; z++)
    if (lots->zones[z].pit == pit_index) {
      pw_buf_add(&text, text.n ? ", " : "");
      pw_buf_add(&text, lots->zones[z].id + strlen(pit->id) + 1);
    }
  return pw_buf_text(&text);
}

static const char *cut_names(struct pw_session *s, const struct pw_event *ev)
{
  struct pw_buf text = pw_buf_in(s->ctx.arena);
  for (int c = 0; c < ev->n_cuts; c++) {
    pw_buf_add(&text, c ? ", " : "");
    pw_buf_add(&text, ev->cuts[c].id);
  }
  return pw_buf_text(&text);
}

static const char *pit_names(struct pw_session *s, const struct pw_event *ev)
{
  struct pw_buf text = pw_buf_in(s->ctx.arena);
  for (int p = 0; p < ev->n_pits; p++) {
    pw_buf_add(&text, p ? ", " : "");
    pw_buf_add(&text, ev->pits[p].id);
  }
  return pw_buf_text(&text);
}

static pw_status no_such(struct pw_session *s, const char *what, const char *word, const char *allowed)
{
  pw_diag_add(&s->ctx, PW_ERROR, "unknown-name", s->cli->event, 0, 0, "there is no %s \"%s\"%s%s", what, word,
              allowed ? "; there is " : "", allowed ? allowed : "");
  return PW_ERR_INPUT;
}

static pw_status show(struct pw_session *s, const struct pw_event *ev)
{
  const struct pw_cli *cli = s->cli;
  int cut = find_cut(ev, cli->operand), pit = find_pit(ev, cli->pit);
  if (cut == PW_NONE)
    return no_such(s, "cut", cli->operand, cut_names(s, ev));
  if (pit == PW_NONE)
    return no_such(s, "pit", cli->pit, pit_names(s, ev));
  int setting = find_setting(&ev->pits[pit], cli->setting);
  if (setting == PW_NONE)
    return no_such(s, "setting", cli->setting, ev->pits[pit].settings[0].name);
  struct pw_lots lots;
  const struct pw_purchase nothing = {0};
  pw_status st = pw_lots_make(&lots, ev, &nothing, &s->ctx); /* for the zones and their temperatures */
  if (st != PW_OK)
    return st;
  int zone = find_zone(&lots, &ev->pits[pit], pit, cli->zone, setting);
  if (zone == PW_NONE)
    return no_such(s, "zone", cli->zone, zone_names(s, &lots, &ev->pits[pit], pit));
  double air_c = lots.zones[zone].temp_c[setting];
  struct pw_curve_place place = {air_c, air_c, pw_stage_air_of(ev, pit)};
  struct pw_curve curve;
  st = pw_curve_make(&curve, &ev->cuts[cut], &place, row_every_min(&ev->cuts[cut]), &s->ctx);
  if (st != PW_OK)
    return st;
  struct pw_curve_head head = {.cut = &ev->cuts[cut],
                               .place = pw_arena_printf(s->ctx.arena, "%s, %s, %s, setting %s", ev->pits[pit].name,
                                                        lots.zones[zone].id + strlen(ev->pits[pit].id) + 1,
                                                        pw_format_temp(ev->units, air_c).s,
                                                        ev->pits[pit].settings[setting].name)};
  if (air_c < ev->cuts[cut].smoke.low_c || air_c > ev->cuts[cut].smoke.high_c)
    head.remark = "The catalog does not cook this cut at that temperature: a plan would not put it there.";
  struct pw_buf text = pw_buf_in(s->ctx.arena);
  st = head.place ? pw_text_curve(&text, &curve, &head, ev, &s->ctx) : PW_ERR_MEMORY;
  if (st == PW_OK && !pw_buf_text(&text))
    st = PW_ERR_MEMORY;
  if (st == PW_OK)
    fputs(pw_buf_text(&text), stdout); /* checked when the program ends */
  return st;
}

enum pw_exit pw_cmd_curve(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *catalogs = pw_catalog_dir(&s);
  struct pw_event *ev = NULL;
  pw_status st = catalogs ? read_event(&s, catalogs, &ev) : PW_ERR_IO;
  if (st == PW_OK && cli->units != PW_NONE)
    ev->units = (enum pw_units)cli->units;
  if (st == PW_OK)
    st = show(&s, ev);
  return pw_session_close(&s, pw_say_status(st));
}
