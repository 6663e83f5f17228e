/* fuzz.c - what a fuzzer, or the replay of its kept finds, feeds the program with.
 * FUZZ_TARGET picks one of: quantity, event (beside a small catalog), job (an event beside the default catalogs), catalog,
 * plan, whole, log (the day's log of a small job).  Each must end without a crash, a sanitizer's word or a broken promise (checked with trap()), whatever the
 * bytes.  Under libFuzzer a mutator edits YAML and JSON by lines, blocks, keys and values as well as by bytes; FUZZ_WORDS
 * names a file of words, one a line, to put in.  With -DFUZZ_REPLAY a plain main() runs the files it is given, FUZZ_TARGET
 * by their folder. */
#define _GNU_SOURCE
#include "base/arena.h"
#include "base/buf.h"
#include "base/clock.h"
#include "base/text.h"
#include "base/units.h"
#include "day/state.h"
#include "judge/plan_check.h"
#include "read/raw.h"
#include "read/read.h"
#include "run.h"
#include "write/csv.h"
#include "write/html/html.h"
#include "write/ics.h"
#include "write/plan_json.h"
#include "write/text/text_sheets.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t n);
int LLVMFuzzerInitialize(int *argc, char ***argv);

static struct pw_catalog g_catalog, g_full; /* a small one and the default ones, each read once */
static const char *g_event;                 /* a sound event, for the catalog target */
static size_t g_event_n;

static void trap(const char *promise)
{
  fprintf(stderr, "broken promise: %s\n", promise);
  abort();
}

static struct pw_ctx *fresh(struct pw_ctx *ctx)
{
  *ctx = (struct pw_ctx){.arena = pw_arena_open()};
  if (!ctx->arena)
    exit(1);
  return ctx;
}

/* Every fault has a word for the person, and a failure has a fault. */
static void look_at_diags(pw_status status, const struct pw_ctx *ctx)
{
  if ((status == PW_OK) == (ctx->n_errors > 0))
    trap("a status agrees with its diagnostics");
  for (int i = 0; i < ctx->n_diags; i++)
    if (!ctx->diags[i].text || !*ctx->diags[i].text || !ctx->diags[i].code)
      trap("a diagnostic says something");
}

static void try_quantity(const uint8_t *data, size_t n)
{
  char text[256], why[300];
  if (n < 1 || n >= sizeof text)
    return;
  memcpy(text, data + 1, n - 1);
  text[n - 1] = '\0';
  enum pw_dim dim = (enum pw_dim)(data[0] % PW_DIM__COUNT);
  double si = NAN;
  if (!pw_quantity_parse(text, dim, &si, why, sizeof why) && !isfinite(si))
    trap("a quantity that is read is finite");
  double rate = NAN;
  if (!pw_rate_parse(text, dim, data[0] % 4, &rate, why, sizeof why) && (!isfinite(rate) || rate < 0))
    trap("a rate that is read is finite and not negative");
  pw_cents cents = -1;
  if (pw_cents_parse(text, data[0] % 4, &cents) == PW_MONEY_OK && (cents < 0 || cents > 1000000000000))
    trap("money that is read is in range");
  struct pw_decimal d;
  const char *end = NULL;
  if (pw_decimal_scan(text, &d, &end) == PW_NUM_OK && (end <= text || d.digits > 999999999999999 || d.scale > 15))
    trap("a decimal has at most 15 digits");
  int whole = 0;
  if (pw_int_parse(text, -50, 5000, &whole) && (whole < -50 || whole > 5000))
    trap("a whole number is in range");
  struct pw_date date;
  if (pw_date_parse(text, &date)) {
    struct pw_date back = pw_date_from_days(pw_date_to_days(date));
    if (back.year != date.year || back.month != date.month || back.day != date.day)
      trap("a date and its number of days are one");
  }
}

static void read_beside(const struct pw_catalog *catalog, const uint8_t *data, size_t n)
{
  struct pw_ctx ctx;
  struct pw_event *ev = NULL;
  pw_status status = pw_event_read_with(&ev, "event.yaml", (const char *)data, n, catalog, fresh(&ctx));
  look_at_diags(status, &ctx);
  if ((status == PW_OK) != (ev != NULL))
    trap("an event exactly when all is well");
  pw_arena_close(ctx.arena);
}

static void try_event(const uint8_t *data, size_t n) { read_beside(&g_catalog, data, n); }
static void try_job(const uint8_t *data, size_t n) { read_beside(&g_full, data, n); }

static void try_catalog(const uint8_t *data, size_t n)
{
  struct pw_ctx ctx;
  struct pw_reader r = {.ctx = fresh(&ctx), .money_digits = 2};
  struct pw_catalog catalog;
  struct pw_event *ev = NULL;
  if (pw_catalog_read_text(&catalog, "cuts.yaml", (const char *)data, n, &r) != PW_OK)
    trap("memory lasts");
  look_at_diags(pw_event_read_with(&ev, "event.yaml", g_event, g_event_n, &catalog, &ctx), &ctx);
  pw_arena_close(ctx.arena);
}

static void try_plan(const uint8_t *data, size_t n)
{
  struct pw_ctx ctx;
  int n_findings = 0;
  pw_status status = pw_plan_check_text("plan.json", (const char *)data, n, &n_findings, fresh(&ctx));
  if (status == PW_OK && n_findings > 0 && ctx.n_errors == 0)
    trap("a finding is said");
  if (status != PW_OK && ctx.n_errors == 0)
    trap("a failure is said");
  pw_arena_close(ctx.arena);
}

static bool is_small(const struct pw_event *ev)
{
  double guests = 0;
  for (int s = 0; s < ev->n_services; s++)
    for (int k = 0; k < ev->n_classes; k++)
      guests += ev->services[s].guests[k];
  return guests <= 200 && ev->n_services <= 3 && ev->n_pits <= 4;
}

static void try_whole(const uint8_t *data, size_t n)
{
  struct pw_ctx ctx;
  struct pw_event *ev = NULL;
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK, .seconds = 0.2};
  if (pw_event_read_with(&ev, "event.yaml", (const char *)data, n, &g_catalog, fresh(&ctx)) == PW_OK && is_small(ev)) {
    pw_status status = pw_run_plan(&plan, ev, &options, &ctx);
    if (status == PW_ERR_INTERNAL) {
      for (int i = 0; i < ctx.n_diags; i++)
        fprintf(stderr, "%s: %s\n", ctx.diags[i].code, ctx.diags[i].text);
      trap("a plan passes its judge");
    }
    if (status != PW_OK && status != PW_ERR_MEMORY)
      look_at_diags(status, &ctx);
    if (status == PW_OK) {
      pw_status (*const writers[])(struct pw_buf *, const struct pw_plan *, struct pw_ctx *) = {
          pw_text_quote_customer, pw_text_quote_owner,    pw_text_buy,      pw_text_plan,           pw_text_shift,
          pw_html_crew_write,     pw_html_customer_write, pw_ics_all_write, pw_csv_purchases_write, pw_csv_tasks_write};
      for (size_t i = 0; i < sizeof writers / sizeof *writers; i++) {
        struct pw_buf buf = pw_buf_in(ctx.arena);
        if (writers[i](&buf, plan, &ctx) != PW_OK || !pw_buf_text(&buf))
          trap("a plan can be written");
      }
    }
  }
  pw_arena_close(ctx.arena);
}

static struct pw_plan *g_plan; /* of a small job, for logs of its day; made when first asked for */
static struct pw_names g_names;

static void plan_load(void)
{
  static struct pw_ctx ctx;
  struct pw_event *ev = NULL;
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK};
  if (g_plan)
    return;
  if (pw_event_read_with(&ev, "event.yaml", g_event, g_event_n, &g_catalog, fresh(&ctx)) != PW_OK ||
      pw_run_plan(&g_plan, ev, &options, &ctx) != PW_OK || pw_names_make(&g_names, g_plan, &ctx) != PW_OK)
    exit(1);
}

/* A log: lines that are read say the same when written and read again; a day that can have been is a state. */
static void try_log(const uint8_t *data, size_t n)
{
  struct pw_ctx ctx, other;
  struct pw_log log, again;
  struct pw_state state;
  plan_load();
  pw_status status = pw_log_read(&log, "day.log", (const char *)data, n, &g_names, fresh(&ctx));
  look_at_diags(status, &ctx);
  struct pw_buf buf = pw_buf_in(ctx.arena);
  for (size_t i = 0; i < log.n; i++) {
    pw_log_line_write(&buf, &log.lines[i], &g_names);
    pw_buf_add_char(&buf, '\n');
  }
  if (status == PW_OK && log.n > 0) {
    if (pw_log_read(&again, "day.log", buf.bytes, buf.n, &g_names, fresh(&other)) != PW_OK || again.n != log.n)
      trap("a line that was read can be written and read again");
    for (size_t i = 0; i < log.n; i++)
      if (again.lines[i].at_min != log.lines[i].at_min || again.lines[i].verb != log.lines[i].verb ||
          again.lines[i].lot != log.lines[i].lot || again.lines[i].count != log.lines[i].count)
        trap("a line says the same when read again");
    pw_arena_close(other.arena);
    if (pw_state_make(&state, g_plan, &log, &g_names, log.now_min, &ctx) == PW_OK) {
      struct pw_buf sheet = pw_buf_in(ctx.arena);
      if (pw_state_write(&sheet, &state, &ctx) != PW_OK)
        trap("a state can be written");
    }
  }
  pw_arena_close(ctx.arena);
}

static const struct {
  const char *name;
  void (*run)(const uint8_t *, size_t);
} TARGETS[] = {
    {"quantity", try_quantity}, {"event", try_event}, {"catalog", try_catalog}, {"plan", try_plan},
    {"whole", try_whole},       {"job", try_job},     {"log", try_log},
};
enum { QUANTITY, PLAN = 3, N_TARGETS = sizeof TARGETS / sizeof *TARGETS };
static int g_target;

static char *slurp(const char *path, size_t *n)
{
  FILE *f = fopen(path, "rb");
  char *bytes = malloc(1 << 21);
  if (!f || !bytes) {
    fprintf(stderr, "cannot read %s\n", path);
    exit(1);
  }
  *n = fread(bytes, 1, (1 << 21) - 1, f);
  bytes[*n] = '\0';
  fclose(f);
  return bytes;
}

static void pick_target(const char *name)
{
  for (g_target = 0; g_target < N_TARGETS; g_target++)
    if (strcmp(TARGETS[g_target].name, name) == 0)
      return;
  fprintf(stderr, "no target %s\n", name);
  exit(2);
}

/* The small catalog of the cases, all of it as one text, and an event that goes with it; the default ones. */
static void catalogs_load(void)
{
  static const char *const parts[] = {"cuts", "dishes", "items", "pits", "finishers", "fuels"};
  static char all[1 << 16];
  static struct pw_ctx ctx, ctx_full;
  struct pw_reader r = {.ctx = fresh(&ctx), .money_digits = 2}, r_full = {.ctx = fresh(&ctx_full), .money_digits = 2};
  size_t used = 0, n;
  for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
    char path[64];
    snprintf(path, sizeof path, "tests/cases/catalog/%s.yaml", parts[i]);
    char *text = slurp(path, &n);
    if (used + n > sizeof all)
      exit(1);
    memcpy(all + used, text, n);
    used += n;
    free(text);
  }
  if (pw_catalog_read_text(&g_catalog, "catalog.yaml", all, used, &r) != PW_OK || ctx.n_errors > 0)
    exit(1);
  if (pw_catalog_read(&g_full, "templates", &r_full) != PW_OK || ctx_full.n_errors > 0)
    exit(1);
  g_event = slurp("tests/cases/plain/event.yaml", &g_event_n);
}

/* What the mutator puts in; the program's own keys and words, from its schemas, come behind. */
static const char *g_words[4096] = {
    "0",
    "1",
    "-1",
    "50000",
    "0.001",
    "1e9",
    "~",
    "null",
    "true",
    "false",
    "[]",
    "{}",
    "\"\"",
    "\"00:00\"",
    "\"23:59\"",
    "\"2027-03-14 02:30\"",
    "2028-02-29",
    "2027-12-31",
    "0 %",
    "100 %",
    "0 min",
    "1 min",
    "48 h",
    "1 lb",
    "0 kg",
    "999 kg",
    "-40 C",
    "1000 F",
    "0 in",
    "100 m",
    "0 C",
    "1 each",
    "3 per h",
    "0.00 per kg",
    "9999.99 per h",
    "UTC",
    "America/Chicago",
    "Europe/Berlin",
    "Australia/Lord_Howe",
    "USD",
    "JPY",
    "KWD",
    "us",
    "si",
    "buffet",
    "plated",
    "sliced",
    "pulled",
    "whole",
    "0.5",
    "1.999999",
    "9007199254740993",
    "0.1 mm",
    "3000 m",
    "kg",
    "guest",
    "event",
    "piece",
    "&a",
    "*a",
    "!!str x",
};
static size_t g_n_words;

static void words_load(const char *path)
{
  while (g_words[g_n_words])
    g_n_words++;
  size_t n;
  for (char *at = path ? slurp(path, &n) : NULL, *end; at && *at && g_n_words < 4096; at = end + 1) {
    end = strchr(at, '\n');
    if (!end)
      break;
    *end = '\0';
    g_words[g_n_words++] = at;
  }
}

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
  (void)argc;
  (void)argv;
  const char *name = getenv("FUZZ_TARGET");
  if (name)
    pick_target(name);
  catalogs_load();
  words_load(getenv("FUZZ_WORDS"));
  return 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t n)
{
  TARGETS[g_target].run(data, n);
  return 0;
}

#ifdef FUZZ_REPLAY

/* Files "…/TARGET/name"; says how many of each target ran. */
int main(int argc, char **argv)
{
  int n_run[N_TARGETS] = {0};
  LLVMFuzzerInitialize(&argc, &argv);
  for (int i = 1; i < argc; i++) {
    char folder[256];
    snprintf(folder, sizeof folder, "%s", argv[i]);
    char *slash = strrchr(folder, '/');
    if (slash)
      *slash = '\0';
    char *name = strrchr(folder, '/');
    pick_target(name ? name + 1 : folder);
    size_t n;
    char *bytes = slurp(argv[i], &n);
    uint8_t *exact = malloc(n ? n : 1); /* so that a sanitizer sees the end */
    if (!exact)
      return 1;
    memcpy(exact, bytes, n);
    free(bytes);
    LLVMFuzzerTestOneInput(exact, n);
    free(exact);
    n_run[g_target]++;
  }
  for (int t = 0; t < N_TARGETS; t++)
    printf("%s%s %d", t ? ", " : "", TARGETS[t].name, n_run[t]);
  putchar('\n');
  return 0;
}

#else

/* ---- the mutator: lines, blocks, keys, values --------------------------------------------------------------------------- */

size_t LLVMFuzzerMutate(uint8_t *data, size_t n, size_t max);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t n, size_t max, unsigned seed);
size_t LLVMFuzzerCustomCrossOver(const uint8_t *a, size_t n_a, const uint8_t *b, size_t n_b, uint8_t *out, size_t max,
                                 unsigned seed);

/* Start of a line picked by r, and its length with the line break. */
static size_t line_at(const uint8_t *data, size_t n, uint64_t r, size_t *len)
{
  size_t at = n ? r % n : 0, end;
  while (at > 0 && data[at - 1] != '\n')
    at--;
  for (end = at; end < n && data[end] != '\n'; end++)
    ;
  *len = (end < n ? end + 1 : end) - at;
  return at;
}

static size_t splice(uint8_t *data, size_t n, size_t max, size_t at, size_t gone, const void *bytes, size_t add)
{
  if (n - gone + add > max)
    return n;
  memmove(data + at + add, data + at + gone, n - at - gone);
  memcpy(data + at, bytes, add);
  return n - gone + add;
}

/* Length of the line at `at` and of all that follows it deeper: a block. */
static size_t block_at(const uint8_t *data, size_t n, size_t at)
{
  size_t deep = 0, end = at;
  while (at + deep < n && data[at + deep] == ' ')
    deep++;
  for (;;) {
    while (end < n && data[end] != '\n')
      end++;
    end += end < n;
    size_t blanks = 0;
    while (end + blanks < n && data[end + blanks] == ' ')
      blanks++;
    if (end >= n || blanks <= deep)
      return end - at;
  }
}

/* The value at or before `from` in a line: behind ": ", ", " or "- "; *len without what ends it. */
static size_t value_at(const uint8_t *data, size_t at, size_t line_len, size_t from, size_t *len)
{
  size_t stop;
  while (from > at && !(from >= at + 2 && data[from - 1] == ' ' && strchr(":,-", data[from - 2])))
    from--;
  for (stop = from; stop < at + line_len && !strchr(",}]\n", data[stop]); stop++)
    ;
  *len = stop - from;
  return from;
}

/* The key at or after `from`: letters before a colon; SIZE_MAX when the line has none there. */
static size_t key_at(const uint8_t *data, size_t at, size_t line_len, size_t from, size_t *len)
{
  size_t colon = from;
  while (colon < at + line_len && data[colon] != ':')
    colon++;
  if (colon == at + line_len)
    return SIZE_MAX;
  size_t first = colon;
  while (first > at && !strchr(" {,\"\n", data[first - 1]))
    first--;
  *len = colon - first;
  return first;
}

static uint64_t step(uint64_t *r) /* Knuth's congruential step, from memory */
{
  *r = *r * 6364136223846793005u + 1442695040888963407u;
  return *r >> 17;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t n, size_t max, unsigned seed)
{
  uint64_t r = seed;
  uint8_t kept[2048];
  if (g_target == QUANTITY || n < 4 || step(&r) % 16 < 4)
    return LLVMFuzzerMutate(data, n, max);
  size_t len, other, value, at = line_at(data, n, step(&r), &len), to = line_at(data, n, step(&r), &other);
  const char *word = g_words[step(&r) % g_n_words], *put = word;
  char quoted[128];
  if (g_target == PLAN && word[0] >= 'A' && strlen(word) < 120 && strcmp(word, "true") && strcmp(word, "false") &&
      strcmp(word, "null")) {
    snprintf(quoted, sizeof quoted, "\"%s\"", word);
    put = quoted;
  }
  size_t from = value_at(data, at, len, at + step(&r) % len, &value), block = block_at(data, n, at);
  switch (step(&r) % 12) {
  case 0: /* a line goes */
    return splice(data, n, max, at, len, "", 0);
  case 1: /* a block goes */
    return splice(data, n, max, at, block, "", 0);
  case 2: /* a block comes again elsewhere */
    if (block > sizeof kept)
      return LLVMFuzzerMutate(data, n, max);
    memcpy(kept, data + at, block);
    return splice(data, n, max, to, 0, kept, block);
  case 3: /* deeper or shallower */
    if (step(&r) % 2 && data[at] == ' ')
      return splice(data, n, max, at, 1, "", 0);
    return splice(data, n, max, at, 0, "  ", 2);
  case 4: { /* a key becomes another word */
    size_t key, where = key_at(data, at, len, at + step(&r) % len, &key);
    return where == SIZE_MAX ? LLVMFuzzerMutate(data, n, max) : splice(data, n, max, where, key, word, strlen(word));
  }
  case 5: { /* a new key with a value, as deep as this line */
    size_t blanks = 0;
    while (blanks < len && blanks < 40 && data[at + blanks] == ' ')
      blanks++;
    bool is_json = g_target == PLAN;
    int wrote = snprintf((char *)kept, sizeof kept, "%*s%s%.60s%s: %.200s%s\n", (int)blanks, "", is_json ? "\"" : "",
                         word, is_json ? "\"" : "", g_words[step(&r) % g_n_words], is_json ? "," : "");
    return splice(data, n, max, at, 0, kept, (size_t)wrote);
  }
  case 6: { /* a value from elsewhere in the text */
    size_t theirs, there = value_at(data, to, other, to + step(&r) % (other ? other : 1), &theirs);
    if (theirs > sizeof kept)
      return LLVMFuzzerMutate(data, n, max);
    memcpy(kept, data + there, theirs);
    return splice(data, n, max, from, value, kept, theirs);
  }
  case 7:
  case 8: { /* a number a little off, or far */
    static const double steps[] = {1, -1, 0.001, -0.001, 100, 1e6, 0.5, -60};
    char number[40], *end;
    snprintf(number, sizeof number, "%.*s", (int)(value < 39 ? value : 39), (const char *)data + from);
    double is = strtod(number, &end);
    size_t digits = (size_t)(end - number);
    if (digits == 0 || !isfinite(is))
      return splice(data, n, max, from, value, put, strlen(put));
    snprintf(number, sizeof number, "%.12g", step(&r) % 4 ? is + steps[step(&r) % 8] : is * 2);
    return splice(data, n, max, from, digits, number, strlen(number));
  }
  default: /* a value becomes another word */
    return splice(data, n, max, from, value, put, strlen(put));
  }
}

/* A block of one text put before a line of the other. */
size_t LLVMFuzzerCustomCrossOver(const uint8_t *a, size_t n_a, const uint8_t *b, size_t n_b, uint8_t *out, size_t max,
                                 unsigned seed)
{
  uint64_t r = seed;
  size_t len;
  if (n_a > max)
    return 0;
  memcpy(out, a, n_a);
  if (n_b == 0)
    return n_a;
  size_t from = line_at(b, n_b, step(&r), &len), to = line_at(out, n_a, step(&r), &len);
  return splice(out, n_a, max, to, 0, b + from, block_at(b, n_b, from));
}

#endif
