/// @file
/// The three kinds of failure, never mixed: bad input is thrown (BadInput); no physical answer is a typed Outcome in the
/// result; outside a method's published range is an answer with flags, bits into the method's own list of limits.
#pragma once

#include <charconv>
#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <limits>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "hardchine/units.hpp"

namespace hardchine {

/// A required field that nobody set: converts to a not-a-number of any quantity, which the door of a function refuses
/// by the field's name. (A default-constructed quantity would be a silent zero.)
struct Unset {
  /// As a quantity; implicit, so that it can stand as a default member value.
  template <class U, class T>
  constexpr operator Quantity<U, T>() const {  // NOLINT(google-explicit-constructor): a default member value
    return Quantity<U, T>::from_value(T(std::numeric_limits<double>::quiet_NaN()));
  }
  /// As a number; implicit for the same reason.
  template <class T>
  requires(std::floating_point<T> || (std::is_class_v<T> && !is_quantity<T> && requires(T t) { t* t; })) constexpr
  operator T() const {  // NOLINT(google-explicit-constructor): a default member value
    return T(std::numeric_limits<double>::quiet_NaN());
  }
};
/// The value of a field that nobody set.
inline constexpr Unset unset{};

/// `value` as text with at most six significant digits (whole numbers from a million on), without a locale.
/// @param value any number, also infinite or not a number
/// @return the number as text
inline std::string plain_number(double value) {
  char buffer[32];
  const bool large = value >= 1e6 && value < 1e15;  // 1000000, not 1e+06
  const auto end = large ? std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::fixed, 0)
                         : std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::general, 6);
  return std::string(buffer, end.ptr);
}

/// The pieces one after the other. (Not a chain of operator+: g++ 12 at -O3 warns of its own standard library where a
/// literal comes first.)
/// @param pieces any, in order
/// @return one text
inline std::string joined(std::initializer_list<std::string_view> pieces) {
  std::string text;
  for (const std::string_view piece : pieces) text += piece;
  return text;
}

/// The one exception of the library: an input that no formula can take.
class BadInput : public std::invalid_argument {
 public:
  /// What was refused, where, and what would do.
  /// @param function the function that refused
  /// @param field the field or parameter, in trade words
  /// @param value the value with its unit, or "not set"
  /// @param accepted the accepted range or form
  BadInput(std::string_view function, std::string_view field, std::string_view value, std::string_view accepted)
      : std::invalid_argument(joined({function, ": ", field, " is ", value, "; accepted: ", accepted})),
        function_(function),
        field_(field),
        value_(value),
        accepted_(accepted) {}

  const std::string& function() const { return function_; }  ///< the function that refused
  const std::string& field() const { return field_; }        ///< the field, in trade words
  const std::string& value() const { return value_; }        ///< the value with its unit
  const std::string& accepted() const { return accepted_; }  ///< the accepted range

 private:
  std::string function_, field_, value_, accepted_;
};

/// Whether there is a physical answer, and if not, why.
enum class Outcome : std::uint8_t {
  converged,                  ///< an answer
  trim_beyond_range,          ///< no equilibrium: the bow-up moment is not balanced below a trim of about 15 degrees
  runs_out_of_length,         ///< no equilibrium: never enough lift forward, or wetted beyond any boat
  unstable_only,              ///< the only equilibrium is one that a disturbance leaves
  load_not_positive,          ///< the thrust lifts the boat off the water: no load is left on the bottom
  bottom_velocity_undefined,  ///< the dynamic pressure on the bottom exceeds the free stream's
  not_converged,              ///< the search ended without an answer
  bad_input                   ///< an input was refused: only where several craft are computed at once, one throws
};

/// The outcome in the words of a report.
/// @param outcome any outcome
/// @return a short phrase
constexpr std::string_view words(Outcome outcome) {
  switch (outcome) {
    case Outcome::converged:
      return "converged";
    case Outcome::trim_beyond_range:
      return "no equilibrium: the trim would exceed the range of the method";
    case Outcome::runs_out_of_length:
      return "no equilibrium: not enough lift forward, the boat runs out of length";
    case Outcome::unstable_only:
      return "no stable equilibrium: the one found would be left at any disturbance";
    case Outcome::load_not_positive:
      return "no load left on the bottom: the thrust lifts the boat";
    case Outcome::bottom_velocity_undefined:
      return "bottom velocity undefined: load too high for the wetted length";
    case Outcome::not_converged:
      return "the search did not converge";
    case Outcome::bad_input:
      return "an input was refused";
  }
  return "unknown outcome";
}

/// How far a method was compared with its source.
enum class Evidence : std::uint8_t {
  printed,      ///< equation and coefficients compared with the source
  transcribed,  ///< compared with someone's copy
  recalled,     ///< not compared with print
  practice      ///< a rule of the trade
};

/// The mark as docs/evidence.md writes it.
/// @param evidence any mark
/// @return one word
constexpr std::string_view words(Evidence evidence) {
  switch (evidence) {
    case Evidence::printed:
      return "printed";
    case Evidence::transcribed:
      return "transcribed";
    case Evidence::recalled:
      return "recalled";
    case Evidence::practice:
      return "practice";
  }
  return "unknown";
}

/// One published limit of a method. Its place in the method's list is its bit in the flags.
struct Limit {
  std::string_view sentence;  ///< what is outside when the flag is up, as a report says it
  std::string_view source;    ///< bibliography key and place
  double low;                 ///< lower end of the published range, in the unit named in the sentence
  double high;                ///< upper end; infinite if there is none
};
/// The end of a range that has none.
inline constexpr double no_limit = std::numeric_limits<double>::infinity();

/// A method: what it is called, where it stands, how far it was compared, where it holds.
struct Method {
  std::string_view name;            ///< in words
  std::string_view key;             ///< bibliography key of docs/references.bib
  std::string_view equations;       ///< equation numbers in the source
  Evidence evidence;                ///< how far it was compared with the source
  std::span<const Limit> limits;    ///< its published limits
  std::string_view instead_beyond;  ///< what to use outside them
};

/// Flags of a result: bit i stands for limit i of its method.
using Flags = std::uint32_t;

/// The bit of limit number `index`.
/// @param index an enumerator of the method's limits
/// @return a value with that one bit
template <class E>
requires std::is_enum_v<E>
constexpr Flags flag(E index) { return Flags{1} << static_cast<unsigned>(index); }

/// Whether the flag of a limit is up.
/// @param flags the flags of a result
/// @param index an enumerator of the method's limits
/// @return true if it is
template <class E>
requires std::is_enum_v<E>
constexpr bool has_flag(Flags flags, E index) { return (flags & flag(index)) != 0; }

/// The sentences of the flags that are up.
/// @param flags the flags of a result
/// @param method the method that made it
/// @return one sentence a flag, in the order of the method's list
inline std::vector<std::string_view> explain(Flags flags, const Method& method) {
  std::vector<std::string_view> sentences;
  for (std::size_t i = 0; i < method.limits.size(); ++i)
    if ((flags >> i) & 1U) sentences.push_back(method.limits[i].sentence);
  return sentences;
}

/// Source, equations and evidence of a method in one line.
/// @param method a method of this library
/// @return for example "savitsky_1964 eq 15, 16 (printed)"
inline std::string cite(const Method& method) {
  return joined({method.key, " ", method.equations, " (", words(method.evidence), ")"});
}

/// A result that says who answered: a `method`, and `flags` into its limits if it has any.
template <class R>
concept NamesMethod = requires(const R& result) {
  { result.method } -> std::same_as<const Method* const&>;
};

/// What is outside the published ranges of a result, one sentence a flag.
/// @param result an answer with its method
/// @return the sentences in the order of the method's limits; none within them, none for values of the user's own
template <NamesMethod R>
std::vector<std::string_view> explain(const R& result) {
  if constexpr (requires { result.flags; }) {
    static_assert(std::same_as<decltype(result.flags), Flags>, "explain() takes the result of one lane");
    if (result.method != nullptr) return explain(result.flags, *result.method);
  }
  return {};
}

/// Source, equations and evidence of a result.
/// @param result an answer with its method
/// @return for example "savitsky_1964 eq 15, 16 (printed)"; "no method" where none answered or the values are the user's
template <NamesMethod R>
std::string cite(const R& result) {
  return result.method == nullptr ? std::string("no method") : cite(*result.method);
}

}  // namespace hardchine
