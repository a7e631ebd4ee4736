/// @file
/// Timed acceleration: from samples of speed over time, or as noted by the tester; both ways combined; plausibility.
///
/// A satellite speed never reads zero, so the start is found by a named rule, and the start, not the crossing, carries
/// the error: up to a whole sample for the last standstill sample, little for a back-extrapolation. Times by different
/// rules are not comparable. Full-throttle starts: everybody seated and warned, clear water, a lookout, kill cord worn;
/// the local rules come first.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "hardchine/fields.hpp"
#include "hardchine/trial/run.hpp"

namespace hardchine {

/// Standstill, for the rules that need one.
inline constexpr Speed<> standstill_below = 0.5 * mph;
/// The lower of the two crossings of the back-extrapolation.
inline constexpr Speed<> extrapolation_low = 2.0 * mph;
/// The upper of the two crossings of the back-extrapolation.
inline constexpr Speed<> extrapolation_high = 5.0 * mph;

/// The bits of the limits of a timed acceleration.
enum class AccelerationLimit : std::uint8_t { coarse_start };

/// The limits of a timed acceleration.
inline constexpr std::array<Limit, 1> acceleration_limits{
    Limit{"start by the last standstill sample: the time is long by up to one sample", "trade_practice", 0.0, 0.0}};

/// Timed acceleration by crossings.
inline constexpr Method acceleration_method{.name = "Timed acceleration by interpolated crossings",
                                            .key = "trade_practice",
                                            .equations = "crossings linear between samples, start by a named rule",
                                            .evidence = Evidence::practice,
                                            .limits = acceleration_limits,
                                            .instead_beyond = "back-extrapolation, or a faster log"};

/// What a stated acceleration asks of the engines.
inline constexpr Method acceleration_energy_method{.name = "Least power of an acceleration",
                                                   .key = "trade_practice",
                                                   .equations = "m (v_2^2 - v_1^2)/(2 t)",
                                                   .evidence = Evidence::practice,
                                                   .limits = {},
                                                   .instead_beyond = ""};

/// When the clock starts.
enum class StartRule : std::uint8_t {
  back_extrapolation,      ///< the line through the crossings of 2 and 5 mph, back to zero; needs a rise through 0.5, 2
                           ///< and 5 mph without a long halt between them
  last_standstill_sample,  ///< the last sample below 0.5 mph
  interpolated_crossing,   ///< the crossing of 0.5 mph between samples
  trigger                  ///< a signal of its own, throttle or switch
};

/// The rule in the words of a report.
/// @param rule a start rule
/// @return a phrase
constexpr std::string_view words(StartRule rule) {
  switch (rule) {
    case StartRule::back_extrapolation:
      return "start by back-extrapolation through 2 and 5 mph";
    case StartRule::last_standstill_sample:
      return "start at the last sample below 0.5 mph";
    case StartRule::interpolated_crossing:
      return "start at the crossing of 0.5 mph";
    case StartRule::trigger:
      return "start by trigger";
  }
  return "unknown start rule";
}

/// One sample of a speed log.
template <class T = double>
struct SpeedSample {
  Duration<T> time = unset;  ///< after any fixed instant, rising, -1e11 to 1e11 s
  Speed<T> speed = unset;    ///< over ground, 0 to 150 kn

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("time", &SpeedSample::time, shown(second, "s"), between(-1e11, 1e11)),
                      field("speed", &SpeedSample::speed, shown(knot, "kn"), between(0.0, 150.0))};
  }
  /// The same sample in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator SpeedSample<U>() const {
    return widen_fields<SpeedSample<U>>(*this);
  }
};

namespace detail {

/// Refuses samples out of range or not rising in time, naming the row counted from 1.
template <class T>
void check_samples(std::string_view function, std::span<const SpeedSample<T>> samples) {
  if (samples.size() < 2) throw BadInput(function, "samples", std::to_string(samples.size()), "2 or more");
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::string of_row = " of sample " + std::to_string(i + 1);
    for_each_field(samples[i], [&](const auto& entry, const auto& value) {
      check_value(function, std::string(entry.name) + of_row, value, entry.unit, entry.range, entry.need);
    });
    if (i > 0 && !all(samples[i].time > samples[i - 1].time))
      throw BadInput(function, "time" + of_row, "not after the sample before", "samples in the order of time");
  }
}

/// The last upward crossing of a threshold up to a time, linear between samples; unset if there is none.
template <class T>
Duration<T> last_crossing(std::span<const SpeedSample<T>> samples, const Speed<T>& threshold,
                          const Duration<T>& until) {
  Duration<T> crossing = unset;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const SpeedSample<T>&a = samples[i - 1], &b = samples[i];
    const T part = (threshold - a.speed) / (b.speed - a.speed);
    const Duration<T> at = a.time + part * (b.time - a.time);
    const auto upward = both(a.speed < threshold, b.speed >= threshold);
    crossing = select(both(upward, at <= until), at, crossing);
  }
  return crossing;
}

/// The first upward crossing of a threshold.
template <class T>
Duration<T> first_crossing(std::span<const SpeedSample<T>> samples, const Speed<T>& threshold) {
  Duration<T> crossing = unset;
  for (std::size_t i = samples.size() - 1; i > 0; --i) {  // backwards, so that the first one stays
    const SpeedSample<T>&a = samples[i - 1], &b = samples[i];
    const T part = (threshold - a.speed) / (b.speed - a.speed);
    crossing = select(both(a.speed < threshold, b.speed >= threshold), a.time + part * (b.time - a.time), crossing);
  }
  return crossing;
}

}  // namespace detail

/// When the log first crosses a speed upwards, linear between the two samples.
/// Source: trade_practice; evidence: practice.
/// @param samples 2 or more, time rising, speed 0 to 150 kn
/// @param threshold the speed, above 0 to 150 kn
/// @return the time on the log's clock; unset if it never crosses
/// @throws BadInput naming the sample, counted from 1, and the field; or the threshold
template <class T>
Duration<T> crossing_time(std::span<const SpeedSample<T>> samples, const std::type_identity_t<Speed<T>>& threshold) {
  detail::check_samples("crossing_time", samples);
  check_value("crossing_time", "threshold", threshold, shown(knot, "kn"), above(0.0, 150.0));
  return detail::first_crossing(samples, threshold);
}

/// The input of timed_acceleration().
template <class T = double>
struct AccelerationInput {
  std::span<const SpeedSample<T>> samples = {};          ///< 2 or more, time rising
  Speed<T> from = Speed<T>::from_value(T(0.0));          ///< 0 to 150 kn; 0 is a start from rest, by the rule
  Speed<T> to = unset;                                   ///< above `from`, to 150 kn
  StartRule start_rule = StartRule::back_extrapolation;  ///< used for a start from rest
  Duration<T> trigger = unset;                           ///< on the log's clock, any s; for its rule only

  /// The field table; samples are checked one by one.
  static constexpr auto fields() {
    return FieldTable{
        field("from", &AccelerationInput::from, shown(knot, "kn"), between(0.0, 150.0)),
        field("to", &AccelerationInput::to, shown(knot, "kn"), above(0.0, 150.0)),
        choice("start rule", &AccelerationInput::start_rule),
        field("trigger", &AccelerationInput::trigger, shown(second, "s"), between(-1e11, 1e11), Need::optional)};
  }
};

/// Whether the log holds the acceleration.
enum class AccelerationOutcome : std::uint8_t {
  timed,               ///< a time
  target_not_reached,  ///< the log never crosses the speed asked for
  start_not_in_log     ///< the log does not hold the crossing or standstill that the start needs, or begins after it
};

/// The outcome in the words of a report.
/// @param outcome of timed_acceleration()
/// @return a phrase
constexpr std::string_view words(AccelerationOutcome outcome) {
  switch (outcome) {
    case AccelerationOutcome::timed:
      return "timed";
    case AccelerationOutcome::target_not_reached:
      return "the log never reaches the speed";
    case AccelerationOutcome::start_not_in_log:
      return "the log does not hold the start";
  }
  return "unknown outcome";
}

/// The answer of timed_acceleration(). Times are unset unless the outcome is `timed`.
template <class T = double>
struct TimedAcceleration {
  /// Whether there is a time, and if not, why.
  PerLane<T, AccelerationOutcome> outcome = per_lane<T>(AccelerationOutcome::target_not_reached);
  PerLane<T, Flags> flags = per_lane<T>(Flags{0});       ///< bits of AccelerationLimit
  StartRule start_rule = StartRule::back_extrapolation;  ///< the rule of the start, of use from rest only
  Duration<T> time = unset;                              ///< end less start
  Duration<T> start = unset;                             ///< on the log's clock
  Duration<T> end = unset;                               ///< on the log's clock
};

/// Time from one speed to another in a log. The end is the first crossing of `to`; from rest the start is found by the
/// named rule, from a speed it is the last crossing of that speed before the end.
/// Source: trade_practice; evidence: practice. Never mix sources of speed: a constant lag cancels within one.
/// @param input samples (2 or more, time rising), from (0 to 150 kn), to (above from), start rule, trigger
/// @return the time with its rule; or why not
/// @throws BadInput naming the sample, counted from 1, and the field; `to` not above `from`; a trigger that the rule
///         needs and that is not set
template <class T = double>
TimedAcceleration<T> timed_acceleration(const AccelerationInput<T>& input) {
  constexpr std::string_view function = "timed_acceleration";
  check_fields(function, input);
  detail::check_samples(function, input.samples);
  if (!all(input.to > input.from)) throw BadInput(function, "to", "not above from", "a speed above from");
  const Duration<T> end = detail::first_crossing(input.samples, input.to);
  const auto crossing = [&](const Speed<T>& threshold) { return detail::last_crossing(input.samples, threshold, end); };
  TimedAcceleration<T> result;
  result.start_rule = input.start_rule;

  Duration<T> by_rule = unset, earliest = input.samples.front().time;
  switch (input.start_rule) {
    case StartRule::back_extrapolation: {
      const Duration<T> low = crossing(widen<T>(extrapolation_low)), high = crossing(widen<T>(extrapolation_high));
      const double ratio = extrapolation_low / (extrapolation_high - extrapolation_low);
      by_rule = low - ratio * (high - low);
      // The foot lies a little before the crossing of 0.5 mph: by a third of the way from there to 2 mph if the boat
      // gathers speed evenly, by a part of a sample for the chords. A halt between 2 and 5 mph (in gear before the
      // throttle) would put it long before the boat moved.
      const Duration<T> moves = crossing(widen<T>(standstill_below));
      const Duration<T> sample = (input.samples.back().time - input.samples.front().time) *
                                 (1.0 / static_cast<double>(input.samples.size() - 1));
      const Duration<T> from_standstill = moves - (low - moves) - sample;
      earliest = select(moves >= earliest, from_standstill, earliest);
      break;
    }
    case StartRule::last_standstill_sample:
      for (const SpeedSample<T>& sample : input.samples)
        by_rule = select(both(sample.time < end, sample.speed < widen<T>(standstill_below)), sample.time, by_rule);
      break;
    case StartRule::interpolated_crossing:
      by_rule = crossing(widen<T>(standstill_below));
      break;
    case StartRule::trigger:
      require_set(function, "trigger", input.trigger, "a time, since the start is by trigger");
      by_rule = input.trigger;
      break;
  }
  const auto from_rest = input.from <= Speed<T>::from_value(T(0.0));
  const Duration<T> start = select(from_rest, by_rule, crossing(input.from));
  // Not a number, where there is none, compares false.
  const Duration<T> same_end = end;
  const auto in_log = start >= select(from_rest, earliest, input.samples.front().time);
  const auto reached = end >= same_end, started = both(in_log, start < end);
  const auto timed = both(reached, started);
  assign_where(result.outcome, both(reached, negate(started)), AccelerationOutcome::start_not_in_log);
  assign_where(result.outcome, timed, AccelerationOutcome::timed);
  const Duration<T> none = unset;
  result.start = select(timed, start, none);
  result.end = select(timed, end, none);
  result.time = select(timed, Duration<T>(end - start), none);
  if (input.start_rule == StartRule::last_standstill_sample)
    raise_where(result.flags, both(timed, from_rest), flag(AccelerationLimit::coarse_start));
  return result;
}

/// The sentences of the flags.
/// @param timed of timed_acceleration()
/// @return one sentence a flag
template <class T>
std::vector<std::string_view> explain(const TimedAcceleration<T>& timed) {
  return explain(timed.flags, acceleration_method);
}
/// Source and evidence of a timed acceleration.
/// @return one line
template <class T>
std::string cite(const TimedAcceleration<T>&) {
  return cite(acceleration_method);
}

/// One time of an acceleration with the way it went: from a log, or as noted by the tester.
template <class T = double>
struct DirectedTime {
  Duration<T> time = unset;                    ///< above 0 to 600 s
  RunDirection direction = RunDirection::out;  ///< along the track

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("acceleration time", &DirectedTime::time, shown(second, "s"), above(0.0, 600.0)),
                      choice("direction", &DirectedTime::direction)};
  }
  /// The same time in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator DirectedTime<U>() const {
    return widen_fields<DirectedTime<U>>(*this);
  }
};

/// Whether times both ways combine.
enum class CombinationOutcome : std::uint8_t {
  combined,        ///< equal numbers each way
  one_way_only,    ///< wind and current are in the time
  unequal_numbers  ///< more runs one way than the other: a mean would lean that way
};

/// The outcome in the words of a report.
/// @param outcome of combine_times()
/// @return a phrase
constexpr std::string_view words(CombinationOutcome outcome) {
  switch (outcome) {
    case CombinationOutcome::combined:
      return "mean of both ways";
    case CombinationOutcome::one_way_only:
      return "one way only: wind and current not removed";
    case CombinationOutcome::unequal_numbers:
      return "not averaged: unequal numbers of runs each way";
  }
  return "unknown outcome";
}

/// The answer of combine_times().
template <class T = double>
struct CombinedTimes {
  CombinationOutcome outcome = CombinationOutcome::one_way_only;  ///< whether there is a mean of both ways
  Duration<T> time = unset;                                       ///< mean of both ways; unset unless combined
  Duration<T> out_mean = unset;                                   ///< of the runs out; unset if there are none
  Duration<T> back_mean = unset;                                  ///< of the runs back; unset if there are none
  int out = 0;                                                    ///< how many out
  int back = 0;                                                   ///< how many back
};

/// What is outside the usual: a mean has no published limits, so nothing; whether there is one is its outcome.
/// @return no sentence
template <class T>
std::vector<std::string_view> explain(const CombinedTimes<T>&) {
  return explain(Flags{0}, acceleration_method);
}
/// Source and evidence of times both ways.
/// @return one line
template <class T>
std::string cite(const CombinedTimes<T>&) {
  return cite(acceleration_method);
}

/// Mean time of equal numbers of runs each way, all over the same interval of speed and by the same start rule.
/// Source: trade_practice; evidence: practice.
/// @param times 1 or more, above 0 to 600 s, with direction
/// @return the mean of both ways and of each; the former only for equal numbers
/// @throws BadInput for no times, or naming the row, counted from 1
template <class T>
CombinedTimes<T> combine_times(std::span<const DirectedTime<T>> times) {
  constexpr std::string_view function = "combine_times";
  if (times.empty()) throw BadInput(function, "times", "0", "1 or more");
  CombinedTimes<T> result;
  Duration<T> out = Duration<T>::from_value(T(0.0)), back = out;
  for (std::size_t i = 0; i < times.size(); ++i) {
    check_value(function, "acceleration time of row " + std::to_string(i + 1), times[i].time, shown(second, "s"),
                above(0.0, 600.0));
    if (times[i].direction == RunDirection::out) {
      out = out + times[i].time;
      ++result.out;
    } else {
      back = back + times[i].time;
      ++result.back;
    }
  }
  if (result.out > 0) result.out_mean = out * (1.0 / result.out);
  if (result.back > 0) result.back_mean = back * (1.0 / result.back);
  if (result.out > 0 && result.back > 0) result.outcome = CombinationOutcome::unequal_numbers;
  if (result.out == result.back) {
    result.outcome = CombinationOutcome::combined;
    result.time = 0.5 * (result.out_mean + result.back_mean);
  }
  return result;
}

/// The same for numbers: takes a std::vector or an array of times as it is.
/// @param times as above
/// @return as above
/// @throws BadInput as above
inline CombinedTimes<> combine_times(std::span<const DirectedTime<>> times) { return combine_times<double>(times); }

/// The input of acceleration_plausibility().
template <class T = double>
struct AccelerationClaim {
  Mass<T> mass = unset;                          ///< m: displacement, above 0 to 1e6 kg
  Speed<T> from = Speed<T>::from_value(T(0.0));  ///< 0 to 150 kn
  Speed<T> to = unset;                           ///< above `from`, to 150 kn
  Duration<T> time = unset;                      ///< above 0 to 600 s
  Power<T> propulsive_power = unset;             ///< eta P_B: the most that can push, above 0 to 1e5 kW; optional

  /// The field table.
  static constexpr auto fields() {
    return FieldTable{field("displacement", &AccelerationClaim::mass, shown(kilogram, "kg"), above(0.0, 1e6)),
                      field("from", &AccelerationClaim::from, shown(knot, "kn"), between(0.0, 150.0)),
                      field("to", &AccelerationClaim::to, shown(knot, "kn"), above(0.0, 150.0)),
                      field("acceleration time", &AccelerationClaim::time, shown(second, "s"), above(0.0, 600.0)),
                      field("propulsive power", &AccelerationClaim::propulsive_power, shown(kilowatt, "kW"),
                            above(0.0, 1e5), Need::optional)};
  }
  /// The same claim in another scalar.
  template <class U>  // NOLINTNEXTLINE(google-explicit-constructor): widening loses nothing
  requires(!std::same_as<U, T> && std::constructible_from<U, T>) constexpr operator AccelerationClaim<U>() const {
    return widen_fields<AccelerationClaim<U>>(*this);
  }
};

/// The answer of acceleration_plausibility().
template <class T = double>
struct AccelerationPlausibility {
  Acceleration<T> mean_acceleration = unset;  ///< (v_2 - v_1)/t
  Power<T> mean_power = unset;                ///< m (v_2^2 - v_1^2)/(2 t): what went into speed alone, drag not counted
  T power_ratio = unset;                      ///< mean power over propulsive power: above 1 it is impossible
  Duration<T> least_time = unset;             ///< at the whole propulsive power and no drag
};

/// What a timed acceleration asks of the engines: m v dv/dt <= eta P over the interval, drag left out, so that above 1
/// no boat can have done it. Source: trade_practice (energy); evidence: practice.
/// @param claim displacement (above 0 to 1e6 kg), speeds (from 0, to 150 kn), time (above 0 to 600 s), propulsive power
///              (above 0 to 1e5 kW; optional)
/// @return mean acceleration and power; ratio and least time unset without a propulsive power
/// @throws BadInput for a field that is unset or out of range, or `to` not above `from`
template <class T = double>
AccelerationPlausibility<T> acceleration_plausibility(const AccelerationClaim<T>& claim) {
  check_fields("acceleration_plausibility", claim);
  if (!all(claim.to > claim.from))
    throw BadInput("acceleration_plausibility", "to", "not above from", "a speed above from");
  const Moment<T> energy = 0.5 * (claim.mass * (claim.to * claim.to - claim.from * claim.from));
  AccelerationPlausibility<T> result;
  result.mean_acceleration = (claim.to - claim.from) / claim.time;
  result.mean_power = energy / claim.time;
  result.power_ratio = result.mean_power / claim.propulsive_power;  // unset where the power is
  result.least_time = energy / claim.propulsive_power;
  return result;
}

/// What is outside the usual: an energy has no published limits, so nothing; a power ratio above 1 speaks for itself.
/// @return no sentence
template <class T>
std::vector<std::string_view> explain(const AccelerationPlausibility<T>&) {
  return explain(Flags{0}, acceleration_energy_method);
}
/// Source and evidence of the least power.
/// @return one line
template <class T>
std::string cite(const AccelerationPlausibility<T>&) {
  return cite(acceleration_energy_method);
}

}  // namespace hardchine
