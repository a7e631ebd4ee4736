/// @file
/// Is this slip ordinary? Apparent slip with its uncertainty, where it sits among typical slips and bands of the trade,
/// what would explain it, and what pitch or ratio would make it ordinary.
///
/// Two sets stand side by side because they differ: typical slips by boat type and speed with the fit 1.4/V_kn^0.57 of
/// 9 to 90 kn (shaft-driven boats, recalled from a handbook and flagged so), and bands of the trade for outboards and
/// stern drives trimmed out on plane (practice; their stamped pitch is nominal and cupped). Which one judges is named in
/// the answer; an own band comes before both.
///
/// Slip is no loss, and an ordinary slip is no proof of a good propeller.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "hardchine/propulsion/slip.hpp"

namespace hardchine {

// ---- uncertainty

/// Uncertainty of apparent slip by first-order propagation; the instruments' defaults are practice.
inline constexpr Method slip_uncertainty_method{.name = "Uncertainty of apparent slip",
                                                .key = "trade_practice",
                                                .equations = "u_s = (1 - s_A) sqrt(u_V^2 + u_n^2 + u_P^2), relative",
                                                .evidence = Evidence::practice,
                                                .limits = {},
                                                .instead_beyond = ""};

/// Relative standard uncertainty of a dashboard tachometer (practice).
inline constexpr double dashboard_tachometer_uncertainty = 1.2 * percent;
/// Standard uncertainty of an engine computer's rotation rate (practice); divide it by the reading.
inline constexpr RotationRate<> engine_computer_uncertainty = 3.0 * rpm;
/// Relative standard uncertainty of a propeller's pitch as stamped (practice).
inline constexpr double stamped_pitch_uncertainty = 1.5 * percent;
/// Standard uncertainty of satellite speed, mean of 10 s under open sky (practice).
inline constexpr Speed<> satellite_speed_uncertainty = 0.05 * knot;

/// Standard uncertainties of what a slip is made from. The defaults are practice: replace them by your own.
template <class T = double>
struct SlipReadings {
  Speed<T> speed = widen<T>(satellite_speed_uncertainty);  ///< of V, 0 to 20 kn; current not removed belongs in it
  T engine_speed = T(dashboard_tachometer_uncertainty);    ///< of n_e, relative, 0 to 50 %
  T pitch = T(stamped_pitch_uncertainty);                  ///< of P, relative, 0 to 50 %
  T coverage_factor = T(1.96);                             ///< k of U = k u: 1.96 for 95 %, 1 to 5

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("speed uncertainty", &SlipReadings::speed, shown(knot, "kn"), between(0.0, 20.0)),
                      field("engine speed uncertainty", &SlipReadings::engine_speed, shown_percent, between(0.0, 50.0)),
                      field("pitch uncertainty", &SlipReadings::pitch, shown_percent, between(0.0, 50.0)),
                      field("coverage factor", &SlipReadings::coverage_factor, plain_ratio, between(1.0, 5.0))};
  }
  /// The same in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator SlipReadings<U>() const {
    return widen_fields<SlipReadings<U>>(*this);
  }
};

/// Apparent slip with its uncertainty, all as ratios: 0.12 is 12 %.
template <class T = double>
struct UncertainSlip {
  T slip = unset;                                   ///< s_A
  T standard_uncertainty = unset;                   ///< u_s
  T expanded_uncertainty = unset;                   ///< U = k u_s
  const Method* method = &slip_uncertainty_method;  ///< who answered
};

/// Apparent slip with its standard and expanded uncertainty, u_s = (1 - s_A) sqrt(u_V^2 + u_n^2 + u_P^2) with relative
/// uncertainties of speed, rotation rate and pitch; the ratio counts as exact.
/// Source: trade_practice, first order of s_A = 1 - V r_g/(P n_e) for independent readings; evidence: practice.
/// @param advance as for apparent_slip(), with a speed above 0
/// @param readings standard uncertainties of speed (0 to 20 kn), rotation rate and pitch (0 to 50 %), coverage factor
/// @return slip, standard and expanded uncertainty
/// @throws BadInput for a field that is unset or out of range, or a boat that stands
template <class T = double>
UncertainSlip<T> uncertain_slip(const ScrewAdvance<T>& advance,
                                const std::type_identity_t<SlipReadings<T>>& readings = {}) {
  constexpr std::string_view function = "uncertain_slip";
  check_fields(function, advance);
  check_value(function, "speed", advance.speed, shown(knot, "kn"), slip_ranges::moving);
  check_fields(function, readings);
  using std::sqrt;
  const T s_A = apparent_slip(advance);
  const T u_V = readings.speed / advance.speed;
  const T u_n = readings.engine_speed, u_P = readings.pitch;
  const T u_s = (1.0 - s_A) * sqrt(u_V * u_V + u_n * u_n + u_P * u_P);
  return {.slip = s_A, .standard_uncertainty = u_s, .expanded_uncertainty = readings.coverage_factor * u_s};
}

// ---- what is ordinary

/// Boats by which slips are compared. The first six are the rows of typical_slips; the last three run on an outboard or
/// stern drive, trimmed out.
enum class BoatType : std::uint8_t {
  not_said,
  sailing_auxiliary_or_barge,
  workboat_or_heavy_powerboat,
  cruiser_or_light_powerboat,
  fast_planing,
  vee_bottom_race,
  stepped_or_catamaran_race,
  outboard_fast_vee,
  outboard_runabout,
  outboard_heavy_or_pontoon
};

/// The boat type in the words of a report.
/// @param type any
/// @return a short phrase
constexpr std::string_view words(BoatType type) {
  switch (type) {
    case BoatType::not_said:
      break;
    case BoatType::sailing_auxiliary_or_barge:
      return "sailing auxiliary or barge";
    case BoatType::workboat_or_heavy_powerboat:
      return "workboat or heavy powerboat";
    case BoatType::cruiser_or_light_powerboat:
      return "cruiser or light powerboat";
    case BoatType::fast_planing:
      return "fast planing boat";
    case BoatType::vee_bottom_race:
      return "vee-bottom race boat";
    case BoatType::stepped_or_catamaran_race:
      return "stepped or catamaran race boat";
    case BoatType::outboard_fast_vee:
      return "fast vee-bottom on outboard or stern drive";
    case BoatType::outboard_runabout:
      return "runabout on outboard or stern drive";
    case BoatType::outboard_heavy_or_pontoon:
      return "heavy boat or pontoon on outboard or stern drive";
  }
  return "boat type not said";
}

/// How the boat runs at that speed.
enum class RunsAs : std::uint8_t { steadily, on_the_hump };

/// A row of the table of typical slips.
struct TypicalSlip {
  BoatType type;  ///< of the row
  Speed<> above;  ///< lower end of its speeds
  Speed<> upto;   ///< upper end of its speeds
  double slip;    ///< typical apparent slip
};

/// Typical slips by boat type. Source: gerr_1989; evidence: recalled.
inline constexpr std::array<TypicalSlip, 6> typical_slips{{
    {BoatType::sailing_auxiliary_or_barge, 0.0 * knot, 9.0 * knot, 0.45},
    {BoatType::workboat_or_heavy_powerboat, 9.0 * knot, 15.0 * knot, 0.26},
    {BoatType::cruiser_or_light_powerboat, 15.0 * knot, 30.0 * knot, 0.24},
    {BoatType::fast_planing, 30.0 * knot, 45.0 * knot, 0.20},
    {BoatType::vee_bottom_race, 45.0 * knot, 90.0 * knot, 0.10},
    {BoatType::stepped_or_catamaran_race, 90.0 * knot, 1e9 * knot, 0.07},
}};

/// Typical slips of a handbook, by boat type and as a fit over speed. Recalled, so never without its flag.
inline constexpr Method typical_slip_method{.name = "Typical apparent slip by boat type and speed",
                                            .key = "gerr_1989",
                                            .equations = "table by boat type; s = 1.4/V_kn^0.57",
                                            .evidence = Evidence::recalled,
                                            .limits = {},
                                            .instead_beyond = "slip of the same hull measured before"};

/// Bands of the trade for outboards and stern drives trimmed out on plane, and for any boat on the hump.
inline constexpr Method trade_slip_bands_method{.name = "Bands of apparent slip in the trade",
                                                .key = "trade_practice",
                                                .equations = "bands by boat type",
                                                .evidence = Evidence::practice,
                                                .limits = {},
                                                .instead_beyond = "slip of the same hull measured before"};

/// Least speed in knots where the fit of typical slip over speed is used: below it the fit leaves its own table (at
/// 5 kn 56 % against 45 %).
inline constexpr double typical_slip_fit_from = 9.0;
/// Greatest speed in knots where the fit is used: there its table ends.
inline constexpr double typical_slip_fit_to = 90.0;

/// Typical apparent slip over speed, s = 1.4/V_kn^0.57: 20 kn 25 %, 30 kn 20 %, 60 kn 14 %.
/// Source: gerr_1989; evidence: recalled.
/// @param speed V, above 0 to 150 kn; valid for 9 to 90 kn, outside it check_slip() leaves the fit out
/// @return the slip as a ratio
/// @throws BadInput if the speed is unset or out of range
template <class T>
T typical_slip_over_speed(const Speed<T>& speed) {
  check_value("typical_slip_over_speed", "speed", speed, shown(knot, "kn"), slip_ranges::moving);
  using std::pow;
  const T V_kn = in(speed, knot);
  return T(1.4 / pow(V_kn, 0.57));
}

/// The row of typical slips for a boat: its own, or for a type that has none the row of its speed.
/// @param type of the boat, said
/// @param speed V, above 0 to 150 kn
/// @return the row. Source: gerr_1989 (recalled)
/// @throws BadInput if the type is not said or the speed out of range
inline TypicalSlip typical_slip_row(BoatType type, const Speed<>& speed) {
  if (type == BoatType::not_said) throw BadInput("typical_slip_row", "boat type", "not said", "one of the boat types");
  check_value("typical_slip_row", "speed", speed, shown(knot, "kn"), slip_ranges::moving);
  for (const TypicalSlip& row : typical_slips)
    if (row.type == type) return row;
  for (const TypicalSlip& row : typical_slips)
    if (speed <= row.upto) return row;
  return typical_slips.back();
}

/// Who says that a band is ordinary.
enum class BandOrigin : std::uint8_t { typical, trade, own };

/// The origin in the words of a report.
/// @param origin any
/// @return a short phrase
constexpr std::string_view words(BandOrigin origin) {
  switch (origin) {
    case BandOrigin::typical:
      return "typical slips of a handbook (recalled), widened";
    case BandOrigin::trade:
      return "band of the trade (practice)";
    case BandOrigin::own:
      return "your own band";
  }
  return "unknown";
}

/// Slips that count as ordinary, as ratios.
struct SlipBand {
  double low;         ///< lower end
  double high;        ///< upper end
  BandOrigin origin;  ///< who says so

  /// The middle of the band.
  constexpr double middle() const { return 0.5 * (low + high); }
};

/// The trade's band for a boat, if it has one.
/// @param type of the boat
/// @param runs on the hump 30 to 60 % whatever the boat
/// @return the band or nothing. Source: trade_practice (outboards and stern drives, trimmed out on plane; practice)
constexpr std::optional<SlipBand> trade_slip_band(BoatType type, RunsAs runs) {
  if (runs == RunsAs::on_the_hump) return SlipBand{0.30, 0.60, BandOrigin::trade};
  switch (type) {
    case BoatType::outboard_fast_vee:
      return SlipBand{0.05, 0.12, BandOrigin::trade};
    case BoatType::outboard_runabout:
      return SlipBand{0.08, 0.15, BandOrigin::trade};
    case BoatType::outboard_heavy_or_pontoon:
      return SlipBand{0.15, 0.30, BandOrigin::trade};
    default:
      return std::nullopt;
  }
}

/// Where a slip sits.
enum class BandPosition : std::uint8_t { below, inside, above };

/// A slip against one band.
struct BandJudgement {
  SlipBand band;            ///< what it was compared with
  BandPosition position;    ///< where it sits
  bool beyond_uncertainty;  ///< outside by more than the expanded uncertainty of the slip
};

/// The judgement in the words of a report, for example "above, but by less than its uncertainty".
/// @param judgement of judge_slip()
/// @return a short phrase
constexpr std::string_view words(const BandJudgement& judgement) {
  const bool sure = judgement.beyond_uncertainty;
  switch (judgement.position) {
    case BandPosition::below:
      return sure ? "below" : "below, but by less than its uncertainty";
    case BandPosition::inside:
      return "inside";
    case BandPosition::above:
      return sure ? "above" : "above, but by less than its uncertainty";
  }
  return "unknown";
}

/// Compares a slip with a band.
/// @param slip with its expanded uncertainty, any numbers
/// @param band low and high, any numbers, the high end not below the low one
/// @return where it sits
/// @throws BadInput if slip or uncertainty is not set, or the band has no two ends in order
/// Source: trade_practice; evidence: practice.
inline BandJudgement judge_slip(const UncertainSlip<>& slip, const SlipBand& band) {
  // Compared with nothing, a slip would pass for an ordinary one.
  require_set("judge_slip", "apparent slip", slip.slip, "any number");
  require_set("judge_slip", "expanded uncertainty", slip.expanded_uncertainty, "any number");
  if (!(band.low <= band.high))
    throw BadInput("judge_slip", "band low", plain_number(band.low / percent) + " %",
                   joined({"at most the upper end, ", plain_number(band.high / percent), " %"}));
  const double U = slip.expanded_uncertainty;
  if (slip.slip < band.low) return {band, BandPosition::below, slip.slip + U < band.low};
  if (slip.slip > band.high) return {band, BandPosition::above, slip.slip - U > band.high};
  return {band, BandPosition::inside, false};
}

// ---- what may explain it

/// The true pitch is not the stamped one (cup, re-pitched, progressive pitch named by another mean).
struct OtherPitch {
  Length<> stamped;    ///< as given
  Length<> at_edge;    ///< true pitch that brings the slip to the nearest edge of the band
  Length<> at_middle;  ///< to its middle
};
/// The reduction ratio is not the given one (of a sister unit).
struct OtherRatio {
  double given;      ///< engine turns for one propeller turn, as given
  double at_edge;    ///< ratio that brings the slip to the nearest edge of the band
  double at_middle;  ///< to its middle
};
/// The tachometer is off. Reading over truth less one: positive reads high.
struct TachometerOff {
  double at_edge;    ///< error that brings the slip to the nearest edge of the band
  double at_middle;  ///< to its middle
};
/// A current along the course is in the speed. Positive: with the boat.
struct CurrentInSpeed {
  Speed<> at_edge;    ///< current that brings the slip to the nearest edge of the band
  Speed<> at_middle;  ///< to its middle
};
/// The number of the speed belongs to the other unit.
struct SpeedUnitMistaken {
  bool knots_were_mph;  ///< true: it was mph and taken for knots; false: knots taken for mph
  double slip_then;     ///< apparent slip with the other unit
};
/// The ratio was written propeller turns for one engine turn.
struct RatioUpsideDown {
  double ratio;      ///< 1/r_g
  double slip_then;  ///< apparent slip with it
};

/// The unit in which the speed was read or typed.
enum class SpeedTypedIn : std::uint8_t { knots, miles_per_hour, other };

/// One thing that would explain a slip, and what it would take.
using SlipCause = std::variant<OtherPitch, OtherRatio, TachometerOff, CurrentInSpeed, SpeedUnitMistaken>;

/// How far each cause is believed (practice, no source; yours to change). A cause that would take more is not offered.
struct CauseLimits {
  double pitch = 15.0 * percent;         ///< true pitch off the stamp, 0 to 100 %
  double tachometer = 10.0 * percent;    ///< 0 to 100 %
  Speed<> current = 4.0 * knot;          ///< 0 to 30 kn
  double lowest_reduction_ratio = 0.7;   ///< of gears that exist, 0.1 to 100
  double highest_reduction_ratio = 3.5;  ///< 0.1 to 100

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("largest pitch error", &CauseLimits::pitch, shown_percent, between(0.0, 100.0)),
                      field("largest tachometer error", &CauseLimits::tachometer, shown_percent, between(0.0, 100.0)),
                      field("largest current", &CauseLimits::current, shown(knot, "kn"), between(0.0, 30.0)),
                      field("lowest reduction ratio", &CauseLimits::lowest_reduction_ratio, plain_ratio,
                            slip_ranges::reduction_ratio),
                      field("highest reduction ratio", &CauseLimits::highest_reduction_ratio, plain_ratio,
                            slip_ranges::reduction_ratio)};
  }
};

/// Symbols and units in which causes are worded.
struct CauseUnits {
  Length<> pitch = inch;                 ///< unit of pitch
  std::string_view pitch_symbol = "in";  ///< its symbol
  Speed<> speed = knot;                  ///< unit of current
  std::string_view speed_symbol = "kn";  ///< its symbol
};

namespace slip_detail {
/// Rounded to `steps` a unit: 10 for tenths.
inline std::string rounded(double x, double steps) { return plain_number(std::round(x * steps) / steps); }
}  // namespace slip_detail

/// A cause in the words of a report, for example "true pitch 25.3 in instead of 24 in as stamped (27.1 in for
/// the middle)".
/// @param cause any
/// @param units of pitch and current
/// @return one sentence without a full stop; pitch and current to a tenth, ratio to a hundredth, errors to a per cent
inline std::string words(const SlipCause& cause, const CauseUnits& units = {}) {
  using slip_detail::rounded;
  struct Words {
    const CauseUnits& in_units;
    std::string pitch(const Length<>& p) const {
      return joined({rounded(in(p, in_units.pitch), 10.0), " ", in_units.pitch_symbol});
    }
    std::string operator()(const OtherPitch& c) const {
      return joined({"true pitch ", pitch(c.at_edge), " instead of ", pitch(c.stamped), " as stamped (",
                     pitch(c.at_middle), " for the middle)"});
    }
    std::string operator()(const OtherRatio& c) const {
      return joined({"ratio ", rounded(c.at_edge, 100.0), " instead of ", rounded(c.given, 1000.0), " (",
                     rounded(c.at_middle, 100.0), " for the middle)"});
    }
    std::string operator()(const TachometerOff& c) const {
      return joined({"tachometer reads ", rounded(std::abs(c.at_edge) / percent, 1.0), " % ",
                     c.at_edge > 0.0 ? "high" : "low", " (", rounded(std::abs(c.at_middle) / percent, 1.0),
                     " % for the middle)"});
    }
    std::string operator()(const CurrentInSpeed& c) const {
      const auto speed = [&](const Speed<>& v) {
        return joined({rounded(std::abs(in(v, in_units.speed)), 10.0), " ", in_units.speed_symbol});
      };
      return joined({speed(c.at_edge), c.at_edge > Speed<>{} ? " of current with" : " of current against",
                     " the boat in the speed (", speed(c.at_middle), " for the middle)"});
    }
    std::string operator()(const SpeedUnitMistaken& c) const {
      return joined(
          {c.knots_were_mph ? "the speed was mph and was taken for knots" : "the speed was knots and was taken for mph",
           " (slip then ", rounded(c.slip_then / percent, 10.0), " %)"});
    }
  };
  return std::visit(Words{units}, cause);
}

/// What explains a slip outside its band and leaves no number.
/// @param position of the slip
/// @return words, none for a slip inside. Source: trade_practice (practice)
inline std::span<const std::string_view> causes_without_number(BandPosition position) {
  static constexpr std::array<std::string_view, 4> too_small{
      "runs one way only, current not removed", "wake of the hull on the propeller", "running down a sea",
      "cupped or progressive blades whose pitch is named by another mean"};
  static constexpr std::array<std::string_view, 8> too_large{"engine speed read before the boat speed settled",
                                                             "ventilation: mounted high, trimmed out too far, turning",
                                                             "cavitation, blades too small",
                                                             "damaged blades",
                                                             "slipping hub or clutch",
                                                             "fouled bottom or propeller",
                                                             "overload",
                                                             "not over the hump"};
  if (position == BandPosition::below) return too_small;
  if (position == BandPosition::above) return too_large;
  return {};
}

// ---- the check

/// The bits of slip_check_limits.
enum class SlipCheckLimit : std::uint8_t {
  typical_slip_recalled,
  speed_outside_row,
  judged_by_recalled,
  speed_outside_fit
};

/// What a slip check owns up to.
inline constexpr std::array<Limit, 4> slip_check_limits{{
    {"typical slips are recalled from a handbook, not compared with print", "gerr_1989", 0.0, 0.0},
    {"speed outside the speeds of the boat type's row of typical slips", "gerr_1989 table", 0.0, 0.0},
    {"the trade has no band for this boat type here: judged against recalled typical slips", "trade_practice", 0.0,
     0.0},
    {"speed outside 9 to 90 kn: the fit of typical slip over speed is left out", "gerr_1989 (recalled)",
     typical_slip_fit_from, typical_slip_fit_to},
}};

/// The whole check.
inline constexpr Method slip_check_method{.name = "Check of an apparent slip",
                                          .key = "trade_practice",
                                          .equations = "bands, and apparent slip solved for each cause",
                                          .evidence = Evidence::practice,
                                          .limits = slip_check_limits,
                                          .instead_beyond = "slip of the same hull measured before"};

/// The input of check_slip(). On double: a judgement has no derivative.
struct SlipCheckInput {
  ScrewAdvance<> advance = {};                        ///< engine speed, ratio, pitch, speed through the water (above 0)
  BoatType boat_type = BoatType::not_said;            ///< required
  RunsAs runs = RunsAs::steadily;                     ///< on the hump high slip is ordinary
  SpeedTypedIn speed_typed_in = SpeedTypedIn::knots;  ///< which mistake of unit is possible: knots for mph or back
  SlipReadings<> readings = {};                       ///< uncertainties
  double own_band_low = unset;   ///< lower end of an own band, -100 to 100 %; optional, with the upper end
  double own_band_high = unset;  ///< upper end of an own band, -100 to 100 %; optional
  double margin_about_typical = 8.0 * percent;  ///< widens the typical slips to a band, 0 to 50 % points (practice)
  CauseLimits believed = {};                    ///< how far each cause is believed

  /// The field table.
  static constexpr auto fields() {
    constexpr Need free = Need::optional;
    return FieldTable{
        part("advance", &SlipCheckInput::advance),
        choice("boat type", &SlipCheckInput::boat_type),
        choice("runs", &SlipCheckInput::runs),
        choice("speed typed in", &SlipCheckInput::speed_typed_in),
        part("readings", &SlipCheckInput::readings),
        field("own band low", &SlipCheckInput::own_band_low, shown_percent, between(-100.0, 100.0), free),
        field("own band high", &SlipCheckInput::own_band_high, shown_percent, between(-100.0, 100.0), free),
        field("margin about typical", &SlipCheckInput::margin_about_typical, shown_percent, between(0.0, 50.0)),
        part("believed", &SlipCheckInput::believed)};
  }
};

/// The answer of check_slip().
struct SlipCheck {
  UncertainSlip<> slip = {};                   ///< apparent slip with its uncertainty
  Speed<> theoretical_speed = unset;           ///< V_t
  TypicalSlip typical = {};                    ///< row of the table of typical slips (recalled)
  double typical_over_speed = unset;           ///< the fit at this speed (recalled); unset outside 9 to 90 kn
  BandJudgement by_typical = {};               ///< from the lesser to the greater of those set, widened by the margin
  std::optional<BandJudgement> by_trade = {};  ///< the trade's band, if it has one
  BandJudgement judged = {};                   ///< the one that counts: own, else trade, else typical
  std::optional<RatioUpsideDown> upside_down = {};  ///< slip outside -5 to 60 %, and inside with 1/r_g
  /// Each brings the slip into the band that counts; none if it is inside, or if the ratio looks upside down.
  std::vector<SlipCause> causes = {};
  Length<> ordinary_pitch = unset;  ///< pitch at which these figures slip as the middle of the band; not if upside down
  double ordinary_ratio = unset;    ///< ratio at which they do; not if upside down
  Flags flags = 0;                  ///< bits into slip_check_limits
  const Method* method = &slip_check_method;  ///< who answered
};

namespace slip_detail {

/// Every cause that brings the slip to the band within what is believed of it.
inline std::vector<SlipCause> explain_slip(const SlipCheckInput& input, const BandJudgement& judged, double slip) {
  std::vector<SlipCause> causes;
  if (judged.position == BandPosition::inside) return causes;
  const ScrewAdvance<>& a = input.advance;
  const CauseLimits& believed = input.believed;
  const SlipBand& band = judged.band;
  const double edge = judged.position == BandPosition::below ? band.low : band.high;
  const double middle = band.middle();
  // Apparent slip solved for one input at a time. What stays of 1 - s shows the same ratio in each.
  const double to_edge = (1.0 - slip) / (1.0 - edge), to_middle = (1.0 - slip) / (1.0 - middle);
  if (std::abs(to_edge - 1.0) <= believed.pitch)
    causes.emplace_back(OtherPitch{a.pitch, a.pitch * to_edge, a.pitch * to_middle});
  const double ratio = a.reduction_ratio / to_edge;
  if (ratio >= believed.lowest_reduction_ratio && ratio <= believed.highest_reduction_ratio)
    causes.emplace_back(OtherRatio{a.reduction_ratio, ratio, a.reduction_ratio / to_middle});
  if (const double reads_high = 1.0 / to_edge - 1.0; std::abs(reads_high) <= believed.tachometer)
    causes.emplace_back(TachometerOff{reads_high, 1.0 / to_middle - 1.0});
  const Speed<> current = a.speed * (1.0 - 1.0 / to_edge);
  if (magnitude(current) <= believed.current)
    causes.emplace_back(CurrentInSpeed{current, a.speed * (1.0 - 1.0 / to_middle)});
  if (input.speed_typed_in != SpeedTypedIn::other) {
    const bool knots_were_mph = input.speed_typed_in == SpeedTypedIn::knots;
    const double factor = mph / knot;
    const double then = 1.0 - (1.0 - slip) * (knots_were_mph ? factor : 1.0 / factor);
    if (then >= band.low && then <= band.high) causes.emplace_back(SpeedUnitMistaken{knots_were_mph, then});
  }
  return causes;
}

}  // namespace slip_detail

/// Checks an apparent slip: uncertainty, bands, what would explain it, what would make it ordinary.
///
/// The ordinary pitch and ratio say with which one the same engine speed and boat speed slip as the middle of the band.
/// They name a suspect; they are no propeller to buy, since another propeller changes both speeds. Where the ratio looks
/// upside down nothing else is explained: the figures that follow from it mean nothing.
/// @param input engine speed, ratio, pitch, speed above 0, boat type; uncertainties, an own band and limits of belief
///   if the defaults do not suit
/// @return slip, where it sits, causes, ordinary pitch and ratio, flags
/// @throws BadInput for a field that is unset or out of range, a boat type not said, one end of an own band without the
///   other or a lower end that is not below the upper one, or a slip below -1000 %
/// Source: trade_practice (bands, limits of belief; practice), gerr_1989 (typical slips; recalled, flagged)
inline SlipCheck check_slip(const SlipCheckInput& input) {
  constexpr std::string_view function = "check_slip";
  check_fields(function, input);
  if (input.boat_type == BoatType::not_said) throw BadInput(function, "boat type", "not said", "one of the boat types");
  if (input.boat_type > BoatType::outboard_heavy_or_pontoon)
    throw BadInput(function, "boat type", "unknown", "one of the boat types");
  const bool own = is_set(input.own_band_low) || is_set(input.own_band_high);
  if (own) {
    require_set(function, "own band low", input.own_band_low, "-100 % to 100 %, with the upper end");
    require_set(function, "own band high", input.own_band_high, "-100 % to 100 %, with the lower end");
    if (!(input.own_band_low < input.own_band_high))
      throw BadInput(function, "own band low", plain_number(input.own_band_low / percent) + " %",
                     joined({"below the upper end, ", plain_number(input.own_band_high / percent), " %"}));
    if (!(input.own_band_high < 1.0)) throw BadInput(function, "own band high", "100 %", "below 100 %: the boat moves");
  }
  const ScrewAdvance<>& a = input.advance;
  SlipCheck check{.slip = uncertain_slip(a, input.readings)};
  const double s = check.slip.slip;
  check_value(function, "apparent slip", s, shown_percent, slip_ranges::any_slip);
  check.theoretical_speed = theoretical_speed<double>(
      {.engine_speed = a.engine_speed, .reduction_ratio = a.reduction_ratio, .pitch = a.pitch});

  check.typical = typical_slip_row(input.boat_type, a.speed);
  check.flags |= flag(SlipCheckLimit::typical_slip_recalled);
  if (!(a.speed > check.typical.above && a.speed <= check.typical.upto))
    check.flags |= flag(SlipCheckLimit::speed_outside_row);
  double lesser = check.typical.slip, greater = check.typical.slip;
  if (a.speed >= typical_slip_fit_from * knot && a.speed <= typical_slip_fit_to * knot) {
    check.typical_over_speed = typical_slip_over_speed(a.speed);
    lesser = std::min(lesser, check.typical_over_speed);
    greater = std::max(greater, check.typical_over_speed);
  } else {
    check.flags |= flag(SlipCheckLimit::speed_outside_fit);
  }
  // A slip below nothing, or that of a boat that stands, is never ordinary.
  check.by_typical =
      judge_slip(check.slip, {std::max(lesser - input.margin_about_typical, 0.0),
                              std::min(greater + input.margin_about_typical, 0.95), BandOrigin::typical});
  if (const auto band = trade_slip_band(input.boat_type, input.runs)) check.by_trade = judge_slip(check.slip, *band);
  if (own)
    check.judged = judge_slip(check.slip, {input.own_band_low, input.own_band_high, BandOrigin::own});
  else if (check.by_trade)
    check.judged = *check.by_trade;
  else
    check.judged = check.by_typical;
  if (check.judged.band.origin == BandOrigin::typical) check.flags |= flag(SlipCheckLimit::judged_by_recalled);

  // V/V_t is proportional to r_g: with 1/r_g it is r_g^2 times smaller.
  const double r_g = a.reduction_ratio;
  const double turned = 1.0 - (1.0 - s) / (r_g * r_g);
  const auto believable = [](double slip) { return slip >= -0.05 && slip <= 0.60; };
  if (!believable(s) && believable(turned)) check.upside_down = RatioUpsideDown{1.0 / r_g, turned};
  if (check.upside_down) return check;

  check.causes = slip_detail::explain_slip(input, check.judged, s);
  const double to_middle = (1.0 - s) / (1.0 - check.judged.band.middle());
  check.ordinary_pitch = a.pitch * to_middle;
  check.ordinary_ratio = a.reduction_ratio / to_middle;
  return check;
}

/// Sources and evidence of a check.
/// @param check answer of check_slip()
/// @return one line
inline std::string cite(const SlipCheck& check) {
  return joined({cite(*check.method), "; typical slips: ", cite(typical_slip_method)});
}

}  // namespace hardchine
