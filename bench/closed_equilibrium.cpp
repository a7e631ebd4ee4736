// The library's default, planing_equilibrium(), on the same set.
#include "cases.hpp"
#include "equilibrium_batch.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "rows.hpp"

namespace bench {
namespace {

using namespace hardchine;

constexpr std::size_t block = 500;

}  // namespace

void add_closed_equilibrium_rows() {
  add_row("equilibrium/closed_scalar", number_of_cases, block, [&c = cases()](std::size_t first) {
    PlaningInput<> input = base_input();
    for (std::size_t i = first; i < first + block; ++i) {
      put_case(input, c, [&](const std::vector<double>& column, int) { return column[i]; });
      benchmark::DoNotOptimize(input);
      RunningState<> state = planing_equilibrium(input);
      benchmark::DoNotOptimize(state);
    }
  });
  add_row("equilibrium/closed_lanes", number_of_cases, number_of_cases,
          [&c = cases(), answers = Answers(number_of_cases)](std::size_t) mutable {
            const double* beams = c.beam.data();
            benchmark::DoNotOptimize(beams);
            solve_batch([](const auto& in) { return planing_equilibrium(in); }, c, 0, number_of_cases, answers);
          });
}

}  // namespace bench
