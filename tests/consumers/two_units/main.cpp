// Two units that include everything, linked: nothing is there twice, and both see the same.
#include <cmath>
#include <cstdio>

#include "everything.hpp"

int main() {
  using namespace hardchine;
  using namespace hardchine::literals;
  const Seen here{read_quantity<Speed<>>("27.4 kn", "speed").value, &findings_method, planing_limits.data()};
  const Seen there = seen_elsewhere();
  // 27.4 nautical miles of 1852 m an hour; a few roundings of a double.
  const double metres_an_hour = here.speed / (metre / hour);
  if (!(std::abs(metres_an_hour - 50744.8) < 1e-10) || here.speed != 27.4_kn || here.speed != there.speed) {
    std::printf("27.4 kn is %.17g m/h here and %.17g there, not 50744.8\n", metres_an_hour,
                in(there.speed, metre / hour));
    return 1;
  }
  // A method is recognised by its address, so there must be one of each in a program.
  if (here.method != there.method || here.a_limit != there.a_limit) {
    std::printf("the two units have methods or limits of their own\n");
    return 1;
  }
  return 0;
}
