/* check_event.c - does it hang together: faults that no single field shows.  Only what the menu reaches is checked
 * against the pits; each entry is checked in itself. */
#include "read/resolve.h"

#include <math.h>
#include <string.h>

/* Place of a key inside an entry (path "smoke/best"), or of the entry. */
static const struct pw_node *place(const struct pw_node *entry, const char *block, const char *key)
{
  const struct pw_node *map = block ? pw_node_get(entry, block) : entry;
  const struct pw_node *node = key ? pw_node_get(map, key) : NULL;
  return node ? node : map ? map : entry;
}

/* ---- cuts in themselves -------------------------------------------------------------------------------------------
 */

static void stage_check(const struct raw_cut *cut, const struct pw_stage *s, const char *block, struct pw_reader *r)
{
  if (s->ref_min == 0 || s->low_c == 0 || s->high_c == 0 || s->best_c == 0 || s->to_c == 0)
    return; /* a field of it is a fault already */
  if (s->low_c > s->high_c)
    pw_reader_fault(r, place(cut->at, block, "low"), "temp-order", "%s of \"%s\": \"low\" is hotter than \"high\"",
                    block, cut->c.id);
  else if (s->best_c < s->low_c || s->best_c > s->high_c)
    pw_reader_fault(r, place(cut->at, block, "best"), "temp-order",
                    "%s of \"%s\": \"best\" does not lie between \"low\" and \"high\"", block, cut->c.id);
  if (s->from_c >= s->to_c)
    pw_reader_fault(r, place(cut->at, block, "to"), "temp-order",
                    "%s of \"%s\": the core must get hotter (\"to\" above \"from\")", block, cut->c.id);
  if (s->to_c >= s->low_c)
    pw_reader_fault(r, place(cut->at, block, "low"), "temp-order",
                    "%s of \"%s\": air at \"low\" never brings the core to \"to\"", block, cut->c.id);
  if (s->to_c >= s->ref_c)
    pw_reader_fault(r, place(cut->at, block, "at"), "temp-order",
                    "%s of \"%s\": air \"at\" this temperature never brings the core to "
                    "\"to\"",
                    block, cut->c.id);
}

/* Least core temperature by the Food Code, or 0.  FDA Food Code 2022. */
static double food_code_core_c(enum pw_safety safety)
{
  switch (safety) {
  case PW_SAFE_INTACT:
    return (145 - 32) / 1.8; /* 3-401.11(A)(1) */
  case PW_SAFE_TENDERIZED:
  case PW_SAFE_GROUND:
    return (155 - 32) / 1.8; /* 3-401.11(A)(2) */
  case PW_SAFE_POULTRY:
    return (165 - 32) / 1.8; /* 3-401.11(A)(3) */
  default:
    return (135 - 32) / 1.8; /* 3-401.13, 3-403.11(C) */
  }
}

static void cut_check(const struct raw_cut *cut, struct pw_reader *r)
{
  const struct pw_cut *c = &cut->c;
  stage_check(cut, &c->smoke, "smoke", r);
  if (c->finish.is_used) {
    stage_check(cut, &c->finish, "finish", r);
    if (c->finish.to_c != 0 && fabs(c->finish.from_c - c->smoke.to_c) > 3)
      pw_reader_warn(r, place(cut->at, "finish", "from"), "stage-gap",
                     "\"%s\" leaves the smoke with one core temperature and starts the "
                     "finish with another",
                     c->id);
    if (c->wrapped_length_m > c->length_m * (1 + 1e-9) || c->wrapped_width_m > c->width_m * (1 + 1e-9))
      pw_reader_fault(r,
                      place(cut->at, "piece", c->wrapped_length_m > c->length_m ? "wrapped_length" : "wrapped_width"),
                      "wrapped-larger", "a wrapped \"%s\" cannot be larger than it was raw: it shrinks", c->id);
  }
  double last_c = c->finish.is_used ? c->finish.to_c : c->smoke.to_c;
  if (c->serve_core_c > 0 && last_c > 0 && last_c < c->serve_core_c - 0.1)
    pw_reader_fault(r, place(cut->at, c->finish.is_used ? "finish" : "smoke", "to"), "core-low",
                    "\"%s\" is taken off before its core reaches "
                    "\"serve_core\" of its rest block",
                    c->id);
  if (c->serve_core_c > 0 && c->serve_core_c < food_code_core_c(c->safety) - 0.1)
    pw_reader_warn(r, place(cut->at, "rest", "serve_core"), "food-code",
                   "\"serve_core\" of \"%s\" is below the FDA Food Code temperature for "
                   "its kind (%.0f F / %.0f C): other times and rules apply then",
                   c->id, food_code_core_c(c->safety) * 1.8 + 32, food_code_core_c(c->safety));
  double thick_m = c->shape == PW_SHAPE_SLAB ? c->height_m : fmax(c->height_m, c->width_m);
  if (c->half_m > 0 && thick_m > 0 && 2 * c->half_m > 1.1 * thick_m)
    pw_reader_fault(r, place(cut->at, "piece", "half"), "too-thick",
                    "\"half\" of \"%s\" is half of its thickness: twice that is more than the "
                    "piece is high",
                    c->id);
  if (c->piece_kg > 0 && c->piece_sd_kg > c->piece_kg / 2)
    pw_reader_fault(r, place(cut->at, "piece", "spread"), "out-of-range",
                    "\"spread\" of \"%s\" is more than half of its weight", c->id);
  if (!cut->item.name && cut->n_uses == 0)
    pw_reader_fault(r, cut->at, "nothing-bought",
                    "\"%s\" has neither \"item\" nor \"uses\": nothing would be bought for it", c->id);
}

/* ---- pits in themselves -------------------------------------------------------------------------------------------
 */

static void pit_check(const struct raw_pit *pit, struct pw_reader *r)
{
  const struct pw_pit *p = &pit->p;
  const struct pw_node *settings = pw_node_get(pit->at, "settings"), *racks = pw_node_get(pit->at, "racks");
  for (int i = 0; i < p->n_settings; i++)
    if (p->settings[i].hot_c != 0 && p->settings[i].cool_c > p->settings[i].hot_c)
      pw_reader_fault(r, settings && settings->kind == PW_NODE_LIST && i < settings->n ? settings->items[i] : pit->at,
                      "temp-order", "pit \"%s\": the \"hot\" end is colder than the \"cool\" end", p->id);
  if (settings && settings->kind == PW_NODE_LIST && settings->n == 0)
    pw_reader_fault(r, settings, "no-value", "pit \"%s\" needs at least one setting", p->id);
  if (racks && racks->kind == PW_NODE_LIST && racks->n == 0)
    pw_reader_fault(r, racks, "no-value", "pit \"%s\" needs at least one rack", p->id);
  for (int i = 0; i < pit->n_racks; i++)
    for (int k = 0; k < i; k++)
      if (pit->racks[i].r.id && pit->racks[k].r.id && strcmp(pit->racks[i].r.id, pit->racks[k].r.id) == 0)
        pw_reader_fault(r, pit->racks[i].at, "duplicate-id", "pit \"%s\" has two racks \"%s\"", p->id,
                        pit->racks[i].r.id);
}

/* ---- cuts against the pits ------------------------------------------------------------------------------------------
 */

/* One piece, clearance included, inside one zone of the rack. */
static bool fits_rack(const struct pw_cut *c, const struct pw_rack *k)
{
  const double slack_m = 1e-9;
  double a = c->length_m + c->clearance_m, b = c->width_m + c->clearance_m;
  if (c->height_m > k->clear_height_m + slack_m)
    return false;
  if (k->outline == PW_DISC)
    return hypot(a, b) <= k->length_m + slack_m;
  double length_m = k->length_m / (k->n_zones > 0 ? k->n_zones : 1) + slack_m, depth_m = k->depth_m + slack_m;
  return (a <= length_m && b <= depth_m) || (c->may_turn && b <= length_m && a <= depth_m);
}

/* Some rack of some pit reaches a temperature of low..high and, when asked, has room for the piece. */
static bool is_run_by_pit(const struct raw_event *raw, const struct pw_cut *c, const struct pw_stage *s,
                          bool needs_room)
{
  for (int i = 0; i < raw->n_pits; i++) {
    const struct pw_pit *p = &raw->pits[i].p;
    for (int k = 0; k < p->n_racks; k++)
      for (int m = 0; m < p->n_settings; m++) {
        double top_c = p->settings[m].hot_c + p->racks[k].offset_c,
               end_c = p->settings[m].cool_c + p->racks[k].offset_c;
        if (top_c >= s->low_c && end_c <= s->high_c && (!needs_room || fits_rack(c, &p->racks[k])))
          return true;
      }
  }
  return false;
}

static bool is_run_by_oven(const struct raw_event *raw, const struct pw_stage *s)
{
  for (int i = 0; i < raw->n_finishers; i++) {
    const struct pw_finisher *f = &raw->finishers[i].f;
    if (f->kind == PW_OVEN && s->in_oven && f->temp_c >= s->low_c && f->temp_c <= s->high_c)
      return true;
  }
  return false;
}

static void cut_against_pits(const struct raw_event *raw, const struct raw_cut *cut, const struct pw_node *at,
                             struct pw_reader *r)
{
  const struct pw_cut *c = &cut->c;
  bool fits = false, has_own = false;
  for (int i = 0; i < raw->n_pits; i++) {
    has_own = has_own || !raw->pits[i].p.is_rentable;
    for (int k = 0; k < raw->pits[i].n_racks; k++)
      fits = fits || fits_rack(c, &raw->pits[i].p.racks[k]);
  }
  if (!has_own) {
    pw_reader_fault(r, at, "no-pit", "\"%s\" is on the menu, but %s: list one under \"pits:\"", c->id,
                    raw->n_pits ? "the only pits on the job are for hire" : "no pit is on the job");
  } else if (!fits) {
    pw_reader_fault(
        r, at, "no-room",
        "one piece of \"%s\" with its clearance fits on no rack of the pits on the job, either way round: its "
        "length, width or height is larger than every rack's zone",
        c->id);
  } else if (!is_run_by_pit(raw, c, &c->smoke, true)) {
    pw_reader_fault(r, at, "no-heat",
                    "no pit on the job with room for \"%s\" runs between \"low\" and \"high\" of its smoke", c->id);
  } else if (c->finish.is_used && !is_run_by_pit(raw, c, &c->finish, false) && !is_run_by_oven(raw, &c->finish)) {
    pw_reader_fault(r, at, "no-heat",
                    "no pit and no oven on the job runs between \"low\" and \"high\" of the finish of \"%s\"", c->id);
  }
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
  return raw->at;
}

/* ---- the event ------------------------------------------------------------------------------------------------------
 */

static void lists_check(const struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_node *services = pw_node_get(raw->at, "services");
  if (services && services->kind == PW_NODE_LIST && services->n == 0)
    pw_reader_fault(r, services, "no-value", "\"services\" is empty: a job needs at least one meal");
  for (int i = 0; i < raw->n_services; i++) {
    const struct pw_node *menu = pw_node_get(raw->services[i].at, "menu");
    if (menu && menu->kind == PW_NODE_LIST && menu->n == 0)
      pw_reader_fault(r, menu, "no-value", "\"menu\" of service \"%s\" is empty: list at least one dish",
                      raw->services[i].s.id ? raw->services[i].s.id : "?");
  }
}

static void terms_check(const struct raw_event *raw, struct pw_reader *r)
{
  double sum = raw->ev.terms.deposit_frac;
  for (int i = 0; i < raw->ev.n_instalments; i++)
    sum += raw->ev.instalments[i].frac;
  if (sum > 1 + 1e-9)
    pw_reader_fault(r, place(raw->at, "terms", "deposit"), "out-of-range",
                    "deposit and instalments come to %.4g %%: more than the whole", sum * 100);
}

void pw_event_check(const struct raw_event *raw, const bool *cut_used, const bool *dish_used, struct pw_reader *r)
{
  lists_check(raw, r);
  terms_check(raw, r);
  if (raw->ev.weather.low_c > raw->ev.weather.high_c)
    pw_reader_fault(r, place(raw->at, "weather", "low"), "temp-order",
                    "\"low\" of the weather is warmer than \"high\"");
  for (int i = 0; i < raw->n_pits; i++)
    pit_check(&raw->pits[i], r);
  for (int i = 0; i < raw->n_cuts; i++)
    cut_check(&raw->cuts[i], r);
  for (int i = 0; i < raw->n_dishes; i++)
    if (dish_used[i] && !raw->dishes[i].cut.name && raw->dishes[i].n_uses == 0)
      pw_reader_warn(r, raw->dishes[i].at, "nothing-bought",
                     "dish \"%s\" has neither \"cut\" nor \"uses\": nothing is bought for it", raw->dishes[i].d.id);
  if (r->ctx->n_errors > 0) /* half-read entries would only give false alarms */
    return;
  for (int i = 0; i < raw->n_cuts; i++)
    if (cut_used[i])
      cut_against_pits(raw, &raw->cuts[i], asked_at(raw, i), r);
}
