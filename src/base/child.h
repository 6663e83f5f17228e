/* child.h - work that a library may crash in, done in a process of its own. */
#ifndef PW_CHILD_H
#define PW_CHILD_H

#include "base/ctx.h"

/** Runs work(arg, ctx) in a forked child and returns its status; diagnostics it adds arrive in ctx, changes it makes in
 *  memory do not, files it writes do.  What it prints on standard error is swallowed, and turns PW_OK into a failure.  When the child ends by a signal or without an answer: PW_ERR_INTERNAL with a
 *  diagnostic that names `what` ("the workbook writer").  PW_ERR_MEMORY when no child can be made.  The caller has
 *  no other threads. */
pw_status pw_child_run(pw_status (*work)(void *arg, struct pw_ctx *ctx), void *arg, const char *what,
                       struct pw_ctx *ctx);

#endif
