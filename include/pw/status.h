/* status.h - what a call returns, and what a person reads.
 *
 * Two levels: `pw_status` tells the caller what to do next; a `struct pw_diag` tells a person what was
 * found, where, and what is allowed.  What the model says ("two briskets find no place") is neither:
 * it is data in the plan. */
#ifndef PW_STATUS_H
#define PW_STATUS_H

/** Failures only.  A job that does not fit its pits is PW_OK: see pw_job_missed(). */
typedef enum pw_status {
  PW_OK = 0,
  PW_ERR_INPUT,    /**< the event, a catalog or a plan file has faults; see the diagnostics */
  PW_ERR_USAGE,    /**< the call is out of turn, or a value is out of its range */
  PW_ERR_IO,       /**< a file could not be read or written */
  PW_ERR_MEMORY,   /**< out of memory */
  PW_ERR_SOLVER,   /**< the linear-programming library failed in a way no retry cured */
  PW_ERR_INTERNAL, /**< a promise of our own was broken (a plan failed its judge, say) */
  PW_ERR_STOPPED   /**< pw_job_cancel() was called: nothing came of it */
} pw_status;

enum pw_severity { PW_NOTE, PW_WARNING, PW_ERROR };

/** One fault or remark.  Its strings belong to the job. */
struct pw_diag {
  enum pw_severity severity;
  const char *code; /**< short stable name: "unknown-key", "bad-unit" */
  const char *file; /**< file as the user named it, or NULL */
  int line, col;    /**< 1-based; 0 when no place is known; col counts characters, not bytes */
  const char *text; /**< one line: what was found, what is allowed, a suggestion */
};

enum { PW_DIAG_MAX = 50 }; /**< diagnostics kept of one job; further ones are only counted */

/** Progress call-back: phase in words, best cost in minor units of the currency, bound (NAN while unknown). */
typedef void (*pw_progress_fn)(void *user, const char *phase, double cost, double bound);

#endif
