/* reader.h - what every part of the reader carries along: the context, the currency's decimals, faults with places. */
#ifndef PW_READER_H
#define PW_READER_H

#include "base/units.h"
#include "read/yaml_tree.h"

enum { PW_ID_MAX = 40 }; /**< letters of an id */

struct pw_table;

struct pw_reader {
  struct pw_ctx *ctx;
  int money_digits;            /**< decimals of the event's currency */
  const char *money_sign;      /**< its sign, NULL: not known */
  bool is_blind;               /**< a house file could not be read: what is missing may stand there */
  int far_year;                /**< year of a time far from the event, told once; 0: none */
  bool is_out_of_memory;       /**< sticky */
  const struct pw_table *root; /**< of the file that is read: where a key of another block belongs; NULL: not told */
};

/** Adds an error at a node (or without a place for NULL), once: the same fault at the same place is not repeated. */
void pw_reader_fault(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/** The same as a warning. */
void pw_reader_warn(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/** The same as a note: how something was read. */
void pw_reader_note(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/** True when an error was given at this very node: what hangs on its value need not be checked. */
bool pw_reader_has_fault(const struct pw_reader *r, const struct pw_node *node);

/** Text of a scalar shortened for messages. */
const char *pw_node_shown(struct pw_reader *r, const struct pw_node *node);

/** True for 1..40 letters, digits, "-", "_", a letter or digit first. */
bool pw_id_is_sound(const char *id);

/** The scalar's text when the node is one with something in it; else a fault that names `key` and NULL. */
const char *pw_node_text(struct pw_reader *r, const struct pw_node *node, const char *key);

/** An amount of money that would do but for more decimals than the event's currency has.  No fault is added. */
bool pw_node_has_more_digits(const struct pw_reader *r, const struct pw_node *node);

/** Typed reading of one node, for the kinds that are typed late.  Faults name `key`.  False after a fault. */
bool pw_node_quantity(struct pw_reader *r, const struct pw_node *node, const char *key, enum pw_dim dim, double *si);
bool pw_node_money(struct pw_reader *r, const struct pw_node *node, const char *key, pw_cents *cents);
bool pw_node_rate(struct pw_reader *r, const struct pw_node *node, const char *key, enum pw_dim dim,
                  double *cents_per_si);

/** Zeroed memory that notes when there is none. */
void *pw_reader_array(struct pw_reader *r, int n, size_t size);

/** "did you mean \"x\"?" or the list of what there is, for names in an array of n elements of `size` bytes whose
 *  const char * lies at `offset`. */
const char *pw_reader_suggest(struct pw_reader *r, const char *word, const void *elements, int n, size_t size,
                              size_t offset);
/** "a, b or c" of a list that ends with NULL. */
const char *pw_reader_choices(struct pw_reader *r, const char *const *choices);
/** printf into the arena; "" when memory is out, which is noted. */
const char *pw_reader_printf(struct pw_reader *r, const char *format, ...) __attribute__((format(printf, 2, 3)));

#endif
