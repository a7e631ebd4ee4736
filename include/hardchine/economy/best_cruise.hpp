/// @file
/// Which steps are planing, and the best cruise among them: by rows of a trial and on the curve through them.
///
/// Best cruise is the best economy among planing steps only; over all steps idling would win. Rules of the trade, so
/// the rule in force is a value with words of its own, and the observer's flag comes before it.
#pragma once

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "hardchine/craft/operating_point.hpp"
#include "hardchine/economy/economy_curve.hpp"
#include "hardchine/economy/fuel_economy.hpp"
#include "hardchine/scalar/root.hpp"

namespace hardchine {

/// Planing steps by volume Froude number and hump, best cruise among them.
inline constexpr Method best_cruise_method{.name = "Best cruise among planing steps",
                                           .key = "trade_practice",
                                           .equations = "largest V/q of the planing steps",
                                           .evidence = Evidence::practice,
                                           .limits = {},
                                           .instead_beyond = ""};

/// When a step counts as planing if the observer did not say.
struct PlaningRule {
  double least_volume_froude_number = 2.0;  ///< F_nV from which a step may count as planing, 0 to 10
};

/// The rule in the words of a report.
/// @param rule the rule in force
/// @return the words
inline std::string words(const PlaningRule& rule) {
  return joined({"planing: as observed; else volume Froude number ", plain_number(rule.least_volume_froude_number),
                 " or more and faster than the hump, the dip of fuel economy over speed, where there is one"});
}

namespace detail {

/// Economy of a point, nothing if its fuel flow is not set.
inline std::optional<DistancePerVolume<>> economy_of(const OperatingPoint<>& point) {
  if (!is_set(point.fuel_flow)) return std::nullopt;
  return distance_per_volume(point.speed, point.fuel_flow);
}

/// Refuses points out of range, naming the row counted from 1.
inline void check_rows(std::string_view function, std::span<const OperatingPoint<>> points) {
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::string of_row = " of row " + std::to_string(i + 1);
    for_each_field(points[i], [&](const auto& entry, const auto& value) {
      check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range, entry.need);
    });
    check_value(function, "fuel flow" + of_row, points[i].fuel_flow, shown(litre_per_hour, "L/h"),
                economy_ranges::fuel_flow, Need::optional);
  }
}

}  // namespace detail

/// The step at the hump: the deepest dip of economy over speed. A dip is a step with a better economy both at some
/// lower and at some higher speed; its depth is down from the lower of the two best ones, so that scatter of a few per
/// cent among the fast steps does not pass for a hump.
/// @param points in any order, speed set, above 0 to 150 kn; steps without fuel flow (above 0 to 20000 L/h) are passed
///               over
/// @return the index of the step, nothing if economy over speed has no dip
/// @throws BadInput naming the row and field out of range
/// Source: trade_practice; evidence: practice.
inline std::optional<std::size_t> hump_step(std::span<const OperatingPoint<>> points) {
  detail::check_rows("hump_step", points);
  std::vector<std::size_t> by_speed;
  for (std::size_t i = 0; i < points.size(); ++i)
    if (is_set(points[i].fuel_flow)) by_speed.push_back(i);
  std::stable_sort(by_speed.begin(), by_speed.end(),
                   [&](std::size_t a, std::size_t b) { return points[a].speed < points[b].speed; });
  const auto economy = [&](std::size_t i) { return *detail::economy_of(points[i]); };
  std::optional<std::size_t> hump;
  DistancePerVolume<> deepest{};
  for (std::size_t k = 1; k + 1 < by_speed.size(); ++k) {
    DistancePerVolume<> best_slower{}, best_faster{};
    for (std::size_t j = 0; j < by_speed.size(); ++j) {
      DistancePerVolume<>& best = j < k ? best_slower : best_faster;
      if (j != k) best = std::max(best, economy(by_speed[j]));
    }
    const DistancePerVolume<> depth = std::min(best_slower, best_faster) - economy(by_speed[k]);
    if (depth > deepest) {
      deepest = depth;
      hump = by_speed[k];
    }
  }
  return hump;
}

/// Which steps are planing: as observed where the observer said; else F_nV at least the rule's limit and faster than
/// the hump (the dip of economy over speed), if there is one.
/// Source: trade_practice; evidence: practice. F_nV alone fails heavy boats at a high limit and passes light boats
/// still on the hump at a low one.
/// @param points in any order, with speed, above 0 to 150 kn, and volume Froude number, 0 to 50, where there is no
///               observation; fuel flow, above 0 to 20000 L/h, optional (steps without it are passed over when the hump
///               is looked for)
/// @param rule limit of the volume Froude number, 0 to 10
/// @param observed empty, or one entry a point: true or false as observed, or nothing
/// @return one truth value a point
/// @throws BadInput naming the row and field, or that `observed` has another length
inline std::vector<bool> planing_steps(std::span<const OperatingPoint<>> points, const PlaningRule& rule = {},
                                       std::span<const std::optional<bool>> observed = {}) {
  constexpr std::string_view function = "planing_steps";
  detail::check_rows(function, points);
  check_value(function, "least volume Froude number", rule.least_volume_froude_number, plain_ratio, between(0.0, 10.0));
  if (!observed.empty() && observed.size() != points.size())
    throw BadInput(function, "observations", std::to_string(observed.size()),
                   "none, or one a point: " + std::to_string(points.size()));
  const std::optional<std::size_t> hump = hump_step(points);
  std::vector<bool> planing;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (!observed.empty() && observed[i]) {
      planing.push_back(*observed[i]);
      continue;
    }
    require_set(function, "volume Froude number of row " + std::to_string(i + 1), points[i].volume_froude_number,
                "0 to 50, or an observation whether it planes");
    planing.push_back(points[i].volume_froude_number >= rule.least_volume_froude_number &&
                      (!hump || points[i].speed > points[*hump].speed));
  }
  return planing;
}

/// Best cruise among the steps of a trial. Indices into the points.
struct BestCruise {
  std::optional<std::size_t> best;            ///< planing step with the best economy; nothing if none planes
  std::optional<std::size_t> fastest_within;  ///< fastest planing step within the margin of it
  std::optional<std::size_t> top_speed;       ///< fastest step of all; nothing only if there are no points
  double margin = 0.05;                       ///< of economy that was given up for speed
};

/// Best economy among planing steps, the fastest planing step within a margin of it, and the top speed of all steps.
/// Source: trade_practice; evidence: practice. As coarse as the steps: best_cruise_on_curve() looks between them.
/// @param points with speed, above 0 to 150 kn; a step without fuel flow (above 0 to 20000 L/h) can only be the top
///               speed
/// @param planing one truth value a point, from planing_steps() or as observed
/// @param margin of the best economy, 0 to 50 %
/// @return indices; nothing where no planing step has a fuel flow. Of equals the faster step.
/// @throws BadInput naming the row and field, a wrong length of `planing`, or the margin
inline BestCruise best_cruise(std::span<const OperatingPoint<>> points, const std::vector<bool>& planing,
                              double margin = 0.05) {
  constexpr std::string_view function = "best_cruise";
  detail::check_rows(function, points);
  check_value(function, "margin", margin, shown_percent, between(0.0, 50.0));
  if (planing.size() != points.size())
    throw BadInput(function, "planing", std::to_string(planing.size()) + " values",
                   "one a point: " + std::to_string(points.size()));
  BestCruise result{.best = {}, .fastest_within = {}, .top_speed = {}, .margin = margin};
  const auto faster = [&](std::size_t i, const std::optional<std::size_t>& than) {
    return !than || points[i].speed > points[*than].speed;
  };
  const auto economy = [&](std::size_t i) { return *detail::economy_of(points[i]); };
  std::vector<std::size_t> candidates;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (faster(i, result.top_speed)) result.top_speed = i;
    if (planing[i] && is_set(points[i].fuel_flow)) candidates.push_back(i);
  }
  for (const std::size_t i : candidates)
    if (!result.best || economy(i) > economy(*result.best) ||
        (economy(i) == economy(*result.best) && faster(i, result.best)))
      result.best = i;
  for (const std::size_t i : candidates)
    if (economy(i) >= (1.0 - margin) * economy(*result.best) && faster(i, result.fastest_within))
      result.fastest_within = i;
  return result;
}

/// Best cruise on the curve through the steps.
struct CurveCruise {
  OperatingPoint<> best;            ///< engine speed, speed and fuel flow of the best economy
  OperatingPoint<> fastest_within;  ///< the same at the highest speed whose economy is within the margin
  double margin = 0.05;             ///< of economy that was given up for speed
};

/// Best economy from an engine speed upwards, and the fastest running within a margin of it.
///
/// A search at 64 places an interval between steps, then Brent's minimiser about the best of them and Chandrupatla's
/// root where the economy crosses the margin. On 3000 random tables brute force found nothing better with 64 places;
/// with 16 it did in two. Engine speeds are good to about 1e-7 of their value, far better than the steps.
/// Source: trade_practice (the rule) on monotone_cubic_method; evidence: practice.
/// @param curve speed and fuel flow over engine speed
/// @param from lowest engine speed at which the boat planes, any rpm from curve.lowest() to curve.highest()
/// @param margin of the best economy, 0 to 50 %
/// @return two points of the curve
/// @throws BadInput if `from` is outside the curve (nothing is extrapolated) or the margin out of range
inline CurveCruise best_cruise_on_curve(const EconomyCurve& curve, const RotationRate<>& from, double margin = 0.05) {
  constexpr std::string_view function = "best_cruise_on_curve";
  check_value(function, "lowest planing engine speed", from, shown(rpm, "rpm"),
              between(in(curve.lowest(), rpm), in(curve.highest(), rpm)));
  check_value(function, "margin", margin, shown_percent, between(0.0, 50.0));
  // The range check divides by the unit: a value that rounds onto an end belongs to it.
  const RotationRate<> start = std::clamp(from, curve.lowest(), curve.highest());
  const auto point = [&](double n) { return *curve.at(RotationRate<>::from_value(n)); };
  const auto economy = [&](double n) {
    const OperatingPoint<> p = point(n);
    return distance_per_volume(p.speed, p.fuel_flow).value();
  };

  // Every step is a place of the search, so that an extremum at a step is met exactly.
  constexpr int places_an_interval = 64;
  std::vector<double> ends{start.value()};
  for (const RotationRate<>& n : curve.engine_speeds())
    if (n > start) ends.push_back(n.value());
  std::vector<double> n{ends.front()};
  for (std::size_t i = 1; i < ends.size(); ++i)
    for (int k = 1; k <= places_an_interval; ++k)
      n.push_back(k == places_an_interval ? ends[i] : ends[i - 1] + (ends[i] - ends[i - 1]) * k / places_an_interval);

  std::size_t top = 0;
  for (std::size_t i = 1; i < n.size(); ++i)
    if (economy(n[i]) > economy(n[top])) top = i;
  double best = n[top];
  const double low = n[top == 0 ? 0 : top - 1], high = n[std::min(top + 1, n.size() - 1)];
  if (low < high) {
    // Half the bits of a double is all that a minimum's place can have.
    const auto refined = boost::math::tools::brent_find_minima([&](double x) { return -economy(x); }, low, high, 26);
    if (-refined.second > economy(best)) best = refined.first;
  }

  const double least = (1.0 - margin) * economy(best);
  n.insert(std::upper_bound(n.begin(), n.end(), best), best);
  double fastest = best;
  const auto consider = [&](double x) {
    if (point(x).speed > point(fastest).speed) fastest = x;
  };
  for (std::size_t i = 0; i < n.size(); ++i) {
    const bool inside = economy(n[i]) >= least;
    if (inside) consider(n[i]);
    if (i + 1 < n.size() && n[i] < n[i + 1] && inside != (economy(n[i + 1]) >= least))
      consider(bracketed_root([&](double x) { return economy(x) / least - 1.0; }, n[i], n[i + 1]).x);
  }
  return {.best = point(best), .fastest_within = point(fastest), .margin = margin};
}

/// What is outside the usual: best cruise has no published limits, so nothing.
/// @return no sentence
inline std::vector<std::string_view> explain(const BestCruise&) { return explain(Flags{0}, best_cruise_method); }
/// Sources and evidence of a best cruise.
/// @return one line
inline std::string cite(const BestCruise&) { return cite(best_cruise_method); }
/// What is outside the usual: best cruise has no published limits, so nothing.
/// @return no sentence
inline std::vector<std::string_view> explain(const CurveCruise&) { return explain(Flags{0}, best_cruise_method); }
/// Sources and evidence of a best cruise on the curve.
/// @return one line
inline std::string cite(const CurveCruise&) {
  return joined({cite(best_cruise_method), "; curve: ", cite(monotone_cubic_method)});
}

}  // namespace hardchine
