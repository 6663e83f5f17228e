/* drips.h - what drips on what [H2]: raw animal food drips on what lies below until its core is safe.
 * FDA Food Code 2022 3-302.11(A): raw animal foods apart from each other and from ready-to-eat food, by how they are arranged. */
#ifndef PW_DRIPS_H
#define PW_DRIPS_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Space kept beside the outline of what drips: common practice, no source. */
#define PW_DRIP_MARGIN_M 0.03

/** Raw animal food, not cooked before: it drips while it is open and its core is not safe. */
bool pw_drips_raw(const struct pw_cut *cut);
/** Core at which what drips from it is dead: FDA Food Code 2022 3-401.11(A). */
double pw_drips_kill_c(const struct pw_cut *cut);
/** Core with which a cut comes off. */
double pw_drips_end_c(const struct pw_cut *cut);
/** Whether rack `upper` of a pit stands above rack `lower` with no tray between. */
bool pw_drips_above(const struct pw_pit *pit, int upper, int lower);

/** A stretch in which a lot lies open on a rack: from start_min; its drips stop being harmful at safe_min, it is open until open_min and
 *  cooked until done_min. */
struct pw_drip_span {
  const struct pw_cut *cut;
  int lot, start_min, safe_min, open_min, done_min;
};
/** Whether what lies below is spoilt by what lies above it: it does not pass the upper one's kill step after the last drip.  One batch of
 *  one lot, on and off together, passes it together. */
bool pw_drips_spoil(const struct pw_drip_span *upper, const struct pw_drip_span *lower);

/** What stands above what where it is cold, from the top: ready to eat, fish, whole meat, ground and injected, poultry.
 *  FDA Food Code 2022 3-302.11(A); the order is that of extension and training pages. */
enum pw_drips_class { PW_DRIPS_READY, PW_DRIPS_FISH, PW_DRIPS_WHOLE, PW_DRIPS_GROUND, PW_DRIPS_POULTRY };
enum pw_drips_class pw_drips_class(const struct pw_cut *cut);
/** Fish and nuts: prepared last, on boards and with tongs of their own.  FDA Food Code 2022 3-302.11; the order: common practice, no
 *  source. */
bool pw_drips_kept_last(const struct pw_dish *dish);
/** A cut that a service has in such a dish. */
bool pw_drips_cut_kept_last(const struct pw_event *ev, int service, int cut);

/** Fills lots[].safe_min: minutes of smoke until the core is safe, per zone and setting.  Errors: PW_ERR_MEMORY. */
pw_status pw_drips_make(struct pw_lots *lots, const struct pw_event *ev, struct pw_ctx *ctx);

#endif
