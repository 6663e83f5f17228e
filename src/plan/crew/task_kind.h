/* task_kind.h - what is true of every task of a kind [S1]: one table. */
#ifndef PW_TASK_KIND_H
#define PW_TASK_KIND_H

#include "pw/plan.h"

struct pw_task_kind_row {
  const char *word;    /**< in plan.json */
  bool is_reading;     /**< a figure is written down */
  bool is_routine;     /**< left out of the sheet for everybody: the role's own has it */
  bool repeats_target; /**< the same target again and again need not be printed each time */
};

const struct pw_task_kind_row *pw_task_kind_row(enum pw_task_kind kind);

#endif
