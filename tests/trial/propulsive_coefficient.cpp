// Overall propulsive coefficient and specific consumption. Definitions, so the checks are arithmetic done by hand and
// values printed elsewhere: 40 CFR 1042 Appendix II, cycle E3 (speed and power of a propeller demand of exponent 3),
// and the practice values of coefficients (common practice, no source).
#include "hardchine/trial/propulsive_coefficient.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <type_traits>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

const RatedEngine<> twin{
    .rated_power = 280.0 * kilowatt, .rated_engine_speed = 2600.0 * rpm, .engine_speed = 2600.0 * rpm, .engines = 2};
const FuelForPower<> fuel{.fuel_flow = 137.3 * litre_per_hour,
                          .fuel_density = 840.0 * kilogram_per_cubic_metre,
                          .specific_consumption = 215.0 * gram_per_kilowatt_hour};

}  // namespace

TEST_CASE("power from torque") {
  // 1000 N m at 1909.86 rpm is 200 kW: P = 2 pi n Q. (9549.3 is the trade's kW rpm constant, practice.)
  const auto power = power_from_torque(
      TorqueReading<>{.torque = 1000.0 * newton_metre, .engine_speed = 1909.859317 * rpm, .engines = 2});
  CHECK(in(power.brake_power(), kilowatt) == relative(400.0, 1e-9));  // the ten digits of the speed
  CHECK(power.source() == PowerSource::measured_torque);
  CHECK(power.outcome() == PowerOutcome::found);
  CHECK(words(power) == "power from measured torque");
}

TEST_CASE("rated power stands at full throttle near rated engine speed only") {
  const auto at = [](double n) {
    RatedEngine<> engine = twin;
    engine.engine_speed = n * rpm;
    return rated_power_at_full_throttle(engine);
  };
  CHECK(in(at(2600.0).brake_power(), kilowatt) == rounding(560.0));
  for (const double n : {2471.0, 2729.0}) CHECK(at(n).outcome() == PowerOutcome::found);  // 4.96 % off
  for (const double n : {2469.0, 2731.0, 1000.0}) {                                       // 5.04 % off
    CAPTURE(n);
    CHECK(at(n).outcome() == PowerOutcome::not_at_rated);
    CHECK_FALSE(is_set(at(n).brake_power()));
    const auto eta =
        propulsive_coefficient<double>({.total_drag = 15.0 * kilonewton, .speed = 30.0 * knot, .power = at(n)});
    CHECK(eta.outcome == PowerOutcome::not_at_rated);
    CHECK_FALSE(is_set(eta.value));
    CHECK(words(eta.outcome).find("5 %") != std::string_view::npos);
  }
}

TEST_CASE("propeller demand law: the marine duty cycle E3 of 40 CFR 1042 is one of exponent 3") {
  // Printed: speed 100, 91, 80, 63 %, power 100, 75, 50, 25 %. To the two figures of the speeds: half a per cent of
  // speed is 1.5 % of power.
  struct Row {
    double speed, power;
  };
  for (const Row& row : {Row{1.0, 1.0}, Row{0.91, 0.75}, Row{0.80, 0.50}, Row{0.63, 0.25}}) {
    CAPTURE(row.speed);
    RatedEngine<> engine = twin;
    engine.engine_speed = row.speed * engine.rated_engine_speed;
    const auto power = power_by_demand_law(engine, 3.0);
    CHECK(in(power.brake_power(), kilowatt) / 560.0 ==
          absolute(row.power, 3.0 * 0.005 / row.speed * row.power + 0.005));
    CHECK(in(power.brake_power(), kilowatt) == rounding(560.0 * row.speed * row.speed * row.speed));
    CHECK(power.exponent() == 3.0);
  }
  CHECK(words(power_by_demand_law(twin, 2.5)) == "power by a propeller demand law from rated power, exponent 2.5");
  for (const double bad : {std::nan(""), 1.4, 4.1, std::numeric_limits<double>::infinity()})
    CHECK_THROWS_AS(power_by_demand_law(twin, bad), BadInput);
}

TEST_CASE("the coefficient, by hand") {
  // 15 kN at 20 m/s are 300 kW; on 560 kW that is 53.571 %.
  const auto eta = propulsive_coefficient<double>(
      {.total_drag = 15.0 * kilonewton, .speed = 20.0 * metre_per_second, .power = rated_power_at_full_throttle(twin)});
  REQUIRE(eta.outcome == PowerOutcome::found);
  CHECK(in(eta.effective_power, kilowatt) == rounding(300.0));
  CHECK(eta.value / percent == printed(53.571, 3));
  CHECK(eta.source == PowerSource::full_throttle_at_rated);
  CHECK(eta.flags == 0U);
  CHECK(cite(eta).find("(practice)") != std::string::npos);
  // Outside what drives reach (common practice, no source) it is given and flagged.
  for (const double kn : {8.0, 20.1}) {
    const auto odd = propulsive_coefficient<double>(
        {.total_drag = kn * kilonewton, .speed = 20.0 * metre_per_second, .power = rated_power_at_full_throttle(twin)});
    CHECK(is_set(odd.value));
    REQUIRE(explain(odd).size() == 1);
    CHECK(explain(odd)[0].find("30 to 70 %") != std::string_view::npos);
  }
}

TEST_CASE("a blank without a source of power or without a drag says why") {
  const auto no_power = propulsive_coefficient<double>(
      {.total_drag = 15.0 * kilonewton, .speed = 30.0 * knot, .power = no_power_source()});
  CHECK(no_power.outcome == PowerOutcome::no_power_source);
  CHECK_FALSE(is_set(no_power.value));
  CHECK(no_power.flags == 0U);
  const auto no_drag =
      propulsive_coefficient<double>({.speed = 30.0 * knot, .power = rated_power_at_full_throttle(twin)});
  CHECK(no_drag.outcome == PowerOutcome::drag_not_known);
  CHECK_FALSE(is_set(no_drag.value));
  CHECK(no_drag.flags == 0U);
  const auto no_consumption = specific_fuel_consumption<double>({.fuel_flow = 100.0 * litre_per_hour,
                                                                 .fuel_density = 840.0 * kilogram_per_cubic_metre,
                                                                 .power = no_power_source()});
  CHECK(no_consumption.outcome == PowerOutcome::no_power_source);
  CHECK_FALSE(is_set(no_consumption.value));
  for (const auto outcome : {PowerOutcome::no_power_source, PowerOutcome::not_at_rated, PowerOutcome::drag_not_known,
                             PowerOutcome::from_the_same_fuel})
    CHECK(words(outcome).find("blank: ") == 0);
}

TEST_CASE("one fuel figure never gives both a coefficient and a specific consumption") {
  // A power says where it comes from, and nobody can say otherwise.
  static_assert(!std::is_default_constructible_v<StatedPower<>>);
  static_assert(!std::is_constructible_v<StatedPower<>, PowerSource, PowerOutcome, Power<>, double>);
  static_assert(!std::is_aggregate_v<StatedPower<>>);
  const auto from_fuel = power_from_fuel_flow(fuel);
  // 137.3 L/h x 0.840 kg/L / 215 g/kWh.
  CHECK(in(from_fuel.brake_power(), kilowatt) == relative(137.3 * 840.0 / 215.0, 1e-13));
  const auto eta =
      propulsive_coefficient<double>({.total_drag = 15.0 * kilonewton, .speed = 30.0 * knot, .power = from_fuel});
  CHECK(eta.outcome == PowerOutcome::found);
  CHECK(eta.source == PowerSource::fuel_flow_with_specific_consumption);
  const auto consumption = specific_fuel_consumption<double>(
      {.fuel_flow = fuel.fuel_flow, .fuel_density = fuel.fuel_density, .power = from_fuel});
  CHECK(consumption.outcome == PowerOutcome::from_the_same_fuel);
  CHECK_FALSE(is_set(consumption.value));
  // Also after a conversion to another scalar.
  const StatedPower<Dual<1>> wide = from_fuel;
  CHECK(specific_fuel_consumption<Dual<1>>({.fuel_flow = widen<Dual<1>>(fuel.fuel_flow),
                                            .fuel_density = widen<Dual<1>>(fuel.fuel_density),
                                            .power = wide})
            .outcome == PowerOutcome::from_the_same_fuel);
  // A power of another source gives both.
  const auto rated = rated_power_at_full_throttle(twin);
  const auto by_rated = specific_fuel_consumption<double>(
      {.fuel_flow = fuel.fuel_flow, .fuel_density = fuel.fuel_density, .power = rated});
  CHECK(by_rated.outcome == PowerOutcome::found);
  CHECK(in(by_rated.value, gram_per_kilowatt_hour) == relative(137.3 * 840.0 / 560.0, 1e-13));
}

TEST_CASE("printed consumption: 300 hp at 0.40 lb/(hp h) and 7.2 lb/gal burn 16.6 gal/h") {
  // Arithmetic of a magazine article, which cuts 16.6667 to 16.6 (common practice, no source kept).
  const auto power = power_from_fuel_flow(FuelForPower<>{.fuel_flow = 300.0 * 0.40 / 7.2 * us_gallon_per_hour,
                                                         .fuel_density = 7.2 * pound_per_us_gallon,
                                                         .specific_consumption = 0.40 * pound_per_horsepower_hour});
  CHECK(in(power.brake_power(), horsepower) == relative(300.0, 1e-13));
}

TEST_CASE("bad fields are refused by name") {
  const double infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {std::nan(""), infinite, -1.0, 0.0}) {
    CAPTURE(bad);
    RatedEngine<> engine = twin;
    engine.rated_power = bad * kilowatt;
    CHECK_THROWS_AS(rated_power_at_full_throttle(engine), BadInput);
    CHECK_THROWS_AS(power_by_demand_law(engine, 3.0), BadInput);
    engine = twin;
    engine.engine_speed = bad * rpm;
    CHECK_THROWS_AS(rated_power_at_full_throttle(engine), BadInput);
    CHECK_THROWS_AS(power_from_torque(TorqueReading<>{.torque = bad * newton_metre, .engine_speed = 2000.0 * rpm}),
                    BadInput);
    FuelForPower<> other = fuel;
    other.specific_consumption = bad * gram_per_kilowatt_hour;
    CHECK_THROWS_AS(power_from_fuel_flow(other), BadInput);
    CHECK_THROWS_AS(propulsive_coefficient<double>(
                        {.total_drag = 1.0 * kilonewton, .speed = bad * knot, .power = no_power_source()}),
                    BadInput);
    CHECK_THROWS_AS(specific_fuel_consumption<double>({.fuel_flow = bad * litre_per_hour,
                                                       .fuel_density = 840.0 * kilogram_per_cubic_metre,
                                                       .power = no_power_source()}),
                    BadInput);
  }
  RatedEngine<> engine = twin;
  engine.engines = 0;
  CHECK_THROWS_WITH_AS(rated_power_at_full_throttle(engine),
                       "rated_power_at_full_throttle: engines is 0; accepted: 1 to 12", BadInput);
}

TEST_CASE("derivatives on Dual, and the strict archetype") {
  using D = Dual<2>;
  const auto eta = propulsive_coefficient<D>({.total_drag = seed<2>(15.0 * kilonewton, 0),
                                              .speed = seed<2>(20.0 * metre_per_second, 1),
                                              .power = rated_power_at_full_throttle(twin)});
  CHECK(eta.value.derivative[0] == rounding(eta.value.value / 15000.0));
  CHECK(eta.value.derivative[1] == rounding(eta.value.value / 20.0));

  using S = Strict;
  const RatedEngine<S> engine = twin;
  const auto power = rated_power_at_full_throttle(engine);
  CHECK(power.outcome() == PowerOutcome::found);
  CHECK(power_by_demand_law(engine, 2.5).brake_power().value().reveal() == rounding(560000.0));
  CHECK(power_from_fuel_flow(FuelForPower<S>(fuel)).brake_power().value().reveal() ==
        rounding(power_from_fuel_flow(fuel).brake_power().value()));
  CHECK(power_from_torque(TorqueReading<S>(TorqueReading<>{.torque = 1.0 * newton_metre, .engine_speed = 60.0 * rpm}))
            .brake_power()
            .value()
            .reveal() == rounding(2.0 * std::acos(-1.0)));
  CHECK(propulsive_coefficient<S>(
            {.total_drag = widen<S>(15.0 * kilonewton), .speed = widen<S>(20.0 * metre_per_second), .power = power})
            .value.reveal() == rounding(300.0 / 560.0));
  CHECK(specific_fuel_consumption<S>({.fuel_flow = widen<S>(fuel.fuel_flow),
                                      .fuel_density = widen<S>(fuel.fuel_density),
                                      .power = no_power_source<S>()})
            .outcome == PowerOutcome::no_power_source);
}
