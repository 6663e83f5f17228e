/* cmd_schema.c - the JSON Schema of event, house or catalog files, for editors. */
#include "cli/cmd.h"

#include <stdio.h>
#include <string.h>

enum pw_exit pw_cmd_schema(const struct pw_cli *cli)
{
  static const struct {
    const char *kind;
    enum pw_text text;
  } kinds[] = {{"event", PW_TEXT_EVENT_SCHEMA}, {"house", PW_TEXT_HOUSE_SCHEMA}, {"catalog", PW_TEXT_CATALOG_SCHEMA}};
  enum { N_KINDS = sizeof kinds / sizeof *kinds };
  int k = 0;
  while (k < N_KINDS && strcmp(cli->operand, kinds[k].kind) != 0)
    k++;
  if (k == N_KINDS) {
    pw_say_word("pitwright schema: there is a schema for event, house and catalog, not for ", cli->operand, "");
    return PW_EXIT_USAGE;
  }
  struct pw_session s;
  enum pw_exit bad = pw_session_open(&s, cli);
  if (bad)
    return bad;
  const char *text = NULL;
  size_t n = 0;
  pw_status st = pw_job_text(s.job, kinds[k].text, &text, &n);
  if (st == PW_OK)
    fwrite(text, 1, n, stdout); /* checked when the program ends */
  return pw_session_close(&s, pw_say_status(st));
}
