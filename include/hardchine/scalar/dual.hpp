/// @file
/// Dual<N>: a number with its exact derivatives with respect to N inputs (forward automatic differentiation, eager).
///
/// With x = (v, d) every operation carries f(v) and f'(v) d, so a formula run on Dual gives its value and gradient.
/// Comparisons look at the value only. At a kink (select, larger, magnitude) the derivative is that of the chosen
/// side. At the ends of a domain (sqrt, log and pow at 0) the derivative is infinite or not a number, as in analysis.
#pragma once

#include <array>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstring>
#include <numbers>
#include <type_traits>

#include "hardchine/scalar/scalar.hpp"

namespace hardchine {

namespace dual_detail {

/// r_i = s a_i + t b_i and the like over N numbers. Four doubles at a time where the compiler has a vector type: g++ 12
/// makes single numbers of such loops, which took three times as long.
template <std::size_t N, class B>
struct Columns {
  using List = std::array<B, N>;

  template <class F, class... L>
  static constexpr void each(const F& f, List& r, const L&... a) {
#if defined(__GNUC__)
    if constexpr (std::same_as<B, double> && N >= 4) {
      if (!std::is_constant_evaluated()) {
        by_four<0>(f, r, a...);
        return;
      }
    }
#endif
    for (std::size_t i = 0; i < N; ++i) f(r[i], a[i]...);
  }

#if defined(__GNUC__)
 private:
  using Four [[gnu::vector_size(32)]] = double;
  using Two [[gnu::vector_size(16)]] = double;
  template <class V>
  struct Loaded {
    V numbers;
    Loaded(const List& a, std::size_t i) { std::memcpy(&numbers, a.data() + i, sizeof(V)); }
  };
  template <std::size_t i, class F, class... L>
  static void by_four(const F& f, List& r, const L&... a) {
    if constexpr (i + 4 <= N) {
      Four some;
      f(some, Loaded<Four>(a, i).numbers...);
      std::memcpy(r.data() + i, &some, sizeof some);
      by_four<i + 4>(f, r, a...);
    } else if constexpr (i + 2 <= N) {
      Two some;
      f(some, Loaded<Two>(a, i).numbers...);
      std::memcpy(r.data() + i, &some, sizeof some);
      by_four<i + 2>(f, r, a...);
    } else if constexpr (i < N) {
      f(r[i], a[i]...);
    }
  }
#endif
};

/// Whether a quotient is rounded once, as without derivatives: of lanes it is not.
template <class B>
inline constexpr bool rounds_once = (derivative_order<B> > 0) || std::same_as<MaskOf<B>, bool>;

}  // namespace dual_detail

/// A value of type `B` and its derivatives with respect to `N` inputs.
template <int N, class B = double>
struct Dual {
  using Each = dual_detail::Columns<static_cast<std::size_t>(N), B>;  ///< what is done to all derivatives alike

  B value{0.0};                                                ///< the value
  std::array<B, static_cast<std::size_t>(N)> derivative = {};  ///< the derivatives, one an input

  /// Zero.
  constexpr Dual() = default;
  /// A copy; written out because g++ 12 copies such a struct by an instruction for long strings, which took half the
  /// time of a gradient.
  /// @param x any
  constexpr Dual(const Dual& x) : value(x.value) {
    Each::each([](auto& to, const auto& d) { to = d; }, derivative, x.derivative);
  }
  /// The same.
  /// @param x any
  /// @return this
  // NOLINTNEXTLINE(bugprone-unhandled-self-assignment): each number to itself
  constexpr Dual& operator=(const Dual& x) {
    value = x.value;
    Each::each([](auto& to, const auto& d) { to = d; }, derivative, x.derivative);
    return *this;
  }
  ~Dual() = default;  ///< nothing to do
  /// A constant: all derivatives zero.
  /// @param v any
  constexpr Dual(double v) : value(v) {}  // NOLINT(google-explicit-constructor): a number is a constant
  /// A constant of the scalar underneath.
  /// @param v any
  constexpr Dual(const B& v)  // NOLINT(google-explicit-constructor): the same
      requires(!std::same_as<B, double>)
      : value(v) {}
  /// Input number `index`: its own derivative is one.
  /// @param v any
  /// @param index 0 to N - 1
  /// @return the input
  /// @throws std::out_of_range for another index
  static constexpr Dual input(const B& v, int index) {
    Dual x(v);
    x.derivative.at(static_cast<std::size_t>(index)) = B(1.0);
    return x;
  }

  /// A result with the value `v` whose derivatives are `slope` times ours: the chain rule.
  /// @param v any
  /// @param slope dv/dx, any
  /// @return the result
  constexpr Dual chain(const B& v, const B& slope) const {
    Dual r(v);
    Each::each([&](auto& to, const auto& d) { to = slope * d; }, r.derivative, derivative);
    return r;
  }

  /// The value `v` with our derivatives: of a sum with a constant.
  /// @param v any
  /// @return the result
  constexpr Dual moved(const B& v) const {
    Dual r(*this);
    r.value = v;
    return r;
  }

  /// @name Arithmetic, comparisons, functions
  /// @{

  /// On the value as on a number, on the derivatives by the rules of calculus; comparisons are those of the values.
  constexpr Dual operator-() const { return chain(-value, B(-1.0)); }

  friend constexpr Dual operator+(const Dual& a, const Dual& b) {
    Dual r(a.value + b.value);
    Each::each([](auto& to, const auto& x, const auto& y) { to = x + y; }, r.derivative, a.derivative, b.derivative);
    return r;
  }
  friend constexpr Dual operator-(const Dual& a, const Dual& b) {
    Dual r(a.value - b.value);
    Each::each([](auto& to, const auto& x, const auto& y) { to = x - y; }, r.derivative, a.derivative, b.derivative);
    return r;
  }
  friend constexpr Dual operator*(const Dual& a, const Dual& b) {
    Dual r(a.value * b.value);
    Each::each([&](auto& to, const auto& x, const auto& y) { to = x * b.value + a.value * y; }, r.derivative,
               a.derivative, b.derivative);
    return r;
  }
  friend constexpr Dual operator/(const Dual& a, const Dual& b) {
    const B inverse = 1.0 / b.value;
    // One division less where the value need not be that of the scalar underneath to the last bit.
    Dual r(dual_detail::rounds_once<B> ? B(a.value / b.value) : B(a.value * inverse));
    Each::each([&](auto& to, const auto& x, const auto& y) { to = (x - r.value * y) * inverse; }, r.derivative,
               a.derivative, b.derivative);
    return r;
  }
  friend constexpr Dual operator+(const Dual& a, double b) { return a.moved(a.value + b); }
  friend constexpr Dual operator+(double a, const Dual& b) { return b + a; }
  friend constexpr Dual operator-(const Dual& a, double b) { return a.moved(a.value - b); }
  friend constexpr Dual operator-(double a, const Dual& b) { return b.chain(a - b.value, B(-1.0)); }
  friend constexpr Dual operator*(const Dual& a, double b) { return a.chain(a.value * b, B(b)); }
  friend constexpr Dual operator*(double a, const Dual& b) { return b * a; }
  friend constexpr Dual operator/(const Dual& a, double b) { return a.chain(a.value / b, B(1.0 / b)); }
  friend constexpr Dual operator/(double a, const Dual& b) {
    const B v = a / b.value;
    return b.chain(v, -v / b.value);
  }
  // With the scalar underneath, where that is not a double: a constant costs no product with its zero derivatives.
  friend constexpr Dual operator+(const Dual& a, const B& b) requires is_other_scalar<B> {
    return a.moved(a.value + b);
  }
  friend constexpr Dual operator+(const B& a, const Dual& b) requires is_other_scalar<B> { return b + a; }
  friend constexpr Dual operator-(const Dual& a, const B& b) requires is_other_scalar<B> {
    return a.moved(a.value - b);
  }
  friend constexpr Dual operator-(const B& a, const Dual& b) requires is_other_scalar<B> {
    return b.chain(a - b.value, B(-1.0));
  }
  friend constexpr Dual operator*(const Dual& a, const B& b) requires is_other_scalar<B> {
    return a.chain(a.value * b, b);
  }
  friend constexpr Dual operator*(const B& a, const Dual& b) requires is_other_scalar<B> { return b * a; }
  friend constexpr Dual operator/(const Dual& a, const B& b) requires is_other_scalar<B> {
    return a.chain(a.value / b, 1.0 / b);
  }
  friend constexpr Dual operator/(const B& a, const Dual& b) requires is_other_scalar<B> {
    const B v = a / b.value;
    return b.chain(v, -v / b.value);
  }
  constexpr Dual& operator+=(const Dual& b) { return *this = *this + b; }
  constexpr Dual& operator-=(const Dual& b) { return *this = *this - b; }
  constexpr Dual& operator*=(const Dual& b) { return *this = *this * b; }
  constexpr Dual& operator/=(const Dual& b) { return *this = *this / b; }

  friend constexpr auto operator<(const Dual& a, const Dual& b) { return a.value < b.value; }
  friend constexpr auto operator>(const Dual& a, const Dual& b) { return a.value > b.value; }
  friend constexpr auto operator<=(const Dual& a, const Dual& b) { return a.value <= b.value; }
  friend constexpr auto operator>=(const Dual& a, const Dual& b) { return a.value >= b.value; }

  friend Dual sqrt(const Dual& x) {
    using std::sqrt;
    const B v = sqrt(x.value);
    return x.chain(v, 0.5 / v);
  }
  friend Dual exp(const Dual& x) {
    using std::exp;
    const B v = exp(x.value);
    return x.chain(v, v);
  }
  friend Dual log(const Dual& x) {
    using std::log;
    return x.chain(log(x.value), 1.0 / x.value);
  }
  friend Dual log10(const Dual& x) {
    using std::log10;
    return x.chain(log10(x.value), std::numbers::log10e / x.value);
  }
  friend Dual pow(const Dual& x, double p) {
    using std::pow;
    const B v = pow(x.value, p);
    if constexpr (std::same_as<B, double>) {
      if (v != 0.0 && std::isfinite(v)) return x.chain(v, p * v / x.value);  // one power less
    }
    return x.chain(v, p * pow(x.value, p - 1.0));
  }
  friend Dual sin(const Dual& x) {
    using std::cos;
    using std::sin;
    return x.chain(sin(x.value), cos(x.value));
  }
  friend Dual cos(const Dual& x) {
    using std::cos;
    using std::sin;
    return x.chain(cos(x.value), -sin(x.value));
  }
  friend SinCos<Dual> sin_cos(const Dual& x) {
    const SinCos<B> v = sin_cos(x.value);
    return {x.chain(v.sin, v.cos), x.chain(v.cos, -v.sin)};
  }
  friend Dual tan(const Dual& x) {
    using std::tan;
    const B v = tan(x.value);
    return x.chain(v, 1.0 + v * v);
  }
  friend Dual atan(const Dual& x) {
    using std::atan;
    return x.chain(atan(x.value), 1.0 / (1.0 + x.value * x.value));
  }
  friend Dual tanh(const Dual& x) {
    using std::tanh;
    const B v = tanh(x.value);
    return x.chain(v, 1.0 - v * v);
  }

  friend constexpr Dual select(const MaskOf<B>& mask, const Dual& a,
                               const Dual& b) requires(!std::same_as<MaskOf<B>, bool>) {
    Dual r(select(mask, a.value, b.value));
    for (std::size_t i = 0; i < N; ++i) r.derivative[i] = select(mask, a.derivative[i], b.derivative[i]);
    return r;
  }
  friend auto is_finite(const Dual& x) {
    auto good = is_finite(x.value);
    for (std::size_t i = 0; i < N; ++i) good = both(good, is_finite(x.derivative[i]));
    return good;
  }
  friend constexpr Plain<B> plain(const Dual& x) { return plain(x.value); }

  /// @}
};

/// Without derivatives, a Dual of Duals too.
template <int N, class B>
struct PlainType<Dual<N, B>> {
  using type = Plain<B>;  ///< the innermost scalar
};

/// One order more than the scalar underneath.
template <int N, class B>
inline constexpr int derivative_order<Dual<N, B>> = 1 + derivative_order<B>;

/// Outcomes and flags of a Dual are those of the scalar underneath.
template <int N, class B, class X>
struct PerLaneType<Dual<N, B>, X> : PerLaneType<B, X> {};

/// The quantity `q` as input number `index` of a formula on Dual<N>.
/// @param q value of the input, any unit
/// @param index which of the N inputs, 0 to N - 1
/// @return the input
/// @throws std::out_of_range for another index
template <int N, class U>
constexpr Quantity<U, Dual<N>> seed(const Quantity<U, double>& q, int index) {
  return Quantity<U, Dual<N>>::from_value(Dual<N>::input(q.value(), index));
}

/// The derivative of a quantity with respect to input number `index`, per SI unit of the input.
/// @param q any quantity over Dual
/// @param index 0 to N - 1
/// @return the derivative
/// @throws std::out_of_range for another index
template <class U, int N, class B>
constexpr Quantity<U, B> derivative(const Quantity<U, Dual<N, B>>& q, int index) {
  return Quantity<U, B>::from_value(q.value().derivative.at(static_cast<std::size_t>(index)));
}

}  // namespace hardchine
