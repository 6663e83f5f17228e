/* read_plan_quote.c - the tables of the lists inside the quote and the solution: payments, ladder, choices, shares, what fires are for.
 * Reads nothing by itself; see read_plan.c. */
#include "judge/plan_fields.h"

#include <math.h>

/* ---- payments and ladder ---------------------------------------------------------------------------------- */

static const struct pw_seen_field due_fields[] = {
    F_CENTS(due, cents, "cents"), {"date", PW_SEEN_TEXT, AT(due, date), 0, 0, true, NULL}, END};
const struct pw_seen_list pw_seen_dues = {
    "dues", PW_SEEN_QUOTE, sizeof(struct pw_seen_due), 0, SIZE_MAX, MANY, true, due_fields, NULL, NULL};

static const struct pw_seen_field rung_fields[] = {F_INT(rung, guests, "guests", 0),
                                                   F_CENTS(rung, total_cents, "total_cents"),
                                                   F_CENTS(rung, per_guest_cents, "per_guest_cents"),
                                                   O_CENTS(rung, cost_cents, "cost_cents"),
                                                   O_CENTS(rung, price_cents, "price_cents"),
                                                   O_INT(rung, missed, "missed", 0),
                                                   END};
static const struct pw_seen_rung rung_blank = {
    .cost_cents = PW_SEEN_NONE, .price_cents = PW_SEEN_NONE, .missed = PW_SEEN_NONE};

/* ---- the solution: what fires are for, what room is worth ------------------------------------------------ */

static const struct pw_seen_field story_use_fields[] = {
    F_INT(story_use, smoked, "smoked", 0), F_INT(story_use, finished, "finished", 0),
    F_MIN(story_use, from_at_min, "from_at_min"), F_MIN(story_use, to_at_min, "to_at_min"), END};

static void story_use_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_story_use *use = element;
  use->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
}

static const struct pw_seen_list story_use_list = {
    "uses", PW_SEEN_SOLUTION, sizeof(struct pw_seen_story_use), 0, SIZE_MAX, FEW, false, story_use_fields,
    NULL,   story_use_more};
static const struct pw_seen_field story_fields[] = {
    F_MIN(story, lit_at_min, "lit_at_min"), F_MIN(story, out_at_min, "out_at_min"),
    O_INT(story, late_pieces, "last_hour_pieces", 0), O_REAL(story, hour_cents, "hour_cents", 0, 1e12), END};
static const struct pw_seen_field burn_price_fields[] = {
    F_REAL(burn_price, fire_cents_per_h, "fire_cents_per_h", -1e12, 1e12),
    F_REAL(burn_price, people_cents_per_h, "people_cents_per_h", 0, 1e12),
    F_REAL(burn_price, light_cents, "light_cents", -1e12, 1e12), END};
const struct pw_seen_list pw_seen_burn_prices = {
    "burns", PW_SEEN_SOLUTION, sizeof(struct pw_seen_burn_price), 0, SIZE_MAX, FEW, false, burn_price_fields, NULL,
    NULL};
static const struct pw_seen_story story_blank = {.hour_cents = NAN, .late_pieces = PW_SEEN_NONE};

static void story_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_story *story = element;
  story->pit = pw_seen_refer(r, path, object, "pit", PW_SEEN_PITS, "pit");
  story->uses = pw_seen_elements(r, path, object, &story_use_list, &story->n_uses);
  story->n_uses = story->n_uses < 0 ? 0 : story->n_uses;
}

const struct pw_seen_list pw_seen_stories = {
    "burns",      PW_SEEN_SOLUTION, sizeof(struct pw_seen_story), 0, SIZE_MAX, FEW, false, story_fields,
    &story_blank, story_more};
static const struct pw_seen_field worth_fields[] = {F_MIN(worth, from_at_min, "from_at_min"),
                                                    F_MIN(worth, to_at_min, "to_at_min"),
                                                    O_INT(worth, racks, "racks", 0),
                                                    O_INT(worth, pits, "pits", 0),
                                                    O_REAL(worth, pieces, "same_fires_pieces", 0, PIECES_MAX),
                                                    END};
const struct pw_seen_list pw_seen_worths = {
    "worths", PW_SEEN_SOLUTION, sizeof(struct pw_seen_worth), 0, SIZE_MAX, FEW, false, worth_fields, NULL, NULL};

/* ---- choices and shares ----------------------------------------------------------------------------------- */

const struct pw_seen_list pw_seen_ladder = {
    "ladder", PW_SEEN_QUOTE, sizeof(struct pw_seen_rung), 0, SIZE_MAX, MANY, false, rung_fields, &rung_blank, NULL};
const struct pw_seen_list pw_seen_tried = {
    "tried", PW_SEEN_QUOTE, sizeof(struct pw_seen_rung), 0, SIZE_MAX, MANY, true, rung_fields, &rung_blank, NULL};

static const struct pw_seen_field option_fields[] = {
    F_TEXT(option, dish, "dish"),
    {"instead_of", PW_SEEN_TEXT, AT(option, instead_of), 0, 0, true, NULL},
    F_CENTS(option, base_cost_cents, "base_cost_cents"),
    F_CENTS(option, base_food_cents, "base_food_cents"),
    F_CENTS(option, base_price_cents, "base_price_cents"),
    F_CENTS(option, cost_cents, "cost_cents"),
    F_CENTS(option, food_cents, "food_cents"),
    F_CENTS(option, price_cents, "price_cents"),
    {"more_per_guest_cents", PW_SEEN_MONEY, AT(option, more_cents), -CENTS_MAX, CENTS_MAX, false, NULL}, /* less, too */
    F_INT(option, missed, "missed_pieces", 0),
    END};

static void option_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_option *option = element;
  option->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

const struct pw_seen_list pw_seen_options = {
    "options", PW_SEEN_QUOTE, sizeof(struct pw_seen_option), 0, SIZE_MAX, FEW, true, option_fields, NULL, option_more};

static const struct pw_seen_field leave_fields[] = {F_TEXT(leave, dish, "dish"),
                                                    F_CENTS(leave, cost_cents, "cost_cents"),
                                                    F_CENTS(leave, food_cents, "food_cents"),
                                                    F_CENTS(leave, price_cents, "price_cents"),
                                                    F_REAL(leave, margin_frac, "margin_frac", -1e6, 1),
                                                    END};

static void leave_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_leave *leave = element;
  leave->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

const struct pw_seen_list pw_seen_leaves = {
    "leave_out", PW_SEEN_QUOTE, sizeof(struct pw_seen_leave), 0, SIZE_MAX, FEW, true, leave_fields, NULL, leave_more};

static const struct pw_seen_field level_fields[] = {F_REAL(level, margin_frac, "margin_frac", 0, 100),
                                                    F_REAL(level, chance_frac, "chance_frac", 0, 1),
                                                    F_REAL(level, late_meals_frac, "late_meals_frac", 0, 1e6),
                                                    F_CENTS(level, cost_cents, "cost_cents"),
                                                    F_CENTS(level, late_meal_cents, "late_meal_cents"),
                                                    {"is_plan", PW_SEEN_FLAG, AT(level, is_plan), 0, 0, false, NULL},
                                                    END};
const struct pw_seen_list pw_seen_levels = {
    "on_time_levels", PW_SEEN_QUOTE, sizeof(struct pw_seen_level), 0, SIZE_MAX, FEW, true, level_fields, NULL, NULL};

static const struct pw_seen_field role_fields[] = {F_TEXT(role, role, "role"), F_REAL(role, paid_h, "paid_h", 0, 1e6),
                                                   F_REAL(role, task_h, "task_h", 0, 1e6),
                                                   F_CENTS(role, cents, "cents"), END};
const struct pw_seen_list pw_seen_roles = {
    "roles", PW_SEEN_QUOTE, sizeof(struct pw_seen_role), 0, SIZE_MAX, CREW_MAX, true, role_fields, NULL, NULL};

static const struct pw_seen_field share_fields[] = {F_INT(share, guests, "guests", 0),
                                                    F_CENTS(share, food_cents, "food_cents"),
                                                    F_CENTS(share, other_cents, "other_cents"), END};

static void share_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_share *share = element;
  share->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

const struct pw_seen_list pw_seen_shares = {
    "services", PW_SEEN_QUOTE, sizeof(struct pw_seen_share), 0, SIZE_MAX, FEW, true, share_fields, NULL, share_more};

static const struct pw_seen_field dish_fields[] = {F_TEXT(dish, dish, "dish"),
                                                   F_CENTS(dish, food_cents, "food_cents"),
                                                   F_REAL(dish, portions, "portions", 0, 1e9),
                                                   F_REAL(dish, portion_cents, "portion_cents", 0, 1e12),
                                                   O_REAL(dish, short_cents, "short_cents", 0, 1e15),
                                                   END};
static const struct pw_seen_dish dish_blank = {.short_cents = NAN};

static void dish_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_dish *dish = element;
  dish->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

const struct pw_seen_list pw_seen_dishes = {
    "dishes", PW_SEEN_QUOTE, sizeof(struct pw_seen_dish), 0, SIZE_MAX, MANY, true, dish_fields, &dish_blank, dish_more};
