// Pairs of almost equal programs: water and fuel. How a pair is written: README.md of this folder.
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/fluids/water.hpp"

using namespace hardchine;

// common: temperature without its zero
// words: Temperature<T>.*'double'
#ifdef WRONG_number_for_temperature
Water<> sea = sea_water(15.0);
#else
Water<> sea = sea_water(celsius(15.0));
#endif

// words: Salinity<
#ifdef WRONG_number_for_salinity
Water<> estuary = sea_water(celsius(15.0), 20.0);
#else
Water<> estuary = sea_water(celsius(15.0), practical_salinity(20.0));
#endif

// words: conver.* to .quantity<unit<list<dim<\[\.\.\.\], ?static_rational<2[>,].*time -1[>,]
// points at: .kinematic_viscosity
#ifdef WRONG_dynamic_viscosity_of_water
Water<> own_water{.density = 1025.0 * kilogram_per_cubic_metre, .kinematic_viscosity = 1.22e-3 * pascal_second};
#else
Water<> own_water{.density = 1025.0 * kilogram_per_cubic_metre,
                  .kinematic_viscosity = 1.19e-6 * square_metre_per_second};
#endif

// words: GrossHeat.*NetHeat|NetHeat.*GrossHeat
#ifdef WRONG_gross_heat_with_net_factor
auto co2 = co2_per_volume(co2_factors::cfr_40_98_gasoline_heat, co2_factors::ipcc_gasoline);
#else
auto co2 = co2_per_volume(co2_factors::cfr_40_98_gasoline_heat, co2_factors::cfr_40_98_gasoline);
#endif
