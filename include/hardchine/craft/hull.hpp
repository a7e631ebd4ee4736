/// @file
/// The hull as the planing methods see it: chine beam, deadrise, projected chine length.
#pragma once

#include "hardchine/fields.hpp"

namespace hardchine {

/// Where the chine beam of a hull is taken.
enum class BeamTaken : std::uint8_t { maximum_over_chines, mean_over_chines, in_stagnation_area };
/// Where the deadrise of a hull is taken.
enum class DeadriseTaken : std::uint8_t { mid_chine, transom, in_stagnation_area };

/// A planing hull. Beam and deadrise describe one prism; say where on the real form they were taken.
template <class T = double>
struct Hull {
  Length<T> chine_beam = unset;              ///< b: beam over the chines, above 0.05 to 30 m
  Angle<T> deadrise = unset;                 ///< beta: deadrise, 0 to 45 deg
  Length<T> projected_chine_length = unset;  ///< L_p: length of the chines seen from above, above 0.1 to 150 m
  BeamTaken beam_taken = BeamTaken::maximum_over_chines;    ///< where on the real form
  DeadriseTaken deadrise_taken = DeadriseTaken::mid_chine;  ///< where on the real form
  int number_of_hulls = 1;                                  ///< the prismatic method takes one
  bool stepped = false;                                     ///< a stepped bottom is refused by the prismatic method

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{
        field("chine beam", &Hull::chine_beam, shown(metre, "m"), above(0.05, 30.0)),
        field("deadrise", &Hull::deadrise, shown(degree, "deg"), between(0.0, 45.0)),
        field("projected chine length", &Hull::projected_chine_length, shown(metre, "m"), above(0.1, 150.0)),
        choice("beam taken", &Hull::beam_taken),
        choice("deadrise taken", &Hull::deadrise_taken),
        count("number of hulls", &Hull::number_of_hulls, 1, 6),
        choice("stepped", &Hull::stepped)};
  }
  /// The same hull in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator Hull<U>() const {
    return widen_fields<Hull<U>>(*this);
  }
};

}  // namespace hardchine
