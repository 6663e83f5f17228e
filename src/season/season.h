/* season.h - many jobs of one caterer side by side: what each of them asks of pits, boxes, people and suppliers, where two of them meet,
 * what is to be ordered when.  Each job was planned by itself; nothing is planned here.
 * In: plans, one after another, of which only figures and words are kept.  Out: a struct pw_season, the same whatever the order they came in. */
#ifndef PW_SEASON_H
#define PW_SEASON_H

#include "base/ctx.h"
#include "pw/plan.h"

/** How far a job is, by its event's terms. */
enum pw_season_state {
  PW_SEASON_ASKED,   /**< no offer is dated */
  PW_SEASON_OFFERED, /**< terms.quoted, or a price named in an offer */
  PW_SEASON_AGREED,  /**< terms.agreed */
  PW_SEASON_DONE,    /**< its last meal was before the day looked at */
  PW_SEASON__COUNT
};

struct pw_season_job {
  const char *file;            /**< as the folder lists it */
  const char *name, *customer; /**< customer NULL: not given */
  struct pw_date date;
  int last_day; /**< of its last meal, as in pw_date_to_days() */
  int guests;
  pw_cents per_guest_cents, price_cents, total_cents,
      cost_cents; /**< price: before discount and tax; total: what the customer pays */
  double margin_frac;
  enum pw_season_state state;
  struct pw_date valid_until, agreed_on; /**< year 0: none */
  bool is_over;                          /**< offered, and the offer no longer stands on the day looked at */
  bool is_quick;                         /**< planned quickly for this; else out of the pack beside it */
  int missed;                            /**< pieces without a place */
  int n_warnings;
  const struct pw_event *money; /**< its currency, for pw_money_format() alone */
};

enum pw_season_use_kind { PW_SEASON_PIT, PW_SEASON_BOX, PW_SEASON_PERSON, PW_SEASON_ROLE, PW_SEASON_USE__COUNT };

/** Something of the house that a job needs from a time to a time. */
struct pw_season_use {
  enum pw_season_use_kind kind;
  const char *name;         /**< of a pit or box as printed; of a person; of a role */
  int job, hands;           /**< hands: of a role, else 1 */
  int64_t from_min, to_min; /**< since 1970-01-01 00:00 UTC */
  int first_day, last_day;  /**< local days, as in pw_date_to_days() */
  const char *from, *to;    /**< "Sat 12 Jun 02:30" */
  int travel_min;           /**< of its job, one way */
  int there_are;            /**< of a role: people of the pool; 0: not known */
};

enum pw_season_clash_kind {
  PW_SEASON_AT_ONCE,  /**< needed by both at one time; of a role: more than there are */
  PW_SEASON_NO_ROAD,  /**< one after the other, with less time between than the roads of both take */
  PW_SEASON_SAME_DAY, /**< on one day, with time between */
  PW_SEASON_HOW_MANY  /**< a role in two given shift lists at once: how many there are is not known */
};

struct pw_season_clash {
  enum pw_season_clash_kind kind;
  int a, b;             /**< uses, the earlier first */
  int hands, there_are; /**< of a role: asked for at once, and people there are */
  int64_t free_min;     /**< between them; of AT_ONCE 0 */
};

/** What one job orders of one thing. */
struct pw_season_line {
  const char *supplier, *item, *pack, *amount; /**< amount: as printed, of this job; "" */
  int job, packs;                              /**< packs 0: fuel by weight */
  pw_cents cents;
  int order_day, deliver_day;
};

/** Due from a customer. */
struct pw_season_due {
  int job;
  const char *name;
  int day; /**< PW_NONE: on acceptance */
  pw_cents cents;
};

struct pw_season {
  const char *folder;
  int on_day; /**< the day looked at, as in pw_date_to_days(); PW_NONE: none */
  struct pw_season_job *jobs;
  int n_jobs; /**< by date, then file */
  struct pw_season_use *uses;
  int n_uses;
  struct pw_season_clash *clashes;
  int n_clashes; /**< by kind, then time */
  struct pw_season_line *lines;
  int n_lines; /**< of jobs that are not done, by supplier, order day, item, pack, job */
  struct pw_season_due *dues;
  int n_dues; /**< of agreed jobs, by day */
  size_t cap_jobs, cap_uses, cap_clashes, cap_lines, cap_dues;
  const char **broken; /**< files that could not be read or planned */
  int n_broken;
};

enum { PW_SEASON_WEEK_DAYS = 7 };

/** Adds a job out of its plan, which may go away afterwards.  Errors: PW_ERR_MEMORY. */
pw_status pw_season_add(struct pw_season *season, const struct pw_plan *plan, const char *file, bool is_quick,
                        struct pw_ctx *ctx);
/** Once all are there: order, clashes, the week.  Errors: PW_ERR_MEMORY. */
pw_status pw_season_finish(struct pw_season *season, struct pw_ctx *ctx);

/** "asked", "offered", "agreed", "done". */
const char *pw_season_state_word(enum pw_season_state state);
/** Is an order or a payment of that day due in the week looked at, or overdue?  Always true without one. */
bool pw_season_is_due(const struct pw_season *season, int day);

#endif
