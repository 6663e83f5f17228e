/* season_out.h - a season as CSV with a record for each job, as JSON of format "pitwright-season".
 * Same season, same bytes.  Errors: PW_ERR_MEMORY. */
#ifndef PW_SEASON_OUT_H
#define PW_SEASON_OUT_H

#include "base/buf.h"
#include "season/season.h"

pw_status pw_season_csv(struct pw_buf *out, const struct pw_season *season, struct pw_ctx *ctx);
pw_status pw_season_json(const char **text, size_t *n, const struct pw_season *season, struct pw_ctx *ctx);

#endif
