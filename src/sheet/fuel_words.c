/* fuel_words.c - a fuel line as splits, cords or stacked cubic metres, and sacks. */
#include "sheet/fuel_words.h"

#include "base/format.h"
#include "heat/combust.h"
#include "plan/fire/feeds.h"
#include "sheet/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { PACK_LONGEST = 40 }; /* bytes; a longer word of the user's is printed as "pack" */

/** Cubic metres or cords, to the hundredth below one. */
static struct pw_short stacked(const struct pw_event *ev, const struct pw_fuel_line *line)
{
  struct pw_short out = {""};
  double cords = line->stacked_m3 > 0.0 ? pw_combust_cords(line->buy_kg, ev->fuels[line->fuel].kg_per_m3_stacked) : 0.0;
  if (line->stacked_m3 <= 0.0)
    return out;
  if (ev->units == PW_UNITS_SI)
    (void)snprintf(out.s, sizeof out.s, "%.40s\xC2\xA0m\xC2\xB3 stacked", pw_format_number(line->stacked_m3, 2).s);
  else if (cords < 1.0)
    (void)snprintf(out.s, sizeof out.s,
                   "%.40s\xC2\xA0"
                   "cord",
                   pw_format_number(fmax(cords, 0.01), 2).s);
  else
    (void)snprintf(out.s, sizeof out.s,
                   "%.40s\xC2\xA0"
                   "cords",
                   pw_format_number(cords, 1).s);
  return out;
}

/** The ending of several: "sacks", "boxes", "batches". */
struct pw_fuel_text pw_fuel_measure(const struct pw_event *ev, const struct pw_fuel_line *line)
{
  struct pw_fuel_text packs = {""}, splits = {""}, out;
  if (line->packs > 0) {
    const char *pack = strlen(line->pack) <= PACK_LONGEST ? line->pack : "pack";
    struct pw_plural said = pw_words_plural(pack, line->packs);
    (void)snprintf(packs.s, sizeof packs.s, "%d %.*s%s%s of %s", line->packs, said.n_stem, pack, said.ending, said.rest,
                   pw_format_weight(ev->units, line->pack_kg).s);
  }
  if (line->splits > 0)
    (void)snprintf(splits.s, sizeof splits.s, "%d %s", line->splits,
                   pw_feed_noun(&ev->fuels[line->fuel], line->splits));
  struct pw_short stack = stacked(ev, line);
  (void)snprintf(out.s, sizeof out.s, "%.90s%s%.20s%s%.60s", packs.s, *packs.s && *splits.s ? ", " : "", splits.s,
                 *stack.s && (*packs.s || *splits.s) ? ", " : "", stack.s);
  return out;
}

struct pw_fuel_text pw_fuel_amount(const struct pw_event *ev, const struct pw_fuel_line *line)
{
  struct pw_fuel_text measure = pw_fuel_measure(ev, line), out;
  (void)snprintf(out.s, sizeof out.s, "%.30s%s%.150s", pw_format_fuel(ev->units, line->buy_kg).s,
                 *measure.s ? ", " : "", measure.s);
  return out;
}
