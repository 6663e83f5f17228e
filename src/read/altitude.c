/* altitude.c - core goals where water boils early: no core gets hotter than local boiling, so the goal is lowered and tenderness is the
 * sign; the catalog's time stands, for the stage is fitted to it with the lower goal. */
#include "base/diag.h"
#include "base/format.h"
#include "heat/air.h"
#include "read/resolve.h"

#include <math.h>

void pw_event_altitude(struct pw_event *ev, struct pw_reader *r)
{
  double boiling_c = pw_air_boiling_c(pw_air_pressure_pa(ev->site.altitude_m)), most_c = boiling_c - PW_BELOW_BOILING_K;
  for (int c = 0; c < ev->n_cuts; c++) {
    struct pw_cut *cut = &ev->cuts[c];
    struct pw_stage *last = cut->finish.is_used ? &cut->finish : &cut->smoke;
    if (last->to_c <= most_c || most_c <= last->from_c)
      continue;
    pw_diag_add(r->ctx, PW_WARNING, "altitude", ev->file, 0, 0,
                "%s: water boils at %s here, so a core of %s is never reached; the goal is %s and tenderness is the "
                "sign: the probe goes in as into butter, however long it takes",
                cut->name, pw_format_temp(ev->units, boiling_c).s, pw_format_temp(ev->units, last->to_c).s,
                pw_format_temp(ev->units, most_c).s);
    last->to_c = most_c;
    cut->serve_core_c = fmin(cut->serve_core_c, most_c);
  }
}
