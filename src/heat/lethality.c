/* lethality.c - the published tables and the rates behind them [H1]. */
#include "heat/lethality.h"

#include <math.h>

/* FSIS Appendix A, Compliance Guidelines for Meeting Lethality Performance Standards (1999); same range as table 2 of
 * FSIS-GD-2021-14. */
const struct pw_lethality_row pw_lethality_meat_65[31] = {
    {130, 6720}, {131, 5340}, {132, 4260}, {133, 3360}, {134, 2700}, {135, 2160}, {136, 1680}, {137, 1380},
    {138, 1080}, {139, 900},  {140, 720},  {141, 540},  {142, 480},  {143, 360},  {144, 300},  {145, 240},
    {146, 169},  {147, 134},  {148, 107},  {149, 85},   {150, 67},   {151, 54},   {152, 43},   {153, 34},
    {154, 27},   {155, 22},   {156, 17},   {157, 14},   {158, 0},    {159, 0},    {160, 0}};
const struct pw_lethality_row pw_lethality_meat_70[31] = {
    {130, 7260}, {131, 5820}, {132, 4620}, {133, 3720}, {134, 2820}, {135, 2220}, {136, 1920}, {137, 1440},
    {138, 1140}, {139, 900},  {140, 720},  {141, 600},  {142, 480},  {143, 360},  {144, 300},  {145, 240},
    {146, 182},  {147, 144},  {148, 115},  {149, 91},   {150, 72},   {151, 58},   {152, 46},   {153, 37},
    {154, 29},   {155, 23},   {156, 19},   {157, 15},   {158, 0},    {159, 0},    {160, 0}};
/* FDA Food Code 2022 3-401.11(B)(1) */
const struct pw_lethality_row pw_lethality_roast[17] = {
    {130, 6720}, {131, 5340}, {133, 3360}, {135, 2160}, {136, 1680}, {138, 1080}, {140, 720}, {142, 480}, {144, 300},
    {145, 240},  {147, 134},  {149, 85},   {151, 54},   {153, 34},   {155, 22},   {157, 14},  {158, 0}};

/* FSIS-GD-2021-14 tables 3 (chicken) and 4 (turkey), 12 % fat: 7-log times; the slower of the two where both are known */
static const struct pw_lethality_row poultry[] = {{136, 4884}, {138, 3174}, {140, 2100}, {142, 1422}, {145, 828},
                                                  {150, 294},  {155, 78},   {160, 26.9}, {164, 11.7}};

#define MEAT_FIRST_F   130.0
#define MEAT_FIRST_MIN 112.0 /* FSIS Appendix A, 130 F, 6.5 log */
#define MEAT_Z_F       10.0  /* slope of the table's 6.5-log column */
#define MEAT_LOG       6.5   /* 9 CFR 318.17 */
#define POULTRY_LOG    7.0   /* 9 CFR 381.150 */
#define ROUNDING_F     0.1   /* 54.4 C is printed for 130 F */

double pw_lethality_need_log(enum pw_kind kind) { return kind == PW_KIND_POULTRY ? POULTRY_LOG : MEAT_LOG; }

static double poultry_seconds(double f)
{
  int last = (int)(sizeof poultry / sizeof poultry[0]) - 1, i = 1;
  while (i < last && poultry[i].fahrenheit < f)
    i++;
  const struct pw_lethality_row *a = &poultry[i - 1], *b = &poultry[i];
  double way = (f - a->fahrenheit) / (b->fahrenheit - a->fahrenheit);
  return exp(log(a->seconds) + way * (log(b->seconds) - log(a->seconds)));
}

double pw_lethality_rate_log_min(enum pw_kind kind, double core_c)
{
  double f = core_c * 1.8 + 32.0;
  if (kind == PW_KIND_POULTRY)
    return f < poultry[0].fahrenheit - ROUNDING_F ? 0.0 : POULTRY_LOG * 60.0 / poultry_seconds(f);
  if (f < MEAT_FIRST_F - ROUNDING_F)
    return 0.0;
  return MEAT_LOG / MEAT_FIRST_MIN * pow(10.0, (f - MEAT_FIRST_F) / MEAT_Z_F);
}
