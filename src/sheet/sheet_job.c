/* sheet_job.c - the two sheets everybody reads first: the job on one page, and safety on one. */
#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "plan/safety/cautions.h"
#include "sheet/chance_words.h"
#include "sheet/fuel_words.h"
#include "sheet/sheet_pen.h"
#include "sheet/words.h"

#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

static void meals(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TIME, "Food at", 11}, {PW_CELL_ACT, "Meal", 0}, {PW_CELL_AMOUNT, "Guests", 7}, {PW_CELL_NOTE, "", 30}};
  pw_pen_table(pen, "Meals", NULL, COLUMNS(columns));
  pw_pen_keep(pen);
  for (int i = 0; i < pen->ev->n_services; i++) {
    const struct pw_service *sv = &pen->ev->services[i];
    pw_pen_row(pen, NULL, sv->at_min);
    pw_pen_cell(pen, pw_view_when(pen->view, sv->at_min));
    pw_pen_cell_more(pen, pw_view_service(pen->view, i),
                     TEXT("%s, %s", pw_view_style_word(sv->style), pw_format_minutes(sv->length_min).s));
    pw_pen_cell(pen, TEXT("%d", pw_view_guest_count(pen->view, i)));
    pw_pen_cell(pen, pw_view_guests(pen->view, i));
  }
}

/** [R1] */
static void on_time(struct pw_sheet_pen *pen)
{
  pw_pen_block(pen, PW_BLOCK_TEXT, "Ready on time", NULL);
  pw_pen_narrow(pen);
  pw_pen_keep(pen);
  for (int i = 0; i < pen->ev->n_services && pen->plan->chance.services; i++) {
    const char *words = pw_chance_words(pen->plan, i, pen->view->arena);
    pen->view->failed |= !words;
    pw_pen_text(pen, pw_view_service(pen->view, i), words ? words : "");
  }
  pw_pen_drop_empty(pen);
}

static void place(struct pw_sheet_pen *pen)
{
  const struct pw_site *site = &pen->ev->site;
  const struct pw_weather *w = &pen->ev->weather;
  enum pw_units units = pen->ev->units;
  pw_pen_block(pen, PW_BLOCK_TEXT, "Place", NULL);
  pw_pen_narrow(pen);
  pw_pen_keep(pen);
  pw_pen_text(pen, "Where", site->place && site->place[0] ? site->place : "not said");
  if (site->travel_min > 0)
    pw_pen_text(
        pen, "Way",
        TEXT("%s, %s, one way", pw_format_distance(units, site->travel_m).s, pw_format_minutes(site->travel_min).s));
  pw_pen_text(pen, "Weather planned for",
              TEXT("%s to %s, wind %s", pw_format_temp(units, w->low_c).s, pw_format_temp(units, w->high_c).s,
                   pw_format_speed(units, w->wind_m_s).s));
  pw_pen_row(pen, NULL, PW_SHEET_NO_TIME);
  pw_pen_cell(pen, "Phones: fire, customer, keys");
  pw_pen_open(pen);
}

static void fires(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_WHAT, "Fire", 0},
                                                   {PW_CELL_TIME, "Light", 11},
                                                   {PW_CELL_TIME, "Food from", 11},
                                                   {PW_CELL_TIME, "Food out", 11},
                                                   {PW_CELL_NOTE, "Fire end, far end", 18}};
  const struct pw_allocation *al = &pen->plan->allocation;
  pw_pen_table(pen, "Fires", NULL, COLUMNS(columns));
  pw_pen_keep(pen);
  for (int i = 0; i < al->n_burns; i++) {
    const struct pw_burn *u = &al->burns[i];
    const struct pw_setting *set = &pen->ev->pits[u->pit].settings[u->setting];
    pw_pen_row(pen, NULL, u->lit_at_min);
    pw_pen_cell(pen, pen->ev->pits[u->pit].name);
    pw_pen_cell(pen, pw_view_when(pen->view, u->lit_at_min));
    pw_pen_cell(pen, pw_view_when(pen->view, u->ready_at_min));
    pw_pen_cell(pen, pw_view_when(pen->view, u->out_at_min));
    pw_pen_cell(pen, pw_words_has_ends(set) ? TEXT("%s, %s", pw_format_temp(pen->ev->units, set->hot_c).s,
                                                   pw_format_temp(pen->ev->units, set->cool_c).s)
                                            : TEXT("%s", pw_words_ends(pen->ev->units, set).s));
  }
  pw_pen_drop_empty(pen);
}

static void fuel(struct pw_sheet_pen *pen)
{
  const struct pw_fuel_plan *f = &pen->plan->fuel;
  pw_pen_block(pen, PW_BLOCK_TEXT, "Wood and charcoal, the reserve included", NULL);
  pw_pen_narrow(pen);
  pw_pen_keep(pen);
  for (int i = 0; i < f->n_lines; i++)
    pw_pen_text(pen, pen->ev->fuels[f->lines[i].fuel].name, TEXT("%s", pw_fuel_amount(pen->ev, &f->lines[i]).s));
  pw_pen_drop_empty(pen);
}

/** Lots by their meal, whose minute is said once; a later wave says its own. */
static void lots(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_MARK, "Lot", 5}, {PW_CELL_ACT, "Meat", 0}, {PW_CELL_AMOUNT, "Pieces", 8}};
  const struct pw_lots *lots = &pen->plan->lots;
  int by_at_min = 0;
  pw_pen_table(pen, "Lots: the letters on maps and sheets", NULL, COLUMNS(columns));
  pw_pen_narrow(pen);
  for (int i = 0; i < lots->n_lots; i++) {
    const struct pw_lot *lot = &lots->lots[i];
    if (i == 0 || lot->service != lots->lots[i - 1].service) {
      by_at_min = lot->by_at_min;
      pw_pen_band(
          pen, PW_ROW_BAND,
          TEXT("%s: rested by %s", pw_view_service(pen->view, lot->service), pw_view_when(pen->view, by_at_min)));
    }
    pw_pen_row(pen, NULL, lot->by_at_min);
    pw_pen_cell(pen, pen->view->lot_mark[i]);
    pw_pen_cell_more(pen, pen->ev->cuts[lot->cut].name,
                     lot->by_at_min == by_at_min ? NULL : TEXT("by %s", pw_view_when(pen->view, lot->by_at_min)));
    pw_pen_cell(pen, TEXT("%d", lot->pieces));
  }
  pw_pen_drop_empty(pen);
}

static const struct pw_crew *crew_of(const struct pw_sheet_pen *pen, int person)
{
  return &pen->ev->crew[pen->plan->tasks.people[person].crew];
}

/** All shifts of a person, at the first of them in the list; NULL: at the others, and of the office. */
static const char *all_shifts(struct pw_sheet_pen *pen, int person)
{
  const struct pw_person *people = pen->plan->tasks.people;
  const struct pw_crew *c = crew_of(pen, person);
  bool is_first = c->worked || c->cents_per_h > 0; /* the office is not on the road with them */
  for (int k = 0; k < person && is_first; k++)
    is_first = people[k].hand != people[person].hand;
  return is_first ? pw_sheet_shifts(pen, people[person].hand) : NULL;
}

/** "hand 3, 4": people of one role with the same hours in one line, each by the name of their sheet. */
static const char *with_name(struct pw_sheet_pen *pen, const char *names, int person)
{
  const char *name = pen->plan->tasks.people[person].name, *role = crew_of(pen, person)->role;
  size_t n = strlen(role);
  bool is_numbered = strncmp(name, role, n) == 0 && name[n] == ' ';
  return TEXT("%s, %s", names, is_numbered ? name + n + 1 : name);
}

/** Who of the pool comes, from when to when, with which break; given people beside them. */
static void roster(struct pw_sheet_pen *pen)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  const char **text = pw_arena_array(pen->view->arena, (size_t)tasks->n_people + 1, sizeof *text);
  pw_pen_block(pen, PW_BLOCK_TEXT, "Who comes when: each has their own sheet",
               TEXT("Worked out by the rules of: %s. Local law and the contract decide.", pen->ev->rules.name));
  pw_pen_narrow(pen);
  int *order = pw_arena_array(pen->view->arena, (size_t)tasks->n_people + 1, sizeof *order);
  pen->view->failed |= !text || !order;
  for (int p = 0; text && order && p < tasks->n_people; p++) {
    int at = p;
    for (; at > 0 && crew_of(pen, order[at - 1])->from_at_min > crew_of(pen, p)->from_at_min; at--)
      order[at] = order[at - 1];
    order[at] = p; /* by when they come */
    text[p] = all_shifts(pen, p);
  }
  for (int n = 0; text && order && n < tasks->n_people; n++) {
    int p = order[n];
    const char *names = pw_view_person_head(pen->view, p), *hours = text[p];
    if (!hours)
      continue;
    for (int m = n + 1; m < tasks->n_people; m++) {
      int k = order[m];
      if (text[k] && strcmp(text[k], hours) == 0 && strcmp(crew_of(pen, k)->role, crew_of(pen, p)->role) == 0) {
        names = with_name(pen, names, k);
        text[k] = NULL;
      }
    }
    pw_pen_text(pen, names, hours);
  }
  pw_pen_drop_empty(pen);
}

static void people(struct pw_sheet_pen *pen)
{
  pw_pen_block(pen, PW_BLOCK_TEXT, "People: each has a sheet of their own", NULL);
  pw_pen_narrow(pen);
  for (int r = 0; r < pen->view->n_roles; r++) {
    const struct pw_view_role *role = &pen->view->roles[r];
    int n = 0;
    for (int p = 0; p < pen->plan->tasks.n_people; p++)
      n += pen->plan->tasks.people[p].hand == p &&
           strcmp(pen->ev->crew[pen->plan->tasks.people[p].crew].role, role->role) == 0;
    pw_pen_text(pen, n > 1 ? TEXT("%d \xC3\x97 %s", n, role->role) : pw_view_capital(pen->view, role->role),
                role->shifts);
  }
  pw_pen_drop_empty(pen);
}

void pw_sheet_job(struct pw_sheet_pen *pen)
{
  const struct pw_event *ev = pen->ev;
  if (!pw_pen_sheet(pen, PW_SHEET_JOB, "job", ev->name,
                    TEXT("%s%s%s", pw_view_date(pen->view, ev->date), ev->customer && ev->customer[0] ? ", for " : "",
                         ev->customer && ev->customer[0] ? ev->customer : "")))
    return;
  if (pen->plan->allocation.n_missed > 0) {
    pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
    pw_pen_text(pen, "Does not fit",
                TEXT("%d %s found no place in this plan.", pen->plan->allocation.n_missed,
                     pw_view_pieces(pen->plan->allocation.n_missed)));
  }
  meals(pen);
  on_time(pen);
  place(pen);
  fuel(pen);
  fires(pen);
  lots(pen);
  if (pen->plan->staffing.asked)
    roster(pen);
  else
    people(pen);
}

/** Whether the cautions say it already: the same words, or the same finding of safety in other units (a plan shown again in pounds keeps
 *  the warnings of its file). */
static bool is_said(const struct pw_sheet_pen *pen, const struct pw_caution *cautions, int n,
                    const struct pw_warning *warning)
{
  for (int i = 0; i < n; i++)
    if (strcmp(cautions[i].text, warning->text) == 0)
      return true;
  for (int i = 0; i < pen->plan->safety.n_warnings; i++)
    if (strcmp(pen->plan->safety.warnings[i].code, warning->code) == 0)
      return true;
  return false;
}

void pw_sheet_safety(struct pw_sheet_pen *pen)
{
  struct pw_caution *cautions = NULL;
  int n = 0;
  if (pw_cautions_make(&cautions, &n, pen->plan, pen->ctx) != PW_OK) {
    pen->view->failed = true;
    return;
  }
  pw_pen_sheet(pen, PW_SHEET_SAFETY, "safety", "Safety: read before anything is lit", NULL);
  pw_pen_block(pen, PW_BLOCK_TEXT, NULL, NULL);
  pw_pen_narrow(pen);
  for (int i = 0; i < n; i++)
    pw_pen_text(pen, cautions[i].head, cautions[i].text);
  pw_pen_block(pen, PW_BLOCK_TEXT, "For this job in particular", NULL);
  pw_pen_narrow(pen);
  for (int i = 0; i < pen->plan->n_warnings; i++)
    if (strcmp(pen->plan->warnings[i].code, "empty-fire") != 0 && /* money: whoever plans decides */
        !is_said(pen, cautions, n, &pen->plan->warnings[i]))
      pw_pen_text(pen, "", pen->plan->warnings[i].text);
  pw_pen_drop_empty(pen);
}
