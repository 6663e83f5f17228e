/* json_schema.h - the field tables as a JSON Schema, so that an editor completes and checks event, house and catalog files.
 * Made from the tables that read the files: a field that is added there is in the schema. */
#ifndef PW_JSON_SCHEMA_H
#define PW_JSON_SCHEMA_H

#include "base/ctx.h"

#include <stddef.h>

enum pw_schema_kind { PW_SCHEMA_EVENT, PW_SCHEMA_CATALOG, PW_SCHEMA_HOUSE };

/** The schema (JSON Schema, draft 2020-12) as text in the context's arena.  It accepts every file the reader accepts
 *  and refuses what can be seen from one place of the file: unknown and missing keys, wrong kinds, words that are no
 *  choice, amounts without a unit or with one of another dimension.  Limits of quantities are in the descriptions.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_json_schema_text(const char **text, size_t *n, enum pw_schema_kind kind, struct pw_ctx *ctx);

#endif
