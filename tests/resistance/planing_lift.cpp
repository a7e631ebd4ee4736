#include "hardchine/resistance/planing_lift.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("savitsky_1964 Table 1: tau^1.1 and the flat lift that the load asks for") {
  // Printed 2.14, 3.35, 4.59 at 2, 3, 4 degrees; 4.59 is printed for 4.5948 (cut, not rounded): one unit.
  CHECK(planing_detail::trim_power(2.0 * degree) == printed(2.14, 2));
  CHECK(planing_detail::trim_power(3.0 * degree) == printed(3.35, 2));
  CHECK(planing_detail::trim_power(4.0 * degree) == absolute(4.59, 0.01));
  // W 60,000 lb, b 14 ft, 67.5 ft/s, 1.94 slug/ft3: printed C_Lb .069, C_L0 .085 read from a chart (1.3 %).
  const Force<> load = 60000.0 * pound_force;
  const double C_Lb = load / (0.5 * (1.94 * slug_per_cubic_foot * (67.5 * foot_per_second) * (67.5 * foot_per_second) *
                                     (14.0 * foot) * (14.0 * foot)));
  CHECK(C_Lb == printed(.069, 3));
  const double C_L0 = flat_lift_from_deadrise_lift(C_Lb, 10.0 * degree);
  CHECK(C_L0 == relative(.085, 0.013));
  CHECK(C_L0 == printed(.083967, 6));  // computed independently of this library
}

TEST_CASE("inverse of the deadrise correction: values computed independently of this library") {
  struct Row {
    double lift, beta, flat;
  };
  for (const Row& r : {Row{.05, 10, .062290400}, Row{.05, 20, .078168392}, Row{.05, 30, .098556246},
                       Row{.01, 30, .036954912}, Row{.2, 15, .241575379}, Row{.002, 25, .015161075}}) {
    CAPTURE(r.lift);
    CAPTURE(r.beta);
    CHECK(flat_lift_from_deadrise_lift(r.lift, r.beta * degree) == printed(r.flat, 9));
  }
  CHECK(flat_lift_from_deadrise_lift(0.07, 0.0 * degree) == rounding(0.07));
}

TEST_CASE("the inverse returns: eq 16 of its answer is the lift, from tiny to huge") {
  for (const double beta : {0.0, 0.5, 5.0, 20.0, 45.0})
    for (double lift = 1e-6; lift < 100.0; lift *= 7.0) {
      CAPTURE(beta);
      CAPTURE(lift);
      const double flat = flat_lift_from_deadrise_lift(lift, beta * degree);
      // The difference in eq 16 cancels: rounding grows by flat/lift.
      CHECK(deadrise_lift_coefficient(flat, beta * degree) == absolute(lift, 4e-15 * flat));
    }
  CHECK_THROWS_AS(flat_lift_coefficient({.trim = 3.0 * degree}), BadInput);
  CHECK_THROWS_AS(
      dynamic_lift_coefficient({.trim = 3.0 * degree, .mean_wetted_ratio = -1.0, .beam_froude_number = 2.0}), BadInput);
  CHECK_THROWS_AS(centre_of_pressure_ratio(WettedBottom<>{}), BadInput);
  CHECK_THROWS_AS(deadrise_lift_coefficient(0.1, 46.0 * degree), BadInput);
  CHECK_THROWS_AS(flat_lift_from_deadrise_lift(0.0, 10.0 * degree), BadInput);
  CHECK_THROWS_AS(flat_lift_from_deadrise_lift(-0.1, 10.0 * degree), BadInput);
  CHECK_THROWS_AS(flat_lift_from_deadrise_lift(std::nan(""), 10.0 * degree), BadInput);
}

TEST_CASE("centre of pressure: the limits of eq 28 and savitsky_1964 Table 1") {
  // At C_v 50, lambda 0.01 the second term of eq 28 is 8e-9; at lambda 60, C_v 0.001 the first of its denominator 1e-9.
  CHECK(centre_of_pressure_ratio({0.01, 50.0}) == absolute(0.75, 1e-8));
  CHECK(centre_of_pressure_ratio({60.0, 1e-3}) == absolute(0.75 - 1.0 / 2.39, 1e-9));
  // Printed .59, .65, .70, read from a chart at chart lambdas: 1.3 % of the formula at the lambdas that eq 15 gives
  // (3.83495, 2.57830, 1.77536; computed independently of this library), C_v = 67.5/sqrt(32.2 x 14).
  const double C_v = 67.5 / std::sqrt(32.2 * 14.0);
  CHECK(centre_of_pressure_ratio({3.83495, C_v}) == relative(.59, 0.013));
  CHECK(centre_of_pressure_ratio({2.57830, C_v}) == relative(.65, 0.013));
  CHECK(centre_of_pressure_ratio({1.77536, C_v}) == relative(.70, 0.013));
}

TEST_CASE("lift formula by another route: the two terms written out") {
  const double tau = 3.3, lambda = 2.2, C_v = 2.7;
  const double expected = std::exp(1.1 * std::log(tau)) *
                          (0.0120 * std::sqrt(lambda) + 0.0055 * std::exp(2.5 * std::log(lambda)) / (C_v * C_v));
  CHECK(flat_lift_coefficient({.trim = tau * degree, .mean_wetted_ratio = lambda, .beam_froude_number = C_v}) ==
        rounding(expected));
}

TEST_CASE("one formula for every scalar") {
  const PlaningAttitude<> a{.trim = 3.0 * degree, .mean_wetted_ratio = 2.0, .beam_froude_number = 3.0};
  const PlaningAttitude<Strict> s{
      .trim = widen<Strict>(3.0 * degree), .mean_wetted_ratio = Strict(2.0), .beam_froude_number = Strict(3.0)};
  CHECK(flat_lift_coefficient(s).reveal() == rounding(flat_lift_coefficient(a)));
  CHECK(dynamic_lift_coefficient(s).reveal() == rounding(dynamic_lift_coefficient(a)));
  // Not bitwise: a compiler may fuse multiply and add where it folds constants.
  CHECK(centre_of_pressure_ratio<Strict>({Strict(2.0), Strict(3.0)}).reveal() ==
        rounding(centre_of_pressure_ratio({2.0, 3.0})));
  CHECK(flat_lift_from_deadrise_lift(Strict(0.05), widen<Strict>(20.0 * degree)).reveal() ==
        flat_lift_from_deadrise_lift(0.05, 20.0 * degree));

  // Derivatives of the inverse by the rule for inverse functions: 1/(1 - 0.6 k C^-0.4) and k-part by hand.
  const double C = flat_lift_from_deadrise_lift(0.05, 20.0 * degree);
  const auto d = flat_lift_from_deadrise_lift(Dual<2>::input(0.05, 0), seed<2>(20.0 * degree, 1));
  const double slope = 1.0 - 0.6 * 0.0065 * 20.0 * std::pow(C, -0.4);
  CHECK(d.value == C);
  CHECK(d.derivative[0] == relative(1.0 / slope, 1e-13));
  CHECK(d.derivative[1] == relative(0.0065 / degree.value() * std::pow(C, 0.6) / slope, 1e-13));
}
