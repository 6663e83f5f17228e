/* names.h - what a log may name: lots by letter, id or the cut's words, pits, zones, ovens, people, services, goods.
 * Nothing else of a plan is known to the reader of the log. */
#ifndef PW_DAY_NAMES_H
#define PW_DAY_NAMES_H

#include "base/ctx.h"
#include "pw/plan.h"

enum pw_name_kind {
  PW_NAME_LOT,
  PW_NAME_PIT,
  PW_NAME_ZONE, /**< of lots.zones */
  PW_NAME_FINISHER,
  PW_NAME_ROLE,   /**< the first crew line that carries it */
  PW_NAME_PERSON, /**< of tasks.people: the first shift of theirs */
  PW_NAME_SERVICE,
  PW_NAME_ITEM,
  PW_NAME_FUEL,
  PW_NAME__COUNT
};
/** A set of kinds: 1u << kind. */
typedef unsigned pw_name_kinds;

/** One way to say something. */
struct pw_name {
  enum pw_name_kind kind;
  int index;
  const char *words; /**< lower case, blanks between words: "pork shoulder bone in boston butt" */
  const char *shown; /**< as the sheets write it: "B, Pork shoulder" */
  bool is_whole;     /**< a letter or an id: only all of it will do */
};

struct pw_names {
  const struct pw_event *ev;
  const struct pw_lots *lots;
  struct pw_name *names;
  size_t n_names, cap_names;
  int first_at_min,
      last_at_min;  /**< times of a log lie between these: first fire or load less a shift, last service's end */
  int begin_at_min; /**< a clock time without a day is looked for from here on, at the first line */
};

/** All names of a plan.  Errors: PW_ERR_MEMORY. */
pw_status pw_names_make(struct pw_names *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** "A".."Z", "AA" and on: the letter of a lot on every sheet; NULL when memory is out. */
const char *pw_lot_letter(int lot, struct pw_arena *arena);

/** What n bytes of words may mean, of these kinds: exact names first, else names that hold every word (a word may be cut short
 *  after four letters, "should" for "shoulder", or end in a plural s).  Fills at most `most` of out[] with distinct (kind, index)
 *  and returns how many there are. */
int pw_names_find(const struct pw_names *names, const char *words, size_t n, pw_name_kinds kinds,
                  const struct pw_name **out, int most);

/** The name most like the words, as shown; NULL when none is near. */
const char *pw_names_nearest(const struct pw_names *names, const char *words, size_t n, pw_name_kinds kinds);

#endif
