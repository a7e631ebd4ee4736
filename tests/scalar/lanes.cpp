// Lanes is a scalar of the library: arithmetic and masks lane by lane,
// quantities, outcomes and flags one a lane, and the formulas give in every
// lane what they give on a number, whatever the neighbours are. Its functions:
// lanes_maths.cpp.
#include "hardchine/scalar/lanes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <concepts>
#include <cstdint>
#include <limits>
#include <memory>
#include <random>
#include <stdexcept>
#include <string>
#include <type_traits>
#include <typeinfo>
#include <vector>

#include "../random/draw.hpp"
#include "hardchine/craft/froude_number.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/economy/fuel_economy.hpp"
#include "hardchine/economy/range.hpp"
#include "hardchine/fluids/water.hpp"
#include "hardchine/propulsion/slip.hpp"
#include "hardchine/resistance/friction_line.hpp"
#include "hardchine/resistance/planing_equilibrium.hpp"
#include "hardchine/resistance/planing_lift.hpp"
#include "hardchine/resistance/wetted_lengths.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/root.hpp"

using namespace hardchine;
using hardchine::is_finite;  // math.h of the C library has one, too
using random_test::Random;

namespace {

using Pack = Lanes<>;
constexpr std::size_t width = lanes_width;
using Numbers = std::array<double, width>;

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

static_assert(Scalar<Lanes<2>> && Scalar<Lanes<4>> && Scalar<Pack> && Scalar<Lanes<16>> && Scalar<Dual<3, Pack>>);
static_assert(std::same_as<MaskOf<Pack>, LaneMask<8>> && std::same_as<MaskOf<Dual<2, Pack>>, LaneMask<8>>);
static_assert(std::same_as<Plain<Pack>, Pack> && std::same_as<Plain<Dual<2, Pack>>, Pack>);
static_assert(std::same_as<PerLane<Pack, Outcome>, std::array<Outcome, 8>>);
static_assert(std::same_as<PerLane<Dual<2, Pack>, Flags>, std::array<Flags, 8>>);
static_assert(sizeof(Lanes<2>) == 16 && sizeof(Lanes<4>) == 32 && sizeof(Pack) == 64 && sizeof(Lanes<16>) == 128);

// As strict as the archetype: no way in but by name, none out, no truth value
// of a mask.
static_assert(!std::convertible_to<double, Pack> && !std::convertible_to<Pack, double>);
static_assert(!std::constructible_from<double, Pack> && !std::constructible_from<bool, LaneMask<8>>);
static_assert(!std::constructible_from<Pack, Lanes<4>>);
template <class T>
concept branches = requires(const T& a, const T& b) {
  (a < b) ? 1 : 0;
};
static_assert(!branches<Pack> && !branches<Dual<2, Pack>>);

Numbers numbers(const Pack& x) {
  Numbers r;
  x.store(r);
  return r;
}
bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b) || (std::isnan(a) && std::isnan(b));
}
bool same_bits(const Numbers& a, const Numbers& b) {
  return std::equal(a.begin(), a.end(), b.begin(), [](double x, double y) { return same_bits(x, y); });
}
template <class F>
Numbers each_lane(const F& f) {
  Numbers r;
  for (std::size_t i = 0; i < width; ++i) r[i] = f(i);
  return r;
}

// Ordinary numbers and all that are none.
Numbers any_numbers(Random& random) {
  constexpr std::array odd{0.0,      -0.0, infinite, -infinite, not_a_number, 5e-324, -5e-324, 1.7976931348623157e308,
                           2.2e-308, 1.0};
  Numbers r;
  for (double& x : r)
    x = random.chance(0.3) ? odd[static_cast<std::size_t>(random.whole(0, odd.size() - 1))] : random.from_to(-3.0, 3.0);
  return r;
}

// ---- packs of aggregates

Pack gathered(const Numbers& x) { return Pack::load(x); }
template <class U>
Quantity<U, Pack> gathered(const std::array<Quantity<U>, width>& q) {
  return Quantity<U, Pack>::from_value(Pack::load(each_lane([&](std::size_t i) { return q[i].value(); })));
}
template <template <class> class A>
requires HasFields<A<double>> A<Pack> gathered(const std::array<A<double>, width>& inputs) {
  A<Pack> pack{};
  const auto source = A<double>::fields();
  const auto target = A<Pack>::fields();
  const auto one = [&](const auto& to, const auto& from) {
    using X = std::remove_cvref_t<decltype(inputs[0].*(from.member))>;
    std::array<X, width> values;
    for (std::size_t i = 0; i < width; ++i) values[i] = inputs[i].*(from.member);
    pack.*(to.member) = gathered(values);
  };
  [&]<std::size_t... I>(std::index_sequence<I...>) { (one(entry_of<I>(target), entry_of<I>(source)), ...); }
  (std::make_index_sequence<decltype(source)::size>{});
  return pack;
}

// ---- the comparison

// A result, and the largest term that it is a sum or difference of: rounding
// errors are relative to that.
template <class T>
struct Term {
  T value, scale;
};
template <class T>
Term<T> plainly(const T& x) {
  return {x, x};
}
template <class U, class T>
Term<T> plainly(const Quantity<U, T>& q) {
  return {q.value(), q.value()};
}

// What the library promises of lanes. The kernels err by up to 3 ulp, tan by 4
// (9e-16) and a power p by 1.1 + 0.27 |p| (3e-15 at 40, which no power of a
// formula exceeds), the C library by one, and a formula may magnify that by a
// power or a difference with a constant: (log10 Re - 2)^-2 by up to 3. That
// leaves two digits of the promise for sums of such terms. The largest seen is
// 1.1e-15.
constexpr double promised = 1e-12;
#if defined(__OPTIMIZE__)
constexpr int packs_each = 12500;  // 100,000 cases
#else
constexpr int packs_each = 250;
#endif

// Random inputs eight at a time: every lane is as the scalar has it, to the bit
// the same with other neighbours.
template <template <class> class In, class Draw, class F>
void lanes_equal_scalar(const std::string& formula, const Draw& draw, const F& f) {
  Random random(20240711);
  double worst = 0.0;
  int compared = 0;
  for (int pack = 0; pack < packs_each; ++pack) {
    std::array<In<double>, width> inputs;
    for (auto& input : inputs) input = draw(random);
    const auto in_lanes = f(gathered(inputs));
    const std::size_t alone = static_cast<std::size_t>(random.whole(0, width - 1));
    std::array<In<double>, width> copies;
    copies.fill(inputs[alone]);
    const auto of_copies = f(gathered(copies));
    for (std::size_t r = 0; r < in_lanes.size(); ++r) {
      CAPTURE(formula);
      CAPTURE(r);
      const Numbers values = numbers(in_lanes[r].value);
      const double with_copies = numbers(of_copies[r].value)[width - 1 - alone];
      if (!same_bits(values[alone], with_copies)) CHECK(values[alone] == with_copies);
      for (std::size_t i = 0; i < width; ++i) {
        const auto in_scalar = f(inputs[i]);
        const double expected = in_scalar[r].value;
        compared += std::isfinite(expected) ? 1 : 0;
        if (same_bits(values[i], expected)) continue;
        const double scale = std::max(std::abs(expected), std::abs(in_scalar[r].scale));
        const double difference = std::abs(values[i] - expected) / scale;
        if (!(difference <= promised)) {
          CAPTURE(pack);
          CAPTURE(i);
          CAPTURE(scale);
          CHECK(values[i] == expected);
        }
        worst = std::max(worst, difference);
      }
    }
  }
  CAPTURE(formula);
  CHECK(worst <= promised);
  CHECK(compared > packs_each * lanes_width / 4);  // numbers, not only lanes without an answer
}
template <template <class> class In, class F>
void lanes_equal_scalar(const std::string& formula, const F& f) {
  lanes_equal_scalar<In>(
      formula, [](Random& random) { return random_test::drawn<In<double>>(random); }, f);
}

// Inputs of functions that take no aggregate.
template <class T = double>
struct SpeedAndVolume {
  Speed<T> speed = unset;
  Volume<T> volume = unset;
  static constexpr auto fields() {
    return FieldTable{field("speed", &SpeedAndVolume::speed, shown(knot, "kn"), between(0.0, 200.0)),
                      field("volume", &SpeedAndVolume::volume, shown(cubic_metre, "m3"), above(0.0, 1200.0))};
  }
};
template <class T = double>
struct SpeedAndFlow {
  Speed<T> speed = unset;
  VolumeFlow<T> flow = unset;
  Volume<T> fuel = unset;
  static constexpr auto fields() {
    return FieldTable{field("speed", &SpeedAndFlow::speed, shown(knot, "kn"), economy_ranges::moving),
                      field("flow", &SpeedAndFlow::flow, shown(litre_per_hour, "L/h"), economy_ranges::fuel_flow),
                      field("fuel", &SpeedAndFlow::fuel, shown(litre, "L"), economy_ranges::volume)};
  }
};
template <class T = double>
struct Brine {
  Temperature<T> temperature = unset;
  Salinity<T> salinity = {};
  static constexpr auto fields() {
    return FieldTable{field("temperature", &Brine::temperature, shown(kelvin, "K"), between(271.15, 313.15)),
                      part("salinity", &Brine::salinity)};
  }
};
template <class T = double>
struct Flow {
  T log10_reynolds_number = unset;
  static constexpr auto fields() {
    return FieldTable{field("log10 Re", &Flow::log10_reynolds_number, plain_ratio, between(5.0, 11.99))};
  }
};
template <class T = double>
struct LiftAndDeadrise {
  T log10_lift = unset;
  Angle<T> deadrise = unset;
  static constexpr auto fields() {
    return FieldTable{field("log10 lift", &LiftAndDeadrise::log10_lift, plain_ratio, between(-6.0, 2.0)),
                      field("deadrise", &LiftAndDeadrise::deadrise, shown(degree, "deg"), between(0.0, 45.0))};
  }
};
template <class T = double>
struct RangeNumbers {
  Speed<T> speed = unset;
  VolumeFlow<T> flow = unset;
  Volume<T> capacity = unset;
  T usable = unset, held_back = unset;  // of the capacity
  static constexpr auto fields() {
    return FieldTable{field("speed", &RangeNumbers::speed, shown(knot, "kn"), between(5.0, 60.0)),
                      field("flow", &RangeNumbers::flow, shown(litre_per_hour, "L/h"), between(10.0, 500.0)),
                      field("capacity", &RangeNumbers::capacity, shown(litre, "L"), between(100.0, 5000.0)),
                      field("usable", &RangeNumbers::usable, plain_ratio, between(0.0, 1.0)),
                      field("held back", &RangeNumbers::held_back, plain_ratio, between(0.0, 1.0))};
  }
};
template <class T>
RangeInput<T> range_input(const RangeNumbers<T>& x, const Reserve<T>& reserve) {
  return {.speed = x.speed,
          .fuel_flow = x.flow,
          .capacity = x.capacity,
          .usable_fuel = x.capacity * x.usable,
          .reserve = reserve};
}

}  // namespace

TEST_CASE(
    "the instruction set is a part of the name, so that objects built "
    "with other flags do not share code") {
  const std::string name = typeid(Pack).name();
  CAPTURE(name);
#if defined(__AVX512F__)
  CHECK(name.find("lanes_avx512") != std::string::npos);
#elif defined(__AVX2__)
  CHECK(name.find("lanes_avx2") != std::string::npos);
#elif defined(__AVX__)
  CHECK(name.find("lanes_avx") != std::string::npos);
#else
  CHECK(name.find("lanes_") != std::string::npos);
  CHECK(name.find("lanes_avx") == std::string::npos);
#endif
#if defined(__FMA__)
  CHECK(name.find("with_fma") != std::string::npos);
#else
  CHECK(name.find("with_fma") == std::string::npos);
#endif
}

TEST_CASE("arithmetic and comparisons lane by lane, to the bit as on numbers") {
  Random random(1);
  for (int k = 0; k < 2000; ++k) {
    const Numbers a = any_numbers(random), b = any_numbers(random);
    const double c = any_numbers(random)[0];
    const Pack x = Pack::load(a), y = Pack::load(b);
    const auto lanes_are = [&](const Pack& r, const auto& f) { return same_bits(numbers(r), each_lane(f)); };
    CHECK(lanes_are(x + y, [&](auto i) { return a[i] + b[i]; }));
    CHECK(lanes_are(x - y, [&](auto i) { return a[i] - b[i]; }));
    CHECK(lanes_are(x * y, [&](auto i) { return a[i] * b[i]; }));
    CHECK(lanes_are(x / y, [&](auto i) { return a[i] / b[i]; }));
    CHECK(lanes_are(x + c, [&](auto i) { return a[i] + c; }));
    CHECK(lanes_are(x - c, [&](auto i) { return a[i] - c; }));
    CHECK(lanes_are(x * c, [&](auto i) { return a[i] * c; }));
    CHECK(lanes_are(x / c, [&](auto i) { return a[i] / c; }));
    CHECK(lanes_are(c + x, [&](auto i) { return c + a[i]; }));
    CHECK(lanes_are(c - x, [&](auto i) { return c - a[i]; }));
    CHECK(lanes_are(c * x, [&](auto i) { return c * a[i]; }));
    CHECK(lanes_are(c / x, [&](auto i) { return c / a[i]; }));
    CHECK(lanes_are(-x, [&](auto i) { return -a[i]; }));
    CHECK(lanes_are(sqrt(x), [&](auto i) { return std::sqrt(a[i]); }));
    CHECK(lanes_are(plain(x), [&](auto i) { return a[i]; }));
    CHECK(lanes_are(Pack(c), [&](auto) { return c; }));
    CHECK(lanes_are(Pack(), [&](auto) { return 0.0; }));
    Pack z = x;
    CHECK(lanes_are(z += y, [&](auto i) { return a[i] + b[i]; }));
    CHECK(lanes_are(z = x, [&](auto i) { return a[i]; }));
    CHECK(lanes_are(z -= y, [&](auto i) { return a[i] - b[i]; }));
    z = x;
    CHECK(lanes_are(z *= y, [&](auto i) { return a[i] * b[i]; }));
    z = x;
    CHECK(lanes_are(z /= y, [&](auto i) { return a[i] / b[i]; }));
    z = x;
    CHECK(lanes_are(z += c, [&](auto i) { return a[i] + c; }));
    z = x;
    CHECK(lanes_are(z -= c, [&](auto i) { return a[i] - c; }));
    z = x;
    CHECK(lanes_are(z *= c, [&](auto i) { return a[i] * c; }));
    z = x;
    CHECK(lanes_are(z /= c, [&](auto i) { return a[i] / c; }));

    const auto less = (x < y).truth(), more = (x > y).truth(), at_most = (x <= y).truth(), at_least = (x >= y).truth(),
               finite = is_finite(x).truth();
    for (std::size_t i = 0; i < width; ++i) {
      CHECK(less[i] == (a[i] < b[i]));
      CHECK(more[i] == (a[i] > b[i]));
      CHECK(at_most[i] == (a[i] <= b[i]));
      CHECK(at_least[i] == (a[i] >= b[i]));
      CHECK(finite[i] == std::isfinite(a[i]));
      CHECK(lane(x < y, static_cast<int>(i)) == (a[i] < b[i]));
      CHECK(same_bits(lane(x, static_cast<int>(i)), a[i]));
    }
    CHECK(lanes_are(select(x < y, x, y), [&](auto i) { return a[i] < b[i] ? a[i] : b[i]; }));
    CHECK(lanes_are(smaller(x, y), [&](auto i) { return smaller(a[i], b[i]); }));
    CHECK(lanes_are(larger(x, y), [&](auto i) { return larger(a[i], b[i]); }));
    CHECK(lanes_are(magnitude(x), [&](auto i) { return magnitude(a[i]); }));
  }
}

TEST_CASE_TEMPLATE("all masks of a pack", T, Lanes<2>, Lanes<4>, Lanes<8>, Lanes<16>) {
  constexpr std::size_t lanes = sizeof(T) / sizeof(double);
  constexpr int masks = lanes < 8 ? 1 << lanes : 256;
  const auto pack_of = [](int bits) {
    std::array<double, lanes> x;
    for (std::size_t i = 0; i < lanes; ++i) x[i] = (bits >> (i % 8) & 1) != 0 ? 1.0 : -1.0;
    return T::load(x);
  };
  const T zero;
  for (int a = 0; a < masks; ++a) {
    const auto m = pack_of(a) > zero;
    CHECK(any(m) == (a != 0));
    CHECK(all(m) == (a == masks - 1));
    const auto truth = m.truth(), opposite = negate(m).truth();
    for (std::size_t i = 0; i < lanes; ++i) {
      CHECK(truth[i] == ((a >> (i % 8) & 1) != 0));
      CHECK(opposite[i] == !truth[i]);
    }
    for (int b = 0; b < masks; b += lanes < 8 ? 1 : 37) {
      const auto n = pack_of(b) > zero;
      CHECK(both(m, n).truth() == (pack_of(a & b) > zero).truth());
      CHECK(either(m, n).truth() == (pack_of(a | b) > zero).truth());
    }
  }
  CHECK_FALSE(any(typename T::Mask{}));
}

TEST_CASE("columns in and out, one lane") {
  std::vector<double> column(24);
  for (std::size_t i = 0; i < column.size(); ++i) column[i] = static_cast<double>(i);
  const Pack x = Pack::load(std::span(column).subspan(9).first<width>());  // need not be aligned
  for (int i = 0; i < lanes_width; ++i) CHECK(lane(x, i) == 9.0 + i);
  x.store(std::span(column).subspan(1).first<width>());
  CHECK(column[0] == 0.0);
  CHECK(column[1] == 9.0);
  CHECK(column[8] == 16.0);
  CHECK(column[9] == 9.0);
  CHECK_THROWS_AS(lane(x, 8), std::out_of_range);
  CHECK_THROWS_AS(lane(x, -1), std::out_of_range);
  CHECK_THROWS_AS(lane(x < x, 8), std::out_of_range);
  CHECK_THROWS_AS(lane(per_lane<Pack>(Flags{1}), 8), std::out_of_range);
  // On the heap and in arrays, where the machine's vectors must lie on whole
  // multiples of their size.
  const auto packs = std::make_unique<std::array<Pack, 3>>();
  (*packs)[1] = x;
  std::vector<Dual<1, Pack>> duals(5, Dual<1, Pack>(x));
  CHECK(lane((*packs)[1] + duals[4].value, 7) == 32.0);
}

TEST_CASE("outcomes and flags are kept one a lane") {
  auto outcome = per_lane<Pack>(Outcome::not_converged);
  auto flags = per_lane<Pack>(Flags{4});
  const Pack x = Pack::load(Numbers{0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0});
  assign_where(outcome, x < Pack(2.5), Outcome::converged);
  raise_where(flags, x >= Pack(6.0), Flags{1});
  const auto others = [&] {
    auto f = per_lane<Pack>(Flags{0});
    f[3] = 8;
    f[5] = 16;
    return f;
  }();
  raise_where(flags, x <= Pack(3.0), others);
  Pack y = x;
  assign_where(y, x > Pack(4.5), Pack(-1.0));
  Length<Pack> q = x * metre;
  assign_where(q, x > Pack(4.5), Length<Pack>(unset));
  for (int i = 0; i < lanes_width; ++i) {
    CHECK(lane(outcome, i) == (i < 3 ? Outcome::converged : Outcome::not_converged));
    CHECK(lane(flags, i) == (i == 3 ? 12U : i >= 6 ? 5U : 4U));
    CHECK(lane(y, i) == (i > 4 ? -1.0 : i));
    CHECK(is_set(lane(q, i)) == (i <= 4));
  }
}

TEST_CASE("quantities over lanes") {
  const Length<Pack> a = Pack::load(Numbers{1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0}) * metre;
  const Length<Pack> b = widen<Pack>(4.0 * metre);
  const auto metres = [](const Length<Pack>& q, int i) { return in(lane(q, i), metre); };
  for (int i = 0; i < lanes_width; ++i) {
    const double x = 1.0 + i;
    CHECK(metres(2.0 * a, i) == 2.0 * x);
    CHECK(metres(a * 2.0, i) == 2.0 * x);
    CHECK(metres(a / 2.0, i) == x / 2.0);
    CHECK(metres(-a, i) == -x);
    CHECK(metres(a + b, i) == x + 4.0);
    CHECK(metres(a - b, i) == x - 4.0);
    CHECK(metres(Pack(2.0) * a, i) == 2.0 * x);
    CHECK(lane(in(a, centimetre), i) == x / 0.01);
    CHECK(in(lane(Area<Pack>(a * b), i), square_metre) == 4.0 * x);
    CHECK(lane(Pack(a / b), i) == x / 4.0);
    CHECK(in(lane(Moment<Pack>(a * (5.0 * newton)), i), newton_metre) == 5.0 * x);
    CHECK(metres(sqrt(a * a), i) == x);
    CHECK(metres(select(a < b, a, b), i) == std::min(x, 4.0));
    CHECK(metres(larger(a, b), i) == std::max(x, 4.0));
    CHECK(metres(magnitude(a - b), i) == std::abs(x - 4.0));
    CHECK(lane(a >= b, i) == (x >= 4.0));
  }
  CHECK(any(a > b));
  CHECK_FALSE(all(a > b));
  CHECK(all(is_finite(a)));
  CHECK_FALSE(any(is_finite(Length<Pack>(unset))));
  CHECK_FALSE(is_set(Length<Pack>(unset)));
}

TEST_CASE("slip in lanes") {
  lanes_equal_scalar<ScrewAdvance>("slip", []<class T>(const ScrewAdvance<T>& screw) {
    const Speed<T> v_t = theoretical_speed<T>(
        {.engine_speed = screw.engine_speed, .reduction_ratio = screw.reduction_ratio, .pitch = screw.pitch});
    // Differences from one.
    return std::array{plainly(v_t), Term<T>{apparent_slip<T>(screw), T(1.0)},
                      Term<T>{real_slip<T>(screw, T(0.03)), T(1.0)}};
  });
}

TEST_CASE("friction lines in lanes") {
  lanes_equal_scalar<Flow>("friction", []<class T>(const Flow<T>& flow) {
    using std::exp;
    const T re = exp(T(flow.log10_reynolds_number * std::numbers::ln10));
    return std::array{plainly(friction_coefficient(FrictionLine::ittc_1957, re)),
                      plainly(friction_coefficient(FrictionLine::schoenherr, re)),
                      plainly(friction_coefficient(FrictionLine::schoenherr_textbook, re))};
  });
}

TEST_CASE("sea water in lanes") {
  lanes_equal_scalar<Brine>("sea water", []<class T>(const Brine<T>& brine) {
    return std::array{plainly(sea_water_density(brine.temperature, brine.salinity)),
                      plainly(sea_water_density_eos80(brine.temperature, brine.salinity))};
  });
}

TEST_CASE("volume Froude number in lanes") {
  lanes_equal_scalar<SpeedAndVolume>("volume Froude number", []<class T>(const SpeedAndVolume<T>& x) {
    return std::array{plainly(volume_froude_number(x.speed, x.volume))};
  });
}

TEST_CASE("fuel economy in lanes") {
  lanes_equal_scalar<SpeedAndFlow>("fuel economy", []<class T>(const SpeedAndFlow<T>& x) {
    return std::array{plainly(distance_per_volume(x.speed, x.flow)), plainly(volume_per_distance(x.speed, x.flow)),
                      plainly(endurance(x.fuel, x.flow))};
  });
}

TEST_CASE("wetted lengths in lanes") {
  lanes_equal_scalar<WettedGeometry>("wetted lengths", []<class T>(const WettedGeometry<T>& geometry) {
    const WettedLengths<T> lengths = wetted_lengths(geometry);
    // The chine is a difference: keel length plus chine length is twice the
    // mean.
    return std::array{plainly(lengths.keel), Term<T>{lengths.chine.value(), lengths.keel.value()},
                      plainly(lengths.draft)};
  });
}

TEST_CASE("planing lift in lanes") {
  lanes_equal_scalar<PlaningAttitude>("planing lift", []<class T>(const PlaningAttitude<T>& attitude) {
    return std::array{plainly(flat_lift_coefficient(attitude)), plainly(dynamic_lift_coefficient(attitude)),
                      plainly(centre_of_pressure_ratio<T>({.mean_wetted_ratio = attitude.mean_wetted_ratio,
                                                           .beam_froude_number = attitude.beam_froude_number}))};
  });
  lanes_equal_scalar<LiftAndDeadrise>("deadrise lift", []<class T>(const LiftAndDeadrise<T>& x) {
    using std::exp;
    const T lift = exp(T(x.log10_lift * std::numbers::ln10));
    return std::array{Term<T>{deadrise_lift_coefficient(lift, x.deadrise), lift},
                      plainly(flat_lift_from_deadrise_lift(lift, x.deadrise))};
  });
}

TEST_CASE(
    "cruising range in lanes: some have fuel to burn, some have not, in "
    "one pack") {
  int found = 0, none = 0, mixed = 0;
  lanes_equal_scalar<RangeNumbers>("range", [&]<class T>(const RangeNumbers<T>& x) {
    std::array<Term<T>, 8> terms;
    std::size_t n = 0;
    for (const Reserve<T>& reserve : {reserve_of_capacity(x.held_back), reserve_volume<T>(x.capacity * x.held_back),
                                      reserve_thirds<T>(), reserve_per_leg(x.held_back)}) {
      const RangeResult<T> range = cruising_range(range_input(x, reserve));
      // What is burnt may be the small rest of the usable fuel, which is what
      // rounding errors are relative to.
      const T lost = x.capacity * x.usable / range.fuel_to_burn;
      terms[n++] = {range.distance.value(), range.distance.value() * lost};
      terms[n++] = {range.endurance.value(), range.endurance.value() * lost};
      if constexpr (std::same_as<T, Pack>) {
        int good = 0;
        for (int i = 0; i < lanes_width; ++i) {
          const bool is_found = lane(range.outcome, i) == RangeOutcome::found;
          CHECK(is_found == is_set(lane(range.distance, i)));
          CHECK(is_found == is_set(lane(range.held_back, i)));
          good += is_found ? 1 : 0;
        }
        found += good;
        none += lanes_width - good;
        mixed += good != 0 && good != lanes_width ? 1 : 0;
      }
    }
    return terms;
  });
  CHECK(found > 100);
  CHECK(none > 100);
  CHECK(mixed > 100);
}

TEST_CASE(
    "water outside a published range is flagged in its lane only, and a "
    "lane of an aggregate is that of a number") {
  const Numbers celsius_each{15.0, -1.5, 30.0, 0.005, -0.001, 0.02, 40.0, -2.0};
  const auto temperature = celsius(Pack::load(celsius_each));
  const Water<Pack> water = sea_water(temperature, absolute_salinity(Pack(35.0)));
  for (int i = 0; i < lanes_width; ++i) {
    CAPTURE(i);
    const Water<> expected = sea_water(celsius(celsius_each[static_cast<std::size_t>(i)]), absolute_salinity(35.0));
    const Water<> one = lane(water, i);
    CHECK(one.flags == expected.flags);
    CHECK(one.method == expected.method);
    CHECK(explain(one) == explain(expected));
    CHECK(in(one.density / expected.density * metre, metre) == doctest::Approx(1.0).epsilon(promised));
    CHECK(std::abs(one.kinematic_viscosity / expected.kinematic_viscosity - 1.0) <= promised);
    CHECK(std::abs(one.vapour_pressure / expected.vapour_pressure - 1.0) <= promised);
  }
  CHECK(lane(water, 1).flags != lane(water, 0).flags);
  CHECK_THROWS_AS(lane(water, 8), std::out_of_range);
}

// A planing hull, loading and speed; the weight so far aft or forward now and
// then that there is no equilibrium.
template <class T = double>
struct Craft {
  Length<T> beam = unset;
  Angle<T> deadrise = unset, shaft_angle = unset;
  T length = unset, lcg = unset, vcg = unset,
    shaft_below_cg = unset;  // in beams
  T beam_froude_number = unset, load_coefficient = unset;
  static constexpr auto fields() {
    return FieldTable{field("beam", &Craft::beam, shown(metre, "m"), between(1.0, 6.0)),
                      field("deadrise", &Craft::deadrise, shown(degree, "deg"), between(0.0, 30.0)),
                      field("shaft angle", &Craft::shaft_angle, shown(degree, "deg"), between(0.0, 15.0)),
                      field("length", &Craft::length, plain_ratio, between(2.8, 5.0)),
                      field("LCG", &Craft::lcg, plain_ratio, between(0.3, 2.5)),
                      field("VCG", &Craft::vcg, plain_ratio, between(0.1, 0.6)),
                      field("shaft below CG", &Craft::shaft_below_cg, plain_ratio, between(-0.1, 0.4)),
                      field("C_v", &Craft::beam_froude_number, plain_ratio, between(0.8, 9.0)),
                      field("C_Lb", &Craft::load_coefficient, plain_ratio, between(0.03, 0.4))};
  }
};
template <class T>
PlaningInput<T> planing_input(const Craft<T>& c) {
  const Water<T> water{.density = widen<T>(1025.0 * kilogram_per_cubic_metre),
                       .kinematic_viscosity = widen<T>(1.19e-6 * square_metre_per_second)};
  const Speed<T> speed = sqrt(widen<T>(standard_gravity) * c.beam) * c.beam_froude_number;
  const Mass<T> mass =
      water.density * speed * speed * c.beam * c.beam * T(0.5 * c.load_coefficient) / widen<T>(standard_gravity);
  return {.hull = {.chine_beam = c.beam, .deadrise = c.deadrise, .projected_chine_length = c.beam * c.length},
          .loading = {.mass = smaller(mass, Mass<T>(widen<T>(999.0 * tonne))),
                      .lcg = c.beam * c.lcg,
                      .vcg = c.beam * c.vcg},
          .water = water,
          .thrust_line = thrust_below_cg<T>(c.shaft_angle, c.beam * c.shaft_below_cg),
          .speed = speed};
}

TEST_CASE("planing equilibrium in lanes: found and not found in one pack") {
  int found = 0, none = 0, mixed = 0;
  const auto compare = [&](const std::string& name, const auto& balance) {
    Random random(5);
    double worst = 0.0;
    for (int pack = 0; pack < packs_each / 25; ++pack) {
      std::array<Craft<>, width> craft;
      for (auto& each : craft) each = random_test::drawn<Craft<>>(random);
      const RunningState<Pack> states = balance(planing_input(gathered(craft)));
      std::array<Craft<>, width> copies;
      copies.fill(craft[0]);
      const RunningState<Pack> of_copies = balance(planing_input(gathered(copies)));
      int good = 0;
      for (int i = 0; i < lanes_width; ++i) {
        const RunningState<> expected = balance(planing_input(craft[static_cast<std::size_t>(i)]));
        CAPTURE(name);
        CAPTURE(pack);
        CAPTURE(i);
        CHECK(lane(states.outcome, i) == expected.outcome);
        CHECK(lane(states.flags, i) == expected.flags);
        good += expected.outcome == Outcome::converged ? 1 : 0;
        const auto all_numbers = [](const auto& s) {
          return std::array{s.beam_froude_number,
                            s.volume_froude_number,
                            s.lift_coefficient,
                            s.flat_lift_coefficient,
                            s.mean_wetted_ratio,
                            s.reynolds_number,
                            s.friction_coefficient,
                            s.trim.value(),
                            s.keel_wetted_length.value(),
                            s.draft.value(),
                            s.centre_of_pressure.value(),
                            s.bottom_velocity.value(),
                            s.load.value(),
                            s.normal_force.value(),
                            s.thrust.value(),
                            s.pressure_drag.value(),
                            s.friction_force.value(),
                            s.bare_drag.value(),
                            s.total_drag.value(),
                            s.effective_power.value(),
                            s.bare_effective_power.value()};
        };
        const auto in_lanes = all_numbers(states), alone = all_numbers(of_copies);
        const auto in_scalar = all_numbers(expected);
        for (std::size_t n = 0; n < in_scalar.size(); ++n) {
          const double x = lane(in_lanes[n], i), y = in_scalar[n];
          CHECK(std::isnan(x) == std::isnan(y));
          // To the bit: a lane that is done stays as it is while a search goes
          // on in its neighbours.
          if (i == 0) CHECK(same_bits(lane(alone[n], lanes_width - 1), x));
          if (std::isnan(y)) continue;
          worst = std::max(worst, std::abs(x / y - 1.0));
        }
      }
      found += good;
      none += lanes_width - good;
      mixed += good != 0 && good != lanes_width ? 1 : 0;
    }
    CAPTURE(name);
    CHECK(worst <= promised);
  };
  compare("closed", []<class T>(const PlaningInput<T>& in) { return planing_equilibrium<T>(in); });
  compare("general", []<class T>(const PlaningInput<T>& in) { return planing_equilibrium_paper_general<T>(in); });
  compare("short", []<class T>(const PlaningInput<T>& in) { return planing_equilibrium_paper_short<T>(in); });
  CHECK(found > none);
  CHECK(none > 10);
  CHECK(mixed > 10);
}

TEST_CASE("roll_up in lanes is roll_up lane by lane, unknown places and masses of nothing too") {
  Random random(11);
  int unknown = 0, known = 0;
  for (int pack = 0; pack < 500; ++pack) {
    const auto count = static_cast<std::size_t>(random.whole(1, 7));
    std::array<std::vector<WeightItem<>>, width> items;
    for (auto& of_lane : items) {
      of_lane.resize(count);
      for (WeightItem<>& item : of_lane) {
        random_test::draw(random, item, 0.05);
        if (random.chance(0.2)) item.mass = 0.0 * kilogram;
      }
      of_lane[0].mass = random.from_to(1.0, 1e5) * kilogram;                            // there must be some
      for (std::size_t k = 1; k < count; ++k) of_lane[k].mass = 0.1 * of_lane[k].mass;  // and together not too much
    }
    std::vector<WeightItem<Pack>> in_lanes(count);
    for (std::size_t k = 0; k < count; ++k) {
      std::array<WeightItem<>, width> item;
      for (std::size_t i = 0; i < width; ++i) item[i] = items[i][k];
      in_lanes[k] = gathered(item);
    }
    const Loading<Pack> all = roll_up<Pack>(in_lanes);
    for (std::size_t i = 0; i < width; ++i) {
      CAPTURE(pack);
      CAPTURE(i);
      const Loading<> one = lane(all, static_cast<int>(i)), expected = roll_up<double>(items[i]);
      CHECK(same_bits(one.mass.value(), expected.mass.value()));  // additions only
      const auto centre = [&](const Length<>& x, const Length<>& y, auto place) {
        CHECK(is_set(x) == is_set(y));
        ++(is_set(y) ? known : unknown);
        if (!is_set(y)) return;
        double sum = 0.0;
        for (const WeightItem<>& item : items[i])
          if (item.mass.value() > 0.0) sum += item.mass.value() * std::abs((item.*place).value());
        // A product fused with its sum saves a rounding, 1.1e-16 of the sum of the sizes an item.
        const double tolerance = 1.2e-16 * static_cast<double>(2 * count + 1) * sum / expected.mass.value();
        CHECK(std::abs(x.value() - y.value()) <= tolerance);
#if !defined(__FMA__) && !defined(__ARM_FEATURE_FMA)
        CHECK(same_bits(x.value(), y.value()));
#endif
      };
      centre(one.lcg, expected.lcg, &WeightItem<>::x);
      centre(one.tcg, expected.tcg, &WeightItem<>::y);
      centre(one.vcg, expected.vcg, &WeightItem<>::z);
    }
  }
  CHECK(known > 5000);
  CHECK(unknown > 500);

  // One lane without a mass refuses the pack.
  std::vector<WeightItem<Pack>> bare(1);
  bare[0].mass = Mass<Pack>(Pack::load(Numbers{1.0, 2.0, 3.0, 0.0, 5.0, 6.0, 7.0, 8.0}) * kilogram);
  CHECK_THROWS_WITH_AS(roll_up<Pack>(bare), doctest::Contains("roll_up: displacement is "), BadInput);
}

// The inside of the formulas, where a guess of a search may be anything: bad
// lanes beside good ones.
TEST_CASE("a lane that fails leaves its neighbours as they are, to the bit") {
  const Numbers good{0.02, 0.05, 0.08, 0.1, 0.15, 0.2, 0.3, 0.5};
  const Numbers bad{not_a_number, infinite, -infinite, -0.1, 0.0, 5e-324, 1e308, -1e308};
  const auto formulas = [](const Numbers& numbers_each) {
    const Pack x = Pack::load(numbers_each);
    const WettedLengths<Pack> lengths = planing_detail::wetted_lengths<Pack>({x * metre, x, tan(x), sin(x), cos(x)});
    const BracketedRoot<Pack> root =
        bracketed_root([&](const Pack& y) { return exp(y) - 1.0 - x; }, Pack(0.0), Pack(2.0));
    // Lanes without a change of sign go on until the others are done, or never
    // begin.
    const Pack ended = select(root.converged, root.x, Pack(-1.0));
    return std::array{
        numbers(planing_detail::flat_lift<Pack>({.trim = x * radian, .mean_wetted_ratio = x, .beam_froude_number = x})),
        numbers(planing_detail::flat_lift_from_deadrise_lift<Pack>(x, 18.0 * widen<Pack>(degree))),
        numbers(friction_detail::on_line(FrictionLine::schoenherr, Pack(1e7 * x))),
        numbers(lengths.keel.value()),
        numbers(lengths.draft.value()),
        numbers(ended)};
  };
  for (int mask = 1; mask < 256; mask = mask * 2 + mask % 3) {
    const Numbers mixed = each_lane([&](std::size_t i) { return (mask >> i & 1) != 0 ? bad[i] : good[i]; });
    const auto expected = formulas(good), found = formulas(mixed);
    for (std::size_t f = 0; f < found.size(); ++f)
      for (std::size_t i = 0; i < width; ++i) {
        CAPTURE(f);
        CAPTURE(mixed[i]);
        if ((mask >> i & 1) == 0) CHECK(same_bits(found[f][i], expected[f][i]));
      }
  }
}

TEST_CASE("Dual over lanes: every lane has the derivatives of its own") {
  const Numbers speeds{10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0};
  using T = Dual<2, Pack>;
  const auto formula = []<class S>(const S& v, const S& lambda) {
    using std::atan, std::exp, std::log, std::log10, std::pow, std::sin, std::sqrt, std::tan, std::tanh;
    return S(pow(v, 1.1) * sqrt(lambda) / tanh(S(lambda / v)) + log10(v) * atan(lambda) - exp(S(-lambda)) * sin(v) +
             log(S(v * lambda)) * tan(S(lambda / v)));
  };
  const T in_lanes = formula(T::input(Pack::load(speeds), 0), T::input(Pack(2.3), 1));
  for (int i = 0; i < lanes_width; ++i) {
    const auto in_scalar = formula(Dual<2>::input(speeds[static_cast<std::size_t>(i)], 0), Dual<2>::input(2.3, 1));
    // Every term is of the size of the result or smaller: a few kernels at 4
    // ulp each or less.
    CHECK(std::abs(lane(in_lanes.value, i) - in_scalar.value) <= 1e-14 * std::abs(in_scalar.value));
    for (std::size_t d = 0; d < 2; ++d)
      CHECK(std::abs(lane(in_lanes.derivative[d], i) - in_scalar.derivative[d]) <=
            1e-13 * std::abs(in_scalar.derivative[d]));
  }
}

TEST_CASE("sine and cosine of a small angle at once are those of sin and cos, to the bit") {
  for (double x = -0.78; x < 0.785; x += 1.7e-4) {
    const Pack angle = Pack::load(each_lane([&](std::size_t i) { return x + 1e-5 * static_cast<double>(i); }));
    const SinCos<Pack> both_at_once = sin_cos(angle);
    const Numbers s = numbers(both_at_once.sin), c = numbers(both_at_once.cos);
    const Numbers s_alone = numbers(sin(angle)), c_alone = numbers(cos(angle));
    for (std::size_t i = 0; i < width; ++i) {
      CHECK(same_bits(s[i], s_alone[i]));
      CHECK(same_bits(c[i], c_alone[i]));
    }
  }
}

// A function that returns a plain number has nowhere to keep an outcome of one lane: the whole pack is refused.
TEST_CASE("a door refuses a pack with one lane that is out of range or unset") {
  const Numbers good{10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0};
  const auto economy = [](const Numbers& knots) {
    return distance_per_volume(Speed<Pack>(Pack::load(knots) * knot), 40.0 * widen<Pack>(litre_per_hour));
  };
  CHECK(in(lane(economy(good), 7), nautical_mile_per_litre) == doctest::Approx(45.0 / 40.0).epsilon(1e-15));
  for (std::size_t i = 0; i < width; ++i)
    for (const double wrong : {-1.0, 151.0, infinite, -infinite, not_a_number}) {
      Numbers knots = good;
      knots[i] = wrong;
      CHECK_THROWS_WITH_AS(economy(knots), doctest::Contains("distance_per_volume: speed is"), BadInput);
    }
}
