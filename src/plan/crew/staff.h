/* staff.h - from tasks that must be done to shifts of the pool [S2]: what is needed (staff_need.c), which shifts could be worked
 * and what they cost (staff_pay.c), the rounds (staff.c). */
#ifndef PW_STAFF_H
#define PW_STAFF_H

#include "plan/crew/task_list.h"
#include "plan/shifts/cover.h"

enum { PW_STAFF_SLOT_MIN = 30 };

/** A shift of the pool before it is a crew line. */
struct pw_staff_shift {
  int pool, person; /**< person: number within the line, from 0 */
  int from_min, to_min, break_from_min, break_to_min;
};

/** Shifts of a round or a trial. */
struct pw_staff_roster {
  struct pw_staff_shift *shifts;
  int n;
  double cents;     /**< pay, the week's overtime with it */
  int n_lacking;    /**< tasks that nobody does or that begin late */
  long lacking_min; /**< how late they are, and an hour for each that nobody does */
  double tight_min; /**< work beyond the share of each hour that is not to stay calm */
};

/** Who must be there and is not. */
struct pw_staff_absence {
  int fire, guests;               /**< hands times slots */
  int fire_at_min, guests_at_min; /**< the first */
};

/** What a shift is paid. */
struct pw_staff_pay {
  int unpaid_min;
  double extra_cents; /**< besides (to - from - unpaid) at the rate */
  double cents;       /**< all of it */
};

/** Pay of one shift: hours paid up to the least, overtime of the shift, travel; not the overtime of the week. */
struct pw_staff_pay pw_staff_pay(const struct pw_pool *pool, const struct pw_work_rules *rules, int minutes,
                                 int break_min);
/** Longest shift that the pool line and the rules allow. */
int pw_staff_longest(const struct pw_pool *pool, const struct pw_work_rules *rules);
/** The break that a shift of so many minutes asks for; 0: none. */
int pw_staff_break(const struct pw_work_rules *rules, int minutes);

/** Everything the rounds share. */
struct pw_staff {
  struct pw_task_list list; /**< drafts with their windows, of the open event */
  const struct pw_plan *plan;
  const struct pw_event *asked;
  struct pw_ctx *ctx;
  int from_min; /**< of slot 0 */
  struct pw_cover_group *groups;
  uint32_t duties[PW_COVER_GROUPS_MAX]; /**< per group */
  struct pw_cover_shift *shifts;
  size_t n_shifts, cap_shifts;
  struct pw_cover_work *works;
  size_t n_works, cap_works;
  struct pw_cover_work *level; /**< the works, each in single slots (staff_level.c) */
  size_t n_level, cap_level;
  struct pw_cover_presence *presences;
  size_t n_presences, cap_presences;
  struct pw_cover_presence *guests; /**< who looks after the guests, slot by slot */
  size_t n_guests, cap_guests;
  int n_groups, n_slots;
  double *tight; /**< per slot, filled by pw_staff_try(): work of the hour beyond the calm share; NULL: not asked */
  double *lack;  /**< per slot: minutes of tasks that found no hands in time; NULL */
};

/** Groups: the lines of the pool, then those of the given crew by duties.  Works and presences from the drafts, fires, services. */
pw_status pw_staff_needs(struct pw_staff *s);
/** Guests one of the pool looks after, the fewest; 0: by the style of the service. */
double pw_staff_guests_each(const struct pw_event *ev);
/** One more hand with the duty between two instants: what the tasks found lacking. */
pw_status pw_staff_lack(struct pw_staff *s, unsigned duties, int from_min, int to_min);
/** Gives all works their slots, so that few people at a time do them, in few stretches and by day where it can be: s->level. */
pw_status pw_staff_level(struct pw_staff *s);
/** When people who need not be there are in bed (staff_level.c). */
bool pw_staff_is_bed_time(const struct pw_staff *s, int slot);
/** A shift that works an hour or more of the night is no shorter than the rules ask; nobody comes and goes by night. */
bool pw_staff_is_long_enough(const struct pw_staff *s, int from_min, int to_min);
/** Who must be there and is not with these shifts and the given crew (staff_trim.c). */
struct pw_staff_absence pw_staff_absent(const struct pw_staff *s, const struct pw_staff_roster *r);
/** Pay of all shifts into r->cents (staff.c). */
void pw_staff_price(const struct pw_staff *s, struct pw_staff_roster *r);
/** Places the tasks on these shifts and counts what is lacking; `ask`: the lack becomes work of the program (staff.c). */
pw_status pw_staff_try(struct pw_staff *s, struct pw_staff_roster *r, bool ask);
/** Longer or further shifts over what still waits for hands, as long as they help (staff_trim.c). */
pw_status pw_staff_add(struct pw_staff *s, struct pw_staff_roster *r);
/** A night shift longer than the rules allow. */
bool pw_staff_is_long_night(const struct pw_staff *s, int from_min, int to_min);
/** Leaves out and shortens shifts as long as every task keeps its hands and everybody who must be there is (staff_trim.c). */
pw_status pw_staff_trim(struct pw_staff *s, struct pw_staff_roster *r);
/** Orders, deliveries, thawing: the office's, nobody is called for them. */
bool pw_staff_is_office(const struct pw_task *t);
/** Everything of plan->staffing from the plan's drafts, for the event that asks; plan->event becomes the staffed one.
 *  is_quick: fewer rounds; is_trimmed: shifts are tried shorter.  Errors: PW_ERR_SOLVER. */
pw_status pw_staff_work(struct pw_plan *plan, bool is_quick, bool is_trimmed, struct pw_ctx *ctx);
/** What each shift is there for, and what one hand more would buy: told->reasons, told->more (staff_why.c). */
pw_status pw_staff_why(struct pw_staffing *told, struct pw_staff *s, const struct pw_staff_roster *r);
/** Every shift that could be worked for the level works; is_coarse: breaks in the middle, lengths by the hour. */
pw_status pw_staff_columns(struct pw_staff *s, bool is_coarse);
/** Groups whose duties meet these. */
uint32_t pw_staff_groups(const struct pw_staff *s, unsigned duties);

#endif
