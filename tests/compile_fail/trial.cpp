// Pairs of almost equal programs: runs of a trial. How a pair is written: README.md of this folder.
#include "hardchine/trial/run.hpp"

using namespace hardchine;

// words: RunDirection
// points at: .direction
#ifdef WRONG_number_for_direction
Run<> number_for_direction{.ground_speed = 26.1 * knot, .direction = 1};
#else
Run<> number_for_direction{.ground_speed = 26.1 * knot, .direction = RunDirection::back};
#endif

// words: conver.* to .quantity<unit<list<.*list<dim<time -1[>,]
// points at: .ground_speed
#ifdef WRONG_miles_for_speed
Run<> distance_for_speed{.ground_speed = 1.0 * nautical_mile, .direction = RunDirection::out};
#else
Run<> distance_for_speed{.ground_speed = 1.0 * nautical_mile / (138.0 * second), .direction = RunDirection::out};
#endif

// words: 'double' to .*Duration<
// points at: .time
#ifdef WRONG_seconds_as_number
Run<> seconds_as_number{.ground_speed = 26.1 * knot, .time = 138.0};
#else
Run<> seconds_as_number{.ground_speed = 26.1 * knot, .time = 138.0 * second};
#endif
