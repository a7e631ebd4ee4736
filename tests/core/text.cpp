#include "hardchine/text.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdlib>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "near.hpp"

using namespace hardchine;

namespace {

using Meanings = std::map<std::string_view, double>;

// The message of the refusal; empty if the text was taken.
template <class Q>
std::string refusal(std::string_view text) {
  try {
    read_quantity<Q>(text, "some field");
    return "";
  } catch (const BadInput& error) {
    CHECK(error.function() == "read_quantity");
    CHECK(error.field() == "some field");
    return error.what();
  }
}

// Well-formed UTF-8, as a terminal wants it.
bool well_formed(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const std::size_t length = byte < 0x80 ? 1 : byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : byte >= 0xc0 ? 2 : 0;
    if (length == 0 || i + length > text.size()) return false;
    for (std::size_t k = 1; k < length; ++k)
      if ((static_cast<unsigned char>(text[i + k]) & 0xc0) != 0x80) return false;
    i += length;
  }
  return true;
}

// Every symbol of a dimension: what it means, and out and in again.
template <class U>
void check_symbols(const Meanings& meanings) {
  using Q = Quantity<U>;
  const auto& list = UnitSymbols<U>::list;
  CAPTURE(UnitSymbols<U>::quantity);
  CHECK(list.size() == meanings.size());
  const std::string every = symbol_list(list);
  for (const UnitSymbol& s : list) {
    CAPTURE(s.symbol);
    REQUIRE(meanings.count(s.symbol) == 1);
    CHECK(s.factor == meanings.at(s.symbol));
    CHECK(every.find(s.symbol) != std::string::npos);
    for (const char* number : {"1", "27.40", "-3.5", "0.001", "12345.678", "1.5e3", "0"}) {
      CAPTURE(number);
      const double x = std::stod(number);
      for (const char* space : {" ", "", "  ", "\t"}) {
        const auto read = read_quantity<Q>(number + (space + std::string(s.symbol)), "x");
        CHECK(read.value.value() == x * s.factor);
      }
    }
    // Printed and read again: the number printed is the number read.
    for (const double x : {1.0, 27.4, -3.5, 0.25, 12345.5}) {
      const std::string text = to_text(Q::from_value(x * s.factor), Q::from_value(s.factor), s.symbol, 2);
      CHECK(text == fixed(x, 2) + " " + std::string(s.symbol));
      CHECK(read_quantity<Q>(text, "x").value.value() == x * s.factor);
      CHECK(read_quantity<Q>(text, "x").last_place.value() == relative(0.01 * s.factor, 3e-16));
    }
  }
  // A bare number is refused with every unit that would do.
  const std::string bare = refusal<Q>("27.4");
  CHECK(bare == "read_quantity: some field is \"27.4\" without a unit; accepted: a number with a unit of " +
                    std::string(UnitSymbols<U>::quantity) + ": " + every);
  CHECK(refusal<Q>("27.4 furlong").find(every) != std::string::npos);
  CHECK_FALSE(refusal<Q>("").empty());
  CHECK_FALSE(refusal<Q>(std::string(list[0].symbol)).empty());
}

}  // namespace

TEST_CASE("symbols mean what they say, and round trip, in every dimension") {
  check_symbols<si::length>({{"m", 1.0},
                             {"mm", 0.001},
                             {"cm", 0.01},
                             {"km", 1000.0},
                             {"ft", foot.value()},
                             {"in", inch.value()},
                             {"nmi", nautical_mile.value()},
                             {"mi", statute_mile.value()}});
  check_symbols<si::area>({{"m2", 1.0}, {"m^2", 1.0}, {"ft2", square_foot.value()}, {"ft^2", square_foot.value()}});
  check_symbols<si::volume>({{"L", 0.001},
                             {"l", 0.001},
                             {"US gal", us_gallon.value()},
                             {"imp gal", imperial_gallon.value()},
                             {"m3", 1.0},
                             {"m^3", 1.0}});
  check_symbols<si::time>({{"s", 1.0}, {"min", 60.0}, {"h", 3600.0}});
  check_symbols<si::velocity>({{"kn", knot.value()},
                               {"mph", mph.value()},
                               {"km/h", kilometre_per_hour.value()},
                               {"m/s", 1.0},
                               {"ft/s", foot_per_second.value()}});
  check_symbols<si::mass>({{"kg", 1.0},
                           {"lb", pound_mass.value()},
                           {"t", 1000.0},
                           {"g", 0.001},
                           {"long ton", long_ton.value()},
                           {"short ton", short_ton.value()}});
  check_symbols<si::force>({{"N", 1.0}, {"kN", 1000.0}, {"lbf", pound_force.value()}});
  check_symbols<si::power>({{"kW", 1000.0}, {"hp", horsepower.value()}, {"PS", metric_horsepower.value()}, {"W", 1.0}});
  check_symbols<si::pressure>({{"hPa", 100.0},
                               {"kPa", 1000.0},
                               {"Pa", 1.0},
                               {"bar", 1e5},
                               {"inHg", inch_of_mercury.value()},
                               {"psi", pound_per_square_inch.value()}});
  check_symbols<si::plane_angle>({{"deg", degree.value()}, {"rad", 1.0}});
  check_symbols<si::frequency>({{"rpm", rpm.value()}, {"rev/s", 1.0}});
  check_symbols<si::mass_density>({{"kg/m3", 1.0},
                                   {"kg/m^3", 1.0},
                                   {"kg/L", 1000.0},
                                   {"lb/ft3", pound_per_cubic_foot.value()},
                                   {"lb/US gal", pound_per_us_gallon.value()}});
  check_symbols<si::kinematic_viscosity>({{"m2/s", 1.0},
                                          {"m^2/s", 1.0},
                                          {"ft2/s", square_foot_per_second.value()},
                                          {"ft^2/s", square_foot_per_second.value()}});
  check_symbols<si_units::VolumeFlow>({{"L/h", litre_per_hour.value()},
                                       {"l/h", litre_per_hour.value()},
                                       {"US gal/h", us_gallon_per_hour.value()},
                                       {"imp gal/h", imperial_gallon_per_hour.value()}});
  check_symbols<si_units::SpecificConsumption>(
      {{"g/kWh", gram_per_kilowatt_hour.value()}, {"lb/(hp h)", pound_per_horsepower_hour.value()}});
  check_symbols<si::energy>({{"N m", 1.0}, {"kN m", 1000.0}, {"ft lbf", foot_pound.value()}});
  check_symbols<si::acceleration>(
      {{"g", standard_gravity.value()}, {"m/s2", 1.0}, {"ft/s2", foot_per_second_squared.value()}});
}

TEST_CASE("a unit of another dimension, another spelling or an ambiguous name is refused") {
  CHECK(refusal<Speed<>>("27.4 kg").find("\"27.4 kg\"; accepted: a number with a unit of speed: kn, mph, km/h, m/s, "
                                         "ft/s") != std::string::npos);
  CHECK_FALSE(refusal<Mass<>>("8450 lbf").empty());   // a displacement is a mass
  CHECK_FALSE(refusal<Force<>>("8450 lb").empty());   // a drag is a force
  CHECK_FALSE(refusal<Volume<>>("310 gal").empty());  // US or imperial
  CHECK_FALSE(refusal<Mass<>>("3 ton").empty());      // long, short or metric
  CHECK_FALSE(refusal<Length<>>("3 M").empty());
  for (const char* text : {"27.4 KN", "27.4 Kn", "27.4 knots", "27.4 kt", "27.4 kn.", "27.4 kn kn", "27.4 k n",
                           "27.4 m / s", "27.4 kn 3", "27.4 %"})
    CHECK_FALSE(refusal<Speed<>>(text).empty());
  CHECK_FALSE(refusal<Volume<>>("310 US  gal").empty());
}

TEST_CASE("numbers: signs, points, exponents, spaces") {
  const auto metres = [](std::string_view text) { return in(read_quantity<Length<>>(text, "x").value, metre); };
  CHECK(metres("5m") == 5.0);
  CHECK(metres("  5 m  ") == 5.0);
  CHECK(metres("\t5\tm\t") == 5.0);
  CHECK(metres("+5 m") == 5.0);
  CHECK(metres("-5 m") == -5.0);
  CHECK(metres("5. m") == 5.0);
  CHECK(metres(".5 m") == 0.5);
  CHECK(metres("-.5 m") == -0.5);
  CHECK(metres("+.5 m") == 0.5);
  CHECK(metres("005 m") == 5.0);
  CHECK(metres("1.5e3 m") == 1500.0);
  CHECK(metres("1.5E3 m") == 1500.0);
  CHECK(metres("1.5e+3 m") == 1500.0);
  CHECK(metres("1.5e-3 m") == 0.0015);
  CHECK(metres("1e3m") == 1000.0);
  CHECK(metres("1e290 m") == 1e290);
  CHECK(metres("1e-290 m") == 1e-290);
  CHECK(metres("0.1 m") == 0.1);
  CHECK(std::signbit(metres("-0 m")));
}

TEST_CASE("what is no plain decimal number is refused, never guessed") {
  for (const char* text :
       {"", " ", "\t", "m", "-", "+", ".", "-. m", ". m", "e5 m", "+-5 m", "--5 m", "- 5 m", "+ 5 m", "1..5 m",
        "1.2.3 m", "1e m", "1e+ m", "1e- m", "1e", "1e+-5 m", "1e++5 m", "1e5.5 m", "1 e5 m", "1,5 m", "1,500 m",
        "1 500 m", "1_500 m", "1'500 m", "1/2 m", "5 m m", "5\nm", "5 m\n", "(5) m", "~5 m", "m 5",
        // not finite, not decimal
        "nan m", "NaN m", "inf m", "-inf m", "Infinity m", "infinity m", "0x10 m", "0x1p3 m", "1p3 m", "1f m",
        "nan(1) m",
        // exponents beyond any double
        "1e5000 m", "1e-5000 m", "-1e5000 m", "1e291 m", "1e-291 m", "1e301 m", "1e309 m", "1e2147483647 m",
        "1e2147483648 m", "1e-2147483648 m", "1e99999999999999999999 m", "1e-99999999999999999999 m",
        // not ASCII: middle dot, true minus, full-width digits, one half, no-break space
        "1\xc2\xb7"
        "5 m",
        "\xe2\x88\x92"
        "5 m",
        "\xef\xbc\x95 m", "\xc2\xbd m", "5\xc2\xa0m", "5 \xc2\xb5m"}) {
    CAPTURE(text);
    CHECK_FALSE(refusal<Length<>>(text).empty());
  }
}

TEST_CASE("what is read is finite, and so is its last place") {
  // Each is either refused or a finite value with a finite last place above zero.
  const std::string zeros(500, '0'), nines(308, '9');
  for (const std::string& text : std::vector<std::string>{
           nines + " km", "999999e300 km", "1e290 km", "0.0e-2147483648 m", "0e-2147483648 m", "0e-300 m", "0e300 km",
           "0." + zeros + " m", "0." + zeros + "1 m", "1." + zeros + " m", zeros + "1 m", "-" + nines + "9 m"}) {
    CAPTURE(text);
    try {
      const auto read = read_quantity<Length<>>(text, "x");
      CHECK(std::isfinite(read.value.value()));
      CHECK(std::isfinite(read.last_place.value()));
      CHECK(read.last_place.value() > 0.0);
    } catch (const BadInput& error) {
      CHECK(error.field() == "x");
    }
  }
  CHECK(in(read_quantity<Length<>>("1e290 km", "x").value, kilometre) == relative(1e290, 3e-16));
  CHECK(in(read_quantity<Length<>>(zeros + "1 m", "x").value, metre) == 1.0);
}

TEST_CASE("messages show the text, but not all of a long one and no control characters") {
  const std::string accepted = "; accepted: a number with a unit of speed: kn, mph, km/h, m/s, ft/s";
  const std::string start = "read_quantity: some field is ";
  CHECK(refusal<Speed<>>("") == start + "\"\"" + accepted);
  CHECK(refusal<Speed<>>("fast") == start + "\"fast\"" + accepted);
  CHECK(refusal<Speed<>>(std::string(60, 'x')) == start + "\"" + std::string(60, 'x') + "\"" + accepted);
  CHECK(refusal<Speed<>>(std::string(61, 'x')) == start + "\"" + std::string(60, 'x') + "...\"" + accepted);
  CHECK(refusal<Speed<>>(std::string(1000000, '1')).size() < 200);
  CHECK(refusal<Speed<>>("27.4 " + std::string(1000000, 'k')).size() < 200);

  const std::string control = refusal<Speed<>>(std::string_view("2\x1b[31m\0\r\n\x7f kn", 10));
  CHECK(control == start + "\"2?[31m????\"" + accepted);
  for (const char c : control) CHECK(static_cast<unsigned char>(c) >= 32);

  // Cut between characters, not inside one: two, three and four bytes, at every offset.
  for (const char* character : {"\xc3\xa9", "\xe2\x82\xac", "\xf0\x9f\x9a\xa4"})
    for (std::size_t lead = 0; lead < 4; ++lead) {
      std::string text(lead, 'x');
      for (int i = 0; i < 40; ++i) text += character;
      const std::string message = refusal<Speed<>>(text);
      CHECK(well_formed(message));
      CHECK(message.size() < 200);
      CHECK(message.find("...") != std::string::npos);
    }
}

TEST_CASE("the last place written is kept") {
  const auto place = [](std::string_view text) { return read_quantity<Length<>>(text, "x").last_place; };
  // Powers of ten come from pow: 3e-16.
  CHECK(in(read_quantity<Speed<>>("27.40 kn", "x").last_place, knot) == relative(0.01, 3e-16));
  CHECK(in(read_quantity<Speed<>>("27.4 kn", "x").last_place, knot) == relative(0.1, 3e-16));
  CHECK(in(read_quantity<VolumeFlow<>>("310 L/h", "x").last_place, litre_per_hour) == relative(1.0, 3e-16));
  CHECK(in(place("1.5e3 m"), metre) == 100.0);
  CHECK(in(place("1.50e3 m"), metre) == 10.0);
  CHECK(in(place("1500 m"), metre) == 1.0);
  CHECK(in(place("1500. m"), metre) == 1.0);
  CHECK(in(place("1.5e-3 m"), metre) == relative(1e-4, 3e-16));
  CHECK(in(place("-0.250 m"), metre) == relative(1e-3, 3e-16));
  CHECK(in(place(".5 m"), metre) == relative(0.1, 3e-16));
  CHECK(in(place("3.2 ft"), foot) == relative(0.1, 3e-16));
}

TEST_CASE("temperatures") {
  const auto kelvins = [](std::string_view text) { return in(read_quantity<Temperature<>>(text, "t").value, kelvin); };
  const auto place = [](std::string_view text) {
    return in(read_quantity<Temperature<>>(text, "t").last_place, kelvin);
  };
  // 15 C = 59 F = 288.15 K; K = (F + 459.67)/1.8 (nist_sp811, recalled).
  CHECK(kelvins("15 C") == 288.15);
  CHECK(kelvins("15C") == 288.15);
  CHECK(kelvins("15 degC") == 288.15);
  CHECK(kelvins("59 F") == relative(288.15, 4e-16));
  CHECK(kelvins("59 degF") == relative(288.15, 4e-16));
  CHECK(kelvins("288.15 K") == 288.15);
  CHECK(kelvins("-1.8 C") == 273.15 - 1.8);
  CHECK(kelvins(" 1.5e1\tC ") == 288.15);
  CHECK(place("15 C") == 1.0);
  CHECK(place("15.0 C") == relative(0.1, 3e-16));
  CHECK(place("59 F") == relative(5.0 / 9.0, 3e-16));
  CHECK(place("288.15 K") == relative(0.01, 3e-16));
  CHECK(refusal<Temperature<>>("15") ==
        "read_quantity: some field is \"15\"; accepted: a number above absolute zero with a unit of temperature: C, F, "
        "K");
  for (const char* text : {"", "C", "15 c", "15 k", "15 m", "15 deg", "nan C", "inf K", "15,0 C", "15 C C", "1e5000 K"})
    CHECK_FALSE(refusal<Temperature<>>(text).empty());
}

TEST_CASE("ratios are plain or in per cent") {
  CHECK(read_ratio("80 %", "fill").value == 0.8);
  CHECK(read_ratio("80%", "fill").value == 0.8);
  CHECK(read_ratio("0.8", "fill").value == 0.8);
  CHECK(read_ratio(" 100\t% ", "fill").value == 1.0);
  CHECK(read_ratio("-2.5", "fill").value == -2.5);
  CHECK(read_ratio("80 %", "fill").last_place == 0.01);
  CHECK(read_ratio("80.5 %", "fill").last_place == relative(0.001, 3e-16));
  CHECK(read_ratio("0.80", "fill").last_place == relative(0.01, 3e-16));
  for (const char* text : {"", " ", "%", "80 percent", "80 % %", "0,8", "1/2", "nan", "inf", "nan %", "0x1", "80 m",
                           "1e5000", "1e-5000 %", "80\n%"}) {
    CAPTURE(text);
    try {
      read_ratio(text, "fill");
      FAIL_CHECK("not refused");
    } catch (const BadInput& error) {
      CHECK(error.function() == "read_ratio");
      CHECK(error.field() == "fill");
      CHECK(error.accepted() == "a plain number or a number with %");
    }
  }
}

TEST_CASE("fixed writes a fixed number of decimals") {
  CHECK(fixed(27.44, 1) == "27.4");
  CHECK(fixed(27.46, 1) == "27.5");
  CHECK(fixed(0.999, 2) == "1.00");
  CHECK(fixed(9.5, 0) == "10");
  CHECK(fixed(0.0, 3) == "0.000");
  CHECK(fixed(0.375, 2) == "0.38");
  CHECK(fixed(-12.345678, 4) == "-12.3457");
  CHECK(fixed(1e-320, 3) == "0.000");
  // No minus on a zero.
  CHECK(fixed(-0.0, 0) == "0");
  CHECK(fixed(-0.0, 2) == "0.00");
  CHECK(fixed(-0.04, 1) == "0.0");
  CHECK(fixed(-0.4, 0) == "0");
  CHECK(fixed(-4.0, -1) == "0");
  CHECK(fixed(-0.06, 1) == "-0.1");
  // Tens, hundreds ...
  CHECK(fixed(1234.0, -1) == "1230");
  CHECK(fixed(1236.0, -1) == "1240");
  CHECK(fixed(1234.0, -3) == "1000");
  CHECK(fixed(-1650.0, -2) == "-1700");
  CHECK(fixed(1234.0, -4) == "0");
  CHECK(fixed(6000.0, -4) == "10000");
  // What is not finite is no number.
  CHECK(fixed(std::numeric_limits<double>::quiet_NaN(), 2) == "-");
  CHECK(fixed(std::numeric_limits<double>::infinity(), 2) == "-");
  CHECK(fixed(-std::numeric_limits<double>::infinity(), -2) == "-");
}

TEST_CASE("fixed writes every digit of huge numbers and of many decimals") {
  CHECK(fixed(1e22, 2) == "10000000000000000000000.00");
  const double largest = std::numeric_limits<double>::max();
  for (const double x : {1e200, -1e200, largest, -largest, 1.0 / 3.0, 5e-324})
    for (const int decimals : {0, 60, 150, 400, 1100}) {
      CAPTURE(x);
      CAPTURE(decimals);
      const std::string text = fixed(x, decimals);
      const auto point = text.find('.');
      if (decimals == 0) {
        CHECK(point == std::string::npos);
      } else {
        REQUIRE(point != std::string::npos);
        CHECK(text.size() - point - 1 == static_cast<std::size_t>(decimals));
      }
      CHECK(text.find_first_not_of("-0123456789.") == std::string::npos);
      if (decimals >= 400 || std::abs(x) > 1.0) CHECK(std::strtod(text.c_str(), nullptr) == x);
    }
}

TEST_CASE("to_text") {
  CHECK(to_text(27.44 * knot, knot, "kn", 1) == "27.4 kn");
  CHECK(to_text(Length<>::from_value(std::nan("")), metre, "m", 1) == "- m");
  CHECK(to_text(-0.001 * degree, degree, "deg", 2) == "0.00 deg");
  CHECK(to_text(1234.0 * kilogram, kilogram, "kg", -1) == "1230 kg");
}
