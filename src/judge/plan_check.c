/* plan_check.c - the judge's order of business: read, then every rule whose sections are whole.
 * In: the text of a plan file.  Out: diagnostics.  Shares no code with what made the plan. */
#include "judge/plan_check.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/json.h"
#include "base/outfile_steps.h"
#include "judge/plan_check_parts.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

const struct pw_seen_zone *pw_check_zone(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  return load->place < plan->n[PW_SEEN_ZONES] ? &plan->zones[load->place] : NULL;
}

const struct pw_seen_finisher *pw_check_finisher(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  return load->place < plan->n[PW_SEEN_ZONES] ? NULL : &plan->finishers[load->place - plan->n[PW_SEEN_ZONES]];
}

bool pw_check_is(const char *a, const char *b) { return a && b && strcmp(a, b) == 0; }

#define NEEDS(part)  (1u << PW_SEEN_##part)
#define NEEDS_PLACES (NEEDS(PITS) | NEEDS(RACKS) | NEEDS(ZONES) | NEEDS(FINISHERS))

static const struct rule {
  const char *labels;
  unsigned needs; /**< sections without which it cannot be tried */
  pw_status (*check)(struct pw_judge *judge, const struct pw_seen_plan *plan);
} rules[] = {
    {"J0", NEEDS(EVENT) | NEEDS(SERVICES) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(QUOTE), pw_check_event},
    {"J19", NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(TASKS) | NEEDS(WARNINGS) | NEEDS_PLACES, pw_check_now},
    {"J1-J4, J8", NEEDS(SERVICES) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(WARNINGS) | NEEDS_PLACES, pw_check_flow},
    {"J3-J5", NEEDS(LOTS) | NEEDS_PLACES, pw_check_places},
    {"J5", NEEDS(LOTS) | NEEDS(LOADS) | NEEDS_PLACES, pw_check_racks},
    {"J6", NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(SIDE_PANS) | NEEDS_PLACES, pw_check_room},
    {"J6", NEEDS(SIDE_PANS) | NEEDS(DEMAND) | NEEDS(SERVICES) | NEEDS(WARNINGS) | NEEDS_PLACES, pw_check_sides},
    {"J7", NEEDS(BURNS) | NEEDS(LOADS) | NEEDS_PLACES, pw_check_fire},
    {"J13", NEEDS(CORES) | NEEDS(RAWS) | NEEDS(EVENT) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(WARNINGS) | NEEDS_PLACES,
     pw_check_heat},
    {"J7", NEEDS(BURNS) | NEEDS(FUELS) | NEEDS(PITS), pw_check_fuel},
    {"J20", NEEDS(EVENT) | NEEDS(SERVICES) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS_PLACES, pw_check_chance},
    {"J16", NEEDS(BURNS) | NEEDS(LOADS) | NEEDS(VISITS) | NEEDS(TASKS) | NEEDS(WARNINGS) | NEEDS_PLACES,
     pw_check_doors},
    {"J9", NEEDS(LOTS) | NEEDS(PEOPLE) | NEEDS(CREW) | NEEDS(TASKS) | NEEDS(WARNINGS), pw_check_hands},
    {"J17", NEEDS(LOTS) | NEEDS(LOADS) | NEEDS_PLACES, pw_check_drips},
    {"J18", NEEDS(PEOPLE) | NEEDS(TASKS) | NEEDS(BURNS) | NEEDS(WARNINGS), pw_check_rest},
    {"J21", NEEDS(PEOPLE) | NEEDS(CREW) | NEEDS(BURNS) | NEEDS(SERVICES) | NEEDS(WARNINGS), pw_check_shifts},
    {"J22", NEEDS(EVENT) | NEEDS(SERVICES) | NEEDS(LOTS) | NEEDS(WARNINGS), pw_check_waves},
    {"J22", NEEDS(SERVICES) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(TASKS) | NEEDS(WARNINGS), pw_check_cuts},
    {"J22", NEEDS(SERVICES) | NEEDS(DEMAND) | NEEDS(LOTS) | NEEDS(TIME_LABELS), pw_check_time_labels},
    {"J14",
     NEEDS(CHILLS) | NEEDS(REHEATS) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(SERVICES) | NEEDS(TASKS) | NEEDS(WARNINGS) |
         NEEDS_PLACES,
     pw_check_day_before},
    {"J15",
     NEEDS(PEOPLE) | NEEDS(TASKS) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(SERVICES) | NEEDS(BURNS) | NEEDS(PURCHASES) |
         NEEDS(CREW) | NEEDS(WARNINGS) | NEEDS(RAWS) | NEEDS(DEMAND) | NEEDS(REHEATS) | NEEDS(SIDE_PANS) | NEEDS_PLACES,
     pw_check_order},
    {"J10", NEEDS(QUOTE) | NEEDS(JOBS), pw_check_jobs},
    {"J10", NEEDS(QUOTE), pw_check_quote},
    {"J10", NEEDS(QUOTE) | NEEDS(PURCHASES) | NEEDS(CREW) | NEEDS(FUELS), pw_check_costs},
    {"J10", NEEDS(QUOTE), pw_check_price},
    {"J10", NEEDS(QUOTE) | NEEDS(SERVICES) | NEEDS(CREW) | NEEDS(TASKS), pw_check_division},
    {"J12", NEEDS(QUOTE) | NEEDS(PURCHASES) | NEEDS(ORDERS) | NEEDS(MIXES), pw_check_orders},
    {"J10", NEEDS(QUOTE) | NEEDS(EVENT) | NEEDS(LOTS) | NEEDS(CREW) | NEEDS(SERVICES) | NEEDS(WARNINGS),
     pw_check_ladder},
    {"J10, J11",
     NEEDS(SOLUTION) | NEEDS(EVENT) | NEEDS(QUOTE) | NEEDS(BURNS) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(REHEATS) |
         NEEDS_PLACES,
     pw_check_story},
    {"J11", NEEDS(SOLUTION) | NEEDS(BURNS) | NEEDS(LOTS) | NEEDS(LOADS) | NEEDS(SERVICES) | NEEDS_PLACES,
     pw_check_parts},
    {"J11", NEEDS(SOLUTION) | NEEDS(LOTS), pw_check_solution},
    {"J11",
     NEEDS(LOTS) | NEEDS(CLASSES) | NEEDS(SERVICES) | NEEDS(DEMAND) | NEEDS(CREW) | NEEDS(QUOTE) | NEEDS(SHORTFALLS) |
         NEEDS(REMEDIES) | NEEDS_PLACES,
     pw_check_ways},
    {"J12", NEEDS(CLASSES) | NEEDS(SERVICES) | NEEDS(DEMAND) | NEEDS(RAWS) | NEEDS(LOTS), pw_check_demand},
    {"J12",
     NEEDS(EVENT) | NEEDS(SERVICES) | NEEDS(DEMAND) | NEEDS(RAWS) | NEEDS(NEEDS) | NEEDS(PURCHASES) | NEEDS(MIXES) |
         NEEDS(ORDERS) | NEEDS(QUOTE),
     pw_check_needs},
    {"J12", NEEDS(DEMAND) | NEEDS(PURCHASES) | NEEDS(RAWS) | NEEDS(LOTS) | NEEDS(SERVICES), pw_check_goods},
};

static bool is_whole(const struct pw_seen_plan *plan, unsigned needs)
{
  for (int part = 0; part < PW_SEEN__COUNT; part++)
    if ((needs >> part & 1u) && plan->is_bad[part])
      return false;
  return true;
}

pw_status pw_plan_check_text(const char *file, const char *json, size_t n, int *n_findings, struct pw_ctx *ctx)
{
  struct pw_judge judge = {.ctx = ctx, .file = file};
  struct pw_seen_plan plan;
  static const char mark[] = {'\xEF', '\xBB', '\xBF'}; /* a byte-order mark may be passed over: RFC 8259, 8.1 */
  if (n >= sizeof mark && memcmp(json, mark, sizeof mark) == 0) {
    json += sizeof mark;
    n -= sizeof mark;
  }
  pw_status status = pw_read_plan(&plan, json, n, &judge);
  judge.plan = &plan;
  for (size_t i = 0; i < sizeof rules / sizeof *rules && status == PW_OK; i++) {
    if (is_whole(&plan, rules[i].needs))
      status = rules[i].check(&judge, &plan);
    else
      pw_diag_add(ctx, PW_NOTE, "not-judged", file, 0, 0, "rules %s were not tried: the faults above come first",
                  rules[i].labels);
  }
  if (status == PW_ERR_MEMORY)
    pw_diag_add(ctx, PW_ERROR, "memory", file, 0, 0, "out of memory");
  *n_findings = judge.n_findings;
  return status;
}

/* ---- files ------------------------------------------------------------------------------------------ */

enum { FILE_MAX = PW_JSON_BYTES_MAX + 1 }; /* the JSON reader refuses more */

pw_status pw_plan_check_file(const char *path, int *n_findings, struct pw_ctx *ctx)
{
  pw_status status = PW_OK;
  bool is_stdin = strcmp(path, "-") == 0;
  char *text = NULL;
  size_t n = 0, cap = 0;
  *n_findings = 0;
  FILE *f = is_stdin ? stdin : fopen(path, "rb");
  if (!f)
    return pw_out_fault(ctx, "read", path, errno);
  struct stat st; /* a giant is refused before any of it is read */
  if (!is_stdin && fstat(fileno(f), &st) == 0 && S_ISREG(st.st_mode) && st.st_size > PW_JSON_BYTES_MAX) {
    pw_diag_add(ctx, PW_ERROR, "json", path, 0, 0, "the file is larger than %d MiB", PW_JSON_BYTES_MAX / 1024 / 1024);
    status = PW_ERR_INPUT;
  }
  while (n < FILE_MAX && status == PW_OK) {
    if (n == cap) {
      char *more = pw_arena_alloc(ctx->arena, cap ? cap * 2 : 65536);
      if (!more) {
        pw_diag_add(ctx, PW_ERROR, "memory", path, 0, 0, "out of memory");
        status = PW_ERR_MEMORY;
        break;
      }
      if (n)
        memcpy(more, text, n);
      text = more;
      cap = cap ? cap * 2 : 65536;
    }
    size_t got = fread(text + n, 1, cap - n, f);
    n += got;
    if (got == 0)
      break;
  }
  if (status == PW_OK && ferror(f))
    status = pw_out_fault(ctx, "read", path, errno);
  if (!is_stdin)
    (void)fclose(f);
  return status == PW_OK ? pw_plan_check_text(path, text, n, n_findings, ctx) : status;
}
