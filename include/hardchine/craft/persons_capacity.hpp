/// @file
/// Persons capacity of an outboard boat by a rule of the United States, 33 CFR 183.41: recreational monohull boats under
/// 20 ft with one or more outboard motors, nothing else. By that rule, in pounds,
///
///     by weight     W = maximum weight capacity - (motor and controls + dry battery + full portable fuel tank)
///     by side test  A/0.6, asked for where W is less than 550 lb
///     capacity      the lesser of the two
///     persons       (capacity + 32)/141, to the nearest whole number, one half upwards
///
/// A is the weight along one side, with all permanent equipment and the motor in place, at which the boat lists as far
/// as she can without water coming aboard.
///
/// What the plate on the boat says goes before any calculation, and the law of the place before both. A capacity is for
/// fair weather, seated persons and even loading; fewer aboard in waves, wind, or with heavy people or gear.
/// Overloading drowns people.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "hardchine/fields.hpp"

namespace hardchine {

/// The bits of the limits of the rule, in the order of persons_capacity_limits.
enum class PersonsCapacityLimit : std::uint8_t { boat_length };
/// The limits of the rule.
inline constexpr auto persons_capacity_limits = std::to_array<Limit>({
    {"boat of 20 ft or more: the rule does not apply to her", "cfr_33_183_41, applicability of subpart C", 0.0, 20.0},
});
/// Persons capacity of outboard boats.
inline constexpr Method persons_capacity_method{
    .name = "persons capacity of US outboard boats under 20 ft",
    .key = "cfr_33_183_41",
    .equations = "183.41 (a) and (b)",
    .evidence = Evidence::printed,
    .limits = persons_capacity_limits,
    .instead_beyond = "the plate of the builder, the rule of the flag, or a licensed naval architect"};

/// The caution that goes with every persons capacity; a report prints it.
inline constexpr std::string_view persons_capacity_caution =
    "United States rule for recreational outboard monohulls under 20 ft; not for sailboats, canoes, kayaks, "
    "inflatables, "
    "other hulls, or boats that carry passengers for hire. The boat's own plate and the local law go first. Fewer "
    "persons in waves or wind, with heavy persons or gear; seated, spread evenly, life-jackets worn.";

/// The input of persons_capacity(): what the builder knows of the boat.
template <class T = double>
struct PersonsCapacityInput {
  Length<T> boat_length = unset;             ///< over the deck, without fittings: 4 to 100 ft, flagged from 20 ft
  Mass<T> maximum_weight_capacity = unset;   ///< persons, motor, gear: above 0 to 20000 lb
  Mass<T> outboard_equipment = unset;        ///< motor and controls, dry battery, full portable tank: 0 to 20000 lb
  Mass<T> weight_submerging_a_side = unset;  ///< A: above 0 to 20000 lb; needed only where the outcome asks for it

  /// The field table.
  static constexpr auto fields() {
    using I = PersonsCapacityInput;
    const auto lb = shown(pound_mass, "lb");
    return FieldTable{
        field("boat length", &I::boat_length, shown(foot, "ft"), between(4.0, 100.0)),
        field("maximum weight capacity", &I::maximum_weight_capacity, lb, above(0.0, 20000.0)),
        field("outboard equipment", &I::outboard_equipment, lb, between(0.0, 20000.0)),
        field("weight submerging a side", &I::weight_submerging_a_side, lb, above(0.0, 20000.0), Need::optional)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PersonsCapacityInput<U>() const {
    return widen_fields<PersonsCapacityInput<U>>(*this);
  }
};

/// Whether the rule gives a number, and by which of its two ways.
enum class PersonsCapacityOutcome : std::uint8_t {
  by_weight,         ///< the maximum weight capacity less the equipment
  by_side_test,      ///< A/0.6, which is less
  side_test_needed,  ///< below 550 lb by weight: the rule asks for A, which was not given
  no_capacity        ///< the equipment weighs as much as the boat may carry
};

/// The outcome in the words of a report.
/// @param outcome of persons_capacity()
/// @return a phrase
constexpr std::string_view words(PersonsCapacityOutcome outcome) {
  switch (outcome) {
    case PersonsCapacityOutcome::by_weight:
      return "persons capacity by the maximum weight capacity";
    case PersonsCapacityOutcome::by_side_test:
      return "persons capacity by the weight that submerges one side";
    case PersonsCapacityOutcome::side_test_needed:
      return "no persons capacity: less than 550 lb by weight, the weight that submerges one side must be tested";
    case PersonsCapacityOutcome::no_capacity:
      return "no persons capacity: the outboard equipment weighs as much as the boat may carry";
  }
  return "unknown outcome";
}

/// The answer of persons_capacity(). Without a capacity its weight is unset and the number of persons is 0.
template <class T = double>
struct PersonsCapacity {
  PerLane<T, PersonsCapacityOutcome> outcome = per_lane<T>(PersonsCapacityOutcome::no_capacity);  ///< by which way
  PerLane<T, int> persons = per_lane<T>(0);  ///< whole persons, not to be exceeded
  Mass<T> weight = unset;                    ///< of all persons together, not to be exceeded
  Mass<T> by_weight = unset;          ///< maximum weight capacity less the equipment; 0 or less where nothing is left
  Mass<T> by_side_test = unset;       ///< A/0.6; unset where no side test was given
  T persons_before_rounding = unset;  ///< (weight + 32 lb)/141 lb
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});      ///< bits into the limits of `method`
  const Method* method = nullptr;                       ///< who answered
  std::string_view caution = persons_capacity_caution;  ///< goes with the number
};

/// Persons capacity of an outboard boat: the weight of all persons and their whole number.
///
/// Weights that differ from 550 lb, or from a weight where the rounding changes, by less than one part in 10^9 count as
/// equal to it: they are what is left of pounds after a conversion and a subtraction.
/// Source: cfr_33_183_41 (a), (b), printed; the use of (a)(2) below 550 lb as uscg_handbook explains it, printed.
/// @param boat length (4 to 100 ft, flagged from 20 ft), maximum weight capacity (above 0 to 20000 lb), outboard
///             equipment (0 to 20000 lb), weight that submerges one side (above 0 to 20000 lb; optional)
/// @return weight, whole persons, outcome, flags, caution; no number where the outcome says why
/// @throws BadInput for a field that is unset or out of range, naming it
template <Scalar T = double>
PersonsCapacity<T> persons_capacity(const PersonsCapacityInput<T>& boat) {
  check_fields("persons_capacity", boat);
  const auto pounds = [](double x) { return widen<T>(x * pound_mass); };
  const auto at_least = [&](const Mass<T>& m, double x) { return m >= pounds(x - 1e-9 * magnitude(x)); };

  PersonsCapacity<T> r;
  r.method = &persons_capacity_method;
  r.by_weight = boat.maximum_weight_capacity - boat.outboard_equipment;
  r.by_side_test = boat.weight_submerging_a_side / T(0.6);
  const auto positive = r.by_weight > pounds(0.0);
  const auto side_test_asked = both(positive, negate(at_least(r.by_weight, 550.0)));
  const auto side_test_made = r.by_side_test >= r.by_side_test;  // set
  const auto by_side_test = both(both(side_test_asked, side_test_made), r.by_side_test < r.by_weight);
  const auto answered = both(positive, either(negate(side_test_asked), side_test_made));

  const Limit& length = persons_capacity_limits[static_cast<std::size_t>(PersonsCapacityLimit::boat_length)];
  raise_where(r.flags, boat.boat_length >= widen<T>(length.high * foot), flag(PersonsCapacityLimit::boat_length));
  assign_where(r.outcome, answered, PersonsCapacityOutcome::by_weight);
  assign_where(r.outcome, by_side_test, PersonsCapacityOutcome::by_side_test);
  assign_where(r.outcome, both(side_test_asked, negate(side_test_made)), PersonsCapacityOutcome::side_test_needed);
  r.weight = select(answered, select(by_side_test, r.by_side_test, r.by_weight), Mass<T>(unset));
  r.persons_before_rounding = (r.weight + pounds(32.0)) / pounds(141.0);

  // n persons from (weight + 32)/141 = n - 1/2 upwards.
  for (int n = 1;; ++n) {
    const auto enough = at_least(r.weight, 141.0 * (n - 0.5) - 32.0);
    if (!any(enough)) break;
    assign_where(r.persons, enough, n);
  }
  return r;
}

}  // namespace hardchine
