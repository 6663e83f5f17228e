/* Quantities and rates.  Outside values: NIST SP 811 (2008) B.8, and GNU units 2.22 where marked. */
#include "base/units.h"
#include "harness.h"

static const struct {
  const char *text;
  enum pw_dim dim;
  double si;
} good[] = {
    {"14 lb", PW_DIM_MASS, 6.35029318},       /* 14 x 0.45359237 */
    {"8 lb 4 oz", PW_DIM_MASS, 3.7421370525}, /* 8.25 lb */
    {"5 oz", PW_DIM_MASS, 0.141747615625},    /* NIST: oz = 28.349523125 g */
    {"18g", PW_DIM_MASS, 0.018},
    {"6.5 kg", PW_DIM_MASS, 6.5},
    {"36 in", PW_DIM_LENGTH, 0.9144},
    {"5 ft 6 in", PW_DIM_LENGTH, 1.6764},
    {"1 1/2 in", PW_DIM_LENGTH, 0.0381},
    {"3/4 in", PW_DIM_LENGTH, 0.01905},
    {"28 mi", PW_DIM_LENGTH, 45061.632},
    {"90 cm", PW_DIM_LENGTH, 0.9},
    {"4 ft2", PW_DIM_AREA, 0.37161216},
    {"2 m2", PW_DIM_AREA, 2},
    {"84''", PW_DIM_LENGTH, 84 * 0.0254},
    {"84\xE2\x80\x9D", PW_DIM_LENGTH, 84 * 0.0254}, /* the quote that word processors make of it */
    {"84\xE2\x80\xB3", PW_DIM_LENGTH, 84 * 0.0254}, /* double prime */
    {"7'", PW_DIM_LENGTH, 84 * 0.0254},
    {"7' 2\"", PW_DIM_LENGTH, 86 * 0.0254},
    {"7'2\"", PW_DIM_LENGTH, 86 * 0.0254},
    {"7\xE2\x80\xB2 2\xE2\x80\xB3", PW_DIM_LENGTH, 86 * 0.0254},
    {"84\"", PW_DIM_LENGTH, 84 * 0.0254}, /* the inch of 1959 is 25.4 mm: NIST SP 811 B.6 */
    {"1 gal", PW_DIM_VOLUME, 3.785411784},
    {"1 qt", PW_DIM_VOLUME, 0.946352946},
    {"8 fl oz", PW_DIM_VOLUME, 0.2365882365},
    {"1 cup", PW_DIM_VOLUME, 0.2365882365},
    {"2 tbsp", PW_DIM_VOLUME, 0.02957352956250}, /* GNU units: 1 fl oz */
    {"3 tsp", PW_DIM_VOLUME, 0.01478676478125},  /* GNU units: 1 tbsp */
    {"1.5 L", PW_DIM_VOLUME, 1.5},
    {"250 F", PW_DIM_TEMP, 121.11111111111111},
    {"212 F", PW_DIM_TEMP, 100},
    {"-40 F", PW_DIM_TEMP, -40},
    {"120 C", PW_DIM_TEMP, 120},
    {"250 \302\260F", PW_DIM_TEMP, 121.11111111111111},
    {"-10 F", PW_DIM_TEMP_DIFF, -5.555555555555556},
    {"18 F", PW_DIM_TEMP_DIFF, 10},
    {"5 K", PW_DIM_TEMP_DIFF, 5},
    {"6 h 30 min", PW_DIM_DURATION, 390},
    {"6h30min", PW_DIM_DURATION, 390},
    {"45 min", PW_DIM_DURATION, 45},
    {"2 d", PW_DIM_DURATION, 2880},
    {"1.5 h", PW_DIM_DURATION, 90},
    {"90 s", PW_DIM_DURATION, 1.5},
    {"12.5 %", PW_DIM_FRACTION, 0.125},
    {"300%", PW_DIM_FRACTION, 3},
    {"8 mph", PW_DIM_SPEED, 3.57632},
    {"3 m/s", PW_DIM_SPEED, 3},
    {"36 km/h", PW_DIM_SPEED, 10},
    {"8600 Btu/lb", PW_DIM_HEAT, 20.0036}, /* NIST: Btu/lb = 2326 J/kg */
    {"20 MJ/kg", PW_DIM_HEAT, 20},
    {"300 kg/m3", PW_DIM_DENSITY, 300},
    {"1 lb/ft3", PW_DIM_DENSITY, 16.01846337396014}, /* GNU units */
    {"0.13 mm2/s", PW_DIM_DIFFUSIVITY, 1.3e-7},
    {"12", PW_DIM_EACH, 12},
    {"1.5 each", PW_DIM_EACH, 1.5},
    {"2 dozen", PW_DIM_EACH, 24},
    {"40 guests", PW_DIM_GUESTS, 40},
    {"3 per h", PW_DIM_PER_HOUR, 3},
    {"2.5 per hour", PW_DIM_PER_HOUR, 2.5},
    {"6", PW_DIM_NUMBER, 6},
    {"14 LB", PW_DIM_MASS, 6.35029318},
};

START_TEST(accepted)
{
  char why[400] = "";
  double si = NAN;
  const char *fault = pw_quantity_parse(good[_i].text, good[_i].dim, &si, why, sizeof why);
  ck_assert_msg(!fault, "%s: %s", good[_i].text, why);
  PW_NEAR(good[_i].text, si, good[_i].si, 0, 1e-15);
}
END_TEST

static const struct {
  const char *text;
  enum pw_dim dim;
  const char *says; /* part of the message */
} bad[] = {
    {"14", PW_DIM_MASS, "\"14\" has no unit; write a weight such as \"14 lb\" (units: lb, oz, kg, g)"},
    {"14 F", PW_DIM_MASS, "\"F\" is the unit of a temperature; write a weight"},
    {"14 stones", PW_DIM_MASS, "\"stones\" is not a unit known here"},
    {"4 oz 8 lb", PW_DIM_MASS, "larger unit first"},
    {"4 lb 8 lb", PW_DIM_MASS, "larger unit first"},
    {"8 lb 4", PW_DIM_MASS, "has no unit"},
    {"8 lb and 4 oz", PW_DIM_MASS, "is not a weight"},
    {"8 lb -4 oz", PW_DIM_MASS, "larger unit first"},
    {"about 5 lb", PW_DIM_MASS, "\"about 5 lb\" is not a weight"},
    {"1,500 lb", PW_DIM_MASS, "comma"},
    {".5 lb", PW_DIM_MASS, "write 0.5, not .5"},
    {"1e3 kg", PW_DIM_MASS, "not a unit"},
    {"nan lb", PW_DIM_MASS, "is not a weight"},
    {"inf", PW_DIM_MASS, "is not a weight"},
    {"", PW_DIM_MASS, "is not a weight"},
    {"250", PW_DIM_TEMP, "write a temperature such as \"250 F\" (units: F, C)"},
    {"250 lb", PW_DIM_TEMP, "\"lb\" is the unit of a weight"},
    {"40 F 3 F", PW_DIM_TEMP, "does not add up"},
    {"12.5", PW_DIM_FRACTION, "write a share such as \"12.5 %\""},
    {"90 m", PW_DIM_DURATION, "\"m\" is the unit of a length; write a length of time"},
    {"6:30", PW_DIM_DURATION, "6 h 30 min"},
    {"3 per day", PW_DIM_PER_HOUR, "not counted per hour"},
    {"3 per", PW_DIM_PER_HOUR, "not counted per hour"},
    {"3", PW_DIM_PER_HOUR, "has no unit"},
    {"12 lb", PW_DIM_NUMBER, "write a plain number such as 12"},
    {"5/4 in", PW_DIM_LENGTH, "not a unit"},
    {"12345678901234567 lb", PW_DIM_MASS, "15 digits"},
    {"1                                                                                    lb", PW_DIM_MASS,
     "too long"},
};

START_TEST(refused)
{
  char why[400] = "";
  double si = 77;
  const char *fault = pw_quantity_parse(bad[_i].text, bad[_i].dim, &si, why, sizeof why);
  ck_assert_msg(fault && strstr(fault, bad[_i].says), "%s: %s", bad[_i].text, why);
  ck_assert(si == 77);
}
END_TEST

/* As long as a quantity may be, with blanks between number and unit, and one longer. */
START_TEST(longest)
{
  char text[PW_QUANTITY_TEXT_MAX + 2], why[400];
  double si = 0;
  for (int more = 0; more < 2; more++) {
    snprintf(text, sizeof text, "2%*s", PW_QUANTITY_TEXT_MAX - 1 + more, "kg");
    const char *fault = pw_quantity_parse(text, PW_DIM_MASS, &si, why, sizeof why);
    ck_assert_msg((fault != NULL) == (more == 1), "%d characters", (int)strlen(text));
  }
  ck_assert(si == 2);
}
END_TEST

static const struct {
  const char *text;
  enum pw_dim dim;
  int digits;
  double cents; /* per SI unit, or NAN */
  const char *says;
} rates[] = {
    {"4.20 per lb", PW_DIM_MASS, 2, 420 / 0.45359237, NULL},
    {"4.20/lb", PW_DIM_MASS, 2, 420 / 0.45359237, NULL},
    {"3.10 per kg", PW_DIM_MASS, 2, 310, NULL},
    {"0.4525 per kg", PW_DIM_MASS, 2, 45.25, NULL},
    {"1.15 per L", PW_DIM_VOLUME, 2, 115, NULL},
    {"0.40 per mi", PW_DIM_LENGTH, 2, 40 / 1609.344, NULL},
    {"24 per h", PW_DIM_DURATION, 2, 40, NULL},
    {"2400 per h", PW_DIM_DURATION, 0, 40, NULL},
    {"0.30 per each", PW_DIM_EACH, 2, 30, NULL},
    {"4.20", PW_DIM_MASS, 2, NAN, "does not say per what"},
    {"4.20 lb", PW_DIM_MASS, 2, NAN, "is not money per unit"},
    {"$4.20 per lb", PW_DIM_MASS, 2, NAN, "is not money per unit"},
    {"4.20 per gal", PW_DIM_MASS, 2, NAN, "per the wrong unit"},
    {"-4.20 per lb", PW_DIM_MASS, 2, NAN, "negative"},
    {"4.1234567 per lb", PW_DIM_MASS, 2, NAN, "too many digits"},
    {"24", PW_DIM_DURATION, 2, NAN, "such as \"4.20 per h\""},
};

START_TEST(rate)
{
  char why[400] = "";
  double cents = NAN;
  const char *fault = pw_rate_parse(rates[_i].text, rates[_i].dim, rates[_i].digits, &cents, why, sizeof why);
  if (rates[_i].says)
    ck_assert_msg(fault && strstr(fault, rates[_i].says), "%s: %s", rates[_i].text, why);
  else
    PW_NEAR(rates[_i].text, cents, rates[_i].cents, 0, 1e-15);
}
END_TEST

/* The example a message shows must itself be accepted. */
START_TEST(example)
{
  char why[400] = "";
  double si;
  ck_assert_msg(!pw_quantity_parse(pw_dim_example((enum pw_dim)_i), (enum pw_dim)_i, &si, why, sizeof why), "%s", why);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("units");
  TCase *t = tcase_create("units");
  tcase_add_loop_test(t, accepted, 0, sizeof good / sizeof *good);
  tcase_add_test(t, longest);
  tcase_add_loop_test(t, refused, 0, sizeof bad / sizeof *bad);
  tcase_add_loop_test(t, rate, 0, sizeof rates / sizeof *rates);
  tcase_add_loop_test(t, example, 0, PW_DIM__COUNT);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
