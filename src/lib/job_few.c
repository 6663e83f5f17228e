/* job_few.c - an event out of the few words that are said on the telephone: how many, which day, what time, which menu.  The words
 * become the text of an event like any other, so what is wrong with one is told as in a file. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "lib/job.h"
#include "read/read.h"

#include <stdio.h>
#include <string.h>

/* A double-quoted scalar; whatever is in the word stays in the word. */
static void add_word(struct pw_buf *out, const char *word)
{
  pw_buf_add_char(out, '"');
  for (const char *p = word; *p; p++) {
    if (*p == '"' || *p == '\\')
      pw_buf_add_char(out, '\\');
    if ((unsigned char)*p < 0x20 || *p == 0x7f)
      pw_buf_printf(out, "\\x%02X", (unsigned)(unsigned char)*p);
    else
      pw_buf_add_char(out, *p);
  }
  pw_buf_add_char(out, '"');
}

/* The short form a person would write: every value that may be odd in quotes. */
static const char *text_of(const struct pw_few *few, size_t *n, struct pw_arena *arena)
{
  struct pw_buf b = pw_buf_in(arena);
  char heads[32];
  snprintf(heads, sizeof heads, "%d guests", few->guests);
  pw_buf_add(&b, "event: {name: ");
  add_word(&b, few->name ? few->name : few->customer ? few->customer : heads);
  if (few->customer) {
    pw_buf_add(&b, ", customer: ");
    add_word(&b, few->customer);
  }
  pw_buf_add(&b, ", date: ");
  add_word(&b, few->date);
  pw_buf_add(&b, "}\nservices:\n  - {time: ");
  add_word(&b, few->at);
  pw_buf_printf(&b, ", guests: %d, menu: ", few->guests);
  add_word(&b, few->menu);
  pw_buf_add(&b, "}\n");
  *n = b.n;
  return pw_buf_text(&b);
}

static const char *house_of(const char *catalog_dir, struct pw_arena *arena)
{
  return pw_arena_printf(arena, "%s/starter-house.yaml", catalog_dir);
}

pw_status pw_job_read_few(struct pw_job *job, const char *path, const struct pw_few *few, const char *catalog_dir)
{
  size_t n = 0;
  struct pw_event *ev = NULL;
  struct pw_arena *arena = job->ctx.arena;
  pw_job_begin(job);
  if (job->n_read || job->plan || !few->date || !few->at || !few->menu || few->guests < 1)
    return PW_ERR_USAGE;
  const char *text = text_of(few, &n, arena), *kept = pw_arena_strdup(arena, path);
  const char *spare = house_of(catalog_dir, arena);
  if (!text || !kept || !spare)
    return PW_ERR_MEMORY;
  pw_status st = pw_event_read_spare(&ev, kept, text, n, catalog_dir, spare, &job->ctx);
  if (st != PW_OK)
    return st;
  pw_job_dress(job, ev);
  job->event_path = kept;
  job->read[job->n_read++] = ev;
  job->event = NULL;
  job->few_text = text;
  job->spare_house = strcmp(pw_event_house(ev), spare) == 0 ? spare : NULL;
  return PW_OK;
}

bool pw_job_is_spare_house(const struct pw_job *job) { return job->spare_house != NULL; }

pw_status pw_job_save(struct pw_job *job, const char *path)
{
  const char *kept = pw_arena_strdup(job->ctx.arena, path);
  if (!job->few_text)
    return PW_ERR_USAGE;
  return kept ? pw_job_put_new(kept, job->few_text, strlen(job->few_text), &job->ctx) : PW_ERR_MEMORY;
}
