/* waves.h - in how many waves a cut is cooked for a service, and when each is ready [D4, A11]. */
#ifndef PW_WAVES_H
#define PW_WAVES_H

#include "pw/event.h"

enum { PW_WAVES_MAX = 24 }; /**< as many as an event may ask for */

/** A stretch of a service and the pieces that feed it.  They are whole, rested and hot when it begins, and cut as they are needed. */
struct pw_wave {
  int from_at_min, until_at_min; /**< first and last plate */
  int pieces;                    /**< 1 or more */
};

struct pw_waves {
  struct pw_wave list[PW_WAVES_MAX];
  int n; /**< 1 or more, by time; the first begins with its service */
};

/** Share of the guests that have come `minute` minutes after the service begins. */
double pw_come_frac(const struct pw_service *service, int minute);

/** When the last plate of a service goes out: the end of its last stretch in which guests come. */
int pw_last_plate_min(const struct pw_service *service);

/** Minutes after a wave's first plate during which its last piece stays whole, so that it keeps in its pan until the last one:
 *  0 or more. */
int pw_wave_whole_min(const struct pw_wave *wave, const struct pw_cut *cut);

/** How many waves an event asks for: the dish's own, else the service's; 0: none asked for. */
int pw_waves_asked(const struct pw_event *ev, int service, int cut);

/** As many waves as the event asks for, or the fewest from `n_least` on whose pieces keep until their last plate: whole, with room for `early_min` of
 *  earliness, then in pans.  Where none does, those that come nearest.  What is cooked the day before is one wave. */
void pw_waves_make(struct pw_waves *out, const struct pw_event *ev, int service, int cut, int pieces, int early_min,
                   int n_least, bool is_day_before);

#endif
