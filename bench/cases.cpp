#include "cases.hpp"

#include <cmath>
#include <cstdio>
#include <random>
#include <stdexcept>
#include <string>

namespace bench {
namespace {

using namespace hardchine;

/// How far library and textbook may differ, relatively: the textbook stops at 1e-10 of a degree (of 0.5 or more) and at
/// 1e-10 of lambda, whose noise the outer root sees again; lambda goes as the trim to the power -2.2.
constexpr double textbook_tolerance = 1e-8;

/// Uniform between two numbers, the same on every standard library.
class Uniform {
 public:
  double operator()(double low, double high) { return low + (high - low) * (double(bits_() >> 11) * 0x1p-53); }

 private:
  std::mt19937_64 bits_{20260105};
};

double relative_difference(double a, double b) { return std::abs(a - b) / std::abs(b); }

Cases make_cases() {
  const PlaningInput<> base = base_input();
  const double g = base.gravity.value(), rho = base.water.density.value();
  Uniform uniform;
  Cases c;
  double worst = 0.0;
  while (c.lambda.size() < number_of_cases) {
    const double b = uniform(1.5, 5.0), C_v = uniform(1.5, 6.0);
    c.beam.push_back(b);
    c.deadrise.push_back(uniform(0.0, 28.0) * degree.value());
    c.mass.push_back(uniform(0.2, 0.9) * rho * b * b * b);
    c.lcg.push_back(uniform(0.9, 2.0) * b);
    c.vcg.push_back(uniform(0.2, 0.7) * b);
    c.speed.push_back(C_v * std::sqrt(g * b));
    c.inclination.push_back(uniform(-3.0, 8.0) * degree.value());
    c.lever.push_back(uniform(-0.05, 0.15) * b);
    const std::size_t i = c.lambda.size();
    const auto textbook = nested_textbook(textbook_boat(c, i));
    // Longer than 6 beams no hull is wetted.
    if (!textbook || textbook->lambda > 6.0) {
      for (auto* column : {&c.beam, &c.deadrise, &c.mass, &c.lcg, &c.vcg, &c.speed, &c.inclination, &c.lever})
        column->pop_back();
      continue;
    }
    PlaningInput<> input = base;
    put_case(input, c, [&](const std::vector<double>& column, int) { return column[i]; });
    const RunningState<> state = planing_equilibrium_paper_general(input);
    if (state.outcome != Outcome::converged)
      throw std::runtime_error("case " + std::to_string(i) + ": the textbook has an answer, the library has none");
    for (const double difference : {relative_difference(in(state.trim, degree), textbook->trim),
                                    relative_difference(state.mean_wetted_ratio, textbook->lambda),
                                    relative_difference(state.bottom_velocity.value(), textbook->V_1),
                                    relative_difference(state.reynolds_number, textbook->Re),
                                    relative_difference(state.friction_coefficient, textbook->C_F),
                                    relative_difference(state.bare_drag.value(), textbook->drag)}) {
      if (!(difference <= textbook_tolerance))
        throw std::runtime_error("case " + std::to_string(i) + ": library and textbook differ by " +
                                 std::to_string(difference / textbook_tolerance) + " tolerances");
      worst = std::max(worst, difference);
    }
    c.lambda.push_back(state.mean_wetted_ratio);
    c.flat_lift.push_back(state.flat_lift_coefficient);
  }
  std::fprintf(stderr, "%zu cases; library against textbook: at most %.1e apart\n", number_of_cases, worst);
  return c;
}

}  // namespace

PlaningInput<> base_input() {
  return {.hull = {.projected_chine_length = 40.0 * metre},
          .loading = {},
          .water = sea_water(celsius(15.0)),
          .thrust_line = through_cg_parallel_to_keel()};
}

const Cases& cases() {
  static const Cases all = make_cases();
  return all;
}

TextbookBoat textbook_boat(const Cases& c, std::size_t i) {
  static const PlaningInput<> base = base_input();
  return {.beam = c.beam[i],
          .deadrise = c.deadrise[i],
          .mass = c.mass[i],
          .lcg = c.lcg[i],
          .vcg = c.vcg[i],
          .speed = c.speed[i],
          .inclination = c.inclination[i],
          .lever = c.lever[i],
          .density = base.water.density.value(),
          .viscosity = base.water.kinematic_viscosity.value(),
          .gravity = base.gravity.value(),
          .allowance = base.roughness_allowance};
}

}  // namespace bench
