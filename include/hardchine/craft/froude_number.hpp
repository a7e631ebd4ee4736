/// @file
/// Froude numbers of planing craft: by volume, F_nV = V/sqrt(g volume^(1/3)), and by beam, C_v = V/sqrt(g b).
#pragma once

#include <cmath>

#include "hardchine/fields.hpp"

namespace hardchine {

namespace froude_detail {

/// F_nV without the door.
template <class T>
T by_volume(const Speed<T>& speed, const Volume<T>& volume, const Acceleration<T>& gravity) {
  using std::pow;
  const Length<T> volume_length = Length<T>::from_value(T(pow(volume.value(), 1.0 / 3.0)));
  return T(speed / sqrt(gravity * volume_length));
}

}  // namespace froude_detail

/// Volume Froude number, F_nV = V/sqrt(g volume^(1/3)).
/// @param speed V, 0 to 200 kn
/// @param volume of displacement at rest, above 0 to 1200 m3
/// @param gravity g, 9.7 to 9.9 m/s2; standard gravity unless given
/// @return F_nV
/// @throws BadInput naming the parameter
/// Source: molland_2011 eq 10.50 (printed)
template <class T>
T volume_froude_number(const Speed<T>& speed, const std::type_identity_t<Volume<T>>& volume,
                       const std::type_identity_t<Acceleration<T>>& gravity = widen<T>(standard_gravity)) {
  check_value("volume_froude_number", "speed", speed, shown(knot, "kn"), between(0.0, 200.0));
  check_value("volume_froude_number", "displaced volume", volume, shown(cubic_metre, "m3"), above(0.0, 1200.0));
  check_value("volume_froude_number", "gravity", gravity, shown(metre_per_second_squared, "m/s2"), between(9.7, 9.9));
  return froude_detail::by_volume<T>(speed, volume, gravity);
}

/// Beam Froude number, the speed coefficient C_v = V/sqrt(g b).
/// @param speed V, 0 to 200 kn
/// @param beam b over the chines, above 0.05 to 30 m
/// @param gravity g, 9.7 to 9.9 m/s2; standard gravity unless given
/// @return C_v
/// @throws BadInput naming the parameter
/// Source: savitsky_1964 (notation, printed)
template <class T>
T beam_froude_number(const Speed<T>& speed, const std::type_identity_t<Length<T>>& beam,
                     const std::type_identity_t<Acceleration<T>>& gravity = widen<T>(standard_gravity)) {
  check_value("beam_froude_number", "speed", speed, shown(knot, "kn"), between(0.0, 200.0));
  check_value("beam_froude_number", "chine beam", beam, shown(metre, "m"), above(0.05, 30.0));
  check_value("beam_froude_number", "gravity", gravity, shown(metre_per_second_squared, "m/s2"), between(9.7, 9.9));
  return T(speed / sqrt(gravity * beam));
}

}  // namespace hardchine
