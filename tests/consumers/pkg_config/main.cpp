// Speed through the water from two opposite runs: the header needs Eigen, which pkg-config has to name too.
#include <array>
#include <cmath>
#include <cstdio>
#include <hardchine/trial/reduced_runs.hpp>

int main() {
  using namespace hardchine;
  const std::array<Run<>, 2> runs{Run<>{.ground_speed = 26.0 * knot, .direction = RunDirection::out},
                                  Run<>{.ground_speed = 24.0 * knot, .direction = RunDirection::back}};
  const double knots = in(reduce_runs(runs).speed, knot);
  // The mean by hand; a few roundings of a double.
  if (!(std::abs(knots - 25.0) < 1e-13)) {
    std::printf("speed %.17g kn, not 25\n", knots);
    return 1;
  }
  return 0;
}
