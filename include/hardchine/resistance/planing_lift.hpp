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
  Angle<T> trim = unset;         ///< tau, above 0 to 45 deg; published 2 to 15
  T mean_wetted_ratio = unset;   ///< lambda, above 0 to 60; published up to 4
  T beam_froude_number = unset;  ///< C_v, above 0 to 50; published 0.60 to 13

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("trim", &PlaningAttitude::trim, shown(degree, "deg"), above(0.0, 45.0)),
                      field("mean wetted ratio", &PlaningAttitude::mean_wetted_ratio, plain_ratio, above(0.0, 60.0)),
                      field("beam Froude number", &PlaningAttitude::beam_froude_number, plain_ratio, above(0.0, 50.0))};
  }
  /// The same attitude in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PlaningAttitude<U>() const {
    return widen_fields<PlaningAttitude<U>>(*this);
  }
};

/// How long the bottom is wetted, and how fast: what the centre of pressure depends on.
template <class T = double>
struct WettedBottom {
  T mean_wetted_ratio = unset;   ///< lambda, above 0 to 60
  T beam_froude_number = unset;  ///< C_v, above 0 to 50

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("mean wetted ratio", &WettedBottom::mean_wetted_ratio, plain_ratio, above(0.0, 60.0)),
                      field("beam Froude number", &WettedBottom::beam_froude_number, plain_ratio, above(0.0, 50.0))};
  }
};

/// The door of the functions below.
/// @param function the function at whose door this stands
/// @param deadrise 0 to 45 deg
/// @throws BadInput naming it
template <class T>
void check_deadrise(std::string_view function, const Angle<T>& deadrise) {
  check_value(function, "deadrise", deadrise, shown(degree, "deg"), between(0.0, 45.0));
}

/// The formulas without their doors: for the inside of a search, where a guess may be anything.
namespace planing_detail {

// The coefficients of eq 15 and 16.
inline constexpr double dynamic_lift_factor = 0.0120;
inline constexpr double ln_dynamic_lift_factor = -4.4228486291941369;
inline constexpr double buoyant_lift_factor = 0.0055;
inline constexpr double trim_exponent = 1.1;
inline constexpr double deadrise_lift_factor = 0.0065;
inline constexpr double deadrise_lift_exponent = 0.60;

/// tau^1.1, tau in degrees.
template <class T>
T trim_power(const Angle<T>& trim) {
  using std::pow;
  const T tau = in(trim, degree);
  return pow(tau, trim_exponent);
}

/// What the lift formula multiplies tau^1.1 with: 0.0120 lambda^0.5 + 0.0055 lambda^2.5/C_v^2, eq 15.
template <class T>
T lift_per_trim_power(const WettedBottom<T>& bottom) {
  using std::sqrt;
  const T& lambda = bottom.mean_wetted_ratio;
  const T& C_v = bottom.beam_froude_number;
  return sqrt(lambda) * (dynamic_lift_factor + buoyant_lift_factor * lambda * lambda / (C_v * C_v));
}

/// C_L0, eq 15.
template <class T>
T flat_lift(const PlaningAttitude<T>& attitude) {
  return trim_power(attitude.trim) * lift_per_trim_power<T>({attitude.mean_wetted_ratio, attitude.beam_froude_number});
}

/// The first term of eq 15.
template <class T>
T dynamic_lift(const PlaningAttitude<T>& attitude) {
  using std::sqrt;
  return dynamic_lift_factor * sqrt(attitude.mean_wetted_ratio) * trim_power(attitude.trim);
}

/// C_Lb, eq 16.
template <class T>
T deadrise_lift(const T& flat_lift, const Angle<T>& deadrise) {
  using std::pow;
  const T beta = in(deadrise, degree);
  return flat_lift - deadrise_lift_factor * beta * pow(flat_lift, deadrise_lift_exponent);
}

/// phi of phi^2.5 - u phi^1.5 = 1: eq 16 with z = C_L0^(1/5), z^2 = phi C_Lb^0.4 and u = 0.0065 beta/C_Lb^0.4. From a
/// rational fit (0.012 %, any u from 0 up) one step of Householder's third-order method leaves rounding.
template <class T>
T flat_lift_phi(const T& u) {
  using std::sqrt;
  const T x = (1.0 + u * (1.3430758 + u * (0.9881758 + u * (0.4651344 + 0.2076653 * u)))) /
              (1.0 + u * (0.9462774 + u * (0.4651344 + 0.2076653 * u)));
  const T root = sqrt(x);
  const T inverse = 1.0 / (x * root);
  const T g = x * root * (x - u) - 1.0;
  const T g_1 = root * (2.5 * x - 1.5 * u);
  const T g_2 = (3.75 * x - 0.75 * u) * (x * inverse);
  const T g_3 = (1.875 * x + 0.375 * u) * inverse;
  const T square = g_1 * g_1;
  return x - g * (6.0 * square - 3.0 * g * g_2) / (6.0 * g_1 * (square - g * g_2) + g * g * g_3);
}

/// C_L0, its logarithm and its fifth root.
template <class T>
struct FlatLift {
  T C_L0, ln_C_L0, z;
};

/// The inverse of eq 16 for C_Lb above zero; k = 0.0065 beta, beta in degrees.
template <class T>
FlatLift<T> flat_lift_of(const T& C_Lb, const T& k) {
  using std::exp;
  using std::log;
  using std::sqrt;
  using P = Plain<T>;
  const T ln_C_Lb = log(C_Lb);
  const T scale = exp(T(0.4 * ln_C_Lb));
  const T u = k / scale;
  const P phi_0 = flat_lift_phi<P>(plain(u));
  const P slope = sqrt(phi_0) * (2.5 * phi_0 - 1.5 * plain(u));
  const T phi = carry_derivatives<T>(
      phi_0, [&](const T& x) { return T(x * sqrt(x) * (x - u)); }, slope);
  const T square = phi * scale, z = sqrt(square);
  return {square * square * z, 2.5 * log(phi) + ln_C_Lb, z};
}

/// The same, C_L0 alone and to the last digits: one step of Newton's method takes away what the logarithm of a small lift
/// has lost.
template <class T>
T flat_lift_from_deadrise_lift(const T& lift, const Angle<T>& deadrise) {
  using std::pow;
  const T k = deadrise_lift_factor * in(deadrise, degree);
  const T C_L0 = flat_lift_of<T>(lift, k).C_L0;
  const T slope = 1.0 - deadrise_lift_exponent * k * pow(C_L0, deadrise_lift_exponent - 1.0);
  return C_L0 - (deadrise_lift<T>(C_L0, deadrise) - lift) / slope;
}

/// C_p, eq 28; C_v may be over a simpler scalar than lambda.
template <class T, class C>
T centre_of_pressure_ratio(const T& lambda, const C& C_v) {
  const T square = lambda * lambda;
  return 0.75 - square / (5.21 * (C_v * C_v) + 2.39 * square);
}

}  // namespace planing_detail

/// Lift coefficient of a flat planing surface, C_L0 = tau^1.1 (0.0120 lambda^0.5 + 0.0055 lambda^2.5/C_v^2).
/// @param attitude trim, lambda, C_v; accepted and published ranges in its field table
/// @return C_L0 = L/(0.5 rho V^2 b^2)
/// @throws BadInput naming the field
/// Source: savitsky_1964 eq 15 (printed)
template <class T = double>
T flat_lift_coefficient(const PlaningAttitude<T>& attitude) {
  check_fields("flat_lift_coefficient", attitude);
  return planing_detail::flat_lift(attitude);
}

/// Dynamic part of the flat lift, 0.0120 lambda^0.5 tau^1.1: the first term of eq 15, without the buoyant one.
/// @param attitude trim, lambda, C_v; accepted and published ranges in its field table
/// @return C_Ld
/// @throws BadInput naming the field
/// Source: savitsky_1964 eq 15 (printed)
template <class T = double>
T dynamic_lift_coefficient(const PlaningAttitude<T>& attitude) {
  check_fields("dynamic_lift_coefficient", attitude);
  return planing_detail::dynamic_lift(attitude);
}

/// Lift coefficient of a V bottom from the flat one, C_Lb = C_L0 - 0.0065 beta C_L0^0.60.
/// @param flat_lift C_L0, above 0 to 1e6
/// @param deadrise beta, 0 to 45 deg; published up to 30
/// @return C_Lb; negative for C_L0 < (0.0065 beta)^2.5
/// @throws BadInput naming the parameter
/// Source: savitsky_1964 eq 16 (printed)
template <class T>
T deadrise_lift_coefficient(const T& flat_lift, const std::type_identity_t<Angle<T>>& deadrise) {
  check_value("deadrise_lift_coefficient", "flat lift coefficient", flat_lift, plain_ratio, above(0.0, 1e6));
  check_deadrise("deadrise_lift_coefficient", deadrise);
  return planing_detail::deadrise_lift<T>(flat_lift, deadrise);
}

/// The flat lift coefficient that gives a V bottom its lift: the inverse of eq 16.
/// @param lift C_Lb, above 0 to 1e6: there is then exactly one root
/// @param deadrise beta, 0 to 45 deg; published up to 30
/// @return C_L0, to rounding
/// @throws BadInput naming the parameter
/// Source: savitsky_1964 eq 16 (printed)
template <class T>
T flat_lift_from_deadrise_lift(const T& lift, const std::type_identity_t<Angle<T>>& deadrise) {
  check_value("flat_lift_from_deadrise_lift", "lift coefficient", lift, plain_ratio, above(0.0, 1e6));
  check_deadrise("flat_lift_from_deadrise_lift", deadrise);
  return planing_detail::flat_lift_from_deadrise_lift<T>(lift, deadrise);
}

/// Centre of pressure over the mean wetted length, C_p = 0.75 - 1/(5.21 C_v^2/lambda^2 + 2.39).
/// @param bottom lambda and C_v; ranges in its field table
/// @return C_p = l_p/(lambda b), forward of the transom along the keel: from 0.33159 (slow) to 0.75 (fast)
/// @throws BadInput naming the field
/// Source: savitsky_1964 eq 28 (printed)
template <class T = double>
T centre_of_pressure_ratio(const WettedBottom<T>& bottom) {
  check_fields("centre_of_pressure_ratio", bottom);
  return planing_detail::centre_of_pressure_ratio(bottom.mean_wetted_ratio, bottom.beam_froude_number);
}

}  // namespace hardchine
