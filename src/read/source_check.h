/* source_check.h - the gate for text that comes in: UTF-8, and nothing a person cannot see. */
#ifndef PW_SOURCE_CHECK_H
#define PW_SOURCE_CHECK_H

#include "base/ctx.h"

#include <stdbool.h>
#include <stddef.h>

/** True when the n bytes are UTF-8 without hidden characters (base/text.h says which); newlines in either form, tabs
 *  and a leading byte-order mark are allowed.  The first fault of each of the two kinds is reported, with its line
 *  and column, as "yaml-encoding" or "yaml-character". */
bool pw_source_check(const char *text, size_t n, const char *file, struct pw_ctx *ctx);

/** Bytes of a leading byte-order mark: 3 or 0. */
size_t pw_source_mark_size(const char *text, size_t n);

/** Byte offset of a place, n when the text has no such line or column. */
size_t pw_source_offset(const char *text, size_t n, int line, int col);

#endif
