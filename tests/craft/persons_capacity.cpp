#include "hardchine/craft/persons_capacity.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>
#include <limits>
#include <random>
#include <string>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

// A 17 ft boat; pounds; no side test where `side` is left out.
PersonsCapacityInput<> boat(double by_weight, double side = std::nan(""), double equipment = 0.0) {
  return {.boat_length = 17.0 * foot,
          .maximum_weight_capacity = (by_weight + equipment) * pound_mass,
          .outboard_equipment = equipment * pound_mass,
          .weight_submerging_a_side = side * pound_mass};
}
double in_pounds(const Mass<>& m) { return in(m, pound_mass); }
// The handbook cuts its numbers off.
double cut(double x, int decimals) {
  const double scale = std::pow(10.0, decimals);
  return std::floor(x * scale) / scale;
}
std::string refused_field(const std::function<void()>& call) {
  try {
    call();
  } catch (const BadInput& error) {
    return error.field();
  }
  return "";
}

}  // namespace

TEST_CASE("the worked examples of the Coast Guard's handbook") {
  // uscg_handbook, special discussion of 33 CFR 183.41, printed: 550 lb gives "4.12, or 4 persons"; 547 lb with 545 lb
  // on the side: "908", the lesser is 547, "4.10 or 4"; 328 lb on the side: "546", "4.09 or 4". Its digits are cut, not
  // rounded (4.1277, 908.33, 4.1064, 546.67), so ours are compared after cutting.
  const PersonsCapacity<> heavy = persons_capacity(boat(550.0));
  CHECK(heavy.outcome == PersonsCapacityOutcome::by_weight);
  CHECK(in_pounds(heavy.weight) == relative(550.0, 1e-15));
  CHECK(cut(heavy.persons_before_rounding, 2) == 4.12);
  CHECK(heavy.persons == 4);

  const PersonsCapacity<> stiff = persons_capacity(boat(547.0, 545.0));
  CHECK(stiff.outcome == PersonsCapacityOutcome::by_weight);
  CHECK(cut(in_pounds(stiff.by_side_test), 0) == 908.0);
  CHECK(in_pounds(stiff.weight) == relative(547.0, 1e-15));
  CHECK(cut(stiff.persons_before_rounding, 2) == 4.10);
  CHECK(stiff.persons == 4);

  const PersonsCapacity<> tender = persons_capacity(boat(547.0, 328.0));
  CHECK(tender.outcome == PersonsCapacityOutcome::by_side_test);
  CHECK(cut(in_pounds(tender.weight), 0) == 546.0);
  CHECK(tender.persons == 4);
  // The print goes on with the cut 546 lb, 4.0993; from 546.67 lb it is 4.1040, which the tolerance of the cut covers.
  CHECK(cut(persons_capacity(boat(547.0, 0.6 * 546.0)).persons_before_rounding, 2) == 4.09);
  CHECK(tender.persons_before_rounding == absolute(4.0993, 1.0 / 141.0));
}

TEST_CASE("the equipment is taken off before the rule looks at 550 lb") {
  // cfr_33_183_41 (a)(1), printed.
  const PersonsCapacity<> with_motor = persons_capacity(boat(900.0, std::nan(""), 435.0));
  CHECK(in_pounds(with_motor.weight) == relative(900.0, 1e-15));
  // 985 - 435 lb is 550 lb, whatever the conversion to kilograms leaves in the last digit.
  CHECK(persons_capacity(boat(550.0, std::nan(""), 435.0)).outcome == PersonsCapacityOutcome::by_weight);
  CHECK(persons_capacity(boat(549.9, std::nan(""), 435.0)).outcome == PersonsCapacityOutcome::side_test_needed);
  // From 550 lb on a side test changes nothing.
  CHECK(in_pounds(persons_capacity(boat(550.0, 60.0)).weight) == relative(550.0, 1e-15));
}

TEST_CASE("without the side test, or without anything to carry, there is an outcome and no number") {
  for (const auto& [input, outcome] :
       {std::pair{boat(547.0), PersonsCapacityOutcome::side_test_needed},
        std::pair{boat(0.0, 328.0, 435.0), PersonsCapacityOutcome::no_capacity},
        std::pair{boat(-35.0, std::nan(""), 435.0), PersonsCapacityOutcome::no_capacity}}) {
    const PersonsCapacity<> r = persons_capacity(input);
    CHECK(r.outcome == outcome);
    CHECK(r.persons == 0);
    CHECK_FALSE(is_set(r.weight));
    CHECK(in_pounds(r.by_weight) ==
          absolute(in_pounds(input.maximum_weight_capacity) - in_pounds(input.outboard_equipment), 1e-12));
    CHECK_FALSE(is_set(r.persons_before_rounding));
    CHECK(words(r.outcome).substr(0, 20) == "no persons capacity:");
  }
}

TEST_CASE("one half rounds up") {
  // cfr_33_183_41 (b), printed: below one half down, from one half up. (lb + 32)/141 = n - 1/2 at 141 n - 102.5 lb.
  for (int n = 5; n <= 100; ++n) {
    CAPTURE(n);
    const double half = 141.0 * n - 102.5;
    for (const double equipment : {0.0, 435.0, 123.4}) {
      CHECK(persons_capacity(boat(half, std::nan(""), equipment)).persons == n);
      CHECK(persons_capacity(boat(half - 0.01, std::nan(""), equipment)).persons == n - 1);
    }
  }
  // Below 550 lb, by the side test: A/0.6.
  for (int n = 1; n <= 4; ++n) {
    CAPTURE(n);
    CHECK(persons_capacity(boat(549.0, 0.6 * (141.0 * n - 102.5))).persons == n);
    CHECK(persons_capacity(boat(549.0, 0.6 * (141.0 * n - 102.51))).persons == n - 1);
  }
  // Against rounding by the C library; a pound in ten thousand keeps off the halves.
  std::mt19937_64 random(20);
  std::uniform_real_distribution<double> pounds(550.0, 20000.0);
  for (int i = 0; i < 2000; ++i) {
    const double w = std::floor(pounds(random)) + 0.3;
    CAPTURE(w);
    CHECK(persons_capacity(boat(w)).persons == static_cast<int>(std::lround((w + 32.0) / 141.0)));
  }
}

TEST_CASE("the rule names its limits, its source and its caution") {
  PersonsCapacityInput<> input = boat(1200.0);
  CHECK(explain(persons_capacity(input)).empty());
  input.boat_length = 19.99 * foot;
  CHECK(persons_capacity(input).flags == 0);
  input.boat_length = 20.0 * foot;  // "less than 20 feet"
  const PersonsCapacity<> r = persons_capacity(input);
  REQUIRE(explain(r).size() == 1);
  CHECK(explain(r)[0] == "boat of 20 ft or more: the rule does not apply to her");
  CHECK(cite(r) == "cfr_33_183_41 183.41 (a) and (b) (printed)");
  for (const char* word : {"United States", "under 20 ft", "plate", "local law", "life-jackets"})
    CHECK(r.caution.find(word) != std::string_view::npos);
}

TEST_CASE("persons capacity refuses bad input by the field's name") {
  const double infinite = std::numeric_limits<double>::infinity();
  const auto refused = [](auto member, const auto& value) {
    PersonsCapacityInput<> input = boat(900.0, 400.0, 100.0);
    input.*member = value;
    return refused_field([&] { persons_capacity(input); });
  };
  using I = PersonsCapacityInput<>;
  for (const double bad : {std::nan(""), infinite, -1.0, 3.9, 100.1})
    CHECK(refused(&I::boat_length, bad * foot) == "boat length");
  for (const double bad : {std::nan(""), infinite, -1.0, 0.0, 20000.1})
    CHECK(refused(&I::maximum_weight_capacity, bad * pound_mass) == "maximum weight capacity");
  for (const double bad : {std::nan(""), infinite, -1.0, 20000.1})
    CHECK(refused(&I::outboard_equipment, bad * pound_mass) == "outboard equipment");
  for (const double bad : {infinite, -1.0, 0.0, 20000.1})
    CHECK(refused(&I::weight_submerging_a_side, bad * pound_mass) == "weight submerging a side");
  CHECK_THROWS_WITH_AS(persons_capacity(I{}), "persons_capacity: boat length is not set; accepted: 4 ft to 100 ft",
                       BadInput);
}

TEST_CASE("persons capacity runs on the strict archetype and on Dual") {
  for (const auto& input :
       {boat(550.0), boat(547.0, 545.0), boat(547.0, 328.0), boat(547.0), boat(1800.0, 900.0, 300.0)}) {
    const PersonsCapacity<> expected = persons_capacity(input);
    const PersonsCapacity<Strict> r = persons_capacity<Strict>(input);
    CHECK(r.outcome == expected.outcome);
    CHECK(r.persons == expected.persons);
    if (is_set(expected.weight)) CHECK(r.weight.value().reveal() == expected.weight.value());
  }
  // d(A/0.6)/dA, closed form.
  PersonsCapacityInput<Dual<1>> input = boat(547.0);
  input.weight_submerging_a_side = seed<1>(328.0 * pound_mass, 0);
  CHECK(persons_capacity(input).weight.value().derivative[0] == relative(1.0 / 0.6, 2.3e-16));
}
