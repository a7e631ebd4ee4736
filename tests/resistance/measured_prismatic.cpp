// The closed chain of the prismatic method (lift, centre of pressure, friction, balance) against measured runs of prismatic
// models: fridsma_1969 (Table 1) and fridsma_1971 (Table I), tests/data/measured_prismatic_fridsma.csv. A difference here is
// the method's own error, not the code's: the bands below are that error, stated, and no test of rounding.
#include <doctest/doctest.h>

#include <cmath>

#include "csv.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

PlaningInput<> model(const CsvRow& row, const Angle<>& inclination) {
  const Length<> beam = number(row, "beam_m") * metre;
  return {.hull = {.chine_beam = beam,
                   .deadrise = number(row, "deadrise_deg") * degree,
                   .projected_chine_length = number(row, "length_over_beam") * beam},
          .loading = {.mass = number(row, "load_N") * newton / standard_gravity,
                      .lcg = number(row, "LCG_m_from_transom") * metre,
                      .vcg = number(row, "VCG_m") * metre},
          // Fresh water; the temperature is not printed, 10 % of the viscosity is 1 % of friction.
          .water = {.density = number(row, "water_density_kg_m3") * kilogram_per_cubic_metre,
                    .kinematic_viscosity = 1.0e-6 * square_metre_per_second},
          .thrust_line = thrust_below_cg(inclination, 0.0 * metre),
          .speed = number(row, "speed_m_s") * metre_per_second,
          .friction_line = FrictionLine::schoenherr,
          .roughness_allowance = 0.0};
}

// A horizontal tow through the centre of gravity is a thrust inclined at minus the trim to the keel: repeated until the
// trim stands still.
RunningState<> towed(const CsvRow& row) {
  Angle<> trim = number(row, "trim_deg") * degree;
  RunningState<> state;
  for (int i = 0; i < 40; ++i) {
    state = planing_equilibrium(model(row, -trim));
    if (state.outcome != Outcome::converged) return state;
    if (std::abs(in(state.trim, degree) - in(trim, degree)) < 1e-9) return state;
    trim = state.trim;
  }
  state.outcome = Outcome::not_converged;
  return state;
}

// Drag over weight at the measured trim: the wetted length that carries the load there, then pressure and friction.
double drag_at_measured_trim(const CsvRow& row) {
  const PlaningInput<> q = model(row, 0.0 * degree);
  const double W = number(row, "load_N"), tau = number(row, "trim_deg") * degree.value();
  const double b = q.hull.chine_beam.value(), V = q.speed.value(), C_v = V / std::sqrt(9.80665 * b);
  const double q_b2 = 0.5 * q.water.density.value() * V * V * b * b;
  const double C_L0 = flat_lift_from_deadrise_lift(W / q_b2, q.hull.deadrise);
  const auto gap = [&](double lambda) {
    return flat_lift_coefficient({.trim = tau * radian, .mean_wetted_ratio = lambda, .beam_froude_number = C_v}) - C_L0;
  };
  const double lambda = bracketed_root(gap, 1e-3, 20.0).x;
  const double ratio = bottom_velocity_ratio_squared(
      PlaningAttitude<>{.trim = tau * radian, .mean_wetted_ratio = lambda, .beam_froude_number = C_v}, q.hull.deadrise);
  const double re = V * std::sqrt(ratio) * lambda * b / q.water.kinematic_viscosity.value();
  const double D_f =
      friction_coefficient(FrictionLine::schoenherr, re) * q_b2 * ratio * lambda / std::cos(q.hull.deadrise.value());
  return std::tan(tau) + D_f / (W * std::cos(tau));
}

struct Score {
  double sum = 0.0, squares = 0.0;
  int count = 0;
  void add(double x) {
    sum += x;
    squares += x * x;
    ++count;
  }
  double bias() const { return sum / count; }
  double rms() const { return std::sqrt(squares / count); }
};

}  // namespace

TEST_CASE("measured prismatic models above the hump: drag at the measured trim, drag and trim running free") {
  Score at_trim, free_drag, free_trim;
  for (const CsvRow& row : read_csv("data/measured_prismatic_fridsma.csv")) {
    if (number(row, "V_over_sqrtL_kn_ft") < 3.0) continue;  // below the hump with wetted sides: outside the method
    const double measured = number(row, "R_over_W");
    at_trim.add(drag_at_measured_trim(row) / measured - 1.0);
    const RunningState<> state = towed(row);
    CAPTURE(row.at("table"));
    CAPTURE(row.at("configuration"));
    REQUIRE(state.outcome == Outcome::converged);
    free_drag.add(in(state.bare_drag, newton) / number(row, "load_N") / measured - 1.0);
    free_trim.add(in(state.trim, degree) - number(row, "trim_deg"));
  }
  CHECK(at_trim.count == 19);
  // Seen: +1.4 / 7.9 % (bias / RMS) at the measured trim, +2.2 / 8.8 % running free, +0.27 / 0.53 degrees of trim. Nominal
  // twins of the two reports differ by 4 % RMS in drag, and the trims are nominal to 0.2 degrees: a quarter more than what
  // was seen is the band.
  CHECK(at_trim.bias() == absolute(0.0, 0.03));
  CHECK(at_trim.rms() <= 0.10);
  CHECK(free_drag.bias() == absolute(0.0, 0.03));
  CHECK(free_drag.rms() <= 0.11);
  CHECK(free_trim.bias() == absolute(0.0, 0.35));
  CHECK(free_trim.rms() <= 0.65);
  MESSAGE("drag at measured trim: bias ", at_trim.bias(), ", RMS ", at_trim.rms(), " of ", at_trim.count, " runs");
  MESSAGE("drag running free: bias ", free_drag.bias(), ", RMS ", free_drag.rms());
  MESSAGE("trim running free: bias ", free_trim.bias(), " deg, RMS ", free_trim.rms(), " deg");
}
