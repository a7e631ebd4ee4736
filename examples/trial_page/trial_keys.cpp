#include "trial_keys.hpp"

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "hardchine/craft/drive_train.hpp"
#include "hardchine/craft/operating_point.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/economy/range.hpp"
#include "hardchine/fluids/air.hpp"
#include "hardchine/propulsion/slip.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "hardchine/trial/run.hpp"

namespace trial_page {

using namespace hardchine;

std::string key_of(std::string_view name) {
  std::string key(name);
  for (char& c : key) c = c == ' ' || c == '-' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return key;
}

namespace {

using Keys = std::vector<Key>;

template <class Q>
constexpr std::string_view quantity_word() {
  if constexpr (std::same_as<Q, Temperature<>>)
    return "temperature";
  else
    return UnitSymbols<typename detail::UnitOf<Q>::type>::quantity;
}

template <class Q>
Key figure_key(std::string name, const ShownUnit& unit, const Range& range, bool required) {
  if constexpr (is_quantity<Q>)
    return {.name = std::move(name),
            .kind = KeyKind::quantity,
            .quantity = quantity_word<Q>(),
            .unit = unit,
            .range = range,
            .required = required};
  else
    return {.name = std::move(name), .kind = KeyKind::ratio, .unit = unit, .range = range, .required = required};
}

Key count_key(std::string name, int low, int high, bool required) {
  return {.name = std::move(name),
          .kind = KeyKind::count,
          .range = between(double(low), double(high)),
          .required = required};
}
Key yes_no_key(std::string name) { return {.name = std::move(name), .kind = KeyKind::yes_no}; }
Key text_key(std::string name, bool required = false) {
  return {.name = std::move(name), .kind = KeyKind::text, .required = required};
}
Key reserve_key(bool required) { return {.name = "reserve", .kind = KeyKind::reserve, .required = required}; }
Key list_key(std::string name) { return {.name = std::move(name), .kind = KeyKind::list}; }

template <class E, std::size_t N>
Key choice_key(std::string name, const Words<E, N>& words, bool required = false) {
  Key key{.name = std::move(name), .kind = KeyKind::choice, .required = required};
  for (const auto& [word, value] : words) key.words.emplace_back(word);
  return key;
}

/// A key for a member of an aggregate of the library, with its unit and range.
template <class S, class M>
Key member_key(std::string name, M S::*member, bool required = false) {
  Key key;
  for_each_entry<S>([&]<class E>(const E& entry) {
    if constexpr (std::same_as<E, Field<S, M>>)
      if (entry.member == member) key = figure_key<M>(name, entry.unit, entry.range, required);
  });
  if (key.name.empty()) throw std::logic_error("no field table holds what the key " + name + " stands for");
  return key;
}
/// The same without the lower end of the range.
Key above_low(Key key) {
  key.range.low_open = true;
  return key;
}
/// A temperature, its range in C; wider by what a conversion from F may round.
Key temperature_key(std::string name, double low_celsius, double high_celsius, bool required = false) {
  constexpr double rounding = 1e-9;
  return figure_key<Temperature<>>(std::move(name), {1.0, "C"},
                                   between(low_celsius - rounding, high_celsius + rounding), required);
}

/// The keys of an aggregate of the library by its field table. A field with a default is optional.
template <class S>
Keys table_keys(bool all_optional = false) {
  Keys keys;
  const S defaults{};
  for_each_entry<S>([&]<class E>(const E& entry) {
    const std::string name = key_of(entry.name);
    using M = std::remove_cvref_t<decltype(defaults.*(entry.member))>;
    if constexpr (std::same_as<M, int>) {
      keys.push_back(count_key(name, entry.low, entry.high, false));
    } else if constexpr (std::same_as<M, bool>) {
      keys.push_back(yes_no_key(name));
    } else {
      const bool has_default = is_set(defaults.*(entry.member));
      const bool required = !all_optional && entry.need == Need::required && !has_default;
      keys.push_back(figure_key<M>(name, entry.unit, entry.range, required));
    }
  });
  return keys;
}

Keys together(std::initializer_list<Keys> parts) {
  Keys all;
  for (const Keys& part : parts) all.insert(all.end(), part.begin(), part.end());
  return all;
}

/// Places of an item of the load.
Keys place_keys() {
  return {member_key("x", &WeightItem<>::x), member_key("y", &WeightItem<>::y), member_key("z", &WeightItem<>::z)};
}

/// A tank: how full it is may be written in two ways, and its density has a standard value.
Keys tank_keys() {
  Keys keys = together({{text_key("name", true), choice_key("contents", tank_contents, true)}, table_keys<Tank<>>()});
  for (Key& key : keys)
    if (key.name == "fill" || key.name == "density") key.required = false;
  keys.push_back(member_key("content", &TankReading::content));
  return keys;
}

std::vector<BlockKeys> make_blocks() {
  const auto water = [](WaterLimit limit) { return water_limits[static_cast<std::size_t>(limit)]; };
  const Limit water_temperature = water(WaterLimit::temperature), salinity = water(WaterLimit::salinity);
  const double most_salt = in_practical_salinity(absolute_salinity(salinity.high));
  std::vector<BlockKeys> blocks;
  blocks.push_back(
      {.name = "trial",
       .keys = {text_key("title"), text_key("date"), text_key("place"), text_key("sea"), text_key("remark")}});
  blocks.push_back(
      {.name = "conditions",
       .keys = {member_key("depth", &TrialDay::depth), member_key("wind", &TrialDay::wind),
                member_key("wave_height", &TrialDay::wave_height), temperature_key("air_temperature", -40.0, 60.0),
                member_key("air_pressure", &MoistAirCondition<>::pressure),
                member_key("relative_humidity", &MoistAirCondition<>::relative_humidity)}});
  blocks.push_back({.name = "weight",
                    .list = true,
                    .required = true,
                    .keys = together({{text_key("name", true)}, table_keys<WeightItem<>>()})});
  blocks.push_back({.name = "people",
                    .list = true,
                    .required = true,
                    .keys = together({{text_key("name", true), count_key("count", 0, 1000, true),
                                       figure_key<Mass<>>("each", shown(kilogram, "kg"), above(0.0, 500.0), false),
                                       choice_key("standard", person_standards)},
                                      place_keys()})});
  blocks.push_back({.name = "tank", .list = true, .required = true, .keys = tank_keys()});
  blocks.push_back({.name = "water",
                    .keys = {choice_key("kind", water_kinds),
                             temperature_key("temperature", water_temperature.low, water_temperature.high),
                             figure_key<double>("practical_salinity", plain_ratio, between(0.0, most_salt), false)}});
  blocks.push_back({.name = "fuel",
                    .required = true,
                    .keys = {above_low(member_key("usable_fuel", &RangeInput<>::usable_fuel, true)), reserve_key(true),
                             choice_key("co2_basis", co2_bases)}});
  blocks.push_back({.name = "declared", .keys = {member_key("displacement", &Loading<>::mass, true), text_key("how")}});
  blocks.push_back({.name = "drive",
                    .keys = together({table_keys<DriveTrain<>>(),
                                      {choice_key("engine", engine_kinds),
                                       member_key("least_rated_speed", &TrialDay::least_rated_speed),
                                       member_key("greatest_rated_speed", &TrialDay::greatest_rated_speed)}})});
  blocks.push_back({.name = "power",
                    .keys = {choice_key("source", power_sources, true),
                             member_key("specific_consumption", &FuelForPower<>::specific_consumption),
                             figure_key<double>("exponent", plain_ratio, between(1.5, 4.0), false)}});
  blocks.push_back(
      {.name = "hull",
       .keys = together({table_keys<Hull<>>(true),
                         {choice_key("beam_taken", beams_taken), choice_key("deadrise_taken", deadrises_taken),
                          member_key("waterline_length", &TrialDay::waterline_length)}})});
  blocks.push_back({.name = "prediction",
                    .keys = together({{choice_key("thrust_line", thrust_ways, true)},
                                      table_keys<ThrustLine<>>(true),
                                      table_keys<AddedDrag<>>(),
                                      {member_key("lcg", &Loading<>::lcg), member_key("vcg", &Loading<>::vcg),
                                       member_key("roughness_allowance", &PlaningInput<>::roughness_allowance)}})});
  blocks.push_back({.name = "stated_range",
                    .list = true,
                    .keys = {text_key("name"), member_key("engine_speed", &ScrewSpeed<>::engine_speed, true),
                             member_key("distance", &RangeClaim::distance, true), reserve_key(false)}});
  blocks.push_back(
      {.name = "acceleration",
       .list = true,
       .keys = {member_key("from", &AccelerationClaim<>::from), member_key("to", &AccelerationClaim<>::to, true),
                choice_key("start", start_rules), member_key("out", &DirectedTime<>::time),
                member_key("back", &DirectedTime<>::time), list_key("times")}});
  blocks.push_back({.name = "times",
                    .inside = "acceleration",
                    .keys = {member_key("out", &DirectedTime<>::time), member_key("back", &DirectedTime<>::time)}});
  blocks.push_back({.name = "uncertainty", .keys = table_keys<InstrumentUncertainty>()});
  blocks.push_back({.name = "limits", .keys = table_keys<FindingLimits>()});
  blocks.push_back(
      {.name = "step",
       .list = true,
       .required = true,
       .keys = {member_key("engine_speed", &ScrewSpeed<>::engine_speed, true),
                member_key("fuel_flow", &RangeInput<>::fuel_flow, true), member_key("out", &Run<>::ground_speed),
                member_key("back", &Run<>::ground_speed), list_key("runs"), member_key("time", &Run<>::time),
                text_key("setting"), member_key("trim", &OperatingPoint<>::trim), yes_no_key("planing"),
                yes_no_key("full_throttle"), member_key("torque", &TorqueReading<>::torque)}});
  blocks.push_back({.name = "runs",
                    .inside = "step",
                    .keys = {member_key("out", &Run<>::ground_speed), member_key("back", &Run<>::ground_speed),
                             member_key("time", &Run<>::time)}});
  return blocks;
}

}  // namespace

const std::vector<BlockKeys>& trial_file_blocks() {
  static const std::vector<BlockKeys> blocks = make_blocks();
  return blocks;
}

const BlockKeys& keys_of_block(std::string_view name) {
  const std::vector<BlockKeys>& blocks = trial_file_blocks();
  const auto at = std::find_if(blocks.begin(), blocks.end(), [&](const BlockKeys& b) { return b.name == name; });
  if (at == blocks.end()) throw std::logic_error("no block named " + std::string(name));
  return *at;
}

}  // namespace trial_page
