#include "hardchine/craft/thrust_line.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {
const Loading<> loading{.mass = 10000.0 * kilogram, .lcg = 4.5 * metre, .vcg = 1.1 * metre};
}

TEST_CASE("lever of a shaft line by plane geometry") {
  // A point at (1.0, -0.4) and 10 degrees: the line passes x = 4.5 at z = -0.4 + 3.5 tan 10; the distance below the CG is
  // the vertical gap times cos 10.
  const double eps = 10.0 * degree.value();
  const double gap = 1.1 - (-0.4 + 3.5 * std::tan(eps));
  const ThrustLine<> line = shaft_line({.inclination = 10.0 * degree, .x = 1.0 * metre, .z = -0.4 * metre});
  CHECK(in(thrust_lever(line, loading), metre) == rounding(gap * std::cos(eps)));
  // A horizontal line through the CG has no lever, one 0.3 m below has 0.3.
  CHECK(in(thrust_lever(through_cg_parallel_to_keel(), loading), metre) == 0.0);
  CHECK(in(thrust_lever(thrust_below_cg(5.0 * degree, 0.3 * metre), loading), metre) == 0.3);
  CHECK(in(thrust_lever(shaft_line({.inclination = 0.0 * degree, .x = 9.0 * metre, .z = 0.8 * metre}), loading),
           metre) == rounding(0.3));
}

TEST_CASE("a thrust line must be chosen, and a point needs a centre of gravity") {
  CHECK_THROWS_WITH_AS(thrust_lever(ThrustLine<>{}, loading), doctest::Contains("through_cg_parallel_to_keel"),
                       BadInput);
  const ThrustLine<> line = shaft_line({.inclination = 8.0 * degree, .x = 1.0 * metre, .z = 0.0 * metre});
  CHECK_THROWS_WITH_AS(thrust_lever(line, Loading<>{.mass = 1.0 * kilogram, .lcg = 1.0 * metre}),
                       doctest::Contains("VCG"), BadInput);
  constexpr double infinite = std::numeric_limits<double>::infinity();
  CHECK_THROWS_WITH_AS(thrust_lever(thrust_below_cg(31.0 * degree, 0.1 * metre), loading),
                       doctest::Contains("thrust_lever: thrust inclination is 31 deg"), BadInput);
  CHECK_THROWS_WITH_AS(thrust_lever(thrust_below_cg(5.0 * degree, infinite * metre), loading),
                       doctest::Contains("thrust_lever: thrust line below CG is inf m"), BadInput);
  CHECK_THROWS_WITH_AS(
      thrust_lever(line, Loading<>{.mass = 1.0 * kilogram, .lcg = infinite * metre, .vcg = 1.0 * metre}),
      doctest::Contains("thrust_lever: LCG is inf m"), BadInput);
  CHECK_THROWS_WITH_AS(shaft_line({.inclination = 8.0 * degree, .z = 0.0 * metre}), doctest::Contains("point x"),
                       BadInput);
}

TEST_CASE("every scalar") {
  const ThrustLine<> line = shaft_line({.inclination = 10.0 * degree, .x = 1.0 * metre, .z = -0.4 * metre});
  const ThrustLine<Strict> strict = line;
  CHECK(in(thrust_lever<Strict>(strict, loading), metre).reveal() == in(thrust_lever(line, loading), metre));
  const ThrustLine<Dual<2>> dual = line;
  CHECK(in(thrust_lever<Dual<2>>(dual, loading), metre).value == in(thrust_lever(line, loading), metre));
}
