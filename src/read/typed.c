/* typed.c - see typed.h. */
#include "read/typed.h"

#include "base/arena.h"
#include "base/num.h"

#include <ctype.h>
#include <stdio.h>
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

static bool is_day(int year, int month, int day, struct pw_date *out)
{
  char text[16];
  snprintf(text, sizeof text, "%04d-%02d-%02d", year, month, day);
  return pw_date_parse(text, out);
}

enum pw_typed_day pw_typed_slashes(const char *text, struct pw_date *day, struct pw_date *other)
{
  int part[3] = {0, 0, 0};
  const char *p = text;
  for (int i = 0; i < 3; i++) {
    size_t n = strspn(p, "0123456789");
    if (i < 2 ? n < 1 || n > 2 || p[n] != '/' : n != 4 || p[n] != '\0')
      return PW_DAY_NONE;
    for (size_t k = 0; k < n; k++)
      part[i] = 10 * part[i] + (p[k] - '0');
    p += n + (i < 2);
  }
  bool is_us = is_day(part[2], part[0], part[1], day), is_other = is_day(part[2], part[1], part[0], other);
  if (is_us && is_other && part[0] != part[1])
    return PW_DAY_EITHER;
  if (!is_us)
    *day = *other;
  return is_us || is_other ? PW_DAY_READ : PW_DAY_WRONG;
}
