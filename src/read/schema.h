/* schema.h - field tables as data: what a key is called, what it holds, where it goes, what it may be.
 * The same tables fill the structs, word the faults, and can be walked to print a reference or a JSON Schema. */
#ifndef PW_SCHEMA_H
#define PW_SCHEMA_H

#include "base/units.h"
#include "read/reader.h"
#include "read/yaml_tree.h"

enum pw_field_type {
  PW_FT_TEXT,     /**< const char *: one line of text */
  PW_FT_ID,       /**< const char *: letters, digits, "-" and "_" */
  PW_FT_BOOL,     /**< bool: true false yes no */
  PW_FT_INT,      /**< int: a plain whole number */
  PW_FT_CHOICE,   /**< int (or enum): index into choices */
  PW_FT_FLAGS,    /**< unsigned: list of choices as bits */
  PW_FT_QUANTITY, /**< double: quantity of dim, times scale */
  PW_FT_WHOLE,    /**< int: the same, must come out whole */
  PW_FT_MONEY,    /**< pw_cents: exact money */
  PW_FT_CENTS,    /**< double: money in minor units, up to four more decimals */
  PW_FT_RATE,     /**< double: money per unit of dim, minor units per SI unit, times scale */
  PW_FT_DATE,     /**< struct pw_date */
  PW_FT_WORDS,    /**< const char **: list of texts, number at count_offset */
  PW_FT_REF,      /**< struct pw_ref: id of an entry, "none" for nothing */
  /* kept as a node; typed where the rest is known */
  PW_FT_TIME,    /**< const struct pw_node *: "17:30" or "2027-06-11 20:00" */
  PW_FT_AMOUNT,  /**< const struct pw_node *: weight, volume or count, by the item's unit or the portion */
  PW_FT_PRICE,   /**< const struct pw_node *: money, or money per unit */
  PW_FT_COUNTS,  /**< const struct pw_node *: map of guest classes to whole numbers, or one number */
  PW_FT_SHARES,  /**< const struct pw_node *: map of guest classes to shares */
  PW_FT_ENTRIES, /**< const struct pw_node *: map of catalog entries (table), with "use" in an event */
  PW_FT_PICKS,   /**< const struct pw_node *: list of catalog ids or entries (table) with "use" and "id" */
  /* nested */
  PW_FT_BLOCK, /**< struct at offset, by table */
  PW_FT_LIST,  /**< pointer to an array by table, number at count_offset */
  PW_FT_MAP    /**< the same from a map, in the order of the file; the key goes to the table's id_offset */
};

struct pw_table;

/** One key.  def, min and max are written as a user would write them. */
struct pw_field {
  const char *key;
  enum pw_field_type type;
  enum pw_dim dim;
  bool is_required;
  bool is_own;    /**< only the event itself can say it, never its house file */
  bool is_named;  /**< lists: a name or {use: NAME, without: [], also: []} stands for the one of that name (menus.h) */
  bool is_source; /**< required in catalogs only; in an event "the event file" stands in */
  size_t offset, count_offset;
  size_t seen_offset;          /**< 1 + offset of a bool set when the key is given; 0: none */
  double scale;                /**< 0 stands for 1 */
  const char *def, *min, *max; /**< NULL: zero / no limit */
  const char *const *choices;  /**< ends with NULL */
  const struct pw_table *table;
  const char *help;
};

struct pw_table {
  const char *what; /**< "a cut": for messages */
  const struct pw_field *fields;
  int n;
  size_t size;      /**< of the struct */
  size_t id_offset; /**< of the const char *id (PW_FT_MAP, entries) */
  size_t at_offset; /**< 1 + offset of a const struct pw_node * that keeps the place; 0: none */
  const char
      *bare_key; /**< an item of a list (or the block itself) that is plain text stands for {bare_key: text}; or NULL */
  const char *old_key; /**< what new_key was called before, refused with a word about it; or NULL */
  const char *new_key;
};

/** Name of another entry as written. */
struct pw_ref {
  const char *name; /**< NULL: none */
  const struct pw_node *at;
};

/** Can only the event itself say it, or something in its block that must be said? */
bool pw_field_is_own(const struct pw_field *f);

/** Fills *out (zeroed by the caller) from a map node.  Faults become diagnostics; fields with faults stay zero. */
void pw_schema_read(const struct pw_table *table, const struct pw_node *map, void *out, struct pw_reader *r);

#endif
