/// @file
/// Overall propulsive coefficient on total drag, eta = total drag x V / P_B, and specific fuel consumption, each with
/// the source of its brake power named; without a source both stay blank and say why.
///
/// A StatedPower is made by one of four named functions and by nothing else. A power that was made from a fuel flow
/// with the user's own specific consumption gives a propulsive coefficient but no specific consumption: that would be
/// the user's number handed back, and both from one fuel figure would be one measurement sold twice.
///
/// The drag is a predicted one, so the coefficient carries the whole error of the resistance method.
#pragma once

#include <array>
#include <numbers>
#include <string>
#include <vector>

#include "hardchine/fields.hpp"

namespace hardchine {

/// Where a brake power comes from.
enum class PowerSource : std::uint8_t {
  none,                                 ///< not known
  measured_torque,                      ///< torque and engine speed
  full_throttle_at_rated,               ///< the maker's rated power, at full throttle near rated engine speed
  fuel_flow_with_specific_consumption,  ///< fuel flow over the user's specific consumption
  propeller_demand_law                  ///< rated power times (n/n_rated)^k
};

/// The source in the words of a report.
/// @param source of a StatedPower
/// @return a phrase
constexpr std::string_view words(PowerSource source) {
  switch (source) {
    case PowerSource::none:
      return "no source of power";
    case PowerSource::measured_torque:
      return "power from measured torque";
    case PowerSource::full_throttle_at_rated:
      return "rated power, at full throttle near rated engine speed";
    case PowerSource::fuel_flow_with_specific_consumption:
      return "power from fuel flow and a stated specific consumption";
    case PowerSource::propeller_demand_law:
      return "power by a propeller demand law from rated power";
  }
  return "unknown source";
}

/// Whether there is a figure, and if not, why.
enum class PowerOutcome : std::uint8_t {
  found,              ///< a figure
  no_power_source,    ///< no source of power was named
  not_at_rated,       ///< the engine speed is too far from rated for the rated power
  drag_not_known,     ///< no total drag at this speed
  from_the_same_fuel  ///< the power came from this fuel flow: a specific consumption would be the one put in
};

/// The outcome in the words of a report.
/// @param outcome of a stated power or of what was made with it
/// @return a phrase
constexpr std::string_view words(PowerOutcome outcome) {
  switch (outcome) {
    case PowerOutcome::found:
      return "found";
    case PowerOutcome::no_power_source:
      return "blank: no source of power";
    case PowerOutcome::not_at_rated:
      return "blank: engine speed more than 5 % from rated, so the rated power was not delivered";
    case PowerOutcome::drag_not_known:
      return "blank: no total drag at this speed";
    case PowerOutcome::from_the_same_fuel:
      return "blank: the power came from this fuel flow and a stated specific consumption";
  }
  return "unknown outcome";
}

/// The bits of the limits of the propulsive coefficient.
enum class PropulsiveLimit : std::uint8_t { practice_range };

/// The limits of the propulsive coefficient.
inline constexpr std::array<Limit, 1> propulsive_limits{Limit{
    "propulsive coefficient outside 30 to 70 %, the practice from hump to fast surface-piercing drives: power, drag "
    "or weight is off",
    "trade_practice", 0.30, 0.70}};

/// Overall propulsive coefficient on total drag.
inline constexpr Method propulsive_coefficient_method{.name = "Overall propulsive coefficient on total drag",
                                                      .key = "trade_practice",
                                                      .equations = "eta = total drag x V/P_B",
                                                      .evidence = Evidence::practice,
                                                      .limits = propulsive_limits,
                                                      .instead_beyond = "a measured torque"};
/// Specific fuel consumption at the engine.
inline constexpr Method specific_consumption_method{.name = "Specific fuel consumption",
                                                    .key = "trade_practice",
                                                    .equations = "b = q rho/P_B",
                                                    .evidence = Evidence::practice,
                                                    .limits = {},
                                                    .instead_beyond = ""};

/// How far from rated an engine speed may be for the rated power to stand: the torque curve of a sound engine is flat
/// enough there that the power is off by about as much (practice).
inline constexpr double near_rated = 0.05;

/// Torque at the engine.
template <class T = double>
struct TorqueReading {
  Moment<T> torque = unset;              ///< Q: of one engine, 0 to 1e6 N m
  RotationRate<T> engine_speed = unset;  ///< n: where the torque was measured, above 0 to 20000 rpm
  int engines = 1;                       ///< how many alike, 1 to 12

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("torque", &TorqueReading::torque, shown(newton_metre, "N m"), above(0.0, 1e6)),
                      field("engine speed", &TorqueReading::engine_speed, shown(rpm, "rpm"), above(0.0, 20000.0)),
                      count("engines", &TorqueReading::engines, 1, 12)};
  }
  /// The same reading in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator TorqueReading<U>() const {
    return widen_fields<TorqueReading<U>>(*this);
  }
};

/// An engine against its rating.
template <class T = double>
struct RatedEngine {
  Power<T> rated_power = unset;                ///< brake power of one engine, 0.5 to 20000 kW
  RotationRate<T> rated_engine_speed = unset;  ///< 100 to 20000 rpm
  RotationRate<T> engine_speed = unset;        ///< n: as run, above 0 to 20000 rpm
  int engines = 1;                             ///< how many alike, 1 to 12

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("rated power", &RatedEngine::rated_power, shown(kilowatt, "kW"), between(0.5, 20000.0)),
        field("rated engine speed", &RatedEngine::rated_engine_speed, shown(rpm, "rpm"), between(100.0, 20000.0)),
        field("engine speed", &RatedEngine::engine_speed, shown(rpm, "rpm"), above(0.0, 20000.0)),
        count("engines", &RatedEngine::engines, 1, 12)};
  }
  /// The same engine in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator RatedEngine<U>() const {
    return widen_fields<RatedEngine<U>>(*this);
  }
};

/// A fuel flow with what the user says the engines need.
template <class T = double>
struct FuelForPower {
  VolumeFlow<T> fuel_flow = unset;                      ///< q: of all engines together, above 0 to 20000 L/h
  Density<T> fuel_density = unset;                      ///< rho: at the meter, 600 to 1100 kg/m3
  SpecificConsumption<T> specific_consumption = unset;  ///< b: at this load, 100 to 2000 g/kWh

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("fuel flow", &FuelForPower::fuel_flow, shown(litre_per_hour, "L/h"), above(0.0, 20000.0)),
                      field("fuel density", &FuelForPower::fuel_density, shown(kilogram_per_cubic_metre, "kg/m3"),
                            between(600.0, 1100.0)),
                      field("specific consumption", &FuelForPower::specific_consumption,
                            shown(gram_per_kilowatt_hour, "g/kWh"), between(100.0, 2000.0))};
  }
  /// The same in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator FuelForPower<U>() const {
    return widen_fields<FuelForPower<U>>(*this);
  }
};

template <class T>
class StatedPower;
template <class T = double>
StatedPower<T> no_power_source();
template <class T = double>
StatedPower<T> power_from_torque(const TorqueReading<T>& reading);
template <class T = double>
StatedPower<T> rated_power_at_full_throttle(const RatedEngine<T>& engine);
template <class T = double>
StatedPower<T> power_from_fuel_flow(const FuelForPower<T>& fuel);
template <class T = double>
StatedPower<T> power_by_demand_law(const RatedEngine<T>& engine, double exponent);

/// A brake power of all engines together with its source; made by no_power_source(), power_from_torque(),
/// rated_power_at_full_throttle(), power_from_fuel_flow() or power_by_demand_law() and by nothing else.
template <class T = double>
class StatedPower {
 public:
  PowerSource source() const { return source_; }                        ///< where it comes from
  const PerLane<T, PowerOutcome>& outcome() const { return outcome_; }  ///< whether there is a power
  const Power<T>& brake_power() const { return brake_power_; }          ///< P_B of all engines; unset if there is none
  double exponent() const { return exponent_; }                         ///< of the demand law; unset for other sources

  /// The same power in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator StatedPower<U>() const {
    return StatedPower<U>(source_, per_lane<U>(outcome_), widen<U>(brake_power_), exponent_);
  }

 private:
  template <class U>
  friend class StatedPower;
  friend StatedPower no_power_source<T>();
  friend StatedPower power_from_torque<T>(const TorqueReading<T>& reading);
  friend StatedPower rated_power_at_full_throttle<T>(const RatedEngine<T>& engine);
  friend StatedPower power_from_fuel_flow<T>(const FuelForPower<T>& fuel);
  friend StatedPower power_by_demand_law<T>(const RatedEngine<T>& engine, double exponent);

  constexpr StatedPower(PowerSource source, const PerLane<T, PowerOutcome>& outcome, const Power<T>& brake_power,
                        double exponent)
      : source_(source), outcome_(outcome), brake_power_(brake_power), exponent_(exponent) {}

  PowerSource source_;
  PerLane<T, PowerOutcome> outcome_;
  Power<T> brake_power_;
  double exponent_;
};

/// No source of power: everything made with it is blank and says so.
/// @return the blank
template <class T>
StatedPower<T> no_power_source() {
  return StatedPower<T>(PowerSource::none, per_lane<T>(PowerOutcome::no_power_source), Power<T>(unset), unset);
}

/// Power from a measured torque, P = 2 pi n Q. Source: trade_practice (definition of power); evidence: practice.
/// @param reading torque (above 0 to 1e6 N m) and speed (above 0 to 20000 rpm) of one engine, how many engines
/// @return the power of all engines
/// @throws BadInput for a field that is unset or out of range
template <class T>
StatedPower<T> power_from_torque(const TorqueReading<T>& reading) {
  check_fields("power_from_torque", reading);
  const Power<T> power = (2.0 * std::numbers::pi * reading.engines) * (reading.engine_speed * reading.torque);
  return StatedPower<T>(PowerSource::measured_torque, per_lane<T>(PowerOutcome::found), power, unset);
}

/// The maker's rated power, for a run at full throttle: stands only where the engine speed is within 5 % of rated.
/// Whether the throttle was full is the caller's word. Source: trade_practice; evidence: practice.
/// @param engine rated power (0.5 to 20000 kW) and speed (100 to 20000 rpm), speed as run, how many engines
/// @return the power of all engines; blank, not_at_rated, too far from rated
/// @throws BadInput for a field that is unset or out of range
template <class T>
StatedPower<T> rated_power_at_full_throttle(const RatedEngine<T>& engine) {
  check_fields("rated_power_at_full_throttle", engine);
  const T ratio = engine.engine_speed / engine.rated_engine_speed;
  const auto near = magnitude(T(ratio - 1.0)) <= T(near_rated);
  const Power<T> power = double(engine.engines) * engine.rated_power;
  PerLane<T, PowerOutcome> outcome = per_lane<T>(PowerOutcome::not_at_rated);
  assign_where(outcome, near, PowerOutcome::found);
  return StatedPower<T>(PowerSource::full_throttle_at_rated, outcome, select(near, power, Power<T>(unset)), unset);
}

/// Power from a fuel flow and a specific consumption that the user states for this load, P = q rho/b. A constant one
/// fails at low load, where engines need more. Source: trade_practice; evidence: practice.
/// @param fuel flow of all engines (above 0 to 20000 L/h), density (600 to 1100 kg/m3), consumption (100 to 2000 g/kWh)
/// @return the power of all engines
/// @throws BadInput for a field that is unset or out of range
template <class T>
StatedPower<T> power_from_fuel_flow(const FuelForPower<T>& fuel) {
  check_fields("power_from_fuel_flow", fuel);
  const Power<T> power = fuel.fuel_flow * fuel.fuel_density / fuel.specific_consumption;
  return StatedPower<T>(PowerSource::fuel_flow_with_specific_consumption, per_lane<T>(PowerOutcome::found), power,
                        unset);
}

/// Power by a propeller demand law, P = P_rated (n/n_rated)^k: a supposition about the propeller, no measurement.
/// Planing boats lie between 2 and 3. Source: trade_practice; evidence: practice.
/// @param engine rated power (0.5 to 20000 kW) and speed (100 to 20000 rpm), speed as run, how many engines
/// @param exponent k, 1.5 to 4, named by the user
/// @return the power of all engines
/// @throws BadInput for a field that is unset or out of range
template <class T>
StatedPower<T> power_by_demand_law(const RatedEngine<T>& engine, double exponent) {
  check_fields("power_by_demand_law", engine);
  check_value("power_by_demand_law", "exponent", exponent, plain_ratio, between(1.5, 4.0));
  using std::pow;
  const T ratio = engine.engine_speed / engine.rated_engine_speed;
  const Power<T> power = T(double(engine.engines) * pow(ratio, exponent)) * engine.rated_power;
  return StatedPower<T>(PowerSource::propeller_demand_law, per_lane<T>(PowerOutcome::found), power, exponent);
}

/// Where a power comes from, in the words of a report, with the exponent of a demand law.
/// @param power a stated power
/// @return a phrase
template <class T>
std::string words(const StatedPower<T>& power) {
  if (power.source() != PowerSource::propeller_demand_law) return std::string(words(power.source()));
  return joined({words(power.source()), ", exponent ", plain_number(power.exponent())});
}

/// The input of propulsive_coefficient().
template <class T = double>
struct PropulsiveInput {
  Force<T> total_drag = unset;  ///< with appendages and air, 0 to 10000 kN; optional: unset gives a blank
  Speed<T> speed = unset;       ///< V: through the water, above 0 to 150 kn
  StatedPower<T> power;         ///< P_B with its source; no_power_source() gives a blank

  /// The field table; a power checks itself when it is made.
  static constexpr auto fields() {
    return FieldTable{
        field("total drag", &PropulsiveInput::total_drag, shown(kilonewton, "kN"), above(0.0, 10000.0), Need::optional),
        field("speed", &PropulsiveInput::speed, shown(knot, "kn"), above(0.0, 150.0))};
  }
};

/// The answer of propulsive_coefficient().
template <class T = double>
struct PropulsiveCoefficient {
  PerLane<T, PowerOutcome> outcome = per_lane<T>(PowerOutcome::no_power_source);  ///< whether there is one, or why not
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});                                ///< bits of PropulsiveLimit
  PowerSource source = PowerSource::none;                                         ///< of the power
  T value = unset;                                                                ///< eta; unset unless found
  Power<T> effective_power = unset;                                               ///< total drag x V
  Power<T> brake_power = unset;                                                   ///< P_B
};

/// Overall propulsive coefficient on total drag, eta = total drag x V/P_B, or a blank with its reason. Flagged outside
/// 30 to 70 %. Source: trade_practice; evidence: practice. As good as the drag, which a method predicted.
/// @param input total drag (0 to 10000 kN, or unset), speed (above 0 to 150 kn), stated power
/// @return the coefficient with the source of its power
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
PropulsiveCoefficient<T> propulsive_coefficient(const PropulsiveInput<T>& input) {
  check_fields("propulsive_coefficient", input);
  PropulsiveCoefficient<T> result;
  result.outcome = input.power.outcome();
  result.source = input.power.source();
  result.brake_power = input.power.brake_power();
  result.effective_power = input.total_drag * input.speed;
  result.value = result.effective_power / result.brake_power;  // unset where either is
  const Force<T> same = input.total_drag;
  const auto drag_known = input.total_drag >= same;
  assign_where(result.outcome, negate(drag_known), PowerOutcome::drag_not_known);
  const Limit& limit = propulsive_limits.front();
  raise_where(result.flags, either(result.value<T(limit.low), result.value> T(limit.high)),
              flag(PropulsiveLimit::practice_range));
  return result;
}

/// The sentences of the flags.
/// @param coefficient of propulsive_coefficient()
/// @return one sentence a flag
template <class T>
std::vector<std::string_view> explain(const PropulsiveCoefficient<T>& coefficient) {
  return explain(coefficient.flags, propulsive_coefficient_method);
}
/// Source and evidence of a propulsive coefficient.
/// @return one line
template <class T>
std::string cite(const PropulsiveCoefficient<T>&) {
  return cite(propulsive_coefficient_method);
}

/// The input of specific_fuel_consumption().
template <class T = double>
struct ConsumptionInput {
  VolumeFlow<T> fuel_flow = unset;  ///< q: of all engines together, above 0 to 20000 L/h
  Density<T> fuel_density = unset;  ///< rho: at the meter, 600 to 1100 kg/m3
  StatedPower<T> power;             ///< P_B with its source

  /// The field table; a power checks itself when it is made.
  static constexpr auto fields() {
    return FieldTable{
        field("fuel flow", &ConsumptionInput::fuel_flow, shown(litre_per_hour, "L/h"), above(0.0, 20000.0)),
        field("fuel density", &ConsumptionInput::fuel_density, shown(kilogram_per_cubic_metre, "kg/m3"),
              between(600.0, 1100.0))};
  }
};

/// The answer of specific_fuel_consumption().
template <class T = double>
struct SpecificFuelConsumption {
  PerLane<T, PowerOutcome> outcome = per_lane<T>(PowerOutcome::no_power_source);  ///< whether there is one, or why not
  PowerSource source = PowerSource::none;                                         ///< of the power
  SpecificConsumption<T> value = unset;                                           ///< b; unset unless found
};

/// Specific fuel consumption, b = q rho/P_B, or a blank with its reason: never from a power that came from fuel itself.
/// Source: trade_practice; evidence: practice.
/// @param input flow of all engines (above 0 to 20000 L/h), density (600 to 1100 kg/m3), stated power
/// @return the consumption with the source of its power
/// @throws BadInput for a field that is unset or out of range
template <class T = double>
SpecificFuelConsumption<T> specific_fuel_consumption(const ConsumptionInput<T>& input) {
  check_fields("specific_fuel_consumption", input);
  SpecificFuelConsumption<T> result;
  result.source = input.power.source();
  if (input.power.source() == PowerSource::fuel_flow_with_specific_consumption) {
    result.outcome = per_lane<T>(PowerOutcome::from_the_same_fuel);
    return result;
  }
  result.outcome = input.power.outcome();
  result.value = input.fuel_flow * input.fuel_density / input.power.brake_power();  // unset where the power is
  return result;
}

/// What is outside the usual: the bands of consumption are those of the findings, so nothing; whether there is one is
/// its outcome.
/// @return no sentence
template <class T>
std::vector<std::string_view> explain(const SpecificFuelConsumption<T>&) {
  return explain(Flags{0}, specific_consumption_method);
}
/// Source and evidence of a specific consumption.
/// @return one line
template <class T>
std::string cite(const SpecificFuelConsumption<T>&) {
  return cite(specific_consumption_method);
}

}  // namespace hardchine
