/// @file
/// The batch that the rows in lanes run: eight columns in, what the textbook ends with out, with outcomes and flags.
#pragma once

#include <cstddef>
#include <span>
#include <stdexcept>
#include <vector>

#include "cases.hpp"
#include "hardchine/scalar/batch.hpp"

namespace bench {

/// Columns of results.
struct Answers {
  std::vector<double> trim, lambda, V_1, Re, C_F, drag;
  std::vector<hardchine::Outcome> outcomes;
  std::vector<hardchine::Flags> flags;
  explicit Answers(std::size_t n) : trim(n), lambda(n), V_1(n), Re(n), C_F(n), drag(n), outcomes(n), flags(n) {}
};

/// Solves `n` cases of a set from case `first_case` on; their answers are the first ones of `r`.
/// @param solve callable generic in the scalar: takes a PlaningInput, returns a RunningState
/// @throws std::runtime_error if a case has no answer: the row would measure something else
template <class Solve>
void solve_batch(Solve solve, const Cases& c, std::size_t first_case, std::size_t n, Answers& r, int threads = 1) {
  using namespace hardchine;
  const auto part = [=](const std::vector<double>& column) { return std::span(column).subspan(first_case, n); };
  const auto first = [=](auto& column) { return std::span(column).first(n); };
  const BatchReport report =
      batch(solve, base_input(),
            inputs(column(
                       part(c.beam), metre, [](auto& in) -> auto& { return in.hull.chine_beam; }),
                   column(
                       part(c.deadrise), radian, [](auto& in) -> auto& { return in.hull.deadrise; }),
                   column(
                       part(c.mass), kilogram, [](auto& in) -> auto& { return in.loading.mass; }),
                   column(
                       part(c.lcg), metre, [](auto& in) -> auto& { return in.loading.lcg; }),
                   column(
                       part(c.vcg), metre, [](auto& in) -> auto& { return in.loading.vcg; }),
                   column(
                       part(c.speed), metre_per_second, [](auto& in) -> auto& { return in.speed; }),
                   column(
                       part(c.inclination), radian, [](auto& in) -> auto& { return in.thrust_line.inclination; }),
                   column(
                       part(c.lever), metre, [](auto& in) -> auto& { return in.thrust_line.distance_below_cg; })),
            outputs(column(first(r.trim), degree, [](const auto& s) { return s.trim; }),
                    column(first(r.lambda), [](const auto& s) { return s.mean_wetted_ratio; }),
                    column(first(r.V_1), metre_per_second, [](const auto& s) { return s.bottom_velocity; }),
                    column(first(r.Re), [](const auto& s) { return s.reynolds_number; }),
                    column(first(r.C_F), [](const auto& s) { return s.friction_coefficient; }),
                    column(first(r.drag), newton, [](const auto& s) { return s.total_drag; })),
            {.outcomes = first(r.outcomes), .flags = first(r.flags), .threads = threads});
  if (report.done != n || report.refused + report.unanswered != 0)
    throw std::runtime_error("a batch left cases without an answer");
}

}  // namespace bench
