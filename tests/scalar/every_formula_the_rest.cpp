// The formulas of seakeeping and trial, and those of any folder to come, give the same in every scalar.
#include "every_formula.hpp"
#include "hardchine/seakeeping/porpoising.hpp"
#include "hardchine/trial/acceleration.hpp"
#include "hardchine/trial/conditions.hpp"
#include "hardchine/trial/propulsive_coefficient.hpp"
#include "hardchine/trial/reduced_runs.hpp"

using namespace every_formula;

namespace {

const std::vector<SpeedSample<>> speed_log{
    {0.0 * second, 0.1 * knot}, {0.5 * second, 0.2 * knot},  {1.0 * second, 1.1 * knot},  {1.5 * second, 3.0 * knot},
    {2.0 * second, 5.2 * knot}, {4.0 * second, 11.0 * knot}, {6.0 * second, 17.0 * knot}, {9.0 * second, 23.0 * knot}};
const std::vector<Run<>> runs{{24.1 * knot, RunDirection::out, 0.0 * minute},
                              {22.7 * knot, RunDirection::back, 11.0 * minute},
                              {23.9 * knot, RunDirection::out, 23.0 * minute},
                              {22.6 * knot, RunDirection::back, 30.0 * minute},
                              {23.6 * knot, RunDirection::out, 46.0 * minute}};
const RatedEngine<> engine{
    .rated_power = 300.0 * kilowatt, .rated_engine_speed = 2400.0 * rpm, .engine_speed = 2330.0 * rpm, .engines = 2};
const TorqueReading<> torque{.torque = 1180.0 * newton_metre, .engine_speed = 2330.0 * rpm, .engines = 2};

}  // namespace

TEST_CASE("seakeeping, trial: every formula gives the same in every scalar") {
  Formulas f;

  f.add("lift_coefficient_of_load", []<class T>(As<T> as) {
    return lift_coefficient_of_load(as(LoadAtSpeed<>{.beam_load_coefficient = 0.31, .beam_froude_number = 2.2}));
  });
  f.add("porpoising_margin", []<class T>(As<T> as) {
    std::vector<PorpoisingMargin<T>> margins;
    for (const double lift : {0.02, 0.09, 0.2})
      for (const double deadrise : {4.0, 18.0, 24.0})
        margins.push_back(porpoising_margin(
            as(PorpoisingInput<>{.lift_coefficient = lift, .deadrise = deadrise * degree, .trim = 4.1 * degree})));
    return margins;
  });

  f.add("crossing_time", []<class T>(As<T> as) { return crossing_time<T>(as(speed_log), as(20.0 * knot)); });
  f.add("timed_acceleration", []<class T>(As<T> as) {
    const std::vector<SpeedSample<T>> samples = as(speed_log);
    std::vector<TimedAcceleration<T>> rules;
    for (const StartRule rule : {StartRule::back_extrapolation, StartRule::last_standstill_sample,
                                 StartRule::interpolated_crossing, StartRule::trigger})
      rules.push_back(timed_acceleration(AccelerationInput<T>{
          .samples = samples, .to = as(20.0 * knot), .start_rule = rule, .trigger = as(0.55 * second)}));
    return rules;
  });
  f.add("combine_times", []<class T>(As<T> as) {
    const std::vector<DirectedTime<>> times{{7.3 * second, RunDirection::out}, {7.9 * second, RunDirection::back}};
    return combine_times<T>(as(times));
  });
  f.add("acceleration_plausibility", []<class T>(As<T> as) {
    return acceleration_plausibility(as(AccelerationClaim<>{.mass = 10500.0 * kilogram,
                                                            .from = 5.0 * knot,
                                                            .to = 20.0 * knot,
                                                            .time = 7.3 * second,
                                                            .propulsive_power = 310.0 * kilowatt}));
  });
  f.add("depth_froude_number",
        []<class T>(As<T> as) { return depth_froude_number(as(24.0 * knot), as(30.0 * metre)); });
  f.add("depth_condition", []<class T>(As<T> as) {
    return depth_condition(as(DepthInput<>{
        .speed = 24.0 * knot, .depth = 30.0 * metre, .volume_froude_number = 2.7, .waterline_length = 11.0 * metre}));
  });
  f.add("wind_condition", []<class T>(As<T> as) { return wind_condition(as(12.0 * knot)); });
  f.add("sea_condition", []<class T>(As<T> as) { return sea_condition(as(0.5 * metre)); });
  f.add("air_drag_of_pair", []<class T>(As<T> as) {
    return air_drag_of_pair(
        as(AirDragInput<>{.speed = 24.0 * knot,
                          .head_wind = 9.0 * knot,
                          .added_drag = {.frontal_area = 11.0 * square_metre, .air_drag_coefficient = 0.7}}));
  });
  f.add("reduce_runs", []<class T>(As<T> as) {
    std::vector<Run<T>> some = as(runs);
    some.resize(2);
    return reduce_runs<T>(some);
  });

  // An orthogonal decomposition in double gives the weights; the means are taken in the scalar. One craft at a time.
  // The change of the current is a hundred times smaller than the speeds whose differences give it.
  f.in_scalars<long double, Dual<2>>(
      "least_squares_runs", []<class T>(As<T> as) { return least_squares_runs<T>(as(runs)); },
      Tolerance{100.0 * written_out.relative, 0.0});
  f.add("current_at", []<class T>(As<T> as) {
    const PolynomialCurrent<T> current{.degree = 2,
                                       .origin = 0.0 * second,
                                       .a_0 = as(0.9 * knot),
                                       .a_1 = as(-0.2 * knot / hour),
                                       .a_2 = as(-0.1 * knot / (hour * hour))};
    return current_at(current, 40.0 * minute);
  });
  f.add("no_power_source", []<class T>(As<T> as) {
    return propulsive_coefficient(PropulsiveInput<T>{
        .total_drag = as(16.7 * kilonewton), .speed = as(24.0 * knot), .power = no_power_source<T>()});
  });
  f.add("power_from_torque", []<class T>(As<T> as) { return power_from_torque(as(torque)); });
  f.add("rated_power_at_full_throttle", []<class T>(As<T> as) { return rated_power_at_full_throttle(as(engine)); });
  f.add("power_from_fuel_flow", []<class T>(As<T> as) {
    return power_from_fuel_flow(as(FuelForPower<>{.fuel_flow = 118.0 * litre_per_hour,
                                                  .fuel_density = 838.0 * kilogram_per_cubic_metre,
                                                  .specific_consumption = 215.0 * gram_per_kilowatt_hour}));
  });
  f.add("power_by_demand_law", []<class T>(As<T> as) { return power_by_demand_law(as(engine), 2.7); });
  f.add("propulsive_coefficient", []<class T>(As<T> as) {
    return propulsive_coefficient(PropulsiveInput<T>{
        .total_drag = as(16.7 * kilonewton), .speed = as(24.0 * knot), .power = power_from_torque(as(torque))});
  });
  f.add("specific_fuel_consumption", []<class T>(As<T> as) {
    return specific_fuel_consumption(ConsumptionInput<T>{.fuel_flow = as(118.0 * litre_per_hour),
                                                         .fuel_density = as(838.0 * kilogram_per_cubic_metre),
                                                         .power = power_from_torque(as(torque))});
  });

  CHECK(least_squares_runs<double>(runs).outcome == LeastSquaresOutcome::solved);

  check_complete(f, TestFile::the_rest);
}
