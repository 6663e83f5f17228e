/* test_state.c - plan and log played together [N1]: what the lines say, what is taken as done, what is asked back. */
#include "day/belief.h"
#include "day_job.h"

#include <limits.h>

START_TEST(test_without_a_line_all_is_as_planned)
{
  struct pw_state s;
  struct pw_buf none = pw_buf_in(g_ctx->arena);
  ck_assert(play(&s, &none, g_load->start_at_min + 10, g_ctx) == PW_OK);
  for (int k = 0; k < s.n_pieces; k++)
    for (int g = 0; g < 4; g++) {
      const struct pw_piece_stage *st = &s.pieces[k].stage[g];
      if (st->load != PW_NONE) {
        ck_assert_int_eq(st->start_min, g_plan->allocation.loads[st->load].start_at_min);
        ck_assert_int_eq(st->end_min, g_plan->allocation.loads[st->load].end_at_min);
      }
    }
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_SMOKES);
  struct pw_buf sheet = pw_buf_in(g_ctx->arena);
  ck_assert(pw_state_write(&sheet, &s, g_ctx) == PW_OK);
  const char *taken = pw_arena_printf(g_ctx->arena, "%s on %s %d", pw_when(g_plan->event, g_load->start_at_min).s,
                                      g_lot, g_load->pieces);
  ck_assert_msg(strstr(sheet.bytes, taken) != NULL, "\"%s\" is not in\n%s", taken, sheet.bytes);
}
END_TEST

START_TEST(test_late_on_moves_what_follows)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, g_load->start_at_min + 40, "on %s%d", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->start_at_min + 60, g_ctx) == PW_OK);
  const struct pw_piece *late = piece(&s, 0), *other = piece(&s, 1);
  ck_assert_int_eq(late->stage[0].start_min, g_load->start_at_min + 40);
  ck_assert_int_eq(late->stage[0].end_min, g_load->end_at_min + 40);
  ck_assert_int_eq(late->stage[1].start_min, late->stage[0].end_min);
  ck_assert_int_eq(other->stage[0].start_min, g_load->start_at_min);
}
END_TEST

/* Taken as on unless a line says that it waits; then until one says that it is on. */
START_TEST(test_what_waits_is_not_taken_as_on)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  int now = g_load->start_at_min + 60;
  line(&text, g_load->start_at_min + 30, "waits %s%d", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, now, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_RAW);
  ck_assert_int_eq(piece(&s, 0)->stage[0].start_min, now + 1);
  ck_assert_int_eq(piece(&s, 0)->stage[1].end_min - g_plan->allocation.loads[piece(&s, 0)->stage[1].load].end_at_min,
                   61);
  ck_assert_int_eq(piece(&s, 1)->where, PW_PIECE_SMOKES);
  line(&text, g_load->start_at_min + 40, "on %s%d", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, now, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_SMOKES);
  ck_assert_int_eq(piece(&s, 0)->stage[0].start_min, g_load->start_at_min + 40);
  line(&text, g_load->start_at_min + 50, "waits %s%d", g_lot, g_load->piece_ids[0] + 1);
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert(play(&s, &text, now, ctx) == PW_ERR_INPUT); /* it is on by the line before */
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_a_low_core_says_that_the_stage_goes_on)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, g_load->end_at_min + 5, "core %s%d 58 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->end_at_min + 10, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_SMOKES);
  ck_assert_int_eq(piece(&s, 1)->where, PW_PIECE_SMOKES); /* beside it in one load, and nobody said it was wrapped */
  line(&text, g_load->end_at_min + 6, "wrapped %s%d", g_lot, g_load->piece_ids[1] + 1);
  ck_assert(play(&s, &text, g_load->end_at_min + 10, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_SMOKES);
  ck_assert_int_eq(piece(&s, 1)->where, PW_PIECE_FINISHES);
}
END_TEST

/* Told to be out still it is one stretch, however often it is told, until it burns again; until then the end is reckoned. */
START_TEST(test_a_fire_that_is_out_still)
{
  int pit = g_plan->lots.zones[g_load->zone].pit, from = g_load->start_at_min + 30;
  const char *name = g_plan->event->pits[pit].id;
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, from + 20, "fire-out %s 20 min still", name);
  ck_assert(play(&s, &text, from + 20, g_ctx) == PW_OK);
  ck_assert(s.n_outages == 1 && s.outages[0].is_open && s.outages[0].from_min == from);
  ck_assert_int_eq(s.outages[0].to_min, from + 40);
  ck_assert(play(&s, &text, from + 50, g_ctx) == PW_OK);
  ck_assert_int_eq(s.outages[0].to_min, from + 100); /* as long again */
  line(&text, from + 60, "fire-out %s 70 min still", name);
  ck_assert(play(&s, &text, from + 200, g_ctx) == PW_OK);
  ck_assert(s.n_outages == 1 && s.outages[0].is_open && s.outages[0].from_min == from - 10);
  ck_assert_int_eq(s.outages[0].to_min, from + 260); /* but an hour at most */
  line(&text, from + 80, "lit %s", name);
  ck_assert(play(&s, &text, from + 200, g_ctx) == PW_OK);
  ck_assert(s.n_outages == 1 && !s.outages[0].is_open && s.outages[0].to_min == from + 80);
  for (int b = 0; b < g_plan->allocation.n_burns; b++)
    ck_assert_int_eq(s.lit_min[b], g_plan->allocation.burns[b].lit_at_min);
  line(&text, from + 150, "fire-out %s 30 min", name);
  ck_assert(play(&s, &text, from + 200, g_ctx) == PW_OK);
  ck_assert(s.n_outages == 2 && s.outages[1].from_min == from + 120 && s.outages[1].to_min == from + 150);
}
END_TEST

/* Nobody wrapped what a fire that was out cannot have brought there: not taken as done for as long as it was out. */
START_TEST(test_a_fire_that_was_out_keeps_it_on)
{
  int pit = g_plan->lots.zones[g_load->zone].pit, out_min = 50, from = g_load->start_at_min + 30;
  struct pw_state s;
  for (int after = 10; after <= 90; after += 20) {
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    line(&text, from + out_min, "fire-out %s %d min", g_plan->event->pits[pit].id, out_min);
    ck_assert(play(&s, &text, g_load->end_at_min + after, g_ctx) == PW_OK);
    ck_assert_int_eq(piece(&s, 0)->where, after < out_min ? PW_PIECE_SMOKES : PW_PIECE_FINISHES);
    ck_assert_int_eq(piece(&s, 0)->stage[0].end_min, g_load->end_at_min + out_min);
    struct pw_buf none = pw_buf_in(g_ctx->arena);
    ck_assert(play(&s, &none, g_load->end_at_min + after, g_ctx) == PW_OK);
    ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_FINISHES);
  }
}
END_TEST

/* A fire that is out for half an hour costs more than that, for it has to come back, before midnight as after it. */
START_TEST(test_a_fire_out_before_midnight_costs_as_much)
{
  int n_before = 0, n_after = 0;
  for (int k = 0; k < g_plan->allocation.n_loads; k++) {
    const struct pw_load *l = &g_plan->allocation.loads[k];
    const struct pw_zone *zone = l->zone == PW_NONE ? NULL : &g_plan->lots.zones[l->zone];
    if (l->stage != PW_LOAD_SMOKE || !zone || l->end_at_min - l->start_at_min < 120)
      continue;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int from = l->start_at_min + 30, out_min = 30;
    line(&text, from + out_min, "fire-out %s %d min", g_plan->event->pits[zone->pit].id, out_min);
    struct pw_state s;
    struct pw_belief belief;
    ck_assert(play(&s, &text, from + out_min, g_ctx) == PW_OK);
    ck_assert(pw_belief_make(&belief, &s, g_ctx) == PW_OK);
    double lost_min = belief.pieces[s.first[l->lot] + l->piece_ids[0]].lost_min[PW_LOAD_SMOKE];
    ck_assert_msg(lost_min > out_min + 5, "load %d, out from %d min on: %.1f min lost", k, from, lost_min);
    n_before += from < 0;
    n_after += from >= 0;
  }
  ck_assert(n_before > 0 && n_after > 0);
}
END_TEST

/* Wrapped an hour before its time: without a core that is a quick piece, with a core below that of the plan a finish that has more to do. */
START_TEST(test_a_wrap_before_its_time_is_no_quick_piece)
{
  const struct pw_cut *cut = &g_plan->event->cuts[g_plan->lots.lots[g_load->lot].cut];
  int id = g_load->piece_ids[0] + 1, at = g_load->end_at_min - 60, i = 0;
  double more = 0;
  struct pw_state s;
  struct pw_belief quick, b;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, at, "wrapped %s%d", g_lot, id);
  ck_assert(play(&s, &text, at + 1, g_ctx) == PW_OK && pw_belief_make(&quick, &s, g_ctx) == PW_OK);
  i = s.first[g_load->lot] + id - 1;
  ck_assert(quick.pieces[i].pace[0].mean < -0.02);
  ck_assert(quick.pieces[i].lost_min[1] < 0.5);
  for (double core_c = cut->smoke.to_c - 5; core_c > cut->smoke.to_c - 12; core_c -= 3) {
    struct pw_buf read = pw_buf_in(g_ctx->arena);
    line(&read, at - 1, "core %s%d %.0f C", g_lot, id, core_c);
    line(&read, at, "wrapped %s%d", g_lot, id);
    ck_assert(play(&s, &read, at + 1, g_ctx) == PW_OK && pw_belief_make(&b, &s, g_ctx) == PW_OK);
    ck_assert_msg(b.pieces[i].pace[0].mean > quick.pieces[i].pace[0].mean + 0.01, "pace %g, without a core %g",
                  b.pieces[i].pace[0].mean, quick.pieces[i].pace[0].mean);
    ck_assert_msg(b.pieces[i].lost_min[1] > more + 1, "%g min more from %.0f C, %g from a warmer one",
                  b.pieces[i].lost_min[1], core_c, more);
    more = b.pieces[i].lost_min[1];
  }
}
END_TEST

START_TEST(test_wrapped_and_off)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, g_load->end_at_min - 20, "wrapped %s%d", g_lot, g_load->piece_ids[0] + 1);
  line(&text, g_load->end_at_min + 30, "off %s%d", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->end_at_min + 31, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->stage[0].end_min, g_load->end_at_min - 20);
  ck_assert_int_eq(piece(&s, 0)->stage[1].end_min, g_load->end_at_min + 30);
  ck_assert_int_eq(piece(&s, 0)->where, PW_PIECE_RESTS);
}
END_TEST

START_TEST(test_lost_got_guests_fire_hands)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  int pit = g_plan->lots.zones[g_load->zone].pit;
  line(&text, g_load->start_at_min + 90, "fire-out %s 30 min", g_plan->event->pits[pit].id);
  line(&text, g_load->start_at_min + 91, "lost %s 1", g_lot);
  line(&text, g_load->start_at_min + 92, "guests %s 190", g_plan->event->services[0].id);
  ck_assert(play(&s, &text, g_load->start_at_min + 100, g_ctx) == PW_OK);
  int n = 0;
  for (int k = s.first[g_load->lot]; k < s.first[g_load->lot + 1]; k++)
    n += s.pieces[k].is_missing;
  ck_assert_int_eq(n, 1);
  ck_assert_int_eq(s.n_outages, 1);
  ck_assert_int_eq(s.outages[0].from_min, g_load->start_at_min + 60);
  ck_assert_int_eq(s.guests[0], 190);
}
END_TEST

/* Somebody is called by the name on their sheet; of two shifts of one person those that are over are left alone. */
START_TEST(test_absent_by_the_name_on_the_sheet)
{
  struct pw_plan plan = *g_plan;
  struct pw_person *people = pw_arena_array(g_ctx->arena, (size_t)plan.tasks.n_people + 1, sizeof *people);
  memcpy(people, plan.tasks.people, (size_t)plan.tasks.n_people * sizeof *people);
  plan.tasks.people = people;
  const struct pw_crew *crew = plan.event->crew;
  int first = PW_NONE, second = PW_NONE;
  for (int a = 0; a < plan.tasks.n_people; a++)
    for (int b = 0; b < plan.tasks.n_people; b++)
      if (crew[people[b].crew].from_at_min >= crew[people[a].crew].to_at_min)
        first = a, second = b;
  ck_assert(first != PW_NONE);
  for (int i = 0; i < plan.tasks.n_people; i++)
    people[i].hand = i;
  people[first].name = people[second].name = "Kim Doe";
  people[first].id = "no-such-name";
  people[first].hand = people[second].hand = first;
  struct pw_plan *kept = g_plan;
  struct pw_names names = g_names;
  g_plan = &plan;
  ck_assert(pw_names_make(&g_names, g_plan, g_ctx) == PW_OK);
  for (int k = 0; k < 3; k++) { /* before both, between them, after both */
    struct pw_state s;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int at = k == 0   ? crew[people[first].crew].to_at_min - 1
             : k == 1 ? crew[people[second].crew].to_at_min - 1
                      : crew[people[second].crew].to_at_min;
    line(&text, at, "absent kim doe");
    pw_status st = play(&s, &text, at + 1, g_ctx);
    ck_assert_int_eq(st == PW_OK, k < 2);
    ck_assert_int_eq(k < 2 ? s.n_absences : 0, 2 - k);
    int is_first = 0, is_second = 0;
    for (int i = 0; i < 2 - k; i++) {
      is_first += s.absences[i].person == first;
      is_second += s.absences[i].person == second;
    }
    ck_assert_int_eq(is_first, k == 0);
    ck_assert_int_eq(is_second, k < 2);
  }
  g_plan = kept;
  g_names = names;
}
END_TEST

/* A core that was read at the end of the smoke and fell well below it, as its fire was out: it is not taken as wrapped. */
START_TEST(test_a_core_that_fell_is_not_wrapped)
{
  const struct pw_cut *cut = &g_plan->event->cuts[g_plan->lots.lots[g_load->lot].cut];
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  int end = g_load->end_at_min, id = g_load->piece_ids[0] + 1;
  line(&text, end - 10, "core %s%d %.1f C", g_lot, id, cut->smoke.to_c);
  line(&text, end + 40, "core %s%d %.1f C", g_lot, id, cut->smoke.to_c - 6);
  ck_assert(play(&s, &text, end + 41, g_ctx) == PW_OK);
  ck_assert(piece(&s, 0)->where == PW_PIECE_SMOKES);
  line(&text, end + 60, "core %s%d %.1f C", g_lot, id, cut->smoke.to_c - 2);
  ck_assert(play(&s, &text, end + 61, g_ctx) == PW_OK);
  ck_assert(piece(&s, 0)->where == PW_PIECE_SMOKES);
  line(&text, end + 80, "core %s%d %.1f C", g_lot, id, cut->smoke.to_c);
  ck_assert(play(&s, &text, end + 81, g_ctx) == PW_OK);
  ck_assert(piece(&s, 0)->where == PW_PIECE_FINISHES);
}
END_TEST

/* Carried in the middle of a stage: where it lies, since when, from where; once only, and not to where it is. */
START_TEST(test_carried)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  int at = g_load->start_at_min + 60, id = g_load->piece_ids[0] + 1, there = PW_NONE;
  for (int z = 0; z < g_plan->lots.n_zones && there == PW_NONE; z++)
    if (g_plan->lots.zones[z].pit != g_plan->lots.zones[g_load->zone].pit)
      there = z;
  ck_assert(there != PW_NONE);
  line(&text, at, "carried %s%d %s", g_lot, id, g_plan->lots.zones[there].id);
  ck_assert(play(&s, &text, at + 5, g_ctx) == PW_OK);
  const struct pw_piece_stage *st = &piece(&s, 0)->stage[PW_LOAD_SMOKE];
  ck_assert(st->is_carried && st->zone == there && st->carried_min == at && st->from_zone == g_load->zone);
  ck_assert(st->start_min == g_load->start_at_min && !piece(&s, 1)->stage[PW_LOAD_SMOKE].is_carried);
  struct pw_buf same = pw_buf_in(g_ctx->arena);
  line(&same, at, "carried %s%d %s", g_lot, id, g_plan->lots.zones[g_load->zone].id); /* where it lies */
  ck_assert(play(&s, &same, at + 5, g_ctx) == PW_OK);
  ck_assert(!piece(&s, 0)->stage[PW_LOAD_SMOKE].is_carried);
  line(&text, at + 6, "carried %s%d %s", g_lot, id, g_plan->lots.zones[there].id);
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert(play(&s, &text, at + 7, ctx) == PW_ERR_INPUT);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "carried there"));
  pw_test_ctx_free(ctx);
}
END_TEST

/* Told on and on as a cook may type it: questions, not sheets that no judge passes. */
START_TEST(test_fires_and_places_that_cannot_be_are_asked_back)
{
  const struct pw_event *ev = g_plan->event;
  const struct pw_allocation *a = &g_plan->allocation;
  const char *pit = ev->pits[g_plan->lots.zones[g_load->zone].pit].id, *box = NULL, *cold = NULL;
  int id = g_load->piece_ids[0] + 1, on = g_load->start_at_min, lit = INT_MAX;
  for (int f = 0; f < ev->n_finishers; f++)
    if (g_plan->lots.lots[g_load->lot].open_oven_min[f] == PW_NONE)
      box = ev->finishers[f].id;
  for (int p = 0; p < ev->n_pits; p++) {
    bool is_lit = false;
    for (int b = 0; b < a->n_burns; b++)
      is_lit = is_lit || a->burns[b].pit == p;
    cold = is_lit ? cold : ev->pits[p].id;
  }
  for (int b = 0; b < a->n_burns; b++)
    if (strcmp(ev->pits[a->burns[b].pit].id, pit) == 0 && on >= a->burns[b].lit_at_min && on < a->burns[b].out_at_min)
      lit = a->burns[b].lit_at_min;
  ck_assert(box && lit != INT_MAX);
  struct {
    const char *first;
    int at, then;
    const char *second, *words;
  } rows[] = {
      {pw_arena_printf(g_ctx->arena, "on %s%d", g_lot, id), on, on + 60, pw_arena_printf(g_ctx->arena, "lit %s", pit),
       "was burning before"},
      {pw_arena_printf(g_ctx->arena, "fire-out %s 40 min", pit), on + 40, on + 90,
       pw_arena_printf(g_ctx->arena, "lit %s", pit), "was burning before"},
      {pw_arena_printf(g_ctx->arena, "lit %s", pit), lit, lit + 60, pw_arena_printf(g_ctx->arena, "lit %s", pit),
       "by an earlier line"},
      {pw_arena_printf(g_ctx->arena, "on %s%d", g_lot, id), on, on + 60,
       pw_arena_printf(g_ctx->arena, "carried %s%d %s", g_lot, id, box), "cannot be cooked in"},
      {pw_arena_printf(g_ctx->arena, "on %s%d", g_lot, id), lit - 30, 0, NULL, "is not burning at"},
      {pw_arena_printf(g_ctx->arena, "off %s%d", g_lot, id), on + 60, on + 80,
       pw_arena_printf(g_ctx->arena, "on %s%d", g_lot, id), "cannot go on"},
      {cold ? pw_arena_printf(g_ctx->arena, "on %s%d %s", g_lot, id, cold) : NULL, on, 0, NULL, "has no fire"},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_state s;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    if (!rows[i].first)
      continue;
    line(&text, rows[i].at, "%s", rows[i].first);
    if (rows[i].second) {
      ck_assert_msg(play(&s, &text, on + 200, ctx) == PW_OK, "%s: is asked back", rows[i].first);
      line(&text, rows[i].then, "%s", rows[i].second);
    }
    ck_assert_msg(play(&s, &text, on + 200, ctx) == PW_ERR_INPUT, "%s: nothing is asked", text.bytes);
    ck_assert_msg(strstr(ctx->diags[0].text, rows[i].words) != NULL, "%s: %s", text.bytes, ctx->diags[0].text);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* Told to wait hour by hour it may wait as long as it does, and go on then; what nobody spoke of for half a day is another piece, or day. */
START_TEST(test_a_long_wait_is_a_wait)
{
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena), late = pw_buf_in(g_ctx->arena);
  int id = g_load->piece_ids[0] + 1, on = g_load->start_at_min;
  line(&text, on + 400, "waits %s%d", g_lot, id);
  line(&text, on + 730, "waits %s%d", g_lot, id);
  line(&text, on + 740, "on %s%d", g_lot, id);
  ck_assert(play(&s, &text, on + 750, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->stage[PW_LOAD_SMOKE].start_min, on + 740);
  for (int k = 0; k < 2; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    late.n = 0;
    line(&late, on + 730, "%s %s%d", k ? "on" : "waits", g_lot, id);
    ck_assert_msg(play(&s, &late, on + 750, ctx) == PW_ERR_INPUT, "%s: nothing is asked", late.bytes);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* The same stretch told twice, or told further, is one. */
START_TEST(test_a_fire_told_out_twice_was_out_once)
{
  const char *pit = g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id;
  int at = g_load->start_at_min + 60;
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, at, "fire-out %s 30 min", pit);
  line(&text, at + 60, "fire-out %s 90 min", pit);
  ck_assert(play(&s, &text, at + 100, g_ctx) == PW_OK);
  ck_assert_int_eq(s.n_outages, 1);
  ck_assert_int_eq(s.outages[0].from_min, at - 30);
  ck_assert_int_eq(s.outages[0].to_min, at + 60);
}
END_TEST

/* Lit late: what nobody said to be on went on as soon as it burned clean, also when that is over now. */
START_TEST(test_lit_late_goes_on_late)
{
  const struct pw_allocation *a = &g_plan->allocation;
  int p = g_plan->lots.zones[g_load->zone].pit;
  struct pw_state s;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].pit == p && g_load->start_at_min >= a->burns[b].lit_at_min &&
        g_load->start_at_min < a->burns[b].out_at_min) {
      int by = g_load->start_at_min - a->burns[b].ready_at_min + 60; /* an hour after it was to go on */
      line(&text, a->burns[b].lit_at_min + by, "lit %s", g_plan->event->pits[p].id);
    }
  ck_assert(play(&s, &text, g_load->start_at_min + 200, g_ctx) == PW_OK);
  ck_assert_int_eq(piece(&s, 0)->stage[PW_LOAD_SMOKE].start_min, g_load->start_at_min + 60);
}
END_TEST

/* What came so late that it missed its meal is there still, and is read after it. */
START_TEST(test_a_late_piece_is_read_after_its_meal)
{
  const struct pw_service *meal = &g_plan->event->services[g_plan->lots.lots[g_load->lot].service];
  int over = meal->at_min + meal->length_min, took = 0, id = g_load->piece_ids[0] + 1, on;
  struct pw_state s;
  struct pw_buf none = pw_buf_in(g_ctx->arena), text = pw_buf_in(g_ctx->arena);
  ck_assert(play(&s, &none, g_load->start_at_min - 1, g_ctx) == PW_OK);
  took = piece(&s, 0)->stage[PW_LOAD_FINISH].end_min - piece(&s, 0)->stage[PW_LOAD_SMOKE].start_min;
  on = meal->at_min + 30 - took;
  line(&text, on, "on %s%d", g_lot, id);
  line(&text, over + 10, "core %s%d 70 C", g_lot, id);
  ck_assert(play(&s, &text, over + 11, g_ctx) == PW_OK);
  struct pw_buf early = pw_buf_in(g_ctx->arena);
  struct pw_ctx *ctx = pw_test_ctx();
  line(&early, over + 10, "core %s%d 70 C", g_lot, id);
  ck_assert(play(&s, &early, over + 11, ctx) == PW_ERR_INPUT);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_what_cannot_have_been_is_asked_back)
{
  static const struct {
    const char *name;
    int at, then; /* minutes after the load's begin */
    const char *first, *second, *words;
  } rows[] = {
      {"wrapped before it was on", -60, 0, "wrapped %s all", NULL, "only 0 can"},
      {"on twice", 0, 30, "on %s all", "on %s 1", "only 0 can"},
      {"a core falls", 120, 150, "core %s1 60 C", "core %s1 30 C", "does not fall that far"},
      {"after now", 300, 0, "note %s", NULL, "it is now"},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_state s;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    char words[80];
    const char *const both[] = {rows[i].first, rows[i].second};
    for (int k = 0; k < 2 && both[k]; k++) {
      const char *gap = strstr(both[k], "%s");
      snprintf(words, sizeof words, "%.*s%s%s", (int)(gap - both[k]), both[k], g_lot, gap + 2);
      line(&text, g_load->start_at_min + (k ? rows[i].then : rows[i].at), "%s", words);
    }
    int now = g_load->start_at_min + 200;
    ck_assert_msg(play(&s, &text, now, ctx) == PW_ERR_INPUT, "%s: nothing is asked", rows[i].name);
    ck_assert_msg(strcmp(ctx->diags[0].code, "log-ask") == 0 && strstr(ctx->diags[0].text, rows[i].words), "%s: %s",
                  rows[i].name, ctx->diags[0].text);
    ck_assert_msg(ctx->diags[0].line == (rows[i].second ? 2 : 1), "%s: line %d", rows[i].name, ctx->diags[0].line);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("state");
  TCase *t = tcase_create("state");
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_without_a_line_all_is_as_planned);
  tcase_add_test(t, test_late_on_moves_what_follows);
  tcase_add_test(t, test_what_waits_is_not_taken_as_on);
  tcase_add_test(t, test_a_low_core_says_that_the_stage_goes_on);
  tcase_add_test(t, test_a_fire_that_is_out_still);
  tcase_add_test(t, test_a_fire_that_was_out_keeps_it_on);
  tcase_add_test(t, test_a_fire_out_before_midnight_costs_as_much);
  tcase_add_test(t, test_a_wrap_before_its_time_is_no_quick_piece);
  tcase_add_test(t, test_wrapped_and_off);
  tcase_add_test(t, test_lost_got_guests_fire_hands);
  tcase_add_test(t, test_absent_by_the_name_on_the_sheet);
  tcase_add_test(t, test_a_core_that_fell_is_not_wrapped);
  tcase_add_test(t, test_carried);
  tcase_add_test(t, test_fires_and_places_that_cannot_be_are_asked_back);
  tcase_add_test(t, test_a_long_wait_is_a_wait);
  tcase_add_test(t, test_a_fire_told_out_twice_was_out_once);
  tcase_add_test(t, test_lit_late_goes_on_late);
  tcase_add_test(t, test_a_late_piece_is_read_after_its_meal);
  tcase_add_test(t, test_what_cannot_have_been_is_asked_back);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
