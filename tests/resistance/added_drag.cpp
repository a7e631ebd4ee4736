#include "hardchine/resistance/added_drag.hpp"

#include <doctest/doctest.h>

#include "archetype.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("air drag in still air: 7.5 m2, C_D 0.7, 1.225 kg/m3, 30 kn gives 765.923 N (worked by hand)") {
  const AddedDrag<> added{
      .frontal_area = 7.5 * square_metre, .air_drag_coefficient = 0.7, .air_density = 1.225 * kilogram_per_cubic_metre};
  CHECK(in(still_air_drag(added, 30.0 * knot), newton) == printed(765.923, 3));
  const AddedDrag<Strict> strict = added;
  CHECK(in(still_air_drag(strict, widen<Strict>(30.0 * knot)), newton).reveal() ==
        in(still_air_drag(added, 30.0 * knot), newton));
}

TEST_CASE("molland_2011: the fallback C_AA = 0.001 A_T/S on water density is a C_D of about 0.83") {
  // 0.5 rho S V^2 (0.001 A/S) = 0.5 rho_A C_D A V^2, so C_D = 0.001 rho/rho_A with 1025 and 1.23 kg/m3 (printed there).
  const double C_D = 0.001 * 1025.0 / 1.23;
  const AddedDrag<> added{
      .frontal_area = 10.0 * square_metre, .air_drag_coefficient = C_D, .air_density = 1.23 * kilogram_per_cubic_metre};
  const Force<> by_water = 0.5 *
                           (1025.0 * kilogram_per_cubic_metre * square_metre * metre_per_second * metre_per_second) *
                           (0.001 * 10.0 * 12.0 * 12.0);
  CHECK(in(still_air_drag(added, 12.0 * metre_per_second), newton) == rounding(in(by_water, newton)));
}

TEST_CASE("nothing added is nothing, and absurd values are refused by the door") {
  CHECK(in(still_air_drag(AddedDrag<>{}, 40.0 * knot), newton) == 0.0);
  CHECK_THROWS_AS(check_fields("test", AddedDrag<>{.appendage_fraction = -0.01}), BadInput);
  CHECK_THROWS_AS(check_fields("test", AddedDrag<>{.appendage_fraction = 0.61}), BadInput);
  CHECK_THROWS_AS(check_fields("test", AddedDrag<>{.air_density = 1000.0 * kilogram_per_cubic_metre}), BadInput);
}
