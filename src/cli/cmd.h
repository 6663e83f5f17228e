/* cmd.h - the commands, and what they share: a session (memory, event, progress) and ways to say things. */
#ifndef PW_CLI_CMD_H
#define PW_CLI_CMD_H

#include "cli/opt.h"
#include "pw/event.h"
#include "pw/status.h"

enum pw_exit pw_cmd_new(const struct pw_cli *cli);
enum pw_exit pw_cmd_check(const struct pw_cli *cli);
enum pw_exit pw_cmd_quote(const struct pw_cli *cli);
enum { PW_COMPARE_MAX = 4 }; /**< quotes side by side */
enum pw_exit pw_cmd_compare(const struct pw_cli *cli);
enum pw_exit pw_cmd_buy(const struct pw_cli *cli);
enum pw_exit pw_cmd_plan(const struct pw_cli *cli);
enum pw_exit pw_cmd_explain(const struct pw_cli *cli);
enum { PW_JOBS_MAX = 8 }; /**< events planned as one */
enum pw_exit pw_cmd_plan_jobs(const struct pw_cli *cli); /**< plan of several events as one */
enum pw_exit pw_cmd_verify(const struct pw_cli *cli);
enum pw_exit pw_cmd_curve(const struct pw_cli *cli);
enum pw_exit pw_cmd_schema(const struct pw_cli *cli);

/** One run: everything made in it lives in ctx.arena. */
struct pw_session {
  const struct pw_cli *cli;
  struct pw_ctx ctx;
  const struct pw_event *event; /**< after the command line's overrides */
  bool has_shown_warnings;      /**< the plan's sheet has said what its stages warn of */
};

/** Memory and progress.  PW_EXIT_INTERNAL when memory is out (said on stderr).  End with pw_session_close(). */
enum pw_exit pw_session_open(struct pw_session *s, const struct pw_cli *cli);
/** Reads catalogs and event, applies --guests, --units, --paper.  Faults are said on stderr. */
enum pw_exit pw_session_read_event(struct pw_session *s);
/** The same for one of several files, in this session's memory. */
enum pw_exit pw_session_read_file(struct pw_session *s, const char *path, struct pw_event **event);
/** Says the diagnostics, frees all, and turns the last status into an exit value. */
enum pw_exit pw_session_close(struct pw_session *s, enum pw_exit so_far);

/** Says all diagnostics of the context on stderr, with the source line and a caret; notes only unless quiet. */
void pw_say_diags(const struct pw_session *s);
/** The exit value of a status. */
enum pw_exit pw_say_status(pw_status status);
/** before + word (made harmless) + after and a new line, on stderr. */
void pw_say_word(const char *before, const char *word, const char *after);

/** A word of the user on a stream, made harmless. */
void pw_print_word(FILE *to, const char *word);
/** Takes the progress line off the terminal. */
void pw_session_end_progress(struct pw_session *s);

/** Folder with the catalogs: --catalogs, $PITWRIGHT_CATALOGS, ../share/pitwright beside the program, the templates
 *  of the source tree the program was built in.  NULL with a diagnostic when none is there. */
const char *pw_catalog_dir(struct pw_session *s);

#endif
