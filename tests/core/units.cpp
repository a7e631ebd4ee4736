#include "hardchine/units.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <fstream>
#include <map>
#include <random>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "archetype.hpp"
#include "csv.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

// Every unit of units.hpp. `gnu_row` is its row of tests/references/units.csv ("" where there is none); `exact` is its
// definition as a quotient in long double, from the exact metre, kilogram and second: NIST SP 811 appendix B
// (nist_sp811, recalled) and NIST Handbook 44 appendix C (nist_hb44, recalled).
struct Row {
  std::string_view name;
  double value;
  std::string_view gnu_row;
  long double exact;
};

constexpr long double pi = std::numbers::pi_v<long double>;
constexpr long double ft = 0.3048L, lb = 0.45359237L, g0 = 9.80665L, gal = 231.0L * 0.0254L * 0.0254L * 0.0254L;
constexpr long double imp_gal = 0.00454609L, lbf = lb * g0, hour_s = 3600.0L, mile = 5280.0L * ft, nmi = 1852.0L;

template <class Visit>
void for_each_unit(Visit&& visit) {
  visit("metre", metre, "", 1.0L);
  visit("millimetre", millimetre, "", 1.0L / 1000.0L);
  visit("centimetre", centimetre, "", 1.0L / 100.0L);
  visit("kilometre", kilometre, "", 1000.0L);
  visit("foot", foot, "foot", ft);
  visit("inch", inch, "inch", ft / 12.0L);
  visit("statute_mile", statute_mile, "statute_mile", mile);
  visit("nautical_mile", nautical_mile, "nautical_mile", nmi);
  visit("square_metre", square_metre, "", 1.0L);
  visit("square_foot", square_foot, "", ft * ft);
  visit("cubic_metre", cubic_metre, "", 1.0L);
  visit("litre", litre, "litre", 1.0L / 1000.0L);
  visit("us_gallon", us_gallon, "us_gallon", gal);
  visit("imperial_gallon", imperial_gallon, "imperial_gallon", imp_gal);
  visit("second", second, "", 1.0L);
  visit("minute", minute, "", 60.0L);
  visit("hour", hour, "", hour_s);
  visit("revolution_per_second", revolution_per_second, "", 1.0L);
  visit("rpm", rpm, "rpm", 1.0L / 60.0L);
  visit("metre_per_second", metre_per_second, "", 1.0L);
  visit("knot", knot, "knot", nmi / hour_s);
  visit("mph", mph, "mph", mile / hour_s);
  visit("kilometre_per_hour", kilometre_per_hour, "kilometre_per_hour", 1000.0L / hour_s);
  visit("foot_per_second", foot_per_second, "foot_per_second", ft);
  visit("metre_per_second_squared", metre_per_second_squared, "", 1.0L);
  visit("foot_per_second_squared", foot_per_second_squared, "", ft);
  visit("standard_gravity", standard_gravity, "standard_gravity", g0);
  visit("kilogram", kilogram, "", 1.0L);
  visit("gram", gram, "", 1.0L / 1000.0L);
  visit("tonne", tonne, "tonne", 1000.0L);
  visit("pound_mass", pound_mass, "pound_mass", lb);
  visit("short_ton", short_ton, "short_ton", 2000.0L * lb);
  visit("long_ton", long_ton, "long_ton", 2240.0L * lb);
  visit("slug", slug, "slug", lbf / ft);
  visit("newton", newton, "", 1.0L);
  visit("kilonewton", kilonewton, "kilonewton", 1000.0L);
  visit("pound_force", pound_force, "pound_force", lbf);
  visit("newton_metre", newton_metre, "", 1.0L);
  visit("kilonewton_metre", kilonewton_metre, "", 1000.0L);
  visit("foot_pound", foot_pound, "", ft * lbf);
  visit("million_btu", million_btu, "", 1e6L * lb * 4186.8L / 1.8L);
  visit("watt", watt, "", 1.0L);
  visit("kilowatt", kilowatt, "kilowatt", 1000.0L);
  visit("horsepower", horsepower, "mechanical_horsepower", 550.0L * ft * lbf);
  visit("metric_horsepower", metric_horsepower, "metric_horsepower", 75.0L * g0);
  visit("pascal", pascal, "", 1.0L);
  visit("kilopascal", kilopascal, "", 1000.0L);
  visit("hectopascal", hectopascal, "", 100.0L);
  visit("bar", bar, "bar", 100000.0L);
  visit("standard_atmosphere", standard_atmosphere, "atm", 101325.0L);
  visit("pound_per_square_inch", pound_per_square_inch, "psi", lbf * 144.0L / (ft * ft));
  visit("inch_of_mercury", inch_of_mercury, "inch_of_mercury", 3386.389L);
  visit("radian", radian, "", 1.0L);
  visit("degree", degree, "degree", pi / 180.0L);
  visit("kelvin", kelvin, "", 1.0L);
  visit("kilogram_per_cubic_metre", kilogram_per_cubic_metre, "", 1.0L);
  visit("kilogram_per_litre", kilogram_per_litre, "", 1000.0L);
  visit("pound_per_cubic_foot", pound_per_cubic_foot, "pound_per_cubic_foot", lb / (ft * ft * ft));
  visit("pound_per_us_gallon", pound_per_us_gallon, "", lb / gal);
  visit("slug_per_cubic_foot", slug_per_cubic_foot, "slug_per_cubic_foot", lbf / (ft * ft * ft * ft));
  visit("square_metre_per_second", square_metre_per_second, "", 1.0L);
  visit("square_foot_per_second", square_foot_per_second, "square_foot_per_second", ft * ft);
  visit("pascal_second", pascal_second, "", 1.0L);
  visit("litre_per_hour", litre_per_hour, "litre_per_hour", 1.0L / 3600000.0L);
  visit("us_gallon_per_hour", us_gallon_per_hour, "us_gallon_per_hour", gal / hour_s);
  visit("imperial_gallon_per_hour", imperial_gallon_per_hour, "imperial_gallon_per_hour", imp_gal / hour_s);
  visit("kilogram_per_second", kilogram_per_second, "", 1.0L);
  visit("kilogram_per_hour", kilogram_per_hour, "", 1.0L / hour_s);
  visit("gram_per_kilowatt_hour", gram_per_kilowatt_hour, "gram_per_kilowatt_hour", 1.0L / 3.6e9L);
  visit("pound_per_horsepower_hour", pound_per_horsepower_hour, "pound_per_horsepower_hour",
        1.0L / (550.0L * ft * g0 * hour_s));
  visit("nautical_mile_per_us_gallon", nautical_mile_per_us_gallon, "nautical_mile_per_us_gallon", nmi / gal);
  visit("statute_mile_per_us_gallon", statute_mile_per_us_gallon, "statute_mile_per_us_gallon", mile / gal);
  visit("nautical_mile_per_litre", nautical_mile_per_litre, "", 1852000.0L);
  visit("kilometre_per_litre", kilometre_per_litre, "", 1000000.0L);
  visit("litre_per_nautical_mile", litre_per_nautical_mile, "litre_per_nautical_mile", 1.0L / 1852000.0L);
  visit("litre_per_kilometre", litre_per_kilometre, "", 1.0L / 1000000.0L);
  visit("celsius_zero", celsius_zero, "", 273.15L);
}

std::vector<Row> all_units() {
  std::vector<Row> rows;
  for_each_unit([&](std::string_view name, const auto& unit, std::string_view gnu_row, long double exact) {
    rows.push_back({name, unit.value(), gnu_row, exact});
  });
  return rows;
}

// The table made by GNU units: name -> SI value.
std::map<std::string, double> gnu_table() {
  std::map<std::string, double> table;
  for (const CsvRow& row : read_csv("references/units.csv")) table[row.at("name")] = number(row, "bare_value");
  return table;
}

// The names of the constants that units.hpp declares.
std::vector<std::string> declared_units() {
  std::ifstream file(HARDCHINE_SOURCE "/include/hardchine/units.hpp");
  REQUIRE(file);
  std::vector<std::string> names;
  const std::string_view start = "inline constexpr ";
  for (std::string line; std::getline(file, line);) {
    const auto type_end = line.find("<> ");
    const auto equals = line.find(" =");
    if (!line.starts_with(start) || type_end == std::string::npos || equals == std::string::npos) continue;
    names.push_back(line.substr(type_end + 3, equals - type_end - 3));
  }
  return names;
}

template <class A, class B>
concept addable = requires(const A& a, const B& b) {
  a + b;
};
template <class A, class B>
concept comparable = requires(const A& a, const B& b) {
  a < b;
};
template <class Q, class U>
concept readable_in = requires(const Q& q, const U& u) {
  in(q, u);
};
template <class A, class B>
concept into = std::convertible_to<A, B>;

// What must compile.
static_assert(addable<Speed<>, Speed<>> && comparable<Speed<>, Speed<>> && readable_in<Speed<>, Speed<>>);
static_assert(addable<VolumePerDistance<>, Area<>>, "litres per mile are an area");

// What must not: other dimensions never add, compare, convert or read out.
static_assert(!addable<Speed<>, Mass<>> && !comparable<Speed<>, Mass<>> && !into<Speed<>, Mass<>>);
static_assert(!readable_in<Speed<>, Mass<>> && !readable_in<Length<>, Speed<>>);
static_assert(!addable<Mass<>, Force<>> && !into<Mass<>, Force<>>, "a displacement is a mass, weight a force");
static_assert(!addable<VolumeFlow<>, MassFlow<>> && !into<VolumeFlow<>, MassFlow<>>);
static_assert(!addable<KinematicViscosity<>, DynamicViscosity<>>);
static_assert(!addable<DistancePerVolume<>, VolumePerDistance<>>, "mpg and L/nmi are reciprocal");
// No bare number slips in or out.
static_assert(!addable<Speed<>, double> && !comparable<Speed<>, double>);
static_assert(!into<double, Speed<>> && !into<Speed<>, double>);
static_assert(!into<double, Angle<>> && !into<Angle<>, double> && !addable<Angle<>, double>, "an angle is no number");
static_assert(!into<double, RotationRate<>> && !into<RotationRate<>, double>);
static_assert(!into<double, Temperature<>>, "temperature enters by celsius, fahrenheit or kelvin");
// Revolutions per second are not radians per second, newton metres not newton metres per radian.
using AngularVelocity = Quantity<boost::units::si::angular_velocity>;
using BoostTorque = Quantity<boost::units::si::torque>;
static_assert(!addable<RotationRate<>, AngularVelocity> && !into<RotationRate<>, AngularVelocity>);
static_assert(!into<AngularVelocity, RotationRate<>> && !comparable<RotationRate<>, AngularVelocity>);
static_assert(!addable<Moment<>, BoostTorque> && !into<Moment<>, BoostTorque> && !into<BoostTorque, Moment<>>);
// The scalar never changes by itself either.
static_assert(!into<Speed<Strict>, Speed<>> && !into<Speed<Dual<2>>, Speed<>>);

// Policies.
static_assert(std::same_as<Angle<>, Quantity<boost::units::si::plane_angle>>);
static_assert(std::same_as<RotationRate<>, Quantity<boost::units::si::frequency>>);
static_assert(std::same_as<Moment<>, Quantity<boost::units::si::energy>>);
static_assert(std::same_as<decltype(kilogram * standard_gravity), Force<>>, "weight is mass times standard gravity");
static_assert(std::same_as<decltype(knot * hour), Length<>>);
static_assert(std::same_as<decltype(us_gallon / hour), VolumeFlow<>>);
static_assert(std::same_as<decltype(gram_per_kilowatt_hour * kilowatt), MassFlow<>>);
static_assert(std::same_as<decltype(knot / us_gallon_per_hour), DistancePerVolume<>>);
static_assert(std::same_as<decltype(us_gallon_per_hour / knot), VolumePerDistance<>>);
static_assert(std::same_as<decltype(pascal_second / kilogram_per_cubic_metre), KinematicViscosity<>>);
static_assert(std::same_as<decltype(kilogram * metre), MassMoment<>>);
static_assert(std::same_as<decltype(pound_force * foot_per_second), Power<>>);
static_assert(is_quantity<Speed<>> && is_quantity<Speed<Strict>> && !is_quantity<double> && !is_quantity<Strict>);
// A unit is a constant.
static_assert(in(27.4 * knot, knot) == 27.4 && in(2.0 * metre, metre) == 2.0);

}  // namespace

TEST_CASE("every unit that the header declares is in the table of this test, and none else") {
  std::vector<std::string> declared = declared_units();
  std::vector<std::string> listed;
  for (const Row& row : all_units()) listed.emplace_back(row.name);
  std::sort(declared.begin(), declared.end());
  std::sort(listed.begin(), listed.end());
  CHECK(declared.size() > 70);
  for (const std::string& name : declared) {
    CAPTURE(name);
    CHECK(std::binary_search(listed.begin(), listed.end(), name));
  }
  for (const std::string& name : listed) {
    CAPTURE(name);
    CHECK(std::binary_search(declared.begin(), declared.end(), name));
  }
}

TEST_CASE("units equal the table of GNU units, row by row, with no row left over") {
  // 2e-15: GNU units works in double and multiplies up to six inexact factors, each with half an ulp (1.1e-16).
  std::map<std::string, double> table = gnu_table();
  CHECK(table.size() >= 39);
  for (const Row& row : all_units()) {
    if (row.gnu_row.empty()) continue;
    CAPTURE(row.name);
    const auto found = table.find(std::string(row.gnu_row));
    REQUIRE(found != table.end());
    // NIST SP 811 prints the conventional inch of mercury to seven digits; GNU units multiplies a density of mercury.
    if (row.name == "inch_of_mercury")
      CHECK(row.value == printed(found->second, 3));
    else
      CHECK(row.value == relative(found->second, 2e-15));
    table.erase(found);
  }
  for (const auto& [name, value] : table) FAIL_CHECK("row without a unit: " << name << " = " << value);
}

TEST_CASE("units equal their definitions in long double") {
  // The definition in 64 bits of mantissa, rounded once. 5e-16: at most four roundings of 1.1e-16 in double.
  for (const Row& row : all_units()) {
    CAPTURE(row.name);
    const long double off = static_cast<long double>(row.value) / row.exact - 1.0L;
    CHECK(std::abs(static_cast<double>(off)) <= 5e-16);
  }
}

TEST_CASE("a unit that is a decimal number by definition is the double nearest to it") {
  // NIST SP 811 appendix B, exact values (nist_sp811, recalled); HB 44 appendix C for the gallon (nist_hb44, recalled).
  CHECK(in(foot, metre) == 0.3048);
  CHECK(in(inch, metre) == 0.0254);
  CHECK(in(statute_mile, metre) == 1609.344);
  CHECK(in(nautical_mile, metre) == 1852.0);
  CHECK(in(mph, metre_per_second) == 0.44704);
  CHECK(in(foot_per_second, metre_per_second) == 0.3048);
  CHECK(in(pound_mass, kilogram) == 0.45359237);
  CHECK(in(short_ton, kilogram) == 907.18474);
  CHECK(in(long_ton, kilogram) == 1016.0469088);
  CHECK(in(tonne, kilogram) == 1000.0);
  CHECK(in(us_gallon, cubic_metre) == 0.003785411784);
  CHECK(in(imperial_gallon, cubic_metre) == 0.00454609);
  CHECK(in(litre, cubic_metre) == 0.001);
  CHECK(in(square_foot, square_metre) == 0.09290304);
  CHECK(in(square_foot_per_second, square_metre_per_second) == 0.09290304);
  CHECK(in(metric_horsepower, watt) == 735.49875);
  CHECK(in(standard_gravity, metre_per_second_squared) == 9.80665);
  CHECK(in(standard_atmosphere, pascal) == 101325.0);
  CHECK(in(bar, pascal) == 1e5);
  CHECK(in(hour, second) == 3600.0);
  // 4.4482216152605 N and 745.69987158227022 W have more digits than a double: two roundings.
  CHECK(in(pound_force, newton) == relative(4.4482216152605, 2.3e-16));
  CHECK(in(horsepower, watt) == relative(745.69987158227022, 4.5e-16));
}

TEST_CASE("units agree with the digits that the handbooks print") {
  struct Printed {
    double ours;
    double print;
    int decimals;
  };
  // Seven figures as in NIST SP 811 appendix B.8 (nist_sp811, recalled); half a unit of the last figure.
  const Printed sp811[] = {
      {in(foot_pound, newton_metre), 1.355818, 6},
      {in(horsepower, watt), 745.6999, 4},
      {in(metric_horsepower, watt), 735.4988, 4},
      {in(inch_of_mercury, pascal), 3386.389, 3},
      {in(knot, metre_per_second), 0.5144444, 7},
      {in(kilometre_per_hour, metre_per_second), 0.2777778, 7},
      {in(statute_mile_per_us_gallon, kilometre / cubic_metre), 425.1437, 4},
      {in(pound_per_square_inch, pascal), 6894.757, 3},
      {in(slug, kilogram), 14.59390, 5},
      {in(slug_per_cubic_foot, kilogram_per_cubic_metre), 515.3788, 4},
      {in(pound_per_cubic_foot, kilogram_per_cubic_metre), 16.01846, 5},
      {in(pound_per_us_gallon, kilogram_per_cubic_metre), 119.8264, 4},
      {in(pound_force, newton), 4.448222, 6},
      {1e2 * in(degree, radian), 1.745329, 6},
      {1e3 * in(us_gallon, cubic_metre), 3.785412, 6},
      {in(short_ton, kilogram), 907.1847, 4},
      {in(long_ton, kilogram), 1016.047, 3},
      {1e7 * in(pound_per_horsepower_hour, kilogram / newton_metre), 1.689659, 6},
  };
  for (const Printed& row : sp811) CHECK(row.ours == printed(row.print, row.decimals));
  // More figures, recalled and recomputed independently of this library.
  const Printed recomputed[] = {
      {in(knot, foot_per_second), 1.687809857, 9},
      {in(knot, mph), 1.150779448, 9},
      {in(slug, kilogram), 14.59390294, 8},
      {in(slug_per_cubic_foot, kilogram_per_cubic_metre), 515.3788184, 7},
      {in(pound_per_cubic_foot, kilogram_per_cubic_metre), 16.01846337, 8},
      {in(pound_per_square_inch, pascal), 6894.757293168, 9},
      {1e6 * in(us_gallon_per_hour, cubic_metre / second), 1.0515032733, 10},
      {in(pound_per_horsepower_hour, gram_per_kilowatt_hour), 608.2773878, 7},
      {in(imperial_gallon, us_gallon), 1.20095, 5},
      {in(horsepower, metric_horsepower), 1.014, 3},
  };
  for (const Printed& row : recomputed) CHECK(row.ours == printed(row.print, row.decimals));
  // A US gallon is 231 cubic inches, a mile 5280 feet, a horsepower 550 ft lbf/s (nist_hb44, recalled).
  CHECK(in(us_gallon, inch * inch * inch) == relative(231.0, 5e-16));
  CHECK(in(statute_mile, foot) == relative(5280.0, 5e-16));
  CHECK(in(horsepower, foot_pound / second) == relative(550.0, 5e-16));
  CHECK(in(rpm, revolution_per_second) * 60.0 == 1.0);
  CHECK(in(180.0 * degree, radian) == relative(std::numbers::pi, 3e-16));
}

TEST_CASE("in(x * u, u) is x to one unit in the last place, for every unit") {
  std::mt19937_64 random(20251125);
  std::uniform_real_distribution<double> mantissa(1.0, 2.0);
  std::uniform_int_distribution<int> exponent(-40, 40), sign(0, 1);
  for_each_unit([&](std::string_view name, const auto& unit, std::string_view, long double) {
    CAPTURE(name);
    double worst_low = 0.0, worst_high = 0.0;
    int wrong = 0;
    for (int i = 0; i < 2000; ++i) {
      const double x = (sign(random) ? 1.0 : -1.0) * std::ldexp(mantissa(random), exponent(random));
      const double back = in(x * unit, unit);
      if (back < std::nextafter(x, -INFINITY) || back > std::nextafter(x, INFINITY)) {
        ++wrong;
        worst_low = x;
        worst_high = back;
      }
    }
    CAPTURE(worst_low);
    CAPTURE(worst_high);
    CHECK(wrong == 0);
  });
}

TEST_CASE("temperatures enter and leave") {
  // 15 C = 59 F = 288.15 K; the fixed points of both scales.
  CHECK(in(celsius(15.0), kelvin) == 288.15);
  CHECK(in(fahrenheit(59.0), kelvin) == relative(288.15, 4e-16));
  CHECK(in(fahrenheit(32.0), kelvin) == relative(273.15, 4e-16));
  CHECK(in(fahrenheit(212.0), kelvin) == relative(373.15, 4e-16));
  CHECK(in(celsius(15), kelvin) == 288.15);  // whole numbers are no whole kelvins
  CHECK(in(fahrenheit(59), kelvin) == relative(288.15, 4e-16));
  CHECK(in(fahrenheit(-459.67), kelvin) == 0.0);
  CHECK(in(celsius(-273.15), kelvin) == 0.0);
  CHECK(in(fahrenheit(-40.0), kelvin) == relative(in(celsius(-40.0), kelvin), 4e-16));
  CHECK(in_celsius(celsius(0.0)) == 0.0);
  // Out again: the subtraction leaves the rounding of the sum, half an ulp of 288 (2.8e-14).
  for (const double t : {-2.0, 0.01, 4.0, 15.0, 25.3, 61.0}) CHECK(in_celsius(celsius(t)) == absolute(t, 2.9e-14));
  // A difference of temperature has no offset.
  CHECK(in(celsius(25.0) - celsius(15.0), kelvin) == 10.0);
  CHECK(in(fahrenheit(77.0) - fahrenheit(59.0), kelvin) == absolute(10.0, 1.2e-13));
}

TEST_CASE("policies in numbers") {
  // P = 2 pi n Q: 1000 N m at 3000 rpm is 314.159 kW.
  const Power<> power = 2.0 * std::numbers::pi * (3000.0 * rpm) * (1000.0 * newton_metre);
  CHECK(in(power, kilowatt) == relative(100.0 * std::numbers::pi, 1e-15));
  // 5252 rpm is where horsepower and pound-feet cross, 33000/(2 pi) (common practice, no source).
  const Power<> crossing = 2.0 * std::numbers::pi * (33000.0 / (2.0 * std::numbers::pi) * rpm) * foot_pound;
  CHECK(in(crossing, horsepower) == relative(1.0, 1e-15));
  // n D is a speed and J = V/(n D) a plain number.
  const double advance = (10.0 * metre_per_second) / (1200.0 * rpm * (0.5 * metre));
  CHECK(advance == relative(1.0, 4e-16));
  // A pound of displacement weighs a pound-force; a slug weighs g in pounds-force.
  CHECK(in(pound_mass * standard_gravity, pound_force) == relative(1.0, 2.3e-16));
  CHECK(in(slug * foot_per_second_squared, pound_force) == relative(1.0, 4.5e-16));
  // Fuel: mpg and volume over distance are reciprocal.
  const DistancePerVolume<> economy = 27.4 * knot / (310.0 * litre_per_hour);
  CHECK(in(economy, nautical_mile_per_litre) == relative(27.4 / 310.0, 1e-15));
  CHECK(in(VolumePerDistance<>(1.0 / economy), litre_per_nautical_mile) == relative(310.0 / 27.4, 1e-15));
  CHECK(in(knot * hour, nautical_mile) == relative(1.0, 2.3e-16));
  CHECK(percent * 80.0 == 0.8);
}

TEST_CASE("in and the temperatures in other scalars") {
  const Speed<Strict> strict = Strict(27.4) * knot;
  CHECK(in(strict, knot).reveal() == 27.4);
  CHECK(in(celsius(Strict(15.0)), kelvin).reveal() == 288.15);
  CHECK(in(fahrenheit(Strict(59.0)), kelvin).reveal() == relative(288.15, 4e-16));
  CHECK(in_celsius(celsius(Strict(15.0))).reveal() == absolute(15.0, 2.9e-14));
  const Dual<1> t = in(fahrenheit(Dual<1>::input(59.0, 0)), kelvin);
  CHECK(t.value == relative(288.15, 4e-16));
  CHECK(t.derivative[0] == relative(5.0 / 9.0, 2.3e-16));
}
