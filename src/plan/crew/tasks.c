/* tasks.c - the job as a list of things somebody does [S1].
 * In: plan->{demand, purchase, lots, allocation, fuel}.  Out: tasks by time, warnings where the crew does not reach.
 * First every task is drafted (what, how much work, when at the earliest and the latest), then each gets a time and
 * a crew line.  The words are a pitmaster's; numbers in them are in the event's units. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/format.h"
#include "plan/crew/task_list.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <string.h>

const char *pw_task_words(struct pw_task_list *list, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(list->ctx->arena, format, args);
  va_end(args);
  if (text)
    return text;
  list->failed = true;
  return "";
}

struct pw_draft pw_task_blank(enum pw_task_kind kind, enum pw_duty duty, enum pw_rank rank, enum pw_at at)
{
  return (struct pw_draft){.kind = kind,
                           .duty = duty,
                           .rank = rank,
                           .at = at,
                           .end_by_min = INT_MAX,
                           .lot = PW_NONE,
                           .pit = PW_NONE,
                           .place = PW_NONE,
                           .to_place = PW_NONE,
                           .service = PW_NONE,
                           .dish = PW_NONE,
                           .plates_to_min = PW_NO_PLATES,
                           .follows = PW_NONE};
}

int pw_task_draft(struct pw_task_list *list, struct pw_draft draft)
{
  if (pw_arena_grow(list->ctx->arena, &list->drafts, &list->cap_drafts, list->n_drafts, sizeof draft) != 0) {
    list->failed = true;
    return PW_NONE;
  }
  list->drafts[list->n_drafts] = draft;
  return (int)list->n_drafts++;
}

int pw_task_n_shares(double work_min, double most_min)
{
  return most_min > 0 && work_min > most_min ? (int)ceil(work_min / most_min) : 1;
}

void pw_task_draft_shared(struct pw_task_list *list, struct pw_draft draft, int n)
{
  draft.work_min /= n;
  if (n > 1)
    draft.verb = pw_task_words(list, "%s, one of %d hands", draft.verb, n);
  for (int i = 0; i < n; i++)
    pw_task_draft(list, draft);
}

int *pw_task_ints(struct pw_task_list *list, const int *from, int n)
{
  int *out = pw_arena_array(list->ctx->arena, (size_t)n, sizeof *out);
  if (!out)
    list->failed = true;
  for (int i = 0; out && from && i < n; i++)
    out[i] = from[i];
  return out;
}

const char *pw_task_temp(struct pw_task_list *list, double c)
{
  return pw_task_words(list, "%s", pw_format_temp(list->ev->units, c).s);
}

const char *pw_task_noun(struct pw_task_list *list, int lot)
{
  const struct pw_lot *l = &list->plan->lots.lots[lot];
  const char *cut = list->ev->cuts[l->cut].name;
  const char *service = list->ev->n_services > 1 ? list->ev->services[l->service].name : NULL,
             *wave = l->n_waves > 1 ? pw_task_words(list, "wave %d", l->wave + 1) : NULL;
  if (!service && !wave)
    return cut;
  return pw_task_words(list, "%s (%s%s%s)", cut, service ? service : "", service && wave ? ", " : "", wave ? wave : "");
}

/* "main rack" of the id "main"; an id that says what it is stays as it is. */
static const char *rack_words(struct pw_task_list *list, const struct pw_rack *rack)
{
  if (strstr(rack->id, "rack") || strstr(rack->id, "shelf") || strstr(rack->id, "grate") || strstr(rack->id, "ring"))
    return rack->id;
  return pw_task_words(list, "%s rack", rack->id);
}

/* Zones a .. b-1 of n, from the hot end. */
static const char *run_words(struct pw_task_list *list, int a, int b, int n)
{
  if (b - a == n)
    return "all zones";
  if (b - a > 1)
    return pw_task_words(list, "zones %d-%d of %d", a + 1, b, n);
  if (a == 0)
    return "hot end";
  if (a == n - 1)
    return "cool end";
  return n == 3 ? "middle" : pw_task_words(list, "zone %d of %d", a + 1, n);
}

const char *pw_task_where(struct pw_task_list *list, const int *loads, int n)
{
  const struct pw_lots *lots = &list->plan->lots;
  bool *is_used = pw_arena_array(list->ctx->arena, (size_t)lots->n_zones, sizeof *is_used);
  if (!is_used) {
    list->failed = true;
    return "";
  }
  for (int i = 0; i < n; i++)
    if (list->plan->allocation.loads[loads[i]].zone != PW_NONE)
      is_used[list->plan->allocation.loads[loads[i]].zone] = true;
  const char *words = "";
  int pit = PW_NONE;
  for (int z = 0, end; z < lots->n_zones; z = end) { /* rack by rack */
    const struct pw_zone *first = &lots->zones[z];
    bool is_any = false;
    for (end = z; end < lots->n_zones && lots->zones[end].pit == first->pit && lots->zones[end].rack == first->rack;
         end++)
      is_any = is_any || is_used[end];
    if (!is_any)
      continue;
    const struct pw_pit *p = &list->ev->pits[first->pit];
    bool is_new_pit = pit != first->pit;
    pit = first->pit;
    if (is_new_pit)
      words = pw_task_words(list, "%s%s%s", words, *words ? "; " : "", p->name);
    if (p->n_racks > 1)
      words = pw_task_words(list, "%s%s%s", words, is_new_pit ? ", " : "; ", rack_words(list, &p->racks[first->rack]));
    int n_zones = end - z;
    for (int a = z, b; a < end && n_zones > 1; a = b + (b == a)) { /* runs of neighbours */
      for (b = a; b < end && is_used[b]; b++)
        ;
      if (b > a)
        words = pw_task_words(list, "%s, %s", words, run_words(list, a - z, b - z, n_zones));
    }
  }
  return words;
}

void pw_task_drafts(struct pw_task_list *list)
{
  list->depart_min = INT_MAX;
  pw_task_moves(list);
  pw_task_visits(list);
  pw_task_fires(list);
  pw_task_table(list);
  pw_task_kitchen(list);
  pw_task_cold(list);
  pw_task_heat(list);
  if (!list->failed)
    pw_task_graph(list);
}

static pw_status make(struct pw_tasks *out, const struct pw_plan *plan, bool is_trial, struct pw_ctx *ctx)
{
  *out = (struct pw_tasks){0};
  struct pw_task_list list = {.plan = plan, .ev = plan->event, .ctx = ctx, .is_trial = is_trial};
  pw_task_drafts(&list);
  if (!list.failed)
    pw_task_place(&list);
  if (list.failed)
    return PW_ERR_MEMORY;
  *out = (struct pw_tasks){.tasks = list.tasks,
                           .n_tasks = (int)list.n_tasks,
                           .people = list.people,
                           .n_people = list.n_people,
                           .warnings = list.warnings,
                           .n_warnings = (int)list.n_warnings};
  return PW_OK;
}

pw_status pw_tasks_make(struct pw_tasks *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  return make(out, plan, false, ctx);
}

pw_status pw_tasks_try(struct pw_tasks *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  return make(out, plan, true, ctx);
}
