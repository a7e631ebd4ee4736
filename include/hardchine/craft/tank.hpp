/// @file
/// Tanks by fill: capacity x fill x density of the contents.
#pragma once

#include "hardchine/craft/loading.hpp"

namespace hardchine {

/// A tank with what is in it.
template <class T = double>
struct Tank {
  std::string name;             ///< for the report
  Volume<T> capacity = unset;   ///< above 0 to 1e6 L
  T fill = unset;               ///< content over capacity, 0 to 100 %
  Density<T> contents = unset;  ///< density at the temperature of the contents, 500 to 1500 kg/m3
  Length<T> x = unset;          ///< centre of the contents forward of the transom, -5 to 150 m; optional
  Length<T> y = unset;          ///< to starboard, -15 to 15 m; optional
  Length<T> z = unset;          ///< above the keel, -5 to 30 m; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("capacity", &Tank::capacity, shown(litre, "L"), above(0.0, 1e6)),
        field("fill", &Tank::fill, shown_percent, between(0.0, 100.0)),
        field("density", &Tank::contents, shown(kilogram_per_cubic_metre, "kg/m3"), between(500.0, 1500.0)),
        field("x", &Tank::x, shown(metre, "m"), between(-5.0, 150.0), Need::optional),
        field("y", &Tank::y, shown(metre, "m"), between(-15.0, 15.0), Need::optional),
        field("z", &Tank::z, shown(metre, "m"), between(-5.0, 30.0), Need::optional)};
  }
  /// The same tank in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Tank<U>() const {
    Tank<U> tank = widen_fields<Tank<U>>(*this);
    tank.name = name;
    return tank;
  }
};

/// What is in a tank, capacity x fill.
/// @param tank a tank; ranges in its field table
/// @return volume of the contents
/// @throws BadInput naming the field
/// Source: trade_practice (statics; practice)
template <class T>
Volume<T> contents_volume(const Tank<T>& tank) {
  check_fields(function_at("contents_volume", tank.name), tank);
  return tank.capacity * tank.fill;
}

/// A tank as an item of the load: mass = capacity x fill x density.
/// @param tank a tank; ranges in its field table
/// @return the item, at the tank's centre
/// @throws BadInput naming the field
/// Source: trade_practice (statics; practice)
template <class T>
WeightItem<T> weight_item(const Tank<T>& tank) {
  return {.name = tank.name, .mass = contents_volume(tank) * tank.contents, .x = tank.x, .y = tank.y, .z = tank.z};
}

}  // namespace hardchine
