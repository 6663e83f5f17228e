/* pack.c - the list of outputs.  A new one is a row here and a file in this folder. */
#include "write/pack.h"

#include "base/arena.h"
#include "base/buf.h"
#include "base/outfile.h"
#include "write/csv.h"
#include "write/html.h"
#include "write/ics.h"
#include "write/joint_pack.h"
#include "write/plan_json.h"
#include "write/text_sheets.h"
#include "write/xlsx.h"

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
    {"quote.txt", pw_text_quote_customer}, {"costs.txt", pw_text_quote_owner}, {"purchases.txt", pw_text_buy},
    {"plan.txt", pw_text_plan},            {"shift-sheet.txt", pw_text_shift}, {"workbook.xlsx", NULL},
    {"crew.html", pw_html_crew_write},     {"customer.html", pw_html_customer_write}, {"calendar.ics", pw_ics_all_write},
    {"purchases.csv", pw_csv_purchases_write}, {"tasks.csv", pw_csv_tasks_write},
    {"plan.json", json_text}, /* last: its presence says that the rest is complete */
};
enum { N_OUTPUTS = sizeof OUTPUTS / sizeof *OUTPUTS };

static pw_status put(struct pw_pack *pack, int i, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  if (!OUTPUTS[i].text) {
    const char *path = NULL;
    pw_status st = pw_pack_reserve(pack, OUTPUTS[i].name, &path, ctx);
    return st == PW_OK ? pw_xlsx_write(plan, path, ctx) : st;
  }
  struct pw_buf buf = pw_buf_in(ctx->arena);
  pw_status st = OUTPUTS[i].text(&buf, plan, ctx);
  if (st != PW_OK)
    return st;
  return buf.failed ? PW_ERR_MEMORY : pw_pack_put(pack, OUTPUTS[i].name, buf.bytes, buf.n, ctx);
}

/* One calendar for each role, by the names the roles make. */
static pw_status put_calendars(struct pw_pack *pack, const struct pw_ics_role *roles, int n, const struct pw_plan *plan,
                               struct pw_ctx *ctx)
{
  pw_status st = PW_OK;
  for (int i = 0; i < n && st == PW_OK; i++) {
    struct pw_buf buf = pw_buf_in(ctx->arena);
    st = pw_ics_write(&buf, plan, roles[i].role, ctx);
    if (st == PW_OK)
      st = buf.failed ? PW_ERR_MEMORY : pw_pack_put(pack, roles[i].file, buf.bytes, buf.n, ctx);
  }
  return st;
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

static pw_status put_jobs(struct pw_pack *pack, const struct pw_joint_plan *jobs, const char **names, int *n, struct pw_ctx *ctx)
{
  struct pw_buf sheet = pw_buf_in(ctx->arena);
  pw_status st = pw_text_jobs(&sheet, jobs, ctx);
  names[(*n)++] = "jobs.txt";
  if (st == PW_OK)
    st = sheet.failed ? PW_ERR_MEMORY : pw_pack_put(pack, "jobs.txt", sheet.bytes, sheet.n, ctx);
  for (int j = 0; j < jobs->joint->n_jobs; j++)
    for (int i = 0; i < N_JOB_OUTPUTS && st == PW_OK; i++) {
      struct pw_buf buf = pw_buf_in(ctx->arena);
      const char *name = pw_arena_printf(ctx->arena, "%s%c%s", JOB_OUTPUTS[i].before, 'a' + j, JOB_OUTPUTS[i].after);
      st = name ? JOB_OUTPUTS[i].text(&buf, jobs->alone[j], ctx) : PW_ERR_MEMORY;
      if (st == PW_OK)
        st = buf.failed ? PW_ERR_MEMORY : pw_pack_put(pack, name, buf.bytes, buf.n, ctx);
      names[(*n)++] = name;
    }
  return st;
}

/* Files of a pack of the other kind, one job or several, that may lie in the folder. */
static pw_status drop_other_kind(struct pw_pack *pack, bool has_jobs, struct pw_ctx *ctx)
{
  pw_status st = has_jobs ? PW_OK : pw_pack_drop(pack, "jobs.txt", ctx);
  for (int i = 0; i < N_OUTPUTS && has_jobs && st == PW_OK; i++)
    if (is_for_one_job(OUTPUTS[i].text))
      st = pw_pack_drop(pack, OUTPUTS[i].name, ctx);
  for (int j = 0; j < PW_JOINT_MAX && !has_jobs; j++)
    for (int i = 0; i < N_JOB_OUTPUTS && st == PW_OK; i++) {
      const char *name = pw_arena_printf(ctx->arena, "%s%c%s", JOB_OUTPUTS[i].before, 'a' + j, JOB_OUTPUTS[i].after);
      st = name ? pw_pack_drop(pack, name, ctx) : PW_ERR_MEMORY;
    }
  return st;
}

static pw_status write_pack(const struct pw_plan *plan, const struct pw_joint_plan *jobs, const char *folder,
                            const char *const **files, int *n_files, struct pw_ctx *ctx)
{
  struct pw_pack *pack = NULL;
  struct pw_ics_role *roles = NULL;
  int n_roles = 0, n = 0;
  pw_status st = pw_ics_roles(&roles, &n_roles, plan->event, ctx);
  if (st != PW_OK)
    return st;
  const char **names = pw_arena_array(ctx->arena, (size_t)(N_OUTPUTS + n_roles + 1 + PW_JOINT_MAX * N_JOB_OUTPUTS), sizeof *names);
  st = names ? pw_pack_open(&pack, folder, ctx) : PW_ERR_MEMORY;
  if (st == PW_OK)
    st = drop_other_kind(pack, jobs != NULL, ctx);
  if (jobs && st == PW_OK)
    st = put_jobs(pack, jobs, names, &n, ctx);
  for (int i = 0; i < N_OUTPUTS && st == PW_OK; i++) {
    if (jobs && is_for_one_job(OUTPUTS[i].text))
      continue;
    if (i == N_OUTPUTS - 1) {
      for (int r = 0; r < n_roles; r++)
        names[n++] = roles[r].file;
      st = put_calendars(pack, roles, n_roles, plan, ctx);
    }
    names[n++] = OUTPUTS[i].name;
    if (st == PW_OK)
      st = put(pack, i, plan, ctx);
  }
  if (st == PW_OK)
    st = pw_pack_commit(pack, ctx);
  pw_pack_close(pack);
  if (st == PW_OK) {
    *files = names;
    *n_files = n;
  }
  return st;
}

pw_status pw_pack_write(const struct pw_plan *plan, const char *folder, const char *const **files, int *n_files,
                        struct pw_ctx *ctx)
{
  return write_pack(plan, NULL, folder, files, n_files, ctx);
}

pw_status pw_pack_write_joint(const struct pw_joint_plan *jobs, const char *folder, const char *const **files, int *n_files,
                              struct pw_ctx *ctx)
{
  return write_pack(jobs->plan, jobs, folder, files, n_files, ctx);
}
