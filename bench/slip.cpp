#include "hardchine/propulsion/slip.hpp"

#include "formula_rows.hpp"

namespace bench {

void add_slip_rows() {
  using namespace hardchine;
  add_formula_rows<4>({"slip/scalar", "slip/gradient", "slip/lanes"},
                      {random_column(1000.0 * rpm.value(), 4000.0 * rpm.value(), 1), random_column(1.0, 2.5, 2),
                       random_column(12.0 * inch.value(), 36.0 * inch.value(), 3),
                       random_column(5.0 * knot.value(), 45.0 * knot.value(), 4)},
                      []<class T>(const std::array<T, 4>& x) {
                        return apparent_slip<T>({.engine_speed = RotationRate<T>::from_value(x[0]),
                                                 .reduction_ratio = x[1],
                                                 .pitch = Length<T>::from_value(x[2]),
                                                 .speed = Speed<T>::from_value(x[3])});
                      });
}

}  // namespace bench
