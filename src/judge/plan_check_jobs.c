/* plan_check_jobs.c - several jobs planned as one: what they bear adds up to the cost, line by line, to the cent [J10].
 * In: the jobs and the quote.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <inttypes.h>

#define MONEY "%" PRId64

static int64_t known(int64_t cents) { return cents == PW_SEEN_NONE ? 0 : cents; }

pw_status pw_check_jobs(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  static const char *const keys[] = {"food_cents",   "supplies_cents", "fuel_cents",     "labour_cents",
                                     "rental_cents", "travel_cents",   "overhead_cents", "cost_cents"};
  enum { N_KEYS = sizeof keys / sizeof *keys };
  const struct pw_seen_quote *q = &plan->quote;
  const int64_t all[N_KEYS] = {q->food_cents,   q->supplies_cents, q->fuel_cents,     q->labour_cents,
                               q->rental_cents, q->travel_cents,   q->overhead_cents, q->cost_cents};
  int64_t sum[N_KEYS] = {0};
  for (int j = 0; j < plan->n[PW_SEEN_JOBS]; j++) {
    const struct pw_seen_job *job = &plan->jobs[j];
    const int64_t own[N_KEYS] = {job->food_cents,   job->supplies_cents, job->fuel_cents,     job->labour_cents,
                                 job->rental_cents, job->travel_cents,   job->overhead_cents, job->cost_cents};
    int64_t lines = 0;
    for (int k = 0; k < N_KEYS; k++) {
      sum[k] += own[k];
      lines += k < N_KEYS - 1 ? own[k] : 0;
    }
    if (lines != job->cost_cents)
      pw_judge_find(judge, "J10", "jobs[%d].cost_cents: is " MONEY ", its lines make " MONEY, j, job->cost_cents,
                    lines);
  }
  for (int k = 0; k < N_KEYS && plan->n[PW_SEEN_JOBS] > 0; k++)
    if (sum[k] != known(all[k]))
      pw_judge_find(judge, "J10", "jobs: their %s add up to " MONEY ", the quote has " MONEY, keys[k], sum[k],
                    known(all[k]));
  return PW_OK;
}
