/* task_people.h - who is on shift, where, and free when [S1]: one diary for each pair of hands. */
#ifndef PW_TASK_PEOPLE_H
#define PW_TASK_PEOPLE_H

#include "plan/crew/task_list.h"

/** Where somebody must be when a task begins, and is when it ends. */
struct pw_way {
  enum pw_at from, to; /**< PW_AT_KITCHEN or PW_AT_SITE */
};

/** The way of a task: it stays where it is, but for a drive. */
struct pw_way pw_task_way(const struct pw_draft *d, enum pw_at at);

/** Makes people, their names and their empty diaries.  False: memory is out. */
bool pw_hands_make(struct pw_task_list *list);

/** Gives each pair of hands its name and id and says which are one person's shifts (task_who.c).  False: memory is out. */
bool pw_hands_name(struct pw_task_list *list);

/** People by shift, role and duties, whatever the order of the file: [n_people] of list->people. */
const int *pw_hands_order(const struct pw_task_list *list);

/** The person with one of the duties (bits of 1u << enum pw_duty) who is on shift and free from at_min for so long, and can be there
 *  from the task before and at the task after; of several who has done least.  PW_NONE: nobody. */
int pw_hands_free(const struct pw_task_list *list, unsigned duties, int at_min, int minutes, struct pw_way way);
/** The same of those who have none of the duties `without`. */
int pw_hands_free_without(const struct pw_task_list *list, unsigned duties, unsigned without, int at_min, int minutes,
                          struct pw_way way);
/** Who is free for longest from that minute on, at most `most_min`, and for how long (1 or more); PW_NONE: nobody. */
int pw_hands_longest(const struct pw_task_list *list, unsigned duties, int at_min, int most_min, struct pw_way way,
                     int *minutes);

/** Whether this one is on shift, free for so long and can be there. */
bool pw_hands_is_free(const struct pw_task_list *list, int person, int at_min, int minutes, struct pw_way way);

/** Writes it into somebody's diary. */
void pw_hands_book(struct pw_task_list *list, int person, int at_min, int minutes, struct pw_way way);

/** True when somebody with one of the duties is on shift for `minutes` that begin within first_min .. last_min, free or not; *at_min is
 *  the first such begin. */
bool pw_hands_on_shift(const struct pw_task_list *list, unsigned duties, int first_min, int last_min, int minutes,
                       int *at_min);

#endif
