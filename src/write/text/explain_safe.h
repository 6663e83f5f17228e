/* explain_safe.h - two parts of the explained sheet: what drips on what [H2], fish and nuts. */
#ifndef PW_EXPLAIN_SAFE_H
#define PW_EXPLAIN_SAFE_H

#include "base/json.h"
#include "write/text/text_page.h"

/** Both parts, at the end of an open page. */
void pw_text_safe(struct pw_page *s);
/** The member "drips" of an open object: each raw load above another rack, until when, and the lots below it. */
void pw_json_drips(struct pw_json_out *o, const struct pw_plan *plan);

#endif
