/* check_fit.c - what the menus ask against what is there: each cut needs a zone for its smoke and one, or an oven, for its finish;
 * each pit on the job must take something; the days must be no more than can be planned. */
#include "read/check_fit.h"

#include "base/format.h"
#include "heat/coals.h"
#include "heat/fit.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* A cook's limits for air in a smoke: hotter is roasting or a slip of the unit.  common practice, no source */
#define SMOKE_AIR_MOST_C  220.0
#define SMOKE_AIR_LEAST_C 80.0 /* what is left when a slip of the unit is put right */

/* ---- a cut against all pits ---- */

static double zone_length_m(const struct pw_rack *k) { return k->length_m / (k->n_zones > 0 ? k->n_zones : 1); }

static bool fits_rack(const struct pw_cut *c, const struct pw_rack *rack)
{
  for (int k = 0; k < rack->n_zones; k++)
    if (pw_fit_room(c, false, rack, k) == PW_FITS)
      return true;
  return false;
}

/* What the pits on the job offer one cut. */
struct offer {
  bool has_own, fits;
  double coolest_c, hottest_c;   /* of the racks it fits on */
  const struct pw_rack *largest; /* zone, by area */
};

/* Of the kind a cut's open stage wants: over coals or not, a grate or a spit. */
static bool is_kind(const struct pw_pit *p, const struct pw_cut *c)
{
  return p->is_over_coals == c->smoke.is_over_coals && (!p->is_over_coals || p->coals.is_spit == c->smoke.is_on_spit);
}

/* A pit on the job is. */
static bool has_kind(const struct raw_event *raw, const struct pw_cut *c)
{
  for (int i = 0; i < raw->n_pits; i++)
    if (is_kind(&raw->pits[i].p, c))
      return true;
  return false;
}

static struct offer pits_offer(const struct raw_event *raw, const struct pw_cut *c)
{
  struct offer o = {.coolest_c = INFINITY, .hottest_c = -INFINITY};
  for (int i = 0; i < raw->n_pits; i++) {
    const struct pw_pit *p = &raw->pits[i].p;
    o.has_own = o.has_own || !p->is_rentable;
    if (!is_kind(p, c) && has_kind(raw, c))
      continue;
    for (int k = 0; k < p->n_racks; k++) {
      const struct pw_rack *rack = &p->racks[k];
      if (!o.largest || zone_length_m(rack) * rack->depth_m > zone_length_m(o.largest) * o.largest->depth_m)
        o.largest = rack;
      if (!fits_rack(c, rack))
        continue;
      o.fits = true;
      for (int m = 0; m < p->n_settings; m++) {
        o.coolest_c = fmin(o.coolest_c, p->settings[m].cool_c + rack->offset_c);
        o.hottest_c = fmax(o.hottest_c, p->settings[m].hot_c + rack->offset_c);
      }
    }
  }
  return o;
}

/* What forbids most of a pit's zones to a stage; PW_FITS when some zone at some setting takes it. */
static enum pw_fit pit_bar(const struct pw_pit *p, const struct pw_cut *c, bool is_finish)
{
  int n[PW_FIT__COUNT] = {0};
  for (int rack = 0; rack < p->n_racks; rack++)
    for (int k = 0; k < p->racks[rack].n_zones; k++)
      for (int s = 0; s < p->n_settings; s++)
        n[pw_fit_zone(c, is_finish, p, rack, k, s)]++;
  if (n[PW_FITS] > 0)
    return PW_FITS;
  enum pw_fit worst = PW_FIT_NO_STAGE;
  for (int why = 0; why < PW_FIT__COUNT; why++)
    if (n[why] > n[worst])
      worst = (enum pw_fit)why;
  return worst;
}

static bool is_run_by_pit(const struct raw_event *raw, const struct pw_cut *c, bool is_finish)
{
  for (int i = 0; i < raw->n_pits; i++)
    if (pit_bar(&raw->pits[i].p, c, is_finish) == PW_FITS)
      return true;
  return false;
}

static bool is_run_by_oven(const struct raw_event *raw, const struct pw_cut *c)
{
  for (int i = 0; i < raw->n_finishers; i++)
    if (pw_fit_oven(c, &raw->finishers[i].f) == PW_FITS)
      return true;
  return false;
}

static void no_room(const struct pw_cut *c, const struct pw_rack *k, enum pw_units units, const struct pw_node *at,
                    struct pw_reader *r)
{
  pw_reader_fault(r, at, "no-room",
                  "one piece of \"%s\" takes %s x %s with its clearance and is %s high: no zone of a rack on the job "
                  "has room for it (the largest is %s x %s, %s high)",
                  c->id, pw_format_length(units, c->length_m + c->clearance_m).s,
                  pw_format_length(units, c->width_m + c->clearance_m).s, pw_format_length(units, c->height_m).s,
                  pw_format_length(units, zone_length_m(k)).s, pw_format_length(units, k->depth_m).s,
                  pw_format_length(units, k->clear_height_m).s);
}

static void cut_against_pits(const struct raw_event *raw, const struct pw_cut *c, const struct pw_node *at,
                             struct pw_reader *r)
{
  struct offer o = pits_offer(raw, c);
  enum pw_units units = raw->ev.units;
  if (!o.has_own)
    pw_reader_fault(r, at, "no-pit", "\"%s\" is on the menu, but %s: list one under \"pits:\"", c->id,
                    raw->n_pits ? "the only pits on the job are for hire" : "no pit is on the job");
  else if (!o.fits && o.largest)
    no_room(c, o.largest, units, at, r);
  else if (!is_run_by_pit(raw, c, false) && c->smoke.is_on_spit && !has_kind(raw, c))
    pw_reader_fault(r, at, "no-spit",
                    "\"%s\" turns on a spit over coals, and no pit on the job is one (its \"coals\" block with "
                    "\"spit: true\", such as spit)",
                    c->id);
  else if (!is_run_by_pit(raw, c, false) && c->smoke.is_over_coals && !has_kind(raw, c))
    pw_reader_fault(r, at, "no-coals",
                    "\"%s\" lies over glowing coals, and no pit on the job is a grate over coals (one with a \"coals\" "
                    "block, such as parrilla, braai-grid or kettle-grate)",
                    c->id);
  else if (!is_run_by_pit(raw, c, false))
    pw_reader_fault(r, at, "no-heat",
                    "the smoke of \"%s\" needs %s to %s; the racks on the job with room for it run at %s to %s", c->id,
                    pw_format_temp(units, c->smoke.low_c).s, pw_format_temp(units, c->smoke.high_c).s,
                    pw_format_temp(units, o.coolest_c).s, pw_format_temp(units, o.hottest_c).s);
  else if (c->finish.is_used && !is_run_by_pit(raw, c, true) && !is_run_by_oven(raw, c))
    pw_reader_fault(r, at, "no-heat", "the finish of \"%s\" needs %s to %s; no pit on the job%s runs there", c->id,
                    pw_format_temp(units, c->finish.low_c).s, pw_format_temp(units, c->finish.high_c).s,
                    c->finish.in_oven ? " and no oven" : "");
}

/* Where a reached cut is asked for: the first menu line with a dish of it. */
static const struct pw_node *asked_at(const struct raw_event *raw, int cut)
{
  for (int i = 0; i < raw->n_services; i++)
    for (int k = 0; k < raw->services[i].n_menu; k++) {
      const struct raw_menu_line *line = &raw->services[i].menu[k];
      for (int d = 0; line->dish.name && d < raw->n_dishes; d++)
        if (raw->dishes[d].d.cut == cut && strcmp(raw->dishes[d].d.id, line->dish.name) == 0)
          return line->at;
    }
  for (int i = 0; i < raw->n_services; i++)
    for (int k = 0; k < raw->services[i].n_options; k++) {
      const struct raw_menu_line *line = &raw->services[i].options[k].line;
      for (int d = 0; line->dish.name && d < raw->n_dishes; d++)
        if (raw->dishes[d].d.cut == cut && strcmp(raw->dishes[d].d.id, line->dish.name) == 0)
          return line->at;
    }
  return raw->at;
}

/* ---- a pit against all cuts ---- */

static double hottest_c(const struct pw_pit *p)
{
  double most = -INFINITY;
  for (int s = 0; s < p->n_settings; s++)
    most = fmax(most, p->settings[s].hot_c);
  return most;
}

static double coolest_c(const struct pw_pit *p)
{
  double least = INFINITY;
  for (int s = 0; s < p->n_settings; s++)
    least = fmin(least, p->settings[s].cool_c);
  return least;
}

/* "brisket too low (3 in of height, it needs 4 in)" */
static const char *bar_words(const struct pw_pit *p, const struct pw_cut *c, enum pw_fit why, enum pw_units units,
                             struct pw_reader *r)
{
  double height_m = 0, length_m = 0, depth_m = 0;
  for (int k = 0; k < p->n_racks; k++) {
    height_m = fmax(height_m, p->racks[k].clear_height_m);
    length_m = fmax(length_m, p->racks[k].length_m);
    depth_m = fmax(depth_m, p->racks[k].depth_m);
  }
  const char *words = pw_fit_words(why);
  switch (why) {
  case PW_FIT_TOO_LOW:
    return pw_reader_printf(r, "%s for %s (%s clear, a piece is %s high)", words, c->id,
                            pw_format_length(units, height_m).s, pw_format_length(units, c->height_m).s);
  case PW_FIT_TOO_SHORT:
  case PW_FIT_TOO_NARROW:
    return pw_reader_printf(r, "%s for %s (racks of %s x %s, a piece with its clearance is %s x %s)", words, c->id,
                            pw_format_length(units, length_m).s, pw_format_length(units, depth_m).s,
                            pw_format_length(units, c->length_m + c->clearance_m).s,
                            pw_format_length(units, c->width_m + c->clearance_m).s);
  case PW_FIT_COALS:
    return pw_reader_printf(r, "a grate over coals, where %s does not lie", c->id);
  case PW_FIT_SPIT:
    return pw_reader_printf(r, "a spit, and %s lies on a grate", c->id);
  case PW_FIT_NO_SPIT:
    return pw_reader_printf(r, "no spit for %s to turn on", c->id);
  case PW_FIT_NO_COALS:
    return pw_reader_printf(r, "no coals for %s to lie over", c->id);
  default:
    return pw_reader_printf(r, "%s for %s (%s to %s, it needs %s to %s)", words, c->id,
                            pw_format_temp(units, coolest_c(p)).s, pw_format_temp(units, hottest_c(p)).s,
                            pw_format_temp(units, c->smoke.low_c).s, pw_format_temp(units, c->smoke.high_c).s);
  }
}

enum { CUTS_NAMED = 4 };

/* A pit that takes no stage of any cut on the menus.  One for hire does no harm: a warning. */
static void pit_against_cuts(const struct raw_event *raw, const struct raw_pit *pit, const bool *cut_used,
                             struct pw_reader *r)
{
  const char *words = "";
  int n_cuts = 0;
  for (int i = 0; i < raw->n_cuts; i++) {
    const struct pw_cut *c = &raw->cuts[i].c;
    if (!cut_used[i])
      continue;
    enum pw_fit why = pit_bar(&pit->p, c, false);
    if (why == PW_FITS || (c->finish.is_used && pit_bar(&pit->p, c, true) == PW_FITS))
      return;
    if (n_cuts < CUTS_NAMED)
      words = pw_reader_printf(r, "%s%s%s", words, n_cuts ? "; " : "", bar_words(&pit->p, c, why, raw->ev.units, r));
    n_cuts++;
  }
  if (n_cuts == 0)
    return;
  if (n_cuts > CUTS_NAMED)
    words = pw_reader_printf(r, "%s; and so on for %d more", words, n_cuts - CUTS_NAMED);
  if (pit->p.is_rentable)
    pw_reader_warn(r, pit->at, "pit-idle", "pit \"%s\", on offer, takes nothing of these menus: %s", pit->p.id, words);
  else
    pw_reader_fault(
        r, pit->at, "pit-idle",
        "pit \"%s\" takes nothing of these menus: %s; change its settings or racks, or leave it off \"pits:\"",
        pit->p.id, words);
}

/* ---- air of a roast, not of a smoke ---- */

/* Hotter than a smoke by the number meant in the other unit, which would be a smoke: "285 C" for 285 F. */
static bool is_unit_slip(const struct pw_node *node, double temp_c)
{
  size_t n = node && node->text ? strlen(node->text) : 0;
  double meant_c = (temp_c - 32) / 1.8;
  return n > 0 && toupper((unsigned char)node->text[n - 1]) == 'C' && meant_c >= SMOKE_AIR_LEAST_C &&
         meant_c <= SMOKE_AIR_MOST_C;
}

static void air_check(const struct pw_node *entry, const char *key, double temp_c, const char *whose,
                      enum pw_units units, struct pw_reader *r)
{
  const struct pw_node *at = pw_node_get(entry, key);
  if (!at || temp_c <= SMOKE_AIR_MOST_C || pw_reader_has_fault(r, at))
    return;
  struct pw_short limit = pw_format_temp(units, SMOKE_AIR_MOST_C);
  if (is_unit_slip(at, temp_c))
    pw_reader_fault(r, at, "air-hot", "\"%s\": %s of %s is %.0f F: a smoke stays below %s; did you mean %.0f F?", key,
                    pw_node_shown(r, at), whose, temp_c * 1.8 + 32, limit.s, temp_c);
  else
    pw_reader_fault(r, at, "air-hot", "\"%s\": %s of %s is hotter than a smoke, which stays below %s", key,
                    pw_node_shown(r, at), whose, limit.s);
}

/* A grate cannot be hotter than a bed that glows all over makes it. */
static void coals_check(const struct raw_pit *pit, enum pw_units units, struct pw_reader *r)
{
  double most_c = -INFINITY;
  for (int k = 0; k < pit->p.n_racks; k++)
    most_c = fmax(most_c, pw_coals_grate_most_c(&pit->p.coals, &pit->p.racks[k]) + pit->p.racks[k].offset_c);
  for (int s = 0; s < pit->n_settings; s++) {
    const struct pw_node *at = pw_node_get(pit->settings[s].at, "hot");
    if (at && pit->settings[s].s.hot_c > most_c && !pw_reader_has_fault(r, at))
      pw_reader_fault(
          r, at, "coals-hot",
          "\"hot\": %s of pit \"%s\": a bed of %s that glows all over, %s below the grate, makes %s there at most",
          pw_node_shown(r, at), pit->p.id, pw_format_temp(units, pit->p.coals.bed_c).s,
          pw_format_length(units, pit->p.coals.height_m).s, pw_format_temp(units, most_c).s);
  }
}

static void airs_check(const struct raw_event *raw, const bool *cut_used, struct pw_reader *r)
{
  enum pw_units units = raw->ev.units;
  for (int i = 0; i < raw->n_pits; i++) {
    const char *whose = pw_reader_printf(r, "pit \"%s\"", raw->pits[i].p.id);
    if (raw->pits[i].p.is_over_coals) {
      if (raw->pits[i].p.coals.height_m > 0 && raw->pits[i].p.n_racks > 0)
        coals_check(&raw->pits[i], units, r);
      continue;
    }
    for (int s = 0; s < raw->pits[i].n_settings; s++) {
      const struct raw_setting *set = &raw->pits[i].settings[s];
      air_check(set->at, "hot", set->s.hot_c, whose, units, r);
      air_check(set->at, "cool", set->s.cool_c, whose, units, r);
    }
  }
  for (int i = 0; i < raw->n_cuts; i++) {
    const struct pw_node *smoke = pw_node_get(raw->cuts[i].at, "smoke");
    const struct pw_stage *s = &raw->cuts[i].c.smoke;
    if (!cut_used[i] || !smoke || s->is_over_coals)
      continue;
    const char *whose = pw_reader_printf(r, "the smoke of \"%s\"", raw->cuts[i].c.id);
    air_check(smoke, "at", s->ref_c, whose, units, r);
    air_check(smoke, "low", s->low_c, whose, units, r);
    air_check(smoke, "best", s->best_c, whose, units, r);
    air_check(smoke, "high", s->high_c, whose, units, r);
  }
}

/* ---- how much is planned at all ---- */

static bool is_cold_before(const struct raw_service *s)
{
  for (int k = 0; k < s->s.n_menu; k++)
    if (s->s.menu[k].is_day_before)
      return true;
  return false;
}

static const struct pw_node *cold_line(const struct raw_service *s)
{
  for (int k = 0; k < s->n_menu; k++)
    if (s->menu[k].cook_day == 1)
      return s->menu[k].at;
  return s->at;
}

static void days_check(const struct raw_event *raw, struct pw_reader *r)
{
  int first = 0, last = 0, cold = PW_NONE;
  for (int i = 0; i < raw->n_services; i++) {
    int day = raw->services[i].s.day;
    first = i == 0 || day < first ? day : first;
    last = i == 0 || day > last ? day : last;
  }
  int span = last - first + 1;
  for (int i = 0; i < raw->n_services && cold == PW_NONE; i++)
    if (raw->services[i].s.day == first && is_cold_before(&raw->services[i]))
      cold = i;
  if (span > PW_DAYS_MAX)
    for (int i = 0; i < raw->n_services; i++) {
      if (raw->services[i].s.day == last) {
        pw_reader_fault(r, raw->services[i].at, "too-large",
                        "the services span %d days; at most %d are planned at once: split the event", span,
                        PW_DAYS_MAX);
        return;
      }
    }
  else if (cold != PW_NONE && span + 1 > PW_DAYS_MAX)
    pw_reader_fault(r, cold_line(&raw->services[cold]), "too-large",
                    "\"cook\": with the day before the first service the job spans %d days; at most %d are planned at "
                    "once: cook it on the "
                    "day, or split the event",
                    span + 1, PW_DAYS_MAX);
}

void pw_fit_check(const struct raw_event *raw, const bool *cut_used, struct pw_reader *r)
{
  days_check(raw, r);
  for (int i = 0; i < raw->n_pits; i++)
    if (raw->pits[i].n_settings > PW_SETTINGS_MAX)
      pw_reader_fault(r, pw_node_get(raw->pits[i].at, "settings"), "too-large",
                      "pit \"%s\" has %d settings; at most %d are planned", raw->pits[i].p.id, raw->pits[i].n_settings,
                      PW_SETTINGS_MAX);
  airs_check(raw, cut_used, r);
  if (r->ctx->n_errors > 0) /* half-read entries would only give false alarms */
    return;
  for (int i = 0; i < raw->n_cuts; i++)
    if (cut_used[i])
      cut_against_pits(raw, &raw->cuts[i].c, asked_at(raw, i), r);
  if (r->ctx->n_errors > 0) /* a cut without any place says it already */
    return;
  for (int i = 0; i < raw->n_pits; i++)
    pit_against_cuts(raw, &raw->pits[i], cut_used, r);
}
