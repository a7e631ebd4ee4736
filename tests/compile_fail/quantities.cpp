// Pairs of almost equal programs: quantities by themselves. How a pair is written: README.md of this folder.
#include "hardchine/units.hpp"

using namespace hardchine;

// common: raw number
// words: 'double' to .*Speed<>
#ifdef WRONG_number_to_speed
Speed<> cruise = 25.0;
#else
Speed<> cruise = 25.0 * knot;
#endif

// words: cannot convert .* to 'double'|no viable conversion .* to 'double'
// points at: double
#ifdef WRONG_speed_to_number
double number = 25.0 * knot;
#else
double number = in(25.0 * knot, knot);
#endif

// words: cannot convert .* to 'double'|no viable conversion .* to 'double'
// points at: double
#ifdef WRONG_angle_to_number
double trim_in_formula = 4.0 * degree;
#else
double trim_in_formula = in(4.0 * degree, degree);
#endif

// words: 'int' and .*Speed<>
#ifdef WRONG_whole_number_of_knots
Speed<> forty = 40 * knot;
#else
Speed<> forty = 40.0 * knot;
#endif

// words: 'int' and .*Speed<>
#ifdef WRONG_counter_times_unit
Speed<> steps(int i) { return i * knot; }
#else
Speed<> steps(int i) { return static_cast<double>(i) * knot; }
#endif

// words: operands? .*length 1.*time -1.*and .*length 1
#ifdef WRONG_speed_plus_length
auto run_up = 25.0 * knot + 3.0 * metre;
#else
auto run_up = 25.0 * knot + 3.0 * metre / second;
#endif

// words: operands? .*mass 1.*and .*length 1.*mass 1.*time -2
#ifdef WRONG_mass_plus_weight
auto load = 10.0 * tonne + 750.0 * newton;
#else
auto load = 10.0 * tonne + 75.0 * kilogram;
#endif

// words: operands? .*length 1.*time -1.*and 'double'
#ifdef WRONG_speed_above_number
bool fast = 25.0 * knot > 20.0;
#else
bool fast = 25.0 * knot > 20.0 * knot;
#endif

// words: RotationRate<>
#ifdef WRONG_speed_read_in_rpm
double reading = in(25.0 * knot, rpm);
#else
double reading = in(25.0 * knot, mph);
#endif

// words: in\(const Quantity<U, T>& q, .*& unit\)
#ifdef WRONG_speed_read_without_unit
double bare_reading = in(25.0 * knot);
#else
double bare_reading = in(25.0 * knot, knot);
#endif

// common: pounds-mass as force
// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<length.*mass 1[>,].*time -2[>,]
// points at: Force<>
#ifdef WRONG_pounds_mass_as_force
Force<> drag = 3500.0 * pound_mass;
#else
Force<> drag = 3500.0 * pound_force;
#endif

// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<mass_base_dimension
// points at: Mass<>
#ifdef WRONG_weight_as_mass
Mass<> displacement = 23000.0 * pound_force;
#else
Mass<> displacement = 23000.0 * pound_mass;
#endif

// common: mass for moment
// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<\[\.\.\.\], ?static_rational<2[>,].*time -2[>,]
// points at: Moment<>
#ifdef WRONG_mass_moment_as_moment
Moment<> heel = 75.0 * kilogram * (1.2 * metre);
#else
Moment<> heel = 75.0 * kilogram * standard_gravity * (1.2 * metre);
#endif

// words: conver.* to (non-scalar type )?.quantity<unit<list<.*static_rational<-2[>,]
// points at: Moment<>
#ifdef WRONG_power_as_moment
Moment<> torque = 300.0 * horsepower;
#else
Moment<> torque = 300.0 * foot_pound;
#endif

// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<length 3[>,]
// points at: VolumeFlow<>
#ifdef WRONG_kilograms_an_hour_as_volume_flow
VolumeFlow<> burn = 90.0 * kilogram_per_hour;
#else
VolumeFlow<> burn = 90.0 * kilogram_per_hour / (0.84 * kilogram_per_litre);
#endif

// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<\[\.\.\.\], ?static_rational<2[>,].*time -1[>,]
// points at: KinematicViscosity<>
#ifdef WRONG_dynamic_for_kinematic_viscosity
KinematicViscosity<> nu = 1.0e-3 * pascal_second;
#else
KinematicViscosity<> nu = 1.0e-3 * pascal_second / (1.0 * kilogram_per_litre);
#endif

// words: conver.* to (non-scalar type )?.quantity<unit<list<dim<\[\.\.\.\], ?static_rational<-1[>,]
// points at: Pressure<>
#ifdef WRONG_force_as_pressure
Pressure<> suction = 30.0 * pound_force;
#else
Pressure<> suction = 30.0 * pound_per_square_inch;
#endif

// words: to .*Temperature<>
#ifdef WRONG_number_to_temperature
Temperature<> sea = 15.0;
#else
Temperature<> sea = celsius(15.0);
#endif

// common: temperature without its zero
// words: overloaded function
#ifdef WRONG_celsius_as_unit
Temperature<> pool = 15.0 * celsius;
#else
Temperature<> pool = celsius(15.0);
#endif

// words: celsius\(double.*|'double'
#ifdef WRONG_celsius_of_kelvin
Temperature<> bay = celsius(288.15 * kelvin);
#else
Temperature<> bay = celsius(15.0);
#endif

// words: overloaded function|celsius
#ifdef WRONG_kelvin_read_in_celsius
double degrees = in(288.15 * kelvin, celsius);
#else
double degrees = in_celsius(288.15 * kelvin);
#endif

// words: operator""_kn
#ifdef WRONG_literal_not_opted_in
Speed<> typed = 25_kn;
#else
Speed<> typed = 25.0 * knot;
#endif
