/* costs.h - what a quote costs as data [Q1]: the lines of the cost and the tables of the owner's page, each once.  The page of text
 * (page/page_costs.c) and the workbook (grid_costs.c) say where a table stands; which columns it has, what they are called, their
 * amounts and the formulas behind them are here.  A new line of the cost is a row of LINES in costs.c, a new column one of its table
 * and a cell of its rows. */
#ifndef PW_SHEET_COSTS_H
#define PW_SHEET_COSTS_H

#include "sheet/table.h"

#include <stddef.h>

struct pw_job_share;

/** A line of the cost. */
struct pw_cost_line {
  const char *name, *brief;          /**< brief: where there is little room */
  size_t in_quote, in_job, in_share; /**< where its cents are in those structs */
  const char *formula;               /**< of the workbook, as in a table (table.h) */
};

/** All of them in the order printed, n of them. */
const struct pw_cost_line *pw_cost_lines(int *n);
/** What a quote, one of several jobs, a share of them has in that line. */
pw_cents pw_cost_of_quote(const struct pw_cost_line *line, const struct pw_quote *quote);
pw_cents pw_cost_of_job(const struct pw_cost_line *line, const struct pw_plan_job *job);
pw_cents pw_cost_of_share(const struct pw_cost_line *line, const struct pw_job_share *share);

/** The tables; one without rows where the plan has nothing of it.  What an amount of the plan's is beside is the workbook's formula. */
struct pw_told_table pw_costs_lines(const struct pw_plan *plan, struct pw_arena *arena); /**< each line and its share */
struct pw_told_table pw_costs_services(const struct pw_plan *plan,
                                       struct pw_arena *arena); /**< a service, and a guest in it */
struct pw_told_table pw_costs_roles(const struct pw_plan *plan,
                                    struct pw_arena *arena); /**< hours paid and worked by role */
struct pw_told_table pw_costs_dishes(const struct pw_plan *plan, struct pw_arena *arena);    /**< food by dish */
struct pw_told_table pw_costs_suppliers(const struct pw_plan *plan, struct pw_arena *arena); /**< and the next best */
struct pw_told_table pw_costs_ladder(const struct pw_plan *plan, struct pw_arena *arena);    /**< other head counts */
#define PW_COSTS_LEVELS_LEFT_OUT "Rows that another one beats are left out."
#define PW_COSTS_LEVELS_BY_HOUR                                                                                        \
  "People count by the hour at the fires here: shifts are not worked out for each row." /* those from a pool */
struct pw_told_table pw_costs_levels(const struct pw_plan *plan,
                                     struct pw_arena *arena); /**< cost against chance [R3] */
struct pw_told_table
pw_costs_choices(const struct pw_plan *plan,
                 struct pw_arena *arena); /**< each choice of the customer beside the job without it */
struct pw_told_table
pw_costs_leaves(const struct pw_plan *plan,
                struct pw_arena *arena); /**< left out one after the other to come to the price given */

#endif
