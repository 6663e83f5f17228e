/* resolve_trade.c - what buying adds to the event: amounts bought or used in another kind of unit than the item is
 * counted in, salt by the item's unit, the terms of suppliers by the names in offers, margin or food share.
 * In: raw items, suppliers and terms.  Out: amounts in item units; faults with their places. */
#include "read/resolve.h"

#include "base/date.h"
#include "base/format.h"
#include "base/nearest.h"

#include <string.h>

enum { SUPPLIERS_MAX = 12, RUNGS_MAX = 24 }; /* the supplier program looks at every set; each rung is a plan */

/* ---- amounts ---- */

static const enum pw_dim DIMS[] = {
    [PW_UNIT_KG] = PW_DIM_MASS, [PW_UNIT_L] = PW_DIM_VOLUME, [PW_UNIT_EACH] = PW_DIM_EACH};

/* Weight of one unit; 0 when nobody stated it. */
static double unit_kg(const struct pw_item *item, enum pw_unit unit)
{
  return unit == PW_UNIT_KG ? 1 : unit == PW_UNIT_L ? item->litre_kg : item->each_kg;
}

/* The kind of unit the text is written in, the item's own first; a bare number is none. */
static bool unit_find(const char *text, enum pw_unit own, enum pw_unit *unit, double *value)
{
  char why[512];
  *unit = own;
  if (!pw_quantity_parse(text, DIMS[own], value, why, sizeof why))
    return true;
  if (!pw_quantity_parse(text, PW_DIM_NUMBER, value, why, sizeof why))
    return false;
  for (int u = PW_UNIT_KG; u <= PW_UNIT_EACH; u++)
    if (u != (int)own && !pw_quantity_parse(text, DIMS[u], value, why, sizeof why)) {
      *unit = (enum pw_unit)u;
      return true;
    }
  return false;
}

bool pw_amount_read(const struct pw_node *node, const char *key, const struct pw_item *item, double *amount,
                    struct pw_reader *r)
{
  static const char *const counted[] = {"by weight", "by volume", "in pieces"}, *const keys[] = {NULL, "litre", "each"};
  enum pw_unit unit;
  double value;
  const char *text = pw_node_text(r, node, key);
  if (!text)
    return false;
  if (!unit_find(text, item->unit, &unit, &value) || unit == item->unit)
    return pw_node_quantity(r, node, key, DIMS[item->unit], amount); /* with its own words when it is none */
  const enum pw_unit both[] = {unit, item->unit};
  for (int i = 0; i < 2; i++)
    if (!(unit_kg(item, both[i]) > 0)) {
      pw_reader_fault(
          r, node, "bad-quantity",
          "\"%s\": \"%s\" is counted %s: write %s such as \"%s\", or say under \"weighs: {%s: ...}\" what %s "
          "of it weighs",
          key, item->id, counted[item->unit], pw_dim_noun(DIMS[item->unit]), pw_dim_example(DIMS[item->unit]),
          keys[both[i]], both[i] == PW_UNIT_L ? "a litre" : "one");
      return false;
    }
  *amount = value * unit_kg(item, unit) / unit_kg(item, item->unit);
  return true;
}

/* ---- suppliers, salt, terms ---- */

/* Offers that name a supplier. */
static int n_offers_of(const struct raw_event *raw, const char *name)
{
  int n = 0;
  for (int i = 0; i < raw->n_items; i++)
    for (int k = 0; k < raw->items[i].n_offers; k++)
      n += raw->items[i].offers[k].o.supplier && strcmp(raw->items[i].offers[k].o.supplier, name) == 0;
  return n;
}

/* Names that tell two shops of a kind apart by their last letter or by a number: "Shop A" and "Shop B", "Hall 1" and "Hall 11". */
static bool is_counted_name(const char *a, const char *b)
{
  char last_a = a[strlen(a) - 1], last_b = b[strlen(b) - 1];
  bool is_number = (last_a >= '0' && last_a <= '9') || (last_b >= '0' && last_b <= '9');
  return is_number || (last_a != last_b && strlen(a) == strlen(b));
}

/* A name of one offer only, a letter away from one that sells more: a slip of the pen would be a second delivery. */
static void warn_of_misspelt(const struct raw_event *raw, const struct raw_offer *offer, const char *const *names,
                             int n, struct pw_reader *r)
{
  const char *name = offer->o.supplier;
  for (int s = 0; s < raw->n_suppliers; s++)
    if (raw->suppliers[s].s.name && strcmp(raw->suppliers[s].s.name, name) == 0)
      return;
  for (int j = 0; j < n; j++)
    if (strlen(name) >= 5 && strcmp(names[j], name) != 0 && pw_edit_distance(name, names[j]) == 1 &&
        !is_counted_name(name, names[j]) && n_offers_of(raw, name) == 1 && n_offers_of(raw, names[j]) > 1) {
      pw_reader_warn(r, pw_node_get(offer->at, "supplier"), "supplier-name",
                     "\"%s\" sells this alone: did you mean \"%s\"? As written they are two suppliers", name, names[j]);
      return;
    }
}

static void suppliers_resolve(struct raw_event *raw, struct pw_reader *r)
{
  int n = 0, n_max = 0;
  for (int i = 0; i < raw->n_items; i++)
    n_max += raw->items[i].n_offers;
  const char **names = pw_reader_array(r, n_max, sizeof *names);
  if (!names)
    return;
  for (int i = 0; i < raw->n_items; i++)
    for (int k = 0; k < raw->items[i].n_offers; k++) {
      const char *name = raw->items[i].offers[k].o.supplier;
      bool is_known = !name;
      for (int j = 0; j < n && !is_known; j++)
        is_known = strcmp(names[j], name) == 0;
      if (!is_known)
        names[n++] = name;
    }
  for (int i = 0; i < raw->n_items; i++)
    for (int k = 0; k < raw->items[i].n_offers; k++)
      if (raw->items[i].offers[k].o.supplier)
        warn_of_misspelt(raw, &raw->items[i].offers[k], names, n, r);
  for (int s = 0; s < raw->n_suppliers; s++) {
    const struct raw_supplier *one = &raw->suppliers[s];
    bool is_known = false;
    if (!one->s.name)
      continue;
    for (int j = 0; j < n; j++)
      is_known = is_known || strcmp(names[j], one->s.name) == 0;
    if (!is_known && n > 0)
      pw_reader_fault(r, pw_node_get(one->at, "name"), "unknown-supplier", "no offer is from \"%s\"; %s",
                      pw_node_shown(r, pw_node_get(one->at, "name")),
                      pw_reader_suggest(r, one->s.name, names, n, sizeof *names, 0));
    for (int k = 0; k < s; k++)
      if (raw->suppliers[k].s.name && strcmp(raw->suppliers[k].s.name, one->s.name) == 0) {
        pw_reader_fault(r, one->at, "duplicate-id", "\"%s\" is listed twice: its terms belong in one place",
                        one->s.name);
        break;
      }
  }
  if (raw->n_suppliers > SUPPLIERS_MAX)
    pw_reader_fault(r, raw->suppliers[SUPPLIERS_MAX].at, "out-of-range",
                    "%d suppliers with terms of their own; at most %d can be weighed against each other",
                    raw->n_suppliers, SUPPLIERS_MAX);
}

static void salt_check(const struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_items; i++) {
    const struct raw_item *item = &raw->items[i];
    if (item->salt_frac > 0 && !(unit_kg(&item->i, item->i.unit) > 0))
      pw_reader_fault(r, pw_node_get(item->at, "salt"), "missing-key",
                      "\"salt\" is a share of the weight: \"%s\" needs \"weighs: {%s: ...}\" too", item->i.id,
                      item->i.unit == PW_UNIT_L ? "litre" : "each");
  }
}

static void terms_check(const struct raw_event *raw, struct pw_reader *r)
{
  if (!raw->terms_at || pw_reader_has_fault(r, raw->terms_at))
    return;
  const struct pw_node *share = pw_node_get(raw->terms_at, "food_share");
  if (raw->has_quoted && raw->ev.clock && pw_date_to_days(raw->ev.terms.quoted) > pw_date_to_days(raw->ev.date))
    pw_reader_fault(
        r, pw_node_get(raw->terms_at, "quoted"), "late-quote",
        "\"quoted\" is after the event's date: an offer is dated before the day it is for; is the year wrong?");
  if (raw->has_quoted_price && raw->ev.clock && !pw_reader_has_fault(r, raw->quoted_price_at) &&
      pw_date_to_days(raw->ev.terms.quoted_price_on) > pw_date_to_days(raw->ev.date))
    pw_reader_fault(r, pw_node_get(raw->quoted_price_at, "on"), "late-quote",
                    "\"on\" is after the event's date: an offer is dated before the day it is for; is the year wrong?");
  if (!raw->has_margin && !share)
    pw_reader_fault(r, raw->terms_at, "missing-key",
                    "the \"terms\" block needs \"margin\" (a share, such as \"margin: 22 %%\") or \"food_share\"");
  else if (raw->has_margin && share)
    pw_reader_fault(r, share, "two-ways",
                    "the price goes either by \"margin\" or by \"food_share\": leave one of them out");
}

/* The contract's price of a guest is the price named before; a price that is no whole coin a guest cannot be shown a guest. */
static void agreed_resolve(struct raw_event *raw, struct pw_reader *r)
{
  struct pw_terms *t = &raw->ev.terms;
  if (!raw->has_agreed || pw_reader_has_fault(r, raw->agreed_at) || t->agreed_guests < 1)
    return;
  const struct pw_node *per_guest = pw_node_get(raw->terms_at, "per_guest");
  if (raw->has_quoted_price || per_guest)
    pw_reader_fault(r, raw->agreed_at, "two-ways", "the price a guest is that of \"agreed\" already: leave \"%s\" out",
                    raw->has_quoted_price ? "quoted_price" : "per_guest");
  if (t->agreed_cents <= 0)
    pw_reader_fault(r, pw_node_get(raw->agreed_at, "price"), "out-of-range",
                    "\"price\": a contract has a price above 0");
  if (raw->ev.clock && pw_date_to_days(t->agreed_on) > pw_date_to_days(raw->ev.date))
    pw_reader_fault(r, pw_node_get(raw->agreed_at, "on"), "late-quote",
                    "\"on\" is after the event's date: a contract is signed before the day; is the year wrong?");
  t->quoted_per_guest_cents = (t->agreed_cents + t->agreed_guests - 1) / t->agreed_guests;
  t->quoted_price_on = t->agreed_on;
}

static void ladder_check(const struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_ladder_terms *l = &raw->ev.ladder;
  if (!raw->ladder_at || !(l->from > 0 && l->to > 0 && l->step > 0)) /* a field has its own fault */
    return;
  if (l->to < l->from)
    pw_reader_fault(r, raw->ladder_at, "out-of-range", "\"ladder\" goes up: \"to\" is below \"from\"");
  else if ((l->to - l->from) / l->step >= RUNGS_MAX)
    pw_reader_fault(r, raw->ladder_at, "out-of-range",
                    "\"ladder\" has %d head counts; at most %d are planned: take a larger \"step\"",
                    (l->to - l->from) / l->step + 1, RUNGS_MAX);
}

void pw_resolve_trade(struct raw_event *raw, struct pw_reader *r)
{
  suppliers_resolve(raw, r);
  salt_check(raw, r);
  terms_check(raw, r);
  if (raw->per_guest_cents > 0) { /* as a price named before, but on no day */
    raw->ev.terms.quoted_per_guest_cents = raw->per_guest_cents;
    raw->ev.terms.quoted_price_on = (struct pw_date){0};
  }
  agreed_resolve(raw, r);
  ladder_check(raw, r);
}
