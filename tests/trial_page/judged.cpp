// What the page judges: findings, conditions, accelerations, porpoising, power, CO2, and all of it as JSON.
#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "hardchine/trial/findings.hpp"
#include "program.hpp"

namespace {

using namespace hardchine;
using namespace trial_page_test;
using Json = nlohmann::json;

const std::string wrong_path = TRIAL_PAGE_FOLDER "/wrong_trial.toml";

void check_page(const Answer& answer) {
  CHECK(answer.status == 0);
  CHECK(answer.err.empty());
  CHECK(holds(answer.out, "Cautions"));
}

TEST_CASE("the sound demo raises no finding, the wrong trial raises each; both pages are stored") {
  const Folder folder;
  const std::string sound = text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt");
  CHECK(holds(sound, "Findings\n--------\nnone: "));
  const Answer wrong = run(folder, "'" + wrong_path + "'");
  check_page(wrong);
  CHECK(wrong.out == text_of(TRIAL_PAGE_FOLDER "/wrong_trial_nautical.txt"));
  const std::string page = flat(wrong.out);
  for (const FindingRule& rule : finding_rules) {
    CAPTURE(rule.words);
    CHECK(holds(page, std::string(rule.words)));
    for (const std::string_view cause : rule.causes) CHECK(holds(page, std::string(cause)));
  }
  for (const std::string severity : {"note", "warning", "severe"}) CHECK(holds(page, ", " + severity));
  // Beyond its limit by no more than the sender is sure of: 720 L in 700 L, U = 2 * 4 % * 700 L = 56 L.
  CHECK(holds(page,
              "11, note: Fuel, port: tank holds more than its capacity: 720 L; accepted: up to 700 L; uncertainty "
              "+/-56 L; beyond the limit by no more than that, so it proves nothing"));
}

TEST_CASE("--strict: exit status 1 with a finding, and the page all the same") {
  const Folder folder;
  const std::string page = text_of(TRIAL_PAGE_FOLDER "/wrong_trial_nautical.txt");
  const Answer wrong = run(folder, "--strict '" + wrong_path + "'");
  CHECK(wrong.status == 1);
  CHECK(wrong.err.empty());
  CHECK(wrong.out == page);
  CHECK(run(folder, "'" + wrong_path + "'").status == 0);
  CHECK(run(folder, "--strict '" + demo_path + "'").status == 0);
  // A note alone is one: wind above 10 kn.
  const std::string windy_day = with(text_of(demo_path), "wind = \"6 kn\"", "wind = \"14 kn\"");
  const Answer windy = run_on(folder, windy_day, "--strict");
  CHECK(windy.status == 1);
  CHECK(windy.err.empty());
  CHECK(holds(windy.out, "- 16, note: wind: 14 kn; accepted: up to 10 kn"));
  CHECK(run_on(folder, windy_day, "--strict --json").status == 1);
  CHECK(run_on(folder, windy_day, "").status == 0);
  CHECK(run(folder, "--strict --json '" + wrong_path + "'").status == 1);
}

TEST_CASE("a limit that passes the other end of its pair is refused on its line") {
  const std::string demo = text_of(demo_path) + "\n[limits]\n";
  const Answer high = run_on(demo + "diesel_least = \"270 g/kWh\"\n");
  CHECK(high.status == 2);
  CHECK(high.out.empty());
  const auto line = std::to_string(std::count(demo.begin(), demo.end(), '\n') + 1);
  CHECK(
      holds(high.err,
            ":" + line + ": field diesel least in [limits]: value 270 g/kWh; accepted: up to diesel most, 260 g/kWh"));
  // The one that is typed may be the other end: then the block is named.
  const Answer low = run_on(demo + "diesel_most = \"170 g/kWh\"\n");
  CHECK(low.status == 2);
  CHECK(holds(low.err, "field diesel least in [limits]: value 190 g/kWh; accepted: up to diesel most, 170 g/kWh"));
}

TEST_CASE("limits and uncertainties of the user's own") {
  const std::string demo = text_of(demo_path);
  const Answer strict = run_on(demo + "\n[limits]\nhalf_difference = \"0.55 kn\"\n");
  check_page(strict);
  // 2450 rpm: (28.1 - 27.0)/2 = 0.55; 2600 rpm: (30.3 - 29.1)/2 = 0.6, beyond by 0.05 kn, less than U = 2 * 0.05/sqrt 2
  CHECK(holds(flat(strict.out),
              "4, note at 2600 rpm: step 8: half-difference of the two directions is large: 0.6 kn; "
              "accepted: up to 0.55 kn; uncertainty +/-0.071 kn; beyond the limit by no more"));
  const Answer sure =
      run_on(demo + "\n[limits]\nhalf_difference = \"0.55 kn\"\n[uncertainty]\nspeed_uncertainty = \"0.01 kn\"\n");
  check_page(sure);
  CHECK(
      holds(flat(sure.out), "4, warning at 2600 rpm: step 8: half-difference of the two directions is large: 0.6 kn"));
}

TEST_CASE("a step one way is a finding") {
  const Answer answer = run_on(with(text_of(demo_path), "back = \"24.7 kn\"\n", ""));
  check_page(answer);
  CHECK(holds(flat(answer.out), "3, warning at 2300 rpm: step 6: runs in one direction only"));
  CHECK(holds(answer.out, "single one-way run, current not removed"));
}

TEST_CASE("conditions with what they mean") {
  const std::string demo = text_of(demo_path), page = flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
  // F_nh = 29.7 kn/sqrt(9.80665 m/s2 * 70 m) = 15.2790/26.2006 = 0.5832
  CHECK(holds(page, "depth 70 m, depth Froude number at most 0.58: deep water"));
  // (29.7 + 6)^2 + (29.7 - 6)^2 over 2 * 29.7^2 is 1 + (6/29.7)^2 = 1.0408
  CHECK(holds(page, "it leaves 4 % more air drag than still air in the mean of a pair at 29.7 kn"));
  CHECK(holds(page, "waves 0.2 m: smooth water"));
  // CIPM-2007 at 16.4 C, 1016 hPa, 72 %; an independent evaluation of the same equation: 1.2168 kg/m3 (derived)
  CHECK(holds(page, "density 1.217 kg/m3, 0.7 % below standard; engine power is not corrected for it"));
  const Answer rough = run_on(with(with(demo, "\"0.2 m\"", "\"0.5 m\""), "\"70 m\"", "\"30 m\""));
  check_page(rough);
  CHECK(holds(flat(rough.out), "waves 0.5 m: waves above 0.3 m: not smooth water, publish as rough"));
  // Critical speed sqrt(9.80665 * 30) = 17.152 m/s = 33.34 kn: F_nh 0.6 at 20.0 kn, 0.7 at 23.3 kn, 0.9 at 30.0 kn
  CHECK(holds(flat(rough.out),
              "deep water at 900, 1500, 1800, 2000 rpm; nearly deep: the bottom begins to be felt at "
              "2150 rpm; shallow: drag and trim differ from deep water at 2300, 2450, 2600 rpm"));
  // Over deep water for her length a planing boat minds the depth less: notes instead of warnings.
  const Answer short_boat = run_on(with(with(demo, "\"70 m\"", "\"30 m\""), "# waterline_length", "waterline_length"));
  CHECK(holds(short_boat.out, "- 15, note at 2600 rpm"));
  CHECK(holds(rough.out, "- 15, warning at 2600 rpm"));
}

TEST_CASE("declared displacement, stated range, tank by content") {
  const std::string page = flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
  // 10480/10513.2 - 1 = -0.32 %
  CHECK(
      holds(page, "declared displacement 10480 kg (weighed in the slings before the trial): 0.3 % below the roll-up"));
  CHECK(holds(page, "stated by builder's sheet: 275 nmi at 2300 rpm, 10 % of capacity held back; here 277 nmi"));
  const Answer content = run_on(with(text_of(demo_path), "fill = \"80 %\"", "content = \"560 L\""));
  check_page(content);
  // 560 L * 0.840 kg/L = 470.4 kg, to the litre 0.84 kg
  CHECK(holds(flat(content.out), "Fuel, port 560 L of 700 L, diesel 470 "));
}

TEST_CASE("CO2 by the factor that the file names") {
  // 40 CFR 98 table C-1: 0.138 mmBtu/US gal * 73.96 kg/mmBtu = 10.20648 kg/US gal = 2.69627 kg/L; 137.3 L/h: 370.2 kg/h,
  // at 29.7 kn 12.464 kg/nmi
  CHECK(holds(flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt")), "2600 29.7 370.2 12.46"));
  // MEPC.282(70): 3.206 t/t * 0.840 kg/L = 2.69304 kg/L: 369.75 kg/h
  const Answer mepc = run_on(with(text_of(demo_path), "40 CFR 98 distillate 2", "MEPC.282(70) diesel"));
  check_page(mepc);
  CHECK(holds(flat(mepc.out), "2600 29.7 369.8 12.45"));
  CHECK(holds(mepc.out, "MEPC.282(70), diesel and gas oil, per mass of fuel"));
  CHECK(holds(text_of(TRIAL_PAGE_FOLDER "/wrong_trial_nautical.txt"), "note on CO2: petrol named"));
}

TEST_CASE("timed accelerations as noted, both ways combined, the start rule named") {
  const std::string demo = text_of(demo_path), page = flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
  CHECK(holds(page, "0 20 10.4 11.0 10.7 start by back-extrapolation through 2 and 5 mph; 2 runs"));
  // (7.9 + 8.0)/2 = 7.95 and (8.3 + 8.5)/2 = 8.4: 8.175
  CHECK(holds(page, "15 25 8.0 8.4 8.2 between two speeds; 4 runs"));
  const Answer one_way = run_on(with(demo, "back = \"11.0 s\"\n", ""));
  check_page(one_way);
  CHECK(holds(flat(one_way.out), "0 20 10.4 - - start by back-extrapolation through 2 and 5 mph; one way only"));
  const Answer unequal = run_on(with(demo, ", { back = \"8.5 s\" }", ""));
  check_page(unequal);
  CHECK(holds(flat(unequal.out), "15 25 8.0 8.3 - between two speeds; not averaged: unequal numbers of runs each way"));
}

TEST_CASE("trim and setting per step beside the prediction, with the margin to porpoising") {
  const std::string demo = text_of(demo_path), page = flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
  // 2600 rpm: C_Delta 0.3126, C_v 2.727, C_Lb = 2 * 0.3126/7.437 = 0.0841, sqrt(C_Lb/2) = 0.2050. Savitsky 1964 Fig. 18 as
  // the library reads it: deadrise 10: 4.9 + 0.1 * 2.1 = 5.11, 20: 5.7 + 0.1 * 2.2 = 5.92, 18: 5.76; less 4.4
  CHECK(holds(page, "2600 29.7 4.4 4.7 5.8 1.4 stable (limit)"));
  CHECK(holds(page, "900 7.3 1.3 - - - not planing; tabs up"));
  // On the predicted trim where none was measured.
  const Answer predicted = run_on(with(demo, "trim = \"4.4 deg\"\n", ""));
  CHECK(holds(flat(predicted.out), "2600 29.7 - 4.7 5.8 1.1 stable (limit)"));
  const Answer bow_up = run_on(with(demo, "trim = \"4.4 deg\"", "trim = \"6.5 deg\""));
  CHECK(holds(flat(bow_up.out), "2600 29.7 6.5 4.7 5.8 -0.7 porpoising likely (limit)"));
  // One-sided: beyond 20 degrees of deadrise the chart's edge is a lower bound.
  const Answer steep = run_on(with(demo, "deadrise = \"18.0 deg\"", "deadrise = \"22.0 deg\""));
  check_page(steep);
  CHECK(holds(flat(steep.out), "(limit at least)"));
}

TEST_CASE("propulsive coefficient with the source of its power, and a blank without one") {
  const std::string demo = text_of(demo_path), page = flat(text_of(TRIAL_PAGE_FOLDER "/demo_nautical.txt"));
  // 268 kW effective at 2600 rpm over 2 * 280 kW = 0.479
  CHECK(holds(page, "2600 29.7 560 0.48 rated power, at full throttle near rated engine speed"));
  CHECK(holds(page, "2450 27.6 - - blank: not run at full throttle"));
  const auto source = [&](const std::string& to) {
    const Answer answer = run_on(with(demo, "source = \"rated power at full throttle\"", to));
    check_page(answer);
    return flat(answer.out);
  };
  // 137.3 L/h * 0.840 kg/L / 215 g/kWh = 536.4 kW; 268/536.4 = 0.4996
  CHECK(holds(source("source = \"fuel flow\"\nspecific_consumption = \"215 g/kWh\""),
              "2600 29.7 536 0.50 power from fuel flow and a stated specific consumption"));
  // 560 kW * (2450/2600)^2.7 = 477.0 kW; 245/477.0 = 0.513
  CHECK(holds(source("source = \"propeller demand law\"\nexponent = 2.7"),
              "2450 27.6 477 0.51 power by a propeller demand law from rated power, exponent 2.7"));
  const Answer torque =
      run_on(with(with(demo, "source = \"rated power at full throttle\"", "source = \"measured torque\""),
                  "full_throttle = true", "full_throttle = true\ntorque = \"980 N m\""));
  check_page(torque);
  // 2 * 2 pi * 2600/60 s * 980 N m = 533.6 kW
  CHECK(holds(flat(torque.out), "2600 29.7 534 0.50 power from measured torque"));
  CHECK(holds(flat(torque.out), "2450 27.6 - - blank: no torque noted"));
}

TEST_CASE("runs at unequal times go to least squares") {
  // The derived case of five runs: V = 26.4027 kn, computed with independent code; the mean of means would give 26.38.
  const std::string pair = "out = \"25.7 kn\"\nback = \"24.7 kn\"\n";
  const Answer answer =
      run_on(with(text_of(demo_path), pair,
                  "runs = [{ out = \"27.25 kn\", time = \"0 h\" }, { back = \"25.65 kn\", time = \"0.35 h\" }, "
                  "{ out = \"27.00 kn\", time = \"1.05 h\" }, { back = \"25.85 kn\", time = \"1.30 h\" }, "
                  "{ out = \"26.86 kn\", time = \"2.10 h\" }]\n"));
  check_page(answer);
  CHECK(holds(flat(answer.out), "2300 27.04 25.75 26.40"));
  CHECK(holds(answer.out, "least squares with a current polynomial in time"));
}

/// Every object of a JSON value.
void for_each_object(const Json& value, const std::function<void(const Json&)>& visit) {
  if (value.is_object()) visit(value);
  if (value.is_structured())
    for (const Json& inner : value) for_each_object(inner, visit);
}

TEST_CASE("--json: the whole result, a unit beside each value") {
  const Folder folder;
  for (const std::string& path : {demo_path, wrong_path}) {
    for (const std::string units : {"us", "nautical", "metric"}) {
      CAPTURE(units);
      const Answer answer = run(folder, "'" + path + "' --json --units " + units);
      CHECK(answer.status == 0);
      CHECK(answer.err.empty());
      const Json result = Json::parse(answer.out);
      int quantities = 0;
      for_each_object(result, [&](const Json& object) {
        if (!object.contains("value")) return;
        ++quantities;
        CHECK(object.at("value").is_number());
        CHECK(object.at("unit").is_string());
        CHECK_FALSE(object.at("unit").get<std::string>().empty());
      });
      CHECK(quantities > 200);
      CHECK(result.at("steps").size() == 8);
      CHECK(result.at("load").is_object());
      CHECK(result.at("prediction").is_object());
    }
  }
  const Json sound = Json::parse(run(folder, "'" + demo_path + "' --json").out);
  CHECK(sound.at("findings").empty());
  CHECK(sound.at("steps").at(7).at("speed").at("value").get<double>() == doctest::Approx(29.7).epsilon(1e-12));
  CHECK(sound.at("steps").at(7).at("speed").at("unit") == "kn");
  // (30.3 + 29.1)/2 kn = 34.1781... mph, 1852/1609.344 each
  const Json us = Json::parse(run(folder, "'" + demo_path + "' --json --units us").out);
  CHECK(us.at("steps").at(7).at("speed").at("value").get<double>() ==
        doctest::Approx(29.7 * 1852.0 / 1609.344).epsilon(1e-12));
  CHECK(us.at("steps").at(0).at("predicted").contains("no_figures"));
  CHECK(us.at("cruise").at("best_step") == 6);

  std::set<int> numbers;
  const Json wrong = Json::parse(run(folder, "'" + wrong_path + "' --json").out);
  for (const Json& finding : wrong.at("findings")) {
    numbers.insert(finding.at("number").get<int>());
    CHECK_FALSE(finding.at("likely_causes").empty());
    CHECK(finding.at("sentence").is_string());
  }
  CHECK(numbers == std::set<int>{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 16});
}

TEST_CASE("--json of a wrong file is a message and nothing else") {
  const Answer answer = run_on(with(text_of(demo_path), "\"8760 kg\"", "\"8760 kn\""), "--json");
  CHECK(answer.status == 2);
  CHECK(answer.out.empty());
  CHECK(holds(answer.err, "field mass in [[weight]] 1"));
}

}  // namespace
