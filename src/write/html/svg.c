/* svg.c - rack maps and timeline as inline SVG.
 * Rack: one user unit is a millimetre; the free space round each piece is its outer line, the meat is not drawn
 * apart.  Timeline: rows are the view's lanes; a label stands above its bar's row so that a phone needs no margin. */
#include "write/html/svg.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(view, __VA_ARGS__)

static void text_at(struct pw_buf *out, double x, double y, const char *classes, const char *text)
{
  pw_buf_printf(out, "<text x=\"%.1f\" y=\"%.1f\" class=\"%s\">", x, y, classes);
  pw_text_add_html(out, text);
  pw_buf_add(out, "</text>");
}

static const double LABEL_EM = 0.78,
                    LABEL_HIGH = 0.8; /* room of a character in type sizes; the most of a side that type takes */

/* ---- rack ------------------------------------------------------------------------------------------ */

static void rack_outline(struct pw_buf *out, const struct pw_view *view, const struct pw_view_map *map, double w,
                         double d)
{
  const struct pw_rack *rack = &view->ev->pits[map->pit].racks[map->rack];
  if (rack->outline == PW_DISC)
    pw_buf_printf(out, "<ellipse class=\"rack\" cx=\"%.1f\" cy=\"%.1f\" rx=\"%.1f\" ry=\"%.1f\"/>", w / 2, d / 2, w / 2,
                  d / 2);
  else
    pw_buf_printf(out, "<rect class=\"rack\" x=\"0\" y=\"0\" width=\"%.1f\" height=\"%.1f\"/>", w, d);
  for (int z = 0; z < view->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &view->plan->lots.zones[z];
    if (zone->pit == map->pit && zone->rack == map->rack && zone->x_m > 1e-6)
      pw_buf_printf(out, "<line class=\"zone\" x1=\"%.1f\" y1=\"0\" x2=\"%.1f\" y2=\"%.1f\"/>", zone->x_m * 1000,
                    zone->x_m * 1000, d);
  }
}

/* a piece's label in its middle, upright or along the piece where that lets it be clearly larger */
static void piece_label(struct pw_buf *out, const struct pw_view_map *map, const struct pw_load *l, double x, double y,
                        double w, double d, double font, const char *label)
{
  double width = LABEL_EM * (double)strlen(label), fit = fmin(font, fmin(w / width, d * LABEL_HIGH)),
         along = fmin(font, fmin(d / width, w * LABEL_HIGH));
  bool is_along = along > fit * 1.25;
  fit = is_along ? along : fit;
  pw_buf_printf(out, "<text class=\"mark %s\" font-size=\"%.1f\" ", l->start_at_min == map->from_at_min ? "new" : "old",
                fit);
  if (is_along)
    pw_buf_printf(out, "transform=\"translate(%.1f %.1f) rotate(-90)\">", x + w / 2 + fit * 0.35, y + d / 2);
  else
    pw_buf_printf(out, "x=\"%.1f\" y=\"%.1f\">", x + w / 2, y + d / 2 + fit * 0.35);
  pw_text_add_html(out, label);
  pw_buf_add(out, "</text>");
}

static void rack_pieces(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map, double font)
{
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *l = &view->plan->allocation.loads[map->loads[i]];
    bool is_new = l->start_at_min == map->from_at_min;
    for (int k = 0; k < l->pieces && l->rects; k++) {
      const struct pw_rect *r = &l->rects[k];
      double x = r->x_m * 1000, y = r->y_m * 1000, w = r->length_m * 1000, d = r->depth_m * 1000, gap = font * 0.12;
      const char *label = TEXT("%s%d", view->lot_mark[l->lot], l->piece_ids ? l->piece_ids[k] + 1 : k + 1);
      gap = fmin(gap, 0.04 * fmin(w, d)); /* small pieces on a long rack keep their shape */
      pw_buf_printf(out, "<rect class=\"piece %s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"%.1f\"/>",
                    is_new ? "new" : "old", x + gap, y + gap, fmax(1, w - 2 * gap), fmax(1, d - 2 * gap),
                    fmin(font * 0.3, 0.12 * fmin(w, d)));
      piece_label(out, map, l, x, y, w, d, font, label);
    }
  }
}

void pw_svg_rack(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map)
{
  const struct pw_pit *pit = &view->ev->pits[map->pit];
  const struct pw_rack *rack = &pit->racks[map->rack];
  double w = rack->length_m * 1000, d = rack->depth_m * 1000, font = fmax(w, 400) / (w < d * 2.4 ? 14 : 30);
  pw_buf_printf(out, "<svg class=\"rackmap\" role=\"img\" viewBox=\"%.1f %.1f %.1f %.1f\">", -font * 0.3, -font * 0.3,
                w + font * 0.6, d + font * 0.6);
  pw_buf_add(out, "<title>");
  pw_text_add_html(out, TEXT("%s, %s rack, %s, seen from above", pit->name, rack->id,
                             pw_view_span(view, map->from_at_min, map->to_at_min)));
  pw_buf_add(out, "</title>");
  rack_outline(out, view, map, w, d);
  rack_pieces(out, view, map, font);
  pw_buf_add(out, "</svg>");
}

/* ---- timeline ------------------------------------------------------------------------------------------ */

enum { HEAD = 16, LABEL = 12, BAR = 16, GAP = 3, DAY_AND_TIME_W = 54 };
#define CHAR_W 6.2 /* of type 11 high, in a wide face */

struct strip {
  struct pw_buf *out;
  struct pw_view *view;
  int from_at_min, to_at_min, width;
};

static double x_of(const struct strip *t, int at_min)
{
  int at = at_min < t->from_at_min ? t->from_at_min : at_min > t->to_at_min ? t->to_at_min : at_min;
  return (double)(at - t->from_at_min) * t->width / (t->to_at_min - t->from_at_min);
}

/** A bar with the longest of n texts that fits. */
static void bar(const struct strip *t, double y, int from_at_min, int to_at_min, const char *classes,
                const char *const *texts, int n)
{
  double x0 = x_of(t, from_at_min), x1 = x_of(t, to_at_min);
  if (x1 - x0 < 0.5)
    return;
  pw_buf_printf(t->out, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%d\"/>", classes, x0 + 0.7, y,
                fmax(0.5, x1 - x0 - 1.4), BAR);
  for (int i = 0; i < n; i++)
    if ((double)pw_text_width(texts[i]) * CHAR_W + 5 <= x1 - x0) {
      text_at(t->out, (x0 + x1) / 2, y + BAR / 2.0 + 4, strcmp(classes, "b fire") == 0 ? "t inv" : "t", texts[i]);
      return;
    }
}

static bool lane_meets(const struct strip *t, const struct pw_view_lane *lane)
{
  for (int i = 0; i < lane->n_items; i++) {
    const struct pw_allocation *al = &t->view->plan->allocation;
    int from =
        lane->kind == PW_LANE_FIRE ? al->burns[lane->items[i]].lit_at_min : al->loads[lane->items[i]].start_at_min;
    int to = lane->kind == PW_LANE_FIRE ? al->burns[lane->items[i]].out_at_min : al->loads[lane->items[i]].end_at_min;
    if (from < t->to_at_min && to > t->from_at_min)
      return true;
  }
  return false;
}

static void lane_bars(const struct strip *t, const struct pw_view_lane *lane, double y)
{
  static const char *const classes[] = {"b smoke", "b finish", "b rest", "b hold"};
  struct pw_view *view = t->view;
  for (int i = 0; i < lane->n_items; i++) {
    if (lane->kind == PW_LANE_FIRE) {
      const struct pw_burn *u = &view->plan->allocation.burns[lane->items[i]];
      const struct pw_setting *set = &view->ev->pits[u->pit].settings[u->setting];
      const char *up[] = {TEXT("light %s", pw_view_clock(view, u->lit_at_min)), "light"};
      const char *on[] = {TEXT("fire, %s to %s, out %s", pw_format_temp(view->ev->units, set->hot_c).s,
                               pw_format_temp(view->ev->units, set->cool_c).s, pw_view_when(view, u->out_at_min)),
                          TEXT("fire, out %s", pw_view_clock(view, u->out_at_min)), "fire"};
      bar(t, y, u->lit_at_min, u->ready_at_min, "b up", up, 2);
      bar(t, y, u->ready_at_min, u->out_at_min, "b fire", on, 3);
      continue;
    }
    const struct pw_load *l = &view->plan->allocation.loads[lane->items[i]];
    const char *mark = view->lot_mark[l->lot], *word = pw_view_stage_word(l->stage);
    const char *cut = view->ev->cuts[view->plan->lots.lots[l->lot].cut].name;
    const char *texts[] = {
        TEXT("%s  %s \xC3\x97%d, %s until %s", mark, cut, l->pieces, word, pw_view_when(view, l->end_at_min)),
        TEXT("%s \xC3\x97%d %s until %s", mark, l->pieces, word, pw_view_clock(view, l->end_at_min)),
        TEXT("%s \xC3\x97%d %s", mark, l->pieces, word), TEXT("%s\xC3\x97%d", mark, l->pieces), mark};
    bar(t, y, l->start_at_min, l->end_at_min, classes[l->stage], texts, 5);
  }
}

static void grid(const struct strip *t, int hours, double height)
{
  struct pw_view *view = t->view;
  for (int i = 0; i <= hours; i++) {
    int at = t->from_at_min + i * 60;
    pw_buf_printf(t->out, "<line class=\"hour\" x1=\"%.1f\" y1=\"%d\" x2=\"%.1f\" y2=\"%.1f\"/>", x_of(t, at), HEAD,
                  x_of(t, at), height);
    bool is_under_first = i == 1 && x_of(t, at) < DAY_AND_TIME_W;
    if (i < hours && !is_under_first)
      text_at(t->out, x_of(t, at) + 2, HEAD - 5, "h", i == 0 ? pw_view_when(view, at) : pw_view_clock(view, at));
  }
}

static void services(const struct strip *t, double y)
{
  for (int i = 0; i < t->view->ev->n_services; i++) {
    const struct pw_service *sv = &t->view->ev->services[i];
    const char *texts[] = {pw_view_service(t->view, i), "serve"};
    bar(t, y, sv->at_min, sv->at_min + sv->length_min, "b serve", texts, 2);
  }
}

static bool serves(const struct strip *t)
{
  for (int i = 0; i < t->view->ev->n_services; i++) {
    const struct pw_service *sv = &t->view->ev->services[i];
    if (sv->at_min < t->to_at_min && sv->at_min + sv->length_min > t->from_at_min)
      return true;
  }
  return false;
}

static double lane_label(const struct strip *t, const struct pw_view_lane *lane, double y)
{
  struct pw_view *view = t->view;
  if (!lane->is_first)
    return 0;
  if (lane->kind == PW_LANE_FIRE)
    text_at(t->out, 2, y + LABEL - 4, "n pit", view->ev->pits[lane->pit].name);
  else
    text_at(t->out, 2, y + LABEL - 4, lane->kind == PW_LANE_ZONE ? "n" : "n pit",
            TEXT("%s, %s", lane->name, lane->detail));
  return LABEL;
}

bool pw_svg_timeline(struct pw_buf *out, struct pw_view *view, int from_at_min, int hours, int width, int lane, int n,
                     const char *classes)
{
  struct strip t = {out, view, from_at_min, from_at_min + hours * 60, width};
  double height = HEAD + GAP, y = HEAD + GAP;
  for (int i = lane; i < lane + n; i++)
    if (lane_meets(&t, &view->lanes[i]))
      height += BAR + GAP + (view->lanes[i].is_first ? LABEL : 0);
  if (n == 0 && serves(&t))
    height += LABEL + BAR + GAP;
  if (height <= HEAD + GAP)
    return false;
  pw_buf_printf(out, "<svg class=\"timeline %s\" role=\"img\" viewBox=\"0 0 %d %.1f\"><title>", classes, width, height);
  pw_text_add_html(out, TEXT("%s, %s",
                             n == 0                             ? "Services"
                             : view->lanes[lane].pit == PW_NONE ? "Ovens and boxes"
                                                                : view->ev->pits[view->lanes[lane].pit].name,
                             pw_view_span(view, t.from_at_min, t.to_at_min)));
  pw_buf_add(out, "</title>");
  grid(&t, hours, height);
  for (int i = lane; i < lane + n; i++) {
    if (!lane_meets(&t, &view->lanes[i]))
      continue;
    y += lane_label(&t, &view->lanes[i], y);
    lane_bars(&t, &view->lanes[i], y);
    y += BAR + GAP;
  }
  if (n == 0) {
    text_at(out, 2, y + LABEL - 4, "n pit", "Serve");
    services(&t, y + LABEL);
  }
  pw_buf_add(out, "</svg>\n");
  return true;
}
