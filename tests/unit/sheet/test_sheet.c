/* test_sheet.c - the sheets of the pack as data: what the plan says stands on them, each thing where it belongs and nowhere twice.
 * Counted against the plan itself, on planned events. */
#include "harness.h"
#include "planned.h"

#include "base/arena.h"
#include "base/format.h"
#include "plan/buy/packs.h"
#include "plan/lots/waves.h"
#include "sheet/sheet.h"
#include "sheet/slack_words.h"
#include "sheet/words.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const events[] = {"tests/data/events/family-party.yaml", "events/lakeside-wedding.yaml",
                                     "tests/data/events/county-fair.yaml", "events/garden-lunch.yaml",
                                     "events/sunday-lunch.yaml"};
enum { N_EVENTS = sizeof events / sizeof *events };

static struct pw_ctx *ctx;
static const struct pw_plan *plan;
static struct pw_sheets sheets;

static void open_event(int i)
{
  ctx = pw_test_ctx();
  plan = planned(planned_event(events[i], ctx), false, PW_EFFORT_QUICK, ctx);
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
}

/** The same with its crew listed the other way round: later shifts stand before earlier ones. */
static void open_event_reversed(const char *path)
{
  ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(path, ctx);
  for (int a = 0, b = ev->n_crew - 1; a < b; a++, b--) {
    struct pw_crew crew = ev->crew[a];
    ev->crew[a] = ev->crew[b];
    ev->crew[b] = crew;
  }
  plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
}

static void close_event(void) { pw_test_ctx_free(ctx); }

/** Rows of that kind of sheet whose key is a letter and then this number. */
static int rows_with(enum pw_sheet_kind kind, char letter, int number)
{
  int n = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == kind && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const char *key = sheets.sheets[s].blocks[b].rows[r].key;
        char *end = NULL;
        n += key && key[0] == letter && strtol(key + 1, &end, 10) == number && *end == '\0';
      }
  return n;
}

START_TEST(sheets_stand_in_the_order_of_the_pack)
{
  open_event(_i);
  int of[PW_SHEET__COUNT] = {0}, n_lit = 0, n_rules = 0;
  for (int s = 0; s < sheets.n_sheets; s++) {
    of[sheets.sheets[s].kind]++;
    if (s > 0)
      ck_assert_int_ge(sheets.sheets[s].kind, sheets.sheets[s - 1].kind);
    for (int k = 0; k < s; k++)
      ck_assert_str_ne(sheets.sheets[s].id, sheets.sheets[k].id);
    ck_assert(sheets.sheets[s].is_landscape == (sheets.sheets[s].kind == PW_SHEET_DAY));
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      if (!block->head || strcmp(block->head, "When a day runs late or early") != 0)
        continue;
      n_rules++;
      ck_assert_int_eq(sheets.sheets[s].kind, PW_SHEET_DAY);
      ck_assert_int_eq(block->n_rows, 4);
    }
  }
  ck_assert_int_eq(n_rules, 1); /* the rules of the crew [R2], once */
  ck_assert_ptr_nonnull(plan->chance.services);
  for (int s = 0; s < plan->event->n_services; s++) { /* each meal's chance on the page of its day [R1] */
    char words[256];
    snprintf(words, sizeof words, " %s %d of 100 cooks", plan->event->services[s].name,
             (int)floor(plan->chance.services[s].on_time_frac * 100 + 1e-9));
    int n = 0;
    for (int k = 0; k < sheets.n_sheets; k++)
      n += sheets.sheets[k].kind == PW_SHEET_DAY && sheets.sheets[k].sub && strstr(sheets.sheets[k].sub, words);
    ck_assert_msg(n == 1, "%d pages say \"%s\"", n, words);
  }
  for (int p = 0; p < plan->event->n_pits; p++)
    for (int b = 0, is_lit = 0; b < plan->allocation.n_burns && !is_lit; b++)
      n_lit += is_lit = plan->allocation.burns[b].pit == p;
  ck_assert_int_eq(of[PW_SHEET_FIRE], plan->allocation.n_burns);
  ck_assert_int_eq(of[PW_SHEET_SLIPS], n_lit);
  ck_assert(of[PW_SHEET_JOB] == 1 && of[PW_SHEET_SAFETY] == 1 && of[PW_SHEET_LOGS] == 1 && of[PW_SHEET_PREP] == 1 &&
            of[PW_SHEET_BUYING] == 1 && of[PW_SHEET_TRUCK] == 1 && of[PW_SHEET_SERVING] == 1 && of[PW_SHEET_DAY] >= 1);
  close_event();
}
END_TEST

/** Whether a person goes on serving the same meal with nothing of theirs in between: the line before says it. */
static bool goes_on(int task)
{
  const struct pw_task *t = &plan->tasks.tasks[task], *last = NULL;
  for (int k = 0; k < task; k++)
    if (plan->tasks.tasks[k].person != PW_NONE && t->person != PW_NONE &&
        plan->tasks.people[plan->tasks.tasks[k].person].hand == plan->tasks.people[t->person].hand)
      last = &plan->tasks.tasks[k];
  return t->kind == PW_TASK_SERVE && last && last->kind == PW_TASK_SERVE && last->service == t->service &&
         last->at_min + last->minutes >= t->at_min;
}

START_TEST(every_task_stands_on_one_sheet_of_people)
{
  open_event(_i);
  int n_feeds = 0;
  for (int t = 0; t < plan->tasks.n_tasks; t++)
    if (plan->tasks.tasks[t].kind == PW_TASK_FEED)
      n_feeds += rows_with(PW_SHEET_PERSON, 't', t + 1);
    else
      ck_assert_int_eq(rows_with(PW_SHEET_PERSON, 't', t + 1), goes_on(t) ? 0 : 1);
  /* feeds are on the fires' sheets: one line at most for each fire sends somebody there */
  ck_assert_int_le(n_feeds, plan->allocation.n_burns * plan->tasks.n_people);
  for (int f = 0; f < sheets.view.n_fires; f++)
    ck_assert_int_eq(rows_with(PW_SHEET_FIRE, 'f', f + 1), 1);
  close_event();
}
END_TEST

START_TEST(a_later_shift_listed_first_has_a_sheet)
{
  open_event_reversed("tests/data/events/lakeside-wedding.yaml");
  int n_later_first = 0;
  for (int p = 0; p < plan->tasks.n_people; p++) /* one person's, the later of two shifts first in the list */
    n_later_first += plan->tasks.people[p].hand > p;
  ck_assert_int_gt(n_later_first, 0);
  for (int t = 0; t < plan->tasks.n_tasks; t++)
    if (plan->tasks.tasks[t].kind != PW_TASK_FEED)
      ck_assert_int_eq(rows_with(PW_SHEET_PERSON, 't', t + 1), goes_on(t) ? 0 : 1);
  close_event();
}
END_TEST

static int burn_of_feed(const struct pw_task *t)
{
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == t->pit && burn->lit_at_min <= t->at_min && t->at_min < burn->out_at_min)
      return b;
  }
  ck_abort_msg("\"%s\" without a fire", t->what);
}

/** Feeds on the sheet of a burn behind which stands that name; *last becomes the time of the last. */
static int feeds_named(int burn, const char *name, const char **last)
{
  int n = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == PW_SHEET_FIRE && atoi(sheets.sheets[s].id + strlen("fire-")) == burn + 1 &&
                    b < sheets.sheets[s].n_blocks;
         b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheets.sheets[s].blocks[b].rows[r];
        const char *who =
            row->key && row->key[0] == 'f' && row->cells[2].more ? strstr(row->cells[2].more, ": ") : NULL;
        if (who && strcmp(who + 2, name) == 0) {
          n++;
          *last = row->cells[1].text;
        }
      }
  return n;
}

/** The feed that a row of a person's sheet sends to; NULL: another row. */
static const struct pw_task *feed_of_row(const struct pw_sheet_row *row)
{
  const struct pw_task *t = row->key && row->key[0] == 't' ? &plan->tasks.tasks[atoi(row->key + 1) - 1] : NULL;
  return t && t->kind == PW_TASK_FEED && t->person != PW_NONE ? t : NULL;
}

/** How often a row sends there. */
static int times_of_row(const struct pw_sheet_row *row)
{
  const char *times = strstr(row->cells[2].text, ", ");
  return times ? atoi(times + 2) : 1;
}

/** How often all rows of a person's sheet together send to a burn: one row a shift; *is_last: none of them is later than at_min. */
static int times_on_sheet(const struct pw_sheet *sheet, int burn, int at_min, bool *is_last)
{
  int n = 0;
  *is_last = true;
  for (int b = 0; b < sheet->n_blocks; b++)
    for (int r = 0; r < sheet->blocks[b].n_rows; r++) {
      const struct pw_task *t = feed_of_row(&sheet->blocks[b].rows[r]);
      if (!t || burn_of_feed(t) != burn)
        continue;
      n += times_of_row(&sheet->blocks[b].rows[r]);
      *is_last = *is_last && t->at_min <= at_min;
    }
  return n;
}

/** Whose sheet it is, as other sheets name them: the title has a capital. */
static const char *name_of(const struct pw_sheet *sheet)
{
  int person = atoi(sheet->id + strlen("person-")) - 1;
  ck_assert(person >= 0 && person < plan->tasks.n_people);
  return plan->tasks.people[person].name;
}

/* Whoever is sent to a fire n times until a minute has their name at n of its feeds, the last of them at that minute. */
START_TEST(a_fires_sheet_names_whom_the_others_send_there)
{
  open_event(_i);
  int n_sent = 0, n_somebodys = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == PW_SHEET_PERSON && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheets.sheets[s].blocks[b].rows[r];
        const struct pw_task *t = feed_of_row(row);
        if (!t)
          continue;
        const char *act = row->cells[2].text, *times = strstr(act, ", "), *last = "";
        bool is_last;
        int n = times_on_sheet(&sheets.sheets[s], burn_of_feed(t), t->at_min, &is_last),
            named = feeds_named(burn_of_feed(t), name_of(&sheets.sheets[s]), &last);
        ck_assert_msg(named == n, "%s: \"%s\", %d of its feeds bear the name", sheets.sheets[s].title, act, named);
        ck_assert_msg(!times || !is_last || strstr(act, last), "%s: \"%s\", the last is at %s", sheets.sheets[s].title,
                      act, last);
        n_sent += times_of_row(row);
      }
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    n_somebodys += plan->tasks.tasks[i].kind == PW_TASK_FEED && plan->tasks.tasks[i].person != PW_NONE;
  ck_assert_int_eq(n_sent, n_somebodys);
  ck_assert_int_gt(n_sent, 0);
  close_event();
}
END_TEST

START_TEST(a_persons_lines_are_in_order_of_time)
{
  open_event(_i);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      bool is_by_time = sheets.sheets[s].kind == PW_SHEET_PERSON || sheets.sheets[s].kind == PW_SHEET_FIRE;
      for (int r = 1, last = PW_SHEET_NO_TIME; is_by_time && r < block->n_rows; r++)
        if (block->rows[r].kind == PW_ROW) {
          ck_assert_int_ge(block->rows[r].at_min, last);
          last = block->rows[r].at_min;
        }
    }
  close_event();
}
END_TEST

/* A load of a rack goes on in one slip of its pit, at its own minute, drawn on its own rack, and every slip draws all that lies there. */
START_TEST(every_load_goes_on_in_one_slip)
{
  open_event(_i);
  const struct pw_allocation *al = &plan->allocation;
  for (int l = 0; l < al->n_loads; l++) {
    if (al->loads[l].zone == PW_NONE)
      continue;
    const struct pw_zone *zone = &plan->lots.zones[al->loads[l].zone];
    int n_on = 0;
    for (int s = 0; s < sheets.n_sheets; s++)
      for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
        const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
        bool is_there = false, is_drawn = false;
        for (int k = 0; k < block->n_racks; k++) {
          is_there |= block->racks[k].map.pit == zone->pit;
          for (int m = 0; m < block->racks[k].map.n_loads; m++)
            if (block->racks[k].map.loads[m] == l) {
              is_drawn = true;
              ck_assert(block->racks[k].map.pit == zone->pit && block->racks[k].map.rack == zone->rack);
            }
        }
        bool is_on = block->kind == PW_BLOCK_SLIP && is_there && block->from_at_min >= al->loads[l].start_at_min &&
                     block->from_at_min < al->loads[l].end_at_min;
        ck_assert(is_drawn == is_on);
        n_on += is_drawn && block->from_at_min == al->loads[l].start_at_min;
      }
    ck_assert_int_eq(n_on, 1);
  }
  close_event();
}
END_TEST

START_TEST(goods_and_dishes_stand_once)
{
  open_event(_i);
  for (int i = 0; i < plan->purchase.n_lines; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_BUYING, 'p', i + 1),
                     !pw_is_pit_fuel(plan->event, plan->purchase.lines[i].item));
  for (int i = 0; i < plan->demand.n_lines; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_SERVING, 's', i + 1), 1);
  for (int i = 0; i < plan->lots.n_lots; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_TRUCK, 'l', i + 1), 1);
  for (int i = 0; i < plan->fuel.n_lines; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_TRUCK, 'w', i + 1), 1);
  for (int t = 0; t < plan->tasks.n_tasks; t++) {
    enum pw_task_kind kind = plan->tasks.tasks[t].kind;
    ck_assert_int_eq(rows_with(PW_SHEET_PREP, 't', t + 1),
                     kind == PW_TASK_PREP || kind == PW_TASK_THAW || kind == PW_TASK_BRINE);
  }
  close_event();
}
END_TEST

/** The row of a kind of sheet with that key; NULL: none.  *n: how many there are. */
static const struct pw_sheet_row *row_counted(enum pw_sheet_kind kind, const char *key, int *n)
{
  const struct pw_sheet_row *found = NULL;
  *n = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == kind && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheets.sheets[s].blocks[b].rows[r];
        if (row->key && strcmp(row->key, key) == 0) {
          found = row;
          ++*n;
        }
      }
  return found;
}

/** Pans of a dish of a service in one box are read as the first go in, which is not before the first of it is made, and at least every two hours while any is there: half of
 *  the four hours of FDA Food Code 2022 3-501.19(B). */
static void side_is_read(int side)
{
  const struct pw_side_pans *p = &plan->lots.side_pans[side];
  int first = side, from = p->from_at_min, to = p->to_at_min, n;
  if (p->finisher == PW_NONE)
    return; /* cold, or no room: a warning tells it */
  for (int k = 0; k < plan->lots.n_side_pans; k++) {
    const struct pw_side_pans *o = &plan->lots.side_pans[k];
    if (o->dish != p->dish || o->service != p->service || o->finisher != p->finisher)
      continue;
    first = k < first ? k : first;
    from = o->from_at_min < from ? o->from_at_min : from;
    to = o->to_at_min > to ? o->to_at_min : to;
  }
  int made = INT_MAX;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind == PW_TASK_PREP && t->dish == p->dish && t->service == p->service && t->at_min + t->minutes < made)
      made = t->at_min + t->minutes;
  }
  if (made < INT_MAX) {
    ck_assert_int_lt(made, to); /* made while its pans may be in the box */
    for (; from < made; from++) {
      char key[48];
      snprintf(key, sizeof key, "hs%d-%d", first + 1, from);
      ck_assert_msg(!row_counted(PW_SHEET_LOGS, key, &n), "%s: read before it is made", key);
    }
  }
  int last = from;
  for (int at = from; at < to; at++) {
    char key[48];
    snprintf(key, sizeof key, "hs%d-%d", first + 1, at);
    if (row_counted(PW_SHEET_LOGS, key, &n))
      last = at;
    ck_assert_msg(n == (at == last), "%s: %d rows", key, n);
    ck_assert_int_lt(at - last, 120);
  }
}

/* "Hand 3" heads a sheet where the name is made of the role; a name somebody gave is as typed. */
START_TEST(a_title_begins_with_a_capital)
{
  open_event(_i);
  int n = 0;
  for (int s = 0; s < sheets.n_sheets; s++) {
    if (sheets.sheets[s].kind != PW_SHEET_PERSON || strcmp(sheets.sheets[s].id, "person-none") == 0)
      continue;
    const char *title = sheets.sheets[s].title, *name = name_of(&sheets.sheets[s]);
    ck_assert_str_eq(title + 1, name + 1);
    ck_assert_msg(*title < 'a' || *title > 'z', "%s", title);
    n++;
  }
  ck_assert_int_gt(n, 1);
  close_event();
}
END_TEST

/* Packs are counted as people count them. */
START_TEST(packs_are_said_in_the_plural)
{
  static const struct {
    const char *word;
    int n;
    const char *said;
  } rows[] = {{"bag", 2, "bags"},
              {"case", 1, "case"},
              {"case", 8, "cases"},
              {"box", 3, "boxes"},
              {"loaf", 2, "loaves"},
              {"tray", 7, "trays"},
              {"lb", 9, "lb"},
              {"bunch", 2, "bunches"},
              {"case of 6", 2, "cases of 6"},
              {"splits", 4, "splits"},
              {"No. 10 can", 3, "No. 10 cans"},
              {"pastry", 2, "pastries"},
              {"tray of twelve", 4, "trays of twelve"}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_plural p = pw_words_plural(rows[i].word, rows[i].n);
    char said[64];
    snprintf(said, sizeof said, "%.*s%s%s", p.n_stem, rows[i].word, p.ending, p.rest);
    ck_assert_str_eq(said, rows[i].said);
  }
  open_event(1);
  int n = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == PW_SHEET_BUYING && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheets.sheets[s].blocks[b].rows[r];
        if (!row->key || row->key[0] != 'p')
          continue;
        const char *packs = row->cells[2].text;
        bool has_s = strstr(packs, "s of ") || packs[strlen(packs) - 1] == 's';
        ck_assert_msg((atoi(packs) == 1) != has_s, "%s", packs);
        n++;
      }
  ck_assert_int_gt(n, 20);
  close_event();
}
END_TEST

/* The slip's head says the day: times of it stand without, others with theirs. */
START_TEST(a_slip_says_the_day_once)
{
  open_event(_i);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      for (int r = 0; block->kind == PW_BLOCK_SLIP && r < block->n_rows; r++) {
        char day[5] = {0};
        snprintf(day, sizeof day, "%.3s ", block->head);
        ck_assert_msg(!strstr(block->rows[r].cells[2].text, day), "%s: %s", block->head, block->rows[r].cells[2].text);
      }
    }
  close_event();
}
END_TEST

/* Every core that the view asks for, every reading of a box that somebody's sheet has, and every chill has its line in the logs, at
 * the minute of that sheet, and nowhere else. */
START_TEST(readings_stand_in_the_logs)
{
  open_event(_i);
  for (int i = 0; i < sheets.view.n_cores; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_LOGS, 'c', i + 1), 1);
  for (int i = 0; i < plan->day_before.n_chills; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_LOGS, 'k', i + 1), 1);
  for (int i = 0; i < plan->lots.n_reheats; i++)
    ck_assert_int_eq(rows_with(PW_SHEET_LOGS, 'r', i + 1), 1);
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    char key[32];
    int n;
    snprintf(key, sizeof key, "h%d", i + 1);
    const struct pw_sheet_row *row = row_counted(PW_SHEET_LOGS, key, &n);
    ck_assert_msg(n == (strcmp(pw_view_log_word(plan, &plan->tasks.tasks[i]), "hold") == 0), "%s: %d rows", key, n);
    ck_assert(!row || row->at_min == plan->tasks.tasks[i].at_min);
  }
  for (int i = 0; i < plan->lots.n_side_pans; i++)
    side_is_read(i);
  for (int i = 0; i < plan->allocation.n_loads;
       i++) { /* as it is wrapped or comes off, when somebody's sheet says so */
    const struct pw_load *load = &plan->allocation.loads[i];
    bool is_there = load->stage > PW_LOAD_FINISH || load->pieces == 0;
    for (int c = 0; c < sheets.view.n_cores && !is_there; c++) {
      const struct pw_view_check *check = &sheets.view.cores[c];
      for (int k = 0; k < check->n_ids && check->lot == load->lot && !is_there; k++)
        is_there = check->ids[k] == load->piece_ids[0] && check->at_min == pw_begin_of_load(plan, load, true);
    }
    ck_assert_msg(is_there, "load %d ends at %d", i, load->end_at_min);
  }
  for (int i = 0; i < plan->demand.n_lines;
       i++) { /* a hot dish is read at the line, hour by hour, while guests are there */
    const struct pw_dish *dish = &plan->event->dishes[plan->demand.lines[i].dish];
    const struct pw_service *sv = &plan->event->services[plan->demand.lines[i].service];
    bool is_hot = dish->cut != PW_NONE || dish->held == PW_HELD_HOT,
         has_line = sv->style == PW_BUFFET || sv->style == PW_FAMILY || sv->style == PW_PLATED;
    char key[32];
    int n = 0;
    snprintf(key, sizeof key, "p%d-%d", plan->demand.lines[i].service + 1, i + 1);
    for (int s = 0; s < sheets.n_sheets; s++)
      for (int b = 0; sheets.sheets[s].kind == PW_SHEET_LOGS && b < sheets.sheets[s].n_blocks; b++)
        for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++)
          if (sheets.sheets[s].blocks[b].rows[r].key && strcmp(sheets.sheets[s].blocks[b].rows[r].key, key) == 0) {
            n++;
            ck_assert_int_eq(sheets.sheets[s].blocks[b].n_columns, 2 + (pw_last_plate_min(sv) - sv->at_min) / 60);
          }
    ck_assert_msg(n == (is_hot && has_line && plan->demand.lines[i].portions > 0), "%s: %d rows", dish->id, n);
  }
  close_event();
}
END_TEST

/** Minutes of that kind of bar in the lanes of a finisher, or of the cold. */
static int minutes_drawn(enum pw_view_bar_kind kind, int finisher)
{
  int sum = 0;
  for (int i = 0; i < sheets.view.n_lanes; i++) {
    const struct pw_view_lane *lane = &sheets.view.lanes[i];
    for (int b = 0; b < lane->n_bars; b++) {
      if (b > 0)
        ck_assert_int_le(lane->bars[b - 1].to_at_min, lane->bars[b].from_at_min);
      if (lane->bars[b].kind == kind && lane->finisher == finisher)
        sum += lane->bars[b].n * (lane->bars[b].to_at_min - lane->bars[b].from_at_min);
    }
  }
  return sum;
}

/** What is in a place for a while is drawn there: in every box and oven, hot sides and what is warmed again with it, and in ice
 *  water what was cooked the day before. */
START_TEST(what_lies_somewhere_is_drawn_there)
{
  open_event(_i);
  for (int f = 0; f < plan->event->n_finishers; f++) {
    int sides = 0, holds = 0, reheats = 0;
    for (int k = 0; k < plan->lots.n_side_pans; k++)
      if (plan->lots.side_pans[k].finisher == f)
        sides +=
            plan->lots.side_pans[k].pans * (plan->lots.side_pans[k].to_at_min - plan->lots.side_pans[k].from_at_min);
    for (int k = 0; k < plan->lots.n_reheats; k++) {
      const struct pw_reheat *r = &plan->lots.reheats[k];
      if (r->finisher != f)
        continue;
      reheats += r->pieces * (r->ready_at_min - r->from_at_min);
      holds += r->pieces * (r->out_at_min - r->ready_at_min);
    }
    for (int k = 0; k < plan->allocation.n_loads; k++) {
      const struct pw_load *l = &plan->allocation.loads[k];
      if (l->zone == PW_NONE && l->finisher == f && l->stage == PW_LOAD_HOLD)
        holds += l->pieces * (l->end_at_min - l->start_at_min);
    }
    ck_assert_int_eq(minutes_drawn(PW_BAR_SIDE, f), sides);
    ck_assert_int_eq(minutes_drawn(PW_BAR_HOLD, f), holds);
    ck_assert_int_eq(minutes_drawn(PW_BAR_REHEAT, f), reheats);
  }
  int chills = 0;
  for (int k = 0; k < plan->day_before.n_chills; k++) {
    const struct pw_chill *c = &plan->day_before.chills[k];
    chills += c->pieces * (c->cold_by_at_min - c->from_at_min);
  }
  ck_assert_int_eq(minutes_drawn(PW_BAR_CHILL, PW_NONE), chills);
  if (_i == N_EVENTS - 1)
    ck_assert(chills > 0 && plan->lots.n_reheats > 0);
  close_event();
}
END_TEST

/** The block and row that stand first for a kind of sheet with that key; NULL. */
static const struct pw_sheet_row *row_of(enum pw_sheet_kind kind, const char *key)
{
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == kind && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheets.sheets[s].blocks[b].rows[r];
        if (row->key && strcmp(row->key, key) == 0)
          return row;
      }
  return NULL;
}

/* Meat that is rubbed wave by wave, or by two: each line has the weight of its own pieces, and all of them together are what is bought. */
/** The row of a sheet with that letter and number; NULL. */
static const struct pw_sheet_row *row_with(enum pw_sheet_kind kind, char letter, int number)
{
  char key[16];
  snprintf(key, sizeof key, "%c%d", letter, number);
  return row_of(kind, key);
}

/** Whether the view asks for the core of all pieces of a task in one line of the log. */
static bool has_core_line(const struct pw_task *t)
{
  for (int c = 0; c < sheets.view.n_cores; c++) {
    const struct pw_view_check *check = &sheets.view.cores[c];
    int n = 0;
    for (int i = 0; i < t->n_ids; i++)
      for (int k = 0; k < check->n_ids; k++)
        n += check->ids[k] == t->piece_ids[i];
    if (check->lot == t->lot && (t->n_ids == 0 || n > 0) && rows_with(PW_SHEET_LOGS, 'c', c + 1) == 1)
      return true;
  }
  return false;
}

/* Nobody writes a figure on their own sheet: it says which log, or the fire's sheet, and that has a line for it. */
START_TEST(readings_are_written_in_one_place)
{
  open_event(_i);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == PW_SHEET_PERSON && b < sheets.sheets[s].n_blocks; b++)
      for (int c = 0; c < sheets.sheets[s].blocks[b].n_columns; c++)
        ck_assert(sheets.sheets[s].blocks[b].columns[c].role != PW_CELL_READING);
  int n_core = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    const struct pw_sheet_row *row = row_with(PW_SHEET_PERSON, 't', i + 1);
    const char *log = pw_view_log_word(plan, t);
    if (!log[0] || !row)
      continue;
    ck_assert_msg(strcmp(row->cells[3].text, log) == 0, "\"%s\" goes to \"%s\"", t->what, row->cells[3].text);
    bool is_reheated = false;
    for (int r = 0; r < plan->lots.n_reheats; r++)
      is_reheated |= plan->lots.reheats[r].lot == t->lot && t->at_min >= plan->lots.reheats[r].from_at_min &&
                     rows_with(PW_SHEET_LOGS, 'r', r + 1) == 1;
    bool is_core = strcmp(log, "core") == 0 || strcmp(log, "reheat") == 0;
    ck_assert(!is_core || is_reheated == (strcmp(log, "reheat") == 0));
    if (strcmp(log, "core") == 0) {
      ck_assert_msg(has_core_line(t), "\"%s\" has no line in the log", t->what);
      n_core++;
    }
  }
  ck_assert_int_gt(n_core, 0);
  close_event();
}
END_TEST

/* Which fire is asked, burns down, is out: never left to the line above. */
START_TEST(a_fires_tasks_name_their_pit)
{
  open_event(_i);
  int n = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind != PW_TASK_FIRE_CHECK && t->kind != PW_TASK_BURN_DOWN && t->kind != PW_TASK_ASH)
      continue;
    const struct pw_sheet_row *row = row_with(PW_SHEET_PERSON, 't', i + 1);
    ck_assert_msg(row && row->cells[2].more && strstr(row->cells[2].more, t->where), "\"%s\" at %02d:%02d: %s", t->what,
                  t->at_min / 60, t->at_min % 60, row ? row->cells[2].more : "no row");
    n++;
  }
  ck_assert_int_gt(n, 0);
  close_event();
}
END_TEST

/* A slip's minutes are those of whoever does it: no line comes off before anybody is sent, and what drips does so until the last task says. */
START_TEST(slips_go_by_the_minutes_of_the_tasks)
{
  open_event(_i);
  const struct pw_allocation *al = &plan->allocation;
  for (int l = 0; l < al->n_loads; l++) {
    const struct pw_load *load = &al->loads[l];
    int begin = INT_MAX;
    for (int i = 0; i < plan->tasks.n_tasks; i++) {
      const struct pw_task *t = &plan->tasks.tasks[i];
      for (int k = 0; k < t->n_ids && t->kind == PW_TASK_LOAD && t->lot == load->lot; k++)
        begin = load->stage == PW_LOAD_SMOKE && t->piece_ids[k] == load->piece_ids[0] && t->at_min < begin ? t->at_min
                                                                                                           : begin;
    }
    if (begin != INT_MAX)
      ck_assert_int_eq(pw_begin_of_load(plan, load, false), begin > load->start_at_min ? begin : load->start_at_min);
  }
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      for (int r = 0; block->kind == PW_BLOCK_SLIP && r < block->n_rows; r++)
        if (strcmp(block->rows[r].key, "drips") == 0)
          ck_assert_msg(block->rows[r].at_min > block->from_at_min, "%s: drips until minute %d", block->head,
                        block->rows[r].at_min);
    }
  close_event();
}
END_TEST

/* The truck leaves once: what is taken in or made on site later is not ticked off at its door, and what goes into it is aboard. */
START_TEST(the_truck_has_what_is_there_when_it_leaves)
{
  open_event(_i);
  int leaves = INT_MAX;
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (plan->tasks.tasks[i].kind == PW_TASK_DRIVE && plan->tasks.tasks[i].at_min < leaves)
      leaves = plan->tasks.tasks[i].at_min;
  for (int s = 0; s < sheets.n_sheets; s++) {
    const struct pw_sheet *sheet = &sheets.sheets[s];
    for (int b = 0, is_later = 0; sheet->kind == PW_SHEET_TRUCK && b < sheet->n_blocks; b++)
      for (int r = 0; r < sheet->blocks[b].n_rows; r++) {
        const struct pw_sheet_row *row = &sheet->blocks[b].rows[r];
        if (row->kind == PW_ROW_BAND)
          is_later = strncmp(row->cells[0].text, "Not on the truck", 16) == 0;
        int item = row->key && row->key[0] == 'g' ? atoi(row->key + 1) - 1
                   : row->key && row->key[0] == 'l'
                       ? plan->event->cuts[plan->lots.lots[atoi(row->key + 1) - 1].cut].item
                       : PW_NONE;
        int first = INT_MAX;
        for (int i = 0; item != PW_NONE && i < plan->tasks.n_tasks; i++)
          for (int k = 0; k < plan->tasks.tasks[i].n_items; k++)
            if (plan->tasks.tasks[i].kind == PW_TASK_TAKE_IN && plan->tasks.tasks[i].items[k] == item &&
                plan->tasks.tasks[i].at_min < first)
              first = plan->tasks.tasks[i].at_min;
        if (first != INT_MAX)
          ck_assert_msg((first > leaves) == is_later, "%s is taken in at %d, the truck leaves at %d",
                        row->cells[1].text, first, leaves);
      }
  }
  for (int l = 0; l < plan->demand.n_lines; l++)
    for (int i = 0; i < plan->tasks.n_tasks; i++) {
      const struct pw_task *t = &plan->tasks.tasks[i];
      if (t->kind == PW_TASK_PREP && t->lot == PW_NONE && t->dish == plan->demand.lines[l].dish &&
          t->service == plan->demand.lines[l].service && t->at_min >= leaves)
        ck_assert_int_eq(rows_with(PW_SHEET_TRUCK, 'd', l + 1), 0);
    }
  close_event();
}
END_TEST

START_TEST(prep_has_the_amounts_of_its_own_pieces)
{
  open_event(_i);
  for (int i = 0; i < plan->purchase.n_raws; i++) {
    const struct pw_raw_need *raw = &plan->purchase.raws[i];
    int pieces = 0, n_lines = 0;
    for (int k = 0; k < plan->tasks.n_tasks; k++) {
      const struct pw_task *t = &plan->tasks.tasks[k];
      if (t->kind != PW_TASK_PREP || t->lot == PW_NONE || plan->lots.lots[t->lot].service != raw->service ||
          plan->lots.lots[t->lot].cut != raw->cut)
        continue;
      char key[16];
      snprintf(key, sizeof key, "t%d", k + 1);
      const struct pw_sheet_row *row = row_of(PW_SHEET_PREP, key);
      struct pw_short weight =
          pw_format_weight(plan->event->units, raw->raw_mean_kg * t->pieces / (raw->pieces > 0 ? raw->pieces : 1));
      ck_assert_msg(row && row->cells[2].more && strncmp(row->cells[2].more, weight.s, strlen(weight.s)) == 0,
                    "%s: %s, not %s", key, row ? row->cells[2].more : "no row", weight.s);
      pieces += t->pieces;
      n_lines++;
    }
    if (n_lines > 0)
      ck_assert_int_eq(pieces, raw->pieces);
  }
  close_event();
}
END_TEST

/* Which pieces come off at which minute: they are named while they are few, as on the maps and on people's sheets. */
/* "1 x Foil pans, full size", not "1 Foil pans": what is counted stands apart from its number. */
START_TEST(what_is_counted_stands_apart)
{
  int n = 0;
  open_event(0);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; sheets.sheets[s].kind == PW_SHEET_PREP && b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_rows; r++)
        for (int i = 0; i < plan->event->n_items; i++) {
          const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
          const struct pw_sheet_row *row = &block->rows[r];
          const struct pw_item *item = &plan->event->items[i];
          const char *more = row->key && block->n_columns > 2 ? row->cells[2].more : NULL,
                     *at = more && item->unit == PW_UNIT_EACH ? strstr(more, item->name) : NULL;
          if (!at || at < more + 2 || at[-1] != ' ')
            continue;
          n++;
          ck_assert_msg(at >= more + 4 && memcmp(at - 3, "\xC3\x97 ", 3) == 0, "\"%s\"", more);
        }
  ck_assert_int_gt(n, 2);
  close_event();
}
END_TEST

START_TEST(a_slip_names_its_pieces)
{
  open_event(_i);
  int n_lines = 0;
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      for (int r = 0; block->kind == PW_BLOCK_SLIP && r < block->n_rows; r++) {
        const char *words = block->rows[r].cells[0].text, *times = strstr(words, "\xC3\x97");
        if (!words[0])
          continue;
        ck_assert_msg(times ? atoi(times + strlen("\xC3\x97\xC2\xA0")) >= PW_SHEET_MANY_PIECES
                            : strpbrk(words, "0123456789") != NULL,
                      "%s: %s", block->head, words);
        n_lines++;
      }
    }
  ck_assert_int_gt(n_lines, 0);
  close_event();
}
END_TEST

/* A pit with one temperature has no ends to read, on its sheet or on the job's. */
START_TEST(a_pit_without_ends_is_read_once)
{
  open_event(_i);
  int n_even = 0;
  for (int s = 0; s < sheets.n_sheets; s++) {
    const struct pw_sheet *sheet = &sheets.sheets[s];
    if (sheet->kind != PW_SHEET_FIRE)
      continue;
    const struct pw_burn *burn = &plan->allocation.burns[atoi(sheet->id + strlen("fire-")) - 1];
    const struct pw_setting *set = &plan->event->pits[burn->pit].settings[burn->setting];
    const struct pw_sheet_block *table = &sheet->blocks[sheet->n_blocks - 1];
    bool has_ends = set->hot_c > set->cool_c;
    int n_readings = 0;
    for (int c = 0; c < table->n_columns; c++)
      n_readings += table->columns[c].role == PW_CELL_READING;
    ck_assert_int_eq(n_readings, has_ends ? 3 : 2); /* and who read it */
    ck_assert((strstr(sheet->sub, "far end") != NULL) == has_ends &&
              (strstr(sheet->sub, "both ends") != NULL) == has_ends);
    for (int r = 0, band = PW_NONE; r < table->n_rows; r++) { /* the day once, over its lines */
      const struct pw_sheet_row *row = &table->rows[r];
      ck_assert(row->kind == PW_ROW_BAND || (band != PW_NONE && strlen(row->cells[1].text) == strlen("00:00")));
      ck_assert(row->kind != PW_ROW_BAND || band == PW_NONE ||
                strcmp(row->cells[0].text, table->rows[band].cells[0].text) != 0);
      band = row->kind == PW_ROW_BAND ? r : band;
    }
    n_even += !has_ends;
  }
  if (strstr(events[_i], "county-fair"))
    ck_assert_int_gt(n_even, 0);
  close_event();
}
END_TEST

/* A shelf of the truck, a day, a supplier is named where something stands under it; what a fire costs is no matter of safety. */
START_TEST(nothing_idle_is_said)
{
  open_event(_i);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets.sheets[s].blocks[b];
      for (int r = 0; r < block->n_rows; r++) {
        const struct pw_sheet_row *row = &block->rows[r], *next = r + 1 < block->n_rows ? row + 1 : NULL;
        ck_assert_msg(row->kind == PW_ROW || (next && (next->kind == PW_ROW || next->kind > row->kind)), "%s: %s",
                      sheets.sheets[s].title, row->cells[0].text);
        for (int c = 0; sheets.sheets[s].kind == PW_SHEET_SAFETY && c < block->n_columns; c++)
          ck_assert_ptr_null(strstr(row->cells[c].text, "burns with nothing on it"));
      }
    }
  close_event();
}
END_TEST

/* Carried in the middle of its stage on a mended day: drawn where it lay up to then and where it lies from then, with a slip of that
 * minute and none of before. */
START_TEST(what_is_carried_lies_in_two_places)
{
  open_event(_i);
  int k = 0, other = 0, n_on = 0, n_before = 0, n_after = 0;
  while (plan->allocation.loads[k].zone == PW_NONE)
    k++;
  struct pw_load *l = &plan->allocation.loads[k];
  other = l->zone == 0 ? 1 : 0;
  l->is_carried = true, l->carried_at_min = l->start_at_min + 35, l->from_zone = other, l->from_finisher = PW_NONE;
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
  for (int s = 0; s < sheets.n_sheets; s++)
    for (int b = 0; b < sheets.sheets[s].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[s].blocks[b].n_racks; r++) {
        const struct pw_view_map *map = &sheets.sheets[s].blocks[b].racks[r].map;
        for (int m = 0; m < map->n_loads; m++)
          if (map->loads[m] == k) {
            ck_assert_int_ge(map->from_at_min, l->carried_at_min);
            n_on += map->from_at_min == l->carried_at_min;
          }
      }
  for (int i = 0; i < sheets.view.n_lanes; i++)
    for (int b = 0; b < sheets.view.lanes[i].n_bars; b++) {
      const struct pw_view_lane *lane = &sheets.view.lanes[i];
      const struct pw_view_bar *bar = &lane->bars[b];
      n_before += lane->zone == other && bar->from_at_min == l->start_at_min && bar->to_at_min == l->carried_at_min;
      n_after += lane->zone == l->zone && bar->index == k && bar->from_at_min == l->carried_at_min;
    }
  ck_assert(n_on == 1 && n_before == 1 && n_after == 1);
  close_event();
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("sheet");
  TCase *tc = tcase_create("all");
  tcase_set_timeout(tc, 120);
  tcase_add_loop_test(tc, sheets_stand_in_the_order_of_the_pack, 0, N_EVENTS);
  tcase_add_loop_test(tc, every_task_stands_on_one_sheet_of_people, 0, N_EVENTS);
  tcase_add_test(tc, a_later_shift_listed_first_has_a_sheet);
  tcase_add_loop_test(tc, a_fires_sheet_names_whom_the_others_send_there, 0, N_EVENTS);
  tcase_add_loop_test(tc, a_persons_lines_are_in_order_of_time, 0, N_EVENTS);
  tcase_add_loop_test(tc, every_load_goes_on_in_one_slip, 0, N_EVENTS);
  tcase_add_loop_test(tc, goods_and_dishes_stand_once, 0, N_EVENTS);
  tcase_add_loop_test(tc, readings_stand_in_the_logs, 0, N_EVENTS);
  tcase_add_loop_test(tc, readings_are_written_in_one_place, 0, N_EVENTS);
  tcase_add_loop_test(tc, a_fires_tasks_name_their_pit, 0, N_EVENTS);
  tcase_add_loop_test(tc, slips_go_by_the_minutes_of_the_tasks, 0, N_EVENTS);
  tcase_add_loop_test(tc, the_truck_has_what_is_there_when_it_leaves, 0, N_EVENTS);
  tcase_add_loop_test(tc, what_lies_somewhere_is_drawn_there, 0, N_EVENTS);
  tcase_add_loop_test(tc, prep_has_the_amounts_of_its_own_pieces, 0, N_EVENTS);
  tcase_add_loop_test(tc, a_slip_names_its_pieces, 0, N_EVENTS);
  tcase_add_loop_test(tc, a_pit_without_ends_is_read_once, 0, N_EVENTS);
  tcase_add_loop_test(tc, nothing_idle_is_said, 0, N_EVENTS);
  tcase_add_loop_test(tc, what_is_carried_lies_in_two_places, 0, 2);
  tcase_add_loop_test(tc, a_title_begins_with_a_capital, 0, N_EVENTS);
  tcase_add_test(tc, what_is_counted_stands_apart);
  tcase_add_test(tc, packs_are_said_in_the_plural);
  tcase_add_loop_test(tc, a_slip_says_the_day_once, 0, N_EVENTS);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
