// What planing_balance.hpp and planing_equilibrium.hpp do for the paper's general form, step by step in their order: keep
// it so when they change. planing_equilibrium.cpp compares the results with the library's before anything is timed; that
// the steps to them are as many, the reader must see to: make_case, flat_lift_of, fast_paper, and in each of its passes
// set_bottom and paper_balance, after them once paper_rest with set_rest, carried_along, report.
#include "bare_double.hpp"

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace bench {
namespace {

using hardchine::BottomVelocity;
using hardchine::Flags;
using hardchine::FrictionLine;
using hardchine::Outcome;
using hardchine::PlaningLimit;
using hardchine::ThrustReference;
using hardchine::planing_detail::least_velocity_ratio_squared;
using hardchine::planing_detail::small_step;

constexpr double deg = std::numbers::pi / 180.0;
constexpr double kn = 1852.0 / 3600.0;
constexpr double ln_0012 = -4.4228486291941369;

/// A number and its derivative with respect to ln lambda.
struct Jet {
  double v, d;
};
inline Jet operator+(const Jet& a, const Jet& b) { return {a.v + b.v, a.d + b.d}; }
inline Jet operator-(const Jet& a, const Jet& b) { return {a.v - b.v, a.d - b.d}; }
inline Jet operator*(const Jet& a, const Jet& b) { return {a.v * b.v, a.d * b.v + a.v * b.d}; }
inline Jet operator/(const Jet& a, const Jet& b) {
  const double inverse = 1.0 / b.v, v = a.v / b.v;
  return {v, (a.d - v * b.d) * inverse};
}
inline Jet operator+(const Jet& a, double b) { return {a.v + b, a.d}; }
inline Jet operator+(double a, const Jet& b) { return {a + b.v, b.d}; }
inline Jet operator-(const Jet& a, double b) { return {a.v - b, a.d}; }
inline Jet operator-(double a, const Jet& b) { return {a - b.v, -b.d}; }
inline Jet operator*(const Jet& a, double b) { return {a.v * b, a.d * b}; }
inline Jet operator*(double a, const Jet& b) { return {a * b.v, a * b.d}; }
inline Jet operator/(double a, const Jet& b) {
  const double v = a / b.v;
  return {v, -v / b.v * b.d};
}
inline Jet log(const Jet& x) { return {std::log(x.v), x.d * (1.0 / x.v)}; }
inline Jet exp(const Jet& x) {
  const double v = std::exp(x.v);
  return {v, v * x.d};
}
inline Jet sqrt(const Jet& x) {
  const double v = std::sqrt(x.v);
  return {v, 0.5 / v * x.d};
}
inline Jet larger(const Jet& a, double b) { return a.v < b ? Jet{b, 0.0} : a; }
inline Jet smaller(const Jet& a, double b) { return a.v < b ? a : Jet{b, 0.0}; }
inline double larger(double a, double b) { return a < b ? b : a; }
inline double smaller(double a, double b) { return a < b ? a : b; }

struct Case {
  double b, q_b2, C_v, W, V, tan_beta, cos_beta, k, lcg, a, f, sin_eps, cos_eps, Re_b, ln_Re_b, allowance, buoyancy;
  double C_Lb, C_L0, ln_C_L0, z, friction_force, W_f, a_less_f, one_over_W_b;
  BottomVelocity velocity;
};

/// Between two limits; not-a-number is not.
inline bool within(double low, double x, double high) { return x >= low && x <= high; }
/// The same for what may stay unset.
inline bool within_or_unset(double low, double x, double high) { return within(low, x, high) || !(x >= x); }

bool accepted(const BareInput& in) {
  return in.beam > 0.05 && in.beam <= 30.0 && within(0.0, in.deadrise, 45.0 * deg) && in.chine_length > 0.1 &&
         in.chine_length <= 150.0 && within(1e-30, in.mass, 1e6) && within_or_unset(-5.0, in.lcg, 150.0) &&
         within_or_unset(-15.0, in.tcg, 15.0) && within_or_unset(-5.0, in.vcg, 30.0) &&
         within(900.0, in.density, 1200.0) && within(1e-7, in.viscosity, 1e-5) &&
         within_or_unset(0.0, in.vapour_pressure, 20e3) && within(-20.0 * deg, in.inclination, 30.0 * deg) &&
         within_or_unset(-10.0, in.distance_below_cg, 10.0) && within_or_unset(-20.0, in.x, 150.0) &&
         within_or_unset(-10.0, in.z, 30.0) && in.speed > 0.2 * kn && in.speed <= 200.0 * kn &&
         within(-0.001, in.allowance, 0.01) && within(0.0, in.appendage_fraction, 0.6) &&
         within(0.0, in.frontal_area, 500.0) && within(0.0, in.air_drag_coefficient, 2.0) &&
         within(0.8, in.air_density, 1.6) && within(9.7, in.gravity, 9.9) && within(-5.0, in.vcg, 30.0) &&
         within(-10.0, in.distance_below_cg, 10.0) && within(1e-30, in.lcg, 150.0) && in.lcg < in.chine_length;
}

Case make_case(const BareInput& in) {
  Case c;
  c.b = in.beam;
  c.cos_beta = std::cos(in.deadrise);
  c.tan_beta = std::sin(in.deadrise) / c.cos_beta;
  c.k = 0.0065 * (in.deadrise / deg);
  c.V = in.speed;
  c.q_b2 = 0.5 * (in.density * in.speed * in.speed * (in.beam * in.beam));
  c.C_v = in.speed / std::sqrt(in.gravity * in.beam);
  c.buoyancy = (0.0055 / 0.0120) / (c.C_v * c.C_v);
  c.W = in.mass * in.gravity;
  c.lcg = in.lcg;
  c.a = in.vcg - 0.25 * c.b * c.tan_beta;
  c.f = in.distance_below_cg;
  c.sin_eps = std::sin(in.inclination);
  c.cos_eps = std::cos(in.inclination);
  c.Re_b = in.speed * in.beam / in.viscosity;
  c.ln_Re_b = std::log(c.Re_b);
  c.allowance = in.allowance;
  c.velocity = in.bottom_velocity;
  c.C_Lb = c.W / c.q_b2;
  // The inverse of eq 16.
  const double ln_C_Lb = std::log(c.C_Lb);
  const double scale = std::exp(0.4 * ln_C_Lb);
  const double u = c.k / scale;
  const double x_0 = (1.0 + u * (1.3430758 + u * (0.9881758 + u * (0.4651344 + 0.2076653 * u)))) /
                     (1.0 + u * (0.9462774 + u * (0.4651344 + 0.2076653 * u)));
  const double root = std::sqrt(x_0);
  const double inverse = 1.0 / (x_0 * root);
  const double g = x_0 * root * (x_0 - u) - 1.0;
  const double g_1 = root * (2.5 * x_0 - 1.5 * u);
  const double g_2 = (3.75 * x_0 - 0.75 * u) * (x_0 * inverse);
  const double g_3 = (1.875 * x_0 + 0.375 * u) * inverse;
  const double g_1_squared = g_1 * g_1;
  const double phi =
      x_0 - g * (6.0 * g_1_squared - 3.0 * g * g_2) / (6.0 * g_1 * (g_1_squared - g * g_2) + g * g * g_3);
  const double square = phi * scale;
  c.z = std::sqrt(square);
  c.C_L0 = square * square * c.z;
  c.ln_C_L0 = 2.5 * std::log(phi) + ln_C_Lb;
  c.friction_force = c.q_b2 / c.cos_beta;
  c.W_f = c.W * c.f;
  c.a_less_f = c.a - c.f;
  c.one_over_W_b = 1.0 / (c.W * c.b);
  return c;
}

double wetted_ratio_for_arm(double arm, double C_v) {
  const double y = arm * arm / (5.21 * C_v * C_v);
  const double w = y / (y + 0.5);
  return arm * (1.3380 + w * (0.33065 + 18.888 * w)) / (1.0 + w * (-0.49547 + 6.3337 * w));
}

/// All results at a lambda, with their slopes.
struct Jets {
  Jet lambda, ln_lambda, tau, sin_tau, cos_tau, one_over_cos_tau, velocity_ratio_squared, C_F, D_f, l_p, N, moment;
  Jet V_1, Re, thrust, pressure_drag, bare_drag;  // by paper_rest
};

/// What the moment is made of.
void set_bottom(Jets& r, const Case& c, const Jet& lambda) {
  r.lambda = lambda;
  r.ln_lambda = log(lambda);
  const Jet square = lambda * lambda;
  const Jet parts = 1.0 + c.buoyancy * square;
  const Jet ln_C_Ld = c.ln_C_L0 - log(parts);
  const Jet ln_tau_deg = (ln_C_Ld - 0.5 * r.ln_lambda - ln_0012) * (1.0 / 1.1);
  r.tau = smaller(deg * exp(ln_tau_deg), 0.7);
  const double sin_tau = std::sin(r.tau.v), cos_tau = std::cos(r.tau.v);
  r.sin_tau = {sin_tau, cos_tau * r.tau.d};
  r.cos_tau = {cos_tau, -sin_tau * r.tau.d};
  r.one_over_cos_tau = 1.0 / r.cos_tau;
  Jet ratio_squared{1.0, 0.0}, ln_ratio_squared{0.0, 0.0};
  r.velocity_ratio_squared = ratio_squared;
  if (c.velocity == BottomVelocity::mean_over_bottom) {
    const Jet C_Ldb = c.C_L0 / parts - c.k * exp(0.60 * ln_C_Ld);
    r.velocity_ratio_squared = 1.0 - C_Ldb * r.one_over_cos_tau / lambda;
    ratio_squared = larger(r.velocity_ratio_squared, least_velocity_ratio_squared);
    ln_ratio_squared = log(ratio_squared);
  }
  const Jet log10_Re = (0.5 * ln_ratio_squared + r.ln_lambda + c.ln_Re_b) * std::numbers::log10e;
  const Jet x = larger(log10_Re, 5.0) - 2.0;
  r.C_F = 0.075 / (x * x);
  r.D_f = (r.C_F + c.allowance) * (ratio_squared * lambda) * c.friction_force;
  r.l_p = (0.75 - square / (5.21 * (c.C_v * c.C_v) + 2.39 * square)) * lambda * c.b;
}
void paper_balance(Jets& r, const Case& c, const Jet& lambda) {
  set_bottom(r, c, lambda);
  const Jet sin_line = r.sin_tau * c.cos_eps + r.cos_tau * c.sin_eps;
  r.N = (1.0 - r.sin_tau * sin_line) * r.one_over_cos_tau * c.W;
  r.moment = (r.N * (c.lcg - r.l_p) - r.sin_tau * c.W_f + r.D_f * c.a_less_f) * c.one_over_W_b;
}

/// The rest of the results.
void paper_rest(Jets& r, const Case& c) {
  const Jet lift_drag = r.sin_tau * c.W;
  r.thrust = lift_drag + r.D_f;
  r.pressure_drag = lift_drag * r.one_over_cos_tau;
  const Jet ratio = sqrt(larger(r.velocity_ratio_squared, least_velocity_ratio_squared));
  r.V_1 = ratio * c.V;
  r.Re = ratio * r.lambda * c.Re_b;
  r.bare_drag = r.pressure_drag + r.D_f * r.one_over_cos_tau;
}

double put_up(double x, double step) { return x * (2.0 + step) / (2.0 - step); }

}  // namespace

BareState bare_equilibrium(const BareInput& in) {
  if (in.number_of_hulls != 1 || in.stepped || in.reference != ThrustReference::distance_from_cg ||
      in.friction_line != FrictionLine::ittc_1957 || !accepted(in))
    throw std::invalid_argument("a field is out of range");
  const Case c = make_case(in);

  double lambda = smaller(wetted_ratio_for_arm(c.lcg / c.b, c.C_v), 8.0), step = 0.0, x_0 = 0.0, m_0 = 0.0, g_0 = 0.0;
  Jets r;
  bool settled = false;
  for (int pass = 0;; ++pass) {
    paper_balance(r, c, {lambda, lambda});
    const double m = r.moment.v, g = 1.0 / r.moment.d;
    step = -m * g;
    settled = std::abs(step) < small_step;
    const bool hopeless = r.moment.d >= 0.0 || r.tau.v > 0.6 || lambda > 24.0;
    const bool done = settled || hopeless;
    if (pass >= 2 && (done || pass == 6)) break;
    const double x = r.ln_lambda.v;
    double next = smaller(larger(step, -0.5), 0.5);
    if (pass == 1) {
      const double back = m_0 - m;
      const double u = -m / back;
      const double cubic = u * (u * (3.0 - 2.0 * u) * (x_0 - x) + back * (1.0 - u) * ((1.0 - u) * g - u * g_0));
      if (std::abs(step) > small_step && std::abs(cubic - next) < std::abs(next)) next = cubic;
    }
    x_0 = x;
    m_0 = m;
    g_0 = g;
    if (pass < 2 || !done) lambda = put_up(lambda, next);
  }
  paper_rest(r, c);
  const auto carried = [step](const Jet& x) { return x.v + x.d * step; };
  const double tau = carried(r.tau), sin_tau = carried(r.sin_tau), cos_tau = carried(r.cos_tau);
  const double ratio_squared = carried(r.velocity_ratio_squared), b = in.beam;
  lambda = carried(r.lambda);

  BareState s;
  s.lift_coefficient = c.C_Lb;
  s.flat_lift_coefficient = c.C_L0;
  s.mean_wetted_ratio = lambda;
  s.reynolds_number = carried(r.Re);
  s.friction_coefficient = carried(r.C_F);
  s.vertical_residual = 0.0;
  s.trim = tau;
  s.centre_of_pressure = carried(r.l_p);
  s.bottom_velocity = carried(r.V_1);
  s.load = c.W;
  s.normal_force = carried(r.N);
  s.thrust = carried(r.thrust);
  s.friction_force = carried(r.D_f);
  s.pressure_drag = carried(r.pressure_drag);
  s.bare_drag = carried(r.bare_drag);
  s.moment_residual =
      (s.normal_force * (c.lcg - s.centre_of_pressure) - sin_tau * c.W_f + s.friction_force * c.a_less_f) *
      c.one_over_W_b;
  const bool second = (s.friction_coefficient + c.allowance) * (c.a - c.f) > 0.33 * b * c.C_Lb * c.cos_beta;
  const bool acceptable =
      tau > 1e-4 && tau < 0.5 && lambda < 12.0 && c.W > 0.0 && ratio_squared > least_velocity_ratio_squared && !second;
  if (!(settled && r.moment.d < 0.0 && acceptable)) throw std::runtime_error("the guarded search is needed");

  const double half_difference = c.tan_beta * cos_tau / (2.0 * std::numbers::pi * sin_tau);
  const double l_k = lambda + half_difference;
  const double l_1 = lambda < 1.3 ? 2.0 * lambda / (1.6 + std::sqrt(2.56 - 1.2 * smaller(lambda, 2.0))) : lambda - 0.30;
  s.keel_wetted_length = b * l_k;
  s.chine_wetted_length = b * (lambda - half_difference);
  s.draft = b * ((c.tan_beta > 0.0 ? l_k : l_1) * sin_tau);
  s.appendage_drag = s.bare_drag * in.appendage_fraction;
  s.air_drag = 0.5 * in.air_drag_coefficient * (in.air_density * in.frontal_area * in.speed * in.speed);
  s.total_drag = s.bare_drag + s.appendage_drag + s.air_drag;
  s.bare_effective_power = s.bare_drag * in.speed;
  s.effective_power = s.total_drag * in.speed;
  s.speed = in.speed;
  s.beam_froude_number = c.C_v;
  s.volume_froude_number = in.speed / std::sqrt(in.gravity * std::pow(in.mass / in.density, 1.0 / 3.0));
  s.outcome = lambda * b > in.chine_length ? Outcome::runs_out_of_length : Outcome::converged;

  Flags flags = 0;
  const auto raise = [&](PlaningLimit limit, bool outside) { flags |= outside ? hardchine::flag(limit) : 0U; };
  using enum PlaningLimit;
  const double tau_deg = tau / deg, spread = c.tan_beta * cos_tau / sin_tau, C_v = c.C_v;
  raise(trim_range, tau_deg < 2.0 || tau_deg > 15.0);
  raise(wetted_ratio_range, lambda > 4.0);
  raise(lift_speed_range, C_v < 0.60 || C_v > 13.0);
  if (in.bottom_velocity == BottomVelocity::mean_over_bottom)
    raise(bottom_velocity_speed_range, C_v < 1.0 || C_v > 13.0);
  raise(procedure_speed_range, C_v < 1.0);
  raise(deadrise_range, in.deadrise / deg > 30.0);
  raise(reynolds_range, s.reynolds_number < 2e6);
  raise(dry_chine, s.chine_wetted_length <= 0.0);
  raise(bow_in_the_water, s.keel_wetted_length > in.chine_length);
  raise(side_wetting, C_v * C_v * (3.0 * sin_tau) <= lambda - 0.16 * spread);
  raise(spray_root_broken, C_v < 2.0 && spread > std::numbers::pi * 1.66);
  raise(negative_dynamic_lift, ratio_squared > 1.0);
  raise(not_planing, C_v < smaller(larger(3.0 - 0.5 * tau_deg, 1.0), 2.0) * std::sqrt(lambda));
  raise(hump, s.volume_froude_number >= 1.5 && s.volume_froude_number < 2.5);
  raise(second_equilibrium, second);
  s.flags = s.outcome == Outcome::converged ? flags : 0;
  return s;
}

}  // namespace bench
