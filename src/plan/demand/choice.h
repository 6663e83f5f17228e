/* choice.h - how guests choose: one law per menu line, and how two lines go together [D2]. */
#ifndef PW_CHOICE_H
#define PW_CHOICE_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Laws of the menu lines of a service for one guest of full appetite who may take them all, and
 *  joint[a * n_menu + b] = E(amount of a x amount of b), the second moment on the diagonal.
 *  Without a choice block: take, portion and its spread as the menu says, lines independent.
 *  laws[n_menu], joint[n_menu * n_menu].  class: with the take rates of that class of guests; PW_NONE: of all.  At most PW_CHOICE_KINDS_MAX meats choose jointly; Errors: PW_ERR_INPUT (more
 *  of them; told in ctx), PW_ERR_MEMORY. */
enum { PW_CHOICE_KINDS_MAX = 12 };
pw_status pw_choice_laws(struct pw_law *laws, double *joint, const struct pw_event *ev, int service, int class,
                         struct pw_ctx *ctx);

#endif
