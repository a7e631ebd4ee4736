// Pairs of almost equal programs: scalars with derivatives. How a pair is written: README.md of this folder.
#include "hardchine/craft/hull.hpp"
#include "hardchine/scalar/dual.hpp"

using namespace hardchine;

// words: Dual<2>' to 'double'
// points at: double value
#ifdef WRONG_derivatives_dropped
double value = Dual<2>(25.0);
#else
double value = Dual<2>(25.0).value;
#endif

// words: Dual<2.*Dual<3
#ifdef WRONG_seeds_of_two_lengths
auto sum = Dual<2>(25.0) + Dual<3>(1.0);
#else
auto sum = Dual<2>(25.0) + Dual<2>(1.0);
#endif

// words: 'Hull<.*Dual<2>>' to
#ifdef WRONG_hull_back_to_numbers
Hull<> hull = Hull<Dual<2>>{};
#else
Hull<Dual<2>> hull = Hull<>{};
#endif
