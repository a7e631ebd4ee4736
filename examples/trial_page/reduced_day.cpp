#include "reduced_day.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "hardchine/propulsion/slip.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"

namespace trial_page {

using namespace hardchine;

namespace {

LoadLine load_line(const ReadWeight& weight) {
  return {.name = weight.item.value.name,
          .basis = weight.basis,
          .capacity = {},
          .fill = {},
          .content = {},
          .density = {},
          .density_stated = false,
          .mass = {weight.item.value.mass, weight.item.last_place.mass, weight.nominal_place},
          .x = figure(weight.item, &WeightItem<>::x),
          .y = figure(weight.item, &WeightItem<>::y),
          .z = figure(weight.item, &WeightItem<>::z)};
}

/// A tank by its fill is an item of the library; a content as read may exceed the capacity, which is a finding later.
LoadLine load_line(const ReadTank& read) {
  const auto contents = read.tank.value.contents;
  const auto mass_by_fill = [&](const auto& volume, const auto& ratio) {
    using T = std::remove_cvref_t<decltype(ratio)>;
    return weight_item(Tank<T>{.name = {}, .capacity = volume, .fill = ratio, .contents = widen<T>(contents)}).mass;
  };
  const auto mass_by_content = [&](const auto& volume) {
    using T = std::remove_cvref_t<decltype(volume.value())>;
    return volume * widen<T>(contents);
  };
  const Figure<Volume<>> capacity = figure(read.tank, &Tank<>::capacity);
  const Figure<double> fill = figure(read.tank, &Tank<>::fill);
  const bool by_content = is_set(read.content.value);
  return {.name = read.tank.value.name,
          .basis = read.contents,
          .capacity = capacity,
          .fill = fill,
          .content = read.content,
          .density = figure(read.tank, &Tank<>::contents),
          .density_stated = read.density_stated,
          .mass = by_content ? derive(mass_by_content, read.content) : derive(mass_by_fill, capacity, fill),
          .x = figure(read.tank, &Tank<>::x),
          .y = figure(read.tank, &Tank<>::y),
          .z = figure(read.tank, &Tank<>::z)};
}

/// The line as an item of the load, seeded if it is the one whose last places are asked for.
WeightItem<Dual<4>> seeded_item(const LoadLine& line, bool asked) {
  const auto at = [&](const auto& f, int index) { return asked ? seeded<4>(f, index) : widen<Dual<4>>(f.value); };
  return {.name = line.name, .mass = at(line.mass, 0), .x = at(line.x, 1), .y = at(line.y, 2), .z = at(line.z, 3)};
}

/// Adds the last places of independent inputs, one after the other.
template <class Q>
void add_last_place(Figure<Q>& total, const Figure<Q>& part) {
  total.value = part.value;
  total.last_place = Q::from_value(std::hypot(total.last_place.value(), part.last_place.value()));
}

/// The lines rolled up once for each line, with that line's mass and place seeded.
void roll_up_lines(Load& load) {
  for (std::size_t asked = 0; asked < load.lines.size(); ++asked) {
    std::vector<WeightItem<Dual<4>>> items;
    for (std::size_t i = 0; i < load.lines.size(); ++i) items.push_back(seeded_item(load.lines[i], i == asked));
    const Loading<Dual<4>> loading = roll_up(std::span<const WeightItem<Dual<4>>>(items));
    add_last_place(load.displacement, collapsed(loading.mass));
    add_last_place(load.lcg, collapsed(loading.lcg));
    add_last_place(load.tcg, collapsed(loading.tcg));
    add_last_place(load.vcg, collapsed(loading.vcg));
  }
}

Load reduced_load(const TrialFile& trial) {
  Load load;
  for (const ReadWeight& weight : trial.weights) load.lines.push_back(load_line(weight));
  for (const ReadTank& tank : trial.tanks) load.lines.push_back(load_line(tank));
  at_place(trial.weights.front().item.place, trial.weights.front().item.block, [&] { roll_up_lines(load); });
  const Density<> density = trial.water.density;
  load.displaced_volume = derive(
      [&](const auto& mass) {
        using T = std::remove_cvref_t<decltype(mass.value())>;
        return displaced_volume<T>(mass, widen<T>(density));
      },
      load.displacement);
  if (is_set(trial.hull.value.chine_beam))
    load.beam_load_coefficient =
        derive([](const auto& volume, const auto& beam) { return beam_load_coefficient(volume, beam); },
               load.displaced_volume, figure(trial.hull, &Hull<>::chine_beam));
  return load;
}

/// The mean of the runs one way; unset if there are none.
Figure<Speed<>> mean_one_way(const std::vector<ReadRun>& runs, bool back) {
  Figure<Speed<>> sum{Speed<>{}, Speed<>{}};
  double count = 0.0;
  for (const ReadRun& run : runs) {
    if (run.back != back) continue;
    sum = sum + run.ground_speed;
    count += 1.0;
  }
  if (count == 0.0) return {};
  return {sum.value / count, sum.last_place / count};
}

/// More runs than this are never reduced by weights, so their last places are not asked for.
constexpr int most_runs = 6;

void reduce_runs_of(const ReadStep& read, Step& step, std::vector<std::string>& cautions) {
  using T = Dual<most_runs>;
  std::vector<Run<T>> runs;
  for (const ReadRun& run : read.runs) {
    const int index = static_cast<int>(runs.size());
    runs.push_back({.ground_speed = index < most_runs ? seeded<most_runs>(run.ground_speed, index)
                                                      : widen<T>(run.ground_speed.value),
                    .direction = run.back ? RunDirection::back : RunDirection::out,
                    .time = widen<T>(run.time)});
  }
  const ReducedRuns<T> reduced =
      at_place(read.place, read.block, [&] { return reduce_runs(std::span<const Run<T>>(runs)); });
  step.out = mean_one_way(read.runs, false);
  step.back = mean_one_way(read.runs, true);
  step.averaging = words(reduced.outcome);
  if (reduced.outcome != RunsOutcome::reduced) return;
  step.averaging = words(reduced.method);
  step.speed = collapsed(reduced.speed);
  step.apparent_current = collapsed(reduced.apparent_current);
  for (const std::string_view caution : explain(reduced))
    if (std::find(cautions.begin(), cautions.end(), caution) == cautions.end()) cautions.emplace_back(caution);
}

void reduce_economy(const TrialFile& trial, ReducedDay& day, Step& step) {
  step.distance_per_volume =
      derive([](const auto& v, const auto& q) { return distance_per_volume(v, q); }, step.speed, step.fuel_flow);
  step.volume_per_distance =
      derive([](const auto& v, const auto& q) { return volume_per_distance(v, q); }, step.speed, step.fuel_flow);
  const auto range = [&](const auto& speed, const auto& flow, const auto& capacity, const auto& usable) {
    using T = std::remove_cvref_t<decltype(speed.value())>;
    return cruising_range<T>({.speed = speed,
                              .fuel_flow = flow,
                              .capacity = capacity,
                              .usable_fuel = usable,
                              .reserve = Reserve<T>(*trial.reserve)});
  };
  const auto answer = range(seeded<4>(step.speed, 0), seeded<4>(step.fuel_flow, 1), seeded<4>(day.fuel_capacity, 2),
                            seeded<4>(trial.usable_fuel, 3));
  step.range_outcome = answer.outcome;
  step.range = collapsed(answer.distance);
  step.endurance = collapsed(answer.endurance);
  day.held_back = collapsed(answer.held_back);
}

void reduce_slip(const DriveTrain<>& drive, Step& step) {
  // Ratio and pitch are nominal: only engine speed and boat speed carry last places.
  step.theoretical_speed = derive(
      [&](const auto& engine_speed) {
        using T = std::remove_cvref_t<decltype(engine_speed.value())>;
        return theoretical_speed<T>({.engine_speed = engine_speed,
                                     .reduction_ratio = T(drive.reduction_ratio),
                                     .pitch = widen<T>(drive.pitch)});
      },
      step.engine_speed);
  if (!is_set(step.speed.value)) return;
  step.apparent_slip = derive(
      [&](const auto& engine_speed, const auto& speed) {
        using T = std::remove_cvref_t<decltype(speed.value())>;
        return apparent_slip<T>({.engine_speed = engine_speed,
                                 .reduction_ratio = T(drive.reduction_ratio),
                                 .pitch = widen<T>(drive.pitch),
                                 .speed = speed});
      },
      step.engine_speed, step.speed);
}

Step reduced_step(const TrialFile& trial, const ReadStep& read, ReducedDay& day) {
  Step step;
  step.engine_speed = read.engine_speed;
  step.runs = read.runs;
  step.planing_observed = read.planing.has_value();
  step.setting = read.setting;
  step.trim = read.trim;
  step.fuel_flow = read.fuel_flow;
  reduce_runs_of(read, step, day.run_cautions);
  if (trial.drive) {
    at_place(trial.drive->place, trial.drive->block, [&] { reduce_slip(trial.drive->value, step); });
  }
  return step;
}

// ------------------------------------------------------------------------------------------------- the prediction

/// How many inputs of the prediction carry last places.
constexpr int seeds = 12;

/// Why the file asks for no prediction or for one that no method gives; empty if there can be one.
std::string why_no_prediction(const TrialFile& trial) {
  const Hull<>& hull = trial.hull.value;
  if (hull.number_of_hulls != 1)
    return fmt::format("the method takes one hull, and the file gives {}", hull.number_of_hulls);
  if (hull.stepped) return "the method takes a bottom without steps, and the file gives a stepped one";
  if (!trial.prediction) return "the file has no [prediction] block";
  return {};
}

/// LCG or VCG: as stated, else as rolled up.
Figure<Length<>> centre(const ReadPrediction& prediction, Length<> Loading<>::*member, const Figure<Length<>>& rolled) {
  const Figure<Length<>> stated = figure(prediction.centre, member);
  return is_set(stated.value) ? stated : rolled;
}

void need(const Place& place, std::string_view key, std::string_view block, const Length<>& value,
          std::string_view accepted) {
  if (!is_set(value))
    throw error_at(place, fmt::format("field {} in {}: value not set; accepted: {}", key, block, accepted));
}

/// The question to the method at one measured speed, every input seeded by its last place.
PlaningInput<Dual<seeds>> planing_question(const TrialFile& trial, const ReducedDay& day,
                                           const Figure<Speed<>>& speed) {
  const Load& load = day.load;
  using T = Dual<seeds>;
  const ReadPrediction& p = *trial.prediction;
  const Figure<Length<>> lcg = centre(p, &Loading<>::lcg, load.lcg), vcg = centre(p, &Loading<>::vcg, load.vcg);
  PlaningInput<T> question;
  question.hull = trial.hull.value;
  question.hull.chine_beam = seeded<seeds>(figure(trial.hull, &Hull<>::chine_beam), 0);
  question.hull.deadrise = seeded<seeds>(figure(trial.hull, &Hull<>::deadrise), 1);
  question.loading = {.mass = seeded<seeds>(load.displacement, 2),
                      .lcg = seeded<seeds>(lcg, 3),
                      .tcg = unset,
                      .vcg = seeded<seeds>(vcg, 4)};
  question.water = trial.water;
  question.thrust_line = p.thrust_line.value;
  question.thrust_line.inclination = seeded<seeds>(figure(p.thrust_line, &ThrustLine<>::inclination), 5);
  question.thrust_line.distance_below_cg = seeded<seeds>(figure(p.thrust_line, &ThrustLine<>::distance_below_cg), 6);
  question.thrust_line.x = seeded<seeds>(figure(p.thrust_line, &ThrustLine<>::x), 7);
  question.thrust_line.z = seeded<seeds>(figure(p.thrust_line, &ThrustLine<>::z), 8);
  question.speed = seeded<seeds>(speed, 9);
  question.roughness_allowance = T(p.roughness_allowance.value);
  question.added_drag = p.added_drag.value;
  if (!p.air_density_stated && is_set(day.air_density.value))
    question.added_drag.air_density = widen<T>(day.air_density.value);
  question.added_drag.appendage_fraction = seeded<seeds>(figure(p.added_drag, &AddedDrag<>::appendage_fraction), 10);
  question.added_drag.frontal_area = seeded<seeds>(figure(p.added_drag, &AddedDrag<>::frontal_area), 11);
  return question;
}

std::string sentence(PlaningLimit limit) {
  return std::string(planing_limits[static_cast<std::size_t>(limit)].sentence);
}

/// Words in the stead of figures: no answer, or an answer that says nothing about this boat.
std::string words_instead(const RunningState<Dual<seeds>>& state) {
  if (state.outcome != Outcome::converged) return std::string(words(state.outcome));
  return has_flag(state.flags, PlaningLimit::bow_in_the_water) ? sentence(PlaningLimit::bow_in_the_water) : "";
}

Predicted predicted_at(const TrialFile& trial, const ReducedDay& day, const Step& step) {
  Predicted p;
  if (step.beam_froude_number.value < 1.0) {
    p.instead = sentence(PlaningLimit::procedure_speed_range);
    return p;
  }
  const RunningState<Dual<seeds>> state = at_place(trial.prediction->place, "[prediction]", [&] {
    return planing_equilibrium(planing_question(trial, day, step.speed));
  });
  p.instead = words_instead(state);
  if (!p.instead.empty()) return p;
  p.trim = collapsed(state.trim);
  p.wetted_keel = collapsed(state.keel_wetted_length);
  p.wetted_chine = collapsed(state.chine_wetted_length);
  p.bare_drag = collapsed(state.bare_drag);
  p.total_drag = collapsed(state.total_drag);
  p.effective_power = collapsed(state.effective_power);
  for (const std::string_view caution : explain(state)) p.cautions.emplace_back(caution);
  return p;
}

void predict(const TrialFile& trial, ReducedDay& day) {
  day.no_prediction = why_no_prediction(trial);
  if (!day.no_prediction.empty()) return;
  const ReadPrediction& p = *trial.prediction;
  const std::string_view for_prediction = "a length, since there is a [prediction] block";
  const Hull<>& hull = trial.hull.value;
  need(p.place, "chine_beam", "[hull]", hull.chine_beam, for_prediction);
  need(p.place, "projected_chine_length", "[hull]", hull.projected_chine_length, for_prediction);
  if (!is_set(hull.deadrise))
    throw error_at(p.place,
                   "field deadrise in [hull]: value not set; accepted: an angle, since there is a [prediction] block");
  need(p.place, "lcg", "[prediction]", centre(p, &Loading<>::lcg, day.load.lcg).value,
       "a length, or x of every item of the load");
  need(p.place, "vcg", "[prediction]", centre(p, &Loading<>::vcg, day.load.vcg).value,
       "a length, or z of every item of the load");
  day.prediction_method = fmt::format("{}; {}", planing_closed_method.name, cite(planing_closed_method));
  for (Step& step : day.steps)
    if (is_set(step.speed.value)) step.predicted = predicted_at(trial, day, step);
}

// ------------------------------------------------------------------------------------------------------ the cruise

/// Best cruise among the steps that have a speed; its indices are those of all steps.
void find_cruise(const TrialFile& trial, ReducedDay& day) {
  std::vector<OperatingPoint<>> points;
  std::vector<std::optional<bool>> observed;
  std::vector<std::size_t> step_of;
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const Step& step = day.steps[i];
    if (!is_set(step.speed.value)) continue;
    points.push_back({.speed = step.speed.value,
                      .engine_speed = step.engine_speed.value,
                      .fuel_flow = step.fuel_flow.value,
                      .displacement = day.load.displacement.value,
                      .volume_froude_number = step.volume_froude_number.value});
    observed.push_back(trial.steps[i].planing);
    step_of.push_back(i);
  }
  const std::vector<bool> planing = planing_steps(points, day.planing_rule, observed);
  for (std::size_t k = 0; k < points.size(); ++k) day.steps[step_of[k]].planing = planing[k];
  day.hump = hump_step(points);
  day.cruise = best_cruise(points, planing);
  if (day.steps.size() == 1) day.cruise.best = day.cruise.fastest_within = std::nullopt;  // nothing to be best of
  for (auto* index : {&day.hump, &day.cruise.best, &day.cruise.fastest_within, &day.cruise.top_speed})
    if (*index) *index = step_of[**index];
  const FindingLimits& limits = trial.limits.value;
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const double froude = day.steps[i].volume_froude_number.value;
    day.steps[i].near_hump = (froude >= limits.hump_from && froude <= limits.hump_to) || day.hump == i;
  }
}

Figure<Volume<>> fuel_capacity(const TrialFile& trial) {
  Figure<Volume<>> total{Volume<>{}, Volume<>{}};
  for (const ReadTank& tank : trial.tanks)
    if (tank.holds_fuel) total = total + figure(tank.tank, &Tank<>::capacity);
  if (total.value == Volume<>{})
    throw error_at(trial.fuel_place,
                   "field contents in [[tank]]: value of none is a fuel; accepted: \"diesel\" or "
                   "\"petrol\" in one tank or more");
  return total;
}

/// The mean density of the fuel by the capacity of its tanks.
Density<> fuel_density(const TrialFile& trial) {
  Mass<> mass{};
  Volume<> volume{};
  for (const ReadTank& read : trial.tanks) {
    if (!read.holds_fuel) continue;
    mass += read.tank.value.capacity * read.tank.value.contents;
    volume += read.tank.value.capacity;
  }
  return mass / volume;
}

/// The density of the air of the day: moist where the humidity is known, else dry.
void reduce_air(const ReadConditions& c, ReducedDay& day) {
  if (!is_set(c.air_temperature.value)) return;
  const auto dry = [](const auto& t, const auto& p) { return dry_air(t, p).density; };
  const auto moist = [](const auto& t, const auto& p, const auto& h) {
    using T = std::remove_cvref_t<decltype(h)>;
    return moist_air<T>({.temperature = t, .pressure = p, .relative_humidity = h}).density;
  };
  at_place(c.place, "[conditions]", [&] {
    if (!is_set(c.relative_humidity.value)) {
      day.air_density = derive(dry, c.air_temperature, c.air_pressure);
      return;
    }
    day.air_density = derive(moist, c.air_temperature, c.air_pressure, c.relative_humidity);
    const Air<> air = moist_air<>({.temperature = c.air_temperature.value,
                                   .pressure = c.air_pressure.value,
                                   .relative_humidity = c.relative_humidity.value});
    for (const std::string_view flag : explain(air.flags, *air.method)) day.air_cautions.emplace_back(flag);
  });
}

}  // namespace

ReducedDay reduce(const TrialFile& trial) {
  ReducedDay day;
  day.load = reduced_load(trial);
  day.fuel_capacity = fuel_capacity(trial);
  day.fuel_density = fuel_density(trial);
  reduce_air(trial.conditions, day);
  for (const ReadStep& read : trial.steps) {
    Step step = reduced_step(trial, read, day);
    if (is_set(step.speed.value)) {
      step.volume_froude_number =
          derive([](const auto& v, const auto& volume) { return hardchine::volume_froude_number(v, volume); },
                 step.speed, day.load.displaced_volume);
      if (is_set(trial.hull.value.chine_beam))
        step.beam_froude_number =
            derive([](const auto& v, const auto& beam) { return hardchine::beam_froude_number(v, beam); }, step.speed,
                   figure(trial.hull, &Hull<>::chine_beam));
      at_place(trial.fuel_place, "[fuel]", [&] { reduce_economy(trial, day, step); });
    }
    day.steps.push_back(std::move(step));
  }
  find_cruise(trial, day);
  predict(trial, day);
  judge(trial, day);
  return day;
}

}  // namespace trial_page
