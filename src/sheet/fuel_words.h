/* fuel_words.h - how much of a fuel to bring, in the words of the trade, for every writer [F1]. */
#ifndef PW_FUEL_WORDS_H
#define PW_FUEL_WORDS_H

#include "pw/plan.h"

struct pw_fuel_text {
  char s[192];
};

/** "5 sacks of 20 lb" for what comes in packs; "92 splits, 0.07 cord" for wood, in SI "92 splits, 0.24 m3 stacked";
 *  "" for a loose fuel that is neither. */
struct pw_fuel_text pw_fuel_measure(const struct pw_event *ev, const struct pw_fuel_line *line);

/** The same behind the weight: "84 lb, 5 sacks of 20 lb". */
struct pw_fuel_text pw_fuel_amount(const struct pw_event *ev, const struct pw_fuel_line *line);

#endif
