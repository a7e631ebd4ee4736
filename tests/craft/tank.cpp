#include "hardchine/craft/tank.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

Tank<> fuel_port() {
  return {.name = "fuel port",
          .capacity = 900.0 * litre,
          .fill = 0.80,
          .contents = 840.0 * kilogram_per_cubic_metre,
          .x = 3.95 * metre,
          .y = -0.85 * metre,
          .z = 0.78 * metre};
}

std::string refusal(const Tank<>& tank) {
  try {
    weight_item(tank);
    return "";
  } catch (const BadInput& error) {
    return error.what();
  }
}

}  // namespace

TEST_CASE("mass = capacity x fill x density, at the tank's centre") {
  // Derived, by hand: 900 L, 80 % of 840 kg/m3 is 604.8 kg; 55 % is 415.8 kg; 200 L of fresh water 70 % is 139.874 kg.
  // Three products in double: 4e-16.
  Tank<> tank = fuel_port();
  CHECK(in(contents_volume(tank), litre) == relative(720.0, 4e-16));
  const WeightItem<> item = weight_item(tank);
  CHECK(item.name == "fuel port");
  CHECK(in(item.mass, kilogram) == relative(604.8, 4e-16));
  CHECK(in(item.x, metre) == 3.95);
  CHECK(in(item.y, metre) == -0.85);
  CHECK(in(item.z, metre) == 0.78);
  tank.fill = 0.55;
  CHECK(in(weight_item(tank).mass, kilogram) == relative(415.8, 4e-16));
  const Tank<> water{.name = "fresh water",
                     .capacity = 200.0 * litre,
                     .fill = 70.0 * percent,
                     .contents = 999.1 * kilogram_per_cubic_metre};
  CHECK(in(weight_item(water).mass, kilogram) == relative(139.874, 6e-16));
  CHECK_FALSE(is_set(weight_item(water).x));
  // 7.1 lb/US gal, 100 US gal: 710 lb (a usual figure for diesel; common practice, no source).
  const Tank<> us{.name = "US", .capacity = 100.0 * us_gallon, .fill = 1.0, .contents = 7.1 * pound_per_us_gallon};
  CHECK(in(weight_item(us).mass, pound_mass) == relative(710.0, 6e-16));
}

TEST_CASE("fill runs from 0 to 100 %") {
  Tank<> tank = fuel_port();
  tank.fill = 0.0;
  CHECK(in(weight_item(tank).mass, kilogram) == 0.0);
  tank.fill = 1.0;
  CHECK(in(weight_item(tank).mass, kilogram) == relative(756.0, 4e-16));
  tank.fill = 100.0 * percent;
  CHECK(refusal(tank).empty());
  tank.fill = 1.01;
  CHECK(refusal(tank) == "contents_volume: fuel port: fill is 101 %; accepted: 0 % to 100 %");
  tank.fill = 80.0;  // per cent taken for a ratio
  CHECK(refusal(tank) == "contents_volume: fuel port: fill is 8000 %; accepted: 0 % to 100 %");
  tank.fill = -0.1;
  CHECK(refusal(tank) == "contents_volume: fuel port: fill is -10 %; accepted: 0 % to 100 %");
  tank.fill = unset;
  CHECK(refusal(tank) == "contents_volume: fuel port: fill is not set; accepted: 0 % to 100 %");
}

TEST_CASE("bad tanks are refused by name") {
  Tank<> tank = fuel_port();
  tank.capacity = 0.0 * litre;
  CHECK(refusal(tank) == "contents_volume: fuel port: capacity is 0 L; accepted: above 0 L to 1000000 L");
  tank = fuel_port();
  tank.contents = 0.84 * kilogram_per_cubic_metre;  // kilograms a litre taken for kilograms a cubic metre
  CHECK(refusal(tank) == "contents_volume: fuel port: density is 0.84 kg/m3; accepted: 500 kg/m3 to 1500 kg/m3");
  tank = fuel_port();
  tank.y = -85.0 * metre;
  CHECK(refusal(tank) == "contents_volume: fuel port: y is -85 m; accepted: -15 m to 15 m");
  tank.name = "";
  CHECK(refusal(tank) == "contents_volume: y is -85 m; accepted: -15 m to 15 m");
}

TEST_CASE("an empty tank needs no place, a full one leaves the centre open") {
  Tank<> tank{.name = "spare", .capacity = 100.0 * litre, .fill = 0.0, .contents = 840.0 * kilogram_per_cubic_metre};
  const WeightItem<> craft{
      .name = "craft", .mass = 1000.0 * kilogram, .x = 4.0 * metre, .y = 0.0 * metre, .z = 1.0 * metre};
  const Loading<> empty = roll_up<double>(std::vector{craft, weight_item(tank)});
  CHECK(in(empty.mass, kilogram) == 1000.0);
  CHECK(in(empty.lcg, metre) == 4.0);
  tank.fill = 0.01;
  const Loading<> wet = roll_up<double>(std::vector{craft, weight_item(tank)});
  CHECK(in(wet.mass, kilogram) == relative(1000.84, 4e-16));
  CHECK_FALSE(is_set(wet.lcg));
}

TEST_CASE("tanks in other scalars") {
  Tank<Dual<1>> seeded = fuel_port();
  CHECK(seeded.name == "fuel port");
  seeded.fill = Dual<1>::input(0.80, 0);
  // dm/dfill is the mass of the full tank.
  CHECK(in(derivative(weight_item(seeded).mass, 0), kilogram) == relative(756.0, 4e-16));
  const Tank<Strict> strict = fuel_port();
  CHECK(strict.name == "fuel port");
  CHECK(in(weight_item(strict).mass, kilogram).reveal() == in(weight_item(fuel_port()).mass, kilogram));
  CHECK(in(contents_volume(strict), litre).reveal() == relative(720.0, 4e-16));
  Tank<Strict> over = fuel_port();
  over.fill = Strict(1.01);
  CHECK_THROWS_AS(weight_item(over), BadInput);
}
