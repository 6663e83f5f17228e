/* html_crew.c - timeline, rack maps, shift sheets, fire list of the crew's file. */
#include "write/html_page.h"

#include "write/svg.h"

#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

enum { WIDE_H = 14, WIDE_UNITS = 760, NARROW_H = 7, NARROW_UNITS = 340, HALF_MM = 110 };

/** All groups of one stretch: services, each pit, ovens and boxes together. */
static void stretch(struct html *h, int from_at_min, int hours, int width, const char *classes, int *nth)
{
  const struct pw_view *view = &h->view;
  html_rawf(h, "<div class=\"%s\">", classes);
  svg_timeline(h->buf, &h->view, from_at_min, hours, width, 0, 0, "", (*nth)++);
  for (int i = 0; i < view->n_lanes;) {
    int n = 1;
    while (i + n < view->n_lanes && view->lanes[i + n].pit == view->lanes[i].pit)
      n++;
    svg_timeline(h->buf, &h->view, from_at_min, hours, width, i, n, "", (*nth)++);
    i += n;
  }
  html_raw(h, "</div>\n");
}

/** The whole time in stretches of equal length, none longer than most_h hours. */
static void stretches(struct html *h, int most_h, int width, const char *classes, int *nth)
{
  int span_h = (h->view.last_at_min - h->view.first_at_min + 59) / 60, n = (span_h + most_h - 1) / most_h;
  int hours = n > 0 ? (span_h + n - 1) / n : 1;
  for (int i = 0; i < n; i++)
    stretch(h, h->view.first_at_min + i * hours * 60, hours, width, classes, nth);
}

void html_timeline_write(struct html *h)
{
  int nth = 0;
  html_section(h, "timeline", "page wide", "Timeline");
  html_el(h, "p class=\"note\"", "Filled bar: fire. Thick frame: smoke. Thick broken frame: finish. Thin dashed: rest. Thin: hold. Thickest: service.");
  stretches(h, WIDE_H, WIDE_UNITS, "full block", &nth);
  stretches(h, NARROW_H, NARROW_UNITS, "narrow block", &nth);
  html_section_end(h);
}

/* ---- maps ------------------------------------------------------------------------------------------- */

/** Temperatures at the two ends of the rack, or an empty string. */
static const char *end_temp(struct html *h, const struct pw_view_map *map, bool is_hot)
{
  int zone = PW_NONE;
  for (int z = 0; z < h->plan->lots.n_zones; z++)
    if (h->plan->lots.zones[z].pit == map->pit && h->plan->lots.zones[z].rack == map->rack && (zone == PW_NONE || !is_hot))
      zone = z;
  return zone == PW_NONE ? "" : TEXT("%s", pw_format_temp(h->ev->units, pw_view_zone_temp_c(&h->view, zone, map->setting)).s);
}

static void map_write(struct html *h, const struct pw_view_map *map, int nth)
{
  static const char *const heads[] = {"Lot", "Meat", "Pieces", "Where", "On", "Off"};
  const struct pw_pit *pit = &h->ev->pits[map->pit];
  html_rawf(h, "<figure class=\"%s\"><figcaption>", svg_rack_width_mm(&pit->racks[map->rack]) < HALF_MM && pit->racks[map->rack].n_zones <= 1 ? "half" : "whole");
  html_el(h, "b", TEXT("%s, %s rack", pit->name, pit->racks[map->rack].id));
  html_raw(h, "<br/>");
  html_text(h, TEXT("%s. Map %d of %d of this rack. Thick frame, bold: goes on now.", pw_view_span(&h->view, map->from_at_min, map->to_at_min), map->nth, map->of));
  html_raw(h, "</figcaption>");
  html_rawf(h, "<div style=\"max-width:%.0fmm\">", svg_rack_width_mm(&pit->racks[map->rack]));
  if (pit->racks[map->rack].n_zones > 1) {
    html_raw(h, "<div class=\"ends\">");
    html_el(h, "span", TEXT("HOT END %s", end_temp(h, map, true)));
    html_el(h, "span", TEXT("COOL END %s", end_temp(h, map, false)));
    html_raw(h, "</div>");
  } else
    html_el(h, "div class=\"ends\"", end_temp(h, map, true));
  svg_rack(h->buf, &h->view, map, nth);
  html_raw(h, "</div>");
  html_table(h, "compact", heads, 6);
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *l = &h->plan->allocation.loads[map->loads[i]];
    bool is_new = l->start_at_min == map->from_at_min;
    html_row(h, "");
    html_cell(h, "b", heads[0], h->view.lot_mark[l->lot]);
    html_cell(h, is_new ? "what b" : "what", heads[1], TEXT("%s, %s", h->ev->cuts[h->plan->lots.lots[l->lot].cut].name, pw_view_stage_word(l->stage)));
    html_cell(h, "", heads[2], TEXT("%d", l->pieces));
    html_cell(h, "", heads[3], pw_view_zone(&h->view, l->zone));
    html_cell(h, is_new ? "t" : "", heads[4], TEXT("%s%s", pw_view_when(&h->view, l->start_at_min), is_new ? ", now" : ""));
    html_cell(h, "t", heads[5], pw_view_when(&h->view, l->end_at_min));
    html_row_end(h);
  }
  html_table_end(h);
  html_raw(h, "</figure>\n");
}

void html_maps_write(struct html *h)
{
  html_section(h, "maps", "page", "Rack maps");
  html_el(h, "p class=\"note\"", "Racks seen from above, each to its own scale; the bar below says how long it is. Frames hold the piece and the free space around it.");
  for (int i = 0; i < h->view.n_maps; i++)
    map_write(h, &h->view.maps[i], i);
  html_section_end(h);
}

/* ---- tasks -------------------------------------------------------------------------------------------- */

/** Tasks of a role; of everybody, with who it is, when `role` is NULL. */
static void task_table(struct html *h, const char *role)
{
  static const char *const all[] = {"", "Time", "What", "Where", "Target", "Who", "Reading", "Initials"};
  static const char *const own[] = {"", "Time", "What", "Where", "Target", "Reading", "Initials"};
  const char *day = "";
  bool shows_role = !role;
  html_table(h, "large", shows_role ? all : own, shows_role ? 8 : 7);
  for (int i = 0; i < h->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &h->plan->tasks.tasks[i];
    if (role && !pw_view_is_for(&h->view, t, role))
      continue;
    const char *today = pw_view_day(&h->view, t->at_min);
    if (strcmp(today, day) != 0) {
      html_rawf(h, "<tr class=\"day\"><td colspan=\"%d\">", shows_role ? 8 : 7);
      html_text(h, today);
      html_raw(h, "</td></tr>\n");
      day = today;
    }
    html_row(h, "");
    html_tick(h);
    html_cell(h, "time", "", pw_view_when(&h->view, t->at_min));
    html_cell(h, "what b", "", t->lot == PW_NONE ? t->what : TEXT("%s: %s", h->view.lot_mark[t->lot], t->what));
    html_cell(h, "", "Where", t->where);
    html_cell(h, "", "Target", t->target);
    if (shows_role)
      html_cell(h, "", "Who", pw_view_role(&h->view, t));
    html_fill(h, "Reading");
    html_fill(h, "Initials");
    html_row_end(h);
  }
  html_table_end(h);
}

static void fire_list(struct html *h)
{
  static const char *const heads[] = {"", "Time", "Pit", "What", "Aim at, hot to cool end", "Hot end reads", "Cool end reads"};
  html_section(h, "fires", "page wide", "Fire list");
  html_el(h, "p class=\"note\"", "Feed little and often; not in the minutes before food goes on.");
  html_table(h, "large", heads, 7);
  for (int i = 0; i < h->view.n_fires; i++) {
    const struct pw_view_fire *f = &h->view.fires[i];
    const struct pw_burn *u = &h->plan->allocation.burns[f->burn];
    const struct pw_setting *set = &h->ev->pits[u->pit].settings[u->setting];
    html_row(h, "");
    html_tick(h);
    html_cell(h, "time", "", pw_view_when(&h->view, f->at_min));
    html_cell(h, "nw", heads[2], h->ev->pits[u->pit].name);
    html_cell(h, f->is_turn ? "what b" : "what", "", f->what);
    html_cell(h, "nw", "Aim at", TEXT("%s to %s", pw_format_temp(h->ev->units, set->hot_c).s, pw_format_temp(h->ev->units, set->cool_c).s));
    html_fill(h, heads[5]);
    html_fill(h, heads[6]);
    html_row_end(h);
  }
  html_table_end(h);
  html_section_end(h);
}

void html_tasks_write(struct html *h)
{
  html_section(h, "shift", "page wide", "Shift sheet, everybody");
  task_table(h, NULL);
  html_section_end(h);
  for (int r = 0; r < h->view.n_roles; r++) {
    const struct pw_view_role *role = &h->view.roles[r];
    html_rawf(h, "<section id=\"role-%d\" class=\"role wide\">", r + 1);
    html_el(h, "h2", role->role);
    html_el(h, "p class=\"lead\"", TEXT("On shift %s", role->shifts));
    task_table(h, role->role);
    html_section_end(h);
  }
  fire_list(h);
}
