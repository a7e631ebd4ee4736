/// @file
/// Lift of a prismatic planing surface, and where it acts (Savitsky 1964).
///
/// C_L0 = tau^1.1 (0.0120 lambda^0.5 + 0.0055 lambda^2.5/C_v^2), tau in degrees       (15)
/// C_Lb = C_L0 - 0.0065 beta C_L0^0.60, beta in degrees                               (16)
/// C_p  = 0.75 - 1/(5.21 C_v^2/lambda^2 + 2.39)                                       (28)
/// The first term of (15) is the dynamic part, the second the buoyant one. Evidence: printed.
#pragma once

#include <cmath>

#include "hardchine/fields.hpp"
#include "hardchine/scalar/root.hpp"

namespace hardchine {

/// Attitude of a planing surface in the variables of the lift formula.
template <class T = double>
struct PlaningAttitude {
  Angle<T> trim = unset;         ///< tau, 2 to 15 deg published
  T mean_wetted_ratio = unset;   ///< lambda, up to 4 published
  T beam_froude_number = unset;  ///< C_v, 0.60 to 13 published
};

/// Trim in the power that the lift formula takes: tau^1.1, tau in degrees.
template <class T>
T trim_power(const Angle<T>& trim) {
  using std::pow;
  const T tau = in(trim, degree);
  return pow(tau, 1.1);
}

/// What the lift formula multiplies tau^1.1 with: 0.0120 lambda^0.5 + 0.0055 lambda^2.5/C_v^2, eq 15.
template <class T>
T lift_per_trim_power(const T& lambda, const std::type_identity_t<T>& beam_froude_number) {
  using std::sqrt;
  const T& C_v = beam_froude_number;
  return sqrt(lambda) * (0.0120 + 0.0055 * lambda * lambda / (C_v * C_v));
}

/// Lift coefficient of a flat planing surface, eq 15.
/// @param attitude trim above 0, lambda above 0, C_v above 0
/// @return C_L0 = L/(0.5 rho V^2 b^2). Source: savitsky_1964 eq 15 (printed)
template <class T = double>
T flat_lift_coefficient(const PlaningAttitude<T>& attitude) {
  return trim_power(attitude.trim) * lift_per_trim_power(attitude.mean_wetted_ratio, attitude.beam_froude_number);
}

/// Dynamic part of the flat lift, 0.0120 lambda^0.5 tau^1.1: the first term of eq 15.
template <class T = double>
T dynamic_lift_coefficient(const PlaningAttitude<T>& attitude) {
  using std::sqrt;
  return 0.0120 * sqrt(attitude.mean_wetted_ratio) * trim_power(attitude.trim);
}

/// Lift coefficient of a V bottom from the flat one, eq 16. Negative for C_L0 < (0.0065 beta)^2.5.
/// @param flat_lift C_L0, above 0
/// @param deadrise beta, 0 to 30 deg published
/// @return C_Lb. Source: savitsky_1964 eq 16 (printed)
template <class T>
T deadrise_lift_coefficient(const T& flat_lift, const std::type_identity_t<Angle<T>>& deadrise) {
  using std::pow;
  const T beta = in(deadrise, degree);
  return flat_lift - 0.0065 * beta * pow(flat_lift, 0.60);
}

/// The flat lift coefficient that gives a V bottom its lift: the inverse of eq 16.
/// @param lift C_Lb, above 0: there is then exactly one root
/// @param deadrise beta, 0 to 45 deg
/// @return C_L0, to rounding. Newton from max(2 C_Lb, (2 k)^2.5), k = 0.0065 beta, falls to the root monotonically
///   because the function is convex there. Source: savitsky_1964 eq 16 (printed)
/// @throws BadInput if the lift is not above 0
template <class T>
T flat_lift_from_deadrise_lift(const T& lift, const std::type_identity_t<Angle<T>>& deadrise) {
  using std::pow;
  check_value("flat_lift_from_deadrise_lift", "lift coefficient", lift, plain_ratio, above(0.0, 1e6));
  using P = Plain<T>;
  const P C_Lb = plain(lift);
  const P k = 0.0065 * in(plain(deadrise), degree);
  const P two_k = 2.0 * k;
  P x = larger(P(2.0 * C_Lb), P(two_k * two_k * pow(two_k, 0.5)));
  auto slope = P(1.0);
  auto moving = negate(x <= P(0.0));
  for (int step = 0; step < 60 && any(moving); ++step) {
    slope = 1.0 - 0.60 * k * pow(x, -0.40);
    const P down = (x - k * pow(x, 0.60) - C_Lb) / slope;
    x = select(moving, P(x - down), x);
    moving = both(moving, down > 1e-15 * x);
  }
  slope = 1.0 - 0.60 * k * pow(x, -0.40);
  return carry_derivatives<T>(x, deadrise_lift_coefficient<T>(T(x), deadrise) - lift, slope);
}

/// Centre of pressure over the mean wetted length, eq 28.
/// @param lambda mean wetted length over beam, above 0
/// @param beam_froude_number C_v, above 0
/// @return C_p = l_p/(lambda b), forward of the transom along the keel: from 0.33159 (slow) to 0.75 (fast).
///   Source: savitsky_1964 eq 28 (printed)
template <class T>
T centre_of_pressure_ratio(const T& lambda, const std::type_identity_t<T>& beam_froude_number) {
  const T ratio = beam_froude_number / lambda;
  return 0.75 - 1.0 / (5.21 * ratio * ratio + 2.39);
}

}  // namespace hardchine
