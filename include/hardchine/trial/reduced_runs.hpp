/// @file
/// Speed through the water from runs over ground in opposite directions: mean of a pair, mean of means.
///
/// With s_i = +1 out and -1 back, a run over ground at time t_i has V_G,i = V + s_i c(t_i), c the current along the
/// track. Alternating runs at equal time steps, weighted by the binomial coefficients of n - 1 (1 1; 1 2 1; 1 3 3 1;
/// 1 4 6 4 1; 1 5 10 10 5 1), remove a current that is a polynomial of degree n - 2 in time. Speeds are averaged, never
/// times: averaging times gives (V^2 - c^2)/V, always too low.
///
/// Near the hump no mean is a speed of the boat, since the same throttle gives different speeds with and against the
/// wind: report each run there. Speed runs: clear water, a lookout, life-jackets, and the local rules.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "hardchine/fields.hpp"

namespace hardchine {

/// What a reduction of runs can be flagged for.
enum class RunsLimit : unsigned {
  current_not_removed,   ///< a single run
  times_taken_as_equal,  ///< no times given
};

/// The sentences of RunsLimit, in its order.
inline constexpr std::array<Limit, 2> runs_limits{
    Limit{"one run one way: the current is not removed from the speed", "tupper pp. 244-245", 2.0, 6.0},
    Limit{"times of the runs not given: time steps taken as equal", "tupper pp. 244-245", -10.0, 10.0}};

/// A single run as it is.
inline constexpr Method one_way_run_method{.name = "Single one-way run",
                                           .key = "trade_practice",
                                           .equations = "V = V_G",
                                           .evidence = Evidence::practice,
                                           .limits = runs_limits,
                                           .instead_beyond = "a run the other way and the mean of the pair"};
/// Mean of two runs in opposite directions.
inline constexpr Method pair_of_runs_method{.name = "Mean of a pair of reciprocal runs",
                                            .key = "trade_practice",
                                            .equations = "V = (V_1 + V_2)/2",
                                            .evidence = Evidence::practice,
                                            .limits = runs_limits,
                                            .instead_beyond = "more runs and the mean of means if the current changes"};
/// Mean of means of three to six alternating runs.
inline constexpr Method mean_of_means_method{
    .name = "Mean of means of alternating runs",
    .key = "tupper",
    .equations = "pp. 244-245, weights 1 2 1, 1 3 3 1 and on",
    .evidence = Evidence::printed,
    .limits = runs_limits,
    .instead_beyond = "least squares with a current that is a polynomial in time"};

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
    return std::tuple{field("ground speed", &Run::ground_speed, shown(knot, "kn"), above(0.0, 150.0)),
                      choice("direction", &Run::direction),
                      field("time", &Run::time, shown(second, "s"), between(-1e11, 1e11), Need::optional)};
  }
  /// The same run in another scalar.
  template <class U>
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Run<U>() const {  // NOLINT
    return widen_fields<Run<U>>(*this);
  }
};

/// How the runs were averaged.
enum class AveragingMethod : std::uint8_t {
  none,           ///< no average of these runs is a speed through the water
  one_way,        ///< a single run, current included
  pair,           ///< mean of two opposite runs
  mean_of_means,  ///< binomial weights on three to six alternating runs
};

/// The averaging in the words of a report.
/// @param method of reduce_runs()
/// @return a phrase
constexpr std::string_view words(AveragingMethod method) {
  switch (method) {
    case AveragingMethod::none:
      return "not averaged";
    case AveragingMethod::one_way:
      return "single one-way run, current not removed";
    case AveragingMethod::pair:
      return "mean of a pair";
    case AveragingMethod::mean_of_means:
      return "mean of means";
  }
  return "unknown averaging";
}

/// The method behind an averaging, with its source and limits.
/// @param method of reduce_runs()
/// @return the method, nullptr for `none`
constexpr const Method* source(AveragingMethod method) {
  switch (method) {
    case AveragingMethod::one_way:
      return &one_way_run_method;
    case AveragingMethod::pair:
      return &pair_of_runs_method;
    case AveragingMethod::mean_of_means:
      return &mean_of_means_method;
    case AveragingMethod::none:
      break;
  }
  return nullptr;
}

/// Whether the runs can be reduced by weights, and if not, why.
enum class RunsOutcome : std::uint8_t {
  reduced,                          ///< a speed
  one_direction_only,               ///< several runs, all one way: the current cannot be told from the speed
  least_squares_for_order,          ///< directions do not alternate: least squares is needed
  least_squares_for_unequal_times,  ///< time steps differ by more than 10 % of their mean: least squares is needed
  least_squares_for_more_than_six,  ///< more than six runs: least squares is needed
};

/// Whether the runs need least squares with a polynomial current, which reduce_runs() does not do.
/// @param outcome of reduce_runs()
/// @return true for the three outcomes that say so
constexpr bool least_squares_needed(RunsOutcome outcome) {
  return outcome != RunsOutcome::reduced && outcome != RunsOutcome::one_direction_only;
}

/// The outcome in the words of a report.
/// @param outcome of reduce_runs()
/// @return a phrase
constexpr std::string_view words(RunsOutcome outcome) {
  switch (outcome) {
    case RunsOutcome::reduced:
      return "reduced";
    case RunsOutcome::one_direction_only:
      return "all runs one way: the current cannot be removed";
    case RunsOutcome::least_squares_for_order:
      return "runs do not alternate in direction: least squares is needed";
    case RunsOutcome::least_squares_for_unequal_times:
      return "time steps differ by more than 10 %: least squares is needed";
    case RunsOutcome::least_squares_for_more_than_six:
      return "more than six runs: least squares is needed";
  }
  return "unknown outcome";
}

/// The answer of reduce_runs(). The quantities are unset unless the outcome is `reduced`.
template <class T = double>
struct ReducedRuns {
  RunsOutcome outcome = RunsOutcome::one_direction_only;  ///< whether there is a speed
  AveragingMethod method = AveragingMethod::none;         ///< how it was made
  Flags flags = Flags{0};                                 ///< bits of RunsLimit
  Speed<T> speed = unset;                                 ///< V: through the water; over ground for a single run
  Speed<T> apparent_current = unset;  ///< half-difference of the two directions, positive where out is faster; unset
                                      ///< for a single run. Current, wind, and what differs between the ways
  int runs = 0;                       ///< how many
};

/// The sentences of the flags of a reduction.
/// @param reduced of reduce_runs()
/// @return one sentence a flag
template <class T>
std::vector<std::string_view> explain(const ReducedRuns<T>& reduced) {
  const Method* method = source(reduced.method);
  return method == nullptr ? std::vector<std::string_view>{} : explain(reduced.flags, *method);
}

/// Source and evidence of a reduction.
/// @param reduced of reduce_runs()
/// @return one line; empty if the runs were not averaged
template <class T>
std::string cite(const ReducedRuns<T>& reduced) {
  const Method* method = source(reduced.method);
  return method == nullptr ? std::string{} : cite(*method);
}

namespace detail {

/// The binomial coefficients of n - 1 over their sum, 2^(n-1).
inline std::vector<double> binomial_weights(std::size_t n) {
  std::vector<double> w{1.0};
  for (std::size_t row = 1; row < n; ++row) {
    w.push_back(0.0);
    for (std::size_t k = row; k > 0; --k) w[k] += w[k - 1];
    for (double& x : w) x *= 0.5;
  }
  return w;
}

/// Whether every time step is within 10 % of the mean step; times set and rising.
template <class T>
bool equal_time_steps(std::span<const Run<T>> runs) {
  const T mean = (runs.back().time - runs.front().time) / Duration<T>::from_value(T(double(runs.size() - 1)));
  for (std::size_t i = 1; i < runs.size(); ++i) {
    const T step = (runs[i].time - runs[i - 1].time) / Duration<T>::from_value(T(1.0));
    if (!all(magnitude(T(step - mean)) <= T(0.1 * mean))) return false;
  }
  return true;
}

}  // namespace detail

/// Speed through the water from the runs at one setting, by the rule: one run as it is, flagged; two opposite runs
/// their mean; three to six that alternate in direction at time steps within 10 % of their mean the mean of means.
/// Anything else needs least squares and is a typed outcome. In lanes the rule chooses once, for all.
///
/// Source: tupper pp. 244-245 (weights 1 3 3 1 printed; the others are the same construction). Exact for a current of
/// degree n - 2 in time and a boat that runs alike both ways; a current across the track is not removed.
/// @param runs in the order of time, 1 or more: ground speed above 0 to 150 kn, direction, start time of all (rising)
///             or of none (steps then taken as equal, flagged)
/// @return speed, apparent current, how it was made, flags; or why not
/// @throws BadInput naming the row, counted from 1, and the field; for no runs; for times given in part or not rising
template <class T>
ReducedRuns<T> reduce_runs(std::span<const Run<T>> runs) {
  constexpr std::string_view function = "reduce_runs";
  if (runs.empty()) throw BadInput(function, "runs", "0", "1 or more");
  const bool timed = is_set(runs.front().time);
  bool alternating = true, both_ways = false;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const std::string of_row = " of run " + std::to_string(i + 1);
    for_each_field(runs[i], [&](const auto& entry, const auto& value) {
      check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range, entry.need);
    });
    if (is_set(runs[i].time) != timed)
      throw BadInput(function, "time" + of_row, timed ? "not set" : "set", "the times of all runs or of none");
    if (i == 0) continue;
    if (timed && !all(runs[i].time > runs[i - 1].time))
      throw BadInput(function, "time" + of_row, "not after the run before", "runs in the order of time");
    alternating = alternating && runs[i].direction != runs[i - 1].direction;
    both_ways = both_ways || runs[i].direction != runs.front().direction;
  }

  ReducedRuns<T> result;
  const std::size_t n = runs.size();
  result.runs = static_cast<int>(n);
  if (n == 1) {
    result.outcome = RunsOutcome::reduced;
    result.method = AveragingMethod::one_way;
    result.flags = flag(RunsLimit::current_not_removed);
    result.speed = runs.front().ground_speed;
    return result;
  }
  if (!both_ways) {
    result.outcome = RunsOutcome::one_direction_only;
  } else if (n > 6) {
    result.outcome = RunsOutcome::least_squares_for_more_than_six;
  } else if (!alternating) {
    result.outcome = RunsOutcome::least_squares_for_order;
  } else if (n > 2 && timed && !detail::equal_time_steps(runs)) {
    result.outcome = RunsOutcome::least_squares_for_unequal_times;
  } else {
    result.outcome = RunsOutcome::reduced;
    result.method = n == 2 ? AveragingMethod::pair : AveragingMethod::mean_of_means;
    if (n > 2 && !timed) result.flags = flag(RunsLimit::times_taken_as_equal);
    // The weights of the two directions have the same sum, so V drops out of the half-difference.
    const std::vector<double> w = detail::binomial_weights(n);
    Speed<T> speed = Speed<T>::from_value(T(0.0)), current = speed;
    for (std::size_t i = 0; i < n; ++i) {
      const double s = runs[i].direction == RunDirection::out ? 1.0 : -1.0;
      speed = speed + w[i] * runs[i].ground_speed;
      current = current + w[i] * s * runs[i].ground_speed;
    }
    result.speed = speed;
    result.apparent_current = current;
  }
  return result;
}

/// The same for numbers: takes a std::vector or an array of runs as it is.
/// @param runs as above
/// @return as above
/// @throws BadInput as above
inline ReducedRuns<> reduce_runs(std::span<const Run<>> runs) { return reduce_runs<double>(runs); }

}  // namespace hardchine
