// A table of check values: lines that begin with # are comments, the first other line names the columns.
#pragma once

#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

using CsvRow = std::map<std::string, std::string>;

// `path` is below the tests folder. Throws if the file cannot be read or holds no row: a check on an empty table proves
// nothing.
inline std::vector<CsvRow> read_csv(const std::string& path) {
  std::ifstream file(std::filesystem::path(HARDCHINE_TEST_DATA) / path);
  if (!file) throw std::runtime_error("cannot read " + path);
  std::vector<std::string> names;
  std::vector<CsvRow> rows;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line.front() == '#') continue;
    std::vector<std::string> cells;
    std::stringstream stream(line);
    for (std::string cell; std::getline(stream, cell, ',');) cells.push_back(cell);
    if (names.empty()) {
      names = cells;
      continue;
    }
    if (cells.size() != names.size()) throw std::runtime_error(path + ": a row with another number of cells");
    CsvRow row;
    for (std::size_t i = 0; i < names.size(); ++i) row[names[i]] = cells[i];
    rows.push_back(row);
  }
  if (rows.empty()) throw std::runtime_error(path + " holds no row");
  return rows;
}

inline double number(const CsvRow& row, const std::string& column) { return std::stod(row.at(column)); }
