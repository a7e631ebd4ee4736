#include "hardchine/scalar/scalar.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "archetype.hpp"
#include "hardchine/outcome.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

double revealed(double x) { return x; }
double revealed(const Strict& x) { return x.reveal(); }
template <int N, class B>
double revealed(const Dual<N, B>& x) {
  return revealed(x.value);
}

static_assert(Scalar<double> && Scalar<long double> && Scalar<Strict>);
static_assert(Scalar<Dual<1>> && Scalar<Dual<3>> && Scalar<Dual<2, Strict>> && Scalar<Dual<2, Dual<2>>>);
static_assert(!Scalar<int> && !Scalar<float> && !Scalar<Speed<>> && !Scalar<std::string> && !Scalar<Unset>);

static_assert(std::same_as<MaskOf<double>, bool> && std::same_as<MaskOf<Dual<3>>, bool>);
static_assert(std::same_as<MaskOf<Strict>, StrictMask> && std::same_as<MaskOf<Dual<2, Strict>>, StrictMask>);
static_assert(std::same_as<Plain<double>, double> && std::same_as<Plain<Strict>, Strict>);
static_assert(std::same_as<Plain<Dual<3>>, double> && std::same_as<Plain<Dual<2, Strict>>, Strict>);
static_assert(std::same_as<Plain<Dual<2, Dual<2>>>, double>);

// The archetype is as strict as it says: no way out to a number or to a truth value, no way in but by name.
static_assert(!std::convertible_to<Strict, double> && !std::convertible_to<double, Strict>);
static_assert(!std::constructible_from<bool, StrictMask> && !std::constructible_from<double, Strict>);

// A lane mask is refused where a truth value is due.
template <class T>
concept branches = requires(const T& a, const T& b) {
  (a < b) ? 1 : 0;
};
static_assert(branches<double> && branches<Dual<3>> && !branches<Strict> && !branches<Dual<2, Strict>>);

// Quantities over every scalar take a double factor: Boost's own want the same type.
template <class Q>
concept scales = requires(const Q& q) {
  2.0 * q;
};
static_assert(scales<Length<Strict>> && scales<Length<Dual<2>>> && scales<Length<>> && scales<Length<long double>>);
static_assert(!scales<std::string>);

}  // namespace

TEST_CASE("masks of one lane") {
  static_assert(select(true, 1.0, 2.0) == 1.0 && select(false, 1.0, 2.0) == 2.0);
  static_assert(any(true) && !any(false) && all(true) && !all(false));
  for (const bool a : {false, true}) {
    CHECK(negate(a) == !a);
    for (const bool b : {false, true}) {
      CHECK(both(a, b) == (a && b));
      CHECK(either(a, b) == (a || b));
    }
  }
}

TEST_CASE_TEMPLATE("select, smaller, larger, magnitude", T, double, Dual<3>, Strict, Dual<2, Strict>,
                   Dual<1, Dual<1>>) {
  const T one(1.0), two(2.0), minus_two(-2.0);
  CHECK(revealed(select(one < two, one, two)) == 1.0);
  CHECK(revealed(select(one > two, one, two)) == 2.0);
  CHECK(revealed(select(one <= one, one, two)) == 1.0);
  CHECK(revealed(select(one >= two, one, two)) == 2.0);
  CHECK(revealed(smaller(one, two)) == 1.0);
  CHECK(revealed(smaller(two, one)) == 1.0);
  CHECK(revealed(smaller(one, one)) == 1.0);
  CHECK(revealed(larger(one, two)) == 2.0);
  CHECK(revealed(larger(two, minus_two)) == 2.0);
  CHECK(revealed(magnitude(minus_two)) == 2.0);
  CHECK(revealed(magnitude(two)) == 2.0);
  CHECK(revealed(magnitude(T(0.0))) == 0.0);
  CHECK(revealed(magnitude(T(-infinite))) == infinite);
  CHECK(std::isnan(revealed(magnitude(T(not_a_number)))));
  // A comparison with a NaN is false both ways.
  CHECK_FALSE(any(either(T(not_a_number) < one, T(not_a_number) >= one)));
}

TEST_CASE_TEMPLATE("plain and finite", T, double, Dual<3>, Strict, Dual<2, Strict>, Dual<1, Dual<1>>) {
  using hardchine::is_finite;  // math.h of the C library has one, too
  CHECK(revealed(plain(T(-2.5))) == -2.5);
  static_assert(std::same_as<std::remove_cvref_t<decltype(plain(T(0.0)))>, Plain<T>>);
  CHECK(all(is_finite(T(1e308))));
  CHECK_FALSE(any(is_finite(T(infinite))));
  CHECK_FALSE(any(is_finite(T(-infinite))));
  CHECK_FALSE(any(is_finite(T(not_a_number))));
}

TEST_CASE_TEMPLATE("integer_power multiplies", T, double, Dual<3>, Strict, Dual<2, Strict>) {
  // Powers of small whole numbers and of 1.5 are exact in double.
  const T x(1.5), minus_three(-3.0);
  CHECK(revealed(integer_power<0>(x)) == 1.0);
  CHECK(revealed(integer_power<1>(x)) == 1.5);
  CHECK(revealed(integer_power<2>(x)) == 2.25);
  CHECK(revealed(integer_power<3>(x)) == 3.375);
  CHECK(revealed(integer_power<4>(x)) == 5.0625);
  CHECK(revealed(integer_power<7>(x)) == 17.0859375);
  CHECK(revealed(integer_power<3>(minus_three)) == -27.0);
  CHECK(revealed(integer_power<6>(minus_three)) == 729.0);
  CHECK(revealed(integer_power<-1>(T(4.0))) == 0.25);
  CHECK(revealed(integer_power<-3>(T(2.0))) == 0.125);
  CHECK(revealed(integer_power<0>(T(0.0))) == 1.0);
  CHECK(revealed(integer_power<-2>(T(0.0))) == infinite);
}

TEST_CASE("long double, as far as it goes") {
  // Numbers only: see the quantities above; and a formula with double constants would warn of promotion on clang.
  const long double third = 1.0L / 3.0L;
  CHECK(plain(third) == third);
  CHECK(hardchine::is_finite(third));
  CHECK_FALSE(hardchine::is_finite(std::numeric_limits<long double>::infinity()));
  CHECK(select(third < 1.0L, third, 1.0L) == third);
  CHECK(larger(third, 1.0L) == 1.0L);
  CHECK(integer_power<3>(3.0L) == 27.0L);
}

TEST_CASE("integer_power has the derivative n x^(n-1)") {
  const Dual<1> x = Dual<1>::input(1.5, 0);
  CHECK(integer_power<0>(x).derivative[0] == 0.0);
  CHECK(integer_power<1>(x).derivative[0] == 1.0);
  CHECK(integer_power<3>(x).derivative[0] == 3.0 * 2.25);
  CHECK(integer_power<6>(x).derivative[0] == 6.0 * 7.59375);
  CHECK(integer_power<-2>(Dual<1>::input(2.0, 0)).derivative[0] == -2.0 / 8.0);
  // Also at zero, where a real power has no finite slope.
  CHECK(integer_power<2>(Dual<1>::input(0.0, 0)).derivative[0] == 0.0);
}

TEST_CASE_TEMPLATE("quantities over other scalars", T, Dual<3>, Strict, Dual<2, Strict>) {
  const Length<T> a = T(3.0) * metre;
  const Length<T> b = widen<T>(4.0 * metre);
  const auto metres = [](const Length<T>& q) { return revealed(in(q, metre)); };
  // Numbers on both sides.
  CHECK(metres(2.0 * a) == 6.0);
  CHECK(metres(a * 2.0) == 6.0);
  CHECK(metres(a / 2.0) == 1.5);
  CHECK(metres(-a) == -3.0);
  CHECK(metres(a + b) == 7.0);
  CHECK(metres(a - b) == -1.0);
  Length<T> sum = a;
  sum += b;
  CHECK(metres(sum) == 7.0);
  sum -= a;
  CHECK(metres(sum) == 4.0);
  // Scalars of the same type.
  CHECK(metres(T(2.0) * a) == 6.0);
  CHECK(metres(a * T(2.0)) == 6.0);
  // Units multiply; a ratio is plain.
  const Area<T> area = a * b;
  CHECK(revealed(in(area, square_metre)) == 12.0);
  const T ratio = a / b;
  CHECK(revealed(ratio) == 0.75);
  const Speed<T> speed = a / (2.0 * second);
  CHECK(revealed(in(speed, metre_per_second)) == 1.5);
  const Moment<T> moment = a * (5.0 * newton);
  CHECK(revealed(in(moment, newton_metre)) == 15.0);
  // Comparisons give masks; select, magnitude, root.
  CHECK(all(both(a < b, both(b > a, both(a <= a, b >= b)))));
  CHECK_FALSE(any(either(a > b, a >= b)));
  CHECK(metres(select(a < b, a, b)) == 3.0);
  CHECK(metres(select(a > b, a, b)) == 4.0);
  CHECK(metres(magnitude(-b)) == 4.0);
  CHECK(metres(magnitude(b)) == 4.0);
  CHECK(metres(sqrt(a * a)) == 3.0);
  CHECK(metres(smaller(b, a)) == 3.0);
  CHECK(metres(larger(b, a)) == 4.0);
  // Plain and finite.
  CHECK(revealed(in(plain(a), metre)) == 3.0);
  CHECK(all(is_finite(a)));
  CHECK_FALSE(any(is_finite(Length<T>(unset))));
}

TEST_CASE("quantities over double, by the same words") {
  const Length<> a = 3.0 * metre, b = 4.0 * metre;
  CHECK(in(select(a < b, a, b), metre) == 3.0);
  CHECK(in(magnitude(-1.0 * b), metre) == 4.0);
  CHECK(in(sqrt(a * a + b * b), metre) == 5.0);
  CHECK(in(smaller(a, b), metre) == 3.0);
  CHECK(in(larger(a, b), metre) == 4.0);
  CHECK(in(plain(a), metre) == 3.0);
  CHECK(is_finite(a));
  CHECK_FALSE(is_finite(a / 0.0));
  const Speed<> speed = sqrt(standard_gravity * (2.0 * metre));
  CHECK(in(speed, metre_per_second) == relative(4.428690551393267, 2.3e-16));  // sqrt(19.6133), 16 figures by hand
  static_assert(std::same_as<decltype(widen<Dual<2>>(a)), Length<Dual<2>>>);
}
