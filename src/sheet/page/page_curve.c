/* page_curve.c - table and plot of a core curve [T1][H1]. */
#include "base/format.h"
#include "heat/curve.h"
#include "heat/food_code.h"
#include "sheet/page/pages.h"

#include <math.h>

enum { PLOT_COLUMNS = 37, SHORT_MIN = 45 };
#define SLOW_LEAST_MIN 1.0 /* a shorter one is no stall: the end of a turn over coals */
#define LOG_SHOWN_MOST 99.0

/** Plot of one point: the scale runs from the coldest to the hottest figure of the curve. */
static const char *plot(struct pw_page *s, const struct pw_curve_point *p, double low_c, double high_c)
{
  char line[PLOT_COLUMNS + 1];
  const double at[] = {p->air_c, p->surface_c, p->core_c};
  const char mark[] = {'|', '.', 'o'};
  for (int i = 0; i < PLOT_COLUMNS; i++)
    line[i] = ' ';
  line[PLOT_COLUMNS] = '\0';
  for (int i = 0; i < 3; i++) {
    double way = (at[i] - low_c) / (high_c - low_c);
    int column = (int)lround(fmin(fmax(way, 0.0), 1.0) * (PLOT_COLUMNS - 1));
    line[column] = mark[i];
  }
  return pw_words(s, "%s", line);
}

static void row_of(struct pw_page *s, const struct pw_curve_point *p, bool is_first_wrapped, double low_c,
                   double high_c)
{
  enum pw_units u = s->ev->units;
  int at_min = (int)lround(p->at_min);
  const char *log = p->log_reduction > LOG_SHOWN_MOST ? "> 99"
                    : p->log_reduction > 0.0          ? pw_words(s, "%.1f", p->log_reduction)
                                                      : "";
  pw_page_row(s, pw_words(s, "%d:%02d", at_min / 60, at_min % 60), pw_format_temp(u, p->core_c).s,
              pw_format_temp(u, p->surface_c).s, pw_words(s, "%.1f %%", 100.0 * fmax(p->evaporated_frac, 0.0)), log,
              is_first_wrapped ? "wrap"
              : p->is_wrapped  ? "  \""
                               : "",
              plot(s, p, low_c, high_c));
}

static const char *span(struct pw_page *s, double minutes)
{
  return isfinite(minutes) ? pw_words(s, "%s", pw_format_minutes((int)lround(minutes)).s) : "never";
}

static void figures(struct pw_page *s, const struct pw_curve_sum *sum, const struct pw_cut *cut)
{
  enum pw_units u = s->ev->units;
  const struct pw_food_rule *rule = pw_food_code_rule(cut->safety);
  pw_page_head(s, "What it says");
  if (cut->finish.is_used)
    pw_page_pair(s, 2, pw_words(s, "Core at %s, time to wrap", pw_format_temp(u, cut->smoke.to_c).s),
                 span(s, sum->wrap_min));
  pw_page_pair(s, 2, pw_words(s, "Core at %s, done", pw_format_temp(u, sum->end_core_c).s), span(s, sum->done_min));
  if (cut->smoke.is_over_coals && cut->smoke.turns > 0)
    pw_page_pair(s, 2, pw_words(s, "Turned this often, at equal intervals; the core in the table is the coldest part"),
                 pw_words(s, "%d, every %s min", cut->smoke.turns,
                          pw_format_number(sum->done_min / (cut->smoke.turns + 1), 1).s));
  if (sum->slow_min >= SLOW_LEAST_MIN)
    pw_page_pair(s, 2,
                 pw_words(s, "Slower than %s an hour, from %s to %s", pw_format_temp_difference(u, PW_SLOW_K_H).s,
                          pw_format_temp(u, sum->slow_from_c).s, pw_format_temp(u, sum->slow_to_c).s),
                 span(s, sum->slow_min));
  pw_page_pair(s, 2,
               pw_words(s, "%s to %s at the core (FSIS-GD-2021-14: %s at most)", pw_format_temp(u, PW_COME_UP_FROM_C).s,
                        pw_format_temp(u, PW_COME_UP_TO_C).s, pw_format_minutes(PW_COME_UP_MOST_MIN).s),
               cut->start_c > PW_COME_UP_FROM_C ? pw_words(s, "more than %s: on at %s, the time before counts",
                                                           span(s, sum->come_up_min), pw_format_temp(u, cut->start_c).s)
                                                : span(s, sum->come_up_min));
  pw_page_pair(s, 2, pw_words(s, "Least core for %s (FDA Food Code 2022 %s)", rule->food, rule->rule),
               pw_format_temp(u, rule->core_c).s);
  pw_page_pair(s, 2,
               pw_words(s, "Then held hot (3-501.16(A)(1)), off the heat %s at most (3-501.19(B))",
                        pw_format_minutes(pw_food_code_out_hot_min()).s),
               pw_format_temp(u, PW_FOOD_CODE_HOT_C).s);
  if (cut->may_chill)
    pw_page_pair(s, 2, "Cooked ahead and chilled (3-501.14(A)): reheated in 2 h (3-403.11)",
                 pw_format_temp(u, PW_FOOD_CODE_REHEAT_C).s);
  if (cut->kind != PW_KIND_PLANT && !pw_food_code_is_cooked(cut->safety))
    pw_page_pair(
        s, 2, pw_words(s, "Salmonella at the core, log reduction (%s asked)", pw_format_number(sum->log_needed, 1).s),
        sum->log_reduction > LOG_SHOWN_MOST ? "over 99" : pw_format_number(sum->log_reduction, 1).s);
  pw_page_pair(s, 2, "Weight lost as steam and as juice that drips, of the trimmed piece, predicted",
               pw_words(s, "%.0f + %.0f %%", 100.0 * fmax(sum->evaporated_frac, 0.0), 100.0 * sum->drip_frac));
  pw_page_pair(s, 2, "Weight lost in all, steam, fat and drip, by the catalog",
               pw_words(s, "%.0f %%", 100.0 * sum->loss_frac));
  if (cut->yield_source)
    pw_page_say(s, 4, 4, "Its source: %s.", cut->yield_source);
  if (sum->doubt)
    pw_page_say(s, 2, 4, "Theory is weak here: %s.", sum->doubt);
  pw_page_para(s, 2, 4,
               "A probe decides, not the curve; local codes and the health authority decide what may be served.");
}

pw_status pw_page_curve(struct pw_page *s, const struct pw_curve *curve, const struct pw_curve_head *head,
                        const struct pw_event *ev, struct pw_ctx *ctx)
{
  /* the plot is set as an amount is: whole, to the far margin */
  static const struct pw_page_column columns[] = {
      {0, 6, PW_CELL_AMOUNT, "time"},
      {1, 7, PW_CELL_AMOUNT, "core"},
      {1, 8, PW_CELL_AMOUNT, "surface"},
      {1, 6, PW_CELL_AMOUNT, "steam"},
      {1, 5, PW_CELL_AMOUNT, "log"},
      {1, 5, PW_CELL_NOTE, ""},
      {1, PLOT_COLUMNS, PW_CELL_AMOUNT, "o core, . surface, | air             "}};
  *s = pw_page_open(NULL, ev, ctx);
  if (curve->n_points < 1)
    return PW_ERR_INTERNAL;
  double low_c = curve->points[0].core_c, high_c = curve->points[0].air_c;
  for (int i = 0; i < curve->n_points; i++) {
    low_c = fmin(low_c, curve->points[i].core_c);
    high_c = fmax(high_c, curve->points[i].air_c);
  }
  pw_page_title(s, head->cut->name, "Curve");
  pw_page_para(s, 0, 0, head->place);
  if (head->remark)
    pw_page_para(s, 0, 0, head->remark);
  figures(s, &curve->sum, head->cut);
  pw_page_head(s, curve->sum.done_min < SHORT_MIN ? "Minute by minute" : "Hour by hour");
  pw_page_table_of(s, columns);
  for (int i = 0; i < curve->n_points; i++)
    row_of(s, &curve->points[i], curve->points[i].is_wrapped && (i == 0 || !curve->points[i - 1].is_wrapped), low_c,
           high_c);
  return pw_page_done(s);
}
