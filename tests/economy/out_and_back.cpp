#include "hardchine/economy/out_and_back.hpp"

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
  Input{.speed = 25.0 * knot,
        .current = 0.0 * knot,
        .fuel_flow = 180.0 * litre_per_hour,
        .capacity = 1800.0 * litre,
        .usable_fuel = 1800.0 * litre};
};
template <class Input>
concept compiles_with_reserve = requires {
  Input{.speed = 25.0 * knot,
        .current = 0.0 * knot,
        .fuel_flow = 180.0 * litre_per_hour,
        .capacity = 1800.0 * litre,
        .usable_fuel = 1800.0 * litre,
        .reserve = no_reserve()};
};
static_assert(!compiles_without_reserve<OutAndBackInput<>>);
static_assert(compiles_with_reserve<OutAndBackInput<>>);

OutAndBackInput<> trip(double current_kn, const Reserve<>& reserve = reserve_of_capacity(0.1)) {
  return {.speed = 25.0 * knot,
          .current = current_kn * knot,
          .fuel_flow = 180.0 * litre_per_hour,
          .capacity = 1800.0 * litre,
          .usable_fuel = 1800.0 * litre,
          .reserve = reserve};
}

}  // namespace

TEST_CASE("out and back, computed with independent code: 25 kn, 2.5 kn of current, 180 L/h, 1620 L to burn") {
  const auto with = out_and_back(trip(2.5));
  REQUIRE(with.outcome == OutAndBackOutcome::found);
  CHECK(in(with.distance_each_way, nautical_mile) == printed(111.375, 3));
  const auto still = out_and_back(trip(0.0));
  CHECK(in(still.distance_each_way, nautical_mile) == printed(112.5, 1));
  // (c/V)^2 of the distance is lost, whichever way is first.
  CHECK(with.distance_each_way / still.distance_each_way == rounding(1.0 - 0.01));
  CHECK(in(out_and_back(trip(-2.5)).distance_each_way, nautical_mile) == printed(111.375, 3));
  // Half the range in still water, from the function that knows no current.
  const auto range = cruising_range({.speed = 25.0 * knot,
                                     .fuel_flow = 180.0 * litre_per_hour,
                                     .capacity = 1800.0 * litre,
                                     .usable_fuel = 1800.0 * litre,
                                     .reserve = reserve_of_capacity(0.1)});
  CHECK(in(still.distance_each_way, nautical_mile) == rounding(0.5 * in(range.distance, nautical_mile)));
}

TEST_CASE("the legs by hand: each at its own speed over ground, together all the fuel to burn") {
  const auto trip_result = out_and_back(trip(2.5));
  // 111.375 nmi at 27.5 kn and at 22.5 kn: 4.05 h and 4.95 h; 729 L and 891 L.
  CHECK(in(trip_result.time_out, hour) == rounding(111.375 / 27.5));
  CHECK(in(trip_result.time_back, hour) == rounding(111.375 / 22.5));
  CHECK(in(trip_result.fuel_out, litre) == rounding(729.0));
  CHECK(in(trip_result.fuel_back, litre) == rounding(891.0));
  CHECK(in(trip_result.held_back, litre) == relative(180.0, 1e-13));  // a difference of numbers ten times larger
  const auto against_first = out_and_back(trip(-2.5));
  CHECK(in(against_first.fuel_out, litre) == rounding(891.0));
  CHECK(against_first.reserve.kind() == ReserveKind::of_capacity);

  // Thirds: 1200 L to burn, and against a foul return more than a third of 1800 L goes on the way back.
  const auto thirds = out_and_back(trip(2.5, reserve_thirds()));
  CHECK(in(thirds.fuel_back, litre) == rounding(1200.0 * 27.5 / 50.0));
  CHECK(in(thirds.fuel_back, litre) > 600.0);
}

TEST_CASE("no way back, and no fuel, are outcomes without numbers") {
  for (const double current : {25.0, 25.001, 30.0, -25.0, -29.0}) {
    CAPTURE(current);
    const auto result = out_and_back(trip(current));
    CHECK(result.outcome == OutAndBackOutcome::current_not_stemmed);
    CHECK_FALSE(is_set(result.distance_each_way));
    CHECK_FALSE(is_set(result.time_out));
    CHECK_FALSE(is_set(result.fuel_back));
  }
  // Just stemmed: hardly any distance, but one.
  const auto barely = out_and_back(trip(24.999));
  CHECK(barely.outcome == OutAndBackOutcome::found);
  CHECK(in(barely.distance_each_way, nautical_mile) == relative(112.5 * (1.0 - 0.99996 * 0.99996), 1e-10));

  const auto dry = out_and_back(trip(2.5, reserve_volume(1800.0 * litre)));
  CHECK(dry.outcome == OutAndBackOutcome::reserve_leaves_no_fuel);
  CHECK_FALSE(is_set(dry.distance_each_way));
  CHECK_FALSE(is_set(dry.held_back));
  CHECK(words(dry.outcome) == "no distance: the reserve leaves no fuel to burn");
  CHECK(words(OutAndBackOutcome::current_not_stemmed).find("current") != std::string_view::npos);
}

TEST_CASE("every bad field is refused by name") {
  const OutAndBackInput<> good = trip(2.5);
  CHECK(check_bad_fields(good, [](const auto& input) { return out_and_back(input); }) == 5);
  auto overfull = good;
  overfull.usable_fuel = 1900.0 * litre;
  CHECK_THROWS_AS(out_and_back(overfull), BadInput);
}

TEST_CASE("derivatives on Dual against the closed form") {
  using D = Dual<2>;
  OutAndBackInput<D> input = trip(2.5);
  input.speed = seed<2>(25.0 * knot, 0);
  input.current = seed<2>(2.5 * knot, 1);
  const auto d = out_and_back(input).distance_each_way;
  // d = F/(2q) (V - c^2/V): dd/dV = F/(2q) (1 + c^2/V^2), dd/dc = -F/q c/V.
  const double F_over_q = 1620.0 / 180.0 * 3600.0;
  CHECK(derivative(d, 0).value() == rounding(0.5 * F_over_q * 1.01));
  CHECK(derivative(d, 1).value() == rounding(-F_over_q * 0.1));
}

TEST_CASE("runs on the strict archetype") {
  const OutAndBackInput<Strict> input = trip(2.5);
  const auto result = out_and_back(input);
  CHECK(in(result.distance_each_way, nautical_mile).reveal() == printed(111.375, 3));
  CHECK(result.outcome == OutAndBackOutcome::found);
  const OutAndBackInput<Strict> foul = trip(26.0);
  CHECK(out_and_back(foul).outcome == OutAndBackOutcome::current_not_stemmed);
}

TEST_CASE("the method names its source") { CHECK(cite(out_and_back(trip(0.0))).find("practice") != std::string::npos); }
