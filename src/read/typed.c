/* typed.c - see typed.h. */
#include "read/typed.h"

#include "base/arena.h"
#include "base/num.h"

#include <ctype.h>
#include <string.h>

/* Bytes of "1,900" or "12,345,678" at the start of the text, decimals left out; 0: no such groups. */
static size_t grouped(const char *text)
{
  size_t n = strspn(text, "0123456789");
  int groups = 0;
  if (n < 1 || n > 3 || text[0] == '0')
    return 0;
  for (; text[n] == ','; groups++) {
    if (strspn(text + n + 1, "0123456789") != 3)
      return 0;
    n += 4;
  }
  return groups ? n : 0;
}

const char *pw_typed_number(struct pw_reader *r, const char *text)
{
  const char *sign = r->money_sign;
  size_t n_sign = sign ? strlen(sign) : 0;
  while (n_sign > 0 && sign[n_sign - 1] == ' ')
    n_sign--;
  const char *from = text;
  if (n_sign > 0 && strncmp(text, sign, n_sign) == 0) {
    const char *next = text + n_sign + strspn(text + n_sign, " ");
    from = isdigit((unsigned char)*next) ? next : text; /* "$-5" stays: its fault is the minus */
  }
  size_t n = r->money_digits == 3 ? 0 : grouped(from);
  if (from == text && n == 0)
    return text;
  char *out = pw_arena_strdup(r->ctx->arena, from), *to = out;
  if (!out) {
    r->is_out_of_memory = true;
    return text;
  }
  for (size_t i = 0; from[i]; i++)
    if (i >= n || from[i] != ',')
      *to++ = from[i];
  *to = '\0';
  return out;
}

bool pw_typed_clock(const char *text, int *hour, int *minute)
{
  if (pw_hhmm_parse(text, hour, minute))
    return true;
  if (strcmp(text, "noon") == 0) {
    *hour = 12;
    *minute = 0;
    return true;
  }
  size_t n = strspn(text, "0123456789");
  int h = 0, m = 0;
  char word[4] = "";
  if (n < 1 || n > 2)
    return false;
  for (size_t i = 0; i < n; i++)
    h = 10 * h + (text[i] - '0');
  const char *rest = text + n;
  if (*rest == ':') {
    if (strspn(rest + 1, "0123456789") != 2)
      return false;
    m = 10 * (rest[1] - '0') + (rest[2] - '0');
    rest += 3;
  }
  rest += strspn(rest, " ");
  for (n = 0; *rest; rest++) /* "p.m." is "pm" */
    if (*rest != '.') {
      if (n == 2)
        return false;
      word[n++] = (char)tolower((unsigned char)*rest);
    }
  bool is_am = strcmp(word, "am") == 0, is_pm = strcmp(word, "pm") == 0;
  if ((!is_am && !is_pm) || h < 1 || h > 12 || m > 59)
    return false;
  *hour = h % 12 + (is_pm ? 12 : 0);
  *minute = m;
  return true;
}

/* "5:30", "7": no more than twelve hours, and nothing says which half of the day. */
bool pw_typed_half(const char *text, int *hour, int *minute)
{
  size_t n = strspn(text, "0123456789"), past = text[n] == ':' ? strspn(text + n + 1, "0123456789") : 0;
  if (n < 1 || n > 2 || (text[n] == ':' ? past != 2 || text[n + 3] != '\0' : text[n] != '\0'))
    return false;
  *hour = n == 1 ? text[0] - '0' : 10 * (text[0] - '0') + (text[1] - '0');
  *minute = past ? 10 * (text[n + 1] - '0') + (text[n + 2] - '0') : 0;
  return *hour >= 1 && *hour <= 12 && *minute <= 59;
}

static bool is_day(int year, int month, int day, struct pw_date *out)
{
  *out = (struct pw_date){year, month, day};
  return pw_date_is_real(*out);
}

/* Three numbers with the same sign between them; n: digits of each. */
static bool three_numbers(const char *text, int part[3], size_t n[3])
{
  const char *p = text;
  char sign = 0;
  for (int i = 0; i < 3; i++) {
    part[i] = 0;
    n[i] = strspn(p, "0123456789");
    char next = p[n[i]];
    sign = i == 0 ? next : sign;
    if (n[i] < 1 || n[i] > 4 || (i < 2 ? next != sign || (sign != '/' && sign != '-' && sign != '.') : next != '\0'))
      return false;
    for (size_t k = 0; k < n[i]; k++)
      part[i] = 10 * part[i] + (p[k] - '0');
    p += n[i] + (i < 2);
  }
  return true;
}

/* A month by its name or the first three letters of it or more; 0: none. */
static int month_of(const char *word, size_t n)
{
  static const char *const MONTHS[] = {"january", "february", "march",     "april",   "may",      "june",
                                       "july",    "august",   "september", "october", "november", "december"};
  for (int m = 0; m < 12; m++) {
    bool is_it = n >= 3 && n <= strlen(MONTHS[m]);
    for (size_t k = 0; k < n && is_it; k++)
      is_it = tolower((unsigned char)word[k]) == MONTHS[m][k];
    if (is_it)
      return m + 1;
  }
  return 0;
}

/* "May 15, 2027", "15 May 2027": one day, one month, then the year. */
static enum pw_typed_day in_words(const char *text, struct pw_date *day)
{
  int month = 0, mday = 0, year = 0;
  for (const char *p = text + strspn(text, " "); *p; p += strspn(p, " ,.")) {
    size_t digits = strspn(p, "0123456789"), letters = 0;
    while (isalpha((unsigned char)p[letters]))
      letters++;
    if (digits >= 1 && digits <= 2 && !mday && !year)
      mday = digits == 1 ? p[0] - '0' : 10 * (p[0] - '0') + (p[1] - '0');
    else if (digits == 4 && month && mday && !year)
      year = 1000 * (p[0] - '0') + 100 * (p[1] - '0') + 10 * (p[2] - '0') + (p[3] - '0');
    else if (digits > 0 || month || !(month = month_of(p, letters)))
      return PW_DAY_NONE;
    p += digits + letters;
  }
  if (!month || !mday || !year)
    return PW_DAY_NONE;
  return is_day(year, month, mday, day) ? PW_DAY_READ : PW_DAY_WRONG;
}

enum pw_typed_day pw_typed_day(const char *text, struct pw_date *day, struct pw_date *other)
{
  int part[3];
  size_t n[3];
  if (!three_numbers(text, part, n))
    return in_words(text, day);
  if (n[0] == 4 && n[1] <= 2 && n[2] <= 2) { /* the year first: the rest follows in one order only */
    if (n[1] == 2 && n[2] == 2 && text[4] == '-')
      return PW_DAY_NONE; /* as it should be written */
    return is_day(part[0], part[1], part[2], day) ? PW_DAY_READ : PW_DAY_WRONG;
  }
  if (n[0] > 2 || n[1] > 2 || n[2] == 1 || n[2] == 3)
    return PW_DAY_NONE;
  if (n[2] == 2)
    return PW_DAY_SHORT;
  bool is_us = is_day(part[2], part[0], part[1], day), is_other = is_day(part[2], part[1], part[0], other);
  if (is_us && is_other && part[0] != part[1])
    return PW_DAY_EITHER;
  if (!is_us)
    *day = *other;
  return is_us || is_other ? PW_DAY_READ : PW_DAY_WRONG;
}
