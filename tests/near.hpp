// Comparisons that say what they tolerate. doctest's Approx adds 1 to the scale, so that small coefficients would go
// untested; these do not.
#pragma once

#include <cmath>
#include <ostream>

// The expected value and the largest accepted difference.
struct Within {
  double expected;
  double tolerance;
  friend bool operator==(double x, const Within& w) { return std::abs(x - w.expected) <= w.tolerance; }
  friend std::ostream& operator<<(std::ostream& out, const Within& w) {
    const auto digits = out.precision(12);
    out << w.expected << " +- " << w.tolerance;
    out.precision(digits);
    return out;
  }
};

// Relative to the expected value.
inline Within relative(double expected, double tolerance) { return {expected, tolerance * std::abs(expected)}; }
// In the unit of the value.
inline Within absolute(double expected, double tolerance) { return {expected, tolerance}; }
// The value rounds to the printed one: half a unit of the last of `decimals` printed decimals.
inline Within printed(double expected, int decimals) {
  return {expected, 0.5 * std::pow(10.0, -decimals) * (1.0 + 1e-9)};
}
// The scalar formula in two scalars, or with and without a conversion: a few units in the last place.
inline Within rounding(double expected) { return relative(expected, 1e-14); }
