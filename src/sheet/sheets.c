/* sheets.c - the pack's sheets in their order.  A new sheet is a maker and a row here. */
#include "sheet/sheet_pen.h"

static const struct {
  const char *word, *called; /* of the kind; of all its sheets together, at most 31 characters */
  void (*make)(struct pw_sheet_pen *pen);
} makers[] = {
    {"job", "Job", pw_sheet_job},
    {"safety", "Safety", pw_sheet_safety},
    {"day", "Day sheets", pw_sheet_days},
    {"slips", "Load slips", pw_sheet_slips},
    {"person", "People", pw_sheet_people},
    {"fire", "Fire list", pw_sheet_fires},
    {"crew", "Shift sheet", pw_sheet_crew},
    {"logs", "Temperature logs", pw_sheet_logs},
    {"prep", "Prep", pw_sheet_prep},
    {"buying", "Buying", pw_sheet_buying},
    {"truck", "Truck list", pw_sheet_truck},
    {"serving", "Serving", pw_sheet_serving},
};
enum { N_MAKERS = sizeof makers / sizeof *makers };

int pw_sheets_n_makers(void) { return N_MAKERS; }
const char *pw_sheets_called(int maker) { return makers[maker].called; }

pw_status pw_sheets_make(struct pw_sheets *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *out = (struct pw_sheets){0};
  pw_status st = pw_view_make(&out->view, plan, ctx);
  struct pw_sheet_pen pen = {.view = &out->view, .plan = plan, .ev = plan->event, .ctx = ctx, .out = out};
  for (int i = 0; i < N_MAKERS && st == PW_OK; i++) {
    int first = out->n_sheets;
    makers[i].make(&pen);
    for (int k = first; k < out->n_sheets; k++) {
      out->sheets[k].word = makers[i].word;
      out->sheets[k].maker = i;
    }
    st = out->view.failed ? PW_ERR_MEMORY : PW_OK;
  }
  return st;
}
