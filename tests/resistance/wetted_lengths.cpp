#include "hardchine/resistance/wetted_lengths.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {
WettedLengths<> lengths(double beta, double tau, double lambda) {
  return wetted_lengths(
      {.chine_beam = 2.0 * metre, .deadrise = beta * degree, .trim = tau * degree, .mean_wetted_ratio = lambda});
}
}  // namespace

TEST_CASE("V bottom: geometry of savitsky_1964 eq 3") {
  const WettedLengths<> l = lengths(20.0, 4.0, 2.0);
  // L_k + L_c = 2 lambda b, L_k - L_c = (b/pi) tan beta/tan tau, by hand.
  CHECK(in(l.keel + l.chine, metre) == rounding(8.0));
  CHECK(in(l.keel - l.chine, metre) ==
        relative(2.0 / 3.14159265358979324 * 0.36397023426620236 / 0.069926811943510413, 1e-14));
  CHECK(in(l.draft, metre) == relative(in(l.keel, metre) * 0.069756473744125302, 1e-14));
}

TEST_CASE("flat bottom: wave rise of savitsky_1964 eq 1, 2, inverted") {
  for (const double l_1 : {0.05, 0.3, 0.8, 0.999, 1.0, 1.5, 3.0}) {
    const double lambda = l_1 <= 1.0 ? 1.60 * l_1 - 0.30 * l_1 * l_1 : l_1 + 0.30;
    CAPTURE(l_1);
    const WettedLengths<> l = lengths(0.0, 5.0, lambda);
    CHECK(in(l.draft, metre) == relative(l_1 * 2.0 * std::sin(5.0 * degree.value()), 1e-13));
    CHECK(in(l.keel, metre) == rounding(2.0 * lambda));
    CHECK(in(l.chine, metre) == rounding(2.0 * lambda));
  }
}

TEST_CASE("flat bottom: a wetted length of almost nothing keeps its digits") {
  // l_1 = lambda/1.6 (1 + 0.3 lambda/1.6^2 + ...): the second term is below a rounding.
  CHECK(in(lengths(0.0, 5.0, 1e-17).draft, metre) ==
        relative(1e-17 / 1.6 * 2.0 * std::sin(5.0 * degree.value()), 1e-14));
}

TEST_CASE("the draft jumps between flat and almost flat, as the print does") {
  const double flat = in(lengths(0.0, 4.0, 2.0).draft, metre);
  const double almost = in(lengths(1e-6, 4.0, 2.0).draft, metre);
  CHECK(almost - flat == absolute(0.3 * 2.0 * std::sin(4.0 * degree.value()), 1e-6));
}

TEST_CASE("bad input and every scalar") {
  CHECK_THROWS_AS(lengths(20.0, 0.0, 2.0), BadInput);
  CHECK_THROWS_AS(lengths(50.0, 4.0, 2.0), BadInput);
  CHECK_THROWS_AS(lengths(20.0, 4.0, 0.0), BadInput);
  CHECK_THROWS_AS(wetted_lengths(WettedGeometry<>{}), BadInput);
  const WettedGeometry<Strict> s{.chine_beam = widen<Strict>(2.0 * metre),
                                 .deadrise = widen<Strict>(20.0 * degree),
                                 .trim = widen<Strict>(4.0 * degree),
                                 .mean_wetted_ratio = Strict(2.0)};
  CHECK(in(wetted_lengths(s).keel, metre).reveal() == in(lengths(20.0, 4.0, 2.0).keel, metre));
  // A flat bottom's draft beyond the branch point has a finite derivative.
  const WettedGeometry<Dual<1>> d{.chine_beam = 2.0 * metre,
                                  .deadrise = 0.0 * degree,
                                  .trim = 4.0 * degree,
                                  .mean_wetted_ratio = Dual<1>::input(2.5, 0)};
  CHECK(in(wetted_lengths(d).draft, metre).derivative[0] == relative(2.0 * std::sin(4.0 * degree.value()), 1e-14));
}
