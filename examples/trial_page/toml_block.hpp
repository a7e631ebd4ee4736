// Blocks of a TOML file, read key by key with the units and ranges of trial_keys.hpp.
#pragma once

#include <toml++/toml.h>

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "trial_file.hpp"
#include "trial_keys.hpp"

namespace trial_page {

inline unsigned line_of(const toml::source_region& source) { return static_cast<unsigned>(source.begin.line); }

/// One block of the file: it knows its keys, and where it stands.
class Block {
 public:
  /// @param table the block as parsed
  /// @param file name of the file, for messages
  /// @param name of the block as the user wrote it, for messages
  /// @param keys what it takes
  /// @throws FileError for a key that it does not take
  Block(const toml::table& table, std::string file, std::string name, const std::vector<Key>& keys);

  bool has(std::string_view key) const { return table_.contains(key); }
  const toml::node& node(std::string_view key) const { return *table_.get(key); }
  const Place& place() const { return place_; }
  const std::string& name() const { return name_; }

  /// Where the value of a key stands; the block itself if the key is missing.
  Place place_of(std::string_view key) const {
    return has(key) ? Place{place_.file, line_of(node(key).source())} : place_;
  }
  FileError refusal(std::string_view key, std::string_view value, std::string_view accepted) const;
  FileError refusal(std::string_view key, std::string_view accepted) const;

  /// The text of a key.
  std::string text(std::string_view key, std::string_view accepted = "text in quotes") const;
  std::string text_or(std::string_view key, std::string_view otherwise) const {
    return has(key) ? text(key) : std::string(otherwise);
  }
  bool yes_or_no(std::string_view key) const;
  int count(std::string_view key) const;

  /// The choice whose word the key holds.
  template <class E, std::size_t N>
  E choice(std::string_view key, const Words<E, N>& words) const {
    const std::string found = chosen_word(key);
    return std::find_if(words.begin(), words.end(), [&](const auto& word) { return word.first == found; })->second;
  }
  template <class E, std::size_t N>
  std::optional<E> choice_if_any(std::string_view key, const Words<E, N>& words) const {
    return has(key) ? std::optional<E>(choice(key, words)) : std::nullopt;
  }

  /// A quantity or number in the range of its key.
  template <class Q>
  Figure<Q> figure(std::string_view key) const {
    const Key& known = known_key(key);
    try {
      if (!has(key))
        throw hardchine::BadInput("trial file", key, "not set", hardchine::accepted_range(known.range, known.unit));
      const Figure<Q> read = parsed<Q>(known);
      if constexpr (std::same_as<Q, hardchine::Temperature<>>)
        hardchine::check_value("trial file", key, hardchine::in_celsius(read.value), known.unit, known.range);
      else
        hardchine::check_value("trial file", key, read.value, known.unit, known.range);
      return read;
    } catch (const hardchine::BadInput& e) {
      const bool bare = has(key) && !node(key).is_string();
      throw refusal(key, bare ? shown_value(node(key)) : e.value(), e.accepted());
    }
  }
  /// The same, unset if the key is missing.
  template <class Q>
  Figure<Q> figure_if_any(std::string_view key) const {
    return has(key) ? figure<Q>(key) : Figure<Q>{};
  }

  /// Fills an aggregate by its field table, as far as the block knows the keys. A field that holds a value before is a
  /// default.
  template <class S>
  void fill(Entry<S>& entry) const {
    entry.place = place_;
    entry.block = name_;
    for_each_entry<S>([&]<class E>(const E& field) {
      const std::string key = key_of(field.name);
      if (!knows(key)) return;
      auto& value = entry.value.*(field.member);
      using Q = std::remove_reference_t<decltype(value)>;
      if constexpr (std::same_as<Q, int>) {
        if (has(key)) value = count(key);
      } else if constexpr (std::same_as<Q, bool>) {
        if (has(key)) value = yes_or_no(key);
      } else {
        entry.last_place.*(field.member) = Q{};
        if (!has(key) && (!known_key(key).required || hardchine::is_set(value))) return;
        const Figure<Q> read = this->figure<Q>(key);
        value = read.value;
        entry.last_place.*(field.member) = read.last_place;
      }
    });
  }

  /// The small blocks in a list, one or more; `form` is how it is written.
  std::vector<Block> list(std::string_view key, std::string_view of_each, std::string_view form) const;

 private:
  bool knows(std::string_view key) const;
  const Key& known_key(std::string_view key) const;
  std::string chosen_word(std::string_view key) const;

  /// A value as a message shows it.
  static std::string shown_value(const toml::node& node);
  /// A number without quotes as the text that it would be with them.
  static std::optional<std::string> number_text(const toml::node& node);

  template <class Q>
  Figure<Q> parsed(const Key& key) const {
    const toml::node& value = node(key.name);
    const std::optional<std::string> bare = number_text(value);
    if constexpr (hardchine::is_quantity<Q>) {
      const auto read =
          hardchine::read_quantity<Q>(value.is_string() ? value.as_string()->get() : bare.value_or(""), key.name);
      return {read.value, read.last_place};
    } else {
      const bool number_will_do = key.unit.symbol.empty() && bare;
      if (!value.is_string() && !number_will_do)
        throw hardchine::BadInput("trial file", key.name, "",
                                  key.unit.symbol.empty() ? "a number" : "text with a per cent sign, as \"80 %\"");
      const auto read = hardchine::read_ratio(value.is_string() ? value.as_string()->get() : *bare, key.name);
      return {read.value, read.last_place};
    }
  }

  const toml::table& table_;
  Place place_;
  std::string name_;
  const std::vector<Key>& keys_;
};

/// The top level of the file, and the blocks in it.
class File {
 public:
  File(const toml::table& root, const std::string& path);

  bool has(std::string_view key) const { return top_.has(key); }
  /// A block [key].
  Block block(std::string_view key) const;
  /// The blocks [[key]], one or more if they are required.
  std::vector<Block> blocks(std::string_view key) const;

 private:
  FileError top_refusal(std::string_view key, std::string_view accepted) const;

  std::string path_;
  Block top_;
};

/// A file as TOML.
/// @throws FileError if it cannot be read, is no file, larger than a trial file can be, or no TOML
toml::table parsed_file(const std::string& path);

}  // namespace trial_page
