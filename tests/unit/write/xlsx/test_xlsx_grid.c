/* test_xlsx_grid.c - an owner's sheet laid out in the workbook: a sheet that no maker of the program made, with a cell of every role,
 * comes out cell by cell, so a new sheet or a new field needs no word here or in the layouter. */
#include "fixture_plan.h"
#include "harness.h"
#include "sheet/grid_pen.h"
#include "write/xlsx/xlsx_book.h"

#include <unistd.h>
#include <zlib.h>

static char path[64];

/** A part of the archive as text (PKWARE APPNOTE 6.3.10, 4.3.7, 4.3.12). */
static const char *part_text(const char *name, struct pw_ctx *ctx)
{
  FILE *file = fopen(path, "rb");
  ck_assert(file && fseek(file, 0, SEEK_END) == 0);
  size_t n = (size_t)ftell(file), at = 0;
  unsigned char *bytes = pw_arena_alloc(ctx->arena, n);
  rewind(file);
  ck_assert(bytes && fread(bytes, 1, n, file) == n && fclose(file) == 0);
#define U(at_, n_)                                                                                                     \
  (bytes[at_] | bytes[(at_) + 1] << 8 | ((n_) == 4 ? bytes[(at_) + 2] << 16 | bytes[(at_) + 3] << 24 : 0))
  for (at = (size_t)U(n - 22 + 16, 4); U(at, 4) == 0x02014b50;
       at += 46 + (size_t)(U(at + 28, 2) + U(at + 30, 2) + U(at + 32, 2)))
    if ((size_t)U(at + 28, 2) == strlen(name) && memcmp(bytes + at + 46, name, strlen(name)) == 0)
      break;
  ck_assert_msg(U(at, 4) == 0x02014b50, "no %s", name);
  size_t local = (size_t)U(at + 42, 4), size = (size_t)U(at + 24, 4);
  char *text = pw_arena_alloc(ctx->arena, size + 1);
  z_stream z = {.next_in = bytes + local + 30 + U(local + 26, 2) + U(local + 28, 2),
                .avail_in = (uInt)U(at + 20, 4),
                .next_out = (unsigned char *)text,
                .avail_out = (uInt)size};
  ck_assert(text && inflateInit2(&z, -MAX_WBITS) == Z_OK && inflate(&z, Z_FINISH) == Z_STREAM_END);
  inflateEnd(&z);
  return text;
}

/** What stands between `begin` and `end` after it, or NULL. */
static const char *between(const char *text, const char *begin, const char *end, struct pw_ctx *ctx)
{
  const char *from = strstr(text, begin);
  from = from ? from + strlen(begin) : NULL;
  const char *to = from ? strstr(from, end) : NULL;
  return to ? pw_arena_strndup(ctx->arena, from, (size_t)(to - from)) : NULL;
}

static void has(const char *text, const char *want)
{
  ck_assert_msg(strstr(text, want) != NULL, "no %s in %.300s", want, text);
}

START_TEST(every_role_comes_out_at_its_place)
{
  static const char *const words[] = {"yes", "no", NULL};
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = fx_plan_make();
  struct pw_view view;
  ck_assert_int_eq(pw_view_make(&view, plan, ctx), PW_OK);
  struct pw_grids grids = {.view = &view, .plan = plan, .ev = plan->event, .ctx = ctx, .money_unit = 100};
  struct pw_grid *g = &grids.grids[0];
  *g = (struct pw_grid){.of = &grids, .least_scale = 1, .stay_row = PW_NONE, .is_printed = true, .is_protected = true};
  OPEN("Made here", 20, 12, 12);
  pw_grid_title(g, "A title", "a line");
  HEADS("Said", "Number", "Twice");
  pw_grid_stay(g, 1);
  for (int role = PW_G_PLAIN; role < PW_G__COUNT; role++) {
    struct pw_grid_cell cells[] = {SAY(CELL, TEXT("said %d", role)),
                                   {.role = (enum pw_grid_role)role, .value = role},
                                   CALC(NUMBER, "=2*[Number]", 2 * role)};
    pw_grid_row(g, cells, 3);
  }
  pw_grid_table(g);
  pw_grid_numbers(g, 2, 1, 1, 3, 99, true);
  struct pw_grid_cell bar = SAY(SUBTITLE, "====");
  bar.formula = "=REPT(\"=\",B5)";
  ROW(OVER(SAY(NOTE, "over two"), 2), NAMED(NUM(SUM, 7.5), "last_sum"));
  pw_grid_page(g);
  ROW(SKIP(2), bar);
  pw_grid_words(g, 1, 0, 0, words);
  /* the longest words that fit; a drawing's cells, small where they do not; lines over a part of the rows */
  ROW((struct pw_grid_cell){.role = PW_G_CELL,
                            .over = 1,
                            .texts = WORDS("words that are much too long for forty columns", "fits"),
                            .lines = 1});
  pw_grid_gap(g);
  struct pw_grid_cell piece = {.role = PW_G_MAP_NEW,
                               .down = 0,
                               .texts = WORDS("a piece with a name", "P1"),
                               .lines = 1},
                      low = piece;
  low.lines = 0;
  int drawn = pw_grid_next(g) - 2;
  pw_grid_spot(g, (struct pw_grid_spot){.row = drawn, .col = 0, .cell = piece, .small = PW_G_MAP_NEW_SMALL});
  pw_grid_spot(g, (struct pw_grid_spot){.row = drawn, .col = 1, .cell = low, .small = PW_G_MAP_NEW_SMALL});
  pw_grid_spot(g, (struct pw_grid_spot){.row = drawn, .col = 2, .edges = PW_GRID_UP | PW_GRID_DASHED_BEFORE});
  g->chart = (struct pw_grid_chart){.row = 5, .head = 3, .last = 8, .n = 2, .title = "A chart", .about = "two lines"};

  strcpy(path, "/tmp/pw-grid-XXXXXX");
  int fd = mkstemp(path);
  ck_assert(fd >= 0 && close(fd) == 0);
  struct book b = {.view = &view, .plan = plan, .ctx = ctx, .ev = plan->event, .wb = workbook_new(path)};
  ck_assert_ptr_nonnull(b.wb);
  pw_book_start(&b);
  pw_xlsx_grid_write(&b, g);
  ck_assert_int_eq(b.error, LXW_NO_ERROR);
  ck_assert_int_eq(workbook_close(b.wb), LXW_NO_ERROR);
  const char *sheet = part_text("xl/worksheets/sheet1.xml", ctx), *strings = part_text("xl/sharedStrings.xml", ctx),
             *book = part_text("xl/workbook.xml", ctx), *table = part_text("xl/tables/table1.xml", ctx);

  has(book, "<sheet name=\"Made here\"");
  has(book, TEXT(">'Made here'!$C$%d<", 4 + PW_G__COUNT));
  int first = 5; /* under title, line, gap and heads */
  for (int role = PW_G_PLAIN; role < PW_G__COUNT; role++) {
    int row = first + role - PW_G_PLAIN;
    const char *number = between(sheet, TEXT("<c r=\"B%d\" ", row), "</c>", ctx),
               *twice = between(sheet, TEXT("<c r=\"C%d\" ", row), "</c>", ctx);
    ck_assert_msg(number && twice, "nothing in row %d", row);
    has(number, TEXT("<v>%d</v>", role));
    has(twice, TEXT("<f>2*B%d</f><v>%d</v>", row, 2 * role));
    has(strings, TEXT(">said %d<", role));
  }
  has(strings, ">fits<");
  has(strings, ">a piece with a name<");
  ck_assert(!strstr(strings, "much too long"));
  const char *piece_look = between(sheet, TEXT("<c r=\"A%d\" s=\"", drawn + 1), "\"", ctx),
             *low_look = between(sheet, TEXT("<c r=\"B%d\" s=\"", drawn + 1), "\"", ctx),
             *edge_look = between(sheet, TEXT("<c r=\"C%d\" s=\"", drawn + 1), "\"", ctx);
  ck_assert(piece_look && low_look && edge_look);
  ck_assert(strcmp(piece_look, low_look) != 0 && strcmp(piece_look, edge_look) != 0);
  has(part_text("xl/styles.xml", ctx), "<left style=\"dashed\"");
  const char *chart = part_text("xl/charts/chart1.xml", ctx);
  has(chart, "'Made here'!$A$5:$A$9");
  has(chart, "'Made here'!$C$5:$C$9");
  int last = first + PW_G__COUNT - PW_G_PLAIN;
  has(sheet, TEXT("<mergeCell ref=\"A%d:B%d\"/>", last, last));
  has(sheet, TEXT("<f>REPT(\"=\",B5)</f><v>====</v>"));
  has(sheet, "<mergeCell ref=\"A1:C1\"/>");
  has(sheet, "<sheetProtection ");
  has(sheet, TEXT("sqref=\"B%d:B%d\"", last - 2, last - 1));
  has(sheet, "<formula1>3</formula1><formula2>99</formula2>");
  has(sheet, "<formula1>\"yes,no\"</formula1>");
  has(sheet, TEXT("<brk id=\"%d\"", last - 1));
  has(sheet, "<pane xSplit=\"1\" ySplit=\"4\"");
  ck_assert_int_eq(unlink(path), 0);
  has(table, TEXT("ref=\"A4:C%d\"", last - 1));
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("xlsx_grid");
  TCase *t = tcase_create("laid out");
  tcase_add_test(t, every_role_comes_out_at_its_place);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
