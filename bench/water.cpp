#include "hardchine/fluids/water.hpp"

#include "formula_rows.hpp"

namespace bench {

void add_water_rows() {
  using namespace hardchine;
  add_formula_rows<2>(
      {"sea_water_density/scalar", "sea_water_density/gradient", "sea_water_density/lanes"},
      {random_column(274.0, 303.0, 1), random_column(1.0, 40.0, 2)}, []<class T>(const std::array<T, 2>& x) {
        return sea_water_density<T>(Temperature<T>::from_value(x[0]), absolute_salinity<T>(x[1])).value();
      });
}

}  // namespace bench
