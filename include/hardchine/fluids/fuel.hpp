/// @file
/// Fuel: density at 15 C and at its own temperature. A litre of fuel changes by about 1 % in 10 K, so a flow that is
/// the difference of supply and return, at two temperatures, must be taken on mass or on volumes corrected to 15 C.
#pragma once

#include <array>
#include <cmath>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Bands of the volume correction, each with its own coefficients.
enum class FuelBand : std::uint8_t {
  by_density,  ///< the band in which the density at 15 C lies: the rule of the standard
  petrol,      ///< below 770.35 kg/m3
  transition,  ///< 770.35 to 787.52 kg/m3
  kerosine,    ///< 787.52 to 838.31 kg/m3
  diesel       ///< above 838.31 kg/m3
};

/// A fuel. By density a diesel of 820 to 838 kg/m3 falls in the band of kerosine; naming FuelBand::diesel takes the
/// coefficients of diesel there: up to 1.5 % less expansion, 1.4e-4 of the volume in 10 K.
template <class T = double>
struct Fuel {
  Density<T> reference_density = unset;  ///< at 15 C, 600 to 1100 kg/m3
  FuelBand band = FuelBand::by_density;  ///< whose coefficients expand it

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("fuel density at 15 C", &Fuel::reference_density, shown(kilogram_per_cubic_metre, "kg/m3"),
                            between(600.0, 1100.0)),
                      choice("fuel band", &Fuel::band)};
  }
  /// The same fuel in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Fuel<U>() const {
    return widen_fields<Fuel<U>>(*this);
  }
};

/// Petrol. Ask for the density where it matters: EN 228 allows 720 to 775 kg/m3 at 15 C (en_228, recalled).
/// @param reference_density at 15 C, 600 to 1100 kg/m3 where it is used; 745 kg/m3 if left out (practice)
/// @return the fuel
/// Source: en_228 (recalled) for what is sold, trade_practice for the default
template <Scalar T = double>
constexpr Fuel<T> petrol(const Density<T>& reference_density = 745.0 * kilogram_per_cubic_metre) {
  return {.reference_density = reference_density};
}

/// Diesel. Ask for the density where it matters: EN 590 allows 820 to 845 kg/m3 at 15 C (en_590, printed), marine gas
/// oil goes up to 890 (recalled).
/// @param reference_density at 15 C, 600 to 1100 kg/m3 where it is used; 840 kg/m3 if left out (practice)
/// @return the fuel
/// Source: en_590 (printed) for what is sold, trade_practice for the default
template <Scalar T = double>
constexpr Fuel<T> diesel(const Density<T>& reference_density = 840.0 * kilogram_per_cubic_metre) {
  return {.reference_density = reference_density};
}

/// Temperature at which fuel is sold and its density quoted in most of the world.
inline constexpr Temperature<> fuel_reference_temperature = celsius(15.0);

/// Limits of the volume correction; the place in `fuel_limits` is the bit in the flags.
enum class FuelLimit : std::uint8_t {
  temperature,
  density,
  named_petrol,
  named_transition,
  named_kerosine,
  named_diesel
};
/// The limits of the volume correction, in the order of FuelLimit. The last four are the bands of by_density; their
/// flags go up only where the caller named a band in which the density does not lie.
inline constexpr auto fuel_limits = std::to_array<Limit>({
    {"fuel temperature outside -18 to 95 C", "astm_d1250, table 54B (recalled)", -18.0, 95.0},
    {"fuel density at 15 C outside 653 to 1075 kg/m3", "astm_d1250, table 54B", 653.0, 1075.0},
    {"fuel named petrol, density at 15 C outside its band, to 770.35 kg/m3", "astm_d1250", 653.0, 770.35},
    {"fuel named transition, density at 15 C outside its band, 770.35 to 787.52 kg/m3", "astm_d1250", 770.35, 787.52},
    {"fuel named kerosine, density at 15 C outside its band, 787.52 to 838.31 kg/m3", "astm_d1250", 787.52, 838.31},
    {"fuel named diesel, density at 15 C outside its band, from 838.31 kg/m3", "astm_d1250", 838.31, 1075.0},
});
/// Volume correction of refined products to 15 C.
inline constexpr Method fuel_volume_correction{.name = "volume correction of refined products to 15 C, table 54B",
                                               .key = "astm_d1250",
                                               .equations = "table 54B, base 15 C",
                                               .evidence = Evidence::transcribed,
                                               .limits = fuel_limits,
                                               .instead_beyond = "a measured density"};

/// Thermal expansion, per kelvin.
template <class T = double>
using ThermalExpansion = Quantity<si_units::Ratio<boost::units::si::dimensionless, boost::units::si::temperature>, T>;

/// Thermal expansion of a fuel at 15 C: alpha = K_0/rho_15^2 + K_1/rho_15, K by bands of the density.
/// @param fuel density at 15 C, 600 to 1100 kg/m3, and band
/// @return alpha
/// @throws BadInput if the density is not set or out of range
/// Source: astm_d1250, table 54B, transcribed. Copies disagree on the seams: at those used here the bands meet to 1e-4,
/// 2e-5 and 2e-5 of alpha; at 770.5, 787.5 and 838.5 to 839 alpha would jump by up to 1.2e-3 of itself. Between the two
/// sets of seams that is up to 4e-5 of the volume at 30 K from 15 C.
template <Scalar T = double>
ThermalExpansion<T> thermal_expansion(const Fuel<T>& fuel) {
  check_fields("thermal_expansion", fuel);
  const T r = in(fuel.reference_density, kilogram_per_cubic_metre);
  const T petrol = 346.4228 / (r * r) + 0.4388 / r;
  const T transition = -0.00336312 + 2680.3206 / (r * r);
  const T kerosine = 594.5418 / (r * r);
  const T diesel = 186.9696 / (r * r) + 0.4862 / r;
  const auto upper_end = [](FuelLimit band) { return T(fuel_limits[static_cast<std::size_t>(band)].high); };
  T alpha = unset;
  switch (fuel.band) {
    case FuelBand::petrol:
      alpha = petrol;
      break;
    case FuelBand::transition:
      alpha = transition;
      break;
    case FuelBand::kerosine:
      alpha = kerosine;
      break;
    case FuelBand::diesel:
      alpha = diesel;
      break;
    case FuelBand::by_density:
      alpha = select(r < upper_end(FuelLimit::named_petrol), petrol,
                     select(r < upper_end(FuelLimit::named_transition), transition,
                            select(r < upper_end(FuelLimit::named_kerosine), kerosine, diesel)));
      break;
  }
  return ThermalExpansion<T>::from_value(alpha);
}

/// A fuel at a temperature.
template <class T = double>
struct FuelAtTemperature {
  T volume_correction = unset;                      ///< VCF: volume at 15 C over volume at the temperature
  Density<T> density = unset;                       ///< at the temperature
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});  ///< bits into the limits of `method`
  const Method* method = nullptr;                   ///< who answered
};

/// The volume correction of a fuel to 15 C and its density: VCF = exp(-alpha d (1 + 0.8 alpha d)), d = t - 15 C,
/// V_15 = V VCF, rho = rho_15 VCF. Not rounded, as the printed tables are.
/// @param fuel density at 15 C, 600 to 1100 kg/m3, and band
/// @param temperature of the fuel, -40 to 110 C
/// @return correction factor and density, flagged outside -18 to 95 C, 653 to 1075 kg/m3 and the band that was named
/// @throws BadInput if the density or the temperature is not set or out of range
/// Source: astm_d1250, table 54B, transcribed.
template <Scalar T = double>
FuelAtTemperature<T> fuel_at(const Fuel<T>& fuel, const std::type_identity_t<Temperature<T>>& temperature) {
  check_fields("fuel_at", fuel);
  const T t = in_celsius(temperature);
  check_value("fuel_at", "fuel temperature", t, ShownUnit{1.0, "C"}, between(-40.0, 110.0));
  using std::exp;
  const Temperature<T> d = temperature - widen<T>(fuel_reference_temperature);
  const T alpha_d = thermal_expansion(fuel) * d;
  FuelAtTemperature<T> at;
  at.volume_correction = exp(-alpha_d * (1.0 + 0.8 * alpha_d));
  at.density = fuel.reference_density * at.volume_correction;
  at.method = &fuel_volume_correction;
  const auto raise_outside = [&at](const T& x, FuelLimit which) {
    const Limit& limit = fuel_limits[static_cast<std::size_t>(which)];
    const T low(limit.low), high(limit.high);
    raise_where(at.flags, either(x<low, x> high), flag(which));
  };
  const T r = in(fuel.reference_density, kilogram_per_cubic_metre);
  raise_outside(t, FuelLimit::temperature);
  raise_outside(r, FuelLimit::density);
  if (fuel.band == FuelBand::petrol) raise_outside(r, FuelLimit::named_petrol);
  if (fuel.band == FuelBand::transition) raise_outside(r, FuelLimit::named_transition);
  if (fuel.band == FuelBand::kerosine) raise_outside(r, FuelLimit::named_kerosine);
  if (fuel.band == FuelBand::diesel) raise_outside(r, FuelLimit::named_diesel);
  return at;
}

/// Density of a fuel at a temperature, rho = rho_15 VCF: what a tank's mass needs. fuel_at() gives the flags too.
/// @param fuel density at 15 C, 600 to 1100 kg/m3, and band
/// @param temperature of the fuel, -40 to 110 C
/// @return density at the temperature
/// @throws BadInput if the density or the temperature is not set or out of range
/// Source: astm_d1250, table 54B, transcribed.
template <Scalar T = double>
Density<T> fuel_density(const Fuel<T>& fuel, const std::type_identity_t<Temperature<T>>& temperature) {
  return fuel_at(fuel, temperature).density;
}

}  // namespace hardchine
