/* season_out.c - a season as CSV (RFC 4180, a record for each job) and as JSON, all of it.
 * In: a finished season.  Out: bytes. */
#include "write/season_out.h"

#include "base/clock.h"
#include "base/json.h"
#include "base/text.h"

#include <stdio.h>

struct day {
  char s[24];
};

static struct day day_of(struct pw_date date)
{
  struct day day = {""};
  if (date.year)
    snprintf(day.s, sizeof day.s, "%04d-%02d-%02d", date.year, date.month, date.day);
  return day;
}

static struct day day_at(int days)
{
  const struct day none = {""};
  return days == PW_NONE ? none : day_of(pw_date_from_days(days));
}

/* ---- CSV ------------------------------------------------------------------------------------------------ */

static void field(struct pw_buf *out, const char *text)
{
  pw_text_add_csv(out, text ? text : "");
  pw_buf_add_char(out, ',');
}

static void money(struct pw_buf *out, const struct pw_season_job *job, pw_cents cents)
{
  double unit = 1;
  int digits = job->money ? job->money->money_digits : 2;
  for (int i = 0; i < digits; i++)
    unit *= 10;
  pw_buf_printf(out, "%.*f,", digits, (double)cents / unit);
}

pw_status pw_season_csv(struct pw_buf *out, const struct pw_season *s, struct pw_ctx *ctx)
{
  (void)ctx;
  pw_buf_add(out, "file,date,name,customer,guests,state,valid_until,agreed_on,per_guest,price,total,cost,currency,"
                  "missed_pieces,warnings,clashes,planned\r\n");
  for (int i = 0; i < s->n_jobs; i++) {
    const struct pw_season_job *job = &s->jobs[i];
    int n = 0;
    for (int c = 0; c < s->n_clashes; c++)
      n += s->clashes[c].kind != PW_SEASON_SAME_DAY &&
           (s->uses[s->clashes[c].a].job == i || s->uses[s->clashes[c].b].job == i);
    field(out, job->file);
    field(out, day_of(job->date).s);
    field(out, job->name);
    field(out, job->customer);
    pw_buf_printf(out, "%d,", job->guests);
    field(out, pw_season_state_word(job->state));
    field(out, day_of(job->valid_until).s);
    field(out, day_of(job->agreed_on).s);
    money(out, job, job->per_guest_cents);
    money(out, job, job->price_cents);
    money(out, job, job->total_cents);
    money(out, job, job->cost_cents);
    field(out, job->money ? job->money->currency : "");
    pw_buf_printf(out, "%d,%d,%d,%s\r\n", job->missed, job->n_warnings, n, job->is_quick ? "quick" : "pack");
  }
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}

/* ---- JSON ------------------------------------------------------------------------------------------------- */

static void put_jobs(struct pw_json_out *o, const struct pw_season *s)
{
  pw_json_array(o, "jobs");
  for (int i = 0; i < s->n_jobs; i++) {
    const struct pw_season_job *job = &s->jobs[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "file", job->file);
    pw_json_text(o, "name", job->name);
    pw_json_text(o, "customer", job->customer);
    pw_json_text(o, "date", day_of(job->date).s);
    pw_json_int(o, "guests", job->guests);
    pw_json_text(o, "state", pw_season_state_word(job->state));
    pw_json_text(o, "valid_until", job->valid_until.year ? day_of(job->valid_until).s : NULL);
    pw_json_bool(o, "is_run_out", job->is_over);
    pw_json_text(o, "agreed_on", job->agreed_on.year ? day_of(job->agreed_on).s : NULL);
    pw_json_text(o, "currency", job->money ? job->money->currency : NULL);
    pw_json_int(o, "per_guest_cents", job->per_guest_cents);
    pw_json_int(o, "price_cents", job->price_cents);
    pw_json_int(o, "total_cents", job->total_cents);
    pw_json_int(o, "cost_cents", job->cost_cents);
    pw_json_real(o, "margin_frac", job->margin_frac);
    pw_json_int(o, "missed_pieces", job->missed);
    pw_json_int(o, "warnings", job->n_warnings);
    pw_json_text(o, "planned", job->is_quick ? "quick" : "pack");
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void put_use(struct pw_json_out *o, const char *key, const struct pw_season *s, const struct pw_season_use *use)
{
  pw_json_object(o, key);
  pw_json_text(o, "file", s->jobs[use->job].file);
  pw_json_text(o, "from", use->from);
  pw_json_text(o, "to", use->to);
  pw_json_int(o, "hands", use->hands);
  pw_json_end(o);
}

static void put_clashes(struct pw_json_out *o, const struct pw_season *s)
{
  static const char *const kinds[] = {"at-once", "no-road", "same-day", "how-many"};
  static const char *const things[] = {"pit", "box", "person", "role"};
  pw_json_array(o, "clashes");
  for (int i = 0; i < s->n_clashes; i++) {
    const struct pw_season_clash *c = &s->clashes[i];
    const struct pw_season_use *use = &s->uses[c->b];
    pw_json_object(o, NULL);
    pw_json_text(o, "kind", kinds[c->kind]);
    pw_json_text(o, "of", things[use->kind]);
    pw_json_text(o, "name", use->name);
    put_use(o, "first", s, &s->uses[c->a]);
    put_use(o, "second", s, use);
    if (use->kind == PW_SEASON_ROLE) {
      pw_json_int(o, "hands", c->hands);
      if (c->there_are > 0)
        pw_json_int(o, "there_are", c->there_are);
    } else
      pw_json_int(o, "free_min", c->free_min);
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void put_orders(struct pw_json_out *o, const struct pw_season *s)
{
  pw_json_array(o, "orders");
  for (int i = 0; i < s->n_lines; i++) {
    const struct pw_season_line *l = &s->lines[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "supplier", l->supplier);
    pw_json_text(o, "item", l->item);
    pw_json_text(o, "pack", l->pack);
    pw_json_int(o, "packs", l->packs);
    pw_json_text(o, "amount", l->amount);
    pw_json_int(o, "cost_cents", l->cents);
    pw_json_text(o, "order_by", day_at(l->order_day).s);
    pw_json_text(o, "deliver_by", day_at(l->deliver_day).s);
    pw_json_text(o, "file", s->jobs[l->job].file);
    pw_json_text(o, "state", pw_season_state_word(s->jobs[l->job].state));
    if (s->on_day != PW_NONE)
      pw_json_bool(o, "is_due", pw_season_is_due(s, l->order_day));
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "payments");
  for (int i = 0; i < s->n_dues; i++) {
    const struct pw_season_due *d = &s->dues[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "file", s->jobs[d->job].file);
    pw_json_text(o, "name", d->name);
    pw_json_text(o, "by", d->day == PW_NONE ? NULL : day_at(d->day).s);
    pw_json_int(o, "cents", d->cents);
    if (s->on_day != PW_NONE)
      pw_json_bool(o, "is_due", pw_season_is_due(s, d->day));
    pw_json_end(o);
  }
  pw_json_end(o);
}

pw_status pw_season_json(const char **text, size_t *n, const struct pw_season *s, struct pw_ctx *ctx)
{
  struct pw_json_out out = pw_json_out_in(ctx->arena), *o = &out;
  pw_json_object(o, NULL);
  pw_json_text(o, "format", "pitwright-season");
  pw_json_int(o, "version", 1);
  pw_json_text(o, "on", s->on_day == PW_NONE ? NULL : day_at(s->on_day).s);
  put_jobs(o, s);
  put_clashes(o, s);
  put_orders(o, s);
  pw_json_array(o, "unread");
  for (int i = 0; i < s->n_broken; i++)
    pw_json_text(o, NULL, s->broken[i]);
  pw_json_end(o);
  pw_json_end(o);
  return pw_json_finish(o, text, n, ctx);
}
