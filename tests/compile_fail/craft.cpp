// Pairs of almost equal programs: hull, load, tanks. How a pair is written: README.md of this folder.
#include "hardchine/craft/drive_train.hpp"
#include "hardchine/craft/froude_number.hpp"
#include "hardchine/craft/hull.hpp"
#include "hardchine/craft/operating_point.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/craft/thrust_line.hpp"

using namespace hardchine;

// common: degrees as a number
// words: 'double' to .*Angle<
// points at: .deadrise
#ifdef WRONG_deadrise_as_number
Hull<> degrees_as_number{.chine_beam = 3.2 * metre, .deadrise = 18.0, .projected_chine_length = 10.8 * metre};
#else
Hull<> degrees_as_number{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre};
#endif

// common: area for length
// words: conver.* to .quantity<unit<list<dim<\[\.\.\.\], ?static_rational<1[>,]
// points at: .chine_beam
#ifdef WRONG_area_for_beam
Hull<> area_for_beam{
    .chine_beam = 3.2 * square_metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre};
#else
Hull<> area_for_beam{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre};
#endif

// words: BeamTaken
// points at: .beam_taken
#ifdef WRONG_number_for_choice
Hull<> beam_taken{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .beam_taken = 1};
#else
Hull<> beam_taken{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .beam_taken = BeamTaken::mean_over_chines};
#endif

// common: gallons as mass
// words: conver.* to .quantity<unit<list<dim<mass 1[>,]
// points at: .mass
#ifdef WRONG_gallons_as_mass
Loading<> fuel_in_gallons{.mass = 370.0 * us_gallon, .lcg = 4.2 * metre};
#else
Loading<> fuel_in_gallons{.mass = 370.0 * us_gallon * (7.0 * pound_per_us_gallon), .lcg = 4.2 * metre};
#endif

// words: conver.* to .quantity<unit<list<dim<mass_base_dimension, ?\[\.\.\.\]>, ?dimensionless
// points at: .mass
#ifdef WRONG_weight_for_displacement
Loading<> weight_for_mass{.mass = 103.0 * kilonewton, .lcg = 4.2 * metre};
#else
Loading<> weight_for_mass{.mass = 10.5 * tonne, .lcg = 4.2 * metre};
#endif

// words: 'double' to .*Length<
// points at: .lcg
#ifdef WRONG_lcg_as_fraction
Loading<> lcg_as_fraction{.mass = 10.5 * tonne, .lcg = 0.39};
#else
Loading<> lcg_as_fraction{.mass = 10.5 * tonne, .lcg = 0.39 * (10.8 * metre)};
#endif

// words: conver.* to .quantity<unit<list<.*(time |static_rational<)-3[>,]
// points at: .rated_power
#ifdef WRONG_torque_for_power
DriveTrain<> torque_for_power{.reduction_ratio = 1.5, .rated_power = 900.0 * newton_metre};
#else
DriveTrain<> torque_for_power{.reduction_ratio = 1.5, .rated_power = 280.0 * kilowatt};
#endif

// common: pounds-mass as force
// words: conver.* to .quantity<unit<list<dim<length.*mass 1[>,].*time -2[>,]
// points at: .total_drag
#ifdef WRONG_drag_in_pounds_mass
OperatingPoint<> drag_in_pounds{.speed = 25.0 * knot, .total_drag = 3500.0 * pound_mass};
#else
OperatingPoint<> drag_in_pounds{.speed = 25.0 * knot, .total_drag = 3500.0 * pound_force};
#endif

// words: conver.* to .quantity<unit<list<.*list<dim<time -1[>,]
// points at: .fuel_flow
#ifdef WRONG_litres_for_fuel_flow
OperatingPoint<> flow_in_litres{.speed = 25.0 * knot, .fuel_flow = 108.0 * litre};
#else
OperatingPoint<> flow_in_litres{.speed = 25.0 * knot, .fuel_flow = 108.0 * litre_per_hour};
#endif

// words: 'double' to .*Density<
// points at: .contents
#ifdef WRONG_specific_gravity_for_density
Tank<> specific_gravity{.name = "fuel", .capacity = 700.0 * litre, .fill = 80.0 * percent, .contents = 0.84};
#else
Tank<> specific_gravity{
    .name = "fuel", .capacity = 700.0 * litre, .fill = 80.0 * percent, .contents = 0.84 * kilogram_per_litre};
#endif

// words: convert .* to 'double'|no viable conversion .* to 'double'
// points at: .fill
#ifdef WRONG_litres_for_fill
Tank<> litres_for_fill{
    .name = "fuel", .capacity = 700.0 * litre, .fill = 560.0 * litre, .contents = 0.84 * kilogram_per_litre};
#else
Tank<> litres_for_fill{.name = "fuel",
                       .capacity = 700.0 * litre,
                       .fill = (560.0 * litre) / (700.0 * litre),
                       .contents = 0.84 * kilogram_per_litre};
#endif

// words: const Mass<T>& mass, .*Density<T>>& density
#ifdef WRONG_density_before_mass
auto displaced = displaced_volume(1025.0 * kilogram_per_cubic_metre, 10.5 * tonne);
#else
auto displaced = displaced_volume(10.5 * tonne, 1025.0 * kilogram_per_cubic_metre);
#endif

// words: Volume<T>>& volume
#ifdef WRONG_displacement_for_displaced_volume
double volume_number = volume_froude_number(25.0 * knot, 10.5 * tonne);
#else
double volume_number = volume_froude_number(25.0 * knot, 10.2 * cubic_metre);
#endif

// common: area for length
// words: Length<T>>& beam
#ifdef WRONG_area_for_length
double load_coefficient = beam_load_coefficient(10.2 * cubic_metre, 3.2 * square_metre);
#else
double load_coefficient = beam_load_coefficient(10.2 * cubic_metre, 3.2 * metre);
#endif

// common: swapped arguments
// words: const Angle<T>& inclination
#ifdef WRONG_distance_before_inclination
auto line = thrust_below_cg(0.3 * metre, 4.0 * degree);
#else
auto line = thrust_below_cg(4.0 * degree, 0.3 * metre);
#endif
