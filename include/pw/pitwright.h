/* pitwright.h - the library: events are read, planned, judged and written through one handle.  The program `pitwright` is
 * made of these calls and no others.
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
 *       fputs(pw_job_diag_told(job, i), stderr);
 *     pw_job_close(job);
 *   }
 *
 * Everything a call hands out belongs to the job and dies with it; what a call is given may go away when it returns.  The
 * library prints nothing, asks no clock but for `seconds`, knows no locale but "C", and keeps no state of its own: jobs in
 * different threads do not meet, one job belongs to one thread at a time.
 *
 * Errors any call may return: PW_ERR_MEMORY; PW_ERR_USAGE when it is out of turn (no event, no plan, planned already) or a
 * value is out of its range.  Others are named beside the call. */
#ifndef PW_PITWRIGHT_H
#define PW_PITWRIGHT_H

#include "pw/status.h"

#include <stdbool.h>
#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

/** One event, or several planned as one; their plan, their faults and the memory of all of them. */
struct pw_job;

enum {
  PW_JOB_EVENTS_MAX = 8, /**< events planned as one */
  PW_JOB_COMPARE_MAX = 4 /**< quotes side by side */
};

/** Version of the library, such as "0.1.0". */
const char *pw_version(void);

/** An empty job.  *out is NULL after PW_ERR_MEMORY. */
pw_status pw_job_open(struct pw_job **out);
/** Frees all of it.  NULL is allowed. */
void pw_job_close(struct pw_job *job);
/** From now on long work tells how far it is; NULL: no more.  One call at a time, but perhaps from a thread of the library. */
void pw_job_progress(struct pw_job *job, pw_progress_fn tell, void *user);
/** What the job plans, mends or explains now is given up within a moment: that call returns PW_ERR_STOPPED, and the job can be planned or mended
 *  again.  From the call-back of pw_job_progress() or from another thread; while no such call goes on it does nothing. */
void pw_job_cancel(struct pw_job *job);

/* ---- events ---------------------------------------------------------------------------------------- */

/** A commented event that can be planned unchanged, copied from the catalogs' folder into a new file; a file that is there is never
 *  replaced.  PW_ERR_IO. */
pw_status pw_job_starter(struct pw_job *job, const char *path, const char *catalog_dir);

/** A commented house file, likewise: what is the same at every job, to lie beside the events. */
pw_status pw_job_house_starter(struct pw_job *job, const char *path, const char *catalog_dir);

/** What is said on the telephone.  Further members may come at the end: zero all of it first. */
struct pw_few {
  int guests;                  /**< >= 1 */
  const char *date;            /**< as in an event file */
  const char *at;              /**< when it is served */
  const char *menu;            /**< name of a menu of the house or the catalogs */
  const char *customer, *name; /**< or NULL */
};

/** An event out of few words into an empty job, with the house file it would have if it lay at `path` (which need not exist), else
 *  with the starter's house.  PW_ERR_INPUT: as pw_job_read(), the places are those of the text pw_job_save() would write. */
pw_status pw_job_read_few(struct pw_job *job, const char *path, const struct pw_few *few, const char *catalog_dir);
/** Was it the starter's house?  Then the prices are invented ones. */
bool pw_job_is_spare_house(const struct pw_job *job);
/** Keeps the event of pw_job_read_few() in a new file; a file that is there is never replaced.  PW_ERR_IO. */
pw_status pw_job_save(struct pw_job *job, const char *path);

/** Reads an event file ("-": standard input) and the catalogs of a folder into an empty job.
 *  PW_ERR_INPUT: the event or a catalog has faults, all of them are diagnostics; PW_ERR_IO: the file cannot be read. */
pw_status pw_job_read(struct pw_job *job, const char *event_path, const char *catalog_dir);
/** The same from n bytes of text; `name` stands for the file in diagnostics. */
pw_status pw_job_read_text(struct pw_job *job, const char *name, const char *text, size_t n, const char *catalog_dir);
/** The same, into a job that may have events already: all of them will be planned as one, sharing pits, ovens, boxes, crew and
 *  purchases.  After a failure the next file may be added for its faults alone: it is PW_ERR_INPUT too. */
pw_status pw_job_add(struct pw_job *job, const char *event_path, const char *catalog_dir);

enum pw_units { PW_UNITS_US, PW_UNITS_SI };
enum pw_paper { PW_PAPER_LETTER, PW_PAPER_A4 };
/** Units and paper of everything written, in place of the events' own.  Before the first plan, also before reading. */
pw_status pw_job_units(struct pw_job *job, enum pw_units units);
pw_status pw_job_paper(struct pw_job *job, enum pw_paper paper);
/** Another head count (>= 1) of one event, before planning: every service and class keeps its share.  PW_ERR_INPUT: it has no
 *  guests. */
pw_status pw_job_guests(struct pw_job *job, int heads);

/** Another head count for single meals of one event, "lunch=180,supper=60" by their ids: each deals its guests over its classes in the
 *  shares it has, the others stay.  Before planning, and before another head count for all.  PW_ERR_INPUT: no such meal, no number. */
pw_status pw_job_meals(struct pw_job *job, const char *meals);

/** Changes the one event by lines as at the end of its file (a further document, begun by "---"), before another head count is
 *  asked for.  PW_ERR_INPUT: they have faults. */
pw_status pw_job_change(struct pw_job *job, const char *lines);

/** What would stop the plan before anything is planned: events that cannot be planned as one, a Food Code limit that is broken
 *  without a basis named in the event.  PW_ERR_INPUT with diagnostics. */
pw_status pw_job_check(struct pw_job *job);

/* ---- the plan --------------------------------------------------------------------------------------- */

enum pw_care {
  PW_QUICK, /**< good enough to name a price while somebody waits; what then does not fit is searched thoroughly after all */
  PW_THOROUGH /**< what the program does unless told otherwise */
};

/** How to plan.  Further members may come at the end, and nothing in them will mean "as before": zero all of it first. */
struct pw_how {
  enum pw_care care;
  double seconds; /**< > 0 limits each search; with 0 the same input gives the same plan on any machine */
  double
      work_times; /**< a thorough search so many times as long (1 to 1000, whole times): never a dearer plan; 0: the usual */
  bool is_without_ladder; /**< no other head counts are planned and priced beside it: quicker */
  const char *dump_model; /**< file that gets the linear program in LP text form, as GLPK reads it, or NULL */
  const char *folder;     /**< where the pack is to go, or NULL: if it cannot be had that is said before the work */
  double
      on_time_frac; /**< chance asked of every meal to be ready when it begins, 0.5 to 0.999; 0: the event's own; below 0: none */
  const char *
      against; /**< a pack written before, to be compared with the new plan (PW_TEXT_AGAINST), or NULL; one event only */
  bool
      is_at_once; /**< with PW_QUICK: what finds no place quickly is told so and not searched longer, without ways out */
  bool
      has_levels; /**< what more or less time to spare costs is told without the other head counts too; one event only */
};

/** Plans the job and has the plan judged; an older plan is forgotten, so that a quick plan may be followed by a thorough
 *  one.  A job that does not fit is PW_OK: look at pw_job_missed().  PW_ERR_INPUT as pw_job_check(); PW_ERR_IO: model,
 *  folder or the pack of `against`; PW_ERR_SOLVER, PW_ERR_INTERNAL. */
pw_status pw_job_plan_how(struct pw_job *job, const struct pw_how *how);
/** The same with care and seconds alone. */
pw_status pw_job_plan(struct pw_job *job, enum pw_care care, double seconds);
/** Every event of a folder side by side, into an empty job: each planned quickly by itself, or read from the folder beside it that has its
 *  name without the ending, when that is a pack of just this event.  `on` ("2027-05-01", or NULL) is the day the season is looked at from: what
 *  is past is done, and a week of orders is listed.  Events with faults are told and left out: PW_OK all the same, see pw_job_n_errors().
 *  PW_ERR_INPUT: no event lies there, `on` is no day; PW_ERR_IO. */
pw_status pw_job_season(struct pw_job *job, const char *folder, const char *on, const char *catalog_dir);

/** Pieces without a place, of a folder those of all its jobs; -1 without a plan. */
int pw_job_missed(const struct pw_job *job);

/* ---- what is written ---------------------------------------------------------------------------------- */

/** Texts of a job, UTF-8, harmless on a terminal whatever an event's names are.  Sheets have lines of at most 80 columns. */
enum pw_text {
  PW_TEXT_EVENT,          /**< of an event: name, date, guests, services, pits, shifts in one line */
  PW_TEXT_QUOTE,          /**< of a plan: for the customer; not for several events */
  PW_TEXT_COSTS,          /**< for the owner; not for several events */
  PW_TEXT_JOBS,           /**< for the owner of several events: what each of them bears */
  PW_TEXT_PURCHASES,      /**< what to buy, by order date and supplier */
  PW_TEXT_PLAN,           /**< fires, meat, cost and bound, shortages and ways out, warnings */
  PW_TEXT_SHIFTS,         /**< cautions, everybody hour by hour, fire list, one list per role */
  PW_TEXT_EXPLAIN,        /**< why the plan is as it is; searches, so it takes its time when first asked */
  PW_TEXT_PLAN_JSON,      /**< the plan, format "pitwright-plan" */
  PW_TEXT_EXPLAIN_JSON,   /**< format "pitwright-explain" */
  PW_TEXT_EVENT_SCHEMA,   /**< of any job: the JSON Schema of event files, for editors */
  PW_TEXT_CATALOG_SCHEMA, /**< the one of catalog files */
  PW_TEXT_FITS,           /**< of an event: where each cut could lie at all, and what forbids the other places */
  PW_TEXT_STATE,          /**< of a log: what is true now, and what was taken as done */
  PW_TEXT_HOUSE_SCHEMA,   /**< the JSON Schema of house files */
  PW_TEXT_SHOW,           /**< of an event read from one file: every value, and where it comes from */
  PW_TEXT_SLIP,           /**< of a mended plan: which meals hold and what to do now, at most 12 lines */
  PW_TEXT_CHANGES, /**< of a mended plan: food safety, what is short and what helps, what is other than on the sheets before, by time and by person */
  PW_TEXT_SEASON,  /**< of a folder of events: jobs, where two meet, orders, money */
  PW_TEXT_SEASON_CSV,    /**< the same, a record for each job */
  PW_TEXT_SEASON_JSON,   /**< format "pitwright-season" */
  PW_TEXT_AGAINST,       /**< of a plan of one event made with `against`: what changed, in words */
  PW_TEXT_CREW_HTML,     /**< the files of a pack as texts, byte for byte, from here on: crew.html */
  PW_TEXT_CUSTOMER_HTML, /**< not for several events */
  PW_TEXT_CALENDAR,      /**< calendar.ics: every task */
  PW_TEXT_FEEDS,         /**< calendar-feeds.ics; "" when no fire is fed */
  PW_TEXT_PURCHASES_CSV,
  PW_TEXT_TASKS_CSV,
  PW_TEXT_DAY_LOG /**< day-log.csv */
};

/** One of them, n bytes and a final NUL.  PW_ERR_USAGE: the job has no such text; PW_ERR_INTERNAL, PW_ERR_SOLVER. */
pw_status pw_job_text(struct pw_job *job, enum pw_text which, const char **text, size_t *n);
/** The same as a file, whole or not at all; "-": standard output.  Also PW_ERR_IO. */
pw_status pw_job_write_text(struct pw_job *job, enum pw_text which, const char *path);
/** pw_job_text() with PW_TEXT_PLAN_JSON. */
pw_status pw_job_json(struct pw_job *job, const char **text, size_t *n);

/** The whole pack into a folder, which is made when only its last part is missing; all files or none.
 *  PW_ERR_IO, PW_ERR_INTERNAL. */
pw_status pw_job_write(struct pw_job *job, const char *folder);
/** Files the last pw_job_write() wrote (0 without one), and the i-th name, without the folder. */
int pw_job_n_files(const struct pw_job *job);
const char *pw_job_file(const struct pw_job *job, int i);

/** Quotes of n (2 to PW_JOB_COMPARE_MAX) planned jobs of one event each, side by side under their names.  The text belongs
 *  to the first of them. */
pw_status pw_job_compare(struct pw_job *const *jobs, const char *const *names, int n, const char **text);

/** A cut on a place in a pit: ids as in the catalogs or the event. */
struct pw_curve_ask {
  const char *cut, *pit;
  const char *zone;        /**< "main/1": rack, and number from its hot end; NULL: the coolest of the pit */
  const char *setting;     /**< how the pit is run; NULL: its first setting */
  const char *catalog_dir; /**< where cut and pit are looked up when the job has no event */
};
/** Core, surface, steam and lethality hour by hour by heat theory, as a table with a small plot.
 *  PW_ERR_INPUT with a diagnostic: there is no such cut, pit, zone or setting, or a catalog has faults. */
pw_status pw_job_curve(struct pw_job *job, const struct pw_curve_ask *ask, const char **text);

/* ---- the day itself ---------------------------------------------------------------------------------------- */

/** Reads a pack that was written before, its folder or the plan.json in it, into an empty job: the plan and, from job.json beside it,
 *  the event it was made from.  Then the job is as it was when the pack was written, and all that is written of it is the same.
 *  A plan mended on its day also wants the plans before it, which its pack keeps.  Where the file says other than what is written of it a
 *  warning says so.
 *  PW_ERR_INPUT: the plan breaks a rule of the judge, is of several events, or has no job.json beside it; PW_ERR_IO. */
pw_status pw_job_open_pack(struct pw_job *job, const char *path);

/** A word of the day's log, what follows it (what may be left out in brackets), an example and what it says; NULL past the last. */
const char *pw_log_words(int i, const char **form, const char **example, const char **help);

/** Reads the log of the day, n bytes of lines "02:30 core B 141 F", for a job with a pack; an older log is forgotten.  PW_ERR_INPUT: every
 *  fault is a diagnostic with line and column, so is what cannot have been. */
pw_status pw_job_log(struct pw_job *job, const char *name, const char *text, size_t n, const char *at);
/** The same from a file; "-": standard input.  Also PW_ERR_IO. */
pw_status pw_job_log_file(struct pw_job *job, const char *path, const char *at);

/** Mends the plan of a pack from now on by its log: what is on a rack stays, times follow what is believed of it, who is to do what changes as
 *  little as can be.  *is_changed: anything is other than planned; then the job's plan is the mended one, judged, and can be written.
 *  What the judge has something against is tried again without moves; when that fails too the status says why (PW_ERR_INTERNAL, PW_ERR_SOLVER), the
 *  job's plan is the old one, and slip and what stands behind it are there all the same.  PW_ERR_USAGE without a log. */
pw_status pw_job_mend(struct pw_job *job, bool *is_changed);

/* ---- the judge -------------------------------------------------------------------------------------------- */

/** What the judge takes on trust, since it follows from nothing else in a plan: the i-th kind of number or entry as its path without
 *  indices ("- " in front: an entry that may be missing, "! ": a yes that may be a no), and why.  NULL at the end of the list. */
const char *pw_judge_trusts(int i, const char **reason);

/** Judges n bytes of a plan's JSON, ours or anybody's; the findings are diagnostics whose code is the rule ("J5").  PW_OK: it
 *  was judged, and *n_findings rules are broken.  PW_ERR_INPUT: it is no plan. */
pw_status pw_job_judge(struct pw_job *job, const char *json, size_t n, int *n_findings);
/** The same for a file, or the plan.json of a pack's folder; "-": standard input.  Also PW_ERR_IO. */
pw_status pw_job_judge_file(struct pw_job *job, const char *path, int *n_findings);

/* ---- what a person must read --------------------------------------------------------------------------------- */

/** Diagnostics kept so far (PW_DIAG_MAX at most), and the i-th of them, NULL if there is none. */
int pw_job_n_diags(const struct pw_job *job);
const struct pw_diag *pw_job_diag(const struct pw_job *job, int i);
/** The i-th as lines for a terminal, each with its end: place, severity, text; the line of the file and a caret under the
 *  place.  NULL only if there is none: when memory is out it says so. */
const char *pw_job_diag_told(struct pw_job *job, int i);
/** All that were seen, kept or not; of these, errors. */
int pw_job_n_seen(const struct pw_job *job);
int pw_job_n_errors(const struct pw_job *job);
/** Any word, a file's name say, as one line that does a terminal no harm; NULL when memory is out. */
const char *pw_job_line(struct pw_job *job, const char *word);

#ifdef __cplusplus
}
#endif

#endif
