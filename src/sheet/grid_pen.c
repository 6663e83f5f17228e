/* grid_pen.c - appends rows, limits and tables to an owner's sheet.  In: calls of the makers.  Out: struct pw_grid. */
#include "sheet/grid_pen.h"

#include "base/arena.h"

#include <string.h>

/** Room for n of a list, copied from `from`; NULL when memory is out. */
static void *kept(struct pw_grid *g, const void *from, int n, size_t size)
{
  void *copy = pw_arena_array(g->of->view->arena, (size_t)n + 1, size);
  if (!copy)
    g->of->view->failed = true;
  else if (n > 0)
    memcpy(copy, from, (size_t)n * size);
  return copy;
}

const char *const *pw_grid_texts(struct pw_grid *g, const char *const *texts)
{
  int n = 0;
  while (texts[n])
    n++;
  return kept(g, texts, n, sizeof *texts);
}

void pw_grid_open(struct pw_grid *g, const char *name, const double *widths, int n)
{
  g->name = name;
  g->widths = kept(g, widths, n, sizeof *widths);
  g->n_columns = g->widths ? n : 0;
  g->last_col = n - 1;
}

/** The column under a head of the last row of them, or PW_NONE. */
static int column_under(const struct pw_grid *g, const char *head, size_t n)
{
  const struct pw_grid_row *row = &g->rows[g->heads_row];
  for (int c = 0, at = 0; c < row->n_cells; at += 1 + row->cells[c++].over)
    if (row->cells[c].text && strncmp(row->cells[c].text, head, n) == 0 && row->cells[c].text[n] == '\0')
      return at;
  return PW_NONE;
}

/** A formula with its places filled in; a head that is not there stays as it is, which no spreadsheet reads. */
static const char *formula_of(struct pw_grid *g, const char *text)
{
  const char *made = "";
  while (*text) {
    size_t n = strcspn(text, "#["), name = text[n] == '[' ? strcspn(text + n, "]") : 0;
    int column = name > 0 && text[n + name] && g->n_rows > 0 ? column_under(g, text + n + 1, name - 1) : PW_NONE;
    if (column != PW_NONE)
      made = TEXT("%s%.*s%c%d", made, (int)n, text, 'A' + column, pw_grid_next(g));
    else if (text[n] == '#')
      made = TEXT("%s%.*s%d", made, (int)n, text, pw_grid_next(g));
    else
      made = TEXT("%s%.*s%s", made, (int)n, text, text[n] ? "[" : "");
    text += n + (column != PW_NONE ? name + 1 : text[n] != '\0');
  }
  return made;
}

static bool is_number(enum pw_grid_role role)
{
  return (role >= PW_G_NUMBER && role <= PW_G_SUM) || (role >= PW_G_IN_MONEY && role <= PW_G_IN_PERCENT);
}

/** The cell of a row in a column; NULL where there is none. */
static struct pw_grid_cell *cell_in(const struct pw_grid_row *row, int col)
{
  for (int i = 0, c = 0; i < row->n_cells && c <= col; c += 1 + row->cells[i++].over)
    if (c == col)
      return &row->cells[i];
  return NULL;
}

/** The heads over the numbers of the last row stand over their last digits: rows up to the first that is no head's are one table. */
static void heads_align(struct pw_grid *g)
{
  const struct pw_grid_row *row = &g->rows[g->n_rows - 1];
  for (int i = 0, c = 0; i < row->n_cells; c += 1 + row->cells[i++].over)
    for (int above = g->n_rows - 2; is_number(row->cells[i].role) && above >= 0 && g->rows[above].n_cells > 1;
         above--) {
      struct pw_grid_cell *head = cell_in(&g->rows[above], c);
      if (head && head->role == PW_G_HEAD && head->over == 0)
        head->role = PW_G_HEAD_RIGHT;
      if (!head || head->role == PW_G_HEAD || head->role == PW_G_HEAD_RIGHT)
        break;
    }
}

void pw_grid_row(struct pw_grid *g, const struct pw_grid_cell *cells, int n)
{
  if (g->of->view->failed)
    return;
  struct pw_grid_row row = {.cells = kept(g, cells, n, sizeof *cells), .n_cells = n};
  for (int c = 0; row.cells && c < n; c++)
    if (row.cells[c].formula)
      row.cells[c].formula = formula_of(g, row.cells[c].formula);
  if (!row.cells || pw_arena_grow(g->of->view->arena, &g->rows, &g->cap_rows, (size_t)g->n_rows, sizeof *g->rows) < 0)
    g->of->view->failed = true;
  else {
    g->rows[g->n_rows++] = row;
    heads_align(g);
  }
}

void pw_grid_gap(struct pw_grid *g) { pw_grid_row(g, NULL, 0); }

void pw_grid_line(struct pw_grid *g, enum pw_grid_role role, const char *text)
{
  pw_grid_row(g, &(struct pw_grid_cell){.role = role, .over = g->last_col, .text = text}, 1);
}

static struct pw_grid_row *last_row(struct pw_grid *g) { return g->n_rows > 0 ? &g->rows[g->n_rows - 1] : NULL; }

void pw_grid_keep(struct pw_grid *g)
{
  if (last_row(g))
    last_row(g)->keeps = true;
}

void pw_grid_high(struct pw_grid *g, double points)
{
  if (last_row(g))
    last_row(g)->points = points;
}

void pw_grid_page(struct pw_grid *g)
{
  if (last_row(g))
    last_row(g)->is_page_start = true;
}

void pw_grid_stay(struct pw_grid *g, int cols)
{
  g->stay_row = g->n_rows - 1;
  g->stay_cols = cols;
}

void pw_grid_section(struct pw_grid *g, const char *text)
{
  pw_grid_line(g, PW_G_SECTION, text);
  pw_grid_high(g, 24);
  pw_grid_keep(g);
}

void pw_grid_part(struct pw_grid *g, const char *text)
{
  pw_grid_gap(g);
  pw_grid_section(g, text);
}

void pw_grid_title(struct pw_grid *g, const char *title, const char *subtitle)
{
  pw_grid_line(g, PW_G_TITLE, title);
  pw_grid_high(g, 28);
  pw_grid_line(g, PW_G_SUBTITLE, subtitle);
  pw_grid_gap(g);
}

void pw_grid_heads(struct pw_grid *g, const char *const *heads, int n)
{
  struct pw_grid_cell *cells = kept(g, NULL, 0, (size_t)n * sizeof *cells);
  for (int c = 0; cells && c < n; c++)
    cells[c] = SAY(HEAD, heads[c]);
  if (cells)
    pw_grid_row(g, cells, n);
  pw_grid_keep(g);
  g->heads_row = g->n_rows - 1;
}

/** A formula of a table with the places of its rows filled in. */
static const char *placed(struct pw_grid *g, const char *formula, int first, int last)
{
  const struct {
    const char *word;
    int n;
  } places[] = {{"[first row]", first},
                {"[last row]", last},
                {"[row above]", pw_grid_next(g) - 1},
                {"[digits]", g->of->ev->money_digits}};
  for (size_t i = 0; i < sizeof places / sizeof *places; i++)
    for (const char *at; (at = strstr(formula, places[i].word));)
      formula = TEXT("%.*s%d%s", (int)(at - formula), formula, places[i].n, at + strlen(places[i].word));
  return formula;
}

static int grid_at(const struct pw_table_column *column) { return column->grid.at; }

static struct pw_grid_cell lay_cell(const struct pw_grid *g, const struct pw_table_column *column,
                                    const struct pw_table_cell *cell)
{
  static const enum pw_grid_role roles[] = {
      [PW_TABLE_WORDS] = PW_G_CELL,    [PW_TABLE_TICK] = PW_G_TICK,   [PW_TABLE_COUNT] = PW_G_COUNT,
      [PW_TABLE_NUMBER] = PW_G_NUMBER, [PW_TABLE_MONEY] = PW_G_MONEY, [PW_TABLE_SHARE] = PW_G_PERCENT,
      [PW_TABLE_TIME] = PW_G_LONG};
  enum pw_grid_role role = column->grid.role ? column->grid.role : roles[column->kind];
  bool is_said = column->kind == PW_TABLE_WORDS || column->kind == PW_TABLE_TICK || column->kind == PW_TABLE_TIME;
  struct pw_grid_cell out = {.role = cell->role ? cell->role : role, .over = column->grid.over};
  if (cell->has_value)
    out.value = column->kind == PW_TABLE_MONEY ? cell->value / g->of->money_unit : cell->value;
  else if (cell->words) {
    out.role = cell->role ? cell->role : is_said ? role : PW_G_CELL;
    out.text = cell->words;
  } else if (column->kind == PW_TABLE_TICK)
    out.text = "\xE2\x98\x90";
  else
    out.role = PW_G_SKIP;
  return out;
}

void pw_grid_lay_heads(struct pw_grid *g, struct pw_told_table *t)
{
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, grid_at, order), n_heads = 0;
  struct pw_grid_cell cells[PW_TABLE_COLUMNS_MAX];
  g->of->view->failed = g->of->view->failed || t->has_failed;
  for (int c = 0; c < n; c++) {
    const char *head = t->columns[order[c]].grid.head;
    cells[c] = OVER(SAY(HEAD, head), t->columns[order[c]].grid.over + 1);
    n_heads = head ? c + 1 : n_heads;
  }
  pw_grid_row(g, cells, n_heads);
  pw_grid_keep(g);
  g->heads_row = g->n_rows - 1;
}

void pw_grid_lay_row(struct pw_grid *g, struct pw_told_table *t, int row, int first)
{
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, grid_at, order), last = first - 1;
  struct pw_grid_cell cells[PW_TABLE_COLUMNS_MAX];
  if (n == 0 || !(t->rows[row].forms & PW_FORM_GRID))
    return;
  for (int i = 0; i < t->n_rows; i++)
    last += (t->rows[i].forms & PW_FORM_GRID) != 0;
  for (int c = 0; c < n; c++) {
    const struct pw_table_column *column = &t->columns[order[c]];
    const struct pw_table_cell *cell = &t->rows[row].cells[order[c]];
    const char *formula = cell->formula ? cell->formula : column->grid.formula;
    cells[c] = lay_cell(g, column, cell);
    if (column->kind == PW_TABLE_TIME && cell->has_value)
      cells[c].text = pw_table_text(t, column, cell);
    if (formula && cells[c].role != PW_G_SKIP)
      cells[c].formula = placed(g, formula, first, last);
  }
  pw_grid_row(g, cells, n);
  if (t->is_kept)
    pw_grid_keep(g);
  g->of->view->failed = g->of->view->failed || t->has_failed;
}

void pw_grid_lay(struct pw_grid *g, struct pw_told_table *t)
{
  pw_grid_lay_heads(g, t);
  int first = pw_grid_next(g);
  for (int i = 0; i < t->n_rows; i++)
    pw_grid_lay_row(g, t, i, first);
}

/** Room for one more in a list; false when memory is out. */
static bool grows(struct pw_grid *g, void *list, size_t *cap, int n, size_t size)
{
  if (!g->of->view->failed && pw_arena_grow(g->of->view->arena, list, cap, (size_t)n, size) < 0)
    g->of->view->failed = true;
  return !g->of->view->failed;
}

void pw_grid_table(struct pw_grid *g)
{
  if (grows(g, &g->tables, &g->cap_tables, g->n_tables, sizeof *g->tables))
    g->tables[g->n_tables++] = (struct pw_grid_table){g->heads_row, g->n_rows - 1};
  struct pw_grid_row *heads = !g->of->view->failed && g->n_tables > 0 ? &g->rows[g->heads_row] : NULL;
  for (int i = 0; heads && i < heads->n_cells; i++) /* the button of its filter stands at the right */
    if (heads->cells[i].role == PW_G_HEAD_RIGHT)
      heads->cells[i].role = PW_G_HEAD;
}

void pw_grid_spot(struct pw_grid *g, struct pw_grid_spot spot)
{
  if (grows(g, &g->spots, &g->cap_spots, g->n_spots, sizeof *g->spots))
    g->spots[g->n_spots++] = spot;
}

static void limits_add(struct pw_grid *g, int n, struct pw_grid_limits limits)
{
  limits.r0 = g->n_rows - n;
  limits.r1 = g->n_rows - 1;
  if (n > 0 && grows(g, &g->limits, &g->cap_limits, g->n_limits, sizeof *g->limits))
    g->limits[g->n_limits++] = limits;
}

void pw_grid_numbers(struct pw_grid *g, int n, int c0, int c1, double low, double high, bool is_whole)
{
  limits_add(g, n, (struct pw_grid_limits){.c0 = c0, .c1 = c1, .low = low, .high = high, .is_whole = is_whole});
}

void pw_grid_words(struct pw_grid *g, int n, int c0, int c1, const char *const *words)
{
  limits_add(g, n, (struct pw_grid_limits){.c0 = c0, .c1 = c1, .words = words});
}
