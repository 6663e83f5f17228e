/* day_job.h - the lakeside wedding planned quickly, and lines of its day. */
#ifndef PW_TEST_DAY_JOB_H
#define PW_TEST_DAY_JOB_H

#include "base/buf.h"
#include "base/when.h"
#include "day/state.h"
#include "planned.h"

static struct pw_ctx *g_ctx;
static struct pw_plan *g_plan;
static struct pw_names g_names;
static struct pw_load *g_load; /* the first that is smoked and then wrapped, of more than one piece */
static const char *g_lot;

static inline void open_job(void)
{
  g_ctx = pw_test_ctx();
  g_plan = planned(planned_event("tests/data/events/lakeside-wedding.yaml", g_ctx), false, PW_EFFORT_QUICK, g_ctx);
  ck_assert(pw_names_make(&g_names, g_plan, g_ctx) == PW_OK);
  for (int i = g_plan->allocation.n_loads; i-- > 0;) {
    struct pw_load *l = &g_plan->allocation.loads[i];
    if (l->stage == PW_LOAD_SMOKE && l->pieces > 1 && g_plan->lots.lots[l->lot].has_finish)
      g_load = l;
  }
  ck_assert(g_load != NULL);
  g_lot = pw_lot_letter(g_load->lot, g_ctx->arena);
}

static inline void close_job(void) { pw_test_ctx_free(g_ctx); }

/* A line "TIME words" at a minute of the event. */
static void line(struct pw_buf *buf, int at_min, const char *format, ...) __attribute__((format(printf, 3, 4)));
static inline void line(struct pw_buf *buf, int at_min, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  pw_buf_printf(buf, "%s %s\n", pw_when(g_plan->event, at_min).s, pw_arena_vprintf(g_ctx->arena, format, args));
  va_end(args);
}

static inline pw_status play(struct pw_state *state, struct pw_buf *text, int now_min, struct pw_ctx *ctx)
{
  static struct pw_log log;
  ck_assert_msg(pw_log_read(&log, "day.log", text->bytes ? text->bytes : "", text->n, &g_names, ctx) == PW_OK, "%s: %s",
                text->bytes, ctx->n_diags ? ctx->diags[0].text : "");
  return pw_state_make(state, g_plan, &log, &g_names, now_min, ctx);
}

static inline const struct pw_piece *piece(const struct pw_state *s, int k)
{
  return &s->pieces[s->first[g_load->lot] + g_load->piece_ids[k]];
}

#endif
