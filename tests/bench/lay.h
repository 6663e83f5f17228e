/* lay.h - an outside solver's plan on the true racks. */
#ifndef PW_BENCH_LAY_H
#define PW_BENCH_LAY_H

#include "instances.h"

/** Prints what the plan of a cbc solution file for this problem's written model costs there, its pieces without a place,
 *  those that wait on the true racks at the first try and after a search inside its burn windows (the least of four
 *  seeds), and the cost of the cheapest plan mended from it, -1 without one.  0, or 1 when the file has no plan. */
int pw_bench_lay(const struct pw_instance *in, const char *path, struct pw_ctx *ctx);

#endif
