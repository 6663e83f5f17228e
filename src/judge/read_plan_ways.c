/* read_plan_ways.c - what is missing at the table and the ways out of a plan file [J0].
 * In: JSON objects.  Out: struct pw_seen_shortfall, struct pw_seen_remedy. */
#include "judge/plan_fields.h"

enum { PARTS_MAX = 20, LINES_MAX = 5000, MEALS_MAX = 1000 };

const char *const pw_seen_ways[] = {"box",     "oven",    "pit",  "hand",  "day_before",
                                    "sitting", "portion", "tray", "waves", NULL};

/* ---- portions missing at the table -------------------------------------------------------------------------- */

const struct pw_seen_field pw_seen_shortfall_fields[] = {F_TEXT(shortfall, dish, "dish"),
                                                         F_INT(shortfall, wanted, "wanted", 0),
                                                         F_INT(shortfall, portions, "portions", 0), END};

void pw_seen_shortfall_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_shortfall *s = element;
  const struct pw_json *by = pw_json_get(object, "by_class");
  int n = r->plan->n[PW_SEEN_CLASSES];
  s->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
  if (!by || by->type != PW_JSON_OBJECT) {
    pw_seen_find(r, path, "by_class", "must tell the portions of every class", "");
    return;
  }
  s->by_class = pw_seen_array(r, (size_t)(n > 0 ? n : 0) + 1, sizeof *s->by_class);
  for (int c = 0; s->by_class && c < n; c++) {
    const struct pw_json *v = r->plan->classes[c].id ? pw_json_get(by, r->plan->classes[c].id) : NULL;
    if (!v || !pw_seen_is_whole(v) || v->real < 0 || v->real > PIECES_MAX)
      pw_seen_find(r, path, "by_class", "must tell a whole number of portions of the class ",
                   r->plan->classes[c].id ? r->plan->classes[c].id : "");
    else
      s->by_class[s->n_by_class] = (int)v->real;
    s->n_by_class++;
  }
  if (by->n != (size_t)s->n_by_class)
    pw_seen_find(r, path, "by_class", "has other classes than guest_classes", "");
}

/* ---- ways out ------------------------------------------------------------------------------------------------- */

static const struct pw_seen_field part_fields[] = {F_CHOICE(way_part, kind, "kind", pw_seen_ways),
                                                   F_TEXT(way_part, id, "id"),
                                                   {"is_new", PW_SEEN_FLAG, AT(way_part, is_new), 0, 0, false, NULL},
                                                   END};
static const struct pw_seen_list part_list = {
    "parts", PW_SEEN_REMEDIES, sizeof(struct pw_seen_way_part), 0, SIZE_MAX, PARTS_MAX, true, part_fields, NULL, NULL};

static const struct pw_seen_field meal_chance_fields[] = {F_TEXT(meal_chance, service, "service"),
                                                          F_TEXT(meal_chance, name, "name"),
                                                          F_REAL(meal_chance, on_time_frac, "on_time_frac", 0, 1),
                                                          F_REAL(meal_chance, target_frac, "target_frac", 0, 1), END};
static const struct pw_seen_list meal_chance_list = {"chances_after",
                                                     PW_SEEN_REMEDIES,
                                                     sizeof(struct pw_seen_meal_chance),
                                                     0,
                                                     SIZE_MAX,
                                                     MEALS_MAX,
                                                     true,
                                                     meal_chance_fields,
                                                     NULL,
                                                     NULL};

const struct pw_seen_field pw_seen_remedy_fields[] = {
    F_INT(remedy, missed_after, "missed_after", 0),
    O_INT(remedy, missed_portions_after, "missed_portions_after", 0),
    {"cost_cents", PW_SEEN_MONEY, AT(remedy, cost_cents), -CENTS_MAX, CENTS_MAX, true, NULL},
    O_CENTS(remedy, plan_cost_cents, "plan_cost_cents"),
    END};
const struct pw_seen_remedy pw_seen_remedy_blank = {.missed_portions_after = PW_SEEN_NONE,
                                                    .plan_cost_cents = PW_SEEN_NONE,
                                                    .n_parts = PW_SEEN_NONE,
                                                    .n_chances = PW_SEEN_NONE};

void pw_seen_remedy_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_remedy *remedy = element;
  remedy->parts = pw_seen_elements(r, path, object, &part_list, &remedy->n_parts);
  remedy->chances = pw_seen_elements(r, path, object, &meal_chance_list, &remedy->n_chances);
  remedy->lines = pw_seen_texts(r, path, object, "lines", LINES_MAX, &remedy->n_lines);
}
