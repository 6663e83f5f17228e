/* view_maps.c - what lies on which rack when, and the lines below a map.
 * Input: loads of the plan.  Output: view->maps.  Idea: a rack needs a new map only when something goes on; what comes
 * off before has its time beside it. */
#include "sheet/view_maps.h"

#include "base/arena.h"

#include <stdlib.h>

#define TEXT(...) pw_view_printf(view, __VA_ARGS__)

static int int_compare(const void *a, const void *b)
{
  int x = *(const int *)a, y = *(const int *)b;
  return (x > y) - (x < y);
}

static bool is_on_rack(const struct pw_plan *plan, const struct pw_load *load, int pit, int rack)
{
  return load->zone != PW_NONE && plan->lots.zones[load->zone].pit == pit && plan->lots.zones[load->zone].rack == rack;
}

/** The maps of one rack, appended to the list. */
static int maps_of_rack(struct pw_view *view, size_t *cap, int pit, int rack)
{
  const struct pw_allocation *al = &view->plan->allocation;
  int *edges = pw_arena_array(view->arena, (size_t)al->n_loads * 2 + 1, sizeof *edges), n_edges = 0,
      first = view->n_maps;
  if (!edges)
    return -1;
  for (int i = 0; i < al->n_loads; i++)
    if (is_on_rack(view->plan, &al->loads[i], pit, rack)) {
      edges[n_edges++] = pw_view_lies_from(&al->loads[i]);
      edges[n_edges++] = al->loads[i].end_at_min;
    }
  qsort(edges, (size_t)n_edges, sizeof *edges, int_compare);
  for (int e = 0; e + 1 < n_edges; e++) {
    if (edges[e] == edges[e + 1])
      continue;
    struct pw_view_map map = {pit, rack, pw_view_setting_at(view, pit, edges[e]), edges[e], edges[e + 1], NULL, 0,
                              0,   0};
    map.loads = pw_arena_array(view->arena, (size_t)al->n_loads, sizeof *map.loads);
    if (!map.loads)
      return -1;
    bool is_put_on = false;
    for (int i = 0; i < al->n_loads; i++)
      if (is_on_rack(view->plan, &al->loads[i], pit, rack) && pw_view_lies_from(&al->loads[i]) <= edges[e] &&
          al->loads[i].end_at_min >= edges[e + 1]) {
        map.loads[map.n_loads++] = i;
        is_put_on |= pw_view_lies_from(&al->loads[i]) == edges[e];
      }
    if (map.n_loads == 0)
      continue;
    if (!is_put_on && view->n_maps > first && view->maps[view->n_maps - 1].to_at_min == edges[e]) {
      view->maps[view->n_maps - 1].to_at_min = edges[e + 1]; /* something came off: the map before says when */
      continue;
    }
    if (pw_arena_grow(view->arena, &view->maps, cap, (size_t)view->n_maps, sizeof *view->maps) < 0)
      return -1;
    view->maps[view->n_maps++] = map;
  }
  for (int i = first; i < view->n_maps; i++) {
    view->maps[i].nth = i - first + 1;
    view->maps[i].of = view->n_maps - first;
  }
  return 0;
}

int pw_view_maps_make(struct pw_view *view)
{
  size_t cap = 0;
  for (int p = 0; p < view->ev->n_pits; p++)
    for (int r = 0; r < view->ev->pits[p].n_racks; r++)
      if (maps_of_rack(view, &cap, p, r) < 0)
        return -1;
  return 0;
}

/* ---- lines below a map ------------------------------------------------------------------------------- */

/** True when load k of the map says the same as load i: same lot, stage, end, both new or both old. */
static bool is_same_line(const struct pw_view *view, const struct pw_view_map *map, int i, int k)
{
  const struct pw_load *a = &view->plan->allocation.loads[map->loads[i]],
                       *b = &view->plan->allocation.loads[map->loads[k]];
  return a->lot == b->lot && a->stage == b->stage && a->end_at_min == b->end_at_min &&
         (pw_view_lies_from(a) == map->from_at_min) == (pw_view_lies_from(b) == map->from_at_min);
}

int pw_view_map_lines(struct pw_view *view, const struct pw_view_map *map, struct pw_view_map_line **out)
{
  struct pw_view_map_line *lines = pw_arena_array(view->arena, (size_t)map->n_loads + 1, sizeof *lines);
  int n = 0;
  *out = lines;
  if (!lines) {
    view->failed = true;
    return 0;
  }
  for (int is_on = 1; is_on >= 0; is_on--)
    for (int i = 0; i < map->n_loads; i++) {
      const struct pw_load *l = &view->plan->allocation.loads[map->loads[i]];
      bool is_said = (pw_view_lies_from(l) == map->from_at_min) != (is_on == 1);
      int pieces = 0;
      for (int k = 0; k < map->n_loads; k++)
        if (is_same_line(view, map, i, k)) {
          is_said |= k < i;
          pieces += view->plan->allocation.loads[map->loads[k]].pieces;
        }
      if (is_said)
        continue;
      const char *cut = view->ev->cuts[view->plan->lots.lots[l->lot].cut].name, *stage = pw_view_stage_word(l->stage);
      lines[n++] = (struct pw_view_map_line){
          is_on == 1, TEXT("%s %s \xC3\x97%d", is_on ? "ON" : "stays", view->lot_mark[l->lot], pieces),
          is_on ? TEXT("%s, %s, off", cut, stage) : TEXT("%s, off", stage), pw_view_when(view, l->end_at_min)};
    }
  return n;
}
