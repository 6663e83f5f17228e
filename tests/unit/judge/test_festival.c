/* test_festival.c - four long meals of two days (events/river-weekend.yaml): in waves all of them are served and no piece is held beyond its
 * longest at any minute; in one go each, the same racks serve less. */
#include "planned.h"

#include "judge/plan_check.h"
#include "read/read.h"
#include "write/plan_json.h"

#define ONE_GO                                                                                                         \
  "---\nservices:\n  - {id: sat-lunch, waves: 1}\n  - {id: sat-supper, waves: 1}\n  - {id: sun-lunch, waves: 1}\n"     \
  "  - {id: sun-supper, waves: 2}\n"

static struct pw_plan *festival(bool is_one_go, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL, *other = NULL;
  ck_assert_int_eq(pw_event_read(&ev, "events/river-weekend.yaml", "templates", ctx), PW_OK);
  if (is_one_go)
    ck_assert_int_eq(pw_event_change(&other, ev, ONE_GO, ctx), PW_OK);
  return planned(is_one_go ? other : ev, false, PW_EFFORT_QUICK, ctx);
}

/* When a piece is out of the rest and into its box. */
static int held_from(const struct pw_plan *plan, int lot, int piece)
{
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    for (int k = 0; l->lot == lot && l->stage == PW_LOAD_HOLD && k < l->pieces; k++)
      if (l->piece_ids[k] == piece)
        return l->start_at_min;
  }
  return PW_NO_PLATES;
}

START_TEST(no_minute_beyond_its_longest)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = festival(false, ctx);
  int n_cut = 0, n_pieces = 0, n_waves = 0;
  ck_assert_int_eq(plan->allocation.n_missed, 0);
  for (int l = 0; l < plan->lots.n_lots; l++) {
    n_pieces += plan->lots.lots[l].pieces;
    n_waves += plan->lots.lots[l].n_waves > 1;
    ck_assert_int_eq(plan->lots.lots[l].over_min, 0);
  }
  ck_assert_int_ge(n_waves, 4);
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind != PW_TASK_CUT)
      continue;
    const struct pw_lot *lot = &plan->lots.lots[t->lot];
    const struct pw_cut *cut = &plan->event->cuts[lot->cut];
    int whole_until = t->is_in_parts ? t->plates_to_min - cut->pan_hold_min : t->at_min;
    for (int k = 0; k < t->n_ids; k++, n_cut++) {
      int from = held_from(plan, t->lot, t->piece_ids[k]);
      ck_assert_int_ne(from, PW_NO_PLATES);
      for (int at = from; at <= t->plates_to_min; at++) { /* whole in its box, then cut in its pan */
        if (at <= whole_until)
          ck_assert_msg(at - from <= cut->hold_max_min, "%s: whole for %d min", lot->id, at - from);
        else
          ck_assert_msg(t->is_in_parts || at - t->at_min <= cut->pan_hold_min, "%s: cut for %d min", lot->id,
                        at - t->at_min);
      }
    }
  }
  ck_assert_int_eq(n_cut, n_pieces);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(one_go_serves_less)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = festival(true, ctx);
  int n_over = 0, n_fewer = 0;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    if (lot->service < 3)
      ck_assert_int_eq(lot->n_waves, 1);
    n_over += lot->over_min > 0;
    n_fewer += lot->wave == 0 && lot->service == 3 && lot->n_waves < 2; /* one pan is no two waves, and that is told */
  }
  for (int i = 0; i < plan->n_warnings; i++)
    n_fewer -= strcmp(plan->warnings[i].code, "waves-fewer") == 0;
  ck_assert_int_eq(n_fewer, 0);
  ck_assert_int_gt(plan->allocation.n_missed, 0);
  ck_assert_int_ge(n_over, 3);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The text of a plan with the number behind the n-th place of a key changed. */
static int found_with(const struct pw_plan *plan, const char *key, int n, const char *with)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text;
  size_t size;
  int n_found = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &size, plan, ctx), PW_OK);
  const char *at = text;
  for (int i = 0; i <= n; i++)
    ck_assert_ptr_nonnull(at = strstr(at + 1, key));
  at += strlen(key);
  size_t head = (size_t)(at - text), old = strcspn(at, ",}\n");
  char *edited = calloc(1, size + 40);
  ck_assert_ptr_nonnull(edited);
  memcpy(edited, text, head);
  strcpy(edited + head, with);
  strcat(edited, at + old);
  (void)pw_plan_check_text("plan.json", edited, strlen(edited), &n_found, ctx);
  free(edited);
  pw_test_ctx_free(ctx);
  return n_found;
}

/* Most pans in a box at once, with `big` pans for a piece of one lot: until the loads say, or until the pieces are cut. */
static double most_in_box(const struct pw_plan *plan, int box, int lot, double big, bool is_until_cut)
{
  double most = 0;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    double pans = 0;
    int at = plan->allocation.loads[i].start_at_min;
    for (int k = 0; k < plan->allocation.n_loads; k++) {
      const struct pw_load *l = &plan->allocation.loads[k];
      if (l->zone != PW_NONE || l->finisher != box || l->start_at_min > at)
        continue;
      for (int p = 0; p < l->pieces; p++) {
        int until = l->end_at_min;
        for (int t = 0; is_until_cut && l->stage == PW_LOAD_HOLD && t < plan->tasks.n_tasks; t++) {
          const struct pw_task *task = &plan->tasks.tasks[t];
          for (int m = 0; task->kind == PW_TASK_CUT && task->lot == l->lot && m < task->n_ids; m++)
            if (task->piece_ids[m] == l->piece_ids[p])
              until = task->is_in_parts ? task->plates_to_min : task->at_min > until ? task->at_min : until;
        }
        if (at < until)
          pans += l->lot == lot ? big : plan->event->cuts[plan->lots.lots[l->lot].cut].pans_per_piece;
      }
    }
    most = pans > most ? pans : most;
  }
  return most;
}

/* The text with the number behind the n-th place of a key changed; to be freed. */
static char *with_number(const char *text, const char *key, int n, double value)
{
  const char *at = text;
  char *edited = calloc(1, strlen(text) + 40);
  ck_assert_ptr_nonnull(edited);
  for (int i = 0; i <= n; i++)
    ck_assert_ptr_nonnull(at = strstr(at + 1, key));
  at += strlen(key);
  sprintf(edited, "%.*s%.6f%s", (int)(at - text), text, value, at + strcspn(at, ",}\n"));
  return edited;
}

static bool is_over_filled(const struct pw_plan *plan, int lot, double big, double capacity)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text;
  size_t size;
  int n_found = 0;
  bool is_over = false;
  ck_assert_int_eq(pw_plan_json_text(&text, &size, plan, ctx), PW_OK);
  char *one = with_number(text, "\"pans_per_piece\": ", lot, big),
       *two = with_number(one, "\"capacity\": ", 0, capacity);
  (void)pw_plan_check_text("plan.json", two, strlen(two), &n_found, ctx);
  for (int i = 0; i < ctx->n_diags; i++)
    is_over = is_over || strstr(ctx->diags[i].text, "over-fills") != NULL;
  free(one);
  free(two);
  pw_test_ctx_free(ctx);
  return is_over;
}

/* What is not cut yet is in its box when the next wave comes: one that has room for what the loads say alone is too small.  The second
 * wave's pieces are made large, so that the box is fullest when they come. */
START_TEST(box_until_it_is_cut)
{
  const double big = 0.5;
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = festival(false, ctx);
  int lot = 0, n = 0;
  ck_assert_int_eq(plan->event->finishers[0].kind, PW_HOLD);
  for (; lot < plan->lots.n_lots; lot++) {
    double by_loads = most_in_box(plan, 0, lot, big, false), by_cuts = most_in_box(plan, 0, lot, big, true);
    if (plan->lots.lots[lot].wave == 0 || by_cuts < by_loads + 0.05)
      continue;
    n++;
    ck_assert(!is_over_filled(plan, lot, big, by_cuts + 0.01));
    ck_assert(is_over_filled(plan, lot, big, (by_cuts + by_loads) / 2));
  }
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(labels_and_knives_broken)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = festival(false, ctx);
  /* supper from minute 1110, labels from then on, 240 min each */
  ck_assert_int_eq(found_with(plan, "\"discard_by_min\": ", 0, "1350"), 0);
  ck_assert_int_gt(found_with(plan, "\"discard_by_min\": ", 0, "1351"), 0);
  ck_assert_int_gt(found_with(plan, "\"discard_by_min\": ", 0, "1349"), 0);
  ck_assert_int_gt(found_with(plan, "\"out_min\": ", 0, "1105"), 0);
  ck_assert_int_gt(found_with(plan, "\"time_control\": ", 0, "false"), 0);
  for (int i = 0, k = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    char with[20];
    if (t->kind != PW_TASK_CUT || t->plates_to_min == PW_NO_PLATES)
      continue;
    snprintf(with, sizeof with, "%d", t->plates_to_min + 1);
    ck_assert_int_gt(found_with(plan, "\"plates_to_min\": ", k, with), 0);
    ck_assert(t->is_in_parts || found_with(plan, "\"is_in_parts\": ", k, "true") > 0);
    k++;
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("festival");
  TCase *t = tcase_create("festival");
  tcase_set_timeout(t, 120);
  tcase_add_test(t, no_minute_beyond_its_longest);
  tcase_add_test(t, one_go_serves_less);
  tcase_add_test(t, box_until_it_is_cut);
  tcase_add_test(t, labels_and_knives_broken);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
