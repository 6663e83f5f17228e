/* text_page.c - lines of plain sheets. */
#include "write/text/text_page.h"

#include "base/arena.h"
#include "sheet/words.h"

#include <string.h>

enum { RIGHT_MAX_COLUMNS = 56 };

struct pw_page pw_page_open(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  return (struct pw_page){.buf = out, .arena = ctx->arena, .plan = plan, .ev = plan->event};
}

const char *pw_words(struct pw_page *page, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(page->arena, format, args);
  va_end(args);
  page->buf->failed = page->buf->failed || !text;
  return text ? text : "";
}

static void end_line(struct pw_page *page)
{
  struct pw_buf *b = page->buf;
  while (b->n > 0 && b->bytes[b->n - 1] == ' ')
    b->bytes[--b->n] = '\0';
  pw_buf_add_char(b, '\n');
}

void pw_page_blank(struct pw_page *page) { pw_buf_add_char(page->buf, '\n'); }

static void rule(struct pw_page *page, char c, int n)
{
  pw_buf_add_times(page->buf, c, n);
  end_line(page);
}

void pw_page_title(struct pw_page *page, const char *left, const char *right)
{
  if (page->plan && page->plan->day)
    right = pw_words(page, "%s, %s", right, pw_words_edition(page->plan).s);
  pw_page_pair(page, 0, left, right);
  rule(page, '=', PW_PAGE_COLUMNS);
}

void pw_page_head(struct pw_page *page, const char *name)
{
  pw_page_blank(page);
  int w = pw_text_width(name), most = PW_PAGE_COLUMNS - 4;
  w = w > most ? most : w;
  pw_text_add_padded(page->buf, name, w, PW_LEFT);
  pw_buf_add_char(page->buf, ' ');
  rule(page, '-', PW_PAGE_COLUMNS - w - 1);
}

/* Lines of a text, none when memory is out. */
static int wrap(struct pw_page *page, const char *text, int columns, char ***lines)
{
  int n = pw_text_wrap(page->arena, text, columns, lines);
  if (n < 0)
    page->buf->failed = true;
  return n < 0 ? 0 : n;
}

void pw_page_para(struct pw_page *page, int indent, int hang, const char *text)
{
  /* The first line may be wider or narrower than the others: find what fits it, then wrap the rest anew. */
  char **lines = NULL;
  int n = wrap(page, text, PW_PAGE_COLUMNS - indent, &lines);
  if (n == 0)
    return;
  pw_buf_add_times(page->buf, ' ', indent);
  pw_buf_add(page->buf, lines[0]);
  end_line(page);
  if (n == 1)
    return;
  struct pw_buf rest = pw_buf_in(page->arena);
  for (int i = 1; i < n; i++)
    pw_buf_printf(&rest, "%s%s", i > 1 ? " " : "", lines[i]);
  const char *left = pw_buf_text(&rest);
  page->buf->failed = page->buf->failed || !left;
  n = left ? wrap(page, left, PW_PAGE_COLUMNS - hang, &lines) : 0;
  for (int i = 0; i < n; i++) {
    pw_buf_add_times(page->buf, ' ', hang);
    pw_buf_add(page->buf, lines[i]);
    end_line(page);
  }
}

void pw_page_verbatim(struct pw_page *page, const char *lines)
{
  for (const char *at = lines; *at;) {
    size_t n = strcspn(at, "\n");
    pw_buf_add_n(page->buf, at, n);
    end_line(page);
    at += n + (at[n] == '\n');
  }
}

void pw_page_pair(struct pw_page *page, int indent, const char *left, const char *right)
{
  int w = pw_text_width(right);
  w = w > RIGHT_MAX_COLUMNS ? RIGHT_MAX_COLUMNS : w;
  int room = PW_PAGE_COLUMNS - indent - (w ? w + 2 : 0);
  struct pw_cell cells[] = {{indent, room, PW_LEFT, left}, {PW_PAGE_COLUMNS - w, w, PW_RIGHT, right}};
  pw_page_row(page, cells, 2);
}

void pw_page_row(struct pw_page *page, const struct pw_cell *cells, int n)
{
  enum { CELLS_MAX = 12 };
  char **lines[CELLS_MAX] = {0};
  int n_lines[CELLS_MAX] = {0}, height = 1;
  n = n > CELLS_MAX ? CELLS_MAX : n;
  for (int i = 0; i < n; i++) {
    if (cells[i].align != PW_LEFT || cells[i].width <= 0)
      continue;
    n_lines[i] = wrap(page, cells[i].text, cells[i].width, &lines[i]);
    height = n_lines[i] > height ? n_lines[i] : height;
  }
  for (int k = 0; k < height; k++) {
    int at = 0;
    for (int i = 0; i < n; i++) {
      const char *text =
          cells[i].align == PW_LEFT ? (k < n_lines[i] ? lines[i][k] : "") : (k == 0 ? cells[i].text : "");
      if (!*text || cells[i].width <= 0)
        continue;
      pw_buf_add_times(page->buf, ' ', cells[i].column - at);
      pw_text_add_padded(page->buf, text, cells[i].width, cells[i].align);
      at = cells[i].column + cells[i].width;
    }
    end_line(page);
  }
}
