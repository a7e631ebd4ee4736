#include "hardchine/scalar/dual.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <concepts>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "archetype.hpp"
#include "csv.hpp"
#include "hardchine/outcome.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
// Half a unit in the last place, relative.
constexpr double half_ulp = std::numeric_limits<double>::epsilon() / 2.0;

// What cancels in an expression: the largest terms of the value and of the derivative, over the result. Rounding errors
// are relative to those.
struct Cancellation {
  double value = 1.0;
  double derivative = 1.0;
};

// The expressions of tests/references/derivatives.csv, each written once for every scalar.
template <class T>
struct Expression {
  std::string_view text;
  T (*f)(const T&);
  Cancellation (*cancels)(double) = [](double) { return Cancellation{}; };
};

template <class T>
std::vector<Expression<T>> expressions() {
  return {
      {"exp(x)",
       [](const T& x) -> T {
         using std::exp;
         return exp(x);
       }},
      {"log(x)",
       [](const T& x) -> T {
         using std::log;
         return log(x);
       }},
      {"log10(x)",
       [](const T& x) -> T {
         using std::log10;
         return log10(x);
       }},
      {"sqrt(x)",
       [](const T& x) -> T {
         using std::sqrt;
         return sqrt(x);
       }},
      {"x^0.6",
       [](const T& x) -> T {
         using std::pow;
         return pow(x, 0.6);
       }},
      {"x^1.1",
       [](const T& x) -> T {
         using std::pow;
         return pow(x, 1.1);
       }},
      {"sin(x)",
       [](const T& x) -> T {
         using std::sin;
         return sin(x);
       }},
      {"cos(x)",
       [](const T& x) -> T {
         using std::cos;
         return cos(x);
       }},
      {"tan(x)",
       [](const T& x) -> T {
         using std::tan;
         return tan(x);
       }},
      {"atan(x)",
       [](const T& x) -> T {
         using std::atan;
         return atan(x);
       }},
      {"exp(sin(x))*x^1.1",
       [](const T& x) -> T {
         using std::exp, std::pow, std::sin;
         return exp(sin(x)) * pow(x, 1.1);
       }},
      {"0.075/(log10(x)-2)^2",
       [](const T& x) -> T {
         using std::log10;
         return 0.075 / integer_power<2>(T(log10(x) - 2.0));
       },
       [](double x) {
         const double lost = std::log10(x) / (std::log10(x) - 2.0);
         return Cancellation{2.0 * lost, 3.0 * lost};  // second and third power of the difference
       }},
      {"0.75-1/(5.21*x^2+2.39)", [](const T& x) -> T { return 0.75 - 1.0 / (5.21 * (x * x) + 2.39); }},
      {"sqrt(1-0.1*x/cos(x))",
       [](const T& x) -> T {
         using std::cos, std::sqrt;
         return sqrt(T(1.0 - 0.1 * x / cos(x)));
       }},
      {"x-0.195*x^0.6",
       [](const T& x) -> T {
         using std::pow;
         return x - 0.195 * pow(x, 0.6);
       },
       [](double x) {
         return Cancellation{x / std::abs(x - 0.195 * std::pow(x, 0.6)),
                             1.0 / std::abs(1.0 - 0.117 * std::pow(x, -0.4))};
       }},
      {"log(1+tan(x)^2)*atan(sqrt(x))",
       [](const T& x) -> T {
         using std::atan, std::log, std::sqrt, std::tan;
         return log(T(1.0 + integer_power<2>(T(tan(x))))) * atan(T(sqrt(x)));
       },
       [](double x) {
         const double lost = 1.0 / std::log(1.0 + std::tan(x) * std::tan(x));  // 1 + small, then its logarithm
         return Cancellation{std::max(1.0, lost), std::max(1.0, lost)};
       }},
      {"sin(x)/x",
       [](const T& x) -> T {
         using std::sin;
         return sin(x) / x;
       },
       [](double x) {
         const double derivative = (x * std::cos(x) - std::sin(x)) / (x * x);
         return Cancellation{1.0, std::max(1.0, std::abs(std::cos(x) / x / derivative))};
       }},
  };
}

struct ReferenceRow {
  std::string text;
  double x, value, derivative;
};
std::vector<ReferenceRow> reference_rows() {
  std::vector<ReferenceRow> rows;
  for (const CsvRow& row : read_csv("references/derivatives.csv"))
    rows.push_back({row.at("expr"), number(row, "x"), number(row, "value"), number(row, "derivative")});
  return rows;
}

template <class T>
const Expression<T>* find(const std::vector<Expression<T>>& list, std::string_view text) {
  const auto found = std::find_if(list.begin(), list.end(), [&](const auto& e) { return e.text == text; });
  return found == list.end() ? nullptr : &*found;
}

}  // namespace

TEST_CASE("values and derivatives equal mpmath's in 30 digits") {
  // Eight half units in the last place: a function of the C library is good to one unit (two halves), and the longest
  // chain (two functions, three operations) multiplies relative errors of that size; times what cancels.
  const auto list = expressions<Dual<1>>();
  const auto rows = reference_rows();
  CHECK(rows.size() >= 44);
  for (const ReferenceRow& row : rows) {
    CAPTURE(row.text);
    CAPTURE(row.x);
    const auto* expression = find(list, row.text);
    REQUIRE(expression != nullptr);
    const Dual<1> y = expression->f(Dual<1>::input(row.x, 0));
    const Cancellation cancels = expression->cancels(row.x);
    CHECK(y.value == relative(row.value, 8.0 * half_ulp * cancels.value));
    CHECK(y.derivative[0] == relative(row.derivative, 8.0 * half_ulp * cancels.derivative));
  }
  for (const auto& expression : list) {
    CAPTURE(expression.text);
    CHECK(std::any_of(rows.begin(), rows.end(), [&](const ReferenceRow& row) { return row.text == expression.text; }));
  }
}

TEST_CASE("a power at the ends of its range has the derivative of analysis") {
  const auto slope = [](double x, double p) { return pow(Dual<1>::input(x, 0), p).derivative[0]; };
  CHECK(slope(1e-200, 2.0) == relative(2e-200, 1e-15));  // the power itself is 0
  CHECK(slope(1e200, 2.0) == relative(2e200, 1e-15));    // and here infinite
  CHECK(slope(std::numeric_limits<double>::infinity(), 0.5) == 0.0);
  CHECK(slope(0.0, 2.0) == 0.0);
  CHECK(slope(4.0, 1.5) == relative(3.0, 1e-15));
}

TEST_CASE("the value is that of the scalar underneath, and Dual of Strict is Dual of double") {
  const auto plain_list = expressions<double>();
  const auto list = expressions<Dual<1>>();
  const auto strict_list = expressions<Dual<2, Strict>>();
  for (const ReferenceRow& row : reference_rows()) {
    CAPTURE(row.text);
    const Dual<1> y = find(list, row.text)->f(Dual<1>::input(row.x, 0));
    CHECK(y.value == find(plain_list, row.text)->f(row.x));
    const auto strict = find(strict_list, row.text)->f(Dual<2, Strict>::input(Strict(row.x), 1));
    CHECK(strict.value.reveal() == y.value);
    // Of a power double takes p x^p/x, any other scalar p x^(p - 1): two roundings apart.
    CHECK(strict.derivative[1].reveal() == relative(y.derivative[0], 5e-16));
    CHECK(strict.derivative[0].reveal() == 0.0);
  }
}

TEST_CASE("second derivatives by Dual of Dual") {
  const auto second_derivative = [](auto f, double x) {
    using T = Dual<1, Dual<1>>;
    return f(T::input(Dual<1>::input(x, 0), 0)).derivative[0].derivative[0];
  };
  // Closed forms; each is one or two library functions and a product: 4e-16.
  CHECK(second_derivative([](const auto& x) { return integer_power<3>(x); }, 1.5) == 9.0);
  CHECK(second_derivative([](const auto& x) { return exp(x); }, 0.7) == relative(std::exp(0.7), 4e-16));
  CHECK(second_derivative([](const auto& x) { return sin(x); }, 0.7) == relative(-std::sin(0.7), 4e-16));
  CHECK(second_derivative([](const auto& x) { return log(x); }, 0.7) == relative(-1.0 / 0.49, 6e-16));
  CHECK(second_derivative([](const auto& x) { return sqrt(x); }, 4.0) == relative(-1.0 / 32.0, 4e-16));
  CHECK(second_derivative([](const auto& x) { return pow(x, 2.5); }, 1.3) == relative(3.75 * std::sqrt(1.3), 6e-16));
  CHECK(second_derivative([](const auto& x) { return 1.0 / x; }, 2.0) == 0.25);
}

TEST_CASE("arithmetic follows the rules of differentiation") {
  // u = x y, w = x + 2 y with inputs x, y: closed forms of every operation. Sums and single products are exact rules;
  // 6e-16: at most five roundings of 1.1e-16 in the longest (the quotient), of terms that do not cancel.
  std::mt19937_64 random(7);
  std::uniform_real_distribution<double> uniform(0.5, 3.0);
  for (int i = 0; i < 200; ++i) {
    const double x = uniform(random), y = uniform(random), c = uniform(random);
    const auto a = Dual<2>::input(x, 0), b = Dual<2>::input(y, 1);
    const auto is = [](const Dual<2>& r, double v, double dx, double dy) {
      CHECK(r.value == relative(v, 6e-16));
      CHECK(r.derivative[0] == relative(dx, 6e-16));
      CHECK(r.derivative[1] == relative(dy, 6e-16));
    };
    is(a + b, x + y, 1.0, 1.0);
    is(a - b, x - y, 1.0, -1.0);
    is(a * b, x * y, y, x);
    is(a / b, x / y, 1.0 / y, -x / (y * y));
    is(-a, -x, -1.0, 0.0);
    is(a + c, x + c, 1.0, 0.0);
    is(c + a, c + x, 1.0, 0.0);
    is(a - c, x - c, 1.0, 0.0);
    is(c - a, c - x, -1.0, 0.0);
    is(a * c, x * c, c, 0.0);
    is(c * a, c * x, c, 0.0);
    is(a / c, x / c, 1.0 / c, 0.0);
    is(c / a, c / x, -c / (x * x), 0.0);
    Dual<2> r = a;
    r += b;
    is(r, x + y, 1.0, 1.0);
    r *= b;
    is(r, (x + y) * y, y, x + 2.0 * y);
    r -= a;
    CHECK(r.derivative[0] == absolute(y - 1.0, 4e-16));
    r = a;
    r /= b;
    is(r, x / y, 1.0 / y, -x / (y * y));
    // An operand may be the target.
    r = a;
    const Dual<2>& same = r;
    r *= same;
    is(r, x * x, 2.0 * x, 0.0);
    r = a;
    r /= same;
    CHECK(r.value == 1.0);
    CHECK(r.derivative[0] == 0.0);
  }
  // At compile time too.
  constexpr Dual<1> three = Dual<1>::input(3.0, 0);
  static_assert((three * three + 1.0 / three).value == 9.0 + 1.0 / 3.0);
  static_assert((2.0 * three - 1.0).derivative[0] == 2.0);
}

TEST_CASE("compositions that undo each other leave the input") {
  std::mt19937_64 random(8);
  std::uniform_real_distribution<double> uniform(0.2, 1.2);
  for (int i = 0; i < 200; ++i) {
    const double v = uniform(random);
    CAPTURE(v);
    const auto x = Dual<1>::input(v, 0);
    // Tolerances: the units in the last place of two functions, times the condition of the outer one.
    CHECK(exp(log(x)).value == relative(v, 4.0 * half_ulp));
    CHECK(exp(log(x)).derivative[0] == relative(1.0, 6.0 * half_ulp));
    CHECK(log(exp(x)).derivative[0] == relative(1.0, 4.0 * half_ulp));
    CHECK((sqrt(x) * sqrt(x)).derivative[0] == relative(1.0, 4.0 * half_ulp));
    CHECK(tan(atan(x)).derivative[0] == relative(1.0, 10.0 * half_ulp));
    CHECK(pow(pow(x, 0.4), 2.5).derivative[0] == relative(1.0, 16.0 * half_ulp));
    CHECK((log10(x) / std::numbers::log10e).derivative[0] == relative(log(x).derivative[0], 4.0 * half_ulp));
    CHECK((sin(x) * sin(x) + cos(x) * cos(x)).derivative[0] == absolute(0.0, 8.0 * half_ulp));
    CHECK((sin(x) / cos(x)).derivative[0] == relative(tan(x).derivative[0], 16.0 * half_ulp));
    const Dual<1> e = exp(2.0 * x);
    CHECK(tanh(x).value == relative(((e - 1.0) / (e + 1.0)).value, 32.0 * half_ulp));
    CHECK(tanh(x).derivative[0] == relative(1.0 / (std::cosh(v) * std::cosh(v)), 16.0 * half_ulp));
  }
  // Far out the slope of tanh is what 1 - v^2 leaves: right in absolute terms.
  CHECK(tanh(Dual<1>::input(18.0, 0)).derivative[0] ==
        absolute(1.0 / (std::cosh(18.0) * std::cosh(18.0)), 2.0 * half_ulp));
}

TEST_CASE("a gradient with respect to three inputs") {
  const auto f = [](const auto& x, const auto& y, const auto& z) { return x * y / z + sqrt(x) * exp(-y) - 2.0 * z; };
  const double x = 2.0, y = 0.5, z = 4.0;
  const auto r = f(Dual<3>::input(x, 0), Dual<3>::input(y, 1), Dual<3>::input(z, 2));
  // Closed form, a few roundings.
  CHECK(r.value == rounding(x * y / z + std::sqrt(x) * std::exp(-y) - 2.0 * z));
  CHECK(r.derivative[0] == rounding(y / z + 0.5 / std::sqrt(x) * std::exp(-y)));
  CHECK(r.derivative[1] == rounding(x / z - std::sqrt(x) * std::exp(-y)));
  CHECK(r.derivative[2] == rounding(-x * y / (z * z) - 2.0));
}

TEST_CASE("comparisons look at the value only") {
  auto low = Dual<2>::input(1.0, 0), high = Dual<2>::input(2.0, 1), same = Dual<2>(1.0);
  low.derivative = {100.0, infinite};
  static_assert(std::same_as<decltype(low < high), bool>);
  CHECK(low < high);
  CHECK(high > low);
  CHECK(low <= same);
  CHECK(low >= same);
  CHECK_FALSE(low < same);
  CHECK_FALSE(low > same);
  CHECK(low < 1.5);
  CHECK(0.5 < low);
  const Dual<2> nothing(not_a_number);
  CHECK_FALSE(nothing < low);
  CHECK_FALSE(nothing >= low);
  // Over a scalar of lanes the comparison is its mask.
  static_assert(std::same_as<decltype(Dual<1, Strict>() < Dual<1, Strict>()), StrictMask>);
}

TEST_CASE("at a kink the derivative is that of the chosen side") {
  const auto x = Dual<1>::input(3.0, 0);
  const Dual<1> square = x * x, line = 2.0 * x;
  CHECK(select(square < line, square, line).derivative[0] == 2.0);
  CHECK(select(square > line, square, line).derivative[0] == 6.0);
  CHECK(larger(square, line).derivative[0] == 6.0);
  CHECK(smaller(square, line).derivative[0] == 2.0);
  CHECK(larger(line, 7.0).derivative[0] == 0.0);
  CHECK(magnitude(Dual<1>::input(-3.0, 0)).derivative[0] == -1.0);
  CHECK(magnitude(Dual<1>::input(3.0, 0)).derivative[0] == 1.0);
  CHECK(std::abs(magnitude(Dual<1>::input(0.0, 0)).derivative[0]) == 1.0);  // one of the two sides
  // The side that was not chosen does not leak, not even a NaN.
  CHECK(select(x > 0.0, x, Dual<1>(not_a_number)).derivative[0] == 1.0);
  // Over a scalar with a mask of its own, value and derivatives are chosen together.
  using D = Dual<2, Strict>;
  const D a = D::input(Strict(3.0), 0), b = D::input(Strict(2.0), 1);
  const D chosen = select(a < b, a, b);
  CHECK(chosen.value.reveal() == 2.0);
  CHECK(chosen.derivative[0].reveal() == 0.0);
  CHECK(chosen.derivative[1].reveal() == 1.0);
  CHECK(larger(a, b).derivative[0].reveal() == 1.0);
}

TEST_CASE("finite looks at the derivatives too; the ends of a domain show") {
  using hardchine::is_finite;  // math.h of the C library has one, too
  CHECK(is_finite(Dual<2>::input(1.0, 1)));
  for (const double bad : {infinite, -infinite, not_a_number}) {
    CHECK_FALSE(is_finite(Dual<2>(bad)));
    for (const std::size_t i : {0U, 1U}) {
      Dual<2> x(1.0);
      x.derivative[i] = bad;
      CHECK_FALSE(is_finite(x));
      CHECK_FALSE(is_finite(Length<Dual<2>>::from_value(x)));
    }
  }
  Dual<1, Strict> strict(1.0);
  CHECK(all(is_finite(strict)));
  strict.derivative[0] = Strict(infinite);
  CHECK_FALSE(any(is_finite(strict)));

  const auto zero = Dual<1>::input(0.0, 0);
  CHECK(sqrt(zero).value == 0.0);
  CHECK(sqrt(zero).derivative[0] == infinite);
  CHECK(pow(zero, 0.6).derivative[0] == infinite);
  CHECK(pow(zero, 1.0).derivative[0] == 1.0);
  CHECK(pow(zero, 2.0).derivative[0] == 0.0);
  CHECK(log(zero).derivative[0] == infinite);
  CHECK_FALSE(is_finite(sqrt(zero)));
  CHECK_FALSE(is_finite(sqrt(Dual<1>::input(-1.0, 0))));
  CHECK_FALSE(is_finite(1.0 / zero));
}

TEST_CASE("constants have no derivatives, inputs one") {
  const Dual<3> nothing, constant = 4.5;
  CHECK(nothing.value == 0.0);
  CHECK(constant.value == 4.5);
  for (const double d : constant.derivative) CHECK(d == 0.0);
  const auto second_input = Dual<3>::input(4.5, 1);
  CHECK(second_input.derivative == std::array{0.0, 1.0, 0.0});
  CHECK(plain(second_input) == 4.5);
  const Dual<2, Strict> over_strict(Strict(3.0));
  CHECK(over_strict.value.reveal() == 3.0);
  CHECK(plain(over_strict).reveal() == 3.0);
  // A number enters, a Dual never leaves by itself.
  static_assert(std::convertible_to<double, Dual<2>> && !std::convertible_to<Dual<2>, double>);
  static_assert(!std::convertible_to<Dual<2>, Dual<3>>);
}

TEST_CASE("seed and derivative carry units") {
  // Distance = speed x time, both inputs.
  const Speed<Dual<2>> speed = seed<2>(27.0 * knot, 0);
  const Duration<Dual<2>> time = seed<2>(0.5 * hour, 1);
  const Length<Dual<2>> distance = speed * time;
  CHECK(in(plain(distance), nautical_mile) == relative(13.5, 4.5e-16));
  // d(distance)/d(speed) = time, per metre per second; d(distance)/d(time) = speed, per second.
  CHECK(in(derivative(distance, 0), metre) == 1800.0);
  CHECK(in(derivative(distance, 1), metre) == in(27.0 * knot, metre_per_second));
  static_assert(std::same_as<decltype(derivative(distance, 0)), Length<>>);
  static_assert(std::same_as<decltype(seed<3>(metre, 0)), Length<Dual<3>>>);
  // A root of a quantity: V = sqrt(g h), dV/dh = V/(2 h).
  const auto depth = seed<1>(6.0 * metre, 0);
  const Speed<Dual<1>> critical = sqrt(standard_gravity * depth);
  CHECK(in(plain(critical), knot) == printed(14.9107, 4));  // critical speed at 6 m (derived by independent code)
  CHECK(in(derivative(critical, 0), metre_per_second) == rounding(in(plain(critical), metre_per_second) / 12.0));
  // Over the strict scalar.
  const auto strict = Length<Dual<1, Strict>>::from_value(Dual<1, Strict>::input(Strict(3.0), 0));
  const Area<Dual<1, Strict>> area = strict * strict;
  CHECK(in(derivative(area, 0), square_metre).reveal() == 6.0);
}
