/* log_read.c - lines of a log into what they say.
 * Input: text and the names of the job.  Output: lines with a minute, a verb and indices; every fault with line and column.
 * Idea: a line is cut into words; each verb takes the longest run of words that names something, then numbers with their units. */
#include "day/log.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "base/nearest.h"
#include "base/text.h"
#include "base/units.h"
#include "base/when.h"
#include "day/log_csv.h"

#include <ctype.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { LINE_BYTES_MAX = 400, WORDS_MAX = 60, FOUND_MAX = 6 };

struct words {
  const char *line; /* of n bytes */
  size_t n;
  struct {
    size_t at, n;
  } word[WORDS_MAX];
  int n_words, next;
};

struct reading {
  const struct pw_names *names;
  struct pw_log *log;
  struct pw_ctx *ctx;
  struct words w;
  struct pw_log_line out;
  int line;
  bool is_bad;   /* this line has a fault */
  bool is_table; /* the line was a row: columns are not those of the file */
};

static void fault(struct reading *r, size_t at, const char *code, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
static void fault(struct reading *r, size_t at, const char *code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(r->ctx->arena, format, args);
  va_end(args);
  if (!r->is_bad) /* one a line: the next would follow from it */
    pw_diag_add(r->ctx, PW_ERROR, code, r->log->file, r->line, r->is_table ? 0 : (int)at + 1, "%s",
                text ? text : "out of memory");
  r->is_bad = true;
}

/* A word of the line, shortened and made harmless for a message. */
static const char *shown(struct reading *r, size_t at, size_t n)
{
  char raw[60];
  struct pw_buf buf = pw_buf_in(r->ctx->arena);
  snprintf(raw, sizeof raw, "%.*s", (int)(n < 40 ? n : 40), r->w.line + at);
  pw_text_add_line(&buf, raw);
  const char *text = pw_buf_text(&buf);
  return text ? text : "";
}

static size_t at_of(const struct words *w, int k) { return k < w->n_words ? w->word[k].at : w->n; }

static const char *word_of(const struct words *w, int k, char *to, size_t size)
{
  if (k >= w->n_words)
    *to = '\0';
  else
    snprintf(to, size, "%.*s", (int)w->word[k].n, w->line + w->word[k].at);
  return to;
}

static bool is_word(const struct words *w, int k, const char *word)
{
  return k < w->n_words && w->word[k].n == strlen(word) &&
         strncasecmp(w->line + w->word[k].at, word, w->word[k].n) == 0;
}

/* ---- times --------------------------------------------------------------------------------------------------- */

static bool two_digits(const char *text, int most, int *out)
{
  if (!isdigit((unsigned char)text[0]) || !isdigit((unsigned char)text[1]))
    return false;
  *out = (text[0] - '0') * 10 + text[1] - '0';
  return *out <= most;
}

/* "2:30", "02:30" */
static bool clock_of(const char *text, int *hour, int *minute)
{
  char padded[8];
  size_t n = strlen(text);
  if (n != 4 && n != 5)
    return false;
  snprintf(padded, sizeof padded, "%s%s", n == 4 ? "0" : "", text);
  return padded[2] == ':' && two_digits(padded, 23, hour) && two_digits(padded + 3, 59, minute) && padded[5] == '\0';
}

static int weekday_of(const char *text)
{
  static const char *const days[] = {"sunday", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday"};
  size_t n = strlen(text);
  for (int d = 0; d < 7; d++)
    if (n >= 3 && n <= strlen(days[d]) && strncasecmp(text, days[d], n) == 0)
      return d;
  return -1;
}

static int minute_of(const struct pw_event *ev, struct pw_date date, int hour, int minute)
{
  int at_min = 0;
  if (!ev->clock)
    return (pw_date_to_days(date) - pw_date_to_days(ev->date)) * 1440 + hour * 60 + minute;
  return pw_clock_at_min(ev->clock, date, hour, minute, &at_min) == PW_LOCAL_SKIPPED ? INT_MIN : at_min;
}

/* The time of that clock nearest to near_min, on that weekday (-1: any). */
static int nearest_time(const struct pw_names *names, int weekday, int hour, int minute, int near_min)
{
  const struct pw_event *ev = names->ev;
  int day = pw_date_to_days(ev->date) + (int)floor(near_min / 1440.0);
  int best = INT_MIN, reach = weekday < 0 ? 2 : 7; /* a clock that is set forward may skip the nearest one */
  for (int d = -reach; d <= reach; d++) {
    struct pw_date date = pw_date_from_days(day + d);
    int at = weekday < 0 || pw_date_weekday(date) == weekday ? minute_of(ev, date, hour, minute) : INT_MIN;
    if (at != INT_MIN && (best == INT_MIN || abs(at - near_min) < abs(best - near_min)))
      best = at;
  }
  return best;
}

/* Words from `first` on; how many they are, 0: no time. */
static int time_words(const struct pw_names *names, const struct words *w, int first, int near_min, int *at_min)
{
  char one[24], two[24];
  struct pw_date date;
  int hour = 0, minute = 0, weekday;
  if (first >= w->n_words || w->word[first].n >= sizeof one)
    return 0;
  word_of(w, first, one, sizeof one);
  if (clock_of(one, &hour, &minute)) {
    *at_min = nearest_time(names, -1, hour, minute, near_min);
    return *at_min == INT_MIN ? 0 : 1;
  }
  if (first + 1 >= w->n_words || w->word[first + 1].n >= sizeof two)
    return 0;
  if (!clock_of(word_of(w, first + 1, two, sizeof two), &hour, &minute))
    return 0;
  if (pw_date_parse(one, &date))
    *at_min = minute_of(names->ev, date, hour, minute);
  else if ((weekday = weekday_of(one)) >= 0)
    *at_min = nearest_time(names, weekday, hour, minute, near_min);
  else
    return 0;
  return *at_min == INT_MIN ? 0 : 2;
}

static void cut(struct words *w, const char *line, size_t n)
{
  *w = (struct words){.line = line, .n = n};
  for (size_t i = 0; i < n && w->n_words < WORDS_MAX;) {
    while (i < n && (line[i] == ' ' || line[i] == '\t' || line[i] == '\r'))
      i++;
    size_t from = i;
    while (i < n && line[i] != ' ' && line[i] != '\t' && line[i] != '\r')
      i++;
    if (i > from) {
      w->word[w->n_words].at = from;
      w->word[w->n_words++].n = i - from;
    }
  }
}

bool pw_log_time(const struct pw_names *names, const char *text, int near_min, int *at_min)
{
  struct words w;
  cut(&w, text, strlen(text));
  return w.n_words > 0 && time_words(names, &w, 0, near_min, at_min) == w.n_words;
}

/* ---- names ---------------------------------------------------------------------------------------------------- */

/* The longest run of words from the next on that names one of the kinds; nothing is taken when none does. */
static const struct pw_name *take_name(struct reading *r, pw_name_kinds kinds, int longest)
{
  struct words *w = &r->w;
  const struct pw_name *found[FOUND_MAX];
  for (int k = w->n_words - w->next < longest ? w->n_words - w->next : longest; k > 0; k--) {
    size_t at = w->word[w->next].at, n = w->word[w->next + k - 1].at + w->word[w->next + k - 1].n - at;
    int n_found = pw_names_find(r->names, w->line + at, n, kinds, found, FOUND_MAX);
    if (n_found == 1) {
      w->next += k;
      return found[0];
    }
    if (n_found > 1) {
      struct pw_buf list = pw_buf_in(r->ctx->arena);
      for (int i = 0; i < n_found && i < FOUND_MAX; i++)
        pw_buf_printf(&list, "%s%s", i == 0 ? "" : i + 1 == n_found ? " or " : ", ", found[i]->shown);
      fault(r, at, "log-which", "\"%s\" could be %s%s: say which, best by its letter or id", shown(r, at, n),
            pw_buf_text(&list) ? list.bytes : "", n_found > FOUND_MAX ? " or others" : "");
      return NULL;
    }
  }
  return NULL;
}

static const struct pw_name *need_name(struct reading *r, pw_name_kinds kinds, const char *what, int longest)
{
  struct words *w = &r->w;
  const struct pw_name *name = take_name(r, kinds, longest);
  if (name || r->is_bad)
    return name;
  size_t at = at_of(w, w->next);
  if (w->next >= w->n_words)
    fault(r, at, "log-lacks", "the %s is missing here: %s", what, pw_log_row(r->out.verb)->form);
  else {
    const char *near = pw_names_nearest(r->names, w->line + at, w->word[w->next].n, kinds);
    fault(r, at, "log-unknown", "\"%s\" is not a %s of this job%s%s%s", shown(r, at, w->word[w->next].n), what,
          near ? "; did you mean " : "", near ? near : "", near ? "?" : "");
  }
  return NULL;
}

static void put_name(struct pw_log_line *out, const struct pw_name *name)
{
  int *const to[PW_NAME__COUNT] = {
      [PW_NAME_LOT] = &out->lot,           [PW_NAME_PIT] = &out->pit,   [PW_NAME_ZONE] = &out->zone,
      [PW_NAME_FINISHER] = &out->finisher, [PW_NAME_ROLE] = &out->role, [PW_NAME_PERSON] = &out->person,
      [PW_NAME_SERVICE] = &out->service,   [PW_NAME_ITEM] = &out->item, [PW_NAME_FUEL] = &out->fuel};
  if (name)
    *to[name->kind] = name->index;
}

/* "B2" or "B2,B5": pieces of one lot by their numbers on the sheets.  False: the word is none of that. */
static bool take_pieces(struct reading *r)
{
  struct words *w = &r->w;
  char word[120];
  int ids[PW_LOG_TEMPS_MAX], n = 0, lot = PW_NONE;
  if (w->next >= w->n_words || w->word[w->next].n >= sizeof word)
    return false;
  word_of(w, w->next, word, sizeof word);
  for (char *at = word; *at;) {
    size_t letters = 0;
    while (isalpha((unsigned char)at[letters]))
      letters++;
    char *end = NULL;
    long id = letters > 0 && letters <= 2 && isdigit((unsigned char)at[letters]) ? strtol(at + letters, &end, 10) : 0;
    const struct pw_name *found[FOUND_MAX];
    if (id < 1 || id > 100000 || pw_names_find(r->names, at, letters, 1u << PW_NAME_LOT, found, FOUND_MAX) != 1 ||
        (lot != PW_NONE && lot != found[0]->index) || n == PW_LOG_TEMPS_MAX || (*end && *end != ','))
      return false;
    lot = found[0]->index;
    if (id > r->names->lots->lots[lot].pieces) {
      fault(r, w->word[w->next].at, "log-piece", "lot %s has %d %s, there is no piece %ld", found[0]->shown,
            r->names->lots->lots[lot].pieces, r->names->lots->lots[lot].pieces == 1 ? "piece" : "pieces", id);
      return true;
    }
    ids[n++] = (int)id - 1;
    at = *end ? end + 1 : end;
  }
  r->out.lot = lot;
  r->out.piece_ids = pw_arena_array(r->ctx->arena, (size_t)n, sizeof *ids);
  if (r->out.piece_ids)
    memcpy(r->out.piece_ids, ids, (size_t)n * sizeof *ids);
  r->out.n_ids = r->out.piece_ids ? n : 0;
  r->out.count = n;
  w->next++;
  return true;
}

static void take_lot(struct reading *r)
{
  if (!take_pieces(r) && !r->is_bad)
    put_name(&r->out, need_name(r, 1u << PW_NAME_LOT, "lot", 6));
}

/* A whole number of the next word, if it is one. */
static bool take_count(struct reading *r, int *out)
{
  char word[16];
  struct words *w = &r->w;
  if (w->next >= w->n_words || w->word[w->next].n >= sizeof word ||
      !pw_int_parse(word_of(w, w->next, word, sizeof word), 0, 100000, out))
    return false;
  w->next++;
  return true;
}

static void take_pieces_count(struct reading *r)
{
  size_t at = at_of(&r->w, r->w.next);
  if (r->out.n_ids > 0 || r->is_bad)
    return;
  if (is_word(&r->w, r->w.next, "all")) {
    r->out.is_all = true;
    r->w.next++;
  } else if (take_count(r, &r->out.count) && r->out.lot != PW_NONE) {
    int most = r->names->lots->lots[r->out.lot].pieces;
    if (r->out.count < 1 || r->out.count > most)
      fault(r, at, "log-count", "%d pieces: the lot has %d", r->out.count, most);
  }
}

/* A quantity from the next word on, of one or two words ("141 F", "141F"). */
static bool take_quantity(struct reading *r, enum pw_dim dim, const char *unit, double *si)
{
  struct words *w = &r->w;
  char text[PW_QUANTITY_TEXT_MAX + 20], why[300];
  for (int k = 2; k > 0; k--) {
    if (w->next + k > w->n_words)
      continue;
    size_t at = w->word[w->next].at, n = w->word[w->next + k - 1].at + w->word[w->next + k - 1].n - at;
    if (n >= PW_QUANTITY_TEXT_MAX)
      continue;
    snprintf(text, sizeof text, "%.*s", (int)n, w->line + at);
    bool is_read = !pw_quantity_parse(text, dim, si, why, sizeof why);
    if (!is_read && k == 1 && unit) { /* a bare number has the job's own unit */
      snprintf(text, sizeof text, "%.*s %s", (int)n, w->line + at, unit);
      is_read = !pw_quantity_parse(text, dim, si, why, sizeof why);
    }
    if (is_read) {
      w->next += k;
      return true;
    }
  }
  return false;
}

static void need_quantity(struct reading *r, enum pw_dim dim, const char *unit, double *si)
{
  size_t at = at_of(&r->w, r->w.next);
  if (r->is_bad || take_quantity(r, dim, unit, si))
    return;
  size_t n = r->w.next < r->w.n_words ? r->w.word[r->w.next].n : 0;
  fault(r, at, "log-quantity", "%s%s%s%s is needed here, such as \"%s\"", n ? "\"" : "", n ? shown(r, at, n) : "",
        n ? "\": " : "", pw_dim_noun(dim), pw_dim_example(dim));
}

/* ---- verbs ------------------------------------------------------------------------------------------------------ */

static bool is_us(const struct reading *r) { return r->names->ev->units == PW_UNITS_US; }

static void take_place(struct reading *r)
{
  if (r->is_bad || r->w.next >= r->w.n_words)
    return;
  put_name(&r->out, take_name(r, 1u << PW_NAME_PIT | 1u << PW_NAME_FINISHER, 6));
  if (r->out.pit != PW_NONE && r->w.next < r->w.n_words) { /* more words: a zone of it */
    char text[LINE_BYTES_MAX];
    const struct pw_name *found[FOUND_MAX];
    size_t at = r->w.word[r->w.next].at, n = r->w.word[r->w.n_words - 1].at + r->w.word[r->w.n_words - 1].n - at;
    snprintf(text, sizeof text, "%s %.*s", r->names->ev->pits[r->out.pit].id, (int)n, r->w.line + at);
    if (pw_names_find(r->names, text, strlen(text), 1u << PW_NAME_ZONE, found, FOUND_MAX) == 1) {
      r->out.zone = found[0]->index;
      r->w.next = r->w.n_words;
    }
  } else if (r->out.pit == PW_NONE && r->out.finisher == PW_NONE && !r->is_bad)
    put_name(&r->out, need_name(r, 1u << PW_NAME_PIT | 1u << PW_NAME_ZONE | 1u << PW_NAME_FINISHER, "place", 6));
}

static void take_temps(struct reading *r)
{
  double temps[PW_LOG_TEMPS_MAX];
  size_t at[PW_LOG_TEMPS_MAX];
  const char *unit = is_us(r) ? "F" : "C";
  struct words *w = &r->w;
  char last[8];
  if (w->n_words > w->next && (is_word(w, w->n_words - 1, "C") || is_word(w, w->n_words - 1, "F")))
    unit = word_of(w, w->n_words - 1, last, sizeof last); /* one unit for all of them */
  int n = 0;
  while (!r->is_bad && w->next < w->n_words && n < PW_LOG_TEMPS_MAX &&
         !(n > 0 && w->next == w->n_words - 1 && is_word(w, w->next, unit))) {
    at[n] = at_of(w, w->next);
    need_quantity(r, PW_DIM_TEMP, unit, &temps[n++]);
  }
  if (n > 0 && w->next == w->n_words - 1 && is_word(w, w->next, unit))
    w->next++;
  if (n == 0 && !r->is_bad)
    fault(r, at_of(w, w->next), "log-lacks", "the readings are missing here: core %s", pw_log_row(PW_LOG_CORE)->form);
  for (int i = 0; i < n && !r->is_bad; i++)
    if (temps[i] < -30 || temps[i] > 130)
      fault(r, at[i], "log-reading", "no food has a core of %.0f %s: which unit was meant?",
            is_us(r) ? temps[i] * 1.8 + 32 : temps[i], is_us(r) ? "F" : "C");
  if (!r->is_bad && r->out.n_ids > 0 && n != r->out.n_ids && n != 1)
    fault(r, w->n, "log-readings", "%d pieces are named and %d readings given", r->out.n_ids, n);
  if (r->is_bad)
    return;
  r->out.temps_c = pw_arena_array(r->ctx->arena, (size_t)n, sizeof *temps);
  if (r->out.temps_c)
    memcpy(r->out.temps_c, temps, (size_t)n * sizeof *temps);
  r->out.n_temps = r->out.temps_c ? n : 0;
  if (r->out.lot != PW_NONE && n > r->names->lots->lots[r->out.lot].pieces)
    fault(r, w->n, "log-readings", "%d readings, but the lot has %d pieces", n,
          r->names->lots->lots[r->out.lot].pieces);
}

static void read_absent(struct reading *r)
{
  struct words *w = &r->w;
  put_name(&r->out, need_name(r, 1u << PW_NAME_ROLE | 1u << PW_NAME_PERSON, "person or role", 4));
  if (r->is_bad || !is_word(w, w->next, "until"))
    return;
  w->next++;
  int at = 0, k = time_words(r->names, w, w->next, r->out.at_min + 720, &at);
  if (k == 0)
    fault(r, at_of(w, w->next), "log-time", "\"until\" needs a time after it, such as 08:00");
  else if (at <= r->out.at_min)
    fault(r, at_of(w, w->next), "log-time", "it ends before it begins");
  r->out.until_min = at;
  w->next += k;
}

static void read_weather(struct reading *r)
{
  need_quantity(r, PW_DIM_TEMP, is_us(r) ? "F" : "C", &r->out.temp_c);
  if (r->is_bad || !is_word(&r->w, r->w.next, "wind"))
    return;
  r->w.next++;
  need_quantity(r, PW_DIM_SPEED, is_us(r) ? "mph" : "m/s", &r->out.wind_m_s);
}

static void read_args(struct reading *r)
{
  double minutes = 0;
  switch (r->out.verb) {
  case PW_LOG_ON:
  case PW_LOG_WRAPPED:
    take_lot(r);
    take_pieces_count(r);
    take_place(r);
    break;
  case PW_LOG_CARRIED:
    take_lot(r);
    take_pieces_count(r);
    take_place(r);
    if (!r->is_bad && r->out.zone == PW_NONE && r->out.pit == PW_NONE && r->out.finisher == PW_NONE)
      fault(r, r->w.n, "log-word", "where is it now? %s LOT [COUNT] PLACE", pw_log_row(PW_LOG_CARRIED)->word);
    break;
  case PW_LOG_WAITS:
  case PW_LOG_OFF:
    take_lot(r);
    take_pieces_count(r);
    break;
  case PW_LOG_CORE:
    take_lot(r);
    if (!r->is_bad)
      take_temps(r);
    break;
  case PW_LOG_FIRE_OUT:
    put_name(&r->out, need_name(r, 1u << PW_NAME_PIT, "pit", 6));
    need_quantity(r, PW_DIM_DURATION, "min", &minutes);
    if (!r->is_bad && (minutes < 1 || minutes > 1440))
      fault(r, r->w.n, "log-quantity", "a fire can be out for 1 min to 24 h");
    r->out.minutes = (int)minutes;
    if (!r->is_bad && is_word(&r->w, r->w.next, "still")) {
      r->out.is_still = true;
      r->w.next++;
    }
    break;
  case PW_LOG_LIT:
    put_name(&r->out, need_name(r, 1u << PW_NAME_PIT, "pit", 6));
    break;
  case PW_LOG_GOT:
  case PW_LOG_LOST:
    put_name(&r->out, need_name(r, 1u << PW_NAME_LOT | (r->out.verb == PW_LOG_GOT ? 1u << PW_NAME_ITEM : 0),
                                r->out.verb == PW_LOG_GOT ? "lot or item" : "lot", 6));
    if (!r->is_bad && !take_count(r, &r->out.count))
      need_quantity(r, PW_DIM_MASS, NULL, &r->out.amount_kg);
    break;
  case PW_LOG_ABSENT:
    read_absent(r);
    break;
  case PW_LOG_GUESTS:
    put_name(&r->out, need_name(r, 1u << PW_NAME_SERVICE, "service", 6));
    if (!r->is_bad && !take_count(r, &r->out.count))
      fault(r, at_of(&r->w, r->w.next), "log-lacks", "the number of guests is missing here");
    break;
  case PW_LOG_WOOD:
    need_quantity(r, PW_DIM_MASS, is_us(r) ? "lb" : "kg", &r->out.amount_kg);
    if (!r->is_bad && is_word(&r->w, r->w.next, "left"))
      r->w.next++;
    break;
  case PW_LOG_WEATHER:
    read_weather(r);
    break;
  default:
    r->w.next = r->w.n_words;
  }
}

/* ---- lines -------------------------------------------------------------------------------------------------------- */

static bool is_same(const struct pw_log_line *a, const struct pw_log_line *b)
{
  bool is_core = a->verb == PW_LOG_CORE; /* whatever was read */
  return a->verb == b->verb && a->lot == b->lot && a->pit == b->pit && a->role == b->role && a->person == b->person &&
         a->service == b->service && a->item == b->item && (is_core || b->count == PW_NONE || a->count == b->count) &&
         (b->n_ids == 0 ||
          (a->n_ids == b->n_ids && memcmp(a->piece_ids, b->piece_ids, (size_t)a->n_ids * sizeof(int)) == 0));
}

static void cancel(struct reading *r)
{
  for (size_t i = r->log->n; i-- > 0;) {
    struct pw_log_line *old = &r->log->lines[i];
    if (!old->is_cancelled && is_same(old, &r->out)) {
      old->is_cancelled = true;
      return;
    }
  }
  fault(r, at_of(&r->w, 0), "log-not", "no line before this one says that, so there is nothing to take back");
}

static bool read_verb(struct reading *r)
{
  char word[24];
  struct words *w = &r->w;
  struct pw_nearest near = {.word = word};
  if (w->next >= w->n_words) {
    fault(r, w->n, "log-lacks", "after the time, say what happened: %s, %s, %s ...", pw_log_row(PW_LOG_ON)->word,
          pw_log_row(PW_LOG_CORE)->word, pw_log_row(PW_LOG_FIRE_OUT)->word);
    return false;
  }
  word_of(w, w->next, word, sizeof word);
  for (int v = 0; v < PW_LOG__COUNT; v++) {
    if (strcasecmp(word, pw_log_row((enum pw_log_verb)v)->word) == 0) {
      r->out.verb = (enum pw_log_verb)v;
      w->next++;
      return true;
    }
    pw_nearest_offer(&near, pw_log_row((enum pw_log_verb)v)->word);
  }
  fault(r, at_of(w, w->next), "log-word", "\"%s\" is not a word of the log%s%s%s",
        shown(r, at_of(w, w->next), w->word[w->next].n), near.best ? "; did you mean " : "", near.best ? near.best : "",
        near.best ? "?" : "");
  return false;
}

static pw_status read_line(struct reading *r, const char *line, size_t n, int near_min)
{
  struct words *w = &r->w;
  cut(w, line, n);
  r->is_bad = false;
  r->out = (struct pw_log_line){.line = r->line,
                                .lot = PW_NONE,
                                .pit = PW_NONE,
                                .zone = PW_NONE,
                                .finisher = PW_NONE,
                                .role = PW_NONE,
                                .person = PW_NONE,
                                .service = PW_NONE,
                                .item = PW_NONE,
                                .fuel = PW_NONE,
                                .count = PW_NONE,
                                .until_min = PW_NONE,
                                .amount_kg = NAN,
                                .temp_c = NAN,
                                .wind_m_s = NAN};
  size_t at = 0;
  if (w->n_words == 0 || line[w->word[0].at] == '#')
    return PW_OK;
  if (pw_text_check(line, n, LINE_BYTES_MAX, true, &at) != PW_TEXT_OK) {
    fault(r, at, "log-text", "this cannot be read: %s",
          pw_text_fault_words(pw_text_check(line, n, LINE_BYTES_MAX, true, NULL)));
    return PW_OK;
  }
  w->next = time_words(r->names, w, 0, near_min, &r->out.at_min);
  if (w->next == 0) {
    fault(r, w->word[0].at, "log-time", "\"%s\": a line begins with a time: 02:30, Sat 02:30 or 2027-06-12 02:30",
          shown(r, w->word[0].at, w->word[0].n));
    return PW_OK;
  }
  if (r->out.at_min < r->names->first_at_min || r->out.at_min > r->names->last_at_min)
    fault(r, w->word[0].at, "log-time", "%s is outside this job, which lasts from %s to %s",
          pw_when(r->names->ev, r->out.at_min).s, pw_when(r->names->ev, r->names->first_at_min).s,
          pw_when(r->names->ev, r->names->last_at_min).s);
  bool is_not = is_word(w, w->next, "not");
  w->next += is_not;
  size_t said = at_of(w, w->next);
  if (!read_verb(r))
    return PW_OK;
  size_t rest = at_of(w, w->next), end = w->word[w->n_words - 1].at + w->word[w->n_words - 1].n;
  if (is_not && r->out.verb == PW_LOG_CORE) { /* "not core B" or with the readings, as one remembers them */
    take_lot(r);
    w->next = w->n_words;
  } else
    read_args(r);
  if (!r->is_bad && w->next < w->n_words)
    fault(r, at_of(w, w->next), "log-more", "\"%s\" does not belong here: %s %s",
          shown(r, at_of(w, w->next), w->word[w->next].n), pw_log_row(r->out.verb)->word,
          pw_log_row(r->out.verb)->form);
  if (!r->is_bad && is_not)
    cancel(r);
  if (r->is_bad || is_not)
    return PW_OK;
  if (r->out.verb == PW_LOG_NOTE)
    said = rest;
  r->out.text = pw_arena_strndup(r->ctx->arena, line + said, end > said ? end - said : 0);
  if (!r->out.text || pw_arena_grow(r->ctx->arena, &r->log->lines, &r->log->cap, r->log->n, sizeof r->out) < 0)
    return PW_ERR_MEMORY;
  r->log->lines[r->log->n++] = r->out;
  if (r->out.at_min > r->log->now_min)
    r->log->now_min = r->out.at_min;
  return PW_OK;
}

pw_status pw_log_read(struct pw_log *out, const char *file, const char *text, size_t n, const struct pw_names *names,
                      struct pw_ctx *ctx)
{
  *out = (struct pw_log){.file = file, .now_min = INT_MIN};
  struct reading *r = pw_arena_alloc(ctx->arena, sizeof *r);
  if (!r)
    return PW_ERR_MEMORY;
  *r = (struct reading){.names = names, .log = out, .ctx = ctx, .is_table = pw_log_csv_is(text, n)};
  struct pw_buf rows = pw_buf_in(ctx->arena);
  int near_min = names->begin_at_min + 720; /* the first time of the clock from there on */
  pw_status st = PW_OK;
  bool has_fault = false;
  if (n > PW_LOG_BYTES_MAX) {
    pw_diag_add(ctx, PW_ERROR, "log-long", file, 0, 0, "a log has at most %d bytes", PW_LOG_BYTES_MAX);
    return PW_ERR_INPUT;
  }
  if (r->is_table) {
    pw_log_csv_lines(&rows, text, n);
    if (!(text = pw_buf_text(&rows)))
      return PW_ERR_MEMORY;
    n = rows.n;
  }
  for (size_t i = 0; i < n && st == PW_OK;) {
    const char *end = memchr(text + i, '\n', n - i);
    size_t length = end ? (size_t)(end - text) - i : n - i;
    r->line++;
    size_t n_before = out->n;
    st = read_line(r, text + i, length, near_min);
    has_fault = has_fault || r->is_bad;
    if (out->n > n_before)
      near_min = out->lines[out->n - 1].at_min;
    i += length + 1;
  }
  return st == PW_OK && has_fault ? PW_ERR_INPUT : st;
}

/* ---- a line in words --------------------------------------------------------------------------------------------- */

void pw_log_line_write(struct pw_buf *out, const struct pw_log_line *line, const struct pw_names *names)
{
  if (line->verb == PW_LOG_NOTE)
    pw_buf_printf(out, "%s %s %s", pw_when(names->ev, line->at_min).s, pw_log_row(line->verb)->word, line->text);
  else
    pw_buf_printf(out, "%s %s", pw_when(names->ev, line->at_min).s, line->text);
}
