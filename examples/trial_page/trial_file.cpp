#include "trial_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "hardchine/craft/persons.hpp"
#include "hardchine/fluids/fuel.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "toml_block.hpp"

namespace trial_page {

using namespace hardchine;

namespace {

void read_trial(const File& file, TrialFile& trial) {
  trial.title = "Trial without a title";
  if (!file.has("trial")) return;
  const Block block = file.block("trial");
  trial.title = block.text_or("title", trial.title);
  for (const std::string label : {"date", "place", "sea", "remark"})
    if (block.has(label)) trial.remarks.emplace_back(label, block.text(label));
}

void read_conditions(const File& file, TrialFile& trial) {
  if (!file.has("conditions")) return;
  const Block block = file.block("conditions");
  trial.conditions = {.depth = block.figure_if_any<Length<>>("depth"),
                      .wave_height = block.figure_if_any<Length<>>("wave_height"),
                      .wind = block.figure_if_any<Speed<>>("wind"),
                      .air_temperature = block.figure_if_any<Temperature<>>("air_temperature"),
                      .air_pressure = block.figure_if_any<Pressure<>>("air_pressure"),
                      .relative_humidity = block.figure_if_any<double>("relative_humidity"),
                      .place = block.place()};
  for (const auto& [one, other] : {std::pair{"air_temperature", "air_pressure"},
                                   {"air_pressure", "air_temperature"},
                                   {"relative_humidity", "air_temperature"}})
    if (block.has(one) && !block.has(other))
      throw block.refusal(other, fmt::format("given, since {} is: air takes temperature and pressure", one));
}

ReadWeight read_weight(const Block& block) {
  ReadWeight weight;
  weight.item.value.name = block.text("name");
  block.fill(weight.item);
  return weight;
}

/// The last place to which a standard mass is stated: 75 kg, 37.5 kg, 185 lb.
Mass<> place_of_standard(PersonStandard standard) {
  switch (standard) {
    case PersonStandard::iso_12217_child:
      return 0.1 * kilogram;
    case PersonStandard::cfr_46_170:
      return 1.0 * pound_mass;
    case PersonStandard::iso_12217:
      break;
  }
  return 1.0 * kilogram;
}

ReadWeight read_people(const Block& block) {
  ReadWeight people;
  WeightItem<>& item = people.item.value;
  item.name = block.text("name");
  const int count = block.count("count");
  Figure<Mass<>> each;
  if (block.has("each") == block.has("standard"))
    throw block.refusal("each", block.has("each") ? "given, and standard too" : "not set",
                        "either each, as \"85 kg\", or standard, as \"ISO 12217 adult\"");
  if (block.has("each")) {
    each = block.figure<Mass<>>("each");
    people.basis = fmt::format("{} x {}", count, block.text("each"));
    people.persons_asked = count;
  } else {
    const PersonStandard standard = block.choice("standard", person_standards);
    each.value = person_mass(standard);
    people.nominal_place = place_of_standard(standard);
    people.basis = fmt::format("{} x {} kg, {}", count, plain_number(in(each.value, kilogram)), words(standard));
  }
  block.fill(people.item);
  item.mass = static_cast<double>(count) * each.value;
  // Each was read for himself: independent, so the last places add as squares.
  people.item.last_place.mass = std::sqrt(static_cast<double>(count)) * each.last_place;
  return people;
}

/// The standard density of what is in a tank, with the last place to show of it.
Figure<Density<>> standard_density(Contents contents) {
  const Temperature<> standard = celsius(15.0);
  constexpr Density<> one = kilogram_per_cubic_metre, tenth = 0.1 * kilogram_per_cubic_metre;
  switch (contents) {
    case Contents::diesel:
      return {.value = diesel().reference_density, .last_place = one};
    case Contents::petrol:
      return {.value = petrol().reference_density, .last_place = one};
    case Contents::fresh_water:
      return {.value = fresh_water(standard).density, .last_place = tenth};
    case Contents::sea_water:
      return {.value = sea_water(standard).density, .last_place = tenth};
    case Contents::other:
      break;
  }
  return {};
}

ReadTank read_tank(const Block& block) {
  ReadTank tank;
  tank.tank.value.name = block.text("name");
  const Contents contents = block.choice("contents", tank_contents);
  tank.contents = block.text("contents");
  tank.holds_fuel = contents == Contents::diesel || contents == Contents::petrol;
  const Figure<Density<>> standard = standard_density(contents);
  tank.tank.value.contents = standard.value;
  block.fill(tank.tank);
  tank.density_stated = block.has("density");
  if (!tank.density_stated) {
    if (!is_set(standard.value)) block.figure<Density<>>("density");  // missing: refused with its range
    tank.tank.last_place.contents = standard.last_place;
  }
  if (block.has("fill") == block.has("content"))
    throw block.refusal("fill", block.has("fill") ? "given, and content too" : "not set",
                        "either fill, as \"80 %\", or content, as \"560 L\"");
  tank.content = block.figure_if_any<Volume<>>("content");
  return tank;
}

void read_water(const File& file, TrialFile& trial) {
  const double standard_temperature = 15.0;
  trial.water = sea_water(celsius(standard_temperature));
  trial.water_words = "standard sea water at 15 C (assumed: the file names none)";
  if (!file.has("water")) return;
  const Block block = file.block("water");
  const WaterKind kind = block.has("kind") ? block.choice("kind", water_kinds) : WaterKind::sea;
  const bool temperature_known = block.has("temperature");
  const Temperature<> temperature =
      temperature_known ? block.figure<Temperature<>>("temperature").value : celsius(standard_temperature);
  const std::string at = temperature_known ? "at " + block.text("temperature") : "at 15 C (assumed)";
  if (kind == WaterKind::fresh) {
    if (block.has("practical_salinity")) throw block.refusal("practical_salinity", "no salinity with fresh water");
    trial.water = fresh_water(temperature);
    trial.water_words = "fresh water " + at;
    return;
  }
  Salinity<> salinity = standard_sea_salinity;
  std::string salinity_words = "standard salinity";
  if (block.has("practical_salinity")) {
    const Figure<double> read = block.figure<double>("practical_salinity");
    salinity = practical_salinity(read.value);
    salinity_words = "practical salinity " + number(read);
  }
  trial.water = at_place(block.place_of("temperature"), block.name(), [&] { return sea_water(temperature, salinity); });
  trial.water_words = fmt::format("{}sea water {}, {}", block.has("kind") ? "" : "(assumed) ", at, salinity_words);
}

/// "10 % of capacity", "thirds", "20 % per leg", "150 L" or "none".
Reserve<> read_reserve(const Block& block, Figure<Volume<>>& volume) {
  constexpr std::string_view of_capacity = "of capacity", per_leg = "per leg";
  const std::string accepted = R"("10 % of capacity", "thirds", "20 % per leg", a volume as "150 L", or "none")";
  const std::string words = block.text("reserve", accepted);
  const auto fraction = [&](std::string_view ending) {
    return read_ratio(std::string_view(words).substr(0, words.size() - ending.size()), "reserve").value;
  };
  try {
    if (words == "none") return no_reserve();
    if (words == "thirds") return reserve_thirds();
    if (words.ends_with(of_capacity)) return reserve_of_capacity(fraction(of_capacity));
    if (words.ends_with(per_leg)) return reserve_per_leg(fraction(per_leg));
    const auto read = read_quantity<Volume<>>(words, "reserve");
    volume = {.value = read.value, .nominal_place = read.last_place};
    return reserve_volume(read.value);
  } catch (const BadInput&) {
    throw block.refusal("reserve", accepted + ", within its sense");
  }
}

void read_fuel(const File& file, TrialFile& trial) {
  const Block block = file.block("fuel");
  trial.usable_fuel = block.figure<Volume<>>("usable_fuel");
  trial.reserve = read_reserve(block, trial.reserve_volume);
  trial.co2_basis = block.choice_if_any("co2_basis", co2_bases).value_or(Co2Basis::not_chosen);
  trial.fuel_place = block.place_of("usable_fuel");
}

void read_declared(const File& file, TrialFile& trial) {
  if (!file.has("declared")) return;
  const Block block = file.block("declared");
  trial.declared = {.displacement = block.figure<Mass<>>("displacement"), .how = block.text_or("how", "")};
}

void read_drive(const File& file, TrialFile& trial) {
  if (!file.has("drive")) return;
  const Block block = file.block("drive");
  block.fill(trial.drive.emplace());
  trial.engine = block.choice_if_any("engine", engine_kinds);
  trial.least_rated_speed = block.figure_if_any<RotationRate<>>("least_rated_speed").value;
  trial.greatest_rated_speed = block.figure_if_any<RotationRate<>>("greatest_rated_speed").value;
  const std::string both = "both ends of the maker's full-throttle band, the lower one first, or none";
  if (block.has("least_rated_speed") != block.has("greatest_rated_speed"))
    throw block.refusal(block.has("least_rated_speed") ? "greatest_rated_speed" : "least_rated_speed", both);
  if (trial.least_rated_speed > trial.greatest_rated_speed) throw block.refusal("least_rated_speed", both);
}

/// What each source of power takes, by key of the block.
void read_power(const File& file, TrialFile& trial) {
  if (!file.has("power")) return;
  const Block block = file.block("power");
  ReadPower& power = trial.power.emplace();
  power.place = block.place();
  power.source = block.choice("source", power_sources);
  const auto takes = [&](std::string_view key, PowerSource source) {
    if (block.has(key) != (power.source == source))
      throw block.refusal(
          key, fmt::format("{} with source = \"{}\"", block.has(key) ? "not" : "needed", block.text("source")));
  };
  takes("specific_consumption", PowerSource::fuel_flow_with_specific_consumption);
  takes("exponent", PowerSource::propeller_demand_law);
  power.specific_consumption = block.figure_if_any<SpecificConsumption<>>("specific_consumption");
  power.exponent = block.figure_if_any<double>("exponent").value;
  const bool by_rating =
      power.source == PowerSource::full_throttle_at_rated || power.source == PowerSource::propeller_demand_law;
  const bool rated =
      trial.drive && is_set(trial.drive->value.rated_power) && is_set(trial.drive->value.rated_engine_speed);
  if (by_rating && !rated)
    throw block.refusal("source", "with rated_power and rated_engine_speed in [drive]: this source stands on them");
}

/// A choice of where on the real form something was taken, in words that say whether the file says so.
template <class E, std::size_t N>
std::string read_where(const Block& block, std::string_view key, const Words<E, N>& places, E& where) {
  if (!block.has(key)) return "taken as " + std::string(places[0].first);
  where = block.choice(key, places);
  return block.text(key);
}

void read_hull(const File& file, TrialFile& trial) {
  trial.hull.last_place = {.chine_beam = {}, .deadrise = {}, .projected_chine_length = {}};
  if (!file.has("hull")) return;
  const Block block = file.block("hull");
  block.fill(trial.hull);
  trial.beam_taken = read_where(block, "beam_taken", beams_taken, trial.hull.value.beam_taken);
  trial.deadrise_taken = read_where(block, "deadrise_taken", deadrises_taken, trial.hull.value.deadrise_taken);
  trial.waterline_length = block.figure_if_any<Length<>>("waterline_length").value;
}

/// The thrust line: each way takes its own keys and no other.
void read_thrust_line(const Block& block, Entry<ThrustLine<>>& line) {
  using Names = std::vector<std::string>;
  const ThrustWay way = block.choice("thrust_line", thrust_ways);
  const Names takes = way == ThrustWay::point
                          ? Names{"thrust_inclination", "thrust_line_point_x", "thrust_line_point_z"}
                      : way == ThrustWay::below_cg ? Names{"thrust_inclination", "thrust_line_below_cg"}
                                                   : Names{};
  std::string list;
  for (const std::string& key : takes) list += (list.empty() ? "" : ", ") + key;
  for_each_entry<ThrustLine<>>([&](const auto& entry) {
    const std::string key = key_of(entry.name);
    const bool taken = std::find(takes.begin(), takes.end(), key) != takes.end();
    if (block.has(key) == taken) return;
    const std::string with = fmt::format("with thrust_line = \"{}\"", block.text("thrust_line"));
    throw block.refusal(key,
                        taken ? "needed " + with
                              : fmt::format("not {}, which takes {}", with, list.empty() ? "no key beside it" : list));
  });
  if (way == ThrustWay::through_cg) line.value = through_cg_parallel_to_keel();
  line.value.reference = way == ThrustWay::point ? ThrustReference::point : ThrustReference::distance_from_cg;
  block.fill(line);
}

void read_added_drag(const Block& block, ReadPrediction& prediction) {
  const std::string_view area = "frontal_area", coefficient = "air_drag_coefficient";
  for (const auto& [one, other] : {std::pair{area, coefficient}, std::pair{coefficient, area}})
    if (block.has(one) && !block.has(other))
      throw block.refusal(other, fmt::format("given, since {} is: air drag takes both or none", one));
  if (block.has("air_density") && !block.has(area))
    throw block.refusal("air_density", "only with frontal_area and air_drag_coefficient");
  block.fill(prediction.added_drag);
  prediction.appendages_stated = block.has("appendage_fraction");
  prediction.air_stated = block.has(area);
  prediction.air_density_stated = block.has("air_density");
}

void read_prediction(const File& file, TrialFile& trial) {
  if (!file.has("prediction")) return;
  const Block block = file.block("prediction");
  ReadPrediction& prediction = trial.prediction.emplace();
  prediction.place = block.place();
  block.fill(prediction.centre);
  read_thrust_line(block, prediction.thrust_line);
  read_added_drag(block, prediction);
  prediction.roughness_allowance = {attc_standard_allowance, 0.0};
  if (block.has("roughness_allowance"))
    prediction.roughness_allowance.value = block.figure<double>("roughness_allowance").value;
}

/// The step that was run at an engine speed.
std::size_t step_at(const Block& block, const TrialFile& trial) {
  const RotationRate<> wanted = block.figure<RotationRate<>>("engine_speed").value;
  std::string speeds;
  for (std::size_t i = 0; i < trial.steps.size(); ++i) {
    if (trial.steps[i].engine_speed.value == wanted) return i;
    speeds += (speeds.empty() ? "" : ", ") + number(trial.steps[i].engine_speed, rpm);
  }
  throw block.refusal("engine_speed", fmt::format("that of a step: {} rpm", speeds));
}

ReadStatedRange read_stated_range(const Block& block, const TrialFile& trial) {
  ReadStatedRange range{.name = block.text_or("name", ""),
                        .step = step_at(block, trial),
                        .distance = block.figure<Length<>>("distance"),
                        .reserve = {},
                        .reserve_volume = {}};
  if (block.has("reserve")) range.reserve = read_reserve(block, range.reserve_volume);
  return range;
}

ReadAcceleration read_acceleration(const Block& block) {
  ReadAcceleration read{.from = {Speed<>{}, Speed<>{}},
                        .to = block.figure<Speed<>>("to"),
                        .start = block.choice_if_any("start", start_rules),
                        .out = {},
                        .back = {},
                        .place = block.place(),
                        .block = block.name()};
  if (block.has("from")) read.from = block.figure<Speed<>>("from");
  if (!(read.to.value > read.from.value)) throw block.refusal("to", "a speed above from");
  const bool from_rest = read.from.value == Speed<>{};
  if (from_rest != block.has("start"))
    throw block.refusal("start", from_rest ? "how the start from rest was found, as \"back-extrapolation\""
                                           : "only of a start from rest");
  const auto read_time = [&](const Block& b, std::string_view key, auto& times) {
    if (b.has(key)) times.push_back(b.figure<Duration<>>(key));
  };
  const std::string form = "either out and back, or times = [{ out = \"10.4 s\" }, { back = \"11.0 s\" }, ...]";
  if (!block.has("times")) {
    if (!block.has("out") && !block.has("back")) throw block.refusal("out", form);
    read_time(block, "out", read.out);
    read_time(block, "back", read.back);
    return read;
  }
  if (block.has("out") || block.has("back")) throw block.refusal("times", "given, and out or back too", form);
  for (const Block& one : block.list("times", "time", form)) {
    if (one.has("out") == one.has("back")) throw one.refusal("out", "either out or back in each time");
    read_time(one, "out", read.out);
    read_time(one, "back", read.back);
  }
  return read;
}

/// A pair as `out` and `back`, one of them, or more runs as a list `runs`.
std::vector<ReadRun> read_runs(const Block& block) {
  const auto run = [](const Block& b, bool back) {
    return ReadRun{.back = back, .ground_speed = b.figure<Speed<>>(back ? "back" : "out")};
  };
  const std::string form = "out and back, or runs = [{ out = \"27.1 kn\", time = \"0 min\" }, ...]";
  std::vector<ReadRun> runs;
  if (!block.has("runs")) {
    if (!block.has("out") && !block.has("back")) throw block.refusal("out", form);
    for (const bool back : {false, true})
      if (block.has(back ? "back" : "out")) runs.push_back(run(block, back));
    return runs;
  }
  if (block.has("out") || block.has("back")) throw block.refusal("runs", "given, and out or back too", form);
  for (const Block& one : block.list("runs", "run", form)) {
    if (one.has("out") == one.has("back")) throw one.refusal("out", "either out or back in each run");
    runs.push_back(run(one, one.has("back")));
    runs.back().time = one.figure_if_any<Duration<>>("time").value;
  }
  return runs;
}

ReadStep read_step(const Block& block) {
  ReadStep step{.engine_speed = block.figure<RotationRate<>>("engine_speed"),
                .fuel_flow = block.figure<VolumeFlow<>>("fuel_flow"),
                .runs = read_runs(block),
                .time = block.figure_if_any<Duration<>>("time").value,
                .setting = block.text_or("setting", ""),
                .trim = block.figure_if_any<Angle<>>("trim"),
                .planing = {},
                .full_throttle = block.has("full_throttle") && block.yes_or_no("full_throttle"),
                .torque = block.figure_if_any<Moment<>>("torque"),
                .place = block.place(),
                .block = block.name()};
  if (block.has("planing")) step.planing = block.yes_or_no("planing");
  return step;
}

void read_steps(const File& file, TrialFile& trial) {
  for (const Block& block : file.blocks("step")) {
    ReadStep step = read_step(block);
    for (const ReadStep& before : trial.steps) {
      if (before.engine_speed.value == step.engine_speed.value && before.setting == step.setting)
        throw block.refusal("engine_speed", fmt::format("the same as in {}", before.block),
                            "one step an engine speed and setting: put its runs into one list runs = [...]");
      if (before.full_throttle && step.full_throttle) throw block.refusal("full_throttle", "one step at full throttle");
    }
    trial.steps.push_back(std::move(step));
  }
}

void read_limits(const File& file, TrialFile& trial) {
  if (!file.has("limits")) return;
  const Block block = file.block("limits");
  block.fill(trial.limits);
  try {
    check_limits(trial.limits.value);
  } catch (const BadInput& e) {  // one end of a pair is typed, the other may be a default
    const std::string key = key_of(e.field());
    at_place(block.has(key) ? block.place_of(key) : trial.limits.place, block.name(), [&]() -> void { throw e; });
  }
}

}  // namespace

TrialFile read_trial_file(const std::string& path) {
  const toml::table root = parsed_file(path);
  const File file(root, path);
  TrialFile trial;
  read_trial(file, trial);
  read_conditions(file, trial);
  for (const Block& b : file.blocks("weight")) trial.weights.push_back(read_weight(b));
  for (const Block& b : file.blocks("people")) trial.weights.push_back(read_people(b));
  for (const Block& b : file.blocks("tank")) trial.tanks.push_back(read_tank(b));
  read_water(file, trial);
  read_fuel(file, trial);
  read_declared(file, trial);
  read_drive(file, trial);
  read_power(file, trial);
  read_hull(file, trial);
  read_prediction(file, trial);
  read_steps(file, trial);
  for (const Block& b : file.blocks("stated_range")) trial.stated_ranges.push_back(read_stated_range(b, trial));
  for (const Block& b : file.blocks("acceleration")) trial.accelerations.push_back(read_acceleration(b));
  if (file.has("uncertainty")) file.block("uncertainty").fill(trial.uncertainty);
  read_limits(file, trial);
  return trial;
}

}  // namespace trial_page
