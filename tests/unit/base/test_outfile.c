/* test_outfile.c - files whole or not at all, also when the disk, the folder or memory fails. */
#include "harness.h"

#include "base/outfile.h"

#include <dirent.h>
#include <fcntl.h>
#include <signal.h>
#include <stdbool.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

static char dir[64];

static void setup(void)
{
  strcpy(dir, "pw-outfile-XXXXXX");
  const char *base = getenv("TMPDIR");
  if (chdir(base && *base ? base : P_tmpdir) != 0 || !mkdtemp(dir) || chdir(dir) != 0)
    abort();
}

static void teardown(void)
{
  if (chdir("..") != 0)
    abort();
  char command[96];
  snprintf(command, sizeof command, "rm -rf %s", dir);
  if (system(command) != 0)
    abort();
}

/** First bytes of a file as a string of the test's own; "(none)" when it does not exist. */
static const char *content(const char *path)
{
  static char text[256];
  FILE *f = fopen(path, "r");
  if (!f)
    return "(none)";
  size_t n = fread(text, 1, sizeof text - 1, f);
  text[n] = '\0';
  fclose(f);
  return text;
}

static void make(const char *path, const char *text)
{
  FILE *f = fopen(path, "w");
  if (!f || fputs(text, f) < 0 || fclose(f) != 0)
    abort();
}

static int n_entries(const char *folder)
{
  int n = 0;
  DIR *d = opendir(folder);
  if (!d)
    return -1;
  while (readdir(d))
    n++;
  closedir(d);
  return n - 2;
}

START_TEST(writes_and_replaces)
{
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_eq(pw_outfile_write("a.txt", "one", 3, ctx), PW_OK);
  ck_assert_str_eq(content("a.txt"), "one");
  ck_assert_int_eq(chmod("a.txt", 0640), 0);
  ck_assert_int_eq(pw_outfile_write("./a.txt", "two", 3, ctx), PW_OK);
  ck_assert_str_eq(content("a.txt"), "two");
  struct stat st;
  ck_assert_int_eq(stat("a.txt", &st), 0);
  ck_assert_int_eq(st.st_mode & 0777, 0640);
  ck_assert_int_eq(n_entries("."), 1);
  ck_assert_int_eq(ctx->n_diags, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(new_files_follow_the_umask)
{
  struct pw_ctx *ctx = pw_test_ctx();
  mode_t old = umask(027);
  ck_assert_int_eq(pw_outfile_write("a.txt", "one", 3, ctx), PW_OK);
  umask(old);
  struct stat st;
  ck_assert_int_eq(stat("a.txt", &st), 0);
  ck_assert_int_eq(st.st_mode & 0777, 0640);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_link_keeps_pointing)
{
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_eq(mkdir("real", 0700), 0);
  make("real/a.txt", "old");
  ck_assert_int_eq(symlink("real/a.txt", "link"), 0);
  ck_assert_int_eq(pw_outfile_write("link", "new", 3, ctx), PW_OK);
  struct stat st;
  ck_assert_int_eq(lstat("link", &st), 0);
  ck_assert(S_ISLNK(st.st_mode));
  ck_assert_str_eq(content("real/a.txt"), "new");
  pw_test_ctx_free(ctx);
}
END_TEST

/* each of these fails, says why, and leaves nothing behind */
static const struct {
  const char *name, *path, *words;
} faults[] = {
    {"missing folder", "none/a.txt", "No such file or directory"},
    {"a folder", "folder", "Is a directory"},
    {"a file as folder", "file/a.txt", "Not a directory"},
    {"a full device", "/dev/full", "No space left on device"},
    {"a name of 300 bytes", NULL, "File name too long"},
};

START_TEST(fault_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char longest[301];
  memset(longest, 'n', 300);
  longest[300] = '\0';
  ck_assert_int_eq(mkdir("folder", 0700), 0);
  make("file", "here");
  const char *path = faults[_i].path ? faults[_i].path : longest;
  ck_assert_msg(pw_outfile_write(path, "x", 1, ctx) == PW_ERR_IO, "%s", faults[_i].name);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_str_eq(ctx->diags[0].code, "io");
  ck_assert_msg(strstr(ctx->diags[0].text, faults[_i].words) && strstr(ctx->diags[0].text, path), "%s: %s",
                faults[_i].name, ctx->diags[0].text);
  ck_assert_int_eq(n_entries("."), 2);
  ck_assert_int_eq(n_entries("folder"), 0);
  ck_assert_str_eq(content("file"), "here");
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(disk_full_keeps_the_old_file)
{
  struct pw_ctx *ctx = pw_test_ctx();
  static char big[8192];
  make("a.txt", "old");
  struct rlimit limit, tight;
  ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
  tight = limit;
  tight.rlim_cur = 4096;
  signal(SIGXFSZ, SIG_IGN);
  ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &tight), 0);
  pw_status status = pw_outfile_write("a.txt", big, sizeof big, ctx);
  struct pw_pack *pack;
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
  pw_status put = pw_pack_put(pack, "b.txt", big, sizeof big, ctx);
  pw_pack_close(pack);
  ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
  ck_assert_int_eq(status, PW_ERR_IO);
  ck_assert_int_eq(put, PW_ERR_IO);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "File too large"));
  ck_assert_str_eq(content("a.txt"), "old");
  ck_assert_int_eq(n_entries("."), 1);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(standard_output)
{
  struct pw_ctx *ctx = pw_test_ctx();
  fflush(stdout);
  int saved = dup(STDOUT_FILENO), to = open("out.txt", O_CREAT | O_WRONLY, 0600);
  ck_assert(saved >= 0 && to >= 0);
  ck_assert_int_ge(dup2(to, STDOUT_FILENO), 0);
  pw_status ok = pw_outfile_write("-", "plan\n", 5, ctx);
  int full = open("/dev/full", O_WRONLY);
  ck_assert_int_ge(dup2(full, STDOUT_FILENO), 0);
  pw_status bad = pw_outfile_write("-", "plan\n", 5, ctx);
  ck_assert_int_ge(dup2(saved, STDOUT_FILENO), 0);
  clearerr(stdout);
  close(saved), close(to), close(full);
  ck_assert_int_eq(ok, PW_OK);
  ck_assert_int_eq(bad, PW_ERR_IO);
  ck_assert_str_eq(content("out.txt"), "plan\n");
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "standard output"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_pack_appears_together)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  const char *temp;
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "sheet.txt", "sheet", 5, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_reserve(pack, "book.xlsx", &temp, ctx), PW_OK);
  make(temp, "book");
  ck_assert_int_eq(pw_pack_put(pack, "plan.json", "{}", 2, ctx), PW_OK);
  ck_assert_str_eq(content("out/sheet.txt"), "(none)");
  ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_OK);
  pw_pack_close(pack);
  ck_assert_str_eq(content("out/sheet.txt"), "sheet");
  ck_assert_str_eq(content("out/book.xlsx"), "book");
  ck_assert_str_eq(content("out/plan.json"), "{}");
  ck_assert_int_eq(n_entries("out"), 3);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A folder of somebody else's stays his, one of another group stays the group's.  Only root can tell. */
START_TEST(the_folder_keeps_its_owner)
{
  static const struct {
    uid_t uid;
    gid_t gid;
  } owners[] = {{0, 4711}, {4711, 0}, {4711, 4712}};
  if (geteuid() != 0)
    return;
  for (int i = 0; i < 3; i++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_pack *pack;
    struct stat st;
    if (i == 0)
      ck_assert_int_eq(mkdir("out", 0750), 0);
    ck_assert_int_eq(chown("out", owners[i].uid, owners[i].gid), 0);
    ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
    ck_assert_int_eq(pw_pack_put(pack, "plan.json", "{}", 2, ctx), PW_OK);
    ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_OK);
    pw_pack_close(pack);
    ck_assert_int_eq(stat("out", &st), 0);
    ck_assert(st.st_uid == owners[i].uid && st.st_gid == owners[i].gid && (st.st_mode & 07777) == 0750);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(an_abandoned_pack_leaves_nothing)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "sheet.txt", "sheet", 5, ctx), PW_OK);
  pw_pack_close(pack);
  ck_assert_int_eq(n_entries("."), 0);
  pw_pack_close(NULL);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_broken_pack_keeps_the_old_one)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  ck_assert_int_eq(mkdir("out", 0700), 0);
  make("out/a.txt", "old a");
  ck_assert_int_eq(mkdir("out/c.txt", 0700), 0); /* in the way of the third file */
  make("out/c.txt/x", "x");
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "a.txt", "new a", 5, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "b.txt", "new b", 5, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "c.txt", "new c", 5, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_ERR_IO);
  pw_pack_close(pack);
  ck_assert_str_eq(content("out/a.txt"), "old a");
  ck_assert_str_eq(content("out/b.txt"), "(none)");
  ck_assert_int_eq(n_entries("out"), 2);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "out/c.txt"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_writer_that_lost_its_file_is_found_out)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  const char *temp;
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_reserve(pack, "book.xlsx", &temp, ctx), PW_OK);
  ck_assert_int_eq(remove(temp), 0);
  ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_ERR_IO);
  pw_pack_close(pack);
  ck_assert_int_eq(n_entries("."), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Replacing a pack: what is somebody else's stays, what an older pack alone had goes, rights stay. */
static const struct {
  const char *name;
  const char *folder, *here; /* as said, and the working folder it is said from */
  bool has_folder_inside;
} replacing[] = {
    {"from beside", "out", ".", false},       {"with a slash", "./out/", ".", false},
    {"through a link", "link", ".", false},   {"from inside it", ".", "out", false},
    {"from below", "..", "out/photos", true}, {"with a folder in it", "out", ".", true},
};

START_TEST(replacing_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  ck_assert_int_eq(mkdir("out", 0750), 0);
  ck_assert_int_eq(symlink("out", "link"), 0);
  make("out/notes.txt", "mine");
  make("out/a.txt", "old a");
  make("out/gone.txt", "old");
  make("out/plan.json", "old plan");
  ck_assert_int_eq(chmod("out/a.txt", 0640), 0);
  if (replacing[_i].has_folder_inside) {
    ck_assert_int_eq(mkdir("out/photos", 0700), 0);
    make("out/photos/1", "picture");
  }
  char top[4096];
  ck_assert_ptr_nonnull(getcwd(top, sizeof top));
  ck_assert_int_eq(chdir(replacing[_i].here), 0);
  ck_assert_int_eq(pw_pack_open(&pack, replacing[_i].folder, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, "a.txt", "new a", 5, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_drop(pack, "gone.txt", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_drop(pack, "never-there.txt", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_drop(pack, "a.txt", ctx), PW_OK); /* it is in the new one too: it stays */
  ck_assert_int_eq(pw_pack_put(pack, "plan.json", "new plan", 8, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_OK);
  pw_pack_close(pack);
  ck_assert_int_eq(chdir(top), 0);
  ck_assert_str_eq(content("out/a.txt"), "new a");
  ck_assert_str_eq(content("out/plan.json"), "new plan");
  ck_assert_str_eq(content("out/gone.txt"), "(none)");
  ck_assert_str_eq(content("out/notes.txt"), "mine");
  if (replacing[_i].has_folder_inside)
    ck_assert_str_eq(content("out/photos/1"), "picture");
  ck_assert_msg(n_entries("out") == 3 + replacing[_i].has_folder_inside, "%s: %d entries", replacing[_i].name,
                n_entries("out"));
  ck_assert_msg(n_entries(".") == 2, "%s: left-overs", replacing[_i].name);
  struct stat st;
  ck_assert_int_eq(stat("out", &st), 0);
  ck_assert_int_eq(st.st_mode & 07777, 0750);
  ck_assert_int_eq(stat("out/a.txt", &st), 0);
  ck_assert_int_eq(st.st_mode & 0777, 0640);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(what_killed_runs_left_is_swept)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *held, *pack;
  ck_assert_int_eq(mkdir(".out.unfinished-abc123", 0700), 0);
  make(".out.unfinished-abc123/a.txt", "half");
  ck_assert_int_eq(mkdir(".other.unfinished-abc123", 0700), 0); /* another pack's */
  make(".a.txt.unfinished-abc123", "half");
  ck_assert_int_eq(pw_pack_open(&held, "out", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(held, "a.txt", "first", 5, ctx), PW_OK);
  ck_assert_int_eq(n_entries("."), 3);
  ck_assert_int_eq(pw_pack_open(&pack, "out", ctx), PW_OK); /* a run of the same time sweeps nothing of ours */
  ck_assert_int_eq(pw_pack_commit(held, ctx), PW_OK);
  pw_pack_close(held);
  ck_assert_int_eq(pw_pack_put(pack, "a.txt", "second", 6, ctx), PW_OK);
  ck_assert_int_eq(pw_pack_commit(pack, ctx), PW_OK);
  pw_pack_close(pack);
  ck_assert_str_eq(content("out/a.txt"), "second");
  ck_assert_int_eq(pw_outfile_write("a.txt", "whole", 5, ctx), PW_OK);
  ck_assert_str_eq(content("a.txt"), "whole");
  ck_assert_int_eq(n_entries("."), 3); /* out, a.txt, the other pack's folder */
  ck_assert_int_eq(ctx->n_diags, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name, *folder, *words;
} folders[] = {
    {"two levels missing", "x/y", "only one level"},
    {"a file in the way", "file", "Not a directory"},
    {"below a file", "file/out", "Not a directory"},
};

START_TEST(folder_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  make("file", "here");
  ck_assert_int_eq(pw_pack_open(&pack, folders[_i].folder, ctx), PW_ERR_IO);
  ck_assert_ptr_null(pack);
  ck_assert_msg(strstr(ctx->diags[0].text, folders[_i].words), "%s: %s", folders[_i].name, ctx->diags[0].text);
  pw_test_ctx_free(ctx);
}
END_TEST

static const char *const bad_names[] = {"", ".", "..", "a/b", "/etc/x"};

START_TEST(bad_name_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_pack *pack;
  ck_assert_int_eq(pw_pack_open(&pack, ".", ctx), PW_OK);
  ck_assert_int_eq(pw_pack_put(pack, bad_names[_i], "x", 1, ctx), PW_ERR_IO);
  pw_pack_close(pack);
  ck_assert_int_eq(n_entries("."), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_failures_leave_nothing)
{
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_pack *pack;
    pw_arena_fail_at(ctx->arena, k);
    pw_status s = pw_outfile_write("single.txt", "new", 3, ctx);
    if (s == PW_OK)
      s = pw_pack_open(&pack, "out", ctx);
    else
      pack = NULL;
    if (s == PW_OK)
      s = pw_pack_put(pack, "a.txt", "a", 1, ctx);
    if (s == PW_OK)
      s = pw_pack_commit(pack, ctx);
    pw_pack_close(pack);
    bool is_past = pw_arena_count(ctx->arena) < k;
    ck_assert_msg((s == PW_OK) == is_past, "allocation %ld", k);
    if (s != PW_OK)
      ck_assert_msg(n_entries(".") <= 1, "allocation %ld", k);
    (void)remove("single.txt");
    pw_test_ctx_free(ctx);
    if (is_past)
      break;
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("outfile");
  TCase *t = tcase_create("outfile");
  tcase_add_checked_fixture(t, setup, teardown);
#define ROWS(fn, table) tcase_add_loop_test(t, fn, 0, (int)(sizeof(table) / sizeof *(table)))
  tcase_add_test(t, writes_and_replaces);
  tcase_add_test(t, new_files_follow_the_umask);
  tcase_add_test(t, a_link_keeps_pointing);
  ROWS(fault_row, faults);
  tcase_add_test(t, disk_full_keeps_the_old_file);
  tcase_add_test(t, standard_output);
  tcase_add_test(t, a_pack_appears_together);
  tcase_add_test(t, the_folder_keeps_its_owner);
  tcase_add_test(t, an_abandoned_pack_leaves_nothing);
  tcase_add_test(t, a_broken_pack_keeps_the_old_one);
  tcase_add_test(t, a_writer_that_lost_its_file_is_found_out);
  ROWS(replacing_row, replacing);
  tcase_add_test(t, what_killed_runs_left_is_swept);
  ROWS(folder_row, folders);
  ROWS(bad_name_row, bad_names);
  tcase_add_test(t, memory_failures_leave_nothing);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
