/* shell.h - heat from a hot steel shell to its surroundings by convection and radiation [F1]. */
#ifndef PW_HEAT_SHELL_H
#define PW_HEAT_SHELL_H

/** Nusselt numbers.  Natural: Churchill and Chu 1975 (vertical plate, all Ra; horizontal cylinder, Ra <= 1e12).
 *  Forced across a cylinder: Churchill and Bernstein 1977 (Re Pr >= 0.2).  pr > 0, ra and re >= 0. */
double pw_shell_nu_plate(double ra, double pr);
double pw_shell_nu_cylinder(double ra, double pr);
double pw_shell_nu_cross_flow(double re, double pr);
/** Rayleigh number of air around a body of this size, properties at the film temperature. */
double pw_shell_rayleigh(double size_m, double surface_c, double air_c, double pressure_pa);

/** Radiation between a grey body and large surroundings, W/m2. */
double pw_shell_radiation_w_m2(double emissivity_frac, double surface_c, double around_c);

struct pw_shell {
  double area_m2, length_m, emissivity_frac;
};
/** Diameter of the cylinder with flat ends that has this length and area. */
double pw_shell_diameter_m(const struct pw_shell *shell);
/** Mean convection coefficient, W/(m2 K): natural and forced joined as Nu^3 = Nu_n^3 + Nu_f^3 (Churchill 1977). */
double pw_shell_h_w_m2k(double diameter_m, double surface_c, double air_c, double wind_m_s, double pressure_pa);
/** Heat lost by the shell at a mean outer temperature, W. */
double pw_shell_loss_w(const struct pw_shell *shell, double surface_c, double ambient_c, double wind_m_s,
                       double pressure_pa);
/** Outer temperature at which the shell loses loss_w > 0 to still or moving air, C; at most most_c. */
double pw_shell_surface_c(const struct pw_shell *shell, double loss_w, double most_c, double ambient_c, double wind_m_s,
                          double pressure_pa);
/** Heat through a film of inside_w_m2k > 0 from gas at inside_c to the steel and on from it, W: the two films in series, so that
 *  wind, which acts on the outer one, counts for less than it does on a bare plate at inside_c. */
double pw_shell_through_w(const struct pw_shell *shell, double inside_w_m2k, double inside_c, double ambient_c,
                          double wind_m_s, double pressure_pa);

#endif
