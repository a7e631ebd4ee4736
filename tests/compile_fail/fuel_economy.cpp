// Pairs of almost equal programs: arguments in order. How a pair is written: README.md of this folder.
#include "hardchine/economy/fuel_economy.hpp"

using namespace hardchine;

// common: raw number
// words: Speed<T>.*'double'
#ifdef WRONG_number_for_speed
auto economy = distance_per_volume(25.0, 108.0 * litre_per_hour);
#else
auto economy = distance_per_volume(25.0 * knot, 108.0 * litre_per_hour);
#endif

// common: missing unit
// words: VolumeFlow<T>>& fuel_flow
#ifdef WRONG_number_for_fuel_flow
auto economy_2 = distance_per_volume(25.0 * knot, 108.0);
#else
auto economy_2 = distance_per_volume(25.0 * knot, 108.0 * litre_per_hour);
#endif

// common: swapped arguments
// words: const Speed<T>& speed, .*VolumeFlow<T>>& fuel_flow
#ifdef WRONG_flow_before_speed
auto economy_3 = distance_per_volume(108.0 * litre_per_hour, 25.0 * knot);
#else
auto economy_3 = distance_per_volume(25.0 * knot, 108.0 * litre_per_hour);
#endif

// words: VolumeFlow<T>>& fuel_flow
#ifdef WRONG_litres_for_litres_an_hour
auto lasts = endurance(900.0 * litre, 108.0 * litre);
#else
auto lasts = endurance(900.0 * litre, 108.0 * litre_per_hour);
#endif

// words: const Volume<T>& fuel
#ifdef WRONG_mass_of_fuel_for_volume
auto lasts_2 = endurance(750.0 * kilogram, 108.0 * litre_per_hour);
#else
auto lasts_2 = endurance(900.0 * litre, 108.0 * litre_per_hour);
#endif

// words: VolumePerDistance<>
#ifdef WRONG_distance_per_volume_in_litres_a_mile
double figure = in(distance_per_volume(25.0 * knot, 108.0 * litre_per_hour), litre_per_nautical_mile);
#else
double figure = in(volume_per_distance(25.0 * knot, 108.0 * litre_per_hour), litre_per_nautical_mile);
#endif
