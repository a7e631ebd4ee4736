// Findings of a trial day. Every limit is common practice, no source; the figures are checked by hand arithmetic and
// the uncertainty of a slip by propagation on Dual. The day is an invented workboat with two diesels on shafts.
#include "hardchine/trial/findings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <set>
#include <string>
#include <vector>

#include "hardchine/scalar/dual.hpp"
#include "near.hpp"

using namespace hardchine;

namespace {

TrialDay sound_day() {
  TrialDay day;
  struct Row {
    double n, v, half_difference, flow, froude;
  };
  for (const Row& row : {Row{900.0, 7.30, 0.30, 10.8, 0.82}, Row{1500.0, 11.70, 0.30, 46.4, 1.31},
                         Row{1800.0, 16.40, 0.40, 74.9, 1.84}, Row{2000.0, 19.75, 0.45, 91.6, 2.21},
                         Row{2150.0, 22.90, 0.50, 100.5, 2.56}, Row{2300.0, 25.20, 0.50, 108.1, 2.82},
                         Row{2450.0, 27.55, 0.55, 121.6, 3.08}, Row{2600.0, 29.70, 0.60, 137.3, 3.32}}) {
    TrialStep step;
    step.point = {.speed = row.v * knot,
                  .engine_speed = row.n * rpm,
                  .fuel_flow = row.flow * litre_per_hour,
                  .volume_froude_number = row.froude};
    step.half_difference = row.half_difference * knot;
    if (row.froude > 2.5) step.planing_claimed = true;
    day.steps.push_back(step);
  }
  day.drive = {.reduction_ratio = 1.5,
               .pitch = 26.0 * inch,
               .rated_engine_speed = 2600.0 * rpm,
               .rated_power = 280.0 * kilowatt,
               .lines = 2};
  day.engine = EngineKind::diesel;
  day.full_throttle_step = 7;
  day.full_throttle_power = rated_power_at_full_throttle(RatedEngine<>{
      .rated_power = 280.0 * kilowatt, .rated_engine_speed = 2600.0 * rpm, .engine_speed = 2600.0 * rpm, .engines = 2});
  day.fuel_density = 840.0 * kilogram_per_cubic_metre;
  day.rolled_up_displacement = 10400.0 * kilogram;
  day.declared_displacement = 10450.0 * kilogram;
  day.persons_asked = 2;
  day.tanks = {{.name = "fuel, port",
                .capacity = 700.0 * litre,
                .content = 560.0 * litre,
                .density = 840.0 * kilogram_per_cubic_metre},
               {.name = "fuel, starboard",
                .capacity = 700.0 * litre,
                .content = 532.0 * litre,
                .density = 840.0 * kilogram_per_cubic_metre},
               {.name = "fresh water",
                .capacity = 150.0 * litre,
                .content = 90.0 * litre,
                .density = 999.0 * kilogram_per_cubic_metre,
                .fuel = false}};
  day.ranges = {{.name = "best cruise", .step = 5, .distance = 290.0 * nautical_mile, .reserve_named = true}};
  day.accelerations = {{.name = "0 to 20 kn", .to = 20.0 * knot, .time = 8.2 * second}};
  day.depth = 60.0 * metre;
  day.waterline_length = 11.0 * metre;
  day.wind = 6.0 * knot;
  day.wave_height = 0.2 * metre;
  return day;
}

// The only finding after a change to the sound day.
Finding only(const std::function<void(TrialDay&)>& change) {
  TrialDay day = sound_day();
  change(day);
  const auto found = find_all(day);
  REQUIRE(found.size() == 1);
  return found.front();
}

// No finding after a change to the sound day.
bool none(const std::function<void(TrialDay&)>& change) {
  TrialDay day = sound_day();
  change(day);
  for (const Finding& finding : find_all(day)) MESSAGE(finding.sentence());
  return find_all(day).empty();
}

void accuses(const Finding& finding, FindingKind kind, int number, Severity severity) {
  INFO(finding.sentence());
  CHECK(finding.kind == kind);
  CHECK(finding.number() == number);
  CHECK(finding.severity == severity);
  CHECK_FALSE(finding.within_uncertainty);
  CHECK_FALSE(finding.causes().empty());
  CHECK(finding.sentence().find("proves nothing") == std::string::npos);
}

void proves_nothing(const Finding& finding, FindingKind kind) {
  INFO(finding.sentence());
  CHECK(finding.kind == kind);
  CHECK(finding.severity == Severity::note);
  CHECK(finding.within_uncertainty);
  CHECK(is_set(finding.expanded_uncertainty));
  CHECK(finding.sentence().find("proves nothing") != std::string::npos);
}

// Speed at which a step of the day has a slip.
Speed<> speed_at_slip(const TrialDay& day, std::size_t step, double slip) {
  return speed_from_slip<double>({.engine_speed = day.steps[step].point.engine_speed,
                                  .reduction_ratio = day.drive.reduction_ratio,
                                  .pitch = day.drive.pitch,
                                  .apparent_slip = slip});
}

}  // namespace

TEST_CASE("a sound day raises none, and a day of which nothing is known raises none") {
  for (const Finding& finding : find_all(sound_day())) MESSAGE(finding.sentence());
  CHECK(find_all(sound_day()).empty());
  CHECK(find_all(TrialDay{}).empty());
  TrialDay bare;
  bare.steps.resize(3);
  CHECK(find_all(bare).empty());
}

TEST_CASE("1: negative slip") {
  const auto slipping = [](double slip) {
    return [slip](TrialDay& day) {
      // The slowest step: no row to fall behind it.
      day.steps.resize(1);
      day.full_throttle_step = {};
      day.ranges.clear();
      day.steps[0].point.speed = speed_at_slip(day, 0, slip);
    };
  };
  const auto finding = only(slipping(-0.10));
  accuses(finding, FindingKind::negative_slip, 1, Severity::warning);
  CHECK(finding.step == 0U);
  CHECK(finding.figure == absolute(-0.10, 1e-14));
  CHECK(finding.low == 0.0);
  CHECK(finding.causes()[0] == "wrong reduction ratio or pitch");
  // U = 2 x 1.10 x sqrt((0.05/14.1)^2 + 0.012^2 + 0.015^2) = 4.3 points.
  CHECK(finding.sentence() == "step 1: apparent slip is negative: -10 %; accepted: 0 % or more; uncertainty +/-4.3 %");
  proves_nothing(only(slipping(-0.02)), FindingKind::negative_slip);
  CHECK(none(slipping(0.001)));
}

TEST_CASE("1 and 2: the uncertainty of a slip is its closed form, and propagation on Dual") {
  const auto finding = only([](TrialDay& day) {
    day.steps.resize(1);
    day.full_throttle_step = {};
    day.ranges.clear();
    day.steps[0].point.speed = speed_at_slip(day, 0, -0.10);
    day.uncertainty.speed = 0.2 * knot;
  });
  TrialDay day = sound_day();
  const double v = in(speed_at_slip(day, 0, -0.10), knot);
  const double closed = 1.10 * std::sqrt(std::pow(0.2 / v, 2) + std::pow(0.012, 2) + std::pow(0.015, 2));
  CHECK(finding.expanded_uncertainty == relative(2.0 * closed, 1e-13));
  using D = Dual<3>;
  const D slip = apparent_slip<D>({.engine_speed = seed<3>(900.0 * rpm, 0),
                                   .reduction_ratio = D(1.5),
                                   .pitch = seed<3>(26.0 * inch, 1),
                                   .speed = seed<3>(v * knot, 2)});
  const double u[] = {0.012 * (900.0 * rpm).value(), 0.015 * (26.0 * inch).value(), (0.2 * knot).value()};
  double squares = 0.0;
  for (std::size_t i = 0; i < 3; ++i) squares += std::pow(slip.derivative[i] * u[i], 2);
  CHECK(finding.expanded_uncertainty == relative(2.0 * std::sqrt(squares), 1e-13));
}

TEST_CASE("2: slip when planing") {
  const auto slipping = [](double points_over) {
    return [points_over](TrialDay& day) {
      // One planing step alone, so that its speed is compared with no other.
      day.steps = {day.steps[5]};
      day.full_throttle_step = {};
      day.ranges.clear();
      // The limit depends on the speed that makes the slip: a few rounds of substitution settle it.
      double slip = 0.3;
      for (int i = 0; i < 60; ++i)
        slip = 1.4 / std::pow(in(speed_at_slip(day, 0, slip), knot), 0.57) + 0.08 + points_over;
      day.steps[0].point.speed = speed_at_slip(day, 0, slip);
    };
  };
  const auto finding = only(slipping(0.05));
  accuses(finding, FindingKind::planing_slip, 2, Severity::warning);
  CHECK(finding.figure - finding.high == absolute(0.05, 1e-12));
  CHECK_FALSE(is_set(finding.low));
  proves_nothing(only(slipping(0.01)), FindingKind::planing_slip);
  CHECK(none(slipping(-0.001)));
  // Below planing 40 % is normal, and a waterjet has no pitch.
  CHECK(none([&](TrialDay& day) {
    slipping(0.10)(day);
    day.steps[0].planing_claimed = {};
    day.steps[0].point.volume_froude_number = 2.49;
  }));
  CHECK(none([&](TrialDay& day) {
    slipping(0.10)(day);
    day.drive.pitch = unset;
  }));
  // Negative when planing is finding 1 alone.
  const auto negative = only([](TrialDay& day) {
    day.steps = {day.steps[5]};
    day.full_throttle_step = {};
    day.depth = unset;
    day.ranges.clear();
    day.steps[0].point.speed = speed_at_slip(day, 0, -0.10);
  });
  CHECK(negative.number() == 1);
}

TEST_CASE("3: one direction") {
  const auto finding = only([](TrialDay& day) { day.steps[3].both_directions = false; });
  accuses(finding, FindingKind::one_direction, 3, Severity::warning);
  CHECK(finding.step == 3U);
  CHECK_FALSE(is_set(finding.figure));
  CHECK(finding.sentence() == "step 4: runs in one direction only");
}

TEST_CASE("4: half-difference, and a step off the day's smooth current") {
  // All steps alike, so that only the size speaks.
  const auto strong = [](double knots) {
    return [knots](TrialDay& day) {
      for (TrialStep& step : day.steps) step.half_difference = -0.5 * knot;
      day.steps.resize(3);
      day.full_throttle_step = {};
      day.ranges.clear();
      day.steps[0].half_difference = -knots * knot;
    };
  };
  const auto finding = only(strong(1.7));
  accuses(finding, FindingKind::half_difference, 4, Severity::warning);
  CHECK(finding.figure / knot.value() == rounding(1.7));
  CHECK(finding.expanded_uncertainty / knot.value() == rounding(2.0 * 0.05 / std::sqrt(2.0)));
  proves_nothing(only(strong(1.55)), FindingKind::half_difference);
  CHECK(none(strong(1.49)));

  // Off the smooth current: an inner step, the first, the last; the others stay clean.
  for (const std::size_t odd : {0U, 1U, 5U, 6U, 7U}) {
    CAPTURE(odd);
    const auto off = [odd](double knots) {
      return [odd, knots](TrialDay& day) {
        for (TrialStep& step : day.steps) step.half_difference = 0.5 * knot;
        day.steps[odd].half_difference = (0.5 + knots) * knot;
      };
    };
    const auto one = only(off(0.7));
    accuses(one, FindingKind::off_smooth_current, 4, Severity::warning);
    CHECK(one.step == odd);
    CHECK(one.figure / knot.value() == relative(0.7, 1e-12));
    proves_nothing(only(off(-0.44)), FindingKind::off_smooth_current);
    CHECK(none(off(0.39)));
  }
  // Between two neighbours at equal times: their mean, sqrt(1 + 1/4 + 1/4) of one half-difference.
  const auto inner = only([](TrialDay& day) {
    for (TrialStep& step : day.steps) step.point.volume_froude_number = 1.0;
    for (TrialStep& step : day.steps) step.planing_claimed = {};
    day.steps[3].half_difference = 1.2 * knot;
  });
  CHECK(inner.expanded_uncertainty / knot.value() == rounding(2.0 * 0.05 / std::sqrt(2.0) * std::sqrt(1.5)));
  // A tide that turns within the day is smooth: 2 kn cos(2 pi t/12.42 h), a step every 20 minutes, all sizes under 1.5.
  CHECK(none([](TrialDay& day) {
    for (std::size_t i = 0; i < day.steps.size(); ++i) {
      day.steps[i].time = double(i) / 3.0 * hour;
      day.steps[i].half_difference = 1.4 * std::cos(2.0 * std::acos(-1.0) * (double(i) / 3.0 + 2.0) / 12.42) * knot;
    }
  }));
  // Steps run in another order than they stand: by their times they are smooth.
  const auto shuffled = [](bool with_times) {
    return [with_times](TrialDay& day) {
      for (std::size_t i = 0; i < day.steps.size(); ++i) {
        const std::size_t place = (i * 3) % 8;
        if (with_times) day.steps[i].time = double(place) * 0.3 * hour;
        day.steps[i].half_difference = (-1.2 + 0.3 * double(place)) * knot;
      }
    };
  };
  CHECK(none(shuffled(true)));
  TrialDay unordered = sound_day();
  shuffled(false)(unordered);
  CHECK_FALSE(find_all(unordered).empty());
  // At the hump (F_nV 1.5 to 2.5) a step is asked for no smooth current.
  CHECK(none([](TrialDay& day) { day.steps[2].half_difference = 1.2 * knot; }));
  // Two odd ones are both found.
  TrialDay two = sound_day();
  for (TrialStep& step : two.steps) step.half_difference = 0.2 * knot;
  two.steps[1].half_difference = 1.2 * knot;
  two.steps[6].half_difference = -1.0 * knot;
  const auto found = find_all(two);
  REQUIRE(found.size() == 2);
  CHECK(found[0].step == 1U);
  CHECK(found[1].step == 6U);
}

TEST_CASE("5: speed or flow falls as engine speed rises") {
  const auto speed = [](double fall) {
    return [fall](TrialDay& day) { day.steps[7].point.speed = day.steps[6].point.speed - fall * knot; };
  };
  const auto slower = only(speed(0.6));
  accuses(slower, FindingKind::speed_falls, 5, Severity::warning);
  CHECK(slower.step == 7U);
  CHECK(slower.figure / knot.value() == relative(0.6, 1e-12));
  CHECK(slower.sentence() ==
        "step 8: speed falls as engine speed rises, by 0.6 kn; accepted: up to 0.3 kn; uncertainty +/-0.14 kn");
  proves_nothing(only(speed(0.4)), FindingKind::speed_falls);
  CHECK(none(speed(0.29)));

  const auto flow = [](double share) {
    return [share](TrialDay& day) {
      day.full_throttle_step = {};
      day.steps[7].point.fuel_flow = (1.0 - share) * day.steps[6].point.fuel_flow;
    };
  };
  const auto less = only(flow(0.03));
  accuses(less, FindingKind::flow_falls, 5, Severity::warning);
  CHECK(less.figure == relative(0.03, 1e-12));
  CHECK_FALSE(is_set(less.expanded_uncertainty));
  CHECK(none(flow(0.019)));
  // Rows no more than 1 % apart are the same setting; the next far enough is compared.
  const auto near_row = [](double n) {
    return [n](TrialDay& day) {
      TrialStep repeat = day.steps[6];
      repeat.point.engine_speed = n * rpm;
      repeat.point.speed = repeat.point.speed - 0.8 * knot;
      day.steps.push_back(repeat);  // in any order
    };
  };
  CHECK(none(near_row(2474.0)));
  CHECK(only(near_row(2476.0)).kind == FindingKind::speed_falls);
}

TEST_CASE("6: planing claimed") {
  const auto claimed = [](double froude) {
    return [froude](TrialDay& day) {
      day.steps[3].point.volume_froude_number = froude;
      day.steps[3].planing_claimed = true;
    };
  };
  accuses(only(claimed(2.3)), FindingKind::planing_claim, 6, Severity::note);
  accuses(only(claimed(1.9)), FindingKind::planing_claim, 6, Severity::warning);
  proves_nothing(only(claimed(2.49)), FindingKind::planing_claim);
  CHECK(none(claimed(2.51)));
  // U = 2 F sqrt((0.05/19.75)^2 + (0.005/6)^2); within it of 2.0 it is a note.
  const auto finding = only(claimed(1.995));
  accuses(finding, FindingKind::planing_claim, 6, Severity::note);
  CHECK(finding.expanded_uncertainty == relative(2.0 * 1.995 * std::hypot(0.05 / 19.75, 0.005 / 6.0), 1e-13));
  CHECK(none([](TrialDay& day) { day.steps[3].planing_claimed = false; }));
}

TEST_CASE("7: range") {
  const auto unnamed = only([](TrialDay& day) { day.ranges[0].reserve_named = false; });
  accuses(unnamed, FindingKind::reserve_not_named, 7, Severity::warning);
  CHECK(unnamed.sentence() == "step 6: best cruise: a range is stated without its reserve");
  CHECK(unnamed.item == 0U);
  // 1400 L in the fuel tanks; 25.2 kn at 108.1 L/h burn 4.28968 L/nmi.
  const auto far = [](double litres) {
    return [litres](TrialDay& day) { day.ranges[0].distance = litres * 25.2 / 108.1 * nautical_mile; };
  };
  const auto beyond = only(far(1500.0));
  accuses(beyond, FindingKind::range_beyond_capacity, 7, Severity::severe);
  CHECK(beyond.figure / litre.value() == relative(1500.0, 1e-12));
  CHECK(beyond.high / litre.value() == relative(1400.0, 1e-12));  // the water tank does not count
  CHECK(beyond.expanded_uncertainty / litre.value() == relative(2.0 * 1500.0 * std::hypot(0.025, 0.05 / 25.2), 1e-12));
  proves_nothing(only(far(1450.0)), FindingKind::range_beyond_capacity);
  CHECK(none(far(1399.0)));
}

TEST_CASE("8: full-throttle engine speed") {
  // A diesel with one rated speed: rated to rated + 4 %.
  const auto turns = [](double n) {
    return [n](TrialDay& day) {
      day.full_throttle_power = no_power_source();
      day.steps[7].point.engine_speed = n * rpm;
    };
  };
  const auto low = only(turns(2500.0));
  accuses(low, FindingKind::full_throttle_speed, 8, Severity::warning);
  CHECK(low.low / rpm.value() == rounding(2600.0));
  CHECK(low.high / rpm.value() == rounding(2704.0));
  CHECK(low.sentence() ==
        "step 8: full-throttle engine speed at this load is outside the rated one: 2500 rpm; accepted: 2600 rpm to "
        "2704 rpm; uncertainty +/-60 rpm");
  accuses(only(turns(2790.0)), FindingKind::full_throttle_speed, 8, Severity::warning);
  proves_nothing(only(turns(2560.0)), FindingKind::full_throttle_speed);
  proves_nothing(only(turns(2730.0)), FindingKind::full_throttle_speed);
  CHECK(none(turns(2601.0)));
  CHECK(none(turns(2703.0)));
  // A maker's band comes before the one speed.
  const auto band = [](double n) {
    return [n](TrialDay& day) {
      day.engine = EngineKind::petrol_injected;
      day.full_throttle_power = no_power_source();
      day.drive.rated_engine_speed = unset;
      day.least_rated_speed = 2400.0 * rpm;
      day.greatest_rated_speed = 2500.0 * rpm;
      day.steps[7].point.engine_speed = n * rpm;
    };
  };
  accuses(only(band(2600.0)), FindingKind::full_throttle_speed, 8, Severity::warning);
  CHECK(none(band(2499.0)));
  // A petrol engine with one rated speed has no limit here.
  CHECK(none([](TrialDay& day) {
    day.engine = EngineKind::petrol_injected;
    day.full_throttle_power = no_power_source();
    day.steps[7].point.engine_speed = 2480.0 * rpm;
  }));
  CHECK(none([](TrialDay& day) {
    day.full_throttle_step = {};
    day.steps[7].point.engine_speed = 2500.0 * rpm;
  }));
}

TEST_CASE("9: flow against power at full throttle") {
  // b = q rho/P: 560 kW and 840 g/L.
  const auto burns = [](double g_per_kwh, EngineKind engine) {
    return [g_per_kwh, engine](TrialDay& day) {
      day.engine = engine;
      day.ranges.clear();
      const VolumeFlow<> q = g_per_kwh * 560.0 / 840.0 * litre_per_hour;
      day.steps[7].point.fuel_flow = q;
      // The steps below burn less, so that no flow falls.
      for (std::size_t i = 0; i < 7; ++i) day.steps[i].point.fuel_flow = unset;
    };
  };
  struct Row {
    EngineKind engine;
    double low, high;
  };
  for (const Row& row : {Row{EngineKind::diesel, 190.0, 260.0}, Row{EngineKind::petrol_injected, 250.0, 400.0},
                         Row{EngineKind::petrol_carburetted, 400.0, 600.0}}) {
    CAPTURE(words(row.engine));
    const auto low = only(burns(row.low * 0.92, row.engine));
    accuses(low, FindingKind::consumption, 9, Severity::warning);
    CHECK(low.figure / gram_per_kilowatt_hour.value() == relative(row.low * 0.92, 1e-12));
    CHECK(low.expanded_uncertainty == relative(0.05 * low.figure, 1e-12));
    accuses(only(burns(row.high * 1.08, row.engine)), FindingKind::consumption, 9, Severity::warning);
    proves_nothing(only(burns(row.low * 0.97, row.engine)), FindingKind::consumption);
    proves_nothing(only(burns(row.high * 1.03, row.engine)), FindingKind::consumption);
    CHECK(none(burns(row.low * 1.001, row.engine)));
    CHECK(none(burns(row.high * 0.999, row.engine)));
  }
  // A power made from that fuel flow says nothing about it; neither does none.
  for (const bool from_fuel : {true, false})
    CHECK(none([&](TrialDay& day) {
      burns(500.0, EngineKind::diesel)(day);
      day.full_throttle_power =
          from_fuel ? power_from_fuel_flow(FuelForPower<>{.fuel_flow = day.steps[7].point.fuel_flow,
                                                          .fuel_density = day.fuel_density,
                                                          .specific_consumption = 215.0 * gram_per_kilowatt_hour})
                    : no_power_source();
    }));
}

TEST_CASE("10: declared displacement against the roll-up") {
  const auto declared = [](double ratio) {
    return [ratio](TrialDay& day) { day.declared_displacement = ratio * day.rolled_up_displacement; };
  };
  const auto heavy = only(declared(1.04));
  accuses(heavy, FindingKind::displacement, 10, Severity::warning);
  CHECK(heavy.figure == relative(0.04, 1e-12));
  // 2 sqrt((0.005 x 1.04)^2 + 2 (3/10400)^2 + 2 (0.04 x 588/10400)^2 + (0.04 x 149.85/10400)^2).
  const double u = std::sqrt(std::pow(0.0052, 2) + 2.0 * std::pow(3.0 / 10400.0, 2) +
                             2.0 * std::pow(0.04 * 588.0 / 10400.0, 2) + std::pow(0.04 * 149.85 / 10400.0, 2));
  CHECK(heavy.expanded_uncertainty == relative(2.0 * u, 1e-12));
  CHECK(heavy.sentence().find("declared displacement differs from the roll-up by 4 %; accepted: -1 % to 1 %") == 0);
  accuses(only(declared(0.96)), FindingKind::displacement, 10, Severity::warning);
  proves_nothing(only(declared(1.015)), FindingKind::displacement);
  proves_nothing(only(declared(0.985)), FindingKind::displacement);
  CHECK(none(declared(1.0099)));
  CHECK(none(declared(0.9901)));
}

TEST_CASE("11: tank content") {
  const auto holds = [](double litres) { return [litres](TrialDay& day) { day.tanks[1].content = litres * litre; }; };
  const auto full = only(holds(800.0));
  accuses(full, FindingKind::tank_content, 11, Severity::severe);
  CHECK(full.item == 1U);
  CHECK(full.sentence() ==
        "fuel, starboard: tank holds more than its capacity: 800 L; accepted: up to 700 L; uncertainty +/-56 L");
  // In the units of the page.
  CHECK(full.sentence({.volume = shown(us_gallon, "gal")}).find("211 gal; accepted: up to 185 gal") !=
        std::string::npos);
  proves_nothing(only(holds(720.0)), FindingKind::tank_content);
  CHECK(none(holds(700.0)));
}

TEST_CASE("13: acceleration") {
  // 10400 kg to 20 kn are 550.4 kJ; 70 % of 560 kW are 392 kW: 1.4041 s at the least.
  const double v = 20.0 * knot.value(), energy = 0.5 * 10400.0 * v * v;
  const auto takes = [](double seconds) {
    return [seconds](TrialDay& day) {
      day.accelerations[0].time = seconds * second;
      day.limits.acceleration = 2.0 * standard_gravity;  // the other limit out of the way
    };
  };
  const double least = energy / 392e3;
  const auto fast = only(takes(0.9 * least));
  accuses(fast, FindingKind::acceleration_power, 13, Severity::severe);
  CHECK(fast.figure == relative(392e3 / 0.9, 1e-12));
  CHECK(fast.subject == "0 to 20 kn");
  CHECK(fast.item == 0U);
  CHECK(fast.expanded_uncertainty ==
        relative(2.0 * fast.figure *
                     std::sqrt(std::pow(0.01 / (0.9 * least), 2) + std::pow(0.1 / 20.0, 2) + std::pow(0.005, 2)),
                 1e-12));
  proves_nothing(only(takes(0.99 * least)), FindingKind::acceleration_power);
  CHECK(none(takes(1.01 * least)));

  // 0.5 g to 20 kn takes 2.0984 s.
  const auto pulls = [](double g) {
    return [g](TrialDay& day) {
      day.accelerations[0].time = 20.0 * knot / (g * standard_gravity);
      day.drive.rated_power = unset;
    };
  };
  const auto hard = only(pulls(0.55));
  accuses(hard, FindingKind::acceleration_rate, 13, Severity::severe);
  CHECK(hard.figure / standard_gravity.value() == relative(0.55, 1e-12));
  proves_nothing(only(pulls(0.503)), FindingKind::acceleration_rate);
  CHECK(none(pulls(0.499)));
  // The rate needs no mass. The power takes the declared one where there is no roll-up, and without either is not said.
  TrialDay no_mass = sound_day();
  no_mass.rolled_up_displacement = no_mass.declared_displacement = unset;
  no_mass.accelerations[0].time = 20.0 * knot / standard_gravity;
  const auto by_rate = find_all(no_mass);
  REQUIRE(by_rate.size() == 1);
  CHECK(by_rate[0].kind == FindingKind::acceleration_rate);
  CHECK(by_rate[0].figure == rounding(standard_gravity.value()));
  TrialDay declared = no_mass;
  declared.declared_displacement = 10450.0 * kilogram;
  const auto both = find_all(declared);
  REQUIRE(both.size() == 2);
  CHECK(both[0].kind == FindingKind::acceleration_power);
  CHECK(both[0].figure ==
        rounding(0.5 * 10450.0 * std::pow((20.0 * knot).value(), 2) / declared.accelerations[0].time.value()));
}

TEST_CASE("15: depth") {
  // One step at 20 kn that is said to plane over less or more than 0.8 L_WL.
  const auto over = [](double number, double froude) {
    return [number, froude](TrialDay& day) {
      day.steps = {day.steps[3]};
      day.full_throttle_step = {};
      day.ranges.clear();
      day.steps[0].point.volume_froude_number = froude;
      const double v = day.steps[0].point.speed.value() / number;
      day.depth = v * v / 9.80665 * metre;
    };
  };
  accuses(only(over(0.8, 2.2)), FindingKind::depth, 15, Severity::warning);
  accuses(only(over(1.0, 2.2)), FindingKind::depth, 15, Severity::severe);
  accuses(only(over(1.0, 2.6)), FindingKind::depth, 15, Severity::warning);  // 10.53 m over 0.8 x 11 m
  accuses(only(over(0.8, 2.6)), FindingKind::depth, 15, Severity::note);
  CHECK(none(over(0.699, 2.2)));
  CHECK(none(over(1.201, 2.2)));
  Finding finding = only(over(1.0, 2.2));
  CHECK(finding.sentence() ==
        "step 1: depth Froude number is in the band where the depth tells: 1; accepted: below 0.7 or above 1.2");
  CHECK(finding.between_is_bad);
  // A figure is written finer where it would read like the limit that it is beyond, and no finer than its uncertainty.
  finding.figure = 1.195;
  CHECK(finding.sentence().ends_with(": 1.195; accepted: below 0.7 or above 1.2"));
  finding.figure = 0.70041;
  CHECK(finding.sentence().ends_with(": 0.7004; accepted: below 0.7 or above 1.2"));
  finding.expanded_uncertainty = 0.044;
  finding.figure = 0.98765;
  CHECK(finding.sentence().ends_with(": 0.988; accepted: below 0.7 or above 1.2; uncertainty +/-0.044"));
  finding.expanded_uncertainty = 0.44;
  CHECK(finding.sentence().ends_with(": 0.99; accepted: below 0.7 or above 1.2; uncertainty +/-0.44"));
}

TEST_CASE("16: wind and sea") {
  const auto blows = [](double knots) { return [knots](TrialDay& day) { day.wind = knots * knot; }; };
  const auto wind = only(blows(14.0));
  accuses(wind, FindingKind::wind, 16, Severity::note);
  CHECK(wind.expanded_uncertainty / knot.value() == relative(2.0 * std::hypot(0.5, 0.02 * 14.0), 1e-12));
  CHECK(wind.sentence() == "wind: 14 kn; accepted: up to 10 kn; uncertainty +/-1.1 kn");
  proves_nothing(only(blows(10.8)), FindingKind::wind);
  CHECK(none(blows(9.9)));
  const auto runs_high = [](double m) { return [m](TrialDay& day) { day.wave_height = m * metre; }; };
  accuses(only(runs_high(0.5)), FindingKind::sea, 16, Severity::note);
  CHECK(none(runs_high(0.29)));
}

TEST_CASE("a wrong day raises each of them, in the order of their numbers") {
  TrialDay day = sound_day();
  day.steps[0].point.speed = speed_at_slip(day, 0, -0.15);  // 1
  day.steps[5].point.speed = 18.0 * knot;                   // 2 and 5
  day.steps[1].both_directions = false;                     // 3
  day.steps[4].half_difference = 2.4 * knot;                // 4, both
  day.steps[6].point.fuel_flow = 100.0 * litre_per_hour;    // 5
  day.steps[3].planing_claimed = true;                      // 6
  day.ranges[0].reserve_named = false;                      // 7
  day.ranges[0].distance = 450.0 * nautical_mile;           // 7
  day.steps[7].point.engine_speed = 2480.0 * rpm;           // 8
  day.steps[7].point.fuel_flow = 250.0 * litre_per_hour;    // 9
  day.declared_displacement = 9500.0 * kilogram;            // 10
  day.tanks[0].content = 900.0 * litre;                     // 11
  day.accelerations[0].time = 0.9 * second;                 // 13, both
  day.depth = 12.0 * metre;                                 // 15
  day.wind = 16.0 * knot;                                   // 16
  day.wave_height = 0.8 * metre;                            // 16
  const auto found = find_all(day);
  std::set<FindingKind> kinds;
  std::set<int> numbers;
  int before = 0;
  for (const Finding& finding : found) {
    CAPTURE(finding.sentence());
    kinds.insert(finding.kind);
    numbers.insert(finding.number());
    CHECK(finding.number() >= before);
    CHECK(finding.severity != Severity::none);
    CHECK(cite(finding).find("(practice)") != std::string::npos);
    before = finding.number();
  }
  CHECK(kinds.size() == finding_rules.size());
  CHECK(numbers == std::set<int>{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 16});
}

TEST_CASE("the tables of rules and limits stand in the order of the kinds") {
  for (std::size_t i = 0; i < finding_rules.size(); ++i) {
    CAPTURE(i);
    CHECK(static_cast<std::size_t>(finding_rules[i].kind) == i);
    CHECK_FALSE(finding_rules[i].words.empty());
    CHECK_FALSE(finding_rules[i].causes.empty());
  }
  // The sentences of the limits against the settable defaults.
  const FindingLimits limits;
  const auto high = [](FindingKind kind) { return finding_limits[static_cast<std::size_t>(kind)].high; };
  CHECK(high(FindingKind::half_difference) == in(limits.half_difference, knot));
  CHECK(high(FindingKind::off_smooth_current) == in(limits.off_smooth_current, knot));
  CHECK(high(FindingKind::speed_falls) == in(limits.speed_fall, knot));
  CHECK(high(FindingKind::flow_falls) * percent == limits.flow_fall);
  CHECK(high(FindingKind::full_throttle_speed) * percent == limits.diesel_above_rated);
  CHECK(high(FindingKind::displacement) * percent == limits.displacement);
  CHECK(high(FindingKind::acceleration_power) * percent == limits.propulsive_coefficient);
  CHECK(high(FindingKind::acceleration_rate) == in(limits.acceleration, standard_gravity));
  CHECK(high(FindingKind::depth) == limits.depth_froude_to);
  CHECK(high(FindingKind::wind) == in(limits.wind, knot));
  CHECK(high(FindingKind::sea) == in(limits.waves, metre));
  CHECK(finding_limits[static_cast<std::size_t>(FindingKind::planing_claim)].low == limits.planing_for_sure);
  for (const auto kind : {EngineKind::diesel, EngineKind::petrol_injected, EngineKind::petrol_carburetted})
    CHECK(words(kind) != "unknown engine");
}

TEST_CASE("limits and uncertainties are the user's") {
  TrialDay day = sound_day();
  day.wind = 12.5 * knot;
  CHECK(find_all(day).size() == 1);
  day.limits.wind = 13.0 * knot;
  CHECK(find_all(day).empty());
  day = sound_day();
  day.declared_displacement = 1.015 * day.rolled_up_displacement;
  CHECK(find_all(day).front().within_uncertainty);
  day.uncertainty.weighing = 0.2 * percent;  // a load cell
  day.uncertainty.tank_sender = 0.2 * percent;
  CHECK_FALSE(find_all(day).front().within_uncertainty);
}

TEST_CASE("bad input is refused by field and row") {
  const double nan = std::nan(""), infinite = std::numeric_limits<double>::infinity();
  const auto refuses = [](const std::function<void(TrialDay&)>& change, const std::string& field) {
    CAPTURE(field);
    TrialDay day = sound_day();
    change(day);
    try {
      find_all(day);
      FAIL("accepted");
    } catch (const BadInput& refusal) {
      CHECK(refusal.field() == field);
    }
  };
  // Every limit and every uncertainty, from their field tables: neither unset, infinite nor negative.
  const auto every = [&](auto member) {
    TrialDay day = sound_day();
    int count = 0;
    for_each_field(day.*member, [&](const auto& entry, auto& value) {
      using Q = std::remove_cvref_t<decltype(value)>;
      const Q good = value;
      for (const double bad : {nan, infinite, -infinite, -1.0, 1e9}) {
        CAPTURE(entry.name);
        CAPTURE(bad);
        if constexpr (is_quantity<Q>)
          value = Q::from_value(bad);
        else
          value = bad;
        CHECK_THROWS_AS(find_all(day), BadInput);
      }
      value = good;
      ++count;
    });
    CHECK(find_all(day).empty());
    return count;
  };
  CHECK(every(&TrialDay::limits) == 25);
  CHECK(every(&TrialDay::uncertainty) == 11);
  for (const double bad : {infinite, -infinite, -1.0}) {
    refuses([&](TrialDay& day) { day.depth = bad * metre; }, "depth");
    refuses([&](TrialDay& day) { day.wind = bad * knot; }, "wind");
    refuses([&](TrialDay& day) { day.wave_height = bad * metre; }, "wave height");
    refuses([&](TrialDay& day) { day.rolled_up_displacement = bad * kilogram; }, "rolled-up displacement");
    refuses([&](TrialDay& day) { day.declared_displacement = bad * kilogram; }, "declared displacement");
    refuses([&](TrialDay& day) { day.drive.pitch = bad * inch; }, "pitch");
    refuses([&](TrialDay& day) { day.steps[2].point.speed = bad * knot; }, "speed of step 3");
    refuses([&](TrialDay& day) { day.steps[2].half_difference = 60.0 * bad * knot; }, "half-difference of step 3");
    refuses([&](TrialDay& day) { day.tanks[1].content = bad * litre; }, "content of tank 2");
  }
  refuses([&](TrialDay& day) { day.tanks[1].capacity = unset; }, "capacity of tank 2");
  refuses([&](TrialDay& day) { day.tanks[1].content = nan * litre; }, "content of tank 2");
  refuses([](TrialDay& day) { day.ranges[0].distance = unset; }, "range of range 1");
  refuses([](TrialDay& day) { day.ranges[0].step = 8; }, "step of range 1");
  refuses([](TrialDay& day) { day.full_throttle_step = 8; }, "full-throttle step");
  refuses([](TrialDay& day) { day.least_rated_speed = 2400.0 * rpm; }, "rated band");
  refuses(
      [](TrialDay& day) {
        day.least_rated_speed = 2500.0 * rpm;
        day.greatest_rated_speed = 2400.0 * rpm;
      },
      "rated band");
  refuses([](TrialDay& day) { day.persons_asked = -1; }, "persons asked");
  refuses([](TrialDay& day) { day.accelerations[0].time = 0.0 * second; }, "acceleration time of acceleration 1");
  refuses([](TrialDay& day) { day.accelerations[0].from = 21.0 * knot; }, "to of acceleration 1");
  // Limits the wrong way round, as soon as one end of a pair passes the other's default.
  refuses([](TrialDay& day) { day.limits.diesel_least = 270.0 * gram_per_kilowatt_hour; }, "diesel least");
  refuses([](TrialDay& day) { day.limits.injected_most = 240.0 * gram_per_kilowatt_hour; }, "injected least");
  refuses([](TrialDay& day) { day.limits.carburetted_least = 700.0 * gram_per_kilowatt_hour; }, "carburetted least");
  refuses([](TrialDay& day) { day.limits.hump_from = 2.6; }, "hump from");
  refuses([](TrialDay& day) { day.limits.planing_for_sure = 1.9; }, "planing at least");
  refuses([](TrialDay& day) { day.limits.depth_froude_to = 0.6; }, "depth Froude number from");
  CHECK_THROWS_WITH_AS(check_limits({.diesel_least = 270.0 * gram_per_kilowatt_hour}),
                       "check_limits: diesel least is 270 g/kWh; accepted: up to diesel most, 260 g/kWh", BadInput);
  CHECK_NOTHROW(check_limits({.diesel_least = 260.0 * gram_per_kilowatt_hour}));
}
