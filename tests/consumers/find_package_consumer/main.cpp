// Slip of a propeller, from an installed copy of the library.
#include <cmath>
#include <cstdio>
#include <hardchine/propulsion/slip.hpp>
#include <hardchine/version.hpp>

int main() {
  using namespace hardchine;
  const double slip = apparent_slip<double>(
      {.engine_speed = 3000.0 * rpm, .reduction_ratio = 1.5, .pitch = 0.5 * metre, .speed = 15.0 * metre_per_second});
  // By hand: 2000 rpm of 0.5 m is 1000 m/min, 16.667 m/s; 15 of 16.667 is 0.9. A few roundings of a double.
  if (std::abs(slip - 0.1) > 1e-14) {
    std::printf("apparent slip %.17g, not 0.1\n", slip);
    return 1;
  }
  return 0;
}
