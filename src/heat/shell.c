/* shell.c - correlations for natural and forced convection around a pit, and radiation to the surroundings [F1]. */
#include "heat/shell.h"

#include "heat/air.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

#define STEFAN_BOLTZMANN 5.670374419e-8 /* W/(m2 K4), CODATA 2018 */
#define GRAVITY          9.80665        /* m/s2, standard gravity */
#define KELVIN           273.15         /* 0 C, definition */

static double cube(double x) { return x * x * x; }

double pw_shell_nu_plate(double ra, double pr)
{
  double f = 0.825 + 0.387 * pow(ra, 1.0 / 6.0) / pow(1.0 + pow(0.492 / pr, 9.0 / 16.0), 8.0 / 27.0);
  return f * f;
}

double pw_shell_nu_cylinder(double ra, double pr)
{
  double f = 0.60 + 0.387 * pow(ra, 1.0 / 6.0) / pow(1.0 + pow(0.559 / pr, 9.0 / 16.0), 8.0 / 27.0);
  return f * f;
}

double pw_shell_nu_cross_flow(double re, double pr)
{
  return 0.3 + 0.62 * sqrt(re) * cbrt(pr) / pow(1.0 + pow(0.4 / pr, 2.0 / 3.0), 0.25) *
                   pow(1.0 + pow(re / 282000.0, 5.0 / 8.0), 0.8);
}

double pw_shell_rayleigh(double size_m, double surface_c, double air_c, double pressure_pa)
{
  double film_c = 0.5 * (surface_c + air_c);
  struct pw_air a = pw_air_at(film_c, pressure_pa);
  return GRAVITY * fabs(surface_c - air_c) / (film_c + KELVIN) * cube(size_m) / (a.kinematic_m2_s * a.diffusivity_m2_s);
}

double pw_shell_radiation_w_m2(double emissivity_frac, double surface_c, double around_c)
{
  double hot = surface_c + KELVIN, cold = around_c + KELVIN;
  return emissivity_frac * STEFAN_BOLTZMANN * (hot * hot * hot * hot - cold * cold * cold * cold);
}

double pw_shell_diameter_m(const struct pw_shell *shell)
{
  double l = shell->length_m;
  return sqrt(l * l + 2.0 * shell->area_m2 / PI) - l;
}

double pw_shell_h_w_m2k(double diameter_m, double surface_c, double air_c, double wind_m_s, double pressure_pa)
{
  struct pw_air a = pw_air_at(0.5 * (surface_c + air_c), pressure_pa);
  double natural = pw_shell_nu_cylinder(pw_shell_rayleigh(diameter_m, surface_c, air_c, pressure_pa), a.prandtl);
  double forced = wind_m_s > 0.0 ? pw_shell_nu_cross_flow(wind_m_s * diameter_m / a.kinematic_m2_s, a.prandtl) : 0.0;
  return cbrt(cube(natural) + cube(forced)) * a.conductivity_w_mk / diameter_m;
}

double pw_shell_loss_w(const struct pw_shell *shell, double surface_c, double ambient_c, double wind_m_s,
                       double pressure_pa)
{
  double h = pw_shell_h_w_m2k(pw_shell_diameter_m(shell), surface_c, ambient_c, wind_m_s, pressure_pa);
  double flux_w_m2 =
      h * (surface_c - ambient_c) + pw_shell_radiation_w_m2(shell->emissivity_frac, surface_c, ambient_c);
  return flux_w_m2 * shell->area_m2;
}

double pw_shell_surface_c(const struct pw_shell *shell, double loss_w, double most_c, double ambient_c, double wind_m_s,
                          double pressure_pa)
{
  double low = ambient_c, high = most_c;
  for (int i = 0; i < 60 && high > low; i++) { /* loss rises with the surface: halved down to the last digit */
    double middle = 0.5 * (low + high);
    if (pw_shell_loss_w(shell, middle, ambient_c, wind_m_s, pressure_pa) < loss_w)
      low = middle;
    else
      high = middle;
  }
  return 0.5 * (low + high);
}

double pw_shell_through_w(const struct pw_shell *shell, double inside_w_m2k, double inside_c, double ambient_c,
                          double wind_m_s, double pressure_pa)
{
  double low = fmin(ambient_c, inside_c), high = fmax(ambient_c, inside_c);
  for (int i = 0; i < 60; i++) { /* what comes in falls, what goes out rises with the steel's temperature */
    double middle = 0.5 * (low + high);
    double in_w = inside_w_m2k * shell->area_m2 * (inside_c - middle);
    if (in_w > pw_shell_loss_w(shell, middle, ambient_c, wind_m_s, pressure_pa))
      low = middle;
    else
      high = middle;
  }
  return inside_w_m2k * shell->area_m2 * (inside_c - 0.5 * (low + high));
}
