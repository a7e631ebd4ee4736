/// @file
/// Water as the methods need it.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// Properties of the water.
template <class T = double>
struct Water {
  Density<T> density = unset;                        ///< rho, 900 to 1200 kg/m3
  KinematicViscosity<T> kinematic_viscosity = unset; ///< nu, 1e-7 to 1e-5 m2/s
  Pressure<T> vapour_pressure = unset;               ///< p_v, 0 to 20 kPa; optional

  /// The field table.
  static constexpr auto fields() {
    return std::tuple{field("water density", &Water::density, shown(kilogram_per_cubic_metre, "kg/m3"),
                            between(900.0, 1200.0)),
                      field("kinematic viscosity", &Water::kinematic_viscosity,
                            shown(square_metre_per_second, "m2/s"), between(1e-7, 1e-5)),
                      field("vapour pressure", &Water::vapour_pressure, shown(kilopascal, "kPa"), between(0.0, 20.0),
                            Need::optional)};
  }
  /// The same water in another scalar.
  template <class U>
    requires(!std::same_as<U, T>)
  constexpr operator Water<U>() const {  // NOLINT
    return widen_fields<Water<U>>(*this);
  }
};

}  // namespace hardchine
