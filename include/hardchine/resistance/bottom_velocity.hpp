/// @file
/// Mean velocity over the wetted bottom of a planing surface (Savitsky 1964).
///
/// V_1 = V sqrt(1 - C_Ldb/(lambda cos tau)), where C_Ldb is eq 16 applied to the dynamic part of the lift
/// (0.0120 lambda^0.5 tau^1.1). The print gives this for zero deadrise (24) and says "analogous" for others, with
/// charts; this closed form agrees with the charted values of its example to 0.3 %.
#pragma once

#include <cmath>

#include "hardchine/resistance/planing_lift.hpp"

namespace hardchine {

/// Which velocity the friction is taken at.
enum class BottomVelocity : std::uint8_t {
  mean_over_bottom,  ///< V_1, savitsky_1964
  free_stream        ///< V, as the examples of savitsky_brown_1976 and molland_2011 do; 1 to 10 % more friction
};

namespace planing_detail {

/// (V_1/V)^2 without the door.
template <class T>
T bottom_velocity_ratio_squared(const PlaningAttitude<T>& attitude, const Angle<T>& deadrise) {
  using std::cos;
  const T C_Ldb = deadrise_lift<T>(dynamic_lift(attitude), deadrise);
  return 1.0 - C_Ldb / (attitude.mean_wetted_ratio * cos(attitude.trim.value()));
}

}  // namespace planing_detail

/// The square of the velocity ratio, (V_1/V)^2 = 1 - C_Ldb/(lambda cos tau).
/// @param attitude trim, lambda and C_v; ranges in its field table
/// @param deadrise beta, 0 to 45 deg; published up to 30
/// @return (V_1/V)^2: not positive where the method has no answer (small lambda, large trim), above 1 where the dynamic
///   lift comes out negative (small trim, high deadrise). Published for C_v 1 to 13
/// @throws BadInput naming the field
/// Source: savitsky_1964 eq 24 with 16 (printed for zero deadrise)
template <class T>
T bottom_velocity_ratio_squared(const PlaningAttitude<T>& attitude, const std::type_identity_t<Angle<T>>& deadrise) {
  check_fields("bottom_velocity_ratio_squared", attitude);
  check_deadrise("bottom_velocity_ratio_squared", deadrise);
  return planing_detail::bottom_velocity_ratio_squared<T>(attitude, deadrise);
}

}  // namespace hardchine
