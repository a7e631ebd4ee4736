/// @file
/// How a planing boat runs at one speed: attitude, wetted lengths, forces, validity.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// The answer of a resistance method at one speed. Speed and Froude numbers are set unless the outcome is
/// `bad_input`; every other quantity is unset unless it is `converged`.
template <class T = double>
struct RunningState {
  PerLane<T, Outcome> outcome = per_lane<T>(Outcome::not_converged);  ///< whether there is an answer
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});                    ///< bits into the limits of `method`
  const Method* method = nullptr;                                     ///< who answered

  Speed<T> speed = unset;                 ///< V
  T beam_froude_number = unset;           ///< C_v = V/sqrt(g b), F_nB
  T volume_froude_number = unset;         ///< F_nV = V/sqrt(g volume^(1/3))
  T lift_coefficient = unset;             ///< C_Lb of the load on the bottom, for the hull's deadrise
  T flat_lift_coefficient = unset;        ///< C_L0, the same for zero deadrise
  Angle<T> trim = unset;                  ///< tau, keel to horizontal, bow up
  T mean_wetted_ratio = unset;            ///< lambda, mean wetted length over beam
  Length<T> keel_wetted_length = unset;   ///< L_k
  Length<T> chine_wetted_length = unset;  ///< L_c; negative where the chine is dry by the formula
  Length<T> draft = unset;                ///< of the keel at the transom
  Length<T> centre_of_pressure = unset;   ///< l_p, forward of the transom
  Speed<T> bottom_velocity = unset;       ///< V_1, mean over the wetted bottom
  T reynolds_number = unset;              ///< Re on V_1 and the mean wetted length
  T friction_coefficient = unset;         ///< C_F of the friction line, without the allowance

  Force<T> load = unset;                  ///< L: vertical load on the bottom, weight less what the thrust lifts
  Force<T> normal_force = unset;          ///< N, normal to the keel
  Force<T> thrust = unset;                ///< along the thrust line, to balance the bare hull
  Force<T> pressure_drag = unset;         ///< load x tan(tau)
  Force<T> friction_force = unset;        ///< D_f, along the keel
  Force<T> bare_drag = unset;             ///< of the bare hull in water
  Force<T> appendage_drag = unset;        ///< added by appendages
  Force<T> air_drag = unset;              ///< added by the air
  Force<T> total_drag = unset;            ///< bare + appendages + air
  Power<T> bare_effective_power = unset;  ///< bare drag x V
  Power<T> effective_power = unset;       ///< P_E: total drag x V

  T vertical_residual = unset;  ///< of the vertical forces over the weight
  T moment_residual = unset;    ///< of the moments over weight x beam

  /// Of several craft at once, where the outcome is `bad_input`: the place of the first field that was refused, from 1
  /// in the order of for_each_field over the input; else 0.
  PerLane<T, std::uint8_t> refused_field = per_lane<T>(std::uint8_t{0});

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{figure("speed", &RunningState::speed, shown(knot, "kn")),
                      figure("beam Froude number", &RunningState::beam_froude_number, plain_ratio),
                      figure("volume Froude number", &RunningState::volume_froude_number, plain_ratio),
                      figure("lift coefficient", &RunningState::lift_coefficient, plain_ratio),
                      figure("flat lift coefficient", &RunningState::flat_lift_coefficient, plain_ratio),
                      figure("trim", &RunningState::trim, shown(degree, "deg")),
                      figure("mean wetted ratio", &RunningState::mean_wetted_ratio, plain_ratio),
                      figure("keel wetted length", &RunningState::keel_wetted_length, shown(metre, "m")),
                      figure("chine wetted length", &RunningState::chine_wetted_length, shown(metre, "m")),
                      figure("draft", &RunningState::draft, shown(metre, "m")),
                      figure("centre of pressure", &RunningState::centre_of_pressure, shown(metre, "m")),
                      figure("bottom velocity", &RunningState::bottom_velocity, shown(knot, "kn")),
                      figure("Reynolds number", &RunningState::reynolds_number, plain_ratio),
                      figure("friction coefficient", &RunningState::friction_coefficient, plain_ratio),
                      figure("load", &RunningState::load, shown(kilonewton, "kN")),
                      figure("normal force", &RunningState::normal_force, shown(kilonewton, "kN")),
                      figure("thrust", &RunningState::thrust, shown(kilonewton, "kN")),
                      figure("pressure drag", &RunningState::pressure_drag, shown(kilonewton, "kN")),
                      figure("friction force", &RunningState::friction_force, shown(kilonewton, "kN")),
                      figure("bare drag", &RunningState::bare_drag, shown(kilonewton, "kN")),
                      figure("appendage drag", &RunningState::appendage_drag, shown(kilonewton, "kN")),
                      figure("air drag", &RunningState::air_drag, shown(kilonewton, "kN")),
                      figure("total drag", &RunningState::total_drag, shown(kilonewton, "kN")),
                      figure("bare effective power", &RunningState::bare_effective_power, shown(kilowatt, "kW")),
                      figure("effective power", &RunningState::effective_power, shown(kilowatt, "kW")),
                      figure("vertical residual", &RunningState::vertical_residual, plain_ratio),
                      figure("moment residual", &RunningState::moment_residual, plain_ratio)};
  }
};

}  // namespace hardchine
