/* view_lists.c - lists that workbook and printed sheets share: roles, fire list, core and holding temperatures, words
 * about services and dishes.  Input: the plan; nothing is decided here but the order of lines. */
#include "sheet/view_lists.h"
#include "plan/crew/task_kind.h"
#include "plan/fire/feeds.h"
#include "sheet/fire_lines.h"
#include "sheet/slack_words.h"
#include "sheet/words.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/lots/pans_out.h"

#include <stdlib.h>
#include <string.h>

#define TEXT(...) pw_view_printf(view, __VA_ARGS__)

/* ---- words --------------------------------------------------------------------------------------- */

const char *pw_view_guests(struct pw_view *view, int service)
{
  const struct pw_service *sv = &view->ev->services[service];
  const char *text = "";
  for (int k = 0; k < view->ev->n_classes; k++)
    if (sv->guests[k] > 0)
      text = TEXT("%s%s%d %s", text, text[0] ? ", " : "", sv->guests[k], view->ev->classes[k].name);
  return text;
}

int pw_view_guest_count(const struct pw_view *view, int service)
{
  int n = 0;
  for (int k = 0; k < view->ev->n_classes; k++)
    n += view->ev->services[service].guests[k];
  return n;
}

const char *pw_view_allergens(struct pw_view *view, int dish)
{
  const struct pw_dish *d = &view->ev->dishes[dish];
  const char *text = "";
  for (int k = 0; k < d->n_allergens; k++)
    text = TEXT("%s%s%s", text, k ? ", " : "", d->allergens[k]);
  return text;
}

const char *pw_view_pans_out(struct pw_view *view, int line)
{
  const struct pw_demand_line *d = &view->plan->demand.lines[line];
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  int n = pw_pans_out(out, view->ev, &view->plan->lots, d, pw_words_pans(view->plan, d));
  const char *words = "";
  for (int i = 0; i < n; i++) {
    const char *at = i == 0 ? "" : pw_view_clock(view, out[i].at_min);
    words = i == 0                                    ? TEXT("%d", out[i].pans)
            : i > 1 && out[i].pans == out[i - 1].pans ? TEXT("%s, %s", words, at)
                                                      : TEXT("%s; +%d %s", words, out[i].pans, at);
  }
  return words;
}

const char *pw_view_labels(struct pw_view *view, int line)
{
  const struct pw_demand_line *d = &view->plan->demand.lines[line];
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  int pans = pw_words_pans(view->plan, d), n = pw_pans_out(out, view->ev, &view->plan->lots, d, pans > 0 ? pans : 1);
  const char *words = "";
  for (int i = 0; i < n; i++)
    words = TEXT("%s%sout %s, discard by %s", words, i ? "; " : "", pw_when_clock(view->ev, out[i].at_min).s,
                 pw_when_clock(view->ev, pw_pans_discard_min(out[i].at_min)).s);
  return words;
}

const char *pw_view_by_the_clock(struct pw_view *view)
{
  return TEXT("goes out at %s or more, or %s or less; label each pan with out and discard by; then throw away whatever "
              "is left, and never top up. Keep a written procedure at hand; never for the very young, old or ill. The "
              "health authority decides.", /* FDA Food Code 2022 3-501.19(A), (B), (D) */
              pw_format_temp(view->ev->units, PW_FOOD_CODE_HOT_C).s,
              pw_format_temp(view->ev->units, PW_FOOD_CODE_COLD_C).s);
}

const char *pw_view_style_word(enum pw_style style)
{
  static const char *const words[] = {"buffet", "plated", "family style", "boxed", "drop-off"};
  return words[style];
}

const char *pw_view_form(const struct pw_dish *dish)
{
  static const char *const words[] = {"sliced", "pulled", "chopped", "", "spooned"};
  const char *word = words[dish->form];
  return word[0] && strstr(dish->name, word + 1) ? "" : word; /* the first letter may be a capital */
}

/* ---- roles ------------------------------------------------------------------------------------------ */

const char *pw_view_task(struct pw_view *view, const struct pw_task *task)
{
  if (task->kind == PW_TASK_FEED) {
    const char *line = pw_fire_line(view->plan, task, view->arena);
    view->failed = view->failed || !line;
    return line ? line : "";
  }
  if (task->lot == PW_NONE)
    return task->what;
  const char *tail = TEXT(" (%s)", pw_view_service(view, view->plan->lots.lots[task->lot].service));
  size_t n = strlen(task->what), n_tail = strlen(tail);
  if (n > n_tail && strcmp(task->what + n - n_tail, tail) == 0)
    n -= n_tail;
  return TEXT("%s: %.*s", view->lot_mark[task->lot], (int)n, task->what);
}

bool pw_view_says_target(const struct pw_task *task, const char *last[PW_TASK__COUNT])
{
  const char *before = last[task->kind];
  last[task->kind] = task->target;
  return task->target && task->target[0] &&
         !(pw_task_kind_row(task->kind)->repeats_target && before && strcmp(before, task->target) == 0);
}

/** Whether a core is that of pans warmed up again. */
static bool is_of_reheat(const struct pw_plan *plan, const struct pw_task *t)
{
  for (int i = 0; i < plan->lots.n_reheats; i++)
    if (plan->lots.reheats[i].lot == t->lot && plan->lots.reheats[i].from_at_min <= t->at_min)
      return true;
  return false;
}

bool pw_view_is_read_at_line(const struct pw_plan *plan, int line)
{
  const struct pw_demand_line *d = &plan->demand.lines[line];
  const struct pw_dish *dish = &plan->event->dishes[d->dish];
  enum pw_style style = plan->event->services[d->service].style;
  return style != PW_BOXED && style != PW_DROP_OFF && /* closed and gone */
         d->portions > 0 && (dish->cut != PW_NONE || dish->held == PW_HELD_HOT) && !pw_words_time_control(plan, d);
}

static bool has_line_log(const struct pw_plan *plan, int service)
{
  for (int i = 0; i < plan->demand.n_lines; i++)
    if (plan->demand.lines[i].service == service && pw_view_is_read_at_line(plan, i))
      return true;
  return false;
}

const char *pw_view_log_word(const struct pw_plan *plan, const struct pw_task *task)
{
  switch (task->kind) {
  case PW_TASK_FIRE_CHECK:
    return "fire";
  case PW_TASK_CORE:
  case PW_TASK_PROBE:
  case PW_TASK_WRAP:
  case PW_TASK_WRAP_CARRY:
  case PW_TASK_OFF:
    return is_of_reheat(plan, task) ? "reheat" : "core";
  case PW_TASK_REST_OVER:
  case PW_TASK_HOLD_CHECK:
    return "hold";
  case PW_TASK_CHILL:
  case PW_TASK_COOL:
  case PW_TASK_COOL_CHECK:
    return "cool";
  case PW_TASK_SERVE:
    return has_line_log(plan, task->service) ? "line" : "";
  default:
    return ""; /* a scratch test has no figure */
  }
}

bool pw_view_is_routine(const struct pw_task *t) { return pw_task_kind_row(t->kind)->is_routine; }

static int roles_make(struct pw_view *view)
{
  const struct pw_event *ev = view->ev;
  view->roles = pw_arena_array(view->arena, (size_t)ev->n_crew, sizeof *view->roles);
  if (!view->roles)
    return -1;
  for (int c = 0; c < ev->n_crew; c++) {
    const char *shift = pw_view_span(view, ev->crew[c].from_at_min, ev->crew[c].to_at_min);
    int r = 0;
    while (r < view->n_roles && strcmp(view->roles[r].role, ev->crew[c].role) != 0)
      r++;
    if (r == view->n_roles)
      view->roles[view->n_roles++] = (struct pw_view_role){ev->crew[c].role, shift};
    else if (!strstr(view->roles[r].shifts, shift))
      view->roles[r].shifts = TEXT("%s; %s", view->roles[r].shifts, shift);
  }
  return 0;
}

/* ---- fire list ------------------------------------------------------------------------------------- */

static const char *feed_words(struct pw_view *view, const struct pw_pit *pit, const struct pw_feed *f)
{
  const char *weight = TEXT("%s", pw_format_fuel(view->ev->units, f->wood_kg).s);
  return f->splits > 0 ? TEXT("Feed %d %s, %s", f->splits, pw_feed_noun(&view->ev->fuels[pit->wood], f->splits), weight)
                       : TEXT("Feed %s", weight);
}

static int fire_compare(const void *a, const void *b)
{
  const struct pw_view_fire *x = a, *y = b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  if (x->burn != y->burn)
    return x->burn < y->burn ? -1 : 1;
  return x->is_turn != y->is_turn ? (x->is_turn ? -1 : 1) : strcmp(x->what, y->what);
}

static int fires_make(struct pw_view *view)
{
  const struct pw_allocation *al = &view->plan->allocation;
  const struct pw_fuel_plan *fuel = &view->plan->fuel;
  size_t max = (size_t)al->n_burns * 3;
  for (int i = 0; i < fuel->n_burns; i++)
    max += (size_t)fuel->burns[i].n_feeds;
  view->fires = pw_arena_array(view->arena, max, sizeof *view->fires);
  if (!view->fires)
    return -1;
  for (int i = 0; i < al->n_burns; i++) {
    const struct pw_burn *u = &al->burns[i];
    const struct pw_pit *pit = &view->ev->pits[u->pit];
    const struct pw_burn_fuel *f = i < fuel->n_burns ? &fuel->burns[i] : NULL;
    const char *light = f && f->charcoal_kg > 0
                            ? TEXT("Light with %s charcoal", pw_format_fuel(view->ev->units, f->charcoal_kg).s)
                            : "Light";
    view->fires[view->n_fires++] = (struct pw_view_fire){u->lit_at_min, i, true, light};
    view->fires[view->n_fires++] = (struct pw_view_fire){
        u->ready_at_min, i, true,
        pit->is_over_coals ? "Grey coals, no flame: food may go on" : "Clean fire, thin blue smoke: food may go on"};
    view->fires[view->n_fires++] = (struct pw_view_fire){
        u->out_at_min, i, true, "Last food is out: let it burn down, close the air; the ash stays in"};
    for (int k = 0; f && k < f->n_feeds; k++)
      view->fires[view->n_fires++] =
          (struct pw_view_fire){f->feeds[k].at_min, i, false, feed_words(view, pit, &f->feeds[k])};
  }
  if (view->n_fires > 1)
    qsort(view->fires, (size_t)view->n_fires, sizeof *view->fires, fire_compare);
  return 0;
}

/* ---- temperatures ------------------------------------------------------------------------------------ */

/** Adds a word to a list unless it is there. */
static const char *list_add(struct pw_view *view, const char *list, const char *word)
{
  return strstr(list, word) ? list : TEXT("%s%s%s", list, list[0] ? "; " : "", word);
}

/** Pieces of load i and of the loads that end the same stage of the same lot at the same time and are handled at one minute, as
 *  people's own sheets say it; 0 when an earlier load stands for them.  *where becomes their places, their pits and ovens when there
 *  are more than two; the check gets their numbers and that minute. */
static int pieces_together(struct pw_view *view, int i, const char **where, struct pw_view_check *check)
{
  const struct pw_allocation *al = &view->plan->allocation;
  const struct pw_load *l = &al->loads[i];
  const char *wide = "";
  int pieces = 0, n = 0, *ids = NULL;
  for (int k = 0; k < al->n_loads; k++)
    pieces += al->loads[k].lot == l->lot && al->loads[k].stage == l->stage ? al->loads[k].pieces : 0;
  ids = pw_arena_array(view->arena, (size_t)pieces + 1, sizeof *ids);
  if (!ids) {
    view->failed = true;
    return 0;
  }
  pieces = 0;
  *check = (struct pw_view_check){.at_min = pw_begin_of_load(view->plan, l, true), .lot = l->lot, .ids = ids};
  *where = "";
  for (int k = 0; k < al->n_loads; k++) {
    const struct pw_load *o = &al->loads[k];
    if (o->lot != l->lot || o->stage != l->stage || o->end_at_min != l->end_at_min ||
        pw_begin_of_load(view->plan, o, true) != check->at_min)
      continue;
    if (k < i)
      return 0;
    pieces += o->pieces;
    for (int p = 0; p < o->pieces && o->piece_ids; p++)
      ids[check->n_ids++] = o->piece_ids[p];
    n++;
    const char *place = pw_view_place(view, o);
    const char *pit = o->zone == PW_NONE ? "" : view->ev->pits[view->plan->lots.zones[o->zone].pit].name;
    size_t n_pit = strlen(pit);
    bool is_said = n_pit > 0 && strncmp(*where, pit, n_pit) == 0 && strncmp(place, pit, n_pit) == 0 &&
                   strncmp(place + n_pit, ", ", 2) == 0; /* the pit is named once */
    *where = list_add(view, *where, is_said ? place + n_pit + 2 : place);
    wide = list_add(view, wide,
                    o->zone == PW_NONE ? view->ev->finishers[o->finisher].name
                                       : view->ev->pits[view->plan->lots.zones[o->zone].pit].name);
  }
  if (n > 2)
    *where = TEXT("%s, all racks it lies on", wide);
  return pieces;
}

static int cores_make(struct pw_view *view)
{
  const struct pw_allocation *al = &view->plan->allocation;
  view->cores = pw_arena_array(view->arena, (size_t)al->n_loads, sizeof *view->cores);
  if (!view->cores)
    return -1;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    const char *where = "";
    struct pw_view_check check;
    int pieces = l->stage > PW_LOAD_FINISH ? 0 : pieces_together(view, i, &where, &check);
    if (pieces == 0)
      continue;
    const struct pw_cut *cut = &view->ev->cuts[view->plan->lots.lots[l->lot].cut];
    const struct pw_stage *st = l->stage == PW_LOAD_SMOKE ? &cut->smoke : &cut->finish;
    bool is_done = l->stage == PW_LOAD_FINISH || !cut->finish.is_used;
    const char *aim =
        TEXT("%s",
             pw_format_temp(view->ev->units, is_done && cut->serve_core_c > st->to_c ? cut->serve_core_c : st->to_c).s);
    check.what = TEXT("%s: %d %s, %s %s", view->lot_mark[l->lot], pieces, cut->name,
                      is_done ? "done near" : "end of smoke, wrap near", aim);
    check.where = where;
    check.least_c = is_done ? cut->serve_core_c : st->to_c;
    int at = view->n_cores++;
    for (; at > 0 && view->cores[at - 1].at_min > check.at_min; at--)
      view->cores[at] = view->cores[at - 1];
    view->cores[at] = check;
  }
  return 0;
}

int pw_view_lists_make(struct pw_view *view)
{
  return roles_make(view) < 0 || fires_make(view) < 0 || cores_make(view) < 0 ? -1 : 0;
}
