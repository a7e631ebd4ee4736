/// @file
/// Opt-in: quantities as text, in and out. "27.4 kn" is a speed; "27.4" alone is refused with the units that a speed
/// accepts. No locale, no stream.
#pragma once

#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <span>
#include <string>
#include <string_view>

#include "hardchine/outcome.hpp"
#include "hardchine/units.hpp"

namespace hardchine {

/// A symbol that a text may carry and the SI value of one such unit.
struct UnitSymbol {
  std::string_view symbol;  ///< as written, for example "kn"
  double factor;            ///< SI value of one
};

/// The symbols of a dimension, the first being the one that messages recommend. "gal" and
/// "ton" alone are refused because they mean different things in different places.
template <class U>
struct UnitSymbols;

namespace si = boost::units::si;

/// Of length.
template <>
struct UnitSymbols<si::length> {
  static constexpr std::string_view quantity = "length";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"m", metre.value()},
                                                          {"mm", millimetre.value()},
                                                          {"cm", centimetre.value()},
                                                          {"km", kilometre.value()},
                                                          {"ft", foot.value()},
                                                          {"in", inch.value()},
                                                          {"nmi", nautical_mile.value()},
                                                          {"mi", statute_mile.value()}});
};
/// Of area.
template <>
struct UnitSymbols<si::area> {
  static constexpr std::string_view quantity = "area";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"m2", square_metre.value()},
                                                          {"m^2", square_metre.value()},
                                                          {"ft2", square_foot.value()},
                                                          {"ft^2", square_foot.value()}});
};
/// Of volume.
template <>
struct UnitSymbols<si::volume> {
  static constexpr std::string_view quantity = "volume";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"L", litre.value()},
                                                          {"l", litre.value()},
                                                          {"US gal", us_gallon.value()},
                                                          {"imp gal", imperial_gallon.value()},
                                                          {"m3", cubic_metre.value()},
                                                          {"m^3", cubic_metre.value()}});
};
/// Of time.
template <>
struct UnitSymbols<si::time> {
  static constexpr std::string_view quantity = "time";  ///< its name in messages
  /// The symbols.
  static constexpr auto list =
      std::to_array<UnitSymbol>({{"s", second.value()}, {"min", minute.value()}, {"h", hour.value()}});
};
/// Of speed.
template <>
struct UnitSymbols<si::velocity> {
  static constexpr std::string_view quantity = "speed";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"kn", knot.value()},
                                                          {"mph", mph.value()},
                                                          {"km/h", kilometre_per_hour.value()},
                                                          {"m/s", metre_per_second.value()},
                                                          {"ft/s", foot_per_second.value()}});
};
/// Of mass.
template <>
struct UnitSymbols<si::mass> {
  static constexpr std::string_view quantity = "mass";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"kg", kilogram.value()},
                                                          {"lb", pound_mass.value()},
                                                          {"t", tonne.value()},
                                                          {"g", gram.value()},
                                                          {"long ton", long_ton.value()},
                                                          {"short ton", short_ton.value()}});
};
/// Of force.
template <>
struct UnitSymbols<si::force> {
  static constexpr std::string_view quantity = "force";  ///< its name in messages
  /// The symbols.
  static constexpr auto list =
      std::to_array<UnitSymbol>({{"N", newton.value()}, {"kN", kilonewton.value()}, {"lbf", pound_force.value()}});
};
/// Of power.
template <>
struct UnitSymbols<si::power> {
  static constexpr std::string_view quantity = "power";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>(
      {{"kW", kilowatt.value()}, {"hp", horsepower.value()}, {"PS", metric_horsepower.value()}, {"W", watt.value()}});
};
/// Of pressure.
template <>
struct UnitSymbols<si::pressure> {
  static constexpr std::string_view quantity = "pressure";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"hPa", hectopascal.value()},
                                                          {"kPa", kilopascal.value()},
                                                          {"Pa", pascal.value()},
                                                          {"bar", bar.value()},
                                                          {"inHg", inch_of_mercury.value()},
                                                          {"psi", pound_per_square_inch.value()}});
};
/// Of angle.
template <>
struct UnitSymbols<si::plane_angle> {
  static constexpr std::string_view quantity = "angle";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"deg", degree.value()}, {"rad", radian.value()}});
};
/// Of rotation rate.
template <>
struct UnitSymbols<si::frequency> {
  static constexpr std::string_view quantity = "rotation rate";  ///< its name in messages
  /// The symbols.
  static constexpr auto list =
      std::to_array<UnitSymbol>({{"rpm", rpm.value()}, {"rev/s", revolution_per_second.value()}});
};
/// Of density.
template <>
struct UnitSymbols<si::mass_density> {
  static constexpr std::string_view quantity = "density";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"kg/m3", kilogram_per_cubic_metre.value()},
                                                          {"kg/m^3", kilogram_per_cubic_metre.value()},
                                                          {"kg/L", kilogram_per_litre.value()},
                                                          {"lb/ft3", pound_per_cubic_foot.value()},
                                                          {"lb/US gal", pound_per_us_gallon.value()}});
};
/// Of kinematic viscosity.
template <>
struct UnitSymbols<si::kinematic_viscosity> {
  static constexpr std::string_view quantity = "kinematic viscosity";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"m2/s", square_metre_per_second.value()},
                                                          {"m^2/s", square_metre_per_second.value()},
                                                          {"ft2/s", square_foot_per_second.value()},
                                                          {"ft^2/s", square_foot_per_second.value()}});
};
/// Of volume flow.
template <>
struct UnitSymbols<si_units::VolumeFlow> {
  static constexpr std::string_view quantity = "volume flow";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"L/h", litre_per_hour.value()},
                                                          {"l/h", litre_per_hour.value()},
                                                          {"US gal/h", us_gallon_per_hour.value()},
                                                          {"imp gal/h", imperial_gallon_per_hour.value()}});
};
/// Of specific consumption.
template <>
struct UnitSymbols<si_units::SpecificConsumption> {
  static constexpr std::string_view quantity = "specific consumption";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>(
      {{"g/kWh", gram_per_kilowatt_hour.value()}, {"lb/(hp h)", pound_per_horsepower_hour.value()}});
};
/// Of torque.
template <>
struct UnitSymbols<si::energy> {
  static constexpr std::string_view quantity = "torque";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>(
      {{"N m", newton_metre.value()}, {"kN m", kilonewton_metre.value()}, {"ft lbf", foot_pound.value()}});
};
/// Of acceleration.
template <>
struct UnitSymbols<si::acceleration> {
  static constexpr std::string_view quantity = "acceleration";  ///< its name in messages
  /// The symbols.
  static constexpr auto list = std::to_array<UnitSymbol>({{"g", standard_gravity.value()},
                                                          {"m/s2", metre_per_second_squared.value()},
                                                          {"ft/s2", foot_per_second_squared.value()}});
};

/// The accepted symbols of a list as "kn, mph, km/h".
/// @param symbols of one dimension
/// @return one line
inline std::string symbol_list(std::span<const UnitSymbol> symbols) {
  std::string text;
  for (const UnitSymbol& s : symbols) text.append(text.empty() ? "" : ", ").append(s.symbol);
  return text;
}

/// A quantity read from text, with the place of its last written digit.
template <class Q>
struct ReadQuantity {
  Q value;       ///< the quantity
  Q last_place;  ///< one unit in the last place written: "27.4 kn" has 0.1 kn
};

namespace detail {

/// A number at the start of a text: value, unit in the last place, and how many characters it took (0 if none).
struct ReadNumber {
  double value;
  double last_place;
  std::size_t length;
};

inline ReadNumber read_number(std::string_view text) {
  std::size_t i = 0;
  if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
  const std::size_t digits_start = i;
  std::size_t digits = 0;
  int decimals = 0;
  bool point = false;
  for (; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= '0' && c <= '9') {
      ++digits;
      if (point) ++decimals;
    } else if (c == '.' && !point) {
      point = true;
    } else {
      break;
    }
  }
  if (digits == 0) return {0.0, 0.0, 0};
  int exponent = 0;
  if (i + 1 < text.size() && (text[i] == 'e' || text[i] == 'E')) {
    std::size_t j = i + 1;
    if (text[j] == '+') ++j;
    const auto read = std::from_chars(text.data() + j, text.data() + text.size(), exponent);
    if (read.ec == std::errc{} && exponent >= -300 && exponent <= 300)
      i = static_cast<std::size_t>(read.ptr - text.data());
    else
      exponent = 0;
  }
  double value = 0.0;
  const std::size_t from = text.front() == '+' ? digits_start : 0;
  const auto read = std::from_chars(text.data() + from, text.data() + i, value);
  const double last_place = std::pow(10.0, exponent - decimals);
  // Far enough from the ends of double that no unit's factor reaches them.
  const bool representable = std::abs(value) <= 1e290 && last_place >= 1e-290;
  if (read.ec != std::errc{} || read.ptr != text.data() + i || !representable) return {0.0, 0.0, 0};
  return {value, last_place, i};
}

inline std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

inline std::string quoted(std::string_view text) {
  std::size_t length = text.size();
  if (length > 60) {
    length = 60;
    // Never cut inside a character of several bytes (UTF-8).
    while (length > 0 && (static_cast<unsigned char>(text[length]) & 0xc0U) == 0x80U) --length;
  }
  std::string shown = "\"";
  for (const char c : text.substr(0, length)) shown += (static_cast<unsigned char>(c) < 32 || c == 127) ? '?' : c;
  return shown + (length < text.size() ? "...\"" : "\"");
}

template <class Q>
struct UnitOf;
template <class U, class T>
struct UnitOf<Quantity<U, T>> {
  using type = U;
};

}  // namespace detail

/// Reads a quantity with its unit, for example read_quantity<Speed<>>("27.4 kn", "speed there").
/// @tparam Q the quantity over double
/// @param text number, optional space, unit symbol; nothing else
/// @param field the field's name for the message
/// @return the quantity and the place of its last written digit
/// @throws BadInput if there is no number, no unit, or a unit of another dimension; it lists the accepted units
template <class Q>
ReadQuantity<Q> read_quantity(std::string_view text, std::string_view field) {
  using Symbols = UnitSymbols<typename detail::UnitOf<Q>::type>;
  const std::string_view body = detail::trimmed(text);
  const detail::ReadNumber number = detail::read_number(body);
  const std::string accepted =
      joined({"a number with a unit of ", Symbols::quantity, ": ", symbol_list(Symbols::list)});
  if (number.length == 0) throw BadInput("read_quantity", field, detail::quoted(text), accepted);
  const std::string_view symbol = detail::trimmed(body.substr(number.length));
  for (const UnitSymbol& s : Symbols::list)
    if (s.symbol == symbol)
      return {Q::from_value(number.value * s.factor), Q::from_value(number.last_place * s.factor)};
  throw BadInput("read_quantity", field, detail::quoted(text) + (symbol.empty() ? " without a unit" : ""), accepted);
}

/// Reads a temperature: "15 C", "59 F" or "288.15 K".
/// @param text number, optional space, one of C, F, K
/// @param field the field's name for the message
/// @return absolute temperature and the place of its last written digit
/// @throws BadInput otherwise
template <>
inline ReadQuantity<Temperature<>> read_quantity<Temperature<>>(std::string_view text, std::string_view field) {
  const std::string_view body = detail::trimmed(text);
  const detail::ReadNumber number = detail::read_number(body);
  const std::string_view symbol = number.length == 0 ? "" : detail::trimmed(body.substr(number.length));
  const auto above_zero = [](const Temperature<>& t) { return t > Temperature<>::from_value(0.0); };
  if ((symbol == "C" || symbol == "degC") && above_zero(celsius(number.value)))
    return {celsius(number.value), number.last_place * kelvin};
  if ((symbol == "F" || symbol == "degF") && above_zero(fahrenheit(number.value)))
    return {fahrenheit(number.value), number.last_place / 1.8 * kelvin};
  if (symbol == "K" && number.value > 0.0) return {number.value * kelvin, number.last_place * kelvin};
  throw BadInput("read_quantity", field, detail::quoted(text),
                 "a number above absolute zero with a unit of temperature: C, F, K");
}

/// A ratio read from text, with the place of its last written digit.
struct ReadRatio {
  double value;       ///< the ratio, 0.8 for 80 %
  double last_place;  ///< the place of its last written digit, as a ratio
};

/// Reads a ratio: "80 %" or "0.8".
/// @param text number, optional per cent sign
/// @param field the field's name for the message
/// @return the ratio (0.8) and the place of its last written digit
/// @throws BadInput otherwise
inline ReadRatio read_ratio(std::string_view text, std::string_view field) {
  const std::string_view body = detail::trimmed(text);
  const detail::ReadNumber number = detail::read_number(body);
  const std::string_view symbol = number.length == 0 ? "?" : detail::trimmed(body.substr(number.length));
  if (symbol.empty()) return {number.value, number.last_place};
  if (symbol == "%") return {number.value * percent, number.last_place * percent};
  throw BadInput("read_ratio", field, detail::quoted(text), "a plain number or a number with %");
}

/// `value` with a fixed number of decimals, without a locale; never "-0.0".
/// @param value a finite number
/// @param decimals digits after the point; negative rounds to tens, hundreds ...
/// @return for example fixed(27.44, 1) is "27.4", fixed(1234.0, -1) is "1230"
inline std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "-";
  if (decimals < 0) {
    const double place = std::pow(10.0, -decimals);
    return fixed(std::round(value / place) * place, 0);
  }
  // Sign, at most 309 digits, point, decimals.
  std::string text(312 + static_cast<std::size_t>(decimals), '0');
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, decimals);
  text.resize(static_cast<std::size_t>(end.ptr - text.data()));
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

/// A quantity as text in a named unit, for example to_text(v, knot, "kn", 1) is "27.4 kn".
/// @param q the quantity
/// @param unit a named unit of its dimension
/// @param symbol what to print after the number
/// @param decimals digits after the point
/// @return number, space, symbol
template <class U>
std::string to_text(const Quantity<U, double>& q, const Quantity<U, double>& unit, std::string_view symbol,
                    int decimals) {
  return joined({fixed(in(q, unit), decimals), " ", symbol});
}

}  // namespace hardchine
