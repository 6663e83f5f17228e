/* job_text.c - what is written of a job: single texts, the pack, quotes side by side. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/outfile.h"
#include "base/text.h"
#include "base/when.h"
#include "day/log_csv.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"
#include "plan/stages.h"
#include "read/json_schema.h"
#include "read/show.h"
#include "write/csv.h"
#include "write/explain_json.h"
#include "write/html/html.h"
#include "write/ics.h"
#include "write/pack.h"
#include "write/plan_json.h"
#include "write/season_out.h"
#include "write/text/text_sheets.h"

#include <string.h>

static void add_count(struct pw_buf *out, int n, const char *one, const char *more)
{
  pw_buf_printf(out, ", %d %s", n, n == 1 ? one : more);
}

static pw_status event_line(struct pw_buf *out, const struct pw_event *ev)
{
  pw_text_add_line(out, ev->name);
  pw_buf_printf(out, ", %s", pw_when_date(ev->date).s);
  add_count(out, pw_head_count(ev), "guest", "guests");
  add_count(out, ev->n_services, "service", "services");
  add_count(out, ev->n_pits, "pit", "pits");
  add_count(out, ev->n_crew, "shift", "shifts");
  return PW_OK;
}

static struct pw_joint_plan joint_plan(const struct pw_job *job)
{
  return (struct pw_joint_plan){&job->joint, job->plan, job->alone, &job->shares};
}

static pw_status jobs_sheet(struct pw_buf *out, struct pw_job *job)
{
  const struct pw_joint_plan all = joint_plan(job);
  return pw_text_jobs(out, &all, &job->ctx);
}

static pw_status need_explain(struct pw_job *job)
{
  if (job->explain)
    return PW_OK;
  struct pw_explain *e = pw_arena_alloc(job->ctx.arena, sizeof *e);
  pw_job_obey(job);
  pw_status st = pw_job_obeyed(job, e ? pw_explain_make(e, job->plan, &job->ctx) : PW_ERR_MEMORY);
  if (st == PW_OK)
    job->explain = e;
  return st;
}

/* What a text wants to be there. */
static pw_status ready_for(struct pw_job *job, enum pw_text which)
{
  bool is_joint = job->n_read > 1;
  switch (which) {
  case PW_TEXT_EVENT_SCHEMA:
  case PW_TEXT_CATALOG_SCHEMA:
  case PW_TEXT_HOUSE_SCHEMA:
    return PW_OK;
  case PW_TEXT_FITS:
  case PW_TEXT_EVENT:
  case PW_TEXT_SHOW:
    return pw_job_settle(job);
  case PW_TEXT_QUOTE:
  case PW_TEXT_COSTS:
  case PW_TEXT_CUSTOMER_HTML:
    return job->plan && !is_joint ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_JOBS:
    return job->plan && is_joint ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_STATE:
    return job->state ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_SLIP:
  case PW_TEXT_CHANGES:
    return job->mended ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_AGAINST:
    return job->plan && job->before && !is_joint ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_SEASON:
  case PW_TEXT_SEASON_CSV:
  case PW_TEXT_SEASON_JSON:
    return job->season ? PW_OK : PW_ERR_USAGE;
  case PW_TEXT_EXPLAIN:
  case PW_TEXT_EXPLAIN_JSON:
    return job->plan ? need_explain(job) : PW_ERR_USAGE;
  default:
    return job->plan ? PW_OK : PW_ERR_USAGE;
  }
}

/* Where each cut could lie, and how large a job it is: what stops the plan is said when it is planned. */
static pw_status fits_sheet(struct pw_buf *sheet, struct pw_job *job)
{
  struct pw_demand demand = {0};
  struct pw_purchase purchase = {0};
  struct pw_ctx side = pw_job_side(job);
  pw_status st = pw_demand_make(&demand, job->event, &side);
  if (st == PW_OK)
    st = pw_purchase_make(&purchase, job->event, &demand, &side);
  if (st == PW_ERR_MEMORY)
    return st;
  if (st != PW_OK)
    purchase = (struct pw_purchase){0};
  return pw_text_fits(sheet, job->event, &purchase, &job->ctx);
}

pw_status pw_job_text(struct pw_job *job, enum pw_text which, const char **text, size_t *n)
{
  struct pw_ctx *ctx = &job->ctx;
  struct pw_buf sheet = pw_buf_in(ctx->arena);
  *text = NULL;
  *n = 0;
  pw_status st = ready_for(job, which);
  if (st != PW_OK)
    return st;
  switch (which) {
  case PW_TEXT_PLAN_JSON:
    return pw_plan_json_text(text, n, job->plan, ctx);
  case PW_TEXT_EXPLAIN_JSON:
    return pw_explain_json_text(text, n, job->explain, job->plan, ctx);
  case PW_TEXT_EVENT_SCHEMA:
    return pw_json_schema_text(text, n, PW_SCHEMA_EVENT, ctx);
  case PW_TEXT_CATALOG_SCHEMA:
    return pw_json_schema_text(text, n, PW_SCHEMA_CATALOG, ctx);
  case PW_TEXT_HOUSE_SCHEMA:
    return pw_json_schema_text(text, n, PW_SCHEMA_HOUSE, ctx);
  case PW_TEXT_SEASON_JSON:
    return pw_season_json(text, n, job->season, ctx);
  case PW_TEXT_AGAINST:
    st = pw_text_against(&sheet, job->before->plan, job->plan, ctx);
    break;
  case PW_TEXT_SEASON:
    st = pw_text_season(&sheet, job->season, ctx);
    break;
  case PW_TEXT_SEASON_CSV:
    st = pw_season_csv(&sheet, job->season, ctx);
    break;
  case PW_TEXT_SHOW:
    st = pw_event_show(&sheet, job->read[0], job->event, ctx);
    if (st == PW_OK && job->units != PW_NONE)
      pw_buf_printf(&sheet, "  units: %s by option\n", job->units == PW_UNITS_US ? "us" : "si");
    if (st == PW_OK && job->paper != PW_NONE)
      pw_buf_printf(&sheet, "  paper: %s by option\n", job->paper == PW_PAPER_A4 ? "a4" : "letter");
    break;
  case PW_TEXT_EVENT:
    st = event_line(&sheet, job->event);
    break;
  case PW_TEXT_FITS:
    st = fits_sheet(&sheet, job);
    break;
  case PW_TEXT_QUOTE:
    st = pw_text_quote_customer(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_COSTS:
    st = pw_text_quote_owner(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_JOBS:
    st = jobs_sheet(&sheet, job);
    break;
  case PW_TEXT_PURCHASES:
    st = pw_text_buy(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_PLAN:
    st = pw_text_plan(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_SHIFTS:
    st = pw_text_shift(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_EXPLAIN:
    st = pw_text_explain(&sheet, job->explain, job->plan, ctx);
    break;
  case PW_TEXT_STATE:
    st = pw_state_write(&sheet, job->state, ctx);
    break;
  case PW_TEXT_SLIP:
    st = pw_slip_write(&sheet, job->mended, ctx);
    break;
  case PW_TEXT_CHANGES:
    st = pw_behind_write(&sheet, job->mended, ctx);
    break;
  case PW_TEXT_CREW_HTML:
    st = pw_html_crew_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_CUSTOMER_HTML:
    st = pw_html_customer_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_CALENDAR:
    st = pw_ics_all_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_FEEDS:
    st = pw_ics_feeds_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_PURCHASES_CSV:
    st = pw_csv_purchases_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_TASKS_CSV:
    st = pw_csv_tasks_write(&sheet, job->plan, ctx);
    break;
  case PW_TEXT_DAY_LOG:
    st = pw_log_csv_write(&sheet, job->plan, ctx);
    break;
  default:
    return PW_ERR_USAGE; /* no value of the enum */
  }
  const char *whole = pw_buf_text(&sheet);
  if (st != PW_OK || !whole)
    return st != PW_OK ? st : PW_ERR_MEMORY;
  *text = whole;
  *n = sheet.n;
  return PW_OK;
}

pw_status pw_job_write_text(struct pw_job *job, enum pw_text which, const char *path)
{
  const char *text;
  size_t n;
  pw_status st = pw_job_text(job, which, &text, &n);
  return st == PW_OK ? pw_outfile_write(path, text, n, &job->ctx) : st;
}

pw_status pw_job_json(struct pw_job *job, const char **text, size_t *n)
{
  return pw_job_text(job, PW_TEXT_PLAN_JSON, text, n);
}

pw_status pw_job_write(struct pw_job *job, const char *folder)
{
  const char *const *files = NULL;
  int n_files = 0;
  job->n_files = 0;
  if (!job->plan)
    return PW_ERR_USAGE;
  const struct pw_joint_plan all = joint_plan(job);
  struct pw_plan_file kept[PW_JOB_KEEP_MAX];
  int n_kept = pw_job_keep(kept, job);
  if (n_kept < 0)
    return PW_ERR_MEMORY;
  pw_status st = job->n_read > 1 ? pw_pack_write_joint(&all, folder, &files, &n_files, &job->ctx)
                                 : pw_pack_write(job->plan, job->before ? job->before->plan : NULL, kept, n_kept,
                                                 folder, &files, &n_files, &job->ctx);
  if (st == PW_OK) {
    job->files = files;
    job->n_files = n_files;
  }
  return st;
}

int pw_job_n_files(const struct pw_job *job) { return job->n_files; }

const char *pw_job_file(const struct pw_job *job, int i) { return i >= 0 && i < job->n_files ? job->files[i] : NULL; }

pw_status pw_job_compare(struct pw_job *const *jobs, const char *const *names, int n, const char **text)
{
  const struct pw_plan *plans[PW_JOB_COMPARE_MAX];
  *text = NULL;
  if (n < 2 || n > PW_JOB_COMPARE_MAX)
    return PW_ERR_USAGE;
  for (int i = 0; i < n; i++) {
    plans[i] = jobs[i]->plan;
    if (!plans[i] || jobs[i]->n_read > 1)
      return PW_ERR_USAGE;
  }
  struct pw_buf sheet = pw_buf_in(jobs[0]->ctx.arena);
  pw_status st = pw_text_quote_compare(&sheet, plans, names, n, &jobs[0]->ctx);
  if (st == PW_OK)
    *text = pw_buf_text(&sheet);
  return st == PW_OK && !*text ? PW_ERR_MEMORY : st;
}
