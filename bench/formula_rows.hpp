/// @file
/// The trio of rows of a plain formula: as a number, with its gradient, in lanes.
#pragma once

#include <array>
#include <cstddef>
#include <random>
#include <span>
#include <string>
#include <vector>

#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/lanes.hpp"
#include "rows.hpp"

namespace bench {

/// Cases of a formula: 4096, which with their results stay in the second-level cache.
inline constexpr std::size_t formula_cases = 4096;
/// A column of them.
using FormulaColumn = std::vector<double>;

/// A column of numbers from `low` to `high` at random.
inline FormulaColumn random_column(double low, double high, unsigned seed) {
  std::mt19937_64 bits(seed);
  FormulaColumn column(formula_cases);
  for (double& x : column) x = low + (high - low) * (double(bits() >> 11) * 0x1p-53);
  return column;
}

/// Adds `names[0]`, `[1]`, `[2]`: `formula` over double, over Dual<N> with all N inputs seeded, and over Lanes<8>.
/// @param formula callable with an array of N scalars, gives a scalar
template <std::size_t N, class Formula>
void add_formula_rows(const std::array<const char*, 3>& names, const std::array<FormulaColumn, N>& columns,
                      Formula formula) {
  constexpr std::size_t block = 512;
  add_row(names[0], formula_cases, block, [=, results = FormulaColumn(formula_cases)](std::size_t first) mutable {
    for (std::size_t i = first; i < first + block; ++i) {
      std::array<double, N> x;
      for (std::size_t k = 0; k < N; ++k) x[k] = columns[k][i];
      results[i] = formula(x);
    }
    benchmark::DoNotOptimize(results.data());
  });
  add_row(names[1], formula_cases, block, [=](std::size_t first) {
    using T = hardchine::Dual<int(N)>;
    for (std::size_t i = first; i < first + block; ++i) {
      std::array<T, N> x;
      for (std::size_t k = 0; k < N; ++k) x[k] = T::input(columns[k][i], int(k));
      T result = formula(x);
      benchmark::DoNotOptimize(result);
    }
  });
  add_row(names[2], formula_cases, block, [=, results = FormulaColumn(formula_cases)](std::size_t first) mutable {
    using T = hardchine::Lanes<8>;
    for (std::size_t i = first; i < first + block; i += 8) {
      std::array<T, N> x;
      for (std::size_t k = 0; k < N; ++k) x[k] = T::load(std::span(columns[k]).subspan(i).template first<8>());
      formula(x).store(std::span(results).subspan(i).template first<8>());
    }
    benchmark::DoNotOptimize(results.data());
  });
}

}  // namespace bench
