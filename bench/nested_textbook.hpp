/// @file
/// The yardstick: the equilibrium as a reader of savitsky_1964 would program it, a root inside a root.
#pragma once

#include <optional>

namespace bench {

/// A boat at a speed, SI units and radians.
struct TextbookBoat {
  double beam, deadrise, mass, lcg, vcg, speed, inclination, lever;
  double density, viscosity, gravity, allowance;
};

/// What the procedure ends with; trim in degrees.
struct TextbookAnswer {
  double trim, lambda, V_1, Re, C_F, drag;
};

/// Trim, wetted length and drag by the paper's general form (eq 35).
/// @param boat SI units and radians
/// @return nothing if no trim from 0.5 to 15 degrees balances the moments
std::optional<TextbookAnswer> nested_textbook(const TextbookBoat& boat);

}  // namespace bench
