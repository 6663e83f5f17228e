/* text_width.h - columns of one character on a terminal. */
#ifndef PW_TEXT_WIDTH_H
#define PW_TEXT_WIDTH_H

#include <stdbool.h>
#include <stdint.h>

/** Columns of a code point that is safe to show: 0 combining marks, 2 wide East Asian characters and pictographs,
 *  1 the rest. */
int pw_text_width_of(uint32_t cp);
/** Takes room at most, and shows nothing: blanks, fillers, zero-width characters, marks without a letter. */
bool pw_text_is_unseen_cp(uint32_t cp);

#endif
