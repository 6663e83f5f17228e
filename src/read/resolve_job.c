/* resolve_job.c - the event's own blocks: zone and currency, guests and menus, times as minutes of the event. */
#include "read/resolve.h"
#include "read/service_names.h"
#include "read/tree_edit.h"
#include "read/typed.h"

#include "base/clock.h"
#include "heat/food_code.h"

#include <stdlib.h>
#include <string.h>

/* ---- times ---- */

/* "17:30" or "2027-06-11 20:00"; `day` is used for the former.  False after a fault. */
static bool time_read(const struct pw_node *node, const char *key, struct pw_date day, const struct pw_event *ev,
                      int *at_min, struct pw_reader *r)
{
  const char *text = node->text, *clock_text = text;
  int hour, minute, number;
  char head[11] = "";
  if (strlen(text) > 10 && strspn(text, "0123456789-") == 10 && (text[10] == ' ' || text[10] == 'T')) {
    memcpy(head, text, 10);
    clock_text = text + 11;
  }
  if (*head && strspn(head, "0123456789-") == 10 && head[4] == '-' && head[7] == '-' && !pw_date_parse(head, &day)) {
    pw_reader_fault(r, node, "bad-date", "\"%s\": there is no %s in the calendar", key, head);
    return false;
  }
  if ((*head && !pw_date_parse(head, &day)) || !pw_typed_clock(clock_text, &hour, &minute)) {
    if (!*head && pw_typed_half(text, &hour, &minute))
      pw_reader_fault(r, node, "bad-time", "\"%s\": %s can be read in two ways: write \"%02d:%02d\" or \"%d:%02d pm\"",
                      key, text, hour % 12, minute, hour, minute);
    else if (pw_int_parse(text, 0, 1439, &number) && number >= 60)
      pw_reader_fault(r, node, "bad-time",
                      "\"%s\": %s is not a time; some programs turn %02d:%02d without quotes into this number: write "
                      "\"%02d:%02d\" in quotes",
                      key, text, number / 60, number % 60, number / 60, number % 60);
    else
      pw_reader_fault(
          r, node, "bad-time",
          "\"%s\": \"%s\" is not a time of day; write hours and minutes such as \"17:30\" or \"5:30 pm\", or "
          "\"2027-06-11 20:00\" for another day",
          key, pw_node_shown(r, node));
    return false;
  }
  if (!ev->clock)
    return false;
  int days = pw_date_to_days(day) - pw_date_to_days(ev->date);
  if (days < -60 || days > 60) {
    if (day.year == ev->date.year || day.year != r->far_year) /* a wrong year stands in every shift: it is told once */
      pw_reader_fault(r, node, "far-date",
                      "\"%s\": this day is %d days from the event's date: is the year or the month wrong?%s", key, days,
                      day.year == ev->date.year ? "" : " Other times of that year are not listed again");
    r->far_year = day.year;
    return false;
  }
  switch (pw_clock_at_min(ev->clock, day, hour, minute, at_min)) {
  case PW_LOCAL_SKIPPED:
    pw_reader_fault(r, node, "no-such-time",
                    "\"%s\": %02d:%02d does not exist on %04d-%02d-%02d in %s: clocks go forward that night", key, hour,
                    minute, day.year, day.month, day.day, ev->zone);
    return false;
  case PW_LOCAL_TWICE:
    pw_reader_warn(r, node, "time-twice",
                   "\"%s\": %02d:%02d comes twice on %04d-%02d-%02d in %s (clocks go back); the first is taken", key,
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
  if (pw_zone_is_local(ev->zone)) {
    pw_reader_fault(
        r, raw->zone.at, "bad-zone",
        "\"zone\": \"%s\" means another zone on every computer; write a name such as America/Chicago or Europe/Berlin",
        pw_node_shown(r, raw->zone.at));
    return;
  }
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
      pw_reader_fault(r, raw->zone.at, "bad-zone",
                      "\"zone\": there is no time zone \"%s\"; write a name such as America/Chicago or "
                      "Europe/Berlin",
                      pw_node_shown(r, raw->zone.at));
  }
}

void pw_resolve_head(struct raw_event *raw, struct pw_reader *r)
{
  struct pw_event *ev = &raw->ev;
  zone_resolve(raw, r);
  ev->is_head_count_sum = raw->head_count == 1;
  if (ev->slot_min != 0 && ev->slot_min != 15 && ev->slot_min != 30 && ev->slot_min != 60)
    pw_reader_fault(r, pw_node_get(raw->event_at, "grid"), "out-of-range",
                    "\"grid\": the planning grid is 15, 30 or 60 min");
  if (!raw->currency.name)
    return;
  ev->currency = raw->currency.name;
  ev->money_digits = r->money_digits;
  if (!(ev->money_sign = pw_currency_sign(ev->currency, r)))
    pw_reader_fault(r, raw->currency.at, "bad-currency",
                    "\"currency\": \"%s\" is not a currency; write its three capital letters, such as "
                    "USD or EUR",
                    pw_node_shown(r, raw->currency.at));
}

/* ---- guests, services, crew
 * ------------------------------------------------------------------------------------------- */

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
  bool is_faulty = false;
  struct pw_node one;
  struct pw_pair first;
  service->s.guests = pw_reader_array(r, ev->n_classes, sizeof *service->s.guests);
  if (!service->s.guests || !map)
    return;
  if (map->kind == PW_NODE_SCALAR) { /* all of the first class */
    first = (struct pw_pair){ev->classes[0].id, map->line, map->col, pw_node_copy(map, 0, r)};
    one = *map;
    one.kind = PW_NODE_MAP;
    one.pairs = &first;
    one.n = 1;
    map = &one;
    if (!first.value)
      return;
  }
  for (int i = 0; i < map->n; i++) {
    const struct pw_pair *pair = &map->pairs[i];
    const char *text = pw_node_text(r, pair->value, pair->key);
    struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
    int n = 0, k = pw_index_of(pair->key, ev->classes, ev->n_classes, sizeof *ev->classes,
                               offsetof(struct pw_guest_class, id));
    if (k == PW_NONE)
      pw_reader_fault(r, &place, "unknown-id", "there is no class of guests \"%s\"; %s", pair->key,
                      pw_reader_suggest(r, pair->key, ev->classes, ev->n_classes, sizeof *ev->classes,
                                        offsetof(struct pw_guest_class, id)));
    else if (text && !pw_int_parse(pw_typed_number(r, text), 0, 20000, &n))
      pw_reader_fault(r, pair->value, "bad-number",
                      "\"%s\": \"%s\" is not a number of guests; write a whole number from 0 to 20000", pair->key,
                      pw_node_shown(r, pair->value));
    else if (text)
      service->s.guests[k] = n;
    sum += n;
    is_faulty = is_faulty || !text || k == PW_NONE || pw_reader_has_fault(r, pair->value);
  }
  if (sum == 0 && !is_faulty)
    pw_reader_fault(r, map, "no-guests", "service \"%s\" has no guests", service->s.id ? service->s.id : "?");
}

/* An oven that can bring food to 165 F: some way hotter. */
static bool has_reheating_oven(const struct raw_event *raw)
{
  for (int i = 0; i < raw->n_finishers; i++)
    if (raw->finishers[i].f.kind == PW_OVEN && raw->finishers[i].f.temp_c >= PW_REHEAT_OVEN_C)
      return true;
  return false;
}

/* One lot is cooked on one day: dishes of the same cut on one menu must agree. */
static void cook_days_check(const struct raw_service *service, const struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_service *s = &service->s;
  for (int i = 0; i < s->n_menu; i++)
    if (s->menu[i].is_time_control && s->length_min > pw_food_code_out_hot_min())
      pw_reader_fault(r, service->at, "time-control",
                      "\"time_control\": \"%s\" stands without heat or ice for a meal of %d min, and is thrown away "
                      "after %d min (FDA Food Code 2022 3-501.19): keep it hot or cold, or write two services",
                      raw->dishes[s->menu[i].dish].d.id, s->length_min, pw_food_code_out_hot_min());
  for (int i = 0; i < s->n_menu; i++)
    for (int k = 0; k < i; k++) {
      const struct pw_dish *a = &raw->dishes[s->menu[i].dish].d, *b = &raw->dishes[s->menu[k].dish].d;
      if (a->cut != PW_NONE && a->cut == b->cut && s->menu[i].is_day_before != s->menu[k].is_day_before)
        pw_reader_fault(
            r, service->at, "cook-day",
            "\"%s\" and \"%s\" are made of the same pieces: cook both on the same day or both the day before", b->id,
            a->id);
      if (a->cut != PW_NONE && a->cut == b->cut && s->menu[i].n_waves != s->menu[k].n_waves)
        pw_reader_fault(r, service->at, "waves",
                        "\"%s\" and \"%s\" are made of the same pieces: write the same \"waves\" for both, or for none",
                        b->id, a->id);
    }
}

/* How often each class of guests takes it, those not named as everybody; NULL when none is named. */
static const double *takes_of(const struct pw_node *map, double take_frac, const struct pw_event *ev,
                              struct pw_reader *r)
{
  double *takes = map && map->kind == PW_NODE_MAP ? pw_reader_array(r, ev->n_classes, sizeof *takes) : NULL;
  if (!takes)
    return NULL;
  for (int c = 0; c < ev->n_classes; c++)
    takes[c] = take_frac;
  for (int i = 0; i < map->n; i++) {
    const struct pw_pair *pair = &map->pairs[i];
    const struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
    const char *text = pw_node_text(r, pair->value, pair->key);
    char why[PW_QUANTITY_TEXT_MAX * 3];
    double share = 0;
    int k =
        pw_index_of(pair->key, ev->classes, ev->n_classes, sizeof *ev->classes, offsetof(struct pw_guest_class, id));
    if (k == PW_NONE)
      pw_reader_fault(r, &place, "unknown-id", "there is no class of guests \"%s\"; %s", pair->key,
                      pw_reader_suggest(r, pair->key, ev->classes, ev->n_classes, sizeof *ev->classes,
                                        offsetof(struct pw_guest_class, id)));
    else if (text && (pw_quantity_parse(text, PW_DIM_FRACTION, &share, why, sizeof why) || share < 0 || share > 1))
      pw_reader_fault(r, pair->value, "bad-quantity",
                      "\"take_of\": \"%s\" is not a share from 0 %% to 100 %%; write such as {%s: 40 %%}",
                      pw_node_shown(r, pair->value), pair->key);
    else if (text)
      takes[k] = share;
  }
  return takes;
}

/* Fills one line; false when its dish is unknown. */
static bool line_resolve(struct pw_menu_line *m, const struct raw_menu_line *line, const struct raw_event *raw,
                         struct pw_reader *r)
{
  bool is_by_count;
  m->dish = pw_ref_index(&line->dish, PW_DISHES, raw->dishes, raw->n_dishes, r);
  if (m->dish == PW_NONE)
    return false;
  const struct pw_dish *d = &raw->dishes[m->dish].d;
  m->take_frac = line->has_take ? line->take_frac : d->take_frac;
  m->take_of_frac = takes_of(line->take_of    ? line->take_of
                             : line->has_take ? NULL
                                              : raw->dishes[m->dish].take_of,
                             m->take_frac, &raw->ev, r);
  m->portion_kg = d->portion_kg;
  m->portion_units = d->portion_units;
  m->portion_sd_kg = line->has_spread ? line->portion_sd_kg : d->portion_sd_kg;
  m->is_day_before = line->cook_day == 1;
  m->n_waves = line->n_waves;
  if (m->n_waves > 0 && d->cut == PW_NONE)
    pw_reader_fault(r, line->at, "waves", "\"waves\": \"%s\" does not come from the pit, it is not cooked in waves",
                    d->id);
  else if (m->n_waves > 1 && m->is_day_before)
    pw_reader_fault(r, line->at, "waves",
                    "\"waves\": \"%s\" is cooked the day before and reheated all at once: leave \"waves\" out", d->id);
  m->is_time_control = line->is_time_control;
  if (m->is_day_before && d->cut == PW_NONE)
    pw_reader_fault(r, line->at, "not-chilled",
                    "\"cook\": \"%s\" does not come from the pit, there is nothing to cook the day before", d->id);
  else if (m->is_day_before && !raw->cuts[d->cut].c.may_chill)
    pw_reader_fault(r, line->at, "not-chilled",
                    "\"cook\": \"%s\" is made of \"%s\", which is not to be chilled and reheated (\"may_chill\" in its "
                    "\"rest\" block)",
                    d->id, raw->cuts[d->cut].c.id);
  else if (m->is_day_before && !raw->cuts[d->cut].has_chill)
    pw_reader_fault(r, line->at, "missing-key",
                    "\"cook\": \"%s\" may be chilled, but has no \"chill\" block that says what it loses by it",
                    raw->cuts[d->cut].c.id);
  else if (m->is_day_before && !has_reheating_oven(raw))
    pw_reader_fault(r, line->at, "no-oven",
                    "\"cook\": what is cooked the day before is reheated in an oven: name one hotter than 185 F (85 C) "
                    "under \"finishers\"");
  if (line->portion && pw_portion_read(line->portion, &is_by_count, &m->portion_kg, &m->portion_units, r) &&
      is_by_count != d->is_by_count)
    pw_reader_fault(r, line->portion, "bad-portion", "\"portion\": \"%s\" is portioned by %s: write %s", d->id,
                    d->is_by_count ? "count" : "weight",
                    d->is_by_count ? "a count such as 2 each" : "a weight such as 5 oz");
  return true;
}

/* Lines in the order of the file, which is the order served. */
static void menu_resolve(struct raw_service *service, const struct raw_event *raw, struct pw_reader *r)
{
  struct pw_service *s = &service->s;
  double *covers = pw_reader_array(r, service->n_menu, sizeof *covers);
  s->menu = pw_reader_array(r, service->n_menu, sizeof *s->menu);
  if (!s->menu || !covers)
    return;
  for (int i = 0; i < service->n_menu; i++) {
    const struct raw_menu_line *line = &service->menu[i];
    if (!line_resolve(&s->menu[s->n_menu], line, raw, r))
      continue;
    bool is_double = false;
    for (int k = 0; k < s->n_menu; k++)
      is_double = is_double || s->menu[k].dish == s->menu[s->n_menu].dish;
    if (is_double)
      pw_reader_fault(r, line->at, "duplicate-id", "\"%s\" is on this menu twice", line->dish.name);
    covers[s->n_menu++] = line->cover_frac;
    service->has_covers = service->has_covers || line->cover_frac > 0;
  }
  if (service->has_covers)
    service->choice.cover_frac = covers;
}

/* What may be had instead of a line or besides: a dish of its own, taken as often as the one it stands for. */
static void options_resolve(struct raw_service *service, const struct raw_event *raw, struct pw_reader *r)
{
  struct pw_service *s = &service->s;
  struct pw_menu_option *options = pw_reader_array(r, service->n_options, sizeof *options);
  s->options = options;
  for (int i = 0; options && i < service->n_options; i++) {
    const struct raw_option *raw_option = &service->options[i];
    struct pw_menu_option option = {.instead_of = PW_NONE};
    if (!line_resolve(&option.line, &raw_option->line, raw, r))
      continue;
    bool is_on_menu = false;
    int of = pw_ref_index(&raw_option->instead_of, PW_DISHES, raw->dishes, raw->n_dishes, r);
    for (int k = 0; k < s->n_menu; k++) {
      is_on_menu = is_on_menu || s->menu[k].dish == option.line.dish;
      if (of != PW_NONE && s->menu[k].dish == of)
        option.instead_of = k;
    }
    if (is_on_menu)
      pw_reader_fault(r, raw_option->line.at, "duplicate-id",
                      "\"options\": \"%s\" is on this menu already: name another dish", raw_option->line.dish.name);
    if (of != PW_NONE && option.instead_of == PW_NONE)
      pw_reader_fault(r, raw_option->line.at, "unknown-dish",
                      "\"instead_of\": \"%s\" is not on this menu: name one that is, or leave it out",
                      raw_option->instead_of.name);
    if (option.instead_of != PW_NONE && !raw_option->line.has_take) {
      option.line.take_frac = s->menu[option.instead_of].take_frac;
      option.line.take_of_frac = raw_option->line.take_of
                                     ? takes_of(raw_option->line.take_of, option.line.take_frac, &raw->ev, r)
                                     : s->menu[option.instead_of].take_of_frac;
    }
    options[s->n_options++] = option;
  }
}

static void choice_check(const struct raw_service *service, struct pw_reader *r)
{
  const struct pw_choice *c = &service->choice;
  double kinds = c->kinds_frac[0] + c->kinds_frac[1] + c->kinds_frac[2];
  if (kinds > 1 + 1e-9)
    pw_reader_fault(r, service->choice_at, "out-of-range",
                    "\"one\", \"two\" and \"three\" kinds of meat come to more than 100 %%");
  if ((kinds > 0) != (c->total_kg > 0))
    pw_reader_fault(
        r, service->choice_at, "missing-key",
        "a choice among meats needs both: \"meat\" (in all) and how many take \"one\", \"two\" or \"three\" kinds");
}

static void walk_up_resolve(struct raw_service *service, const struct pw_event *ev, struct pw_reader *r)
{
  int guests = 0;
  for (int i = 0; i < ev->n_classes; i++)
    guests += service->s.guests ? service->s.guests[i] : 0;
  if (guests == 0 || service->walk_most == 0) /* has its own fault */
    return;
  if (service->walk_least > guests || service->walk_most < guests)
    pw_reader_fault(r, service->walk_at, "out-of-range",
                    "\"walk_up\": the %d guests of the service must lie between \"least\" and \"most\"", guests);
  service->choice.walk_least_frac = (double)service->walk_least / guests;
  service->choice.walk_most_frac = (double)service->walk_most / guests;
}

/* A service without an id is called by the time of day; a second one of that name gets a number. */
static void name_service(struct raw_event *raw, int i, struct pw_reader *r)
{
  struct pw_service *s = &raw->services[i].s;
  const int minute = ((s->at_min % 1440) + 1440) % 1440;
  const char *word = pw_service_word(minute), *id = word;
  for (int n = 2, k = 0; k < raw->n_services; k++)
    if (k != i && raw->services[k].s.id && strcmp(raw->services[k].s.id, id) == 0) {
      id = pw_reader_printf(r, "%s-%d", word, n++);
      k = -1;
    }
  s->id = id;
  if (!s->name)
    s->name = pw_reader_printf(r, "%c%s", id[0] - 'a' + 'A', id + 1);
}

/* By time; two at one minute as the file has them. */
static int service_order(const void *a, const void *b)
{
  const struct raw_service *x = a, *y = b;
  if (x->s.at_min != y->s.at_min)
    return x->s.at_min < y->s.at_min ? -1 : 1;
  if (x->at->line != y->at->line)
    return x->at->line < y->at->line ? -1 : 1;
  return (x->at->col > y->at->col) - (x->at->col < y->at->col);
}

static void services_resolve(struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_event *ev = &raw->ev;
  for (int i = 0; i < raw->n_services; i++) {
    struct raw_service *service = &raw->services[i];
    struct pw_service *s = &service->s;
    for (int k = 0; k < i && s->id; k++)
      if (raw->services[k].s.id && strcmp(raw->services[k].s.id, s->id) == 0)
        pw_reader_fault(r, service->at, "duplicate-id", "there are two services \"%s\": give each its own id", s->id);
    struct pw_date day =
        service->has_day && service->day.year ? service->day : ev->date; /* a bad day hides no bad time */
    if (service->time && time_read(service->time, "time", day, ev, &s->at_min, r) && ev->date.year)
      s->day = pw_date_to_days(pw_clock_local(ev->clock, s->at_min).date) - pw_date_to_days(ev->date);
    if (!s->id && !pw_node_get(service->at, "id"))
      name_service(raw, i, r);
    if (!s->name)
      s->name = s->id;
    guests_resolve(service, ev, r);
    menu_resolve(service, raw, r);
    options_resolve(service, raw, r);
    cook_days_check(service, raw, r);
    if (service->has_walk_up && service->walk_at)
      walk_up_resolve(service, ev, r);
    if (service->has_choice && service->choice_at)
      choice_check(service, r);
    pw_arrivals_resolve(service, raw, r);
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
      pw_reader_fault(r, crew->to, "shift-order",
                      "\"to\": the shift ends before it starts; a time without a date is on the event's date: for "
                      "a night write both dates, such as \"2027-06-11 20:00\"");
    else if (c->to_at_min - c->from_at_min > 24 * 60)
      pw_reader_fault(r, crew->to, "shift-long",
                      "\"to\": this shift is longer than 24 hours: split it over two crew lines");
  }
}

/* What is on a menu by name must be a dish, also where no service takes it. */
static void menus_resolve(const struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_menus; i++)
    for (int k = 0; k < raw->menus[i].s.n_menu; k++)
      (void)pw_ref_index(&raw->menus[i].s.menu[k].dish, PW_DISHES, raw->dishes, raw->n_dishes, r);
}

/* Who could be called, and when. */
static void pool_resolve(struct raw_event *raw, struct pw_reader *r)
{
  const struct pw_event *ev = &raw->ev;
  for (int i = 0; i < raw->n_pool; i++) {
    struct raw_pool *line = &raw->pool[i];
    struct pw_pool *p = &line->p;
    if (i == PW_POOL_MAX)
      pw_reader_fault(r, line->at, "pool-long", "a crew pool has at most %d lines: put people who are alike into one",
                      PW_POOL_MAX);
    if (p->name && p->up_to > 1)
      pw_reader_fault(r, line->at, "two-ways", "\"name\" is one person and \"up_to\" says %d: leave out one of the two",
                      p->up_to);
    if (p->most_min < p->least_min && p->most_min > 0)
      pw_reader_fault(r, line->at, "shift-order", "\"most\": the longest shift is shorter than \"least\"");
    if (line->has_overtime && p->overtime_after_min < p->least_min)
      pw_reader_fault(r, line->at, "shift-order",
                      "\"overtime\": begins within the shortest shift, before \"least\" is over");
    for (int k = 0; k < i && p->role; k++)
      if (p->name && raw->pool[k].p.name && strcmp(p->name, raw->pool[k].p.name) == 0)
        pw_reader_fault(r, line->at, "duplicate-id", "\"%s\" stands in the pool twice: one person, one line", p->name);
    if (ev->date.year == 0)
      continue;
    p->has_from = line->from && time_read(line->from, "from", ev->date, ev, &p->from_at_min, r);
    p->has_to = line->to && time_read(line->to, "to", ev->date, ev, &p->to_at_min, r);
    if (p->has_from && p->has_to && p->to_at_min - p->from_at_min < p->least_min)
      pw_reader_fault(
          r, line->to, "shift-order",
          "\"to\": the shortest shift does not fit between \"from\" and \"to\"; a time without a date is on the "
          "event's date");
  }
}

/* The set named, else the one for the event's zone, else none. */
static void rules_resolve(struct raw_event *raw, struct pw_reader *r)
{
  int found = PW_NONE;
  for (int i = 0; i < raw->n_rules; i++) {
    struct pw_work_rules *rules = &raw->rules[i].r;
    if (rules->break_after_min > 0 && rules->break_after_min < rules->break_min)
      pw_reader_fault(r, raw->rules[i].at, "shift-order", "\"break\": is longer than the work before it");
    for (int k = 0; k < rules->n_zones && raw->ev.zone && found == PW_NONE; k++)
      if (strncmp(raw->ev.zone, rules->zones[k], strlen(rules->zones[k])) == 0)
        found = i;
  }
  if (raw->rules_ref.name)
    found = pw_ref_index(&raw->rules_ref, PW_RULES, raw->rules, raw->n_rules, r);
  raw->ev.rules = found == PW_NONE ? (struct pw_work_rules){.id = "none", .name = "no rules"} : raw->rules[found].r;
  if (raw->ev.rules.night_hands < 1)
    raw->ev.rules.night_hands = 1;
  if (!(raw->ev.rules.week_overtime_frac > 0))
    raw->ev.rules.week_overtime_frac = 1;
}

/* What each style asks of hands; of one that no catalog has, what its table takes for granted. */
static void styles_resolve(struct raw_event *raw, struct pw_reader *r)
{
  static const struct pw_origin nowhere = {"", false};
  static const struct pw_node empty = {.kind = PW_NODE_MAP, .origin = &nowhere};
  for (int k = 0; k < PW_STYLE__COUNT; k++) {
    struct raw_style plain = {.w = {.id = pw_style_words[k]}};
    int at = pw_index_of(pw_style_words[k], raw->styles, raw->n_styles, sizeof *raw->styles,
                         offsetof(struct raw_style, w.id));
    if (at == PW_NONE)
      pw_schema_read(pw_catalog_table(PW_STYLES), &empty, &plain, r), plain.w.source = "common practice, no source";
    raw->ev.styles[k] = at == PW_NONE ? plain.w : raw->styles[at].w;
  }
  for (int i = 0; i < raw->n_styles; i++) {
    int k = 0;
    while (k < PW_STYLE__COUNT && strcmp(raw->styles[i].w.id, pw_style_words[k]) != 0)
      k++;
    if (k == PW_STYLE__COUNT)
      pw_reader_fault(r, raw->styles[i].at, "unknown-id",
                      "\"service_styles\": \"%s\" is not a style; there are buffet, plated, family, boxed and drop-off",
                      raw->styles[i].w.id);
  }
}

void pw_resolve_job(struct raw_event *raw, struct pw_reader *r)
{
  menus_resolve(raw, r);
  classes_resolve(raw, r);
  pw_curves_resolve(raw, r);
  services_resolve(raw, r);
  crew_resolve(raw, r);
  pool_resolve(raw, r);
  rules_resolve(raw, r);
  styles_resolve(raw, r);
  raw->ev.uses =
      pw_uses_resolve(raw, raw->uses, raw->n_uses, PW_BASES_EVENT, "for supplies: write guest, service or event", r);
  raw->ev.n_uses = raw->n_uses;
}
