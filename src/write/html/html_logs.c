/* html_logs.c - buying, prep, temperatures, serving, cooling of the crew's file; no prices. */
#include "heat/food_code.h"
#include "sheet/fuel_words.h"
#include "sheet/view_cores.h"
#include "write/html/html_page.h"

#include "base/arena.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

static const char *day_time(struct html *h, int at_min)
{
  return TEXT("%s %s", pw_view_day(&h->view, at_min), pw_view_clock(&h->view, at_min));
}

static const char *supplier_of(const struct html *h, const struct pw_purchase_line *l)
{
  return h->ev->items[l->item].offers[l->offer].supplier;
}

static bool is_bought_here(const struct html *h, const struct pw_purchase_line *l)
{
  const struct pw_item *item = &h->ev->items[l->item];
  return !(item->category == PW_CAT_FUEL && pw_view_is_pit_fuel(h->ev, l->item));
}

enum { BUY_COLS = 5 };

static void band(struct html *h, const char *text)
{
  pw_html_rawf(h, "<tr class=\"day\"><td colspan=\"%d\">", BUY_COLS);
  pw_html_text(h, text);
  pw_html_raw(h, "</td></tr>\n");
}

static void buying_line(struct html *h, const struct pw_purchase_line *l)
{
  const struct pw_item *item = &h->ev->items[l->item];
  const struct pw_offer *o = &item->offers[l->offer];
  pw_html_row(h, "");
  pw_html_tick(h);
  pw_html_cell(h, "what b", "", item->name);
  pw_html_cell(h, "", "Packs",
               o->is_by_weight && o->pieces > 1 ? TEXT("%d %s of %d", l->packs, o->pack, o->pieces)
                                                : TEXT("%d %s", l->packs, o->pack));
  pw_html_cell(h, "nw", "Amount", TEXT("%s", pw_format_amount(h->ev->units, item->unit, l->amount).s));
  pw_html_cell(h, "nw", "Thaw from", l->thaw_from_at_min == INT_MIN ? "" : day_time(h, l->thaw_from_at_min));
  pw_html_row_end(h);
}

/** One supplier's goods, delivery by delivery; `lines` marks what is done. */
static void supplier_write(struct html *h, const struct pw_purchase_line *head, bool *is_done)
{
  const struct pw_purchase *pu = &h->plan->purchase;
  int order_by = head->order_by_at_min;
  for (int i = 0; i < pu->n_lines; i++)
    if (strcmp(supplier_of(h, &pu->lines[i]), supplier_of(h, head)) == 0 && pu->lines[i].order_by_at_min < order_by &&
        is_bought_here(h, &pu->lines[i]))
      order_by = pu->lines[i].order_by_at_min;
  band(h, TEXT("%s: order by %s", supplier_of(h, head), day_time(h, order_by)));
  for (;;) {
    const struct pw_purchase_line *next = NULL;
    for (int i = 0; i < pu->n_lines; i++)
      if (!is_done[i] && strcmp(supplier_of(h, &pu->lines[i]), supplier_of(h, head)) == 0 &&
          (!next || pu->lines[i].deliver_at_min < next->deliver_at_min))
        next = &pu->lines[i];
    if (!next)
      return;
    pw_html_rawf(h, "<tr class=\"day part\"><td colspan=\"%d\">", BUY_COLS);
    pw_html_text(h, TEXT("in by %s", day_time(h, next->deliver_at_min)));
    pw_html_raw(h, "</td></tr>\n");
    for (int i = 0; i < pu->n_lines; i++)
      if (!is_done[i] && pu->lines[i].deliver_at_min == next->deliver_at_min &&
          strcmp(supplier_of(h, &pu->lines[i]), supplier_of(h, head)) == 0) {
        is_done[i] = true;
        buying_line(h, &pu->lines[i]);
      }
  }
}

static void buying(struct html *h)
{
  static const char *const heads[BUY_COLS] = {"", "Item", "Packs", "Amount", "Thaw from"};
  const struct pw_purchase *pu = &h->plan->purchase;
  bool *is_done = pw_arena_array(h->view.arena, (size_t)pu->n_lines + 1, sizeof *is_done);
  pw_html_section(h, "buy", "page", "Buying and taking in");
  pw_html_table(h, "large buy", heads, BUY_COLS);
  for (int i = 0; is_done && i < pu->n_lines; i++)
    is_done[i] = !is_bought_here(h, &pu->lines[i]);
  for (;;) { /* suppliers by their first order date */
    const struct pw_purchase_line *next = NULL;
    for (int i = 0; is_done && i < pu->n_lines; i++)
      if (!is_done[i] && (!next || pu->lines[i].order_by_at_min < next->order_by_at_min))
        next = &pu->lines[i];
    if (!next)
      break;
    supplier_write(h, next, is_done);
  }
  h->view.failed |= !is_done;
  if (h->plan->fuel.n_lines > 0)
    band(h, "Wood and charcoal, the reserve included");
  for (int i = 0; i < h->plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &h->plan->fuel.lines[i];
    pw_html_row(h, "");
    pw_html_tick(h);
    pw_html_cell(h, "what b", "", h->ev->fuels[l->fuel].name);
    pw_html_cell(h, "", heads[2], l->packs > 0 ? TEXT("%d %s", l->packs, l->pack) : "");
    pw_html_cell(h, "", heads[3], TEXT("%s", pw_fuel_amount(h->ev, l).s));
    pw_html_cell(h, "", heads[4], "");
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
  pw_html_section_end(h);
}

static const char *uses(struct html *h, const struct pw_raw_need *raw)
{
  const struct pw_cut *cut = &h->ev->cuts[raw->cut];
  const char *text = "";
  for (int i = 0; i < cut->n_uses; i++) {
    const struct pw_use *u = &cut->uses[i];
    double times = u->per == PW_PER_PIECE ? raw->pieces : u->per == PW_PER_KG_RAW ? raw->raw_mean_kg : 0;
    if (times > 0)
      text = TEXT("%s%s%s %s", text, text[0] ? "; " : "",
                  pw_format_amount(h->ev->units, h->ev->items[u->item].unit, u->amount * times).s,
                  h->ev->items[u->item].name);
  }
  return text;
}

/** What the kitchen mixes from what was bought, each by its recipe. */
static void mixes(struct html *h)
{
  static const char *const heads[] = {"", "To mix", "In all", "From"};
  const struct pw_purchase *p = &h->plan->purchase;
  if (p->n_mixes == 0)
    return;
  pw_html_table(h, "large prep keep", heads, 4);
  for (int i = 0; i < p->n_mixes; i++) {
    const struct pw_item *mix = &h->ev->items[p->mixes[i].item];
    const char *from = "";
    for (int k = 0; k < mix->n_parts; k++) {
      const struct pw_item *part = &h->ev->items[mix->parts[k].item];
      from = TEXT("%s%s%s %s", from, from[0] ? "; " : "",
                  pw_format_amount(h->ev->units, part->unit, p->mixes[i].amount * mix->parts[k].amount).s, part->name);
    }
    pw_html_row(h, "");
    pw_html_tick(h);
    pw_html_cell(h, "what b", "", mix->name);
    pw_html_cell(h, "nw", heads[2], TEXT("%s", pw_format_amount(h->ev->units, mix->unit, p->mixes[i].amount).s));
    pw_html_cell(h, "", heads[3], from);
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
}

static void prep(struct html *h)
{
  static const char *const heads[] = {"", "Meat", "Pieces", "Bought", "Trimmed", "Goes on and in", "Trim weighed"};
  pw_html_section(h, "prep", "", "Prep");
  pw_html_el(h, "p class=\"note\"", "Weights are means. Weigh what is trimmed off and write it down.");
  pw_html_table(h, "large prep", heads, 7);
  for (int i = 0; i < h->plan->purchase.n_raws; i++) {
    const struct pw_raw_need *raw = &h->plan->purchase.raws[i];
    pw_html_row(h, "");
    pw_html_tick(h);
    pw_html_raw(h, "<td class=\"what\" data-h=\"\">");
    pw_html_el(h, "b", h->ev->cuts[raw->cut].name);
    pw_html_el(h, "span class=\"sub long\"", TEXT(" for %s", pw_view_service(&h->view, raw->service)));
    pw_html_raw(h, "</td>");
    pw_html_cell(h, "", heads[2], TEXT("%d", raw->pieces));
    pw_html_cell(h, "nw", heads[3], TEXT("%s", pw_format_weight(h->ev->units, raw->raw_mean_kg).s));
    pw_html_cell(h, "nw", heads[4],
                 TEXT("%s", pw_format_weight(h->ev->units, raw->raw_mean_kg * h->ev->cuts[raw->cut].trim_frac).s));
    pw_html_cell(h, "", heads[5], uses(h, raw));
    pw_html_fill(h, heads[6]);
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
  mixes(h);
  pw_html_section_end(h);
}

static void cores(struct html *h)
{
  static const char *const heads[] = {"Time", "What and where", "At least", "Lowest read", "Time, initials"};
  pw_html_el(h, "h3", "Core at the end of each stage");
  pw_html_table(h, "large log tasks", heads, 5);
  for (int i = 0; i < h->view.n_cores; i++) {
    const struct pw_view_check *c = &h->view.cores[i];
    pw_html_row(h, "");
    pw_html_cell(h, "time", "", pw_view_when(&h->view, c->at_min));
    pw_html_raw(h, "<td class=\"what\" data-h=\"\">");
    pw_html_el(h, "b", c->what);
    pw_html_el(h, "span class=\"sub\"", TEXT(" %s", c->where));
    pw_html_raw(h, "</td>");
    pw_html_cell(h, "t", heads[2], TEXT("%s", pw_format_temp(h->ev->units, c->least_c).s));
    pw_html_fill(h, heads[3]);
    pw_html_fill(h, heads[4]);
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
}

enum { CORES_SHOWN = 8 };

/** What the probe should say on the way, so that a slow piece is seen while there is time. */
static void cores_on_the_way(struct html *h)
{
  static const char *const heads[] = {"Lot", "Wrap after", "Done after", "Hours on: the core reads"};
  const struct pw_curve *curves = pw_view_cores(&h->view, 60.0);
  bool has_head = false;
  for (int l = 0; curves && l < h->plan->lots.n_lots; l++) {
    const struct pw_curve *curve = &curves[l];
    if (curve->n_points == 0)
      continue;
    if (!has_head) {
      pw_html_el(h, "h3", TEXT("On the way, by theory, %s", pw_unit_temp(h->ev->units)));
      pw_html_el(h, "p class=\"note\"",
                 "In the coolest place of each lot, hours from when it went on. The plan is later than this: it rounds "
                 "up and keeps a margin. "
                 "Far behind: more fire, a hotter place or an earlier wrap. Read the meat.");
      pw_html_table(h, "large keep", heads, 4);
      has_head = true;
    }
    int hours = (int)floor(curve->points[curve->n_points - 1].at_min / 60.0), step = 1 + (hours - 1) / CORES_SHOWN;
    const char *text = "";
    for (int k = step; k <= hours; k += step) {
      const struct pw_curve_point *p = pw_view_core_at(curve, 60.0 * k);
      if (p)
        text = TEXT("%s%s%d\xC2\xA0h:\xC2\xA0%.0f", text, text[0] ? ", " : "", k, pw_in_temp(h->ev->units, p->core_c));
    }
    pw_html_row(h, "");
    pw_html_cell(h, "what b", "", TEXT("%s: %s", h->view.lot_mark[l], h->ev->cuts[h->plan->lots.lots[l].cut].name));
    pw_html_cell(h, h->plan->lots.lots[l].has_finish ? "nw" : "none", heads[1],
                 h->plan->lots.lots[l].has_finish ? pw_view_hours(&h->view, curve->sum.wrap_min) : "");
    pw_html_cell(h, "nw", heads[2], pw_view_hours(&h->view, curve->sum.done_min));
    pw_html_cell(h, "", heads[3], text);
    pw_html_row_end(h);
  }
  if (has_head)
    pw_html_table_end(h);
}

/** True when something of the lot lies in that box at that time. */
static bool is_in_box(const struct html *h, int lot, int finisher, int at_min)
{
  const struct pw_allocation *al = &h->plan->allocation;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    if (l->lot == lot && l->zone == PW_NONE && l->finisher == finisher && l->start_at_min <= at_min &&
        at_min < l->end_at_min)
      return true;
  }
  return false;
}

enum { HOUR_COLS = 8 };

/** Some hours of one box: a row for each lot, a cell for each hour, a dash where nothing of it is inside yet or any more. */
static void box_hours(struct html *h, int finisher, int from_at_min, int n_hours)
{
  const char *heads[HOUR_COLS + 1] = {"Inside"};
  for (int k = 0; k < n_hours; k++)
    heads[k + 1] = pw_view_when(&h->view, from_at_min + k * 60);
  pw_html_el(h, "h3",
             TEXT("%s, %s or more, every hour", h->ev->finishers[finisher].name,
                  pw_format_temp(h->ev->units, PW_HOT_HOLD_C).s));
  pw_html_table(h, "large log hours", heads, n_hours + 1);
  for (int lot = 0; lot < h->plan->lots.n_lots; lot++) {
    bool is_ever = false;
    for (int k = 0; k < n_hours; k++)
      is_ever |= is_in_box(h, lot, finisher, from_at_min + k * 60);
    if (!is_ever)
      continue;
    pw_html_row(h, "");
    pw_html_cell(h, "what b", "", TEXT("%s: %s", h->view.lot_mark[lot], h->ev->cuts[h->plan->lots.lots[lot].cut].name));
    for (int k = 0; k < n_hours; k++) {
      if (is_in_box(h, lot, finisher, from_at_min + k * 60))
        pw_html_fill(h, heads[k + 1]);
      else
        pw_html_raw(h, "<td class=\"off\">\xE2\x80\x93</td>");
    }
    pw_html_row_end(h);
  }
  pw_html_row(h, "paper");
  pw_html_cell(h, "what", "", "Initials");
  for (int k = 0; k < n_hours; k++)
    pw_html_fill(h, heads[k + 1]);
  pw_html_row_end(h);
  pw_html_table_end(h);
}

static bool is_anything_in(const struct html *h, int finisher, int at_min)
{
  for (int lot = 0; lot < h->plan->lots.n_lots; lot++)
    if (is_in_box(h, lot, finisher, at_min))
      return true;
  return false;
}

static void temperatures(struct html *h)
{
  pw_html_section(h, "temperatures", "page", "Temperature log");
  pw_html_el(h, "p class=\"note\"",
             "Probe the thickest part, away from bone; clean the probe between kinds of meat. Limits: the cut's own "
             "target and FDA Food Code 2022, "
             "3-401.11 and 3-501.16. Local rules come first.");
  cores(h);
  cores_on_the_way(h);
  pw_html_el(h, "h3 class=\"gap\"", "Hot holding");
  pw_html_el(h, "p class=\"note\"",
             "Write the lowest reading of each lot. A dash: nothing of it is inside at that hour.");
  for (int f = 0; f < h->ev->n_finishers; f++) {
    if (h->ev->finishers[f].kind != PW_HOLD)
      continue;
    for (int at = h->view.first_at_min; at < h->view.last_at_min;) {
      int n = 0;
      while (n < HOUR_COLS && is_anything_in(h, f, at + n * 60))
        n++;
      if (n > 0)
        box_hours(h, f, at, n);
      at += n > 0 ? n * 60 : 60;
    }
  }
  pw_html_section_end(h);
}

static void serving(struct html *h)
{
  static const char *const heads[] = {"Dish", "Portion", "Portions", "Ready in all", "Pans", "Allergens"};
  enum { WHOLE_ROWS = 24 }; /* as many fit a page with room to spare */
  int line = 0;
  pw_html_section(h, "serving", "page", "Serving and allergens");
  for (int i = 0; i < h->ev->n_services; i++) {
    const struct pw_service *sv = &h->ev->services[i];
    pw_html_el(h, "h3",
               TEXT("%s, %s, %s", pw_view_service(&h->view, i), pw_view_when(&h->view, sv->at_min),
                    pw_view_guests(&h->view, i)));
    pw_html_table(h, sv->n_menu <= WHOLE_ROWS ? "large serving keep" : "large serving", heads, 6);
    for (int m = 0; m < sv->n_menu && line < h->plan->demand.n_lines; m++, line++) {
      const struct pw_demand_line *d = &h->plan->demand.lines[line];
      const struct pw_dish *dish = &h->ev->dishes[d->dish];
      const char *allergens = pw_view_allergens(&h->view, d->dish), *form = pw_view_form(dish);
      pw_html_row(h, "");
      pw_html_cell(h, "what b", "", TEXT("%s%s%s", dish->name, form[0] ? ", " : "", form));
      pw_html_cell(h, "nw", heads[1],
                   dish->is_by_count ? TEXT("%s each", pw_format_number(sv->menu[m].portion_units, 2).s)
                                     : TEXT("%s", pw_format_weight(h->ev->units, sv->menu[m].portion_kg).s));
      pw_html_cell(h, "nw", heads[2], TEXT("%d, up to %d", d->portions, d->portions_cover));
      pw_html_cell(h, "nw", heads[3],
                   dish->is_by_count ? TEXT("%s", pw_format_number(d->need_units, 0).s)
                                     : TEXT("%s", pw_format_weight(h->ev->units, d->need_kg).s));
      pw_html_cell(h, "", heads[4],
                   dish->pan_portions > 0
                       ? TEXT("%s", pw_format_number(ceil(d->portions_cover / dish->pan_portions * 10) / 10, 1).s)
                       : "");
      pw_html_cell(h, "b", heads[5], allergens[0] ? allergens : "none listed");
      pw_html_row_end(h);
    }
    pw_html_table_end(h);
  }
  pw_html_section_end(h);
}

static void cooling(struct html *h)
{
  static const char *const heads[] = {"Food",      "Started",   "Start reads", "After 2 h",
                                      "After 4 h", "After 6 h", "Initials"};
  enum { ROWS = 5 };
  pw_html_section(h, "cooling", "", "Cooling log");
  pw_html_el(h, "p class=\"note\"",
             TEXT("From %s to %s within 2 hours, to %s within 6 hours in all (FDA Food Code 2022, 3-501.14). What "
                  "misses a limit is thrown away.",
                  pw_format_temp(h->ev->units, PW_HOT_HOLD_C).s, pw_format_temp(h->ev->units, PW_FOOD_CODE_COOL_C).s,
                  pw_format_temp(h->ev->units, PW_FOOD_CODE_COLD_C).s));
  pw_html_table(h, "large log keep", heads, 7);
  for (int i = 0; i < h->plan->day_before.n_chills; i++) { /* what is chilled by the plan */
    const struct pw_chill *c = &h->plan->day_before.chills[i];
    pw_html_row(h, "");
    pw_html_cell(h, "", heads[0], TEXT("%d × %s", c->pieces, h->ev->cuts[h->plan->lots.lots[c->lot].cut].name));
    pw_html_cell(h, "time", heads[1], day_time(h, c->from_at_min));
    for (int k = 2; k < 7; k++)
      pw_html_fill(h, heads[k]);
    pw_html_row_end(h);
  }
  for (int i = 0; i < ROWS; i++) {
    pw_html_row(h, "blank");
    for (int c = 0; c < 7; c++)
      pw_html_fill(h, heads[c]);
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
  pw_html_section_end(h);
}

void pw_html_logs_write(struct html *h)
{
  buying(h);
  prep(h);
  temperatures(h);
  serving(h);
  cooling(h);
}
