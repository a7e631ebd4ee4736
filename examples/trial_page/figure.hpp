// Figures: numbers that know the place of their last written digit, and hand it on.
//
// A figure read from "27.4 kn" has the last place 0.1 kn. A derived figure gets its last place from the same formula of
// the library, run on Dual<N> with every derivative seeded by the input's last place: the root sum of squares of the
// derivatives of the answer is its last place.
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

/// A number or quantity with the place of its last meaningful digit; zero for a nominal (exact) one.
template <class Q>
struct Figure {
  Q value = hardchine::unset;
  Q last_place{};
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

/// The power of ten to which a figure is printed: the last place is at most five of it, and it never shows more
/// significant digits than the figure has, which is the number of digits of value over last place. (So a change of unit
/// adds none: "9.8 kn" has two digits in km/h too.) A nominal figure shows `most_digits`.
inline int printed_exponent(double value, double last_place, int most_digits) {
  const double size = std::abs(value);
  const bool nominal = !(last_place > 0.0);
  const int by_place = nominal ? -15 : static_cast<int>(std::ceil(std::log10(last_place / 5.0) - 1e-9));
  const int digits = nominal || size == 0.0 ? most_digits : std::min(most_digits, exponent_of(size / last_place) + 1);
  return size > 0.0 && digits > 0 ? std::max(by_place, exponent_of(size) - digits + 1) : by_place;
}

/// Without zeros at the end of the decimals: for nominal figures, which are exact.
inline std::string short_form(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// How a figure is limited in print beyond its last place.
struct Print {
  int most_digits = 5;     ///< significant digits
  int finest_place = -15;  ///< power of ten
};

/// The number of `unit`s in a figure as text; "-" if it is unset.
inline std::string number(const Figure<double>& figure, double unit = 1.0, const Print& print = {}) {
  if (!std::isfinite(figure.value) || !std::isfinite(figure.last_place)) return "-";
  const double value = figure.value / unit;
  const int exponent = printed_exponent(value, figure.last_place / unit, print.most_digits);
  const std::string text = hardchine::fixed(value, -std::max(exponent, print.finest_place));
  return figure.last_place > 0.0 ? text : short_form(text);
}
template <class U>
std::string number(const Figure<Quantity<U, double>>& figure, const std::type_identity_t<Quantity<U, double>>& unit,
                   const Print& print = {}) {
  return number(Figure<double>{figure.value.value(), figure.last_place.value()}, unit.value(), print);
}

}  // namespace trial_page
