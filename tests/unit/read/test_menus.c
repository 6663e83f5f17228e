/* Tests of menus by name and of short services: an event that names a menu reads as one that lists its dishes; what is left out, added,
 * changed; what a service without an id is called; faults. */
#include "event_dump.h"
#include "planned.h"

#define HEAD                                                                                                           \
  "event: {name: Job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"                                       \
  "weather: {low: 60 F, high: 80 F, wind: 6 mph}\nterms: {margin: 20 %}\npits: [trailer-two-rack]\n"                   \
  "guests: {adults: {}, children: {appetite: 50 %}}\n"
#define OURS                                                                                                           \
  "menus:\n  ours:\n    choice: {one: 40 %, two: 50 %, meat: 6 oz, seconds: 4 %}\n    style: plated\n    length: 75 "  \
  "min\n"                                                                                                              \
  "    dishes: [{dish: pork-pulled, take: 70 %}, {dish: chicken-quarter, take: 50 %, enough: 90 %}, slaw, buns]\n"

static const struct event_pair {
  const char *name, *is, *as;
} SAME[] = {
    {"by name", HEAD OURS "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30}, menu: ours}]\n",
     HEAD
     "services: [{id: a, name: A, time: \"17:30\", length: 75 min, style: plated, guests: {adults: 30},\n"
     "  choice: {one: 40 %, two: 50 %, meat: 6 oz, seconds: 4 %},\n"
     "  menu: [{dish: pork-pulled, take: 70 %}, {dish: chicken-quarter, take: 50 %, enough: 90 %}, slaw, buns]}]\n"},
    {"with less and more",
     HEAD OURS "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30},\n"
               "  menu: {use: ours, without: [slaw], also: [cookie, {dish: pork-pulled, portion: 3 oz}, {dish: buns, "
               "take: 20 %}]}}]\n",
     HEAD "services: [{id: a, name: A, time: \"17:30\", length: 75 min, style: plated, guests: {adults: 30},\n"
          "  choice: {one: 40 %, two: 50 %, meat: 6 oz, seconds: 4 %},\n"
          "  menu: [{dish: pork-pulled, take: 70 %, portion: 3 oz}, {dish: chicken-quarter, take: 50 %, enough: 90 %}, "
          "{dish: buns, take: 20 %}, cookie]}]\n"},
    {"the service's own habits count",
     HEAD OURS "services: [{id: a, name: A, time: \"17:30\", length: 2 h, style: family, guests: {adults: 30},\n"
               "  choice: {meat: 8 oz}, menu: ours}]\n",
     HEAD
     "services: [{id: a, name: A, time: \"17:30\", length: 2 h, style: family, guests: {adults: 30},\n"
     "  choice: {one: 40 %, two: 50 %, meat: 8 oz, seconds: 4 %},\n"
     "  menu: [{dish: pork-pulled, take: 70 %}, {dish: chicken-quarter, take: 50 %, enough: 90 %}, slaw, buns]}]\n"},
    {"an own menu begins as the catalog's",
     HEAD "menus: {big: {use: one-meat-two-sides, length: 2 h}}\n"
          "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30}, menu: big}]\n",
     HEAD "services: [{id: a, name: A, time: \"17:30\", length: 2 h, guests: {adults: 30}, menu: "
          "one-meat-two-sides}]\n"},
    {"of one name, the event's changes the catalog's",
     HEAD "menus: {one-meat-two-sides: {choice: {meat: 8 oz}}}\n"
          "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30}, menu: one-meat-two-sides}]\n",
     HEAD "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30}, choice: {meat: 8 oz}, menu: "
          "one-meat-two-sides}]\n"},
    {"a number of guests is of the first class",
     HEAD "services: [{id: a, name: A, time: \"17:30\", guests: 30, menu: [slaw]}]\n",
     HEAD "services: [{id: a, name: A, time: \"17:30\", guests: {adults: 30}, menu: [slaw]}]\n"},
    {"named by the time of day, twice",
     HEAD "services: [{time: \"18:00\", guests: 30, menu: [slaw]}, {time: \"09:00\", guests: 3, menu: [slaw]},\n"
          "  {time: \"12:30\", guests: 3, menu: [slaw]}, {time: \"20:00\", guests: 3, menu: [slaw]}]\n",
     HEAD "services: [{id: supper, name: Supper, time: \"18:00\", guests: 30, length: 90 min, menu: [slaw]},\n"
          "  {id: breakfast, name: Breakfast, time: \"09:00\", length: 90 min, guests: 3, menu: [slaw]},\n"
          "  {id: lunch, name: Lunch, time: \"12:30\", length: 90 min, guests: 3, menu: [slaw]},\n"
          "  {id: supper-2, name: Supper-2, time: \"20:00\", length: 90 min, guests: 3, menu: [slaw]}]\n"},
};

static const char *dump_of(const char *text, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL;
  ck_assert_msg(pw_event_read_text(&ev, "test/job.yaml", text, strlen(text), "templates", ctx) == PW_OK, "%s: %s", text,
                ctx->n_diags ? ctx->diags[0].text : "?");
  return event_dump(ev, ctx->arena);
}

START_TEST(reads_the_same)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *is = dump_of(SAME[_i].is, ctx), *as = dump_of(SAME[_i].as, ctx);
  ck_assert_msg(strcmp(is, as) == 0, "%s:\n%s\nis not\n%s", SAME[_i].name, is, as);
  pw_test_ctx_free(ctx);
}
END_TEST

#define ONE(menu) HEAD OURS "services: [{time: \"17:30\", guests: 30, menu: " menu "}]\n"

static const struct {
  const char *name, *text, *fault;
  int line, col;
} FAULTY[] = {
    {"no such menu", ONE("hours"), "no menu \"hours\"; did you mean \"ours\"?", 12, 46},
    {"no such dish on it", ONE("{use: ours, without: [cookie]}"), "\"cookie\" is not on this menu", 12, 68},
    {"a block without a name", ONE("{without: [slaw]}"), "or the name of a menu", 12, 46},
    {"another key", ONE("{use: ours, witout: [slaw]}"), "no \"witout\"; did you mean \"without\"?", 12, 58},
    {"without what", ONE("{use: ours, without: slaw}"), "\"without\" needs a list", 12, 67},
    {"a menu nobody takes has an unknown dish",
     HEAD "menus: {other: {dishes: [slow]}}\nservices: [{time: \"17:30\", guests: 30, menu: [slaw]}]\n",
     "no dish \"slow\"", 6, 26},
    {"a menu without dishes",
     HEAD "menus: {other: {style: plated}}\nservices: [{time: \"17:30\", guests: 30, menu: other}]\n",
     "has no \"dishes\"", 7, 46},
    {"guests that are no number", HEAD "services: [{time: \"17:30\", guests: many, menu: [slaw]}]\n",
     "\"many\" is not a number of guests", 6, 36},
};

START_TEST(faults)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  const char *text = FAULTY[_i].text;
  ck_assert_int_eq(pw_event_read_text(&ev, "test/job.yaml", text, strlen(text), "templates", ctx), PW_ERR_INPUT);
  bool is_told = false;
  for (int i = 0; i < ctx->n_diags; i++)
    is_told = is_told || (strstr(ctx->diags[i].text, FAULTY[_i].fault) && ctx->diags[i].line == FAULTY[_i].line &&
                          ctx->diags[i].col == FAULTY[_i].col);
  ck_assert_msg(is_told, "%s: %d:%d %s", FAULTY[_i].name, ctx->diags[0].line, ctx->diags[0].col, ctx->diags[0].text);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("menus");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, reads_the_same, 0, (int)(sizeof SAME / sizeof *SAME));
  tcase_add_loop_test(t, faults, 0, (int)(sizeof FAULTY / sizeof *FAULTY));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
