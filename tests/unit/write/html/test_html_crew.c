/* test_html_crew.c - the crew's file of a planned event: what is mixed, what the cores read on the way, each sheet once. */
#include "planned.h"
#include "sheet/sheet.h"
#include "write/html/html.h"
#include "write/html/html_page.h"
#include "writer_checks.h"

#include "base/format.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct pw_ctx *ctx;
static const struct pw_event *event;
static const struct pw_plan *plan;
static const char *text;

static void set_up(void)
{
  ctx = pw_test_ctx();
  event = planned_event("tests/data/events/lakeside-wedding.yaml", ctx);
  plan = planned(event, false, PW_EFFORT_QUICK, ctx);
  text = writer_text(ctx, pw_html_crew_write, plan);
}

static double done_core_c(const struct pw_cut *cut) { return cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c; }

static void tear_down(void) { pw_test_ctx_free(ctx); }

/* each mix stands in the prep section with its amount and every part's, and what is weighed adds up */
START_TEST(mixes_add_up)
{
  const char *prep = strstr(writer_plain(ctx, text), "id=\"prep\"");
  ck_assert_ptr_nonnull(prep);
  ck_assert_int_gt(plan->purchase.n_mixes, 0);
  for (int i = 0; i < plan->purchase.n_mixes; i++) {
    const struct pw_item *mix = &event->items[plan->purchase.mixes[i].item];
    const char *row = strstr(strstr(prep, ">To mix, and from what<"), mix->name);
    ck_assert_ptr_nonnull(row);
    const char *end = strstr(row, "</tr>"),
               *in_all = strstr(row, pw_format_amount(event->units, mix->unit, plan->purchase.mixes[i].amount).s);
    ck_assert(in_all && in_all < end);
    double sum = 0;
    bool is_weighed = mix->unit == PW_UNIT_KG;
    for (int k = 0; k < mix->n_parts; k++) {
      const struct pw_item *part = &event->items[mix->parts[k].item];
      const char *at = strstr(row, part->name);
      ck_assert_msg(at && at < end, "%s is no part of %s", part->name, mix->name);
      sum += mix->parts[k].amount;
      is_weighed = is_weighed && part->unit == PW_UNIT_KG;
    }
    if (is_weighed)
      ck_assert_double_eq_tol(sum, 1, 1e-6);
  }
}
END_TEST

/* a core only rises, wraps before it is done, and the piece is never shown above what it is done at */
#define SPACE "\xC2\xA0" /* a line does not end between an hour and its reading */

START_TEST(cores_rise_on_the_way)
{
  const char *row = strstr(text, "On the way, predicted");
  int n_rows = 0, n_reads = 0;
  ck_assert_ptr_nonnull(row);
  const char *end = strstr(row, "</table>");
  ck_assert_ptr_nonnull(end);
  for (row = strstr(row, "<tbody"); row && (row = strstr(row, "<tr")) != NULL && row < end; row++) {
    const char *row_end = strstr(row, "</tr>");
    double before = -100, hours = 0;
    int lot = PW_NONE;
    for (int l = 0; l < plan->lots.n_lots; l++) {
      const char *name = strstr(row, event->cuts[plan->lots.lots[l].cut].name);
      if (name && name < row_end)
        lot = l;
    }
    ck_assert_int_ne(lot, PW_NONE);
    double done_f = done_core_c(&event->cuts[plan->lots.lots[lot].cut]) * 1.8 + 32; /* the wedding is in Fahrenheit */
    for (const char *p = row; (p = strstr(p, SPACE "h:" SPACE)) != NULL && p < row_end; p++) {
      const char *digits = p;
      while (digits[-1] >= '0' && digits[-1] <= '9')
        digits--;
      double at_h = strtod(digits, NULL), core_f = strtod(p + strlen(SPACE "h:" SPACE), NULL);
      ck_assert(at_h > hours && core_f > before);
      ck_assert_msg(core_f <= done_f + 0.5 + 1e-9, "%g at %g h, done at %g", core_f, at_h, done_f);
      hours = at_h;
      before = core_f;
      n_reads++;
    }
    n_rows++;
  }
  ck_assert_int_ge(n_rows, 5);
  ck_assert_int_ge(n_reads, 12);
}
END_TEST

/* short sheets change places to share a page, and none is lost or doubled by it; each page of a person's has the name in its head */
START_TEST(every_sheet_stands_once)
{
  struct pw_sheets sheets;
  int n_people = 0;
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
  for (int i = 0; i < sheets.n_sheets; i++) {
    const struct pw_sheet *sheet = &sheets.sheets[i];
    char section[64];
    snprintf(section, sizeof section, "<section id=\"%s\"", sheet->id);
    const char *at = strstr(text, section);
    if (sheet->is_list) { /* everybody has their own here instead */
      ck_assert_msg(!at, "%s", sheet->id);
      continue;
    }
    ck_assert_msg(at && !strstr(at + 1, section), "%s", sheet->id);
    char link[80], label[160];
    snprintf(link, sizeof link, "<a href=\"#%s\">", sheet->id);
    const char *go = strstr(text, link), *stop = go ? strstr(go, "</a>") : NULL;
    ck_assert_msg(go && stop, "no link to %s", sheet->id);
    snprintf(label, sizeof label, "\">%.*s</a>", (int)(stop - go - (long)strlen(link)), go + strlen(link));
    ck_assert_msg(!strstr(stop, label), "two links read \"%s\"", label + 2); /* two fires of a pit lit on one day */
    if (sheet->kind != PW_SHEET_PERSON)
      continue;
    const char *head = strstr(at, "<thead>"), *end = strstr(at, "</thead>"),
               *who = strcmp(sheet->id, "person-none") == 0 ? "Nobody" : sheet->title, /* what nobody does yet */
                   *name = head ? strstr(head, who) : NULL;
    ck_assert_msg(name && name < end, "%s: %.400s", sheet->title, head ? head : at);
    n_people++;
  }
  ck_assert_int_ge(n_people, 5);
}
END_TEST

START_TEST(units_stay_with_their_number)
{
  static const char *const parted[] = {"0 min", "5 min", "1 h ", "2 h ", "8 oz", "5 oz"};
  for (size_t i = 0; i < sizeof parted / sizeof *parted; i++)
    ck_assert_msg(!strstr(strstr(text, "id=\"person-1\""), parted[i]), "%s", parted[i]);
  ck_assert_ptr_nonnull(strstr(text, "\xC2\xA0min"));
  ck_assert_ptr_null(
      strstr(strstr(text, "id=\"person-1\""), " \xC2\xB0")); /* after the drawings, whose lines do not break */
  ck_assert_ptr_nonnull(strstr(text, "\xC2\xA0\xC2\xB0"
                                     "F"));
}
END_TEST

/* The words laid out by the page's own writer, without a plan. */
static const char *laid(const char *words)
{
  struct pw_buf buf = pw_buf_in(ctx->arena);
  struct html h = {.buf = &buf};
  h.view.arena = ctx->arena;
  pw_html_text(&h, words);
  return pw_buf_text(&buf);
}

START_TEST(what_belongs_together_is_not_parted)
{
#define _ "\xC2\xA0"
  static const char *const rows[][2] = {
      {"main rack, zone 3 of 6", "main rack, zone" _ "3" _ "of" _ "6"},
      {"2 pans out", "2" _ "pans out"},
      {"8 cases", "8" _ "cases"},
      {"by 7:30 PM on Sat 12 Jun", "by" _ "7:30" _ "PM on Sat" _ "12 Jun"},
      {"off 18:30 and shut", "off" _ "18:30 and shut"},
      {"D4 lies there", "D4 lies there"},
      {"9 lb of it", "9" _ "lb of it"},
      {"7 Salmon side", "7 Salmon side"},
      {"180 or so", "180 or so"},
  };
#undef _
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    ck_assert_str_eq(laid(rows[i][0]), rows[i][1]);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("html_crew");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, mixes_add_up);
  tcase_add_test(t, cores_rise_on_the_way);
  tcase_add_test(t, every_sheet_stands_once);
  tcase_add_test(t, units_stay_with_their_number);
  tcase_add_test(t, what_belongs_together_is_not_parted);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
