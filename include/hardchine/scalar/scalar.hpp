/// @file
/// The scalar concept: what a type must offer so that every formula of the library can be read in it.
///
/// A formula is a template on the scalar `T` and never branches on a comparison: comparisons give a mask, `select`
/// chooses by mask, and only the loops of solvers look at a mask through `any` and `all`. For `double` and `Dual` the
/// mask is `bool`; for a scalar of several lanes it has one truth value a lane.
#pragma once

#include <cmath>
#include <concepts>
#include <cstdint>
#include <limits>
#include <type_traits>

#include "hardchine/units.hpp"

namespace hardchine {

/// What one comparison of two `T` gives.
template <class T>
using MaskOf = std::remove_cvref_t<decltype(std::declval<const T&>() < std::declval<const T&>())>;

// Masks of one lane.

/// `a` where the mask holds, else `b`.
/// @param mask of one comparison
/// @param a any
/// @param b any
/// @return one of the two
template <class A>
constexpr A select(bool mask, const A& a, const A& b) {
  return mask ? a : b;
}
/// True if any lane holds.
/// @param mask of one comparison
/// @return the mask itself
constexpr bool any(bool mask) { return mask; }
/// True if all lanes hold.
/// @param mask of one comparison
/// @return the mask itself
constexpr bool all(bool mask) { return mask; }
/// Lane by lane: both hold.
/// @param a a mask
/// @param b a mask
/// @return their mask
constexpr bool both(bool a, bool b) { return a && b; }
/// Lane by lane: one of the two holds.
/// @param a a mask
/// @param b a mask
/// @return their mask
constexpr bool either(bool a, bool b) { return a || b; }
/// Lane by lane: does not hold.
/// @param a a mask
/// @return its opposite
constexpr bool negate(bool a) { return !a; }

/// How a result keeps something that is not a number (an outcome, flags): once for one craft. A scalar of several
/// lanes specialises it to keep one a lane.
template <class T, class X>
struct PerLaneType {
  using type = X;  ///< how it is kept
  /// The same `x` for every lane.
  /// @param x any
  /// @return as it is kept
  static constexpr type fill(const X& x) { return x; }
};
/// An outcome or flags of a result over `T`.
template <class T, class X>
using PerLane = typename PerLaneType<T, X>::type;

/// The same `x` for every lane of `T`.
/// @param x any
/// @return as a result keeps it
template <class T, class X>
constexpr PerLane<T, X> per_lane(const X& x) {
  return PerLaneType<T, X>::fill(x);
}

/// Sets `target` to `value` where the mask holds.
/// @param target what is set
/// @param mask of one comparison
/// @param value any
template <class X>
constexpr void assign_where(X& target, bool mask, const X& value) {
  if (mask) target = value;
}

/// Adds the bits of `value` to `target` where the mask holds.
/// @param target flags
/// @param mask of one comparison
/// @param value bits
constexpr void raise_where(std::uint32_t& target, bool mask, std::uint32_t value) { target |= mask ? value : 0U; }

/// Flags while they are raised: for one craft a number.
template <class Mask>
struct RaisedFlags {
  std::uint32_t bits = 0;  ///< so far

  /// Raises `value` where the mask holds.
  /// @param holds of one comparison
  /// @param value bits
  constexpr void raise(const Mask& holds, std::uint32_t value) { raise_where(bits, holds, value); }
  /// As a result keeps them.
  /// @return the bits where the mask holds, else none
  /// @param holds of one comparison
  constexpr std::uint32_t kept_where(const Mask& holds) const {
    std::uint32_t kept = 0;
    raise_where(kept, holds, bits);
    return kept;
  }
};

/// The scalar without its derivatives: what a search runs on. A scalar with derivatives specialises it.
template <class T>
struct PlainType {
  using type = T;  ///< the scalar itself
};
/// The scalar without its derivatives.
template <class T>
using Plain = typename PlainType<T>::type;

/// The highest order of derivatives that a scalar carries: 0 for a number, 1 for a Dual, 2 for a Dual of Duals.
template <class T>
inline constexpr int derivative_order = 0;

/// The value of `x` without its derivatives.
/// @param x any
/// @return the same number
constexpr double plain(double x) { return x; }
/// The same.
/// @param x any
/// @return the same number
constexpr long double plain(long double x) { return x; }

/// True where `x` and all its derivatives are finite.
/// @param x any
/// @return false for infinity and not-a-number
inline bool is_finite(double x) { return std::isfinite(x); }
/// The same.
/// @param x any
/// @return false for infinity and not-a-number
inline bool is_finite(long double x) { return std::isfinite(x); }

/// A sine with its cosine.
template <class T>
struct SinCos {
  T sin;  ///< of the angle
  T cos;  ///< of the same
};
/// Sine and cosine of an angle at once: of lanes and of a Dual cheaper than one after the other.
/// @param angle in radians, any; of lanes from -pi/4 to pi/4, else not a number
/// @return both
inline SinCos<double> sin_cos(double angle) { return {std::sin(angle), std::cos(angle)}; }
/// The same.
/// @param angle in radians, any
/// @return both
inline SinCos<long double> sin_cos(long double angle) { return {std::sin(angle), std::cos(angle)}; }
/// The same of any other scalar.
/// @param angle in radians, any
/// @return both
template <class T>
requires std::is_class_v<T> SinCos<T> sin_cos(const T& angle) { return {sin(angle), cos(angle)}; }

/// A scalar that the formulas accept.
template <class T>
concept Scalar = std::constructible_from<T, double> && requires(const T a, const T b, double x) {
  { a + b } -> std::same_as<T>;
  { a - b } -> std::same_as<T>;
  { a* b } -> std::same_as<T>;
  { a / b } -> std::same_as<T>;
  { a + x } -> std::same_as<T>;
  { x - a } -> std::same_as<T>;
  { x* a } -> std::same_as<T>;
  { x / a } -> std::same_as<T>;
  { -a } -> std::same_as<T>;
  { select(a < b, a, b) } -> std::same_as<T>;
  { all(both(a < b, negate(a >= b))) } -> std::same_as<bool>;
  { any(either(a > b, a <= b)) } -> std::same_as<bool>;
};

/// The smaller of two, lane by lane.
/// @param a any
/// @param b any
/// @return one of the two
template <class T>
constexpr T smaller(const T& a, const std::type_identity_t<T>& b) {
  return select(a < b, a, b);
}
/// The larger of two, lane by lane.
/// @param a any
/// @param b any
/// @return one of the two
template <class T>
constexpr T larger(const T& a, const std::type_identity_t<T>& b) {
  return select(a < b, b, a);
}
/// The magnitude, lane by lane.
/// @param a any
/// @return a or -a
template <class T>
constexpr T magnitude(const T& a) {
  return select(a < T(0.0), T(-a), a);
}

/// Whole power by multiplication, exact in every scalar: `integer_power<3>(x)` is x^3, negative powers divide.
/// @tparam N the power
/// @param x any scalar; not zero for a negative power
/// @return x^N
template <int N, class T>
constexpr T integer_power(const T& x) {
  if constexpr (N < 0) {
    return 1.0 / integer_power<-N>(x);
  } else if constexpr (N == 0) {
    return T(1.0);
  } else if constexpr (N % 2 == 0) {
    const T half = integer_power<N / 2>(x);
    return half * half;
  } else {
    return x * integer_power<N - 1>(x);
  }
}

/// True for a scalar other than double: Boost.Units then has no product of its quantities with a double, and no product
/// of the scalar with a named unit.
template <class T>
inline constexpr bool is_other_scalar = (std::is_class_v<T> && !is_quantity<T>) || std::same_as<T, long double>;

}  // namespace hardchine

// Boost.Units knows quantities over double; these few overloads, found by argument-dependent lookup, let the same
// formulas run on other scalars.
namespace boost::units {

/// @name Arithmetic of numbers, scalars and quantities
/// @{

/// A number times a quantity over another scalar.
template <class U, class T>
requires hardchine::is_other_scalar<T>
constexpr quantity<U, T> operator*(double a, const quantity<U, T>& q) {
  return quantity<U, T>::from_value(a * q.value());
}
template <class U, class T>
requires hardchine::is_other_scalar<T>
constexpr quantity<U, T> operator*(const quantity<U, T>& q, double a) {
  return quantity<U, T>::from_value(q.value() * a);
}
template <class U, class T>
requires hardchine::is_other_scalar<T>
constexpr quantity<U, T> operator/(const quantity<U, T>& q, double a) {
  return quantity<U, T>::from_value(q.value() / a);
}
/// A scalar times a named unit.
template <class U, class T>
requires hardchine::is_other_scalar<T>
constexpr quantity<U, T> operator*(const T& a, const quantity<U, double>& q) {
  return quantity<U, T>::from_value(a * q.value());
}

/// @}

/// @name Comparisons
/// @{

/// Over a scalar of several lanes they give its mask.
template <class U, class T>
requires std::is_class_v<T>
constexpr auto operator<(const quantity<U, T>& a, const quantity<U, T>& b) { return a.value() < b.value(); }
template <class U, class T>
requires std::is_class_v<T>
constexpr auto operator>(const quantity<U, T>& a, const quantity<U, T>& b) { return a.value() > b.value(); }
template <class U, class T>
requires std::is_class_v<T>
constexpr auto operator<=(const quantity<U, T>& a, const quantity<U, T>& b) { return a.value() <= b.value(); }
template <class U, class T>
requires std::is_class_v<T>
constexpr auto operator>=(const quantity<U, T>& a, const quantity<U, T>& b) { return a.value() >= b.value(); }
/// @}

/// The quantity `a` where the mask holds, else `b`.
/// @param mask of one comparison
/// @param a any quantity
/// @param b any of the same dimension
/// @return one of the two, lane by lane
template <class Mask, class U, class T>
requires std::is_class_v<Mask>
constexpr quantity<U, T> select(const Mask& mask, const quantity<U, T>& a, const quantity<U, T>& b) {
  return quantity<U, T>::from_value(select(mask, a.value(), b.value()));
}

/// The magnitude of a quantity, lane by lane.
/// @param q any quantity
/// @return q or -q
template <class U, class T>
constexpr quantity<U, T> magnitude(const quantity<U, T>& q) {
  return quantity<U, T>::from_value(hardchine::magnitude(q.value()));
}

/// Square root of a quantity; the unit is the root of the unit. (Constrained so that it is preferred to that of
/// boost/units/cmath.hpp where a program includes both.)
/// @param q any quantity, positive in its coherent SI unit
/// @return its root
template <class U, class T>
requires(std::is_class_v<T> || std::is_floating_point_v<T>) constexpr auto sqrt(const quantity<U, T>& q) {
  using std::sqrt;
  using Root = typename root_typeof_helper<U, static_rational<2>>::type;
  return quantity<Root, T>::from_value(sqrt(q.value()));
}

}  // namespace boost::units

namespace hardchine {

/// The same quantity in another scalar: `widen<Dual<2>>(3.2 * metre)`.
/// @param q any quantity
/// @return the same over the other scalar
template <class To, class U, class T>
constexpr Quantity<U, To> widen(const Quantity<U, T>& q) {
  return Quantity<U, To>::from_value(To(q.value()));
}

/// The quantity without its derivatives.
/// @param q any quantity
/// @return the same as a plain quantity
template <class U, class T>
constexpr auto plain(const Quantity<U, T>& q) {
  return Quantity<U, Plain<T>>::from_value(plain(q.value()));
}

/// True where the quantity and all its derivatives are finite.
/// @param q any quantity
/// @return a mask
template <class U, class T>
constexpr auto is_finite(const Quantity<U, T>& q) {
  return is_finite(q.value());
}

}  // namespace hardchine
