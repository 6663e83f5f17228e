/* test_ics.c - the calendar, judged by libical and by RFC 5545's own rules of form. */
#include "base/clock.h"
#include "planned.h"
#include "write/ics.h"
#include "writer_checks.h"

#include <libical/ical.h>

/** Every line ends in CRLF and is at most 75 octets (3.1); no line begins inside a character. */
static void check_lines(const char *text)
{
  for (const char *p = text; *p;) {
    const char *end = strstr(p, "\r\n");
    ck_assert_ptr_nonnull(end);
    ck_assert_msg(end - p <= 75, "%.*s", (int)(end - p), p);
    ck_assert_msg(memchr(p, '\n', (size_t)(end - p)) == NULL, "bare newline in %.*s", (int)(end - p), p);
    const unsigned char *first = (const unsigned char *)p + (*p == ' ');
    ck_assert_msg((*first & 0xC0) != 0x80, "cut inside a character: %.*s", (int)(end - p), p);
    p = end + 2;
  }
}

START_TEST(test_form_and_libical)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, pw_ics_all_write, fx_plan_make());
  check_lines(text);
  icalcomponent *cal = icalparser_parse_string(text);
  ck_assert_ptr_nonnull(cal);
  ck_assert_int_eq(icalcomponent_count_errors(cal), 0);
  ck_assert(icalrestriction_check(cal));
  ck_assert_int_eq(icalcomponent_count_components(cal, ICAL_VEVENT_COMPONENT), fx_plan.tasks.n_tasks);
  int i = 0;
  for (icalcomponent *e = icalcomponent_get_first_component(cal, ICAL_VEVENT_COMPONENT); e;
       e = icalcomponent_get_next_component(cal, ICAL_VEVENT_COMPONENT), i++) {
    const struct pw_task *t = &fx_tasks[i];
    /* midnight of the event's date is 05:00 UTC: offset -5 h */
    long long want = (long long)pw_date_to_days(fx_event.date) * 86400 + 5 * 3600 + t->at_min * 60LL;
    ck_assert_int_eq((long long)icaltime_as_timet(icalcomponent_get_dtstart(e)), want);
    ck_assert_int_eq(
        (long long)(icaltime_as_timet(icalcomponent_get_dtend(e)) - icaltime_as_timet(icalcomponent_get_dtstart(e))),
        t->minutes * 60LL);
    ck_assert_ptr_nonnull(strstr(icalcomponent_get_summary(e), t->kind == PW_TASK_FEED ? "Fire list of " : t->what));
    ck_assert_str_eq(icalcomponent_get_location(e), t->where);
    ck_assert_int_eq(icalcomponent_count_components(e, ICAL_VALARM_COMPONENT), 1);
  }
  icalcomponent_free(cal);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The pitmaster of the example has more to do in a day than anybody lets ring: what rings is at most 25 a person and day, feeds
 * never, and what is no routine before what is. */
START_TEST(test_alarms_can_be_heard)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event("tests/data/events/county-fair.yaml", ctx);
  for (int c = 0; c < ev->n_crew; c++) /* few hands, many tasks each */
    ev->crew[c].count = strcmp(ev->crew[c].role, "pit hand") == 0 ? 1 : ev->crew[c].count;
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  int n_cut = 0, n_feeds = 0;
  for (int c = 0; c < ev->n_crew; c++) {
    bool is_said = false;
    for (int k = 0; k < c; k++)
      is_said |= strcmp(ev->crew[k].role, ev->crew[c].role) == 0;
    if (is_said)
      continue;
    struct pw_buf buf = pw_buf_in(ctx->arena);
    ck_assert_int_eq(pw_ics_write(&buf, plan, ev->crew[c].role, ctx), PW_OK);
    const char *text = pw_buf_text(&buf);
    int rings = 0, mine = 0, people = 0;
    for (const char *p = text; (p = strstr(p, "BEGIN:VALARM")); p++)
      rings++;
    for (const char *p = text; (p = strstr(p, "BEGIN:VEVENT")); p++)
      mine++;
    for (int q = 0; q < plan->tasks.n_people; q++)
      people += strcmp(ev->crew[plan->tasks.people[q].crew].role, ev->crew[c].role) == 0;
    int days = 3 * (people > 0 ? people : 1); /* no shift of the fair touches a third day */
    ck_assert_int_le(rings, 25 * days);
    ck_assert_int_le(rings, mine);
    n_cut += mine - rings;
  }
  ck_assert_int_gt(n_cut, 0);
  struct pw_buf buf = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_ics_feeds_write(&buf, plan, ctx), PW_OK);
  const char *text = pw_buf_text(&buf);
  ck_assert_ptr_null(strstr(text, "VALARM"));
  ck_assert_ptr_nonnull(strstr(text, "X-WR-CALNAME:"));
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    n_feeds += plan->tasks.tasks[i].kind == PW_TASK_FEED;
  for (const char *p = text; (p = strstr(p, "BEGIN:VEVENT")); p++)
    n_feeds--;
  ck_assert_int_eq(n_feeds, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_ids_are_unique)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, pw_ics_all_write, fx_plan_make());
  char id[80];
  int n = 0;
  for (const char *p = strstr(text, "UID:"); p; p = strstr(p + 1, "UID:"), n++) {
    snprintf(id, sizeof id, "%.*s", (int)strcspn(p, "\r"), p);
    ck_assert_msg(strstr(p + 1, id) == NULL, "twice: %s", id);
  }
  ck_assert_int_eq(n, fx_plan.tasks.n_tasks);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The nights the clocks change in Chicago, 7 November and 14 March 2027: local times and UTC by the rule in force since
 * 2007 (Energy Policy Act of 2005, section 110: first Sunday of November and second of March, 2 a.m.). */
static const struct {
  const char *name;
  struct pw_date date;
  int at_min;
  const char *utc;
} night[] = {
    {"before midnight, CDT", {2027, 11, 7}, -30, "DTSTART:20271107T043000Z"},
    {"midnight, CDT", {2027, 11, 7}, 0, "DTSTART:20271107T050000Z"},
    {"01:30 the first time", {2027, 11, 7}, 90, "DTSTART:20271107T063000Z"},
    {"01:30 the second time", {2027, 11, 7}, 150, "DTSTART:20271107T073000Z"},
    {"02:00, CST", {2027, 11, 7}, 180, "DTSTART:20271107T080000Z"},
    {"spring, before midnight, CST", {2027, 3, 14}, -30, "DTSTART:20270314T053000Z"},
    {"spring, 01:59, CST", {2027, 3, 14}, 119, "DTSTART:20270314T075900Z"},
    {"spring, 03:00, CDT", {2027, 3, 14}, 120, "DTSTART:20270314T080000Z"},
};

START_TEST(test_clock_change)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = *fx_plan_make()->event;
  struct pw_plan plan = fx_plan;
  struct pw_task task = fx_tasks[4];
  struct pw_clock *clock = NULL;
  ev.date = night[_i].date;
  ck_assert_int_eq(pw_clock_open(&clock, "America/Chicago", ev.date, ctx), PW_OK);
  ev.clock = clock;
  task.at_min = night[_i].at_min;
  plan.event = &ev;
  plan.tasks.tasks = &task;
  plan.tasks.n_tasks = 1;
  ck_assert_msg(strstr(writer_text(ctx, pw_ics_all_write, &plan), night[_i].utc) != NULL, "%s", night[_i].name);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_hostile_text)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = *fx_plan_make();
  struct pw_task task = fx_tasks[4];
  /* three-byte characters so that folds fall at every offset; the special characters of 3.3.11; an injected line */
  task.what = "\xE2\x98\x90\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81"
              "\xAB\xE7\x81\xAB\xE7\x81\xAB"
              "\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81\xAB\xE7\x81"
              "\xAB\xE7\x81\xAB\xE7\x81\xAB a\\b;c,d\nEND:VEVENT";
  plan.tasks.tasks = &task;
  plan.tasks.n_tasks = 1;
  const char *text = writer_text(ctx, pw_ics_all_write, &plan);
  check_lines(text);
  icalcomponent *cal = icalparser_parse_string(text);
  ck_assert_ptr_nonnull(cal);
  ck_assert_int_eq(icalcomponent_count_errors(cal), 0);
  icalcomponent *e = icalcomponent_get_first_component(cal, ICAL_VEVENT_COMPONENT);
  ck_assert_ptr_nonnull(strstr(icalcomponent_get_summary(e), "a\\b;c,d\nEND:VEVENT"));
  icalcomponent_free(cal);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_one_role)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf buf = pw_buf_in(ctx->arena);
  int want = 0, got = 0;
  for (int i = 0; i < fx_plan_make()->tasks.n_tasks; i++)
    want += fx_tasks[i].crew == 1;
  ck_assert_int_eq(pw_ics_write(&buf, &fx_plan, "carver", ctx), PW_OK);
  for (const char *p = strstr(buf.bytes, "BEGIN:VEVENT"); p; p = strstr(p + 1, "BEGIN:VEVENT"))
    got++;
  ck_assert_int_eq(got, want);
  ck_assert_int_gt(got, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_role_without_tasks)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf buf = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_ics_write(&buf, fx_plan_make(), "nobody's role", ctx), PW_OK);
  struct pw_plan idle = fx_plan;
  idle.tasks.n_tasks = 0;
  ck_assert_int_eq(pw_ics_all_write(&buf, &idle, ctx), PW_OK);
  ck_assert_uint_eq(buf.n, 0); /* a calendar without a component is none: RFC 5545, 3.6 */
  pw_test_ctx_free(ctx);
}
END_TEST

/* Role names of an event and the files they make. */
static const struct {
  const char *name, *roles[3], *files[3];
  int n;
} role_files[] = {
    {"plain",
     {"Night fire tender", "carver", NULL},
     {"calendar-night-fire-tender.ics", "calendar-carver.ics", NULL},
     2},
    {"one role twice", {"carver", "carver", "server"}, {"calendar-carver.ics", "calendar-server.ics", NULL}, 2},
    {"alike but for signs",
     {"pit/hand", "pit hand", "../pit hand"},
     {"calendar-pit-hand.ics", "calendar-pit-hand-2.ics", "calendar-pit-hand-3.ics"},
     3},
    {"no letters", {"\xE7\x81\xAB", "!", NULL}, {"calendar-role.ics", "calendar-role-2.ics", NULL}, 2},
};

START_TEST(test_role_files)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_crew crew[3];
  struct pw_event ev = fx_event;
  struct pw_ics_role *roles = NULL;
  int n = 0;
  ev.crew = crew;
  for (ev.n_crew = 0; ev.n_crew < 3 && role_files[_i].roles[ev.n_crew]; ev.n_crew++)
    crew[ev.n_crew] = (struct pw_crew){.role = role_files[_i].roles[ev.n_crew]};
  ck_assert_int_eq(pw_ics_roles(&roles, &n, &ev, ctx), PW_OK);
  ck_assert_int_eq(n, role_files[_i].n);
  for (int i = 0; i < n; i++)
    ck_assert_str_eq(roles[i].file, role_files[_i].files[i]);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_same_bytes) { writer_check_same_bytes(pw_ics_all_write); }
END_TEST

START_TEST(test_memory) { writer_check_memory(pw_ics_all_write); }
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("ics");
  TCase *tc = tcase_create("core");
  tcase_set_timeout(tc, 120);
  tcase_add_test(tc, test_form_and_libical);
  tcase_add_test(tc, test_alarms_can_be_heard);
  tcase_add_test(tc, test_ids_are_unique);
  tcase_add_loop_test(tc, test_clock_change, 0, sizeof night / sizeof night[0]);
  tcase_add_test(tc, test_hostile_text);
  tcase_add_test(tc, test_one_role);
  tcase_add_test(tc, test_role_without_tasks);
  tcase_add_loop_test(tc, test_role_files, 0, sizeof role_files / sizeof role_files[0]);
  tcase_add_test(tc, test_same_bytes);
  tcase_add_test(tc, test_memory);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
