/* opt.c - getopt_long over our own table.  Long names must be exact: an abbreviation that works today would
 * change its meaning with the next option. */
#define _GNU_SOURCE /* getopt_long */
#include "cli/opt.h"

#include "cli/cmd.h"

#include <errno.h>
#include <getopt.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct opt_row {
  const char *name;
  char letter; /* or 0 */
  const char *arg;
  const char *help;
};

static const struct opt_row OPTS[PW_OPT__COUNT] = {
    [PW_OPT_OUT] = {"out", 'o', "DIR", "folder for the pack (made if missing)"},
    [PW_OPT_GUESTS] = {"guests", 'g', "N|MEAL=N,...",
                       "plan for another head count, of all or of single meals: lunch=180,supper=60"},
    [PW_OPT_UNITS] = {"units", 'u', "us|si", "pounds and Fahrenheit, or kilograms and Celsius"},
    [PW_OPT_PAPER] = {"paper", 0, "letter|a4", "paper the workbook is laid out for"},
    [PW_OPT_JSON] = {"json", 0, "FILE|-", "write all of it as JSON; - is standard output"},
    [PW_OPT_SECONDS] = {"seconds", 0, "N", "stop searching after N seconds"},
    [PW_OPT_WORK] = {"work", 0, "N", "search N times as long for a cheaper plan; the same N gives the same plan"},
    [PW_OPT_ON_TIME] = {"on-time", 0, "SHARE",
                        "the chance each meal must have to be ready on time, such as 90 %; 0: none"},
    [PW_OPT_QUICK] = {"quick", 0, NULL, "plan quickly; the thorough plan may cost less"},
    [PW_OPT_DUMP_MODEL] = {"dump-model", 0, "FILE", "write the linear model in LP text form, as GLPK reads it"},
    [PW_OPT_CATALOGS] = {"catalogs", 0, "DIR", "folder with the catalogs"},
    [PW_OPT_EVENT] = {"event", 0, "EVENT", "take cut and pit from this event"},
    [PW_OPT_PIT] = {"pit", 0, "PIT", "id of the pit"},
    [PW_OPT_ZONE] = {"zone", 0, "RACK/N", "place on it, counted from the hot end; default: the coolest"},
    [PW_OPT_SETTING] = {"setting", 0, "NAME", "how it is run; default: its first setting"},
    [PW_OPT_DATE] = {"date", 0, "DATE", "the day, such as 2027-06-12"},
    [PW_OPT_AT] = {"at", 0, "TIME",
                   "when it is served, such as 17:30; with a log: what time it is now (default: its last line)"},
    [PW_OPT_MENU] = {"menu", 0, "NAME", "a menu of the house or the catalogs, such as two-meats-three-sides"},
    [PW_OPT_CUSTOMER] = {"customer", 0, "NAME", "name of the customer"},
    [PW_OPT_SAVE] = {"save", 0, "FILE", "keep the event in a new file"},
    [PW_OPT_HOUSE] = {"house", 0, NULL, "write a house file: what is the same at every job"},
    [PW_OPT_SHOW] = {"show", 0, NULL, "show every value and where it comes from: event, house, menu or standard"},
    [PW_OPT_PER_GUEST] = {"per-guest", 0, "PRICE",
                          "start from this price per guest: what you keep, and the lowest price without a loss"},
    [PW_OPT_ON] = {"on", 0, "DATE",
                   "the day to look from, such as 2027-05-01: what is past, and what is due in the week"},
    [PW_OPT_CSV] = {"csv", 0, "FILE|-", "write a table with a record for each job; - is standard output"},
    [PW_OPT_AGAINST] = {"against", 0, "PACK", "tell what changed since this pack: orders, times, shifts, money"},
    [PW_OPT_QUIET] = {"quiet", 'q', NULL, "print nothing but faults"},
    [PW_OPT_HELP] = {"help", 'h', NULL, "this help"},
};

static int edit_distance(const char *a, const char *b)
{
  enum { LONGEST = 40 };
  size_t n = strlen(a), m = strlen(b);
  if (n > LONGEST || m > LONGEST)
    return LONGEST;
  int row[LONGEST + 1];
  for (size_t j = 0; j <= m; j++)
    row[j] = (int)j;
  for (size_t i = 1; i <= n; i++) {
    int diagonal = row[0];
    row[0] = (int)i;
    for (size_t j = 1; j <= m; j++) {
      int up = row[j], best = diagonal + (a[i - 1] != b[j - 1]);
      best = up + 1 < best ? up + 1 : best;
      best = row[j - 1] + 1 < best ? row[j - 1] + 1 : best;
      diagonal = up;
      row[j] = best;
    }
  }
  return row[m];
}

const char *pw_opt_nearest(const char *word, const char *const *names, int n)
{
  const char *best = NULL;
  int least = (int)strlen(word) / 2 + 1; /* more than half of it wrong is no slip of the finger */
  for (int i = 0; i < n; i++) {
    int d = edit_distance(word, names[i]);
    if (d < least) {
      least = d;
      best = names[i];
    }
  }
  return best;
}

/* "pitwright plan: ..." with the user's own word made harmless. */
static enum pw_exit complain(const struct pw_command *command, const char *before, const char *word, const char *after)
{
  fprintf(stderr, "pitwright %s: ", command->name);
  pw_say_word(before, word, after);
  fprintf(stderr, "See: pitwright %s --help\n", command->name);
  return PW_EXIT_USAGE;
}

static bool accepts(const struct pw_command *command, int id) { return (command->options >> id & 1u) != 0; }

static enum pw_exit unknown_option(const struct pw_command *command, const char *arg)
{
  const char *names[PW_OPT__COUNT];
  int n = 0;
  for (int i = 0; i < PW_OPT__COUNT; i++)
    if (accepts(command, i))
      names[n++] = OPTS[i].name;
  char word[64], after[96] = " is not an option of this command";
  snprintf(word, sizeof word, "%.*s", (int)strcspn(arg, "="), arg);
  const char *near = strncmp(word, "--", 2) == 0 ? pw_opt_nearest(word + 2, names, n) : NULL;
  if (near)
    snprintf(after, sizeof after, " is not an option of this command; did you mean --%s?", near);
  return complain(command, "", word, after);
}

/* Whole decimal number in [least, most]; nothing else around it. */
static bool read_number(double *out, const char *text, double least, double most)
{
  if (text[0] == '\0' || strspn(text, "0123456789.") != strlen(text))
    return false;
  char *end = NULL;
  errno = 0;
  double v = strtod(text, &end);
  if (errno != 0 || *end != '\0' || !isfinite(v) || v < least || v > most)
    return false;
  *out = v;
  return true;
}

/* "1,900" as "1900"; what has its commas elsewhere stays as it is. */
static const char *without_commas(const char *text, char *out, size_t size)
{
  size_t n = 0, group = strcspn(text, ",");
  if (text[group] == '\0' || group == 0 || group > 3 || strlen(text) >= size)
    return text;
  for (const char *p = text; *p; p++) {
    if (*p == ',' && (strspn(p + 1, "0123456789") != 3 || (p[4] != ',' && p[4] != '\0')))
      return text;
    if (*p != ',')
      out[n++] = *p;
  }
  out[n] = '\0';
  return out;
}

static const double ON_TIME_MOST = 0.999, A_HAIR = 1e-9; /* 99.9 hundredths come out a hair above it */

/* "90 %", "90%", "90": a share of a hundred. */
static bool read_share(double *out, const char *text)
{
  char digits[16];
  size_t n = strspn(text, "0123456789.");
  if (n == 0 || n >= sizeof digits)
    return false;
  const char *rest = text + n + strspn(text + n, " ");
  memcpy(digits, text, n);
  digits[n] = '\0';
  if ((*rest != '\0' && strcmp(rest, "%") != 0) || !read_number(out, digits, 0, 100))
    return false;
  *out /= 100;
  return true;
}

static enum pw_exit take(struct pw_cli *cli, int id, const char *arg)
{
  double v = 0;
  char digits[32];
  switch (id) {
  case PW_OPT_OUT:
    cli->out_dir = arg;
    break;
  case PW_OPT_GUESTS:
    cli->meals = NULL;
    cli->guests = PW_UNSAID;
    if (strchr(arg, '=') && strchr(arg, '=') != arg) {
      cli->meals = arg;
      break;
    }
    if (!read_number(&v, without_commas(arg, digits, sizeof digits), 1, 100000) || v != floor(v))
      return complain(cli->command, "--guests needs a whole number from 1 to 100000, not ", arg, "");
    cli->guests = (int)v;
    break;
  case PW_OPT_UNITS:
    if (strcmp(arg, "us") != 0 && strcmp(arg, "si") != 0)
      return complain(cli->command, "--units is us or si, not ", arg, "");
    cli->units = strcmp(arg, "us") == 0 ? PW_UNITS_US : PW_UNITS_SI;
    break;
  case PW_OPT_PAPER:
    if (strcmp(arg, "letter") != 0 && strcmp(arg, "a4") != 0)
      return complain(cli->command, "--paper is letter or a4, not ", arg, "");
    cli->paper = strcmp(arg, "letter") == 0 ? PW_PAPER_LETTER : PW_PAPER_A4;
    break;
  case PW_OPT_JSON:
    cli->json = arg;
    break;
  case PW_OPT_SECONDS:
    if (!read_number(&v, arg, 0.1, 86400))
      return complain(cli->command, "--seconds needs a number from 0.1 to 86400, not ", arg, "");
    cli->seconds = v;
    break;
  case PW_OPT_WORK:
    if (!read_number(&v, arg, 1, 1000))
      return complain(cli->command, "--work needs a number from 1 to 1000, not ", arg, "");
    cli->work_times = v;
    break;
  case PW_OPT_ON_TIME:
    if (!read_share(&v, arg) || (v != 0 && (v < 0.5 || v > ON_TIME_MOST + A_HAIR)))
      return complain(cli->command, "--on-time needs a share from 50 % to 99.9 %, or 0, not ", arg, "");
    cli->on_time_frac = v <= 0 ? -1 : v > ON_TIME_MOST ? ON_TIME_MOST : v;
    break;
  case PW_OPT_QUICK:
    cli->is_quick = true;
    break;
  case PW_OPT_DUMP_MODEL:
    cli->dump_model = arg;
    break;
  case PW_OPT_CATALOGS:
    cli->catalogs = arg;
    break;
  case PW_OPT_EVENT:
    cli->event = arg;
    break;
  case PW_OPT_PIT:
    cli->pit = arg;
    break;
  case PW_OPT_ZONE:
    cli->zone = arg;
    break;
  case PW_OPT_SETTING:
    cli->setting = arg;
    break;
  case PW_OPT_DATE:
    cli->date = arg;
    break;
  case PW_OPT_AT:
    cli->at = arg;
    break;
  case PW_OPT_MENU:
    cli->menu = arg;
    break;
  case PW_OPT_CUSTOMER:
    cli->customer = arg;
    break;
  case PW_OPT_SAVE:
    cli->save = arg;
    break;
  case PW_OPT_HOUSE:
    cli->wants_house = true;
    break;
  case PW_OPT_SHOW:
    cli->wants_show = true;
    break;
  case PW_OPT_PER_GUEST:
    if (arg[strspn(arg, "$0123456789.,")] != '\0')
      return complain(cli->command, "--per-guest needs an amount of money such as 15.50, not ", arg, "");
    cli->per_guest = arg;
    break;
  case PW_OPT_ON:
    cli->on = arg;
    break;
  case PW_OPT_CSV:
    cli->csv = arg;
    break;
  case PW_OPT_AGAINST:
    cli->against = arg;
    break;
  case PW_OPT_QUIET:
    cli->is_quiet = true;
    break;
  default:
    cli->wants_help = true;
    break;
  }
  if (arg && arg[0] == '\0')
    return complain(cli->command, "--", OPTS[id].name, " needs a name that is not empty");
  return PW_EXIT_DONE;
}

enum pw_exit pw_opt_read(struct pw_cli *cli, const struct pw_command *command, int argc, char **argv)
{
  struct option longs[PW_OPT__COUNT + 1] = {{0}};
  char letters[2 * PW_OPT__COUNT + 2] = ":";
  size_t n = 0, l = 1;
  for (int i = 0; i < PW_OPT__COUNT; i++) {
    if (!accepts(command, i))
      continue;
    longs[n++] = (struct option){OPTS[i].name, OPTS[i].arg ? required_argument : no_argument, NULL, 256 + i};
    if (OPTS[i].letter) {
      letters[l++] = OPTS[i].letter;
      if (OPTS[i].arg)
        letters[l++] = ':';
    }
  }
  cli->command = command;
  cli->guests = cli->units = cli->paper = PW_UNSAID;
  opterr = 0;
  optind = 1;
  unsigned given = 0;
  for (;;) {
    int which = -1, c = getopt_long(argc, argv, letters, longs, &which);
    if (c == -1)
      break;
    const char *said = argv[optind - 1];
    if (c == ':') /* optopt: the letter, or 256 + id of a long one */
      return complain(command, "", said, " needs a value after it");
    if (c == '?') {
      if (strncmp(said, "--", 2) == 0)
        return unknown_option(command, said);
      char word[] = {'-', (char)optopt, '\0'};
      return unknown_option(command, optopt > 0 && optopt < 256 ? word : said);
    }
    int id = c - 256;
    if (c < 256)
      for (id = 0; OPTS[id].letter != c; id++)
        ;
    if (which >= 0) { /* exact name: the argument itself, or the one before a separate value */
      if (optarg && optarg == said)
        said = argv[optind - 2];
      size_t len = strcspn(said + 2, "=");
      if (len != strlen(OPTS[id].name))
        return unknown_option(command, said);
    }
    enum pw_exit bad = take(cli, id, optarg);
    if (bad)
      return bad;
    given |= 1u << id;
  }
  if (cli->wants_help)
    return PW_EXIT_DONE;
  if (optind >= argc && command->operand[0] != '[')
    return complain(command, "", command->operand, " is missing");
  int most = command->most_operands > 1 ? command->most_operands : 1;
  if (argc - optind > most)
    return complain(command,
                    most > 1 ? "too many at a time; do not know what to do with "
                             : "one thing at a time; do not know what to do with ",
                    argv[optind + most], "");
  cli->operand = optind < argc ? argv[optind] : NULL;
  cli->operands = argv + optind;
  cli->n_operands = argc - optind;
  for (int i = 0; i < PW_OPT__COUNT; i++)
    if ((command->needs >> i & 1u) != 0 && (given >> i & 1u) == 0)
      return complain(command, "--", OPTS[i].name, " is missing");
  return PW_EXIT_DONE;
}

void pw_opt_help(FILE *to, const struct pw_command *command)
{
  fprintf(to, "pitwright %s - %s\n\n", command->name, command->line);
  fprintf(to, "  pitwright %s %s", command->name, command->operand);
  for (int i = 0; i < PW_OPT__COUNT; i++)
    if ((command->needs >> i & 1u) != 0 && OPTS[i].letter)
      fprintf(to, " -%c %s", OPTS[i].letter, OPTS[i].arg);
    else if ((command->needs >> i & 1u) != 0)
      fprintf(to, " --%s %s", OPTS[i].name, OPTS[i].arg);
  fprintf(to, " [options]\n\n%s\n\nOptions:\n", command->more);
  for (int i = 0; i < PW_OPT__COUNT; i++) {
    if (!accepts(command, i))
      continue;
    char left[64], letter[8] = "    ";
    if (OPTS[i].letter)
      snprintf(letter, sizeof letter, "-%c, ", OPTS[i].letter);
    snprintf(left, sizeof left, "%s--%s %s", letter, OPTS[i].name, OPTS[i].arg ? OPTS[i].arg : "");
    fprintf(to, "  %-26s %s\n", left, OPTS[i].help);
  }
}
