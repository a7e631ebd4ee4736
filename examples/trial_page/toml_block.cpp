#include "toml_block.hpp"

#include <fmt/format.h>

#include <cctype>
#include <filesystem>
#include <fstream>
#include <numeric>

namespace trial_page {

using namespace hardchine;

FileError error_at(const Place& place, const std::string& message) {
  return FileError(place.line ? fmt::format("{}:{}: {}", place.file, place.line, message)
                              : fmt::format("{}: {}", place.file, message));
}

namespace {

using Names = std::vector<std::string>;

std::string joined(const Names& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

Names names_of(const std::vector<Key>& keys) {
  Names names;
  for (const Key& key : keys) names.push_back(key.name);
  return names;
}

/// How many letters must be added, dropped or changed to make one word the other.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 0; i < a.size(); ++i) {
    std::size_t diagonal = row[0]++;
    for (std::size_t j = 0; j < b.size(); ++j) {
      const std::size_t changed = diagonal + (a[i] == b[j] ? 0 : 1);
      diagonal = row[j + 1];
      row[j + 1] = std::min({changed, row[j] + 1, diagonal + 1});
    }
  }
  return row.back();
}

const std::string& nearest(const Names& known, std::string_view word) {
  return *std::min_element(known.begin(), known.end(), [&](const std::string& a, const std::string& b) {
    return edit_distance(a, word) < edit_distance(b, word);
  });
}

/// A key as a message shows it: on one line, whatever stands in it.
std::string shown_key(std::string_view key) {
  const std::string quoted = detail::quoted(key);
  return quoted.size() == key.size() + 2 && quoted.find('?') == std::string::npos ? std::string(key) : quoted;
}

/// The names of the top level as keys.
const std::vector<Key>& top_keys() {
  static const std::vector<Key> keys = [] {
    std::vector<Key> names;
    for (const BlockKeys& block : trial_file_blocks())
      if (block.inside.empty()) names.push_back({.name = block.name});
    return names;
  }();
  return keys;
}

}  // namespace

Block::Block(const toml::table& table, std::string file, std::string name, const std::vector<Key>& keys)
    : table_(table), place_{std::move(file), line_of(table.source())}, name_(std::move(name)), keys_(keys) {
  for (const auto& [key, value] : table_) {
    if (knows(key.str())) continue;
    const Names names = names_of(keys_);
    throw error_at({place_.file, line_of(key.source())},
                   fmt::format("field {} in {}: unknown; nearest known: {}; accepted: {}", shown_key(key.str()), name_,
                               nearest(names, key.str()), joined(names)));
  }
}

FileError Block::refusal(std::string_view key, std::string_view value, std::string_view accepted) const {
  return error_at(place_of(key), fmt::format("field {} in {}: value {}; accepted: {}", key, name_, value, accepted));
}
FileError Block::refusal(std::string_view key, std::string_view accepted) const {
  return refusal(key, has(key) ? shown_value(node(key)) : "not set", accepted);
}

std::string Block::text(std::string_view key, std::string_view accepted) const {
  if (!has(key) || !node(key).is_string()) throw refusal(key, accepted);
  const std::string& words = node(key).as_string()->get();
  for (const char c : words)
    if (static_cast<unsigned char>(c) < 32 || c == 127) throw refusal(key, "one line of text");
  return words;
}

bool Block::yes_or_no(std::string_view key) const {
  if (!has(key) || !node(key).is_boolean()) throw refusal(key, "true or false");
  return node(key).as_boolean()->get();
}

int Block::count(std::string_view key) const {
  const Range& range = known_key(key).range;
  const std::string accepted = fmt::format("a whole number from {:.0f} to {:.0f}", range.low, range.high);
  if (!has(key) || !node(key).is_integer()) throw refusal(key, accepted);
  const auto n = node(key).as_integer()->get();
  if (n < static_cast<int>(range.low) || n > static_cast<int>(range.high)) throw refusal(key, accepted);
  return static_cast<int>(n);
}

std::string Block::chosen_word(std::string_view key) const {
  Names accepted;
  for (const std::string& word : known_key(key).words) accepted.push_back(fmt::format("\"{}\"", word));
  const std::string found = text(key, joined(accepted));
  const Names& words = known_key(key).words;
  if (std::find(words.begin(), words.end(), found) == words.end()) throw refusal(key, joined(accepted));
  return found;
}

std::vector<Block> Block::list(std::string_view key, std::string_view of_each, std::string_view form) const {
  const toml::array* items = node(key).as_array();
  if (!items || items->empty() || !items->is_homogeneous<toml::table>()) throw refusal(key, form);
  std::vector<Block> blocks;
  for (const toml::node& item : *items)
    blocks.emplace_back(*item.as_table(), place_.file, fmt::format("{} {} of {}", of_each, blocks.size() + 1, name_),
                        keys_of_block(key).keys);
  return blocks;
}

bool Block::knows(std::string_view key) const {
  return std::any_of(keys_.begin(), keys_.end(), [&](const Key& k) { return k.name == key; });
}

const Key& Block::known_key(std::string_view key) const {
  const auto at = std::find_if(keys_.begin(), keys_.end(), [&](const Key& k) { return k.name == key; });
  if (at == keys_.end()) throw std::logic_error(fmt::format("{} is read and has no key {}", name_, key));
  return *at;
}

std::string Block::shown_value(const toml::node& node) {
  if (const auto* text = node.as_string()) return detail::quoted(text->get());
  if (const auto* boolean = node.as_boolean()) return boolean->get() ? "true" : "false";
  if (const auto number = number_text(node)) return *number + " (a bare number)";
  if (node.is_table()) return "a block";
  if (node.is_array()) return "a list";
  return "a date or time";
}

std::optional<std::string> Block::number_text(const toml::node& node) {
  if (const auto* integer = node.as_integer()) return fmt::format("{}", integer->get());
  if (const auto* real = node.as_floating_point()) return plain_number(real->get());
  return std::nullopt;
}

File::File(const toml::table& root, const std::string& path) : path_(path), top_(root, path, "the file", top_keys()) {}

Block File::block(std::string_view key) const {
  if (!has(key) || !top_.node(key).is_table()) throw top_refusal(key, fmt::format("one block [{}]", key));
  return Block(*top_.node(key).as_table(), path_, fmt::format("[{}]", key), keys_of_block(key).keys);
}

std::vector<Block> File::blocks(std::string_view key) const {
  const BlockKeys& known = keys_of_block(key);
  std::vector<Block> found;
  const std::string accepted =
      fmt::format("blocks [[{}]], in double brackets{}", key, known.required ? ", one or more" : "");
  if (has(key)) {
    const toml::array* list = top_.node(key).as_array();
    if (!list || (!list->empty() && !list->is_homogeneous<toml::table>())) throw top_refusal(key, accepted);
    for (const toml::node& item : *list)
      found.emplace_back(*item.as_table(), path_, fmt::format("[[{}]] {}", key, found.size() + 1), known.keys);
  }
  if (found.empty() && known.required) throw top_refusal(key, accepted);
  return found;
}

FileError File::top_refusal(std::string_view key, std::string_view accepted) const {
  if (has(key)) return top_.refusal(key, accepted);
  return error_at({path_, 0}, fmt::format("field {}: value not set; accepted: {}", key, accepted));
}

namespace {

/// No trial file is larger.
constexpr std::size_t largest_file = 1U << 20U;

/// The text of a file, or a FileError that says why not. Only plain files are opened: a pipe or a device may never end.
std::string file_text(const std::string& path) {
  std::error_code problem;
  const auto status = std::filesystem::status(path, problem);
  const std::string accepted = "; accepted: a trial file in TOML (--help says what it holds)";
  if (!std::filesystem::exists(status)) throw error_at({path}, "there is no such file" + accepted);
  if (std::filesystem::is_directory(status)) throw error_at({path}, "this is a directory" + accepted);
  if (!std::filesystem::is_regular_file(status)) throw error_at({path}, "this is no plain file" + accepted);
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw error_at({path}, "cannot be opened: no permission to read it, or it is gone" + accepted);
  std::string text(largest_file + 1, '\0');
  stream.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (stream.bad()) throw error_at({path}, "cannot be read" + accepted);
  text.resize(static_cast<std::size_t>(stream.gcount()));
  if (text.size() > largest_file) throw error_at({path}, "this is larger than 1 MiB" + accepted);
  return text;
}

/// The parser's words may hold what it found, a line break among it: the message stays on one line.
FileError not_toml(const Place& place, std::string why) {
  for (char& c : why)
    if (static_cast<unsigned char>(c) < ' ' || c == 127) c = '?';
  return error_at(place,
                  fmt::format("this line is not TOML: {}; accepted: key = \"value\", [block] or [[block]]", why));
}

/// Refuses a header without a name, as "[.a]" or "[[[a]]": version 3.3 of the parser takes one for granted after the
/// brackets and would stop the program. (A list in a list or a text of several lines could look like one; no key of a
/// trial file takes either.)
void check_headers(const std::string& text, const std::string& path) {
  const auto blank = [](char c) {
    return static_cast<unsigned char>(c) <= ' ' || static_cast<unsigned char>(c) >= 128;
  };
  unsigned line = 1;
  bool line_starts = true;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\n') ++line;
    if (c == '\n' || c == '\r' || c == '\v' || c == '\f') line_starts = true;
    if (blank(c)) continue;
    if (line_starts && c == '[') {
      std::size_t name = i + 1;
      const auto skip_blanks = [&] {
        while (name < text.size() && (text[name] == ' ' || text[name] == '\t')) ++name;
      };
      skip_blanks();
      if (name < text.size() && text[name] == '[') {
        ++name;
        skip_blanks();
      }
      const char first = name < text.size() ? text[name] : '\n';
      const bool named = std::isalnum(static_cast<unsigned char>(first)) || first == '_' || first == '-' ||
                         first == '"' || first == '\'';
      if (!named) throw not_toml({path, line}, "no name after the bracket");
    }
    line_starts = false;
  }
}

/// Refuses what no trial file takes and version 3.3 of the parser has no defined behaviour for: a letter beyond ASCII
/// outside of texts and remarks, and texts of several lines, in which a backslash may stand before one.
void check_characters(const std::string& text, const std::string& path) {
  unsigned line = 1;
  char quote = '\0';  // of the text that is open
  bool remark = false;
  const bool marked = text.starts_with("\xef\xbb\xbf");  // the byte order mark of UTF-8
  for (std::size_t i = marked ? 3 : 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '\n') {  // a text that is open here is refused by the parser
      ++line;
      quote = '\0';
      remark = false;
    } else if (remark) {
      continue;
    } else if (quote != '\0') {
      if (c == quote)
        quote = '\0';
      else if (c == '\\' && quote == '"' && i + 1 < text.size() && text[i + 1] != '\n')
        ++i;
    } else if (c == '#') {
      remark = true;
    } else if (c == '"' || c == '\'') {
      if (text.compare(i, 3, std::string(3, c)) == 0) throw not_toml({path, line}, "a text of several lines");
      quote = c;
    } else if (static_cast<unsigned char>(c) >= 128) {
      throw not_toml({path, line}, "a letter beyond ASCII outside of quotes");
    }
  }
}

}  // namespace

toml::table parsed_file(const std::string& path) {
  try {
    const std::string text = file_text(path);
    check_headers(text, path);
    check_characters(text, path);
    return toml::parse(text, std::string_view(path));
  } catch (const toml::parse_error& e) {
    throw not_toml({path, line_of(e.source())}, std::string(e.description()));
  }
}

}  // namespace trial_page
