/// @file
/// Speed through the water from runs over ground in opposite directions: mean of a pair, mean of means, least squares.
///
/// With s_i = +1 out and -1 back, a run over ground at time t_i has V_G,i = V + s_i c(t_i), c the current along the
/// track. Alternating runs at equal time steps, weighted by the binomial coefficients of n - 1 (1 1; 1 2 1; 1 3 3 1;
/// 1 4 6 4 1; 1 5 10 10 5 1), remove a current that is a polynomial of degree n - 2 in time. Runs at unequal times, in
/// another order or more than six go to least squares. Speeds are averaged, never times: averaging times gives
/// (V^2 - c^2)/V, always too low.
///
/// Near the hump no mean is a speed of the boat, since the same throttle gives different speeds with and against the
/// wind: report each run there. Speed runs: clear water, a lookout, life-jackets, and the local rules.
#pragma once

#include <cmath>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "hardchine/trial/least_squares_runs.hpp"
#include "hardchine/trial/run.hpp"

namespace hardchine {

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

/// How the runs were averaged.
enum class AveragingMethod : std::uint8_t {
  none,           ///< no average of these runs is a speed through the water
  one_way,        ///< a single run, current included
  pair,           ///< mean of two opposite runs
  mean_of_means,  ///< binomial weights on three to six alternating runs
  least_squares,  ///< a current polynomial in time, where weights do not do
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
    case AveragingMethod::least_squares:
      return "least squares with a current polynomial in time";
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
    case AveragingMethod::least_squares:
      return &least_squares_runs_method;
    case AveragingMethod::none:
      break;
  }
  return nullptr;
}

/// Whether the runs give a speed, and if not, why.
enum class RunsOutcome : std::uint8_t {
  reduced,             ///< a speed
  one_direction_only,  ///< several runs, all one way: the current cannot be told from the speed
  not_separable,       ///< least squares cannot tell speed and current apart at these times
  one_craft_at_a_time  ///< least squares is needed, and it does not work in lanes
};

/// The outcome in the words of a report.
/// @param outcome of reduce_runs()
/// @return a phrase
constexpr std::string_view words(RunsOutcome outcome) {
  switch (outcome) {
    case RunsOutcome::reduced:
      return "reduced";
    case RunsOutcome::one_direction_only:
      return words(LeastSquaresOutcome::one_direction_only);
    case RunsOutcome::not_separable:
      return words(LeastSquaresOutcome::not_separable);
    case RunsOutcome::one_craft_at_a_time:
      return "least squares is needed, which takes one craft at a time";
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
  double deviation_factor = unset;    ///< standard deviation of V over that of one run, if runs are independent
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
/// their mean; three to six that alternate in direction at time steps within 10 % of their mean the mean of means;
/// anything else least squares. In lanes the rule chooses once, for all, and least squares is a typed outcome.
///
/// Source: tupper pp. 244-245 (weights 1 3 3 1 printed; the others are the same construction). Exact for a current of
/// degree n - 2 in time and a boat that runs alike both ways; a current across the track is not removed.
/// @param runs in the order of time, 1 or more: ground speed above 0 to 150 kn, direction, start time of all (rising)
///             or of none (steps then taken as equal, flagged)
/// @return speed, apparent current, how it was made, standard deviation factor, flags; or why not
/// @throws BadInput naming the row, counted from 1, and the field; for no runs; for times given in part or not rising
template <class T>
ReducedRuns<T> reduce_runs(std::span<const Run<T>> runs) {
  const bool timed = detail::check_runs("reduce_runs", runs);
  const std::size_t n = runs.size();
  bool alternating = true, both_ways = false;
  for (std::size_t i = 1; i < n; ++i) {
    alternating = alternating && runs[i].direction != runs[i - 1].direction;
    both_ways = both_ways || runs[i].direction != runs.front().direction;
  }

  ReducedRuns<T> result;
  result.runs = static_cast<int>(n);
  if (n == 1) {
    result.outcome = RunsOutcome::reduced;
    result.method = AveragingMethod::one_way;
    result.flags = flag(RunsLimit::current_not_removed);
    result.speed = runs.front().ground_speed;
    result.deviation_factor = 1.0;
    return result;
  }
  if (!both_ways) return result;
  if (n == 2 || (n <= 6 && alternating && (!timed || detail::equal_time_steps(runs)))) {
    result.outcome = RunsOutcome::reduced;
    result.method = n == 2 ? AveragingMethod::pair : AveragingMethod::mean_of_means;
    if (n > 2 && !timed) result.flags = flag(RunsLimit::times_taken_as_equal);
    // The weights of the two directions have the same sum, so V drops out of the half-difference.
    const std::vector<double> w = detail::binomial_weights(n);
    Speed<T> speed = Speed<T>::from_value(T(0.0)), current = speed;
    double squares = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      speed = speed + w[i] * runs[i].ground_speed;
      current = current + w[i] * detail::along_track(runs[i].direction) * runs[i].ground_speed;
      squares += w[i] * w[i];
    }
    result.speed = speed;
    result.apparent_current = current;
    result.deviation_factor = std::sqrt(squares);
    return result;
  }
  if constexpr (std::convertible_to<Plain<T>, double>) {
    const LeastSquaresRuns<T> fit = least_squares_runs(runs);
    if (fit.outcome == LeastSquaresOutcome::solved) {
      result.outcome = RunsOutcome::reduced;
      result.method = AveragingMethod::least_squares;
      result.flags = fit.flags;
      result.speed = fit.speed;
      result.apparent_current = fit.apparent_current;
      result.deviation_factor = fit.deviation_factor;
    } else {
      result.outcome = RunsOutcome::not_separable;  // both ways and three or more are seen to above
    }
  } else {
    result.outcome = RunsOutcome::one_craft_at_a_time;
  }
  return result;
}

/// The same for numbers: takes a std::vector or an array of runs as it is. (A template, so that only who calls it pays
/// for compiling the least squares.)
/// @param runs as above
/// @return as above
/// @throws BadInput as above
template <class Runs>
requires(std::convertible_to<const Runs&, std::span<const Run<>>> &&
         !std::same_as<Runs, std::span<const Run<>>>) ReducedRuns<> reduce_runs(const Runs& runs) {
  return reduce_runs<double>(std::span<const Run<>>(runs));
}

}  // namespace hardchine
