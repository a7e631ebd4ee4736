// Arrows point down only: a header includes headers of its own floor or a lower one (docs/architecture.md). And what a
// new header must not forget: its line in the umbrella, its test of the same name.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>

namespace fs = std::filesystem;

namespace {

const fs::path source = HARDCHINE_SOURCE;

// The floor of a header by its folder; the umbrella stands on top of all.
const std::map<std::string, int> floors{
    {"hardchine.hpp", 6}, {"prediction", 5},  {"trial", 4},    {"economy", 4},     {"resistance", 3}, {"propulsion", 3},
    {"seakeeping", 3},    {"craft", 2},       {"fluids", 1},   {"scalar", 1},      {"fields.hpp", 1}, {"units.hpp", 0},
    {"outcome.hpp", 0},   {"version.hpp", 0}, {"text.hpp", 0}, {"literals.hpp", 0}};

// Headers that the umbrella does not name, each with its reason.
const std::map<std::string, std::string> not_in_umbrella{
    {"hardchine.hpp", "the umbrella itself"},   {"fields.hpp", "comes with every input"},
    {"outcome.hpp", "comes with every answer"}, {"text.hpp", "opt-in: parsing and printing"},
    {"literals.hpp", "opt-in: literals"},       {"trial/findings.hpp", "opt-in: compiles all it judges by"},
    {"scalar/lanes.hpp", "opt-in: for sweeps"}, {"scalar/batch.hpp", "opt-in: for sweeps"}};

// Headers without a test of the same name, each with the reason.
const std::map<std::string, std::string> without_test{
    {"hardchine.hpp", "tests/consumers includes it, in two units"},
    {"version.hpp", "tests/consumers compares it with the package's"},
    {"craft/running_state.hpp", "members only, which the tests of the balances read"},
    {"trial/run.hpp", "the runs and their door, which the tests of both reductions try"}};

int floor_of(const std::string& header) {
  const auto found = floors.find(header.substr(0, header.find('/')));
  return found == floors.end() ? -1 : found->second;
}

// The first way by which `here` comes to include `target`, as "a:1 b:2 ...", lines of the includes.
using Includes = std::map<std::string, std::map<std::string, int>>;  // header -> included -> line
std::string way(const Includes& includes, const std::string& here, const std::string& target,
                std::set<std::string>& seen) {
  const auto found = includes.find(here);
  if (found == includes.end()) return "";
  for (const auto& [next, line] : found->second) {
    const std::string step = here + ":" + std::to_string(line) + " ";
    if (next == target) return step + target;
    if (!seen.insert(next).second) continue;
    if (const std::string rest = way(includes, next, target, seen); !rest.empty()) return step + rest;
  }
  return "";
}

}  // namespace

TEST_CASE("no header includes a higher floor, itself in a circle, or a folder that the architecture does not know") {
  const fs::path root = source / "include" / "hardchine";
  Includes includes;
  const std::regex include(R"(^\s*#\s*include\s*(["<])([^">]+)[">])");
  int headers = 0;
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    if (!entry.is_regular_file()) continue;
    const std::string header = fs::relative(entry.path(), root).generic_string();
    CHECK_MESSAGE(floor_of(header) >= 0, header, ": its folder has no floor");
    ++headers;
    std::ifstream file(entry.path());
    std::string line;
    for (int number = 1; std::getline(file, line); ++number) {
      std::smatch m;
      if (!std::regex_search(line, m, include)) continue;
      const std::string name = m[2];
      const bool own = name.rfind("hardchine/", 0) == 0;
      INFO(header, ":", number, " includes ", name);
      // Own headers are named from the include folder and in quotes, so that this test sees each.
      CHECK(own == (m[1] == "\""));
      if (!own) continue;
      const std::string included = name.substr(std::string("hardchine/").size());
      includes[header][included] = number;
      CHECK(floor_of(included) >= 0);
      CHECK(floor_of(included) <= floor_of(header));
    }
  }
  REQUIRE(headers > 20);
  for (const auto& start : includes) {
    std::set<std::string> seen;
    const std::string circle = way(includes, start.first, start.first, seen);
    INFO("circle: ", circle);
    CHECK(circle.empty());
  }
}

TEST_CASE("the folder map of docs/architecture.md has the same floors") {
  std::ifstream file(source / "docs" / "architecture.md");
  // "  names   what   floor N", or "umbrella" for the top; a second line of the same entry has no floor.
  const std::regex entry(R"(^  ((?:\w+(?:/|\.hpp) ?)+) .*(?:floor (\d)|umbrella)$)");
  std::map<std::string, int> drawn;
  for (std::string line; std::getline(file, line);) {
    std::smatch m;
    if (!std::regex_match(line, m, entry)) continue;
    std::stringstream names(m[1]);
    for (std::string name; names >> name;) {
      if (name.back() == '/') name.pop_back();
      drawn[name] = m[2].matched ? std::stoi(m[2]) : 6;
    }
  }
  CHECK(drawn.size() == floors.size());
  for (const auto& known : floors) {
    INFO(known.first);
    REQUIRE(drawn.contains(known.first));
    CHECK(drawn[known.first] == known.second);
  }
}

TEST_CASE("every header is in the umbrella and has its test, but for a few with their reasons") {
  const fs::path root = source / "include" / "hardchine";
  std::set<std::string> umbrella, headers;
  std::ifstream file(root / "hardchine.hpp");
  const std::regex include("^#include \"hardchine/(.+)\"$");
  for (std::string line; std::getline(file, line);)
    if (std::smatch m; std::regex_match(line, m, include)) umbrella.insert(m[1]);
  for (const auto& entry : fs::recursive_directory_iterator(root))
    if (entry.is_regular_file()) headers.insert(fs::relative(entry.path(), root).generic_string());
  REQUIRE(headers.size() > 20);
  for (const std::string& header : headers) {
    INFO(header);
    CHECK_MESSAGE(umbrella.contains(header) != not_in_umbrella.contains(header),
                  "either hardchine.hpp includes it, or not_in_umbrella says why not");
    const std::string name = fs::path(header).replace_extension(".cpp").generic_string();
    const bool tested = fs::exists(source / "tests" / (name.find('/') == std::string::npos ? "core/" + name : name));
    CHECK_MESSAGE(tested != without_test.contains(header),
                  "either tests/ has a test of its name, or without_test says why not");
  }
  for (const auto* list : {&not_in_umbrella, &without_test})
    for (const auto& entry : *list)
      CHECK_MESSAGE(headers.contains(entry.first), entry.first, " is listed and not there");
}
