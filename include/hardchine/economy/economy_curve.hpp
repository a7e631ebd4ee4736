/// @file
/// Boat speed and fuel flow over engine speed as smooth curves through the measured or predicted steps.
///
/// Speed and flow are interpolated apart, each by a monotone cubic, and the economy is their quotient: economy itself
/// turns at the hump and at best cruise, and interpolating it would move both. Between two steps neither curve leaves
/// the interval of their values. Nothing is extrapolated.
///
/// On double only, unlike the formulas of this library: a step is found by a search over the table and the slopes
/// choose by the sign of differences, which is what Boost.Math's interpolator does with plain comparisons. A curve is
/// made from finished points; derivatives with respect to what made them are taken there.
#pragma once

// Boost 1.74 calls isnan without std and without including it.
#include <math.h>  // NOLINT(modernize-deprecated-headers): isnan in the global namespace

#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "hardchine/craft/operating_point.hpp"
#include "hardchine/economy/fuel_economy.hpp"

namespace hardchine {

/// The monotone cubic with harmonic-mean slopes at the inner steps.
inline constexpr Method monotone_cubic_method{.name = "Monotone piecewise cubic interpolation over engine speed",
                                              .key = "fritsch_butland_1984",
                                              .equations = "weighted harmonic mean slopes",
                                              .evidence = Evidence::transcribed,
                                              .limits = {},
                                              .instead_beyond = "measure a step there: nothing is extrapolated"};

/// Slopes of the two curves at the first and last step. One that is not set is the secant slope of its end interval.
/// Other programs take other end slopes (a three-point rule, for example), and then differ in the two end intervals
/// only; passing theirs gives their curve.
struct EndSlopes {
  Length<> speed_first = unset;  ///< dV/dn at the first step, speed per engine rev/s: `0.0037 * (knot / rpm)`; optional
  Length<> speed_last = unset;   ///< dV/dn at the last step; optional
  Volume<> flow_first = unset;   ///< dq/dn at the first step, fuel flow per engine rev/s; optional
  Volume<> flow_last = unset;    ///< dq/dn at the last step; optional
};

/// Speed and fuel flow over engine speed.
class EconomyCurve {
 public:
  /// A curve through points in the order of rising engine speed.
  /// Source: fritsch_butland_1984 (slopes at inner steps; transcribed) through boost::math::interpolators::pchip.
  /// @param points at least 4, each with engine speed, speed and fuel flow set and above zero; engine speed strictly
  ///               rising; the ranges of OperatingPoint hold
  /// @param end_slopes slopes at the ends, from 0 to 3 times the secant slope of the end interval, beyond which a cubic
  ///                   may leave the values of its two steps; unset is the secant slope
  /// @throws BadInput naming the row, counted from 1, and the field
  explicit EconomyCurve(std::span<const OperatingPoint<>> points, const EndSlopes& end_slopes = {})
      : engine_speeds_(checked_engine_speeds(points)),
        speed_(curve(points, end_slopes.speed_first, end_slopes.speed_last, "slope of speed at the",
                     [](const OperatingPoint<>& p) { return p.speed.value(); })),
        flow_(curve(points, end_slopes.flow_first, end_slopes.flow_last, "slope of fuel flow at the",
                    [](const OperatingPoint<>& p) { return p.fuel_flow.value(); })) {}

  /// The point on the curve at an engine speed.
  /// @param engine_speed any; rpm of the engine
  /// @return a point with engine speed, speed and fuel flow set; nothing below lowest() or above highest()
  /// @throws BadInput if the engine speed is not a number
  std::optional<OperatingPoint<>> at(const RotationRate<>& engine_speed) const {
    require_set("EconomyCurve::at", "engine speed", engine_speed, "a number of rpm");
    if (engine_speed < lowest() || engine_speed > highest()) return std::nullopt;
    return OperatingPoint<>{.speed = Speed<>::from_value(speed_(engine_speed.value())),
                            .engine_speed = engine_speed,
                            .fuel_flow = VolumeFlow<>::from_value(flow_(engine_speed.value()))};
  }

  /// Engine speed of the first step.
  RotationRate<> lowest() const { return engine_speeds_.front(); }
  /// Engine speed of the last step.
  RotationRate<> highest() const { return engine_speeds_.back(); }
  /// Engine speeds of all steps, rising.
  std::span<const RotationRate<>> engine_speeds() const { return engine_speeds_; }

 private:
  using Interpolator = boost::math::interpolators::pchip<std::vector<double>>;

  static std::vector<RotationRate<>> checked_engine_speeds(std::span<const OperatingPoint<>> points) {
    constexpr std::string_view function = "EconomyCurve";
    if (points.size() < 4)
      throw BadInput(function, "points", std::to_string(points.size()), "at least 4, for a monotone cubic");
    std::vector<RotationRate<>> engine_speeds;
    for (const OperatingPoint<>& point : points) {
      const std::string of_row = " of row " + std::to_string(engine_speeds.size() + 1);
      for_each_field(point, [&](const auto& entry, const auto& value) {
        check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range, entry.need);
      });
      check_value(function, "engine speed" + of_row, point.engine_speed, shown(rpm, "rpm"), above(0.0, 20000.0));
      check_value(function, "fuel flow" + of_row, point.fuel_flow, shown(litre_per_hour, "L/h"),
                  economy_ranges::fuel_flow);
      if (!engine_speeds.empty() && !(point.engine_speed > engine_speeds.back()))
        throw BadInput(function, "engine speed" + of_row, plain_number(in(point.engine_speed, rpm)) + " rpm",
                       joined({"above ", plain_number(in(engine_speeds.back(), rpm)), " rpm, the row before"}));
      engine_speeds.push_back(point.engine_speed);
    }
    return engine_speeds;
  }

  // An end slope, or not a number for the secant slope, which is how the interpolator takes it.
  template <class Slope>
  static double checked_slope(const Slope& slope, double secant, const std::string& name) {
    if (!is_set(slope)) return std::numeric_limits<double>::quiet_NaN();
    const double ratio = slope.value() / secant;
    const bool monotone = secant == 0.0 ? slope.value() == 0.0 : (ratio >= 0.0 && ratio <= 3.0);
    if (!monotone)
      throw BadInput("EconomyCurve", name, plain_number(slope.value()) + " in SI units",
                     joined({"0 to 3 times the secant slope ", plain_number(secant), " of the end interval"}));
    return slope.value();
  }

  template <class Slope, class Of>
  static Interpolator curve(std::span<const OperatingPoint<>> points, const Slope& first, const Slope& last,
                            const std::string& name, Of&& of) {
    std::vector<double> n, y;
    for (const OperatingPoint<>& point : points) {
      n.push_back(point.engine_speed.value());
      y.push_back(of(point));
    }
    const std::size_t e = n.size() - 1;
    const double slope_first = checked_slope(first, (y[1] - y[0]) / (n[1] - n[0]), name + " first row");
    const double slope_last = checked_slope(last, (y[e] - y[e - 1]) / (n[e] - n[e - 1]), name + " last row");
    return Interpolator(std::move(n), std::move(y), slope_first, slope_last);
  }

  std::vector<RotationRate<>> engine_speeds_;
  Interpolator speed_;
  Interpolator flow_;
};

}  // namespace hardchine
