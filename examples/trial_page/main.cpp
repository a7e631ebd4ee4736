// trial_page: reads a trial file and prints the reduced day, with a calm-water prediction beside it.
//
// Exit status: 0 the page was printed; 1 it could not be written, or with --strict it holds a finding; 2 the
// file or the command line is wrong.

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <map>
#include <string>

#include "hardchine/version.hpp"
#include "page.hpp"
#include "page_json.hpp"
#include "reduced_day.hpp"
#include "trial_file.hpp"

namespace {

constexpr int cannot_write = 1, strict_findings = 1, wrong_input = 2;

int print(const std::string& text) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  return written ? 0 : cannot_write;
}

int refuse(const std::string& message) {
  std::fputs((message + "\n").c_str(), stderr);
  return wrong_input;
}

int run(int argc, char** argv) {
  using trial_page::UnitSystem;
  CLI::App app("Reduces a sea trial of a planing boat and prints one page.", "trial_page");
  std::string file, units = "nautical";
  app.add_option("file", file, "the trial file (TOML)")->required();
  app.add_option("-u,--units", units, "units of the page: us, nautical (default) or metric")
      ->check(CLI::IsMember({"us", "nautical", "metric"}));
  bool as_json = false, strict = false;
  app.add_flag("--json", as_json, "the whole result as JSON instead of the page");
  app.add_flag("--strict", strict, "exit status 1 if there is a finding");
  app.set_version_flag("--version", fmt::format("hardchine {}.{}.{}", hardchine::version_major,
                                                hardchine::version_minor, hardchine::version_patch));
  app.footer(trial_page::trial_file_help);
  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& e) {
    return app.exit(e);
  } catch (const CLI::ParseError& e) {
    return refuse(std::string("trial_page: ") + e.what() +
                  "; accepted: trial_page [--units us|nautical|metric] [--json] [--strict] file.toml");
  }
  const std::map<std::string, UnitSystem> systems{
      {"us", UnitSystem::us}, {"nautical", UnitSystem::nautical}, {"metric", UnitSystem::metric}};
  try {
    const trial_page::TrialFile trial = trial_page::read_trial_file(file);
    const trial_page::ReducedDay day = trial_page::reduce(trial);
    const auto write = as_json ? trial_page::json : trial_page::page;
    if (const int failed = print(write(trial, day, systems.at(units)))) return failed;
    return strict && !day.findings.empty() ? strict_findings : 0;
  } catch (const trial_page::FileError& e) {
    return refuse(e.what());
  } catch (const hardchine::BadInput& e) {
    return refuse(file + ": " + e.what());
  }
}

}  // namespace

int main(int argc, char** argv) { return run(argc, argv); }
