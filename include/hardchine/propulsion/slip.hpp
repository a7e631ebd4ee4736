/// @file
/// Theoretical speed and slip of a screw propeller, and what follows from a slip.
///
/// With n_e the engine speed (rev/s), r_g the reduction ratio (engine turns for one propeller turn), P the pitch, V the
/// boat speed and w the wake fraction:
///
///     V_t = P n_e / r_g,   s_A = 1 - V/V_t,   s_R = 1 - V_A/V_t = 1 - (1 - w)(1 - s_A),   V_A = V (1 - w)
///
/// V is the speed through the water: a current c along the course changes s_A by -c/V_t. Slip is never clamped. A
/// negative apparent slip is what a following current, a wrong ratio or pitch, a tachometer or mph taken for knots
/// give; a large wake can give it too. Slip is no loss: a propeller that thrusts slips.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// Apparent and real slip. An identity of its definitions, so it has no published range.
inline constexpr Method slip_method{.name = "Screw propeller slip on pitch",
                                    .key = "trade_practice",
                                    .equations = "s_A = 1 - V/V_t, s_R = 1 - V_A/V_t",
                                    .evidence = Evidence::practice,
                                    .limits = {},
                                    .instead_beyond = ""};

/// Ranges that the slip formulas accept; a ship's pitch and a turbine's gear are inside.
namespace slip_ranges {
inline constexpr Range engine_speed = above(0.0, 20000.0);        ///< rpm
inline constexpr Range reduction_ratio = between(0.1, 100.0);     ///< engine turns for one propeller turn
inline constexpr Range pitch = between(1.0, 500.0);               ///< inches
inline constexpr Range speed = between(0.0, 150.0);               ///< knots
inline constexpr Range moving = above(0.0, 150.0);                ///< knots
inline constexpr Range any_slip = between(-1000.0, 100.0);        ///< per cent
inline constexpr Range slip_under_way = between(-1000.0, 99.99);  ///< per cent; at 100 % the boat stands
inline constexpr Range wake_fraction = between(-0.5, 0.9);        ///< a ratio
}  // namespace slip_ranges

/// What turns the screw: the input of theoretical_speed().
template <class T = double>
struct ScrewSpeed {
  RotationRate<T> engine_speed = unset;  ///< n_e: of the engine, above 0 to 20000 rpm
  T reduction_ratio = unset;             ///< r_g: engine turns for one propeller turn, 0.1 to 100
  Length<T> pitch = unset;               ///< P: propeller pitch, 1 to 500 in

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("engine speed", &ScrewSpeed::engine_speed, shown(rpm, "rpm"), slip_ranges::engine_speed),
                      field("reduction ratio", &ScrewSpeed::reduction_ratio, plain_ratio, slip_ranges::reduction_ratio),
                      field("pitch", &ScrewSpeed::pitch, shown(inch, "in"), slip_ranges::pitch)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator ScrewSpeed<U>() const {
    return widen_fields<ScrewSpeed<U>>(*this);
  }
};

/// A screw and the speed it drives the boat at: the input of apparent_slip() and real_slip().
template <class T = double>
struct ScrewAdvance {
  RotationRate<T> engine_speed = unset;  ///< n_e: of the engine, above 0 to 20000 rpm
  T reduction_ratio = unset;             ///< r_g: engine turns for one propeller turn, 0.1 to 100
  Length<T> pitch = unset;               ///< P: propeller pitch, 1 to 500 in
  Speed<T> speed = unset;                ///< V: boat speed through the water, 0 to 150 kn

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("engine speed", &ScrewAdvance::engine_speed, shown(rpm, "rpm"), slip_ranges::engine_speed),
        field("reduction ratio", &ScrewAdvance::reduction_ratio, plain_ratio, slip_ranges::reduction_ratio),
        field("pitch", &ScrewAdvance::pitch, shown(inch, "in"), slip_ranges::pitch),
        field("speed", &ScrewAdvance::speed, shown(knot, "kn"), slip_ranges::speed)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator ScrewAdvance<U>() const {
    return widen_fields<ScrewAdvance<U>>(*this);
  }
};

/// Everything but the boat speed: the input of speed_from_slip().
template <class T = double>
struct SpeedFromSlip {
  RotationRate<T> engine_speed = unset;  ///< n_e: of the engine, above 0 to 20000 rpm
  T reduction_ratio = unset;             ///< r_g: engine turns for one propeller turn, 0.1 to 100
  Length<T> pitch = unset;               ///< P: propeller pitch, 1 to 500 in
  T apparent_slip = unset;               ///< s_A: -1000 to 100 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("engine speed", &SpeedFromSlip::engine_speed, shown(rpm, "rpm"), slip_ranges::engine_speed),
        field("reduction ratio", &SpeedFromSlip::reduction_ratio, plain_ratio, slip_ranges::reduction_ratio),
        field("pitch", &SpeedFromSlip::pitch, shown(inch, "in"), slip_ranges::pitch),
        field("apparent slip", &SpeedFromSlip::apparent_slip, shown_percent, slip_ranges::any_slip)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator SpeedFromSlip<U>() const {
    return widen_fields<SpeedFromSlip<U>>(*this);
  }
};

/// Everything but the pitch: the input of pitch_from_slip().
template <class T = double>
struct PitchFromSlip {
  RotationRate<T> engine_speed = unset;  ///< n_e: of the engine, above 0 to 20000 rpm
  T reduction_ratio = unset;             ///< r_g: engine turns for one propeller turn, 0.1 to 100
  Speed<T> speed = unset;                ///< V: boat speed through the water, above 0 to 150 kn
  T apparent_slip = unset;               ///< s_A: -1000 to 99.99 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("engine speed", &PitchFromSlip::engine_speed, shown(rpm, "rpm"), slip_ranges::engine_speed),
        field("reduction ratio", &PitchFromSlip::reduction_ratio, plain_ratio, slip_ranges::reduction_ratio),
        field("speed", &PitchFromSlip::speed, shown(knot, "kn"), slip_ranges::moving),
        field("apparent slip", &PitchFromSlip::apparent_slip, shown_percent, slip_ranges::slip_under_way)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator PitchFromSlip<U>() const {
    return widen_fields<PitchFromSlip<U>>(*this);
  }
};

/// Everything but the engine speed: the input of engine_speed_from_slip().
template <class T = double>
struct EngineSpeedFromSlip {
  T reduction_ratio = unset;  ///< r_g: engine turns for one propeller turn, 0.1 to 100
  Length<T> pitch = unset;    ///< P: propeller pitch, 1 to 500 in
  Speed<T> speed = unset;     ///< V: boat speed through the water, above 0 to 150 kn
  T apparent_slip = unset;    ///< s_A: -1000 to 99.99 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("reduction ratio", &EngineSpeedFromSlip::reduction_ratio, plain_ratio, slip_ranges::reduction_ratio),
        field("pitch", &EngineSpeedFromSlip::pitch, shown(inch, "in"), slip_ranges::pitch),
        field("speed", &EngineSpeedFromSlip::speed, shown(knot, "kn"), slip_ranges::moving),
        field("apparent slip", &EngineSpeedFromSlip::apparent_slip, shown_percent, slip_ranges::slip_under_way)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator EngineSpeedFromSlip<U>() const {
    return widen_fields<EngineSpeedFromSlip<U>>(*this);
  }
};

/// Everything but the reduction ratio: the input of reduction_ratio_from_slip().
template <class T = double>
struct ReductionRatioFromSlip {
  RotationRate<T> engine_speed = unset;  ///< n_e: of the engine, above 0 to 20000 rpm
  Length<T> pitch = unset;               ///< P: propeller pitch, 1 to 500 in
  Speed<T> speed = unset;                ///< V: boat speed through the water, above 0 to 150 kn
  T apparent_slip = unset;               ///< s_A: -1000 to 99.99 %

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("engine speed", &ReductionRatioFromSlip::engine_speed, shown(rpm, "rpm"), slip_ranges::engine_speed),
        field("pitch", &ReductionRatioFromSlip::pitch, shown(inch, "in"), slip_ranges::pitch),
        field("speed", &ReductionRatioFromSlip::speed, shown(knot, "kn"), slip_ranges::moving),
        field("apparent slip", &ReductionRatioFromSlip::apparent_slip, shown_percent, slip_ranges::slip_under_way)};
  }
  /// The same input in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator ReductionRatioFromSlip<U>() const {
    return widen_fields<ReductionRatioFromSlip<U>>(*this);
  }
};

/// Theoretical (zero-slip) speed: how far the pitch advances in the time, V_t = P n_e / r_g.
/// Source: trade_practice, a definition; evidence: practice. An identity, valid in the whole accepted range.
/// @param screw engine speed (above 0 to 20000 rpm), reduction ratio (engine turns for one propeller turn, 0.1 to 100),
///              pitch (1 to 500 in)
/// @return V_t, a speed
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
Speed<T> theoretical_speed(const ScrewSpeed<T>& screw) {
  check_fields("theoretical_speed", screw);
  return screw.pitch * (screw.engine_speed / screw.reduction_ratio);
}

/// Apparent slip on the boat's speed through the water, s_A = 1 - V/V_t. May be negative; never clamped.
/// Source: trade_practice, a definition; evidence: practice. An identity, valid in the whole accepted range.
/// @param advance engine speed (above 0 to 20000 rpm), reduction ratio (engine turns for one propeller turn, 0.1 to
///                100), pitch (1 to 500 in), speed through the water (0 to 150 kn)
/// @return s_A as a ratio: 0.12 is 12 %; 1 when moored
/// @throws BadInput for a field that is unset or out of range, naming it; an engine that does not turn is one
template <class T = double>
T apparent_slip(const ScrewAdvance<T>& advance) {
  check_fields("apparent_slip", advance);
  const Speed<T> v_t = advance.pitch * (advance.engine_speed / advance.reduction_ratio);
  const T advance_of_pitch = advance.speed / v_t;
  return 1.0 - advance_of_pitch;
}

/// Real slip on the speed of advance V_A = V(1 - w), s_R = 1 - V_A/V_t = 1 - (1 - w)(1 - s_A). Never clamped.
/// Source: trade_practice, a definition; evidence: practice. An identity, valid in the whole accepted range.
/// @param advance as for apparent_slip()
/// @param wake_fraction w = 1 - V_A/V, Taylor's; -0.5 to 0.9, about 0 for planing boats
/// @return s_R as a ratio
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
T real_slip(const ScrewAdvance<T>& advance, const std::type_identity_t<T>& wake_fraction) {
  check_fields("real_slip", advance);
  check_value("real_slip", "wake fraction", wake_fraction, plain_ratio, slip_ranges::wake_fraction);
  const T s_a = apparent_slip(advance);
  return 1.0 - (1.0 - wake_fraction) * (1.0 - s_a);
}

/// Boat speed at an apparent slip, V = V_t (1 - s_A).
/// Source: trade_practice, apparent slip solved for V; evidence: practice.
/// @param known engine speed (above 0 to 20000 rpm), reduction ratio (0.1 to 100), pitch (1 to 500 in), apparent slip
///              (-1000 to 100 %)
/// @return V through the water
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
Speed<T> speed_from_slip(const SpeedFromSlip<T>& known) {
  check_fields("speed_from_slip", known);
  const Speed<T> v_t = known.pitch * (known.engine_speed / known.reduction_ratio);
  return v_t * T(1.0 - known.apparent_slip);
}

/// Pitch that gives a speed at an apparent slip, P = r_g V/(n_e (1 - s_A)).
/// Source: trade_practice, apparent slip solved for P; evidence: practice.
/// @param known engine speed (above 0 to 20000 rpm), reduction ratio (0.1 to 100), speed (above 0 to 150 kn), apparent
///              slip (-1000 to 99.99 %)
/// @return P
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
Length<T> pitch_from_slip(const PitchFromSlip<T>& known) {
  check_fields("pitch_from_slip", known);
  return known.speed * known.reduction_ratio / (known.engine_speed * T(1.0 - known.apparent_slip));
}

/// Engine speed that gives a boat speed at an apparent slip, n_e = r_g V/(P (1 - s_A)).
/// Source: trade_practice, apparent slip solved for n; evidence: practice.
/// @param known reduction ratio (0.1 to 100), pitch (1 to 500 in), speed (above 0 to 150 kn), apparent slip (-1000 to
///              99.99 %)
/// @return n_e
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
RotationRate<T> engine_speed_from_slip(const EngineSpeedFromSlip<T>& known) {
  check_fields("engine_speed_from_slip", known);
  return known.speed * known.reduction_ratio / (known.pitch * T(1.0 - known.apparent_slip));
}

/// Reduction ratio at which a speed has an apparent slip, r_g = P n_e (1 - s_A)/V.
/// Source: trade_practice, apparent slip solved for r_g; evidence: practice.
/// @param known engine speed (above 0 to 20000 rpm), pitch (1 to 500 in), speed (above 0 to 150 kn), apparent slip
///              (-1000 to 99.99 %)
/// @return r_g, engine turns for one propeller turn
/// @throws BadInput for a field that is unset or out of range, naming it
template <class T = double>
T reduction_ratio_from_slip(const ReductionRatioFromSlip<T>& known) {
  check_fields("reduction_ratio_from_slip", known);
  const T turns = known.pitch * known.engine_speed / known.speed;
  return turns * (1.0 - known.apparent_slip);
}

}  // namespace hardchine
