/* way_lines.c - an event's values as its file writes them.  Numbers keep all their digits: read again they are the same. */
#include "plan/ways/way_lines.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/when.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct pw_way_lines pw_way_lines_open(const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_way_lines lines = {.ev = ev, .ctx = ctx, .buf = pw_buf_in(ctx->arena)};
  pw_buf_add(&lines.buf, "---\n");
  return lines;
}

void pw_way_lines_add(struct pw_way_lines *lines, const char *format, ...)
{
  char text[512];
  va_list args;
  va_start(args, format);
  int n = vsnprintf(text, sizeof text, format, args);
  va_end(args);
  if (n >= (int)sizeof text) /* a name beyond measure: better no way out than half a line */
    lines->buf.failed = true;
  else
    pw_buf_add(&lines->buf, text);
}

const char *pw_way_lines_text(struct pw_way_lines *lines) { return pw_buf_text(&lines->buf); }

const char *pw_way_quoted(struct pw_way_lines *lines, const char *words)
{
  struct pw_buf buf = pw_buf_in(lines->ctx->arena);
  pw_buf_add_char(&buf, '"');
  for (const char *c = words ? words : ""; *c; c++) {
    if (*c == '"' || *c == '\\')
      pw_buf_add_char(&buf, '\\');
    pw_buf_add_char(&buf, *c);
  }
  pw_buf_add_char(&buf, '"');
  const char *text = pw_buf_text(&buf);
  lines->buf.failed = lines->buf.failed || !text || !words;
  return text ? text : "";
}

/* "2027-06-12 17:30" */
static const char *stamp(struct pw_way_lines *lines, int at_min)
{
  struct pw_local_time t = pw_clock_local(lines->ev->clock, at_min);
  const char *text = pw_arena_printf(lines->ctx->arena, "%04d-%02d-%02d %02d:%02d", t.date.year, t.date.month,
                                     t.date.day, t.hour, t.minute);
  lines->buf.failed = lines->buf.failed || !text;
  return text ? text : "";
}

void pw_way_lines_crew(struct pw_way_lines *lines, const struct pw_crew *crew)
{
  static const char *const DUTIES[PW_DUTY__COUNT] = {"fire", "pit", "prep", "carve", "serve", "drive", "clean"};
  double unit = 1;
  for (int i = 0; i < lines->ev->money_digits; i++)
    unit *= 10;
  pw_way_lines_add(lines, "  - {role: %s, duties: [", pw_way_quoted(lines, crew->role));
  for (int d = 0, n = 0; d < PW_DUTY__COUNT; d++)
    if (crew->duties & (1u << d))
      pw_way_lines_add(lines, "%s%s", n++ ? ", " : "", DUTIES[d]);
  pw_way_lines_add(lines, "], count: %d,\n     ", crew->count);
  if (crew->guests_per_hand > 0)
    pw_way_lines_add(lines, " one_per: %.10g guests,", crew->guests_per_hand);
  pw_way_lines_add(lines, " from: \"%s\", to: \"%s\", rate: %.10g per h}\n", stamp(lines, crew->from_at_min),
                   stamp(lines, crew->to_at_min), crew->cents_per_h / unit);
}

void pw_way_lines_service(struct pw_way_lines *lines, const struct pw_service *service, const char *id, int at_min)
{
  static const char *const STYLES[] = {"buffet", "plated", "family", "boxed", "drop-off"};
  const struct pw_event *ev = lines->ev;
  const char *name = pw_arena_printf(lines->ctx->arena, "%s, second sitting", service->name);
  struct pw_local_time day = pw_clock_local(ev->clock, at_min);
  pw_way_lines_add(lines,
                   "  - id: %s\n    name: %s\n    day: %04d-%02d-%02d\n    time: \"%02d:%02d\"\n    length: %d min\n",
                   id, pw_way_quoted(lines, name), day.date.year, day.date.month, day.date.day, day.hour, day.minute,
                   service->length_min);
  pw_way_lines_add(lines, "    style: %s\n", STYLES[service->style]);
  if (service->on_time_frac > 0)
    pw_way_lines_add(lines, "    on_time: %.10g %%\n", service->on_time_frac * 100);
  if (service->n_waves > 0)
    pw_way_lines_add(lines, "    waves: %d\n", service->n_waves);
  for (int i = 0; i < service->n_arrive && !service->arrive_source; i++) /* the event's own, not its style's */
    pw_way_lines_add(lines, "%s%.17g %%%s", i == 0 ? "    arrivals: [" : ", ", service->arrive_frac[i] * 100,
                     i == service->n_arrive - 1 ? "]\n" : "");
  pw_way_lines_add(lines, "    guests: {");
  for (int k = 0; k < ev->n_classes; k++)
    pw_way_lines_add(lines, "%s%s: %d", k ? ", " : "", ev->classes[k].id, service->guests[k] / 2);
  pw_way_lines_add(lines, "}\n    menu:\n");
  for (int m = 0; m < service->n_menu; m++) {
    const struct pw_menu_line *line = &service->menu[m];
    const struct pw_dish *dish = &ev->dishes[line->dish];
    bool is_take = line->take_frac != dish->take_frac || line->take_of_frac ||
                   dish->is_taken_by_class; /* what the dish says of itself is not said again */
    bool is_portion = dish->is_by_count
                          ? line->portion_units != dish->portion_units
                          : line->portion_kg != dish->portion_kg || line->portion_sd_kg != dish->portion_sd_kg;
    pw_way_lines_add(lines, "      - {dish: %s", dish->id);
    if (is_take)
      pw_way_lines_add(lines, ", take: %.10g %%", line->take_frac * 100);
    for (int k = 0; k < ev->n_classes && line->take_of_frac; k++)
      pw_way_lines_add(lines, "%s%s: %.10g %%%s", k ? ", " : ",\n         take_of: {", ev->classes[k].id,
                       line->take_of_frac[k] * 100, k + 1 < ev->n_classes ? "" : "}");
    if (is_portion && dish->is_by_count)
      pw_way_lines_add(lines, ", portion: %.10g each", line->portion_units);
    else if (is_portion)
      pw_way_lines_add(lines, ",\n         portion: %.10g kg, portion_spread: %.10g kg", line->portion_kg,
                       line->portion_sd_kg);
    if (line->n_waves > 0)
      pw_way_lines_add(lines, ", waves: %d", line->n_waves);
    pw_way_lines_add(lines, "%s%s}\n", line->is_time_control ? ", time_control: true" : "",
                     line->is_day_before ? ", cook: day_before" : "");
  }
}

const char *pw_way_shift(struct pw_way_lines *lines, const struct pw_crew *crew)
{
  const char *text = pw_arena_printf(lines->ctx->arena, "%s to %s", pw_when(lines->ev, crew->from_at_min).s,
                                     pw_when(lines->ev, crew->to_at_min).s);
  lines->buf.failed = lines->buf.failed || !text;
  return text ? text : "";
}

const char *pw_way_clock(struct pw_way_lines *lines, int at_min)
{
  const char *text = pw_arena_strdup(lines->ctx->arena, pw_when(lines->ev, at_min).s);
  lines->buf.failed = lines->buf.failed || !text;
  return text ? text : "";
}
