// The formulas of craft, fluids, propulsion and economy, and the temperatures of units.hpp, give the same in every scalar.
#include "every_formula.hpp"
#include "hardchine/craft/froude_number.hpp"
#include "hardchine/craft/operating_point.hpp"
#include "hardchine/craft/persons_capacity.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/craft/thrust_line.hpp"
#include "hardchine/economy/fuel_economy.hpp"
#include "hardchine/economy/out_and_back.hpp"
#include "hardchine/fluids/air.hpp"
#include "hardchine/fluids/fuel.hpp"
#include "hardchine/fluids/fuel_co2.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/propulsion/slip_check.hpp"

using namespace every_formula;

namespace {

const Loading<> boat{.mass = 10500.0 * kilogram, .lcg = 4.26 * metre, .tcg = 0.02 * metre, .vcg = 1.14 * metre};
const Tank<> day_tank{.name = "day tank",
                      .capacity = 1500.0 * litre,
                      .fill = 0.63,
                      .contents = 838.0 * kilogram_per_cubic_metre,
                      .x = 3.4 * metre,
                      .y = -0.6 * metre,
                      .z = 0.7 * metre};
const std::vector<WeightItem<>> weights{
    {.name = "hull", .mass = 7200.0 * kilogram, .x = 4.6 * metre, .y = 0.0 * metre, .z = 1.1 * metre},
    {.name = "engines", .mass = 1900.0 * kilogram, .x = 2.9 * metre, .y = 0.03 * metre, .z = 0.8 * metre}};
const ScrewAdvance<> advance{
    .engine_speed = 2300.0 * rpm, .reduction_ratio = 1.9, .pitch = 27.0 * inch, .speed = 24.0 * knot};
const RangeInput<> trip{.speed = 22.0 * knot,
                        .fuel_flow = 95.0 * litre_per_hour,
                        .capacity = 1500.0 * litre,
                        .usable_fuel = 1320.0 * litre,
                        .reserve = no_reserve()};

RangeInput<> with(const Reserve<>& reserve) {
  RangeInput<> input = trip;
  input.reserve = reserve;
  return input;
}

}  // namespace

TEST_CASE("units, craft, fluids, propulsion, economy: every formula gives the same in every scalar") {
  Formulas f;

  f.add("in", []<class T>(As<T> as) { return in(as(24.0 * knot), mph); });
  f.add("celsius", []<class T>(As<T> as) { return celsius(as(18.4)); });
  f.add("fahrenheit", []<class T>(As<T> as) { return fahrenheit(as(66.2)); });
  f.add("in_celsius", []<class T>(As<T> as) { return in_celsius(as(294.3 * kelvin)); });

  f.add("volume_froude_number",
        []<class T>(As<T> as) { return volume_froude_number(as(24.0 * knot), as(10.3 * cubic_metre)); });
  f.add("beam_froude_number", []<class T>(As<T> as) { return beam_froude_number(as(24.0 * knot), as(3.2 * metre)); });
  f.add("roll_up", []<class T>(As<T> as) { return roll_up<T>(as(weights)); });
  f.add("displaced_volume", []<class T>(As<T> as) {
    return displaced_volume(as(10500.0 * kilogram), as(1025.0 * kilogram_per_cubic_metre));
  });
  f.add("beam_load_coefficient",
        []<class T>(As<T> as) { return beam_load_coefficient(as(10.3 * cubic_metre), as(3.2 * metre)); });
  f.add("predicted_point", []<class T>(As<T> as) {
    const RunningState<T> state{.speed = as(24.0 * knot),
                                .beam_froude_number = as(2.2),
                                .volume_froude_number = as(2.7),
                                .trim = as(4.1 * degree),
                                .mean_wetted_ratio = as(2.3),
                                .bare_drag = as(14.1 * kilonewton),
                                .total_drag = as(16.7 * kilonewton),
                                .effective_power = as(206.0 * kilowatt)};
    return predicted_point(state, as(10500.0 * kilogram));
  });
  f.add("persons_capacity", []<class T>(As<T> as) {
    return persons_capacity(as(PersonsCapacityInput<>{.boat_length = 16.0 * foot,
                                                      .maximum_weight_capacity = 1100.0 * pound_mass,
                                                      .outboard_equipment = 580.0 * pound_mass,
                                                      .weight_submerging_a_side = 290.0 * pound_mass}));
  });
  f.add("contents_volume", []<class T>(As<T> as) { return contents_volume(as(day_tank)); });
  f.add("weight_item", []<class T>(As<T> as) { return weight_item(as(day_tank)); });
  f.add("through_cg_parallel_to_keel", []<class T>(As<T>) { return through_cg_parallel_to_keel<T>(); });
  f.add("thrust_below_cg", []<class T>(As<T> as) { return thrust_below_cg(as(9.0 * degree), as(0.6 * metre)); });
  f.add("shaft_line", []<class T>(As<T> as) {
    return shaft_line(as(ShaftPoint<>{.inclination = 9.0 * degree, .x = 0.4 * metre, .z = -0.3 * metre}));
  });
  f.add("thrust_lever", []<class T>(As<T> as) {
    return thrust_lever(shaft_line(as(ShaftPoint<>{.inclination = 9.0 * degree, .x = 0.4 * metre, .z = -0.3 * metre})),
                        as(boat));
  });

  f.add("air_viscosity", []<class T>(As<T> as) { return air_viscosity(as(celsius(18.4))); });
  f.add("dry_air", []<class T>(As<T> as) { return dry_air(as(celsius(18.4)), as(1009.0 * hectopascal)); });
  f.add("moist_air", []<class T>(As<T> as) {
    return moist_air(as(MoistAirCondition<>{
        .temperature = celsius(28.4), .pressure = 1009.0 * hectopascal, .relative_humidity = 0.71}));
  });
  f.add("petrol", []<class T>(As<T> as) { return petrol(as(742.0 * kilogram_per_cubic_metre)); });
  f.add("diesel", []<class T>(As<T> as) { return diesel(as(838.0 * kilogram_per_cubic_metre)); });
  f.add("thermal_expansion", []<class T>(As<T> as) {
    std::vector<ThermalExpansion<T>> bands;
    for (const double rho : {742.0, 779.0, 815.0, 845.0})
      bands.push_back(thermal_expansion(as(Fuel<>{.reference_density = rho * kilogram_per_cubic_metre})));
    return bands;
  });
  f.add("fuel_at", []<class T>(As<T> as) {
    return fuel_at(as(Fuel<>{.reference_density = 838.0 * kilogram_per_cubic_metre, .band = FuelBand::diesel}),
                   as(celsius(31.0)));
  });
  f.add("fuel_density", []<class T>(As<T> as) {
    return fuel_density(as(petrol(742.0 * kilogram_per_cubic_metre)), as(celsius(31.0)));
  });
  f.add("heat_content", []<class T>(As<T> as) {
    return heat_content<NetHeat>(co2_factors::ipcc_diesel_heat, as(838.0 * kilogram_per_cubic_metre));
  });
  f.add("co2_per_volume", []<class T>(As<T> as) {
    const HeatContent<NetHeat, T> heat{as(36.0e9 * pascal)};
    return co2_per_volume(heat, {as(co2_factors::ipcc_diesel.co2_per_heat)});
  });
  f.add("fuel_co2", []<class T>(As<T> as) {
    std::vector<FuelCo2<T>> bases;
    for (const Co2Basis basis :
         {Co2Basis::cfr_40_98_gasoline, Co2Basis::cfr_40_98_distillate_2, Co2Basis::eia_middle_distillate,
          Co2Basis::mepc_diesel_gas_oil, Co2Basis::ipcc_gasoline, Co2Basis::ipcc_diesel})
      bases.push_back(fuel_co2(as(FuelCo2Input<>{.basis = basis,
                                                 .fuel_density = 838.0 * kilogram_per_cubic_metre,
                                                 .fuel_flow = 95.0 * litre_per_hour,
                                                 .speed = 22.0 * knot})));
    return bases;
  });
  f.add("absolute_salinity", []<class T>(As<T> as) { return absolute_salinity<T>(as(28.0)); });
  f.add("practical_salinity", []<class T>(As<T> as) { return practical_salinity<T>(as(28.0)); });
  f.add("in_absolute_salinity", []<class T>(As<T> as) { return in_absolute_salinity(as(absolute_salinity(28.0))); });
  f.add("in_practical_salinity", []<class T>(As<T> as) { return in_practical_salinity(as(absolute_salinity(28.0))); });
  f.add("sea_water_density",
        []<class T>(As<T> as) { return sea_water_density(as(celsius(13.0)), as(absolute_salinity(28.0))); });
  f.add("sea_water_density_eos80",
        []<class T>(As<T> as) { return sea_water_density_eos80(as(celsius(13.0)), as(absolute_salinity(28.0))); });
  f.add("fresh_water_viscosity", []<class T>(As<T> as) { return fresh_water_viscosity(as(celsius(13.0))); });
  f.add("sea_water_viscosity",
        []<class T>(As<T> as) { return sea_water_viscosity(as(celsius(13.0)), as(absolute_salinity(28.0))); });
  f.add("fresh_water_vapour_pressure",
        []<class T>(As<T> as) { return fresh_water_vapour_pressure(as(celsius(13.0))); });
  f.add("sea_water_vapour_pressure",
        []<class T>(As<T> as) { return sea_water_vapour_pressure(as(celsius(13.0)), as(absolute_salinity(28.0))); });
  f.add("fresh_water", []<class T>(As<T> as) { return fresh_water(as(celsius(-0.5))); });
  f.add("sea_water", []<class T>(As<T> as) { return sea_water(as(celsius(-0.5)), as(absolute_salinity(28.0))); });

  f.add("theoretical_speed", []<class T>(As<T> as) {
    return theoretical_speed(
        as(ScrewSpeed<>{.engine_speed = 2300.0 * rpm, .reduction_ratio = 1.9, .pitch = 27.0 * inch}));
  });
  f.add("apparent_slip", []<class T>(As<T> as) { return apparent_slip(as(advance)); });
  f.add("real_slip", []<class T>(As<T> as) { return real_slip(as(advance), as(0.05)); });
  f.add("speed_from_slip", []<class T>(As<T> as) {
    return speed_from_slip(as(SpeedFromSlip<>{
        .engine_speed = 2300.0 * rpm, .reduction_ratio = 1.9, .pitch = 27.0 * inch, .apparent_slip = 0.11}));
  });
  f.add("pitch_from_slip", []<class T>(As<T> as) {
    return pitch_from_slip(as(PitchFromSlip<>{
        .engine_speed = 2300.0 * rpm, .reduction_ratio = 1.9, .speed = 24.0 * knot, .apparent_slip = 0.11}));
  });
  f.add("engine_speed_from_slip", []<class T>(As<T> as) {
    return engine_speed_from_slip(as(EngineSpeedFromSlip<>{
        .reduction_ratio = 1.9, .pitch = 27.0 * inch, .speed = 24.0 * knot, .apparent_slip = 0.11}));
  });
  f.add("reduction_ratio_from_slip", []<class T>(As<T> as) {
    return reduction_ratio_from_slip(as(ReductionRatioFromSlip<>{
        .engine_speed = 2300.0 * rpm, .pitch = 27.0 * inch, .speed = 24.0 * knot, .apparent_slip = 0.11}));
  });
  f.add("uncertain_slip", []<class T>(As<T> as) { return uncertain_slip(as(advance)); });
  f.add("typical_slip_over_speed", []<class T>(As<T> as) { return typical_slip_over_speed(as(24.0 * knot)); });

  f.add("distance_per_volume",
        []<class T>(As<T> as) { return distance_per_volume(as(22.0 * knot), as(95.0 * litre_per_hour)); });
  f.add("volume_per_distance",
        []<class T>(As<T> as) { return volume_per_distance(as(22.0 * knot), as(95.0 * litre_per_hour)); });
  f.add("endurance", []<class T>(As<T> as) { return endurance(as(1320.0 * litre), as(95.0 * litre_per_hour)); });
  f.add("no_reserve", []<class T>(As<T>) { return no_reserve<T>(); });
  f.add("reserve_of_capacity", []<class T>(As<T> as) { return reserve_of_capacity(as(0.1)); });
  f.add("reserve_thirds", []<class T>(As<T>) { return reserve_thirds<T>(); });
  f.add("reserve_per_leg", []<class T>(As<T> as) { return reserve_per_leg(as(0.2)); });
  f.add("reserve_volume", []<class T>(As<T> as) { return reserve_volume(as(150.0 * litre)); });
  f.add("cruising_range", []<class T>(As<T> as) {
    std::vector<RangeResult<T>> ranges;
    for (const Reserve<>& reserve : {no_reserve(), reserve_of_capacity(0.1), reserve_thirds(), reserve_per_leg(0.2),
                                     reserve_volume(150.0 * litre), reserve_volume(1400.0 * litre)})
      ranges.push_back(cruising_range(as(with(reserve))));
    return ranges;
  });
  f.add("out_and_back", []<class T>(As<T> as) {
    return out_and_back(as(OutAndBackInput<>{.speed = 22.0 * knot,
                                             .current = 2.5 * knot,
                                             .fuel_flow = 95.0 * litre_per_hour,
                                             .capacity = 1500.0 * litre,
                                             .usable_fuel = 1320.0 * litre,
                                             .reserve = reserve_of_capacity(0.1)}));
  });

  check_complete(f, TestFile::boat_screw_and_fuel);
}
