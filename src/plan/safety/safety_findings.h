/* safety_findings.h - what the report adds up over the lots before it says it once for all of them [H1]. */
#ifndef PW_SAFETY_FINDINGS_H
#define PW_SAFETY_FINDINGS_H

#include "base/ctx.h"
#include "pw/plan.h"

#include <stddef.h>

#define PW_LOG_SHOWN_MOST 20.0 /* beyond it the number says nothing more */

struct pw_findings {
  const struct pw_plan *plan;
  struct pw_ctx *ctx;
  const char **doubt; /**< per cut */
  struct pw_warning *warnings;
  size_t n_warnings, cap_warnings;
  bool is_out_of_memory;
};

/** Adds a warning to the plan. */
__attribute__((format(printf, 3, 4))) void pw_findings_warn(struct pw_findings *f, const char *code, const char *format,
                                                            ...);
/** "Brisket, Pork shoulder and Ribs" of the cuts marked; NULL when none or out of memory. */
const char *pw_findings_names(const struct pw_event *ev, const bool *marked, struct pw_arena *arena);

/** Whole roasts cooked below the oven temperatures of FDA Food Code 2022 3-401.11(B)(2). */
struct pw_roast_findings {
  struct pw_findings *f;
  bool *is_below;             /**< per cut */
  double needed_c, coolest_c; /**< what the chart asks of all of them; the coolest place any of them has */
  double longest_come_up_min, least_log, most_humidity_frac;
};
/** Errors: PW_ERR_MEMORY. */
pw_status pw_roast_findings_open(struct pw_roast_findings *out, struct pw_findings *f);
void pw_roast_note(struct pw_roast_findings *r, const struct pw_lot *lot, const struct pw_lot_heat *heat);
void pw_roast_say(struct pw_roast_findings *r);

/** Raw meat whose surface meets none of the conditions under which the FSIS tables hold there. */
struct pw_surface_findings {
  struct pw_findings *f;
  bool *is_dry; /**< per cut */
  double most_humidity_frac, least_log;
};
/** Errors: PW_ERR_MEMORY. */
pw_status pw_surface_findings_open(struct pw_surface_findings *out, struct pw_findings *f);
/** Also fills heat->surface. */
void pw_surface_note(struct pw_surface_findings *s, const struct pw_lot *lot, struct pw_lot_heat *heat);
void pw_surface_say(struct pw_surface_findings *s);

#endif
