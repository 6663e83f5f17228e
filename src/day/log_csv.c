/* log_csv.c - the day's log as a table (RFC 4180, a row on one line).
 * Input: a plan, or the table filled in.  Output: the table, or lines of the log. */
#include "day/log_csv.h"

#include "base/arena.h"
#include "base/text.h"
#include "base/when.h"
#include "day/log.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { COLUMNS = 4, FIELD_MAX = 400 };
static const char *const HEAD[COLUMNS] = {"planned", "line", "done", "reading"};

/* ---- reading ------------------------------------------------------------------------------------------------------------- */

struct fields {
  char text[COLUMNS][FIELD_MAX];
};

/* One row of n bytes; what is longer than a field or beyond the columns is left out. */
static void split(struct fields *f, const char *row, size_t n, char comma)
{
  int column = 0;
  size_t used = 0;
  bool is_quoted = false;
  memset(f, 0, sizeof *f);
  for (size_t i = 0; i < n && column < COLUMNS; i++) {
    if (row[i] == '"') {
      bool is_pair = is_quoted && i + 1 < n && row[i + 1] == '"';
      if (!is_pair) {
        is_quoted = !is_quoted;
        continue;
      }
      i++;
    } else if (row[i] == comma && !is_quoted) {
      column++;
      used = 0;
      continue;
    }
    if (row[i] != '\r' && used + 1 < FIELD_MAX && !(used == 0 && row[i] == ' '))
      f->text[column][used++] = row[i];
  }
  for (int k = 0; k < COLUMNS; k++)
    for (size_t end = strlen(f->text[k]); end > 0 && (f->text[k][end - 1] == ' ' || f->text[k][end - 1] == '\t'); end--)
      f->text[k][end - 1] = '\0';
}

static size_t row_end(const char *text, size_t n, size_t from)
{
  const char *end = memchr(text + from, '\n', n - from);
  return end ? (size_t)(end - text) : n;
}

/* The separator of a head line; '\0': it is none. */
static char comma_of(const char *text, size_t n)
{
  struct fields f;
  size_t mark = n >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0, end = row_end(text, n, mark);
  for (const char *comma = ",;\t"; *comma; comma++) {
    bool is_it = true;
    split(&f, text + mark, end - mark, *comma);
    for (int k = 0; k < COLUMNS; k++)
      is_it = is_it && strcasecmp(f.text[k], HEAD[k]) == 0;
    if (is_it)
      return *comma;
  }
  return '\0';
}

bool pw_log_csv_is(const char *text, size_t n) { return n > 0 && comma_of(text, n) != '\0'; }

static bool is_yes(const char *word)
{
  static const char *const YES[] = {"x", "yes", "y", "ok", "done", "="};
  for (size_t i = 0; i < sizeof YES / sizeof *YES; i++)
    if (strcasecmp(word, YES[i]) == 0)
      return true;
  return false;
}

void pw_log_csv_lines(struct pw_buf *out, const char *text, size_t n)
{
  struct fields f;
  char comma = comma_of(text, n);
  for (size_t i = 0, row = 0; i < n; row++) {
    size_t end = row_end(text, n, i);
    split(&f, text + i, end - i, comma);
    const char *planned = f.text[0], *line = f.text[1], *done = f.text[2], *reading = f.text[3];
    bool is_said = row > 0 && (done[0] || reading[0]);
    if (is_said)
      pw_buf_printf(out, "%s %s%s%s", !done[0] || is_yes(done) ? planned : done, line, reading[0] ? " " : "", reading);
    pw_buf_add_char(out, '\n');
    i = end + 1;
  }
}

/* ---- writing ---------------------------------------------------------------------------------------------------------------- */

struct row {
  int at_min, order;
  const char *line;
};

static int by_minute(const void *a, const void *b)
{
  const struct row *x = a, *y = b;
  return x->at_min != y->at_min ? (x->at_min < y->at_min ? -1 : 1) : (x->order > y->order) - (x->order < y->order);
}

/* "on D1,D2": the pieces by their names, so that the row means them and no others. */
static const char *pieces_line(enum pw_log_verb verb, int lot, const int *ids, int n, struct pw_arena *arena)
{
  struct pw_buf buf = pw_buf_in(arena);
  const char *letter = pw_lot_letter(lot, arena);
  pw_buf_printf(&buf, "%s ", pw_log_row(verb)->word);
  for (int k = 0; k < n && k < PW_LOG_TEMPS_MAX; k++)
    pw_buf_printf(&buf, "%s%s%d", k ? "," : "", letter ? letter : "?", (ids ? ids[k] : k) + 1);
  return pw_buf_text(&buf);
}

static void put(struct row *rows, int *n, int at_min, const char *line)
{
  rows[*n] = (struct row){at_min, *n, line};
  (*n)++;
}

/* A load of more pieces than a line takes is several rows. */
static void put_load(struct row *rows, int *n, const struct pw_plan *plan, const struct pw_load *load,
                     struct pw_arena *arena)
{
  bool is_last = load->stage == PW_LOAD_FINISH || !plan->lots.lots[load->lot].has_finish;
  for (int k = 0; k < load->pieces; k += PW_LOG_TEMPS_MAX) {
    int some = load->pieces - k < PW_LOG_TEMPS_MAX ? load->pieces - k : PW_LOG_TEMPS_MAX;
    const int *ids = load->piece_ids + k;
    if (load->stage == PW_LOAD_SMOKE)
      put(rows, n, load->start_at_min, pieces_line(PW_LOG_ON, load->lot, ids, some, arena));
    put(rows, n, load->end_at_min, pieces_line(is_last ? PW_LOG_OFF : PW_LOG_WRAPPED, load->lot, ids, some, arena));
  }
}

static size_t most_rows(const struct pw_plan *plan)
{
  size_t n = (size_t)plan->allocation.n_burns + (size_t)plan->tasks.n_tasks + 1;
  for (int i = 0; i < plan->allocation.n_loads; i++)
    n += 2 * (size_t)(plan->allocation.loads[i].pieces / PW_LOG_TEMPS_MAX + 1);
  return n;
}

pw_status pw_log_csv_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_allocation *a = &plan->allocation;
  struct row *rows = pw_arena_array(ctx->arena, most_rows(plan), sizeof *rows);
  int n = 0;
  if (!rows)
    return PW_ERR_MEMORY;
  if (plan->n_jobs > 0)
    return PW_OK; /* of several jobs none is mended */
  for (int b = 0; b < a->n_burns; b++)
    put(rows, &n, a->burns[b].lit_at_min,
        pw_arena_printf(ctx->arena, "%s %s", pw_log_row(PW_LOG_LIT)->word, plan->event->pits[a->burns[b].pit].id));
  for (int i = 0; i < a->n_loads; i++)
    if (a->loads[i].stage <= PW_LOAD_FINISH && a->loads[i].piece_ids)
      put_load(rows, &n, plan, &a->loads[i], ctx->arena);
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if ((t->kind == PW_TASK_CORE || t->kind == PW_TASK_PROBE) && t->lot != PW_NONE && t->n_ids > 0 &&
        t->n_ids <= PW_LOG_TEMPS_MAX)
      put(rows, &n, t->at_min, pieces_line(PW_LOG_CORE, t->lot, t->piece_ids, t->n_ids, ctx->arena));
  }
  qsort(rows, (size_t)n, sizeof *rows, by_minute);
  for (int k = 0; k < COLUMNS; k++)
    pw_buf_printf(out, "%s%s", HEAD[k], k + 1 < COLUMNS ? "," : "\r\n");
  for (int i = 0; i < n; i++) {
    if (!rows[i].line)
      return PW_ERR_MEMORY;
    pw_text_add_csv(out, pw_when(plan->event, rows[i].at_min).s);
    pw_buf_add_char(out, ',');
    pw_text_add_csv(out, rows[i].line);
    pw_buf_add(out, ",,\r\n");
  }
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
