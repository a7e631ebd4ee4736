/// @file
/// Margin to porpoising of a planing hull in smooth water, by the chart of inception limits.
///
/// Porpoising is pitch and heave together, sustained or growing. Below a trim that rises with x = sqrt(C_Lb/2) and with
/// deadrise the prisms of the tests were stable, above it they porpoised. The chart ends at x = 0.13 and 0.30 and at 20
/// degrees of deadrise; beyond it only what the two trends allow is said, and nothing is extrapolated. Prisms without
/// tabs, steps or air lift; the procedure needs a beam Froude number of 1 or more.
///
/// A boat that porpoises at speed can throw people about or out of it: slow down, move weight forward, and try trims
/// and speeds step by step, with life-jackets and a kill cord worn. The local rules come first.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "hardchine/fields.hpp"

namespace hardchine {

/// The bits of the limits of the porpoising chart, in the order of porpoising_limits.
enum class PorpoisingLimit : std::uint8_t { below_chart, above_chart, deadrise_beyond_chart };

/// The limits of the porpoising chart.
inline constexpr std::array<Limit, 3> porpoising_limits{{
    {"sqrt(C_Lb/2) below 0.13, where the chart begins: its limit there is an upper bound", "savitsky_1964 Fig. 18",
     0.13, no_limit},
    {"sqrt(C_Lb/2) above 0.30, where the chart ends: its limit there is a lower bound", "savitsky_1964 Fig. 18", 0.0,
     0.30},
    {"deadrise above 20 degrees, where the chart ends: its limit there is a lower bound", "savitsky_1964 Fig. 18", 0.0,
     20.0},
}};

/// Inception of porpoising by chart.
inline constexpr Method porpoising_chart_method{
    .name = "porpoising inception by chart",
    .key = "savitsky_1964",
    .equations = "Fig. 18, linear in sqrt(C_Lb/2) and deadrise",
    .evidence = Evidence::transcribed,
    .limits = porpoising_limits,
    .instead_beyond = "a trial step by step with the centre of gravity well forward"};

/// How far a reading of the printed chart may be off.
inline constexpr Angle<> porpoising_reading_error = 0.3 * degree;
/// Margins up to this one are called marginal (practice).
inline constexpr Angle<> porpoising_marginal_below = 1.0 * degree;

/// What the chart says of a trim.
enum class PorpoisingOutcome : std::uint8_t {
  stable,    ///< more than 1 degree below the limit or below a lower bound of it
  marginal,  ///< 0 to 1 degree below the limit, or below a lower bound of it (practice; the chart reads to 0.3)
  likely,    ///< above the limit, or above an upper bound of it
  undecided  ///< outside the chart on the side where it says nothing
};

/// What the angle beside the outcome is.
enum class PorpoisingBound : std::uint8_t {
  limit,        ///< the limit itself: the case lies in the chart
  upper_bound,  ///< the limit is not above it: lift coefficient below the chart
  lower_bound,  ///< the limit is not below it: lift coefficient or deadrise above the chart
  none          ///< light and steep: the two trends pull apart
};

/// The outcome in the words of a report.
/// @param outcome of porpoising_margin()
/// @return a phrase
constexpr std::string_view words(PorpoisingOutcome outcome) {
  switch (outcome) {
    case PorpoisingOutcome::stable:
      return "stable";
    case PorpoisingOutcome::marginal:
      return "marginal: 1 degree or less below the limit or its bound";
    case PorpoisingOutcome::likely:
      return "porpoising likely";
    case PorpoisingOutcome::undecided:
      return "undecided: outside the chart";
  }
  return "unknown outcome";
}

/// What the angle is, in the words of a report.
/// @param bound of porpoising_margin()
/// @return a phrase
constexpr std::string_view words(PorpoisingBound bound) {
  switch (bound) {
    case PorpoisingBound::limit:
      return "limit";
    case PorpoisingBound::upper_bound:
      return "limit at most";
    case PorpoisingBound::lower_bound:
      return "limit at least";
    case PorpoisingBound::none:
      return "no limit in the chart";
  }
  return "unknown bound";
}

/// The input of lift_coefficient_of_load().
template <class T = double>
struct LoadAtSpeed {
  T beam_load_coefficient = unset;  ///< C_Delta of the whole displacement, above 0 to 20
  T beam_froude_number = unset;     ///< C_v, above 0 to 50

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("beam load coefficient", &LoadAtSpeed::beam_load_coefficient, plain_ratio, above(0.0, 20.0)),
        field("beam Froude number", &LoadAtSpeed::beam_froude_number, plain_ratio, above(0.0, 50.0))};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator LoadAtSpeed<U>() const {
    return widen_fields<LoadAtSpeed<U>>(*this);
  }
};

/// Lift coefficient of the whole load, C_Lb = W/(0.5 rho V^2 b^2) = 2 C_Delta/C_v^2: what the chart is entered with,
/// also where tabs or an inclined thrust carry a part of the weight (practice).
/// @param load beam load coefficient (above 0 to 20), beam Froude number (above 0 to 50)
/// @return C_Lb
/// @throws BadInput for a field that is unset or out of range. Source: savitsky_1964 (definitions, printed)
template <class T = double>
T lift_coefficient_of_load(const LoadAtSpeed<T>& load) {
  check_fields("lift_coefficient_of_load", load);
  return 2.0 * load.beam_load_coefficient / (load.beam_froude_number * load.beam_froude_number);
}

/// The input of porpoising_margin().
template <class T = double>
struct PorpoisingInput {
  T lift_coefficient = unset;  ///< C_Lb of the whole load, above 0 to 20; see lift_coefficient_of_load()
  Angle<T> deadrise = unset;   ///< beta, 0 to 45 deg
  Angle<T> trim = unset;       ///< tau, running trim of the keel, -10 to 45 deg

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("lift coefficient", &PorpoisingInput::lift_coefficient, plain_ratio, above(0.0, 20.0)),
                      field("deadrise", &PorpoisingInput::deadrise, shown(degree, "deg"), between(0.0, 45.0)),
                      field("trim", &PorpoisingInput::trim, shown(degree, "deg"), between(-10.0, 45.0))};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PorpoisingInput<U>() const {
    return widen_fields<PorpoisingInput<U>>(*this);
  }
};

/// The answer of porpoising_margin().
template <class T = double>
struct PorpoisingMargin {
  PerLane<T, PorpoisingOutcome> outcome = per_lane<T>(PorpoisingOutcome::undecided);  ///< what the chart says
  PerLane<T, PorpoisingBound> bound = per_lane<T>(PorpoisingBound::none);             ///< what `limit` is
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});                                    ///< bits of PorpoisingLimit
  const Method* method = &porpoising_chart_method;                                    ///< who answered
  Angle<T> limit = unset;   ///< trim at which porpoising begins, or the bound of it that `bound` names; unset for none
  Angle<T> margin = unset;  ///< limit less trim; unset outside the chart
};

namespace detail {

/// Fig. 18 as read: trim at inception in degrees over x, for deadrise 0, 10 and 20 degrees.
inline constexpr std::array<double, 5> porpoising_x{0.13, 0.15, 0.20, 0.25, 0.30};
inline constexpr std::array<double, 3> porpoising_deadrise{0.0, 10.0, 20.0};
inline constexpr std::array<std::array<double, 5>, 3> porpoising_trim{
    {{1.1, 1.8, 3.8, 6.2, 9.1}, {2.7, 3.3, 4.9, 7.0, 9.5}, {3.4, 4.0, 5.7, 7.9, 10.3}}};

/// The chart, linear in x along the line of one deadrise; x inside the chart.
template <class T>
T porpoising_line(const std::array<double, 5>& trim, const T& x) {
  T y(trim.front());
  for (std::size_t i = 0; i + 1 < trim.size(); ++i) {
    const double slope = (trim[i + 1] - trim[i]) / (porpoising_x[i + 1] - porpoising_x[i]);
    y = select(x >= T(porpoising_x[i]), T(trim[i] + slope * (x - porpoising_x[i])), y);
  }
  return y;
}

}  // namespace detail

/// Margin to porpoising: the chart's limit less the trim, or what one of its ends allows to say.
///
/// Inside the chart (sqrt(C_Lb/2) 0.13 to 0.30, deadrise to 20 degrees): margin, "marginal" from 0 to 1 degree
/// (practice). Below: the limit at 0.13 is an upper bound, a trim above it is likely to porpoise, else undecided. Above,
/// or beyond 20 degrees of deadrise: the limit at the edge is a lower bound: a trim more than 1 degree below it is
/// stable, 0 to 1 degree below it marginal, else undecided.
/// Below and beyond: undecided. At a fixed load x depends on the speed alone, so the margin falls as the trim rises.
///
/// Source: savitsky_1964 Fig. 18; evidence: transcribed, a machine reading good to 0.3 degrees; one printed example
/// (C_Lb 0.069, deadrise 10, limit 4.5) checks it.
/// @param input lift coefficient of the whole load (above 0 to 20), deadrise (0 to 45 deg), trim (-10 to 45 deg)
/// @return outcome, limit or bound, margin inside the chart, flags
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
PorpoisingMargin<T> porpoising_margin(const PorpoisingInput<T>& input) {
  check_fields("porpoising_margin", input);
  using std::sqrt;
  const T x = sqrt(T(0.5 * input.lift_coefficient));
  const T beta_deg = in(input.deadrise, degree);
  const T first(detail::porpoising_x.front()), last(detail::porpoising_x.back());
  const T steepest(detail::porpoising_deadrise.back());

  // On the edge for what lies beyond it.
  const T x_in = smaller(larger(x, first), last), beta_in = smaller(beta_deg, steepest);
  const T flat = detail::porpoising_line(detail::porpoising_trim[0], x_in);
  const T ten = detail::porpoising_line(detail::porpoising_trim[1], x_in);
  const T twenty = detail::porpoising_line(detail::porpoising_trim[2], x_in);
  const T limit_deg = select(beta_in < T(detail::porpoising_deadrise[1]), T(flat + (ten - flat) * (beta_in / 10.0)),
                             T(ten + (twenty - ten) * ((beta_in - 10.0) / 10.0)));

  const auto below = x<first, above = x> last, steep = beta_deg > steepest;
  const auto outside = either(either(below, above), steep);
  const auto none = both(below, steep);
  const auto upper = both(below, negate(steep));
  const auto lower = both(either(above, steep), negate(below));

  PorpoisingMargin<T> result;
  raise_where(result.flags, below, flag(PorpoisingLimit::below_chart));
  raise_where(result.flags, above, flag(PorpoisingLimit::above_chart));
  raise_where(result.flags, steep, flag(PorpoisingLimit::deadrise_beyond_chart));
  assign_where(result.bound, negate(outside), PorpoisingBound::limit);
  assign_where(result.bound, upper, PorpoisingBound::upper_bound);
  assign_where(result.bound, lower, PorpoisingBound::lower_bound);
  const Angle<T> limit = limit_deg * degree;
  const Angle<T> margin = limit - input.trim;
  result.limit = select(none, Angle<T>(unset), limit);
  result.margin = select(outside, Angle<T>(unset), margin);

  const Angle<T> zero = Angle<T>::from_value(T(0.0));
  const auto inside = negate(outside);
  assign_where(result.outcome, both(inside, margin > widen<T>(porpoising_marginal_below)), PorpoisingOutcome::stable);
  assign_where(result.outcome, both(inside, margin <= widen<T>(porpoising_marginal_below)),
               PorpoisingOutcome::marginal);
  assign_where(result.outcome, both(either(inside, upper), margin < zero), PorpoisingOutcome::likely);
  assign_where(result.outcome, both(lower, margin >= zero), PorpoisingOutcome::marginal);
  assign_where(result.outcome, both(lower, margin > widen<T>(porpoising_marginal_below)), PorpoisingOutcome::stable);
  return result;
}

}  // namespace hardchine
