/* draws.h - the chance behind a draw: normals by counter, so that a draw is its own number's alone, and the lengths they make of
 * stages, kept for the many plans of one event that are drawn with one seed. */
#ifndef PW_DRAWS_H
#define PW_DRAWS_H

#include <stdbool.h>
#include <stdint.h>

/** splitmix64: Steele, Lea, Flood (2014), constants of the paper. */
uint64_t pw_draw_mix(uint64_t z);
/** The first of a seed's draws; draw k is this plus k. */
uint64_t pw_draw_first(unsigned seed);
/** A standard normal of a draw and a name: Box and Muller (1958). */
double pw_draw_normal(uint64_t draw, uint64_t name);
/** Between 0 and 1, neither of them, of a draw and a name. */
double pw_draw_unit(uint64_t draw, uint64_t name);
/** FNV-1a, 64 bit: a name that does not hang on the order of a file. */
uint64_t pw_draw_name(const char *id);

/** What the length of a piece's stage varies with. */
struct pw_draw_stage {
  uint64_t lot, place, piece;              /**< names of what it has in common with others, and its own */
  double lot_part, place_part, piece_part; /**< square roots of their shares */
  double sigma;                            /**< of the logarithm of the length */
};
/** How many times its planned length a stage takes whose three normals are known. */
double pw_draw_factor(const struct pw_draw_stage *stage, double of_lot, double of_place, double of_piece);

/** Factors kept from plan to plan: each is the number that would be drawn again.  One thread at a time. */
struct pw_kept_draws;
/** NULL when memory is out.  Free with pw_kept_draws_close(), which allows NULL. */
struct pw_kept_draws *pw_kept_draws_open(unsigned seed);
void pw_kept_draws_close(struct pw_kept_draws *kept);
/** Before the stages of another plan are asked for: what became too much is forgotten, and with it all that was given out.
 *  False: they are of another seed and of no use. */
bool pw_kept_draws_begin(struct pw_kept_draws *kept, unsigned seed);
/** The stage's factors in draws 0 to n - 1 of the seed; NULL when memory is out. */
const double *pw_kept_draws_factors(struct pw_kept_draws *kept, const struct pw_draw_stage *stage, int n);

#endif
