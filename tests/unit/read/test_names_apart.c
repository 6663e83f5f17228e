/* Two things of one name: the id behind the name, among those that a sheet could take for one another, and nowhere else. */
#include "harness.h"

#include "read/names_apart.h"

#include <string.h>

#define KINDS(X)                                                                                                       \
  X(pits, n_pits, struct pw_pit)                                                                                       \
  X(finishers, n_finishers, struct pw_finisher)                                                                        \
  X(cuts, n_cuts, struct pw_cut)                                                                                       \
  X(dishes, n_dishes, struct pw_dish)                                                                                  \
  X(items, n_items, struct pw_item)                                                                                    \
  X(fuels, n_fuels, struct pw_fuel)                                                                                    \
  X(classes, n_classes, struct pw_guest_class)                                                                         \
  X(services, n_services, struct pw_service)

/* Three of each kind: two of one name but for its case, one of another. */
#define THREE(list, n_list, type)                                                                                      \
  type list[3] = {{.id = "a", .name = "Long pit"}, {.id = "b", .name = "Pit"}, {.id = "c", .name = "long PIT"}};       \
  ev.list = list;                                                                                                      \
  ev.n_list = 3;
#define APART(list, n_list, type)                                                                                      \
  ck_assert_str_eq(list[0].name, "Long pit (a)");                                                                      \
  ck_assert_str_eq(list[1].name, "Pit");                                                                               \
  ck_assert_str_eq(list[2].name, "long PIT (c)");

START_TEST(each_kind)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = {0};
  KINDS(THREE)
  ev.n_finishers = 0; /* of the places' names: below */
  ck_assert_int_eq(pw_names_apart(&ev, ctx), PW_OK);
  ck_assert_str_eq(finishers[0].name, "Long pit");
  finishers[0].name = "Long pit (a)", finishers[2].name = "long PIT (c)";
  KINDS(APART)
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_pit_and_an_oven_are_places)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pit pits[1] = {{.id = "a", .name = "The box"}};
  struct pw_finisher finishers[2] = {{.id = "b", .name = "The box"}, {.id = "c", .name = "Oven"}};
  struct pw_cut cuts[1] = {{.id = "x", .name = "Oven"}};
  struct pw_event ev = {.pits = pits, .n_pits = 1, .finishers = finishers, .n_finishers = 2, .cuts = cuts, .n_cuts = 1};
  ck_assert_int_eq(pw_names_apart(&ev, ctx), PW_OK);
  ck_assert_str_eq(pits[0].name, "The box (a)");
  ck_assert_str_eq(finishers[0].name, "The box (b)");
  ck_assert_str_eq(finishers[1].name, "Oven");
  ck_assert_str_eq(cuts[0].name, "Oven");
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("names_apart");
  TCase *t = tcase_create("names_apart");
  tcase_add_test(t, each_kind);
  tcase_add_test(t, a_pit_and_an_oven_are_places);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
