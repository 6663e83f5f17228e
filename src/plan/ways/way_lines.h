/* way_lines.h - lines of an event file written by the program: times, shifts, services, quoted words. */
#ifndef PW_WAY_LINES_H
#define PW_WAY_LINES_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/event.h"

/** A document of changes that grows. */
struct pw_way_lines {
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  struct pw_buf buf;
};

/** Begins with "---". */
struct pw_way_lines pw_way_lines_open(const struct pw_event *ev, struct pw_ctx *ctx);
void pw_way_lines_add(struct pw_way_lines *lines, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** One line of the list "crew:". */
void pw_way_lines_crew(struct pw_way_lines *lines, const struct pw_crew *crew);
/** A further entry of the list "services:": what `half` of a service's guests are left with when the others, the larger half, eat
 *  at its own time; its menu is written out. */
void pw_way_lines_service(struct pw_way_lines *lines, const struct pw_service *service, const char *id, int at_min);
/** The text; NULL when memory ran out. */
const char *pw_way_lines_text(struct pw_way_lines *lines);

/** Words in double quotes, what means something to YAML escaped; "" when memory runs out, which shows in the text. */
const char *pw_way_quoted(struct pw_way_lines *lines, const char *words);
/** "Sat 12 Jun 16:00 to 22:00", for a person. */
const char *pw_way_shift(struct pw_way_lines *lines, const struct pw_crew *crew);
/** "Sat 19:30", for a person. */
const char *pw_way_clock(struct pw_way_lines *lines, int at_min);

#endif
