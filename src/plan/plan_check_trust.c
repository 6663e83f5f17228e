/* plan_check_trust.c - what the judge takes on trust, and why. */
#include "plan/plan_check_trust.h"

const struct pw_trusted pw_plan_check_trusted[] = {
    {"lots[].hold_max_min", "how long a cut may be held: a figure of the catalog"},
};
const int pw_plan_check_n_trusted = (int)(sizeof pw_plan_check_trusted / sizeof *pw_plan_check_trusted);
