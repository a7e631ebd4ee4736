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
/// C_L0 follows from the load alone and the trim is explicit in lambda, one equation m(lambda) = 0. In the closed form,
/// at a given lambda and trim, everything is explicit and two residuals (vertical, moment) remain.
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
#include "hardchine/resistance/bottom_velocity.hpp"
#include "hardchine/resistance/friction_line.hpp"
#include "hardchine/resistance/planing_lift.hpp"
#include "hardchine/resistance/wetted_lengths.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/root.hpp"

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
        field("gravity", &PlaningInput::gravity, shown(metre_per_second_squared, "m/s2"), between(9.7, 9.9))};
  }
  /// The same question in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PlaningInput<U>() const {
    return widen_fields<PlaningInput<U>>(*this);
  }
};

namespace planing_detail {

/// The question in the dimensionless and coherent numbers that the solver works with.
template <class T>
struct Case {
  T b, beta, q_b2, C_v, W, lcg, a, f, eps, V, nu, allowance;
  FrictionLine line;
  BottomVelocity velocity;
};

/// What the bottom carries and drags at a given lambda, trim and load coefficient.
template <class T>
struct Bottom {
  T velocity_ratio_squared, V_1, Re, C_F, D_f, l_p;
};

/// The square of V_1/V must stay positive while iterating; the result is refused if it is not.
inline constexpr double least_velocity_ratio_squared = 1e-4;

/// Where the friction lines end: a slower or smaller bottom takes the coefficient there (and is flagged).
inline constexpr double least_reynolds_number = 1e5;

/// Trims of an answer, radians: from the greater one (29 degrees) on it is beyond the method. The guarded search looks
/// a little further, so that a balance near the end lies between two of its points.
inline constexpr double least_trim = 1e-4;
inline constexpr double greatest_trim = 0.5;
inline constexpr double search_trim = 0.6;

template <class S, class T>
Case<S> widen_case(const Case<T>& c) {
  return {S(c.b), S(c.beta), S(c.q_b2), S(c.C_v), S(c.W),         S(c.lcg), S(c.a),
          S(c.f), S(c.eps),  S(c.V),    S(c.nu),  S(c.allowance), c.line,   c.velocity};
}

template <class T>
Case<Plain<T>> plain_case(const Case<T>& c) {
  return {plain(c.b), plain(c.beta), plain(c.q_b2), plain(c.C_v), plain(c.W),         plain(c.lcg), plain(c.a),
          plain(c.f), plain(c.eps),  plain(c.V),    plain(c.nu),  plain(c.allowance), c.line,       c.velocity};
}

/// Friction and centre of pressure (eq 18 to 25, 28).
template <class T>
Bottom<T> bottom(const Case<T>& c, const T& lambda, const T& tau) {
  using std::cos;
  using std::sqrt;
  const PlaningAttitude<T> attitude{
      .trim = Angle<T>::from_value(tau), .mean_wetted_ratio = lambda, .beam_froude_number = c.C_v};
  Bottom<T> r;
  r.velocity_ratio_squared = c.velocity == BottomVelocity::free_stream
                                 ? T(1.0)
                                 : bottom_velocity_ratio_squared<T>(attitude, Angle<T>::from_value(c.beta));
  const T ratio_squared = larger(r.velocity_ratio_squared, T(least_velocity_ratio_squared));
  r.V_1 = c.V * sqrt(ratio_squared);
  r.Re = r.V_1 * lambda * c.b / c.nu;
  // Off the singularity of the friction lines: inside a search lambda may be tiny.
  r.C_F = friction_detail::on_line(c.line, larger(r.Re, T(least_reynolds_number)));
  r.D_f = (r.C_F + c.allowance) * c.q_b2 * ratio_squared * lambda / cos(c.beta);
  r.l_p = centre_of_pressure_ratio<T>({lambda, c.C_v}) * lambda * c.b;
  return r;
}

/// The closed balance at a given lambda and trim: forces explicit, two residuals left.
template <class T>
struct Closed {
  Bottom<T> bottom;
  T C_L0, C_Lb, L, N, thrust;
  T vertical;  ///< (L + T sin(tau + eps) - W)/W, eq 29
  T moment;    ///< (N c + D_f a - T f)/(W b), eq 31; positive is bow-down
};

template <class T>
Closed<T> closed(const Case<T>& c, const T& lambda, const T& tau) {
  using std::cos;
  using std::sin;
  Closed<T> r;
  r.C_L0 = flat_lift<T>({.trim = Angle<T>::from_value(tau), .mean_wetted_ratio = lambda, .beam_froude_number = c.C_v});
  r.C_Lb = deadrise_lift<T>(r.C_L0, Angle<T>::from_value(c.beta));
  r.bottom = bottom(c, lambda, tau);
  const T sin_tau = sin(tau), cos_tau = cos(tau);
  const T line = tau + c.eps;
  r.L = r.C_Lb * c.q_b2;
  r.N = (r.L + r.bottom.D_f * sin_tau) / cos_tau;                   // L = N cos tau - D_f sin tau
  r.thrust = (r.bottom.D_f * cos_tau + r.N * sin_tau) / cos(line);  // eq 30
  r.vertical = (r.L + r.thrust * sin(line) - c.W) / c.W;            // eq 29
  r.moment = (r.N * (c.lcg - r.bottom.l_p) + r.bottom.D_f * c.a - r.thrust * c.f) / (c.W * c.b);  // eq 31
  return r;
}

/// The paper's forms at a given lambda: C_L0 from the whole weight, trim explicit, one residual left.
template <class T>
struct Paper {
  Bottom<T> bottom;
  T tau, N, thrust;
  T moment;  ///< eq 35 over W b; positive is bow-down
};

template <class T>
Paper<T> paper(const Case<T>& c, const T& C_L0, const T& lambda) {
  using std::cos;
  using std::pow;
  using std::sin;
  Paper<T> r;
  r.tau = pow(T(C_L0 / lift_per_trim_power<T>({lambda, c.C_v})), 1.0 / 1.1) * degree.value();
  // Where the search starts, a tiny lambda would ask for trims that no formula takes.
  r.tau = smaller(r.tau, T(0.7));
  r.bottom = bottom(c, lambda, r.tau);
  const T sin_tau = sin(r.tau), cos_tau = cos(r.tau);
  r.N = c.W * (1.0 - sin_tau * sin(r.tau + c.eps)) / cos_tau;  // eq 34
  r.thrust = c.W * sin_tau + r.bottom.D_f;
  r.moment = (r.N * (c.lcg - r.bottom.l_p) - c.W * sin_tau * c.f + r.bottom.D_f * (c.a - c.f)) / (c.W * c.b);  // eq 35
  return r;
}

/// Where a residual that falls through zero as lambda rises (the stable balance: more trim, bow-down) was found.
template <class T>
struct Crossing {
  T low, high;
  MaskOf<T> found, positive_at_low, positive_at_high, unstable_seen, second_seen;
  T unstable_low, unstable_high;  ///< between which the first unstable one was seen
};

/// A moment at a sampled lambda, and whether the rest of the balance closes there.
template <class T>
struct Sample {
  T moment;
  MaskOf<T> closes;
};

/// Samples m(lambda) at log-spaced points and brackets the first stable crossing, lane by lane: one between two points
/// where the rest of the balance closes if there is any, since a change of sign elsewhere is no equilibrium.
/// @param sample callable with lambda that returns a Sample
template <class T, class M>
Crossing<T> find_stable_crossing(M&& sample, const T& low, const T& high) {
  using std::exp;
  using std::log;
  constexpr int samples = 16;
  const T step = log(T(high / low)) / double(samples);
  const T zero(0.0);
  const auto never = negate(low >= low);
  T previous_lambda = low;
  Sample<T> previous = sample(low);
  const auto positive_at_low = previous.moment > zero;
  Crossing<T> r{low, high, never, positive_at_low, positive_at_low, never, never, low, high};
  auto found_closed = never;
  for (int i = 1; i <= samples; ++i) {
    const T lambda = low * exp(T(step * double(i)));
    const Sample<T> now = sample(lambda);
    const auto closes = both(previous.closes, now.closes);
    const auto falls = both(previous.moment > zero, now.moment <= zero);
    const auto rises = both(previous.moment <= zero, now.moment > zero);
    const auto take = both(falls, either(negate(r.found), both(closes, negate(found_closed))));
    r.low = select(take, previous_lambda, r.low);
    r.high = select(take, lambda, r.high);
    r.second_seen = either(r.second_seen, both(both(falls, closes), found_closed));
    const auto unstable = both(both(rises, closes), negate(r.unstable_seen));
    r.unstable_low = select(unstable, previous_lambda, r.unstable_low);
    r.unstable_high = select(unstable, lambda, r.unstable_high);
    r.unstable_seen = either(r.unstable_seen, unstable);
    r.found = either(r.found, falls);
    found_closed = either(found_closed, both(falls, closes));
    r.positive_at_high = now.moment > zero;
    previous_lambda = lambda;
    previous = now;
  }
  return r;
}

/// The lower end of the search: the trim there is 15 to 28 degrees (either term of eq 15 alone carries half the load).
template <class T>
T least_lambda(const T& C_L0, const T& C_v) {
  using std::pow;
  const double t = 19.672;  // 15^1.1
  const T dynamic = C_L0 / (0.024 * t);
  const T buoyant = pow(T(C_L0 * C_v * C_v / (0.011 * t)), 0.4);
  return smaller(smaller(T(dynamic * dynamic), buoyant), T(11.0));
}

inline constexpr double greatest_lambda = 12.0;

/// What a search over lambda found, or why it found nothing.
template <class P, class O>
void judge(O& outcome, const Crossing<P>& crossing, const MaskOf<P>& solved) {
  assign_where(outcome, solved, Outcome::converged);
  const auto none = negate(crossing.found);
  assign_where(outcome, both(none, negate(crossing.positive_at_low)), Outcome::trim_beyond_range);
  assign_where(outcome, both(none, crossing.unstable_seen), Outcome::unstable_only);
  assign_where(outcome, both(none, both(crossing.positive_at_low, crossing.positive_at_high)),
               Outcome::runs_out_of_length);
}

/// Where the unknowns of a balance were found, plain, and how that went.
template <class P>
struct Solution {
  P lambda, tau;
  MaskOf<P> solved, second_seen;
  PerLane<P, Outcome> outcome;
};

/// The closed balance by 2 x 2 Newton on jets from a start; accepted only if the last step was small, the slope is the
/// stable one and the trim is in range.
template <class P>
MaskOf<P> newton_closed(const Case<P>& c, P& lambda, P& tau) {
  using std::exp;
  using J = Dual<2, P>;
  const Case<J> jets = widen_case<J>(c);
  auto settled = negate(lambda >= lambda);
  auto stable = settled;
  for (int step = 0; step < 12 && !all(settled); ++step) {
    // x = ln lambda keeps the wetted length positive: dF/dx = lambda dF/dlambda.
    const Closed<J> r = closed<J>(jets, J::input(lambda, 0), J::input(tau, 1));
    const P v_x = lambda * r.vertical.derivative[0], v_t = r.vertical.derivative[1];
    const P m_x = lambda * r.moment.derivative[0], m_t = r.moment.derivative[1];
    const P determinant = v_x * m_t - v_t * m_x;
    const P v = r.vertical.value, m = r.moment.value;
    P dx = (v_t * m - m_t * v) / determinant;
    P dt = (m_x * v - v_x * m) / determinant;
    dx = smaller(larger(dx, P(-0.5)), P(0.5));
    dt = smaller(larger(dt, P(-0.5 * tau)), P(0.5 * tau));
    // Along the vertical balance dm/dx = -determinant/v_t: falling is stable.
    const auto stable_now = both(determinant > P(0.0), v_t > P(0.0));
    stable = either(both(settled, stable), both(negate(settled), stable_now));
    lambda = select(settled, lambda, P(lambda * exp(dx)));
    tau = select(settled, tau, P(tau + dt));
    settled = either(settled, both(magnitude(dx) < P(1e-9), magnitude(dt) < 1e-9 * tau));
  }
  const auto in_range = both(both(tau > P(least_trim), tau < P(greatest_trim)), lambda < P(greatest_lambda));
  return both(both(settled, stable), in_range);
}

/// The trim that closes the vertical balance at a given lambda; the nearer end of the range where none does.
template <class P>
struct TrimForLift {
  P tau;
  MaskOf<P> closes;
};

template <class P>
TrimForLift<P> trim_for_lift(const Case<P>& c, const P& lambda) {
  const auto vertical = [&](const P& tau) { return closed<P>(c, lambda, tau).vertical; };
  const BracketedRoot<P> root = bracketed_root(vertical, P(least_trim), P(search_trim), 1e-13);
  const P end = select(vertical(P(least_trim)) > P(0.0), P(least_trim), P(search_trim));
  return {select(root.bracketed, root.x, end), root.bracketed};
}

/// Guarded search of the closed balance: lambda outside, trim inside.
template <class P>
Solution<P> search_closed(const Case<P>& c, const P& C_L0) {
  const auto sample = [&](const P& lambda) {
    const TrimForLift<P> trim = trim_for_lift(c, lambda);
    return Sample<P>{closed<P>(c, lambda, trim.tau).moment, trim.closes};
  };
  const auto moment = [&](const P& lambda) { return sample(lambda).moment; };
  // The thrust may carry a part of the load: start the search further out than the whole load asks for.
  const P low = 0.5 * least_lambda<P>(C_L0, c.C_v);
  Crossing<P> crossing = find_stable_crossing<P>(sample, low, P(greatest_lambda));
  const BracketedRoot<P> root = bracketed_root(moment, crossing.low, crossing.high, 1e-12);
  // Polish: the nested search stops at its tolerances. And a moment that changes sign where no trim closes the vertical
  // balance is no equilibrium: both residuals decide.
  P lambda = root.x, tau = trim_for_lift(c, root.x).tau;
  const P rough_lambda = lambda, rough_tau = tau;
  const auto polished = newton_closed(c, lambda, tau);
  Solution<P> s{select(polished, lambda, rough_lambda), select(polished, tau, rough_tau), crossing.found,
                crossing.second_seen, per_lane<P>(Outcome::not_converged)};
  const Closed<P> r = closed<P>(c, s.lambda, s.tau);
  const auto closes = both(magnitude(r.vertical) < P(1e-9), magnitude(r.moment) < P(1e-9));
  s.solved = both(crossing.found, both(closes, s.tau < P(greatest_trim)));
  if (any(both(negate(crossing.found), crossing.unstable_seen))) {
    // Between two points that close there may be a gap that does not: only a root with a trim of its own counts.
    const BracketedRoot<P> unstable = bracketed_root(moment, crossing.unstable_low, crossing.unstable_high, 1e-12);
    const Sample<P> there = sample(unstable.x);
    crossing.unstable_seen = both(crossing.unstable_seen, both(there.closes, magnitude(there.moment) < P(1e-6)));
  }
  judge<P>(s.outcome, crossing, s.solved);
  const auto no_balance = both(crossing.found, negate(s.solved));
  assign_where(s.outcome, both(no_balance, rough_tau >= P(greatest_trim)), Outcome::trim_beyond_range);
  assign_where(s.outcome, both(no_balance, rough_tau < P(2.0 * least_trim)), Outcome::load_not_positive);
  return s;
}

/// lambda of the paper's short form: h(lambda) = lambda C_p rises with a slope between 0.279 and 0.75, so there is
/// always one root and Newton from above finds it.
template <class P>
P short_form_lambda(const Case<P>& c) {
  const P target = c.lcg / c.b;
  const P A = 5.21 * c.C_v * c.C_v;
  P lambda = target / 0.5;
  for (int step = 0; step < 40; ++step) {
    const P square = lambda * lambda;
    const P below = A + 2.39 * square;
    const P h = 0.75 * lambda - lambda * square / below - target;
    const P slope = 0.75 - square * (3.0 * A + 2.39 * square) / (below * below);
    const P down = h / slope;
    lambda = lambda - down;
    if (all(magnitude(down) <= 1e-15 * lambda)) break;
  }
  return lambda;
}

template <class P>
Solution<P> solve_closed(const Case<P>& c, const P& C_L0) {
  using std::pow;
  P lambda = smaller(short_form_lambda(c), P(8.0));
  P tau = smaller(P(pow(P(C_L0 / lift_per_trim_power<P>({lambda, c.C_v})), 1.0 / 1.1) * degree.value()), P(0.3));
  const auto accepted = newton_closed(c, lambda, tau);
  if (all(accepted)) return {lambda, tau, accepted, negate(accepted), per_lane<P>(Outcome::converged)};
  Solution<P> guarded = search_closed(c, C_L0);
  guarded.solved = either(guarded.solved, accepted);
  guarded.lambda = select(accepted, lambda, guarded.lambda);
  guarded.tau = select(accepted, tau, guarded.tau);
  assign_where(guarded.outcome, accepted, Outcome::converged);
  return guarded;
}

template <class P>
Solution<P> solve_general(const Case<P>& c, const P& C_L0) {
  const auto moment = [&](const P& lambda) { return paper<P>(c, C_L0, lambda).moment; };
  const auto sample = [&](const P& lambda) {
    const Paper<P> r = paper<P>(c, C_L0, lambda);
    return Sample<P>{r.moment, r.tau < P(search_trim)};
  };
  const Crossing<P> crossing = find_stable_crossing<P>(sample, least_lambda<P>(C_L0, c.C_v), P(greatest_lambda));
  const BracketedRoot<P> root = bracketed_root(moment, crossing.low, crossing.high);
  const P tau = paper<P>(c, C_L0, root.x).tau;
  const auto too_steep = tau >= P(greatest_trim);
  Solution<P> s{root.x, tau, both(both(crossing.found, root.converged), negate(too_steep)), crossing.second_seen,
                per_lane<P>(Outcome::not_converged)};
  judge<P>(s.outcome, crossing, s.solved);
  assign_where(s.outcome, both(crossing.found, too_steep), Outcome::trim_beyond_range);
  return s;
}

template <class P>
Solution<P> solve_short(const Case<P>& c, const P& C_L0) {
  const P lambda = short_form_lambda(c);
  const P tau = paper<P>(c, C_L0, lambda).tau;
  const auto too_long = lambda > P(greatest_lambda), too_steep = tau >= P(greatest_trim);
  const auto failed = either(too_long, too_steep);
  Solution<P> s{lambda, tau, negate(failed), negate(lambda >= lambda), per_lane<P>(Outcome::converged)};
  assign_where(s.outcome, too_steep, Outcome::trim_beyond_range);
  assign_where(s.outcome, too_long, Outcome::runs_out_of_length);
  return s;
}

enum class Form : std::uint8_t { closed, general, short_form };

/// The door: fields, and what no field table can say.
template <class T>
void check(std::string_view function, const PlaningInput<T>& in, Form form) {
  if (form == Form::short_form) {
    // The thrust line is not read: any accepted one passes the door.
    PlaningInput<T> read = in;
    read.thrust_line = through_cg_parallel_to_keel<T>();
    check_fields(function, read);
  } else {
    check_fields(function, in);
    check_value(function, "VCG", in.loading.vcg, shown(metre, "m"), between(-5.0, 30.0));
  }
  // The centre of gravity must stand over the hull for any bottom to carry it.
  check_value(function, "LCG", in.loading.lcg, shown(metre, "m"), above(0.0, 150.0));
  const auto ahead = in.loading.lcg >= in.hull.projected_chine_length;
  if (any(ahead)) throw BadInput(function, "LCG", "ahead of the bow", "less than the projected chine length");
  if (in.hull.number_of_hulls != 1)
    throw BadInput(function, "number of hulls", std::to_string(in.hull.number_of_hulls),
                   "1: the prismatic method takes one hull");
  if (in.hull.stepped)
    throw BadInput(function, "stepped", "true", "false: no published method for a stepped bottom stands behind this");
}

/// The solver's numbers from the question.
template <class T>
Case<T> make_case(const PlaningInput<T>& in, Form form) {
  using std::cos;
  using std::tan;
  const T zero(0.0);
  const bool lever = form != Form::short_form;
  Case<T> c{};
  c.b = in.hull.chine_beam.value();
  c.beta = in.hull.deadrise.value();
  c.V = in.speed.value();
  const Area<T> b2 = in.hull.chine_beam * in.hull.chine_beam;
  const Force<T> q_b2 = T(0.5) * (in.water.density * in.speed * in.speed * b2);
  c.q_b2 = q_b2.value();
  c.C_v = beam_froude_number<T>(in.speed, in.hull.chine_beam, in.gravity);
  const Force<T> weight = in.loading.mass * in.gravity;
  c.W = weight.value();
  c.lcg = in.loading.lcg.value();
  c.a = lever ? T(in.loading.vcg.value() - 0.25 * c.b * tan(c.beta)) : zero;  // D_f midway between keel and chine
  c.f = lever ? T(thrust_lever(in.thrust_line, in.loading).value()) : zero;
  c.eps = lever ? in.thrust_line.inclination.value() : zero;
  c.nu = in.water.kinematic_viscosity.value();
  c.allowance = in.roughness_allowance;
  c.line = in.friction_line;
  c.velocity = in.bottom_velocity;
  return c;
}

/// An angle in degrees from the solver's radians.
template <class T>
T in_degrees(const T& angle) {
  return in(Angle<T>::from_value(angle), degree);
}

/// Everything that follows once lambda and trim are known.
template <class T>
struct Answer {
  T lambda, tau, C_L0, C_Lb, L, N, thrust, pressure_drag, bare_drag;
  Bottom<T> bottom;
  T vertical_residual, moment_residual;
};

/// Lambda and trim of the closed balance with their derivatives: the same two residuals on T at the root found, and the
/// 2 x 2 Jacobian from plain jets (implicit function theorem).
template <class T>
Answer<T> answer_closed(const Case<T>& c, const Plain<T>& lambda_0, const Plain<T>& tau_0) {
  using std::cos;
  using std::tan;
  using P = Plain<T>;
  T lambda(lambda_0), tau(tau_0);
  if constexpr (!std::same_as<T, P>) {
    using J = Dual<2, P>;
    const Closed<J> jet = closed<J>(widen_case<J>(plain_case(c)), J::input(lambda_0, 0), J::input(tau_0, 1));
    const P v_l = jet.vertical.derivative[0], v_t = jet.vertical.derivative[1];
    const P m_l = jet.moment.derivative[0], m_t = jet.moment.derivative[1];
    const T determinant(P(v_l * m_t - v_t * m_l));
    for (int order = 0; order < derivative_order<T>; ++order) {
      const Closed<T> at_root = closed<T>(c, lambda, tau);
      const T v = at_root.vertical - T(plain(at_root.vertical));
      const T m = at_root.moment - T(plain(at_root.moment));
      lambda = lambda + (T(v_t) * m - T(m_t) * v) / determinant;
      tau = tau + (T(m_l) * v - T(v_l) * m) / determinant;
    }
  }
  const Closed<T> r = closed<T>(c, lambda, tau);
  const T pressure = r.L * tan(tau);
  const T drag = pressure + r.bottom.D_f / cos(tau);
  return {lambda, tau, r.C_L0, r.C_Lb, r.L, r.N, r.thrust, pressure, drag, r.bottom, r.vertical, r.moment};
}

/// The same for the paper's forms, whose one unknown is lambda.
template <class T>
Answer<T> answer_paper(const Case<T>& c, const T& C_L0, const T& C_Lb, const Plain<T>& lambda_0) {
  using std::cos;
  using std::tan;
  using P = Plain<T>;
  T lambda(lambda_0);
  if constexpr (!std::same_as<T, P>) {
    using J = Dual<1, P>;
    const P slope =
        paper<J>(widen_case<J>(plain_case(c)), J(P(plain(C_L0))), J::input(lambda_0, 0)).moment.derivative[0];
    lambda = carry_derivatives<T>(
        lambda_0, [&](const T& x) { return paper<T>(c, C_L0, x).moment; }, slope);
  }
  const Paper<T> r = paper<T>(c, C_L0, lambda);
  const T pressure = c.W * tan(r.tau);
  const T drag = pressure + r.bottom.D_f / cos(r.tau);
  return {lambda, r.tau, C_L0, C_Lb, c.W, r.N, r.thrust, pressure, drag, r.bottom, T(0.0), r.moment};
}

/// The flags of an answer.
template <class T>
PerLane<T, Flags> flags_of(const PlaningInput<T>& in, const Case<T>& c, const Answer<T>& x, const RunningState<T>& s) {
  using std::cos;
  using std::sin;
  using std::sqrt;
  using std::tan;
  using enum PlaningLimit;
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});
  const auto raise = [&](PlaningLimit limit, const auto& mask) { raise_where(flags, mask, flag(limit)); };
  const auto outside = [](const T& v, const Limit& l) { return either(v<T(l.low), v> T(l.high)); };
  const auto& limit = planing_limits;
  const T tau_deg = in_degrees(x.tau);
  const T spread = tan(c.beta) / tan(x.tau);
  raise(trim_range, outside(tau_deg, limit[0]));
  raise(wetted_ratio_range, outside(x.lambda, limit[1]));
  raise(lift_speed_range, outside(c.C_v, limit[2]));
  if (in.bottom_velocity == BottomVelocity::mean_over_bottom)
    raise(bottom_velocity_speed_range, outside(c.C_v, limit[3]));
  raise(procedure_speed_range, outside(c.C_v, limit[4]));
  raise(deadrise_range, outside(in_degrees(c.beta), limit[5]));
  raise(reynolds_range, outside(x.bottom.Re, limit[6]));
  raise(dry_chine, s.chine_wetted_length <= Length<T>::from_value(T(0.0)));
  raise(bow_in_the_water, s.keel_wetted_length > in.hull.projected_chine_length);
  raise(side_wetting, c.C_v * c.C_v <= (x.lambda - 0.16 * spread) / (3.0 * sin(x.tau)));
  raise(spray_root_broken, both(c.C_v<T(2.0), spread / std::numbers::pi> T(limit[10].high)));
  raise(negative_dynamic_lift, x.bottom.velocity_ratio_squared > T(1.0));
  // Planing begins at C_v/sqrt(lambda) = 1 for trims from 4 degrees and 2 at 2 degrees: straight between.
  const T begins = smaller(larger(T(3.0 - 0.5 * tau_deg), T(1.0)), T(2.0));
  raise(not_planing, c.C_v / sqrt(x.lambda) < begins);
  raise(hump, both(s.volume_froude_number >= T(1.5), s.volume_froude_number < T(limit[13].low)));
  raise(second_equilibrium, (x.bottom.C_F + c.allowance) * (c.a - c.f) > limit[14].high * c.b * x.C_Lb * cos(c.beta));
  if (in.friction_line == FrictionLine::schoenherr) raise(recalled_friction_line, c.C_v >= c.C_v);
  return flags;
}

/// Fills the result: quantities where there is an answer, outcomes and flags.
template <class T>
RunningState<T> report(const PlaningInput<T>& in, const Case<T>& c, const Answer<T>& x, const Solution<Plain<T>>& found,
                       const Method& method) {
  RunningState<T> s;
  s.method = &method;
  s.outcome = found.outcome;
  s.speed = in.speed;
  s.beam_froude_number = c.C_v;
  const Volume<T> volume = displaced_volume<T>(in.loading.mass, in.water.density);
  s.volume_froude_number = volume_froude_number<T>(in.speed, volume, in.gravity);

  const Length<T>& b = in.hull.chine_beam;
  const auto undefined = x.bottom.velocity_ratio_squared <= T(least_velocity_ratio_squared);
  const auto too_long = x.lambda * b > in.hull.projected_chine_length;
  assign_where(s.outcome, both(found.solved, undefined), Outcome::bottom_velocity_undefined);
  const auto no_load = x.L <= T(0.0);
  assign_where(s.outcome, both(found.solved, too_long), Outcome::runs_out_of_length);
  assign_where(s.outcome, both(found.solved, no_load), Outcome::load_not_positive);
  const auto good = both(found.solved, negate(either(either(undefined, too_long), no_load)));
  // A lane without an answer is computed at a harmless attitude and its numbers are unset: no NaN on the way.
  const T lambda = select(good, x.lambda, T(1.0));
  const T tau = select(good, x.tau, T(0.05));
  const auto number = [&](const T& v) { return select(good, v, T(unset)); };
  const auto put = [&](auto& target, const T& v) {
    target = std::remove_cvref_t<decltype(target)>::from_value(number(v));
  };

  s.lift_coefficient = number(x.C_Lb);
  s.flat_lift_coefficient = number(x.C_L0);
  s.mean_wetted_ratio = number(x.lambda);
  s.reynolds_number = number(x.bottom.Re);
  s.friction_coefficient = number(x.bottom.C_F);
  s.vertical_residual = number(x.vertical_residual);
  s.moment_residual = number(x.moment_residual);
  put(s.trim, x.tau);
  put(s.centre_of_pressure, x.bottom.l_p);
  put(s.bottom_velocity, x.bottom.V_1);
  put(s.load, x.L);
  put(s.normal_force, x.N);
  put(s.thrust, x.thrust);
  put(s.friction_force, x.bottom.D_f);
  put(s.pressure_drag, x.pressure_drag);
  put(s.bare_drag, x.bare_drag);
  const WettedLengths<T> lengths = planing_detail::wetted_lengths<T>(
      {.chine_beam = b, .deadrise = in.hull.deadrise, .trim = Angle<T>::from_value(tau), .mean_wetted_ratio = lambda});
  put(s.keel_wetted_length, lengths.keel.value());
  put(s.chine_wetted_length, lengths.chine.value());
  put(s.draft, lengths.draft.value());
  s.appendage_drag = s.bare_drag * in.added_drag.appendage_fraction;
  put(s.air_drag, still_air_drag<T>(in.added_drag, in.speed).value());
  s.total_drag = s.bare_drag + s.appendage_drag + s.air_drag;
  s.bare_effective_power = s.bare_drag * in.speed;
  s.effective_power = s.total_drag * in.speed;
  auto flags = flags_of(in, c, x, s);
  raise_where(flags, found.second_seen, flag(PlaningLimit::second_equilibrium));
  raise_where(s.flags, good, flags);
  return s;
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
///   Derivatives (Dual) are exact to rounding by the implicit function theorem; kinks: in the draft lambda 1.3 of a flat
///   bottom, and zero deadrise, where the draft jumps and its derivative is that of the flat branch.
/// @throws BadInput naming the field; for more than one hull or a step; for an LCG ahead of the chines
/// Source: savitsky_1964 eq 1-5, 15, 16, 18-25, 28-31 (printed); by FrictionLine::schoenherr recalled and flagged
template <class T = double>
RunningState<T> planing_equilibrium(const PlaningInput<T>& in) {
  using namespace planing_detail;
  check("planing_equilibrium", in, Form::closed);
  const Case<T> c = make_case(in, Form::closed);
  const Case<Plain<T>> p = plain_case(c);
  const Plain<T> C_L0 =
      planing_detail::flat_lift_from_deadrise_lift<Plain<T>>(p.W / p.q_b2, Angle<Plain<T>>::from_value(p.beta));
  const Solution<Plain<T>> found = solve_closed(p, C_L0);
  return report(in, c, answer_closed(c, found.lambda, found.tau), found, planing_closed_method);
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
  check("planing_equilibrium_paper_general", in, Form::general);
  const Case<T> c = make_case(in, Form::general);
  const T C_Lb = c.W / c.q_b2;
  const T C_L0 = planing_detail::flat_lift_from_deadrise_lift<T>(C_Lb, in.hull.deadrise);
  const Solution<Plain<T>> found = solve_general<Plain<T>>(plain_case(c), plain(C_L0));
  return report(in, c, answer_paper(c, C_L0, C_Lb, found.lambda), found, planing_general_method);
}

/// The paper's short form: all forces through the centre of gravity, lambda b C_p = LCG (eq 37).
/// @param in as for planing_equilibrium(); the thrust line and VCG are ignored and may be unset
/// @return as planing_equilibrium()
/// @throws BadInput as planing_equilibrium()
/// Source: savitsky_1964 eq 1-5, 15, 16, 18-25, 28, 37 (printed); by FrictionLine::schoenherr recalled and flagged
template <class T = double>
RunningState<T> planing_equilibrium_paper_short(const PlaningInput<T>& in) {
  using namespace planing_detail;
  check("planing_equilibrium_paper_short", in, Form::short_form);
  const Case<T> c = make_case(in, Form::short_form);
  const T C_Lb = c.W / c.q_b2;
  const T C_L0 = planing_detail::flat_lift_from_deadrise_lift<T>(C_Lb, in.hull.deadrise);
  const Solution<Plain<T>> found = solve_short<Plain<T>>(plain_case(c), plain(C_L0));
  return report(in, c, answer_paper(c, C_L0, C_Lb, found.lambda), found, planing_short_method);
}

}  // namespace hardchine
