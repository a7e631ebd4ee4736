// A program that includes one header of one method and finds there all that it needs to call it.
#include <cstdio>
#include <hardchine/propulsion/slip.hpp>

int main() {
  using namespace hardchine;
  const Speed<> speed =
      theoretical_speed<double>({.engine_speed = 3000.0 * rpm, .reduction_ratio = 1.5, .pitch = 0.5 * metre});
  // By hand: 2000 turns of 0.5 m a minute; a few roundings of a double.
  const double metres_a_minute = speed / (metre / minute);
  if (!(metres_a_minute > 1000.0 - 1e-11 && metres_a_minute < 1000.0 + 1e-11)) {
    std::printf("theoretical speed %.17g m/min, not 1000\n", metres_a_minute);
    return 1;
  }
  return 0;
}
