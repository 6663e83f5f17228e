/* oven_saving.c - wood, rack-hours and lit time that ovens save [F1].
 * In: event, lots, allocation.  A piece in an oven is followed back to the open stage it came from; its heat there is known,
 * and the burn it came from is stretched to the end the finish would have had. */
#include "plan/fire/oven_saving.h"

#include "plan/fire/pit_heat.h"

#include <math.h>
#include <stddef.h>

static bool has_piece(const struct pw_load *load, int piece)
{
  for (int i = 0; load->piece_ids && i < load->pieces; i++)
    if (load->piece_ids[i] == piece)
      return true;
  return false;
}

/** The open-stage load a piece came from, or NULL. */
static const struct pw_load *smoke_of(const struct pw_allocation *a, int lot, int piece)
{
  for (int i = 0; i < a->n_loads; i++)
    if (a->loads[i].lot == lot && a->loads[i].stage == PW_LOAD_SMOKE && has_piece(&a->loads[i], piece))
      return &a->loads[i];
  return NULL;
}

static int burn_of(const struct pw_allocation *a, const struct pw_lots *lots, const struct pw_load *load)
{
  for (int b = 0; b < a->n_burns; b++) {
    const struct pw_burn *burn = &a->burns[b];
    if (burn->pit == lots->zones[load->zone].pit && burn->lit_at_min <= load->start_at_min &&
        load->start_at_min < burn->out_at_min)
      return b;
  }
  return PW_NONE;
}

static void add_piece(struct pw_oven_saving *s, const struct pw_event *ev, const struct pw_lot *lot,
                      const struct pw_burn *burn, int finish_min)
{
  struct pw_pit_heat h;
  double smoke_mj, finish_mj;
  double mean_c = 0.5 * (ev->weather.low_c + ev->weather.high_c);
  pw_pit_heat_make(&h, ev, burn->pit, burn->setting);
  pw_food_heat_mj(&ev->cuts[lot->cut], &smoke_mj, &finish_mj);
  double wood_kg = finish_mj / pw_pit_heat_useful_mj_kg(&h, h.wood, mean_c);
  s->pieces++;
  s->piece_h += finish_min / 60.0;
  s->area_m2_h += finish_min / 60.0 * lot->wrapped_length_m * lot->wrapped_width_m;
  s->wood_kg += wood_kg;
}

/** Latest end that the finishes of pieces now in ovens would have had on a burn; adds those pieces up on the way. */
static int latest_end(struct pw_oven_saving *s, const struct pw_event *ev, const struct pw_lots *lots,
                      const struct pw_allocation *a, int burn)
{
  int latest = a->burns[burn].out_at_min;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    if (load->stage != PW_LOAD_FINISH || load->finisher == PW_NONE || !load->piece_ids)
      continue;
    const struct pw_lot *lot = &lots->lots[load->lot];
    for (int k = 0; k < load->pieces; k++) {
      const struct pw_load *smoke = smoke_of(a, load->lot, load->piece_ids[k]);
      if (!smoke || smoke->zone == PW_NONE || burn_of(a, lots, smoke) != burn)
        continue;
      int finish_min = lot->finish_min[smoke->zone][a->burns[burn].setting];
      if (finish_min == PW_NONE)
        continue;
      add_piece(s, ev, lot, &a->burns[burn], finish_min);
      latest = smoke->end_at_min + finish_min > latest ? smoke->end_at_min + finish_min : latest;
    }
  }
  return latest;
}

void pw_oven_saving_make(struct pw_oven_saving *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation)
{
  double cents = 0.0;
  *out = (struct pw_oven_saving){0};
  for (int b = 0; b < allocation->n_burns; b++) {
    const struct pw_burn *burn = &allocation->burns[b];
    double before_kg = out->wood_kg;
    int longer_min = latest_end(out, ev, lots, allocation, b) - burn->out_at_min;
    struct pw_pit_heat h;
    pw_pit_heat_make(&h, ev, burn->pit, burn->setting);
    double ambient_c = pw_weather_c(&ev->weather, burn->out_at_min + longer_min / 2);
    double shell_mj = pw_pit_heat_shell_kw(&h, ambient_c, ev->weather.wind_m_s) * longer_min * 60.0 / 1000.0;
    out->lit_min += longer_min;
    out->wood_kg += shell_mj / pw_pit_heat_useful_mj_kg(&h, h.wood, ambient_c);
    cents += (out->wood_kg - before_kg) * h.wood->price_cents_per_kg;
  }
  out->wood_cents = (pw_cents)llround(cents);
}
