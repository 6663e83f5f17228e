/* table.c - see table.h. */
#include "sheet/table.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

struct pw_told_table pw_table_open(const struct pw_plan *plan, struct pw_arena *arena,
                                   const struct pw_table_column *columns, int n)
{
  return (struct pw_told_table){
      .plan = plan, .arena = arena, .columns = columns, .n_columns = n, .has_failed = n > PW_TABLE_COLUMNS_MAX};
}

const char *pw_table_words(struct pw_told_table *t, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(t->arena, format, args);
  va_end(args);
  t->has_failed = t->has_failed || !text;
  return text ? text : "";
}

void pw_table_cells(struct pw_told_table *t, const char *band, const struct pw_table_cell *cells, int n)
{
  struct pw_table_cell *own = pw_arena_array(t->arena, (size_t)t->n_columns, sizeof *own);
  t->has_failed =
      t->has_failed || !own || pw_arena_grow(t->arena, &t->rows, &t->cap_rows, (size_t)t->n_rows, sizeof *t->rows) != 0;
  if (t->has_failed)
    return;
  for (int i = 0; i < t->n_columns && i < n; i++)
    own[i] = cells[i];
  t->rows[t->n_rows++] = (struct pw_table_row){.band = band, .forms = PW_FORM_ALL, .cells = own};
}

void pw_table_only(struct pw_told_table *t, unsigned forms)
{
  if (t->n_rows > 0)
    t->rows[t->n_rows - 1].forms = forms;
}

struct pw_table_cell *pw_table_cell(struct pw_told_table *t, int row, const char *head)
{
  int c = 0;
  while (!t->columns[c].grid.head || strcmp(t->columns[c].grid.head, head) != 0)
    c++;
  return &t->rows[row].cells[c];
}

const char *pw_table_text(struct pw_told_table *t, const struct pw_table_column *column,
                          const struct pw_table_cell *cell)
{
  const struct pw_event *ev = t->plan->event;
  if (cell->words || !cell->has_value)
    return cell->words ? cell->words : "";
  switch (column->kind) {
  case PW_TABLE_MONEY:
    return pw_table_words(t, "%s", pw_money_format(ev, (pw_cents)llround(cell->value)).s);
  case PW_TABLE_SHARE:
    return pw_table_words(t, "%s", pw_format_percent(cell->value).s);
  case PW_TABLE_NUMBER:
    return pw_table_words(t, "%s", pw_format_number(cell->value, 1).s);
  case PW_TABLE_TIME:
    return pw_table_words(t, "%s %s", pw_when_day_short(ev, (int)cell->value).s, pw_when_clock(ev, (int)cell->value).s);
  default:
    return pw_table_words(t, "%.0f", cell->value);
  }
}

int pw_table_order(const struct pw_told_table *t, int (*at_of)(const struct pw_table_column *), int *order)
{
  int n = 0;
  for (int i = 0; i < t->n_columns; i++) {
    int at = at_of(&t->columns[i]), k = n;
    if (at == 0)
      continue;
    for (n++; k > 0 && at_of(&t->columns[order[k - 1]]) > at; k--)
      order[k] = order[k - 1];
    order[k] = i;
  }
  return n;
}
