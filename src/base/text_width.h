/* text_width.h - columns of one character on a terminal. */
#ifndef PW_TEXT_WIDTH_H
#define PW_TEXT_WIDTH_H

#include <stdint.h>

/** Columns of a code point that is safe to show: 0 combining marks, 2 wide East Asian characters and pictographs,
 *  1 the rest. */
int pw_text_width_of(uint32_t cp);

#endif
