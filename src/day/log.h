/* log.h - what happened, one line each: the grammar as one table, its reader and its printer.
 * A log is append only: "02:30 core B 141 F".  What was wrong is taken back by a later line, "02:41 not core B".  Times may lie before
 * those of the line before.  "#" begins a remark.
 * The same lines may come as a table (log_csv.h). */
#ifndef PW_DAY_LOG_H
#define PW_DAY_LOG_H

#include "base/buf.h"
#include "day/names.h"

enum pw_log_verb {
  PW_LOG_ON,
  PW_LOG_WAITS,
  PW_LOG_WRAPPED,
  PW_LOG_CARRIED,
  PW_LOG_OFF,
  PW_LOG_CORE,
  PW_LOG_FIRE_OUT,
  PW_LOG_LIT,
  PW_LOG_GOT,
  PW_LOG_LOST,
  PW_LOG_ABSENT,
  PW_LOG_GUESTS,
  PW_LOG_WOOD,
  PW_LOG_WEATHER,
  PW_LOG_NOTE,
  PW_LOG__COUNT
};

/** A line of the table: also printed as help, and read by a page's buttons. */
struct pw_log_row {
  const char *word;    /**< "fire-out" */
  const char *form;    /**< "PIT DURATION", what may be left out in brackets */
  const char *example; /**< without the time */
  const char *help;
};
const struct pw_log_row *pw_log_row(enum pw_log_verb verb);

enum { PW_LOG_TEMPS_MAX = 40, PW_LOG_LINES_MAX = 20000, PW_LOG_BYTES_MAX = 1 << 20 };

/** One line that was understood.  Indices are PW_NONE, counts 0 where the line says nothing. */
struct pw_log_line {
  int line; /**< in the file, from 1 */
  int at_min;
  enum pw_log_verb verb;
  bool is_cancelled; /**< by a later line */
  int lot, pit, zone, finisher, role, person, service, item, fuel;
  int count;             /**< pieces, or guests; PW_NONE: as planned */
  bool is_all;           /**< all of the lot that are there */
  int *piece_ids, n_ids; /**< named one by one: "B2" is piece 1 */
  double *temps_c;
  int n_temps;
  int minutes;             /**< of fire-out, absent until: until_min */
  bool is_still;           /**< of fire-out: it does not burn yet */
  int until_min;           /**< PW_NONE: to the end */
  double amount_kg;        /**< of got, lost, wood; NAN */
  double temp_c, wind_m_s; /**< of weather; NAN */
  const char *text;        /**< of a note; the line as written for all others, blanks at its ends taken off */
};

struct pw_log {
  const char *file;
  struct pw_log_line *lines;
  size_t n, cap;
  int now_min; /**< the latest time of a line; INT_MIN when there is none */
};

/** Reads n bytes.  Every fault is a diagnostic with line and column; lines without one are kept.  A clock time without a day is the
 *  one nearest to the line before (the first: the first such time of the job).  PW_ERR_INPUT when there was any fault. */
pw_status pw_log_read(struct pw_log *out, const char *file, const char *text, size_t n, const struct pw_names *names,
                      struct pw_ctx *ctx);

/** A clock time, "02:30", "Sat 02:30" or "2027-06-12 02:30", nearest to near_min.  False: it is none. */
bool pw_log_time(const struct pw_names *names, const char *text, int near_min, int *at_min);

/** The line in the log's own words, such that reading it again gives the same line: "Sat 02:30 core B 141 F". */
void pw_log_line_write(struct pw_buf *out, const struct pw_log_line *line, const struct pw_names *names);

#endif
