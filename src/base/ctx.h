/* ctx.h - the context every stage gets: memory, diagnostics, progress. */
#ifndef PW_CTX_H
#define PW_CTX_H

#include "pw/status.h"

#include <stddef.h>

struct pw_arena;

/** Everything a stage may touch besides its inputs and its result.
 *  All that a stage returns lives in `arena` and dies with it; nothing else is freed. */
struct pw_ctx {
  struct pw_arena *arena;
  struct pw_diag diags[PW_DIAG_MAX];
  int n_diags;             /**< diagnostics kept */
  int n_diags_total;       /**< diagnostics seen */
  int n_errors;            /**< of those, errors */
  pw_progress_fn progress; /**< may be NULL */
  void *progress_user;
};

#endif
