/// @file
/// Speed over power with an overall propulsive coefficient, and the speed that a brake power gives.
///
///     P_B = R V/OPC,   R the total drag (bare hull, appendages, air), OPC = R V/P_B the overall propulsive coefficient
///
/// The top speed is where the power needed equals the power given, on the fastest branch. Drag has a hump before the
/// boat planes, so that there may be three such speeds: all are given, and the outcome says whether the boat gets there
/// from rest. The method behind it under-predicts drag, most at the hump, and the coefficient is lower there: a boat that
/// climbs the hump by a small margin here may not do so on the water.
///
/// An estimate, no promise: engine speed, propeller and gear are not in it. Trials at the speed found are dangerous: see
/// porpoising.hpp, wear the kill cord and life-jackets, keep to the local rules.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "hardchine/resistance/planing_equilibrium.hpp"

namespace hardchine {

/// Which balance of the prismatic equilibrium answers.
enum class PlaningBalance : std::uint8_t {
  closed,         ///< planing_equilibrium(), the default
  paper_general,  ///< planing_equilibrium_paper_general()
  paper_short     ///< planing_equilibrium_paper_short()
};

/// The balance in the words of a report.
/// @param balance any
/// @return a short phrase
constexpr std::string_view words(PlaningBalance balance) {
  switch (balance) {
    case PlaningBalance::closed:
      return "closed balance";
    case PlaningBalance::paper_general:
      return "the paper's general form";
    case PlaningBalance::paper_short:
      return "the paper's short form";
  }
  return "unknown";
}

/// The running state by the balance that is named.
/// @param balance which one
/// @param in as for planing_equilibrium()
/// @return as planing_equilibrium()
/// @throws BadInput as planing_equilibrium()
template <class T = double>
RunningState<T> running_state(PlaningBalance balance, const PlaningInput<T>& in) {
  switch (balance) {
    case PlaningBalance::paper_general:
      return planing_equilibrium_paper_general(in);
    case PlaningBalance::paper_short:
      return planing_equilibrium_paper_short(in);
    case PlaningBalance::closed:
      break;
  }
  return planing_equilibrium(in);
}

// ---- power needed

/// The bits of speed_power_limits.
enum class SpeedPowerLimit : std::uint8_t { coefficient_unusual };

/// What the trade holds of an overall propulsive coefficient.
inline constexpr std::array<Limit, 1> speed_power_limits{{
    {"overall propulsive coefficient outside 30 to 70 %, where planing boats are found", "trade_practice", 0.30, 0.70},
}};

/// Brake power from total drag: the definition of the overall propulsive coefficient.
inline constexpr Method power_needed_method{.name = "Brake power by an overall propulsive coefficient",
                                            .key = "trade_practice",
                                            .equations = "P_B = R V/OPC",
                                            .evidence = Evidence::practice,
                                            .limits = speed_power_limits,
                                            .instead_beyond = "matching with a propeller series"};

/// A craft and what turns its brake power into thrust.
template <class T = double>
struct SpeedPowerInput {
  PlaningInput<T> craft = {};                ///< hull, loading, water, thrust line, speed, appendages and air
  T overall_propulsive_coefficient = unset;  ///< OPC on total drag, 5 to 100 %
  T drag_factor = T(1.0);                    ///< times the total drag, 0.5 to 3; 1 unless the method's bias is tried
  PlaningBalance balance = PlaningBalance::closed;  ///< which form of the equilibrium

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{part("craft", &SpeedPowerInput::craft),
                      field("overall propulsive coefficient", &SpeedPowerInput::overall_propulsive_coefficient,
                            shown_percent, between(5.0, 100.0)),
                      field("drag factor", &SpeedPowerInput::drag_factor, plain_ratio, between(0.5, 3.0)),
                      choice("balance", &SpeedPowerInput::balance)};
  }
  /// The same question in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator SpeedPowerInput<U>() const {
    return widen_fields<SpeedPowerInput<U>>(*this);
  }
};

/// The power for one speed. Drag and powers are unset unless the state's outcome is `converged`.
template <class T = double>
struct PowerNeeded {
  RunningState<T> state = {};                       ///< how she runs; its drag without the drag factor
  Force<T> total_drag = unset;                      ///< R: the state's total drag times the drag factor
  Power<T> effective_power = unset;                 ///< P_E = R V
  Power<T> brake_power = unset;                     ///< P_B = R V/OPC, of all engines together
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});  ///< bits into speed_power_limits
  const Method* method = &power_needed_method;      ///< who answered, on top of the state's method
};

/// Brake power needed at the craft's speed, P_B = R V/OPC with R the total drag.
/// Source: trade_practice, the definition of the overall propulsive coefficient; evidence: practice. Drag by the
/// balance that is named.
/// @param input craft with its speed; overall propulsive coefficient on total drag (5 to 100 %); drag factor (0.5 to 3)
/// @return running state, total drag, effective and brake power; flags
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
PowerNeeded<T> power_needed(const SpeedPowerInput<T>& input) {
  check_fields("power_needed", input);
  PowerNeeded<T> needed;
  needed.state = running_state(input.balance, input.craft);
  const T& OPC = input.overall_propulsive_coefficient;
  needed.total_drag = needed.state.total_drag * input.drag_factor;
  needed.effective_power = needed.total_drag * input.craft.speed;
  needed.brake_power = needed.effective_power / OPC;
  const Limit& usual = speed_power_limits[0];
  raise_where(needed.flags, either(OPC<T(usual.low), OPC> T(usual.high)), flag(SpeedPowerLimit::coefficient_unusual));
  return needed;
}

/// The power for each of some speeds.
/// @param input as for power_needed(); the speed of its craft is not read
/// @param speeds each above 0.2 to 200 kn
/// @return one entry a speed, in their order
/// @throws BadInput as power_needed()
template <class T = double>
std::vector<PowerNeeded<T>> speed_power_curve(SpeedPowerInput<T> input,
                                              const std::type_identity_t<std::span<const Speed<T>>>& speeds) {
  std::vector<PowerNeeded<T>> curve;
  curve.reserve(speeds.size());
  for (const Speed<T>& speed : speeds) {
    input.craft.speed = speed;
    curve.push_back(power_needed(input));
  }
  return curve;
}

/// Where a speed curve starts and ends.
struct SpeedSteps {
  Speed<> from = unset;  ///< first speed, above 0.2 to 200 kn
  Speed<> to = unset;    ///< last speed, above 0.2 to 200 kn
  int number = 12;       ///< how many, 2 to 10000

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("first speed", &SpeedSteps::from, shown(knot, "kn"), above(0.2, 200.0)),
                      field("last speed", &SpeedSteps::to, shown(knot, "kn"), above(0.2, 200.0)),
                      count("number of speeds", &SpeedSteps::number, 2, 10000)};
  }
};

/// Speeds at equal steps.
/// @param steps first and last speed (above 0.2 to 200 kn), number of speeds (2 to 10000)
/// @return the speeds, both ends included
/// @throws BadInput for a field that is unset or out of range
inline std::vector<Speed<>> equal_steps(const SpeedSteps& steps) {
  check_fields("equal_steps", steps);
  std::vector<Speed<>> speeds;
  const int last = steps.number - 1;
  speeds.reserve(static_cast<std::size_t>(steps.number));
  for (int i = 0; i < last; ++i) speeds.push_back(steps.from + (steps.to - steps.from) * (double(i) / last));
  speeds.push_back(steps.to);
  return speeds;
}

// ---- top speed

/// The speed that a brake power gives: root of power given less power needed, guarded, fastest branch.
inline constexpr Method top_speed_method{.name = "Speed at a brake power",
                                         .key = "trade_practice",
                                         .equations = "P_B(V) = P_B given",
                                         .evidence = Evidence::practice,
                                         .limits = {},
                                         .instead_beyond = "matching with a propeller series and an engine curve"};

/// What a brake power does with a boat.
enum class TopSpeedOutcome : std::uint8_t {
  found,                 ///< a top speed, and power to spare at every speed before it
  found_beyond_hump,     ///< a speed that she holds on plane, but the power falls short somewhere before it
  cannot_hold_on_plane,  ///< no planing speed for which the power suffices
  beyond_search_range,   ///< power to spare at the end of the search
  equilibrium_ends,      ///< power to spare where the method's answers end
  no_answer              ///< the method has no answer at any speed of the search
};

/// The outcome in the words of a report.
/// @param outcome of top_speed()
/// @return a phrase
constexpr std::string_view words(TopSpeedOutcome outcome) {
  switch (outcome) {
    case TopSpeedOutcome::found:
      return "top speed found";
    case TopSpeedOutcome::found_beyond_hump:
      return "holds this speed once there, but the power falls short on the way from rest (hump)";
    case TopSpeedOutcome::cannot_hold_on_plane:
      return "the power cannot hold the boat on plane";
    case TopSpeedOutcome::beyond_search_range:
      return "faster than the end of the search";
    case TopSpeedOutcome::equilibrium_ends:
      return "power to spare where the method ends: no equilibrium faster than that";
    case TopSpeedOutcome::no_answer:
      return "no equilibrium at any speed of the search";
  }
  return "unknown outcome";
}

/// The input of top_speed(). On double and Dual.
template <class T = double>
struct TopSpeedInput {
  SpeedPowerInput<T> run = {};               ///< craft (its own speed is not read), coefficient, drag factor, balance
  Power<T> brake_power = unset;              ///< of all engines together, above 0 to 100000 kW
  Speed<> search_from = unset;               ///< above 0.2 to 200 kn; optional, else where C_v is 1
  Speed<> search_to = unset;                 ///< above 0.2 to 200 kn; optional, else where C_v is 13, at most 150 kn
  double least_planing_froude_number = 2.0;  ///< F_nV from which a speed counts as planing, 0 to 10 (practice)

  /// The field table.
  static constexpr auto fields() {
    constexpr Need free = Need::optional;
    return FieldTable{part("run", &TopSpeedInput::run),
                      field("brake power", &TopSpeedInput::brake_power, shown(kilowatt, "kW"), above(0.0, 1e5)),
                      field("search from", &TopSpeedInput::search_from, shown(knot, "kn"), above(0.2, 200.0), free),
                      field("search to", &TopSpeedInput::search_to, shown(knot, "kn"), above(0.2, 200.0), free),
                      field("least planing Froude number", &TopSpeedInput::least_planing_froude_number, plain_ratio,
                            between(0.0, 10.0))};
  }
  /// The same question in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator TopSpeedInput<U>() const {
    return widen_fields<TopSpeedInput<U>>(*this);
  }
};

/// A speed at which the power needed equals the power given.
struct PowerRoot {
  Speed<> speed;  ///< V
  bool holds;     ///< a small change of speed dies out; else the boat slows down or breaks away from there
  bool planing;   ///< F_nV at or above the least planing one
};

/// The answer of top_speed(). Speed and power at it are unset unless the outcome is `found` or `found_beyond_hump`.
template <class T = double>
struct TopSpeed {
  TopSpeedOutcome outcome = TopSpeedOutcome::no_answer;  ///< what the power does
  Speed<T> speed = unset;                                ///< the fastest that she holds, planing
  PowerNeeded<T> at_top = {};                            ///< how she runs there
  std::vector<PowerRoot> roots = {};                     ///< all speeds where the powers are equal, rising
  std::optional<PowerRoot> lowest_root = {};             ///< the first of them
  std::optional<PowerRoot> highest_root = {};            ///< the last of them
  Speed<> least_power_speed = unset;                     ///< planing speed of the search that needs the least power
  Power<> least_planing_power = unset;                   ///< brake power there: less does not hold her on plane
  Speed<> answered_from = unset;                         ///< lowest speed of the search with an equilibrium
  Speed<> answered_to = unset;                           ///< highest speed of the search with an equilibrium
  const Method* method = &top_speed_method;              ///< who answered
};

namespace prediction_detail {

/// An aggregate without its derivatives.
template <class To, class From>
To plain_fields(const From& from) {
  To to{};
  const auto one = [&](const auto& target, const auto& source) {
    auto& t = to.*(target.member);
    const auto& f = from.*(source.member);
    using Part = std::remove_cvref_t<decltype(t)>;
    if constexpr (HasFields<Part>)
      t = plain_fields<Part>(f);
    else if constexpr (requires { source.range; })
      t = Part(plain(f));
    else
      t = f;
  };
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    (one(entry_of<I>(To::fields()), entry_of<I>(From::fields())), ...);
  }
  (std::make_index_sequence<decltype(To::fields())::size>{});
  return to;
}

/// A speed of the search and the power left there; no excess where the method has no answer.
struct Place {
  Speed<> speed;
  std::optional<double> excess;  ///< power given less power needed, over power given
  Power<> needed;
  bool planing;
};

/// How many steps a search takes, equal in ln V: from C_v 1 to 13 each is 1.1 % of the speed.
inline constexpr int search_steps = 240;

/// The search on plain numbers. (A template on double, so that only who calls it pays for compiling the equilibrium.)
template <class T>
requires(std::same_as<T, double>) TopSpeed<T> search(TopSpeedInput<T> input, const Speed<>& from, const Speed<>& to) {
  const auto place = [&](const Speed<>& speed) {
    input.run.craft.speed = speed;
    const PowerNeeded<T> needed = power_needed(input.run);
    Place p{speed, std::nullopt, needed.brake_power,
            needed.state.volume_froude_number >= input.least_planing_froude_number};
    if (needed.state.outcome == Outcome::converged) p.excess = 1.0 - needed.brake_power / input.brake_power;
    return p;
  };
  std::vector<Place> answered;
  bool last_answered = false;
  TopSpeed<T> result;
  const double step = std::log(to / from) / search_steps;
  for (int i = 0; i <= search_steps; ++i) {
    const Place p = place(i == search_steps ? to : from * std::exp(step * i));
    if (p.excess) {
      const Place* before = last_answered ? &answered.back() : nullptr;
      if (before != nullptr && (*before->excess > 0.0) != (*p.excess > 0.0)) {
        bool all_answered = true;
        const auto excess = [&](double v) {
          const Place q = place(Speed<>::from_value(v));
          all_answered = all_answered && q.excess;
          return q.excess.value_or(-1.0);
        };
        const auto root = bracketed_root(excess, before->speed.value(), p.speed.value());
        // A jump of the equilibrium changes the sign too, and is no balance of powers.
        if (all_answered && root.converged && std::abs(root.residual) < 1e-9) {
          const Speed<> speed = Speed<>::from_value(root.x);
          result.roots.push_back({speed, *before->excess > 0.0, place(speed).planing});
        }
      }
      answered.push_back(p);
      if (p.planing && !(result.least_planing_power <= p.needed)) {
        result.least_planing_power = p.needed;
        result.least_power_speed = p.speed;
      }
    }
    last_answered = p.excess.has_value();
  }
  if (answered.empty()) return result;
  // The least planing power often lies where planing begins, between two places of the search.
  const PlaningInput<T>& craft = input.run.craft;
  const Speed<> begins =
      metre_per_second *
      (input.least_planing_froude_number /
       volume_froude_number(metre_per_second, displaced_volume(craft.loading.mass, craft.water.density),
                            craft.gravity));
  if (begins > from && begins < to)
    if (const Place p = place(begins); p.excess && !(result.least_planing_power <= p.needed)) {
      result.least_planing_power = p.needed;
      result.least_power_speed = p.speed;
    }
  result.answered_from = answered.front().speed;
  result.answered_to = answered.back().speed;
  if (!result.roots.empty()) {
    result.lowest_root = result.roots.front();
    result.highest_root = result.roots.back();
  }
  if (*answered.back().excess > 0.0) {
    result.outcome = last_answered ? TopSpeedOutcome::beyond_search_range : TopSpeedOutcome::equilibrium_ends;
    return result;
  }
  result.outcome = TopSpeedOutcome::cannot_hold_on_plane;
  for (const PowerRoot& root : result.roots)
    if (root.holds && root.planing) result.speed = root.speed;
  if (is_set(result.speed)) {
    const bool falls_short = std::any_of(answered.begin(), answered.end(),
                                         [&](const Place& p) { return p.speed < result.speed && *p.excess < 0.0; });
    result.outcome = falls_short ? TopSpeedOutcome::found_beyond_hump : TopSpeedOutcome::found;
  }
  // Power to spare at a planing speed beyond every root found: it is lost in a gap or a jump of the answers.
  for (const Place& p : answered)
    if (p.planing && *p.excess > 0.0 && !(p.speed <= result.speed)) result.outcome = TopSpeedOutcome::equilibrium_ends;
  if (result.outcome == TopSpeedOutcome::equilibrium_ends) result.speed = unset;
  return result;
}

}  // namespace prediction_detail

/// The fastest speed that a brake power holds, by the drag of the balance that is named.
///
/// The search takes 240 steps equal in ln V and refines every change of sign to the last places of a double. Two changes
/// inside one step (1 % of the speed) would be missed. "On plane" is F_nV at or above 2 (practice, settable). All speeds
/// of equal power are given; those below planing are what the planing method makes of speeds where it under-predicts.
///
/// Source: trade_practice (powers in balance); drag by savitsky_1964; root by chandrupatla_1997. Evidence: practice. With
/// Dual the speed carries its derivatives with respect to everything seeded (implicit function theorem).
/// @param input craft, coefficient, drag factor, balance; brake power of all engines (above 0 to 100000 kW); ends of the
///   search if the defaults do not suit
/// @return outcome, speed, how she runs there, every root, the least power that holds her on plane
/// @throws BadInput for a field that is unset or out of range, or a search that ends before it starts
template <class T = double>
requires(std::same_as<Plain<T>, double>) TopSpeed<T> top_speed(TopSpeedInput<T> input) {
  constexpr std::string_view function = "top_speed";
  // The craft's own speed is not read: any accepted one passes its door.
  input.run.craft.speed = widen<T>(10.0 * knot);
  check_fields(function, input);
  using Number = Plain<T>;  // double, but only known when called: who does not call pays for no equilibrium
  const TopSpeedInput<Number> numbers = prediction_detail::plain_fields<TopSpeedInput<Number>>(input);
  const PlaningInput<Number>& craft = numbers.run.craft;
  const Speed<> of_C_v_1 = sqrt(craft.gravity * craft.hull.chine_beam);
  const Speed<> from = is_set(input.search_from) ? input.search_from : of_C_v_1 * planing_limits[4].low;
  const Speed<> to =
      is_set(input.search_to) ? input.search_to : std::min(of_C_v_1 * planing_limits[2].high, 150.0 * knot);
  if (!(from < to))
    throw BadInput(function, "search to", plain_number(in(to, knot)) + " kn",
                   joined({"above ", plain_number(in(from, knot)), " kn, where the search starts"}));
  TopSpeed<Number> found = prediction_detail::search(numbers, from, to);
  TopSpeed<T> result;
  result.outcome = found.outcome;
  result.roots = std::move(found.roots);
  result.lowest_root = found.lowest_root;
  result.highest_root = found.highest_root;
  result.least_power_speed = found.least_power_speed;
  result.least_planing_power = found.least_planing_power;
  result.answered_from = found.answered_from;
  result.answered_to = found.answered_to;
  if (!is_set(found.speed)) return result;
  result.speed = widen<T>(found.speed);
  input.run.craft.speed = result.speed;
  if constexpr (!std::same_as<T, double>) {
    const auto power_ratio = [&](const T& speed) {
      input.run.craft.speed = Speed<T>::from_value(speed);
      return T(power_needed(input.run).brake_power / input.brake_power);
    };
    using Along = Dual<1, Number>;
    SpeedPowerInput<Along> along = numbers.run;
    along.craft.speed = seed<1>(found.speed, 0);
    const Along slope = power_needed(along).brake_power / widen<Along>(numbers.brake_power);
    result.speed = Speed<T>::from_value(carry_derivatives<T>(found.speed.value(), power_ratio, slope.derivative[0]));
    input.run.craft.speed = result.speed;
  }
  result.at_top = power_needed(input.run);
  return result;
}

// ---- a span that owns up to the method's bias

/// How far the drag of real hulls lies above the method's, as a span.
///
/// +0 to +20 %: the prismatic method lies below towing-tank drag of real hard-chine forms. The figures to compare with
/// are the smoothed tests of a series in the tables of molland_2011; until the method is scored against them in this
/// library, the span is a rule of practice.
inline constexpr Method drag_bias_method{.name = "Span of drag about the prismatic method",
                                         .key = "trade_practice",
                                         .equations =
                                             "+0 to +20 % on drag, a rule; to be scored against molland_2011 "
                                             "Tables A3.19 to A3.22",
                                         .evidence = Evidence::practice,
                                         .limits = {},
                                         .instead_beyond = "a trial or tank test of the same form"};

/// A span of drag over the method's.
struct DragBias {
  double least = 0.0;                ///< drag over the method's less one, at least; -50 to 100 %
  double greatest = 20.0 * percent;  ///< at most; -50 to 100 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("least drag bias", &DragBias::least, shown_percent, between(-50.0, 100.0)),
                      field("greatest drag bias", &DragBias::greatest, shown_percent, between(-50.0, 100.0))};
  }
};

/// Top speed as a span: its two ends may have different outcomes.
template <class T = double>
struct TopSpeedSpan {
  TopSpeed<T> at_least_drag = {};            ///< the faster end
  TopSpeed<T> at_greatest_drag = {};         ///< the slower end
  DragBias bias = {};                        ///< the span of drag in force
  const Method* method = &drag_bias_method;  ///< where the span comes from
};

/// Top speed at both ends of a span of drag.
/// Source: trade_practice (top_speed() twice; practice); the default span is drag_bias_method.
/// @param input as for top_speed(); the bias multiplies its drag factor
/// @param bias span of drag over the method's, each end -50 to 100 %
/// @return both ends
/// @throws BadInput as top_speed(), or a bias out of range or the wrong way round
template <class T = double>
requires(std::same_as<Plain<T>, double>) TopSpeedSpan<T> top_speed_span(const TopSpeedInput<T>& input,
                                                                        const DragBias& bias = {}) {
  check_fields("top_speed_span", bias);
  if (!(bias.least <= bias.greatest))
    throw BadInput("top_speed_span", "least drag bias", plain_number(bias.least / percent) + " %",
                   joined({"at most the greatest, ", plain_number(bias.greatest / percent), " %"}));
  const auto with = [&](double more) {
    TopSpeedInput<T> biased = input;
    biased.run.drag_factor = input.run.drag_factor * (1.0 + more);
    return top_speed(biased);
  };
  return {.at_least_drag = with(bias.least), .at_greatest_drag = with(bias.greatest), .bias = bias};
}

/// What is outside the usual: of the coefficient and of the drag method, one sentence a flag.
/// @param needed of power_needed()
/// @return the sentences
template <class T>
requires std::same_as<PerLane<T, Flags>, Flags> std::vector<std::string_view> explain(const PowerNeeded<T>& needed) {
  std::vector<std::string_view> sentences = explain(needed.flags, *needed.method);
  for (const std::string_view sentence : explain(needed.state)) sentences.push_back(sentence);
  return sentences;
}
/// Sources and evidence of a power.
/// @param needed of power_needed()
/// @return one line
template <class T>
std::string cite(const PowerNeeded<T>& needed) {
  return joined({cite(*needed.method), "; drag: ", cite(needed.state)});
}
/// What is outside the usual at the top speed, one sentence a flag.
/// @param top of top_speed()
/// @return the sentences
template <class T>
std::vector<std::string_view> explain(const TopSpeed<T>& top) {
  return explain(top.at_top);
}
/// Sources and evidence of a top speed.
/// @param top of top_speed()
/// @return one line
template <class T>
std::string cite(const TopSpeed<T>& top) {
  return joined({cite(*top.method), "; ", cite(top.at_top)});
}
/// What is outside the usual at the slower end of the span, one sentence a flag.
/// @param span of top_speed_span()
/// @return the sentences
template <class T>
std::vector<std::string_view> explain(const TopSpeedSpan<T>& span) {
  return explain(span.at_greatest_drag);
}
/// Sources and evidence of a span.
/// @param span of top_speed_span()
/// @return one line
template <class T>
std::string cite(const TopSpeedSpan<T>& span) {
  return joined({cite(*span.method), "; ", cite(span.at_least_drag)});
}

}  // namespace hardchine
