// What clang-tidy looks at: every public header, and the main functions on a number and on a Dual, since values can be
// followed only through code that is instantiated. static.sh writes every_header.hpp.
#include <array>
#include <vector>

#include "every_header.hpp"

namespace {

using namespace hardchine;

template <class T>
void call_all(const Speed<T>& speed) {
  const Hull<> hull{.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre};
  const Loading<> loading{.mass = 10.5 * tonne, .lcg = 4.26 * metre, .vcg = 1.14 * metre};
  const PlaningInput<T> boat{.hull = hull,
                             .loading = loading,
                             .water = sea_water(celsius(15.0)),
                             .thrust_line = through_cg_parallel_to_keel(),
                             .speed = speed};
  const RunningState<T> state = planing_equilibrium<T>(boat);
  static_cast<void>(explain(state));
  static_cast<void>(predicted_point<T>(state, loading.mass));
  for (const FrictionLine line : {FrictionLine::ittc_1957, FrictionLine::schoenherr})
    static_cast<void>(friction_coefficient(line, T(1e7)));
  static_cast<void>(apparent_slip<T>(
      {.engine_speed = 3200.0 * rpm, .reduction_ratio = T(1.5), .pitch = 24.0 * inch, .speed = speed}));
  static_cast<void>(cruising_range<T>({.speed = speed,
                                       .fuel_flow = 100.0 * litre_per_hour,
                                       .capacity = 1400.0 * litre,
                                       .usable_fuel = 1330.0 * litre,
                                       .reserve = reserve_thirds()}));
}

void call_each() {
  call_all<double>(27.0 * knot);
  call_all<Dual<1>>(seed<1>(27.0 * knot, 0));
  const SlipCheck check = check_slip(
      {.advance = {.engine_speed = 5800.0 * rpm, .reduction_ratio = 1.75, .pitch = 19.0 * inch, .speed = 48.0 * mph},
       .boat_type = BoatType::outboard_runabout,
       .speed_typed_in = SpeedTypedIn::miles_per_hour});
  for (const SlipCause& cause : check.causes) static_cast<void>(words(cause));
  const std::array<Run<>, 2> runs{Run<>{.ground_speed = 26.1 * knot, .direction = RunDirection::out},
                                  Run<>{.ground_speed = 24.3 * knot, .direction = RunDirection::back}};
  static_cast<void>(reduce_runs(runs));
  static_cast<void>(find_all(TrialDay{}));
}

}  // namespace

void (*const calls)() = call_each;
