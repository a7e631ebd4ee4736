/// @file
/// One table of fields an aggregate: trade name, member, unit, accepted range. The door check, widening to another
/// scalar, seeding of derivatives, the trial file's keys and the bad-field tests all read it.
///
/// An aggregate `S` offers `static constexpr auto fields()` that returns a FieldTable of Field, Part, Count and Choice.
#pragma once

#include <charconv>
#include <cstddef>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>

#include "hardchine/outcome.hpp"
#include "hardchine/scalar/scalar.hpp"

namespace hardchine {

/// An accepted range in the unit of its field.
struct Range {
  double low;             ///< lower end
  double high;            ///< upper end, accepted
  bool low_open = false;  ///< the lower end itself is refused
};
/// From `low` to `high`, both accepted.
/// @param low any, least accepted
/// @param high any, greatest accepted
/// @return the range
constexpr Range between(double low, double high) { return {low, high, false}; }
/// Above `low`, which is refused, up to `high`.
/// @param low any, refused itself
/// @param high any, greatest accepted
/// @return the range
constexpr Range above(double low, double high) { return {low, high, true}; }

/// Whether a field may stay unset.
enum class Need : std::uint8_t { required, optional };

/// A unit with the symbol that messages show.
struct ShownUnit {
  double factor;            ///< SI value of one unit
  std::string_view symbol;  ///< for example "kn"; empty for a plain number
};
/// The named unit `unit`, shown as `symbol`.
/// @param unit any named unit
/// @param symbol what messages show
/// @return both
template <class U>
constexpr ShownUnit shown(const Quantity<U, double>& unit, std::string_view symbol) {
  return {unit.value(), symbol};
}
/// A plain number.
inline constexpr ShownUnit plain_ratio{1.0, ""};
/// A ratio shown in per cent.
inline constexpr ShownUnit shown_percent{percent, "%"};

/// A number or quantity in an aggregate.
template <class S, class M>
struct Field {
  std::string_view name;       ///< trade name; with underscores for spaces the key in files
  M S::*member;                ///< where it is
  ShownUnit unit;              ///< unit of the range and of messages
  Range range;                 ///< accepted range in that unit
  Need need = Need::required;  ///< whether it may stay unset
};
/// An aggregate inside an aggregate.
template <class S, class M>
struct Part {
  std::string_view name;  ///< trade name
  M S::*member;           ///< where it is
};
/// A whole number with a default.
template <class S>
struct Count {
  std::string_view name;  ///< trade name
  int S::*member;         ///< where it is
  int low;                ///< least accepted
  int high;               ///< greatest accepted
};
/// A choice (an enumeration, yes or no) with a default: copied, nothing to check.
template <class S, class M>
struct Choice {
  std::string_view name;  ///< trade name
  M S::*member;           ///< where it is
};

/// An entry of a field table: a number or quantity.
/// @param name trade name
/// @param member where it is
/// @param unit of the range and of messages
/// @param range accepted, in that unit
/// @param need whether it may stay unset
/// @return the entry
template <class S, class M>
constexpr Field<S, M> field(std::string_view name, M S::*member, ShownUnit unit, Range range,
                            Need need = Need::required) {
  return {name, member, unit, range, need};
}
/// An entry of a field table: an aggregate inside.
/// @param name trade name
/// @param member where it is
/// @return the entry
template <class S, class M>
constexpr Part<S, M> part(std::string_view name, M S::*member) {
  return {name, member};
}
/// An entry of a field table: a whole number.
/// @param name trade name
/// @param member where it is
/// @param low any, least accepted
/// @param high any, greatest accepted
/// @return the entry
template <class S>
constexpr Count<S> count(std::string_view name, int S::*member, int low, int high) {
  return {name, member, low, high};
}
/// An entry of a field table: a choice.
/// @param name trade name
/// @param member where it is
/// @return the entry
template <class S, class M>
constexpr Choice<S, M> choice(std::string_view name, M S::*member) {
  return {name, member};
}

/// One entry of a FieldTable; the number tells entries of the same type apart.
template <std::size_t I, class Entry>
struct NumberedEntry {
  Entry entry;  ///< a Field, Part, Count or Choice
};

/// The entries of a FieldTable with their numbers.
template <class Numbers, class... Entries>
struct NumberedEntries;
/// @copydoc NumberedEntries
template <std::size_t... I, class... Entries>
struct NumberedEntries<std::index_sequence<I...>, Entries...> : NumberedEntry<I, Entries>... {
  /// Each in its place.
  /// @param entries of the table
  constexpr explicit NumberedEntries(const Entries&... entries) : NumberedEntry<I, Entries>{entries}... {}
};

/// A table of fields: what `fields()` of an aggregate returns. (Not std::tuple, which asks of every entry how it
/// converts and assigns: with it findings.hpp took 1.3 times as long to compile.)
template <class... Entries>
struct FieldTable : NumberedEntries<std::index_sequence_for<Entries...>, Entries...> {
  static constexpr std::size_t size = sizeof...(Entries);  ///< how many entries
  /// A table of these.
  /// @param entries in the order of the fields
  constexpr explicit FieldTable(const Entries&... entries)
      : NumberedEntries<std::index_sequence_for<Entries...>, Entries...>(entries...) {}
};

/// Entry number I of a field table.
/// @param numbered the table
/// @return the Field, Part, Count or Choice
template <std::size_t I, class Entry>
constexpr const Entry& entry_of(const NumberedEntry<I, Entry>& numbered) {
  return numbered.entry;
}

/// Calls `visit(entry)` for every entry of a field table, in its order.
/// @param table what `fields()` returns
/// @param visit callable with each of its entries
template <class... Entries, class F>
constexpr void for_each_entry(const FieldTable<Entries...>& table, F&& visit) {
  [&]<std::size_t... I>(std::index_sequence<I...>) { (visit(entry_of<I>(table)), ...); }
  (std::index_sequence_for<Entries...>{});
}

/// An aggregate with a field table.
template <class S>
concept HasFields = requires {
  S::fields();
};

/// The SI value of a number or quantity. (The obvious shorter name is a macro of POSIX.)
/// @param x any number
/// @return the number itself
template <class T>
constexpr const T& bare_value(const T& x) {
  return x;
}
/// The same of a quantity.
/// @param q any quantity
/// @return its number of SI units
template <class U, class T>
constexpr T bare_value(const Quantity<U, T>& q) {
  return q.value();
}

/// Whether a field was set: false for `unset` and for any other not-a-number.
/// @param x any number or quantity
/// @return true if every lane is a number
template <class T>
constexpr bool is_set(const T& x) {
  const auto v = bare_value(x);
  const auto w = v;
  return all(v >= w);
}

/// Calls `visit(field, value)` for every number and quantity of an aggregate, parts included, in the table's order.
/// @param aggregate the aggregate, const or not
/// @param visit callable with the Field and a reference to its value
template <class S, class F>
constexpr void for_each_field(S& aggregate, F&& visit) {
  const auto one = [&]<class Entry>(const Entry& entry) {
    if constexpr (requires { entry.range; }) {
      visit(entry, aggregate.*(entry.member));
    } else if constexpr (HasFields<std::remove_cvref_t<decltype(aggregate.*(entry.member))>>) {
      for_each_field(aggregate.*(entry.member), visit);
    }
  };
  for_each_entry(std::remove_const_t<S>::fields(), one);
}

/// The accepted range of a field in words, with its unit.
/// @param range in the unit
/// @param unit of the range
/// @return for example "above 0 kn to 150 kn"
inline std::string accepted_range(const Range& range, const ShownUnit& unit) {
  const std::string_view space = unit.symbol.empty() ? "" : " ";
  return joined({range.low_open ? "above " : "", plain_number(range.low), space, unit.symbol, " to ",
                 plain_number(range.high), space, unit.symbol});
}

/// A refused number as text: six significant digits, or all of them where six would read like the limit itself.
/// @param x any number, in the unit of the range
/// @param range that refuses it
/// @return the number as text
inline std::string refused_number(double x, const Range& range) {
  std::string text = plain_number(x);
  if (text != plain_number(range.low) && text != plain_number(range.high)) return text;
  char buffer[32];
  return std::string(buffer, std::to_chars(buffer, buffer + sizeof buffer, x).ptr);
}

/// Refuses a value that is not set, not finite or out of its range.
/// @param function the function at whose door this stands
/// @param name the field in trade words
/// @param value any number or quantity
/// @param unit the unit of the range and of the message
/// @param range the accepted range in that unit
/// @param need whether it may stay unset
/// @throws BadInput naming function, field, value with unit and accepted range
template <class T>
void check_value(std::string_view function, std::string_view name, const T& value, const ShownUnit& unit,
                 const Range& range, Need need = Need::required) {
  if (!is_set(value)) {
    if (need == Need::optional) return;
    throw BadInput(function, name, "not set", accepted_range(range, unit));
  }
  const auto v = plain(bare_value(value));
  using V = std::remove_cvref_t<decltype(v)>;
  // The limit takes the same product as a value that a user enters: 45.0 * degree must pass a limit of 45.
  const V low(range.low * unit.factor), high(range.high * unit.factor);
  const auto low_met = range.low_open ? v > low : v >= low;
  if (!all(both(low_met, v <= high))) {
    std::string text = "out of range";
    if constexpr (std::convertible_to<V, double>)
      text = joined(
          {refused_number(static_cast<double>(v / unit.factor), range), unit.symbol.empty() ? "" : " ", unit.symbol});
    throw BadInput(function, name, text, accepted_range(range, unit));
  }
}

/// Refuses an optional field that this function needs.
/// @param function the function at whose door this stands
/// @param name the field in trade words
/// @param value any number or quantity
/// @param accepted what would do, in words
/// @throws BadInput if it is not set
template <class T>
void require_set(std::string_view function, std::string_view name, const T& value, std::string_view accepted) {
  if (!is_set(value)) throw BadInput(function, name, "not set", accepted);
}

/// Refuses a count outside its range, parts included.
/// @param function the function at whose door this stands
/// @param aggregate the input
/// @throws BadInput naming the count
template <class S>
void check_counts(std::string_view function, const S& aggregate) {
  const auto one = [&]<class Entry>(const Entry& entry) {
    if constexpr (std::same_as<Entry, Count<S>>) {
      const int n = aggregate.*(entry.member);
      if (n < entry.low || n > entry.high)
        throw BadInput(function, entry.name, std::to_string(n),
                       joined({std::to_string(entry.low), " to ", std::to_string(entry.high)}));
    } else if constexpr (HasFields<std::remove_cvref_t<decltype(aggregate.*(entry.member))>>) {
      check_counts(function, aggregate.*(entry.member));
    }
  };
  for_each_entry(S::fields(), one);
}

/// The least positive number, in its own unit, that a field above zero takes: 1e-320 rpm is above zero, but nothing
/// turns like that, and its reciprocal is infinite.
inline constexpr double least_above_zero = 1e-30;

/// The door check: every field and count of the aggregate and of its parts against its table.
/// @param function the function at whose door this stands
/// @param aggregate the input
/// @throws BadInput for the first field that is unset, not finite or out of range
template <class S>
void check_fields(std::string_view function, const S& aggregate) {
  for_each_field(aggregate, [&](const auto& entry, const auto& value) {
    check_value(function, entry.name, value, entry.unit, entry.range, entry.need);
    if (entry.range.low_open && entry.range.low == 0.0)
      check_value(function, entry.name, value, entry.unit, between(least_above_zero, entry.range.high), entry.need);
  });
  check_counts(function, aggregate);
}

/// A value in another scalar; the building block of widen_fields.
/// @param from any number, quantity or aggregate
/// @return the same over the other scalar
template <class To, class From>
constexpr To widen_value(const From& from) {
  if constexpr (std::same_as<To, From>) {
    return from;
  } else if constexpr (is_quantity<To>) {
    return To::from_value(typename To::value_type(from.value()));
  } else {
    return To(from);  // a number, or an aggregate with its own conversion
  }
}

/// The aggregate `from` in another scalar: what the conversion operators of the aggregates call.
/// @tparam To the same aggregate over the other scalar
/// @param from the aggregate to convert
/// @return the same over the other scalar
template <class To, class From>
constexpr To widen_fields(const From& from) {
  To to{};
  const auto target = To::fields();
  const auto source = From::fields();
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    ((to.*(entry_of<I>(target).member) = widen_value<std::remove_cvref_t<decltype(to.*(entry_of<I>(target).member))>>(
          from.*(entry_of<I>(source).member))),
     ...);
  }
  (std::make_index_sequence<decltype(target)::size>{});
  return to;
}

/// How many numbers and quantities an aggregate holds, parts included.
/// @return the number
template <class S>
constexpr int count_fields() {
  int n = 0;
  const S s{};
  for_each_field(s, [&](const auto&, const auto&) { ++n; });
  return n;
}

}  // namespace hardchine
