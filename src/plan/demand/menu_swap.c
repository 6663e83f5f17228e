/* menu_swap.c - see menu_swap.h.  The event's arrays are shared but for the one menu and its covers. */
#include "plan/demand/menu_swap.h"

#include "base/arena.h"
#include "plan/demand/demand.h"

#include <string.h>

struct swap {
  struct pw_event *ev;
  struct pw_menu_line *menu;
  double *covers; /* of the lines; NULL: none has its own */
  int n;
};

static pw_status open_swap(struct swap *out, const struct pw_event *ev, int service, struct pw_ctx *ctx)
{
  const struct pw_service *from = &ev->services[service];
  size_t room = (size_t)from->n_menu + 1;
  struct swap s = {.ev = pw_arena_alloc(ctx->arena, sizeof *s.ev), .n = from->n_menu};
  struct pw_service *services = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *services);
  s.menu = pw_arena_array(ctx->arena, room, sizeof *s.menu);
  if (!s.ev || !services || !s.menu)
    return PW_ERR_MEMORY;
  *s.ev = *ev;
  memcpy(services, ev->services, (size_t)ev->n_services * sizeof *services);
  memcpy(s.menu, from->menu, (size_t)from->n_menu * sizeof *s.menu);
  services[service].menu = s.menu;
  s.ev->services = services;
  if (ev->choices && ev->choices[service].cover_frac) {
    struct pw_choice *choices = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *choices);
    s.covers = pw_arena_array(ctx->arena, room, sizeof *s.covers);
    if (!choices || !s.covers)
      return PW_ERR_MEMORY;
    memcpy(choices, ev->choices, (size_t)ev->n_services * sizeof *choices);
    memcpy(s.covers, ev->choices[service].cover_frac, (size_t)from->n_menu * sizeof *s.covers);
    choices[service].cover_frac = s.covers;
    s.ev->choices = choices;
  }
  *out = s;
  return PW_OK;
}

pw_status pw_menu_with(const struct pw_event **out, const struct pw_event *ev, int service,
                       const struct pw_menu_option *option, struct pw_ctx *ctx)
{
  struct swap s;
  pw_status st = open_swap(&s, ev, service, ctx);
  if (st != PW_OK)
    return st;
  int at = option->instead_of == PW_NONE ? s.n++ : option->instead_of;
  s.menu[at] = option->line;
  if (s.covers)
    s.covers[at] = 0;
  s.ev->services[service].n_menu = s.n;
  *out = s.ev;
  return PW_OK;
}

pw_status pw_menu_without(const struct pw_event **out, const struct pw_event *ev, int service, int line,
                          struct pw_ctx *ctx)
{
  struct swap s;
  pw_status st = open_swap(&s, ev, service, ctx);
  if (st != PW_OK)
    return st;
  size_t after = (size_t)(s.n - line - 1);
  memmove(&s.menu[line], &s.menu[line + 1], after * sizeof *s.menu);
  if (s.covers)
    memmove(&s.covers[line], &s.covers[line + 1], after * sizeof *s.covers);
  s.ev->services[service].n_menu = s.n - 1;
  *out = s.ev;
  return PW_OK;
}

bool pw_menu_may_lack(const struct pw_event *ev, int service, int line)
{
  const struct pw_service *s = &ev->services[service];
  int n_meats = 0;
  for (int m = 0; m < s->n_menu; m++)
    n_meats += pw_demand_is_meat(ev, s->menu[m].dish);
  return s->n_menu > 1 && (n_meats > 1 || !pw_demand_is_meat(ev, s->menu[line].dish));
}
