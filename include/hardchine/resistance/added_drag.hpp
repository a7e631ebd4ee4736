/// @file
/// What a real boat adds to the bare hull in the simplest terms: appendages as a fraction of the bare drag, air as an
/// area and a coefficient.
#pragma once

#include "hardchine/fields.hpp"
#include "hardchine/fluids/air.hpp"

namespace hardchine {

/// Air drag by area and coefficient.
inline constexpr Method still_air_drag_method{.name = "Air drag in still air",
                                              .key = "molland_2011",
                                              .equations = "eq 3.51",
                                              .evidence = Evidence::printed,
                                              .limits = {},
                                              .instead_beyond = ""};

/// Appendages and air, in the simplest terms. Zero means none, and total drag is then the bare drag.
template <class T = double>
struct AddedDrag {
  T appendage_fraction = T(0.0);                            ///< of the bare drag, 0 to 60 %
  Area<T> frontal_area = Area<T>::from_value(T(0.0));       ///< A: hull above water and superstructure, 0 to 500 m2
  T air_drag_coefficient = T(0.0);                          ///< C_D on that area, 0 to 2
  Density<T> air_density = widen<T>(standard_air_density);  ///< rho_A, 0.8 to 1.6 kg/m3

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("appendage fraction", &AddedDrag::appendage_fraction, shown_percent, between(0.0, 60.0)),
        field("frontal area", &AddedDrag::frontal_area, shown(square_metre, "m2"), between(0.0, 500.0)),
        field("air drag coefficient", &AddedDrag::air_drag_coefficient, plain_ratio, between(0.0, 2.0)),
        field("air density", &AddedDrag::air_density, shown(kilogram_per_cubic_metre, "kg/m3"), between(0.8, 1.6))};
  }
  /// The same in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator AddedDrag<U>() const {
    return widen_fields<AddedDrag<U>>(*this);
  }
};

namespace planing_detail {

/// The same without the door.
template <class T>
Force<T> still_air_drag(const AddedDrag<T>& added, const Speed<T>& speed) {
  return T(0.5 * added.air_drag_coefficient) * (added.air_density * added.frontal_area * speed * speed);
}

}  // namespace planing_detail

/// Air drag in still air, R_A = 0.5 rho_A C_D A V^2.
/// @param added area, coefficient and density; ranges in its field table
/// @param speed V of the boat, 0 to 200 kn
/// @return R_A
/// @throws BadInput naming the field
/// Source: molland_2011 eq 3.51 (printed)
template <class T>
Force<T> still_air_drag(const AddedDrag<T>& added, const std::type_identity_t<Speed<T>>& speed) {
  check_fields("still_air_drag", added);
  check_value("still_air_drag", "speed", speed, shown(knot, "kn"), between(0.0, 200.0));
  return planing_detail::still_air_drag<T>(added, speed);
}

}  // namespace hardchine
