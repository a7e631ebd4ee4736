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

inline constexpr std::array<Limit, 1> friction_limits{
    {{"Reynolds number below 2e6: a model without turbulence stimulation may run laminar", "trade_practice", 2e6,
      no_limit}}};

inline constexpr Method ittc_1957_method{"ITTC 1957 model-ship correlation line",
                                         "molland_2011",
                                         "eq 4.15",
                                         Evidence::printed,
                                         friction_limits,
                                         "a laminar or transitional line with measured transition"};
inline constexpr Method schoenherr_method{"Schoenherr line",  "savitsky_brown_1976", "worked case; constant 0.242",
                                          Evidence::recalled, friction_limits,       "ITTC 1957 line"};
inline constexpr Method schoenherr_textbook_method{"Schoenherr line as a textbook prints it",
                                                   "molland_2011",
                                                   "eq 4.10",
                                                   Evidence::printed,
                                                   friction_limits,
                                                   "ITTC 1957 line"};

/// The method behind a line.
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

/// ITTC 1957 line, C_F = 0.075/(log10 Re - 2)^2.
/// @param reynolds_number Re, above 1e5 (singular at 100)
/// @return C_F. Source: molland_2011 eq 4.15 (printed)
template <class T>
T ittc_1957_friction(const T& reynolds_number) {
  using std::log10;
  const T x = log10(reynolds_number) - 2.0;
  return 0.075 / (x * x);
}

/// Schoenherr line, constant/sqrt(C_F) = log10(Re C_F), by Newton in y = 1/sqrt(C_F) from the explicit start
/// C_F = 1/(3.5 log10 Re - 5.96)^2 (molland_2011 eq 4.11, printed as within 1 %).
/// @param reynolds_number Re, above 1e5
/// @param constant 0.242 (recalled; the printed cases of savitsky_1964 and savitsky_brown_1976 need it) or 1/4.13
///   (molland_2011 eq 4.10, printed)
/// @return C_F, converged to rounding: two steps leave 4e-13 from 1e6 up, four are made so that derivatives converge too
template <class T>
T schoenherr_friction(const T& reynolds_number, double constant = 0.242) {
  using std::log;
  using std::log10;
  const T lg = log10(reynolds_number);
  T y = 3.5 * lg - 5.96;
  for (int step = 0; step < 4; ++step)
    y = y - (constant * y - lg + 2.0 * log10(y)) / (constant + 2.0 * std::numbers::log10e / y);
  return 1.0 / (y * y);
}

/// C_F on a named line without the door check: for the inside of a search, where a guess may be anything.
template <class T>
T friction_on_line(FrictionLine line, const T& reynolds_number) {
  switch (line) {
    case FrictionLine::ittc_1957:
      break;
    case FrictionLine::schoenherr:
      return schoenherr_friction(reynolds_number);
    case FrictionLine::schoenherr_textbook:
      return schoenherr_friction(reynolds_number, 1.0 / 4.13);
  }
  return ittc_1957_friction(reynolds_number);
}

/// The friction coefficient of a smooth plate by a named line, without allowance.
/// @param line which line
/// @param reynolds_number Re on the mean wetted length, above 1e5 to 1e12; below 2e6 a model may run laminar
/// @return C_F
/// @throws BadInput if Re is out of range
/// Source: molland_2011 or savitsky_brown_1976, as method_of(line) says
template <class T>
T friction_coefficient(FrictionLine line, const T& reynolds_number) {
  check_value("friction_coefficient", "Reynolds number", reynolds_number, plain_ratio, above(1e5, 1e12));
  return friction_on_line(line, reynolds_number);
}

/// The ATTC standard roughness allowance, added to C_F for the ship, never when a method is compared with smooth model
/// data. Source: savitsky_1964 worked example, molland_2011 section 4.3.2 (printed).
inline constexpr double attc_standard_allowance = 0.0004;

}  // namespace hardchine
