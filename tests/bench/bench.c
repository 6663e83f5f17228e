/* bench.c - allocates problems made from a seed and prints one row for each; asserts nothing.
 * bench [DUMP_DIR]: also writes each integer model there, for an outside solver. */
#include "instances.h"

#include "base/arena.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>

int main(int argc, char **argv)
{
  static const struct pw_instance_spec specs[] = {
      {"40", 1, 40, 1, 4, false, 30, 1},       {"150", 2, 150, 2, 8, false, 30, 1},
      {"300", 3, 300, 3, 8, false, 30, 1},     {"1000", 4, 1000, 6, 12, false, 30, 1},
  };
  printf("%-6s %7s %10s %10s %7s %7s %9s %7s\n", "guests", "missed", "cost", "bound", "gap %", "model s", "search s", "MB");
  for (size_t i = 0; i < sizeof specs / sizeof specs[0]; i++) {
    struct pw_ctx ctx = {.arena = pw_arena_open()};
    if (!ctx.arena)
      return 1;
    struct pw_instance *in = pw_instance_make(&specs[i], &ctx);
    char path[256];
    struct pw_allocate_options o = {.effort = PW_EFFORT_FULL, .seed = 1};
    if (argc > 1 && snprintf(path, sizeof path, "%s/%s.lp", argv[1], specs[i].name) < (int)sizeof path)
      o.dump_model = path;
    struct pw_allocation a;
    if (pw_allocate_make(&a, &in->event, &in->lots, &in->rates, &o, &ctx))
      return 1;
    struct rusage use;
    long mb = getrusage(RUSAGE_SELF, &use) ? 0 : use.ru_maxrss / 1024;
    printf("%-6s %7d %10.2f %10.2f %7.2f %7.2f %9.2f %7ld\n", specs[i].name, a.n_missed, a.cost_cents / 100,
           a.bound_cents / 100, a.gap_frac * 100, a.lp_s, a.search_s, mb);
    fflush(stdout);
    pw_arena_close(ctx.arena);
  }
  return 0;
}
