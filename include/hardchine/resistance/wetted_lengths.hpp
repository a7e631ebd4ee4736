/// @file
/// Wetted keel and chine lengths and draft of a prismatic planing surface (Savitsky 1964).
///
/// V bottom: L_k - L_c = (b/pi) tan beta/tan tau, L_k, L_c = lambda b +- b tan beta/(2 pi tan tau); d = L_k sin tau.
/// Flat bottom, with its wave rise: lambda = 1.60 l_1 - 0.30 l_1^2 for l_1 up to 1, l_1 + 0.30 above; d = l_1 b sin tau.
/// The draft is discontinuous between zero deadrise (wave rise of 0.3 b) and a small one (none): so is the print.
#pragma once

#include <cmath>
#include <numbers>

#include "hardchine/fields.hpp"

namespace hardchine {

/// A planing attitude with its hull, for the geometry of the wetted bottom.
template <class T = double>
struct WettedGeometry {
  Length<T> chine_beam = unset;  ///< b, above 0.05 to 30 m
  Angle<T> deadrise = unset;     ///< beta, 0 to 45 deg
  Angle<T> trim = unset;         ///< tau, above 0 to 45 deg
  T mean_wetted_ratio = unset;   ///< lambda, above 0 to 60

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("chine beam", &WettedGeometry::chine_beam, shown(metre, "m"), above(0.05, 30.0)),
                      field("deadrise", &WettedGeometry::deadrise, shown(degree, "deg"), between(0.0, 45.0)),
                      field("trim", &WettedGeometry::trim, shown(degree, "deg"), above(0.0, 45.0)),
                      field("mean wetted ratio", &WettedGeometry::mean_wetted_ratio, plain_ratio, above(0.0, 60.0))};
  }
};

/// Wetted lengths and draft.
template <class T = double>
struct WettedLengths {
  Length<T> keel = unset;   ///< L_k
  Length<T> chine = unset;  ///< L_c; negative where the chine is dry by the formula
  Length<T> draft = unset;  ///< d, of the keel at the transom
};

namespace planing_detail {

/// Beam and mean wetted ratio, with what the formulas need of deadrise and trim.
template <class T>
struct WettedAngles {
  Length<T> b;
  T lambda, tan_beta, sin_tau, cos_tau;
};

/// Wetted lengths and draft without the door.
template <class T>
WettedLengths<T> wetted_lengths(const WettedAngles<T>& at) {
  using std::sqrt;
  const T& lambda = at.lambda;
  const Length<T>& b = at.b;
  const T half_difference = at.tan_beta * at.cos_tau / (2.0 * std::numbers::pi * at.sin_tau);
  const T l_k = lambda + half_difference;
  const T l_c = lambda - half_difference;
  // The branch below 1.3 has its root argument kept positive above it, where it is not chosen. Its smaller root of
  // 0.30 l_1^2 - 1.60 l_1 + lambda = 0 is written so that a small lambda keeps its digits.
  const T short_argument = 2.56 - 1.2 * smaller(lambda, T(2.0));
  const T l_1 = select(lambda < T(1.3), T(2.0 * lambda / (1.6 + sqrt(short_argument))), T(lambda - 0.30));
  const T draft_length = select(at.tan_beta > T(0.0), l_k, l_1);
  return {.keel = b * l_k, .chine = b * l_c, .draft = b * T(draft_length * at.sin_tau)};
}

}  // namespace planing_detail

/// Wetted lengths and draft of a prismatic planing surface.
/// @param geometry ranges in its field table
/// @return L_k, L_c and draft. Right for C_v > 2 at every deadrise and trim, for C_v 1 to 2 while (L_k - L_c)/b is at
///   most 1.66. Source: savitsky_1964 eq 1 to 5 (printed)
/// @throws BadInput naming the field
template <class T = double>
WettedLengths<T> wetted_lengths(const WettedGeometry<T>& geometry) {
  check_fields("wetted_lengths", geometry);
  using std::cos;
  using std::sin;
  using std::tan;
  const T tau = geometry.trim.value(), beta = geometry.deadrise.value();
  return planing_detail::wetted_lengths<T>(
      {geometry.chine_beam, geometry.mean_wetted_ratio, T(tan(beta)), T(sin(tau)), T(cos(tau))});
}

}  // namespace hardchine
