/* salt.c - salt of rubs, brines and injections against a cut's limit.  Salt put on long before the fire goes inward
 * and tastes saltier than the same on the crust, so the limit is on all of it, by raw weight. */
#include "plan/buy/salt.h"

#include <math.h>

#include "base/diag.h"

double pw_salt_frac(const struct pw_event *ev, int cut_i)
{
  const struct pw_cut *cut = &ev->cuts[cut_i];
  double salt = 0;
  if (!ev->item_salt_frac || !(cut->piece_kg > 0))
    return 0;
  for (int u = 0; u < cut->n_uses; u++) {
    const struct pw_use *use = &cut->uses[u];
    double of_item = use->amount * ev->item_salt_frac[use->item];
    if (use->per == PW_PER_KG_RAW)
      salt += of_item;
    else if (use->per == PW_PER_PIECE)
      salt += of_item / cut->piece_kg;
  }
  return salt;
}

/* Decimals by which two different percentages read differently: one, or as many as it takes up to nine, which tells any
 * difference that pw_salt_check() warns of from 1 % up. */
static int decimals_to_tell(double a, double b)
{
  int n = 1;
  while (n < 9 && llround(a * pow(10, n)) == llround(b * pow(10, n)))
    n++;
  return n;
}

void pw_salt_check(const struct pw_event *ev, const struct pw_purchase *purchase, struct pw_ctx *ctx)
{
  for (int r = 0; r < purchase->n_raws; r++) {
    const struct pw_cut *cut = &ev->cuts[purchase->raws[r].cut];
    double salt = pw_salt_frac(ev, purchase->raws[r].cut);
    bool is_said = false;
    for (int before = 0; before < r; before++)
      is_said = is_said || purchase->raws[before].cut == purchase->raws[r].cut;
    if (is_said || cut->salt_most_frac <= 0 || salt <= cut->salt_most_frac * (1 + 1e-9))
      continue;
    int n_decimals = decimals_to_tell(salt * 100, cut->salt_most_frac * 100);
    pw_diag_add(ctx, PW_WARNING, "salty", NULL, 0, 0,
                "%s gets %.*f %% of its raw weight in salt, above its limit of %.*f %%: less rub or brine, or a "
                "shorter rest before the fire",
                cut->name, n_decimals, salt * 100, n_decimals, cut->salt_most_frac * 100);
  }
}
