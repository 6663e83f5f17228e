/* job_meals.c - another head count for single meals, "lunch=180,supper=60", as lines behind the event: what a pack keeps has them. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "base/nearest.h"
#include "base/num.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { HEADS_MAX = 100000 };

static const char *meals_of(const struct pw_event *ev, struct pw_arena *arena)
{
  struct pw_buf b = pw_buf_in(arena);
  for (int s = 0; s < ev->n_services; s++)
    pw_buf_printf(&b, "%s%s", s > 0 ? ", " : "", ev->services[s].id);
  return pw_buf_text(&b) ? pw_buf_text(&b) : "";
}

/* One meal's lines: its classes by their shares, and the range of a meal nobody books with them. */
static pw_status add_lines(struct pw_buf *out, const struct pw_event *ev, int service, int heads, struct pw_ctx *ctx)
{
  const struct pw_choice *choice = ev->choices ? &ev->choices[service] : NULL;
  int *fresh = pw_arena_array(ctx->arena, (size_t)ev->n_classes, sizeof *fresh);
  if (!fresh || pw_head_count_deal(fresh, ev, service, heads, ctx) != PW_OK)
    return PW_ERR_MEMORY;
  pw_buf_printf(out, "  - {id: %s, guests: {", ev->services[service].id);
  for (int g = 0; g < ev->n_classes; g++)
    pw_buf_printf(out, "%s%s: %d", g > 0 ? ", " : "", ev->classes[g].id, fresh[g]);
  pw_buf_add(out, "}");
  if (choice && choice->walk_most_frac > 0)
    pw_buf_printf(out, ", walk_up: {least: %.0f, most: %.0f}", floor(choice->walk_least_frac * heads + 0.5),
                  floor(choice->walk_most_frac * heads + 0.5));
  pw_buf_add(out, "}\n");
  return PW_OK;
}

/* "lunch=180" of n bytes, or the index of its service; PW_NONE after a fault. */
static int meal_read(int *heads, const char *part, int n, const struct pw_event *ev, struct pw_ctx *ctx)
{
  const char *equals = memchr(part, '=', (size_t)n), *number = equals ? equals + 1 : part + n;
  const char *digits = pw_arena_printf(ctx->arena, "%.*s", (int)(part + n - number), number);
  const char *meal = pw_arena_printf(ctx->arena, "%.*s", (int)(equals ? equals - part : n), part);
  struct pw_nearest nearest = {.word = meal};
  int found = PW_NONE;
  if (!digits || !meal)
    return PW_NONE;
  for (int s = 0; s < ev->n_services; s++) {
    pw_nearest_offer(&nearest, ev->services[s].id);
    found = strcmp(ev->services[s].id, meal) == 0 ? s : found;
  }
  bool is_number = pw_int_parse(digits, 1, HEADS_MAX, heads);
  if (!equals || !is_number)
    pw_diag_add(ctx, PW_ERROR, "meal-guests", ev->file, 0, 0,
                "\"%.*s\": guests of single meals are written as MEAL=N with N from 1 to %d, such as %s=180", n, part,
                HEADS_MAX, ev->services[0].id);
  if (equals && found == PW_NONE && nearest.best)
    pw_diag_add(ctx, PW_ERROR, "no-meal", ev->file, 0, 0, "there is no meal \"%s\"; did you mean \"%s\"?", meal,
                nearest.best);
  else if (equals && found == PW_NONE)
    pw_diag_add(ctx, PW_ERROR, "no-meal", ev->file, 0, 0, "there is no meal \"%s\"; there are: %s", meal,
                meals_of(ev, ctx->arena));
  return is_number ? found : PW_NONE;
}

pw_status pw_job_meals(struct pw_job *job, const char *meals)
{
  const struct pw_event *ev = job->n_read == 1 ? job->read[0] : NULL;
  struct pw_ctx *ctx = &job->ctx;
  struct pw_buf lines = pw_buf_in(ctx->arena);
  const int n_errors = ctx->n_errors;
  if (!ev || job->plan || job->heads)
    return PW_ERR_USAGE;
  int *asked = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *asked);
  if (!asked)
    return PW_ERR_MEMORY;
  pw_buf_add(&lines, "---\nservices:\n");
  for (const char *part = meals;; part += strcspn(part, ",") + 1) {
    int heads = 0, n = (int)strcspn(part, ","), s = meal_read(&heads, part, n, ev, ctx);
    if (s != PW_NONE && asked[s] > 0)
      pw_diag_add(ctx, PW_ERROR, "meal-guests", ev->file, 0, 0, "the guests of \"%s\" are given twice",
                  ev->services[s].id);
    else if (s != PW_NONE && add_lines(&lines, ev, s, asked[s] = heads, ctx) != PW_OK)
      return PW_ERR_MEMORY;
    if (part[n] == '\0')
      break;
  }
  if (ctx->n_errors > n_errors)
    return PW_ERR_INPUT;
  return pw_buf_text(&lines) ? pw_job_change(job, pw_buf_text(&lines)) : PW_ERR_MEMORY;
}
