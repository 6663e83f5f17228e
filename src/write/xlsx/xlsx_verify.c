/* xlsx_verify.c - reads a finished workbook back.  A full disk can cut a part of it without any error from the
 * library, so every part is inflated and looked at before the file counts as written.
 * Archive layout: PKWARE APPNOTE 6.3.3, sections 4.3.7 (local header), 4.3.12 (directory), 4.3.16 (end). */
#include "write/xlsx/xlsx.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"

#include <errno.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#define ZLIB_CONST /* next_in points to const */
#include <zlib.h>

enum { END_BYTES = 22, ENTRY_BYTES = 46, LOCAL_BYTES = 30, PART_MAX = 256 * 1024 * 1024 };
#define END_MARK   0x06054b50u
#define ENTRY_MARK 0x02014b50u
#define LOCAL_MARK 0x04034b50u

static unsigned u16(const unsigned char *p) { return (unsigned)p[0] | (unsigned)p[1] << 8; }
static unsigned long u32(const unsigned char *p) { return (unsigned long)u16(p) | (unsigned long)u16(p + 2) << 16; }

static pw_status file_read(const char *path, unsigned char **bytes, size_t *n, struct pw_ctx *ctx)
{
  errno = 0;
  FILE *file = fopen(path, "rb");
  if (!file)
    return errno == ENOMEM ? PW_ERR_MEMORY : PW_ERR_IO;
  pw_status status = PW_ERR_IO;
  long size = 0;
  if (fseek(file, 0, SEEK_END) == 0 && (size = ftell(file)) >= END_BYTES && fseek(file, 0, SEEK_SET) == 0) {
    *bytes = pw_arena_alloc(ctx->arena, (size_t)size);
    *n = (size_t)size;
    status = !*bytes                            ? PW_ERR_MEMORY
             : fread(*bytes, 1, *n, file) == *n ? PW_OK
             : errno == ENOMEM                  ? PW_ERR_MEMORY
                                                : PW_ERR_IO;
  }
  if (fclose(file) != 0 && status == PW_OK)
    status = PW_ERR_IO;
  return status;
}

/** Inflates one part; false when it is damaged, or when memory is out. */
static bool part_inflate(const unsigned char *in, size_t n_in, unsigned char *out, size_t n_out, bool *is_memory)
{
  z_stream z = {0};
  int begun = n_in > UINT32_MAX || n_out > UINT32_MAX ? Z_DATA_ERROR : inflateInit2(&z, -MAX_WBITS);
  *is_memory = begun == Z_MEM_ERROR;
  if (begun != Z_OK)
    return false;
  z.next_in = in;
  z.avail_in = (uInt)n_in;
  z.next_out = out;
  z.avail_out = (uInt)n_out;
  int result = inflate(&z, Z_FINISH);
  *is_memory = result == Z_MEM_ERROR;
  bool is_whole = result == Z_STREAM_END && z.total_out == n_out;
  inflateEnd(&z);
  return is_whole;
}

/** True when the text is UTF-8 without characters XML 1.0 forbids, and closes the element it opens first. */
static bool xml_is_whole(const char *text, size_t n)
{
  size_t at = 0;
  while (at < n) {
    uint32_t cp = 0;
    size_t step = pw_utf8_next(text + at, n - at, &cp);
    if (step == 0 || cp == PW_UTF8_BAD || cp == 0xFFFE || cp == 0xFFFF ||
        (cp < 0x20 && cp != '\t' && cp != '\n' && cp != '\r'))
      return false;
    at += step;
  }
  const char *p = memchr(text, '<', n);
  while (p && p + 1 < text + n && (p[1] == '?' || p[1] == '!'))
    p = memchr(p + 1, '<', (size_t)(text + n - p - 1));
  if (!p)
    return false;
  size_t name = 0;
  while (p + 1 + name < text + n && !strchr(" \t\r\n/>", p[1 + name]))
    name++;
  while (n > 0 && strchr(" \t\r\n", text[n - 1]))
    n--;
  if (n >= 2 && memcmp(text + n - 2, "/>", 2) == 0 && memchr(p + 1, '<', (size_t)(text + n - p - 1)) == NULL)
    return true;
  if (n < name + 3 || text[n - 1] != '>')
    return false;
  const char *close = text + n - 1 - name;
  return memcmp(close - 2, "</", 2) == 0 && memcmp(close, p + 1, name) == 0;
}

/** Checks the entry of the directory at `entry`; NULL when all is well, else what is wrong. */
static const char *entry_fault(const unsigned char *bytes, size_t n, const unsigned char *entry, struct pw_ctx *ctx,
                               bool *is_memory)
{
  unsigned method = u16(entry + 10), name_len = u16(entry + 28);
  unsigned long crc = u32(entry + 16), packed = u32(entry + 20), size = u32(entry + 24), at = u32(entry + 42);
  if (size > PART_MAX || at + LOCAL_BYTES > n || u32(bytes + at) != LOCAL_MARK)
    return "a part's head is missing";
  unsigned long data = at + LOCAL_BYTES + u16(bytes + at + 26) + u16(bytes + at + 28);
  if (data > n || packed > n - data)
    return "a part is cut off";
  unsigned char *out = pw_arena_alloc(ctx->arena, size);
  if (!out) {
    *is_memory = true;
    return "memory ran out";
  }
  if (method == 0 && packed == size)
    memcpy(out, bytes + data, size);
  else if (method != 8 || !part_inflate(bytes + data, packed, out, size, is_memory))
    return "a part does not inflate";
  if (crc32(crc32(0, NULL, 0), out, (uInt)size) != crc)
    return "a part's checksum is wrong";
  const char *name = (const char *)entry + ENTRY_BYTES;
  bool is_xml = (name_len > 4 && memcmp(name + name_len - 4, ".xml", 4) == 0) ||
                (name_len > 5 && memcmp(name + name_len - 5, ".rels", 5) == 0);
  return is_xml && !xml_is_whole((const char *)out, size) ? "a part is not whole XML" : NULL;
}

static bool is_sheet(const unsigned char *entry)
{
  static const char prefix[] = "xl/worksheets/sheet";
  return u16(entry + 28) > sizeof prefix && memcmp(entry + ENTRY_BYTES, prefix, sizeof prefix - 1) == 0;
}

pw_status pw_xlsx_verify(const char *path, const char *said, int n_sheets, struct pw_ctx *ctx)
{
  unsigned char *bytes = NULL;
  size_t n = 0;
  const char *fault = NULL;
  bool is_memory = false;
  pw_status status = file_read(path, &bytes, &n, ctx);
  if (status == PW_ERR_MEMORY)
    return status;
  if (status != PW_OK) {
    pw_diag_add(ctx, PW_ERROR, "workbook", said, 0, 0, "the finished workbook cannot be read back");
    return status;
  }
  const unsigned char *end = bytes + n - END_BYTES; /* the library writes no archive comment */
  int found = 0;
  if (u32(end) != END_MARK)
    fault = "the end of the archive is missing";
  else {
    unsigned entries = u16(end + 10);
    unsigned long at = u32(end + 16);
    for (unsigned i = 0; i < entries && !fault; i++) {
      if (at + ENTRY_BYTES > n || u32(bytes + at) != ENTRY_MARK || at + ENTRY_BYTES + u16(bytes + at + 28) > n) {
        fault = "the archive's directory is damaged";
        break;
      }
      fault = entry_fault(bytes, n, bytes + at, ctx, &is_memory);
      found += is_sheet(bytes + at);
      at += ENTRY_BYTES + u16(bytes + at + 28) + u16(bytes + at + 30) + u16(bytes + at + 32);
    }
    if (!fault && found != n_sheets)
      fault = "a sheet is missing";
  }
  if (is_memory)
    return PW_ERR_MEMORY;
  if (!fault)
    return PW_OK;
  pw_diag_add(ctx, PW_ERROR, "workbook", said, 0, 0, "the finished workbook is damaged: %s", fault);
  return PW_ERR_IO;
}
