// Timed acceleration. The synthetic log v = 42 mph (1 - exp(-(t - 1.3)/4.2)) with its crossings by rate and start rule
// was computed with independent code, as were the closed forms of constant power and thrust (statics, no source).
#include "hardchine/trial/acceleration.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <string>
#include <vector>

#include "archetype.hpp"
#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

double synthetic_mph(double t) { return t <= 1.3 ? 0.0 : 42.0 * (1.0 - std::exp(-(t - 1.3) / 4.2)); }

// 0 to 20 s at a rate in hertz.
std::vector<SpeedSample<>> log_at(int rate) {
  std::vector<SpeedSample<>> log;
  for (int i = 0; i <= 20 * rate; ++i) {
    const double t = double(i) / rate;
    log.push_back({.time = t * second, .speed = synthetic_mph(t) * mph});
  }
  return log;
}

AccelerationInput<> zero_to(const std::vector<SpeedSample<>>& log, double to_mph,
                            StartRule rule = StartRule::back_extrapolation) {
  return {.samples = log, .to = to_mph * mph, .start_rule = rule};
}

}  // namespace

TEST_CASE("the synthetic log: crossings and times by rate and rule") {
  struct Row {
    int rate;
    double at_20, at_30, by_last, by_crossing;
  };
  for (const Row& row : {Row{1, 4.017760, 6.590737, 5.590737, 5.513191}, Row{5, 4.016184, 6.562340, 5.362340, 5.261144},
                         Row{10, 4.015993, 6.561886, 5.261886, 5.211288}}) {
    CAPTURE(row.rate);
    const auto log = log_at(row.rate);
    const std::span<const SpeedSample<>> samples = log;
    CHECK(in(crossing_time(samples, 20.0 * mph), second) == printed(row.at_20, 6));
    CHECK(in(crossing_time(samples, 30.0 * mph), second) == printed(row.at_30, 6));
    const auto last = timed_acceleration(zero_to(log, 30.0, StartRule::last_standstill_sample));
    REQUIRE(last.outcome == AccelerationOutcome::timed);
    CHECK(in(last.time, second) == printed(row.by_last, 6));
    CHECK(explain(last).size() == 1);
    const auto crossing = timed_acceleration(zero_to(log, 30.0, StartRule::interpolated_crossing));
    CHECK(in(crossing.time, second) == printed(row.by_crossing, 6));
    CHECK(crossing.flags == 0U);
    // Exact: 20 to 40 mph takes 10.071160 s. A chord is late by 0 to h^2/8 v''/v' = h^2/(8 x 4.2 s) at either end.
    auto rolling = zero_to(log, 40.0);
    rolling.from = 20.0 * mph;
    const auto between = timed_acceleration(rolling);
    REQUIRE(between.outcome == AccelerationOutcome::timed);
    CHECK(in(between.start, second) == printed(row.at_20, 6));
    const double h = 1.0 / row.rate;
    CHECK(in(between.time, second) == absolute(10.071160, h * h / (8.0 * 4.2)));
  }
}

TEST_CASE("the default start is the back-extrapolation, and the start carries the error") {
  const auto log = log_at(10);
  const auto timed = timed_acceleration(zero_to(log, 30.0));
  REQUIRE(timed.outcome == AccelerationOutcome::timed);
  CHECK(timed.start_rule == StartRule::back_extrapolation);
  CHECK(in(timed.start, second) == printed(1.2865455, 7));  // true start 1.3
  CHECK(in(timed.time, second) == rounding(in(timed.end, second) - in(timed.start, second)));
  CHECK(in(timed.time, second) - 5.261604 < 0.014);  // exact 0 to 30: 5.261604 s
  // A trigger at the true start is as good as the crossing: + 0.0003 s at 10 Hz.
  auto triggered = zero_to(log, 30.0, StartRule::trigger);
  triggered.trigger = 1.3 * second;
  CHECK(in(timed_acceleration(triggered).time, second) == printed(6.561886 - 1.3, 6));
  triggered.to = 20.0 * mph;
  CHECK(in(timed_acceleration(triggered).time, second) == absolute(2.715834, 0.0003));
  for (const auto rule : {StartRule::back_extrapolation, StartRule::last_standstill_sample,
                          StartRule::interpolated_crossing, StartRule::trigger})
    CHECK(words(rule) != "unknown start rule");
  CHECK(cite(timed).find("(practice)") != std::string::npos);
}

TEST_CASE("a mean over samples moves the crossing by as much as computed with independent code") {
  const auto log = log_at(10);
  const std::span<const SpeedSample<>> samples = log;
  const double at = in(crossing_time(samples, 30.0 * mph), second);
  struct Row {
    std::size_t n;
    double shift;
  };
  for (const Row& row : {Row{5, 0.0024}, Row{11, 0.0118}, Row{21, 0.0433}}) {
    CAPTURE(row.n);
    const std::size_t half = row.n / 2;
    std::vector<SpeedSample<>> centred, trailing;
    for (std::size_t i = half; i + half < log.size(); ++i) {
      Speed<> sum{};
      for (std::size_t k = i - half; k <= i + half; ++k) sum = sum + log[k].speed;
      centred.push_back({.time = log[i].time, .speed = sum / double(row.n)});
      trailing.push_back({.time = log[i + half].time, .speed = sum / double(row.n)});
    }
    const auto crossing = [](const std::vector<SpeedSample<>>& of) {
      return in(crossing_time(std::span<const SpeedSample<>>(of), 30.0 * mph), second);
    };
    CHECK(crossing(centred) - at == printed(row.shift, 4));
    CHECK(crossing(trailing) - crossing(centred) == absolute(0.1 * double(half), 1e-12));  // (n - 1)/2 samples
  }
}

TEST_CASE("a noisy log: the first crossing of the end, the last of the start before it") {
  std::vector<SpeedSample<>> log;
  const double mph_values[] = {0.2, 1.0, 0.1, 0.3, 2.5, 5.5, 9.0, 21.0, 19.0, 24.0, 3.0, 0.0, 8.0, 9.0};
  for (const double v : mph_values) log.push_back({.time = double(log.size()) * second, .speed = v * mph});
  auto input = zero_to(log, 20.0, StartRule::last_standstill_sample);
  auto timed = timed_acceleration(input);
  CHECK(in(timed.start, second) == 3.0);  // not the dip at 2 s, not the 0.0 after the run, from where it starts again
  CHECK(in(timed.end, second) == rounding(6.0 + 11.0 / 12.0));
  input.start_rule = StartRule::interpolated_crossing;
  CHECK(in(timed_acceleration(input).start, second) == rounding(3.0 + 0.2 / 2.2));
  input.start_rule = StartRule::back_extrapolation;
  const double low = 3.0 + 1.7 / 2.2, high = 4.0 + 2.5 / 3.0;
  CHECK(in(timed_acceleration(input).start, second) == rounding(low - 2.0 / 3.0 * (high - low)));
}

TEST_CASE("what the log does not hold is a typed outcome") {
  const auto log = log_at(10);
  const auto none = [](const TimedAcceleration<>& timed) {
    CHECK_FALSE(is_set(timed.time));
    CHECK_FALSE(is_set(timed.start));
    CHECK_FALSE(is_set(timed.end));
    CHECK(timed.flags == 0U);
    return timed.outcome;
  };
  CHECK(none(timed_acceleration(zero_to(log, 42.0))) == AccelerationOutcome::target_not_reached);
  CHECK_FALSE(is_set(crossing_time(std::span<const SpeedSample<>>(log), 42.0 * mph)));
  // A log that begins under way.
  const std::vector<SpeedSample<>> late(log.begin() + 20, log.end());
  for (const auto rule :
       {StartRule::back_extrapolation, StartRule::last_standstill_sample, StartRule::interpolated_crossing})
    CHECK(none(timed_acceleration(zero_to(late, 30.0, rule))) == AccelerationOutcome::start_not_in_log);
  auto rolling = zero_to(late, 30.0);
  rolling.from = 2.0 * mph;
  CHECK(none(timed_acceleration(rolling)) == AccelerationOutcome::start_not_in_log);
  rolling.from = 20.0 * mph;
  CHECK(timed_acceleration(rolling).outcome == AccelerationOutcome::timed);
  // A trigger after the end.
  auto triggered = zero_to(log, 30.0, StartRule::trigger);
  triggered.trigger = 7.0 * second;
  CHECK(none(timed_acceleration(triggered)) == AccelerationOutcome::start_not_in_log);
  // A trigger before the log: nothing says what the boat did in between. At its first sample it is in the log.
  triggered.trigger = -1e6 * second;
  CHECK(none(timed_acceleration(triggered)) == AccelerationOutcome::start_not_in_log);
  triggered.trigger = log.front().time;
  CHECK(timed_acceleration(triggered).outcome == AccelerationOutcome::timed);
  // A halt between 2 and 5 mph, in gear before the throttle: the line between the two crossings would start the clock
  // before the boat moved, and before the log.
  const auto at_1_hz = [](std::vector<double> speeds_mph) {
    std::vector<SpeedSample<>> samples;
    for (const double v : speeds_mph) samples.push_back({.time = double(samples.size()) * second, .speed = v * mph});
    return samples;
  };
  const std::vector<double> still(11, 0.0);
  for (const std::vector<double>& halt : {std::vector{6.0, 3.0, 3.0, 3.0, 3.0, 3.0, 3.0, 4.0, 12.0, 25.0, 35.0},
                                          std::vector{4.9, 3.0, 3.0, 3.0, 4.0, 12.0, 25.0, 35.0},
                                          std::vector{2.5, 4.0, 4.0, 4.0, 4.0, 4.0, 4.0, 4.0, 12.0, 25.0, 35.0}})
    for (const std::size_t before : {std::size_t{1}, still.size()}) {
      std::vector<double> speeds(still.begin(), still.begin() + static_cast<std::ptrdiff_t>(before));
      speeds.insert(speeds.end(), halt.begin(), halt.end());
      const auto halting = at_1_hz(speeds);
      CHECK(none(timed_acceleration(zero_to(halting, 30.0))) == AccelerationOutcome::start_not_in_log);
      CHECK(timed_acceleration(zero_to(halting, 30.0, StartRule::interpolated_crossing)).outcome ==
            AccelerationOutcome::timed);
    }
  // A log that begins under way, below 2 mph: the foot must lie in it.
  std::vector<SpeedSample<>> cut{{.time = 0.0 * second, .speed = 1.9 * mph},
                                 {.time = 1.0 * second, .speed = 2.0 * mph},
                                 {.time = 2.0 * second, .speed = 8.0 * mph},
                                 {.time = 3.0 * second, .speed = 31.0 * mph}};
  CHECK(timed_acceleration(zero_to(cut, 30.0)).outcome == AccelerationOutcome::timed);
  cut[2].time = 20.0 * second;
  cut[3].time = 21.0 * second;
  CHECK(none(timed_acceleration(zero_to(cut, 30.0))) == AccelerationOutcome::start_not_in_log);
  for (const auto outcome :
       {AccelerationOutcome::timed, AccelerationOutcome::target_not_reached, AccelerationOutcome::start_not_in_log})
    CHECK(words(outcome) != "unknown outcome");
}

TEST_CASE("a log that begins at the start of the run is timed: the foot may lie a part of a sample before it") {
  for (const int rate : {5, 10})
    for (const int first : {1290, 1300}) {
      std::vector<SpeedSample<>> log;
      for (int i = 0; i <= 20 * rate; ++i) {
        const double t = 0.001 * first + double(i) / rate;
        log.push_back({.time = t * second, .speed = synthetic_mph(t) * mph});
      }
      const auto timed = timed_acceleration(zero_to(log, 30.0));
      CAPTURE(rate);
      REQUIRE(timed.outcome == AccelerationOutcome::timed);
      CHECK(in(timed.start, second) == absolute(1.3, 1.0 / rate));
    }
  // Even acceleration from the first sample: the foot is that sample, but for rounding and the chord of the first pair.
  int tried = 0;
  for (const double mph_per_second : {0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0})
    for (const double step : {0.1, 0.2, 0.5, 1.0})
      for (const double begins : {0.0, 0.1, 1.3, 7.0, 1e4}) {
        std::vector<SpeedSample<>> log;
        for (double t = 0.0; t * mph_per_second < 35.0; t += step)
          log.push_back({.time = (begins + t) * second, .speed = mph_per_second * t * mph});
        const auto timed = timed_acceleration(zero_to(log, 30.0));
        CAPTURE(mph_per_second);
        CAPTURE(step);
        REQUIRE(timed.outcome == AccelerationOutcome::timed);
        CHECK(in(timed.start, second) == absolute(begins, 1e-9));
        ++tried;
      }
  CHECK(tried == 140);
}

TEST_CASE("times both ways combine in equal numbers only") {
  const auto out = [](double t) { return DirectedTime<>{.time = t * second, .direction = RunDirection::out}; };
  const auto back = [](double t) { return DirectedTime<>{.time = t * second, .direction = RunDirection::back}; };
  auto both = combine_times(std::vector{out(6.1), back(6.7), back(6.5), out(6.3)});
  CHECK(both.outcome == CombinationOutcome::combined);
  CHECK(in(both.time, second) == rounding(6.4));
  CHECK(in(both.out_mean, second) == rounding(6.2));
  CHECK(in(both.back_mean, second) == rounding(6.6));
  CHECK(both.out == 2);
  CHECK(both.back == 2);
  // Two out and one back: their plain mean, 6.3667, would lean out.
  both = combine_times(std::vector{out(6.1), back(6.7), out(6.3)});
  CHECK(both.outcome == CombinationOutcome::unequal_numbers);
  CHECK_FALSE(is_set(both.time));
  CHECK(in(both.out_mean, second) == rounding(6.2));
  CHECK(in(both.back_mean, second) == rounding(6.7));
  both = combine_times(std::vector{back(6.7)});
  CHECK(both.outcome == CombinationOutcome::one_way_only);
  CHECK_FALSE(is_set(both.time));
  CHECK_FALSE(is_set(both.out_mean));
  for (const auto outcome :
       {CombinationOutcome::combined, CombinationOutcome::unequal_numbers, CombinationOutcome::one_way_only})
    CHECK(words(outcome) != "unknown outcome");
  CHECK_THROWS_WITH_AS(combine_times(std::vector<DirectedTime<>>{}), "combine_times: times is 0; accepted: 1 or more",
                       BadInput);
  CHECK_THROWS_WITH_AS(combine_times(std::vector{out(6.0), back(0.0)}),
                       "combine_times: acceleration time of row 2 is 0 s; accepted: above 0 s to 600 s", BadInput);
}

TEST_CASE("plausibility: boats of known power are never accused, by closed forms") {
  // Constant effective power P, drag (P/V_m^3) V^2: t = (m V_m^2/P) I(V/V_m).
  const auto I = [](double u) {
    return std::log((1.0 + u + u * u) / ((1.0 - u) * (1.0 - u))) / 6.0 -
           (std::atan((2.0 * u + 1.0) / std::sqrt(3.0)) - std::numbers::pi / 6.0) / std::sqrt(3.0);
  };
  CHECK(I(0.6) == printed(0.198049519621, 12));
  const double m = 2400.0, P = 90e3, V_m = 22.0;
  struct Row {
    double to_mph, time;
  };
  for (const Row& row : {Row{20.0, 1.095717}, Row{30.0, 2.652388}, Row{40.0, 5.698841}}) {
    CAPTURE(row.to_mph);
    const double v = row.to_mph * mph.value();
    const double t = m * V_m * V_m / P * I(v / V_m);
    CHECK(t == printed(row.time, 6));
    AccelerationClaim<> claim{
        .mass = m * kilogram, .to = row.to_mph * mph, .time = t * second, .propulsive_power = P * watt};
    const auto sound = acceleration_plausibility(claim);
    CHECK(sound.power_ratio < 1.0);  // the drag took the rest
    CHECK(in(sound.least_time, second) < t);
    CHECK(in(sound.mean_power, watt) == rounding(0.5 * m * v * v / t));
    CHECK(in(sound.mean_acceleration, metre_per_second_squared) == rounding(v / t));
    claim.time = sound.least_time;
    CHECK(acceleration_plausibility(claim).power_ratio == rounding(1.0));
  }
  // Without drag the bound is met exactly: from 20 to 30 mph at constant power takes m (v_2^2 - v_1^2)/(2 P).
  const double v_1 = 20.0 * mph.value(), v_2 = 30.0 * mph.value();
  CHECK(in(acceleration_plausibility<double>({.mass = m * kilogram,
                                              .from = 20.0 * mph,
                                              .to = 30.0 * mph,
                                              .time = 1.0 * second,
                                              .propulsive_power = P * watt})
               .least_time,
           second) == rounding(m * (v_2 * v_2 - v_1 * v_1) / (2.0 * P)));
  // Constant thrust T, drag (T/V_m^2) V^2: t = (m V_m/T) atanh(V/V_m); the greatest acceleration is T/m.
  const double T = 9000.0;
  for (const Row& row : {Row{20.0, 2.530243}, Row{30.0, 4.155269}}) {
    const double v = row.to_mph * mph.value();
    const double t = m * V_m / T * std::atanh(v / V_m);
    CHECK(t == printed(row.time, 6));
    const auto sound =
        acceleration_plausibility<double>({.mass = m * kilogram, .to = row.to_mph * mph, .time = t * second});
    CHECK(in(sound.mean_acceleration, metre_per_second_squared) < T / m);
    CHECK_FALSE(is_set(sound.power_ratio));  // no power, no ratio
    CHECK_FALSE(is_set(sound.least_time));
  }
}

TEST_CASE("bad input is refused by sample and field") {
  const double infinite = std::numeric_limits<double>::infinity();
  const auto refuses = [](const AccelerationInput<>& input, const std::string& field) {
    CAPTURE(field);
    try {
      timed_acceleration(input);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.function() == "timed_acceleration");
      CHECK(refusal.field() == field);
    }
  };
  const auto log = log_at(1);
  refuses(zero_to({}, 30.0), "samples");
  const std::vector<SpeedSample<>> one(log.begin(), log.begin() + 1);
  refuses(zero_to(one, 30.0), "samples");
  for (const double bad : {std::nan(""), infinite, -0.1, 500.0}) {
    auto broken = log;
    broken[3].speed = bad * mph;
    refuses(zero_to(broken, 30.0), "speed of sample 4");
    refuses(zero_to(log, bad), "to");
  }
  auto broken = log;
  broken[3].time = broken[2].time;
  refuses(zero_to(broken, 30.0), "time of sample 4");
  broken[3].time = std::nan("") * second;
  refuses(zero_to(broken, 30.0), "time of sample 4");
  auto input = zero_to(log, 30.0);
  input.from = 30.0 * mph;
  refuses(input, "to");
  refuses(zero_to(log, 30.0, StartRule::trigger), "trigger");
  CHECK_THROWS_AS(crossing_time(std::span<const SpeedSample<>>(log), 0.0 * mph), BadInput);

  AccelerationClaim<> claim{.mass = 2000.0 * kilogram, .to = 30.0 * mph, .time = 5.0 * second};
  CHECK(is_set(acceleration_plausibility(claim).mean_power));
  for (const double bad : {std::nan(""), infinite, -1.0, 0.0}) {
    auto other = claim;
    other.mass = bad * kilogram;
    CHECK_THROWS_AS(acceleration_plausibility(other), BadInput);
    other = claim;
    other.time = bad * second;
    CHECK_THROWS_AS(acceleration_plausibility(other), BadInput);
    other = claim;
    other.to = bad * mph;
    CHECK_THROWS_AS(acceleration_plausibility(other), BadInput);
  }
  claim.from = 31.0 * mph;
  CHECK_THROWS_AS(acceleration_plausibility(claim), BadInput);
}

TEST_CASE("derivatives on Dual, and the strict archetype") {
  // Time by the crossing of 0.5 mph in a log of two straight lines, in closed form.
  using D = Dual<1>;
  const auto made = [](const auto& v) {
    using Q = std::remove_cvref_t<decltype(v)>;
    using T = typename Q::value_type;
    return std::vector<SpeedSample<T>>{{.time = widen<T>(0.0 * second), .speed = widen<T>(0.0 * mph)},
                                       {.time = widen<T>(10.0 * second), .speed = v}};
  };
  const auto log = made(seed<1>(40.0 * mph, 0));
  const auto timed = timed_acceleration<D>(
      {.samples = log, .to = widen<D>(30.0 * mph), .start_rule = StartRule::interpolated_crossing});
  REQUIRE(timed.outcome == AccelerationOutcome::timed);
  CHECK(timed.time.value().value == rounding(29.5 / 40.0 * 10.0));
  CHECK(derivative(timed.time, 0).value() == rounding(-29.5 * 10.0 / 1600.0 / mph.value()));

  using S = Strict;
  std::vector<SpeedSample<S>> strict_log;
  for (const auto& sample : log_at(10)) strict_log.push_back(sample);
  for (const auto rule : {StartRule::back_extrapolation, StartRule::last_standstill_sample}) {
    const auto strict = timed_acceleration<S>({.samples = strict_log, .to = widen<S>(30.0 * mph), .start_rule = rule});
    CHECK(strict.outcome == AccelerationOutcome::timed);
    CHECK(strict.time.value().reveal() == timed_acceleration(zero_to(log_at(10), 30.0, rule)).time.value());
  }
  const std::vector<DirectedTime<S>> times{{.time = widen<S>(6.0 * second), .direction = RunDirection::out},
                                           {.time = widen<S>(7.0 * second), .direction = RunDirection::back}};
  CHECK(combine_times<S>(times).time.value().reveal() == 6.5);
  const AccelerationClaim<> claim{.mass = 2000.0 * kilogram, .to = 30.0 * mph, .time = 5.0 * second};
  CHECK(acceleration_plausibility(AccelerationClaim<S>(claim)).mean_power.value().reveal() ==
        acceleration_plausibility(claim).mean_power.value());
}
