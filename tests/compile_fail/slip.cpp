// Pairs of almost equal programs: fields of an aggregate. How a pair is written: README.md of this folder.
#include "hardchine/propulsion/slip.hpp"

using namespace hardchine;

// common: speed for rotation rate
// words: conver.* to .quantity<unit<list<dim<time -1[>,]
// points at: .engine_speed
#ifdef WRONG_speed_for_rotation_rate
ScrewSpeed<> speed_for_turns{.engine_speed = 31.0 * knot, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
#else
ScrewSpeed<> speed_for_turns{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
#endif

// common: missing unit
// words: 'double' to .*Length<
// points at: .pitch
#ifdef WRONG_pitch_without_unit
ScrewSpeed<> pitch_as_number{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0};
#else
ScrewSpeed<> pitch_as_number{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
#endif

// common: raw number
// words: 'double' to .*Speed<
// points at: .speed
#ifdef WRONG_number_for_boat_speed
ScrewAdvance<> number_for_speed{
    .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0};
#else
ScrewAdvance<> number_for_speed{
    .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0 * knot};
#endif

// common: speed for rotation rate
// words: conver.* to .quantity<unit<list<dim<length 1[>,].*list<dim<time -1[>,]
// points at: .speed
#ifdef WRONG_rotation_rate_for_speed
ScrewAdvance<> turns_for_speed{
    .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 3200.0 * rpm};
#else
ScrewAdvance<> turns_for_speed{
    .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0 * knot};
#endif

// words: convert .* to 'double'|no viable conversion .* to 'double'
// points at: .reduction_ratio
#ifdef WRONG_rotation_rate_for_ratio
ScrewSpeed<> speed_for_ratio{.engine_speed = 3200.0 * rpm, .reduction_ratio = 2133.0 * rpm, .pitch = 24.0 * inch};
#else
ScrewSpeed<> speed_for_ratio{
    .engine_speed = 3200.0 * rpm, .reduction_ratio = (3200.0 * rpm) / (2133.0 * rpm), .pitch = 24.0 * inch};
#endif

// words: ScrewSpeed<>.*engine_turns|engine_turns.*ScrewSpeed<>
#ifdef WRONG_field_misspelt
ScrewSpeed<> misspelt{.engine_turns = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
#else
ScrewSpeed<> misspelt{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
#endif

// A call with braces names the aggregate, not the field: write the type before the brace to be shown the field.
// common: raw number
// words: initializer list.*ScrewAdvance<|ScrewAdvance<.*initializer list
#ifdef WRONG_number_in_braced_call
double slip =
    apparent_slip({.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0});
#else
double slip =
    apparent_slip({.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0 * knot});
#endif

// common: swapped arguments
// words: initializer list.*ScrewAdvance<|ScrewAdvance<.*initializer list
#ifdef WRONG_swapped_in_braced_call
double slip_2 =
    apparent_slip({.engine_speed = 31.0 * knot, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 3200.0 * rpm});
#else
double slip_2 =
    apparent_slip({.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0 * knot});
#endif

// words: ScrewSpeed.* not derived from .*ScrewAdvance<|'ScrewAdvance' against 'ScrewSpeed'
#ifdef WRONG_input_of_another_function
double slip_3 = apparent_slip(ScrewSpeed<>{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 0.6 * metre});
#else
auto slip_3 =
    theoretical_speed(ScrewSpeed<>{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 0.6 * metre});
#endif
