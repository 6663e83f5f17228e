/* utf8.h - the gate for text that leaves the program: valid UTF-8, nothing that moves a cursor, known width. */
#ifndef PW_UTF8_H
#define PW_UTF8_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/** Decodes the character at *p (p < end) and steps over it.  Returns its code point, or -1 for bytes that are no
 *  UTF-8 (overlong, surrogate, beyond U+10FFFF, cut off); then exactly one byte is stepped over. */
int32_t pw_utf8_next(const char **p, const char *end);

/** True for characters no sheet may carry: controls (C0, C1, DEL), bidirectional marks, separators U+2028/2029,
 *  the byte-order mark and non-characters. */
bool pw_utf8_is_unsafe(int32_t code);

/** Columns a character takes on a terminal: 0 (combining), 1 or 2 (wide East Asian, emoji). */
int pw_utf8_width(int32_t code);

/** Columns a whole terminated text takes; unsafe or broken characters count as pw_utf8_clean() prints them. */
int pw_utf8_text_width(const char *text);

/** Writes `text` (n bytes) so that a terminal shows it as one harmless line: unsafe characters become <U+202E>,
 *  broken bytes <C3>, a tab one space.  At most `size` bytes with the terminator are written, never cutting a
 *  character.  Returns the bytes written without the terminator. */
size_t pw_utf8_clean(char *out, size_t size, const char *text, size_t n);

#endif
