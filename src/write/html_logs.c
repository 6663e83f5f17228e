/* html_logs.c - buying, prep, temperatures, serving, cooling of the crew's file; no prices. */
#include "write/fuel_words.h"
#include "write/html_page.h"

#include <limits.h>
#include <math.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

static const char *day_time(struct html *h, int at_min)
{
  return TEXT("%s %s", pw_view_day(&h->view, at_min), pw_view_clock(&h->view, at_min));
}

static void buying(struct html *h)
{
  static const char *const heads[] = {"", "Item", "Supplier", "Packs", "Amount", "Order by", "Deliver by", "Thaw from"};
  const struct pw_event *ev = h->ev;
  html_section(h, "buy", "page wide", "Buying and taking in");
  html_table(h, "", heads, 8);
  for (int i = 0; i < h->plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *l = &h->plan->purchase.lines[i];
    const struct pw_item *item = &ev->items[l->item];
    const struct pw_offer *o = &item->offers[l->offer];
    if (item->category == PW_CAT_FUEL && pw_view_is_pit_fuel(ev, l->item))
      continue;
    html_row(h, "");
    html_tick(h);
    html_cell(h, "what b", "", item->name);
    html_cell(h, "", heads[2], o->supplier);
    html_cell(h, "", heads[3], o->is_by_weight && o->pieces > 1 ? TEXT("%d %s of %d", l->packs, o->pack, o->pieces) : TEXT("%d %s", l->packs, o->pack));
    html_cell(h, "", heads[4], TEXT("%s", pw_format_amount(ev->units, item->unit, l->amount).s));
    html_cell(h, "nw", heads[5], day_time(h, l->order_by_at_min));
    html_cell(h, "nw", heads[6], day_time(h, l->deliver_at_min));
    html_cell(h, "nw", heads[7], l->thaw_from_at_min == INT_MIN ? "" : day_time(h, l->thaw_from_at_min));
    html_row_end(h);
  }
  for (int i = 0; i < h->plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &h->plan->fuel.lines[i];
    html_row(h, "");
    html_tick(h);
    html_cell(h, "what b", "", ev->fuels[l->fuel].name);
    html_cell(h, "", heads[2], "");
    html_cell(h, "", heads[3], l->packs > 0 ? TEXT("%d %s", l->packs, l->pack) : "");
    html_cell(h, "", heads[4], TEXT("%s, reserve included", pw_fuel_amount(ev, l).s));
    for (int c = 5; c < 8; c++)
      html_cell(h, "", heads[c], "");
    html_row_end(h);
  }
  html_table_end(h);
  html_section_end(h);
}

static const char *uses(struct html *h, const struct pw_raw_need *raw)
{
  const struct pw_cut *cut = &h->ev->cuts[raw->cut];
  const char *text = "";
  for (int i = 0; i < cut->n_uses; i++) {
    const struct pw_use *u = &cut->uses[i];
    double times = u->per == PW_PER_PIECE ? raw->pieces : u->per == PW_PER_KG_RAW ? raw->raw_mean_kg : 0;
    if (times > 0)
      text = TEXT("%s%s%s %s", text, text[0] ? "; " : "", pw_format_amount(h->ev->units, h->ev->items[u->item].unit, u->amount * times).s, h->ev->items[u->item].name);
  }
  return text;
}

static void prep(struct html *h)
{
  static const char *const heads[] = {"", "Meat", "For", "Pieces", "Bought", "Trimmed", "Goes on and in", "Trim weighed"};
  html_section(h, "prep", "page wide", "Prep");
  html_el(h, "p class=\"note\"", "Weights are means. Weigh what is trimmed off and write it down.");
  html_table(h, "", heads, 8);
  for (int i = 0; i < h->plan->purchase.n_raws; i++) {
    const struct pw_raw_need *raw = &h->plan->purchase.raws[i];
    html_row(h, "");
    html_tick(h);
    html_cell(h, "what b", "", h->ev->cuts[raw->cut].name);
    html_cell(h, "", heads[2], pw_view_service(&h->view, raw->service));
    html_cell(h, "", heads[3], TEXT("%d", raw->pieces));
    html_cell(h, "", heads[4], TEXT("%s", pw_format_weight(h->ev->units, raw->raw_mean_kg).s));
    html_cell(h, "", heads[5], TEXT("%s", pw_format_weight(h->ev->units, raw->raw_mean_kg * h->ev->cuts[raw->cut].trim_frac).s));
    html_cell(h, "", heads[6], uses(h, raw));
    html_fill(h, heads[7]);
    html_row_end(h);
  }
  html_table_end(h);
  html_section_end(h);
}

static void checks(struct html *h, const char *title, const struct pw_view_check *list, int n)
{
  static const char *const heads[] = {"Time", "What", "Place", "At least", "Reads", "Time read", "Initials"};
  html_el(h, "h3", title);
  html_table(h, "large log", heads, 7);
  for (int i = 0; i < n; i++) {
    html_row(h, "");
    html_cell(h, "time", "", pw_view_when(&h->view, list[i].at_min));
    html_cell(h, "what", "", list[i].what);
    html_cell(h, "", heads[2], list[i].where);
    html_cell(h, "t", heads[3], TEXT("%s", pw_format_temp(h->ev->units, list[i].least_c).s));
    for (int c = 4; c < 7; c++)
      html_fill(h, heads[c]);
    html_row_end(h);
  }
  html_table_end(h);
}

static void temperatures(struct html *h)
{
  html_section(h, "temperatures", "page wide", "Temperature log");
  html_el(h, "p class=\"note\"", "Probe the thickest part, away from bone; clean the probe between kinds of meat. Limits: the cut's own target and FDA Food Code 2022, "
                                "3-401.11 and 3-501.16. Local rules come first.");
  checks(h, "Core at the end of each stage", h->view.cores, h->view.n_cores);
  checks(h, "Hot holding, every hour", h->view.holds, h->view.n_holds);
  html_section_end(h);
}

static void serving(struct html *h)
{
  static const char *const heads[] = {"Dish", "Portion", "Portions", "Ready in all", "Pans", "Allergens"};
  int line = 0;
  html_section(h, "serving", "page wide", "Serving and allergens");
  for (int i = 0; i < h->ev->n_services; i++) {
    const struct pw_service *sv = &h->ev->services[i];
    html_el(h, "h3", TEXT("%s, %s, %s", pw_view_service(&h->view, i), pw_view_when(&h->view, sv->at_min), pw_view_guests(&h->view, i)));
    html_table(h, "", heads, 6);
    for (int m = 0; m < sv->n_menu && line < h->plan->demand.n_lines; m++, line++) {
      const struct pw_demand_line *d = &h->plan->demand.lines[line];
      const struct pw_dish *dish = &h->ev->dishes[d->dish];
      const char *allergens = pw_view_allergens(&h->view, d->dish);
      html_row(h, "");
      html_cell(h, "what b", "", TEXT("%s, %s", dish->name, pw_view_form_word(dish->form)));
      html_cell(h, "", heads[1], dish->is_by_count ? TEXT("%s each", pw_format_number(sv->menu[m].portion_units, 2).s) : TEXT("%s", pw_format_weight(h->ev->units, sv->menu[m].portion_kg).s));
      html_cell(h, "", heads[2], TEXT("%d, up to %d", d->portions, d->portions_cover));
      html_cell(h, "", heads[3], dish->is_by_count ? TEXT("%s", pw_format_number(d->need_units, 0).s) : TEXT("%s", pw_format_weight(h->ev->units, d->need_kg).s));
      html_cell(h, "", heads[4], dish->pan_portions > 0 ? TEXT("%s", pw_format_number(ceil(d->portions_cover / dish->pan_portions * 10) / 10, 1).s) : "");
      html_cell(h, "b", heads[5], allergens[0] ? allergens : "none listed");
      html_row_end(h);
    }
    html_table_end(h);
  }
  html_section_end(h);
}

static void cooling(struct html *h)
{
  static const char *const heads[] = {"Food", "Started", "Start reads", "After 2 h", "After 4 h", "After 6 h", "Initials"};
  enum { ROWS = 10 };
  html_section(h, "cooling", "page wide", "Cooling log");
  html_el(h, "p class=\"note\"",
          TEXT("From %s to %s within 2 hours, to %s within 6 hours in all (FDA Food Code 2022, 3-501.14). What misses a limit is thrown away.",
               pw_format_temp(h->ev->units, PW_HOT_HOLD_C).s, pw_format_temp(h->ev->units, PW_COOL_FIRST_C).s, pw_format_temp(h->ev->units, PW_COOL_LAST_C).s));
  html_table(h, "log", heads, 7);
  for (int i = 0; i < ROWS; i++) {
    html_row(h, "blank");
    for (int c = 0; c < 7; c++)
      html_fill(h, heads[c]);
    html_row_end(h);
  }
  html_table_end(h);
  html_section_end(h);
}

void html_logs_write(struct html *h)
{
  buying(h);
  prep(h);
  temperatures(h);
  serving(h);
  cooling(h);
}
