/* YAML to tree: what is taken, what is refused and where, memory. */
#include "base/buf.h"
#include "harness.h"
#include "read/source_check.h"
#include "read/yaml_tree.h"

static const struct pw_origin origin = {"x.yaml", false};

/* {a@1:1=text, b@2:1=[x, y]}: a node on one line, keys with their places. */
static void show(struct pw_buf *b, const struct pw_node *node)
{
  switch (node->kind) {
  case PW_NODE_SCALAR:
    pw_buf_printf(b, node->is_empty ? "-" : "%s", node->text);
    break;
  case PW_NODE_BROKEN:
    pw_buf_add(b, "!");
    break;
  case PW_NODE_LIST:
    pw_buf_add(b, "[");
    for (int i = 0; i < node->n; i++) {
      pw_buf_add(b, i ? ", " : "");
      show(b, node->items[i]);
    }
    pw_buf_add(b, "]");
    break;
  case PW_NODE_MAP:
    pw_buf_add(b, "{");
    for (int i = 0; i < node->n; i++) {
      pw_buf_printf(b, "%s%s@%d:%d=", i ? ", " : "", node->pairs[i].key, node->pairs[i].line, node->pairs[i].col);
      show(b, node->pairs[i].value);
    }
    pw_buf_add(b, "}");
  }
}

static const struct {
  const char *name, *text, *shown;
} good[] = {
    {"block map", "a: 1\nb:\n  c: two words\n", "{a@1:1=1, b@2:1={c@3:3=two words}}"},
    {"flow", "{a: [1, 2 lb], b: {c: d}}", "{a@1:2=[1, 2 lb], b@1:16={c@1:20=d}}"},
    {"list of maps", "- a: 1\n  b: 2\n- x\n", "[{a@1:3=1, b@2:3=2}, x]"},
    {"nothing resolved", "[NO, 010, 1e3, 0x1F, 17:30, true]", "[NO, 010, 1e3, 0x1F, 17:30, true]"},
    {"nothing there", "a:\nb: ~\nc: null\nd: \"\"\ne: '~'\n", "{a@1:1=-, b@2:1=-, c@3:1=-, d@4:1=, e@5:1=~}"},
    {"columns count characters", "\303\251t\303\251: {caf\303\251: 1, b: 2}\n",
     "{\303\251t\303\251@1:1={caf\303\251@1:7=1, b@1:16=2}}"},
    {"byte-order mark",
     "\xEF\xBB\xBF"
     "a: 1\n",
     "{a@1:1=1}"},
    {"dos lines", "a: 1\r\nb: 2\r\n", "{a@1:1=1, b@2:1=2}"},
    {"quotes and folds", "a: \"x\n  y\"\nb: >\n  p\n  q\n", "{a@1:1=x y, b@3:1=p q\n}"},
    {"comment and document mark", "# c\n--- \na: 1 # d\n...\n", "{a@3:1=1}"},
    {"escapes that can be seen", "a: \"\\u00e9\\t\\n\"", "{a@1:1=\303\251\t\n}"},
    {"thousands between braces", "{a: 1,900, b: $12,345.50, c: {d: 1,900,000}, e: 2}",
     "{a@1:2=1,900, b@1:12=$12,345.50, c@1:27={d@1:31=1,900,000}, e@1:46=2}"},
    {"a group behind a unit", "{a: 1,900 ft, b: 1}", "{a@1:2=1,900 ft, b@1:15=1}"},
    {"no thousands", "{a: 1, 900, b: 1,90, c: 1.5,901, d: 1234,902, e: \"1\",903}",
     "{a@1:2=1, 900@1:8=-, b@1:13=1, 90@1:18=-, c@1:22=1.5, 901@1:29=-, d@1:34=1234, 902@1:42=-, e@1:47=1, "
     "903@1:54=-}"},
    {"64 levels",
     "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]"
     "]]]]]]]]]]]]]]",
     "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]"
     "]]]]]]]]]]]]]]"},
};

START_TEST(taken)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_node *root;
  ck_assert_msg(pw_yaml_read(&root, good[_i].text, strlen(good[_i].text), &origin, ctx) == PW_OK && ctx->n_diags == 0,
                "%s: %s", good[_i].name, ctx->n_diags ? ctx->diags[0].text : "");
  struct pw_buf b = pw_buf_in(ctx->arena);
  show(&b, root);
  ck_assert_str_eq(pw_buf_text(&b), good[_i].shown);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name, *text;
  size_t n;           /* 0: strlen */
  const char *faults; /* "code line:col" of each */
  const char *shown;  /* the tree that is left, NULL: none */
} bad[] = {
    {"empty", "", 0, "yaml-empty 1:1", NULL},
    {"comments only", "# a\n# b\n", 0, "yaml-empty 1:1", NULL},
    {"null only", "~\n", 0, "yaml-empty 1:1", NULL},
    {"duplicate", "a: 1\nb: 2\na: 3\n", 0, "duplicate-key 3:1", "{a@1:1=1, b@2:1=2, a@3:1=3}"},
    {"duplicate in flow", "{a: 1, \"a\": 2, a: 3}", 0, "duplicate-key 1:8, duplicate-key 1:16",
     "{a@1:2=1, a@1:8=2, a@1:16=3}"},
    {"same key in two maps", "a: {k: 1}\nb: {k: 1, k: 2}\n", 0, "duplicate-key 2:11",
     "{a@1:1={k@1:5=1}, b@2:1={k@2:5=1, k@2:11=2}}"},
    {"anchor and alias", "a: &x 1\nb: *x\n", 0, "yaml-anchor 1:4, yaml-alias 2:4", "{a@1:1=1, b@2:1=!}"},
    {"alias in itself", "a: &x [*x]\n", 0, "yaml-anchor 1:4, yaml-alias 1:8", "{a@1:1=[!]}"},
    {"alias as key", "&x a: 1\n*x : 2\n", 0, "yaml-anchor 1:1, yaml-alias 2:1", "{a@1:1=1}"},
    {"tag", "a: !!int 1\nb: !x {c: 1}\n", 0, "yaml-tag 1:4, yaml-tag 2:4", "{a@1:1=1, b@2:1={c@2:8=1}}"},
    {"merge", "a: {<<: {b: 1}}\n", 0, "yaml-merge 1:5", "{a@1:1={}}"},
    {"quoted << is a key", "\"<<\": 1\n", 0, "", "{<<@1:1=1}"},
    {"list as key", "? [a]\n: 1\n", 0, "yaml-key 1:3", "{}"},
    {"map as key", "{{a: 1}: 2}\n", 0, "yaml-key 1:2", "{}"},
    {"no key", "\"\": 1\n", 0, "yaml-key 1:1", "{}"},
    {"null key", "~: 1\n", 0, "yaml-key 1:1", "{}"},
    {"second document", "a: 1\n---\nb: 2\n", 0, "yaml-second 2:1", "{a@1:1=1}"},
    {"text behind the end", "a: 1\n...\nb: 2\n", 0, "yaml-syntax 3:1", NULL},
    {"tab", "a:\n\tb: 1\n", 0, "yaml-syntax 2:1", NULL},
    {"tab behind characters of two bytes", "\303\251: \303\251\na:\n\tb: 1\n", 0, "yaml-syntax 3:1", NULL},
    {"at sign", "a: @x\n", 0, "yaml-syntax 1:4", NULL},
    {"open quote", "a: \"x\nb: 1\n", 0, "yaml-syntax 3:1", NULL},
    {"open list", "a: [1, 2\n", 0, "yaml-syntax 2:1", NULL},
    {"second colon", "a: b: c\n", 0, "yaml-syntax 1:5", NULL},
    {"no colon", "a: 1\nb\nc: 2\n", 0, "yaml-syntax 3:1", NULL},
    {"65 levels",
     "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[x]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]"
     "]]]]]]]]]]]]]]]]",
     0, "yaml-depth 1:65", NULL},
    {"zero byte", "a: 1\nb: x\0y\n", 13, "yaml-character 2:5", NULL},
    {"zero byte as an escape", "a: \"x\\0\"\n", 0, "yaml-character 1:4", "{a@1:1=!}"},
    {"direction as an escape", "a: \"\\u202e\"\n", 0, "yaml-character 1:4", "{a@1:1=!}"},
    {"hidden in a key", "\"a\\x07\": 1\n", 0, "yaml-character 1:1", "{}"},
    {"bell", "a: \a\n", 0, "yaml-character 1:4", NULL},
    {"delete", "a: \177\n", 0, "yaml-character 1:4", NULL},
    {"next line", "a: \302\205\n", 0, "yaml-character 1:4", NULL},
    {"line separator", "a: x\342\200\250y\n", 0, "yaml-character 1:5", NULL},
    {"turned text", "a: x\342\200\256y\n", 0, "yaml-character 1:5", NULL},
    {"non-character", "a: \357\277\276\n", 0, "yaml-character 1:4", NULL},
    {"mark inside", "a: \xEF\xBB\xBF\n", 0, "yaml-character 1:4", NULL},
    {"latin-1", "caf\351: 1\n", 0, "yaml-encoding 1:4", NULL},
    {"cut off", "a: \342\202", 0, "yaml-encoding 1:4", NULL},
    {"both kinds, once each", "a: \351 \a\nb: \351 \a\n", 0, "yaml-encoding 1:4, yaml-character 1:6", NULL},
    {"utf-16",
     "\xFF\xFE"
     "a\0",
     4, "yaml-encoding 1:1", NULL},
    {"emoji that a JSON writer splits", "a: \"\\ud83d\\ude00\"\n", 0, "yaml-syntax 1:7", NULL},
};

START_TEST(refused)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_node *root;
  size_t n = bad[_i].n ? bad[_i].n : strlen(bad[_i].text);
  pw_status status = pw_yaml_read(&root, bad[_i].text, n, &origin, ctx);
  struct pw_buf faults = pw_buf_in(ctx->arena), shown = pw_buf_in(ctx->arena);
  for (int i = 0; i < ctx->n_diags; i++) {
    const struct pw_diag *d = &ctx->diags[i];
    pw_buf_printf(&faults, "%s%s %d:%d", i ? ", " : "", d->code, d->line, d->col);
    ck_assert(d->severity == PW_ERROR && strcmp(d->file, "x.yaml") == 0 && strlen(d->text) > 10);
  }
  ck_assert_msg(strcmp(pw_buf_text(&faults), bad[_i].faults) == 0, "%s: %s (%s)", bad[_i].name, pw_buf_text(&faults),
                ctx->n_diags ? ctx->diags[0].text : "");
  ck_assert_msg(status == (bad[_i].shown ? PW_OK : PW_ERR_INPUT) && !root == !bad[_i].shown, "%s: status %d",
                bad[_i].name, (int)status);
  if (root) {
    show(&shown, root);
    ck_assert_str_eq(pw_buf_text(&shown), bad[_i].shown);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(too_large)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_node *root;
  size_t n = PW_YAML_BYTES_MAX + 1;
  char *text = malloc(n);
  ck_assert(text != NULL);
  memset(text, '#', n);
  ck_assert_int_eq(pw_yaml_read(&root, text, n, &origin, ctx), PW_ERR_INPUT);
  ck_assert_str_eq(ctx->diags[0].code, "yaml-size");
  ck_assert_int_eq(pw_yaml_read(&root, text, n - 1, &origin, ctx), PW_ERR_INPUT);
  ck_assert_str_eq(ctx->diags[1].code, "yaml-empty");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The largest file there may be, all duplicates or all brackets, is read in a moment. */
START_TEST(not_slow)
{
  static const char *const units[] = {"a: 1\n", "- [b]\n", "{c: 1}, ", "[", "{a: ", "- ", "? ", "\"", "a&"};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_node *root;
  size_t step = strlen(units[_i]), n = PW_YAML_BYTES_MAX / step * step;
  char *text = malloc(n);
  ck_assert(text != NULL);
  for (size_t i = 0; i < n; i += step)
    memcpy(text + i, units[_i], step);
  pw_status status = pw_yaml_read(&root, text, n, &origin, ctx);
  ck_assert_msg(status == PW_OK || status == PW_ERR_INPUT, "%s", units[_i]);
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(places)
{
  const char *text = "\xEF\xBB\xBF"
                     "ab\n\303\251x\r\n\nz";
  size_t n = strlen(text);
  ck_assert_int_eq(pw_source_offset(text, n, 1, 1), 3);
  ck_assert_int_eq(pw_source_offset(text, n, 1, 3), 5);
  ck_assert_int_eq(pw_source_offset(text, n, 2, 1), 6);
  ck_assert_int_eq(pw_source_offset(text, n, 2, 2), 8);
  ck_assert_int_eq(pw_source_offset(text, n, 4, 1), 12);
  ck_assert_int_eq(pw_source_offset(text, n, 4, 2), n);
  ck_assert_int_eq(pw_source_offset(text, n, 9, 1), n);
}
END_TEST

START_TEST(memory_out)
{
  const char *text = "a: {b: [1, 2, {c: d}], e: f}\ng: \"h\"\n";
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_node *root;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_yaml_read(&root, text, strlen(text), &origin, ctx);
    pw_test_ctx_free(ctx);
    if (status == PW_OK) {
      ck_assert_int_gt(k, 20);
      break;
    }
    ck_assert_int_eq(status, PW_ERR_MEMORY);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("yaml_tree");
  TCase *t = tcase_create("yaml_tree");
  tcase_set_timeout(t, 60);
  tcase_add_loop_test(t, taken, 0, sizeof good / sizeof *good);
  tcase_add_loop_test(t, refused, 0, sizeof bad / sizeof *bad);
  tcase_add_test(t, too_large);
  tcase_add_loop_test(t, not_slow, 0, 9);
  tcase_add_test(t, places);
  tcase_add_test(t, memory_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
