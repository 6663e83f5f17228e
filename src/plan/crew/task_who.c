/* task_who.c - who is who: one name for each person, on every sheet, in every warning and in the log of the day [S1].
 * In: pairs of hands by crew line.  Out: their names, ids, and which of them are one person on a later shift. */
#include "plan/crew/task_people.h"

#include "base/arena.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { REST_MIN = 8 * 60, ID_WORD_MAX = 100 }; /* rest: common practice, no source; EU 2003/88/EC asks 11 h */

static const struct pw_crew *crew_of(const struct pw_task_list *list, int person)
{
  return &list->ev->crew[list->people[person].crew];
}

/* Whether the later of two hands may be the same person: known for shifts worked out; else the same role, and a night's rest between. */
static bool may_be_same(const struct pw_task_list *list, int a, int b)
{
  const struct pw_crew *first = crew_of(list, a), *next = crew_of(list, b);
  if (first->worked || next->worked)
    return first->worked && next->worked && first->worked->pool == next->worked->pool &&
           strcmp(first->worked->name, next->worked->name) == 0;
  return strcmp(first->role, next->role) == 0 && next->from_at_min >= first->to_at_min + REST_MIN;
}

/* Every later pair of hands that may be the same person's becomes theirs. */
static void join_shifts(struct pw_task_list *list)
{
  const int *order = pw_hands_order(list);
  for (int p = 0; p < list->n_people; p++)
    list->people[p].hand = PW_NONE;
  for (int i = 0; i < list->n_people; i++) {
    int first = order[i];
    if (list->people[first].hand != PW_NONE)
      continue;
    list->people[first].hand = first;
    for (int last = first, k = i + 1; k < list->n_people; k++)
      if (list->people[order[k]].hand == PW_NONE && may_be_same(list, last, order[k])) {
        last = order[k];
        list->people[last].hand = first;
      }
  }
}

/* "Pit hand 2": a role by its number where it has several people; of a pool: as the roster names them. */
static const char *name_of(struct pw_task_list *list, int person)
{
  const struct pw_crew *c = crew_of(list, person);
  const int *order = pw_hands_order(list);
  int nth = 0, n = 0;
  if (c->worked)
    return c->worked->name;
  for (int i = 0, is_past = 0; i < list->n_people; i++) {
    int k = order[i];
    if (list->people[k].hand == k && strcmp(crew_of(list, k)->role, c->role) == 0) {
      n++;
      nth += !is_past && !crew_of(list, k)->worked;
    }
    is_past |= k == person;
  }
  return n > 1 ? pw_task_words(list, "%s %d", c->role, nth) : c->role;
}

static bool is_id_taken(const struct pw_task_list *list, const char *id)
{
  for (int k = 0; k < list->n_people; k++)
    if (list->people[k].id && strcmp(list->people[k].id, id) == 0)
      return true;
  return false;
}

/* "pit-hand-2": the name in small letters; a later shift of the same person, or a name that reads alike, has a number more. */
static const char *id_of(struct pw_task_list *list, int person)
{
  char word[ID_WORD_MAX] = "";
  size_t n = 0;
  for (const char *p = list->people[person].name; *p && n < sizeof word - 1; p++) {
    unsigned char c = (unsigned char)*p;
    word[n++] = (char)(c >= 0x80 || isdigit(c) || islower(c) ? c : isupper(c) ? tolower(c) : '-');
  }
  while (n > 0 && ((unsigned char)word[n - 1] & 0xC0) == 0x80) /* no half letter at the end */
    n--;
  if (n > 0 && (unsigned char)word[n - 1] >= 0xC0)
    n--;
  word[n] = '\0';
  const char *id = pw_task_words(list, "%s", word);
  for (int shift = 2; !list->failed && is_id_taken(list, id); shift++)
    id = pw_task_words(list, "%s-shift-%d", word, shift);
  return id;
}

bool pw_hands_name(struct pw_task_list *list)
{
  const int *order = pw_hands_order(list);
  join_shifts(list);
  for (int i = 0; i < list->n_people && !list->failed; i++) {
    struct pw_person *person = &list->people[order[i]];
    person->name = person->hand != order[i] ? list->people[person->hand].name : name_of(list, order[i]);
    person->id = id_of(list, order[i]);
  }
  return !list->failed;
}
