#include "hardchine/resistance/friction_line.hpp"

#include "formula_rows.hpp"

namespace bench {

void add_friction_line_rows() {
  using namespace hardchine;
  add_formula_rows<1>(
      {"friction/scalar", "friction/gradient", "friction/lanes"}, {random_column(1e7, 1e9, 1)},
      []<class T>(const std::array<T, 1>& x) { return friction_coefficient(FrictionLine::ittc_1957, x[0]); });
}

}  // namespace bench
