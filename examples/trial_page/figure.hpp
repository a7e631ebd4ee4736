// Figures: numbers that know the place of their last written digit, and hand it on.
//
// A figure read from "27.4 kn" has the last place 0.1 kn. A derived figure gets its last place from the same formula of
// the library, run on Dual<N> with every derivative seeded by the input's last place: the root sum of squares of the
// derivatives of the answer is its last place.
//
// Printing. A figure is printed to the power of ten nearest to its last place on a logarithmic scale, in the unit of
// print: 0.1 kn is 0.185 km/h, nearest 0.1. So a change of unit keeps the number of digits, and adds one only where the
// number passes a power of ten (7.6 kn, 14.1 km/h). A column of one quantity has one decimal place: the one of its
// finest figure. Only a figure whose last place is more than five of that is printed to its own. A nominal figure, an
// exact one such as a standard mass, adds nothing to the last places of what is made from it, but is printed by the
// same rule from the place to which it was written.
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "hardchine/fields.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/text.hpp"

namespace trial_page {

using hardchine::Dual;
using hardchine::Quantity;

/// A number or quantity with the place of its last meaningful digit.
template <class Q>
struct Figure {
  Q value = hardchine::unset;
  Q last_place{};     ///< zero for a nominal (exact) figure
  Q nominal_place{};  ///< of a nominal figure: the last place written, for print; zero if it has no end
};

/// A figure as input number `index` of a formula on Dual<N>.
template <int N>
Dual<N> seeded(const Figure<double>& figure, int index) {
  Dual<N> x(figure.value);
  x.derivative[static_cast<std::size_t>(index)] = figure.last_place;
  return x;
}
template <int N, class U>
Quantity<U, Dual<N>> seeded(const Figure<Quantity<U, double>>& figure, int index) {
  return Quantity<U, Dual<N>>::from_value(
      seeded<N>(Figure<double>{figure.value.value(), figure.last_place.value()}, index));
}

/// The answer of a formula on seeded figures, as a figure.
template <int N>
Figure<double> collapsed(const Dual<N>& x) {
  double sum = 0.0;
  for (const double d : x.derivative) sum += d * d;
  return {x.value, std::sqrt(sum)};
}
template <int N, class U>
Figure<Quantity<U, double>> collapsed(const Quantity<U, Dual<N>>& q) {
  const Figure<double> plain = collapsed(q.value());
  return {Quantity<U, double>::from_value(plain.value), Quantity<U, double>::from_value(plain.last_place)};
}

/// `formula` of independent figures: it is called with Duals (numbers or quantities) and returns one.
template <class F, class... Q>
auto derive(const F& formula, const Figure<Q>&... inputs) {
  constexpr int n = sizeof...(Q);
  return [&]<int... I>(std::integer_sequence<int, I...>) { return collapsed(formula(seeded<n>(inputs, I)...)); }
  (std::make_integer_sequence<int, n>{});
}

/// The sum of independent figures.
template <class Q>
Figure<Q> operator+(const Figure<Q>& a, const Figure<Q>& b) {
  return derive([](const auto& x, const auto& y) { return x + y; }, a, b);
}

inline int exponent_of(double x) { return static_cast<int>(std::floor(std::log10(x) + 1e-9)); }

/// The power of ten nearest to a last place on a logarithmic scale.
inline int nearest_power(double place) { return static_cast<int>(std::lround(std::log10(place))); }

/// Without zeros at the end of the decimals: for figures that have no last place.
inline std::string short_form(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// How a figure is limited in print beyond its last place.
struct Print {
  int most_digits = 15;       ///< significant digits
  int finest_place = -15;     ///< power of ten
  double column_place = 0.0;  ///< finest last place in the column, in the unit of print; zero: the figure stands alone
};

/// The last place by which a figure is printed.
template <class Q>
double place_of(const Figure<Q>& figure) {
  const double place = hardchine::bare_value(figure.last_place);
  return place > 0.0 ? place : hardchine::bare_value(figure.nominal_place);
}

/// The power of ten to which a number with a last place is printed.
inline int printed_exponent(double value, double place, const Print& print) {
  int exponent = nearest_power(place);
  if (print.column_place > 0.0) {
    const int common = nearest_power(print.column_place);
    if (place <= 5.0 * std::pow(10.0, common)) exponent = common;
  }
  exponent = std::max(exponent, print.finest_place);
  const auto within_digits = [&](double size) {
    return size > 0.0 ? std::max(exponent, exponent_of(size) - print.most_digits + 1) : exponent;
  };
  exponent = within_digits(std::abs(value));
  // 9.997 to three digits is 10.0: rounding may pass a power of ten.
  const double step = std::pow(10.0, exponent);
  return within_digits(std::round(std::abs(value) / step) * step);
}

/// The number of `unit`s in a figure as text; "-" if it is unset. A figure without any last place has five digits.
template <class Q>
std::string number(const Figure<Q>& figure, const std::type_identity_t<Q>& unit, const Print& print = {}) {
  const double scale = hardchine::bare_value(unit);
  const double value = hardchine::bare_value(figure.value) / scale, place = place_of(figure) / scale;
  if (!std::isfinite(value) || !std::isfinite(place)) return "-";
  if (place > 0.0) return hardchine::fixed(value, -printed_exponent(value, place, print));
  constexpr int digits_of_exact = 5;
  const int exponent = value == 0.0 ? 0 : exponent_of(std::abs(value)) - digits_of_exact + 1;
  return short_form(hardchine::fixed(value, -std::max(exponent, print.finest_place)));
}
inline std::string number(const Figure<double>& figure) { return number(figure, 1.0); }

/// A column of one quantity: it sees all its figures, then prints each.
template <class Q>
class Column {
 public:
  explicit Column(const Q& unit, const Print& print = {}) : unit_(unit), print_(print) {}

  void add(const Figure<Q>& figure) {
    const double place = place_of(figure) / hardchine::bare_value(unit_);
    if (!hardchine::is_set(figure.value) || !std::isfinite(place) || !(place > 0.0)) return;
    if (!(print_.column_place > 0.0) || place < print_.column_place) print_.column_place = place;
  }
  std::string operator()(const Figure<Q>& figure) const { return number(figure, unit_, print_); }

 private:
  Q unit_;
  Print print_;
};

}  // namespace trial_page
