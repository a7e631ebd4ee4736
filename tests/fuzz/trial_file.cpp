// Fuzzing of the trial-file reader and the reduction behind it: a file is refused in one line that names the file and
// what is accepted, or gives a whole day.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <string_view>

#include "reduced_day.hpp"
#include "trial_file.hpp"

namespace {

void demand(bool holds, const char* what, const std::string& text) {
  if (holds) return;
  std::fprintf(stderr, "%s: %s\n", what, text.c_str());
  std::abort();
}

// A name of this process: several fuzzers run beside each other.
const std::string& path() {
  static const std::string name = [] {
    const char* folder = std::getenv("TMPDIR");
    std::string made = std::string(folder != nullptr ? folder : "/tmp") + "/hardchine_trial_XXXXXX";
    const int file = mkstemp(made.data());
    if (file < 0) std::abort();
    return made;
  }();
  return name;
}

void refused(const std::string& message, bool names_file) {
  demand(message.find('\n') == std::string::npos, "a message of two lines", message);
  demand(!names_file || message.starts_with(path()), "a message without its file", message);
  demand(message.find("accepted: ") != std::string::npos, "a message without what is accepted", message);
}

// What an accepted file must hold is a number; what it may hold is a number or unset, never infinite.
void all_numbers(const trial_page::TrialFile& trial) {
  const auto number = [](const auto& quantity, const char* what) {
    demand(std::isfinite(hardchine::bare_value(quantity)), "an accepted file without a number", what);
  };
  const auto figure = [&](const auto& read, const char* what) {
    number(read.value, what);
    number(read.last_place, what);
  };
  const auto table = [](const auto& entry) {
    hardchine::for_each_field(entry.value, [](const auto& field, const auto& value) {
      demand(!hardchine::is_set(value) || std::isfinite(hardchine::bare_value(value)), "an infinite field",
             std::string(field.name));
    });
  };
  for (const trial_page::ReadWeight& weight : trial.weights) {
    number(weight.item.value.mass, "mass");
    table(weight.item);
  }
  for (const trial_page::ReadTank& tank : trial.tanks) {
    number(tank.tank.value.capacity, "capacity");
    number(tank.tank.value.contents, "density");
    table(tank.tank);
  }
  hardchine::check_fields("water", trial.water);
  figure(trial.usable_fuel, "usable fuel");
  table(trial.hull);
  table(trial.uncertainty);
  table(trial.limits);
  if (trial.drive) table(*trial.drive);
  if (trial.prediction) {
    table(trial.prediction->centre);
    table(trial.prediction->thrust_line);
    table(trial.prediction->added_drag);
    figure(trial.prediction->roughness_allowance, "roughness allowance");
  }
  demand(!trial.steps.empty(), "no step", "");
  for (const trial_page::ReadStep& step : trial.steps) {
    figure(step.engine_speed, "engine speed");
    figure(step.fuel_flow, "fuel flow");
    demand(!step.runs.empty(), "no run", "");
    for (const trial_page::ReadRun& run : step.runs) figure(run.ground_speed, "ground speed");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  std::ofstream(path(), std::ios::binary) << text;
  try {
    const trial_page::TrialFile trial = trial_page::read_trial_file(path());
    const trial_page::ReducedDay day = trial_page::reduce(trial);
    all_numbers(trial);
    demand(day.load.displacement.value.value() > 0.0, "a load that is none", text);
    demand(day.steps.size() == trial.steps.size(), "a step that is lost", text);
    for (const hardchine::Finding& finding : day.findings)
      demand(finding.sentence().find("nan") == std::string::npos || text.find("nan") != std::string::npos,
             "a finding on a number that is none", finding.sentence());
  } catch (const trial_page::FileError& refusal) {
    refused(refusal.what(), true);
  } catch (const hardchine::BadInput& refusal) {  // the program puts the file before it
    refused(refusal.what(), false);
  }
  return 0;
}
