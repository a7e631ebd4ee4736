// PINNED. The floor that no solver can pass. Calls may leave this list, none may join it:
//   3 logarithms: ln lambda, ln(1 + r), ln(1 - X)
//   2 exponentials: trim, C_Ld^0.6
//   1 sine and cosine, of the trim
//   1 square root: V_1
//   6 divisions: C_Ld, 1/cos tau, X, C_F, C_p, cot tau
// in lanes, at full accuracy, hulls in the second-level cache. Everything that does not depend on lambda is given.
#include <array>
#include <cmath>
#include <cstdio>
#include <numbers>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases.hpp"
#include "hardchine/scalar/lanes.hpp"
#include "rows.hpp"

namespace bench {
namespace {

using namespace hardchine;
using Pack = Lanes<8>;

/// What a hull at a speed has before any lambda is tried; angles in radians, moments over W b.
struct Prepared {
  Pack lambda, C_L0, ln_C_L0;
  Pack buoyancy;         ///< 0.0055/(0.0120 C_v^2)
  Pack deadrise_factor;  ///< 0.0065 beta, beta in degrees
  Pack speed_term;       ///< 5.21 C_v^2
  Pack V, b, Vb_nu, ln_Vb_nu, q_b2, W, inverse_W_b, lcg, a, f;
  Pack inverse_cos_beta, half_difference;  ///< half_difference is tan beta/(2 pi)
  Pack sin_eps, cos_eps;
};

/// The results.
struct Evaluated {
  Pack tau, V_1, Re, C_F, D_f, l_p, N, thrust, moment, pressure_drag, drag, keel, chine, draft;
};

constexpr std::size_t width = 8;
/// 128 packs: 160 KiB.
constexpr std::size_t floor_cases = 1024;

constexpr double allowance = attc_standard_allowance;

[[gnu::always_inline]] inline Evaluated one_evaluation(const Prepared& p) {
  const Pack& lambda = p.lambda;
  Evaluated e;
  const Pack x = log(lambda);
  const Pack square = lambda * lambda;
  const Pack r = p.buoyancy * square;
  const Pack l = log(1.0 + r);
  const double ln_0012 = -4.422848629194137;
  e.tau = degree.value() * exp((p.ln_C_L0 - ln_0012 - 0.5 * x - l) * (1.0 / 1.1));  // eq 15
  const Pack C_Ld = p.C_L0 / (1.0 + r);
  const Pack C_Ldb = C_Ld - p.deadrise_factor * exp(0.6 * (p.ln_C_L0 - l));  // eq 16
  const auto [sin_tau, cos_tau] = sin_cos(e.tau);
  const Pack inverse_cos = 1.0 / cos_tau;
  const Pack ratio = 1.0 - C_Ldb * inverse_cos / lambda;  // 1 - X, eq 24
  const Pack ln_Re = p.ln_Vb_nu + x + 0.5 * log(ratio);
  const Pack y = std::numbers::log10e * ln_Re - 2.0;
  e.C_F = 0.075 / (y * y);
  e.D_f = (e.C_F + allowance) * p.q_b2 * ratio * lambda * p.inverse_cos_beta;
  const Pack root = sqrt(ratio);
  e.V_1 = p.V * root;
  e.Re = p.Vb_nu * lambda * root;
  e.l_p = (0.75 - square / (p.speed_term + 2.39 * square)) * lambda * p.b;                  // eq 28
  e.N = p.W * (1.0 - sin_tau * (sin_tau * p.cos_eps + cos_tau * p.sin_eps)) * inverse_cos;  // eq 34
  const Pack along = p.W * sin_tau;
  e.thrust = along + e.D_f;
  e.moment = (e.N * (p.lcg - e.l_p) - along * p.f + e.D_f * (p.a - p.f)) * p.inverse_W_b;  // eq 35
  e.pressure_drag = along * inverse_cos;
  e.drag = e.pressure_drag + e.D_f * inverse_cos;
  const Pack half_difference = p.half_difference * (cos_tau / sin_tau);
  e.keel = p.b * (lambda + half_difference);
  e.chine = p.b * (lambda - half_difference);
  e.draft = e.keel * sin_tau;
  return e;
}

/// What is prepared for one case, in the order of Prepared.
std::array<double, sizeof(Prepared) / sizeof(Pack)> prepare(const Cases& c, std::size_t i) {
  const TextbookBoat t = textbook_boat(c, i);
  const double C_v2 = t.speed * t.speed / (t.gravity * t.beam), W = t.mass * t.gravity;
  const double Vb_nu = t.speed * t.beam / t.viscosity;
  return {c.lambda[i],
          c.flat_lift[i],
          std::log(c.flat_lift[i]),
          0.0055 / (0.0120 * C_v2),
          0.0065 * (t.deadrise / degree.value()),
          5.21 * C_v2,
          t.speed,
          t.beam,
          Vb_nu,
          std::log(Vb_nu),
          0.5 * t.density * t.speed * t.speed * t.beam * t.beam,
          W,
          1.0 / (W * t.beam),
          t.lcg,
          t.vcg - 0.25 * t.beam * std::tan(t.deadrise),
          t.lever,
          1.0 / std::cos(t.deadrise),
          std::tan(t.deadrise) / (2.0 * std::numbers::pi),
          std::sin(t.inclination),
          std::cos(t.inclination)};
}

/// A sample of the set, spread over it.
std::size_t case_of(std::size_t i) { return i * (number_of_cases / floor_cases); }

std::vector<Prepared> prepare_all() {
  const Cases& c = cases();
  std::vector<Prepared> packs(floor_cases / width);
  for (std::size_t n = 0; n < packs.size(); ++n) {
    std::array<std::array<double, width>, sizeof(Prepared) / sizeof(Pack)> columns;
    for (std::size_t i = 0; i < width; ++i) {
      const auto values = prepare(c, case_of(n * width + i));
      for (std::size_t k = 0; k < values.size(); ++k) columns[k][i] = values[k];
    }
    const auto at = [&](std::size_t k) { return Pack::load(columns[k]); };
    packs[n] = {at(0),  at(1),  at(2),  at(3),  at(4),  at(5),  at(6),  at(7),  at(8),  at(9),
                at(10), at(11), at(12), at(13), at(14), at(15), at(16), at(17), at(18), at(19)};
  }
  return packs;
}

/// The floor is no floor of this solver unless it computes the same: relative 1e-12, of the moment absolute since it is
/// zero at the root. Both sides round at 1e-16, and the steepest way from a logarithm to a result multiplies that by
/// less than a hundred.
void compare_with_library(const std::vector<Prepared>& packs) {
  const Cases& c = cases();
  double worst = 0.0;
  for (std::size_t i = 0; i < floor_cases; ++i) {
    PlaningInput<> input = base_input();
    put_case(input, c, [&](const std::vector<double>& column, int) { return column[case_of(i)]; });
    const RunningState<> s = planing_equilibrium_paper_general(input);
    const Evaluated e = one_evaluation(packs[i / width]);
    const auto compare = [&](const char* what, const Pack& pack, double expected, double scale) {
      const double difference = std::abs(lane(pack, int(i % width)) - expected) / scale;
      if (!(difference <= 1e-12))
        throw std::runtime_error(std::string("one_evaluation: ") + what + " of case " + std::to_string(case_of(i)) +
                                 " differs from the library's by " + std::to_string(1e12 * difference) + "e-12");
      worst = std::max(worst, difference);
    };
    const auto relative = [&](const char* what, const Pack& pack, double expected) {
      compare(what, pack, expected, std::abs(expected));
    };
    relative("trim", e.tau, s.trim.value());
    relative("V_1", e.V_1, s.bottom_velocity.value());
    relative("Re", e.Re, s.reynolds_number);
    relative("C_F", e.C_F, s.friction_coefficient);
    relative("D_f", e.D_f, s.friction_force.value());
    relative("l_p", e.l_p, s.centre_of_pressure.value());
    relative("N", e.N, s.normal_force.value());
    relative("thrust", e.thrust, s.thrust.value());
    compare("moment", e.moment, s.moment_residual, 1.0);
    relative("pressure drag", e.pressure_drag, s.pressure_drag.value());
    relative("drag", e.drag, s.bare_drag.value());
    relative("keel", e.keel, s.keel_wetted_length.value());
    // A difference of two lengths, of which the keel is the sum.
    compare("chine", e.chine, s.chine_wetted_length.value(), s.keel_wetted_length.value());
    relative("draft", e.draft, s.draft.value());
  }
  std::fprintf(stderr, "one_evaluation against the library at its lambda: at most %.1e apart\n", worst);
}

}  // namespace

void add_one_evaluation_row() {
  static const std::vector<Prepared> packs = prepare_all();
  compare_with_library(packs);
  add_row("equilibrium/one_evaluation", floor_cases, floor_cases, [](std::size_t) {
    const Prepared* all = packs.data();
    benchmark::DoNotOptimize(all);
    for (std::size_t n = 0; n < floor_cases / width; ++n) {
      Evaluated e = one_evaluation(all[n]);
      benchmark::DoNotOptimize(e);
    }
  });
}

}  // namespace bench
