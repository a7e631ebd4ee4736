// Prints what a gear ratio of zero is answered: README.md quotes the line.
#include <cstdio>
#include <hardchine/propulsion/slip.hpp>

int main() {
  using namespace hardchine;
  try {
    apparent_slip({.engine_speed = 3200.0 * rpm, .reduction_ratio = 0.0, .pitch = 24.0 * inch, .speed = 37.0 * knot});
  } catch (const BadInput& error) {
    std::puts(error.what());
  }
}
