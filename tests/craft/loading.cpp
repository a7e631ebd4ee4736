#include "hardchine/craft/loading.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/craft/persons.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

using Items = std::vector<WeightItem<>>;

WeightItem<> item(std::string name, double kilograms, std::array<double, 3> place) {
  return {.name = std::move(name),
          .mass = kilograms * kilogram,
          .x = place[0] * metre,
          .y = place[1] * metre,
          .z = place[2] * metre};
}

// The worked case of a workboat: the load as numbers, its answer by independent code.
Items worked_case() {
  const auto tank = [](std::string name, double litres, double fill, double density, std::array<double, 3> place) {
    return weight_item(Tank<>{.name = std::move(name),
                              .capacity = litres * litre,
                              .fill = fill,
                              .contents = density * kilogram_per_cubic_metre,
                              .x = place[0] * metre,
                              .y = place[1] * metre,
                              .z = place[2] * metre});
  };
  return {item("light craft", 8450.0, {4.62, 0.0, 1.18}),
          item("2 at the helm", 2.0 * 85.0, {5.10, 0.35, 2.05}),
          item("4 aft", 4.0 * 85.0, {2.20, 0.0, 1.60}),
          tank("fuel port", 900.0, 0.80, 840.0, {3.95, -0.85, 0.78}),
          tank("fuel starboard", 900.0, 0.55, 840.0, {3.95, 0.85, 0.78}),
          tank("fresh water", 200.0, 0.70, 999.1, {5.60, 0.0, 0.70}),
          item("gear", 125.0, {3.0, 0.5, 1.1})};
}

// Of random mass and place, the largest masses 1e5 times the smallest.
Items random_items(std::mt19937_64& random, int n) {
  std::uniform_real_distribution<double> log_mass(-1.0, 4.0), x(-5.0, 30.0), y(-4.0, 4.0), z(-1.0, 10.0);
  Items items;
  for (int i = 0; i < n; ++i)
    items.push_back(item("item", std::pow(10.0, log_mass(random)), {x(random), y(random), z(random)}));
  return items;
}

// The sum of |m x| over the mass: what the rounding error of a centre is relative to.
struct Spread {
  double x = 0.0, y = 0.0, z = 0.0;
};
Spread spread(const Items& items) {
  Spread s;
  double mass = 0.0;
  for (const WeightItem<>& i : items) {
    const double m = in(i.mass, kilogram);
    mass += m;
    s.x += m * std::abs(in(i.x, metre));
    s.y += m * std::abs(in(i.y, metre));
    s.z += m * std::abs(in(i.z, metre));
  }
  return {s.x / mass, s.y / mass, s.z / mass};
}

std::string refusal(const Items& items) {
  try {
    roll_up<double>(items);
    return "";
  } catch (const BadInput& error) {
    return error.what();
  }
}

constexpr double epsilon = std::numeric_limits<double>::epsilon();

}  // namespace

TEST_CASE("the worked case of a workboat") {
  // Derived: computed by independent code from the same numbers, printed to these decimals.
  const Loading<> loading = roll_up<double>(worked_case());
  CHECK(in(loading.mass, kilogram) == printed(10245.474, 3));
  CHECK(in(loading.lcg, metre) == printed(4.474528, 6));
  CHECK(in(loading.tcg, metre) == printed(-0.003772, 6));
  CHECK(in(loading.vcg, metre) == printed(1.160998, 6));
  // Sea water of 15 C and 35.16504 g/kg by TEOS-10 at sea pressure 0 (derived).
  const Volume<> volume = displaced_volume(loading.mass, 1025.9760294438 * kilogram_per_cubic_metre);
  CHECK(in(volume, cubic_metre) == printed(9.986075, 6));
  CHECK(beam_load_coefficient(volume, 3.20 * metre) == printed(0.304751, 6));
}

TEST_CASE("two items balance like a lever") {
  const Loading<> loading =
      roll_up<double>(Items{item("a", 300.0, {1.0, -2.0, 0.5}), item("b", 100.0, {5.0, 2.0, 2.5})});
  CHECK(in(loading.mass, kilogram) == 400.0);
  CHECK(in(loading.lcg, metre) == 2.0);
  CHECK(in(loading.tcg, metre) == -1.0);
  CHECK(in(loading.vcg, metre) == 1.0);
}

TEST_CASE("the order of the items does not matter") {
  // n additions err by at most n half units of the sum of magnitudes, in either order: together n epsilon; the division
  // and the products add two.
  std::mt19937_64 random(20261125);
  for (int trial = 0; trial < 100; ++trial) {
    const int n = 2 + trial % 19;
    Items items = random_items(random, n);
    const Loading<> listed = roll_up<double>(items);
    std::shuffle(items.begin(), items.end(), random);
    const Loading<> shuffled = roll_up<double>(items);
    const Spread s = spread(items);
    const double bound = (n + 2) * epsilon;
    CHECK(in(shuffled.mass, kilogram) == relative(in(listed.mass, kilogram), bound));
    CHECK(in(shuffled.lcg, metre) == absolute(in(listed.lcg, metre), 2.0 * bound * s.x));
    CHECK(in(shuffled.tcg, metre) == absolute(in(listed.tcg, metre), 2.0 * bound * s.y));
    CHECK(in(shuffled.vcg, metre) == absolute(in(listed.vcg, metre), 2.0 * bound * s.z));
  }
}

TEST_CASE("rolling up in groups, and moving the datum, agree with statics") {
  std::mt19937_64 random(5);
  for (int trial = 0; trial < 50; ++trial) {
    const Items items = random_items(random, 12);
    const Loading<> whole = roll_up<double>(items);
    const double bound = 2.0 * 14 * epsilon;  // as above, twelve items
    // Two groups, each an item of its own.
    const Loading<> a = roll_up<double>(Items(items.begin(), items.begin() + 5));
    const Loading<> b = roll_up<double>(Items(items.begin() + 5, items.end()));
    const Loading<> grouped = roll_up<double>(Items{{.name = "a", .mass = a.mass, .x = a.lcg, .y = a.tcg, .z = a.vcg},
                                                    {.name = "b", .mass = b.mass, .x = b.lcg, .y = b.tcg, .z = b.vcg}});
    const Spread s = spread(items);
    CHECK(in(grouped.mass, kilogram) == relative(in(whole.mass, kilogram), bound));
    CHECK(in(grouped.lcg, metre) == absolute(in(whole.lcg, metre), bound * s.x));
    CHECK(in(grouped.tcg, metre) == absolute(in(whole.tcg, metre), bound * s.y));
    CHECK(in(grouped.vcg, metre) == absolute(in(whole.vcg, metre), bound * s.z));
    // Every place 2 m further forward: LCG 2 m further forward.
    Items moved = items;
    for (WeightItem<>& i : moved) i.x += 2.0 * metre;
    CHECK(in(roll_up<double>(moved).lcg, metre) == absolute(in(whole.lcg, metre) + 2.0, bound * (s.x + 2.0)));
  }
}

TEST_CASE("a coordinate that one item with mass leaves open is open in the result, and no other") {
  Items items = worked_case();
  items[2].y = unset;
  const Loading<> loading = roll_up<double>(items);
  CHECK(is_set(loading.mass));
  CHECK(is_set(loading.lcg));
  CHECK_FALSE(is_set(loading.tcg));
  CHECK(is_set(loading.vcg));
  CHECK(in(loading.lcg, metre) == printed(4.474528, 6));
  // Masses alone.
  const Loading<> masses =
      roll_up<double>(Items{{.name = "a", .mass = 2.0 * tonne}, {.name = "b", .mass = 1.0 * tonne}});
  CHECK(in(masses.mass, tonne) == 3.0);
  CHECK_FALSE(is_set(masses.lcg));
  CHECK_FALSE(is_set(masses.tcg));
  CHECK_FALSE(is_set(masses.vcg));
}

TEST_CASE("an item that weighs nothing changes nothing, wherever it is") {
  const Loading<> before = roll_up<double>(worked_case());
  for (const bool placed : {false, true}) {
    Items items = worked_case();
    WeightItem<> empty{.name = "empty locker", .mass = 0.0 * kilogram};
    if (placed) {
      empty.x = 100.0 * metre;
      empty.y = 10.0 * metre;
      empty.z = 20.0 * metre;
    }
    items.insert(items.begin() + 3, empty);
    const Loading<> after = roll_up<double>(items);
    CHECK(in(after.mass, kilogram) == in(before.mass, kilogram));
    CHECK(in(after.lcg, metre) == in(before.lcg, metre));
    CHECK(in(after.tcg, metre) == in(before.tcg, metre));
    CHECK(in(after.vcg, metre) == in(before.vcg, metre));
  }
}

TEST_CASE("items on a limit of their place are accepted, whatever their number and mass") {
  // The centre of items that are all at 15 m is 15 m; rounding must not carry it over the limit that they kept.
  std::mt19937_64 random(15);
  std::uniform_real_distribution<double> mass(0.1, 1000.0);
  int refused = 0;
  for (int trial = 0; trial < 500; ++trial) {
    Items items;
    for (int i = 0; i < 5; ++i) items.push_back(item("outrigger", mass(random), {150.0, 15.0, 30.0}));
    if (!refusal(items).empty()) ++refused;
  }
  CHECK(refused == 0);
}

TEST_CASE("bad items are refused by their name") {
  Items items = worked_case();
  items[6].mass = -125.0 * kilogram;
  CHECK(refusal(items) == "roll_up: gear: mass is -125 kg; accepted: 0 kg to 1000000 kg");
  items = worked_case();
  items[0].mass = unset;
  CHECK(refusal(items) == "roll_up: light craft: mass is not set; accepted: 0 kg to 1000000 kg");
  items = worked_case();
  items[1].x = 151.0 * metre;
  CHECK(refusal(items) == "roll_up: 2 at the helm: x is 151 m; accepted: -5 m to 150 m");
  items = worked_case();
  items[3].y = -16.0 * metre;
  CHECK(refusal(items) == "roll_up: fuel port: y is -16 m; accepted: -15 m to 15 m");
  items = worked_case();
  items[5].z = std::numeric_limits<double>::infinity() * metre;
  CHECK(refusal(items) == "roll_up: fresh water: z is inf m; accepted: -5 m to 30 m");
  CHECK(refusal({item("", -1.0, {1.0, 0.0, 1.0})}) == "roll_up: mass is -1 kg; accepted: 0 kg to 1000000 kg");
  CHECK(refusal({}) == "roll_up: items is an empty list; accepted: at least one item");
  CHECK(refusal({item("nothing", 0.0, {1.0, 0.0, 1.0})}) ==
        "roll_up: displacement is 0 kg; accepted: above 0 kg to 1000000 kg");
  CHECK(refusal({item("a", 6e5, {1.0, 0.0, 1.0}), item("b", 6e5, {1.0, 0.0, 1.0})}) ==
        "roll_up: displacement is 1200000 kg; accepted: above 0 kg to 1000000 kg");
}

TEST_CASE("the roll-up has exact derivatives") {
  // dm/dm_i = 1, dx_G/dm_i = (x_i - x_G)/m, dx_G/dx_i = m_i/m (statics).
  const Items items = worked_case();
  const Loading<> loading = roll_up<double>(items);
  for (std::size_t k = 0; k < items.size(); ++k) {
    std::vector<WeightItem<Dual<2>>> seeded(items.begin(), items.end());
    seeded[k].mass = seed<2>(items[k].mass, 0);
    seeded[k].x = seed<2>(items[k].x, 1);
    const Loading<Dual<2>> d = roll_up<Dual<2>>(seeded);
    CHECK(seeded[k].name == items[k].name);
    CHECK(in(plain(d.lcg), metre) == in(loading.lcg, metre));
    CHECK(in(derivative(d.mass, 0), kilogram) == 1.0);
    const double to_mass = (in(items[k].x, metre) - in(loading.lcg, metre)) / in(loading.mass, kilogram);
    // The difference x_i - x_G of metres is good to some units of 1e-15.
    CHECK(in(derivative(d.lcg, 0), metre) == absolute(to_mass, 1e-14 / in(loading.mass, kilogram)));
    const double to_place = in(items[k].mass, kilogram) / in(loading.mass, kilogram);
    CHECK(in(derivative(d.lcg, 1), metre) == relative(to_place, 1e-15));
  }
}

TEST_CASE("an empty tank still tells what filling it would do") {
  // The same derivatives at mass zero: dx_G/dm_i = (x_i - x_G)/m.
  const Items items = worked_case();
  const Loading<> loading = roll_up<double>(items);
  std::vector<WeightItem<Dual<1>>> seeded(items.begin(), items.end());
  WeightItem<Dual<1>> empty = item("empty tank", 0.0, {1.0, 2.0, 3.0});
  empty.mass = seed<1>(0.0 * kilogram, 0);
  seeded.push_back(empty);
  const Loading<Dual<1>> d = roll_up<Dual<1>>(seeded);
  const double mass = in(loading.mass, kilogram);
  CHECK(in(derivative(d.mass, 0), kilogram) == 1.0);
  CHECK(in(derivative(d.lcg, 0), metre) == absolute((1.0 - in(loading.lcg, metre)) / mass, 1e-14 / mass));
  CHECK(in(derivative(d.tcg, 0), metre) == absolute((2.0 - in(loading.tcg, metre)) / mass, 1e-14 / mass));
  CHECK(in(derivative(d.vcg, 0), metre) == absolute((3.0 - in(loading.vcg, metre)) / mass, 1e-14 / mass));
  // Without a place it is ignored, as with plain numbers.
  seeded.back().x = unset;
  const Loading<Dual<1>> unplaced = roll_up<Dual<1>>(seeded);
  CHECK(in(plain(unplaced.lcg), metre) == in(loading.lcg, metre));
}

TEST_CASE("the roll-up runs on the strict archetype") {
  const Items items = worked_case();
  std::vector<WeightItem<Strict>> strict(items.begin(), items.end());
  strict.push_back({.name = "empty", .mass = Strict(0.0) * kilogram});
  const Loading<Strict> loading = roll_up<Strict>(strict);
  const Loading<> numbers = roll_up<double>(items);
  CHECK(in(loading.mass, kilogram).reveal() == in(numbers.mass, kilogram));
  CHECK(in(loading.lcg, metre).reveal() == in(numbers.lcg, metre));
  CHECK(in(loading.tcg, metre).reveal() == in(numbers.tcg, metre));
  CHECK(in(loading.vcg, metre).reveal() == in(numbers.vcg, metre));
  const Volume<Strict> volume = displaced_volume(loading.mass, Strict(1000.0) * kilogram_per_cubic_metre);
  CHECK(in(volume, cubic_metre).reveal() == relative(10.245474, 1e-9));
  CHECK(beam_load_coefficient(volume, Strict(2.0) * metre).reveal() == relative(10.245474 / 8.0, 1e-9));
  strict[0].y = unset;
  CHECK_FALSE(is_set(roll_up<Strict>(strict).tcg));
  strict[0].mass = Strict(-1.0) * kilogram;
  CHECK_THROWS_AS(roll_up<Strict>(strict), BadInput);
}
