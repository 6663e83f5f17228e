/* plan_check_parts.h - the rules of the judge, by what they need; each reports through pw_judge_find(). */
#ifndef PW_PLAN_CHECK_PARTS_H
#define PW_PLAN_CHECK_PARTS_H

#include "judge/read_plan.h"

/** Pieces, stages, lengths, temperatures, rest and hold [J1] [J2] [J3] [J4] [J8].  PW_ERR_MEMORY. */
pw_status pw_check_flow(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** A mended plan: the past as it is, nothing new before now, what is late is told [J19]. */
pw_status pw_check_now(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Racks: rectangles [J5].  PW_ERR_MEMORY. */
pw_status pw_check_racks(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Ovens and boxes [J6].  PW_ERR_MEMORY. */
pw_status pw_check_room(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Pans of sides: enough of them, the hot ones in boxes or warned of [J6]. */
pw_status pw_check_sides(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Burns and feeds [J7]. */
pw_status pw_check_fire(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Openings of the pits' doors [J16].  PW_ERR_MEMORY. */
pw_status pw_check_doors(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Shifts and hands [J9].  PW_ERR_MEMORY. */
pw_status pw_check_hands(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** The quote [J10]. */
pw_status pw_check_quote(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Shifts worked out from a crew pool [J21]. */
pw_status pw_check_shifts(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** The quote against purchases, crew and fuel [J10]. */
pw_status pw_check_costs(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** What the price is made by: base of the tax, shares, dues, head counts [J10]. */
pw_status pw_check_price(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** What the cost is divided into: roles, services, dishes [J10]. */
pw_status pw_check_division(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Orders and mixes against the purchase list [J12]. */
pw_status pw_check_orders(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Several jobs planned as one: their shares add up to the cost [J10]. */
pw_status pw_check_jobs(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Cores, boxes, their rules and warnings [J13]. */
pw_status pw_check_heat(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Cooked the day before: chilled and reheated by the Food Code [J14]. */
pw_status pw_check_day_before(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Waves of a service: shares, times, pieces, holds to the last plate [J22]. */
pw_status pw_check_waves(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Pans that stand without heat or ice carry their times [J22]. */
pw_status pw_check_time_labels(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Every piece is cut for the plates that come next [J22]. */
pw_status pw_check_cuts(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Minutes from the first plate of a service to its last. */
int pw_check_span_min(const struct pw_seen_service *s);
/** Share of the guests that have come so many minutes after the service begins. */
double pw_check_come_frac(const struct pw_seen_service *s, int minute);
/** The first plate of a lot's wave; of a plan that tells no waves, of its service. */
int pw_check_begin_min(const struct pw_seen_plan *plan, const struct pw_seen_lot *lot);
/** Minutes after that during which its last piece stays whole, hot in the box. */
int pw_check_whole_min(const struct pw_seen_lot *lot);
/** Long shifts, long days, tired drivers, lonely nights are told [J18]. */
pw_status pw_check_rest(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** What drips on what [J17]. */
pw_status pw_check_drips(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Outcome, bound, gap [J11]. */
pw_status pw_check_ways(struct pw_judge *judge, const struct pw_seen_plan *plan);
pw_status pw_check_solution(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Demand and purchases [J12]. */
pw_status pw_check_goods(struct pw_judge *judge, const struct pw_seen_plan *plan);

/** Demand and pieces worked out again from the guests [J12].  PW_ERR_MEMORY. */
pw_status pw_check_demand(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Needs of items: what they are for, packs, dates; the food dealt to the dishes [J12].  PW_ERR_MEMORY. */
pw_status pw_check_needs(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Zone, head count, grid [J0]. */
pw_status pw_check_event(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Zones that tile their racks; temperatures and times of every lot's places [J3] [J4] [J5]. */
pw_status pw_check_places(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** Head counts priced one by one [J10]. */
pw_status pw_check_ladder(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** What each fire is for [J11], hours in ovens [J10]. */
pw_status pw_check_story(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** The same text, neither missing. */
bool pw_check_is(const char *a, const char *b);
/** Wood and charcoal: heat, feeds, what is bought [J7]. */
pw_status pw_check_chance(struct pw_judge *judge, const struct pw_seen_plan *plan); /* [J20] */
pw_status pw_check_fuel(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** The cost of the solution by its parts [J11].  PW_ERR_MEMORY. */
pw_status pw_check_parts(struct pw_judge *judge, const struct pw_seen_plan *plan);
/** |is - should| beyond the rounding of a file's decimals. */
bool pw_check_differs(double is, double should);
/** The order of work: what must be over before what begins, and everybody in one place [J15].  PW_ERR_MEMORY. */
pw_status pw_check_order(struct pw_judge *judge, const struct pw_seen_plan *plan);

/** The zone a load is in, or NULL when it is in a finisher; and the other way round. */
/** From when on a load takes room where it lies: what was carried there lay elsewhere before [J19]. */
int pw_check_since(const struct pw_seen_load *load);
const struct pw_seen_zone *pw_check_zone(const struct pw_seen_plan *plan, const struct pw_seen_load *load);
const struct pw_seen_finisher *pw_check_finisher(const struct pw_seen_plan *plan, const struct pw_seen_load *load);

#endif
