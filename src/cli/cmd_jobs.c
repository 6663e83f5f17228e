/* cmd_jobs.c - every event of a folder on one screen, or as CSV and JSON.  An event with faults does not hide the others: it is told, and the
 * exit status says so. */
#include "cli/cmd.h"

#include <stdio.h>
#include <string.h>

static bool is_stdout(const char *path) { return path && strcmp(path, "-") == 0; }

enum pw_exit pw_cmd_jobs(const struct pw_cli *cli)
{
  struct pw_session s;
  const char *text = NULL;
  size_t n = 0;
  if (is_stdout(cli->csv) && is_stdout(cli->json)) {
    fputs("pitwright jobs: standard output takes --csv or --json, not both\n", stderr);
    return PW_EXIT_USAGE;
  }
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *catalogs = pw_catalog_dir(&s);
  if (!catalogs)
    return pw_session_close(&s, PW_EXIT_IO);
  pw_status st = pw_job_season(s.job, cli->operand, cli->on, catalogs);
  pw_session_end_progress();
  if (st == PW_OK)
    st = pw_job_text(s.job, PW_TEXT_SEASON, &text, &n);
  if (st == PW_OK && cli->csv)
    st = pw_job_write_text(s.job, PW_TEXT_SEASON_CSV, cli->csv);
  if (st == PW_OK && cli->json)
    st = pw_job_write_text(s.job, PW_TEXT_SEASON_JSON, cli->json);
  if (st != PW_OK)
    return pw_session_close(&s, pw_say_status(st));
  if (!cli->is_quiet && !is_stdout(cli->csv) && !is_stdout(cli->json))
    fputs(text, stdout); /* checked when the program ends */
  enum pw_exit result = pw_job_missed(s.job) > 0 ? PW_EXIT_SHORT : PW_EXIT_DONE;
  return pw_session_close(&s, pw_job_n_errors(s.job) > 0 ? PW_EXIT_INPUT : result);
}
