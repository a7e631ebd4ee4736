#include "hardchine/economy/fuel_economy.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("economy of a step in four units, computed with independent code") {
  const Speed<> v = 27.4 * knot;
  const VolumeFlow<> q = 310.0 * litre_per_hour;
  CHECK(in(volume_per_distance(v, q), litre_per_nautical_mile) == printed(11.313869, 6));
  CHECK(in(distance_per_volume(v, q), nautical_mile_per_us_gallon) == printed(0.3345816, 7));
  CHECK(in(distance_per_volume(v, q), statute_mile_per_us_gallon) == printed(0.3850296, 7));
  CHECK(in(endurance(0.9 * 1800.0 * litre, q), hour) == printed(5.225806, 6));
  // One is the reciprocal of the other.
  const double one = distance_per_volume(v, q) * volume_per_distance(v, q);
  CHECK(one == rounding(1.0));
}

TEST_CASE("identities of the units") {
  // Knots over US gallons an hour are nautical miles per gallon; statute miles are 1.150779448 times as many
  // (1852/1609.344).
  const auto e = distance_per_volume(22.6 * knot, 10.2 * us_gallon_per_hour);
  CHECK(in(e, nautical_mile_per_us_gallon) == rounding(22.6 / 10.2));
  CHECK(in(e, statute_mile_per_us_gallon) / in(e, nautical_mile_per_us_gallon) == printed(1.150779448, 9));
  CHECK(in(endurance(100.0 * us_gallon, 8.0 * us_gallon_per_hour), hour) == rounding(12.5));
}

TEST_CASE("economy as it is quoted (common practice, no source)") {
  const auto e = distance_per_volume(42.6 * mph, 64.7 * us_gallon_per_hour);
  CHECK(in(e, statute_mile_per_us_gallon) == printed(0.6584, 4));
  CHECK(in(e, statute_mile_per_us_gallon) == printed(0.7, 1));
}

TEST_CASE("limits: a boat that stands, an engine that burns nothing, numbers that are none") {
  const double nan = std::nan(""), infinite = std::numeric_limits<double>::infinity();
  CHECK(in(distance_per_volume(0.0 * knot, 5.0 * litre_per_hour), nautical_mile_per_litre) == 0.0);
  CHECK(in(endurance(0.0 * litre, 5.0 * litre_per_hour), hour) == 0.0);
  CHECK_THROWS_WITH_AS(volume_per_distance(0.0 * knot, 5.0 * litre_per_hour),
                       "volume_per_distance: speed is 0 kn; accepted: above 0 kn to 150 kn", BadInput);
  CHECK_THROWS_WITH_AS(distance_per_volume(20.0 * knot, 0.0 * litre_per_hour),
                       "distance_per_volume: fuel flow is 0 L/h; accepted: above 0 L/h to 20000 L/h", BadInput);
  for (const double bad : {nan, infinite, -infinite, -1.0, 200.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(distance_per_volume(bad * knot, 5.0 * litre_per_hour), BadInput);
    CHECK_THROWS_AS(volume_per_distance(bad * knot, 5.0 * litre_per_hour), BadInput);
  }
  for (const double bad : {nan, infinite, -infinite, -1.0, 0.0, 20001.0}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(distance_per_volume(20.0 * knot, bad * litre_per_hour), BadInput);
    CHECK_THROWS_AS(volume_per_distance(20.0 * knot, bad * litre_per_hour), BadInput);
    CHECK_THROWS_AS(endurance(20.0 * litre, bad * litre_per_hour), BadInput);
  }
  for (const double bad : {nan, infinite, -1.0, 1.1e6})
    CHECK_THROWS_AS(endurance(bad * litre, 5.0 * litre_per_hour), BadInput);
}

TEST_CASE("economy on Dual and on the strict archetype") {
  using D = Dual<2>;
  const auto v = seed<2>(27.4 * knot, 0);
  const auto q = seed<2>(310.0 * litre_per_hour, 1);
  const double vs = (27.4 * knot).value(), qs = (310.0 * litre_per_hour).value();
  const Quantity<si_units::DistancePerVolume, D> e = distance_per_volume(v, q);
  // d(V/q) = dV/q - V dq/q^2.
  CHECK(e.value().derivative[0] == rounding(1.0 / qs));
  CHECK(e.value().derivative[1] == rounding(-vs / (qs * qs)));
  CHECK(volume_per_distance(v, q).value().derivative[0] == rounding(-qs / (vs * vs)));
  CHECK(endurance(widen<D>(100.0 * litre), q).value().derivative[1] == rounding(-0.1 / (qs * qs)));

  const auto strict = [](const auto& x) { return widen<Strict>(x); };
  CHECK(distance_per_volume(strict(27.4 * knot), strict(310.0 * litre_per_hour)).value().reveal() == rounding(vs / qs));
  CHECK(volume_per_distance(strict(27.4 * knot), strict(310.0 * litre_per_hour)).value().reveal() == rounding(qs / vs));
  CHECK(endurance(strict(100.0 * litre), strict(310.0 * litre_per_hour)).value().reveal() == rounding(0.1 / qs));
}

TEST_CASE("fuel economy names its source") { CHECK(cite(fuel_economy_method).find("(practice)") != std::string::npos); }
