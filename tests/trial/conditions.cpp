// What depth, wind and sea mean for the figures. Bands are common practice, no source; depths and drags were computed
// with independent code; the air drag formula is printed (molland_2011 eq 3.51).
#include "hardchine/trial/conditions.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

TEST_CASE("depth Froude number: critical speeds and depths") {
  // Critical speed over 6 m: 14.9107 kn, so a ten-thousandth of a knot moves F_nh across 1.
  CHECK(depth_froude_number(14.9106 * knot, 6.0 * metre) < 1.0);
  CHECK(depth_froude_number(14.9108 * knot, 6.0 * metre) > 1.0);
  struct Row {
    double knots, at_1, at_0_7, at_1_2;
  };
  for (const Row& row :
       {Row{20.0, 10.795, 22.03, 7.50}, Row{25.0, 16.867, 34.42, 11.71}, Row{30.0, 24.288, 49.57, 16.87}}) {
    CAPTURE(row.knots);
    // The depth for a number to its printed place: F_nh at half a place either side straddles it.
    const auto straddles = [&](double depth, double half_place, double number) {
      CHECK(depth_froude_number(row.knots * knot, (depth - half_place) * metre) > number);
      CHECK(depth_froude_number(row.knots * knot, (depth + half_place) * metre) < number);
    };
    straddles(row.at_1, 0.0005, 1.0);
    straddles(row.at_0_7, 0.005, 0.7);
    straddles(row.at_1_2, 0.005, 1.2);
  }
}

TEST_CASE("bands of the depth (common practice, no source)") {
  struct Row {
    double number;
    DepthStatement statement;
    Severity severity, over_depth;
  };
  using S = DepthStatement;
  const Row rows[] = {{0.59, S::deep, Severity::none, Severity::none},
                      {0.61, S::nearly_deep, Severity::note, Severity::none},
                      {0.69, S::nearly_deep, Severity::note, Severity::none},
                      {0.71, S::shallow, Severity::warning, Severity::note},
                      {0.89, S::shallow, Severity::warning, Severity::note},
                      {0.91, S::near_critical, Severity::severe, Severity::warning},
                      {1.19, S::near_critical, Severity::severe, Severity::warning},
                      {1.21, S::supercritical, Severity::note, Severity::none},
                      {2.50, S::supercritical, Severity::note, Severity::none}};
  const Length<> h = 10.0 * metre;
  for (const Row& row : rows) {
    CAPTURE(row.number);
    DepthInput<> input{.speed = row.number * sqrt(standard_gravity * h), .depth = h};
    const auto plain_case = depth_condition(input);
    CHECK(plain_case.depth_froude_number == rounding(row.number));
    CHECK(plain_case.statement == row.statement);
    CHECK(plain_case.severity == row.severity);
    // Planing over more than 0.8 L_WL: one step lower, the statement stays. Either alone is not enough.
    input.volume_froude_number = 2.6;
    CHECK(depth_condition(input).severity == row.severity);
    input.waterline_length = 12.4 * metre;  // 0.8 of it is 9.92 m
    CHECK(depth_condition(input).severity == row.over_depth);
    CHECK(depth_condition(input).statement == row.statement);
    input.waterline_length = 12.6 * metre;  // 10.08 m
    CHECK(depth_condition(input).severity == row.severity);
    input.waterline_length = 12.4 * metre;
    input.volume_froude_number = 2.4;
    CHECK(depth_condition(input).severity == row.severity);
    CHECK(words(row.statement) != "unknown statement");
  }
}

TEST_CASE("wind and sea (common practice, no source)") {
  CHECK(wind_condition(9.9 * knot).statement == WindStatement::light);
  CHECK(wind_condition(9.9 * knot).severity == Severity::none);
  CHECK(wind_condition(10.1 * knot).statement == WindStatement::pair_does_not_cancel);
  CHECK(wind_condition(10.1 * knot).severity == Severity::note);
  CHECK(sea_condition(0.29 * metre).statement == SeaStatement::smooth);
  CHECK(sea_condition(0.31 * metre).statement == SeaStatement::rough);
  CHECK(sea_condition(0.31 * metre).severity == Severity::note);
  CHECK(words(WindStatement::pair_does_not_cancel).find("do not cancel") != std::string_view::npos);
  CHECK(words(SeaStatement::rough).find("rough") != std::string_view::npos);
  CHECK(words(WindStatement::light) != words(WindStatement::pair_does_not_cancel));
  CHECK(cite(wind_condition(5.0 * knot)).find("(practice)") != std::string::npos);
  CHECK(cite(sea_condition(0.1 * metre)) == cite(conditions_method));
  CHECK(cite(depth_condition({.speed = 5.0 * knot, .depth = 30.0 * metre})) == cite(conditions_method));
  for (const auto severity : {Severity::none, Severity::note, Severity::warning, Severity::severe})
    CHECK(words(severity) != "unknown severity");
}

TEST_CASE("a pair does not cancel the wind: the worked case") {
  // 7.5 m2, C_D 0.7, 1.225 kg/m3, 30 kn, wind 10 kn along the track.
  const AirDragInput<> input{.speed = 30.0 * knot,
                             .head_wind = 10.0 * knot,
                             .added_drag = {.frontal_area = 7.5 * square_metre, .air_drag_coefficient = 0.7}};
  const auto drag = air_drag_of_pair(input);
  CHECK(in(drag.still, newton) == printed(765.923, 3));
  CHECK(in(drag.against, newton) == printed(1361.640, 3));
  CHECK(in(drag.with, newton) == printed(340.410, 3));
  CHECK(in(drag.excess, newton) == printed(85.1, 1));
  CHECK(drag.excess_ratio / percent == printed(11.1, 1));
  // Closed form for a wind slower than the boat: (w/V)^2.
  CHECK(drag.excess_ratio == relative(1.0 / 9.0, 1e-13));  // difference of drags nine times larger
  // A wind that outruns the boat pushes it: 0.5 rho C_D A (V - w)|V - w| below zero.
  auto gale = input;
  gale.speed = 8.0 * knot;
  gale.head_wind = 20.0 * knot;
  CHECK(in(air_drag_of_pair(gale).with, newton) == rounding(-in(drag.still, newton) * 0.16));  // (12/30)^2
  // No wind, no excess; no area, no ratio.
  auto calm = input;
  calm.head_wind = 0.0 * knot;
  CHECK(in(air_drag_of_pair(calm).excess, newton) == 0.0);
  auto bare = input;
  bare.added_drag = {};
  CHECK(in(air_drag_of_pair(bare).excess, newton) == 0.0);
  CHECK_FALSE(is_set(air_drag_of_pair(bare).excess_ratio));
}

TEST_CASE("bad conditions are refused by name") {
  const double infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {std::nan(""), infinite, -1.0, 1e5}) {
    CHECK_THROWS_AS(wind_condition(bad * knot), BadInput);
    CHECK_THROWS_AS(sea_condition(bad * metre), BadInput);
    CHECK_THROWS_AS(depth_condition({.speed = bad * knot, .depth = 10.0 * metre}), BadInput);
    CHECK_THROWS_AS(depth_condition({.speed = 20.0 * knot, .depth = bad * metre}), BadInput);
    CHECK_THROWS_AS(air_drag_of_pair({.speed = bad * knot, .head_wind = 10.0 * knot}), BadInput);
    CHECK_THROWS_AS(air_drag_of_pair({.speed = 20.0 * knot, .head_wind = bad * knot}), BadInput);
  }
  CHECK_THROWS_WITH_AS(depth_condition({.speed = 20.0 * knot, .depth = 0.0 * metre}),
                       "depth_condition: depth is 0 m; accepted: above 0 m to 12000 m", BadInput);
  CHECK_THROWS_AS(depth_condition({.speed = 20.0 * knot, .depth = 10.0 * metre, .waterline_length = -1.0 * metre}),
                  BadInput);
}

TEST_CASE("conditions on Dual and on the strict archetype") {
  using D = Dual<2>;
  const D f = depth_froude_number<D>(seed<2>(20.0 * knot, 0), seed<2>(9.0 * metre, 1));
  CHECK(f.derivative[0] == rounding(1.0 / std::sqrt(9.80665 * 9.0)));
  CHECK(f.derivative[1] == rounding(-0.5 * f.value / 9.0));
  using S = Strict;
  const DepthInput<> input{
      .speed = 20.0 * knot, .depth = 9.0 * metre, .volume_froude_number = 2.6, .waterline_length = 9.0 * metre};
  const auto strict = depth_condition(DepthInput<S>(input));
  CHECK(strict.depth_froude_number.reveal() == depth_condition(input).depth_froude_number);
  CHECK(strict.severity == depth_condition(input).severity);
  CHECK(wind_condition(widen<S>(12.0 * knot)).severity == Severity::note);
  CHECK(sea_condition(widen<S>(0.1 * metre)).severity == Severity::none);
  const AirDragInput<> air{.speed = 8.0 * knot,
                           .head_wind = 20.0 * knot,
                           .added_drag = {.frontal_area = 7.5 * square_metre, .air_drag_coefficient = 0.7}};
  CHECK(air_drag_of_pair(AirDragInput<S>(air)).with.value().reveal() == air_drag_of_pair(air).with.value());
}
