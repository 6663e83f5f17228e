/* cmd.h - the commands, and what they share: a session (a job, where its catalogs are, progress) and ways to say things. */
#ifndef PW_CLI_CMD_H
#define PW_CLI_CMD_H

#include "cli/opt.h"
#include "pw/pitwright.h"

enum pw_exit pw_cmd_new(const struct pw_cli *cli);
enum pw_exit pw_cmd_check(const struct pw_cli *cli);
enum pw_exit pw_cmd_quote(const struct pw_cli *cli);
enum pw_exit pw_cmd_compare(const struct pw_cli *cli); /**< quote of several events, side by side */
enum pw_exit pw_cmd_buy(const struct pw_cli *cli);
enum pw_exit pw_cmd_plan(const struct pw_cli *cli);
enum pw_exit pw_cmd_explain(const struct pw_cli *cli);
enum pw_exit pw_cmd_verify(const struct pw_cli *cli);
/** What the judge takes on trust: the rest of the help for verify. */
void pw_verify_help(FILE *to);
enum pw_exit pw_cmd_render(const struct pw_cli *cli);
enum pw_exit pw_cmd_jobs(const struct pw_cli *cli);
enum pw_exit pw_cmd_mend(const struct pw_cli *cli);
enum pw_exit pw_cmd_state(const struct pw_cli *cli);
/** The words of the log: the rest of the help for what reads one. */
void pw_log_help_print(FILE *to);
enum pw_exit pw_cmd_curve(const struct pw_cli *cli);
enum pw_exit pw_cmd_schema(const struct pw_cli *cli);

/** One run. */
struct pw_session {
  const struct pw_cli *cli;
  struct pw_job *job;
  bool has_shown_warnings; /**< the plan's sheet has said what its stages warn of */
  char catalogs[4128];     /**< their folder, once it was looked for beside the program */
};

/** A job with the command line's units and paper, and its progress on a terminal.  PW_EXIT_INTERNAL when memory is out (said
 *  on stderr).  End with pw_session_close(). */
enum pw_exit pw_session_open(struct pw_session *s, const struct pw_cli *cli);
/** Reads catalogs and events, every one of them for its faults, and applies --guests. */
enum pw_exit pw_session_read(struct pw_session *s);
/** True when the command line names an event in few words (date, time, menu, customer or a file to keep it in). */
bool pw_cli_is_few(const struct pw_cli *cli);
/** Reads that event as if it lay at `path`.  Says what is missing. */
enum pw_exit pw_session_read_few(struct pw_session *s, const char *path);
/** Keeps it at `path`, and the starter's house beside it when there was no house file. */
enum pw_exit pw_session_save(struct pw_session *s, const char *path);
/** Says the diagnostics, frees all, and hands on the exit value. */
enum pw_exit pw_session_close(struct pw_session *s, enum pw_exit so_far);
/** Takes the progress line off the terminal. */
void pw_session_end_progress(void);
/** Folder with the catalogs: --catalogs, $PITWRIGHT_CATALOGS, ../share/pitwright beside the program, the templates
 *  of the source tree the program was built in.  NULL, said on stderr, when none is there. */
const char *pw_catalog_dir(struct pw_session *s);

/** Says all diagnostics of the job on stderr; notes and warnings only unless quiet. */
void pw_say_diags(const struct pw_session *s);
/** The exit value of a status. */
enum pw_exit pw_say_status(pw_status status);
/** before + word (made harmless) + after and a new line, on stderr. */
void pw_say_word(const char *before, const char *word, const char *after);
/** A word of the user on a stream, made harmless. */
void pw_print_word(FILE *to, const char *word);

#endif
