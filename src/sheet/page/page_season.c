/* page_season.c - the season on one screen: jobs by date, where two of them meet, what to order, what is to come in, money by state.
 * In: a finished season.  Out: a page. */
#include "base/clock.h"
#include "base/format.h"
#include "base/when.h"
#include "season/season.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <string.h>

static const char *day_words(struct pw_page *p, int day)
{
  return pw_words(p, "%s", pw_when_date(pw_date_from_days(day)).s);
}

static const char *money_words(struct pw_page *p, const struct pw_season_job *job, pw_cents cents)
{
  return job->money ? pw_words(p, "%s", pw_money_format(job->money, cents).s) : "";
}

/* A job by its name, and by its file where another one has the same name. */
static const char *name_of(struct pw_page *p, const struct pw_season *s, int job)
{
  for (int i = 0; i < s->n_jobs; i++)
    if (i != job && strcmp(s->jobs[i].name, s->jobs[job].name) == 0)
      return pw_words(p, "%s (%s)", s->jobs[job].name, s->jobs[job].file);
  return s->jobs[job].name;
}

/* ---- jobs ---------------------------------------------------------------------------------------------- */

static const char *state_words(struct pw_page *p, const struct pw_season_job *job)
{
  if (job->is_over)
    return "offer run out";
  if (job->state == PW_SEASON_OFFERED && job->valid_until.year)
    return pw_words(p, "offered to %04d-%02d-%02d", job->valid_until.year, job->valid_until.month,
                    job->valid_until.day);
  return pw_season_state_word(job->state);
}

static void one_job(struct pw_page *p, const struct pw_season_job *job)
{
  pw_page_row(p, pw_when_date(job->date).s, job->name, pw_words(p, "%d", job->guests),
              money_words(p, job, job->total_cents), state_words(p, job));
  const char *more = job->customer && strcmp(job->customer, job->name) != 0 ? job->customer : "";
  if (job->missed > 0)
    more = pw_words(p, "%s%sDOES NOT FIT: %s without a place", more, *more ? "; " : "", pw_words_pieces(job->missed).s);
  else if (job->n_warnings > 0 && job->state != PW_SEASON_DONE)
    more = pw_words(p, "%s%s%s in its plan", more, *more ? "; " : "",
                    pw_words_count(job->n_warnings, "warning", "warnings").s);
  pw_page_say(p, 17, 17, "%s%s%s", job->file, *more ? ": " : "", more);
}

static void jobs(struct pw_page *p, const struct pw_season *s)
{
  bool is_quick = false, is_pack = false;
  static const struct pw_page_column columns[] = {{0, 16, PW_CELL_TIME, "Day"},
                                                  {1, 24, PW_CELL_WHAT, "Job"},
                                                  {0, 6, PW_CELL_AMOUNT, "Guests"},
                                                  {1, 12, PW_CELL_AMOUNT, "Total"},
                                                  {2, 18, PW_CELL_WHAT, "State"}};
  pw_page_blank(p);
  pw_page_table_of(p, columns);
  for (int i = 0; i < s->n_jobs; i++) {
    one_job(p, &s->jobs[i]);
    is_quick = is_quick || s->jobs[i].is_quick;
    is_pack = is_pack || !s->jobs[i].is_quick;
  }
  for (int i = 0; i < s->n_broken; i++)
    pw_page_say(p, 0, 17, "CANNOT BE READ   %s (its faults are listed separately)", s->broken[i]);
  pw_page_blank(p);
  pw_page_say(
      p, 0, 0, "Totals with charges and taxes%s.",
      is_quick && is_pack
          ? ", from the pack beside an event if it was made from exactly that event, otherwise from a quick plan"
      : is_quick ? ", from quick plans: the thorough plan may cost less"
                 : ", from the packs beside the events");
}

/* ---- clashes ------------------------------------------------------------------------------------------- */

static void one_clash(struct pw_page *p, const struct pw_season *s, const struct pw_season_clash *c)
{
  const struct pw_season_use *x = &s->uses[c->a], *y = &s->uses[c->b];
  const char *a = name_of(p, s, x->job), *b = name_of(p, s, y->job);
  if (c->kind == PW_SEASON_HOW_MANY)
    pw_page_say(p, 2, 4, "[ ] %s: %d at once, %s from %s and %s from %s. Do you have that many?", y->name, c->hands, a,
                x->from, b, y->from);
  else if (y->kind == PW_SEASON_ROLE)
    pw_page_say(p, 2, 4, "[ ] %s: %d at once, there are %d. %s from %s and %s from %s.", y->name, c->hands,
                c->there_are, a, x->from, b, y->from);
  else {
    const char *how = c->kind == PW_SEASON_AT_ONCE ? "TWICE AT ONCE"
                      : c->kind == PW_SEASON_NO_ROAD
                          ? pw_words(p, "only %s between, the drive takes %s", pw_format_minutes((int)c->free_min).s,
                                     pw_format_minutes(x->travel_min + y->travel_min).s)
                          : pw_words(p, "one after the other, %s between", pw_format_minutes((int)c->free_min).s);
    pw_page_say(p, 2, 4, "[ ] %s: %s. %s, %s to %s; %s, %s to %s.", y->name, how, a, x->from, x->to, b, y->from, y->to);
  }
}

static void clashes(struct pw_page *p, const struct pw_season *s)
{
  pw_page_head(p, "Where two jobs meet");
  if (s->n_clashes == 0)
    pw_page_para(p, 2, 2, "No pit, box or person is wanted twice on one day.");
  for (int i = 0; i < s->n_clashes; i++)
    one_clash(p, s, &s->clashes[i]);
}

/* ---- orders -------------------------------------------------------------------------------------------- */

static bool is_listed(const struct pw_season *s, const struct pw_season_line *l)
{
  return pw_season_is_due(s, l->order_day);
}

static bool is_sure(const struct pw_season *s, const struct pw_season_line *l)
{
  return s->jobs[l->job].state == PW_SEASON_AGREED;
}

/* All jobs' lines of one thing, lines first .. end - 1: packs of agreed jobs, packs of all, the earliest day. */
static void one_thing(struct pw_page *p, const struct pw_season *s, int first, int end)
{
  int sure = 0, all = 0, day = 0, n = 0;
  for (int i = first; i < end; i++) {
    if (!is_listed(s, &s->lines[i]))
      continue;
    day = n++ == 0 || s->lines[i].order_day < day ? s->lines[i].order_day : day;
    sure += is_sure(s, &s->lines[i]) ? s->lines[i].packs : 0;
    all += s->lines[i].packs;
  }
  if (n == 0)
    return;
  const struct pw_season_line *l = &s->lines[first];
  pw_page_row(p, "[ ]", l->item, l->pack, pw_words(p, "%d", sure), pw_words(p, "%d", all),
              pw_words(p, "%.10s%s", pw_when_date(pw_date_from_days(day)).s,
                       s->on_day != PW_NONE && day < s->on_day ? " late" : ""));
}

/* One supplier, lines first .. end - 1. */
static void one_supplier(struct pw_page *p, const struct pw_season *s, int first, int end)
{
  int n = 0, day = 0;
  for (int i = first; i < end; i++)
    if (is_listed(s, &s->lines[i]))
      day = n++ == 0 || s->lines[i].order_day < day ? s->lines[i].order_day : day;
  if (n == 0)
    return;
  pw_page_pair(p, 2, s->lines[first].supplier, pw_words(p, "first order by %s", day_words(p, day)));
  for (int j = 0; j < s->n_jobs; j++) { /* what it brings, job by job */
    pw_cents cents = 0;
    int n_job = 0;
    for (int i = first; i < end; i++)
      if (s->lines[i].job == j && is_listed(s, &s->lines[i])) {
        cents += s->lines[i].cents;
        n_job++;
      }
    if (n_job > 0)
      pw_page_pair(p, 4,
                   pw_words(p, "%s, %s: %s", name_of(p, s, j), pw_season_state_word(s->jobs[j].state),
                            pw_words_count(n_job, "line", "lines").s),
                   money_words(p, &s->jobs[j], cents));
  }
  if (s->on_day == PW_NONE)
    return;
  for (int i = first, next; i < end; i = next) {
    for (next = i + 1; next < end && strcmp(s->lines[next].item, s->lines[i].item) == 0 &&
                       strcmp(s->lines[next].pack, s->lines[i].pack) == 0;)
      next++;
    one_thing(p, s, i, next);
  }
}

static void orders(struct pw_page *p, const struct pw_season *s)
{
  int n = 0;
  for (int i = 0; i < s->n_lines; i++)
    n += is_listed(s, &s->lines[i]);
  pw_page_head(p, s->on_day == PW_NONE
                      ? "Orders, by supplier"
                      : pw_words(p, "To order by %s", day_words(p, s->on_day + PW_SEASON_WEEK_DAYS - 1)));
  if (n == 0) {
    pw_page_para(p, 2, 2, "Nothing.");
    return;
  }
  if (s->on_day != PW_NONE) {
    static const struct pw_page_column columns[] = {
        {2, 3, PW_CELL_TICK, ""},      {1, 32, PW_CELL_WHAT, "For all jobs together"},
        {1, 14, PW_CELL_WHAT, "Pack"}, {0, 6, PW_CELL_AMOUNT, "agreed"},
        {1, 5, PW_CELL_AMOUNT, "all"}, {1, 14, PW_CELL_WHAT, "by"}};
    pw_page_table_of(p, columns);
  }
  for (int i = 0, end; i < s->n_lines; i = end) {
    for (end = i + 1; end < s->n_lines && strcmp(s->lines[end].supplier, s->lines[i].supplier) == 0;)
      end++;
    one_supplier(p, s, i, end);
  }
  pw_page_blank(p);
  pw_page_para(p, 0, 0,
               s->on_day == PW_NONE
                   ? "With --on DATE: what to order in the week from that day, item by item. Wood and charcoal, "
                     "deliveries and minimum orders are in each job's own list."
                   : "\"agreed\": whole packs for the agreed jobs, each job on its own; \"all\": with the other jobs "
                     "too. \"late\": its day was before this week; has it been ordered? Wood and charcoal, deliveries "
                     "and minimum orders are in each job's own list.");
}

/* ---- money --------------------------------------------------------------------------------------------- */

static void dues(struct pw_page *p, const struct pw_season *s)
{
  int n = 0;
  for (int i = 0; i < s->n_dues; i++) {
    const struct pw_season_due *d = &s->dues[i];
    if (!pw_season_is_due(s, d->day))
      continue;
    if (n++ == 0)
      pw_page_head(p, s->on_day == PW_NONE ? "Customers pay (agreed jobs)" : "Customers pay by then (agreed jobs)");
    pw_page_pair(p, 2,
                 pw_words(p, "[ ] %s: %s, %s", name_of(p, s, d->job), d->name,
                          d->day == PW_NONE ? "on acceptance"
                                            : pw_words(p, "by %s%s", day_words(p, d->day),
                                                       s->on_day != PW_NONE && d->day < s->on_day ? ", paid?" : "")),
                 money_words(p, &s->jobs[d->job], d->cents));
  }
}

static bool is_one_currency(const struct pw_season_job *a, const struct pw_season_job *b)
{
  return a->money && b->money && strcmp(a->money->currency, b->money->currency) == 0;
}

static void sums(struct pw_page *p, const struct pw_season *s)
{
  pw_page_head(p, "Money, totals with charges and taxes");
  for (int first = 0; first < s->n_jobs; first++) {
    bool is_new = true; /* a currency is told where its first job stands */
    for (int i = 0; i < first; i++)
      is_new = is_new && !is_one_currency(&s->jobs[i], &s->jobs[first]);
    for (int state = 0; state < PW_SEASON__COUNT && is_new; state++) {
      int n = 0, n_over = 0;
      pw_cents sum = 0;
      for (int i = first; i < s->n_jobs; i++)
        if (is_one_currency(&s->jobs[i], &s->jobs[first]) && (int)s->jobs[i].state == state) {
          n++;
          n_over += s->jobs[i].is_over;
          sum += s->jobs[i].total_cents;
        }
      const char *over = n_over > 0 ? pw_words(p, ", %d of them run out", n_over) : "";
      if (n > 0)
        pw_page_pair(p, 2,
                     pw_words(p, "%s: %s%s", pw_season_state_word((enum pw_season_state)state),
                              pw_words_count(n, "job", "jobs").s, over),
                     money_words(p, &s->jobs[first], sum));
    }
  }
}

pw_status pw_page_season(struct pw_page *p, const struct pw_season *season, struct pw_ctx *ctx)
{
  *p = pw_page_open(NULL, NULL, ctx);
  pw_page_title(p, season->folder,
                season->on_day == PW_NONE ? "The season" : pw_words(p, "From %s", day_words(p, season->on_day)));
  jobs(p, season);
  clashes(p, season);
  orders(p, season);
  dues(p, season);
  sums(p, season);
  return pw_page_done(p);
}
