// range_table: range and endurance at each speed with named reserves, best cruise, how far out and back.
// Exit status: 0 printed, 1 could not be written, 2 wrong input. Without arguments it runs on demo values.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <hardchine/economy/best_cruise.hpp>
#include <hardchine/economy/economy_curve.hpp>
#include <hardchine/economy/out_and_back.hpp>
#include <hardchine/economy/range.hpp>
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
  std::vector<std::string> steps{"900 rpm, 7.3 kn, 10.8 L/h",    "1500 rpm, 11.7 kn, 46.4 L/h",
                                 "1800 rpm, 16.4 kn, 74.9 L/h",  "2000 rpm, 19.8 kn, 91.6 L/h",
                                 "2150 rpm, 22.9 kn, 100.5 L/h", "2300 rpm, 25.2 kn, 108.1 L/h",
                                 "2450 rpm, 27.6 kn, 121.6 L/h", "2600 rpm, 29.7 kn, 137.3 L/h"};
  std::string planing_from = "2000 rpm", capacity = "1400 L", usable = "1330 L", current = "2.0 kn";
  std::vector<std::string> reserves{"10 % of capacity", "thirds", "20 % per leg"};
};

std::vector<OperatingPoint<>> read_steps(const std::vector<std::string>& texts) {
  std::vector<OperatingPoint<>> steps;
  for (const std::string& text : texts) {
    const std::string field = fmt::format("step {}", steps.size() + 1);
    const auto first = text.find(','), second = text.find(',', first + 1);
    if (first == std::string::npos || second == std::string::npos)
      throw BadInput("range_table", field, "not three figures",
                     "engine speed, speed, fuel flow: \"900 rpm, 7.3 kn, 10.8 L/h\"");
    steps.push_back(
        {.speed = read_quantity<Speed<>>(text.substr(first + 1, second - first - 1), field + ", speed").value,
         .engine_speed = read_quantity<RotationRate<>>(text.substr(0, first), field + ", engine speed").value,
         .fuel_flow = read_quantity<VolumeFlow<>>(text.substr(second + 1), field + ", fuel flow").value});
  }
  return steps;
}

Reserve<> read_reserve(const std::string& text) {
  if (text == "none") return no_reserve();
  if (text == "thirds") return reserve_thirds();
  try {
    for (const std::string ending : {" of capacity", " per leg"})
      if (text.ends_with(ending)) {
        // A share must carry its sign: 0.5 typed for 0.5 % would pass as 50 %.
        if (text.find('%') == std::string::npos)
          throw BadInput("range_table", "reserve", joined({"\"", text, "\" without %"}), "a number with %");
        const double share = read_ratio(text.substr(0, text.size() - ending.size()), "reserve").value;
        return ending == " per leg" ? reserve_per_leg(share) : reserve_of_capacity(share);
      }
    return reserve_volume(read_quantity<Volume<>>(text, "reserve").value);
  } catch (const BadInput& e) {
    throw BadInput("range_table", "reserve", e.value(),
                   "\"10 % of capacity\", \"thirds\", \"20 % per leg\", \"150 L\" or \"none\", within its sense");
  }
}

// The volume that the reader thinks in.
struct Shown {
  Volume<> volume;
  std::string_view symbol;
};

void print_table(Page out, const Typed& typed, bool demo) {
  const std::vector<OperatingPoint<>> steps = read_steps(typed.steps);
  const Volume<> capacity = read_quantity<Volume<>>(typed.capacity, "capacity").value;
  const Volume<> usable = read_quantity<Volume<>>(typed.usable, "usable fuel").value;
  const Speed<> current = read_quantity<Speed<>>(typed.current, "current").value;
  const RotationRate<> planing_from = read_quantity<RotationRate<>>(typed.planing_from, "planing from").value;
  std::vector<Reserve<>> reserves;
  for (const std::string& text : typed.reserves) reserves.push_back(read_reserve(text));
  const Shown shown = typed.capacity.ends_with("US gal")    ? Shown{us_gallon, "US gal"}
                      : typed.capacity.ends_with("imp gal") ? Shown{imperial_gallon, "imp gal"}
                                                            : Shown{litre, "L"};
  const EconomyCurve curve(steps);  // refuses what is out of order or too little
  const CurveCruise on_curve = best_cruise_on_curve(curve, planing_from);
  std::vector<bool> planing;
  for (const OperatingPoint<>& step : steps) planing.push_back(step.engine_speed >= planing_from);
  const BestCruise by_steps = best_cruise(steps, planing);
  const auto range = [&](const OperatingPoint<>& p, const Reserve<>& reserve) {
    return cruising_range<double>(
        {.speed = p.speed, .fuel_flow = p.fuel_flow, .capacity = capacity, .usable_fuel = usable, .reserve = reserve});
  };
  const auto trip = [&](const OperatingPoint<>& p, const Reserve<>& reserve) {
    return out_and_back<double>({.speed = p.speed,
                                 .current = current,
                                 .fuel_flow = p.fuel_flow,
                                 .capacity = capacity,
                                 .usable_fuel = usable,
                                 .reserve = reserve});
  };
  const auto flow = [&](const OperatingPoint<>& p) { return fixed(in(p.fuel_flow * hour, shown.volume), 1); };
  const auto economy = [&](const OperatingPoint<>& p) {
    return fixed(in(distance_per_volume(p.speed, p.fuel_flow) * shown.volume, nautical_mile),
                 shown.symbol == "L" ? 3 : 2);
  };
  const auto miles = [](const Length<>& d) { return fixed(in(d, nautical_mile), 0); };
  const auto hours = [](const Duration<>& t) { return fixed(in(t, hour), 1); };

  fmt::format_to(out, "Range table{}\n", demo ? " (demo values; --help says how to give yours)" : "");
  fmt::format_to(out, "  {} usable of {} capacity; planing from {}; fuel of all engines together\n", typed.usable,
                 typed.capacity, typed.planing_from);
  for (std::size_t r = 0; r < reserves.size(); ++r)
    fmt::format_to(out, "  reserve {}: {}\n", r + 1, words(reserves[r], shown.volume, shown.symbol));

  fmt::format_to(out, "\nRange and endurance in still water\n{:>7}{:>8}{:>12}{:>12}", "engine", "speed", "fuel flow",
                 "economy");
  for (std::size_t r = 0; r < reserves.size(); ++r) fmt::format_to(out, "{:>16}", fmt::format("reserve {}", r + 1));
  fmt::format_to(out, "\n{:>7}{:>8}{:>12}{:>12}", "rpm", "kn", fmt::format("{}/h", shown.symbol),
                 fmt::format("nmi/{}", shown.symbol));
  for (std::size_t r = 0; r < reserves.size(); ++r) fmt::format_to(out, "{:>10}{:>6}", "nmi", "h");
  fmt::format_to(out, "\n");
  std::vector<std::string_view> reasons;
  const auto reason = [&](std::string_view why) {
    if (std::find(reasons.begin(), reasons.end(), why) == reasons.end()) reasons.push_back(why);
  };
  const auto print_reasons = [&] {
    for (const std::string_view why : reasons) fmt::format_to(out, "  -: {}\n", why);
    reasons.clear();
  };
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const OperatingPoint<>& p = steps[i];
    fmt::format_to(out, "{:>7}{:>8}{:>12}{:>12}", fixed(in(p.engine_speed, rpm), 0), fixed(in(p.speed, knot), 1),
                   flow(p), economy(p));
    for (const Reserve<>& reserve : reserves) {
      const RangeResult<> answer = range(p, reserve);
      fmt::format_to(out, "{:>10}{:>6}", miles(answer.distance), hours(answer.endurance));
      if (answer.outcome != RangeOutcome::found) reason(words(answer.outcome));
    }
    fmt::format_to(out, "{}\n", planing[i] ? "  planing" : "");
  }
  print_reasons();

  fmt::format_to(out, "\nBest cruise on plane\n");
  const auto cruise = [&](const char* what, const OperatingPoint<>& p) {
    fmt::format_to(out, "  {:<44}{:>5} rpm {:>5} kn {:>6} {}/h {:>6} nmi/{}\n", what, fixed(in(p.engine_speed, rpm), 0),
                   fixed(in(p.speed, knot), 1), flow(p), shown.symbol, economy(p), shown.symbol);
  };
  if (by_steps.best) cruise("best economy, steps as given", steps[*by_steps.best]);
  cruise("best economy on the curve between them", on_curve.best);
  cruise("fastest within 5 % of it on the curve", on_curve.fastest_within);

  fmt::format_to(out, "\nOut and back with {} of current along the course, nmi each way\n{:>7}{:>8}", typed.current,
                 "engine", "speed");
  for (std::size_t r = 0; r < reserves.size(); ++r) fmt::format_to(out, "{:>12}", fmt::format("reserve {}", r + 1));
  fmt::format_to(out, "\n{:>7}{:>8}\n", "rpm", "kn");
  for (const OperatingPoint<>& p : steps) {
    fmt::format_to(out, "{:>7}{:>8}", fixed(in(p.engine_speed, rpm), 0), fixed(in(p.speed, knot), 1));
    for (const Reserve<>& reserve : reserves) {
      const OutAndBack<> answer = trip(p, reserve);
      fmt::format_to(out, "{:>12}", miles(answer.distance_each_way));
      if (answer.outcome != OutAndBackOutcome::found) reason(words(answer.outcome));
    }
    fmt::format_to(out, "\n");
  }
  print_reasons();
  const OutAndBack<> far = trip(on_curve.best, reserves.front());
  if (far.outcome == OutAndBackOutcome::found && current != 0.0 * knot)
    fmt::format_to(
        out, "  at best economy, reserve 1: {} {} out, {} back; the leg against the current burns more than half\n",
        fixed(in(far.fuel_out, shown.volume), 0), shown.symbol, fixed(in(far.fuel_back, shown.volume), 0));

  fmt::format_to(
      out,
      "\nA comparison in still water (and steady current) at constant load, no passage plan: wind, waves, fouling and\n"
      "tide change every figure. Carry the reserve that the trip, the weather and the local rules ask for, check the\n"
      "return leg before leaving, and stay within the craft's capacity. Speed runs hurt people: kill cord, "
      "life-jackets,\n"
      "lookout, clear water. An estimate only: it does not replace the skipper's judgement.\n");
}

}  // namespace

int main(int argc, char** argv) {
  Typed t;
  CLI::App app("Range and endurance at each speed, with named reserves.", "range_table");
  const bool demo = argc == 1;
  std::vector<std::string> steps, reserves;
  app.add_option("--step", steps, "\"2300 rpm, 25.2 kn, 108.1 L/h\": one for each engine speed, rising, at least four")
      ->required(!demo)
      ->allow_extra_args(false);
  app.add_option("--planing-from", t.planing_from, "lowest engine speed on plane, \"2000 rpm\"")->required(!demo);
  app.add_option("--capacity", t.capacity, "of all fuel tanks, \"1400 L\" or \"370 US gal\"")->required(!demo);
  app.add_option("--usable", t.usable, "what the engines can draw of the fuel aboard, \"1330 L\"")->required(!demo);
  app.add_option(
         "--reserve", reserves,
         "\"10 % of capacity\", \"thirds\", \"20 % per leg\", \"150 L\" or \"none\"; shares with %; several may be "
         "compared")
      ->required(!demo)
      ->allow_extra_args(false);
  app.add_option("--current", t.current, "along the course, positive with the boat on the way out, \"2.0 kn\"")
      ->required(!demo);
  app.footer("Every quantity carries its unit: bare numbers are refused. Without arguments: demo values.");
  try {
    app.parse(argc, argv);
    if (!demo) t.steps = steps, t.reserves = reserves;
    std::string page;
    print_table(std::back_inserter(page), t, demo);
    if (std::fwrite(page.data(), 1, page.size(), stdout) != page.size()) return 1;
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    fmt::print(stderr, "range_table: {}\n", e.what());
    return 2;
  } catch (const BadInput& e) {
    fmt::print(stderr, "range_table: {}\n", e.what());
    return 2;
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
