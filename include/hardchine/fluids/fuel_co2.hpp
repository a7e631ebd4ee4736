/// @file
/// Carbon dioxide from burning fuel, by named published factors: per volume, per hour and per distance.
///
/// With e the CO2 per volume of fuel, q the fuel flow of all engines together and V the speed:
///
///     e = H f_H    heat per volume times CO2 per heat; both gross, or both net
///     e = rho f_m  density times CO2 per mass of fuel
///     CO2 per time e q,  CO2 per distance e q/V
///
/// Gross heat counts the condensation of the water in the exhaust, net heat does not; they differ by 5 to 7 % (recalled),
/// and a factor of one kind with a heat of the other is wrong by as much. So heat and factor carry their kind in their
/// type, and a mixed product does not compile.
///
/// Only what the engine burns is counted: no methane, no nitrous oxide, nothing from making and moving the fuel.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "hardchine/fields.hpp"

namespace hardchine {

/// CO2 per distance, kilograms per metre; `in(x, kilogram / nautical_mile)`.
template <class T = double>
using MassPerDistance = Quantity<si_units::Ratio<boost::units::si::mass, boost::units::si::length>, T>;
/// Heat per mass of fuel, joules per kilogram.
template <class T = double>
using HeatPerMass = Quantity<si_units::Ratio<boost::units::si::energy, boost::units::si::mass>, T>;

/// Gross heat (higher heating value): the water in the exhaust condensed.
struct GrossHeat {
  static constexpr std::string_view words = "gross heat";  ///< its name in messages
};
/// Net heat (lower heating value): the water in the exhaust stays steam.
struct NetHeat {
  static constexpr std::string_view words = "net heat";  ///< its name in messages
};

/// Heat of a volume of fuel, of a named kind; joules per cubic metre have the dimension of pressure.
/// @tparam Kind GrossHeat or NetHeat
template <class Kind, class T = double>
struct HeatContent {
  Pressure<T> per_volume = unset;  ///< H
};
/// CO2 that a fuel gives for its heat, of a named kind.
/// @tparam Kind GrossHeat or NetHeat
template <class Kind, class T = double>
struct HeatFactor {
  SpecificConsumption<T> co2_per_heat = unset;  ///< f_H, mass of CO2 per heat
};

/// CO2 per volume of fuel, e = H f_H. Heat and factor must be of the same kind: anything else does not compile.
/// Source: cfr_40_98_c_1, the product of its two columns; evidence: printed.
/// @param heat of the fuel per volume, gross or net, above 0 to 100 GJ/m3
/// @param factor CO2 per heat, of the same kind, 0 to 200 kg/GJ
/// @return e, mass per volume; `in(e, kilogram / us_gallon)`
/// @throws BadInput naming the field that is not set or out of range
template <class Kind, class T>
Density<T> co2_per_volume(const HeatContent<Kind, T>& heat, const std::type_identity_t<HeatFactor<Kind, T>>& factor) {
  check_value("co2_per_volume", "heat per volume", heat.per_volume, shown(1e9 * pascal, "GJ/m3"), above(0.0, 100.0));
  check_value("co2_per_volume", "CO2 per heat", factor.co2_per_heat, shown(kilogram / (1e9 * newton * metre), "kg/GJ"),
              between(0.0, 200.0));
  return heat.per_volume * factor.co2_per_heat;
}

/// Heat of a mass of fuel at a density, H = rho h.
/// @param per_mass h, above 0 to 150 MJ/kg
/// @param density rho of the fuel, 600 to 1100 kg/m3
/// @return heat per volume of the same kind
/// @throws BadInput naming the parameter
/// Source: trade_practice, a definition; evidence: practice.
template <class Kind, class T>
HeatContent<Kind, T> heat_content(const HeatPerMass<>& per_mass, const Density<T>& density) {
  check_value("heat_content", "heat per mass", per_mass, shown(1e6 * newton * metre / kilogram, "MJ/kg"),
              above(0.0, 150.0));
  check_value("heat_content", "fuel density", density, shown(kilogram_per_cubic_metre, "kg/m3"),
              between(600.0, 1100.0));
  return {.per_volume = density * per_mass};
}

/// Published factors, by name. Printed unless said.
namespace co2_factors {
/// Motor gasoline, cfr_40_98_c_1: 0.125 mmBtu per US gallon, gross.
inline constexpr HeatContent<GrossHeat> cfr_40_98_gasoline_heat{.per_volume = 0.125 * million_btu / us_gallon};
/// Motor gasoline, cfr_40_98_c_1: 70.22 kg per mmBtu, gross.
inline constexpr HeatFactor<GrossHeat> cfr_40_98_gasoline{.co2_per_heat = 70.22 * kilogram / million_btu};
/// Distillate fuel oil no. 2, cfr_40_98_c_1: 0.138 mmBtu per US gallon, gross.
inline constexpr HeatContent<GrossHeat> cfr_40_98_distillate_2_heat{.per_volume = 0.138 * million_btu / us_gallon};
/// Distillate fuel oil no. 2, cfr_40_98_c_1: 73.96 kg per mmBtu, gross.
inline constexpr HeatFactor<GrossHeat> cfr_40_98_distillate_2{.co2_per_heat = 73.96 * kilogram / million_btu};
/// Middle distillate, eia_1605: 10.15 kg per US gallon.
inline constexpr Density<> eia_middle_distillate = 10.15 * kilogram / us_gallon;
/// Diesel and gas oil, mepc_282_70: 3.206 t per t of fuel.
inline constexpr double mepc_diesel_gas_oil = 3.206;
/// Motor gasoline, ipcc_2006, recalled: 44.3 MJ/kg, net.
inline constexpr HeatPerMass<> ipcc_gasoline_heat = HeatPerMass<>::from_value(44.3e6);
/// Motor gasoline, ipcc_2006, recalled: 69.3 g per MJ, net.
inline constexpr HeatFactor<NetHeat> ipcc_gasoline{.co2_per_heat = SpecificConsumption<>::from_value(69.3e-9)};
/// Diesel, ipcc_2006, recalled: 43.0 MJ/kg, net.
inline constexpr HeatPerMass<> ipcc_diesel_heat = HeatPerMass<>::from_value(43.0e6);
/// Diesel, ipcc_2006, recalled: 74.1 g per MJ, net.
inline constexpr HeatFactor<NetHeat> ipcc_diesel{.co2_per_heat = SpecificConsumption<>::from_value(74.1e-9)};
}  // namespace co2_factors

/// The bits of the limits of the factors, in the order of fuel_co2_limits.
enum class FuelCo2Limit : std::uint8_t { petrol_density, diesel_density, recalled_factor };
/// The limits of the factors.
inline constexpr auto fuel_co2_limits = std::to_array<Limit>({
    {"petrol named, fuel density outside 720 to 775 kg/m3", "en_228 (recalled)", 720.0, 775.0},
    {"diesel or gas oil named, fuel density outside 820 to 890 kg/m3", "en_590, marine gas oil to 890 recalled", 820.0,
     890.0},
    {"CO2 by a recalled factor", "ipcc_2006", 0.0, 0.0},
});
/// CO2 per volume from gross heat.
inline constexpr Method co2_gross_heat_method{.name = "CO2 of fuel by gross heat per volume",
                                              .key = "cfr_40_98_c_1",
                                              .equations = "heat per volume times CO2 per heat",
                                              .evidence = Evidence::printed,
                                              .limits = fuel_co2_limits,
                                              .instead_beyond = "the factor of the fuel in use"};
/// CO2 per volume as printed.
inline constexpr Method co2_volume_method{.name = "CO2 of fuel per volume",
                                          .key = "eia_1605",
                                          .equations = "CO2 per US gallon",
                                          .evidence = Evidence::printed,
                                          .limits = fuel_co2_limits,
                                          .instead_beyond = "the factor of the fuel in use"};
/// CO2 per mass of fuel.
inline constexpr Method co2_mass_method{.name = "CO2 of fuel per mass",
                                        .key = "mepc_282_70",
                                        .equations = "C_F, mass of CO2 over mass of fuel",
                                        .evidence = Evidence::printed,
                                        .limits = fuel_co2_limits,
                                        .instead_beyond = "the factor of the fuel in use"};
/// CO2 per mass of fuel from net heat, recalled.
inline constexpr Method co2_net_heat_method{.name = "CO2 of fuel by net heat per mass",
                                            .key = "ipcc_2006",
                                            .equations = "net heat per mass times CO2 per heat",
                                            .evidence = Evidence::recalled,
                                            .limits = fuel_co2_limits,
                                            .instead_beyond = "a printed factor: one of the other bases"};

/// Whose factor, for which fuel. There is no default.
enum class Co2Basis : std::uint8_t {
  not_chosen,
  cfr_40_98_gasoline,      ///< 40 CFR 98 table C-1, gross heat; per volume
  cfr_40_98_distillate_2,  ///< 40 CFR 98 table C-1, gross heat; per volume
  eia_middle_distillate,   ///< US Energy Information Administration; per volume
  mepc_diesel_gas_oil,     ///< MEPC.282(70); per mass, asks for the density
  ipcc_gasoline,           ///< IPCC 2006, net heat, recalled; per mass, asks for the density
  ipcc_diesel              ///< IPCC 2006, net heat, recalled; per mass, asks for the density
};

/// The basis in the words of a report.
/// @param basis of a CO2 figure
/// @return a phrase
constexpr std::string_view words(Co2Basis basis) {
  switch (basis) {
    case Co2Basis::not_chosen:
      break;
    case Co2Basis::cfr_40_98_gasoline:
      return "40 CFR 98 table C-1, motor gasoline, gross heat";
    case Co2Basis::cfr_40_98_distillate_2:
      return "40 CFR 98 table C-1, distillate fuel oil no. 2, gross heat";
    case Co2Basis::eia_middle_distillate:
      return "EIA voluntary reporting, middle distillate, per volume";
    case Co2Basis::mepc_diesel_gas_oil:
      return "MEPC.282(70), diesel and gas oil, per mass of fuel";
    case Co2Basis::ipcc_gasoline:
      return "IPCC 2006, motor gasoline, net heat (recalled)";
    case Co2Basis::ipcc_diesel:
      return "IPCC 2006, diesel, net heat (recalled)";
  }
  return "no basis chosen";
}

/// The input of fuel_co2(). The basis is required, by name.
template <class T = double>
struct FuelCo2Input {
  Co2Basis basis = Co2Basis::not_chosen;  ///< whose factor, for which fuel; required
  Density<T> fuel_density = unset;        ///< 600 to 1100 kg/m3, of the fuel as it is measured; for a factor per mass
  VolumeFlow<T> fuel_flow = unset;        ///< q: of all engines together, above 0 to 20000 L/h; optional
  Speed<T> speed = unset;                 ///< V: above 0 to 150 kn; optional

  /// The field table.
  static constexpr auto fields() {
    constexpr Need free = Need::optional;
    return FieldTable{
        choice("basis", &FuelCo2Input::basis),
        field("fuel density", &FuelCo2Input::fuel_density, shown(kilogram_per_cubic_metre, "kg/m3"),
              between(600.0, 1100.0), free),
        field("fuel flow", &FuelCo2Input::fuel_flow, shown(litre_per_hour, "L/h"), above(0.0, 20000.0), free),
        field("speed", &FuelCo2Input::speed, shown(knot, "kn"), above(0.0, 150.0), free)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator FuelCo2Input<U>() const {
    return widen_fields<FuelCo2Input<U>>(*this);
  }
};

/// The answer of fuel_co2().
template <class T = double>
struct FuelCo2 {
  Co2Basis basis = Co2Basis::not_chosen;            ///< whose factor it was
  Density<T> per_volume = unset;                    ///< e: `in(e, kilogram / us_gallon)`
  MassFlow<T> per_time = unset;                     ///< e q; unset without a fuel flow
  MassPerDistance<T> per_distance = unset;          ///< e q/V; unset without a fuel flow and a speed
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});  ///< bits into the limits of `method`
  const Method* method = nullptr;                   ///< who answered
};

/// CO2 of the fuel that the engines burn: per volume, per time and per distance.
///
/// Figures of two bases differ by up to 4 % for the same litre of road diesel: compare boats on one basis.
/// Source: cfr_40_98_c_1, eia_1605, mepc_282_70, printed; ipcc_2006, recalled and flagged.
/// @param input basis (required), fuel density (600 to 1100 kg/m3; required by a factor per mass), fuel flow (above 0 to
///              20000 L/h; optional), speed (above 0 to 150 kn; optional)
/// @return CO2 per volume, per time, per distance, flags
/// @throws BadInput naming the field that is missing or out of range
template <Scalar T = double>
FuelCo2<T> fuel_co2(const FuelCo2Input<T>& input) {
  constexpr std::string_view function = "fuel_co2";
  check_fields(function, input);
  FuelCo2<T> r;
  r.basis = input.basis;

  const auto volume_factor = [&](const Density<>& per_volume, const Method& method) {
    r.per_volume = widen<T>(per_volume);
    r.method = &method;
  };
  const auto needs_density = [&] {
    require_set(function, "fuel density", input.fuel_density, "set, for a factor per mass of fuel");
  };
  const auto net_heat = [&](const HeatPerMass<>& heat, const HeatFactor<NetHeat>& factor) {
    needs_density();
    r.per_volume = co2_per_volume(heat_content<NetHeat>(heat, input.fuel_density),
                                  {.co2_per_heat = widen<T>(factor.co2_per_heat)});
    r.method = &co2_net_heat_method;
    r.flags = per_lane<T>(flag(FuelCo2Limit::recalled_factor));
  };
  const auto density_within = [&](FuelCo2Limit which) {
    const Limit& limit = fuel_co2_limits[static_cast<std::size_t>(which)];
    const T rho = in(input.fuel_density, kilogram_per_cubic_metre);
    // An unset density is on neither side.
    raise_where(r.flags, either(rho<T(limit.low), rho> T(limit.high)), flag(which));
  };

  switch (input.basis) {
    case Co2Basis::cfr_40_98_gasoline:
      volume_factor(co2_per_volume(co2_factors::cfr_40_98_gasoline_heat, co2_factors::cfr_40_98_gasoline),
                    co2_gross_heat_method);
      density_within(FuelCo2Limit::petrol_density);
      break;
    case Co2Basis::cfr_40_98_distillate_2:
      volume_factor(co2_per_volume(co2_factors::cfr_40_98_distillate_2_heat, co2_factors::cfr_40_98_distillate_2),
                    co2_gross_heat_method);
      density_within(FuelCo2Limit::diesel_density);
      break;
    case Co2Basis::eia_middle_distillate:
      volume_factor(co2_factors::eia_middle_distillate, co2_volume_method);
      density_within(FuelCo2Limit::diesel_density);
      break;
    case Co2Basis::mepc_diesel_gas_oil:
      needs_density();
      r.per_volume = input.fuel_density * co2_factors::mepc_diesel_gas_oil;
      r.method = &co2_mass_method;
      density_within(FuelCo2Limit::diesel_density);
      break;
    case Co2Basis::ipcc_gasoline:
      net_heat(co2_factors::ipcc_gasoline_heat, co2_factors::ipcc_gasoline);
      density_within(FuelCo2Limit::petrol_density);
      break;
    case Co2Basis::ipcc_diesel:
      net_heat(co2_factors::ipcc_diesel_heat, co2_factors::ipcc_diesel);
      density_within(FuelCo2Limit::diesel_density);
      break;
    case Co2Basis::not_chosen:
    default:
      throw BadInput(function, "basis", "not chosen", "one of Co2Basis, for example Co2Basis::eia_middle_distillate");
  }
  r.per_time = r.per_volume * input.fuel_flow;
  r.per_distance = r.per_time / input.speed;
  return r;
}

}  // namespace hardchine
