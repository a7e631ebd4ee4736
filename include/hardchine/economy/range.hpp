/// @file
/// Cruising range in still water at one steady speed, with a named reserve.
///
/// With F_u the usable fuel, F_c the capacity, F the fuel to burn, q the fuel flow and V the speed:
///
///     nothing held back  F = F_u           a fraction k of capacity  F = F_u - k F_c
///     thirds             F = 2/3 F_u       k of each leg's burn      F = F_u/(1 + k)
///     a volume F_0       F = F_u - F_0     then t = F/q and the range is V t
///
/// Always from the speed and the flow, never from an economy rounded for print. Wind, waves, current, fouling and the
/// changing weight of fuel are not in it: it is no passage plan. Keep a reserve that fits the trip and local rules.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "hardchine/economy/fuel_economy.hpp"
#include "hardchine/economy/reserve.hpp"

namespace hardchine {

/// Range at one speed with a named reserve.
inline constexpr Method cruising_range_method{.name = "Cruising range with a named reserve",
                                              .key = "trade_practice",
                                              .equations = "V F/q, F by the named reserve",
                                              .evidence = Evidence::practice,
                                              .limits = {},
                                              .instead_beyond = ""};

/// Whether the reserve leaves fuel to burn.
enum class RangeOutcome : std::uint8_t {
  found,                   ///< a range
  reserve_leaves_no_fuel,  ///< what is held back is all the usable fuel, or more
};

/// The outcome in the words of a report.
/// @param outcome of cruising_range()
/// @return a phrase
constexpr std::string_view words(RangeOutcome outcome) {
  switch (outcome) {
    case RangeOutcome::found:
      return "range found";
    case RangeOutcome::reserve_leaves_no_fuel:
      return "no range: the reserve leaves no fuel to burn";
  }
  return "unknown outcome";
}

/// The input of cruising_range(). The reserve has no default: leaving it out does not compile.
template <class T = double>
struct RangeInput {
  Speed<T> speed = unset;           ///< V: above 0 to 150 kn
  VolumeFlow<T> fuel_flow = unset;  ///< q: of all engines together at that speed, above 0 to 20000 L/h
  Volume<T> capacity = unset;       ///< F_c: of all fuel tanks, above 0 to 1e6 L
  Volume<T> usable_fuel = unset;    ///< F_u: what the engines can draw of the fuel aboard, 0 L to the capacity
  Reserve<T> reserve;               ///< what is held back, by name

  /// The field table; a reserve checks itself when it is made.
  static constexpr auto fields() {
    return FieldTable{
        field("speed", &RangeInput::speed, shown(knot, "kn"), economy_ranges::moving),
        field("fuel flow", &RangeInput::fuel_flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow),
        field("capacity", &RangeInput::capacity, shown(litre, "L"), economy_ranges::tank_capacity),
        field("usable fuel", &RangeInput::usable_fuel, shown(litre, "L"), economy_ranges::volume)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator RangeInput<U>() const {
    return {.speed = widen<U>(speed),
            .fuel_flow = widen<U>(fuel_flow),
            .capacity = widen<U>(capacity),
            .usable_fuel = widen<U>(usable_fuel),
            .reserve = reserve};
  }
};

/// The answer of cruising_range(). The quantities are unset unless the outcome is `found`.
template <class T = double>
struct RangeResult {
  PerLane<T, RangeOutcome> outcome = per_lane<T>(RangeOutcome::reserve_leaves_no_fuel);  ///< whether there is a range
  Length<T> distance = unset;                                                            ///< V t
  Duration<T> endurance = unset;                                                         ///< t
  Volume<T> fuel_to_burn = unset;                                                        ///< F
  Volume<T> held_back = unset;                                                           ///< F_u - F
  Reserve<T> reserve;  ///< the reserve that was asked for
};

/// Range and endurance in still water at one steady speed, the reserve held back.
/// Source: trade_practice; evidence: practice. Valid while speed and flow stay as given: constant load, calm water.
/// @param input speed (above 0 to 150 kn), fuel flow (above 0 to 20000 L/h), capacity (above 0 to 1e6 L), usable fuel
///              (0 L to the capacity), reserve (required)
/// @return distance, endurance, fuel to burn, fuel held back; or the outcome that the reserve leaves no fuel
/// @throws BadInput for a field that is unset or out of range, or usable fuel above capacity
template <class T = double>
RangeResult<T> cruising_range(const RangeInput<T>& input) {
  check_fields("cruising_range", input);
  // A total for usable, or litres for gallons: the commonest slip in a range.
  if (!all(input.usable_fuel <= input.capacity)) {
    std::string value = "above capacity", accepted = "0 L to the capacity";
    if constexpr (std::convertible_to<Plain<T>, double>) {
      value = plain_number(double(in(plain(input.usable_fuel), litre))) + " L";
      accepted += joined({" of ", plain_number(double(in(plain(input.capacity), litre))), " L"});
    }
    throw BadInput("cruising_range", "usable fuel", value, accepted);
  }
  const Reserve<T>& reserve = input.reserve;
  Volume<T> to_burn = input.usable_fuel;
  switch (reserve.kind()) {
    case ReserveKind::none:
      break;
    case ReserveKind::of_capacity:
      to_burn = input.usable_fuel - input.capacity * reserve.fraction();
      break;
    case ReserveKind::thirds:
      to_burn = input.usable_fuel * (2.0 / 3.0);
      break;
    case ReserveKind::per_leg:
      to_burn = input.usable_fuel / T(1.0 + reserve.fraction());
      break;
    case ReserveKind::volume:
      to_burn = input.usable_fuel - reserve.volume();
      break;
  }
  // Less than a part in 10^12 of the fuel is what a conversion of units leaves of a reserve that is all of it.
  const auto found = to_burn > 1e-12 * input.usable_fuel;
  const Duration<T> time = to_burn / input.fuel_flow;
  RangeResult<T> result{.distance = select(found, Length<T>(input.speed * time), Length<T>(unset)),
                        .endurance = select(found, time, Duration<T>(unset)),
                        .fuel_to_burn = select(found, to_burn, Volume<T>(unset)),
                        .held_back = select(found, Volume<T>(input.usable_fuel - to_burn), Volume<T>(unset)),
                        .reserve = reserve};
  assign_where(result.outcome, found, RangeOutcome::found);
  return result;
}

/// What is outside the usual: a range has no published limits, so nothing; whether there is one is its outcome.
/// @return no sentence
template <class T>
std::vector<std::string_view> explain(const RangeResult<T>&) {
  return explain(Flags{0}, cruising_range_method);
}
/// Sources and evidence of a range.
/// @return one line
template <class T>
std::string cite(const RangeResult<T>&) {
  return cite(cruising_range_method);
}

}  // namespace hardchine
