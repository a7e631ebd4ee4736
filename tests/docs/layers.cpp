// Arrows point down only: a header includes headers of its own floor or a lower one (docs/architecture.md).
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <string>
#include <vector>

namespace fs = std::filesystem;

namespace {

// The floor of a header by its folder; the umbrella stands on top of all.
int floor_of(const std::string& header) {
  static const std::map<std::string, int> floors{
      {"hardchine.hpp", 6}, {"prediction", 5},  {"trial", 4},      {"economy", 4},
      {"resistance", 3},    {"propulsion", 3},  {"seakeeping", 3}, {"craft", 2},
      {"fluids", 1},        {"scalar", 1},      {"fields.hpp", 1}, {"units.hpp", 0},
      {"outcome.hpp", 0},   {"version.hpp", 0}, {"text.hpp", 0},   {"literals.hpp", 0}};
  const auto found = floors.find(header.substr(0, header.find('/')));
  return found == floors.end() ? -1 : found->second;
}

}  // namespace

TEST_CASE("no header includes a higher floor, itself in a circle, or a folder that the architecture does not know") {
  const fs::path root = fs::path(HARDCHINE_SOURCE) / "include" / "hardchine";
  std::map<std::string, std::map<std::string, int>> includes;  // header -> included -> line
  const std::regex include(R"(^\s*#include "hardchine/([^"]+)\")");
  for (const auto& entry : fs::recursive_directory_iterator(root)) {
    if (entry.path().extension() != ".hpp") continue;
    const std::string header = fs::relative(entry.path(), root).generic_string();
    std::ifstream file(entry.path());
    std::string line;
    for (int number = 1; std::getline(file, line); ++number) {
      std::smatch m;
      if (!std::regex_search(line, m, include)) continue;
      const std::string included = m[1];
      includes[header][included] = number;
      INFO(header, ":", number, " includes ", included);
      CHECK(floor_of(header) >= 0);
      CHECK(floor_of(included) >= 0);
      CHECK(floor_of(included) <= floor_of(header));
    }
  }
  REQUIRE(includes.size() > 20);
  // Circles: follow the includes from each header; none may come back to it.
  for (const auto& start : includes) {
    std::map<std::string, bool> seen;
    std::vector<std::string> open{start.first};
    while (!open.empty()) {
      const std::string here = open.back();
      open.pop_back();
      for (const auto& next : includes[here]) {
        INFO("from ", start.first, " by ", here, " to ", next.first);
        CHECK(next.first != start.first);
        if (!seen[next.first]) open.push_back(next.first);
        seen[next.first] = true;
      }
    }
  }
}
