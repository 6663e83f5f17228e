/* test_job.c - the public library as another program uses it: what each call gives, and what it says when it is out of turn. */
#include "harness.h"

#include "pw/pitwright.h"

#include <stdbool.h>
#include <unistd.h>

static const char EVENT[] = "events/family-party.yaml", CATALOGS[] = "templates";

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
  ck_assert(n > 1000 && text[n] == '\0' && strstr(text, "\"format\": \"pitwright-plan\"") && strstr(text, "\"guests\": 35"));
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
    is_told = is_told || (d->severity == PW_ERROR && d->file && strcmp(d->file, "half.yaml") == 0 && d->line == 1 && strstr(d->text, "gird"));
  }
  ck_assert(is_told);
  ck_assert_int_eq(pw_job_judge(job, torn, sizeof torn - 1, &n_findings), PW_ERR_INPUT);
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
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
