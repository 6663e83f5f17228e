/* resolve_arrivals.c - how guests come over the length of a service [D4]: shares in equal stretches of it.
 * In: the service's own shares, curves by name.  Out: pw_service.arrive_frac, n_arrive. */
#include "read/resolve.h"

#include <math.h>

enum { STRETCHES_MOST = 48 };
#define SHARES_OFF 1e-6 /* what shares may be off 100 %: rounding of what people write in per cent */

/* Shares of guests in per cent into parts of 1.  NULL after a fault. */
static const double *shares_read(const char *const *texts, int n, const struct pw_node *at, const char *key,
                                 struct pw_reader *r)
{
  double *shares = pw_reader_array(r, n, sizeof *shares), sum = 0;
  if (!shares)
    return NULL;
  if (n < 1 || n > STRETCHES_MOST) {
    pw_reader_fault(r, at, "out-of-range", "\"%s\": %d shares; write 1 to %d, such as [60 %%, 40 %%]", key, n,
                    STRETCHES_MOST);
    return NULL;
  }
  for (int i = 0; i < n; i++) {
    char why[PW_QUANTITY_TEXT_MAX * 3];
    if (!texts[i] || pw_quantity_parse(texts[i], PW_DIM_FRACTION, &shares[i], why, sizeof why) || shares[i] < 0 ||
        shares[i] > 1) {
      pw_reader_fault(r, at, "bad-quantity",
                      "\"%s\": share %d is not from 0 %% to 100 %%; write such as [60 %%, 40 %%]", key, i + 1);
      return NULL;
    }
    sum += shares[i];
  }
  if (!(fabs(sum - 1) <= SHARES_OFF * n)) {
    pw_reader_fault(r, at, "out-of-range", "\"%s\": the shares add up to %.6g %%, not to 100 %%", key, sum * 100);
    return NULL;
  }
  for (int i = 0; i < n; i++)
    shares[i] /= sum;
  return shares;
}

/* Its own curve, else that of walk-ups or of its style, else evenly. */
void pw_arrivals_resolve(struct raw_service *service, const struct raw_event *raw, struct pw_reader *r)
{
  static const char *const styles[] = {[PW_BUFFET] = "buffet",
                                       [PW_PLATED] = "plated",
                                       [PW_FAMILY] = "family",
                                       [PW_BOXED] = "boxed",
                                       [PW_DROP_OFF] = "drop_off"};
  struct pw_service *s = &service->s;
  const struct pw_node *own = pw_node_get(service->at, "arrivals");
  if (own) {
    if (!pw_reader_has_fault(r, own) &&
        (s->arrive_frac = shares_read(service->arrivals, service->n_arrivals, own, "arrivals", r)))
      s->n_arrive = service->n_arrivals;
    return;
  }
  int k = pw_index_of(service->has_walk_up ? "walk_up" : styles[s->style], raw->arrivals, raw->n_arrivals,
                      sizeof *raw->arrivals, offsetof(struct raw_arrivals, id));
  if (k != PW_NONE && (s->arrive_frac = raw->arrivals[k].frac))
    s->n_arrive = raw->arrivals[k].n_shares;
  if (s->n_arrive > 0)
    s->arrive_source = raw->arrivals[k].source;
}

void pw_curves_resolve(struct raw_event *raw, struct pw_reader *r)
{
  for (int i = 0; i < raw->n_arrivals; i++) {
    struct raw_arrivals *a = &raw->arrivals[i];
    const struct pw_node *at = pw_node_get(a->at, "shares");
    if (!at)
      pw_reader_fault(r, a->at, "missing-key", "the curve \"%s\" has no \"shares\"", a->id);
    else if (!pw_reader_has_fault(r, at))
      a->frac = shares_read(a->shares, a->n_shares, at, "shares", r);
  }
}
