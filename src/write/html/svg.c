/* svg.c - rack maps and timeline as inline SVG.
 * Rack: one user unit is a millimetre; the free space round each piece is its outer line, the meat is not drawn
 * apart.  Day: rows are the view's lanes, their names in a margin. */
#include "write/html/svg.h"

#include "base/text.h"
#include "sheet/sheet.h"
#include "sheet/slack_words.h"
#include "sheet/words.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(view, __VA_ARGS__)

static const double LABEL_EM = 0.62,
                    LABEL_HIGH = 0.8; /* room of a character in type sizes; the most of a side that type takes */
static const double LABEL_LEAST =
    0.55; /* smaller than this share of the usual size a label is not read at arm's length */
static const double LABEL_MM = 4.94, RACK_MM = 80, /* 14 pt on a rack printed 80 mm wide, */
    RACK_DEEP_MM = 44,                             /* no deeper than that, */
    LONG_DEEP_MM = 24, LONG_MM = 120;              /* and a long one wider, so that it is as deep as this */

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
  pw_buf_printf(out, "<text class=\"mark %s\" font-size=\"%.1f\" ",
                pw_view_lies_from(l) == map->from_at_min ? "new" : "old", fit);
  if (is_along)
    pw_buf_printf(out, "transform=\"translate(%.1f %.1f) rotate(-90)\">", x + w / 2 + fit * 0.35, y + d / 2);
  else
    pw_buf_printf(out, "x=\"%.1f\" y=\"%.1f\">", x + w / 2, y + d / 2 + fit * 0.35);
  pw_text_add_html(out, label);
  pw_buf_add(out, "</text>");
}

/** Whether every piece of a load has room for its own label, and there are few enough to read. */
static bool are_labelled(const struct pw_view *view, const struct pw_load *l, double font)
{
  size_t n = strlen(view->lot_mark[l->lot]) + (view->plan->lots.lots[l->lot].pieces > 9 ? 2 : 1);
  double width = LABEL_EM * (double)n, least = font * LABEL_LEAST;
  for (int k = 0; k < l->pieces && l->rects; k++) {
    double w = l->rects[k].length_m * 1000, d = l->rects[k].depth_m * 1000;
    if (fmin(w / width, d * LABEL_HIGH) < least && fmin(d / width, w * LABEL_HIGH) < least)
      return false;
  }
  return l->pieces < PW_SHEET_MANY_PIECES;
}

/** Whether two loads on a rack are of one lot and stage, both new or both there before, until the same minute. */
static bool is_alike(const struct pw_view_map *map, const struct pw_load *a, const struct pw_load *b)
{
  return a->lot == b->lot && a->stage == b->stage && a->end_at_min == b->end_at_min &&
         (pw_view_lies_from(a) == map->from_at_min) == (pw_view_lies_from(b) == map->from_at_min);
}

/** Nobody reads names on half of what lies there alike and a number on the rest. */
static bool are_all_labelled(const struct pw_view *view, const struct pw_view_map *map, const struct pw_load *l,
                             double font)
{
  bool are = true;
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *other = &view->plan->allocation.loads[map->loads[i]];
    are = are && (!is_alike(map, l, other) || are_labelled(view, other, font));
  }
  return are;
}

/** What a load takes on a rack, and where most of it lies. */
struct box {
  double x0, x1, y0, y1, mid_sum;
  int pieces;
};

static struct box box_both(struct box a, struct box b)
{
  return (struct box){fmin(a.x0, b.x0), fmax(a.x1, b.x1),      fmin(a.y0, b.y0),
                      fmax(a.y1, b.y1), a.mid_sum + b.mid_sum, a.pieces + b.pieces};
}

static struct box box_of(const struct pw_load *l)
{
  struct box box = {INFINITY, -INFINITY, INFINITY, -INFINITY, 0, 0};
  for (int k = 0; k < l->pieces && l->rects; k++) {
    const struct pw_rect *r = &l->rects[k];
    box = box_both(
        box, (struct box){r->x_m, r->x_m + r->length_m, r->y_m, r->y_m + r->depth_m, r->x_m + r->length_m / 2, 1});
  }
  return box;
}

/** Square millimetres of other loads' pieces under a label of one load in that place. */
static double covers_mm2(const struct pw_view *view, const struct pw_view_map *map, const struct pw_load *l,
                         double wide, double high, double x, double y)
{
  double sum = 0;
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *other = &view->plan->allocation.loads[map->loads[i]];
    for (int k = 0; k < other->pieces && other->rects && !is_alike(map, l, other); k++) {
      const struct pw_rect *r = &other->rects[k];
      double dx = fmin(x + wide / 2, (r->x_m + r->length_m) * 1000) - fmax(x - wide / 2, r->x_m * 1000);
      double dy = fmin(y + high / 2, (r->y_m + r->depth_m) * 1000) - fmax(y - high / 2, r->y_m * 1000);
      sum += fmax(0, dx) * fmax(0, dy);
    }
  }
  return sum;
}

/** Where other pieces lie in the middle of a load, its label goes over that of its own pieces where it hides least of them. */
static void label_move(const struct pw_view *view, const struct pw_view_map *map, const struct pw_load *l, double wide,
                       double high, double *x, double *y)
{
  double least = covers_mm2(view, map, l, wide, high, *x, *y);
  for (int k = 0; k < l->pieces && least > 0; k++) {
    const struct pw_rect *r = &l->rects[k];
    double at_x = (r->x_m + r->length_m / 2) * 1000, at_y = (r->y_m + r->depth_m / 2) * 1000;
    double covered = covers_mm2(view, map, l, wide, high, at_x, at_y),
           same_x = covers_mm2(view, map, l, wide, high, *x, at_y);
    if (fmin(covered, same_x) >= least)
      continue;
    least = fmin(covered, same_x);
    *x = same_x <= covered ? *x : at_x;
    *y = at_y;
  }
}

/** One label over a load of many small pieces: its lot and their number, of all that lie alike among them. */
static void load_label(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map, int i, double font)
{
  const struct pw_load *l = &view->plan->allocation.loads[map->loads[i]];
  struct box box = box_of(l);
  for (int k = 0; k < map->n_loads; k++) {
    const struct pw_load *other = &view->plan->allocation.loads[map->loads[k]];
    struct box b = box_of(other);
    double shared = fmin(box.x1, b.x1) - fmax(box.x0, b.x0);
    if (k == i || !is_alike(map, l, other) || shared < 0.1 * fmin(box.x1 - box.x0, b.x1 - b.x0))
      continue;
    if (k < i)
      return; /* said there */
    box = box_both(box, b);
  }
  const char *label = TEXT("%s\xC3\x97%d", view->lot_mark[l->lot], box.pieces);
  double x = box.mid_sum / box.pieces, width = ((double)pw_text_width(label) + 1) * LABEL_EM;
  double w = 2 * fmin(x - box.x0, box.x1 - x) * 1000, d = (box.y1 - box.y0) * 1000; /* clear of its neighbours */
  double size = fmin(font * 1.2, fmax(font * LABEL_LEAST, fmin(w / width, d * LABEL_HIGH)));
  double wide = fmin(w, width * size), high = size * 1.04, mid_x = x * 1000, mid_y = (box.y0 + box.y1) * 500;
  label_move(view, map, l, wide, high, &mid_x, &mid_y);
  pw_buf_printf(out, "<rect class=\"under\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>", mid_x - wide / 2,
                mid_y - high / 2, wide, high);
  pw_buf_printf(out, "<text class=\"mark %s\" font-size=\"%.1f\" x=\"%.1f\" y=\"%.1f\">",
                pw_view_lies_from(l) == map->from_at_min ? "new" : "old", size, mid_x, mid_y + size * 0.35);
  pw_text_add_html(out, label);
  pw_buf_add(out, "</text>");
}

static void rack_pieces(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map, double font)
{
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *l = &view->plan->allocation.loads[map->loads[i]];
    bool is_new = pw_view_lies_from(l) == map->from_at_min, is_labelled = are_all_labelled(view, map, l, font);
    for (int k = 0; k < l->pieces && l->rects; k++) {
      const struct pw_rect *r = &l->rects[k];
      double x = r->x_m * 1000, y = r->y_m * 1000, w = r->length_m * 1000, d = r->depth_m * 1000, gap = font * 0.12;
      gap = fmin(gap, 0.04 * fmin(w, d)); /* small pieces on a long rack keep their shape */
      pw_buf_printf(out,
                    "<rect class=\"piece %s%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"%.1f\"/>",
                    is_new ? "new" : "old", is_labelled ? "" : " many", x + gap, y + gap, fmax(1, w - 2 * gap),
                    fmax(1, d - 2 * gap), fmin(font * 0.3, 0.12 * fmin(w, d)));
      if (is_labelled)
        piece_label(out, map, l, x, y, w, d, font,
                    TEXT("%s%d", view->lot_mark[l->lot], l->piece_ids ? l->piece_ids[k] + 1 : k + 1));
    }
  }
  for (int i = 0; i < map->n_loads; i++) { /* over all pieces */
    const struct pw_load *l = &view->plan->allocation.loads[map->loads[i]];
    if (l->rects && l->pieces > 0 && !are_all_labelled(view, map, l, font))
      load_label(out, view, map, i, font);
  }
}

double pw_svg_rack_mm(const struct pw_rack *rack)
{
  double longer = rack->length_m / rack->depth_m, wide_mm = fmax(RACK_MM, fmin(LONG_MM, LONG_DEEP_MM * longer));
  return fmin(wide_mm, RACK_DEEP_MM * longer);
}

void pw_svg_rack(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map)
{
  const struct pw_pit *pit = &view->ev->pits[map->pit];
  const struct pw_rack *rack = &pit->racks[map->rack];
  double w = rack->length_m * 1000, d = rack->depth_m * 1000, font = w * LABEL_MM / pw_svg_rack_mm(rack);
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

/* ---- day ------------------------------------------------------------------------------------------------- */

enum { DAY_W = 1000, LEAST_LANE_H = 14, MOST_LANE_H = 44, LEAST_TYPE = 12, MOST_TYPE = 18 };
static const double TYPE_FRAC = 0.58, NAME_CHARS = 28,
                    CHAR_FRAC = 6.4 / 12, /* of the lane; of type, a character on the mean */
    PAGE_WIDE_MM = 275; /* of A4 across; Letter's is less, so that a drawing that fits there fits here */

struct day {
  struct pw_buf *out;
  struct pw_view *view;
  int from_at_min, to_at_min;
  double name_w, head_h, lane_h, bar_h, type, char_w;
};

/** Lanes and letters as large as `room_mm` of the page allow for so many lanes: the sheet hangs on a wall. */
static void scale(struct day *t, int n_lanes, double room_mm)
{
  double most = room_mm * DAY_W / PAGE_WIDE_MM / (n_lanes + 1.2);
  t->lane_h = fmax(LEAST_LANE_H, fmin(MOST_LANE_H, most));
  t->bar_h = t->lane_h - fmin(4, t->lane_h / 6);
  t->type = fmin(t->bar_h * 0.95, fmax(LEAST_TYPE, fmin(MOST_TYPE, floor(t->lane_h * TYPE_FRAC))));
  t->char_w = t->type * CHAR_FRAC;
  t->head_h = t->type + 6;
  t->name_w = NAME_CHARS * t->char_w + 6; /* a long name is set smaller */
}

static double x_of(const struct day *t, int at_min)
{
  int at = at_min < t->from_at_min ? t->from_at_min : at_min > t->to_at_min ? t->to_at_min : at_min;
  return t->name_w + (double)(at - t->from_at_min) * (DAY_W - t->name_w) / (t->to_at_min - t->from_at_min);
}

static void type_sized(const struct day *t, double x, double y, double size, const char *classes, const char *text)
{
  pw_buf_printf(t->out, "<text x=\"%.1f\" y=\"%.1f\" font-size=\"%.1f\" class=\"%s\">", x, y + size * 0.35, size,
                classes);
  pw_text_add_html(t->out, text);
  pw_buf_add(t->out, "</text>");
}

/** Largest type in which the text takes no more than `wide`; 0: not even the least that is read does. */
static double type_for(const struct day *t, const char *text, double wide, double least)
{
  double size = fmin(t->type, wide / (fmax(1, pw_text_width(text)) * CHAR_FRAC));
  return size >= least ? size : 0;
}

/** A bar with the longest of n texts that fits, somewhat smaller if need be, or the shortest beside it, up to `free_x`. */
static void bar(const struct day *t, double y, int from_at_min, int to_at_min, const char *classes,
                const char *const *texts, int n, double free_x)
{
  const double SMALLER_FRAC = 0.75, PAD_W = 5, BESIDE_W = 2;
  double x0 = x_of(t, from_at_min), x1 = x_of(t, to_at_min), middle = y + t->bar_h / 2, size = 0,
         least = fmax(LEAST_TYPE, t->type * SMALLER_FRAC);
  if (x1 - x0 < 0.5)
    return;
  pw_buf_printf(t->out, "<rect class=\"%s\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>", classes, x0 + 0.7,
                y, fmax(0.5, x1 - x0 - 1.4), t->bar_h);
  for (int i = 0; i < n && size <= 0; i++)
    if ((size = type_for(t, texts[i], x1 - x0 - PAD_W, least)) > 0)
      type_sized(t, (x0 + x1) / 2, middle, size, strcmp(classes, "b fire") == 0 ? "t inv" : "t", texts[i]);
  for (int i = 0; i < n && size <= 0; i++)
    if ((size = type_for(t, texts[i], free_x - x1 - BESIDE_W - 1, LEAST_TYPE)) > 0)
      type_sized(t, x1 + BESIDE_W, middle, size, "side", texts[i]);
  if (size <= 0 && n > 1 && (size = type_for(t, texts[n - 1], x1 - x0 - PAD_W, LEAST_TYPE * SMALLER_FRAC)) > 0)
    type_sized(t, (x0 + x1) / 2, middle, size, "t", texts[n - 1]); /* small is better than nothing */
}

static bool lane_meets(const struct day *t, const struct pw_view_lane *lane)
{
  for (int i = 0; i < lane->n_bars; i++)
    if (lane->bars[i].from_at_min < t->to_at_min && lane->bars[i].to_at_min > t->from_at_min)
      return true;
  return false;
}

static void fire_bar(const struct day *t, const struct pw_burn *u, double y, double free_x)
{
  struct pw_view *view = t->view;
  const struct pw_setting *set = &view->ev->pits[u->pit].settings[u->setting];
  const char *up[] = {TEXT("light %s", pw_view_clock(view, u->lit_at_min)), "light"};
  const char *on[] = {TEXT("fire, %s%s%s, food out %s", pw_format_temp(view->ev->units, set->hot_c).s,
                           pw_words_has_ends(set) ? " to " : "",
                           pw_words_has_ends(set) ? pw_format_temp(view->ev->units, set->cool_c).s : "",
                           pw_view_when(view, u->out_at_min)),
                      TEXT("fire, food out %s", pw_view_clock(view, u->out_at_min)), "fire"};
  bar(t, y, u->lit_at_min, u->ready_at_min, "b up", up, 2, x_of(t, u->ready_at_min));
  bar(t, y, u->ready_at_min, u->out_at_min, "b fire", on, 3, free_x);
}

static void lane_bars(const struct day *t, const struct pw_view_lane *lane, double y)
{
  static const char *const classes[PW_BAR__COUNT] = {"b fire", "b smoke", "b finish", "b rest",
                                                     "b hold", "b hold",  "b chill",  "b finish"};
  struct pw_view *view = t->view;
  for (int i = 0; i < lane->n_bars; i++) {
    const struct pw_view_bar *u = &lane->bars[i];
    double free_x = x_of(t, i + 1 < lane->n_bars ? lane->bars[i + 1].from_at_min : t->to_at_min);
    if (lane->kind == PW_LANE_FIRE) {
      fire_bar(t, &view->plan->allocation.burns[u->index], y, free_x);
      continue;
    }
    const char *mark = u->mark ? u->mark : u->what, *word = pw_view_bar_word(u->kind);
    const char *whole = u->mark ? TEXT("%s  %s \xC3\x97%d", mark, u->what, u->n)
                                : TEXT("%s, %d %s", mark, u->n, u->n == 1 ? "pan" : "pans");
    const char *texts[] = {TEXT("%s, %s until %s", whole, word, pw_view_when(view, u->to_at_min)),
                           TEXT("%s \xC3\x97%d %s until %s", mark, u->n, word, pw_view_clock(view, u->to_at_min)),
                           TEXT("%s \xC3\x97%d %s", mark, u->n, word), TEXT("%s\xC3\x97%d", mark, u->n), mark};
    int slack = u->index == PW_NONE ? 0 : pw_slack_of_load(view->plan, &view->plan->allocation.loads[u->index], true);
    if (slack > 0 && u->to_at_min > t->from_at_min && u->to_at_min < t->to_at_min)
      pw_buf_printf(t->out, "<line class=\"late\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>",
                    x_of(t, u->to_at_min), y + t->bar_h - 1.0, x_of(t, u->to_at_min + slack), y + t->bar_h - 1.0);
    bar(t, y, u->from_at_min, u->to_at_min, classes[u->kind], texts, 5, free_x);
  }
}

static void grid(const struct day *t, int hours, double height)
{
  double label_w = 6.2 * t->char_w;
  int step = 1;
  while (step * (DAY_W - t->name_w) < hours * label_w)
    step++;
  for (int i = 0; i <= hours; i++) {
    int at = t->from_at_min + i * 60;
    pw_buf_printf(t->out, "<line class=\"hour\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", x_of(t, at),
                  t->head_h, x_of(t, at), height);
    if (i % step == 0 && i < hours)
      type_sized(t, x_of(t, at), t->head_h / 2, t->type, "h", pw_view_clock(t->view, at));
  }
}

static bool serves(const struct day *t, const struct pw_service *sv)
{
  return sv->at_min < t->to_at_min && sv->at_min + sv->length_min > t->from_at_min;
}

/** The name of a lane's place, once for its lanes: a pit's in bold, its racks below it. */
static void lane_name(const struct day *t, const struct pw_view_lane *lane, double y)
{
  struct pw_view *view = t->view;
  const char *name = lane->kind == PW_LANE_FIRE ? view->ev->pits[lane->pit].name
                     : lane->detail[0]          ? TEXT("%s, %s", lane->name, lane->detail)
                                                : lane->name;
  double room = (t->name_w - 6) / t->char_w;
  double size = fmin(t->type, t->type * room / fmax(1, pw_text_width(name)));
  pw_buf_printf(t->out, "<text x=\"%d\" y=\"%.1f\" font-size=\"%.1f\" class=\"%s\">",
                lane->kind == PW_LANE_ZONE ? 10 : 2, y + t->bar_h / 2 + t->type * 0.35,
                fmax(size * (lane->kind == PW_LANE_ZONE ? 0.94 : 1), 7.5), lane->kind == PW_LANE_ZONE ? "n" : "n pit");
  pw_text_add_html(t->out, name);
  pw_buf_add(t->out, "</text>");
}

void pw_svg_day(struct pw_buf *out, struct pw_view *view, int from_at_min, int hours, double room_mm)
{
  struct day t = {.out = out, .view = view, .from_at_min = from_at_min, .to_at_min = from_at_min + hours * 60};
  int n = 0, n_services = 0;
  for (int i = 0; i < view->n_lanes; i++)
    n += lane_meets(&t, &view->lanes[i]);
  for (int i = 0; i < view->ev->n_services; i++)
    n_services += serves(&t, &view->ev->services[i]);
  scale(&t, n + n_services, room_mm);
  double height = t.head_h + (n + n_services) * t.lane_h + 4, y = t.head_h + 2;
  pw_buf_printf(out, "<svg class=\"timeline\" role=\"img\" viewBox=\"0 0 %d %.1f\"><title>", (int)DAY_W, height);
  pw_text_add_html(out, pw_view_span(view, t.from_at_min, t.to_at_min));
  pw_buf_add(out, "</title>");
  grid(&t, hours, height);
  int pit = PW_NONE, finisher = PW_NONE, zone = PW_NONE;
  for (int i = 0; i < view->n_lanes; i++) {
    const struct pw_view_lane *lane = &view->lanes[i];
    if (!lane_meets(&t, lane))
      continue;
    bool is_new = i == 0 || lane->pit != pit || lane->finisher != finisher || lane->zone != zone ||
                  lane->kind != view->lanes[i - 1].kind;
    pit = lane->pit, finisher = lane->finisher, zone = lane->zone;
    if (is_new)
      lane_name(&t, lane, y);
    lane_bars(&t, lane, y);
    y += t.lane_h;
  }
  for (int i = 0; i < view->ev->n_services; i++) {
    const struct pw_service *sv = &view->ev->services[i];
    if (!serves(&t, sv))
      continue;
    const char *texts[] = {TEXT("%s, %s", pw_view_service(view, i), pw_words_guests(pw_view_guest_count(view, i)).s),
                           "serve"};
    type_sized(&t, 2, y + t.bar_h / 2, t.type, "n pit", "Serve");
    bar(&t, y, sv->at_min, sv->at_min + sv->length_min, "b serve", texts, 2, DAY_W);
    y += t.lane_h;
  }
  pw_buf_add(out, "</svg>\n");
}
