/* text_page.c - see the header. */
#include "write/text/text_page.h"

#include "base/text.h"

#include <string.h>

enum { RIGHT_MAX_COLUMNS = 56 };

/* One cell of a row: where it starts, how wide it is, how it is set.  What stands left is wrapped when it is wider (the row grows), what
 * stands right is cut. */
struct cell {
  int column, width;
  enum pw_align align;
  const char *text;
};

static void end_line(struct pw_buf *out)
{
  while (out->n > 0 && out->bytes[out->n - 1] == ' ')
    out->bytes[--out->n] = '\0';
  pw_buf_add_char(out, '\n');
}

static void blank(struct pw_buf *out) { pw_buf_add_char(out, '\n'); }

static void rule(struct pw_buf *out, char c, int n)
{
  pw_buf_add_times(out, c, n);
  end_line(out);
}

static void head(struct pw_buf *out, const char *name)
{
  blank(out);
  int w = pw_text_width(name), most = PW_PAGE_COLUMNS - 4;
  w = w > most ? most : w;
  pw_text_add_padded(out, name, w, PW_LEFT);
  pw_buf_add_char(out, ' ');
  rule(out, '-', PW_PAGE_COLUMNS - w - 1);
}

/* Lines of a text, none when memory is out. */
static int wrap(struct pw_buf *out, const char *text, int columns, char ***lines)
{
  int n = pw_text_wrap(out->arena, text, columns, lines);
  if (n < 0)
    out->failed = true;
  return n < 0 ? 0 : n;
}

static void para(struct pw_buf *out, int indent, int hang, const char *text)
{
  /* The first line may be wider or narrower than the others: find what fits it, then wrap the rest anew. */
  char **lines = NULL;
  int n = wrap(out, text, PW_PAGE_COLUMNS - indent, &lines);
  if (n == 0)
    return;
  pw_buf_add_times(out, ' ', indent);
  pw_buf_add(out, lines[0]);
  end_line(out);
  if (n == 1)
    return;
  struct pw_buf rest = pw_buf_in(out->arena);
  for (int i = 1; i < n; i++)
    pw_buf_printf(&rest, "%s%s", i > 1 ? " " : "", lines[i]);
  const char *left = pw_buf_text(&rest);
  out->failed = out->failed || !left;
  n = left ? wrap(out, left, PW_PAGE_COLUMNS - hang, &lines) : 0;
  for (int i = 0; i < n; i++) {
    pw_buf_add_times(out, ' ', hang);
    pw_buf_add(out, lines[i]);
    end_line(out);
  }
}

static void verbatim(struct pw_buf *out, const char *lines)
{
  for (const char *at = lines; *at;) {
    size_t n = strcspn(at, "\n");
    pw_buf_add_n(out, at, n);
    end_line(out);
    at += n + (at[n] == '\n');
  }
}

static void row(struct pw_buf *out, const struct cell *cells, int n)
{
  char **lines[PW_PAGE_TABLE_MAX] = {0};
  int n_lines[PW_PAGE_TABLE_MAX] = {0}, height = 1;
  for (int i = 0; i < n; i++) {
    if (cells[i].align != PW_LEFT || cells[i].width <= 0)
      continue;
    n_lines[i] = wrap(out, cells[i].text, cells[i].width, &lines[i]);
    height = n_lines[i] > height ? n_lines[i] : height;
  }
  for (int k = 0; k < height; k++) {
    int at = 0;
    for (int i = 0; i < n; i++) {
      const char *text =
          cells[i].align == PW_LEFT ? (k < n_lines[i] ? lines[i][k] : "") : (k == 0 ? cells[i].text : "");
      if (!*text || cells[i].width <= 0)
        continue;
      pw_buf_add_times(out, ' ', cells[i].column - at);
      pw_text_add_padded(out, text, cells[i].width, cells[i].align);
      at = cells[i].column + cells[i].width;
    }
    end_line(out);
  }
}

static void pair(struct pw_buf *out, int indent, const char *left, const char *right)
{
  int w = pw_text_width(right);
  w = w > RIGHT_MAX_COLUMNS ? RIGHT_MAX_COLUMNS : w;
  int room = PW_PAGE_COLUMNS - indent - (w ? w + 2 : 0);
  struct cell cells[] = {{indent, room, PW_LEFT, left}, {PW_PAGE_COLUMNS - w, w, PW_RIGHT, right}};
  row(out, cells, 2);
}

static void title(struct pw_buf *out, const char *left, const char *right)
{
  pair(out, 0, left, right);
  rule(out, '=', PW_PAGE_COLUMNS);
}

static void table_row(struct pw_buf *out, const struct pw_page_line *line)
{
  struct cell cells[PW_PAGE_TABLE_MAX];
  int at = 0, n = line->table->n;
  for (int i = 0; i < n; i++) {
    const struct pw_page_column *c = &line->table->columns[i];
    int indent = i == 0 ? line->indent : 0;
    at += c->gap;
    bool is_right = c->role == PW_CELL_AMOUNT && pw_text_width(line->cells[i]) <= c->chars - indent;
    cells[i] = (struct cell){at + indent, c->chars - indent, is_right ? PW_RIGHT : PW_LEFT, line->cells[i]};
    at += c->chars;
  }
  row(out, cells, n);
}

static void add_line(struct pw_buf *out, const struct pw_page_line *line)
{
  switch (line->kind) {
  case PW_PAGE_TITLE:
    title(out, line->left, line->right);
    break;
  case PW_PAGE_HEAD:
    head(out, line->left);
    break;
  case PW_PAGE_PARA:
    para(out, line->indent, line->hang, line->left);
    break;
  case PW_PAGE_PAIR:
    pair(out, line->indent, line->left, line->right);
    break;
  case PW_PAGE_ROW:
  case PW_PAGE_HEADS:
    table_row(out, line);
    break;
  case PW_PAGE_BLANK:
    blank(out);
    break;
  case PW_PAGE_VERBATIM:
    verbatim(out, line->left);
    break;
  }
}

pw_status pw_text_page(struct pw_buf *out, const struct pw_page *page)
{
  pw_status st = pw_page_done(page);
  for (int i = 0; i < page->n_lines && st == PW_OK; i++)
    add_line(out, &page->lines[i]);
  return out->failed ? PW_ERR_MEMORY : st;
}
