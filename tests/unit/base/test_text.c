/* test_text.c - the gate: what goes in as any bytes comes out harmless and, where possible, unchanged. */
#include "harness.h"

#include "base/buf.h"
#include "base/text.h"

/* ---- UTF-8 ---------------------------------------------------------------------------------- */

static const struct {
  const char *name, *text;
  size_t n, max;
  bool has_lines;
  enum pw_text_fault fault;
  size_t at;
} checks[] = {
    {"plain", "brisket", 7, 100, false, PW_TEXT_OK, 7},
    {"empty", "", 0, 0, false, PW_TEXT_OK, 0},
    {"accents and wide", "caf\xC3\xA9 \xE7\x89\x9B", 9, 100, false, PW_TEXT_OK, 9},
    {"four bytes", "\xF0\x9F\x8D\x96", 4, 1, false, PW_TEXT_OK, 4},
    {"stray continuation", "a\x80", 2, 9, false, PW_TEXT_BAD_UTF8, 1},
    {"cut short", "a\xE7\x89", 3, 9, false, PW_TEXT_BAD_UTF8, 1},
    {"overlong slash", "\xC0\xAF", 2, 9, false, PW_TEXT_BAD_UTF8, 0},
    {"overlong three", "\xE0\x80\xAF", 3, 9, false, PW_TEXT_BAD_UTF8, 0},
    {"surrogate", "\xED\xA0\x80", 3, 9, false, PW_TEXT_BAD_UTF8, 0},
    {"above the last", "\xF4\x90\x80\x80", 4, 9, false, PW_TEXT_BAD_UTF8, 0},
    {"escape", "a\x1B[2J", 5, 9, false, PW_TEXT_CONTROL, 1},
    {"nul inside", "a\0b", 3, 9, false, PW_TEXT_CONTROL, 1},
    {"delete", "a\x7F", 2, 9, false, PW_TEXT_CONTROL, 1},
    {"C1", "a\xC2\x9B", 3, 9, false, PW_TEXT_CONTROL, 1},
    {"newline refused", "a\nb", 3, 9, false, PW_TEXT_CONTROL, 1},
    {"newline and tab allowed", "a\n\tb", 4, 9, true, PW_TEXT_OK, 4},
    {"return is never allowed", "a\rb", 3, 9, true, PW_TEXT_CONTROL, 1},
    {"right-to-left override", "x\xE2\x80\xAEy", 5, 9, false, PW_TEXT_BIDI, 1},
    {"isolate", "\xE2\x81\xA6", 3, 9, false, PW_TEXT_BIDI, 0},
    {"line separator", "\xE2\x80\xA8", 3, 9, false, PW_TEXT_HIDDEN, 0},
    {"noncharacter", "\xEF\xBF\xBF", 3, 9, false, PW_TEXT_HIDDEN, 0},
    {"noncharacter of plane 1", "\xF0\x9F\xBF\xBE", 4, 9, false, PW_TEXT_HIDDEN, 0},
    {"byte order mark", "\xEF\xBB\xBF", 3, 9, false, PW_TEXT_HIDDEN, 0},
    {"too long", "abcd", 4, 3, false, PW_TEXT_LONG, 3},
    {"length is characters", "\xC3\xA9\xC3\xA9\xC3\xA9", 6, 3, false, PW_TEXT_OK, 6},
};

START_TEST(check_row)
{
  size_t at = 99;
  enum pw_text_fault fault = pw_text_check(checks[_i].text, checks[_i].n, checks[_i].max, checks[_i].has_lines, &at);
  ck_assert_msg(fault == checks[_i].fault, "%s: %s", checks[_i].name, pw_text_fault_words(fault));
  ck_assert_msg(at == checks[_i].at, "%s: at %zu", checks[_i].name, at);
}
END_TEST

START_TEST(every_code_point_reads_back)
{
  /* encodes by the bit patterns of RFC 3629, section 3, and reads it again */
  for (uint32_t cp = 0; cp <= 0x10FFFF; cp++) {
    char b[4];
    size_t n = cp < 0x80 ? 1 : cp < 0x800 ? 2 : cp < 0x10000 ? 3 : 4;
    static const unsigned char mark[] = {0, 0, 0xC0, 0xE0, 0xF0};
    uint32_t rest = cp;
    for (size_t i = n; i-- > 1; rest >>= 6)
      b[i] = (char)(0x80 | (rest & 0x3F));
    b[0] = (char)(mark[n] | rest);
    uint32_t got;
    size_t taken = pw_utf8_next(b, n, &got);
    bool is_surrogate = cp >= 0xD800 && cp <= 0xDFFF;
    if (is_surrogate ? got != PW_UTF8_BAD || taken != 1 : got != cp || taken != n) /* each assertion costs a write */
      ck_abort_msg("U+%04X", cp);
  }
}
END_TEST

/* ---- escapers ---------------------------------------------------------------------------------- */

enum target { LINE, HTML, ATTRIBUTE, CSV, HEADER, CELL, ICS, JSON };

static const struct {
  const char *name;
  enum target target;
  const char *in, *out;
} escapes[] = {
    {"line keeps text", LINE, "Brisket & caf\xC3\xA9 <b>", "Brisket & caf\xC3\xA9 <b>"},
    {"line: terminal command", LINE, "a\x1B[31mb", "a\\x1b[31mb"},
    {"line: C1 command", LINE,
     "\xC2\x9B"
     "2J",
     "\\x9b2J"},
    {"line: bad byte", LINE, "a\xFFz", "a\\xffz"},
    {"line: override", LINE, "a\xE2\x80\xAEz", "a\\u202ez"},
    {"line: tag", LINE, "\xF3\xA0\x81\x81", "\\U0e0041"},
    {"line: newline and tab are blanks", LINE, "a\nb\tc", "a b c"},
    {"line: return shows", LINE, "a\rb", "a\\x0db"},
    {"html", HTML, "<a href=\"x\">R&B</a>", "&lt;a href=\"x\"&gt;R&amp;B&lt;/a&gt;"},
    {"html: control", HTML, "a\x01", "a\\x01"},
    {"attribute", ATTRIBUTE, "\"it's\"\n<&>", "&quot;it&#39;s&quot;&#10;&lt;&amp;&gt;"},
    {"csv plain", CSV, "Brisket", "Brisket"},
    {"csv comma", CSV, "a,b", "\"a,b\""},
    {"csv quote", CSV, "12\" pan", "\"12\"\" pan\""},
    {"csv newline", CSV, "a\nb", "\"a\nb\""},
    {"csv outer blanks", CSV, " a", "\" a\""},
    {"csv formula", CSV, "=1+1", "'=1+1"},
    {"csv plus", CSV, "+1 hand", "'+1 hand"},
    {"csv minus", CSV, "-2", "'-2"},
    {"csv at", CSV, "@SUM(A1)", "'@SUM(A1)"},
    {"csv formula after a blank", CSV, " =1", "\"' =1\""},
    {"csv formula after a tab", CSV, "\t=1", "' =1"},
    {"csv formula on a later line", CSV, "a\n=1", "\"'a\n=1\""},
    {"csv formula and comma", CSV, "=A(1,2)", "\"'=A(1,2)\""},
    {"csv formula cannot close the quote", CSV, "=\"\",=1", "\"'=\"\"\"\",=1\""},
    {"header", HEADER, "B&Q & D", "B&&Q && D"},
    {"header: newline", HEADER, "a\nb", "a b"},
    {"header is capped whole", HEADER, "1234567890123456789&&&", "1234567890123456789"},
    {"cell", CELL, "=1+1 & <x>", "=1+1 & <x>"},
    {"cell: escape of its own", CELL, "_x0041_ _x00zz_ _x0041", "_x005F_x0041_ _x00zz_ _x0041"},
    {"cell: control", CELL, "a\x0B", "a\\x0b"},
    {"ics", ICS, "a\\b; c, d\ne", "a\\\\b\\; c\\, d\\ne"},
    {"ics: control", ICS, "\x07", "\\\\x07"},
    {"json", JSON, "a \"b\" c\\d\n\t", "a \\\"b\\\" c\\\\d\\n\\u0009"},
    {"json: control and override", JSON, "\x1B\xE2\x80\xAE", "\\u001b\\u202e"},
    {"json: above the basic plane", JSON, "\xF3\xA0\x81\x81 \xF0\x9F\x8D\x96", "\\udb40\\udc41 \xF0\x9F\x8D\x96"},
    {"json: bad byte", JSON, "a\xFFz", "a\\ufffdz"},
};

START_TEST(escape_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf b = pw_buf_in(ctx->arena);
  const char *in = escapes[_i].in;
  switch (escapes[_i].target) {
  case LINE:
    pw_text_add_line(&b, in);
    break;
  case HTML:
    pw_text_add_html(&b, in);
    break;
  case ATTRIBUTE:
    pw_text_add_attribute(&b, in);
    break;
  case CSV:
    pw_text_add_csv(&b, in);
    break;
  case HEADER:
    pw_text_add_xlsx_header(&b, in, 20);
    break;
  case CELL:
    pw_text_add_xlsx_cell(&b, in);
    break;
  case ICS:
    pw_text_add_ics(&b, in);
    break;
  case JSON:
    pw_text_add_json(&b, in);
    break;
  }
  const char *got = pw_buf_text(&b);
  ck_assert_msg(got && strcmp(got, escapes[_i].out) == 0, "%s: got \"%s\", want \"%s\"", escapes[_i].name,
                got ? got : "(null)", escapes[_i].out);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(any_bytes_leave_safe)
{
  /* xorshift bytes, seed 1: whatever goes in, every target's output is well-formed and free of controls */
  struct pw_ctx *ctx = pw_test_ctx();
  uint32_t x = 1;
  for (int round = 0; round < 300; round++) {
    char in[65];
    for (int i = 0; i < 64; i++) {
      x ^= x << 13, x ^= x >> 17, x ^= x << 5;
      in[i] = (char)(x % 3 == 0 ? 0x80 + (x >> 8) % 128 : 1 + (x >> 8) % 127);
    }
    in[64] = '\0';
    struct pw_buf html = pw_buf_in(ctx->arena), csv = pw_buf_in(ctx->arena);
    pw_text_add_html(&html, in);
    pw_text_add_csv(&csv, in);
    const char *outs[] = {pw_text_line(ctx->arena, in), pw_buf_text(&html), pw_buf_text(&csv),
                          pw_text_xlsx_header(ctx->arena, in, 255), pw_text_xlsx_cell(ctx->arena, in)};
    for (size_t k = 0; k < sizeof outs / sizeof *outs; k++)
      ck_assert_int_eq(pw_text_check(outs[k], strlen(outs[k]), 100000, true, NULL), PW_TEXT_OK);
    ck_assert_ptr_null(strchr(outs[0], '\n'));
    ck_assert_ptr_null(strchr(outs[1], '<'));
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_cell_is_capped)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf b = pw_buf_in(ctx->arena);
  for (int i = 0; i < 20000; i++)
    pw_buf_add(&b, "\xF0\x9F\x8D\x96"); /* two UTF-16 units each */
  const char *cell = pw_text_xlsx_cell(ctx->arena, pw_buf_text(&b));
  ck_assert_uint_eq(pw_utf8_length(cell), 32767 / 2);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- layout ------------------------------------------------------------------------------------- */

/* widths as the C library's wcwidth gives them in a UTF-8 locale, glibc 2.36 */
static const struct {
  const char *name, *text;
  int width;
} widths[] = {
    {"ascii", "brisket", 7},
    {"accent", "caf\xC3\xA9", 4},
    {"combining accent", "cafe\xCC\x81", 4},
    {"the first and the last of the combining marks", "e\xCC\x80o\xCD\xAF", 2}, /* U+0300, U+036F */
    {"just before and after them", "\xCB\xBF\xCD\xB0", 2},
    {"the first and the last of the wide jamo", "\xE1\x84\x80\xE1\x85\x9F", 4}, /* U+1100, U+115F */
    {"Han", "\xE7\x89\x9B\xE8\x82\x89", 4},
    {"fullwidth A", "\xEF\xBC\xA1", 2},
    {"Hangul", "\xED\x95\x9C", 2},
    {"pictograph", "\xF0\x9F\x8D\x96", 2},
    {"degree",
     "250 \xC2\xB0"
     "F",
     6},
    {"tick box", "\xE2\x98\x90", 1},
    {"escape is as wide as it looks", "a\x1B", 5},
};

START_TEST(width_row)
{
  ck_assert_msg(pw_text_width(widths[_i].text) == widths[_i].width, "%s: %d", widths[_i].name,
                pw_text_width(widths[_i].text));
}
END_TEST

static const struct {
  const char *name, *text;
  int columns;
  enum pw_align align;
  const char *out;
} pads[] = {
    {"left", "ab", 4, PW_LEFT, "ab  "},
    {"right", "ab", 4, PW_RIGHT, "  ab"},
    {"centre", "ab", 5, PW_CENTRE, " ab  "},
    {"exact", "abcd", 4, PW_LEFT, "abcd"},
    {"cut", "abcde", 4, PW_LEFT, "abc\xE2\x80\xA6"},
    {"cut to one", "abcde", 1, PW_LEFT, "\xE2\x80\xA6"},
    {"wide cut leaves a blank", "\xE7\x89\x9B\xE7\x89\x9B\xE7\x89\x9B", 4, PW_LEFT, "\xE7\x89\x9B\xE2\x80\xA6 "},
    {"wide right", "\xE7\x89\x9B", 4, PW_RIGHT, "  \xE7\x89\x9B"},
    {"nothing", "abc", 0, PW_LEFT, ""},
    {"accents count once", "cafe\xCC\x81", 4, PW_LEFT, "cafe\xCC\x81"},
};

START_TEST(pad_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf b = pw_buf_in(ctx->arena);
  pw_text_add_padded(&b, pads[_i].text, pads[_i].columns, pads[_i].align);
  ck_assert_msg(strcmp(pw_buf_text(&b), pads[_i].out) == 0, "%s: \"%s\"", pads[_i].name, pw_buf_text(&b));
  pw_test_ctx_free(ctx);
}
END_TEST

/* lines joined with '|' */
static const struct {
  const char *name, *text;
  int columns;
  const char *out;
} wraps[] = {
    {"short", "a b", 10, "a b"},
    {"empty", "", 10, ""},
    {"exact", "abc de", 6, "abc de"},
    {"one over", "abc def", 6, "abc|def"},
    {"three lines", "turn the four briskets end for end", 14, "turn the four|briskets end|for end"},
    {"long word is cut", "abcdefghij k", 4, "abcd|efgh|ij k"},
    {"long word after a short", "a bcdefgh", 4, "a|bcde|fgh"},
    {"newline kept", "a\nb", 10, "a|b"},
    {"empty line kept", "a\n\nb", 10, "a||b"},
    {"final newline", "a\n", 10, "a"},
    {"a number keeps its unit",
     "chilled to 41 \xC2\xB0"
     "F, 2 h",
     13,
     "chilled to|41 \xC2\xB0"
     "F, 2 h"},
    {"a share keeps its sign", "of all 12 %.", 9, "of all|12 %."},
    {"a number keeps no word", "of all 12 men", 9, "of all 12|men"},
    {"a unit that finds no room", "a 12345 mph", 5, "a|12345|mph"},
    {"blanks fold", "a   b", 10, "a b"},
    {"wide", "\xE7\x89\x9B\xE8\x82\x89\xE7\x89\x9B", 4, "\xE7\x89\x9B\xE8\x82\x89|\xE7\x89\x9B"},
    {"wide in one column", "\xE7\x89\x9B\xE8\x82\x89", 1, "\xE7\x89\x9B|\xE8\x82\x89"},
    {"columns below one", "abc", 0, "a|b|c"},
    {"escapes wrap too", "\x1B\x1B", 4, "\\x1b|\\x1b"},
};

START_TEST(wrap_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char **lines = NULL;
  int n = pw_text_wrap(ctx->arena, wraps[_i].text, wraps[_i].columns, &lines);
  struct pw_buf b = pw_buf_in(ctx->arena);
  for (int i = 0; i < n; i++) {
    pw_buf_add(&b, i ? "|" : "");
    pw_buf_add(&b, lines[i]);
  }
  ck_assert_msg(n >= 1 && strcmp(pw_buf_text(&b), wraps[_i].out) == 0, "%s: \"%s\"", wraps[_i].name, pw_buf_text(&b));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_failures_are_reported)
{
  const char *text =
      "a long enough text to make the buffers of all these functions grow at least once, and then once more";
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    pw_arena_fail_at(ctx->arena, k);
    char **lines;
    int n = pw_text_wrap(ctx->arena, text, 20, &lines);
    const char *line = pw_text_line(ctx->arena, text);
    bool has_failed = n < 0 || !line;
    bool is_past = pw_arena_count(ctx->arena) < k;
    pw_test_ctx_free(ctx);
    ck_assert_msg(has_failed != is_past, "allocation %ld", k);
    if (is_past)
      break;
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("text");
  TCase *t = tcase_create("text");
#define ROWS(fn, table) tcase_add_loop_test(t, fn, 0, (int)(sizeof(table) / sizeof *(table)))
  ROWS(check_row, checks);
  ROWS(escape_row, escapes);
  ROWS(width_row, widths);
  ROWS(pad_row, pads);
  ROWS(wrap_row, wraps);
  tcase_add_test(t, every_code_point_reads_back);
  tcase_add_test(t, any_bytes_leave_safe);
  tcase_add_test(t, a_cell_is_capped);
  tcase_add_test(t, memory_failures_are_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
