/* diag.h - collecting what a person must read.  The library never prints; the command line does. */
#ifndef PW_DIAG_H
#define PW_DIAG_H

#include "base/ctx.h"

#include <stdbool.h>

/** Adds a diagnostic.  `code` must be a literal; `file` must outlive the context (or be NULL).
 *  Out of memory turns the text into a fixed one; the diagnostic is never lost. */
void pw_diag_add(struct pw_ctx *ctx, enum pw_severity severity, const char *code, const char *file, int line, int col,
                 const char *format, ...) __attribute__((format(printf, 7, 8)));

/** Adds what another context was told, or its errors alone; the texts are copied. */
void pw_diag_take(struct pw_ctx *ctx, const struct pw_ctx *from, bool errors_alone);

/** PW_ERR_INPUT when any error was added, else PW_OK. */
pw_status pw_diag_status(const struct pw_ctx *ctx);

#endif
