/// @file
/// Froude numbers of planing craft: by volume, F_nV = V/sqrt(g volume^(1/3)), and by beam, C_v = V/sqrt(g b).
#pragma once

#include <cmath>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Volume Froude number, F_nV = V/sqrt(g volume^(1/3)).
/// @param speed V, above 0
/// @param volume of displacement at rest, above 0
/// @param gravity g, standard gravity unless given
/// @return F_nV. Source: molland_2011 eq 10.50 (printed)
template <class T>
T volume_froude_number(const Speed<T>& speed, const std::type_identity_t<Volume<T>>& volume,
                       const std::type_identity_t<Acceleration<T>>& gravity = widen<T>(standard_gravity)) {
  using std::pow;
  const Length<T> volume_length = Length<T>::from_value(T(pow(volume.value(), 1.0 / 3.0)));
  return T(speed / sqrt(gravity * volume_length));
}

/// Beam Froude number, the speed coefficient C_v = V/sqrt(g b).
/// @param speed V, above 0
/// @param beam b over the chines, above 0
/// @param gravity g, standard gravity unless given
/// @return C_v. Source: savitsky_1964 (notation, printed)
template <class T>
T beam_froude_number(const Speed<T>& speed, const std::type_identity_t<Length<T>>& beam,
                     const std::type_identity_t<Acceleration<T>>& gravity = widen<T>(standard_gravity)) {
  return T(speed / sqrt(gravity * beam));
}

}  // namespace hardchine
