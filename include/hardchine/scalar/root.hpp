/// @file
/// A root that cannot diverge: Chandrupatla's method between two points of opposite sign, lane by lane.
///
/// Source: chandrupatla_1997 (docs/references.bib), inverse quadratic interpolation where it is safe, bisection where
/// not. Evidence: recalled; tested against SciPy's brentq.
#pragma once

#include "hardchine/outcome.hpp"
#include "hardchine/scalar/scalar.hpp"

namespace hardchine {

/// Where a function of one scalar changes sign.
template <class T>
struct BracketedRoot {
  T x;                  ///< the root
  T residual;           ///< the function there
  MaskOf<T> bracketed;  ///< the two ends had opposite signs: only then is x a root
  MaskOf<T> converged;  ///< the bracket shrank to the tolerance
};

/// A root of `f` between `low` and `high`.
/// @param f a function of one plain scalar (no derivatives), continuous between the ends
/// @param low one end, finite
/// @param high the other end, finite; f must have opposite signs at the two, else `bracketed` is false there
/// @param relative_tolerance width of the bracket at which a lane is done, relative to x; from 4e-16 up
/// @return root, residual, and per lane whether it was bracketed and converged; at most 120 evaluations
template <class T, class F>
BracketedRoot<T> bracketed_root(F&& f, const T& low, const T& high, double relative_tolerance = 4e-16) {
  T x1 = low, x2 = high;
  T f1 = f(x1), f2 = f(x2);
  const T zero(0.0);
  const auto bracketed = either(both(f1 <= zero, f2 >= zero), both(f1 >= zero, f2 <= zero));
  T x3 = x1, f3 = f1;
  T t(0.5);
  auto better = magnitude(f2) < magnitude(f1);
  T best = select(better, x2, x1), best_f = select(better, f2, f1);
  auto done = either(negate(bracketed), magnitude(best_f) <= zero);
  auto narrow = done;
  for (int i = 0; i < 118 && !all(done); ++i) {
    const T x = x1 + t * (x2 - x1);
    const T fx = f(x);
    const auto same_side = either(both(fx > zero, f1 > zero), both(fx < zero, f1 < zero));
    // The two ends are x1 (newest) and x2; x3 is the one before.
    const T new3 = select(same_side, x1, x2), new_f3 = select(same_side, f1, f2);
    const T new2 = select(same_side, x2, x1), new_f2 = select(same_side, f2, f1);
    x3 = select(done, x3, new3);
    f3 = select(done, f3, new_f3);
    x2 = select(done, x2, new2);
    f2 = select(done, f2, new_f2);
    x1 = select(done, x1, x);
    f1 = select(done, f1, fx);
    better = magnitude(f2) < magnitude(f1);
    best = select(done, best, select(better, x2, x1));
    best_f = select(done, best_f, select(better, f2, f1));
    const T width = magnitude(T(x2 - x1));
    const T tolerance = relative_tolerance * magnitude(best) + 1e-300;
    const T limit = tolerance / larger(width, T(1e-300));
    const auto finished = either(limit > T(0.5), magnitude(best_f) <= zero);
    narrow = either(narrow, both(negate(done), finished));
    done = either(done, finished);
    const T xi = (x1 - x2) / (x3 - x2);
    const T phi = (f1 - f2) / (f3 - f2);
    const auto interpolate = both(phi * phi < xi, (1.0 - phi) * (1.0 - phi) < 1.0 - xi);
    const T inverse_quadratic =
        f1 / (f2 - f1) * (f3 / (f2 - f3)) + (x3 - x1) / (x2 - x1) * (f1 / (f3 - f1)) * (f2 / (f3 - f2));
    t = select(interpolate, inverse_quadratic, T(0.5));
    t = smaller(larger(t, limit), T(1.0 - limit));
    t = select(done, T(0.5), t);
  }
  return {best, best_f, bracketed, both(bracketed, narrow)};
}

/// The derivatives of a root that was found without them: implicit function theorem, dx = -dF/F_x.
/// @tparam T the scalar that carries derivatives (or none: the root is returned as it is)
/// @param x the root, plain
/// @param residual F, callable with T
/// @param slope F_x at the root, plain
/// @return the root with its derivatives, exact to rounding; one step for each order that T carries
template <class T, class F>
T carry_derivatives(const Plain<T>& x, F&& residual, const Plain<T>& slope) {
  T root(x);
  for (int order = 0; order < derivative_order<T>; ++order) {
    const T r = residual(root);
    root = root - (r - T(plain(r))) / T(slope);
  }
  return root;
}

}  // namespace hardchine
