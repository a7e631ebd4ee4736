#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "page_sections.hpp"

namespace trial_page {

using namespace hardchine;

std::string Page::text() const {
  return title_section() + conditions_section() + load_section() + runs_section() + economy_section() +
         propeller_section() + cruise_section() + acceleration_section() + prediction_section() + trim_section() +
         power_section() + findings_section() + cautions_section() + digits_section();
}

std::string Page::title_section() const {
  std::string out = fmt::format("{}\n{}\n", trial_.title, std::string(width_of(trial_.title), '='));
  for (const auto& [label, words] : trial_.remarks) out += paragraph(words, fmt::format("{:<8}", label), "        ");
  return out + fmt::format("{:<8}{} units\n", "page", units_.name);
}

/// What a load line says beside its name.
std::string Page::basis_of(const LoadLine& line) const {
  if (!is_set(line.capacity.value)) return line.basis;
  const std::string filled =
      is_set(line.content.value) ? with_unit(line.content, units_.volume) : number(line.fill, percent) + " %";
  return fmt::format("{} of {}, {}", filled, with_unit(line.capacity, units_.volume), line.basis);
}

std::string Page::load_section() const {
  const Load& load = day_.load;
  const LoadLine total{.name = "displacement and centre",
                       .basis = "",
                       .capacity = {},
                       .fill = {},
                       .content = {},
                       .density = {},
                       .density_stated = false,
                       .mass = load.displacement,
                       .x = load.lcg,
                       .y = load.tcg,
                       .z = load.vcg};
  std::vector<LoadLine> lines = load.lines;
  lines.push_back(total);
  Column<Mass<>> mass(units_.mass.unit);
  Column<Length<>> x(units_.length.unit), y = x, z = x;
  for (const LoadLine& line : lines) {
    mass.add(line.mass);
    x.add(line.x);
    y.add(line.y);
    z.add(line.z);
  }
  const std::string m(units_.mass.symbol), l(units_.length.symbol);
  Table table({{"item", ""}, {"basis", ""}, {"mass", m}, {"x", l}, {"y", l}, {"z", l}}, 2);
  for (const LoadLine& line : lines)
    table.row({line.name, basis_of(line), mass(line.mass), x(line.x), y(line.y), z(line.z)});
  std::string out = heading("Load as tested") + table.text();
  std::string densities;
  for (const LoadLine& line : load.lines)
    if (is_set(line.density.value))
      densities += fmt::format("{}{} {} ({})", densities.empty() ? "" : "; ", line.name,
                               with_unit(line.density, units_.contents_density),
                               line.density_stated ? "as stated" : "standard at 15 C");
  out += paragraph("density of contents: " + densities);
  out += "x (LCG) forward of the transom, y (TCG) to starboard, z (VCG) above the keel\n";
  const Figure<Density<>> density{
      .value = trial_.water.density, .last_place = {}, .nominal_place = 0.1 * kilogram_per_cubic_metre};
  out += paragraph(fmt::format("water: {}, density {}; displaced volume {}", trial_.water_words,
                               with_unit(density, units_.density), with_unit(load.displaced_volume, units_.displaced)));
  for (const std::string_view flag : explain(trial_.water.flags, *trial_.water.method))
    out += paragraph("note on the water: " + std::string(flag));
  out += is_set(load.beam_load_coefficient.value)
             ? fmt::format("beam load coefficient {} on a chine beam of {}\n", number(load.beam_load_coefficient),
                           with_unit(figure(trial_.hull, &Hull<>::chine_beam), units_.length))
             : std::string("no beam load coefficient and no F_n by beam: the file gives no chine beam\n");
  return out + declared_line();
}

std::string Page::runs_section() const {
  const std::vector<StepColumn> ways{engine_column(), column("out", &Step::out, units_.speed),
                                     column("back", &Step::back, units_.speed)};
  std::vector<StepColumn> all = ways;
  all.push_back(speed_column());
  all.push_back(column("half-difference", &Step::apparent_current, units_.speed));
  all.push_back(column("F_nV", &Step::volume_froude_number, Named<double>{1.0, "volume"}));
  all.push_back(column("F_nB", &Step::beam_froude_number, Named<double>{1.0, "beam"}));
  all.push_back({"speed is the", "", [](const Step& step) { return step.averaging; }});
  Table table = table_of(all);
  for (const Step& step : day_.steps) {
    if (is_set(step.speed.value))
      table.row(cells(all, step));
    else
      table.row(cells(ways, step), "no speed: " + step.averaging);
  }
  std::string out = heading("Runs") + table.text();
  for (const Step& step : day_.steps) out += runs_line(step);
  out += paragraph(
      "out and back: over ground. speed: through the water. half-difference: the apparent current, "
      "positive where out is the faster way; it holds current, wind and whatever else differs.");
  for (const std::string& caution : day_.run_cautions) out += paragraph("note: " + caution);
  return out + hump_note();
}

/// The runs of a step one by one, where there are more than the table shows.
std::string Page::runs_line(const Step& step) const {
  if (step.runs.size() < 3) return {};
  std::string text;
  for (const ReadRun& run : step.runs)
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", run.back ? "back" : "out",
                        number(run.ground_speed, units_.speed.unit));
  return paragraph(fmt::format("{} rpm, runs as they were made, {}: {}", engine(step), units_.speed.symbol, text));
}

std::string Page::hump_note() const {
  const std::string near = engines([](const Step& step) { return step.near_hump; });
  if (near.empty()) return {};
  const std::string dip =
      day_.hump ? fmt::format(", or the dip of fuel economy at {} rpm", engine(day_.steps[*day_.hump])) : "";
  return paragraph(fmt::format(
      "note: near the hump (F_nV {} to {}{}) the same throttle gives different speeds with and against the wind, "
      "and averages of runs do not hold: publish each run. Here: {}",
      plain_number(trial_.limits.value.hump_from), plain_number(trial_.limits.value.hump_to), dip, near));
}

std::string Page::reserve_words() const {
  if (trial_.reserve->kind() == ReserveKind::volume)
    return with_unit(trial_.reserve_volume, units_.volume) + " held back";
  return words(*trial_.reserve);
}

std::string Page::economy_section() const {
  std::vector<StepColumn> columns{engine_column(),
                                  speed_column(),
                                  column("fuel flow", &Step::fuel_flow, units_.flow),
                                  column("nautical", &Step::distance_per_volume, nautical_economy),
                                  column("statute", &Step::distance_per_volume, statute_economy),
                                  column("litres", &Step::volume_per_distance, litres_a_mile)};
  if (system_ == UnitSystem::metric)
    columns.push_back(column("litres", &Step::volume_per_distance, litres_a_kilometre));
  columns.push_back(column("range", &Step::range, units_.distance));
  columns.push_back(column("endurance", &Step::endurance, in_hours));
  std::string out = heading("Fuel, all engines together") + table_text(columns);
  out += paragraph(fmt::format("range and endurance on {} usable fuel of {} capacity, reserve: {}",
                               with_unit(trial_.usable_fuel, units_.volume),
                               with_unit(day_.fuel_capacity, units_.volume), reserve_words()));
  const auto no_range = std::find_if(day_.steps.begin(), day_.steps.end(), [](const Step& step) {
    return is_set(step.speed.value) && step.range_outcome != RangeOutcome::found;
  });
  if (no_range != day_.steps.end()) out += paragraph(words(no_range->range_outcome));
  return out + stated_ranges() + co2_part();
}

std::string Page::propeller_section() const {
  std::string out = heading("Propeller");
  if (!trial_.drive) return out + "no theoretical speed and no slip: the file has no [drive] block\n";
  out += table_text({engine_column(), speed_column(),
                     column("theoretical", &Step::theoretical_speed, units_.speed, of_pitch),
                     column("apparent slip", &Step::apparent_slip, in_percent, of_pitch)});
  const Entry<DriveTrain<>>& drive = *trial_.drive;
  out += fmt::format("theoretical: zero slip on a pitch of {} and {} engine turns for one of the propeller\n",
                     with_unit(figure(drive, &DriveTrain<>::pitch), units_.pitch),
                     number(figure(drive, &DriveTrain<>::reduction_ratio)));
  if (is_set(drive.value.rated_engine_speed) || is_set(drive.value.rated_power)) {
    out += fmt::format("{} drive line{}", drive.value.lines, drive.value.lines == 1 ? "" : "s");
    if (is_set(drive.value.rated_engine_speed))
      out += ", rated at " + with_unit(figure(drive, &DriveTrain<>::rated_engine_speed), in_rpm);
    if (is_set(drive.value.rated_power))
      out += fmt::format(", {} each", with_unit(figure(drive, &DriveTrain<>::rated_power), units_.power));
    out += "\n";
  }
  return out;
}

/// The economy of a step in the units that readers of this page compare.
std::string Page::economy_words(const Step& step) const {
  const auto per_volume = [&](const Named<DistancePerVolume<>>& unit) {
    return column("", &Step::distance_per_volume, unit).cell(step) + " " + std::string(unit.symbol);
  };
  const auto per_distance = [&](const Named<VolumePerDistance<>>& unit) {
    return column("", &Step::volume_per_distance, unit).cell(step) + " " + std::string(unit.symbol);
  };
  switch (system_) {
    case UnitSystem::us:
      return per_volume(statute_economy) + ", " + per_volume(nautical_economy);
    case UnitSystem::nautical:
      return per_distance(litres_a_mile) + ", " + per_volume(nautical_economy);
    case UnitSystem::metric:
      break;
  }
  return per_distance(litres_a_kilometre) + ", " + per_distance(litres_a_mile);
}

std::string Page::cruise_line(std::string_view what, const std::optional<std::size_t>& index) const {
  if (!index) {
    const bool single = day_.steps.size() == 1;
    return fmt::format("{:<28}none: {}\n", what, single ? "one step only, nothing to compare" : "no step is planing");
  }
  const Step& step = day_.steps[*index];
  return fmt::format("{:<28}{} {} at {} rpm, {} {}, {}\n", what, speed_column().cell(step), units_.speed.symbol,
                     engine(step), column("", &Step::fuel_flow, units_.flow).cell(step), units_.flow.symbol,
                     economy_words(step));
}

std::string Page::cruise_section() const {
  std::string out = heading("Cruise");
  out += cruise_line("best economy, planing", day_.cruise.best);
  out += cruise_line(fmt::format("fastest within {} % of it", plain_number(day_.cruise.margin / percent)),
                     day_.cruise.fastest_within);
  out += day_.cruise.top_speed ? cruise_line("top speed", day_.cruise.top_speed)
                               : std::string("no top speed: no step has a speed\n");
  const std::string observed = engines([](const Step& step) { return step.planing_observed; });
  const std::string planing = engines([](const Step& step) { return step.planing; });
  return out + paragraph(fmt::format("planing: {}volume Froude number {} or more and faster than the hump, the dip of "
                                     "fuel economy over speed, where there is one; planing here: {}",
                                     observed.empty() ? "" : "as observed at " + observed + "; elsewhere ",
                                     plain_number(day_.planing_rule.least_volume_froude_number),
                                     planing.empty() ? "none" : planing));
}

/// Appendages and air of the prediction, in words.
std::string Page::added_drag_words() const {
  const ReadPrediction& p = *trial_.prediction;
  const Entry<AddedDrag<>>& added = p.added_drag;
  if (!p.appendages_stated && !p.air_stated) return "no appendages or air stated: total = bare, ";
  std::string out = p.appendages_stated ? fmt::format("appendages {} % of the bare drag, ",
                                                      number(figure(added, &AddedDrag<>::appendage_fraction), percent))
                                        : std::string("no appendages stated, ");
  if (!p.air_stated) return out + "no air drag stated, ";
  out += fmt::format("still air on {} at a coefficient of {}, ",
                     with_unit(figure(added, &AddedDrag<>::frontal_area), units_.area),
                     number(figure(added, &AddedDrag<>::air_drag_coefficient)));
  Figure<Density<>> density = figure(added, &AddedDrag<>::air_density);
  density.nominal_place = 0.001 * kilogram_per_cubic_metre;  // of the standard one
  const bool of_the_day = !p.air_density_stated && is_set(day_.air_density.value);
  return out + fmt::format("air density {} ({}), ", with_unit(of_the_day ? day_.air_density : density, units_.density),
                           of_the_day             ? "of the day"
                           : p.air_density_stated ? "as stated"
                                                  : "standard");
}

std::string Page::thrust_words() const {
  const Entry<ThrustLine<>>& line = trial_.prediction->thrust_line;
  const std::string inclination = with_unit(figure(line, &ThrustLine<>::inclination), in_degrees);
  if (line.value.reference == ThrustReference::point)
    return fmt::format("thrust {} to the keel through x {}, z {}, ", inclination,
                       with_unit(figure(line, &ThrustLine<>::x), units_.length),
                       with_unit(figure(line, &ThrustLine<>::z), units_.length));
  if (line.value.inclination == Angle<>{} && line.value.distance_below_cg == Length<>{})
    return "thrust through CG, parallel to the keel, ";
  return fmt::format("thrust {} to the keel, {} below CG, ", inclination,
                     with_unit(figure(line, &ThrustLine<>::distance_below_cg), units_.length));
}

/// The inputs of the prediction beyond speed, beam and load.
std::string Page::prediction_inputs() const {
  const ReadPrediction& p = *trial_.prediction;
  std::string out = fmt::format("chine beam {} ({}), deadrise {} ({}), projected chine length {}, ",
                                with_unit(figure(trial_.hull, &Hull<>::chine_beam), units_.length), trial_.beam_taken,
                                with_unit(figure(trial_.hull, &Hull<>::deadrise), in_degrees), trial_.deadrise_taken,
                                with_unit(figure(trial_.hull, &Hull<>::projected_chine_length), units_.length));
  const auto centre = [&](std::string_view name, Length<> Loading<>::*member) {
    const Figure<Length<>> stated = figure(p.centre, member);
    return is_set(stated.value) ? fmt::format("{} {} as stated, ", name, with_unit(stated, units_.length))
                                : fmt::format("{} as rolled up, ", name);
  };
  out += centre("LCG", &Loading<>::lcg) + centre("VCG", &Loading<>::vcg) + thrust_words() + added_drag_words();
  return out + "roughness allowance " + number(p.roughness_allowance);
}

std::string Page::prediction_section() const {
  std::string out = heading("Calm-water prediction at the measured speeds");
  if (!day_.no_prediction.empty()) return out + "no prediction: " + day_.no_prediction + "\n";
  const std::vector<StepColumn> point{engine_column(), speed_column()};
  Notes notes;
  const StepColumn wetted_chine = column("wetted chine", &Predicted::wetted_chine, units_.length, of_method);
  std::vector<StepColumn> all = point;
  all.push_back(column("trim", &Predicted::trim, in_degrees, of_trim));
  all.push_back(column("wetted keel", &Predicted::wetted_keel, units_.length, of_method));
  all.push_back({wetted_chine.heading, wetted_chine.unit, [&](const Step& step) {
                   return step.predicted->wetted_chine.value <= Length<>{} ? "dry" : wetted_chine.cell(step);
                 }});
  all.push_back(column("bare drag", &Predicted::bare_drag, units_.force, of_method));
  all.push_back(column("total drag", &Predicted::total_drag, units_.force, of_method));
  all.push_back(column("eff. power", &Predicted::effective_power, units_.power, of_method));
  all.push_back({"validity", "see below", [&](const Step& step) {
                   const std::vector<std::string>& cautions = step.predicted->cautions;
                   return cautions.empty() ? "within ranges" : notes.numbers(cautions);
                 }});
  Table table = table_of(all);
  for (const Step& step : day_.steps) {
    if (!step.predicted) continue;
    if (step.predicted->instead.empty())
      table.row(cells(all, step));
    else
      table.row(cells(point, step), "no figures: " + step.predicted->instead);
  }
  out += table.text() + notes.text();
  out += paragraph("method: " + day_.prediction_method);
  out += paragraph("with " + prediction_inputs());
  out += paragraph(
      "wetted keel and chine: lengths forward of the transom. effective power: total drag times speed. "
      "\"within ranges\": no published limit of the method is passed.");
  return out;
}

std::string Page::cautions_section() const {
  const std::array cautions{
      std::string("Trial and prediction hold for calm deep water, a clean bottom and the load as tested; waves, wind, "
                  "fouling, shallow water, heat and more load change every figure."),
      fmt::format(
          "Range is a comparison, not a passage plan: still water, constant load, reserve of usable fuel as named "
          "({}). Carry what the trip, the weather and the local rules ask for.",
          reserve_words()),
      std::string("Speed trials hurt people: wear the kill cord and life-jackets, keep a lookout, keep clear of "
                  "other craft and shallows, stop at the first porpoising or chine walking, obey local speed rules, "
                  "and stay within the craft's capacity plate and loading limits."),
      std::string("The prediction is a semi-empirical estimate and no measurement. It does not replace local codes "
                  "or the judgement of a licensed naval architect, surveyor or skipper.")};
  std::string out = heading("Cautions");
  for (const std::string& caution : cautions) out += paragraph(caution, "- ", "  ");
  return out;
}

std::string Page::digits_section() const {
  return heading("Digits") +
         paragraph(
             "A figure is printed to the power of ten nearest to its last place. The last written places of the "
             "inputs are carried through each formula (root sum of squares); a column keeps one decimal place, that "
             "of its finest figure, unless the last place of another is more than five of it. So a change of unit "
             "keeps the number of digits, but for one more where a number passes a power of ten. Pitch, reduction "
             "ratio, densities, standard masses of persons, a reserve by volume, air drag coefficient and allowance "
             "count as exact in this reckoning: theoretical speed and slip, which stand on the stamped pitch, show "
             "three digits at most and may be less sure than that. So do predictions, trim to a tenth of a degree.");
}

std::string page(const TrialFile& trial, const ReducedDay& day, UnitSystem system) {
  return Page(trial, day, system).text();
}

}  // namespace trial_page
