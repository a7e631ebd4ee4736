/// @file
/// Friction lines of a smooth turbulent plate, and the allowance that a ship adds.
#pragma once

#include <array>
#include <cmath>
#include <numbers>

#include "hardchine/fields.hpp"

namespace hardchine {

/// A friction line by name.
enum class FrictionLine : std::uint8_t {
  ittc_1957,           ///< 0.075/(log10 Re - 2)^2
  schoenherr,          ///< 0.242/sqrt(C_F) = log10(Re C_F); the constant is recalled
  schoenherr_textbook  ///< 1/sqrt(C_F) = 4.13 log10(Re C_F): 0.08 to 0.10 % higher
};

/// The limits of every friction line.
inline constexpr std::array<Limit, 1> friction_limits{
    {{"Reynolds number below 2e6: a model without turbulence stimulation may run laminar", "trade_practice", 2e6,
      no_limit}}};

/// The line of 1957, C_F = 0.075/(log10 Re - 2)^2.
inline constexpr Method ittc_1957_method{"ITTC 1957 model-ship correlation line",
                                         "molland_2011",
                                         "eq 4.15",
                                         Evidence::printed,
                                         friction_limits,
                                         "a laminar or transitional line with measured transition"};
/// 0.242/sqrt(C_F) = log10(Re C_F). Its constant is recalled.
inline constexpr Method schoenherr_method{"Schoenherr line",  "savitsky_brown_1976", "worked case; constant 0.242",
                                          Evidence::recalled, friction_limits,       "ITTC 1957 line"};
/// 1/sqrt(C_F) = 4.13 log10(Re C_F).
inline constexpr Method schoenherr_textbook_method{"Schoenherr line as a textbook prints it",
                                                   "molland_2011",
                                                   "eq 4.10",
                                                   Evidence::printed,
                                                   friction_limits,
                                                   "ITTC 1957 line"};

/// The method behind a line.
/// @param line a friction line
/// @return its name, source, evidence (of schoenherr: recalled) and limits
constexpr const Method& method_of(FrictionLine line) {
  switch (line) {
    case FrictionLine::ittc_1957:
      break;
    case FrictionLine::schoenherr:
      return schoenherr_method;
    case FrictionLine::schoenherr_textbook:
      return schoenherr_textbook_method;
  }
  return ittc_1957_method;
}

/// The lines without their door: for the inside of a search, where a guess may be anything.
namespace friction_detail {

template <class T>
T ittc_1957(const T& log10_Re) {
  const T x = log10_Re - 2.0;
  return 0.075 / (x * x);
}

/// constant/sqrt(C_F) = log10(Re C_F) by Newton in y = 1/sqrt(C_F) from the explicit start
/// C_F = 1/(3.5 log10 Re - 5.96)^2 (molland_2011 eq 4.11, printed as within 1 %). Two steps leave 4e-13 from Re 1e6 up;
/// four are made so that derivatives converge too.
template <class T>
T schoenherr_with(double constant, const T& log10_Re) {
  using std::log10;
  T y = 3.5 * log10_Re - 5.96;
  for (int step = 0; step < 4; ++step)
    y = y - (constant * y - log10_Re + 2.0 * log10(y)) / (constant + 2.0 * std::numbers::log10e / y);
  return 1.0 / (y * y);
}

template <class T>
T on_line_by_log10(FrictionLine line, const T& log10_Re) {
  switch (line) {
    case FrictionLine::ittc_1957:
      break;
    case FrictionLine::schoenherr:
      return schoenherr_with(0.242, log10_Re);
    case FrictionLine::schoenherr_textbook:
      return schoenherr_with(1.0 / 4.13, log10_Re);
  }
  return ittc_1957(log10_Re);
}

template <class T>
T on_line(FrictionLine line, const T& reynolds_number) {
  using std::log10;
  return on_line_by_log10(line, T(log10(reynolds_number)));
}

}  // namespace friction_detail

/// The friction coefficient of a smooth plate by a named line, without allowance.
/// @param line which line: ittc_1957, C_F = 0.075/(log10 Re - 2)^2; schoenherr, 0.242/sqrt(C_F) = log10(Re C_F), whose
///   constant is recalled (the printed cases of savitsky_1964 and savitsky_brown_1976 need it); schoenherr_textbook,
///   1/sqrt(C_F) = 4.13 log10(Re C_F), 0.08 to 0.10 % higher
/// @param reynolds_number Re on the mean wetted length, 1e5 to 1e12; below 2e6 a model may run laminar
/// @return C_F, to rounding
/// @throws BadInput if Re is out of range
/// Source: molland_2011 eq 4.15, 4.10 (printed); savitsky_brown_1976 (worked case); method_of(line) says which
template <class T>
T friction_coefficient(FrictionLine line, const T& reynolds_number) {
  check_value("friction_coefficient", "Reynolds number", reynolds_number, plain_ratio, between(1e5, 1e12));
  return friction_detail::on_line(line, reynolds_number);
}

/// The ATTC standard roughness allowance, added to C_F for the ship, never when a method is compared with smooth model
/// data. Source: savitsky_1964 worked example, molland_2011 section 4.3.2 (printed).
inline constexpr double attc_standard_allowance = 0.0004;

}  // namespace hardchine
