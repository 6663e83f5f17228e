/* dice.h - numbers from a seed for random tests: set `state`, then roll.
 * splitmix64: Steele, Lea, Flood (2014), constants of the paper. */
#ifndef PW_TEST_DICE_H
#define PW_TEST_DICE_H

#include <stdint.h>

static uint64_t state;

/** 0 to n - 1. */
static int below(int n)
{
  uint64_t z = (state += UINT64_C(0x9E3779B97F4A7C15));
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return (int)((z >> 33) % (unsigned)n);
}

#endif
