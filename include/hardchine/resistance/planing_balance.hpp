/// @file
/// The balance of forces and moments of a prismatic planing hull at one speed, and the search for it: what stands behind
/// planing_equilibrium.hpp, whose file comment says what the balances are.
///
/// The mean wetted ratio lambda, not the trim, is the unknown. In the paper's forms the flat lift coefficient C_L0 follows
/// from the load alone and the trim is explicit in lambda: one equation, moment(lambda) = 0. In the closed balance C_L0
/// is the second unknown, carried as z = C_L0^(1/5), in which eq 16 needs no power; all else is explicit.
///
/// Formulas stand once, in logarithms: an evaluation of the paper's forms at a given lambda takes three of them (lambda,
/// eq 15, V_1), two exponentials (trim, C_Ld^0.60) and one sine with its cosine; the closed balance one logarithm more.
/// tests/resistance/planing_balance.cpp compares them with the formulas of planing_lift, bottom_velocity and
/// friction_line, which read as in print.
///
/// The search takes steps in ln lambda with slopes from jets (Dual<1>). It starts from a fit of the short form's root, a
/// cubic's, to 1 %; then comes one step of Newton's method, one of inverse interpolation through two points with their
/// slopes, and one that carries all results along. The closed balance takes steps of Newton's method in both unknowns
/// (Dual<2>). A search is accepted only if its last step was small, the slope is the stable one and the attitude is in
/// range; a guarded search does the others.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <tuple>
#include <type_traits>
#include <utility>

#include "hardchine/outcome.hpp"
#include "hardchine/resistance/bottom_velocity.hpp"
#include "hardchine/resistance/friction_line.hpp"
#include "hardchine/resistance/planing_lift.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/root.hpp"

namespace hardchine {

/// How far an equilibrium is looked for.
enum class Search : std::uint8_t {
  complete,   ///< by the fast search, and by the guarded one where that cannot be believed
  fast_alone  ///< what the fast search leaves is not_converged: batch() asks so, then puts these cases together
};

}  // namespace hardchine

namespace hardchine::planing_detail {

/// The question in dimensionless and coherent numbers, with all that stays while lambda is sought.
template <class T>
struct Case {
  T b, q_b2, C_v, W, V;                           // beam, 0.5 rho V^2 b^2, speed coefficient, weight, speed
  T tan_beta, cos_beta, k;                        // deadrise; k = 0.0065 beta in degrees, eq 16
  T lcg, a, f, sin_eps, cos_eps;                  // levers of D_f and thrust about the CG, thrust inclination
  T W_f, a_less_f, one_over_W_b, friction_force;  // W f, a - f, 1/(W b); 0.5 rho V^2 b^2/cos beta
  T Re_b, ln_Re_b, allowance, buoyancy;           // V b/nu; of C_F; buoyant over dynamic lift at lambda = 1, eq 15
  T C_Lb, C_L0, ln_C_L0, z;                       // of the whole weight; z = C_L0^(1/5)
  FrictionLine line = FrictionLine::ittc_1957;    // as asked
  BottomVelocity velocity = BottomVelocity::mean_over_bottom;

  static constexpr std::array<T Case::*, 25> numbers() {
    return {&Case::b,
            &Case::q_b2,
            &Case::C_v,
            &Case::W,
            &Case::V,
            &Case::tan_beta,
            &Case::cos_beta,
            &Case::k,
            &Case::lcg,
            &Case::a,
            &Case::f,
            &Case::sin_eps,
            &Case::cos_eps,
            &Case::W_f,
            &Case::a_less_f,
            &Case::one_over_W_b,
            &Case::friction_force,
            &Case::Re_b,
            &Case::ln_Re_b,
            &Case::allowance,
            &Case::buoyancy,
            &Case::C_Lb,
            &Case::C_L0,
            &Case::ln_C_L0,
            &Case::z};
  }
};

/// All that a balance determines at a given lambda (and z).
template <class T>
struct Answer {
  T lambda, ln_lambda, z, tau, sin_tau, cos_tau, one_over_cos_tau, C_L0, C_Lb, velocity_ratio_squared, V_1, Re, C_F;
  T D_f, l_p, L, N, thrust, pressure_drag, bare_drag;
  T vertical;  // (L + T sin(tau + eps) - W)/W, eq 29; zero by definition in the paper's forms
  T moment;    // eq 31 or 35 over W b; positive is bow-down

  static constexpr std::array<T Answer::*, 22> numbers() {
    return {&Answer::lambda,
            &Answer::ln_lambda,
            &Answer::z,
            &Answer::tau,
            &Answer::sin_tau,
            &Answer::cos_tau,
            &Answer::one_over_cos_tau,
            &Answer::C_L0,
            &Answer::C_Lb,
            &Answer::velocity_ratio_squared,
            &Answer::V_1,
            &Answer::Re,
            &Answer::C_F,
            &Answer::D_f,
            &Answer::l_p,
            &Answer::L,
            &Answer::N,
            &Answer::thrust,
            &Answer::pressure_drag,
            &Answer::bare_drag,
            &Answer::vertical,
            &Answer::moment};
  }
};

/// The same numbers each put through `change`: to another scalar, or to a corrected value.
template <class To, class From, class F>
void change_numbers(To& to, const From& from, F&& change) {
  constexpr auto target = To::numbers();
  constexpr auto source = From::numbers();
  [&]<std::size_t... I>(std::index_sequence<I...>) { ((to.*target[I] = change(from.*source[I])), ...); }
  (std::make_index_sequence<target.size()>{});
}

template <class To, class From, class F>
Case<To> changed_case(const Case<From>& from, F&& change) {
  Case<To> to;
  change_numbers(to, from, change);
  to.line = from.line;
  to.velocity = from.velocity;
  return to;
}

template <class T>
Case<Plain<T>> plain_case(const Case<T>& c) {
  return changed_case<Plain<T>>(c, [](const T& x) { return plain(x); });
}

/// The square of V_1/V must stay positive while iterating; the result is refused if it is not.
inline constexpr double least_velocity_ratio_squared = 1e-4;

/// Where the friction lines end, 1e5: a slower or smaller bottom takes the coefficient there (and is flagged).
inline constexpr double least_log10_reynolds_number = 5.0;

/// Trims of an answer, radians: from the greater one (29 degrees) on it is beyond the method. The guarded search looks
/// a little further, so that a balance near the end lies between two of its points.
inline constexpr double least_trim = 1e-4;
inline constexpr double greatest_trim = 0.5;
inline constexpr double search_trim = 0.6;
/// What no search goes beyond: where it starts, a tiny lambda would ask for trims that no formula takes.
inline constexpr double steepest_trim = 0.7;

inline constexpr double greatest_lambda = 12.0;

/// A last step below this, relative, leaves an error of its square, below rounding.
inline constexpr double small_step = 2e-9;

/// What lambda and the flat lift determine: trim (eq 15), bottom velocity (eq 16, 24), friction, centre of pressure
/// (eq 28). `c` may be over a simpler scalar than lambda.
template <class S, class C, class X>
void set_bottom(Answer<S>& r, const Case<C>& c, const S& lambda, const X& C_L0, const X& ln_C_L0) {
  using std::exp;
  using std::log;
  r.lambda = lambda;
  r.ln_lambda = log(lambda);
  const S square = lambda * lambda;
  const S parts = 1.0 + c.buoyancy * square;  // C_L0 over its dynamic part C_Ld
  const S ln_C_Ld = ln_C_L0 - log(parts);
  // C_Ld = 0.0120 lambda^(1/2) tau^1.1
  const S ln_tau_deg = (ln_C_Ld - 0.5 * r.ln_lambda - ln_dynamic_lift_factor) * (1.0 / trim_exponent);
  r.tau = smaller(S(degree.value() * exp(ln_tau_deg)), S(steepest_trim));
  const SinCos<S> of_tau = sin_cos(r.tau);
  r.sin_tau = of_tau.sin;
  r.cos_tau = of_tau.cos;
  r.one_over_cos_tau = 1.0 / r.cos_tau;
  S ratio_squared(1.0), ln_ratio_squared(0.0);
  r.velocity_ratio_squared = ratio_squared;
  if (c.velocity == BottomVelocity::mean_over_bottom) {
    const S C_Ldb = C_L0 / parts - c.k * exp(S(deadrise_lift_exponent * ln_C_Ld));
    r.velocity_ratio_squared = 1.0 - C_Ldb * r.one_over_cos_tau / lambda;
    ratio_squared = larger(r.velocity_ratio_squared, S(least_velocity_ratio_squared));
    ln_ratio_squared = log(ratio_squared);
  }
  const S log10_Re = (0.5 * ln_ratio_squared + r.ln_lambda + c.ln_Re_b) * std::numbers::log10e;
  r.C_F = friction_detail::on_line_by_log10(c.line, larger(log10_Re, S(least_log10_reynolds_number)));
  r.D_f = (r.C_F + c.allowance) * (ratio_squared * lambda) * c.friction_force;
  r.l_p = centre_of_pressure_ratio(lambda, c.C_v) * lambda * c.b;
}

/// What the balance does not ask for: V_1 and Re, drag.
template <class S, class C>
void set_rest(Answer<S>& r, const Case<C>& c) {
  using std::sqrt;
  const S ratio = sqrt(larger(r.velocity_ratio_squared, S(least_velocity_ratio_squared)));
  r.V_1 = ratio * c.V;
  r.Re = ratio * r.lambda * c.Re_b;
  r.bare_drag = r.pressure_drag + r.D_f * r.one_over_cos_tau;
}

/// eq 35 over W b.
template <class S, class C>
S paper_moment(const Case<C>& c, const Answer<S>& r) {
  return (r.N * (c.lcg - r.l_p) - r.sin_tau * c.W_f + r.D_f * c.a_less_f) * c.one_over_W_b;
}

/// The paper's forms at a given lambda, the whole weight on the bottom: what the moment is made of.
template <class S, class C>
void paper_balance(Answer<S>& r, const Case<C>& c, const S& lambda) {
  set_bottom(r, c, lambda, c.C_L0, c.ln_C_L0);
  const S sin_line = r.sin_tau * c.cos_eps + r.cos_tau * c.sin_eps;  // sin(tau + eps)
  r.N = (1.0 - r.sin_tau * sin_line) * r.one_over_cos_tau * c.W;     // eq 34
  r.moment = paper_moment(c, r);
}
/// The rest of it.
template <class S, class C>
void paper_rest(Answer<S>& r, const Case<C>& c) {
  r.z = S(c.z);
  r.C_L0 = S(c.C_L0);
  r.C_Lb = S(c.C_Lb);
  r.L = S(c.W);
  const S lift_drag = r.sin_tau * c.W;
  r.thrust = lift_drag + r.D_f;
  r.pressure_drag = lift_drag * r.one_over_cos_tau;
  r.vertical = S(0.0);
  set_rest(r, c);
}

/// eq 29 over W, eq 31 over W b.
template <class S, class C>
void set_closed_residuals(Answer<S>& r, const Case<C>& c) {
  const S sin_line = r.sin_tau * c.cos_eps + r.cos_tau * c.sin_eps;
  r.vertical = (r.L + r.thrust * sin_line - c.W) * (c.b * c.one_over_W_b);
  r.moment = (r.N * (c.lcg - r.l_p) + r.D_f * c.a - r.thrust * c.f) * c.one_over_W_b;
}

/// The closed balance at a given lambda and z, the bottom carries what the thrust does not lift: what the residuals are
/// made of.
template <class S, class C>
void closed_balance(Answer<S>& r, const Case<C>& c, const S& lambda, const S& z) {
  using std::log;
  const S cube = z * z * z;
  r.z = z;
  r.C_L0 = cube * z * z;
  r.C_Lb = r.C_L0 - cube * c.k;  // eq 16
  r.L = r.C_Lb * c.q_b2;
  set_bottom(r, c, lambda, r.C_L0, S(5.0 * log(z)));
  r.N = (r.L + r.D_f * r.sin_tau) * r.one_over_cos_tau;              // L = N cos tau - D_f sin tau
  const S cos_line = r.cos_tau * c.cos_eps - r.sin_tau * c.sin_eps;  // cos(tau + eps)
  r.thrust = (r.D_f * r.cos_tau + r.N * r.sin_tau) / cos_line;       // eq 30
  set_closed_residuals(r, c);
}
/// The rest of it.
template <class S, class C>
void closed_rest(Answer<S>& r, const Case<C>& c) {
  r.pressure_drag = r.L * r.sin_tau * r.one_over_cos_tau;
  set_rest(r, c);
}

/// All of a balance at a given attitude.
template <class S, class C>
Answer<S> paper_form(const Case<C>& c, const S& lambda) {
  Answer<S> r;
  paper_balance(r, c, lambda);
  paper_rest(r, c);
  return r;
}
template <class S, class C>
Answer<S> closed_form(const Case<C>& c, const S& lambda, const S& z) {
  Answer<S> r;
  closed_balance(r, c, lambda, z);
  closed_rest(r, c);
  return r;
}

/// A positive number put up by the factor e^step, for steps up to 2: by a fraction, which needs no exponential.
template <class P>
P put_up(const P& x, const P& step) {
  return x * (2.0 + step) / (2.0 - step);
}

/// The root of h(lambda) = 0.75 lambda - lambda^3/(5.21 C_v^2 + 2.39 lambda^2) = arm, the centre of pressure in beams: a
/// rational fit to 1 %.
template <class P>
P wetted_ratio_for_arm(const P& arm, const P& C_v) {
  const P y = arm * arm / (5.21 * C_v * C_v);
  const P w = y / (y + 0.5);
  return arm * (1.3380 + w * (0.33065 + 18.888 * w)) / (1.0 + w * (-0.49547 + 6.3337 * w));
}

/// Where the unknowns of a balance were found, plain, and how that went.
template <class P>
struct Solution {
  Answer<P> answer;
  MaskOf<P> solved, second_seen;
  PerLane<P, Outcome> outcome;
};

/// An answer carried along the last, small step of the search.
template <class P, class J>
Answer<P> carried_along(const Answer<J>& jets, const std::array<P, std::tuple_size_v<decltype(J::derivative)>>& step) {
  Answer<P> r;
  change_numbers(r, jets, [&](const J& x) {
    P y = x.value;
    for (std::size_t i = 0; i < step.size(); ++i) y = y + x.derivative[i] * step[i];
    return y;
  });
  return r;
}

/// The drag's lever over the beam and the lift from which on a second balance exists: 0.75 - 1/2.39 (eq 28).
inline constexpr double greatest_drag_lever = 0.33;

/// True where a second, unstable balance at lower trim may exist: there the drag outweighs the lever of the pressure, and
/// the search looks at all of lambda.
template <class P>
MaskOf<P> second_balance_possible(const Case<P>& c, const Answer<P>& r) {
  return (r.C_F + c.allowance) * c.a_less_f > greatest_drag_lever * c.b * r.C_Lb * c.cos_beta;
}

/// True where the fast search may be believed: in range, and no second balance that it could have passed over.
template <class P>
MaskOf<P> acceptable(const Case<P>& c, const Answer<P>& r) {
  const auto in_range =
      both(both(r.tau > P(least_trim), r.tau < P(greatest_trim)), both(r.lambda<P(greatest_lambda), r.L> P(0.0)));
  const auto defined = r.velocity_ratio_squared > P(least_velocity_ratio_squared);
  return both(both(in_range, defined), negate(second_balance_possible(c, r)));
}

/// The fast search: what was found, and in which lanes it may be believed.
template <class P>
struct Fast {
  Answer<P> answer;
  MaskOf<P> settled, stable, acceptable;
};

/// The paper's general form from the short form's root.
template <class P>
Fast<P> fast_paper(const Case<P>& c, const P& start) {
  using J = Dual<1, P>;
  P lambda = start, step(0.0);
  P x_0(0.0), m_0(0.0), g_0(0.0);  // the point before: ln lambda, moment, d ln lambda/d moment
  Answer<J> r;
  auto settled = negate(start >= start);
  for (int pass = 0;; ++pass) {
    J at(lambda);
    at.derivative[0] = lambda;  // d/d ln lambda
    paper_balance<J>(r, c, at);
    const P m = r.moment.value, g = 1.0 / r.moment.derivative[0];
    step = -m * g;
    settled = magnitude(step) < P(small_step);
    // Lanes that are done stay where they are, whatever their neighbours need: settled, or where no answer can be.
    const auto hopeless = either(r.moment.derivative[0] >= P(0.0),
                                 either(r.tau.value > P(search_trim), lambda > P(2.0 * greatest_lambda)));
    const auto done = either(settled, hopeless);
    if (pass >= 2 && (all(done) || pass == 6)) break;
    const P x = r.ln_lambda.value;
    P next = smaller(larger(step, P(-0.5)), P(0.5));
    if (pass == 1) {
      // Cubic in the moment through both points with their slopes; u is 0 here and 1 at the point before.
      const P back = m_0 - m;
      const P u = -m / back;
      const P cubic = u * (u * (3.0 - 2.0 * u) * (x_0 - x) + back * (1.0 - u) * ((1.0 - u) * g - u * g_0));
      // Close to the root both points are one to rounding.
      const auto apart = both(magnitude(step) > P(small_step), magnitude(cubic - next) < magnitude(next));
      next = select(apart, cubic, next);
    }
    x_0 = x;
    m_0 = m;
    g_0 = g;
    lambda = pass < 2 ? put_up(lambda, next) : select(done, lambda, put_up(lambda, next));
  }
  paper_rest(r, c);
  Answer<P> answer = carried_along<P>(r, {step});
  answer.moment = paper_moment(c, answer);  // of the numbers that are returned
  return {answer, settled, r.moment.derivative[0] < P(0.0), acceptable(c, answer)};
}

/// The closed balance by Newton's method in ln lambda and ln z.
template <class P>
Fast<P> fast_closed(const Case<P>& c, const P& start, const P& z_start) {
  using J = Dual<2, P>;
  P lambda = start, z = z_start, step(0.0), z_step(0.0);
  Answer<J> r;
  auto settled = negate(start >= start);
  auto stable = settled;
  for (int pass = 0;; ++pass) {
    J at(lambda), z_at(z);
    at.derivative[0] = lambda;  // d/d ln lambda
    z_at.derivative[1] = z;     // d/d ln z
    closed_balance<J>(r, c, at, z_at);
    const P v = r.vertical.value, m = r.moment.value;
    const P v_x = r.vertical.derivative[0], v_z = r.vertical.derivative[1];
    const P m_x = r.moment.derivative[0], m_z = r.moment.derivative[1];
    const P determinant = v_x * m_z - v_z * m_x;
    const P inverse = 1.0 / determinant;
    step = (v_z * m - m_z * v) * inverse;
    z_step = (m_x * v - v_x * m) * inverse;
    settled = both(magnitude(step) < P(small_step), magnitude(z_step) < P(small_step));
    // Along the vertical balance dm/dx = -determinant/v_z: falling is stable.
    stable = both(determinant > P(0.0), v_z > P(0.0));
    const auto hopeless =
        either(negate(stable), either(r.tau.value > P(search_trim), lambda > P(2.0 * greatest_lambda)));
    const auto done = either(settled, hopeless);
    if (pass >= 2 && (all(done) || pass == 8)) break;
    const P next = put_up(lambda, P(smaller(larger(step, P(-0.5)), P(0.5))));
    const P z_next = put_up(z, P(smaller(larger(z_step, P(-0.1)), P(0.1))));
    lambda = pass < 2 ? next : select(done, lambda, next);
    z = pass < 2 ? z_next : select(done, z, z_next);
  }
  closed_rest(r, c);
  Answer<P> answer = carried_along<P>(r, {step, z_step});
  set_closed_residuals(answer, c);  // of the numbers that are returned
  return {answer, settled, stable, acceptable(c, answer)};
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

/// One answer or another, lane by lane.
template <class P>
Answer<P> chosen(const MaskOf<P>& mask, const Answer<P>& a, const Answer<P>& b) {
  Answer<P> r;
  for (const auto number : Answer<P>::numbers()) r.*number = select(mask, a.*number, b.*number);
  return r;
}

/// Guarded search of the paper's general form.
template <class P>
Solution<P> search_paper(const Case<P>& c) {
  const auto moment = [&](const P& lambda) {
    Answer<P> r;
    paper_balance<P>(r, c, lambda);
    return r.moment;
  };
  const auto sample = [&](const P& lambda) {
    const Answer<P> r = paper_form<P>(c, lambda);
    return Sample<P>{r.moment, r.tau < P(search_trim)};
  };
  const P low = 0.5 * least_lambda<P>(c.C_L0, c.C_v);
  const Crossing<P> crossing = find_stable_crossing<P>(sample, low, P(greatest_lambda));
  const BracketedRoot<P> root = bracketed_root(moment, crossing.low, crossing.high);
  Solution<P> s{paper_form<P>(c, root.x), crossing.found, crossing.second_seen, per_lane<P>(Outcome::not_converged)};
  const auto too_steep = s.answer.tau >= P(greatest_trim);
  s.solved = both(both(crossing.found, root.converged), negate(too_steep));
  judge<P>(s.outcome, crossing, s.solved);
  assign_where(s.outcome, both(crossing.found, too_steep), Outcome::trim_beyond_range);
  return s;
}

/// The flat lift (as z) that closes the vertical balance at a given lambda; the nearer end of the range where none does.
template <class P>
struct LiftAtLambda {
  P z;
  MaskOf<P> closes;
};

template <class P>
LiftAtLambda<P> lift_at_lambda(const Case<P>& c, const P& lambda) {
  using std::pow;
  const auto z_at = [&](double trim) {
    return P(pow(flat_lift<P>({Angle<P>::from_value(P(trim)), lambda, c.C_v}), 0.2));
  };
  const auto vertical = [&](const P& z) { return closed_form<P>(c, lambda, z).vertical; };
  const P low = z_at(least_trim), high = z_at(search_trim);
  const BracketedRoot<P> root = bracketed_root(vertical, low, high, 1e-13);
  const P end = select(vertical(low) > P(0.0), low, high);
  return {select(root.bracketed, root.x, end), root.bracketed};
}

/// Guarded search of the closed balance: lambda outside, flat lift inside.
template <class P>
Solution<P> search_closed(const Case<P>& c) {
  const auto sample = [&](const P& lambda) {
    const LiftAtLambda<P> lift = lift_at_lambda(c, lambda);
    return Sample<P>{closed_form<P>(c, lambda, lift.z).moment, lift.closes};
  };
  const auto moment = [&](const P& lambda) { return sample(lambda).moment; };
  // The thrust may carry a part of the load: start the search further out than the whole load asks for.
  const P low = 0.5 * least_lambda<P>(c.C_L0, c.C_v);
  Crossing<P> crossing = find_stable_crossing<P>(sample, low, P(greatest_lambda));
  const BracketedRoot<P> root = bracketed_root(moment, crossing.low, crossing.high, 1e-12);
  // Polish: the nested search stops at its tolerances. And a moment that changes sign where no trim closes the vertical
  // balance is no equilibrium: both residuals decide.
  const P z = lift_at_lambda(c, root.x).z;
  const Answer<P> rough = closed_form<P>(c, root.x, z);
  const Fast<P> polished = fast_closed(c, root.x, z);
  const auto nearby = magnitude(polished.answer.lambda - root.x) < P(1e-6 * root.x);
  const auto better = both(polished.settled, both(polished.stable, nearby));
  Solution<P> s{chosen(better, polished.answer, rough), crossing.found, crossing.second_seen,
                per_lane<P>(Outcome::not_converged)};
  const auto closes = both(magnitude(s.answer.vertical) < P(1e-9), magnitude(s.answer.moment) < P(1e-9));
  s.solved = both(crossing.found, both(closes, s.answer.tau < P(greatest_trim)));
  if (any(both(negate(crossing.found), crossing.unstable_seen))) {
    // Between two points that close there may be a gap that does not: only a root with a lift of its own counts.
    const BracketedRoot<P> unstable = bracketed_root(moment, crossing.unstable_low, crossing.unstable_high, 1e-12);
    const Sample<P> there = sample(unstable.x);
    crossing.unstable_seen = both(crossing.unstable_seen, both(there.closes, magnitude(there.moment) < P(1e-6)));
  }
  judge<P>(s.outcome, crossing, s.solved);
  const auto no_balance = both(crossing.found, negate(s.solved));
  assign_where(s.outcome, both(no_balance, rough.tau >= P(greatest_trim)), Outcome::trim_beyond_range);
  assign_where(s.outcome, both(no_balance, rough.tau < P(2.0 * least_trim)), Outcome::load_not_positive);
  return s;
}

/// Where the search starts: the short form's root.
template <class P>
P short_form_start(const Case<P>& c) {
  return smaller(wetted_ratio_for_arm(P(c.lcg / c.b), c.C_v), P(8.0));
}

/// lambda of the paper's short form, lambda C_p = LCG/b, to rounding: h rises with a slope between 0.279 and 0.75, so there is one root, and Newton's method finds it.
template <class P>
P short_form_lambda(const Case<P>& c) {
  const P target = c.lcg / c.b;
  const P A = 5.21 * c.C_v * c.C_v;
  P lambda = wetted_ratio_for_arm(target, c.C_v);
  auto done = negate(lambda >= lambda);
  for (int step = 0; step < 40 && !all(done); ++step) {
    const P square = lambda * lambda;
    const P below = A + 2.39 * square;
    const P h = 0.75 * lambda - lambda * square / below - target;
    const P slope = 0.75 - square * (3.0 * A + 2.39 * square) / (below * below);
    const P down = h / slope;
    lambda = select(done, lambda, P(lambda - down));
    done = either(done, magnitude(down) <= 1e-15 * lambda);
  }
  return lambda;
}

/// The fast search where it may be believed, the guarded one elsewhere (or none, if the fast one is to stay alone).
template <class P, class Guarded>
Solution<P> solved_by(const Fast<P>& fast, Search search, Guarded&& guarded) {
  const auto accepted = both(both(fast.settled, fast.stable), fast.acceptable);
  if (all(accepted)) return {fast.answer, accepted, negate(accepted), per_lane<P>(Outcome::converged)};
  const auto nowhere = both(accepted, negate(accepted));
  Solution<P> s = search == Search::fast_alone
                      ? Solution<P>{fast.answer, nowhere, nowhere, per_lane<P>(Outcome::not_converged)}
                      : guarded();
  s.answer = chosen(accepted, fast.answer, s.answer);
  s.solved = either(s.solved, accepted);
  s.second_seen = both(s.second_seen, negate(accepted));
  assign_where(s.outcome, accepted, Outcome::converged);
  return s;
}

template <class P>
Solution<P> solve_closed(const Case<P>& c, Search search = Search::complete) {
  return solved_by<P>(fast_closed<P>(c, short_form_start(c), c.z), search, [&] { return search_closed(c); });
}

template <class P>
Solution<P> solve_general(const Case<P>& c, Search search = Search::complete) {
  return solved_by<P>(fast_paper<P>(c, short_form_start(c)), search, [&] { return search_paper(c); });
}

template <class P>
Solution<P> solve_short(const Case<P>& c) {
  const Answer<P> answer = paper_form<P>(c, short_form_lambda(c));
  const auto too_long = answer.lambda > P(greatest_lambda), too_steep = answer.tau >= P(greatest_trim);
  const auto failed = either(too_long, too_steep);
  Solution<P> s{answer, negate(failed), negate(answer.lambda >= answer.lambda), per_lane<P>(Outcome::converged)};
  assign_where(s.outcome, too_steep, Outcome::trim_beyond_range);
  assign_where(s.outcome, too_long, Outcome::runs_out_of_length);
  return s;
}

/// The scalar with `more` further inputs, in which the unknowns of a balance are seeded.
template <int more, int N, class B>
Dual<N + more, B> with_more_inputs(const Dual<N, B>& x) {
  Dual<N + more, B> r(x.value);
  for (std::size_t i = 0; i < N; ++i) r.derivative[i] = x.derivative[i];
  return r;
}

/// The numbers of `below` with derivatives: those of `wide` by its first N inputs, and by its further ones, the unknowns,
/// times the slopes of these.
template <int N, class B, int more>
Answer<Dual<N, B>> with_slopes(
    const Answer<B>& below, const Answer<Dual<N + more, B>>& wide,
    const std::array<std::array<B, static_cast<std::size_t>(N)>, static_cast<std::size_t>(more)>& slope) {
  Answer<Dual<N, B>> with;
  const auto one = [&](Dual<N, B>& y, const B& value, const Dual<N + more, B>& x) {
    y.value = value;
    for (std::size_t i = 0; i < N; ++i) {
      y.derivative[i] = x.derivative[i];
      for (std::size_t k = 0; k < slope.size(); ++k)
        y.derivative[i] = y.derivative[i] + x.derivative[N + k] * slope[k][i];
    }
  };
  constexpr auto to = Answer<Dual<N, B>>::numbers();
  constexpr auto from_below = Answer<B>::numbers();
  constexpr auto from_wide = Answer<Dual<N + more, B>>::numbers();
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    (one(with.*to[I], below.*from_below[I], wide.*from_wide[I]), ...);
  }
  (std::make_index_sequence<to.size()>{});
  return with;
}

/// The answer of a paper form with its derivatives at the root, by the implicit function theorem, one pass an order: the
/// root is one more input, and d lambda = -(dF/d input)/(dF/d lambda).
template <class T>
Answer<T> paper_answer(const Case<T>& c, const Answer<Plain<T>>& plain_answer) {
  if constexpr (derivative_order<T> == 0)
    return plain_answer;
  else
    return paper_answer_with_derivatives(c, plain_answer);
}
template <int N, class B>
Answer<Dual<N, B>> paper_answer_with_derivatives(const Case<Dual<N, B>>& c, const Answer<Plain<B>>& plain_answer) {
  using More = Dual<N + 1, B>;
  const Answer<B> below =
      paper_answer<B>(changed_case<B>(c, [](const Dual<N, B>& x) { return x.value; }), plain_answer);
  const Case<More> wide = changed_case<More>(c, [](const Dual<N, B>& x) { return with_more_inputs<1>(x); });
  const Answer<More> r = paper_form<More>(wide, More::input(below.lambda, N));
  const B turn = -1.0 / r.moment.derivative[N];
  std::array<std::array<B, static_cast<std::size_t>(N)>, 1> slope;
  for (std::size_t i = 0; i < N; ++i) slope[0][i] = r.moment.derivative[i] * turn;
  return with_slopes<N, B, 1>(below, r, slope);
}

/// The same for the closed balance and its two unknowns.
template <class T>
Answer<T> closed_answer(const Case<T>& c, const Answer<Plain<T>>& plain_answer) {
  if constexpr (derivative_order<T> == 0)
    return plain_answer;
  else
    return closed_answer_with_derivatives(c, plain_answer);
}
template <int N, class B>
Answer<Dual<N, B>> closed_answer_with_derivatives(const Case<Dual<N, B>>& c, const Answer<Plain<B>>& plain_answer) {
  using More = Dual<N + 2, B>;
  const Answer<B> below =
      closed_answer<B>(changed_case<B>(c, [](const Dual<N, B>& x) { return x.value; }), plain_answer);
  const Case<More> wide = changed_case<More>(c, [](const Dual<N, B>& x) { return with_more_inputs<2>(x); });
  const Answer<More> r = closed_form<More>(wide, More::input(below.lambda, N), More::input(below.z, N + 1));
  const auto &v = r.vertical.derivative, &m = r.moment.derivative;
  const B turn = 1.0 / (v[N] * m[N + 1] - v[N + 1] * m[N]);
  std::array<std::array<B, static_cast<std::size_t>(N)>, 2> slope;
  for (std::size_t i = 0; i < N; ++i) {
    slope[0][i] = (v[N + 1] * m[i] - m[N + 1] * v[i]) * turn;
    slope[1][i] = (m[N] * v[i] - v[N] * m[i]) * turn;
  }
  return with_slopes<N, B, 2>(below, r, slope);
}

}  // namespace hardchine::planing_detail
