// The formulas of resistance and prediction give the same in every scalar.
#include "every_formula.hpp"
#include "hardchine/prediction/speed_power.hpp"

using namespace every_formula;

namespace {

// An invented workboat.
const PlaningInput<> craft{
    .hull = {.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre},
    .loading = {.mass = 10500.0 * kilogram, .lcg = 4.26 * metre, .vcg = 1.14 * metre},
    .water = {.density = 1025.0 * kilogram_per_cubic_metre, .kinematic_viscosity = 1.19e-6 * square_metre_per_second},
    .thrust_line = thrust_below_cg(9.0 * degree, 0.6 * metre),
    .speed = 25.0 * knot,
    .added_drag = {.appendage_fraction = 0.14, .frontal_area = 11.0 * square_metre, .air_drag_coefficient = 0.7}};
// A high centre of gravity and a high thrust line: the quick solution fails and the guarded search finds the answer.
const PlaningInput<> searched{
    .hull = {.chine_beam = 3.2 * metre, .deadrise = 31.0 * degree, .projected_chine_length = 10.8 * metre},
    .loading = {.mass = 3770.0 * kilogram, .lcg = 1.33 * metre, .vcg = 2.54 * metre},
    .water = craft.water,
    .thrust_line = thrust_below_cg(16.0 * degree, -0.96 * metre),
    .speed = 58.0 * knot};
// The weight too far aft at low speed: no equilibrium.
PlaningInput<> without_equilibrium() {
  PlaningInput<> input = craft;
  input.loading.lcg = 2.0 * metre;
  input.speed = 8.0 * knot;
  return input;
}
const SpeedPowerInput<> powered{.craft = craft, .overall_propulsive_coefficient = 0.55, .drag_factor = 1.1};
const TopSpeedInput<> limited{.run = powered, .brake_power = 560.0 * kilowatt};
template <class T>
concept finds_top_speed = requires(const TopSpeedInput<T>& input) {
  top_speed(input);
};
const PlaningAttitude<> attitude{.trim = 4.1 * degree, .mean_wetted_ratio = 2.3, .beam_froude_number = 2.2};
const WettedBottom<> wetted{.mean_wetted_ratio = 2.3, .beam_froude_number = 2.2};

}  // namespace

TEST_CASE("resistance, prediction: every formula gives the same in every scalar") {
  Formulas f;

  f.add("still_air_drag", []<class T>(As<T> as) { return still_air_drag(as(craft.added_drag), as(25.0 * knot)); });
  f.add("bottom_velocity_ratio_squared",
        []<class T>(As<T> as) { return bottom_velocity_ratio_squared(as(attitude), as(18.0 * degree)); });
  f.add("friction_coefficient", []<class T>(As<T> as) {
    std::vector<T> lines;
    for (const FrictionLine line :
         {FrictionLine::ittc_1957, FrictionLine::schoenherr, FrictionLine::schoenherr_textbook})
      lines.push_back(friction_coefficient(line, as(7.3e7)));
    return lines;
  });
  f.add("flat_lift_coefficient", []<class T>(As<T> as) { return flat_lift_coefficient(as(attitude)); });
  f.add("dynamic_lift_coefficient", []<class T>(As<T> as) { return dynamic_lift_coefficient(as(attitude)); });
  f.add("deadrise_lift_coefficient",
        []<class T>(As<T> as) { return deadrise_lift_coefficient(as(0.065), as(18.0 * degree)); });
  f.add("flat_lift_from_deadrise_lift",
        []<class T>(As<T> as) { return flat_lift_from_deadrise_lift(as(0.05), as(18.0 * degree)); });
  f.add("centre_of_pressure_ratio", []<class T>(As<T> as) { return centre_of_pressure_ratio(as(wetted)); });
  f.add("wetted_lengths", []<class T>(As<T> as) {
    std::vector<WettedLengths<T>> lengths;
    for (const double deadrise : {0.0, 18.0})
      for (const double ratio : {0.9, 2.3})
        lengths.push_back(wetted_lengths(as(WettedGeometry<>{.chine_beam = 3.2 * metre,
                                                             .deadrise = deadrise * degree,
                                                             .trim = 4.1 * degree,
                                                             .mean_wetted_ratio = ratio})));
    return lengths;
  });
  f.add(
      "planing_equilibrium",
      []<class T>(As<T> as) {
        return std::vector<RunningState<T>>{planing_equilibrium(as(craft)), planing_equilibrium(as(searched)),
                                            planing_equilibrium(as(without_equilibrium()))};
      },
      solved);
  f.add(
      "planing_equilibrium_paper_general",
      []<class T>(As<T> as) { return planing_equilibrium_paper_general(as(craft)); }, solved);
  f.add(
      "planing_equilibrium_paper_short", []<class T>(As<T> as) { return planing_equilibrium_paper_short(as(craft)); },
      solved);

  f.add(
      "running_state", []<class T>(As<T> as) { return running_state(PlaningBalance::paper_short, as(craft)); }, solved);
  f.add(
      "power_needed", []<class T>(As<T> as) { return power_needed(as(powered)); }, solved);
  f.add(
      "speed_power_curve",
      []<class T>(As<T> as) {
        const std::vector<Speed<T>> speeds{as(20.0 * knot), as(30.0 * knot)};
        return speed_power_curve(as(powered), speeds);
      },
      solved);

  // The search runs over speeds in double; what it finds carries derivatives. One craft at a time.
  static_assert(!finds_top_speed<long double> && !finds_top_speed<Strict>);
  f.in_scalars<Dual<2>>(
      "top_speed", []<class T>(As<T> as) { return top_speed(as(limited)); }, solved);
  f.in_scalars<Dual<2>>(
      "top_speed_span", []<class T>(As<T> as) { return top_speed_span(as(limited)); }, solved);

  // The cases are what their names say, so that drags were compared and not the lack of them.
  CHECK(power_needed(powered).state.outcome == Outcome::converged);
  CHECK(planing_equilibrium(searched).outcome == Outcome::converged);
  CHECK(planing_equilibrium_paper_general(craft).outcome == Outcome::converged);
  CHECK(planing_equilibrium_paper_short(craft).outcome == Outcome::converged);
  CHECK(planing_equilibrium(without_equilibrium()).outcome == Outcome::trim_beyond_range);
  CHECK(top_speed(limited).outcome == TopSpeedOutcome::found);

  check_complete(f, TestFile::planing);
}
