/* csv.c - purchases and tasks as comma-separated values, RFC 4180. */
#include "write/csv.h"

#include "base/clock.h"
#include "base/text.h"
#include "sheet/fire_lines.h"
#include "sheet/goods.h"
#include "sheet/view.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

static void field(struct pw_buf *out, const char *text)
{
  pw_text_add_csv(out, text ? text : "");
  pw_buf_add_char(out, ',');
}

static void number(struct pw_buf *out, double value) { pw_buf_printf(out, "%.6g,", value); }

static void money(struct pw_buf *out, const struct pw_event *ev, pw_cents cents)
{
  double unit = 1;
  for (int i = 0; i < ev->money_digits; i++)
    unit *= 10;
  pw_buf_printf(out, "%.*f,", ev->money_digits, (double)cents / unit);
}

/** Ends a record: the last comma becomes the line's end. */
static void record_end(struct pw_buf *out)
{
  if (out->failed || out->n == 0)
    return;
  out->n--;
  out->bytes[out->n] = '\0';
  pw_buf_add(out, "\r\n");
}

/** RFC 3339 local time, "2027-09-18T02:30-05:00"; empty for INT_MIN. */
static void instant(struct pw_buf *out, const struct pw_event *ev, int at_min)
{
  if (at_min != INT_MIN) {
    struct pw_local_time t = pw_view_local(ev, at_min);
    int offset = abs(t.utc_offset_min);
    pw_buf_printf(out, "%04d-%02d-%02dT%02d:%02d:00%c%02d:%02d", t.date.year, t.date.month, t.date.day, t.hour,
                  t.minute, t.utc_offset_min < 0 ? '-' : '+', offset / 60, offset % 60);
  }
  pw_buf_add_char(out, ',');
}

static int list_at(const struct pw_table_column *column) { return column->list.at; }

/** The names of a table's columns. */
static void heads(struct pw_buf *out, const struct pw_told_table *t)
{
  int order[PW_TABLE_COLUMNS_MAX], n = pw_table_order(t, list_at, order);
  for (int c = 0; c < n; c++)
    field(out, t->columns[order[c]].list.name);
  record_end(out);
}

/** A row of a table: plain numbers, and nothing where it has none. */
static void record(struct pw_buf *out, const struct pw_told_table *t, int row)
{
  const struct pw_event *ev = t->plan->event;
  int order[PW_TABLE_COLUMNS_MAX], n = pw_table_order(t, list_at, order);
  for (int c = 0; c < n; c++) {
    const struct pw_table_cell *cell = &t->rows[row].cells[order[c]];
    enum pw_table_kind kind = t->columns[order[c]].kind;
    if (!cell->has_value)
      field(out, cell->words);
    else if (kind == PW_TABLE_MONEY)
      money(out, ev, (pw_cents)llround(cell->value));
    else if (kind == PW_TABLE_TIME)
      instant(out, ev, (int)cell->value);
    else
      number(out, cell->value);
  }
  record_end(out);
}

pw_status pw_csv_purchases_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  static const enum pw_goods_kind parts[] = {PW_GOODS_FOOD, PW_GOODS_OTHER, PW_GOODS_FUEL, PW_GOODS_FEE};
  struct pw_goods goods;
  pw_status status = pw_goods_make(&goods, plan, ctx->arena);
  if (status != PW_OK)
    return status;
  heads(out, &goods.table);
  for (size_t k = 0; k < sizeof parts / sizeof *parts; k++)
    for (int row = 0; row < goods.table.n_rows; row++)
      if (goods.lines[row].kind == parts[k] && goods.table.rows[row].forms & PW_FORM_LIST)
        record(out, &goods.table, row);
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}

pw_status pw_csv_tasks_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_view view;
  pw_status status = pw_view_make(&view, plan, ctx);
  if (status != PW_OK)
    return status;
  pw_buf_add(out, "start,minutes,role,what,where,target,lot,pieces,in_time_until,person\r\n");
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (!pw_fire_line_is(plan, i))
      continue;
    const char *what = pw_fire_line(plan, t, ctx->arena);
    if (!what)
      return PW_ERR_MEMORY;
    instant(out, plan->event, t->at_min);
    number(out, t->minutes);
    field(out, t->crew == PW_NONE ? "" : pw_view_role(&view, t));
    field(out, what);
    field(out, t->where);
    field(out, t->target);
    field(out, t->lot == PW_NONE ? "" : view.lot_mark[t->lot]);
    number(out, t->pieces);
    instant(out, plan->event, t->slack_min > 0 ? t->at_min + t->slack_min : INT_MIN);
    field(out, t->person == PW_NONE ? "" : pw_view_who(&view, t));
    record_end(out);
  }
  return out->failed || view.failed ? PW_ERR_MEMORY : PW_OK;
}
