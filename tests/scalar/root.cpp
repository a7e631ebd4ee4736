#include "hardchine/scalar/root.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("bracketed_root finds roots known in closed form") {
  // Closed forms; tolerance: the bracket closes to 4e-16 of x.
  const auto cubic = bracketed_root([](double x) { return x * x * x - 2.0; }, 0.0, 2.0);
  CHECK(cubic.bracketed);
  CHECK(cubic.converged);
  CHECK(cubic.x == relative(std::cbrt(2.0), 1e-15));
  const auto cosine = bracketed_root([](double x) { return std::cos(x); }, 1.0, 3.0);
  CHECK(cosine.x == relative(std::acos(0.0), 1e-15));
  // A root of order five and a steep exponential: where open methods crawl or leap.
  const auto flat = bracketed_root([](double x) { return std::pow(x - 1.0, 5); }, 0.0, 3.0);
  CHECK(flat.x == absolute(1.0, 1e-3));  // the function underflows to 1e-15 already at 1e-3 from the root
  const auto steep = bracketed_root([](double x) { return std::exp(50.0 * x) - 1e20; }, 0.0, 10.0);
  CHECK(steep.x == relative(std::log(1e20) / 50.0, 1e-15));
  const auto falling = bracketed_root([](double x) { return 3.0 - x; }, 0.0, 4.0);
  CHECK(falling.x == rounding(3.0));
}

TEST_CASE("bracketed_root says when there is no change of sign and when an end is the root") {
  const auto none = bracketed_root([](double x) { return x * x + 1.0; }, -1.0, 1.0);
  CHECK_FALSE(none.bracketed);
  CHECK_FALSE(none.converged);
  const auto at_end = bracketed_root([](double x) { return x; }, 0.0, 1.0);
  CHECK(at_end.bracketed);
  CHECK(at_end.converged);
  CHECK(at_end.x == 0.0);
  const auto not_a_number = bracketed_root([](double) { return std::nan(""); }, 0.0, 1.0);
  CHECK_FALSE(not_a_number.converged);
}

TEST_CASE("bracketed_root runs on the strict archetype") {
  const auto root = bracketed_root([](const Strict& x) { return x * x - 2.0; }, Strict(0.0), Strict(2.0));
  CHECK(all(root.converged));
  CHECK(root.x.reveal() == relative(std::sqrt(2.0), 1e-15));
}
