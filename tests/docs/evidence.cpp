// The pages of docs against the headers: every method is listed, every key resolves, marks agree.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "hardchine/hardchine.hpp"
#include "hardchine/trial/findings.hpp"
#include "method_definitions.hpp"

namespace fs = std::filesystem;

namespace {

std::string read(const fs::path& path) {
  std::ifstream file(path);
  REQUIRE_MESSAGE(file, "cannot read ", path.string());
  std::stringstream text;
  text << file.rdbuf();
  return text.str();
}

const fs::path source = HARDCHINE_SOURCE;

std::vector<fs::path> headers() {
  std::vector<fs::path> found;
  for (const auto& entry : fs::recursive_directory_iterator(source / "include"))
    if (entry.path().extension() == ".hpp") found.push_back(entry.path());
  return found;
}

std::set<std::string> bibliography_keys() {
  std::set<std::string> keys;
  const std::string text = read(source / "docs" / "references.bib");
  const std::regex entry(R"(@\w+\{([a-z0-9_]+),)");
  for (std::sregex_iterator it(text.begin(), text.end(), entry), end; it != end; ++it) {
    CAPTURE((*it)[1].str());
    CHECK(keys.insert((*it)[1]).second);  // no key twice
  }
  return keys;
}

// What a header says of a method.
struct InHeader {
  std::string header, key, mark;
};

std::map<std::string, InHeader> methods_in_headers() {
  std::map<std::string, InHeader> methods;
  const std::regex literal(R"("([^"]*)\")");
  const std::regex mark(R"(Evidence::(\w+))");
  for (const MethodDefinition& method : method_definitions(source)) {
    CAPTURE(method.name);
    std::smatch m;
    REQUIRE(std::regex_search(method.body, m, mark));
    // The key is the literal that is a key: a name has spaces, the equations stand behind it.
    std::string key;
    for (std::sregex_iterator l(method.body.begin(), method.body.end(), literal), end; l != end && key.empty(); ++l) {
      const std::string s = (*l)[1];
      if (std::regex_match(s, std::regex("[a-z0-9_]+"))) key = s;
    }
    methods[method.name] = {method.header, key, m[1]};
  }
  return methods;
}

struct InTable {
  std::string header, key, mark, range;
};

std::map<std::string, InTable> rows_of_table() {
  std::map<std::string, InTable> rows;
  std::stringstream text(read(source / "docs" / "evidence.md"));
  for (std::string line; std::getline(text, line);) {
    if (line.rfind("| `", 0) != 0) continue;
    std::vector<std::string> cells;
    std::stringstream cell_stream(line);
    for (std::string cell; std::getline(cell_stream, cell, '|');) {
      const auto first = cell.find_first_not_of(' ');
      cells.push_back(first == std::string::npos ? "" : cell.substr(first, cell.find_last_not_of(' ') - first + 1));
    }
    REQUIRE(cells.size() >= 7);
    const std::string name = cells[1].substr(1, cells[1].find('`', 1) - 1);
    CAPTURE(name);
    CHECK_FALSE(rows.contains(name));
    rows[name] = {cells[2], cells[3], cells[5], cells[6]};
  }
  return rows;
}

}  // namespace

TEST_CASE("every method of the headers stands in docs/evidence.md with its key and mark, and the other way round") {
  const auto methods = methods_in_headers();
  const auto rows = rows_of_table();
  REQUIRE(methods.size() > 20);
  for (const auto& entry : methods) {
    const std::string& name = entry.first;
    const InHeader& method = entry.second;
    INFO(name);
    const auto row = rows.find(name);
    REQUIRE(row != rows.end());
    CHECK(row->second.header == method.header);
    CHECK(row->second.key == method.key);
    CHECK(row->second.mark == method.mark);
  }
  for (const auto& entry : rows) {
    const std::string& name = entry.first;
    const InTable& row = entry.second;
    INFO(name);
    CHECK_FALSE(row.range.empty());
    const std::string header = read(source / "include" / "hardchine" / row.header);
    CHECK(std::regex_search(header, std::regex("\\b" + name + "\\b")));
  }
}

TEST_CASE("every bibliography key resolves: of the table, of limits, of doc comments; and every entry is used") {
  const std::set<std::string> keys = bibliography_keys();
  REQUIRE(keys.size() > 15);
  std::set<std::string> used;
  const auto resolve = [&](const std::string& key, const std::string& where) {
    INFO(key, " in ", where);
    CHECK(keys.contains(key));
    used.insert(key);
  };
  for (const auto& [name, row] : rows_of_table()) resolve(row.key, "docs/evidence.md, " + name);
  for (const auto& [name, method] : methods_in_headers()) resolve(method.key, method.header);

  // In headers: every key in a sentence that begins with "Source:" (over the lines of the comment, up to its full stop or
  // the comment's end), and the source of each Limit (sentence, source, low, high).
  const std::regex source_sentence(R"(\bSource:((?:[^\n.]|\n///\s|\.\d)*))");
  const std::regex key_like(
      R"(\b(?:tupper|trade_practice|[a-z][a-z0-9]*(?:_[a-z0-9]+)*_[a-z]*\d[a-z0-9]*(?:_\d+)*)\b)");
  const std::regex limit(R"re(",\s*"([a-z0-9_]+)[^"]*",\s*-?(?:[0-9]|no_limit))re");
  int lines = 0, limits = 0;
  for (const fs::path& path : headers()) {
    const std::string text = read(path);
    for (std::sregex_iterator it(text.begin(), text.end(), source_sentence), end; it != end; ++it, ++lines) {
      const std::string sentence = (*it)[1];
      int keys_here = 0;
      for (std::sregex_iterator k(sentence.begin(), sentence.end(), key_like); k != end; ++k, ++keys_here)
        resolve(k->str(), path.filename().string());
      INFO(path.filename().string(), ": Source:", sentence);
      CHECK(keys_here > 0);
    }
    for (std::sregex_iterator it(text.begin(), text.end(), limit), end; it != end; ++it, ++limits)
      resolve((*it)[1], path.filename().string() + " (limit)");
  }
  CHECK(lines > 25);
  CHECK(limits > 20);

  // An entry that nothing names in headers, tests or docs is dead.
  std::string everything;
  for (const char* folder : {"include", "tests", "docs"})
    for (const auto& entry : fs::recursive_directory_iterator(source / folder))
      if (entry.path().extension() == ".hpp" || entry.path().extension() == ".cpp" || entry.path().extension() == ".md")
        everything += read(entry.path());
  for (const std::string& key : keys) {
    INFO(key);
    CHECK(std::regex_search(everything, std::regex("\\b" + key + "\\b")));
  }
}

TEST_CASE("a recalled method says so in the comment on it, or in the file comment where it is no Method") {
  int recalled = 0;
  for (const auto& entry : rows_of_table()) {
    const std::string& name = entry.first;
    if (entry.second.mark != "recalled") continue;
    ++recalled;
    INFO(name, " of ", entry.second.header);
    const std::string header = read(source / "include" / "hardchine" / entry.second.header);
    // The comment is the run of /// lines before the definition, or before the first thing that is none.
    const auto definition = header.find("inline constexpr Method " + name);
    const bool of_file = definition == std::string::npos;
    std::stringstream lines(of_file ? header : header.substr(0, definition));
    std::string comment;
    bool inside = false;
    for (std::string line; std::getline(lines, line);) {
      const bool is_comment = line.rfind("///", 0) == 0;
      if (is_comment && !inside) comment.clear();
      inside = is_comment;
      if (is_comment) comment += line;
      if (of_file && !is_comment) break;
    }
    if (!of_file) CHECK(inside);  // right above it
    CHECK(std::regex_search(comment, std::regex("\\b[Rr]ecalled\\b")));
  }
  CHECK(recalled >= 4);
}

TEST_CASE("an answer by a recalled method says so when it runs, and no default is one") {
  using namespace hardchine;
  const auto says = [](const auto& sentences) {
    for (const std::string_view sentence : sentences)
      if (sentence.find("recalled") != std::string_view::npos) return true;
    return false;
  };
  const auto marked = [](const std::string& citation) { return citation.find("(recalled)") != std::string::npos; };
  std::set<std::string> shown;

  {
    PlaningInput<> boat{
        .hull = {.chine_beam = 3.2 * metre, .deadrise = 18.0 * degree, .projected_chine_length = 10.8 * metre},
        .loading = {.mass = 10.5 * tonne, .lcg = 4.26 * metre, .vcg = 1.14 * metre},
        .water = sea_water(celsius(15.0)),
        .thrust_line = through_cg_parallel_to_keel(),
        .speed = 27.0 * knot};
    CHECK(method_of(boat.friction_line).evidence != Evidence::recalled);
    CHECK_FALSE(says(explain(planing_equilibrium(boat))));
    boat.friction_line = FrictionLine::schoenherr;
    CHECK(says(explain(planing_equilibrium(boat))));
    CHECK(says(explain(planing_equilibrium_paper_general(boat))));
    CHECK(says(explain(planing_equilibrium_paper_short(boat))));
    CHECK(marked(cite(method_of(FrictionLine::schoenherr))));
    shown.insert("schoenherr_method");
  }
  {
    SlipCheckInput input{
        .advance = {.engine_speed = 3200.0 * rpm, .reduction_ratio = 1.5, .pitch = 24.0 * inch, .speed = 31.0 * knot},
        .boat_type = BoatType::fast_planing};
    CHECK(says(explain(check_slip(input))));
    CHECK(marked(cite(check_slip(input))));
    // A boat type with a band of the trade is judged by that; the recalled row still stands beside it, flagged.
    input.boat_type = BoatType::outboard_runabout;
    CHECK(check_slip(input).judged.band.origin == BandOrigin::trade);
    CHECK(says(explain(check_slip(input))));
    // The finding that compares with the same fit cites it.
    CHECK(marked(cite(Finding{.kind = FindingKind::planing_slip})));
    shown.insert("typical_slip_method");
  }
  {
    CHECK(FuelCo2Input<>{}.basis == Co2Basis::not_chosen);
    for (const Co2Basis basis : {Co2Basis::ipcc_gasoline, Co2Basis::ipcc_diesel}) {
      const FuelCo2<> co2 = fuel_co2<double>({.basis = basis, .fuel_density = 750.0 * kilogram_per_cubic_metre});
      CHECK(says(explain(co2)));
      CHECK(marked(cite(co2)));
    }
    shown.insert("co2_net_heat_method");
  }

  // A recalled Method of the headers that is not shown above is one whose flags nobody has looked at.
  for (const auto& method : methods_in_headers()) {
    if (method.second.mark != "recalled") continue;
    INFO(method.first, " of ", method.second.header);
    CHECK(shown.contains(method.first));
  }
}
