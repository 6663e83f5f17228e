/* Zone rules in the POSIX TZ form against the C library, and damaged zone files. */
#define _DEFAULT_SOURCE /* tm_gmtoff, tm_zone */
#include "base/zone.h"
#include "harness.h"

#include <time.h>

/* A zone file: version, one type (UTC-5 "EST"), no changes, and the footer. */
static size_t zone_make(unsigned char *out, char version, const char *footer)
{
  unsigned char head[44] = "TZif";
  static const unsigned char body[] = {0xFF, 0xFF, 0xB9, 0xB0, 0, 0, 'E', 'S', 'T', 0}; /* -18000 s, no DST, name 0 */
  size_t n = 0;
  head[4] = (unsigned char)version;
  head[39] = 1; /* one type */
  head[43] = 4; /* four characters */
  for (int block = 0; block < (version >= '2' ? 2 : 1); block++) {
    memcpy(out + n, head, sizeof head);
    memcpy(out + n + 44, body, sizeof body);
    n += sizeof head + sizeof body;
  }
  if (footer)
    n += (size_t)sprintf((char *)out + n, "\n%s\n", footer);
  return n;
}

static const char *const footers[] = {
    "CST6CDT,M3.2.0,M11.1.0",
    "CET-1CEST,M3.5.0,M10.5.0/3",
    "<+1030>-10:30<+11>-11,M10.1.0,M4.1.0", /* south, half an hour */
    "AAA3BBB,J60/2,J300/3:30:15",           /* days without 29 February */
    "AAA3BBB2:30,59,300/25",                /* days with it; beyond the day */
    "IST-2IDT,M3.4.4/26,M10.5.0",           /* RFC 8536: beyond the day */
    "<-02>2<-01>,M3.5.0/-1,M10.5.0/0",      /* before the day */
    "EST5",
    "<+0545>-5:45",
    "UTC0",
    "WGT3WGST,M3.5.6/22,M10.5.6/23",
};

START_TEST(rule_against_libc)
{
  struct pw_ctx *ctx = pw_test_ctx();
  unsigned char file[512];
  struct pw_zone_rules rules = {0};
  size_t n = zone_make(file, '2', footers[_i]);
  ck_assert_msg(pw_zone_decode(&rules, file, n, ctx->arena) == PW_OK, "%s", footers[_i]);
  setenv("TZ", footers[_i], 1);
  tzset();
  for (int64_t t = INT64_C(1766999700); t < INT64_C(1766999700) + 5 * 366 * 86400;
       t += 900) { /* 2025-12 to 2030, on the quarters */
    time_t when = (time_t)t;
    struct tm tm;
    localtime_r(&when, &tm);
    const struct pw_zone_offset *o = pw_zone_offset_at(&rules, t);
    if (o->utc_s != tm.tm_gmtoff || o->is_dst != (tm.tm_isdst > 0) || strcmp(o->abbr, tm.tm_zone) != 0)
      ck_abort_msg("%s at %lld: %d %s, libc %ld %s", footers[_i], (long long)t, o->utc_s, o->abbr, tm.tm_gmtoff,
                   tm.tm_zone);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static const char *const bad_footers[] = {
    "E5",
    "EST",
    "EST5EDT",
    "EST5EDT,M3.2.0",
    "EST5EDT,M13.2.0,M11.1.0",
    "EST5EDT,M3.6.0,M11.1.0",
    "EST5EDT,M3.2.7,M11.1.0",
    "EST5EDT,J0,J300",
    "EST5EDT,400,300",
    "EST5EDT,M3.2.0,M11.1.0 ",
    "<+05-5",
    "EST200",
    "EST5:",
    "EST5EDT,M3,M4",
    "EST5EDT,M3.2,M4.1",
    "EST5EDT,M3.2.0/x,M11.1.0",
    "5",
    "EST5E5,M3.2.0,M11.1.0",
    "EST5EDTx:,M3.2.0,M11.1.0",
    "ESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTESTEST5",
};

START_TEST(bad_rule)
{
  struct pw_ctx *ctx = pw_test_ctx();
  unsigned char file[512];
  struct pw_zone_rules rules = {0};
  size_t n = zone_make(file, '2', bad_footers[_i]);
  ck_assert_msg(pw_zone_decode(&rules, file, n, ctx->arena) == PW_ERR_IO, "%s", bad_footers[_i]);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(no_rule)
{
  struct pw_ctx *ctx = pw_test_ctx();
  unsigned char file[512];
  struct pw_zone_rules old = {0}, bare = {0}, empty = {0};
  ck_assert_int_eq(pw_zone_decode(&old, file, zone_make(file, '\0', NULL), ctx->arena), PW_OK); /* version 1 */
  ck_assert_int_eq(pw_zone_decode(&bare, file, zone_make(file, '2', NULL), ctx->arena), PW_OK);
  ck_assert_int_eq(pw_zone_decode(&empty, file, zone_make(file, '2', ""), ctx->arena), PW_OK);
  ck_assert_int_eq(pw_zone_offset_at(&old, 0)->utc_s, -18000);
  ck_assert_int_eq(pw_zone_offset_at(&bare, INT64_C(4000000000))->utc_s, -18000);
  ck_assert_str_eq(pw_zone_offset_at(&empty, 0)->abbr, "EST");
  pw_test_ctx_free(ctx);
}
END_TEST

/* Nothing behind the file's end is read; RFC 8536 allows offsets of -25 to 26 h, and two days either way are no fault of ours. */
START_TEST(ends_of_a_file)
{
  static const struct {
    unsigned char seconds[4];
    pw_status status;
  } offsets[] = {{{0xFF, 0xFD, 0x5D, 0x00}, PW_OK},
                 {{0xFF, 0xFD, 0x5C, 0xFF}, PW_ERR_IO},
                 {{0x00, 0x02, 0xA3, 0x00}, PW_OK},
                 {{0x00, 0x02, 0xA3, 0x01}, PW_ERR_IO}};
  struct pw_ctx *ctx = pw_test_ctx();
  unsigned char file[512];
  struct pw_zone_rules rules = {0};
  size_t n = zone_make(file, '2', NULL);
  strcpy((char *)file + n, "\nno rule\n");
  ck_assert_int_eq(pw_zone_decode(&rules, file, n, ctx->arena), PW_OK);
  for (size_t i = 0; i < sizeof offsets / sizeof *offsets; i++) {
    n = zone_make(file, '2', NULL);
    memcpy(file + n - 10, offsets[i].seconds, 4);
    ck_assert_msg(pw_zone_decode(&rules, file, n, ctx->arena) == offsets[i].status, "offset %d", (int)i);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* A true zone file cut at every length and with every byte turned: refused or read, nothing else. */
START_TEST(damaged)
{
  static unsigned char file[8192], copy[8192];
  FILE *in = fopen(PW_ZONEINFO "/Europe/Berlin", "rb");
  ck_assert(in != NULL);
  size_t n = fread(file, 1, sizeof file, in);
  ck_assert(fclose(in) == 0 && n > 100 && n < sizeof file);
  for (size_t cut = 0; cut < n; cut++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_zone_rules rules = {0};
    memcpy(copy, file, cut);
    memset(copy + cut, 0xAA, sizeof copy - cut);
    pw_status status = pw_zone_decode(&rules, copy, cut, ctx->arena);
    if (status == PW_OK && !pw_zone_offset_at(&rules, 0))
      ck_abort_msg("cut at %zu", cut);
    if (status != PW_OK && status != PW_ERR_IO && !(status == PW_ERR_INPUT && cut < 4))
      ck_abort_msg("cut at %zu: %d", cut, (int)status);
    pw_test_ctx_free(ctx);
  }
  for (size_t at = 0; at < n; at++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_zone_rules rules = {0};
    memcpy(copy, file, n);
    copy[at] ^= (unsigned char)(1u << (at * 7 % 8) | 0x80);
    if (pw_zone_decode(&rules, copy, n, ctx->arena) == PW_OK) {
      int sum = 0;
      for (int64_t t = -INT64_C(3000000000); t < INT64_C(6000000000); t += INT64_C(100000000))
        sum += pw_zone_offset_at(&rules, t)->utc_s != 0;
      ck_assert_int_ge(sum, 0);
    }
    pw_test_ctx_free(ctx);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("zone");
  TCase *t = tcase_create("zone");
  tcase_set_timeout(t, 60);
  tcase_add_loop_test(t, rule_against_libc, 0, sizeof footers / sizeof *footers);
  tcase_add_loop_test(t, bad_rule, 0, sizeof bad_footers / sizeof *bad_footers);
  tcase_add_test(t, no_rule);
  tcase_add_test(t, ends_of_a_file);
  tcase_add_test(t, damaged);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
