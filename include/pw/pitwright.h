/* pitwright.h - the library for other programs: an event is read, planned, judged and written through one handle.
 * This header and status.h are the stable ones; the plan itself is read from its JSON ("pitwright-plan", version 1).
 *
 *   struct pw_job *job;
 *   if (pw_job_open(&job) == PW_OK) {
 *     pw_status st = pw_job_read(job, "my-job.yaml", "/usr/share/pitwright");
 *     if (st == PW_OK)
 *       st = pw_job_plan(job, PW_QUICK, 0);
 *     if (st == PW_OK)
 *       st = pw_job_write(job, "my-job");
 *     for (int i = 0; i < pw_job_n_diags(job); i++)
 *       puts(pw_job_diag(job, i)->text);
 *     pw_job_close(job);
 *   }
 *
 * Everything a call hands out belongs to the job and dies with it.  The library prints nothing, asks no clock but for
 * `seconds`, knows no locale but "C", and keeps no state of its own: jobs in different threads do not meet, one job
 * belongs to one thread at a time. */
#ifndef PW_PITWRIGHT_H
#define PW_PITWRIGHT_H

#include "pw/status.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** One event, its plan, its faults and the memory of all of them. */
struct pw_job;

enum pw_care {
  PW_QUICK,   /**< good enough to name a price: what `quote` does */
  PW_THOROUGH /**< what `plan` does */
};

/** Version of the library, such as "0.1.0". */
const char *pw_version(void);

/** An empty job.  *out is NULL after PW_ERR_MEMORY. */
pw_status pw_job_open(struct pw_job **out);
/** Frees all of it.  NULL is allowed. */
void pw_job_close(struct pw_job *job);

/** Reads an event file and the catalogs of a folder; a job reads one event.
 *  PW_ERR_INPUT: the event or a catalog has faults, all of them are diagnostics; PW_ERR_IO: the file cannot be read;
 *  PW_ERR_USAGE: the job has an event already; PW_ERR_MEMORY. */
pw_status pw_job_read(struct pw_job *job, const char *event_path, const char *catalog_dir);
/** The same from n bytes of text; `name` stands for the file in diagnostics. */
pw_status pw_job_read_text(struct pw_job *job, const char *name, const char *text, size_t n, const char *catalog_dir);
/** Another head count (>= 1) before planning: every service and class keeps its share.  PW_ERR_USAGE without an event. */
pw_status pw_job_guests(struct pw_job *job, int heads);

/** Plans the job and has the plan judged.  seconds > 0 limits each search; with 0 the same input gives the same plan on
 *  any machine.  A job that does not fit is PW_OK: look at pw_job_missed().  PW_ERR_INPUT: a Food Code limit is broken
 *  and the event names no basis; PW_ERR_USAGE: no event; PW_ERR_SOLVER, PW_ERR_MEMORY, PW_ERR_INTERNAL. */
pw_status pw_job_plan(struct pw_job *job, enum pw_care care, double seconds);
/** Pieces without a place; -1 without a plan. */
int pw_job_missed(const struct pw_job *job);
/** The plan as JSON, n bytes and a final NUL.  PW_ERR_USAGE without a plan; PW_ERR_MEMORY, PW_ERR_INTERNAL. */
pw_status pw_job_json(struct pw_job *job, const char **text, size_t *n);
/** The whole pack into a folder, which is made when only its last part is missing; all files or none.
 *  PW_ERR_USAGE without a plan; PW_ERR_IO, PW_ERR_MEMORY, PW_ERR_INTERNAL. */
pw_status pw_job_write(struct pw_job *job, const char *folder);

/** Judges n bytes of a plan's JSON, ours or anybody's; the findings are diagnostics.  PW_OK: it was judged, and
 *  *n_findings rules are broken.  PW_ERR_INPUT: it is no plan; PW_ERR_MEMORY. */
pw_status pw_job_judge(struct pw_job *job, const char *json, size_t n, int *n_findings);

/** Diagnostics kept so far (PW_DIAG_MAX at most), and the i-th of them. */
int pw_job_n_diags(const struct pw_job *job);
const struct pw_diag *pw_job_diag(const struct pw_job *job, int i);

#ifdef __cplusplus
}
#endif

#endif
