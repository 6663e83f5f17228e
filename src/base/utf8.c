/* utf8.c - decoding, width and cleaning of UTF-8.  Widths follow the East Asian Width blocks of Unicode that
 * matter for names (CJK, Hangul, full-width forms, emoji); everything else is one column. */
#include "base/utf8.h"

#include <stdio.h>
#include <string.h>

int32_t pw_utf8_next(const char **p, const char *end)
{
  const unsigned char *s = (const unsigned char *)*p;
  size_t left = (size_t)(end - *p);
  unsigned char lead = s[0];
  (*p)++;
  if (lead < 0x80)
    return lead;
  int n = lead >= 0xF0 && lead <= 0xF4 ? 3 : lead >= 0xE0 && lead < 0xF0 ? 2 : lead >= 0xC2 && lead < 0xE0 ? 1 : 0;
  if (n == 0 || left < (size_t)n + 1)
    return -1;
  int32_t code = lead & (0x3F >> n);
  for (int i = 1; i <= n; i++) {
    if ((s[i] & 0xC0) != 0x80)
      return -1;
    code = code << 6 | (s[i] & 0x3F);
  }
  static const int32_t least[] = {0, 0x80, 0x800, 0x10000};
  if (code < least[n] || code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
    return -1;
  *p += n;
  return code;
}

struct range {
  int32_t from, to;
};

static bool in_ranges(const struct range *ranges, size_t n, int32_t code)
{
  for (size_t i = 0; i < n; i++)
    if (code >= ranges[i].from && code <= ranges[i].to)
      return true;
  return false;
}

bool pw_utf8_is_unsafe(int32_t code)
{
  static const struct range unsafe[] = {{0, 0x1F},        {0x7F, 0x9F},     {0x061C, 0x061C},
                                        {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2066, 0x2069},
                                        {0xFDD0, 0xFDEF}, {0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}};
  return code < 0 || in_ranges(unsafe, sizeof unsafe / sizeof *unsafe, code) || (code & 0xFFFE) == 0xFFFE;
}

int pw_utf8_width(int32_t code)
{
  static const struct range none[] = {{0x0300, 0x036F}, {0x1AB0, 0x1AFF}, {0x1DC0, 0x1DFF}, {0x200B, 0x200D},
                                      {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F}};
  static const struct range wide[] = {{0x1100, 0x115F}, {0x2E80, 0x303E}, {0x3041, 0x33FF},  {0x3400, 0x4DBF},
                                      {0x4E00, 0x9FFF}, {0xA000, 0xA4CF}, {0xAC00, 0xD7A3},  {0xF900, 0xFAFF},
                                      {0xFE30, 0xFE6F}, {0xFF00, 0xFF60}, {0xFFE0, 0xFFE6},  {0x1F300, 0x1F64F},
                                      {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD}};
  if (in_ranges(none, sizeof none / sizeof *none, code))
    return 0;
  return in_ranges(wide, sizeof wide / sizeof *wide, code) ? 2 : 1;
}

/* One character as it is printed; returns its bytes and sets its columns. */
static size_t clean_one(char out[16], const char **p, const char *end, int *width)
{
  const char *from = *p;
  int32_t code = pw_utf8_next(p, end);
  int n;
  if (code == '\t') {
    n = snprintf(out, 16, " ");
  } else if (code < 0) {
    n = snprintf(out, 16, "<%02X>", (unsigned char)*from);
  } else if (pw_utf8_is_unsafe(code)) {
    n = snprintf(out, 16, "<U+%04X>", (unsigned)code);
  } else {
    memcpy(out, from, (size_t)(*p - from));
    *width = pw_utf8_width(code);
    return (size_t)(*p - from);
  }
  *width = n;
  return (size_t)n;
}

int pw_utf8_text_width(const char *text)
{
  int sum = 0;
  for (const char *p = text, *end = text + strlen(text); p < end;) {
    char one[16];
    int width = 0;
    clean_one(one, &p, end, &width);
    sum += width;
  }
  return sum;
}

size_t pw_utf8_clean(char *out, size_t size, const char *text, size_t n)
{
  size_t used = 0;
  if (size == 0)
    return 0;
  for (const char *p = text, *end = text + n; p < end;) {
    char one[16];
    int width = 0;
    size_t bytes = clean_one(one, &p, end, &width);
    if (used + bytes >= size)
      break;
    memcpy(out + used, one, bytes);
    used += bytes;
  }
  out[used] = '\0';
  return used;
}
