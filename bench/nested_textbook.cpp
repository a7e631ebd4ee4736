// PINNED. The ratios of docs/performance.md are taken against this file as it stands: do not change how it is written.
// It is what a reader of savitsky_1964 writes: the rows of the paper's Table 1 (tau^1.1, C_L0/tau^1.1, lambda, V_1 ...)
// and its formulas as printed; trim outside in 0.5 to 15 degrees, mean wetted length inside in 1e-6 to 60 beams, both
// roots by TOMS 748 of Boost.Math until |b - a| <= 1e-10, C_L0 once.
#include "nested_textbook.hpp"

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <numbers>

namespace bench {
namespace {

constexpr double degrees = 180.0 / std::numbers::pi;

/// A root of f between a and b, where f has different signs.
template <class F>
double root(F f, double a, double b) {
  std::uintmax_t evaluations = 200;
  const auto close = [](double low, double high) { return std::abs(high - low) <= 1e-10; };
  const auto bracket = boost::math::tools::toms748_solve(f, a, b, close, evaluations);
  return 0.5 * (bracket.first + bracket.second);
}

double lift_per_trim_power(double lambda, double C_v) {  // eq 15, C_L0/tau^1.1
  return 0.0120 * std::sqrt(lambda) + 0.0055 * std::pow(lambda, 2.5) / (C_v * C_v);
}

double deadrise_lift(double C_L0, double beta) {  // eq 16, beta in degrees
  return C_L0 - 0.0065 * beta * std::pow(C_L0, 0.60);
}

}  // namespace

std::optional<TextbookAnswer> nested_textbook(const TextbookBoat& boat) {
  const double b = boat.beam, V = boat.speed;
  const double beta = boat.deadrise * degrees;
  const double W = boat.mass * boat.gravity;
  const double C_v = V / std::sqrt(boat.gravity * b);
  const double C_Lb = W / (0.5 * boat.density * V * V * b * b);
  const double a = boat.vcg - b / 4.0 * std::tan(boat.deadrise);
  const double f = boat.lever, eps = boat.inclination;

  const double C_L0 = root([&](double C) { return deadrise_lift(C, beta) - C_Lb; }, C_Lb, C_Lb + 1.0);

  TextbookAnswer r{};
  // The moment about the centre of gravity at a trim in degrees, eq 35; leaves the rest in r.
  const auto moment = [&](double tau) {
    const double trim_power = std::pow(tau, 1.1);
    const double lift = C_L0 / trim_power;
    const double lambda = root([&](double l) { return lift_per_trim_power(l, C_v) - lift; }, 1e-6, 60.0);
    const double angle = tau / degrees;
    const double C_Ld = 0.0120 * std::sqrt(lambda) * trim_power;
    const double ratio = std::max(0.0, 1.0 - deadrise_lift(C_Ld, beta) / (lambda * std::cos(angle)));  // eq 24
    const double V_1 = V * std::sqrt(ratio);
    const double Re = V_1 * lambda * b / boat.viscosity;
    const double C_F = 0.075 / std::pow(std::log10(Re) - 2.0, 2);
    const double D_f =
        0.5 * boat.density * V_1 * V_1 * lambda * b * b / std::cos(boat.deadrise) * (C_F + boat.allowance);
    const double C_p = 0.75 - 1.0 / (5.21 * std::pow(C_v / lambda, 2) + 2.39);  // eq 28
    const double c = boat.lcg - C_p * lambda * b;
    r = {tau, lambda, V_1, Re, C_F, W * std::tan(angle) + D_f / std::cos(angle)};
    return W * ((1.0 - std::sin(angle) * std::sin(angle + eps)) * c / std::cos(angle) - f * std::sin(angle)) +
           D_f * (a - f);
  };
  if (moment(0.5) * moment(15.0) > 0.0) return std::nullopt;
  moment(root(moment, 0.5, 15.0));
  return r;
}

}  // namespace bench
