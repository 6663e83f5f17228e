/* cautions.h - what must not go wrong [H], in plain words for every sheet. */
#ifndef PW_CAUTIONS_H
#define PW_CAUTIONS_H

#include "base/ctx.h"
#include "pw/plan.h"

struct pw_caution {
  const char *head;   /**< "Carbon monoxide" */
  const char *text;   /**< one or a few sentences, numbers in the event's units */
  const char *source; /**< where the figures in it come from */
};

/** Cautions for this plan, the gravest first.  They defer to local codes and to the local fire and health authority;
 *  the last one says so.  *out and its texts live in the context's arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_cautions_make(struct pw_caution **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
