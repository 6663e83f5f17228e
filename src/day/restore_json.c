/* restore_json.c - what only the search knows, out of a plan file: margins, loads, fires, chance, other head counts, ways out, warnings; and the
 * tasks, for a plan that is mended after it.
 * Input: JSON that the judge has passed.  Output: parts of struct pw_plan.  A name that the event does not have is a fault. */
#include "base/arena.h"
#include "base/diag.h"
#include "day/restore.h"
#include "plan/chance/chance.h"
#include "plan/crew/task_kind.h"
#include "plan/money/ladder.h"
#include "plan/money/quote.h"

#include <limits.h>
#include <math.h>
#include <string.h>

/* ---- small questions ------------------------------------------------------------------------------------------- */

static const char *text_of(const struct pw_json *o, const char *key)
{
  const struct pw_json *v = pw_json_get(o, key);
  return v && v->type == PW_JSON_TEXT ? v->text : "";
}

static double real_of(const struct pw_json *o, const char *key, double none)
{
  const struct pw_json *v = pw_json_get(o, key);
  return v && (v->type == PW_JSON_INT || v->type == PW_JSON_REAL) ? v->real : none;
}

static int int_of(const struct pw_json *o, const char *key, int none)
{
  const struct pw_json *v = pw_json_get(o, key);
  return v && v->type == PW_JSON_INT && v->integer > INT_MIN && v->integer < INT_MAX ? (int)v->integer : none;
}

static bool is_yes(const struct pw_json *o, const char *key)
{
  const struct pw_json *v = pw_json_get(o, key);
  return v && v->type == PW_JSON_BOOL && v->integer != 0;
}

static pw_cents cents_of(const struct pw_json *o, const char *key)
{
  const struct pw_json *v = pw_json_get(o, key);
  return v && v->type == PW_JSON_INT ? v->integer : 0;
}

/** Elements of an array member, 0 when it is none. */
static int list_of(const struct pw_json *o, const char *key, const struct pw_json **items)
{
  const struct pw_json *v = pw_json_get(o, key);
  *items = v && v->type == PW_JSON_ARRAY ? v->items : NULL;
  return *items && v->n < INT_MAX ? (int)v->n : 0;
}

static pw_status not_of_it(const char *what, const char *name, struct pw_ctx *ctx)
{
  pw_diag_add(ctx, PW_ERROR, "other-job", NULL, 0, 0,
              "the plan has the %s \"%s\", but the job kept beside it has none of that name", what, name);
  return PW_ERR_INPUT;
}

static int lot_of(const struct pw_plan *plan, const char *id)
{
  for (int l = 0; l < plan->lots.n_lots; l++)
    if (strcmp(plan->lots.lots[l].id, id) == 0)
      return l;
  return PW_NONE;
}

static int pit_of(const struct pw_event *ev, const char *id)
{
  for (int p = 0; p < ev->n_pits; p++)
    if (strcmp(ev->pits[p].id, id) == 0)
      return p;
  return PW_NONE;
}

static int word_of(const char *const *words, int n, const char *word)
{
  for (int i = 0; i < n; i++)
    if (strcmp(words[i], word) == 0)
      return i;
  return PW_NONE;
}

/* ---- margins ----------------------------------------------------------------------------------------------------- */

pw_status pw_restore_margins(struct pw_margins *out, bool *is_asked, const struct pw_event *ev,
                             const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *lots;
  int n = list_of(root, "lots", &lots);
  size_t n_margins = (size_t)ev->n_services * (size_t)ev->n_cuts;
  *is_asked = false;
  out->early_min = pw_arena_array(ctx->arena, n_margins + 1, sizeof *out->early_min);
  out->turn_min = pw_arena_array(ctx->arena, n_margins + 1, sizeof *out->turn_min);
  if (!out->early_min || !out->turn_min)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    int service = PW_NONE, cut = PW_NONE; /* waves of a cut are lots of their own and share their margins */
    for (int k = 0; k < ev->n_services; k++)
      service = strcmp(ev->services[k].id, text_of(&lots[i], "service")) == 0 ? k : service;
    for (int k = 0; k < ev->n_cuts; k++)
      cut = strcmp(ev->cuts[k].id, text_of(&lots[i], "cut")) == 0 ? k : cut;
    if (service == PW_NONE || cut == PW_NONE)
      return not_of_it("lot", text_of(&lots[i], "id"), ctx);
    size_t k = (size_t)service * (size_t)ev->n_cuts + (size_t)cut;
    out->early_min[k] = int_of(&lots[i], "early_more_min", 0);
    out->turn_min[k] = int_of(&lots[i], "turn_min", 0);
    *is_asked = *is_asked || out->early_min[k] != 0 || out->turn_min[k] != 0;
  }
  if (!*is_asked)
    *out = (struct pw_margins){0};
  return PW_OK;
}

/* ---- the allocation ----------------------------------------------------------------------------------------------- */

static bool place_of(struct pw_load *load, const struct pw_plan *plan, const char *id)
{
  size_t n = strcspn(id, "@");
  load->zone = load->finisher = PW_NONE;
  for (int z = 0; z < plan->lots.n_zones; z++)
    if (strncmp(plan->lots.zones[z].id, id, n) == 0 && plan->lots.zones[z].id[n] == '\0')
      load->zone = z;
  for (int f = 0; f < plan->event->n_finishers && load->zone == PW_NONE; f++)
    if (strcmp(plan->event->finishers[f].id, id) == 0)
      load->finisher = f;
  return load->zone != PW_NONE || load->finisher != PW_NONE || !*id;
}

static pw_status load_of(struct pw_load *load, const struct pw_plan *plan, const struct pw_json *o, struct pw_ctx *ctx)
{
  static const char *const stages[] = {"smoke", "finish", "rest", "hold"};
  const struct pw_json *rects, *ids;
  int stage = word_of(stages, 4, text_of(o, "stage"));
  *load = (struct pw_load){.lot = lot_of(plan, text_of(o, "lot")),
                           .stage = (enum pw_load_stage)(stage == PW_NONE ? 0 : stage),
                           .pieces = int_of(o, "pieces", 0),
                           .start_at_min = int_of(o, "start_min", 0),
                           .end_at_min = int_of(o, "end_min", 0)};
  if (load->lot == PW_NONE)
    return not_of_it("lot", text_of(o, "lot"), ctx);
  if (!place_of(load, plan, text_of(o, "place")))
    return not_of_it("place", text_of(o, "place"), ctx);
  struct pw_load from = *load;
  int carried = int_of(o, "carried_min", INT_MIN);
  load->from_zone = load->from_finisher = PW_NONE;
  if (carried != INT_MIN) {
    if (!place_of(&from, plan, text_of(o, "carried_from")))
      return not_of_it("carried_from", text_of(o, "carried_from"), ctx);
    load->is_carried = true;
    load->carried_at_min = carried;
    load->from_zone = from.zone;
    load->from_finisher = from.finisher;
  }
  int drips_until = int_of(o, "drips_until_min", INT_MIN);
  load->drips_min = drips_until == INT_MIN ? 0 : drips_until - load->start_at_min;
  int n_rects = list_of(o, "rects", &rects), n_ids = list_of(o, "piece_ids", &ids);
  if ((n_rects > 0 && n_rects != load->pieces) || n_ids != load->pieces)
    return not_of_it("number of pieces of lot", text_of(o, "lot"), ctx);
  if (n_rects > 0 && !(load->rects = pw_arena_array(ctx->arena, (size_t)n_rects, sizeof *load->rects)))
    return PW_ERR_MEMORY;
  if (!(load->piece_ids = pw_arena_array(ctx->arena, (size_t)n_ids, sizeof *load->piece_ids)))
    return PW_ERR_MEMORY;
  for (int k = 0; k < n_rects; k++)
    load->rects[k] = (struct pw_rect){real_of(&rects[k], "x_m", 0), real_of(&rects[k], "y_m", 0),
                                      real_of(&rects[k], "length_m", 0), real_of(&rects[k], "depth_m", 0)};
  for (int k = 0; k < n_ids; k++)
    load->piece_ids[k] =
        ids[k].type == PW_JSON_INT && ids[k].integer >= 0 && ids[k].integer < plan->lots.lots[load->lot].pieces
            ? (int)ids[k].integer
            : 0;
  return PW_OK;
}

static pw_status burns_of(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *burns;
  struct pw_allocation *a = &plan->allocation;
  a->n_burns = list_of(root, "burns", &burns);
  if (!(a->burns = pw_arena_array(ctx->arena, (size_t)a->n_burns + 1, sizeof *a->burns)))
    return PW_ERR_MEMORY;
  for (int b = 0; b < a->n_burns; b++) {
    int pit = pit_of(plan->event, text_of(&burns[b], "pit")), setting = PW_NONE;
    if (pit == PW_NONE)
      return not_of_it("pit", text_of(&burns[b], "pit"), ctx);
    for (int k = 0; k < plan->event->pits[pit].n_settings; k++)
      if (strcmp(plan->event->pits[pit].settings[k].name, text_of(&burns[b], "setting")) == 0)
        setting = k;
    if (setting == PW_NONE)
      return not_of_it("setting", text_of(&burns[b], "setting"), ctx);
    a->burns[b] = (struct pw_burn){pit, setting, int_of(&burns[b], "lit_min", 0), int_of(&burns[b], "ready_min", 0),
                                   int_of(&burns[b], "out_min", 0)};
  }
  return PW_OK;
}

static pw_status shortages_of(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *list;
  struct pw_allocation *a = &plan->allocation;
  a->n_shortages = list_of(root, "shortages", &list);
  if (!(a->shortages = pw_arena_array(ctx->arena, (size_t)a->n_shortages + 1, sizeof *a->shortages)))
    return PW_ERR_MEMORY;
  for (int i = 0; i < a->n_shortages; i++)
    a->shortages[i] = (struct pw_shortage){lot_of(plan, text_of(&list[i], "lot")),
                                           int_of(&list[i], "pieces", 0),
                                           text_of(&list[i], "resource"),
                                           int_of(&list[i], "from_min", 0),
                                           int_of(&list[i], "to_min", 0),
                                           real_of(&list[i], "area_m2", 0),
                                           text_of(&list[i], "text")};
  return PW_OK;
}

static const char *lines_of(const struct pw_json *o, struct pw_ctx *ctx)
{
  const struct pw_json *lines;
  struct pw_buf all = pw_buf_in(ctx->arena);
  int n = list_of(o, "lines", &lines);
  for (int i = 0; i < n; i++)
    pw_buf_printf(&all, "%s\n", lines[i].type == PW_JSON_TEXT ? lines[i].text : "");
  return pw_buf_text(&all);
}

static pw_status remedies_of(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  static const char *const kinds[PW_WAY__COUNT] = {"box",     "oven",    "pit",  "hand", "day_before",
                                                   "sitting", "portion", "tray", "waves"};
  const struct pw_json *list, *parts, *chances;
  struct pw_allocation *a = &plan->allocation;
  plan->n_ways_tried = int_of(root, "ways_tried", 0);
  a->n_remedies = list_of(root, "remedies", &list);
  if (!(a->remedies = pw_arena_array(ctx->arena, (size_t)a->n_remedies + 1, sizeof *a->remedies)))
    return PW_ERR_MEMORY;
  for (int i = 0; i < a->n_remedies; i++) {
    struct pw_remedy *r = &a->remedies[i];
    *r = (struct pw_remedy){.what = text_of(&list[i], "what"),
                            .cost_cents = cents_of(&list[i], "cost_cents"),
                            .missed_after = int_of(&list[i], "missed_after", 0),
                            .plan_cost_cents = cents_of(&list[i], "plan_cost_cents"),
                            .missed_portions_after = int_of(&list[i], "missed_portions_after", 0),
                            .lines = lines_of(&list[i], ctx)};
    if (!r->lines)
      return PW_ERR_MEMORY;
    int n = list_of(&list[i], "parts", &parts);
    for (int k = 0; k < n && k < PW_WAY_PARTS_MAX; k++) {
      const struct pw_json *is_new = pw_json_get(&parts[k], "is_new");
      int kind = word_of(kinds, PW_WAY__COUNT, text_of(&parts[k], "kind"));
      r->parts[r->n_parts++] = (struct pw_way_part){(enum pw_way_kind)(kind == PW_NONE ? 0 : kind),
                                                    text_of(&parts[k], "id"), is_new && is_new->integer};
    }
    n = list_of(&list[i], "chances_after", &chances);
    if (!(r->chances = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *r->chances)))
      return PW_ERR_MEMORY;
    for (int k = 0; k < n; k++)
      r->chances[r->n_chances++] =
          (struct pw_meal_chance){text_of(&chances[k], "service"), text_of(&chances[k], "name"),
                                  real_of(&chances[k], "on_time_frac", 0), real_of(&chances[k], "target_frac", 0)};
  }
  return PW_OK;
}

pw_status pw_restore_allocation(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  static const char *const outcomes[] = {"optimal", "feasible", "short", "limit"}, *const stops[] = {"gap", "work",
                                                                                                     "time"};
  const struct pw_json *loads, *lots, *solution = pw_json_get(root, "solution");
  struct pw_allocation *a = &plan->allocation;
  int n_lots = list_of(root, "lots", &lots), outcome = word_of(outcomes, 4, text_of(solution, "outcome")),
      stop = word_of(stops, 3, text_of(solution, "stopped_by"));
  a->outcome = (enum pw_outcome)(outcome == PW_NONE ? PW_OUTCOME_FEASIBLE : outcome);
  a->stopped_by = (enum pw_stop)(stop == PW_NONE ? PW_STOP_WORK : stop);
  a->cost_cents = real_of(solution, "cost", 0);
  a->bound_cents = real_of(solution, "bound", 0);
  a->gap_frac = real_of(solution, "gap_frac", 0);
  const struct pw_json *is_whole = pw_json_get(solution, "bound_is_whole");
  a->proof = (struct pw_proof){real_of(solution, "bound_fractions", 0), real_of(solution, "bound_shapes", 0),
                               is_whole && is_whole->integer};
  a->work = (long)real_of(solution, "work", 0);
  a->is_quick = strcmp(text_of(solution, "effort"), "quick") == 0;
  a->n_loads = list_of(root, "loads", &loads);
  a->loads = pw_arena_array(ctx->arena, (size_t)a->n_loads + 1, sizeof *a->loads);
  a->missed = pw_arena_array(ctx->arena, (size_t)n_lots + 1, sizeof *a->missed);
  if (!a->loads || !a->missed)
    return PW_ERR_MEMORY;
  pw_status st = PW_OK;
  for (int i = 0; i < a->n_loads && st == PW_OK; i++)
    st = load_of(&a->loads[i], plan, &loads[i], ctx);
  for (int i = 0; i < n_lots && st == PW_OK; i++) {
    int l = lot_of(plan, text_of(&lots[i], "id"));
    a->missed[l] = int_of(&lots[i], "missed", 0);
    a->n_missed += a->missed[l];
  }
  if (st == PW_OK)
    st = burns_of(plan, root, ctx);
  if (st == PW_OK)
    st = shortages_of(plan, root, ctx);
  return st == PW_OK ? remedies_of(plan, root, ctx) : st;
}

/* ---- chance, other head counts, warnings --------------------------------------------------------------------------- */

static void blames_of(struct pw_chance *c, const struct pw_plan *plan, int service, const struct pw_json *chance)
{
  const struct pw_json *list;
  int n = list_of(chance, "held_back", &list);
  for (int i = 0; i < n; i++) {
    int lot = lot_of(plan, text_of(&list[i], "lot"));
    enum pw_blame_kind kind = is_yes(&list[i], "is_spot") ? PW_BLAME_SPOT : PW_BLAME_OWN;
    if (lot != PW_NONE)
      c->blames[pw_blame_at(plan->lots.n_lots, service, lot, kind)] =
          (int)lround(real_of(&list[i], "frac", 0) * c->n_draws);
  }
}

pw_status pw_restore_chance(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *services;
  int n = list_of(root, "services", &services);
  struct pw_chance *c = &plan->chance;
  *c = (struct pw_chance){0};
  struct pw_service_chance *all = pw_arena_array(ctx->arena, (size_t)plan->event->n_services + 1, sizeof *all);
  c->blames = pw_arena_array(
      ctx->arena, (size_t)plan->event->n_services * (size_t)plan->lots.n_lots * PW_BLAME__COUNT + 1, sizeof *c->blames);
  if (!all || !c->blames)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n && i < plan->event->n_services; i++) {
    const struct pw_json *o = pw_json_get(&services[i], "chance");
    if (!o)
      continue;
    c->services = all;
    c->n_draws = int_of(o, "draws", 0);
    all[i] = (struct pw_service_chance){.on_time_frac = real_of(o, "on_time_frac", 0),
                                        .standard_error_frac = real_of(o, "standard_error_frac", 0),
                                        .moved_frac = real_of(o, "moved_frac", 0),
                                        .with_fires_frac = real_of(o, "with_fires_frac", 0),
                                        .held_long_frac = real_of(o, "held_long_frac", 0),
                                        .held_long_lot = lot_of(plan, text_of(o, "held_long_lot")),
                                        .held_long_min = real_of(o, "held_long_min", 0),
                                        .slow_core_frac = real_of(o, "slow_core_frac", 0),
                                        .slow_core_lot = lot_of(plan, text_of(o, "slow_core_lot")),
                                        .slow_core_min = real_of(o, "slow_core_min", 0),
                                        .weakest_lot = lot_of(plan, text_of(o, "weakest_lot")),
                                        .weakest_late_frac = real_of(o, "weakest_late_frac", 0),
                                        .weakest_late_min = real_of(o, "weakest_late_min", 0)};
    blames_of(c, plan, i, o);
  }
  return PW_OK;
}

static pw_status rungs_of(struct pw_quote_rung **out, int *n_out, const struct pw_json *quote, const char *key,
                          struct pw_ctx *ctx)
{
  const struct pw_json *list;
  int n = list_of(quote, key, &list);
  *n_out = 0;
  if (!(*out = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof **out)))
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++)
    (*out)[(*n_out)++] = (struct pw_quote_rung){
        int_of(&list[i], "guests", 0),     cents_of(&list[i], "cost_cents"),      cents_of(&list[i], "price_cents"),
        cents_of(&list[i], "total_cents"), cents_of(&list[i], "per_guest_cents"), int_of(&list[i], "missed", 0)};
  return PW_OK;
}

static pw_status levels_of(struct pw_quote *q, const struct pw_json *quote, struct pw_ctx *ctx)
{
  const struct pw_json *list;
  int n = list_of(quote, "on_time_levels", &list);
  q->n_levels = 0;
  if (!(q->levels = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *q->levels)))
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++)
    q->levels[q->n_levels++] = (struct pw_quote_level){.margin_frac = real_of(&list[i], "margin_frac", 0),
                                                       .chance_frac = real_of(&list[i], "chance_frac", 0),
                                                       .late_meals_frac = real_of(&list[i], "late_meals_frac", 0),
                                                       .cost_cents = cents_of(&list[i], "cost_cents"),
                                                       .late_meal_cents = cents_of(&list[i], "late_meal_cents"),
                                                       .is_plan = is_yes(&list[i], "is_plan")};
  return PW_OK;
}

static int service_of(const struct pw_event *ev, const char *id)
{
  for (int i = 0; id && i < ev->n_services; i++)
    if (strcmp(ev->services[i].id, id) == 0)
      return i;
  return PW_NONE;
}

static int dish_of(const struct pw_event *ev, const char *id)
{
  for (int i = 0; id && i < ev->n_dishes; i++)
    if (strcmp(ev->dishes[i].id, id) == 0)
      return i;
  return PW_NONE;
}

/* Choices of the menus; one of a dish or meal that the event does not name is left out. */
static pw_status options_of(struct pw_plan *plan, const struct pw_json *quote, struct pw_ctx *ctx)
{
  struct pw_quote *q = &plan->quote;
  const struct pw_event *ev = plan->event;
  const struct pw_json *list;
  int n = list_of(quote, "options", &list);
  struct pw_quote_option *all = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *all);
  if (!all)
    return PW_ERR_MEMORY;
  q->options = all;
  q->n_options = 0;
  for (int i = 0; i < n; i++) {
    const struct pw_json *o = &list[i];
    struct pw_quote_option option = {.service = service_of(ev, text_of(o, "service")),
                                     .dish = dish_of(ev, text_of(o, "dish")),
                                     .instead_of = dish_of(ev, text_of(o, "instead_of")),
                                     .base_cost_cents = cents_of(o, "base_cost_cents"),
                                     .base_food_cents = cents_of(o, "base_food_cents"),
                                     .base_price_cents = cents_of(o, "base_price_cents"),
                                     .cost_cents = cents_of(o, "cost_cents"),
                                     .food_cents = cents_of(o, "food_cents"),
                                     .price_cents = cents_of(o, "price_cents"),
                                     .more_per_guest_cents = cents_of(o, "more_per_guest_cents"),
                                     .missed = int_of(o, "missed_pieces", 0)};
    if (option.service == PW_NONE || option.dish == PW_NONE)
      continue;
    for (int g = 0; g < ev->n_classes; g++)
      option.guests += ev->services[option.service].guests[g];
    all[q->n_options++] = option;
  }
  return PW_OK;
}

/* Dishes left out one after the other to come to the price that was given. */
static pw_status leaves_of(struct pw_plan *plan, const struct pw_json *quote, struct pw_ctx *ctx)
{
  struct pw_quote *q = &plan->quote;
  const struct pw_json *list;
  int n = list_of(quote, "leave_out", &list);
  struct pw_quote_leave *all = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *all);
  if (!all)
    return PW_ERR_MEMORY;
  q->leaves = all;
  q->n_leaves = 0;
  for (int i = 0; i < n; i++) {
    struct pw_quote_leave leave = {.service = service_of(plan->event, text_of(&list[i], "service")),
                                   .dish = dish_of(plan->event, text_of(&list[i], "dish")),
                                   .cost_cents = cents_of(&list[i], "cost_cents"),
                                   .food_cents = cents_of(&list[i], "food_cents"),
                                   .price_cents = cents_of(&list[i], "price_cents"),
                                   .margin_frac = real_of(&list[i], "margin_frac", 0)};
    if (leave.service != PW_NONE && leave.dish != PW_NONE)
      all[q->n_leaves++] = leave;
  }
  return PW_OK;
}

pw_status pw_restore_quote(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *quote = pw_json_get(root, "quote");
  struct pw_quote *q = &plan->quote;
  pw_status st = rungs_of(&q->ladder, &q->n_ladder, quote, "ladder", ctx);
  if (st == PW_OK)
    st = rungs_of(&q->tried, &q->n_tried, quote, "tried", ctx);
  if (st == PW_OK)
    st = levels_of(q, quote, ctx);
  if (st == PW_OK)
    st = options_of(plan, quote, ctx);
  if (st == PW_OK)
    st = leaves_of(plan, quote, ctx);
  if (st == PW_OK && q->n_ladder > 0)
    pw_quote_outlook(q, &plan->event->terms);
  return st;
}

static int task_of(const char *id)
{
  int n = 0;
  for (const char *at = id + (*id == 't'); *at >= '0' && *at <= '9' && n < 10000000; at++)
    n = n * 10 + (*at - '0');
  return n - 1;
}

pw_status pw_restore_warnings(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *list, *tasks;
  plan->n_warnings = list_of(root, "warnings", &list);
  if (!(plan->warnings = pw_arena_array(ctx->arena, (size_t)plan->n_warnings + 1, sizeof *plan->warnings)))
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->n_warnings; i++) {
    int n = list_of(&list[i], "tasks", &tasks), *ids = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *ids);
    if (!ids)
      return PW_ERR_MEMORY;
    for (int k = 0; k < n; k++)
      ids[k] = tasks[k].type == PW_JSON_TEXT ? task_of(tasks[k].text) : 0;
    plan->warnings[i] = (struct pw_warning){text_of(&list[i], "code"), text_of(&list[i], "text"), ids, n,
                                            int_of(&list[i], "late_min", 0)};
  }
  return PW_OK;
}

/* ---- tasks ----------------------------------------------------------------------------------------------------------- */

/* A pit, or n_pits and a finisher; PW_NONE: the kitchen, the site, the road, or no place. */
static int task_place_of(const struct pw_event *ev, const char *id)
{
  int pit = pit_of(ev, id);
  for (int f = 0; f < ev->n_finishers && pit == PW_NONE; f++)
    if (strcmp(ev->finishers[f].id, id) == 0)
      return ev->n_pits + f;
  return pit;
}

/* The pit a task is at, as the drafts have it (plan/crew/task_*.c): what rests or is held is at none. */
static int task_pit_of(const struct pw_event *ev, const struct pw_task *t)
{
  if (t->kind == PW_TASK_REST_OVER || t->kind == PW_TASK_HOLD_CHECK)
    return PW_NONE;
  if (t->place != PW_NONE && t->place < ev->n_pits)
    return t->place;
  return t->to_place != PW_NONE && t->to_place < ev->n_pits ? t->to_place : PW_NONE;
}

static pw_status ints_of(const int **out, int *n_out, const struct pw_json *o, const char *key,
                         const struct pw_event *ev, struct pw_ctx *ctx)
{
  const struct pw_json *list;
  int n = list_of(o, key, &list), *ints = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *ints);
  *out = ints;
  *n_out = n;
  for (int k = 0; ints && k < n; k++) {
    ints[k] = (int)list[k].integer;
    for (int i = 0; list[k].type == PW_JSON_TEXT && i < ev->n_items; i++)
      if (strcmp(ev->items[i].id, list[k].text) == 0)
        ints[k] = i;
  }
  return ints ? PW_OK : PW_ERR_MEMORY;
}

static pw_status one_task_of(struct pw_task *t, const struct pw_plan *plan, const struct pw_json *o, struct pw_ctx *ctx)
{
  static const char *const hands_at[] = {"kitchen", "site", "road"};
  const struct pw_event *ev = plan->event;
  int at = word_of(hands_at, 3, text_of(o, "at_hand")), kind = PW_NONE;
  for (int k = 0; k < PW_TASK__COUNT; k++)
    kind = strcmp(pw_task_kind_row((enum pw_task_kind)k)->word, text_of(o, "kind")) == 0 ? k : kind;
  if (kind == PW_NONE)
    return not_of_it("kind of task", text_of(o, "kind"), ctx);
  *t = (struct pw_task){.at_min = int_of(o, "at_min", 0),
                        .minutes = int_of(o, "minutes", 0),
                        .kind = (enum pw_task_kind)kind,
                        .crew = PW_NONE,
                        .lot = lot_of(plan, text_of(o, "lot")),
                        .pieces = int_of(o, "pieces", 0),
                        .what = text_of(o, "what"),
                        .where = text_of(o, "where"),
                        .target = text_of(o, "target"),
                        .person = PW_NONE,
                        .at = (enum pw_at)(at == PW_NONE ? 0 : at),
                        .place = task_place_of(ev, text_of(o, "place")),
                        .to_place = task_place_of(ev, text_of(o, "to_place")),
                        .service = PW_NONE,
                        .dish = PW_NONE};
  t->pit = task_pit_of(ev, t);
  for (int k = 0; k < plan->tasks.n_people; k++)
    if (strcmp(plan->tasks.people[k].id, text_of(o, "person")) == 0) {
      t->person = k;
      t->crew = plan->tasks.people[k].crew;
    }
  for (int k = 0; k < ev->n_services; k++)
    t->service = strcmp(ev->services[k].id, text_of(o, "service")) == 0 ? k : t->service;
  for (int k = 0; k < ev->n_dishes; k++)
    t->dish = strcmp(ev->dishes[k].id, text_of(o, "dish")) == 0 ? k : t->dish;
  pw_status st = ints_of(&t->piece_ids, &t->n_ids, o, "piece_ids", ev, ctx);
  return st == PW_OK ? ints_of(&t->items, &t->n_items, o, "items", ev, ctx) : st;
}

pw_status pw_restore_tasks(const struct pw_task **out, int *n_out, const struct pw_plan *plan,
                           const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_json *list;
  int n = list_of(root, "tasks", &list);
  struct pw_task *tasks = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *tasks);
  pw_status st = tasks ? PW_OK : PW_ERR_MEMORY;
  for (int i = 0; i < n && st == PW_OK; i++)
    st = one_task_of(&tasks[i], plan, &list[i], ctx);
  *out = tasks;
  *n_out = st == PW_OK ? n : 0;
  return st;
}
