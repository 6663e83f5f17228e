/* packs.c - the supplier program [P3] on needs made from a seed: seconds, cost, bound.  packs NEEDS SUPPLIERS SEED. */
#include "base/arena.h"
#include "plan/buy/suppliers.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

enum { NEEDS_MAX = 2000, OFFERS = 4 };

static uint64_t state;

static int between(int least, int most)
{
  state = state * 6364136223846793005u + 1442695040888963407u;
  return least + (int)((state >> 33) % (uint64_t)(most - least + 1));
}

int main(int argc, char **argv)
{
  static double content[NEEDS_MAX][OFFERS], price[NEEDS_MAX][OFFERS];
  static int supplier[NEEDS_MAX][OFFERS], packs[NEEDS_MAX][OFFERS];
  static struct pw_suppliers_need needs[NEEDS_MAX];
  struct pw_suppliers_terms terms[PW_SUPPLIERS_MAX];
  int n = argc > 1 ? atoi(argv[1]) : 300, n_suppliers = argc > 2 ? atoi(argv[2]) : 5;
  if (n < 1 || n > NEEDS_MAX || n_suppliers < 1 || n_suppliers > PW_SUPPLIERS_MAX)
    return 2;
  state = (uint64_t)(argc > 3 ? atoi(argv[3]) : 1);
  double all = 0;
  for (int i = 0; i < n; i++) {
    int unit = between(20, 900), count = between(1, OFFERS);
    needs[i] = (struct pw_suppliers_need){between(1, 200) / 2.0, count, content[i], price[i], supplier[i], packs[i], 0};
    for (int o = 0; o < count; o++) {
      content[i][o] = between(1, 40) / 2.0;
      price[i][o] = (int)(content[i][o] * unit * between(85, 115) / 100) + 1;
      supplier[i][o] = between(0, n_suppliers - 1);
    }
    all += needs[i].amount * unit;
  }
  for (int s = 0; s < n_suppliers; s++)
    terms[s] = (struct pw_suppliers_terms){between(0, 30) / 1000.0 * all, between(0, 150) / 100.0 * all / n_suppliers};
  struct pw_ctx ctx = {.arena = pw_arena_open()};
  struct pw_suppliers_choice choice;
  struct timespec from, to;
  if (!ctx.arena || clock_gettime(CLOCK_MONOTONIC, &from) ||
      pw_suppliers_choose(&choice, needs, n, terms, n_suppliers, &ctx) || clock_gettime(CLOCK_MONOTONIC, &to))
    return 1;
  printf("%d %d %.3f %.2f %.2f\n", n, n_suppliers,
         (double)(to.tv_sec - from.tv_sec) + 1e-9 * (double)(to.tv_nsec - from.tv_nsec), choice.cost / 100,
         choice.bound / 100);
  pw_arena_close(ctx.arena);
  return 0;
}
