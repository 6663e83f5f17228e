/* plan_check_trust.h - what the judge takes on trust: numbers and entries of a plan that follow from nothing else in it.
 * Each is a path of the plan file without its indices; "- " in front: an entry that may be missing, "! ": a yes that may be a no.
 * tests/soak/edits.c holds the list against what passes. */
#ifndef PW_PLAN_CHECK_TRUST_H
#define PW_PLAN_CHECK_TRUST_H

struct pw_trusted {
  const char *kind, *reason;
};

extern const struct pw_trusted pw_plan_check_trusted[];
extern const int pw_plan_check_n_trusted;

#endif
