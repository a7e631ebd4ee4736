#include "hardchine/craft/operating_point.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

double revealed(double x) { return x; }
double revealed(const Strict& x) { return x.reveal(); }
double revealed(const Dual<1>& x) { return x.value; }

// Field number i holds `start` + i in SI; the numbers differ, so that a mixed-up field shows.
template <class T>
OperatingPoint<T> numbered(double start) {
  OperatingPoint<T> point;
  double x = start;
  for_each_field(point, [&](const auto&, auto& value) {
    using V = std::remove_cvref_t<decltype(value)>;
    if constexpr (is_quantity<V>)
      value = V::from_value(T(x));
    else
      value = V(x);
    x += 1.0;
  });
  return point;
}

template <class T>
std::vector<double> numbers(const OperatingPoint<T>& point) {
  std::vector<double> list;
  for_each_field(point, [&](const auto&, const auto& value) { list.push_back(revealed(bare_value(value))); });
  return list;
}

template <class T>
RunningState<T> running() {
  RunningState<T> state;
  state.outcome = Outcome::converged;
  state.speed = T(15.0) * metre_per_second;
  state.beam_froude_number = T(2.7);
  state.volume_froude_number = T(3.4);
  state.trim = T(4.1) * degree;
  state.mean_wetted_ratio = T(2.2);
  state.bare_drag = T(11.0) * kilonewton;
  state.total_drag = T(14.0) * kilonewton;
  state.effective_power = T(210.0) * kilowatt;
  // What must not be taken for the above.
  state.bare_effective_power = T(165.0) * kilowatt;
  state.thrust = T(12.0) * kilonewton;
  state.bottom_velocity = T(14.0) * metre_per_second;
  return state;
}

}  // namespace

TEST_CASE_TEMPLATE("the difference of two points is taken field by field", T, double, Strict, Dual<1>) {
  const OperatingPoint<T> a = numbered<T>(100.0), b = numbered<T>(1.0);
  const OperatingPoint<T> d = a - b;
  CHECK(d.origin == PointOrigin::difference);
  const std::vector<double> list = numbers(d);
  REQUIRE(list.size() == static_cast<std::size_t>(count_fields<OperatingPoint<T>>()));
  REQUIRE(list.size() == 12);
  for (const double x : list) CHECK(x == 99.0);
  for (const double x : numbers(b - a)) CHECK(x == -99.0);
  for (const double x : numbers(a - a)) CHECK(x == 0.0);
}

TEST_CASE("what is unset on either side is unset in the difference, and nothing else") {
  const int n = count_fields<OperatingPoint<>>();
  for (int left = 0; left < n; ++left) {
    OperatingPoint<> a = numbered<double>(100.0), b = numbered<double>(1.0);
    const int right = (left + 5) % n;
    const auto clear = [](OperatingPoint<>& point, int index) {
      int i = 0;
      for_each_field(point, [&](const auto&, auto& value) {
        if (i++ == index) value = unset;
      });
    };
    clear(a, left);
    clear(b, right);
    const std::vector<double> list = numbers(a - b);
    for (int i = 0; i < n; ++i) CHECK(std::isnan(list[static_cast<std::size_t>(i)]) == (i == left || i == right));
  }
}

TEST_CASE("a measured and a predicted point compare") {
  const OperatingPoint<> measured{.origin = PointOrigin::measured,
                                  .speed = 30.0 * knot,
                                  .engine_speed = 2800.0 * rpm,
                                  .fuel_flow = 120.0 * litre_per_hour,
                                  .trim = 4.5 * degree};
  const OperatingPoint<> predicted{
      .origin = PointOrigin::predicted, .speed = 31.0 * knot, .trim = 4.1 * degree, .total_drag = 14.0 * kilonewton};
  const OperatingPoint<> d = predicted - measured;
  // One subtraction of doubles: an ulp of the larger.
  CHECK(in(d.speed, knot) == absolute(1.0, 1e-14));
  CHECK(in(d.trim, degree) == absolute(-0.4, 2e-15));
  CHECK_FALSE(is_set(d.engine_speed));
  CHECK_FALSE(is_set(d.fuel_flow));
  CHECK_FALSE(is_set(d.total_drag));
  CHECK_NOTHROW(check_fields("compare", measured));
  CHECK_NOTHROW(check_fields("compare", predicted));
}

TEST_CASE_TEMPLATE("a predicted point takes the total drag and power of its running state", T, double, Strict,
                   Dual<1>) {
  const RunningState<T> state = running<T>();
  const OperatingPoint<T> point = predicted_point(state, T(10245.0) * kilogram);
  CHECK(point.origin == PointOrigin::predicted);
  CHECK(revealed(in(point.speed, metre_per_second)) == 15.0);
  CHECK(revealed(in(point.displacement, kilogram)) == 10245.0);
  CHECK(revealed(point.beam_froude_number) == 2.7);
  CHECK(revealed(point.volume_froude_number) == 3.4);
  CHECK(revealed(in(point.trim, degree)) == 4.1);
  CHECK(revealed(point.mean_wetted_ratio) == 2.2);
  CHECK(revealed(in(point.bare_drag, kilonewton)) == 11.0);
  CHECK(revealed(in(point.total_drag, kilonewton)) == 14.0);
  CHECK(revealed(in(point.effective_power, kilowatt)) == 210.0);
  // A resistance method knows nothing of engines.
  CHECK_FALSE(is_set(point.engine_speed));
  CHECK_FALSE(is_set(point.fuel_flow));
  CHECK_FALSE(is_set(point.brake_power));
  CHECK_NOTHROW(check_fields("compare", point));
}

TEST_CASE("a state without an answer gives a point without one") {
  RunningState<> state;
  state.speed = 15.0 * metre_per_second;
  CHECK(state.outcome == Outcome::not_converged);
  CHECK(state.flags == 0U);
  CHECK(state.method == nullptr);
  const OperatingPoint<> point = predicted_point(state, 10245.0 * kilogram);
  CHECK(in(point.speed, metre_per_second) == 15.0);
  CHECK(in(point.displacement, kilogram) == 10245.0);
  CHECK_FALSE(is_set(point.trim));
  CHECK_FALSE(is_set(point.mean_wetted_ratio));
  CHECK_FALSE(is_set(point.bare_drag));
  CHECK_FALSE(is_set(point.total_drag));
  CHECK_FALSE(is_set(point.effective_power));
}

TEST_CASE("differences carry derivatives") {
  OperatingPoint<Dual<1>> a = numbered<double>(100.0);
  a.fuel_flow = seed<1>(120.0 * litre_per_hour, 0);
  const OperatingPoint<Dual<1>> d = a - OperatingPoint<Dual<1>>(numbered<double>(1.0));
  CHECK(d.fuel_flow.value().derivative[0] == 1.0);
  CHECK(d.trim.value().derivative[0] == 0.0);
}
