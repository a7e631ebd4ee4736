/// @file
/// What depth, wind and sea mean for the figures of a trial: statements, never corrections.
///
/// The corrections in use for ships hold below the critical speed and for displacement hulls, and a planing trial runs
/// at or above it: near F_nh = V/sqrt(g h) = 1 drag and trim peak, above it the drag may even be lower than deep. So a
/// figure is published with the words of this header or not at all.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "hardchine/fields.hpp"
#include "hardchine/resistance/added_drag.hpp"

namespace hardchine {

/// How much a statement or a finding weighs.
enum class Severity : std::uint8_t {
  none,     ///< nothing to say
  note,     ///< to be published with the figure
  warning,  ///< the figure or its input is probably wrong, or off the condition that it is quoted for
  severe    ///< not to be published
};

/// The severity in a word.
/// @param severity any
/// @return a word
constexpr std::string_view words(Severity severity) {
  switch (severity) {
    case Severity::none:
      return "none";
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::severe:
      return "severe";
  }
  return "unknown severity";
}

/// @name Where the bands of the depth Froude number begin
/// @{

/// Practice; F_nh as a number.
inline constexpr double depth_note_from = 0.6;
inline constexpr double depth_warning_from = 0.7;
inline constexpr double depth_severe_from = 0.9;
inline constexpr double depth_supercritical_from = 1.2;
/// @}

/// Wind above which figures are published as rough (practice).
inline constexpr Speed<> rough_wind = 10.0 * knot;
/// Waves above which figures are published as rough (practice).
inline constexpr Length<> rough_waves = 0.3 * metre;

/// The bits of the limits of the condition statements.
enum class ConditionLimit : std::uint8_t { depth_note, depth_warning, depth_severe, supercritical, wind, sea };

/// The limits of the condition statements: where each sentence is due.
inline constexpr std::array<Limit, 6> condition_limits{{
    {"depth Froude number 0.6 or more: a note", "trade_practice", 0.0, depth_note_from},
    {"depth Froude number 0.7 or more: a warning", "trade_practice", 0.0, depth_warning_from},
    {"depth Froude number 0.9 to 1.2: severe, not to be published", "trade_practice", 0.0, depth_severe_from},
    {"depth Froude number above 1.2: supercritical, a note", "trade_practice", 0.0, depth_supercritical_from},
    {"wind above 10 kn: published as rough", "trade_practice", 0.0, 10.0},
    {"waves above 0.3 m: published as rough", "trade_practice", 0.0, 0.3},
}};

/// Bands of depth, wind and sea.
inline constexpr Method conditions_method{.name = "Depth, wind and sea of a trial",
                                          .key = "trade_practice",
                                          .equations = "F_nh = V/sqrt(g h); wind and waves as measured",
                                          .evidence = Evidence::practice,
                                          .limits = condition_limits,
                                          .instead_beyond = "another day or deeper water; never a correction"};

/// Depth Froude number, F_nh = V/sqrt(g h); 1 is the critical speed.
/// @param speed V through the water, 0 to 150 kn
/// @param depth h, above 0 to 12000 m
/// @return F_nh
/// @throws BadInput naming the parameter. Source: trade_practice, a definition; evidence: practice
template <class T>
T depth_froude_number(const Speed<T>& speed, const std::type_identity_t<Length<T>>& depth) {
  check_value("depth_froude_number", "speed", speed, shown(knot, "kn"), between(0.0, 150.0));
  check_value("depth_froude_number", "depth", depth, shown(metre, "m"), above(0.0, 12000.0));
  return T(speed / sqrt(widen<T>(standard_gravity) * depth));
}

/// What the depth does to the figures.
enum class DepthStatement : std::uint8_t {
  deep,           ///< F_nh below 0.6: nothing to say
  nearly_deep,    ///< 0.6 to 0.7
  shallow,        ///< 0.7 to 0.9
  near_critical,  ///< 0.9 to 1.2
  supercritical   ///< above 1.2
};

/// The statement in the words of a report.
/// @param statement of depth_condition()
/// @return a phrase
constexpr std::string_view words(DepthStatement statement) {
  switch (statement) {
    case DepthStatement::deep:
      return "deep water";
    case DepthStatement::nearly_deep:
      return "nearly deep: the bottom begins to be felt";
    case DepthStatement::shallow:
      return "shallow: drag and trim differ from deep water";
    case DepthStatement::near_critical:
      return "near the critical speed of this depth: drag and trim peak, not to be published";
    case DepthStatement::supercritical:
      return "supercritical: speed and trim differ from deep water, she may even be faster";
  }
  return "unknown statement";
}

/// The input of depth_condition().
template <class T = double>
struct DepthInput {
  Speed<T> speed = unset;              ///< V: through the water, 0 to 150 kn
  Length<T> depth = unset;             ///< h: the least under the runs, tide included, above 0 to 12000 m
  T volume_froude_number = unset;      ///< F_nV, 0 to 50; optional
  Length<T> waterline_length = unset;  ///< L_WL at rest, 0.1 to 150 m; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("speed", &DepthInput::speed, shown(knot, "kn"), between(0.0, 150.0)),
                      field("depth", &DepthInput::depth, shown(metre, "m"), above(0.0, 12000.0)),
                      field("volume Froude number", &DepthInput::volume_froude_number, plain_ratio, between(0.0, 50.0),
                            Need::optional),
                      field("waterline length", &DepthInput::waterline_length, shown(metre, "m"), between(0.1, 150.0),
                            Need::optional)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator DepthInput<U>() const {
    return widen_fields<DepthInput<U>>(*this);
  }
};

/// The answer of depth_condition().
template <class T = double>
struct DepthCondition {
  PerLane<T, DepthStatement> statement = per_lane<T>(DepthStatement::deep);  ///< what is the matter
  PerLane<T, Severity> severity = per_lane<T>(Severity::none);               ///< how much it matters
  T depth_froude_number = unset;                                             ///< F_nh
};

/// What the depth means for a figure at a speed: bands of F_nh; where she planes (F_nV above 2.5) over more than 0.8
/// L_WL the severity is one step lower. A pair of runs counts by its shallower leg, at the tide of the hour.
/// Source: trade_practice; evidence: practice.
/// @param input speed (0 to 150 kn), depth (above 0 to 12000 m), volume Froude number (0 to 50) and waterline length (0.1
///              to 150 m; both optional: without them no step lower)
/// @return statement, severity, F_nh
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
DepthCondition<T> depth_condition(const DepthInput<T>& input) {
  check_fields("depth_condition", input);
  DepthCondition<T> result;
  result.depth_froude_number = depth_froude_number<T>(input.speed, input.depth);
  const T& f = result.depth_froude_number;
  // An unset number compares false.
  const auto planing_over_depth = both(input.volume_froude_number > T(2.5), input.depth > 0.8 * input.waterline_length);
  const auto band = [&](const auto& mask, DepthStatement statement, Severity severity, Severity lowered) {
    assign_where(result.statement, mask, statement);
    assign_where(result.severity, mask, severity);
    assign_where(result.severity, both(mask, planing_over_depth), lowered);
  };
  band(f >= T(depth_note_from), DepthStatement::nearly_deep, Severity::note, Severity::none);
  band(f >= T(depth_warning_from), DepthStatement::shallow, Severity::warning, Severity::note);
  band(f >= T(depth_severe_from), DepthStatement::near_critical, Severity::severe, Severity::warning);
  band(f > T(depth_supercritical_from), DepthStatement::supercritical, Severity::note, Severity::none);
  return result;
}

/// What the wind does to the figures.
enum class WindStatement : std::uint8_t {
  light,                 ///< up to 10 kn
  pair_does_not_cancel,  ///< more: the mean of a pair keeps the square of the wind
};

/// The statement in the words of a report.
/// @param statement of wind_condition()
/// @return a phrase
constexpr std::string_view words(WindStatement statement) {
  switch (statement) {
    case WindStatement::light:
      return "light wind";
    case WindStatement::pair_does_not_cancel:
      return "wind above 10 kn: runs both ways do not cancel it, its square adds to the drag; publish as rough";
  }
  return "unknown statement";
}

/// The answer of wind_condition().
template <class T = double>
struct WindCondition {
  PerLane<T, WindStatement> statement = per_lane<T>(WindStatement::light);  ///< what is the matter
  PerLane<T, Severity> severity = per_lane<T>(Severity::none);              ///< how much it matters
};

/// What the wind means for the figures of runs both ways. Source: trade_practice; evidence: practice.
/// @param wind true wind speed at the height of the boat, 0 to 100 kn
/// @return statement and severity: a note above 10 kn
/// @throws BadInput if it is unset or out of range
template <class T>
WindCondition<T> wind_condition(const Speed<T>& wind) {
  check_value("wind_condition", "wind", wind, shown(knot, "kn"), between(0.0, 100.0));
  WindCondition<T> result;
  const auto rough = wind > widen<T>(rough_wind);
  assign_where(result.statement, rough, WindStatement::pair_does_not_cancel);
  assign_where(result.severity, rough, Severity::note);
  return result;
}

/// The input of air_drag_of_pair().
template <class T = double>
struct AirDragInput {
  Speed<T> speed = unset;        ///< V: of the boat, above 0 to 150 kn
  Speed<T> head_wind = unset;    ///< w: true wind along the track, against the run one way, 0 to 50 kn
  AddedDrag<T> added_drag = {};  ///< frontal area, coefficient and air density; appendages do not count

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("speed", &AirDragInput::speed, shown(knot, "kn"), above(0.0, 150.0)),
                      field("head wind", &AirDragInput::head_wind, shown(knot, "kn"), between(0.0, 50.0)),
                      part("added drag", &AirDragInput::added_drag)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator AirDragInput<U>() const {
    return widen_fields<AirDragInput<U>>(*this);
  }
};

/// Air drag of a run each way along the wind.
template <class T = double>
struct AirDragOfPair {
  Force<T> still = unset;    ///< in still air
  Force<T> against = unset;  ///< against the wind
  Force<T> with = unset;     ///< with it; negative where the wind outruns the boat
  Force<T> excess = unset;   ///< mean of the two less still: what the pair does not cancel
  T excess_ratio = unset;    ///< excess over still
};

/// Air drag against and with the wind, R = 0.5 rho C_D A u|u| with u = V + w and V - w, and what their mean keeps above
/// still air: for a wind slower than the boat 0.5 rho C_D A w^2. A statement of size, not a correction.
/// Source: molland_2011 eq 3.51 (printed) at the speed of the air along the boat.
/// @param input speed (above 0 to 150 kn), wind along the track (0 to 50 kn), area, coefficient and density of the air
/// @return the two drags, the still one, the excess
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
AirDragOfPair<T> air_drag_of_pair(const AirDragInput<T>& input) {
  check_fields("air_drag_of_pair", input);
  AirDragOfPair<T> drag;
  const auto at = [&](const Speed<T>& u) -> Force<T> {
    const Force<T> magnitude_of = still_air_drag<T>(input.added_drag, magnitude(u));
    return select(u < Speed<T>::from_value(T(0.0)), Force<T>(-magnitude_of), magnitude_of);
  };
  drag.still = at(input.speed);
  drag.against = at(input.speed + input.head_wind);
  drag.with = at(input.speed - input.head_wind);
  drag.excess = 0.5 * (drag.against + drag.with) - drag.still;
  // Without an area there is no ratio, and it stays unset.
  const T ratio = drag.excess / drag.still;
  drag.excess_ratio = select(drag.still > Force<T>::from_value(T(0.0)), ratio, T(unset));
  return drag;
}

/// What the sea does to the figures.
enum class SeaStatement : std::uint8_t {
  smooth,  ///< waves up to 0.3 m
  rough,   ///< higher
};

/// The statement in the words of a report.
/// @param statement of sea_condition()
/// @return a phrase
constexpr std::string_view words(SeaStatement statement) {
  switch (statement) {
    case SeaStatement::smooth:
      return "smooth water";
    case SeaStatement::rough:
      return "waves above 0.3 m: not smooth water, publish as rough";
  }
  return "unknown statement";
}

/// The answer of sea_condition().
template <class T = double>
struct SeaCondition {
  PerLane<T, SeaStatement> statement = per_lane<T>(SeaStatement::smooth);  ///< what is the matter
  PerLane<T, Severity> severity = per_lane<T>(Severity::none);             ///< how much it matters
};

/// What the sea means for the figures. Source: trade_practice; evidence: practice.
/// @param wave_height as estimated, trough to crest, 0 to 20 m
/// @return statement and severity: a note above 0.3 m
/// @throws BadInput if it is unset or out of range
template <class T>
SeaCondition<T> sea_condition(const Length<T>& wave_height) {
  check_value("sea_condition", "wave height", wave_height, shown(metre, "m"), between(0.0, 20.0));
  SeaCondition<T> result;
  const auto rough = wave_height > widen<T>(rough_waves);
  assign_where(result.statement, rough, SeaStatement::rough);
  assign_where(result.severity, rough, Severity::note);
  return result;
}

/// The limit that a statement stands on.
/// @param condition of depth_condition()
/// @return one sentence; none for deep water
template <class T>
requires std::same_as<PerLane<T, Severity>, Severity> std::vector<std::string_view> explain(
    const DepthCondition<T>& condition) {
  if (condition.statement == DepthStatement::deep) return {};
  const std::size_t band = static_cast<std::size_t>(condition.statement) - 1;  // the bands begin with the first limit
  return explain(Flags{1} << band, conditions_method);
}
/// The limit that a statement stands on.
/// @param condition of wind_condition()
/// @return one sentence; none for light wind
template <class T>
requires std::same_as<PerLane<T, Severity>, Severity> std::vector<std::string_view> explain(
    const WindCondition<T>& condition) {
  return explain(condition.statement == WindStatement::light ? Flags{0} : flag(ConditionLimit::wind),
                 conditions_method);
}
/// The limit that a statement stands on.
/// @param condition of sea_condition()
/// @return one sentence; none for smooth water
template <class T>
requires std::same_as<PerLane<T, Severity>, Severity> std::vector<std::string_view> explain(
    const SeaCondition<T>& condition) {
  return explain(condition.statement == SeaStatement::smooth ? Flags{0} : flag(ConditionLimit::sea), conditions_method);
}
/// What is outside the usual: a formula for every body has no published limits, so nothing.
/// @return no sentence
template <class T>
std::vector<std::string_view> explain(const AirDragOfPair<T>&) {
  return explain(Flags{0}, still_air_drag_method);
}
/// Source and evidence of the air drag.
/// @return one line
template <class T>
std::string cite(const AirDragOfPair<T>&) {
  return cite(still_air_drag_method);
}

/// Source and evidence of the statements.
/// @return one line
template <class T>
std::string cite(const DepthCondition<T>&) {
  return cite(conditions_method);
}
/// Source and evidence of the statements.
/// @return one line
template <class T>
std::string cite(const WindCondition<T>&) {
  return cite(conditions_method);
}
/// Source and evidence of the statements.
/// @return one line
template <class T>
std::string cite(const SeaCondition<T>&) {
  return cite(conditions_method);
}

}  // namespace hardchine
