/* customer_words.c - what is included, validity and cautions in plain words for the customer. */
#include "sheet/customer_words.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/food_code.h"

#include <string.h>

struct lines {
  const char **list;
  int n, most;
  bool has_failed;
};

static void line_add(struct lines *l, const char *text)
{
  if (!text || l->n == l->most)
    l->has_failed = true;
  else
    l->list[l->n++] = text;
}

static pw_status lines_open(struct lines *l, int most, struct pw_ctx *ctx)
{
  *l = (struct lines){.list = pw_arena_array(ctx->arena, (size_t)most, sizeof *l->list), .most = most};
  return l->list ? PW_OK : PW_ERR_MEMORY;
}

static pw_status lines_give(const struct lines *l, const char *const **out, int *n)
{
  if (l->has_failed)
    return PW_ERR_MEMORY;
  *out = l->list;
  *n = l->n;
  return PW_OK;
}

/* "plates, cutlery sets and napkins": disposables dealt out by the guest. */
/** "Plates, sugar-cane fibre" within a sentence: "plates (sugar-cane fibre)"; NULL without memory. */
static const char *in_sentence(const char *name, struct pw_arena *arena)
{
  const char *comma = strstr(name, ", ");
  bool is_word = name[0] >= 'A' && name[0] <= 'Z' && name[1] >= 'a' && name[1] <= 'z'; /* no abbreviation */
  char first = is_word ? (char)(name[0] - 'A' + 'a') : name[0];
  return !name[0] ? name
         : comma  ? pw_arena_printf(arena, "%c%.*s (%s)", first, (int)(comma - name) - 1, name + 1, comma + 2)
                  : pw_arena_printf(arena, "%c%s", first, name + 1);
}

static const char *table_ware(const struct pw_event *ev, struct pw_ctx *ctx)
{
  const char *text = NULL;
  int last = PW_NONE;
  for (int u = 0; u < ev->n_uses; u++)
    if (ev->items[ev->uses[u].item].category == PW_CAT_DISPOSABLE && ev->uses[u].per == PW_PER_GUEST)
      last = u;
  for (int u = 0; u <= last; u++) {
    const struct pw_item *item = &ev->items[ev->uses[u].item];
    if (item->category != PW_CAT_DISPOSABLE || ev->uses[u].per != PW_PER_GUEST)
      continue;
    const char *name = in_sentence(item->name, ctx->arena);
    text = !name ? NULL : text ? pw_arena_printf(ctx->arena, "%s%s%s", text, u == last ? " and " : ", ", name) : name;
    if (!text)
      return NULL;
  }
  return text ? text : "";
}

static bool has_duty(const struct pw_event *ev, enum pw_duty duty)
{
  for (int i = 0; i < ev->n_crew; i++)
    if (ev->crew[i].duties >> duty & 1u)
      return true;
  return false;
}

pw_status pw_customer_included(const char *const **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct lines l;
  bool is_served = false;
  if (lines_open(&l, 5 + ev->terms.n_included, ctx))
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    is_served = is_served || ev->services[s].style != PW_DROP_OFF;
  line_add(&l, "The dishes above for the number of guests stated, all from the pits cooked over wood");
  if (is_served && has_duty(ev, PW_DUTY_SERVE))
    line_add(&l, "Serving at the times above");
  else if (!is_served)
    line_add(&l, "Dropped off ready to serve");
  const char *ware = table_ware(ev, ctx);
  if (!ware || *ware)
    line_add(&l, ware ? pw_arena_printf(ctx->arena, "For each guest: %s", ware) : NULL);
  line_add(&l, "Travel, setting up the pits, and the fuel");
  if (has_duty(ev, PW_DUTY_CLEAN))
    line_add(&l, "Clearing away what we brought");
  for (int i = 0; i < ev->terms.n_included; i++) { /* in the words of the file, as a line of the list */
    const char *line = ev->terms.included[i];
    bool is_low = line[0] >= 'a' && line[0] <= 'z';
    line_add(&l, is_low ? pw_arena_printf(ctx->arena, "%c%s", line[0] - 'a' + 'A', line + 1) : line);
  }
  return lines_give(&l, out, n);
}

pw_status pw_customer_cautions(const char *const **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct lines l;
  if (lines_open(&l, 4, ctx))
    return PW_ERR_MEMORY;
  line_add(
      &l,
      "Allergens are named as the dishes list them. All food comes from one kitchen and shared racks, so traces of any "
      "allergen may be in any dish. Please tell us of every allergy among your guests.");
  if (ev->safety_basis)
    line_add(&l, pw_arena_printf(
                     ctx->arena,
                     "Some meat is cooked below the temperatures of FDA Food Code 2022 3-401.11, on this basis: %s. "
                     "Meat that is raw or undercooked may raise the risk of foodborne illness.",
                     ev->safety_basis));
  line_add(&l, pw_arena_printf(ctx->arena,
                               "Eat hot food at once. Put what you keep into shallow dishes; it must be at %s or less "
                               "within six hours, at %s within the first two (FDA Food Code 2022 3-501.14).",
                               pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s,
                               pw_format_temp(ev->units, PW_FOOD_CODE_COOL_C).s));
  line_add(&l,
           "Fires burn on site: keep children and animals away from the pits, and tents, hedges and vehicles clear of "
           "them. The local fire authority's rules come first.");
  return lines_give(&l, out, n);
}

const char *pw_customer_valid(const struct pw_event *ev, struct pw_ctx *ctx)
{
  const struct pw_terms *t = &ev->terms;
  if (t->quoted.year == 0)
    return pw_arena_printf(ctx->arena, "This offer is valid for %d days.", t->valid_days);
  return pw_arena_printf(ctx->arena, "This offer is valid until %s.",
                         pw_when_date(pw_date_from_days(pw_date_to_days(t->quoted) + t->valid_days)).s);
}
