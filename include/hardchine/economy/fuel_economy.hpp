/// @file
/// Fuel economy and endurance from a speed and the fuel flow of all engines together.
///
/// With V the speed and q the fuel flow: distance per volume E = V/q, volume per distance q/V, endurance t = F/q of a
/// volume F. Speed over ground gives the economy of that day's current; speed through the water that of the boat.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// Distance per volume, volume per distance, endurance: definitions, so without a published range.
inline constexpr Method fuel_economy_method{.name = "Fuel economy, speed over fuel flow",
                                            .key = "trade_practice",
                                            .equations = "E = V/q, t = F/q",
                                            .evidence = Evidence::practice,
                                            .limits = {},
                                            .instead_beyond = ""};

/// Ranges that the economy formulas accept.
namespace economy_ranges {
inline constexpr Range speed = between(0.0, 150.0);      ///< knots
inline constexpr Range moving = above(0.0, 150.0);       ///< knots
inline constexpr Range fuel_flow = above(0.0, 20000.0);  ///< litres per hour
inline constexpr Range volume = between(0.0, 1e6);       ///< litres
inline constexpr Range tank_capacity = above(0.0, 1e6);  ///< litres
}  // namespace economy_ranges

/// Distance per volume of fuel, E = V/q (nautical miles per US gallon).
/// Source: trade_practice, a definition; evidence: practice.
/// @param speed V: 0 to 150 kn
/// @param fuel_flow q: of all engines together, above 0 to 20000 L/h
/// @return E; `in(e, nautical_mile_per_us_gallon)`
/// @throws BadInput naming the parameter that is unset or out of range; an engine that burns nothing is one
template <class T>
DistancePerVolume<T> distance_per_volume(const Speed<T>& speed, const std::type_identity_t<VolumeFlow<T>>& fuel_flow) {
  check_value("distance_per_volume", "speed", speed, shown(knot, "kn"), economy_ranges::speed);
  check_value("distance_per_volume", "fuel flow", fuel_flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow);
  return speed / fuel_flow;
}

/// Volume of fuel per distance, q/V (litres per nautical mile).
/// Source: trade_practice, a definition; evidence: practice.
/// @param speed V: above 0 to 150 kn
/// @param fuel_flow q: of all engines together, above 0 to 20000 L/h
/// @return q/V; `in(v, litre_per_nautical_mile)`
/// @throws BadInput naming the parameter that is unset or out of range; a boat that stands is one
template <class T>
VolumePerDistance<T> volume_per_distance(const Speed<T>& speed, const std::type_identity_t<VolumeFlow<T>>& fuel_flow) {
  check_value("volume_per_distance", "speed", speed, shown(knot, "kn"), economy_ranges::moving);
  check_value("volume_per_distance", "fuel flow", fuel_flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow);
  return fuel_flow / speed;
}

/// How long a volume of fuel lasts, t = F/q.
/// Source: trade_practice, a definition; evidence: practice.
/// @param fuel F: the fuel to burn, any reserve taken off already; 0 to 1e6 L
/// @param fuel_flow q: of all engines together, above 0 to 20000 L/h
/// @return t
/// @throws BadInput naming the parameter that is unset or out of range
template <class T>
Duration<T> endurance(const Volume<T>& fuel, const std::type_identity_t<VolumeFlow<T>>& fuel_flow) {
  check_value("endurance", "fuel", fuel, shown(litre, "L"), economy_ranges::volume);
  check_value("endurance", "fuel flow", fuel_flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow);
  return fuel / fuel_flow;
}

}  // namespace hardchine
