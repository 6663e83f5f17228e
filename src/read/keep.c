/* keep.c - only what the menu reaches goes into the event, in order of first mention: the menus in order of time, each
 * as the file has it, then supplies, then what the fires burn.  The order of an event is the order served. */
#include "read/members.h"
#include "read/resolve.h"

#include <string.h>

/* ---- keeping what is reached
 * ----------------------------------------------------------------------------------------- */

/* Some entries of a list, in the order in which they were first asked for. */
struct kept {
  int *from, n; /* [n] index in the list */
  int *to;      /* [all] index among the kept, or PW_NONE */
  bool *is_in;  /* [all] */
};

struct reach {
  struct kept cuts, dishes, items, fuels;
};

static void kept_open(struct kept *k, int n_all, struct pw_reader *r)
{
  *k = (struct kept){.from = pw_reader_array(r, n_all, sizeof *k->from),
                     .to = pw_reader_array(r, n_all, sizeof *k->to),
                     .is_in = pw_reader_array(r, n_all, sizeof *k->is_in)};
  for (int i = 0; k->to && i < n_all; i++)
    k->to[i] = PW_NONE;
}

/* True the first time. */
static bool keep(struct kept *k, int i)
{
  if (i == PW_NONE || k->to[i] != PW_NONE)
    return false;
  k->is_in[i] = true;
  k->to[i] = k->n;
  k->from[k->n++] = i;
  return true;
}

static int moved(int index, const struct kept *k) { return index == PW_NONE ? PW_NONE : k->to[index]; }

/* What a mix is made of is bought.  Each is followed once: a recipe that goes round has its fault, and ends here. */
static void keep_item(struct kept *items, const struct raw_event *raw, int item)
{
  if (!keep(items, item))
    return;
  for (int k = 0; k < raw->items[item].i.n_parts; k++)
    keep_item(items, raw, raw->items[item].i.parts[k].item);
}

static void keep_uses(struct kept *items, const struct raw_event *raw, const struct pw_use *uses, int n)
{
  for (int i = 0; i < n; i++)
    keep_item(items, raw, uses[i].item);
}

static void keep_dish(struct reach *u, const struct raw_event *raw, int dish)
{
  if (!keep(&u->dishes, dish))
    return;
  const struct pw_dish *d = &raw->dishes[dish].d;
  if (keep(&u->cuts, d->cut)) {
    const struct pw_cut *c = &raw->cuts[d->cut].c;
    keep_item(&u->items, raw, c->item);
    keep_item(&u->items, raw, c->brine.item);
    keep_uses(&u->items, raw, c->uses, c->n_uses);
    keep_uses(&u->items, raw, c->chill_uses, c->n_chill_uses);
  }
  keep_uses(&u->items, raw, d->uses, d->n_uses);
}

static bool reach_make(struct reach *u, const struct raw_event *raw, struct pw_reader *r)
{
  kept_open(&u->cuts, raw->n_cuts, r);
  kept_open(&u->dishes, raw->n_dishes, r);
  kept_open(&u->items, raw->n_items, r);
  kept_open(&u->fuels, raw->n_fuels, r);
  if (r->is_out_of_memory)
    return false;
  for (int i = 0; i < raw->n_services; i++)
    for (int k = 0; k < raw->services[i].s.n_menu; k++)
      keep_dish(u, raw, raw->services[i].s.menu[k].dish);
  for (int i = 0; i < raw->n_services; i++)
    for (int k = 0; k < raw->services[i].s.n_options; k++)
      keep_dish(u, raw, raw->services[i].s.options[k].line.dish);
  keep_uses(&u->items, raw, raw->ev.uses, raw->ev.n_uses);
  for (int i = 0; i < raw->n_pits; i++) {
    const int fuels[] = {raw->pits[i].p.wood, raw->pits[i].p.charcoal};
    for (int k = 0; k < 2; k++)
      if (keep(&u->fuels, fuels[k]))
        keep_item(&u->items, raw, raw->fuels[fuels[k]].f.item);
  }
  return true;
}

static bool is_cooking_day(const struct raw_event *raw, int day)
{
  for (int i = 0; i < raw->n_services; i++) {
    const struct pw_service *s = &raw->services[i].s;
    bool is_day = s->day == day;
    for (int k = 0; k < s->n_menu && s->day - 1 == day; k++)
      is_day = is_day || s->menu[k].is_day_before;
    if (is_day)
      return true;
  }
  return false;
}

/* Days with a service, and days before one for which something is cooked ahead. */
static int cooking_days(const struct raw_event *raw)
{
  int n = 0;
  if (raw->n_services == 0)
    return 0;
  int last = raw->services[raw->n_services - 1].s.day; /* in order of time */
  for (int day = raw->services[0].s.day - 1; day <= last; day++)
    n += is_cooking_day(raw, day);
  return n;
}

static double unit_kg(const struct pw_item *item)
{
  return item->unit == PW_UNIT_KG ? 1 : item->unit == PW_UNIT_L ? item->litre_kg : item->each_kg;
}

/* Salt in one unit: as stated, else of a mix what its parts bring. */
static double salt_in(const struct raw_event *raw, int item)
{
  const struct raw_item *mix = &raw->items[item];
  double salt = mix->salt_frac * unit_kg(&mix->i);
  for (int k = 0; k < mix->i.n_parts && !(mix->salt_frac > 0); k++)
    salt += mix->i.parts[k].amount * salt_in(raw, mix->i.parts[k].item);
  return salt;
}

/* Does the supplier sell anything that is bought?  The fewer there are, the quicker they are weighed. */
static bool sells(const struct pw_event *ev, const char *supplier)
{
  for (int i = 0; i < ev->n_items; i++)
    for (int k = 0; k < ev->items[i].n_offers; k++)
      if (strcmp(ev->items[i].offers[k].supplier, supplier) == 0)
        return true;
  return false;
}

static void renumber_uses(struct pw_use *uses, int n, const struct kept *items)
{
  for (int i = 0; i < n; i++)
    uses[i].item = items->to[uses[i].item];
}

#define COPY(array, count, field, raw_array, raw_n)                                                                    \
  for (int i = 0; i < (raw_n); i++)                                                                                    \
  (array)[(count)++] = (raw_array)[i].field

#define KEEP(array, count, field, raw_array, kept)                                                                     \
  for (int i = 0; i < (kept).n; i++)                                                                                   \
  (array)[(count)++] = (raw_array)[(kept).from[i]].field

static void event_fill(struct pw_event *ev, struct raw_event *raw, struct reach *u, struct pw_reader *r)
{
  *ev = raw->ev;
  ev->n_cuts = ev->n_dishes = ev->n_items = ev->n_fuels = 0;
  ev->cuts = pw_reader_array(r, u->cuts.n, sizeof *ev->cuts);
  ev->dishes = pw_reader_array(r, u->dishes.n, sizeof *ev->dishes);
  ev->items = pw_reader_array(r, u->items.n, sizeof *ev->items);
  ev->fuels = pw_reader_array(r, u->fuels.n, sizeof *ev->fuels);
  ev->pits = pw_reader_array(r, raw->n_pits, sizeof *ev->pits);
  ev->finishers = pw_reader_array(r, raw->n_finishers, sizeof *ev->finishers);
  ev->services = pw_reader_array(r, raw->n_services, sizeof *ev->services);
  ev->crew = pw_reader_array(r, raw->n_crew, sizeof *ev->crew);
  ev->pool = pw_reader_array(r, raw->n_pool, sizeof *ev->pool);
  ev->item_salt_frac = pw_reader_array(r, raw->n_items, sizeof *ev->item_salt_frac);
  ev->suppliers = pw_reader_array(r, raw->n_suppliers, sizeof *ev->suppliers);
  struct pw_choice *choices = pw_reader_array(r, raw->n_services, sizeof *choices);
  if (r->is_out_of_memory)
    return;
  KEEP(ev->cuts, ev->n_cuts, c, raw->cuts, u->cuts);
  KEEP(ev->dishes, ev->n_dishes, d, raw->dishes, u->dishes);
  KEEP(ev->items, ev->n_items, i, raw->items, u->items);
  KEEP(ev->fuels, ev->n_fuels, f, raw->fuels, u->fuels);
  COPY(ev->pits, ev->n_pits, p, raw->pits, raw->n_pits);
  COPY(ev->finishers, ev->n_finishers, f, raw->finishers, raw->n_finishers);
  COPY(ev->services, ev->n_services, s, raw->services, raw->n_services);
  for (int i = 0; i < raw->n_services; i++)
    if (raw->services[i].has_choice || raw->services[i].has_covers || raw->services[i].has_walk_up)
      ev->choices = choices;
  for (int i = 0; ev->choices && i < raw->n_services; i++)
    choices[i] = raw->services[i].choice;
  for (int i = 0; i < u->items.n; i++)
    ev->item_salt_frac[i] = salt_in(raw, u->items.from[i]);
  for (int i = 0; i < raw->n_suppliers; i++)
    if (sells(ev, raw->suppliers[i].s.name))
      ev->suppliers[ev->n_suppliers++] = raw->suppliers[i].s;
  COPY(ev->crew, ev->n_crew, c, raw->crew, raw->n_crew);
  COPY(ev->pool, ev->n_pool, p, raw->pool, raw->n_pool);
  for (int i = 0; i < ev->n_items; i++)
    for (int k = 0; k < ev->items[i].n_parts; k++)
      ev->items[i].parts[k].item = u->items.to[ev->items[i].parts[k].item];
  for (int i = 0; i < ev->n_cuts; i++) {
    ev->cuts[i].item = moved(ev->cuts[i].item, &u->items);
    ev->cuts[i].brine.item = moved(ev->cuts[i].brine.item, &u->items);
    renumber_uses(ev->cuts[i].uses, ev->cuts[i].n_uses, &u->items);
    renumber_uses(ev->cuts[i].chill_uses, ev->cuts[i].n_chill_uses, &u->items);
  }
  for (int i = 0; i < ev->n_dishes; i++) {
    ev->dishes[i].cut = moved(ev->dishes[i].cut, &u->cuts);
    renumber_uses(ev->dishes[i].uses, ev->dishes[i].n_uses, &u->items);
  }
  for (int i = 0; i < ev->n_fuels; i++)
    ev->fuels[i].item = moved(ev->fuels[i].item, &u->items);
  for (int i = 0; i < ev->n_services; i++)
    for (int k = 0; k < ev->services[i].n_menu; k++)
      ev->services[i].menu[k].dish = u->dishes.to[ev->services[i].menu[k].dish];
  for (int i = 0; i < ev->n_services; i++) {
    struct pw_service *s = &ev->services[i];
    struct pw_menu_option *options = pw_reader_array(r, s->n_options, sizeof *options);
    for (int k = 0; options && k < s->n_options; k++) {
      options[k] = s->options[k];
      options[k].line.dish = u->dishes.to[options[k].line.dish];
    }
    s->options = options;
  }
  renumber_uses(ev->uses, ev->n_uses, &u->items);
  for (int i = 0; i < ev->n_pits; i++) {
    struct pw_pit *p = &ev->pits[i];
    p->wood = moved(p->wood, &u->fuels);
    p->charcoal = moved(p->charcoal, &u->fuels);
    p->n_burns_max = p->n_burns_max ? p->n_burns_max : cooking_days(raw);
    p->alike = i;
    for (int k = i - 1; k >= 0; k--)
      if (pw_members_same(&pw_members_pit, p, &ev->pits[k], PW_STANDS_IN))
        p->alike = k;
  }
}

/* A house lists every kind of guest it knows: who comes to no meal of this job is on no sheet of it.  Classes and counts are this
 * event's own arrays. */
static void classes_keep(struct pw_event *ev)
{
  int n = 0;
  for (int g = 0; g < ev->n_classes; g++) {
    int heads = 0;
    for (int s = 0; s < ev->n_services; s++)
      heads += ev->services[s].guests[g];
    if (heads == 0)
      continue;
    ev->classes[n] = ev->classes[g];
    for (int s = 0; s < ev->n_services; s++)
      ev->services[s].guests[n] = ev->services[s].guests[g];
    n++;
  }
  ev->n_classes = n > 0 ? n : ev->n_classes;
}

/* What the catalogs know of pits, ovens and boxes; of a catalog with faults nothing is kept. */
static void catalog_fill(struct pw_event *ev, const struct raw_event *raw, struct pw_reader *r)
{
  struct pw_pit *pits = pw_reader_array(r, raw->n_pits_read - raw->n_pits, sizeof *pits);
  struct pw_finisher *finishers = pw_reader_array(r, raw->n_finishers_read - raw->n_finishers, sizeof *finishers);
  if (!pits || !finishers)
    return;
  for (int i = raw->n_pits; i < raw->n_pits_read; i++) {
    struct pw_pit *p = &pits[ev->n_catalog_pits++];
    *p = raw->pits[i].p;
    p->wood = p->charcoal = p->alike = PW_NONE;
  }
  for (int i = raw->n_finishers; i < raw->n_finishers_read; i++)
    finishers[ev->n_catalog_finishers++] = raw->finishers[i].f;
  ev->catalog_pits = pits;
  ev->catalog_finishers = finishers;
}

/** Prices of what is bought are in the event's currency: one with more decimals is a fault, of the items in use alone, so that
 *  a catalog of another currency may be read beside them. */
static void ask_prices(const struct raw_event *raw, const bool *is_used, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_items; i++)
    for (int k = 0; is_used[i] && k < raw->items[i].n_offers; k++) {
      pw_cents cents;
      if (raw->items[i].offers[k].is_finer)
        pw_node_money(r, raw->items[i].offers[k].price, "price", &cents);
    }
}

void pw_event_keep(struct pw_event *ev, struct raw_event *raw, struct pw_reader *r)
{
  struct reach u;
  if (!reach_make(&u, raw, r))
    return;
  ask_prices(raw, u.items.is_in, r);
  pw_event_check(raw, u.cuts.is_in, u.dishes.is_in, r);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory)
    event_fill(ev, raw, &u, r);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory)
    classes_keep(ev);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory) {
    pw_event_altitude(ev, r);
    pw_event_yields(ev);
    pw_event_fires(ev);
    pw_event_grid(ev);
    catalog_fill(ev, raw, r);
  }
}
