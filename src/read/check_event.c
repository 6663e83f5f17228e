/* check_event.c - does it hang together: faults that no single field shows.  Each entry is checked in itself (what the
 * menu reaches against the pits: check_fit.c).  A value with a fault of its own is left out of every comparison. */
#include "base/format.h"
#include "read/check_fit.h"
#include "read/resolve.h"

#include <math.h>
#include <string.h>

/* ---- two values of one entry ---- */

struct spot {
  const char *block, *key; /* block NULL: the entry itself */
};

static const struct pw_node *node_at(const struct pw_node *entry, struct spot s)
{
  return pw_node_get(s.block ? pw_node_get(entry, s.block) : entry, s.key);
}

/* Where a fault between two values is shown: at the one the event file changed, else at the first.  NULL when one of
 * them is not written or has a fault of its own. */
static const struct pw_node *between(const struct pw_node *entry, struct spot a, struct spot b,
                                     const struct pw_reader *r)
{
  const struct pw_node *x = node_at(entry, a), *y = node_at(entry, b);
  if (!x || !y || pw_reader_has_fault(r, x) || pw_reader_has_fault(r, y))
    return NULL;
  return x->origin->is_catalog && !y->origin->is_catalog ? y : x;
}

/* Fault when `is_bad`, worded by `text` with the entry's id. */
static void check_pair(bool is_bad, const struct pw_node *entry, struct spot a, struct spot b, const char *code,
                       const char *id, const char *text, struct pw_reader *r)
{
  const struct pw_node *at = is_bad ? between(entry, a, b, r) : NULL;
  if (at)
    pw_reader_fault(r, at, code, "\"%s\"%s%s: %s", id, a.block ? ", " : "", a.block ? a.block : "", text);
}

static void stage_check(const struct raw_cut *cut, const struct pw_stage *s, const char *block, struct pw_reader *r)
{
  struct spot low = {block, "low"}, high = {block, "high"}, best = {block, "best"}, from = {block, "from"};
  struct spot to = {block, "to"}, ref = {block, "at"};
  const struct pw_node *at = cut->at;
  const char *id = cut->c.id;
  check_pair(s->low_c > s->high_c, at, low, high, "temp-order", id, "\"low\" is hotter than \"high\"", r);
  check_pair(s->best_c < s->low_c, at, best, low, "temp-order", id, "\"best\" is colder than \"low\"", r);
  check_pair(s->best_c > s->high_c, at, best, high, "temp-order", id, "\"best\" is hotter than \"high\"", r);
  check_pair(s->from_c >= s->to_c, at, from, to, "temp-order", id, "the core must get hotter: \"to\" above \"from\"",
             r);
  check_pair(s->to_c >= s->low_c, at, low, to, "temp-order", id, "air at \"low\" never brings the core to \"to\"", r);
  if (!s->is_over_coals && s->turns > 0)
    pw_reader_fault(r, node_at(at, (struct spot){block, "turns"}), "turns-no-coals",
                    "\"%s\", %s: only what lies over coals is turned: add \"coals: true\"", id, block);
  if (!s->is_over_coals && s->is_on_spit)
    pw_reader_fault(r, node_at(at, (struct spot){block, "spit"}), "spit-no-coals",
                    "\"%s\", %s: a spit turns over coals: add \"coals: true\"", id, block);
  check_pair(s->to_c >= s->ref_c, at, ref, to, "temp-order", id,
             "air \"at\" this temperature never brings the core to \"to\"", r);
}

/* Least core temperature by the FDA Food Code 2022. */
static double food_code_core_c(enum pw_safety safety)
{
  switch (safety) {
  case PW_SAFE_INTACT:
    return (145 - 32) / 1.8; /* 3-401.11(A)(1) */
  case PW_SAFE_TENDERIZED:
  case PW_SAFE_GROUND:
    return (155 - 32) / 1.8; /* 3-401.11(A)(2) */
  case PW_SAFE_POULTRY:
  case PW_SAFE_REHEATED:
    return (165 - 32) / 1.8; /* 3-401.11(A)(3), 3-403.11(A) */
  default:
    return (135 - 32) / 1.8; /* 3-401.13, 3-403.11(C) */
  }
}

static void cut_check(const struct raw_cut *cut, enum pw_units units, struct pw_reader *r)
{
  const struct pw_cut *c = &cut->c;
  const struct pw_node *at = cut->at;
  const char *last = c->finish.is_used ? "finish" : "smoke";
  struct spot core = {"rest", "serve_core"}, last_to = {last, "to"};
  const double more = 1 + 1e-9;
  stage_check(cut, &c->smoke, "smoke", r);
  if (c->finish.is_used) {
    struct spot finish_from = {"finish", "from"}, smoke_to = {"smoke", "to"};
    stage_check(cut, &c->finish, "finish", r);
    const struct pw_node *gap = between(at, finish_from, smoke_to, r);
    if (gap && fabs(c->finish.from_c - c->smoke.to_c) > 3)
      pw_reader_warn(r, gap, "stage-gap",
                     "\"%s\" leaves the smoke with one core temperature and starts the finish with another", c->id);
    check_pair(c->wrapped_length_m > c->length_m * more, at, (struct spot){"piece", "wrapped_length"},
               (struct spot){"piece", "length"}, "wrapped-larger", c->id,
               "wrapped it cannot be longer than raw: it shrinks", r);
    check_pair(c->wrapped_width_m > c->width_m * more, at, (struct spot){"piece", "wrapped_width"},
               (struct spot){"piece", "width"}, "wrapped-larger", c->id,
               "wrapped it cannot be wider than raw: it shrinks", r);
  }
  check_pair((c->finish.is_used ? c->finish.to_c : c->smoke.to_c) < c->serve_core_c - 0.1, at, last_to, core,
             "core-low", c->id, "it is taken off before its core reaches \"serve_core\" of its rest block", r);
  const struct pw_node *core_at = between(at, core, core, r);
  if (core_at && c->serve_core_c < food_code_core_c(c->safety) - 0.1)
    pw_reader_warn(r, core_at, "food-code",
                   "\"serve_core\" of \"%s\" is below %s, the FDA Food Code temperature for its kind: other "
                   "times and rules apply then",
                   c->id, pw_format_temp(units, food_code_core_c(c->safety)).s);
  double thick_m = c->shape == PW_SHAPE_SLAB ? c->height_m : fmax(c->height_m, c->width_m);
  check_pair(2 * c->half_m > 1.1 * thick_m, at, (struct spot){"piece", "half"}, (struct spot){"piece", "height"},
             "too-thick", c->id, "\"half\" is half of the thickness: twice that is more than the piece is high", r);
  check_pair(c->piece_sd_kg > c->piece_kg / 2, at, (struct spot){"piece", "spread"}, (struct spot){"piece", "weight"},
             "out-of-range", c->id, "the spread is more than half of the weight", r);
  if (c->brine.is_used) {
    struct spot least = {"brine", "least"}, most = {"brine", "most"};
    check_pair(c->brine.least_min > c->brine.most_min, at, least, most, "brine-order", c->id,
               "\"least\" is longer than \"most\"", r);
    bool is_in_uses = false;
    for (int i = 0; i < c->n_uses; i++)
      is_in_uses = is_in_uses || c->uses[i].item == c->brine.item;
    if (!is_in_uses && (c->brine.item != PW_NONE || !cut->brine_item.name))
      pw_reader_fault(r, pw_node_get(at, "brine"), "brine-of-nothing",
                      "the brine of \"%s\" needs an \"item\" that stands in its \"uses\" too, with its amount", c->id);
  }
  if (!cut->item.name && cut->n_uses == 0)
    pw_reader_fault(r, at, "nothing-bought", "\"%s\" has neither \"item\" nor \"uses\": nothing would be bought for it",
                    c->id);
}

/* ---- pits in themselves ---- */

static void pit_check(const struct raw_pit *pit, struct pw_reader *r)
{
  const char *id = pit->p.id;
  const struct pw_node *settings = pw_node_get(pit->at, "settings"), *racks = pw_node_get(pit->at, "racks");
  for (int i = 0; i < pit->n_settings; i++)
    check_pair(pit->settings[i].s.cool_c > pit->settings[i].s.hot_c, pit->settings[i].at, (struct spot){NULL, "hot"},
               (struct spot){NULL, "cool"}, "temp-order", id, "the \"hot\" end is colder than the \"cool\" end", r);
  if (settings && settings->kind == PW_NODE_LIST && settings->n == 0)
    pw_reader_fault(r, settings, "no-value", "pit \"%s\" needs at least one setting", id);
  if (racks && racks->kind == PW_NODE_LIST && racks->n == 0)
    pw_reader_fault(r, racks, "no-value", "pit \"%s\" needs at least one rack", id);
  for (int i = 0; i < pit->n_racks; i++)
    for (int k = 0; k < i; k++)
      if (pit->racks[i].r.id && pit->racks[k].r.id && strcmp(pit->racks[i].r.id, pit->racks[k].r.id) == 0)
        pw_reader_fault(r, pit->racks[i].at, "duplicate-id", "pit \"%s\" has two racks \"%s\"", id, pit->racks[i].r.id);
}

/* ---- the event ---- */

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
  const struct pw_node *deposit = node_at(raw->at, (struct spot){"terms", "deposit"});
  if (sum > 1 + 1e-9)
    pw_reader_fault(r, deposit ? deposit : pw_node_get(raw->at, "instalments"), "out-of-range",
                    "deposit and instalments come to %s: more than the whole", pw_format_percent(sum).s);
}

void pw_event_check(const struct raw_event *raw, const bool *cut_used, const bool *dish_used, struct pw_reader *r)
{
  lists_check(raw, r);
  terms_check(raw, r);
  check_pair(raw->ev.weather.low_c > raw->ev.weather.high_c, raw->weather_at, (struct spot){NULL, "low"},
             (struct spot){NULL, "high"}, "temp-order", "weather", "\"low\" is warmer than \"high\"", r);
  for (int i = 0; i < raw->n_pits_read; i++)
    pit_check(&raw->pits[i], r);
  for (int i = 0; i < raw->n_cuts; i++)
    cut_check(&raw->cuts[i], raw->ev.units, r);
  for (int i = 0; i < raw->n_dishes; i++)
    if (dish_used[i] && !raw->dishes[i].cut.name && raw->dishes[i].n_uses == 0)
      pw_reader_warn(r, raw->dishes[i].at, "nothing-bought",
                     "dish \"%s\" has neither \"cut\" nor \"uses\": nothing is bought for it", raw->dishes[i].d.id);
  if (r->ctx->n_errors == 0) /* half-read entries would only give false alarms */
    pw_fit_check(raw, cut_used, r);
}
