/* source_check.c - walks the characters and counts lines and columns as an editor shows them. */
#include "read/source_check.h"

#include "base/diag.h"
#include "base/text.h"

#include <string.h>

size_t pw_source_mark_size(const char *text, size_t n)
{
  return n >= 3 && memcmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

bool pw_source_check(const char *text, size_t n, const char *file, struct pw_ctx *ctx)
{
  if (n >= 2 && (memcmp(text, "\xFF\xFE", 2) == 0 || memcmp(text, "\xFE\xFF", 2) == 0)) {
    pw_diag_add(ctx, PW_ERROR, "yaml-encoding", file, 1, 1, "the file is UTF-16: save it as UTF-8");
    return false;
  }
  bool has_bad_bytes = false, has_hidden = false;
  int line = 1, col = 1;
  for (size_t i = pw_source_mark_size(text, n), size; i < n && !(has_bad_bytes && has_hidden); i += size) {
    uint32_t code;
    size = pw_utf8_next(text + i, n - i, &code);
    if (code == '\n') {
      line++;
      col = 1;
      continue;
    }
    bool is_crlf = code == '\r' && i + 1 < n && text[i + 1] == '\n';
    enum pw_text_fault fault = is_crlf ? PW_TEXT_OK : pw_text_check(text + i, size, 1, true, NULL);
    if (fault == PW_TEXT_BAD_UTF8 && !has_bad_bytes) {
      has_bad_bytes = true;
      pw_diag_add(ctx, PW_ERROR, "yaml-encoding", file, line, col,
                  "the byte 0x%02X is not UTF-8 text: save the file as UTF-8", (unsigned)(unsigned char)text[i]);
    } else if (fault != PW_TEXT_OK && fault != PW_TEXT_BAD_UTF8 && !has_hidden) {
      has_hidden = true;
      pw_diag_add(ctx, PW_ERROR, "yaml-character", file, line, col, "%s (U+%04X) is hidden here: delete it",
                  pw_text_fault_words(fault), (unsigned)code);
    }
    col++;
  }
  return !has_bad_bytes && !has_hidden;
}

size_t pw_source_offset(const char *text, size_t n, int line, int col)
{
  size_t i = pw_source_mark_size(text, n);
  for (; line > 1 && i < n; i++)
    line -= text[i] == '\n';
  for (uint32_t code; col > 1 && i < n && text[i] != '\n'; col--)
    i += pw_utf8_next(text + i, n - i, &code);
  return line > 1 || col > 1 ? n : i;
}
