/* Cost, price, tax, dues [Q1], and the head counts of the ladder. */
#include "job.h"

#include "plan/money/ladder.h"
#include "plan/money/quote.h"
#include "plan/stages.h"

static struct job j;
static struct pw_ctx *ctx;
static struct pw_plan plan;
static struct pw_burn burn;

static void set_up(void)
{
  job_make(&j);
  ctx = pw_test_ctx();
  memset(&plan, 0, sizeof plan);
  plan.event = &j.ev;
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

/* Head count and the parts other stages made, by hand. */
static void given(pw_cents food, pw_cents supplies, pw_cents fuel)
{
  ck_assert_int_eq(pw_demand_make(&plan.demand, &j.ev, ctx), PW_OK);
  plan.purchase.food_cents = food;
  plan.purchase.supplies_cents = supplies;
  plan.fuel.cost_cents = fuel;
}

/* The whole job worked on paper:
 * labour: pitmaster 10 h x 32.00 = 320.00; servers max(2, ceil(125 / 40)) = 4 x 5.5 h x 19.00 = 418.00
 * rental 400.00 + own pit 25.00; travel 2 x 45 km x 0.435 = 39.15; direct 2000 + 300 + 150 + 738 + 425 + 39.15
 * = 3652.15; overhead 120.00 + 9 % = 328.6935 -> 328.69; cost 4100.84
 * asked 4100.84 / 0.78 = 5257.487 -> 5257.49 after the discount of 4 %: list 5257.49 / 0.96 = 5476.552 -> 5476.56;
 * / 125 = 43.82 -> 44.00 a head; 5500.00; discount 220.00; net 5280.00; service charge 18 % 950.40; taxable 6230.40;
 * tax 8.25 % 514.008 -> 514.01; total 6744.41; deposit 30 % 2023.323 -> 2023.32; 30 days 25 % 1686.1025 -> 1686.10;
 * 7 days 30 % 2023.32; balance 1011.67 */
START_TEST(worked_by_hand)
{
  j.ev.terms.discount_frac = 0.04;
  j.ev.terms.service_charge_frac = 0.18;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  const struct pw_quote *q = &plan.quote;
  ck_assert_int_eq(q->guests, 125);
  ck_assert_int_eq(q->labour_cents, 73800);
  ck_assert_int_eq(q->rental_cents, 42500);
  ck_assert_int_eq(q->travel_cents, 3915);
  ck_assert_int_eq(q->overhead_cents, 12000 + 32869);
  ck_assert_int_eq(q->cost_cents, 410084);
  ck_assert_int_eq(q->per_guest_cents, 4400);
  ck_assert_int_eq(q->price_cents, 550000);
  ck_assert_int_eq(q->discount_cents, 22000);
  ck_assert_int_eq(q->net_cents, 528000);
  ck_assert_int_eq(q->service_charge_cents, 95040);
  ck_assert_int_eq(q->taxable_cents, 623040);
  ck_assert_int_eq(q->tax_cents, 51401);
  ck_assert_int_eq(q->total_cents, 674441);
  ck_assert_int_eq(q->deposit_cents, 202332);
  /* shared by heads, 125 of 165 and the other 40: 4100.84 x 125 / 165 = 3106.697 */
  ck_assert_int_eq(q->services[JOB_DINNER].other_cents, 310670);
  ck_assert_int_eq(q->services[JOB_LUNCH].other_cents, 410084 - 310670);
  PW_NEAR("margin", q->margin_frac, (528000.0 - 410084) / 528000, 1e-12, 0);
  PW_NEAR("food share", q->food_share_frac, 200000.0 / 528000, 1e-12, 0);
  static const struct {
    const char *name;
    struct pw_date date;
    pw_cents cents;
  } dues[] = {{"Deposit on acceptance", {2027, 5, 13}, 202332},
              {"Second payment", {2027, 5, 13}, 168610},
              {"Final payment", {2027, 6, 5}, 202332},
              {"Balance", {2027, 6, 12}, 101167}};
  ck_assert_int_eq(q->n_dues, 4);
  for (int i = 0; i < 4; i++) {
    ck_assert_str_eq(q->dues[i].name, dues[i].name);
    ck_assert_int_eq(q->dues[i].cents, dues[i].cents);
    ck_assert_int_eq(q->dues[i].date.year, dues[i].date.year);
    ck_assert_int_eq(q->dues[i].date.month, dues[i].date.month);
    ck_assert_int_eq(q->dues[i].date.day, dues[i].date.day);
  }
}
END_TEST

/* The same job with 13 heads (a tenth of 125, rounded) fewer and more, no discount, 42.50 a head, cost 4100.84:
 * 112 x 42.50 = 4760.00; 138 x 42.50 = 5865.00, at what so many cost when planned. */
START_TEST(another_turnout)
{
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  const struct pw_quote *q = &plan.quote;
  ck_assert_int_eq(q->prime_cents, 273800);
  ck_assert_int_eq(q->contribution_cents, 531250 - 365215);
  ck_assert_int_eq(q->fewer.guests, 112);
  ck_assert_int_eq(q->fewer.net_cents, 476000);
  ck_assert_int_eq(q->fewer.cost_cents, 410084);
  PW_NEAR("fewer", q->fewer.margin_frac, 65916.0 / 476000, 1e-12, 0);
  ck_assert_int_eq(q->more.guests, 0); /* nobody planned for them */
  struct pw_quote_rung tried[] = {{.guests = 112, .cost_cents = 400000},
                                  {.guests = 125, .cost_cents = 410084},
                                  {.guests = 138, .cost_cents = 471234}};
  plan.quote.tried = tried;
  plan.quote.n_tried = 3;
  pw_quote_outlook(&plan.quote, &j.ev.terms);
  ck_assert_int_eq(q->more.guests, 138);
  ck_assert_int_eq(q->more.net_cents, 586500);
  ck_assert_int_eq(q->more.cost_cents, 471234);  /* with another hand and another fire, as planned */
  ck_assert_int_eq(q->fewer.cost_cents, 410084); /* bought and booked */
}
END_TEST

/* Cost 1000 + 20 a head on each rung, 30.00 a head: would pay from 100 heads on; of those planned from 130 on. */
START_TEST(break_even)
{
  struct pw_quote_rung rungs[4] = {{.guests = 40}, {.guests = 70}, {.guests = 130}, {.guests = 200}};
  for (int i = 0; i < 4; i++)
    rungs[i].cost_cents = 100000 + 2000 * rungs[i].guests;
  struct pw_quote q = {.guests = 130, .per_guest_cents = 3000, .price_cents = 390000, .ladder = rungs, .n_ladder = 4};
  struct pw_terms terms = {0};
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, 130);
  terms.discount_frac = 0.1; /* 27.00 net: 1000 / 7 = 142.9, between 130 and 200 */
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, 200);
  terms.min_fee_cents = 1000000;
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, 0);
  terms = (struct pw_terms){0};
  q.per_guest_cents = 1900;
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, PW_NONE);
  q.per_guest_cents = 3000;
  rungs[2].cost_cents = 500000; /* a step: another pit at 130 heads; paid for from between there and 200 */
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, 200);
}
END_TEST

START_TEST(charge_not_taxed)
{
  j.ev.terms.service_charge_frac = 0.18;
  j.ev.terms.is_service_charge_taxed = false;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.taxable_cents, 531250);
  ck_assert_int_eq(plan.quote.total_cents, 531250 + 95625 + 43828); /* 8.25 % of 5312.50 = 438.28 */
}
END_TEST

/* Food 2000.00 at 30 % of the price: 6666.67; / 125 = 53.34 -> 53.50 a head; then food is 29.9 % of the price. */
START_TEST(by_food_share)
{
  j.ev.terms.food_share_frac = 0.3;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.per_guest_cents, 5350);
  ck_assert_int_eq(plan.quote.price_cents, 668750);
  PW_NEAR("share", plan.quote.food_share_frac, 200000.0 / 668750, 1e-12, 0);
}
END_TEST

START_TEST(minimum_fee)
{
  j.ev.terms.min_fee_cents = 1000001;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.price_cents, 1000001);
  ck_assert_int_eq(plan.quote.per_guest_cents, 8001);
}
END_TEST

/* What has to be left is left after the discount: the fee is met exactly, not undercut; and food is a third of what is left. */
START_TEST(after_the_discount)
{
  j.ev.terms.discount_frac = 0.12;
  j.ev.terms.min_fee_cents = 1000001;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert(plan.quote.is_least_fee);
  ck_assert_int_eq(plan.quote.price_cents, 1136365); /* 10000.01 / 0.88 = 11363.648 */
  ck_assert_int_eq(plan.quote.net_cents, 1000001);
  j.ev.terms.min_fee_cents = 0;
  j.ev.terms.food_share_frac = 1.0 / 3;
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert(!plan.quote.is_least_fee);
  ck_assert_int_ge(plan.quote.net_cents, 600000);
  ck_assert_int_lt(plan.quote.net_cents, 600000 + 125 * j.ev.terms.round_per_guest_cents);
  ck_assert(plan.quote.food_share_frac <= 1.0 / 3);
}
END_TEST

/* A price named before stands, whatever the plan costs now; margin and dues follow from it. */
START_TEST(price_named_before)
{
  j.ev.terms.quoted_per_guest_cents = 4175;
  j.ev.terms.quoted_price_on = (struct pw_date){2027, 3, 3};
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.per_guest_cents, 4175);
  ck_assert_int_eq(plan.quote.price_cents, 4175 * 125);
  ck_assert_int_eq(plan.quote.today_per_guest_cents, 4250);
  ck_assert_int_eq(plan.quote.today_cents, 4250 * 125);
  PW_NEAR("margin", plan.quote.margin_frac, (4175.0 * 125 - 410084) / (4175 * 125), 1e-12, 0);
  j.ev.terms.min_fee_cents = 1000001; /* the least fee is least */
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.price_cents, 1000001);
}
END_TEST

/* A contract's price holds to the cent for its own guests, also below the least fee; each guest more costs the same share. */
START_TEST(price_agreed)
{
  j.ev.terms.agreed_cents = 521901;
  j.ev.terms.agreed_guests = 125;
  j.ev.terms.quoted_per_guest_cents = 4176; /* 521901 / 125 = 4175.2 */
  j.ev.terms.quoted_price_on = j.ev.terms.agreed_on = (struct pw_date){2027, 3, 3};
  j.ev.terms.min_fee_cents = 900000;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.price_cents, 521901);
  ck_assert(!plan.quote.is_least_fee);
  ck_assert_int_eq(plan.quote.today_cents, 900000);
  j.ev.terms.min_fee_cents = 0;
  j.ev.terms.agreed_guests = 120;
  j.ev.terms.quoted_per_guest_cents = 4350; /* 521901 / 120 = 4349.2 */
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.price_cents, 4350 * 125);
}
END_TEST

/* A rentable pit is paid for when it is lit. */
START_TEST(hired_pit)
{
  given(0, 0, 0);
  burn.pit = 1;
  plan.allocation.burns = &burn;
  plan.allocation.n_burns = 1;
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.rental_cents, 40000 + 2500 + 25000);
}
END_TEST

START_TEST(margin_of_everything)
{
  j.ev.terms.margin_frac = 1;
  given(1, 1, 1);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "a margin of 100 % of the price"));
}
END_TEST

/* Instalments over the whole: the last ones take what is open, nothing is owed twice. */
START_TEST(instalments_over_the_whole)
{
  j.ev.terms.deposit_frac = 0.5;
  j.instalments[1].frac = 0.4;
  j.instalments[0].frac = 0.4;
  given(200000, 30000, 15000);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.n_dues, 3);
  pw_cents sum = 0;
  for (int i = 0; i < 3; i++)
    sum += plan.quote.dues[i].cents;
  ck_assert_int_eq(sum, plan.quote.total_cents);
  ck_assert_str_eq(plan.quote.dues[2].name, "Final payment");
}
END_TEST

/* Dates around leap days and year ends. */
static const struct {
  struct pw_date event;
  int days;
  struct pw_date due;
} date_rows[] = {
    {{2028, 3, 1}, 1, {2028, 2, 29}},      {{2027, 3, 1}, 1, {2027, 2, 28}},  {{2027, 1, 1}, 1, {2026, 12, 31}},
    {{2100, 3, 1}, 1, {2100, 2, 28}},      {{2000, 3, 1}, 366, {1999, 3, 1}}, {{2027, 6, 12}, 0, {2027, 6, 12}},
    {{2028, 12, 31}, 366, {2027, 12, 31}},
};

/* A deposit is due while the offer stands, also when the final count is later. */
START_TEST(deposit_while_the_offer_stands)
{
  static const struct {
    struct pw_date quoted;
    int valid_days;
    struct pw_date due;
  } rows[] = {{{0, 0, 0}, 30, {2027, 5, 29}},
              {{2027, 3, 1}, 30, {2027, 3, 31}},
              {{2027, 3, 1}, 89, {2027, 5, 29}},
              {{2027, 3, 1}, 200, {2027, 5, 29}}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    j.ev.date = (struct pw_date){2027, 6, 12};
    j.ev.n_instalments = 0;
    j.ev.terms.deposit_frac = 0.3;
    j.ev.terms.final_count_days_before = 14;
    j.ev.terms.quoted = rows[i].quoted;
    j.ev.terms.valid_days = rows[i].valid_days;
    given(200000, 0, 0);
    ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
    struct pw_date due = plan.quote.dues[0].date;
    ck_assert_msg(due.year == rows[i].due.year && due.month == rows[i].due.month && due.day == rows[i].due.day,
                  "row %zu: %d-%d-%d", i, due.year, due.month, due.day);
  }
}
END_TEST

START_TEST(due_dates)
{
  j.ev.date = date_rows[_i].event;
  j.ev.n_instalments = 1;
  j.instalments[0].days_before = date_rows[_i].days;
  j.ev.terms.deposit_frac = 0;
  given(200000, 0, 0);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.n_dues, 2);
  ck_assert_int_eq(plan.quote.dues[0].date.year, date_rows[_i].due.year);
  ck_assert_int_eq(plan.quote.dues[0].date.month, date_rows[_i].due.month);
  ck_assert_int_eq(plan.quote.dues[0].date.day, date_rows[_i].due.day);
}
END_TEST

/* Over seeded jobs with really bought food: columns add up to the cent, bases are right, dues pay the total. */
START_TEST(identities)
{
  for (unsigned seed = 1; seed <= 400; seed++) {
    job_shuffle(&j, seed);
    if (seed % 4 == 0) { /* all of it in three parts: each may round up, together they may not */
      j.ev.terms.deposit_frac = 0.5;
      j.instalments[0].frac = j.instalments[1].frac = 0.25;
    }
    ck_assert_int_eq(pw_demand_make(&plan.demand, &j.ev, ctx), PW_OK);
    ck_assert_int_eq(pw_purchase_make(&plan.purchase, &j.ev, &plan.demand, ctx), PW_OK);
    plan.fuel.cost_cents = (pw_cents)(seed * 137 % 40000);
    ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
    const struct pw_quote *q = &plan.quote;
    const struct pw_terms *t = &j.ev.terms;
    ck_assert_int_eq(q->cost_cents, q->food_cents + q->supplies_cents + q->fuel_cents + q->labour_cents +
                                        q->rental_cents + q->travel_cents + q->overhead_cents);
    pw_cents net = q->price_cents - q->discount_cents;
    ck_assert_int_eq(q->total_cents, net + q->service_charge_cents + q->tax_cents);
    ck_assert_int_eq(q->taxable_cents, net + (t->is_service_charge_taxed ? q->service_charge_cents : 0));
    PW_NEAR("tax", (double)q->tax_cents, (double)q->taxable_cents * t->tax_frac, 0.5 + 1e-6, 0);
    PW_NEAR("discount", (double)q->discount_cents, (double)q->price_cents * t->discount_frac, 0.5 + 1e-6, 0);
    PW_NEAR("charge", (double)q->service_charge_cents, (double)net * t->service_charge_frac, 0.5 + 1e-6, 0);
    PW_NEAR("deposit", (double)q->deposit_cents, (double)q->total_cents * t->deposit_frac, 0.5 + 1e-6, 0);
    ck_assert_int_ge(q->net_cents, t->min_fee_cents); /* all three after the discount */
    ck_assert((double)q->net_cents * (1 - t->margin_frac) >= (double)q->cost_cents - 1e-3);
    ck_assert(q->margin_frac >= t->margin_frac - 1e-9);
    ck_assert_int_eq(q->net_cents, net);
    ck_assert_int_ge(q->per_guest_cents * q->guests, q->price_cents);
    if (!q->is_least_fee) {
      ck_assert_int_eq(q->per_guest_cents * q->guests, q->price_cents);
      if (t->round_per_guest_cents > 0)
        ck_assert_int_eq(q->per_guest_cents % t->round_per_guest_cents, 0);
    }
    pw_cents by_service = 0, by_role = 0;
    for (int s = 0; s < j.ev.n_services; s++) {
      by_service += q->services[s].food_cents + q->services[s].other_cents;
      ck_assert_int_ge(q->services[s].other_cents, 0);
    }
    ck_assert_int_eq(by_service, q->cost_cents);
    for (int i = 0; i < q->n_roles; i++)
      by_role += q->roles[i].cents;
    ck_assert_int_eq(by_role, q->labour_cents);
    pw_cents sum = 0;
    for (int i = 0; i < q->n_dues; i++) {
      sum += q->dues[i].cents;
      ck_assert_int_ge(q->dues[i].cents, 0);
    }
    ck_assert_int_eq(sum, q->total_cents);
  }
}
END_TEST

/* Nobody comes: the fixed costs are still asked for. */
START_TEST(no_guests)
{
  memset(j.guests, 0, sizeof j.guests);
  given(0, 0, 0);
  ck_assert_int_eq(pw_quote_make(&plan.quote, &plan, ctx), PW_OK);
  ck_assert_int_eq(plan.quote.per_guest_cents, 0);
  ck_assert_int_gt(plan.quote.price_cents, plan.quote.cost_cents);
}
END_TEST

static const struct {
  int planned, guests[PW_LADDER_RUNGS];
} ladder_rows[] = {
    {180, {90, 130, 150, 180, 210, 230, 270}},
    {1, {1, 2, 3, 4, 5, 6, 7}},
    {6, {3, 4, 5, 6, 7, 8, 9}},
    {33, {16, 25, 30, 33, 40, 45, 50}},
    {1230, {620, 860, 1050, 1230, 1400, 1600, 1850}},
};

START_TEST(ladder)
{
  int guests[PW_LADDER_RUNGS];
  pw_ladder_guests(guests, ladder_rows[_i].planned);
  for (int i = 0; i < PW_LADDER_RUNGS; i++)
    ck_assert_msg(guests[i] == ladder_rows[_i].guests[i], "%d rung %d: got %d", ladder_rows[_i].planned, i, guests[i]);
}
END_TEST

START_TEST(ladder_any)
{
  for (int planned = 1; planned < 3000; planned += planned < 200 ? 1 : 37) {
    int guests[PW_LADDER_RUNGS], found = 0;
    pw_ladder_guests(guests, planned);
    for (int i = 0; i < PW_LADDER_RUNGS; i++) {
      found += guests[i] == planned;
      ck_assert(guests[i] >= 1 && (i == 0 || guests[i] > guests[i - 1]));
    }
    ck_assert_int_eq(found, 1);
  }
}
END_TEST

static const struct {
  const char *name;
  int planned;
  struct pw_ladder_terms terms;
  int n, first, last;
} ladder_blocks[] = {
    {"twelve head counts, the planned one among them", 180, {100, 210, 10}, 12, 100, 210},
    {"the planned one between them", 175, {100, 210, 10}, 13, 100, 210},
    {"the planned one below", 60, {100, 210, 50}, 4, 60, 200},
    {"the planned one above", 500, {100, 100, 1}, 2, 100, 500},
    {"as many as there may be", 1, {1, 24, 1}, 24, 1, 24},
    {"none asked for: seven around it", 180, {0, 0, 0}, 7, 90, 270},
};

START_TEST(ladder_of_the_event)
{
  struct pw_event ladder_event = {.ladder = ladder_blocks[_i].terms};
  int *guests, n, found = 0;
  ck_assert_int_eq(pw_ladder_make(&guests, &n, &ladder_event, ladder_blocks[_i].planned, ctx), PW_OK);
  ck_assert_msg(n == ladder_blocks[_i].n && guests[0] == ladder_blocks[_i].first &&
                    guests[n - 1] == ladder_blocks[_i].last,
                "%s: %d from %d to %d", ladder_blocks[_i].name, n, guests[0], guests[n - 1]);
  for (int i = 0; i < n; i++) {
    found += guests[i] == ladder_blocks[_i].planned;
    ck_assert(i == 0 || guests[i] > guests[i - 1]);
  }
  ck_assert_int_eq(found, 1);
}
END_TEST

/* A cost with a step (a second pit from 96 heads on), 30.00 a head: it pays from 70 to 95 and again from 110 on.  Halving finds the head count at which it stops paying
 * as trying every one would. */
static pw_cents stepped_cost(int guests, int step_at)
{
  return 70000 + 2000 * guests + (guests >= step_at ? 40000 : 0);
}

/* At 10 a head without fees: which head count is planned next between the last that does not pay and the first that does. */
static const struct {
  const char *name;
  int n;
  struct {
    int guests;
    pw_cents cost;
  } rungs[3];
  int next;
} probes[] = {
    {"nothing tried", 0, {{0, 0}}, 0},
    {"between the two in the middle", 2, {{20, 25000}, {60, 50000}}, 40},
    {"all pay: below the first", 2, {{20, 20000}, {60, 50000}}, 10},
    {"none pays", 2, {{20, 25000}, {60, 70000}}, 0},
    {"neighbours: found", 2, {{20, 25000}, {21, 20000}}, 0},
    {"next but one", 2, {{20, 25000}, {22, 20000}}, 21},
    {"the highest that does not pay counts", 3, {{20, 10000}, {60, 70000}, {80, 70000}}, 70},
};

START_TEST(next_head_count)
{
  struct pw_quote_rung tried[3] = {{.guests = 0}};
  for (int i = 0; i < probes[_i].n; i++)
    tried[i] = (struct pw_quote_rung){.guests = probes[_i].rungs[i].guests, .cost_cents = probes[_i].rungs[i].cost};
  struct pw_quote q = {.per_guest_cents = 1000, .tried = tried, .n_tried = probes[_i].n};
  struct pw_terms terms = {.margin_frac = 0};
  int next = pw_quote_probe(&q, &terms);
  ck_assert_msg(next == probes[_i].next, "%s: %d, not %d", probes[_i].name, next, probes[_i].next);
}
END_TEST

START_TEST(break_even_by_halving)
{
  enum { MOST = 40, STEP_AT = 96 };
  struct pw_quote_rung rungs[MOST] = {{.guests = 60}, {.guests = 100}, {.guests = 130}};
  struct pw_terms terms = {0};
  struct pw_quote q = {.guests = 130, .per_guest_cents = 3000, .price_cents = 390000, .tried = rungs, .n_tried = 3};
  int want = 200, n_probes = 0;
  while (3000 * (want - 1) >= stepped_cost(want - 1, STEP_AT))
    want--;
  for (int i = 0; i < 3; i++)
    rungs[i].cost_cents = stepped_cost(rungs[i].guests, STEP_AT);
  for (int at; (at = pw_quote_probe(&q, &terms)) > 0; n_probes++) {
    int k = q.n_tried++;
    ck_assert_int_le(q.n_tried, MOST);
    for (; rungs[k - 1].guests > at; k--)
      rungs[k] = rungs[k - 1];
    rungs[k] = (struct pw_quote_rung){.guests = at, .cost_cents = stepped_cost(at, STEP_AT)};
  }
  pw_quote_outlook(&q, &terms);
  ck_assert_int_eq(q.break_even_guests, want);
  ck_assert_int_eq(want, 110);
  ck_assert_int_le(n_probes, PW_LADDER_PROBES);
  q.per_guest_cents = 100, q.price_cents = 13000; /* pays nowhere: nothing more to plan */
  ck_assert_int_eq(pw_quote_probe(&q, &terms), 0);
}
END_TEST

#define ADD_ROWS(t, fn, rows) tcase_add_loop_test(t, fn, 0, (int)(sizeof rows / sizeof *rows))

static Suite *suite(void)
{
  Suite *s = suite_create("quote");
  TCase *t = tcase_create("quote");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, worked_by_hand);
  tcase_add_test(t, another_turnout);
  tcase_add_test(t, break_even);
  tcase_add_test(t, charge_not_taxed);
  tcase_add_test(t, by_food_share);
  tcase_add_test(t, minimum_fee);
  tcase_add_test(t, after_the_discount);
  tcase_add_test(t, price_named_before);
  tcase_add_test(t, price_agreed);
  tcase_add_test(t, hired_pit);
  tcase_add_test(t, margin_of_everything);
  tcase_add_test(t, instalments_over_the_whole);
  ADD_ROWS(t, due_dates, date_rows);
  tcase_add_test(t, identities);
  tcase_add_test(t, no_guests);
  ADD_ROWS(t, ladder, ladder_rows);
  tcase_add_test(t, ladder_any);
  ADD_ROWS(t, ladder_of_the_event, ladder_blocks);
  tcase_add_test(t, deposit_while_the_offer_stands);
  tcase_add_loop_test(t, next_head_count, 0, (int)(sizeof probes / sizeof *probes));
  tcase_add_test(t, break_even_by_halving);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
