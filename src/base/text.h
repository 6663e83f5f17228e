/* text.h - the one gate where text leaves the program.  Whatever a user or a catalog wrote passes one of
 * these on its way to a terminal, a sheet, a table or a workbook, so that no name can break a format, move a
 * cursor, reverse a line or become a formula.
 *
 * What cannot be shown safely becomes a visible escape: a byte that is not UTF-8 "\xff", a control character
 * "\x1b", a bidirectional control or a noncharacter "\u202e".  All functions take any bytes and never fail but
 * for memory (sticky in the buffer). */
#ifndef PW_TEXT_H
#define PW_TEXT_H

#include "base/buf.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* ---- reading -------------------------------------------------------------------------------- */

enum { PW_UTF8_BAD = 0x110000 }; /**< stands for one byte that is not part of well-formed UTF-8 */

/** Longest text of an event or a catalog, in characters (code points); what is made of several of them may be longer. */
enum { PW_TEXT_MAX = 600, PW_TEXT_MADE_MAX = 20 * PW_TEXT_MAX };

/** Reads one code point of text[0..n).  Returns the bytes taken (>= 1 for n >= 1, 0 for n = 0); *cp is the code
 *  point or PW_UTF8_BAD (one byte taken).  Well-formed as in Unicode 15, table 3-7: no overlong forms, no
 *  surrogates, nothing above U+10FFFF. */
size_t pw_utf8_next(const char *text, size_t n, uint32_t *cp);
/** Code points in a string; each bad byte counts as one. */
size_t pw_utf8_length(const char *text);
/** Nothing in it can be seen: blanks of any kind, zero-width characters, marks without a letter, fillers. */
bool pw_text_is_unseen(const char *text);

enum pw_text_fault {
  PW_TEXT_OK,
  PW_TEXT_BAD_UTF8,
  PW_TEXT_CONTROL, /**< C0, DEL or C1 */
  PW_TEXT_BIDI,    /**< changes the writing direction */
  PW_TEXT_HIDDEN,  /**< noncharacter, line or paragraph separator, byte order mark, tag, annotation */
  PW_TEXT_LONG
};

/** First fault of text[0..n), n being the true length (a NUL inside is a control character).
 *  `has_lines` allows newline and tab.  *at (may be NULL) gets the byte offset of the fault, n if none.
 *  More than max_chars code points is PW_TEXT_LONG, reported only when nothing else is wrong before. */
enum pw_text_fault pw_text_check(const char *text, size_t n, size_t max_chars, bool has_lines, size_t *at);
/** "a control character" and so on, for a diagnostic. */
const char *pw_text_fault_words(enum pw_text_fault fault);

/* ---- laying out ------------------------------------------------------------------------------- */

/** Columns a string takes on a terminal or in a fixed-width sheet: 0 for combining marks, 2 for wide East Asian
 *  characters and pictographs, 1 for the rest; for unsafe text the width of its visible escape. */
int pw_text_width(const char *text);

enum pw_align { PW_LEFT, PW_RIGHT, PW_CENTRE };

/** Appends `text` as one safe line in exactly `columns` columns: filled with blanks, or cut and closed with an
 *  ellipsis.  columns <= 0 adds nothing. */
void pw_text_add_padded(struct pw_buf *buf, const char *text, int columns, enum pw_align align);

/** Breaks `text` into safe lines of at most `columns` columns (< 1 counts as 1): at blanks, but not between a number
 *  and its unit, inside a word only when it is wider than a line; newlines in the text are kept.  *lines gets the array (in the arena).
 *  Returns the number of lines (>= 1), or -1 when memory is out. */
int pw_text_wrap(struct pw_arena *arena, const char *text, int columns, char ***lines);

/* ---- escaping, one per target -------------------------------------------------------------------- */

/** One safe line for a terminal or a plain sheet; newlines and tabs become blanks. */
void pw_text_add_line(struct pw_buf *buf, const char *text);
/** HTML or XML character data: & < > escaped, newlines and tabs stay. */
void pw_text_add_html(struct pw_buf *buf, const char *text);
/** HTML or XML attribute value, for either kind of quote; newlines and tabs become character references. */
void pw_text_add_attribute(struct pw_buf *buf, const char *text);
/** One text field of a CSV record (RFC 4180): quoted where needed.  A cell that a spreadsheet would take for a
 *  formula (= + - @ first, also after blanks or a newline) gets an apostrophe in front.  For text columns only;
 *  numbers are written with pw_buf_printf. */
void pw_text_add_csv(struct pw_buf *buf, const char *text);
/** Header or footer of a workbook page: '&' doubled; at most `max_chars` code points of output. */
void pw_text_add_xlsx_header(struct pw_buf *buf, const char *text, size_t max_chars);
/** Workbook cell: newlines stay, "_x0041_" keeps its look, at most 32,767 UTF-16 units (ECMA-376 limit of a
 *  cell). */
void pw_text_add_xlsx_cell(struct pw_buf *buf, const char *text);
/** TEXT value of a calendar (RFC 5545, 3.3.11): backslash, semicolon, comma and newline escaped.  Folding is the
 *  writer's. */
void pw_text_add_ics(struct pw_buf *buf, const char *text);

/** Content of a JSON string (RFC 8259) without the quotes, nothing lost: what is unsafe to look at is written as a
 *  JSON escape and reads back as it was.  A byte that is not UTF-8 becomes U+FFFD. */
void pw_text_add_json(struct pw_buf *buf, const char *text);

/** The same into a string of its own; NULL when memory is out. */
char *pw_text_line(struct pw_arena *arena, const char *text);
char *pw_text_xlsx_header(struct pw_arena *arena, const char *text, size_t max_chars);
char *pw_text_xlsx_cell(struct pw_arena *arena, const char *text);

#endif
