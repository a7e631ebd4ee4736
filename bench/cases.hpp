/// @file
/// The set of hulls that every row of the equilibrium runs on.
#pragma once

#include <cstddef>
#include <vector>

#include "hardchine/resistance/planing_equilibrium.hpp"
#include "nested_textbook.hpp"

namespace bench {

/// How many: the size of the batch of `equilibrium/lanes`.
inline constexpr std::size_t number_of_cases = 100000;

/// Boats at a speed in columns, SI units and radians; water, gravity, friction line and allowance are those of
/// base_input().
struct Cases {
  std::vector<double> beam, deadrise, mass, lcg, vcg, speed, inclination, lever;
  std::vector<double> lambda, flat_lift;  ///< the library's answer by the paper's general form
};

/// What does not vary.
hardchine::PlaningInput<> base_input();

/// The set: seeded random hulls, C_v 1.5 to 6, load coefficient 0.2 to 0.9, deadrise 0 to 28 degrees, LCG 0.9 to 2.0 b,
/// VCG 0.2 to 0.7 b, thrust -3 to 8 degrees to the keel and -0.05 to 0.15 b below the CG, of which those stay that
/// nested_textbook() solves. Made at the first call, which also compares the library with the textbook on every case.
/// @throws std::runtime_error if they differ anywhere
const Cases& cases();

/// One case for nested_textbook().
TextbookBoat textbook_boat(const Cases& c, std::size_t i);

/// Puts a case into an input: `get(column, number)` is input `number`, 0 to 7, as a T.
template <class T, class Get>
[[gnu::always_inline]] inline void put_case(hardchine::PlaningInput<T>& in, const Cases& c, const Get& get) {
  using namespace hardchine;
  in.hull.chine_beam = Length<T>::from_value(get(c.beam, 0));
  in.hull.deadrise = Angle<T>::from_value(get(c.deadrise, 1));
  in.loading.mass = Mass<T>::from_value(get(c.mass, 2));
  in.loading.lcg = Length<T>::from_value(get(c.lcg, 3));
  in.loading.vcg = Length<T>::from_value(get(c.vcg, 4));
  in.speed = Speed<T>::from_value(get(c.speed, 5));
  in.thrust_line.inclination = Angle<T>::from_value(get(c.inclination, 6));
  in.thrust_line.distance_below_cg = Length<T>::from_value(get(c.lever, 7));
}

}  // namespace bench
