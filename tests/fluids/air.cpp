#include "hardchine/fluids/air.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <limits>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

double kg_per_m3(const Density<>& rho) { return in(rho, kilogram_per_cubic_metre); }

std::string refused_field(const std::function<void()>& call) {
  try {
    call();
  } catch (const BadInput& error) {
    return error.field();
  }
  return "";
}

}  // namespace

TEST_CASE("standard air is that of ISO 2533 at sea level") {
  // iso_2533 (recalled): 1.2250 kg/m3, 1.7894e-5 Pa s, 1.4607e-5 m2/s; here with one digit more.
  const Air<> air = standard_air();
  CHECK(kg_per_m3(air.density) == printed(1.2250, 4));
  CHECK(in(air_viscosity(celsius(15.0)), pascal_second) == printed(1.78938e-5, 10));
  CHECK(in(air.kinematic_viscosity, square_metre_per_second) == printed(1.46072e-5, 10));
  CHECK(in(air.pressure, hectopascal) == rounding(1013.25));
  CHECK(in_celsius(air.temperature) == 15.0);
  CHECK(air.method == &iso_2533_air);
  CHECK(air.flags == 0);
  CHECK_NOTHROW(check_fields("test", air));
}

TEST_CASE("dry air is a perfect gas: ISO 2533 at other heights") {
  // iso_2533 (recalled): at a geometric height Z of 1000 m the geopotential height is r Z/(r + Z), r = 6356766 m; the
  // temperature falls by 6.5 K/km of it, pressure and density follow from hydrostatics as powers of the temperature:
  // p/p_0 = (T/T_0)^n, rho/rho_0 = (T/T_0)^(n - 1), n = g_0/(R 6.5e-3 K/m). The second is another route to the density.
  const double height = 6356766.0 * 1000.0 / (6356766.0 + 1000.0);
  const double ratio = (288.15 - 6.5e-3 * height) / 288.15;
  const double n = in(standard_gravity, metre_per_second_squared) / (287.05287 * 6.5e-3);
  const Pressure<> pressure = std::pow(ratio, n) * standard_atmosphere;
  const Air<> air = dry_air(ratio * 288.15 * kelvin, pressure);
  CHECK(kg_per_m3(air.density) == rounding(kg_per_m3(standard_air().density) * std::pow(ratio, n - 1.0)));
  // Its table at 1000 m (recalled): 898.76 hPa, 1.1117 kg/m3.
  CHECK(in(pressure, hectopascal) == printed(898.76, 2));
  CHECK(kg_per_m3(air.density) == printed(1.1117, 4));
}

TEST_CASE("moist air is that of CIPM-2007") {
  // cipm_2007, derived with independent code, seven decimals.
  struct Row {
    double p, t, h, rho;
  };
  for (const Row& r :
       {Row{1013.25, 20.0, 50.0, 1.1993139}, Row{1000.0, 20.0, 50.0, 1.1835566}, Row{1013.25, 15.0, 0.0, 1.2255213},
        Row{1013.25, 30.0, 80.0, 1.1500117}, Row{990.0, 25.0, 60.0, 1.1487383}}) {
    CAPTURE(r.t);
    CAPTURE(r.h);
    const Air<> air =
        moist_air({.temperature = celsius(r.t), .pressure = r.p * hectopascal, .relative_humidity = r.h * percent});
    CHECK(kg_per_m3(air.density) == printed(r.rho, 7));
    CHECK(air.method == &cipm_air);
    CHECK_NOTHROW(check_fields("test", air));
  }
}

TEST_CASE("moist air against a perfect mixture of gases") {
  // Another route: rho = (p - e)/(R_a T) + e/(R_v T) with iso_2533's R_a and R_v = 8.314472/0.01801528, e = h p_s with
  // p_s at 20 C = 2339.2 Pa of wagner_pruss_2002. Real-gas effects and CO2 make it differ by 0.04 % (iso_2533).
  const double e = 0.5 * 2339.2, T = 293.15;
  const double mixture = (101325.0 - e) / (287.05287 * T) + e / (8.314472 / 0.01801528 * T);
  const Air<> air =
      moist_air({.temperature = celsius(20.0), .pressure = standard_atmosphere, .relative_humidity = 0.5});
  CHECK(kg_per_m3(air.density) == relative(mixture, 5e-4));
  // Humid air is lighter, and dry moist air is 0.04 % heavier than the perfect gas at 15 C.
  const Air<> dry =
      moist_air({.temperature = celsius(15.0), .pressure = standard_atmosphere, .relative_humidity = 0.0});
  CHECK(kg_per_m3(dry.density) / kg_per_m3(standard_air().density) == absolute(1.0004, 0.5e-4));
  CHECK(in(dry.kinematic_viscosity, square_metre_per_second) * kg_per_m3(dry.density) ==
        rounding(in(air_viscosity(celsius(15.0)), pascal_second)));
}

TEST_CASE("moist air is flagged outside its published range") {
  const auto flags = [](double t, double p) {
    return moist_air({.temperature = celsius(t), .pressure = p * hectopascal, .relative_humidity = 0.5}).flags;
  };
  CHECK(flags(15.0, 1013.25) == 0);
  CHECK(flags(27.0, 1100.0) == 0);
  CHECK(flags(14.9, 600.0) == flag(MoistAirLimit::temperature));
  CHECK(flags(27.1, 1000.0) == flag(MoistAirLimit::temperature));
  CHECK(flags(20.0, 599.0) == flag(MoistAirLimit::pressure));
  CHECK(flags(20.0, 1101.0) == flag(MoistAirLimit::pressure));
  const Flags both_up = flags(35.0, 550.0);
  REQUIRE(explain(both_up, cipm_air).size() == 2);
  CHECK(explain(both_up, cipm_air)[0] == "air temperature outside 15 to 27 C");
  CHECK(cite(cipm_air) == "cipm_2007 equation for the density of moist air (transcribed)");
}

TEST_CASE("air refuses bad input by the field's name") {
  const double infinite = std::numeric_limits<double>::infinity();
  const MoistAirCondition<> good{
      .temperature = celsius(20.0), .pressure = standard_atmosphere, .relative_humidity = 0.5};
  for (const double t : {std::nan(""), infinite, -infinite, -40.1, 60.1}) {
    CAPTURE(t);
    MoistAirCondition<> bad = good;
    bad.temperature = celsius(t);
    CHECK(refused_field([&] { moist_air(bad); }) == "air temperature");
    CHECK(refused_field([&] { dry_air(celsius(t), standard_atmosphere); }) == "air temperature");
    CHECK(refused_field([&] { air_viscosity(celsius(t)); }) == "air temperature");
  }
  for (const double p : {std::nan(""), infinite, -1013.25, 0.0, 499.9, 1200.1}) {
    CAPTURE(p);
    MoistAirCondition<> bad = good;
    bad.pressure = p * hectopascal;
    CHECK(refused_field([&] { moist_air(bad); }) == "air pressure");
    CHECK(refused_field([&] { dry_air(celsius(15.0), p * hectopascal); }) == "air pressure");
  }
  for (const double h : {std::nan(""), infinite, -0.01, 1.01, 50.0}) {
    CAPTURE(h);
    MoistAirCondition<> bad = good;
    bad.relative_humidity = h;
    CHECK(refused_field([&] { moist_air(bad); }) == "relative humidity");
  }
  CHECK(refused_field([&] { moist_air<>({.pressure = standard_atmosphere, .relative_humidity = 0.5}); }) ==
        "air temperature");
  CHECK(refused_field([&] { moist_air<>({.temperature = celsius(20.0), .relative_humidity = 0.5}); }) ==
        "air pressure");
  CHECK(refused_field([&] { moist_air<>({.temperature = celsius(20.0), .pressure = standard_atmosphere}); }) ==
        "relative humidity");
  CHECK_THROWS_WITH_AS(
      moist_air<>(
          {.temperature = celsius(20.0), .pressure = standard_atmosphere, .relative_humidity = 120.0 * percent}),
      "moist_air: relative humidity is 120 %; accepted: 0 % to 100 %", BadInput);
}

TEST_CASE("air runs on the strict archetype and gives the double's bits") {
  for (const double t : {-20.0, 15.0, 40.0}) {
    const auto dry = dry_air(celsius(Strict(t)), widen<Strict>(standard_atmosphere));
    CHECK(dry.density.value().reveal() == dry_air(celsius(t), standard_atmosphere).density.value());
    CHECK(dry.kinematic_viscosity.value().reveal() ==
          dry_air(celsius(t), standard_atmosphere).kinematic_viscosity.value());
    const MoistAirCondition<> condition{
        .temperature = celsius(t), .pressure = standard_atmosphere, .relative_humidity = 0.7};
    const Air<> expected = moist_air(condition);
    const Air<Strict> moist = moist_air<Strict>(condition);
    CHECK(moist.density.value().reveal() == expected.density.value());
    CHECK(moist.kinematic_viscosity.value().reveal() == expected.kinematic_viscosity.value());
    CHECK(moist.flags == expected.flags);
  }
}

TEST_CASE("air has the derivatives of its formulas") {
  // Against a central difference with a step of 1e-4 of the input: truncation about 1e-8, rounding about 1e-12/1e-4.
  const auto density = [](const auto& t, const auto& p, const auto& h) {
    using T = std::remove_cvref_t<decltype(t)>;
    return moist_air<T>({.temperature = celsius(t), .pressure = Pressure<T>::from_value(p), .relative_humidity = h})
        .density.value();
  };
  const auto d = density(Dual<3>::input(22.0, 0), Dual<3>::input(1.0e5, 1), Dual<3>::input(0.6, 2));
  const auto difference = [](auto f, double x) { return (f(x * 1.0001) - f(x * 0.9999)) / (2e-4 * x); };
  CHECK(d.derivative[0] == relative(difference([&](double t) { return density(t, 1.0e5, 0.6); }, 22.0), 1e-6));
  CHECK(d.derivative[1] == relative(difference([&](double p) { return density(22.0, p, 0.6); }, 1.0e5), 1e-6));
  CHECK(d.derivative[2] == relative(difference([&](double h) { return density(22.0, 1.0e5, h); }, 0.6), 1e-6));
  // A perfect gas: d ln(rho)/d ln(p) = 1, d ln(rho)/d ln(T) = -1.
  const auto dry = dry_air(celsius(Dual<2>::input(15.0, 0)), seed<2>(standard_atmosphere, 1)).density.value();
  CHECK(dry.derivative[0] / dry.value == rounding(-1.0 / 288.15));
  CHECK(dry.derivative[1] / dry.value == rounding(1.0 / 101325.0));
  const auto nu = [](const auto& t) {
    using T = std::remove_cvref_t<decltype(t)>;
    return dry_air<T>(celsius(t), standard_atmosphere).kinematic_viscosity.value();
  };
  CHECK(nu(Dual<1>::input(15.0, 0)).derivative[0] == relative(difference(nu, 15.0), 1e-6));
}

TEST_CASE("air widens to another scalar with its flags") {
  const Air<> hot =
      moist_air({.temperature = celsius(35.0), .pressure = standard_atmosphere, .relative_humidity = 0.4});
  const Air<Dual<1>> wide = hot;
  CHECK(wide.density.value().value == hot.density.value());
  CHECK(wide.flags == hot.flags);
  CHECK(wide.method == hot.method);
}

TEST_CASE("the tabulated density of the standard atmosphere is the gas law to its four digits") {
  CHECK(in(standard_air_density, kilogram_per_cubic_metre) ==
        absolute(in(standard_air().density, kilogram_per_cubic_metre), 5e-5));
}
