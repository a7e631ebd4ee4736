#include "everything.hpp"

Seen seen_elsewhere() {
  using namespace hardchine;
  return {read_quantity<Speed<>>("27.4 kn", "speed").value, &findings_method, planing_limits.data()};
}
