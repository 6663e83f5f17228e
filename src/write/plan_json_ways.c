/* plan_json_ways.c - what is missing at the table and the ways out, as plan.json has them. */
#include "write/plan_json_parts.h"

#include "base/arena.h"

#include <string.h>

static const char *const KINDS[PW_WAY__COUNT] = {"box",     "oven",    "pit",  "hand", "day_before",
                                                 "sitting", "portion", "tray", "waves"};

static void write_lines(struct pw_json_out *o, const char *lines, struct pw_ctx *ctx)
{
  pw_json_array(o, "lines");
  for (const char *at = lines ? lines : ""; *at;) {
    size_t n = strcspn(at, "\n");
    pw_json_text(o, NULL, pw_arena_strndup(ctx->arena, at, n));
    at += n + (at[n] == '\n');
  }
  pw_json_end(o);
}

static void write_remedy(struct pw_plan_json *w, const struct pw_remedy *r)
{
  struct pw_json_out *o = &w->out;
  pw_json_object(o, NULL);
  pw_json_text(o, "what", r->what);
  pw_json_int(o, "cost_cents", r->cost_cents);
  pw_json_int(o, "missed_after", r->missed_after);
  pw_json_int(o, "missed_portions_after", r->missed_portions_after);
  pw_json_int(o, "plan_cost_cents", r->plan_cost_cents);
  pw_json_array(o, "parts");
  for (int i = 0; i < r->n_parts; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "kind", KINDS[r->parts[i].kind]);
    pw_json_text(o, "id", r->parts[i].id);
    pw_json_bool(o, "is_new", r->parts[i].is_new);
    pw_json_end(o);
  }
  pw_json_end(o);
  write_lines(o, r->lines, w->ctx);
  if (r->n_chances > 0)
    pw_json_array(o, "chances_after"); /* of each meal of that plan */
  for (int i = 0; i < r->n_chances; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "service", r->chances[i].service);
    pw_json_text(o, "name", r->chances[i].name);
    pw_json_real(o, "on_time_frac", r->chances[i].on_time_frac);
    pw_json_real(o, "target_frac", r->chances[i].target_frac);
    pw_json_end(o);
  }
  if (r->n_chances > 0)
    pw_json_end(o);
  pw_json_end(o);
}

void pw_plan_json_ways(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_plan *plan = w->plan;
  pw_json_array(o, "shortfalls");
  for (int i = 0; i < plan->n_shortfalls; i++) {
    const struct pw_shortfall *s = &plan->shortfalls[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[s->service].id);
    pw_json_text(o, "dish", w->ev->dishes[s->dish].id);
    pw_json_int(o, "wanted", s->wanted);
    pw_json_int(o, "portions", s->portions);
    pw_json_object(o, "by_class");
    for (int k = 0; k < w->ev->n_classes; k++)
      pw_json_int(o, w->ev->classes[k].id, s->by_class[k]);
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
  if (plan->n_ways_tried > 0)
    pw_json_int(o, "ways_tried", plan->n_ways_tried);
  pw_json_array(o, "remedies");
  for (int i = 0; i < plan->allocation.n_remedies; i++)
    write_remedy(w, &plan->allocation.remedies[i]);
  pw_json_end(o);
}
