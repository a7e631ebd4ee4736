#include "trial_file.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <array>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <numeric>
#include <sstream>

#include "hardchine/craft/operating_point.hpp"
#include "hardchine/craft/persons.hpp"
#include "hardchine/economy/range.hpp"
#include "hardchine/fluids/fuel.hpp"
#include "hardchine/propulsion/slip.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "hardchine/trial/run.hpp"

namespace trial_page {

using namespace hardchine;

FileError error_at(const Place& place, const std::string& message) {
  return FileError(place.line ? fmt::format("{}:{}: {}", place.file, place.line, message)
                              : fmt::format("{}: {}", place.file, message));
}

namespace {

using Keys = std::vector<std::string>;

std::string joined(const Keys& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

/// The key of a field: its trade name in small letters with underscores.
std::string key_of(std::string_view name) {
  std::string key(name);
  for (char& c : key) c = c == ' ' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return key;
}

/// Whether an entry of a field table is read as it stands: numbers, quantities, counts, yes or no. Other choices are
/// words of the file.
template <class S, class E>
inline constexpr bool reads_itself = requires(const E& e) {
  e.range;
}
|| std::same_as<E, Count<S>> || std::same_as<E, Choice<S, bool>>;

/// The keys of an aggregate's field table, after `others`.
template <class S>
Keys keys_of(Keys others = {}) {
  const auto one = [&]<class E>(const E& entry) {
    if constexpr (reads_itself<S, E>) others.push_back(key_of(entry.name));
  };
  std::apply([&](const auto&... entries) { (one(entries), ...); }, S::fields());
  return others;
}

/// Unit and range in which the library takes a member of an aggregate.
struct Accepted {
  ShownUnit unit;
  Range range;
};
template <class S, class M>
constexpr Accepted range_of(M S::*member) {
  Accepted found{plain_ratio, between(0.0, 0.0)};
  const auto one = [&]<class E>(const E& entry) {
    if constexpr (std::same_as<E, Field<S, M>>)
      if (entry.member == member) found = {entry.unit, entry.range};
  };
  std::apply([&](const auto&... entries) { (one(entries), ...); }, S::fields());
  return found;
}
/// The same without its lower end.
constexpr Accepted above_low(const Accepted& accepted) {
  return {accepted.unit, above(accepted.range.low, accepted.range.high)};
}

/// How many letters must be added, dropped or changed to make one word the other.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0]++;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({changed, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

const std::string& nearest(const Keys& known, std::string_view word) {
  return *std::min_element(known.begin(), known.end(), [&](const std::string& a, const std::string& b) {
    return edit_distance(a, word) < edit_distance(b, word);
  });
}

unsigned line_of(const toml::source_region& source) { return static_cast<unsigned>(source.begin.line); }

/// A key as a message shows it: on one line, whatever stands in it.
std::string shown_key(std::string_view key) {
  const std::string quoted = detail::quoted(key);
  return quoted.size() == key.size() + 2 && quoted.find('?') == std::string::npos ? std::string(key) : quoted;
}

/// A value as a message shows it.
std::string shown_value(const toml::node& node) {
  if (const auto* text = node.as_string()) return detail::quoted(text->get());
  if (const auto* integer = node.as_integer()) return fmt::format("{} (a bare number)", integer->get());
  if (const auto* real = node.as_floating_point()) return plain_number(real->get()) + " (a bare number)";
  if (const auto* boolean = node.as_boolean()) return boolean->get() ? "true" : "false";
  if (node.is_table()) return "a block";
  if (node.is_array()) return "a list";
  return "a date or time";
}

/// A number without quotes as the text that it would be with them.
std::optional<std::string> number_text(const toml::node& node) {
  if (const auto* integer = node.as_integer()) return fmt::format("{}", integer->get());
  if (const auto* real = node.as_floating_point()) return plain_number(real->get());
  return std::nullopt;
}

/// One block of the file: it knows its keys, and where it stands.
class Block {
 public:
  /// @throws FileError for a key that is not among `known`
  Block(const toml::table& table, std::string file, std::string name, Keys known)
      : table_(table),
        place_{std::move(file), line_of(table.source())},
        name_(std::move(name)),
        known_(std::move(known)) {
    for (const auto& [key, value] : table_) {
      if (std::find(known_.begin(), known_.end(), key.str()) != known_.end()) continue;
      throw error_at({place_.file, line_of(key.source())},
                     fmt::format("field {} in {}: unknown; nearest known: {}; accepted: {}", shown_key(key.str()),
                                 name_, nearest(known_, key.str()), joined(known_)));
    }
  }

  bool has(std::string_view key) const { return table_.contains(key); }
  const toml::node& node(std::string_view key) const { return *table_.get(key); }
  const Place& place() const { return place_; }
  const std::string& name() const { return name_; }

  /// Where the value of a key stands; the block itself if the key is missing.
  Place place_of(std::string_view key) const {
    return has(key) ? Place{place_.file, line_of(node(key).source())} : place_;
  }
  FileError refusal(std::string_view key, std::string_view value, std::string_view accepted) const {
    return error_at(place_of(key), fmt::format("field {} in {}: value {}; accepted: {}", key, name_, value, accepted));
  }
  FileError refusal(std::string_view key, std::string_view accepted) const {
    return refusal(key, has(key) ? shown_value(node(key)) : "not set", accepted);
  }

  /// The text of a key.
  std::string text(std::string_view key, std::string_view accepted) const {
    if (!has(key) || !node(key).is_string()) throw refusal(key, accepted);
    const std::string& words = node(key).as_string()->get();
    for (const char c : words)
      if (static_cast<unsigned char>(c) < 32 || c == 127) throw refusal(key, "one line of text");
    return words;
  }
  std::string text_or(std::string_view key, std::string_view otherwise) const {
    return has(key) ? text(key, "text in quotes") : std::string(otherwise);
  }

  /// The choice whose word the key holds.
  template <class E, std::size_t N>
  E choice(std::string_view key, const std::array<std::pair<std::string_view, E>, N>& words) const {
    Keys accepted;
    for (const auto& [word, value] : words) accepted.push_back(fmt::format("\"{}\"", word));
    const std::string found = text(key, joined(accepted));
    for (const auto& [word, value] : words)
      if (word == found) return value;
    throw refusal(key, joined(accepted));
  }

  bool yes_or_no(std::string_view key) const {
    if (!has(key) || !node(key).is_boolean()) throw refusal(key, "true or false");
    return node(key).as_boolean()->get();
  }

  int count(std::string_view key, int least, int most) const {
    const std::string accepted = fmt::format("a whole number from {} to {}", least, most);
    if (!has(key) || !node(key).is_integer()) throw refusal(key, accepted);
    const auto n = node(key).as_integer()->get();
    if (n < least || n > most) throw refusal(key, accepted);
    return static_cast<int>(n);
  }

  /// A quantity or number with the range in which the library takes it.
  template <class Q>
  Figure<Q> figure(std::string_view key, const ShownUnit& unit, const Range& range) const {
    try {
      if (!has(key)) throw BadInput("trial file", key, "not set", accepted_range(range, unit));
      const Figure<Q> read = parsed<Q>(key, unit);
      check_value("trial file", key, read.value, unit, range);
      return read;
    } catch (const BadInput& e) {
      const bool bare = has(key) && !node(key).is_string();
      throw refusal(key, bare ? shown_value(node(key)) : e.value(), e.accepted());
    }
  }

  template <class Q>
  Figure<Q> figure(std::string_view key, const Accepted& accepted) const {
    return figure<Q>(key, accepted.unit, accepted.range);
  }

  /// Fills an aggregate by its field table. A field that holds a value before is a default.
  /// @param all_optional whether every field may be missing
  template <class S>
  void fill(Entry<S>& entry, bool all_optional = false) const {
    entry.place = place_;
    entry.block = name_;
    const auto one = [&]<class E>(const E& field) {
      if constexpr (reads_itself<S, E>) {
        const std::string key = key_of(field.name);
        auto& value = entry.value.*(field.member);
        using Q = std::remove_reference_t<decltype(value)>;
        if constexpr (std::same_as<Q, int>) {
          if (has(key)) value = count(key, field.low, field.high);
        } else if constexpr (std::same_as<Q, bool>) {
          if (has(key)) value = yes_or_no(key);
        } else {
          entry.last_place.*(field.member) = Q{};
          if (!has(key) && (all_optional || field.need == Need::optional || is_set(value))) return;
          const Figure<Q> read = this->figure<Q>(key, field.unit, field.range);
          value = read.value;
          entry.last_place.*(field.member) = read.last_place;
        }
      }
    };
    std::apply([&](const auto&... entries) { (one(entries), ...); }, S::fields());
  }

 private:
  template <class Q>
  Figure<Q> parsed(std::string_view key, const ShownUnit& unit) const {
    const toml::node& value = node(key);
    const std::optional<std::string> bare = number_text(value);
    if constexpr (is_quantity<Q>) {
      const auto read = read_quantity<Q>(value.is_string() ? value.as_string()->get() : bare.value_or(""), key);
      return {read.value, read.last_place};
    } else {
      const bool number_will_do = unit.symbol.empty() && bare;
      if (!value.is_string() && !number_will_do)
        throw BadInput("trial file", key, "",
                       unit.symbol.empty() ? "a number" : "text with a per cent sign, as \"80 %\"");
      const auto read = read_ratio(value.is_string() ? value.as_string()->get() : *bare, key);
      return {read.value, read.last_place};
    }
  }

  const toml::table& table_;
  Place place_;
  std::string name_;
  Keys known_;
};

/// The top level of the file, and the blocks in it.
class File {
 public:
  File(const toml::table& root, const std::string& path)
      : top_(root, path, "the file",
             {"trial", "weight", "people", "tank", "water", "fuel", "drive", "hull", "prediction", "step"}),
        path_(path) {}

  bool has(std::string_view key) const { return top_.has(key); }

  /// A block [key].
  Block block(std::string_view key, Keys known) const {
    if (!has(key) || !top_.node(key).is_table()) throw top_refusal(key, fmt::format("one block [{}]", key));
    return Block(*top_.node(key).as_table(), path_, fmt::format("[{}]", key), std::move(known));
  }

  /// The blocks [[key]], at least `least`.
  std::vector<Block> blocks(std::string_view key, const Keys& known, std::size_t least) const {
    std::vector<Block> found;
    const std::string accepted = fmt::format("blocks [[{}]], in double brackets{}", key, least ? ", one or more" : "");
    if (has(key)) {
      const toml::array* list = top_.node(key).as_array();
      if (!list || (!list->empty() && !list->is_homogeneous<toml::table>())) throw top_refusal(key, accepted);
      for (const toml::node& item : *list)
        found.emplace_back(*item.as_table(), path_, fmt::format("[[{}]] {}", key, found.size() + 1), known);
    }
    if (found.size() < least) throw top_refusal(key, accepted);
    return found;
  }

 private:
  FileError top_refusal(std::string_view key, std::string_view accepted) const {
    if (has(key)) return top_.refusal(key, accepted);
    return error_at({path_, 0}, fmt::format("field {}: value not set; accepted: {}", key, accepted));
  }

  Block top_;
  std::string path_;
};

void read_trial(const File& file, TrialFile& trial) {
  // Shown as they were written; depth and wind are read so that a slip in their units is seen.
  const Keys labels{"date", "place", "depth", "wind", "sea", "remark"};
  trial.title = "Trial without a title";
  if (!file.has("trial")) return;
  Keys known{"title"};
  known.insert(known.end(), labels.begin(), labels.end());
  const Block block = file.block("trial", known);
  trial.title = block.text_or("title", trial.title);
  for (const std::string& label : labels) {
    if (!block.has(label)) continue;
    if (label == "depth") block.figure<Length<>>(label, shown(metre, "m"), above(0.0, 12000.0));
    if (label == "wind") block.figure<Speed<>>(label, shown(knot, "kn"), between(0.0, 100.0));
    trial.conditions.emplace_back(label, block.text(label, "text in quotes"));
  }
}

ReadWeight read_weight(const Block& block) {
  ReadWeight weight;
  weight.item.value.name = block.text("name", "text in quotes");
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
  constexpr auto standards =
      std::to_array<std::pair<std::string_view, PersonStandard>>({{"ISO 12217 adult", PersonStandard::iso_12217},
                                                                  {"ISO 12217 child", PersonStandard::iso_12217_child},
                                                                  {"46 CFR 170.090", PersonStandard::cfr_46_170}});
  ReadWeight people;
  WeightItem<>& item = people.item.value;
  item.name = block.text("name", "text in quotes");
  const int count = block.count("count", 0, 1000);
  Figure<Mass<>> each;
  if (block.has("each") == block.has("standard"))
    throw block.refusal("each", block.has("each") ? "given, and standard too" : "not set",
                        "either each, as \"85 kg\", or standard, as \"ISO 12217 adult\"");
  if (block.has("each")) {
    each = block.figure<Mass<>>("each", shown(kilogram, "kg"), between(0.0, 500.0));
    people.basis = fmt::format("{} x {}", count, block.text("each", ""));
  } else {
    const PersonStandard standard = block.choice("standard", standards);
    each.value = person_mass(standard);
    people.nominal_place = place_of_standard(standard);
    people.basis = fmt::format("{} x {} kg, {}", count, plain_number(in(each.value, kilogram)), words(standard));
  }
  item.mass = static_cast<double>(count) * each.value;
  block.fill(people.item);
  // Each was read for himself: independent, so the last places add as squares.
  people.item.last_place.mass = std::sqrt(static_cast<double>(count)) * each.last_place;
  return people;
}

ReadTank read_tank(const Block& block) {
  struct Contents {
    Density<> density, place;  // standard density and the last place to show of it
    bool fuel;
  };
  constexpr Density<> one = kilogram_per_cubic_metre, tenth = 0.1 * kilogram_per_cubic_metre;
  const Temperature<> standard = celsius(15.0);
  const auto known = std::to_array<std::pair<std::string_view, Contents>>(
      {{"diesel", {diesel().reference_density, one, true}},
       {"petrol", {petrol().reference_density, one, true}},
       {"fresh water", {fresh_water(standard).density, tenth, false}},
       {"sea water", {sea_water(standard).density, tenth, false}},
       {"other", {unset, one, false}}});
  ReadTank tank;
  tank.tank.value.name = block.text("name", "text in quotes");
  const Contents contents = block.choice("contents", known);
  tank.contents = block.text("contents", "");
  tank.holds_fuel = contents.fuel;
  tank.tank.value.contents = contents.density;
  block.fill(tank.tank);
  if (!block.has("density")) tank.tank.last_place.contents = contents.place;
  return tank;
}

void read_water(const File& file, TrialFile& trial) {
  const double standard_temperature = 15.0;
  trial.water = sea_water(celsius(standard_temperature));
  trial.water_words = "standard sea water at 15 C (assumed: the file names none)";
  if (!file.has("water")) return;
  enum class Kind { sea, fresh };
  constexpr auto kinds = std::to_array<std::pair<std::string_view, Kind>>({{"sea", Kind::sea}, {"fresh", Kind::fresh}});
  const Block block = file.block("water", {"kind", "temperature", "practical_salinity"});
  const Kind kind = block.has("kind") ? block.choice("kind", kinds) : Kind::sea;
  const bool temperature_known = block.has("temperature");
  const Temperature<> temperature =
      temperature_known ? block.figure<Temperature<>>("temperature", shown(kelvin, "K"), above(0.0, 1000.0)).value
                        : celsius(standard_temperature);
  const std::string at = temperature_known ? "at " + block.text("temperature", "") : "at 15 C (assumed)";
  if (kind == Kind::fresh) {
    if (block.has("practical_salinity")) throw block.refusal("practical_salinity", "no salinity with fresh water");
    trial.water = at_place(block.place_of("temperature"), block.name(), [&] { return fresh_water(temperature); });
    trial.water_words = "fresh water " + at;
    return;
  }
  Salinity<> salinity = standard_sea_salinity;
  std::string salinity_words = "standard salinity";
  if (block.has("practical_salinity")) {
    const double highest =
        in_practical_salinity(absolute_salinity(water_limits[static_cast<std::size_t>(WaterLimit::salinity)].high));
    const Figure<double> read = block.figure<double>("practical_salinity", plain_ratio, between(0.0, highest));
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
  const Block block = file.block("fuel", {"usable_fuel", "reserve"});
  trial.usable_fuel = block.figure<Volume<>>("usable_fuel", above_low(range_of(&RangeInput<>::usable_fuel)));
  trial.reserve = read_reserve(block, trial.reserve_volume);
  trial.fuel_place = block.place_of("usable_fuel");
}

void read_drive(const File& file, TrialFile& trial) {
  if (!file.has("drive")) return;
  const Block block = file.block("drive", keys_of<DriveTrain<>>());
  block.fill(trial.drive.emplace());
}

/// A choice of where on the real form something was taken, in words that say whether the file says so.
template <class E, std::size_t N>
std::string read_where(const Block& block, std::string_view key,
                       const std::array<std::pair<std::string_view, E>, N>& places, E& where) {
  if (!block.has(key)) return "taken as " + std::string(places[0].first);
  where = block.choice(key, places);
  return block.text(key, "");
}

void read_hull(const File& file, TrialFile& trial) {
  trial.hull.last_place = {.chine_beam = {}, .deadrise = {}, .projected_chine_length = {}};
  if (!file.has("hull")) return;
  constexpr auto beams = std::to_array<std::pair<std::string_view, BeamTaken>>(
      {{"maximum over chines", BeamTaken::maximum_over_chines},
       {"mean over chines", BeamTaken::mean_over_chines},
       {"in the stagnation area", BeamTaken::in_stagnation_area}});
  constexpr auto deadrises = std::to_array<std::pair<std::string_view, DeadriseTaken>>(
      {{"mid-chine", DeadriseTaken::mid_chine},
       {"transom", DeadriseTaken::transom},
       {"in the stagnation area", DeadriseTaken::in_stagnation_area}});
  const Block block = file.block("hull", keys_of<Hull<>>({"beam_taken", "deadrise_taken"}));
  block.fill(trial.hull, true);
  trial.beam_taken = read_where(block, "beam_taken", beams, trial.hull.value.beam_taken);
  trial.deadrise_taken = read_where(block, "deadrise_taken", deadrises, trial.hull.value.deadrise_taken);
}

/// A way to give the thrust line, and the keys of the field table that it needs; it takes no other.
struct ThrustWords {
  std::string_view words;
  ThrustReference reference;
  Keys needs;
};

void read_thrust_line(const Block& block, Entry<ThrustLine<>>& line) {
  const std::array<ThrustWords, 3> ways{
      ThrustWords{"by a point of the shaft",
                  ThrustReference::point,
                  {"thrust_inclination", "thrust_line_point_x", "thrust_line_point_z"}},
      ThrustWords{"by its distance below CG",
                  ThrustReference::distance_from_cg,
                  {"thrust_inclination", "thrust_line_below_cg"}},
      ThrustWords{"through CG, parallel to keel", ThrustReference::distance_from_cg, {}}};
  std::array<std::pair<std::string_view, const ThrustWords*>, 3> choices;
  for (std::size_t i = 0; i < ways.size(); ++i) choices[i] = {ways[i].words, &ways[i]};
  const ThrustWords& way = *block.choice("thrust_line", choices);
  for (const std::string& key : keys_of<ThrustLine<>>()) {
    const bool needed = std::find(way.needs.begin(), way.needs.end(), key) != way.needs.end();
    if (block.has(key) && !needed)
      throw block.refusal(key, fmt::format("not with thrust_line = \"{}\", which takes {}", way.words,
                                           way.needs.empty() ? "no key beside it" : joined(way.needs)));
    if (needed && !block.has(key)) throw block.refusal(key, fmt::format("needed with thrust_line = \"{}\"", way.words));
  }
  if (way.needs.empty()) line.value = through_cg_parallel_to_keel();
  line.value.reference = way.reference;
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
}

void read_prediction(const File& file, TrialFile& trial) {
  if (!file.has("prediction")) return;
  const Keys known = keys_of<AddedDrag<>>(keys_of<ThrustLine<>>({"lcg", "vcg", "thrust_line", "roughness_allowance"}));
  const Block block = file.block("prediction", known);
  ReadPrediction& prediction = trial.prediction.emplace();
  prediction.place = block.place();
  block.fill(prediction.centre, true);
  read_thrust_line(block, prediction.thrust_line);
  read_added_drag(block, prediction);
  prediction.roughness_allowance = {attc_standard_allowance, 0.0};
  if (block.has("roughness_allowance"))
    prediction.roughness_allowance.value =
        block.figure<double>("roughness_allowance", range_of(&PlaningInput<>::roughness_allowance)).value;
}

/// A pair as `out` and `back`, or more runs as a list `runs`.
std::vector<ReadRun> read_runs(const Block& block, const std::string& file) {
  const auto run = [](const Block& b, bool back) {
    return ReadRun{.back = back,
                   .ground_speed = b.figure<Speed<>>(back ? "back" : "out", range_of(&Run<>::ground_speed))};
  };
  const std::string forms = "either out and back, or runs = [{ out = \"27.1 kn\", time = \"0 min\" }, ...]";
  if (!block.has("runs")) return {run(block, false), run(block, true)};
  if (block.has("out") || block.has("back")) throw block.refusal("runs", "given, and out or back too", forms);
  const toml::array* list = block.node("runs").as_array();
  if (!list || list->empty() || !list->is_homogeneous<toml::table>()) throw block.refusal("runs", forms);
  std::vector<ReadRun> runs;
  for (const toml::node& item : *list) {
    const Block one(*item.as_table(), file, fmt::format("run {} of {}", runs.size() + 1, block.name()),
                    {"out", "back", "time"});
    if (one.has("out") == one.has("back")) throw one.refusal("out", "either out or back in each run");
    runs.push_back(run(one, one.has("back")));
    if (one.has("time")) runs.back().time = one.figure<Duration<>>("time", shown(second, "s"), between(0.0, 1e6)).value;
  }
  return runs;
}

ReadStep read_step(const Block& block, const std::string& file) {
  ReadStep step{.engine_speed = block.figure<RotationRate<>>("engine_speed", range_of(&ScrewSpeed<>::engine_speed)),
                .fuel_flow = block.figure<VolumeFlow<>>("fuel_flow", range_of(&RangeInput<>::fuel_flow)),
                .runs = read_runs(block, file),
                .planing = {},
                .place = block.place(),
                .block = block.name()};
  if (block.has("planing")) step.planing = block.yes_or_no("planing");
  return step;
}

/// The text of a file, or a FileError that says why not.
std::string file_text(const std::string& path) {
  std::error_code problem;
  const auto status = std::filesystem::status(path, problem);
  const std::string accepted = "; accepted: a trial file in TOML (--help says what it holds)";
  if (!std::filesystem::exists(status)) throw error_at({path}, "there is no such file" + accepted);
  if (std::filesystem::is_directory(status)) throw error_at({path}, "this is a directory" + accepted);
  std::ifstream stream(path, std::ios::binary);
  std::ostringstream text;
  if (!stream || !(text << stream.rdbuf() || stream.peek() == std::ifstream::traits_type::eof()))
    throw error_at({path}, "cannot be read" + accepted);
  return text.str();
}

toml::table parsed_file(const std::string& path) {
  try {
    return toml::parse(file_text(path), std::string_view(path));
  } catch (const toml::parse_error& e) {
    throw error_at({path, line_of(e.source())},
                   fmt::format("this line is not TOML: {}; accepted: key = \"value\", [block] or [[block]]",
                               std::string(e.description())));
  }
}

}  // namespace

TrialFile read_trial_file(const std::string& path) {
  const toml::table root = parsed_file(path);
  const File file(root, path);
  TrialFile trial;
  read_trial(file, trial);
  for (const Block& b : file.blocks("weight", keys_of<WeightItem<>>({"name"}), 1))
    trial.weights.push_back(read_weight(b));
  Keys people{"name", "count", "each", "standard", "x", "y", "z"};
  for (const Block& b : file.blocks("people", people, 1)) trial.weights.push_back(read_people(b));
  for (const Block& b : file.blocks("tank", keys_of<Tank<>>({"name", "contents"}), 1))
    trial.tanks.push_back(read_tank(b));
  read_water(file, trial);
  read_fuel(file, trial);
  read_drive(file, trial);
  read_hull(file, trial);
  read_prediction(file, trial);
  for (const Block& b : file.blocks("step", {"engine_speed", "fuel_flow", "out", "back", "runs", "planing"}, 1))
    trial.steps.push_back(read_step(b, path));
  return trial;
}

}  // namespace trial_page
