/* instances.h - allocation problems made from a seed, without files: for the bench and for random tests.
 * All numbers are invented but of the trade's size. */
#ifndef PW_INSTANCES_H
#define PW_INSTANCES_H

#include "plan/stages.h"

struct pw_instance_spec {
  const char *name;
  unsigned seed;
  int guests, n_pits, n_lots;
  bool is_all_different; /* every pit a kind of its own; else three kinds */
  int slot_min;
  int n_settings; /* 1 to 3 */
};

struct pw_instance {
  struct pw_event event;
  struct pw_lots lots;
  struct pw_fuel_rates rates;
};

/** Builds the instance in the arena; aborts when memory is out (test code). */
struct pw_instance *pw_instance_make(const struct pw_instance_spec *spec, struct pw_ctx *ctx);

#endif
