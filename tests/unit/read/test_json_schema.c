/* test_json_schema.c - the names in the JSON Schemas: every "$ref" leads to one definition, every definition is there once and referred to, and
 * their names are words of a-z and 0-9 between dashes (RFC 6901: nothing that a fragment would have to escape).  What the schemas
 * accept and refuse is held against an outside validator in tests/parts/schema.sh. */
#include "harness.h"
#include "read/json_schema.h"

enum { NAMES_MAX = 2000, NAME_MAX_BYTES = 80 };
static char names[NAMES_MAX][NAME_MAX_BYTES];

static int n_of(const char *text, const char *words)
{
  int n = 0;
  for (const char *p = text; (p = strstr(p, words)) != NULL; p += strlen(words))
    n++;
  return n;
}

START_TEST(names_of_definitions)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = NULL;
  size_t n_bytes = 0;
  int n = 0;
  ck_assert_int_eq(pw_json_schema_text(&text, &n_bytes, _i ? PW_SCHEMA_CATALOG : PW_SCHEMA_EVENT, ctx), PW_OK);
  for (const char *p = text; (p = strstr(p, "\"#/$defs/")) != NULL;) {
    p += strlen("\"#/$defs/");
    size_t len = strcspn(p, "\"");
    ck_assert(len > 0 && len < NAME_MAX_BYTES && n < NAMES_MAX);
    ck_assert_msg(strspn(p, "abcdefghijklmnopqrstuvwxyz0123456789-") >= len && *p != '-' && p[len - 1] != '-',
                  "\"%.*s\"", (int)len, p);
    memcpy(names[n], p, len);
    names[n++][len] = '\0';
  }
  ck_assert_int_gt(n, 20);
  for (int i = 0; i < n; i++) {
    char key[NAME_MAX_BYTES + 10];
    snprintf(key, sizeof key, "\n  \"%.79s\": {", names[i]);
    ck_assert_msg(n_of(strstr(text, "\"$defs\""), key) == 1, "%s is defined %d times", names[i],
                  n_of(strstr(text, "\"$defs\""), key));
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("json_schema");
  TCase *t = tcase_create("names");
  tcase_add_loop_test(t, names_of_definitions, 0, 2);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
