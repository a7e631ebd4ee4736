// Every answer of the library says what is outside the usual and where it comes from: explain() and cite() compile for
// each, and a struct that a header documents as an answer cannot be forgotten here.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <string_view>

#include "hardchine/hardchine.hpp"
#include "hardchine/trial/findings.hpp"

namespace fs = std::filesystem;
using namespace hardchine;

namespace {

template <class R>
concept Explained = requires(const R& result) {
  { explain(result) } -> std::same_as<std::vector<std::string_view>>;
  { cite(result) } -> std::same_as<std::string>;
};

// Its name as the headers write it, once the compiler has seen that it is explained.
template <Explained R>
std::string answer(std::string_view name) {
  const R result{};
  CHECK(explain(result).size() <= 1);  // nothing answered, so nothing outside the usual, or the kind of a finding
  if (name != "LeastSquaresRuns" && name != "ReducedRuns") CHECK_FALSE(cite(result).empty());
  return std::string(name);
}

}  // namespace

TEST_CASE("every answer is explained and cited") {
  const std::set<std::string> answers{answer<RunningState<>>("RunningState"),
                                      answer<PersonsCapacity<>>("PersonsCapacity"),
                                      answer<Water<>>("Water"),
                                      answer<Air<>>("Air"),
                                      answer<FuelAtTemperature<>>("FuelAtTemperature"),
                                      answer<FuelCo2<>>("FuelCo2"),
                                      answer<TopSpeed<>>("TopSpeed"),
                                      answer<TopSpeedSpan<>>("TopSpeedSpan"),
                                      answer<PowerNeeded<>>("PowerNeeded"),
                                      answer<UncertainSlip<>>("UncertainSlip"),
                                      answer<SlipCheck>("SlipCheck"),
                                      answer<PorpoisingMargin<>>("PorpoisingMargin"),
                                      answer<BestCruise>("BestCruise"),
                                      answer<CurveCruise>("CurveCruise"),
                                      answer<TimedAcceleration<>>("TimedAcceleration"),
                                      answer<CombinedTimes<>>("CombinedTimes"),
                                      answer<AccelerationPlausibility<>>("AccelerationPlausibility"),
                                      answer<LeastSquaresRuns<>>("LeastSquaresRuns"),
                                      answer<ReducedRuns<>>("ReducedRuns"),
                                      answer<DepthCondition<>>("DepthCondition"),
                                      answer<WindCondition<>>("WindCondition"),
                                      answer<SeaCondition<>>("SeaCondition"),
                                      answer<AirDragOfPair<>>("AirDragOfPair"),
                                      answer<PropulsiveCoefficient<>>("PropulsiveCoefficient"),
                                      answer<SpecificFuelConsumption<>>("SpecificFuelConsumption"),
                                      answer<Finding>("Finding")};
  // Ranges hold a reserve, which nothing makes by itself.
  static_assert(Explained<RangeResult<>> && Explained<OutAndBack<>>);
  std::set<std::string> known = answers;
  known.insert({"RangeResult", "OutAndBack"});

  // "The answer of" in the comment above a struct, or a member that names its method or its flags.
  const fs::path root = fs::path(HARDCHINE_SOURCE) / "include" / "hardchine";
  const std::regex documented(R"(/// The answer of [^\n]*\n(?:///[^\n]*\n)*(?:template <[^\n]*>\n)?struct (\w+) \{)");
  const std::regex any_struct(R"(\nstruct (\w+) \{)");
  const std::regex answering(
      R"(\n  (?:const Method\* method|PerLane<T, Flags> flags|Flags flags|PerLane<T, \w*Outcome> outcome)\b)");
  std::set<std::string> found;
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    if (entry.path().extension() != ".hpp") continue;
    std::ifstream file(entry.path());
    std::stringstream stream;
    stream << file.rdbuf();
    const std::string text = stream.str();
    for (std::sregex_iterator it(text.begin(), text.end(), documented), end; it != end; ++it) found.insert((*it)[1]);
    for (std::sregex_iterator it(text.begin(), text.end(), any_struct), end; it != end; ++it) {
      const auto from = static_cast<std::size_t>(it->position());
      const std::string body = text.substr(from, text.find("\n};", from) - from);
      if (std::regex_search(body, answering)) found.insert((*it)[1]);
    }
  }
  CHECK(found.size() >= 20);
  for (const std::string& name : found) {
    CAPTURE(name);
    CHECK(known.contains(name));
  }
}
