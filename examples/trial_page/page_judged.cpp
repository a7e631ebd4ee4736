#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "page_sections.hpp"

namespace trial_page {

using namespace hardchine;

namespace {

/// A temperature in the unit of the page.
std::string temperature_words(const Figure<Temperature<>>& t, bool fahrenheit) {
  const double place = in(t.last_place, kelvin);
  const Figure<double> shown{fahrenheit ? in(t.value, kelvin) * 1.8 - 459.67 : in_celsius(t.value),
                             fahrenheit ? place * 1.8 : place};
  return number(shown) + (fahrenheit ? " F" : " C");
}

/// "0.3 % above" or "0.3 % below".
std::string above_or_below(Figure<double> ratio) {
  const std::string side = ratio.value < 0.0 ? "below" : "above";
  ratio.value = std::abs(ratio.value);
  return fmt::format("{} % {}", number(ratio, percent), side);
}

std::string label(std::string_view name, std::string_view words) {
  return paragraph(words, fmt::format("{:<8}", name), "        ");
}

}  // namespace

// ------------------------------------------------------------------------------------------------------ conditions

/// What the depth means, step by step where it means something.
std::string Page::depth_words() const {
  const auto at = [&](DepthStatement statement) {
    return engines([&](const Step& s) { return is_set(s.depth_froude_number.value) && s.depth == statement; });
  };
  Figure<double> most{0.0, 0.0};
  for (const Step& step : day_.steps)
    if (step.depth_froude_number.value > most.value) most = step.depth_froude_number;
  std::string text = fmt::format("{}, depth Froude number at most {}",
                                 with_unit(trial_.conditions.depth, units_.length), number(most));
  if (at(DepthStatement::nearly_deep).empty() && at(DepthStatement::shallow).empty() &&
      at(DepthStatement::near_critical).empty() && at(DepthStatement::supercritical).empty())
    return text + ": deep water";
  for (const auto statement : {DepthStatement::deep, DepthStatement::nearly_deep, DepthStatement::shallow,
                               DepthStatement::near_critical, DepthStatement::supercritical})
    if (const std::string steps = at(statement); !steps.empty())
      text += fmt::format("; {} at {}", words(statement), steps);
  return text;
}

/// What the wind means; with an air drag area also what a pair of runs along it keeps at top speed.
std::string Page::wind_words() const {
  const Figure<Speed<>>& wind = trial_.conditions.wind;
  std::string text = with_unit(wind, units_.speed) + ": " + std::string(words(wind_condition(wind.value).statement));
  const Range head_winds = between(0.0, 50.0);
  if (!trial_.prediction || !trial_.prediction->air_stated || !day_.cruise.top_speed ||
      in(wind.value, knot) > head_winds.high)
    return text;
  const Figure<Speed<>>& speed = day_.steps[*day_.cruise.top_speed].speed;
  const auto excess = [&](const auto& v, const auto& w) {
    using T = std::remove_cvref_t<decltype(v.value())>;
    return air_drag_of_pair<T>({.speed = v, .head_wind = w, .added_drag = trial_.prediction->added_drag.value})
        .excess_ratio;
  };
  return text + fmt::format("; along the track it leaves {} % more air drag than still air in the mean of a pair at {}",
                            number(derive(excess, speed, wind), percent), with_unit(speed, units_.speed));
}

std::string Page::conditions_section() const {
  const ReadConditions& c = trial_.conditions;
  std::string out = heading("Conditions");
  const std::string none = "not stated: figures hold for what it was, and nobody can tell";
  out += label("depth", is_set(c.depth.value) ? depth_words() : none);
  out += label("wind", is_set(c.wind.value) ? wind_words() : none);
  out +=
      label("waves", is_set(c.wave_height.value) ? with_unit(c.wave_height, units_.length) + ": " +
                                                       std::string(words(sea_condition(c.wave_height.value).statement))
                                                 : none);
  out += label("water", trial_.water_words + "; drag and displaced volume go with it, see the load");
  if (!is_set(c.air_temperature.value)) return out + label("air", none);
  const Figure<double> off = derive(
      [](const auto& density) {
        using T = std::remove_cvref_t<decltype(density.value())>;
        const T ratio = density / widen<T>(standard_air_density);
        return ratio - 1.0;
      },
      day_.air_density);
  const std::string humidity = is_set(c.relative_humidity.value)
                                   ? fmt::format(", humidity {} %", number(c.relative_humidity, percent))
                                   : std::string(", taken as dry");
  out += label("air", fmt::format("{}, {}{}: density {}, {} standard; engine power is not corrected for it",
                                  temperature_words(c.air_temperature, system_ == UnitSystem::us),
                                  with_unit(c.air_pressure, units_.pressure), humidity,
                                  with_unit(day_.air_density, units_.density), above_or_below(off)));
  for (const std::string& caution : day_.air_cautions) out += label("", "note on the air: " + caution);
  return out;
}

/// Ranges as somebody stated them, with what this day gives at the same engine speed.
std::string Page::stated_ranges() const {
  std::string out;
  for (const ReadStatedRange& range : trial_.stated_ranges) {
    const Step& step = day_.steps[range.step];
    const std::string reserve = !range.reserve ? "no reserve named"
                                : range.reserve->kind() == ReserveKind::volume
                                    ? with_unit(range.reserve_volume, units_.volume) + " held back"
                                    : words(*range.reserve);
    out +=
        paragraph(fmt::format("stated by {}: {} at {} rpm, {}; here {}", range.name.empty() ? "somebody" : range.name,
                              with_unit(range.distance, units_.distance), engine(step), reserve,
                              is_set(step.range.value) ? with_unit(step.range, units_.distance) : "no range"));
  }
  return out;
}

std::string Page::declared_line() const {
  if (!trial_.declared) return {};
  return paragraph(fmt::format(
      "declared displacement {}{}: {} the roll-up", with_unit(trial_.declared->displacement, units_.mass),
      trial_.declared->how.empty() ? "" : " (" + trial_.declared->how + ")", above_or_below(day_.declared_difference)));
}

// ----------------------------------------------------------------------------------------------------- CO2, times

std::string Page::co2_part() const {
  if (trial_.co2_basis == Co2Basis::not_chosen) return "no CO2: [fuel] names no co2_basis\n";
  std::string out =
      "\n" + table_text({engine_column(), speed_column(), column("CO2", &Step::co2_per_time, units_.co2_flow),
                         column("CO2", &Step::co2_per_distance, units_.co2_distance)});
  out += paragraph(fmt::format("CO2 of the fuel burnt: {}", words(trial_.co2_basis)));
  for (const std::string& caution : day_.co2_cautions) out += paragraph("note on CO2: " + caution);
  return out;
}

std::string Page::acceleration_section() const {
  if (day_.accelerations.empty()) return {};
  Column<Speed<>> from(units_.speed.unit), to = from;
  Column<Duration<>> out_time(second), back_time = out_time, time = out_time;
  for (const ReducedAcceleration& a : day_.accelerations) {
    from.add(a.from);
    to.add(a.to);
    out_time.add(a.out_mean);
    back_time.add(a.back_mean);
    time.add(a.time);
  }
  const std::string v(units_.speed.symbol);
  Table table({{"from", v}, {"to", v}, {"out", "s"}, {"back", "s"}, {"both ways", "s"}, {"how", ""}}, 0);
  for (const ReducedAcceleration& a : day_.accelerations)
    table.row(
        {from(a.from), to(a.to), out_time(a.out_mean), back_time(a.back_mean), time(a.time)},
        fmt::format("{}; {}", a.start ? std::string(words(*a.start)) : "between two speeds",
                    is_set(a.time.value) ? fmt::format("{} runs", a.out + a.back) : std::string(words(a.outcome))));
  return heading("Timed acceleration, as noted") + table.text() +
         paragraph("times by different start rules are not comparable; wind and current are removed only both ways");
}

// -------------------------------------------------------------------------------------------------- trim and power

std::string Page::trim_section() const {
  const auto shown = [](const Step& s) {
    return is_set(s.trim.value) || !s.setting.empty() || s.porpoising.has_value();
  };
  if (std::none_of(day_.steps.begin(), day_.steps.end(), shown)) return {};
  Table table({{"engine", "rpm"},
               {"speed", std::string(units_.speed.symbol)},
               {"measured", "deg"},
               {"predicted", "deg"},
               {"limit", "deg"},
               {"margin", "deg"},
               {"porpoising; setting", ""}},
              0);
  const StepColumn speed = speed_column();
  bool any_porpoising = false, measured = false;
  for (const Step& step : day_.steps) {
    const auto angle = [](const Figure<Angle<>>& a) { return number(a, degree, of_trim); };
    std::vector<std::string> cells{
        engine(step), speed.cell(step), angle(step.trim), step.predicted ? angle(step.predicted->trim) : "-", "-", "-"};
    std::string said = step.no_porpoising;
    if (step.porpoising) {
      const Porpoising& p = *step.porpoising;
      cells[4] = angle(p.limit);
      cells[5] = angle(p.margin);
      said = fmt::format("{} ({})", words(p.outcome), words(p.bound));
      any_porpoising = true;
      measured = measured || p.on_measured_trim;
    }
    table.row(std::move(cells), step.setting.empty() ? said : said + "; " + step.setting);
  }
  std::string out = heading("Trim and porpoising") + table.text();
  if (!any_porpoising) return out;
  out += paragraph(fmt::format(
      "limit: trim at which porpoising begins by {}, a reading good to {} deg; margin: limit less the {} trim. A boat "
      "that porpoises can throw people out: slow down, trim down, move weight forward.",
      cite(porpoising_chart_method), plain_number(in(porpoising_reading_error, degree)),
      measured ? "measured trim where there is one, else less the predicted" : "predicted"));
  return out;
}

std::string Page::power_section() const {
  if (!trial_.power) return heading("Power") + "no propulsive coefficient: the file has no [power] block\n";
  Column<Power<>> brake(units_.power.unit);
  Column<double> coefficient(1.0, of_method);
  for (const Step& step : day_.steps) {
    if (!step.propulsive) continue;
    brake.add(step.propulsive->brake_power);
    coefficient.add(step.propulsive->coefficient);
  }
  Table table({{"engine", "rpm"},
               {"speed", std::string(units_.speed.symbol)},
               {"brake", std::string(units_.power.symbol)},
               {"coefficient", ""},
               {"source of the power", ""}},
              0);
  const StepColumn speed = speed_column();
  Notes notes;
  for (const Step& step : day_.steps) {
    if (!step.propulsive) continue;
    const Propulsive& p = *step.propulsive;
    table.row({engine(step), speed.cell(step), brake(p.brake_power), coefficient(p.coefficient)},
              p.cautions.empty() ? p.words : fmt::format("{} ({})", p.words, notes.numbers(p.cautions)));
  }
  return heading("Power") + table.text() + notes.text() +
         paragraph(
             "coefficient: overall propulsive coefficient, predicted total drag times speed over brake power of "
             "all engines; it carries the whole error of the predicted drag.");
}

// -------------------------------------------------------------------------------------------------------- findings

std::string Page::findings_section() const {
  std::string out = heading("Findings");
  if (day_.findings.empty())
    return out + paragraph(
                     "none: no figure of this day is beyond its limit. That proves nothing about what was not "
                     "measured.");
  const auto shown_as = [](const auto& named) { return ShownUnit{bare_value(named.unit), named.symbol}; };
  FindingUnits units{.speed = shown_as(units_.speed),
                     .power = shown_as(units_.power),
                     .volume = shown_as(units_.volume),
                     .wave_height = shown_as(units_.length)};
  if (system_ == UnitSystem::us) units.consumption = shown(pound_per_horsepower_hour, "lb/(hp h)");
  for (const Finding& finding : day_.findings) {
    std::string causes;
    for (const std::string_view cause : finding.causes()) causes += (causes.empty() ? "" : ", ") + std::string(cause);
    const std::string at = finding.step ? fmt::format(" at {} rpm", engine(day_.steps[*finding.step])) : "";
    out += paragraph(fmt::format("{}, {}{}: {}; likely: {}", finding.number(), words(finding.severity), at,
                                 finding.sentence(units), causes),
                     "- ", "  ");
  }
  return out + paragraph(
                   "numbers as in the list of findings; limits are common practice, settable in [limits], "
                   "uncertainties of the instruments in [uncertainty]. A note proves nothing.");
}

}  // namespace trial_page
