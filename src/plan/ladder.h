/* ladder.h - at which other head counts a job is priced. */
#ifndef PW_LADDER_H
#define PW_LADDER_H

enum { PW_LADDER_RUNGS = 7 };

/** Head counts around `planned` >= 1: about 50, 70, 85, 100, 115, 130, 150 % of it, rounded to what people say
 *  (multiples of 5 from 20 up, of 10 from 100, of 50 from 1000), ascending and distinct, `planned` itself among
 *  them; small parties are filled up with neighbours. */
void pw_ladder_guests(int guests[PW_LADDER_RUNGS], int planned);

#endif
