// Runs reduced by the rule: one way, pair, mean of means, least squares. Published: E. C. Tupper, Introduction to Naval Architecture, pp. 244-245 (tupper, printed):
// four runs in a tide quadratic in time, 8V = V1 + 3 V2 + 3 V3 + V4; a linear tide needs three runs.
#include "hardchine/trial/reduced_runs.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

// Alternating runs from out, at hours 0, step, 2 step ...; step 0 leaves the times unset.
std::vector<Run<>> alternating(const std::vector<double>& knots, double step_hours = 0.0) {
  std::vector<Run<>> runs;
  for (const double v : knots) {
    const auto i = runs.size();
    Run<> run{.ground_speed = v * knot, .direction = i % 2 == 0 ? RunDirection::out : RunDirection::back};
    if (step_hours > 0.0) run.time = double(i) * step_hours * hour;
    runs.push_back(run);
  }
  return runs;
}

double polynomial(const std::vector<double>& coefficients, double t) {
  double c = 0.0;
  for (std::size_t k = coefficients.size(); k > 0; --k) c = c * t + coefficients[k - 1];
  return c;
}

// What a boat of 26.4 kn does over ground in a current that is a polynomial in hours.
std::vector<double> over_ground(double v, const std::vector<double>& current, std::size_t n, double step) {
  std::vector<double> knots;
  for (std::size_t i = 0; i < n; ++i)
    knots.push_back(v + (i % 2 == 0 ? 1.0 : -1.0) * polynomial(current, double(i) * step));
  return knots;
}

}  // namespace

TEST_CASE("four runs: the weights in print (tupper pp. 244-245)") {
  // 8V = V1 + 3 V2 + 3 V3 + V4: each weight taken alone, a knot more on one run.
  const std::vector<double> base{20.0, 20.0, 20.0, 20.0};
  const double weights[] = {1.0, 3.0, 3.0, 1.0};
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    auto knots = base;
    knots[i] += 1.0;
    CHECK(in(reduce_runs(alternating(knots)).speed, knot) == rounding(20.0 + weights[i] / 8.0));
  }
}

TEST_CASE("two to six runs in a current quadratic in time, computed with independent code") {
  // V 26.4 kn, c = 0.85 - 0.30 t + 0.055 t^2, a run every 0.4 h; to the four decimals of the check values.
  const std::vector<double> current{0.85, -0.30, 0.055};
  const double ground[] = {27.25, 25.6612, 27.0452, 25.8308, 26.9108, 25.93};
  const double mean_of_means[] = {26.4556, 26.4044, 26.4, 26.4, 26.4};
  for (std::size_t n = 2; n <= 6; ++n) {
    CAPTURE(n);
    const auto knots = over_ground(26.4, current, n, 0.4);
    for (std::size_t i = 0; i < n; ++i) CHECK(knots[i] == printed(ground[i], 4));
    for (const double step : {0.0, 0.4}) {
      const auto reduced = reduce_runs(alternating(knots, step));
      REQUIRE(reduced.outcome == RunsOutcome::reduced);
      CHECK(reduced.method == (n == 2 ? AveragingMethod::pair : AveragingMethod::mean_of_means));
      CHECK(reduced.runs == int(n));
      CHECK(in(reduced.speed, knot) == printed(mean_of_means[n - 2], 4));
    }
    // The plain mean, which is not what is done here: 26.4556, 26.4468, 26.438 of 2, 4, 6 runs.
    double plain_mean = 0.0;
    for (const double v : knots) plain_mean += v / double(n);
    if (n == 4) CHECK(plain_mean == printed(26.4468, 4));
    if (n == 6) CHECK(plain_mean == printed(26.438, 3));
  }
}

TEST_CASE("n runs remove a current of degree n - 2 in time, and none higher") {
  const std::vector<double> full{1.1, -0.7, 0.3, 0.2, -0.15, 0.05};
  for (std::size_t n = 2; n <= 6; ++n) {
    CAPTURE(n);
    std::vector<double> current(full.begin(), full.begin() + long(n) - 1);
    const auto runs = alternating(over_ground(26.4, current, n, 0.3), 0.3);
    CHECK(in(reduce_runs(runs).speed, knot) == rounding(26.4));
    // One degree more leaves the highest difference: c_k k! step^k / 2^(n-1) with k = n - 1, its sign alternating.
    current.push_back(full[n - 1]);
    double left = current.back();
    for (std::size_t k = 1; k < n; ++k) left *= double(k) * 0.3 / 2.0;
    const auto more = alternating(over_ground(26.4, current, n, 0.3), 0.3);
    const double sign = n % 2 == 0 ? -1.0 : 1.0;
    CHECK(in(reduce_runs(more).speed, knot) == absolute(26.4 + sign * left, 1e-13));  // rounding of 26.4
    CHECK(std::abs(left) > 1e-6);
  }
}

TEST_CASE("apparent current: half-difference, positive where out is faster") {
  const auto pair = reduce_runs(alternating({27.0, 25.0}));
  CHECK(in(pair.apparent_current, knot) == relative(1.0, 1e-14));
  CHECK(in(pair.speed, knot) == rounding(26.0));
  // The first run called back: the same boat, the current turns its sign.
  std::vector<Run<>> turned{{.ground_speed = 27.0 * knot, .direction = RunDirection::back},
                            {.ground_speed = 25.0 * knot, .direction = RunDirection::out}};
  CHECK(in(reduce_runs(turned).apparent_current, knot) == relative(-1.0, 1e-14));
  CHECK(in(reduce_runs(turned).speed, knot) == rounding(26.0));
  // A steady current comes out whole from any number of runs; differences of numbers near 26, hence absolute.
  for (std::size_t n = 2; n <= 6; ++n) {
    CAPTURE(n);
    CHECK(in(reduce_runs(alternating(over_ground(26.4, {1.25}, n, 0.4))).apparent_current, knot) ==
          absolute(1.25, 1e-14));
  }
  // A linear one: its value at the middle of the runs (the binomial weights are symmetric).
  CHECK(in(reduce_runs(alternating(over_ground(26.4, {1.0, -0.5}, 5, 0.4), 0.4)).apparent_current, knot) ==
        absolute(1.0 - 0.5 * 0.8, 1e-14));
}

TEST_CASE("speeds are averaged, never times") {
  // V 30 kn, c 2 kn over a mile each way: averaging times gives (V^2 - c^2)/V = 29.8667, always low (identity).
  const double out = 32.0, back = 28.0;
  const double by_times = 2.0 / (1.0 / out + 1.0 / back);
  CHECK(by_times == printed(29.8667, 4));
  const auto reduced = reduce_runs(alternating({out, back}));
  CHECK(in(reduced.speed, knot) == rounding(30.0));
  CHECK(in(reduced.apparent_current, knot) == absolute(2.0, 1e-14));
}

TEST_CASE("a single run is given as it is and says so") {
  const auto one = reduce_runs(alternating({27.25}));
  CHECK(one.outcome == RunsOutcome::reduced);
  CHECK(one.method == AveragingMethod::one_way);
  CHECK(one.runs == 1);
  CHECK(in(one.speed, knot) == rounding(27.25));
  CHECK_FALSE(is_set(one.apparent_current));
  CHECK(has_flag(one.flags, RunsLimit::current_not_removed));
  REQUIRE(explain(one).size() == 1);
  CHECK(explain(one)[0].find("current is not removed") != std::string_view::npos);
  CHECK(words(one.method) == "single one-way run, current not removed");
}

TEST_CASE("time steps: given and equal, given and unequal, not given") {
  const std::vector<double> knots{27.25, 25.65, 27.00, 25.85};
  auto runs = alternating(knots, 0.4);
  CHECK(reduce_runs(runs).flags == 0U);
  CHECK(explain(reduce_runs(runs)).empty());
  const auto untimed = reduce_runs(alternating(knots));
  CHECK(has_flag(untimed.flags, RunsLimit::times_taken_as_equal));
  REQUIRE(explain(untimed).size() == 1);
  CHECK(explain(untimed)[0].find("taken as equal") != std::string_view::npos);
  CHECK(in(untimed.speed, knot) == rounding(in(reduce_runs(runs).speed, knot)));
  // A pair needs no steps, so it is not flagged.
  CHECK(reduce_runs(alternating({27.0, 25.0})).flags == 0U);

  // Steps of 0.40, 0.43, 0.37 h: within 10 % of 0.40 (0.0300 is 7.5 %). 0.45 is 12.5 % off.
  runs[2].time = 0.83 * hour;
  CHECK(reduce_runs(runs).method == AveragingMethod::mean_of_means);
  runs[2].time = 0.85 * hour;
  const auto unequal = reduce_runs(runs);
  CHECK(unequal.outcome == RunsOutcome::reduced);
  CHECK(unequal.method == AveragingMethod::least_squares);
  // The case of the check values: t 0, 0.35, 1.05, 1.30, 2.10 h.
  auto five = alternating({27.25, 25.65, 27.00, 25.85, 26.86});
  // Untimed, the mean of means of these is 26.381875, where least squares gives 26.402722.
  CHECK(in(reduce_runs(five).speed, knot) == rounding(26.381875));
  const double hours[] = {0.0, 0.35, 1.05, 1.30, 2.10};
  for (std::size_t i = 0; i < 5; ++i) five[i].time = hours[i] * hour;
  const auto fitted = reduce_runs(five);
  CHECK(fitted.method == AveragingMethod::least_squares);
  CHECK(in(fitted.speed, knot) == printed(26.402722, 6));
  CHECK(fitted.deviation_factor == printed(0.52631, 5));
  CHECK(fitted.flags == 0U);
  // Any zero of time, seconds since some instant long ago included.
  auto late = alternating(knots, 0.4);
  for (auto& run : late) run.time = run.time + 1.7e9 * second;
  CHECK(reduce_runs(late).method == AveragingMethod::mean_of_means);
}

TEST_CASE("the rule names the method by number, order and times of the runs") {
  const auto method = [](const std::vector<Run<>>& runs) {
    const auto reduced = reduce_runs(runs);
    CHECK(reduced.outcome == RunsOutcome::reduced);
    CHECK(reduced.runs == int(runs.size()));
    CHECK(is_set(reduced.speed));
    CHECK_FALSE(cite(reduced).empty());
    return reduced.method;
  };
  CHECK(method(alternating({27.0})) == AveragingMethod::one_way);
  CHECK(method(alternating({27.0, 25.0})) == AveragingMethod::pair);
  for (const double step : {0.0, 0.4}) {
    for (std::size_t n = 3; n <= 6; ++n)
      CHECK(method(alternating(std::vector<double>(n, 26.0), step)) == AveragingMethod::mean_of_means);
    for (std::size_t n = 7; n <= 9; ++n)
      CHECK(method(alternating(std::vector<double>(n, 26.0), step)) == AveragingMethod::least_squares);
    // Not alternating, three runs and four: least squares, with the current that so few runs allow.
    for (std::size_t n = 3; n <= 4; ++n) {
      auto runs = alternating(std::vector<double>(n, 26.0), step);
      runs[n - 1].direction = runs[n - 2].direction;
      CHECK(method(runs) == AveragingMethod::least_squares);
      const auto flags = reduce_runs(runs).flags;
      CHECK(has_flag(flags, RunsLimit::current_taken_steady) == (n == 3));
      CHECK(has_flag(flags, RunsLimit::current_taken_linear) == (n == 4));
      CHECK(has_flag(flags, RunsLimit::times_taken_as_equal) == (step == 0.0));
      CHECK(in(reduce_runs(runs).speed, knot) == rounding(26.0));
    }
  }
  // Three and four alternating runs a step at unequal times.
  for (std::size_t n = 3; n <= 4; ++n) {
    auto runs = alternating(std::vector<double>(n, 26.0), 0.4);
    runs[1].time = 0.55 * hour;
    CHECK(method(runs) == AveragingMethod::least_squares);
  }
  // An out and a back need no order and no times.
  auto pair = alternating({27.0, 25.0}, 0.4);
  std::swap(pair[0].direction, pair[1].direction);
  CHECK(method(pair) == AveragingMethod::pair);
}

TEST_CASE("least squares through reduce_runs removes the current that it can") {
  // Seven runs in a quadratic current: more than weights take, none of it left.
  const auto seven = reduce_runs(alternating(over_ground(26.4, {0.85, -0.30, 0.055}, 7, 0.4), 0.4));
  CHECK(seven.method == AveragingMethod::least_squares);
  CHECK(in(seven.speed, knot) == absolute(26.4, 1e-13));  // rounding of 26.4
  // The apparent current is the mean of the current over the runs: t = 0 to 2.4 h by 0.4 h.
  double mean = 0.0;
  for (int i = 0; i < 7; ++i) mean += polynomial({0.85, -0.30, 0.055}, 0.4 * i) / 7.0;
  CHECK(in(seven.apparent_current, knot) == absolute(mean, 1e-13));
}

TEST_CASE("standard deviation factors: the weights' own, computed with independent code") {
  const double factors[] = {0.7071, 0.6124, 0.5590, 0.5229, 0.4961};
  for (std::size_t n = 2; n <= 6; ++n) {
    CAPTURE(n);
    CHECK(reduce_runs(alternating(std::vector<double>(n, 26.0))).deviation_factor == printed(factors[n - 2], 4));
  }
  CHECK(reduce_runs(alternating({26.0})).deviation_factor == 1.0);
}

TEST_CASE("what no rule reduces is a typed outcome") {
  const auto none = [](const std::vector<Run<>>& runs) {
    const auto reduced = reduce_runs(runs);
    CHECK(reduced.runs == int(runs.size()));
    CHECK(reduced.method == AveragingMethod::none);
    CHECK_FALSE(is_set(reduced.speed));
    CHECK_FALSE(is_set(reduced.apparent_current));
    CHECK_FALSE(is_set(reduced.deviation_factor));
    CHECK(explain(reduced).empty());
    CHECK(cite(reduced).empty());
    CHECK(words(reduced.outcome).size() > 10);
    return reduced.outcome;
  };
  for (const std::size_t n : {2U, 3U, 8U}) {
    std::vector<Run<>> same(n, Run<>{.ground_speed = 26.0 * knot, .direction = RunDirection::back});
    CHECK(none(same) == RunsOutcome::one_direction_only);
  }
  auto close = alternating({27.0, 27.0, 25.0, 25.0}, 1.0);
  close[1].direction = RunDirection::out;
  close[2].direction = RunDirection::back;
  close[1].time = 1e-12 * second;
  close[2].time = 3.0 * hour - 1e-12 * second;
  CHECK(none(close) == RunsOutcome::not_separable);
}

TEST_CASE("bad runs are refused by run and field") {
  const auto refuses = [](const std::vector<Run<>>& runs, const std::string& field) {
    CAPTURE(field);
    try {
      reduce_runs(runs);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.function() == "reduce_runs");
      CHECK(refusal.field() == field);
    }
  };
  const double infinite = std::numeric_limits<double>::infinity();
  refuses({}, "runs");
  for (const double bad : {std::nan(""), infinite, -infinite, 0.0, -5.0, 151.0}) {
    CAPTURE(bad);
    refuses(alternating({27.0, bad, 27.0}), "ground speed of run 2");
  }
  refuses({{}}, "ground speed of run 1");
  auto runs = alternating({27.0, 25.0, 27.0}, 0.4);
  runs[2].time = unset;
  refuses(runs, "time of run 3");
  runs = alternating({27.0, 25.0, 27.0});
  runs[1].time = 0.4 * hour;
  refuses(runs, "time of run 2");
  runs = alternating({27.0, 25.0, 27.0}, 0.4);
  for (const double bad : {infinite, -infinite, 1e12}) {
    runs[1].time = bad * second;
    refuses(runs, "time of run 2");
  }
  runs[1].time = 0.0 * hour;
  refuses(runs, "time of run 2");  // at the time of run 1
  runs[1].time = 1.0 * hour;
  refuses(runs, "time of run 3");  // runs out of order
}

TEST_CASE("reduced runs on Dual and on the strict archetype") {
  // Derivatives of the speed with respect to each run are its weight; of the current, weight times direction.
  using D = Dual<4>;
  const auto numbers = alternating({27.25, 25.65, 27.00, 25.85}, 0.4);
  std::vector<Run<D>> duals;
  std::vector<Run<Strict>> stricts;
  for (const Run<>& run : numbers) {
    Run<D> dual = run;
    dual.ground_speed = seed<4>(run.ground_speed, int(duals.size()));
    duals.push_back(dual);
    stricts.push_back(run);
  }
  const auto reduced = reduce_runs<D>(duals);
  const double weights[] = {0.125, 0.375, 0.375, 0.125};
  for (int i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(derivative(reduced.speed, i).value() == weights[i]);
    CHECK(derivative(reduced.apparent_current, i).value() == (i % 2 == 0 ? 1.0 : -1.0) * weights[i]);
  }
  const auto strict = reduce_runs<Strict>(stricts);
  CHECK(strict.method == AveragingMethod::mean_of_means);
  duals[2].time = widen<D>(0.85 * hour);
  const auto fitted = reduce_runs<D>(duals);
  CHECK(fitted.method == AveragingMethod::least_squares);
  double squares = 0.0;
  for (int i = 0; i < 4; ++i) squares += std::pow(derivative(fitted.speed, i).value(), 2);
  CHECK(std::sqrt(squares) == rounding(fitted.deviation_factor));
  CHECK(strict.speed.value().reveal() == reduce_runs(numbers).speed.value());  // the same operations in the same order
  stricts[2].time = widen<Strict>(0.85 * hour);
  CHECK(reduce_runs<Strict>(stricts).outcome == RunsOutcome::one_craft_at_a_time);  // a matrix has no lanes
  stricts[2].ground_speed = widen<Strict>(-1.0 * knot);
  CHECK_THROWS_AS(reduce_runs<Strict>(stricts), BadInput);
}

TEST_CASE("a reduction names its source") {
  CHECK(cite(reduce_runs(alternating({27.0, 25.0, 27.0}))) ==
        "tupper pp. 244-245, weights 1 2 1, 1 3 3 1 and on (printed)");
  CHECK(cite(reduce_runs(alternating({27.0, 25.0}))).find("(practice)") != std::string::npos);
  CHECK(cite(reduce_runs(alternating({27.0}))).find("(practice)") != std::string::npos);
  CHECK(words(AveragingMethod::mean_of_means) == "mean of means");
  CHECK(words(AveragingMethod::pair) == "mean of a pair");
}
