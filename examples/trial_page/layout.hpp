// Text of a page: paragraphs, headings, tables.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace trial_page {

inline constexpr std::size_t page_width = 100;

/// How many columns a text takes, one a code point of UTF-8.
inline std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// Words broken into lines that start with `indent`, the first with `start`.
inline std::string paragraph(std::string_view words, std::string_view start = "", std::string_view indent = "") {
  std::string text, line(start);
  bool empty = true;
  while (!words.empty()) {
    const std::string_view word = words.substr(0, words.find(' '));
    words.remove_prefix(std::min(word.size() + 1, words.size()));
    if (!empty && width_of(line) + 1 + width_of(word) > page_width) {
      text += line + "\n";
      line = indent;
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  return text + line + "\n";
}

inline std::string heading(std::string_view words) {
  return fmt::format("\n{}\n{}\n", words, std::string(words.size(), '-'));
}

/// A table of text: the first columns to the left, figures lined up at their decimal point.
class Table {
 public:
  /// @param columns a heading and what stands under it (a unit)
  /// @param left how many columns from the left hold words
  Table(std::vector<std::array<std::string, 2>> columns, std::size_t left)
      : columns_(std::move(columns)), left_(left) {}

  /// A row; with fewer cells than columns, `tail` follows in words.
  void row(std::vector<std::string> cells, std::string tail = "") {
    rows_.push_back({std::move(cells), std::move(tail)});
  }

  std::string text() const {
    std::string out;
    const std::size_t n = columns_.size();
    std::vector<std::size_t> width(n, 0), decimals(n, 0);
    for (std::size_t c = left_; c < n; ++c)
      for (const Row& r : rows_)
        if (c < r.cells.size()) decimals[c] = std::max(decimals[c], decimals_of(r.cells[c]));
    for (std::size_t c = 0; c < n; ++c) {
      width[c] = std::max(columns_[c][0].size(), columns_[c][1].size());
      for (const Row& r : rows_)
        if (c < r.cells.size()) width[c] = std::max(width[c], width_of(lined_up(r.cells[c], c, decimals[c])));
    }
    for (const std::size_t line : {0U, 1U}) {
      std::string text;
      for (std::size_t c = 0; c < n; ++c) text += padded(columns_[c][line], c, width[c]);
      out += stripped(text) + "\n";
    }
    for (const Row& r : rows_) {
      std::string text;
      for (std::size_t c = 0; c < r.cells.size(); ++c)
        text += padded(lined_up(r.cells[c], c, decimals[c]), c, width[c]);
      out +=
          r.tail.empty() ? stripped(text) + "\n" : paragraph(r.tail, text + "  ", std::string(width_of(text) + 2, ' '));
    }
    return out;
  }

 private:
  struct Row {
    std::vector<std::string> cells;
    std::string tail;
  };

  static bool is_number(const std::string& cell) {
    return !cell.empty() && cell.find_first_not_of("-0123456789.") == std::string::npos && cell != "-";
  }
  /// The length of the decimal point and what follows.
  static std::size_t decimals_of(const std::string& cell) {
    const auto point = is_number(cell) ? cell.find('.') : std::string::npos;
    return point == std::string::npos ? 0 : cell.size() - point;
  }
  std::string lined_up(const std::string& cell, std::size_t column, std::size_t decimals) const {
    if (column < left_ || !is_number(cell)) return cell;
    return cell + std::string(decimals - decimals_of(cell), ' ');
  }
  std::string padded(const std::string& cell, std::size_t column, std::size_t width) const {
    const std::string gap = column == 0 ? "" : "  ";
    return column < left_ ? fmt::format("{}{:<{}}", gap, cell, width) : fmt::format("{}{:>{}}", gap, cell, width);
  }
  static std::string stripped(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line;
  }

  std::vector<std::array<std::string, 2>> columns_;
  std::size_t left_;
  std::vector<Row> rows_;
};

/// Sentences numbered in the order of their first use.
class Notes {
 public:
  std::string numbers(const std::vector<std::string>& sentences) {
    std::string text;
    for (const std::string& sentence : sentences)
      text += fmt::format("{}{}", text.empty() ? "" : ",", number_of(sentence));
    return text;
  }
  std::string text() const {
    std::string out;
    for (std::size_t i = 0; i < sentences_.size(); ++i)
      out += paragraph(sentences_[i], fmt::format("{:>3}: ", i + 1), "     ");
    return out;
  }

 private:
  std::size_t number_of(const std::string& sentence) {
    const auto at = std::find(sentences_.begin(), sentences_.end(), sentence);
    if (at != sentences_.end()) return static_cast<std::size_t>(at - sentences_.begin()) + 1;
    sentences_.push_back(sentence);
    return sentences_.size();
  }
  std::vector<std::string> sentences_;
};

}  // namespace trial_page
