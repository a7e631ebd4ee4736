/// @file
/// Speed through the water from runs at unequal times or in any order: least squares with a current that is a
/// polynomial in time.
///
/// With s_i = +1 out and -1 back, V_G,i = V + s_i (a_0 + a_1 t_i + a_2 t_i^2): a row [1, s, s t, s t^2] a run. The
/// degree is what the number of runs leaves over, since there must be more runs than unknowns: three runs a steady
/// current, four a linear one, five and more a quadratic one.
#pragma once

#include <Eigen/Core>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <vector>

#include "hardchine/trial/run.hpp"

namespace hardchine {

/// Least squares with a polynomial current.
inline constexpr Method least_squares_runs_method{
    .name = "Least squares with a current polynomial in time",
    .key = "trade_practice",
    .equations = "V_G = V + s (a_0 + a_1 t + a_2 t^2)",
    .evidence = Evidence::practice,
    .limits = runs_limits,
    .instead_beyond = "more runs, alternating in direction, at equal time steps"};

/// Whether least squares has an answer.
enum class LeastSquaresOutcome : std::uint8_t {
  solved,              ///< a speed and a current
  one_direction_only,  ///< speed and current cannot be told apart
  too_few_runs,        ///< no more runs than unknowns: fewer than three
  not_separable        ///< times so close together that the rows depend on each other
};

/// The outcome in the words of a report.
/// @param outcome of least_squares_runs()
/// @return a phrase
constexpr std::string_view words(LeastSquaresOutcome outcome) {
  switch (outcome) {
    case LeastSquaresOutcome::solved:
      return "solved";
    case LeastSquaresOutcome::one_direction_only:
      return "all runs one way: the current cannot be removed";
    case LeastSquaresOutcome::too_few_runs:
      return "fewer than three runs";
    case LeastSquaresOutcome::not_separable:
      return "speed and current cannot be told apart at these times";
  }
  return "unknown outcome";
}

namespace si_units {
using SpeedPerTimeSquared = Ratio<si::acceleration, si::time>;  ///< m/s3
}  // namespace si_units

/// A current along the track, a_0 + a_1 u + a_2 u^2 with u = t - origin; positive where it helps the runs out.
template <class T = double>
struct PolynomialCurrent {
  int degree = 0;                                          ///< 0 steady, 1 linear, 2 quadratic
  Duration<> origin = unset;                               ///< time of the first run
  Speed<T> a_0 = unset;                                    ///< at the origin
  Acceleration<T> a_1 = unset;                             ///< 0 if steady
  Quantity<si_units::SpeedPerTimeSquared, T> a_2 = unset;  ///< 0 unless quadratic
};

/// The current at a time; between the first and the last run, beyond them a polynomial says nothing.
/// @param current of a fit that least_squares_runs() solved
/// @param time t, on the clock of the runs, -1e11 to 1e11 s
/// @throws BadInput for a time not set or out of range, or the current of a fit without an answer
/// @return c(t), positive where it helps the runs out. Source: trade_practice (practice)
template <class T>
Speed<T> current_at(const PolynomialCurrent<T>& current, const Duration<>& time) {
  check_value("current_at", "time", time, shown(second, "s"), between(-1e11, 1e11));
  require_set("current_at", "current", current.a_0, "that of a solved fit");
  const Duration<T> u = widen<T>(time - current.origin);
  return current.a_0 + current.a_1 * u + current.a_2 * u * u;
}

/// The answer of least_squares_runs(). Quantities are unset unless the outcome is `solved`.
template <class T = double>
struct LeastSquaresRuns {
  LeastSquaresOutcome outcome = LeastSquaresOutcome::too_few_runs;  ///< whether there is an answer
  Flags flags = Flags{0};                                           ///< bits of RunsLimit
  Speed<T> speed = unset;                                           ///< V: through the water
  PolynomialCurrent<T> current = {};                                ///< along the track
  Speed<T> apparent_current = unset;  ///< mean of the current over the runs, positive where out is faster
  double deviation_factor = unset;    ///< standard deviation of V over that of one run, if runs are independent
  Speed<> run_deviation = unset;      ///< standard deviation of one run that the residuals show
  int runs = 0;                       ///< how many
};

/// The sentences of the flags.
/// @param fit of least_squares_runs()
/// @return one sentence a flag
template <class T>
std::vector<std::string_view> explain(const LeastSquaresRuns<T>& fit) {
  return explain(fit.flags, least_squares_runs_method);
}

/// Source and evidence.
/// @return one line; empty if there is no answer
/// @param fit of least_squares_runs()
template <class T>
std::string cite(const LeastSquaresRuns<T>& fit) {
  return fit.outcome == LeastSquaresOutcome::solved ? cite(least_squares_runs_method) : std::string{};
}

/// Least squares for the speed and a current polynomial in time, degree by the number of runs (3: steady, 4: linear, 5
/// and more: quadratic), by a column-pivoted Householder QR of the rows [1, s, s t, s t^2].
///
/// Source: trade_practice; evidence: practice. Valid where the boat runs alike both ways and the current follows the
/// polynomial; a current across the track is not removed, and near the hump no mean is a speed of the boat. The answer
/// is linear in the ground speeds, whose derivatives it carries; the times count as exact.
/// @param runs in the order of time, in any order of direction: ground speed above 0 to 150 kn, direction, start time
///             of all (rising) or of none (steps then taken as equal, flagged)
/// @return speed, current, standard deviation factor, flags; or why not
/// @throws BadInput naming the row, counted from 1, and the field; for no runs; for times given in part or not rising
template <class T>
requires std::convertible_to < Plain<T>,
double > LeastSquaresRuns<T> least_squares_runs(std::span<const Run<T>> runs) {
  const bool timed = detail::check_runs("least_squares_runs", runs);
  const std::size_t n = runs.size();
  LeastSquaresRuns<T> fit;
  fit.runs = static_cast<int>(n);
  const auto same_way = [&](const Run<T>& run) { return run.direction == runs.front().direction; };
  if (n > 1 && std::all_of(runs.begin(), runs.end(), same_way)) {
    fit.outcome = LeastSquaresOutcome::one_direction_only;
    return fit;
  }
  if (n < 3) return fit;
  const int order = std::min(static_cast<int>(n) - 3, 2);

  // Times from the first run, scaled to -1 to 1 over the day: rows of like size.
  const auto time = [&](std::size_t i) {
    return timed ? widen<double>(plain(runs[i].time) - plain(runs.front().time)) : double(i) * second;
  };
  const double half_span = 0.5 * time(n - 1).value();
  const auto rows = static_cast<Eigen::Index>(n);
  Eigen::MatrixXd design(rows, order + 2);
  for (std::size_t i = 0; i < n; ++i) {
    const double s = detail::along_track(runs[i].direction), x = time(i).value() / half_span - 1.0;
    const auto row = static_cast<Eigen::Index>(i);
    design(row, 0) = 1.0;
    design(row, 1) = s;
    if (order > 0) design(row, 2) = s * x;
    if (order > 1) design(row, 3) = s * x * x;
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(design);
  if (qr.rank() < design.cols()) {
    fit.outcome = LeastSquaresOutcome::not_separable;
    return fit;
  }
  // Row j of the pseudo-inverse: the weights of the runs in unknown j.
  const Eigen::MatrixXd weights = qr.solve(Eigen::MatrixXd::Identity(rows, rows));
  const auto unknown = [&](Eigen::Index j) {
    Speed<T> sum = Speed<T>::from_value(T(0.0));
    if (j >= design.cols()) return sum;
    for (std::size_t i = 0; i < n; ++i) sum = sum + weights(j, static_cast<Eigen::Index>(i)) * runs[i].ground_speed;
    return sum;
  };
  fit.speed = unknown(0);
  // From b_0 + b_1 x + b_2 x^2 with x = u/h - 1 to a_0 + a_1 u + a_2 u^2.
  const Speed<T> b_0 = unknown(1), b_1 = unknown(2), b_2 = unknown(3);
  const Duration<T> h = Duration<T>::from_value(T(timed ? half_span : 0.5 * double(n - 1)));
  fit.current = {.degree = order,
                 .origin = timed ? widen<double>(plain(runs.front().time)) : Duration<>{},
                 .a_0 = b_0 - b_1 + b_2,
                 .a_1 = (b_1 - 2.0 * b_2) / h,
                 .a_2 = b_2 / h / h};

  double residual_squares = 0.0;
  Speed<T> current_sum = Speed<T>::from_value(T(0.0));
  for (std::size_t i = 0; i < n; ++i) {
    const double x = time(i).value() / half_span - 1.0;
    const Speed<T> c = b_0 + x * b_1 + (x * x) * b_2;
    current_sum = current_sum + c;
    const auto residual = widen<double>(plain(runs[i].ground_speed) - plain(fit.speed) -
                                        detail::along_track(runs[i].direction) * plain(c));
    residual_squares += residual.value() * residual.value();
  }
  fit.apparent_current = current_sum * (1.0 / double(n));
  fit.run_deviation = Speed<>::from_value(std::sqrt(residual_squares / double(rows - design.cols())));
  fit.deviation_factor = weights.row(0).norm();
  fit.outcome = LeastSquaresOutcome::solved;
  raise_where(fit.flags, !timed, flag(RunsLimit::times_taken_as_equal));
  raise_where(fit.flags, order == 0, flag(RunsLimit::current_taken_steady));
  raise_where(fit.flags, order == 1, flag(RunsLimit::current_taken_linear));
  raise_where(fit.flags, fit.deviation_factor > 1.0, flag(RunsLimit::current_poorly_separated));
  return fit;
}

}  // namespace hardchine
