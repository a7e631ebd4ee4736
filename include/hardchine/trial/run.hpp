/// @file
/// One run over ground, and what a reduction of runs can be flagged for.
#pragma once

#include <array>
#include <span>
#include <string>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Which way a run went along the track.
enum class RunDirection : std::uint8_t { out, back };

/// One run over ground at a steady setting.
template <class T = double>
struct Run {
  Speed<T> ground_speed = unset;               ///< V_G: over ground, above 0 to 150 kn
  RunDirection direction = RunDirection::out;  ///< the first run's way may be called either
  Duration<T> time = unset;                    ///< t: start of the run after any fixed instant; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("ground speed", &Run::ground_speed, shown(knot, "kn"), above(0.0, 150.0)),
                      choice("direction", &Run::direction),
                      field("time", &Run::time, shown(second, "s"), between(-1e11, 1e11), Need::optional)};
  }
  /// The same run in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Run<U>() const {
    return widen_fields<Run<U>>(*this);
  }
};

/// What a reduction of runs can be flagged for.
enum class RunsLimit : unsigned {
  current_not_removed,      ///< a single run
  times_taken_as_equal,     ///< no times given
  current_taken_steady,     ///< least squares on three runs
  current_taken_linear,     ///< least squares on four runs
  current_poorly_separated  ///< least squares whose speed is less sure than a single run
};

/// The sentences of RunsLimit, in its order.
inline constexpr std::array<Limit, 5> runs_limits{
    Limit{"one run one way: the current is not removed from the speed", "tupper pp. 244-245", 2.0, 6.0},
    Limit{"times of the runs not given: time steps taken as equal", "tupper pp. 244-245", -10.0, 10.0},
    Limit{"three runs that no mean of means takes: the current was taken as steady", "trade_practice", 4.0, no_limit},
    Limit{"four runs that no mean of means takes: the current was taken as linear in time", "trade_practice", 5.0,
          no_limit},
    Limit{"the order of the runs hardly tells speed and current apart: the speed is less sure than a single run's",
          "trade_practice", 0.0, 1.0}};

namespace detail {

/// The door of every reduction of runs: each field, times of all (rising) or of none.
/// @return whether times are given
/// @throws BadInput naming the row, counted from 1, and the field
template <class T>
bool check_runs(std::string_view function, std::span<const Run<T>> runs) {
  if (runs.empty()) throw BadInput(function, "runs", "0", "1 or more");
  const bool timed = is_set(runs.front().time);
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const std::string of_row = " of run " + std::to_string(i + 1);
    for_each_field(runs[i], [&](const auto& entry, const auto& value) {
      check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range, entry.need);
    });
    if (is_set(runs[i].time) != timed)
      throw BadInput(function, "time" + of_row, timed ? "not set" : "set", "the times of all runs or of none");
    if (i > 0 && timed && !all(runs[i].time > runs[i - 1].time))
      throw BadInput(function, "time" + of_row, "not after the run before", "runs in the order of time");
  }
  return timed;
}

/// +1 out, -1 back.
constexpr double along_track(RunDirection direction) { return direction == RunDirection::out ? 1.0 : -1.0; }

}  // namespace detail

}  // namespace hardchine
