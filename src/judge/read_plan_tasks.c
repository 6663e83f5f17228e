/* read_plan_tasks.c - people and tasks of a plan file: who does what, where, with which pieces, after what [J0].
 * In: JSON objects.  Out: struct pw_seen_person, struct pw_seen_task.  Tasks may name tasks further down, so what they
 * come after is looked up once all are read. */
#include "judge/plan_fields.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

/* more is no plan; also keeps the judge's work bounded */
enum { BREAKS_MAX = 100, AFTER_MAX = 5000, ITEMS_MAX = 5000 };

const char *const pw_seen_kinds[] = {
    "order", "take_in", "prep",  "light",  "feed",       "fire_check", "load",    "bark_test",  "mop",
    "turn",  "core",    "wrap",  "carry",  "wrap_carry", "probe",      "off",     "rest_over",  "hold_check",
    "cut",   "pan_up",  "drive", "set_up", "serve",      "clear",      "cool",    "cool_check", "burn_down",
    "ash",   "brine",   "thaw",  "chill",  "reheat",     "move",       "heat_up", NULL};
static const char *const hands_at[] = {"kitchen", "site", "road", NULL};

/* ---- people ----------------------------------------------------------------------------------------------- */

static const struct pw_seen_field break_fields[] = {F_MIN(span, from_min, "from_min"), F_MIN(span, to_min, "to_min"),
                                                    END};
static const struct pw_seen_list break_list = {
    "breaks", PW_SEEN_PEOPLE, sizeof(struct pw_seen_span), 0, SIZE_MAX, BREAKS_MAX, true, break_fields, NULL, NULL};

const struct pw_seen_field pw_seen_person_fields[] = {F_TEXT(person, id, "id"),
                                                      F_MIN(person, from_min, "from_min"),
                                                      F_MIN(person, to_min, "to_min"),
                                                      {"name", PW_SEEN_TEXT, AT(person, name), 0, 0, true, NULL},
                                                      O_REAL(person, cents_per_h, "cents_per_h", 0, 1e12),
                                                      O_INT(person, pool, "pool", 0),
                                                      END};
const struct pw_seen_person pw_seen_person_blank = {.pool = PW_SEEN_NONE};

void pw_seen_person_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_person *person = element;
  person->role = pw_seen_refer(r, path, object, "role", PW_SEEN_CREW, "crew line for the role");
  person->breaks = pw_seen_elements(r, path, object, &break_list, &person->n_breaks);
  person->n_breaks = person->n_breaks < 0 ? 0 : person->n_breaks;
}

/* ---- tasks ------------------------------------------------------------------------------------------------ */

const struct pw_seen_field pw_seen_task_fields[] = {
    F_MIN(task, at_min, "at_min"),
    {"minutes", PW_SEEN_COUNT, AT(task, minutes), 0, 20000, false, NULL},
    F_INT(task, pieces, "pieces", 0),
    {"id", PW_SEEN_TEXT, AT(task, id), 0, 0, true, NULL},
    {"kind", PW_SEEN_CHOICE, AT(task, kind), 0, 0, true, pw_seen_kinds},
    {"at_hand", PW_SEEN_CHOICE, AT(task, at_hand), 0, 0, true, hands_at},
    {"dish", PW_SEEN_TEXT, AT(task, dish), 0, 0, true, NULL},
    {"visit", PW_SEEN_TEXT, AT(task, visit), 0, 0, true, NULL},
    O_MIN(task, latest_min, "latest_min"),
    O_MIN(task, in_time_until_min, "in_time_until_min"),
    O_MIN(task, plates_to_min, "plates_to_min"),
    O_REAL(task, temp_c, "temp_c", -100, 1000),
    {"is_in_parts", PW_SEEN_FLAG, AT(task, is_in_parts), 0, 0, true, NULL},
    END};
const struct pw_seen_task pw_seen_task_blank = {.kind = PW_SEEN_NONE,
                                                .role = PW_SEEN_NONE,
                                                .lot = PW_SEEN_NONE,
                                                .person = PW_SEEN_NONE,
                                                .service = PW_SEEN_NONE,
                                                .place = PW_SEEN_NONE,
                                                .to_place = PW_SEEN_NONE,
                                                .at_hand = PW_SEEN_NONE,
                                                .n_ids = PW_SEEN_NONE,
                                                .told_late = PW_SEEN_NONE,
                                                .latest_min = PW_SEEN_NO_TIME,
                                                .in_time_until_min = PW_SEEN_NO_TIME,
                                                .plates_to_min = PW_SEEN_NO_TIME,
                                                .temp_c = NAN};

static const struct pw_json *there(const struct pw_json *object, const char *key)
{
  const struct pw_json *v = pw_json_get(object, key);
  return v && v->type != PW_JSON_NULL ? v : NULL;
}

/* The index of what object[key] names; PW_SEEN_NONE when the key is missing or null. */
static int refer_if_there(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                          enum pw_seen_part to, const char *what)
{
  return there(object, key) ? pw_seen_refer(r, path, object, key, to, what) : PW_SEEN_NONE;
}

/* A pit, then a finisher, then one of the words for where there is neither. */
static int read_place(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key)
{
  const struct pw_json *v = there(object, key);
  if (!v)
    return PW_SEEN_NONE;
  const char *text = v->type == PW_JSON_TEXT ? v->text : "";
  int n_pits = r->plan->n[PW_SEEN_PITS], n_finishers = r->plan->n[PW_SEEN_FINISHERS];
  for (int i = 0; i < n_pits; i++)
    if (r->plan->pits[i].id && strcmp(r->plan->pits[i].id, text) == 0)
      return i;
  for (int i = 0; i < n_finishers; i++)
    if (r->plan->finishers[i].id && strcmp(r->plan->finishers[i].id, text) == 0)
      return n_pits + i;
  for (int i = 0; hands_at[i]; i++)
    if (strcmp(hands_at[i], text) == 0)
      return PW_SEEN_IN_KITCHEN - i;
  pw_seen_find(r, path, key, "must be a pit, a finisher, kitchen, site or road, not ",
               *text ? text : pw_json_type_words(v->type));
  return PW_SEEN_NONE;
}

const char **pw_seen_texts(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                           size_t most, int *n)
{
  const struct pw_json *v = there(object, key);
  *n = 0;
  if (!v)
    return NULL;
  bool is_good = v->type == PW_JSON_ARRAY && v->n <= most;
  for (size_t i = 0; is_good && i < v->n; i++)
    is_good = v->items[i].type == PW_JSON_TEXT && *v->items[i].text;
  if (!is_good) {
    pw_seen_find(r, path, key, "must be a list of names", "");
    return NULL;
  }
  const char **texts = pw_seen_array(r, v->n, sizeof *texts);
  for (size_t i = 0; texts && i < v->n; i++)
    texts[i] = v->items[i].text;
  *n = texts ? (int)v->n : 0;
  return texts;
}

void pw_seen_task_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_task *task = element;
  const char *texts[] = {"what", "where", "target"};
  for (int i = 0; i < 3; i++) {
    const struct pw_json *v = pw_json_get(object, texts[i]);
    if (!v || v->type != PW_JSON_TEXT)
      pw_seen_find(r, path, texts[i], v ? "must be a text, not " : "is missing", v ? pw_json_type_words(v->type) : "");
  }
  const struct pw_json *role = pw_json_get(object, "role"), *lot = pw_json_get(object, "lot");
  if (!role || role->type != PW_JSON_TEXT || *role->text != '\0')
    task->role = pw_seen_refer(r, path, object, "role", PW_SEEN_CREW, "crew line for the role");
  if (!lot || lot->type != PW_JSON_NULL)
    task->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
  task->person = refer_if_there(r, path, object, "person", PW_SEEN_PEOPLE, "person");
  task->service = refer_if_there(r, path, object, "service", PW_SEEN_SERVICES, "service");
  task->place = read_place(r, path, object, "place");
  task->to_place = read_place(r, path, object, "to_place");
  task->piece_ids =
      there(object, "piece_ids") ? pw_seen_numbers(r, path, object, "piece_ids", PW_SEEN_NONE, &task->n_ids) : NULL;
  task->items = pw_seen_texts(r, path, object, "items", ITEMS_MAX, &task->n_items);
  task->after_ids = pw_seen_texts(r, path, object, "after", AFTER_MAX, &task->n_after);
}

void pw_seen_warning_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_warning *warning = element;
  warning->task_ids = pw_seen_texts(r, path, object, "tasks", ITEMS_MAX, &warning->n_tasks);
}

void pw_seen_warnings_join(struct pw_plan_reader *r)
{
  static const char *const codes[] = {"hands-short", "nobody-on-shift"};
  r->part = PW_SEEN_WARNINGS;
  for (int i = 0; i < r->plan->n[PW_SEEN_WARNINGS]; i++) {
    const struct pw_seen_warning *warning = &r->plan->warnings[i];
    bool is_of_hands = warning->code && (strcmp(warning->code, codes[0]) == 0 || strcmp(warning->code, codes[1]) == 0);
    for (int k = 0; k < warning->n_tasks; k++) {
      int t = pw_seen_look_up(&r->of[PW_SEEN_TASKS], warning->task_ids[k]);
      const char *path = t == PW_SEEN_NONE ? pw_arena_printf(r->arena, "warnings[%d].tasks[%d]", i, k) : NULL;
      if (t == PW_SEEN_NONE)
        pw_seen_find(r, path ? path : "warnings", "", "there is no task ", warning->task_ids[k]);
      else if (is_of_hands && warning->late_min > r->plan->tasks[t].told_late)
        r->plan->tasks[t].told_late = warning->late_min;
    }
  }
}

void pw_seen_tasks_join(struct pw_plan_reader *r)
{
  r->part = PW_SEEN_TASKS;
  for (int i = 0; i < r->plan->n[PW_SEEN_TASKS] && !r->has_no_memory; i++) {
    struct pw_seen_task *task = &r->plan->tasks[i];
    task->after = pw_seen_array(r, (size_t)task->n_after, sizeof *task->after);
    for (int k = 0; task->after && k < task->n_after; k++) {
      task->after[k] = pw_seen_look_up(&r->of[PW_SEEN_TASKS], task->after_ids[k]);
      if (task->after[k] != PW_SEEN_NONE)
        continue;
      const char *path = pw_arena_printf(r->arena, "tasks[%d].after[%d]", i, k);
      pw_seen_find(r, path ? path : "tasks", "", "there is no task ", task->after_ids[k]);
    }
  }
}
