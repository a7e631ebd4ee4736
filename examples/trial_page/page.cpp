#include "page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace trial_page {

using namespace hardchine;

namespace {

constexpr std::size_t page_width = 100;

/// A unit with its symbol.
template <class Q>
struct Named {
  Q unit;
  std::string_view symbol;
};

/// What a page is printed in.
struct Units {
  std::string_view name;
  Named<Speed<>> speed;
  Named<Length<>> distance, length;
  Named<Mass<>> mass;
  Named<Volume<>> volume, displaced;
  Named<VolumeFlow<>> flow;
  Named<Force<>> force;
  Named<Power<>> power;
};

constexpr Volume<> cubic_foot = foot * foot * foot;

Units units_of(UnitSystem system) {
  Units units{.name = "nautical",
              .speed = {knot, "kn"},
              .distance = {nautical_mile, "nmi"},
              .length = {metre, "m"},
              .mass = {kilogram, "kg"},
              .volume = {litre, "L"},
              .displaced = {cubic_metre, "m3"},
              .flow = {litre_per_hour, "L/h"},
              .force = {kilonewton, "kN"},
              .power = {kilowatt, "kW"}};
  if (system == UnitSystem::metric) {
    units.name = "metric";
    units.speed = {kilometre_per_hour, "km/h"};
    units.distance = {kilometre, "km"};
  } else if (system == UnitSystem::us) {
    units = {.name = "US",
             .speed = {mph, "mph"},
             .distance = {statute_mile, "mi"},
             .length = {foot, "ft"},
             .mass = {pound_mass, "lb"},
             .volume = {us_gallon, "US gal"},
             .displaced = {cubic_foot, "ft3"},
             .flow = {us_gallon_per_hour, "US gal/h"},
             .force = {pound_force, "lbf"},
             .power = {horsepower, "hp"}};
  }
  return units;
}

/// A figure in a named unit, the symbol after it.
template <class Q>
std::string with_unit(const Figure<Q>& figure, const Named<Q>& named) {
  return fmt::format("{} {}", number(figure, named.unit), named.symbol);
}

/// How many columns a text takes, one a code point of UTF-8.
std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// Words broken into lines that start with `indent`, the first with `start`.
std::string paragraph(std::string_view words, std::string_view start = "", std::string_view indent = "") {
  std::string text, line(start);
  bool empty = true;
  while (!words.empty()) {
    const std::string_view word = words.substr(0, words.find(' '));
    words.remove_prefix(std::min(word.size() + 1, words.size()));
    if (!empty && width_of(line) + 1 + width_of(word) > page_width) {
      text += line + "\n";
      line = indent;
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  return text + line + "\n";
}

std::string heading(std::string_view words) { return fmt::format("\n{}\n{}\n", words, std::string(words.size(), '-')); }

/// A table of text: the first columns to the left, figures lined up at their decimal point.
class Table {
 public:
  /// @param columns a heading and what stands under it (a unit)
  /// @param left how many columns from the left hold words
  Table(std::vector<std::array<std::string, 2>> columns, std::size_t left)
      : columns_(std::move(columns)), left_(left) {}

  /// A row; with fewer cells than columns, `tail` follows in words.
  void row(std::vector<std::string> cells, std::string tail = "") {
    rows_.push_back({std::move(cells), std::move(tail)});
  }

  std::string text() const {
    std::string out;
    const std::size_t n = columns_.size();
    std::vector<std::size_t> width(n, 0), decimals(n, 0);
    for (std::size_t c = left_; c < n; ++c)
      for (const Row& r : rows_)
        if (c < r.cells.size()) decimals[c] = std::max(decimals[c], decimals_of(r.cells[c]));
    for (std::size_t c = 0; c < n; ++c) {
      width[c] = std::max(columns_[c][0].size(), columns_[c][1].size());
      for (const Row& r : rows_)
        if (c < r.cells.size()) width[c] = std::max(width[c], width_of(lined_up(r.cells[c], c, decimals[c])));
    }
    for (const std::size_t line : {0U, 1U}) {
      std::string text;
      for (std::size_t c = 0; c < n; ++c) text += padded(columns_[c][line], c, width[c]);
      out += stripped(text) + "\n";
    }
    for (const Row& r : rows_) {
      std::string text;
      for (std::size_t c = 0; c < r.cells.size(); ++c)
        text += padded(lined_up(r.cells[c], c, decimals[c]), c, width[c]);
      out +=
          r.tail.empty() ? stripped(text) + "\n" : paragraph(r.tail, text + "  ", std::string(width_of(text) + 2, ' '));
    }
    return out;
  }

 private:
  struct Row {
    std::vector<std::string> cells;
    std::string tail;
  };

  static bool is_number(const std::string& cell) {
    return !cell.empty() && cell.find_first_not_of("-0123456789.") == std::string::npos && cell != "-";
  }
  /// The length of the decimal point and what follows.
  static std::size_t decimals_of(const std::string& cell) {
    const auto point = is_number(cell) ? cell.find('.') : std::string::npos;
    return point == std::string::npos ? 0 : cell.size() - point;
  }
  std::string lined_up(const std::string& cell, std::size_t column, std::size_t decimals) const {
    if (column < left_ || !is_number(cell)) return cell;
    return cell + std::string(decimals - decimals_of(cell), ' ');
  }
  std::string padded(const std::string& cell, std::size_t column, std::size_t width) const {
    const std::string gap = column == 0 ? "" : "  ";
    return column < left_ ? fmt::format("{}{:<{}}", gap, cell, width) : fmt::format("{}{:>{}}", gap, cell, width);
  }
  static std::string stripped(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line;
  }

  std::vector<std::array<std::string, 2>> columns_;
  std::size_t left_;
  std::vector<Row> rows_;
};

std::string title_section(const TrialFile& trial, const Units& units) {
  std::string out = fmt::format("{}\n{}\n", trial.title, std::string(width_of(trial.title), '='));
  for (const auto& [label, words] : trial.conditions) out += paragraph(words, fmt::format("{:<8}", label), "        ");
  return out + fmt::format("{:<8}{} units\n", "page", units.name);
}

/// What a load line says beside its name.
std::string basis_of(const LoadLine& line, const Units& units) {
  if (!is_set(line.fill.value)) return line.basis;
  return fmt::format("{} % of {}, {}", number(line.fill, percent), with_unit(line.capacity, units.volume), line.basis);
}

std::string load_section(const TrialFile& trial, const ReducedDay& day, const Units& units) {
  const std::string m(units.mass.symbol), l(units.length.symbol);
  const auto at = [&](const Figure<Length<>>& f) { return number(f, units.length.unit); };
  Table table({{"item", ""}, {"basis", ""}, {"mass", m}, {"x", l}, {"y", l}, {"z", l}}, 2);
  for (const LoadLine& line : day.load.lines)
    table.row(
        {line.name, basis_of(line, units), number(line.mass, units.mass.unit), at(line.x), at(line.y), at(line.z)});
  const Load& load = day.load;
  table.row({"test displacement, LCG, TCG, VCG", "", number(load.displacement, units.mass.unit), at(load.lcg),
             at(load.tcg), at(load.vcg)});
  std::string out = heading("Load as tested") + table.text();
  out += "x forward of the transom, y to starboard, z above the keel\n";
  out += paragraph(fmt::format("water: {}, density {} kg/m3; displaced volume {}", trial.water_words,
                               fixed(in(trial.water.density, kilogram_per_cubic_metre), 1),
                               with_unit(load.displaced_volume, units.displaced)));
  out += is_set(load.beam_load_coefficient.value)
             ? fmt::format("beam load coefficient {} on a chine beam of {}\n", number(load.beam_load_coefficient),
                           with_unit(figure(trial.hull, &Hull<>::chine_beam), units.length))
             : std::string("no beam load coefficient and no F_n by beam: the file gives no chine beam\n");
  return out;
}

std::string engine(const Step& step) { return number(step.engine_speed, rpm); }

std::string runs_section(const ReducedDay& day, const Units& units) {
  const std::string v(units.speed.symbol);
  const auto speed = [&](const Figure<Speed<>>& f) { return number(f, units.speed.unit); };
  Table table({{"engine", "rpm"},
               {"out", v},
               {"back", v},
               {"speed", v},
               {"half-difference", v},
               {"F_nV", "volume"},
               {"F_nB", "beam"},
               {"speed is the", ""}},
              0);
  for (const Step& step : day.steps) {
    const std::vector<std::string> ways{engine(step), speed(step.out), speed(step.back)};
    if (!is_set(step.speed.value)) {
      table.row(ways, "no speed: " + step.averaging);
      continue;
    }
    std::vector<std::string> cells = ways;
    for (const std::string& cell : {speed(step.speed), speed(step.apparent_current), number(step.volume_froude_number),
                                    number(step.beam_froude_number), step.averaging})
      cells.push_back(cell);
    table.row(cells);
  }
  std::string out = heading("Runs") + table.text();
  out += paragraph(
      "out and back: over ground. speed: through the water. half-difference: the apparent current, "
      "positive where out is the faster way; it holds current, wind and whatever else differs.");
  for (const std::string& caution : day.run_cautions) out += paragraph("note: " + caution);
  return out;
}

std::string reserve_words(const TrialFile& trial, const Units& units) {
  return words(*trial.reserve, units.volume.unit, units.volume.symbol);
}

std::string economy_section(const TrialFile& trial, const ReducedDay& day, const Units& units) {
  Table table({{"engine", "rpm"},
               {"speed", std::string(units.speed.symbol)},
               {"fuel flow", std::string(units.flow.symbol)},
               {"nautical", "nmi/US gal"},
               {"statute", "mi/US gal"},
               {"litres", "L/nmi"},
               {"range", std::string(units.distance.symbol)},
               {"endurance", "h"}},
              0);
  std::string_view no_range;
  for (const Step& step : day.steps) {
    if (!is_set(step.speed.value)) continue;
    std::vector<std::string> cells{engine(step),
                                   number(step.speed, units.speed.unit),
                                   number(step.fuel_flow, units.flow.unit),
                                   number(step.distance_per_volume, nautical_mile_per_us_gallon),
                                   number(step.distance_per_volume, statute_mile_per_us_gallon),
                                   number(step.volume_per_distance, litre_per_nautical_mile)};
    if (step.range_outcome != RangeOutcome::found) no_range = words(step.range_outcome);
    cells.push_back(number(step.range, units.distance.unit));
    cells.push_back(number(step.endurance, hour));
    table.row(cells);
  }
  std::string out = heading("Fuel, all engines together") + table.text();
  out += paragraph(fmt::format("range and endurance on {} usable fuel of {} capacity, reserve: {}",
                               with_unit(trial.usable_fuel, units.volume), with_unit(day.fuel_capacity, units.volume),
                               reserve_words(trial, units)));
  return no_range.empty() ? out : out + paragraph(no_range);
}

std::string propeller_section(const TrialFile& trial, const ReducedDay& day, const Units& units) {
  std::string out = heading("Propeller");
  if (!trial.drive) return out + "no theoretical speed and no slip: the file has no [drive] block\n";
  const std::string v(units.speed.symbol);
  Table table({{"engine", "rpm"}, {"speed", v}, {"theoretical", v}, {"apparent slip", "%"}}, 0);
  for (const Step& step : day.steps) {
    if (!is_set(step.speed.value)) continue;
    table.row({engine(step), number(step.speed, units.speed.unit), number(step.theoretical_speed, units.speed.unit),
               number(step.apparent_slip, percent)});
  }
  const DriveTrain<>& drive = trial.drive->value;
  out += table.text();
  out += fmt::format("theoretical: zero slip on a pitch of {} in and {} engine turns for one of the propeller\n",
                     plain_number(in(drive.pitch, inch)), plain_number(drive.reduction_ratio));
  if (is_set(drive.rated_engine_speed) || is_set(drive.rated_power)) {
    out += fmt::format("{} drive line{}", drive.lines, drive.lines == 1 ? "" : "s");
    if (is_set(drive.rated_engine_speed))
      out += fmt::format(", rated at {} rpm", plain_number(in(drive.rated_engine_speed, rpm)));
    if (is_set(drive.rated_power))
      out += fmt::format(", {} each", with_unit(figure(*trial.drive, &DriveTrain<>::rated_power), units.power));
    out += "\n";
  }
  return out;
}

std::string cruise_line(std::string_view what, const ReducedDay& day, const std::optional<std::size_t>& index,
                        const Units& units) {
  if (!index) return fmt::format("{:<28}none: no step is planing\n", what);
  const Step& step = day.steps[*index];
  return fmt::format("{:<28}{} at {} rpm, {}, {} L/nmi\n", what, with_unit(step.speed, units.speed), engine(step),
                     with_unit(step.fuel_flow, units.flow), number(step.volume_per_distance, litre_per_nautical_mile));
}

std::string cruise_section(const ReducedDay& day, const Units& units) {
  std::string out = heading("Cruise");
  const std::string within = fmt::format("fastest within {} % of it", plain_number(day.cruise.margin / percent));
  out += cruise_line("best economy, planing", day, day.cruise.best, units);
  out += cruise_line(within, day, day.cruise.fastest_within, units);
  out += day.cruise.top_speed ? cruise_line("top speed", day, day.cruise.top_speed, units)
                              : std::string("no top speed: no step has a speed\n");
  std::string planing;
  for (const Step& step : day.steps)
    if (step.planing) planing += (planing.empty() ? "" : ", ") + engine(step);
  out += paragraph(words(day.planing_rule) + "; planing here: " + (planing.empty() ? "none" : planing + " rpm"));
  return out;
}

/// Sentences numbered in the order of their first use.
class Notes {
 public:
  std::string numbers(const std::vector<std::string>& sentences) {
    std::string text;
    for (const std::string& sentence : sentences)
      text += fmt::format("{}{}", text.empty() ? "" : ",", number_of(sentence));
    return text;
  }
  std::string text() const {
    std::string out;
    for (std::size_t i = 0; i < sentences_.size(); ++i)
      out += paragraph(sentences_[i], fmt::format("{:>3}: ", i + 1), "     ");
    return out;
  }

 private:
  std::size_t number_of(const std::string& sentence) {
    const auto at = std::find(sentences_.begin(), sentences_.end(), sentence);
    if (at != sentences_.end()) return static_cast<std::size_t>(at - sentences_.begin()) + 1;
    sentences_.push_back(sentence);
    return sentences_.size();
  }
  std::vector<std::string> sentences_;
};

/// The inputs of the prediction beyond speed, beam and load.
std::string prediction_inputs(const TrialFile& trial, const Units& units) {
  const ReadPrediction& p = *trial.prediction;
  std::string out = fmt::format("chine beam {} ({}), deadrise {} deg ({}), projected chine length {}, ",
                                with_unit(figure(trial.hull, &Hull<>::chine_beam), units.length), trial.beam_taken,
                                number(figure(trial.hull, &Hull<>::deadrise), degree), trial.deadrise_taken,
                                with_unit(figure(trial.hull, &Hull<>::projected_chine_length), units.length));
  const auto origin = [](const Length<>& stated) { return is_set(stated) ? "as stated" : "as rolled up"; };
  out += fmt::format("LCG {}, VCG {}, ", origin(p.centre.value.lcg), origin(p.centre.value.vcg));
  const ThrustLine<>& line = p.thrust_line.value;
  const std::string inclination = number(figure(p.thrust_line, &ThrustLine<>::inclination), degree);
  if (line.reference == ThrustReference::point)
    out += fmt::format("thrust {} deg to the keel through x {}, z {}, ", inclination,
                       with_unit(figure(p.thrust_line, &ThrustLine<>::x), units.length),
                       with_unit(figure(p.thrust_line, &ThrustLine<>::z), units.length));
  else if (line.inclination == Angle<>{} && line.distance_below_cg == Length<>{})
    out += "thrust through CG, parallel to the keel, ";
  else
    out += fmt::format("thrust {} deg to the keel, {} below CG, ", inclination,
                       with_unit(figure(p.thrust_line, &ThrustLine<>::distance_below_cg), units.length));
  const AddedDrag<>& added = p.added_drag.value;
  out += added.appendage_fraction > 0.0
             ? fmt::format("appendages {} % of the bare drag, ", plain_number(added.appendage_fraction / percent))
             : "no appendages, ";
  out += added.air_drag_coefficient > 0.0 && added.frontal_area > Area<>{}
             ? fmt::format("still air on {} m2 at a coefficient of {}, ",
                           plain_number(in(added.frontal_area, square_metre)), plain_number(added.air_drag_coefficient))
             : "no air drag, ";
  return out + fmt::format("roughness allowance {}", plain_number(p.roughness_allowance.value));
}

std::string prediction_section(const TrialFile& trial, const ReducedDay& day, const Units& units) {
  std::string out = heading("Calm-water prediction at the measured speeds");
  if (!day.no_prediction.empty()) return out + "no prediction: " + day.no_prediction + "\n";
  const std::string l(units.length.symbol), f(units.force.symbol);
  // The method is not good for more than three digits, nor for less than a tenth of a degree, whatever went in.
  constexpr Print of_method{.most_digits = 3}, of_trim{.most_digits = 3, .finest_place = -1};
  Table table({{"engine", "rpm"},
               {"speed", std::string(units.speed.symbol)},
               {"trim", "deg"},
               {"wetted keel", l},
               {"wetted chine", l},
               {"bare drag", f},
               {"total drag", f},
               {"eff. power", std::string(units.power.symbol)},
               {"validity", "see below"}},
              0);
  Notes notes;
  for (const Step& step : day.steps) {
    if (!step.predicted) continue;
    const Predicted& p = *step.predicted;
    const std::string speed = number(step.speed, units.speed.unit);
    if (!p.instead.empty()) {
      table.row({engine(step), speed}, "no figures: " + p.instead);
      continue;
    }
    const auto length = [&](const Figure<Length<>>& x) { return number(x, units.length.unit, of_method); };
    const bool dry = p.wetted_chine.value <= Length<>{};
    table.row({engine(step), speed, number(p.trim, degree, of_trim), length(p.wetted_keel),
               dry ? "dry" : length(p.wetted_chine), number(p.bare_drag, units.force.unit, of_method),
               number(p.total_drag, units.force.unit, of_method),
               number(p.effective_power, units.power.unit, of_method),
               p.cautions.empty() ? "within ranges" : notes.numbers(p.cautions)});
  }
  out += table.text() + notes.text();
  out += paragraph("method: " + day.prediction_method);
  out += paragraph("with " + prediction_inputs(trial, units));
  out += paragraph(
      "wetted keel and chine: lengths forward of the transom. effective power: total drag times speed. "
      "\"within ranges\": no published limit of the method is passed.");
  return out;
}

std::string cautions_section(const TrialFile& trial, const Units& units) {
  const std::array cautions{
      std::string("Trial and prediction hold for calm deep water, a clean bottom and the load as tested; waves, wind, "
                  "fouling, shallow water, heat and more load change every figure."),
      fmt::format(
          "Range is a comparison, not a passage plan: still water, constant load, reserve of usable fuel as named "
          "({}). Carry what the trip, the weather and the local rules ask for.",
          reserve_words(trial, units)),
      std::string("Speed trials hurt people: wear the kill cord and life-jackets, keep a lookout, keep clear of other "
                  "craft and shallows, stop at the first porpoising or chine walking, obey local speed rules, and stay "
                  "within the craft's capacity plate and loading limits."),
      std::string("The prediction is a semi-empirical estimate and no measurement. It does not replace local codes or "
                  "the judgement of a licensed naval architect, surveyor or skipper.")};
  std::string out = heading("Cautions");
  for (const std::string& caution : cautions) out += paragraph(caution, "- ", "  ");
  return out;
}

std::string digits_section() {
  return heading("Digits") +
         paragraph(
             "A figure shows no more digits than what it was made from: the last written places of the inputs "
             "are carried through each formula (root sum of squares), and a change of unit adds no digit. Pitch, "
             "reduction ratio, densities, standard masses of persons, air drag coefficient and allowance count "
             "as nominal, that is exact. Predictions show three digits at most, trim a tenth of a degree.");
}

}  // namespace

std::string page(const TrialFile& trial, const ReducedDay& day, UnitSystem system) {
  const Units units = units_of(system);
  return title_section(trial, units) + load_section(trial, day, units) + runs_section(day, units) +
         economy_section(trial, day, units) + propeller_section(trial, day, units) + cruise_section(day, units) +
         prediction_section(trial, day, units) + cautions_section(trial, units) + digits_section();
}

}  // namespace trial_page
