/* meat.c - see meat.h.  What the laws of demand say one guest of full appetite takes of each meat on the mean, added up.  Meat that is bought cooked is no cut from the pit and is not counted. */
#include "plan/demand/meat.h"

#include "base/diag.h"
#include "base/format.h"
#include "plan/demand/demand.h"

#include <math.h>

double pw_meat_unit_kg(const struct pw_event *ev, const struct pw_dish *dish)
{
  const struct pw_cut *cut = &ev->cuts[dish->cut];
  double whole = cut->piece_kg * cut->trim_frac * cut->cook_frac * dish->carve_frac * (1 - dish->bone_frac);
  return cut->units_per_piece > 0 ? whole / cut->units_per_piece : whole;
}

double pw_meat_per_guest_kg(const struct pw_event *ev, const struct pw_demand *demand, int service)
{
  double kg = 0;
  bool eats_meat = false;
  for (int g = 0; g < ev->n_classes; g++)
    eats_meat = eats_meat || (ev->classes[g].eats_meat && ev->services[service].guests[g] > 0);
  for (int i = 0; i < demand->n_lines && eats_meat && demand->laws; i++) { /* read back without laws: not known */
    const struct pw_demand_line *line = &demand->lines[i];
    if (line->service == service && pw_demand_is_meat(ev, line->dish))
      kg += demand->laws[i].mean *
            (ev->dishes[line->dish].is_by_count ? pw_meat_unit_kg(ev, &ev->dishes[line->dish]) : 1);
  }
  return kg;
}

int pw_meat_outside(const struct pw_event *ev, const struct pw_demand *demand, int service)
{
  const struct pw_style_work *usual = &ev->styles[ev->services[service].style];
  double kg = pw_meat_per_guest_kg(ev, demand, service);
  return !(kg > 0) || !(usual->meat_most_kg > 0) ? 0 : kg < usual->meat_least_kg ? -1 : kg > usual->meat_most_kg;
}

void pw_meat_warn(const struct pw_event *ev, const struct pw_demand *demand, struct pw_ctx *ctx)
{
  for (int s = 0; s < ev->n_services; s++) {
    const struct pw_style_work *usual = &ev->styles[ev->services[s].style];
    int side = pw_meat_outside(ev, demand, s);
    if (side != 0)
      pw_diag_add(
          ctx, PW_WARNING, "meat-per-guest", ev->file, 0, 0,
          "%s: %s of cooked meat a guest is %s than the usual %s to %s (common practice, no source): look at takes "
          "and portions",
          ev->services[s].name, pw_format_weight(ev->units, pw_meat_per_guest_kg(ev, demand, s)).s,
          side < 0 ? "less" : "more", pw_format_weight(ev->units, usual->meat_least_kg).s,
          pw_format_weight(ev->units, usual->meat_most_kg).s);
  }
}
