/* test_job.c - the public library as another program uses it: what each call gives, and what it says when it is out of turn. */
#include "harness.h"

#include "pw/pitwright.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <unistd.h>

#define EVENT    "tests/data/events/family-party.yaml"
#define CATALOGS "templates"

static struct pw_job *opened(void)
{
  struct pw_job *job = NULL;
  ck_assert_int_eq(pw_job_open(&job), PW_OK);
  ck_assert_ptr_nonnull(job);
  return job;
}

START_TEST(from_event_to_pack)
{
  struct pw_job *job = opened(), *judge = opened();
  const char *text = NULL;
  size_t n = 0;
  int n_findings = -1;
  char folder[] = "pw-job-XXXXXX", command[64];
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_missed(job), -1);
  ck_assert_int_eq(pw_job_guests(job, 35), PW_OK);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_missed(job), 0);
  ck_assert_int_eq(pw_job_json(job, &text, &n), PW_OK);
  ck_assert(n > 1000 && text[n] == '\0' && strstr(text, "\"format\": \"pitwright-plan\"") &&
            strstr(text, "\"guests\": 35"));
  ck_assert_int_eq(pw_job_judge(judge, text, n, &n_findings), PW_OK);
  ck_assert_int_eq(n_findings, 0);
  ck_assert_int_eq(pw_job_n_diags(judge), 0);
  ck_assert_ptr_null(pw_job_diag(judge, 0));
  ck_assert_ptr_nonnull(mkdtemp(folder));
  ck_assert_int_eq(pw_job_write(job, folder), PW_OK);
  snprintf(command, sizeof command, "test -s %s/plan.json && rm -r %s", folder, folder);
  ck_assert_int_eq(system(command), 0);
  ck_assert_int_eq(pw_job_write(job, "no-such-folder/below"), PW_ERR_IO);
  ck_assert_int_gt(pw_job_n_diags(job), 0);
  ck_assert_ptr_nonnull(pw_job_diag(job, pw_job_n_diags(job) - 1)->text);
  ck_assert_ptr_null(pw_job_diag(job, -1));
  pw_job_close(judge);
  pw_job_close(job);
}
END_TEST

START_TEST(out_of_turn)
{
  struct pw_job *job = opened();
  const char *text = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_job_guests(job, 35), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_plan(job, PW_THOROUGH, 0), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_json(job, &text, &n), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_write(job, "nowhere"), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_read_text(job, "again", "", 0, CATALOGS), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_guests(job, 0), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_json(job, &text, &n), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_guests(job, 50), PW_ERR_USAGE); /* it is planned */
  pw_job_close(job);
  pw_job_close(NULL);
}
END_TEST

START_TEST(faults_are_told)
{
  static const char half[] = "event: {name: Half, gird: 30 min}\n", torn[] = "{\"format\": \"pitwright-plan\"";
  struct pw_job *job = opened();
  int n_findings = -1;
  ck_assert_int_eq(pw_job_read(job, "no-such-event.yaml", CATALOGS), PW_ERR_IO);
  ck_assert_int_eq(pw_job_read_text(job, "half.yaml", half, sizeof half - 1, CATALOGS), PW_ERR_INPUT);
  bool is_told = false;
  for (int i = 0; i < pw_job_n_diags(job); i++) {
    const struct pw_diag *d = pw_job_diag(job, i);
    is_told = is_told || (d->severity == PW_ERROR && d->file && strcmp(d->file, "half.yaml") == 0 && d->line == 1 &&
                          strstr(d->text, "gird"));
  }
  ck_assert(is_told);
  ck_assert_int_eq(pw_job_judge(job, torn, sizeof torn - 1, &n_findings), PW_ERR_INPUT);
  pw_job_close(job);
}
END_TEST

/* ---- texts ------------------------------------------------------------------------------------------ */

enum needs { NOTHING, AN_EVENT, A_PLAN };
static const struct text_row {
  const char *name;
  enum pw_text which;
  enum needs needs;
  const char *holds; /* NULL: no text of one event */
} TEXTS[] = {
    {"event", PW_TEXT_EVENT, AN_EVENT, "40 guests, 1 service, 1 pit, "},
    {"quote", PW_TEXT_QUOTE, A_PLAN, "  Total "},
    {"costs", PW_TEXT_COSTS, A_PLAN, "For the owner only"},
    {"jobs", PW_TEXT_JOBS, A_PLAN, NULL},
    {"purchases", PW_TEXT_PURCHASES, A_PLAN, "Wood and charcoal"},
    {"plan", PW_TEXT_PLAN, A_PLAN, "The job fits"},
    {"shifts", PW_TEXT_SHIFTS, A_PLAN, "[ ]"},
    {"explain", PW_TEXT_EXPLAIN, A_PLAN, "What each fire is for"},
    {"plan-json", PW_TEXT_PLAN_JSON, A_PLAN, "\"format\": \"pitwright-plan\""},
    {"fits", PW_TEXT_FITS, AN_EVENT, "Where "},
    {"explain-json", PW_TEXT_EXPLAIN_JSON, A_PLAN, "\"format\": \"pitwright-explain\""},
    {"event-schema", PW_TEXT_EVENT_SCHEMA, NOTHING, "json-schema.org/draft/2020-12"},
    {"catalog-schema", PW_TEXT_CATALOG_SCHEMA, NOTHING, "json-schema.org/draft/2020-12"},
    {"crew-html", PW_TEXT_CREW_HTML, A_PLAN, "Load slips"},
    {"customer-html", PW_TEXT_CUSTOMER_HTML, A_PLAN, "<!DOCTYPE html>"},
    {"calendar", PW_TEXT_CALENDAR, A_PLAN, "BEGIN:VCALENDAR"},
    {"feeds", PW_TEXT_FEEDS, A_PLAN, "BEGIN:VCALENDAR"},
    {"purchases-csv", PW_TEXT_PURCHASES_CSV, A_PLAN, "supplier"},
    {"tasks-csv", PW_TEXT_TASKS_CSV, A_PLAN, "what"},
    {"day-log", PW_TEXT_DAY_LOG, A_PLAN, ","},
    {"no-such-text", (enum pw_text)99, A_PLAN, NULL},
};
enum { N_TEXTS = sizeof TEXTS / sizeof *TEXTS };

START_TEST(texts)
{
  struct pw_job *job = opened();
  for (enum needs has = NOTHING; has <= A_PLAN; has++) {
    if (has == AN_EVENT)
      ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
    if (has == A_PLAN)
      ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
    for (int i = 0; i < N_TEXTS; i++) {
      const struct text_row *row = &TEXTS[i];
      const char *text = row->name;
      size_t n = 7;
      pw_status st = pw_job_text(job, row->which, &text, &n);
      if (has < row->needs || !row->holds) {
        ck_assert_msg(st == PW_ERR_USAGE && !text && n == 0, "%s: status %d", row->name, (int)st);
        continue;
      }
      ck_assert_msg(st == PW_OK && text && strlen(text) == n, "%s: status %d", row->name, (int)st);
      ck_assert_msg(strstr(text, row->holds) != NULL, "%s lacks \"%s\":\n%.300s", row->name, row->holds, text);
    }
  }
  const char *once = NULL, *twice = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_EXPLAIN, &once, &n), PW_OK);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_EXPLAIN, &twice, &n), PW_OK);
  ck_assert_str_eq(once, twice);
  pw_job_close(job);
}
END_TEST

/* A file's bytes, terminated, into a buffer; "" without one. */
static const char *bytes_of(const char *path, char *to, size_t size)
{
  FILE *in = fopen(path, "rb");
  to[in ? fread(to, 1, size - 1, in) : 0] = '\0';
  if (in)
    fclose(in);
  return to;
}

/* What the pack has as files is had in memory too, byte for byte. */
START_TEST(texts_are_the_files_of_the_pack)
{
  static const struct {
    enum pw_text which;
    const char *file;
  } files[] = {{PW_TEXT_QUOTE, "quote.txt"},
               {PW_TEXT_COSTS, "costs.txt"},
               {PW_TEXT_PURCHASES, "purchases.txt"},
               {PW_TEXT_PLAN, "plan.txt"},
               {PW_TEXT_SHIFTS, "shift-sheet.txt"},
               {PW_TEXT_CREW_HTML, "crew.html"},
               {PW_TEXT_CUSTOMER_HTML, "customer.html"},
               {PW_TEXT_CALENDAR, "calendar.ics"},
               {PW_TEXT_FEEDS, "calendar-feeds.ics"},
               {PW_TEXT_PURCHASES_CSV, "purchases.csv"},
               {PW_TEXT_TASKS_CSV, "tasks.csv"},
               {PW_TEXT_DAY_LOG, "day-log.csv"},
               {PW_TEXT_PLAN_JSON, "plan.json"}};
  enum { SIZE = 4 << 20 };
  struct pw_job *job = opened();
  char folder[] = "pw-job-XXXXXX", path[64], *bytes = malloc(SIZE);
  ck_assert_ptr_nonnull(bytes);
  ck_assert_ptr_nonnull(mkdtemp(folder));
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_write(job, folder), PW_OK);
  for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
    const char *text = NULL;
    size_t n = 0;
    snprintf(path, sizeof path, "%s/%s", folder, files[i].file);
    ck_assert_int_eq(pw_job_text(job, files[i].which, &text, &n), PW_OK);
    ck_assert_msg(n > 0 && strcmp(bytes_of(path, bytes, SIZE), text) == 0, "%s is another text", files[i].file);
  }
  snprintf(path, sizeof path, "rm -r %s", folder);
  ck_assert_int_eq(system(path), 0);
  free(bytes);
  pw_job_close(job);
}
END_TEST

START_TEST(a_text_as_a_file)
{
  struct pw_job *job = opened();
  char folder[] = "pw-job-XXXXXX", path[64], found[256];
  const char *line = NULL;
  size_t n = 0;
  ck_assert_ptr_nonnull(mkdtemp(folder));
  snprintf(path, sizeof path, "%s/line.txt", folder);
  ck_assert_int_eq(pw_job_write_text(job, PW_TEXT_EVENT, path), PW_ERR_USAGE);
  ck_assert_int_ne(access(path, F_OK), 0);
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_write_text(job, PW_TEXT_EVENT, path), PW_OK);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_EVENT, &line, &n), PW_OK);
  ck_assert_str_eq(bytes_of(path, found, sizeof found), line);
  ck_assert_int_eq(pw_job_write_text(job, PW_TEXT_EVENT, "no-such-folder/line.txt"), PW_ERR_IO);
  ck_assert_int_eq(unlink(path) | rmdir(folder), 0);
  pw_job_close(job);
}
END_TEST

/* ---- other wishes --------------------------------------------------------------------------------------- */

START_TEST(units_and_guests_in_any_order)
{
  const char *text[2] = {NULL, NULL};
  size_t n = 0;
  for (int k = 0; k < 2; k++) {
    struct pw_job *job = opened();
    if (k == 0)
      ck_assert_int_eq(pw_job_units(job, PW_UNITS_US), PW_OK); /* before it is read */
    ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
    ck_assert_int_eq(pw_job_guests(job, 90), PW_OK);
    ck_assert_int_eq(pw_job_guests(job, 35), PW_OK);
    if (k == 1) {
      ck_assert_int_eq(pw_job_units(job, PW_UNITS_US), PW_OK);
      ck_assert_int_eq(pw_job_paper(job, PW_PAPER_LETTER), PW_OK);
    }
    ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
    ck_assert_int_eq(pw_job_units(job, PW_UNITS_SI), PW_ERR_USAGE); /* it is planned */
    ck_assert_int_eq(pw_job_paper(job, PW_PAPER_A4), PW_ERR_USAGE);
    ck_assert_int_eq(pw_job_text(job, PW_TEXT_PURCHASES, &text[k], &n), PW_OK);
    ck_assert_ptr_nonnull(strstr(text[k], " lb"));
    ck_assert_ptr_null(strstr(text[k], " kg"));
    char *kept = strdup(text[k]); /* the job's own dies with it */
    ck_assert_ptr_nonnull(kept);
    text[k] = kept;
    pw_job_close(job);
  }
  ck_assert_str_eq(text[0], text[1]);
  free((void *)(uintptr_t)text[0]);
  free((void *)(uintptr_t)text[1]);
}
END_TEST

static const struct how_row {
  const char *name;
  struct pw_how how;
  pw_status status;
} HOWS[] = {
    {"zero", {0}, PW_OK},
    {"no-ladder", {.is_without_ladder = true}, PW_OK},
    {"work", {.care = PW_THOROUGH, .work_times = 1}, PW_OK},
    {"work-below-one", {.work_times = 0.5}, PW_ERR_USAGE},
    {"work-negative", {.work_times = -1}, PW_ERR_USAGE},
    {"work-beyond", {.work_times = 1001}, PW_ERR_USAGE},
    {"work-not-a-number", {.work_times = NAN}, PW_ERR_USAGE},
    {"no-such-care", {.care = (enum pw_care)7}, PW_ERR_USAGE},
    {"folder-that-cannot-be", {.folder = "no-such-folder/below"}, PW_ERR_IO},
    {"model-that-cannot-be", {.dump_model = "no-such-folder/model.lp"}, PW_ERR_IO},
};
enum { N_HOWS = sizeof HOWS / sizeof *HOWS };

static void count_calls(void *user, const char *phase, double cost, double bound)
{
  (void)cost, (void)bound;
  ck_assert(phase && *phase);
  ++*(int *)user;
}

START_TEST(ways_to_plan)
{
  const struct how_row *row = &HOWS[_i];
  struct pw_job *job = opened();
  const char *json = NULL;
  size_t n = 0;
  int n_calls = 0;
  pw_job_progress(job, count_calls, &n_calls);
  ck_assert_int_eq(pw_job_plan_how(job, &row->how), PW_ERR_USAGE); /* nothing is read */
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_plan_how(job, &row->how), row->status);
  ck_assert_int_eq(pw_job_missed(job), row->status == PW_OK ? 0 : -1);
  ck_assert_int_eq(pw_job_n_errors(job) > 0, row->status == PW_ERR_IO);
  if (row->status == PW_OK) {
    ck_assert_int_eq(pw_job_json(job, &json, &n), PW_OK);
    ck_assert_int_eq(strstr(json, "\"ladder\": []") != NULL, row->how.is_without_ladder);
    ck_assert_int_eq(n_calls > 0, !row->how.is_without_ladder || row->how.care == PW_THOROUGH);
    ck_assert_int_eq(pw_job_plan_how(job, &(struct pw_how){.work_times = -1}), PW_ERR_USAGE);
    ck_assert_int_eq(pw_job_missed(job), 0); /* the plan that was there stays */
  }
  pw_job_close(job);
}
END_TEST

struct canceller {
  struct pw_job *job;
  int n, at; /* calls so far; the call at which it is enough */
};

static void cancel_then(void *user, const char *phase, double cost, double bound)
{
  struct canceller *c = user;
  (void)phase;
  (void)cost;
  (void)bound;
  if (++c->n == c->at)
    pw_job_cancel(c->job);
}

/* Given up at the first, the third, the tenth word of it: nothing came of it, what was there is gone, and it can be planned again. */
START_TEST(given_up)
{
  static const int at[] = {1, 3, 10};
  struct pw_job *job = opened();
  struct canceller c = {.job = job, .at = at[_i]};
  const char *text = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  pw_job_cancel(job); /* nothing goes on: it stops nothing */
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  pw_job_progress(job, cancel_then, &c);
  ck_assert_int_eq(pw_job_plan(job, PW_THOROUGH, 0), PW_ERR_STOPPED);
  ck_assert_int_ge(c.n, c.at);
  ck_assert_msg(c.n < c.at + 20, "told %d times, stopped at the %dth", c.n, c.at);
  ck_assert_int_eq(pw_job_json(job, &text, &n), PW_ERR_USAGE);
  c = (struct canceller){.job = job, .at = -1};
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_json(job, &text, &n), PW_OK);
  pw_job_close(job);
}
END_TEST

START_TEST(checked_without_a_plan)
{
  struct pw_job *job = opened();
  ck_assert_int_eq(pw_job_check(job), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_check(job), PW_OK);
  ck_assert_int_eq(pw_job_missed(job), -1);
  pw_job_close(job);
}
END_TEST

/* Guests of one meal: the plan of an event with that one meal is the plan for so many heads; other meals stay; words that say nothing
 * are told, all of them, and change nothing. */
START_TEST(guests_of_single_meals)
{
  static const struct {
    const char *meals, *code[3];
  } faulty[] = {
      {"lunch", {"meal-guests"}},           {"lunch=", {"meal-guests"}},
      {"lunch=0", {"meal-guests"}},         {"lunch=1.5", {"meal-guests"}},
      {"lunch=100001", {"meal-guests"}},    {"lnch=4,lunch=3,supper=0", {"no-meal", "meal-guests", "no-meal"}},
      {"lunch=4,lunch=4", {"meal-guests"}}, {"", {"meal-guests"}}};
  const char *one = NULL, *all = NULL;
  size_t n_one = 0, n_all = 0;
  struct pw_job *job = opened(), *other = opened();
  ck_assert_int_eq(pw_job_meals(job, "lunch=30"), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_read(job, "events/garden-lunch.yaml", CATALOGS), PW_OK);
  for (size_t i = 0; i < sizeof faulty / sizeof *faulty; i++) {
    int first = pw_job_n_diags(job);
    ck_assert_int_eq(pw_job_meals(job, faulty[i].meals), PW_ERR_INPUT);
    for (int k = 0; k < 3 && faulty[i].code[k]; k++) {
      ck_assert_int_gt(pw_job_n_diags(job), first + k);
      ck_assert_str_eq(pw_job_diag(job, first + k)->code, faulty[i].code[k]);
    }
  }
  pw_job_close(job);
  job = opened();
  ck_assert_int_eq(pw_job_read(job, "events/garden-lunch.yaml", CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_meals(job, "lunch=31"), PW_OK);
  ck_assert_int_eq(pw_job_read(other, "events/garden-lunch.yaml", CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_guests(other, 31), PW_OK);
  ck_assert_int_eq(pw_job_meals(other, "lunch=30"), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_plan(other, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_json(job, &one, &n_one), PW_OK);
  ck_assert_int_eq(pw_job_json(other, &all, &n_all), PW_OK);
  ck_assert_str_eq(one, all);
  pw_job_close(other);
  pw_job_close(job);
  job = opened();
  ck_assert_int_eq(pw_job_read(job, "tests/data/events/county-fair.yaml", CATALOGS), PW_OK); /* counts all its meals */
  ck_assert_int_eq(pw_job_meals(job, "sat-lunch=330,sun-supper=100"), PW_OK);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_EVENT, &one, &n_one), PW_OK);
  ck_assert_ptr_nonnull(strstr(one, ", 910 guests, ")); /* 330 + 260 + 220 + 100 */
  pw_job_close(job);
}
END_TEST

/* ---- several events ------------------------------------------------------------------------------------------ */

START_TEST(two_events_as_one)
{
  struct pw_job *job = opened();
  const char *text = NULL;
  size_t n = 0;
  char folder[] = "pw-job-XXXXXX", command[64];
  ck_assert_int_eq(pw_job_add(job, "events/garden-lunch.yaml", CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_add(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_read(job, EVENT, CATALOGS), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_guests(job, 50), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_check(job), PW_OK);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_add(job, EVENT, CATALOGS), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_JOBS, &text, &n), PW_OK);
  ck_assert_ptr_nonnull(strstr(text, "What each job bears"));
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_QUOTE, &text, &n), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_COSTS, &text, &n), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_text(job, PW_TEXT_EXPLAIN, &text, &n), PW_OK);
  ck_assert_int_eq(pw_job_n_files(job), 0);
  ck_assert_ptr_null(pw_job_file(job, 0));
  ck_assert_ptr_nonnull(mkdtemp(folder));
  ck_assert_int_eq(pw_job_write(job, folder), PW_OK);
  int n_files = pw_job_n_files(job);
  ck_assert_int_gt(n_files, 10);
  ck_assert_str_eq(pw_job_file(job, n_files - 1), "plan.json");
  ck_assert_ptr_null(pw_job_file(job, n_files));
  ck_assert_ptr_null(pw_job_file(job, -1));
  bool has_jobs = false;
  for (int i = 0; i < n_files; i++)
    has_jobs = has_jobs || strcmp(pw_job_file(job, i), "jobs.txt") == 0;
  ck_assert(has_jobs);
  ck_assert_int_eq(pw_job_write(job, "no-such-folder/below"), PW_ERR_IO);
  ck_assert_int_eq(pw_job_n_files(job), 0);
  snprintf(command, sizeof command, "test -s %s/jobs.txt && rm -r %s", folder, folder);
  ck_assert_int_eq(system(command), 0);
  pw_job_close(job);
}
END_TEST

START_TEST(events_that_cannot_be_one)
{
  struct pw_job *job = opened();
  ck_assert_int_eq(pw_job_add(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_add(job, "tests/data/events/county-fair.yaml", CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_ERR_INPUT);
  ck_assert_int_gt(pw_job_n_errors(job), 0);
  pw_job_close(job);
}
END_TEST

START_TEST(events_that_are_too_many)
{
  struct pw_job *job = opened();
  for (int i = 0; i < PW_JOB_EVENTS_MAX; i++)
    ck_assert_int_eq(pw_job_add(job, EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_add(job, EVENT, CATALOGS), PW_ERR_USAGE);
  pw_job_close(job);
}
END_TEST

START_TEST(one_of_several_has_faults)
{
  static const char *const files[] = {EVENT, "no-such-event.yaml", "tests/cases/faults/bad-date/event.yaml", EVENT};
  static const pw_status statuses[] = {PW_OK, PW_ERR_IO, PW_ERR_INPUT, PW_ERR_INPUT};
  struct pw_job *job = opened();
  for (int i = 0; i < 4; i++)
    ck_assert_int_eq(pw_job_add(job, files[i], CATALOGS), statuses[i]);
  ck_assert_int_ge(pw_job_n_errors(job), 2); /* of both files */
  pw_job_close(job);
}
END_TEST

/* What a check or an earlier plan warned of is not in the next plan, and not told twice. */
START_TEST(planned_again)
{
  static const char warned[] = "tests/cases/unsafe-with-basis/event.yaml", small[] = "tests/cases/catalog";
  struct pw_job *once = opened(), *again = opened();
  const char *a = NULL, *b = NULL;
  size_t n_a = 0, n_b = 0;
  ck_assert_int_eq(pw_job_read(again, "no-such-event.yaml", CATALOGS), PW_ERR_IO); /* is no fault of what follows */
  ck_assert_int_eq(pw_job_read(again, warned, small), PW_OK);
  ck_assert_int_eq(pw_job_check(again), PW_OK);
  ck_assert_int_gt(pw_job_n_diags(again), 1);
  ck_assert_int_eq(pw_job_plan(again, PW_THOROUGH, 0), PW_OK);
  ck_assert_int_eq(pw_job_plan(again, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_read(once, warned, small), PW_OK);
  ck_assert_int_eq(pw_job_plan(once, PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_json(once, &a, &n_a), PW_OK);
  ck_assert_int_eq(pw_job_json(again, &b, &n_b), PW_OK);
  ck_assert_str_eq(a, b);
  ck_assert_int_eq(pw_job_n_errors(once), 0);
  ck_assert_int_eq(pw_job_n_errors(again), 1);
  ck_assert_int_eq(pw_job_n_seen(again), pw_job_n_diags(again));
  for (int i = 0; i < pw_job_n_diags(again); i++)
    for (int k = 0; k < i; k++)
      ck_assert_str_ne(pw_job_diag_told(again, i), pw_job_diag_told(again, k));
  pw_job_close(once);
  pw_job_close(again);
}
END_TEST

START_TEST(quotes_side_by_side)
{
  struct pw_job *jobs[3] = {opened(), opened(), opened()};
  static const char *const names[] = {"forty", "sixty", "none", "none", "none"};
  const char *text = NULL;
  for (int i = 0; i < 2; i++)
    ck_assert_int_eq(pw_job_read(jobs[i], EVENT, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_guests(jobs[1], 60), PW_OK);
  ck_assert_int_eq(pw_job_plan(jobs[0], PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_compare(jobs, names, 2, &text), PW_ERR_USAGE); /* one is not planned */
  ck_assert_ptr_null(text);
  ck_assert_int_eq(pw_job_plan(jobs[1], PW_QUICK, 0), PW_OK);
  ck_assert_int_eq(pw_job_compare(jobs, names, 2, &text), PW_OK);
  ck_assert(strstr(text, "forty") && strstr(text, "sixty") && strstr(text, "B less A"));
  ck_assert_int_eq(pw_job_compare(jobs, names, 3, &text), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_compare(jobs, names, 1, &text), PW_ERR_USAGE);
  ck_assert_int_eq(pw_job_compare(jobs, names, PW_JOB_COMPARE_MAX + 1, &text), PW_ERR_USAGE);
  for (int i = 0; i < 3; i++)
    pw_job_close(jobs[i]);
}
END_TEST

/* ---- starter, curve ---------------------------------------------------------------------------------------------- */

START_TEST(starter_is_never_in_the_way)
{
  struct pw_job *job = opened();
  char folder[] = "pw-job-XXXXXX", path[64], found[64];
  ck_assert_ptr_nonnull(mkdtemp(folder));
  snprintf(path, sizeof path, "%s/job.yaml", folder);
  ck_assert_int_eq(pw_job_starter(job, path, "no-such-catalogs"), PW_ERR_IO);
  ck_assert_int_ne(access(path, F_OK), 0);
  ck_assert_int_eq(pw_job_starter(job, path, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_read(job, path, CATALOGS), PW_OK);
  FILE *own = fopen(path, "wb");
  ck_assert(own && fputs("mine\n", own) >= 0 && fclose(own) == 0);
  ck_assert_int_eq(pw_job_starter(job, path, CATALOGS), PW_ERR_IO);
  ck_assert_str_eq(bytes_of(path, found, sizeof found), "mine\n");
  ck_assert_int_eq(unlink(path) | rmdir(folder), 0);
  pw_job_close(job);
}
END_TEST

static const struct curve_row {
  const char *name, *event;
  struct pw_curve_ask ask;
  pw_status status;
  const char *says; /* the text, or the last diagnostic */
} CURVES[] = {
    {"catalog",
     NULL,
     {.cut = "brisket-whole", .pit = "small-offset", .catalog_dir = "templates"},
     PW_OK,
     "Whole packer brisket"},
    {"event", EVENT, {.cut = "pork-butt", .pit = "offset", .zone = "main/1"}, PW_OK, "\u00b0C"},
    {"event-without-catalogs", EVENT, {.cut = "pork-butt", .pit = "offset"}, PW_OK, "time to wrap"},
    {"no-cut-named", NULL, {.cut = NULL, .pit = "small-offset", .catalog_dir = "templates"}, PW_ERR_USAGE, NULL},
    {"no-pit-named", NULL, {.cut = "brisket-whole", .pit = NULL, .catalog_dir = "templates"}, PW_ERR_USAGE, NULL},
    {"no-catalogs-named", NULL, {.cut = "brisket-whole", .pit = "small-offset"}, PW_ERR_USAGE, NULL},
    {"no-id",
     NULL,
     {.cut = "a]: {b", .pit = "small-offset", .catalog_dir = "templates"},
     PW_ERR_INPUT,
     "is not an id of the catalogs"},
    {"no-such-cut", EVENT, {.cut = "nope", .pit = "offset"}, PW_ERR_INPUT, "there is no cut \"nope\"; there is "},
    {"no-such-pit", EVENT, {.cut = "pork-butt", .pit = "small-offset"}, PW_ERR_INPUT, "; there is offset"},
    {"no-such-zone",
     EVENT,
     {.cut = "pork-butt", .pit = "offset", .zone = "main/9"},
     PW_ERR_INPUT,
     "; there is main/1, "},
    {"no-such-setting",
     EVENT,
     {.cut = "pork-butt", .pit = "offset", .setting = "x"},
     PW_ERR_INPUT,
     "there is no setting \"x\""},
};
enum { N_CURVES = sizeof CURVES / sizeof *CURVES };

START_TEST(curves)
{
  const struct curve_row *row = &CURVES[_i];
  struct pw_job *job = opened();
  const char *text = "";
  if (row->event)
    ck_assert_int_eq(pw_job_read(job, row->event, CATALOGS), PW_OK);
  ck_assert_int_eq(pw_job_curve(job, &row->ask, &text), row->status);
  ck_assert_int_eq(text != NULL, row->status == PW_OK);
  if (row->status == PW_ERR_INPUT)
    text = pw_job_diag(job, pw_job_n_diags(job) - 1)->text;
  ck_assert_msg(!row->says || strstr(text, row->says), "%s lacks \"%s\"", text, row->says);
  if (!row->event) /* the made-up event stays out of the job */
    ck_assert_int_eq(pw_job_plan(job, PW_QUICK, 0), PW_ERR_USAGE);
  pw_job_close(job);
}
END_TEST

/* ---- what a person reads ---------------------------------------------------------------------------------------------- */

START_TEST(faults_for_a_terminal)
{
  struct pw_job *job = opened();
  char folder[] = "pw-job-XXXXXX", path[64], wanted[128];
  ck_assert_ptr_nonnull(mkdtemp(folder));
  snprintf(path, sizeof path, "%s/a\033b.yaml", folder);
  FILE *out = fopen(path, "wb");
  ck_assert(out && fputs("event:\n  gird: 30 min\n", out) >= 0 && fclose(out) == 0);
  ck_assert_int_eq(pw_job_read(job, path, CATALOGS), PW_ERR_INPUT);
  snprintf(wanted, sizeof wanted, "%s/a\\x1bb.yaml:2:3: error: ", folder);
  const char *told = NULL;
  for (int i = 0; i < pw_job_n_diags(job) && !told; i++)
    if (pw_job_diag(job, i)->line == 2)
      told = pw_job_diag_told(job, i);
  ck_assert(told && strncmp(told, wanted, strlen(wanted)) == 0);
  ck_assert_ptr_nonnull(strstr(told, "\n    gird: 30 min\n    ^\n"));
  ck_assert_ptr_null(strchr(told, '\033'));
  ck_assert_ptr_null(pw_job_diag_told(job, -1));
  ck_assert_ptr_null(pw_job_diag_told(job, pw_job_n_diags(job)));
  ck_assert_str_eq(pw_job_line(job, "a\033[31mb\nc"), "a\\x1b[31mb c");
  ck_assert_int_eq(unlink(path) | rmdir(folder), 0);
  pw_job_close(job);
}
END_TEST

START_TEST(faults_beyond_those_kept)
{
  struct pw_job *job = opened();
  char text[4096];
  size_t n = (size_t)snprintf(text, sizeof text, "event: {");
  for (int i = 0; i < PW_DIAG_MAX + 10; i++)
    n += (size_t)snprintf(text + n, sizeof text - n, "nonsense-%d: 1, ", i);
  n += (size_t)snprintf(text + n, sizeof text - n, "}\n");
  ck_assert_int_eq(pw_job_read_text(job, "many.yaml", text, n, CATALOGS), PW_ERR_INPUT);
  ck_assert_int_eq(pw_job_n_diags(job), PW_DIAG_MAX);
  ck_assert_int_ge(pw_job_n_seen(job), PW_DIAG_MAX + 10);
  ck_assert_int_ge(pw_job_n_errors(job), PW_DIAG_MAX + 10);
  ck_assert_int_le(pw_job_n_errors(job), pw_job_n_seen(job));
  pw_job_close(job);
}
END_TEST

START_TEST(judge_of_files)
{
  struct pw_job *job = opened();
  int n = -1;
  ck_assert_int_eq(pw_job_judge_file(job, "tests/data/plan-good.json", &n), PW_OK);
  ck_assert_int_eq(n, 0);
  ck_assert_int_eq(pw_job_n_seen(job), 0);
  ck_assert_int_eq(pw_job_judge_file(job, "no-such-plan.json", &n), PW_ERR_IO);
  ck_assert_int_eq(pw_job_n_errors(job), 1);
  ck_assert_str_eq(pw_job_diag_told(job, 0),
                   "pitwright: error: cannot read \"no-such-plan.json\": No such file or directory\n");
  pw_job_close(job);
}
END_TEST

START_TEST(version_is_three_numbers)
{
  int a = -1, b = -1, c = -1, end = 0;
  ck_assert_int_eq(sscanf(pw_version(), "%d.%d.%d%n", &a, &b, &c, &end), 3);
  ck_assert(a >= 0 && b >= 0 && c >= 0 && pw_version()[end] == '\0');
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("job");
  TCase *t = tcase_create("library");
  tcase_set_timeout(t, 60);
  tcase_add_test(t, from_event_to_pack);
  tcase_add_test(t, out_of_turn);
  tcase_add_test(t, faults_are_told);
  tcase_add_test(t, version_is_three_numbers);
  tcase_add_test(t, texts);
  tcase_add_test(t, texts_are_the_files_of_the_pack);
  tcase_add_test(t, a_text_as_a_file);
  tcase_add_test(t, units_and_guests_in_any_order);
  tcase_add_loop_test(t, ways_to_plan, 0, N_HOWS);
  tcase_add_loop_test(t, given_up, 0, 3);
  tcase_add_test(t, checked_without_a_plan);
  tcase_add_test(t, two_events_as_one);
  tcase_add_test(t, events_that_cannot_be_one);
  tcase_add_test(t, events_that_are_too_many);
  tcase_add_test(t, one_of_several_has_faults);
  tcase_add_test(t, planned_again);
  tcase_add_test(t, quotes_side_by_side);
  tcase_add_test(t, starter_is_never_in_the_way);
  tcase_add_test(t, guests_of_single_meals);
  tcase_add_loop_test(t, curves, 0, N_CURVES);
  tcase_add_test(t, faults_for_a_terminal);
  tcase_add_test(t, faults_beyond_those_kept);
  tcase_add_test(t, judge_of_files);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
