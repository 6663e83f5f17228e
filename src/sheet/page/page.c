/* page.c - the pen that pages are written with. */
#include "sheet/page/page.h"

#include "base/arena.h"
#include "base/format.h"
#include "sheet/words.h"

struct pw_page pw_page_open(const struct pw_plan *plan, const struct pw_event *ev, struct pw_ctx *ctx)
{
  return (struct pw_page){.arena = ctx->arena, .plan = plan, .ev = ev};
}

pw_status pw_page_done(const struct pw_page *page) { return page->has_failed ? PW_ERR_MEMORY : PW_OK; }

const char *pw_page_made(struct pw_page *page, const char *text)
{
  page->has_failed = page->has_failed || !text;
  return text ? text : "";
}

const char *pw_words_v(struct pw_page *page, const char *format, va_list args)
{
  return pw_page_made(page, pw_arena_vprintf(page->arena, format, args));
}

const char *pw_words(struct pw_page *page, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_words_v(page, format, args);
  va_end(args);
  return text;
}

static const char *copy(struct pw_page *page, const char *text)
{
  return *text ? pw_page_made(page, pw_arena_strdup(page->arena, text)) : "";
}

static void add(struct pw_page *page, struct pw_page_line line)
{
  page->has_failed = page->has_failed || pw_arena_grow(page->arena, &page->lines, &page->cap_lines,
                                                       (size_t)page->n_lines, sizeof *page->lines) != 0;
  if (!page->has_failed)
    page->lines[page->n_lines++] = line;
}

void pw_page_title(struct pw_page *page, const char *left, const char *right)
{
  if (page->plan && page->plan->day)
    right = pw_words(page, "%s, %s", right, pw_words_edition(page->plan).s);
  add(page, (struct pw_page_line){.kind = PW_PAGE_TITLE, .left = copy(page, left), .right = copy(page, right)});
}

void pw_page_head(struct pw_page *page, const char *name)
{
  add(page, (struct pw_page_line){.kind = PW_PAGE_HEAD, .left = copy(page, name)});
}

void pw_page_para(struct pw_page *page, int indent, int hang, const char *text)
{
  add(page, (struct pw_page_line){.kind = PW_PAGE_PARA, .indent = indent, .hang = hang, .left = copy(page, text)});
}

void pw_page_say(struct pw_page *page, int indent, int hang, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_words_v(page, format, args);
  va_end(args);
  add(page, (struct pw_page_line){.kind = PW_PAGE_PARA, .indent = indent, .hang = hang, .left = text});
}

void pw_page_pair(struct pw_page *page, int indent, const char *left, const char *right)
{
  add(page, (struct pw_page_line){
                .kind = PW_PAGE_PAIR, .indent = indent, .left = copy(page, left), .right = copy(page, right)});
}

void pw_page_money(struct pw_page *page, int indent, const char *left, pw_cents cents)
{
  pw_page_pair(page, indent, left, pw_money_format(page->ev, cents).s);
}

void pw_page_blank(struct pw_page *page) { add(page, (struct pw_page_line){.kind = PW_PAGE_BLANK}); }

void pw_page_verbatim(struct pw_page *page, const char *lines)
{
  add(page, (struct pw_page_line){.kind = PW_PAGE_VERBATIM, .left = copy(page, lines)});
}

void pw_page_table(struct pw_page *page, const struct pw_page_column *columns, int n)
{
  struct pw_page_table *table = pw_arena_alloc(page->arena, sizeof *table);
  struct pw_page_column *own = pw_arena_array(page->arena, (size_t)n, sizeof *own);
  const char **heads = pw_arena_array(page->arena, (size_t)n, sizeof *heads);
  bool has_heads = false;
  page->table = NULL;
  page->has_failed = page->has_failed || n > PW_PAGE_TABLE_MAX || !table || !own || !heads;
  if (page->has_failed)
    return;
  for (int i = 0; i < n; i++) {
    own[i] = columns[i];
    heads[i] = own[i].head = copy(page, columns[i].head);
    has_heads = has_heads || *heads[i];
  }
  *table = (struct pw_page_table){own, n};
  page->table = table;
  if (has_heads)
    add(page, (struct pw_page_line){.kind = PW_PAGE_HEADS, .table = table, .cells = heads});
}

void pw_page_cells(struct pw_page *page, int indent, const char *const *cells, int n)
{
  const struct pw_page_table *table = page->table;
  const char **own = table ? pw_arena_array(page->arena, (size_t)table->n, sizeof *own) : NULL;
  page->has_failed = page->has_failed || !own;
  if (page->has_failed)
    return;
  for (int i = 0; i < table->n; i++)
    own[i] = i < n ? copy(page, cells[i]) : "";
  add(page, (struct pw_page_line){.kind = PW_PAGE_ROW, .indent = indent, .table = table, .cells = own});
}

static int page_at(const struct pw_table_column *column) { return column->page.at; }

void pw_page_lay_heads(struct pw_page *page, struct pw_told_table *t)
{
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, page_at, order);
  struct pw_page_column columns[PW_TABLE_COLUMNS_MAX];
  for (int c = 0; c < n; c++) {
    const struct pw_table_column *column = &t->columns[order[c]];
    bool is_left = column->kind == PW_TABLE_WORDS || column->kind == PW_TABLE_TICK;
    columns[c] = (struct pw_page_column){column->page.gap, column->page.chars, is_left ? PW_CELL_WHAT : PW_CELL_AMOUNT,
                                         column->page.head ? column->page.head : ""};
  }
  page->has_failed = page->has_failed || t->has_failed;
  pw_page_table(page, columns, n);
}

void pw_page_lay_row(struct pw_page *page, struct pw_told_table *t, int row)
{
  const char *cells[PW_TABLE_COLUMNS_MAX];
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, page_at, order);
  if (n == 0 || !(t->rows[row].forms & PW_FORM_PAGE))
    return;
  for (int c = 0; c < n; c++)
    cells[c] = t->columns[order[c]].kind == PW_TABLE_TICK
                   ? "[ ]"
                   : pw_table_text(t, &t->columns[order[c]], &t->rows[row].cells[order[c]]);
  if (t->rows[row].band)
    pw_page_para(page, 2, 2, t->rows[row].band);
  pw_page_cells(page, 0, cells, n);
  page->has_failed = page->has_failed || t->has_failed;
}

void pw_page_lay(struct pw_page *page, struct pw_told_table *t)
{
  pw_page_lay_heads(page, t);
  for (int i = 0; i < t->n_rows; i++)
    pw_page_lay_row(page, t, i);
}

bool pw_page_part(struct pw_page *page, const char *head, struct pw_told_table *t)
{
  page->has_failed = page->has_failed || t->has_failed;
  if (t->n_rows == 0)
    return false;
  pw_page_head(page, head);
  pw_page_lay(page, t);
  return true;
}
