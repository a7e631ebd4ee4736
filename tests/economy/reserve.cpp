#include "hardchine/economy/reserve.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <type_traits>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

// A reserve is named or it is not there.
static_assert(!std::is_default_constructible_v<Reserve<>>);
static_assert(!std::is_constructible_v<Reserve<>, double>);
static_assert(!std::is_constructible_v<Reserve<>, ReserveKind, double, Volume<>>);
static_assert(!std::is_convertible_v<std::nullptr_t, Reserve<>>);

TEST_CASE("a reserve says what it is") {
  CHECK(words(no_reserve()) == "nothing held back");
  CHECK(words(reserve_of_capacity(10.0 * percent)) == "10 % of capacity held back");
  CHECK(words(reserve_of_capacity(0.125)) == "12.5 % of capacity held back");
  CHECK(words(reserve_thirds()) == "thirds: one third of usable fuel out, one third back, one third in hand");
  CHECK(words(reserve_per_leg(20.0 * percent)) == "20 % of each leg's burn held back");
  CHECK(words(reserve_volume(150.0 * litre)) == "150 L held back");
  CHECK(words(reserve_volume(40.0 * us_gallon), us_gallon, "US gal") == "40 US gal held back");

  CHECK(no_reserve().kind() == ReserveKind::none);
  CHECK(reserve_of_capacity(0.1).fraction() == 0.1);
  CHECK(reserve_per_leg(0.2).kind() == ReserveKind::per_leg);
  CHECK(in(reserve_volume(150.0 * litre).volume(), litre) == rounding(150.0));
  CHECK(reserve_thirds().kind() == ReserveKind::thirds);
}

TEST_CASE("a reserve that is none is refused where it is made") {
  const double nan = std::nan(""), infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {nan, infinite, -0.01, 1.01}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(reserve_of_capacity(bad), BadInput);
  }
  for (const double bad : {nan, infinite, -0.01, 5.01}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(reserve_per_leg(bad), BadInput);
  }
  for (const double bad : {nan, infinite, -1.0, 1.1e6}) {
    CAPTURE(bad);
    CHECK_THROWS_AS(reserve_volume(bad * litre), BadInput);
  }
  // The commonest slip: per cent given as a number.
  CHECK_THROWS_WITH_AS(reserve_of_capacity(10.0),
                       "reserve_of_capacity: fraction of capacity is 1000 %; accepted: 0 % to 100 %", BadInput);
}

TEST_CASE("a reserve of numbers meets other scalars") {
  const Reserve<Dual<2>> dual = reserve_of_capacity(0.1);
  CHECK(dual.kind() == ReserveKind::of_capacity);
  CHECK(dual.fraction().value == 0.1);
  CHECK(dual.fraction().derivative[0] == 0.0);
  const Reserve<Strict> strict = reserve_volume(150.0 * litre);
  CHECK(strict.volume().value().reveal() == (150.0 * litre).value());
  CHECK(reserve_of_capacity(Strict(0.1)).fraction().reveal() == 0.1);
  CHECK(reserve_per_leg(Strict(0.2)).fraction().reveal() == 0.2);
  CHECK(reserve_volume(widen<Strict>(150.0 * litre)).kind() == ReserveKind::volume);
  CHECK(no_reserve<Strict>().kind() == ReserveKind::none);
  CHECK(reserve_thirds<Strict>().kind() == ReserveKind::thirds);
  CHECK_THROWS_AS(reserve_of_capacity(Strict(1.5)), BadInput);
}
