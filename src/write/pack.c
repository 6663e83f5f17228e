/* pack.c - the list of outputs.  A new one is a row here and a file in this folder. */
#include "write/pack.h"

#include "base/arena.h"
#include "base/buf.h"
#include "base/outfile.h"
#include "day/changes.h"
#include "day/log_csv.h"
#include "read/kept.h"
#include "write/csv.h"
#include "write/html/html.h"
#include "write/ics.h"
#include "write/manifest.h"
#include "write/plan_json.h"
#include "write/text/text_sheets.h"
#include "write/xlsx/xlsx.h"

/** Text of one file in the arena. */
typedef pw_status (*text_fn)(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

static pw_status json_text(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  pw_status st = pw_plan_json_text(&text, &n, plan, ctx);
  if (st == PW_OK)
    pw_buf_add_n(out, text, n);
  return st;
}

/* Without a text function the file is the workbook, which its library writes by path. */
static const struct {
  const char *name;
  text_fn text;
} OUTPUTS[] = {
    {"quote.txt", pw_text_quote_customer},
    {"costs.txt", pw_text_quote_owner},
    {"purchases.txt", pw_text_buy},
    {"plan.txt", pw_text_plan},
    {"shift-sheet.txt", pw_text_shift},
    {"workbook.xlsx", NULL},
    {"crew.html", pw_html_crew_write},
    {"customer.html", pw_html_customer_write},
    {"calendar.ics", pw_ics_all_write},
    {"calendar-feeds.ics", pw_ics_feeds_write},
    {"purchases.csv", pw_csv_purchases_write},
    {"tasks.csv", pw_csv_tasks_write},
    {"day-log.csv", pw_log_csv_write},
    {"changes.txt", pw_changes_write}, /* of a mended plan alone */
};
enum { N_OUTPUTS = sizeof OUTPUTS / sizeof *OUTPUTS };

/** What one run writes. */
struct run {
  struct pw_pack *pack;
  struct pw_manifest manifest;
  const char **names;
  int n_names;
  const struct pw_plan *plan;
  struct pw_ctx *ctx;
};

/** Puts a text under its name; a failed buffer is memory that ran out, an empty one (a calendar without a task) makes no file. */
static pw_status put_text(struct run *run, const char *name, const struct pw_buf *buf)
{
  if (buf->failed)
    return PW_ERR_MEMORY;
  if (buf->n == 0)
    return PW_OK;
  pw_status st = pw_manifest_add(&run->manifest, name, buf->bytes, buf->n, run->ctx);
  run->names[run->n_names++] = name;
  return st == PW_OK ? pw_pack_put(run->pack, name, buf->bytes, buf->n, run->ctx) : st;
}

static pw_status put_workbook(struct run *run, const char *folder, const char *name)
{
  const char *path = NULL, *said = pw_arena_printf(run->ctx->arena, "%s/%s", folder, name);
  if (!said)
    return PW_ERR_MEMORY;
  pw_status st = pw_pack_reserve(run->pack, name, &path, run->ctx);
  if (st == PW_OK)
    st = pw_xlsx_write(run->plan, path, said, run->ctx);
  if (st == PW_OK)
    st = pw_manifest_add_file(&run->manifest, name, path, run->ctx);
  run->names[run->n_names++] = name;
  return st;
}

/* One calendar for each role, by the names the roles make. */
static pw_status put_calendars(struct run *run, const struct pw_ics_role *roles, int n)
{
  pw_status st = PW_OK;
  for (int i = 0; i < n && st == PW_OK; i++) {
    struct pw_buf buf = pw_buf_in(run->ctx->arena);
    st = pw_ics_write(&buf, run->plan, roles[i].role, run->ctx);
    if (st == PW_OK)
      st = put_text(run, roles[i].file, &buf);
  }
  return st;
}

/** The list of the files, and what an older one names and this pack no longer has. */
static pw_status put_manifest(struct run *run, const char *folder)
{
  struct pw_buf buf = pw_buf_in(run->ctx->arena);
  pw_status st = pw_manifest_drop_old(&run->manifest, run->pack, folder, run->ctx);
  pw_manifest_write(&buf, &run->manifest);
  if (st == PW_OK && buf.failed)
    st = PW_ERR_MEMORY;
  run->names[run->n_names++] = PW_MANIFEST_NAME;
  return st == PW_OK ? pw_pack_put(run->pack, PW_MANIFEST_NAME, buf.bytes, buf.n, run->ctx) : st;
}

/* Files of the customers and the owner where several jobs were planned as one. */
static const struct {
  const char *before, *after;
  text_fn text;
} JOB_OUTPUTS[] = {{"quote-", ".txt", pw_text_quote_customer},
                   {"customer-", ".html", pw_html_customer_write},
                   {"purchases-", ".txt", pw_text_buy}};
enum { N_JOB_OUTPUTS = sizeof JOB_OUTPUTS / sizeof *JOB_OUTPUTS };

/* Not in the pack of several jobs: they speak to one customer, or of one price. */
static bool is_for_one_job(text_fn text)
{
  return text == pw_text_quote_customer || text == pw_html_customer_write || text == pw_text_quote_owner;
}

static pw_status put_jobs(struct run *run, const struct pw_joint_plan *jobs)
{
  struct pw_buf sheet = pw_buf_in(run->ctx->arena);
  pw_status st = pw_text_jobs(&sheet, jobs, run->ctx);
  if (st == PW_OK)
    st = put_text(run, "jobs.txt", &sheet);
  for (int j = 0; j < jobs->joint->n_jobs; j++)
    for (int i = 0; i < N_JOB_OUTPUTS && st == PW_OK; i++) {
      struct pw_buf buf = pw_buf_in(run->ctx->arena);
      const char *name =
          pw_arena_printf(run->ctx->arena, "%s%c%s", JOB_OUTPUTS[i].before, 'a' + j, JOB_OUTPUTS[i].after);
      st = name ? JOB_OUTPUTS[i].text(&buf, jobs->alone[j], run->ctx) : PW_ERR_MEMORY;
      if (st == PW_OK)
        st = put_text(run, name, &buf);
    }
  return st;
}

static pw_status put_sheets(struct run *run, const char *folder, bool has_jobs)
{
  pw_status st = PW_OK;
  for (int i = 0; i < N_OUTPUTS && st == PW_OK; i++) {
    struct pw_buf buf = pw_buf_in(run->ctx->arena);
    if (has_jobs && is_for_one_job(OUTPUTS[i].text))
      continue;
    if (!OUTPUTS[i].text)
      st = put_workbook(run, folder, OUTPUTS[i].name);
    else if ((st = OUTPUTS[i].text(&buf, run->plan, run->ctx)) == PW_OK)
      st = put_text(run, OUTPUTS[i].name, &buf);
  }
  return st;
}

/** What the plan was made from, so that the pack can be shown and mended by itself. */
static pw_status put_kept(struct run *run)
{
  struct pw_buf buf = pw_buf_in(run->ctx->arena);
  pw_status st = pw_kept_write(&buf, run->plan->event, run->plan->demand.head_count, run->ctx);
  return st == PW_OK ? put_text(run, PW_KEPT_NAME, &buf) : st;
}

/* What changed since the pack that was given out before. */
static pw_status put_against(struct run *run, const struct pw_plan *before)
{
  struct pw_buf buf = pw_buf_in(run->ctx->arena);
  pw_status st = pw_text_against(&buf, before, run->plan, run->ctx);
  return st == PW_OK ? put_text(run, "against.txt", &buf) : st;
}

static pw_status write_pack(const struct pw_plan *plan, const struct pw_plan *before, const struct pw_joint_plan *jobs,
                            const struct pw_plan_file *kept, int n_kept, const char *folder, const char *const **files,
                            int *n_files, struct pw_ctx *ctx)
{
  struct run run = {.plan = plan, .ctx = ctx};
  struct pw_ics_role *roles = NULL;
  struct pw_buf json = pw_buf_in(ctx->arena);
  int n_roles = 0;
  pw_status st = pw_ics_roles(&roles, &n_roles, plan->event, ctx);
  if (st != PW_OK)
    return st;
  run.names = pw_arena_array(ctx->arena, (size_t)(N_OUTPUTS + n_roles + PW_JOINT_MAX * N_JOB_OUTPUTS + n_kept) + 5,
                             sizeof *run.names);
  st = run.names ? pw_pack_open(&run.pack, folder, ctx) : PW_ERR_MEMORY;
  if (st == PW_OK && jobs)
    st = put_jobs(&run, jobs);
  if (st == PW_OK)
    st = put_sheets(&run, folder, jobs != NULL);
  if (st == PW_OK && before)
    st = put_against(&run, before);
  if (st == PW_OK)
    st = put_calendars(&run, roles, n_roles);
  if (st == PW_OK && !jobs)
    st = put_kept(&run);
  for (int i = 0; i < n_kept && st == PW_OK; i++) {
    struct pw_buf text = pw_buf_in(ctx->arena);
    pw_buf_add_n(&text, kept[i].text, kept[i].n);
    st = put_text(&run, kept[i].name, &text);
  }
  if (st == PW_OK)
    st = json_text(&json, plan, ctx);
  if (st == PW_OK)
    st = put_manifest(&run, folder);
  if (st == PW_OK) /* last: its presence says that the rest is complete */
    st = put_text(&run, "plan.json", &json);
  if (st == PW_OK)
    st = pw_pack_commit(run.pack, ctx);
  pw_pack_close(run.pack);
  if (st == PW_OK) {
    *files = run.names;
    *n_files = run.n_names;
  }
  return st;
}

pw_status pw_pack_write(const struct pw_plan *plan, const struct pw_plan *before, const struct pw_plan_file *kept,
                        int n_kept, const char *folder, const char *const **files, int *n_files, struct pw_ctx *ctx)
{
  return write_pack(plan, before, NULL, kept, n_kept, folder, files, n_files, ctx);
}

pw_status pw_pack_write_joint(const struct pw_joint_plan *jobs, const char *folder, const char *const **files,
                              int *n_files, struct pw_ctx *ctx)
{
  return write_pack(jobs->plan, NULL, jobs, NULL, 0, folder, files, n_files, ctx);
}
