/* members.h - the fields of the event's entries as data: where each lies, what it is, and when a difference counts.  One list for
 * whoever compares or prints whole entries: pits that may stand in for each other, entries of two jobs, the tests' dump.  A test
 * holds each list against its struct, so a new field without a row is found. */
#ifndef PW_MEMBERS_H
#define PW_MEMBERS_H

#include "pw/event.h"

#include <stddef.h>

enum pw_member_type {
  PW_MT_INT,    /**< int, or an enum */
  PW_MT_FLAGS,  /**< unsigned */
  PW_MT_BOOL,   /**< bool */
  PW_MT_DOUBLE, /**< double */
  PW_MT_CENTS,  /**< pw_cents */
  PW_MT_TEXT,   /**< const char *, may be NULL */
  PW_MT_INDEX,  /**< int: into another list of the event, or PW_NONE */
  PW_MT_WORDS,  /**< const char **, number (int) at count_at */
  PW_MT_BLOCK,  /**< a struct, by `of` */
  PW_MT_LIST    /**< pointer to an array of structs by `of`, number (int) at count_at */
};

/** When a difference counts, as bits.  None: words for a person only, or worked out from the rest. */
enum pw_sense {
  PW_STANDS_IN = 1, /**< two entries of one event that may stand in for each other */
  PW_ONE_THING = 2  /**< entries of two events that are to be one */
};

enum pw_section_of { PW_OF_ITEMS, PW_OF_CUTS, PW_OF_FUELS, PW_OF_PITS, PW_OF_RACKS /**< of the same pit */ };

struct pw_member {
  const char *name;
  enum pw_member_type type;
  size_t at, size, count_at;
  unsigned counts; /**< enum pw_sense as bits */
  const struct pw_members *of;
  enum pw_section_of section; /**< PW_MT_INDEX: into what */
};

struct pw_members {
  const char *what; /**< "pw_pit" */
  const struct pw_member *rows;
  int n;
  size_t size; /**< of the struct */
};

extern const struct pw_members pw_members_item, pw_members_cut, pw_members_dish, pw_members_fuel, pw_members_pit,
    pw_members_finisher, pw_members_class, pw_members_supplier;

/** Every list of members, for tests; ends with NULL. */
extern const struct pw_members *const pw_members_all[];

/** Are all members that count in this sense equal?  Indices are compared as numbers. */
bool pw_members_same(const struct pw_members *of, const void *a, const void *b, enum pw_sense sense);

#endif
