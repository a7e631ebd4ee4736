// The prismatic equilibrium checked from outside: forces and moments summed up again at the trim and wetted length that
// the library answered, with formulas written here from savitsky_1964 in plain numbers, and every flag decided again.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

#include "hardchine/resistance/planing_equilibrium.hpp"

namespace random_test {

using namespace hardchine;

/// Friction coefficient by a named line: ITTC 1957 (molland_2011 eq 4.15), Schoenherr by bisection of
/// constant/sqrt(C_F) = log10(Re C_F). No line goes below Re 1e5: what is slower or smaller takes the coefficient there.
inline double friction(FrictionLine line, double any_Re) {
  const double Re = std::max(any_Re, 1e5);
  if (line == FrictionLine::ittc_1957) return 0.075 / std::pow(std::log10(Re) - 2.0, 2.0);
  const double constant = line == FrictionLine::schoenherr ? 0.242 : 1.0 / 4.13;
  double low = 1e-5, high = 0.1;
  while (high - low > 4e-16 * high) {
    const double middle = 0.5 * (low + high);
    if (middle <= low || middle >= high) break;
    (constant / std::sqrt(middle) > std::log10(Re * middle) ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

enum class Form { closed, general, short_form };

/// The forces at a trim and a mean wetted ratio, in SI; gross: a negative allowance counted as if it added.
struct Forces {
  double W, C_L0, C_Ld, C_Lb, L, velocity_ratio_squared, V_1, Re, C_F, D_f, gross_D_f, l_p, a, f, eps;
};

/// Evaluates eq 15, 16, 18 to 25 and 28 at an attitude.
/// @param tau radians
inline Forces forces_at(const PlaningInput<>& craft, Form form, double lambda, double tau) {
  const double tau_deg = tau * 180.0 / std::numbers::pi;
  const double beta = craft.hull.deadrise.value(), beta_deg = beta * 180.0 / std::numbers::pi;
  const double b = craft.hull.chine_beam.value(), V = craft.speed.value(), rho = craft.water.density.value();
  const double g = craft.gravity.value();
  const double C_v2 = V * V / (g * b), q_b2 = 0.5 * rho * V * V * b * b;
  const auto with_deadrise = [&](double C) { return C - 0.0065 * beta_deg * std::pow(C, 0.60); };
  Forces r{};
  r.W = craft.loading.mass.value() * g;
  const double trim_power = std::pow(tau_deg, 1.1);
  r.C_L0 = trim_power * (0.0120 * std::sqrt(lambda) + 0.0055 * std::pow(lambda, 2.5) / C_v2);
  r.C_Lb = with_deadrise(r.C_L0);
  r.L = r.C_Lb * q_b2;
  r.C_Ld = 0.0120 * std::sqrt(lambda) * trim_power;
  r.velocity_ratio_squared = craft.bottom_velocity == BottomVelocity::free_stream
                                 ? 1.0
                                 : 1.0 - with_deadrise(r.C_Ld) / (lambda * std::cos(tau));
  r.V_1 = V * std::sqrt(r.velocity_ratio_squared);
  r.Re = r.V_1 * lambda * b / craft.water.kinematic_viscosity.value();
  r.C_F = friction(craft.friction_line, r.Re);
  const double q_S = 0.5 * rho * r.V_1 * r.V_1 * lambda * b * b / std::cos(beta);
  r.D_f = q_S * (r.C_F + craft.roughness_allowance);
  r.gross_D_f = q_S * (r.C_F + std::abs(craft.roughness_allowance));
  r.l_p = (0.75 - 1.0 / (5.21 * C_v2 / (lambda * lambda) + 2.39)) * lambda * b;
  if (form == Form::short_form) return r;
  r.a = craft.loading.vcg.value() - 0.25 * b * std::tan(beta);
  r.eps = craft.thrust_line.inclination.value();
  r.f = craft.thrust_line.distance_below_cg.value();
  if (craft.thrust_line.reference == ThrustReference::point)
    r.f = (craft.loading.vcg - craft.thrust_line.z).value() * std::cos(r.eps) -
          (craft.loading.lcg - craft.thrust_line.x).value() * std::sin(r.eps);
  return r;
}

/// A number held against a limit: on which side it is, unless so near that rounding decides.
struct Side {
  bool beyond, sure;
};
inline Side exceeds(double x, double limit) {
  return {x > limit, std::abs(x - limit) > 1e-9 * (std::abs(x) + std::abs(limit))};
}
inline Side under(double x, double limit) {
  return {x<limit, std::abs(x - limit)> 1e-9 * (std::abs(x) + std::abs(limit))};
}
inline Side either(const Side& a, const Side& b) {
  const bool decided = (a.beyond && a.sure) || (b.beyond && b.sure);
  return {a.beyond || b.beyond, decided || (a.sure && b.sure)};
}
inline Side both(const Side& a, const Side& b) {
  const bool decided = (!a.beyond && a.sure) || (!b.beyond && b.sure);
  return {a.beyond && b.beyond, decided || (a.sure && b.sure)};
}

/// Whether a flag should be up, from the sentences of planing_limits and the numbers of the answer. The flag of a second
/// equilibrium may also come from the search: `beyond` false then says nothing.
inline Side expected_flag(PlaningLimit limit, const PlaningInput<>& craft, const RunningState<>& s, const Forces& r) {
  const double tau = s.trim.value(), tau_deg = in(s.trim, degree);
  const double C_v = s.beam_froude_number, lambda = s.mean_wetted_ratio;
  const double spread = std::tan(craft.hull.deadrise.value()) / std::tan(tau);
  switch (limit) {
    case PlaningLimit::trim_range:
      return either(under(tau_deg, 2.0), exceeds(tau_deg, 15.0));
    case PlaningLimit::wetted_ratio_range:
      return exceeds(lambda, 4.0);
    case PlaningLimit::lift_speed_range:
      return either(under(C_v, 0.60), exceeds(C_v, 13.0));
    case PlaningLimit::bottom_velocity_speed_range:
      if (craft.bottom_velocity == BottomVelocity::free_stream) return {false, true};
      return either(under(C_v, 1.0), exceeds(C_v, 13.0));
    case PlaningLimit::procedure_speed_range:
      return under(C_v, 1.0);
    case PlaningLimit::deadrise_range:
      return exceeds(in(craft.hull.deadrise, degree), 30.0);
    case PlaningLimit::reynolds_range:
      return under(r.Re, 2e6);
    case PlaningLimit::dry_chine:
      return under(lambda, spread / (2.0 * std::numbers::pi));  // L_c = b (lambda - tan beta/(2 pi tan tau))
    case PlaningLimit::bow_in_the_water:
      return exceeds((lambda + spread / (2.0 * std::numbers::pi)) * craft.hull.chine_beam.value(),
                     craft.hull.projected_chine_length.value());
    case PlaningLimit::side_wetting:
      return under(C_v * C_v * 3.0 * std::sin(tau), lambda - 0.16 * spread);
    case PlaningLimit::spray_root_broken:  // L_k - L_c = b tan beta/(pi tan tau)
      return both(under(C_v, 2.0), exceeds(spread, 1.66 * std::numbers::pi));
    case PlaningLimit::negative_dynamic_lift:
      return exceeds(r.velocity_ratio_squared, 1.0);
    case PlaningLimit::not_planing: {
      const double begins = tau_deg >= 4.0 ? 1.0 : tau_deg <= 2.0 ? 2.0 : 1.0 + 0.5 * (4.0 - tau_deg);
      return under(C_v, begins * std::sqrt(lambda));
    }
    case PlaningLimit::hump:
      return both(either(exceeds(s.volume_froude_number, 1.5), Side{s.volume_froude_number == 1.5, true}),
                  under(s.volume_froude_number, 2.5));
    case PlaningLimit::second_equilibrium:
      return exceeds((r.C_F + craft.roughness_allowance) * (r.a - r.f),
                     0.33 * craft.hull.chine_beam.value() * s.lift_coefficient * std::cos(craft.hull.deadrise.value()));
    case PlaningLimit::recalled_friction_line:
      return {craft.friction_line == FrictionLine::schoenherr, true};
  }
  return {false, false};
}

}  // namespace random_test
