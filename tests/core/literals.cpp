#include "hardchine/literals.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "csv.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/text.hpp"
#include "near.hpp"

using namespace hardchine;
using namespace hardchine::literals;

namespace {

// Every suffix: one as a whole number and as a decimal, the named unit, its row in the table of GNU units.
struct Row {
  std::string_view suffix;
  double whole, decimal, unit;
  std::string_view gnu_row;
};

template <class U>
constexpr Row row(std::string_view suffix, const Quantity<U>& whole, const Quantity<U>& decimal,
                  const Quantity<U>& unit, std::string_view gnu_row = "") {
  return {suffix, whole.value(), decimal.value(), unit.value(), gnu_row};
}

constexpr auto rows = std::to_array<Row>({
    row("m", 1_m, 1.0_m, metre),
    row("mm", 1_mm, 1.0_mm, millimetre),
    row("cm", 1_cm, 1.0_cm, centimetre),
    row("km", 1_km, 1.0_km, kilometre),
    row("ft", 1_ft, 1.0_ft, foot, "foot"),
    row("in", 1_in, 1.0_in, inch, "inch"),
    row("nmi", 1_nmi, 1.0_nmi, nautical_mile, "nautical_mile"),
    row("mi", 1_mi, 1.0_mi, statute_mile, "statute_mile"),
    row("m2", 1_m2, 1.0_m2, square_metre),
    row("ft2", 1_ft2, 1.0_ft2, square_foot),
    row("L", 1_L, 1.0_L, litre, "litre"),
    row("US_gal", 1_US_gal, 1.0_US_gal, us_gallon, "us_gallon"),
    row("imp_gal", 1_imp_gal, 1.0_imp_gal, imperial_gallon, "imperial_gallon"),
    row("m3", 1_m3, 1.0_m3, cubic_metre),
    row("s", 1_s, 1.0_s, second),
    row("min", 1_min, 1.0_min, minute),
    row("h", 1_h, 1.0_h, hour),
    row("kn", 1_kn, 1.0_kn, knot, "knot"),
    row("mph", 1_mph, 1.0_mph, mph, "mph"),
    row("km_h", 1_km_h, 1.0_km_h, kilometre_per_hour, "kilometre_per_hour"),
    row("m_s", 1_m_s, 1.0_m_s, metre_per_second),
    row("ft_s", 1_ft_s, 1.0_ft_s, foot_per_second, "foot_per_second"),
    row("kg", 1_kg, 1.0_kg, kilogram),
    row("lb", 1_lb, 1.0_lb, pound_mass, "pound_mass"),
    row("t", 1_t, 1.0_t, tonne, "tonne"),
    row("g", 1_g, 1.0_g, gram),
    row("long_ton", 1_long_ton, 1.0_long_ton, long_ton, "long_ton"),
    row("short_ton", 1_short_ton, 1.0_short_ton, short_ton, "short_ton"),
    row("N", 1_N, 1.0_N, newton),
    row("kN", 1_kN, 1.0_kN, kilonewton, "kilonewton"),
    row("lbf", 1_lbf, 1.0_lbf, pound_force, "pound_force"),
    row("N_m", 1_N_m, 1.0_N_m, newton_metre),
    row("kN_m", 1_kN_m, 1.0_kN_m, kilonewton_metre),
    row("kW", 1_kW, 1.0_kW, kilowatt, "kilowatt"),
    row("hp", 1_hp, 1.0_hp, horsepower, "mechanical_horsepower"),
    row("PS", 1_PS, 1.0_PS, metric_horsepower, "metric_horsepower"),
    row("W", 1_W, 1.0_W, watt),
    row("hPa", 1_hPa, 1.0_hPa, hectopascal),
    row("kPa", 1_kPa, 1.0_kPa, kilopascal),
    row("Pa", 1_Pa, 1.0_Pa, pascal),
    row("bar", 1_bar, 1.0_bar, bar, "bar"),
    row("inHg", 1_inHg, 1.0_inHg, inch_of_mercury),  // the conventional one; GNU units' is 1e-7 off
    row("psi", 1_psi, 1.0_psi, pound_per_square_inch, "psi"),
    row("deg", 1_deg, 1.0_deg, degree, "degree"),
    row("rad", 1_rad, 1.0_rad, radian),
    row("rpm", 1_rpm, 1.0_rpm, rpm, "rpm"),
    row("rev_s", 1_rev_s, 1.0_rev_s, revolution_per_second),
    row("kg_m3", 1_kg_m3, 1.0_kg_m3, kilogram_per_cubic_metre),
    row("kg_L", 1_kg_L, 1.0_kg_L, kilogram_per_litre),
    row("lb_ft3", 1_lb_ft3, 1.0_lb_ft3, pound_per_cubic_foot, "pound_per_cubic_foot"),
    row("lb_US_gal", 1_lb_US_gal, 1.0_lb_US_gal, pound_per_us_gallon),
    row("m2_s", 1_m2_s, 1.0_m2_s, square_metre_per_second),
    row("ft2_s", 1_ft2_s, 1.0_ft2_s, square_foot_per_second, "square_foot_per_second"),
    row("L_h", 1_L_h, 1.0_L_h, litre_per_hour, "litre_per_hour"),
    row("US_gal_h", 1_US_gal_h, 1.0_US_gal_h, us_gallon_per_hour, "us_gallon_per_hour"),
    row("imp_gal_h", 1_imp_gal_h, 1.0_imp_gal_h, imperial_gallon_per_hour, "imperial_gallon_per_hour"),
    row("g_kWh", 1_g_kWh, 1.0_g_kWh, gram_per_kilowatt_hour, "gram_per_kilowatt_hour"),
    row("lb_hp_h", 1_lb_hp_h, 1.0_lb_hp_h, pound_per_horsepower_hour, "pound_per_horsepower_hour"),
    row("K", 1_K, 1.0_K, kelvin),
});

const Row* find(std::string_view suffix) {
  const auto it = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.suffix == suffix; });
  return it == rows.end() ? nullptr : &*it;
}

// Every symbol that text.hpp reads for a dimension has its literal, with the same value.
template <class U>
int check_symbols_of_text() {
  int checked = 0;
  for (const UnitSymbol& s : UnitSymbols<U>::list) {
    std::string suffix;
    for (const char c : s.symbol)
      if (c != '(' && c != ')') suffix += c == ' ' || c == '/' ? '_' : c;
    if (suffix.find('^') != std::string::npos || suffix == "l" || suffix == "l_h") continue;  // other spellings
    CAPTURE(suffix);
    const Row* r = find(suffix);
    CHECK(r != nullptr);
    if (r != nullptr) CHECK(r->whole == s.factor);
    ++checked;
  }
  return checked;
}

}  // namespace

TEST_CASE("a literal is the number times the unit, to the last bit") {
  static_assert(40_kn == 40.0 * knot);
  static_assert(40_kn == 40.0_kn);
  static_assert(24.5_in == 24.5 * inch);
  static_assert(3'200_rpm == 3200.0 * rpm);
  static_assert(-3_deg == -3.0 * degree);
  static_assert(1e3_m == 1_km);
  static_assert(0x10_ft == 16_ft);
  for (const Row& r : rows) {
    CAPTURE(r.suffix);
    CHECK(r.whole == r.unit);
    CHECK(r.decimal == r.unit);
  }
  // Decimals of everyday use.
  CHECK(27.4_kn == 27.4 * knot);
  CHECK(10.5_t == 10.5 * tonne);
  CHECK(0.842_kg_L == 0.842 * kilogram_per_litre);
  CHECK(137.3_L_h == 137.3 * litre_per_hour);
  CHECK(330_hp == 330.0 * horsepower);
}

TEST_CASE("a decimal that rounds twice is one unit in the last place off, as the header says") {
  // 1 + 2^-53 + 2^-66, just above halfway between 1 and the next double: rounded to the 64 bits of long double it is
  // halfway exactly, and the second rounding goes to the even neighbour below.
  constexpr double direct = 1.00000000000000011103657;
  CHECK(direct == 1.0 + 0x1p-52);
  const double twice = in(1.00000000000000011103657_m, metre);
  if constexpr (std::numeric_limits<long double>::digits == 64) CHECK(twice == 1.0);
  CHECK(twice == relative(direct, 0x1p-52));
}

TEST_CASE("literals against GNU units") {
  // tests/references/units.csv. Tolerance: the table is rounded in its last digit, ours in the product, 2 ulp.
  const std::vector<CsvRow> table = read_csv("references/units.csv");
  int checked = 0;
  for (const Row& r : rows) {
    if (r.gnu_row.empty()) continue;
    CAPTURE(r.suffix);
    const auto entry =
        std::find_if(table.begin(), table.end(), [&](const CsvRow& c) { return c.at("name") == r.gnu_row; });
    REQUIRE(entry != table.end());
    CHECK(r.whole == relative(number(*entry, "bare_value"), 4.5e-16));
    ++checked;
  }
  CHECK(checked == 31);
}

TEST_CASE("a suffix is the symbol that text reads") {
  const int checked =
      check_symbols_of_text<si::length>() + check_symbols_of_text<si::area>() + check_symbols_of_text<si::volume>() +
      check_symbols_of_text<si::time>() + check_symbols_of_text<si::velocity>() + check_symbols_of_text<si::mass>() +
      check_symbols_of_text<si::force>() + check_symbols_of_text<si::power>() + check_symbols_of_text<si::pressure>() +
      check_symbols_of_text<si::plane_angle>() + check_symbols_of_text<si::frequency>() +
      check_symbols_of_text<si::mass_density>() + check_symbols_of_text<si::kinematic_viscosity>() +
      check_symbols_of_text<si_units::VolumeFlow>() + check_symbols_of_text<si_units::SpecificConsumption>();
  CHECK(checked == 56);  // all rows but newton metre, kilonewton metre and kelvin
}

TEST_CASE("no suffix of the header is left out of this test") {
  std::ifstream file(HARDCHINE_SOURCE "/include/hardchine/literals.hpp");
  REQUIRE(file);
  std::stringstream text;
  text << file.rdbuf();
  const std::string header = text.str();
  const std::regex op(R"re(operator""_(\w+)\((long double|unsigned long long) x\))re");
  std::multiset<std::string> declared;
  for (std::sregex_iterator it(header.begin(), header.end(), op), end; it != end; ++it) declared.insert((*it)[1]);
  std::set<std::string> suffixes(declared.begin(), declared.end());
  CHECK(suffixes.size() == rows.size() + 2);  // and the two temperature scales
  for (const std::string& suffix : suffixes) {
    CAPTURE(suffix);
    CHECK(declared.count(suffix) == 2);  // whole and decimal
    if (suffix != "degC" && suffix != "degF") CHECK(find(suffix) != nullptr);
  }
}

TEST_CASE("temperatures are absolute") {
  CHECK(15_degC == celsius(15.0));
  CHECK(15.0_degC == celsius(15.0));
  CHECK(59_degF == fahrenheit(59.0));
  CHECK(59.0_degF == fahrenheit(59.0));
  CHECK(288.15_K == celsius(15.0));
  // 59 F is 15 C (both scales by definition); one rounding in the division.
  CHECK(in(59_degF, kelvin) == relative(288.15, 2.3e-16));
  // A minus sign stands outside the literal; the door refuses what comes of it.
  CHECK(in(-1_degC, kelvin) == -274.15);
  CHECK_THROWS_AS(sea_water(-1_degC), BadInput);
  CHECK_NOTHROW(sea_water(celsius(-1.0)));
}

TEST_CASE("literals meet other scalars") {
  const Speed<Dual<1>> v = widen<Dual<1>>(40_kn);
  CHECK(v.value().value == (40.0 * knot).value());
  CHECK(seed<1>(40_kn, 0).value().derivative[0] == 1.0);
}
