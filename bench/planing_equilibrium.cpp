#include "hardchine/resistance/planing_equilibrium.hpp"

#include <cmath>
#include <cstdio>
#include <stdexcept>
#include <string>

#include "bare_double.hpp"
#include "cases.hpp"
#include "equilibrium_batch.hpp"
#include "nested_textbook.hpp"
#include "rows.hpp"

namespace bench {
namespace {

using namespace hardchine;

/// Cases an iteration, of the rows that take them one by one.
constexpr std::size_t block = 500;

void add_nested_textbook() {
  add_row("equilibrium/nested_textbook", number_of_cases, block, [&c = cases()](std::size_t first) {
    for (std::size_t i = first; i < first + block; ++i) {
      TextbookBoat boat = textbook_boat(c, i);
      benchmark::DoNotOptimize(boat);
      auto answer = nested_textbook(boat);
      benchmark::DoNotOptimize(answer);
    }
  });
}

/// Base and case for bare_equilibrium().
BareInput bare_base() {
  const PlaningInput<> base = base_input();
  return {.beam = 0.0,
          .deadrise = 0.0,
          .chine_length = base.hull.projected_chine_length.value(),
          .number_of_hulls = base.hull.number_of_hulls,
          .stepped = base.hull.stepped,
          .mass = 0.0,
          .lcg = 0.0,
          .tcg = base.loading.tcg.value(),
          .vcg = 0.0,
          .density = base.water.density.value(),
          .viscosity = base.water.kinematic_viscosity.value(),
          .vapour_pressure = base.water.vapour_pressure.value(),
          .reference = base.thrust_line.reference,
          .inclination = 0.0,
          .distance_below_cg = 0.0,
          .x = base.thrust_line.x.value(),
          .z = base.thrust_line.z.value(),
          .speed = 0.0,
          .friction_line = base.friction_line,
          .allowance = base.roughness_allowance,
          .bottom_velocity = base.bottom_velocity,
          .appendage_fraction = base.added_drag.appendage_fraction,
          .frontal_area = base.added_drag.frontal_area.value(),
          .air_drag_coefficient = base.added_drag.air_drag_coefficient,
          .air_density = base.added_drag.air_density.value(),
          .gravity = base.gravity.value()};
}
[[gnu::always_inline]] inline void put_bare_case(BareInput& in, const Cases& c, std::size_t i) {
  in.beam = c.beam[i];
  in.deadrise = c.deadrise[i];
  in.mass = c.mass[i];
  in.lcg = c.lcg[i];
  in.vcg = c.vcg[i];
  in.speed = c.speed[i];
  in.inclination = c.inclination[i];
  in.distance_below_cg = c.lever[i];
}

/// The row is not worth its name unless it computes the same: relative 1e-12 (the same operations, which compilers may
/// fuse and order differently), outcome and flags the same.
void compare_bare_with_library(const Cases& c) {
  double worst = 0.0;
  BareInput bare_input = bare_base();
  PlaningInput<> input = base_input();
  for (std::size_t i = 0; i < number_of_cases; ++i) {
    put_bare_case(bare_input, c, i);
    put_case(input, c, [&](const std::vector<double>& column, int) { return column[i]; });
    const BareState bare = bare_equilibrium(bare_input);
    const RunningState<> s = planing_equilibrium_paper_general(input);
    const auto compare = [&](double x, double expected, double scale) {
      const double difference = std::abs(x - expected) / scale;
      if (!(difference <= 1e-12)) throw std::runtime_error("bare_double: case " + std::to_string(i) + " differs");
      worst = std::max(worst, difference);
    };
    const auto relative = [&](double x, double expected) {
      if (x != expected) compare(x, expected, std::abs(expected));
    };
    if (bare.outcome != s.outcome || bare.flags != s.flags)
      throw std::runtime_error("bare_double: outcome or flags of case " + std::to_string(i) + " differ");
    relative(bare.speed, s.speed.value());
    relative(bare.beam_froude_number, s.beam_froude_number);
    relative(bare.volume_froude_number, s.volume_froude_number);
    relative(bare.lift_coefficient, s.lift_coefficient);
    relative(bare.flat_lift_coefficient, s.flat_lift_coefficient);
    relative(bare.trim, s.trim.value());
    relative(bare.mean_wetted_ratio, s.mean_wetted_ratio);
    relative(bare.keel_wetted_length, s.keel_wetted_length.value());
    compare(bare.chine_wetted_length, s.chine_wetted_length.value(), s.keel_wetted_length.value());
    relative(bare.draft, s.draft.value());
    relative(bare.centre_of_pressure, s.centre_of_pressure.value());
    relative(bare.bottom_velocity, s.bottom_velocity.value());
    relative(bare.reynolds_number, s.reynolds_number);
    relative(bare.friction_coefficient, s.friction_coefficient);
    relative(bare.load, s.load.value());
    relative(bare.normal_force, s.normal_force.value());
    relative(bare.thrust, s.thrust.value());
    relative(bare.pressure_drag, s.pressure_drag.value());
    relative(bare.friction_force, s.friction_force.value());
    relative(bare.bare_drag, s.bare_drag.value());
    relative(bare.appendage_drag, s.appendage_drag.value());
    relative(bare.air_drag, s.air_drag.value());
    relative(bare.total_drag, s.total_drag.value());
    relative(bare.bare_effective_power, s.bare_effective_power.value());
    relative(bare.effective_power, s.effective_power.value());
    compare(bare.vertical_residual, s.vertical_residual, 1.0);
    compare(bare.moment_residual, s.moment_residual, 1.0);
  }
  std::fprintf(stderr, "bare_double against the library: at most %.1e apart\n", worst);
}

void add_bare_double() {
  compare_bare_with_library(cases());
  add_row("equilibrium/bare_double", number_of_cases, block, [&c = cases()](std::size_t first) {
    BareInput input = bare_base();
    for (std::size_t i = first; i < first + block; ++i) {
      put_bare_case(input, c, i);
      benchmark::DoNotOptimize(input);
      BareState state = bare_equilibrium(input);
      benchmark::DoNotOptimize(state);
    }
  });
}

void add_scalar() {
  add_row("equilibrium/scalar", number_of_cases, block, [&c = cases()](std::size_t first) {
    PlaningInput<> input = base_input();
    for (std::size_t i = first; i < first + block; ++i) {
      put_case(input, c, [&](const std::vector<double>& column, int) { return column[i]; });
      benchmark::DoNotOptimize(input);
      RunningState<> state = planing_equilibrium_paper_general(input);
      benchmark::DoNotOptimize(state);
    }
  });
}

void add_gradient8() {
  add_row("equilibrium/gradient8", number_of_cases, block, [&c = cases()](std::size_t first) {
    PlaningInput<Dual<8>> input = base_input();
    for (std::size_t i = first; i < first + block; ++i) {
      put_case(input, c, [&](const std::vector<double>& column, int n) { return Dual<8>::input(column[i], n); });
      benchmark::DoNotOptimize(input);
      RunningState<Dual<8>> state = planing_equilibrium_paper_general(input);
      benchmark::DoNotOptimize(state);
    }
  });
}

void add_lanes() {
  add_row("equilibrium/lanes", number_of_cases, number_of_cases,
          [&c = cases(), answers = Answers(number_of_cases)](std::size_t) mutable {
            const double* beams = c.beam.data();
            benchmark::DoNotOptimize(beams);
            solve_batch([](const auto& in) { return planing_equilibrium_paper_general(in); }, c, 0, number_of_cases,
                        answers);
          });
}

}  // namespace

void add_planing_equilibrium_rows() {
  add_nested_textbook();
  add_bare_double();
  add_scalar();
  add_gradient8();
  add_lanes();
}

}  // namespace bench
