/* read_plan_shifts.c - of a plan file: the crew pool and its rules, what shifts worked out are there for, what one hand more would
 * buy, given shifts against proposed; who is away.  In: the file's root.  Out: pool, rules, reasons, more, away, proposal of struct
 * pw_seen_plan. */
#include "judge/plan_fields.h"

enum { SHIFTS_MAX = 20000 };

/* ---- whom one could call, and by which rules ---------------------------------------------------------------- */

static const struct pw_seen_field pool_fields[] = {F_TEXT(pool, role, "role"),
                                                   {"name", PW_SEEN_TEXT, AT(pool, name), 0, 0, true, NULL},
                                                   F_INT(pool, up_to, "up_to", 1),
                                                   F_INT(pool, least_min, "least_min", 0),
                                                   F_INT(pool, most_min, "most_min", 0),
                                                   F_INT(pool, overtime_after_min, "overtime_after_min", 0),
                                                   F_REAL(pool, overtime_frac, "overtime_times", 1, 100),
                                                   F_REAL(pool, cents_per_h, "cents_per_h", 0, 1e12),
                                                   F_REAL(pool, guests_per_hand, "guests_each", 0, 1e6),
                                                   F_CENTS(pool, travel_cents, "travel_cents"),
                                                   O_MIN(pool, from_min, "from_min"),
                                                   O_MIN(pool, to_min, "to_min"),
                                                   END};
static const struct pw_seen_pool pool_blank = {.from_min = PW_SEEN_NO_TIME, .to_min = PW_SEEN_NO_TIME};
const struct pw_seen_list pw_seen_pool = {
    "crew_pool", PW_SEEN_CREW, sizeof(struct pw_seen_pool), 0, SIZE_MAX, CREW_MAX, true, pool_fields,
    &pool_blank, NULL};

const struct pw_seen_field pw_seen_rules_fields[] = {
    F_INT(rules, longest_min, "longest_min", 0),
    F_INT(rules, break_after_min, "break_after_min", 0),
    F_INT(rules, break_min, "break_min", 0),
    {"break_paid", PW_SEEN_FLAG, AT(rules, is_break_paid), 0, 0, false, NULL},
    F_INT(rules, rest_min, "rest_min", 0),
    O_INT(rules, night_shortest_min, "night_shortest_min", 0),
    F_INT(rules, night_longest_min, "night_longest_min", 0),
    F_INT(rules, night_hands, "night_hands", 1),
    F_INT(rules, week_overtime_after_min, "week_overtime_after_min", 0),
    F_REAL(rules, week_overtime_frac, "week_overtime_frac", 1, 100),
    F_INT(rules, awake_longest_min, "awake_longest_min", 0),
    END};

/* ---- why they come ------------------------------------------------------------------------------------------ */

static const struct pw_seen_field reason_fields[] = {
    F_INT(reason, fire_min, "fire_min", 0),
    O_MIN(reason, fire_from_min, "fire_from_min"),
    O_MIN(reason, fire_to_min, "fire_to_min"),
    {"is_finish", PW_SEEN_FLAG, AT(reason, is_finish), 0, 0, true, NULL},
    F_INT(reason, guests_min, "guests_min", 0),
    F_INT(reason, tasks, "tasks", 0),
    F_INT(reason, late_min, "late_min", 0),
    F_REAL(reason, tight_min, "tight_min", 0, 1e9),
    END};
static const struct pw_seen_reason reason_blank = {
    .person = PW_SEEN_NONE, .pit = PW_SEEN_NONE, .service = PW_SEEN_NONE, .is_finish = PW_SEEN_NONE};

static void reason_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_reason *reason = element;
  reason->person = pw_seen_refer(r, path, object, "person", PW_SEEN_PEOPLE, "person");
  if (pw_json_get(object, "pit"))
    reason->pit = pw_seen_refer(r, path, object, "pit", PW_SEEN_PITS, "pit");
  if (pw_json_get(object, "service"))
    reason->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

static const struct pw_seen_list reason_list = {
    "reasons",     PW_SEEN_CREW, sizeof(struct pw_seen_reason), 0, SIZE_MAX, SHIFTS_MAX, true, reason_fields,
    &reason_blank, reason_more};

static const struct pw_seen_field more_fields[] = {
    F_INT(more, pool, "pool", 0),
    F_MIN(more, from_min, "from_min"),
    F_MIN(more, to_min, "to_min"),
    F_CENTS(more, cents, "cents"),
    {"tasks", PW_SEEN_COUNT, AT(more, tasks), -1e6, 1e6, false, NULL},
    {"late_min", PW_SEEN_COUNT, AT(more, late_min), -1e6, 1e6, false, NULL},
    F_REAL(more, tight_min, "tight_min", -1e9, 1e9),
    END};
static const struct pw_seen_list more_list = {
    "more", PW_SEEN_CREW, sizeof(struct pw_seen_more), 0, SIZE_MAX, SHIFTS_MAX, true, more_fields, NULL, NULL};

static const struct pw_seen_field proposed_fields[] = {F_MIN(proposed, from_min, "from_min"),
                                                       F_MIN(proposed, to_min, "to_min"),
                                                       F_INT(proposed, unpaid_min, "unpaid_min", 0),
                                                       F_REAL(proposed, cents_per_h, "cents_per_h", 0, 1e12),
                                                       F_REAL(proposed, extra_cents, "extra_cents", 0, 1e12),
                                                       END};

static void proposed_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_proposed *shift = element;
  shift->role = pw_seen_refer(r, path, object, "role", PW_SEEN_CREW, "crew line for the role");
}

static const struct pw_seen_list proposed_list = {
    "shifts", PW_SEEN_CREW, sizeof(struct pw_seen_proposed), 0, SIZE_MAX, SHIFTS_MAX, false, proposed_fields,
    NULL,     proposed_more};
static const struct pw_seen_field proposal_fields[] = {F_CENTS(proposal, given_cents, "given_cents"),
                                                       F_CENTS(proposal, pay_cents, "pay_cents"),
                                                       F_REAL(proposal, given_h, "given_h", 0, 1e9),
                                                       F_REAL(proposal, paid_h, "paid_h", 0, 1e9),
                                                       F_REAL(proposal, given_task_h, "given_task_h", 0, 1e9),
                                                       F_REAL(proposal, task_h, "task_h", 0, 1e9),
                                                       F_INT(proposal, given_lacking, "given_lacking", 0),
                                                       F_INT(proposal, lacking, "lacking", 0),
                                                       END};

static const struct pw_seen_field away_fields[] = {
    F_MIN(away, from_min, "from_min"), {"to_min", PW_SEEN_COUNT, AT(away, to_min), -1e9, 1e9, false, NULL}, END};

static void away_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_away *away = element;
  away->person = pw_seen_refer(r, path, object, "person", PW_SEEN_PEOPLE, "person");
}

static const struct pw_seen_list away_list = {
    "away", PW_SEEN_CREW, sizeof(struct pw_seen_away), 0, SIZE_MAX, SHIFTS_MAX, false, away_fields, NULL, away_more};

void pw_seen_read_reasons(struct pw_plan_reader *r, const struct pw_json *root)
{
  const struct pw_json *staffing = pw_json_get(root, "staffing"), *proposal = pw_json_get(root, "proposal");
  struct pw_seen_plan *plan = r->plan;
  plan->n_reasons = plan->n_more = plan->n_away = PW_SEEN_NONE;
  r->part = PW_SEEN_CREW;
  if (pw_json_get(root, "away"))
    plan->away = pw_seen_elements(r, "", root, &away_list, &plan->n_away);
  if (plan->n_pool >= 0 && staffing && staffing->type == PW_JSON_OBJECT) {
    plan->reasons = pw_seen_elements(r, "staffing", staffing, &reason_list, &plan->n_reasons);
    plan->more = pw_seen_elements(r, "staffing", staffing, &more_list, &plan->n_more);
  }
  if (proposal && proposal->type != PW_JSON_OBJECT) {
    pw_seen_find(r, "", "proposal", "must be an object, not ", pw_json_type_words(proposal->type));
  } else if (proposal) {
    pw_seen_fields(r, "proposal", proposal, proposal_fields, &plan->proposal);
    plan->proposal.shifts = pw_seen_elements(r, "proposal", proposal, &proposed_list, &plan->proposal.n_shifts);
    plan->has_proposal = plan->proposal.n_shifts >= 0;
  }
}
