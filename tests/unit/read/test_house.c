/* Tests of the house file: an event reads the same wherever its keys stand, in itself or in its house; what it says itself counts;
 * where the file may lie; faults of both files in one run. */
#include "event_dump.h"
#include "planned.h"
#include "read/kept.h"
#include "shuffle.h"

#include <sys/stat.h>
#include <unistd.h>

static char folder[64];

/* The examples, each in one file. */
static const char *const WHOLE[] = {"family-party", "lakeside-wedding", "county-fair", "garden-lunch", "sunday-lunch"};
enum { N_WHOLE = sizeof WHOLE / sizeof *WHOLE, N_POOLED = 3 /* of them, on their house: the first */ };

static const char *in_folder(const char *where, int which)
{
  static char path[96];
  snprintf(path, sizeof path, "%s/%s.yaml", where, WHOLE[which]);
  return path;
}

static void open_folder(void)
{
  snprintf(folder, sizeof folder, "pw-house-XXXXXX");
  ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void close_folder(void)
{
  char command[96];
  snprintf(command, sizeof command, "rm -r %s", folder);
  ck_assert_int_eq(system(command), 0);
}

static const char *put(const char *name, const char *text)
{
  static char path[160];
  snprintf(path, sizeof path, "%s/%s", folder, name);
  FILE *f = fopen(path, "wb");
  ck_assert_ptr_nonnull(f);
  ck_assert_int_ge(fputs(text, f), 0);
  ck_assert_int_eq(fclose(f), 0);
  return path;
}

static bool no_map(const char *key, int depth)
{
  (void)key;
  (void)depth;
  return false;
}

static bool no_list(const char *key)
{
  (void)key;
  return false;
}

static const char *dump_of(const char *path, struct pw_ctx *ctx)
{
  const char *dump = event_dump(planned_event(path, ctx), ctx->arena);
  ck_assert_ptr_nonnull(dump);
  return dump;
}

/* Blocks whose keys may be dealt out one by one: their order says nothing. */
static bool is_dealt(const char *key)
{
  static const char *const blocks[] = {"event", "site", "weather", "terms", "ladder", "effort"};
  for (size_t i = 0; i < sizeof blocks / sizeof *blocks; i++)
    if (strcmp(key, blocks[i]) == 0)
      return true;
  return false;
}

static bool is_own(const char *block, const char *key)
{
  return strcmp(block, "event") == 0 &&
         (strcmp(key, "name") == 0 || strcmp(key, "date") == 0 || strcmp(key, "customer") == 0);
}

/* Each key to the event or to the house; what the event has, the house may say otherwise. */
static void deal(const struct pw_node *root, struct pw_buf *event, struct pw_buf *house, unsigned *state)
{
  pw_buf_add(event, "{\"house\": \"house.yaml\"");
  pw_buf_add(house, "{\"house\": {\"name\": \"Hill House\"}");
  for (int i = 0; i < root->n; i++) {
    const struct pw_pair *p = &root->pairs[i];
    if (!is_dealt(p->key)) {
      bool is_there = strcmp(p->key, "services") == 0 || (shuffle_random(state) >> 16) % 2;
      struct pw_buf *to = is_there ? event : house;
      pw_buf_printf(to, ",\n\"%s\": ", p->key);
      emit_shuffled(to, p->value, p->key, 1, no_map, no_list, state);
      continue;
    }
    pw_buf_printf(event, ",\n\"%s\": {\"", p->key);
    pw_buf_printf(house, ",\n\"%s\": {\"", p->key);
    int n[2] = {0, 0};
    for (int k = 0; k < p->value->n; k++) {
      const struct pw_pair *q = &p->value->pairs[k];
      bool is_there = is_own(p->key, q->key) || (shuffle_random(state) >> 16) % 2;
      struct pw_buf *to = is_there ? event : house;
      pw_buf_printf(to, "%s%s\": ", n[!is_there]++ ? ", \"" : "", q->key);
      emit_shuffled(to, q->value, q->key, 2, no_map, no_list, state);
      if (is_there && !is_own(p->key, q->key) && (shuffle_random(state) >> 16) % 2)
        pw_buf_printf(house, "%s%s\": \"something else\"", n[1]++ ? ", \"" : "", q->key);
    }
    if (!n[0])
      event->n -= 1;
    if (!n[1])
      house->n -= 1;
    pw_buf_add(event, "}");
    pw_buf_add(house, "}");
  }
  pw_buf_add(event, "}\n");
  pw_buf_add(house, "}\n");
}

START_TEST(same_event_wherever_it_is_written)
{
  unsigned state = 11;
  open_folder();
  for (int round = 0; round < 25; round++) {
    struct pw_ctx *ctx = pw_test_ctx();
    const char *path = in_folder("tests/data/events", _i), *wanted = dump_of(path, ctx);
    struct pw_origin origin = {.file = path};
    struct pw_node *root = NULL;
    char *text = NULL;
    size_t n = 0;
    ck_assert_int_eq(pw_source_read(&text, &n, path, ctx), PW_OK);
    ck_assert_int_eq(pw_yaml_read(&root, text, n, &origin, ctx), PW_OK);
    struct pw_buf event = pw_buf_in(ctx->arena), house = pw_buf_in(ctx->arena);
    deal(root, &event, &house, &state);
    put("house.yaml", pw_buf_text(&house));
    const char *made = dump_of(put("job.yaml", pw_buf_text(&event)), ctx);
    ck_assert_msg(strcmp(made, wanted) == 0, "round %d of %s differs; event:\n%s\nhouse:\n%s", round, path,
                  pw_buf_text(&event), pw_buf_text(&house));
    pw_test_ctx_free(ctx);
  }
  close_folder();
}
END_TEST

/* The examples on their house files are the examples in one file: twins, picks, named menus, terms and all.  What is apart is whom they
 * call, and the chance they ask for: the files in one piece keep the shifts that were written. */
START_TEST(examples_on_their_house)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *whole = planned_event(in_folder("tests/data/events", _i), ctx),
                  *on_house = planned_event(in_folder("events", _i), ctx);
  ck_assert_int_eq(whole->n_pool, 0);
  ck_assert_int_eq(on_house->n_pool > 0, _i < N_POOLED);
  on_house->crew = whole->crew;
  on_house->n_crew = whole->n_crew;
  on_house->n_pool = 0;
  on_house->terms.on_time_frac = whole->terms.on_time_frac;
  const char *wanted = event_dump(whole, ctx->arena), *made = event_dump(on_house, ctx->arena);
  ck_assert(wanted && made);
  ck_assert_str_eq(made, wanted);
  pw_test_ctx_free(ctx);
}
END_TEST

#define JOB                                                                                                            \
  "event: {name: Job, date: 2027-06-12}\n"                                                                             \
  "services: [{id: dinner, time: \"17:30\", length: 1 h, guests: {adults: 40}, menu: [slaw, pork-pulled]}]\n"
#define HOUSE                                                                                                          \
  "event: {zone: America/Chicago, currency: USD}\nweather: {low: 60 F, high: 80 F, wind: 6 mph}\nterms: {margin: 20 "  \
  "%}\n"                                                                                                               \
  "pits: [{use: trailer-two-rack, id: old, name: Old one}, {use: wide-offset, id: new, fire: {water: 2 kg}}, "         \
  "round-drum]\n"                                                                                                      \
  "suppliers: [{name: Hill Street Meats, delivery: 15.00}, {name: Dale Dry Goods, delivery: 9.00}]\n"

/* An event's list takes the place of the house's, and its entries may be the house's own. */
START_TEST(pits_are_picked_by_the_house_s_names)
{
  struct pw_ctx *ctx = pw_test_ctx();
  open_folder();
  put("house.yaml", HOUSE);
  const struct pw_event *all = planned_event(put("all.yaml", JOB), ctx);
  const struct pw_event *some =
      planned_event(put("some.yaml", JOB "pits: [new, {use: old, id: older}, {id: round-drum, name: Can}]\n"
                                         "suppliers: [{name: Dale Dry Goods, delivery: 1.00}]\n"),
                    ctx);
  ck_assert_int_eq(all->n_pits, 3);
  ck_assert_int_eq(some->n_pits, 3);
  ck_assert_str_eq(some->pits[0].id, "new");
  ck_assert_double_eq_tol(some->pits[0].water_kg, 2, 1e-12);
  ck_assert_str_eq(some->pits[1].id, "older");
  ck_assert_str_eq(some->pits[1].name, "Old one");
  ck_assert_double_eq_tol(some->pits[1].steel_kg, all->pits[0].steel_kg, 1e-12);
  ck_assert_str_eq(some->pits[2].name, "Can");
  ck_assert_int_eq(some->n_suppliers, all->n_suppliers);
  for (int i = 0; i < some->n_suppliers; i++)
    ck_assert_int_eq(some->suppliers[i].delivery_cents,
                     strcmp(some->suppliers[i].name, "Dale Dry Goods") == 0 ? 100 : 1500);
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* `count` stands for so many alike, in house, event and changes; an event may take all of them, one, or one more like them. */
START_TEST(twins_are_written_once)
{
  static const struct {
    const char *lines, *ids, *names;
  } rows[] = {
      {"", "box-1 box-2 oven ", "Hot box 1|Hot box 2|Oven|"},
      {"finishers: [box]\n", "box-1 box-2 ", "Hot box 1|Hot box 2|"},
      {"finishers: [box-2, oven]\n", "box-2 oven ", "Hot box 2|Oven|"},
      {"finishers: [{use: box, count: 3}]\n", "box-1 box-2 box-3 ", "Hot box 1|Hot box 2|Hot box 3|"},
      {"finishers: [{use: box, count: 1}]\n", "box ", "Hot box|"},
      {"finishers: [box-1, {use: box, id: spare, name: Spare}]\n", "box-1 spare ", "Hot box 1|Spare|"},
      {"finishers: [oven, {use: oven, id: more, name: Other oven}]\n", "oven more ", "Oven|Other oven|"},
      {"finishers: [{use: insulated-box, id: chest, count: 2}]\n", "chest-1 chest-2 ", NULL},
      {"---\nfinishers: [{id: box-2, name: Mended}, {use: insulated-box, id: chest, name: Chest, count: 2}]\n",
       "box-1 box-2 oven chest-1 chest-2 ", "Hot box 1|Mended|Oven|Chest 1|Chest 2|"},
      {"finishers: [{use: hot-box-tall, id: a, name: A, pans: 3}, {use: a, id: b, name: B}, {use: b, id: c, name: C, "
       "pans: 4}]\n",
       "a b c ", "A|B|C|"},
  };
  struct pw_ctx *ctx = pw_test_ctx();
  open_folder();
  put("house.yaml",
      HOUSE "finishers: [{use: hot-box-tall, id: box, name: Hot box, count: 2}, {use: convection-oven, id: "
            "oven, name: Oven}]\n");
  char text[1024];
  snprintf(text, sizeof text, "%s%s", JOB, rows[_i].lines);
  const struct pw_event *ev = planned_event(put("job.yaml", text), ctx);
  struct pw_buf ids = pw_buf_in(ctx->arena), names = pw_buf_in(ctx->arena);
  for (int i = 0; i < ev->n_finishers; i++) {
    pw_buf_printf(&ids, "%s ", ev->finishers[i].id);
    pw_buf_printf(&names, "%s|", ev->finishers[i].name);
  }
  ck_assert_str_eq(pw_buf_text(&ids), rows[_i].ids);
  if (rows[_i].names)
    ck_assert_str_eq(pw_buf_text(&names), rows[_i].names);
  if (strcmp(rows[_i].ids, "a b c ") == 0) { /* each as the one it uses, but for what it says itself */
    ck_assert_double_eq(ev->finishers[1].capacity, ev->finishers[0].capacity);
    ck_assert_double_eq(ev->finishers[0].capacity, 3);
    ck_assert_double_eq(ev->finishers[2].capacity, 4);
    ck_assert_double_eq(ev->finishers[2].temp_c, ev->finishers[0].temp_c);
  }
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* A dish or a line says how often a class of guests takes it: the line's counts, one with a take of its own takes none of the dish's,
 * and a choice has those of the dish it stands for. */
START_TEST(take_rates_of_classes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  open_folder();
  put("house.yaml",
      HOUSE "guests: {adults: {}, children: {appetite: 50 %}}\n"
            "dishes: {slaw: {take: 60 %, take_of: {children: 10 %}}}\n"
            "menus: {ours: {dishes: [slaw, {dish: pork-pulled, take: 70 %, take_of: {children: 40 %}}]}}\n");
  const struct pw_event *ev = planned_event(
      put("job.yaml",
          "event: {name: Job, date: 2027-06-12}\n"
          "services:\n"
          "  - {id: a, time: \"12:30\", guests: {adults: 40, children: 9}, menu: ours, options: [{dish: "
          "brisket-sliced, instead_of: pork-pulled}]}\n"
          "  - {id: b, time: \"17:30\", guests: 40, menu: {use: ours, also: [{dish: slaw, take: 50 %}]}}\n"),
      ctx);
  const struct pw_menu_line *a = ev->services[0].menu, *b = ev->services[1].menu;
  ck_assert_double_eq_tol(a[0].take_of_frac[0], 0.6, 1e-12);
  ck_assert_double_eq_tol(a[0].take_of_frac[1], 0.1, 1e-12);
  ck_assert_double_eq_tol(a[1].take_of_frac[1], 0.4, 1e-12);
  ck_assert_ptr_null(b[0].take_of_frac);
  ck_assert_double_eq_tol(b[0].take_frac, 0.5, 1e-12);
  ck_assert(ev->dishes[a[0].dish].is_taken_by_class && !ev->dishes[a[1].dish].is_taken_by_class);
  ck_assert_int_eq(ev->services[0].n_options, 1);
  ck_assert_double_eq_tol(ev->services[0].options[0].line.take_of_frac[1], 0.4, 1e-12);
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* `use` takes the event's or the house's own dish, cut or good, however many it goes through. */
START_TEST(own_entries_are_used)
{
  struct pw_ctx *ctx = pw_test_ctx();
  open_folder();
  put("house.yaml", HOUSE "dishes:\n  our-pork: {use: pork-pulled, name: Our pork, portion: 5 oz}\n"
                          "  pork-pulled: {take: 41 %}\n"
                          "menus: {ours: {dishes: [our-pork, slaw]}, other: {use: ours, length: 2 h}}\n");
  const struct pw_event *ev = planned_event(
      put("job.yaml", "event: {name: Job, date: 2027-06-12}\n"
                      "services: [{time: \"17:30\", guests: 40, menu: {use: other, also: [small-pork]}}]\n"
                      "dishes: {small-pork: {use: our-pork, name: Small pork, portion: 2 oz}}\n"),
      ctx);
  const struct pw_service *s = &ev->services[0];
  ck_assert_int_eq(s->n_menu, 3);
  ck_assert_int_eq(s->length_min, 120);
  ck_assert_str_eq(ev->dishes[s->menu[0].dish].name, "Our pork");
  ck_assert_str_eq(ev->dishes[s->menu[2].dish].name, "Small pork");
  ck_assert_double_eq_tol(s->menu[0].take_frac, 0.41,
                          1e-12); /* our-pork goes on from the house's change of pork-pulled */
  ck_assert_double_eq_tol(s->menu[2].take_frac, 0.41, 1e-12);
  ck_assert_double_eq_tol(s->menu[0].portion_kg / s->menu[2].portion_kg, 2.5, 1e-9);
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* A way out is tried by lines at the end of the event's text: they add to what the house has. */
START_TEST(changes_come_on_top_of_both)
{
  struct pw_ctx *ctx = pw_test_ctx();
  open_folder();
  put("house.yaml", HOUSE);
  const struct pw_event *was = planned_event(put("job.yaml", JOB), ctx);
  struct pw_event *is = NULL;
  ck_assert_int_eq(
      pw_event_change(&is, was, "---\npits:\n  - {id: old, name: Mended}\n  - {use: round-drum, id: more}\n", ctx),
      PW_OK);
  ck_assert_int_eq(is->n_pits, 4);
  ck_assert_str_eq(is->pits[0].name, "Mended");
  ck_assert_str_eq(is->pits[3].id, "more");
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* What a pack keeps is whole: the event reads the same from it where there is no house file, and where there is another. */
START_TEST(kept_with_its_house)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_buf kept = pw_buf_in(ctx->arena);
  struct pw_event *again = NULL;
  int heads = 0;
  open_folder();
  put("house.yaml", HOUSE);
  const struct pw_event *ev = planned_event(put("job.yaml", JOB), ctx);
  const char *was = event_dump(ev, ctx->arena);
  ck_assert_int_eq(pw_kept_write(&kept, ev, 40, ctx), PW_OK);
  close_folder();
  FILE *f = fopen("house.yaml", "wxb"); /* another one, where the tests run */
  ck_assert_ptr_nonnull(f);
  ck_assert_int_ge(fputs("terms: {margin: 77 %}\n", f), 0);
  ck_assert_int_eq(fclose(f), 0);
  pw_status st = pw_kept_read(&again, &heads, "job.json", pw_buf_text(&kept), kept.n, ctx);
  ck_assert_int_eq(remove("house.yaml"), 0);
  ck_assert_int_eq(st, PW_OK);
  ck_assert_str_eq(event_dump(again, ctx->arena), was);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name, *line, *fault; /* fault NULL: it reads */
} PLACES[] = {
    {"beside, not named", "", NULL},
    {"named", "house: house.yaml\n", NULL},
    {"in a block", "house: {file: house.yaml, phone: 555 0100}\n", NULL},
    {"in the folder above", "house: ../above.yaml\n", NULL},
    {"in a folder below", "house: ./below/house.yaml\n", NULL},
    {"none wanted", "house: none\n", "needs \"weather\""},
    {"two folders up", "house: ../../above.yaml\n", "does not lie in the event's folder"},
    {"up by a way round", "house: below/../../above.yaml\n", "does not lie in the event's folder"},
    {"up at its end", "house: below/..\n", "does not lie in the event's folder"},
    {"from the root", "house: /etc/passwd\n", "does not lie in the event's folder"},
    {"itself", "house: job.yaml\n", "not its own house file"},
    {"not there", "house: hose.yaml\n", "there is no file"},
    {"a folder", "house: below\n", "it is a folder"},
    {"a pipe", "house: pipe\n", "it is no ordinary file"},
    {"a list", "house: [house.yaml]\n", "\"house\" needs"},
    {"nothing", "house:\n", "nothing after its colon"},
};

START_TEST(where_it_may_lie)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  char path[160], text[1024];
  open_folder();
  snprintf(path, sizeof path, "%s/jobs", folder);
  ck_assert_int_eq(mkdir(path, 0700), 0);
  snprintf(path, sizeof path, "%s/jobs/below", folder);
  ck_assert_int_eq(mkdir(path, 0700), 0);
  snprintf(path, sizeof path, "%s/jobs/pipe", folder);
  ck_assert_int_eq(mkfifo(path, 0600), 0);
  put("above.yaml", HOUSE);
  put("jobs/house.yaml", HOUSE);
  put("jobs/below/house.yaml", HOUSE);
  snprintf(text, sizeof text, "%s%s", PLACES[_i].line, JOB);
  pw_status st = pw_event_read(&ev, put("jobs/job.yaml", text), "templates", ctx);
  bool is_told = false;
  for (int i = 0; i < ctx->n_diags && PLACES[_i].fault; i++)
    is_told = is_told || strstr(ctx->diags[i].text, PLACES[_i].fault);
  ck_assert_msg(PLACES[_i].fault ? st == PW_ERR_INPUT && is_told : st == PW_OK, "%s: status %d, %s", PLACES[_i].name,
                (int)st, ctx->n_diags ? ctx->diags[0].text : "nothing said");
  if (st == PW_OK && _i == 2)
    ck_assert_str_eq(ev->identity.phone, "555 0100");
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* Faults of both files, each at its own place, the event's first; what only an event can say is refused in a house. */
START_TEST(faults_of_both)
{
  static const struct {
    const char *file, *text;
    int line, col;
  } wanted[] = {
      {"job.yaml", "no \"terns\"", 3, 1},          {"job.yaml", "\"margin\": 95 %", 4, 17},
      {"house.yaml", "no \"wether\"", 2, 1},       {"house.yaml", "no \"date\": it belongs to an event", 1, 9},
      {"house.yaml", "no \"services\": it", 4, 1}, {"house.yaml", "\"low\": ", 3, 16},
  };
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  open_folder();
  put("house.yaml", "event: {date: 2027-01-01, zone: UTC, currency: USD}\nwether: {low: 60 F}\nweather: {low: cold, "
                    "high: 80 F, wind: 6 mph}\nservices: []\n");
  ck_assert_int_eq(pw_event_read(&ev, put("job.yaml", JOB "terns: {}\nterms: {margin: 95 %}\n"), "templates", ctx),
                   PW_ERR_INPUT);
  for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
    bool is_told = false;
    for (int i = 0; i < ctx->n_diags; i++) {
      const struct pw_diag *d = &ctx->diags[i];
      is_told = is_told || (strstr(d->file, wanted[w].file) && strstr(d->text, wanted[w].text) &&
                            d->line == wanted[w].line && d->col == wanted[w].col);
    }
    ck_assert_msg(is_told, "not told: %s:%d:%d %s", wanted[w].file, wanted[w].line, wanted[w].col, wanted[w].text);
  }
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].file, "job.yaml"));
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

/* What a broken house would have said is not missed in the event; the event's own faults are told all the same. */
START_TEST(broken_house)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  open_folder();
  put("house.yaml", "terms: {margin: 20 %\n");
  ck_assert_int_eq(
      pw_event_read(&ev, put("job.yaml", "terns: {}\nevent: {name: Job, date: 2027-06-31}\n"), "templates", ctx),
      PW_ERR_INPUT);
  int n_syntax = 0, n_key = 0, n_date = 0, n_services = 0;
  for (int i = 0; i < ctx->n_diags; i++) {
    n_syntax += strcmp(ctx->diags[i].code, "yaml-syntax") == 0;
    n_key += strstr(ctx->diags[i].text, "no \"terns\"") != NULL;
    n_date += strcmp(ctx->diags[i].code, "bad-date") == 0;
    n_services += strstr(ctx->diags[i].text, "needs \"services\"") != NULL;
  }
  ck_assert_int_eq(ctx->n_diags, 4);
  ck_assert(n_syntax == 1 && n_key == 1 && n_date == 1 && n_services == 1);
  close_folder();
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("house");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_loop_test(t, same_event_wherever_it_is_written, 0, N_WHOLE);
  tcase_add_loop_test(t, examples_on_their_house, 0, N_WHOLE);
  tcase_add_loop_test(t, twins_are_written_once, 0, 10);
  tcase_add_test(t, own_entries_are_used);
  tcase_add_test(t, take_rates_of_classes);
  tcase_add_test(t, pits_are_picked_by_the_house_s_names);
  tcase_add_test(t, changes_come_on_top_of_both);
  tcase_add_test(t, kept_with_its_house);
  tcase_add_loop_test(t, where_it_may_lie, 0, (int)(sizeof PLACES / sizeof *PLACES));
  tcase_add_test(t, faults_of_both);
  tcase_add_test(t, broken_house);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
