/* job_read.c - which event is planned: files and texts read, other units, another head count, several made one. */
#include "base/arena.h"
#include "lib/job.h"
#include "plan/demand/head_count.h"
#include "plan/stages.h"
#include "read/read.h"

_Static_assert((int)PW_JOB_EVENTS_MAX == (int)PW_JOINT_MAX, "the library takes as many events as a joint plan");

void pw_job_dress(const struct pw_job *job, struct pw_event *ev)
{
  if (job->units != PW_NONE)
    ev->units = (enum pw_units)job->units;
  if (job->paper != PW_NONE)
    ev->paper = (enum pw_paper)job->paper;
}

/* From a text, or from the file of that name when there is none.  Where an earlier file of several has failed the reader fails
 * this one too. */
static pw_status read_one(struct pw_job *job, const char *path, const char *text, size_t n, const char *catalog_dir)
{
  struct pw_event *ev = NULL;
  if (job->plan || job->heads || job->n_read == PW_JOB_EVENTS_MAX)
    return PW_ERR_USAGE;
  const char *kept = pw_arena_strdup(job->ctx.arena, path); /* diagnostics name it */
  if (!kept)
    return PW_ERR_MEMORY;
  pw_status st = text ? pw_event_read_text(&ev, kept, text, n, catalog_dir, &job->ctx)
                      : pw_event_read(&ev, kept, catalog_dir, &job->ctx);
  if (st != PW_OK)
    return st;
  pw_job_dress(job, ev);
  if (job->n_read == 0)
    job->event_path = kept;
  job->read[job->n_read++] = ev;
  job->event = NULL;
  return PW_OK;
}

pw_status pw_job_read(struct pw_job *job, const char *event_path, const char *catalog_dir)
{
  pw_job_begin(job);
  return job->n_read ? PW_ERR_USAGE : read_one(job, event_path, NULL, 0, catalog_dir);
}

pw_status pw_job_read_text(struct pw_job *job, const char *name, const char *text, size_t n, const char *catalog_dir)
{
  pw_job_begin(job);
  return job->n_read ? PW_ERR_USAGE : read_one(job, name, text, n, catalog_dir);
}

pw_status pw_job_add(struct pw_job *job, const char *event_path, const char *catalog_dir)
{
  return read_one(job, event_path, NULL, 0, catalog_dir);
}

static pw_status dress_all(struct pw_job *job)
{
  for (int i = 0; i < job->n_read; i++)
    pw_job_dress(job, job->read[i]);
  job->event = NULL; /* settled anew, from them */
  return PW_OK;
}

pw_status pw_job_units(struct pw_job *job, enum pw_units units)
{
  if (job->plan || (units != PW_UNITS_US && units != PW_UNITS_SI))
    return PW_ERR_USAGE;
  job->units = (int)units;
  return dress_all(job);
}

pw_status pw_job_paper(struct pw_job *job, enum pw_paper paper)
{
  if (job->plan || (paper != PW_PAPER_LETTER && paper != PW_PAPER_A4))
    return PW_ERR_USAGE;
  job->paper = (int)paper;
  return dress_all(job);
}

pw_status pw_job_change(struct pw_job *job, const char *lines)
{
  struct pw_event *ev = NULL;
  if (job->n_read != 1 || job->plan || job->heads)
    return PW_ERR_USAGE;
  pw_status st = pw_event_change(&ev, job->read[0], lines, &job->ctx);
  if (st != PW_OK)
    return st;
  job->read[0] = ev;
  job->event = NULL;
  return PW_OK;
}

pw_status pw_job_guests(struct pw_job *job, int heads)
{
  const struct pw_event *scaled = NULL;
  if (job->n_read != 1 || job->plan || heads < 1)
    return PW_ERR_USAGE;
  pw_status st = pw_head_count_scale(&scaled, job->read[0], heads, &job->ctx);
  if (st != PW_OK)
    return st;
  job->heads = heads;
  job->event = scaled;
  return PW_OK;
}

pw_status pw_job_settle(struct pw_job *job)
{
  const struct pw_event *all[PW_JOB_EVENTS_MAX];
  if (job->event)
    return PW_OK;
  if (job->n_read == 0)
    return PW_ERR_USAGE;
  if (job->n_read == 1 && job->heads)
    return pw_head_count_scale(&job->event, job->read[0], job->heads, &job->ctx);
  for (int i = 0; i < job->n_read; i++)
    all[i] = job->read[i];
  pw_status st = job->n_read > 1 ? pw_joint_make(&job->joint, all, job->n_read, &job->ctx) : PW_OK;
  if (st == PW_OK)
    job->event = job->n_read > 1 ? job->joint.event : job->read[0];
  return st;
}

pw_status pw_job_check(struct pw_job *job)
{
  pw_status st = pw_job_settle(job);
  if (st != PW_OK)
    return st;
  struct pw_ctx side = pw_job_side(job);
  st = pw_safety_check(job->event, &side);
  pw_job_take_over(job, &side);
  return st;
}
