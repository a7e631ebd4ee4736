// Porpoising margin by the chart of D. Savitsky, Hydrodynamic design of planing hulls (savitsky_1964), Fig. 18, a
// machine reading. The one printed point that can be compared is the worked example: C_Lb 0.069, deadrise 10, limit 4.5.
#include "hardchine/seakeeping/porpoising.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

// The chart is entered with x = sqrt(C_Lb/2).
PorpoisingInput<> at(double x, double deadrise, double trim) {
  return {.lift_coefficient = 2.0 * x * x, .deadrise = deadrise * degree, .trim = trim * degree};
}

double limit_of(double x, double deadrise) { return in(porpoising_margin(at(x, deadrise, 2.0)).limit, degree); }

}  // namespace

TEST_CASE("the printed example: stable, limit 4.5 degrees (savitsky_1964)") {
  const auto boat = porpoising_margin({.lift_coefficient = 0.069, .deadrise = 10.0 * degree, .trim = 2.3 * degree});
  CHECK(boat.bound == PorpoisingBound::limit);
  // The print's own reading of its chart; ours is good to 0.3 degrees.
  CHECK(in(boat.limit, degree) == absolute(4.5, in(porpoising_reading_error, degree)));
  CHECK(in(boat.margin, degree) == rounding(in(boat.limit, degree) - 2.3));
  CHECK(boat.outcome == PorpoisingOutcome::stable);
  CHECK(boat.flags == 0U);
  CHECK(std::sqrt(0.069 / 2.0) == printed(0.18574, 5));  // the abscissa, printed as .186
}

TEST_CASE("values of the table, linear in x and deadrise, computed with independent code") {
  CHECK(limit_of(0.186, 10.0) == printed(4.452, 3));
  CHECK(limit_of(0.17, 5.0) == printed(3.270, 3));
  CHECK(limit_of(0.22, 15.0) == printed(6.160, 3));
  CHECK(limit_of(0.28, 20.0) == printed(9.340, 3));
}

TEST_CASE("a smooth curve through each line of the reading, fitted apart: no misread node") {
  // a x^2 + b x + c with the largest residual stated beside it, for deadrise 0, 10, 20. At the nodes alone: between
  // them a straight line lies above or below the curve by up to a/4 of the step squared, 0.05 degrees.
  struct Line {
    double deadrise, a, b, c, within;
  };
  const Line lines[] = {{0.0, 87.2643, 9.41917, -1.58767, 0.02},
                        {10.0, 84.8793, 3.36921, 0.84924, 0.04},
                        {20.0, 71.4731, 9.98968, 0.88721, 0.05}};
  for (const Line& line : lines)
    for (const double x : {0.13, 0.15, 0.20, 0.25, 0.30}) {
      CAPTURE(line.deadrise);
      CAPTURE(x);
      // The residuals are stated to two decimals.
      const double inside = x == 0.13 ? x * (1.0 + 1e-12) : x == 0.30 ? x * (1.0 - 1e-12) : x;
      CHECK(limit_of(inside, line.deadrise) == absolute((line.a * x + line.b) * x + line.c, line.within + 0.005));
    }
}

TEST_CASE("the limit falls with lower lift coefficient and rises with deadrise, without steps") {
  for (double beta = 0.0; beta <= 20.0; beta += 0.5) {
    double before = 0.0;
    for (double x = 0.1301; x < 0.30; x += 0.0005) {
      CAPTURE(beta);
      CAPTURE(x);
      const double here = limit_of(x, beta);
      CHECK(here > before);
      if (before > 0.0) CHECK(here - before < 0.05);  // steepest segment 58 degrees a unit of x
      if (beta + 0.5 <= 20.0) {
        CHECK(limit_of(x, beta + 0.5) > here);
        CHECK(limit_of(x, beta + 0.5) - here < 0.14);  // steepest 2.7 degrees in 10
      }
      before = here;
    }
  }
}

TEST_CASE("inside the chart: stable, marginal, likely") {
  const double limit = limit_of(0.2, 10.0);
  CHECK(limit == rounding(4.9));
  const auto outcome = [](double trim) { return porpoising_margin(at(0.2, 10.0, trim)).outcome; };
  CHECK(outcome(3.89) == PorpoisingOutcome::stable);
  CHECK(outcome(3.91) == PorpoisingOutcome::marginal);
  CHECK(outcome(4.89) == PorpoisingOutcome::marginal);
  CHECK(outcome(4.91) == PorpoisingOutcome::likely);
  const auto over = porpoising_margin(at(0.2, 10.0, 5.4));
  CHECK(in(over.margin, degree) == absolute(-0.5, 1e-14));
}

TEST_CASE("beyond the chart only what the trends allow, never extrapolated") {
  struct Row {
    double x, deadrise, trim, bound_deg;
    PorpoisingBound bound;
    PorpoisingOutcome outcome;
    std::size_t flags;
  };
  using B = PorpoisingBound;
  using O = PorpoisingOutcome;
  const Row rows[] = {
      // Light or fast: the limit at x 0.13 is an upper bound.
      {0.12, 10.0, 2.6, 2.7, B::upper_bound, O::undecided, 1},
      {0.12, 10.0, 2.8, 2.7, B::upper_bound, O::likely, 1},
      {0.05, 0.0, 1.2, 1.1, B::upper_bound, O::likely, 1},
      {0.05, 20.0, 0.1, 3.4, B::upper_bound, O::undecided, 1},
      // Heavy or slow: the limit at x 0.30 is a lower bound.
      {0.35, 10.0, 8.4, 9.5, B::lower_bound, O::stable, 1},
      {0.35, 10.0, 9.4, 9.5, B::lower_bound, O::marginal, 1},
      {0.35, 10.0, 9.6, 9.5, B::lower_bound, O::undecided, 1},
      // Steeper than 20 degrees: the line of 20 is a lower bound.
      {0.20, 24.0, 4.6, 5.7, B::lower_bound, O::stable, 1},
      {0.20, 24.0, 5.6, 5.7, B::lower_bound, O::marginal, 1},
      {0.20, 24.0, 5.8, 5.7, B::lower_bound, O::undecided, 1},
      // Heavy and steep: both bounds are lower ones.
      {0.35, 24.0, 9.2, 10.3, B::lower_bound, O::stable, 2},
      {0.35, 24.0, 10.2, 10.3, B::lower_bound, O::marginal, 2},
      {0.35, 24.0, 10.4, 10.3, B::lower_bound, O::undecided, 2},
  };
  for (const Row& row : rows) {
    CAPTURE(row.x);
    CAPTURE(row.deadrise);
    CAPTURE(row.trim);
    const auto margin = porpoising_margin(at(row.x, row.deadrise, row.trim));
    CHECK(margin.bound == row.bound);
    CHECK(margin.outcome == row.outcome);
    CHECK(in(margin.limit, degree) == rounding(row.bound_deg));
    CHECK_FALSE(is_set(margin.margin));
    CHECK(explain(margin).size() == row.flags);
  }
  // Light and steep: an upper and a lower bound at once say nothing.
  for (const double trim : {0.0, 3.0, 12.0}) {
    const auto margin = porpoising_margin(at(0.12, 24.0, trim));
    CHECK(margin.bound == PorpoisingBound::none);
    CHECK(margin.outcome == PorpoisingOutcome::undecided);
    CHECK_FALSE(is_set(margin.limit));
    CHECK_FALSE(is_set(margin.margin));
    CHECK(explain(margin).size() == 2);
  }
  // The lower end stands for a lift coefficient of 0.0338.
  CHECK(2.0 * 0.13 * 0.13 == printed(0.0338, 4));
  CHECK(porpoising_margin({.lift_coefficient = 0.0337, .deadrise = 10.0 * degree, .trim = 2.0 * degree}).bound ==
        PorpoisingBound::upper_bound);
  CHECK(porpoising_margin({.lift_coefficient = 0.0339, .deadrise = 10.0 * degree, .trim = 2.0 * degree}).bound ==
        PorpoisingBound::limit);
}

TEST_CASE("the lift coefficient of the whole load") {
  // C_Lb = W/(0.5 rho V^2 b^2), directly: 10 t, 15 m/s, 3.2 m, 1026 kg/m3.
  const double m = 10000.0, v = 15.0, b = 3.2, rho = 1026.0, g = 9.80665;
  const double C_Lb = lift_coefficient_of_load(
      {.beam_load_coefficient = m / (rho * b * b * b), .beam_froude_number = v / std::sqrt(g * b)});
  CHECK(C_Lb == rounding(m * g / (0.5 * rho * v * v * b * b)));
  // x = sqrt(C_Lb/2) = sqrt(C_Delta)/C_v.
  CHECK(std::sqrt(C_Lb / 2.0) == rounding(std::sqrt(m / (rho * b * b * b)) / (v / std::sqrt(g * b))));
}

TEST_CASE("bad fields are refused by name") {
  const double infinite = std::numeric_limits<double>::infinity();
  const auto refuses = [](const PorpoisingInput<>& input, const std::string& field) {
    CAPTURE(field);
    try {
      porpoising_margin(input);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.function() == "porpoising_margin");
      CHECK(refusal.field() == field);
    }
  };
  for (const double bad : {std::nan(""), infinite, -infinite, 0.0, -0.1, 20.1}) {
    auto input = at(0.2, 10.0, 3.0);
    input.lift_coefficient = bad;
    refuses(input, "lift coefficient");
  }
  for (const double bad : {std::nan(""), infinite, -1.0, 46.0}) refuses(at(0.2, bad, 3.0), "deadrise");
  for (const double bad : {std::nan(""), infinite, -11.0, 46.0}) refuses(at(0.2, 10.0, bad), "trim");
  CHECK_THROWS_AS(lift_coefficient_of_load({.beam_load_coefficient = 0.3}), BadInput);
  CHECK_THROWS_AS(lift_coefficient_of_load({.beam_load_coefficient = 0.3, .beam_froude_number = 0.0}), BadInput);
}

TEST_CASE("derivatives on Dual, and the strict archetype") {
  // At a fixed load and speed the margin's gradient is minus that of the trim; over x it is the slope of the segment.
  using D = Dual<3>;
  const double x = 0.186, C_Lb = 2.0 * x * x;
  const auto margin = porpoising_margin<D>(
      {.lift_coefficient = D::input(C_Lb, 0), .deadrise = seed<3>(13.0 * degree, 1), .trim = seed<3>(2.3 * degree, 2)});
  CHECK(margin.outcome == PorpoisingOutcome::stable);
  const double ten = (4.9 - 3.3) / 0.05, twenty = (5.7 - 4.0) / 0.05;
  CHECK(derivative(margin.margin, 0).value() / degree.value() ==
        relative((0.7 * ten + 0.3 * twenty) / (4.0 * x), 1e-13));  // dx/dC = 1/(4 x)
  const double over_deadrise = ((4.0 + twenty * 0.036) - (3.3 + ten * 0.036)) / 10.0;
  CHECK(derivative(margin.limit, 1).value() == relative(over_deadrise, 1e-12));
  CHECK(derivative(margin.margin, 2).value() == -1.0);

  const auto strict = porpoising_margin<Strict>(PorpoisingInput<Strict>(at(0.186, 13.0, 2.3)));
  CHECK(strict.limit.value().reveal() == porpoising_margin(at(0.186, 13.0, 2.3)).limit.value());
  CHECK(strict.outcome == PorpoisingOutcome::stable);
  CHECK(porpoising_margin<Strict>(PorpoisingInput<Strict>(at(0.12, 10.0, 2.8))).outcome == PorpoisingOutcome::likely);
  const LoadAtSpeed<Strict> load = LoadAtSpeed<>{.beam_load_coefficient = 0.3, .beam_froude_number = 3.0};
  CHECK(lift_coefficient_of_load(load).reveal() == rounding(0.6 / 9.0));
}

TEST_CASE("words and source") {
  for (const auto outcome : {PorpoisingOutcome::stable, PorpoisingOutcome::marginal, PorpoisingOutcome::likely,
                             PorpoisingOutcome::undecided})
    CHECK(words(outcome) != "unknown outcome");
  for (const auto bound :
       {PorpoisingBound::limit, PorpoisingBound::upper_bound, PorpoisingBound::lower_bound, PorpoisingBound::none})
    CHECK(words(bound) != "unknown bound");
  CHECK(cite(porpoising_margin(at(0.2, 10.0, 3.0))).find("savitsky_1964 Fig. 18") == 0);
  CHECK(cite(porpoising_margin(at(0.2, 10.0, 3.0))).find("(transcribed)") != std::string::npos);
}
