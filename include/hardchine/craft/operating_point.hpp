/// @file
/// One point of running, measured or predicted: the same type, so that every reduction runs on either and comparing
/// them is one subtraction.
#pragma once

#include "hardchine/craft/running_state.hpp"

namespace hardchine {

/// Where a point comes from.
enum class PointOrigin : std::uint8_t { measured, predicted, difference };

/// A boat at one steady speed. What is not known stays unset.
template <class T = double>
struct OperatingPoint {
  PointOrigin origin = PointOrigin::measured;  ///< measured or predicted
  Speed<T> speed = unset;                      ///< V through calm water, above 0 to 150 kn
  RotationRate<T> engine_speed = unset;        ///< of the engines, 0 to 20000 rpm; optional
  VolumeFlow<T> fuel_flow = unset;             ///< of all engines together, 0 to 20000 L/h; optional
  Power<T> brake_power = unset;                ///< of all engines together, 0 to 50000 kW; optional
  Mass<T> displacement = unset;                ///< of the boat then, above 0 to 1e6 kg; optional
  T beam_froude_number = unset;                ///< C_v, 0 to 50; optional
  T volume_froude_number = unset;              ///< F_nV, 0 to 50; optional
  Angle<T> trim = unset;                       ///< running trim, bow up, -10 to 45 deg; optional
  T mean_wetted_ratio = unset;                 ///< lambda, 0 to 60; optional
  Force<T> bare_drag = unset;                  ///< 0 to 10000 kN; optional
  Force<T> total_drag = unset;                 ///< 0 to 10000 kN; optional
  Power<T> effective_power = unset;            ///< total drag x V, 0 to 50000 kW; optional

  /// The field table.
  static constexpr auto fields() {
    constexpr Need free = Need::optional;
    return FieldTable{
        field("speed", &OperatingPoint::speed, shown(knot, "kn"), above(0.0, 150.0)),
        field("engine speed", &OperatingPoint::engine_speed, shown(rpm, "rpm"), between(0.0, 20000.0), free),
        field("fuel flow", &OperatingPoint::fuel_flow, shown(litre_per_hour, "L/h"), between(0.0, 20000.0), free),
        field("brake power", &OperatingPoint::brake_power, shown(kilowatt, "kW"), between(0.0, 50000.0), free),
        field("displacement", &OperatingPoint::displacement, shown(kilogram, "kg"), above(0.0, 1e6), free),
        field("beam Froude number", &OperatingPoint::beam_froude_number, plain_ratio, between(0.0, 50.0), free),
        field("volume Froude number", &OperatingPoint::volume_froude_number, plain_ratio, between(0.0, 50.0), free),
        field("trim", &OperatingPoint::trim, shown(degree, "deg"), between(-10.0, 45.0), free),
        field("mean wetted ratio", &OperatingPoint::mean_wetted_ratio, plain_ratio, between(0.0, 60.0), free),
        field("bare drag", &OperatingPoint::bare_drag, shown(kilonewton, "kN"), between(0.0, 10000.0), free),
        field("total drag", &OperatingPoint::total_drag, shown(kilonewton, "kN"), between(0.0, 10000.0), free),
        field("effective power", &OperatingPoint::effective_power, shown(kilowatt, "kW"), between(0.0, 50000.0), free),
        choice("origin", &OperatingPoint::origin)};
  }
  /// The same point in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator OperatingPoint<U>() const {
    return widen_fields<OperatingPoint<U>>(*this);
  }
  /// Field by field; unset where either is unset.
  friend constexpr OperatingPoint operator-(const OperatingPoint& a, const OperatingPoint& b) {
    OperatingPoint d;
    const auto subtract = [&](const auto& entry) {
      if constexpr (requires { entry.range; }) d.*(entry.member) = a.*(entry.member) - b.*(entry.member);
    };
    for_each_entry(fields(), subtract);
    d.origin = PointOrigin::difference;
    return d;
  }
};

/// A predicted point from a running state.
/// @param state what a resistance method answered
/// @param displacement the mass it was asked for, above 0 to 1e6 kg where it is used
/// @return the point; without an answer only speed, Froude numbers and displacement are set
template <class T>
OperatingPoint<T> predicted_point(const RunningState<T>& state, const std::type_identity_t<Mass<T>>& displacement) {
  return {.origin = PointOrigin::predicted,
          .speed = state.speed,
          .displacement = displacement,
          .beam_froude_number = state.beam_froude_number,
          .volume_froude_number = state.volume_froude_number,
          .trim = state.trim,
          .mean_wetted_ratio = state.mean_wetted_ratio,
          .bare_drag = state.bare_drag,
          .total_drag = state.total_drag,
          .effective_power = state.effective_power};
}

}  // namespace hardchine
