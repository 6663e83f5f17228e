/* joint_same.h - whether two entries of two events are the same in all that planning reads.  Indices in `b` are first turned
 * into the joint event's by the caller. */
#ifndef PW_JOINT_SAME_H
#define PW_JOINT_SAME_H

#include "pw/event.h"

bool pw_same_text(const char *a, const char *b);
bool pw_same_item(const struct pw_item *a, const struct pw_item *b);
bool pw_same_fuel(const struct pw_fuel *a, const struct pw_fuel *b);
bool pw_same_cut(const struct pw_cut *a, const struct pw_cut *b);
bool pw_same_dish(const struct pw_dish *a, const struct pw_dish *b);
bool pw_same_pit(const struct pw_pit *a, const struct pw_pit *b); /* but for alike and the burns allowed */
bool pw_same_finisher(const struct pw_finisher *a, const struct pw_finisher *b);
bool pw_same_class(const struct pw_guest_class *a, const struct pw_guest_class *b);
bool pw_same_supplier(const struct pw_supplier *a, const struct pw_supplier *b);

#endif
