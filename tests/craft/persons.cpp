#include "hardchine/craft/persons.hpp"

#include <doctest/doctest.h>

#include <set>
#include <string_view>

#include "near.hpp"

using namespace hardchine;

TEST_CASE("the mass of a person by its named standard") {
  // iso_12217_3 (printed): crew limit at 75 kg, a child 37.5 kg.
  CHECK(in(person_mass(PersonStandard::iso_12217), kilogram) == 75.0);
  CHECK(in(person_mass(PersonStandard::iso_12217_child), kilogram) == 37.5);
  // cfr_46_170_090, (d)(1) (printed): 185 lb, in kilograms by the exact pound.
  CHECK(in(person_mass(PersonStandard::cfr_46_170), pound_mass) == relative(185.0, 2.3e-16));
  CHECK(in(person_mass(PersonStandard::cfr_46_170), kilogram) == relative(83.91458845, 2.3e-16));
  static_assert(in(person_mass(PersonStandard::iso_12217), kilogram) == 75.0);
}

TEST_CASE("each standard has its own name, and there is no person without one") {
  const std::set<std::string_view> names = {words(PersonStandard::iso_12217), words(PersonStandard::iso_12217_child),
                                            words(PersonStandard::cfr_46_170)};
  CHECK(names == std::set<std::string_view>{"ISO 12217-3, adult", "ISO 12217-3, child", "46 CFR 170.090"});
  const auto none = static_cast<PersonStandard>(99);
  CHECK(words(none) == "unknown");
  // Not a number, which the door of the roll-up refuses by the item's name.
  CHECK_FALSE(is_set(person_mass(none)));
  const WeightItem<> crew[] = {{.name = "crew", .mass = 4.0 * person_mass(none)}};
  try {
    roll_up<double>(crew);
    FAIL_CHECK("not refused");
  } catch (const BadInput& error) {
    CHECK(error.function() == "roll_up: crew");
    CHECK(error.field() == "mass");
    CHECK(error.value() == "not set");
  }
}

TEST_CASE("persons are items of the load like any other") {
  const WeightItem<> crew[] = {
      {.name = "adults", .mass = 4.0 * person_mass(PersonStandard::iso_12217), .x = 2.0 * metre},
      {.name = "children", .mass = 2.0 * person_mass(PersonStandard::iso_12217_child), .x = 4.5 * metre}};
  const Loading<> loading = roll_up<double>(crew);
  CHECK(in(loading.mass, kilogram) == 375.0);
  CHECK(in(loading.lcg, metre) == 2.5);
}
