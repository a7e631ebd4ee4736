// The program as a user runs it, for its tests.
#pragma once

#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace trial_page_test {

namespace files = std::filesystem;

inline std::string text_of(const files::path& path) {
  std::ifstream stream(path, std::ios::binary);
  REQUIRE(stream.good());
  std::ostringstream text;
  text << stream.rdbuf();
  return text.str();
}

inline const std::string demo_path = TRIAL_PAGE_FOLDER "/demo.toml";

/// A folder of this test's own, gone at the end.
struct Folder {
  files::path path = files::temp_directory_path() / ("trial_page_test_" + std::to_string(::getpid()));
  Folder() { files::create_directories(path); }
  ~Folder() { files::remove_all(path); }
};

struct Answer {
  int status;
  std::string out, err;
};

/// Runs the program in the folder; killed after `seconds` if it hangs, which is a status of its own.
inline Answer run(const Folder& folder, const std::string& arguments, int seconds = 60) {
  const std::string command = "cd '" + folder.path.string() + "' && timeout " + std::to_string(seconds) +
                              " '" TRIAL_PAGE_PROGRAM "' " + arguments + " >out 2>err";
  const int status = std::system(command.c_str());
  REQUIRE(WIFEXITED(status));
  return {WEXITSTATUS(status), text_of(folder.path / "out"), text_of(folder.path / "err")};
}

/// Replaces the first occurrence, which must be there.
inline std::string with(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  CAPTURE(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// The text without the block that starts with `header`, up to the next header.
inline std::string without_block(const std::string& text, const std::string& header) {
  const auto from = text.find("\n" + header);
  CAPTURE(header);
  REQUIRE(from != std::string::npos);
  const auto to = text.find("\n[", from + 1);
  return text.substr(0, from) + (to == std::string::npos ? "\n" : text.substr(to));
}

inline Answer run_on(const Folder& folder, const std::string& text, const std::string& options = "") {
  std::ofstream(folder.path / "my.toml", std::ios::binary) << text;
  return run(folder, "my.toml " + options);
}
inline Answer run_on(const std::string& text, const std::string& options = "") {
  return run_on(Folder(), text, options);
}

inline bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// On one line with single spaces, so that a sentence is found wherever the page breaks it, and a row of a table however
/// wide its columns are.
inline std::string flat(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const char one = c == '\n' ? ' ' : c;
    if (one != ' ' || out.empty() || out.back() != ' ') out += one;
  }
  return out;
}

/// The line of the file on which the text stands, counted from 1.
inline std::size_t line_of(const std::string& text, const std::string& part) {
  const auto at = text.find(part);
  REQUIRE(at != std::string::npos);
  return 1 + static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

}  // namespace trial_page_test
