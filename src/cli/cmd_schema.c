/* cmd_schema.c - the JSON Schema of event or catalog files, for editors. */
#include "cli/cmd.h"

#include <stdio.h>
#include <string.h>

enum pw_exit pw_cmd_schema(const struct pw_cli *cli)
{
  bool is_event = strcmp(cli->operand, "event") == 0;
  if (!is_event && strcmp(cli->operand, "catalog") != 0) {
    pw_say_word("pitwright schema: there is a schema for event and for catalog, not for ", cli->operand, "");
    return PW_EXIT_USAGE;
  }
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *text = NULL;
  size_t n = 0;
  pw_status st = pw_job_text(s.job, is_event ? PW_TEXT_EVENT_SCHEMA : PW_TEXT_CATALOG_SCHEMA, &text, &n);
  if (st == PW_OK)
    fwrite(text, 1, n, stdout); /* checked when the program ends */
  return pw_session_close(&s, pw_say_status(st));
}
