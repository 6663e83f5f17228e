/* job.h - what the handle of the public library holds.  Each file beside this one answers one question of pw/pitwright.h. */
#ifndef PW_LIB_JOB_H
#define PW_LIB_JOB_H

#include "day/slip.h"
#include "plan/explain/explain.h"
#include "plan/joint/joint.h"
#include "pw/pitwright.h"
#include "season/season.h"
#include "write/pack.h"

#include <stdatomic.h>

struct pw_job {
  struct pw_ctx ctx; /**< its n_errors are those of the last call, see pw_job_begin() */
  int n_errors_before;
  bool is_of_plan[PW_DIAG_MAX]; /**< per diagnostic: told by a check or a plan, which tells it anew the next time */
  int units, paper;             /**< of everything written, or PW_NONE: the events' own */
  struct pw_event *read[PW_JOB_EVENTS_MAX];
  int n_read;
  const char *few_text;                           /**< of an event out of few words: its text, */
  const char *spare_house;                        /**< and the starter's house, if that was taken for want of one */
  const char *event_path;                         /**< of the first, as the caller named it */
  int heads;                                      /**< another head count, or 0 */
  const struct pw_event *event;                   /**< what is planned; NULL until pw_job_settle() */
  struct pw_joint joint;                          /**< of several events: how they became one, */
  const struct pw_plan *alone[PW_JOB_EVENTS_MAX]; /**< each planned by itself for its customer's price, */
  struct pw_joint_shares shares;                  /**< and what each of them bears */
  struct pw_plan *plan;
  struct pw_explain *explain;       /**< of that plan, once asked for */
  bool is_pack;                     /**< read from one, not planned */
  struct pw_plan *first;            /**< of a pack: the plan that logs are counted from, */
  struct pw_plan *held;             /**< the mended plan that was read, NULL: the first, */
  struct pw_handed first_held;      /**< and what the crew held when that one was made; without tasks: the first */
  struct pw_plan_file own, kept[2]; /**< of a pack: its plan's file, and those of the plans before it */
  int n_kept;
  struct pw_names *names; /**< of a job with a log */
  struct pw_log *log;
  struct pw_state *state;
  struct pw_mended *mended;
  struct pw_job *before;    /**< the pack the plan is compared with, or NULL */
  struct pw_season *season; /**< of a folder; then there is no plan */
  atomic_bool is_cancelled; /**< by pw_job_cancel(), of the call that goes on */
  const char *const *files;
  int n_files;
};

/** Makes job->event of what was read: the one event, at its other head count if one was asked for, or all of them as one.
 *  Errors: PW_ERR_USAGE nothing was read; PW_ERR_INPUT, PW_ERR_MEMORY. */
pw_status pw_job_settle(struct pw_job *job);

/** Long work of the job begins: until pw_job_obeyed() it ends soon once it is cancelled. */
void pw_job_obey(struct pw_job *job);
/** It is over with st; PW_ERR_STOPPED when it was cancelled. */
pw_status pw_job_obeyed(struct pw_job *job, pw_status st);

/** Faults of earlier calls do not fail the one that begins. */
void pw_job_begin(struct pw_job *job);

/** A context for a check or a plan: the job's memory and progress, and of its diagnostics those of reading, which belong to every
 *  plan; those of an earlier check or plan do not. */
struct pw_ctx pw_job_side(const struct pw_job *job);
/** Takes over what was told in a side context; what an earlier check or plan told in the same words is there already. */
void pw_job_take_over(struct pw_job *job, const struct pw_ctx *side);

/** The plan's file of a pack's folder, or the file itself, in the arena; NULL when memory is out. */
const char *pw_job_plan_path(const char *path, struct pw_arena *arena);

/** A file with these bytes, made anew or not at all.  PW_ERR_IO with a diagnostic. */
pw_status pw_job_put_new(const char *path, const char *bytes, size_t n, struct pw_ctx *ctx);

/** pw_job_log() with now as a minute. */
pw_status pw_job_log_at(struct pw_job *job, const char *name, const char *text, size_t n, int now_min);

enum { PW_JOB_KEEP_MAX = 2 };
/** The files of plans before it that the pack of the job's plan keeps, beside those it makes: the first, and the one it replaces
 *  where that is another.  kept[PW_JOB_KEEP_MAX]; how many; -1: no memory. */
int pw_job_keep(struct pw_plan_file *kept, struct pw_job *job);

/** Units and paper of the job on an event that was just read. */
void pw_job_dress(const struct pw_job *job, struct pw_event *ev);

#endif
