/* test_members.c - lists of members: each covers its struct to the last byte; each value changed alone makes two entries differ
 * where it should; and each key of the reader's tables, changed in an event, shows in the event's dump and keeps a pit from
 * standing in for another.  The keys are taken from the tables, so a new one is tried without an edit here. */
#include "event_dump.h"
#include "harness.h"
#include "plan/joint/joint_same.h"
#include "read/members.h"
#include "read/raw.h"
#include "read/read.h"
#include "read/yaml_tree.h"

enum { SPANS_MAX = 128, BYTES_MAX = 1024, KEYS_MAX = 512 };

/* ---- the lists against the structs ---- */

struct span {
  size_t at, size, align;
  const char *name;
};

static int by_place(const void *a, const void *b)
{
  const struct span *x = a, *y = b;
  return (x->at > y->at) - (x->at < y->at);
}

static size_t align_of(const struct pw_member *m)
{
  return m->type == PW_MT_BOOL ? 1 : m->type == PW_MT_INT || m->type == PW_MT_INDEX || m->type == PW_MT_FLAGS ? 4 : 8;
}

START_TEST(lists_cover_their_structs)
{
  const struct pw_members *list = pw_members_all[_i];
  struct span spans[SPANS_MAX];
  int n = 0;
  size_t end = 0, widest = 1;
  for (int i = 0; i < list->n; i++) {
    const struct pw_member *m = &list->rows[i];
    ck_assert_int_lt(n, SPANS_MAX - 2);
    spans[n++] = (struct span){m->at, m->size, align_of(m), m->name};
    if (m->type == PW_MT_LIST || m->type == PW_MT_WORDS)
      spans[n++] = (struct span){m->count_at, sizeof(int), sizeof(int), m->name};
    ck_assert_msg((m->type != PW_MT_LIST && m->type != PW_MT_BLOCK) || m->of, "%s.%s", list->what, m->name);
    if (m->type == PW_MT_BLOCK)
      ck_assert_uint_eq(m->size, m->of->size);
  }
  qsort(spans, (size_t)n, sizeof *spans, by_place);
  for (int i = 0; i < n; i++) {
    size_t wanted = (end + spans[i].align - 1) / spans[i].align * spans[i].align;
    ck_assert_msg(spans[i].at == wanted, "%s: something before \"%s\" has no row", list->what, spans[i].name);
    end = spans[i].at + spans[i].size;
    widest = spans[i].align > widest ? spans[i].align : widest;
  }
  ck_assert_msg((end + widest - 1) / widest * widest == list->size, "%s: something at its end has no row", list->what);
}
END_TEST

/* ---- values ---- */

/* Members that may differ between two entries of two jobs that are one thing: words, and what each job says itself. */
static const char *const free_for_one[] = {"pw_item.id",
                                           "pw_cut.id",
                                           "pw_dish.id",
                                           "pw_fuel.id",
                                           "pw_pit.id",
                                           "pw_finisher.id",
                                           "pw_guest_class.id",
                                           "source",
                                           "yield_source",
                                           "look",
                                           "alike",
                                           "n_burns_max",
                                           "take_frac",
                                           "is_taken_by_class",
                                           "pw_pit.name",
                                           "pw_finisher.name",
                                           "pw_supplier.name",
                                           NULL};
/* ... between two pits (or the like) of one event that may stand in for each other. */
static const char *const free_to_stand_in[] = {
    "pw_item.id",        "pw_cut.id",   "pw_dish.id",       "pw_fuel.id",       "pw_pit.id", "pw_finisher.id",
    "pw_guest_class.id", "pw_rack.id",  "source",           "yield_source",     "look",      "alike",
    "pw_setting.name",   "pw_pit.name", "pw_finisher.name", "pw_supplier.name", NULL};

static bool is_free(const char *const *list, const char *what, const char *name)
{
  char full[128];
  snprintf(full, sizeof full, "%s.%s", what, name);
  for (int i = 0; list[i]; i++)
    if (strcmp(list[i], name) == 0 || strcmp(list[i], full) == 0)
      return true;
  return false;
}

static void check_pair(const struct pw_members *of, const struct pw_member *m, const void *a, const void *b)
{
  bool is_one = pw_members_same(of, a, b, PW_ONE_THING), stands_in = pw_members_same(of, a, b, PW_STANDS_IN);
  ck_assert_msg(is_one == is_free(free_for_one, of->what, m->name), "%s.%s: one thing: %d", of->what, m->name, is_one);
  ck_assert_msg(stands_in == is_free(free_to_stand_in, of->what, m->name), "%s.%s: stands in: %d", of->what, m->name,
                stands_in);
  ck_assert(pw_members_same(of, b, a, PW_ONE_THING) == is_one && pw_members_same(of, b, a, PW_STANDS_IN) == stands_in);
}

START_TEST(each_value_counts)
{
  static const char *const words[] = {"one", "another"};
  const struct pw_members *of = pw_members_all[_i];
  ck_assert_uint_le(of->size, BYTES_MAX);
  for (int i = 0; i < of->n; i++) {
    const struct pw_member *m = &of->rows[i];
    _Alignas(16) unsigned char a[BYTES_MAX] = {0}, b[BYTES_MAX] = {0}, x[BYTES_MAX] = {0}, y[BYTES_MAX] = {0};
    const int one = 1;
    const char *const nothing = NULL;
    ck_assert(pw_members_same(of, a, b, PW_ONE_THING) && pw_members_same(of, a, b, PW_STANDS_IN));
    if (m->type == PW_MT_TEXT) {
      memcpy(a + m->at, &words[0], sizeof words[0]);
      check_pair(of, m, a, b);
      memcpy(b + m->at, &words[1], sizeof words[1]);
    } else if (m->type == PW_MT_LIST || m->type == PW_MT_WORDS) {
      const void *of_a = x, *of_b = m->type == PW_MT_LIST ? (const void *)y : (const void *)words;
      if (m->type == PW_MT_WORDS)
        of_a = &nothing;
      memcpy(a + m->at, &of_a, sizeof of_a);
      memcpy(a + m->count_at, &one, sizeof one);
      check_pair(of, m, a, b); /* an element more */
      memcpy(b + m->at, &of_b, sizeof of_b);
      memcpy(b + m->count_at, &one, sizeof one);
      if (m->type == PW_MT_LIST) { /* its last value, which is no word of ours */
        ck_assert_msg(pw_members_same(of, a, b, PW_ONE_THING), "%s.%s", of->what, m->name);
        const struct pw_member *last = &m->of->rows[1];
        memset(y + last->at, 1, last->type == PW_MT_TEXT ? 0 : last->size);
        if (last->type == PW_MT_TEXT)
          memcpy(y + last->at, &words[1], sizeof words[1]);
      }
    } else {
      memset(b + m->at, 1, m->size); /* a small number, yes */
      if (m->type == PW_MT_BLOCK) {  /* no pointer may be one */
        memset(b + m->at, 0, m->size);
        b[m->at] = 1;
      }
    }
    check_pair(of, m, a, b);
  }
}
END_TEST

START_TEST(mixes_are_each_jobs_own)
{
  struct pw_part part = {0, 1};
  struct pw_item mix = {.name = "Rub", .parts = &part, .n_parts = 1}, same = mix, plain = {.name = "Rub"},
                 other = plain;
  ck_assert(!pw_same_item(&mix, &same) && pw_same_item(&plain, &other));
}
END_TEST

/* ---- keys ---- */

/* Three ways to write everything: what excludes each other stands in one of them. */
static const char *const base_text[] = {
    "event: {name: Test job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "guests: {adults: {}}\n"
    "services: [{id: dinner, time: \"17:30\", length: 90 min, guests: {adults: 40}, arrivals: [70 %, 30 %], waves: 2, "
    "menu: [plate-meat]},\n"
    "  {id: late, time: \"20:00\", guests: {adults: 9}, menu: usual}]\n"
    "menus: {usual: {dishes: [{dish: plate-meat, take: 50 %, enough: 90 %}], style: plated, length: 1 h,\n"
    "  options: [{dish: pulled, take: 20 %, portion: 3 oz, portion_spread: 0.5 oz}],\n"
    "  choice: {one: 50 %, two: 20 %, three: 10 %, meat: 6 oz, meat_spread: 1 oz, seconds: 5 %, no_show: 5 %}}}\n"
    "crew: [{role: cook, duties: [fire, pit, carve], from: \"2027-06-11 22:00\", to: \"2027-06-12 20:00\", rate: 25 "
    "per h}]\n"
    "arrival_curves: {plated: {shares: [60 %, 40 %], source: made up}}\n"
    "rule_sets:\n"
    "  mine: {name: Ours, zones: [America/], shift: {longest: 11 h, source: made up}, break: {after: 5 h, least: 40 "
    "min, "
    "paid: false, source: made up},\n"
    "    rest: {between: 10 h, source: made up}, night: {longest: 9 h, hands: 2, source: made up}, week: "
    "{overtime_after: "
    "40 h, times: 1.5, source: made up},\n"
    "    awake: {longest: 15 h, source: made up}, calm: 10 %, source: made up}\n"
    "service_styles: {plated: {guests_each: 9, set_up: 14 min, set_up_guest: 0.4 min, clear: 21 min, clear_guest: 0.3 "
    "min,\n"
    "  source: made up}}\n"
    "terms: {margin: 20 %}\nweather: {low: 60 F, high: 80 F, wind: 6 mph}\n"
    "pits: [{id: first, PIT}, {id: second, PIT}]\n"
    "finishers: [{use: oven, id: warmer}, {id: stove, name: Stove, kind: oven, area: 0.8 m2, temp: 250 F, cost: 1.20 "
    "per h, source: made up}]\n"
    "items:\n"
    "  roast: {name: Roast, category: meat, unit: kg, store: chilled, order_ahead: 2 d, keeps: 5 d, piece: 4 kg, salt: "
    "1 %,\n"
    "    weighs: {litre: 1 kg, each: 4 kg, source: made up}, offers: [{supplier: A, pack: piece, pieces: 1, price: 9 "
    "per kg, source: made up}], source: made up}\n"
    "fuels:\n"
    "  logs: {name: Logs, charcoal: false, gross: 18 MJ/kg, hydrogen: 6 %, moisture: 20 %, air: 6, stacked: 425 kg/m3, "
    "price: 0.25 per kg, sack: 10 kg,\n"
    "    source: made up}\n"
    "  coals: {name: Coals, charcoal: true, gross: 30 MJ/kg, hydrogen: 3 %, moisture: 5 %, air: 10, chimney: 2 kg, "
    "chimney_time: 90 min, stacked: 230 "
    "kg/m3, price: 1.25 per kg, source: made up}\n"
    "  lumps: {name: Lumps, charcoal: true, gross: 30 MJ/kg, hydrogen: 3 %, moisture: 5 %, air: 10, stacked: 230 "
    "kg/m3, price: 1.25 per kg, source: made up}\n"
    "cuts:\n"
    "  shoulder:\n"
    "    {name: Shoulder, kind: pork, safety: intact, item: roast,\n"
    "    piece: {weight: 8 lb, spread: 0.8 lb, length: 10 in, width: 8 in, height: 6 in, wrapped_length: 9 in, "
    "wrapped_width: 7 in,\n"
    "      clearance: 1 in, turns: true, shape: slab, half: 3 in, diffusivity: 0.13 mm2/s, start: 40 F, units: 1, "
    "source: me},\n"
    "    yield: {trim: 95 %, trim_spread: 2 %, cook: 60 %, cook_spread: 4 %, core: 190 F, per_kelvin: 0.5 %, hold: 2 "
    "h,\n"
    "      per_hour: 0.4 %, source: me},\n"
    "    smoke: {time: 6 h, at: 250 F, from: 40 F, to: 160 F, low: 225 F, high: 290 F, best: 255 F, spread: 10 %, "
    "weight: 8 lb,\n"
    "      readings: [{at: 250 F, time: 6 h}, {at: 275 F, time: 5 h}], look: dark bark, source: me},\n"
    "    finish: {time: 4 h, at: 250 F, from: 160 F, to: 203 F, low: 225 F, high: 300 F, best: 260 F, spread: 10 %, "
    "weight: 8 lb, oven: true,\n"
    "      readings: [{at: 250 F, time: 4 h}, {at: 275 F, time: 3 h}], look: soft, source: me},\n"
    "    rest: {least: 1 h, hold_longest: 4 h, pans: 0.5, serve_core: 195 F, may_chill: true, source: me},\n"
    "    hands: {prep: 8 min, load: 30 s, wrap: 2 min, unload: 1 min, carve: 5 min, mop_every: 60 min, rub_set: 2 h, "
    "source: me},\n"
    "    brine: {item: roast, water: 90 %, least: 4 h, most: 20 h, hands: 1 min, source: me},\n"
    "    chill: {loss: 5 %, hands: 3 min, uses: [{item: rub, amount: 2 g, per: piece}], source: me},\n"
    "    uses: [{item: rub, amount: 20 g, per: kg-raw}, {item: roast, amount: 5 g, per: kg-raw}], salt_limit: 2 %,\n"
    "    source: made up}\n"
    "dishes:\n"
    "  plate-meat: {name: Plate, cut: shoulder, form: pulled, carve: 95 %, carve_spread: 2 %, portion: 5 oz, "
    "portion_spread: 1 oz, take: 80 %, reserve: 5 %,\n"
    "    pan_portions: 30, held: hot, allergens: [milk], uses: [{item: roll, amount: 1 each, per: portion}], source: "
    "made up}\n",
    "event: {name: Test job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "guests: {adults: {}}\n"
    "services: [{id: dinner, time: \"17:30\", length: 90 min, guests: {adults: 40}, menu: [pulled, bowl]}]\n"
    "crew: [{role: cook, duties: [fire, pit, carve], from: \"2027-06-11 22:00\", to: \"2027-06-12 20:00\", rate: 25 "
    "per h}]\n"
    "terms: {margin: 20 %}\nweather: {low: 60 F, high: 80 F, wind: 6 mph}\n"
    "pits: [{id: first, DISC}, {id: second, DISC}, offset]\n"
    "finishers: [oven, {id: stove, name: Stove, kind: oven, pans: 4, temp: 250 F, cost: 1.20 per h, source: made up}]\n"
    "items:\n"
    "  salad: {name: Salad, category: side, unit: kg, made_of: [{item: slaw, amount: 900 g}, {item: rub, amount: 100 "
    "g}], makes: 1 kg, source: made up}\n"
    "  logs: {name: Logs, category: fuel, unit: kg, offers: [{supplier: A, pack: bag, holds: 20 kg, price: 9, source: "
    "made up}], source: made up}\n"
    "fuels:\n"
    "  oak: {item: logs}\n"
    "dishes:\n"
    "  bowl: {name: Bowl, portion: 5 oz, take: 80 %, reserve: 5 %, pan_portions: 30, held: hot, uses: [{item: salad, "
    "amount: 100 g, per: portion}], source: made up}\n",
    "event: {name: Test job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "guests: {adults: {}}\n"
    "services: [{id: dinner, time: \"17:30\", length: 90 min, guests: {adults: 40}, menu: [grilled]}]\n"
    "terms: {margin: 20 %}\nweather: {low: 60 F, high: 80 F, wind: 6 mph}\n"
    "pits: [{id: first, GRATE}, {id: second, GRATE}]\n"
    "finishers: [box]\n"
    "cuts:\n"
    "  patty:\n"
    "    {name: Patty, kind: beef, safety: ground, item: butt,\n"
    "    piece: {weight: 2 lb, length: 12 in, width: 8 in, height: 1 in, shape: slab, half: 0.4 in, diffusivity: 0.13 "
    "mm2/s, source: made up},\n"
    "    yield: {trim: 100 %, cook: 70 %, source: made up},\n"
    "    smoke: {time: 10 min, at: 450 F, from: 40 F, to: 163 F, low: 380 F, high: 560 F, best: 450 F, coals: true, "
    "turns: 3, source: made up},\n"
    "    rest: {least: 5 min, hold_longest: 1 h, pans: 0.5, serve_core: 160 F, source: made up},\n"
    "    hands: {turn: 1 min, source: made up}, source: made up}\n"
    "dishes:\n"
    "  grilled: {name: Grilled, cut: patty, portion: 5 oz, take: 80 %, source: made up}\n"};

#define PIT_TEXT                                                                                                       \
  "name: Pit, settings: [{name: steady, hot: 275 F, cool: 250 F, splits: 2 per h, readings: [{rack: main, along: 10 "  \
  "in, temp: 270 F}]}], "                                                                                              \
  "racks: [{id: main, outline: rectangle, length: 40 in, depth: 24 in, clear_height: 12 in, offset: 2 F, zones: 2}, "  \
  "{id: upper, length: 40 in, depth: 24 in, clear_height: 12 in}], fire: {ready: 1 h 15 min, burns: 2, charcoal: 3 "   \
  "kg, "                                                                                                               \
  "water: 2 kg, charcoal_fuel: coals, wood: logs, split: 2.5 lb, tend: 12 min, excess_air: 400 %, exhaust_over: 20 "   \
  "F, "                                                                                                                \
  "combustion: 85 %, source: made up}, shell: {steel: 500 lb, area: 44 ft2, length: 5.5 ft, emissivity: 90 %, "        \
  "source: made up}, rent: 5, rentable: false, source: made up"
#define GRATE_TEXT                                                                                                     \
  "name: Grate, settings: [{hot: 480 F, cool: 420 F}], racks: [{id: grate, length: 40 in, depth: 24 in, "              \
  "clear_height: 9 in}], coals: {height: 5 in, bed: 1100 F, lid: true, source: made up}, "                             \
  "fire: {ready: 45 min, wood: oak, split: 8 oz, excess_air: 250 %, combustion: 85 %, source: made up}, "              \
  "shell: {steel: 50 lb, area: 22 ft2, length: 2 ft, source: made up}, source: made up"
#define DISC_TEXT                                                                                                      \
  "name: Drum, settings: [{hot: 270 F, cool: 270 F}], racks: [{id: grate, outline: disc, diameter: 22 in, "            \
  "clear_height: 9 in}], "                                                                                             \
  "fire: {ready: 45 min, wood: oak, split: 8 oz, excess_air: 250 %, combustion: 85 %, source: made up}, "              \
  "shell: {steel: 50 lb, area: 22 ft2, length: 2 ft, source: made up}, source: made up"

struct walk {
  struct pw_ctx *ctx; /* keeps the tree and the base's dump */
  const struct pw_node *root;
  const char *dump;
  bool in_pit;
  int n;
  struct key {
    char name[96];
    bool is_seen;
  } keys[KEYS_MAX]; /* over all texts */
};

/* The tree as text, with `value` for `key` of the map `at`. */
static void emit(struct pw_buf *b, const struct pw_node *node, const struct pw_node *at, const char *key,
                 const char *value)
{
  if (node->kind == PW_NODE_SCALAR) {
    pw_buf_printf(b, "\"%s\"", node->text);
    return;
  }
  bool is_put = false;
  pw_buf_add(b, node->kind == PW_NODE_MAP ? "{" : "[");
  for (int i = 0; i < node->n; i++) {
    pw_buf_add(b, i ? ", " : "");
    if (node->kind == PW_NODE_MAP) {
      bool is_it = node == at && strcmp(node->pairs[i].key, key) == 0;
      pw_buf_printf(b, "%s: ", node->pairs[i].key);
      if (is_it)
        pw_buf_add(b, value);
      else
        emit(b, node->pairs[i].value, at, key, value);
      is_put = is_put || is_it;
    } else {
      emit(b, node->items[i], at, key, value);
    }
  }
  if (node == at && !is_put)
    pw_buf_printf(b, ", %s: %s", key, value);
  pw_buf_add(b, node->kind == PW_NODE_MAP ? "}" : "]");
}

/* The event, or NULL when it has faults. */
static struct pw_event *read_changed(const struct walk *w, const struct pw_node *at, const char *key, const char *value,
                                     struct pw_ctx *ctx)
{
  struct pw_buf b = pw_buf_in(ctx->arena);
  struct pw_event *ev = NULL;
  emit(&b, w->root, at, key, value);
  const char *text = pw_buf_text(&b);
  return pw_event_read_text(&ev, "test.yaml", text, strlen(text), "tests/cases/catalog", ctx) == PW_OK ? ev : NULL;
}

static bool second_stands_in(const struct pw_event *ev)
{
  int first = PW_NONE, second = PW_NONE;
  for (int i = 0; i < ev->n_pits; i++) {
    first = strcmp(ev->pits[i].id, "first") == 0 ? i : first;
    second = strcmp(ev->pits[i].id, "second") == 0 ? i : second;
  }
  ck_assert(first != PW_NONE && second != PW_NONE);
  return ev->pits[second].alike == first;
}

/* Is there a value of the key that reads and shows? */
static bool shows(struct walk *w, const struct pw_field *f, const struct pw_node *map, const char *value)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = read_changed(w, map, f->key, value, ctx);
  bool is_word = f->type == PW_FT_TEXT || f->type == PW_FT_ID;
  bool is_shown = ev && strcmp(event_dump(ev, ctx->arena), w->dump) != 0;
  if (is_shown && w->in_pit && !is_word)
    is_shown = !second_stands_in(ev);
  pw_test_ctx_free(ctx);
  return is_shown;
}

/* Values of every kind to try in turn; what does not fit the key is refused and passed over. */
static bool any_shows(struct walk *w, const struct pw_field *f, const struct pw_node *map)
{
  static const char *const values[] = {
      "zz",         "true",       "false",          "3",     "1",     "7",    "[zz]",  "7.77",     "7.77 per kg",
      "7.77 per h", "3 kg",       "3 each",         "3.5 L", "800 g", "oak",  "logs",  "coals",    "lumps",
      "lump",       "drum",       "upper",          "roll",  "rub",   "slaw", "roast", "shoulder", "butt",
      "[100 %]",    "plate-meat", "{adults: 33 %}", NULL};
  static const struct {
    const char *unit;
    double times;
  } units[PW_DIM__COUNT] = {
      [PW_DIM_NUMBER] = {"", 1},        [PW_DIM_EACH] = {" each", 1},     [PW_DIM_MASS] = {" kg", 1},
      [PW_DIM_LENGTH] = {" m", 1},      [PW_DIM_AREA] = {" m2", 1},       [PW_DIM_TEMP] = {" C", 1},
      [PW_DIM_TEMP_DIFF] = {" C", 1},   [PW_DIM_DURATION] = {" min", 1},  [PW_DIM_FRACTION] = {" %", 100},
      [PW_DIM_HEAT] = {" MJ/kg", 1},    [PW_DIM_DENSITY] = {" kg/m3", 1}, [PW_DIM_DIFFUSIVITY] = {" mm2/s", 1e6},
      [PW_DIM_PER_HOUR] = {" per h", 1}};
  const struct pw_node *now = pw_node_get(map, f->key);
  if (f->type == PW_FT_CHOICE) {
    for (int i = 0; f->choices[i]; i++)
      if (shows(w, f, map, f->choices[i]))
        return true;
    return false;
  }
  if ((f->type == PW_FT_QUANTITY || f->type == PW_FT_WHOLE) && units[f->dim].unit) {
    static const double steps[][2] = {{1, 1}, {1, -1}, {1, 5}, {1, -5}, {1.01, 0}, {0.99, 0}, {1.1, 0}, {0.5, 0}};
    char why[512], text[64];
    double si = 0;
    const char *from[] = {now ? now->text : NULL, f->def, f->min, f->max};
    for (int k = 0; k < 4; k++)
      for (size_t i = 0; from[k] && i < sizeof steps / sizeof *steps; i++) {
        ck_assert_msg(!pw_quantity_parse(from[k], f->dim, &si, why, sizeof why), "%s: %s", f->key, why);
        snprintf(text, sizeof text, "%.6g%s", (si * steps[i][0] + steps[i][1]) * units[f->dim].times,
                 units[f->dim].unit);
        if (shows(w, f, map, text))
          return true;
      }
    return false;
  }
  for (int i = 0; values[i]; i++)
    if (shows(w, f, map, values[i]))
      return true;
  return false;
}

static void key_seen(struct walk *w, const char *name, bool is_seen)
{
  int i = 0;
  while (i < w->n && strcmp(w->keys[i].name, name) != 0)
    i++;
  if (i == w->n) {
    ck_assert_int_lt(w->n, KEYS_MAX);
    snprintf(w->keys[w->n++].name, sizeof w->keys->name, "%s", name);
  }
  w->keys[i].is_seen = w->keys[i].is_seen || is_seen;
}

static void visit(struct walk *w, const struct pw_table *table, const struct pw_node *map, const char *path)
{
  for (int i = 0; i < table->n; i++) {
    const struct pw_field *f = &table->fields[i];
    const struct pw_node *node = pw_node_get(map, f->key);
    char name[96];
    snprintf(name, sizeof name, "%s.%s", path, f->key);
    bool is_list = f->type == PW_FT_LIST;
    if (is_list || f->type == PW_FT_BLOCK) {
      key_seen(w, name, node && (!is_list || node->n > 0));
      if (node && (!is_list || node->n > 0))
        visit(w, f->table, is_list ? node->items[0] : node, name);
      continue;
    }
    /* what a block's own numbers rest on is kept for the whole entry only */
    bool is_inner_source = f->is_source && strchr(path, '.');
    if (!is_inner_source)
      key_seen(w, name, any_shows(w, f, map));
  }
}

START_TEST(each_key_shows)
{
  static const char *const sections[PW_SECTION__COUNT] = {"cuts",           "dishes",        "items", "pits",
                                                          "finishers",      "fuels",         "menus", "rule_sets",
                                                          "service_styles", "arrival_curves"};
  struct walk w = {.n = 0};
  for (int text = 0; text < 3; text++) {
    static const struct pw_origin origin = {"test.yaml", false};
    struct pw_node *root;
    w.ctx = pw_test_ctx();
    struct pw_buf b = pw_buf_in(w.ctx->arena);
    for (const char *p = base_text[text]; *p;) /* the pits are long, and stand there twice */
      if (strncmp(p, "PIT", 3) == 0)
        pw_buf_add(&b, PIT_TEXT), p += 3;
      else if (strncmp(p, "DISC", 4) == 0)
        pw_buf_add(&b, DISC_TEXT), p += 4;
      else if (strncmp(p, "GRATE", 5) == 0)
        pw_buf_add(&b, GRATE_TEXT), p += 5;
      else
        pw_buf_add_char(&b, *p++);
    const char *all = pw_buf_text(&b);
    ck_assert_int_eq(pw_yaml_read(&root, all, strlen(all), &origin, w.ctx), PW_OK);
    w.root = root;
    const struct pw_event *ev = read_changed(&w, NULL, "", "", w.ctx);
    ck_assert_msg(ev != NULL, "%d: %s", text, w.ctx->n_diags ? w.ctx->diags[0].text : "");
    ck_assert(second_stands_in(ev));
    w.dump = event_dump(ev, w.ctx->arena);
    for (int s = 0; s < PW_SECTION__COUNT; s++) {
      const struct pw_node *section = pw_node_get(root, sections[s]);
      w.in_pit = s == PW_PITS;
      for (int i = 0; section && i < section->n; i++)
        if (section->kind == PW_NODE_MAP || i == 1) /* of the list, the second */
          visit(&w, pw_catalog_table((enum pw_section)s),
                section->kind == PW_NODE_LIST ? section->items[i] : section->pairs[i].value, sections[s]);
    }
    pw_test_ctx_free(w.ctx);
  }
  int n_lost = 0;
  for (int i = 0; i < w.n; i++)
    if (!w.keys[i].is_seen && strcmp(w.keys[i].name, "items.unit") != 0 && /* these change along with others only */
        strcmp(w.keys[i].name, "pits.racks.outline") != 0 && strcmp(w.keys[i].name, "cuts.smoke.coals") != 0 &&
        strcmp(w.keys[i].name, "cuts.smoke.spit") != 0 && strcmp(w.keys[i].name, "pits.coals.spit") != 0 &&
        strcmp(w.keys[i].name, "menus.source") != 0) /* for who reads the file: nothing is worked out from it */
      n_lost += printf("%s: no value of it shows\n", w.keys[i].name) > 0;
  ck_assert_int_eq(n_lost, 0);
  ck_assert_int_gt(w.n, 120);
}
END_TEST

static Suite *suite(void)
{
  int n = 0;
  while (pw_members_all[n])
    n++;
  Suite *s = suite_create("members");
  TCase *t = tcase_create("members");
  tcase_set_timeout(t, 0);
  tcase_add_loop_test(t, lists_cover_their_structs, 0, n);
  tcase_add_loop_test(t, each_value_counts, 0, n);
  tcase_add_test(t, mixes_are_each_jobs_own);
  tcase_add_test(t, each_key_shows);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
