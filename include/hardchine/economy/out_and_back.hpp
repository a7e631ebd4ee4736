/// @file
/// How far out and back again, with a current along the course and a named reserve.
///
/// With V the speed through the water, c the current along the course, q the fuel flow and F the fuel to burn once the
/// reserve is held back, a distance d out and d back takes
///
///     t = d/(V + c) + d/(V - c) = 2 d V/(V^2 - c^2),   and q t = F gives   d = F (V^2 - c^2)/(2 q V)
///
/// The current costs the fraction (c/V)^2 of the distance whichever way is first. Speed through the water and fuel flow
/// stay the same both ways, and so does the current. Wind, waves, a turning tide and cross current are not in it: it is
/// no passage plan. The leg against the current burns more than half: check the return with its own current and load
/// before leaving.
#pragma once

#include "hardchine/economy/range.hpp"

namespace hardchine {

/// Distance out and back on a volume of fuel.
inline constexpr Method out_and_back_method{.name = "Distance out and back with a current along the course",
                                            .key = "trade_practice",
                                            .equations = "t = 2 d V/(V^2 - c^2), d = F (V^2 - c^2)/(2 q V)",
                                            .evidence = Evidence::practice,
                                            .limits = {},
                                            .instead_beyond = "reckon each leg with its own current"};

/// Whether the boat gets out and back.
enum class OutAndBackOutcome : std::uint8_t {
  found,                   ///< a distance
  reserve_leaves_no_fuel,  ///< what is held back is all the usable fuel, or more
  current_not_stemmed      ///< the current is as fast as the boat, or faster: one way is no way
};

/// The outcome in the words of a report.
/// @param outcome of out_and_back()
/// @return a phrase
constexpr std::string_view words(OutAndBackOutcome outcome) {
  switch (outcome) {
    case OutAndBackOutcome::found:
      return "distance found";
    case OutAndBackOutcome::reserve_leaves_no_fuel:
      return "no distance: the reserve leaves no fuel to burn";
    case OutAndBackOutcome::current_not_stemmed:
      return "no way back: the current is as fast as the boat, or faster";
  }
  return "unknown outcome";
}

/// The input of out_and_back(). The reserve has no default: leaving it out does not compile.
template <class T = double>
struct OutAndBackInput {
  Speed<T> speed = unset;           ///< V: through the water, above 0 to 150 kn
  Speed<T> current = unset;         ///< c: along the course, positive with the boat on the way out, -30 to 30 kn
  VolumeFlow<T> fuel_flow = unset;  ///< q: of all engines together at that speed, above 0 to 20000 L/h
  Volume<T> capacity = unset;       ///< F_c: of all fuel tanks, above 0 to 1e6 L
  Volume<T> usable_fuel = unset;    ///< F_u: what the engines can draw of the fuel aboard, 0 L to the capacity
  Reserve<T> reserve;               ///< what is held back, by name

  /// The field table; a reserve checks itself when it is made.
  static constexpr auto fields() {
    return FieldTable{
        field("speed", &OutAndBackInput::speed, shown(knot, "kn"), economy_ranges::moving),
        field("current", &OutAndBackInput::current, shown(knot, "kn"), between(-30.0, 30.0)),
        field("fuel flow", &OutAndBackInput::fuel_flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow),
        field("capacity", &OutAndBackInput::capacity, shown(litre, "L"), economy_ranges::tank_capacity),
        field("usable fuel", &OutAndBackInput::usable_fuel, shown(litre, "L"), economy_ranges::volume)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator OutAndBackInput<U>() const {
    return {.speed = widen<U>(speed),
            .current = widen<U>(current),
            .fuel_flow = widen<U>(fuel_flow),
            .capacity = widen<U>(capacity),
            .usable_fuel = widen<U>(usable_fuel),
            .reserve = reserve};
  }
};

/// The answer of out_and_back(). The quantities are unset unless the outcome is `found`.
template <class T = double>
struct OutAndBack {
  PerLane<T, OutAndBackOutcome> outcome = per_lane<T>(OutAndBackOutcome::found);  ///< whether there is a distance
  Length<T> distance_each_way = unset;                                            ///< d, over ground
  Duration<T> time_out = unset;                                                   ///< d/(V + c)
  Duration<T> time_back = unset;                                                  ///< d/(V - c)
  Volume<T> fuel_out = unset;                                                     ///< burnt on the way out
  Volume<T> fuel_back = unset;                                                    ///< burnt on the way back
  Volume<T> held_back = unset;                                                    ///< usable fuel left at the end
  Reserve<T> reserve;                                                             ///< the reserve that was asked for
  const Method* method = &out_and_back_method;                                    ///< who answered
};

/// The farthest place that the boat can reach and come back from.
/// Source: trade_practice (kinematics); evidence: practice. Valid while speed through the water, flow and current stay
/// as given.
/// @param input speed through the water (above 0 to 150 kn), current along the course (-30 to 30 kn, positive with the
///              boat on the way out), fuel flow (above 0 to 20000 L/h), capacity (above 0 to 1e6 L), usable fuel (0 L to
///              the capacity), reserve (required)
/// @return distance each way, times and fuel of the legs; or the outcome that there is none
/// @throws BadInput for a field that is unset or out of range, or usable fuel above capacity
template <class T = double>
OutAndBack<T> out_and_back(const OutAndBackInput<T>& input) {
  check_fields("out_and_back", input);
  const RangeResult<T> still = cruising_range<T>({.speed = input.speed,
                                                  .fuel_flow = input.fuel_flow,
                                                  .capacity = input.capacity,
                                                  .usable_fuel = input.usable_fuel,
                                                  .reserve = input.reserve});
  const Speed<T>& V = input.speed;
  const Speed<T>& c = input.current;
  const auto stemmed = magnitude(c) < V;
  // Not a number stands for no answer in `still`, and no comparison with it holds.
  const auto fuelled = still.fuel_to_burn > Volume<T>::from_value(T(0.0));
  const auto found = both(stemmed, fuelled);
  const Volume<T> F = select(fuelled, still.fuel_to_burn, Volume<T>::from_value(T(0.0)));
  const Length<T> d = F * (V * V - c * c) / (T(2.0) * (input.fuel_flow * V));
  // A current that is not stemmed makes one of the ground speeds zero: reckoned with V instead, and not shown.
  const Duration<T> out = d / select(stemmed, Speed<T>(V + c), V);
  const Duration<T> back = d / select(stemmed, Speed<T>(V - c), V);
  const auto shown_if_found = [&](const auto& q) {
    using Q = std::remove_cvref_t<decltype(q)>;
    return select(found, q, Q(unset));
  };
  OutAndBack<T> result{.distance_each_way = shown_if_found(d),
                       .time_out = shown_if_found(out),
                       .time_back = shown_if_found(back),
                       .fuel_out = shown_if_found(Volume<T>(input.fuel_flow * out)),
                       .fuel_back = shown_if_found(Volume<T>(input.fuel_flow * back)),
                       .held_back = shown_if_found(still.held_back),
                       .reserve = input.reserve};
  assign_where(result.outcome, negate(fuelled), OutAndBackOutcome::reserve_leaves_no_fuel);
  assign_where(result.outcome, negate(stemmed), OutAndBackOutcome::current_not_stemmed);
  return result;
}

}  // namespace hardchine
