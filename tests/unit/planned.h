/* planned.h - for tests of what comes after planning: the example events, read and planned quickly. */
#ifndef PW_TEST_PLANNED_H
#define PW_TEST_PLANNED_H

#include "harness.h"

#include "read/read.h"
#include "run.h"

static const char *const PLANNED_EVENTS[] = {"tests/data/events/family-party.yaml",
                                             "tests/data/events/lakeside-wedding.yaml",
                                             "tests/data/events/county-fair.yaml", "templates/starter.yaml"};
enum { N_PLANNED_EVENTS = sizeof PLANNED_EVENTS / sizeof *PLANNED_EVENTS };

static inline struct pw_event *planned_event(const char *path, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL;
  ck_assert_msg(pw_event_read(&ev, path, "templates", ctx) == PW_OK, "%s: cannot be read: %s", path,
                ctx->n_diags ? ctx->diags[0].text : "?");
  return ev;
}

/* The same with lines at the end of the file, further documents that change it (read/changes.h). */
static inline struct pw_event *planned_event_with(const char *path, const char *lines, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL;
  ck_assert_msg(pw_event_change(&ev, planned_event(path, ctx), lines, ctx) == PW_OK, "%s with\n%s: cannot be read: %s",
                path, lines, ctx->n_diags ? ctx->diags[ctx->n_diags - 1].text : "?");
  return ev;
}

static inline struct pw_plan *planned(const struct pw_event *ev, bool has_ladder, enum pw_effort effort,
                                      struct pw_ctx *ctx)
{
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = effort, .has_ladder = has_ladder};
  pw_status st = pw_run_plan(&plan, ev, &options, ctx);
  const char *why = "?";
  for (int i = ctx->n_diags; i-- > 0;) /* the first error, not a warning before it */
    why = ctx->diags[i].severity == PW_ERROR ? ctx->diags[i].text : why;
  ck_assert_msg(st == PW_OK, "%s: cannot be planned: %s", ev->name, why);
  return plan;
}

#endif
