#include "hardchine/fluids/fuel_co2.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <type_traits>

#include "archetype.hpp"
#include "hardchine/economy/fuel_economy.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr Density<> diesel_840 = 840.0 * kilogram_per_cubic_metre;
constexpr Density<> petrol_745 = 745.0 * kilogram_per_cubic_metre;
constexpr Co2Basis all_bases[] = {Co2Basis::cfr_40_98_gasoline,    Co2Basis::cfr_40_98_distillate_2,
                                  Co2Basis::eia_middle_distillate, Co2Basis::mepc_diesel_gas_oil,
                                  Co2Basis::ipcc_gasoline,         Co2Basis::ipcc_diesel};

double kg_per_gallon(const FuelCo2Input<>& input) { return in(fuel_co2(input).per_volume, kilogram / us_gallon); }
double kg_per_kg(const FuelCo2Input<>& input) { return fuel_co2(input).per_volume / input.fuel_density; }
std::string refused_field(const std::function<void()>& call) {
  try {
    call();
  } catch (const BadInput& error) {
    return error.field();
  }
  return "";
}

template <class Heat, class Factor>
concept Multiplies = requires(const Heat& heat, const Factor& factor) {
  co2_per_volume(heat, factor);
};

}  // namespace

TEST_CASE("CO2 per US gallon by gross heat") {
  // cfr_40_98_c_1, printed: motor gasoline 0.125 mmBtu/gal and 70.22 kg/mmBtu, distillate fuel oil no. 2 0.138 and
  // 73.96. The products are exact decimals: 8.7775 and 10.20648 kg/gal. Tolerance: rounding of seven operations.
  CHECK(kg_per_gallon({.basis = Co2Basis::cfr_40_98_gasoline}) == relative(8.7775, 1e-15));
  CHECK(kg_per_gallon({.basis = Co2Basis::cfr_40_98_distillate_2}) == relative(10.20648, 1e-15));
  // The heat itself, MJ/L, from the Btu of the international table, 1055.05585262 J (recalled), and 231 cubic inches.
  const auto megajoules_per_litre = [](double mmbtu) { return mmbtu * 1055.05585262 / 3.785411784; };
  CHECK(in(co2_factors::cfr_40_98_gasoline_heat.per_volume, pascal) * 1e-9 ==
        relative(megajoules_per_litre(0.125), 1e-11));
  CHECK(in(co2_factors::cfr_40_98_gasoline_heat.per_volume, pascal) * 1e-9 == printed(34.840, 3));
  CHECK(in(co2_factors::cfr_40_98_distillate_2_heat.per_volume, pascal) * 1e-9 == printed(38.463, 3));
}

TEST_CASE("CO2 per US gallon as printed, and per mass") {
  // eia_1605, printed: middle distillate 10.15 kg/gal.
  CHECK(kg_per_gallon({.basis = Co2Basis::eia_middle_distillate}) == relative(10.15, 1e-15));
  // mepc_282_70, printed: diesel and gas oil 3.206 t CO2 per t of fuel.
  CHECK(kg_per_kg({.basis = Co2Basis::mepc_diesel_gas_oil, .fuel_density = diesel_840}) == relative(3.206, 1e-15));
  // ipcc_2006, recalled: 44.3 MJ/kg at 69.3 g/MJ is 3.070 kg/kg petrol; 43.0 at 74.1 is 3.186 diesel.
  CHECK(kg_per_kg({.basis = Co2Basis::ipcc_gasoline, .fuel_density = petrol_745}) == printed(3.070, 3));
  CHECK(kg_per_kg({.basis = Co2Basis::ipcc_diesel, .fuel_density = diesel_840}) == printed(3.186, 3));
}

TEST_CASE("independent sources agree for the same fuel") {
  // Diesel of 840 kg/m3, kg CO2 per litre: gross heat 2.696, EIA 2.681, MEPC 2.693, net heat 2.676. Four sources that
  // count the carbon of a litre each in its own way: within 1 %.
  const double reference =
      in(fuel_co2({.basis = Co2Basis::mepc_diesel_gas_oil, .fuel_density = diesel_840}).per_volume, kilogram_per_litre);
  CHECK(reference == printed(2.693, 3));
  for (const Co2Basis basis :
       {Co2Basis::cfr_40_98_distillate_2, Co2Basis::eia_middle_distillate, Co2Basis::ipcc_diesel}) {
    CAPTURE(words(basis));
    CHECK(in(fuel_co2({.basis = basis, .fuel_density = diesel_840}).per_volume, kilogram_per_litre) ==
          relative(reference, 0.01));
  }
  // Petrol of 745 kg/m3: gross and net heat, each with its own factor.
  const auto petrol = [](Co2Basis basis) {
    return in(fuel_co2({.basis = basis, .fuel_density = petrol_745}).per_volume, kilogram_per_litre);
  };
  CHECK(petrol(Co2Basis::cfr_40_98_gasoline) == relative(petrol(Co2Basis::ipcc_gasoline), 0.02));
  // Mixed up by hand, gross heat with a net factor, distillate would come out 6 % high: what the types refuse.
  const double mixed = co2_factors::cfr_40_98_distillate_2_heat.per_volume * co2_factors::ipcc_diesel.co2_per_heat /
                       (1.0 * kilogram_per_litre);
  CHECK(mixed / reference > 1.05);
}

TEST_CASE("gross and net heat do not mix") {
  static_assert(Multiplies<HeatContent<GrossHeat>, HeatFactor<GrossHeat>>);
  static_assert(Multiplies<HeatContent<NetHeat>, HeatFactor<NetHeat>>);
  static_assert(!Multiplies<HeatContent<GrossHeat>, HeatFactor<NetHeat>>);
  static_assert(!Multiplies<HeatContent<NetHeat>, HeatFactor<GrossHeat>>);
  static_assert(
      std::same_as<decltype(heat_content<NetHeat>(co2_factors::ipcc_diesel_heat, diesel_840)), HeatContent<NetHeat>>);
}

TEST_CASE("heat and factor have their doors") {
  using namespace co2_factors;
  CHECK(refused_field([] { heat_content<NetHeat>(unset, diesel_840); }) == "heat per mass");
  CHECK(refused_field([] { heat_content<NetHeat>(-1.0 * ipcc_diesel_heat, diesel_840); }) == "heat per mass");
  CHECK(refused_field([] { heat_content<NetHeat>(ipcc_diesel_heat, Density<>(unset)); }) == "fuel density");
  CHECK(refused_field([] { heat_content<NetHeat>(ipcc_diesel_heat, 0.84 * kilogram_per_cubic_metre); }) ==
        "fuel density");
  CHECK(refused_field([] { co2_per_volume(HeatContent<GrossHeat>{}, cfr_40_98_gasoline); }) == "heat per volume");
  CHECK(refused_field([] { co2_per_volume(cfr_40_98_gasoline_heat, {}); }) == "CO2 per heat");
  CHECK(refused_field([] {
          co2_per_volume(cfr_40_98_gasoline_heat, {.co2_per_heat = -1.0 * cfr_40_98_gasoline.co2_per_heat});
        }) == "CO2 per heat");
}

TEST_CASE("CO2 per hour and per distance") {
  // 100 US gal/h at 25 kn on 10.15 kg/gal: 1015 kg/h, 40.6 kg per nautical mile. Exact decimals.
  const FuelCo2Input<> input{
      .basis = Co2Basis::eia_middle_distillate, .fuel_flow = 100.0 * us_gallon_per_hour, .speed = 25.0 * knot};
  const FuelCo2<> r = fuel_co2(input);
  CHECK(in(r.per_time, kilogram_per_hour) == relative(1015.0, 1e-15));
  CHECK(in(r.per_distance, kilogram / nautical_mile) == relative(40.6, 1e-15));
  // The same by the library's litres per mile.
  CHECK(r.per_distance.value() == rounding((r.per_volume * volume_per_distance(input.speed, input.fuel_flow)).value()));
  // What was not given is not answered.
  const FuelCo2<> volume_only = fuel_co2({.basis = Co2Basis::eia_middle_distillate});
  CHECK_FALSE(is_set(volume_only.per_time));
  CHECK_FALSE(is_set(volume_only.per_distance));
  const FuelCo2<> no_speed =
      fuel_co2({.basis = Co2Basis::eia_middle_distillate, .fuel_flow = 100.0 * us_gallon_per_hour});
  CHECK(is_set(no_speed.per_time));
  CHECK_FALSE(is_set(no_speed.per_distance));
}

TEST_CASE("a fuel that is not the one named is flagged, and a recalled factor says so") {
  const auto sentences = [](Co2Basis basis, const Density<>& rho) {
    return explain(fuel_co2({.basis = basis, .fuel_density = rho}));
  };
  for (const Co2Basis basis : all_bases) {
    CAPTURE(words(basis));
    const bool is_petrol = basis == Co2Basis::cfr_40_98_gasoline || basis == Co2Basis::ipcc_gasoline;
    const bool recalled = basis == Co2Basis::ipcc_gasoline || basis == Co2Basis::ipcc_diesel;
    const Density<> right = is_petrol ? petrol_745 : diesel_840, wrong = is_petrol ? diesel_840 : petrol_745;
    CHECK(sentences(basis, right).size() == (recalled ? 1u : 0u));
    CHECK(sentences(basis, wrong).size() == (recalled ? 2u : 1u));
    CHECK(sentences(basis, wrong)[0].substr(0, 6) == (is_petrol ? "petrol" : "diesel"));
    const FuelCo2<> r = fuel_co2({.basis = basis, .fuel_density = right});
    CHECK(r.basis == basis);
    CHECK((r.method->evidence == Evidence::recalled) == recalled);
    if (recalled) CHECK(explain(r).back() == "CO2 by a recalled factor");
  }
  CHECK(cite(fuel_co2({.basis = Co2Basis::cfr_40_98_gasoline})) ==
        "cfr_40_98_c_1 heat per volume times CO2 per heat (printed)");
  CHECK(words(Co2Basis::mepc_diesel_gas_oil) == "MEPC.282(70), diesel and gas oil, per mass of fuel");
}

TEST_CASE("CO2 refuses bad input by the field's name") {
  const double infinite = std::numeric_limits<double>::infinity();
  CHECK(refused_field([] { fuel_co2(FuelCo2Input<>{}); }) == "basis");
  CHECK(refused_field([] { fuel_co2({.basis = static_cast<Co2Basis>(99)}); }) == "basis");
  for (const Co2Basis basis : {Co2Basis::mepc_diesel_gas_oil, Co2Basis::ipcc_gasoline, Co2Basis::ipcc_diesel})
    CHECK(refused_field([&] { fuel_co2({.basis = basis}); }) == "fuel density");
  for (const Co2Basis basis : all_bases) {
    for (const double bad : {infinite, -840.0, 0.0, 0.84, 599.9, 1100.1})
      CHECK(refused_field([&] { fuel_co2({.basis = basis, .fuel_density = bad * kilogram_per_cubic_metre}); }) ==
            "fuel density");
    for (const double bad : {infinite, -1.0, 0.0, 20000.1})
      CHECK(refused_field([&] {
              fuel_co2({.basis = basis, .fuel_density = diesel_840, .fuel_flow = bad * litre_per_hour});
            }) == "fuel flow");
    for (const double bad : {infinite, -1.0, 0.0, 150.1})
      CHECK(refused_field([&] { fuel_co2({.basis = basis, .fuel_density = diesel_840, .speed = bad * knot}); }) ==
            "speed");
  }
}

TEST_CASE("CO2 runs on the strict archetype and has the derivatives of its formulas") {
  for (const Co2Basis basis : all_bases) {
    const FuelCo2Input<> input{.basis = basis,
                               .fuel_density = 800.0 * kilogram_per_cubic_metre,
                               .fuel_flow = 137.3 * litre_per_hour,
                               .speed = 29.7 * knot};
    const FuelCo2<> expected = fuel_co2(input);
    const FuelCo2<Strict> strict = fuel_co2<Strict>(input);
    CHECK(strict.per_distance.value().reveal() == expected.per_distance.value());
    CHECK(strict.per_time.value().reveal() == expected.per_time.value());
    CHECK(strict.flags == expected.flags);
    // d(e q/V): to q the figure over q, to V minus the figure over V (closed form).
    FuelCo2Input<Dual<2>> seeded = input;
    seeded.fuel_flow = seed<2>(input.fuel_flow, 0);
    seeded.speed = seed<2>(input.speed, 1);
    const Dual<2> d = fuel_co2(seeded).per_distance.value();
    CHECK(d.derivative[0] == rounding(d.value / input.fuel_flow.value()));
    CHECK(d.derivative[1] == rounding(-d.value / input.speed.value()));
  }
}
