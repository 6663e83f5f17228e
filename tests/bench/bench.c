/* bench.c - allocates problems made from a seed and prints one row for each; asserts nothing.
 *   bench run NAME [SEED [WORK]]    one problem: a row of figures; the search's seed and times the usual work, 1 if none is given
 *   bench model NAME FILE    its integer model, for an outside solver
 *   bench lay NAME FILE      that solver's plan on the true racks
 *   bench list | grow        the names: sizes of the table / the growth table
 * One problem a process, so that the memory is its own. */
#include "instances.h"
#include "lay.h"

#include "base/arena.h"
#include "plan/chance/chance.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

struct size {
  struct pw_instance_spec spec;
  bool is_growth; /* a row of the growth table; racks grow with the pieces, so that they still fit */
};

static const struct size sizes[] = {
    {{"40/1", 1, 40, 1, 4, false, 30, 1}, false},        {{"150/2", 2, 150, 2, 8, false, 30, 1}, false},
    {{"300/3", 3, 300, 3, 8, false, 30, 1}, false},      {{"1000/6", 4, 1000, 6, 12, false, 30, 1}, false},
    {{"5000/20", 5, 5000, 20, 16, false, 30, 1}, false}, {{"5000/20-different", 6, 5000, 20, 16, true, 30, 1}, false},
    {{"base", 7, 150, 3, 4, false, 30, 1}, true},        {{"pieces-x2", 7, 300, 3, 4, false, 30, 1}, true},
    {{"pits-x2", 7, 150, 6, 4, false, 30, 1}, true},     {{"lots-x2", 7, 150, 3, 8, false, 30, 1}, true},
    {{"slots-x2", 7, 150, 3, 4, false, 15, 1}, true},
};
enum { N_SIZES = sizeof sizes / sizeof sizes[0] };

static int run(const struct size *size, unsigned seed, double work_times, const char *model)
{
  struct pw_ctx ctx = {.arena = pw_arena_open()};
  if (!ctx.arena)
    return 1;
  struct pw_instance *in = pw_instance_make(&size->spec, &ctx);
  int n_pieces = 0;
  for (int c = 0; c < in->lots.n_lots; c++)
    n_pieces += in->lots.lots[c].pieces;
  struct pw_allocate_options o = {.effort = model ? PW_EFFORT_QUICK : PW_EFFORT_FULL,
                                  .seed = seed,
                                  .work_times = work_times,
                                  .dump_model = model,
                                  .is_proved_beside = true};
  struct pw_allocation a;
  struct timespec from, to;
  if (clock_gettime(CLOCK_MONOTONIC, &from) || pw_allocate_make(&a, &in->event, &in->lots, &in->rates, &o, &ctx) ||
      (model && pw_allocate_prove(&a, &in->event, &in->lots, &in->rates, &o, &ctx)) ||
      clock_gettime(CLOCK_MONOTONIC, &to)) {
    pw_arena_close(ctx.arena);
    return 1;
  }
  const struct pw_chance_options draws = {.n_draws = PW_CHANCE_DRAWS, .seed = 1, .shares = pw_spread_shares()};
  struct pw_chance chance;
  if (pw_chance_make(&chance, &in->event, &in->lots, &a, &draws, &ctx)) {
    pw_arena_close(ctx.arena);
    return 1;
  }
  double strict = 1, moved = 1; /* of the worst meal */
  for (int s = 0; s < in->event.n_services; s++) {
    strict = chance.services[s].on_time_frac < strict ? chance.services[s].on_time_frac : strict;
    moved = chance.services[s].moved_frac < moved ? chance.services[s].moved_frac : moved;
  }
  double seconds = (double)(to.tv_sec - from.tv_sec) + 1e-9 * (double)(to.tv_nsec - from.tv_nsec);
  struct rusage use;
  long mb = getrusage(RUSAGE_SELF, &use) ? 0 : use.ru_maxrss / 1024;
  int n_slots = (in->lots.end_at_min - in->lots.start_at_min) / in->lots.slot_min;
  printf("%.2f %d %d %d %.2f %.2f %.2f %.2f %.2f %ld %ld %.1f %.1f\n", seconds, n_pieces, n_slots, a.n_missed,
         a.cost_cents / 100, a.bound_cents / 100, a.gap_frac * 100, a.lp_s, a.search_s, mb, a.work, strict * 100,
         moved * 100);
  pw_arena_close(ctx.arena);
  return 0;
}

static int lay(const struct size *size, const char *path)
{
  struct pw_ctx ctx = {.arena = pw_arena_open()};
  if (!ctx.arena)
    return 1;
  int status = pw_bench_lay(pw_instance_make(&size->spec, &ctx), path, &ctx);
  pw_arena_close(ctx.arena);
  return status;
}

int main(int argc, char **argv)
{
  bool is_list = argc == 2 && strcmp(argv[1], "list") == 0, is_grow = argc == 2 && strcmp(argv[1], "grow") == 0;
  for (int i = 0; i < N_SIZES; i++) {
    if ((is_list || is_grow) && sizes[i].is_growth == is_grow)
      printf("%s\n", sizes[i].spec.name);
    else if (argc >= 3 && argc <= 5 && strcmp(argv[1], "run") == 0 && strcmp(argv[2], sizes[i].spec.name) == 0)
      return run(&sizes[i], argc > 3 ? (unsigned)strtoul(argv[3], NULL, 10) : 1, argc > 4 ? strtod(argv[4], NULL) : 1,
                 NULL);
    else if (argc == 4 && strcmp(argv[1], "model") == 0 && strcmp(argv[2], sizes[i].spec.name) == 0)
      return run(&sizes[i], 1, 1, argv[3]);
    else if (argc == 4 && strcmp(argv[1], "lay") == 0 && strcmp(argv[2], sizes[i].spec.name) == 0)
      return lay(&sizes[i], argv[3]);
  }
  if (is_list || is_grow)
    return 0;
  fprintf(stderr, "usage: bench run NAME [SEED [WORK]] | model NAME FILE | lay NAME FILE | list | grow\n");
  return 2;
}
