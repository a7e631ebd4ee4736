// Every `inline constexpr Method NAME{...}` of the public headers, as it is written.
#pragma once

#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

struct MethodDefinition {
  std::string name, header, body;  ///< header below include/hardchine; body: what stands between its braces
};

inline std::vector<MethodDefinition> method_definitions(const std::filesystem::path& source) {
  std::vector<MethodDefinition> found;
  const std::filesystem::path root = source / "include" / "hardchine";
  const std::regex start(R"(inline constexpr Method (\w+)\s*[{=])");
  for (const auto& entry : std::filesystem::recursive_directory_iterator(root)) {
    if (entry.path().extension() != ".hpp") continue;
    std::ifstream file(entry.path());
    std::stringstream stream;
    stream << file.rdbuf();
    const std::string text = stream.str();
    for (std::sregex_iterator it(text.begin(), text.end(), start), end; it != end; ++it) {
      const auto from = static_cast<std::size_t>(it->position() + it->length());
      found.push_back({(*it)[1], std::filesystem::relative(entry.path(), root).generic_string(),
                       text.substr(from, text.find("};", from) - from)});
    }
  }
  return found;
}
