/// @file
/// Findings: what a trial day says against itself. Each holds a figure against a limit of the trade, with severity,
/// expanded uncertainty where it is known, and likely causes. A figure that lies beyond its limit by less than its own
/// uncertainty is said to prove nothing: it accuses nobody.
///
/// On double only: a finding is a judgement and a list whose length depends on the figures, so it has no derivative and
/// no lanes; what it judges (slip, reduced runs, economy) was made by formulas that have both.
///
/// The numbers of the findings are fixed, so that a report can be spoken about; 12, 14 and 17 to 20 are not made here.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "hardchine/craft/drive_train.hpp"
#include "hardchine/craft/loading.hpp"
#include "hardchine/craft/operating_point.hpp"
#include "hardchine/propulsion/slip_check.hpp"
#include "hardchine/trial/acceleration.hpp"
#include "hardchine/trial/conditions.hpp"
#include "hardchine/trial/propulsive_coefficient.hpp"

namespace hardchine {

/// The kinds of engine, by what they burn for a power.
enum class EngineKind : std::uint8_t {
  diesel,
  petrol_injected,     ///< four-stroke, and two-stroke with direct injection
  petrol_carburetted,  ///< two-stroke with carburettor
};

/// The kind in the words of a report.
/// @param kind any
/// @return a short phrase
constexpr std::string_view words(EngineKind kind) {
  switch (kind) {
    case EngineKind::diesel:
      return "diesel";
    case EngineKind::petrol_injected:
      return "petrol four-stroke or direct-injected two-stroke";
    case EngineKind::petrol_carburetted:
      return "petrol carburetted two-stroke";
  }
  return "unknown engine";
}

/// Standard uncertainties (one sigma) of the instruments of a trial, practice: replace them by those of your own.
/// Others in use: two positions 60 s apart 0.1 kn; engine computer 3 rpm; positive displacement meter 0.5 %, paddle
/// wheel 2 %; dipstick 1 % of capacity; load cell 0.2 %; stopwatch by hand 0.2 s.
struct InstrumentUncertainty {
  Speed<> speed = satellite_speed_uncertainty;           ///< of V, 0 to 20 kn; the same receiver both ways
  double tachometer = dashboard_tachometer_uncertainty;  ///< of engine speed, relative, 0 to 50 %
  double pitch = stamped_pitch_uncertainty;              ///< of the pitch as stamped, relative, 0 to 50 %
  double fuel_flow = 2.5 * percent;                      ///< relative, 0 to 50 %; an engine computer's estimate
  double weighing = 0.5 * percent;                       ///< of a weighed displacement, 0 to 50 %; a crane scale
  double tank_sender = 4.0 * percent;                    ///< of a tank's content, of its capacity, 0 to 50 %
  Mass<> person = 3.0 * kilogram;                        ///< of a person's mass as asked, 0 to 50 kg
  Speed<> wind = 0.5 * knot;                             ///< of the anemometer, 0 to 20 kn, besides
  double wind_relative = 2.0 * percent;                  ///< of its reading, 0 to 50 %
  Duration<> acceleration_time = 0.01 * second;          ///< of a timed acceleration, 0 to 10 s
  double coverage_factor = 2.0;                          ///< k of U = k u, 1 to 5

  /// The field table.
  static constexpr auto fields() {
    using I = InstrumentUncertainty;
    constexpr Range any = between(0.0, 50.0);
    return FieldTable{
        field("speed uncertainty", &I::speed, shown(knot, "kn"), between(0.0, 20.0)),
        field("tachometer uncertainty", &I::tachometer, shown_percent, any),
        field("pitch uncertainty", &I::pitch, shown_percent, any),
        field("fuel flow uncertainty", &I::fuel_flow, shown_percent, any),
        field("weighing uncertainty", &I::weighing, shown_percent, any),
        field("tank sender uncertainty", &I::tank_sender, shown_percent, any),
        field("person uncertainty", &I::person, shown(kilogram, "kg"), any),
        field("wind uncertainty", &I::wind, shown(knot, "kn"), between(0.0, 20.0)),
        field("relative wind uncertainty", &I::wind_relative, shown_percent, any),
        field("acceleration time uncertainty", &I::acceleration_time, shown(second, "s"), between(0.0, 10.0)),
        field("coverage factor", &I::coverage_factor, plain_ratio, between(1.0, 5.0))};
  }
};

/// The limits of the findings (practice), settable.
struct FindingLimits {
  double slip_planing_from = 2.5;             ///< F_nV from which a slip is that of a planing boat, 0 to 10
  double slip_above_typical = 8.0 * percent;  ///< points of slip above 1.4/V_kn^0.57, 0 to 100 %
  Speed<> half_difference = 1.5 * knot;       ///< of the two directions, 0 to 20 kn
  Speed<> off_smooth_current = 0.4 * knot;    ///< of a step off the other steps, 0 to 20 kn
  double hump_from = 1.5;                     ///< F_nV of the hump, whose steps no smooth current is asked of, 0 to 10
  double hump_to = 2.5;                       ///< its end, 0 to 10
  double rows_apart = 1.0 * percent;          ///< engine speeds nearer than this are not compared, 0 to 50 %
  Speed<> speed_fall = 0.3 * knot;            ///< as engine speed rises, 0 to 20 kn
  double flow_fall = 2.0 * percent;           ///< as engine speed rises, 0 to 50 %
  double planing_for_sure = 2.5;              ///< F_nV below which a planing claim gets a note, 0 to 10
  double planing_at_least = 2.0;              ///< F_nV below which it gets a warning, 0 to 10
  double diesel_above_rated = 4.0 * percent;  ///< full throttle above rated, 0 to 50 %
  SpecificConsumption<> diesel_least = 190.0 * gram_per_kilowatt_hour;       ///< at full throttle, 50 to 2000 g/kWh
  SpecificConsumption<> diesel_most = 260.0 * gram_per_kilowatt_hour;        ///< the same, 50 to 2000 g/kWh
  SpecificConsumption<> injected_least = 250.0 * gram_per_kilowatt_hour;     ///< the same, 50 to 2000 g/kWh
  SpecificConsumption<> injected_most = 400.0 * gram_per_kilowatt_hour;      ///< the same, 50 to 2000 g/kWh
  SpecificConsumption<> carburetted_least = 400.0 * gram_per_kilowatt_hour;  ///< the same, 50 to 2000 g/kWh
  SpecificConsumption<> carburetted_most = 600.0 * gram_per_kilowatt_hour;   ///< the same, 50 to 2000 g/kWh
  double displacement = 1.0 * percent;                                       ///< declared against rolled up, 0 to 50 %
  double propulsive_coefficient = 70.0 * percent;  ///< eta that no drive exceeds, for accelerations, 10 to 100 %
  Acceleration<> acceleration =
      0.5 * standard_gravity;                     ///< greatest mean, 0.01 to 5 times standard gravity (0.1 to 49 m/s2)
  double depth_froude_from = depth_warning_from;  ///< F_nh, 0 to 10
  double depth_froude_to = depth_supercritical_from;  ///< F_nh, 0 to 10
  Speed<> wind = rough_wind;                          ///< 0 to 100 kn
  Length<> waves = rough_waves;                       ///< 0 to 20 m

  /// The field table.
  static constexpr auto fields() {
    using L = FindingLimits;
    constexpr ShownUnit kn = shown(knot, "kn"), b = shown(gram_per_kilowatt_hour, "g/kWh");
    constexpr Range ratio = between(0.0, 10.0), speed = between(0.0, 20.0), half = between(0.0, 50.0);
    constexpr Range burnt = between(50.0, 2000.0);
    return FieldTable{field("slip planing from", &L::slip_planing_from, plain_ratio, ratio),
                      field("slip above typical", &L::slip_above_typical, shown_percent, between(0.0, 100.0)),
                      field("half-difference", &L::half_difference, kn, speed),
                      field("off smooth current", &L::off_smooth_current, kn, speed),
                      field("hump from", &L::hump_from, plain_ratio, ratio),
                      field("hump to", &L::hump_to, plain_ratio, ratio),
                      field("rows apart", &L::rows_apart, shown_percent, half),
                      field("speed fall", &L::speed_fall, kn, speed),
                      field("flow fall", &L::flow_fall, shown_percent, half),
                      field("planing for sure", &L::planing_for_sure, plain_ratio, ratio),
                      field("planing at least", &L::planing_at_least, plain_ratio, ratio),
                      field("diesel above rated", &L::diesel_above_rated, shown_percent, half),
                      field("diesel least", &L::diesel_least, b, burnt),
                      field("diesel most", &L::diesel_most, b, burnt),
                      field("injected least", &L::injected_least, b, burnt),
                      field("injected most", &L::injected_most, b, burnt),
                      field("carburetted least", &L::carburetted_least, b, burnt),
                      field("carburetted most", &L::carburetted_most, b, burnt),
                      field("displacement difference", &L::displacement, shown_percent, half),
                      field("propulsive coefficient", &L::propulsive_coefficient, shown_percent, between(10.0, 100.0)),
                      field("acceleration", &L::acceleration, shown(standard_gravity, "g"), between(0.01, 5.0)),
                      field("depth Froude number from", &L::depth_froude_from, plain_ratio, ratio),
                      field("depth Froude number to", &L::depth_froude_to, plain_ratio, ratio),
                      field("wind", &L::wind, kn, between(0.0, 100.0)),
                      field("waves", &L::waves, shown(metre, "m"), between(0.0, 20.0))};
  }
};

/// Refuses limits out of range and pairs the wrong way round, which would accuse every figure or none.
/// @param limits ranges in the field table; the lower end of a pair not above its upper end
/// @throws BadInput naming the field
inline void check_limits(const FindingLimits& limits) {
  constexpr std::string_view function = "check_limits";
  check_fields(function, limits);
  const auto in_order = [&](std::string_view least, auto low, std::string_view most, auto high, const ShownUnit& unit) {
    if (!(low > high)) return;
    const auto shown_as = [&](auto x) {
      return joined({plain_number(bare_value(x) / unit.factor), unit.symbol.empty() ? "" : " ", unit.symbol});
    };
    throw BadInput(function, least, shown_as(low), joined({"up to ", most, ", ", shown_as(high)}));
  };
  constexpr ShownUnit b = shown(gram_per_kilowatt_hour, "g/kWh");
  in_order("diesel least", limits.diesel_least, "diesel most", limits.diesel_most, b);
  in_order("injected least", limits.injected_least, "injected most", limits.injected_most, b);
  in_order("carburetted least", limits.carburetted_least, "carburetted most", limits.carburetted_most, b);
  in_order("hump from", limits.hump_from, "hump to", limits.hump_to, plain_ratio);
  in_order("planing at least", limits.planing_at_least, "planing for sure", limits.planing_for_sure, plain_ratio);
  in_order("depth Froude number from", limits.depth_froude_from, "depth Froude number to", limits.depth_froude_to,
           plain_ratio);
}

/// What a finding is about. Its place in the list is its bit in finding_limits.
enum class FindingKind : std::uint8_t {
  negative_slip,          ///< 1
  planing_slip,           ///< 2
  one_direction,          ///< 3
  half_difference,        ///< 4
  off_smooth_current,     ///< 4
  speed_falls,            ///< 5
  flow_falls,             ///< 5
  planing_claim,          ///< 6
  reserve_not_named,      ///< 7
  range_beyond_capacity,  ///< 7
  full_throttle_speed,    ///< 8
  consumption,            ///< 9
  displacement,           ///< 10
  tank_content,           ///< 11
  acceleration_power,     ///< 13
  acceleration_rate,      ///< 13
  depth,                  ///< 15
  wind,                   ///< 16
  sea                     ///< 16
};

/// The default limits as sentences, in the order of FindingKind.
inline constexpr std::array<Limit, 19> finding_limits{{
    {"apparent slip below 0", "trade_practice", 0.0, 1.0},
    {"slip when planing more than 8 points above 1.4/V_kn^0.57", "trade_practice; gerr_1989 (recalled)", 0.0, no_limit},
    {"runs in one direction only", "trade_practice", 2.0, no_limit},
    {"half-difference of the directions above 1.5 kn", "trade_practice", 0.0, 1.5},
    {"half-difference more than 0.4 kn off the day's smooth current", "trade_practice", 0.0, 0.4},
    {"speed falls by more than 0.3 kn as engine speed rises", "trade_practice", 0.0, 0.3},
    {"fuel flow falls by more than 2 % as engine speed rises", "trade_practice", 0.0, 2.0},
    {"planing claimed below a volume Froude number of 2.5; below 2.0 a warning", "trade_practice", 2.5, no_limit},
    {"range without a named reserve", "trade_practice", 1.0, 1.0},
    {"range that burns more than the tanks hold", "trade_practice", 0.0, 1.0},
    {"full-throttle engine speed outside the rated band, or rated to rated + 4 % of a diesel", "trade_practice", 0.0,
     4.0},
    {"specific consumption at full throttle outside 190-260 g/kWh diesel, 250-400 petrol injected, 400-600 carburetted",
     "trade_practice", 190.0, 600.0},
    {"declared displacement more than 1 % off the roll-up", "trade_practice", -1.0, 1.0},
    {"tank content above its capacity", "trade_practice", 0.0, 1.0},
    {"acceleration that takes more than 70 % of the brake power", "trade_practice", 0.0, 70.0},
    {"acceleration above 0.5 g", "trade_practice", 0.0, 0.5},
    {"depth Froude number 0.7 to 1.2", "trade_practice", 0.7, 1.2},
    {"wind above 10 kn", "trade_practice", 0.0, 10.0},
    {"waves above 0.3 m", "trade_practice", 0.0, 0.3},
}};

/// Findings of a trial day.
inline constexpr Method findings_method{.name = "Findings of a trial day",
                                        .key = "trade_practice",
                                        .equations = "figures against limits of the trade",
                                        .evidence = Evidence::practice,
                                        .limits = finding_limits,
                                        .instead_beyond = ""};

/// In what a figure of a finding is measured.
enum class Measure : std::uint8_t {
  nothing,
  number,
  ratio,
  speed,
  engine_speed,
  power,
  acceleration,
  volume,
  wave_height,
  consumption
};

/// The units in which findings are written. The defaults suit a page in SI and knots.
struct FindingUnits {
  ShownUnit speed = shown(knot, "kn");                             ///< of boat, current, wind
  ShownUnit power = shown(kilowatt, "kW");                         ///< of engines
  ShownUnit volume = shown(litre, "L");                            ///< of fuel
  ShownUnit wave_height = shown(metre, "m");                       ///< trough to crest
  ShownUnit consumption = shown(gram_per_kilowatt_hour, "g/kWh");  ///< fuel mass per energy
};

/// The unit of a measure.
/// @param measure of a finding
/// @param units in which the report is written
/// @return factor and symbol
constexpr ShownUnit shown_unit(Measure measure, const FindingUnits& units = {}) {
  switch (measure) {
    case Measure::ratio:
      return shown_percent;
    case Measure::speed:
      return units.speed;
    case Measure::engine_speed:
      return shown(rpm, "rpm");
    case Measure::power:
      return units.power;
    case Measure::acceleration:
      return shown(standard_gravity, "g");
    case Measure::volume:
      return units.volume;
    case Measure::wave_height:
      return units.wave_height;
    case Measure::consumption:
      return units.consumption;
    case Measure::nothing:
    case Measure::number:
      break;
  }
  return plain_ratio;
}

/// What all findings of a kind share.
struct FindingRule {
  FindingKind kind;                          ///< which
  int number;                                ///< in the list of findings
  Measure measure;                           ///< of figure, limits and uncertainty
  std::string_view words;                    ///< what was found
  std::span<const std::string_view> causes;  ///< likely ones, in the words of the trade
};

/// Likely causes by kind, in the words of the trade.
namespace finding_causes {
using Causes = std::string_view;  ///< one cause

/// @name By kind of finding
/// @{

/// Likely causes.
inline constexpr std::array<Causes, 6> negative_slip{"wrong reduction ratio or pitch",
                                                     "cupped or reworked propeller",
                                                     "tachometer reads low",
                                                     "mph taken for knots",
                                                     "following current",
                                                     "runs one way only"};
inline constexpr std::array<Causes, 6> planing_slip{
    "damaged or wrong propeller", "ventilation", "wrong reduction ratio",
    "fouled bottom or propeller", "overload",    "true pitch below the stamp"};
inline constexpr std::array<Causes, 1> one_direction{"current not removed from the speed"};
inline constexpr std::array<Causes, 4> current{"tide", "wind", "mislabelled row",
                                               "engine speed not the same both ways"};
inline constexpr std::array<Causes, 4> speed_falls{"rows swapped", "ventilation", "trim or tabs moved",
                                                   "fault of a meter"};
inline constexpr std::array<Causes, 5> flow_falls{"rows swapped", "ventilation", "trim or tabs moved",
                                                  "fault of the flow meter", "hump passed"};
inline constexpr std::array<Causes, 3> planing_claim{"semi-planing", "overload", "another definition of planing"};
inline constexpr std::array<Causes, 1> reserve{"reserve left out: a range means nothing without it"};
inline constexpr std::array<Causes, 3> range{"range made from a rounded economy", "wrong gallon",
                                             "flow of one engine only"};
inline constexpr std::array<Causes, 5> full_throttle{"propeller too large or too small", "load", "hot day",
                                                     "dirty bottom", "tachometer"};
inline constexpr std::array<Causes, 5> consumption{"flow of one engine only", "return flow not subtracted",
                                                   "power at the crank taken for power at the shaft",
                                                   "litres taken for gallons", "rated power not delivered"};
inline constexpr std::array<Causes, 3> displacement{"item forgotten", "dry weight without engine",
                                                    "tanks or people not as noted"};
inline constexpr std::array<Causes, 3> tank{"wrong unit", "usable taken for total capacity", "sender reads high"};
inline constexpr std::array<Causes, 3> acceleration{"start found late", "speed lags in the receiver", "wrong weight"};
inline constexpr std::array<Causes, 2> depth{"shallow course", "low tide"};
inline constexpr std::array<Causes, 1> wind{"runs both ways do not cancel the square of the wind: publish as rough"};
inline constexpr std::array<Causes, 1> sea{"not smooth water: publish as rough"};
/// @}

}  // namespace finding_causes

/// What the findings of each kind share, in the order of FindingKind.
inline constexpr std::array<FindingRule, 19> finding_rules{{
    {FindingKind::negative_slip, 1, Measure::ratio, "apparent slip is negative", finding_causes::negative_slip},
    {FindingKind::planing_slip, 2, Measure::ratio, "apparent slip is high for a planing boat",
     finding_causes::planing_slip},
    {FindingKind::one_direction, 3, Measure::nothing, "runs in one direction only", finding_causes::one_direction},
    {FindingKind::half_difference, 4, Measure::speed, "half-difference of the two directions is large",
     finding_causes::current},
    {FindingKind::off_smooth_current, 4, Measure::speed, "half-difference is off the day's smooth current by",
     finding_causes::current},
    {FindingKind::speed_falls, 5, Measure::speed, "speed falls as engine speed rises, by", finding_causes::speed_falls},
    {FindingKind::flow_falls, 5, Measure::ratio, "fuel flow falls as engine speed rises, by",
     finding_causes::flow_falls},
    {FindingKind::planing_claim, 6, Measure::number, "planing is claimed at a low volume Froude number",
     finding_causes::planing_claim},
    {FindingKind::reserve_not_named, 7, Measure::nothing, "a range is stated without its reserve",
     finding_causes::reserve},
    {FindingKind::range_beyond_capacity, 7, Measure::volume, "a stated range burns more than the tanks hold",
     finding_causes::range},
    {FindingKind::full_throttle_speed, 8, Measure::engine_speed,
     "full-throttle engine speed at this load is outside the rated one", finding_causes::full_throttle},
    {FindingKind::consumption, 9, Measure::consumption, "fuel flow does not fit the power at full throttle",
     finding_causes::consumption},
    {FindingKind::displacement, 10, Measure::ratio, "declared displacement differs from the roll-up by",
     finding_causes::displacement},
    {FindingKind::tank_content, 11, Measure::volume, "tank holds more than its capacity", finding_causes::tank},
    {FindingKind::acceleration_power, 13, Measure::power, "acceleration takes more power than the drive can give",
     finding_causes::acceleration},
    {FindingKind::acceleration_rate, 13, Measure::acceleration, "acceleration is hardly possible",
     finding_causes::acceleration},
    {FindingKind::depth, 15, Measure::number, "depth Froude number is in the band where the depth tells",
     finding_causes::depth},
    {FindingKind::wind, 16, Measure::speed, "wind", finding_causes::wind},
    {FindingKind::sea, 16, Measure::wave_height, "waves", finding_causes::sea},
}};

/// One finding. Figure, limits and uncertainty are in the coherent SI unit of its measure (a ratio is a plain number);
/// shown_unit() gives the unit to write them in.
struct Finding {
  FindingKind kind = FindingKind::negative_slip;  ///< which
  Severity severity = Severity::note;             ///< a note where the figure proves nothing
  std::optional<std::size_t> step = {};           ///< index of the step, if it is about one
  std::optional<std::size_t> item = {};           ///< index of the tank, range or acceleration, if it is about one
  std::string subject = {};                       ///< name of the tank, range or acceleration; may be empty
  double figure = unset;                          ///< what was found; unset for a finding without a figure
  double low = unset;                             ///< least accepted; unset if there is none
  double high = unset;                            ///< most accepted; unset if there is none
  bool between_is_bad = false;                    ///< accepted is below `low` and above `high`, not between
  double expanded_uncertainty = unset;            ///< U of the figure; unset if it is not known
  bool within_uncertainty = false;                ///< beyond its limit by no more than U: it proves nothing

  /// What all findings of its kind share: number, measure, words, causes.
  constexpr const FindingRule& rule() const { return finding_rules[static_cast<std::size_t>(kind)]; }
  /// Its number in the list of findings.
  constexpr int number() const { return rule().number; }
  /// Likely causes, in the words of the trade.
  constexpr std::span<const std::string_view> causes() const { return rule().causes; }
  /// The finding as a sentence, without its causes.
  /// @param units in which figures are written
  /// @return for example "step 5: apparent slip is negative: -6.4 %; accepted: 0 % or more; uncertainty +/-3.4 %"
  std::string sentence(const FindingUnits& units = {}) const;
};

namespace finding_detail {

/// The place of the last of some significant digits.
inline double place_of(double x, int digits) {
  return x == 0.0 || !std::isfinite(x) ? 0.0 : std::pow(10.0, std::floor(std::log10(std::abs(x))) - digits + 1);
}
/// A number rounded to a place, without needless zeros; a place of 0 leaves it as it is.
inline std::string rounded_text(double x, double place) {
  return plain_number(place > 0.0 ? std::round(x / place) * place + 0.0 : x);  // + 0.0: no "-0"
}
/// Three significant digits, or whole numbers from 100 on.
inline std::string limit_text(double x) { return rounded_text(x, std::abs(x) >= 100.0 ? 1.0 : place_of(x, 3)); }
/// A figure to the last place of its uncertainty (which has two digits), else as a limit; to finer places where it
/// would otherwise read like the limit that it is beyond.
inline std::string figure_text(double x, double uncertainty, std::initializer_list<double> limits) {
  double place = std::abs(x) >= 100.0 ? 1.0 : place_of(x, 3);
  if (const double of_U = place_of(uncertainty, 2); of_U > place) place = of_U;
  const auto like_a_limit = [&] {
    return std::any_of(limits.begin(), limits.end(), [&](double limit) {
      return std::isfinite(limit) && limit != x && rounded_text(x, place) == limit_text(limit);
    });
  };
  for (int finer = 0; finer < 3 && like_a_limit(); ++finer) place /= 10.0;
  return rounded_text(x, place);
}

}  // namespace finding_detail

inline std::string Finding::sentence(const FindingUnits& units) const {
  std::string text;
  if (step) text = joined({"step ", std::to_string(*step + 1), ": "});
  if (!subject.empty()) text += joined({subject, ": "});
  text += rule().words;
  if (!is_set(figure)) return text;
  const ShownUnit unit = shown_unit(rule().measure, units);
  const auto with_unit = [&](const std::string& number) {
    return joined({number, unit.symbol.empty() ? "" : " ", unit.symbol});
  };
  const auto shown_as = [&](double x) { return with_unit(finding_detail::limit_text(x / unit.factor)); };
  const double U = expanded_uncertainty / unit.factor;
  const std::string shown_figure =
      finding_detail::figure_text(figure / unit.factor, U, {low / unit.factor, high / unit.factor});
  const bool ends_in_by = rule().words.ends_with(" by");
  text += joined({ends_in_by ? " " : ": ", with_unit(shown_figure), "; accepted: "});
  if (between_is_bad)
    text += joined({"below ", shown_as(low), " or above ", shown_as(high)});
  else if (is_set(low) && is_set(high))
    text += joined({shown_as(low), " to ", shown_as(high)});
  else
    text += is_set(low) ? joined({shown_as(low), " or more"}) : joined({"up to ", shown_as(high)});
  if (is_set(expanded_uncertainty))
    text += joined({"; uncertainty +/-", with_unit(finding_detail::rounded_text(U, finding_detail::place_of(U, 2)))});
  if (within_uncertainty) text += "; beyond the limit by no more than that, so it proves nothing";
  return text;
}

/// The default limit of a finding's kind, in words; its figure may be another by the user's choice.
/// @param finding of find_all()
/// @return one sentence
inline std::vector<std::string_view> explain(const Finding& finding) {
  return explain(flag(finding.kind), findings_method);
}
/// Source and evidence of a finding's limit.
/// @param finding of find_all()
/// @return one line, for example "trade_practice figures against limits of the trade (practice)"
inline std::string cite(const Finding& finding) {
  const std::string_view limit = finding_limits[static_cast<std::size_t>(finding.kind)].source;
  return limit == findings_method.key ? cite(findings_method) : joined({cite(findings_method), "; limit: ", limit});
}

// ---- the day

/// One step of the day, as the findings need it. What is not known stays unset.
struct TrialStep {
  OperatingPoint<> point = {};          ///< reduced: speed through the water (unset where the runs give none), engine
                                        ///< speed, fuel flow, volume Froude number
  bool both_directions = true;          ///< runs out and back
  Speed<> half_difference = unset;      ///< apparent current, positive where out is faster, -50 to 50 kn
  Duration<> time = unset;              ///< of the step on any clock; optional: the order of the steps then stands in
  std::optional<bool> planing_claimed;  ///< as the tester says; not what a rule made of the figures
};

/// A tank as read.
struct TankReading {
  std::string name;           ///< for the report
  Volume<> capacity = unset;  ///< above 0 to 1e6 L
  Volume<> content = unset;   ///< as read, 0 to 1e6 L: above the capacity is a finding
  Density<> density = unset;  ///< of the contents, 500 to 1500 kg/m3; optional, for the uncertainty of the roll-up
  bool fuel = true;           ///< counts for the fuel capacity

  /// The field table.
  static constexpr auto fields() {
    using K = TankReading;
    return FieldTable{
        field("capacity", &K::capacity, shown(litre, "L"), above(0.0, 1e6)),
        field("content", &K::content, shown(litre, "L"), between(0.0, 1e6)),
        field("density", &K::density, shown(kilogram_per_cubic_metre, "kg/m3"), between(500.0, 1500.0), Need::optional),
        choice("fuel", &K::fuel)};
  }
};

/// A range as stated.
struct RangeClaim {
  std::string name;            ///< for the report; may be empty
  std::size_t step = 0;        ///< index of the step whose speed and fuel flow it goes with
  Length<> distance = unset;   ///< above 0 to 1e5 nmi
  bool reserve_named = false;  ///< whether the reserve was said

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("range", &RangeClaim::distance, shown(nautical_mile, "nmi"), above(0.0, 1e5)),
                      choice("reserve named", &RangeClaim::reserve_named)};
  }
};

/// A timed acceleration as stated, both ways combined.
struct StatedAcceleration {
  std::string name;           ///< for the report, for example "0 to 30 mph"; may be empty
  Speed<> from = 0.0 * knot;  ///< 0 to 150 kn
  Speed<> to = unset;         ///< above `from`, to 150 kn
  Duration<> time = unset;    ///< above 0 to 600 s

  /// The field table.
  static constexpr auto fields() {
    using A = StatedAcceleration;
    return FieldTable{field("from", &A::from, shown(knot, "kn"), between(0.0, 150.0)),
                      field("to", &A::to, shown(knot, "kn"), above(0.0, 150.0)),
                      field("acceleration time", &A::time, shown(second, "s"), above(0.0, 600.0))};
  }
};

/// Everything that the findings look at. What is not known stays unset or empty, and its findings are not made.
struct TrialDay {
  std::vector<TrialStep> steps = {};            ///< in any order
  DriveTrain<> drive = {};                      ///< ratio and pitch for the slip (never for a waterjet), rated power
                                                ///< and speed, lines; each optional
  std::optional<EngineKind> engine = {};        ///< for findings 8 and 9
  RotationRate<> least_rated_speed = unset;     ///< lower end of the maker's full-throttle band, 100 to 20000 rpm
  RotationRate<> greatest_rated_speed = unset;  ///< upper end of it, 100 to 20000 rpm
  std::optional<std::size_t> full_throttle_step = {};     ///< index of the step run at full throttle
  StatedPower<> full_throttle_power = no_power_source();  ///< of all engines at that step, for finding 9
  Density<> fuel_density = unset;                         ///< at the meter, 600 to 1100 kg/m3, for finding 9
  Mass<> rolled_up_displacement = unset;                  ///< light craft + people + fluids + gear, above 0 to 1e6 kg
  Mass<> declared_displacement = unset;                ///< declared or weighed in the same condition, above 0 to 1e6 kg
  int persons_asked = 0;                               ///< people in the roll-up whose mass was asked, 0 to 1000
  std::vector<TankReading> tanks = {};                 ///< readings of the day
  std::vector<RangeClaim> ranges = {};                 ///< as published
  std::vector<StatedAcceleration> accelerations = {};  ///< as published
  Length<> depth = unset;                              ///< least under the runs, tide included, above 0 to 12000 m
  Length<> waterline_length = unset;                   ///< at rest, 0.1 to 150 m
  Speed<> wind = unset;                                ///< 0 to 100 kn
  Length<> wave_height = unset;                        ///< 0 to 20 m
  InstrumentUncertainty uncertainty = {};              ///< of the instruments
  FindingLimits limits = {};                           ///< where a finding begins

  /// The field table of what is no list.
  static constexpr auto fields() {
    using D = TrialDay;
    constexpr Need free = Need::optional;
    constexpr ShownUnit turns = shown(rpm, "rpm"), kg = shown(kilogram, "kg"), m = shown(metre, "m");
    return FieldTable{
        field("least rated speed", &D::least_rated_speed, turns, between(100.0, 20000.0), free),
        field("greatest rated speed", &D::greatest_rated_speed, turns, between(100.0, 20000.0), free),
        field("fuel density", &D::fuel_density, shown(kilogram_per_cubic_metre, "kg/m3"), between(600.0, 1100.0), free),
        field("rolled-up displacement", &D::rolled_up_displacement, kg, above(0.0, 1e6), free),
        field("declared displacement", &D::declared_displacement, kg, above(0.0, 1e6), free),
        count("persons asked", &D::persons_asked, 0, 1000),
        field("depth", &D::depth, m, above(0.0, 12000.0), free),
        field("waterline length", &D::waterline_length, m, between(0.1, 150.0), free),
        field("wind", &D::wind, shown(knot, "kn"), between(0.0, 100.0), free),
        field("wave height", &D::wave_height, m, between(0.0, 20.0), free),
        part("uncertainty", &D::uncertainty),
        part("limits", &D::limits)};
  }
};

namespace finding_detail {

inline constexpr std::string_view function = "find_all";

/// Every field of an aggregate of a list, all of them optional if said so; the row is named counted from 1.
template <class S>
void check_row(const S& row, std::string_view what, std::size_t index, bool all_optional = false) {
  const std::string of_row = joined({" of ", what, " ", std::to_string(index + 1)});
  for_each_field(row, [&](const auto& entry, const auto& value) {
    check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range,
                all_optional ? Need::optional : entry.need);
  });
}

/// A step index of the day.
inline void check_step(std::size_t step, std::string_view field, std::size_t steps) {
  if (step >= steps)
    throw BadInput(function, field, std::to_string(step), joined({"an index below ", std::to_string(steps)}));
}

/// The door: fields, lists, indices.
inline void check_day(const TrialDay& day) {
  check_fields(function, day);
  for_each_field(day.drive, [&](const auto& entry, const auto& value) {
    check_value(function, entry.name, value, entry.unit, entry.range, Need::optional);
  });
  check_counts(function, day.drive);
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    check_row(day.steps[i].point, "step", i, true);
    const std::string of_row = " of step " + std::to_string(i + 1);
    check_value(function, "half-difference" + of_row, day.steps[i].half_difference, shown(knot, "kn"),
                between(-50.0, 50.0), Need::optional);
    check_value(function, "time" + of_row, day.steps[i].time, shown(second, "s"), between(-1e11, 1e11), Need::optional);
  }
  for (std::size_t i = 0; i < day.tanks.size(); ++i) check_row(day.tanks[i], "tank", i);
  for (std::size_t i = 0; i < day.ranges.size(); ++i) {
    check_row(day.ranges[i], "range", i);
    check_step(day.ranges[i].step, joined({"step of range ", std::to_string(i + 1)}), day.steps.size());
  }
  for (std::size_t i = 0; i < day.accelerations.size(); ++i) {
    check_row(day.accelerations[i], "acceleration", i);
    if (day.accelerations[i].to > day.accelerations[i].from) continue;
    throw BadInput(function, joined({"to of acceleration ", std::to_string(i + 1)}), "not above from",
                   "a speed above from");
  }
  if (day.full_throttle_step) check_step(*day.full_throttle_step, "full-throttle step", day.steps.size());
  check_limits(day.limits);
  const bool low = is_set(day.least_rated_speed), high = is_set(day.greatest_rated_speed);
  if (low != high || (low && day.least_rated_speed > day.greatest_rated_speed))
    throw BadInput(function, "rated band", low && high ? "its lower end above its upper" : "one end only",
                   "both ends, the lower one first, or none");
}

/// Gathers findings and weighs each against its uncertainty.
class Gatherer {
 public:
  explicit Gatherer(const TrialDay& day) : day_(day) {}

  /// Adds the finding if its figure is outside its limits. The uncertainty may be unset.
  void judge(Finding finding) {
    const double x = finding.figure;
    double beyond = 0.0;
    if (finding.between_is_bad) {
      beyond = std::min(x - finding.low, finding.high - x);
    } else {
      if (is_set(finding.low)) beyond = std::max(beyond, finding.low - x);
      if (is_set(finding.high)) beyond = std::max(beyond, x - finding.high);
    }
    if (!(beyond > 0.0)) return;
    finding.within_uncertainty = beyond <= finding.expanded_uncertainty;  // false where it is unset
    if (finding.within_uncertainty) finding.severity = Severity::note;
    found.push_back(std::move(finding));
  }
  /// Adds a finding that has no figure.
  void add(Finding finding) { found.push_back(std::move(finding)); }

  /// U from relative standard uncertainties of independent inputs.
  double expanded(double figure, std::initializer_list<double> relative) const {
    double squares = 0.0;
    for (const double u : relative) squares += u * u;
    return day_.uncertainty.coverage_factor * std::abs(figure) * std::sqrt(squares);
  }

  std::vector<Finding> found;

 private:
  const TrialDay& day_;
};

/// 1 and 2. A negative slip is finding 1 alone, also where she planes.
inline void find_slip(const TrialDay& day, Gatherer& gather) {
  if (!is_set(day.drive.reduction_ratio) || !is_set(day.drive.pitch)) return;
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const OperatingPoint<>& point = day.steps[i].point;
    if (!is_set(point.speed) || !is_set(point.engine_speed) || !(point.engine_speed > RotationRate<>{})) continue;
    const UncertainSlip<> slip = uncertain_slip<double>({.engine_speed = point.engine_speed,
                                                         .reduction_ratio = day.drive.reduction_ratio,
                                                         .pitch = day.drive.pitch,
                                                         .speed = point.speed},
                                                        {.speed = day.uncertainty.speed,
                                                         .engine_speed = day.uncertainty.tachometer,
                                                         .pitch = day.uncertainty.pitch,
                                                         .coverage_factor = day.uncertainty.coverage_factor});
    Finding finding{.kind = FindingKind::negative_slip, .severity = Severity::warning, .step = i};
    finding.figure = slip.slip;
    finding.expanded_uncertainty = slip.expanded_uncertainty;
    finding.low = 0.0;
    gather.judge(finding);
    if (!(point.volume_froude_number >= day.limits.slip_planing_from)) continue;
    finding.kind = FindingKind::planing_slip;
    finding.low = unset;
    finding.high = typical_slip_over_speed(point.speed) + day.limits.slip_above_typical;
    gather.judge(finding);
  }
}

/// The half-differences of a day as a curve over time.
struct CurrentPoint {
  std::size_t step;
  double time, current;
};

/// How far point `i` is off the line through its two neighbours (at the ends through the two next), and the factor that
/// the standard deviation of one half-difference takes in it.
struct OffLine {
  double by, factor;
};
inline OffLine off_line(const std::vector<CurrentPoint>& points, std::size_t i) {
  const std::size_t n = points.size();
  const std::size_t a = i == 0 ? 1 : i == n - 1 ? n - 3 : i - 1, b = i == 0 ? 2 : i == n - 1 ? n - 2 : i + 1;
  const double part = (points[i].time - points[a].time) / (points[b].time - points[a].time);
  const double line = points[a].current + part * (points[b].current - points[a].current);
  return {points[i].current - line, std::sqrt(1.0 + (1.0 - part) * (1.0 - part) + part * part)};
}

/// The largest distance of any inner point off its neighbours' line.
inline double roughness(const std::vector<CurrentPoint>& points) {
  double rough = 0.0;
  for (std::size_t i = 1; i + 1 < points.size(); ++i) rough = std::max(rough, std::abs(off_line(points, i).by));
  return rough;
}

/// 3 and 4. The day's smooth current is what the other steps leave when the one without which they are smoothest is
/// taken out; it is taken out for good if it is off, and the rest looked at again. Four steps are the least.
inline void find_current(const TrialDay& day, Gatherer& gather) {
  std::vector<CurrentPoint> points;
  bool timed = true;
  for (const TrialStep& step : day.steps) timed = timed && is_set(step.time);
  // A half-difference is that of two means, each as sure as a run: an offset of the receiver drops out.
  const double u = day.uncertainty.speed.value() / std::sqrt(2.0), k = day.uncertainty.coverage_factor;
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const TrialStep& step = day.steps[i];
    if (!step.both_directions) {
      gather.add({.kind = FindingKind::one_direction, .severity = Severity::warning, .step = i});
      continue;
    }
    if (!is_set(step.half_difference)) continue;
    Finding finding{.kind = FindingKind::half_difference, .severity = Severity::warning, .step = i};
    finding.figure = std::abs(step.half_difference.value());
    finding.high = day.limits.half_difference.value();
    finding.expanded_uncertainty = k * u;
    gather.judge(finding);
    const double f = step.point.volume_froude_number;
    if (f >= day.limits.hump_from && f <= day.limits.hump_to) continue;
    points.push_back({i, timed ? step.time.value() : double(i), step.half_difference.value()});
  }
  std::stable_sort(points.begin(), points.end(),
                   [](const CurrentPoint& a, const CurrentPoint& b) { return a.time < b.time; });
  const auto same_time = [](const CurrentPoint& a, const CurrentPoint& b) { return a.time == b.time; };
  // Two steps at one time leave no slope between them: the times are no help, and no smooth current is asked for.
  if (std::adjacent_find(points.begin(), points.end(), same_time) != points.end()) return;
  while (points.size() >= 4) {
    std::size_t odd = 0;
    double least = no_limit;
    for (std::size_t i = 0; i < points.size(); ++i) {
      std::vector<CurrentPoint> others = points;
      others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
      if (const double rough = roughness(others); rough < least) {
        least = rough;
        odd = i;
      }
    }
    const OffLine off = off_line(points, odd);
    const std::size_t before = gather.found.size();
    Finding finding{.kind = FindingKind::off_smooth_current, .severity = Severity::warning, .step = points[odd].step};
    finding.figure = std::abs(off.by);
    finding.high = day.limits.off_smooth_current.value();
    finding.expanded_uncertainty = k * u * off.factor;
    gather.judge(finding);
    if (gather.found.size() == before) return;
    points.erase(points.begin() + static_cast<std::ptrdiff_t>(odd));
  }
}

/// 5. Rows in the order of engine speed, each against the next that is far enough above it.
inline void find_falls(const TrialDay& day, Gatherer& gather) {
  std::vector<std::size_t> rows;
  for (std::size_t i = 0; i < day.steps.size(); ++i)
    if (is_set(day.steps[i].point.engine_speed)) rows.push_back(i);
  const auto point = [&](std::size_t i) -> const OperatingPoint<>& { return day.steps[i].point; };
  std::stable_sort(rows.begin(), rows.end(),
                   [&](std::size_t a, std::size_t b) { return point(a).engine_speed < point(b).engine_speed; });
  const auto compare = [&](auto value, auto&& judge) {
    for (std::size_t r = 0; r < rows.size(); ++r) {
      if (!is_set(value(rows[r]))) continue;
      const auto next = std::find_if(rows.begin() + static_cast<std::ptrdiff_t>(r) + 1, rows.end(), [&](std::size_t i) {
        return is_set(value(i)) && point(i).engine_speed > (1.0 + day.limits.rows_apart) * point(rows[r]).engine_speed;
      });
      if (next != rows.end()) judge(rows[r], *next);
    }
  };
  compare([&](std::size_t i) { return point(i).speed; },
          [&](std::size_t slower, std::size_t faster) {
            Finding finding{.kind = FindingKind::speed_falls, .severity = Severity::warning, .step = faster};
            finding.figure = (point(slower).speed - point(faster).speed).value();
            finding.high = day.limits.speed_fall.value();
            finding.expanded_uncertainty =
                day.uncertainty.coverage_factor * std::sqrt(2.0) * day.uncertainty.speed.value();
            gather.judge(finding);
          });
  compare([&](std::size_t i) { return point(i).fuel_flow; },
          [&](std::size_t slower, std::size_t faster) {
            if (!(point(slower).fuel_flow > VolumeFlow<>{})) return;
            // One meter reads both rows: its factor drops out, and how well it repeats is not known, so no U.
            Finding finding{.kind = FindingKind::flow_falls, .severity = Severity::warning, .step = faster};
            finding.figure = 1.0 - point(faster).fuel_flow / point(slower).fuel_flow;
            finding.high = day.limits.flow_fall;
            gather.judge(finding);
          });
}

/// 6.
inline void find_planing_claims(const TrialDay& day, Gatherer& gather) {
  for (std::size_t i = 0; i < day.steps.size(); ++i) {
    const OperatingPoint<>& point = day.steps[i].point;
    if (!day.steps[i].planing_claimed.value_or(false) || !is_set(point.volume_froude_number)) continue;
    Finding finding{.kind = FindingKind::planing_claim, .severity = Severity::note, .step = i};
    finding.figure = point.volume_froude_number;
    finding.low = day.limits.planing_for_sure;
    // F_nV goes with V and with the sixth root of the displacement.
    if (is_set(point.speed))
      finding.expanded_uncertainty =
          gather.expanded(finding.figure, {day.uncertainty.speed / point.speed, day.uncertainty.weighing / 6.0});
    const double sure = is_set(finding.expanded_uncertainty) ? finding.expanded_uncertainty : 0.0;
    if (finding.figure < day.limits.planing_at_least - sure) finding.severity = Severity::warning;
    gather.judge(finding);
  }
}

/// 7.
inline void find_ranges(const TrialDay& day, Gatherer& gather) {
  Volume<> capacity{};
  for (const TankReading& tank : day.tanks)
    if (tank.fuel) capacity += tank.capacity;
  for (std::size_t i = 0; i < day.ranges.size(); ++i) {
    const RangeClaim& claim = day.ranges[i];
    const OperatingPoint<>& point = day.steps[claim.step].point;
    Finding finding{.kind = FindingKind::reserve_not_named,
                    .severity = Severity::warning,
                    .step = claim.step,
                    .item = i,
                    .subject = claim.name};
    if (!claim.reserve_named) gather.add(finding);
    if (!(capacity > Volume<>{}) || !is_set(point.speed) || !is_set(point.fuel_flow)) continue;
    finding.kind = FindingKind::range_beyond_capacity;
    finding.severity = Severity::severe;
    finding.figure = Volume<>(claim.distance / point.speed * point.fuel_flow).value();
    finding.high = capacity.value();
    finding.expanded_uncertainty =
        gather.expanded(finding.figure, {day.uncertainty.fuel_flow, day.uncertainty.speed / point.speed});
    gather.judge(finding);
  }
}

/// 8 and 9.
inline void find_full_throttle(const TrialDay& day, Gatherer& gather) {
  if (!day.full_throttle_step) return;
  const OperatingPoint<>& point = day.steps[*day.full_throttle_step].point;
  const RotationRate<>& rated = day.drive.rated_engine_speed;
  if (is_set(point.engine_speed)) {
    Finding finding{
        .kind = FindingKind::full_throttle_speed, .severity = Severity::warning, .step = day.full_throttle_step};
    finding.figure = point.engine_speed.value();
    finding.expanded_uncertainty = gather.expanded(finding.figure, {day.uncertainty.tachometer});
    if (is_set(day.least_rated_speed)) {
      finding.low = day.least_rated_speed.value();
      finding.high = day.greatest_rated_speed.value();
      gather.judge(finding);
    } else if (is_set(rated) && day.engine == EngineKind::diesel) {
      finding.low = rated.value();
      finding.high = (1.0 + day.limits.diesel_above_rated) * rated.value();
      gather.judge(finding);
    }
  }
  if (!day.engine || !(point.fuel_flow > VolumeFlow<>{}) || !is_set(day.fuel_density)) return;
  const SpecificFuelConsumption<> burnt = specific_fuel_consumption<double>(
      {.fuel_flow = point.fuel_flow, .fuel_density = day.fuel_density, .power = day.full_throttle_power});
  if (burnt.outcome != PowerOutcome::found) return;
  Finding finding{.kind = FindingKind::consumption, .severity = Severity::warning, .step = day.full_throttle_step};
  finding.figure = burnt.value.value();
  const FindingLimits& limits = day.limits;
  const bool diesel = day.engine == EngineKind::diesel, injected = day.engine == EngineKind::petrol_injected;
  finding.low = (diesel ? limits.diesel_least : injected ? limits.injected_least : limits.carburetted_least).value();
  finding.high = (diesel ? limits.diesel_most : injected ? limits.injected_most : limits.carburetted_most).value();
  // That of the power is not known; the flow's alone is the least it can be.
  finding.expanded_uncertainty = gather.expanded(finding.figure, {day.uncertainty.fuel_flow});
  gather.judge(finding);
}

/// 10.
inline void find_displacement(const TrialDay& day, Gatherer& gather) {
  if (!is_set(day.rolled_up_displacement) || !is_set(day.declared_displacement)) return;
  const Mass<> rolled_up = day.rolled_up_displacement;
  Finding finding{.kind = FindingKind::displacement, .severity = Severity::warning};
  finding.figure = day.declared_displacement / rolled_up - 1.0;
  finding.high = day.limits.displacement;
  finding.low = -day.limits.displacement;
  double squares = std::pow(day.uncertainty.weighing * double(day.declared_displacement / rolled_up), 2) +
                   day.persons_asked * std::pow(double(day.uncertainty.person / rolled_up), 2);
  for (const TankReading& tank : day.tanks)
    if (is_set(tank.density))
      squares += std::pow(day.uncertainty.tank_sender * double(tank.capacity * tank.density / rolled_up), 2);
  finding.expanded_uncertainty = day.uncertainty.coverage_factor * std::sqrt(squares);
  gather.judge(finding);
}

/// 11.
inline void find_tank_contents(const TrialDay& day, Gatherer& gather) {
  for (std::size_t i = 0; i < day.tanks.size(); ++i) {
    const TankReading& tank = day.tanks[i];
    Finding finding{.kind = FindingKind::tank_content, .severity = Severity::severe, .item = i, .subject = tank.name};
    finding.figure = tank.content.value();
    finding.high = tank.capacity.value();
    finding.expanded_uncertainty = gather.expanded(finding.high, {day.uncertainty.tank_sender});
    gather.judge(finding);
  }
}

/// 13. The rate needs no mass; the power takes the roll-up, or what was declared where there is none.
inline void find_accelerations(const TrialDay& day, Gatherer& gather) {
  const Mass<> mass = is_set(day.rolled_up_displacement) ? day.rolled_up_displacement : day.declared_displacement;
  const bool powered = is_set(day.drive.rated_power) && is_set(mass);
  const Power<> greatest = day.limits.propulsive_coefficient * double(day.drive.lines) * day.drive.rated_power;
  for (std::size_t i = 0; i < day.accelerations.size(); ++i) {
    const StatedAcceleration& stated = day.accelerations[i];
    const double u_t = day.uncertainty.acceleration_time / stated.time;
    Finding finding{
        .kind = FindingKind::acceleration_power, .severity = Severity::severe, .item = i, .subject = stated.name};
    if (powered) {
      const AccelerationPlausibility<> needs =
          acceleration_plausibility<double>({.mass = mass, .from = stated.from, .to = stated.to, .time = stated.time});
      finding.figure = needs.mean_power.value();
      finding.high = greatest.value();
      // An offset u of the receiver changes v_2^2 - v_1^2 by 2u/(v_1 + v_2) of itself.
      const double u_V = 2.0 * (day.uncertainty.speed / (stated.from + stated.to));
      finding.expanded_uncertainty = gather.expanded(finding.figure, {u_t, u_V, day.uncertainty.weighing});
      gather.judge(finding);
    }
    finding.kind = FindingKind::acceleration_rate;
    finding.figure = Acceleration<>((stated.to - stated.from) / stated.time).value();
    finding.high = day.limits.acceleration.value();
    finding.expanded_uncertainty = gather.expanded(finding.figure, {u_t});
    gather.judge(finding);
  }
}

/// 15 and 16.
inline void find_conditions(const TrialDay& day, Gatherer& gather) {
  for (std::size_t i = 0; i < day.steps.size() && is_set(day.depth); ++i) {
    const OperatingPoint<>& point = day.steps[i].point;
    if (!is_set(point.speed)) continue;
    const DepthCondition<> depth = depth_condition<double>({.speed = point.speed,
                                                            .depth = day.depth,
                                                            .volume_froude_number = point.volume_froude_number,
                                                            .waterline_length = day.waterline_length});
    Finding finding{.kind = FindingKind::depth, .severity = std::max(depth.severity, Severity::note), .step = i};
    finding.figure = depth.depth_froude_number;
    finding.low = day.limits.depth_froude_from;
    finding.high = day.limits.depth_froude_to;
    finding.between_is_bad = true;
    gather.judge(finding);  // how sure a charted depth is nobody knows: no U
  }
  if (is_set(day.wind)) {
    Finding finding{.kind = FindingKind::wind, .severity = Severity::note};
    finding.figure = day.wind.value();
    finding.high = day.limits.wind.value();
    finding.expanded_uncertainty =
        gather.expanded(1.0, {day.uncertainty.wind.value(), day.uncertainty.wind_relative * day.wind.value()});
    gather.judge(finding);
  }
  if (is_set(day.wave_height)) {
    Finding finding{.kind = FindingKind::sea, .severity = Severity::note};
    finding.figure = day.wave_height.value();
    finding.high = day.limits.waves.value();
    gather.judge(finding);  // an estimate by eye: no U
  }
}

}  // namespace finding_detail

/// Every finding of a day, in the order of their numbers, then of the steps. What is not known makes no finding.
/// Source: trade_practice (limits); evidence: practice. Finding 2 compares with gerr_1989 (recalled), and cites it so.
/// @param day steps, drive, load, tanks, ranges, accelerations, conditions; uncertainties and limits if the defaults do
///            not suit; ranges in the field tables
/// @return the findings; empty for a day that holds together
/// @throws BadInput for a field out of range, naming the row of a list counted from 1; a step that is not in the day;
///         one end of a rated band without the other; a pair of limits the wrong way round; an acceleration whose end
///         is not above its start
inline std::vector<Finding> find_all(const TrialDay& day) {
  finding_detail::check_day(day);
  finding_detail::Gatherer gather(day);
  finding_detail::find_slip(day, gather);
  finding_detail::find_current(day, gather);
  finding_detail::find_falls(day, gather);
  finding_detail::find_planing_claims(day, gather);
  finding_detail::find_ranges(day, gather);
  finding_detail::find_full_throttle(day, gather);
  finding_detail::find_displacement(day, gather);
  finding_detail::find_tank_contents(day, gather);
  finding_detail::find_accelerations(day, gather);
  finding_detail::find_conditions(day, gather);
  std::stable_sort(gather.found.begin(), gather.found.end(), [](const Finding& a, const Finding& b) {
    return a.kind != b.kind ? a.kind < b.kind : a.step < b.step;
  });
  return std::move(gather.found);
}

}  // namespace hardchine
