/* table_rows.h - one line for each row of a field table.  NEED_ rows must be given; the others have a standard (as a
 * user would write it) or NULL for none.  `seen` is the bool that remembers whether the key was given. */
#ifndef PW_TABLE_ROWS_H
#define PW_TABLE_ROWS_H

#include "read/schema.h"

#include <stddef.h>

#define PW_TABLE(of_what, struct_name, rows)                                                                           \
  .what = (of_what), .fields = (rows), .n = sizeof(rows) / sizeof *(rows), .size = sizeof(struct struct_name)

#define ROW(name, kind, at, words) .key = (name), .type = PW_FT_##kind, .offset = (at), .help = (words)
#define NEED                       .is_required = true
#define LIMITS(least, most)        .min = (least), .max = (most)

#define TEXT(name, at, standard, words)                                                                                \
  {                                                                                                                    \
    ROW(name, TEXT, at, words), .def = (standard)                                                                      \
  }
#define NEED_TEXT(name, at, words)                                                                                     \
  {                                                                                                                    \
    ROW(name, TEXT, at, words), NEED                                                                                   \
  }
#define NEED_ID(name, at, words)                                                                                       \
  {                                                                                                                    \
    ROW(name, ID, at, words), NEED                                                                                     \
  }
#define SOURCE(at)                                                                                                     \
  {                                                                                                                    \
    ROW("source", TEXT, at, "where these numbers come from"), .is_source = true                                        \
  }
#define BOOL(name, at, standard, words)                                                                                \
  {                                                                                                                    \
    ROW(name, BOOL, at, words), .def = (standard)                                                                      \
  }
#define INT(name, at, standard, least, most, words)                                                                    \
  {                                                                                                                    \
    ROW(name, INT, at, words), .def = (standard), LIMITS(least, most)                                                  \
  }
#define NEED_INT(name, at, least, most, words)                                                                         \
  {                                                                                                                    \
    ROW(name, INT, at, words), NEED, LIMITS(least, most)                                                               \
  }
#define SEEN_INT(name, at, seen, least, most, words)                                                                   \
  {                                                                                                                    \
    ROW(name, INT, at, words), .seen_offset = 1 + (seen), LIMITS(least, most)                                          \
  }
#define CHOICE(name, at, standard, list, words)                                                                        \
  {                                                                                                                    \
    ROW(name, CHOICE, at, words), .def = (standard), .choices = (list)                                                 \
  }
#define NEED_CHOICE(name, at, list, words)                                                                             \
  {                                                                                                                    \
    ROW(name, CHOICE, at, words), NEED, .choices = (list)                                                              \
  }
#define NEED_FLAGS(name, at, list, words)                                                                              \
  {                                                                                                                    \
    ROW(name, FLAGS, at, words), NEED, .choices = (list)                                                               \
  }
#define FLAGS(name, at, list, words)                                                                                   \
  {                                                                                                                    \
    ROW(name, FLAGS, at, words), .choices = (list)                                                                     \
  }
#define QUANTITY(name, of, at, standard, least, most, words)                                                           \
  {                                                                                                                    \
    ROW(name, QUANTITY, at, words), .dim = PW_DIM_##of, .def = (standard), LIMITS(least, most)                         \
  }
#define NEED_QUANTITY(name, of, at, least, most, words)                                                                \
  {                                                                                                                    \
    ROW(name, QUANTITY, at, words), .dim = PW_DIM_##of, NEED, LIMITS(least, most)                                      \
  }
#define SEEN_QUANTITY(name, of, at, seen, least, most, words)                                                          \
  {                                                                                                                    \
    ROW(name, QUANTITY, at, words), .dim = PW_DIM_##of, .seen_offset = 1 + (seen), LIMITS(least, most)                 \
  }
#define MINUTES(name, at, standard, least, most, words)                                                                \
  {                                                                                                                    \
    ROW(name, WHOLE, at, words), .dim = PW_DIM_DURATION, .def = (standard), LIMITS(least, most)                        \
  }
#define NEED_MINUTES(name, at, least, most, words)                                                                     \
  {                                                                                                                    \
    ROW(name, WHOLE, at, words), .dim = PW_DIM_DURATION, NEED, LIMITS(least, most)                                     \
  }
#define DAYS(name, at, standard, least, most, words)                                                                   \
  {                                                                                                                    \
    ROW(name, WHOLE, at, words), .dim = PW_DIM_DURATION, .scale = 1.0 / 1440, .def = (standard), LIMITS(least, most)   \
  }
#define MONEY(name, at, standard, words)                                                                               \
  {                                                                                                                    \
    ROW(name, MONEY, at, words), .def = (standard)                                                                     \
  }
#define SMALL_MONEY(name, at, standard, words)                                                                         \
  {                                                                                                                    \
    ROW(name, CENTS, at, words), .def = (standard)                                                                     \
  }
#define RATE(name, of, times, at, standard, words)                                                                     \
  {                                                                                                                    \
    ROW(name, RATE, at, words), .dim = PW_DIM_##of, .scale = (times), .def = (standard)                                \
  }
#define NEED_RATE(name, of, times, at, words)                                                                          \
  {                                                                                                                    \
    ROW(name, RATE, at, words), .dim = PW_DIM_##of, .scale = (times), NEED                                             \
  }
#define NEED_DATE(name, at, words)                                                                                     \
  {                                                                                                                    \
    ROW(name, DATE, at, words), NEED                                                                                   \
  }
#define SEEN_DATE(name, at, seen, words)                                                                               \
  {                                                                                                                    \
    ROW(name, DATE, at, words), .seen_offset = 1 + (seen)                                                              \
  }
#define WORDS(name, at, count, words)                                                                                  \
  {                                                                                                                    \
    ROW(name, WORDS, at, words), .count_offset = (count)                                                               \
  }
#define REF(name, at, words)                                                                                           \
  {                                                                                                                    \
    ROW(name, REF, at, words)                                                                                          \
  }
#define NEED_REF(name, at, words)                                                                                      \
  {                                                                                                                    \
    ROW(name, REF, at, words), NEED                                                                                    \
  }
/* kept as nodes: TIME, AMOUNT, PRICE, COUNTS, SHARES, ENTRIES, PICKS */
#define NODE(name, kind, at, words)                                                                                    \
  {                                                                                                                    \
    ROW(name, kind, at, words)                                                                                         \
  }
#define NEED_NODE(name, kind, at, words)                                                                               \
  {                                                                                                                    \
    ROW(name, kind, at, words), NEED                                                                                   \
  }
#define SEEN_NODE(name, kind, at, seen, words)                                                                         \
  {                                                                                                                    \
    ROW(name, kind, at, words), .seen_offset = 1 + (seen)                                                              \
  }
#define BLOCK(name, at, of, words)                                                                                     \
  {                                                                                                                    \
    ROW(name, BLOCK, at, words), .table = &(of)                                                                        \
  }
#define NEED_BLOCK(name, at, of, words)                                                                                \
  {                                                                                                                    \
    ROW(name, BLOCK, at, words), NEED, .table = &(of)                                                                  \
  }
#define SEEN_BLOCK(name, at, seen, of, words)                                                                          \
  {                                                                                                                    \
    ROW(name, BLOCK, at, words), .seen_offset = 1 + (seen), .table = &(of)                                             \
  }
#define NEED_SEEN_BLOCK(name, at, seen, of, words)                                                                     \
  {                                                                                                                    \
    ROW(name, BLOCK, at, words), NEED, .seen_offset = 1 + (seen), .table = &(of)                                       \
  }
#define LIST(name, at, count, of, words)                                                                               \
  {                                                                                                                    \
    ROW(name, LIST, at, words), .count_offset = (count), .table = &(of)                                                \
  }
#define NEED_LIST(name, at, count, of, words)                                                                          \
  {                                                                                                                    \
    ROW(name, LIST, at, words), .count_offset = (count), NEED, .table = &(of)                                          \
  }
#define MAP(name, at, count, of, words)                                                                                \
  {                                                                                                                    \
    ROW(name, MAP, at, words), .count_offset = (count), .table = &(of)                                                 \
  }

#endif
