// Monotone cubic against SciPy: tests/references/pchip.csv and pchip_end_slopes.csv, made by pchip.py with
// scipy.interpolate.PchipInterpolator. Inside, both programs take the slopes of fritsch_butland_1984; at the two ends
// SciPy takes a three-point rule and Boost.Math the secant, so the end intervals agree only with SciPy's end slopes.
#include "hardchine/economy/economy_curve.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <limits>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "near.hpp"

using namespace hardchine;

namespace {

constexpr double table_rpm[] = {1000, 1500, 2000, 3000, 3500, 4000, 5000, 5800};
constexpr double table_knots[] = {5.2, 6.9, 8.3, 16.8, 22.6, 26.9, 34.4, 39.1};
constexpr double table_flow[] = {1.3, 2.6, 4.8, 8.1, 10.2, 13.1, 20.9, 28.4};

std::vector<OperatingPoint<>> table() {
  std::vector<OperatingPoint<>> points;
  for (std::size_t i = 0; i < 8; ++i)
    points.push_back({.speed = table_knots[i] * knot,
                      .engine_speed = table_rpm[i] * rpm,
                      .fuel_flow = table_flow[i] * us_gallon_per_hour});
  return points;
}

// The numbers of a table's rows; comment lines, the heading and words are passed over.
std::vector<std::vector<double>> read_numbers(const std::string& name) {
  std::ifstream file(std::string(HARDCHINE_TEST_DATA "/references/") + name);
  std::vector<std::vector<double>> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::vector<double> row;
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, ',');) {
      double x = 0.0;
      if (std::istringstream(cell) >> x) row.push_back(x);
    }
    if (!row.empty()) rows.push_back(row);
  }
  return rows;
}

EndSlopes scipy_end_slopes() {
  const auto rows = read_numbers("pchip_end_slopes.csv");
  REQUIRE(rows.size() == 2);
  REQUIRE(rows[0].size() == 2);
  REQUIRE(rows[1].size() == 2);
  return {.speed_first = rows[0][0] * (knot / rpm),
          .speed_last = rows[0][1] * (knot / rpm),
          .flow_first = rows[1][0] * (us_gallon_per_hour / rpm),
          .flow_last = rows[1][1] * (us_gallon_per_hour / rpm)};
}

// Two programs evaluate the same cubic in other units: some ten roundings.
constexpr double same_cubic = 1e-13;

}  // namespace

TEST_CASE("inner intervals agree with SciPy whatever the ends do") {
  const EconomyCurve curve(table());
  const auto rows = read_numbers("pchip.csv");
  int compared = 0;
  for (const auto& row : rows) {
    REQUIRE(row.size() == 3);
    if (row[0] < 1500.0 || row[0] > 5000.0) continue;
    CAPTURE(row[0]);
    const auto point = curve.at(row[0] * rpm);
    REQUIRE(point.has_value());
    CHECK(in(point->engine_speed, rpm) == rounding(row[0]));
    CHECK(in(point->speed, knot) == relative(row[1], same_cubic));
    CHECK(in(point->fuel_flow, us_gallon_per_hour) == relative(row[2], same_cubic));
    ++compared;
  }
  CHECK(compared == 40);
}

TEST_CASE("with SciPy's end slopes all intervals agree with SciPy") {
  const EconomyCurve curve(table(), scipy_end_slopes());
  const auto rows = read_numbers("pchip.csv");
  CHECK(rows.size() == 59);
  for (const auto& row : rows) {
    CAPTURE(row[0]);
    // 5800 rpm and its like must not fall off the end by the rounding of 1/60.
    const auto point = curve.at(row[0] * rpm);
    REQUIRE(point.has_value());
    CHECK(in(point->speed, knot) == relative(row[1], same_cubic));
    CHECK(in(point->fuel_flow, us_gallon_per_hour) == relative(row[2], same_cubic));
  }
}

TEST_CASE("the default end slopes are the secants, and differ from SciPy's in the end intervals") {
  // Values of Boost.Math's default, to the seven decimals of the check table.
  const EconomyCurve curve(table());
  CHECK(in(curve.at(1250.0 * rpm)->speed, knot) == printed(6.0705645, 7));
  CHECK(in(curve.at(1250.0 * rpm)->fuel_flow, us_gallon_per_hour) == printed(1.9082143, 7));
  CHECK(in(curve.at(5500.0 * rpm)->speed, knot) == printed(37.3856127, 7));
  CHECK(in(curve.at(5500.0 * rpm)->fuel_flow, us_gallon_per_hour) == printed(25.5290917, 7));
  const EconomyCurve scipy(table(), scipy_end_slopes());
  CHECK(in(scipy.at(1250.0 * rpm)->speed, knot) == printed(6.0893145, 7));
  CHECK(in(scipy.at(1250.0 * rpm)->fuel_flow, us_gallon_per_hour) == printed(1.8519643, 7));
  CHECK(in(scipy.at(5500.0 * rpm)->speed, knot) == printed(37.4702481, 7));
  CHECK(in(scipy.at(5500.0 * rpm)->fuel_flow, us_gallon_per_hour) == printed(25.4470604, 7));
  // One slope given, the others left: only its own curve and interval change.
  const EconomyCurve one(table(), {.speed_first = 0.0037 * (knot / rpm)});
  CHECK(in(one.at(1250.0 * rpm)->speed, knot) == printed(6.0893145, 7));
  CHECK(in(one.at(1250.0 * rpm)->fuel_flow, us_gallon_per_hour) == printed(1.9082143, 7));
  CHECK(in(one.at(5500.0 * rpm)->speed, knot) == printed(37.3856127, 7));
}

TEST_CASE("the curve meets its steps, stays between them and ends with them") {
  const auto points = table();
  const EconomyCurve curve(points);
  CHECK(curve.lowest() == points.front().engine_speed);
  CHECK(curve.highest() == points.back().engine_speed);
  REQUIRE(curve.engine_speeds().size() == points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    CAPTURE(i);
    CHECK(in(curve.at(points[i].engine_speed)->speed, knot) == rounding(table_knots[i]));
    CHECK(in(curve.at(points[i].engine_speed)->fuel_flow, us_gallon_per_hour) == rounding(table_flow[i]));
    if (i == 0) continue;
    for (int tenth = 1; tenth < 10; ++tenth) {
      const auto between =
          curve.at(points[i - 1].engine_speed + 0.1 * tenth * (points[i].engine_speed - points[i - 1].engine_speed));
      CHECK(between->speed > points[i - 1].speed);
      CHECK(between->speed < points[i].speed);
      CHECK(between->fuel_flow > points[i - 1].fuel_flow);
      CHECK(between->fuel_flow < points[i].fuel_flow);
    }
  }
  CHECK_FALSE(curve.at(999.9 * rpm).has_value());
  CHECK_FALSE(curve.at(5800.1 * rpm).has_value());
  CHECK_FALSE(curve.at(0.0 * rpm).has_value());
  CHECK_FALSE(curve.at(std::numeric_limits<double>::infinity() * rpm).has_value());
  CHECK_THROWS_WITH_AS(curve.at(unset), "EconomyCurve::at: engine speed is not set; accepted: a number of rpm",
                       BadInput);
}

TEST_CASE("where speed falls back over engine speed the curve does not overshoot the step") {
  auto points = table();
  points[2].speed = 6.0 * knot;  // slower than the step before
  const EconomyCurve curve(points);
  for (double n = 1000.0; n <= 3000.0; n += 10.0) {
    CAPTURE(n);
    const double v = in(curve.at(n * rpm)->speed, knot);
    if (n <= 1500.0) CHECK(v <= 6.9 + 1e-12);
    if (n >= 1500.0) CHECK(v >= 6.0 - 1e-12);
  }
}

TEST_CASE("bad rows are refused by row and field") {
  const auto refuses = [](const std::vector<OperatingPoint<>>& points, const std::string& field) {
    CAPTURE(field);
    try {
      const EconomyCurve curve(points);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.function() == "EconomyCurve");
      CHECK(refusal.field() == field);
    }
  };
  auto points = table();
  points.resize(3);
  refuses(points, "points");
  refuses({}, "points");
  const double nan = std::nan(""), infinite = std::numeric_limits<double>::infinity();
  for (const double bad : {nan, infinite, -1.0, 0.0, 20001.0}) {
    CAPTURE(bad);
    points = table();
    points[4].engine_speed = bad * rpm;
    refuses(points, "engine speed of row 5");
    points = table();
    points[2].fuel_flow = bad * litre_per_hour;
    refuses(points, "fuel flow of row 3");
    points = table();
    points[7].speed = bad * knot;
    refuses(points, "speed of row 8");
  }
  points = table();
  points[5].engine_speed = points[4].engine_speed;
  refuses(points, "engine speed of row 6");
  points = table();
  std::swap(points[1], points[2]);
  refuses(points, "engine speed of row 3");
  points = table();
  points[0].trim = 80.0 * degree;
  refuses(points, "trim of row 1");
  points = table();
  points[5].engine_speed = 3400.0 * rpm;
  CHECK_THROWS_WITH_AS(EconomyCurve{points},
                       "EconomyCurve: engine speed of row 6 is 3400 rpm; accepted: above 3500 rpm, the row before",
                       BadInput);
}

TEST_CASE("end slopes that would leave the values of the steps are refused") {
  const auto points = table();
  const Length<> secant = (points[1].speed - points[0].speed) / (points[1].engine_speed - points[0].engine_speed);
  CHECK_NOTHROW(EconomyCurve(points, {.speed_first = 0.0 * secant}));
  CHECK_NOTHROW(EconomyCurve(points, {.speed_first = 2.999 * secant}));
  for (const double factor : {-0.01, 3.01, std::numeric_limits<double>::infinity()}) {
    CAPTURE(factor);
    CHECK_THROWS_AS(EconomyCurve(points, {.speed_first = factor * secant}), BadInput);
    CHECK_THROWS_AS(EconomyCurve(points, {.speed_last = 10.0 * factor * secant}), BadInput);
    CHECK_THROWS_AS(EconomyCurve(points, {.flow_first = factor * 100.0 * litre}), BadInput);
    CHECK_THROWS_AS(EconomyCurve(points, {.flow_last = factor * 100.0 * litre}), BadInput);
  }
}

TEST_CASE("the curve names its source") { CHECK(cite(monotone_cubic_method).find("fritsch_butland_1984") == 0); }
