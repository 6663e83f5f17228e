/* test_xlsx_verify.c - the finished workbook read back: archives of one stored sheet made here by the format's description (PKWARE
 * APPNOTE 6.3.10, 4.3.7, 4.3.12, 4.3.16), sound or with one field or one character wrong. */
#include "harness.h"
#include "write/xlsx/xlsx.h"

#include <unistd.h>
#include <zlib.h>

static const char NAME[] = "xl/worksheets/sheet1.xml";
enum { LOCAL = 30, ENTRY = 46, END = 22, NAME_BYTES = sizeof NAME - 1 };

static unsigned char bytes[1024];
static size_t at_data, at_entry, at_end, n_bytes;
static char path[64];

static void put(size_t at, unsigned long value, int n)
{
  for (int i = 0; i < n; i++)
    bytes[at + (size_t)i] = (unsigned char)(value >> 8 * i & 0xFF);
}

static void archive_make(const char *text, size_t n)
{
  unsigned long crc = crc32(crc32(0, NULL, 0), (const unsigned char *)text, (uInt)n);
  memset(bytes, 0, sizeof bytes);
  at_data = LOCAL + NAME_BYTES;
  at_entry = at_data + n;
  at_end = at_entry + ENTRY + NAME_BYTES;
  n_bytes = at_end + END;
  put(0, 0x04034b50, 4), put(26, NAME_BYTES, 2);
  memcpy(bytes + LOCAL, NAME, NAME_BYTES);
  memcpy(bytes + at_data, text, n);
  put(at_entry, 0x02014b50, 4), put(at_entry + 16, crc, 4), put(at_entry + 20, n, 4), put(at_entry + 24, n, 4);
  put(at_entry + 28, NAME_BYTES, 2), put(at_entry + 42, 0, 4);
  memcpy(bytes + at_entry + ENTRY, NAME, NAME_BYTES);
  put(at_end, 0x06054b50, 4), put(at_end + 8, 1, 2), put(at_end + 10, 1, 2), put(at_end + 12, ENTRY + NAME_BYTES, 4);
  put(at_end + 16, at_entry, 4);
}

/** Checks the first n bytes as a file; "" when they pass, else what is said. */
static const char *verified(size_t n, struct pw_ctx *ctx)
{
  strcpy(path, "/tmp/pw-verify-XXXXXX");
  int fd = mkstemp(path);
  ck_assert(fd >= 0);
  ck_assert(write(fd, bytes, n) == (ssize_t)n && close(fd) == 0);
  pw_status status = pw_xlsx_verify(path, "workbook.xlsx", 1, ctx);
  ck_assert_int_eq(unlink(path), 0);
  ck_assert_int_eq(status, ctx->n_errors ? PW_ERR_IO : PW_OK);
  return ctx->n_errors ? ctx->diags[0].text : "";
}

static const struct {
  const char *name, *text, *says;
} sheets[] = {
    {"an empty element", "<worksheet/>", ""},
    {"declared, closed, a line after it", "<?xml version=\"1.0\"?>\n<worksheet a=\"1\">\t<row/></worksheet>\r\n", ""},
    {"a remark first", "<!-- x --><worksheet></worksheet>", ""},
    {"two and three bytes a character", "<worksheet>\xC3\xA9\xE2\x82\xAC</worksheet>", ""},
    {"closed by another name", "<worksheet></workbook>", "whole XML"},
    {"not closed", "<worksheet><row>", "whole XML"},
    {"the last bracket lacks", "<worksheet></worksheet", "whole XML"},
    {"only an inner element is closed", "<worksheet><row/>", "whole XML"},
    {"shorter than its own end", "<worksheet>", "whole XML"},
    {"no element", "plain words", "whole XML"},
    {"a declaration only", "<?xml version=\"1.0\"?>", "whole XML"},
    {"nothing", "", "whole XML"},
    {"a control character", "<worksheet>\x01</worksheet>", "whole XML"}, /* XML 1.0, 2.2 Characters */
    {"U+FFFE", "<worksheet>\xEF\xBF\xBE</worksheet>", "whole XML"},
    {"U+FFFF", "<worksheet>\xEF\xBF\xBF</worksheet>", "whole XML"},
    {"no UTF-8", "<worksheet>\xE9</worksheet>", "whole XML"},
};

START_TEST(sheet_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  archive_make(sheets[_i].text, strlen(sheets[_i].text));
  const char *said = verified(n_bytes, ctx);
  ck_assert_msg(*sheets[_i].says ? strstr(said, sheets[_i].says) != NULL : !*said, "%s: \"%s\"", sheets[_i].name, said);
  pw_test_ctx_free(ctx);
}
END_TEST

enum where { IN_LOCAL, IN_DATA, IN_ENTRY, IN_END };

static const struct {
  const char *name;
  enum where where;
  size_t at;
  unsigned long value;
  int n;
  const char *says;
} damages[] = {
    {"no mark at the end", IN_END, 0, 0, 4, "the end of the archive is missing"},
    {"two entries said, one there", IN_END, 10, 2, 2, "directory is damaged"},
    {"none said", IN_END, 10, 0, 2, "a sheet is missing"},
    {"a directory behind the end", IN_END, 16, 5000, 4, "directory is damaged"},
    {"no mark of the entry", IN_ENTRY, 0, 0, 4, "directory is damaged"},
    {"a name longer than the file", IN_ENTRY, 28, 60000, 2, "directory is damaged"},
    {"a part larger than any", IN_ENTRY, 24, 0xFFFFFFFF, 4, "head is missing"},
    {"a head behind the end", IN_ENTRY, 42, 5000, 4, "head is missing"},
    {"no mark of the head", IN_LOCAL, 0, 0, 4, "head is missing"},
    {"a name in the head longer than the file", IN_LOCAL, 26, 60000, 2, "cut off"},
    {"more bytes than the file has", IN_ENTRY, 20, 60000, 4, "cut off"},
    {"a method nobody has", IN_ENTRY, 10, 12, 2, "does not inflate"},
    {"stored, and said to be packed", IN_ENTRY, 10, 8, 2, "does not inflate"},
    {"stored in fewer bytes than it has", IN_ENTRY, 20, 5, 4, "does not inflate"},
    {"another checksum", IN_ENTRY, 16, 1, 4, "checksum is wrong"},
    {"another character", IN_DATA, 3, 'x', 1, "checksum is wrong"},
    {"another name", IN_ENTRY, ENTRY, 'y', 1, "a sheet is missing"},
};

START_TEST(damage_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  archive_make("<worksheet/>", 12);
  const size_t from[] = {0, at_data, at_entry, at_end};
  put(from[damages[_i].where] + damages[_i].at, damages[_i].value, damages[_i].n);
  const char *said = verified(n_bytes, ctx);
  ck_assert_msg(strstr(said, damages[_i].says) != NULL, "%s: \"%s\"", damages[_i].name, said);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(too_short)
{
  struct pw_ctx *ctx = pw_test_ctx();
  archive_make("<worksheet/>", 12);
  ck_assert_ptr_nonnull(strstr(verified(END - 1, ctx), "cannot be read back"));
  ck_assert_int_eq(pw_xlsx_verify("/tmp/pw-no-such-folder/a.xlsx", "workbook.xlsx", 1, ctx), PW_ERR_IO);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("xlsx_verify");
  TCase *t = tcase_create("archives");
  tcase_add_loop_test(t, sheet_row, 0, (int)(sizeof sheets / sizeof *sheets));
  tcase_add_loop_test(t, damage_row, 0, (int)(sizeof damages / sizeof *damages));
  tcase_add_test(t, too_short);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
