/* names.c - every way to say a thing of the job, and which one was meant.
 * Input: a plan; words of a log.  Output: lots, places, people by index.  Idea: a name is met when it holds all words that were
 * said; an exact name beats one that only holds them. */
#include "day/names.h"

#include "base/arena.h"
#include "base/nearest.h"

#include <ctype.h>
#include <limits.h>
#include <stdio.h>
#include <string.h>

enum { SHORT_LETTERS = 4, WORDS_MAX = 200, NIGHT_BEFORE_MIN = 720 };

const char *pw_lot_letter(int lot, struct pw_arena *arena)
{
  if (lot < 26)
    return pw_arena_printf(arena, "%c", 'A' + lot);
  return pw_arena_printf(arena, "%c%c", 'A' + (lot / 26 - 1) % 26, 'A' + lot % 26);
}

/* ---- the list ---------------------------------------------------------------------------------------------- */

/** Lower case; what is neither letter nor digit is one blank. */
static size_t plain(char *to, size_t size, const char *from, size_t n)
{
  size_t k = 0;
  for (size_t i = 0; i < n && k + 1 < size; i++) {
    unsigned char c = (unsigned char)from[i];
    if (isalnum(c) || c >= 0x80)
      to[k++] = (char)(c < 0x80 ? tolower(c) : c);
    else if (k > 0 && to[k - 1] != ' ')
      to[k++] = ' ';
  }
  while (k > 0 && to[k - 1] == ' ')
    k--;
  to[k] = '\0';
  return k;
}

static bool add(struct pw_names *all, enum pw_name_kind kind, int index, const char *words, const char *shown,
                bool is_whole, struct pw_arena *arena)
{
  char text[WORDS_MAX];
  if (!words || !shown || !plain(text, sizeof text, words, strlen(words)))
    return shown && words;
  if (pw_arena_grow(arena, &all->names, &all->cap_names, all->n_names, sizeof *all->names) < 0)
    return false;
  const char *kept = pw_arena_strdup(arena, text);
  all->names[all->n_names++] = (struct pw_name){kind, index, kept, shown, is_whole};
  return kept != NULL;
}

static bool add_lots(struct pw_names *all, const struct pw_plan *plan, struct pw_arena *arena)
{
  bool is_ok = true;
  for (int l = 0; l < plan->lots.n_lots && is_ok; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    const struct pw_cut *cut = &plan->event->cuts[lot->cut];
    const char *letter = pw_lot_letter(l, arena), *service = plan->event->services[lot->service].name;
    const char *shown = letter ? pw_arena_printf(arena, "%s (%s, %s)", letter, cut->name, service) : NULL;
    is_ok =
        letter && shown && add(all, PW_NAME_LOT, l, letter, shown, true, arena) &&
        add(all, PW_NAME_LOT, l, lot->id, shown, false, arena) &&
        add(all, PW_NAME_LOT, l, pw_arena_printf(arena, "%s %s %s", cut->name, cut->id, service), shown, false, arena);
    for (int d = 0; d < plan->demand.n_lines && is_ok; d++) { /* as the guests call it */
      const struct pw_demand_line *line = &plan->demand.lines[d];
      if (line->service == lot->service && plan->event->dishes[line->dish].cut == lot->cut)
        is_ok = add(all, PW_NAME_LOT, l, plan->event->dishes[line->dish].name, shown, false, arena);
    }
  }
  return is_ok;
}

static bool add_places(struct pw_names *all, const struct pw_plan *plan, struct pw_arena *arena)
{
  const struct pw_event *ev = plan->event;
  bool is_ok = true;
  for (int p = 0; p < ev->n_pits && is_ok; p++)
    is_ok = add(all, PW_NAME_PIT, p, ev->pits[p].id, ev->pits[p].id, false, arena) &&
            add(all, PW_NAME_PIT, p, ev->pits[p].name, ev->pits[p].id, false, arena);
  for (int z = 0; z < plan->lots.n_zones && is_ok; z++) {
    const struct pw_zone *zone = &plan->lots.zones[z];
    const struct pw_rack *rack = &ev->pits[zone->pit].racks[zone->rack];
    bool is_first = z == 0 || plan->lots.zones[z - 1].pit != zone->pit || plan->lots.zones[z - 1].rack != zone->rack;
    bool is_last = z + 1 == plan->lots.n_zones || plan->lots.zones[z + 1].pit != zone->pit ||
                   plan->lots.zones[z + 1].rack != zone->rack;
    const char *end = rack->n_zones == 1 ? "" : is_first ? "hot end" : is_last ? "cool far end" : "middle";
    is_ok = add(all, PW_NAME_ZONE, z, zone->id, zone->id, false, arena) &&
            add(all, PW_NAME_ZONE, z, pw_arena_printf(arena, "%s %s rack %s", ev->pits[zone->pit].id, rack->id, end),
                zone->id, false, arena);
  }
  for (int f = 0; f < ev->n_finishers && is_ok; f++)
    is_ok = add(all, PW_NAME_FINISHER, f, ev->finishers[f].id, ev->finishers[f].id, false, arena) &&
            add(all, PW_NAME_FINISHER, f, ev->finishers[f].name, ev->finishers[f].id, false, arena);
  return is_ok;
}

static bool add_rest(struct pw_names *all, const struct pw_plan *plan, struct pw_arena *arena)
{
  const struct pw_event *ev = plan->event;
  bool is_ok = true;
  for (int c = 0; c < ev->n_crew && is_ok; c++) {
    bool is_new = true;
    for (int k = 0; k < c; k++)
      is_new = is_new && strcmp(ev->crew[k].role, ev->crew[c].role) != 0;
    is_ok = !is_new || add(all, PW_NAME_ROLE, c, ev->crew[c].role, ev->crew[c].role, false, arena);
  }
  for (int p = 0; p < plan->tasks.n_people && is_ok;
       p++) { /* as their sheet is headed; who is the only one of a role: the role */
    const struct pw_person *person = &plan->tasks.people[p];
    if (person->hand == p && strcmp(person->name, ev->crew[person->crew].role) != 0)
      is_ok = add(all, PW_NAME_PERSON, p, person->name, person->name, true, arena);
  }
  for (int s = 0; s < ev->n_services && is_ok; s++)
    is_ok = add(all, PW_NAME_SERVICE, s, ev->services[s].id, ev->services[s].id, false, arena) &&
            add(all, PW_NAME_SERVICE, s, ev->services[s].name, ev->services[s].id, false, arena);
  for (int i = 0; i < ev->n_items && is_ok; i++)
    is_ok = add(all, PW_NAME_ITEM, i, ev->items[i].id, ev->items[i].id, false, arena) &&
            add(all, PW_NAME_ITEM, i, ev->items[i].name, ev->items[i].id, false, arena);
  for (int f = 0; f < ev->n_fuels && is_ok; f++)
    is_ok = add(all, PW_NAME_FUEL, f, ev->fuels[f].id, ev->fuels[f].id, false, arena) &&
            add(all, PW_NAME_FUEL, f, ev->fuels[f].name, ev->fuels[f].id, false, arena);
  return is_ok;
}

pw_status pw_names_make(struct pw_names *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_names all = {.ev = plan->event, .lots = &plan->lots, .first_at_min = INT_MAX, .last_at_min = INT_MIN};
  *out = (struct pw_names){0};
  if (!add_lots(&all, plan, ctx->arena) || !add_places(&all, plan, ctx->arena) || !add_rest(&all, plan, ctx->arena))
    return PW_ERR_MEMORY;
  for (int b = 0; b < plan->allocation.n_burns; b++)
    if (plan->allocation.burns[b].lit_at_min < all.first_at_min)
      all.first_at_min = plan->allocation.burns[b].lit_at_min;
  for (int l = 0; l < plan->allocation.n_loads; l++)
    if (plan->allocation.loads[l].start_at_min < all.first_at_min)
      all.first_at_min = plan->allocation.loads[l].start_at_min;
  for (int s = 0; s < plan->event->n_services; s++) {
    const struct pw_service *service = &plan->event->services[s];
    int end = service->at_min + service->length_min;
    all.last_at_min = end > all.last_at_min ? end : all.last_at_min;
    all.first_at_min = service->at_min < all.first_at_min ? service->at_min : all.first_at_min;
  }
  all.begin_at_min = all.first_at_min - NIGHT_BEFORE_MIN / 4;
  all.first_at_min -= 3 * 1440; /* goods come before */
  all.last_at_min += 1440;
  *out = all;
  return PW_OK;
}

/* ---- what was meant ------------------------------------------------------------------------------------------ */

/** Whether `name` has this word, whole, cut short or in the plural. */
static bool has_word(const char *name, const char *word, size_t n)
{
  for (const char *at = name; *at;) {
    size_t k = strcspn(at, " ");
    bool is_same = k == n && memcmp(at, word, n) == 0;
    bool is_cut = n >= SHORT_LETTERS && k > n && memcmp(at, word, n) == 0;
    bool is_plural = n > 2 && word[n - 1] == 's' && k == n - 1 && memcmp(at, word, k) == 0;
    if (is_same || is_cut || is_plural)
      return true;
    at += k;
    at += *at == ' ';
  }
  return false;
}

static bool holds_all(const char *name, const char *words)
{
  for (const char *at = words; *at;) {
    size_t k = strcspn(at, " ");
    if (!has_word(name, at, k))
      return false;
    at += k;
    at += *at == ' ';
  }
  return true;
}

static int add_found(const struct pw_name *name, const struct pw_name **out, int n, int most)
{
  for (int i = 0; i < n && i < most; i++)
    if (out[i]->kind == name->kind && out[i]->index == name->index)
      return n;
  if (n < most)
    out[n] = name;
  return n + 1;
}

int pw_names_find(const struct pw_names *names, const char *words, size_t n, pw_name_kinds kinds,
                  const struct pw_name **out, int most)
{
  char said[WORDS_MAX];
  int n_found = 0;
  if (plain(said, sizeof said, words, n) == 0)
    return 0;
  for (int turn = 0; turn < 2 && n_found == 0; turn++)
    for (size_t i = 0; i < names->n_names; i++) {
      const struct pw_name *name = &names->names[i];
      if (!(kinds >> name->kind & 1u))
        continue;
      if (strcmp(name->words, said) == 0 || (turn == 1 && !name->is_whole && holds_all(name->words, said)))
        n_found = add_found(name, out, n_found, most);
    }
  return n_found;
}

const char *pw_names_nearest(const struct pw_names *names, const char *words, size_t n, pw_name_kinds kinds)
{
  char said[WORDS_MAX], word[WORDS_MAX];
  int letters = (int)plain(said, sizeof said, words, n), best = letters / 3 > 1 ? letters / 3 : 1;
  const char *shown = NULL;
  for (size_t i = 0; i < names->n_names && letters > 2; i++) {
    const struct pw_name *name = &names->names[i];
    if (!(kinds >> name->kind & 1u))
      continue;
    int distance = pw_edit_distance(said, name->words);
    for (const char *at = name->words; *at && !name->is_whole;) { /* or one of its words */
      size_t k = strcspn(at, " ");
      memcpy(word, at, k);
      word[k] = '\0';
      int other = pw_edit_distance(said, word);
      distance = other < distance ? other : distance;
      at += k;
      at += *at == ' ';
    }
    if (distance < best || (distance == best && !shown)) {
      best = distance;
      shown = name->shown;
    }
  }
  return shown;
}
