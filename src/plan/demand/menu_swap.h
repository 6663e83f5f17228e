/* menu_swap.h - an event with another menu at one service: what a choice of the menu, or a dish left out, would make of it. */
#ifndef PW_MENU_SWAP_H
#define PW_MENU_SWAP_H

#include "plan/stages.h"

/** The event with the choice in the place of the line it stands for, or behind the menu.  PW_ERR_MEMORY. */
pw_status pw_menu_with(const struct pw_event **out, const struct pw_event *ev, int service,
                       const struct pw_menu_option *option, struct pw_ctx *ctx);

/** The event without a line of the menu.  PW_ERR_MEMORY. */
pw_status pw_menu_without(const struct pw_event **out, const struct pw_event *ev, int service, int line,
                          struct pw_ctx *ctx);

/** May the line be left out: something is still served, and some meat where there was meat. */
bool pw_menu_may_lack(const struct pw_event *ev, int service, int line);

#endif
