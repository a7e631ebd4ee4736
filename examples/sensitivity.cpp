// sensitivity: what an inch of LCG, 100 lb, a degree of deadrise and the like are worth to a planing hull at a speed.
// Exit status: 0 printed, 1 could not be written, 2 wrong input. Without arguments it runs on demo values.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <array>
#include <cmath>
#include <cstdio>
#include <functional>
#include <hardchine/prediction/speed_power.hpp>
#include <hardchine/seakeeping/porpoising.hpp>
#include <hardchine/text.hpp>
#include <iterator>
#include <string>
#include <vector>

using namespace hardchine;

namespace {

using Page = std::back_insert_iterator<std::string>;

// What was typed, with the demo's values.
struct Typed {
  std::string beam = "3.20 m", deadrise = "18 deg", chine_length = "10.80 m";
  std::string displacement = "10500 kg", lcg = "4.26 m", vcg = "1.14 m";
  std::string thrust_angle = "9 deg", propeller_forward = "0.50 m", propeller_above_keel = "-0.06 m";
  std::string speed = "27 kn", coefficient = "55 %", appendages = "14 %", air_drag_area = "7.7 m2";
  std::string water_temperature = "15 C";
  bool fresh_water = false;
};

// A share must carry its sign: 0.5 typed for 0.5 % would pass as 50 %.
double read_share(const std::string& text, const char* field) {
  if (text.find('%') == std::string::npos)
    throw BadInput("sensitivity", field, joined({"\"", text, "\" without %"}),
                   "a number with %, for example \"1.5 %\"");
  return read_ratio(text, field).value;
}

SpeedPowerInput<> read(const Typed& t) {
  const auto length = [](const std::string& text, const char* field) {
    return read_quantity<Length<>>(text, field).value;
  };
  const auto temperature = read_quantity<Temperature<>>(t.water_temperature, "water temperature").value;
  return {.craft = {.hull = {.chine_beam = length(t.beam, "chine beam"),
                             .deadrise = read_quantity<Angle<>>(t.deadrise, "deadrise").value,
                             .projected_chine_length = length(t.chine_length, "chine length")},
                    .loading = {.mass = read_quantity<Mass<>>(t.displacement, "displacement").value,
                                .lcg = length(t.lcg, "LCG"),
                                .vcg = length(t.vcg, "VCG")},
                    .water = t.fresh_water ? fresh_water(temperature) : sea_water(temperature),
                    .thrust_line =
                        shaft_line<double>({.inclination = read_quantity<Angle<>>(t.thrust_angle, "thrust angle").value,
                                            .x = length(t.propeller_forward, "propeller forward"),
                                            .z = length(t.propeller_above_keel, "propeller above keel")}),
                    .speed = read_quantity<Speed<>>(t.speed, "speed").value,
                    .added_drag = {.appendage_fraction = read_share(t.appendages, "appendages"),
                                   .frontal_area = read_quantity<Area<>>(t.air_drag_area, "air drag area").value,
                                   .air_drag_coefficient = 1.0}},  // the area comes with its coefficient
          .overall_propulsive_coefficient = read_share(t.coefficient, "coefficient")};
}

// ---- the inputs that change

enum Input : int { lcg, mass, deadrise, beam, inclination, vcg, speed };
inline constexpr int inputs = 7;

// The craft with every input's own derivative one: a single pass then has all derivatives of all results.
SpeedPowerInput<Dual<inputs>> seeded(const SpeedPowerInput<>& run) {
  SpeedPowerInput<Dual<inputs>> in = run;
  const PlaningInput<>& craft = run.craft;
  in.craft.loading.lcg = seed<inputs>(craft.loading.lcg, Input::lcg);
  in.craft.loading.mass = seed<inputs>(craft.loading.mass, Input::mass);
  in.craft.hull.deadrise = seed<inputs>(craft.hull.deadrise, Input::deadrise);
  in.craft.hull.chine_beam = seed<inputs>(craft.hull.chine_beam, Input::beam);
  in.craft.thrust_line.inclination = seed<inputs>(craft.thrust_line.inclination, Input::inclination);
  in.craft.loading.vcg = seed<inputs>(craft.loading.vcg, Input::vcg);
  in.craft.speed = seed<inputs>(craft.speed, Input::speed);
  return in;
}

// A change of one input.
struct Change {
  const char* words;
  Input input;
  double step;                                                // in SI units of the input, as the derivatives are
  std::function<void(PlaningInput<>&, double)> make_in = {};  // so many steps
};

template <class Q, class Place>
Change change(const char* words, Input input, const Q& step, const Place& place) {
  return {words, input, step.value(),
          [step, place](PlaningInput<>& craft, double steps) { place(craft) = place(craft) + step * steps; }};
}

// Asked of every change, all as differences.
struct Worth {
  Force<> drag = unset;
  Angle<> trim = unset;
  Power<> power = unset;
  Speed<> speed = unset;  // at the power that the boat needs before the change
};

Worth exact(const PowerNeeded<Dual<inputs>>& needed, const Change& change) {
  const auto of = [&](const auto& q) { return derivative(q, change.input) * change.step; };
  Worth w{of(needed.total_drag), of(needed.state.trim), of(needed.brake_power)};
  // P(V, x) stays: dV/dx = -(dP/dx)/(dP/dV). Where the power falls with speed she does not stay at one.
  const double slope = derivative(needed.brake_power, Input::speed).value();
  if (slope > 0.0) w.speed = Speed<>::from_value(-w.power.value() / slope);
  return w;
}

// The speed for a power, within a tenth of the craft's; unset where there is none, or where that tenth ends outside what
// is accepted.
Speed<> speed_at(SpeedPowerInput<> run, const Power<>& power) {
  const double knots = in(run.craft.speed, knot);
  const auto excess = [&](double v) {
    run.craft.speed = v * knot;
    return (power_needed(run).brake_power - power) / power;
  };
  try {
    const BracketedRoot<double> root = bracketed_root(excess, 0.9 * knots, 1.1 * knots);
    return root.converged && excess(0.9 * knots) < 0.0 ? root.x * knot : Speed<>(unset);
  } catch (const BadInput&) {
    return unset;
  }
}

// Half the difference of a step more and a step less, each computed anew without derivatives; unset where a step leaves
// what is accepted.
Worth recomputed(const SpeedPowerInput<>& run, const Power<>& power, const Change& change) {
  const auto at = [&](double steps) {
    SpeedPowerInput<> changed = run;
    change.make_in(changed.craft, steps);
    try {
      const PowerNeeded<> needed = power_needed(changed);
      return Worth{needed.total_drag, needed.state.trim, needed.brake_power, speed_at(changed, power)};
    } catch (const BadInput&) {
      return Worth{};
    }
  };
  const Worth more = at(1.0), less = at(-1.0);
  return {0.5 * (more.drag - less.drag), 0.5 * (more.trim - less.trim), 0.5 * (more.power - less.power),
          0.5 * (more.speed - less.speed)};
}

// ---- the page

std::string change_of(double x, int decimals) {
  if (!std::isfinite(x)) return "-";
  const std::string text = fixed(x, decimals);
  return text.front() == '-' ? text : joined({"+", text});
}

void print_page(Page out, const Typed& t, bool demo) {
  const SpeedPowerInput<> run = read(t);
  const PowerNeeded<Dual<inputs>> needed = power_needed(seeded(run));
  const RunningState<Dual<inputs>>& state = needed.state;

  fmt::format_to(out, "What a change is worth{}\n", demo ? " (demo values; --help says how to give yours)" : "");
  fmt::format_to(out, "  hull: chine beam {}, deadrise {}, chine length {}\n", t.beam, t.deadrise, t.chine_length);
  fmt::format_to(out, "  load: {}, LCG {}, VCG {}; {} water of {}\n", t.displacement, t.lcg, t.vcg,
                 t.fresh_water ? "fresh" : "sea", t.water_temperature);
  fmt::format_to(out, "  shaft: {} to the keel, through the propeller {} forward of the transom, {} above the keel\n",
                 t.thrust_angle, t.propeller_forward, t.propeller_above_keel);
  fmt::format_to(out, "  drag on top of the bare hull: appendages {}, air drag area {}\n", t.appendages,
                 t.air_drag_area);
  fmt::format_to(out, "  power: at an overall propulsive coefficient of {} on total drag\n", t.coefficient);
  if (state.outcome != Outcome::converged) {
    fmt::format_to(out, "\nAt {}: {}\n", t.speed, words(state.outcome));
    return;
  }

  const Power<> power = Power<>::from_value(plain(needed.brake_power.value()));
  fmt::format_to(out, "\nAt {}: total drag {} kN, trim {} deg, brake power {} kW; one knot more takes {} kW\n", t.speed,
                 fixed(plain(in(needed.total_drag, kilonewton)), 2), fixed(plain(in(state.trim, degree)), 2),
                 fixed(in(power, kilowatt), 0),
                 change_of(in(derivative(needed.brake_power, Input::speed), kilowatt) * (1.0 * knot).value(), 1));
  constexpr auto row = "  {:<34} {:>7} {:>7} {:>9} {:>7} {:>9} {:>7} {:>9} {:>7}\n";
  fmt::format_to(out, "\n");
  fmt::format_to(out, "  {:<34}{:>16}{:>18}{:>18}{:>18}\n", "", "total drag, N", "trim, deg", "power, kW", "speed, kn");
  fmt::format_to(out, "  {:<34}{:>16}{:>18}{:>18}{:>18}\n", "change", "at this speed", "at this speed", "at this speed",
                 "at this power");
  fmt::format_to(out, row, "", "exact", "check", "exact", "check", "exact", "check", "exact", "check");
  const auto mass_of = [](auto& craft) -> auto& { return craft.loading.mass; };
  const std::array changes{change(
                               "LCG an inch (25.4 mm) forward", Input::lcg, 1.0 * inch,
                               [](auto& craft) -> auto& { return craft.loading.lcg; }),
                           change("100 lb (45.4 kg) more, at the CG", Input::mass, 100.0 * pound_mass, mass_of),
                           change("100 kg (220 lb) more, at the CG", Input::mass, 100.0 * kilogram, mass_of),
                           change(
                               "a degree more deadrise", Input::deadrise, 1.0 * degree,
                               [](auto& craft) -> auto& { return craft.hull.deadrise; }),
                           change(
                               "chine beam an inch (25.4 mm) wider", Input::beam, 1.0 * inch,
                               [](auto& craft) -> auto& { return craft.hull.chine_beam; }),
                           change(
                               "shaft a degree steeper", Input::inclination, 1.0 * degree,
                               [](auto& craft) -> auto& { return craft.thrust_line.inclination; }),
                           change(
                               "VCG an inch (25.4 mm) higher", Input::vcg, 1.0 * inch,
                               [](auto& craft) -> auto& { return craft.loading.vcg; })};
  bool gaps = false;
  for (const Change& c : changes) {
    const Worth w = exact(needed, c), again = recomputed(run, power, c);
    for (const Worth& each : {w, again})
      gaps = gaps || !is_set(each.drag) || !is_set(each.trim) || !is_set(each.power) || !is_set(each.speed);
    fmt::format_to(out, row, c.words, change_of(in(w.drag, newton), 1), change_of(in(again.drag, newton), 1),
                   change_of(in(w.trim, degree), 3), change_of(in(again.trim, degree), 3),
                   change_of(in(w.power, kilowatt), 2), change_of(in(again.power, kilowatt), 2),
                   change_of(in(w.speed, knot), 3), change_of(in(again.speed, knot), 3));
  }

  const Volume<> volume = displaced_volume(run.craft.loading.mass, run.craft.water.density);
  const PorpoisingMargin<> margin =
      porpoising_margin<double>({.lift_coefficient = lift_coefficient_of_load<double>(
                                     {.beam_load_coefficient = beam_load_coefficient(volume, run.craft.hull.chine_beam),
                                      .beam_froude_number = plain(state.beam_froude_number)}),
                                 .deadrise = run.craft.hull.deadrise,
                                 .trim = Angle<>::from_value(plain(state.trim.value()))});
  fmt::format_to(out, "\nNotes\n  - porpoising: {}", words(margin.outcome));
  if (is_set(margin.limit))
    fmt::format_to(out, " ({} {} of trim)", words(margin.bound), to_text(margin.limit, degree, "deg", 1));
  fmt::format_to(out, "; a change that trims her up takes from the margin\n");
  for (const std::string_view sentence : explain(needed)) fmt::format_to(out, "  - {}\n", sentence);
  fmt::format_to(
      out,
      "  - exact: derivatives, all of them from one pass; check: half the difference of the change made and made the\n"
      "    other way, computed anew\n"
      "{}"
      "  - each change alone: the shaft stays at its propeller, the rest of hull and load as given\n"
      "  - {}\n  - {}\n",
      gaps ? "  - \"-\": no number: the change or the search for the speed, which goes a tenth up and down, leaves "
             "what is\n"
             "    accepted, or no speed there takes that power\n"
           : "",
      cite(planing_closed_method), cite(porpoising_chart_method));
  fmt::format_to(
      out,
      "Derivatives are local: good for small changes from this boat at this speed, wrong for large ones, not to be\n"
      "added up across a hump or a change of flow. The decimals show the arithmetic, not the accuracy: the\n"
      "prismatic method is an estimate, for calm deep water and a clean bottom. It does not replace trials, local\n"
      "codes or a licensed naval architect; weight moved or added changes stability and the margin to porpoising.\n"
      "Stay within the craft's capacity. Try changes step by step: kill cord, life-jackets, lookout, clear water;\n"
      "stop at the first porpoising.\n");
}

}  // namespace

int main(int argc, char** argv) {
  Typed t;
  CLI::App app("What small changes of hull and load are worth in drag, trim, power and speed.", "sensitivity");
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
  needed("--propeller-forward", t.propeller_forward, "of the transom, \"0.5 m\"; negative behind it");
  needed("--propeller-above-keel", t.propeller_above_keel, "\"-0.06 m\"; negative below the keel line");
  needed("--speed", t.speed, "\"27 kn\"");
  needed("--coefficient", t.coefficient, "overall propulsive coefficient on total drag, with %, \"55 %\"");
  needed("--appendages", t.appendages, "share of the bare drag, with %, \"14 %\"; \"0 %\" if none");
  needed("--air-drag-area", t.air_drag_area, "frontal area times drag coefficient, \"7.7 m2\"; \"0 m2\" if none");
  app.add_option("--water-temperature", t.water_temperature, "default \"15 C\"");
  app.add_flag("--fresh-water", t.fresh_water, "else sea water");
  app.footer("Every quantity carries its unit: bare numbers are refused. Without arguments: demo values.");
  try {
    app.parse(argc, argv);
    std::string page;
    print_page(std::back_inserter(page), t, demo);
    if (std::fwrite(page.data(), 1, page.size(), stdout) != page.size()) return 1;
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    fmt::print(stderr, "sensitivity: {}\n", e.what());
    return 2;
  } catch (const BadInput& e) {
    fmt::print(stderr, "sensitivity: {}\n", e.what());
    return 2;
  }
  return std::fflush(stdout) == 0 ? 0 : 1;
}
