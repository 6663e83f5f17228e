/* units.h - quantities as people write them ("8 lb 4 oz", "6 h 30 min", "12.5 %", "250 F", "4.20 per lb") into SI.
 * Input: one text and the dimension its field has.  Output: the value in the unit named at the dimension. */
#ifndef PW_UNITS_H
#define PW_UNITS_H

#include "base/num.h"

/** What a quantity measures, and the unit its value has after reading. */
enum pw_dim {
  PW_DIM_NUMBER,      /**< plain number, no unit */
  PW_DIM_EACH,        /**< count; the unit "each" may be left out */
  PW_DIM_GUESTS,      /**< guests */
  PW_DIM_MASS,        /**< kg */
  PW_DIM_LENGTH,      /**< m */
  PW_DIM_AREA,        /**< m2 */
  PW_DIM_VOLUME,      /**< litre */
  PW_DIM_TEMP,        /**< degree Celsius */
  PW_DIM_TEMP_DIFF,   /**< kelvin */
  PW_DIM_DURATION,    /**< minute */
  PW_DIM_FRACTION,    /**< 0..1 from per cent */
  PW_DIM_SPEED,       /**< m/s */
  PW_DIM_HEAT,        /**< MJ/kg */
  PW_DIM_DENSITY,     /**< kg/m3 */
  PW_DIM_DIFFUSIVITY, /**< m2/s */
  PW_DIM_PER_HOUR,    /**< events per hour: "3 per h" */
  PW_DIM__COUNT
};

enum { PW_QUANTITY_TEXT_MAX = 80 }; /**< longest quantity read */

/** Reads the whole of `text`.  On success returns NULL and sets *si; else returns one sentence about the fault in
 *  `why` (size bytes): what was found, which units are accepted, an example. */
const char *pw_quantity_parse(const char *text, enum pw_dim dim, double *si, char *why, size_t size);

/** "4.20 per lb", "4.20/lb": money per unit of `dim` into minor units of money per SI unit of that dimension.
 *  Mass, length, volume, duration (per minute), each.  Up to four decimals beyond the currency's.  Result and
 *  `why` as in pw_quantity_parse(). */
const char *pw_rate_parse(const char *text, enum pw_dim dim, int money_digits, double *cents_per_si, char *why,
                          size_t size);

/** "a weight", "a temperature": for messages. */
const char *pw_dim_noun(enum pw_dim dim);
/** Accepted units, "lb, oz, kg, g"; "" where there is none. */
const char *pw_dim_units(enum pw_dim dim);
/** A well-formed example, "14 lb". */
const char *pw_dim_example(enum pw_dim dim);
/** Spellings of the i-th unit of a dimension, largest first, with a blank around each (" lb lbs pound pounds "), in any
 *  case of their letters; NULL past the last. */
const char *pw_dim_spellings(enum pw_dim dim, int i);
/** True when several units add up to one quantity, larger ones first ("8 lb 4 oz"). */
bool pw_dim_is_compound(enum pw_dim dim);

#endif
