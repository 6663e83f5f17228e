/* json.h - writing and reading JSON (RFC 8259).
 *
 * The writer streams into a buffer: keys in the order they come, one member of the root and one element of its
 * arrays to a line (plans differ line by line), reals with 12 significant digits, the same bytes for the same
 * values.  The reader parses with the library (the only file with jansson.h), and copies the result into the
 * arena, so that nothing has to be freed. */
#ifndef PW_JSON_H
#define PW_JSON_H

#include "base/buf.h"
#include "base/ctx.h"

#include <stdbool.h>
#include <stdint.h>

/* ---- writing -------------------------------------------------------------------------------- */

struct pw_json_out {
  struct pw_buf buf;
  int depth;
  bool is_empty[16]; /**< by depth: no member yet */
  bool is_object[16];
  const char *bad_key; /**< first key whose number was not finite, or NULL */
};

struct pw_json_out pw_json_out_in(struct pw_arena *arena);
/** In an object `key` names the member; in an array, and for the root, it is NULL. */
void pw_json_object(struct pw_json_out *out, const char *key);
void pw_json_array(struct pw_json_out *out, const char *key);
/** Closes the innermost object or array. */
void pw_json_end(struct pw_json_out *out);
/** A string; null for NULL. */
void pw_json_text(struct pw_json_out *out, const char *key, const char *text);
void pw_json_int(struct pw_json_out *out, const char *key, int64_t value);
void pw_json_real(struct pw_json_out *out, const char *key, double value);
void pw_json_bool(struct pw_json_out *out, const char *key, bool value);
void pw_json_null(struct pw_json_out *out, const char *key);
/** The finished text with a final newline.  PW_ERR_MEMORY; PW_ERR_INTERNAL with a diagnostic when a number was not
 *  finite or something is still open. */
pw_status pw_json_finish(struct pw_json_out *out, const char **text, size_t *n, struct pw_ctx *ctx);

/* ---- reading ---------------------------------------------------------------------------------- */

enum pw_json_type {
  PW_JSON_NULL,
  PW_JSON_BOOL,
  PW_JSON_INT,
  PW_JSON_REAL,
  PW_JSON_TEXT,
  PW_JSON_ARRAY,
  PW_JSON_OBJECT
};

struct pw_json {
  enum pw_json_type type;
  const char *key;       /**< in an object, else NULL */
  const char *text;      /**< PW_JSON_TEXT; well-formed UTF-8 without NUL, else unchecked */
  int64_t integer;       /**< PW_JSON_INT; PW_JSON_BOOL: 0 or 1 */
  double real;           /**< PW_JSON_REAL and PW_JSON_INT; finite */
  struct pw_json *items; /**< PW_JSON_ARRAY, PW_JSON_OBJECT: in the order of the text */
  size_t n;
};

enum { PW_JSON_BYTES_MAX = 256 * 1024 * 1024, PW_JSON_DEPTH_MAX = 32 };

/** Parses text[0..n).  Duplicate keys, numbers beyond 64 bits or the range of a double, NUL in a string, text over
 *  PW_JSON_BYTES_MAX and nesting over PW_JSON_DEPTH_MAX are faults.  PW_ERR_INPUT with a diagnostic (code "json")
 *  at its line and column in `file` (a name for the diagnostics, may be NULL); PW_ERR_MEMORY. */
pw_status pw_json_parse(const struct pw_json **root, const char *file, const char *text, size_t n, struct pw_ctx *ctx);

/** Member of an object, or NULL (also when `object` is NULL or no object). */
const struct pw_json *pw_json_get(const struct pw_json *object, const char *key);

/** "a number", "an object" ... for a diagnostic. */
const char *pw_json_type_words(enum pw_json_type type);

#endif
