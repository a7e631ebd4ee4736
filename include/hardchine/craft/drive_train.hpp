/// @file
/// Engine, gear and propeller as the reductions need them.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// One drive line and how many of them there are.
template <class T = double>
struct DriveTrain {
  T reduction_ratio = unset;                   ///< engine turns for one propeller turn, 0.3 to 10
  Length<T> pitch = unset;                     ///< P: propeller pitch as stamped, 1 to 200 in
  Length<T> diameter = unset;                  ///< D: propeller diameter, 2 to 200 in; optional
  RotationRate<T> rated_engine_speed = unset;  ///< of the engine, 100 to 20000 rpm; optional
  Power<T> rated_power = unset;                ///< brake power of one engine, 0.5 to 20000 kW; optional
  int lines = 1;                               ///< how many equal drive lines

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("reduction ratio", &DriveTrain::reduction_ratio, plain_ratio, between(0.3, 10.0)),
        field("pitch", &DriveTrain::pitch, shown(inch, "in"), between(1.0, 200.0)),
        field("diameter", &DriveTrain::diameter, shown(inch, "in"), between(2.0, 200.0), Need::optional),
        field("rated engine speed", &DriveTrain::rated_engine_speed, shown(rpm, "rpm"), between(100.0, 20000.0),
              Need::optional),
        field("rated power", &DriveTrain::rated_power, shown(kilowatt, "kW"), between(0.5, 20000.0), Need::optional),
        count("lines", &DriveTrain::lines, 1, 12)};
  }
  /// The same drive train in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator DriveTrain<U>() const {
    return widen_fields<DriveTrain<U>>(*this);
  }
};

}  // namespace hardchine
