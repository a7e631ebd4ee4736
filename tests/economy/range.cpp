#include "hardchine/economy/range.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "archetype.hpp"
#include "bad_fields.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

template <class Input>
concept compiles_without_reserve = requires {
  Input{.speed = 27.4 * knot,
        .fuel_flow = 310.0 * litre_per_hour,
        .capacity = 1800.0 * litre,
        .usable_fuel = 1800.0 * litre};
};
template <class Input>
concept compiles_with_reserve = requires {
  Input{.speed = 27.4 * knot,
        .fuel_flow = 310.0 * litre_per_hour,
        .capacity = 1800.0 * litre,
        .usable_fuel = 1800.0 * litre,
        .reserve = no_reserve()};
};
// A range without its reserve named is impossible; the second line shows that the first one tests that and no typo.
static_assert(!compiles_without_reserve<RangeInput<>>);
static_assert(compiles_with_reserve<RangeInput<>>);

// The boat of the check values, computed with independent code: 27.4 kn, 310 L/h, 1800 L all usable.
RangeInput<> step(const Reserve<>& reserve) {
  return {.speed = 27.4 * knot,
          .fuel_flow = 310.0 * litre_per_hour,
          .capacity = 1800.0 * litre,
          .usable_fuel = 1800.0 * litre,
          .reserve = reserve};
}

}  // namespace

TEST_CASE("range and endurance, computed with independent code") {
  const auto tenth = cruising_range(step(reserve_of_capacity(10.0 * percent)));
  REQUIRE(tenth.outcome == RangeOutcome::found);
  CHECK(in(tenth.distance, nautical_mile) == printed(143.1871, 4));
  CHECK(in(tenth.endurance, hour) == printed(5.225806, 6));
  CHECK(in(tenth.fuel_to_burn, litre) == rounding(1620.0));
  CHECK(in(tenth.held_back, litre) == relative(180.0, 1e-13));  // a difference of numbers ten times larger
  CHECK(words(tenth.reserve) == "10 % of capacity held back");

  const auto thirds = cruising_range(step(reserve_thirds()));
  CHECK(in(thirds.distance, nautical_mile) == printed(106.0645, 4));
  CHECK(in(thirds.held_back, litre) == relative(600.0, 1e-13));

  // Arithmetic: each leg's burn and a fifth more is 1800 L, so 1500 L are burnt: 27.4 x 1500/310.
  const auto legs = cruising_range(step(reserve_per_leg(20.0 * percent)));
  CHECK(in(legs.fuel_to_burn, litre) == rounding(1500.0));
  CHECK(in(legs.distance, nautical_mile) == rounding(27.4 * 1500.0 / 310.0));
  const auto fixed_volume = cruising_range(step(reserve_volume(250.0 * litre)));
  CHECK(in(fixed_volume.distance, nautical_mile) == rounding(27.4 * 1550.0 / 310.0));
  const auto all_of_it = cruising_range(step(no_reserve()));
  CHECK(in(all_of_it.distance, nautical_mile) == rounding(27.4 * 1800.0 / 310.0));
  CHECK(in(all_of_it.held_back, litre) == 0.0);
}

TEST_CASE("a reserve of capacity counts from the capacity, unusable fuel apart") {
  auto input = step(reserve_of_capacity(10.0 * percent));
  input.usable_fuel = 1700.0 * litre;
  CHECK(in(cruising_range(input).fuel_to_burn, litre) == rounding(1520.0));  // 1700 - 0.1 x 1800
  input.reserve = reserve_thirds();
  CHECK(in(cruising_range(input).fuel_to_burn, litre) == rounding(1700.0 * 2.0 / 3.0));
}

TEST_CASE("a range that is quoted holds back 10 % without saying so (common practice, no source)") {
  RangeInput<> quoted{.speed = 42.6 * mph,
                      .fuel_flow = 64.7 * us_gallon_per_hour,
                      .capacity = 1048.0 * us_gallon,
                      .usable_fuel = 1048.0 * us_gallon,
                      .reserve = reserve_of_capacity(10.0 * percent)};
  CHECK(in(cruising_range(quoted).distance, statute_mile) == printed(621.0, 0));
  quoted.reserve = no_reserve();
  CHECK(in(cruising_range(quoted).distance, statute_mile) == printed(690.03, 2));
}

TEST_CASE("a range from a rounded economy is another range") {
  // 0.3850 statute miles per gallon rounded to 0.4 is 3.9 % long: what cruising_range() does not do.
  const auto result = cruising_range(step(reserve_of_capacity(10.0 * percent)));
  const double from_rounded = 0.4 * in(result.fuel_to_burn, us_gallon);
  CHECK((from_rounded / in(result.distance, statute_mile) - 1.0) / percent == printed(3.9, 1));
}

TEST_CASE("a reserve that leaves no fuel is an outcome, not a number") {
  auto input = step(reserve_volume(1800.0 * litre));
  for (const Reserve<>& reserve :
       {reserve_volume(1800.0 * litre), reserve_volume(2000.0 * litre), reserve_of_capacity(1.0)}) {
    input.reserve = reserve;
    const auto result = cruising_range(input);
    CHECK(result.outcome == RangeOutcome::reserve_leaves_no_fuel);
    CHECK_FALSE(is_set(result.distance));
    CHECK_FALSE(is_set(result.endurance));
    CHECK_FALSE(is_set(result.fuel_to_burn));
    CHECK_FALSE(is_set(result.held_back));
  }
  // All of the fuel by another way of typing it: what is left is the rounding of a conversion.
  for (double gallons = 1.0; gallons <= 500.0; ++gallons) {
    CAPTURE(gallons);
    input.capacity = input.usable_fuel = gallons * us_gallon;
    input.reserve = reserve_volume(in(gallons * us_gallon, litre) * litre);
    CHECK(cruising_range(input).outcome == RangeOutcome::reserve_leaves_no_fuel);
    input.reserve = reserve_volume((in(gallons * us_gallon, litre) - 0.01) * litre);
    CHECK(cruising_range(input).outcome == RangeOutcome::found);
  }
  input.capacity = 1800.0 * litre;
  // A tank drawn down below the reserve; and an empty one with nothing held back.
  input.usable_fuel = 150.0 * litre;
  input.reserve = reserve_of_capacity(10.0 * percent);
  CHECK(cruising_range(input).outcome == RangeOutcome::reserve_leaves_no_fuel);
  input.usable_fuel = 0.0 * litre;
  input.reserve = no_reserve();
  CHECK(cruising_range(input).outcome == RangeOutcome::reserve_leaves_no_fuel);
  CHECK(words(RangeOutcome::reserve_leaves_no_fuel).find("no fuel") != std::string_view::npos);
  CHECK(words(RangeOutcome::found) == "range found");
}

TEST_CASE("every bad field is refused by name") {
  const auto good = step(no_reserve());
  CHECK(check_bad_fields(good, [](const auto& input) { return cruising_range(input); }) == 4);
  auto input = good;
  input.usable_fuel = 1801.0 * litre;
  CHECK_THROWS_WITH_AS(cruising_range(input),
                       "cruising_range: usable fuel is 1801 L; accepted: 0 L to the capacity of 1800 L", BadInput);
}

TEST_CASE("range on Dual and on the strict archetype") {
  // R = V (F_u - k F_c)/q: by hand, dR/dV = F/q, dR/dq = -V F/q^2, dR/dk = -V F_c/q.
  using D = Dual<3>;
  const double v = (27.4 * knot).value(), q = (310.0 * litre_per_hour).value(), f = 1.62, capacity = 1.8;
  const auto result = cruising_range<D>({.speed = seed<3>(27.4 * knot, 0),
                                         .fuel_flow = seed<3>(310.0 * litre_per_hour, 1),
                                         .capacity = widen<D>(1800.0 * litre),
                                         .usable_fuel = widen<D>(1800.0 * litre),
                                         .reserve = reserve_of_capacity(D::input(0.1, 2))});
  CHECK(result.outcome == RangeOutcome::found);
  CHECK(derivative(result.distance, 0).value() == rounding(f / q));
  CHECK(derivative(result.distance, 1).value() == rounding(-v * f / (q * q)));
  CHECK(derivative(result.distance, 2).value() == rounding(-v * capacity / q));

  for (const Reserve<>& reserve : {no_reserve(), reserve_of_capacity(0.1), reserve_thirds(), reserve_per_leg(0.2),
                                   reserve_volume(100.0 * litre), reserve_of_capacity(1.0)}) {
    CAPTURE(words(reserve));
    const auto numbers = cruising_range(step(reserve));
    const RangeInput<Strict> input = step(reserve);
    const auto strict = cruising_range(input);
    CHECK(strict.outcome == numbers.outcome);
    if (numbers.outcome == RangeOutcome::found)
      CHECK(in(strict.distance, metre).reveal() == rounding(in(numbers.distance, metre)));
    else
      CHECK_FALSE(is_set(strict.distance));
  }
  RangeInput<Strict> over = step(no_reserve());
  over.usable_fuel = widen<Strict>(1801.0 * litre);
  CHECK_THROWS_AS(cruising_range(over), BadInput);
}

TEST_CASE("range names its source") { CHECK(cite(cruising_range_method).find("(practice)") != std::string::npos); }
