/* joint_same.c - entries of two events compared member by member (read/members.h); sources and looks are words only and do not
 * count. */
#include "plan/joint/joint_same.h"

#include "read/members.h"

#include <string.h>

bool pw_same_text(const char *a, const char *b) { return a == b || (a && b && strcmp(a, b) == 0); }

bool pw_same_item(const struct pw_item *a, const struct pw_item *b)
{
  if (a->n_parts > 0 || b->n_parts > 0) /* each job mixes its own; what goes in is bought together */
    return false;
  return pw_members_same(&pw_members_item, a, b, PW_ONE_THING);
}

#define SAME(type)                                                                                                     \
  bool pw_same_##type(const struct pw_##type *a, const struct pw_##type *b)                                            \
  {                                                                                                                    \
    return pw_members_same(&pw_members_##type, a, b, PW_ONE_THING);                                                    \
  }
SAME(fuel)
SAME(cut)
SAME(dish)
SAME(pit)
SAME(finisher)
SAME(supplier)

bool pw_same_class(const struct pw_guest_class *a, const struct pw_guest_class *b)
{
  return pw_members_same(&pw_members_class, a, b, PW_ONE_THING);
}
