// speed_estimate: drag, trim and speed of a planing hull before it is built, from hull, load and power.
// Exit status: 0 printed, 1 could not be written, 2 wrong input. Without arguments it runs on demo values.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <hardchine/prediction/speed_power.hpp>
#include <hardchine/seakeeping/porpoising.hpp>
#include <hardchine/text.hpp>
#include <iterator>
#include <string>
#include <vector>

using namespace hardchine;

namespace {

// The page is written whole or not at all: a refusal half way leaves nothing that looks like an answer.
using Page = std::back_insert_iterator<std::string>;

// What was typed, with the demo's values.
struct Typed {
  std::string beam = "3.20 m", deadrise = "18 deg", chine_length = "10.80 m";
  std::string displacement = "10500 kg", lcg = "4.26 m", vcg = "1.14 m";
  std::string thrust_angle = "9 deg", thrust_below_cg = "0.60 m";
  std::string power = "560 kW", coefficient = "55 %", appendages = "14 %", air_drag_area = "7.7 m2";
  std::string speed, water_temperature = "15 C", least_bias = "0 %", greatest_bias = "20 %";
  bool fresh_water = false;
};

// A share must carry its sign: 0.5 typed for 0.5 % would pass as 50 %.
double read_share(const std::string& text, const char* field) {
  if (text.find('%') == std::string::npos)
    throw BadInput("speed_estimate", field, joined({"\"", text, "\" without %"}),
                   "a number with %, for example \"1.5 %\"");
  return read_ratio(text, field).value;
}

TopSpeedInput<> read(const Typed& t) {
  const auto length = [](const std::string& text, const char* field) {
    return read_quantity<Length<>>(text, field).value;
  };
  const auto temperature = read_quantity<Temperature<>>(t.water_temperature, "water temperature").value;
  return {
      .run = {.craft = {.hull = {.chine_beam = length(t.beam, "chine beam"),
                                 .deadrise = read_quantity<Angle<>>(t.deadrise, "deadrise").value,
                                 .projected_chine_length = length(t.chine_length, "chine length")},
                        .loading = {.mass = read_quantity<Mass<>>(t.displacement, "displacement").value,
                                    .lcg = length(t.lcg, "LCG"),
                                    .vcg = length(t.vcg, "VCG")},
                        .water = t.fresh_water ? fresh_water(temperature) : sea_water(temperature),
                        .thrust_line = thrust_below_cg(read_quantity<Angle<>>(t.thrust_angle, "thrust angle").value,
                                                       length(t.thrust_below_cg, "thrust below CG")),
                        .added_drag = {.appendage_fraction = read_share(t.appendages, "appendages"),
                                       .frontal_area = read_quantity<Area<>>(t.air_drag_area, "air drag area").value,
                                       .air_drag_coefficient = 1.0}},  // the area comes with its coefficient
              .overall_propulsive_coefficient = read_share(t.coefficient, "coefficient")},
      .brake_power = read_quantity<Power<>>(t.power, "power").value};
}

// Three figures: no semi-empirical drag deserves more.
std::string figure(double x) {
  if (!std::isfinite(x)) return "-";
  const int whole = x == 0.0 ? 0 : static_cast<int>(std::floor(std::log10(std::abs(x))));
  return fixed(x, 2 - whole);
}
std::string one_decimal(double x) { return fixed(x, 1); }
std::string more(double share) { return fmt::format("{:+.0f} %", share / percent); }
std::string wetted_chine(const RunningState<>& s) {
  return s.chine_wetted_length <= Length<>{} ? "dry" : figure(in(s.chine_wetted_length, metre));
}

PorpoisingMargin<> porpoising(const PlaningInput<>& craft, const RunningState<>& state) {
  const Volume<> volume = displaced_volume(craft.loading.mass, craft.water.density);
  return porpoising_margin<double>({.lift_coefficient = lift_coefficient_of_load<double>(
                                        {.beam_load_coefficient = beam_load_coefficient(volume, craft.hull.chine_beam),
                                         .beam_froude_number = state.beam_froude_number}),
                                    .deadrise = craft.hull.deadrise,
                                    .trim = state.trim});
}

void print_detail(Page out, SpeedPowerInput<> run, const Speed<>& speed) {
  run.craft.speed = speed;
  fmt::format_to(out, "\nAt {}\n  {:<24}{:>16}{:>16}{:>16}\n", to_text(speed, knot, "kn", 1), "", "closed balance",
                 "paper, general", "paper, short");
  std::vector<PowerNeeded<>> answers;
  for (const PlaningBalance balance :
       {PlaningBalance::closed, PlaningBalance::paper_general, PlaningBalance::paper_short}) {
    run.balance = balance;
    answers.push_back(power_needed(run));
  }
  const auto line = [&](const char* what, auto&& value) {
    fmt::format_to(out, "  {:<24}", what);
    for (const PowerNeeded<>& a : answers) fmt::format_to(out, "{:>16}", value(a));
    fmt::format_to(out, "\n");
  };
  line("trim, deg", [](const auto& a) { return one_decimal(in(a.state.trim, degree)); });
  line("wetted keel, m", [](const auto& a) { return figure(in(a.state.keel_wetted_length, metre)); });
  line("wetted chine, m", [](const auto& a) { return wetted_chine(a.state); });
  line("bare drag, kN", [](const auto& a) { return figure(in(a.state.bare_drag, kilonewton)); });
  line("total drag, kN", [](const auto& a) { return figure(in(a.total_drag, kilonewton)); });
  line("brake power, kW", [](const auto& a) { return figure(in(a.brake_power, kilowatt)); });
  const PowerNeeded<>& closed = answers.front();
  if (closed.state.outcome != Outcome::converged) {
    fmt::format_to(out, "  {}\n", words(closed.state.outcome));
    return;
  }
  const PorpoisingMargin<> margin = porpoising(run.craft, closed.state);
  fmt::format_to(out, "  porpoising: {}", words(margin.outcome));
  if (is_set(margin.limit))
    fmt::format_to(out, " ({} {} of trim)", words(margin.bound), to_text(margin.limit, degree, "deg", 1));
  fmt::format_to(out, "\n  validity: ");
  const auto sentences = explain(closed);
  for (const std::string_view sentence : sentences) fmt::format_to(out, "\n  - {}", sentence);
  fmt::format_to(out, "{}\n", sentences.empty() ? "within the published ranges" : "");
}

void print_curve(Page out, const TopSpeedInput<>& input, const DragBias& bias, const Speed<>& fastest) {
  // Whole knots from where the hump lies to a little beyond the fastest.
  const Volume<> volume = displaced_volume(input.run.craft.loading.mass, input.run.craft.water.density);
  const double from = std::floor(1.0 + 1.5 / volume_froude_number(1.0 * knot, volume));
  const double step = std::max(1.0, std::ceil((in(fastest, knot) - from) / 11.0));
  fmt::format_to(out, "\nSpeed over power (closed balance; brake power at the method's drag {} and {})\n",
                 more(bias.least), more(bias.greatest));
  constexpr auto row = "{:>7}{:>6}{:>6}{:>7}{:>7}{:>10}{:>11}{:>9}{:>9}  {}{}\n";
  fmt::format_to(out, row, "speed", "F_nV", "trim", "keel", "chine", "bare drag", "total drag", "power", "power",
                 "porpoising", "");
  fmt::format_to(out, row, "kn", "", "deg", "m", "m", "kN", "kN", more(bias.least), more(bias.greatest), "margin, deg",
                 "");
  std::vector<std::string_view> notes;
  for (double kn = from; kn < in(fastest, knot) + 1.5 * step; kn += step) {
    SpeedPowerInput<> run = input.run;
    run.craft.speed = kn * knot;
    const PowerNeeded<> needed = power_needed(run);
    const RunningState<>& s = needed.state;
    if (s.outcome != Outcome::converged) {
      fmt::format_to(out, "{:>7}{:>6}  {}\n", fixed(kn, 0), fixed(s.volume_froude_number, 1), words(s.outcome));
      continue;
    }
    const PorpoisingMargin<> margin = porpoising(run.craft, s);
    const std::string_view verdict = words(margin.outcome).substr(0, words(margin.outcome).find(':'));
    std::string beside = is_set(margin.margin) ? one_decimal(in(margin.margin, degree)) : std::string(verdict);
    if (is_set(margin.margin) && margin.outcome != PorpoisingOutcome::stable) beside = joined({beside, " ", verdict});
    std::string marks;
    for (const std::string_view sentence : explain(needed)) {
      const auto at = std::find(notes.begin(), notes.end(), sentence);
      marks += fmt::format("{}{}", marks.empty() ? "" : ",", at - notes.begin() + 1);
      if (at == notes.end()) notes.push_back(sentence);
    }
    const auto power = [&](double share) { return figure(in(needed.brake_power * (1.0 + share), kilowatt)); };
    fmt::format_to(out, row, fixed(kn, 0), fixed(s.volume_froude_number, 1), one_decimal(in(s.trim, degree)),
                   figure(in(s.keel_wetted_length, metre)), wetted_chine(s), figure(in(s.bare_drag, kilonewton)),
                   figure(in(needed.total_drag, kilonewton)), power(bias.least), power(bias.greatest), beside,
                   marks.empty() ? "" : joined({"  [", marks, "]"}));
  }
  for (std::size_t i = 0; i < notes.size(); ++i) fmt::format_to(out, "  [{}] {}\n", i + 1, notes[i]);
}

void print_end(Page out, const std::string& which, const TopSpeed<>& top) {
  fmt::format_to(out, "  {}: {}", which, words(top.outcome));
  if (is_set(top.speed)) fmt::format_to(out, ", {}", to_text(top.speed, knot, "kn", 1));
  if (top.outcome == TopSpeedOutcome::beyond_search_range || top.outcome == TopSpeedOutcome::equilibrium_ends)
    fmt::format_to(out, ", answers up to {}", to_text(top.answered_to, knot, "kn", 1));
  if (top.roots.size() > 1) {
    fmt::format_to(out, "; powers equal at");
    for (const PowerRoot& root : top.roots) fmt::format_to(out, " {}", fixed(in(root.speed, knot), 1));
    fmt::format_to(out, " kn");
  }
  if (top.outcome == TopSpeedOutcome::cannot_hold_on_plane && is_set(top.least_planing_power))
    fmt::format_to(out, " (it takes {} kW at {})", figure(in(top.least_planing_power, kilowatt)),
                   to_text(top.least_power_speed, knot, "kn", 1));
  fmt::format_to(out, "\n");
}

void print_estimate(Page out, const Typed& typed, bool demo) {
  const TopSpeedInput<> input = read(typed);
  const DragBias bias{.least = read_share(typed.least_bias, "least drag bias"),
                      .greatest = read_share(typed.greatest_bias, "greatest drag bias")};
  const TopSpeedSpan<> span = top_speed_span(input, bias);
  const TopSpeed<>&fast = span.at_least_drag, &slow = span.at_greatest_drag;

  fmt::format_to(out, "Speed estimate{}\n", demo ? " (demo values; --help says how to give yours)" : "");
  fmt::format_to(out, "  hull: chine beam {}, deadrise {}, chine length {}\n", typed.beam, typed.deadrise,
                 typed.chine_length);
  fmt::format_to(out, "  load: {}, LCG {}, VCG {}; {} water of {}\n", typed.displacement, typed.lcg, typed.vcg,
                 typed.fresh_water ? "fresh" : "sea", typed.water_temperature);
  fmt::format_to(out, "  thrust: {} to the keel, {} below the CG\n", typed.thrust_angle, typed.thrust_below_cg);
  fmt::format_to(out, "  drag on top of the bare hull: appendages {}, air drag area {}\n", typed.appendages,
                 typed.air_drag_area);
  fmt::format_to(out, "  power: {} at an overall propulsive coefficient of {} on total drag\n", typed.power,
                 typed.coefficient);

  fmt::format_to(out, "\nTop speed at {}: ", typed.power);
  if (is_set(fast.speed) && is_set(slow.speed))
    fmt::format_to(out, "{} to {}\n", fixed(in(slow.speed, knot), 1), to_text(fast.speed, knot, "kn", 1));
  else if (is_set(fast.speed))
    fmt::format_to(out, "no span: {} at {} drag, none at {}\n", to_text(fast.speed, knot, "kn", 1), more(bias.least),
                   more(bias.greatest));
  else if (is_set(slow.speed))
    fmt::format_to(out, "no span: {} at {} drag, none found at {}\n", to_text(slow.speed, knot, "kn", 1),
                   more(bias.greatest), more(bias.least));
  else
    fmt::format_to(out, "no span: none found at either end\n");
  print_end(out, fmt::format("drag {} on the method's", more(bias.least)), fast);
  print_end(out, fmt::format("drag {} on the method's", more(bias.greatest)), slow);
  const DragBias rule;
  if (bias.least == rule.least && bias.greatest == rule.greatest)
    fmt::format_to(out, "  the span: real hulls drag more than the prismatic method says; {}\n", cite(*span.method));
  else
    fmt::format_to(out, "  the span of drag is yours\n");

  const Speed<> fastest = is_set(fast.speed)         ? fast.speed
                          : is_set(fast.answered_to) ? std::min(fast.answered_to, 60.0 * knot)
                                                     : 40.0 * knot;
  if (!typed.speed.empty())
    print_detail(out, input.run, read_quantity<Speed<>>(typed.speed, "speed").value);
  else if (is_set(fast.speed))
    print_detail(out, input.run, fast.speed);
  print_curve(out, input, bias, fastest);

  fmt::format_to(out, "\nNotes\n  - on plane: volume Froude number 2 or more (practice)\n");
  fmt::format_to(out, "  - keel, chine: wetted lengths forward of the transom\n");
  fmt::format_to(out, "  - {}\n  - {}\n", cite(planing_closed_method), cite(porpoising_chart_method));
  fmt::format_to(
      out,
      "Calm deep water, clean bottom, load as given, one coefficient at every speed (at the hump it is lower). The "
      "method\n"
      "does not know bow shape, steps, spray rails or tabs. An estimate only: it does not replace tests, local codes "
      "or\n"
      "a licensed naval architect. Stay within the craft's capacity. Speed runs hurt people: kill cord, life-jackets,\n"
      "lookout, clear water; stop at the first porpoising.\n");
}

}  // namespace

int main(int argc, char** argv) {
  Typed t;
  CLI::App app("Estimates drag, trim and speed of a planing hull.", "speed_estimate");
  const bool demo = argc == 1;
  const auto needed = [&](const char* name, std::string& text, const char* help) {
    app.add_option(name, text, help)->required(!demo);
  };
  needed("--beam", t.beam, "over the chines, \"3.2 m\"");
  needed("--deadrise", t.deadrise, "mid-chine, \"18 deg\"");
  needed("--chine-length", t.chine_length, "chines seen from above, \"10.8 m\"");
  needed("--displacement", t.displacement, "mass afloat, \"10500 kg\"");
  needed("--lcg", t.lcg, "centre of gravity forward of the transom, \"4.26 m\"");
  needed("--vcg", t.vcg, "centre of gravity above the keel, \"1.14 m\"");
  needed("--thrust-angle", t.thrust_angle, "to the keel, positive when it lifts, \"9 deg\"");
  needed("--thrust-below-cg", t.thrust_below_cg, "distance of the thrust line, positive below, \"0.6 m\"");
  needed("--power", t.power, "brake power of all engines, \"560 kW\"");
  needed("--coefficient", t.coefficient, "overall propulsive coefficient on total drag, with %, \"55 %\"");
  needed("--appendages", t.appendages, "share of the bare drag, with %, \"14 %\"; \"0 %\" if none");
  needed("--air-drag-area", t.air_drag_area, "frontal area times drag coefficient, \"7.7 m2\"; \"0 m2\" if none");
  app.add_option("--speed", t.speed, "where the forms are compared, default the top speed");
  app.add_option("--water-temperature", t.water_temperature, "default \"15 C\"");
  app.add_flag("--fresh-water", t.fresh_water, "else sea water");
  app.add_option("--least-drag-bias", t.least_bias, "drag over the method's, with %, default \"0 %\"");
  app.add_option("--greatest-drag-bias", t.greatest_bias, "drag over the method's, with %, default \"20 %\"");
  app.footer("Every quantity carries its unit: bare numbers are refused. Without arguments: demo values.");
  try {
    app.parse(argc, argv);
    std::string page;
    print_estimate(std::back_inserter(page), t, demo);
    if (std::fwrite(page.data(), 1, page.size(), stdout) != page.size()) return 1;
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    fmt::print(stderr, "speed_estimate: {}\n", e.what());
    return 2;
  } catch (const BadInput& e) {
    fmt::print(stderr, "speed_estimate: {}\n", e.what());
    return 2;
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
