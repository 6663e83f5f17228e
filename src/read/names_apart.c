/* names_apart.c - ids behind names that stand twice: a sheet names things, and a cook must know which one is meant. */
#include "read/names_apart.h"

#include "base/arena.h"

#include <stdlib.h>
#include <strings.h>

struct named {
  const char **name, *id;
  int at;
};

struct names {
  struct named *list;
  int n;
};

static void add(struct names *names, const char **name, const char *id)
{
  names->list[names->n] = (struct named){name, id, names->n};
  names->n++;
}

static int by_name(const void *pa, const void *pb)
{
  const struct named *a = pa, *b = pb;
  int order = strcasecmp(*a->name, *b->name);
  return order ? order : (a->at > b->at) - (a->at < b->at);
}

/* Of one kind of thing; empties the list for the next kind. */
static pw_status tell_apart(struct names *names, struct pw_ctx *ctx)
{
  struct named *list = names->list;
  int n = names->n, from = 0;
  names->n = 0;
  if (n > 1)
    qsort(list, (size_t)n, sizeof *list, by_name);
  for (int k = 1; k <= n; k++) {
    if (k < n && strcasecmp(*list[k].name, *list[from].name) == 0)
      continue;
    for (int i = from; k - from > 1 && i < k; i++) {
      *list[i].name = pw_arena_printf(ctx->arena, "%s (%s)", *list[i].name, list[i].id);
      if (!*list[i].name)
        return PW_ERR_MEMORY;
    }
    from = k;
  }
  return PW_OK;
}

#define ADD(list, n_list)                                                                                              \
  for (int i = 0; i < ev->n_list; i++)                                                                                 \
  add(&names, &ev->list[i].name, ev->list[i].id)

pw_status pw_names_apart(struct pw_event *ev, struct pw_ctx *ctx)
{
  int most = ev->n_pits + ev->n_finishers + ev->n_cuts + ev->n_dishes + ev->n_items + ev->n_fuels + ev->n_classes +
             ev->n_services;
  struct names names = {.list = pw_arena_array(ctx->arena, (size_t)most + 1, sizeof *names.list)};
  if (!names.list)
    return PW_ERR_MEMORY;
  pw_status st;
  ADD(pits, n_pits); /* both are places */
  ADD(finishers, n_finishers);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(cuts, n_cuts);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(dishes, n_dishes);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(items, n_items);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(fuels, n_fuels);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(classes, n_classes);
  if ((st = tell_apart(&names, ctx)) != PW_OK)
    return st;
  ADD(services, n_services);
  return tell_apart(&names, ctx);
}
