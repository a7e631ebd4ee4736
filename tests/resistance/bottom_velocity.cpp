#include "hardchine/resistance/bottom_velocity.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {
double ratio(double tau, double lambda, double beta) {
  return std::sqrt(bottom_velocity_ratio_squared(
      PlaningAttitude<>{.trim = tau * degree, .mean_wetted_ratio = lambda, .beam_froude_number = 3.18}, beta * degree));
}
}  // namespace

TEST_CASE("savitsky_1964 Table 1: mean bottom velocity at 67.5 ft/s, deadrise 10") {
  // Printed 67.0, 66.6, 66.2 ft/s read from a chart (Fig. 14): 0.4 %.
  CHECK(67.5 * ratio(2.0, 3.85, 10.0) == relative(67.0, 0.004));
  CHECK(67.5 * ratio(3.0, 2.60, 10.0) == relative(66.6, 0.004));
  CHECK(67.5 * ratio(4.0, 1.86, 10.0) == relative(66.2, 0.004));
}

TEST_CASE("zero deadrise is eq 24 written out") {
  const double tau = 4.0, lambda = 2.0;
  const double expected = 1.0 - 0.0120 * std::pow(tau, 1.1) / (std::sqrt(lambda) * std::cos(tau * degree.value()));
  CHECK(ratio(tau, lambda, 0.0) == rounding(std::sqrt(expected)));
}

TEST_CASE("small trim at high deadrise: the dynamic lift turns negative and the velocity exceeds the boat's") {
  // C_Ld < (0.0065 beta)^2.5 (eq 16).
  CHECK(ratio(0.5, 1.0, 30.0) > 1.0);
  CHECK(ratio(4.0, 2.0, 10.0) < 1.0);
}

TEST_CASE("every scalar") {
  const PlaningAttitude<Strict> s{
      .trim = widen<Strict>(3.0 * degree), .mean_wetted_ratio = Strict(2.0), .beam_froude_number = Strict(3.0)};
  CHECK(bottom_velocity_ratio_squared(s, widen<Strict>(15.0 * degree)).reveal() ==
        rounding(std::pow(ratio(3.0, 2.0, 15.0), 2)));
}
