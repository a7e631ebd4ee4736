// Pairs of almost equal programs: range and its reserve. How a pair is written: README.md of this folder.
#include "hardchine/economy/range.hpp"

using namespace hardchine;

// words: 'hardchine::Reserve<double>'|'Reserve<double>'
#ifdef WRONG_reserve_left_out
RangeInput<> reserve_left_out{.speed = 25.0 * knot,
                              .fuel_flow = 108.0 * litre_per_hour,
                              .capacity = 1400.0 * litre,
                              .usable_fuel = 1330.0 * litre};
#else
RangeInput<> reserve_left_out{.speed = 25.0 * knot,
                              .fuel_flow = 108.0 * litre_per_hour,
                              .capacity = 1400.0 * litre,
                              .usable_fuel = 1330.0 * litre,
                              .reserve = reserve_of_capacity(10.0 * percent)};
#endif

// words: 'double' to .*Reserve<
// points at: .reserve
#ifdef WRONG_number_for_reserve
RangeInput<> reserve_as_number{.speed = 25.0 * knot,
                               .fuel_flow = 108.0 * litre_per_hour,
                               .capacity = 1400.0 * litre,
                               .usable_fuel = 1330.0 * litre,
                               .reserve = 0.1};
#else
RangeInput<> reserve_as_number{.speed = 25.0 * knot,
                               .fuel_flow = 108.0 * litre_per_hour,
                               .capacity = 1400.0 * litre,
                               .usable_fuel = 1330.0 * litre,
                               .reserve = reserve_of_capacity(0.1)};
#endif

// words: is_quantity<T>.*reserve_of_capacity\(const T& fraction\)
#ifdef WRONG_litres_of_capacity
auto held_back = reserve_of_capacity(140.0 * litre);
#else
auto held_back = reserve_volume(140.0 * litre);
#endif
