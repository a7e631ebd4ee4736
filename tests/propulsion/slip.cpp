// Slip. The worked examples E1 to E7 come from marine engineers' study notes and licence questions that carry neither
// author nor title: arithmetic checks, evidence "practice, no source". What the notes print is compared to its digits;
// where they round on the way or err, the value computed with independent code is compared and the print is explained.
#include "hardchine/propulsion/slip.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "archetype.hpp"
#include "bad_fields.hpp"
#include "hardchine/scalar/dual.hpp"
#include "hardchine/scalar/root.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

constexpr Length<> mile_6080 = 6080.0 * foot;
constexpr Length<> mile_6060 = 6060.0 * foot;

}  // namespace

TEST_CASE("inch-rpm identities of the trade") {
  // P[in] N/r_g over 1056 is mph: 63360 in a mile / 60 min, exact. Knots: 1852/(0.0254 x 60); km/h: 1000/(0.0254 x 60).
  const double pitch = 19.0, engine = 5800.0, ratio = 1.75;
  const Speed<> v_t =
      theoretical_speed({.engine_speed = engine * rpm, .reduction_ratio = ratio, .pitch = pitch * inch});
  const double product = pitch * engine / ratio;
  CHECK(product / in(v_t, mph) == rounding(1056.0));
  CHECK(product / in(v_t, knot) == printed(1215.2230971, 7));
  CHECK(product / in(v_t, kilometre_per_hour) == printed(656.1679790, 7));
  // The rounded 1215 makes the speed 0.018 % high, the 6080 ft mile 0.064 % low (three decimals stated).
  CHECK((product / 1215.0 / in(v_t, knot) - 1.0) / percent == printed(0.018, 3));
  CHECK((product / 1216.0 / in(v_t, knot) - 1.0) / percent == printed(-0.064, 3));
}

TEST_CASE("E1: apparent and real slip (practice, no source)") {
  const ScrewAdvance<> e1{
      .engine_speed = 105.0 * rpm, .reduction_ratio = 1.0, .pitch = 5.0 * metre, .speed = 14.0 * knot};
  CHECK(apparent_slip(e1) / percent == printed(17.7, 1));
  CHECK(apparent_slip(e1) / percent == printed(17.6889, 4));
  CHECK(real_slip(e1, 0.35) / percent == printed(46.4978, 4));
  // The note prints 46.47, a slip of its arithmetic: not what its own inputs give.
  CHECK_FALSE(real_slip(e1, 0.35) / percent == printed(46.47, 2));
  CHECK(real_slip(e1, 0.35) / percent == absolute(46.47, 0.03));
}

TEST_CASE("E2: from real slip to boat speed (practice, no source)") {
  const Length<> pitch = 0.8 * 5.5 * metre;
  const double wake = 0.32;
  // Real slip is the same formula on the speed of advance.
  const Speed<> v_a = speed_from_slip(
      {.engine_speed = 120.0 * rpm, .reduction_ratio = 1.0, .pitch = pitch, .apparent_slip = 35.0 * percent});
  CHECK(in(v_a, metre_per_second) == printed(5.72, 2));
  const Speed<> v = v_a / (1.0 - wake);
  CHECK(in(v, metre_per_second) == printed(8.41, 2));
  CHECK(in(v, metre_per_second) == printed(8.411765, 6));
  const ScrewAdvance<> e2{.engine_speed = 120.0 * rpm, .reduction_ratio = 1.0, .pitch = pitch, .speed = v};
  CHECK(apparent_slip(e2) / percent == printed(4.4118, 4));
  CHECK(real_slip(e2, wake) / percent == rounding(35.0));
  // The note prints 4.43 because it rounds the speed to 8.41 m/s first.
  CHECK(apparent_slip(
            {.engine_speed = 120.0 * rpm, .reduction_ratio = 1.0, .pitch = pitch, .speed = 8.41 * metre_per_second}) /
            percent ==
        printed(4.43, 2));
}

TEST_CASE("E3: a negative apparent slip from the wake (practice, no source)") {
  const ScrewSpeed<> screw{.engine_speed = 110.0 * rpm, .reduction_ratio = 1.0, .pitch = 4.8 * metre};
  CHECK(in(theoretical_speed(screw), knot) == printed(17.11, 2));
  CHECK(in(theoretical_speed(screw), knot) == printed(17.105832, 6));
  const auto advance = [&](double v) {
    return ScrewAdvance<>{.engine_speed = screw.engine_speed,
                          .reduction_ratio = screw.reduction_ratio,
                          .pitch = screw.pitch,
                          .speed = v * knot};
  };
  // The question: s_R = -1.5 s_A with w 0.25; solved by a root of the two functions, not by the closed form.
  const auto v = bracketed_root([&](double x) { return real_slip(advance(x), 0.25) + 1.5 * apparent_slip(advance(x)); },
                                1.0, 40.0);
  REQUIRE(v.converged);
  CHECK(v.x == printed(19.01, 2));
  CHECK(v.x == printed(19.006479, 6));
  CHECK(apparent_slip(advance(v.x)) / percent == printed(-11.1, 1));
  CHECK(apparent_slip(advance(v.x)) == absolute(-1.0 / 9.0, 1e-14));  // closed form; rounding of 1 - V/V_t
  // The note prints 16.65, 1.5 times its rounded 11.1; the inputs give 1/6.
  CHECK(real_slip(advance(v.x), 0.25) / percent == printed(16.6667, 4));
}

TEST_CASE("E4, E5, E7: distance by propeller against distance run (practice, no source)") {
  const ScrewSpeed<> e4{.engine_speed = 87.0 * rpm, .reduction_ratio = 1.0, .pitch = 3.8 * metre};
  const Length<> by_propeller = theoretical_speed(e4) * (24.0 * hour);
  CHECK(in(by_propeller, nautical_mile) == printed(257.054, 3));
  CHECK(in(by_propeller, nautical_mile) == printed(257.053996, 6));
  const double s4 =
      apparent_slip({.engine_speed = e4.engine_speed, .reduction_ratio = 1.0, .pitch = e4.pitch, .speed = 10.0 * knot});
  CHECK(s4 / percent == printed(6.6, 1));
  CHECK(s4 / percent == printed(6.63440, 5));

  const ScrewSpeed<> e5{.engine_speed = 3333.0 * rpm, .reduction_ratio = 1.0, .pitch = 16.0 * inch};
  // 16 x 3333/1056 is 50.5 exactly; the question prints 50.505 from a rounded product.
  CHECK(in(theoretical_speed(e5), mph) == rounding(50.5));
  CHECK_FALSE(in(theoretical_speed(e5), mph) == printed(50.505, 3));
  CHECK(
      apparent_slip({.engine_speed = e5.engine_speed, .reduction_ratio = 1.0, .pitch = e5.pitch, .speed = 40.0 * mph}) /
          percent ==
      printed(20.7921, 4));

  const ScrewSpeed<> e7{.engine_speed = 44.0 * rpm, .reduction_ratio = 1.0, .pitch = 19.0 * foot};
  CHECK(in(theoretical_speed(e7) * (24.0 * hour), nautical_mile) == printed(198.126583, 6));
  const auto e7_slip = [&](const Length<>& mile) {
    return apparent_slip({.engine_speed = e7.engine_speed,
                          .reduction_ratio = 1.0,
                          .pitch = e7.pitch,
                          .speed = 183.5 * mile / (24.0 * hour)}) /
           percent;
  };
  CHECK(e7_slip(nautical_mile) == printed(7.38244, 5));
  CHECK(e7_slip(mile_6080) == printed(7.32323, 5));
}

TEST_CASE("E6: the wrong mile (practice, no source)") {
  // 115200 revolutions, 20 ft pitch, 404.16 miles. The note prints -6.3029 % on a mile of 6060 ft, which is no mile;
  // the nautical mile of 1852 m gives -6.5852 %.
  const auto e6 = [](const Length<>& mile) {
    return apparent_slip({.engine_speed = 115200.0 / (24.0 * hour),
                          .reduction_ratio = 1.0,
                          .pitch = 20.0 * foot,
                          .speed = 404.16 * mile / (24.0 * hour)}) /
           percent;
  };
  CHECK(e6(nautical_mile) == printed(-6.5852, 4));
  CHECK(e6(mile_6080) == printed(-6.6533, 4));
  CHECK(e6(mile_6060) == printed(-6.3025, 4));
  CHECK(e6(mile_6060) == absolute(-6.3029, 0.0005));  // the print, with its own rounding on the way
}

TEST_CASE("planing examples, computed with independent code") {
  struct Row {
    double engine, ratio, pitch, speed;
    Speed<> unit;
    double theoretical;
    int decimals;
    double slip_percent;
  };
  const Row rows[] = {{5800.0, 1.75, 19.0, 56.5, mph, 59.632035, 6, 5.25227},
                      {3200.0, 1.5, 24.0, 37.0, knot, 42.132181, 6, 12.18114},
                      {4400.0, 0.83, 12.0, 55.0, mph, 60.240964, 6, 8.70000}};
  for (const Row& row : rows) {
    CAPTURE(row.engine);
    CHECK(in(theoretical_speed(
                 {.engine_speed = row.engine * rpm, .reduction_ratio = row.ratio, .pitch = row.pitch * inch}),
             row.unit) == printed(row.theoretical, row.decimals));
    CHECK(apparent_slip({.engine_speed = row.engine * rpm,
                         .reduction_ratio = row.ratio,
                         .pitch = row.pitch * inch,
                         .speed = row.speed * row.unit}) /
              percent ==
          printed(row.slip_percent, 5));
  }
  // Sensitivities of the first row in points of slip, to the three decimals stated: what a tachometer, a pitch gauge
  // and a log are worth.
  using D = Dual<3>;
  const D slip = apparent_slip<D>({.engine_speed = seed<3>(5800.0 * rpm, 0),
                                   .reduction_ratio = D(1.75),
                                   .pitch = seed<3>(19.0 * inch, 1),
                                   .speed = seed<3>(56.5 * mph, 2)});
  const auto points_for = [&](std::size_t i, const auto& step) { return slip.derivative[i] * step.value() / percent; };
  CHECK(points_for(0, 100.0 * rpm) == printed(1.634, 3));
  CHECK(points_for(1, 0.5 * inch) == printed(2.493, 3));
  CHECK(points_for(2, 1.0 * mph) == printed(-1.677, 3));
}

TEST_CASE("slip is never clamped, and a current shows as it must") {
  ScrewAdvance<> a{.engine_speed = 3000.0 * rpm, .reduction_ratio = 1.5, .pitch = 20.0 * inch, .speed = 0.0 * knot};
  CHECK(apparent_slip(a) == 1.0);  // moored
  a.speed = 66.0 * knot;
  CHECK(apparent_slip(a) == relative(1.0 - 66.0 * 1215.2230971 / 40000.0, 1e-9));  // the identity's ten digits
  CHECK(apparent_slip(a) < -1.0);
  // A current c along the course changes s_A by -c/V_t (definition).
  const double v_t =
      in(theoretical_speed({.engine_speed = a.engine_speed, .reduction_ratio = a.reduction_ratio, .pitch = a.pitch}),
         knot);
  a.speed = 25.0 * knot;
  ScrewAdvance<> with_current = a;
  with_current.speed = 26.5 * knot;
  CHECK(apparent_slip(with_current) - apparent_slip(a) == absolute(-1.5 / v_t, 1e-15));  // two roundings of 1 - x
  // Without wake the two slips are one.
  CHECK(real_slip(a, 0.0) == rounding(apparent_slip(a)));
}

TEST_CASE("inverses come back to where they started") {
  for (const double engine : {600.0, 3200.0, 9000.0})
    for (const double ratio : {0.83, 1.0, 2.5})
      for (const double pitch : {9.0, 24.0})
        for (const double speed : {2.0, 28.0, 70.0}) {
          CAPTURE(engine);
          CAPTURE(ratio);
          CAPTURE(pitch);
          CAPTURE(speed);
          const RotationRate<> n = engine * rpm;
          const Length<> p = pitch * inch;
          const Speed<> v = speed * knot;
          const double s = apparent_slip({.engine_speed = n, .reduction_ratio = ratio, .pitch = p, .speed = v});
          // Slip keeps V/V_t to an absolute rounding of the larger of 1 and s; about four operations follow.
          const double tolerance = 2e-15 * (1.0 + std::abs(s)) / (1.0 - s) + 1e-15;
          if (s < slip_ranges::any_slip.low * percent) continue;
          CHECK(in(speed_from_slip({.engine_speed = n, .reduction_ratio = ratio, .pitch = p, .apparent_slip = s}),
                   knot) == relative(speed, tolerance));
          CHECK(in(pitch_from_slip({.engine_speed = n, .reduction_ratio = ratio, .speed = v, .apparent_slip = s}),
                   inch) == relative(pitch, tolerance));
          CHECK(in(engine_speed_from_slip({.reduction_ratio = ratio, .pitch = p, .speed = v, .apparent_slip = s}),
                   rpm) == relative(engine, tolerance));
          CHECK(reduction_ratio_from_slip({.engine_speed = n, .pitch = p, .speed = v, .apparent_slip = s}) ==
                relative(ratio, tolerance));
        }
  // E4 backwards: which pitch slips 6.63440 % at 10 kn and 87 rpm? 3.8 m, to the six digits of the slip.
  CHECK(in(pitch_from_slip({.engine_speed = 87.0 * rpm,
                            .reduction_ratio = 1.0,
                            .speed = 10.0 * knot,
                            .apparent_slip = 6.63440 * percent}),
           metre) == relative(3.8, 6e-8));
}

TEST_CASE("every bad field is refused by name") {
  const ScrewSpeed<> screw{.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch};
  check_bad_fields(screw, [](const auto& s) { return theoretical_speed(s); });
  const ScrewAdvance<> advance{
      .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 37.0 * knot};
  check_bad_fields(advance, [](const auto& s) { return apparent_slip(s); });
  check_bad_fields(advance, [](const auto& s) { return real_slip(s, 0.05); });
  check_bad_fields(
      SpeedFromSlip<>{
          .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .apparent_slip = 0.12},
      [](const auto& s) { return speed_from_slip(s); });
  check_bad_fields(
      PitchFromSlip<>{
          .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .speed = 37.0 * knot, .apparent_slip = 0.12},
      [](const auto& s) { return pitch_from_slip(s); });
  check_bad_fields(
      EngineSpeedFromSlip<>{.reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 37.0 * knot, .apparent_slip = 0.12},
      [](const auto& s) { return engine_speed_from_slip(s); });
  check_bad_fields(
      ReductionRatioFromSlip<>{
          .engine_speed = 3200.0 * rpm, .pitch = 24.0 * inch, .speed = 37.0 * knot, .apparent_slip = 0.12},
      [](const auto& s) { return reduction_ratio_from_slip(s); });
  for (const double wake : {std::nan(""), -0.6, 0.95, std::numeric_limits<double>::infinity()})
    CHECK_THROWS_AS(real_slip(advance, wake), BadInput);
  CHECK_THROWS_WITH_AS(
      apparent_slip({.engine_speed = 0.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 37.0 * knot}),
      "apparent_slip: engine speed is 0 rpm; accepted: above 0 rpm to 20000 rpm", BadInput);
  CHECK_THROWS_WITH_AS(apparent_slip({.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .speed = 37.0 * knot}),
                       "apparent_slip: pitch is not set; accepted: 1 in to 500 in", BadInput);
}

TEST_CASE("derivatives on Dual against the closed form") {
  // s_A = 1 - V r/(P n): ds/dn = V r/(P n^2), ds/dr = -V/(P n), ds/dP = V r/(P^2 n), ds/dV = -r/(P n).
  const double n = 3200.0 / 60.0, r = 1.5, p = 24.0 * 0.0254, v = 37.0 * 1852.0 / 3600.0, w = 0.04;
  using D = Dual<4>;
  const ScrewAdvance<D> advance{.engine_speed = seed<4>(RotationRate<>::from_value(n), 0),
                                .reduction_ratio = D::input(r, 1),
                                .pitch = seed<4>(p * metre, 2),
                                .speed = seed<4>(v * metre_per_second, 3)};
  const D s = apparent_slip(advance);
  CHECK(s.value == absolute(1.0 - v * r / (p * n), 4e-16));  // two roundings of numbers below 1
  const double slopes[] = {v * r / (p * n * n), -v / (p * n), v * r / (p * p * n), -r / (p * n)};
  const D s_r = real_slip(advance, D(w));
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(s.derivative[i] == rounding(slopes[i]));
    CHECK(s_r.derivative[i] == rounding((1.0 - w) * slopes[i]));
  }
  // An inverse carries the inverse slope: dV/ds_A = -V_t.
  const D slip = D::input(0.12, 0);
  const auto back = speed_from_slip<D>({.engine_speed = widen<D>(3200.0 * rpm),
                                        .reduction_ratio = D(1.5),
                                        .pitch = widen<D>(24.0 * inch),
                                        .apparent_slip = slip});
  CHECK(derivative(back, 0).value() == rounding(-p * n / r));
}

TEST_CASE("every formula runs on the strict archetype") {
  using S = Strict;
  const ScrewAdvance<> numbers{
      .engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 37.0 * knot};
  const ScrewAdvance<S> a = numbers;
  const S s = apparent_slip(a);
  CHECK(s.reveal() == apparent_slip(numbers));  // the same operations in the same order
  CHECK(real_slip(a, S(0.05)).reveal() == real_slip(numbers, 0.05));
  const ScrewSpeed<S> screw = ScrewSpeed<>{
      .engine_speed = numbers.engine_speed, .reduction_ratio = numbers.reduction_ratio, .pitch = numbers.pitch};
  CHECK(in(theoretical_speed(screw), knot).reveal() == printed(42.132181, 6));
  const auto near_start = [](const S& x, double expected) { CHECK(x.reveal() == rounding(expected)); };
  near_start(in(speed_from_slip<S>({.engine_speed = a.engine_speed,
                                    .reduction_ratio = a.reduction_ratio,
                                    .pitch = a.pitch,
                                    .apparent_slip = s}),
                knot),
             37.0);
  near_start(in(pitch_from_slip<S>({.engine_speed = a.engine_speed,
                                    .reduction_ratio = a.reduction_ratio,
                                    .speed = a.speed,
                                    .apparent_slip = s}),
                inch),
             24.0);
  near_start(in(engine_speed_from_slip<S>(
                    {.reduction_ratio = a.reduction_ratio, .pitch = a.pitch, .speed = a.speed, .apparent_slip = s}),
                rpm),
             3200.0);
  near_start(reduction_ratio_from_slip<S>(
                 {.engine_speed = a.engine_speed, .pitch = a.pitch, .speed = a.speed, .apparent_slip = s}),
             1.5);
}

TEST_CASE("slip names its source") { CHECK(cite(slip_method).find("(practice)") != std::string::npos); }
