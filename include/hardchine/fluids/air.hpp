/// @file
/// Air as the methods need it: the standard atmosphere at sea level, dry air, moist air.
#pragma once

#include <array>
#include <cmath>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Properties of the air.
template <class T = double>
struct Air {
  Density<T> density = unset;                         ///< rho_a, 0.3 to 3 kg/m3
  KinematicViscosity<T> kinematic_viscosity = unset;  ///< nu_a, 1e-6 to 1e-4 m2/s; optional
  Temperature<T> temperature = unset;                 ///< -40 to 60 C; optional
  Pressure<T> pressure = unset;  ///< at the place, not reduced to sea level, 500 to 1200 hPa; optional
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});  ///< bits into the limits of `method`
  const Method* method = nullptr;                   ///< who answered; null if the values are the user's own

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("air density", &Air::density, shown(kilogram_per_cubic_metre, "kg/m3"), between(0.3, 3.0)),
        field("air kinematic viscosity", &Air::kinematic_viscosity, shown(square_metre_per_second, "m2/s"),
              between(1e-6, 1e-4), Need::optional),
        field("air temperature", &Air::temperature, shown(kelvin, "K"), between(233.15, 333.15), Need::optional),
        field("air pressure", &Air::pressure, shown(hectopascal, "hPa"), between(500.0, 1200.0), Need::optional)};
  }
  /// The same air in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Air<U>() const {
    Air<U> air = widen_fields<Air<U>>(*this);
    air.flags = per_lane<U>(flags);
    air.method = method;
    return air;
  }
};

/// Temperature, pressure and humidity of the air, measured where the boat is.
template <class T = double>
struct MoistAirCondition {
  Temperature<T> temperature = unset;  ///< -40 to 60 C
  Pressure<T> pressure = unset;        ///< at the place, not reduced to sea level, 500 to 1200 hPa
  T relative_humidity = unset;         ///< over water, 0 to 100 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("air temperature", &MoistAirCondition::temperature, shown(kelvin, "K"), between(233.15, 333.15)),
        field("air pressure", &MoistAirCondition::pressure, shown(hectopascal, "hPa"), between(500.0, 1200.0)),
        field("relative humidity", &MoistAirCondition::relative_humidity, shown_percent, between(0.0, 100.0))};
  }
  /// The same condition in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator MoistAirCondition<U>() const {
    return widen_fields<MoistAirCondition<U>>(*this);
  }
};

/// Density of the standard atmosphere at sea level: the gas law with its constants, to the four digits of the standard.
/// Source: iso_2533 (constants transcribed)
inline constexpr Density<> standard_air_density = 1.225 * kilogram_per_cubic_metre;

/// Dry air as a perfect gas with the constants of the standard atmosphere.
inline constexpr Method iso_2533_air{.name = "dry air by the constants of the standard atmosphere",
                                     .key = "iso_2533",
                                     .equations = "perfect gas law, viscosity after Sutherland",
                                     .evidence = Evidence::transcribed,
                                     .limits = {},
                                     .instead_beyond = "moist_air()"};

/// Limits of the density of moist air; the place in `moist_air_limits` is the bit in the flags.
enum class MoistAirLimit : std::uint8_t { temperature, pressure };
/// The limits of the density of moist air, in the order of MoistAirLimit. Recalled.
inline constexpr auto moist_air_limits = std::to_array<Limit>({
    {"air temperature outside 15 to 27 C", "cipm_2007", 15.0, 27.0},
    {"air pressure outside 600 to 1100 hPa", "cipm_2007", 600.0, 1100.0},
});
/// Density of moist air.
inline constexpr Method cipm_air{.name = "density of moist air, CIPM-2007",
                                 .key = "cipm_2007",
                                 .equations = "equation for the density of moist air",
                                 .evidence = Evidence::transcribed,
                                 .limits = moist_air_limits,
                                 .instead_beyond = "the same equation, flagged: no boat trial notices"};

/// Viscosity of dry air after Sutherland, mu = 1.458e-6 T^1.5/(T + 110.4 K) Pa s.
/// @param temperature -40 to 60 C
/// @return mu
/// @throws BadInput if it is not set or out of range
/// Source: iso_2533, transcribed.
template <Scalar T>
DynamicViscosity<T> air_viscosity(const Temperature<T>& temperature) {
  check_value("air_viscosity", "air temperature", temperature, shown(kelvin, "K"), between(233.15, 333.15));
  using std::sqrt;
  const T T_K = in(temperature, kelvin);
  const T mu = 1.458e-6 * T_K * sqrt(T_K) / (T_K + 110.4);
  return mu * pascal_second;
}

/// Dry air, rho = p/(R T) with R = 287.05287 J/(kg K).
/// @param temperature -40 to 60 C
/// @param pressure at the place, 500 to 1200 hPa
/// @return density, kinematic viscosity, and the two inputs
/// @throws BadInput if either is not set or out of range
/// Source: iso_2533, transcribed; real dry air is 0.04 % denser at 15 C (cipm_2007).
template <Scalar T>
Air<T> dry_air(const Temperature<T>& temperature, const std::type_identity_t<Pressure<T>>& pressure) {
  check_value("dry_air", "air temperature", temperature, shown(kelvin, "K"), between(233.15, 333.15));
  check_value("dry_air", "air pressure", pressure, shown(hectopascal, "hPa"), between(500.0, 1200.0));
  const T T_K = in(temperature, kelvin);
  const T p = in(pressure, pascal);
  const T rho = p / (287.05287 * T_K);
  Air<T> air;
  air.density = rho * kilogram_per_cubic_metre;
  air.kinematic_viscosity = air_viscosity(temperature) / air.density;
  air.temperature = temperature;
  air.pressure = pressure;
  air.method = &iso_2533_air;
  return air;
}

/// The standard atmosphere at sea level: dry, 15 C, 1013.25 hPa, 1.225 kg/m3. The default for standard conditions.
/// @return density, kinematic viscosity, temperature, pressure
/// Source: iso_2533, transcribed.
inline Air<> standard_air() { return dry_air(celsius(15.0), standard_atmosphere); }

/// Moist air: density CIPM-2007 for 400 ppm of carbon dioxide,
/// rho = p M_a (1 - x_v (1 - M_v/M_a))/(Z R T), x_v = h f p_s/p; viscosity that of dry air after Sutherland (what
/// humidity does to the viscosity is left out).
/// @param condition temperature, pressure at the place, relative humidity; ranges in its field table
/// @return density, kinematic viscosity, temperature, pressure; flagged outside 15 to 27 C and 600 to 1100 hPa, for
///   which the equation is published
/// @throws BadInput naming the field that is not set or out of range
/// Source: cipm_2007, coefficients transcribed; the range recalled.
template <Scalar T = double>
Air<T> moist_air(const MoistAirCondition<T>& condition) {
  check_fields("moist_air", condition);
  using std::exp;
  const T T_K = in(condition.temperature, kelvin);
  const T t = in_celsius(condition.temperature);
  const T p = in(condition.pressure, pascal);
  const T h = condition.relative_humidity;
  constexpr double M_a = 0.02896546, M_v = 0.01801528, R = 8.314472;  // kg/mol, kg/mol, J/(mol K)
  const T f = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
  const T p_s = exp(1.2378847e-5 * T_K * T_K - 1.9121316e-2 * T_K + 33.93711047 - 6343.1645 / T_K);
  const T x_v = h * f * p_s / p;
  const T p_over_T = p / T_K;
  const T Z = 1.0 -
              p_over_T * (1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t * t + (5.707e-6 - 2.051e-8 * t) * x_v +
                          (1.9898e-4 - 2.376e-6 * t) * x_v * x_v) +
              p_over_T * p_over_T * (1.83e-11 - 0.765e-8 * x_v * x_v);
  const T rho = p * M_a * (1.0 - x_v * (1.0 - M_v / M_a)) / (Z * R * T_K);
  Air<T> air;
  air.density = rho * kilogram_per_cubic_metre;
  air.kinematic_viscosity = air_viscosity(condition.temperature) / air.density;
  air.temperature = condition.temperature;
  air.pressure = condition.pressure;
  air.method = &cipm_air;
  const auto outside = [](const T& x, const Limit& limit) {
    const T low(limit.low), high(limit.high);
    return either(x<low, x> high);
  };
  raise_where(air.flags, outside(t, moist_air_limits[0]), flag(MoistAirLimit::temperature));
  raise_where(air.flags, outside(in(condition.pressure, hectopascal), moist_air_limits[1]),
              flag(MoistAirLimit::pressure));
  return air;
}

}  // namespace hardchine
