/* Facts of the trade (common practice, no source) against every cut and pit of the default catalogs.  The limits are wide: what
 * is checked is that theory, catalogs and planner together say what a pitmaster knows, and no cut is tuned to it alone. */
#include "harness.h"
#include "heat/curve.h"
#include "heat_fixture.h"
#include "plan/fire/pit_heat.h"
#include "planned.h"

/* One dish for every cut of the catalog, every pit and both kinds of finisher. */
static const char *const everything =
    "event: {name: All cuts, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "weather: {low: 58 F, high: 79 F, wind: 8 mph}\n"
    "guests: {adults: {}}\n"
    "services:\n"
    "  - {id: dinner, time: \"17:30\", length: 2 h, guests: {adults: 60}, menu: [brisket-sliced, brisket-flat-sliced, "
    "beef-rib,\n"
    "      chuck-pulled, tri-tip-sliced, pork-pulled, pork-pulled-boneless, pork-picnic-pulled, spare-ribs-cut, "
    "back-ribs-cut,\n"
    "      belly-sliced, loin-sliced, ham-sliced, lamb-pulled, chicken-half, chicken-quarter, chicken-thigh, "
    "chicken-wing,\n"
    "      turkey-sliced, turkey-carved, sausage-link, sausage-smoked, salmon-flaked, pit-beans, pit-mac, "
    "pit-vegetables,\n"
    "      prime-rib-carved, picanha-sliced, clod-sliced, neck-pulled, lamb-leg-carved, hog-pulled, "
    "chicken-whole-quarter,\n"
    "      chicken-flat-quarter, duck-quarter, trout-whole, potato-baked, corn-pit, squash-stuffed, hog-whole-pulled, "
    "mackerel-whole,\n"
    "      aubergine-half]}\n"
    "pits: [small-offset, wide-offset, trailer-one-rack, trailer-two-rack, long-trailer, round-drum, upright-cabinet, "
    "tank-offset]\n"
    "finishers: [deck-oven, hot-box-large]\n"
    "crew: [{role: pitmaster, duties: [fire, pit, prep, carve, serve, drive, clean], count: 2, from: \"2027-06-11 "
    "23:00\",\n"
    "        to: \"2027-06-12 22:00\", rate: 30 per h}]\n"
    "terms: {margin: 20 %}\n";

static struct pw_ctx *ctx;
static struct pw_event *ev;
static struct pw_lots lots;

static void set_up(void)
{
  ctx = pw_test_ctx();
  pw_status st = pw_event_read_text(&ev, "everything.yaml", everything, strlen(everything), "templates", ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "?");
  struct pw_demand demand;
  struct pw_purchase purchase;
  ck_assert_int_eq(pw_demand_make(&demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(pw_lots_make(&lots, ev, &purchase, NULL, ctx), PW_OK);
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static const struct pw_cut *cut_named(const char *id)
{
  for (int c = 0; c < ev->n_cuts; c++)
    if (strcmp(ev->cuts[c].id, id) == 0)
      return &ev->cuts[c];
  ck_abort_msg("the catalog has no %s", id);
}

static int pit_named(const char *id)
{
  for (int p = 0; p < ev->n_pits; p++)
    if (strcmp(ev->pits[p].id, id) == 0)
      return p;
  ck_abort_msg("the catalog has no %s", id);
}

static const struct pw_lot *lot_named(const char *cut)
{
  for (int l = 0; l < lots.n_lots; l++)
    if (strcmp(ev->cuts[lots.lots[l].cut].id, cut) == 0)
      return &lots.lots[l];
  ck_abort_msg("no lot of %s", cut);
}

static struct pw_curve_sum cook(const struct pw_cut *cut, double smoke_c, double finish_c)
{
  struct pw_stage_model m;
  struct pw_curve_place place = {smoke_c, finish_c, pw_stage_air_mild()};
  pw_stage_model_make(&m, cut);
  return pw_curve_sum(&m, &place);
}

START_TEST(every_cut_meets_its_reference)
{
  ck_assert_int_ge(ev->n_cuts, 39);
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    struct pw_curve_sum s = cook(cut, cut->smoke.ref_c, cut->finish.ref_c);
    double want = cut->smoke.ref_min + (cut->finish.is_used ? cut->finish.ref_min : 0);
    PW_NEAR(cut->id, s.done_min, want, 0, 1e-4);
    /* the steam stays inside the cook loss that the catalog prints, to a tenth of it */
    ck_assert_msg(s.evaporated_frac < 1.1 * s.loss_frac && s.evaporated_frac > 0.3 * s.loss_frac, "%s: %g of %g",
                  cut->id, s.evaporated_frac, s.loss_frac);
    ck_assert_msg(!s.doubt, "%s: %s", cut->id, s.doubt);
    /* cooked as the catalog says it is safe: lethality reached, 10 to 54 C inside six hours */
    if (cut->safety != PW_SAFE_PRECOOKED && cut->kind != PW_KIND_PLANT && cut->kind != PW_KIND_FISH)
      ck_assert_msg(s.log_reduction > s.log_needed, "%s: %g log", cut->id, s.log_reduction);
    ck_assert_msg(s.come_up_min <= 360, "%s: %g min", cut->id, s.come_up_min);
  }
}
END_TEST

/* 25 F less on the open stage costs a large piece a fifth to a half more time, 25 F more saves a tenth to a third. */
START_TEST(a_cooler_end_takes_longer)
{
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    if (cut->smoke.ref_min < 240)
      continue;
    double ref = cut->smoke.ref_min, step_k = 25 / 1.8;
    double cool = pw_stage_minutes(cut, &cut->smoke, cut->smoke.ref_c - step_k) / ref;
    double hot = pw_stage_minutes(cut, &cut->smoke, cut->smoke.ref_c + step_k) / ref;
    ck_assert_msg(cool > 1.12 && cool < 1.5 && hot > 0.67 && hot < 0.9, "%s: %.2f at 25 F less, %.2f at 25 F more",
                  cut->id, cool, hot);
  }
}
END_TEST

/* Lighting to a clean bed of coals takes at least an hour. */
START_TEST(an_hour_to_coals)
{
  for (int p = 0; p < ev->n_pits; p++)
    ck_assert_msg(ev->pits[p].ready_min >= 60, "%s: %d min", ev->pits[p].id, ev->pits[p].ready_min);
}
END_TEST

/* A small two-ended offset is held between 250 and 275 F, about 250 at the cool end and 275 at the hot end. */
START_TEST(small_offset_has_two_ends)
{
  int p = pit_named("small-offset");
  const struct pw_pit *pit = &ev->pits[p];
  PW_NEAR("hot end", pit->settings[0].hot_c, fix_c(275), 3, 0);
  PW_NEAR("cool end", pit->settings[0].cool_c, fix_c(250), 3, 0);
  for (int z = 0; z < lots.n_zones; z++)
    if (lots.zones[z].pit == p && pit->racks[lots.zones[z].rack].offset_c == 0)
      ck_assert(lots.zones[z].temp_c[0] > fix_c(250) - 3 && lots.zones[z].temp_c[0] < fix_c(275) + 3);
}
END_TEST

/* The rub sets after several hours on large cuts and never in the first hour; no mop before. */
START_TEST(rub_sets_before_mop_and_wrap)
{
  int mopped = 0;
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    if (cut->mop_every_min <= 0)
      continue;
    mopped++;
    ck_assert_msg(cut->rub_set_min > 60, "%s: rub set at %d min", cut->id, cut->rub_set_min);
    ck_assert_msg(cut->rub_set_min < cut->smoke.ref_min, "%s: wrapped before the rub has set", cut->id);
    if (cut->smoke.ref_min >= 240)
      ck_assert_msg(cut->rub_set_min >= 120, "%s: rub set at %d min", cut->id, cut->rub_set_min);
  }
  ck_assert_int_ge(mopped, 4);
}
END_TEST

/* Large beef is wrapped near 155 F at the core, when the bark is set: theory has the core there after the rub has set, with
 * the surface dry enough to be far above the wet bulb and still below boiling. */
START_TEST(large_beef_is_wrapped_near_155_f)
{
  static const char *const beef[] = {"brisket-whole", "brisket-flat", "beef-plate-ribs", "beef-chuck"};
  for (int i = 0; i < 4; i++) {
    struct pw_cut cut = *cut_named(beef[i]);
    PW_NEAR(beef[i], cut.smoke.to_c, fix_c(155), 6, 0);
    struct pw_curve_place place = {cut.smoke.ref_c, cut.finish.ref_c, pw_stage_air_mild()};
    struct pw_curve curve;
    ck_assert_int_eq(pw_curve_make(&curve, &cut, &place, 5, ctx), PW_OK);
    int k = 0;
    while (curve.points[k].core_c < fix_c(155) - 0.5)
      k++;
    ck_assert_msg(curve.points[k].at_min > cut.rub_set_min, "%s: core at 155 F after %g min", beef[i],
                  curve.points[k].at_min);
    ck_assert(curve.points[k].surface_c > 65 && curve.points[k].surface_c < 100);
    /* by then the core rises less than 9 F an hour: the stall */
    ck_assert_msg(curve.sum.slow_from_c < fix_c(155) && curve.sum.slow_min > 30, "%s: slow from %g C", beef[i],
                  curve.sum.slow_from_c);
  }
}
END_TEST

/** The open stage followed to core_c: minutes; *slow_min of them slower than 9 F an hour between 145 and 165 F. */
struct stall {
  double last_s, last_c, slow_s;
};

static bool watch_stall(void *user, const struct pw_engine_state *s, double core_c)
{
  struct stall *st = user;
  if (st->last_s >= 0 && core_c > fix_c(145) && core_c < fix_c(165) &&
      (core_c - st->last_c) * 3600 < PW_SLOW_K_H * (s->time_s - st->last_s))
    st->slow_s += s->time_s - st->last_s;
  st->last_s = s->time_s;
  st->last_c = core_c;
  return true;
}

static double stall_h(const struct pw_cut *cut, double air_c, double ratio, double wet_frac, double to_c,
                      double *total_h)
{
  struct pw_stage_model m;
  struct pw_stage_air air = pw_stage_air_mild();
  struct pw_engine_body body;
  struct pw_engine_bath bath;
  struct stall st = {.last_s = -1};
  air.ratio = ratio > 0 ? ratio : air.ratio;
  pw_stage_model_make(&m, cut);
  pw_stage_model_set(&m, &cut->smoke, air_c, &air, &body, &bath);
  bath.wet_frac *= wet_frac;
  struct pw_engine_state state = m.raw;
  double s = pw_engine_run(&body, &bath, &state, to_c, pw_stage_step_s(&cut->smoke), 60 * 3600, watch_stall, &st);
  if (total_h)
    *total_h = s / 3600;
  return st.slow_s / 3600;
}

/* G. Blonder (genuineideas.com, articles on the stall of barbecue, 2011; seen): at 225 F an open brisket's core stood near 153 F "for
 * almost six hours"; wrapped in foil it did not stall.  His piece is not ours: the stretch is there, hours long, gone in foil, and
 * shorter in damp air. */
START_TEST(the_stall)
{
  const struct pw_cut *cut = cut_named("brisket-whole");
  double open_h = stall_h(cut, fix_c(225), 0, 1, fix_c(170), NULL),
         foil_h = stall_h(cut, fix_c(225), 0, 0, fix_c(170), NULL);
  double damp_h = stall_h(cut, fix_c(225), 0.25, 1, fix_c(170), NULL),
         hot_h = stall_h(cut, fix_c(275), 0, 1, fix_c(170), NULL);
  ck_assert_msg(open_h > 3.5 && open_h < 8, "open: %g h", open_h);
  ck_assert_msg(foil_h < 0.1, "in foil: %g h", foil_h);
  ck_assert_msg(damp_h < 0.8 * open_h && hot_h < open_h, "damp: %g h, hot: %g h, open: %g h", damp_h, hot_h, open_h);
}
END_TEST

/* A wrap holds vapour back: no cut that is wrapped is done sooner open, anywhere in its range. */
START_TEST(wrapped_is_never_slower)
{
  int n = 0;
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    if (!cut->finish.is_used || cut->smoke.n_own > 0 || cut->finish.n_own > 0)
      continue;
    for (double f = 225; f <= 300; f += 12.5) {
      double open_h,
          wrapped_h =
              (pw_stage_minutes(cut, &cut->smoke, fix_c(f)) + pw_stage_minutes(cut, &cut->finish, fix_c(f))) / 60;
      stall_h(cut, fix_c(f), 0, 1, cut->finish.to_c, &open_h);
      ck_assert_msg(wrapped_h <= open_h * 1.001, "%s at %g F: wrapped %.2f h, open %.2f h", cut->id, f, wrapped_h,
                    open_h);
      n++;
    }
  }
  ck_assert_int_ge(n, 70);
}
END_TEST

/* The same on every place of every pit, in that pit's own air and at each of its settings. */
START_TEST(wrapped_is_never_slower_on_any_pit)
{
  int n = 0;
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    if (!cut->finish.is_used)
      continue;
    struct pw_stage_model m;
    pw_stage_model_make(&m, cut);
    for (int z = 0; z < lots.n_zones; z++)
      for (int s = 0; s < ev->pits[lots.zones[z].pit].n_settings; s++) {
        struct pw_stage_air air = pw_stage_air_of(ev, lots.zones[z].pit);
        double air_c = lots.zones[z].temp_c[s];
        if (air_c < cut->smoke.low_c || air_c > cut->smoke.high_c)
          continue;
        struct pw_engine_body body;
        struct pw_engine_bath bath;
        struct pw_engine_state state = m.raw;
        pw_stage_model_set(&m, &cut->smoke, air_c, &air, &body, &bath);
        double open_min =
            pw_engine_run(&body, &bath, &state, cut->finish.to_c, pw_stage_step_s(&cut->smoke), 60 * 3600, NULL, NULL) /
            60;
        double wrapped_min = pw_stage_model_minutes(&m, &cut->smoke, air_c, &air) +
                             pw_stage_model_minutes(&m, &cut->finish, air_c, &air);
        ck_assert_msg(wrapped_min <= open_min * 1.001, "%s on %s: wrapped %.0f min, open %.0f", cut->id,
                      lots.zones[z].id, wrapped_min, open_min);
        n++;
      }
  }
  ck_assert_int_ge(n, 300);
}
END_TEST

/* An evening at the grill on the default catalogs: batches of a quarter of an hour unless the event says otherwise, in waves while guests
 * eat, nothing held longer than its catalog says and nothing short. */
START_TEST(an_evening_at_the_grill)
{
  static const char *const evening =
      "event: {name: Evening, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
      "weather: {low: 58 F, high: 79 F, wind: 8 mph}\nguests: {adults: {}}\n"
      "services: [{id: dinner, time: \"17:30\", length: 2 h, guests: {adults: 60}, menu: [burger-coals, sausage-coals, "
      "pork-pulled]}]\n"
      "pits: [small-offset, parrilla]\nfinishers: [hot-box-large]\n"
      "crew: [{role: cook, duties: [fire, pit, prep, carve, serve, drive, clean], count: 3, from: \"00:00\", to: "
      "\"22:00\", rate: 30 per h}]\nterms: {margin: 20 %}\n";
  struct pw_event *read;
  ck_assert_int_eq(pw_event_read_text(&read, "evening.yaml", evening, strlen(evening), "templates", ctx), PW_OK);
  ck_assert_int_eq(read->slot_min, 15);
  struct pw_plan *plan = planned(read, false, PW_EFFORT_QUICK, ctx);
  ck_assert_int_eq(plan->allocation.n_missed, 0);
  int while_they_eat = 0;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    const struct pw_lot *lot = &plan->lots.lots[load->lot];
    if (!read->cuts[lot->cut].smoke.is_over_coals || load->stage != PW_LOAD_SMOKE)
      continue;
    ck_assert_int_eq(load->end_at_min - load->start_at_min, 15 * ((load->end_at_min - load->start_at_min) / 15));
    ck_assert_int_le(load->end_at_min - load->start_at_min, 30);
    while_they_eat += load->end_at_min > read->services[0].at_min;
  }
  ck_assert_int_ge(while_they_eat, 2);
}
END_TEST

/* Precooked sausage takes about an hour for colour and heat, and is done well before large raw cuts on the same fire. */
START_TEST(precooked_is_done_long_before_raw)
{
  const struct pw_lot *links = lot_named("sausage-precooked"), *brisket = lot_named("brisket-whole"),
                      *butt = lot_named("pork-butt");
  int compared = 0;
  for (int z = 0; z < lots.n_zones; z++) {
    int setting = 0, m = links->smoke_min[z][setting];
    if (m == PW_NONE)
      continue;
    ck_assert_msg(m >= 30 && m <= 90, "%s: %d min", lots.zones[z].id, m);
    if (brisket->smoke_min[z][setting] != PW_NONE) {
      ck_assert_int_lt(4 * m, brisket->smoke_min[z][setting]);
      compared++;
    }
    if (butt->smoke_min[z][setting] != PW_NONE)
      ck_assert_int_lt(3 * m, butt->smoke_min[z][setting]);
  }
  ck_assert_int_ge(compared, 5);
}
END_TEST

/* Wrapped pieces finish in an oven with the same result: the same time at the same temperature, and less wood. */
START_TEST(an_oven_finishes_the_same)
{
  int ovens = 0;
  for (int l = 0; l < lots.n_lots; l++) {
    const struct pw_lot *lot = &lots.lots[l];
    const struct pw_cut *cut = &ev->cuts[lot->cut];
    if (!lot->has_finish || !cut->finish.in_oven)
      continue;
    ck_assert_int_gt(lot->oven_min[0], 0);
    double theory = pw_stage_minutes(cut, &cut->finish, ev->finishers[0].temp_c);
    PW_NEAR(cut->id, lot->oven_min[0], theory, 30, 0);
    double smoke_mj, finish_mj;
    pw_food_heat_mj(cut, &smoke_mj, &finish_mj);
    ck_assert(finish_mj > 0); /* what the fire does not have to give */
    ovens++;
  }
  ck_assert_int_ge(ovens, 8);
}
END_TEST

/** The example events as planned. */
START_TEST(planned_fires_are_clean)
{
  struct pw_ctx *c = pw_test_ctx();
  struct pw_event *event = planned_event(PLANNED_EVENTS[_i], c);
  struct pw_plan *plan = planned(event, false, PW_EFFORT_QUICK, c);
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    const struct pw_burn_fuel *f = &plan->fuel.burns[b];
    const struct pw_pit *pit = &event->pits[burn->pit];
    ck_assert_int_ge(burn->ready_at_min - burn->lit_at_min, 60);
    double sum_kg = 0, biggest = 0;
    for (int i = 0; i < f->n_feeds; i++) {
      sum_kg += f->feeds[i].wood_kg;
      if (f->feeds[i].at_min > burn->ready_at_min)
        biggest = fmax(biggest, f->feeds[i].splits);
      for (int k = 0; k < plan->allocation.n_loads; k++) {
        const struct pw_load *load = &plan->allocation.loads[k];
        if (load->zone != PW_NONE && plan->lots.zones[load->zone].pit == burn->pit)
          ck_assert_msg(f->feeds[i].at_min > load->start_at_min || f->feeds[i].at_min <= load->start_at_min - 20,
                        "%s: fed at %d, loaded at %d", pit->id, f->feeds[i].at_min, load->start_at_min);
        /* white smoke after a heavy feed is gone in half an hour: an hour's wood at once keeps so far from a load */
        if (load->zone != PW_NONE && plan->lots.zones[load->zone].pit == burn->pit &&
            f->feeds[i].splits > fmax(2, ceil(pit->settings[burn->setting].splits_per_h)))
          ck_assert_msg(f->feeds[i].at_min > load->start_at_min || f->feeds[i].at_min <= load->start_at_min - 30,
                        "%s: %d splits at %d, loaded at %d", pit->id, f->feeds[i].splits, f->feeds[i].at_min,
                        load->start_at_min);
      }
    }
    ck_assert_msg(sum_kg == f->wood_kg, "%s: feeds %.17g kg, burn %.17g kg", pit->id, sum_kg, f->wood_kg);
    /* little and often: no feed is more than an hour's wood */
    const struct pw_setting *set = &pit->settings[burn->setting];
    if (set->splits_per_h > 0)
      ck_assert_msg(biggest <= fmax(2, ceil(2.0 * set->splits_per_h)), "%s: %g splits at once", pit->id, biggest);
    /* the told figure is for a mild, still day and an empty pit: food, doors and weather are on top, within reason */
    if (set->splits_per_h > 0)
      ck_assert_msg(f->splits_per_h > 0.5 * set->splits_per_h && f->splits_per_h < 2.2 * set->splits_per_h,
                    "%s: %g splits an hour, told %g", pit->id, f->splits_per_h, set->splits_per_h);
  }
  pw_test_ctx_free(c);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("trade");
  TCase *t = tcase_create("trade");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, every_cut_meets_its_reference);
  tcase_add_test(t, a_cooler_end_takes_longer);
  tcase_add_test(t, an_hour_to_coals);
  tcase_add_test(t, small_offset_has_two_ends);
  tcase_add_test(t, rub_sets_before_mop_and_wrap);
  tcase_add_test(t, large_beef_is_wrapped_near_155_f);
  tcase_add_test(t, the_stall);
  tcase_add_test(t, wrapped_is_never_slower);
  tcase_add_test(t, wrapped_is_never_slower_on_any_pit);
  tcase_add_test(t, an_evening_at_the_grill);
  tcase_add_test(t, precooked_is_done_long_before_raw);
  tcase_add_test(t, an_oven_finishes_the_same);
  suite_add_tcase(s, t);
  TCase *p = tcase_create("planned");
  tcase_set_timeout(p, 120);
  tcase_add_loop_test(p, planned_fires_are_clean, 0, N_PLANNED_EVENTS);
  suite_add_tcase(s, p);
  return s;
}

PW_MAIN(suite)
