/* keep.c - only what the menu reaches goes into the event, in order of id, so that the order of keys in a file never
 * shows in it. */
#include "read/members.h"
#include "read/resolve.h"

#include <string.h>

/* ---- keeping what is reached
 * ----------------------------------------------------------------------------------------- */

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

/* What a mix is made of is bought.  Each is followed once: a recipe that goes round has its fault, and ends here. */
static void mark_parts(const struct raw_event *raw, int item, bool *item_used)
{
  for (int k = 0; k < raw->items[item].i.n_parts; k++) {
    int part = raw->items[item].i.parts[k].item;
    if (item_used[part])
      continue;
    item_used[part] = true;
    mark_parts(raw, part, item_used);
  }
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
    mark_uses(c->chill_uses, c->n_chill_uses, u->item);
    if (c->item != PW_NONE)
      u->item[c->item] = true;
  }
  mark_uses(raw->ev.uses, raw->ev.n_uses, u->item);
  for (int i = 0; i < raw->n_items; i++)
    if (u->item[i])
      mark_parts(raw, i, u->item);
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
  ev->item_salt_frac = pw_reader_array(r, raw->n_items, sizeof *ev->item_salt_frac);
  ev->suppliers = pw_reader_array(r, raw->n_suppliers, sizeof *ev->suppliers);
  struct pw_choice *choices = pw_reader_array(r, raw->n_services, sizeof *choices);
  if (r->is_out_of_memory)
    return;
  KEEP(ev->cuts, ev->n_cuts, c, raw->cuts, raw->n_cuts, u->cut[i]);
  KEEP(ev->dishes, ev->n_dishes, d, raw->dishes, raw->n_dishes, u->dish[i]);
  KEEP(ev->items, ev->n_items, i, raw->items, raw->n_items, u->item[i]);
  KEEP(ev->fuels, ev->n_fuels, f, raw->fuels, raw->n_fuels, u->fuel[i]);
  KEEP(ev->pits, ev->n_pits, p, raw->pits, raw->n_pits, true);
  KEEP(ev->finishers, ev->n_finishers, f, raw->finishers, raw->n_finishers, true);
  KEEP(ev->services, ev->n_services, s, raw->services, raw->n_services, true);
  for (int i = 0; i < raw->n_services; i++)
    if (raw->services[i].has_choice || raw->services[i].has_covers || raw->services[i].has_walk_up)
      ev->choices = choices;
  for (int i = 0; ev->choices && i < raw->n_services; i++)
    choices[i] = raw->services[i].choice;
  for (int i = 0; i < raw->n_items; i++)
    if (u->item[i])
      ev->item_salt_frac[u->item_to[i]] = salt_in(raw, i);
  for (int i = 0; i < raw->n_suppliers; i++)
    if (sells(ev, raw->suppliers[i].s.name))
      ev->suppliers[ev->n_suppliers++] = raw->suppliers[i].s;
  KEEP(ev->crew, ev->n_crew, c, raw->crew, raw->n_crew, true);
  for (int i = 0; i < ev->n_items; i++)
    for (int k = 0; k < ev->items[i].n_parts; k++)
      ev->items[i].parts[k].item = u->item_to[ev->items[i].parts[k].item];
  for (int i = 0; i < ev->n_cuts; i++) {
    ev->cuts[i].item = moved(ev->cuts[i].item, u->item_to);
    renumber_uses(ev->cuts[i].uses, ev->cuts[i].n_uses, u->item_to);
    renumber_uses(ev->cuts[i].chill_uses, ev->cuts[i].n_chill_uses, u->item_to);
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
    p->n_burns_max = p->n_burns_max ? p->n_burns_max : cooking_days(raw);
    p->alike = i;
    for (int k = i - 1; k >= 0; k--)
      if (pw_members_same(&pw_members_pit, p, &ev->pits[k], PW_STANDS_IN))
        p->alike = k;
  }
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

void pw_event_keep(struct pw_event *ev, struct raw_event *raw, struct pw_reader *r)
{
  struct reach u;
  if (!reach_open(&u, raw, r))
    return;
  reach_mark(&u, raw);
  pw_event_check(raw, u.cut, u.dish, r);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory)
    event_fill(ev, raw, &u, r);
  if (r->ctx->n_errors == 0 && !r->is_out_of_memory)
    catalog_fill(ev, raw, r);
}
