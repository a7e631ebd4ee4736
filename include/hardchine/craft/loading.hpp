/// @file
/// Load condition: items, people and tanks rolled up to a mass with its centre.
///
/// Axes: x forward from the transom, y to starboard, z up from the keel at the transom. LCG, TCG, VCG are the x, y, z
/// of the centre of gravity. Method: mass m = sum m_i, centre = sum(m_i x_i)/m (statics). Displaced volume = m/rho,
/// beam load coefficient C_Delta = volume/b^3 (savitsky_1964).
#pragma once

#include <span>
#include <string>

#include "hardchine/fields.hpp"

namespace hardchine {

/// A craft with its load, as a mass and a centre. A centre that is not known stays unset.
template <class T = double>
struct Loading {
  Mass<T> mass = unset;   ///< m: displacement, above 0 to 1e6 kg
  Length<T> lcg = unset;  ///< LCG: forward of the transom, -5 to 150 m; optional
  Length<T> tcg = unset;  ///< TCG: to starboard, -15 to 15 m; optional
  Length<T> vcg = unset;  ///< VCG: above the keel, -5 to 30 m; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("displacement", &Loading::mass, shown(kilogram, "kg"), above(0.0, 1e6)),
                      field("LCG", &Loading::lcg, shown(metre, "m"), between(-5.0, 150.0), Need::optional),
                      field("TCG", &Loading::tcg, shown(metre, "m"), between(-15.0, 15.0), Need::optional),
                      field("VCG", &Loading::vcg, shown(metre, "m"), between(-5.0, 30.0), Need::optional)};
  }
  /// The same loading in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Loading<U>() const {
    return widen_fields<Loading<U>>(*this);
  }
};

/// One item of the load: a mass at a place. A place that is not known stays unset.
template <class T = double>
struct WeightItem {
  std::string name;      ///< what it is, for the report
  Mass<T> mass = unset;  ///< 0 to 1e6 kg
  Length<T> x = unset;   ///< forward of the transom, -5 to 150 m; optional
  Length<T> y = unset;   ///< to starboard, -15 to 15 m; optional
  Length<T> z = unset;   ///< above the keel, -5 to 30 m; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("mass", &WeightItem::mass, shown(kilogram, "kg"), between(0.0, 1e6)),
                      field("x", &WeightItem::x, shown(metre, "m"), between(-5.0, 150.0), Need::optional),
                      field("y", &WeightItem::y, shown(metre, "m"), between(-15.0, 15.0), Need::optional),
                      field("z", &WeightItem::z, shown(metre, "m"), between(-5.0, 30.0), Need::optional)};
  }
  /// The same item in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator WeightItem<U>() const {
    WeightItem<U> item = widen_fields<WeightItem<U>>(*this);
    item.name = name;
    return item;
  }
};

/// The function and the item in a message: "roll_up: gear", or the function alone for an item without a name.
/// @param function the function that refuses
/// @param name of the item, may be empty
/// @return the place for the message
inline std::string function_at(std::string_view function, std::string_view name) {
  return joined({function, name.empty() ? "" : ": ", name});
}

/// Rolls items up to one loading.
/// @param items at least one; masses 0 to 1e6 kg, their sum above 0
/// @return mass and centre; a coordinate that any item with mass leaves unset is unset in the result
/// @throws BadInput naming the item and the field, or if there is no item or no mass
/// Source: trade_practice (statics; practice): "light craft + people aboard + fluids as measured + gear aboard".
template <class T>
Loading<T> roll_up(std::span<const WeightItem<T>> items) {
  if (items.empty()) throw BadInput("roll_up", "items", "an empty list", "at least one item");
  Mass<T> mass = Mass<T>::from_value(T(0.0));
  auto mx = Quantity<si_units::MassMoment, T>::from_value(T(0.0)), my = mx, mz = mx;
  for (const WeightItem<T>& item : items) {
    check_fields(function_at("roll_up", item.name), item);
    mass += item.mass;
    const auto weighs = item.mass > Mass<T>::from_value(T(0.0));
    // An unset coordinate is not a number and stays so in the sum: the result's centre is then unset too, unless the
    // item weighs nothing. (A known place counts at mass zero also: the moment has a derivative there.)
    const auto moment = [&](const Length<T>& arm) {
      const Length<T> same = arm;
      const auto none = Quantity<si_units::MassMoment, T>::from_value(T(0.0));
      return select(either(weighs, arm >= same), item.mass * arm, none);
    };
    mx += moment(item.x);
    my += moment(item.y);
    mz += moment(item.z);
  }
  // The centre lies among the items' places, which were checked; only rounding could carry it over their limits.
  Loading<T> loading{.mass = mass};
  check_fields("roll_up", loading);
  loading.lcg = mx / mass;
  loading.tcg = my / mass;
  loading.vcg = mz / mass;
  return loading;
}

/// Displaced volume, m/rho.
/// @param mass displacement, above 0 to 1e6 kg
/// @param density of the water, 900 to 1200 kg/m3
/// @return volume of displacement
/// @throws BadInput naming the parameter
/// Source: trade_practice (statics; practice)
template <class T>
Volume<T> displaced_volume(const Mass<T>& mass, const std::type_identity_t<Density<T>>& density) {
  check_value("displaced_volume", "displacement", mass, shown(kilogram, "kg"), above(0.0, 1e6));
  check_value("displaced_volume", "water density", density, shown(kilogram_per_cubic_metre, "kg/m3"),
              between(900.0, 1200.0));
  return mass / density;
}

/// Beam load coefficient C_Delta = volume/b^3.
/// @param volume of displacement, above 0 to 1200 m3
/// @param beam chine beam b, above 0.05 to 30 m
/// @return C_Delta, a plain number
/// @throws BadInput naming the parameter
/// Source: savitsky_1964 (notation, printed)
template <class T>
T beam_load_coefficient(const Volume<T>& volume, const std::type_identity_t<Length<T>>& beam) {
  check_value("beam_load_coefficient", "displaced volume", volume, shown(cubic_metre, "m3"), above(0.0, 1200.0));
  check_value("beam_load_coefficient", "chine beam", beam, shown(metre, "m"), above(0.05, 30.0));
  return T(volume / (beam * beam * beam));
}

}  // namespace hardchine
