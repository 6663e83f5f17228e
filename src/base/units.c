/* units.c - quantity parser: a table of units, each with its dimension, its spellings and its exact factor to SI.
 * Factors: NIST Special Publication 811 (2008), appendix B: lb = 0.45359237 kg, in = 0.0254 m, gal = 231 in3 and
 * Btu_IT = 1055.05585262 J exactly; everything else follows from these by whole numbers. */
#include "base/units.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

#define KG_LB        0.45359237                     /* NIST SP 811 B.8, exact */
#define M_IN         0.0254                         /* NIST SP 811 B.8, exact */
#define M_FT         (12 * M_IN)                    /* 12 in */
#define L_GAL        3.785411784                    /* US gallon, 231 in3, NIST SP 811 B.8, exact */
#define M_MI         1609.344                       /* 5280 ft, NIST SP 811 B.8, exact */
#define MJ_KG_BTU_LB 0.002326                       /* Btu_IT per lb, NIST SP 811 B.8, exact */
#define KG_M3_LB_FT3 (KG_LB / (M_FT * M_FT * M_FT)) /* from the two above */

struct unit {
  enum pw_dim dim;
  const char *names;      /* spellings between blanks; the first is the one shown */
  double factor, divisor; /* value in SI = (number - zero) * factor / divisor; two, so that decimals stay exact */
  double zero;
};

/* Larger units first: a compound quantity must go down this table. */
static const struct unit UNITS[] = {
    {PW_DIM_EACH, " each pc pcs piece pieces ", 1, 1, 0},
    {PW_DIM_EACH, " dozen doz ", 12, 1, 0},
    {PW_DIM_GUESTS, " guests guest heads head people ", 1, 1, 0},
    {PW_DIM_MASS, " t tonne tonnes ", 1000, 1, 0},
    {PW_DIM_MASS, " kg kilo kilos kilogram kilograms ", 1, 1, 0},
    {PW_DIM_MASS, " lb lbs pound pounds ", KG_LB, 1, 0},
    {PW_DIM_MASS, " oz ounce ounces ", KG_LB, 16, 0},
    {PW_DIM_MASS, " g gram grams ", 1, 1000, 0},
    {PW_DIM_LENGTH, " mi mile miles ", M_MI, 1, 0},
    {PW_DIM_LENGTH, " km ", 1000, 1, 0},
    {PW_DIM_LENGTH, " m metre metres meter meters ", 1, 1, 0},
    {PW_DIM_LENGTH, " yd yard yards ", 3 * M_FT, 1, 0},
    {PW_DIM_LENGTH, " ft foot feet ' \342\200\262 \342\200\231 ", M_FT, 1, 0},
    {PW_DIM_LENGTH, " in inch inches \" \342\200\263 \342\200\235 '' ", M_IN, 1, 0},
    {PW_DIM_LENGTH, " cm ", 1, 100, 0},
    {PW_DIM_LENGTH, " mm ", 1, 1000, 0},
    {PW_DIM_AREA, " m2 sqm ", 1, 1, 0},
    {PW_DIM_AREA, " ft2 sqft ", M_FT *M_FT, 1, 0},
    {PW_DIM_AREA, " in2 sqin ", M_IN *M_IN, 1, 0},
    {PW_DIM_AREA, " cm2 ", 1, 10000, 0},
    {PW_DIM_VOLUME, " gal gallon gallons ", L_GAL, 1, 0},
    {PW_DIM_VOLUME, " L litre litres liter liters ", 1, 1, 0},
    {PW_DIM_VOLUME, " qt quart quarts ", L_GAL, 4, 0},
    {PW_DIM_VOLUME, " pt pint pints ", L_GAL, 8, 0},
    {PW_DIM_VOLUME, " cup cups ", L_GAL, 16, 0},
    {PW_DIM_VOLUME, " floz ", L_GAL, 128, 0},
    {PW_DIM_VOLUME, " tbsp tablespoon tablespoons ", L_GAL, 256, 0},
    {PW_DIM_VOLUME, " tsp teaspoon teaspoons ", L_GAL, 768, 0},
    {PW_DIM_VOLUME, " mL ", 1, 1000, 0},
    {PW_DIM_TEMP, " F \302\260F degF ", 5, 9, 32},
    {PW_DIM_TEMP, " C \302\260C degC ", 1, 1, 0},
    {PW_DIM_TEMP_DIFF, " F \302\260F degF ", 5, 9, 0},
    {PW_DIM_TEMP_DIFF, " C \302\260C degC ", 1, 1, 0},
    {PW_DIM_TEMP_DIFF, " K ", 1, 1, 0},
    {PW_DIM_DURATION, " d day days ", 1440, 1, 0},
    {PW_DIM_DURATION, " h hr hrs hour hours ", 60, 1, 0},
    {PW_DIM_DURATION, " min mins minute minutes ", 1, 1, 0},
    {PW_DIM_DURATION, " s sec second seconds ", 1, 60, 0},
    {PW_DIM_FRACTION, " % percent pct ", 1, 100, 0},
    {PW_DIM_SPEED, " mph mi/h ", M_MI, 3600, 0},
    {PW_DIM_SPEED, " km/h kph ", 10, 36, 0},
    {PW_DIM_SPEED, " m/s ", 1, 1, 0},
    {PW_DIM_HEAT, " Btu/lb ", MJ_KG_BTU_LB, 1, 0},
    {PW_DIM_HEAT, " MJ/kg ", 1, 1, 0},
    {PW_DIM_HEAT, " kJ/kg ", 1, 1000, 0},
    {PW_DIM_HEAT, " kWh/kg ", 3.6, 1, 0},
    {PW_DIM_DENSITY, " lb/ft3 ", KG_M3_LB_FT3, 1, 0},
    {PW_DIM_DENSITY, " kg/m3 ", 1, 1, 0},
    {PW_DIM_DIFFUSIVITY, " mm2/s ", 1, 1000000, 0},
    {PW_DIM_DIFFUSIVITY, " m2/s ", 1, 1, 0},
    {PW_DIM_PER_HOUR, " /h ", 1, 1, 0},
};
enum { N_UNITS = sizeof UNITS / sizeof *UNITS };

static const struct {
  const char *noun, *units, *example;
  bool is_compound; /* "8 lb 4 oz" */
} DIMS[PW_DIM__COUNT] = {
    [PW_DIM_NUMBER] = {"a plain number", "", "12", false},
    [PW_DIM_EACH] = {"a count", "each, dozen", "2 each", false},
    [PW_DIM_GUESTS] = {"a number of guests", "guests", "40 guests", false},
    [PW_DIM_MASS] = {"a weight", "lb, oz, kg, g", "14 lb", true},
    [PW_DIM_LENGTH] = {"a length", "in, ft, yd, mi, mm, cm, m, km", "36 in", true},
    [PW_DIM_AREA] = {"an area", "ft2, in2, m2, cm2", "1.5 m2", false},
    [PW_DIM_VOLUME] = {"a volume", "gal, qt, pt, cup, fl oz, tbsp, tsp, L, mL", "1 gal", true},
    [PW_DIM_TEMP] = {"a temperature", "F, C", "250 F", false},
    [PW_DIM_TEMP_DIFF] = {"a temperature difference", "F, C, K", "-10 F", false},
    [PW_DIM_DURATION] = {"a length of time", "d, h, min, s", "6 h 30 min", true},
    [PW_DIM_FRACTION] = {"a share", "%", "12.5 %", false},
    [PW_DIM_SPEED] = {"a speed", "mph, km/h, m/s", "8 mph", false},
    [PW_DIM_HEAT] = {"a heat value", "Btu/lb, MJ/kg, kJ/kg, kWh/kg", "8600 Btu/lb", false},
    [PW_DIM_DENSITY] = {"a density", "lb/ft3, kg/m3", "425 kg/m3", false},
    [PW_DIM_DIFFUSIVITY] = {"a thermal diffusivity", "mm2/s, m2/s", "0.132 mm2/s", false},
    [PW_DIM_PER_HOUR] = {"a number per hour", "per h", "3 per h", false},
};

const char *pw_dim_noun(enum pw_dim dim) { return DIMS[dim].noun; }
const char *pw_dim_units(enum pw_dim dim) { return DIMS[dim].units; }
const char *pw_dim_example(enum pw_dim dim) { return DIMS[dim].example; }
bool pw_dim_is_compound(enum pw_dim dim) { return DIMS[dim].is_compound; }

const char *pw_dim_spellings(enum pw_dim dim, int i)
{
  for (int row = 0; row < N_UNITS; row++)
    if (UNITS[row].dim == dim && i-- == 0)
      return UNITS[row].names;
  return NULL;
}

static bool same_word(const char *a, size_t n, const char *b, size_t m)
{
  if (n != m)
    return false;
  for (size_t i = 0; i < n; i++)
    if (tolower((unsigned char)a[i]) != tolower((unsigned char)b[i]))
      return false;
  return true;
}

/* Row of the unit spelled by n bytes of `word`, wanted dimension first, or -1. */
static int unit_find(const char *word, size_t n, enum pw_dim dim)
{
  int other = -1;
  for (int i = 0; i < N_UNITS; i++) {
    for (const char *p = UNITS[i].names + 1; *p;) {
      size_t m = 0;
      while (p[m] && p[m] != ' ')
        m++;
      if (same_word(word, n, p, m)) {
        if (UNITS[i].dim == dim)
          return i;
        if (other < 0)
          other = i;
      }
      p += m + 1;
    }
  }
  return other;
}

static const char *fault(char *why, size_t size, enum pw_dim dim, const char *what)
{
  const char *units = DIMS[dim].units;
  if (*units)
    snprintf(why, size, "%s; write %s such as \"%s\" (units: %s)", what, DIMS[dim].noun, DIMS[dim].example, units);
  else
    snprintf(why, size, "%s; write %s such as %s", what, DIMS[dim].noun, DIMS[dim].example);
  return why;
}

static const char *skip_blanks(const char *p)
{
  while (*p == ' ')
    p++;
  return p;
}

/* A decimal, or a kitchen fraction: "3/4", "1 1/2".  Returns the fault. */
static enum pw_num_fault number_scan(const char *text, double *out, const char **end)
{
  struct pw_decimal d, over;
  const char *p;
  enum pw_num_fault f = pw_decimal_scan(text, &d, &p);
  if (f != PW_NUM_OK)
    return f;
  *out = pw_decimal_value(d);
  *end = p;
  if (d.scale || d.is_negative)
    return PW_NUM_OK;
  double whole = 0;
  if (*p == ' ') { /* "1 1/2 in" */
    struct pw_decimal top;
    const char *q;
    if (pw_decimal_scan(skip_blanks(p), &top, &q) != PW_NUM_OK || *q != '/' || top.scale || top.is_negative)
      return PW_NUM_OK;
    whole = *out;
    d = top;
    p = q;
  }
  if (*p == '/' && pw_decimal_scan(p + 1, &over, &p) == PW_NUM_OK && !over.scale && !over.is_negative &&
      over.digits >= 2 && over.digits <= 64 && d.digits > 0 && d.digits < over.digits) {
    *out = whole + (double)d.digits / (double)over.digits;
    *end = p;
  }
  return PW_NUM_OK;
}

/* Length of the unit word at p.  "per x" is one word; words of compound dimensions end before a digit. */
static size_t word_length(const char *p, enum pw_dim dim)
{
  return DIMS[dim].is_compound ? strcspn(p, " 0123456789") : strcspn(p, " ");
}

const char *pw_quantity_parse(const char *text, enum pw_dim dim, double *si, char *why, size_t size)
{
  char what[256];
  if (strlen(text) > PW_QUANTITY_TEXT_MAX)
    return fault(why, size, dim, "this is too long for a quantity");
  double sum = 0;
  int last = -1;
  for (const char *p = text; *p || last < 0;) {
    double number;
    enum pw_num_fault f = number_scan(p, &number, &p);
    if (f == PW_NUM_LONG)
      return fault(why, size, dim, "the number has more than 15 digits");
    if (f != PW_NUM_OK) {
      const char *comma = last < 0 && *p == '.' ? " (write 0.5, not .5)" : "";
      snprintf(what, sizeof what, "\"%s\" is not %s%s", text, DIMS[dim].noun, comma);
      return fault(why, size, dim, what);
    }
    p = skip_blanks(p);
    if (*p == ',') {
      snprintf(what, sizeof what, "\"%s\" has a comma in the number: write 1500 or 1.5", text);
      return fault(why, size, dim, what);
    }
    size_t n = word_length(p, dim);
    char word[PW_QUANTITY_TEXT_MAX + 1];
    snprintf(word, sizeof word, "%.*s", (int)n, p);
    p = skip_blanks(p + n);
    if (strcmp(word, "fl") == 0 && strncmp(p, "oz", 2) == 0) { /* the one unit of two words */
      snprintf(word, sizeof word, "floz");
      p = skip_blanks(p + 2);
    }
    if (dim == PW_DIM_PER_HOUR && strcmp(word, "per") == 0) {
      n = word_length(p, dim);
      int row = unit_find(p, n, PW_DIM_DURATION);
      if (row < 0 || UNITS[row].dim != PW_DIM_DURATION || UNITS[row].factor < 59 || UNITS[row].factor > 61) {
        snprintf(what, sizeof what, "\"%s\" is not counted per hour", text);
        return fault(why, size, dim, what);
      }
      snprintf(word, sizeof word, "/h");
      p = skip_blanks(p + n);
    }
    if (!*word && (dim == PW_DIM_NUMBER || dim == PW_DIM_EACH) && !*p && last < 0) {
      *si = number;
      return NULL;
    }
    if (!*word) {
      snprintf(what, sizeof what, "\"%s\" has no unit", text);
      return fault(why, size, dim, what);
    }
    int row = unit_find(word, strlen(word), dim);
    if (row < 0 || UNITS[row].dim != dim) {
      if (row < 0)
        snprintf(what, sizeof what, "\"%s\" is not a unit known here", word);
      else
        snprintf(what, sizeof what, "\"%s\" is the unit of %s", word, DIMS[UNITS[row].dim].noun);
      return fault(why, size, dim, what);
    }
    if (last >= 0 && (!DIMS[dim].is_compound || row <= last || number < 0)) {
      snprintf(what, sizeof what, "\"%s\" does not add up to one quantity (larger unit first, each once)", text);
      return fault(why, size, dim, what);
    }
    double part = (number - UNITS[row].zero) * UNITS[row].factor / UNITS[row].divisor;
    sum = sum < 0 ? sum - part : sum + part;
    last = row;
  }
  *si = sum;
  return NULL;
}

const char *pw_rate_parse(const char *text, enum pw_dim dim, int money_digits, double *cents_per_si, char *why,
                          size_t size)
{
  static const char *const EXAMPLE[PW_DIM__COUNT] = {[PW_DIM_EACH] = "each",
                                                     [PW_DIM_MASS] = "lb",
                                                     [PW_DIM_LENGTH] = "mi",
                                                     [PW_DIM_VOLUME] = "gal",
                                                     [PW_DIM_DURATION] = "h"};
  struct pw_decimal d;
  const char *p = text;
  enum pw_num_fault f = strlen(text) > PW_QUANTITY_TEXT_MAX ? PW_NUM_LONG : pw_decimal_scan(text, &d, &p);
  const char *what = NULL;
  int row = -1;
  if (f == PW_NUM_LONG) {
    what = "has too many digits";
  } else if (f != PW_NUM_OK) {
    what = "is not money per unit";
  } else if (d.is_negative) {
    what = "is negative";
  } else if (d.scale > money_digits + 4 || d.digits > INT64_C(10000000000000)) {
    what = "has too many digits";
  } else {
    p = skip_blanks(p);
    if (*p == '/')
      p = skip_blanks(p + 1);
    else if (strncmp(p, "per ", 4) == 0)
      p = skip_blanks(p + 4);
    else
      what = *p ? "is not money per unit" : "does not say per what";
    if (!what) {
      row = unit_find(p, strlen(p), dim);
      if (row < 0 || UNITS[row].dim != dim)
        what = "is per the wrong unit";
    }
  }
  if (what) {
    snprintf(why, size, "\"%s\" %s; write a price such as \"4.20 per %s\" (units: %s)", text, what,
             EXAMPLE[dim] ? EXAMPLE[dim] : "?", DIMS[dim].units);
    return why;
  }
  double cents = (double)d.digits;
  for (; d.scale < money_digits; d.scale++)
    cents *= 10;
  double power = 1;
  for (; d.scale > money_digits; d.scale--)
    power *= 10;
  *cents_per_si = cents / power / (UNITS[row].factor / UNITS[row].divisor);
  return NULL;
}
