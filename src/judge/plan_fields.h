/* plan_fields.h - how read_plan.c reads objects and lists by tables of fields: types, ranges, names, references.
 * In: parsed JSON.  Out: struct members, or findings [J0] that name the path. */
#ifndef PW_PLAN_FIELDS_H
#define PW_PLAN_FIELDS_H

#include "base/json.h"
#include "judge/read_plan.h"

#include <stddef.h>

/** Names of a list, sorted. */
struct pw_seen_ids {
  struct pw_seen_id {
    const char *text;
    int index;
  } * items;
  size_t n;
};

struct pw_plan_reader {
  struct pw_judge *judge;
  struct pw_arena *arena;
  struct pw_seen_plan *plan;
  enum pw_seen_part part;                /**< being read: gets the blame */
  struct pw_seen_ids of[PW_SEEN__COUNT]; /**< names of the lists read so far; the zones' with the finishers' */
  bool has_no_memory;                    /**< sticky */
};

enum pw_seen_kind {
  PW_SEEN_TEXT,
  PW_SEEN_COUNT,
  PW_SEEN_MONEY,
  PW_SEEN_REAL,
  PW_SEEN_PAIR,
  PW_SEEN_FLAG,
  PW_SEEN_CHOICE
};

/** One key.  TEXT stores const char *, COUNT, FLAG and CHOICE int, MONEY int64_t, REAL double, PAIR double[2]. */
struct pw_seen_field {
  const char *key; /**< NULL ends a table */
  enum pw_seen_kind kind;
  size_t at;
  double least, most;
  bool is_optional;           /**< missing or null leaves what is there */
  const char *const *choices; /**< CHOICE: the index is stored */
};

/** What a list is made of. */
struct pw_seen_list {
  const char *key;
  enum pw_seen_part part;
  size_t size, to; /**< of an element; where struct pw_seen_plan keeps the list */
  size_t id_at;    /**< the name that must be unique, SIZE_MAX if none */
  size_t most;     /**< elements; more is no plan */
  bool is_optional;
  const struct pw_seen_field *fields;
  const void *blank; /**< an element before its fields are read; NULL: zeros */
  /** what a table cannot say; may be NULL */
  void (*more)(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
};

/* more is no plan; also keeps the judge's work bounded */
enum { MANY = 100000, FEW = 5000, CREW_MAX = 500 };

/* rows of a table of fields: F_ must be there, O_ may be missing or null */
#define PIECES_MAX       1e6 /* more of anything is no plan */
#define MINUTES_MAX      1e6 /* two years */
#define CENTS_MAX        1e15
#define AT(type, member) offsetof(struct pw_seen_##type, member)
/* clang-format off */
#define END                            {NULL, PW_SEEN_TEXT, 0, 0, 0, false, NULL}
#define F_TEXT(t, m, key)              {key, PW_SEEN_TEXT, AT(t, m), 0, 0, false, NULL}
#define F_INT(t, m, key, least)        {key, PW_SEEN_COUNT, AT(t, m), least, PIECES_MAX, false, NULL}
#define F_MIN(t, m, key)               {key, PW_SEEN_COUNT, AT(t, m), -MINUTES_MAX, MINUTES_MAX, false, NULL}
#define F_REAL(t, m, key, least, most) {key, PW_SEEN_REAL, AT(t, m), least, most, false, NULL}
#define F_PAIR(t, m, key, least, most) {key, PW_SEEN_PAIR, AT(t, m), least, most, false, NULL}
#define F_CENTS(t, m, key)             {key, PW_SEEN_MONEY, AT(t, m), 0, CENTS_MAX, false, NULL}
#define F_CHOICE(t, m, key, list)      {key, PW_SEEN_CHOICE, AT(t, m), 0, 0, false, list}
#define O_INT(t, m, key, least)        {key, PW_SEEN_COUNT, AT(t, m), least, PIECES_MAX, true, NULL}
#define O_MIN(t, m, key)               {key, PW_SEEN_COUNT, AT(t, m), -MINUTES_MAX, MINUTES_MAX, true, NULL}
#define O_REAL(t, m, key, least, most) {key, PW_SEEN_REAL, AT(t, m), least, most, true, NULL}
#define O_PAIR(t, m, key, least, most) {key, PW_SEEN_PAIR, AT(t, m), least, most, true, NULL}
#define O_CENTS(t, m, key)             {key, PW_SEEN_MONEY, AT(t, m), 0, CENTS_MAX, true, NULL}
/* clang-format on */

/** The lists of a plan in the order in which they refer to each other; those inside the quote and the solution are in read_plan_quote.c. */
extern const struct pw_seen_list pw_seen_stories, pw_seen_worths, pw_seen_burn_prices;
extern const struct pw_seen_list pw_seen_lists[], pw_seen_dues, pw_seen_ladder, pw_seen_tried, pw_seen_levels,
    pw_seen_options, pw_seen_leaves, pw_seen_roles, pw_seen_shares, pw_seen_dishes;
extern const size_t pw_seen_n_lists;
/* the crew pool: read_plan_shifts.c */
extern const struct pw_seen_list pw_seen_pool;
extern const struct pw_seen_field pw_seen_rules_fields[];
/** What shifts are there for, hands more, given shifts against proposed: read_plan_shifts.c. */
void pw_seen_read_reasons(struct pw_plan_reader *r, const struct pw_json *root);
/* people and tasks: read_plan_tasks.c */
extern const struct pw_seen_person pw_seen_person_blank;
extern const struct pw_seen_field pw_seen_person_fields[], pw_seen_task_fields[];
extern const struct pw_seen_task pw_seen_task_blank;
void pw_seen_person_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
void pw_seen_task_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
/* what is missing at the table and ways out: read_plan_ways.c */
extern const struct pw_seen_field pw_seen_shortfall_fields[], pw_seen_remedy_fields[];
extern const struct pw_seen_remedy pw_seen_remedy_blank;
void pw_seen_shortfall_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
void pw_seen_remedy_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
void pw_seen_warning_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element);
/** Notes with each task what a warning says of its time, once all lists are read. */
void pw_seen_warnings_join(struct pw_plan_reader *r);
/** Turns the names of the tasks that a task comes after into indices, once all tasks are read. */
void pw_seen_tasks_join(struct pw_plan_reader *r);
/** A plan without "pits" still names them at its racks. */
struct pw_seen_pit *pw_seen_pits_of_racks(struct pw_plan_reader *r, const struct pw_json *root, int *n);

/** A finding [J0] at path.key: words and detail; blames r->part. */
void pw_seen_find(struct pw_plan_reader *r, const char *path, const char *key, const char *words, const char *detail);
/** Array in the arena; NULL sets has_no_memory. */
void *pw_seen_array(struct pw_plan_reader *r, size_t n, size_t size);
/** A number without a fraction. */
bool pw_seen_is_whole(const struct pw_json *v);
void pw_seen_fields(struct pw_plan_reader *r, const char *path, const struct pw_json *object,
                    const struct pw_seen_field *fields, void *base);
/** Reads object[list->key]; returns the elements, their number in *n (PW_SEEN_NONE: the key is missing). */
void *pw_seen_elements(struct pw_plan_reader *r, const char *path, const struct pw_json *object,
                       const struct pw_seen_list *list, int *n);
/** Adds the names of n elements, numbered from `base`, to `to`; finds those that are there twice unless allowed. */
void pw_seen_names(struct pw_plan_reader *r, const struct pw_seen_list *list, enum pw_seen_part to, const void *items,
                   size_t n, int base, bool may_repeat);
/** The list of piece numbers object[key], as many as `wanted` (PW_SEEN_NONE: any number); *n is PW_SEEN_NONE and there is a
 *  finding when it is no such list. */
int *pw_seen_numbers(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                     int wanted, int *n);
/** The list of texts object[key], none of them empty; no texts when the key is missing. */
const char **pw_seen_texts(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                           size_t most, int *n);
/** Index of the name, PW_SEEN_NONE when it is not there. */
int pw_seen_look_up(const struct pw_seen_ids *ids, const char *text);
/** Index of the element that object[key] names; a finding and PW_SEEN_NONE when there is none. */
int pw_seen_refer(struct pw_plan_reader *r, const char *path, const struct pw_json *object, const char *key,
                  enum pw_seen_part to, const char *what);

#endif
