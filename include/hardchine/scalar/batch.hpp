/// @file
/// One formula over whole columns of cases: packs of lanes, blocks, threads, outcomes, progress. Opt in.
///
///     const BatchReport report = batch(
///         [](const auto& in) { return planing_equilibrium(in); }, base,
///         inputs(column(speeds, knot, [](auto& in) -> auto& { return in.speed; }),
///                column(beams, metre, [](auto& in) -> auto& { return in.hull.chine_beam; })),
///         outputs(column(trims, degree, [](const auto& r) { return r.trim; }),
///                 column(drags, kilonewton, [](const auto& r) { return r.total_drag; })),
///         {.outcomes = outcomes, .threads = 2});
///
/// A case is one place in the columns. Its results do not depend on its place, its neighbours, the block or the number
/// of threads, to the last bit: all cases run through one compiled copy of the formula.
#pragma once

#include <algorithm>
#include <array>
#include <atomic>
#include <chrono>
#include <cmath>
#include <concepts>
#include <cstddef>
#include <cstdint>
#include <exception>
#include <functional>
#include <limits>
#include <mutex>
#include <span>
#include <string>
#include <string_view>
#include <system_error>
#include <thread>
#include <tuple>
#include <type_traits>
#include <utility>
#include <vector>

#include "hardchine/fields.hpp"
#include "hardchine/scalar/lanes.hpp"

namespace hardchine {

/// @name Columns
/// @{

/// The unit of a column of plain numbers, where none is named.
struct NoUnit {};

/// What an output column takes where no function says: the result itself, a number or a quantity.
struct WholeResult {
  /// The result itself.
  template <class R>
  constexpr const R& operator()(const R& result) const {
    return result;
  }
};

/// A column of numbers, one a case, with their unit and their place in the input or result.
template <class X, class Unit, class Place>
struct Column {
  std::span<X> values;  ///< of double, const for an input
  Unit unit;            ///< a named unit, a plain factor such as percent, or NoUnit
  Place place;          ///< the function that says where a value belongs
};

/// Numbers that a Column can refer to: doubles one after the other, which outlive the call.
template <class Values>
concept ColumnValues = requires(Values&& values) {
  requires std::same_as<typename decltype(std::span(static_cast<Values&&>(values)))::value_type, double>;
};

/// A column in a named unit.
/// @param values one a case: a vector, array or span of double; written if the column is an output
/// @param unit a named unit of the field's dimension; for plain numbers a factor above 0 such as percent
/// @param place input: a reference to the field, `[](auto& in) -> auto& { return in.speed; }`, or where it takes more
///   (degrees Celsius, two fields at once) a setter `[](auto& in, const auto& value) { ... }` that gets the quantity;
///   output: any expression of the result, `[](const auto& r) { return r.trim; }`, left out where the result is the
///   number or quantity itself
/// @return the column; it refers to the values
template <ColumnValues Values, class U, class Place = WholeResult>
auto column(Values&& values, const Quantity<U, double>& unit, const Place& place = {}) {
  const std::span all(static_cast<Values&&>(values));
  return Column<typename decltype(all)::element_type, Quantity<U, double>, Place>{all, unit, place};
}
/// A column of plain numbers in a unit of theirs.
/// @param values as above
/// @param unit a factor above 0, such as percent
/// @param place as above; a setter gets the number
/// @return the column; it refers to the values
template <ColumnValues Values, class Place = WholeResult>
auto column(Values&& values, double unit, const Place& place = {}) {
  const std::span all(static_cast<Values&&>(values));
  return Column<typename decltype(all)::element_type, double, Place>{all, unit, place};
}
/// A column of plain numbers.
/// @param values as above
/// @param place as above; a setter gets the number
/// @return the column; it refers to the values
template <ColumnValues Values, class Place = WholeResult>
requires std::is_class_v<Place> &&(!is_quantity<Place>)auto column(Values&& values, const Place& place = {}) {
  const std::span all(static_cast<Values&&>(values));
  return Column<typename decltype(all)::element_type, NoUnit, Place>{all, NoUnit{}, place};
}

/// The inputs of a batch that vary.
template <class... Columns>
struct Inputs {
  std::tuple<Columns...> columns;  ///< in the order given; where two set one field, the last one counts
};
/// The results of a batch that are kept.
template <class... Columns>
struct Outputs {
  std::tuple<Columns...> columns;  ///< in the order given
};
/// The inputs that vary.
/// @param columns from column()
/// @return them
template <class... Columns>
Inputs<Columns...> inputs(const Columns&... columns) {
  return {std::tuple<Columns...>(columns...)};
}
/// The results that are kept.
/// @param columns from column(), over numbers that are not const
/// @return them
template <class... Columns>
Outputs<Columns...> outputs(const Columns&... columns) {
  return {std::tuple<Columns...>(columns...)};
}
/// @}

/// The number of a refused field where no field of the table is at fault: the formula itself refused the case (two
/// fields that do not go together, a range narrower than the table's). refusal() has the words.
inline constexpr std::uint8_t refused_by_the_formula = 255;

/// What a batch may be told besides; everything may be left out.
struct BatchOptions {
  std::span<Outcome> outcomes = {};             ///< filled: whether a case has an answer; as long as the columns
  std::span<Flags> flags = {};                  ///< filled: limits that a case is outside of; 0 if the result has none
  std::span<std::uint8_t> refused_fields = {};  ///< filled: 0, or 1 + the field's place in the order of for_each_field
  int threads = 1;                              ///< 1 to 1024, the calling one included; it alone makes none
  std::function<bool(std::size_t)> progress = {};  ///< gets the cases done; false stops the batch
  std::size_t block = 1024;  ///< cases that a thread takes at a time, at least 1; rounded up to whole packs
};

/// What became of a batch.
struct BatchReport {
  std::size_t cases = 0;       ///< in the columns
  std::size_t done = 0;        ///< all before this one are complete, the rest of the columns is as it was
  std::size_t refused = 0;     ///< of those done: bad input, not-a-number in every output
  std::size_t unanswered = 0;  ///< of those done: another outcome than converged
  bool stopped = false;        ///< whether progress stopped it before the end
};

/// The inside of batch().
namespace batch_detail {

inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
/// The calling thread asks progress no more often than this.
inline constexpr std::chrono::milliseconds between_progress{5};

static_assert(Outcome{} == Outcome::converged, "packs() takes a list of zeros for one without failures");

/// A number of a column as what its unit makes of it.
template <class T>
T with_unit(const T& number, NoUnit) {
  return number;
}
template <class T>
T with_unit(const T& number, double unit) {
  return number * unit;
}
template <class U, class T>
Quantity<U, T> with_unit(const T& number, const Quantity<U, double>& unit) {
  return Quantity<U, T>::from_value(number * unit.value());
}
/// The way back, as in() has it.
template <class T>
T number_of(const T& x, NoUnit) {
  return x;
}
template <class T>
T number_of(const T& x, double unit) {
  return x / unit;
}
template <class U, class T>
T number_of(const Quantity<U, T>& x, const Quantity<U, double>& unit) {
  return in(x, unit);
}

template <class Place, class In, class Value>
inline constexpr bool is_setter = std::invocable<const Place&, In&, const Value&>;

/// Whether an input column sets a field of its own unit; not asked of a setter. Says in one sentence if not.
template <class In, class C, class T>
constexpr bool sets_a_field() {
  using Target = decltype(std::declval<const C&>().place(std::declval<In&>()));
  using Value = decltype(with_unit(std::declval<const T&>(), std::declval<const C&>().unit));
  constexpr bool is_reference = std::is_lvalue_reference_v<Target> && !std::is_const_v<std::remove_reference_t<Target>>;
  constexpr bool fits = std::same_as<std::remove_cvref_t<Target>, Value>;
  if constexpr (std::same_as<T, double>) {  // once, not for each scalar
    static_assert(is_reference, "batch: an input column says where its values go by a reference, -> auto&");
    static_assert(fits || !is_reference,
                  "batch: the unit of an input column is of another dimension than its field (plain numbers: no unit)");
  }
  return is_reference && fits;
}

/// Puts a number of an input column where it belongs.
template <class In, class X, class Unit, class Place, class T>
void put(In& in, const Column<X, Unit, Place>& column, const T& number) {
  const auto value = with_unit(number, column.unit);
  if constexpr (is_setter<Place, In, std::remove_const_t<decltype(value)>>)
    column.place(in, value);
  else if constexpr (sets_a_field<In, Column<X, Unit, Place>, T>())
    column.place(in) = value;
}

/// Where the field of an input column is; null for a setter.
template <class In, class X, class Unit, class Place>
const void* address_in(In& in, const Column<X, Unit, Place>& column) {
  using Value = decltype(with_unit(1.0, column.unit));
  if constexpr (!is_setter<Place, In, Value>) {
    if constexpr (sets_a_field<In, Column<X, Unit, Place>, double>()) return &column.place(in);
  }
  return nullptr;
}

/// Where the numbers of an output column begin, if they can be written; taken() says so if not.
template <class X, class Unit, class Place>
double* begin_of(const Column<X, Unit, Place>& column) {
  if constexpr (std::is_const_v<X>)
    return nullptr;
  else
    return column.values.data();
}

/// Takes the numbers of an output column out of a result.
template <class T, class R, class X, class Unit, class Place>
T taken(const R& result, const Column<X, Unit, Place>& column) {
  static_assert(!std::is_const_v<X>, "batch: an output column is written, its numbers cannot be const");
  static_assert(std::invocable<const Place&, const R&>, "batch: the function of an output column takes the result");
  using Value = std::remove_cvref_t<decltype(column.place(result))>;
  constexpr bool fits = requires(const Value& x) {
    { number_of(x, column.unit) } -> std::same_as<T>;
  };
  static_assert(fits,
                "batch: the unit of an output column is of another dimension than its result (plain numbers: no unit)");
  if constexpr (fits)
    return number_of(Value(column.place(result)), column.unit);
  else
    return T(not_a_number);
}

/// What the field table accepts, with closed ends in SI.
struct Accepted {
  double low = -std::numeric_limits<double>::infinity(), high = std::numeric_limits<double>::infinity();
};
template <class Entry>
Accepted accepted_by(const Entry& entry) {
  const double factor = entry.unit.factor, low = entry.range.low * factor;
  const double above_low =
      entry.range.low == 0.0 ? least_above_zero * factor : std::nextafter(low, std::numeric_limits<double>::infinity());
  return {entry.range.low_open ? above_low : low, entry.range.high * factor};
}
/// 1 + the place of the first field that misses its range, or 0.
template <class In>
std::uint8_t first_missed(const In& in) {
  door_detail::NotingKeeper<In> keeper{.input = in};
  keeper.show_fields(in);
  return keeper.refused;
}

/// The trade name of the field that an input column sets, " (speed)"; nothing for a setter.
template <class In, class C>
std::string field_name(const In& base, const C& column) {
  In probe = base;
  const void* const here = address_in(probe, column);
  std::string name;
  for_each_field(probe, [&](const auto& entry, const auto& value) {
    if (&value == here) name = joined({" (", entry.name, ")"});
  });
  return name;
}

/// The memory of all columns: none that is written may overlap another.
class Memory {
 public:
  template <class X>
  void add(const std::string& column, std::span<X> values) {
    const auto from = reinterpret_cast<std::uintptr_t>(values.data());
    const Part part{column, from, from + values.size_bytes(), !std::is_const_v<X>};
    for (const Part& other : parts_)
      if ((part.written || other.written) && part.from < other.to && other.from < part.to)
        throw BadInput("batch", joined({"the memory of ", column}), joined({"a part of ", other.column}),
                       "memory of its own");
    parts_.push_back(part);
  }

 private:
  struct Part {
    std::string column;
    std::uintptr_t from, to;
    bool written;
  };
  std::vector<Part> parts_;
};

/// How many cases there are, all columns being of one length.
class Length {
 public:
  void check(const std::string& column, std::size_t n) {
    if (first_.empty()) {
      first_ = column;
      cases_ = n;
    } else if (n != cases_) {
      throw BadInput("batch", joined({"the length of ", column}), std::to_string(n),
                     joined({std::to_string(cases_), " as ", first_}));
    }
  }
  std::size_t cases() const { return cases_; }

 private:
  std::string first_;
  std::size_t cases_ = 0;
};

/// What a part of a batch counts.
struct Tally {
  std::size_t packs = 0, refused = 0, unanswered = 0;
  void count(Outcome outcome) {
    refused += outcome == Outcome::bad_input ? 1 : 0;
    unanswered += outcome != Outcome::bad_input && outcome != Outcome::converged ? 1 : 0;
  }
};

/// A batch, once its columns are known to fit. The pack type stands in the list so that objects built for different
/// instruction sets do not share this code.
template <class L, int W, template <class> class A, class F, class In, class Out>
class BatchRun;
template <class L, int W, template <class> class A, class F, class... I, class... O>
class BatchRun<L, W, A, F, Inputs<I...>, Outputs<O...>> {
  static constexpr std::size_t width = static_cast<std::size_t>(W);
  using Result = std::remove_cvref_t<std::invoke_result_t<const F&, const A<L>&>>;
  template <class X>
  using EachLane = std::array<X, width>;

  static constexpr bool has_outcome = requires(const Result& r) {
    { r.outcome } -> std::same_as<const EachLane<Outcome>&>;
  };
  static constexpr bool has_flags = requires(const Result& r) {
    { r.flags } -> std::same_as<const EachLane<Flags>&>;
  };
  /// The formula refuses lane by lane itself.
  static constexpr bool has_door = requires(const Result& r) {
    { r.refused_field } -> std::same_as<const EachLane<std::uint8_t>&>;
  };
  /// The formula can leave its guarded search to a second call.
  static constexpr bool has_search = has_outcome && requires(A<L> & in) {
    in.search = decltype(in.search)::fast_alone;
  };
  static constexpr bool has_setter =
      (is_setter<decltype(I::place), A<L>, decltype(with_unit(std::declval<L>(), std::declval<I>().unit))> || ...);
  static_assert(count_fields<A<double>>() < refused_by_the_formula, "batch: too many fields for a field number");

  /// Where packs come from and go to; null is not asked for.
  struct Place {
    std::array<const double*, sizeof...(I)> in;
    std::array<double*, sizeof...(O)> out;
    Outcome* outcomes;
    Flags* flags;
    std::uint8_t* refused_fields;
    bool checked;  ///< whether all cases are known to pass the field table
  };

 public:
  BatchRun(const F& f, const A<double>& base, const Inputs<I...>& in, const Outputs<O...>& out,
           const BatchOptions& options)
      : f_(f), base_(base), wide_(base), in_(in), out_(out), options_(options) {
    if constexpr (!has_door && !has_setter) look_up_ranges();
  }

  /// Cases `first` to below `last`.
  Tally cases(std::size_t first, std::size_t last) const {
    Tally all;
    Pending pending;
    while (first < last) {
      const std::size_t whole = (last - first) / width;
      Tally tally;
      if (whole > 0) {
        attempt([&] { packs(columns_from(first), whole, tally, search_later() ? &pending : nullptr, first); });
        all.refused += tally.refused;
        all.unanswered += tally.unanswered;
        first += tally.packs * width;
      }
      if (pending.count >= width) {
        search(pending, all);
        continue;
      }
      if (tally.packs == whole && first == last) break;
      const std::size_t count = std::min(width, last - first);
      one_pack(first, count, all);
      first += count;
    }
    if (pending.count > 0) search(pending, all);
    return all;
  }

 private:
  /// Cases that the fast search of the formula could not settle: put together, one pack of them costs what a single one
  /// among others would.
  struct Pending {
    std::array<std::size_t, 2 * width> index;
    std::size_t count = 0;
  };
  bool search_later() const {
    if constexpr (has_search)
      return base_.search != decltype(base_.search)::fast_alone;
    else
      return false;
  }

  /// Whether `run` went through without a refusal by the formula. One that refuses lane by lane throws only what no
  /// lane can hold, and that is for the caller.
  template <class R>
  static bool attempt(const R& run) {
    if constexpr (has_door) {
      run();
      return true;
    } else {
      try {
        run();
        return true;
      } catch (const BadInput&) {
        return false;
      }
    }
  }

  /// What each column may hold, and whether the fields without a column hold what they may.
  void look_up_ranges() {
    A<double> probe = base_;
    const std::array<const void*, sizeof...(I)> set = std::apply(
        [&](const auto&... c) { return std::array<const void*, sizeof...(I)>{address_in(probe, c)...}; }, in_.columns);
    for_each_field(probe, [&](const auto& entry, const auto& value) {
      std::size_t c = set.size();  // of several columns for one field the last one counts
      while (c > 0 && set[c - 1] != &value) --c;
      if (c > 0)
        accepted_[c - 1] = accepted_by(entry);
      else if (!is_accepted(value, entry.unit, entry.range, entry.need))
        constants_accepted_ = false;
    });
  }

  Place columns_from(std::size_t first) const {
    const auto at = [&](const auto& span) { return span.empty() ? nullptr : span.data() + first; };
    return {std::apply(
                [&](const auto&... c) { return std::array<const double*, sizeof...(I)>{(c.values.data() + first)...}; },
                in_.columns),
            std::apply([&](const auto&... c) { return std::array<double*, sizeof...(O)>{(begin_of(c) + first)...}; },
                       out_.columns),
            at(options_.outcomes),
            at(options_.flags),
            at(options_.refused_fields),
            false};
  }

  /// Up to `count` packs; ends early before one with a case that is not checked and may be refused by the field table.
  /// The only place where the formula runs, and never copied into its callers: two copies could be rounded differently
  /// by fused operations.
#if defined(__clang__)
  [[gnu::noinline]]
#else
  [[gnu::noinline, gnu::noclone]]
#endif
  void
  packs(const Place& place, std::size_t count, Tally& tally, Pending* pending = nullptr, std::size_t first = 0) const {
    A<L> wide = wide_;
    if constexpr (has_search)
      if (pending != nullptr) wide.search = decltype(wide.search)::fast_alone;
    A<L> in = wide;
    const std::array<Accepted, sizeof...(I)> accepted = accepted_;
    for (std::size_t pack = 0; pack < count; ++pack, ++tally.packs) {
      if constexpr (has_setter) in = wide;
      const std::size_t at = pack * width;
      MaskOf<L> good = L(0.0) <= L(0.0);
      const auto one_in = [&](const auto& column, const double* from, const Accepted& range) {
        const L number = L::load(std::span<const double, width>(from + at, width));
        put(in, column, number);
        if constexpr (!has_door && !has_setter) {
          const L v(bare_value(with_unit(number, column.unit)));
          good = both(good, both(v >= L(range.low), v <= L(range.high)));
        }
      };
      [&]<std::size_t... C>(std::index_sequence<C...>) {
        (one_in(std::get<C>(in_.columns), place.in[C], accepted[C]), ...);
      }
      (std::index_sequence_for<I...>{});
      if constexpr (!has_door && has_setter) good = are_accepted(in);
      if (!place.checked && !(all(good) && constants_accepted_)) return;
      const Result result = f_(in);
      MaskOf<L> number = L(0.0) <= L(0.0);
      const auto one_out = [&](const L& x, double* to) {  // NOLINT(readability-non-const-parameter): stored through
        number = both(number, x >= x);
        x.store(std::span<double, width>(to + at, width));
      };
      [&]<std::size_t... C>(std::index_sequence<C...>) {
        (one_out(taken<L>(result, std::get<C>(out_.columns)), place.out[C]), ...);
      }
      (std::index_sequence_for<O...>{});

      // A not-a-number stands only where the outcome says so, a number never where the case was refused.
      EachLane<Outcome> outcome{};
      if constexpr (has_outcome) outcome = result.outcome;
      if (!all(number)) {
        const auto is_number = number.truth();
        for (std::size_t i = 0; i < width; ++i)
          if (!is_number[i] && outcome[i] == Outcome::converged) outcome[i] = Outcome::not_converged;
      }
      EachLane<std::uint8_t> refused{};
      if constexpr (has_door) refused = result.refused_field;
      if (outcome != EachLane<Outcome>{}) {
        for (std::size_t i = 0; i < width; ++i) {
          if (has_search && pending != nullptr && outcome[i] == Outcome::not_converged)
            pending->index[pending->count++] = first + at + i;
          else
            tally.count(outcome[i]);
          if (outcome[i] != Outcome::bad_input) continue;
          if (!has_door) refused[i] = refused_by_the_formula;
          for (double* const to : place.out) to[at + i] = not_a_number;
        }
      }
      if (place.outcomes != nullptr) std::copy_n(outcome.data(), width, place.outcomes + at);
      if (place.flags != nullptr) {
        if constexpr (has_flags)
          std::copy_n(result.flags.data(), width, place.flags + at);
        else
          std::fill_n(place.flags + at, width, Flags{0});
      }
      if (place.refused_fields != nullptr) std::copy_n(refused.data(), width, place.refused_fields + at);
      if (has_search && pending != nullptr && pending->count >= width) {
        ++tally.packs;
        return;
      }
    }
  }

  /// A pack on its way: where `packs` finds and leaves one without a place in the columns.
  struct Apart {
    std::array<EachLane<double>, sizeof...(I)> in;
    std::array<EachLane<double>, sizeof...(O)> out;
    EachLane<Outcome> outcomes;
    EachLane<Flags> flags;
    EachLane<std::uint8_t> fields;

    Place place() {
      Place here{{}, {}, outcomes.data(), flags.data(), fields.data(), true};
      for (std::size_t c = 0; c < in.size(); ++c) here.in[c] = in[c].data();
      for (std::size_t c = 0; c < out.size(); ++c) here.out[c] = out[c].data();
      return here;
    }
    /// Lane `lane` to case `i` of the columns.
    void keep(std::size_t lane, const Place& there, std::size_t i) const {
      for (std::size_t c = 0; c < out.size(); ++c) there.out[c][i] = out[c][lane];
      if (there.outcomes != nullptr) there.outcomes[i] = outcomes[lane];
      if (there.flags != nullptr) there.flags[i] = flags[lane];
      if (there.refused_fields != nullptr) there.refused_fields[i] = fields[lane];
    }
  };

  /// The complete search for the last pack of pending cases, or for fewer.
  void search(Pending& pending, Tally& tally) const {
    const std::size_t count = std::min(pending.count, width);
    const std::size_t* const index = pending.index.data() + (pending.count - count);
    const Place there = columns_from(0);
    Apart apart;
    for (std::size_t c = 0; c < apart.in.size(); ++c)
      for (std::size_t i = 0; i < width; ++i) apart.in[c][i] = there.in[c][index[i < count ? i : 0]];
    Tally not_counted;
    packs(apart.place(), 1, not_counted);
    for (std::size_t i = 0; i < count; ++i) {
      apart.keep(i, there, index[i]);
      tally.count(apart.outcomes[i]);
    }
    pending.count -= count;
  }

  /// One pack of `count` cases, some of which may be refused: good ones stand in for these and for those that lack.
  void one_pack(std::size_t first, std::size_t count, Tally& tally) const {
    Apart apart;
    auto& in = apart.in;
    EachLane<std::uint8_t> refused{};
    const Place here = apart.place();
    const Place there = columns_from(first);

    const auto run = [&](const auto& source) {  // source(lane): the lane whose case stands there
      for (std::size_t c = 0; c < in.size(); ++c)
        for (std::size_t i = 0; i < width; ++i) in[c][i] = there.in[c][source(i)];
      Tally not_counted;
      return attempt([&] { packs(here, 1, not_counted); }) && not_counted.packs == 1;
    };
    const auto keep = [&](std::size_t i) {
      apart.keep(i, there, i);
      tally.count(apart.outcomes[i]);
    };

    if constexpr (!has_door)
      for (std::size_t i = 0; i < count; ++i) refused[i] = first_missed(one_case(first + i));
    std::size_t good = 0;
    while (good < count && refused[good] != 0) ++good;
    if (good < count) {
      const auto answered = [&](std::size_t i) { return i < count && refused[i] == 0; };
      if (run([&](std::size_t i) { return answered(i) ? i : good; })) {
        for (std::size_t i = 0; i < count; ++i)
          if (answered(i)) keep(i);
      } else {  // the formula refuses one of them: each alone
        for (std::size_t i = 0; i < count; ++i) {
          if (!answered(i)) continue;
          if (run([&](std::size_t) { return i; }))
            keep(i);
          else
            refused[i] = refused_by_the_formula;
        }
      }
    }
    for (std::size_t i = 0; i < count; ++i) {
      if (refused[i] == 0) continue;
      for (auto& column : apart.out) column[i] = not_a_number;
      apart.outcomes[i] = Outcome::bad_input;
      apart.flags[i] = 0;
      apart.fields[i] = refused[i];
      keep(i);
    }
  }

  A<double> one_case(std::size_t i) const {
    A<double> in = base_;
    std::apply([&](const auto&... c) { (put(in, c, double{c.values[i]}), ...); }, in_.columns);
    return in;
  }

  const F& f_;
  const A<double>& base_;
  const A<L> wide_;
  const Inputs<I...>& in_;
  const Outputs<O...>& out_;
  const BatchOptions& options_;
  std::array<Accepted, sizeof...(I)> accepted_ = {};
  bool constants_accepted_ = true;
};

/// Hands out the blocks in order and keeps count; the threads of a batch share it.
class Blocks {
 public:
  Blocks(std::size_t cases, std::size_t block) : cases_(cases), block_(block) {}

  /// Works through blocks until there are no more: `work(first, last)` returns a Tally, `after()` whether to go on.
  /// What they throw ends the batch.
  template <class Work, class After>
  void work_through(const Work& work, const After& after) {
    Tally mine;
    while (!stop_.load(std::memory_order_relaxed)) {
      const std::size_t first = next_.fetch_add(1, std::memory_order_relaxed) * block_;
      if (first >= cases_) break;
      try {
        const std::size_t last = first + std::min(block_, cases_ - first);
        const Tally tally = work(first, last);
        mine.refused += tally.refused;
        mine.unanswered += tally.unanswered;
        done_.fetch_add(last - first, std::memory_order_relaxed);
        if (!after()) stop_.store(true, std::memory_order_relaxed);
      } catch (...) {
        const std::lock_guard lock(mutex_);
        if (failure_ == nullptr || first < failed_at_) {  // that of the earliest block, whichever thread had it
          failure_ = std::current_exception();
          failed_at_ = first;
        }
        stop_.store(true, std::memory_order_relaxed);
      }
    }
    const std::lock_guard lock(mutex_);
    all_.refused += mine.refused;
    all_.unanswered += mine.unanswered;
  }
  std::size_t done() const { return done_.load(std::memory_order_relaxed); }

  /// When all threads have ended.
  BatchReport report() const {
    if (failure_ != nullptr) std::rethrow_exception(failure_);
    return {.cases = cases_,
            .done = done(),  // whoever takes a block finishes it, so there are no gaps
            .refused = all_.refused,
            .unanswered = all_.unanswered,
            .stopped = done() < cases_};
  }

 private:
  const std::size_t cases_, block_;
  std::atomic<std::size_t> next_ = 0, done_ = 0;
  std::atomic<bool> stop_ = false;
  std::mutex mutex_;
  Tally all_;
  std::exception_ptr failure_;
  std::size_t failed_at_ = 0;
};

}  // namespace batch_detail

/// Runs a formula over columns of cases, a pack of lanes at a time.
///
/// Where a case is refused (a field not set or out of range) its outcome is bad_input, its outputs are not-a-number and
/// refused_fields says which field; where an output is not a number for another reason the outcome is the result's own,
/// or not_converged. So an output of a case that is converged is a number. Refused cases do not end the batch; those
/// that only the formula refuses and not the field table cost an exception each.
/// The loop allocates nothing unless such an exception passes.
/// @tparam width cases in a pack: 2, 4, 8, 16 ...; the standard width is best for most formulas
/// @param f any callable generic in the scalar: takes the input over Lanes, returns an aggregate, a quantity or a
///   number. With several threads it is called at the same time from all of them
/// @param base what does not vary; fields that columns set may stay unset
/// @param in from inputs(): the columns that vary, all of one length
/// @param out from outputs(): the columns to fill, of the same length, apart from the others in memory
/// @param options columns for outcomes, flags and refused fields; threads; progress, asked from the calling thread
///   after a block, at most every 5 ms, and once when all is done
/// @return how many cases there are, are done, were refused, have no answer; all before `done` are complete. Flags are
///   the formula's own: those of a recalled method say so. A formula that passes on the refused_field of an equilibrium
///   answers for its own doors: if it calls others it leaves refused_field out of its result
/// @throws BadInput if a column has another length, naming it and both lengths; if one that is written overlaps another; for counts and choices of `base` that
///   no case can have; for threads or block out of range. What f or progress throw otherwise, from whichever thread;
///   where blocks fail in several threads it is the earliest block's
template <int width = lanes_width, template <class> class A, class F, class... I, class... O, class L = Lanes<width>>
requires HasFields<A<double>> BatchReport batch(const F& f, const A<double>& base, const Inputs<I...>& in,
                                                const Outputs<O...>& out, const BatchOptions& options = {}) {
  using namespace batch_detail;
  batch_detail::Length length;
  int number = 0;
  std::apply(
      [&](const auto&... c) {
        (length.check(joined({"input column ", std::to_string(++number), field_name(base, c)}), c.values.size()), ...);
      },
      in.columns);
  number = 0;
  std::apply(
      [&](const auto&... c) {
        (length.check(joined({"output column ", std::to_string(++number)}), c.values.size()), ...);
      },
      out.columns);
  if (!options.outcomes.empty()) length.check("outcomes", options.outcomes.size());
  if (!options.flags.empty()) length.check("flags", options.flags.size());
  if (!options.refused_fields.empty()) length.check("refused fields", options.refused_fields.size());
  Memory memory;
  number = 0;
  std::apply(
      [&](const auto&... c) {
        (memory.add(joined({"input column ", std::to_string(++number)}), std::span<const double>(c.values)), ...);
      },
      in.columns);
  number = 0;
  std::apply(
      [&](const auto&... c) {
        (memory.add(joined({"output column ", std::to_string(++number)}), c.values), ...);
      },
      out.columns);
  memory.add("outcomes", options.outcomes);
  memory.add("flags", options.flags);
  memory.add("refused fields", options.refused_fields);
  if (options.threads < 1 || options.threads > 1024)
    throw BadInput("batch", "threads", std::to_string(options.threads), "1 to 1024");
  if (options.block < 1) throw BadInput("batch", "block", "0", "at least 1 case");
  check_counts("batch", base);

  constexpr auto pack = static_cast<std::size_t>(width);
  const std::size_t cases = length.cases();
  const std::size_t block = (std::min(options.block, std::max<std::size_t>(cases, 1)) + pack - 1) / pack * pack;
  const BatchRun<L, width, A, F, Inputs<I...>, Outputs<O...>> run(f, base, in, out, options);
  Blocks blocks(cases, block);
  const auto work = [&](std::size_t first, std::size_t last) { return run.cases(first, last); };
  {
    std::vector<std::jthread> others;
    const std::size_t wanted = std::min(static_cast<std::size_t>(options.threads), (cases + block - 1) / block);
    for (std::size_t i = 1; i < wanted; ++i) {
      try {
        others.emplace_back([&] { blocks.work_through(work, [] { return true; }); });
      } catch (const std::system_error&) {
        break;  // no more threads to be had: those that there are do the work
      }
    }
    auto asked = std::chrono::steady_clock::now();
    blocks.work_through(work, [&] {
      if (!options.progress) return true;
      const auto now = std::chrono::steady_clock::now();
      if (now - asked < between_progress) return true;
      asked = now;
      return options.progress(blocks.done());
    });
  }
  const BatchReport report = blocks.report();
  if (options.progress && !report.stopped) options.progress(report.done);
  return report;
}

/// Why a case of a batch was refused, in words: what the formula says to it as plain numbers.
/// @param f as for batch()
/// @param base as for batch()
/// @param in as for batch()
/// @param index the place of the case in the columns
/// @return the text of BadInput with function, field, value and accepted range; empty if the case is not refused
/// @throws BadInput for an index beyond the shortest column
template <template <class> class A, class F, class... I>
requires HasFields<A<double>> std::string refusal(const F& f, const A<double>& base, const Inputs<I...>& in,
                                                  std::size_t index) {
  A<double> one = base;
  const auto set = [&](const auto& column) {
    if (index >= column.values.size())
      throw BadInput("refusal", "case", std::to_string(index),
                     joined({"below ", std::to_string(column.values.size()), ", the length of the columns"}));
    batch_detail::put(one, column, double{column.values[index]});
  };
  std::apply([&](const auto&... columns) { (set(columns), ...); }, in.columns);
  try {
    static_cast<void>(f(std::as_const(one)));
    check_fields("batch", one);
  } catch (const BadInput& refused) {
    return refused.what();
  }
  return {};
}

}  // namespace hardchine
