/* xlsx_style.c - the looks of the workbook's cells, and how much room a text takes in one.
 * Colours are an extra only; every meaning is also a word, a border or a weight, so that a black and white print says
 * the same. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/text.h"

#include <string.h>

#define FONT XLSX_FONT

enum {
  INK = 0x1A1A1A,
  SHADE = 0xEDEBE6,
  INPUT_BG = 0xFFF6D6,
  WARM = 0xF3D9C6,
  COOL = 0xD5E3EC,
  DARK = 0x3A3530,
  LINE = 0x7A756E,
  FAINT = 0xB8B3AB
};

enum edge { NO_EDGE, HAIR, THIN, THICK, DASH, DOT, UNDER, STRONG_UNDER };

/** One row per style. */
static const struct look {
  double points;
  bool is_bold, is_italic, wraps, is_white;
  int across, down; /* alignments of the library */
  enum edge edge;
  unsigned fill; /* 0: none */
  int rotation;
  const char *number; /* NULL: general; "M" money */
  bool is_unlocked, is_indented;
} looks[ST__COUNT] = {
#define TOP    LXW_ALIGN_VERTICAL_TOP
#define MID    LXW_ALIGN_VERTICAL_CENTER
#define LEFT   LXW_ALIGN_LEFT
#define RIGHT  LXW_ALIGN_RIGHT
#define CENTRE LXW_ALIGN_CENTER
    [PW_G_PLAIN] = {11, 0, 0, 1, 0, LEFT, TOP, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_TITLE] = {20, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_SUBTITLE] = {11, 0, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_SECTION] = {13, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_NOTE] = {10, 0, 1, 1, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 1},
    [PW_G_HEAD] = {11, 1, 0, 1, 0, LEFT, MID, STRONG_UNDER, SHADE, 0, NULL, 0, 1},
    [PW_G_HEAD_RIGHT] = {11, 1, 0, 1, 0, RIGHT, MID, STRONG_UNDER, SHADE, 0, NULL, 0, 1},
    [PW_G_CELL] = {11, 0, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [PW_G_LONG] = {11, 0, 0, 0, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [PW_G_BOLD] = {11, 1, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [PW_G_CENTRE] = {11, 0, 0, 1, 0, CENTRE, MID, UNDER, 0, 0, NULL, 0, 0},
    [PW_G_NUMBER] = {11, 0, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "#,##0.0#", 0, 1},
    [PW_G_NUMBER2] = {11, 0, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "#,##0.00", 0, 1},
    [PW_G_COUNT_BOLD] = {11, 1, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "#,##0", 0, 1},
    [PW_G_COUNT] = {11, 0, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "#,##0", 0, 1},
    [PW_G_PERCENT] = {11, 0, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "0.0 %", 0, 1},
    [PW_G_MONEY] = {11, 0, 0, 0, 0, RIGHT, MID, UNDER, 0, 0, "M", 0, 1},
    [PW_G_SUM] = {11, 1, 0, 0, 0, RIGHT, MID, STRONG_UNDER, SHADE, 0, "M", 0, 1},
    [PW_G_IN_TEXT] = {11, 0, 0, 1, 0, LEFT, MID, THIN, INPUT_BG, 0, NULL, 1, 1},
    [PW_G_IN_MONEY] = {11, 0, 0, 0, 0, RIGHT, MID, THIN, INPUT_BG, 0, "M", 1, 1},
    [PW_G_IN_NUMBER] = {11, 0, 0, 0, 0, RIGHT, MID, THIN, INPUT_BG, 0, "#,##0.00##", 1, 1},
    [PW_G_IN_COUNT] = {11, 0, 0, 0, 0, RIGHT, MID, THIN, INPUT_BG, 0, "#,##0", 1, 1},
    [PW_G_IN_PERCENT] = {11, 0, 0, 0, 0, RIGHT, MID, THIN, INPUT_BG, 0, "0.00 %", 1, 1},
    [ST_CELL] = {12, 0, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_BOLD] = {12, 1, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_TIME] = {14, 1, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_RIGHT] = {12, 0, 0, 1, 0, RIGHT, MID, UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_TARGET] = {12, 1, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_HEAD] = {12, 0, 0, 1, 0, LEFT, MID, STRONG_UNDER, 0, 0, NULL, 0, 1},
    [ST_CELL_HEAD_RIGHT] = {12, 0, 0, 1, 0, RIGHT, MID, STRONG_UNDER, 0, 0, NULL, 0, 1},
    [ST_BAND] = {13, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 1},
    [ST_SUB_BAND] = {12, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 1},
    [ST_BOX] = {12, 0, 0, 1, 0, LEFT, MID, THIN, 0, 0, NULL, 1, 0},
    [PW_G_TICK] = {13, 0, 0, 0, 0, CENTRE, MID, HAIR, 0, 0, NULL, 1, 0},
    [PW_G_CAUTION] = {12, 1, 0, 1, 0, LEFT, MID, THICK, 0, 0, NULL, 0, 1},
    [PW_G_SMALL] = {9, 0, 0, 1, 0, LEFT, MID, UNDER, 0, 0, NULL, 0, 1},
    [PW_G_SMALL_PERCENT] = {9, 0, 0, 0, 0, CENTRE, MID, UNDER, 0, 0, "0 %", 0, 0},
    [PW_G_CORE] = {11, 0, 0, 0, 0, CENTRE, MID, UNDER, 0, 0, "0", 0, 0},
    [PW_G_CORE_WRAPPED] = {11, 1, 1, 0, 0, CENTRE, MID, UNDER, 0, 0, "0", 0, 0},
    [PW_G_T_HEAD] = {9, 1, 0, 0, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0, 1},
    [PW_G_T_NAME] = {9, 0, 0, 1, 0, LEFT, MID, THIN, 0, 0, NULL, 0, 1},
    [PW_G_T_NAME_BOLD] = {10, 1, 0, 1, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0, 1},
    [PW_G_T_EMPTY] = {8, 0, 0, 0, 0, CENTRE, MID, DOT, 0, 0, NULL, 0, 0},
    [PW_G_T_HOUR] = {9, 1, 0, 0, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0, 0},
    [PW_G_T_FIRE] = {9, 1, 0, 1, 1, CENTRE, MID, THIN, DARK, 0, NULL, 0, 0},
    [PW_G_T_FIRE_UP] = {9, 1, 0, 1, 0, CENTRE, MID, THIN, SHADE, 0, NULL, 0, 0},
    [PW_G_T_SMOKE] = {9, 1, 0, 1, 0, CENTRE, MID, THICK, WARM, 0, NULL, 0, 0},
    [PW_G_T_FINISH] = {9, 0, 1, 1, 0, CENTRE, MID, THICK, COOL, 0, NULL, 0, 0},
    [PW_G_T_REST] = {9, 0, 0, 1, 0, CENTRE, MID, DASH, 0, 0, NULL, 0, 0},
    [PW_G_T_HOLD] = {9, 0, 0, 1, 0, CENTRE, MID, THIN, 0, 0, NULL, 0, 0},
    [PW_G_T_SERVE] = {9, 1, 0, 1, 0, CENTRE, MID, THICK, 0, 0, NULL, 0, 0},
    [PW_G_MAP_OUTSIDE] = {8, 0, 0, 0, 0, CENTRE, MID, NO_EDGE, 0xC9C4BC, 0, NULL, 0, 0},
    [PW_G_MAP_NEW] = {10, 1, 0, 1, 0, CENTRE, MID, THICK, WARM, 0, NULL, 0, 0},
    [PW_G_MAP_OLD] = {10, 0, 0, 1, 0, CENTRE, MID, THIN, 0, 0, NULL, 0, 0},
    [PW_G_MAP_NEW_SMALL] = {7, 1, 0, 0, 0, CENTRE, MID, THICK, WARM, 0, NULL, 0, 0},
    [PW_G_MAP_OLD_SMALL] = {7, 0, 0, 0, 0, CENTRE, MID, THIN, 0, 0, NULL, 0, 0},
    [PW_G_MAP_WHEN] = {12.5, 1, 0, 1, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_MAP_ON] = {12, 1, 0, 1, 0, LEFT, TOP, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_MAP_STAYS] = {12, 0, 0, 1, 0, LEFT, TOP, NO_EDGE, 0, 0, NULL, 0, 0},
    [PW_G_MAP_ZONE] = {10, 1, 0, 1, 0, CENTRE, MID, THIN, SHADE, 0, NULL, 0, 0},
};

/** `"$"#,##0.00` for the event's currency. */
static const char *money_format(struct book *b)
{
  char sign[64] = "";
  size_t k = 0;
  const char *safe = pw_text_line(b->view->arena, b->ev->money_sign ? b->ev->money_sign : "");
  if (!safe)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  for (const char *p = safe; p && *p;) { /* whole characters only */
    uint32_t cp = 0;
    size_t step = pw_utf8_next(p, strlen(p), &cp);
    if (k + step >= sizeof sign)
      break;
    if (*p != '"' && *p != '\\') {
      memcpy(sign + k, p, step);
      k += step;
    }
    p += step;
  }
  sign[k] = '\0';
  const char *digits = b->ev->money_digits <= 0   ? ""
                       : b->ev->money_digits == 1 ? ".0"
                       : b->ev->money_digits == 2 ? ".00"
                                                  : ".000";
  return pw_view_printf(b->view, "\"%s\"#,##0%s;-\"%s\"#,##0%s", sign, digits, sign, digits);
}

static void format_edges(lxw_format *f, enum edge edge)
{
  static const uint8_t borders[] = {LXW_BORDER_NONE,   LXW_BORDER_HAIR,   LXW_BORDER_THIN,
                                    LXW_BORDER_MEDIUM, LXW_BORDER_DASHED, LXW_BORDER_HAIR};
  if (edge == NO_EDGE)
    return;
  if (edge == UNDER || edge == STRONG_UNDER) {
    format_set_bottom(f, edge == UNDER ? LXW_BORDER_HAIR : LXW_BORDER_MEDIUM);
    format_set_bottom_color(f, edge == UNDER ? LINE : INK);
    return;
  }
  format_set_border(f, borders[edge]);
  format_set_border_color(f, edge == HAIR ? LINE : edge == DOT ? FAINT : INK);
}

static void format_fill(lxw_format *f, unsigned colour)
{
  if (!colour)
    return;
  format_set_pattern(f, LXW_PATTERN_SOLID);
  format_set_fg_color(f, colour);
}

/** A format of the workbook; number NULL: general. */
static lxw_format *format_make(struct book *b, const struct look *k, const char *number)
{
  lxw_format *f = workbook_add_format(b->wb);
  if (!f) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return NULL;
  }
  format_set_font_name(f, FONT);
  format_set_font_size(f, k->points);
  format_set_font_color(f, k->is_white ? LXW_COLOR_WHITE : INK);
  if (k->is_bold)
    format_set_bold(f);
  if (k->is_italic)
    format_set_italic(f);
  if (k->wraps)
    format_set_text_wrap(f);
  format_set_align(f, (uint8_t)k->across);
  format_set_align(f, (uint8_t)k->down);
  format_edges(f, k->edge);
  format_fill(f, k->fill);
  if (k->rotation)
    format_set_rotation(f, (int16_t)k->rotation);
  if (k->is_indented)
    format_set_indent(f, 1);
  if (k->is_unlocked)
    format_set_unlocked(f);
  if (number)
    format_set_num_format(f, number);
  return f;
}

/** All formats of the workbook. */
void pw_styles_make(struct book *b)
{
  /* The workbook's first format sets what a column's width is measured in.  The library's choice is missing on many
   * machines, where columns then come out a third wider; this one has metric twins everywhere and the same 7 pixels. */
  lxw_format *standard = STAILQ_FIRST(b->wb->formats);
  if (standard) {
    format_set_font_name(standard, FONT);
    format_set_font_size(standard, 10);
  }
  for (int i = PW_G_SKIP + 1; i < ST__COUNT; i++)
    b->style[i] =
        format_make(b, &looks[i], looks[i].number && looks[i].number[0] == 'M' ? money_format(b) : looks[i].number);
  for (int i = PW_G_MAP_NEW_SMALL; i <= PW_G_MAP_OLD_SMALL; i++) /* a piece may be narrower than its name */
    if (b->style[i])
      format_set_shrink(b->style[i]);
}

lxw_format *pw_style_amount(struct book *b, int style, int decimals, const char *unit)
{
  for (int i = 0; i < b->n_amounts; i++)
    if (b->amounts[i].style == style && b->amounts[i].decimals == decimals && strcmp(b->amounts[i].unit, unit) == 0)
      return b->amounts[i].format;
  const char *safe = pw_text_line(b->view->arena, unit);
  if (!safe ||
      pw_arena_grow(b->view->arena, &b->amounts, &b->cap_amounts, (size_t)b->n_amounts, sizeof *b->amounts) < 0) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return b->style[style];
  }
  const char *number = pw_view_printf(b->view, "#,##0%s%.*s%s%s%s", decimals > 0 ? "." : "", decimals,
                                      "000000000000000", safe[0] ? "\" " : "", safe, safe[0] ? "\"" : "");
  struct book_amount *made = &b->amounts[b->n_amounts++];
  *made = (struct book_amount){style, decimals, unit, format_make(b, &looks[style], number)};
  return made->format;
}

lxw_format *pw_style_edges(struct book *b, int edges)
{
  lxw_format *f = b->edges[edges];
  if (f)
    return f;
  if (!(f = b->edges[edges] = workbook_add_format(b->wb))) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return NULL;
  }
  format_set_font_size(f, 6);
  if (edges & PW_GRID_UP)
    format_set_top(f, LXW_BORDER_MEDIUM);
  if (edges & PW_GRID_DOWN)
    format_set_bottom(f, LXW_BORDER_MEDIUM);
  if (edges & (PW_GRID_BEFORE | PW_GRID_DASHED_BEFORE))
    format_set_left(f, edges & PW_GRID_BEFORE ? LXW_BORDER_MEDIUM : LXW_BORDER_DASHED);
  if (edges & PW_GRID_AFTER)
    format_set_right(f, LXW_BORDER_MEDIUM);
  return f;
}

lxw_format *pw_style_struck(struct book *b)
{
  if (!b->struck && (b->struck = workbook_add_format(b->wb)) != NULL) {
    format_set_bold(b->struck);
    format_set_underline(b->struck, LXW_UNDERLINE_SINGLE);
    format_set_border(b->struck, LXW_BORDER_THIN);
    format_set_bg_color(b->struck, 0xF3B9A8);
  }
  return b->struck;
}

/** Widths of the printable ASCII characters in thousandths of an em, plain and bold: the hmtx tables of Liberation Sans 2,
 *  whose metrics are those of the workbook's face. */
static const uint16_t ascii_plain[95] = {
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};
static const uint16_t ascii_bold[95] = {278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
                                        556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
                                        975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
                                        667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
                                        333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
                                        611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584};

/** Width of a character in em; beyond ASCII a wide guess. */
static double char_em(uint32_t cp, bool is_bold)
{
  if (cp >= ' ' && cp < 0x7F)
    return (is_bold ? ascii_bold : ascii_plain)[cp - ' '] / 1000.0;
  if (cp == 0xA0 || cp == 0xB0) /* space that does not break, degree */
    return cp == 0xA0 ? 0.278 : 0.40;
  return cp >= 0x1100 ? 1.05 : 0.72;
}

#define PRINT_SLACK 1.04 /* other programs round the widths of characters to whole pixels */

/** Width of n bytes of text in characters of the default column (7 pixels, 5.25 points). */
static double text_chars(const char *text, size_t n, const struct look *k)
{
  double em = 0;
  for (size_t at = 0; at < n;) {
    uint32_t cp = 0;
    at += pw_utf8_next(text + at, n - at, &cp);
    em += char_em(cp, k->is_bold);
  }
  return em * PRINT_SLACK * k->points / 5.25;
}

/** Lines a text takes in `width` characters of the default column; words stay whole. */
int pw_lines_needed(const char *text, double width, int style)
{
  const struct look *k = &looks[style];
  double room = width - (k->is_indented ? 1.8 : 0.6), used = 0, blank = text_chars(" ", 1, k);
  int lines = 1;
  room = room < 1 ? 1 : room;
  for (const char *p = text; *p;) {
    size_t n = strcspn(p, " \n");
    double w = text_chars(p, n, k);
    if (used > 0 && used + blank + w > room) {
      lines++;
      used = 0;
    }
    used += (used > 0 ? blank : 0) + w;
    while (used > room) {
      lines++;
      used -= room;
    }
    p += n;
    if (*p == '\n') {
      lines++;
      used = 0;
    }
    if (*p)
      p++;
  }
  return lines;
}

double pw_style_points(int style) { return looks[style].points; }
bool pw_style_wraps(int style) { return looks[style].wraps && looks[style].rotation == 0; }
