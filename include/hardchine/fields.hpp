/// @file
/// One table of fields an aggregate: trade name, member, unit, accepted range. The door check, widening to another
/// scalar, seeding of derivatives, the trial file's keys and the bad-field tests all read it.
///
/// An aggregate `S` offers `static constexpr auto fields()` that returns a FieldTable of Field, Part, Count and Choice, or
/// of Figure for a result.
#pragma once

#include <charconv>
#include <concepts>
#include <cstddef>
#include <cstdint>
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

/// A number or quantity of a result: no range to keep.
template <class S, class M>
struct Figure {
  std::string_view name;  ///< trade name
  M S::*member;           ///< where it is
  ShownUnit unit;         ///< unit of reports
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

/// An entry of a field table: a number or quantity of a result.
/// @param name trade name
/// @param member where it is
/// @param unit of reports
/// @return the entry
template <class S, class M>
constexpr Figure<S, M> figure(std::string_view name, M S::*member, ShownUnit unit) {
  return {name, member, unit};
}

/// One entry of a FieldTable; the number tells entries of the same type apart.
template <std::size_t I, class Entry>
struct NumberedEntry {
  Entry entry;  ///< a Field, Part, Count, Choice or Figure
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
/// @return the Field, Part, Count, Choice or Figure
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

/// The field table of an aggregate, made once by the compiler.
template <class S>
inline constexpr auto field_table = S::fields();

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
  const auto w = v;  // NOLINT(performance-unnecessary-copy-initialization): not a number is not even itself
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
  for_each_entry(field_table<std::remove_const_t<S>>, one);
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
  for_each_entry(field_table<S>, one);
}

/// The least positive number, in its own unit, that a field above zero takes: 1e-320 rpm is above zero, but nothing
/// turns like that, and its reciprocal is infinite.
inline constexpr double least_above_zero = 1e-30;

/// check_value for a field of an aggregate: of a range above zero nothing smaller than least_above_zero passes.
/// @param function the function at whose door this stands
/// @param name the field in trade words
/// @param value any number or quantity
/// @param unit the unit of the range and of the message
/// @param range the accepted range in that unit
/// @param need whether it may stay unset
/// @throws BadInput naming function, field, value with unit and accepted range
template <class T>
void check_field_value(std::string_view function, std::string_view name, const T& value, const ShownUnit& unit,
                       const Range& range, Need need = Need::required) {
  check_value(function, name, value, unit, range, need);
  if (range.low_open && range.low == 0.0)
    check_value(function, name, value, unit, between(least_above_zero, range.high), need);
}

/// A value against its range, lane by lane: the fast side of check_field_value, without words. (Inlined by attribute: as a
/// call with its range in memory the doors of a pack took three times as long.)
/// @param value any number or quantity
/// @param unit the unit of the range
/// @param range the accepted range in that unit
/// @param need whether it may stay unset
/// @return true where it is accepted
template <class T>
[[gnu::always_inline]] constexpr auto is_accepted(const T& value, const ShownUnit& unit, const Range& range,
                                                  Need need = Need::required) {
  const auto v = plain(bare_value(value));
  using V = std::remove_cvref_t<decltype(v)>;
  const bool above_zero = range.low_open && range.low == 0.0;
  const V low((above_zero ? least_above_zero : range.low) * unit.factor), high(range.high * unit.factor);
  const auto in_range = both(range.low_open && !above_zero ? v > low : v >= low, v <= high);
  if (need == Need::required) return in_range;
  const V same = v;
  return either(in_range, negate(v >= same));
}

/// The scalar of an aggregate: that of its first number.
/// @return as std::type_identity
template <class S, std::size_t I = 0>
constexpr auto scalar_of_fields() {
  constexpr auto entry = entry_of<I>(field_table<S>);
  using Value = std::remove_cvref_t<decltype(std::declval<const S&>().*(entry.member))>;
  if constexpr (requires { entry.range; })
    return std::type_identity<std::remove_cvref_t<decltype(bare_value(std::declval<const Value&>()))>>{};
  else if constexpr (HasFields<Value>)
    return scalar_of_fields<Value>();
  else
    return scalar_of_fields<S, I + 1>();
}
/// The scalar of an aggregate.
template <class S>
using ScalarOf = typename decltype(scalar_of_fields<S>())::type;

/// Every field of an aggregate and of its parts against its range, lane by lane: the fast side of check_fields.
/// @param aggregate the input
/// @return true where all are accepted
template <class S>
[[gnu::always_inline]] constexpr auto are_accepted(const S& aggregate);

/// Entry number I of an aggregate against its range.
/// @param aggregate the input
/// @param good what was found so far
/// @return true where that holds and the entry is accepted
template <std::size_t I, class S, class Mask>
[[gnu::always_inline]] constexpr Mask with_entry_accepted(const S& aggregate, const Mask& good) {
  constexpr auto entry = entry_of<I>(field_table<S>);
  if constexpr (requires { entry.range; })
    return both(good, is_accepted(aggregate.*(entry.member), entry.unit, entry.range, entry.need));
  else if constexpr (HasFields<std::remove_cvref_t<decltype(aggregate.*(entry.member))>>)
    return both(good, are_accepted(aggregate.*(entry.member)));
  else
    return good;
}

/// All entries of an aggregate against their ranges.
/// @param aggregate the input
/// @param good what was found so far
/// @return true where that holds and they are accepted
template <class S, class Mask, std::size_t... I>
[[gnu::always_inline]] constexpr Mask with_entries_accepted(const S& aggregate, Mask good, std::index_sequence<I...>) {
  ((good = with_entry_accepted<I>(aggregate, good)), ...);
  return good;
}

template <class S>
constexpr auto are_accepted(const S& aggregate) {
  const Plain<ScalarOf<S>> zero(0.0);
  auto good = zero >= zero;
  return with_entries_accepted(aggregate, good,
                               std::make_index_sequence<std::remove_cvref_t<decltype(field_table<S>)>::size>{});
}

/// The door check: every field and count of the aggregate and of its parts against its table.
/// @param function the function at whose door this stands
/// @param aggregate the input
/// @throws BadInput for the first field that is unset, not finite or out of range
template <class S>
void check_fields(std::string_view function, const S& aggregate) {
  if (!all(are_accepted(aggregate)))
    for_each_field(aggregate, [&](const auto& entry, const auto& value) {
      check_field_value(function, entry.name, value, entry.unit, entry.range, entry.need);
    });
  check_counts(function, aggregate);
}

/// Unsets every number and quantity of a result where the mask does not hold.
/// @param result an aggregate whose field table is of Figures
/// @param holds a mask, one truth value a lane
template <class R, class Mask>
void unset_elsewhere(R& result, const Mask& holds) {
  for_each_entry(field_table<R>, [&](const auto& entry) {
    using Value = std::remove_cvref_t<decltype(result.*(entry.member))>;
    result.*(entry.member) = select(holds, result.*(entry.member), Value(unset));
  });
}

/// Doors. A door is written once, as a function that shows a keeper every field, value and rule; what the keeper does
/// with them is its own: one throws, one only looks, one notes per lane what is refused.
namespace door_detail {

/// Throws BadInput for the first thing that is refused.
struct ThrowingKeeper {
  std::string_view function;  ///< at whose door it stands

  /// Every field and count of an aggregate.
  /// @param aggregate the input
  /// @throws BadInput for the first that is refused
  template <class S>
  void show_fields(const S& aggregate) const {
    check_fields(function, aggregate);
  }
  /// A field with a narrower range than its table says.
  /// @param name of the field
  /// @param value any number or quantity
  /// @param unit of the range
  /// @param range accepted, in that unit
  /// @throws BadInput if it is refused
  template <class T>
  void show_value(std::string_view name, const T& value, const ShownUnit& unit, const Range& range) const {
    check_field_value(function, name, value, unit, range);
  }
  /// A rule among several fields.
  /// @param holds a mask, one truth value a lane
  /// @param name the field to blame
  /// @param value what is wrong with it, in words
  /// @param accepted what would do, in words
  /// @throws BadInput if it does not hold
  template <class Mask>
  void show_rule(const Mask& holds, std::string_view name, std::string_view value, std::string_view accepted) const {
    if (!all(holds)) throw BadInput(function, name, value, accepted);
  }
  /// Counts and choices, which no lane has for itself.
  /// @param check callable with the function's name; throws for them
  /// @throws BadInput as `check` does
  template <class F>
  void show_choices(F&& check) const {
    check(function);
  }
};

/// Only looks, lane by lane: what a pack passes in a few instructions.
template <class T>
struct LookingKeeper {
  MaskOf<Plain<T>> good = Plain<T>(0.0) >= Plain<T>(0.0);  ///< where nothing was refused

  /// Every field of an aggregate.
  /// @param aggregate the input
  template <class S>
  void show_fields(const S& aggregate) {
    good = both(good, are_accepted(aggregate));
  }
  /// A field with a narrower range than its table says.
  /// @param value any number or quantity
  /// @param unit of the range
  /// @param range accepted, in that unit
  template <class V>
  void show_value(std::string_view, const V& value, const ShownUnit& unit, const Range& range) {
    good = both(good, is_accepted(value, unit, range));
  }
  /// A rule among several fields.
  /// @param holds a mask, one truth value a lane
  template <class Mask>
  void show_rule(const Mask& holds, std::string_view, std::string_view, std::string_view) {
    good = both(good, holds);
  }
  /// Not looked at.
  template <class F>
  void show_choices(F&&) const {}
};

/// Notes per lane the place of the first field that is refused: 1 for the first of for_each_field, 0 for none.
template <class S>
struct NotingKeeper {
  using T = Plain<ScalarOf<S>>;                                     ///< the scalar
  MaskOf<T> good = T(0.0) >= T(0.0);                                ///< where nothing was refused
  PerLane<T, std::uint8_t> refused = per_lane<T>(std::uint8_t{0});  ///< the places
  const S& input;                                                   ///< in whose table the places are

  /// Every field of the input.
  /// @param aggregate the input
  void show_fields(const S& aggregate) {
    std::uint8_t place = 0;
    for_each_field(aggregate, [&](const auto& entry, const auto& value) {
      note(is_accepted(value, entry.unit, entry.range, entry.need), ++place);
    });
  }
  /// A field with a narrower range than its table says.
  /// @param name of the field
  /// @param value any number or quantity
  /// @param unit of the range
  /// @param range accepted, in that unit
  template <class V>
  void show_value(std::string_view name, const V& value, const ShownUnit& unit, const Range& range) {
    note(is_accepted(value, unit, range), place_of(name));
  }
  /// A rule among several fields.
  /// @param holds a mask, one truth value a lane
  /// @param name the field to blame
  template <class Mask>
  void show_rule(const Mask& holds, std::string_view name, std::string_view, std::string_view) {
    note(holds, place_of(name));
  }
  /// Not looked at.
  template <class F>
  void show_choices(F&&) const {}

 private:
  template <class Mask>
  void note(const Mask& holds, std::uint8_t place) {
    assign_where(refused, both(good, negate(holds)), place);
    good = both(good, holds);
  }
  std::uint8_t place_of(std::string_view name) const {
    std::uint8_t place = 0, found = 0;
    for_each_field(input, [&](const auto& entry, const auto&) {
      ++place;
      if (found == 0 && entry.name == name) found = place;
    });
    return found;
  }
};

}  // namespace door_detail

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
  constexpr auto target = field_table<To>;
  constexpr auto source = field_table<From>;
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    ((to.*(entry_of<I>(target).member) = widen_value<std::remove_cvref_t<decltype(to.*(entry_of<I>(target).member))>>(
          from.*(entry_of<I>(source).member))),
     ...);
  }
  (std::make_index_sequence<std::remove_cvref_t<decltype(target)>::size>{});
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
