// Random inputs from the field tables: a field that is new in a table is drawn without a word here.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <limits>
#include <random>
#include <string>
#include <type_traits>

#include "hardchine/prediction/speed_power.hpp"

namespace random_test {

using namespace hardchine;

/// Draws that come out alike with every standard library: std::mt19937_64 is specified, its distributions are not.
class Random {
 public:
  explicit Random(std::uint64_t seed) : engine_(seed) {}
  double share() { return static_cast<double>(engine_() >> 11U) * 0x1p-53; }  ///< 0 to below 1
  bool chance(double p) { return share() < p; }
  double from_to(double low, double high) { return low + (high - low) * share(); }
  double log_from_to(double low, double high) { return low * std::exp(std::log(high / low) * share()); }
  int whole(int low, int high) { return low + static_cast<int>(share() * (high - low + 1)); }

 private:
  std::mt19937_64 engine_;
};

/// How many values a choice has; a choice that is new in a field table must be named here, or this does not compile.
template <class E>
inline constexpr int number_of_choices = 0;
template <>
inline constexpr int number_of_choices<bool> = 2;
template <>
inline constexpr int number_of_choices<BeamTaken> = 3;
template <>
inline constexpr int number_of_choices<DeadriseTaken> = 3;
template <>
inline constexpr int number_of_choices<ThrustReference> = 3;
template <>
inline constexpr int number_of_choices<FrictionLine> = 3;
template <>
inline constexpr int number_of_choices<BottomVelocity> = 2;
template <>
inline constexpr int number_of_choices<PlaningBalance> = 3;
template <>
inline constexpr int number_of_choices<Search> = 1;  // the complete one: the fast alone may leave a case unanswered

template <class E>
E any_choice(Random& random) {
  static_assert(number_of_choices<E> > 0, "name the number of values of this choice in draw.hpp");
  return static_cast<E>(random.whole(0, number_of_choices<E> - 1));
}

/// Calls `visit(entry, value)` for every entry of a field table, parts opened: fields, counts and choices.
template <class S, class F>
void for_each_entry(S& aggregate, const F& visit) {
  const auto one = [&](const auto& entry) {
    auto& value = aggregate.*(entry.member);
    if constexpr (HasFields<std::remove_cvref_t<decltype(value)>>)
      for_each_entry(value, visit);
    else
      visit(entry, value);
  };
  hardchine::for_each_entry(std::remove_const_t<S>::fields(), one);
}

/// The least and greatest SI value that a field accepts.
struct Ends {
  double low, high;
};
inline Ends accepted_ends(const Range& range, const ShownUnit& unit) {
  const double low = range.low * unit.factor, high = range.high * unit.factor;
  if (!range.low_open) return {low, high};
  return {low == 0.0 ? least_above_zero * unit.factor : std::nextafter(low, high), high};
}

/// A value anywhere in an accepted range: evenly, evenly in its logarithm, or at an end.
inline double accepted_value(Random& random, const Ends& ends) {
  const double kind = random.share();
  if (kind < 0.02) return ends.low;
  if (kind < 0.04) return ends.high;
  double x = random.from_to(ends.low, ends.high);
  if (kind < 0.5 && ends.high > 0.0) {
    const double least = ends.low > 0.0 ? std::max(ends.low, 1e-9 * ends.high) : 1e-9 * ends.high;
    x = random.log_from_to(least, ends.high);
    if (ends.low < 0.0 && random.chance(0.5)) x *= ends.low / ends.high;
  }
  return std::clamp(x, ends.low, ends.high);
}

template <class Q>
Q from_si(double x) {
  if constexpr (is_quantity<Q>)
    return Q::from_value(x);
  else
    return Q(x);
}

/// Draws every entry of an aggregate from the whole range of its field table.
/// @param unset_share how often an optional field stays unset
template <class S>
void draw(Random& random, S& aggregate, double unset_share) {
  for_each_entry(aggregate, [&]<class E, class V>(const E& entry, V& value) {
    if constexpr (requires { entry.range; }) {
      const double x = accepted_value(random, accepted_ends(entry.range, entry.unit));
      value = from_si<V>(x);
      if (entry.need == Need::optional && random.chance(unset_share)) value = unset;
    } else if constexpr (requires { entry.low; }) {
      value = random.whole(entry.low, entry.high);
    } else {
      value = any_choice<V>(random);
    }
  });
}
template <class S>
S drawn(Random& random, double unset_share = 0.0) {
  S aggregate{};
  draw(random, aggregate, unset_share);
  return aggregate;
}

/// A value that a range refuses: not a number, infinite, or beyond an end by much or by one unit in the last place.
/// @param unset_is_refused whether not a number, which is unset, is refused
inline double refused_value(Random& random, const Range& range, const ShownUnit& unit, bool unset_is_refused) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  const double low = range.low * unit.factor, high = range.high * unit.factor;
  const double below = !range.low_open      ? std::nextafter(low, -infinity)
                       : random.chance(0.5) ? low
                                            : std::nextafter(low, low == 0.0 ? high : low);
  switch (random.whole(unset_is_refused ? 0 : 1, 6)) {
    case 0:
      return std::numeric_limits<double>::quiet_NaN();
    case 1:
      return infinity;
    case 2:
      return -infinity;
    case 3:
      return below;
    case 4:
      return std::nextafter(high, infinity);
    case 5:
      return low - (high - low) * random.log_from_to(1e-9, 1e9);
    default:
      return high + (high - low) * random.log_from_to(1e-9, 1e9);
  }
}

/// Spoils one entry of an aggregate that can be spoilt and tells which: "" if it has none.
/// @param must_be_set tells of an optional field by its name whether unset is refused too
template <class S, class M>
std::string spoil(Random& random, S& aggregate, const M& must_be_set) {
  int entries = 0;
  for_each_entry(aggregate, [&](const auto& entry, auto&) {
    if constexpr (
        requires { entry.range; } || requires { entry.low; })
      ++entries;
  });
  int left = entries == 0 ? -1 : random.whole(0, entries - 1);
  std::string name;
  for_each_entry(aggregate, [&]<class E, class V>(const E& entry, V& value) {
    if constexpr (
        requires { entry.range; } || requires { entry.low; }) {
      if (left-- != 0) return;
      name = entry.name;
      if constexpr (requires { entry.range; }) {
        const bool needed = entry.need == Need::required || must_be_set(entry.name);
        value = from_si<V>(refused_value(random, entry.range, entry.unit, needed));
      } else {
        constexpr int far = 1000000;
        value = random.chance(0.5) ? entry.low - random.whole(1, far) : entry.high + random.whole(1, far);
      }
    }
  });
  return name;
}

/// An input as text, all digits, for the report of a failure.
template <class S>
std::string shown_input(const S& aggregate) {
  std::string text;
  for_each_entry(aggregate, [&]<class E, class V>(const E& entry, const V& value) {
    char number[64];
    if constexpr (requires { entry.range; })
      std::snprintf(number, sizeof number, "%.17g", bare_value(value) / entry.unit.factor);
    else
      std::snprintf(number, sizeof number, "%d", static_cast<int>(value));
    text += "    " + std::string(entry.name) + " = " + number;
    if constexpr (requires { entry.range; }) text += " " + std::string(entry.unit.symbol);
    text += "\n";
  });
  return text;
}

}  // namespace random_test
