/* test_need_growth.c - the law by which an item's need follows the head count: each basis of a use, of a dish, a cut and
 * the event, by hand.  The job (job.h): dinner for 125 with sliced brisket, links, slaw and beans, lunch for 40 with chopped brisket
 * and slaw; a brisket has 6.4 kg, a tray of links 1.2 kg. */
#include "job.h"

#include "plan/buy/need_growth.h"
#include "plan/stages.h"

#include <stdbool.h>

enum { RAWS = 3 };

struct law {
  double fixed, by_guest, by_root, by_piece[RAWS];
};

enum whose { OF_SLICED, OF_SLAW, OF_BRISKET, OF_EVENT };

/* Raw needs: 0 brisket and 1 links of the dinner, 2 brisket of the lunch. */
static const struct {
  const char *name;
  enum whose whose;
  enum pw_basis per;
  double amount;
  struct law law;
} rows[] = {
    {"two for each guest of the dinner", OF_SLICED, PW_PER_GUEST, 2, {.by_guest = 250}},
    {"one dish of a service", OF_SLICED, PW_PER_SERVICE, 3, {.fixed = 3}},
    {"one dish of two services", OF_SLAW, PW_PER_SERVICE, 3, {.fixed = 6}},
    {"once for a dish of two services", OF_SLAW, PW_PER_EVENT, 4, {.fixed = 4}},
    {"a dish's pieces", OF_SLICED, PW_PER_PIECE, 2, {.by_piece = {2, 0, 0}}},
    {"a dish's kilograms", OF_SLICED, PW_PER_KG_RAW, 0.5, {.by_piece = {3.2, 0, 0}}},
    {"guests wherever the cut is served", OF_BRISKET, PW_PER_GUEST, 1, {.by_guest = 165}},
    {"services of a cut", OF_BRISKET, PW_PER_SERVICE, 2, {.fixed = 4}},
    {"once for a cut", OF_BRISKET, PW_PER_EVENT, 5, {.fixed = 5}},
    {"pieces of a cut", OF_BRISKET, PW_PER_PIECE, 1.5, {.by_piece = {1.5, 0, 1.5}}},
    {"kilograms of a cut", OF_BRISKET, PW_PER_KG_RAW, 0.25, {.by_piece = {1.6, 0, 1.6}}},
    {"all guests", OF_EVENT, PW_PER_GUEST, 1.2, {.by_guest = 198}},
    {"all services", OF_EVENT, PW_PER_SERVICE, 2, {.fixed = 4}},
    {"once", OF_EVENT, PW_PER_EVENT, 7, {.fixed = 7}},
    {"all pieces", OF_EVENT, PW_PER_PIECE, 1, {.by_piece = {1, 1, 1}}},
    {"all kilograms", OF_EVENT, PW_PER_KG_RAW, 0.5, {.by_piece = {3.2, 0.6, 3.2}}},
    /* portions have a cushion that grows with the root: only their sum is by hand (below) */
    {"portions of a dish", OF_SLICED, PW_PER_PORTION, 1, {.by_root = NAN}},
    {"portions of a cut", OF_BRISKET, PW_PER_PORTION, 1, {.by_root = NAN}},
    {"all portions", OF_EVENT, PW_PER_PORTION, 1, {.by_root = NAN}},
};

START_TEST(each_basis)
{
  struct job j;
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_use use = {JOB_I_PAPER, rows[_i].amount, rows[_i].per};
  struct pw_plan plan = {.event = &j.ev};
  job_make(&j);
  j.cuts[JOB_BRISKET].n_uses = 1; /* the paper is all ours */
  if (rows[_i].whose == OF_SLICED || rows[_i].whose == OF_SLAW) {
    struct pw_dish *d = &j.dishes[rows[_i].whose == OF_SLICED ? JOB_SLICED : JOB_SLAW];
    d->uses = &use;
    d->n_uses = 1;
  } else if (rows[_i].whose == OF_BRISKET) {
    j.cuts[JOB_BRISKET].uses = &use;
  } else {
    j.ev.uses = &use;
    j.ev.n_uses = 1;
  }
  ck_assert_int_eq(pw_demand_make(&plan.demand, &j.ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&plan.purchase, &j.ev, &plan.demand, ctx), PW_OK);
  ck_assert_int_eq(plan.purchase.n_raws, RAWS);
  double need = 0;
  for (int i = 0; i < plan.purchase.n_lines; i++)
    need += plan.purchase.lines[i].item == JOB_I_PAPER ? plan.purchase.lines[i].need : 0;
  struct pw_need_growth law;
  ck_assert_int_eq(pw_need_growth(&law, &plan, JOB_I_PAPER, need, ctx), PW_OK);
  double sum = law.fixed + law.by_guest + law.by_root;
  for (int r = 0; r < RAWS; r++)
    sum += law.by_piece[r] * plan.purchase.raws[r].pieces;
  PW_NEAR(rows[_i].name, sum, need, 0, 1e-9); /* as planned, with as many guests as planned */
  if (isnan(rows[_i].law.by_root)) {
    ck_assert_msg(law.by_root > 0 && law.by_guest > 0 && law.fixed == 0, "%s: no cushion", rows[_i].name);
  } else {
    PW_NEAR(rows[_i].name, law.fixed, rows[_i].law.fixed, 1e-9, 0);
    PW_NEAR(rows[_i].name, law.by_guest, rows[_i].law.by_guest, 1e-9, 0);
    PW_NEAR(rows[_i].name, law.by_root, 0, 0, 0);
    for (int r = 0; r < RAWS; r++)
      PW_NEAR(rows[_i].name, law.by_piece[r], rows[_i].law.by_piece[r], 1e-9, 0);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("need_growth");
  TCase *t = tcase_create("by hand");
  tcase_add_loop_test(t, each_basis, 0, (int)(sizeof rows / sizeof *rows));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
