/* sheets.c - the pack's sheets in their order.  A new sheet is a maker and a row here. */
#include "sheet/sheet_pen.h"

static void (*const makers[])(struct pw_sheet_pen *pen) = {
    pw_sheet_job,  pw_sheet_safety, pw_sheet_days,   pw_sheet_slips, pw_sheet_people,  pw_sheet_fires,
    pw_sheet_logs, pw_sheet_prep,   pw_sheet_buying, pw_sheet_truck, pw_sheet_serving,
};

pw_status pw_sheets_make(struct pw_sheets *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *out = (struct pw_sheets){0};
  pw_status st = pw_view_make(&out->view, plan, ctx);
  struct pw_sheet_pen pen = {.view = &out->view, .plan = plan, .ev = plan->event, .ctx = ctx, .out = out};
  for (size_t i = 0; i < sizeof makers / sizeof *makers && st == PW_OK; i++) {
    makers[i](&pen);
    st = out->view.failed ? PW_ERR_MEMORY : PW_OK;
  }
  return st;
}
