/// @file
/// The library's algorithm for the paper's general form on bare doubles: for comparison only, what quantities, field
/// tables and templates cost.
#pragma once

#include <cstdint>

#include "hardchine/resistance/planing_equilibrium.hpp"

namespace bench {

/// PlaningInput with SI numbers and radians.
struct BareInput {
  double beam, deadrise, chine_length;
  int number_of_hulls;
  bool stepped;
  double mass, lcg, tcg, vcg;
  double density, viscosity, vapour_pressure;
  hardchine::ThrustReference reference;
  double inclination, distance_below_cg, x, z;
  double speed;
  hardchine::FrictionLine friction_line;
  double allowance;
  hardchine::BottomVelocity bottom_velocity;
  double appendage_fraction, frontal_area, air_drag_coefficient, air_density;
  double gravity;
};

/// RunningState with SI numbers and radians.
struct BareState {
  hardchine::Outcome outcome;
  hardchine::Flags flags;
  double speed, beam_froude_number, volume_froude_number, lift_coefficient, flat_lift_coefficient, trim;
  double mean_wetted_ratio, keel_wetted_length, chine_wetted_length, draft, centre_of_pressure, bottom_velocity;
  double reynolds_number, friction_coefficient, load, normal_force, thrust, pressure_drag, friction_force, bare_drag;
  double appendage_drag, air_drag, total_drag, bare_effective_power, effective_power, vertical_residual;
  double moment_residual;
};

/// The running state by the paper's general form, thrust line given by its distance below the CG, ITTC 1957 line.
/// @throws std::invalid_argument for a field out of range, std::runtime_error where the library would turn to its guarded
///   search, which no case of the set needs
BareState bare_equilibrium(const BareInput& in);

}  // namespace bench
