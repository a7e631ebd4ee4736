#include "hardchine/craft/froude_number.hpp"

#include <doctest/doctest.h>

#include <boost/units/cmath.hpp>  // a program may include it beside: its root of a quantity must not clash with ours

#include "archetype.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("savitsky_brown_1976 and molland_2011: printed coefficients") {
  // W 186,000 lb, volume W/64, F_nV 2 is C_v 1.54 on 24 ft (g 32.2); both digits as printed.
  const Volume<> volume = 186000.0 / 64.0 * (foot * foot * foot);
  const Acceleration<> g = 32.2 * foot_per_second_squared;
  const Speed<> speed = 2.0 * std::sqrt(32.2 * std::cbrt(186000.0 / 64.0)) * foot_per_second;
  CHECK(volume_froude_number(speed, volume, g) == rounding(2.0));
  CHECK(beam_froude_number(speed, 24.0 * foot, g) == printed(1.54, 2));
  // 45 kn taken as 23.15 m/s on 6.5 m, g 9.81: printed 2.899.
  CHECK(beam_froude_number(23.15 * metre_per_second, 6.5 * metre, 9.81 * metre_per_second_squared) ==
        printed(2.899, 3));
  // A volume of 9.986075 m3 at 30 kn: 3.358409 (computed independently of this library).
  CHECK(volume_froude_number(30.0 * knot, 9.986075 * cubic_metre) == printed(3.358409, 6));
}

TEST_CASE("each parameter has its door, gravity too") {
  // The range of gravity is that of the planing methods; on earth g is 9.764 to 9.834 m/s2 (recalled).
  const auto refused_by = [](const auto& call) -> std::string {
    try {
      call();
    } catch (const BadInput& refusal) {
      return refusal.what();
    }
    return "";
  };
  for (const Acceleration<>& g :
       {Acceleration<>(unset), -9.8 * metre_per_second_squared, 9.69 * metre_per_second_squared,
        9.91 * metre_per_second_squared, 32.2 * metre_per_second_squared}) {
    const std::string by_volume = refused_by([&] { volume_froude_number(30.0 * knot, 10.0 * cubic_metre, g); });
    CHECK(by_volume.starts_with("volume_froude_number: gravity is "));
    CHECK(by_volume.ends_with("; accepted: 9.7 m/s2 to 9.9 m/s2"));
    const std::string by_beam = refused_by([&] { beam_froude_number(30.0 * knot, 3.0 * metre, g); });
    CHECK(by_beam.starts_with("beam_froude_number: gravity is "));
  }
  CHECK(refused_by([] { beam_froude_number(201.0 * knot, 3.0 * metre); }).starts_with("beam_froude_number: speed is"));
  CHECK(refused_by([] { beam_froude_number(20.0 * knot, 0.05 * metre); }).find(": chine beam is") != std::string::npos);
  CHECK(refused_by([] { volume_froude_number(20.0 * knot, 0.0 * cubic_metre); }).find(": displaced volume is") !=
        std::string::npos);
}

TEST_CASE("every scalar") {
  CHECK(volume_froude_number(widen<Strict>(30.0 * knot), widen<Strict>(10.0 * cubic_metre)).reveal() ==
        volume_froude_number(30.0 * knot, 10.0 * cubic_metre));
  CHECK(beam_froude_number(widen<Strict>(30.0 * knot), widen<Strict>(3.0 * metre)).reveal() ==
        beam_froude_number(30.0 * knot, 3.0 * metre));
}
