/* html_crew.c - timeline, rack maps, shift sheets, fire list of the crew's file. */
#include "write/html/html_page.h"

#include "sheet/fire_lines.h"
#include "sheet/heat_words.h"
#include "sheet/view_cores.h"
#include "sheet/view_maps.h"
#include "write/html/svg.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

#define WIDE_ASPECT 2.4 /* a rack longer than this, in its depths, gets half a page's width, others a third */
#define LONG_ASPECT 3.6 /* and one longer than this all of it */

enum { WIDE_H = 15, WIDE_UNITS = 680, NARROW_H = 7, NARROW_UNITS = 340 };

/** All groups of one stretch: services, each pit, ovens and boxes together. */
static void stretch(struct html *h, int from_at_min, int hours, int width, const char *classes)
{
  const struct pw_view *view = &h->view;
  pw_html_rawf(h, "<div class=\"%s\">", classes);
  pw_svg_timeline(h->buf, &h->view, from_at_min, hours, width, 0, 0, "");
  for (int i = 0; i < view->n_lanes;) {
    int n = 1;
    while (i + n < view->n_lanes && view->lanes[i + n].pit == view->lanes[i].pit)
      n++;
    pw_svg_timeline(h->buf, &h->view, from_at_min, hours, width, i, n, "");
    i += n;
  }
  pw_html_raw(h, "</div>\n");
}

/** The whole time in stretches of equal length, none longer than most_h hours. */
static void stretches(struct html *h, int most_h, int width, const char *classes)
{
  int span_h = (h->view.last_at_min - h->view.first_at_min + 59) / 60, n = (span_h + most_h - 1) / most_h;
  int hours = n > 0 ? (span_h + n - 1) / n : 1;
  for (int i = 0; i < n; i++)
    stretch(h, h->view.first_at_min + i * hours * 60, hours, width, classes);
}

void pw_html_timeline_write(struct html *h)
{
  pw_html_section(h, "timeline", "page wide", "Timeline");
  pw_html_el(h, "p class=\"note\"",
             "Filled bar: fire. Thick frame: smoke. Thick broken frame: finish. Thin dashed: rest. Thin: hold. "
             "Thickest: service.");
  stretches(h, WIDE_H, WIDE_UNITS, "full block");
  stretches(h, NARROW_H, NARROW_UNITS, "narrow block");
  pw_html_section_end(h);
}

/* ---- maps ------------------------------------------------------------------------------------------- */

/** Temperatures at the two ends of the rack, or an empty string. */
static const char *end_temp(struct html *h, const struct pw_view_map *map, bool is_hot)
{
  int zone = PW_NONE;
  for (int z = 0; z < h->plan->lots.n_zones; z++)
    if (h->plan->lots.zones[z].pit == map->pit && h->plan->lots.zones[z].rack == map->rack &&
        (zone == PW_NONE || !is_hot))
      zone = z;
  return zone == PW_NONE
             ? ""
             : TEXT("%s", pw_format_temp(h->ev->units, pw_view_zone_temp_c(&h->view, zone, map->setting)).s);
}

static void map_lines(struct html *h, const struct pw_view_map *map)
{
  struct pw_view_map_line *lines;
  int n = pw_view_map_lines(&h->view, map, &lines);
  for (int i = 0; i < n; i++) {
    pw_html_raw(h, "<li>");
    pw_html_el(h, lines[i].is_on ? "b" : "span", lines[i].head);
    pw_html_text(h, TEXT(" %s ", lines[i].body));
    pw_html_el(h, "b class=\"nw\"", lines[i].off);
    pw_html_raw(h, "</li>");
  }
}

static void map_write(struct html *h, const struct pw_view_map *map)
{
  const struct pw_pit *pit = &h->ev->pits[map->pit];
  pw_html_raw(h, "<figure><figcaption><b>");
  pw_html_text(h, pw_view_when(&h->view, map->from_at_min));
  pw_html_raw(h, "</b> ");
  const char *span = pw_view_span(&h->view, map->from_at_min, map->to_at_min);
  pw_html_text(h, TEXT("%s \xC2\xB7 %d/%d", strstr(span, "to "), map->nth, map->of));
  pw_html_raw(h, "</figcaption><div class=\"ends\">");
  bool is_one = pit->n_racks == 1; /* the name is said with every map: it may top a page */
  if (pit->racks[map->rack].n_zones > 1) {
    pw_html_el(h, "span", TEXT("HOT %s", end_temp(h, map, true)));
    pw_html_el(h, "span", is_one ? pit->name : pit->racks[map->rack].id);
    pw_html_el(h, "span", TEXT("COOL %s", end_temp(h, map, false)));
  } else {
    pw_html_el(h, "span", is_one ? pit->name : TEXT("%s rack", pit->racks[map->rack].id));
    pw_html_el(h, "span", end_temp(h, map, true));
  }
  pw_html_raw(h, "</div>");
  pw_svg_rack(h->buf, &h->view, map);
  pw_html_raw(h, "<ul>");
  map_lines(h, map);
  pw_html_raw(h, "</ul></figure>\n");
}

void pw_html_maps_write(struct html *h)
{
  pw_html_section(h, "maps", "page", "Rack maps");
  pw_html_el(h, "p class=\"note\"",
             "Racks seen from above, to scale, each time something goes on. Thick frame, bold: goes on now. A frame is "
             "the piece and the free space around it.");
  for (int i = 0; i < h->view.n_maps; i++) {
    const struct pw_view_map *map = &h->view.maps[i];
    const struct pw_rack *rack = &h->ev->pits[map->pit].racks[map->rack];
    if (map->nth == 1) {
      pw_html_el(h, "h3",
                 TEXT("%s, %s rack, %s \xC3\x97 %s", h->ev->pits[map->pit].name, rack->id,
                      pw_format_length(h->ev->units, rack->length_m).s,
                      pw_format_length(h->ev->units, rack->depth_m).s));
      pw_html_rawf(h, "<div class=\"grid g%d\">",
                   rack->length_m < rack->depth_m * WIDE_ASPECT   ? 3
                   : rack->length_m < rack->depth_m * LONG_ASPECT ? 2
                                                                  : 1);
    }
    map_write(h, map);
    if (map->nth == map->of)
      pw_html_raw(h, "</div>\n");
  }
  pw_html_section_end(h);
}

/* ---- tasks -------------------------------------------------------------------------------------------- */

/** Part of the day a task is in: a table's bands. */
static const char *block_words(struct html *h, int at_min)
{
  static const char *const parts[] = {"00:00 to 06:00", "06:00 to 12:00", "12:00 to 18:00", "18:00 to 24:00"};
  return TEXT("%s, %s", pw_view_day(&h->view, at_min), parts[pw_view_local(h->ev, at_min).hour / 6]);
}

/** True when everybody's printed sheet has no line in the part of the day that begins with task i. */
static bool is_block_small(struct html *h, int i, const char *block)
{
  for (; i < h->plan->tasks.n_tasks && strcmp(block_words(h, h->plan->tasks.tasks[i].at_min), block) == 0; i++)
    if (!pw_view_is_routine(&h->plan->tasks.tasks[i]))
      return false;
  return true;
}

/** Where and target after the words of a task. */
static void task_details(struct html *h, const struct pw_task *t, const char **last)
{
  bool says_target = pw_view_says_target(t, last), says_where = t->where && t->where[0];
  if (!says_where && !says_target)
    return;
  pw_html_raw(h, says_target ? " <span class=\"sub long\">" : " <span class=\"sub\">");
  if (says_where)
    pw_html_el(h, "span class=\"at\"", t->where);
  if (says_target)
    pw_html_el(h, "span class=\"target\"", TEXT("%s%s", says_where ? ": " : "", t->target));
  pw_html_raw(h, "</span>");
}

/** Tasks of a role; of everybody, with who it is, when `role` is NULL. */
static void task_table(struct html *h, const char *role)
{
  static const char *const all[] = {"", "Time", "What and where", "Who"}, *const own[] = {"", "Time", "What and where",
                                                                                          "Reading"};
  const char *block = "", *last[PW_TASK__COUNT] = {0};
  pw_html_table(h, role ? "large tasks" : "large tasks all", role ? own : all, 4);
  for (int i = 0; i < h->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &h->plan->tasks.tasks[i];
    if (!pw_fire_line_is(h->plan, i) || (role && !pw_view_is_for(&h->view, t, role)))
      continue;
    const char *now = role ? pw_view_day(&h->view, t->at_min) : block_words(h, t->at_min);
    if (strcmp(now, block) != 0) {
      pw_html_rawf(h, "<tr class=\"day%s\"><td colspan=\"4\">", !role && is_block_small(h, i, now) ? " small" : "");
      pw_html_text(h, now);
      pw_html_raw(h, "</td></tr>\n");
      block = now;
      memset(last, 0, sizeof last);
    }
    pw_html_row(h, !role && pw_view_is_routine(t) ? "small" : "");
    pw_html_tick(h);
    pw_html_cell(h, "time", "", pw_view_when(&h->view, t->at_min));
    pw_html_raw(h, "<td class=\"what\" data-h=\"\">");
    pw_html_el(h, "b", pw_view_task(&h->view, t));
    task_details(h, t, last);
    pw_html_raw(h, "</td>");
    if (!role)
      pw_html_cell(h, "who", "Who", pw_view_role(&h->view, t));
    else
      pw_html_fill(h, "Reading");
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
}

/** For the hand at the pit: how much longer each cut takes 25 F under its hottest place. */
static void cooler_pit(struct html *h)
{
  static const char *const heads[] = {"Meat", "Air", "Open, hours", "Wrapped, hours"};
  const struct pw_plan *plan = h->plan;
  bool has_head = false;
  for (int l = 0; plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *heat = &plan->safety.lots[l];
    if (!pw_heat_is_slowest(plan, l) || isnan(heat->cool_c))
      continue;
    if (!has_head) {
      pw_html_el(
          h, "h3",
          TEXT("If the pit runs %s cooler", pw_format_temp_difference(h->ev->units, heat->hot_c - heat->cool_c).s));
      pw_html_el(h, "p class=\"note\"", "By theory: first as hot as the hot end should be, then that much cooler.");
      pw_html_table(h, "large keep", heads, 4);
      has_head = true;
    }
    pw_html_row(h, "");
    pw_html_cell(h, "what b", "", h->ev->cuts[plan->lots.lots[l].cut].name);
    pw_html_cell(
        h, "nw", heads[1],
        TEXT("%.0f, then %s", pw_in_temp(h->ev->units, heat->hot_c), pw_format_temp(h->ev->units, heat->cool_c).s));
    pw_html_cell(h, "nw", heads[2],
                 TEXT("%s, then %s", pw_view_hours(&h->view, heat->hot_smoke_min),
                      pw_view_hours(&h->view, heat->cool_smoke_min)));
    pw_html_cell(h, plan->lots.lots[l].has_finish ? "nw" : "none", heads[3],
                 plan->lots.lots[l].has_finish ? TEXT("%s, then %s", pw_view_hours(&h->view, heat->hot_finish_min),
                                                      pw_view_hours(&h->view, heat->cool_finish_min))
                                               : "");
    pw_html_row_end(h);
  }
  if (has_head)
    pw_html_table_end(h);
}

/** The fires, one after another: each has its own table to pin up at the pit. */
static void fire_list(struct html *h)
{
  static const char *const heads[] = {"", "Time", "What", "Hot end reads", "Cool end reads"};
  pw_html_section(h, "fires", "page", "Fire list");
  pw_html_el(h, "p class=\"note\"", "Feed little and often; not in the minutes before food goes on.");
  for (int b = 0; b < h->plan->allocation.n_burns; b++) {
    const struct pw_burn *u = &h->plan->allocation.burns[b];
    const struct pw_setting *set = &h->ev->pits[u->pit].settings[u->setting];
    pw_html_el(h, "h3",
               TEXT("%s, %s: aim at %s at the hot end, %s at the cool end", h->ev->pits[u->pit].name,
                    pw_view_span(&h->view, u->lit_at_min, u->out_at_min), pw_format_temp(h->ev->units, set->hot_c).s,
                    pw_format_temp(h->ev->units, set->cool_c).s));
    pw_html_table(h, "large fires", heads, 5);
    for (int i = 0; i < h->view.n_fires; i++) {
      const struct pw_view_fire *f = &h->view.fires[i];
      if (f->burn != b)
        continue;
      pw_html_row(h, "");
      pw_html_tick(h);
      pw_html_cell(h, "time", "", pw_view_when(&h->view, f->at_min));
      pw_html_cell(h, f->is_turn ? "what b" : "what", "", f->what);
      pw_html_fill(h, heads[3]);
      pw_html_fill(h, heads[4]);
      pw_html_row_end(h);
    }
    pw_html_table_end(h);
  }
  cooler_pit(h);
  pw_html_section_end(h);
}

void pw_html_tasks_write(struct html *h)
{
  pw_html_section(h, "shift", "page", "Shift sheet, everybody");
  pw_html_el(h, "p class=\"note paper\"",
             "The moves of the whole crew. Buying, prep, feeds, mops and readings are on the sheet of the role that "
             "does them.");
  task_table(h, NULL);
  pw_html_section_end(h);
  for (int r = 0; r < h->view.n_roles; r++) {
    const struct pw_view_role *role = &h->view.roles[r];
    pw_html_rawf(h, "<section id=\"role-%d\" class=\"role\">", r + 1);
    pw_html_el(h, "h2", role->role);
    pw_html_el(h, "p class=\"lead\"", TEXT("On shift %s", role->shifts));
    task_table(h, role->role);
    pw_html_section_end(h);
  }
  fire_list(h);
}
