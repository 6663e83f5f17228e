/* joint.c - several events merged into one [see joint.h].
 * In: events as read.  Out: one event whose services follow each other job by job; refusals as diagnostics.
 * Each list is merged before those that point into it: goods, woods, cuts, dishes, classes, then pits, services, crew. */
#include "plan/joint/joint.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "plan/demand/head_count.h"
#include "plan/joint/joint_same.h"
#include "read/names_apart.h"

#include <string.h>

enum { DAY_MIN = 24 * 60, SUPPLIERS_MAX = 12 };

struct merge {
  struct pw_event *to;
  const struct pw_event *first, *from; /* the first event; the one being added */
  struct pw_ctx *ctx;
  int nth;                                      /* 1-based number of the job being added */
  int *items, *fuels, *cuts, *dishes, *classes; /* index in `from` -> index in `to` */
  double *salt;                                 /* per item of `to` */
  struct pw_choice *choices;
  struct pw_service_range *ranges; /* per use of `to` */
  int shift_min, shift_days;       /* from the date of `from` to that of `to` */
  bool is_out_of_memory;
};

static void *room(struct merge *m, int n, size_t size)
{
  void *p = pw_arena_array(m->ctx->arena, (size_t)n + 1, size);
  m->is_out_of_memory = m->is_out_of_memory || !p;
  return p;
}

static const char *file_of(const struct pw_event *ev) { return ev->file ? ev->file : "an event"; }

static void refuse(struct merge *m, const char *what, const char *why)
{
  pw_diag_add(m->ctx, PW_ERROR, "no-joint-plan", m->from->file, 0, 0, "%s is not the same as in %s: %s", what,
              file_of(m->first), why);
}

static const char *other_id(struct merge *m, const char *id)
{
  const char *made = pw_arena_printf(m->ctx->arena, "%s~%d", id, m->nth);
  m->is_out_of_memory = m->is_out_of_memory || !made;
  return made ? made : id;
}

/* ---- lists that keep differing entries apart ---------------------------------------------------- */

/* Adds each entry of a list unless the joint event has the same one; fills map[].  `FIX` turns the indices of `e`. */
#define MERGE(list, n_list, type, same, map, FIX)                                                                      \
  do {                                                                                                                 \
    for (int i = 0; i < m->from->n_list && !m->is_out_of_memory; i++) {                                                \
      type e = m->from->list[i];                                                                                       \
      FIX;                                                                                                             \
      if (m->is_out_of_memory)                                                                                         \
        break;                                                                                                         \
      int at = PW_NONE;                                                                                                \
      bool is_taken = false;                                                                                           \
      for (int k = 0; k < m->to->n_list && at == PW_NONE; k++) {                                                       \
        bool is_named = strcmp(m->to->list[k].id, e.id) == 0;                                                          \
        is_taken = is_taken || is_named;                                                                               \
        if (is_named && same(&m->to->list[k], &e))                                                                     \
          at = k;                                                                                                      \
      }                                                                                                                \
      if (at == PW_NONE) {                                                                                             \
        if (is_taken)                                                                                                  \
          e.id = other_id(m, e.id);                                                                                    \
        at = m->to->n_list++;                                                                                          \
        m->to->list[at] = e;                                                                                           \
      }                                                                                                                \
      map[i] = at;                                                                                                     \
    }                                                                                                                  \
  } while (0)

static int turned(const int *map, int i) { return i == PW_NONE ? PW_NONE : map[i]; }

static struct pw_use *uses_of(struct merge *m, const struct pw_use *uses, int n)
{
  struct pw_use *out = room(m, n, sizeof *out);
  for (int i = 0; out && i < n; i++) {
    out[i] = uses[i];
    out[i].item = m->items[uses[i].item];
  }
  return out;
}

static struct pw_part *parts_of(struct merge *m, const struct pw_item *mix)
{
  struct pw_part *out = room(m, mix->n_parts, sizeof *out);
  for (int i = 0; out && i < mix->n_parts; i++)
    out[i] = (struct pw_part){m->items[mix->parts[i].item], mix->parts[i].amount};
  return out;
}

static void merge_entries(struct merge *m)
{
  int before = m->to->n_items;
  MERGE(items, n_items, struct pw_item, pw_same_item, m->items, (void)0);
  for (int i = 0; i < m->from->n_items && !m->is_out_of_memory; i++)
    if (m->items[i] >= before && m->from->item_salt_frac)
      m->salt[m->items[i]] = m->from->item_salt_frac[i];
  for (int i = 0; i < m->from->n_items && !m->is_out_of_memory; i++) /* all items have their new index by now */
    if (m->items[i] >= before && m->from->items[i].n_parts > 0)
      m->to->items[m->items[i]].parts = parts_of(m, &m->from->items[i]);
  MERGE(fuels, n_fuels, struct pw_fuel, pw_same_fuel, m->fuels, e.item = turned(m->items, e.item));
  MERGE(cuts, n_cuts, struct pw_cut, pw_same_cut, m->cuts,
        (e.item = turned(m->items, e.item), e.uses = uses_of(m, e.uses, e.n_uses),
         e.chill_uses = uses_of(m, e.chill_uses, e.n_chill_uses)));
  MERGE(dishes, n_dishes, struct pw_dish, pw_same_dish, m->dishes,
        (e.cut = turned(m->cuts, e.cut), e.uses = uses_of(m, e.uses, e.n_uses)));
  MERGE(classes, n_classes, struct pw_guest_class, pw_same_class, m->classes, (void)0);
}

/* ---- things and people ------------------------------------------------------------------------------ */

static void merge_pits(struct merge *m)
{
  int *map = room(m, m->from->n_pits, sizeof *map);
  for (int i = 0; i < m->from->n_pits && map; i++) {
    struct pw_pit e = m->from->pits[i];
    e.charcoal = turned(m->fuels, e.charcoal);
    e.wood = turned(m->fuels, e.wood);
    int at = PW_NONE;
    for (int k = 0; k < m->to->n_pits; k++)
      if (strcmp(m->to->pits[k].id, e.id) == 0)
        at = k;
    if (at == PW_NONE) {
      at = map[i] = m->to->n_pits++;
      e.alike = e.alike >= 0 && e.alike < i ? map[e.alike] : at;
      m->to->pits[at] = e;
      continue;
    }
    map[i] = at;
    if (!pw_same_pit(&m->to->pits[at], &e))
      refuse(m, pw_arena_printf(m->ctx->arena, "the pit \"%s\"", e.id),
             "a pit that both jobs use must be described alike; give it another id if it is another pit");
  }
}

static void merge_finishers(struct merge *m)
{
  for (int i = 0; i < m->from->n_finishers; i++) {
    const struct pw_finisher *e = &m->from->finishers[i];
    int at = PW_NONE;
    for (int k = 0; k < m->to->n_finishers; k++)
      if (strcmp(m->to->finishers[k].id, e->id) == 0)
        at = k;
    if (at == PW_NONE)
      m->to->finishers[m->to->n_finishers++] = *e;
    else if (!pw_same_finisher(&m->to->finishers[at], e))
      refuse(m, pw_arena_printf(m->ctx->arena, "the oven or box \"%s\"", e->id),
             "what both jobs use must be described alike; give it another id if it is another one");
  }
}

static void merge_suppliers(struct merge *m)
{
  for (int i = 0; i < m->from->n_suppliers; i++) {
    const struct pw_supplier *e = &m->from->suppliers[i];
    int at = PW_NONE;
    for (int k = 0; k < m->to->n_suppliers; k++)
      if (strcmp(m->to->suppliers[k].name, e->name) == 0)
        at = k;
    if (at == PW_NONE)
      m->to->suppliers[m->to->n_suppliers++] = *e;
    else if (!pw_same_supplier(&m->to->suppliers[at], e))
      refuse(m, pw_arena_printf(m->ctx->arena, "the supplier %s", e->name), "fee, least order and days must agree");
  }
  if (m->to->n_suppliers > SUPPLIERS_MAX)
    pw_diag_add(m->ctx, PW_ERROR, "no-joint-plan", m->from->file, 0, 0,
                "together the jobs name %d suppliers with terms; at most %d are planned", m->to->n_suppliers,
                SUPPLIERS_MAX);
}

/* Whom both jobs could call is one person; the rules of the first job hold. */
static void merge_pool(struct merge *m)
{
  for (int i = 0; i < m->from->n_pool; i++) {
    struct pw_pool e = m->from->pool[i];
    int at = PW_NONE;
    e.from_at_min += m->shift_min;
    e.to_at_min += m->shift_min;
    for (int k = 0; k < m->to->n_pool; k++) {
      const struct pw_pool *p = &m->to->pool[k];
      bool is_named = e.name && p->name && strcmp(e.name, p->name) == 0;
      bool is_alike = !e.name && !p->name && strcmp(e.role, p->role) == 0 && e.duties == p->duties &&
                      e.cents_per_h == p->cents_per_h && e.has_from == p->has_from && e.has_to == p->has_to &&
                      (!e.has_from || e.from_at_min == p->from_at_min) && (!e.has_to || e.to_at_min == p->to_at_min);
      if (is_named || is_alike)
        at = k;
    }
    if (at == PW_NONE && m->to->n_pool < PW_POOL_MAX)
      m->to->pool[m->to->n_pool++] = e;
    else if (at == PW_NONE)
      pw_diag_add(m->ctx, PW_ERROR, "no-joint-plan", m->from->file, 0, 0,
                  "together the crew pools have more than %d lines", PW_POOL_MAX);
    else if (e.up_to > m->to->pool[at].up_to)
      m->to->pool[at].up_to = e.up_to;
  }
}

static void merge_crew(struct merge *m)
{
  for (int i = 0; i < m->from->n_crew; i++) {
    struct pw_crew e = m->from->crew[i];
    e.count = pw_head_count_hands(m->from, &e); /* by the job's own guests */
    e.guests_per_hand = 0;
    e.from_at_min += m->shift_min;
    e.to_at_min += m->shift_min;
    int at = PW_NONE;
    for (int k = 0; k < m->to->n_crew; k++) {
      const struct pw_crew *c = &m->to->crew[k];
      if (strcmp(c->role, e.role) == 0 && c->duties == e.duties && c->from_at_min == e.from_at_min &&
          c->to_at_min == e.to_at_min && c->cents_per_h == e.cents_per_h)
        at = k;
    }
    if (at == PW_NONE)
      m->to->crew[m->to->n_crew++] = e;
    else if ((e.duties >> PW_DUTY_SERVE & 1u) != 0)
      m->to->crew[at].count += e.count;
    else if (e.count > m->to->crew[at].count)
      m->to->crew[at].count = e.count;
  }
}

/* ---- services ------------------------------------------------------------------------------------------ */

static bool has_service(const struct pw_event *ev, const char *id, const char *name)
{
  for (int s = 0; s < ev->n_services; s++)
    if ((id && strcmp(ev->services[s].id, id) == 0) || (name && pw_same_text(ev->services[s].name, name)))
      return true;
  return false;
}

static void merge_choice(struct merge *m, int s, const struct pw_service *service)
{
  struct pw_choice *c = &m->choices[m->to->n_services];
  if (m->from->choices)
    *c = m->from->choices[s];
  if (m->from->terms.short_cents > 0 || m->from->terms.cover_frac == m->first->terms.cover_frac)
    return;
  double *cover = room(m, service->n_menu, sizeof *cover); /* another cover than the first job's: told line by line */
  for (int i = 0; cover && i < service->n_menu; i++)
    cover[i] = c->cover_frac && c->cover_frac[i] > 0 ? c->cover_frac[i] : m->from->terms.cover_frac;
  c->cover_frac = cover;
}

static void merge_services(struct merge *m, int n_classes_all)
{
  for (int s = 0; s < m->from->n_services; s++) {
    struct pw_service e = m->from->services[s];
    e.day += m->shift_days;
    e.at_min += m->shift_min;
    if (has_service(m->to, e.id, NULL))
      e.id = other_id(m, e.id);
    if (e.name && has_service(m->to, NULL, e.name))
      e.name = pw_arena_printf(m->ctx->arena, "%s, %s", e.name, m->from->name);
    e.guests = room(m, n_classes_all, sizeof *e.guests);
    e.options = NULL; /* each job's own quote has them priced */
    e.n_options = 0;
    e.menu = room(m, e.n_menu, sizeof *e.menu);
    if (!e.guests || !e.menu)
      return;
    for (int c = 0; c < m->from->n_classes; c++)
      e.guests[m->classes[c]] += m->from->services[s].guests[c];
    for (int i = 0; i < e.n_menu; i++) {
      e.menu[i] = m->from->services[s].menu[i];
      e.menu[i].dish = m->dishes[e.menu[i].dish];
      if (e.menu[i].take_of_frac) {
        double *takes = room(m, n_classes_all, sizeof *takes);
        if (!takes)
          return;
        for (int c = 0; c < m->from->n_classes; c++)
          takes[m->classes[c]] = e.menu[i].take_of_frac[c];
        e.menu[i].take_of_frac = takes;
      }
    }
    merge_choice(m, s, &e);
    m->to->services[m->to->n_services++] = e;
  }
}

static void merge_uses(struct merge *m, int service_first)
{
  for (int u = 0; u < m->from->n_uses; u++) {
    struct pw_use e = m->from->uses[u];
    e.item = m->items[e.item];
    m->ranges[m->to->n_uses] = (struct pw_service_range){service_first, m->from->n_services};
    m->to->uses[m->to->n_uses++] = e;
  }
}

/* ---- what must agree -------------------------------------------------------------------------------------- */

static void head_agrees(struct merge *m)
{
  const struct pw_event *a = m->first, *b = m->from;
  if (!pw_same_text(a->zone, b->zone))
    refuse(m, "the time zone", "one sheet for the crew has one clock");
  if (!pw_same_text(a->currency, b->currency))
    refuse(m, "the currency", "costs of different currencies cannot be added up");
  if (a->slot_min != b->slot_min)
    refuse(m, "the planning grid", "give both events the same grid");
  if (!pw_same_text(a->site.place, b->site.place) || a->site.travel_min != b->site.travel_min ||
      a->site.travel_m != b->site.travel_m || a->site.altitude_m != b->site.altitude_m)
    refuse(m, "the site", "pits cannot stand in two places; give both events the place where the pits stand");
  if (a->site.prep != b->site.prep)
    refuse(m, "where things are made ready", "one crew works in one place; give both events the same \"prep\"");
  if (a->terms.short_cents != b->terms.short_cents)
    refuse(m, "what a portion short costs", "covers follow from it; give both events the same");
  if (memcmp(&a->effort, &b->effort, sizeof a->effort) != 0)
    refuse(m, "the block effort", "one plan has one price for an opened door");
  if (!pw_same_text(a->safety_basis, b->safety_basis))
    refuse(m, "the safety basis", "one crew cooks on one basis; give both events the same");
  if (a->weather.low_c != b->weather.low_c || a->weather.high_c != b->weather.high_c ||
      a->weather.wind_m_s != b->weather.wind_m_s || a->weather.humidity_frac != b->weather.humidity_frac)
    pw_diag_add(m->ctx, PW_WARNING, "two-weathers", b->file, 0, 0, "planned for the weather of %s", file_of(a));
}

static void shift_make(struct merge *m, struct pw_date date)
{
  m->shift_days = pw_date_to_days(m->from->date) - pw_date_to_days(date);
  m->shift_min = m->shift_days * DAY_MIN;
  int at_min = 0;
  if (m->to->clock && pw_clock_at_min(m->to->clock, m->from->date, 0, 0, &at_min) != PW_LOCAL_SKIPPED)
    m->shift_min = at_min; /* a change of clocks between the two days bends no minute */
}

static bool cooks_on(const struct pw_service *s, int day)
{
  bool is_day = s->day == day;
  for (int k = 0; k < s->n_menu && s->day - 1 == day; k++)
    is_day = is_day || s->menu[k].is_day_before;
  return is_day;
}

static int burns_days(const struct pw_event *ev)
{
  int n = 0;
  for (int s = 0; s < ev->n_services; s++)
    for (int day = ev->services[s].day - 1; day <= ev->services[s].day; day++) {
      bool is_new = cooks_on(&ev->services[s], day);
      for (int k = 0; k < s; k++)
        is_new = is_new && !cooks_on(&ev->services[k], day);
      n += is_new;
    }
  return n;
}

/* Room for all lists together. */
static void lists_make(struct merge *m, const struct pw_event *const *events, int n)
{
  struct pw_event sum = {0};
  for (int i = 0; i < n; i++) {
    sum.n_items += events[i]->n_items, sum.n_fuels += events[i]->n_fuels, sum.n_cuts += events[i]->n_cuts;
    sum.n_dishes += events[i]->n_dishes, sum.n_classes += events[i]->n_classes, sum.n_pits += events[i]->n_pits;
    sum.n_finishers += events[i]->n_finishers, sum.n_crew += events[i]->n_crew, sum.n_uses += events[i]->n_uses;
    sum.n_services += events[i]->n_services, sum.n_suppliers += events[i]->n_suppliers;
  }
  struct pw_event *to = m->to;
  to->items = room(m, sum.n_items, sizeof *to->items), m->salt = room(m, sum.n_items, sizeof *m->salt);
  to->fuels = room(m, sum.n_fuels, sizeof *to->fuels), to->cuts = room(m, sum.n_cuts, sizeof *to->cuts);
  to->dishes = room(m, sum.n_dishes, sizeof *to->dishes), to->classes = room(m, sum.n_classes, sizeof *to->classes);
  to->pits = room(m, sum.n_pits, sizeof *to->pits), to->finishers = room(m, sum.n_finishers, sizeof *to->finishers);
  to->rules = events[0]->rules;
  to->pool = room(m, PW_POOL_MAX, sizeof *to->pool);
  to->crew = room(m, sum.n_crew, sizeof *to->crew), to->uses = room(m, sum.n_uses, sizeof *to->uses);
  to->services = room(m, sum.n_services, sizeof *to->services),
  m->choices = room(m, sum.n_services, sizeof *m->choices);
  to->suppliers = room(m, sum.n_suppliers, sizeof *to->suppliers), m->ranges = room(m, sum.n_uses, sizeof *m->ranges);
  m->items = room(m, sum.n_items, sizeof *m->items), m->fuels = room(m, sum.n_fuels, sizeof *m->fuels);
  m->cuts = room(m, sum.n_cuts, sizeof *m->cuts), m->dishes = room(m, sum.n_dishes, sizeof *m->dishes);
  m->classes = room(m, sum.n_classes, sizeof *m->classes);
}

/* The joint event's head: the first event's, from the first date on, with sums of what is fixed per event. */
static void head_make(struct merge *m, const struct pw_event *const *events, int n)
{
  const struct pw_event *base = events[0];
  for (int i = 1; i < n; i++)
    if (pw_date_to_days(events[i]->date) < pw_date_to_days(base->date))
      base = events[i];
  struct pw_event *to = m->to;
  *to = (struct pw_event){.file = events[0]->file,
                          .customer = NULL,
                          .date = base->date,
                          .zone = base->zone,
                          .utc_offset_min = base->utc_offset_min,
                          .clock = base->clock,
                          .currency = events[0]->currency,
                          .money_sign = events[0]->money_sign,
                          .money_digits = events[0]->money_digits,
                          .units = events[0]->units,
                          .paper = events[0]->paper,
                          .slot_min = events[0]->slot_min,
                          .safety_basis = events[0]->safety_basis,
                          .is_head_count_sum = true,
                          .site = events[0]->site,
                          .weather = events[0]->weather,
                          .terms = events[0]->terms,
                          .effort = events[0]->effort,
                          .catalog_pits = events[0]->catalog_pits,
                          .n_catalog_pits = events[0]->n_catalog_pits,
                          .catalog_finishers = events[0]->catalog_finishers,
                          .n_catalog_finishers = events[0]->n_catalog_finishers};
  const char *name = events[0]->name;
  for (int i = 1; i < n && name; i++) {
    name = pw_arena_printf(m->ctx->arena, "%s + %s", name, events[i]->name);
    to->terms.overhead_cents += events[i]->terms.overhead_cents;
    to->terms.rental_cents += events[i]->terms.rental_cents;
    to->terms.min_fee_cents += events[i]->terms.min_fee_cents;
    if (events[i]->terms.fuel_reserve_frac > to->terms.fuel_reserve_frac)
      to->terms.fuel_reserve_frac = events[i]->terms.fuel_reserve_frac;
  }
  to->name = name;
  m->is_out_of_memory = m->is_out_of_memory || !name;
}

pw_status pw_joint_make(struct pw_joint *out, const struct pw_event *const *events, int n, struct pw_ctx *ctx)
{
  *out = (struct pw_joint){0};
  struct pw_event *to = pw_arena_alloc(ctx->arena, sizeof *to);
  if (!to)
    return PW_ERR_MEMORY;
  int errors = ctx->n_errors, n_classes_all = 0;
  struct merge merge = {.to = to, .first = events[0], .ctx = ctx}, *m = &merge;
  struct pw_joint joint = {.event = to, .n_jobs = n};
  head_make(m, events, n);
  lists_make(m, events, n);
  for (int i = 0; i < n; i++)
    n_classes_all += events[i]->n_classes;
  for (int i = 0; i < n && !m->is_out_of_memory; i++) {
    m->from = events[i];
    m->nth = i + 1;
    if (i > 0)
      head_agrees(m);
    if (ctx->n_errors > errors)
      continue; /* every reason of the heads, and no more */
    shift_make(m, to->date);
    merge_entries(m);
    if (m->is_out_of_memory)
      break;
    merge_pits(m);
    merge_finishers(m);
    merge_suppliers(m);
    merge_crew(m);
    merge_pool(m);
    joint.jobs[i] = (struct pw_joint_job){events[i], to->n_services, events[i]->n_services};
    merge_services(m, n_classes_all);
    merge_uses(m, joint.jobs[i].service_first);
  }
  if (m->is_out_of_memory)
    return PW_ERR_MEMORY;
  if (ctx->n_errors > errors)
    return PW_ERR_INPUT;
  to->item_salt_frac = m->salt;
  to->choices = m->choices;
  to->use_services = m->ranges;
  for (int p = 0; p < to->n_pits; p++)
    if (to->pits[p].n_burns_max < burns_days(to)) /* a fire each service day, as for one event */
      to->pits[p].n_burns_max = burns_days(to);
  for (int p = 0; p < to->n_pits; p++)
    if (to->pits[to->pits[p].alike].n_burns_max != to->pits[p].n_burns_max)
      to->pits[p].alike = p;
  pw_status st = pw_names_apart(to, ctx);
  if (st == PW_OK)
    *out = joint;
  return st;
}
