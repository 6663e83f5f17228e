/* diag.c - the list of diagnostics in the context. */
#include "base/diag.h"

#include "base/arena.h"

#include <stdarg.h>

void pw_diag_add(struct pw_ctx *ctx, enum pw_severity severity, const char *code, const char *file, int line, int col,
                 const char *format, ...)
{
  ctx->n_diags_total++;
  if (severity == PW_ERROR)
    ctx->n_errors++;
  if (ctx->n_diags >= PW_DIAG_MAX)
    return;
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(ctx->arena, format, args);
  va_end(args);
  ctx->diags[ctx->n_diags++] = (struct pw_diag){.severity = severity,
                                                .code = code,
                                                .file = file,
                                                .line = line,
                                                .col = col,
                                                .text = text ? text : "(out of memory while describing this fault)"};
}

void pw_diag_take(struct pw_ctx *ctx, const struct pw_ctx *from, bool errors_alone)
{
  for (int i = 0; i < from->n_diags; i++)
    if (from->diags[i].severity == PW_ERROR || !errors_alone)
      pw_diag_add(ctx, from->diags[i].severity, from->diags[i].code, from->diags[i].file, from->diags[i].line,
                  from->diags[i].col, "%s", from->diags[i].text);
}

pw_status pw_diag_status(const struct pw_ctx *ctx) { return ctx->n_errors ? PW_ERR_INPUT : PW_OK; }
