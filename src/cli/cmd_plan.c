/* cmd_plan.c - the three commands that plan: quote, buy, plan.  They plan the same way and differ in what they show. */
#include "cli/cmd.h"

#include <stdio.h>
#include <string.h>

static bool is_stdout(const char *path) { return path && strcmp(path, "-") == 0; }

/* The plan as JSON where the command line wants it. */
static pw_status put_json(struct pw_session *s)
{
  return s->cli->json ? pw_job_write_text(s->job, PW_TEXT_PLAN_JSON, s->cli->json) : PW_OK;
}

/* True when a sheet may go to standard output: not if that carries the JSON. */
static bool is_shown(const struct pw_session *s) { return !is_stdout(s->cli->json) && !s->cli->is_quiet; }

/* A sheet, and a further one or none.  They are printed by put_sheets() when nothing can fail any more. */
struct sheets {
  const char *first, *second, *third;
};

static pw_status get_sheets(struct sheets *out, struct pw_session *s, enum pw_text first, bool is_two,
                            enum pw_text second)
{
  size_t n = 0;
  *out = (struct sheets){NULL, NULL, NULL};
  pw_status st = pw_job_text(s->job, first, &out->first, &n);
  if (st == PW_OK && is_two)
    st = pw_job_text(s->job, second, &out->second, &n);
  return st == PW_OK && s->cli->against ? pw_job_text(s->job, PW_TEXT_AGAINST, &out->third, &n) : st;
}

static void put_sheets(const struct sheets *sheets)
{
  fputs(sheets->first, stdout); /* checked when the program ends */
  if (sheets->second)
    printf("\n\n%s", sheets->second);
  if (sheets->third)
    printf("\n\n%s", sheets->third);
}

/* The common frame: session, events, plan, then what the command makes of it. */
static enum pw_exit run(const struct pw_cli *cli, bool has_ladder, pw_status (*use)(struct pw_session *))
{
  struct pw_session s;
  if (cli->against && cli->n_operands > 1) {
    fprintf(stderr, "pitwright %s: --against needs exactly one event\n", cli->command->name);
    return PW_EXIT_USAGE;
  }
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  const bool is_few = cli->n_operands == 0;
  result = is_few ? pw_session_read_few(&s, cli->save ? cli->save : "(what was asked)") : pw_session_read(&s);
  if (!result && cli->save)
    result = pw_session_save(&s, cli->save);
  if (result)
    return pw_session_close(&s, result);
  struct pw_how how = {.care = cli->is_quick || is_few ? PW_QUICK : PW_THOROUGH,
                       .seconds = cli->seconds,
                       .work_times = cli->work_times,
                       .on_time_frac = cli->on_time_frac,
                       .is_without_ladder = !has_ladder || is_few,
                       .dump_model = cli->dump_model,
                       .folder = cli->out_dir,
                       .against = cli->against,
                       .is_at_once = is_few};
  pw_status st = pw_job_plan_how(s.job, &how);
  pw_session_end_progress();
  if (st == PW_OK && pw_job_missed(s.job) > 0)
    result = PW_EXIT_SHORT;
  if (st == PW_OK)
    st = use(&s);
  return pw_session_close(&s, st == PW_OK ? result : pw_say_status(st));
}

static pw_status use_quote(struct pw_session *s)
{
  struct sheets sheets;
  pw_status st = get_sheets(&sheets, s, PW_TEXT_QUOTE, true, PW_TEXT_COSTS);
  s->has_shown_warnings = true; /* they are about the cook, and in the plan; the sheet says how many there are */
  if (st == PW_OK)
    st = put_json(s);
  if (st == PW_OK && is_shown(s))
    put_sheets(&sheets);
  if (st == PW_OK && !s->cli->is_quiet && s->cli->n_operands == 0) {
    fputs(pw_job_is_spare_house(s->job) ? "There is no house.yaml here: pits, people, prices and terms are the "
                                          "starter's, all of them invented. Write your own:\n"
                                          "  pitwright new --house\n"
                                        : "",
          stderr);
    if (!s->cli->save)
      fputs("Keep it with --save FILE, then plan it thoroughly: pitwright plan FILE -o FOLDER\n", stderr);
  }
  return st;
}

enum pw_exit pw_cmd_quote(const struct pw_cli *cli)
{
  if (cli->n_operands > 0 && pw_cli_is_few(cli)) {
    fputs("pitwright quote: an event is a file, or --guests, --date, --at and --menu without one\n", stderr);
    return PW_EXIT_USAGE;
  }
  if (cli->n_operands == 0 && !pw_cli_is_few(cli) && cli->guests == PW_UNSAID && !cli->meals) {
    fputs("pitwright quote: EVENT is missing\nSee: pitwright quote --help\n", stderr);
    return PW_EXIT_USAGE;
  }
  return cli->n_operands > 1 ? pw_cmd_compare(cli) : run(cli, true, use_quote);
}

static pw_status use_buy(struct pw_session *s)
{
  struct sheets sheets;
  pw_status st = get_sheets(&sheets, s, PW_TEXT_PURCHASES, false, PW_TEXT_PURCHASES);
  if (st == PW_OK)
    st = put_json(s);
  if (st == PW_OK && is_shown(s))
    put_sheets(&sheets);
  return st;
}

enum pw_exit pw_cmd_buy(const struct pw_cli *cli) { return run(cli, false, use_buy); }

static pw_status use_plan(struct pw_session *s)
{
  struct sheets sheets;
  const char *folder = NULL;
  pw_status st = get_sheets(&sheets, s, PW_TEXT_PLAN, s->cli->n_operands > 1, PW_TEXT_JOBS);
  if (st == PW_OK && s->cli->out_dir) {
    folder = pw_job_line(s->job, s->cli->out_dir);
    st = folder ? pw_job_write(s->job, s->cli->out_dir) : PW_ERR_MEMORY;
  }
  if (st == PW_OK)
    st = put_json(s);
  if (st != PW_OK)
    return st;
  s->has_shown_warnings = true; /* on the sheet, or in the JSON */
  if (!is_shown(s))
    return PW_OK;
  put_sheets(&sheets);
  if (folder)
    fputs("\nWritten:\n", stdout);
  for (int i = 0; i < pw_job_n_files(s->job); i++)
    printf("  %s/%s\n", folder, pw_job_file(s->job, i));
  return PW_OK;
}

enum pw_exit pw_cmd_plan(const struct pw_cli *cli)
{
  if (!cli->out_dir && !cli->json) {
    fputs("pitwright plan: say where the pack goes: -o DIR (or --json FILE for the plan alone)\n", stderr);
    return PW_EXIT_USAGE;
  }
  if (is_stdout(cli->out_dir)) {
    fputs("pitwright plan: a pack is a folder of files: name it with -o DIR; the plan alone goes to standard output "
          "with --json -\n",
          stderr);
    return PW_EXIT_USAGE;
  }
  if (cli->n_operands > 1 && (cli->guests != PW_UNSAID || cli->meals)) {
    fputs("pitwright plan: --guests needs exactly one event\n", stderr);
    return PW_EXIT_USAGE;
  }
  return run(cli, true, use_plan);
}
