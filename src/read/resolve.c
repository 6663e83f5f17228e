/* resolve.c - names to indices, and the values whose type hangs on another entry: amounts by the item's unit, prices by
 * the kind of pack, times by the zone.  Then only what the menu reaches is kept, in order of id, so that the order of
 * keys in a file never shows in the event. */
#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "read/raw.h"

#include <stdlib.h>
#include <string.h>

/* ---- names ------------------------------------------------------------------------------------------------------- */

static const char *id_at(const void *array, int i, size_t size, size_t offset)
{
  const char *id;
  memcpy(&id, (const char *)array + (size_t)i * size + offset, sizeof id);
  return id;
}

static int index_of(const char *id, const void *array, int n, size_t size, size_t offset)
{
  for (int i = 0; i < n; i++)
    if (strcmp(id, id_at(array, i, size, offset)) == 0)
      return i;
  return PW_NONE;
}

/* Index of the entry a reference names; PW_NONE for no name, or after a fault. */
static int ref_index(const struct pw_ref *ref, enum pw_section section, const void *array, int n, struct pw_reader *r)
{
  static const char *const what[] = {"cut", "dish", "item", "pit", "finisher", "fuel"};
  const struct pw_table *table = pw_catalog_table(section);
  if (!ref->name)
    return PW_NONE;
  int i = index_of(ref->name, array, n, table->size, table->id_offset);
  if (i == PW_NONE)
    pw_reader_fault(r, ref->at, "unknown-id", "there is no %s \"%s\"; %s", what[section], pw_node_shown(r, ref->at),
                     pw_reader_suggest(r, ref->name, array, n, table->size, table->id_offset));
  return i;
}

/* ---- items, uses -------------------------------------------------------------------------------------------------- */

static enum pw_dim dim_of(enum pw_unit unit)
{
  return unit == PW_UNIT_KG ? PW_DIM_MASS : unit == PW_UNIT_L ? PW_DIM_VOLUME : PW_DIM_EACH;
}

static void offer_resolve(struct raw_offer *offer, const struct pw_item *item, struct pw_reader *r)
{
  struct pw_offer *o = &offer->o;
  o->is_by_weight = !offer->has_holds;
  if (offer->has_holds && offer->has_pieces) {
    pw_reader_fault(r, offer->at, "two-ways", "an offer has either \"pieces\" (whole pieces, price per weight) or \"holds\" (a pack at a "
                     "price), not both");
  } else if (offer->has_holds) {
    pw_cents cents;
    if (offer->holds && pw_node_quantity(r, offer->holds, "holds", dim_of(item->unit), &o->amount) && o->amount <= 0)
      pw_reader_fault(r, offer->holds, "out-of-range", "\"holds\": a pack must hold something");
    if (offer->price && strstr(offer->price->text, "per "))
      pw_reader_fault(r, offer->price, "bad-price", "\"price\": with \"holds\" write the price of the pack, such as 31.00 (with \"pieces\" "
                       "it is per weight)");
    else if (offer->price && pw_node_money(r, offer->price, "price", &cents))
      o->price_cents = (double)cents;
  } else {
    if (item->unit != PW_UNIT_KG)
      pw_reader_fault(r, offer->at, "missing-key", "an offer of an item that is not counted in kg needs \"holds\": what the pack holds");
    if (!offer->has_pieces)
      o->pieces = 1;
    if (offer->price && item->unit == PW_UNIT_KG)
      pw_node_rate(r, offer->price, "price", PW_DIM_MASS, &o->price_cents);
  }
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
    if (offers && offers->kind == PW_NODE_LIST && offers->n == 0)
      pw_reader_fault(r, offers, "no-offers", "\"offers\" is empty: an item needs at least one pack with a price");
  }
}

/* Fills out[n] from raw uses; `allowed` has a bit for each basis that makes sense here. */
static struct pw_use *uses_resolve(const struct raw_event *raw, const struct raw_use *uses, int n, unsigned allowed, const char *where,
                                   struct pw_reader *r)
{
  struct pw_use *out = pw_reader_array(r, n, sizeof *out);
  for (int i = 0; out && i < n; i++) {
    out[i].per = uses[i].per;
    out[i].item = ref_index(&uses[i].item, PW_ITEMS, raw->items, raw->n_items, r);
    if (!(allowed >> uses[i].per & 1u))
      pw_reader_fault(r, uses[i].item.at, "bad-basis", "this \"per\" makes no sense %s", where);
    if (!uses[i].amount || out[i].item == PW_NONE)
      continue;
    const struct pw_item *item = &raw->items[out[i].item].i;
    if (pw_node_quantity(r, uses[i].amount, "amount", dim_of(item->unit), &out[i].amount) && out[i].amount < 0)
      pw_reader_fault(r, uses[i].amount, "out-of-range", "\"amount\": %s cannot be; it must be at least 0",
                       pw_node_shown(r, uses[i].amount));
  }
  return out;
}

enum {
  PER_DISH = 1u << PW_PER_PORTION | 1u << PW_PER_GUEST | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT,
  PER_CUT = 1u << PW_PER_PIECE | 1u << PW_PER_KG_RAW | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT,
  PER_EVENT = 1u << PW_PER_GUEST | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT
};

/* ---- cuts, dishes, fuels, pits, finishers ---------------------------------------------------------------------------- */

static void cuts_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_cuts; i++) {
    struct raw_cut *cut = &raw->cuts[i];
    if (!cut->has_wrapped_length)
      cut->c.wrapped_length_m = cut->c.length_m;
    if (!cut->has_wrapped_width)
      cut->c.wrapped_width_m = cut->c.width_m;
    cut->c.item = ref_index(&cut->item, PW_ITEMS, raw->items, raw->n_items, r);
    cut->c.uses = uses_resolve(raw, cut->uses, cut->n_uses, PER_CUT, "for a cut: write piece, kg-raw, service or event", r);
    cut->c.n_uses = cut->n_uses;
  }
}

/* A portion is a weight, or a count with "each". */
static bool portion_read(const struct pw_node *node, bool *is_by_count, double *kg, double *units, struct pw_reader *r)
{
  char why[512];
  double value;
  *is_by_count = !pw_quantity_parse(node->text, PW_DIM_EACH, &value, why, sizeof why);
  if (*is_by_count && !pw_quantity_parse(node->text, PW_DIM_NUMBER, &value, why, sizeof why)) {
    pw_reader_fault(r, node, "bad-quantity", "\"portion\": \"%s\" has no unit; write a weight such as \"5 oz\" or a count such as "
                     "\"2 each\"", pw_node_shown(r, node));
    return false;
  }
  if (!*is_by_count && !pw_node_quantity(r, node, "portion", PW_DIM_MASS, &value))
    return false;
  if (value <= 0 || value > (*is_by_count ? 100 : 3)) { /* 3 kg */
    pw_reader_fault(r, node, "out-of-range", "\"portion\": %s cannot be; a portion is above nothing and at most 3 kg or 100 each",
                     pw_node_shown(r, node));
    return false;
  }
  *kg = *is_by_count ? 0 : value;
  *units = *is_by_count ? value : 0;
  return true;
}

static void dishes_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_dishes; i++) {
    struct raw_dish *dish = &raw->dishes[i];
    struct pw_dish *d = &dish->d;
    d->cut = ref_index(&dish->cut, PW_CUTS, raw->cuts, raw->n_cuts, r);
    unsigned allowed = dish->cut.name ? (unsigned)PER_DISH | PER_CUT : PER_DISH;
    d->uses = uses_resolve(raw, dish->uses, dish->n_uses, allowed,
                           "for a dish without a cut: write portion, guest, service or event", r);
    d->n_uses = dish->n_uses;
    if (dish->portion)
      portion_read(dish->portion, &d->is_by_count, &d->portion_kg, &d->portion_units, r);
  }
}

static void fuels_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_fuels; i++)
    raw->fuels[i].f.item = ref_index(&raw->fuels[i].item, PW_ITEMS, raw->items, raw->n_items, r);
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

static void pits_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_pits; i++) {
    struct raw_pit *pit = &raw->pits[i];
    struct pw_pit *p = &pit->p;
    p->wood = ref_index(&pit->wood, PW_FUELS, raw->fuels, raw->n_fuels, r);
    p->charcoal = ref_index(&pit->charcoal, PW_FUELS, raw->fuels, raw->n_fuels, r);
    if (p->start_charcoal_kg > 0 && !pit->charcoal.name)
      pw_reader_fault(r, pit->at, "missing-key", "the fire of pit \"%s\" starts with charcoal: name it with \"charcoal_fuel\"", p->id);
    p->racks = pw_reader_array(r, pit->n_racks, sizeof *p->racks);
    p->n_racks = pit->n_racks;
    for (int k = 0; p->racks && k < pit->n_racks; k++) {
      rack_resolve(&pit->racks[k], r);
      p->racks[k] = pit->racks[k].r;
    }
  }
}

static void finishers_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_finishers; i++) {
    struct raw_finisher *fin = &raw->finishers[i];
    struct pw_finisher *f = &fin->f;
    if (fin->has_area == fin->has_pans)
      pw_reader_fault(r, fin->at, "two-ways", "\"%s\" needs either \"area\" (of its shelves) or \"pans\" (full-size pans it takes)", f->id);
    else if (fin->has_area && f->kind == PW_HOLD)
      pw_reader_fault(r, fin->at, "bad-kind", "\"%s\" is a box for hot hold: say how many \"pans\" it takes", f->id);
    f->is_in_pans = fin->has_pans;
    f->capacity = fin->has_pans ? fin->pans : fin->area_m2;
  }
}

/* ---- times -------------------------------------------------------------------------------------------------------- */

/* "17:30" or "2027-06-11 20:00"; `day` is used for the former.  False after a fault. */
static bool time_read(const struct pw_node *node, const char *key, struct pw_date day, const struct pw_event *ev, int *at_min,
                      struct pw_reader *r)
{
  const char *text = node->text, *clock_text = text;
  int hour, minute, number;
  char head[11] = "";
  if (strlen(text) == 16 && (text[10] == ' ' || text[10] == 'T')) {
    memcpy(head, text, 10);
    clock_text = text + 11;
  }
  if (*head && strspn(head, "0123456789-") == 10 && head[4] == '-' && head[7] == '-' && !pw_date_parse(head, &day)) {
    pw_reader_fault(r, node, "bad-date", "\"%s\": there is no %s in the calendar", key, head);
    return false;
  }
  if ((*head && !pw_date_parse(head, &day)) || !pw_hhmm_parse(clock_text, &hour, &minute)) {
    if (pw_int_parse(text, 0, 1439, &number) && number >= 60)
      pw_reader_fault(r, node, "bad-time", "\"%s\": %s is not a time; some programs turn %02d:%02d without quotes into this number: write "
                       "\"%02d:%02d\" in quotes", key, text, number / 60, number % 60, number / 60, number % 60);
    else
      pw_reader_fault(r, node, "bad-time", "\"%s\": \"%s\" is not a time of day; write hours (00 to 23) and minutes such as \"17:30\", or "
                       "\"2027-06-11 20:00\" for another day", key, pw_node_shown(r, node));
    return false;
  }
  if (!ev->clock)
    return false;
  int days = pw_date_to_days(day) - pw_date_to_days(ev->date);
  if (days < -60 || days > 60) {
    pw_reader_fault(r, node, "far-date", "\"%s\": this day is %d days from the event's date: is the year or the month wrong?", key, days);
    return false;
  }
  switch (pw_clock_at_min(ev->clock, day, hour, minute, at_min)) {
  case PW_LOCAL_SKIPPED:
    pw_reader_fault(r, node, "no-such-time", "\"%s\": %02d:%02d does not exist on %04d-%02d-%02d in %s: clocks go forward in that night",
                     key, hour, minute, day.year, day.month, day.day, ev->zone);
    return false;
  case PW_LOCAL_TWICE:
    pw_reader_warn(r, node, "time-twice", "\"%s\": %02d:%02d comes twice on %04d-%02d-%02d in %s (clocks go back); the first is taken", key,
                    hour, minute, day.year, day.month, day.day, ev->zone);
    return true;
  default:
    return true;
  }
}

static void zone_resolve(struct raw_event *raw, struct pw_reader *r)
{
  struct pw_event *ev = &raw->ev;
  struct pw_clock *clock;
  char near[80];
  if (!raw->zone.name || ev->date.year == 0)
    return;
  ev->zone = raw->zone.name;
  switch (pw_clock_open(&clock, ev->zone, ev->date, r->ctx)) {
  case PW_OK:
    ev->clock = clock;
    ev->utc_offset_min = pw_clock_local(clock, 0).utc_offset_min;
    break;
  case PW_ERR_MEMORY:
    r->is_out_of_memory = true;
    break;
  case PW_ERR_IO:
    pw_reader_fault(r, raw->zone.at, "bad-zone", "\"zone\": the rules of \"%s\" on this computer cannot be read",
                     pw_node_shown(r, raw->zone.at));
    break;
  default:
    if (pw_zone_nearest(ev->zone, near, sizeof near))
      pw_reader_fault(r, raw->zone.at, "bad-zone", "\"zone\": there is no time zone \"%s\"; did you mean \"%s\"?",
                       pw_node_shown(r, raw->zone.at), near);
    else
      pw_reader_fault(r, raw->zone.at, "bad-zone", "\"zone\": there is no time zone \"%s\"; write a name such as America/Chicago or "
                       "Europe/Berlin", pw_node_shown(r, raw->zone.at));
  }
}

static void head_resolve(struct raw_event *raw, struct pw_reader *r)
{
  struct pw_event *ev = &raw->ev;
  zone_resolve(raw, r);
  ev->is_head_count_sum = raw->head_count == 1;
  if (ev->slot_min != 0 && ev->slot_min != 15 && ev->slot_min != 30 && ev->slot_min != 60)
    pw_reader_fault(r, pw_node_get(raw->event_at, "grid"), "out-of-range", "\"grid\": the planning grid is 15, 30 or 60 min");
  if (!raw->currency.name)
    return;
  ev->currency = raw->currency.name;
  ev->money_digits = r->money_digits;
  if (!(ev->money_sign = pw_currency_sign(ev->currency, r)))
    pw_reader_fault(r, raw->currency.at, "bad-currency", "\"currency\": \"%s\" is not a currency; write its three capital letters, such as "
                     "USD or EUR", pw_node_shown(r, raw->currency.at));
}

/* ---- guests, services, crew ------------------------------------------------------------------------------------------- */

static void classes_resolve(struct raw_event *raw, struct pw_reader *r)
{
  struct pw_event *ev = &raw->ev;
  if (ev->n_classes == 0) {
    if (!(ev->classes = pw_reader_array(r, 1, sizeof *ev->classes)))
      return;
    ev->classes[0] = (struct pw_guest_class){.id = "adults", .name = "Adults", .appetite_frac = 1, .eats_meat = true};
    ev->n_classes = 1;
  }
  for (int i = 0; i < ev->n_classes; i++)
    if (!ev->classes[i].name)
      ev->classes[i].name = ev->classes[i].id;
}

static void guests_resolve(struct raw_service *service, const struct pw_event *ev, struct pw_reader *r)
{
  const struct pw_node *map = service->guests;
  int sum = 0;
  service->s.guests = pw_reader_array(r, ev->n_classes, sizeof *service->s.guests);
  if (!service->s.guests || !map)
    return;
  for (int i = 0; i < map->n; i++) {
    const struct pw_pair *pair = &map->pairs[i];
    const char *text = pw_node_text(r, pair->value, pair->key);
    struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
    int n = 0, k = index_of(pair->key, ev->classes, ev->n_classes, sizeof *ev->classes, offsetof(struct pw_guest_class, id));
    if (k == PW_NONE)
      pw_reader_fault(r, &place, "unknown-id", "there is no class of guests \"%s\"; %s", pair->key,
                       pw_reader_suggest(r, pair->key, ev->classes, ev->n_classes, sizeof *ev->classes, offsetof(struct pw_guest_class, id)));
    else if (text && !pw_int_parse(text, 0, 20000, &n))
      pw_reader_fault(r, pair->value, "bad-number", "\"%s\": \"%s\" is not a number of guests; write a whole number from 0 to 20000",
                       pair->key, pw_node_shown(r, pair->value));
    else if (k != PW_NONE)
      service->s.guests[k] = n;
    sum += n;
    if (!text || k == PW_NONE)
      sum++; /* a fault already: do not add "no guests" */
  }
  if (sum == 0)
    pw_reader_fault(r, map, "no-guests", "service \"%s\" has no guests", service->s.id ? service->s.id : "?");
}

static int menu_order(const void *a, const void *b)
{
  const struct pw_menu_line *x = a, *y = b;
  return (x->dish > y->dish) - (x->dish < y->dish); /* dishes lie in order of id */
}

static void menu_resolve(struct raw_service *service, const struct raw_event *raw, struct pw_reader *r)
{
  struct pw_service *s = &service->s;
  s->menu = pw_reader_array(r, service->n_menu, sizeof *s->menu);
  for (int i = 0; s->menu && i < service->n_menu; i++) {
    const struct raw_menu_line *line = &service->menu[i];
    struct pw_menu_line *m = &s->menu[s->n_menu];
    bool is_by_count, is_double = false;
    m->dish = ref_index(&line->dish, PW_DISHES, raw->dishes, raw->n_dishes, r);
    if (m->dish == PW_NONE)
      continue;
    const struct pw_dish *d = &raw->dishes[m->dish].d;
    for (int k = 0; k < s->n_menu; k++)
      is_double = is_double || s->menu[k].dish == m->dish;
    if (is_double)
      pw_reader_fault(r, line->at, "duplicate-id", "\"%s\" is on this menu twice", d->id);
    m->take_frac = line->has_take ? line->take_frac : d->take_frac;
    m->portion_kg = d->portion_kg;
    m->portion_units = d->portion_units;
    m->portion_sd_kg = line->has_spread ? line->portion_sd_kg : d->portion_sd_kg;
    if (line->portion && portion_read(line->portion, &is_by_count, &m->portion_kg, &m->portion_units, r) &&
        is_by_count != d->is_by_count)
      pw_reader_fault(r, line->portion, "bad-portion", "\"portion\": \"%s\" is portioned by %s: write %s", d->id,
                       d->is_by_count ? "count" : "weight", d->is_by_count ? "a count such as 2 each" : "a weight such as 5 oz");
    s->n_menu++;
  }
  if (s->menu && s->n_menu > 1)
    qsort(s->menu, (size_t)s->n_menu, sizeof *s->menu, menu_order);
}

static int service_order(const void *a, const void *b)
{
  const struct raw_service *x = a, *y = b;
  if (x->s.at_min != y->s.at_min)
    return x->s.at_min < y->s.at_min ? -1 : 1;
  return strcmp(x->s.id ? x->s.id : "", y->s.id ? y->s.id : "");
}

static void services_resolve(struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_event *ev = &raw->ev;
  for (int i = 0; i < raw->n_services; i++) {
    struct raw_service *service = &raw->services[i];
    struct pw_service *s = &service->s;
    if (!s->name)
      s->name = s->id;
    for (int k = 0; k < i && s->id; k++)
      if (raw->services[k].s.id && strcmp(raw->services[k].s.id, s->id) == 0)
        pw_reader_fault(r, service->at, "duplicate-id", "there are two services \"%s\": give each its own id", s->id);
    struct pw_date day = service->has_day ? service->day : ev->date;
    if (service->time && day.year && ev->date.year && time_read(service->time, "time", day, ev, &s->at_min, r))
      s->day = pw_date_to_days(pw_clock_local(ev->clock, s->at_min).date) - pw_date_to_days(ev->date);
    guests_resolve(service, ev, r);
    menu_resolve(service, raw, r);
  }
  if (raw->n_services > 1)
    qsort(raw->services, (size_t)raw->n_services, sizeof *raw->services, service_order);
}

static void crew_resolve(struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_event *ev = &raw->ev;
  for (int i = 0; i < raw->n_crew; i++) {
    struct raw_crew *crew = &raw->crew[i];
    struct pw_crew *c = &crew->c;
    if (!crew->from || !crew->to || ev->date.year == 0)
      continue;
    bool has_from = time_read(crew->from, "from", ev->date, ev, &c->from_at_min, r);
    bool has_to = time_read(crew->to, "to", ev->date, ev, &c->to_at_min, r);
    if (!has_from || !has_to)
      continue;
    if (c->to_at_min <= c->from_at_min)
      pw_reader_fault(r, crew->to, "shift-order", "\"to\": the shift ends before it starts; a time without a date is on the event's date: for "
                       "a night write both dates, such as \"2027-06-11 20:00\"");
    else if (c->to_at_min - c->from_at_min > 24 * 60)
      pw_reader_fault(r, crew->to, "shift-long", "\"to\": this shift is longer than 24 hours: split it over two crew lines");
  }
}

/* ---- keeping what is reached ----------------------------------------------------------------------------------------- */

static void mark_uses(const struct pw_use *uses, int n, bool *item_used)
{
  for (int i = 0; i < n; i++)
    if (uses[i].item != PW_NONE)
      item_used[uses[i].item] = true;
}

static void renumber_uses(struct pw_use *uses, int n, const int *to)
{
  for (int i = 0; i < n; i++)
    uses[i].item = to[uses[i].item];
}

/* New index of each kept element, in the old order; returns how many. */
static int renumber(const bool *used, int n, int *to)
{
  int kept = 0;
  for (int i = 0; i < n; i++)
    to[i] = used[i] ? kept++ : PW_NONE;
  return kept;
}

static int moved(int index, const int *to) { return index == PW_NONE ? PW_NONE : to[index]; }

struct reach {
  bool *cut, *dish, *item, *fuel;
  int *cut_to, *dish_to, *item_to, *fuel_to;
};

static bool reach_open(struct reach *u, const struct raw_event *raw, struct pw_reader *r)
{
  u->cut = pw_reader_array(r, raw->n_cuts, sizeof *u->cut);
  u->dish = pw_reader_array(r, raw->n_dishes, sizeof *u->dish);
  u->item = pw_reader_array(r, raw->n_items, sizeof *u->item);
  u->fuel = pw_reader_array(r, raw->n_fuels, sizeof *u->fuel);
  u->cut_to = pw_reader_array(r, raw->n_cuts, sizeof *u->cut_to);
  u->dish_to = pw_reader_array(r, raw->n_dishes, sizeof *u->dish_to);
  u->item_to = pw_reader_array(r, raw->n_items, sizeof *u->item_to);
  u->fuel_to = pw_reader_array(r, raw->n_fuels, sizeof *u->fuel_to);
  return !r->is_out_of_memory;
}

static void reach_mark(struct reach *u, const struct raw_event *raw)
{
  for (int i = 0; i < raw->n_services; i++)
    for (int k = 0; k < raw->services[i].s.n_menu; k++)
      u->dish[raw->services[i].s.menu[k].dish] = true;
  for (int i = 0; i < raw->n_dishes; i++) {
    const struct pw_dish *d = &raw->dishes[i].d;
    if (!u->dish[i])
      continue;
    mark_uses(d->uses, d->n_uses, u->item);
    if (d->cut != PW_NONE)
      u->cut[d->cut] = true;
  }
  for (int i = 0; i < raw->n_cuts; i++) {
    const struct pw_cut *c = &raw->cuts[i].c;
    if (!u->cut[i])
      continue;
    mark_uses(c->uses, c->n_uses, u->item);
    if (c->item != PW_NONE)
      u->item[c->item] = true;
  }
  mark_uses(raw->ev.uses, raw->ev.n_uses, u->item);
  for (int i = 0; i < raw->n_pits; i++) {
    const int fuels[] = {raw->pits[i].p.wood, raw->pits[i].p.charcoal};
    for (int k = 0; k < 2; k++)
      if (fuels[k] != PW_NONE) {
        u->fuel[fuels[k]] = true;
        if (raw->fuels[fuels[k]].f.item != PW_NONE)
          u->item[raw->fuels[fuels[k]].f.item] = true;
      }
  }
}

/* The same pit but for its name: rack sizes, heat, fire and rent all equal. */
static bool is_alike(const struct pw_pit *a, const struct pw_pit *b)
{
  bool same = a->n_settings == b->n_settings && a->n_racks == b->n_racks && a->ready_min == b->ready_min &&
              a->n_burns_max == b->n_burns_max && a->steel_kg == b->steel_kg && a->shell_m2 == b->shell_m2 &&
              a->emissivity_frac == b->emissivity_frac && a->length_m == b->length_m && a->excess_air_frac == b->excess_air_frac &&
              a->exhaust_over_c == b->exhaust_over_c && a->combustion_frac == b->combustion_frac &&
              a->start_charcoal_kg == b->start_charcoal_kg && a->charcoal == b->charcoal && a->wood == b->wood &&
              a->split_kg == b->split_kg && a->tend_min_per_h == b->tend_min_per_h && a->is_rentable == b->is_rentable &&
              a->rent_cents == b->rent_cents;
  for (int i = 0; same && i < a->n_settings; i++) {
    const struct pw_setting *x = &a->settings[i], *y = &b->settings[i];
    same = x->hot_c == y->hot_c && x->cool_c == y->cool_c && x->splits_per_h == y->splits_per_h;
  }
  for (int i = 0; same && i < a->n_racks; i++) {
    const struct pw_rack *x = &a->racks[i], *y = &b->racks[i];
    same = x->outline == y->outline && x->length_m == y->length_m && x->depth_m == y->depth_m &&
           x->clear_height_m == y->clear_height_m && x->offset_c == y->offset_c && x->n_zones == y->n_zones;
  }
  return same;
}

static int service_days(const struct raw_event *raw)
{
  int n = 0;
  for (int i = 0; i < raw->n_services; i++) /* in order of time */
    n += i == 0 || raw->services[i].s.day != raw->services[i - 1].s.day;
  return n;
}

#define KEEP(array, count, field, raw_array, raw_n, used)                                                              \
  for (int i = 0; i < (raw_n); i++)                                                                                    \
    if (used)                                                                                                          \
  (array)[(count)++] = (raw_array)[i].field

static void event_fill(struct pw_event *ev, struct raw_event *raw, struct reach *u, struct pw_reader *r)
{
  *ev = raw->ev;
  ev->n_cuts = ev->n_dishes = ev->n_items = ev->n_fuels = 0;
  ev->cuts = pw_reader_array(r, renumber(u->cut, raw->n_cuts, u->cut_to), sizeof *ev->cuts);
  ev->dishes = pw_reader_array(r, renumber(u->dish, raw->n_dishes, u->dish_to), sizeof *ev->dishes);
  ev->items = pw_reader_array(r, renumber(u->item, raw->n_items, u->item_to), sizeof *ev->items);
  ev->fuels = pw_reader_array(r, renumber(u->fuel, raw->n_fuels, u->fuel_to), sizeof *ev->fuels);
  ev->pits = pw_reader_array(r, raw->n_pits, sizeof *ev->pits);
  ev->finishers = pw_reader_array(r, raw->n_finishers, sizeof *ev->finishers);
  ev->services = pw_reader_array(r, raw->n_services, sizeof *ev->services);
  ev->crew = pw_reader_array(r, raw->n_crew, sizeof *ev->crew);
  if (r->is_out_of_memory)
    return;
  KEEP(ev->cuts, ev->n_cuts, c, raw->cuts, raw->n_cuts, u->cut[i]);
  KEEP(ev->dishes, ev->n_dishes, d, raw->dishes, raw->n_dishes, u->dish[i]);
  KEEP(ev->items, ev->n_items, i, raw->items, raw->n_items, u->item[i]);
  KEEP(ev->fuels, ev->n_fuels, f, raw->fuels, raw->n_fuels, u->fuel[i]);
  KEEP(ev->pits, ev->n_pits, p, raw->pits, raw->n_pits, true);
  KEEP(ev->finishers, ev->n_finishers, f, raw->finishers, raw->n_finishers, true);
  KEEP(ev->services, ev->n_services, s, raw->services, raw->n_services, true);
  KEEP(ev->crew, ev->n_crew, c, raw->crew, raw->n_crew, true);
  for (int i = 0; i < ev->n_cuts; i++) {
    ev->cuts[i].item = moved(ev->cuts[i].item, u->item_to);
    renumber_uses(ev->cuts[i].uses, ev->cuts[i].n_uses, u->item_to);
  }
  for (int i = 0; i < ev->n_dishes; i++) {
    ev->dishes[i].cut = moved(ev->dishes[i].cut, u->cut_to);
    renumber_uses(ev->dishes[i].uses, ev->dishes[i].n_uses, u->item_to);
  }
  for (int i = 0; i < ev->n_fuels; i++)
    ev->fuels[i].item = moved(ev->fuels[i].item, u->item_to);
  for (int i = 0; i < ev->n_services; i++)
    for (int k = 0; k < ev->services[i].n_menu; k++)
      ev->services[i].menu[k].dish = u->dish_to[ev->services[i].menu[k].dish];
  renumber_uses(ev->uses, ev->n_uses, u->item_to);
  for (int i = 0; i < ev->n_pits; i++) {
    struct pw_pit *p = &ev->pits[i];
    p->wood = moved(p->wood, u->fuel_to);
    p->charcoal = moved(p->charcoal, u->fuel_to);
    p->n_burns_max = p->n_burns_max ? p->n_burns_max : service_days(raw);
    p->alike = i;
    for (int k = i - 1; k >= 0; k--)
      if (is_alike(p, &ev->pits[k]))
        p->alike = k;
  }
}

void pw_resolve(struct pw_event *ev, struct raw_event *raw, struct pw_reader *r)
{
  struct reach u;
  head_resolve(raw, r);
  classes_resolve(raw, r);
  items_resolve(raw, r);
  fuels_resolve(raw, r);
  cuts_resolve(raw, r);
  dishes_resolve(raw, r);
  pits_resolve(raw, r);
  finishers_resolve(raw, r);
  if (r->is_out_of_memory)
    return;
  services_resolve(raw, r);
  crew_resolve(raw, r);
  raw->ev.uses = uses_resolve(raw, raw->uses, raw->n_uses, PER_EVENT, "for supplies: write guest, service or event", r);
  raw->ev.n_uses = raw->n_uses;
  if (r->is_out_of_memory || !reach_open(&u, raw, r))
    return;
  reach_mark(&u, raw);
  pw_event_check(raw, u.cut, u.dish, u.item, r);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory)
    event_fill(ev, raw, &u, r);
}
