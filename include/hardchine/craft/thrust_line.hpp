/// @file
/// The line along which the propellers push: a required input of the balance, by a named choice.
#pragma once

#include "hardchine/craft/loading.hpp"

namespace hardchine {

/// How a thrust line is given.
enum class ThrustReference : std::uint8_t { not_chosen, distance_from_cg, point };

/// The line of thrust in the centre plane. Make it with one of the functions below.
template <class T = double>
struct ThrustLine {
  ThrustReference reference = ThrustReference::not_chosen;  ///< how the line is given
  Angle<T> inclination = unset;         ///< eps: to the keel, positive when the thrust lifts, -20 to 30 deg
  Length<T> distance_below_cg = unset;  ///< f: of the line from the CG, positive when it passes below, -10 to 10 m
  Length<T> x = unset;                  ///< a point of the line, forward of the transom, -20 to 150 m
  Length<T> z = unset;                  ///< the same point, above the keel, -10 to 30 m

  /// The field table.
  static constexpr auto fields() {
    constexpr Need by_reference = Need::optional;
    return FieldTable{
        field("thrust inclination", &ThrustLine::inclination, shown(degree, "deg"), between(-20.0, 30.0)),
        field("thrust line below CG", &ThrustLine::distance_below_cg, shown(metre, "m"), between(-10.0, 10.0),
              by_reference),
        field("thrust line point x", &ThrustLine::x, shown(metre, "m"), between(-20.0, 150.0), by_reference),
        field("thrust line point z", &ThrustLine::z, shown(metre, "m"), between(-10.0, 30.0), by_reference),
        choice("thrust reference", &ThrustLine::reference)};
  }
  /// The same line in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator ThrustLine<U>() const {
    return widen_fields<ThrustLine<U>>(*this);
  }
};

/// Thrust through the centre of gravity, parallel to the keel: f = 0, eps = 0.
/// @return the thrust line
template <class T = double>
constexpr ThrustLine<T> through_cg_parallel_to_keel() {
  return {.reference = ThrustReference::distance_from_cg,
          .inclination = Angle<T>::from_value(T(0.0)),
          .distance_below_cg = Length<T>::from_value(T(0.0))};
}

/// Thrust along a line at a distance from the centre of gravity.
/// @param inclination eps: to the keel, positive when the thrust lifts, -20 to 30 deg
/// @param distance_below_cg f: positive when the line passes below the CG, -10 to 10 m
/// @return the thrust line; its values are checked where it is used
template <class T>
constexpr ThrustLine<T> thrust_below_cg(const Angle<T>& inclination,
                                        const std::type_identity_t<Length<T>>& distance_below_cg) {
  return {.reference = ThrustReference::distance_from_cg,
          .inclination = inclination,
          .distance_below_cg = distance_below_cg};
}

/// A point of a shaft and its inclination.
template <class T = double>
struct ShaftPoint {
  Angle<T> inclination = unset;  ///< eps: to the keel, positive when the thrust lifts, -20 to 30 deg
  Length<T> x = unset;           ///< forward of the transom, -20 to 150 m
  Length<T> z = unset;           ///< above the keel, -10 to 30 m

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("thrust inclination", &ShaftPoint::inclination, shown(degree, "deg"), between(-20.0, 30.0)),
                      field("thrust line point x", &ShaftPoint::x, shown(metre, "m"), between(-20.0, 150.0)),
                      field("thrust line point z", &ShaftPoint::z, shown(metre, "m"), between(-10.0, 30.0))};
  }
};

/// Thrust along a shaft line through a known point.
/// @param shaft inclination and a point; ranges in its field table
/// @return the thrust line
/// @throws BadInput naming the field
template <class T = double>
ThrustLine<T> shaft_line(const ShaftPoint<T>& shaft) {
  check_fields("shaft_line", shaft);
  return {.reference = ThrustReference::point, .inclination = shaft.inclination, .x = shaft.x, .z = shaft.z};
}

namespace thrust_detail {

/// Refuses a thrust line that was not chosen.
template <class T>
void check_chosen(std::string_view function, const ThrustLine<T>& line) {
  if (line.reference == ThrustReference::not_chosen)
    throw BadInput(function, "thrust line", "not chosen",
                   "through_cg_parallel_to_keel(), thrust_below_cg(...) or shaft_line(...)");
}

/// The lever without the door, of a line that was chosen.
template <class T>
Length<T> lever(const ThrustLine<T>& line, const Loading<T>& loading) {
  using std::cos;
  using std::sin;
  if (line.reference == ThrustReference::distance_from_cg) return line.distance_below_cg;
  const T eps = line.inclination.value();
  return (loading.vcg - line.z) * T(cos(eps)) - (loading.lcg - line.x) * T(sin(eps));
}

}  // namespace thrust_detail

/// Distance of the thrust line from the centre of gravity, f = (VCG - z_P) cos eps - (LCG - x_P) sin eps for a line
/// through the point P (geometry).
/// @param line the thrust line; ranges in its field table
/// @param loading ranges in its field table; with LCG and VCG set if the line is given by a point
/// @return f, positive when the line passes below the CG
/// @throws BadInput if the line was not chosen, or what it needs is not set or out of range
/// Source: trade_practice (geometry; practice)
template <class T>
Length<T> thrust_lever(const ThrustLine<T>& line, const Loading<T>& loading) {
  if (line.reference != ThrustReference::not_chosen) check_fields("thrust_lever", line);
  if (line.reference == ThrustReference::distance_from_cg)
    require_set("thrust_lever", "thrust line below CG", line.distance_below_cg, "-10 m to 10 m");
  if (line.reference == ThrustReference::point) {
    require_set("thrust_lever", "thrust line point x", line.x, "-20 m to 150 m");
    require_set("thrust_lever", "thrust line point z", line.z, "-10 m to 30 m");
    require_set("thrust_lever", "LCG", loading.lcg, "set, for a thrust line given by a point");
    require_set("thrust_lever", "VCG", loading.vcg, "set, for a thrust line given by a point");
    check_fields("thrust_lever", loading);
  }
  thrust_detail::check_chosen("thrust_lever", line);
  return thrust_detail::lever(line, loading);
}

}  // namespace hardchine
