/* cmd_day.c - a pack shown again, and the day's log beside it. */
#include "cli/cmd.h"

#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

void pw_log_help_print(FILE *to)
{
  const char *word, *form, *example, *help;
  fputs("\nA log is a text file with one line for each thing that happened, its time first:\n", to);
  for (int i = 0; (word = pw_log_words(i, &form, &example, &help)) != NULL; i++) {
    fprintf(to, "  %-9s%-30s %s\n", word, form, help);
    fprintf(to, "           02:30 %s\n", example);
  }
  fputs("TIME is 02:30, Sat 02:30 or 2027-06-12 02:30; without a day, the one nearest to the line before.\n"
        "LOT is the letter on the sheets (B), an id, or words of the name (shoulder); B2,B5 are pieces 2 and 5 of lot "
        "B.\n"
        "\"not\" and the words of an earlier line take it back: 02:41 not core B.  # begins a remark.\n"
        "What no line mentions is assumed to be done as planned.\n"
        "The pack's day-log.csv has the planned lines: fill in done (a time, or x for as planned) and reading.\n",
        to);
}

enum pw_exit pw_cmd_render(const struct pw_cli *cli)
{
  struct pw_session s;
  enum pw_exit result = pw_session_open(&s, cli);
  if (result)
    return result;
  pw_status st = pw_job_open_pack(s.job, cli->operand);
  if (st == PW_OK)
    st = pw_job_write(s.job, cli->out_dir);
  if (st == PW_OK && !cli->is_quiet) {
    const char *folder = pw_job_line(s.job, cli->out_dir);
    fputs("Written:\n", stdout);
    for (int i = 0; folder && i < pw_job_n_files(s.job); i++)
      printf("  %s/%s\n", folder, pw_job_file(s.job, i));
  }
  return pw_session_close(&s, pw_say_status(st));
}

/* The session with the pack and its log; PW_EXIT_DONE, or what the program ends with. */
static enum pw_exit open_day(struct pw_session *s, const struct pw_cli *cli)
{
  enum pw_exit result = pw_session_open(s, cli);
  if (result)
    return result;
  pw_status st = pw_job_open_pack(s->job, cli->operands[0]);
  if (st == PW_OK)
    st = pw_job_log_file(s->job, cli->operands[1], cli->at);
  return st == PW_OK ? PW_EXIT_DONE : pw_session_close(s, pw_say_status(st));
}

/* One folder under two names: "wedding" and "./wedding/". */
static bool is_same_folder(const char *a, const char *b)
{
  struct stat one, two;
  return strcmp(a, b) == 0 ||
         (stat(a, &one) == 0 && stat(b, &two) == 0 && one.st_dev == two.st_dev && one.st_ino == two.st_ino);
}

enum pw_exit pw_cmd_state(const struct pw_cli *cli)
{
  struct pw_session s;
  const char *text = NULL;
  size_t n = 0;
  if (cli->n_operands != 2) {
    fputs("pitwright state: needs a pack and its log: pitwright state out/my-job day.log\n", stderr);
    return PW_EXIT_USAGE;
  }
  enum pw_exit result = open_day(&s, cli);
  if (result)
    return result;
  pw_status st = pw_job_text(s.job, PW_TEXT_STATE, &text, &n);
  if (st == PW_OK)
    fputs(text, stdout); /* checked when the program ends */
  return pw_session_close(&s, pw_say_status(st));
}

/* The slip, and what changed; the new pack when there is one. */
static pw_status put_mended(struct pw_session *s, bool is_changed, pw_status judged)
{
  const char *slip = NULL, *changes = NULL;
  size_t n = 0;
  pw_status st = pw_job_text(s->job, PW_TEXT_SLIP, &slip, &n);
  if (st == PW_OK)
    st = pw_job_text(s->job, PW_TEXT_CHANGES, &changes, &n);
  if (st == PW_OK && judged == PW_OK && s->cli->out_dir)
    st = pw_job_write(s->job, s->cli->out_dir);
  if (st != PW_OK)
    return st;
  fputs(slip, stdout); /* checked when the program ends */
  if (changes && !s->cli->is_quiet)
    printf("\n%s", changes);
  if (judged == PW_OK && s->cli->out_dir && !s->cli->is_quiet) {
    const char *folder = pw_job_line(s->job, s->cli->out_dir);
    printf("\n%s: %s, %d files\n", is_changed ? "Written" : "Written, unchanged", folder ? folder : "",
           pw_job_n_files(s->job));
  }
  return PW_OK;
}

enum pw_exit pw_cmd_mend(const struct pw_cli *cli)
{
  struct pw_session s;
  bool is_changed = false;
  if (cli->n_operands != 2) {
    fputs("pitwright mend: needs a pack and its log: pitwright mend out/my-job day.log -o out/my-job-2\n", stderr);
    return PW_EXIT_USAGE;
  }
  if (cli->out_dir && is_same_folder(cli->out_dir, cli->operands[0])) {
    fputs("pitwright mend: the old pack is kept: name another folder with -o\n", stderr);
    return PW_EXIT_USAGE;
  }
  enum pw_exit result = open_day(&s, cli);
  if (result)
    return result;
  pw_status st = pw_job_mend(s.job, &is_changed);
  s.has_shown_warnings = true; /* in the new pack */
  pw_session_end_progress();
  pw_status put = st != PW_ERR_MEMORY && st != PW_ERR_USAGE ? put_mended(&s, is_changed, st) : st;
  return pw_session_close(&s, pw_say_status(put != PW_OK ? put : st));
}
