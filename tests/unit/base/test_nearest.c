/* test_nearest.c - distances of words, and which one is meant.  Kitten and sitting: Levenshtein's textbook pair; "ca" to "abc" is 3
 * in the restricted form (Boytsov 2011, from memory); the others counted by hand. */
#include "harness.h"

#include "base/nearest.h"

#define X16 "xxxxxxxxxxxxxxxx"
#define X64 X16 X16 X16 X16

static const struct {
  const char *a, *b;
  int distance;
} pairs[] = {
    {"kitten", "sitting", 3},
    {"ca", "abc", 3},
    {"", "", 0},
    {"", "abc", 3},
    {"abc", "", 3},
    {"grid", "gird", 1},
    {"ab", "ba", 1},
    {"Brisket", "brisket", 0},
    {"brisket", "briskte", 1},
    {"a", "b", 1},
    {"take", "takes", 1},
    {"takes", "take", 1},
    {"abcd", "badc", 2},
    {"guests", "guets", 1},
    {X64, X64, 0},
    {X64, "y" X16 X16 X16 "xxxxxxxxxxxxxxx", 1},
    {X64 "x", X64 "x", 128},
    {X64 "x", "x", 128},
    {"x", X64 "x", 128},
};

START_TEST(distance)
{
  const char *a = pairs[_i].a, *b = pairs[_i].b;
  ck_assert_msg(pw_edit_distance(a, b) == pairs[_i].distance, "\"%s\", \"%s\": %d", a, b, pw_edit_distance(a, b));
  ck_assert_msg(pw_edit_distance(b, a) == pairs[_i].distance, "\"%s\", \"%s\": %d", b, a, pw_edit_distance(b, a));
}
END_TEST

static const struct {
  const char *word, *candidates[4], *best;
} meant[] = {
    {"gird", {"guests", "grid", "zone"}, "grid"},
    {"us", {"si", "as"}, "as"}, /* two letters: one may be wrong */
    {"us", {"si", "at"}, NULL}, /* not both */
    {"cut", {"at"}, "at"},      /* three letters: two */
    {"cuts", {"at"}, NULL},
    {"offer", {"off"}, "off"},                     /* five letters: two */
    {"brisket", {"biscuit"}, NULL},                /* seven letters: two, and these are four apart */
    {"brisket", {"brikset", "bisket"}, "brikset"}, /* the first of equals */
    {"brisket", {"bisqet", "bisket"}, "bisket"},   /* the nearer one, though later */
    {"a", {"b"}, NULL},                            /* nothing of it would stand */
    {"ab", {"a"}, "a"},
    {"shoulder", {"shouldxyz"}, NULL},         /* eight letters: two */
    {"shoulders", {"shouldxyz"}, "shouldxyz"}, /* nine: three */
};

START_TEST(the_one_that_is_meant)
{
  struct pw_nearest n = {.word = meant[_i].word};
  for (int i = 0; i < 4 && meant[_i].candidates[i]; i++)
    pw_nearest_offer(&n, meant[_i].candidates[i]);
  ck_assert_msg((n.best == NULL) == (meant[_i].best == NULL) && (!n.best || strcmp(n.best, meant[_i].best) == 0),
                "%s: %s", meant[_i].word, n.best ? n.best : "none");
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("nearest");
  TCase *t = tcase_create("words");
  tcase_add_loop_test(t, distance, 0, (int)(sizeof pairs / sizeof *pairs));
  tcase_add_loop_test(t, the_one_that_is_meant, 0, (int)(sizeof meant / sizeof *meant));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
