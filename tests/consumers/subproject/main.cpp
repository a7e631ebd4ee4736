// A planing equilibrium in a tree of the user's own, with the user's own warnings as errors.
#include <cmath>
#include <cstdio>
#include <hardchine/resistance/planing_equilibrium.hpp>

int main() {
  using namespace hardchine;
  // The worked example of savitsky_1964 Table 1: 60,000 lb, beam 14 ft, deadrise 10 degrees, 40 kn taken as 67.5 ft/s.
  const PlaningInput<> boat{
      .hull = {.chine_beam = 14.0 * foot, .deadrise = 10.0 * degree, .projected_chine_length = 80.0 * foot},
      .loading = {.mass = 60000.0 * pound_force / (32.2 * foot_per_second_squared),
                  .lcg = 29.0 * foot,
                  .vcg = 2.0 * foot},
      .water = {.density = 1.94 * slug_per_cubic_foot, .kinematic_viscosity = 1.0e-5 * square_foot_per_second},
      .thrust_line = thrust_below_cg(4.0 * degree, 0.50 * foot),
      .speed = 67.5 * foot_per_second,
      .friction_line = FrictionLine::schoenherr,
      .gravity = 32.2 * foot_per_second_squared};
  const double trim = in(planing_equilibrium_paper_general(boat).trim, degree);
  // In print 2.3 degrees, to the last digit given.
  if (!(std::abs(trim - 2.3) < 0.05)) {
    std::printf("trim %.4f degrees, not 2.3\n", trim);
    return 1;
  }
  return 0;
}
