/* way_list.h - the single changes that might help a plan that is short, each with the lines that make it. */
#ifndef PW_WAY_LIST_H
#define PW_WAY_LIST_H

#include "base/ctx.h"
#include "pw/plan.h"

struct pw_way {
  struct pw_way_part part;
  const char *what;
  const char *lines; /**< one document, begun by "---" */
  int service;       /**< whose menu or guests it changes, or PW_NONE */
  int copy_of;       /**< one more of the same: the way before it that must be taken too, or PW_NONE */
};

/** In the order in which they are tried.  Errors: PW_ERR_MEMORY. */
pw_status pw_way_list_make(struct pw_way **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx);

/** May both be taken? */
bool pw_ways_agree(const struct pw_way *a, const struct pw_way *b);

#endif
