// Random inputs over the whole accepted ranges of the field tables, and what must hold of every answer: no number that
// is not finite in a result that says it is good, no hang, forces and moments in balance, flags that fit the numbers,
// identities, similitude, a smooth curve over speed, and one named refusal for a field that is spoilt.
//
//   properties CASES SEED          CASES random cases on all processors; exit status 1 if a property fails
//   properties again NAME SEED     one case once more, by the name and seed of a failure, with its inputs
#include <time.h>

#include <array>
#include <atomic>
#include <charconv>
#include <chrono>
#include <cstdlib>
#include <functional>
#include <iterator>
#include <map>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include "balance.hpp"
#include "draw.hpp"
#include "hardchine/craft/tank.hpp"
#include "hardchine/prediction/speed_power.hpp"
#include "hardchine/propulsion/slip.hpp"

namespace {

using namespace random_test;

// ------------------------------------------------------------------------------------------------------- one case

struct Failed {
  std::string what;
};

/// How often something was seen, by name: a property that never meets its case tests nothing.
using Tally = std::map<std::string, long, std::less<>>;

/// One random case: its draws, its checks, its inputs for the report.
class Case {
 public:
  Case(std::uint64_t seed, Tally& tally, bool tells) : random(seed), tally_(tally), tells_(tells) {}

  Random random;

  void seen(std::string_view what) {
    const auto at = tally_.find(what);
    if (at == tally_.end())
      tally_.emplace(what, 1);
    else
      ++at->second;
  }
  void input(std::string_view name, double value) const {
    if (tells_) std::printf("    %s = %.17g\n", std::string(name).c_str(), value);
  }
  template <class S>
  void input(std::string_view name, const S& aggregate) const {
    if (tells_) std::printf("  %s\n%s", std::string(name).c_str(), shown_input(aggregate).c_str());
  }

  static void check(bool holds, std::string_view property) {
    if (!holds) throw Failed{std::string(property)};
  }
  static void finite(double x, std::string_view what) {
    if (!std::isfinite(x)) throw Failed{joined({what, " is ", plain_number(x), " in a result that says it is good"})};
  }
  /// `got` is `wanted` within an absolute tolerance.
  static void near(double got, double wanted, double tolerance, std::string_view what) {
    if (std::abs(got - wanted) <= tolerance) return;
    char text[160];
    std::snprintf(text, sizeof text, ": %.17g, expected %.17g, tolerance %.3g", got, wanted, tolerance);
    throw Failed{joined({what, text})};
  }
  /// `call` throws BadInput about `field`; its function begins with `function`.
  template <class F>
  void refused(const F& call, std::string_view function, std::string_view field) {
    try {
      call();
    } catch (const BadInput& e) {
      if (e.field() != field || !e.function().starts_with(function))
        throw Failed{joined({"refusal of ", field, " in ", function, " reads: ", e.what()})};
      return;
    }
    throw Failed{joined({function, " accepts a bad ", field})};
  }

 private:
  Tally& tally_;
  bool tells_;
};

/// One unit in the last place of 1: the rounding of one operation is half of it.
constexpr double ulp = std::numeric_limits<double>::epsilon();

/// An answer, or nothing if it was refused, which must be about the field named; "" if it must be accepted.
template <class F>
auto answer(const F& call, const std::string& refused_field) -> std::optional<decltype(call())> {
  try {
    auto result = call();
    Case::check(refused_field.empty(), joined({"accepted, though ", refused_field, " should be refused"}));
    return result;
  } catch (const BadInput& e) {
    if (e.field() != refused_field) throw Failed{joined({"refused: ", e.what()})};
    return std::nullopt;
  }
}

// ------------------------------------------------------------------------------------------------- load and slip

void roll_up_case(Case& c) {
  Random& r = c.random;
  const bool large = r.chance(0.2);
  const int n = r.chance(0.02) ? 300 : r.whole(1, 12);
  std::vector<WeightItem<>> items(static_cast<std::size_t>(n));
  for (WeightItem<>& item : items) {
    draw(r, item, r.chance(0.3) ? 0.1 : 0.0);
    if (!large) item.mass = std::min(item.mass, 1e6 / n * kilogram);
    if (r.chance(0.05)) item.mass = 0.0 * kilogram;
    c.input("item", item);
  }
  long double mass = 0.0L;
  for (const WeightItem<>& item : items) mass += static_cast<long double>(item.mass.value());
  const double total = static_cast<double>(mass);
  if (std::abs(total - 1e6) < 1e-6) return;  // rounding decides
  const bool accepted = total > 0.0 && total < 1e6;
  const auto rolled = answer([&] { return roll_up<double>(items); }, accepted ? "" : "displacement");
  c.seen(rolled ? "accepted" : "refused");
  if (!rolled) return;
  // Each of n additions rounds once.
  const double rounding = 2.0 * ulp * (n + 2);
  Case::near(rolled->mass.value(), total, rounding * total, "mass");
  const auto coordinate = [&](Length<> WeightItem<>::*place, const Length<>& got, const char* name) {
    long double moment = 0.0L;
    double least = 1e9, greatest = -1e9, gross = 0.0;
    bool known = true;
    for (const WeightItem<>& item : items) {
      if (!(item.mass > 0.0 * kilogram)) continue;
      const double x = (item.*place).value();
      known = known && is_set(item.*place);
      moment += static_cast<long double>(item.mass.value()) * static_cast<long double>(x);
      gross += item.mass.value() * std::abs(x);
      least = std::min(least, x);
      greatest = std::max(greatest, x);
    }
    Case::check(is_set(got) == known, joined({name, " is set exactly where every item with mass has its place"}));
    if (!known) return;
    const double slack = rounding * gross / total;
    Case::near(got.value(), static_cast<double>(moment / mass), slack, name);
    Case::check(got.value() >= least - slack && got.value() <= greatest + slack, "the centre is among the items");
  };
  coordinate(&WeightItem<>::x, rolled->lcg, "LCG");
  coordinate(&WeightItem<>::y, rolled->tcg, "TCG");
  coordinate(&WeightItem<>::z, rolled->vcg, "VCG");

  // In another order, and with one item as two: the same to rounding.
  std::vector<WeightItem<>> other = items;
  for (std::size_t i = other.size(); i > 1; --i)
    std::swap(other[i - 1], other[static_cast<std::size_t>(r.whole(0, static_cast<int>(i) - 1))]);
  const double part = r.share();
  WeightItem<> half = other.front();
  half.mass = part * half.mass;
  other.front().mass -= half.mass;
  other.push_back(half);
  const Loading<> again = roll_up<double>(other);
  Case::near(again.mass.value(), rolled->mass.value(), 2.0 * rounding * total, "mass in another order");
  const double reach = 300.0;  // metres: twice the longest arm
  const auto same = [&](const Length<>& a, const Length<>& b, const char* name) {
    Case::check(is_set(a) == is_set(b), joined({name, " in another order is set alike"}));
    if (is_set(a)) Case::near(a.value(), b.value(), 2.0 * rounding * reach, joined({name, " in another order"}));
  };
  same(again.lcg, rolled->lcg, "LCG");
  same(again.tcg, rolled->tcg, "TCG");
  same(again.vcg, rolled->vcg, "VCG");

  const Density<> density = r.from_to(900.0, 1200.0) * kilogram_per_cubic_metre;
  const Volume<> volume = displaced_volume(rolled->mass, density);
  Case::near(volume.value() * density.value(), rolled->mass.value(), 4.0 * ulp * total, "volume times density");
  const Length<> beam = r.from_to(0.06, 30.0) * metre;
  const double C = beam_load_coefficient(volume, beam);
  Case::finite(C, "C_Delta");
  Case::near(C * std::pow(beam.value(), 3.0), volume.value(), 32.0 * ulp * volume.value(), "C_Delta b^3");
}

void tank_case(Case& c) {
  Tank<> tank = drawn<Tank<>>(c.random, 0.2);
  c.input("tank", tank);
  const Volume<> contents = contents_volume(tank);
  const WeightItem<> item = weight_item(tank);
  Case::check(contents <= tank.capacity, "no more in a tank than it holds");
  Case::near(contents.value(), tank.capacity.value() * tank.fill, 0.0, "contents");
  Case::near(item.mass.value() / tank.contents.value(), contents.value(), 2.0 * ulp * contents.value(), "tank's mass");
  for (const auto& [got, wanted] : {std::pair{item.x, tank.x}, {item.y, tank.y}, {item.z, tank.z}})
    Case::check(is_set(got) == is_set(wanted) && !(got < wanted || got > wanted), "place of a tank");
}

void slip_case(Case& c) {
  Random& r = c.random;
  ScrewAdvance<> a = drawn<ScrewAdvance<>>(r);
  if (r.chance(0.5))
    a = {.engine_speed = r.from_to(600.0, 6000.0) * rpm,
         .reduction_ratio = r.from_to(1.0, 3.5),
         .pitch = r.from_to(8.0, 50.0) * inch,
         .speed = r.from_to(1.0, 60.0) * knot};
  c.input("screw", a);
  const Speed<> v_t = theoretical_speed(
      ScrewSpeed<>{.engine_speed = a.engine_speed, .reduction_ratio = a.reduction_ratio, .pitch = a.pitch});
  Case::finite(v_t.value(), "theoretical speed");
  const double advance = in(a.pitch, metre) * a.engine_speed.value() / a.reduction_ratio;
  Case::near(v_t.value(), advance, 4.0 * ulp * advance, "theoretical speed");
  const double s = apparent_slip(a);
  Case::finite(s, "apparent slip");
  const double ratio = a.speed.value() / advance;
  Case::near(s, 1.0 - ratio, 8.0 * ulp * (1.0 + ratio), "apparent slip");
  Case::check(s <= 1.0, "no slip above 1 without moving astern");

  const double w = r.from_to(-0.5, 0.9);
  const double s_R = real_slip(a, w);
  Case::finite(s_R, "real slip");
  Case::near(s_R, 1.0 - (1.0 - w) * ratio, 16.0 * ulp * (1.0 + 2.0 * ratio), "real slip");
  Case::check((w >= 0.0) == (s_R >= s) || std::abs(w) * ratio < 1e-12 * (1.0 + ratio), "wake adds to slip");

  // The way back, each where its door lets the slip through. V = V_t (1 - s): the rounding of 1 - s counts V_t.
  const double percent_slip = s / percent, near_end = 1e-9;
  if (std::abs(percent_slip + 1000.0) < near_end || std::abs(percent_slip - 99.99) < near_end) return;
  const std::string field = "apparent slip";
  const double lost = 8.0 * ulp * (1.0 + 1.0 / std::max(ratio, 1e-300));  // relative rounding of 1 - s
  const auto speed = answer(
      [&] {
        return speed_from_slip(SpeedFromSlip<>{.engine_speed = a.engine_speed,
                                               .reduction_ratio = a.reduction_ratio,
                                               .pitch = a.pitch,
                                               .apparent_slip = s});
      },
      percent_slip < -1000.0 ? field : "");
  if (speed) Case::near(speed->value(), a.speed.value(), 8.0 * ulp * (a.speed.value() + advance), "speed from slip");
  c.seen(speed ? "inverse accepted" : "inverse refused");
  const bool moving = a.speed > 0.0 * knot;
  const std::string refusal = !moving ? "speed" : percent_slip < -1000.0 || percent_slip > 99.99 ? field : "";
  const auto pitch = answer(
      [&] {
        return pitch_from_slip(PitchFromSlip<>{.engine_speed = a.engine_speed,
                                               .reduction_ratio = a.reduction_ratio,
                                               .speed = a.speed,
                                               .apparent_slip = s});
      },
      refusal);
  if (pitch) Case::near(pitch->value(), a.pitch.value(), lost * a.pitch.value(), "pitch from slip");
  const auto engine = answer(
      [&] {
        return engine_speed_from_slip(EngineSpeedFromSlip<>{
            .reduction_ratio = a.reduction_ratio, .pitch = a.pitch, .speed = a.speed, .apparent_slip = s});
      },
      refusal);
  if (engine) Case::near(engine->value(), a.engine_speed.value(), lost * a.engine_speed.value(), "engine from slip");
  const auto gear = answer(
      [&] {
        return reduction_ratio_from_slip(ReductionRatioFromSlip<>{
            .engine_speed = a.engine_speed, .pitch = a.pitch, .speed = a.speed, .apparent_slip = s});
      },
      refusal);
  if (gear) Case::near(*gear, a.reduction_ratio, lost * a.reduction_ratio, "reduction ratio from slip");
}

// --------------------------------------------------------------------------------------------- water and friction

void water_case(Case& c) {
  Random& r = c.random;
  const double t = accepted_value(r, {-2.0, 40.0});
  const Salinity<> salinity = drawn<Salinity<>>(r);
  const double S = in_absolute_salinity(salinity);
  c.input("temperature, C", t);
  c.input("salinity", salinity);
  const Temperature<> temperature = celsius(t);
  const double read = in_celsius(temperature);
  const auto sound = [&](const Water<>& w, bool salt) {
    Case::finite(w.density.value(), "density");
    Case::finite(w.kinematic_viscosity.value(), "viscosity");
    Case::finite(w.vapour_pressure.value(), "vapour pressure");
    check_fields("water as an input of the equilibrium", w);
    const auto flagged = [&](WaterLimit limit, bool up) {
      Case::check(has_flag(w.flags, limit) == up, water_limits[static_cast<std::size_t>(limit)].sentence);
      if (up) c.seen(water_limits[static_cast<std::size_t>(limit)].sentence);
    };
    flagged(WaterLimit::temperature, false);
    flagged(WaterLimit::salinity, false);
    flagged(WaterLimit::vapour_pressure_below_triple_point, read < 0.01);
    flagged(WaterLimit::sea_viscosity_below_zero, salt && read < 0.0);
  };
  const Water<> sea = sea_water(temperature, salinity), fresh = fresh_water(temperature);
  sound(sea, true);
  sound(fresh, false);
  const Water<> unsalted = sea_water(temperature, absolute_salinity(0.0));
  Case::near(unsalted.density.value(), fresh.density.value(), 0.0, "sea water without salt: density");
  Case::near(unsalted.kinematic_viscosity.value(), fresh.kinematic_viscosity.value(), 0.0, "without salt: viscosity");
  Case::near(unsalted.vapour_pressure.value(), fresh.vapour_pressure.value(), 0.0, "without salt: vapour pressure");
  const double mu = sea_water_viscosity(temperature, salinity).value();
  Case::near(sea.kinematic_viscosity.value() * sea.density.value(), mu, 4.0 * ulp * mu, "nu = mu/rho");
  // The older equation of state by its own formula: they part by 0.011 kg/m3 at most, at -2 C and a salinity of 42.
  const double older = sea_water_density_eos80(temperature, salinity).value();
  Case::near(older, sea.density.value(), 0.012, "EOS-80 against TEOS-10");

  // Salt makes water heavier, thicker and less volatile; warmth makes it thinner and more volatile.
  const double dS = r.from_to(0.1, 5.0), dt = r.from_to(0.1, 5.0);
  if (S + dS <= 42.0) {
    const Water<> saltier = sea_water(temperature, absolute_salinity(S + dS));
    Case::check(saltier.density > sea.density, "density rises with salinity");
    Case::check(saltier.vapour_pressure < sea.vapour_pressure, "vapour pressure falls with salinity");
    Case::check(sea_water_viscosity(temperature, absolute_salinity(S + dS)).value() > mu, "viscosity rises with salt");
  }
  if (t + dt <= 40.0) {
    const Water<> warmer = sea_water(celsius(t + dt), salinity);
    Case::check(warmer.kinematic_viscosity < sea.kinematic_viscosity, "viscosity falls with warmth");
    Case::check(warmer.vapour_pressure > sea.vapour_pressure, "vapour pressure rises with warmth");
  }
}

void friction_case(Case& c) {
  Random& r = c.random;
  const double Re = std::clamp(r.log_from_to(1e5, 1e12), 1e5, 1e12);
  const FrictionLine line = any_choice<FrictionLine>(r);
  c.input("Reynolds number", Re);
  c.input("line", static_cast<double>(line));
  const double C_F = friction_coefficient(line, Re);
  Case::finite(C_F, "C_F");
  // The bisection closes to rounding; a rounding of log10 counts (C_F/2) d(1/sqrt C_F)-fold, below 20.
  Case::near(C_F, friction(line, Re), 1e-13 * C_F, "C_F by an independent solution");
  const double larger_Re = Re * r.log_from_to(1.0001, 100.0);
  if (larger_Re <= 1e12) Case::check(friction_coefficient(line, larger_Re) < C_F, "C_F falls with Re");
  // No formula at all: with derivatives carried, dC_F/dRe equals the slope of a chord about it.
  const Dual<1> with_slope = friction_coefficient(line, Dual<1>::input(Re, 0));
  Case::near(with_slope.value, C_F, 0.0, "C_F with derivatives");
  const double h = 1e-4 * Re;
  if (Re - h >= 1e5 && Re + h <= 1e12) {
    const double chord = (friction_coefficient(line, Re + h) - friction_coefficient(line, Re - h)) / (2.0 * h);
    // Error of the chord: h^2/6 times the third derivative, about 2 h^2/Re^2 of the slope; and rounding of C_F over h.
    Case::near(with_slope.derivative[0], chord, 1e-7 * std::abs(chord) + 16.0 * ulp * C_F / h, "slope of C_F");
  }
}

void lift_case(Case& c) {
  Random& r = c.random;
  PlaningAttitude<> a = drawn<PlaningAttitude<>>(r);
  const Angle<> deadrise = accepted_value(r, {0.0, 45.0 * degree.value()}) * radian;
  c.input("attitude", a);
  c.input("deadrise, rad", deadrise.value());
  const double C_L0 = flat_lift_coefficient(a);
  Case::finite(C_L0, "C_L0");
  const double dynamic = dynamic_lift_coefficient(a);
  Case::finite(dynamic, "dynamic lift");
  Case::check(dynamic <= C_L0, "the dynamic part is no more than the lift");
  const double C_p = centre_of_pressure_ratio(
      WettedBottom<>{.mean_wetted_ratio = a.mean_wetted_ratio, .beam_froude_number = a.beam_froude_number});
  Case::check(C_p >= 0.331 && C_p <= 0.75, "C_p lies between its ends");
  Case::finite(bottom_velocity_ratio_squared(a, deadrise), "bottom velocity ratio");
  if (C_L0 > 0.0 && C_L0 <= 1e6) {
    const double C_Lb = deadrise_lift_coefficient(C_L0, deadrise);
    Case::finite(C_Lb, "C_Lb");
    Case::check(C_Lb <= C_L0, "deadrise costs lift");
    if (C_Lb > 0.0) {
      // Near the zero of eq 16 the difference of two equal terms keeps few digits: they count C_L0.
      Case::near(flat_lift_from_deadrise_lift(C_Lb, deadrise), C_L0, 32.0 * ulp * C_L0, "eq 16 and back");
    }
  }
  const WettedLengths<> l = wetted_lengths(WettedGeometry<>{.chine_beam = r.from_to(0.06, 30.0) * metre,
                                                            .deadrise = deadrise,
                                                            .trim = a.trim,
                                                            .mean_wetted_ratio = a.mean_wetted_ratio});
  Case::finite(l.keel.value(), "keel length");
  Case::finite(l.chine.value(), "chine length");
  Case::finite(l.draft.value(), "draft");
  Case::check(l.keel >= l.chine, "the keel is wetted no less than the chine");
  Case::check(l.draft > 0.0 * metre, "a draft is positive");
}

// --------------------------------------------------------------------------------------------- planing equilibrium

Form form_of(PlaningBalance balance) {
  return balance == PlaningBalance::closed          ? Form::closed
         : balance == PlaningBalance::paper_general ? Form::general
                                                    : Form::short_form;
}

/// A boat as boats are: the numbers of a design book, over the whole-range draw of everything else.
void make_realistic(Random& r, PlaningInput<>& craft) {
  const double b = r.log_from_to(0.2, 8.0);
  const double L = b * r.from_to(2.5, 6.0);
  const double C_Delta = r.log_from_to(0.12, 1.2);
  const bool sea = r.chance(0.7);
  craft.hull.chine_beam = b * metre;
  craft.hull.deadrise = r.chance(0.1) ? 0.0 * degree : r.from_to(2.0, 28.0) * degree;
  craft.hull.projected_chine_length = L * metre;
  craft.water = sea ? sea_water(celsius(r.from_to(2.0, 30.0))) : fresh_water(celsius(r.from_to(2.0, 30.0)));
  craft.loading.mass = C_Delta * craft.water.density.value() * b * b * b * kilogram;
  craft.loading.lcg = r.from_to(0.28, 0.48) * L * metre;
  craft.loading.vcg = r.from_to(0.1, 0.7) * b * metre;
  const Angle<> eps = r.from_to(-5.0, 15.0) * degree;
  craft.thrust_line =
      r.chance(0.3) ? through_cg_parallel_to_keel()
      : r.chance(0.5)
          ? thrust_below_cg(eps, r.from_to(-0.2, 0.6) * b * metre)
          : shaft_line(ShaftPoint<>{
                .inclination = eps, .x = r.from_to(-0.1, 0.3) * L * metre, .z = r.from_to(-0.4, 0.3) * b * metre});
  craft.gravity = standard_gravity;
  craft.speed = std::min(r.log_from_to(0.5, 12.0) * sqrt(craft.gravity * craft.hull.chine_beam), 200.0 * knot);
  craft.roughness_allowance = r.chance(0.5) ? attc_standard_allowance : 0.0;
  craft.added_drag = {};
  if (r.chance(0.5)) {
    craft.added_drag.appendage_fraction = r.from_to(0.0, 0.2);
    craft.added_drag.frontal_area = r.from_to(0.2, 1.0) * b * b * square_metre;
    craft.added_drag.air_drag_coefficient = r.from_to(0.4, 1.0);
  }
}

/// A craft that its field table accepts; mostly one that the balances accept too.
PlaningInput<> any_craft(Random& r, double realistic_share = 0.5) {
  auto craft = drawn<PlaningInput<>>(r, 0.1);
  if (r.chance(0.97)) {
    craft.hull.number_of_hulls = 1;
    craft.hull.stepped = false;
    craft.loading.lcg = r.share() * craft.hull.projected_chine_length;
    if (!is_set(craft.loading.vcg)) craft.loading.vcg = r.from_to(-5.0, 30.0) * metre;
    if (craft.thrust_line.reference == ThrustReference::not_chosen)
      craft.thrust_line.reference = ThrustReference::distance_from_cg;
    if (!is_set(craft.thrust_line.distance_below_cg))
      craft.thrust_line.distance_below_cg = r.from_to(-2.0, 2.0) * metre;
    if (!is_set(craft.thrust_line.x)) craft.thrust_line.x = 0.0 * metre;
    if (!is_set(craft.thrust_line.z)) craft.thrust_line.z = 0.0 * metre;
    if (r.chance(realistic_share)) make_realistic(r, craft);
  }
  return craft;
}

/// The field that a balance must refuse beyond what the field table says; "" if none.
std::string refused_field(const PlaningInput<>& craft, Form form) {
  if (form != Form::short_form && !is_set(craft.loading.vcg)) return "VCG";
  if (!(craft.loading.lcg > 0.0 * metre)) return "LCG";
  if (craft.loading.lcg >= craft.hull.projected_chine_length) return "LCG";
  if (craft.hull.number_of_hulls != 1) return "number of hulls";
  if (craft.hull.stepped) return "stepped";
  if (form == Form::short_form) return "";
  const ThrustLine<>& line = craft.thrust_line;
  switch (line.reference) {
    case ThrustReference::not_chosen:
      return "thrust line";
    case ThrustReference::distance_from_cg:
      return is_set(line.distance_below_cg) ? "" : "thrust line below CG";
    case ThrustReference::point:
      return !is_set(line.x) ? "thrust line point x" : !is_set(line.z) ? "thrust line point z" : "";
  }
  return "";
}

/// Every number of a running state, by name. A new member breaks the structured binding and must be named here.
std::vector<std::pair<const char*, double>> numbers_of(const RunningState<>& s) {
  const auto& [outcome, flags, method, V, C_v, F_nV, C_Lb, C_L0, tau, lambda, L_k, L_c, d, l_p, V_1, Re, C_F, L, N, T,
               pressure, D_f, bare, appendage, air, total, P_bare, P_E, vertical, moment, refused] = s;
  Case::check(refused == 0, "a single craft is refused by a throw");
  return {{"lift coefficient", C_Lb},
          {"flat lift coefficient", C_L0},
          {"trim", tau.value()},
          {"mean wetted ratio", lambda},
          {"keel wetted length", L_k.value()},
          {"chine wetted length", L_c.value()},
          {"draft", d.value()},
          {"centre of pressure", l_p.value()},
          {"bottom velocity", V_1.value()},
          {"Reynolds number", Re},
          {"friction coefficient", C_F},
          {"load", L.value()},
          {"normal force", N.value()},
          {"thrust", T.value()},
          {"pressure drag", pressure.value()},
          {"friction force", D_f.value()},
          {"bare drag", bare.value()},
          {"appendage drag", appendage.value()},
          {"air drag", air.value()},
          {"total drag", total.value()},
          {"bare effective power", P_bare.value()},
          {"effective power", P_E.value()},
          {"vertical residual", vertical},
          {"moment residual", moment}};
}

/// What a scan over lambda sees.
struct Scan {
  int stable = 0;  ///< the moment along the balance of vertical forces falls through zero
  int usable =
      0;  ///< and within what boats do: trim 0.1 to 14 degrees, a load up to twice the weight, long enough; and
          ///< no unstable balance within three times or a third of the wetted length: the library looks at 16
          ///< lengths up to 12 beams, and both of a pair may lie between two of them
};
Scan scan_balances(const PlaningInput<>& craft, Form form, int steps) {
  const double greatest = 12.0, least = 1e-6;
  const double C_Lb =
      craft.loading.mass.value() * craft.gravity.value() /
      (0.5 * craft.water.density.value() * std::pow(craft.speed.value() * craft.hull.chine_beam.value(), 2.0));
  std::optional<double> before;
  double open = 0.0, last_unstable = 0.0;
  Scan found;
  for (int i = 0; i <= steps; ++i) {
    const double lambda = least * std::exp(std::log(greatest / least) * i / steps);
    // The trim that carries the load, by bisection: lift and lifting thrust rise with it.
    double low = 1e-4, high = 0.5;
    const auto vertical = [&](double tau) {
      const Forces f = forces_at(craft, form, lambda, tau);
      if (form != Form::closed) return f.C_Lb - C_Lb;
      const double N = (f.L + f.D_f * std::sin(tau)) / std::cos(tau);
      const double T = (f.D_f * std::cos(tau) + N * std::sin(tau)) / std::cos(tau + f.eps);
      return f.L + T * std::sin(tau + f.eps) - f.W;
    };
    std::optional<double> now;
    double load = 0.0;
    if ((vertical(low) < 0.0) != (vertical(high) < 0.0)) {
      for (int k = 0; k < 60; ++k) {
        const double middle = 0.5 * (low + high);
        (vertical(middle) < 0.0 ? low : high) = middle;
      }
      const Forces f = forces_at(craft, form, lambda, low);
      const double scale = form == Form::closed ? f.W : C_Lb;
      // Where the bottom velocity ends the bisection meets that end and no balance.
      if (std::abs(vertical(low)) < 1e-6 * scale) {
        load = form == Form::closed ? f.L : f.W;
        const double line = low + f.eps;
        const double N = form == Form::closed ? (f.L + f.D_f * std::sin(low)) / std::cos(low)
                                              : f.W * (1.0 - std::sin(low) * std::sin(line)) / std::cos(low);
        const double T = form == Form::closed ? (f.D_f * std::cos(low) + N * std::sin(low)) / std::cos(line)
                                              : f.W * std::sin(low) + f.D_f;
        now = N * (craft.loading.lcg.value() - f.l_p) + f.D_f * f.a - T * f.f;
      }
    }
    if (now && before && *before > 0.0 && *now <= 0.0) {
      ++found.stable;
      const double trim = low * 180.0 / std::numbers::pi, weight = (craft.loading.mass * craft.gravity).value();
      if (trim > 0.1 && trim < 14.0 && load > 0.0 && load < 2.0 * weight && lambda > 3.0 * last_unstable &&
          lambda * craft.hull.chine_beam < craft.hull.projected_chine_length)
        open = lambda;
    }
    if (now && before && *before <= 0.0 && *now > 0.0) {
      if (open > 0.0 && lambda > 3.0 * open) ++found.usable;
      open = 0.0;
      last_unstable = lambda;
    }
    before = now;
  }
  if (open > 0.0) ++found.usable;
  return found;
}

/// What must hold of a running state.
void check_state(Case& c, const PlaningInput<>& craft, Form form, const RunningState<>& s) {
  Case::check(s.method != nullptr, "the state names its method");
  Case::check(s.speed == craft.speed, "the state has the speed that was asked");
  Case::finite(s.beam_froude_number, "C_v");
  Case::finite(s.volume_froude_number, "F_nV");
  const double g = craft.gravity.value(), b = craft.hull.chine_beam.value(), V = craft.speed.value();
  Case::near(s.beam_froude_number, V / std::sqrt(g * b), 8.0 * ulp * s.beam_froude_number, "C_v");
  const double volume = craft.loading.mass.value() / craft.water.density.value();
  Case::near(s.volume_froude_number, V / std::sqrt(g * std::cbrt(volume)), 16.0 * ulp * s.volume_froude_number, "F_nV");
  c.seen(words(s.outcome));
  const bool good = s.outcome == Outcome::converged;
  for (const auto& [name, x] : numbers_of(s)) {
    if (good)
      Case::finite(x, name);
    else
      Case::check(std::isnan(x), joined({name, " is set without an answer"}));
  }
  if (!good) {
    Case::check(s.flags == 0, "flags are up without an answer");
    // A scan of its own must not see what was not found.
    if (s.outcome != Outcome::bottom_velocity_undefined && c.random.chance(0.02)) {
      c.seen("no answer, looked through");
      Case::check(scan_balances(craft, form, 200).usable == 0, joined({"a balance was missed: ", words(s.outcome)}));
    }
    return;
  }

  const double tau = s.trim.value(), lambda = s.mean_wetted_ratio;
  Case::check(tau > 0.0 && tau < 0.5, "trim in its range");
  Case::check(lambda > 0.0 && lambda <= 12.0, "mean wetted ratio in its range");
  Case::check(lambda * b <= craft.hull.projected_chine_length.value(), "no longer than the boat");
  const Forces f = forces_at(craft, form, lambda, tau);
  const double W = f.W, L = s.load.value(), N = s.normal_force.value(), T = s.thrust.value();
  const double D_f = s.friction_force.value(), bare = s.bare_drag.value();
  const double sin_tau = std::sin(tau), cos_tau = std::cos(tau), line = tau + f.eps;
  // Rounding of the sums of what may be much larger than the weight.
  const double forces = W + std::abs(N) + std::abs(T) + f.gross_D_f;
  const double q_b2 = 0.5 * craft.water.density.value() * V * V * b * b;
  // Deadrise takes most of the lift of a lightly laden bottom: the difference keeps the rounding of its terms.
  const double of_weight = 1e-10 * W + 1e-13 * forces + 1e-14 * f.C_L0 * q_b2;
  // A wetted length of 1e-15 beams, as a boat of 1e-25 kg has, is lost in the rounding of eq 16 and 24.
  const double lost = 1e-14 * f.C_Ld / (lambda * cos_tau);
  if (lost > 1e-8) return c.seen("wetted length lost in rounding");
  Case::check(f.velocity_ratio_squared > 0.0, "a bottom velocity exists");
  const double V_1 = s.bottom_velocity.value();
  // 1 - x loses digits where the bottom velocity is small.
  const double small_velocity = (1e-13 + lost) * V / std::sqrt(f.velocity_ratio_squared);
  Case::near(V_1, f.V_1, small_velocity, "bottom velocity");
  Case::near(s.reynolds_number, f.Re, 1e-12 * f.Re + f.Re / f.V_1 * small_velocity, "Reynolds number");
  Case::near(s.friction_coefficient, friction(craft.friction_line, s.reynolds_number), 1e-12 * f.C_F, "C_F");
  Case::near(D_f, f.D_f, of_weight + 1e-11 * f.gross_D_f * V / f.V_1, "friction force");
  Case::near(s.centre_of_pressure.value(), f.l_p, 1e-12 * f.l_p, "centre of pressure");
  Case::near(s.flat_lift_coefficient, f.C_L0, 1e-10 * f.C_L0, "eq 15");
  Case::near(s.lift_coefficient * q_b2, f.L, of_weight, "eq 16");
  Case::near(L, form == Form::closed ? f.L : W, of_weight, "load on the bottom");
  Case::check(L > 0.0, "the load on the bottom is positive");

  const double lcg = craft.loading.lcg.value();
  const double arms = std::abs(N * (lcg - f.l_p)) + f.gross_D_f * (std::abs(f.a) + std::abs(f.f)) + std::abs(T * f.f) +
                      std::abs(N) * lcg;
  const double of_moment = 1e-10 * W * b + 1e-13 * arms + 1e-14 * f.C_L0 * q_b2 * (lcg + std::abs(f.f));
  if (form == Form::closed) {
    Case::near(N * cos_tau + T * std::sin(line) - D_f * sin_tau, W, of_weight, "vertical forces, eq 29");
    Case::near(T * std::cos(line), D_f * cos_tau + N * sin_tau, of_weight, "forces along, eq 30");
    Case::near(N * (lcg - f.l_p) + D_f * f.a - T * f.f, 0.0, of_moment, "moments, eq 31");
    Case::near(bare, T * std::cos(line), of_weight, "the thrust pulls the bare drag");
  } else {
    Case::near(N, W * (1.0 - sin_tau * std::sin(line)) / cos_tau, of_weight, "normal force, eq 34");
    Case::near(T, W * sin_tau + D_f, of_weight, "thrust");
    Case::near(N * (lcg - f.l_p) - W * sin_tau * f.f + D_f * (f.a - f.f), 0.0, of_moment, "moments, eq 35");
  }
  Case::near(s.vertical_residual, 0.0, of_weight / W, "the vertical residual given");
  Case::near(s.moment_residual, 0.0, of_moment / (W * b), "the moment residual given");

  const double pressure = L * std::tan(tau);
  Case::near(s.pressure_drag.value(), pressure, 8.0 * ulp * pressure, "pressure drag");
  Case::near(bare, pressure + D_f / cos_tau, 1e-14 * forces, "bare drag");
  Case::near(s.appendage_drag.value(), bare * craft.added_drag.appendage_fraction, 4.0 * ulp * std::abs(bare),
             "appendages");
  const AddedDrag<>& added = craft.added_drag;
  const double air = 0.5 * added.air_density.value() * added.air_drag_coefficient * added.frontal_area.value() * V * V;
  Case::near(s.air_drag.value(), air, 8.0 * ulp * air, "air drag");
  const double total = bare + s.appendage_drag.value() + air;
  Case::near(s.total_drag.value(), total, 8.0 * ulp * (std::abs(bare) * 2.0 + air), "total drag");
  Case::near(s.bare_effective_power.value(), bare * V, 4.0 * ulp * std::abs(bare * V), "bare drag times speed");
  Case::near(s.effective_power.value(), s.total_drag.value() * V, 4.0 * ulp * std::abs(total * V), "drag times speed");

  const double half = b * std::tan(craft.hull.deadrise.value()) / (2.0 * std::numbers::pi * std::tan(tau));
  Case::near(s.keel_wetted_length.value(), lambda * b + half, 1e-13 * (lambda * b + half), "keel length, eq 3");
  Case::near(s.chine_wetted_length.value(), lambda * b - half, 1e-13 * (lambda * b + half), "chine length, eq 3");
  if (half > 0.0)
    Case::near(s.draft.value(), (lambda * b + half) * sin_tau, 1e-13 * (lambda * b + half), "draft");
  else
    Case::check(s.draft > 0.0 * metre && s.draft.value() <= lambda * b * sin_tau * (1.0 + 4.0 * ulp), "flat draft");

  Case::check((s.flags >> planing_limits.size()) == 0, "no flag beyond the list");
  for (std::size_t i = 0; i < planing_limits.size(); ++i) {
    const auto limit = static_cast<PlaningLimit>(i);
    const bool up = has_flag(s.flags, limit);
    if (up) c.seen(planing_limits[i].sentence);
    const Side expected = expected_flag(limit, craft, s, f);
    if (!expected.sure || up == expected.beyond) continue;
    // The search itself may have seen a second balance: then a finer one sees it as well.
    if (limit == PlaningLimit::second_equilibrium && up && scan_balances(craft, form, 4000).stable > 1) {
      c.seen("second balance found by the search");
      continue;
    }
    throw Failed{joined({"flag ", up ? "up: " : "not up: ", planing_limits[i].sentence})};
  }
}

template <PlaningBalance balance>
void equilibrium_case(Case& c) {
  const PlaningInput<> craft = any_craft(c.random);
  c.input("craft", craft);
  const Form form = form_of(balance);
  const auto s = answer([&] { return running_state(balance, craft); }, refused_field(craft, form));
  if (s)
    check_state(c, craft, form, *s);
  else
    c.seen("refused");
}

/// Lengths times k, speeds times the root of k, masses times k^3: the same attitude, forces times k^3. The friction line
/// sees the Reynolds number: with viscosity times k^1.5 it stays and everything scales. Without that, the short form,
/// whose balance knows no friction, keeps its attitude and its pressure drag scales.
void similitude_case(Case& c) {
  Random& r = c.random;
  PlaningInput<> craft = any_craft(r, 0.9);
  const auto balance = any_choice<PlaningBalance>(r);
  const Form form = form_of(balance);
  if (!refused_field(craft, form).empty()) return;
  const double k = r.log_from_to(0.25, 4.0), heavier = r.from_to(0.98, 1.02);
  PlaningInput<> scaled = craft;
  const auto lengthen = [&](Length<>& length) { length *= k; };
  for (Length<>* length :
       {&scaled.hull.chine_beam, &scaled.hull.projected_chine_length, &scaled.loading.lcg, &scaled.loading.vcg,
        &scaled.thrust_line.distance_below_cg, &scaled.thrust_line.x, &scaled.thrust_line.z})
    lengthen(*length);
  scaled.loading.tcg = unset;
  scaled.loading.mass *= k * k * k * heavier;
  scaled.water.density *= heavier;
  scaled.added_drag.air_density *= heavier;
  scaled.added_drag.frontal_area *= k * k;
  scaled.speed *= std::sqrt(k);
  const bool with_friction = form != Form::short_form || r.chance(0.5);
  if (with_friction) scaled.water.kinematic_viscosity *= k * std::sqrt(k);
  const double forces = k * k * k * heavier;
  c.input("craft", craft);
  c.input("k", k);
  c.input("scaled", scaled);
  try {
    check_fields("similitude", scaled);
  } catch (const BadInput&) {
    c.seen("scaled out of a range");
    return;
  }
  const RunningState<> small = running_state(balance, craft), large = running_state(balance, scaled);
  if (small.outcome != Outcome::converged || large.outcome != Outcome::converged) {
    if (small.outcome == large.outcome) return;
    // An end of the range may fall between the two by rounding: then the smaller craft meets it within a hair of speed.
    c.seen("outcomes differ");
    PlaningInput<> beside = craft;
    const bool by_rounding = [&] {
      for (const double factor : {1.0 - 1e-9, 1.0 + 1e-9}) {
        beside.speed = craft.speed * factor;
        if (running_state(balance, beside).outcome == large.outcome) return true;
      }
      return false;
    }();
    Case::check(by_rounding,
                joined({"another outcome at another scale: ", words(small.outcome), "; ", words(large.outcome)}));
    return;
  }
  c.seen(with_friction ? "scaled with friction" : "scaled without friction");
  // Each input was rounded: what the equilibrium makes of a change of one unit in the last place is its own affair, so
  // 1e-8 for the ill-conditioned ones; a wrong power of a length is wrong in the first digit.
  const auto same = [&](double a, double b, const char* what) { Case::near(b, a, 1e-8 * std::abs(a), what); };
  same(small.trim.value(), large.trim.value(), "trim at another scale");
  same(small.mean_wetted_ratio, large.mean_wetted_ratio, "mean wetted ratio at another scale");
  same(small.pressure_drag.value() * forces, large.pressure_drag.value(), "pressure drag at another scale");
  if (!with_friction) return;
  same(small.reynolds_number, large.reynolds_number, "Reynolds number at another scale");
  same(small.total_drag.value() * forces, large.total_drag.value(), "total drag at another scale");
  same(small.thrust.value() * forces, large.thrust.value(), "thrust at another scale");
  const double power = forces * std::sqrt(k);
  same(small.effective_power.value() * power, large.effective_power.value(), "power at another scale");
}

/// The curve over speed has no holes and no jumps: between two speeds near each other a number changes by something
/// between the two predictions that its exact derivative at either end makes.
void continuity_case(Case& c) {
  Random& r = c.random;
  const PlaningInput<> craft = any_craft(r, 0.9);
  const auto balance = any_choice<PlaningBalance>(r);
  const Form form = form_of(balance);
  if (!refused_field(craft, form).empty()) return;
  const double h = r.log_from_to(1e-6, 1e-3);
  c.input("craft", craft);
  c.input("step", h);
  c.input("balance", static_cast<double>(balance));
  const auto at = [&](double factor) {
    PlaningInput<Dual<1>> moved = craft;
    moved.speed = seed<1>(craft.speed * factor, 0);
    return running_state(balance, moved);
  };
  if (craft.speed * (1.0 + 2.0 * h) > 200.0 * knot) return;
  const RunningState<Dual<1>> first = at(1.0), second = at(1.0 + h), third = at(1.0 + 2.0 * h);
  const auto good = [](const RunningState<Dual<1>>& s) { return s.outcome == Outcome::converged; };
  const RunningState<> as_number = running_state(balance, craft);
  Case::check(as_number.outcome == first.outcome && as_number.flags == first.flags, "derivatives change the outcome");
  if (good(first)) {
    Case::near(first.trim.value().value, as_number.trim.value(), 0.0, "trim with derivatives");
    Case::check(all(is_finite(first.total_drag)), "the derivative of drag is finite");
  }
  if (good(first) && good(third)) {
    const double change = std::abs(first.mean_wetted_ratio.value / third.mean_wetted_ratio.value - 1.0);
    Case::check(good(second) || change > 0.1, "a hole in the curve over speed");
  }
  // A wetted length of 1e-12 beams, as a boat of 1e-20 kg has, changes by less than its rounding.
  if (!good(first) || !good(second) || first.mean_wetted_ratio.value < 1e-12) return;
  c.seen("two answers");
  const double step = (second.speed.value() - first.speed.value()).value;
  const auto smooth = [&](const Dual<1>& a, const Dual<1>& b, const char* what) {
    const double from_first = a.derivative[0] * step, from_second = b.derivative[0] * step;
    const double change = b.value - a.value;
    // Where the derivative is not monotone in between, it leaves its ends by a further order of the step.
    const double slack = 0.5 * std::abs(from_first - from_second) + h * (std::abs(from_first) + std::abs(from_second)) +
                         1e-10 * (std::abs(a.value) + std::abs(b.value));
    const bool held =
        change >= std::min(from_first, from_second) - slack && change <= std::max(from_first, from_second) + slack;
    if (!held) Case::near(change, 0.5 * (from_first + from_second), slack, joined({what, " jumps over speed"}));
  };
  smooth(first.mean_wetted_ratio, second.mean_wetted_ratio, "mean wetted ratio");
  smooth(first.trim.value(), second.trim.value(), "trim");
  smooth(first.total_drag.value(), second.total_drag.value(), "total drag");
  smooth(first.effective_power.value(), second.effective_power.value(), "effective power");
}

// ------------------------------------------------------------------------------------------------- speed and power

/// A question of power whose craft is a realistic one and whose balance is any.
SpeedPowerInput<> any_power_question(Random& r, double realistic_share) {
  auto input = drawn<SpeedPowerInput<>>(r);
  input.craft = any_craft(r, realistic_share);
  if (r.chance(0.7)) {
    input.overall_propulsive_coefficient = r.from_to(0.3, 0.7);
    input.drag_factor = 1.0;
  }
  return input;
}

void check_power(Case& c, const SpeedPowerInput<>& input, const PowerNeeded<>& needed) {
  const bool good = needed.state.outcome == Outcome::converged;
  for (const double x : {needed.total_drag.value(), needed.effective_power.value(), needed.brake_power.value()})
    Case::check(good ? std::isfinite(x) : std::isnan(x), "powers are finite exactly where the state is good");
  const double OPC = input.overall_propulsive_coefficient;
  const Side outside = either(under(OPC, 0.30), exceeds(OPC, 0.70));
  const bool up = has_flag(needed.flags, SpeedPowerLimit::coefficient_unusual);
  if (up) c.seen(speed_power_limits[0].sentence);
  Case::check(!outside.sure || up == outside.beyond, speed_power_limits[0].sentence);
  if (!good) return;
  const double R = needed.state.total_drag.value() * input.drag_factor, V = input.craft.speed.value();
  Case::near(needed.total_drag.value(), R, 2.0 * ulp * std::abs(R), "drag times its factor");
  Case::near(needed.effective_power.value(), R * V, 4.0 * ulp * std::abs(R * V), "power = drag times speed");
  Case::near(needed.brake_power.value() * OPC, R * V, 8.0 * ulp * std::abs(R * V), "brake power times coefficient");
}

void power_case(Case& c) {
  Random& r = c.random;
  SpeedPowerInput<> input = any_power_question(r, 0.7);
  const Form form = form_of(input.balance);
  c.input("question", input);
  const std::string refusal = refused_field(input.craft, form);
  const auto needed = answer([&] { return power_needed(input); }, refusal);
  c.seen(needed ? "accepted" : "refused");
  if (!needed) return;
  check_state(c, input.craft, form, needed->state);
  check_power(c, input, *needed);
  if (!r.chance(0.1)) return;
  SpeedSteps steps = drawn<SpeedSteps>(r);
  steps.number = r.whole(2, 12);
  const std::vector<Speed<>> speeds = equal_steps(steps);
  Case::check(speeds.size() == static_cast<std::size_t>(steps.number), "as many speeds as asked");
  Case::check(speeds.front() == steps.from && speeds.back() == steps.to, "both ends are among the speeds");
  const std::vector<PowerNeeded<>> curve = speed_power_curve<double>(input, speeds);
  Case::check(curve.size() == speeds.size(), "one entry a speed");
  for (std::size_t i = 0; i < speeds.size(); ++i) {
    input.craft.speed = speeds[i];
    check_power(c, input, curve[i]);
    const PowerNeeded<> alone = power_needed(input);
    Case::check(alone.state.outcome == curve[i].state.outcome, "a point of the curve is the point alone");
    if (alone.state.outcome == Outcome::converged)
      Case::check(alone.brake_power == curve[i].brake_power, "a power of the curve is the power alone");
  }
}

void top_speed_case(Case& c) {
  Random& r = c.random;
  auto input = drawn<TopSpeedInput<>>(r, 0.5);
  input.run = any_power_question(r, 0.95);
  if (r.chance(0.9)) {
    // A power near what she needs at a planing speed, so that there is something to find.
    input.search_from = input.search_to = unset;
    input.least_planing_froude_number = 2.0;
    const double W = input.run.craft.loading.mass.value() * 9.81;
    const double V = r.from_to(1.0, 8.0) * std::sqrt(9.81 * input.run.craft.hull.chine_beam.value());
    const double P = r.log_from_to(0.05, 0.6) * W * V;
    if (P > 1.0 && P <= 1e8) input.brake_power = P * watt;
  }
  c.input("question", input);
  std::string refusal = refused_field(input.run.craft, form_of(input.run.balance));
  const double of_C_v_1 = std::sqrt(input.run.craft.gravity.value() * input.run.craft.hull.chine_beam.value());
  const double from = is_set(input.search_from) ? input.search_from.value() : of_C_v_1;
  const double to =
      is_set(input.search_to) ? input.search_to.value() : std::min(13.0 * of_C_v_1, in(150.0 * knot, metre_per_second));
  if (!(from < to)) refusal = "search to";
  const auto top = answer([&] { return top_speed(input); }, refusal);
  c.seen(top ? words(top->outcome) : "refused");
  if (!top) return;
  const bool found = top->outcome == TopSpeedOutcome::found || top->outcome == TopSpeedOutcome::found_beyond_hump;
  Case::check(is_set(top->speed) == found, "a speed is given exactly where one was found");
  Case::check(top->lowest_root.has_value() == !top->roots.empty(), "lowest root");
  const auto power_at = [&](const Speed<>& speed) {
    SpeedPowerInput<> there = input.run;
    there.craft.speed = speed;
    return power_needed(there);
  };
  Speed<> before = 0.0 * knot;
  for (const PowerRoot& root : top->roots) {
    Case::check(root.speed > before, "roots rise");
    before = root.speed;
    Case::check(root.speed.value() >= from && root.speed.value() <= to, "a root lies in the search");
    const PowerNeeded<> there = power_at(root.speed);
    Case::check(there.state.outcome == Outcome::converged, "a root has an equilibrium");
    Case::near(there.brake_power.value(), input.brake_power.value(), 1e-8 * input.brake_power.value(),
               "power at a root");
    Case::check(root.planing == (there.state.volume_froude_number >= input.least_planing_froude_number),
                "planing root");
  }
  if (top->outcome != TopSpeedOutcome::no_answer) {
    Case::check(top->answered_from <= top->answered_to, "answered from, to");
    Case::check(power_at(top->answered_from).state.outcome == Outcome::converged, "answered from there");
    Case::check(power_at(top->answered_to).state.outcome == Outcome::converged, "answered to there");
    if (is_set(top->least_power_speed)) {
      const PowerNeeded<> least = power_at(top->least_power_speed);
      Case::near(least.brake_power.value(), top->least_planing_power.value(), 0.0, "least planing power");
    }
  } else {
    Case::check(top->roots.empty(), "no root without an answer");
  }
  if (top->outcome == TopSpeedOutcome::beyond_search_range)
    Case::check(power_at(top->answered_to).brake_power < input.brake_power, "power to spare at the end of the search");
  if (!found) {
    Case::check(std::isnan(top->at_top.brake_power.value()), "no power at a speed that was not found");
    return;
  }
  check_power(
      c,
      [&] {
        SpeedPowerInput<> there = input.run;
        there.craft.speed = top->speed;
        return there;
      }(),
      top->at_top);
  Case::check(top->at_top.state.outcome == Outcome::converged, "she runs at her top speed");
  Case::near(top->at_top.brake_power.value(), input.brake_power.value(), 1e-8 * input.brake_power.value(), "top power");
  Case::check(top->least_planing_power.value() <= input.brake_power.value() * (1.0 + 1e-8), "enough power to plane");
  const auto holds = [&](const PowerRoot& root) { return root.speed == top->speed && root.holds && root.planing; };
  Case::check(std::any_of(top->roots.begin(), top->roots.end(), holds), "the top speed is a root that she holds");
}

// ---------------------------------------------------------------------------------------------------- bad input

/// Spoils one field of an accepted input and demands the refusal by its name.
template <class S, class F>
void spoil_and_ask(
    Case& c, S input, const char* function, const F& call,
    const std::function<bool(std::string_view)>& must_be_set = [](std::string_view) { return false; }) {
  const std::string field = spoil(c.random, input, must_be_set);
  c.input(function, input);
  c.seen(function);
  c.refused([&] { call(input); }, function, field);
}

/// A single value spoilt.
template <class Q, class F>
void spoil_value(Case& c, const Range& range, const ShownUnit& unit, const char* function, const char* field,
                 const F& call) {
  const Q value = from_si<Q>(refused_value(c.random, range, unit, true));
  c.input(field, bare_value(value));
  c.seen(joined({function, ", ", field}));
  c.refused([&] { call(value); }, function, field);
}

void bad_craft(Case& c) {
  Random& r = c.random;
  PlaningInput<> craft = any_craft(r, 0.5);
  while (!refused_field(craft, Form::closed).empty()) craft = any_craft(r, 0.5);
  const ThrustReference reference = craft.thrust_line.reference;
  const auto needed = [&](std::string_view name) {
    if (name == "LCG" || name == "VCG") return true;
    if (name == "thrust line below CG") return reference == ThrustReference::distance_from_cg;
    return name.starts_with("thrust line point") && reference == ThrustReference::point;
  };
  // A missing field of the thrust line is found where its lever is taken.
  const bool by_power = r.chance(0.3);
  const auto balance = r.chance(0.5) ? PlaningBalance::closed : PlaningBalance::paper_general;
  const std::string field = spoil(r, craft, needed);
  c.input("craft", craft);
  c.seen("craft");
  const auto call = [&] {
    if (by_power)
      power_needed(SpeedPowerInput<>{.craft = craft, .overall_propulsive_coefficient = 0.5, .balance = balance});
    else
      running_state(balance, craft);
  };
  c.refused(call, "", field);
}

/// The short form takes no thrust line and no VCG; the rest it takes.
void bad_craft_short(Case& c) {
  Random& r = c.random;
  PlaningInput<> craft = any_craft(r, 0.5);
  while (!refused_field(craft, Form::short_form).empty()) craft = any_craft(r, 0.5);
  const std::string field = spoil(r, craft, [](std::string_view name) { return name == "LCG"; });
  if (field.starts_with("thrust")) {
    planing_equilibrium_paper_short(craft);
    return;
  }
  c.input("craft", craft);
  c.seen("craft of the short form");
  c.refused([&] { planing_equilibrium_paper_short(craft); }, "planing_equilibrium_paper_short", field);
}

void bad_input_case(Case& c) {
  Random& r = c.random;
  constexpr ShownUnit celsius_shown{1.0, "C"};
  const auto sea = [&](const auto& call, const char* function) {
    const Salinity<> salinity = drawn<Salinity<>>(r);
    if (r.chance(0.5)) {
      spoil_and_ask(c, salinity, function, [&](const Salinity<>& s) { call(celsius(15.0), s); });
      return;
    }
    // Celsius are checked with a little room for rounding, so that a kelvin past an end is surely refused.
    double t = refused_value(r, between(-2.0, 40.0), celsius_shown, true);
    if (std::abs(t + 2.0) < 1e-3 || std::abs(t - 40.0) < 1e-3) t += t < 0.0 ? -1.0 : 1.0;
    c.input("temperature, C", t);
    c.refused([&] { call(celsius(t), salinity); }, function, "water temperature");
  };
  switch (r.whole(0, 22)) {
    case 0: {
      std::vector<WeightItem<>> items(static_cast<std::size_t>(r.whole(1, 5)));
      for (WeightItem<>& item : items) {
        draw(r, item, 0.2);
        item.mass = std::min(item.mass, 1e5 * kilogram);
      }
      WeightItem<>& one = items[static_cast<std::size_t>(r.whole(0, static_cast<int>(items.size()) - 1))];
      const std::string field = spoil(r, one, [](std::string_view) { return false; });
      c.input("item", one);
      c.seen("roll_up");
      c.refused([&] { roll_up<double>(items); }, "roll_up", field);
      return;
    }
    case 1:
      return spoil_and_ask(c, drawn<Tank<>>(r), "contents_volume", [](const Tank<>& t) { weight_item(t); });
    case 2:
      return spoil_and_ask(c, drawn<ScrewSpeed<>>(r), "theoretical_speed", theoretical_speed<double>);
    case 3:
      return spoil_and_ask(c, drawn<ScrewAdvance<>>(r), "apparent_slip", apparent_slip<double>);
    case 4:
      if (r.chance(0.5))
        return spoil_and_ask(c, drawn<ScrewAdvance<>>(r), "real_slip",
                             [](const ScrewAdvance<>& a) { real_slip(a, 0.1); });
      return spoil_value<double>(c, between(-0.5, 0.9), plain_ratio, "real_slip", "wake fraction",
                                 [&](double w) { real_slip(drawn<ScrewAdvance<>>(r), w); });
    case 5:
      return spoil_and_ask(c, drawn<SpeedFromSlip<>>(r), "speed_from_slip", speed_from_slip<double>);
    case 6:
      return spoil_and_ask(c, drawn<PitchFromSlip<>>(r), "pitch_from_slip", pitch_from_slip<double>);
    case 7:
      return spoil_and_ask(c, drawn<EngineSpeedFromSlip<>>(r), "engine_speed_from_slip",
                           engine_speed_from_slip<double>);
    case 8:
      return spoil_and_ask(c, drawn<ReductionRatioFromSlip<>>(r), "reduction_ratio_from_slip",
                           reduction_ratio_from_slip<double>);
    case 9:
      return sea([](const Temperature<>& t, const Salinity<>& s) { sea_water(t, s); }, "sea_water");
    case 10:
      return sea([](const Temperature<>& t, const Salinity<>& s) { sea_water_density(t, s); }, "sea_water_density");
    case 11:
      return sea([](const Temperature<>& t, const Salinity<>& s) { sea_water_density_eos80(t, s); },
                 "sea_water_density_eos80");
    case 12:
      return sea([](const Temperature<>& t, const Salinity<>& s) { sea_water_viscosity(t, s); }, "sea_water_viscosity");
    case 13:
      return sea([](const Temperature<>& t, const Salinity<>& s) { sea_water_vapour_pressure(t, s); },
                 "sea_water_vapour_pressure");
    case 14:
      return spoil_value<double>(c, between(1e5, 1e12), plain_ratio, "friction_coefficient", "Reynolds number",
                                 [&](double Re) { friction_coefficient(any_choice<FrictionLine>(r), Re); });
    case 15:
      return spoil_and_ask(c, drawn<PlaningAttitude<>>(r), "flat_lift_coefficient", flat_lift_coefficient<double>);
    case 16:
      return spoil_and_ask(c, drawn<WettedGeometry<>>(r), "wetted_lengths", wetted_lengths<double>);
    case 17:
      if (r.chance(0.5))
        return spoil_and_ask(c, drawn<AddedDrag<>>(r), "still_air_drag",
                             [](const AddedDrag<>& a) { still_air_drag(a, 20.0 * knot); });
      return spoil_value<Speed<>>(c, between(0.0, 200.0), shown(knot, "kn"), "still_air_drag", "speed",
                                  [&](const Speed<>& v) { still_air_drag(drawn<AddedDrag<>>(r), v); });
    case 18:
      return spoil_and_ask(c, drawn<ShaftPoint<>>(r), "shaft_line", shaft_line<double>);
    case 19: {
      SpeedPowerInput<> input = any_power_question(r, 1.0);
      make_realistic(r, input.craft);
      input.craft.hull.number_of_hulls = 1;
      input.craft.hull.stepped = false;
      const double good_OPC = input.overall_propulsive_coefficient;
      const double bad = refused_value(r, between(5.0, 100.0), shown_percent, true);
      input.overall_propulsive_coefficient = bad;
      c.input("question", input);
      c.refused([&] { power_needed(input); }, "power_needed", "overall propulsive coefficient");
      input.overall_propulsive_coefficient = good_OPC;
      input.drag_factor = refused_value(r, between(0.5, 3.0), plain_ratio, true);
      c.input("question", input);
      c.refused([&] { power_needed(input); }, "power_needed", "drag factor");
      c.seen("power_needed");
      return;
    }
    case 20: {
      auto input = drawn<TopSpeedInput<>>(r, 0.3);
      input.run = any_power_question(r, 1.0);
      make_realistic(r, input.run.craft);
      // The craft's own speed is not read.
      const std::string field = spoil(r, input, [](std::string_view) { return false; });
      c.input("question", input);
      if (field == "speed") {
        input.brake_power = unset;
        c.refused([&] { top_speed(input); }, "top_speed", "brake power");
        return;
      }
      c.seen("top_speed");
      return c.refused([&] { top_speed(input); }, "top_speed", field);
    }
    case 21:
      return bad_craft_short(c);
    default:
      return bad_craft(c);
  }
}

// --------------------------------------------------------------------------------------------------------- the run

using Words = std::vector<std::string_view>;

/// Every flag of the planing method but `never`, and these outcomes.
Words flags_and(std::initializer_list<Outcome> outcomes, std::optional<PlaningLimit> never = std::nullopt) {
  Words all;
  for (const Outcome outcome : outcomes) all.push_back(words(outcome));
  for (std::size_t i = 0; i < planing_limits.size(); ++i)
    if (!never || i != static_cast<std::size_t>(*never)) all.push_back(planing_limits[i].sentence);
  return all;
}

struct Subject {
  std::string_view name;
  void (*run)(Case&);
  int share;  ///< of the cases
  double
      seconds_most;  ///< of a processor, for one case: thousands of times an ordinary one, so that a busy machine is no hang
  Words must_be_seen;  ///< or the draws never met what they are for
};

using enum Outcome;
const std::array<Subject, 14> subjects{{
    {"roll_up", roll_up_case, 120, 0.5, {"accepted", "refused"}},
    {"tank", tank_case, 40, 0.5, {}},
    {"slip", slip_case, 160, 0.5, {"inverse accepted", "inverse refused"}},
    {"water", water_case, 100, 0.5, {water_limits[2].sentence, water_limits[3].sentence}},
    {"friction", friction_case, 100, 0.5, {}},
    {"lift", lift_case, 80, 0.5, {}},
    {"closed", equilibrium_case<PlaningBalance::closed>, 120, 2.0,
     flags_and({converged, trim_beyond_range, runs_out_of_length, unstable_only, load_not_positive,
                bottom_velocity_undefined})},
    {"paper_general", equilibrium_case<PlaningBalance::paper_general>, 80, 2.0,
     flags_and({converged, trim_beyond_range, runs_out_of_length, unstable_only, bottom_velocity_undefined})},
    // Without levers there is one balance and no more.
    {"paper_short", equilibrium_case<PlaningBalance::paper_short>, 60, 2.0,
     flags_and({converged, trim_beyond_range, runs_out_of_length, bottom_velocity_undefined},
               PlaningLimit::second_equilibrium)},
    {"similitude", similitude_case, 20, 2.0, {"scaled with friction", "scaled without friction"}},
    {"continuity", continuity_case, 20, 2.0, {"two answers"}},
    {"power", power_case, 30, 2.0, {"accepted", "refused", speed_power_limits[0].sentence}},
    {"top_speed",
     top_speed_case,
     3,
     5.0,
     {words(TopSpeedOutcome::found), words(TopSpeedOutcome::found_beyond_hump),
      words(TopSpeedOutcome::cannot_hold_on_plane), words(TopSpeedOutcome::beyond_search_range),
      words(TopSpeedOutcome::equilibrium_ends), words(TopSpeedOutcome::no_answer)}},
    {"bad_input",
     bad_input_case,
     60,
     0.5,
     {"roll_up", "craft", "craft of the short form", "top_speed", "power_needed"}},
}};

int all_shares() {
  int sum = 0;
  for (const Subject& subject : subjects) sum += subject.share;
  return sum;
}

/// Case `number` of a run belongs to one subject.
const Subject& subject_of(long number) {
  static const int whole = all_shares();
  int place = static_cast<int>(number % whole);
  for (const Subject& subject : subjects) {
    if (place < subject.share) return subject;
    place -= subject.share;
  }
  return subjects.front();
}

/// A seed of its own for each case (the mixing steps of SplitMix64), so that one case alone can be run again.
std::uint64_t seed_of(std::uint64_t seed, long number) {
  std::uint64_t z = seed + 0x9e3779b97f4a7c15U * (static_cast<std::uint64_t>(number) + 1U);
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9U;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebU;
  return z ^ (z >> 31U);
}

double processor_seconds() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// Runs one case; nothing, or what failed.
std::optional<std::string> failure_of(const Subject& subject, std::uint64_t seed, Tally& tally, bool tells,
                                      double& seconds) {
  const double start = processor_seconds();
  std::optional<std::string> failure;
  try {
    Case c(seed, tally, tells);
    subject.run(c);
  } catch (const Failed& failed) {
    failure = failed.what;
  } catch (const std::exception& e) {
    failure = std::string("an exception: ") + e.what();
  }
  seconds = processor_seconds() - start;
  if (!failure && seconds > subject.seconds_most) failure = "took " + plain_number(seconds) + " s";
  return failure;
}

constexpr int failures_shown = 20;
constexpr double seconds_of_a_hang = 60.0;

struct Worker {
  std::thread thread;
  std::atomic<long> number{-1};
  std::atomic<std::chrono::steady_clock::rep> since{0};
  std::array<Tally, subjects.size()> tallies;
  std::array<long, subjects.size()> cases{};
  std::array<double, subjects.size()> seconds{};
  std::array<double, subjects.size()> longest{};
};

int run_all(long cases, std::uint64_t seed) {
  const unsigned processors = std::max(1U, std::thread::hardware_concurrency());
  std::vector<Worker> workers(processors);
  std::mutex output;
  std::atomic<int> failures{0};
  std::atomic<unsigned> running{processors};
  constexpr long at_once = 1000;
  std::atomic<long> next{0};
  const auto work = [&](Worker& w) {
    for (long first; (first = next.fetch_add(at_once)) < cases && failures < failures_shown;)
      for (long number = first; number < std::min(first + at_once, cases) && failures < failures_shown; ++number) {
        const Subject& subject = subject_of(number);
        const auto index = static_cast<std::size_t>(&subject - subjects.data());
        w.since = std::chrono::steady_clock::now().time_since_epoch().count();
        w.number = number;
        double seconds = 0.0;
        const auto failure = failure_of(subject, seed_of(seed, number), w.tallies[index], false, seconds);
        ++w.cases[index];
        w.seconds[index] += seconds;
        w.longest[index] = std::max(w.longest[index], seconds);
        if (!failure) continue;
        const std::lock_guard<std::mutex> lock(output);
        ++failures;
        std::printf("FAILED %s: %s\n  again with: properties again %s %llu\n", std::string(subject.name).c_str(),
                    failure->c_str(), std::string(subject.name).c_str(),
                    static_cast<unsigned long long>(seed_of(seed, number)));
      }
    w.number = -1;
    --running;
  };
  for (Worker& w : workers) w.thread = std::thread(work, std::ref(w));
  while (running > 0) {
    std::this_thread::sleep_for(std::chrono::milliseconds(50));
    for (const Worker& w : workers) {
      const long number = w.number;
      const auto since = std::chrono::steady_clock::duration(w.since);
      const std::chrono::duration<double> passed = std::chrono::steady_clock::now().time_since_epoch() - since;
      if (number < 0 || passed.count() < seconds_of_a_hang || w.number != number) continue;
      const std::string name(subject_of(number).name);
      std::printf("FAILED %s: hangs, no answer in %.0f s\n  again with: properties again %s %llu\n", name.c_str(),
                  passed.count(), name.c_str(), static_cast<unsigned long long>(seed_of(seed, number)));
      std::fflush(stdout);
      std::_Exit(1);
    }
  }
  for (Worker& w : workers) w.thread.join();

  std::printf("%-14s %9s %10s %12s\n", "", "cases", "us a case", "longest, ms");
  for (std::size_t i = 0; i < subjects.size(); ++i) {
    long n = 0;
    double seconds = 0.0, longest = 0.0;
    Tally tally;
    for (const Worker& w : workers) {
      n += w.cases[i];
      seconds += w.seconds[i];
      longest = std::max(longest, w.longest[i]);
      for (const auto& [what, times] : w.tallies[i]) tally[what] += times;
    }
    std::printf("%-14s %9ld %10.1f %12.2f\n", std::string(subjects[i].name).c_str(), n,
                1e6 * seconds / static_cast<double>(std::max(n, 1L)), 1e3 * longest);
    for (const auto& [what, times] : tally) std::printf("    %9ld  %s\n", times, what.c_str());
    if (cases < 1000000 || failures >= failures_shown) continue;  // too few to meet what is rare
    for (const std::string_view what : subjects[i].must_be_seen)
      if (!tally.contains(what)) {
        std::printf("FAILED %s: never met: %s\n", std::string(subjects[i].name).c_str(), std::string(what).c_str());
        ++failures;
      }
  }
  return failures;
}

template <class N>
bool read(std::string_view text, N& number) {
  const auto end = text.data() + text.size();
  const auto result = std::from_chars(text.data(), end, number);
  return result.ec == std::errc{} && result.ptr == end;
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string_view> arguments(argv + 1, argv + argc);
  long cases = 0;
  std::uint64_t seed = 0;
  if (arguments.size() == 3 && arguments[0] == "again" && read(arguments[2], seed)) {
    for (const Subject& subject : subjects) {
      if (subject.name != arguments[1]) continue;
      Tally tally;
      double seconds = 0.0;
      const auto failure = failure_of(subject, seed, tally, true, seconds);
      std::printf("%s: %s (%.6f s)\n", std::string(subject.name).c_str(), failure ? failure->c_str() : "holds",
                  seconds);
      return failure ? 1 : 0;
    }
  }
  if (arguments.size() != 2 || !read(arguments[0], cases) || cases < 1 || !read(arguments[1], seed)) {
    std::puts("usage: properties CASES SEED | properties again NAME SEED");
    return 2;
  }
  const int failures = run_all(cases, seed);
  std::printf("%ld random cases, seed %llu, %d failed\n", cases, static_cast<unsigned long long>(seed), failures);
  return failures == 0 ? 0 : 1;
}
