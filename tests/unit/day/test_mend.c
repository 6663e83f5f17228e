/* test_mend.c - plans mended on random days [N3] [J19]: each passes the judge, nothing new begins in the past, an undisturbed day changes
 * nothing, what lies on a rack stays.  PW_DAYS: how many days of each event (make soak plays many). */
#include "base/buf.h"
#include "base/when.h"
#include "day/restore.h"
#include "day/slip.h"
#include "day/verdict.h"
#include "dice.h"
#include "planned.h"
#include "run.h"
#include "write/plan_json.h"

enum { DAYS = 12, LINES_MAX = 9 };

/* A line of a day, as something may happen near what is planned. */
static void some_line(struct pw_buf *buf, const struct pw_plan *plan, int now_min, struct pw_ctx *ctx)
{
  const struct pw_allocation *a = &plan->allocation;
  const struct pw_load *load = &a->loads[below(a->n_loads)];
  const struct pw_burn *burn = &a->burns[below(a->n_burns)];
  const char *letter = pw_lot_letter(load->lot, ctx->arena);
  int at = now_min - below(240), piece = load->piece_ids[below(load->pieces)] + 1;
  switch (below(10)) {
  case 0:
    pw_buf_printf(buf, "%s on %s%d", pw_when(plan->event, load->start_at_min + below(60) - 15).s, letter, piece);
    break;
  case 1:
    pw_buf_printf(buf, "%s wrapped %s%d", pw_when(plan->event, load->end_at_min + below(60) - 20).s, letter, piece);
    break;
  case 2:
    pw_buf_printf(buf, "%s off %s%d", pw_when(plan->event, load->end_at_min + below(60) - 20).s, letter, piece);
    break;
  case 3:
  case 4:
    pw_buf_printf(buf, "%s core %s%d %d C", pw_when(plan->event, at).s, letter, piece, 30 + below(60));
    break;
  case 5:
    pw_buf_printf(buf, "%s fire-out %s %d min", pw_when(plan->event, at).s, plan->event->pits[burn->pit].id,
                  15 + below(150));
    break;
  case 6:
    pw_buf_printf(buf, "%s absent %s", pw_when(plan->event, at).s, plan->tasks.people[below(plan->tasks.n_people)].id);
    break;
  case 7:
    pw_buf_printf(buf, "%s lost %s %d", pw_when(plan->event, at).s, letter, 1 + below(2));
    break;
  case 8:
    pw_buf_printf(buf, "%s guests %s %d", pw_when(plan->event, at).s, plan->event->services[0].id, 20 + below(200));
    break;
  default:
    pw_buf_printf(buf, "%s lit %s", pw_when(plan->event, burn->lit_at_min + below(90) - 20).s,
                  plan->event->pits[burn->pit].id);
  }
  pw_buf_add_char(buf, '\n');
}

/* What else may happen, at any hour of it. */
static void wild_line(struct pw_buf *buf, const struct pw_plan *plan, int now_min, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  const struct pw_allocation *a = &plan->allocation;
  const struct pw_load *load = &a->loads[below(a->n_loads)];
  const char *letter = pw_lot_letter(load->lot, ctx->arena), *pit = ev->pits[a->burns[below(a->n_burns)].pit].id;
  int at = now_min - below(400), piece = load->piece_ids[below(load->pieces)] + 1;
  struct pw_short moment = pw_when(ev, at);
  const char *when = moment.s;
  struct pw_zone *zone = &plan->lots.zones[below(plan->lots.n_zones)];
  switch (below(14)) {
  case 0:
  case 1:
    pw_buf_printf(buf, "%s lit %s\n", when, pit);
    return;
  case 2:
  case 3:
    pw_buf_printf(buf, "%s fire-out %s %d min still\n", when, pit, 5 + below(150));
    return;
  case 4:
    if (ev->n_finishers > 0)
      pw_buf_printf(buf, "%s carried %s%d %s\n", when, letter, piece, ev->finishers[below(ev->n_finishers)].id);
    return;
  case 5:
    pw_buf_printf(buf, "%s carried %s %s\n", when, letter, zone->id);
    return;
  case 6:
    pw_buf_printf(buf, "%s on %s %s\n", when, letter, zone->id);
    return;
  case 7:
    pw_buf_printf(buf, "%s off %s all\n", when, letter);
    return;
  case 8:
    pw_buf_printf(buf, "%s got %s %d\n", when, letter, 1 + below(plan->lots.lots[load->lot].pieces));
    return;
  case 9:
    pw_buf_printf(buf, "%s weather %d C wind %d mph\n", when, below(40) - 10, below(30));
    return;
  case 10:
    pw_buf_printf(buf, "%s wood %d kg left\n", when, below(200));
    return;
  case 11:
    pw_buf_printf(buf, "%s note nothing, or not much: it rains\n", when);
    return;
  case 12:
    pw_buf_printf(buf, "%s waits %s\n", when, letter);
    return;
  default:
    some_line(buf, plan, now_min, ctx);
  }
}

static void check_future(const struct pw_mended *m, const char *log)
{
  int now = m->state->now_min;
  for (int i = 0; i < m->plan->allocation.n_loads; i++) {
    const struct pw_load *load = &m->plan->allocation.loads[i];
    for (int k = 0; k < load->pieces && load->stage == PW_LOAD_SMOKE && load->start_at_min <= now;
         k++) { /* on a rack: stays there, or is carried and the plan says so */
      const struct pw_piece *piece = &m->state->pieces[m->state->first[load->lot] + load->piece_ids[k]];
      const struct pw_zone *zones = m->state->plan->lots.zones;
      int was = piece->stage[PW_LOAD_SMOKE].zone; /* by measure there may be no room where it was said to lie */
      ck_assert_msg(load->is_carried || was == load->zone ||
                        (was != PW_NONE && load->zone != PW_NONE && zones[was].pit == zones[load->zone].pit &&
                         was != m->state->plan->allocation.loads[piece->stage[PW_LOAD_SMOKE].load].zone),
                    "%s: a piece of %s is moved off its rack", log, m->plan->lots.lots[load->lot].id);
    }
  }
  for (int i = 0; i < m->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &m->plan->tasks.tasks[i];
    bool was_there = false;
    if (t->at_min >= now)
      continue;
    if (t->kind != PW_TASK_ORDER) /* an order in the past is one that was made */
      continue;
    for (int k = 0; k < m->state->plan->tasks.n_tasks && !was_there; k++)
      was_there =
          m->state->plan->tasks.tasks[k].kind == PW_TASK_ORDER && m->state->plan->tasks.tasks[k].at_min == t->at_min;
    ck_assert_msg(was_there, "%s: an order at %d, before now, that was never made", log, t->at_min);
  }
}

/* Adds lines to a log; one that cannot have been is left out. */
static void more_lines(struct pw_buf *text, int n, const struct pw_plan *plan, const struct pw_names *names, int now,
                       bool is_wild, struct pw_ctx *ctx)
{
  struct pw_log log;
  struct pw_state day;
  for (; n > 0; n--) {
    struct pw_ctx *trial = pw_test_ctx();
    struct pw_buf more = pw_buf_in(ctx->arena);
    pw_buf_add_n(&more, text->bytes ? text->bytes : "", text->n);
    (is_wild ? wild_line : some_line)(&more, plan, now, ctx);
    if (pw_log_read(&log, "day.log", more.bytes ? more.bytes : "", more.n, names, trial) == PW_OK &&
        pw_state_make(&day, plan, &log, names, now, trial) == PW_OK)
      *text = more;
    pw_test_ctx_free(trial);
  }
}

/* All faults of a test are told in one run. */
static int n_bad;

static void bad(const struct pw_mended *m, const char *said, unsigned seed, const char *code, const char *text)
{
  const struct pw_event *ev = m->state->plan->event;
  n_bad++;
  printf("%s at %s (seed %u)\n%s: %s %s\n", ev->name, pw_when(ev, m->state->now_min).s, seed, said, code, text);
  (void)fflush(stdout);
}

static void asked_of_the_judge(struct pw_mended *m, const char *said, unsigned seed, struct pw_ctx *ctx)
{
  int before = ctx->n_diags;
  pw_status st = pw_run_warnings(m->plan, ctx);
  ctx->n_diags = before;
  if (st == PW_OK)
    st = pw_run_judge(m->plan, ctx);
  if (st != PW_OK)
    bad(m, said, seed, ctx->n_diags > before ? ctx->diags[before].code : "",
        ctx->n_diags > before ? ctx->diags[before].text : "");
  ctx->n_diags = before;
}

static const char *json_of(const struct pw_plan *plan, size_t *n, struct pw_ctx *ctx)
{
  const char *text = NULL;
  ck_assert(pw_plan_json_text(&text, n, plan, ctx) == PW_OK);
  return text;
}

/* Hours later, with more lines, the crew holding the mended plan: mended again; and the same when that plan's tasks are read from its file. */
static void mend_again(const struct pw_mended *m, const struct pw_names *names, struct pw_buf *text, int now,
                       unsigned seed, struct pw_ctx *ctx)
{
  const struct pw_plan *plan = m->state->plan;
  size_t n = 0;
  const char *file = json_of(m->plan, &n, ctx), *first = NULL;
  const struct pw_json *root = NULL;
  struct pw_handed handed = {m->plan->tasks.tasks, m->plan->tasks.n_tasks, m->plan->day->edition}, read = handed;
  ck_assert(pw_json_parse(&root, "plan.json", file, n, ctx) == PW_OK &&
            pw_restore_tasks(&read.tasks, &read.n_tasks, plan, root, ctx) == PW_OK);
  more_lines(text, 1 + below(4), plan, names, now, true, ctx);
  for (int is_read = 0; is_read < 2; is_read++) {
    struct pw_log log;
    struct pw_state day;
    struct pw_mended again;
    const char *said = text->bytes ? text->bytes : "";
    ck_assert(pw_log_read(&log, "day.log", said, text->n, names, ctx) == PW_OK &&
              pw_state_make(&day, plan, &log, names, now, ctx) == PW_OK);
    day.held = is_read ? read : handed;
    ck_assert_msg(pw_mend(&again, &day, PW_MEND_WAYS, ctx) == PW_OK, "%s", said);
    if (!again.is_changed)
      return;
    ck_assert_int_eq(again.plan->day->edition, 3);
    asked_of_the_judge(&again, said, seed, ctx);
    const char *other = json_of(again.plan, &n, ctx);
    if (first && strcmp(first, other) != 0)
      bad(&again, said, seed, "tasks", "read from the file they make another plan");
    first = other;
  }
}

static void play_day(const struct pw_plan *plan, const struct pw_names *names, unsigned seed, bool is_wild,
                     int *n_mended)
{
  struct pw_ctx *ctx = pw_test_ctx();
  state = seed * UINT64_C(7919) + 1;
  struct pw_buf text = pw_buf_in(ctx->arena);
  int first = plan->allocation.burns[0].lit_at_min, last = plan->event->services[plan->event->n_services - 1].at_min;
  for (int b = 0; b < plan->allocation.n_burns; b++)
    first = plan->allocation.burns[b].lit_at_min < first ? plan->allocation.burns[b].lit_at_min : first;
  int now = first + below(last - first);
  struct pw_log log;
  struct pw_state day;
  struct pw_mended m;
  more_lines(&text, 1 + below(LINES_MAX), plan, names, now, is_wild, ctx);
  const char *said = text.bytes ? text.bytes : "";
  ck_assert(pw_log_read(&log, "day.log", said, text.n, names, ctx) == PW_OK &&
            pw_state_make(&day, plan, &log, names, now, ctx) == PW_OK);
  pw_status st = pw_mend(&m, &day, PW_MEND_WAYS, ctx);
  ck_assert_msg(st == PW_OK, "%s at %s\n%s: status %d", plan->event->name, pw_when(plan->event, now).s, said, (int)st);
  struct pw_buf slip = pw_buf_in(ctx->arena);
  ck_assert(pw_slip_write(&slip, &m, ctx) == PW_OK);
  int lines = 0;
  for (const char *at = slip.bytes; *at; at++)
    lines += *at == '\n';
  ck_assert_msg(lines <= PW_SLIP_LINES, "%d lines", lines);
  if (m.is_changed) {
    ++*n_mended;
    check_future(&m, said);
    ck_assert(pw_behind_write(&slip, &m, ctx) == PW_OK);
    asked_of_the_judge(&m, said, seed, ctx);
    int later = now + 1 + below(200);
    if (is_wild && later < last)
      mend_again(&m, names, &text, later, seed, ctx);
  }
  pw_test_ctx_free(ctx);
}

static void random_days(int event, bool is_wild)
{
  n_bad = 0;
  const char *asked = getenv("PW_DAYS"), *from = getenv("PW_DAYS_FROM");
  int days = asked ? atoi(asked) : event == 2 ? DAYS / 3 : DAYS, n_mended = 0; /* the fair is large */
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[event], ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_names names;
  ck_assert(pw_names_make(&names, plan, ctx) == PW_OK);
  for (int d = 0; d < days; d++)
    play_day(plan, &names, (unsigned)(d + 1 + (from ? atoi(from) : 0)), is_wild, &n_mended);
  ck_assert_msg(n_bad == 0, "%d days are refused", n_bad);
  ck_assert_msg(n_mended * (is_wild ? 4 : 2) >= days,
                "only %d of %d days changed anything: the days are too quiet to test", n_mended, days);
  pw_test_ctx_free(ctx);
}

START_TEST(test_random_days) { random_days(_i, false); }
END_TEST

/* Fires lit at odd times and out still, food carried and laid elsewhere; and mended again hours later. */
START_TEST(test_wild_days) { random_days(_i, true); }
END_TEST

/* Random days whose mended plan its judge once refused: a core read before its stage began stood for the one of now; food was taken as on
 * before its fire burned clean; all of a lot that is never wrapped goes into an oven (twice); work of the past on pieces that are not all there
 * had its hands booked last; of one lot the upper rack was to drip when the lower was done; a feed to come was kept by who is away; what came out
 * of an oven was counted as come from the pit; a reading was to come before what had been done (twice), nobody read what was carried beside what
 * was not; a spot was taken before its fire burned clean; who served was to dish up; pieces whose rub was still to be scratched were mopped
 * with those beside them.  Of wild days: what was laid elsewhere lay on what came there later; a mop done stood too near a wrap that came
 * sooner; the old ash was raked out of a fire that burned; what had waited a day was to be cooked.  Plans have changed since: a row must still be a day that is mended. */
static const struct {
  const char *event;
  unsigned seed;
  bool is_wild;
} REFUSED[] = {{"Lakeside wedding", 8, false},
               {"Summer party", 119, false},
               {"Garden party, seventieth birthday", 210, false},
               {"Summer party", 226, false},
               {"Garden party, seventieth birthday", 108, false},
               {"Garden party, seventieth birthday", 41, false},
               {"Lakeside wedding", 71, false},
               {"Lakeside wedding", 82, false},
               {"Summer party", 23, false},
               {"Summer party", 27, false},
               {"Harrow County Fair, exhibitors' meals", 36, false},
               {"Harrow County Fair, exhibitors' meals", 22, false}};

START_TEST(test_days_once_refused)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n_mended = 0;
  n_bad = 0;
  for (int e = 0; e < N_PLANNED_EVENTS; e++) {
    struct pw_event *ev = planned_event(PLANNED_EVENTS[e], ctx);
    struct pw_names names;
    if (strcmp(ev->name, REFUSED[_i].event) != 0)
      continue;
    const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
    ck_assert(pw_names_make(&names, plan, ctx) == PW_OK);
    play_day(plan, &names, REFUSED[_i].seed, REFUSED[_i].is_wild, &n_mended);
  }
  ck_assert_msg(n_bad == 0, "refused");
  ck_assert_msg(n_mended == 1, "%s: not mended", REFUSED[_i].event);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A log that says that all goes as planned, at every hour, changes nothing. */
START_TEST(test_an_undisturbed_day_changes_nothing)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_names names;
  ck_assert(pw_names_make(&names, plan, ctx) == PW_OK);
  for (int now = plan->allocation.burns[0].lit_at_min; now < plan->event->services[plan->event->n_services - 1].at_min;
       now += 240) {
    struct pw_log log;
    struct pw_state day;
    struct pw_mended m;
    struct pw_buf text = pw_buf_in(ctx->arena);
    for (int i = 0; i < plan->allocation.n_loads; i++) { /* every load that began before now, logged as planned */
      const struct pw_load *load = &plan->allocation.loads[i];
      if (load->stage == PW_LOAD_SMOKE && load->start_at_min < now)
        for (int k = 0; k < load->pieces; k++)
          pw_buf_printf(&text, "%s on %s%d\n", pw_when(plan->event, load->start_at_min).s,
                        pw_lot_letter(load->lot, ctx->arena), load->piece_ids[k] + 1);
    }
    ck_assert(pw_log_read(&log, "day.log", text.bytes ? text.bytes : "", text.n, &names, ctx) == PW_OK);
    ck_assert(pw_state_make(&day, plan, &log, &names, now, ctx) == PW_OK &&
              pw_mend(&m, &day, PW_MEND_WAYS, ctx) == PW_OK);
    ck_assert_msg(!m.is_changed, "%s: changed at %s", plan->event->name, pw_when(plan->event, now).s);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("mend");
  TCase *t = tcase_create("mend");
  tcase_set_timeout(t, 600);
  tcase_add_loop_test(t, test_random_days, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, test_wild_days, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, test_days_once_refused, 0, (int)(sizeof REFUSED / sizeof *REFUSED));
  tcase_add_loop_test(t, test_an_undisturbed_day_changes_nothing, 0, N_PLANNED_EVENTS);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
