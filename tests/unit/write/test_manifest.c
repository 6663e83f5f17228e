/* test_manifest.c - a job planned again into its folder: what the older pack alone had goes away, what somebody changed
 * or brought stays, and no list can name a file outside. */
#include "fixture_plan.h"
#include "harness.h"
#include "write/manifest.h"
#include "write/pack.h"

#include <dirent.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[64], out[128];

static const char *path_of(const char *name)
{
  static char path[256];
  snprintf(path, sizeof path, "%s/%s", out, name);
  return path;
}

static void folder_make(void)
{
  snprintf(folder, sizeof folder, "%s", "/tmp/pw-manifest-XXXXXX");
  ck_assert_ptr_nonnull(mkdtemp(folder));
  snprintf(out, sizeof out, "%s/out", folder);
}

static void folder_empty(const char *path)
{
  DIR *dir = opendir(path);
  for (struct dirent *e; dir && (e = readdir(dir));)
    (void)unlinkat(dirfd(dir), e->d_name, 0);
  if (dir)
    (void)closedir(dir);
  (void)rmdir(path);
}

static void folder_remove(void)
{
  folder_empty(out);
  folder_empty(folder);
}

static void spill(const char *path, const char *mode, const char *text)
{
  FILE *file = fopen(path, mode);
  ck_assert_ptr_nonnull(file);
  ck_assert_int_ge(fputs(text, file), 0);
  ck_assert_int_eq(fclose(file), 0);
}

static bool is_there(const char *name) { return access(path_of(name), F_OK) == 0; }

static void pack_write(void)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *const *files;
  int n = 0;
  ck_assert_int_eq(pw_pack_write(fx_plan_make(), NULL, NULL, 0, out, &files, &n, ctx), PW_OK);
  for (int i = 0; i < n; i++)
    ck_assert_msg(is_there(files[i]), "%s", files[i]);
  ck_assert_str_eq(files[n - 1], "plan.json");
  pw_test_ctx_free(ctx);
}

static const struct {
  const char *name;
  const char *add;  /* appended to the old calendar, NULL: nothing */
  const char *list; /* takes the place of the list, NULL: as it was written */
  bool stays;
} again[] = {
    {"what nobody touched goes", NULL, NULL, false},
    {"what somebody changed stays", "X-NOTE:mine\r\n", NULL, true},
    {"without a list nothing goes", NULL, "", true},
    {"a list of other words", NULL, "calendar-night-watch.ics\n", true},
    {"a list cut short", NULL, "0123456789abcdef 12", true},
};

/* The fixture's last role is called something else in the first run; its calendar is the old file. */
START_TEST(again_row)
{
  struct pw_crew *last = &fx_crew[FX_LEN(fx_crew) - 1];
  const char *role = last->role;
  last->role = "night watch";
  pack_write();
  last->role = role;
  ck_assert(is_there("calendar-night-watch.ics"));
  if (again[_i].add)
    spill(path_of("calendar-night-watch.ics"), "ab", again[_i].add);
  if (again[_i].list)
    spill(path_of(PW_MANIFEST_NAME), "wb", again[_i].list);
  spill(path_of("notes.txt"), "wb", "mine");
  spill(path_of("calendar-mine.ics"), "wb", "mine");
  pack_write();
  ck_assert_int_eq(is_there("calendar-night-watch.ics"), again[_i].stays);
  ck_assert(is_there("notes.txt"));
  ck_assert(is_there("calendar-mine.ics"));
}
END_TEST

/* Names that lead elsewhere, with the right size and sum of an empty file (FNV-1a of nothing is its offset basis). */
static const char *const wrong_names[] = {"../victim", "/victim", "..", ".", "", "sub/victim"};

START_TEST(outside_row)
{
  char line[160], victim[160];
  snprintf(victim, sizeof victim, "%s/victim", folder);
  ck_assert_int_eq(mkdir(out, 0700), 0);
  spill(victim, "wb", "");
  snprintf(line, sizeof line, "cbf29ce484222325 0 %s\n", wrong_names[_i]);
  spill(path_of(PW_MANIFEST_NAME), "wb", line);
  pack_write();
  ck_assert_int_eq(access(victim, F_OK), 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("manifest");
  TCase *tc = tcase_create("core");
  tcase_add_checked_fixture(tc, folder_make, folder_remove);
  tcase_set_timeout(tc, 60);
  tcase_add_loop_test(tc, again_row, 0, sizeof again / sizeof again[0]);
  tcase_add_loop_test(tc, outside_row, 0, sizeof wrong_names / sizeof wrong_names[0]);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
