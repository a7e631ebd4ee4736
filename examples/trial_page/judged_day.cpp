#include <algorithm>
#include <cmath>

#include "hardchine/craft/froude_number.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/craft/tank.hpp"
#include "reduced_day.hpp"

namespace trial_page {

using namespace hardchine;

namespace {

template <class Q>
using ScalarOf = std::remove_cvref_t<decltype(std::declval<Q>().value())>;

void judge_co2(const TrialFile& trial, ReducedDay& day, Step& step) {
  const auto co2 = [&](const auto& flow, const auto& speed) {
    using T = ScalarOf<decltype(flow)>;
    return fuel_co2<T>(
        {.basis = trial.co2_basis, .fuel_density = widen<T>(day.fuel_density), .fuel_flow = flow, .speed = speed});
  };
  step.co2_per_time =
      derive([&](const auto& q, const auto& v) { return co2(q, v).per_time; }, step.fuel_flow, step.speed);
  step.co2_per_distance =
      derive([&](const auto& q, const auto& v) { return co2(q, v).per_distance; }, step.fuel_flow, step.speed);
  day.co2_cautions.clear();  // of the fuel, the same at every step
  for (const std::string_view caution : explain(co2(step.fuel_flow.value, step.speed.value)))
    day.co2_cautions.emplace_back(caution);
}

void judge_depth(const TrialFile& trial, Step& step) {
  step.depth_froude_number = derive([](const auto& v, const auto& h) { return depth_froude_number(v, h); }, step.speed,
                                    trial.conditions.depth);
  step.depth = depth_condition<double>({.speed = step.speed.value,
                                        .depth = trial.conditions.depth.value,
                                        .volume_froude_number = step.volume_froude_number.value,
                                        .waterline_length = trial.waterline_length})
                   .statement;
}

/// Why the porpoising chart cannot be asked about a step; empty if it can.
std::string why_no_porpoising(const Hull<>& hull, const Step& step) {
  if (!step.planing) return "not planing";
  if (hull.number_of_hulls != 1 || hull.stepped) return "no chart for more hulls than one or a stepped bottom";
  if (!is_set(hull.chine_beam) || !is_set(hull.deadrise)) return "no chart without chine beam and deadrise";
  if (step.beam_froude_number.value < 1.0) return "no chart at C_v below 1";
  const bool predicted = step.predicted && is_set(step.predicted->trim.value);
  return is_set(step.trim.value) || predicted ? "" : "no trim, measured or predicted";
}

/// The margin to porpoising at the measured trim, else at the predicted one.
void judge_porpoising(const TrialFile& trial, const ReducedDay& day, Step& step) {
  step.no_porpoising = why_no_porpoising(trial.hull.value, step);
  if (!step.no_porpoising.empty()) return;
  const bool measured = is_set(step.trim.value);
  const auto margin_of = [](const auto& volume, const auto& speed, const auto& beam, const auto& deadrise,
                            const auto& trim) {
    using T = ScalarOf<decltype(speed)>;
    return porpoising_margin<T>(
        {.lift_coefficient = lift_coefficient_of_load<T>({.beam_load_coefficient = beam_load_coefficient(volume, beam),
                                                          .beam_froude_number = beam_froude_number(speed, beam)}),
         .deadrise = deadrise,
         .trim = trim});
  };
  const Figure<Volume<>> volume = day.load.displaced_volume;
  const Figure<Length<>> beam = figure(trial.hull, &Hull<>::chine_beam);
  const Figure<Angle<>> deadrise = figure(trial.hull, &Hull<>::deadrise);
  const Figure<Angle<>> trim = measured ? step.trim : step.predicted->trim;
  const auto answer = margin_of(volume.value, step.speed.value, beam.value, deadrise.value, trim.value);
  step.porpoising = {.outcome = answer.outcome,
                     .bound = answer.bound,
                     .on_measured_trim = measured,
                     .limit = derive([&](const auto&... x) { return margin_of(x...).limit; }, volume, step.speed, beam,
                                     deadrise, trim),
                     .margin = derive([&](const auto&... x) { return margin_of(x...).margin; }, volume, step.speed,
                                      beam, deadrise, trim)};
}

/// The brake power of all engines at a step by the source that the file names.
template <class T>
StatedPower<T> stated_power(const TrialFile& trial, const ReducedDay& day, const ReadStep& step,
                            const RotationRate<T>& engine_speed, const VolumeFlow<T>& fuel_flow,
                            const Moment<T>& torque) {
  const ReadPower& power = *trial.power;
  const int engines = trial.drive ? trial.drive->value.lines : 1;
  const auto rated = [&] {
    const DriveTrain<>& drive = trial.drive->value;
    return RatedEngine<T>{.rated_power = widen<T>(drive.rated_power),
                          .rated_engine_speed = widen<T>(drive.rated_engine_speed),
                          .engine_speed = engine_speed,
                          .engines = engines};
  };
  switch (power.source) {
    case PowerSource::measured_torque:
      if (!is_set(step.torque.value)) break;
      return power_from_torque<T>({.torque = torque, .engine_speed = engine_speed, .engines = engines});
    case PowerSource::full_throttle_at_rated:
      if (!step.full_throttle) break;
      return rated_power_at_full_throttle<T>(rated());
    case PowerSource::fuel_flow_with_specific_consumption:
      return power_from_fuel_flow<T>({.fuel_flow = fuel_flow,
                                      .fuel_density = widen<T>(day.fuel_density),
                                      .specific_consumption = widen<T>(power.specific_consumption.value)});
    case PowerSource::propeller_demand_law:
      return power_by_demand_law<T>(rated(), power.exponent);
    case PowerSource::none:
      break;
  }
  return no_power_source<T>();
}

/// Why the source of power that the file names says nothing about a step; empty if it does.
std::string why_no_power(const ReadPower& power, const ReadStep& step) {
  if (power.source == PowerSource::measured_torque && !is_set(step.torque.value)) return "blank: no torque noted";
  if (power.source == PowerSource::full_throttle_at_rated && !step.full_throttle)
    return "blank: not run at full throttle";
  return {};
}

void judge_power(const TrialFile& trial, const ReducedDay& day, const ReadStep& read, Step& step) {
  const Figure<Force<>> drag = step.predicted ? step.predicted->total_drag : Figure<Force<>>{};
  const auto coefficient_of = [&](const auto& total_drag, const auto& speed, const auto& engine_speed,
                                  const auto& fuel_flow, const auto& torque) {
    using T = ScalarOf<decltype(speed)>;
    return propulsive_coefficient<T>({.total_drag = total_drag,
                                      .speed = speed,
                                      .power = stated_power<T>(trial, day, read, engine_speed, fuel_flow, torque)});
  };
  const StatedPower<> power =
      stated_power<double>(trial, day, read, read.engine_speed.value, read.fuel_flow.value, read.torque.value);
  const auto answer =
      coefficient_of(drag.value, step.speed.value, read.engine_speed.value, read.fuel_flow.value, read.torque.value);
  const auto by = [&](const auto& part) {
    return derive([&](const auto&... x) { return part(coefficient_of(x...)); }, drag, step.speed, read.engine_speed,
                  read.fuel_flow, read.torque);
  };
  step.propulsive = {.brake_power = by([](const auto& c) { return c.brake_power; }),
                     .coefficient = by([](const auto& c) { return c.value; }),
                     .words = why_no_power(*trial.power, read),
                     .cautions = {}};
  if (step.propulsive->words.empty())
    step.propulsive->words = answer.outcome == PowerOutcome::found ? words(power) : std::string(words(answer.outcome));
  for (const std::string_view caution : explain(answer)) step.propulsive->cautions.emplace_back(caution);
}

/// More times than this are not asked for their last places.
constexpr int most_times = 8;

ReducedAcceleration reduced(const ReadAcceleration& read) {
  using T = Dual<most_times>;
  std::vector<DirectedTime<T>> times;
  const auto add = [&](const std::vector<Figure<Duration<>>>& some, RunDirection direction) {
    for (const Figure<Duration<>>& time : some) {
      const int index = static_cast<int>(times.size());
      times.push_back({.time = index < most_times ? seeded<most_times>(time, index) : widen<T>(time.value),
                       .direction = direction});
    }
  };
  add(read.out, RunDirection::out);
  add(read.back, RunDirection::back);
  const CombinedTimes<T> combined =
      at_place(read.place, read.block, [&] { return combine_times(std::span<const DirectedTime<T>>(times)); });
  return {.from = read.from,
          .to = read.to,
          .start = read.start,
          .outcome = combined.outcome,
          .time = collapsed(combined.time),
          .out_mean = collapsed(combined.out_mean),
          .back_mean = collapsed(combined.back_mean),
          .out = combined.out,
          .back = combined.back};
}

/// What a timed acceleration is called: its speeds as they were written, in knots.
std::string name_of(const ReducedAcceleration& a) { return number(a.from, knot) + " to " + number(a.to, knot) + " kn"; }

TrialStep trial_step(const ReadStep& read, const Step& step, const ReducedDay& day) {
  bool out = false, back = false;
  for (const ReadRun& run : read.runs) (run.back ? back : out) = true;
  TrialStep judged;
  judged.point = {.speed = step.speed.value,
                  .engine_speed = step.engine_speed.value,
                  .fuel_flow = step.fuel_flow.value,
                  .displacement = day.load.displacement.value,
                  .volume_froude_number = step.volume_froude_number.value};
  judged.both_directions = out && back;
  judged.half_difference = step.apparent_current.value;
  judged.time = read.time;
  judged.planing_claimed = read.planing;
  return judged;
}

/// The power at full throttle for the finding about fuel: measured, else rated; never one that came from fuel.
StatedPower<> power_at_full_throttle(const TrialFile& trial, const ReadStep& step) {
  const int engines = trial.drive ? trial.drive->value.lines : 1;
  if (is_set(step.torque.value))
    return power_from_torque<double>(
        {.torque = step.torque.value, .engine_speed = step.engine_speed.value, .engines = engines});
  if (!trial.drive) return no_power_source();
  const DriveTrain<>& drive = trial.drive->value;
  if (!is_set(drive.rated_power) || !is_set(drive.rated_engine_speed)) return no_power_source();
  return rated_power_at_full_throttle<double>({.rated_power = drive.rated_power,
                                               .rated_engine_speed = drive.rated_engine_speed,
                                               .engine_speed = step.engine_speed.value,
                                               .engines = engines});
}

/// The reduced day as the findings need it.
TrialDay trial_day(const TrialFile& trial, const ReducedDay& day) {
  TrialDay judged;
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    judged.steps.push_back(trial_step(trial.steps[i], day.steps[i], day));
    if (!trial.steps[i].full_throttle) continue;
    judged.full_throttle_step = i;
    judged.full_throttle_power = power_at_full_throttle(trial, trial.steps[i]);
  }
  if (trial.drive) judged.drive = trial.drive->value;
  judged.engine = trial.engine;
  judged.least_rated_speed = trial.least_rated_speed;
  judged.greatest_rated_speed = trial.greatest_rated_speed;
  judged.fuel_density = day.fuel_density;
  judged.rolled_up_displacement = day.load.displacement.value;
  if (trial.declared) judged.declared_displacement = trial.declared->displacement.value;
  for (const ReadWeight& weight : trial.weights) judged.persons_asked += weight.persons_asked;
  for (const ReadTank& read : trial.tanks) {
    const Tank<>& tank = read.tank.value;
    judged.tanks.push_back({.name = tank.name,
                            .capacity = tank.capacity,
                            .content = is_set(read.content.value) ? read.content.value : contents_volume(tank),
                            .density = tank.contents,
                            .fuel = read.holds_fuel});
  }
  for (const ReadStatedRange& range : trial.stated_ranges)
    judged.ranges.push_back({.name = range.name,
                             .step = range.step,
                             .distance = range.distance.value,
                             .reserve_named = range.reserve.has_value()});
  for (const ReducedAcceleration& a : day.accelerations) {
    const Duration<> time = is_set(a.time.value) ? a.time.value : a.out > 0 ? a.out_mean.value : a.back_mean.value;
    judged.accelerations.push_back({.name = name_of(a), .from = a.from.value, .to = a.to.value, .time = time});
  }
  judged.depth = trial.conditions.depth.value;
  judged.waterline_length = trial.waterline_length;
  judged.wind = trial.conditions.wind.value;
  judged.wave_height = trial.conditions.wave_height.value;
  judged.uncertainty = trial.uncertainty.value;
  judged.limits = trial.limits.value;
  return judged;
}

}  // namespace

void judge(const TrialFile& trial, ReducedDay& day) {
  if (trial.declared)
    day.declared_difference = derive(
        [](const auto& declared, const auto& rolled_up) {
          const ScalarOf<decltype(declared)> ratio = declared / rolled_up;
          return ratio - 1.0;
        },
        trial.declared->displacement, day.load.displacement);
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    Step& step = day.steps[i];
    if (!is_set(step.speed.value)) continue;
    const ReadStep& read = trial.steps[i];
    at_place(read.place, read.block, [&] {
      if (trial.co2_basis != Co2Basis::not_chosen) judge_co2(trial, day, step);
      if (is_set(trial.conditions.depth.value)) judge_depth(trial, step);
      judge_porpoising(trial, day, step);
      if (trial.power) judge_power(trial, day, read, step);
    });
  }
  for (const ReadAcceleration& read : trial.accelerations) day.accelerations.push_back(reduced(read));
  day.findings = at_place(trial.steps.front().place, "the file", [&] { return find_all(trial_day(trial, day)); });
}

}  // namespace trial_page
