/* csv.c - purchases and tasks as comma-separated values, RFC 4180. */
#include "write/csv.h"
#include "sheet/words.h"

#include "base/clock.h"
#include "base/text.h"
#include "sheet/fire_lines.h"
#include "sheet/view.h"

#include <limits.h>
#include <stdlib.h>

#define L_PER_GAL 3.785411784 /* exact: US gallon, NIST SP 811 (2008), B.8 */

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

/** What a supplier asks beside the goods: a row, so that the column adds up to what is spent; none for nothing. */
static void charge(struct pw_buf *out, const struct pw_event *ev, const char *what, const char *supplier,
                   pw_cents cents)
{
  if (cents == 0)
    return;
  field(out, "Deliveries");
  field(out, what);
  field(out, supplier);
  pw_buf_add(out, ",,,,,");
  money(out, ev, cents);
  field(out, ev->currency);
  pw_buf_add(out, ",,,");
  record_end(out);
}

pw_status pw_csv_purchases_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  (void)ctx;
  pw_buf_add(out,
             "category,item,supplier,packs,pack,amount,unit,pieces,cost,currency,order_by,deliver_by,thaw_from\r\n");
  for (int i = 0; i < plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *l = &plan->purchase.lines[i];
    const struct pw_item *item = &ev->items[l->item];
    const struct pw_offer *o = &item->offers[l->offer];
    bool is_us = ev->units == PW_UNITS_US;
    field(out, pw_view_category_word(item->category));
    field(out, item->name);
    field(out, o->supplier);
    number(out, l->packs);
    field(out, o->pack);
    number(out, item->unit == PW_UNIT_KG           ? pw_in_weight(ev->units, l->amount)
                : item->unit == PW_UNIT_L && is_us ? l->amount / L_PER_GAL
                                                   : l->amount);
    field(out, item->unit == PW_UNIT_KG     ? pw_unit_weight(ev->units)
               : item->unit == PW_UNIT_EACH ? "each"
               : is_us                      ? "gal"
                                            : "L");
    number(out, l->pieces);
    money(out, ev, l->cost_cents);
    field(out, ev->currency);
    instant(out, ev, pw_words_order_by_at_min(plan, l));
    instant(out, ev, l->deliver_at_min);
    instant(out, ev, l->thaw_from_at_min);
    record_end(out);
  }
  for (int i = 0; i < plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &plan->fuel.lines[i];
    field(out, pw_view_category_word(PW_CAT_FUEL));
    field(out, ev->fuels[l->fuel].name);
    pw_buf_add(out, ",,,");
    number(out, pw_in_weight(ev->units, l->buy_kg));
    field(out, pw_unit_weight(ev->units));
    pw_buf_add(out, ",");
    money(out, ev, l->cost_cents);
    field(out, ev->currency);
    pw_buf_add(out, ",,,");
    record_end(out);
  }
  for (int i = 0; i < plan->purchase.n_orders; i++) {
    const struct pw_order *o = &plan->purchase.orders[i];
    charge(out, ev, "Delivery", o->supplier, o->delivery_cents);
    charge(out, ev, "Made up to the least order", o->supplier, o->top_up_cents);
  }
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
