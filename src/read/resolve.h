/* resolve.h - the steps from raw entries to the event, in order, and what they share. */
#ifndef PW_RESOLVE_H
#define PW_RESOLVE_H

#include "read/raw.h"

/** Zone, currency, grid: fills the plain fields of raw->ev. */
void pw_resolve_head(struct raw_event *raw, struct pw_reader *r);
/** Cuts, dishes, items, fuels, pits, finishers: indices into the arrays of raw. */
void pw_resolve_entries(struct raw_event *raw, struct pw_reader *r);
/** Guests, services, crew, supplies; sorts services by time, menus by dish. */
void pw_resolve_job(struct raw_event *raw, struct pw_reader *r);
/** Marks what the menus reach, checks it, and (without faults) fills *ev with it. */
void pw_event_keep(struct pw_event *ev, struct raw_event *raw, struct pw_reader *r);
/** Yields at the end cores of this job's cooks: changes cook_frac of the kept cuts, once. */
void pw_event_yields(struct pw_event *ev);
/** Time from lighting to a clean fire in this job's weather and with its charcoal: changes ready_min of the pits on the job, once. */
void pw_event_fires(struct pw_event *ev);
/** The time grid of an event that names none. */
void pw_event_grid(struct pw_event *ev);
/** Faults that no single field shows.  cut_used, dish_used: reached by a menu, by index in raw. */
void pw_event_check(const struct raw_event *raw, const bool *cut_used, const bool *dish_used, struct pw_reader *r);

/** Cores that the thin air of the site cannot reach are lowered to just below local boiling, with a warning: in every cut kept. */
void pw_event_altitude(struct pw_event *ev, struct pw_reader *r);

/** Index of the element whose id (const char * at `offset`) is `id`, or PW_NONE. */
int pw_index_of(const char *id, const void *array, int n, size_t size, size_t offset);
/** Index of the entry a reference names in an array of the section; PW_NONE for no name, or after a fault. */
int pw_ref_index(const struct pw_ref *ref, enum pw_section section, const void *array, int n, struct pw_reader *r);

/** Curves of arrivals into parts of 1; then how the guests of a service come. */
void pw_curves_resolve(struct raw_event *raw, struct pw_reader *r);
void pw_arrivals_resolve(struct raw_service *service, const struct raw_event *raw, struct pw_reader *r);

/** Bases that make sense somewhere, as bits. */
enum {
  PW_BASES_DISH = 1u << PW_PER_PORTION | 1u << PW_PER_GUEST | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT,
  PW_BASES_CUT = 1u << PW_PER_PIECE | 1u << PW_PER_KG_RAW | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT,
  PW_BASES_EVENT = 1u << PW_PER_GUEST | 1u << PW_PER_SERVICE | 1u << PW_PER_EVENT
};

/** Uses with items found and amounts typed by the item's unit; `allowed` are bases as bits, `where` words a fault. */
struct pw_use *pw_uses_resolve(const struct raw_event *raw, const struct raw_use *uses, int n, unsigned allowed,
                               const char *where, struct pw_reader *r);
/** An amount of an item in its own unit (kg, L, each); weight, volume and count are converted where the item's "weighs"
 *  block says how.  False after a fault. */
bool pw_amount_read(const struct pw_node *node, const char *key, const struct pw_item *item, double *amount,
                    struct pw_reader *r);
/** Suppliers' names against the offers, salt of items by their unit, margin or food share. */
void pw_resolve_trade(struct raw_event *raw, struct pw_reader *r);
/** A portion: a weight, or a count with "each".  False after a fault. */
bool pw_portion_read(const struct pw_node *node, bool *is_by_count, double *kg, double *units, struct pw_reader *r);

#endif
