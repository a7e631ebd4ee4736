// docs/methods.md against the headers: every method is listed, under its header, and the page is the one that the
// arrays of limits make.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include "../../docs/methods_page.hpp"
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

// Name of every method of the headers, and where it is.
std::map<std::string, std::string> methods_of_headers() {
  std::map<std::string, std::string> methods;
  for (const MethodDefinition& method : method_definitions(source)) methods[method.name] = method.header;
  return methods;
}

}  // namespace

TEST_CASE("no method of the headers is missing in the list of docs/methods_page.hpp, and none is there twice") {
  const auto methods = methods_of_headers();
  REQUIRE(methods.size() > 25);
  std::set<std::string> listed;
  for (const methods_page::Entry& entry : methods_page::entries()) {
    const std::string name(entry.name);
    CAPTURE(name);
    CHECK(listed.insert(name).second);
    const auto found = methods.find(name);
    REQUIRE(found != methods.end());
    CHECK(found->second == entry.header);
    CHECK(!entry.method->name.empty());
  }
  for (const auto& method : methods) {
    INFO(method.first, " of ", method.second, ": add a line to docs/methods_page.hpp");
    CHECK(listed.contains(method.first));
  }
}

TEST_CASE("an entry's name and object go together: no two names share an object") {
  std::set<const hardchine::Method*> objects;
  for (const methods_page::Entry& entry : methods_page::entries()) CHECK(objects.insert(entry.method).second);
}

TEST_CASE("docs/methods.md is what the headers make it") {
  const std::string page = methods_page::page(), file = read(source / "docs" / "methods.md");
  INFO("docs/methods.md is stale: build make_methods and run it, make_methods > docs/methods.md");
  // Line by line, so that the message shows the first line that differs.
  std::stringstream made(page), kept(file);
  std::string a, b;
  int line = 0;
  while (std::getline(made, a)) {
    CAPTURE(++line);
    REQUIRE(std::getline(kept, b));
    REQUIRE(a == b);
  }
  CHECK(page == file);
}

TEST_CASE("the page shows each limit and each way out") {
  const std::string page = methods_page::page();
  std::size_t limits = 0;
  for (const methods_page::Entry& entry : methods_page::entries()) {
    for (const hardchine::Limit& limit : entry.method->limits) {
      CAPTURE(limit.sentence);
      CHECK(page.find(limit.sentence) != std::string::npos);
      ++limits;
    }
    CHECK(page.find(entry.method->instead_beyond) != std::string::npos);
  }
  CHECK(limits > 50);
  // A few rows as a reader sees them.
  CHECK(page.find("| trim outside 2 to 15 degrees | 2 to 15 | savitsky_1964 eq 15 |") != std::string::npos);
  CHECK(page.find("| mean wetted length above 4 beams | 0 to 4 | savitsky_1964 eq 15 |") != std::string::npos);
}
