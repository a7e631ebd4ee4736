// Least squares for speed and a current polynomial in time: a worked case computed with independent code, closed forms,
// and SciPy's solver on random runs (tests/references/least_squares.csv).
#include "hardchine/trial/least_squares_runs.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include "csv.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

const auto per_hour = knot / hour;
const auto per_hour_squared = knot / hour / hour;

Run<> run(double hours, bool out, double knots) {
  return {
      .ground_speed = knots * knot, .direction = out ? RunDirection::out : RunDirection::back, .time = hours * hour};
}

LeastSquaresRuns<> fit(const std::vector<Run<>>& runs) {
  return least_squares_runs<double>(std::span<const Run<>>(runs));
}

std::vector<Run<>> worked_case() {
  return {run(0.0, true, 27.25), run(0.35, false, 25.65), run(1.05, true, 27.00), run(1.30, false, 25.85),
          run(2.10, true, 26.86)};
}

}  // namespace

TEST_CASE("five runs at unequal times, to the digits computed with independent code") {
  const auto answer = fit(worked_case());
  REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
  CHECK(answer.runs == 5);
  CHECK(in(answer.speed, knot) == printed(26.402722, 6));
  CHECK(answer.current.degree == 2);
  CHECK(in(answer.current.a_0, knot) == printed(0.847829, 6));
  CHECK(in(answer.current.a_1, per_hour) == printed(-0.291787, 6));
  CHECK(in(answer.current.a_2, per_hour_squared) == printed(0.050336, 6));
  CHECK(answer.deviation_factor == printed(0.52631, 5));
  CHECK(answer.flags == 0U);
  CHECK(explain(answer).empty());
  CHECK(cite(answer).find("(practice)") != std::string::npos);
  // The current at a time, by its own polynomial.
  const double t = 1.05;
  CHECK(in(current_at(answer.current, t * hour), knot) == printed(0.847829 - 0.291787 * t + 0.050336 * t * t, 5));
  CHECK_THROWS_WITH_AS(current_at(answer.current, unset), doctest::Contains("current_at: time is not set"), BadInput);
  CHECK_THROWS_WITH_AS(current_at(LeastSquaresRuns<>{}.current, t * hour),
                       doctest::Contains("current_at: current is not set; accepted: that of a solved fit"), BadInput);
}

TEST_CASE("SciPy's solver on random runs") {
  const auto rows = read_csv("references/least_squares.csv");
  std::size_t cases = 0;
  for (std::size_t from = 0; from < rows.size();) {
    std::size_t to = from;
    std::vector<Run<>> runs;
    for (; to < rows.size() && rows[to].at("case") == rows[from].at("case"); ++to)
      runs.push_back(
          run(number(rows[to], "time_h"), rows[to].at("direction") == "out", number(rows[to], "ground_speed_kn")));
    const CsvRow& row = rows[from];
    CAPTURE(row.at("case"));
    const auto answer = fit(runs);
    REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
    CHECK(answer.current.degree == int(number(row, "degree")));
    // Both solve to rounding (2e-16) times the condition of the rows, below 1e3 in these cases, and the size of the
    // terms, below 50 kn.
    const double tolerance = 1e-11;
    CHECK(in(answer.speed, knot) == absolute(number(row, "speed_kn"), tolerance));
    CHECK(in(answer.current.a_0, knot) == absolute(number(row, "a_0"), tolerance));
    CHECK(in(answer.current.a_1, per_hour) == absolute(number(row, "a_1"), tolerance));
    CHECK(in(answer.current.a_2, per_hour_squared) == absolute(number(row, "a_2"), tolerance));
    CHECK(in(answer.apparent_current, knot) == absolute(number(row, "apparent_current_kn"), tolerance));
    CHECK(answer.deviation_factor == relative(number(row, "deviation_factor"), tolerance));
    CHECK(in(answer.run_deviation, knot) == absolute(number(row, "run_deviation_kn"), tolerance));
    CHECK(has_flag(answer.flags, RunsLimit::current_poorly_separated) == (number(row, "deviation_factor") > 1.0));
    ++cases;
    from = to;
  }
  CHECK(cases == 40);
}

TEST_CASE("three runs: a steady current, in closed form") {
  // With one current the rows are those of two means: V is the mean of the mean out and the mean back.
  const std::vector<Run<>> runs{run(0.0, true, 27.0), run(0.2, true, 27.4), run(1.1, false, 25.1)};
  const auto answer = fit(runs);
  REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
  CHECK(in(answer.speed, knot) == rounding(0.5 * (27.2 + 25.1)));
  CHECK(in(answer.current.a_0, knot) == absolute(0.5 * (27.2 - 25.1), 1e-14));  // difference of numbers near 27
  CHECK(in(answer.apparent_current, knot) == absolute(0.5 * (27.2 - 25.1), 1e-14));
  // Weights 1/4 1/4 1/2; residuals -0.2, 0.2, 0 on one run left over.
  CHECK(answer.deviation_factor == rounding(std::sqrt(2.0 / 16.0 + 1.0 / 4.0)));
  CHECK(in(answer.run_deviation, knot) == relative(0.2 * std::sqrt(2.0), 1e-13));
  CHECK(has_flag(answer.flags, RunsLimit::current_taken_steady));
  REQUIRE(explain(answer).size() == 1);
  CHECK(explain(answer)[0].find("steady") != std::string_view::npos);
}

TEST_CASE("a current of the degree that the number of runs allows is removed whole, whatever times and order") {
  const double v = 31.7, a[] = {1.3, -0.8, 0.21};
  const double hours[] = {0.1, 0.35, 1.2, 1.3, 2.9, 3.3, 3.35, 4.6};
  for (std::size_t n = 3; n <= 8; ++n)
    for (unsigned order = 1; order + 1 < (1U << n); ++order) {  // every mixture of the two directions
      CAPTURE(n);
      CAPTURE(order);
      std::vector<Run<>> runs;
      for (std::size_t i = 0; i < n; ++i) {
        const bool out = ((order >> i) & 1U) != 0;
        double c = a[0];
        if (n > 3) c += a[1] * hours[i];
        if (n > 4) c += a[2] * hours[i] * hours[i];
        runs.push_back(run(hours[i], out, v + (out ? c : -c)));
      }
      const auto answer = fit(runs);
      REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
      // Rounding of 32 kn (4e-15) times the weights, which are as large as the deviation factor says.
      CHECK(in(answer.speed, knot) == absolute(v, 1e-13 * (1.0 + answer.deviation_factor)));
    }
}

TEST_CASE("any zero of time; no times at all are equal steps") {
  const auto here = fit(worked_case());
  auto later = worked_case();
  for (Run<>& r : later) r.time = r.time + 1.7e9 * second;
  const auto there = fit(later);
  CHECK(in(there.speed, knot) == absolute(in(here.speed, knot), 1e-7));  // a double holds 1.7e9 s to 2.4e-7 s
  CHECK(in(there.current.a_1, per_hour) == absolute(in(here.current.a_1, per_hour), 1e-7));
  CHECK(in(current_at(there.current, 1.7e9 * second), knot) == absolute(in(here.current.a_0, knot), 1e-7));

  auto untimed = worked_case(), equal = untimed;
  for (std::size_t i = 0; i < untimed.size(); ++i) {
    untimed[i].time = unset;
    equal[i].time = double(i) * second;
  }
  const auto a = fit(untimed), b = fit(equal);
  CHECK(in(a.speed, knot) == in(b.speed, knot));
  CHECK(has_flag(a.flags, RunsLimit::times_taken_as_equal));
  CHECK(b.flags == 0U);
}

TEST_CASE("what cannot be told apart is a typed outcome, what is badly told apart a flag") {
  const auto none = [](const LeastSquaresRuns<>& answer) {
    CHECK_FALSE(is_set(answer.speed));
    CHECK_FALSE(is_set(answer.apparent_current));
    CHECK_FALSE(is_set(answer.deviation_factor));
    CHECK(cite(answer).empty());
  };
  auto answer = fit({run(0.0, true, 27.0), run(0.5, false, 25.0)});
  CHECK(answer.outcome == LeastSquaresOutcome::too_few_runs);
  none(answer);
  answer = fit({run(0.0, true, 27.0)});
  CHECK(answer.outcome == LeastSquaresOutcome::too_few_runs);
  none(answer);
  answer = fit({run(0.0, true, 27.0), run(0.5, true, 26.8), run(1.0, true, 26.5)});
  CHECK(answer.outcome == LeastSquaresOutcome::one_direction_only);
  none(answer);
  // Four runs at two times to rounding: a linear current can be +1 at one and -1 at the other, as speed and direction.
  const double e = 1e-16;
  answer = fit({run(0.0, true, 27.0), run(e, true, 27.0), run(1.0 - e, false, 25.0), run(1.0, false, 25.0)});
  CHECK(answer.outcome == LeastSquaresOutcome::not_separable);
  none(answer);
  // The same a few seconds apart has an answer that is worth less than any single run.
  answer = fit({run(0.0, true, 27.0), run(0.01, true, 27.0), run(0.99, false, 25.0), run(1.0, false, 25.0)});
  REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
  CHECK(answer.deviation_factor > 10.0);
  CHECK(has_flag(answer.flags, RunsLimit::current_poorly_separated));
  CHECK(has_flag(answer.flags, RunsLimit::current_taken_linear));
  for (const auto outcome : {LeastSquaresOutcome::solved, LeastSquaresOutcome::one_direction_only,
                             LeastSquaresOutcome::too_few_runs, LeastSquaresOutcome::not_separable})
    CHECK(words(outcome) != "unknown outcome");
}

TEST_CASE("bad runs are refused by run and field") {
  const auto refuses = [](const std::vector<Run<>>& runs, const std::string& field) {
    CAPTURE(field);
    try {
      fit(runs);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.function() == "least_squares_runs");
      CHECK(refusal.field() == field);
    }
  };
  refuses({}, "runs");
  const double infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {std::nan(""), infinite, -infinite, 0.0, -5.0, 151.0}) {
    auto runs = worked_case();
    runs[3].ground_speed = bad * knot;
    refuses(runs, "ground speed of run 4");
  }
  auto runs = worked_case();
  runs[2].time = unset;
  refuses(runs, "time of run 3");
  runs = worked_case();
  std::swap(runs[2].time, runs[3].time);
  refuses(runs, "time of run 4");
  runs[3].time = runs[2].time;
  refuses(runs, "time of run 4");
}

TEST_CASE("derivatives with respect to the ground speeds are the weights") {
  using D = Dual<5>;
  std::vector<Run<D>> runs;
  for (const Run<>& r : worked_case()) {
    Run<D> dual = r;
    dual.ground_speed = seed<5>(r.ground_speed, int(runs.size()));
    runs.push_back(dual);
  }
  const auto answer = least_squares_runs<D>(std::span<const Run<D>>(runs));
  REQUIRE(answer.outcome == LeastSquaresOutcome::solved);
  double squares = 0.0, sum = 0.0;
  for (int i = 0; i < 5; ++i) {
    CAPTURE(i);
    // The answer is linear in the speeds: a knot more on one run moves it by the weight exactly.
    auto moved = worked_case();
    moved[std::size_t(i)].ground_speed = moved[std::size_t(i)].ground_speed + 1.0 * knot;
    const double weight = derivative(answer.speed, i).value();
    CHECK(in(fit(moved).speed, knot) - in(fit(worked_case()).speed, knot) == absolute(weight, 1e-13));
    squares += weight * weight;
    sum += weight;
  }
  CHECK(sum == rounding(1.0));  // a knot more on all is a knot more of speed
  CHECK(std::sqrt(squares) == rounding(answer.deviation_factor));
}
