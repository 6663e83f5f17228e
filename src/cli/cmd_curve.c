/* cmd_curve.c - the core curve of one cut on one zone of a pit, of an event file or of the catalogs. */
#include "cli/cmd.h"

#include <stdio.h>

enum pw_exit pw_cmd_curve(const struct pw_cli *cli)
{
  struct pw_session s;
  const char *text = NULL;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  struct pw_curve_ask ask = {.cut = cli->operand,
                             .pit = cli->pit,
                             .zone = cli->zone,
                             .setting = cli->setting,
                             .catalog_dir = pw_catalog_dir(&s)};
  pw_status st = ask.catalog_dir ? PW_OK : PW_ERR_IO;
  if (st == PW_OK && cli->event)
    st = pw_job_read(s.job, cli->event, ask.catalog_dir);
  if (st == PW_OK)
    st = pw_job_curve(s.job, &ask, &text);
  if (st == PW_OK)
    fputs(text, stdout); /* checked when the program ends */
  return pw_session_close(&s, pw_say_status(st));
}
