/* resolve.c - names to indices in catalog entries, and their values whose type hangs on another entry: amounts by the
 * item's unit, prices by the kind of pack. */
#include "read/resolve.h"

#include <string.h>

/* ---- names ---- */

static const char *id_at(const void *array, int i, size_t size, size_t offset)
{
  const char *id;
  memcpy(&id, (const char *)array + (size_t)i * size + offset, sizeof id);
  return id;
}

int pw_index_of(const char *id, const void *array, int n, size_t size, size_t offset)
{
  for (int i = 0; i < n; i++)
    if (id_at(array, i, size, offset) && strcmp(id, id_at(array, i, size, offset)) == 0)
      return i;
  return PW_NONE;
}

/* Index of the entry a reference names; PW_NONE for no name, or after a fault. */
int pw_ref_index(const struct pw_ref *ref, enum pw_section section, const void *array, int n, struct pw_reader *r)
{
  const struct pw_table *table = pw_catalog_table(section);
  if (!ref->name)
    return PW_NONE;
  int i = pw_index_of(ref->name, array, n, table->size, table->id_offset);
  if (i == PW_NONE && (n > 0 || r->ctx->n_errors == 0)) /* none at all: their file has faults of its own */
    pw_reader_fault(r, ref->at, "unknown-id", "there is no %s \"%s\"; %s", pw_section_noun(section),
                    pw_node_shown(r, ref->at),
                    pw_reader_suggest(r, ref->name, array, n, table->size, table->id_offset));
  return i;
}

/* ---- items, uses ---- */

/* Words for packs that are never one piece. */
static bool holds_several(const char *pack)
{
  static const char *const words[] = {"case", "cases", "crate", "carton", "pallet"};
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (strcmp(pack, words[i]) == 0)
      return true;
  return false;
}

static void offer_resolve(struct raw_offer *offer, const struct pw_item *item, struct pw_reader *r)
{
  struct pw_offer *o = &offer->o;
  o->is_by_weight = !offer->has_holds;
  if (offer->has_holds && offer->has_pieces) {
    pw_reader_fault(r, offer->at, "two-ways",
                    "an offer has either \"pieces\" (whole pieces, price per weight) or \"holds\" (a pack at a "
                    "price), not both");
  } else if (offer->has_holds) {
    pw_cents cents;
    if (offer->holds && pw_amount_read(offer->holds, "holds", item, &o->amount, r) && o->amount <= 0)
      pw_reader_fault(r, offer->holds, "out-of-range", "\"holds\": a pack must hold something");
    if (offer->price && strstr(offer->price->text, "per "))
      pw_reader_fault(r, offer->price, "bad-price",
                      "\"price\": with \"holds\" write the price of the pack, such as 31.00 (with \"pieces\" "
                      "it is per weight)");
    else if (offer->price && pw_node_has_more_digits(r, offer->price))
      offer->is_finer = true; /* another currency's catalog: asked for only where the item is in use */
    else if (offer->price && pw_node_money(r, offer->price, "price", &cents))
      o->price_cents = (double)cents;
  } else {
    if (item->unit != PW_UNIT_KG)
      pw_reader_fault(r, offer->at, "missing-key",
                      "an offer of an item that is not counted in kg needs \"holds\": what the pack holds");
    if (!offer->has_pieces && item->unit == PW_UNIT_KG && o->pack && holds_several(o->pack))
      pw_reader_fault(
          r, offer->at, "missing-key",
          "a \"%s\" priced by weight needs \"pieces\": how many whole pieces it holds, such as \"pieces: 6\"", o->pack);
    if (!offer->has_pieces)
      o->pieces = 1;
    if (offer->price && item->unit == PW_UNIT_KG)
      pw_node_rate(r, offer->price, "price", PW_DIM_MASS, &o->price_cents);
  }
}

/* Ingredients by what they make. */
static void parts_resolve(struct raw_item *item, const struct raw_event *raw, struct pw_reader *r)
{
  struct pw_item *i = &item->i;
  const struct pw_node *made_of = pw_node_get(item->at, "made_of");
  double makes = 0;
  if (!made_of)
    return;
  if (item->n_offers > 0)
    pw_reader_fault(r, made_of, "two-ways", "an item is either bought (\"offers\") or mixed (\"made_of\"), not both");
  if (made_of->kind == PW_NODE_LIST && made_of->n == 0)
    pw_reader_fault(r, made_of, "no-value", "\"made_of\" is empty: list what goes into it");
  if (!item->makes)
    pw_reader_fault(r, item->at, "missing-key", "a recipe needs \"makes\": what its ingredients come to, such as 1 kg");
  else if (pw_amount_read(item->makes, "makes", i, &makes, r) && !(makes > 0))
    pw_reader_fault(r, item->makes, "out-of-range", "\"makes\": a recipe must come to something");
  i->parts = pw_reader_array(r, item->n_parts, sizeof *i->parts);
  for (int k = 0; i->parts && k < item->n_parts; k++) {
    struct pw_part *part = &i->parts[i->n_parts];
    part->item = pw_ref_index(&item->parts[k].item, PW_ITEMS, raw->items, raw->n_items, r);
    if (part->item == PW_NONE || !item->parts[k].amount ||
        !pw_amount_read(item->parts[k].amount, "amount", &raw->items[part->item].i, &part->amount, r))
      continue;
    if (part->amount < 0)
      pw_reader_fault(r, item->parts[k].amount, "out-of-range", "\"amount\": %s is not possible; it must be at least 0",
                      pw_node_shown(r, item->parts[k].amount));
    part->amount = makes > 0 ? part->amount / makes : 0;
    i->n_parts++;
  }
}

/* Longest chain of recipes below an item; more than there are items: it goes round. */
static int depth_of(const struct raw_event *raw, int item, int left)
{
  int deepest = 0;
  for (int k = 0; left > 0 && k < raw->items[item].i.n_parts; k++) {
    int d = 1 + depth_of(raw, raw->items[item].i.parts[k].item, left - 1);
    deepest = d > deepest ? d : deepest;
  }
  return left > 0 ? deepest : 1;
}

enum { DEEPEST = 8 }; /* a sauce with a rub in it with a spice mix in it: 3 */

static void recipes_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_items; i++)
    parts_resolve(&raw->items[i], raw, r);
  for (int i = 0; i < raw->n_items; i++)
    if (depth_of(raw, i, DEEPEST + 1) > DEEPEST)
      pw_reader_fault(r, pw_node_get(raw->items[i].at, "made_of"), "recipe-loop",
                      "\"%s\" is made of itself, or of recipes in more than %d steps", raw->items[i].i.id, DEEPEST);
}

static void items_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_items; i++) {
    struct raw_item *item = &raw->items[i];
    item->i.offers = pw_reader_array(r, item->n_offers, sizeof *item->i.offers);
    item->i.n_offers = item->n_offers;
    if (!item->i.offers)
      return;
    for (int k = 0; k < item->n_offers; k++) {
      offer_resolve(&item->offers[k], &item->i, r);
      item->i.offers[k] = item->offers[k].o;
    }
    const struct pw_node *offers = pw_node_get(item->at, "offers");
    const struct pw_node *made_of = pw_node_get(item->at, "made_of");
    if (!offers && !made_of)
      pw_reader_fault(r, item->at, "missing-key",
                      "an item needs \"offers\" (a list of packs with prices) or \"made_of\" (a recipe)");
    if (offers && offers->kind == PW_NODE_LIST && offers->n == 0)
      pw_reader_fault(r, offers, "no-offers", "\"offers\" is empty: an item needs at least one pack with a price");
  }
}

/* Fills out[n] from raw uses; `allowed` has a bit for each basis that makes sense here. */
struct pw_use *pw_uses_resolve(const struct raw_event *raw, const struct raw_use *uses, int n, unsigned allowed,
                               const char *where, struct pw_reader *r)
{
  struct pw_use *out = pw_reader_array(r, n, sizeof *out);
  for (int i = 0; out && i < n; i++) {
    out[i].per = uses[i].per;
    out[i].item = pw_ref_index(&uses[i].item, PW_ITEMS, raw->items, raw->n_items, r);
    if (!(allowed >> uses[i].per & 1u))
      pw_reader_fault(r, pw_node_get(uses[i].at, "per"), "bad-basis", "this \"per\" makes no sense %s", where);
    if (!uses[i].amount || out[i].item == PW_NONE)
      continue;
    const struct pw_item *item = &raw->items[out[i].item].i;
    if (pw_amount_read(uses[i].amount, "amount", item, &out[i].amount, r) && out[i].amount < 0)
      pw_reader_fault(r, uses[i].amount, "out-of-range", "\"amount\": %s is not possible; it must be at least 0",
                      pw_node_shown(r, uses[i].amount));
  }
  return out;
}

/* ---- cuts, dishes, fuels, pits, finishers
 * ---------------------------------------------------------------------------- */

static void cuts_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_cuts; i++) {
    struct raw_cut *cut = &raw->cuts[i];
    if (!cut->has_wrapped_length)
      cut->c.wrapped_length_m = cut->c.length_m;
    if (!cut->has_wrapped_width)
      cut->c.wrapped_width_m = cut->c.width_m;
    cut->c.item = pw_ref_index(&cut->item, PW_ITEMS, raw->items, raw->n_items, r);
    cut->c.uses = pw_uses_resolve(raw, cut->uses, cut->n_uses, PW_BASES_CUT,
                                  "for a cut: write piece, kg-raw, service or event", r);
    cut->c.n_uses = cut->n_uses;
    cut->c.brine.item =
        cut->c.brine.is_used ? pw_ref_index(&cut->brine_item, PW_ITEMS, raw->items, raw->n_items, r) : PW_NONE;
    cut->c.chill_uses = pw_uses_resolve(raw, cut->chill_uses, cut->n_chill_uses, PW_BASES_CUT,
                                        "for a chilled cut: write piece, kg-raw, service or event", r);
    cut->c.n_chill_uses = cut->n_chill_uses;
  }
}

/* A portion is a weight, or a count with "each". */
bool pw_portion_read(const struct pw_node *node, bool *is_by_count, double *kg, double *units, struct pw_reader *r)
{
  char why[512];
  double value;
  *is_by_count = !pw_quantity_parse(node->text, PW_DIM_EACH, &value, why, sizeof why);
  if (*is_by_count && !pw_quantity_parse(node->text, PW_DIM_NUMBER, &value, why, sizeof why)) {
    pw_reader_fault(r, node, "bad-quantity",
                    "\"portion\": \"%s\" has no unit; write a weight such as \"5 oz\" or a count such as "
                    "\"2 each\"",
                    pw_node_shown(r, node));
    return false;
  }
  if (!*is_by_count && !pw_node_quantity(r, node, "portion", PW_DIM_MASS, &value))
    return false;
  if (value <= 0 || value > (*is_by_count ? 100 : 3)) { /* 3 kg */
    pw_reader_fault(r, node, "out-of-range",
                    "\"portion\": %s is not possible; a portion is more than nothing and at most 3 kg or 100 each",
                    pw_node_shown(r, node));
    return false;
  }
  *kg = *is_by_count ? 0 : value;
  *units = *is_by_count ? value : 0;
  return true;
}

/* Meat from the pit, else by the first thing that goes in. */
static enum pw_course course_of(const struct raw_event *raw, const struct pw_dish *d)
{
  static const enum pw_course courses[PW_CAT__COUNT] = {
      [PW_CAT_MEAT] = PW_COURSE_SIDE,       [PW_CAT_SIDE] = PW_COURSE_SIDE,       [PW_CAT_BREAD] = PW_COURSE_BREAD,
      [PW_CAT_SAUCE] = PW_COURSE_SAUCE,     [PW_CAT_SEASONING] = PW_COURSE_SAUCE, [PW_CAT_DRINK] = PW_COURSE_DRINK,
      [PW_CAT_DISPOSABLE] = PW_COURSE_SIDE, [PW_CAT_SUPPLY] = PW_COURSE_SIDE,     [PW_CAT_FUEL] = PW_COURSE_SIDE};
  if (d->cut != PW_NONE)
    return raw->cuts[d->cut].c.kind == PW_KIND_PLANT ? PW_COURSE_SIDE : PW_COURSE_PIT;
  return d->n_uses > 0 && d->uses && d->uses[0].item != PW_NONE ? courses[raw->items[d->uses[0].item].i.category]
                                                                : PW_COURSE_SIDE;
}

static void dishes_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_dishes; i++) {
    struct raw_dish *dish = &raw->dishes[i];
    struct pw_dish *d = &dish->d;
    d->cut = pw_ref_index(&dish->cut, PW_CUTS, raw->cuts, raw->n_cuts, r);
    unsigned allowed = dish->cut.name ? (unsigned)PW_BASES_DISH | PW_BASES_CUT : PW_BASES_DISH;
    d->uses = pw_uses_resolve(raw, dish->uses, dish->n_uses, allowed,
                              "for a dish without a cut: write portion, guest, service or event", r);
    d->n_uses = dish->n_uses;
    d->is_taken_by_class = dish->take_of != NULL;
    if (!dish->has_course)
      d->course = course_of(raw, d);
    if (dish->portion)
      pw_portion_read(dish->portion, &d->is_by_count, &d->portion_kg, &d->portion_units, r);
  }
}

static void fuels_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_fuels; i++)
    raw->fuels[i].f.item = pw_ref_index(&raw->fuels[i].item, PW_ITEMS, raw->items, raw->n_items, r);
}

static void rack_resolve(struct raw_rack *rack, struct pw_reader *r)
{
  struct pw_rack *k = &rack->r;
  if (k->outline == PW_DISC) {
    if (!rack->has_diameter || rack->has_length || rack->has_depth)
      pw_reader_fault(r, rack->at, "bad-rack", "a disc needs \"diameter\" and neither \"length\" nor \"depth\"");
    if (k->n_zones > 1)
      pw_reader_fault(r, rack->at, "bad-rack", "a disc is one zone: write \"zones: 1\"");
    k->length_m = k->depth_m = rack->diameter_m;
  } else if (!rack->has_length || !rack->has_depth || rack->has_diameter) {
    pw_reader_fault(r, rack->at, "bad-rack", "a rectangle needs \"length\" and \"depth\", and no \"diameter\"");
  }
}

/* Thermometers at the racks of the pit. */
static void setting_resolve(struct raw_setting *setting, const struct raw_pit *pit, struct pw_reader *r)
{
  struct pw_setting *s = &setting->s;
  s->n_probes = setting->n_probes;
  s->probes = pw_reader_array(r, setting->n_probes, sizeof *s->probes);
  for (int i = 0; s->probes && i < setting->n_probes; i++) {
    struct raw_probe *probe = &setting->probes[i];
    if (!probe->rack.name)
      continue;
    int k =
        pw_index_of(probe->rack.name, pit->racks, pit->n_racks, sizeof *pit->racks, offsetof(struct raw_rack, r.id));
    probe->p.rack = k;
    if (k == PW_NONE)
      pw_reader_fault(r, probe->rack.at, "unknown-id", "pit \"%s\" has no rack \"%s\"; %s", pit->p.id,
                      pw_node_shown(r, probe->rack.at),
                      pw_reader_suggest(r, probe->rack.name, pit->racks, pit->n_racks, sizeof *pit->racks,
                                        offsetof(struct raw_rack, r.id)));
    else if (probe->p.x_m > pit->racks[k].r.length_m + 1e-9)
      pw_reader_fault(r, probe->at, "out-of-range", "this thermometer hangs beyond the end of rack \"%s\"",
                      probe->rack.name);
    s->probes[i] = probe->p;
  }
}

static void pits_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_pits_read; i++) {
    struct raw_pit *pit = &raw->pits[i];
    struct pw_pit *p = &pit->p;
    p->wood = pw_ref_index(&pit->wood, PW_FUELS, raw->fuels, raw->n_fuels, r);
    p->charcoal = pw_ref_index(&pit->charcoal, PW_FUELS, raw->fuels, raw->n_fuels, r);
    if (p->start_charcoal_kg > 0 && !pit->charcoal.name)
      pw_reader_fault(r, pit->at, "missing-key",
                      "the fire of pit \"%s\" starts with charcoal: name it with \"charcoal_fuel\"", p->id);
    p->racks = pw_reader_array(r, pit->n_racks, sizeof *p->racks);
    p->n_racks = pit->n_racks;
    for (int k = 0; p->racks && k < pit->n_racks; k++) {
      rack_resolve(&pit->racks[k], r);
      p->racks[k] = pit->racks[k].r;
      if (p->racks[k].level < 0)
        p->racks[k].level = k;
    }
    for (int k = 0; p->racks && pit->has_trays && k < p->n_racks; k++)
      for (int low = 0; low < p->n_racks; low++)
        p->racks[k].has_tray_below = p->racks[k].has_tray_below || p->racks[low].level < p->racks[k].level;
    p->settings = pw_reader_array(r, pit->n_settings, sizeof *p->settings);
    p->n_settings = pit->n_settings;
    for (int k = 0; p->settings && k < pit->n_settings; k++) {
      setting_resolve(&pit->settings[k], pit, r);
      p->settings[k] = pit->settings[k].s;
    }
  }
}

static void finishers_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_finishers_read; i++) {
    struct raw_finisher *fin = &raw->finishers[i];
    struct pw_finisher *f = &fin->f;
    if (fin->has_area == fin->has_pans)
      pw_reader_fault(r, fin->at, "two-ways",
                      "\"%s\" needs either \"area\" (of its shelves) or \"pans\" (full-size pans it takes)", f->id);
    else if (fin->has_area && f->kind == PW_HOLD)
      pw_reader_fault(r, fin->at, "bad-kind", "\"%s\" is a box for hot hold: say how many \"pans\" it takes", f->id);
    f->is_in_pans = fin->has_pans;
    f->capacity = fin->has_pans ? fin->pans : fin->area_m2;
  }
}

void pw_resolve_entries(struct raw_event *raw, struct pw_reader *r)
{
  items_resolve(raw, r);
  recipes_resolve(raw, r);
  fuels_resolve(raw, r);
  cuts_resolve(raw, r);
  dishes_resolve(raw, r);
  pits_resolve(raw, r);
  finishers_resolve(raw, r);
}
