/* edits.c - can the judge be talked round?  edits [-v] [-s STEP] PLAN.json ...  Takes good plans, changes every number in turn
 * (times + 30 min, counts + 1, all others x 1.1), turns every yes into a no, takes every entry out of every list, and asks the
 * judge.  In: plan files that hold.  Out: how many edits of each plan pass, by kind (-v: each kind).  Exit status 1 when more than
 * PASS_MOST of a plan's edits pass, when one passes that the judge does not say it takes on trust (plan_check_trust.c), or when
 * it says so of what it finds out each time.  -s STEP: every STEP-th edit only, and nothing is said about what is found. */
#define _POSIX_C_SOURCE 200809L
#include "base/arena.h"
#include "base/ctx.h"
#include "judge/plan_check.h"
#include "judge/plan_check_trust.h"

#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PASS_MOST 0.10 /* of a plan's edits */
enum { PATH_MAX_N = 300, SHORTEST_MIN = 30 };

enum op { OP_NUMBER, OP_FLIP, OP_REMOVE, OP__COUNT };
static const char *const op_words[] = {"", "! ", "- "};

struct edit {
  enum op op;
  int kind;
  size_t from, to; /**< bytes of the text that go */
  char with[40];   /**< come in their place */
  char path[PATH_MAX_N];
};

struct kind {
  char name[PATH_MAX_N]; /**< "lots[].pieces", "- tasks[]", "! cores[].is_raw" */
  long tried, passed;    /**< of the plan at hand */
  long ever, whole;      /**< tried, passed, of all plans */
  char example[PATH_MAX_N];
};

static struct edit *edits;
static size_t n_edits, cap_edits;
static struct kind *kinds;
static int n_kinds, cap_kinds;

static void *grown(void *items, size_t n, size_t size)
{
  void *more = realloc(items, n * size);
  if (!more)
    abort();
  return more;
}

static int kind_of(enum op op, const char *pattern)
{
  char name[PATH_MAX_N];
  snprintf(name, sizeof name, "%s%s", op_words[op], pattern);
  for (int k = 0; k < n_kinds; k++)
    if (strcmp(kinds[k].name, name) == 0)
      return k;
  if (n_kinds == cap_kinds)
    kinds = grown(kinds, (size_t)(cap_kinds = cap_kinds * 2 + 64), sizeof *kinds);
  memset(&kinds[n_kinds], 0, sizeof *kinds);
  memcpy(kinds[n_kinds].name, name, sizeof name);
  return n_kinds++;
}

static struct edit *edit_new(enum op op, const char *path, const char *pattern, size_t from, size_t to)
{
  if (n_edits == cap_edits)
    edits = grown(edits, cap_edits = cap_edits * 2 + 1024, sizeof *edits);
  struct edit *e = &edits[n_edits++];
  memset(e, 0, sizeof *e);
  e->op = op;
  e->kind = kind_of(op, pattern);
  e->from = from;
  e->to = to;
  snprintf(e->path, sizeof e->path, "%s", path);
  return e;
}

/* ---- the text ------------------------------------------------------------------------------------------------ */

static const char *text;
static size_t at, n_text;

static void blanks(void)
{
  while (at < n_text && isspace((unsigned char)text[at]))
    at++;
}

static void skip_string(void)
{
  for (at++; at < n_text && text[at] != '"'; at++)
    at += text[at] == '\\';
  at++;
}

static bool ends_in(const char *word, const char *end)
{
  size_t n = strlen(word), k = strlen(end);
  return n >= k && strcmp(word + n - k, end) == 0;
}

/** The other number: a time half an hour later, a count one more, anything else a tenth more (nothing: one). */
static void another_number(char *with, size_t cap, const char *was, const char *path)
{
  bool is_whole = strpbrk(was, ".eE") == NULL;
  double x = strtod(was, NULL);
  if (ends_in(path, "_min") && is_whole)
    snprintf(with, cap, "%.0f", x + SHORTEST_MIN);
  else if (is_whole && !ends_in(path, "_cents"))
    snprintf(with, cap, "%.0f", x + 1);
  else if (is_whole) {
    double tenth = x * 1.1;
    tenth = tenth >= 0 ? (double)(long long)(tenth + 0.5) : -(double)(long long)(0.5 - tenth);
    snprintf(with, cap, "%.0f", tenth == x ? x + 1 : tenth);
  } else
    snprintf(with, cap, "%.12g", x == 0 ? 1 : x * 1.1);
}

static void value(const char *path, const char *pattern);

static void object(const char *path, const char *pattern)
{
  char inner[PATH_MAX_N], inner_pattern[PATH_MAX_N];
  at++;
  for (blanks(); at < n_text && text[at] != '}'; blanks()) {
    size_t from = at + 1;
    skip_string();
    int n = (int)(at - 1 - from);
    snprintf(inner, sizeof inner, "%s%s%.*s", path, *path ? "." : "", n, text + from);
    /* classes of guests are named by the event */
    if (ends_in(pattern, "].guests") && strncmp(pattern, "services", 8) == 0)
      snprintf(inner_pattern, sizeof inner_pattern, "%s.*", pattern);
    else
      snprintf(inner_pattern, sizeof inner_pattern, "%s%s%.*s", pattern, *pattern ? "." : "", n, text + from);
    blanks();
    at++; /* the colon */
    blanks();
    value(inner, inner_pattern);
    blanks();
    at += at < n_text && text[at] == ',';
  }
  at++;
}

static void array(const char *path, const char *pattern)
{
  char inner[PATH_MAX_N], inner_pattern[PATH_MAX_N];
  snprintf(inner_pattern, sizeof inner_pattern, "%s[]", pattern);
  size_t before = at++;
  int i = 0;
  for (blanks(); at < n_text && text[at] != ']'; i++) {
    snprintf(inner, sizeof inner, "%s[%d]", path, i);
    size_t from = at;
    struct edit *e = edit_new(OP_REMOVE, inner, inner_pattern, i ? before : from, 0);
    size_t mine = (size_t)(e - edits);
    value(inner, inner_pattern);
    edits[mine].to = at;
    blanks();
    before = at;
    if (at < n_text && text[at] == ',') {
      at++;
      blanks();
      if (i == 0)
        edits[mine].to = at;
    }
  }
  at++;
}

static void value(const char *path, const char *pattern)
{
  size_t from = at;
  switch (text[at]) {
  case '{':
    object(path, pattern);
    return;
  case '[':
    array(path, pattern);
    return;
  case '"':
    skip_string();
    return;
  default:
    break;
  }
  while (at < n_text && !strchr(",]} \n\r\t", text[at]))
    at++;
  char was[40];
  snprintf(was, sizeof was, "%.*s", (int)(at - from), text + from);
  if (was[0] == 't' || was[0] == 'f')
    snprintf(edit_new(OP_FLIP, path, pattern, from, at)->with, 40, "%s", was[0] == 't' ? "false" : "true");
  else if (was[0] == '-' || isdigit((unsigned char)was[0]))
    another_number(edit_new(OP_NUMBER, path, pattern, from, at)->with, 40, was, path);
}

/* ---- the judge -------------------------------------------------------------------------------------------------- */

static bool holds(const char *plan, size_t n, bool is_loud)
{
  struct pw_ctx *ctx = calloc(1, sizeof *ctx);
  if (!ctx || !(ctx->arena = pw_arena_open()))
    abort();
  int n_findings = 0;
  pw_status status = pw_plan_check_text("plan", plan, n, &n_findings, ctx);
  for (int i = 0; is_loud && i < ctx->n_diags; i++)
    fprintf(stderr, "[%s] %s\n", ctx->diags[i].code, ctx->diags[i].text);
  pw_arena_close(ctx->arena);
  free(ctx);
  return status == PW_OK && n_findings == 0;
}

static char *whole_file(const char *path, size_t *n)
{
  FILE *f = fopen(path, "rb");
  if (!f || fseek(f, 0, SEEK_END) != 0)
    return NULL;
  long size = ftell(f);
  rewind(f);
  char *all = size >= 0 ? calloc(1, (size_t)size + 1) : NULL;
  *n = all ? fread(all, 1, (size_t)size, f) : 0;
  fclose(f);
  return all;
}

static const char *reason_of(const struct kind *k)
{
  for (int i = 0; i < pw_plan_check_n_trusted; i++)
    if (strcmp(pw_plan_check_trusted[i].kind, k->name) == 0)
      return pw_plan_check_trusted[i].reason;
  return NULL;
}

static int by_passed(const void *pa, const void *pb)
{
  const struct kind *a = pa, *b = pb;
  if (a->passed != b->passed)
    return a->passed > b->passed ? -1 : 1;
  return strcmp(a->name, b->name);
}

/** One plan: 0 when it may stand. */
static int try_plan(const char *path, size_t step, bool is_loud)
{
  size_t n;
  char *all = whole_file(path, &n);
  if (!all) {
    fprintf(stderr, "edits: %s cannot be read\n", path);
    return 1;
  }
  if (!holds(all, n, true)) {
    fprintf(stderr, "edits: %s does not hold to begin with\n", path);
    free(all);
    return 1;
  }
  for (int k = 0; k < n_kinds; k++)
    kinds[k].tried = kinds[k].passed = 0;
  n_edits = at = 0;
  text = all;
  n_text = n;
  blanks();
  value("", "");
  long tried = 0, passed = 0;
  char *edited = malloc(n + 64);
  if (!edited)
    abort();
  for (size_t i = 0; i < n_edits; i += step) {
    const struct edit *e = &edits[i];
    size_t n_with = strlen(e->with);
    memcpy(edited, all, e->from);
    memcpy(edited + e->from, e->with, n_with);
    memcpy(edited + e->from + n_with, all + e->to, n - e->to);
    struct kind *k = &kinds[e->kind];
    bool is_passed = holds(edited, e->from + n_with + n - e->to, false);
    tried++;
    k->tried++;
    k->ever++;
    if (!is_passed)
      continue;
    passed++;
    k->passed++;
    if (k->whole++ == 0 || k->passed == 1)
      memcpy(k->example, e->path, sizeof k->example);
  }
  free(edited);
  free(all);
  printf("%s: %ld of %ld edits pass, %.1f %%\n", path, passed, tried,
         tried ? 100.0 * (double)passed / (double)tried : 0);
  if (is_loud) {
    struct kind *sorted = grown(NULL, (size_t)n_kinds + 1, sizeof *sorted);
    memcpy(sorted, kinds, (size_t)n_kinds * sizeof *sorted);
    qsort(sorted, (size_t)n_kinds, sizeof *sorted, by_passed);
    for (int i = 0; i < n_kinds && sorted[i].passed; i++)
      printf("  %5ld of %5ld  %-48s %s%s\n", sorted[i].passed, sorted[i].tried, sorted[i].name,
             reason_of(&sorted[i]) ? "trusted " : "", sorted[i].example);
    free(sorted);
  }
  bool is_many = step == 1 && (double)passed > PASS_MOST * (double)tried;
  if (is_many)
    printf("  more than %.0f %% pass\n", 100 * PASS_MOST);
  return is_many;
}

int main(int argc, char **argv)
{
  size_t step = 1;
  bool is_loud = false;
  int bad = 0, i = 1;
  for (; i < argc && argv[i][0] == '-'; i++)
    if (strcmp(argv[i], "-v") == 0)
      is_loud = true;
    else if (strcmp(argv[i], "-s") == 0 && i + 1 < argc)
      step = (size_t)strtoul(argv[++i], NULL, 10);
  if (step == 0 || i == argc) {
    fputs("usage: edits [-v] [-s STEP] PLAN.json ...\n", stderr);
    return 2;
  }
  for (; i < argc; i++)
    bad += try_plan(argv[i], step, is_loud);
  for (int k = 0; k < n_kinds; k++)
    if (kinds[k].whole > 0 && !reason_of(&kinds[k])) {
      printf("passes, and is not taken on trust: %s (%s)\n", kinds[k].name, kinds[k].example);
      bad++;
    }
  for (int t = 0; t < pw_plan_check_n_trusted && step == 1; t++) {
    long whole = 0, ever = 0;
    for (int k = 0; k < n_kinds; k++)
      if (strcmp(kinds[k].name, pw_plan_check_trusted[t].kind) == 0) {
        whole += kinds[k].whole;
        ever += kinds[k].ever;
      }
    if (ever > 0 && whole == 0) {
      printf("said to be taken on trust, and found each time: %s\n", pw_plan_check_trusted[t].kind);
      bad++;
    }
  }
  free(edits);
  free(kinds);
  return bad ? 1 : 0;
}
