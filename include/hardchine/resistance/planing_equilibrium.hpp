/// @file
/// Running trim and drag of a prismatic planing hull at a speed: the equilibrium of Savitsky 1964.
///
/// Three balances, by name:
/// - planing_equilibrium: all three force and moment equations closed (eq 29 to 31): the load on the bottom is the
///   weight less what the thrust lifts. The library's default. "Closed" and not "exact": the lift, centre of pressure
///   and friction behind it stay semi-empirical.
/// - planing_equilibrium_paper_general: as the paper solves it (eq 35), the whole weight on the bottom.
/// - planing_equilibrium_paper_short: all forces through the centre of gravity (eq 37).
///
/// The key to a fast and safe solution: the mean wetted ratio lambda, not the trim, is the unknown. In the paper's forms
/// C_L0 follows from the load alone and the trim is explicit in lambda, one equation m(lambda) = 0. In the closed form
/// C_L0 is the second unknown: at a given lambda and C_L0 everything is explicit and two residuals (vertical, moment)
/// remain. planing_balance.hpp holds the balances and the search.
///
/// The method is blind to bow shape, steps, spray rails and chine flats, and under-predicts drag at the hump.
#pragma once

#include <array>
#include <cmath>
#include <string>
#include <vector>

#include "hardchine/craft/froude_number.hpp"
#include "hardchine/craft/hull.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/craft/running_state.hpp"
#include "hardchine/craft/thrust_line.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/resistance/added_drag.hpp"
#include "hardchine/resistance/planing_balance.hpp"
#include "hardchine/resistance/wetted_lengths.hpp"

namespace hardchine {

/// The bits of the limits of the prismatic method, in the order of planing_limits.
enum class PlaningLimit : std::uint8_t {
  trim_range,
  wetted_ratio_range,
  lift_speed_range,
  bottom_velocity_speed_range,
  procedure_speed_range,
  deadrise_range,
  reynolds_range,
  dry_chine,
  bow_in_the_water,
  side_wetting,
  spray_root_broken,
  negative_dynamic_lift,
  not_planing,
  hump,
  second_equilibrium,
  recalled_friction_line
};

/// The limits of the prismatic method.
inline constexpr std::array<Limit, 16> planing_limits{{
    {"trim outside 2 to 15 degrees", "savitsky_1964 eq 15", 2.0, 15.0},
    {"mean wetted length above 4 beams", "savitsky_1964 eq 15", 0.0, 4.0},
    {"beam Froude number C_v outside 0.60 to 13, the range of the lift formula", "savitsky_1964 eq 15", 0.60, 13.0},
    {"C_v outside 1 to 13, the range of the bottom velocity", "savitsky_1964 eq 24", 1.0, 13.0},
    {"C_v below 1: the procedure does not hold, motion takes away buoyancy", "savitsky_1964", 1.0, no_limit},
    {"deadrise above 30 degrees", "savitsky_1964 Fig. 11, molland_2011 eq 10.44", 0.0, 30.0},
    {"Reynolds number below 2e6: a model may run laminar", "trade_practice", 2e6, no_limit},
    {"chine dry by the formula: lengths and lift were fitted with wet chines", "savitsky_1964 eq 3", 0.0, no_limit},
    {"wetted keel longer than the projected chine length: the bow is in the water", "savitsky_brown_1976", 0.0, 1.0},
    {"sides wetted behind the chines: more drag than given", "savitsky_brown_1976 eq 1", 0.0, no_limit},
    {"spray root broken down: low speed, high deadrise, low trim", "savitsky_1964 eq 1", 0.0, 1.66},
    {"dynamic lift negative: bottom velocity above the boat's", "savitsky_1964 eq 16", 0.0, no_limit},
    {"not planing by C_v/sqrt(lambda): 1 at trims from 4 degrees, 2 at 2 degrees", "savitsky_1964", 1.0, no_limit},
    {"hump, under-predicted: volume Froude number 1.5 to 2.5", "trade_practice; savitsky_brown_1976", 2.5, no_limit},
    {"a second equilibrium at lower trim is possible", "savitsky_1964 eq 35 (derived)", 0.0, 0.33},
    {"friction by the Schoenherr line with a recalled constant", "savitsky_brown_1976", 0.0, 0.0},
}};

/// The default: all three balances closed.
inline constexpr Method planing_closed_method{"prismatic planing equilibrium, closed balance",
                                              "savitsky_1964",
                                              "eq 1-5, 15, 16, 18-25, 28-31",
                                              Evidence::printed,
                                              planing_limits,
                                              "a regression of the pre-planing range, or a model test"};
/// As the paper solves it (eq 35), the whole weight on the bottom.
inline constexpr Method planing_general_method{"prismatic planing equilibrium, the paper's general form",
                                               "savitsky_1964",
                                               "eq 1-5, 15, 16, 18-25, 28, 34, 35",
                                               Evidence::printed,
                                               planing_limits,
                                               "the closed balance"};
/// The paper's eq 37, all forces through the centre of gravity.
inline constexpr Method planing_short_method{"prismatic planing equilibrium, the paper's short form",
                                             "savitsky_1964",
                                             "eq 1-5, 15, 16, 18-25, 28, 37",
                                             Evidence::printed,
                                             planing_limits,
                                             "the closed balance"};

/// What the prismatic equilibrium is asked.
template <class T = double>
struct PlaningInput {
  Hull<T> hull = {};                                     ///< beam, deadrise, chine length; one hull, no step
  Loading<T> loading = {};                               ///< displacement, LCG and VCG (the short form needs no VCG)
  Water<T> water = {};                                   ///< density and viscosity
  ThrustLine<T> thrust_line = {};                        ///< a named choice; the short form ignores it
  Speed<T> speed = unset;                                ///< V, above 0.2 to 200 kn
  FrictionLine friction_line = FrictionLine::ittc_1957;  ///< by name
  T roughness_allowance = T(attc_standard_allowance);    ///< added to C_F, -0.001 to 0.01; 0 against smooth model data
  BottomVelocity bottom_velocity = BottomVelocity::mean_over_bottom;  ///< or the boat's own speed
  AddedDrag<T> added_drag = {};                                       ///< appendages and air; none by default
  Acceleration<T> gravity = widen<T>(standard_gravity);               ///< g, 9.7 to 9.9 m/s2
  Search search = Search::complete;                                   ///< how far the equilibrium is looked for

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        part("hull", &PlaningInput::hull),
        part("loading", &PlaningInput::loading),
        part("water", &PlaningInput::water),
        part("thrust line", &PlaningInput::thrust_line),
        field("speed", &PlaningInput::speed, shown(knot, "kn"), above(0.2, 200.0)),
        choice("friction line", &PlaningInput::friction_line),
        field("roughness allowance", &PlaningInput::roughness_allowance, plain_ratio, between(-0.001, 0.01)),
        choice("bottom velocity", &PlaningInput::bottom_velocity),
        part("added drag", &PlaningInput::added_drag),
        field("gravity", &PlaningInput::gravity, shown(metre_per_second_squared, "m/s2"), between(9.7, 9.9)),
        choice("search", &PlaningInput::search)};
  }
  /// The same question in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PlaningInput<U>() const {
    return widen_fields<PlaningInput<U>>(*this);
  }
};

namespace planing_detail {

/// An angle in degrees from the balance's radians.
template <class T>
T in_degrees(const T& angle) {
  return in(Angle<T>::from_value(angle), degree);
}

enum class Form : std::uint8_t { closed, general, short_form };

/// What no lane can be asked: counts and choices.
template <class T>
void check_choices(std::string_view function, const PlaningInput<T>& in, Form form) {
  check_counts(function, in);
  if (in.hull.number_of_hulls != 1)
    throw BadInput(function, "number of hulls", std::to_string(in.hull.number_of_hulls),
                   "1: the prismatic method takes one hull");
  if (in.hull.stepped)
    throw BadInput(function, "stepped", "true", "false: no published method for a stepped bottom stands behind this");
  if (form != Form::short_form) thrust_detail::check_chosen(function, in.thrust_line);
}

/// The door: fields, and what no field table can say, shown to a keeper.
template <class T, class Keeper>
void door(Keeper& keeper, const PlaningInput<T>& in, Form form) {
  if (form == Form::short_form) {
    // The thrust line is not read: any accepted one passes the door.
    PlaningInput<T> read = in;
    read.thrust_line = through_cg_parallel_to_keel<T>();
    keeper.show_fields(read);
  } else {
    keeper.show_fields(in);
    keeper.show_value("VCG", in.loading.vcg, shown(metre, "m"), between(-5.0, 30.0));
  }
  // The centre of gravity must stand over the hull for any bottom to carry it.
  keeper.show_value("LCG", in.loading.lcg, shown(metre, "m"), above(0.0, 150.0));
  keeper.show_rule(plain(in.loading.lcg) < plain(in.hull.projected_chine_length), "LCG", "ahead of the bow",
                   "less than the projected chine length");
  keeper.show_choices([&](std::string_view function) { check_choices(function, in, form); });
  if (form == Form::short_form) return;
  const ThrustLine<T>& line = in.thrust_line;
  if (line.reference == ThrustReference::distance_from_cg)
    keeper.show_value("thrust line below CG", line.distance_below_cg, shown(metre, "m"), between(-10.0, 10.0));
  if (line.reference == ThrustReference::point) {
    keeper.show_value("thrust line point x", line.x, shown(metre, "m"), between(-20.0, 150.0));
    keeper.show_value("thrust line point z", line.z, shown(metre, "m"), between(-10.0, 30.0));
  }
}

/// The balance's numbers from the question.
template <class T>
Case<T> make_case(const PlaningInput<T>& in, Form form) {
  using std::log;
  const T zero(0.0), one(1.0);
  const bool lever = form != Form::short_form;
  Case<T> c;
  c.b = in.hull.chine_beam.value();
  const T beta = in.hull.deadrise.value();
  const SinCos<T> of_beta = sin_cos(beta);
  c.cos_beta = of_beta.cos;
  c.tan_beta = of_beta.sin / of_beta.cos;
  c.k = deadrise_lift_factor * in_degrees(beta);
  c.V = in.speed.value();
  const Area<T> b2 = in.hull.chine_beam * in.hull.chine_beam;
  const Force<T> q_b2 = T(0.5) * (in.water.density * in.speed * in.speed * b2);
  c.q_b2 = q_b2.value();
  c.C_v = T(in.speed / sqrt(in.gravity * in.hull.chine_beam));
  c.buoyancy = (buoyant_lift_factor / dynamic_lift_factor) / (c.C_v * c.C_v);
  const Force<T> weight = in.loading.mass * in.gravity;
  c.W = weight.value();
  c.lcg = in.loading.lcg.value();
  c.a = lever ? T(in.loading.vcg.value() - 0.25 * c.b * c.tan_beta) : zero;  // D_f midway between keel and chine
  c.f = lever ? T(thrust_detail::lever(in.thrust_line, in.loading).value()) : zero;
  c.a_less_f = c.a - c.f;
  c.W_f = c.W * c.f;
  c.one_over_W_b = 1.0 / (c.W * c.b);
  c.friction_force = c.q_b2 / c.cos_beta;
  const SinCos<T> of_eps = lever ? sin_cos(T(in.thrust_line.inclination.value())) : SinCos<T>{zero, one};
  c.sin_eps = of_eps.sin;
  c.cos_eps = of_eps.cos;
  c.Re_b = T(in.speed * in.hull.chine_beam / in.water.kinematic_viscosity);
  c.ln_Re_b = log(c.Re_b);
  c.allowance = in.roughness_allowance;
  c.line = in.friction_line;
  c.velocity = in.bottom_velocity;
  c.C_Lb = c.W / c.q_b2;
  const FlatLift<T> lift = flat_lift_of<T>(c.C_Lb, c.k);
  c.C_L0 = lift.C_L0;
  c.ln_C_L0 = lift.ln_C_L0;
  c.z = lift.z;
  return c;
}

/// The flags of an answer.
template <class T>
RaisedFlags<MaskOf<Plain<T>>> flags_of(const PlaningInput<T>& input, const Case<T>& case_of_input,
                                       const Answer<T>& answer, const RunningState<T>& state) {
  using std::sqrt;
  using enum PlaningLimit;
  using P = Plain<T>;
  RaisedFlags<MaskOf<P>> flags;
  const auto raise = [&](PlaningLimit limit, const auto& mask) { flags.raise(mask, flag(limit)); };
  const auto outside = [](const P& v, const Limit& l) { return either(v<P(l.low), v> P(l.high)); };
  const auto& limit = planing_limits;
  const P C_v = plain(case_of_input.C_v), lambda = plain(answer.lambda), sin_tau = plain(answer.sin_tau);
  const P tau_deg = in_degrees(plain(answer.tau));
  const P spread = plain(case_of_input.tan_beta) * plain(answer.cos_tau) / sin_tau;
  raise(trim_range, outside(tau_deg, limit[0]));
  raise(wetted_ratio_range, outside(lambda, limit[1]));
  raise(lift_speed_range, outside(C_v, limit[2]));
  if (input.bottom_velocity == BottomVelocity::mean_over_bottom)
    raise(bottom_velocity_speed_range, outside(C_v, limit[3]));
  raise(procedure_speed_range, outside(C_v, limit[4]));
  raise(deadrise_range, outside(in_degrees(plain(input.hull.deadrise.value())), limit[5]));
  raise(reynolds_range, outside(plain(answer.Re), limit[6]));
  raise(dry_chine, plain(state.chine_wetted_length.value()) <= P(0.0));
  raise(bow_in_the_water, plain(state.keel_wetted_length) > plain(input.hull.projected_chine_length));
  raise(side_wetting, C_v * C_v * (3.0 * sin_tau) <= lambda - 0.16 * spread);
  raise(spray_root_broken, both(C_v<P(2.0), spread> P(std::numbers::pi * limit[10].high)));
  raise(negative_dynamic_lift, plain(answer.velocity_ratio_squared) > P(1.0));
  // Planing begins at C_v/sqrt(lambda) = 1 for trims from 4 degrees and 2 at 2 degrees: straight between.
  const P begins = smaller(larger(P(3.0 - 0.5 * tau_deg), P(1.0)), P(2.0));
  raise(not_planing, C_v < begins * sqrt(lambda));
  const P F_nV = plain(state.volume_froude_number);
  raise(hump, both(F_nV >= P(1.5), F_nV < P(limit[13].low)));
  raise(second_equilibrium, second_balance_possible(case_of_input, answer));
  if (input.friction_line == FrictionLine::schoenherr) raise(recalled_friction_line, C_v >= C_v);
  return flags;
}

/// Fills the result: quantities where there is an answer, outcomes and flags.
template <class T>
RunningState<T> report(const PlaningInput<T>& in, const Case<T>& c, const Answer<T>& x, const Solution<Plain<T>>& found,
                       const Method& method) {
  using P = Plain<T>;
  RunningState<T> s;
  s.method = &method;
  s.outcome = found.outcome;
  const Answer<P>& plain_answer = found.answer;
  const auto undefined = plain_answer.velocity_ratio_squared <= P(least_velocity_ratio_squared);
  const auto too_long = plain_answer.lambda * plain(c.b) > plain(in.hull.projected_chine_length.value());
  const auto no_load = plain_answer.L <= P(0.0);
  const auto good = both(found.solved, negate(either(either(undefined, too_long), no_load)));

  const auto put = [](auto& target, const T& v) { target = std::remove_cvref_t<decltype(target)>::from_value(v); };
  s.lift_coefficient = x.C_Lb;
  s.flat_lift_coefficient = x.C_L0;
  s.mean_wetted_ratio = x.lambda;
  s.reynolds_number = x.Re;
  s.friction_coefficient = x.C_F;
  s.vertical_residual = x.vertical;
  s.moment_residual = x.moment;
  put(s.trim, x.tau);
  put(s.centre_of_pressure, x.l_p);
  put(s.bottom_velocity, x.V_1);
  put(s.load, x.L);
  put(s.normal_force, x.N);
  put(s.thrust, x.thrust);
  put(s.friction_force, x.D_f);
  put(s.pressure_drag, x.pressure_drag);
  put(s.bare_drag, x.bare_drag);
  const WettedLengths<T> lengths =
      planing_detail::wetted_lengths<T>({in.hull.chine_beam, x.lambda, c.tan_beta, x.sin_tau, x.cos_tau});
  s.keel_wetted_length = lengths.keel;
  s.chine_wetted_length = lengths.chine;
  s.draft = lengths.draft;
  s.appendage_drag = s.bare_drag * in.added_drag.appendage_fraction;
  s.air_drag = planing_detail::still_air_drag<T>(in.added_drag, in.speed);
  s.total_drag = s.bare_drag + s.appendage_drag + s.air_drag;
  s.bare_effective_power = s.bare_drag * in.speed;
  s.effective_power = s.total_drag * in.speed;
  if (!all(good)) {
    unset_elsewhere(s, good);
    assign_where(s.outcome, both(found.solved, undefined), Outcome::bottom_velocity_undefined);
    assign_where(s.outcome, both(found.solved, too_long), Outcome::runs_out_of_length);
    assign_where(s.outcome, both(found.solved, no_load), Outcome::load_not_positive);
  }
  s.speed = in.speed;
  s.beam_froude_number = c.C_v;
  const Volume<T> volume = in.loading.mass / in.water.density;
  s.volume_froude_number = froude_detail::by_volume<T>(in.speed, volume, in.gravity);
  auto flags = flags_of(in, c, x, s);
  flags.raise(found.second_seen, flag(PlaningLimit::second_equilibrium));
  s.flags = flags.kept_where(good);
  return s;
}

/// The door, and the balance behind it.
/// @param solve callable with the case over the plain scalar
/// @param carry callable with the case and the plain answer: the answer with its derivatives
template <class T, class Solve, class Carry>
RunningState<T> behind_the_door(std::string_view function, const PlaningInput<T>& in, Form form, const Method& method,
                                Solve&& solve, Carry&& carry) {
  door_detail::LookingKeeper<T> looking;
  door(looking, in, form);
  if (!all(looking.good)) {
    if constexpr (!requires(PlaningInput<T> & x) { fill_from_first(x, looking.good); }) {
      door_detail::ThrowingKeeper throwing{function};
      door(throwing, in, form);
    } else {
      check_choices(function, in, form);
      // The lanes that are refused run along with the numbers of one that is not, and are blanked.
      door_detail::NotingKeeper<PlaningInput<T>> noting{.input = in};
      door(noting, in, form);
      RunningState<T> s;
      s.method = &method;
      if (any(noting.good)) {
        PlaningInput<T> mended = in;
        fill_from_first(mended, noting.good);
        s = behind_the_door(function, mended, form, method, solve, carry);
        unset_elsewhere(s, noting.good);
        assign_where(s.flags, negate(noting.good), Flags{0});
      }
      assign_where(s.outcome, negate(noting.good), Outcome::bad_input);
      s.refused_field = noting.refused;
      return s;
    }
  }
  check_choices(function, in, form);
  const Case<T> c = make_case(in, form);
  const auto found = solve(plain_case(c));
  return report(in, c, carry(c, found.answer), found, method);
}

}  // namespace planing_detail

/// Running trim, wetted lengths and drag at a speed: all force and moment equations closed.
///
/// W = N cos tau + T sin(tau + eps) - D_f sin tau (29), T cos(tau + eps) = D_f cos tau + N sin tau (30),
/// N c + D_f a - T f = 0 (31), with the load on the bottom L = W - T sin(tau + eps) in the lift coefficient and in the
/// drag D = L tan tau + D_f/cos tau.
/// @param in hull, loading with LCG and VCG, water, thrust line, speed; ranges in the field tables
/// @return attitude, wetted lengths, bare and total drag, effective power, outcome and flags. The thrust balances the
///   bare hull; appendages and air are added to the drag, not to the balance. For hulls on the water, trim below 0.5 rad
///   and lambda up to 12; outside the published ranges the answer carries flags (explain gives the sentences).
///   Derivatives (Dual) are exact to rounding by the implicit function theorem, in one pass after the search; kinks: in the
///   draft lambda 1.3 of a flat bottom, and zero deadrise, where the draft jumps and its derivative is that of the flat
///   branch; in the friction Re 1e5, below which it stays. A lane (Lanes<N>) that is refused has the outcome bad_input and
///   the number of the field; lanes agree with double to 1e-12
/// @throws BadInput naming the field; for more than one hull or a step; for an LCG ahead of the chines. Of lanes only for
///   counts and choices
/// Source: savitsky_1964 eq 1-5, 15, 16, 18-25, 28-31 (printed); by FrictionLine::schoenherr recalled and flagged
template <class T = double>
RunningState<T> planing_equilibrium(const PlaningInput<T>& in) {
  using namespace planing_detail;
  return behind_the_door(
      "planing_equilibrium", in, Form::closed, planing_closed_method,
      [&](const auto& c) { return solve_closed(c, in.search); },
      [](const Case<T>& c, const auto& answer) { return closed_answer<T>(c, answer); });
}

/// The paper's general form: thrust line and VCG count, the whole weight stays on the bottom (eq 34, 35).
/// Kept as printed, inconsistent at second order, for the paper's own cases: 0.1 to 3.6 % more drag than the closed one.
/// @param in as for planing_equilibrium()
/// @return as planing_equilibrium()
/// @throws BadInput as planing_equilibrium()
/// Source: savitsky_1964 eq 1-5, 15, 16, 18-25, 28, 34, 35 (printed); by FrictionLine::schoenherr recalled and flagged
template <class T = double>
RunningState<T> planing_equilibrium_paper_general(const PlaningInput<T>& in) {
  using namespace planing_detail;
  return behind_the_door(
      "planing_equilibrium_paper_general", in, Form::general, planing_general_method,
      [&](const auto& c) { return solve_general(c, in.search); },
      [](const Case<T>& c, const auto& answer) { return paper_answer<T>(c, answer); });
}

/// The paper's short form: all forces through the centre of gravity, lambda b C_p = LCG (eq 37).
/// @param in as for planing_equilibrium(); the thrust line and VCG are ignored and may be unset
/// @return as planing_equilibrium()
/// @throws BadInput as planing_equilibrium()
/// Source: savitsky_1964 eq 1-5, 15, 16, 18-25, 28, 37 (printed); by FrictionLine::schoenherr recalled and flagged
template <class T = double>
RunningState<T> planing_equilibrium_paper_short(const PlaningInput<T>& in) {
  using namespace planing_detail;
  return behind_the_door(
      "planing_equilibrium_paper_short", in, Form::short_form, planing_short_method,
      [](const auto& c) { return solve_short(c); },
      [](const Case<T>& c, const auto& answer) { return paper_answer<T>(c, answer); });
}

}  // namespace hardchine
