/* plan_fields.c - objects and lists by tables of fields [J0]. */
#include "judge/plan_fields.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FINDING_MAX = 400 };

/** Whether a thing that a finding names was over, or had begun, before now. */
static bool is_past(const struct pw_seen_plan *plan, const char *list, int i, bool is_of_length)
{
  int now = plan->now_min;
  if (strcmp(list, "tasks") == 0)
    return i < plan->n[PW_SEEN_TASKS] && plan->tasks[i].at_min < now;
  if (strcmp(list, "visits") == 0)
    return i < plan->n[PW_SEEN_VISITS] && plan->visits[i].at_min < now;
  return i < plan->n[PW_SEEN_LOADS] && plan->loads[i].start_min < now &&
         (is_of_length || plan->loads[i].end_min <= now);
}

/** [J19] What was before now is fact: a finding about tasks, visits and loads of the past alone is none.  Of loads that are
 *  under way grid, length, spot and what lies above are facts and beliefs; all else is judged. */
static bool is_history(const struct pw_judge *judge, const char *label, const char *text)
{
  static const char *const lists[] = {"tasks", "visits", "loads"};
  const struct pw_seen_plan *plan = judge->plan;
  bool is_of_length =
      strcmp(label, "J0") == 0 || strcmp(label, "J3") == 0 || strcmp(label, "J5") == 0 || strcmp(label, "J17") == 0;
  int n_named = 0;
  if (!plan || plan->now_min == PW_SEEN_NO_TIME)
    return false;
  for (size_t k = 0; k < sizeof lists / sizeof *lists; k++) {
    size_t n = strlen(lists[k]);
    for (const char *at = strstr(text, lists[k]); at; at = strstr(at + n, lists[k])) {
      char *end = NULL;
      if (at[n] != '[')
        continue;
      long i = strtol(at + n + 1, &end, 10);
      n_named++;
      if (i < 0 || i > (long)PIECES_MAX || *end != ']' || !is_past(plan, lists[k], (int)i, is_of_length))
        return false;
    }
  }
  return n_named > 0;
}

void pw_judge_find(struct pw_judge *judge, const char *label, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  char *raw = pw_arena_vprintf(judge->ctx->arena, format, args);
  va_end(args);
  if (raw && is_history(judge, label, raw))
    return;
  judge->n_findings++;
  char *text = raw ? pw_text_line(judge->ctx->arena, raw) : NULL;
  if (text) {
    size_t n = strlen(text), i = 0;
    uint32_t cp;
    while (i < n && i < FINDING_MAX)
      i += pw_utf8_next(text + i, n - i, &cp);
    text[i] = '\0';
  }
  pw_diag_add(judge->ctx, PW_ERROR, label, judge->file, 0, 0, "%s", text ? text : "(out of memory)");
}

/* ---- the reader ------------------------------------------------------------------------------------ */

void pw_seen_find(struct pw_plan_reader *r, const char *path, const char *key, const char *words, const char *detail)
{
  r->plan->is_bad[r->part] = true;
  pw_judge_find(r->judge, "J0", "%s%s%s: %s%s", path, *path && *key ? "." : "", key, words, detail);
}

void *pw_seen_array(struct pw_plan_reader *r, size_t n, size_t size)
{
  void *items = pw_arena_array(r->arena, n, size);
  if (!items)
    r->has_no_memory = true;
  return items;
}

static const char *path_of(struct pw_plan_reader *r, const char *path, const char *key, size_t i)
{
  const char *text = pw_arena_printf(r->arena, "%s%s%s[%zu]", path, *path ? "." : "", key, i);
  if (!text)
    r->has_no_memory = true;
  return text ? text : key;
}

/* ---- fields ------------------------------------------------------------------------------------------ */

#define PUT(base, at, type) (*(type *)(void *)((char *)(base) + (at)))

bool pw_seen_is_whole(const struct pw_json *v)
{
  return v->type == PW_JSON_INT || (v->type == PW_JSON_REAL && v->real == floor(v->real) && fabs(v->real) < 1e15);
}

static bool is_number(const struct pw_json *v) { return v->type == PW_JSON_INT || v->type == PW_JSON_REAL; }

static void find_range(struct pw_plan_reader *r, const char *path, const struct pw_seen_field *f)
{
  const char *range = pw_arena_printf(r->arena, "%.10g to %.10g", f->least, f->most);
  pw_seen_find(r, path, f->key, "must be within ", range ? range : "its range");
}

static void read_number(struct pw_plan_reader *r, const char *path, const struct pw_seen_field *f,
                        const struct pw_json *v, void *base)
{
  bool is_int = f->kind == PW_SEEN_COUNT || f->kind == PW_SEEN_MONEY;
  if (is_int ? !pw_seen_is_whole(v) : !is_number(v)) {
    pw_seen_find(r, path, f->key, is_int ? "must be a whole number, not " : "must be a number, not ",
                 pw_json_type_words(v->type));
    return;
  }
  if (v->real < f->least || v->real > f->most) {
    find_range(r, path, f);
    return;
  }
  if (f->kind == PW_SEEN_MONEY)
    PUT(base, f->at, int64_t) = v->type == PW_JSON_INT ? v->integer : (int64_t)v->real;
  else if (is_int)
    PUT(base, f->at, int) = (int)v->real;
  else
    PUT(base, f->at, double) = v->real;
}

static void read_pair(struct pw_plan_reader *r, const char *path, const struct pw_seen_field *f,
                      const struct pw_json *v, void *base)
{
  if (v->type != PW_JSON_ARRAY || v->n != 2 || !is_number(&v->items[0]) || !is_number(&v->items[1])) {
    pw_seen_find(r, path, f->key, "must be a list of two numbers", "");
    return;
  }
  double *out = &PUT(base, f->at, double);
  for (int k = 0; k < 2; k++) {
    if (v->items[k].real < f->least || v->items[k].real > f->most) {
      find_range(r, path, f);
      return;
    }
    out[k] = v->items[k].real;
  }
}

static void read_choice(struct pw_plan_reader *r, const char *path, const struct pw_seen_field *f,
                        const struct pw_json *v, void *base)
{
  for (int i = 0; f->choices[i]; i++)
    if (strcmp(v->text, f->choices[i]) == 0) {
      PUT(base, f->at, int) = i;
      return;
    }
  struct pw_buf list = pw_buf_in(r->arena);
  for (int i = 0; f->choices[i]; i++) {
    pw_buf_add(&list, i ? ", " : "");
    pw_buf_add(&list, f->choices[i]);
  }
  const char *choices = pw_buf_text(&list);
  pw_seen_find(r, path, f->key, "must be one of ", choices ? choices : "its choices");
}

static void read_field(struct pw_plan_reader *r, const char *path, const struct pw_seen_field *f,
                       const struct pw_json *v, void *base)
{
  if (!v || (f->is_optional && v->type == PW_JSON_NULL)) {
    if (!f->is_optional)
      pw_seen_find(r, path, f->key, "is missing", "");
    return;
  }
  switch (f->kind) {
  case PW_SEEN_TEXT:
  case PW_SEEN_CHOICE:
    if (v->type != PW_JSON_TEXT)
      pw_seen_find(r, path, f->key, "must be a text, not ", pw_json_type_words(v->type));
    else if (f->kind == PW_SEEN_CHOICE)
      read_choice(r, path, f, v, base);
    else if (*v->text == '\0' || pw_utf8_length(v->text) > PW_TEXT_MADE_MAX)
      pw_seen_find(r, path, f->key, *v->text ? "is far too long for a text of a plan" : "must not be empty", "");
    else
      PUT(base, f->at, const char *) = v->text;
    return;
  case PW_SEEN_FLAG:
    if (v->type != PW_JSON_BOOL)
      pw_seen_find(r, path, f->key, "must be true or false, not ", pw_json_type_words(v->type));
    else
      PUT(base, f->at, int) = (int)v->integer;
    return;
  case PW_SEEN_PAIR:
    read_pair(r, path, f, v, base);
    return;
  case PW_SEEN_COUNT:
  case PW_SEEN_MONEY:
  case PW_SEEN_REAL:
    read_number(r, path, f, v, base);
    return;
  }
}

void pw_seen_fields(struct pw_plan_reader *r, const char *path, const struct pw_json *object,
                    const struct pw_seen_field *fields, void *base)
{
  if (object->type != PW_JSON_OBJECT) {
    pw_seen_find(r, path, "", "must be an object, not ", pw_json_type_words(object->type));
    return;
  }
  for (const struct pw_seen_field *f = fields; f->key; f++)
    read_field(r, path, f, pw_json_get(object, f->key), base);
}

/** Reads object[key]; returns the elements, their number in *n (-1: the key is missing). */
void *pw_seen_elements(struct pw_plan_reader *r, const char *path, const struct pw_json *object,
                       const struct pw_seen_list *list, int *n)
{
  const struct pw_json *v = pw_json_get(object, list->key);
  *n = v ? 0 : PW_SEEN_NONE;
  if (!v || v->type != PW_JSON_ARRAY) {
    if (v)
      pw_seen_find(r, path, list->key, "must be a list, not ", pw_json_type_words(v->type));
    else if (!list->is_optional)
      pw_seen_find(r, path, list->key, "is missing", "");
    return pw_seen_array(r, 0, 1);
  }
  if (v->n > list->most) {
    const char *most = pw_arena_printf(r->arena, "%zu", list->most);
    pw_seen_find(r, path, list->key, "must have no more elements than ", most ? most : "a plan has");
    return pw_seen_array(r, 0, 1);
  }
  char *items = pw_seen_array(r, v->n, list->size);
  if (!items)
    return NULL;
  *n = (int)v->n;
  for (size_t i = 0; i < v->n && !r->has_no_memory; i++) {
    void *element = items + i * list->size;
    if (list->blank)
      memcpy(element, list->blank, list->size);
    const char *where = path_of(r, path, list->key, i);
    pw_seen_fields(r, where, &v->items[i], list->fields, element);
    if (list->more && v->items[i].type == PW_JSON_OBJECT)
      list->more(r, where, &v->items[i], element);
  }
  return items;
}

int *pw_seen_numbers(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                     int wanted, int *n)
{
  const struct pw_json *v = pw_json_get(object, key);
  bool is_good =
      v && v->type == PW_JSON_ARRAY && (wanted == PW_SEEN_NONE ? v->n <= (size_t)PIECES_MAX : v->n == (size_t)wanted);
  for (size_t i = 0; is_good && i < v->n; i++)
    is_good = pw_seen_is_whole(&v->items[i]) && v->items[i].real >= 0 && v->items[i].real < PIECES_MAX;
  *n = PW_SEEN_NONE;
  if (!is_good) {
    pw_seen_find(r, path, key, "must be a list with one number for each piece", "");
    return NULL;
  }
  int *numbers = pw_seen_array(r, v->n, sizeof *numbers);
  if (!numbers)
    return NULL;
  *n = (int)v->n;
  for (size_t i = 0; i < v->n; i++)
    numbers[i] = (int)v->items[i].real;
  return numbers;
}

/* ---- ids and references ---------------------------------------------------------------------------- */

static int name_order(const void *pa, const void *pb)
{
  const struct pw_seen_id *a = pa, *b = pb;
  int c = strcmp(a->text, b->text);
  return c ? c : (a->index > b->index) - (a->index < b->index);
}

void pw_seen_names(struct pw_plan_reader *r, const struct pw_seen_list *list, enum pw_seen_part to, const void *items,
                   size_t n, int base, bool may_repeat)
{
  struct pw_seen_ids *ids = &r->of[to];
  size_t old = ids->n;
  struct pw_seen_id *sorted = pw_seen_array(r, old + n, sizeof *sorted);
  if (!sorted)
    return;
  if (old)
    memcpy(sorted, ids->items, old * sizeof *sorted);
  ids->items = sorted;
  for (size_t i = 0; i < n; i++) {
    const char *text;
    memcpy(&text, (const char *)items + i * list->size + list->id_at, sizeof text);
    if (text) /* else it is missing, and that was said */
      sorted[ids->n++] = (struct pw_seen_id){text, base + (int)i};
  }
  if (ids->n > 1)
    qsort(sorted, ids->n, sizeof *sorted, name_order);
  for (size_t i = 1; i < ids->n && !may_repeat; i++)
    if (strcmp(sorted[i].text, sorted[i - 1].text) == 0 && sorted[i].index >= base)
      pw_seen_find(r, path_of(r, "", list->key, (size_t)(sorted[i].index - base)), "",
                   "this name is there already: ", sorted[i].text);
}

int pw_seen_look_up(const struct pw_seen_ids *ids, const char *text)
{
  size_t lo = 0, hi = ids->n;
  while (lo < hi) {
    size_t mid = (lo + hi) / 2;
    if (strcmp(ids->items[mid].text, text) < 0)
      lo = mid + 1;
    else
      hi = mid;
  }
  return lo < ids->n && strcmp(ids->items[lo].text, text) == 0 ? ids->items[lo].index : PW_SEEN_NONE;
}

/** Index of the element that object[key] names; a finding and PW_SEEN_NONE when there is none. */
int pw_seen_refer(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                  enum pw_seen_part to, const char *what)
{
  const struct pw_json *v = pw_json_get(object, key);
  int index = v && v->type == PW_JSON_TEXT ? pw_seen_look_up(&r->of[to], v->text) : PW_SEEN_NONE;
  if (!v)
    pw_seen_find(r, path, key, "is missing", "");
  else if (v->type != PW_JSON_TEXT)
    pw_seen_find(r, path, key, "must be a text, not ", pw_json_type_words(v->type));
  else if (index == PW_SEEN_NONE) {
    const char *words = pw_arena_printf(r->arena, "there is no %s ", what);
    pw_seen_find(r, path, key, words ? words : "there is no ", v->text);
  }
  return index;
}
