/* xlsx.c - the workbook of a job, from a complete plan.
 * Idea: the crew's sheets and the owner's are laid out as they are (xlsx_sheets.c, xlsx_grid.c); one sticky error; the creation time is the event's
 * date, so that the same plan gives the same bytes; the finished archive is read back before it counts. */
#include "write/xlsx/xlsx.h"

#include "base/arena.h"
#include "base/child.h"
#include "base/clock.h"
#include "base/diag.h"
#include "base/text.h"
#include "sheet/grid.h"
#include "sheet/sheet.h"
#include "write/xlsx/xlsx_book.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

int pw_xlsx_n_sheets(void) { return pw_grids_n() + pw_sheets_n_makers(); }

/** The job first, then what the owner works with, the crew's sheets in the order of the pack, and what says why. */
static void write_all(struct book *b, const struct pw_sheets *sheets, const struct pw_grids *grids)
{
  pw_xlsx_sheets_write(b, sheets, 0);
  for (int i = 0; i < pw_grids_n_before(); i++)
    pw_xlsx_grid_write(b, &grids->grids[i]);
  for (int i = 1; i < pw_sheets_n_makers(); i++)
    pw_xlsx_sheets_write(b, sheets, i);
  for (int i = pw_grids_n_before(); i < pw_grids_n(); i++)
    pw_xlsx_grid_write(b, &grids->grids[i]);
}

/** Directory of a path, "." when it names none. */
static char *directory_of(struct pw_arena *arena, const char *path)
{
  const char *slash = strrchr(path, '/');
  if (!slash)
    return pw_arena_strdup(arena, ".");
  return slash == path ? pw_arena_strdup(arena, "/") : pw_arena_strndup(arena, path, (size_t)(slash - path));
}

static void properties_set(struct book *b)
{
  char *title = pw_text_line(b->view->arena, b->ev->name);
  if (!title) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  char subject[] = "Barbecue job plan", author[] = "pitwright " PW_VERSION;
  lxw_doc_properties props = {
      .title = title, .subject = subject, .author = author, .created = (time_t)pw_date_to_days(b->ev->date) * 86400};
  if (props.created == 0)
    props.created = 1; /* 0 would mean "now" to the library */
  pw_book_take(b, workbook_set_properties(b->wb, &props));
}

/** The error number when it tells of something lost, else 0: the library asks no stream how a write went. */
static int loss(int number)
{
  return number == ENOMEM || number == ENOSPC || number == EIO || number == EFBIG || number == EDQUOT ? number : 0;
}

pw_status pw_xlsx_build(const struct pw_plan *plan, const char *path, const char *said, struct pw_ctx *ctx)
{
  struct pw_sheets sheets;
  struct pw_grids grids;
  pw_status status = pw_sheets_make(&sheets, plan, ctx);
  if (status == PW_OK)
    status = pw_grids_make(&grids, &sheets.view, plan, ctx);
  if (status != PW_OK)
    return status;
  /* The library's part files go beside the result: a full file system elsewhere would cut them unnoticed. */
  lxw_workbook_options options = {.tmpdir = directory_of(ctx->arena, path)};
  if (!options.tmpdir)
    return PW_ERR_MEMORY;
  FILE *probe = fopen(path, "wb"); /* the library would print its own words about a path it cannot open */
  if (!probe || fclose(probe) != 0) {
    if (errno == ENOMEM)
      return PW_ERR_MEMORY;
    pw_diag_add(ctx, PW_ERROR, "io", said, 0, 0, "cannot be written: %s", strerror(errno));
    return PW_ERR_IO;
  }
  struct book b = {.view = &sheets.view, .plan = plan, .ctx = ctx, .ev = plan->event};
  errno = 0; /* no other sign is given of some lost writes and allocations: a success leaves it alone */
  b.wb = workbook_new_opt(path, &options);
  if (!b.wb)
    return PW_ERR_MEMORY;
  pw_book_start(&b);
  properties_set(&b);
  write_all(&b, &sheets, &grids);
  int lost = loss(errno);
  lxw_error built = b.error, closed = workbook_close(b.wb);
  lost = lost ? lost : loss(errno);
  if (sheets.view.failed || built == LXW_ERROR_MEMORY_MALLOC_FAILED || closed == LXW_ERROR_MEMORY_MALLOC_FAILED ||
      lost == ENOMEM)
    status = PW_ERR_MEMORY;
  else if (built != LXW_NO_ERROR) {
    pw_diag_add(ctx, PW_ERROR, "workbook", said, 0, 0, "the workbook could not be built: %s", lxw_strerror(built));
    status = PW_ERR_INTERNAL;
  } else if (closed != LXW_NO_ERROR ||
             lost) { /* what the system says comes first: the library knows "zip error" alone */
    pw_diag_add(ctx, PW_ERROR, "workbook", said, 0, 0, "the workbook could not be written: %s",
                lost ? strerror(lost) : lxw_strerror(closed));
    status = PW_ERR_IO;
  }
  return status;
}

struct job {
  const struct pw_plan *plan;
  const char *path, *said;
};

static pw_status build_job(void *arg, struct pw_ctx *ctx)
{
  const struct job *job = arg;
  return pw_xlsx_build(job->plan, job->path, job->said, ctx);
}

pw_status pw_xlsx_write(const struct pw_plan *plan, const char *path, const char *said, struct pw_ctx *ctx)
{
  struct job job = {plan, path, said};
  pw_status status = pw_child_run(build_job, &job, "the workbook writer", ctx);
  if (status == PW_OK)
    status = pw_xlsx_verify(path, said, pw_xlsx_n_sheets(), ctx);
  if (status != PW_OK)
    (void)remove(path);
  return status;
}
