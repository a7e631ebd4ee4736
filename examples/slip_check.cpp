// slip_check: is this slip ordinary, what would explain it, what pitch or ratio would make it so?
// Exit status: 0 printed, 1 could not be written, 2 wrong input. Without arguments it runs on demo values.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdio>
#include <hardchine/propulsion/slip_check.hpp>
#include <hardchine/text.hpp>
#include <iterator>
#include <map>
#include <string>
#include <vector>

using namespace hardchine;

namespace {

// The page is written whole or not at all: a refusal half way leaves nothing that looks like an answer.
using Page = std::back_insert_iterator<std::string>;

const std::map<std::string, BoatType> boats{{"auxiliary", BoatType::sailing_auxiliary_or_barge},
                                            {"workboat", BoatType::workboat_or_heavy_powerboat},
                                            {"cruiser", BoatType::cruiser_or_light_powerboat},
                                            {"fast", BoatType::fast_planing},
                                            {"vee-race", BoatType::vee_bottom_race},
                                            {"stepped-race", BoatType::stepped_or_catamaran_race},
                                            {"outboard-vee", BoatType::outboard_fast_vee},
                                            {"outboard-runabout", BoatType::outboard_runabout},
                                            {"outboard-heavy", BoatType::outboard_heavy_or_pontoon}};

// What was typed, with the demo's values.
struct Typed {
  std::string engine_speed = "2600 rpm", ratio = "1.75", pitch = "26 in", speed = "29.7 kn", boat = "cruiser";
  std::string tachometer = "1.2 %", stamp = "1.5 %", speed_instrument = "0.05 kn";
  bool on_hump = false;
};

// A share must carry its sign: 0.5 typed for 0.5 % would pass as 50 %.
double read_share(const std::string& text, const char* field) {
  if (text.find('%') == std::string::npos)
    throw BadInput("slip_check", field, joined({"\"", text, "\" without %"}), "a number with %, for example \"1.5 %\"");
  return read_ratio(text, field).value;
}

double read_turns(const std::string& text) {
  if (text.find('%') != std::string::npos)
    throw BadInput("slip_check", "ratio", joined({"\"", text, "\""}),
                   "engine turns for one propeller turn, a number without %: \"1.75\"");
  return read_ratio(text, "ratio").value;
}

std::string points(double ratio) { return fixed(ratio / percent, 1) + " %"; }

std::string span(const SlipBand& band) {
  return joined({fixed(band.low / percent, 0), " to ", fixed(band.high / percent, 0), " %"});
}

void print_band(Page out, const char* what, const BandJudgement& judgement) {
  fmt::format_to(out, "  {:<38}{}: {}\n", what, span(judgement.band), words(judgement));
}

void print_check(Page out, const Typed& typed, bool demo) {
  const auto speed = read_quantity<Speed<>>(typed.speed, "speed");
  const auto speed_error = read_quantity<Speed<>>(typed.speed_instrument, "speed instrument").value;
  // A figure rounded to its last written place has a standard uncertainty of that place over the root of 12.
  const double rounding_error = in(speed.last_place, knot) / std::sqrt(12.0);
  const bool in_mph = typed.speed.find("mph") != std::string::npos;
  const bool in_knots = typed.speed.find("kn") != std::string::npos;
  const SlipCheckInput input{
      .advance = {.engine_speed = read_quantity<RotationRate<>>(typed.engine_speed, "engine speed").value,
                  .reduction_ratio = read_turns(typed.ratio),
                  .pitch = read_quantity<Length<>>(typed.pitch, "pitch").value,
                  .speed = speed.value},
      .boat_type = boats.at(typed.boat),
      .runs = typed.on_hump ? RunsAs::on_the_hump : RunsAs::steadily,
      .speed_typed_in = in_knots ? SpeedTypedIn::knots
                        : in_mph ? SpeedTypedIn::miles_per_hour
                                 : SpeedTypedIn::other,
      .readings = {.speed = std::hypot(in(speed_error, knot), rounding_error) * knot,
                   .engine_speed = read_share(typed.tachometer, "tachometer"),
                   .pitch = read_share(typed.stamp, "stamp")}};
  const SlipCheck check = check_slip(input);
  const CauseUnits units{.speed = in_mph ? mph : knot, .speed_symbol = in_mph ? "mph" : "kn"};

  fmt::format_to(out, "Apparent slip{}\n", demo ? " (demo values; --help says how to give yours)" : "");
  fmt::format_to(out, "  engine {}, ratio {}, pitch {}, speed {}, {}\n", typed.engine_speed, typed.ratio, typed.pitch,
                 typed.speed, words(input.boat_type));
  fmt::format_to(out, "  theoretical speed {}\n", to_text(check.theoretical_speed, units.speed, units.speed_symbol, 1));
  fmt::format_to(
      out,
      "  slip {} +- {} points (95 %; standard uncertainty {}: tachometer {}, pitch {}, speed {}, rounding of "
      "{} included)\n",
      points(check.slip.slip), fixed(check.slip.expanded_uncertainty / percent, 1),
      fixed(check.slip.standard_uncertainty / percent, 1), typed.tachometer, typed.stamp,
      to_text(input.readings.speed, knot, "kn", 2), typed.speed);
  if (check.upside_down)
    fmt::format_to(out, "\nThe ratio looks upside down: with {} engine turns for one propeller turn the slip is {}.\n",
                   plain_number(std::round(check.upside_down->ratio * 1000.0) / 1000.0),
                   points(check.upside_down->slip_then));

  fmt::format_to(out, "\nWhere it sits\n");
  fmt::format_to(out, "  {:<38}{} % for a {}, {} over speed\n", "typical, recalled from a handbook",
                 fixed(check.typical.slip / percent, 0), words(check.typical.type),
                 is_set(check.typical_over_speed) ? fixed(check.typical_over_speed / percent, 0) + " %" : "-");
  print_band(out, "typical, widened by 8 points", check.by_typical);
  if (check.by_trade)
    print_band(out, "band of the trade, no source", *check.by_trade);
  else
    fmt::format_to(out, "  {:<38}none for this boat\n", "band of the trade, no source");
  fmt::format_to(out, "  {:<38}{}\n", "judged by", words(check.judged.band.origin));

  if (!check.upside_down && check.judged.position != BandPosition::inside) {
    fmt::format_to(out, "\nWhat it would take to bring it into {}\n", span(check.judged.band));
    for (const SlipCause& cause : check.causes) fmt::format_to(out, "  - {}\n", words(cause, units));
    if (check.causes.empty()) fmt::format_to(out, "  nothing single within reason; look for two causes\n");
    fmt::format_to(out, "  or, without a number:\n");
    for (const std::string_view cause : causes_without_number(check.judged.position))
      fmt::format_to(out, "  - {}\n", cause);
  }
  if (check.upside_down)
    fmt::format_to(out, "\nGive the ratio the right way up first: nothing else is explained until then.\n");
  else
    fmt::format_to(out,
                   "\nThe same speeds slip as the middle of the band, {} %, with ratio {} or pitch {}\n"
                   "(a suspect, no propeller to buy: another one changes engine and boat speed).\n",
                   fixed(check.judged.band.middle() / percent, 0), fixed(check.ordinary_ratio, 2),
                   to_text(check.ordinary_pitch, inch, "in", 1));
  fmt::format_to(out, "\nNotes\n");
  for (const std::string_view sentence : explain(check)) fmt::format_to(out, "  - {}\n", sentence);
  fmt::format_to(out, "  - {}\n", cite(check));
  fmt::format_to(
      out,
      "Speed through the water, both ways averaged. Slip is no loss, and an ordinary slip proves no propeller right.\n"
      "Speed runs hurt people: kill cord, life-jackets, lookout, clear water, local speed rules. An estimate only: it\n"
      "does not replace a surveyor, a propeller shop or the engine maker's limits.\n");
}

}  // namespace

int main(int argc, char** argv) {
  Typed typed;
  CLI::App app("Checks a propeller choice from its slip.", "slip_check");
  const bool demo = argc == 1;
  app.add_option("--engine-speed", typed.engine_speed, "\"2600 rpm\"")->required(!demo);
  app.add_option("--ratio", typed.ratio, "engine turns for one propeller turn, no %, \"1.75\"")->required(!demo);
  app.add_option("--pitch", typed.pitch, "as stamped, \"26 in\"")->required(!demo);
  app.add_option("--speed", typed.speed, "through the water, \"29.7 kn\" or \"34.2 mph\"")->required(!demo);
  std::vector<std::string> names;
  for (const auto& [name, type] : boats) names.push_back(name);
  app.add_option("--boat", typed.boat, "what boat")->required(!demo)->check(CLI::IsMember(names));
  app.add_flag("--on-hump", typed.on_hump, "she was climbing the hump, not on plane");
  app.add_option("--tachometer", typed.tachometer, "standard uncertainty, with %, default \"1.2 %\" (dashboard)");
  app.add_option("--stamp", typed.stamp, "standard uncertainty of the stamped pitch, with %, default \"1.5 %\"");
  app.add_option("--speed-instrument", typed.speed_instrument, "standard uncertainty, default \"0.05 kn\" (satellite)");
  app.footer("Every quantity carries its unit: bare numbers are refused. Without arguments: demo values.");
  try {
    app.parse(argc, argv);
    std::string page;
    print_check(std::back_inserter(page), typed, demo);
    if (std::fwrite(page.data(), 1, page.size(), stdout) != page.size()) return 1;
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    fmt::print(stderr, "slip_check: {}\n", e.what());
    return 2;
  } catch (const BadInput& e) {
    fmt::print(stderr, "slip_check: {}\n", e.what());
    return 2;
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
